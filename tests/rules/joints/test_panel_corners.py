"""The rule `panel-corners`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import only, slot_shown, value, weights
from design_text import pad, plan_of, review_by
from judged import findings, judged
from slabs.joints import box, cut, cut_at, design, joints, rectangle
from slabwright.rulebook.conclusion import Margin
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254
LEAN = 20 / math.sqrt(2)  # ft, of a side of 20 ft that leans by 45 degrees


def triangle(degrees: float) -> str:
    """A triangle 40 ft along the bottom with this angle at its left corner, the other two wide enough."""
    x, y = 20 * math.cos(math.radians(degrees)), 20 * math.sin(math.radians(degrees))
    return f"[[0, 0], [20, 0], [{20 + x:.9f}, {y:.9f}], [{x:.9f}, {y:.9f}]]"


@pytest.mark.parametrize(
    ("degrees", "found"),
    [
        (60, []),
        (59.1, []),  # a degree is let pass: common practice
        (58.9, [("note", "preferred_angle_at_least")]),
        (45, [("note", "preferred_angle_at_least")]),
        (44.1, [("note", "preferred_angle_at_least")]),
        (43.9, [("caution", "angle_at_least")]),
    ],
)
def test_panel_corners_by_angle(degrees: float, found: list[tuple[str, str]]) -> None:
    report = review_by("panel-corners", design(triangle(degrees)))  # a rhombus: two sharp corners, told once

    assert weights(report) == found
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(degrees, abs=1e-5)
        assert plain(comment.to_pass, "us").startswith("open that corner of the slab by ")
        assert value(comment, "more") == pytest.approx(math.ceil(round(60 - degrees, 3)))  # whole degrees


def test_panel_corners_turns_a_joint_that_meets_the_edge_at_a_slant() -> None:
    report = review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=cut("J1", (5, 0), (15, 10))))

    assert weights(report) == [("note", "preferred_angle_at_least")] * 2  # 45 degrees at either end
    ends = sorted(comment.at.shape[0] for comment in report.comments)
    assert ends == [pytest.approx((5 * FOOT, 0)), pytest.approx((15 * FOOT, 10 * FOOT))]
    assert [plain(remedy.says, "us") for remedy in report.comments[0].remedies] == [
        "set joint J1 square to the edge there",
        "turn joint J1 there by 15 deg, towards square",
        "leave out joint J1",
    ]


def test_panel_corners_tells_the_joint_that_no_straight_line_replaces() -> None:
    bent = "{name: J1, kind: saw cut, along: [[5, 0], [12, 7], [12, 10]], depth: 1 in}"
    comment = only(review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=bent)))

    assert comment.at.shape[0] == pytest.approx((5 * FOOT, 0))  # 45 degrees there
    assert (
        plain(comment.to_pass, "us") == "turn joint J1 there by 15 deg, towards square, and set its neighbors to suit"
    )


@pytest.mark.parametrize(("x", "found"), [(18, []), (18.05, [("caution", "width_at_least")])])
def test_panel_corners_by_width(x: float, found: list[tuple[str, str]]) -> None:
    joint = cut("J1", (x, 0), (x, 10))

    assert weights(review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=joint))) == found


def test_panel_corners_says_how_much_wider() -> None:
    comment = only(
        review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=cut("J1", (18.5, 0), (18.5, 10))))
    )

    assert comment.shown.si == pytest.approx(1.5 * FOOT)
    assert 1.5 * FOOT + value(comment, "more") >= 2 * FOOT - 1e-9
    assert value(comment, "more") == pytest.approx(6 * INCH, abs=0.001)


@pytest.mark.parametrize(
    ("fixture", "left_out"),
    [
        ("", True),
        ("{kind: post, at: [18.5, 5]}", False),  # without the joint it cracks from the post
        ("{kind: post, at: [17, 5]}", True),
        (
            "{kind: column, at: [17.8, 5], box_out: turned square, box_out_size: 12 in}",
            False,
        ),  # its corner is 8.5 in off
        ("{kind: column, at: [17.7, 5], box_out: turned square, box_out_size: 12 in}", True),
    ],
)
def test_a_joint_that_is_laid_to_a_post_stays(fixture: str, left_out: bool) -> None:
    more = f"fixtures: [{fixture}]\n" if fixture else ""
    text = design(rectangle("20 ft", "10 ft"), joints=cut("J1", (18.5, 0), (18.5, 10)), more=more)
    told = [plain(remedy.says, "us") for remedy in review_by("panel-corners", text).comments[0].remedies]

    assert ("leave out joint J1, which cuts it off" in told) is left_out
    slant = design(rectangle("20 ft", "10 ft"), joints=cut("J1", (5, 0), (15, 10)),
                   more="fixtures: [{kind: post, at: [10, 5]}]\n")  # fmt: skip
    told = [plain(remedy.says, "us") for remedy in review_by("panel-corners", slant).comments[0].remedies]
    assert told == ["set joint J1 square to the edge there", "turn joint J1 there by 15 deg, towards square"]


@pytest.mark.parametrize(
    ("unit", "size", "at", "write"),
    [
        ("ft", 20, 18.45, "5 1/2 in"),  # 24 - 18.6 in is 5.4 in
        ("ft", 20, 18.6, "7 1/4 in"),  # 24 - 16.8 in is 7.2 in
        ("m", 6, 5.45, "50 mm"),  # 2 ft are 600 mm there: 600 - 550
    ],
)
def test_panel_corners_how_much_wider_a_sliver_must_be(unit: str, size: float, at: float, write: str) -> None:
    # 2 ft: trade articles on layout
    (finding,) = findings("panel-corners", pad(joints(cut_at(at, size)), unit=unit, outline=box(size, size)))

    assert slot_shown(finding, "more", "metric" if unit == "m" else "us") == write


@pytest.mark.parametrize(
    ("outline", "joint"),
    [
        (f"[[0, 0], [20, 0], [{20 + LEAN}, {LEAN}], [{LEAN}, {LEAN}]]", cut_at(17, LEAN)),
        (
            f"[[0, 0], [{LEAN}, {LEAN}], [{LEAN}, {20 + LEAN}], [0, 20]]",
            f"{{kind: saw cut, from: [0, 17], to: [{LEAN}, 17]}}",
        ),
    ],
)
def test_panel_corners_a_point_of_the_slab_is_no_fault_of_a_joint_that_ends_on_the_same_side(
    outline: str, joint: str
) -> None:
    found = findings("panel-corners", pad(joints(joint), outline=outline))

    assert found
    assert all(one.to_pass.template.startswith("open ") for one in found)


def test_panel_corners_a_point_of_the_slab_is_no_fault_of_a_joint_three_feet_off() -> None:
    """33.7 degrees, 2 in 3, at the point, and 56.3 where the joint ends."""
    slab = pad(joints("{kind: saw cut, from: [3, 0], to: [3, 2]}"), outline="[[0, 0], [20, 0], [20, 2], [3, 2]]")
    found = [one for one in findings("panel-corners", slab) if one.limit.name == "angle_at_least"]
    assert [plain(one.to_pass, "us") for one in found] == [
        "open that corner of the slab by 27 deg, or cut its tip off square"
    ]


def test_panel_corners_a_point_that_a_joint_makes_is_the_joint_s() -> None:
    slanting = "{kind: saw cut, from: [0, 0], to: [20, 8]}"  # from corner to corner
    found = findings("panel-corners", pad(joints(slanting), outline=box(20, 8)))

    assert len(found) == 2
    assert all("joint {joint}" in one.to_pass.template for one in found)


def test_panel_corners_a_point_is_told_of_the_joint_along_its_rim() -> None:
    """Two joints come to the inside corner D; the wing beside it is cut off by J2, and J1 only ends there."""
    across = "{name: J1, kind: saw cut, from: [5, 6], to: [17, 6]}"
    along = "{name: J2, kind: saw cut, from: [5, 0], to: [5, 6]}"
    outline = "[[0, 0], [17, 0], [17, 20], [5, 20], [5, 6]]"
    told = [
        plain(one.to_pass, "us")
        for order in (f"{across}, {along}", f"{along}, {across}")
        for one in findings("panel-corners", pad(joints(order), outline=outline))
        if math.dist(one.at.shape[0], (5 * FOOT, 6 * FOOT)) < INCH
    ]
    assert len(told) == 2
    assert all("joint J2" in one for one in told)


def test_panel_corners_of_a_round_slab_are_none() -> None:
    circle = "[{arc_to: [8, 4], through: [4, 8]}, {arc_to: [0, 4], through: [4, 0]}]"
    (width,) = judged("panel-corners", pad("", outline=circle))

    assert isinstance(width, Margin)
    assert width.limit.name == "width_at_least"


APPROACH = """points: {A: [0, 0], E: [5, 0], F: [17, 0], B: [22, 0], C: [17, 6], D: [5, 6]}
edges: [{run: [A, E], beside: BESIDE}, {run: [E, F], beside: street}, {rest: lawn}]
"""
FLARES = "joints: [{from: E, to: D, kind: saw cut}, {from: F, to: C, kind: saw cut}]"


@pytest.mark.parametrize(
    ("beside", "found"),
    [  # the wing at A runs out into 39.8 degrees at D; that at B lies along lawn and has the same
        ("curb", [("caution", "angle_at_least")]),
        ("street", [("caution", "angle_at_least")]),
        ("lawn", [("caution", "angle_at_least")] * 2),
    ],
)
def test_the_flare_of_an_approach_has_points_by_its_shape(beside: str, found: list[tuple[str, str]]) -> None:
    """Flares along a curb or street are poured as triangles everywhere, common practice."""
    text = pad(APPROACH.replace("BESIDE", beside) + FLARES, use="driveway", outline="[A, E, F, B, C, D]")
    assert sorted(weights(review_by("panel-corners", text))) == sorted(found)


def test_a_ring_without_corners_is_no_wing_of_an_approach() -> None:
    """Points in one line, as a panel no wider than a hair comes out."""
    edges = plan_of(pad("edges: [{rest: street}]")).edges
    assert not edges.flares([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (1.0, 0.0)])
