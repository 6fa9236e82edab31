"""The order sheet: published checks and closed forms, sums of its rows, the one plan behind it, and every way out."""

from __future__ import annotations

import csv
import io
import json
import math
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from checkout import ROOT
from design_text import plan_of, review_by
from slabwright.cli import main
from slabwright.design.read import read_design, read_prices
from slabwright.formulas import ordering
from slabwright.plan.plan import Plan
from slabwright.sheets import as_data, as_text, paper
from slabwright.sheets.order.bars_and_mesh import all_steel, lap_of
from slabwright.sheets.order.concrete import EIGHTH, concrete, floored, for_other
from slabwright.sheets.order.haul import haul
from slabwright.sheets.order.materials import (
    base_course,
    board_depths,
    curing,
    forms,
    isolation,
    joint_lengths,
    retarder,
)
from slabwright.sheets.order.options import Options, options
from slabwright.sheets.order.order import order_sheet
from slabwright.sheets.sheet import Cell, Money, Sheet, Table
from slabwright.source import locate
from slabwright.source.problem import UnreadableError
from slabwright.text.words import Words
from slabwright.text.words import plain as in_plain_words
from slabwright.units.quantity import Amount, Kind

FOOT, INCH, YARD3, POUND = 0.3048, 0.0254, 0.9144**3, 0.45359237  # exact (NIST SP 811)
TON, GALLON = 2000 * POUND, 231 * INCH**3
EXAMPLES = sorted(locate.folder("example_designs").glob("**/*.slab.yaml"))
SCHEMA = json.loads((locate.folder("schemas") / "sheet.schema.json").read_text(encoding="utf-8"))

PAD = """\
format: 1
job: {name: Pad}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [WIDE, 0], C: [WIDE, LONG], D: [0, LONG]}
outline: [A, B, C, D]
thickness: {design: DEEP}
"""

BAY = """\
format: 1
job: {name: Trailer bay, pour: 2026-04-14, number: 26-017}
units: {plan: ft, height: ft}
use: vehicle pad
site:
  soil: {kind: silty clay, swell: 30 %, bank_weight: 3000 lb/yd3}
  base: {material: crushed stone, thickness: 4 in, shot_after_compaction: true}
points: {A: [0, 0], B: [24, 0], C: [24, 40], D: [10, 40], E: [10, 22], F: [0, 22], M: [12, 11], N: [17, 30]}
outline: [A, B, C, D, E, F]
openings:
  - {name: planter, corners: [[18, 10], [20, 10], [20, 12], [18, 12]],
     isolation: {material: foam, thickness: 1/2 in, depth: full}}
edges:
  - {run: [A, B], beside: building, name: workshop wall, isolation: {material: foam, thickness: 1/2 in, depth: full}}
  - {run: [C, D], beside: street, takes_water: true, ground: 99.10}
  - {rest: open ground}
heights:
  finish: {A: 100.00, B: 100.00, C: 99.20, D: 99.20, E: 99.56, F: 99.56}
  base: {A: 99.58, B: 99.57, C: 98.76, D: 98.80, E: 99.12, F: 99.13, M: 99.33, N: 98.93}
  existing: {A: 100.1, B: 99.9, C: 99.3, D: 99.4, E: 99.7, F: 99.9}
thickness:
  design: 5 in
  thickened_edges: [{run: [C, D], depth: 8 in, taper: 3 ft}]
  steps: [{name: side steps, width: 4 ft, tread: 12 in, riser: 6 in, count: 3}]
joints:
  - {name: J1, from: E, to: [24, 22], kind: saw cut, depth: 1 1/4 in}
  - {name: J2, from: [12, 0], to: [12, 22], kind: saw cut, depth: 1 1/4 in}
  - {name: J4, from: [10, 31], to: [24, 31], kind: construction joint, depth: 5 in}
reinforcement:
  bars: {size: "#4", spacing: 18 in, top_cover: 2 in, held_by: chairs, ends_short: 3 in, at_joints: stop}
  fiber: {kind: micro synthetic, dose: 1.5 lb/yd3}
  corner_bars: [{at: E, size: "#4", length: 4 ft}]
order:
  {truck: 10 yd3, method: pump, hose: 2 1/2 in, hose_length: 100 ft, left_in_hopper: 0.25 yd3, step: 0.25 yd3,
   fiber_bag: 1.5 lb, stock: [20 ft, 40 ft], retarder: {roll_length: 100 ft, roll_width: 12 ft}}
dig: {beyond_edge: 1 ft, box: 10 yd3, payload: 5 ton, tip: {name: quarry, load_at_most: 12 ton, loads_a_day: 8}}
prices:
  {currency: USD, concrete: 165 per yd3, delivery: 45 each, short_load: 90 each, bars: 1.10 per lb, base: 38 per ton,
   base_placing: 25 per yd3, haul: 220 each, tip: 12 per ton, isolation: 1.20 per ft}
"""


def pad(wide: float, long: float, deep: str, more: str = "") -> Plan:
    text = PAD.replace("WIDE", f"{wide}").replace("LONG", f"{long}").replace("DEEP", deep)
    return plan_of(text + more)


@pytest.fixture(scope="module")
def bay() -> Plan:
    return plan_of(BAY)


@pytest.fixture(scope="module")
def sheet(bay: Plan) -> Sheet:
    return order_sheet(bay)


def si(cell: Cell) -> float:
    assert isinstance(cell, Amount)
    return cell.si


def column(table: Table, key: str) -> list[Cell]:
    at = [one.key for one in table.columns].index(key)
    return [row[at] for row in table.rows]


def summed(table: Table, key: str) -> float:
    return sum(si(cell) for cell in column(table, key) if cell is not None)


def total(table: Table, key: str) -> Cell:
    assert table.total
    return table.total[[one.key for one in table.columns].index(key)]


# published checks and closed forms


@pytest.mark.parametrize(
    ("deep", "yards"),  # yd3 per 100 ft2, derived; printed tables round them (NAVEDTRA, suppliers)
    [("3 in", 0.926), ("3 1/2 in", 1.080), ("4 in", 1.235), ("5 in", 1.543), ("6 in", 1.852), ("8 in", 2.469)],
)
def test_volumes_of_a_hundred_square_feet(deep: str, yards: float) -> None:
    assert concrete(pad(10, 10, deep)).net / YARD3 == pytest.approx(yards, abs=0.0005)


