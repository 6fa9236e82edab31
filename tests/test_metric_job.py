"""A metric contractor's whole job, typed as metric offices type it, against arithmetic by hand.

The job is invented. Every number expected here is worked in the comment beside it; ``docs/metric.md`` shows the same.
"""

from __future__ import annotations

import json
import re
from math import prod
from pathlib import Path
from typing import Any

import pytest
from checkout import ROOT
from example_reviews import FOLDER
from slabwright.cli import main
from slabwright.design.read import read_design
from slabwright.formulas import bars
from slabwright.source.problem import UnreadableError
from us_words import json_texts, us_words

JOB = ROOT / "tests" / "corpus" / "sound" / "joiners_ramp.slab.yaml"
LAID = [word for name in ("metric_practice", "en_206_britain")
        for word in ("--amendments", str(FOLDER / "amendments" / f"{name}.yaml"))]  # fmt: skip


def asked(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    status = main.main([words[0], str(JOB), *words[1:], *LAID, "--json"])
    out = capsys.readouterr().out
    assert status == 0
    assert us_words(list(json_texts(out))) == []
    found: dict[str, Any] = json.loads(out)
    return found


def test_it_is_read_as_it_is_typed() -> None:
    design, questions = read_design(JOB)
    assert questions == ()
    mix, mesh, order, pour = design.mix, design.reinforcement.mesh, design.order, design.pour  # type: ignore[union-attr]
    assert mesh is not None and order is not None and pour is not None and design.prices is not None
    assert (mix.strength.si, mix.classes, mix.exposure) == (30e6, ("XC4", "XF1"), "XF1")  # type: ignore[union-attr]
    # S3 is a slump of 100 to 150 mm, 125 mm in the middle; 0/20 has stones to 20 mm
    assert (mix.consistence, mix.slump.si, mix.aggregate.si) == ("S3", 0.125, 0.020)  # type: ignore[union-attr]
    assert (mix.water_cement.si, mix.air.si) == (0.5, 0.015)  # type: ignore[union-attr]
    assert (mesh.style, mesh.wire_diameter, mesh.cross_spacing, mesh.sides) == ("A252", 0.008, 0.2, (4.8, 2.4))
    assert (order.volume.si, order.truck.si, order.step.si) == (7.7, 8.0, 0.1)  # type: ignore[union-attr]
    assert (str(pour.start), str(pour.until)) == ("07:00:00", "19:30:00")
    assert design.prices.concrete is not None and design.prices.concrete.of(1) == 118.5
    assert (design.thickness.design.si, design.points["E"].y) == (0.15, 2.5)
    assert {spot.at.name: spot.height.si for spot in design.heights.finish} == pytest.approx(
        {"A": 49.980, "B": 49.980, "E": 49.855, "F": 49.855, "C": 49.745, "D": 49.745}
    )
    # line of sight 50.000 + 1.250 = 51.250; base at A 51.250 - 1.420 = 49.830, at C 51.250 - 1.657 = 49.593
    base = {spot.at.name: spot.height.si for spot in design.heights.base}
    assert base == pytest.approx({"A": 49.830, "B": 49.828, "F": 49.705, "E": 49.703, "D": 49.595, "C": 49.593})


def test_it_is_sound(capsys: pytest.CaptureFixture[str]) -> None:
    report = asked(capsys, "review")
    assert report["comments"] == []
    assert "corrosion-class" in {met["rule"] for met in report["met"]}


def test_the_order_by_hand(capsys: pytest.CaptureFixture[str]) -> None:
    sections = asked(capsys, "order")["sections"]

    def si(section: str, figure: str) -> float:
        return float(sections[section]["figures"][figure]["value"]["si"])

    # 150 mm along D-A, 152 mm along B-C, straight between: 151 mm in the mean over 6 x 8 = 48 m2
    assert si("concrete", "net") == pytest.approx(7.248)
    assert si("concrete", "needed") == pytest.approx(7.6104)  # x 1.05
    assert si("concrete", "ordered") == pytest.approx(7.7)
    assert si("headroom", "before_truck") == pytest.approx(0.3896 / 1.05 / 48)  # 8 - 7.6104 m3: 7.7 mm
    assert si("base", "base_compacted") == pytest.approx(9.6)  # 48 m2 x 0.2 m
    listed = {row["item"]: row for row in sections["list"]["tables"]["list"]["rows"]}
    assert listed["concrete"]["detail"] == "C30/37 XC4 XF1 S3"
    assert listed["concrete"]["cost"]["money"] == 912.45  # 7.7 x 118.50
    assert (listed["loads"]["quantity"], listed["loads"]["detail"]) == (1, "at most 8 m3 each")
    assert listed["mesh A252"]["cost"]["money"] == 375.0  # 6 x 62.50
    done = {row["item"]: row for row in sections["do"]["tables"]["do"]["rows"]}
    assert done["forms"]["quantity"]["si"] == 22.0  # 8 + 6 + 8 m; the workshop holds the fourth side
    # 50 mm off every edge: 5.9 x 7.9 m. Strips of 2.4 m lapped 0.35: (7.9 - 0.35) / 2.05 = 3.7, so 4 of 5.9 m = 23.6 m,
    # less than 3 of 7.9 m = 23.7 m. Each is 4.8 + 1.45 - 0.35 m: 4 sheets, and 4 pieces of 1.45 m, 3 from one sheet.
    (mesh,) = sections["steel"]["tables"]["mesh"]["rows"]
    assert (mesh["sheets"], mesh["lap"]["si"], mesh["area"]["si"]) == (6, pytest.approx(0.35), pytest.approx(46.61))
    # 8 mm every 200 mm both ways: 2 x 251.3 mm2/m x 7,850 kg/m3 = 3.946 kg/m2; 6 x 11.52 m2
    assert mesh["weight"]["si"] == pytest.approx(272.7, abs=0.1)
    steel = sections["steel"]["figures"]
    assert steel["wires_cut"]["value"] == 50  # 8, 6 and 6 m of cuts, a wire every 200 mm, half of them: 20 + 15 + 15
    assert steel["supports"]["value"] == 80  # 7.9 by 5.9 m, 0.9 m apart and on the rims: 10 rows of 8


def test_the_rod_by_hand(capsys: pytest.CaptureFixture[str]) -> None:
    sections = asked(capsys, "stake", "--bench", "sill", "--backsight", "1,250")["sections"]
    rows = [row for table in sections["places"]["tables"].values() for row in table["rows"]]
    columns = ("finish", "finish_rod_1", "base_rod_1", "subgrade_rod_1")
    shown = {row["pin"]: [row[column]["typed"] for column in columns] for row in rows}
    # A: 51.250 - 49.980 = 1.270, its base 150 mm lower, the subgrade 200 mm under that; C: 51.250 - 49.745
    assert shown[1] == ["49.980", "1.270", "1.420", "1.620"]
    assert shown[3] == ["49.745", "1.505", "1.655", "1.855"]


def test_the_card_says_cylinders_and_cubes(capsys: pytest.CaptureFixture[str]) -> None:
    ticket = asked(capsys, "card")["sections"]["ticket"]["figures"]
    assert ticket["strength"]["says"] == "30 MPa on cylinders, 37 MPa on cubes"
    assert (ticket["consistence"]["value"], ticket["consistence"]["says"]) == (
        "S3",
        "slump of 100 mm to 150 mm (EN 206)",
    )


def test_no_slump_is_made_of_a_flow(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = JOB.read_text(encoding="utf-8").replace("consistence: S3", "consistence: F3")
    (tmp_path / "flow.slab.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "joiners_ramp_base.csv").write_bytes(JOB.with_name("joiners_ramp_base.csv").read_bytes())
    assert read_design(tmp_path / "flow.slab.yaml")[0].mix.slump is None
    assert main.main(["card", str(tmp_path / "flow.slab.yaml"), "--json", *LAID]) == 0
    ticket = json.loads(capsys.readouterr().out)["sections"]["ticket"]
    assert "slump" not in ticket["figures"]
    assert ticket["figures"]["consistence"]["says"] == "flow of 420 mm to 480 mm (EN 206)"
    assert not any("slump" in line for line in ticket["add"])


SMALL = """format: 1
job: {name: Pad}
units: {plan: cm, height: cm}
use: vehicle pad
points: {A: [0, 0], B: [300, 0], C: [300, 400], D: [0, 400]}
outline: [A, B, C, D]
thickness: {design: 150 mm}
heights:
  finish: {A: 0, B: 0, C: -8, D: -8}
  falls: [{along: [A, D], fall: 1/50}]
"""


def test_a_plan_in_centimeters_and_a_fall_as_a_fraction(tmp_path: Path) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_text(SMALL, encoding="utf-8")
    design, (question,) = read_design(path)
    assert [(point.x, point.y) for point in design.points.values()] == [(0, 0), (3, 0), (3, 4), (0, 4)]
    assert design.heights.finish[2].height.si == pytest.approx(-0.08)
    assert design.heights.falls[0].fall.si == 0.02
    assert question.wrong == '"1/50" is read as one in 50' and question.write == "is 1:50 meant?"


def test_a_height_that_may_be_thousands_is_asked_about(tmp_path: Path) -> None:
    path = tmp_path / "pad.slab.yaml"
    for unit, typed, read in (
        ("m", "49,950", 49.95),
        ("mm", "49,950", None),
        ("m", "1,250", None),
        ("m", "0,125", 0.125),
    ):
        text = SMALL.replace("height: cm", f"height: {unit}").replace("A: 0,", f"A: '{typed}',")
        path.write_text(text.replace("C: -8, D: -8", f"C: '{typed}', D: '{typed}'"), encoding="utf-8")
        if read is None:
            with pytest.raises(UnreadableError, match="has a comma in the number"):
                read_design(path)
        else:
            assert read_design(path)[0].heights.finish[0].height.si == pytest.approx(read)


def test_a_question_says_its_lengths_in_one_system(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_text(SMALL.replace("C: -8", "C: -908"), encoding="utf-8")
    main.main(["review", str(path), "--json"])
    asks = [question["asks"] for question in json.loads(capsys.readouterr().out)["questions"]]
    assert "finish heights at A and C are 9.08 m apart; is one of them mistyped?" in asks


def test_the_table_of_sheets_in_the_docs_is_the_table_of_the_program() -> None:
    text = (ROOT / "docs" / "metric.md").read_text(encoding="utf-8")
    table = text.split("## Sheets")[1].split("##")[0]
    rows = re.findall(r"^\| ([A-Z]*\d+[AC]?) \| .* \| (.*) \| (.*) \| (.*) \| (.*) \|$", table, re.MULTILINE)
    assert [row[0] for row in rows] == list(bars.METRIC_SHEET_NAMES)
    for name, areas, sides, mass, whole in rows:
        sheet = bars.metric_sheet(name)
        steel = list(dict.fromkeys([f"{sheet.main.area * 1e6:.0f}", f"{sheet.cross.area * 1e6:.0f}"]))
        assert areas.split(", ") == steel, name
        assert float(mass) == pytest.approx(sheet.mass, abs=0.005), name
        assert sides == (" x ".join(f"{one:.2f}" for one in sheet.sides) or "varies"), name
        assert not sheet.sides or float(whole) == pytest.approx(sheet.mass * prod(sheet.sides), abs=0.05), name


def test_what_is_put_right_is_a_class_and_reads_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = SMALL.replace("heights:", "site: {freezing: severe, deicing_salt: true}\nedges: [{rest: lawn}]\nheights:")
    mix = 'mix: {strength: C25/30, exposure: "XC4, XF1", water_cement: 0.55, air: 5 %}\n'
    path, right = tmp_path / "pad.slab.yaml", tmp_path / "right.slab.yaml"
    path.write_text(text + mix, encoding="utf-8")
    main.main(["review", str(path), "--put-right", str(right)])
    capsys.readouterr()
    # salt on a flat slab asks XF4: C30/37 and 0.45 (EN 206-1:2000 Table F.1, read); the class for the steel stays
    wanted = 'mix: {strength: C30/37, exposure: "XC4, XF4", water_cement: 0.45, air: 5 %}\n'
    assert right.read_text(encoding="utf-8").endswith(wanted)
    assert read_design(right)[0].mix.classes == ("XC4", "XF4")


@pytest.mark.parametrize(
    ("typed", "stone"),
    [
        ("0/16", 16),
        ("0-16", 16),
        ("0/8 mm", 8),
        ("4/20", 20),
        ("8/16", 16),
        ("0/22,4", 22.4),
        ("5/8", None),
        ("1/2", None),
        ("4/8", None),
    ],
)
def test_a_grading_is_no_fraction_of_an_inch(typed: str, stone: float | None, tmp_path: Path) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_text(f"{SMALL}mix: {{aggregate: '{typed}'}}\n", encoding="utf-8")
    if stone is None:
        with pytest.raises(UnreadableError, match="has no unit"):
            read_design(path)
    else:
        found = read_design(path)[0].mix.aggregate
        assert found is not None and found.si * 1000 == pytest.approx(stone)
