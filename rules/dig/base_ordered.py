"""The base stone that is ordered covers the slab at the thickness drawn.

What is compared
    The weight ordered with area times thickness of the base, at 140 lb to the cubic foot compacted. Room dug beyond the
    slab is not counted.
Why it matters
    Stone is sold loose by the ton and lies compacted: a truck that looks too full is short by a fifth. The last corner
    then gets what is at hand, and there the slab breaks.
When it does not apply
    No base stone is ordered in the file.
How to put it right
    Order by weight, not by the size of the heap, and a little over for what goes into soft spots.
Where sources differ
    Estimators take 135 to 145 lb/ft3 compacted, or 1.15 to 1.30 times the compacted volume, loose; common practice all.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.base import base_mass, loose_base
from slabwright.formulas.units import FOOT2, INCH, TON, YARD3
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
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, mass, ratio, round_up, volume

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


def relevant(plan: Plan) -> Relevance:
    """Stone is ordered, and the base is drawn."""
    order, base = plan.design.order, plan.design.site.base
    if order is None or order.base is None:
        return does_not_apply("no base stone is ordered in the file (order.base)")
    if base is None or base.thickness is None:
        add = "site.base.thickness: how thick the base is, such as {4 in|100 mm}"
        return not_shown(add, place=plan.place("site.base", "order.base"))
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The order against the need."""
    order, base = plan.design.order, plan.design.site.base
    if order is None or order.base is None or base is None or base.thickness is None:
        return
    need = mass(base_mass(plan.shape.area, base.thickness.si))
    shown = ratio(order.base.si / need.si)
    step_up = 500.0 if plan.system == "metric" else TON / 2
    write = round_up(mass(need.si * limits.part_of_need_at_least.value.si), step_up)
    formula = "area x thickness x {140 lb/ft3|2243 kg/m3}"
    working = step("need", formula, words("{a} x {t}", a=area(plan.shape.area), t=base.thickness), need)
    says = words("{o} of stone is ordered, and the base takes {n}", o=order.base, n=need)
    to_pass = words("order {write}", write=write)
    at = Spot("the base stone", plan.place("order.base", "order"))
    yield compared(limits, ("part_of_need_at_least",), at, shown, says, to_pass, (working,))
