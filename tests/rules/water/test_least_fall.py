"""The rule `least-fall`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, only, says, value, weights
from design_text import review_by
from slabs.water import GARDEN, HOUSE, slope_to
from sloped import RECTANGLE, VALLEY, all_followed, design

FOOT = 0.3048


@pytest.mark.parametrize(
    ("fall", "expected"),
    [  # SDDC-TEA parking tutorial: 0.5 % is the lowest grade of concrete; PCA parking guide: 1 %
        (0.0047, [("hold", "slope_at_least")]),  # a twentieth less is let pass
        (0.0048, [("caution", "usual_slope_at_least")]),
        (0.0094, [("caution", "usual_slope_at_least")]),
        (0.0096, []),
        (0.01, []),
        (0.125 / 12, []),  # 1/8 in/ft
    ],
)
@pytest.mark.parametrize("way", [(0.0, -1.0), (1.0, 0.0), (0.6, -0.8)])
def test_least_fall_keeps_the_published_slopes_whichever_way(
    fall: float, expected: list[tuple[str, str]], way: tuple[float, float]
) -> None:
    report = review_by("least-fall", design(RECTANGLE, slope_to(fall * way[0], fall * way[1]), GARDEN))
    assert weights(report) == expected


def test_half_a_percent_each_way_is_seven_tenths() -> None:
    # trade-magazine Q&A on combined slopes: 0.5 % and 0.5 % give 0.71 %
    comment = only(review_by("least-fall", design(RECTANGLE, slope_to(0.005, 0.005), GARDEN)))
    assert comment.shown.si == pytest.approx(0.0071, abs=0.00005)
    assert comment.weight == "caution"


def test_least_fall_tells_a_connected_part_once_and_names_it() -> None:
    heights = {"A": 100, "B": 100, "V1": 100, "V2": 100, "C": 99.88, "D": 99.88}
    lines = "  lines: [{name: break, kind: grade break, along: [V1, V2]}]"
    comment = only(review_by("least-fall", design(VALLEY, heights, GARDEN, more=lines)))
    assert says(comment) == "water lies on the part between A, B, V1, V2: it hardly falls"
    assert comment.at.shape[0] == comment.at.shape[-1]


@pytest.mark.parametrize("edges", [GARDEN, HOUSE, "run: [B, C], beside: street\nrest: curb", "rest: curb"])
@pytest.mark.parametrize("slope", [(0.0, 0.0), (0.002, 0.0), (0.003, -0.004), (0.004, 0.007)])
def test_least_fall_followed_is_met(edges: str, slope: tuple[float, float]) -> None:
    report = all_followed("least-fall", design(RECTANGLE, slope_to(*slope), edges))
    assert report.comments == ()


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_least_fall_followed_falls_away_from_the_house(unit: str) -> None:
    text = design(RECTANGLE, slope_to(0.0), HOUSE, unit=unit)
    comment = only(review_by("least-fall", text))
    assert {comment.to_pass.values["name1"], comment.to_pass.values["name2"]} == {"C", "D"}
    # 1 % over 12 ft is 0.12 ft; over 12 m, 0.12 m
    down = 0.12 * (FOOT if unit == "ft" else 1.0)
    assert [value(comment, "off1"), value(comment, "off2")] == pytest.approx([down, down])


def test_least_fall_of_more_than_six_points_tells_the_fall() -> None:
    points = {f"p{k}": (10 * math.cos(k * math.pi / 5), 10 * math.sin(k * math.pi / 5)) for k in range(10)}
    comment = only(review_by("least-fall", design(points, dict.fromkeys(points, 100.0), GARDEN, " ".join(points))))
    assert advice(comment) == "let the whole slab fall 1 1/4 in over 10'-0\" at least"
