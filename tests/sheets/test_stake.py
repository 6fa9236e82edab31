"""The stake sheet: published leveling checks, closed forms of setting out, and readings taken back from the field."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import numpy as np
import pytest
from checkout import ROOT
from jsonschema import Draft202012Validator
from site_designs import FOOT, INCH, METRIC, PAD, pad, printed, whole_plans
from slabwright.cli import main
from slabwright.design.read import read_design
from slabwright.design.schema_gate import schema_named
from slabwright.geometry.shape.outline import distances_along
from slabwright.plan.plan import Plan
from slabwright.rulebook import limits, loading
from slabwright.sheets import as_data, as_text, paper
from slabwright.sheets.sheet import Reading, Sheet
from slabwright.sheets.stake import as_shot, lines, squaring, stake
from slabwright.sheets.stake.picture import picture
from slabwright.sheets.stake.staked import Bench, known_heights, level, stakes
from slabwright.source.problem import UnreadableError
from slabwright.text.sheet import plain
from slabwright.units.quantity import Kind, System, height, read


def bench(backsight: str = "4.25 ft", level: float = 100.0 * FOOT) -> Bench:
    return Bench("hydrant", height(level), read(backsight, Kind.HEIGHT))


def sheet_of(plan: Plan, set_up: Bench | None = None) -> Sheet:
    return stake.sheet(stakes(plan, set_up))


def row(sheet: Sheet, table: str, first: object) -> dict[str, str]:
    """One row of a table as it is printed, by column."""
    found = sheet.table(table)
    cells = next(cells for cells in found.rows if cells[0] == first)
    texts = [as_text.cell_text(cell, sheet.system).replace("\u00a0", " ") for cell in cells]
    return dict(zip((column.key for column in found.columns), texts, strict=True))


def text_of(sheet: Sheet, width: int = 80) -> str:
    return plain(as_text.lines(sheet, width))


# --- rod readings ---


def test_readings_for_finish_base_and_subgrade_are_the_published_ones() -> None:
    """Check lv-pins: bench 100.00, backsight 4.25, pin 99.92, 4 in of slab on 4 in of stone."""
    found = row(sheet_of(pad(), bench()), "pins", 1)
    assert found["finish"] == "99.92"
    assert float(found["finish_rod_1"]) == printed("lv-pins", "rod_top") == 4.33
    assert float(found["base_rod_1"]) == printed("lv-pins", "rod_base") == 4.66
    assert float(found["subgrade_rod_1"]) == printed("lv-pins", "rod_subgrade") == 5.00


def test_feet_with_tenths_are_not_feet_and_inches() -> None:
    """Check lv-trap-8p3: 8.3 ft is 8 ft 3.6 in, to the nearest eighth 3 5/8; here as a reading on the finish."""
    found = row(sheet_of(pad(), bench("8.22 ft")), "pins", 1)
    assert found["finish_rod_1"] == "8.30"
    assert found["finish_rod_2"] == "8'-3 5/8\""
    assert printed("lv-trap-8p3", "nearest_eighth") == 3 + 5 / 8


@pytest.mark.parametrize(("check", "feet"), [("lv-tenths-0p1", 0.1), ("lv-tenths-0p2", 0.2), ("lv-tenths-0p5", 0.5)])
def test_tenths_and_eighths_say_the_same(check: str, feet: float) -> None:
    """Checks lv-tenths: inches to the nearest eighth, beside the tenths of the same reading."""
    found = row(sheet_of(pad(), bench(f"{4 - 0.08 + feet:.2f} ft")), "pins", 1)
    said = re.fullmatch(r"4'-(\d+)(?: (\d)/(\d))?\"", found["finish_rod_2"])
    assert said is not None
    inches = int(said[1]) + (int(said[2]) / int(said[3]) if said[2] else 0)
    assert inches == printed(check, "inches")
    assert found["finish_rod_1"] == f"{4 + feet:.2f}"


def test_readings_in_meters() -> None:
    """Closed form: 30.000 + 1.234 - 29.950 = 1.284 m to the top; 100 mm of slab, 100 mm of stone."""
    found = row(sheet_of(pad(text=METRIC), bench("1.234 m", 30.0)), "pins", 1)
    assert (found["finish_rod_1"], found["base_rod_1"], found["subgrade_rod_1"]) == ("1.284", "1.384", "1.484")


def test_a_bigger_reading_is_said_to_be_lower_ground_and_is() -> None:
    sheet = sheet_of(pad(("C: 99.92", "C: 99.42")), bench())
    assert "a bigger rod reading is lower ground" in text_of(sheet)
    high, low = (float(row(sheet, "pins", number)["finish_rod_1"]) for number in (1, 3))
    assert low == pytest.approx(high + 0.50)


def test_the_closing_check_is_the_backsight_within_two_hundredths() -> None:
    """Common practice (makers' figures): the bench read again within 0.02 ft."""
    assert "4.23 ft to 4.27 ft" in re.sub(r"\s+", " ", text_of(sheet_of(pad(), bench())))


def test_a_pin_out_of_sight_is_named() -> None:
    sheet = sheet_of(pad(("B: 99.92", "B: 104.50")), bench())
    assert row(sheet, "pins", 2)["finish_rod_1"] == "no sight"
    assert "Out of sight from here" in text_of(sheet)


def test_a_thickened_edge_is_deeper_at_its_pins() -> None:
    plan = pad(("{design: 4 in}", "{design: 4 in, thickened_edges: [{run: [A, B], depth: 10 in, taper: 2 ft}]}"))
    sheet = sheet_of(plan, bench())
    at_edge, inside = (float(row(sheet, "pins", number)["base_rod_1"]) for number in (1, 3))
    assert at_edge == pytest.approx(inside + 6 / 12, abs=0.0051)  # closed form: 10 in less 4 in


def test_what_is_lacking_is_named_and_the_rest_is_given() -> None:
    plan = pad(("C: 99.92, ", ""), ("site: {base: {material: crushed stone, thickness: 4 in}}\n", ""))
    sheet = sheet_of(plan, bench())
    text = text_of(sheet)
    assert "heights.finish: the finish height at C" in text
    assert "site.base.thickness" in text
    assert row(sheet, "pins", 3)["finish"] == "not given"
    assert row(sheet, "pins", 1)["finish_rod_1"] == "4.33"
    assert "sub ft" not in text


def test_without_a_bench_it_says_how_to_get_readings() -> None:
    text = text_of(sheet_of(pad()))
    assert "--bench 'hydrant' --backsight 4.25" in text
    assert "top ft" not in text


# --- cut and fill ---


def test_the_cut_is_the_published_one() -> None:
    """Check lv-cut: required 107.85, ground 108.60: cut 0.75 ft. The subgrade stands for the required height here."""
    required = printed("lv-cut", "required")
    finish = f"{required + 8 / 12:.4f}"  # 4 in of slab and 4 in of stone above it
    ground = f"{printed('lv-cut', 'ground'):.2f}"
    heights = "finish: {A: 99.92, B: 99.92, C: 99.92, D: 99.92}"
    every = ", ".join(f"{name}: {finish}" for name in "ABCD")
    plan = pad(
        (heights, f"finish: {{{every}}}\n  existing: {{A: {ground}, B: {ground}, C: {ground}, D: {required - 0.5}}}")
    )
    sheet = sheet_of(plan)
    cut = row(sheet, "ground", 1)
    assert (cut["do"], float(cut["by"])) == ("CUT", printed("lv-cut", "cut"))
    assert cut["by_inches"] == '9"'
    assert row(sheet, "ground", 4)["do"] == "FILL"
    assert row(sheet, "ground", 4)["by"] == "0.50"


def test_no_cut_is_given_where_the_ground_is_not_known() -> None:
    plan = pad(("benches", "existing: {A: 99.5}\n  benches"))
    assert [cells[0] for cells in sheet_of(plan).table("ground").rows] == [1]
    assert "Cut and fill" not in text_of(sheet_of(pad()))


# --- places ---

BENT = PAD.replace("points: {A: [0, 0], B: [30, 0], C: [30, 20], D: [0, 20]}",
                   "points: {A: [0, 0], B: [33, 0], C: [33, 41], D: [10, 41], E: [10, 22], F: [0, 22], V: [15, 0], "
                   "W: [15, 41]}")  # fmt: skip
BENT = BENT.replace("outline: [A, B, C, D]", "outline: [A, B, C, D, E, F]").replace(
    "finish: {A: 99.92, B: 99.92, C: 99.92, D: 99.92}",
    "finish: {A: 99.9, B: 99.9, C: 99.5, D: 99.5, E: 99.7, F: 99.7, V: 99.8, W: 99.3}\n"
    "  lines: [{name: swale, kind: valley, along: [V, W]}]",
)


def test_a_pin_stands_at_every_corner_and_line_end() -> None:
    found = stakes(pad(text=BENT)).pins
    assert [pin.name for pin in found[:8]] == list("ABCDEFVW")
    assert found[6].label == "valley swale end V"


@pytest.mark.parametrize("screed", [6 * FOOT, 10 * FOOT, 16 * FOOT])
@pytest.mark.parametrize("turn", [0.0, 0.4])
def test_pins_are_close_enough_for_the_screed(screed: float, turn: float) -> None:
    """Along the outline no two are further apart than the screed less its lap, and no spot is out of its reach."""
    c, s = math.cos(turn), math.sin(turn)
    text = re.sub(r"\[(\d+), (\d+)\]", lambda m: f"[{c * int(m[1]) - s * int(m[2]):.4f}, "
                  f"{s * int(m[1]) + c * int(m[2]):.4f}]", BENT)  # fmt: skip
    plan = pad(text=text)
    found = stakes(plan, screed=screed)
    spacing = max(screed - 2 * FOOT, screed / 2)  # common practice: a lap of 2 ft
    xy = np.array([pin.at for pin in found.pins])
    places = distances_along(plan.shape.ring, [(x, y) for x, y in xy.tolist()])
    along = sorted(a for a, off in places if abs(off) < 0.01)
    gaps = np.diff([*along, along[0] + plan.shape.ring.length])
    assert gaps.max() <= spacing + 0.001
    low, high = xy.min(axis=0), xy.max(axis=0)
    grid = np.stack(np.meshgrid(np.linspace(low[0], high[0], 60), np.linspace(low[1], high[1], 60)), axis=-1).reshape(
        -1, 2
    )
    import shapely

    inside = grid[shapely.contains_xy(plan.shape.slab, grid[:, 0], grid[:, 1])]
    nearest = np.min(np.hypot(*(inside[:, None] - xy[None]).transpose(2, 0, 1)), axis=1)
    assert nearest.max() <= screed  # a grid bay's half diagonal, and what the lap leaves out


def test_a_rectangle_gets_the_closed_number_of_pins() -> None:
    """24 ft by 16 ft with pins 8 ft apart: 3 by 2 bays, so 4 x 3 pins."""
    plan = pad(("B: [30, 0], C: [30, 20], D: [0, 20]", "B: [24, 0], C: [24, 16], D: [0, 16]"))
    assert len(stakes(plan).pins) == 12
    assert len(stakes(plan, screed=6 * FOOT).pins) == 7 * 5  # 4 ft apart


def test_the_two_tapes_meet_at_the_pin() -> None:
    """Two circles round the named corners cross at the pin, and its square offset is their height over the line."""
    found = stakes(pad(text=BENT))
    reach = found.line.length
    for pin in found.pins:
        first, second = pin.tapes
        along = (first**2 - second**2 + reach**2) / (2 * reach)  # radical line of two circles
        assert pin.along == pytest.approx(along, abs=1e-9)
        assert abs(pin.off) == pytest.approx(math.sqrt(max(0.0, first**2 - along**2)), abs=1e-6)
        assert found.line.back(np.array([[pin.along, pin.off]]))[0] == pytest.approx(pin.at, abs=1e-9)


def test_the_line_runs_along_the_building_with_the_slab_on_its_left() -> None:
    plan = pad(("outline: [A, B, C, D]", "outline: [A, D, C, B]\nedges: [{run: [B, C], beside: building}]"))
    line = lines.usual_line(plan)
    assert {line.first, line.second} == {"B", "C"}
    assert all(pin.off >= -1e-9 for pin in stakes(plan).pins)


def test_places_from_a_line_of_ones_own_choice() -> None:
    plan = pad()
    line = lines.named_line(plan, "D", "C")
    assert line is not None
    found = stakes(plan, line=line)
    assert found.pins[0].off == pytest.approx(-20 * FOOT)  # A lies to the right of D-C
    assert row(stake.sheet(found), "pins", 1)["off"] == "-20'-0\""
    assert lines.named_line(plan, "A", "Q") is None


def test_arcs_openings_drains_and_corners_without_a_name_get_pins() -> None:
    text = PAD.replace("outline: [A, B, C, D]", "outline: [A, B, {arc_to: C, through: [33, 10]}, [0, 20]]\n"
        "openings: [{name: tree, corners: [[10, 8], [14, 8], [14, 12], [10, 12]]}]\n"
        "fixtures: [{kind: drain, name: yard drain, at: [20, 10], rim: 99.70}]")  # fmt: skip
    labels = [pin.label for pin in stakes(pad(text=text)).pins]
    assert "corner 4" in labels
    assert labels.count("edge B-C") == 3  # an arc is divided into four at least
    assert {"tree corner 1", "tree corner 4", "drain yard drain"} <= set(labels)


def test_numbers_keep_clear_of_points_that_are_called_by_numbers() -> None:
    plan = pad(("D: [0, 20]", "D: [0, 20], 7: [3, 3]"))
    assert stakes(plan).pins[0].number == 101


# --- squaring ---


def test_the_diagonal_is_the_published_one() -> None:
    """Check lv-diagonal-20x30: 36.056 ft, 36 ft 0 5/8 in to the nearest eighth."""
    sheet = sheet_of(pad())
    cell = sheet.figure("diagonal").value
    assert isinstance(cell, Reading)
    assert cell.text == "36'-0 5/8\""
    assert cell.amount.si / FOOT == pytest.approx(printed("lv-diagonal-20x30", "diagonal"), abs=0.0005)


@pytest.mark.parametrize("sides", [(6, 8, 10), (15, 20, 25), (24, 32, 40), (33, 44, 55), (21, 28, 35)])
def test_the_largest_3_4_5_that_fits_is_printed_in_layout_texts(sides: tuple[int, int, int]) -> None:
    """Checks lv-square: multiples of 3-4-5; they fit a slab just as large, and one a foot larger."""
    a, b, c = sides
    assert printed(f"lv-square-{a}-{b}-{c}", "c") == c
    for one, other in ((a, b), (a + 0.9, b + 0.9)):
        found = squaring.three_four_five(one * FOOT, other * FOOT, "us")
        assert [round(side / FOOT, 6) for side in found] == [a, b, c]
    turned = squaring.three_four_five(b * FOOT, a * FOOT, "us")
    assert [round(side / FOOT, 6) for side in turned] == [b, a, c]


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("size", [(0.5, 0.6), (2.0, 9.0), (6.0, 7.2), (40.0, 3.0)])
def test_every_3_4_5_is_square_and_fits(size: tuple[float, float], system: str) -> None:
    a, b, c = squaring.three_four_five(*size, system)  # type: ignore[arg-type]
    assert a**2 + b**2 == pytest.approx(c**2)  # Pythagoras
    assert a <= size[0] + 1e-9
    assert b <= size[1] + 1e-9


def test_a_measured_diagonal_tells_the_published_racking() -> None:
    """Check lv-racked-20x30: a long side shifted 1 in makes the diagonals differ by 1.66 in, so each is off by half."""
    difference = printed("lv-racked-20x30", "along_length") * INCH
    plan = pad()
    rectangle = squaring.rectangles(plan, lines.usual_line(plan))[0]
    said = squaring.skew(rectangle, rectangle.diagonal + difference / 2)
    assert said.shift / INCH == pytest.approx(1.0, abs=0.005)
    # independent: the exact parallelogram with the far side shifted
    exact = math.hypot(30 * FOOT + said.shift, 20 * FOOT) - rectangle.diagonal
    assert exact == pytest.approx(difference / 2, rel=0.01)


def test_how_far_a_diagonal_may_be_off() -> None:
    """Common practice: 1/4 in in 20 ft; on 36.056 ft that is 0.451 in."""
    plan = pad()
    rectangle = squaring.rectangles(plan, lines.usual_line(plan))[0]
    assert squaring.skew(rectangle, rectangle.diagonal + 0.450 * INCH).fine
    assert not squaring.skew(rectangle, rectangle.diagonal - 0.452 * INCH).fine


@pytest.mark.parametrize(
    ("measured", "told"), [("36'-2\"", "too long"), ("35'-11\"", "too short"), ("36'-0 3/4\"", "square enough")]
)
def test_what_the_sheet_says_about_a_measured_diagonal(measured: str, told: str) -> None:
    sheet = stake.sheet(stakes(pad(), diagonal=read(measured, Kind.LENGTH)))
    assert told in re.sub(r"\s+", " ", text_of(sheet))


def test_the_main_rectangle_of_a_bent_slab_is_the_largest_inside_it() -> None:
    """33 x 22 = 726 ft2 along A-B against 23 x 41 = 943 ft2 beside B-C."""
    plan = pad(text=BENT)
    found = squaring.rectangles(plan, lines.usual_line(plan))[0]
    assert sorted((round(found.along / FOOT, 6), round(found.off / FOOT, 6))) == [23, 41]
    assert set("BCD") < set(found.names)
    assert found.what == "the largest inside the outline"
    assert "is no corner of the slab" in re.sub(r"\s+", " ", text_of(sheet_of(plan)))


def test_a_three_cornered_slab_is_squared_round_its_outline() -> None:
    plan = pad(("C: [30, 20], D: [0, 20]", "C: [15, 20]"), ("[A, B, C, D]", "[A, B, C]"), (", D: 99.92", ""))
    assert squaring.rectangles(plan, lines.usual_line(plan))[0].what == "the one round the outline"


# --- one plan behind it all ---


def test_one_height_changed_moves_the_sheet() -> None:
    """D lowered by 0.10 ft: the rod on it reads 0.10 ft more, on finish and base alike; A stays."""
    before, after = (sheet_of(plan, bench()) for plan in (pad(), pad(("D: 99.92", "D: 99.82"))))
    for column in ("finish_rod_1", "base_rod_1", "subgrade_rod_1"):
        moved = float(row(after, "pins", 4)[column]) - float(row(before, "pins", 4)[column])
        assert moved == pytest.approx(0.10)
    assert row(after, "pins", 1) == row(before, "pins", 1)


def test_points_for_a_total_station() -> None:
    """Number, northing (y), easting (x), height, description; 30 ft and 20 ft, plain and without a heading."""
    lines = stake.point_rows(stakes(pad()), heading=False).splitlines()
    assert lines[2] == "3,20.000,30.000,99.920,corner C"
    assert all(re.fullmatch(r"\d+,-?\d+\.\d{3},-?\d+\.\d{3},(-?\d+\.\d{3})?,[A-Za-z0-9 ._-]+", line) for line in lines)
    metric = stake.point_rows(stakes(pad(text=METRIC)), heading=False).splitlines()
    assert metric[1] == "2,0.000,9.000,29.950,corner B"


def test_a_hostile_name_cannot_break_a_row_or_a_page() -> None:
    plan = pad(("A: [0, 0]", '"a,b\\n=1<script>": [0, 0]'), ("outline: [A,", 'outline: ["a,b\\n=1<script>",'),
               ("finish: {A:", 'finish: {"a,b\\n=1<script>":'))  # fmt: skip
    found = stakes(plan)
    assert {line.count(",") for line in stake.point_rows(found, heading=False).splitlines()} == {4}
    assert {line.count(",") for line in stake.point_rows(found).splitlines()} == {14}
    assert "<script" not in paper.page(stake.sheet(found))


def test_every_whole_job_in_both_systems(tmp_path: Path) -> None:
    seen = 0
    schema = Draft202012Validator(schema_named("sheet"))
    for name, plan in whole_plans(tmp_path):
        found = stakes(plan, bench("4.00 ft", max((pin.finish or 0) for pin in stakes(plan).pins)))
        sheet = stake.sheet(found)
        for width in (60, 80, 100):
            assert max(map(len, text_of(sheet, width).splitlines())) <= width, name
        data = json.loads(as_data.as_json(sheet))
        assert [error.message for error in schema.iter_errors(data)] == [], name
        assert data["sections"]["places"]["tables"]["pins"]["rows"], name
        assert len(stake.point_rows(found, heading=False).splitlines()) == len(found.pins)
        page = paper.page(sheet)
        assert "http" not in page.replace("http-equiv", "")  # loads nothing
        assert page.count("<tr>") >= len(found.pins)
        seen += 1
    assert seen >= 14


def test_a_floor_of_fifty_thousand_square_feet_is_set_out_in_seconds() -> None:
    import time

    plan = pad(("B: [30, 0], C: [30, 20], D: [0, 20]", "B: [250, 0], C: [250, 200], D: [0, 200]"))
    begun = time.perf_counter()
    found = stakes(plan)
    assert len(found.pins) == (250 // 8 + 2) * (200 // 8 + 1)  # bays of at most 8 ft: 32 by 25
    drawn = picture(found)
    assert time.perf_counter() - begun < 10
    assert drawn.left_out == 0
    named = [int(text) for text in re.findall(r">(\d+)</text>", drawn.svg)]
    assert named == [pin.number for pin in found.pins[:: drawn.every]]
    assert drawn.svg.count('class="pin"') == len(found.pins)


# --- as shot ---


def as_shot_of(plan: Plan, folder: Path, text: str, of: as_shot.Of = "base") -> as_shot.AsShot:
    path = folder / "shots.csv"
    path.write_text(text, encoding="utf-8")
    found = stakes(plan)
    rules = loading.load_rules()
    benches = known_heights(plan.design)
    return as_shot.take_back(plan, found.pins, path, of, benches, rules, limits.resolve(rules))


def shots(plan: Plan, rod: float, close: float = 4.25) -> str:
    """Every pin at one reading."""
    lines = [f"{pin.number},,{rod}" for pin in stakes(plan).pins]
    return "\n".join(["point,backsight,foresight", "hydrant,4.25,", *lines, f"hydrant,,{close}"]) + "\n"


def test_a_base_shot_high_makes_the_slab_thin_and_the_order_small(tmp_path: Path) -> None:
    """Closed form: planned reading 4.6633 ft, shot 4.58: 1 in high, so 3 in of slab, 20 x 30 ft x 3 in = 5.556 yd3."""
    plan = pad()
    found = as_shot_of(plan, tmp_path, shots(plan, 4.58))
    thin = 104.25 - 4.58
    assert [shot.thickness for shot in found.shots] == pytest.approx([(99.92 - thin) * FOOT] * len(found.shots))
    assert found.shots[0].off == pytest.approx((thin - (99.92 - 4 / 12)) * FOOT)
    assert found.after.net == pytest.approx(20 * 30 * (99.92 - thin) * FOOT**3)
    assert found.before.net == pytest.approx(20 * 30 * 4 / 12 * FOOT**3)
    assert "base-depth" in {comment.rule for comment in found.short_now}
    text = text_of(stake.sheet(stakes(plan), as_shot.sections(found), as_shot.says(found)))
    assert "high: dig" in text
    assert "Rules, as shot" in text
    assert "less than planned" in re.sub(r"\s+", " ", text)


def test_a_base_as_planned_falls_short_of_nothing(tmp_path: Path) -> None:
    plan = pad()
    found = as_shot_of(plan, tmp_path, shots(plan, 104.25 - 99.92 + 4 / 12))
    assert found.short_now == ()
    assert found.after.net == pytest.approx(found.before.net)
    text = re.sub(r"\s+", " ", text_of(stake.sheet(stakes(plan), as_shot.sections(found), as_shot.says(found))))
    assert "No rule falls short as shot" in text
    assert "The volume is as planned" in text
    assert "0 of 20 shots" in text


@pytest.mark.parametrize("every", [False, True])
def test_what_fell_short_on_the_plan_is_no_news_under_another_name(tmp_path: Path, every: bool) -> None:
    """A pad with a dip does not drain on the plan; shot as planned, on pins by their numbers, that is no change.

    With every pin shot the review looks at smaller parts of the same places.
    """
    plan = pad(("D: 99.92}", "D: 99.92, M: 99.80}"), ("D: [0, 20]}", "D: [0, 20], M: [15, 10]}"))
    found = stakes(plan).pins
    lines = [f"{pin.number},,{104.25 - (pin.finish or 0) / FOOT:.4f}" for pin in found if every or pin.name]
    text = "\n".join(["point,backsight,foresight", "hydrant,4.25,", *lines, "hydrant,,4.25"]) + "\n"
    shot = as_shot_of(plan, tmp_path, text, of="finish")
    news = {one.rule for one in shot.short_now}
    assert news <= ({"four-corner-warp"} if every else set())  # four heights more make a part of four corners


def test_the_finish_as_shot_is_judged_again(tmp_path: Path) -> None:
    """A pad that falls 0.4 ft in 20 ft as planned, its forms set level: the fall is gone."""
    plan = pad(("C: 99.92, D: 99.92", "C: 99.52, D: 99.52"))
    found = as_shot_of(plan, tmp_path, shots(plan, 4.33), of="finish")
    assert "least-fall" in {comment.rule for comment in found.short_now}
    assert [shot.off for shot in found.shots if shot.name == "3"] == pytest.approx([0.40 * FOOT])
    assert "lower it" in text_of(stake.sheet(stakes(plan), as_shot.sections(found)))


def test_metric_shots_are_told_in_millimeters(tmp_path: Path) -> None:
    """Pin 1 planned 29.850 under the concrete, shot 30.000 + 1.200 - 1.340 = 29.860: 10 mm high, 90 mm of slab."""
    plan = pad(text=METRIC)
    text = "point,backsight,foresight\nhydrant,1.200,\nA,,1.340\nB,,1.350\nC,,1.420\nD,,1.420\nhydrant,,1.200\n"
    found = as_shot_of(plan, tmp_path, text)
    sheet = stake.sheet(stakes(plan), as_shot.sections(found))
    first = row(sheet, "as_shot", "A")
    assert (first["planned"], first["shot"], first["off"], first["thickness"]) == ("29.850", "29.860", "+10", "90")
    assert row(sheet, "as_shot", "B")["off"] == "0"
    assert as_data.as_data(sheet)["sections"]["as_shot"]["tables"]["as_shot"]["rows"][0]["off"]["si"] == pytest.approx(
        0.01
    )


def test_a_trench_shot_at_its_bottom_counts_once(tmp_path: Path) -> None:
    """Shots at the planned depth everywhere, thickened edge included: the volume stays as planned."""
    plan = pad(("{design: 4 in}", "{design: 4 in, thickened_edges: [{run: [A, B], depth: 10 in, taper: 2 ft}]}"))
    lines = [f"{pin.number},,{104.25 * FOOT - (pin.base or 0)!r} m" for pin in stakes(plan).pins]
    lines = [re.sub(r"\d\.\d{7,} m", lambda m: f"{float(m[0][:-2]):.6f} m", line) for line in lines]
    text = "\n".join(["point,backsight,foresight", "hydrant,4.25,", *lines]) + "\n"
    found = as_shot_of(plan, tmp_path, text)
    assert found.after.net == pytest.approx(found.before.net, rel=1e-4)


def test_a_run_that_does_not_close_is_refused_or_asked_about(tmp_path: Path) -> None:
    plan = pad()
    found = as_shot_of(plan, tmp_path, shots(plan, 4.66, close=4.29))
    said = re.sub(r"\s+", " ", text_of(stake.sheet(stakes(plan), as_shot.sections(found))))
    assert "Came back to hydrant about 1/2 in off" in said
    assert "To confirm" in said
    with pytest.raises(UnreadableError, match="comes back"):
        as_shot_of(plan, tmp_path, shots(plan, 4.66, close=4.45))


def test_a_run_without_a_closing_says_so(tmp_path: Path) -> None:
    plan = pad()
    text = "\n".join(shots(plan, 4.66).splitlines()[:-1]) + "\n"
    assert "was not closed" in re.sub(r"\s+", " ", text_of(stake.sheet(stakes(plan),
                                      as_shot.sections(as_shot_of(plan, tmp_path, text)))))  # fmt: skip


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("point,backsight,foresight\nhydrant,4.25,\n999,,4.66\n", 'the plan has no point "999"'),
        ("point,backsight,foresight\nhydrant,4.25,\n", "no pin or point of the plan was read"),
        ("point,backsight,foresight\nsill,4.25,\n1,,4.66\n", 'the height of "sill" is not known'),
        ("point,backsight,foresight\nhydrant,4.25,\n1,,99.6\n", "cannot be read on a rod"),
        ("", "holds no readings"),
    ],
)
def test_bad_readings_are_refused_at_their_line(tmp_path: Path, text: str, told: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        as_shot_of(pad(), tmp_path, text)
    assert any(told in problem.wrong for problem in refused.value.problems)
    assert all(problem.place.file.endswith("shots.csv") for problem in refused.value.problems)


# --- the command ---


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "pad.slab.yaml"
    path.write_text(PAD, encoding="utf-8")
    return path


def command(capsys: pytest.CaptureFixture[str], *words: str | Path) -> tuple[int, str, str]:
    try:
        status = main.main([*map(str, words)])
    except SystemExit as stop:
        status = int(stop.code or 0)
    said = capsys.readouterr()
    return status, said.out, said.err


def test_the_command_gives_text_json_rows_and_a_page(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    set_up = ("--bench", "hydrant", "--backsight", "4.25")
    status, out, _ = command(capsys, "stake", design, *set_up)
    assert status == 0
    assert "4.33" in out
    assert command(capsys, "stake", design, *set_up, "--csv", "--no-heading")[1].startswith(
        "1,0.000,0.000,99.920,corner A\n"
    )
    assert json.loads(command(capsys, "stake", design, *set_up, "--json")[1])["kind"] == "stake"
    page = design.with_name("stakes.html")
    assert command(capsys, "stake", design, *set_up, "--page", page)[0] == 0
    assert "4.33" in page.read_text(encoding="utf-8")
    metric = command(capsys, "stake", design, *set_up, "--metric")[1]
    assert "1.320" in metric  # 4.33 ft


def test_a_bench_may_carry_its_height_and_readings_their_unit(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for bench_said, rod in (("nail=100.00 ft", "4'-3\""), ("nail=100", "1295.4 mm"), ("nail = 30.48 m", "4.25")):
        status, out, err = command(capsys, "stake", design, "--bench", bench_said, "--backsight", rod)
        assert (status, err) == (0, "")
        assert "4.33" in out
        assert "nail" in out


def test_shots_come_in_by_the_command(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design.with_name("shots.csv")
    path.write_text(shots(Plan(read_design(design)[0]), 4.58), encoding="utf-8")
    status, out, _ = command(capsys, "stake", design, "--as-shot", path)
    assert status == 0
    assert "As shot, on the base" in out
    assert "base-depth" in out
    status, out, _ = command(capsys, "stake", design, "--as-shot", path, "--shot-on", "finish")
    assert "As shot, on the finish" in out


@pytest.mark.parametrize(
    ("words", "told", "write"),
    [
        (("--bench", "hydrent", "--backsight", "4.25"), 'there is no bench "hydrent"', "hydrant"),
        (("--bench", "hydrant"), "go together", "--backsight READING too"),
        (("--backsight", "4.25"), "go together", "--bench NAME too"),
        (("--bench", "hydrant", "--backsight", "99.92"), "cannot be read on a rod", "what the rod shows"),
        (("--bench", "hydrant=1,250", "--backsight", "4,25"), "comma in the number", "1.250"),
        (("--bench", "=99", "--backsight", "4.25"), "no name or no height", "--bench"),
        (("--screed", "10"), "no unit", "10 ft"),
        (("--screed", "100 ft"), "is no screed", "--screed '10 ft'"),
        (("--line", "A", "Q"), "does not name two corners", "A, B, C, D"),
        (("--diagonal", "long"), "--diagonal", "12'-6 1/2"),
        (("--as-shot", "no.csv"), "there is no such file", "check the name"),
        (("--page", "stakes.pdf"), "a page is an HTML file", ".html"),
        (("--no-heading",), "is not asked for", "--csv --no-heading"),
    ],
)  # fmt: skip
def test_what_is_written_wrong_is_refused(
    design: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], told: str, write: str
) -> None:
    status, out, err = command(capsys, "stake", design, *words)
    assert (status, out) == (2, "")
    assert told in err
    assert write in err


def test_a_height_below_the_datum_keeps_its_sign() -> None:
    plan = pad(("A: 99.92, B: 99.92", "A: -0.001, B: 99.92"))
    assert stake.point_rows(stakes(plan), heading=False).splitlines()[0] == "1,0.000,0.000,-0.001,corner A"


# --- round a building ---

SHED = ROOT / "tests" / "corpus" / "sound" / "barn_corner_l_apron.slab.yaml"  # 10 ft round two walls of a shed


def test_no_string_and_no_tape_goes_through_a_building() -> None:
    """The shed is the square from K (10 ft, 10 ft) to (40 ft, 40 ft), drawn here by hand, with shapely as the judge."""
    import shapely

    shed = shapely.box(10 * FOOT, 10 * FOOT, 40 * FOOT, 40 * FOOT).buffer(-0.05)
    found = stakes(Plan(read_design(SHED)[0]))
    blocked = 0
    for pin in found.pins:
        foot = pin.line.back(np.array([[pin.along, 0.0]]))[0]
        ways = [(pin.line.start, foot), (foot, pin.at)]
        for end, taped in zip((pin.line.start, pin.line.end), pin.tapes, strict=True):
            if taped is not None:
                ways.append((end, pin.at))
                assert taped == pytest.approx(math.dist(end, pin.at))
        assert pin.reached
        assert not any(shapely.LineString(way).intersects(shed) for way in ways), pin.label
        blocked += shapely.LineString([found.line.end, pin.at]).intersects(shed)
    assert blocked >= 5  # the second leg lies behind the shed, seen from the far end of the first wall
    sheet = stake.sheet(found)
    assert {table.key for table in sheet.section("places").tables} == {"pins", "pins_2"}
    numbers = [cells[0] for table in sheet.section("places").tables for cells in table.rows]
    assert sorted(numbers) == [pin.number for pin in found.pins]


def test_a_pin_behind_a_building_in_an_opening_is_taped_from_another_side() -> None:
    """A house 10 ft square in the middle of 30 ft by 20 ft: nothing measured may cross it; a pit may be crossed."""
    import shapely

    text = PAD.replace("heights:\n  benches", "openings: [{name: hut, holds: other, "
        "corners: [[10, 5], [20, 5], [20, 15], [10, 15]]}]\nheights:\n  benches")  # fmt: skip
    hut = shapely.box(10 * FOOT, 5 * FOOT, 20 * FOOT, 15 * FOOT).buffer(-0.02)
    found = stakes(pad(text=text))
    for pin in found.pins:
        foot = pin.line.back(np.array([[pin.along, 0.0]]))[0]
        assert not shapely.LineString([foot, pin.at]).intersects(hut)
        for end, taped in zip((pin.line.start, pin.line.end), pin.tapes, strict=True):
            assert taped is None or not shapely.LineString([end, pin.at]).intersects(hut)
    assert len({pin.line for pin in found.pins}) > 1
    assert "stands in the way of the diagonals" in re.sub(r"\s+", " ", text_of(stake.sheet(found)))
    over = stakes(pad(text=text.replace("holds: other", "holds: pit")))
    assert {pin.line for pin in over.pins} == {over.line}


def test_both_legs_of_an_l_are_squared() -> None:
    """By hand: 24 x 22 ft has diagonals of 32.558 ft, 12 x 18 ft of 21.633 ft; 12, 16 and 20 ft are square."""
    job = ROOT / "example_designs" / "jobs" / "trailer_bay.slab.yaml"
    found = stakes(Plan(read_design(job)[0]))
    sizes = [tuple(sorted((round(one.along / FOOT, 6), round(one.off / FOOT, 6)))) for one in found.rectangles]
    assert sizes == [(22, 24), (12, 18)]
    sheet = stake.sheet(found)
    for key, feet in (("diagonal", math.hypot(24, 22)), ("diagonal_2", math.hypot(12, 18))):
        cell = sheet.figure(key).value
        assert isinstance(cell, Reading)
        assert cell.amount.si / FOOT == pytest.approx(feet)
    assert "21'-7 5/8\"" in text_of(sheet)
    assert "12'-0\" along E-R1, 16'-0\" along E-D; 20'-0\" between" in re.sub(r"\s+", " ", text_of(sheet))


def test_no_name_on_the_sheet_is_that_of_a_point_or_a_bench() -> None:
    plan = pad(text=BENT.replace("points: {", "points: {R1: [1, 1], SQ: [2, 2], ").replace("{hydrant: 100.00}",
        "{hydrant: 100.00, 12: 99.00}"))  # fmt: skip
    found = stakes(plan)
    marks = {name for one in found.rectangles for name in one.marks}
    assert marks
    assert not marks & set(plan.design.points)
    assert all(name.startswith("XR") for name in marks)
    assert found.pins[0].number == 101  # past the bench that is called 12
    pairs = pad(("D: [0, 20]", "D: [0, 20], corner 4: [3, 3]"), ("[A, B, C, D]", "[A, B, C, [0, 20]]"))
    names = lines.corner_names(pairs)
    assert list(names.values()) == ["A", "B", "C", "outline corner 4"]


def test_the_spreadsheet_names_its_units_and_holds_the_readings() -> None:
    """Check lv-pins again: top 4.33, base 4.66, subgrade 5.00 on pin 1; corner C lies 30 ft along and 20 ft off A-B."""
    import csv
    import io

    rows = list(csv.DictReader(io.StringIO(stake.point_rows(stakes(pad(), bench())))))
    first, third = rows[0], rows[2]
    for name, check in (("finish", "rod_top"), ("base", "rod_base"), ("subgrade", "rod_subgrade")):
        assert float(first[f"rod_{name}_ft"]) == pytest.approx(printed("lv-pins", check), abs=0.005)
    assert (third["line"], third["along_ft"], third["off_ft"]) == ("A to B", "30.000", "20.000")
    assert float(third["from_first_ft"]) == pytest.approx(math.hypot(30, 20), abs=0.0005)
    metric = stake.point_rows(stakes(pad(text=METRIC))).splitlines()[0]
    assert "northing_m" in metric
    assert "_ft" not in metric


def test_steps_are_set_by_the_rod() -> None:
    """By hand: the foot at 99.92, risers of 6 in: fronts at 100.42 and 100.92, read 3.83 and 3.33 under 104.25."""
    text = PAD.replace("thickness: {design: 4 in}", "thickness: {design: 4 in, steps: [{name: door steps, width: 4 ft, "
        "tread: 12 in, riser: 6 in, count: 3, leads_to: back door}]}\n"
        "fixtures: [{kind: door, name: back door, along: [[10, 0], [13, 0]], sill: 101.42}]")  # fmt: skip
    sheet = sheet_of(pad(text=text), bench())
    rows = [row(sheet, "steps", f"door steps {number}") for number in (1, 2)]
    assert [one["up"] for one in rows] == ['6"', "1'-0\""]
    assert [(one["height"], one["rod"]) for one in rows] == [("100.42", "3.83"), ("100.92", "3.33")]
    assert len(sheet.table("steps").rows) == 2  # the third riser climbs onto the sill
    assert "steps" not in {section.key for section in sheet_of(pad()).sections}


# --- the key plan ---


@pytest.mark.parametrize("design_file", [SHED, SHED.with_name("bowed_terrace.slab.yaml")])
def test_the_key_plan_names_every_pin_where_it_stands(design_file: Path) -> None:
    from slabwright.drawing.svg.place import Box, overlap
    from slabwright.drawing.svg.text import text_width

    found = stakes(Plan(read_design(design_file)[0]))
    drawn = picture(found)
    assert drawn.left_out == 0
    places = [(float(x), float(y)) for x, y in re.findall(r'class="pin" cx="([\d.]+)" cy="([\d.]+)"', drawn.svg)]
    scale = 1000 / int(re.search(r'data-scale="(\d+)"', drawn.svg)[1])  # type: ignore[index]
    (ax, ay), (bx, by) = found.pins[0].at, found.pins[5].at
    assert places[5][0] - places[0][0] == pytest.approx((bx - ax) * scale, abs=0.02)
    assert places[5][1] - places[0][1] == pytest.approx((ay - by) * scale, abs=0.02)  # y goes down on paper
    words = re.findall(r'<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"[^>]*>([^<]+)</text>', drawn.svg)
    names = [text for *_, text in words]
    assert [name for name in names if name.isdecimal()] == [str(pin.number) for pin in found.pins]
    assert {found.line.first, found.line.second} <= set(names)
    boxes = [Box(float(x), float(y) - 0.26 * float(size), text_width(text, float(size)), float(size))
             for x, y, size, text in words]  # fmt: skip
    assert all(float(size) * 72 / 25.4 >= 7 for _, _, size, _ in words)  # points as printed
    assert not any(overlap(one, other) for at, one in enumerate(boxes) for other in boxes[:at])


def test_the_field_is_compared_with_the_plan_in_the_same_kind_of_number(tmp_path: Path) -> None:
    """20 x 30 ft at 4 in and 5 %: 7.407 + 0.370 = 7.778 yd3, 8.00 in quarters; an inch thinner 5.556, 5.833 and 6.00.

    The file's own 9 yd3 stand apart from what either needs.
    """
    plan = pad(text=PAD + "order: {volume: 9 yd3, allowance: 5 %, allowance_inside: true}\n")
    found = as_shot_of(plan, tmp_path, shots(plan, 104.25 - 99.92 + 3 / 12))
    yards = [round(one.rounded / 0.9144**3, 6) for one in (found.before, found.after)]
    assert yards == [8.0, 6.0]
    assert found.in_file.ordered / 0.9144**3 == pytest.approx(9)
    sheet = stake.sheet(stakes(plan), as_shot.sections(found), as_shot.says(found))
    assert row(sheet, "as_shot", "1")["off_level"] == "+0.08"
    text = re.sub(r"\s+", " ", text_of(sheet))
    assert "4 in on the plan" in text
    assert "more than needed as shot" in text


@pytest.mark.parametrize(("system", "written"), [("us", "0.00"), ("metric", "0.000")])
def test_a_height_a_hair_below_the_datum_is_written_without_a_minus(system: System, written: str) -> None:
    cell = level(-1e-9, system)
    assert isinstance(cell, Reading) and cell.text == written
