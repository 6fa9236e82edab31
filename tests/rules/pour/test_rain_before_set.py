"""The rule `rain-before-set`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by


@pytest.mark.parametrize(("chance", "found"), [("50 %", []), ("51 %", [("caution", "chance_at_most")])])
def test_rain_before_set(chance: str, found: list[tuple[str, str]]) -> None:
    report = review_by("rain-before-set", pad(f"pour: {{weather: {{rain: {chance}}}}}"))

    assert weights(report) == found
    assert not any(comment.remedies for comment in report.comments)  # the weather is what it is


def test_rain_before_set_is_silent_under_a_roof_and_without_a_forecast() -> None:
    wet = "pour: {weather: {rain: 90 %}}"
    assert review_by("rain-before-set", pad(wet, use="shop floor")).does_not_apply
    assert review_by("rain-before-set", pad("pour: {weather: {air: 70 °F}}")).does_not_apply
