"""Where water leaves the slab, the ground beside lies lower than the edge.

What is compared
    At each edge that takes water and that water comes to, compares the finish height of the slab with the height beside
    it: no ground stands above the slab, and lawn, bed, gravel and open ground lie 1/2 in lower, 10 mm on metric plans.
    Gravel and lawn where
    wheels cross or an accessible way leaves may be flush, as a street, another slab or a trench drain may, and so may
    gravel at the end of a walk. An equipment pad, and a floor under a roof, stands no lower than the ground round it,
    nor a floor than the paving before a door that vehicles use.
    Half a step of the heights as typed is let pass, and beside a street or another slab 1/8 in: no closer is concrete
    struck to paving that stands.
Why it matters
    Grass grows up and soil is topped up, half an inch in a few years. An edge that starts level with the lawn ends as a
    dam: the fall is still there, the water stands along the edge, and mud and ice lie where people step off.
When it does not apply
    No rain falls on the slab and no ground is drawn beside it, or water comes to no edge that takes it. A floor is
    judged at the edges that its water comes to, and at those where ground is drawn. An old slab that stands more than
    4 in above the whole edge, and of which the file does not say that it takes water, is a wall to the water:
    `standing-water` looks along it.
How to put it right
    Cut the ground down along the edge, an inch below the slab; beside a street or an old slab raise the slab. Fresh sod
    counts at the height of its grass.
Where sources differ
    A masonry handbook keeps a patio about 2 in above the ground, crews leave 1/2 to 2 in; 1/2 in is common practice and
    a caution. One city orders a walk mended where the lawn dams half an inch of water. Ground above the slab is a hold:
    nobody doubts what it does.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "The ground does not dam the edge"
LIMITS = (
    Limit("lip_at_least", "0 in", Kind.DEPTH, "hold", Cite("geometry"), ("0 in", "2 in"),
          "height of the slab above what stands beside an edge that takes water"),
    Limit("lip_above_ground_at_least", "1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "4 in"),
          "height of the slab above lawn, bed, gravel or open ground"),
    Limit("metric_lip_above_ground_at_least", "10 mm", Kind.DEPTH, "caution", Cite("common-practice"),
          ("0 mm", "100 mm"), "height of the slab above lawn, bed, gravel or open ground, of a metric plan"),
    Limit("pad_above_ground_at_least", "0 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "6 in"),
          "height of an equipment pad, or of a floor under a roof, above the ground round it"),
)  # fmt: skip
WORKED = ()
FIRM = ("building", "wall", "curb", "step", "existing slab", "asphalt", "street")  # stays: the slab has to rise
PAVED = ("existing slab", "asphalt", "street")
GROWS = (*SOFT_GROUND, "property line")
COUNTED = 0.01  # a smaller share of the water is the tip of a corner (common practice)
BELOW = 1 * INCH  # m: what the ground is cut down to where it may not be flush
AT_EDGE, ON_EDGE = FOOT, 0.005  # m: a way that ends so near leaves over the edge; points so near are one
ACROSS = 1.5  # an edge no longer than this many widths of a walk ends it, and does not run beside it
RISER = 4 * INCH  # m, over which an old slab stands as a wall does (common practice)
STRUCK = INCH / 8  # m: how close new concrete is struck to paving that stands (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The least lip of each edge that water comes to; a point where two stretches of one entry meet is told once."""
    pad = plan.areas.uses == ("equipment pad",)
    if not plan.outdoors and not _beside_ground(plan) and not plan.areas.used("garage floor", "shop floor"):
        does_not_apply("no rain falls on it")
    needs_heights(plan)
    crossed = [] if pad else _crossed(plan)
    round_it = [piece for piece in _beside_ground(plan) if piece not in crossed] if pad or not plan.outdoors else []
    edges = [*crossed, *round_it]
    if not edges:
        does_not_apply("no ground is drawn round it" if pad else "water comes to no edge that takes it")
    known = [piece for piece in edges if piece.ground and not (piece.beside in FIRM and piece.crosses_one_height)]
    if not known:
        such = such_height(plan, "99.30", "99.850")
        names = ", ".join(dict.fromkeys(piece.name for piece in edges[:4]))
        not_shown(f"edges, ground: the height beside {names}, such as {such}", place=edges[0].place)
    above = limits.lip_above_ground_at_least
    if plan.home == "metric" and above.layer == "published":
        above = limits.metric_lip_above_ground_at_least
    told: set[tuple[object, XY]] = set()
    for piece in sorted(known, key=lambda one: (one.place, _ends(plan, one))):  # at a shared corner the first is told
        top, ground, at = _lowest_lip(plan, piece)
        if (piece.place, at) in told:
            continue
        soft, dry = piece.beside in GROWS and not _may_be_flush(plan, piece), piece in round_it
        asked: tuple[InForce, ...] = (limits.pad_above_ground_at_least if dry else limits.lip_at_least,)
        if soft and not dry:
            asked = (limits.lip_at_least, above)
        lip, point = depth(top - ground), plan.shape.name_at(at)
        aim = max([limit.value.si for limit in asked] + ([BELOW] if soft else []))
        beside = "ground" if piece.beside == "property line" else piece.beside
        found = compare(
            spot(piece), lip, *asked, give=max(plan.finish.give, STRUCK) if piece.beside in PAVED else plan.finish.give,
            says=lambda: words(_told(lip.si, dry and not pad), beside=beside, point=point),
            working=lambda: step("lip", "finish height - height beside",
                                 words("{top} - {ground}", top=height(top), ground=height(ground)), lip),
            remedy=lambda: _raised(plan, piece, aim) if beside in FIRM else _cut_down(plan, piece, aim, beside),
            decide=lambda: words("raise the slab at {point} to {high} and what lies behind it with it, or lay a trench "
                                 "drain along {edge}", point=point, edge=piece.name,
                                 high=height(plan.grades.written(ground + aim, up=True))),
        )  # fmt: skip
        if isinstance(found, Finding):
            told.add((piece.place, at))
        yield found


