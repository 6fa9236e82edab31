"""The rule `truck-reach`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import pad, plan_of, review_by
from slabs.order import FOOT
from slabwright.text.words import plain

INCH = 0.0254


def test_a_far_corner_is_named_with_its_distance_to_the_inch() -> None:
    comment = only(review_by("truck-reach", pad("order: {method: chute, truck_spots: [[0, 23]]}")))

    # (8, 0) is root(8^2 + 23^2) = 24.352 ft from the truck, to the inch 6 ft 4 in more than 18 ft
    assert plain(comment.says, "us", both=False) == "(8.00 ft, 0.00 ft) is 24'-4\" from the nearest truck"
    assert comment.working[0].result.si / (12 * INCH) == pytest.approx(6 + 4 / 12, abs=1e-4)


@pytest.mark.parametrize(
    ("spots", "found"),
    [
        # chutes 10 to 14 ft, about 18 ft from the bumper: common practice; the far corners of 8 ft by 8 ft
        ("[[0, 8], [8, 8]]", []),  # 8 ft and less
        ("[[4, 17]]", [("note", "easy_reach_at_most")]),  # root(4^2 + 17^2) = 17.5
        ("[[4, 18]]", [("note", "easy_reach_at_most")]),  # 18.4: no truck stops within half a foot
        ("[[4, 18.2]]", [("caution", "reach_at_most")]),  # 18.6
        ("[[4, 21]]", [("caution", "reach_at_most")]),
        ("[[0, 18]]", [("caution", "reach_at_most")]),
    ],
)
def test_truck_reach_by_distance(spots: str, found: list[tuple[str, str]]) -> None:
    report = review_by("truck-reach", pad(f"order: {{method: chute, truck_spots: {spots}}}"))
    if spots == "[[4, 17]]":
        assert only(report).shown.si == pytest.approx(math.hypot(4, 17) * FOOT, abs=FOOT / 24)  # to the inch

    assert weights(report) == found
    if spots == "[[4, 18]]":  # what is easy is 14 ft
        assert only(report).working[0].result.si == pytest.approx((math.hypot(4, 18) - 14) * FOOT, abs=FOOT / 24)


def test_truck_reach_takes_the_nearest_of_several_spots_exactly() -> None:
    """A square of 8 ft with trucks at two opposite corners: the two others are farthest, 8 ft from either."""
    distance, at = plan_of(pad("order: {truck_spots: [[0, 0], [8, 8]]}")).site.farthest(
        plan_of(pad("order: {truck_spots: [[0, 0], [8, 8]]}")).design.order.truck_spots  # type: ignore[union-attr]
    )

    assert distance == pytest.approx(8 * FOOT)
    assert (round(at[0] / FOOT, 6), round(at[1] / FOOT, 6)) in {(0.0, 8.0), (8.0, 0.0)}


@pytest.mark.parametrize("seed", range(5))
def test_the_farthest_place_is_no_nearer_than_any_of_a_grid(seed: int) -> None:
    """Independent reference: a grid of 80 by 80 places on an L-shaped slab, each to the nearest of three spots."""
    import numpy as np
    import shapely
    from slabwright.geometry.shape.distances import farthest_from

    slab = shapely.Polygon([(0, 0), (6, 0), (6, 3), (3, 3), (3, 6), (0, 6)])
    spots = [tuple(spot) for spot in np.random.default_rng(seed).uniform(-2, 8, (3, 2)).tolist()]
    distance, at = farthest_from(slab, spots)  # type: ignore[arg-type]
    x, y = (grid.ravel() for grid in np.meshgrid(np.linspace(0, 6, 80), np.linspace(0, 6, 80)))
    inside = shapely.intersects_xy(slab, x, y)
    off = np.min([np.hypot(x[inside] - a, y[inside] - b) for a, b in spots], axis=0)

    assert distance >= off.max() - 1e-9
    assert distance <= off.max() + 0.12  # the grid's own cells are 0.076 m wide
    assert min(np.hypot(at[0] - a, at[1] - b) for a, b in spots) == pytest.approx(distance)


def test_truck_reach_asks_only_where_a_chute_is_used() -> None:
    assert "order.truck_spots" in review_by("truck-reach", pad("order: {method: chute}")).not_shown[0].add[0]
    assert review_by("truck-reach", pad("order: {method: buggy}")).does_not_apply[0].reason == "it comes by buggy"
    assert review_by("truck-reach", pad("order: {volume: 1 yd3}")).does_not_apply
    assert review_by("truck-reach", pad("")).does_not_apply


@pytest.mark.parametrize(("unit", "said", "within"), [("ft", "18'-5\"", "14'-0\""), ("m", "6.7 m", "4.3 m")])
def test_what_a_chute_reaches_is_told_to_the_inch_or_decimeter_and_no_farther(
    unit: str, said: str, within: str
) -> None:
    """A metric job has 4.3 m for 14 ft."""
    metric = unit == "m"
    spots = "[[1, 6]]" if metric else "[[4, 18]]"
    text = pad(f"order: {{method: chute, truck_spots: {spots}}}", unit=unit, side="4" if metric else "8",
               thick="100 mm" if metric else "4 in")  # fmt: skip
    comment = only(review_by("truck-reach", text))
    system = plan_of(text).system
    assert f" is {said} from" in plain(comment.says, system, both=False)
    assert f"within {within} of" in plain(comment.to_pass, system, both=False)
