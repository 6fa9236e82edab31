"""The rule `truck-path`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by, told_by

POUND = 0.45359237


def path(points: str, more: str = "") -> str:
    zone = "keep_off: [{name: tank, corners: [[20, 30], [26, 30], [26, 36], [20, 36]]}]"
    return pad(f"site: {{{f'truck_path: {points}, ' if points else ''}{zone}}}\n{more}")


@pytest.mark.parametrize(
    ("x", "found"),
    [
        # a tank from 20 to 26 ft, and a truck of 8 1/2 ft that drives along x; 10 ft from a tank: common practice
        (5.75, []),
        (5.76, [("caution", "from_tank_at_least")]),
        (15.75, [("caution", "from_tank_at_least")]),  # the wheels run along it
        (15.76, [("hold", "under_wheels_at_most")]),
        (22, [("hold", "under_wheels_at_most")]),
        (30.24, [("hold", "under_wheels_at_most")]),
        (40.25, []),
    ],
)
def test_truck_path_keeps_its_wheels_off(x: float, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("truck-path", path(f"[[{x}, 60], [{x}, 10]]"))) == found


def test_truck_path_passes_a_walk_as_close_as_it_likes() -> None:
    beside = path("[[15.7, 60], [15.7, 10]]").replace("name: tank", "name: old walk")

    assert review_by("truck-path", beside).met
    assert weights(review_by("truck-path", beside.replace("15.7,", "22,"))) == [("hold", "under_wheels_at_most")]


def test_truck_path_weighs_the_truck() -> None:
    """10 yd3 at 4,050 lb and a truck of 30,000 lb: 70,500 lb (tests/data/checks.yaml, or-truck-weight)."""
    usual = only(review_by("truck-path", path("[[22, 60], [22, 10]]")))
    small = only(review_by("truck-path", path("[[22, 60], [22, 10]]", "order: {truck: 5 yd3}")))

    assert usual.working[0].result.si == pytest.approx(70500 * POUND)
    assert small.working[0].result.si == pytest.approx(50250 * POUND)
    assert advice(usual) == ("lead the wheels round tank, 10 ft clear of it, or pump from where they are")


def test_truck_path_asks_for_the_path() -> None:
    assert "site.truck_path" in review_by("truck-path", path("")).not_shown[0].add[0]
    assert review_by("truck-path", pad("")).does_not_apply


def test_a_place_that_the_truck_passes_too_near_is_told_how_much_nearer() -> None:
    zone = "keep_off: [{name: tank, corners: [[20, 30], [26, 30], [26, 36], [20, 36]]}]"

    assert told_by("truck-path", pad(f"site: {{truck_path: [[14.25, 60], [14.25, 10]], {zone}}}")) == (
        "the wheels of the truck pass 1'-6\" from tank", "keep the wheels 10 ft from tank: 8'-6\" more"
    )  # fmt: skip
