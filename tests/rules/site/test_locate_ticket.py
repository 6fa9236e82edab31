"""The rule `locate-ticket`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only
from design_text import pad, plan_of, review_by, rule_named
from slabwright.review import run
from slabwright.rulebook import limits
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, Kind


def ticket(called: str, digging: str, unit: str = "ft") -> str:
    return pad(f"site: {{locate: {{ticket: A 1, called: {called}, digging: {digging}}}}}", unit=unit)


def dug(called: str, digging: str, days: float) -> list[tuple[str, str]]:
    """What is said, and what to do, where the call must come so many working days ahead."""
    rule = rule_named("locate-ticket")
    amended = Amendment(rule.name, "days_ahead_at_least", "a test", Amount(days, Kind.COUNT, f"{days:g}"))
    in_force = limits.resolve((rule,), [Amendments("town", "a test", (amended,))])
    plan = plan_of(pad(f"site: {{locate: {{ticket: A 1, called: {called}, digging: {digging}}}}}"))
    comments = run.review(plan, (rule,), in_force).comments
    return [(plain(comment.says, "us"), plain(comment.to_pass, "us")) for comment in comments]


@pytest.mark.parametrize(
    ("called", "digging", "days"),
    [
        # South Carolina call center, read: three full working days, called Monday, dug Friday; 2026-04-06 is a Monday
        ("2026-04-06", "2026-04-10", None),
        ("2026-04-07", "2026-04-10", 2),
        ("2026-04-10", "2026-04-13", 0),  # over the weekend
        ("2026-04-10", "2026-04-15", 2),
        ("2026-04-10", "2026-04-16", None),
        ("2026-04-13", "2026-04-10", 0),  # after digging
        # Memorial Day 2026 is Monday, May 25 (5 U.S.C. 6103)
        ("2026-05-21", "2026-05-27", 2),
        ("2026-05-21", "2026-05-28", None),
    ],
)
def test_locate_ticket_counts_full_working_days(called: str, digging: str, days: int | None) -> None:
    comments = review_by("locate-ticket", ticket(called, digging)).comments

    assert [comment.shown.si for comment in comments] == ([] if days is None else [days])
    if comments:
        first = str(comments[0].to_pass.values["first"])
        assert review_by("locate-ticket", ticket(called, first)).met


@pytest.mark.parametrize(
    ("digging", "told"),
    [  # state laws ask two or three full working days: `one-call-laws`, read; 2026-04-06 is a Monday
        ("2026-04-09", "digging starts 2 full working days after the call, and some states ask 3"),
        ("2026-04-08", "1 full working day after the call digging starts, before the marks are there"),
    ],
)
def test_locate_ticket_owns_that_some_states_ask_two_days(digging: str, told: str) -> None:
    comment = only(review_by("locate-ticket", ticket("2026-04-06", digging)))

    assert plain(comment.says, "us") == told


def test_locate_ticket_knows_no_holidays_of_other_countries() -> None:
    assert not review_by("locate-ticket", ticket("2026-05-21", "2026-05-27", "m")).comments


@pytest.mark.parametrize(
    ("digging", "limit"),
    [
        # Alabama 37-15-4, quoted: at most 10 working days ahead, and a ticket lives 20; called on 2026-03-02, a Monday
        ("2026-03-17", None),
        ("2026-03-18", "days_ahead_at_most"),
        ("2026-03-31", "days_ahead_at_most"),
        ("2026-04-01", "ticket_days_at_most"),
    ],
)
def test_locate_ticket_grows_old(digging: str, limit: str | None) -> None:
    comments = review_by("locate-ticket", ticket("2026-03-02", digging)).comments

    assert [(one.weight, one.limit.name) for one in comments] == ([("caution", limit)] if limit else [])
    if limit:
        assert plain(comments[0].to_pass, "us") == "call again, 3 to 10 working days before digging"
        assert ("has run out" in plain(comments[0].says, "us")) is (limit == "ticket_days_at_most")


def test_locate_ticket_is_missed_where_a_line_is_known() -> None:
    line = "site: {buried: [{along: [[-2, 4], [10, 4]]}]}"
    comment = only(review_by("locate-ticket", pad(line)))

    assert (comment.weight, comment.limit.name, comment.shown.si) == ("caution", "tickets_at_least", 0)


def test_heating_loops_in_the_concrete_are_no_line_that_a_utility_marks() -> None:
    loops = "site: {buried: [{name: heating loops, along: [[1, 1], [7, 1]], depth: %s}]}"
    assert review_by("locate-ticket", pad(loops % "2 in")).does_not_apply
    assert review_by("locate-ticket", pad(loops % "24 in")).comments  # a loop of a heat pump, deep in the ground


def test_locate_ticket_asks_once_somebody_digs() -> None:
    asked = review_by("locate-ticket", pad("dig: {depth: 8 in}")).not_shown[0].add
    half = review_by("locate-ticket", pad("site: {locate: {ticket: A 1}}")).not_shown[0].add

    assert [one.split(":")[0] for one in asked] == ["site.locate.ticket", "site.locate.called", "site.locate.digging"]
    assert [one.split(":")[0] for one in half] == ["site.locate.called", "site.locate.digging"]
    assert review_by("locate-ticket", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("digging", "days", "counted", "first"),
    [  # called on Tuesday, 2026-04-07 (ISO 8601 calendar)
        ("2026-04-09", 3, "1 full working day", "2026-04-13"),
        ("2026-04-10", 3, "2 full working days", "2026-04-13"),
        ("2026-04-07", 3, "0 full working days", "2026-04-13"),
        ("2026-04-10", 2.5, "2 full working days", "2026-04-13"),  # two and a half days are over on the third
        ("2026-04-10", 4, "2 full working days", "2026-04-14"),
        ("2026-04-09", 2, "1 full working day", "2026-04-10"),
    ],
)
def test_days_ahead_are_told_and_the_first_day_to_dig(digging: str, days: float, counted: str, first: str) -> None:
    assert dug("2026-04-07", digging, days) == [
        (f"{counted} after the call digging starts, before the marks are there", f"dig on {first} or later")
    ]
    assert dug("2026-04-07", first, days) == []


def test_who_calls_on_a_saturday_waits_from_monday() -> None:
    assert [first for _, first in dug("2026-04-11", "2026-04-14", 3)] == ["dig on 2026-04-16 or later"]


@pytest.mark.parametrize("digging", ["2026-04-27", "2026-06-01"])
def test_marks_of_another_country_are_not_held_to_the_days_of_a_state(digging: str) -> None:
    """14 and 38 working days after the call: over the 10 and the 20 of Alabama (`one-call-laws`)."""
    assert review_by("locate-ticket", ticket("2026-04-06", digging)).comments
    assert not review_by("locate-ticket", ticket("2026-04-06", digging, unit="m")).comments


def test_an_amendment_tells_how_long_the_marks_of_a_place_are_good() -> None:
    rule = rule_named("locate-ticket")
    amended = Amendment(rule.name, "days_ahead_at_most", "a test", Amount(12.0, Kind.COUNT, "12"))
    in_force = limits.resolve((rule,), [Amendments("town", "a test", (amended,))])
    (told,) = run.review(plan_of(ticket("2026-04-06", "2026-04-27", unit="m")), (rule,), in_force).comments
    assert told.limit.name == "days_ahead_at_most"
