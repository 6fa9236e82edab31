"""The rule `column-box-out`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, reason
from design_text import pad, review_by
from judged import judged, margins
from slabs.isolation import slab
from slabs.joints import jointed_slab
from slabwright.review.report import Report
from slabwright.rulebook.conclusion import Finding, Margin

ACROSS = "from: [0, 4], to: [16, 4], kind: tooled groove, depth: 1 in"
HALF = "from: [0, 4], to: [8, 4], kind: tooled groove, depth: 1 in"
DOWN = "from: [8, 0], to: [8, 8], kind: tooled groove, depth: 1 in"
ASIDE = "from: [8.5, 0], to: [8.5, 8], kind: tooled groove, depth: 1 in"


def boxed(shape: str, *joints: str) -> list[Finding | Margin]:
    lines = ", ".join(f"{{kind: tooled groove, {one}}}" for one in joints)
    more = f"fixtures: [{{kind: column, name: column, at: [6, 5], box_out: {shape}}}]\n" + f"joints: [{lines}]\n" * any(
        joints
    )
    return judged("column-box-out", slab(more=more))


def boxed_column(shape: str, joints: str, at: str = "[8, 4]") -> Report:
    box = f", box_out: {shape}" if shape else ""
    column = f"fixtures: [{{kind: column, name: column, at: {at}, size: 6 in{box}}}]"
    return review_by("column-box-out", jointed_slab(joints, column))


@pytest.mark.parametrize(("off", "free"), [(1.9, 2), (2.1, 4)])
def test_column_box_out_a_joint_within_two_inches_of_the_middle_goes_through_a_box(off: float, free: int) -> None:
    # 2 in: common practice; it takes two of the four corners
    x = 6 + off / 12
    said, _ = boxed("turned square", f"from: [{x:.9f}, 0], to: [{x:.9f}, 10]")

    assert said.shown.si == free


@pytest.mark.parametrize(
    ("shape", "joints"),
    [
        ("round", []),
        ("round", ["from: [6, 0], to: [6, 10]"]),
        ("turned square", ["from: [6, 0], to: [6, 10]", "from: [0, 5], to: [12, 5]"]),
        # more joints than corners leave none free, and no fewer
        ("turned square", ["from: [6, 0], to: [6, 10]", "from: [0, 5], to: [12, 5]", "from: [1, 0], to: [11, 10]"]),
    ],
)
def test_column_box_out_no_corner_is_free(shape: str, joints: list[str]) -> None:
    said, *near = boxed(shape, *joints)

    assert isinstance(said, Margin)
    assert said.shown.si == 0
    assert len(near) == bool(joints)  # and the nearest joint


@pytest.mark.parametrize(("feet", "limit"), [(0.9, ""), (1.0, ""), (1.1, "joint_distance_at_most")])
def test_column_box_out_a_joint_comes_within_a_foot(feet: float, limit: str) -> None:
    # 1 ft: common practice
    said = boxed("round", f"from: [{6 + feet:.9f}, 0], to: [{6 + feet:.9f}, 10]")[1]

    assert (said.limit.name if isinstance(said, Finding) else "") == limit
    if isinstance(said, Finding):
        assert said.working[0].result.si == pytest.approx((feet - 1) * 0.3048)
    assert said.limit.weight == "note"


def test_column_box_out_corners_that_amendments_leave_free_are_counted() -> None:
    more = "fixtures: [{kind: column, at: [6, 5], box_out: square}]"
    (said,) = margins("column-box-out", slab(more=more), free_corners_at_most=4, many_free_corners_at_most=4)

    assert said.shown.si == 4


@pytest.mark.parametrize(
    ("shape", "joints", "free"),
    [
        ("round", "", 0),
        ("square", f"{ACROSS} | {DOWN}", 4),
        ("turned square", f"{ACROSS} | {DOWN}", 0),
        ("turned square", f"{HALF} | {DOWN}", 1),
        ("turned square", DOWN, 2),
        ("turned square", f"{ACROSS} | {ASIDE}", 2),
        ("turned square", "", 4),
    ],
)
def test_corners_of_a_box_that_no_joint_comes_to(shape: str, joints: str, free: int) -> None:
    # NRMCA CIP 6 (read in a copy): square turned 45 degrees with corners on the joints, or round
    report = boxed_column(shape, joints)

    assert [comment.shown.si for comment in report.comments] == ([free] if free else [])
    assert all(comment.weight == ("caution" if free > 2 else "note") for comment in report.comments)


@pytest.mark.parametrize(
    ("shape", "at", "told"),
    [
        # 9 in from two edges, as a corner column of a porch: no joint goes there, as of a post (common practice)
        ("square", "[0.75, 0.75]", ["box column out round, with a tube form"]),
        ("round", "[0.75, 0.75]", []),
        ("round", "[1, 1]", []),
        ("round", "[1.1, 1.1]", ["lay out the joints so that one goes through column"]),
        ("round", "[1, 2]", ["lay out the joints so that one goes through column"]),
    ],
)
def test_a_column_in_a_corner_of_the_slab_wants_no_joint(shape: str, at: str, told: list[str]) -> None:
    assert [advice(one) for one in boxed_column(shape, f"{ACROSS} | {DOWN}", at).comments] == told


def test_a_column_without_a_box_or_on_the_edge_is_left_alone() -> None:
    assert reason(boxed_column("", DOWN)) == "no box-out is drawn"
    assert reason(boxed_column("square", DOWN, "[8, 0]")) == "no box-out is drawn"


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ("from: [10, 0], to: [10, 6]", "cut it across its long side into 2 bays of 10'-0\", with joint J1 carried on"),
        ("from: [12, 0], to: [12, 6]", "cut it across its long side into 2 bays of 10'-0\""),  # on another line
    ],
)
def test_a_joint_that_stops_on_the_line_of_a_cut_is_carried_on_and_not_drawn_over(ends: str, told: str) -> None:
    joint = f"joints: [{{name: J1, kind: saw cut, {ends}, depth: 1 in}}]"
    text = pad(joint, outline="[[0, 0], [20, 0], [20, 10], [0, 10]]")
    (comment,) = review_by("panel-spacing", text).comments
    assert advice(comment) == told
    edits = comment.remedies[0].edits
    assert [edit.path for edit in edits] == (["joints[0].to"] if "carried" in told else ["joints"])


@pytest.mark.parametrize(
    ("box", "filler", "room"),
    [  # inches, a column of 8: (box - 8) / 2 - filler on either side, geometry
        ("14 in", "{material: foam, thickness: 1/2 in, depth: full}", 2.5),
        ("9 in", "{material: foam, thickness: 1/2 in, depth: full}", 0.0),
        ("8 1/2 in", "{material: foam, thickness: 1/2 in, depth: full}", -0.25),
        ("8 in", "none", 0.0),
        ("6 in", "{material: foam}", -1.0),
    ],
)
def test_column_box_out_a_column_and_its_filler_go_into_it(box: str, filler: str, room: float) -> None:
    column = (f"fixtures: [{{kind: column, name: column, at: [6, 5], size: 8 in, box_out: round, box_out_size: {box}, "
              f"isolation: {filler}}}]\n")  # fmt: skip
    one = judged("column-box-out", slab(more=column))[-1]

    assert one.limit.name == "room_at_least"
    assert one.shown.si == pytest.approx(room * 0.0254, abs=1e-9)
    assert isinstance(one, Finding) == (room < 0)
    if isinstance(one, Finding):
        least = "9 in" if "1/2" in filler else "8 in"
        assert advice(one) == f"make the box-out round column {least} wide or more"


def test_column_box_out_room_that_amendments_ask_is_added_to_its_size() -> None:
    """8 in of column and an inch of room on either side."""
    column = "fixtures: [{kind: column, name: column, at: [6, 5], size: 8 in, box_out: round, box_out_size: 9 in}]\n"
    one = judged("column-box-out", slab(more=column), room_at_least="1 in")[-1]
    assert isinstance(one, Finding)
    assert advice(one) == "make the box-out round column 10 in wide or more"


def test_column_box_out_without_its_size_or_that_of_the_column_nothing_is_said_of_room() -> None:
    column = "fixtures: [{kind: column, name: column, at: [6, 5], box_out: round, box_out_size: 6 in}]\n"
    assert "room_at_least" not in {one.limit.name for one in judged("column-box-out", slab(more=column)) if one.limit}
