"""A whole design file read into the typed design, and the questions about files that look like a slip."""

from __future__ import annotations

import datetime
import math
from pathlib import Path

import pytest
from design_text import pad, plan_of
from slabwright.design import steel
from slabwright.design.model import Design
from slabwright.design.phrases import asked as what_is_asked
from slabwright.design.read import read_design, read_text
from slabwright.source.place import Place
from slabwright.source.problem import UnreadableError
from slabwright.units.quantity import QuantityError
from snippets import asked, refused, saved

FOOT = 0.3048  # m, exact (NIST SP 811)
INCH = 0.0254  # m, exact

WHOLE = """\
format: 1
job: {name: Rowing club trailer bay, pour: 2026-04-14, number: 26-017}
units: {plan: ft, height: ft}
use: vehicle pad
site:
  freezing: severe
  deicing_salt: yes
  soil: {kind: silty sand, support: 150 pci, swell: 20 %, bank_weight: 3000 lb/yd3}
  base: {material: crushed stone, thickness: 4 in}
points: {A: [0, 0], B: [24, 0], C: [24, 40], D: [10, 40], E: [10, 22], F: [0, 22], V1: [12, 0], V2: [17, 40], M: [4, 9]}
outline: [A, B, C, D, {arc_to: E, through: [5, 31]}, F]
openings: [{corners: [[18, 10], [20, 10], [20, 12], [18, 12]], holds: planter}]
edges:
  - {run: [A, B], beside: building, name: workshop wall, isolation: {material: foam, thickness: 1/2 in, depth: full}}
  - {run: [C, D], beside: street, takes_water: true, ground: [99.30, 99.28]}
  - {run: [B, C], beside: wall, isolation: none}
  - {rest: open ground}
heights:
  datum: workshop sill = 100.00
  finish: {A: 99.90, B: 99.88, V1: 99.72, V2: "30.267 m", C: 99.42}
  lines: [{kind: valley, along: [V1, V2]}]
  benches: {BM1: 100.00}
  falls: [{along: [A, D], fall: 1/4 in/ft}]
fixed:
  - {name: workshop sill, kind: sill, along: [A, B], height: 100.00, slab: at least 1 in below}
  - {name: gutter, kind: gutter, at: [12, 40], height: 99.2}
fixtures:
  - {kind: drain, at: [12, 3], rim: 99.2, isolation: {material: foam, depth: 4 in}}
  - {kind: door, along: [[2, 0], [5, 0]], sill: 100, swings_over: no, required_exit: true}
thickness:
  design: 5 in
  form_board: 2x6
  thickened_edges: [{run: [C, D], depth: 8 in, taper: 3 ft}]
  steps: [{width: 4 ft, tread: 12 in, riser: 7 in, count: 3}]
joints:
  - {name: long one, from: E, to: [24, 22], kind: saw cut, depth: 1 1/4 in, cut_after: 8 h}
  - {along: [V1, [12, 22], V2], kind: early saw cut, depth: 1 1/4"}
reinforcement:
  bars: {size: "#4", spacing: 18 in, top_cover: 2 in, held_by: chairs, ends_short: 3 in, at_joints: stop}
  mesh: {style: 6x6 W2.9, lap: 8 in}
  fiber: {kind: micro synthetic, dose: 1.5 lb/yd3}
  corner_bars: [{at: E, size: "#4", length: 4 ft}]
loads: [{vehicle: trailer, axle: 7000 lb, wheels_per_axle: 2, tire_pressure: 65 psi, near_edge: true}]
mix: {strength: 4000 psi, air: 6 %, slump: 4 in, aggregate: 3/4 in, water_cement: 0.45}
order: {volume: 12 yd3, truck: 10 yd3, allowance: 5 %, method: pump, hose: 2 1/2 in}
variances: [{rule: panel-aspect, at: P3, reason: owner, accepted_by: engineer, date: 2026-03-30, until: 2026-12-31}]
"""


@pytest.fixture
def whole(tmp_path: Path) -> Design:
    path = tmp_path / "bay.slab.yaml"
    path.write_text(WHOLE, encoding="utf-8")
    design, questions = read_design(path)
    assert questions == ()
    return design


