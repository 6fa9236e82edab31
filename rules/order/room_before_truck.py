"""A slab that comes out a little deeper than drawn does not call for another truck.

What is compared
    How much deeper than drawn the slab may come out on average before the trucks that are coming, all full, no longer
    hold what it takes with its allowance, with 1/2 in.
Why it matters
    Half an inch is what the base is off by on an ordinary day. In a 4 in slab it is an eighth of the concrete. With
    less room than that, the day ends with a call for a quarter of a yard, an hour's wait, and a cold joint.
When it does not apply
    The volume or the truck is not written.
How to put it right
    Shoot the base and fill what lies low, before the order. Or keep one more truck on call until you know.
Where sources differ
    The half inch is common practice; cores of thousands of slabs scatter by as much.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.formulas.ordering import cylinder_volume, headroom, loads, with_allowance
from slabwright.formulas.units import FOOT2, INCH, YARD3
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
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, count, depth, round_up, share, volume

TITLE = "Room before another truck"
LIMITS = (
    Limit("room_at_least", "1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "2 in"),
          "how much deeper the slab may come out before another truck is needed"),
)  # fmt: skip
USUAL = 0.10  # allowance where none is written, `navfac-p-405`
HOPPER = 0.25 * YARD3  # m3 left in the hopper of a small pump, `pump-trade-text`
WORKED = (
    Worked("680 ft2 of 4 in, 8 %, a truck of 10 yd3", depth(0.41 * INCH),
           lambda: headroom(10 * YARD3, 680 * FOOT2 * 4 * INCH, 680 * FOOT2, 0.08), 0.005 * INCH, Cite("geometry")),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """Volume and truck are known."""
    order = plan.design.order
    if order is None or order.volume is None or order.truck is None:
        return does_not_apply("volume and truck are not both written (order.volume, order.truck)")
    return (
        APPLIES if plan.concrete.quantities.net > 0 else does_not_apply("no concrete fits over the base as it is drawn")
    )


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The room that full trucks leave."""
    order, net = plan.design.order, plan.concrete.quantities.net
    if order is None or order.volume is None or order.truck is None:
        return
    w = order.allowance.si if order.allowance else USUAL
    behind = cylinder_volume(order.hose.si, order.hose_length.si) if order.hose and order.hose_length else 0.0
    behind += order.left_in_hopper.si if order.left_in_hopper else HOPPER if order.method == "pump" else 0.0
    comes = with_allowance(order.volume.si, w if order.allowance and not order.allowance_inside else 0.0)
    trucks, truck = loads(comes, order.truck.si), order.truck
    room = depth(headroom(trucks * truck.si, net, plan.shape.area, w, behind))
    lacks = (limits.room_at_least.value.si - room.si) * plan.shape.area * (1 + w) / truck.si  # trucks
    called = trucks + math.ceil(lacks)
    comes_then = max((called - 1) * truck.si * (1 + 1e-4), with_allowance(net, w) + behind)
    step_up = order.step or (0.1 if plan.system == "metric" else YARD3 / 4)
    write = round_up(volume(comes_then * order.volume.si / comes), step_up)
    numbers = words(
        "(({n} x {t} - {b}) / (1 + {w}) - {v}) / {a}",
        n=count(trucks), t=truck, b=volume(behind), w=share(w), v=volume(net), a=area(plan.shape.area),
    )  # fmt: skip
    says = words("{room} deeper than drawn, and truck {n} is needed", room=room, n=count(trucks + 1))
    plan_for = "plan for truck {n}: order {write}"
    shoot = "shoot the base, and let its average lie no more than {room} low"
    to_pass = words(f"{plan_for}; or {shoot}", n=count(called), write=write, room=room)
    if room.si < 0:
        several = "{n} trucks of {t} do not hold what the slab takes"
        says = words(several, n=count(trucks), t=truck)
        if trucks == 1:
            says = words("one truck of {t} does not hold what the slab takes", t=truck)
        to_pass = words(plan_for, n=count(called), write=write)
    working = step("room", "((trucks - stays behind) / (1 + allowance) - net) / area", numbers, room)
    yield compared(limits, ("room_at_least",), Spot("the order", order.place), room, says, to_pass, (working,))
