"""Reviews as SARIF: valid by the OASIS schema (its source stands beside it in data/), and complete."""

from __future__ import annotations

import json
import multiprocessing
from pathlib import Path
from typing import Any
from unittest.mock import patch

import jsonschema
import pytest
import sarif.loader
from checkout import ROOT
from repositories import BROKEN, LONG, OBLONG, SOUND, git, put, run
from slabwright.cli import many_files
from slabwright.review import reviewing
from slabwright.rulebook import loading
from slabwright.writers import sarif as writer

SCHEMA = json.loads((ROOT / "tests" / "data" / "sarif-2.1.0.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft4Validator(SCHEMA)

# One sound job, one with a bar of every weight: what stands beside it must stay as it is written in docs.
JOINTS = ("--only", "joints")
LEVELS = {"hold": "error", "caution": "warning", "note": "note"}


def uri_of(result: dict[str, Any]) -> str:
    return str(result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"])


def log(folder: Path, *arguments: str, code: int) -> dict[str, Any]:
    """The log of a run, which must be valid; with the one run of it taken out."""
    done = run("review", *arguments, "--sarif", "-", cwd=folder, code=code)
    data = json.loads(done.stdout)
    assert [f"{list(error.path)}: {error.message}" for error in VALIDATOR.iter_errors(data)] == []
    assert data["version"] == "2.1.0"
    (one,) = data["runs"]
    return dict(one)


def test_the_schema_is_the_one_of_the_standard_and_refuses_what_is_no_log() -> None:
    assert SCHEMA["id"] == writer.SCHEMA
    assert "docs.oasis-open.org/sarif" in SCHEMA["id"]
    VALIDATOR.check_schema(SCHEMA)
    assert not VALIDATOR.is_valid({"version": "2.1.0", "runs": [{}]})
    assert not VALIDATOR.is_valid({"version": "2.0.0", "runs": []})


def test_whole_jobs_are_valid_with_and_without_passes() -> None:
    jobs = "example_designs/jobs"
    plain, full = log(ROOT, jobs, code=1), log(ROOT, jobs, "--passes", code=1)
    assert {one["kind"] for one in plain["results"]} == {"fail"}
    assert {"pass", "notApplicable"} < {one["kind"] for one in full["results"]}
    assert [one for one in full["results"] if one["kind"] == "fail"] == plain["results"]
    assert all(one["level"] == "none" for one in full["results"] if one["kind"] != "fail")


def test_a_comment_has_place_level_working_source_and_what_makes_it_pass(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    one = log(tmp_path, "pad.slab.yaml", "--only", "joints", code=1)
    found = next(result for result in one["results"] if result["ruleId"] == "panel-spacing")
    sheet = json.loads(run("review", "pad.slab.yaml", "--json", "--only", "joints", cwd=tmp_path, code=1).stdout)
    same = next(comment for comment in sheet["comments"] if comment["rule"] == "panel-spacing")
    assert (found["kind"], found["level"]) == ("fail", "error")
    physical = found["locations"][0]["physicalLocation"]
    assert physical["artifactLocation"] == {"uri": "pad.slab.yaml", "uriBaseId": "SRCROOT"}
    region = physical["region"]
    assert (region["startLine"], region["startColumn"]) == (same["place"]["line"], same["place"]["column"])
    marked = LONG.splitlines()[region["startLine"] - 1][region["startColumn"] - 1 : region["endColumn"] - 1]
    assert marked == "outline" and region["endLine"] == region["startLine"]
    assert found["locations"][0]["logicalLocations"] == [{"name": same["thing"]}]
    text = found["message"]["text"]
    assert "Shown: 30'-0\"." in text
    assert all(f"Working: {step['what']}" in text for step in same["working"])
    assert "To pass: " in text
    assert same["limit"]["source"] in text
    assert len(found["properties"]["working"]) == len(same["working"]) > 0


@pytest.mark.parametrize(("text", "weight", "code"), [(LONG, "hold", 1), (OBLONG, "caution", 0)])
def test_levels_are_those_of_the_table(tmp_path: Path, text: str, weight: str, code: int) -> None:
    put(tmp_path, pad=text)
    found = log(tmp_path, "pad.slab.yaml", "--only", "joints", code=code)["results"]
    assert {(one["properties"]["weight"], one["level"]) for one in found} >= {(weight, LEVELS[weight])}
    assert all(one["level"] == LEVELS[one["properties"]["weight"]] for one in found)


def test_the_table_in_the_guide_is_the_one_in_the_code() -> None:
    guide = (ROOT / "docs" / "repositories.md").read_text(encoding="utf-8")
    assert dict(writer.LEVELS) == LEVELS
    for weight, level in writer.LEVELS.items():
        assert f"| {weight} | `fail` | `{level}` |" in guide
    for conclusion, kind in writer.KINDS.items():
        assert f"| {conclusion} | `{kind}` | `none` |" in guide


def test_every_rule_has_help_and_results_point_at_their_rule(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    one = log(tmp_path, "pad.slab.yaml", code=1)
    rules = one["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == [*(rule.name for rule in loading.load_rules()), "unreadable-file"]
    assert "helpUri" not in rules[0]  # no address is invented
    for rule in rules:
        assert "How to put it right" in rule["help"]["text"] or rule is rules[-1]
        assert rule["name"] == "".join(part.title() for part in rule["id"].split("-"))
        assert rule["shortDescription"]["text"] and rule["fullDescription"]["text"]
    for result in one["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]


def test_links_lead_to_the_page_that_a_firm_names(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    shown = "https://git.firm.example/slabwright/docs/rulebook.md"
    rules = log(tmp_path, "pad.slab.yaml", "--rule-pages", shown, code=1)["tool"]["driver"]["rules"]
    headings = (ROOT / "docs" / "rulebook.md").read_text(encoding="utf-8").splitlines()
    for rule in rules[:-1]:
        assert rule["helpUri"] == f"{shown}#{rule['id']}"
        assert f"### {rule['id']}" in headings
    run("review", "pad.slab.yaml", "--sarif", "-", "--rule-pages", "javascript:x", cwd=tmp_path, code=2)


def test_a_file_that_cannot_be_read_is_an_error_and_hides_no_other(tmp_path: Path) -> None:
    put(tmp_path, a=BROKEN, b=LONG)
    one = log(tmp_path, ".", "--only", "joints", code=2)
    (invocation,) = one["invocations"]
    assert invocation["executionSuccessful"] is False
    assert invocation["toolExecutionNotifications"] == []
    (told,) = [result for result in one["results"] if result["ruleId"] == "unreadable-file"]
    assert (told["kind"], told["level"]) == ("fail", "error")
    assert one["tool"]["driver"]["rules"][told["ruleIndex"]]["id"] == "unreadable-file"
    assert told["message"]["text"].startswith('"design: 4" has no unit; write: ')
    physical = told["locations"][0]["physicalLocation"]
    assert physical["artifactLocation"]["uri"] == "a.slab.yaml"
    assert physical["region"] == {"startLine": 7, "startColumn": 21, "endLine": 7, "endColumn": 22}  # the 4
    assert {uri_of(result) for result in one["results"]} == {"a.slab.yaml", "b.slab.yaml"}


def test_a_town_file_that_cannot_be_read_is_one_result_at_its_line(tmp_path: Path) -> None:
    put(tmp_path / "jobs", a=SOUND, b=LONG)
    (tmp_path / "jobs" / ".slabwright.yaml").write_text("amendments: [gone.yaml]\n", encoding="utf-8")
    one = log(tmp_path, "jobs", code=2)
    assert [(result["ruleId"], uri_of(result)) for result in one["results"]] == [
        ("unreadable-file", "jobs/.slabwright.yaml")
    ]


def test_paths_are_those_from_the_root_of_the_repository(tmp_path: Path) -> None:
    git(tmp_path, "init", "-q")
    put(tmp_path / "jobs" / "2026", pad=LONG)
    from_root = log(tmp_path, "jobs", *JOINTS, code=1)
    from_below = log(tmp_path / "jobs", "2026", *JOINTS, code=1)
    assert from_root == from_below
    assert {uri_of(result) for result in from_root["results"]} == {"jobs/2026/pad.slab.yaml"}
    assert "SRCROOT" in from_root["originalUriBaseIds"]
    assert from_root["automationDetails"] == {"id": "slabwright/joints/"}


def test_fingerprints_stay_when_lines_move_and_a_file_is_renamed(tmp_path: Path) -> None:
    def prints(text: str, name: str) -> list[str]:
        put(tmp_path, **{name: text})
        found = log(tmp_path, f"{name}.slab.yaml", code=1)["results"]
        return [result["partialFingerprints"]["primaryLocationLineHash"] for result in found]

    before = prints(LONG, "pad")
    assert len(set(before)) == len(before) > 1
    assert prints(f"# moved\n\n{LONG}", "store") == before


def test_every_writer_works_in_several_processes_with_amendments(tmp_path: Path) -> None:
    """What comes back from another process is what this process makes, started by a fork or anew."""
    town = "{rule: panel-spacing, limit: thicknesses_at_most, value: 35, citation: 'Town code 17-4', reason: heat}"
    (tmp_path / "town.yaml").write_text(
        f"format: 1\nlayer: town\nname: Town of Kettle Narrows\namendments: [{town}]\n", encoding="utf-8"
    )
    (tmp_path / ".slabwright.yaml").write_text("amendments: [town.yaml]\n", encoding="utf-8")
    paths = put(tmp_path, a=LONG, b=BROKEN, c=OBLONG)
    asked = many_files.Asked(
        reviewing.Settings(only="joints"), sheet=True, plain=True, data=True, sarif=True, page=True, passes=True
    )
    here = list(many_files.outcomes(paths, asked))
    assert "Town of Kettle Narrows" in here[0].plain and "Town of Kettle Narrows" in here[0].page
    for way in ("fork", "spawn"):
        with patch.object(multiprocessing, "get_all_start_methods", lambda way=way: [way]):
            assert list(many_files.judged(paths, asked, jobs=2)) == here


def test_a_general_reader_of_logs_finds_every_result_at_its_line(tmp_path: Path) -> None:
    """sarif-tools, a reader of logs by any program, from the package registry."""
    git(tmp_path, "init", "-q")
    put(tmp_path / "jobs", a=LONG, b=BROKEN, c=OBLONG)
    run("review", "jobs", *JOINTS, "--sarif", "review.sarif", cwd=tmp_path, code=2)
    results = json.loads((tmp_path / "review.sarif").read_text(encoding="utf-8"))["runs"][0]["results"]
    read = sarif.loader.load_sarif_file(str(tmp_path / "review.sarif"))
    assert read.get_distinct_tool_names() == ["slabwright"]
    assert {
        (one["Location"], one["Line"], one["Code"], one["Severity"]) for one in read.get_records()
    } == {
        (uri_of(one), one["locations"][0]["physicalLocation"]["region"]["startLine"], one["ruleId"], one["level"])
        for one in results
    }  # fmt: skip
    assert read.get_result_count() == len(results) > 2


def test_what_is_accepted_by_variance_is_suppressed_with_its_reason(tmp_path: Path) -> None:
    variance = "{rule: panel-spacing, reason: saw hired for one cut, accepted_by: owner, date: 2026-03-02}"
    put(tmp_path, pad=f"{LONG}variances: [{variance}]\n")
    found = log(tmp_path, "pad.slab.yaml", "--only", "joints", code=1)["results"]
    (accepted,) = [one for one in found if one["ruleId"] == "panel-spacing"]
    (why,) = accepted["suppressions"]
    assert (why["kind"], why["status"]) == ("inSource", "accepted")
    assert why["justification"] == "saw hired for one cut (accepted by owner, 2026-03-02)"
    assert all("suppressions" not in one for one in found if one is not accepted)


def test_paths_are_relative_and_written_as_uris(tmp_path: Path) -> None:
    (folder := tmp_path / "boat bay #2").mkdir()
    put(folder, pad=LONG)
    one = log(tmp_path, str(folder), "--only", "joints", code=1)
    uri = one["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert uri == "boat%20bay%20%232/pad.slab.yaml"


def test_names_from_the_file_cannot_act_up(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG.replace("Bin store", '"\\e[31mred\\u202e"'))
    text = json.dumps(log(tmp_path, "pad.slab.yaml", code=1), ensure_ascii=False)
    assert "\x1b" not in text and "\u202e" not in text


def test_a_log_in_a_file_is_the_same_for_the_same_designs(tmp_path: Path) -> None:
    put(tmp_path, a=LONG, b=SOUND)
    out = run("review", ".", "--only", "joints", "--sarif", "one.sarif", cwd=tmp_path, code=1).stdout
    run("review", tmp_path, "--only", "joints", "--sarif", "two.sarif", cwd=tmp_path, code=1)
    assert (tmp_path / "one.sarif").read_bytes() == (tmp_path / "two.sarif").read_bytes()
    assert VALIDATOR.is_valid(json.loads((tmp_path / "one.sarif").read_text(encoding="utf-8")))
    assert "SLAB PLAN REVIEW" in out