def test_the_head_of_the_file(whole: Design) -> None:
    assert (whole.job.name, whole.job.number) == ("Rowing club trailer bay", "26-017")
    assert whole.job.pour == datetime.date(2026, 4, 14)
    assert (whole.use, whole.plan_unit, whole.height_unit, whole.system) == ("vehicle pad", "ft", "ft", "us")
    assert (whole.site.freezing, whole.site.deicing_salt, whole.site.outdoors) == ("severe", True, None)


def test_points_outline_and_openings_are_in_meters(whole: Design) -> None:
    assert (whole.points["C"].x, whole.points["C"].y) == pytest.approx((24 * FOOT, 40 * FOOT))
    assert [corner.at.name for corner in whole.outline] == ["A", "B", "C", "D", "E", "F"]
    through = whole.outline[4].through
    assert through is not None
    assert (through.x, through.y, through.name) == (pytest.approx(5 * FOOT), pytest.approx(31 * FOOT), "")
    assert [corner.through for corner in whole.outline if corner.at.name != "E"] == [None] * 5
    (opening,) = whole.openings
    assert (opening.name, opening.holds, len(opening.corners), opening.takes_water) == (
        "opening 1",
        "planter",
        4,
        False,
    )


def test_edges_and_isolation(whole: Design) -> None:
    wall, street, beside, rest = whole.edges
    assert wall.isolation is not None
    assert (wall.isolation.material, wall.isolation.full_depth, wall.isolation.depth) == ("foam", True, None)
    assert wall.isolation.thickness is not None
    assert wall.isolation.thickness.si == pytest.approx(INCH / 2)
    assert [ground.si for ground in street.ground] == pytest.approx([99.30 * FOOT, 99.28 * FOOT])
    assert (street.takes_water, wall.takes_water) == (True, None)
    assert beside.isolation is not None
    assert beside.isolation.depth is not None
    assert (beside.isolation.material, beside.isolation.depth.si) == ("none", 0.0)
    assert (rest.beside, rest.run, rest.isolation) == ("open ground", (), None)


def test_heights(whole: Design) -> None:
    finish = {spot.at.name: spot.height for spot in whole.heights.finish}
    assert finish["A"].si == pytest.approx(99.90 * FOOT)
    assert finish["A"].typed == "99.90 ft"
    assert finish["V2"].si == pytest.approx(30.267)
    assert (whole.heights.base, whole.heights.existing) == ((), ())
    assert whole.heights.benches["BM1"].si == pytest.approx(100 * FOOT)
    (line,) = whole.heights.lines
    assert (line.name, line.kind, [point.name for point in line.along]) == ("", "valley", ["V1", "V2"])
    (fall,) = whole.heights.falls
    assert (fall.fall.si, [point.name for point in fall.along]) == (pytest.approx(0.25 / 12), ["A", "D"])


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("workshop sill", "sill"),
        ("kitchen door", "sill"),
        ("cellar window sill", "window"),
        ("damp course", "damp course"),
        ("weep screed", "weep screed"),
        ("cedar siding", "siding"),
        ("garage floor", "slab"),
        ("city walk", "slab"),
        ("gutter lip", "gutter"),
        ("nail in the post", "other"),
    ],
)
def test_a_fixed_height_is_of_the_kind_that_its_name_says(name: str, kind: str) -> None:
    """Words of the trade (common practice); a kind that is written stands."""
    text = (
        "format: 1\njob: {name: K}\nunits: {plan: ft, height: ft}\nuse: patio\n"
        "points: {A: [0, 0], B: [10, 0], C: [10, 8]}\noutline: [A, B, C]\nthickness: {design: 4 in}\n"
    )
    entry = f"name: {name}, along: [A, B], height: 100.00, slab: at least 1 in below"
    assert read_text(Path("k.slab.yaml"), f"{text}fixed: [{{{entry}}}]\n")[0].fixed[0].kind == kind
    assert read_text(Path("k.slab.yaml"), f"{text}fixed: [{{kind: vent, {entry}}}]\n")[0].fixed[0].kind == "vent"