def test_the_worked_job_of_680_square_feet() -> None:
    # 680 ft2, 4 in, 8 %, 10 yd3 trucks: 8.40 net, 9.07 to order, 0.41 in of room, 1/2 in more asks for a second
    # truck (common practice)
    worked = concrete(pad(20, 34, "4 in", "order: {allowance: 8 %, truck: 10 yd3, step: 0.01 yd3}\n"))
    assert worked.net / YARD3 == pytest.approx(8.40, abs=0.005)
    assert worked.needed / YARD3 == pytest.approx(9.07, abs=0.005)
    assert worked.headroom / INCH == pytest.approx(0.41, abs=0.005)
    assert floored(worked.headroom, EIGHTH) / INCH == pytest.approx(3 / 8)
    needed, loads = worked.deeper(INCH / 2)
    assert (loads, needed / YARD3) == (2, pytest.approx(10.2, abs=0.01))
    assert worked.deeper(3 * INCH / 8)[1] == 1


def test_seventeen_yards_half_an_inch_deep_still_come_in_two_loads() -> None:
    # 17.0 yd3 at 4 in that run 4 1/2 in take 19.1 yd3 and come in two loads of 10 yd3 (common practice)
    plan = pad(27, 51, "4 in", "order: {allowance: 0 %, truck: 10 yd3}\n")
    worked = concrete(plan)
    assert worked.net / YARD3 == pytest.approx(17.0)
    needed, loads = worked.deeper(INCH / 2)
    assert (round(needed / YARD3, 1), loads, worked.trucks) == (19.1, 2, 2)
    assert worked.headroom / INCH == pytest.approx(3 * 324 / 1377)  # 3 yd3 over 1,377 ft2
    made = order_sheet(plan)
    assert made.figure("before_truck_eighths").value == "5/8 in"
    text = as_text.lines(made)
    printed = "\n".join("".join(run.text for run in line) for line in text)
    assert "5/8 in deeper on average before another truck is needed" in printed
    assert re.search(r"1/2 in +19\.13 yd3 +2\n", printed)


@pytest.mark.parametrize(
    ("hose", "yards"),  # yd3 in 100 ft of line, derived
    [("2 in", 0.081), ("2 1/2 in", 0.126), ("3 in", 0.182), ("4 in", 0.323), ("5 in", 0.505)],
)
def test_line_volumes(hose: str, yards: float) -> None:
    order = f"order: {{method: pump, hose: {hose}, hose_length: 100 ft, left_in_hopper: 0 yd3}}\n"
    worked = concrete(pad(10, 10, "4 in", order))
    assert worked.lost / YARD3 == pytest.approx(yards, abs=0.0005)
    assert worked.needed == pytest.approx(worked.net + worked.allowance_volume + worked.lost)


def test_a_loaded_truck() -> None:
    # 10 yd3: 67,500 to 70,500 lb (4,050 lb/yd3 and common practice for the truck)
    assert [kilograms / POUND for kilograms in ordering.loaded_truck(10 * YARD3)] == pytest.approx([67_500, 70_500])


@pytest.mark.parametrize(
    ("more", "share", "why"),
    [
        ("", 0.05, "as estimators take it"),  # cost handbook 2018, p. 42
        ("order: {allowance: 11 %}\n", 0.11, "as the file says"),
    ],
)
def test_the_allowance_and_its_reason(more: str, share: float, why: str) -> None:
    worked = concrete(pad(30, 60, "6 in", more))
    assert (worked.allowance, why in worked.allowance_reason.template) == (share, True)


@pytest.mark.parametrize(
    ("order", "yards"),
    [("", 4.25), ("allowance: 8 %", 4.5), ("allowance: 1 %", 4.25), ("method: pump, step: 0.1 yd3", 4.5)],
)
def test_sheet_and_review_say_one_figure_to_order(order: str, yards: float) -> None:
    """324 ft2 of 4 in are 4 yd3: 4.2 with 5 %, 4.32 with 8 %, 4.16 at least, and a quarter yard in a hopper."""
    plan = pad(18, 18, "4 in", f"order: {{volume: 3 yd3, {order}{', ' if order else ''}allowance_inside: true}}\n")
    (comment,) = review_by("ordered-volume", plan).comments
    advised = comment.to_pass.values["write"]
    assert isinstance(advised, Amount)
    assert advised.si / YARD3 == pytest.approx(yards)
    assert concrete(plan).rounded / YARD3 == pytest.approx(yards)


def test_loads_add_up_and_a_short_last_one_is_told() -> None:
    plan = pad(27, 51, "4 in", "order: {volume: 21.5 yd3, truck: 10 yd3, short_load: 3 yd3}\n")
    worked = concrete(plan)
    assert [load / YARD3 for load in worked.loads] == pytest.approx([10, 10, 1.5])
    assert worked.last_is_short
    made = order_sheet(plan)
    assert column(made.table("loads"), "loads") == ["1 to 2", "3 (short)"]
    assert any("short one" in words.template for words in made.cautions)


def test_an_allowance_that_is_not_inside_comes_on_top() -> None:
    order = "order: {{volume: 18 yd3, allowance: 5 %, allowance_inside: {}}}\n"
    assert concrete(pad(27, 51, "4 in", order.format("false"))).ordered / YARD3 == pytest.approx(18.9)
    assert concrete(pad(27, 51, "4 in", order.format("true"))).ordered / YARD3 == pytest.approx(18.0)


@pytest.mark.long
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_the_sheet_and_the_review_agree_whether_the_order_does(path: Path) -> None:
    plan = Plan(read_design(path)[0])
    worked = concrete(plan)
    if worked.typed:
        weights = {one.weight for one in review_by("ordered-volume", plan).comments} & {"hold", "caution"}
        assert bool(weights) == (worked.ordered < worked.least * (1 - 1e-6))


def test_an_order_in_the_file_that_is_too_small_is_told() -> None:
    made = order_sheet(pad(27, 51, "4 in", "order: {volume: 16 yd3, truck: 10 yd3, allowance: 5 %}\n"))
    assert any("short" in words.template and "file orders" in words.template for words in made.cautions)


# the sums of rows


def test_panels_edges_and_steps_add_up_to_the_net_volume(bay: Plan, sheet: Sheet) -> None:
    parts = sheet.table("parts")
    net = bay.concrete.quantities.net
    assert summed(parts, "volume") == pytest.approx(net)
    assert si(total(parts, "volume")) == pytest.approx(net)
    assert si(sheet.figure("net").value) == pytest.approx(net)
    assert summed(parts, "area") == pytest.approx(24 * 22 * FOOT**2 + 14 * 18 * FOOT**2 - 4 * FOOT**2)
    assert summed(parts, "slab") + summed(parts, "edges") == pytest.approx(net - bay.concrete.quantities.steps)
    steps = next(row for row in parts.rows if row[0] == "side steps")
    assert si(steps[-1]) == pytest.approx(4 * FOOT * FOOT * 0.5 * FOOT * (1 + 2 + 3))  # solid flight of three
    edges = si(total(parts, "edges"))
    assert edges == pytest.approx(14 * FOOT * 3 * INCH * 3 * FOOT / 2, rel=0.06)  # a wedge, less where it rounds