def _crossed(plan: Plan) -> list[EdgePiece]:
    """Edges that may take water and that water would come to if nothing stood beside them."""
    may = [piece for piece in plan.edges.pieces if piece.takes_water is not False and not _shows_face(piece)]
    return [piece for piece in may if plan.water.comes_to(piece.name, COUNTED)]


def _shows_face(piece: EdgePiece) -> bool:
    """Whether an old slab stands so high above all of an edge that nobody takes it for an edge that takes water."""
    over = [beside - top for top, beside in zip(piece.finish or (), piece.ground or (), strict=False)]
    high = not meets(min(over, default=0.0), RISER, "most")
    return high and piece.beside == "existing slab" and not piece.takes_water


def _beside_ground(plan: Plan) -> list[EdgePiece]:
    """Stretches beside ground of known height; of a floor under a roof also the paving before its big doors."""
    doors = [] if plan.outdoors else [door for door in plan.doors.all if plan.doors.for_vehicles(door)]
    before = [piece for door in doors for piece in plan.edges.at(door.at) if piece.beside in PAVED]
    return [piece for piece in plan.edges.pieces if piece.ground and (piece.beside in GROWS or piece in before)]


def _ends(plan: Plan, piece: EdgePiece) -> list[str]:
    """The names of its points, in one order whichever way the outline runs."""
    return sorted(map(plan.shape.name_at, piece.line))