def test_fixed_heights_and_fixtures(whole: Design) -> None:
    sill, gutter = whole.fixed
    assert sill.slab is not None
    assert (sill.slab.low, sill.slab.high) == (None, pytest.approx(-INCH))
    assert (gutter.slab, len(gutter.along)) == (None, 1)
    drain, door = whole.fixtures
    assert drain.isolation is not None
    assert drain.isolation.depth is not None
    assert (drain.isolation.full_depth, drain.isolation.depth.si) == (False, pytest.approx(4 * INCH))
    assert (door.at, len(door.along), door.swings_over, door.required_exit) == (None, 2, False, True)


def test_thickness_joints_and_steel(whole: Design) -> None:
    assert whole.thickness.form_board is not None
    # A 2x6 is 5 1/2 in deep (PS 20 dressed sizes, common knowledge of the trade).
    assert (whole.thickness.form_board.si, whole.thickness.form_board_name) == (pytest.approx(5.5 * INCH), "2x6")
    assert (whole.thickness.steps[0].name, whole.thickness.steps[0].count) == ("steps 1", 3)
    assert [joint.name for joint in whole.joints] == ["long one", "J2"]
    assert [len(joint.along) for joint in whole.joints] == [2, 3]
    steel_said = whole.reinforcement
    assert steel_said is not None
    assert steel_said.bars is not None
    assert steel_said.mesh is not None
    assert (steel_said.bars.size.name, steel_said.bars.held_by, steel_said.none) == ("#4", "chairs", False)
    assert (steel_said.mesh.style, steel_said.mesh.held_by) == ("6x6 W2.9", None)
    assert [point.name for point in steel_said.corner_bars[0].at] == ["E"]
    assert steel_said.corner_bars[0].count == 2


def test_loads_mix_order_and_variances(whole: Design) -> None:
    (load,) = whole.loads
    # 1 lbf = 4.4482216 N (NIST SP 811)
    assert (load.axle.si, load.wheels_per_axle) == (pytest.approx(7000 * 4.4482216, rel=1e-7), 2)
    assert whole.mix.water_cement is not None
    assert whole.mix.water_cement.si == 0.45
    assert whole.order is not None
    assert whole.order.volume is not None
    assert whole.order.volume.si == pytest.approx(12 * 27 * FOOT**3)
    (variance,) = whole.variances
    assert (variance.date, variance.until) == (datetime.date(2026, 3, 30), datetime.date(2026, 12, 31))


def test_places_lead_to_keys_and_entries(whole: Design) -> None:
    assert whole.places["heights.finish"] == Place(whole.file, 20, 3, "heights.finish")
    assert whole.places["joints[1].depth"].line == 37
    assert whole.joints[1].place == Place(whole.file, 37, 5, "joints[1]")
    assert whole.site.place == Place(whole.file, 5, 1, "site")
    assert whole.thickness.design.place == Place(whole.file, 31, 11, "thickness.design")
    assert {"units.plan", "edges[3].rest", "points.A"} <= set(whole.places)


def test_reinforcement_none_is_said_and_silence_is_not(tmp_path: Path) -> None:
    said, _ = read_design(saved(tmp_path, reinforcement="none"))
    assert said.reinforcement is not None
    assert said.reinforcement.none
    silent, _ = read_design(saved(tmp_path))
    assert silent.reinforcement is None


@pytest.mark.parametrize("word", ["none", "None", "no", "n/a", "[]"])
def test_a_list_of_nothing_may_be_said_in_a_word(word: str) -> None:
    text = pad(f"joints: {word}\nloads: {word}")
    design, questions = read_text(Path("pad.slab.yaml"), text)
    assert (design.joints, design.loads, len(questions)) == ((), (), 0)


@pytest.mark.parametrize("typed", ["10M", "11.3 mm", "Ø11.3", "11,3 mm"])
def test_a_canadian_bar_may_go_by_its_diameter(typed: str) -> None:
    """CSA G30.18: 10M has 100 mm2, and 11.3 mm across."""
    assert steel.bar(typed).name == "10M"
    assert steel.bar(typed).area == pytest.approx(100e-6)
    assert steel.bar("HA10").name == "10 mm"


@pytest.mark.parametrize("style", ["PAF C", "CQS 6", "SE62", "147E"])
def test_a_sheet_that_no_table_here_has_is_asked_for_its_wires(style: str) -> None:
    with pytest.raises(QuantityError, match="in no table here") as raised:
        steel.mesh_style(style, Place(""))
    assert "Ø6/150" in str(raised.value)


