"""Whole plans of designs: edges, surface, water, walls and fixed heights against closed forms.

Expected values are plane geometry and arithmetic, worked beside each check.
"""

from __future__ import annotations

import math

import pytest
from design_text import plan_of
from slabwright.plan import questions
from slabwright.plan.falls import WallFall
from slabwright.plan.plan import Plan
from slabwright.rulebook.heights import fall_give
from slabwright.source.problem import UnreadableError
from slabwright.units.quantity import slope
from sloped import BOW, L_SHAPE, RECTANGLE, VALLEY, design, plane

FOOT = 0.3048


def shares(plan: Plan) -> dict[str, float]:
    assert sum(one.share for one in plan.water.shares) == pytest.approx(1)
    return {one.to: one.share for one in plan.water.shares}


# edges


@pytest.mark.parametrize("outline", ["A B C D", "D C B A", "C D A B", "B A D C"])
@pytest.mark.parametrize("run", ["[C, D]", "[D, C]"])
def test_a_straight_side_is_that_side_whichever_way_it_is_typed(outline: str, run: str) -> None:
    ground = "[99.60, 99.10]" if run == "[C, D]" else "[99.10, 99.60]"  # 99.60 at C either way
    edges = f"run: {run}, beside: street, name: lane, ground: {ground}\nrest: lawn"
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges, outline))
    (lane,) = [piece for piece in plan.edges.pieces if piece.name == "lane"]
    assert lane.length == pytest.approx(20 * FOOT)
    beside = dict(zip([round(x / FOOT) for x, _ in lane.line], lane.ground or (), strict=True))
    assert beside == pytest.approx({20: 99.60 * FOOT, 0: 99.10 * FOOT})
    assert sum(piece.length for piece in plan.edges.pieces) == pytest.approx(plan.shape.perimeter)
    assert shares(plan) == pytest.approx({"lane": 1})


@pytest.mark.parametrize("outline", ["A, B, C, {arc_to: D, through: M}", "D, {arc_to: C, through: M}, B, A"])
@pytest.mark.parametrize("run", ["[C, D]", "[D, C]", "[C, M, D]", "[D, M, C]"])
def test_an_arc_is_that_side_whichever_way_it_is_typed(outline: str, run: str) -> None:
    edges = f"run: [A, B], beside: building, name: wall\nrun: {run}, beside: lawn, name: bow\nrest: curb"
    plan = plan_of(design(BOW, plane(BOW, 0, -0.02), edges, outline))
    bow = [piece for piece in plan.edges.pieces if piece.name == "bow"]
    assert sum(piece.length for piece in bow) == pytest.approx(math.pi * 6 * FOOT, rel=1e-3)  # half a circle of 6 ft
    (wall,) = [piece for piece in plan.edges.pieces if piece.name == "wall"]
    assert wall.length == pytest.approx(12 * FOOT)
    assert shares(plan) == pytest.approx({"bow": 1})
    # the rim runs straight in height along the arc, from C over M to D
    heights = [height for piece in bow for height in piece.finish or ()]
    assert min(heights) == pytest.approx((100 - 0.02 * 16) * FOOT)
    assert max(heights) == pytest.approx((100 - 0.02 * 10) * FOOT)


def test_runs_that_truly_overlap_are_refused() -> None:
    edges = "run: [A, B, C], beside: building\nrun: [B, C, D], beside: lawn"
    with pytest.raises(UnreadableError, match="lies over the run A-B-C"):
        plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges))


