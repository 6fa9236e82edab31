"""What the rules on heights have in common."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from comments import limits_broken, weights
from design_text import plan_of, review_by
from slabs.heights import HOUSE, porch, profile, ramp, stoop, walk_slab
from slabwright.design.read import read_design
from sloped import RECTANGLE, design


@pytest.mark.parametrize(
    ("rule", "more"),
    [
        ("slab-below-fixed", "fixed: [{name: sill, kind: sill, at: A, height: 100}]"),
        ("door-step", "fixtures: [{kind: door, along: [A, B], sill: 100}]"),
        ("stated-fall", "  falls: [{along: [A, D], fall: 2 %}]"),
        ("greatest-fall", ""),
    ],
)
def test_corners_without_heights_are_named(rule: str, more: str) -> None:
    (silent,) = review_by(rule, design(RECTANGLE, {"A": 100, "C": 99.7}, HOUSE, more=more)).not_shown
    assert silent.add == ("heights.finish: the finish height at B, D, such as 99.90",)


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


@pytest.mark.parametrize(
    ("count", "ground", "treads"),
    [(3, 101.5, 2), (2, 101.5, 2), (1, 101.5, 1), (2, 101.0, 1)],  # the last riser onto the porch has no tread
)
def test_the_concrete_of_a_flight_is_that_of_its_treads(count: int, ground: float, treads: int) -> None:
    """A stair of n treads 12 in deep and n risers of 6 in, 4 ft wide: 4 x 1 x 0.5 x (1 + ... + n) ft3."""
    plan = plan_of(porch(f"tread: 12 in, riser: 6 in, count: {count}", ground))
    assert plan.concrete.quantities.steps == pytest.approx(4 * 0.5 * treads * (treads + 1) / 2 * 0.3048**3)


# ramps, clear width and thresholds of an accessible way


@pytest.mark.parametrize(("sill", "expected"), [(100.04, []), (100.05, ["step_at_most"])])  # 0.48 and 0.6 in
def test_the_threshold_of_an_accessible_door(sill: float, expected: list[str]) -> None:
    door = f"fixtures: [{{kind: door, name: front door, along: [[0, 1], [0, 4]], sill: {sill}}}]"
    text = ramp(profile(0.01, 0.04, 0.01), door, "run: [D, A], beside: building, name: hall\nrest: bed")
    assert limits_broken(review_by("accessible-route", text)) == expected
    assert review_by("door-step", text).comments == ()  # the rain step is not asked there


# public walks


def test_a_drop_that_people_fall_from_is_no_lip() -> None:
    edges = "run: [C, D], beside: existing slab, ground: 97\nrest: lawn"
    text = walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges)
    assert review_by("trip-at-existing-slab", text).does_not_apply
    assert weights(review_by("exposed-edge", text)) == [("hold", "guard_drop_at_most")]