def test_the_system_shown_goes_by_the_plan_unless_it_is_said(tmp_path: Path) -> None:
    metric, _ = read_design(saved(tmp_path, units="{plan: m, height: mm}"))
    assert (metric.system, metric.points["B"].x) == ("metric", 12.0)
    shown, _ = read_design(saved(tmp_path, units="{plan: m, height: mm, show: us}"))
    assert shown.system == "us"


def test_points_may_be_numbers_or_left_out(tmp_path: Path) -> None:
    numbered, _ = read_design(
        saved(
            tmp_path,
            points="{1: [0, 0], 2: [12, 0], 3: [-2 ft, 10]}",
            outline="[1, 2, 3]",
            heights="{finish: {1: 99.9}}",
        )
    )
    assert [corner.at.name for corner in numbered.outline] == ["1", "2", "3"]
    assert numbered.points["3"].x == pytest.approx(-2 * FOOT)
    unnamed, _ = read_design(saved(tmp_path, points=None, outline="[[0, 0], [12, 0], [12, 10]]"))
    assert (unnamed.points, len(unnamed.outline)) == ({}, 3)


def test_one_spot_is_a_pair_without_brackets_of_its_own(tmp_path: Path) -> None:
    bars = '{corner_bars: [{at: [%s], size: "#4", length: 4 ft}]}'
    one, _ = read_design(saved(tmp_path, reinforcement=bars % "12, 3"))
    assert [(at.x, at.y) for at in one.reinforcement.corner_bars[0].at] == [pytest.approx((12 * FOOT, 3 * FOOT))]
    numbered, _ = read_design(
        saved(tmp_path, points="{1: [0, 0], 2: [12, 0], 3: [0, 10]}", outline="[1, 2, 3]", heights=None,
              reinforcement=bars % "1, 2")
    )  # fmt: skip
    assert [at.name for at in numbered.reinforcement.corner_bars[0].at] == ["1", "2"]


def test_heights_in_inches_may_have_fractions(tmp_path: Path) -> None:
    inches, _ = read_design(
        saved(tmp_path, units="{plan: ft, height: in}", heights="{finish: {A: -1 1/2, B: 3/4, C: 2}}")
    )
    assert [one.height.si / 0.0254 for one in inches.heights.finish] == pytest.approx([-1.5, 0.75, 2])
    assert "-1 1/2 in" in refused(saved(tmp_path, heights="{finish: {A: -1 1/2}}"))[0][3]


def test_a_disc_of_two_arcs_is_an_outline(tmp_path: Path) -> None:
    disc, _ = read_design(
        saved(tmp_path, outline="[{arc_to: A, through: [5, -5]}, {arc_to: [10, 0], through: [5, 5]}]")
    )
    assert [corner.through is not None for corner in disc.outline] == [True, True]


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("at least 1 in below", None, -1.0),
        ("at most 2 in below", -2.0, 0.0),
        ("1 in to 3 in below", -3.0, -1.0),
        ("1 to 3 in below", -3.0, -1.0),
        ("between 3 in and 1 in below", -3.0, -1.0),
        ("level", 0.0, 0.0),
        ("at least 2 in above", 2.0, None),
        ("At most 1/2 in above", 0.0, 0.5),
        ("exactly 1 in below", -1.0, -1.0),
        ("not above", None, 0.0),
        ("not below", 0.0, None),
    ],
)
def test_what_a_fixed_height_asks(typed: str, low: float | None, high: float | None) -> None:
    found = what_is_asked(typed, Place("f"))
    for bound, inches in ((found.low, low), (found.high, high)):
        assert bound == (None if inches is None else pytest.approx(inches * INCH))


# PCI Design Handbook, 7th ed., Design Aid 15.4.1: in, in2, lb/ft; CSA G30.18 (recalled, not checked): mm, mm2, kg/m.
@pytest.mark.parametrize(
    ("name", "diameter", "area", "mass"),
    [
        ("#3", 0.375 * INCH, 0.11 * INCH**2, 0.560),
        ("#4", 0.500 * INCH, 0.20 * INCH**2, 0.994),
        ("#5", 0.625 * INCH, 0.31 * INCH**2, 1.552),
        ("#8", 1.000 * INCH, 0.79 * INCH**2, 3.973),
        ("15M", 0.016, 200e-6, 1.570),
        ("12 mm", 0.012, math.pi * 36e-6, 0.888),  # EN 10080 nominal mass (recalled, not checked)
    ],
)
def test_bars(name: str, diameter: float, area: float, mass: float) -> None:
    bar = steel.bar(name)
    assert (bar.name, bar.diameter, bar.area) == (name, pytest.approx(diameter), pytest.approx(area))
    assert bar.mass == pytest.approx(mass, abs=0.0006)  # half the last printed digit


