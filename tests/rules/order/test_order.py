"""What the rules on order have in common."""

from __future__ import annotations

import pytest
from design_text import pad, plan_of, review_by
from slabs.order import design
from slabwright.formulas.units import YARD3

UPSIDE_DOWN = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"


def test_the_slab_of_these_tests_is_four_yards() -> None:
    # 9 x 9 ft at 4 in is a yard exactly: 81 ft2 x 4 in / 324
    assert plan_of(design()).concrete.quantities.net == pytest.approx(4 * YARD3)


# a base at the finish, and a hair on either side of it


@pytest.mark.parametrize(("base", "judged"), [(99.99, True), (100.0, False), (100.1, False)])
@pytest.mark.parametrize("rule", ["ordered-volume", "room-before-truck"])
def test_an_order_is_judged_where_any_concrete_fits_over_the_base(rule: str, base: float, judged: bool) -> None:
    """64 ft2 with 0.01 ft, nothing, and less than nothing between base and finish."""
    heights = ", ".join(f"{name}: 100" for name in "ABCD"), ", ".join(f"{name}: {base}" for name in "ABCD")
    text = UPSIDE_DOWN + f"heights: {{finish: {{{heights[0]}}}, base: {{{heights[1]}}}}}\n"
    report = review_by(rule, pad(text + "order: {volume: 1 yd3, truck: 5 yd3}", outline="[A, B, C, D]"))

    assert bool(report.met or report.comments) is judged
    assert bool(report.does_not_apply) is not judged


@pytest.mark.parametrize("shots", ["A", "AB"])
def test_fewer_shots_than_a_surface_needs_are_asked_for_as_other_rules_do(shots: str) -> None:
    """One question for the base: `base-depth` asks the same in the same words."""
    points = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20]}\n"
    heights = "heights: {finish: {A: 100, B: 100, C: 100, D: 100}, base: {"
    text = points + heights + ", ".join(f"{name}: 99.6" for name in shots) + "}}\n"
    text = pad(text + "site: {base: {shot_after_compaction: true}}\n", outline="[A, B, C, D]")
    ours, other = (review_by(rule, text).not_shown[0] for rule in ("base-shots", "base-depth"))

    assert (ours.add, ours.place.path) == (other.add, other.place.path)
