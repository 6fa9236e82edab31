"""Barrows: 20 trips of 50 L for a cubic meter (contractors' page), and a trip each three minutes (common practice)."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from slabwright.text.words import plain

RULE = "barrows-keep-up"


def day(pour: str, method: str = "wheelbarrow") -> str:
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
    report = review_by(RULE, day(pour))
    shown = report.comments[0].shown if report.comments else report.met[0].shown
    assert shown is not None
    assert shown.si == pytest.approx(trips)
    assert weights(report) == ([("caution", "trips_an_hour_at_most")] if trips > 20 else [])


def test_the_hands_it_takes_are_told() -> None:
    """6 m3 are 120 trips, 20 for each of six."""
    said = plain(only(review_by(RULE, day("rate: 6 m3/h, crew: 4"))).to_pass, "us", both=False)
    assert said == "have 6 hands, or write the rate they have"


def test_what_is_not_barrowed_or_not_known() -> None:
    assert review_by(RULE, day("rate: 6 m3/h, crew: 1", "pump")).does_not_apply
    assert review_by(RULE, pad("order: {method: wheelbarrow}")).does_not_apply
    assert review_by(RULE, pad("")).does_not_apply
    asked = review_by(RULE, day("finish: broom")).not_shown[0].add
    assert [one.split(":")[0] for one in asked] == ["pour.rate", "pour.crew"]