# Reinforcing course notes, 2013, mesh table: in2 per ft of width.
@pytest.mark.parametrize(
    ("style", "area"),
    [("6x6 W1.4", 0.028), ("6x6 W2.0", 0.040), ("6x6 W2.9", 0.058), ("6x6-W4.0xW4.0", 0.080),
     ("6x6 W2.9/W2.9", 0.058), ("WWF 6x6-W1.4/1.4", 0.028),
     ("4x4 W1.4", 0.042), ("4 x 4 W4", 0.120)],
)  # fmt: skip
def test_wire_sheets(style: str, area: float) -> None:
    mesh = steel.mesh_style(style, Place("f"))
    assert mesh.area_per_width * FOOT / INCH**2 == pytest.approx(area, abs=1e-9)
    assert math.pi * mesh.wire_diameter**2 / 4 / mesh.wire_spacing == pytest.approx(mesh.area_per_width)


def test_metric_sheets_are_recalled_not_checked() -> None:
    # AS/NZS 4671: SL82 has 7.6 mm wires 200 mm apart, 227 mm2/m (recalled, not checked); the circle gives the same.
    mesh = steel.mesh_style("SL82", Place("f"))
    assert mesh.area_per_width == pytest.approx(227e-6, rel=0.001)
    assert math.pi * 0.0076**2 / 4 / 0.2 == pytest.approx(227e-6, abs=0.5e-6)


@pytest.mark.parametrize(
    ("typed", "style", "area", "apart"),
    [
        ("Ø6/150", "Ø6/150", 188.5, 0.150),  # mm2/m by the circle: 28.27 mm2 every 150 mm
        ("150x150x6", "Ø6/150", 188.5, 0.150),
        ("200 × 200 × 8 mm", "Ø8/200", 251.3, 0.200),
        ("ø 5,5 / 150", "Ø5.5/150", 158.4, 0.150),
        ("100x200x6x7", "100x200x6x7", 192.4, 0.200),  # B283 by its wires: the way with less steel counts
        ("a142", "A142", 141.4, 0.200),
        ("R 257 A", "R257A", 113.1, 0.250),
        ("st 25 c", "ST25C", 256.6, 0.150),  # 38.48 mm2 every 150 mm
        ("ST25", "ST25", 128.3, 0.300),  # its cross wires, 38.48 mm2 every 300 mm
        ("K402", "K402", 402.1, 0.125),  # 50.27 mm2 every 125 mm
        ("665 mesh", "665", 147.1, 0.150),  # 22.06 mm2 every 150 mm
        ("AQ 60", "AQ60", 282.7, 0.100),
        ("152x152 MW18.7/MW18.7", "152x152 MW18.7", 123.0, 0.152),  # 18.7 mm2 every 152 mm
    ],
)
def test_metric_sheets_as_typed(typed: str, style: str, area: float, apart: float) -> None:
    mesh = steel.mesh_style(typed, Place("f"))
    assert (mesh.style, mesh.area_per_width * 1e6, mesh.cross_spacing) == (style, pytest.approx(area, abs=0.06), apart)


# EN 10080 / DIN 488 nominal: mm, mm2, kg/m; five tables of the trade agree (common practice).
EN_BARS = {6: (28.3, 0.222), 8: (50.3, 0.395), 10: (78.5, 0.617), 12: (113.1, 0.888), 14: (153.9, 1.21),
           16: (201.1, 1.58), 20: (314.2, 2.47), 25: (490.9, 3.85), 32: (804.2, 6.31), 40: (1256.6, 9.86)}  # fmt: skip


