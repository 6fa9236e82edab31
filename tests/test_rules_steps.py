"""Steps poured with the slab count towards the door or the old slab that they lead up to."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from design_text import plan_of, review_by, weights
from slabwright.design.read import read_design
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

PLAN = """
format: 1
job: {{name: Test stoop}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}}
outline: [A, B, C, D]
edges: [{{run: [A, B], beside: {beside}}}]
heights: {{finish: {{A: 100, B: 100, C: 99.8, D: 99.8}}}}
thickness: {{design: 4 in, steps: [{{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: {count}{leads}}}]}}
{more}
"""
DOOR = "fixtures: [{kind: door, name: back door, along: [[2, 0], [5, 0]], sill: 101.5}]"  # 18 in above the slab


def stoop(count: int, leads: str = ", leads_to: back door", beside: str = "lawn", more: str = DOOR) -> str:
    return PLAN.format(count=count, leads=leads, beside=beside, more=more)


@pytest.mark.parametrize(
    ("text", "left", "expected"),
    [  # 18 in of sill; risers of 7 in. IRC R311.3.2, quoted: 7 3/4 in; Beall p. 285: 1 in
        (stoop(2), 4, []),
        (stoop(1), 11, [("hold", "step_at_most")]),
        (stoop(2, leads=""), 18, [("hold", "step_at_most")]),
        (stoop(2, leads=", leads_to: front door"), 18, [("hold", "step_at_most")]),
        (stoop(3), 4, []),  # the third climbs onto the sill
    ],
)
def test_the_step_left_at_a_door(text: str, left: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("door-step", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(left * 0.0254)


def test_what_brings_a_door_right_leaves_the_steps_as_they_are() -> None:
    """11 in are left over one riser; 7 3/4 are asked, so the slab comes up by 3 1/4 in: 0.271 ft, 0.28 as written."""
    comment = review_by("door-step", stoop(1)).comments[0]
    raised = [value for key, value in comment.to_pass.values.items() if key.startswith("to")]
    assert [round(one.si / 0.3048, 2) for one in raised if isinstance(one, Amount)] == [100.28, 100.28]
    assert plain(comment.to_pass, "us", both=False).startswith("raise ")


@pytest.mark.parametrize(
    ("count", "leads", "expected"),
    [  # an old slab 18 in higher; 7 3/4 in recalled
        (2, ", leads_to: old terrace", []),
        (1, ", leads_to: old terrace", [("caution", "step_at_most")]),
        (2, "", [("caution", "step_at_most")]),
    ],
)
def test_the_step_left_at_an_existing_slab(count: int, leads: str, expected: list[tuple[str, str]]) -> None:
    beside = "existing slab, name: old terrace, ground: 101.5, planned_step: true"
    report = review_by("trip-at-existing-slab", stoop(count, leads, beside, ""))
    assert weights(report) == expected


def test_a_plan_knows_how_high_steps_lead() -> None:
    """Two risers of 7 in."""
    plan = plan_of(stoop(2))
    assert plan.flights.poured_rise("back door") == pytest.approx(14 * 0.0254)
    assert plan.flights.poured_rise("") == plan.flights.poured_rise("front door") == 0.0


@pytest.mark.parametrize(("leads", "asked"), [(", leads_to: back dor", 1), (", leads_to: back door", 0), ("", 0)])
def test_steps_that_lead_nowhere_are_asked_about(leads: str, asked: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "stoop.slab.yaml"
        path.write_text(stoop(2, leads), encoding="utf-8")
        questions = [one for one in read_design(path)[1] if "leads to" in one.wrong]
    assert len(questions) == asked
    assert all(one.place.line for one in questions)
