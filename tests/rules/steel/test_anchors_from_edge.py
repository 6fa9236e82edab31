"""The rule `anchors-from-edge`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabs.base import HOUSE
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("at", "joint", "found"),
    [
        # 6 diameters of 1/2 in are 3 in: ACI 318-19 sec. 17.9.2, recalled
        ("[4, 0.25]", "", []),
        ("[4, 0.24]", "", [("caution", "edge_in_diameters_at_least")]),
        ("[4, 4]", "joints: [{from: [4.1, 0], to: [4.1, 8], kind: saw cut, depth: 1 in}]",
         [("caution", "edge_in_diameters_at_least")]),
    ],
)  # fmt: skip
def test_anchors_keep_six_diameters_from_edges_and_joints(at: str, joint: str, found: list[tuple[str, str]]) -> None:
    post = "{kind: post, at: [6, 6]}"  # of which nothing is asked
    more = f"fixtures: [{{kind: anchor, at: {at}, size: 1/2 in}}, {post}]\n{joint}"
    assert weights(review_by("anchors-from-edge", pad(HOUSE + more, outline="[A, B, C, D]"))) == found


@pytest.mark.parametrize(
    ("away", "plate", "expected"),
    [  # 6 diameters of 1/2 in are 3 in; the bolts of a plate 8 in wide stand 4 in nearer
        (2.875, "", [("caution", "edge_in_diameters_at_least")]), (3, "", []),
        (6.875, ", plate: 8 in", [("caution", "edge_in_diameters_at_least")]), (7, ", plate: 8 in", []),
    ],
)  # fmt: skip
def test_anchors_from_edge_keep_off_joints_as_off_edges(
    away: float, plate: str, expected: list[tuple[str, str]]
) -> None:
    text = pad(
        "joints: [{name: J, kind: saw cut, from: [10, 0], to: [10, 20], depth: 1 in}]\n"
        f"fixtures: [{{kind: anchor, name: bolt, at: [{10 + away / 12}, 10], size: 1/2 in{plate}}}]",
        side="20",
    )
    report = review_by("anchors-from-edge", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert plain(comment.says, "us").endswith("from a joint")


# hoops and plates


@pytest.mark.parametrize(
    ("anchor", "expected"),
    [  # 6 diameters
        ("along: [[2, 1], [6, 1]], size: 2 in", []),
        ("along: [[2, 1], [6, 0.9]], size: 2 in", [("caution", "edge_in_diameters_at_least")]),
        ("at: [4, 0.75], size: 1/2 in, plate: 8 in", []),  # bolts 9 - 4 = 5 in off
        ("at: [4, 0.5], size: 1/2 in, plate: 8 in", [("caution", "edge_in_diameters_at_least")]),  # 6 - 4 = 2 in
        ("at: [4, 4], size: 1/2 in, embedment: 2 5/8 in", []),
        ("at: [4, 4], size: 1/2 in, embedment: 3 in", [("note", "depth_part_at_most")]),  # 3/4 of 4 in, 1 in left
        ("at: [4, 4], size: 1/2 in, embedment: 3 1/8 in", [("caution", "below_at_least")]),  # 7/8 in left
        ("at: [4, 4], size: 1/2 in, embedment: 4 1/2 in", [("caution", "below_at_least")]),
    ],
)
def test_legs_bolts_and_depth_of_anchors(anchor: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("anchors-from-edge", pad(f"fixtures: [{{kind: anchor, {anchor}}}]"))) == expected


@pytest.mark.parametrize(
    ("at", "joint"),
    [("[4, 0.1]", ""), ("[4, 4]", "joints: [{from: [4.1, 0], to: [4.1, 8], kind: saw cut, depth: 1 in}]")],
)
def test_bolts_of_a_plate_over_an_edge_or_a_joint_are_no_way_off(at: str, joint: str) -> None:
    more = f"fixtures: [{{kind: anchor, at: {at}, size: 1/2 in, plate: 8 in}}]\n{joint}"
    (comment,) = review_by("anchors-from-edge", pad(HOUSE + more, outline="[A, B, C, D]")).comments
    assert comment.shown.si == 0
