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

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import EdgePiece
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    does_not_apply,
    heights_not_shown,
    not_shown,
    spot,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height

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


def _crossed(plan: Plan) -> list[EdgePiece]:
    """Edges that may take water and that water would come to if nothing stood beside them."""
    names = {one.to for one in plan.water.bare_shares if one.kind == "edge" and one.share > COUNTED}
    return [piece for piece in plan.edges.pieces if piece.takes_water is not False and piece.name in names]


def relevant(plan: Plan) -> Relevance:
    """Rain falls on it, and an edge that water comes to has a height beside it."""
    if not plan.outdoors:
        return does_not_apply("no rain falls on it")
    if not plan.finish.surface:
        return heights_not_shown(plan)
    if not (crossed := _crossed(plan)):
        return does_not_apply("water comes to no edge that takes it")
    if any(piece.ground for piece in crossed):
        return APPLIES
    such = "99.30" if plan.design.height_unit in ("ft", "in") else "99.850"
    names = ", ".join(dict.fromkeys(piece.name for piece in crossed[:4]))
    return not_shown(f"edges, ground: the height beside {names}, such as {such}", place=crossed[0].place)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The least lip of each edge that water comes to; a point where two stretches of one edge meet is told once."""
    told: set[tuple[str, tuple[float, float]]] = set()
    for piece in _crossed(plan):
        if piece.ground is None or piece.finish is None:
            continue
        lips = [top - ground for top, ground in zip(piece.finish, piece.ground, strict=True)]
        worst = min(range(len(lips)), key=lips.__getitem__)
        names = ["lip_at_least", *(["lip_above_ground_at_least"] if piece.beside in GROWS else [])]
        limit = limits.broken(lips[worst], *names)
        if limit is None:
            yield Margin(spot(piece), depth(lips[worst]), limits[names[-1]])
        elif (piece.name, piece.line[worst]) not in told:
            told.add((piece.name, piece.line[worst]))
            yield _finding(plan, piece, worst, limit, max(limits[name].value.si for name in names))


def _finding(plan: Plan, piece: EdgePiece, worst: int, limit: InForce, asked: float) -> Finding:
    assert piece.ground is not None and piece.finish is not None
    top, ground = piece.finish[worst], piece.ground[worst]
    at, beside = spot(piece), "ground" if piece.beside in (None, "property line") else str(piece.beside)
    says = "the {beside} lies too little below the slab at {point}"
    if top < ground - 1e-9:
        says = "the {beside} stands above the slab at {point} and dams the water"
    elif top < ground + 1e-9:
        says = "the {beside} is level with the slab at {point}"
    low = plan.grades.written(top - asked, up=False)
    if piece.edge and len(piece.edge.ground) == 1:  # one height for the whole edge: low enough for its lowest point
        lowest = min(min(one.finish) for one in _crossed(plan) if one.edge is piece.edge and one.finish)
        low = plan.grades.written(lowest - asked, up=False)
    numbers = words("{top} - {ground}", top=height(top), ground=height(ground))
    point = plan.shape.name_at(piece.line[worst])
    to_pass = words("bring the {beside} down to {low} at {point}: {less} lower", beside=beside, low=height(low),
                    point=point, less=depth(ground - low))  # fmt: skip
    if beside in FIRM:
        short = [(place, g + asked) for place, own, g in zip(piece.line, piece.finish, piece.ground, strict=True)
                 if own < g + asked - 1e-9]  # fmt: skip
        high = height(plan.grades.written(ground + asked, up=True))
        raised = words("raise the slab at {point} to {high}", point=point, high=high)
        to_pass = write_heights(plan.grades.moved(short, up=True), raised)
    working = step("lip", "finish height - height beside", numbers, depth(top - ground))
    return Finding(at, words(says, beside=beside, point=point), depth(top - ground), limit, (working,), to_pass)
