"""Fixed heights two by two, with no finish height drawn; every number worked by hand beside its case."""

from __future__ import annotations

import pytest
from design_text import only_comment, plan_of, review_by, weights
from slabwright.text.words import plain

RULE = "fixed-heights-agree"


def yard(*fixed: str, use: str = "patio", far: str = "lawn, takes_water: true", more: str = "") -> str:
    """Ten feet by ten, a building at the bottom."""
    return f"""
format: 1
job: {{name: Test yard}}
units: {{plan: ft, height: ft}}
use: {use}
points: {{A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]}}
outline: [A, B, C, D]
edges: [{{run: [A, B], beside: building, name: house}}, {{run: [C, D], beside: {far}}}]
{f"fixed: [{', '.join(fixed)}]" if fixed else ""}
thickness: {{design: 4 in}}
{more}
"""


SILL = "{name: sill, kind: sill, along: [A, B], height: 100, slab: at least 1.2 in below}"  # at most 99.90


def walk(height: float, asks: str = "level") -> str:
    return f"{{name: walk, kind: slab, along: [C, D], height: {height}, slab: {asks}}}"


@pytest.mark.parametrize(
    ("height", "expected"),
    [
        (99.80, []),  # 0.10 ft in 10: 1 %, PCA guide to parking areas (quoted)
        (99.81, [("caution", "room_to_fall_at_least")]),
        (99.90, [("caution", "room_to_fall_at_least")]),
        (100.5, [("caution", "room_to_fall_at_least")]),
    ],
)
def test_room_to_fall_from_a_sill_to_a_walk(height: float, expected: list[tuple[str, str]]) -> None:
    report = review_by(RULE, yard(SILL, walk(height)))
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(max(99.90 - height, 0.0) / 10)


@pytest.mark.parametrize(
    ("use", "drop", "expected"),
    [  # drive 15 %, general advice; 1 in 12, 1991 ADA 4.8.2 (read). The sill asks 99.90 at least
        ("driveway", 1.50, []),
        ("driveway", 1.60, [("caution", "drive_at_most")]),
        ("driveway", 2.60, [("hold", "any_at_most")]),
        ("patio", 0.833, []),
        ("patio", 0.89, [("caution", "slab_at_most")]),
    ],
)
def test_what_two_heights_force_on_a_slab(use: str, drop: float, expected: list[tuple[str, str]]) -> None:
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: between 0.6 in and 1.2 in below}"
    assert weights(review_by(RULE, yard(sill, walk(round(99.90 - drop, 4)), use=use))) == expected


def test_a_range_helps_as_far_as_it_goes() -> None:
    """The walk lets the slab stand up to 6 in over it: of 1.3 ft only 0.8 are forced."""
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: exactly 1.2 in below}"
    assert review_by(RULE, yard(sill, walk(98.6, "between 0 in and 6 in above"))).met
    assert review_by(RULE, yard(sill, walk(98.6))).comments


def test_what_to_write_is_told_on_the_safe_side() -> None:
    """0.05 ft of room where 0.1 are asked: 0.6 in, 5/8 as written."""
    said = plain(only_comment(review_by(RULE, yard(SILL, walk(99.85)))).to_pass, "us", both=False)
    assert said == "bring walk down by 5/8 in, or let the water out before it"
    sill = "{name: sill, kind: sill, along: [A, B], height: 101, slab: level}"
    said = plain(only_comment(review_by(RULE, yard(sill, walk(100)))).to_pass, "us", both=False)
    assert said == "bring sill down by 2 in, or take 2 in of it in a step"  # 12 in over 10 ft; a twelfth is 10


@pytest.mark.parametrize(
    "text",
    [
        yard(SILL),
        yard(),
        yard(SILL, "{name: note, kind: other, along: [C, D], height: 99.9}"),  # asks nothing
        yard(SILL, walk(99.9).replace("[C, D]", "[[0, 13], [10, 13]]")),  # three feet from the slab
    ],
)
def test_what_does_not_bind(text: str) -> None:
    assert review_by(RULE, text).does_not_apply


def test_where_no_water_leaves_no_fall_is_asked_for() -> None:
    assert not review_by(RULE, yard(SILL, walk(99.9), far="wall")).comments


def test_heights_round_a_corner_do_not_bind_each_other() -> None:
    """An L: the way from the sill to the walk goes round the notch."""
    corner = yard(SILL, walk(99.9)).replace(
        "C: [10, 10], D: [0, 10]}", "C: [40, 40], D: [30, 40], E: [10, 30], F: [40, 30]}"
    )
    bent = corner.replace("outline: [A, B, C, D]", "outline: [A, B, E, F, C, D, [0, 40]]")
    assert review_by(RULE, bent.replace("along: [C, D]", "along: [F, C]")).does_not_apply


def test_a_gutter_and_siding_bind_by_what_they_are() -> None:
    """The slab is never over the siding nor under the gutter: 99.95 - 99.90 in 10 ft is half a percent."""
    siding = "{name: siding, kind: siding, along: [A, B], height: 99.95}"
    gutter = "{name: gutter, kind: gutter, along: [C, D], height: 99.90}"
    assert weights(review_by(RULE, yard(siding, gutter, far="street"))) == [("caution", "room_to_fall_at_least")]
    assert review_by(RULE, yard(siding, gutter.replace("99.90", "99.85"), far="street")).met


def test_a_floor_needs_no_fall_to_the_walk() -> None:
    assert not review_by(RULE, yard(SILL, walk(99.9), use="shop floor")).comments


def test_two_at_one_spot_that_differ() -> None:
    """A post base that wants the slab 3 in higher than the sill beside it lets it be."""
    base = "{name: post base, kind: other, at: A, height: 100.2, slab: level}"
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: level}"
    (pair,) = [one for one in plan_of(yard(base, sill)).fixed.pairs if one.fall > 0]
    assert pair.run == pytest.approx(0.01)
    assert weights(review_by(RULE, yard(base, sill))) == [("hold", "any_at_most")]


def test_what_meets_at_the_corner_of_a_building_needs_no_fall_there() -> None:
    """A walk along the side, level with the sill at the corner B: the next it can drain to is C, 0.2 ft lower in 10."""
    side = "{name: side walk, kind: slab, along: [B, C], height: [100, 99.80], slab: level}"
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: level}"
    walks = "[C, D], beside: lawn, takes_water: true}, {run: [B, C], beside: existing slab, takes_water: true"
    text = yard(sill, side).replace("[C, D], beside: lawn, takes_water: true", walks)
    assert review_by(RULE, text).met
    low = text.replace("[100, 99.80]", "[100, 99.95]")
    assert weights(review_by(RULE, low)) == [("caution", "room_to_fall_at_least")]  # half a percent