@pytest.mark.parametrize(
    ("outline", "edges", "more", "told"),
    [
        ("A C B D", "rest: lawn", "", "the side from A to C crosses the side from B to D"),
        ("A B B C D", "rest: lawn", "", "B and B are at the same spot"),
        ("A B C D", "run: [A, M], beside: lawn", "", r"M of the run A-M is 6'-0\" off the outline"),
        (
            "A B C D",
            "run: [[4, 4], [8, 4]], beside: pool",
            "openings: [{name: basin, holds: pool, corners: [[4, 4], [8, 4], [8, 8], [4, 8]]}]",
            "lies along the opening basin, and edges are those of the outline$",
        ),
        (
            "A B C D",
            "rest: lawn",
            "openings: [{name: pit, corners: [[18, 4], [22, 4], [22, 8], [18, 8]]}]",
            "opening pit reaches over the edge of the slab",
        ),
        (
            "A B C D",
            "rest: lawn",
            "openings: [{name: pit, corners: [[4, 4], [8, 4], [8, 8], [4, 8]]},"
            " {name: tree, corners: [[7, 7], [9, 7], [9, 9]]}]",
            "openings pit and tree overlap",
        ),
        (
            "A B C D",
            "rest: lawn",
            "openings: [{name: pit, corners: [[4, 4], [8, 8], [8, 4], [4, 8]]}]",
            "opening pit: the side from",
        ),
    ],
)
def test_shapes_that_cannot_be_are_refused_in_words(outline: str, edges: str, more: str, told: str) -> None:
    points = {**RECTANGLE, "M": (10, 6)}
    with pytest.raises(UnreadableError, match=told):
        plan_of(design(points, plane(RECTANGLE, 0, -0.02), edges, outline, more))


def test_what_is_said_about_no_edge_is_asked() -> None:
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "run: [A, B], beside: building"))
    (question,) = [one for one in questions.ask(plan) if "nothing is said" in one.wrong]
    assert question.wrong == "nothing is said about what stands beside B-C, C-D, D-A"
    assert [piece.takes_water for piece in plan.edges.pieces] == [False, None, None, None]


@pytest.mark.parametrize("run", ["[C, D]", "[D, C]"])
def test_a_thickened_edge_tapers_back_into_the_slab(run: str) -> None:
    slab = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn").replace(
        "thickness: {design: 4 in}",
        f"thickness: {{design: 4 in, thickened_edges: [{{run: {run}, depth: 8 in, width: 6 in, taper: 2 ft}}]}}",
    )
    plan = plan_of(slab)
    off = [(0, 8), (0.5, 8), (1.5, 6), (2.5, 4), (5, 4)]  # ft from the edge, in
    found = [plan.thickness.at((10 * FOOT, (12 - away) * FOOT)) for away, _ in off]
    assert found == pytest.approx([inches * 0.0254 for _, inches in off])
    assert {round(plan.thickness.along(one.line) / 0.0254, 6) for one in plan.edges.pieces if "C-D" in one.name} == {8}
    # 20 ft x 4 in x (6 in + half of 24 in)
    assert plan.concrete.quantities.thickened_edges == pytest.approx(20 * (4 / 12) * 1.5 * FOOT**3)


def test_ground_typed_point_by_point_runs_straight_between() -> None:
    edges = "run: [B, C, D], beside: lawn, name: side, ground: [99.9, 99.3, 99.5]\nrest: curb"
    plan = plan_of(design({**RECTANGLE, "K": (20, 6)}, {**plane(RECTANGLE, 0, -0.02), "K": 99.9}, edges))
    first = next(piece for piece in plan.edges.pieces if piece.name == "side")
    assert first.ground == pytest.approx([99.9 * FOOT, 99.6 * FOOT, 99.3 * FOOT])  # K is halfway from B to C
    assert first.finish == pytest.approx([100 * FOOT, 99.9 * FOOT, 99.76 * FOOT])


def test_a_curb_dams_unless_its_height_is_known_and_then_nobody_has_said_whether_it_may_be_overrun() -> None:
    edges = "run: [C, D], beside: curb\nrun: [A, B], beside: curb, ground: 99.5\nrest: wall"
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, 0.02), edges))
    assert {piece.name: (piece.dams, piece.takes_water) for piece in plan.edges.pieces if piece.beside == "curb"} == {
        "edge C-D (curb)": (True, False),
        "edge A-B (curb)": (False, None),
    }
    assert shares(plan) == pytest.approx({"edge A-B (curb)": 1})


# heights


def test_corners_without_a_height_are_named_and_nothing_is_guessed() -> None:
    points = {**RECTANGLE, "H": (10, 0)}
    plan = plan_of(design(points, {"A": 100, "C": 99.7}, "rest: lawn", "A H B C D"))
    assert plan.finish.missing == ("B", "D")  # H lies straight between A and B
    assert plan.finish.surface is None and plan.finish.facets == () and plan.fixed.matches == ()
    assert plan.wall_falls.lines(3.0) == () and plan.falls.parts(lambda slope: True) == ()
    assert plan.water.bare_shares == ()
    assert plan.finish.at((0.0, 0.0)) is None


