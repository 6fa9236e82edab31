"""The largest stone is small enough for the thickness of the slab.

What is compared
    Compares the size of the largest stone with a third of the design thickness, and with a quarter of it.
Why it matters
    Stone that reaches nearly through the slab cannot be worked down; it shows under the trowel and tears out at every
    saw cut and groove. Small stone, on the other hand, wants more water and shrinks more: the largest that fits is
    best.
When it does not apply
    It applies wherever the stone is named.
How to put it right
    Order the next smaller stone that is usual at the plant.
Where sources differ
    The building code says a third, of structural concrete; a specification for light-duty parking a quarter; a
    guide specification 3/4 in up to 4 in slabs and 1 1/2 in above. A third is the caution here, a quarter the note.
"""

from __future__ import annotations

from slabwright.formulas.mix import usual_stone, usual_stone_metric
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Stone small enough for the thickness"
LIMITS = (
    Limit("part_of_thickness_at_most", "1/3", Kind.RATIO, "caution", Cite("aci-318-19-quoted", "sec. 26.4.2.1"),
          ("1/5", "1/2"), "size of the largest stone, as part of the thickness"),
    Limit("part_preferred_at_most", "1/4", Kind.RATIO, "note", Cite("ready-mixed-cp-4.2"), ("1/6", "1/2"),
          "size of the largest stone that light-duty parking takes, as part of the thickness"),
)  # fmt: skip


def largest(part: float, thickness: float) -> float:
    """Largest stone in m that is ``part`` of a thickness in m."""
    return part * thickness


WORKED = (
    Worked("4 in slab", depth(1.33 * INCH), lambda: largest(1 / 3, 4 * INCH), 0.005 * INCH,
           Cite("aci-318-19-quoted", "sec. 26.4.2.1"), "mx-stone-4in"),
    Worked("3 1/2 in slab", depth(1.17 * INCH), lambda: largest(1 / 3, 3.5 * INCH), 0.005 * INCH,
           Cite("aci-318-19-quoted", "sec. 26.4.2.1"), "mx-stone-3p5in"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The stone as part of the design thickness."""
    stone, thinnest = plan.given("mix.aggregate"), min(plan.areas.all, key=lambda area: area.thickness.si)
    t = thinnest.thickness
    limit = limits.broken(stone.si / t.si, "part_of_thickness_at_most", "part_preferred_at_most")
    limit = limit or limits.part_preferred_at_most
    usual = usual_stone_metric if plan.home == "metric" else usual_stone
    small = depth(usual(min(largest(one.value.si, t.si) for one in limits.values())))
    yield compare(
        plan.spot("the mix", "mix.aggregate"), stone, limit, asked=depth(largest(limit.value.si, t.si)),
        says=lambda: words("stone of {s} is large for a slab of {t}", s=stone, t=t),
        working=lambda: step(
            "part of the thickness", "stone / thickness", words("{s} / {t}", s=stone, t=t), ratio(stone.si / t.si)),
        remedy=lambda: write("mix.aggregate", small, words("order stone of {write} or less", write=small)),
    )  # fmt: skip
