"""Curved edges: an arc counts as the arc it is, and heights round it are those of the slab beside it.

Expected values are plane geometry, worked beside each check.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from checkout import ROOT
from design_text import pad, plan_of
from slabwright.design.read import read_design
from slabwright.geometry.shape.arcs import CHORDS_OFF, arc_chords
from slabwright.plan.plan import Plan
from slabwright.plan.questions import ask
from sloped import BOW, design, plane

FOOT = 0.3048
BITE = {**BOW, "M": (6, 7)}  # cut into it: radius (6^2 + 3^2) / (2 x 3) = 7.5 ft
ROUND = {"A": (-6, 0), "B": (6, 0), "M": (0, 6), "N": (0, -6), "C": (1, 2)}
RINGS = {
    "bow": (BOW, "A, B, C, {arc_to: D, through: M}"),
    "bite": (BITE, "A, B, C, {arc_to: D, through: M}"),
    "disc": (ROUND, "{arc_to: A, through: N}, {arc_to: B, through: M}"),
}


@pytest.mark.parametrize(
    ("outline", "area"),
    [
        ("[[0, 0], [6, 0], [6, 4], [0, 4], [0, 0]]", 24),
        ("[[0, 0], [6, 0], [6, 4], [0, 4], [0, 0], [0, 0]]", 24),
        ("[[0, 0], {arc_to: [4, 0], through: [2, -2]}, {arc_to: [0, 0], through: [2, 2]}]", 4 * math.pi),
    ],
)
def test_the_first_corner_typed_again_closes_the_outline(outline: str, area: float) -> None:
    assert plan_of(pad("", unit="m", outline=outline)).shape.area == pytest.approx(area)


@pytest.mark.parametrize("radius", [0.05, 0.3, 3.0, 40.0])
@pytest.mark.parametrize("turn", [0.02, 0.5, 2.0, 6.0])
def test_chords_enclose_the_area_of_the_arc_and_stay_beside_it(radius: float, turn: float) -> None:
    at = [(radius * math.cos(angle), radius * math.sin(angle)) for angle in (0, 0.3 * turn, turn)]
    xy = np.vstack([at[0], arc_chords(*at)])
    sector = np.sum(xy[:-1, 0] * xy[1:, 1] - xy[:-1, 1] * xy[1:, 0]) / 2
    assert sector == pytest.approx(radius**2 * turn / 2, rel=1e-9)  # of a sector
    middles = (xy[1:] + xy[:-1]) / 2
    assert np.abs(np.hypot(*np.vstack([xy, middles]).T) - radius).max() <= CHORDS_OFF
    steps = np.diff(xy, axis=0)
    turns = np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))
    assert np.degrees(turns).max(initial=0.0) <= 10.0


def test_area_perimeter_edge_and_volume_are_those_of_the_arc() -> None:
    text = design(
        BOW, dict.fromkeys("ABCD", 100.0), "run: [C, D], beside: lawn, name: bow\nrest: curb", RINGS["bow"][1]
    )
    plan = plan_of(text)
    area = (120 + 18 * math.pi) * FOOT**2  # 12 x 10 ft, and half of a circle of 6 ft
    assert plan.shape.area == pytest.approx(area, rel=1e-9)
    assert plan.shape.perimeter == pytest.approx((32 + 6 * math.pi) * FOOT, rel=1e-9)
    (bow,) = [piece for piece in plan.edges.pieces if piece.name == "bow"]
    assert bow.length == pytest.approx(6 * math.pi * FOOT, rel=1e-9)
    assert plan.concrete.quantities.net == pytest.approx(area * FOOT / 3, rel=1e-9)  # 4 in


@pytest.mark.parametrize("name", RINGS)
def test_a_plane_given_at_the_ends_of_an_arc_goes_on_to_the_arc(name: str) -> None:
    points, outline = RINGS[name]
    heights = {at: height for at, height in plane(points, 0.003, -0.0205).items() if at not in "MN"}
    plan = plan_of(design(points, heights, "rest: lawn", outline))
    slope = math.hypot(0.003, 0.0205)
    assert [facet.slope for facet in plan.finish.facets] == pytest.approx([slope] * len(plan.finish.facets), rel=1e-6)
    top = plan.finish.at((points["M"][0] * FOOT, points["M"][1] * FOOT))
    assert top == pytest.approx((100 + 0.003 * points["M"][0] - 0.0205 * points["M"][1]) * FOOT, abs=1e-6)
    for piece in plan.edges.pieces:  # the edge has the heights of the surface
        assert piece.finish == pytest.approx([plan.finish.at(at) for at in piece.line], abs=1e-6)


def test_a_walk_round_a_pond_falls_evenly_along_it() -> None:
    # a half ring of 18 and 22 ft, whose ends only have heights: the chord from end to end lies in the pond
    points = {"I": (18, 0), "O": (22, 0), "P": (-22, 0), "Q": (-18, 0), "M": (0, 22), "N": (0, 18)}
    heights = {"I": 100.0, "O": 99.9, "Q": 99.0, "P": 98.9}
    outline = "I, O, {arc_to: P, through: M}, Q, {arc_to: I, through: N}"
    plan = plan_of(design(points, heights, "rest: lawn", outline))
    for at, half in (("M", 99.4), ("N", 99.5)):
        x, y = points[at]
        assert plan.finish.at((x * FOOT, y * FOOT)) == pytest.approx(half * FOOT, abs=1e-6)


@pytest.mark.parametrize("name", ["pond_walk", "pond_path"])
def test_joints_drawn_to_the_radius_are_not_asked_about(name: str) -> None:
    drawing, _ = read_design(ROOT / "tests" / "corpus" / "sound" / f"{name}.slab.yaml")
    plan = Plan(drawing)
    assert {end.meets for joint in plan.joints.all for end in joint.ends} == {"edge"}
    assert not [problem for problem in ask(plan) if "stops" in problem.wrong]


def test_a_joint_that_stops_short_of_an_arc_is_asked_about() -> None:
    outline, more = RINGS["bow"][1], "joints: [{name: J1, from: [6, 0], to: [6, %s], kind: saw cut}]"
    for end, asked in ((16, False), (15.98, True), (15.9, True)):  # 0.02 ft and more from the bow
        text = design(BOW, dict.fromkeys("ABCD", 100.0), "rest: lawn", outline) + "\n" + more % end
        assert any("joint J1 stops" in problem.wrong for problem in ask(plan_of(text))) is asked


RIM = {
    "A": (0, 0), "B": (28, 0), "U": (40, 12), "C": (28, 24), "D": (0, 24),
    "P": (5, 5), "Q": (28, 5), "T": (35, 12), "R": (28, 19), "S": (5, 19),
}  # fmt: skip
POOL = "openings: [{name: pool, corners: [P, Q, {arc_to: R, through: T}, S]}]"


def test_a_deck_takes_the_heights_of_the_coping_and_is_level_round_its_bow() -> None:
    # 5 ft of deck round a pool with a half round end, a tenth of a foot from the coping to the lawn: 2 % everywhere
    heights = {name: 100.0 if name in "PQTRS" else 99.9 for name in RIM}
    text = design(RIM, heights, "rest: lawn", "A, B, {arc_to: C, through: U}, D")
    plan = plan_of(f"{text}\n{POOL}")
    for turn in range(-90, 91, 15):
        x, y = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        for radius, level in ((7.0, 100.0), (12.0, 99.9)):
            at = (28 + radius * x) * FOOT, (12 + radius * y) * FOOT
            assert plan.finish.at(at) == pytest.approx(level * FOOT, abs=1e-4)  # chords lie 2 mm off an arc
    straight = [f for f in plan.finish.facets if all(x < 28.001 * FOOT for x, _ in f.corners)]
    assert [f.slope for f in straight] == pytest.approx([0.02] * len(straight), rel=1e-6)
    assert max(f.slope for f in plan.finish.facets) < 0.0205


def test_heights_on_the_rim_of_a_round_opening_that_lie_on_a_plane_are_that_plane() -> None:
    points = {"A": (0, 0), "B": (18, 0), "C": (18, 18), "D": (0, 18)}
    pit = {"W": (6.5, 9), "X": (9, 11.5), "Y": (11.5, 9), "Z": (9, 6.5)}
    heights = plane(points | pit, 0.004, 0.015)
    text = design(points | pit, heights, "rest: lawn")
    plan = plan_of(f"{text}\nopenings: [{{corners: [W, {{arc_to: Y, through: X}}, {{arc_to: W, through: Z}}]}}]")
    slope = math.hypot(0.004, 0.015)
    assert [facet.slope for facet in plan.finish.facets] == pytest.approx([slope] * len(plan.finish.facets), rel=1e-6)


def test_a_height_line_to_an_arc_keeps_its_fold() -> None:
    # a valley down the middle of a bow: the arc does not bend round it, the two flanks run straight to it
    heights = {"A": 100.0, "B": 100.0, "C": 100.0, "D": 100.0, "M": 99.7, "V": 99.86}
    lines = "  lines: [{kind: valley, along: [V, M]}]"
    plan = plan_of(design({**BOW, "V": (6, 0)}, heights, "rest: lawn", RINGS["bow"][1], lines))
    left, right = (plan.finish.at((x * FOOT, 13 * FOOT)) for x in (4.5, 7.5))
    middle = plan.finish.at((6 * FOOT, 13 * FOOT))
    assert left is not None
    assert right is not None
    assert middle is not None
    assert left == pytest.approx(right, abs=1e-6)
    assert left > middle + 0.005


def test_a_height_at_the_rim_of_an_opening_counts_and_its_sides_run_straight() -> None:
    """A pit 2 ft square whose rim is set an inch and a quarter high, in a slab that lies level otherwise."""
    points = {
        "A": (0, 0),
        "B": (20, 0),
        "C": (20, 6),
        "D": (0, 6),
        "P": (9, 2),
        "Q": (11, 2),
        "R": (11, 4),
        "S": (9, 4),
    }
    heights = {**dict.fromkeys("ABCD", 100.0), **dict.fromkeys("PQRS", 100.1)}
    pit = "openings: [{name: pit, corners: [P, Q, R, S]}]\n"
    plan = plan_of(design(points, heights, "rest: lawn", more=pit))
    rim = [(x * FOOT, y * FOOT) for x, y in [(9, 2), (10, 2), (11, 2), (11, 3), (9, 3.5)]]
    assert [plan.finish.at(at) for at in rim] == pytest.approx([100.1 * FOOT] * 5)


def test_the_rim_of_an_opening_runs_straight_between_heights_at_its_corners() -> None:
    # a long pool whose coping is level, beside a drain line that lies lower and nearer to its middle than its ends
    points = {"A": (0, 0), "B": (36, 0), "C": (36, 28), "D": (0, 28), "K": (18, 5)}
    pool = {"P": (4, 10), "Q": (32, 10), "R": (32, 24), "S": (4, 24)}
    heights = {"A": 99.9, "B": 99.9, "C": 99.9, "D": 99.9, "K": 99.8} | dict.fromkeys(pool, 100.0)
    text = design(points | pool, heights, "rest: lawn")
    plan = plan_of(f"{text}\nopenings: [{{name: pool, corners: [P, Q, R, S], holds: pool}}]")
    for at in ((18, 10), (11, 10), (32, 17), (18, 24), (4, 17)):
        assert plan.finish.at((at[0] * FOOT, at[1] * FOOT)) == pytest.approx(100 * FOOT, abs=1e-6)


@pytest.mark.parametrize("beside", [0.0, 0.001, 0.01, 0.05])
def test_a_height_written_twice_on_an_arc_leaves_the_plane_a_plane(beside: float) -> None:
    """A half ring of 18 and 30 ft, 2.5 % down to the road, with two names at its crown."""
    at = {"A": (30, 0), "B": (18, 0), "C": (-18, 0), "D": (-30, 0), "M": (0, 18), "N": (0, 30)}
    for name, (radius, turn) in {"P": (30, 90 + beside * 57.3 / 30), "Q": (18, 90 - beside * 57.3 / 18)}.items():
        at[name] = (radius * math.cos(math.radians(turn)), radius * math.sin(math.radians(turn)))
    heights = {name: 50 + 0.025 * y for name, (_, y) in at.items()}
    ring = "B, A, {arc_to: D, through: N}, C, {arc_to: B, through: M}"
    plan = plan_of(design(at, heights, "rest: lawn", ring, use="driveway"))
    assert [facet.slope for facet in plan.finish.facets] == pytest.approx([0.025] * len(plan.finish.facets), abs=0.001)


def test_heights_typed_to_a_thousandth_round_a_circle_keep_the_plane_that_they_lie_in() -> None:
    """22 ft about the middle, 1.5 % across: the spots at 45 degrees lie a hair inside the chords of the circle."""
    at = {name: (round(22 * math.cos(k * math.pi / 4), 3), round(22 * math.sin(k * math.pi / 4), 3))
          for k, name in enumerate("ABCDEFGH")}  # fmt: skip
    heights = {name: 50 - 0.015 * x for name, (x, _) in at.items()}
    plan = plan_of(design(at, heights, "rest: gravel", "A, {arc_to: E, through: C}, {arc_to: A, through: G}"))
    slopes = [facet.slope for facet in plan.finish.facets]
    assert slopes == pytest.approx([0.015] * len(slopes), abs=0.0005)
    assert not list(ask(plan))
