"""The base stone that is ordered covers the slab at the thickness drawn.

What is compared
    Compares the weight ordered with area times thickness of the base, at 140 lb to the cubic foot compacted. Room dug
    beyond the slab is not counted.
Why it matters
    Stone is sold loose by the ton and lies compacted: a truck that looks too full is short by a fifth. The last corner
    then gets what is at hand, and there the slab breaks.
When it does not apply
    No base stone is ordered in the file.
How to put it right
    Order by weight, not by the size of the heap, and a little over for what goes into soft spots.
Where sources differ
    Estimators take 135 to 145 lb/ft3 compacted, or 1.15 to 1.30 times the compacted volume, loose; all of that is
    common practice.
"""

from __future__ import annotations

from slabwright.formulas.base import base_mass, loose_base
from slabwright.formulas.units import FOOT2, INCH, TON, YARD3
from slabwright.rulebook.kit import *

TITLE = "Stone enough for the base"
LIMITS = (
    Limit("part_of_need_at_least", "1", Kind.RATIO, "caution", Cite("estimating-practice"), ("0.8", "1.3"),
          "base stone ordered, over what the base takes"),
)  # fmt: skip
WORKED = (
    Worked("400 ft2 of 4 in", mass(9.33 * TON), lambda: base_mass(400 * FOOT2, 4 * INCH), 0.005 * TON,
           Cite("estimating-practice"), "ba-tons"),
    Worked("4.94 yd3 compacted, loose", volume(5.93 * YARD3), lambda: loose_base(4.94 * YARD3, 1.2), 0.005 * YARD3,
           Cite("estimating-practice"), "ba-loose"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The order against the need."""
    if plan.design.order is None or plan.design.order.base is None:
        does_not_apply("no base stone is ordered in the file (order.base)")
    ordered, thick = plan.all_given("order.base", "site.base.thickness")
    need, limit = mass(base_mass(plan.shape.area, thick.si)), limits.part_of_need_at_least
    size = 500.0 if plan.home == "metric" else TON / 2
    order = round_up(mass(need.si * limit.value.si), size)
    yield compare(
        plan.spot("the base stone", "order.base"), ratio(ordered.si / need.si), limit,
        says=lambda: words("{o} of stone is ordered, and the base takes {n}", o=ordered, n=need),
        working=lambda: step("need", "area x thickness x {140 lb/ft3|2240 kg/m3}",
                             words("{a} x {t} x {140 lb/ft3|2240 kg/m3}", a=area(plan.shape.area), t=thick), need),
        remedy=lambda: write("order.base", order, words("order {write}", write=order)),
    )  # fmt: skip
