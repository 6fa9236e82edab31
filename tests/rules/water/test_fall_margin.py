"""The rule `fall-margin`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import itertools
import math

import pytest
from comments import only, weights
from design_text import pad, review_by
from slabwright.formulas import slopes

POINTS = "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]}\n"


def patio(fall: float, more: str = "", use: str = "patio") -> str:
    """Ten feet that fall ``fall`` ft."""
    low = round(100 - fall, 6)
    return pad(
        POINTS + f"heights: {{finish: {{A: 100, B: 100, C: {low}, D: {low}}}}}\n{more}", use, outline="[A, B, C, D]"
    )


@pytest.mark.parametrize(
    ("fall", "expected"),
    [
        # pi x 1/4 in / 60 in = 1.308997 %: closed form of the steepest slope of a sine
        (0.1243, [("note", "wave_at_least")]),
        (0.1244, []),  # 1.2436 %: a twentieth is let pass
        (0.1000, [("note", "wave_at_least")]),  # 1 %, from which on it counts as falling
        (0.2000, []),
    ],
)
def test_a_fall_over_ten_feet(fall: float, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("fall-margin", patio(fall))) == expected


def test_the_steepest_slope_of_a_wave_is_that_of_a_sine() -> None:
    """d/dx of h/2 sin(2 pi x/L), by differences of the curve itself."""
    h, length = 0.25 * 0.0254, 5 * 0.3048
    at = [k * length / 100_000 for k in range(100_001)]
    curve = [h / 2 * math.sin(2 * math.pi * x / length) for x in at]
    steepest = max(abs(b - a) / (length / 100_000) for a, b in itertools.pairwise(curve))
    assert slopes.slope_of_wave(h, length) == pytest.approx(steepest, rel=1e-6)


def test_what_is_asked_is_told_as_a_slope() -> None:
    comment = only(review_by("fall-margin", patio(0.11)))
    assert comment.shown.si == pytest.approx(0.011)
    assert comment.asked.si == pytest.approx(math.pi * 0.25 / 60)


def test_a_court_falls_one_percent_and_no_more() -> None:
    """1 in in 10 ft, 0.83 %, to 1 % is what courts are built to (common practice): no margin is asked of them."""
    assert review_by("fall-margin", patio(0.1, use="sport court")).does_not_apply


def test_flatter_parts_and_floors_are_left_to_others() -> None:
    assert review_by("fall-margin", patio(0.05)).does_not_apply
    assert review_by("fall-margin", patio(0.11, use="garage floor")).does_not_apply
    assert review_by("fall-margin", pad("")).not_shown[0].add[0].startswith("heights.finish")


def test_only_the_part_that_falls_too_little_is_told() -> None:
    """1.1 % down to a fold, then 2 %."""
    finish = "{A: 100, B: 100, E: 99.945, F: 99.945, C: 99.845, D: 99.845}"
    points = "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], E: [0, 5], F: [10, 5]}\n"
    lines = "lines: [{kind: grade break, along: [E, F]}]"
    text = pad(points + f"heights: {{finish: {finish}, {lines}}}", outline="[A, B, C, D]")
    comment = only(review_by("fall-margin", text))
    assert comment.at.name == "the part between A, B, E, F"
    assert comment.shown.si == pytest.approx(0.011)
