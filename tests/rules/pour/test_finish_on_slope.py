"""The rule `finish-on-slope`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from judged import judged
from slabs.pour import FOOT


def sloped(fall: float, pour: str, use: str = "driveway") -> str:
    heights = f"heights: {{finish: {{A: 100, B: 100, C: {100 - 8 * fall}, D: {100 - 8 * fall}}}}}\n"
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    return pad(points + heights + f"pour: {{{pour}}}", use=use, outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("fall", "pour", "found"),
    [
        # finish guide; common practice
        (0.06, "finish: broom", []),
        (0.07, "finish: broom", [("caution", "plain_broom_at_most")]),
        (0.07, "finish: float", [("caution", "plain_broom_at_most")]),
        (0.07, "finish: coarse broom", []),
        (0.07, "finish: grooved", []),
        (0.04, "finish: broom, broom_direction: along", []),
        (0.05, "finish: broom, broom_direction: along", [("note", "along_at_most")]),
        (0.05, "finish: broom, broom_direction: across", []),
        (0.07, "finish: coarse broom, broom_direction: along", [("note", "along_at_most")]),
        (0.08, "finish: broom, broom_direction: across", []),
        (0.09, "finish: broom, broom_direction: across", [("caution", "broom_across_at_most")]),
        (0.07, "finish: float, broom_direction: across", [("caution", "plain_broom_at_most")]),
        (0.02, "finish: trowel", [("caution", "smooth_at_most")]),
    ],
)
def test_finish_on_slope(fall: float, pour: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("finish-on-slope", sloped(fall, pour))) == found


def test_finish_on_slope_needs_heights_only_where_slope_matters() -> None:
    smooth = only(review_by("finish-on-slope", pad("pour: {finish: trowel}")))

    assert smooth.shown.si == pytest.approx(64 * FOOT**2)
    assert "heights.finish" in review_by("finish-on-slope", pad("pour: {finish: broom}")).not_shown[0].add[0]
    assert "pour.finish" in review_by("finish-on-slope", pad("pour: {crew: 3}")).not_shown[0].add[0]
    assert review_by("finish-on-slope", pad("pour: {finish: trowel}", use="shop floor")).does_not_apply
    assert review_by("finish-on-slope", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("use", "outdoors", "finish", "found"),
    [
        ("barn floor", False, "trowel", [("caution", "smooth_barn_at_most")]),  # common practice
        ("barn floor", False, "broom", []),
        ("barn floor", True, "trowel", [("caution", "smooth_at_most")]),
        ("shed base", False, "trowel", []),
        ("garage floor", False, "trowel", []),
    ],
)
def test_a_barn_floor_is_not_troweled_though_it_lies_under_a_roof(
    use: str, outdoors: bool, finish: str, found: list[tuple[str, str]]
) -> None:
    text = f"site: {{outdoors: {str(outdoors).lower()}}}\npour: {{finish: {finish}}}"
    assert weights(review_by("finish-on-slope", pad(text, use=use))) == found


def test_only_the_part_that_is_a_barn_floor_is_judged_under_a_roof() -> None:
    part = "parts: [{name: wash bay, corners: [[0, 0], [4, 0], [4, 8], [0, 8]], use: barn floor}]\n"
    comment = only(review_by("finish-on-slope", pad(part + "pour: {finish: trowel}", use="shop floor")))
    assert comment.shown.si == pytest.approx(32 * FOOT**2)


def test_a_troweled_slab_is_not_judged_by_its_slope() -> None:
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    heights = "heights: {finish: {A: 100, B: 100, C: 99, D: 99}}\n"
    steep = pad(points + heights + "pour: {finish: %s}", outline="[A, B, C, D]")

    assert [one.limit.name for one in judged("finish-on-slope", steep % "trowel")] == ["smooth_at_most"]
    smooth, slope = judged("finish-on-slope", steep % "broom")
    assert (smooth.shown.si, slope.shown.si) == (0.0, pytest.approx(1 / 8))


@pytest.mark.parametrize(("beside", "found"), [("curb", []), ("lawn", [("caution", "broom_across_at_most")])])
def test_the_flares_of_an_approach_are_broomed_like_the_rest(beside: str, found: list[tuple[str, str]]) -> None:
    """A wing that climbs 5 in in 5 ft beside a throat of 5 %: 1 in 10 is usual at curbs, common practice."""
    text = pad(
        "points: {A: [0, 0], E: [5, 0], F: [17, 0], C: [17, 6], D: [5, 6]}\n"
        "heights: {finish: {A: 0.45, E: 0.0, F: 0.0, C: 0.3, D: 0.3}, lines: [{kind: grade break, along: [E, D]}]}\n"
        f"edges: [{{run: [A, E], beside: {beside}}}, {{rest: lawn}}]\n"
        "pour: {finish: broom, broom_direction: across}",
        use="driveway",
        outline="[A, E, F, C, D]",
    )
    assert weights(review_by("finish-on-slope", text)) == found


def test_only_what_lies_in_the_open_is_told_as_troweled_there() -> None:
    apron = "parts: [{name: apron, corners: [[0, 0], [8, 0], [8, 2], [0, 2]], use: driveway}]\n"
    comment = only(review_by("finish-on-slope", pad(apron + "pour: {finish: trowel}", use="shop floor")))
    assert comment.shown.si == pytest.approx(16 * FOOT**2)