def _may_be_flush(plan: Plan, piece: EdgePiece) -> bool:
    """Whether wheels cross an edge, an accessible way ends at it, or a walk ends there in gravel."""
    route = plan.design.site.accessible_route
    ends = [route[0], route[-1]] if route else []
    leaves = any(meets(nearest_on(piece.line, (end.x, end.y))[0], AT_EDGE, "most") for end in ends)
    driven = piece.beside == "gravel" and plan.carries_vehicles and piece.wheels_cross is not False
    ends_walk = piece.beside == "gravel" and any(
        area.use == "walk" and meets(piece.length, ACROSS * _width(area), "most")
        for area in plan.areas.along(piece.line)
    )
    return leaves or driven or ends_walk or bool(piece.wheels_cross)


def _width(area: Area) -> float:
    """How wide a walk is, m: that of the strip of its area and girth, in which bends make no difference."""
    half = area.polygon.length / 2
    return float(half - math.sqrt(max(half**2 - 4 * area.polygon.area, 0.0))) / 2


def _lowest_lip(plan: Plan, piece: EdgePiece) -> tuple[float, float, XY]:
    """Where a slab stands least above what lies beside it: its height, the height beside, m, and the place."""
    every = zip(piece.finish or (), piece.ground or (), piece.line, strict=True)
    return min(every, key=lambda one: (round(one[0] - one[1], 9), plan.shape.name_at(one[2])))


def _told(lip: float, floor: bool) -> str:
    if same(lip, 0.0):
        return "the {beside} is level with the slab at {point}"
    if lip > 0:
        return "the {beside} lies too little below the slab at {point}"
    if floor:
        return "the {beside} stands above the floor at {point}, and its water runs in"
    return "the {beside} stands above the slab at {point} and dams the water"


def _raised(plan: Plan, piece: EdgePiece, aim: float) -> list[Remedy]:
    """The slab raised where what stands beside it stays."""
    every = zip(piece.line, piece.finish or (), piece.ground or (), strict=True)
    short = [(place, beside + aim) for place, own, beside in every if not meets(own, beside + aim, "least")]
    return set_heights(plan.grades.moved(short, up=True))


def _cut_down(plan: Plan, piece: EdgePiece, aim: float, beside: str) -> list[Remedy]:
    """The ground brought down all along the edge, to ``aim`` m below the slab: at each point whose height is given."""
    edge, path = piece.edge, f"{piece.place.path}.ground"
    if edge is None:
        return []
    if piece.ground_follows:
        below = depth(aim)
        says = words("bring the {beside} down to {below} below the slab", beside=beside, below=below)
        return [write(f"{path}_below", below, says)]
    lacks: dict[int, float] = {}
    for one in (one for one in plan.edges.pieces if one.edge is edge):
        ends = [_number(edge.run, end) for end in (one.line[0], one.line[-1])]
        for at, own, ground in zip(one.line, one.finish or (), one.ground or (), strict=True):
            here = _number(edge.run, at)
            numbers = [0] if len(edge.ground) == 1 else ends if here is None else [here]
            lack = aim - (own - ground)
            for number in (number for number in numbers if number is not None):
                lacks[number] = max(lack, lacks.get(number, lack))
    cuts = [
        (number, height(plan.grades.written(edge.ground[number].si - lack, up=False)))
        for number, lack in sorted(lacks.items())
        if not meets(lack, 0.0, "most")
    ]
    if len(edge.ground) == 1:
        (ground_now,), ((_, low),) = edge.ground, cuts
        says = words("bring the {beside} down to {low}: {less} lower", beside=beside, low=low,
                     less=depth(ground_now.si - low.si))  # fmt: skip
        return [write(path, low, says)]
    return [
        together(
            *(
                write(f"{path}[{number}]", low, words("bring the {beside} down to {low} at {point}", beside=beside,
                      low=low, point=plan.shape.name_at((edge.run[number].x, edge.run[number].y))))
                for number, low in cuts
            )
        )
    ]  # fmt: skip


def _number(run: Sequence[Point], at: XY) -> int | None:
    """Which point of a run a place is."""
    return next((k for k, one in enumerate(run) if math.dist((one.x, one.y), at) < ON_EDGE), None)
