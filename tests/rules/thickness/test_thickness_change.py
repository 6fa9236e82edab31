"""The rule `thickness-change`: what a joint may leave out of the line where the thickness changes."""

from __future__ import annotations

import pytest
from comments import advice, weights
from design_text import pad, review_by
from judged import ended, finding, judged
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain

APRON = "parts: [{name: apron, corners: [[0, 0], [20, 0], [20, 6], [0, 6]], thickness: 6 in}]\n"
DRIVE = "[[0, 0], [20, 0], [20, 36], [0, 36]]"


def drive(joint: str = "", parts: str = APRON) -> str:
    return pad(parts + (f"joints: [{joint}]" if joint else ""), use="driveway", outline=DRIVE, thick="5 in")


@pytest.mark.parametrize(("end", "told"), [(20, False), (19.1, False), (18.5, True), (16, True)])
def test_a_joint_may_leave_out_a_foot_of_the_line(end: float, told: bool) -> None:
    # 0.3 m, a foot: common practice
    design = drive(f"{{kind: saw cut, from: [0, 6], to: [{end}, 6]}}")

    assert bool(ended("thickness-change", design)) is not told
    assert not told or len(judged("thickness-change", design)) == 1


def test_a_joint_is_cut_along_each_side_of_a_part() -> None:
    path = "parts: [{name: path, corners: [[16, 26], [20, 26], [20, 36], [16, 36]], thickness: 4 in}]\n"
    one = finding("thickness-change", drive(parts=path))
    edits = one.remedies[1].edits

    assert plain(one.says, "us", both=False) == "the thickness changes by 1 in inside a panel, and no joint is there"
    ends = [
        [tuple(round(each.si / 0.3048, 6) for each in value) for key, value in edit.entry if key in ("from", "to")]
        for edit in edits
        if isinstance(edit, Append)
    ]
    assert ends == [[(20, 26), (16, 26)], [(16, 26), (16, 36)]]


@pytest.mark.parametrize(
    ("x", "taper", "expected"),
    [  # 6 in of step; sides of 45 degrees serve a pad inside one panel, ten times the step any other (common practice)
        (5.0, 0.5, []),
        (5.0, 0.25, [("caution", "pad_steps_long_at_least")]),
        (9.015748, 0.5, []),  # 0.3 m off the joint, as a lift is set clear of it
        (9.1, 0.5, [("caution", "steps_long_at_least")]),
        (0.0, 0.5, [("caution", "steps_long_at_least")]),  # it reaches the edge
        (12.0, 0.5, [("caution", "steps_long_at_least")]),  # the joint runs through it
    ],
)
def test_a_pad_inside_one_panel_has_sloping_sides(x: float, taper: float, expected: list[tuple[str, str]]) -> None:
    corners = f"[[{x}, 5], [{x + 4}, 5], [{x + 4}, 9], [{x}, 9]]"
    parts = f"parts: [{{name: lift pad, corners: {corners}, thickness: 11 in, taper: {taper} ft}}]\n"
    design = drive("{kind: saw cut, from: [14, 0], to: [14, 36]}", parts)
    assert weights(review_by("thickness-change", design)) == expected


@pytest.mark.parametrize(("thick", "asked"), [("155 mm", "0.55 m"), ("152 mm", "0.55 m"), ("150 mm", "0.5 m")])
def test_a_metric_taper_is_written_to_five_centimeters(thick: str, asked: str) -> None:
    """Over ten times the step from 100 mm: common practice."""
    part = f"parts: [{{name: apron, corners: [[0, 0], [6, 0], [6, 2], [0, 2]], thickness: {thick}}}]\n"
    one = finding("thickness-change", pad(part, use="driveway", unit="m", side="6", thick="100 mm"))

    assert advice(one, "metric") == f"bring {thick} back to 100 mm over {asked}"