@pytest.mark.parametrize(
    "typed", ["Ø{}", "ø {}", "⌀{}", "T{}", "H{}", "HD{}", "d{}", "B{}", "Y{}", "N{}", "{} mm", "{}mm"]
)
def test_bars_by_their_diameter(typed: str) -> None:
    for diameter, (area, mass) in EN_BARS.items():
        bar = steel.bar(typed.format(diameter))
        assert (bar.name, bar.diameter) == (f"{diameter} mm", diameter / 1000)
        assert (bar.area * 1e6, bar.mass) == (pytest.approx(area, abs=0.06), pytest.approx(mass, abs=0.006))


@pytest.mark.parametrize(
    ("typed", "wrong", "write"),
    [
        ("10", '"10" does not say which bar is meant',
         '"#10" if it is eighths of an inch, or "10 mm" if it is a diameter'),
        ("T11", '"T11" is no diameter that bars are sold in', "10 mm or 12 mm"),
        ("Ø10/150", '"Ø10/150" is a size and a spacing', "size: Ø10 and spacing: 150 mm"),
    ],
)  # fmt: skip
def test_no_diameter_is_taken_for_a_number(typed: str, wrong: str, write: str) -> None:
    with pytest.raises(QuantityError) as caught:
        steel.bar(typed)
    assert (caught.value.wrong, caught.value.write) == (wrong, write)


@pytest.mark.parametrize(
    ("style", "wrong"),
    [
        ("6x6 10/10", '"6x6 10/10" gives the old wire gauge'),
        ("6x6 D4", '"6x6 D4" is not a plain sheet in inches'),
        ("6x12 W4", '"6x12 W4" differs between its two ways'),
        ("6x6 W4xW2", '"6x6 W4xW2" differs between its two ways'),
        ("60x60 W4", '"60x60 W4" is no sheet that is made'),
        ("chicken wire", '"chicken wire" is not a sheet style known here'),
        ("R257", '"R257" may be a sheet of today or an older one'),  # with thinner wires across until 2008
        ("A98", '"A98" is not a sheet style known here'),
        ("150x150x60", '"150x150x60" is no sheet that is made'),
        ("664", '"664" is not a sheet style known here'),
        ("PAF R", 'the wires of "PAF R" are in no table here'),
    ],
)
def test_sheets_that_are_refused(style: str, wrong: str) -> None:
    with pytest.raises(QuantityError) as caught:
        steel.mesh_style(style, Place("f"))
    assert caught.value.wrong == wrong


def test_a_german_sheet_written_without_its_letter_is_the_one_sold_today() -> None:
    assert steel.mesh_style("Q257", Place("f")) == steel.mesh_style("Q257A", Place("f"))