def test_a_corner_on_a_straight_side_takes_its_height_from_both_ends() -> None:
    points = {**RECTANGLE, "H": (5, 0)}
    plan = plan_of(design(points, {"A": 100, "B": 100.4, "C": 100.4, "D": 100}, "rest: lawn", "A H B C D"))
    assert plan.finish.at((5 * FOOT, 0.0)) == pytest.approx(100.1 * FOOT)  # a quarter of the way


@pytest.mark.parametrize(
    ("unit", "low", "step"),
    [
        ("ft", 99.76, 0.01 * FOOT),
        ("ft", 99.765, 0.005 * FOOT),
        ("ft", 99.7604, 0.001 * FOOT),
        ("in", 97.125, FOOT / 96),
        ("in", 97.0625, FOOT / 192),
        ("m", 99.755, 0.005),
        ("m", 99.76, 0.005),
        ("m", 99.756, 0.001),
        ("mm", 70, 0.005),
        ("mm", 71, 0.001),
    ],
)
def test_the_step_of_the_heights_as_typed_is_the_coarsest_they_all_keep(unit: str, low: float, step: float) -> None:
    plan = plan_of(design(RECTANGLE, {"A": 100, "B": 100, "C": low, "D": low}, "rest: lawn", unit=unit))
    assert plan.finish.typed_step == pytest.approx(step)


def test_a_fall_is_short_where_it_misses_by_a_twentieth_and_by_half_a_step() -> None:
    plan = plan_of(design(RECTANGLE, {"A": 100, "B": 100, "C": 99.77, "D": 99.77}, "rest: lawn"))
    two = slope(0.02)
    assert fall_give(plan, two, 12 * FOOT) == pytest.approx(0.001)  # a twentieth of 2 %
    assert fall_give(plan, two, 2 * FOOT) == pytest.approx(0.005 / 2)  # half of 0.01 ft over 2 ft
    assert fall_give(plan, slope(0.0), 2 * FOOT) == pytest.approx(0.005 / 2)


@pytest.mark.parametrize("fall", [(0.02, 0.0), (0.0, -0.03), (0.013, 0.017), (-0.011, 0.02)])
@pytest.mark.parametrize("points", [RECTANGLE, L_SHAPE])
def test_a_plane_falls_alike_everywhere(points: dict[str, tuple[float, float]], fall: tuple[float, float]) -> None:
    plan = plan_of(design(points, plane(points, *fall), "rest: lawn", " ".join(points)))
    for facet in plan.finish.facets:
        assert facet.slope == pytest.approx(math.hypot(*fall), rel=1e-9)
    assert sum(facet.area for facet in plan.finish.facets) == pytest.approx(plan.shape.area)
    (part,) = plan.falls.parts(lambda slope: slope > 0.001)
    assert (part.name, part.least) == ("the whole slab", pytest.approx(math.hypot(*fall)))


def test_fall_parts_are_told_apart_and_named_by_their_points() -> None:
    # a grade break at 6 ft: level before it, 2 % after it
    heights = {"A": 100, "B": 100, "V1": 100, "V2": 100, "C": 99.88, "D": 99.88}
    lines = "  lines: [{name: break, kind: grade break, along: [V1, V2]}]"
    plan = plan_of(design(VALLEY, heights, "rest: lawn", more=lines))
    (flat,) = plan.falls.parts(lambda slope: slope < 0.01)
    (steep,) = plan.falls.parts(lambda slope: slope >= 0.01)
    assert (flat.name, steep.name) == ("the part between A, B, V1, V2", "the part between C, D, V1, V2")
    assert [flat.area, steep.area] == pytest.approx([120 * FOOT**2] * 2)
    assert (flat.most, steep.least) == (pytest.approx(0), pytest.approx(0.02))


