"""A wall that stands on the slab itself is no heavier than the plain slab under it can carry.

What is compared
    The load on each foot of a wall with what a plain slab of that thickness carries on that ground, inside the slab,
    or at a free edge where more than half of the wall runs within 2 ft of one.
Why it matters
    A slab bends under a wall like a plank under a foot. It cracks from below, along both sides of the wall, where
    nobody looks; what is seen two years later is the crack in the wall.
When it does not apply
    No wall is written (`line_loads`), or slab, concrete or ground lie outside the table: 4 in to 10 in thick, about
    3,750 psi and more, 25 pci and more.
How to put it right
    Make the slab thicker under the wall, 2 ft to each side, and bring it back gradually; or give the wall a footing.
Where sources differ
    The 28 values of the Army table were read; the formula that makes them, and its form for an edge, are recalled, and
    meet the table within 5 lb/ft. The table is built on a bending strength of 9 root f'c. So it is a caution.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import sqrt

from slabwright.design.model import LineLoad
from slabwright.formulas.units import FOOT, INCH, LBF_PER_FT, PCI, PSI
from slabwright.formulas.wall_loads import wall_line_load, wall_line_load_at_edge
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, line_load, meets, round_up, stress, subgrade

TITLE = "Walls no heavier than the slab carries"
LIMITS = (
    Limit("part_of_table_at_most", "1", Kind.RATIO, "caution", Cite("tm-5-809-12", "Table 3-2"), ("1/2", "2"),
          "load of a wall, as part of what the table gives for the slab"),
)  # fmt: skip
THIN, THICK = 4 * INCH, 10 * INCH  # m, where the table begins and ends
WEAK, STRONG = 550 * PSI, 700 * PSI  # Pa, bending strength
SOFT, STIFF = 25 * PCI, 300 * PCI  # N/m3
NEAR = 2 * FOOT  # m from an edge, `common-practice`
FORMULA = (  # inside and at an edge; the metric forms have the constants that give the same
    "{12.8 r t^2 (k / (19,000 r t^3))^0.25, psi, in and pci|0.0420 r t^2 (k / (45.65 r t^3))^0.25, MPa, mm and MN/m3}",
    "{9.93 r t^2 (k / (19,000 r t^3))^0.25, psi, in and pci|0.0326 r t^2 (k / (45.65 r t^3))^0.25, MPa, mm and MN/m3}",
)
TABLE = Cite("tm-5-809-12", "Table 3-2")
WORKED = tuple(
    Worked(f"{inches} in slab, {psi} psi", line_load(pounds * LBF_PER_FT),
           partial(wall_line_load, inches * INCH, psi * PSI, 100 * PCI), 5 * LBF_PER_FT, TABLE)
    for inches, psi, pounds in ((4, 550, 425), (5, 600, 600), (6, 650, 805), (8, 700, 1215))
)  # fmt: skip


def rupture(strength: float) -> float:
    """Bending strength in Pa that the table is built on, from the strength in Pa: 9 root f'c, in psi."""
    return 9 * sqrt(strength / PSI) * PSI


def relevant(plan: Plan) -> Relevance:
    """A wall, the strength of the mix and the support of the ground are given, inside the table."""
    said, soil = plan.design, plan.design.site.soil
    if not said.line_loads:
        return does_not_apply("no wall is written (line_loads)")
    add = [] if said.mix.strength else ["mix.strength: the strength of the mix, such as {4000 psi|28 MPa}"]
    add += [] if soil and soil.support else ["site.soil.support: how stiff the ground is, such as {150 pci|40 MN/m3}"]
    if said.mix.strength is None or soil is None or soil.support is None:
        return not_shown(*add, place=plan.place(add[0].split(":")[0]))
    inside = meets(plan.thickness.design, THIN, "least") and meets(rupture(said.mix.strength.si), WEAK, "least")
    if inside and meets(soil.support.si, SOFT, "least"):
        return APPLIES
    return does_not_apply("the slab, the concrete or the ground lies outside the table on walls")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each wall."""
    for wall in plan.design.line_loads:
        yield _judged(plan, limits, wall)


def _judged(plan: Plan, limits: Limits, wall: LineLoad) -> Finding | Margin:
    limit, soil, strength = limits.part_of_table_at_most, plan.design.site.soil, plan.design.mix.strength
    at = Spot(f"the {wall.name}", wall.place, tuple((point.x, point.y) for point in wall.along))
    bending = min(rupture(strength.si if strength else 0.0), STRONG)
    k = subgrade(min(soil.support.si if soil and soil.support else 0.0, STIFF))
    carries = wall_line_load_at_edge if plan.site.along_edge(wall.along, NEAR) > 1 / 2 else wall_line_load
    t = depth(min(plan.thickness.design, THICK))
    asked = line_load(limit.value.si * carries(t.si, bending, k.si))
    if meets(wall.load.si, asked.si, "most"):
        return Margin(at, wall.load, limit, asked)
    need = t.si * (wall.load.si / asked.si) ** 0.8  # the load goes by the thickness to the power of 1.25
    write = round_up(depth(need), 0.005 if plan.system == "metric" else INCH / 4)
    to_pass = words("make the slab {write} thick under {wall}", write=write, wall=at.name)
    if not meets(write.si, THICK, "most"):
        to_pass = words("give {wall} a footing of its own: no slab up to {t} carries it", wall=at.name, t=depth(THICK))
    numbers = words("r {r}, t {t}, k {k}", r=stress(bending / 9), t=t, k=k)
    where = "at a free edge" if carries is wall_line_load_at_edge else "inside the slab"
    working = step(f"load it carries {where}", FORMULA[carries is wall_line_load_at_edge], numbers, asked)
    return Finding(at, words("{wall} is heavy for the slab it stands on", wall=at.name), wall.load, limit, (working,),
                   to_pass, asked)  # fmt: skip