def test_openings_are_left_out_once(bay: Plan, sheet: Sheet) -> None:
    (row,) = sheet.table("openings").rows
    assert (row[0], si(row[1]), si(row[2])) == (
        "planter",
        pytest.approx(4 * FOOT**2),
        pytest.approx(4 * FOOT**2 * 5 * INCH),
    )


def test_every_total_is_the_sum_of_its_rows_and_there_is_no_money_without_prices() -> None:
    checked = 0
    for path in (*EXAMPLES, None):
        plan = plan_of(BAY) if path is None else Plan(read_design(path)[0])
        made = order_sheet(plan)
        cells = [cell for section in made.sections for table in section.tables for row in table.rows for cell in row]
        assert plan.design.prices is not None or not any(isinstance(cell, Money) for cell in cells), path
        for section in made.sections:
            for table in section.tables:
                for at, cell in enumerate(table.total or ()):
                    cells = [row[at] for row in table.rows if row[at] is not None]
                    if isinstance(cell, Amount) and table.columns[at].key != "thickness":
                        assert cell.si == pytest.approx(sum(si(one) for one in cells), abs=1e-9), (path, table.key)
                        checked += 1
                    if isinstance(cell, Money):
                        costs = [one.value for one in cells if isinstance(one, Money)]
                        assert cell.value == pytest.approx(sum(costs)) and len(costs) == len(cells)
                        checked += 1
    assert checked > 3 * len(EXAMPLES)


def test_loads_add_up_to_the_order(sheet: Sheet) -> None:
    loads = sheet.table("loads")
    assert si(total(loads, "volume")) == pytest.approx(si(sheet.figure("ordered").value))
    assert si(sheet.figure("ordered").value) >= si(sheet.figure("needed").value)


# one plan behind every number


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("C: 98.76", "C: 98.70"),
        ("finish: {A: 100.00", "finish: {A: 100.06"),
        ("existing: {A: 100.1", "existing: {A: 100.3"),
    ],
)
def test_one_height_moves_the_sheet(sheet: Sheet, old: str, new: str) -> None:
    assert BAY.count(old) == 1
    moved = order_sheet(plan_of(BAY.replace(old, new)))
    changed = "bank" if "existing" in old else "net"
    assert si(moved.figure(changed).value) > si(sheet.figure(changed).value) + 1e-3
    if changed == "net":  # and with it all that hangs on it
        for key in ("needed", "before_truck", "before_short"):
            assert si(moved.figure(key).value) != pytest.approx(si(sheet.figure(key).value), abs=1e-4)
        assert summed(moved.table("parts"), "volume") == pytest.approx(si(moved.figure("net").value))
    else:
        assert si(moved.figure("net").value) == si(sheet.figure("net").value)


def test_what_is_bought_does_not_change_with_what_is_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bay.slab.yaml"
    path.write_text(BAY)
    sheets = []
    for system in ("--us", "--metric"):
        assert main.main(["order", str(path), "--json", system]) == 0
        sheets.append(json.loads(capsys.readouterr().out))
    us, metric = sheets
    assert (us["system"], metric["system"]) == ("us", "metric")

    told_apart = ("deeper", "quarter_inch", "five_millimeters")  # in steps of a tape of its own

    def numbers(data: Any) -> list[float]:
        if isinstance(data, dict):
            if "si" in data:
                return [data["si"]]
            return [one for key, value in data.items() if key not in told_apart for one in numbers(value)]
        if isinstance(data, list):
            return [one for value in data for one in numbers(value)]
        return [data] if isinstance(data, int | float) else []

    assert numbers(us["sections"]) == pytest.approx(numbers(metric["sections"]))


def test_the_same_job_typed_in_meters_needs_the_same(sheet: Sheet) -> None:
    def meters(found: re.Match[str]) -> str:
        return f"{float(found[0]) * FOOT:.9f}"

    head, tail = BAY.split("outline:", 1)
    name, rest = head.split("points:")
    rest = re.sub(r"(?<=[\[ ])\d+(?=[,\]])", meters, rest)
    pairs = re.sub(r"(?<=[\[ ])\d+(?=[,\]])", meters, tail.split("heights:")[0])
    middle, last = tail.split("heights:")[1].split("thickness:\n", 1)
    middle = re.sub(r"\d+\.\d+|(?<=: )\d+", meters, middle)
    joints, order = last.split("reinforcement:")
    joints = re.sub(r"(?<=[\[ ])\d+(?=, )|(?<=, )\d+(?=\])", meters, joints)
    pairs = re.sub(r"ground: 99\.10", f"ground: {99.10 * FOOT:.9f}", pairs)
    text = f"{name}points:{rest}outline:{pairs}heights:{middle}thickness:\n{joints}reinforcement:{order}"
    text = text.replace("{plan: ft, height: ft}", "{plan: m, height: m}")
    made = order_sheet(plan_of(text))
    for key in ("net", "needed", "ordered", "bank", "weight", "before_truck", "base_weight", "forms"):
        assert si(made.figure(key).value) == pytest.approx(si(sheet.figure(key).value), rel=1e-6), key
    assert summed(made.table("parts"), "volume") == pytest.approx(si(sheet.figure("net").value))


# dig and haul


def test_hauling_by_volume_and_by_weight() -> None:
    # 480 ft2 dug 10 in in clay: 14.8 bank yd3, 19.3 loose, 22 tons; 10 yd3 box and 5 tons: 2 trips by volume, 5 by
    # weight (common practice)
    site = "site: {soil: {kind: clay, swell: 30 %, bank_weight: 3000 lb/yd3}}\n"
    plan = pad(12, 40, "4 in", site + "dig: {depth: 10 in, box: 10 yd3, payload: 5 ton}\n")
    dug = haul(plan)
    assert dug is not None
    assert dug.cut / YARD3 == pytest.approx(14.8, abs=0.05)
    assert dug.spoil.loose / YARD3 == pytest.approx(19.3, abs=0.05)
    assert dug.spoil.mass / TON == pytest.approx(22.2, abs=0.05)
    assert (dug.spoil.by_volume, dug.spoil.by_mass, dug.spoil.trips, dug.spoil.governs) == (2, 5, 5, "weight")
    assert dug.cut * dug.compacts_to / YARD3 == pytest.approx(14.8 * 0.8, abs=0.05)  # clay shrinks 20 %


def test_the_tip_may_take_less_than_the_truck() -> None:
    dig = "dig: {depth: 10 in, box: 10 yd3, payload: 14 ton, tip: {load_at_most: 5 ton, loads_a_day: 2}}\n"
    dug = haul(pad(12, 40, "4 in", "site: {soil: {kind: clay}}\n" + dig))
    assert dug is not None and (dug.spoil.by_mass, dug.days) == (5, 3)
    assert any("less than the truck" in words.template for words in dug.notes)


