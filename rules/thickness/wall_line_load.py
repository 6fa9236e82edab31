"""A wall that stands on the slab itself is no heavier than the plain slab under it can carry.

What is compared
    Compares the load on each foot of a wall with what a plain slab, as thick as it is drawn under it, carries on that
    ground: inside the slab, or at a free edge where more than half of the wall runs within 2 ft of one. Ground that
    nobody tested is taken at 100 pci, wet clay at 50 pci.
Why it matters
    A slab bends under a wall like a plank under a foot. It cracks from below, along both sides of the wall, where
    nobody looks; what is seen two years later is the crack in the wall.
When it does not apply
    No wall is written (`line_loads`), or slab, concrete or ground lie beyond what the form holds for: under 3 in
    thick, about 2,000 psi or 25 pci.
How to put it right
    Make the slab thicker under the wall, 2 ft to each side, and bring it back gradually; or give the wall a footing.
Where sources differ
    The 28 values of the Army table were read. A beam on an elastic ground gives them within 5 lb/ft, and its form for
    an edge; the table begins at 4 in and 3,735 psi, and below that the same beam carries it on: 393 lb/ft for 4 in of
    3,000 psi. It is built on a bending strength of 9 root f'c, and works it to a sixth. So it is a caution.
"""

from __future__ import annotations

from functools import partial
from math import sqrt

from slabwright.formulas.loads import wall_line_load, wall_line_load_at_edge
from slabwright.formulas.subgrade import assumed_support
from slabwright.formulas.units import FOOT, INCH, LBF_PER_FT, PCI, PSI
from slabwright.rulebook.kit import *

TITLE = "Walls no heavier than the slab carries"
LIMITS = (
    Limit("part_of_table_at_most", "1", Kind.RATIO, "caution", Cite("tm-5-809-12", "Table 3-2"), ("1/2", "2"),
          "load of a wall, as part of what the table gives for the slab"),
)  # fmt: skip
THIN, THICK = 3 * INCH, 10 * INCH  # m, where the form begins to hold and the table ends
WEAK, STRONG = 400 * PSI, 700 * PSI  # Pa, bending strength
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


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each wall."""
    if not plan.design.line_loads:
        does_not_apply("no wall is written (line_loads)")
    strength, soil = plan.given("mix.strength"), plan.design.site.soil
    support = soil.support.si if soil and soil.support else assumed_support(soil.kind if soil else "")
    inside = meets(min(plan.areas.thicknesses), THIN, "least") and meets(rupture(strength.si), WEAK, "least")
    if not (inside and meets(support, SOFT, "least")):
        does_not_apply("the slab, the concrete or the ground is weaker than the form for walls holds for")
    bending, k, limit = min(rupture(strength.si), STRONG), subgrade(min(support, STIFF)), limits.part_of_table_at_most
    for wall in plan.design.line_loads:
        t = depth(min(THICK, *(plan.thickness.at((point.x, point.y)) for point in wall.along)))
        at = Spot(f"the {wall.name}", wall.place, tuple((point.x, point.y) for point in wall.along))
        free = plan.site.along_edge(wall.along, NEAR) > 1 / 2
        carries = wall_line_load_at_edge if free else wall_line_load
        asked = line_load(limit.value.si * carries(t.si, bending, k.si))
        yield compare(
            at, wall.load, limit, asked=asked,
            says=lambda: words("{wall} is heavy for the slab it stands on", wall=at.name),
            working=lambda: step(
                f"load it carries {'at a free edge' if free else 'inside the slab'}", FORMULA[free],
                words("r {r}, t {t}, k {k}", r=stress(bending / 9), t=t, k=k), asked),
            remedy=lambda: _thicker(plan, at, t.si * (wall.load.si / asked.si) ** 0.8),
            decide=lambda: words("give {wall} a footing of its own", wall=at.name),
        )  # fmt: skip


def _thicker(plan: Plan, wall: Spot, need: float) -> list[Remedy]:
    """The slab made ``need`` m thick, if that is within the table: the load goes by the thickness ^ 1.25."""
    thick = round_up(depth(need), tape_step(plan, INCH / 4))
    if not meets(thick.si, THICK, "most"):
        return []
    says = words("make the slab {write} thick, or under {wall} and {2 ft|0.6 m} to each side of it", write=thick,
                 wall=wall.name)  # fmt: skip
    thinnest = min(plan.areas.along(wall.shape), key=lambda area: area.thickness.si)
    return [write(thinnest.thickness_path, thick, says)]