def test_a_part_with_too_many_points_is_named_by_its_panel_or_its_middle() -> None:
    # a level octagon of 8 ft in the middle of a slab that falls
    ring = [(7, 4), (9, 2), (12, 2), (14, 4), (14, 8), (12, 10), (9, 10), (7, 8)]
    points = {**RECTANGLE, **{f"P{k}": at for k, at in enumerate(ring)}}
    heights = {**dict.fromkeys("ABCD", 99.5), **{f"P{k}": 100.0 for k in range(8)}}
    lines = f"  lines: [{{name: rim, kind: ridge, along: [{', '.join(f'P{k}' for k in (*range(8), 0))}]}}]\n"
    (top,) = plan_of(design(points, heights, "rest: lawn", more=lines)).falls.parts(lambda slope: slope < 0.01)
    assert top.name == "the part round (10.50 ft, 6.00 ft)"
    joint = "joints: [{name: J1, from: [6, 0], to: [6, 12], kind: saw cut}]"
    (top,) = plan_of(design(points, heights, "rest: lawn", more=lines + joint)).falls.parts(lambda slope: slope < 0.01)
    assert top.name == "a part of panel P2"


def test_many_small_parts_are_told_in_five() -> None:
    # humps 1 ft apart in a row: each of the 20 strips between them falls its own way, split by level strips
    points = {f"{side}{k}": (float(k), 12.0 * (side == "q")) for side in "pq" for k in range(41)}
    outline = " ".join([*(f"p{k}" for k in range(41)), *(f"q{k}" for k in range(40, -1, -1))])
    heights = {name: 100 - 0.1 * ((x % 4) in (1, 2)) for name, (x, _) in points.items()}
    lines = "  lines:\n" + "\n".join(f"    - {{name: l{k}, kind: ridge, along: [p{k}, q{k}]}}" for k in range(1, 40))
    plan = plan_of(design(points, heights, "rest: lawn", outline, lines))
    parts = plan.falls.parts(lambda slope: slope > 0.01)
    assert len(parts) == 5
    assert parts[-1].others == 20 - 5 and parts[-1].name.endswith("and 15 smaller parts")
    assert plan.grades.for_part(parts[-1], 0.005, least=False) == ()


# water


@pytest.mark.parametrize("outline", ["A B C D E F", "F E D C B A", "C D E F A B"])
def test_an_l_sheds_by_the_ground_above_each_side(outline: str) -> None:
    # falls towards -x: the upper arm (100 of 300 ft2) leaves over D-E, the rest over F-A
    plan = plan_of(design(L_SHAPE, plane(L_SHAPE, 0.02, 0), "rest: lawn", outline))
    found = {frozenset(name.removeprefix("edge ")[:3].split("-")): share for name, share in shares(plan).items()}
    assert found == pytest.approx({frozenset("DE"): 1 / 3, frozenset("FA"): 2 / 3})


def test_water_runs_round_an_opening_or_into_it() -> None:
    # a diamond 4 ft wide, its upper sides from 4 to 6 ft down the slope: 4 x 5 ft2 run into it, of 240 - 8
    opening = "openings: [{name: tree, corners: [[10, 4], [12, 6], [10, 8], [8, 6]]%s}]"
    slab = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn", more=opening % "")
    assert shares(plan_of(slab)) == pytest.approx({"edge C-D (lawn)": 1})
    slab = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn", more=opening % ", takes_water: true")
    plan = plan_of(slab)
    assert shares(plan) == pytest.approx({"edge C-D (lawn)": 1 - 20 / 232, "tree": 20 / 232})
    assert plan.exits.outlets == (*(f"edge {side} (lawn)" for side in ("A-B", "B-C", "C-D", "D-A")), "tree")


@pytest.mark.parametrize("at", ["[10, 12]", "[20, 12]", "[0, 12.004]"])
def test_a_drain_at_the_edge_takes_the_water_of_a_walled_slab(at: str) -> None:
    more = f"fixtures: [{{kind: drain, name: gully, at: {at}}}]"
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: wall", more=more))
    assert shares(plan) == pytest.approx({"gully": 1})
    assert plan.water.ponds == () and plan.exits.outlets == ("gully",)


def test_a_drain_set_above_its_surroundings_leaves_a_pond() -> None:
    # the yard is lowest at M, and the drain stands beside it with its rim 0.05 ft higher
    points = {**RECTANGLE, "M": (10, 6)}
    heights = {"A": 100, "B": 100, "C": 100, "D": 100, "M": 99.8}
    more = "fixtures: [{kind: drain, name: gully, at: [5, 6], rim: 99.85}]"
    plan = plan_of(design(points, heights, "rest: wall", more=more))
    (pond,) = plan.water.ponds
    assert pond.level == pytest.approx(99.85 * FOOT) and pond.depth == pytest.approx(0.05 * FOOT)


