"""``review --hook``: what a commit changes, every design that rests on it, and what keeps the commit back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from repositories import BROKEN, LONG, OBLONG, SOUND, git, put, put_rule, run

JOINTS = ("--only", "joints", "--brief")
TOWN = """\
format: 1
layer: town
name: Town of Kettle Narrows
amendments:
  - {rule: panel-spacing, limit: thicknesses_at_most, value: 35, citation: Kettle Narrows code 17-4 (2026)}
"""
READ = SOUND + "heights: {datum: sill = 100.00, benches: {sill: 100.00}, base: shots/base.csv}\n"
SHOTS = "setup,point,backsight,foresight\n1,sill,4.00,\n1,A,,4.40\n1,B,,4.40\n1,C,,4.40\n1,D,,4.40\n1,sill,,4.00\n"


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """Two towns with a firm file each, one with readings, one with own rules; everything is committed."""
    git(tmp_path, "init", "-q")
    put(tmp_path / "north", one=SOUND, two=SOUND)
    put(tmp_path / "south", three=READ, four=SOUND)
    (tmp_path / "south" / "shots").mkdir()
    (tmp_path / "south" / "shots" / "base.csv").write_text(SHOTS, encoding="utf-8")
    (tmp_path / "north" / "town.yaml").write_text(TOWN, encoding="utf-8")
    (tmp_path / "north" / ".slabwright.yaml").write_text("amendments: [town.yaml]\n", encoding="utf-8")
    put_rule(tmp_path / "own")
    (tmp_path / "south" / ".slabwright.yaml").write_text("rules: ../own\n", encoding="utf-8")
    git(tmp_path, "add", "-A")
    git(tmp_path, "commit", "-q", "-m", "Jobs")
    return tmp_path


def reviewed(repository: Path, *names: str, rules: bool = True, code: int = 0) -> list[str]:
    """The designs that a hook reviews for these changed files."""
    options = ("--rules", "own") if rules else ()
    kept = run("review", "--hook", *names, *JOINTS, *options, "--json", cwd=repository, code=code).stdout

    return [one["file"] for one in json.loads(kept)] if kept else []


@pytest.mark.parametrize(
    ("changed", "designs"),
    [
        ("north/town.yaml", ["north/one.slab.yaml", "north/two.slab.yaml"]),
        ("north/.slabwright.yaml", ["north/one.slab.yaml", "north/two.slab.yaml"]),
        ("south/shots/base.csv", ["south/three.slab.yaml"]),
        ("south/four.slab.yaml", ["south/four.slab.yaml"]),
        ("readme.txt", []),
    ],
)
def test_a_change_reviews_every_design_that_rests_on_it(repository: Path, changed: str, designs: list[str]) -> None:
    assert reviewed(repository, changed) == designs


@pytest.mark.parametrize("changed", ["own/thickness/firm_thickness.py", "own/sources.yaml", "own/thickness/gone.py"])
def test_a_change_of_own_rules_reviews_the_designs_they_judge(repository: Path, changed: str) -> None:
    south = ["south/four.slab.yaml", "south/three.slab.yaml"]
    assert reviewed(repository, changed, rules=False, code=2) == south  # and is refused: nobody trusts them here
    assert reviewed(repository, changed) == ["north/one.slab.yaml", "north/two.slab.yaml", *south]


@pytest.mark.parametrize(
    ("gone", "code", "designs"),
    [
        ("north/.slabwright.yaml", 0, ["north/one.slab.yaml", "north/two.slab.yaml"]),
        ("north/town.yaml", 2, ["north/one.slab.yaml", "north/two.slab.yaml"]),
        ("south/shots/base.csv", 2, ["south/three.slab.yaml"]),
        ("south/four.slab.yaml", 0, []),
    ],
)
def test_what_a_commit_deletes_counts_though_no_hook_names_it(
    repository: Path, gone: str, code: int, designs: list[str]
) -> None:
    git(repository, "rm", "-q", gone)
    assert reviewed(repository, code=code) == designs


def test_what_a_hook_on_a_range_deletes_counts(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    git(repository, "rm", "-q", "north/.slabwright.yaml")
    git(repository, "commit", "-q", "-m", "No town")
    assert reviewed(repository) == []
    monkeypatch.setenv("PRE_COMMIT_FROM_REF", "HEAD~1")
    monkeypatch.setenv("PRE_COMMIT_TO_REF", "HEAD")
    assert reviewed(repository) == ["north/one.slab.yaml", "north/two.slab.yaml"]


def test_what_git_does_not_track_keeps_a_commit_back(repository: Path) -> None:
    git(repository, "rm", "-q", "--cached", "north/town.yaml", "south/shots/base.csv")
    done = run("review", "--hook", "north/one.slab.yaml", "south/three.slab.yaml", *JOINTS, "--rules", "own",
               cwd=repository, code=2)  # fmt: skip
    told = [line.partition(": ") for line in done.stderr.splitlines() if line.startswith(("north", "south"))]
    assert [place for place, _, _ in told] == ["north/town.yaml:1:1", "south/shots/base.csv:1:1"]
    assert "git does not track this file, which the firm file reads" in done.stderr
    assert "kept back: git does not track 2 files" in done.stdout


def test_a_caution_that_counts_among_two_designs_is_told_in_twenty_lines(repository: Path) -> None:
    put(repository / "north", one=OBLONG, two=SOUND)
    (repository / "north" / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    done = run("review", "--hook", "north/one.slab.yaml", "north/two.slab.yaml", *JOINTS, cwd=repository, code=1)
    lines = (done.stderr + done.stdout).splitlines()
    assert len(lines) <= 20
    assert lines[-1] == "kept back: cautions count (firm file)"
    assert not any("two.slab.yaml" in line for line in lines)
    (repository / "north" / ".slabwright.yaml").unlink()
    done = run("review", "--hook", "north/one.slab.yaml", "--strict", *JOINTS, cwd=repository, code=1)
    assert done.stdout.endswith("kept back: cautions count (--strict)\n")


def test_what_cannot_be_read_comes_first(repository: Path) -> None:
    put(repository / "north", one=LONG, two=BROKEN)
    done = run("review", "--hook", "north/one.slab.yaml", "north/two.slab.yaml", *JOINTS, cwd=repository, code=2)
    rows = [line.split()[-1] for line in done.stdout.splitlines() if line.startswith(("unreadable ", "hold  "))]
    assert rows == ["north/two.slab.yaml", "north/one.slab.yaml"]
    assert "kept back: 1 file is not judged; 1 design has a hold" in done.stdout


@pytest.mark.parametrize("name", ["pad.slab.yml", "Pad.SLAB.yaml", "pad.slab.yaml.txt", "pad_slab.yaml"])
def test_a_name_that_is_a_slip_is_told_and_not_passed_over(repository: Path, name: str) -> None:
    (repository / "north" / name).write_text(LONG, encoding="utf-8")
    for options in (("--hook", f"north/{name}"), ("north",)):
        done = run("review", *options, *JOINTS, cwd=repository, code=2)
        assert f"north/{name}:1:1: this file is passed over" in done.stderr
        assert "ad.slab.yaml" in done.stderr.partition("write: ")[2]
    run("review", f"north/{name}", *JOINTS, cwd=repository, code=1)  # named alone it is a design


def test_a_firm_file_with_a_slip_in_its_name_is_told(repository: Path) -> None:
    (repository / "north" / "slabwright.yml").write_text("strict: true\n", encoding="utf-8")
    done = run("review", "north", *JOINTS, cwd=repository, code=2)
    assert "north/slabwright.yml:1:1: this file holds for no design" in done.stderr


def test_a_town_file_that_cannot_be_read_blames_no_design(repository: Path) -> None:
    (repository / "north" / "town.yaml").write_text(TOWN.replace("thicknesses", "thickness"), encoding="utf-8")
    done = run("review", "north", *JOINTS, cwd=repository, code=2)
    assert done.stderr.count("town.yaml:5:") == 1
    assert "not readable" not in done.stdout and "unreadable" not in done.stdout
    assert "2 not judged: the files named above, which they rest on, cannot be read" in " ".join(done.stdout.split())
    hook = run("review", "--hook", "north/town.yaml", *JOINTS, cwd=repository, code=2)
    assert "kept back: 2 files are not judged" in hook.stdout


def test_without_git_the_files_named_are_reviewed_all_the_same(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    (tmp_path / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    assert reviewed(tmp_path, ".slabwright.yaml", rules=False, code=1) == ["pad.slab.yaml"]


@pytest.mark.parametrize(
    "option", [("--watch",), ("--against", "HEAD"), ("--put-right", "x.yaml"), ("--page", "x.html")]
)
def test_a_hook_takes_no_other_form(repository: Path, option: tuple[str, ...]) -> None:
    done = run("review", "--hook", "north/one.slab.yaml", *option, cwd=repository, code=2)
    assert f"--hook and {option[0]} do not go together" in done.stderr
    assert "review needs a design or a folder" in run("review", cwd=repository, code=2).stderr
