"""The rule `saw-reach`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, reason
from design_text import pad, review_by
from judged import findings
from slabs.joints import jointed_slab, timed_cut
from slabwright.text.words import plain

SAID = timed_cut("6 h", name="J0", at=1.5) + ", last_foot: hand groove"  # of this one somebody thought


def walled(beside: str, joints: str) -> str:
    edges = f"edges: [{{run: [A, B], beside: {beside}, name: that side}}, {{rest: lawn}}]"
    return jointed_slab(f"{SAID} | {joints}", edges)


def test_saw_reach_where_no_end_is_told_it_is_asked() -> None:
    """Few who draw a slab write how the last foot is cut (common practice): a question, and no comment."""
    silent = jointed_slab(timed_cut("6 h"), "edges: [{rest: wall}]")
    report = review_by("saw-reach", silent)
    assert report.comments == () and report.not_shown[0].add[0].startswith("joints, last_foot: ")


def test_saw_reach_a_cut_into_a_corner_is_stopped_by_what_comes_first() -> None:
    edges = "edges: [{run: [A, B], beside: wall, name: garden wall}, {run: [B, C], beside: step, name: step}]\n"
    diagonal = "{kind: saw cut, from: A, to: C}, {kind: saw cut, from: D, to: B}"
    diagonal += ", {kind: saw cut, from: [4, 0], to: [4, 8], last_foot: hand groove}"
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    said = findings("saw-reach", pad(points + edges + f"joints: [{diagonal}]", outline="[A, B, C, D]"))

    assert [one.says.values["faces"] for one in said] == ["garden wall and step"]
    assert [one.shown.si for one in said] == [3]


@pytest.mark.parametrize("beside", ["building", "wall", "step", "curb"])
def test_the_saw_stops_short_of_what_stands_up(beside: str) -> None:
    comment = only(review_by("saw-reach", walled(beside, timed_cut("6 h"))))

    assert (comment.weight, comment.shown.si) == ("note", 1)
    assert plain(comment.says, "us") == "the saw stops short of that side, and the cracks do not"
    made = timed_cut("6 h") + ", last_foot: corner saw"
    assert review_by("saw-reach", walled(beside, made)).comments == ()


@pytest.mark.parametrize("beside", ["lawn", "existing slab", "street", "trench drain"])
def test_the_saw_runs_over_what_lies_flush(beside: str) -> None:
    assert (
        reason(review_by("saw-reach", walled(beside, timed_cut("6 h")))) == "no sawn joint ends at a wall, step or curb"
    )


def test_a_joint_between_two_walls_has_two_ends_left() -> None:
    both = jointed_slab(f"{SAID} | {timed_cut('6 h', 'early saw cut')}", "edges: [{rest: wall}]")

    assert only(review_by("saw-reach", both)).shown.si == 2


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (1, "joint J1"),
        (4, "joints J1, J2, J3, J4"),
        (5, "joints J1, J2, J3, J4 and 1 more"),
        (6, "joints J1, J2, J3, J4 and 2 more"),
    ],
)
def test_saw_reach_names_four_joints(number: int, told: str) -> None:
    joints = " | ".join(timed_cut("6 h", name=f"J{n}", at=2 * n) for n in range(1, number + 1))

    assert only(review_by("saw-reach", walled("wall", joints))).at.name == told


@pytest.mark.parametrize(
    ("number", "told"), [(2, "w1 and w2"), (3, "w1, w2 and w3"), (4, "w1, w2 and 2 more"), (5, "w1, w2 and 3 more")]
)
def test_saw_reach_names_three_faces(number: int, told: str) -> None:
    joints = " | ".join([SAID, *(timed_cut("6 h", name=f"J{n}", at=2 * n) for n in range(1, number + 1))])
    runs = ", ".join(
        f"{{run: [[{2 * n - 1}, 0], [{2 * n + 1}, 0]], beside: wall, name: w{n}}}" for n in range(1, number + 1)
    )

    assert only(review_by("saw-reach", jointed_slab(joints, f"edges: [{runs}]"))).says.values["faces"] == told
