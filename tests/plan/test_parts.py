"""Parts of one slab with a use, thickness or steel of their own: areas, volumes, what rules ask of each, refusals.

Every volume is worked by hand beside the check (source: arithmetic).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from design_text import plan_of, review_by
from judged import ended, judged
from slabwright.design.read import read_design
from slabwright.drawing.content import drawing
from slabwright.drawing.section import section
from slabwright.plan.given import DoesNotApply
from slabwright.plan.plan import Plan
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.sheets.order.bars_and_mesh import all_steel
from slabwright.sheets.stake.lines import usual_line
from slabwright.sheets.stake.pins import set_out
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254
APRON = "{name: apron, corners: [[0, 0], [20, 0], [20, 6], [0, 6]], thickness: 6 in%s}"
PATH = "{name: path, corners: [[16, 26], [20, 26], [20, 36], [16, 36]], use: walk, thickness: 4 in}"


def drive(*parts: str, more: str = "", thickness: str = "{design: 5 in}") -> str:
    """A drive 20 ft by 36 ft, 5 in thick, with parts."""
    listed = f"parts: [{', '.join(parts)}]\n" if parts else ""
    return (
        "format: 1\njob: {name: Drive in parts}\nunits: {plan: ft, height: ft}\nuse: driveway\n"
        f"outline: [[0, 0], [20, 0], [20, 36], [0, 36]]\n{listed}thickness: {thickness}\n{more}"
    )


def cubic_feet(plan: Plan) -> float:
    return plan.concrete.quantities.net / FOOT**3


def test_without_parts_the_slab_is_one_area() -> None:
    (area,) = plan_of(drive()).areas.all
    assert (area.name, area.use, area.thickness.typed, area.thickness_path) == (
        "the slab", "driveway", "5 in", "thickness.design",
    )  # fmt: skip


def test_volume_is_summed_over_parts() -> None:
    plan = plan_of(drive(APRON % "", PATH))
    # 20 x 6 x 6/12, 4 x 10 x 4/12, and the rest (720 - 120 - 40) x 5/12
    by_part = [60.0, 40 / 3, 560 * 5 / 12]
    assert [volume / FOOT**3 for volume in plan.concrete.area_volumes] == pytest.approx(by_part)
    assert cubic_feet(plan) == pytest.approx(sum(by_part))
    assert [area.name for area in plan.areas.all] == ["the apron", "the path", "the rest of the slab"]


def test_a_taper_is_a_wedge_on_the_thinner_side() -> None:
    flat, tapered = (plan_of(drive(APRON % taper)) for taper in ("", ", taper: 3 ft"))
    assert cubic_feet(tapered) - cubic_feet(flat) == pytest.approx(20 * 3 * (1 / 12) / 2)  # 1 in down to nothing
    assert tapered.thickness.at((3 * FOOT, 7.5 * FOOT)) == pytest.approx(5.5 * INCH)  # half way along it
    assert tapered.thickness.at((3 * FOOT, 5.9 * FOOT)) == pytest.approx(6 * INCH)


def test_a_thickened_edge_adds_to_the_thickness_of_the_part_it_runs_in() -> None:
    edge = "{design: 5 in, thickened_edges: [{run: [[0, 0], [20, 0]], depth: 9 in, width: 1 ft, taper: 2 ft}]}"
    plan = plan_of(drive(APRON % "", thickness=edge))
    body = 120 * 6 / 12 + 600 * 5 / 12
    assert cubic_feet(plan) == pytest.approx(body + 20 * (3 / 12) * (1 + 2 / 2))  # 3 in more, not 4
    assert plan.thickness.at((5 * FOOT, 0.5 * FOOT)) == pytest.approx(9 * INCH)


def test_where_the_base_is_shot_the_slab_is_as_deep_as_its_parts() -> None:
    # A finish in one plane; the base 6 in below it under the apron and 5 in below elsewhere, shot on both sides of
    # the line between them, which lies 6 ft from the street.
    deep, shallow = [(0, 0), (20, 0), (20, 5), (0, 5)], [(0, 7), (20, 7), (20, 36), (0, 36)]
    shots = [*((x, y, 99.5) for x, y in deep), *((x, y, 99.58333) for x, y in shallow)]
    names = {f"K{number}": shot for number, shot in enumerate(shots)}
    points = ", ".join(f"{name}: [{x}, {y}]" for name, (x, y, _) in names.items())
    heights = (
        "heights:\n  finish: {K0: 100, K1: 100, K6: 100, K7: 100}\n"
        f"  base: {{{', '.join(f'{name}: {z}' for name, (_, _, z) in names.items())}}}\npoints: {{{points}}}\n"
    )
    plan = plan_of(drive(APRON % "", more=heights))
    assert cubic_feet(plan) == pytest.approx(120 * 6 / 12 + 600 * 5 / 12, abs=0.01)
    assert plan.concrete.depths is not None
    assert plan.concrete.depths.mean == pytest.approx(plan.concrete.depths.mean_drawn, abs=1e-4)
    assert all(isinstance(one, Margin) for one in judged("base-depth", drive(APRON % "", more=heights)))
    short = [one for one in judged("base-depth", drive((APRON % "").replace("6 in", "7 in"), more=heights))
             if isinstance(one, Finding)]  # fmt: skip
    assert [round(one.shown.si / INCH, 2) for one in short] == [1.0]  # an inch short, in the apron


def test_each_panel_is_judged_by_its_own_thickness() -> None:
    joint = "joints: [{name: J1, from: [0, 18], to: [20, 18], kind: saw cut, depth: 1 1/2 in}]\n"
    part = "{name: lower half, corners: [[0, 0], [20, 0], [20, 18], [0, 18]], thickness: 4 in}"
    found = {one.at.name: one.asked for one in judged("panel-spacing", drive(part, more=joint))}
    # the heavier limit: 36 x 4 in = 12 ft, and 36 x 5 in = 15 ft
    assert {name: round(asked.si / FOOT, 3) for name, asked in found.items() if asked} == {
        "panel P1": 15.0, "panel P2": 12.0,
    }  # fmt: skip


def test_a_cut_is_a_quarter_of_the_thicker_part_beside_it() -> None:
    joint = "joints: [{name: J1, from: [0, 6], to: [20, 6], kind: saw cut, depth: 1 1/4 in}]\n"
    (found,) = judged("joint-depth", drive(APRON % "", more=joint))
    assert isinstance(found, Finding)
    assert found.asked is not None
    assert found.asked.si == pytest.approx(1.5 * INCH)
    assert plain(found.says, "us").endswith("in the apron")
    (alone,) = judged("joint-depth", drive(more=joint))
    assert isinstance(alone, Margin)


def test_least_thickness_goes_by_the_use_of_each_part() -> None:
    thin = "{name: path, corners: [[16, 26], [20, 26], [20, 36], [16, 36]], use: %s, thickness: 3 1/2 in}"
    walk, car = (judged("least-thickness", drive(thin % use)) for use in ("walk", "vehicle pad"))
    assert [(one.at.name, one.limit.name) for one in walk if isinstance(one, Finding)] == [
        ("the path", "walked_at_least")
    ]
    (hold,) = [one for one in car if isinstance(one, Finding)]
    assert (hold.at.name, hold.limit.name, hold.limit.weight) == ("the path", "cars_at_least", "hold")
    (remedy,) = hold.remedies
    assert [edit.path for edit in remedy.edits] == ["parts[0].thickness"]


def test_a_part_has_a_form_board_of_its_own() -> None:
    boards = judged("form-board", drive(APRON % ", form_board: 2x8", thickness="{design: 5 in, form_board: 2x6}"))
    assert all(isinstance(one, Margin) for one in boards)
    (short,) = (
        one
        for one in judged("form-board", drive(APRON % "", thickness="{design: 5 in, form_board: 2x6}"))
        if isinstance(one, Finding)
    )
    assert short.shown.si == pytest.approx(0.5 * INCH)  # 6 in behind 5 1/2 in


@pytest.mark.parametrize(
    ("step", "taper", "weight"),
    [("7 in", "", "caution"), ("6 in", "", "note"),
     ("7 in", ", taper: 19 in", "caution"), ("7 in", ", taper: 20 in", None)],
)  # fmt: skip
def test_a_change_inside_a_panel_is_brought_back_over_ten_steps(step: str, taper: str, weight: str | None) -> None:
    (found,) = judged("thickness-change", drive((APRON % taper).replace("6 in", step)))
    assert (found.limit.weight if isinstance(found, Finding) else None) == weight


def test_a_change_at_a_joint_is_silent() -> None:
    joint = "joints: [{name: J1, from: [0, 6], to: [20, 6], kind: construction joint}]\n"
    assert isinstance(ended("thickness-change", drive(APRON % "", more=joint)), DoesNotApply)


def test_the_review_names_uses_and_thicknesses() -> None:
    report = review_by("thickness-change", drive(APRON % "", PATH))
    assert report.use == "driveway and walk"
    assert report.size is not None
    assert [round(one / INCH, 3) for one in report.size.thicknesses] == [4, 5, 6]


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        ([APRON % "", APRON % ""], 'a second part is called "apron"; the first is on line 6'),
        ([APRON % "", PATH.replace("26", "2")], "parts apron and path lie over each other"),
        ([PATH.replace("[20, 26]", "[23, 26]")], "part path reaches outside the slab"),
        (["{name: path, corners: [[16, 26], [20, 26]], use: walk}"], "2 corners make no shape"),
        ([PATH.replace("[20, 36], [16, 36]", "[16, 36], [20, 36]")], "part path: the side from"),
        ([PATH.replace("walk", "walkk")], '"use: walkk" is not known here'),
        ([PATH.replace("use: walk", "steel: none")], '"steel" is not a key known here'),
        (
            [PATH.replace("use: walk", "reinforcement: {fiber: {kind: micro synthetic, dose: 1 lb/yd3}}")],
            "fiber is mixed into all of the concrete",
        ),
    ],
)  # fmt: skip
def test_what_is_no_part_is_refused_with_its_line(parts: list[str], told: str, tmp_path: Path) -> None:
    path = tmp_path / "drive.slab.yaml"
    path.write_text(drive(*parts))
    with pytest.raises(UnreadableError) as refused:
        Plan(read_design(path)[0])
    (problem,) = refused.value.problems
    assert problem.wrong.startswith(told)
    assert problem.write
    assert problem.place.line == 6


TERRACE = """
format: 1
job: {name: Terrace with a ramp}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [16, 0], C: [16, 12], D: [4, 12], E: [0, 12], F: [4, 22], G: [0, 22]}
outline: [A, B, C, D, F, G, E]
parts: [{name: ramp, corners: [E, D, F, G], use: USE, thickness: 5 in}]
heights:
  finish: {A: 100, B: 100, C: 99.76, D: 99.76, E: 99.76, F: 99.06, G: 99.06}
  lines: [{name: head of the ramp, kind: grade break, along: [E, D]}]
