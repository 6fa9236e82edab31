"""The largest stone passes through the pump's hose.

What is compared
    The size of the largest stone with a third of the inside of the hose.
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

from collections.abc import Iterator

from slabwright.formulas.mix import usual_stone
from slabwright.formulas.units import INCH
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
from slabwright.units.quantity import Kind, depth, meets, round_up

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


def relevant(plan: Plan) -> Relevance:
    """It is pumped, and stone and hose are known."""
    order, mix = plan.design.order, plan.design.mix
    if order is None or order.method != "pump":
        return does_not_apply("nothing is pumped")
    add = [] if order.hose else ["order.hose: the inside of the hose, such as {2 1/2 in|65 mm}"]
    add += [] if mix.aggregate else ["mix.aggregate: the size of the largest stone, such as {3/4 in|20 mm}"]
    return not_shown(*add, place=plan.place(add[0].split(":")[0])) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The stone against the hose."""
    order, stone, limit = plan.design.order, plan.design.mix.aggregate, limits.part_of_hose_at_most
    if order is None or order.hose is None or stone is None:
        return
    at, asked = Spot("the hose", plan.place("order.hose", "order")), depth(largest(limit.value.si, order.hose.si))
    if meets(stone.si, asked.si, "most"):
        yield Margin(at, stone, limit, asked)
        return
    wider = round_up(depth(stone.si / limit.value.si), 0.005 if plan.system == "metric" else INCH / 2)
    to_pass = words("pump it through a line of {wider}", wider=wider)
    if meets(asked.si, SMALLEST, "least"):
        to_pass = words("order stone of {write} or less; or pump it through a line of {wider}", wider=wider,
                        write=depth(usual_stone(asked.si)))  # fmt: skip
    says = words("stone of {s} plugs a hose of {h}", s=stone, h=order.hose)
    working = step("largest stone", "part x hose", words("{n} x {h}", n=limit.value, h=order.hose), asked)
    yield Finding(at, says, stone, limit, (working,), to_pass, asked)