def test_the_dig_is_the_ground_above_the_base_in_closed_form() -> None:
    # ground 6 in over the finish, 4 in of slab, 4 in of base: 14 in over 200 ft2, or over 22 ft by 12 ft
    heights = (
        "heights: {finish: {A: 100, B: 100, C: 100, D: 100}, existing: {A: 100.5, B: 100.5, C: 100.5, D: 100.5}}\n"
        "site: {base: {material: gravel, thickness: 4 in}}\n"
    )
    dug, wider = haul(pad(20, 10, "4 in", heights)), haul(pad(20, 10, "4 in", heights + "dig: {beyond_edge: 1 ft}\n"))
    assert dug is not None and wider is not None
    assert dug.cut == pytest.approx(200 * FOOT**2 * 14 * INCH)
    assert wider.cut == pytest.approx(22 * 12 * FOOT**2 * 14 * INCH)
    assert (dug.fill, dug.from_ground, dug.spoil.governs) == (0.0, True, "not known")
    assert {one.split(":")[0] for one in dug.add} >= {"dig.box", "dig.payload"}


def test_low_ground_is_filled_and_no_trip_is_invented() -> None:
    heights = "heights: {finish: {A: 100, B: 100, C: 100, D: 100}, existing: {A: 99, B: 99, C: 99, D: 99}}\n"
    dug = haul(pad(20, 10, "4 in", heights))
    assert dug is not None
    assert (dug.cut, dug.fill) == (0.0, pytest.approx(200 * FOOT**2 * 8 * INCH))
    assert haul(pad(20, 10, "4 in")) is None


def test_broken_concrete_is_hauled_by_itself() -> None:
    # a 4 in slab weighs 2.5 tons per 100 ft2 (derived)
    dug = haul(
        pad(10, 10, "4 in", "dig: {broken_concrete: {area: 300 ft2, thickness: 4 in}, box: 10 yd3, payload: 5 ton}\n")
    )
    assert dug is not None and dug.broken is not None
    assert dug.broken.mass / TON == pytest.approx(7.5)
    assert (dug.broken.by_mass, dug.trips) == (2, 2)


# steel and the rest


def test_bars_weigh_what_the_handbook_prints() -> None:
    # 40 ft by 20 ft, #4 at 18 in, 3 in short: 14 of 39'-6" and 28 of 19'-6"; #4 weighs 0.668 lb/ft (PCI handbook)
    steel = all_steel(pad(40, 20, "4 in", 'reinforcement: {bars: {size: "#4", spacing: 18 in, ends_short: 3 in}}\n'
                          "order: {stock: [40 ft]}\n"))  # fmt: skip
    assert steel is not None
    (bars,) = steel.bars
    assert {round(run / FOOT, 2): count for run, count in bars.runs.items()} == {39.5: 14, 19.5: 28}
    assert bars.plan.bars == 28  # 14 whole, and two of 19'-6" from each of 14
    assert bars.mass / POUND == pytest.approx(28 * 40 * 0.668, rel=2e-3)


def test_long_runs_are_lapped_from_stock() -> None:
    bars = 'reinforcement: {bars: {size: "#4", spacing: 18 in, ends_short: 3 in, yield_strength: 60000 psi}}\n'
    steel = all_steel(pad(40, 20, "4 in", bars + "order: {stock: [20 ft]}\n"))
    assert steel is not None
    (only,) = steel.bars
    assert only.lap / INCH == pytest.approx(30)  # #4, Grade 60: 60 diameters (IRC, believed Table R608.5.4(1))
    # 39'-6" in 20 ft bars lapped 30 in: 20 + 20 + 4'-6"; three go in a bar beside nothing else; 19'-6" one each
    assert only.plan.used / FOOT == pytest.approx(14 * 44.5 + 28 * 19.5)
    assert only.plan.bars == 28 + 28 + math.ceil(14 / 4)


def test_laps_of_steel_stronger_than_the_table() -> None:
    assert lap_of(0.012, 500e6) == pytest.approx(60 * 0.012)


def test_corner_bars_are_counted_by_corner(bay: Plan) -> None:
    steel = all_steel(bay)
    assert steel is not None
    (bars,) = steel.bars
    assert bars.runs[4 * FOOT] == 2


def test_mesh_sheets_and_their_weight() -> None:
    # 20 ft by 20 ft less 2 in all round, sheets of 10 ft by 5 ft lapped 8 in: 5 strips of 19'-8", each of two whole
    # sheets and a piece of 1'-0" (19'-8" and two laps, less 20 ft); those pieces come from one sheet more
    mesh = 'reinforcement: {mesh: {style: "6x6 W2.9", held_by: chairs, support_spacing: 5 ft}}\n'
    mesh += "order: {sheet: [10 ft, 5 ft]}\n"
    steel = all_steel(pad(20, 20, "4 in", mesh))
    assert steel is not None
    (found,) = steel.meshes
    assert found.lap / INCH == pytest.approx(8)  # one wire space and 2 in (ACI 318, recalled)
    assert found.plan.used / FOOT == pytest.approx(5 * (19 + 8 / 12 + 2 * 8 / 12))
    assert found.plan.bars == 11
    assert found.mass / POUND == pytest.approx(11 * 50 * 0.42)  # 42 lb per 100 ft2 (course notes, 2013)
    # by hand: 19'-8" is 4 spaces of at most 5 ft, so 5 rows of 5; one chair per 25 ft2 (course notes, 2013) is 16 of
    # them and leaves the rims of the mat without any
    assert steel.supports == 25 >= found.area / (25 * FOOT**2)


def test_chairs_are_counted_mat_by_mat_with_rims() -> None:
    """Two mats of 9'-7" x 19'-6" less 2 in at the joint: at 4 ft, rows of 4 (3 spaces) and 6 of them (5 spaces): 24."""
    bars = 'reinforcement: {bars: {size: "#4", spacing: 18 in, ends_short: 3 in, at_joints: stop, held_by: chairs, '
    bars += "support_spacing: 4 ft}}\n"
    joint = "joints: [{name: J1, kind: saw cut, from: [10, 0], to: [10, 20], depth: 1 in}]\n"
    plan = pad(20, 20, "4 in", bars + joint)
    steel = all_steel(plan)
    assert steel is not None
    assert steel.supports == 2 * 4 * 6
    figure = order_sheet(plan).figure("supports")
    assert figure.value == 48
    assert any("2 x 24" in in_plain_words(one.numbers, "us") for one in steel.working)
    whole = all_steel(pad(20, 20, "4 in", bars.replace("at_joints: stop", "at_joints: run through") + joint))
    assert whole is not None and whole.supports == 6 * 6  # one mat of 19'-6": 5 spaces each way


