"""There are hands enough to finish the slab while it can be finished.

What is compared
    Compares the area that each hand would finish in an hour with 100 ft2; a twentieth more is met. It is the area of
    the slab over the hands, and over the time from placing to the last pass. That time is as written, or 4 h at 70 °F
    of the concrete, half for each 20 °F more; where the file has neither time nor temperature, the 4 h of a mild day.
Why it matters
    Concrete does not wait. Two hands on a large slab are still bullfloating one end while the other end is past the
    broom; the last third gets water sprinkled on it to close it, and scales.
When it does not apply
    The hands are not written (pour.crew).
How to put it right
    Have more hands, pour it in two days with a construction joint, or start at dawn in the heat. A retarder helps.
Where sources differ
    No source was found. On a mild day crews count 300 to 400 ft2 of broomed flatwork for each hand, by common practice,
    and the most of it is the limit; a power trowel does more.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import HOUR
from slabwright.rulebook.kit import *

TITLE = "Hands enough for the area and the heat"
EACH_POUR = True
LIMITS = (
    Limit("in_an_hour_at_most", "100 ft2", Kind.AREA, "caution", Cite("common-practice"), ("25 ft2", "300 ft2"),
          "area that a hand finishes in an hour"),
)  # fmt: skip
HARDLY = 0.05  # share of the limit that no crew is reckoned nearer than (common practice)
MILD = duration(4 * HOUR)  # from placing to the last pass at 70 °F (common practice)


def in_an_hour(slab: float, hands: int, finishing: float) -> float:
    """Area in m2 that each of ``hands`` finishes in an hour of a ``slab`` m2 that takes ``finishing`` s."""
    return slab / hands / finishing * HOUR


WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """What each hand has to finish in an hour."""
    crew, finishing = plan.design.pour.crew if plan.design.pour else None, plan.finishing or MILD
    if crew is None:
        does_not_apply("the hands are not written (pour.crew)")
    slab, limit, hands = area(plan.shape.area), limits.in_an_hour_at_most, count(crew)
    each = area(in_an_hour(slab.si, crew, finishing.si))
    enough = count(math.ceil(in_an_hour(slab.si, 1, finishing.si) / max(limit.value.si, 1e-6) - 1e-6))
    yield compare(
        plan.spot("the crew", "pour.crew"), each, limit, give=HARDLY * limit.value.si,
        says=lambda: words("each hand has {e} to finish in {t}: some of it sets first", e=area(slab.si / crew),
                           t=finishing),
        working=lambda: step("in an hour", "area / hands / time x 1 h", words(
            "{a} / {n} / {t} x {h}", a=slab, n=hands, t=finishing, h=duration(HOUR)), each),
        remedy=lambda: write("pour.crew", str(round(enough.si)), words("have {needed} hands", needed=enough)),
    )  # fmt: skip
