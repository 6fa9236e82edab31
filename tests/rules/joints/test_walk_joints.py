"""The rule `walk-joints`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, only, reason, weights
from design_text import pad, review_by
from slabs.joints import jointed_slab
from slabwright.formulas.units import FOOT
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain
from slabwright.units.quantity import length


@pytest.mark.parametrize(
    ("size", "found"),
    [
        ((5, 5), []),  # 5 ft: UFGS 03300N par. 3.8.3 (read)
        ((5.01, 4), [("note", "side_at_most")]),
        ((5.25, 4.9), []),  # a walk a hand wider than its bays are long
        ((8, 8), []),  # a wide walk by its width: some cities
        ((10, 8), []),  # 1.25, still about square
        ((10.1, 8), [("note", "side_at_most")]),
    ],
)
def test_walks_in_squares_of_five_feet_or_of_their_width(
    size: tuple[float, float], found: list[tuple[str, str]]
) -> None:
    assert weights(review_by("walk-joints", jointed_slab(use="walk", size=size))) == found


@pytest.mark.parametrize(("degrees", "found"), [(18, []), (30, [("note", "side_at_most")])])
def test_a_walk_in_a_curve_is_measured_along_its_middle(degrees: float, found: list[tuple[str, str]]) -> None:
    """A ring of 12 and 16 ft: 18 degrees are 5.03 ft outside and 4.40 ft in the middle, 30 degrees 8.38 and 7.33 ft."""

    def at(radius: float, part: float) -> str:
        angle = math.radians(degrees * part)
        return f"[{radius * math.cos(angle):.6f}, {radius * math.sin(angle):.6f}]"

    outline = (
        f"[{at(12, 0)}, {at(16, 0)}, {{arc_to: {at(16, 1)}, through: {at(16, 0.5)}}}, {at(12, 1)}, "
        f"{{arc_to: {at(12, 0)}, through: {at(12, 0.5)}}}]"
    )
    assert weights(review_by("walk-joints", pad("", "walk", outline=outline))) == found


def test_a_public_walk_weighs_more_and_other_slabs_nothing() -> None:
    public = review_by("walk-joints", jointed_slab(more="site: {right_of_way: true}", use="walk", size=(20, 4)))

    assert weights(public) == [("caution", "public_side_at_most")]
    assert plain(only(public).to_pass, "us", both=False) == "cut it across its long side into 4 bays of 5'-0\""
    assert reason(review_by("walk-joints", jointed_slab())) == "the slab is not a walk"


def test_a_long_panel_of_a_wide_walk_is_cut_to_its_width() -> None:
    comment = only(review_by("walk-joints", jointed_slab(use="walk", size=(24, 8))))

    assert advice(comment) == "cut it across its long side into 3 bays of 8'-0\""


@pytest.mark.parametrize(
    ("more", "found"),
    [  # as a drive crossing: vehicles drive on over an edge, or 6 in of concrete; common practice
        ("edges: [{run: [[0, 0], [8, 0]], beside: existing slab, wheels_cross: true}, {rest: lawn}]", 0),
        ("edges: [{run: [[0, 0], [8, 0]], beside: existing slab}, {rest: lawn}]", 1),
    ],
)
def test_a_walk_that_vehicles_cross_is_jointed_like_a_drive(more: str, found: int) -> None:
    text = jointed_slab(use="walk", size=(8, 5))
    assert len(review_by("walk-joints", text + "\n" + more).comments) == found
    thick = text.replace("design: 4 in", "design: 6 in")
    assert thick != text and reason(review_by("walk-joints", thick)) == "vehicles cross all of the walk"


def strip(size: tuple[float, float], cuts: list[float], more: str = "") -> str:
    joints = [f"{{kind: tooled groove, from: [{x}, 0], to: [{x}, {size[1]}], depth: 1 in}}" for x in cuts]
    return jointed_slab(more=f"joints: [{', '.join([*joints, more] if more else joints)}]", use="walk", size=size)


@pytest.mark.parametrize(
    ("size", "cuts", "found"),
    [
        ((12, 6), [4, 8], 0),  # 6 ft wide, cut every 4 ft: the joints are near enough
        ((20, 7), [5, 10, 15], 0),
        ((12, 4), [6], 2),  # 4 ft wide, cut every 6 ft
        ((16, 10), [8], 0),  # about square
        ((14, 10), [7], 0),  # 10 ft wide, cut every 7 ft: nearer than the width, which some cities ask for
    ],
)
def test_a_wide_walk_is_judged_by_how_far_apart_its_joints_are(
    size: tuple[float, float], cuts: list[float], found: int
) -> None:
    comments = review_by("walk-joints", strip(size, cuts)).comments
    assert len(comments) == found
    assert all(comment.shown.si == pytest.approx(cuts[0] * 0.3048) for comment in comments)


def test_lanes_of_a_walk_with_a_joint_down_its_middle_are_judged_by_their_length() -> None:
    middle = "{kind: tooled groove, from: [0, 4], to: [12, 4], depth: 1 in}"
    assert len(review_by("walk-joints", strip((12, 8), [6], middle)).comments) == 4


LEADING_OFF = """
format: 1
job: {name: Two walks}
units: {plan: ft, height: ft}
use: walk
points: {A: [0, 0], B: [15, 0], C: [15, 5], D: [10, 5], E: [10, 9], F: [5, 9], G: [5, 5], H: [0, 5]}
outline: [A, B, C, D, E, F, G, H]
thickness: {design: 4 in}
joints:
  - {kind: tooled groove, from: [5, 0], to: G, depth: 1 in}
  - {kind: tooled groove, from: [10, 0], to: D, depth: 1 in}
"""


@pytest.mark.parametrize("rule", ["walk-joints", "panel-aspect"])
def test_a_walk_that_leads_off_another_is_cut_from_corner_to_corner(rule: str) -> None:
    """The middle bay is 5 by 9 ft; cut in equal halves the cut would run on along the whole walk."""
    comment = only(review_by(rule, LEADING_OFF))

    assert advice(comment) == "cut it across from D to G"
    (drawn,) = (edit for edit in comment.remedies[0].edits if isinstance(edit, Append))
    entry = dict(drawn.entry)
    assert entry["from"] == (length(10 * FOOT), length(5 * FOOT))
    assert entry["to"] == (length(5 * FOOT), length(5 * FOOT))