def test_chairs_under_a_bent_mat_are_counted_row_by_row() -> None:
    """Seven rows 1.5 m apart, by hand: 10 m wide up to 3 m, 4 m wide above."""
    import shapely
    from slabwright.sheets.order.mats import chairs

    shape = shapely.Polygon([(0, 0), (10, 0), (10, 3.5), (4, 3.5), (4, 9), (0, 9)])
    assert chairs(shape, 1.5) == 3 * (7 + 1) + 4 * (3 + 1)


def test_isolation_by_material_thickness_and_height(bay: Plan) -> None:
    (only,) = isolation(bay)
    assert (only.material, only.thickness, only.where) == (
        "foam",
        pytest.approx(INCH / 2),
        ("workshop wall", "planter"),
    )
    assert (only.length, only.height) == (pytest.approx(32 * FOOT), pytest.approx(5 * INCH))


def test_a_square_post_is_wrapped_on_its_four_sides() -> None:
    filler = "{material: felt, thickness: 1/4 in, depth: 4 in}"
    post = f"fixtures: [{{kind: post, at: [5, 5], size: 6 in, isolation: {filler}}}]\n"
    (only,) = isolation(pad(10, 10, "4 in", post))
    assert (only.material, only.length, only.height) == ("felt", pytest.approx(2 * FOOT), pytest.approx(4 * INCH))


def test_joint_length_by_kind_and_depth(bay: Plan) -> None:
    made = {(one.kind, round((one.depth or 0) / INCH, 3)): round(one.length / FOOT, 6) for one in joint_lengths(bay)}
    assert made == {("saw cut", 1.25): 14 + 22, ("construction joint", 5.0): 14}


def test_base_forms_curing_and_retarder_in_closed_form(bay: Plan) -> None:
    base = base_course(pad(20, 20, "4 in", "site: {base: {material: gravel, thickness: 4 in}}\n"))
    assert base is not None
    assert base.mass / TON == pytest.approx(400 / 3 * 140 / 2000)  # ft3 x 140 lb/ft3 (common practice)
    assert base.loose == (pytest.approx(base.compacted * 1.15), pytest.approx(base.compacted * 1.30))
    boards = forms(bay)  # all but the wall; the planter; the construction joint
    around = 40 + 14 + 18 + 10 + 22
    assert (boards.edge, boards.openings, boards.bulkheads) == pytest.approx((around * FOOT, 8 * FOOT, 14 * FOOT))
    assert (boards.depth, boards.deeper) == (pytest.approx(5 * INCH), (("edge C-D (street)", pytest.approx(8 * INCH)),))
    deep, values = board_depths(boards)
    assert in_plain_words(Words(deep, values), "us", both=False) == "5 in deep, 8 in along edge C-D (street)"
    assert curing(pad(20, 40, "4 in"))[0] / GALLON == pytest.approx(4.0)  # 200 ft2 a gallon (UFGS 03311)
    sheeting = retarder(pad(20, 40, "4 in", "order: {retarder: {roll_length: 100 ft, roll_width: 12 ft}}\n"))
    assert sheeting is not None
    assert (sheeting.strips, sheeting.rolls) == (2, 1)  # 12 + 11.5 ft wide, 80 ft long


def test_fiber_bags_go_whole_into_each_load(sheet: Sheet) -> None:
    ordered = si(sheet.figure("ordered").value)
    assert si(sheet.figure("fiber").value) / POUND == pytest.approx(1.5 * ordered / YARD3)
    assert sheet.figure("fiber_bags").value == 10 + math.ceil(ordered / YARD3 - 10)


# money


def test_costs_are_quantity_times_price(sheet: Sheet) -> None:
    rows = {str(row[0]): row for row in sheet.table("list").rows}
    ordered = si(sheet.figure("ordered").value) / YARD3

    def cost(item: str) -> float:
        money = rows[item][-1]
        assert isinstance(money, Money) and money.currency == "USD"
        return money.value

    assert cost("concrete") == pytest.approx(165 * ordered)
    assert cost("loads") == pytest.approx(45 * 2)
    assert cost("bars #4") == pytest.approx(1.10 * si(rows["bars #4"][2]) / POUND)
    assert cost("base") == pytest.approx(38 * si(rows["base"][2]) / TON)
    assert cost("isolation, foam") == pytest.approx(1.20 * 32)
    assert {str(row[0]): row for row in sheet.table("do").rows}["forms"][-1] is None  # no price for forms


def test_a_price_file_counts_before_the_design(tmp_path: Path, bay: Plan) -> None:
    path = tmp_path / "prices.yaml"
    path.write_text("concrete: 180/yd3\nforms: 3 per ft\n")
    made = order_sheet(bay, read_prices(path))
    rows = {str(row[0]): row for row in made.table("list").rows}
    money = rows["concrete"][-1]
    assert isinstance(money, Money)
    assert money.value == pytest.approx(180 * si(made.figure("ordered").value) / YARD3)
    forms_row = next(row for row in made.table("do").rows if row[0] == "forms")
    assert isinstance(forms_row[-1], Money) and isinstance(rows["loads"][-1], Money)
    total_of = made.figure("total").value
    sums = [total(made.table(key), "cost") for key in ("list", "do")]
    assert isinstance(total_of, Money)
    assert total_of.value == pytest.approx(sum(one.value for one in sums if isinstance(one, Money)))


@pytest.mark.parametrize(
    ("text", "place", "wrong", "write"),
    [
        ("concrete: 165\n", (1, 11), '"165" does not say what it is for', "165 per yd3, or 210 per m3"),
        ("base: 38 per yd3\n", (1, 7), '"38 per yd3" is not a price by mass', "1.10 per lb, or 38 per ton"),
        ("haul: 220 per ton\n", (1, 7), '"220 per ton" is a price by ton, and this is counted', "450 each"),
        ("bars: nan per lb\n", (1, 7), '"nan per lb" is not a price', "1.10 per lb, or 38 per ton"),
        ("concrete: -5 per yd3\n", (1, 11), '"-5 per yd3" is not a price', "165 per yd3, or 210 per m3"),
        ("cement: 5 per lb\n", (1, 1), '"cement" is not a key known here', None),
    ],
)
def test_a_price_that_cannot_be_read(
    tmp_path: Path, text: str, place: tuple[int, int], wrong: str, write: str | None
) -> None:
    path = tmp_path / "prices.yaml"
    path.write_text(text)
    with pytest.raises(UnreadableError) as caught:
        read_prices(path)
    (problem,) = caught.value.problems
    assert ((problem.place.line, problem.place.column), problem.wrong) == (place, wrong)
    assert write is None or problem.write == write


