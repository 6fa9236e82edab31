"""What a change did to a design: matched by rule and thing, against a git revision or another file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from repositories import BROKEN, LONG, SOUND, git, put, run
from slabwright.source import locate

JOINTS = ("--only", "joints")

# 30 ft x 8 ft cut in two panels of 15 ft: over 36 thicknesses of 4 in (12 ft) still, but by less.
HALVED = f"{LONG}joints:\n  - {{name: J1, kind: saw cut, from: [15, 0], to: [15, 8], depth: 1 in}}\n"
# The same cut too shallow: 1/2 in in 4 in, where a quarter of the thickness is asked.
SHALLOW = HALVED.replace("depth: 1 in", "depth: 1/2 in")
WAVED = f"{LONG}variances: [{{rule: panel-spacing, reason: r, accepted_by: owner, date: 2026-03-02}}]\n"


def effect(folder: Path, now: str, then: str, code: int) -> dict[str, Any]:
    """What changed from one text to another, as data that keeps to its schema."""
    put(folder, now=now, then=then)
    done = run("review", "now.slab.yaml", "--against", "then.slab.yaml", "--json", *JOINTS, cwd=folder, code=code)
    data = dict(json.loads(done.stdout))
    schema = json.loads((locate.folder("schemas") / "effect.schema.json").read_text(encoding="utf-8"))
    assert [error.message for error in jsonschema.Draft202012Validator(schema).iter_errors(data)] == []
    return data


def rules(data: dict[str, Any], part: str) -> list[str]:
    return [one["rule"] for one in data[part]]


def test_what_is_put_right_is_fixed(tmp_path: Path) -> None:
    data = effect(tmp_path, SOUND, LONG, 0)
    assert "panel-spacing" in rules(data, "fixed")
    assert (data["broke"], data["left"], data["unjudged"]) == ([], [], [])
    fixed = next(one for one in data["fixed"] if one["rule"] == "panel-spacing")
    assert fixed["then"]["shown"]["us"] == "30'-0\""
    assert fixed["now"] is None


def test_what_falls_short_now_is_broken(tmp_path: Path) -> None:
    data = effect(tmp_path, LONG, SOUND, 1)
    assert "panel-spacing" in rules(data, "broke")
    assert (data["fixed"], data["left"]) == ([], [])


def test_what_stays_is_left_and_shown_before_and_after(tmp_path: Path) -> None:
    data = effect(tmp_path, HALVED, LONG, 1)
    left = next(one for one in data["left"] if one["rule"] == "panel-spacing")
    assert (left["then"]["shown"]["us"], left["now"]["shown"]["us"]) == ("30'-0\"", "15'-0\"")
    sheet = run("review", "now.slab.yaml", "--against", "then.slab.yaml", *JOINTS, cwd=tmp_path, code=1).stdout
    assert "    then      30'-0\" (9.144 m) against at most 12'-0\"" in sheet
    assert "    now       15'-0\" (4.572 m) against at most 12'-0\"" in sheet


def test_a_new_slip_beside_an_old_one_is_told_apart(tmp_path: Path) -> None:
    data = effect(tmp_path, SHALLOW, HALVED, 1)
    assert "joint-depth" in rules(data, "broke")
    assert {one["thing"] for one in data["broke"] if one["rule"] == "joint-depth"} == {"joint J1"}
    assert "panel-spacing" in rules(data, "left")


def test_what_nobody_can_tell_any_more_is_not_fixed(tmp_path: Path) -> None:
    data = effect(tmp_path, LONG, SHALLOW, 1)
    assert "joint-depth" in rules(data, "unjudged")
    assert "joint-depth" not in rules(data, "fixed")
    one = next(one for one in data["unjudged"] if one["rule"] == "joint-depth")
    assert one["why"].startswith(("does not apply", "not shown"))


def test_what_is_accepted_is_not_fixed(tmp_path: Path) -> None:
    data = effect(tmp_path, WAVED, LONG, 1)
    assert rules(data, "accepted") == ["panel-spacing"]
    assert "panel-spacing" not in rules(data, "fixed")


def test_no_change_has_no_effect(tmp_path: Path) -> None:
    data = effect(tmp_path, LONG, LONG, 1)
    assert data["left"]
    assert [data[part] for part in ("broke", "fixed", "unjudged", "accepted")] == [[], [], [], []]
    assert (
        "no comment then, none now"
        in run(
            "review",
            *put(tmp_path, now=SOUND),
            "--against",
            put(tmp_path, then=SOUND)[0],
            *JOINTS,
            cwd=tmp_path,
            code=0,
        ).stdout
    )


# --- against a revision ---


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """A job repository with two commits: first too long, then cut in two."""
    git(tmp_path, "init", "-q")
    for text, message in ((LONG, "First layout"), (HALVED, "Cut it in two")):
        put(tmp_path / "jobs", pad=text)
        git(tmp_path, "add", ".")
        git(tmp_path, "commit", "-q", "-m", message)
    return tmp_path


def test_against_a_revision(repository: Path) -> None:
    put(repository / "jobs", pad=SOUND)
    done = run("review", "jobs/pad.slab.yaml", "--against", "HEAD~1", *JOINTS, cwd=repository, code=0)
    assert "Against   HEAD~1\n" in done.stdout
    assert "FIXED" in done.stdout and "30'-0\"" in done.stdout
    done = run("review", "pad.slab.yaml", "--against", "HEAD", *JOINTS, cwd=repository / "jobs", code=0)
    assert "15'-0\"" in done.stdout and "30'-0\"" not in done.stdout


def test_a_design_that_was_not_there_is_all_new(repository: Path) -> None:
    put(repository / "jobs", new=LONG)
    done = run("review", "jobs", "--against", "HEAD", "--json", *JOINTS, cwd=repository, code=1)
    new, pad = json.loads(done.stdout)
    assert (new["no_before"], new["then"]) == ("was not there", None)
    assert "panel-spacing" in rules(new, "broke")
    assert (pad["broke"], pad["fixed"]) == ([], [])


def test_an_earlier_version_that_cannot_be_read_is_told_and_stops_nothing(repository: Path) -> None:
    put(repository / "jobs", pad=BROKEN)
    git(repository, "commit", "-q", "-a", "-m", "In a hurry")
    put(repository / "jobs", pad=SOUND)
    done = run("review", "jobs/pad.slab.yaml", "--against", "HEAD", *JOINTS, cwd=repository, code=0)
    assert "could not be read as a design" in done.stdout
    assert done.stderr.startswith('HEAD:jobs/pad.slab.yaml:7:21: "design: 4" has no unit\n')


def test_readings_are_those_of_the_revision(tmp_path: Path) -> None:
    git(tmp_path, "init", "-q")
    jobs = locate.folder("example_designs") / "jobs"
    for name in ("garden_patio.slab.yaml", "garden_patio_base.csv"):
        (tmp_path / name).write_bytes((jobs / name).read_bytes())
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-q", "-m", "Patio")
    (tmp_path / "garden_patio_base.csv").write_text("setup,point,backsight,foresight,x,y\n1,Q,1,,,\n", encoding="utf-8")
    broken = run("review", "garden_patio.slab.yaml", cwd=tmp_path, code=2)
    assert "garden_patio_base.csv" in broken.stderr
    (tmp_path / "garden_patio_base.csv").write_bytes((jobs / "garden_patio_base.csv").read_bytes())
    done = run(
        "review", "garden_patio.slab.yaml", "--against", "HEAD", "--only", "thickness", "--json", cwd=tmp_path, code=0
    )
    data = json.loads(done.stdout)
    assert (done.stderr, data["no_before"], data["broke"], data["fixed"]) == ("", None, [], [])
    assert data["then"] == data["now"]


@pytest.mark.parametrize("revision", ["HEAD~9", "nothing", "--output=x", "-h"])
def test_what_is_neither_file_nor_revision_is_told(repository: Path, revision: str) -> None:
    done = run("review", "jobs/pad.slab.yaml", f"--against={revision}", cwd=repository, code=2)
    assert done.stdout == ""
    assert done.stderr.startswith(f"slabwright: {revision} is neither a file nor a git revision here\n")
    assert not (repository / "x").exists()


def test_a_broken_design_now_is_told_and_the_others_compared(repository: Path) -> None:
    put(repository / "jobs", bad=BROKEN)
    done = run("review", "jobs", "--against", "HEAD", *JOINTS, cwd=repository, code=2)
    assert done.stderr.startswith("jobs/bad.slab.yaml:7:21: ")
    assert "File      jobs/pad.slab.yaml" in done.stdout


@pytest.mark.parametrize(("option", "holds"), [("--sheet", "a kept sheet"), ("--sarif", "SARIF"), ("--page", "a page")])
def test_forms_that_hold_a_whole_review_are_refused(tmp_path: Path, option: str, holds: str) -> None:
    put(tmp_path, now=SOUND, then=LONG)
    name = "out.html" if option == "--page" else "out.txt"
    done = run("review", "now.slab.yaml", "--against", "then.slab.yaml", option, name, cwd=tmp_path, code=2)
    assert f"{holds} holds a whole review, not what changed" in done.stderr.replace("\n    ", " ")
    assert not (tmp_path / name).exists()
