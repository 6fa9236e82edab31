"""The rule `base-step`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, advice, only, reason
from design_text import pad, plan_of, review_by
from judged import ended, finding, judged
from slabs.thickness import CORNERS, SQUARE, dug
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254


def steps(base: str, places: str) -> str:
    return pad(f"{SQUARE % f', {places}'}heights: {{base: {{{base}}}}}", outline=CORNERS)


@pytest.mark.parametrize(("apart", "near"), [(1.95, True), (2.0, True), (2.01, False)])
def test_shots_are_near_up_to_two_feet(apart: float, near: bool) -> None:
    text = steps("E: 99.6, F: 99.2", f"E: [5, 5], F: [5, {5 + apart}]")

    assert (ended("base-step", text) is None) is near


def test_steps_are_told_the_worst_first_and_every_one() -> None:
    """Changes of 0.10 ft at E, 0.30 ft at G, and 0.05 ft at I."""
    places = "E: [2, 2], F: [2, 3], G: [8, 2], H: [8, 3], I: [5, 8], J: [5, 9]"
    found = judged("base-step", steps("E: 99.60, F: 99.50, G: 99.60, H: 99.30, I: 99.60, J: 99.55", places))

    assert [round(one.shown.si / FOOT, 4) for one in found] == [0.30, 0.10, 0.05]
    assert [isinstance(one, Finding) for one in found] == [True, False, False]
    assert [one.at.shape[0] for one in found] == [
        pytest.approx((x * FOOT, y * FOOT)) for x, y in ((8, 2), (2, 2), (5, 8))
    ]


def test_of_two_steps_alike_at_one_shot_the_first_is_told() -> None:
    text = steps("E: 99.60, F: 99.40, G: 99.40", "E: [5, 5], F: [5, 6], G: [5, 3.9]")
    first, second = plan_of(text).concrete.base_steps(2 * FOOT)

    assert first.change == second.change
    assert finding("base-step", text).at.shape == (first.high, first.low)


def test_a_base_that_follows_the_slab_has_no_step() -> None:
    # the finish falls 2 in in 2 ft, 1 in 12, and the base with it
    finish = "finish: {A: 101, B: 101, C: 100.1667, D: 100.1667}, "
    follows = dug("A: 100.6667, B: 100.6667, E: 100.25, F: 100.0833", finish, "E: [5, 5], F: [5, 7]")

    report = review_by("base-step", follows)

    assert report.comments == ()
    assert only(review_by("base-step", dug("E: 100.25, F: 100.0833", "", "E: [5, 5], F: [5, 7]"))).shown.si == (
        pytest.approx(0.1667 * FOOT, abs=1e-6)
    )  # without a finish the base alone counts


def test_the_step_is_cut_down_to_what_is_allowed() -> None:
    comment = only(review_by("base-step", dug("A: 99.60, B: 99.60, E: 99.60, F: 99.40")))

    # 0.20 ft = 2.4 in; 1 1/2 in of it may stay, 0.9 in goes: 0.075 ft under 99.60 is 99.525, written 99.52
    assert comment.shown.si == pytest.approx(2.4 * INCH)
    assert advice(comment) == "lower the base at E by about 15/16 in, to 99.52 ft"


def test_shots_over_two_feet_apart_tell_of_no_step() -> None:
    far = dug("E: 99.60, F: 99.20", more="E: [5, 5], F: [5, 7.01]")
    near = dug("E: 99.60, F: 99.20", more="E: [5, 5], F: [5, 7]")

    assert reason(review_by("base-step", far)) == "no two base shots lie within 2 ft of each other"
    assert len(review_by("base-step", near).comments) == 1


def test_a_base_that_is_not_shot_is_not_shown() -> None:
    bare = dug("E: 99").replace("heights: {base: {E: 99}}\n", "")

    asked = "heights.base: three or more heights of the prepared base on the slab, such as A: 99.50"
    assert added(review_by("base-step", bare)) == (asked,)


def test_each_high_shot_is_told_once_with_its_worst_neighbor() -> None:
    three = dug("E: 99.60, F: 99.40, G: 99.30", more="E: [5, 5], F: [5, 6], G: [5, 4]")

    comment = only(review_by("base-step", three))

    assert comment.at.shape[0] == pytest.approx((5 * FOOT, 5 * FOOT))
    assert comment.shown.si == pytest.approx(0.30 * FOOT)


@pytest.mark.parametrize(("deep", "met"), [("99.48", True), ("99.47", False)])
def test_a_lone_hole_is_told(deep: str, met: bool) -> None:
    # 1 1/2 in: common practice; the others lie at 99.60, 1 1/2 in is 0.125 ft
    level = "A: 99.60, B: 99.60, C: 99.60, D: 99.60"
    hole = dug(f"{level}, E: {deep}", "finish: {A: 100, B: 100, C: 100, D: 100}, ")
    report = review_by("base-step", hole)

    assert (report.comments == ()) is met
    if not met:
        assert (only(report).weight, only(report).limit.name) == ("note", "hole_at_most")
        assert plain(only(report).to_pass, "us", both=False) == "raise the base at E by about 1 1/2 in, to 99.60 ft"
    two = hole.replace("F: [5, 6.5]", "F: [2, 2]").replace(f"E: {deep}", f"E: {deep}, F: {deep}")
    assert not review_by("base-step", two).comments  # dug on purpose, as for pads
