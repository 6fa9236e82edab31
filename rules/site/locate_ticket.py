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
from collections.abc import Iterator

import numpy as np
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
    compared,
    does_not_apply,
    not_shown,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count

TITLE = "Lines marked before digging"
LIMITS = (
    Limit("days_ahead_at_least", "3", Kind.COUNT, "caution", Cite("one-call-laws"), ("1", "15"),
          "working days between the call and digging"),
)  # fmt: skip
WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """Something is dug, and the days are known."""
    said = plan.design.site.locate
    if said is None and plan.design.dig is None:
        return does_not_apply("nothing is said of digging (dig)")
    such = {"ticket": "the number of the ticket, such as 26040713", "called": "the day of the call, such as 2026-04-07",
            "digging": "the day digging starts, such as 2026-04-13"}  # fmt: skip
    add = [f"site.locate.{key}: {text}" for key, text in such.items() if said is None or not getattr(said, key)]
    return not_shown(*add, place=plan.place("site.locate", "dig", "site")) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Working days ahead; holidays are not known here."""
    said = plan.design.site.locate
    if said is None or said.called is None or said.digging is None:
        return
    ahead = count(max(int(np.busday_count(said.called, said.digging)), 0))
    days = math.ceil(limits.days_ahead_at_least.value.si)
    first = str(np.busday_offset(said.called, days, roll="forward"))
    unit = "day" if ahead.si == 1 else "days"
    says = words("{n} working {unit} after the call digging starts, before the marks are there", n=ahead, unit=unit)
    to_pass = words("dig on {first} or later", first=first)
    yield compared(limits, ("days_ahead_at_least",), Spot("the ticket", said.place), ahead, says, to_pass)
