"""Buried lines are marked before anybody digs.

What is compared
    Compares the working days between the call and the first digging with three numbers: 3 must be over; with more than
    10 the call came too early; after 20 the ticket has run out. On a metric plan the last two count where amendments
    set one of them. The day of the call, Saturdays, Sundays and holidays do not count. Where a line is known to lie
    there, the rule asks for the ticket itself.
Why it matters
    A shovel finds a gas line once. The marks cost a telephone call and some days; without a ticket whoever digs pays
    for whatever is hit. Marks wash off: the ticket runs out because they do.
When it does not apply
    The file says nothing of digging, and no line is written that lies in the ground: heating loops in the concrete are
    none.
How to put it right
    Call, write number and day down, and dig when the marks are there. Private lines, to a pool, a shed or a septic
    tank, are not marked by the free service: ask the owner.
Where sources differ
    State laws ask two or three full working days; three is the safe one. One asks for the call no more than 10 working
    days ahead and lets a ticket live 20; others differ. Amendments set the state's. Holidays are the federal ones, and
    none are known on metric plans.
"""

from __future__ import annotations

import math

from slabwright.formulas.working_days import after, between
from slabwright.rulebook.kit import *

TITLE = "Lines marked before digging"
LIMITS = (
    Limit("tickets_at_least", "1", Kind.COUNT, "caution", Cite("one-call-laws"), ("0", "1"),
          "tickets where a line is known to lie"),
    Limit("days_ahead_at_least", "3", Kind.COUNT, "caution", Cite("one-call-laws"), ("1", "15"),
          "working days between the call and digging"),
    Limit("ticket_days_at_most", "20", Kind.COUNT, "caution", Cite("one-call-laws", "Alabama"), ("5", "60"),
          "working days that a ticket lives"),
    Limit("days_ahead_at_most", "10", Kind.COUNT, "caution", Cite("one-call-laws", "Alabama"), ("5", "60"),
          "working days that the call may come ahead of digging"),
)  # fmt: skip
SOME_STATES = 2  # full working days that some states ask, `one-call-laws`
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The ticket, where a line is known; then working days ahead."""
    site, at = plan.design.site, plan.spot("the ticket", "site.locate", "site.buried", "site")
    if site.locate is None and plan.site.buried:
        yield compare(
            at, count(0), limits.tickets_at_least,
            says=lambda: words("a line is known to lie there, and nobody has called to have it marked"),
            decide=lambda: words("call, and write the ticket down (site.locate)"),
        )  # fmt: skip
        return
    if site.locate is None and plan.design.dig is None:
        does_not_apply("nothing is said of digging (dig)")
    _, called, digging = plan.all_given("site.locate.ticket", "site.locate.called", "site.locate.digging")
    holidays = plan.home == "us"
    ahead = count(between(called, digging, holidays=holidays))
    least = limits.days_ahead_at_least
    unit = "day" if ahead.si == 1 else "days"
    two = least.layer == "published" and meets(ahead.si, SOME_STATES, "least")
    first = str(after(called, math.ceil(least.value.si), holidays=holidays))
    yield compare(
        at, ahead, least,
        says=lambda: words("digging starts {n} full working days after the call, and some states ask {most}",
                           n=ahead, most=least.value) if two else
        words("{n} full working {unit} after the call digging starts, before the marks are there", n=ahead, unit=unit),
        remedy=lambda: write("site.locate.digging", first, words("dig on {first} or later", first=first)),
    )  # fmt: skip
    early = limits.days_ahead_at_most
    if plan.home == "metric" and early.layer == limits.ticket_days_at_most.layer == "published":
        return  # how long marks are good is law of the place, and these are days of one American state
    yield compare(
        at, ahead, limits.ticket_days_at_most, early,
        says=lambda: words("{n} working days after the call the ticket has run out, and the marks are gone", n=ahead)
        if not limits.ticket_days_at_most.met(ahead) else
        words("the call came {n} working days ahead of digging, and the marks are walked off by then", n=ahead),
        decide=lambda: words("call again, {least} to {most} working days before digging", least=least.value,
                             most=early.value),
    )  # fmt: skip
