"""The rule `run-on`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabs.base import HOUSE


@pytest.mark.parametrize(
    ("above", "found"),
    [
        ("uphill: 20 ft", []),
        ("uphill: 21 ft", [("caution", "uphill_at_most")]),
        ("eave: 4 ft", []),
        ("eave: 14 ft, uphill: 30 ft", [("caution", "eave_at_most"), ("caution", "uphill_at_most")]),
    ],
)
def test_run_on_from_a_lawn_and_a_roof(above: str, found: list[tuple[str, str]]) -> None:
    """Common practice."""
    edges = f"{HOUSE}edges: [{{run: [A, B], beside: lawn, {above}}}, {{rest: lawn}}]"
    assert sorted(weights(review_by("run-on", pad(edges, outline="[A, B, C, D]")))) == found


def test_run_on_is_no_matter_where_a_swale_takes_it() -> None:
    edges = f"{HOUSE}edges: [{{run: [A, B], beside: lawn, uphill: 90 ft, swale: true}}, {{rest: lawn}}]"
    assert review_by("run-on", pad(edges, outline="[A, B, C, D]")).does_not_apply