def test_a_valley_that_ends_at_a_curb_holds_a_pyramid_of_water() -> None:
    # 2 % to the valley from both sides, 1 % along it; spills at C, 0.12 ft above the end of the valley.
    # There the water is 12 ft wide and 0.12 ft deep, and it reaches 12 ft back: 72 ft2 and 0.72 x 12 / 3 ft3
    heights = {"A": 100.2, "B": 100.0, "C": 100.0, "D": 100.2, "V1": 100.08, "V2": 99.88}
    edges = "run: [A, B], beside: building, name: wall\nrun: [B, V2, C], beside: curb, name: kerb\nrest: lawn"
    plan = plan_of(design(VALLEY, heights, edges, more="  lines: [{name: v, kind: valley, along: [V1, V2]}]"))
    (pond,) = plan.water.ponds
    assert pond.level == pytest.approx(100 * FOOT)
    assert pond.depth == pytest.approx(0.12 * FOOT)
    assert pond.area == pytest.approx(72 * FOOT**2)
    assert pond.volume == pytest.approx(2.88 * FOOT**3)
    assert set(pond.against) == {"wall", "kerb"}


def test_ground_above_a_part_of_an_edge_sends_the_water_to_the_rest_of_it() -> None:
    # ground crosses the slab halfway along C-D: the level edge lets all water out over its open half
    edges = "run: [C, D], beside: lawn, name: low side, ground: [99.56, 99.96]\nrest: wall"
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges))
    assert shares(plan) == pytest.approx({"low side": 1})


def test_bare_shares_tell_where_water_would_go_if_no_ground_stood_beside() -> None:
    edges = "run: [C, D], beside: lawn, name: low side, ground: 100.5\nrest: lawn"
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges))
    assert "low side" not in shares(plan)
    assert {one.to: one.share for one in plan.water.bare_shares} == pytest.approx({"low side": 1})


def test_edges_of_one_name_of_which_only_one_takes_water_are_told_apart() -> None:
    edges = (
        "run: [A, B], beside: lawn, name: garden, takes_water: false\n"
        "run: [C, D], beside: lawn, name: garden\nrest: lawn"
    )
    heights = {"A": 100, "B": 100, "C": 100, "D": 100, "V1": 100.12, "V2": 100.12}
    lines = "  lines: [{name: crest, kind: ridge, along: [V1, V2]}]"
    plan = plan_of(design(VALLEY, heights, edges, more=lines))
    assert {one.allowed: one.share for one in plan.water.shares} == pytest.approx({True: 0.5, False: 0.5})


# walls


def from_walls(plan: Plan, within: float) -> list[WallFall]:
    """Falls along the lines square to the walls, out to the first low line."""
    return [fall for line in plan.wall_falls.lines(within) for fall in line.falls[: line.before]]


def away(plan: Plan, within: float = 10 * FOOT) -> set[float]:
    return {round(fall.away, 9) for fall in from_walls(plan, within)}


@pytest.mark.parametrize("outline", ["A B C D E F", "F E D C B A"])
@pytest.mark.parametrize("run", ["[D, E, F]", "[F, E, D]"])
def test_both_walls_of_a_house_corner_are_looked_at(outline: str, run: str) -> None:
    edges = f"run: {run}, beside: building, name: house\nrest: lawn"
    plan = plan_of(design(L_SHAPE, plane(L_SHAPE, -0.02, 0.03), edges, outline))  # D-E faces +x, E-F faces -y
    assert away(plan) == {0.02, 0.03}


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_away_is_the_part_of_the_fall_that_leads_from_the_wall(unit: str) -> None:
    edges = "run: [B, A], beside: building\nrest: lawn"
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0.04, -0.015), edges, unit=unit))
    assert away(plan) == {0.015}
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0.04, 0.015), edges, unit=unit))
    assert away(plan) == {-0.015}


def test_a_valley_before_10_ft_ends_what_is_asked_of_the_wall_side() -> None:
    heights = {"A": 100.2, "B": 100.0, "C": 100.0, "D": 100.2, "V1": 100.08, "V2": 99.88}
    lines = "  lines: [{name: v, kind: valley, along: [V1, V2]}]"
    edges = "run: [A, B], beside: building\nrest: lawn"
    assert away(plan_of(design(VALLEY, heights, edges, more=lines))) == {0.02}


