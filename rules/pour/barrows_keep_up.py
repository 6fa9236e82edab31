"""The crew can barrow as much in an hour as the plan counts on.

What is compared
    Works out the trips an hour that each hand would make, all of them barrowing, at the placing rate that is written
    and with 50 L on a trip, and compares them with 20: one every three minutes.
Why it matters
    A rate that nobody can walk is the start of every other trouble of the day: the truck waits and its load goes off,
    water is added to keep it going, and the last pass of the finish is made in the dark.
When it does not apply
    It does not come by wheelbarrow, or nothing is said of the day of the pour.
How to put it right
    Get more hands or a buggy, or let the truck nearer. Or write the rate that the crew has, and see what then falls
    short.
Where sources differ
    A contractors' page counts 15 to 20 trips for a cubic meter. The three minutes for a trip, filled, wheeled, tipped
    and back, stand in no source that was read: they are recalled, and on a long or steep way it is more.
"""

from __future__ import annotations

import math

from slabwright.formulas.ordering import barrow_trips
from slabwright.rulebook.kit import *

TITLE = "Barrows that keep up"
EACH_POUR = True
LIMITS = (
    Limit("trips_an_hour_at_most", "20", Kind.RATIO, "caution", Cite("barrow-trips"), ("8", "40"),
          "trips with a barrow that each hand makes in an hour"),
)  # fmt: skip
WORKED = (
    Worked("a cubic meter in an hour by one hand", ratio(20), lambda: barrow_trips(1 / 3600, 1), 1e-9,
           Cite("contractor-pages")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What the rate asks of each hand."""
    if plan.design.order is None or plan.design.order.method != "wheelbarrow":
        does_not_apply("it does not come by wheelbarrow")
    if plan.design.pour is None:
        does_not_apply("nothing is said of the day of the pour (pour)")
    rate, crew = plan.all_given("pour.rate", "pour.crew")
    limit, trips, hands = limits.trips_an_hour_at_most, ratio(barrow_trips(rate.si, crew)), count(crew)
    enough = math.ceil(barrow_trips(rate.si, 1) / limit.value.si - 1e-6)
    more = words("have {needed} hands, or write the rate they have", needed=count(enough))
    yield compare(
        plan.spot("the barrows", "pour"), trips, limit,
        says=lambda: words(f"{{n}} {'hands' if crew > 1 else 'hand'} cannot barrow {{rate}}", n=hands, rate=rate),
        working=lambda: step("trips an hour", "rate / {1.77 ft3|50 L} / hands",
                             words("{r} / {1.77 ft3|50 L} / {n}", r=rate, n=hands), trips),
        remedy=lambda: write("pour.crew", str(enough), more),
    )  # fmt: skip
