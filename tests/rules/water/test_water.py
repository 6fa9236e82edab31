"""What the rules on water have in common."""

from __future__ import annotations

import pytest
from comments import only
from design_text import review_by
from slabs.water import GARDEN, HOUSE, V_LINE, slope_to
from slabwright.text.words import plain
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


@pytest.mark.parametrize(
    ("rule", "unit", "fall", "told"),
    [  # 2 % and 1:80, 1 %, and 1.309 % of a wave of 1/4 in in 5 ft, 6 mm in 1.5 m: to the eighth or millimeter above
        ("fall-from-building", "ft", 0.005, "let the slab fall 2 1/2 in away from house wall over 10'-0\""),
        ("fall-from-building", "m", 0.005, "let the slab fall 38 mm away from house wall over 3 m"),
        ("least-fall", "ft", 0.004, "let the whole slab fall 1 1/4 in over 10'-0\" at least"),
        ("least-fall", "m", 0.004, "let the whole slab fall 30 mm over 3 m at least"),
        ("fall-margin", "ft", 0.011, "let the whole slab fall 13/16 in over 5'-0\" at least"),
        ("fall-margin", "m", 0.011, "let the whole slab fall 20 mm over 1.5 m at least"),
        ("floor-falls-to-door", "m", 0.005, "let the whole slab fall 30 mm over 3 m to the door or to a drain"),
    ],
)
def test_what_a_slab_has_to_fall_is_told_over_a_length_that_is_measured(
    rule: str, unit: str, fall: float, told: str
) -> None:
    edges, use = (HOUSE, "patio") if rule == "fall-from-building" else (GARDEN, "patio")
    if rule == "floor-falls-to-door":
        edges, use = "run: [C, D], beside: open ground, name: door, takes_water: true\nrest: building", "garage floor"
    comment = only(review_by(rule, design(RECTANGLE, slope_to(0, -fall), edges, unit=unit, use=use)))
    assert comment.decide is not None
    assert plain(comment.decide, "us" if unit == "ft" else "metric", both=False) == told
