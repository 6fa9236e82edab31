"""The rule `lids-at-grade`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabs.site import FLAT
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("rim", "found"),
    [
        # ADA 4.5.2 (1991), read: 1/4 in upright, 1/2 in beveled; the finish in the middle is at 99.92 ft
        (99.92, []),
        (99.92 + 0.25 / 12, []),
        (99.92 - 0.25 / 12, []),
        (99.92 + 0.3 / 12, [("caution", "upright_lip_at_most")]),
        (99.92 - 0.5 / 12, [("caution", "upright_lip_at_most")]),
        (99.92 - 0.6 / 12, [("hold", "lip_at_most")]),
    ],
)
@pytest.mark.parametrize("kind", ["cleanout", "meter", "valve"])
def test_lids_at_grade(kind: str, rim: float, found: list[tuple[str, str]]) -> None:
    lid = f"fixtures: [{{kind: {kind}, at: [4, 4], rim: {rim:.8f}}}]"
    report = review_by("lids-at-grade", pad(FLAT + lid, outline="[A, B, C, D]"))

    assert weights(report) == found
    if found:
        side = "over" if rim > 99.92 else "under"
        assert side in plain(report.comments[0].says, "us")


def test_lids_at_grade_asks_for_heights_and_minds_only_what_concrete_surrounds() -> None:
    lid = "fixtures: [{kind: cleanout, name: trap, at: [4, 4]}]"
    beside = review_by("lids-at-grade", pad(FLAT + lid.replace("[4, 4]", "[12, 4]"), outline="[A, B, C, D]"))
    post = review_by("lids-at-grade", pad("fixtures: [{kind: post, at: [4, 4]}]"))
    two = lid.replace("]}]", "]}, {kind: valve, at: [2, 2], rim: 99.96}]")

    assert "trap" in review_by("lids-at-grade", pad(lid)).not_shown[0].add[0]
    assert "heights.finish" in review_by("lids-at-grade", pad(lid.replace("]}]", "], rim: 99}]"))).not_shown[0].add[0]
    assert beside.does_not_apply
    assert post.does_not_apply
    assert len(review_by("lids-at-grade", pad(FLAT + two, outline="[A, B, C, D]")).met) == 1  # what can be judged is


@pytest.mark.parametrize(("count", "named"), [(5, 5), (6, 6), (7, 6)])
def test_lids_without_a_height_are_named_up_to_six(count: int, named: int) -> None:
    lids = ", ".join(f"{{kind: valve, name: v{k}, at: [{k + 0.5}, 4]}}" for k in range(count))
    (silent,) = review_by("lids-at-grade", pad(FLAT + f"fixtures: [{lids}]", outline="[A, B, C, D]")).not_shown

    names = ", ".join(f"v{k}" for k in range(named))
    assert silent.add == (f"fixtures, rim: the height of the lid of {names}, such as 99.90",)
    assert silent.place.path == "fixtures[0]"
