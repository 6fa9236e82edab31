"""The last truck brings enough to be worth its trip.

What is compared
    Compares what is left for the last truck after full ones with what the plant charges extra under
    (`order.short_load`), or with 3 yd3 where that is not written. Of a truck that holds less, no more than a full load
    is asked.
Why it matters
    Half a yard in a ten-yard drum comes dry and late, at a price that would have paid for two. It also comes to a slab
    that has set meanwhile.
When it does not apply
    One truck brings it all.
How to put it right
    Order the loads alike, for more concrete costs more than the trip; or fill the low places of the base so that one
    truck less will do, or find another small pour for the rest.
Where sources differ
    Plants charge more under 3 to 10 yd3; all of it is the habit of suppliers, and their price list decides.
"""

from __future__ import annotations

from slabwright.formulas.ordering import last_load, loads, with_allowance
from slabwright.rulebook.kit import *

TITLE = "A last load worth its trip"
EACH_POUR = True
LIMITS = (
    Limit("last_load_at_least", "3 yd3", Kind.VOLUME, "note", Cite("supplier-practice"), ("0.5 yd3", "10 yd3"),
          "the last load, where the plant's own least is not written"),
)  # fmt: skip
WORKED = (
    Worked("17 yd3 that come out 19.1 yd3 in trucks of 10: loads", count(2), lambda: loads(19.1, 10), 1e-9,
           Cite("geometry"), "or-17yd-half-inch"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The last load."""
    order, limit = plan.design.order, limits.last_load_at_least
    if order is None or order.volume is None or order.truck is None:
        does_not_apply("volume and truck are not both written (order.volume, order.truck)")
    ordered, truck = order.volume, order.truck
    all_of_it = with_allowance(ordered.si, order.on_top)
    trucks, last = loads(all_of_it, truck.si), volume(last_load(all_of_it, truck.si))
    if trucks < 2:
        does_not_apply("one truck brings it all")
    asked = min(order.short_load or volume(limit.value.si), truck, key=lambda load: load.si)
    alike = plan.concrete.quantities.net > (trucks - 1) * truck.si  # no base is so low that one truck less will do
    down = "bring the need down by {last}, to {n} full " + ("truck" if trucks == 2 else "trucks")

    yield compare(
        plan.spot("the last load", "order"), last, limit, asked=asked,
        says=lambda: words("truck {n} comes for {last}", n=count(trucks), last=last),
        working=lambda: step("last load", "order - full trucks",
                             words("{v} - {n} x {t}", v=volume(all_of_it), n=count(trucks - 1), t=truck), last),
        decide=lambda: words("have {n} loads alike brought, about {each} each", n=count(trucks),
                             each=volume(all_of_it / trucks)) if alike else
        words(down, last=last, n=count(trucks - 1)),
    )  # fmt: skip
