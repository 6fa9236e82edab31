"""Steel beside a pool is bonded to its metal, by the electrician.

What is compared
    Where a slab lies at a pool (`beside: pool`, or an opening that `holds: pool`), compares the number of layers of
    steel within 5 ft of the water that are not bonded (`reinforcement`, `bonded: false`) with none.
Why it matters
    Water, wet concrete and bare feet make one path. A fault in a pump or a light lifts the water by some volts over the
    deck, and whoever climbs out bridges the two. Steel that is tied together and to the metal of the pool brings all of
    it to one potential. Under concrete the bond cannot be added any more.
When it does not apply
    No pool is drawn, or no steel lies within 5 ft of it: there the electrician lays a ring of copper, which a plan of a
    slab does not show.
How to put it right
    Ask the electrician before the pour. The bond is laid, clamped and tested by the electrician and by nobody else;
    have it looked at by the inspector, and only then cover it.
Where sources differ
    The electrical code of the US asks that the steel of the shell and of the surface within 3 ft of the water is
    bonded, and metal things within 5 ft; that is recalled, not checked, so it is a caution. Other countries have rules
    of their own. What is adopted, and who may do it, is said by the electrician and the town.
"""

from __future__ import annotations

from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Steel at a pool is bonded"
LIMITS = (
    Limit("unbonded_at_most", "0", Kind.COUNT, "caution", Cite("nec-680-26"), ("0", "1"),
          "layers of steel within {5 ft|1.5 m} of a pool that are not bonded"),
)  # fmt: skip
WORKED = ()
WITHIN = 5 * FOOT  # m, `nec-680-26`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """All steel near the water together: it is bonded as one."""
    waters = [(piece.name, piece.place, piece.line) for piece in plan.edges.pieces if piece.beside == "pool"]
    rings = zip(plan.design.openings, plan.shape.opening_rings, strict=True)
    waters += [(one.name, one.place, tuple(ring.points)) for one, ring in rings if one.holds == "pool"]
    if not waters:
        does_not_apply("no pool is drawn")
    near = _near(plan, [line for _, _, line in waters])
    if not near:
        does_not_apply("no steel lies near the pool")
    said = [bed.steel.bonded for bed in plan.steel.beds if bed.steel.bonded is not None]
    if not said:
        not_shown("reinforcement, bonded: whether the electrician bonds the steel near the pool, such as true",
                  place=plan.place("reinforcement", "thickness"))  # fmt: skip
    (name, place, line), within = waters[0], length(1.5 if plan.home == "metric" else WITHIN)
    yield compare(
        Spot(name, place, line), count(0 if all(said) else len(near)), limits.unbonded_at_most,
        says=lambda: words("the steel within {within} of the water is not bonded", within=within),
        working=lambda: step("not bonded", f"layers of steel near the water: {', '.join(near)}",
                             words(" + ".join("1" for _ in near)), count(len(near))),
        decide=lambda: words("have the electrician bond the steel and test it before it is covered"),
    )  # fmt: skip


def _near(plan: Plan, lines: Sequence[Sequence[XY]]) -> list[str]:
    """The layers of steel that come so near to the water, in words."""
    found = [
        laid.name
        for laid in plan.steel.mats
        if any(meets(area.from_line(line), WITHIN, "most") for area in laid.areas for line in lines)
    ]
    for edge in plan.design.thickness.thickened_edges:
        run = [(point.x, point.y) for point in edge.run]
        if any(meets(_apart(run, line), WITHIN, "most") for line in lines):
            found += [f"the {layer.at} bars of the edge" for layer in edge.bars]
    return found


def _apart(run: Sequence[XY], line: Sequence[XY]) -> float:
    """How near the corners of two lines come to the other line, m."""
    return min(*(nearest_on(line, at)[0] for at in run), *(nearest_on(run, at)[0] for at in line))
