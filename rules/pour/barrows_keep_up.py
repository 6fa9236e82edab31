"""The crew can barrow as much in an hour as the plan counts on.

What is compared
    The trips an hour that each hand would make, all of them barrowing, at the placing rate that is written and with
    50 L on a trip, with 20: one each three minutes.
Why it matters
    A rate that nobody can walk is the start of every other trouble of the day: the truck waits and its load goes off,
    water is added to keep it going, and the last pass of the finish is made in the dark.
When it does not apply
    It does not come by wheelbarrow, or nothing is said of the day of the pour.
How to put it right
    Get more hands or a buggy, or let the truck nearer. Or write the rate that the crew has, and see what then falls
    short.
Where sources differ
    A contractors' page counts 15 to 20 trips for a cubic metre. The three minutes for a trip, filled, wheeled, tipped
    and back, stand in no source that was read: they are recalled, and on a long or steep way it is more.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.formulas.ordering import barrow_trips
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
from slabwright.text.words import words, written
from slabwright.units.quantity import Kind, count, ratio

TITLE = "Barrows that keep up"
LIMITS = (
    Limit("trips_an_hour_at_most", "20", Kind.RATIO, "caution", Cite("barrow-trips"), ("8", "40"),
          "trips with a barrow that each hand makes in an hour"),
)  # fmt: skip
WORKED = (
    Worked("a cubic metre in an hour by one hand", ratio(20), lambda: barrow_trips(1 / 3600, 1), 1e-9,
           Cite("contractor-pages")),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """It comes by wheelbarrow, so fast, with so many hands."""
    pour, order = plan.design.pour, plan.design.order
    if order is None or order.method != "wheelbarrow":
        return does_not_apply("it does not come by wheelbarrow")
    if pour is None:
        return does_not_apply("nothing is said of the day of the pour (pour)")
    add = [] if pour.rate else ["pour.rate: how fast the crew places, such as {20 yd3/h|15 m3/h}"]
    add += [] if pour.crew else ["pour.crew: how many hands place and finish, such as 4"]
    return not_shown(*add, place=pour.place) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """What the rate asks of each hand."""
    pour = plan.design.pour
    if pour is None or pour.rate is None or pour.crew is None:
        return
    trips, hands = ratio(barrow_trips(pour.rate.si, pour.crew)), count(pour.crew)
    needed = count(math.ceil(barrow_trips(pour.rate.si, 1) / limits.trips_an_hour_at_most.value.si - 1e-6))
    numbers = words("{r} / {1.77 ft3|50 L} / {n}", r=pour.rate, n=hands)
    yield compared(
        limits,
        ("trips_an_hour_at_most",),
        Spot("the barrows", pour.place),
        trips,
        words("{n} hands cannot barrow {rate}" if pour.crew > 1 else "{n} hand cannot barrow {rate}", n=hands,
              rate=pour.rate),
        words("have {needed} hands, or write the rate they have", needed=needed),
        (step("trips an hour", written("rate / {1.77 ft3|50 L} / hands", plan.system), numbers, trips),),
    )  # fmt: skip
