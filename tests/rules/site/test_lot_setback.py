"""The rule `lot-setback`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import places, weights
from design_text import pad, plan_of, review_by, told_by
from slabwright.text.words import plain

FOOT = 0.3048


def lot(kind: str, x: float, use: str = "patio") -> list[tuple[str, str]]:
    """The slab reaches from 0 to 8 ft; the line runs along ``x``."""
    site = f"site: {{lot: {{lines: [{{kind: {kind}, along: [[{x}, -20], [{x}, 30]]}}]}}}}"
    return weights(review_by("lot-setback", pad(site, use=use)))


def lined(*lines: tuple[str, float], use: str = "patio", more: str = "") -> str:
    """The slab reaches from 0 to 8 ft; lines run along x."""
    each = ", ".join(f"{{kind: {kind}, along: [[{x:.8f}, -20], [{x:.8f}, 30]]{more}}}" for kind, x in lines)
    return pad(f"site: {{lot: {{lines: [{each}]}}}}", use=use)


@pytest.mark.parametrize(
    ("kind", "x", "found"),
    [
        # Rosemount MN patio page, read: 5 ft side and rear, 15 ft street side
        ("side", 13, []),
        ("side", 12.9, [("caution", "side_at_least")]),
        ("rear", 12.9, [("caution", "side_at_least")]),
        ("street side", 23, []),
        ("street side", 22.9, [("caution", "street_side_at_least")]),
        ("front", 22.9, [("caution", "street_side_at_least")]),
        ("side", 8, [("caution", "side_at_least")]),  # on the line and not over it
        ("side", 7, [("hold", "over_at_most")]),
        ("side", 1, [("hold", "over_at_most")]),
    ],
)
def test_lot_setback(kind: str, x: float, found: list[tuple[str, str]]) -> None:
    assert lot(kind, x) == found


@pytest.mark.parametrize("use", ["driveway", "walk", "vehicle pad"])
def test_lot_setback_lets_drives_reach_the_street(use: str) -> None:
    assert lot("front", 4, use) == []
    assert lot("side", 8.5, use) == []
    assert lot("side", 7, use) == [("hold", "over_at_most")]


def test_how_far_a_slab_reaches_over_a_line_counts_the_lesser_side() -> None:
    plan = plan_of(pad("site: {lot: {lines: [{kind: side, along: [[7, -20], [7, 4], [9, 30]]}]}}"))
    assert plan.design.site.lot is not None
    (line,) = plan.design.site.lot.lines

    assert plan.site.over(line.along) == pytest.approx(1 * FOOT)  # 8 ft less 7 ft
    assert plan.site.away(line.along) == 0
    assert plan.site.under(line.along) > 4 * FOOT
    assert review_by("lot-setback", pad("")).does_not_apply


def test_lines_without_a_name_are_counted() -> None:
    report = review_by("lot-setback", lined(("side", 20), ("rear", 10), ("side", 11)))

    assert places(report) == ["rear line 2", "side line 3"]
    assert plain(report.comments[0].to_pass, "us", both=False) == "keep the slab 5 ft from rear line 2: 3'-0\" more"


@pytest.mark.parametrize(
    ("over", "limits_broken"),
    [  # a hundredth of an inch over the line is on it: how near it comes is told as well
        (0.00995, ["over_at_most", "side_at_least"]),
        (0.01005, ["over_at_most"]),
    ],
)
def test_a_hair_over_the_line_is_near_it_too(over: float, limits_broken: list[str]) -> None:
    report = review_by("lot-setback", lined(("side", 8 - over / 12)))

    assert [comment.limit.name for comment in report.comments] == limits_broken


@pytest.mark.parametrize(
    ("kind", "use", "to_pass"),
    [  # 1 ft over; Rosemount MN patio page, read: 5 ft from side and rear, 15 ft from street side and front
        ("side", "patio", "draw the slab back 6'-0\", to 5 ft behind side line 1"),
        ("rear", "patio", "draw the slab back 6'-0\", to 5 ft behind rear line 1"),
        ("front", "patio", "draw the slab back 16'-0\", to 15 ft behind front line 1"),
        ("street side", "patio", "draw the slab back 16'-0\", to 15 ft behind street side line 1"),
        ("side", "driveway", "draw the slab back 1'-0\", behind side line 1"),
    ],
)
def test_over_a_line_it_is_drawn_back_to_where_it_may_be(kind: str, use: str, to_pass: str) -> None:
    says, told_to = told_by("lot-setback", lined((kind, 7), use=use))

    assert says == f"the slab reaches 1'-0\" over {kind} line 1"
    assert told_to == to_pass


def test_a_line_that_is_met_hides_none_behind_it() -> None:
    report = review_by("lot-setback", lined(("side", 7), ("front", 4), ("side", 6), use="driveway"))

    assert places(report) == ["side line 1", "side line 3"]