def test_a_yard_that_falls_to_a_drain_falls_away_from_its_wall_up_to_the_corners() -> None:
    # beside the corners the side facets of the pyramid take over within an inch: they fall along the wall, to the drain
    points = {**RECTANGLE, "M": (10, 6)}
    heights = {"A": 100, "B": 100, "C": 100, "D": 100, "M": 99.88}
    more = "fixtures: [{kind: drain, at: M}]"
    plan = plan_of(design(points, heights, "run: [A, B], beside: building\nrest: curb", more=more))
    assert away(plan) == {0.02}


# fixed heights


def test_a_fixed_line_longer_than_the_slab_meets_it_at_its_corners() -> None:
    points = {**RECTANGLE, "S": (-5, -0.3), "T": (25, -0.3), "U": (10, -3)}
    more = (
        "fixed:\n"
        "  - {name: sill, kind: sill, along: [S, T], height: [100.1, 100.4]}\n"
        "  - {name: far, kind: other, at: U, height: 100}\n"
        "  - {name: cover, kind: other, at: [10, 6], height: 100.0, slab: level}"
    )
    plan = plan_of(design(points, plane(RECTANGLE, 0, -0.02), "rest: lawn", more=more))
    found = [(m.fixed.name, round(m.at[0] / FOOT, 6), m.height / FOOT, m.slab / FOOT) for m in plan.fixed.matches]
    assert found == [
        ("sill", 0, pytest.approx(100.1 + 0.3 * 5 / 30), pytest.approx(100)),
        ("sill", 20, pytest.approx(100.1 + 0.3 * 25 / 30), pytest.approx(100)),
        ("cover", 10, 100.0, pytest.approx(99.88)),  # 6 ft down at 2 %; `far` lies 3 ft off and meets nothing
    ]


# heights that would make it fall as asked


def test_written_heights_are_hundredths_of_a_foot_or_millimeters() -> None:
    feet = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn"))
    metric = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn", unit="m"))
    assert [feet.grades.written(99.876 * FOOT, up) / FOOT for up in (True, False, None)] == pytest.approx(
        [99.88, 99.87, 99.88]
    )
    assert [metric.grades.written(9.8763, up) for up in (True, False, None)] == pytest.approx([9.877, 9.876, 9.876])
    assert feet.grades.written(99.88 * FOOT, up=True) == feet.grades.written(99.88 * FOOT, up=False)


def test_places_are_named_by_their_points_or_by_their_numbers() -> None:
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn"))
    assert plan.shape.name_at((20 * FOOT, 12 * FOOT)) == "C"
    assert plan.shape.name_at((10 * FOOT, 0.0)) == "(10.00 ft, 0.00 ft)"


def test_a_place_between_points_is_moved_by_the_points_that_carry_it() -> None:
    plan = plan_of(design(RECTANGLE, plane(RECTANGLE, 0, -0.02), "rest: lawn"))
    changes = plan.grades.moved([((5 * FOOT, 0.0), 99.9 * FOOT)], up=False)
    assert {one.name: (one.old / FOOT, one.new / FOOT) for one in changes} == {
        "A": (pytest.approx(100), pytest.approx(99.9)),
        "B": (pytest.approx(100), pytest.approx(99.9)),
    }


def test_a_drain_whose_rim_is_given_is_not_moved() -> None:
    more = "fixtures: [{kind: drain, at: [10, 6], rim: 99.99}]"
    plan = plan_of(design(RECTANGLE, dict.fromkeys("ABCD", 100.0), "rest: lawn", more=more))
    (part,) = plan.falls.parts(lambda slope: slope < 0.01)
    assert plan.grades.for_part(part, 0.02, least=True) == ()


@pytest.mark.parametrize("run", ["[C, D]", "[B, C]"])
def test_a_raised_edge_turns_the_fall_round_and_a_bow_is_not_raised(run: str) -> None:
    edges = f"run: {run}, beside: lawn, name: side\nrest: curb"
    outline = "A, B, C, {arc_to: D, through: M}"
    plan = plan_of(design(BOW, plane(BOW, -0.01, -0.02), edges, outline))
    (side,) = [piece for piece in plan.edges.pieces if piece.name == "side"]
    raised = {one.name: one.new / 0.3048 for one in plan.raising.edge(side, 0.01)}
    if run == "[C, D]":
        assert not raised
        return
    assert raised and set(raised) <= {"B", "C"}
    again = plan_of(design(BOW, {**plane(BOW, -0.01, -0.02), **raised}, edges, outline))
    (side,) = [piece for piece in again.edges.pieces if piece.name == "side"]
    assert again.raising.edge(side, 0.01) == ()


