"""The rule `walk-cross-slope`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import limits_broken, only, weights
from design_text import pad, plan_of, review_by
from judged import finding
from slabwright.text.words import plain
from sloped import design, plane

FOOT = 0.3048
RULE = "walk-cross-slope"


def walk(
    across: float, along: float = 0.02, site: str = "", use: str = "walk", length: float = 20, more: str = ""
) -> str:
    """A walk 5 ft wide that starts at 100."""
    low, end = 100 - 5 * across, 100 - length * along
    points = f"points: {{A: [0, 0], B: [{length}, 0], C: [{length}, 5], D: [0, 5]}}\n"
    heights = f"heights: {{finish: {{A: 100, B: {end:.5f}, C: {end - 5 * across:.5f}, D: {low:.5f}}}}}\n"
    return pad((f"site: {{{site}}}\n" if site else "") + points + heights + more, use, outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("across", "site", "expected"),
    [  # 1 in 48 is 2.0833 %: 2010 ADA 403.3 (quoted), UFGS 03300N par. 3.8.3 (read)
        (0.0208, "", []),
        (0.0210, "", []),
        (0.0270, "", [("note", "level_cross_at_most")]),
        (0.0335, "", [("caution", "cross_at_most")]),
        (0.0208, "right_of_way: true", []),
        (0.0210, "right_of_way: true", [("hold", "public_cross_at_most")]),
        (-0.0210, "right_of_way: true", [("hold", "public_cross_at_most")]),
    ],
)
def test_a_straight_walk(across: float, site: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by(RULE, walk(across, site=site))) == expected


@pytest.mark.parametrize(
    ("site", "told"),
    [  # 2.5 % of 4 ft are 1.2 in, and 1 in 48 is 1 in: never told more than is right
        ("", "let it fall 1 1/8 in over 4'-0\" across at most"),
        ("right_of_way: true", "let it fall 1 in over 4'-0\" across at most"),
    ],
)
def test_what_is_left_to_a_person_is_told_on_the_safe_side(site: str, told: str) -> None:
    decide = finding(RULE, walk(0.0335, site=site)).decide
    assert decide is not None
    assert plain(decide, "us", both=False) == told


def test_what_falls_along_it_does_not_count() -> None:
    assert review_by(RULE, walk(0.01, along=0.08)).met
    assert only(review_by(RULE, walk(0.03, along=0.08))).shown.si == pytest.approx(0.03)


def test_at_a_turn_both_ways_count() -> None:
    """An L of 4 ft on one plane that falls 4 % along the first leg: across the second leg that is 4 % too."""
    text = pad(
        "points: {A: [0, 0], B: [24, 0], C: [24, 24], D: [20, 24], E: [20, 4], F: [0, 4]}\n"
        "heights: {finish: {A: 100, F: 100, E: 99.2, D: 99.2, B: 99.04, C: 99.04}}",
        "walk",
        outline="[A, B, C, D, E, F]",
    )
    plan = plan_of(text)
    assert max(one.cross for one in plan.routes.along_sides) == pytest.approx(0.04)
    comment = only(review_by(RULE, plan))
    (x, _), (other, _) = comment.at.shape
    assert x == other == pytest.approx(22 * 0.3048, abs=0.1)  # midway in the second leg


def test_walks_that_others_judge_or_that_do_not_tell_their_way() -> None:
    claimed = walk(0.03, site="accessible_route: [[0, 2], [20, 2]]")
    assert review_by(RULE, claimed).does_not_apply[0].reason == "it is judged along the accessible way"
    assert review_by(RULE, walk(0.03, use="patio")).does_not_apply
    (short,) = review_by(RULE, walk(0.03, length=6)).not_shown
    assert short.add[0].startswith("site.accessible_route")
    (bare,) = review_by(RULE, walk(0.03).replace("A: 100, ", "")).not_shown
    assert bare.add[0].startswith("heights.finish")
    assert plan_of(walk(0.03).replace("A: 100, ", "")).routes.along_sides == ()


def test_an_opening_in_the_way_is_gone_round() -> None:
    """A tree pit in the middle: what lies before and behind it still counts."""
    pit = "openings: [{name: tree pit, corners: [[9, 1.5], [11, 1.5], [11, 3.5], [9, 3.5]], holds: tree}]"
    stretches = plan_of(walk(0.03, more=pit)).routes.along_sides
    assert len({tuple(round(x, 3) for x, _ in one.shape) for one in stretches}) >= 2
    assert only(review_by(RULE, walk(0.03, more=pit))).shown.si == pytest.approx(0.03)


@pytest.mark.parametrize("outline", ["A, E, B, C, D", "E, B, C, D, A", "D, A, E, B, C"])
def test_a_side_is_one_side_wherever_the_outline_begins(outline: str) -> None:
    """E halfway along it: each half would be too short for its width. Two sides of 12 ft are gone along."""
    text = walk(0.03, length=12).replace("outline: [A, B, C, D]", f"outline: [{outline}]")
    text = text.replace("D: [0, 5]}", "D: [0, 5], E: [6, 0]}").replace("finish: {A: 100,", "finish: {A: 100, E: 99.88,")
    gone = sum(math.dist(*one.shape) for one in plan_of(text).routes.along_sides)
    assert gone == pytest.approx(24 * 0.3048, abs=1e-4)
    assert only(review_by(RULE, text)).shown.si == pytest.approx(0.03)


def test_walk_cross_slope_tells_the_steepest_stretch() -> None:
    """A walk of 20 by 5 ft whose low side dips at its far corner: 1 % across, and 0.25 ft in 5 there."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 5), "D": (0, 5), "E": (10, 0), "F": (10, 5)}
    heights = {"A": 100, "E": 100, "B": 100, "D": 99.95, "F": 99.95, "C": 99.75}
    more = "  lines: [{kind: grade break, along: [E, F]}]"
    comment = only(review_by("walk-cross-slope", design(points, heights, "rest: bed", more=more, use="walk")))
    assert comment.shown.si == pytest.approx(0.05)
    assert min(x for x, _ in comment.at.shape) > 9 * FOOT
    assert math.isclose(comment.working[0].result.si, 0.05 * 4 * FOOT)