thickness: {design: 4 in}
"""


@pytest.mark.parametrize(("use", "weights"), [("walk", ["note"]), ("patio", ["caution"])])
def test_a_ramp_may_be_steeper_than_the_terrace_it_belongs_to(use: str, weights: list[str]) -> None:
    """The terrace falls 2 %, the ramp 7 %: a note on a walk, over 5 %, and a caution on a patio, over 4 %."""
    found = [one for one in judged("greatest-fall", TERRACE.replace("USE", use)) if isinstance(one, Finding)]
    assert [one.limit.weight for one in found] == weights
    assert [one.shown.si for one in found] == pytest.approx([0.07])


def test_steel_of_a_part_is_judged_by_the_thickness_there() -> None:
    mat = 'reinforcement: {bars: {size: "#4", spacing: 18 in, top_cover: 3 in}}'
    text = drive(APRON % f", {mat}", more="site: {outdoors: false}\nreinforcement: none\n")
    # the middle lies 3 in + one bar of 1/2 in deep; 6 in / 2 + 1/4 in is the lowest in the apron
    found = [one for one in judged("steel-position", text) if one.limit.name.endswith("middle_at_most")]
    assert [(one.at.name, one.shown.si, one.asked and one.asked.si) for one in found] == [
        ("the bars of the apron", pytest.approx(3.5 * INCH), pytest.approx(6 / 2 * INCH + found[0].limit.value.si)),
    ]  # fmt: skip
    assert found[0].at.place.path == "parts[0].reinforcement.bars"


def test_bars_are_bought_for_the_part_they_lie_in() -> None:
    mat = 'reinforcement: {bars: {size: "#4", spacing: 12 in, ends_short: 3 in, at_joints: stop}}'
    steel = all_steel(plan_of(drive(APRON % f", {mat}")))
    assert steel is not None
    (bars,) = steel.bars
    # 19 ft 6 in one way: from 3 in off the street to the joint-free line 6 ft off it, 5 ft 9 in, at most 1 ft apart: 7
    # runs; the other way 5 ft 9 in long, over 19 ft 6 in at most 1 ft apart: 21 runs
    assert {round(run / INCH): count for run, count in bars.runs.items()} == {234: 7, 69: 21}


def test_the_sheets_follow_the_parts() -> None:
    heights = "heights: {finish: {A: 99, B: 99, C: 99.9, D: 99.9}}\n"
    corners = "points: {A: [0, 0], B: [20, 0], C: [20, 36], D: [0, 36]}\n"
    plan = plan_of(drive(APRON % "", PATH, more=heights + corners + "site: {base: {thickness: 4 in}}\n"))
    pins = {(round(pin.at[0] / FOOT), round(pin.at[1] / FOOT)): pin for pin in set_out(plan, usual_line(plan), 3.0)}
    assert pins[0, 0].base == pytest.approx((99 - 6 / 12) * FOOT)
    assert pins[0, 0].subgrade == pytest.approx((99 - 10 / 12) * FOOT)
    assert pins[20, 36].base == pytest.approx((99.9 - 4 / 12) * FOOT)
    assert (0, 6) in pins  # a corner of the apron: the base steps there
    drawn = section(plan, (1 * FOOT, 0.0), (1 * FOOT, 36 * FOOT), "cut")
    (part,) = drawn["parts"]
    deep = {
        round(along / FOOT, 3): (top - under) / INCH
        for along, top, under in zip(part["along_m"], part["finish_m"], part["underside_m"], strict=True)
    }
    assert deep[0.0] == pytest.approx(6)
    assert deep[36.0] == pytest.approx(5)
    assert max(along for along, thick in deep.items() if thick > 5.9) == pytest.approx(6.0, abs=0.01)
    areas = drawing(plan, ["areas"])["areas"]
    assert [(one["name"], one["use"], round(one["thickness_m"] / INCH)) for one in areas] == [
        ("the apron", "driveway", 6), ("the path", "walk", 4), ("the rest of the slab", "driveway", 5),
    ]  # fmt: skip
