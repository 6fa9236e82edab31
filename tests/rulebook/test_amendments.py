"""Files of local amendments: what is read, and what is refused, with its place and what to write instead."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path

import pytest
from checkout import ROOT
from repositories import SOUND, put, put_rule, run
from slabwright.rulebook import limits, loading
from slabwright.rulebook.limits import Amendments
from slabwright.source.problem import Problem, UnreadableError
from slabwright.units.quantity import Kind, in_both, is_alone, read

RULES = loading.load_rules(folder=ROOT / "tests" / "fake_rules")

HEAD = "format: 1\nlayer: town\nname: Town of Coldwater Ford\namendments:\n"
ENTRY = '  - {rule: short-panels, limit: side_at_most, value: 13 ft, citation: "Town standard 4.2 (2025)"}\n'


def amendments(folder: Path, text: str) -> Amendments:
    file = folder / "town.yaml"
    file.write_text(text, encoding="utf-8")
    return limits.read_amendments(file, RULES)


def refused(folder: Path, text: str) -> list[Problem]:
    with pytest.raises(UnreadableError) as caught:
        amendments(folder, text)
    assert all(problem.place.file == str(folder / "town.yaml") for problem in caught.value.problems)
    return list(caught.value.problems)


def told(folder: Path, text: str) -> list[tuple[int, int, str, str]]:
    return [(one.place.line, one.place.column, one.wrong, one.write) for one in refused(folder, text)]


def test_a_whole_file_is_read(tmp_path: Path) -> None:
    text = HEAD + (
        "  - rule: short-panels\n"
        "    limit: side_at_most\n"
        "    value: 13 ft\n"
        "    weight: caution\n"
        "    citation: Town standard 4.2 (2025)\n"
        "    reason: hard frost\n"
        "  - {rule: small-ponds, limit: pond_at_most, weight: note, citation: Town standard 4.3}\n"
    )
    read_file = amendments(tmp_path, text)
    assert (read_file.layer, read_file.name) == ("town", "Town of Coldwater Ford")
    first, second = read_file.limits
    assert (first.rule, first.limit, first.value) == ("short-panels", "side_at_most", read("13 ft", Kind.LENGTH))
    assert first.value is not None
    assert first.value.typed == "13 ft"
    assert (first.weight, first.citation, first.reason) == ("caution", "Town standard 4.2 (2025)", "hard frost")
    assert (first.place.line, first.place.column) == (5, 5)
    assert (second.value, second.weight, second.citation) == (None, "note", "Town standard 4.3")
    limit = limits.resolve(RULES, [read_file])["short-panels"].side_at_most
    assert (limit.set_by, limit.value.typed, limit.weight) == ("Town of Coldwater Ford", "13 ft", "caution")


def test_an_unknown_rule_and_an_unknown_limit_are_refused_with_the_nearest(tmp_path: Path) -> None:
    text = HEAD + (
        "  - {rule: short-panel, limit: side_at_most, value: 13 ft, citation: c}\n"
        "  - {rule: short-panels, limit: sides_at_most, value: 13 ft, citation: c}\n"
        "  - {rule: short-panels, limit: depth, value: 13 ft, citation: c}\n"
        "  - {rule: qqq, limit: depth, value: 13 ft, citation: c}\n"
    )
    assert told(tmp_path, text) == [
        (5, 12, 'there is no rule "short-panel"', "short-panels?"),
        (6, 33, 'short-panels has no limit "sides_at_most"', "side_at_most?"),
        (7, 33, 'short-panels has no limit "depth"', "one of: side_at_most, wanted_side_at_most"),
        (8, 12, 'there is no rule "qqq"', "a rule of the rulebook"),
    ]


def test_a_wrong_unit_no_unit_and_a_value_nobody_means_are_refused(tmp_path: Path) -> None:
    text = HEAD + (
        "  - {rule: short-panels, limit: side_at_most, value: 13 psi, citation: c}\n"
        "  - {rule: short-panels, limit: wanted_side_at_most, value: 13, citation: c}\n"
        "  - {rule: small-ponds, limit: pond_at_most, value: 2 ft, citation: c}\n"
    )
    unit, bare, insane = refused(tmp_path, text)
    assert (unit.place.line, unit.place.column) == (5, 54)
    assert "psi" in unit.wrong
    assert (bare.place.line, bare.place.column) == (6, 61)
    assert "unit" in bare.wrong
    assert bare.write
    assert (insane.place.line, insane.place.column) == (7, 53)
    assert insane.wrong == "2 ft cannot be meant for pond_at_most (depth)"
    assert insane.write == "between 0 in and 1 in; published is 1/8 in"


@pytest.mark.parametrize("value", ["0 in", "1 in", "25.4 mm"])
def test_both_ends_of_the_sane_range_may_be_set(tmp_path: Path, value: str) -> None:
    text = HEAD + f"  - {{rule: small-ponds, limit: pond_at_most, value: {value}, citation: c}}\n"
    assert amendments(tmp_path, text).limits[0].value == read(value, Kind.DEPTH)


def test_an_amendment_without_a_citation_is_refused(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, HEAD + "  - {rule: short-panels, limit: side_at_most, value: 13 ft}\n")
    assert problem.place.line == 5
    assert "citation" in problem.wrong


def test_an_amendment_that_sets_nothing_is_refused(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, HEAD + "  - {rule: short-panels, limit: side_at_most, citation: c}\n")
    assert problem.place.line == 5
    assert "value" in problem.wrong + problem.write


def test_a_limit_set_twice_is_refused(tmp_path: Path) -> None:
    assert told(tmp_path, HEAD + ENTRY + ENTRY) == [
        (6, 5, "side_at_most of short-panels is set twice; first on line 5", "keep one of the two")
    ]


def test_every_problem_comes_out_together_in_file_order(tmp_path: Path) -> None:
    text = (
        "format: 1\nlayer: village\nname: Town\nweather: dry\namendments:\n"
        "  - {rule: shrt-panels, limit: side_at_most, value: 13 ft}\n"
        "  - {rule: short-panels, limit: side_at_most, value: 13 psi, citation: c, weigth: hold}\n"
    )
    problems = refused(tmp_path, text)
    assert [problem.place.line for problem in problems] == [2, 4, 6, 6, 7, 7]
    assert all(problem.write for problem in problems)
    assert any("weight" in problem.write for problem in problems if problem.place.line == 7)


def test_a_layer_may_show_metric_alone(tmp_path: Path) -> None:
    plain = amendments(tmp_path, HEAD + ENTRY)
    alone = amendments(tmp_path, HEAD.replace("amendments:", "show: metric only\namendments:") + ENTRY)
    assert (plain.metric_only, alone.metric_only) == (False, True)
    for laid, system, expected in (
        ([], "metric", False),
        ([plain], "metric", False),
        ([plain, alone], "metric", True),
        ([alone], "us", False),  # what is shown in feet and inches stays as it is
    ):
        for asked, own in ((None, system), (system, system), (system, "us" if system == "metric" else "metric")):
            shown = limits.shown_in(asked, own, laid)  # type: ignore[arg-type]
            assert (shown, is_alone(shown)) == (system, expected)
        shown = limits.shown_in(None, system, laid, both=True)  # type: ignore[arg-type]
        assert in_both(shown) is not expected
        assert (shown, is_alone(shown)) == (system, expected)
    (problem,) = refused(tmp_path, HEAD.replace("amendments:", "show: feet only\namendments:") + ENTRY)
    assert (problem.place.line, problem.place.column) == (4, 7)
    assert "metric only" in problem.write


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[1, 2]\n",
        "hello\n",
        "format: 1\n",
        "format: 2\nlayer: town\nname: T\namendments:\n" + ENTRY,
        HEAD + "  []\n",
        HEAD + "  - short-panels\n",
        HEAD + "  - {rule: [a], limit: side_at_most, value: 13 ft, citation: c}\n",
        HEAD + "  - {rule: short-panels, limit: side_at_most, value: [13 ft], citation: c}\n",
        HEAD + "  - {rule: short-panels, limit: side_at_most, value: , citation: c}\n",
        HEAD + "  - {rule: short-panels, limit: side_at_most, value: .nan, citation: c}\n",
        HEAD + "  - {rule: short-panels, limit: side_at_most, value: 13 ft, citation: ''}\n",
        HEAD + "  - {rule: short-panels, limit: side_at_most, value: 13 ft, citation: c, weight: heavy}\n",
        HEAD + "  - {rule: short-panels, limit: side_at_most\n",
        HEAD + ENTRY + HEAD,
    ],
)
def test_broken_files_are_refused_with_a_place_and_never_otherwise(tmp_path: Path, text: str) -> None:
    problems = refused(tmp_path, text)
    assert problems
    assert all(problem.wrong and problem.place.line >= 1 for problem in problems)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match="no such file"):
        limits.read_amendments(tmp_path / "none.yaml", RULES)


@pytest.mark.parametrize("amended", [False, True])
def test_a_limit_of_an_own_rule_is_never_called_published(tmp_path: Path, amended: bool) -> None:
    put(tmp_path, pad=SOUND)
    put_rule(tmp_path / "own")
    options: tuple[str, ...] = ("--rules", "own")
    if amended:
        entry = (
            "{rule: firm-thickness, limit: firm_thickness_at_least, value: 4.5 in, citation: Town code 17-9, reason: r}"
        )
        town = f"format: 1\nlayer: town\nname: Town of Kettle Narrows\namendments: [{entry}]\n"
        (tmp_path / "town.yaml").write_text(town, encoding="utf-8")
        options += ("--amendments", "town.yaml")
    outputs = ("--json",), ("--full",), ("--sarif", "-"), ("--page", "pad.html")
    json_out, sheet, log, _ = (
        run("review", "pad.slab.yaml", "--only", "thickness", *options, *form, cwd=tmp_path, code=1).stdout
        for form in outputs
    )
    comment = next(one for one in json.loads(json_out)["comments"] if one["rule"] == "firm-thickness")
    limit = comment["limit"]
    layers = [limit["layer"], *(one["layer"] for one in limit["replaced"])]
    assert layers == (["town", "own rule"] if amended else ["own rule"])
    assert limit["published"] is None and limit["published_weight"] is None
    book = run("rulebook", "--group", "thickness", *options, "--width", "200", cwd=tmp_path, code=0).stdout
    own = book.partition("firm-thickness: ")[2].partition("\n\n")[0]
    page = (tmp_path / "pad.html").read_text(encoding="utf-8")
    comment_of = sheet.partition("The slab is 4 in")[2].partition("rule   ")[0]
    rules = {one["id"]: one for one in json.loads(log)["runs"][0]["tool"]["driver"]["rules"]}
    for text in (comment_of, own, rules["firm-thickness"]["help"]["text"]):
        assert "published" not in text.lower()
        assert ("set by Town of Kettle Narrows" if amended else "the firm's own rule") in " ".join(text.split())
    on_page = re.findall(r"set by ([^<;:(,]*)", html.unescape(page))
    assert [who.strip() for who in on_page] == (["Town of Kettle Narrows"] * 2 if amended else ["the firm's own rule"])
    assert ("LOOSER THAN THE RULES STATE" in sheet) == amended
