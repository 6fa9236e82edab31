"""The rule `bar-ends`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, reason, weights
from design_text import review_by
from slabs.steel import floor


@pytest.mark.parametrize(
    ("ends", "found"),
    [
        ("1 1/2 in", [("caution", "short_at_least")]),
        ("2 in", []),  # 2 to 3 in: common practice
        ("3 in", []),
        ("3 1/4 in", [("note", "short_at_most")]),
    ],
)
def test_bars_end_two_to_three_inches_in(ends: str, found: list[tuple[str, str]]) -> None:
    assert (
        weights(review_by("bar-ends", floor(f'{{bars: {{size: "#4", spacing: 18 in, ends_short: {ends}}}}}'))) == found
    )


def test_bars_that_end_nowhere_said_are_left_alone() -> None:
    unsaid = review_by("bar-ends", floor('{bars: {size: "#4", spacing: 18 in}}'))
    assert reason(unsaid) == "the file does not say where the bars end"
    assert reason(review_by("bar-ends", floor("{mesh: {style: 6x6 W2.9}}"))) == "there are no bars"


def test_bars_too_far_in_are_told_how_much() -> None:
    comment = only(review_by("bar-ends", floor('{bars: {size: "#4", spacing: 18 in, ends_short: 12 in}}')))

    assert advice(comment) == "end the bars 3 in short of the edge: 9 in less"


@pytest.mark.parametrize(("ends", "told"), [("20 mm", "50 mm"), ("200 mm", "75 mm")])
def test_metric_bars_end_a_whole_half_centimeter_in(ends: str, told: str) -> None:
    """2 and 3 in are 50.8 and 76.2 mm."""
    text = floor(f"{{bars: {{size: 12 mm, spacing: 300 mm, ends_short: {ends}}}}}", unit="m")
    comment = only(review_by("bar-ends", text.replace("8 in", "200 mm")))
    assert advice(comment, "metric").startswith(f"end the bars {told} short of the edge")
