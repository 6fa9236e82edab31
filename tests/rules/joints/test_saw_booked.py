"""The rule `saw-booked`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, only, reason, slot_shown, weights
from design_text import pad, review_by
from judged import findings, judged
from slabs.joints import box, cut_at, jointed_slab, joints, timed_cut
from slabwright.review.report import Report
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.text.words import plain


def booked_design(pour: str, wait: str = "6 h") -> str:
    """A cut in a slab of 4 yd3, placed in an hour."""
    return pad(
        joints(cut_at(8, more=f", cut_after: {wait}")) + f"order: {{volume: 4 yd3}}\npour: {{rate: 4 yd3/h, {pour}}}\n",
        outline=box(16, 8),
    )


def booked(
    until: str, air: str = "66 °F", start: str = "07:00", wait: str = "6 h", finishing: str = "finishing: 4 h"
) -> Report:
    pour = f'{{start: "{start}", until: "{until}", rate: 4 yd3/h, {finishing}, weather: {{air: {air}}}}}'
    return review_by("saw-booked", jointed_slab(timed_cut(wait), f"order: {{volume: 4 yd3}}\npour: {pour}"))


@pytest.mark.parametrize(
    ("weather", "hours"),
    [
        # rule of thumb (ACI 305R-10, 306R-16, quoted): half for 20 °F more; 4 h at 70 °F is common practice
        ("air: 70 °F", 4),
        ("air: 50 °F", 8),
        ("air: 90 °F, concrete: 70 °F", 4),  # by the concrete where both are known
        ("air: 35 °F", 4 * 2**1.75),
        ("air: 100 °F", 4 * 2**-1.5),
    ],
)
def test_saw_booked_finishing_by_the_warmth(weather: str, hours: float) -> None:
    (said,) = judged("saw-booked", booked_design(f'start: "07:00", until: "07:00", weather: {{{weather}}}'))

    assert said.shown.si == pytest.approx((1 + hours + 6) * 3600, abs=1e-6)


@pytest.mark.parametrize(("air", "end"), [("34.5 °F", "35 °F"), ("100.5 °F", "100 °F")])
def test_saw_booked_outside_the_rule_of_thumb_finishing_is_that_of_its_end(air: str, end: str) -> None:
    """Nobody has times for it: it is an estimate, and says at which end the finish is taken."""
    (said,) = judged("saw-booked", booked_design(f'start: "07:00", until: "14:15", weather: {{air: {air}}}'))

    assert said.limit.name == "late_after_finishing_at_most"
    assert plain(said.says, "us", both=False).endswith(f"at {air} the finish is taken as at {end}")


@pytest.mark.parametrize("air", ["35 °F", "100 °F"])
def test_saw_booked_at_the_ends_of_the_rule_of_thumb_nothing_is_taken(air: str) -> None:
    (said,) = findings("saw-booked", booked_design(f'start: "07:00", until: "08:30", weather: {{air: {air}}}'))

    assert "taken" not in plain(said.says, "us", both=False)


@pytest.mark.parametrize(
    ("start", "wait", "write"),
    [
        ("07:00", "6 h", "18:00"),
        ("07:10", "6 h", "18:15"),
        ("16:00", "6 h", "03:00"),  # before the hour of the start: it can only be the next
        ("07:00", "19 h", "07:00 the next day"),  # the hour of the start itself
        ("07:05", "19 h", "07:15 the next day"),
        ("07:10", "19 h", "07:15 the next day"),
        ("07:20", "18 h", "06:30"),
        ("07:05", "1130 min", "07:00"),
        ("07:00", "20 h", "08:00 the next day"),
        ("07:00", "43 h", "07:00 2 days later"),
        ("07:00", "40 h", "04:00 2 days later"),
        ("07:00", "68 h", "08:00 3 days later"),
    ],
)
def test_saw_booked_the_hour_to_book_until(start: str, wait: str, write: str) -> None:
    # start + 1 h of placing + 4 h of finishing + wait, to the next quarter of an hour
    (finding,) = findings("saw-booked", booked_design(f'start: "{start}", until: "{start}", finishing: 4 h', wait))

    assert slot_shown(finding, "until") == write


@pytest.mark.parametrize(
    ("until", "late"), [("18:00", 0), ("19:00", 0), ("17:30", 1800), ("17:29", 1860), ("07:00", 39600)]
)
def test_saw_booked_how_late_the_last_cut_comes(until: str, late: float) -> None:
    (said,) = judged("saw-booked", booked_design(f'start: "07:00", until: "{until}", finishing: 4 h'))

    assert isinstance(said, Finding if late > 1800 else Margin)
    assert said.shown.si == pytest.approx(late, abs=1e-6)


@pytest.mark.parametrize(
    ("until", "air", "weight", "hours"),
    [
        ("18:00", "66 °F", "", 0),  # 7 + 4 / 4 + 4 + 6 = 18
        ("17:30", "66 °F", "", 0.5),  # half an hour: no day is reckoned closer
        ("17:29", "66 °F", "caution", 31 / 60),
        ("17:00", "90 °F", "caution", 1),
    ],
)
def test_the_hour_of_the_last_cut(until: str, air: str, weight: str, hours: float) -> None:
    report = booked(until, air)

    assert [comment.weight for comment in report.comments] == ([weight] if weight else [])
    if weight:
        assert only(report).shown.si == pytest.approx(hours * 3600)
        assert plain(only(report).to_pass, "us") == "book somebody for the saw until 18:00"


def test_booked_hours_may_run_past_midnight() -> None:
    # 16 + 1 + 4 + 6 = 27: three in the morning
    assert booked("03:00", start="16:00").comments == ()
    late = only(booked("02:00", start="16:00"))
    assert late.shown.si == pytest.approx(3600)
    assert plain(late.to_pass, "us") == "cut with an early-entry saw, or book somebody for the saw until 03:00"


def test_a_cut_a_day_later_is_booked_for_the_next_day() -> None:
    # 7 + 1 + 4 + 20 = 32: eight in the morning, after the start of the day before
    assert (
        plain(only(booked("17:00", wait="20 h")).to_pass, "us") == "book somebody for the saw until 08:00 the next day"
    )


@pytest.mark.parametrize(("air", "until"), [("70 °F", "18:00"), ("90 °F", "16:00")])
def test_finishing_goes_by_the_temperature_where_it_is_not_given(air: str, until: str) -> None:
    # rule of thumb (ACI 305R-10, 306R-16, quoted): setting halves for 20 °F more; 4 h at 70 °F is common practice
    an_hour_less = int(until[:2]) - 1
    assert booked(f"{an_hour_less}:00", air, finishing="crew: 3").comments == ()
    assert len(booked(f"{an_hour_less - 1}:59", air, finishing="crew: 3").comments) == 1


def test_finishing_that_is_written_holds_at_any_warmth() -> None:
    assert "taken" not in plain(only(booked("07:30", "20 °F")).says, "us")


@pytest.mark.parametrize(
    ("wait", "found"), [("23 h", ("caution", "late_at_most")), ("24 h", ("note", "late_after_finishing_at_most"))]
)
def test_whoever_waits_a_day_comes_back_whenever_finishing_ends(wait: str, found: tuple[str, str]) -> None:
    """7 + 1 + 4 h at 70 °F (common practice) + 23 or 24: at 11 or at noon, booked until 10."""
    assert weights(booked("10:00", "70 °F", wait=wait, finishing="crew: 3")) == [found]


def test_hours_that_are_not_planned_are_left_alone() -> None:
    unplanned = "the hours of the pour are not written (pour.start, pour.until)"
    assert reason(review_by("saw-booked", jointed_slab(timed_cut("6 h")))) == unplanned
    assert reason(review_by("saw-booked", jointed_slab(timed_cut("6 h"), 'pour: {start: "07:00"}'))) == unplanned
    half = review_by("saw-booked", jointed_slab(timed_cut(""), 'pour: {start: "07:00", rate: 4 yd3/h}'))
    assert [one.split(":")[0] for one in added(half)] == ["pour.until", "joints, cut_after"]


@pytest.mark.parametrize(
    ("until", "found"),
    [
        ("17:00", []),
        ("16:00", []),  # an hour is let pass
        ("15:59", [("note", "late_after_finishing_at_most")]),
        ("12:30", [("note", "late_after_finishing_at_most")]),
        ("12:29", [("caution", "late_at_most")]),  # 7 + 6 = 13 whatever finishing takes
    ],
)
def test_without_rate_and_weather_the_last_cut_is_an_estimate(until: str, found: list[tuple[str, str]]) -> None:
    # 7 + nothing for placing + 4 h of finishing at 70 °F (common practice) + 6 = 17
    assert (
        weights(review_by("saw-booked", jointed_slab(timed_cut("6 h"), f'pour: {{start: "07:00", until: "{until}"}}')))
        == found
    )


@pytest.mark.parametrize(
    ("wait", "weight"), [("19 h", "note"), ("18 h", "caution"), ("29 h", "note"), ("32 h", "caution")]
)
def test_a_cut_in_the_booked_hours_of_the_next_day_is_a_note(wait: str, weight: str) -> None:
    """7 + 1 + 4 + 19 = 31, seven in the morning; an hour earlier, and at 7 in the evening, nobody is there."""
    assert only(booked("17:00", wait=wait)).weight == weight


@pytest.mark.parametrize(
    ("start", "last", "early"),
    [("10:00", "21:00", False), ("10:15", "21:15", True), ("18:45", "05:45", True), ("19:00", "06:00", False)],
)
def test_a_cut_that_would_come_at_night_is_one_for_the_early_saw(start: str, last: str, early: bool) -> None:
    """1 h of placing, 4 h at 70 °F and a wait of 6 h: nobody minds a saw from six until nine (common practice)."""
    told = plain(only(booked("19:00" if start < "18" else "04:00", start=start)).to_pass, "us")
    assert told == ("cut with an early-entry saw, or " if early else "") + f"book somebody for the saw until {last}"
