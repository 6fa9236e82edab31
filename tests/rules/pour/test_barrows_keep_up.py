"""The rule `barrows-keep-up`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from judged import finding
from slabwright.text.words import plain

RULE = "barrows-keep-up"
BARROWED = "order: {method: wheelbarrow}\n"


def barrow_day(pour: str, method: str = "wheelbarrow") -> str:
    return pad(f"order: {{method: {method}}}\npour: {{{pour}}}")


@pytest.mark.parametrize(
    ("pour", "trips"),
    [
        ("rate: 3 m3/h, crew: 3", 20),  # 60 trips by three
        ("rate: 3.1 m3/h, crew: 3", 62 / 3),
        ("rate: 6 m3/h, crew: 4", 30),
        ("rate: 1 m3/h, crew: 5", 4),
    ],
)
def test_trips_of_each_hand(pour: str, trips: float) -> None:
    report = review_by(RULE, barrow_day(pour))
    shown = report.comments[0].shown if report.comments else report.met[0].shown
    assert shown is not None
    assert shown.si == pytest.approx(trips)
    assert weights(report) == ([("caution", "trips_an_hour_at_most")] if trips > 20 else [])


def test_the_hands_it_takes_are_told() -> None:
    """6 m3 are 120 trips, 20 for each of six."""
    said = plain(only(review_by(RULE, barrow_day("rate: 6 m3/h, crew: 4"))).to_pass, "us", both=False)
    assert said == "have 6 hands, or write the rate they have"


def test_what_is_not_barrowed_or_not_known() -> None:
    assert review_by(RULE, barrow_day("rate: 6 m3/h, crew: 1", "pump")).does_not_apply
    assert review_by(RULE, pad("order: {method: wheelbarrow}")).does_not_apply
    assert review_by(RULE, pad("")).does_not_apply
    asked = review_by(RULE, barrow_day("finish: broom")).not_shown[0].add
    assert [one.split(":")[0] for one in asked] == ["pour.rate", "pour.crew"]


@pytest.mark.parametrize(("rate", "hands"), [("5.9", 6), ("6", 6), ("6.1", 7), ("7", 7)])
def test_a_cubic_meter_an_hour_takes_one_hand(rate: str, hands: int) -> None:
    """20 trips for a cubic meter (contractors' page), and 20 trips in an hour by one hand (common practice)."""
    one = finding("barrows-keep-up", pad(f"{BARROWED}pour: {{rate: {rate} m3/h, crew: 1}}"))

    assert one.to_pass.values["needed"].si == hands  # type: ignore[union-attr]


def test_one_hand_is_one_and_two_are_hands() -> None:
    one, two = (finding("barrows-keep-up", pad(f"{BARROWED}pour: {{rate: 6 m3/h, crew: {crew}}}")) for crew in (1, 2))

    assert plain(one.says, "metric", both=False).startswith("1 hand ")
    assert plain(two.says, "metric", both=False).startswith("2 hands ")


def test_hands_needed_follow_the_trips_that_are_asked() -> None:
    one = finding("barrows-keep-up", pad(f"{BARROWED}pour: {{rate: 6 m3/h, crew: 1}}"), trips_an_hour_at_most="10")

    assert one.to_pass.values["needed"].si == 12  # type: ignore[union-attr]
