"""The rule `panel-aspect`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from changed import changed as replace
from comments import only, slot_shown, value, weights
from design_text import pad, plan_of, review_by, rule_named
from judged import ended, findings
from slabs.joints import box, cut, design, rectangle
from slabwright.review import run
from slabwright.rulebook import limits
from slabwright.rulebook.in_force import Limits
from slabwright.text.words import plain
from slabwright.units.quantity import ratio

FOOT = 0.3048


@pytest.mark.parametrize(
    ("length", "width", "found"),
    [
        ("6 ft", "4 ft", []),  # 1.5 (ACI 302.1R-80, 360R-06)
        ("6 ft 3 in", "4 ft", []),  # 1.56: joints go by doors and corners
        ("6 ft 4 in", "4 ft", [("note", "short_preferred_aspect_at_most")]),
        ("8 ft", "4 ft", [("note", "short_preferred_aspect_at_most")]),  # 2 (Highway Engineering Handbook)
        ("12 ft", "7 ft", [("caution", "preferred_aspect_at_most")]),  # over 24 thicknesses long
        ("8 ft 1 in", "4 ft", [("hold", "aspect_at_most")]),
        ("25 ft", "4 ft", [("hold", "aspect_at_most")]),  # reported porch, 6.25: cracked at the center
    ],
)
def test_panel_aspect(length: str, width: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(length, width)))) == found


@pytest.mark.parametrize(
    ("long", "found"),
    [  # 24 thicknesses of 125 mm are 3 m (ACI 302.1R): so short a strip of an apron stays whole more often than not
        ("3 m", [("caution", "short_aspect_at_most")]),
        ("3.01 m", [("hold", "aspect_at_most")]),
        ("2.8 m", [("note", "short_preferred_aspect_at_most")]),
    ],
)
def test_a_strip_no_longer_than_the_closest_spacing_is_no_hold(long: str, found: list[tuple[str, str]]) -> None:
    report = review_by("panel-aspect", pad("", unit="m", outline=f"[[0, 0], [{long}, 0], [{long}, 1.4 m], [0, 1.4 m]]",
                                           use="driveway", thick="125 mm"))  # fmt: skip
    assert weights(report) == found


@pytest.mark.parametrize(("long", "found"), [("6 ft", []), ("6 ft 1 in", [("caution", "narrow_aspect_at_most")])])
def test_the_small_pad_of_a_machine_is_poured_whole(long: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(long, "2 ft"), use="equipment pad"))) == found


def test_panel_aspect_works_bays_near_square() -> None:
    comment = only(review_by("panel-aspect", design(rectangle("25 ft", "4 ft"))))

    assert comment.shown.si == pytest.approx(6.25)
    assert value(comment, "n") == 5  # the fewest that are not over one and a half to one
    assert value(comment, "bay") == pytest.approx(5 * FOOT)
    assert len(comment.remedies[0].edits) == 4


def test_panel_aspect_measures_the_bays_of_a_bend_along_its_middle() -> None:
    """A quarter ring between radii of 4 ft and 8 ft: its middle runs pi / 2 times 6 ft, and nobody tapes its chord."""
    outline = "[[4, 0], [8, 0], {arc_to: [0, 8], through: [5.6568542, 5.6568542]}, [0, 4], "
    outline += "{arc_to: [4, 0], through: [2.8284271, 2.8284271]}]"
    comment = only(review_by("panel-aspect", pad("", outline=outline, use="walk")))
    bay = value(comment, "bay")
    assert bay is not None and bay * value(comment, "n") == pytest.approx(math.pi / 2 * 6 * FOOT, rel=1e-3)
    assert plain(comment.remedies[0].says, "us").endswith("along its middle")


def test_panel_aspect_a_panel_with_a_bowed_side_is_cut_in_two_at_least() -> None:
    """Its rectangle is 3.4 m by 2 m, its middle 2.8 m long: near square along it, and still never cut into one bay."""
    outline = "[[0, 0], [2.09, 0], [3.4, 1.39], {arc_to: [0, 1.9], through: [1.8, 1.93]}]"
    comment = only(review_by("panel-aspect", pad("", outline=outline, unit="m", thick="100 mm")))
    assert value(comment, "n") == 2 and len(comment.remedies[0].edits) == 1
    assert plain(comment.remedies[0].says, "us").startswith("cut it square to its bend into 2 bays")


def test_panel_aspect_cuts_both_ways_when_no_single_count_of_bays_is_square_enough() -> None:
    rule = rule_named("panel-aspect")
    published = limits.resolve((rule,))["panel-aspect"]
    tight = Limits({name: replace(limit, value=ratio(1.1)) for name, limit in published.items()})
    report = run.review(plan_of(design(rectangle("14 ft", "10 ft"))), (rule,), {"panel-aspect": tight})

    n, m, bay, width = (value(only(report), slot) for slot in ("n", "m", "bay", "width"))
    assert [n * bay, m * width] == pytest.approx([14 * FOOT, 10 * FOOT])
    assert max(bay, width) / min(bay, width) <= 1.1
    assert m > 1


@pytest.mark.parametrize(
    ("long", "wide", "found"),
    [
        ("4 ft 6 in", "3 ft", []),  # 1.5
        ("5 ft", "3 ft", [("note", "narrow_preferred_aspect_at_most")]),
        ("5 ft", "2 ft 6 in", [("note", "narrow_preferred_aspect_at_most")]),  # 2
        ("5 ft 6 in", "3 ft", [("caution", "preferred_aspect_at_most")]),  # 1.83, and over 5 ft long
        ("6 ft", "4 ft", []),
        ("8 ft", "4 ft", [("caution", "preferred_aspect_at_most")]),  # 2, and over 5 ft long
        ("6 ft 1 in", "3 ft", [("caution", "narrow_aspect_at_most")]),
        ("12 ft", "5 ft", [("hold", "aspect_at_most")]),
    ],
)
def test_panel_aspect_of_a_narrow_walk(long: str, wide: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(long, wide), use="walk"))) == found


@pytest.mark.parametrize(("long", "found"), [("4 ft", []), ("6 ft", [("caution", "narrow_aspect_at_most")])])
def test_panel_aspect_leaves_ribbons_of_two_feet(long: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(long, "2 ft"), use="driveway"))) == found


def test_a_narrow_walk_is_told_the_same_bays_by_its_aspect_and_by_its_joints() -> None:
    walk = design(rectangle("9 ft", "3 ft"), use="walk")
    aspect, joints = (only(review_by(rule, walk)) for rule in ("panel-aspect", "walk-joints"))

    assert plain(aspect.to_pass, "us") == plain(joints.to_pass, "us")


def test_panel_aspect_where_no_bays_in_one_or_two_or_three_rows_are_square_enough() -> None:
    # 12 by 10 under 1.1: one row 1.2; two of two 1.2; three of four 1.11; four of five, 2.4 ft by 2.5 ft, 1.04
    (finding,) = findings(
        "panel-aspect", pad("", outline=box(12, 10)), aspect_at_most=1.1, preferred_aspect_at_most=1.1
    )

    assert (slot_shown(finding, "n"), slot_shown(finding, "m")) == ("5", "4")


@pytest.mark.parametrize(
    ("long", "steel", "found"),
    [
        ("10 ft", True, []),
        ("10 ft 6 in", True, [("caution", "preferred_aspect_at_most")]),
        ("10 ft", False, [("caution", "preferred_aspect_at_most")]),
    ],
)
def test_panel_aspect_nobody_cuts_a_pad_of_ten_feet_that_one_mat_holds(
    long: str, steel: bool, found: list[tuple[str, str]]
) -> None:
    # 10 ft: common practice; one panel, 1.67 and more
    bars = "reinforcement: {bars: {size: '#3', spacing: 18 in}}" if steel else ""

    assert weights(review_by("panel-aspect", design(rectangle(long, "6 ft"), more=bars))) == found


def test_panel_aspect_a_stoop_is_poured_whole_and_a_cut_one_is_judged() -> None:
    stoop = rectangle("5 ft", "2 ft 6 in")

    assert ended("panel-aspect", design(stoop))
    assert not ended("panel-aspect", design(stoop, joints=cut("J1", (2, 0), (2, 2.5))))


@pytest.mark.parametrize(
    ("beside", "line", "bays", "held"),
    [
        ("street", "valley, along: [U, V]", 10, False),  # gutters are cut every 10 ft, common practice
        ("street", "valley, along: [U, V]", 12, True),
        ("lawn", "valley, along: [U, V]", 10, True),
        ("street", "grade break, along: [U, V]", 10, True),
        ("street", "valley, along: [U, C]", 10, True),  # it meets the strip in one corner, and leaves it
    ],
)
def test_a_gutter_is_cut_as_curbs_are(beside: str, line: str, bays: int, held: bool) -> None:
    long = 2 * bays
    text = pad(
        f"points: {{A: [0, 0], B: [{long}, 0], V: [{long}, 3], C: [{long}, 15], D: [0, 15], U: [0, 3]}}\n"
        "heights: {finish: {A: 0.1, B: 0, U: 0, V: -0.1, C: 0.4, D: 0.5}, "
        f"lines: [{{kind: {line}}}]}}\n"
        f"edges: [{{run: [A, B], beside: {beside}}}, {{rest: lawn}}]\n"
        f"joints: [{{from: U, to: V, kind: saw cut}}, {{from: [{bays}, 0], to: [{bays}, 15], kind: saw cut}}]",
        use="driveway",
        outline="[A, B, V, C, D, U]",
    )
    assert ("hold" in {one.weight for one in review_by("panel-aspect", text).comments}) is held


@pytest.mark.parametrize(
    ("post", "moved"),
    [
        ("", True),
        ("{kind: post, name: post, at: [5, 6], size: 6 in, box_out: turned square}", False),
        ("{kind: post, name: post, at: [5, 10], size: 6 in, box_out: turned square}", True),  # not on the joint
    ],
)
def test_a_joint_that_runs_through_posts_is_not_moved_off_them(post: str, moved: bool) -> None:
    """Bays of 20 by 6 and 20 by 14 ft: the cut between them could go to the middle, if the posts did not have it."""
    more = f"fixtures: [{post}]\njoints: [{{name: J1, kind: saw cut, from: [0, 6], to: [20, 6]}}]"
    comments = review_by(
        "panel-aspect", pad(more, use="carport", outline="[[0, 0], [20, 0], [20, 20], [0, 20]]")
    ).comments
    paths = {edit.path for one in comments for remedy in one.remedies for edit in remedy.edits}
    assert comments
    assert any(path.startswith("joints[0].") for path in paths) is moved


def test_a_joint_where_the_thickness_changes_is_not_moved_off_that_line() -> None:
    """An apron of 6 ft, 6 in thick, before a drive of 14 ft: the cut between them is where the slab gets thinner."""
    more = (
        "points: {A: [0, 0], B: [20, 0], P: [20, 6], C: [20, 20], D: [0, 20], Q: [0, 6]}\n"
        "joints: [{name: J1, kind: saw cut, from: [0, 6], to: [20, 6]}]\n"
    )
    apron = "parts: [{name: apron, corners: [A, B, P, Q], thickness: 6 in}]\n"
    for parts, moved in (("", True), (apron, False)):
        text = pad(more + parts, use="driveway", outline="[A, B, P, C, D, Q]")
        comments = review_by("panel-aspect", text).comments
        paths = {edit.path for one in comments for remedy in one.remedies for edit in remedy.edits}
        assert any(path.startswith("joints[0].") for path in paths) is moved
