"""The rule `stone-through-hose`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from judged import finding

INCH = 0.0254


@pytest.mark.parametrize(
    ("hose", "sold"),
    [("1 1/8 in", True), ("1.12 in", False)],  # a third of it: 3/8 in, the smallest stone usually sold, and less
)
def test_stone_is_offered_from_three_eighths_up(hose: str, sold: bool) -> None:
    one = finding("stone-through-hose", pad(f"mix: {{aggregate: 3/4 in}}\norder: {{method: pump, hose: {hose}}}"))

    assert ("write" in one.to_pass.values) is sold
    if sold:
        assert one.to_pass.values["write"].si == pytest.approx(3 / 8 * INCH)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("stone", "unit", "line"), [("20 mm", "m", 0.060), ("25 mm", "m", 0.075), ("1.1 in", "ft", 3.5 * INCH)]
)
def test_a_wider_line_is_three_stones_wide_and_of_a_usual_size(stone: str, unit: str, line: float) -> None:
    text = pad(f"mix: {{aggregate: {stone}}}\norder: {{method: pump, hose: 1 1/2 in}}", unit=unit)

    wider = finding("stone-through-hose", text).remedies[-1]
    assert wider.says.values["wider"].si == pytest.approx(line)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("stone", "hose", "short"),
    [
        # ACI 304.2R, recalled: 2 in hose 1/2 in, 2-1/2 in 3/4 in, 3 in 1 in, 4 in 1-1/4 in
        ("1/2 in", "2 in", False),
        ("3/4 in", "2 in", True),
        ("3/4 in", "2 1/2 in", False),
        ("1 in", "2 1/2 in", True),
        ("1 in", "3 in", False),
        ("1 1/4 in", "4 in", False),
        ("1 1/2 in", "4 in", True),
    ],
)
def test_stone_through_hose_by_the_published_pairs(stone: str, hose: str, short: bool) -> None:
    text = f"mix: {{aggregate: {stone}}}\norder: {{method: pump, hose: {hose}}}"

    assert weights(review_by("stone-through-hose", pad(text))) == (
        [("caution", "part_of_hose_at_most")] if short else []
    )


def test_stone_through_hose_offers_no_stone_that_is_not_sold() -> None:
    text = "mix: {aggregate: 3/8 in}\norder: {method: pump, hose: 1 in}"
    comment = only(review_by("stone-through-hose", pad(text)))

    assert advice(comment) == "pump it through a line of 1 1/2 in"


def test_stone_through_hose_asks_only_where_it_is_pumped() -> None:
    asked = review_by("stone-through-hose", pad("order: {method: pump}")).not_shown[0].add

    assert [one.split(":")[0] for one in asked] == ["order.hose", "mix.aggregate"]
    assert review_by("stone-through-hose", pad("order: {method: chute}")).does_not_apply
    assert review_by("stone-through-hose", pad("")).does_not_apply
