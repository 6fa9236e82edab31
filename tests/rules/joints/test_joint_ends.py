"""The rule `joint-ends`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, only, slot_shown, value, weights
from design_text import pad, review_by
from judged import findings, margins
from slabs.joints import box, cut, cut_at, design, falls, joints, rectangle
from slabwright.review.report import Report
from slabwright.text.words import plain

FOOT = 0.3048


def joint_ends(joints: str, more: str = "") -> Report:
    return review_by("joint-ends", design(rectangle("20 ft", "20 ft"), joints=joints, more=more))


def square(*written: str, more: str = "") -> str:
    return pad(more + joints(*written), outline=box(20, 20))


def run(name: str, *points: tuple[float, float]) -> str:
    return f"{{name: {name}, kind: saw cut, along: {[list(point) for point in points]}}}"


def posted(fixture: str, end: float) -> str:
    """A 16 ft slab with a fixture in the middle, and a joint from one edge that stops ``end`` ft before it."""
    return pad(f"fixtures: [{{{fixture}, at: [8, 8]}}]\n" + joints(cut_at(8, 8 - end)), side="16")


def test_joint_ends_holds_a_loose_end_and_carries_it_to_the_edge() -> None:
    comment = only(joint_ends(cut("J1", (0, 8), (15, 8))))

    assert (comment.weight, comment.limit.name) == ("hold", "short_of_edge_at_most")
    assert comment.shown.si == pytest.approx(5 * FOOT)
    assert value(comment, "ahead") == pytest.approx(5 * FOOT)


def test_joint_ends_measures_a_loose_end_along_the_joint_and_up_to_an_opening() -> None:
    slanting = only(joint_ends(cut("J1", (0, 0), (12, 16))))
    assert slanting.shown.si == pytest.approx(5 * FOOT)  # 3 ft on and 4 ft up

    bed = "openings: [{name: bed, corners: [[8, 8], [12, 8], [12, 12], [8, 12]]}]"
    before_bed = only(joint_ends(cut("J1", (0, 10), (5, 10)), bed))
    assert before_bed.shown.si == pytest.approx(3 * FOOT)


@pytest.mark.parametrize(
    ("corners", "expected"),
    [
        (16, 0),  # it turns 22 1/2 degrees at each, as a saw goes round a bed
        (11, 0),
        (10, 2),  # 36 degrees are a corner (common practice), as those of a square
        (4, 2),
    ],
)
@pytest.mark.parametrize("through", [[], [cut("J2", (0, 10), (20, 10))]])
def test_joint_ends_a_ring_goes_on_in_itself(corners: int, expected: int, through: list[str]) -> None:
    around = [2 * math.pi * k / corners for k in range(corners)]
    points = [(10 + 5 * math.cos(turn), 10 + 5 * math.sin(turn)) for turn in around]
    report = joint_ends("\n".join([run("ring", *points, points[0]), *through]))
    assert [one.shown.si for one in report.comments if one.at.name == "joint ring"] == [expected] * (expected > 0)


def test_joint_ends_a_ring_that_stays_open_ends_twice() -> None:
    around = [2 * math.pi * k / 16 for k in range(16)]
    points = [(10 + 5 * math.cos(turn), 10 + 5 * math.sin(turn)) for turn in around]
    assert len(joint_ends(run("ring", *points)).comments) == 2


@pytest.mark.parametrize(
    "joint",
    [
        cut("J1", (3, 10), (15, 10)),
        run("J1", (3, 5), (10, 5), (10, 12), (15, 12)),  # the one way at its first end, the other at its last: no ring
    ],
)
def test_joint_ends_finds_both_loose_ends(joint: str) -> None:
    assert [round(c.shown.si / FOOT, 6) for c in joint_ends(joint).comments] == [3, 5]


@pytest.mark.parametrize(
    "joints",
    [
        [cut("J1", (0, 10), (20, 10)), cut("J2", (10, 0), (10, 20))],  # crossing
        [
            cut("J1", (0, 10), (20, 10)),
            cut("J2", (10, 0), (10, 10)),
            cut("J3", (10, 10), (10, 20)),
        ],  # ends opposite
        [cut("J1", (0, 10), (9, 10)), cut("J2", (9, 10), (20, 10))],  # end to end, straight on
        [cut("J1", (0, 10), (20, 10)), cut("J2", (0, 8), (10, 10))],  # 11 degrees: its crack goes on along the side
        [cut("J1", (20, 10), (0, 10)), cut("J2", (0, 12), (12, 10))],
        [cut("J1", (0, 10), (19.9, 10))],  # 1 1/4 in short of the edge
        [cut("J1", (0, 10), (25, 10))],  # drawn past the edge
        [cut("J1", (0, 10), (20, 10)), cut("P", (5, 5), (15, 5), "pattern")],  # a pattern line may stop anywhere
    ],
)
def test_joint_ends_is_met(joints: list[str]) -> None:
    report = joint_ends("\n".join(joints))

    assert not report.comments
    assert report.met[0].limit is not None


def test_joint_ends_cautions_a_t_and_carries_it_across() -> None:
    comment = only(joint_ends("\n".join([cut("J1", (12, 0), (12, 20)), cut("J2", (0, 10), (12, 10))])))

    assert (comment.weight, comment.limit.name, comment.at.name) == ("caution", "ends_on_joints_at_most", "joint J2")
    assert comment.shown.si == 1
    assert advice(comment) == "carry joint J2 on for 8'-0\", to the edge"


def test_joint_ends_counts_both_ends_of_a_joint_between_two_others() -> None:
    joints = [cut("J1", (5, 0), (5, 20)), cut("J2", (12, 0), (12, 20)), cut("J3", (5, 10), (12, 10))]
    comment = only(joint_ends("\n".join(joints)))

    assert (comment.at.name, comment.shown.si) == ("joint J3", 2)
    assert plain(comment.says, "us") == "joint J3 stops at joint J1 and J2, and its crack will not"
    assert advice(comment) == ("carry joint J3 on for 5'-0\", joint J3 on for 8'-0\", to the edge")


def test_joint_ends_tells_of_a_corner_once_and_carries_both_joints_on() -> None:
    comment = only(joint_ends("\n".join([cut("J1", (0, 8), (12, 8)), cut("J2", (12, 8), (12, 20))])))

    assert (comment.weight, comment.at.name) == ("caution", "joint J1")
    assert advice(comment) == ("carry joint J1 on for 8'-0\", joint J2 on for 8'-0\", to the edge")


@pytest.mark.parametrize(("turn", "said"), [(34.5, []), (35.5, ["joint J1"])])
def test_joint_ends_two_joints_end_to_end_that_turn_by_more_are_a_corner(turn: float, said: list[str]) -> None:
    # 35 degrees, so that cuts round a ring of 12 bays pass: common practice; upright too, and typed the other way
    rise = 10 * math.tan(math.radians(turn))
    flat = run("J1", (0, 5), (10, 5)), run("J2", (10, 5), (20, 5 + rise))
    back = run("J1", (0, 5), (10, 5)), run("J2", (20, 5 + rise), (10, 5))
    upright = run("J1", (5, 0), (5, 10)), run("J2", (5, 10), (5 + rise, 20))

    assert [falls("joint-ends", square(*pair)) for pair in (flat, back, upright)] == [said] * 3


def test_joint_ends_a_corner_is_carried_on_whichever_way_its_joints_are_typed() -> None:
    (there,) = findings("joint-ends", square(run("J1", (0, 8), (12, 8)), run("J2", (12, 8), (12, 20))))
    (back,) = findings("joint-ends", square(run("J1", (12, 8), (0, 8)), run("J2", (12, 20), (12, 8))))

    for said in (there, back):
        slots = [slot_shown(said, name) for name in ("name0", "way0", "name1", "way1")]
        assert slots == ["J1", "8'-0\"", "J2", "8'-0\""]


def test_joint_ends_a_bent_joint_is_carried_on_the_way_its_last_piece_goes() -> None:
    # from (4, 12) three on and four up: (20, 20) is not met; the top is, at 8 up and 6 along, 10 ft on
    bent = run("J1", (0, 4), (0.5, 4), (1, 8), (4, 12))
    first = run("J1", (4, 12), (1, 8), (0.5, 4), (0, 4))

    for one in (bent, first):
        (finding,) = findings("joint-ends", square(one))
        assert finding.shown.si == pytest.approx(10 * FOOT)


def test_joint_ends_that_close_a_ring_are_two() -> None:
    (finding,) = findings("joint-ends", square(run("J1", (2, 2), (6, 2), (6, 6), (2, 6), (2, 2))))

    assert finding.shown.si == 2
    assert [slot_shown(finding, way) for way in ("way0", "way1")] == ["2'-0\""] * 2  # down and to the left


def test_joint_ends_ends_that_reach_something_are_no_distance_away() -> None:
    shown = [margin.shown.si for margin in margins("joint-ends", square(cut_at(10, 20)))]

    assert shown == [0, 0, 0]  # both ends, then none on a joint


def test_joint_ends_a_joint_that_lies_outside_is_left_alone() -> None:
    assert review_by("joint-ends", square(cut_at(30, 20))).does_not_apply


# joints that end at what stands in the slab


@pytest.mark.parametrize(
    ("fixture", "end", "loose"),
    [
        ("kind: post, size: 6 in", 0.25, False),  # at the face of a post 6 in wide
        ("kind: post, size: 6 in", 1.0, True),  # a foot short of it
        ("kind: post, size: 6 in, box_out: round, box_out_size: 14 in", 7 / 12, False),
        ("kind: post, size: 6 in, box_out: round, box_out_size: 14 in", 11 / 12, True),
        ("kind: post, size: 6 in, box_out: turned square, box_out_size: 14 in", 9.9 / 12, False),  # at its corner
        ("kind: column, size: 8 in, box_out: round", 1.0, False),  # a box-out of no size
        ("kind: drain, size: 12 in", 0.5, False),
        ("kind: downspout", 0.0, True),
    ],
)
def test_joint_ends_at_the_face_of_what_stands_in_the_slab(fixture: str, end: float, loose: bool) -> None:
    assert bool(review_by("joint-ends", posted(fixture, end)).comments) == loose


def test_joint_ends_on_a_joint_with_filler_is_an_edge() -> None:
    filled = "{kind: formed strip, from: [0, 8], to: [16, 8], isolation: {material: foam, thickness: 1/2 in}}"
    plain = filled.replace(", isolation: {material: foam, thickness: 1/2 in}", "")

    assert not review_by("joint-ends", pad(joints(filled, cut_at(8, 8)), side="16")).comments
    assert weights(review_by("joint-ends", pad(joints(plain, cut_at(8, 8)), side="16"))) == [
        ("caution", "ends_on_joints_at_most")
    ]


@pytest.mark.parametrize(
    ("stop", "filler"),
    [("", True), (", dowels: {diameter: 5/8 in, spacing: 12 in, length: 14 in}", False), (", locked_by: key", False)],
)
def test_joint_ends_filler_goes_through_the_one_construction_joint_that_nothing_locks(stop: str, filler: bool) -> None:
    stops = f"{{name: stop, kind: construction joint, from: [0, 8], to: [16, 8]{stop}}}"
    (finding,) = findings("joint-ends", pad(joints(stops, cut_at(8, 8)), side="16"))

    told = [plain(remedy.says, "us", both=False) for remedy in finding.remedies]
    assert ("set filler through joint stop, full depth" in told) is filler


def test_joint_ends_no_filler_goes_through_a_construction_joint_that_ends_at_a_corner_too() -> None:
    stop, corner = "{name: stop, kind: construction joint, from: [0, 8], to: [8, 8]}", cut_at(8, 8)
    (finding,) = findings("joint-ends", pad(joints(stop, corner), side="16"))

    assert len(finding.remedies) == 1  # both are carried on


def test_joint_ends_a_corner_near_an_edge_is_carried_on_both_ways() -> None:
    # a foot and a half to the one edge, 12 ft to the other: both cracks go on
    corner = run("across", (0, 8), (14.5, 8)), run("down", (14.5, 8), (14.5, 20))
    (finding,) = findings("joint-ends", pad(joints(*corner), outline=box(16, 20)))

    assert advice(finding) == ("carry joint across on for 1'-6\", joint down on for 8'-0\", to the edge")


STEP = """
format: 1
job: {name: Patio and step}
units: {plan: ft, height: ft}
use: patio
outline: [[0, 0], [12, 0], [12, 10], [0, 10]]
edges: [{run: [[0, 0], [12, 0]], beside: building}, {rest: lawn}]
fixtures: [{kind: door, name: back door, along: [[4.5, 0], [7.5, 0]], sill: 101}]
thickness:
  design: 4 in
  steps: [{name: step, width: 4 ft, tread: 12 in, riser: 6 in, count: 2, FOOT, leads_to: back door}]
joints: [{name: J1, kind: tooled groove, from: [6, 10], to: [6, END], depth: 1 in}]
"""


@pytest.mark.parametrize(
    ("foot", "end", "loose"),
    [
        ("foot: [[4, 1], [8, 1]]", 1.0, []),
        ("foot: [[4, 1], [8, 1]]", 1.08, []),  # an inch before its face
        ("foot: [[4, 1], [8, 1]]", 2.0, [2.0]),
        ("foot: [[4, 1.3], [8, 1.3]]", 1.3, []),  # 4 in between the flight and the wall
        ("foot: [[8, 1], [12, 1]]", 1.0, [1.0]),  # the flight stands beside the joint
        ("same_pour: true", 1.0, []),  # no foot: square before the door
    ],
)
def test_a_joint_may_end_at_the_face_of_steps(foot: str, end: float, loose: list[float]) -> None:
    report = review_by("joint-ends", STEP.replace("FOOT", foot).replace("END", str(end)))
    assert [one.shown.si / FOOT for one in report.comments] == pytest.approx(loose)
