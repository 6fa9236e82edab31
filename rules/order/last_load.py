"""The last truck brings enough to be worth its trip.

What is compared
    What is left for the last truck after full ones, with what the plant charges extra under (order.short_load), or with
    3 yd3 where that is not written. Of a truck that holds less, no more than a full load is asked.
Why it matters
    Half a yard in a ten-yard drum comes dry and late, at a price that would have paid for two. It also comes to a slab
    that has set meanwhile.
When it does not apply
    One truck brings it all.
How to put it right
    Order the loads alike, fill the low places of the base so that one truck less will do, or find another small pour
    for the rest.
Where sources differ
    Plants charge more under 3 to 10 yd3; all of it is the habit of suppliers, and their price list decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.design.model import Order
from slabwright.formulas.ordering import last_load, loads, with_allowance
from slabwright.formulas.units import YARD3
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
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, meets, round_up, volume

TITLE = "A last load worth its trip"
LIMITS = (
    Limit("last_load_at_least", "3 yd3", Kind.VOLUME, "note", Cite("supplier-practice"), ("0.5 yd3", "10 yd3"),
          "the last load, where the plant's own least is not written"),
)  # fmt: skip
WORKED = (
    Worked("17 yd3 that come out 19.1 yd3 in trucks of 10: loads", count(2), lambda: loads(19.1, 10), 1e-9,
           Cite("geometry"), "or-17yd-half-inch"),
)  # fmt: skip


def comes(order: Order, ordered: float) -> float:
    """What arrives, m3, of what is ``ordered``: an allowance that is written and not inside it comes on top."""
    return with_allowance(ordered, order.allowance.si if order.allowance and not order.allowance_inside else 0.0)


def relevant(plan: Plan) -> Relevance:
    """More than one truck comes."""
    order = plan.design.order
    if order is None or order.volume is None or order.truck is None:
        return does_not_apply("volume and truck are not both written (order.volume, order.truck)")
    several = loads(comes(order, order.volume.si), order.truck.si) > 1
    return APPLIES if several else does_not_apply("one truck brings it all")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The last load."""
    order, limit = plan.design.order, limits.last_load_at_least
    if order is None or order.volume is None or order.truck is None:
        return
    all_of_it, at = comes(order, order.volume.si), Spot("the last load", order.place)
    trucks, last = loads(all_of_it, order.truck.si), volume(last_load(all_of_it, order.truck.si))
    asked = min(order.short_load or volume(limit.value.si), order.truck, key=lambda load: load.si)
    if meets(last.si, asked.si, "least"):
        yield Margin(at, last, limit, asked)
        return
    part = order.volume.si / all_of_it
    write = round_up(volume(order.volume.si + (asked.si - last.si) * part), order.step or (
        0.1 if plan.system == "metric" else YARD3 / 4))  # fmt: skip
    numbers = words("{v} - {n} x {t}", v=volume(all_of_it), n=count(trucks - 1), t=order.truck)
    down = "bring the need down by {last}, to {n} full " + ("truck" if trucks == 2 else "trucks")
    to_pass = words(f"order {{write}}; or {down}", write=write, last=last, n=count(trucks - 1))
    if loads(write.si / part, order.truck.si) > trucks:  # sold in steps, it does not end with a full truck
        to_pass = words(down, last=last, n=count(trucks - 1))
    yield Finding(
        at=at,
        says=words("truck {n} comes for {last}", n=count(trucks), last=last),
        shown=last,
        limit=limit,
        working=(step("last load", "order - full trucks", numbers, last),),
        to_pass=to_pass,
        asked=asked,
    )
