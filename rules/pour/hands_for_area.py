"""There are hands enough to finish the slab while it can be finished.

What is compared
    The area of the slab for each hand with 75 ft2 for each hour from placing to the last pass. That time is as written,
    or 4 h at 70 °F of the concrete, half for each 20 °F more.
Why it matters
    Concrete does not wait. Two hands on a large slab are still bullfloating one end while the other end is past the
    broom; the last third gets water sprinkled on it to close it, and scales.
When it does not apply
    The hands are not written (pour.crew), or neither the time of finishing nor a temperature is.
How to put it right
    Have more hands, pour it in two days with a construction joint, or start at dawn in the heat. A retarder helps.
Where sources differ
    No source was found: 300 ft2 for each hand on a mild day is common practice for broomed flatwork, and a power
    trowel does more.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import FOOT2, HOUR
from slabwright.rulebook.kit import *

TITLE = "Hands enough for the area and the heat"
LIMITS = (
    Limit("in_an_hour_at_most", "75 ft2", Kind.AREA, "caution", Cite("common-practice"), ("25 ft2", "300 ft2"),
          "area that a hand finishes in an hour"),
)  # fmt: skip


def for_each(in_an_hour: float, finishing: float) -> float:
    """Area in m2 that a hand finishes in a time of ``finishing`` s, at ``in_an_hour`` m2 in an hour."""
    return in_an_hour * finishing / HOUR


WORKED = (
    Worked("75 ft2 in an hour, in 4 h", area(300 * FOOT2), lambda: for_each(75 * FOOT2, 4 * HOUR), 1e-9,
           Cite("geometry")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What each hand has to finish."""
    crew, finishing = plan.design.pour.crew if plan.design.pour else None, plan.finishing
    if crew is None:
        does_not_apply("the hands are not written (pour.crew)")
    if finishing is None:
        does_not_apply("neither the time of finishing nor a temperature is written (pour.finishing, pour.weather)")
    slab, limit = area(plan.shape.area), limits.in_an_hour_at_most
    each, asked = area(slab.si / crew), area(max(for_each(limit.value.si, finishing.si), 1e-6))
    enough = count(math.ceil(slab.si / asked.si - 1e-6))
    yield compare(
        plan.spot("the crew", "pour.crew"), each, limit, asked=asked,
        says=lambda: words("each hand has {e} to finish in {t}: some of it sets first", e=each, t=finishing),
        working=lambda: step("for each hand", "area / hands", words("{a} / {n}", a=slab, n=count(crew)), each),
        remedy=lambda: write("pour.crew", str(round(enough.si)), words("have {needed} hands", needed=enough)),
    )  # fmt: skip
