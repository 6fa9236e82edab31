"""A slab that comes out a little deeper than drawn does not call for another truck.

What is compared
    Compares what the trucks that are coming hold, all full, with 1.04 times the net volume and what stays in pump and
    hose. It then works out how much deeper than drawn the slab may come out on average before they are empty, and
    compares that with 1/2 in.
Why it matters
    Half an inch is what the base is off by on an ordinary day. In a 4 in slab it is an eighth of the concrete. With
    less room than that, the day may end with a call for a quarter of a yard, an hour's wait, and a cold joint.
When it does not apply
    The volume or the truck is not written.
How to put it right
    Shoot the base and fill what lies low, before the order. Or keep one more truck on call until you know.
Where sources differ
    The half inch is common practice; cores of thousands of slabs scatter by as much. It is the same half inch that an
    allowance is for, so it is reckoned on the net volume and not on top of an allowance, and it is a note.
"""

from __future__ import annotations

from slabwright.formulas.ordering import cylinder_volume, headroom, loads, with_allowance
from slabwright.formulas.units import FOOT2, INCH, YARD3
from slabwright.rulebook.kit import *

TITLE = "Room before another truck"
EACH_POUR = True
LIMITS = (
    Limit("trucks_hold_at_least", "1.04", Kind.RATIO, "caution", Cite("nrmca-cip-8-spare"), ("1", "1.3"),
          "part of net volume that the trucks hold, over what stays behind"),
    Limit("room_at_least", "1/2 in", Kind.DEPTH, "note", Cite("common-practice"), ("0 in", "2 in"),
          "how much deeper the slab may come out before another truck is needed"),
)  # fmt: skip
HOPPER = 0.25 * YARD3  # m3 left in the hopper of a small pump, `pump-trade-text`
WORKED = (
    Worked("680 ft2 of 4 in, 8 %, a truck of 10 yd3", depth(0.41 * INCH),
           lambda: headroom(10 * YARD3, 680 * FOOT2 * 4 * INCH, 680 * FOOT2, 0.08), 0.005 * INCH, Cite("geometry")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The room that full trucks leave."""
    order, net = plan.design.order, plan.concrete.quantities.net
    if order is None or order.volume is None or order.truck is None:
        does_not_apply("volume and truck are not both written (order.volume, order.truck)")
    if net <= 0:
        does_not_apply("no concrete fits over the base as it is drawn")
    at, truck = plan.spot("the order", "order"), order.truck
    behind = cylinder_volume(order.hose.si, order.hose_length.si) if order.hose and order.hose_length else 0.0
    behind += order.left_in_hopper.si if order.left_in_hopper else HOPPER if order.method == "pump" else 0.0
    trucks = loads(with_allowance(order.volume.si, order.on_top), truck.si)
    hold, asked = volume(trucks * truck.si), volume(limits.trucks_hold_at_least.value.si * net + behind)
    said, more = {"n": count(trucks), "t": truck}, count(trucks + 1)
    yield compare(
        at, hold, limits.trucks_hold_at_least, asked=asked,
        says=lambda: words("one truck of {t} does not hold what the slab takes", t=truck) if trucks == 1 else
        words("{n} trucks of {t} do not hold what the slab takes", **said),
        working=lambda: step("needed", "part x net + what stays behind",
                             words("{p} x {v} + {b}", p=limits.trucks_hold_at_least.value, v=volume(net),
                                   b=volume(behind)), asked),
        decide=lambda: words("have truck {next} come, with at least the plant's least load", next=more),
    )  # fmt: skip
    if hold.si < asked.si:
        return
    room = depth(headroom(hold.si, net, plan.shape.area, 0.0, behind))
    yield compare(
        at, room, limits.room_at_least,
        says=lambda: words("{room} deeper than drawn, and truck {more} is needed", room=room, more=more),
        working=lambda: step("room", "(trucks - stays behind - net) / area",
                             words("({n} x {t} - {b} - {v}) / {a}", **said, b=volume(behind), v=volume(net),
                                   a=area(plan.shape.area)), room),
        decide=lambda: words("keep truck {more} on call", more=more) if plan.design.heights.base else
        words("shoot the base, and let its average lie no more than {room} low; or keep truck {more} on call",
              room=on_tape(plan, room.si, up=False), more=more),
    )  # fmt: skip
