"""Geometry where a length, an angle or a difference comes to nothing: worked exactly, or said in words; no crash.

Expected values are plane geometry, worked beside each check.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from design_text import pad, plan_of, review_by
from example_reviews import example
from slabwright.cli.main import main
from slabwright.geometry.surface.surface import build_surface
from slabwright.geometry.water.flood import Rim, flood, outlets
from slabwright.geometry.water.standing import ponds
from slabwright.source.problem import UnreadableError
from sloped import RECTANGLE, design, plane

FOOT = 0.3048


@pytest.mark.parametrize("seed", [673, 1834, 2833])
def test_a_pond_that_spills_over_a_height_point_inside_has_a_shore(seed: int) -> None:
    """Walls all round and one drain: water spills at points of the surface, where the shore is that very point."""
    chance = np.random.default_rng(seed)
    wide, deep = chance.uniform(3, 20, 2)
    angle = chance.uniform(0, 6.28)
    turned = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    corners = np.array([(0, 0), (wide, 0), (wide, deep), (0, deep)]) @ turned.T + chance.uniform(-30, 30, 2)
    rim = np.column_stack([corners, chance.uniform(0, 0.2, 4) + 30])
    count = int(chance.integers(6, 14))
    inner = chance.uniform(0.1, 0.9, (count, 2)) * [wide, deep] @ turned.T + corners[0]
    spots = np.column_stack([inner, 30 + np.round(chance.uniform(-0.1, 0.15, count), 3)])
    surface = build_surface(shapely.Polygon(corners), spots, [np.vstack([rim, rim[:1]])])
    edges = surface.mesh.rim
    walls = Rim(edges, np.full(len(edges), -1), np.full((len(edges), 2), -np.inf))
    drain = {surface.nearest_vertex(tuple(spots[0, :2])): 7}
    found = ponds(surface, np.array(flood(surface, outlets(surface, walls, drain)[0]).level))
    assert found
    for pond in found:
        assert pond.outline.is_valid
        assert pond.outline.area == pytest.approx(pond.area, rel=1e-9, abs=1e-9)


CLOSED = """format: 1
job: {{name: Closed pad}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [20, 0], C: [20, 12], D: [0, 12], M: [-3, 6]}}
outline: [{outline}]
openings: [{{name: planter, corners: [[4, 4], [8, 4], [8, 8]{again}]}}]
heights: {{finish: {{A: 100, B: 100, C: 99.8, D: 99.8}}}}
thickness: {{design: 4 in}}
"""


@pytest.mark.parametrize("command", ["review", "stake", "order", "card", "draw"])
@pytest.mark.parametrize(
    ("outline", "plain"),
    [("A, B, C, D, A", "A, B, C, D"), ("A, B, C, D, {arc_to: A, through: M}", "{arc_to: A, through: M}, B, C, D")],
)
def test_a_first_corner_typed_again_closes_the_outline_for_every_command(
    command: str, outline: str, plain: str, tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    path = tmp_path / "pad.slab.yaml"
    said = []
    for corners, again in ((outline, ", [4, 4]"), (plain, "")):
        path.write_text(CLOSED.format(outline=corners, again=again), encoding="utf-8")
        status = main([command, str(path), *(["--out", str(tmp_path / "pad.svg")] if command == "draw" else [])])
        drawn = (tmp_path / "pad.svg").read_text(encoding="utf-8") if command == "draw" else ""
        said.append((status, capsys.readouterr().out, drawn))
    assert said[0] == said[1]
    assert said[0][0] in (0, 1)


def test_there_is_no_less_than_no_concrete() -> None:
    # the base 4 in under the finish at A and D and 4 in above it at B and C: a wedge over half of 20 by 12 ft,
    # 1/2 x 10 ft x 1/3 ft x 12 ft = 20 ft3; all of the base above the finish: nothing
    level = dict.fromkeys(RECTANGLE, 100.0)
    base = "  base: {A: %s, B: %s, C: %s, D: %s}"
    tilted = plan_of(
        design(RECTANGLE, level, "rest: lawn", more=base % ("99.6666667", 100.3333333, 100.3333333, "99.6666667"))
    )
    assert tilted.concrete.quantities.net == pytest.approx(20 * FOOT**3, rel=1e-6)
    assert tilted.concrete.panel_volumes.sum() == pytest.approx(20 * FOOT**3, rel=1e-6)
    above = plan_of(design(RECTANGLE, level, "rest: lawn", more=base % (101, 101, 101, 101)))
    assert above.concrete.quantities.net == 0.0
    assert above.concrete.depths is not None and above.concrete.depths.least == pytest.approx(-FOOT)


def test_no_facet_is_without_area() -> None:
    """Corners typed along straight sides of a turned slab: rounding leaves facets between them that have no area."""
    chance = np.random.default_rng(61)
    wide, deep = np.round(chance.uniform(5, 40, 2), 1)
    turn = chance.uniform(0, 6.28)
    base, typed = np.array([(0, 0), (wide, 0), (wide, deep), (0, deep)]), []
    for start, end in zip(base, np.roll(base, -1, axis=0), strict=True):
        shares = sorted(np.round(chance.uniform(0.1, 0.9, int(chance.integers(0, 4))), 2))
        typed += [start, *(start + share * (end - start) for share in shares)]
    turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    places = {f"P{n}": (x, y) for n, (x, y) in enumerate((np.array(typed) @ turned.T * 0.3048).tolist())}
    heights = {name: 30 + float(chance.uniform(0, 0.2)) for name in places}
    plan = plan_of(design(places, heights, "rest: lawn", outline=" ".join(places), unit="m", use="driveway"))
    assert plan.finish.surface is not None and plan.finish.surface.areas.min() > 1e-4
    for name, at in places.items():
        assert name in {change.name for change in plan.grades.moved([(at, heights[name] + 0.010)], up=True)}


def test_a_joint_that_ends_on_one_along_the_edge_has_nothing_ahead() -> None:
    along, across = "{name: J1, from: [7.999, 0], to: [7.999, 8], kind: saw cut}", "from: [0, 4], to: [7.999, 4]"
    report = review_by("joint-ends", pad(f"joints: [{along}, {{name: J2, {across}, kind: saw cut}}]"))
    assert [comment.at.name for comment in report.comments] == ["joint J2"]


def test_a_fixed_height_along_a_run_without_length_is_one_spot() -> None:
    fixed = "fixed: [{name: sill, kind: sill, along: [A, A], height: 100.5, slab: at least 1 in below}]"
    text = design(RECTANGLE, dict.fromkeys(RECTANGLE, 100.0), "rest: lawn") + "\n" + fixed
    assert {(one.height, one.slab) for one in plan_of(text).fixed.matches} == {(100.5 * FOOT, 100 * FOOT)}
    assert not review_by("slab-below-fixed", text).comments


def test_a_valley_from_a_point_to_itself_is_no_gutter() -> None:
    text = (
        example("valley-flow", "falls_short").read_text(encoding="utf-8").replace("along: [V1, V2]", "along: [V2, V2]")
    )
    report = review_by("valley-flow", text)
    assert (report.comments, report.crashes) == ((), ())


def test_a_leg_of_an_accessible_way_from_a_point_to_itself_is_passed_over() -> None:
    text = (
        design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn")
        + "\nsite: {accessible_route: [[5, 0], [5, 0], [5, 8]]}"
    )
    report = review_by("accessible-route", text)
    assert report.crashes == () and len(report.met) == 1


@pytest.mark.parametrize(("fall", "comments"), [(0.02, 0), (0.10, 1)])
def test_the_finish_of_a_slab_inches_wide_is_judged(fall: float, comments: int) -> None:
    strip = {"A": (0, 0), "B": (0.25, 0), "C": (0.25, 1.5), "D": (0, 1.5)}  # 3 in by 18 in: 0.375 ft2
    text = design(strip, plane(strip, 0, -fall), "rest: lawn") + "\npour: {finish: broom}\nsite: {outdoors: yes}"
    assert len(review_by("finish-on-slope", text).comments) == comments


def test_a_door_without_width_has_no_landing() -> None:
    door = "fixtures: [{kind: door, along: [[5, 0], [5, 0]]}]"
    text = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "run: [A, B], beside: building\nrest: lawn") + "\n" + door
    assert not review_by("door-landing", text).comments


def test_an_arc_through_another_corner_is_refused() -> None:
    text = pad("", outline="[[0, 0], [8, 0], {arc_to: [8, 8], through: [0, 8]}, [0, 8]]")
    with pytest.raises(UnreadableError, match="the point this arc passes through is a corner already"):
        plan_of(text)


def test_a_base_under_two_crossing_lines_without_a_shot_where_they_cross_is_known_there() -> None:
    """Two ridges over a square cross in its middle: base shots at their four ends, and a base 4 in under the finish.

    By geometry the depth is 4 in everywhere, at the crossing too; raised 1 ft, the base lies 8 in above the finish.
    """
    corners = {"A": (0, 0), "B": (20, 0), "C": (20, 20), "D": (0, 20), "M": (10, 10)}
    heights = {**dict.fromkeys("ABCD", 100.0), "M": 100.0}
    lines = (
        "  lines: [{name: one, kind: grade break, along: [A, M, C]}, {name: two, kind: grade break, along: [B, M, D]}]"
    )
    for raised, depth in ((0.0, 4 / 12), (1.0, -8 / 12)):
        base = ", ".join(f"{name}: {100 - 4 / 12 + raised:.8f}" for name in "ABCD")
        across = lines.replace("A, M, C", "A, C").replace("B, M, D", "B, D")
        text = design(corners, heights, "rest: lawn", more=f"{across}\n  base: {{{base}}}")
        plan = plan_of(text)
        assert plan.concrete.base_surface is not None and np.isfinite(plan.concrete.base_surface.z).all()
        assert plan.concrete.depths is not None
        assert (plan.concrete.depths.least, plan.concrete.depths.most) == pytest.approx(
            (depth * FOOT, depth * FOOT), abs=1e-6
        )
        assert plan.concrete.depths.covered == pytest.approx(1)
