"""The rule `joint-depth`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, value, weights
from design_text import pad, review_by
from judged import findings
from slabs.joints import box, cut_at, design, joints, rectangle
from slabwright.review.report import Report

INCH = 0.0254


def joint_depth(kind: str, depth: str, thickness: str = "6 in", outline: str = rectangle("20 ft", "10 ft")) -> Report:
    written = f", depth: {depth}" if depth else ""
    return review_by(
        "joint-depth", design(outline, thickness, f"{{name: J1, from: [10, 0], to: [10, 10], kind: {kind}{written}}}")
    )


@pytest.mark.parametrize(
    ("kind", "depth", "thickness", "asked_inches", "found"),
    [
        # a quarter, at least 1 in; early entry 1 in up to 9 in, a fifth above (early-entry paper; UFGS 03300N)
        ("saw cut", "1 1/2 in", "6 in", 1.5, []),
        ("saw cut", "1 3/8 in", "6 in", 1.5, [("hold", "part_of_thickness_at_least")]),
        ("tooled groove", "3/4 in", "5 in", 1.25, [("hold", "part_of_thickness_at_least")]),
        ("tooled groove", "3/4 in", "3 in", 0.75, []),  # the inch is printed for walks of 4 in alone
        ("early saw cut", "1 in", "6 in", 1.0, []),
        ("early saw cut", "1 in", "9 in", 1.0, []),
        ("early saw cut", "7/8 in", "6 in", 1.0, [("hold", "early_depth_at_least")]),
        ("early saw cut", "1 in", "10 in", 2.0, [("hold", "early_part_at_least")]),
        ("early saw cut", "2 in", "10 in", 2.0, []),
        ("construction joint", "", "6 in", 6.0, []),
        ("formed strip", "", "6 in", 6.0, []),
        ("formed strip", "3 1/2 in", "6 in", 6.0, [("caution", "formed_part_at_least")]),
        ("construction joint", "6 in", "6 in", 6.0, []),
        # over a third (Navy training text): leaves little to lock
        ("saw cut", "2 in", "6 in", 1.5, []),
        ("saw cut", "2 1/8 in", "6 in", 2.0, [("note", "part_of_thickness_at_most")]),
    ],
)
def test_joint_depth(kind: str, depth: str, thickness: str, asked_inches: float, found: list[tuple[str, str]]) -> None:
    report = joint_depth(kind, depth, thickness)

    assert weights(report) == found
    asked = report.comments[0].asked if found else report.met[0].asked
    assert asked is not None
    assert asked.si == pytest.approx(asked_inches * INCH)


def test_joint_depth_says_how_much_more() -> None:
    comment = only(joint_depth("saw cut", "3/4 in", "5 in"))

    assert advice(comment) == "make joint J1 1 1/4 in deep: 1/2 in more"
    assert comment.working[0].result.si == pytest.approx(0.15)  # 15 % of the thickness


def test_joint_depth_rounds_the_cut_up_to_what_a_saw_is_set_to() -> None:
    assert value(only(joint_depth("saw cut", "1 in", "5 1/4 in")), "write") == pytest.approx(1.375 * INCH)
    outline = "[[0, 0], [6, 0], [6, 3], [0, 3]]"
    joint = "{name: J1, from: [3, 0], to: [3, 3], kind: saw cut, depth: 30 mm}"
    metric = review_by("joint-depth", design(outline, "125 mm", joint, unit="m"))
    assert value(only(metric), "write") == pytest.approx(0.035)


def test_joint_depth_tells_how_much_less_where_a_cut_is_too_deep() -> None:
    comment = only(joint_depth("saw cut", "3 in", "6 in"))

    assert advice(comment) == "make joint J1 1 1/2 in deep: 1 1/2 in less"


@pytest.mark.parametrize(
    ("width", "found"),
    [
        ("1 ft", [("note", "part_of_crossed_edge_at_least")]),
        ("2 ft 6 in", [("note", "part_of_crossed_edge_at_least")]),  # a quarter of the 10 ft
        ("2 ft 7 in", [("caution", "part_of_thick_edge_at_least")]),
    ],
)
def test_joint_depth_in_a_thickened_edge_weighs_by_how_much_of_the_joint_lies_in_it(
    width: str, found: list[tuple[str, str]]
) -> None:
    thick = f"{{design: 4 in, thickened_edges: [{{run: [[0, 0], [10, 0]], depth: 8 in, width: {width}, taper: 1 ft}}]}}"
    joints = """
        {name: J1, from: [5, 0], to: [5, 10], kind: saw cut, depth: 1 in}
        {name: J2, from: [10.5, 0], to: [10.5, 10], kind: saw cut, depth: 1 in}
    """
    report = review_by("joint-depth", design(rectangle("20 ft", "10 ft"), thick, joints))

    assert weights(report) == found  # the edge ends square: J2 does not cross it
    assert only(report).asked.si == pytest.approx(2 * INCH)


def test_joint_depth_of_two_notes_the_one_that_asks_more_is_told() -> None:
    """3/4 in are a quarter of 3 in; a walk asks 1 in, and the edge of 6 in that it crosses a quarter, 1 1/2 in."""
    thick = "{design: 3 in, thickened_edges: [{run: [[0, 0], [10, 0]], depth: 6 in, width: 1 ft, taper: 0 ft}]}"
    joint = "{name: J1, from: [5, 0], to: [5, 10], kind: saw cut, depth: 3/4 in}"
    report = review_by("joint-depth", design(rectangle("20 ft", "10 ft"), thick, joint, use="walk"))

    assert weights(report) == [("note", "part_of_crossed_edge_at_least")]
    assert only(report).asked.si == pytest.approx(1.5 * INCH)


def test_joint_depth_follows_a_thickened_edge_only_where_the_joint_meets_it() -> None:
    thick = "{design: 4 in, thickened_edges: [{run: [[0, 0], [20, 0]], depth: 8 in, taper: 3 ft}]}"
    joints = """
        {name: J1, from: [10, 0], to: [10, 10], kind: saw cut, depth: 1 in}
        {name: J2, from: [0, 5], to: [20, 5], kind: saw cut, depth: 1 in}
    """
    comment = only(review_by("joint-depth", design(rectangle("20 ft", "10 ft"), thick, joints)))

    assert comment.at.name == "joint J1"
    assert comment.asked.si == pytest.approx(2 * INCH)  # a quarter of the 8 in strip

    followed = design(rectangle("20 ft", "10 ft"), thick, joints.replace("depth: 1 in", "depth: 2 in", 1))
    assert not review_by("joint-depth", followed).comments  # over a third of 4 in, but the strip asks for it


@pytest.mark.parametrize(
    ("edge", "found"),
    [("", 0), (", thickened_edges: [{run: [[0, 0], [16, 0]], depth: 6 in, taper: 2 ft}]", 1)],
)
def test_joint_depth_a_town_that_asks_more_at_thick_edges_asks_it_there_alone(edge: str, found: int) -> None:
    """A cut of 1 1/2 in: a quarter of 4 in and of 6 in, and less than a half of either."""
    text = pad(joints(cut_at(8, more=", depth: 1 1/2 in")), outline=box(16, 8), thick=f"{{design: 4 in{edge}}}")
    half = {"part_of_thick_edge_at_least": "1/2", "part_of_crossed_edge_at_least": "1/2"}
    told = [one.limit.name for one in findings("joint-depth", text, **half)]
    assert sum(name.endswith("edge_at_least") for name in told) == found


def test_joint_depth_in_metric_takes_25_mm_for_the_inch() -> None:
    outline = "[[0, 0], [6, 0], [6, 3], [0, 3]]"
    joint = "{name: J1, from: [3, 0], to: [3, 3], kind: saw cut, depth: 25 mm}"

    assert not review_by("joint-depth", design(outline, "100 mm", joint, unit="m")).comments
    shallower = design(outline, "100 mm", joint.replace("25", "24"), unit="m")
    assert weights(review_by("joint-depth", shallower)) == [("hold", "part_of_thickness_at_least")]
    thin = design(outline, "75 mm", joint.replace("25", "24"), unit="m", use="walk")
    assert weights(review_by("joint-depth", thin)) == [("note", "depth_in_walk_at_least")]


def test_joint_depth_asks_for_depths_and_leaves_a_missing_one_among_others() -> None:
    joints = """
        {name: J1, from: [10, 0], to: [10, 10], kind: saw cut}
        {name: J2, from: [0, 5], to: [20, 5], kind: saw cut}
    """
    silent = review_by("joint-depth", design(rectangle("20 ft", "10 ft"), joints=joints))
    assert silent.not_shown[0].add == ("joints, depth: how deep each is cut, such as 1 1/4 in",)
    assert silent.not_shown[0].place.path == "joints[0]"

    half = design(rectangle("20 ft", "10 ft"), joints=joints.replace("cut}", "cut, depth: 1 in}", 1))
    assert not review_by("joint-depth", half).comments


@pytest.mark.parametrize("rule", ["joint-depth", "joint-ends"])
@pytest.mark.parametrize("joints", ["", "{name: P, from: [10, 0], to: [10, 4], kind: pattern, depth: 1/4 in}"])
def test_rules_on_joints_do_not_apply_without_joints_or_with_pattern_lines_alone(rule: str, joints: str) -> None:
    report = review_by(rule, design(rectangle("20 ft", "10 ft"), joints=joints))

    assert report.does_not_apply[0].reason == "no joints are drawn"


def test_joint_depth_a_metric_plan_takes_25_mm_for_an_inch_in_walks() -> None:
    design = pad(joints(cut_at(2, 3, more=", depth: 20 mm")), unit="m", thick="80 mm", outline=box(4, 3), use="walk")
    (finding,) = findings("joint-depth", design)

    assert finding.limit.name == "depth_in_walk_at_least"
    assert finding.asked is not None
    assert finding.asked.si == pytest.approx(0.025, rel=1e-9)


def test_joint_depth_a_cut_deep_enough_for_the_edge_it_crosses_is_not_too_deep() -> None:
    # 8 3/4 in deep where the joint meets the edge: a quarter is 2 3/16 in, and a saw is set to 2 1/4 in
    strip = "thickness: {design: 4 in, thickened_edges: [{run: [[0, 0], [16, 0]], depth: 8.75 in, taper: 3 ft}]}"
    design = pad(joints(cut_at(8, more=", depth: 2 1/4 in")), outline=box(16, 8)).replace(
        "thickness: {design: 4 in}", strip
    )

    assert not review_by("joint-depth", design).comments
    assert only(review_by("joint-depth", design.replace("2 1/4 in", "3 in"))).weight == "note"


@pytest.mark.parametrize(("base", "expected"), [("98.9", ["part_of_crossed_edge_at_least"]), ("99.4", [])])
def test_joint_depth_a_cut_over_a_pad_that_the_base_is_dug_deeper_for_is_noted(base: str, expected: list[str]) -> None:
    """6 in of slab with 13.2 in of concrete in the middle, and with 7.2 in, which is an uneven base."""
    corners = [(0, 0), (16, 0), (16, 8), (0, 8)]
    finish = ", ".join(f"{name}: 100" for name in "ABCD")
    names = ", ".join(f"{name}: [{x}, {y}]" for name, (x, y) in zip("ABCD", corners, strict=True))
    low = ", ".join(f"{name}: 99.5" for name in "ABCDEF") + f", M: {base}"
    heights = (
        f"points: {{{names}, E: [4, 4], F: [12, 4], M: [8, 4]}}\nheights: {{finish: {{{finish}}}, base: {{{low}}}}}"
    )
    text = pad(f"{joints(cut_at(8, more=', depth: 1 1/2 in'))}\n{heights}", outline="[A, B, C, D]", thick="6 in")
    assert limits_broken(review_by("joint-depth", text)) == expected


@pytest.mark.parametrize(("edge", "noted"), [("8 in", True), ("8 1/4 in", False), ("20 in", False)])
def test_joint_depth_no_saw_is_set_for_a_footing_that_is_poured_with_the_slab(edge: str, noted: bool) -> None:
    """Over twice the 4 in a quarter of the edge is more than half the slab (common practice); on a short stoop too."""
    thick = f"{{design: 4 in, thickened_edges: [{{run: [[0, 0], [8, 0]], depth: {edge}, width: 8 in, taper: 0 ft}}]}}"
    for deep in ("8 ft", "2 ft"):
        joint = f"{{name: J1, from: [4, 0], to: [4, {deep[0]}], kind: tooled groove, depth: 1 in}}"
        report = review_by("joint-depth", design(rectangle("8 ft", deep), thick, joint))
        assert bool(report.comments) is noted


@pytest.mark.parametrize("y", [1.0, 1.36, 2.0, 2.72, 3.33])
@pytest.mark.parametrize("back", [False, True])
def test_joint_depth_a_groove_that_ends_at_a_thicker_part_crosses_nothing(y: float, back: bool) -> None:
    """A path of 100 mm beside a drive of 150 mm, parted by a strip on which the base is shot as deep as the drive's."""
    points = {"A": (0, 0), "P": (3.4, 0), "B": (4.6, 0), "C": (4.6, 4), "Q": (3.4, 4), "D": (0, 4)}
    names = ", ".join(f"{name}: [{x}, {at}]" for name, (x, at) in points.items())
    base = ", ".join(f"{name}: {9.9 if name in 'BC' else 9.85}" for name in points)
    strip = "{name: J1, kind: formed strip, from: P, to: Q}"
    start, end = (4.6, 3.4) if back else (3.4, 4.6)
    groove = f"{{name: J2, kind: tooled groove, from: [{start}, {y}], to: [{end}, {y}], depth: 30 mm}}"
    text = pad(
        f"points: {{{names}}}\nheights: {{finish: {{{', '.join(f'{name}: 10' for name in points)}}}, base: {{{base}}}}}"
        f"\nparts: [{{name: path, corners: [P, B, C, Q], use: walk, thickness: 100 mm}}]\njoints: [{strip}, {groove}]",
        use="driveway", unit="m", outline="[A, P, B, C, Q, D]", thick="150 mm",
    )  # fmt: skip
    assert not [comment for comment in review_by("joint-depth", text).comments if comment.at.name == "joint J2"]
