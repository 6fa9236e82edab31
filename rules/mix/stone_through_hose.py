"""The largest stone passes through the pump's hose.

What is compared
    Compares the size of the largest stone with a third of the inside of the hose.
Why it matters
    Three stones side by side make an arch, and the line is plugged. While it is taken apart the concrete that is out
    sets, and what is in the truck gets old.
When it does not apply
    Nothing is pumped.
How to put it right
    Order the smaller stone, or have a pump with the larger line. Small stone wants more water and cement for the same
    slump and shrinks more, so bring the joints closer as well.
Where sources differ
    A third is for crushed stone (recalled); rounded stone may be 40 % of the line. Small-line pumps like 1/2 in stone
    and much sand, whatever the hose.
"""

from __future__ import annotations

from slabwright.formulas.mix import usual_stone, usual_stone_metric
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Stone that goes through the hose"
LIMITS = (
    Limit("part_of_hose_at_most", "1/3", Kind.RATIO, "caution", Cite("aci-304.2r"), ("1/5", "1/2"),
          "size of the largest stone, as part of the inside of the hose"),
)  # fmt: skip
SMALLEST = 3 / 8 * INCH  # m, the smallest stone usually sold


def largest(part: float, hose: float) -> float:
    """Largest stone in m that is ``part`` of a hose ``hose`` m inside."""
    return part * hose


WORKED = (
    Worked("2 1/2 in hose", depth(0.83 * INCH), lambda: largest(1 / 3, 2.5 * INCH), 0.005 * INCH, Cite("aci-304.2r"),
           "mx-pump-2p5in"),
    Worked("4 in hose, usual stone", depth(1.25 * INCH), lambda: usual_stone(largest(1 / 3, 4 * INCH)), 1e-9,
           Cite("aci-304.2r"), "mx-pump-4in"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The stone against the hose."""
    if plan.design.order is None or plan.design.order.method != "pump":
        does_not_apply("nothing is pumped")
    hose, stone = plan.all_given("order.hose", "mix.aggregate")
    limit = limits.part_of_hose_at_most
    asked = depth(largest(limit.value.si, hose.si))

    def remedies() -> list[Remedy]:
        line = round_up(depth(stone.si / limit.value.si), tape_step(plan, INCH / 2))
        wider = write("order.hose", line, words("pump it through a line of {wider}", wider=line))
        if not meets(asked.si, SMALLEST, "least"):
            return [wider]
        small = depth((usual_stone_metric if plan.home == "metric" else usual_stone)(asked.si))
        return [write("mix.aggregate", small, words("order stone of {write} or less", write=small)), wider]

    yield compare(
        plan.spot("the hose", "order.hose"), stone, limit, asked=asked,
        says=lambda: words("stone of {s} plugs a hose of {h}", s=stone, h=hose),
        working=lambda: step("largest stone", "part x hose", words("{n} x {h}", n=limit.value, h=hose), asked),
        remedy=remedies,
    )  # fmt: skip
