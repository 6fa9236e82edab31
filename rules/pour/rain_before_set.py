"""No rain comes on the concrete before it has set.

What is compared
    Compares the chance of rain on the day with 50 %.
Why it matters
    Rain on soft concrete washes the paste off the stone and pits the broom marks; worked in, it is water that nobody
    ordered, and the skin scales. Compound that was sprayed an hour before is washed away.
When it does not apply
    The slab lies under a roof, or no chance of rain is written.
How to put it right
    Pour another day. Where it must be that day, have sheeting for all of it at hand, put up on something that keeps it
    off the surface, and nobody works the water in: let it run off, and finish what is left.
Where sources differ
    No source has a number; half a chance is common practice. A guide specification has compound sprayed again where it
    rains within 3 h.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Dry until it has set"
EACH_POUR = True
LIMITS = (
    Limit("chance_at_most", "50 %", Kind.SHARE, "caution", Cite("common-practice"), ("20 %", "90 %"),
          "chance of rain on the day"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The chance of rain."""
    if not plan.outdoors:
        does_not_apply("no rain falls on it")
    pour = plan.design.pour
    if pour is None or pour.weather is None or pour.weather.rain is None:
        does_not_apply("no chance of rain is written (pour.weather.rain)")
    rain, slab = pour.weather.rain, area(plan.shape.area)
    yield compare(
        plan.spot("the rain", "pour.weather.rain"), rain, limits.chance_at_most,
        says=lambda: words("a chance of {r} that rain falls on it before it has set", r=rain),
        decide=lambda: words("wait for a drier day; or have {a} of sheeting at hand, and work no rain in", a=slab),
    )  # fmt: skip