# walk-cross-slope and what is strict


@pytest.mark.parametrize(
    ("site", "across", "told"),
    [  # 2.5 and 3.125 % let pass a twentieth and half a step over 4 ft; in the right of way 1:48 is strict (ADA 403.3)
        ("", 0.0262, []), ("", 0.0263, ["level_cross_at_most"]),
        ("", 0.0324, ["level_cross_at_most"]), ("", 0.0326, ["cross_at_most"]),
        ("site: {right_of_way: true}", 0.0208, []), ("site: {right_of_way: true}", 0.0209, ["public_cross_at_most"]),
    ],
)  # fmt: skip
def test_walk_cross_slope_gives_a_twentieth_in_private(site: str, across: float, told: list[str]) -> None:
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 4), "D": (0, 4)}
    text = design(points, plane(points, 0, -across), "rest: bed", use="walk")
    assert limits_broken(review_by("walk-cross-slope", f"{text}\n{site}")) == told


@pytest.mark.parametrize(
    ("site", "use", "back", "expected"),
    [  # a walk of 5 by 20 ft that a drive 10 ft wide crosses, 1.8 % across; 6 % on the drive: 1:48, ADA 403.3
        ("site: {right_of_way: true}", "driveway", 99.09, []),
        ("site: {right_of_way: true}", "driveway", 99.30, [("hold", "public_cross_at_most")]),
        ("site: {right_of_way: true}", "patio", 99.30, []),  # no drive: a place beside the walks
        ("site: {right_of_way: false}", "driveway", 99.30, []),
    ],
)
def test_a_drive_over_a_public_walk_falls_across_as_the_walk_does(
    site: str, use: str, back: float, expected: list[tuple[str, str]]
) -> None:
    """The twist lies in the crossing, over 1 ft at either end: the walks beside it stay as they are."""
    points = {
        "A": (0, 0),
        "E": (5, 0),
        "F": (15, 0),
        "B": (20, 0),
        "C": (20, 5),
        "G": (15, 5),
        "H": (5, 5),
        "D": (0, 5),
    }
    points |= {"E2": (6, 0), "F2": (14, 0), "G2": (14, 5), "H2": (6, 5)}
    heights = {name: 99.0 if y == 0 else 99.09 for name, (_, y) in points.items()} | {"G2": back, "H2": back}
    parts = f"parts: [{{name: crossing, corners: [E, E2, F2, F, G, G2, H2, H], use: {use}}}]\n{site}\n"
    more = "  lines: [{kind: ridge, along: [E2, H2]}, {kind: ridge, along: [F2, G2]}]\n" + parts
    edges = "rest: lawn, takes_water: true"
    text = design(points, heights, edges, "A E E2 F2 F B C G G2 H2 H D", more, use="walk")
    assert weights(review_by("walk-cross-slope", text)) == expected


def test_a_drive_that_goes_on_past_a_public_walk_is_no_part_of_it() -> None:
    """Between two walks of 12 by 5 ft, 1.8 % across, but 25 ft long: it is judged as a drive."""
    points = {"A": (0, 0), "E": (12, 0), "S": (12, -20), "T": (22, -20), "F": (22, 0), "B": (34, 0), "C": (34, 5),
              "G": (22, 5), "H": (12, 5), "D": (0, 5)}  # fmt: skip
    heights = {name: 99.0 + 0.018 * y if y >= 0 else 97.8 for name, (_, y) in points.items()}
    more = "parts: [{name: drive, corners: [E, S, T, F, G, H], use: driveway}]\nsite: {right_of_way: true}\n"
    text = design(points, heights, "rest: lawn, takes_water: true", "A E S T F B C G H D", more, use="walk")
    stretches = plan_of(text).routes.along_sides
    assert stretches
    assert all(one.cross == pytest.approx(0.018) for one in stretches)
    assert not any(12 * 0.3048 < x < 22 * 0.3048 for one in stretches for x, _ in one.shape)