QUESTIONS: list[tuple[dict[str, str], list[tuple[int, int, str, str]]]] = [
    ({"order": "{truck: 18 yd3}"}, [(8, 16, '"truck: 18 yd3" is unusual: mostly 1 yd3 to 16 yd3', "is 18 yd3 meant?")]),
    ({"order": "{truck: 12 yd3}"}, []),
    (
        {"points": "{A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10], a: [5, 5]}"},
        [(5, 58, 'the points "A" and "a" differ only in capitals', "are they two points?")],
    ),
    (
        {"points": "{A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10], a: [5, 5], b: [6, 5]}"},
        [
            (
                5,
                58,
                'the points "A" and "a", "B" and "b" differ only in capitals',
                "are they two points each?",
            )
        ],
    ),
    (
        {"points": "{A: [0, 0], B: [6000, 0], C: [6000, 5000], D: [0, 5000]}"},
        [(3, 9, "this slab is 6,000 ft by 5,000 ft", "is plan: in meant?")],
    ),
    (
        {"points": "{A: [0, 0], B: [6, 0], C: [6, 5], D: [0, 5]}", "units": "{plan: mm, height: mm}"},
        [(3, 9, "this slab is 0.006 m by 0.005 m", "is plan: m meant?")],
    ),
    # 99.11 beside 99.6: 99 ft 11 in and 99 ft 6 in, or hundredths and tenths of a foot
    (
        {"heights": "{finish: {A: 99.11, B: 99.10, C: 99.6, D: 99.4}}"},
        [
            (
                8,
                23,
                "99.11 and 99.6 look like feet and inches, and are read as tenths of a foot",
                "is 99'-11\" meant?",
            )
        ],
    ),
    ({"heights": "{finish: {A: 99.11, B: 99.10, C: 99.60, D: 99.42}}"}, []),
    ({"heights": "{finish: {A: 99.9, B: 99.8, C: 99.6, D: 99.4}}"}, []),
    ({"heights": "{finish: {A: 99.11, B: 99.6, C: 99.25}}"}, []),
    # rod readings: 4.1 ft at the wall is the highest ground, and the numbers grow down the slope
    (
        {"heights": "{finish: {A: 4.12, B: 4.14, C: 4.33, D: 4.35}}", "edges": "[{run: [A, B], beside: building}]"},
        [
            (
                8,
                11,
                "every height at the building is lower than all others: are these rod readings?",
                "if they are what the rod showed, put them in a file: finish: shots.csv",
            )
        ],
    ),
    # the same in a nook: only the corner off both walls is left
    (
        {
            "heights": "{finish: {A: 4.12, B: 4.32, C: 4.52, D: 4.32}}",
            "edges": "[{run: [D, A, B], beside: building}]",
        },
        [
            (
                8,
                11,
                "every height at the building is lower than all others: are these rod readings?",
                "if they are what the rod showed, put them in a file: finish: shots.csv",
            )
        ],
    ),
    (
        {
            "heights": "{finish: {A: 4.33, B: 4.35, C: 4.12, D: 4.14}}",
            "fixed": "[{name: sill, kind: sill, along: [A, B], height: 100}]",
        },
        [
            (
                8,
                11,
                "the finish lies 96 ft below the fixed heights: are these rod readings?",
                "if they are what the rod showed, put them in a file: finish: shots.csv",
            )
        ],
    ),
    # a floor that falls to its wall, on a datum of 10.00 that a sill ties down: bad, but no reading
    (
        {
            "heights": "{finish: {A: 9.7, B: 9.7, C: 9.9, D: 9.9}}",
            "edges": "[{run: [A, B], beside: building}]",
            "fixed": "[{name: sill, kind: sill, along: [A, B], height: 10}]",
        },
        [],
    ),
    ({"heights": "{finish: {A: 9.9, B: 9.9, C: 9.7, D: 9.7}}", "edges": "[{run: [A, B], beside: building}]"}, []),
    (
        {"heights": "{finish: {A: 99.9, B: 99.8, C: 89.4, D: 99.4}}"},
        [(8, 38, "finish heights at A and C are 10.5 ft apart", "is one of them mistyped?")],
    ),
    (
        {"joints": "[{kind: saw cut, from: A, to: C, cut_after: 5 days}]"},
        [(8, 53, '"cut_after: 5 days" is unusual: mostly 0 h to 72 h', "is 5 h meant?")],
    ),
]


@pytest.mark.parametrize(("changes", "questions"), QUESTIONS)
def test_slips_are_asked_about_and_do_not_stop(
    tmp_path: Path, changes: dict[str, str], questions: list[tuple[int, int, str, str]]
) -> None:
    assert asked(saved(tmp_path, **changes)) == questions


REFUSED_LATER: list[tuple[dict[str, str], list[tuple[int, int, str, str]]]] = [
    (
        {"fixtures": "[{kind: drain}, {kind: door}, {kind: post, at: A, sill: 3}, {kind: gate, at: A, canopy: true}]"},
        [
            (8, 12, "this drain does not say where it is", "at: [12, 3], or the name of a point"),
            (8, 27, "this door does not say where it is", "along: [A, B]"),
            (8, 61, '"sill" belongs to a door, and this is a post', "delete it, or change the kind"),
            (8, 91, '"canopy" belongs to a door, and this is a gate', "delete it, or change the kind"),
        ],
    ),
    (
        {"edges": "[{run: [A, B], beside: lawn, ground: [1, 2, 3]}, {rest: lawn, ground: [1, 2]}]"},
        [
            (8, 37, "there are 3 heights of the ground here", "one height, or 2: one for each point of the run"),
            (8, 70, "there are 2 heights of the ground here", "one height"),
        ],
    ),
    (
        {"fixed": "[{name: s, kind: sill, at: A, along: [A, B], height: 1}]"},
        [(8, 31, '"at" does not go with "along"', "keep one of the two")],
    ),
    (
        {"openings": "[{name: pit, corners: [A, B, C]}, {name: Pit, corners: [A, B, C]}]"},
        [(8, 46, 'a second opening is called "Pit"; the first is on line 8', "give it another name")],
    ),
    (
        {"outline": "[A, {arc_to: A, through: B}, C]"},
        [(6, 14, "this arc ends where it begins", "make two arcs of it")],
    ),
]


