"""What the rules on water have in common."""

from __future__ import annotations

import pytest
from design_text import review_by
from slabs.water import HOUSE, V_LINE, slope_to
from sloped import RECTANGLE, VALLEY, design

RULES = (
    "least-fall",
    "fall-from-building",
    "standing-water",
    "water-ends-where-it-may",
    "valley-fall",
    "ground-dams-edge",
)


@pytest.mark.parametrize("rule", RULES)
def test_corners_without_heights_are_named(rule: str) -> None:
    text = design(VALLEY, {"A": 100, "C": 99.7, "V1": 99.6}, HOUSE, more=V_LINE)
    (silent,) = review_by(rule, text).not_shown
    assert silent.add[0].startswith("heights.finish: the finish height at B, D, V2 (valley valley), such as 99.90")


@pytest.mark.parametrize("rule", ["least-fall", "fall-from-building", "water-ends-where-it-may"])
def test_a_floor_under_a_roof_is_not_asked_to_shed_rain(rule: str) -> None:
    text = design(RECTANGLE, slope_to(0), HOUSE, use="shop floor")
    assert review_by(rule, text).does_not_apply[0].reason == "no rain falls on it"