# a base off its height

HEIGHTS = """\
heights:
  finish: {A: 100, B: 100, C: 100, D: 100}
  base: {A: BA, B: BB, C: BC, D: BD}
"""


def off_height(a: float, b: float, c: float, d: float, more: str = "") -> Plan:
    """A level pad of 600 ft2, 6 in thick, its base so many inches under the finish at its corners."""
    text = HEIGHTS
    for name, deep in zip(("BA", "BB", "BC", "BD"), (a, b, c, d), strict=True):
        text = text.replace(name, f"{100 - deep / 12:.8f}", 1)
    return pad(30, 20, "6 in", text + more)


PRICED = ("prices: {currency: USD, concrete: 150 per yd3, base: 30 per ton, base_placing: 20 per yd3, haul: 100 each}\n"
          "order: {truck: 10 yd3, allowance: 5 %, step: 0.25 yd3}\ndig: {box: 10 yd3, payload: 10 ton}\n")  # fmt: skip


def weighed(plan: Plan) -> Options:
    found = options(plan, plan.design.prices, lambda other: frozenset())
    assert found is not None
    return found


def test_a_low_wedge_by_closed_form() -> None:
    # 2 in low along one side of 30 ft, nothing at the other: mean 1 in over 600 ft2
    found = weighed(off_height(8, 8, 6, 6, PRICED))
    assert found.low.volume == pytest.approx(600 * FOOT**2 * INCH)
    assert found.high.volume == pytest.approx(0.0, abs=1e-9)
    by_key = {one.key: one for one in found.choices}
    assert set(by_key) == {"as it lies", "fill", "lower"}
    fill, lies, lower = by_key["fill"], by_key["as it lies"], by_key["lower"]
    low = 600 / 324  # yd3
    assert lies.worked.net / YARD3 == pytest.approx(600 * 7 / 324)
    assert fill.worked.net / YARD3 == pytest.approx(600 * 6 / 324)
    assert fill.base_mass / TON == pytest.approx(low * 27 * 140 / 2000)
    order = math.ceil(600 * 6 / 324 * 1.05 / 0.25) * 0.25
    assert fill.cost == pytest.approx(150 * order + 30 * low * 27 * 0.07 + 20 * low)
    # the finish goes down 3/4 in: no place may be thinner than 6 in less 3/4 in (ACI 117-10, quoted)
    assert in_plain_words(lower.does, "us", both=False) == "set the whole finish 3/4 in lower"
    assert lower.worked.net / YARD3 == pytest.approx(600 * 6.25 / 324)


def test_the_costs_of_the_page_on_deciding() -> None:
    """docs/deciding.md: the wedge above, worked there by hand; the finish lower is cheapest, then base, then slab."""
    page = (ROOT / "docs" / "deciding.md").read_text(encoding="utf-8")
    found = weighed(off_height(8, 8, 6, 6, PRICED))
    assert [one.key for one in found.choices] == ["lower", "fill", "as it lies"]
    for one in found.choices:
        assert one.cost is not None and f"{one.cost:,.2f} |" in page


def test_the_cheapest_that_keeps_the_rules_comes_first() -> None:
    plan = off_height(8, 8, 6, 6, PRICED)
    found = weighed(plan)
    costs = [one.cost for one in found.choices]
    assert found.best is found.choices[0] and costs == sorted(costs, key=lambda cost: cost or 0)

    def hard_on_lower(other: Plan) -> frozenset[tuple[str, str, str]]:
        lowered = other.design.heights.finish[0].height.si < plan.design.heights.finish[0].height.si - 1e-9
        return frozenset({("door-step", "door", "hold")} if lowered else set())

    judged = options(plan, plan.design.prices, hard_on_lower)
    assert judged is not None
    lower = next(one for one in judged.choices if one.key == "lower")
    assert (lower.kept, lower.brings) == (False, ("door-step (door)",))
    assert judged.choices[-1] is lower and judged.best is not None and judged.best.key != "lower"


def test_a_choice_that_clears_a_hold_beats_those_that_do_not() -> None:
    plan = off_height(5, 5, 6, 6, PRICED)  # thin

    def hard_on_thin(other: Plan) -> frozenset[tuple[str, str, str]]:
        assert other.concrete.depths is not None
        return frozenset(
            {("base-depth", "the base at A", "hold")} if other.concrete.depths.least < 5.5 * INCH else set()
        )

    judged = options(plan, plan.design.prices, hard_on_thin)
    assert judged is not None and judged.best is not None
    assert {one.key: one.kept for one in judged.choices}["as it lies"] is False
    assert judged.best.key in {"trim", "raise"} and judged.best.clears == ("base-depth (the base at A)",)


def test_heights_that_are_proposed_are_a_choice_like_the_others() -> None:
    """A base 1 in low all over; finish 1 in lower all over, by hand: 6 in on the base as it lies, as when it is filled.

    With the base graded to heights 2 in lower, 1 in of 600 ft2 is trimmed.
    """
    plan = off_height(7, 7, 7, 7, PRICED)

    def settled(by: float) -> Any:
        finish = tuple(
            one._replace(height=Amount(one.height.si - by * INCH, Kind.HEIGHT)) for one in plan.design.heights.finish
        )
        return lambda _: plan.design._replace(heights=plan.design.heights._replace(finish=finish))

    found = options(plan, plan.design.prices, lambda other: frozenset(), settled(1))
    assert found is not None
    by_key = {one.key: one for one in found.choices}
    assert by_key["settle"].worked.net / YARD3 == pytest.approx(600 * 6 / 324)
    assert by_key["settle"].worked.net == pytest.approx(by_key["fill"].worked.net)
    assert (by_key["settle and grade"].trimmed, by_key["settle and grade"].base_volume) == (0, 0)
    deeper = options(plan, plan.design.prices, lambda other: frozenset(), settled(2))
    assert deeper is not None
    graded = next(one for one in deeper.choices if one.key == "settle and grade")
    assert graded.trimmed == pytest.approx(600 * FOOT**2 * INCH)
    assert graded.worked.net / YARD3 == pytest.approx(600 * 6 / 324)
    assert graded.trips == math.ceil(600 / 324 / 10)
    assert not any(
        one.key.startswith("settle") for one in (options(plan, plan.design.prices, None, settled(0)) or found).choices
    )


