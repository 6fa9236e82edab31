"""The rule `corner-bars`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import reason, weights
from design_text import review_by
from slabs.steel import floor
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("bars", "found"),
    [
        ("length: 4 ft", []),  # two are taken where no number is written; two #5 x 4 ft: common practice
        ("length: 4 ft, count: 1", [("note", "bars_at_least")]),
        ("length: 3'-11\", count: 2", [("note", "length_at_least")]),
        ("length: 2 ft, count: 1", [("note", "bars_at_least"), ("note", "length_at_least")]),
    ],
)
def test_two_bars_of_four_feet_across_a_corner(bars: str, found: list[tuple[str, str]]) -> None:
    design = floor(f'{{corner_bars: [{{at: E, size: "#5", {bars}}}]}}').replace(
        "outline: [[0, 0], [24, 0], [24, 8], [0, 8]]",
        "points: {E: [12, 4]}\noutline: [[0, 0], [24, 0], [24, 8], [12, 8], E, [0, 4]]",
    )

    report = review_by("corner-bars", design)

    assert weights(report) == found
    assert all(comment.at.name == "the bars at E" for comment in report.comments)


def test_a_slab_without_corner_bars_has_none_to_judge() -> None:
    assert reason(review_by("corner-bars", floor("none"))) == "no corner bars are drawn"


@pytest.mark.parametrize(("unit", "long"), [("ft", "4 ft"), ("m", "1.2 m")])
def test_short_corner_bars_are_told_a_length_that_is_cut(unit: str, long: str) -> None:
    design = floor('{corner_bars: [{at: E, size: "#5", length: 0.6 m}]}', unit=unit, length="24").replace(
        "outline: [[0, 0], [24, 0], [24, 8], [0, 8]]",
        "points: {E: [12, 4]}\noutline: [[0, 0], [24, 0], [24, 8], [12, 8], E, [0, 4]]",
    )
    if unit == "m":
        design = design.replace("8 in", "200 mm").replace('"#5"', "16 mm")
    (comment,) = review_by("corner-bars", design).comments
    assert plain(comment.to_pass, "us" if unit == "ft" else "metric", both=False) == f"make the bars at E {long} long"
