"""A copy put right: nothing in it is heavier, remarks stay, and only what was asked for by name is touched."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import corpus
import pytest
import yaml
from checkout import ROOT
from example_reviews import DESIGNS, IN_FORCE, RULES, bench_of, name_of
from jsonschema import Draft202012Validator
from slabwright.cli import main as cli
from slabwright.design.read import read_text
from slabwright.proposals.heights import program
from slabwright.proposals.put_right import NAMED, allowed, kind_of, put_right
from slabwright.rulebook.in_force import WEIGHTS
from slabwright.rulebook.remedy import Append, Remedy, Write
from slabwright.text.words import plain, words
from slabwright.units.quantity import depth

SHORT = [path for path in DESIGNS if path.name == "falls_short.slab.yaml"]
FROST = next(path for path in SHORT if path.parent.name == "freezing-air")
HEAVY = WEIGHTS[:2]


@pytest.mark.long
@pytest.mark.parametrize("path", SHORT, ids=name_of)
def test_a_copy_put_right_has_nothing_heavier(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    before = put_right(path, text, (), {}, "us").text
    assert before == text  # without rules there is nothing to put right
    done = put_right(path, text, RULES, IN_FORCE, "us", NAMED)
    left = {weight: done.report.counted(weight) for weight in WEIGHTS}  # type: ignore[arg-type]
    first = put_right_not(path, text)
    assert left["hold"] <= first["hold"]
    _, was = bench_of(path, text)
    stood = {one.rule for one in was.comments if one.weight in HEAVY}
    assert {one.rule for one in done.report.comments if one.weight in HEAVY} <= stood  # what is left, and nothing new
    assert done.report.crashes == ()
    remarks = [line.partition("#")[2] for line in text.splitlines() if "#" in line and '"#' not in line]
    assert all(remark in done.text for remark in remarks)
    again = read_text(path, done.text)[0]
    assert again == done.plan.design._replace(system=again.system)


def put_right_not(path: Path, text: str) -> dict[str, int]:
    """How many comments of each weight the design has as it stands."""
    _, report = bench_of(path, text)
    return {weight: report.counted(weight) for weight in WEIGHTS}  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("joints[0].depth", None), ("joints[0].from", "joints"), ("joints[0].kind", "joints"),
        ("thickness.design", "thickness"),
        ("heights.finish.A", "heights"), ("mix.air", None), ("order.volume", None),
        ("edges[0].ground", "heights"), ("edges[0].ground[1]", "heights"), ("edges[2].ground_below", "heights"),
        ("edges[0].isolation.depth", None),
    ],
)  # fmt: skip
def test_only_heights_joints_and_thickness_want_to_be_named(path: str, kind: str | None) -> None:
    assert kind_of(Write(path, depth(0.1))) == kind
    assert kind_of(Append("joints", (("name", "J9"),))) == "joints"


def test_the_example_of_the_page_on_deciding() -> None:
    """docs/deciding.md: a cut of 4 / 4 = 1 in, and over 40 by 12 ft 5 by 2 bays of 8 by 6 ft."""
    text = (
        "format: 1\njob: {name: Patio}\nunits: {plan: ft, height: ft}\nuse: patio\n"
        "outline: [[0, 0], [40, 0], [40, 12], [0, 12]]\nthickness: {design: 4 in}\nmix: {aggregate: 3/4 in}\n"
        "joints: [{name: J1, from: [20, 0], to: [20, 12], kind: saw cut, depth: 1/2 in}]\n"
    )
    safe = put_right(Path("patio.slab.yaml"), text, RULES, IN_FORCE, "us")
    assert [plain(one.done, "us", both=False) for one in safe.changes] == ["make joint J1 1 in deep: 1/2 in more"]
    done = put_right(Path("patio.slab.yaml"), text, RULES, IN_FORCE, "us", ("joints",))
    assert done.report.comments == ()
    assert sorted((round(one.long_side / 0.3048, 2), round(one.aspect, 2)) for one in done.plan.panels.all) == (
        [(8.0, 1.33)] * 10
    )


def test_a_note_that_comes_with_a_change_is_told_with_it() -> None:
    path = next(one for one in SHORT if one.parent.name == "load-age")
    done = put_right(path, path.read_text(encoding="utf-8"), RULES, IN_FORCE, "us")
    told = [plain(note, "us") for change in done.changes for note in change.brings]
    assert any(note.startswith("last-load at") for note in told)
    assert "last-load" in {one.rule for one in done.report.comments if one.weight == "note"}


def test_heights_for_the_whole_slab_go_before_remedies_that_stand_in_their_way() -> None:
    """A patio tipped sideways against a bay: what settles one wall is no beginning for what settles all of them."""
    fault = next(one for one in corpus.faults() if one.name == "patio tipped sideways against the bay")
    path, text = corpus.sound()[fault.design], corpus.text_with(fault)
    done = put_right(path, text, RULES, IN_FORCE, "us", ("heights", "joints"))
    assert (done.report.holds, done.report.counted("caution")) == (0, 0)
    (change,) = done.changes
    assert plain(change.done, "us").startswith("set the heights proposed: A at ")


def test_one_corner_too_high_is_lowered_for_both_walls_at_once() -> None:
    """One corner 105 mm up: lowered it falls away from the wall on either side."""
    fault = next(one for one in corpus.faults() if one.name == "corner terrace fold into the house corner")
    path, text = corpus.sound()[fault.design], corpus.text_with(fault)
    done = put_right(path, text, RULES, IN_FORCE, "metric", ("heights", "joints"))
    assert done.report.comments == ()
    assert [plain(one.done, "metric") for one in done.changes] == ["lower K by 120 mm, to 451.740 m"]


def test_what_the_person_has_declared_is_never_changed() -> None:
    for declared in ("edges[0].takes_water", "edges[0].tied", "edges[0].guard"):
        assert not allowed(Remedy(words("write it"), (Write(declared, "true"),)), NAMED)


def test_the_command_writes_a_copy_and_gives_its_status(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "right.slab.yaml"
    assert cli.main(["review", str(FROST), "--put-right", str(out)]) == 0
    said = capsys.readouterr().out
    assert "Order 6 % air" in said and "mix.air" in said
    assert yaml.safe_load(out.read_text(encoding="utf-8"))["mix"]["air"] == "6 %"
    assert cli.main(["review", str(out)]) == 0


def test_the_copy_as_json_is_the_review_of_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "right.slab.yaml"
    assert cli.main(["review", str(FROST), "--put-right", str(out), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["file"] == str(out) and data["counts"]["holds"] == 0
    assert data["changes"][0] == {
        "rule": "freezing-air", "weight": "hold", "because": data["changes"][0]["because"], "done": "Order 6 % air",
        "paths": ["mix.air"], "brings": [],
    }  # fmt: skip
    schema = json.loads((ROOT / "schemas/report.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(data)


def test_options_that_do_not_go_with_a_copy_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["review", str(FROST), "--heights"]) == 2
    assert "--heights belongs to --put-right" in capsys.readouterr().err
    assert cli.main(["review", str(FROST), "--put-right", str(tmp_path / "a.slab.yaml"), "--page", "a.html"]) == 2
    assert "--put-right and --page do not go together" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_a_copy_says_that_heights_were_not_looked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    short = next(path for path in SHORT if path.parent.name == "fixed-heights-agree")
    program.solver.cache_clear()
    monkeypatch.setitem(sys.modules, "highspy", None)
    cli.main(["review", str(short), "--put-right", str(tmp_path / "a.slab.yaml"), "--heights"])
    program.solver.cache_clear()
    assert "Heights   not looked for over the whole slab: the solver highspy" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("out", "wrong"),
    [("there.slab.yaml", "there is a file of this name already"), ("copy.yaml", "ends in .slab.yaml"),
     ("none/x.slab.yaml", "it cannot be written")],
)  # fmt: skip
def test_a_copy_stands_only_where_nothing_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], out: str, wrong: str
) -> None:
    (tmp_path / "there.slab.yaml").write_text("mine", encoding="utf-8")
    assert cli.main(["review", str(FROST), "--put-right", str(tmp_path / out)]) == 2
    assert wrong in capsys.readouterr().err
    assert (tmp_path / "there.slab.yaml").read_text(encoding="utf-8") == "mine"


def test_ground_that_was_cut_for_a_low_slab_stays_where_the_slab_is_raised_after_all() -> None:
    """A drive typed 290 mm low at the garage (common practice): raised to its sill, it stands over the lawn again."""
    path = corpus.sound()["drive_with_crossover"]
    text = path.read_text(encoding="utf-8").replace("G1: 30.340, G2: 30.340", "G1: 30.050, G2: 30.050")
    done = put_right(path, text, RULES, IN_FORCE, "metric", ("heights",))

    assert done.report.holds == 0
    assert [path for change in done.changes for path in change.paths] == ["heights.finish.G1", "heights.finish.G2"]
    assert done.changes[0].brings == ()