def test_a_base_graded_parallel_to_a_folded_finish_is_one_depth_below_it_everywhere() -> None:
    # the same points 4 in (1/3 ft) lower: prism of even depth, geometry; 4 in = 101.6 mm
    corners = {"A": (0, 0), "B": (20, 0), "C": (20, 40), "D": (0, 40), "V1": (10, 0), "V2": (10, 40)}
    finish = {"A": 100.2, "B": 100.2, "C": 99.8, "D": 99.8, "V1": 99.9, "V2": 99.5}
    base = {name: round(height - 4 / 12, 6) for name, height in finish.items()}
    plan = plan_of(
        "format: 1\njob: {name: Valley yard}\nunits: {plan: ft, height: ft}\nuse: driveway\n"
        f"points: {{{', '.join(f'{n}: [{x}, {y}]' for n, (x, y) in corners.items())}}}\n"
        "outline: [A, B, C, D]\nthickness: {design: 4 in}\nheights:\n"
        f"  finish: {{{', '.join(f'{n}: {h}' for n, h in finish.items())}}}\n"
        f"  base: {{{', '.join(f'{n}: {h}' for n, h in base.items())}}}\n"
        "  lines: [{name: dip, kind: valley, along: [V1, V2]}]\n"
    )
    assert plan.concrete.depths is not None
    assert (plan.concrete.depths.least, plan.concrete.depths.most) == pytest.approx((4 * 0.0254, 4 * 0.0254), abs=1e-6)


def test_height_lines_that_disagree_where_they_cross_are_asked_about_in_the_unit_of_the_plan() -> None:
    # halfway along each line: 99.80 ft by the one, 99.60 ft by the other
    points = {**RECTANGLE, "M1": (10, 0), "M2": (10, 12), "N1": (0, 6), "N2": (20, 6)}
    heights = {**plane(RECTANGLE, 0, -0.02), "M1": 99.9, "M2": 99.7, "N1": 99.7, "N2": 99.5}
    lines = (
        "  lines:\n    - {name: one, kind: ridge, along: [M1, M2]}\n    - {name: two, kind: valley, along: [N1, N2]}"
    )
    plan = plan_of(design(points, heights, "rest: lawn", more=lines))
    asked = [question.wrong for question in questions.ask(plan)]
    (crossing,) = [
        wrong for wrong in asked if wrong.startswith("two height lines cross at (10.00 ft, 6.00 ft) but say")
    ]
    assert all(said in crossing for said in ("99.80 ft", "99.60 ft"))


CROSSED = {**RECTANGLE, "M1": (10, 0), "M2": (10, 12), "N1": (0, 6), "N2": (20, 6)}
CROSSING = (
    "  lines:\n    - {name: one, kind: valley, along: [M1, M2]}\n    - {name: two, kind: ridge, along: [N1, N2]}\n"
)


@pytest.mark.parametrize("middle", [False, True])
def test_no_heights_are_told_that_would_set_two_crossing_lines_at_odds(middle: bool) -> None:
    # 1.5 % from the wall A-B; with a point where they cross both lines follow it, without one each goes its own way
    points = {**CROSSED, "X": (10, 6)} if middle else CROSSED
    plan = plan_of(design(points, plane(points, 0, -0.015), "run: [A, B], beside: building\nrest: lawn", more=CROSSING))
    assert plan.finish.surface is not None
    assert plan.finish.surface.clashes == ()
    assert plan.finish.lines_cross is not middle
    falls = [fall for fall in from_walls(plan, 6 * FOOT) if fall.away < 0.02]
    told = {one.name for one in plan.grades.for_wall(falls, 0.02)}
    assert told == ({"N1", "N2", "X"} if middle else set())
    low = [((0.0, 6 * FOOT), 99.7 * FOOT)]  # N1 alone, by 2 1/2 in: the crossing lines' own middle stays
    assert [one.name for one in plan.grades.moved(low, up=False)] == (["N1"] if middle else [])
