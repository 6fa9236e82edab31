"""The rule `base-ordered`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from judged import asked_at, ended, finding
from slabs.dig import POUND, TON, amount
from slabwright.plan.given import DoesNotApply
from slabwright.text.words import plain


def test_base_ordered_against_the_published_weight() -> None:
    """400 ft2, 4 in at 140 lb/ft3: 9.33 tons (estimating practice; tests/data/checks.yaml, ba-tons)."""
    yard = "site: {base: {thickness: 4 in}}\norder: {base: WEIGHT}"

    def ordered(weight: str) -> list[tuple[str, str]]:
        return weights(review_by("base-ordered", pad(yard.replace("WEIGHT", weight), side="20")))

    assert ordered("9.34 ton") == []
    assert ordered("9.33 ton") == [("caution", "part_of_need_at_least")]
    comment = only(review_by("base-ordered", pad(yard.replace("WEIGHT", "5 ton"), side="20")))
    assert comment.to_pass.values["write"].si == pytest.approx(9.5 * 2000 * POUND)  # type: ignore[union-attr]
    assert comment.working[0].result.si == pytest.approx(400 / 3 * 140 * POUND)


def test_base_ordered_answers_in_tons() -> None:
    """20 by 20 ft, 4 in, 140 lb/ft3: 18,667 lb, 9.33 ton, so 9 1/2 ton by the half ton."""
    text = pad("order: {base: 5 ton}\nsite: {base: {material: crushed stone, thickness: 4 in}}", side="20")
    comment = only(review_by("base-ordered", text))
    assert plain(comment.says, "us", both=False) == "5 ton of stone is ordered, and the base takes 9.33 ton"
    assert advice(comment) == "order 9.5 ton"


def test_base_ordered_asks_for_the_base() -> None:
    assert "site.base.thickness" in review_by("base-ordered", pad("order: {base: 5 ton}")).not_shown[0].add[0]
    assert review_by("base-ordered", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("part", "write"),
    [  # 64 ft2, 4 in, at 140 lb/ft3: 2,986.7 lb, 1.493 tons; written in half tons
        ("1", 1.5),
        ("0.9", 1.5),
        ("1.1", 2.0),  # 1.643
        ("0.6", 1.0),  # 0.896
    ],
)
def test_base_ordered_is_written_in_half_tons(part: str, write: float) -> None:
    text = pad("site: {base: {thickness: 4 in}}\norder: {base: 0.1 ton}")
    one = finding("base-ordered", text, part_of_need_at_least=part)
    assert amount(one.to_pass.values["write"]) == pytest.approx(write * TON)
    assert one.shown.si == pytest.approx(0.1 / (64 / 3 * 140 / 2000))


def test_base_ordered_of_a_metric_plan_is_written_in_half_tonnes() -> None:
    """9 m2, 100 mm, at 140 lb/ft3 or 2,242.6 kg/m3: 2,018 kg."""
    text = pad("site: {base: {thickness: 100 mm}}\norder: {base: 1 t}", unit="m", side="3")
    assert amount(finding("base-ordered", text).to_pass.values["write"]) == pytest.approx(2500)


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("order: {base: 5 ton}", ""),
        ("order: {base: 5 ton}\nsite: {base: {material: gravel}}", "site.base"),
    ],
)
def test_base_ordered_asks_where_the_base_is_written(text: str, asked: str) -> None:
    assert asked_at("base-ordered", pad(text)) == (["site.base.thickness"], asked)


def test_base_ordered_says_nothing_where_none_is_ordered() -> None:
    for order in ("", "\norder: {volume: 3 yd3}"):
        assert isinstance(ended("base-ordered", pad(f"site: {{base: {{thickness: 4 in}}}}{order}")), DoesNotApply)