def test_the_order_sheet_asks_the_proposal_of_heights(capsys: pytest.CaptureFixture[str]) -> None:
    """The trailer bay of the examples, whose heights fall short: what the command offers is what `propose` finds."""
    from slabwright.proposals.heights.job import job_of
    from slabwright.proposals.heights.propose import propose
    from slabwright.rulebook import limits, loading

    path = locate.folder("example_designs") / "jobs" / "trailer_bay.slab.yaml"
    assert main.main(["order", str(path), "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)["sections"]["choices"]["tables"]["choices"]["rows"]
    offered = next(row for row in rows if row["choice"] == "new heights, base as it is")
    rules = loading.load_rules()
    job = job_of(path, path.read_text(encoding="utf-8"), rules, limits.resolve(rules))
    best = propose(job).found[0].plan
    assert offered["concrete"]["si"] == pytest.approx(for_other(best).ordered)


def test_a_load_ends_where_the_card_says() -> None:
    """27 x 51 ft of 4 in in three bays of 17 ft, by hand 5.667 yd3 each: 10 yd3 end in the second, past joint J1."""
    joints = "joints:\n" + "".join(
        f"  - {{name: J{n}, kind: saw cut, from: [0, {17 * n}], to: [27, {17 * n}], depth: 1 in}}\n" for n in (1, 2)
    )
    sheet = order_sheet(pad(27, 51, "4 in", joints + "order: {truck: 10 yd3}\n"))
    notes = [in_plain_words(one, "us", both=False) for one in sheet.section("concrete").notes]
    assert any("load 1 ends in P2" in one and "is J1, with 5.67 yd3 placed" in one for one in notes), notes


def test_base_costs_at_least_its_delivery() -> None:
    plain = next(one for one in weighed(off_height(8, 8, 6, 6, PRICED)).choices if one.key == "fill")
    dear = PRICED.replace("haul: 100 each", "haul: 100 each, base_delivery: 500 each")
    least = next(one for one in weighed(off_height(8, 8, 6, 6, dear)).choices if one.key == "fill")
    assert plain.cost is not None and least.cost is not None
    assert least.cost - plain.cost == pytest.approx(500 - 30 * plain.base_mass / TON)  # 3.5 tons cost less than that


def test_a_choice_is_hauled_in_loads_that_the_tip_takes() -> None:
    """600 ft2 by 1 in are 1.85 yd3, of common earth 5,740 lb: one trip, and three where the tip takes 1 ton."""
    whole = next(one for one in weighed(off_height(5, 5, 5, 5, PRICED)).choices if one.key == "trim")
    least = PRICED.replace("payload: 10 ton}", "payload: 10 ton, tip: {load_at_most: 1 ton}}")
    parted = next(one for one in weighed(off_height(5, 5, 5, 5, least)).choices if one.key == "trim")
    assert (whole.trips, parted.trips) == (1, 3)
    assert whole.cost is not None and parted.cost == pytest.approx(whole.cost + 2 * 100)


def test_a_fixed_height_holds_the_finish() -> None:
    fixed = "fixed: [{name: gate sill, kind: sill, along: [A, B], height: 100, slab: at most 0.25 in below}]\n"
    found = weighed(off_height(8, 8, 6, 6, PRICED + fixed))
    lower = next(one for one in found.choices if one.key == "lower")
    assert in_plain_words(lower.does, "us", both=False) == "set the whole finish 1/4 in lower"
    level = weighed(off_height(8, 8, 6, 6, PRICED + fixed.replace("at most 0.25 in below", "level")))
    assert {one.key for one in level.choices} == {"as it lies", "fill"}
    assert level.left_out[0].values["thing"] == "gate sill"


def test_high_and_low_places_are_trimmed_and_filled() -> None:
    found = weighed(off_height(8, 6, 4, 6, PRICED))
    by_key = {one.key: one for one in found.choices}
    assert {"as it lies", "fill", "trim", "trim and fill"} <= set(by_key)
    assert by_key["trim and fill"].worked.net == pytest.approx(600 * FOOT**2 * 6 * INCH)
    assert by_key["trim"].trips == 1
    assert found.low.volume == pytest.approx(found.high.volume)


def test_without_prices_the_choices_give_quantities_alone() -> None:
    plan = off_height(8, 8, 6, 6)
    found = weighed(plan)
    assert all(one.cost is None for one in found.choices) and found.best is None
    assert set(found.add) == {"prices.base", "prices.base_placing", "prices.concrete"}
    assert "cheapest" not in {figure.key for figure in order_sheet(plan).section("choices").figures}


def test_a_base_within_a_quarter_inch_asks_for_no_choice() -> None:
    assert options(off_height(6.2, 6.2, 6.1, 6.1)) is None
    assert options(pad(30, 20, "6 in")) is None


# ways out


@pytest.mark.long
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.name}")
@pytest.mark.parametrize("system", ["us", "metric"])
def test_every_example_gives_a_whole_sheet(path: Path, system: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main.main(["order", str(path), "--json", f"--{system}"]) == 0
    data = json.loads(capsys.readouterr().out)
    jsonschema.validate(data, SCHEMA, format_checker=jsonschema.FormatChecker())
    for day in [f"_{number}" for number, _ in enumerate(data.get("pours", ()), 1)] or [""]:
        section = data["sections"][f"concrete{day}"]
        net, rows = section["figures"][f"net{day}"]["value"]["si"], section["tables"][f"parts{day}"]["rows"]
        assert sum(row["volume"]["si"] for row in rows) == pytest.approx(net)
    assert main.main(["order", str(path), f"--{system}", "--width", "60"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 60


def test_csv_holds_the_list_with_units_and_costs(tmp_path: Path, sheet: Sheet) -> None:
    rows = list(csv.DictReader(io.StringIO(as_data.as_csv(sheet))))
    assert list(rows[0]) == ["table", "item", "detail", "quantity", "quantity_unit", "price", "cost"]
    concrete_row = rows[0]
    assert (concrete_row["item"], concrete_row["quantity_unit"]) == ("concrete", "yd3")
    assert float(concrete_row["quantity"]) == pytest.approx(si(sheet.figure("ordered").value) / YARD3, abs=1e-4)
    for table in ("list", "do"):
        *lines, last = [row for row in rows if row["table"] == table]
        costs = [float(row["cost"]) for row in lines if row["cost"]]
        assert last["item"] == "total" and float(last["cost"]) == pytest.approx(sum(costs), abs=0.05)


def test_text_from_the_file_is_no_formula_no_markup_and_no_control() -> None:
    nasty = BAY.replace("name: Trailer bay", 'name: "<script>alert(1)</script>\\e[31m\\u202e"').replace(
        "material: crushed stone", 'material: "=cmd()"'
    )
    made = order_sheet(plan_of(nasty))
    page = paper.page(made)
    assert "<script" not in page and "&lt;script&gt;" in page
    assert "\x1b" not in page and "\u202e" not in page
    printed = "".join(run.text for line in as_text.lines(made) for run in line)
    assert "\x1b" not in printed and "\u202e" not in printed
    rows = list(csv.reader(io.StringIO(as_data.as_csv(made))))
    assert all(not cell.startswith(("=", "+", "@")) for row in rows for cell in row)
    assert any(cell == "'=cmd()" for row in rows for cell in row)


class _Outline(HTMLParser):
    """What a page loads, and its open elements."""

    def __init__(self) -> None:
        super().__init__()
        self.loads: list[str] = []
        self.headings: list[str] = []
        self.open: list[str] = []
        self.tables = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        self.loads += [f"{tag} {key}={named[key]}" for key in ("src", "href", "srcset") if key in named]
        if tag in {"script", "link", "iframe", "object", "embed"}:
            self.loads.append(tag)
        if tag not in {"meta", "br", "img", "hr"}:
            self.open.append(tag)
        self.tables += tag == "table"

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open[-1] == tag, (tag, self.open[-3:])
        self.open.pop()

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] == "h2":
            self.headings.append(data.strip())


def test_the_page_is_whole_in_itself(sheet: Sheet) -> None:
    page = paper.page(sheet)
    outline = _Outline()
    outline.feed(page)
    assert outline.loads == [] and outline.open == []
    assert "url(" not in page and "@import" not in page and "http" not in page.replace("http-equiv", "")
    assert outline.headings == [section.title for section in sheet.sections] + (["Cautions"] if sheet.cautions else [])
    assert outline.tables == sum(len(section.tables) for section in sheet.sections)
    assert 'name="viewport"' in page and "@page" in page and sheet.local_code in page


def test_the_page_and_the_text_say_the_same_numbers(sheet: Sheet) -> None:
    page = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", paper.page(sheet)).replace("&#39;", "'").replace("&#34;", '"'))
    for key in ("net", "needed", "ordered", "before_truck", "bank", "base_weight", "curing"):
        shown = as_text.cell_text(sheet.figure(key).value, sheet.system, both=True)
        assert shown.replace("\u00a0", " ") in page.replace("\u00a0", " "), key


def test_the_page_is_written_where_it_is_asked_and_nowhere_else(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design, page = tmp_path / "bay.slab.yaml", tmp_path / "order.html"
    design.write_text(BAY)
    assert main.main(["order", str(design), "--page", str(page)]) == 0
    assert capsys.readouterr().out == f"wrote {page}\n"
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert main.main(["order", str(design), "--page", str(design)]) == 2
    assert "a page is an HTML file" in capsys.readouterr().err
    assert design.read_text() == BAY
    assert main.main(["order", str(design), "--page", str(tmp_path / "none" / "order.html")]) == 2
    assert main.main(["order", str(tmp_path / "none.slab.yaml")]) == 2


def test_the_command_judges_other_choices_by_the_rules(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    design = tmp_path / "bay.slab.yaml"
    design.write_text(BAY)
    assert main.main(["order", str(design), "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)["sections"]["choices"]["tables"]["choices"]["rows"]
    assert len(rows) >= 2 and {row["rules"] for row in rows} <= {"kept", "not kept"}
    assert rows[0]["rules"] == "kept"


# the call to the plant


def said(sheet: Sheet, key: str) -> str:
    figure = sheet.figure(key)
    value = as_text.cell_text(figure.value, sheet.system)
    words = in_plain_words(figure.says, sheet.system, both=False) if figure.says else ""
    return f"{value} {words}".replace("\u00a0", " ").strip()


def test_what_is_phoned_in_stands_first_and_once() -> None:
    """By hand: 30 x 60 ft of 6 in are 33.33 yd3, 35.00 with 5 %, 35.25 with a hopper: loads an hour apart."""
    more = "mix: {strength: 4000 psi, slump: 4 in, air: 6 %, aggregate: 3/4 in, water_cement: 0.45}\n"
    more += "order: {truck: 10 yd3, method: pump, hose: 3 in}\npour: {start: '07:00', rate: 10 yd3/h}\n"
    plan = pad(30, 60, "6 in", more)
    sheet = order_sheet(plan)
    first = sheet.sections[0]
    assert first.key == "phone"
    assert said(sheet, "phone_strength") == "4000 psi"
    assert (said(sheet, "phone_slump"), said(sheet, "phone_air"), said(sheet, "phone_stone")) == (
        "4 in",
        "6 %",
        "3/4 in",
    )
    ordered = math.ceil((30 * 60 * 0.5 / 27 * 1.05 + 0.25) * 4 - 1e-9) / 4  # a quarter yard in the hopper
    assert si(sheet.figure("phone_volume").value) / YARD3 == pytest.approx(ordered) == 35.25
    assert said(sheet, "phone_loads").startswith("4 3 of 10.00 yd3 and the last 5.25 yd3")
    assert said(sheet, "phone_spacing").startswith("1 h")
    assert "hose of 3 in" in said(sheet, "phone_method")
    assert "07:00" in said(sheet, "phone_time")
    bare = order_sheet(pad(30, 60, "6 in"))
    assert "not in the file" in said(bare, "phone_slump")
    assert any(line.startswith("mix.slump: ") for line in bare.sections[0].add)
    by_flow = order_sheet(pad(30, 60, "6 in", "mix: {consistence: F3}\n"))  # no slump is made of a flow
    assert said(by_flow, "phone_consistence") == "F3"
    assert not any(line.startswith("mix.slump") for line in by_flow.sections[0].add)


def test_one_figure_is_ordered_and_an_order_too_small_is_not_it() -> None:
    """27 x 51 ft of 4 in are 17 yd3, 17.85 with 5 %, 18 in quarters; the file's 16 is named as 2 too little."""
    more = "order: {volume: VOL yd3, truck: 10 yd3, allowance: 5 %, allowance_inside: true}\n"
    for typed, ordered in ((16, 18), (19, 19)):
        sheet = order_sheet(pad(27, 51, "4 in", more.replace("VOL", str(typed))))
        told = [si(sheet.figure(key).value) / YARD3 for key in ("phone_volume", "ordered")]
        told.append(si(next(row for row in sheet.table("list").rows if row[0] == "concrete")[2]) / YARD3)
        told.append(si(total(sheet.table("loads"), "volume")) / YARD3)
        assert told == pytest.approx([ordered] * 4)
        text = " ".join(in_plain_words(one, "us", both=False) for one in sheet.says)
        assert f"rder {ordered}.00 yd3" in text
        assert ("2.00 yd3 too little" in text) is (typed == 16)


def test_work_is_not_ordered() -> None:
    sheet = order_sheet(plan_of(BAY))
    bought, done = ({str(row[0]) for row in sheet.table(key).rows} for key in ("list", "do"))
    assert {"concrete", "bars #4", "base", "isolation, foam"} <= bought
    assert {"forms", "joints, saw cut", "joints, construction joint", "trips to the tip"} <= done
    assert not bought & done
