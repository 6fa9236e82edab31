"""Where water leaves the slab, the ground beside lies lower than the edge.

What is compared
    At each edge that takes water and that water comes to, the finish height of the slab less the height beside it: no
    ground stands above the slab, and lawn, bed, gravel and open ground lie 1 in lower. A street, another slab or a
    trench drain may be flush.
Why it matters
    Grass grows up and soil is topped up, half an inch in a few years. An edge that starts level with the lawn ends as a
    dam: the fall is still there, the water stands along the edge, and mud and ice lie where people step off.
When it does not apply
    No rain falls on the slab, or water comes to no edge that takes it.
How to put it right
    Cut the ground down along the edge; beside a street or an old slab raise the slab. Fresh sod counts at the height
    of its grass.
Where sources differ
    A masonry handbook keeps a patio about 2 in above the ground, crews leave 1/2 to 2 in; 1 in is common practice and
    a caution. Ground above the slab is a hold: nobody doubts what it does.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "The ground does not dam the edge"
LIMITS = (
    Limit("lip_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "2 in"),
          "height of the slab above what stands beside an edge that takes water"),
    Limit("lip_above_ground_at_least", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "4 in"),
          "height of the slab above lawn, bed, gravel or open ground"),
)  # fmt: skip
WORKED = ()
FIRM = ("building", "wall", "curb", "step", "existing slab", "street")  # stays: the slab has to rise
GROWS = ("lawn", "bed", "gravel", "open ground", "property line")
COUNTED = 0.01  # a smaller share of the water is the tip of a corner (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The least lip of each edge that water comes to; a point where two stretches of one edge meet is told once."""
    if not plan.outdoors:
        does_not_apply("no rain falls on it")
    if not plan.finish.surface:
        heights_not_shown(plan)
    crossed = _crossed(plan)
    if not crossed:
        does_not_apply("water comes to no edge that takes it")
    known = [piece for piece in crossed if piece.ground]
    if not known:
        such = "99.30" if plan.design.height_unit in ("ft", "in") else "99.850"
        names = ", ".join(dict.fromkeys(piece.name for piece in crossed[:4]))
        not_shown(f"edges, ground: the height beside {names}, such as {such}", place=crossed[0].place)
    told: set[tuple[str, XY]] = set()
    for piece in known:
        top, ground, at = _lowest_lip(piece)
        grown = [limits.lip_above_ground_at_least] if piece.beside in GROWS else []
        if (piece.name, at) in told:
            continue
        lip, point = depth(top - ground), plan.shape.name_at(at)
        asked = max(limit.value.si for limit in (limits.lip_at_least, *grown))
        beside = "ground" if piece.beside == "property line" else piece.beside
        found = compare(
            spot(piece), lip, limits.lip_at_least, *grown,
            says=lambda: words(_told(lip.si), beside=beside, point=point),
            working=lambda: step("lip", "finish height - height beside",
                                 words("{top} - {ground}", top=height(top), ground=height(ground)), lip),
            remedy=lambda: _raised(plan, piece, asked) if beside in FIRM else _lowered(plan, piece, asked, beside),
            decide=lambda: words("raise the slab at {point} to {high}", point=point,
                                 high=height(plan.grades.written(ground + asked, up=True))),
        )  # fmt: skip
        if isinstance(found, Finding):
            told.add((piece.name, at))
        yield found


def _crossed(plan: Plan) -> list[EdgePiece]:
    """Edges that may take water and that water would come to if nothing stood beside them."""
    names = {one.to for one in plan.water.bare_shares if one.kind == "edge" and one.share > COUNTED}
    return [piece for piece in plan.edges.pieces if piece.takes_water is not False and piece.name in names]


def _lowest_lip(piece: EdgePiece) -> tuple[float, float, XY]:
    """Where a slab stands least above what lies beside it: its height, the height beside, m, and the place."""
    every = zip(piece.finish or (), piece.ground or (), piece.line, strict=True)
    return min(every, key=lambda one: one[0] - one[1])


def _told(lip: float) -> str:
    if lip < -1e-9:
        return "the {beside} stands above the slab at {point} and dams the water"
    if lip < 1e-9:
        return "the {beside} is level with the slab at {point}"
    return "the {beside} lies too little below the slab at {point}"


def _raised(plan: Plan, piece: EdgePiece, asked: float) -> list[Remedy]:
    """The slab raised where what stands beside it stays."""
    every = zip(piece.line, piece.finish or (), piece.ground or (), strict=True)
    short = [(place, beside + asked) for place, own, beside in every if own < beside + asked - 1e-9]
    return set_heights(plan.grades.moved(short, up=True))


def _lowered(plan: Plan, piece: EdgePiece, asked: float, beside: str) -> list[Remedy]:
    """The ground brought down along the edge."""
    top, ground, at = _lowest_lip(piece)
    low = plan.grades.written(top - asked, up=False)
    path = f"{piece.place.path}.ground"
    if piece.edge and len(piece.edge.ground) == 1:  # one height for the whole edge: low enough for its lowest point
        lowest = min(min(one.finish) for one in _crossed(plan) if one.edge is piece.edge and one.finish)
        low = plan.grades.written(lowest - asked, up=False)
    says = words("bring the {beside} down to {low} at {point}: {less} lower", beside=beside, low=height(low),
                 point=plan.shape.name_at(at), less=depth(ground - low))  # fmt: skip
    return [write(path, height(low), says)]
