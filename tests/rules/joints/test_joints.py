"""What the rules on joints have in common."""

from __future__ import annotations

import pytest
from design_text import pad, plan_of
from slabs.joints import BULKHEAD, box, cut_at, falls, joints, terrace

FOOT = 0.3048


def short(value: object) -> str:
    """A part of a test's name: no whole designs."""
    return value if isinstance(value, str) and "\n" not in value else ""


def test_sections_hold_all_of_the_slab() -> None:
    plan = plan_of(terrace("95 min", BULKHEAD.replace("20, 0", "10, 0").replace("20, 20", "10, 20")))
    yards = [part.volume / 0.9144**3 for part in plan.concrete.sections]
    assert sorted(yards) == pytest.approx([200 / 81, 600 / 81])  # 81 ft2 of 4 in are a cubic yard
    assert sum(part.volume for part in plan_of(terrace("")).concrete.sections) == pytest.approx(800 / 81 * 0.9144**3)


# one that is met does not hide the next


@pytest.mark.parametrize(
    ("rule", "design", "expected"),
    [
        ("curl", pad(joints(cut_at(8)), "shop floor", outline=box(28, 8)), ["panel P2"]),  # 8 ft, then 20 ft
        ("walk-joints", pad(joints(cut_at(4, 4)), "walk", outline=box(14, 4)), ["panel P2"]),
        # the first is wide and close to square, the second long
        ("walk-joints", pad(joints(cut_at(10)), "walk", outline=box(30, 8)), ["panel P2"]),
        (
            "joints-line-up",
            pad(
                "edges: [{run: [[0, 0], [16, 0]], beside: existing slab, tied: true, "
                "existing_joints: [[4, 0], [9, 0], [13, 0]]}]\n" + joints(cut_at(4), cut_at(12)),
                outline=box(16, 8),
            ),
            ["the old joint at (9.00 ft, 0.00 ft)", "the old joint at (13.00 ft, 0.00 ft)"],
        ),
        (
            "joints-line-up",
            pad(
                "edges: [{run: [[0, 0], [16, 0]], beside: existing slab, tied: true, "
                "existing_joints: [[4, 0], [9, 0]]}]",
                outline=box(16, 8),
            ),
            ["the old joint at (4.00 ft, 0.00 ft)", "the old joint at (9.00 ft, 0.00 ft)"],
        ),
        (
            "saw-reach",
            pad(
                "edges: [{run: [[0, 0], [12, 0]], beside: wall}]\n"
                + joints(
                    "{kind: saw cut, from: [0, 4], to: [12, 4]}",
                    cut_at(4, more=", last_foot: corner saw"),
                    cut_at(8, name="bare"),
                ),
                outline=box(12, 8),
            ),
            ["joint bare"],
        ),
    ],
    ids=short,
)
def test_each_is_judged(rule: str, design: str, expected: list[str]) -> None:
    assert falls(rule, design) == expected


@pytest.mark.parametrize(
    ("rule", "design", "expected"),
    [
        ("panel-aspect", pad(joints(cut_at(8)), outline=box(28, 8)), ["panel P2"]),
        # square, then 1 ft wide, then square
        ("panel-corners", pad(joints(cut_at(8), cut_at(9)), outline=box(17, 8)), ["panel P2"]),
    ],
    ids=short,
)
def test_each_panel_is_judged(rule: str, design: str, expected: list[str]) -> None:
    assert falls(rule, design) == expected


# joints that end at what stands in the slab


def test_joints_that_end_at_both_faces_of_a_post_part_the_slab() -> None:
    ends = "{kind: saw cut, from: [8, 0], to: [8, 7.75]}", "{kind: saw cut, from: [8, 8.25], to: [8, 16]}"
    plan = plan_of(pad("fixtures: [{kind: post, size: 6 in, at: [8, 8]}]\n" + joints(*ends), side="16"))

    assert [round(panel.short_side / FOOT, 6) for panel in plan.panels.all] == [8, 8]
