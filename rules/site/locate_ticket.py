"""Buried lines are marked before anybody digs.

What is compared
    The working days between the call and the first digging with 3.
Why it matters
    A shovel finds a gas line once. The marks cost a telephone call and some days; without a ticket whoever digs pays
    for whatever is hit.
When it does not apply
    The file says nothing of digging.
How to put it right
    Call, write number and day down, and dig when the marks are there. Private lines, to a pool, a shed or a septic
    tank, are not marked by the free service: ask the owner.
Where sources differ
    State laws ask two or three business days; three is the safe one, and amendments set the state's.
"""

from __future__ import annotations

import math

import numpy as np
from slabwright.rulebook.kit import *

TITLE = "Lines marked before digging"
LIMITS = (
    Limit("days_ahead_at_least", "3", Kind.COUNT, "caution", Cite("one-call-laws"), ("1", "15"),
          "working days between the call and digging"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Working days ahead; holidays are not known here."""
    if plan.design.site.locate is None and plan.design.dig is None:
        does_not_apply("nothing is said of digging (dig)")
    _, called, digging = plan.all_given("site.locate.ticket", "site.locate.called", "site.locate.digging")
    limit = limits.days_ahead_at_least
    ahead = count(max(int(np.busday_count(called, digging)), 0))
    first = str(np.busday_offset(called, math.ceil(limit.value.si), roll="forward"))
    unit = "day" if ahead.si == 1 else "days"
    yield compare(
        plan.spot("the ticket", "site.locate"), ahead, limit,
        says=lambda: words("{n} working {unit} after the call digging starts, before the marks are there", n=ahead,
                           unit=unit),
        remedy=lambda: write("site.locate.digging", first, words("dig on {first} or later", first=first)),
    )  # fmt: skip
