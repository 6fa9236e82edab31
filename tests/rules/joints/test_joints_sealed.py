"""The rule `joints-sealed`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, slot_shown, weights
from design_text import pad, review_by
from slabs.joints import LONG, box, cut_at, joints
from slabwright.text.words import plain

FOOT = 0.3048
CUT = "{kind: saw cut, from: [%s, 0], to: [%s, 20], depth: 1 in%s}"


def cuts(*sealed: str) -> str:
    """A saw cut each four feet."""
    return f"joints: [{', '.join(CUT % (4 * k, 4 * k, one) for k, one in enumerate(sealed, 1))}]\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (pad(cuts(", sealed: true", ""), "vehicle pad", outline=LONG), 1),  # not said counts as open
        (pad(cuts(", sealed: false", ", sealed: false"), "driveway", outline=LONG), 2),
        (pad(cuts(", sealed: true", ", sealed: true"), "driveway", outline=LONG), 0),
        (pad("site: {deicing_salt: true}\n" + cuts(", sealed: true", ""), outline=LONG), 1),
        (
            pad(cuts(", isolation: {material: foam, sealed: true}", ", sealed: true"), "driveway", outline=LONG),
            0,
        ),
    ],
)  # fmt: skip
def test_open_joints_are_counted(text: str, expected: int) -> None:
    report = review_by("joints-sealed", text)
    shown = report.comments[0].shown if report.comments else report.met[0].shown
    assert shown is not None
    assert shown.si == expected
    assert weights(report) == ([("note", "open_joints_at_most")] if expected else [])


def test_many_open_joints_are_named_in_part() -> None:
    comment = only(review_by("joints-sealed", pad(cuts(", sealed: false", *[""] * 8), "driveway", outline=LONG)))
    named = "joints J1, J2, J3, J4, J5, J6, J7, J8 and 1 more"
    assert advice(comment) == f"seal {named}: 180'-0\" of it"


def test_joints_that_neither_wheels_nor_salt_come_to() -> None:
    assert review_by("joints-sealed", pad(cuts(", sealed: false"), outline=LONG)).does_not_apply
    assert review_by("joints-sealed", pad("", "driveway")).does_not_apply
    tooled = cuts("", "").replace("saw cut", "tooled groove")  # rounded, and left open on walks
    salted = review_by("joints-sealed", pad("site: {deicing_salt: true}\n" + tooled, "walk", outline=LONG))
    assert salted.does_not_apply[0].reason.startswith("no joint is drawn")
    (entry,) = review_by("joints-sealed", pad(cuts("", ""), "driveway", outline=LONG)).not_shown
    assert entry.add[0].startswith("joints, sealed")


@pytest.mark.parametrize(
    ("number", "named"), [(7, "J1, J2, J3, J4, J5, J6, J7"), (8, "J1, J2, J3, J4, J5, J6, J7, J8")]
)
def test_joints_sealed_eight_open_joints_are_all_named(number: int, named: str) -> None:
    written = [cut_at(2 * k, more=", sealed: false") for k in range(1, number + 1)]
    comment = only(review_by("joints-sealed", pad(joints(*written), "driveway", outline=box(20, 8))))

    assert (slot_shown(comment, "names"), slot_shown(comment, "run")) == (named, f"{8 * number}'-0\"")


def test_joints_sealed_under_wheels_grooves_are_sealed_too_and_patterns_never() -> None:
    grooves = joints(cut_at(4, kind="tooled groove", more=", sealed: false"), cut_at(8, kind="pattern"))

    assert review_by("joints-sealed", pad(grooves, "driveway", outline=box(12, 8))).comments[0].shown.si == 1
    salted = pad("site: {deicing_salt: true}\n" + grooves, outline=box(12, 8))
    assert review_by("joints-sealed", salted).does_not_apply


def test_joints_sealed_a_joint_in_two_parts_is_one_joint_and_pointed_at_in_its_first() -> None:
    bed = "openings: [{name: bed, corners: [[5, 3], [7, 3], [7, 5], [5, 5]]}]\n"
    comment = only(
        review_by("joints-sealed", pad(bed + joints(cut_at(6, more=", sealed: false")), "driveway", outline=box(12, 8)))
    )

    assert comment.shown.si == 1
    assert (slot_shown(comment, "names"), slot_shown(comment, "run")) == (
        "J1",
        "6'-0\"",
    )  # 3 ft on either side of the opening
    assert sorted(comment.at.shape) == [pytest.approx((6 * FOOT, 0)), pytest.approx((6 * FOOT, 3 * FOOT))]


def test_grooves_of_a_walk_beside_a_drive_are_no_wheels_matter() -> None:
    """A walk with a drive across it: wheels come on the grooves of the drive alone."""
    text = pad(
        "points: {A: [0, 0], E: [8, 0], F: [16, 0], B: [24, 0], C: [24, 5], G: [16, 5], H: [8, 5], D: [0, 5]}\n"
        "parts: [{name: crossing, corners: [E, F, G, H], use: driveway, thickness: 6 in}]\n"
        "joints: [{name: W, kind: tooled groove, from: [4, 0], to: [4, 5], depth: 1 in, sealed: false},"
        " {name: X, kind: tooled groove, from: [12, 0], to: [12, 5], depth: 1 1/2 in, sealed: false}]",
        "walk",
        outline="[A, E, F, B, C, G, H, D]",
    )
    comment = only(review_by("joints-sealed", text))
    assert comment.shown.si == 1
    assert plain(comment.says, "us") == "wheels break the edges of joints left open: X"


def test_salt_on_a_walk_beside_a_closed_drive_is_salt() -> None:
    """Both joints are cut: that of the drive is sealed, and into that of the walk salt water runs."""
    text = pad(
        "site: {deicing_salt: true}\n"
        "points: {A: [0, 0], E: [8, 0], F: [16, 0], B: [24, 0], C: [24, 5], G: [16, 5], H: [8, 5], D: [0, 5]}\n"
        "parts: [{name: crossing, corners: [E, F, G, H], use: driveway, thickness: 6 in}]\n"
        "joints: [{name: W, kind: saw cut, from: [4, 0], to: [4, 5], depth: 1 in, sealed: false},"
        " {name: X, kind: saw cut, from: [12, 0], to: [12, 5], depth: 1 1/2 in, sealed: true}]",
        "walk",
        outline="[A, E, F, B, C, G, H, D]",
    )
    assert (
        plain(only(review_by("joints-sealed", text)).says, "us") == "salt water eats the edges of joints left open: W"
    )
