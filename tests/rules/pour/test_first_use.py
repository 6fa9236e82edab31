"""The rule `first-use`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import ended, judged


@pytest.mark.parametrize(
    ("use", "found"),
    [
        # contractor pages, practice: feet 24 to 48 h, cars 7 days, heavy 28 days
        ("feet: 24 h, cars: 7 days, heavy: 28 days", []),
        ("feet: 23 h", [("note", "feet_at_least")]),
        ("cars: 6 days", [("caution", "cars_at_least")]),
        ("heavy: 27 days", [("caution", "heavy_at_least")]),
        # 3,000 psi is in the middle of what states open roads at, quoted
        ("cars: 3 days, tested: 3000 psi", []),
        ("cars: 3 days, tested: 2999 psi", [("caution", "tested_at_least")]),
        ("cars: 7 days, tested: 2000 psi", []),
    ],
)
def test_first_use(use: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("first-use", pad(f"pour: {{first_use: {{{use}}}}}"))) == found
    assert review_by("first-use", pad("pour: {crew: 3}")).does_not_apply
    assert review_by("first-use", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("feet: 24 h", ["feet_at_least"]),
        ("cars: 7 days", ["cars_at_least"]),
        ("heavy: 28 days", ["heavy_at_least"]),
        ("feet: 24 h, heavy: 28 days", ["heavy_at_least", "feet_at_least"]),
    ],
)
def test_each_first_use_is_judged_by_itself(said: str, names: list[str]) -> None:
    text = pad(f"pour: {{first_use: {{{said}}}}}")

    assert [one.limit.name for one in judged("first-use", text)] == names
    assert weights(review_by("first-use", text)) == []
    assert ended("first-use", text) is None