@pytest.mark.parametrize(("changes", "problems"), REFUSED_LATER)
def test_what_does_not_go_together_is_refused(
    tmp_path: Path, changes: dict[str, str], problems: list[tuple[int, int, str, str]]
) -> None:
    assert refused(saved(tmp_path, **changes)) == problems


def test_a_text_is_read_as_if_it_stood_in_the_file(tmp_path: Path) -> None:
    path = saved(tmp_path, heights="{base: shots.csv, benches: {BM: 100}}")
    (tmp_path / "shots.csv").write_text("point,backsight,foresight\nBM,4.00,\nA,,5.00\n")
    typed = path.read_text()
    read = read_design(path)
    path.unlink()
    assert read_text(path, typed) == read
    assert [spot.height.si for spot in read[0].heights.base] == [pytest.approx(99 * FOOT)]  # 100 + 4 - 5
    with pytest.raises(UnreadableError) as caught:
        read_text(path, typed.replace("use: patio", "use: patoi"))
    assert [str(problem.place) for problem in caught.value.problems] == [f"{path}:4:6"]


@pytest.mark.parametrize("unit", ["M", "FT", " m"])
def test_a_unit_in_other_letters_is_the_unit(unit: str) -> None:
    corner = read_text(Path("pad.slab.yaml"), pad("", unit=unit))[0].outline[2].at

    assert corner.x == pytest.approx(8 * (FOOT if unit == "FT" else 1))


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("not more than 1/2 in above", "at most 1/2 in above"),
        ("no more than 2 in below", "at most 2 in below"),
        ("up to 1/2 in above", "at most 1/2 in above"),
        ("max. 2 in below", "at most 2 in below"),
        ("maximum of 2 in below", "at most 2 in below"),
        ("not less than 2 in below", "at least 2 in below"),
        ("min 2 in below", "at least 2 in below"),
    ],
)
def test_what_is_asked_of_a_slab_is_read_as_people_say_it(said: str, means: str) -> None:
    here = Place("t")
    assert what_is_asked(said, here)[1:3] == what_is_asked(means, here)[1:3]


def test_sections_that_may_hold_nothing_may_be_empty() -> None:
    empty = "\n".join(f"{one}: []" for one in ("openings", "fixed", "fixtures", "joints", "loads", "variances"))
    assert read_text(Path("t.slab.yaml"), pad(empty))[0].joints == ()


@pytest.mark.parametrize(
    ("at", "width", "ends"),
    [
        ("[5.5, 0]", "3 ft", [(4, 0), (7, 0)]),
        ("[5.5, -1.5]", "36 in", [(4, -1.5), (7, -1.5)]),  # in its wall, a foot and a half off the slab
        ("[20, 6]", "8 ft", [(20, 2), (20, 10)]),
    ],
)
def test_a_door_of_a_width_stands_along_its_side_of_the_slab(
    at: str, width: str, ends: list[tuple[float, float]]
) -> None:
    text = pad(f"fixtures: [{{kind: door, at: {at}, width: {width}}}]", outline="[[0, 0], [20, 0], [20, 12], [0, 12]]")
    door = read_text(Path("door.slab.yaml"), text)[0].fixtures[0]
    assert sorted((round(one.x / 0.3048, 9), round(one.y / 0.3048, 9)) for one in door.along) == ends


@pytest.mark.parametrize(
    ("name", "holds", "taken"),
    [("pool", "pit", "pool"), ("lap pool", "other", "pool"), ("pool pump pit", "pit", "pit"), ("pool", "tree", "tree")],
)
def test_what_is_called_a_pool_is_one(name: str, holds: str, taken: str) -> None:
    hole = f"openings: [{{name: {name}, corners: [[2, 2], [4, 2], [4, 4], [2, 4]], holds: {holds}}}]"
    assert [one.holds for one in plan_of(pad(hole)).design.openings] == [taken]
