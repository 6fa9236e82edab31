"""The rule `hot-weather`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import ended
from slabwright.plan.given import DoesNotApply, NotShown


@pytest.mark.parametrize(
    ("weather", "found"),
    [
        # ACI 301, ASTM C94, quoted: 95 °F; trouble near 90 °F: common practice
        ("concrete: 90 °F", []),
        ("concrete: 91 °F", [("caution", "concrete_preferred_at_most")]),
        ("concrete: 95 °F", [("caution", "concrete_preferred_at_most")]),
        ("concrete: 96 °F", [("hold", "concrete_at_most")]),
    ],
)
def test_hot_weather(weather: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("hot-weather", pad(f"pour: {{weather: {{{weather}}}}}"))) == found


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("air: 79.5 °F", DoesNotApply),
        ("air: 80 °F", NotShown),
        ("air: 80.5 °F", NotShown),
        ("rain: 10 %", DoesNotApply),
        ("concrete: 70 °F", type(None)),
        ("concrete: 70 °F, air: 60 °F", type(None)),
        ("concrete: 95 °F, air: 90 °F", type(None)),
    ],
)
def test_hot_weather_begins_at_eighty_degrees(said: str, kind: type) -> None:
    """ACI 305.1-14, quoted."""
    assert isinstance(ended("hot-weather", pad(f"pour: {{weather: {{{said}}}}}")), kind)
