"""The rule `inside-corner-joint`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest
from comments import only, weights
from design_text import pad, plan_of, review_by, rule_named
from judged import ended, in_force, judged
from slabs.joints import design, joints, rectangle
from slabwright.plan.given import DoesNotApply
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain

L_SHAPE = "[[0, 0], [216, 0], [216, 120], [96, 120], [96, 240], [0, 240]]"  # inches; inside corner at 96, 120
BARS = 'reinforcement: {corner_bars: [{at: [[96, 120]], size: "#5", length: 4 ft}]}'


@pytest.mark.parametrize(
    ("x", "more", "found"),
    [
        (96, "", []),
        (97, "", []),  # within an inch
        (97.1, "", [("hold", "distance_at_most")]),
        (97.1, BARS, [("caution", "distance_with_bars_at_most")]),
        (97, BARS, []),
    ],
)
def test_inside_corner_joint_within_an_inch(x: float, more: str, found: list[tuple[str, str]]) -> None:
    joint = f"{{name: J1, from: [{x}, 120], to: [{x}, 0], kind: saw cut, depth: 1 in}}"

    assert weights(review_by("inside-corner-joint", design(L_SHAPE, joints=joint, more=more, unit="in"))) == found


def test_inside_corner_joint_is_met_by_a_joint_that_runs_past_the_corner() -> None:
    joint = "{name: J1, from: [0, 120], to: [96, 120], kind: saw cut, depth: 1 in}"

    assert not review_by("inside-corner-joint", design(L_SHAPE, joints=joint, unit="in")).comments


@pytest.mark.parametrize(
    ("more", "found"), [("", ("hold", "joints_at_least")), (BARS, ("caution", "joints_with_bars_at_least"))]
)
def test_inside_corner_joint_where_no_joint_is_drawn(more: str, found: tuple[str, str]) -> None:
    report = review_by("inside-corner-joint", design(L_SHAPE, more=more, unit="in"))

    assert weights(report) == [found]
    assert "no joint is drawn" in plain(report.comments[0].says, "us")
    assert plain(report.comments[0].to_pass, "us").startswith(
        f"start two joints at {report.comments[0].at.name}, and run"
    )


def test_inside_corner_joint_moves_a_near_joint_and_starts_a_new_one_where_all_are_far() -> None:
    near = "{name: J1, from: [106, 120], to: [106, 0], kind: saw cut, depth: 1 in}"
    far = near.replace("106", "160")

    moved = only(review_by("inside-corner-joint", design(L_SHAPE, joints=near, unit="in")))
    started = only(review_by("inside-corner-joint", design(L_SHAPE, joints=far, unit="in")))

    told = [plain(remedy.says, "us", both=False) for remedy in moved.remedies]
    assert any(says.startswith("move joint J1 by 10 in, onto ") for says in told)
    assert plain(started.to_pass, "us").startswith("start a joint at ")


def test_inside_corner_joint_asks_it_of_every_corner_of_an_opening() -> None:
    bed = "openings: [{name: bed, corners: [[9, 4], [11, 4], [11, 6], [9, 6]]}]"
    joints = """
        {name: J1, from: [9, 0], to: [9, 10], kind: saw cut, depth: 1 in}
        {name: J2, from: [11, 0], to: [11, 10], kind: saw cut, depth: 1 in}
    """
    bare = review_by("inside-corner-joint", design(rectangle("20 ft", "10 ft"), more=bed))
    jointed = review_by("inside-corner-joint", design(rectangle("20 ft", "10 ft"), joints=joints, more=bed))

    assert [comment.weight for comment in bare.comments] == ["hold"] * 4
    assert not jointed.comments


@pytest.mark.parametrize(
    ("outline", "more"),
    [
        (rectangle("20 ft", "10 ft"), ""),
        (
            rectangle("20 ft", "10 ft"),
            "openings: [{corners: [{arc_to: [11, 5], through: [10, 6]}, {arc_to: [9, 5], through: [10, 4]}]}]",
        ),
        ("[[0, 0], [20, 0], [20, 10], [10, 8.5], [0, 10]]", ""),  # a bend of 17 degrees
    ],
)
def test_inside_corner_joint_does_not_apply_to_round_openings_and_mild_bends(outline: str, more: str) -> None:
    report = review_by("inside-corner-joint", design(outline, more=more))

    assert report.does_not_apply[0].reason == "the outline and the openings have no inside corners"


@pytest.mark.parametrize(("degrees", "counts"), [(199.5, False), (200.5, True)])
def test_inside_corner_joint_a_bend_of_twenty_degrees_is_a_corner(degrees: float, counts: bool) -> None:
    # 180 and 20 degrees: common practice
    half = math.radians(degrees - 180) / 2
    rise = 10 * math.tan(half)  # the top edge sinks to its middle from both ends
    design = pad("", outline=f"[[0, 0], [20, 0], [20, 10], [10, {10 - rise:.9f}], [0, 10]]")

    assert (ended("inside-corner-joint", design) is None) is counts


def test_inside_corner_joint_a_bend_of_just_twenty_degrees_is_none() -> None:
    (corner,) = plan_of(pad("", outline="[[0, 0], [9, 0], [9, 4], [4, 4], [4, 9], [0, 9]]")).panels.inside_corners
    bend = SimpleNamespace(
        panels=SimpleNamespace(inside_corners=(corner._replace(degrees=200.0),)),
        design=SimpleNamespace(openings=()),
        shape=SimpleNamespace(opening_rings=()),
    )

    with pytest.raises(DoesNotApply):
        list(rule_named("inside-corner-joint").judge(bend, in_force("inside-corner-joint")))


@pytest.mark.parametrize(("away", "moved"), [(24, True), (24.1, False)])
def test_inside_corner_joint_a_joint_within_two_feet_of_an_inside_corner_is_moved(away: float, moved: bool) -> None:
    # 2 ft: common practice
    outline = "[[0, 0], [216, 0], [216, 120], [96, 120], [96, 240], [0, 240]]"
    joint = f"{{from: [{96 + away}, 0], to: [{96 + away}, 120], kind: saw cut}}"

    comment = only(review_by("inside-corner-joint", pad(joints(joint), unit="in", outline=outline)))

    told = [plain(remedy.says, "us", both=False) for remedy in comment.remedies]
    assert any(says.startswith("move joint J1 by 24 in, onto ") for says in told) is moved


@pytest.mark.parametrize(("wide", "served"), [(0.4, True), (0.5, True), (0.6, False)])
def test_a_joint_at_the_end_of_a_channel_serves_both_its_corners(wide: float, served: bool) -> None:
    half = wide / 2
    channel = f"[[0.5, {8 - half}], [15.5, {8 - half}], [15.5, {8 + half}], [0.5, {8 + half}]]"
    ends = "{kind: saw cut, from: [0, 8], to: [0.5, 8]}", "{kind: saw cut, from: [15.5, 8], to: [16, 8]}"
    slab = pad(f"openings: [{{name: channel, corners: {channel}}}]\n" + joints(*ends), side="16")

    assert bool(review_by("inside-corner-joint", slab).comments) != served


def test_a_rounded_opening_has_no_corners() -> None:
    ring = [[8 + 1.2 * math.cos(k * math.pi / 4), 8 + 1.2 * math.sin(k * math.pi / 4)] for k in range(8)]
    slab = pad(f"openings: [{{name: tree, corners: {ring}}}]", side="16")

    assert review_by("inside-corner-joint", slab).does_not_apply


@pytest.mark.parametrize(
    ("degrees", "side", "counts"),
    [
        (226.0, 0.3048, False),  # an edge rounded by sides of a foot turns so much at each of them
        (226.5, 0.3048, True),
        (220.0, 0.31, True),  # a longer side rounds nothing
    ],
)
def test_inside_corner_joint_an_edge_rounded_by_sides_of_a_foot(degrees: float, side: float, counts: bool) -> None:
    # 46 degrees and a foot: common practice
    slab = plan_of(pad("", outline="[[0, 0], [9, 0], [9, 4], [4, 4], [4, 9], [0, 9]]"))
    (corner,) = slab.panels.inside_corners
    rounded = corner._replace(degrees=degrees, ways=((side, 0.0), (0.0, 1.0)), joint_distance=0.0)
    plan = SimpleNamespace(
        panels=SimpleNamespace(inside_corners=(rounded,)),
        design=SimpleNamespace(openings=()), shape=SimpleNamespace(opening_rings=()),
        joints=slab.joints, steel=slab.steel,
    )  # fmt: skip
    judge = rule_named("inside-corner-joint").judge(plan, in_force("inside-corner-joint"))
    if counts:
        assert len(list(judge)) == 1
    else:
        with pytest.raises(DoesNotApply):
            list(judge)


@pytest.mark.parametrize(
    ("radius", "corners", "x", "away"),
    [
        (1, "{arc_to: [3, 9], through: [2, 10]}, {arc_to: [1, 9], through: [2, 8]}", 3, 0),
        (1, "{arc_to: [3, 9], through: [2, 10]}, {arc_to: [1, 9], through: [2, 8]}", 3 + 1 / 12, 1),
        (1, "{arc_to: [3, 9], through: [2, 10]}, {arc_to: [1, 9], through: [2, 8]}", 3.1, 1.2),
        (1, "[1, 9], {arc_to: [3, 9], through: [2, 10]}, {arc_to: [1, 9], through: [2, 8]}", 3.1, 1.2),
        (1, "{arc_to: [3, 9], through: [2, 10]}, {arc_to: [1, 9], through: [2, 8]}", 2.5, 0),  # runs into it
        (0.5, "{arc_to: [2.5, 9], through: [2, 9.5]}, {arc_to: [1.5, 9], through: [2, 8.5]}", 4, 18),
        (0.49, "{arc_to: [2.49, 9], through: [2, 9.49]}, {arc_to: [1.51, 9], through: [2, 8.51]}", 4, None),
    ],
)
def test_inside_corner_joint_at_the_rim_of_a_round_opening(
    radius: float, corners: str, x: float, away: float | None
) -> None:
    """From the rim, in inches; a hole of less than a foot across weakens nothing (common practice)."""
    slab = pad(f"openings: [{{name: tree, corners: [{corners}]}}]\n" + joints(cut(x)), outline=BED)
    said = [] if ended("inside-corner-joint", slab) else judged("inside-corner-joint", slab)

    assert [one.at.name for one in said] == ([] if away is None else ["the rim of tree"])
    assert [one.shown.si / 0.0254 for one in said] == ([] if away is None else [pytest.approx(away, abs=0.03)])
    assert [one.limit.name for one in said if isinstance(one, Finding)] == (
        ["round_distance_at_most"] if away is not None and away > 1 else []
    )


BED = "[[0, 0], [8, 0], [8, 16], [0, 16]]"


def test_inside_corner_joint_a_corner_of_the_slab_is_none_of_an_opening_near_by() -> None:
    """A round opening whose rim comes to within a foot of an inside corner, and to within half a foot of a joint."""
    notched = "[[0, 0], [8, 0], [8, 16], [4, 16], [4, 9], [0, 9]]"
    ring = "{arc_to: [7, 9], through: [6, 10]}, {arc_to: [5, 9], through: [6, 8]}"
    joint = "{kind: saw cut, from: [4, 0], to: [4, 9]}, {kind: saw cut, from: [4, 7.5], to: [8, 7.5]}"
    said = judged(
        "inside-corner-joint", pad(f"openings: [{{name: tree, corners: [{ring}]}}]\njoints: [{joint}]", outline=notched)
    )
    assert [(one.at.name, round(one.shown.si / 0.0254, 1)) for one in said] == [
        ("inside corner (4 ft, 9 ft)", 0),
        ("the rim of tree", 6),
    ]


def cut(x: float) -> str:
    return f"{{kind: saw cut, from: [{x}, 0], to: [{x}, 16]}}"


def test_inside_corner_joint_an_opening_with_one_rounded_side_has_corners_and_no_rim() -> None:
    hood = "[[1, 9], [2, 8], {arc_to: [3, 9], through: [2, 10]}]"
    said = judged(
        "inside-corner-joint", pad(f"openings: [{{name: tree, corners: {hood}}}]\n" + joints(cut(6)), outline=BED)
    )

    assert said and not any("rim" in one.at.name for one in said)


def test_inside_corner_joint_a_half_round_opening_is_told_by_its_two_corners_alone() -> None:
    half = "[[1, 9], [3, 9], {arc_to: [1, 9], through: [2, 10]}]"
    said = judged(
        "inside-corner-joint", pad(f"openings: [{{name: bay, corners: {half}}}]\n" + joints(cut(6)), outline=BED)
    )
    assert len(said) == 2 and not any("rim" in one.at.name for one in said)


@pytest.mark.parametrize(
    ("use", "mat", "bars", "found"),
    [
        ("equipment pad", True, True, 0),  # as utilities draw them (common practice)
        ("equipment pad", False, True, 4),
        ("equipment pad", True, False, 4),
        ("patio", True, True, 4),
    ],
)
def test_a_mat_and_corner_bars_hold_the_window_of_a_pad(use: str, mat: bool, bars: bool, found: int) -> None:
    corners = "[[2, 2], [6, 2], [6, 6], [2, 6]]"
    steel = [
        *(["bars: {size: '#4', spacing: 9 in}"] if mat else []),
        *([f"corner_bars: [{{at: {corners}, size: '#4', length: 4 ft}}]"] if bars else []),
    ]
    text = f"openings: [{{name: window, corners: {corners}}}]\nreinforcement: {{{', '.join(steel) or 'x'}}}"
    assert len(review_by("inside-corner-joint", pad(text, use)).comments) == found


@pytest.mark.parametrize(
    ("more", "wide", "weight"),
    [  # NRMCA CIP 6 (read in a copy) draws a box-out and requires nothing; up to 3 ft: common practice
        ("holds: pit, isolation: {material: foam}", 3, "caution"),
        ("holds: pit, isolation: {material: foam}", 3.1, "hold"),
        ("holds: pit, isolation: none", 3, "hold"),
        ("holds: pit", 3, "hold"),
        ("holds: planter, isolation: {material: foam}", 3, "hold"),
    ],
)
def test_a_sump_in_filler_is_a_box_out(more: str, wide: float, weight: str) -> None:
    corners = f"[[4, 4], [{4 + wide}, 4], [{4 + wide}, {4 + wide}], [4, {4 + wide}]]"
    text = pad(f"openings: [{{name: sump, corners: {corners}, {more}}}]\n" + joints(cut(10)), side="16")
    comments = review_by("inside-corner-joint", text).comments

    assert [one.weight for one in comments] == [weight] * 4
    told = "make the hole for sump round, or set it where joints come to its corners"
    assert [plain(one.to_pass, "us") == told for one in comments] == [weight == "caution"] * 4
