"""What a change did to a design: matched by rule and thing, against a git revision or another file."""

from __future__ import annotations

import json
import os
import shutil
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from referencing import Registry, Resource
from repositories import BROKEN, ENVIRONMENT, LONG, OBLONG, SOUND, git, put, run
from slabwright.review import reviewing
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
    assert "    then      30'-0\" against at most 12'-0\"" in sheet
    assert "    now       15'-0\" against at most 12'-0\"" in sheet


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
    (new,) = json.loads(done.stdout)  # the other did not change
    assert (new["no_before"], new["then"]) == ("was not there", None)
    assert "panel-spacing" in rules(new, "broke")


def entries(folder: Path, *names: str, code: int) -> list[dict[str, Any]]:
    """What changed in several designs since the last commit, as data that keeps to its schema."""
    done = run("review", *names, "--against", "HEAD", "--json", *JOINTS, cwd=folder, code=code)
    schemas = [json.loads(path.read_text(encoding="utf-8")) for path in locate.folder("schemas").glob("*.json")]
    registry = Registry().with_resources((one["$id"], Resource.from_contents(one)) for one in schemas if "$id" in one)
    whole = next(one for one in schemas if one["$id"] == "urn:slabwright:effects:1")
    data = json.loads(done.stdout)
    assert list(jsonschema.Draft202012Validator(whole, registry=registry).iter_errors(data)) == []
    return list(data)


def test_of_a_folder_only_designs_that_changed_are_told_in_one_table(tmp_path: Path) -> None:
    """Changed, renamed and changed, renamed alone, gone, new, not readable; one with other line ends is the same."""
    git(tmp_path, "init", "-q")
    put(tmp_path / "jobs", same=LONG, ends=LONG, pad=LONG, old=HALVED, moved=OBLONG + "# alone\n", gone=WAVED)
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-q", "-m", "Jobs")
    (tmp_path / "jobs" / "ends.slab.yaml").write_bytes(LONG.replace("\n", "\r\n").encode())
    for name in ("old", "moved", "gone"):
        (tmp_path / "jobs" / f"{name}.slab.yaml").unlink()
    put(tmp_path / "jobs", pad=SOUND, bad=BROKEN)
    put(tmp_path / "jobs" / "2026", renamed=SHALLOW, moved=OBLONG + "# alone\n", new=SOUND.replace("Bin", "Paint"))
    told = entries(tmp_path, "jobs", code=2)
    assert [(one["file"], one.get("renamed_from"), one.get("no_before"), one.get("gone")) for one in told] == [
        ("jobs/2026/moved.slab.yaml", "jobs/moved.slab.yaml", None, None),
        ("jobs/2026/new.slab.yaml", "jobs/gone.slab.yaml", None, None),
        ("jobs/2026/renamed.slab.yaml", "jobs/old.slab.yaml", None, None),
        ("jobs/bad.slab.yaml", None, None, None),
        ("jobs/pad.slab.yaml", None, None, None),
    ]
    assert "joint-depth" in rules(told[2], "broke")
    done = run("review", "jobs", "--against", "HEAD", *JOINTS, cwd=tmp_path, code=2)
    table = done.stdout.partition("CHANGED SINCE HEAD (5 designs)")[2]
    assert "jobs/2026/renamed.slab.yaml (was jobs/old.slab.yaml)" in table
    assert "5 designs differ, 3 renamed, 2 unchanged, and not reviewed" in " ".join(table.split())
    assert "same.slab.yaml" not in done.stdout and "ends.slab.yaml" not in done.stdout
    for name in ("2026/new", "bad"):
        (tmp_path / "jobs" / f"{name}.slab.yaml").unlink()
    told = entries(tmp_path / "jobs", ".", code=1)
    assert (told[-1]["file"], told[-1]["gone"]) == ("gone.slab.yaml", True)


def test_a_change_of_readings_alone_is_a_change(tmp_path: Path) -> None:
    git(tmp_path, "init", "-q")
    jobs = locate.folder("example_designs") / "jobs"
    for name in ("garden_patio.slab.yaml", "garden_patio_base.csv"):
        (tmp_path / name).write_bytes((jobs / name).read_bytes())
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-q", "-m", "Patio")
    assert entries(tmp_path, ".", code=0) == []
    with (tmp_path / "garden_patio_base.csv").open("a", encoding="utf-8") as readings:
        readings.write("\n")
    assert [one["file"] for one in entries(tmp_path, ".", code=0)] == ["garden_patio.slab.yaml"]


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


# --- a repository that somebody sent ---


def marked(folder: Path) -> str:
    """A program that leaves a mark beside it when it runs."""
    program = folder / "program"
    program.write_text(f"#!/bin/sh\necho ran >> {folder / 'ran'}\nexit 1\n", encoding="utf-8")
    program.chmod(0o755)
    return str(program)


def without(repository: Path, revision: str) -> None:
    """Let the repository promise to fetch a file that it does not hold (git's partial clone)."""
    blob = git(repository, "rev-parse", revision).strip()
    (repository / ".git" / "objects" / blob[:2] / blob[2:]).unlink()


@pytest.mark.parametrize(
    "remote",
    [
        {"url": "ext::{program} %S"},
        {"url": "{folder}", "uploadpack": "{program}"},
        {"url": "ssh://plans.example/jobs"},
    ],
    ids=["ext", "uploadpack", "ssh"],
)
def test_nothing_is_fetched_and_no_program_of_a_remote_runs(
    repository: Path, tmp_path_factory: pytest.TempPathFactory, remote: dict[str, str]
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    program = marked(outside)
    without(repository, "HEAD~1:jobs/pad.slab.yaml")
    for key, value in {
        **{f"remote.sent.{key}": value.format(program=program, folder=outside) for key, value in remote.items()},
        "remote.sent.promisor": "true",
        "extensions.partialClone": "sent",
        "core.repositoryFormatVersion": "1",
        "core.sshCommand": program,
        "protocol.allow": "always",
        "protocol.ext.allow": "always",
        "protocol.file.allow": "always",
    }.items():
        git(repository, "config", key, value)
    done = run("review", "jobs/pad.slab.yaml", "--against", "HEAD~1", *JOINTS, cwd=repository, code=1)
    assert not (outside / "ran").exists()
    assert "HEAD~1:jobs/pad.slab.yaml" in done.stderr
    assert "git does not have this file of that revision on this computer" in done.stderr


def test_every_call_of_git_says_that_nothing_runs(
    repository: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One of these would do; that each is said is seen by a program in git's place, which notes what it was told."""
    outside = tmp_path_factory.mktemp("outside")
    program = outside / "git"
    note = f'{{ echo "$@"; env; echo end; }} >> "{outside}/noted"'
    program.write_text(f'#!/bin/sh\n{note}\nexec "{shutil.which("git")}" "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{outside}{os.pathsep}{os.environ['PATH']}")
    for tied in ("GIT_DIR", "GIT_INDEX_FILE", "GIT_WORK_TREE", "GIT_OBJECT_DIRECTORY", "GIT_CONFIG_PARAMETERS"):
        monkeypatch.setenv(tied, "'a.b=c'" if "CONFIG" in tied else str(outside))
    run("review", "jobs/pad.slab.yaml", "--against", "HEAD~1", *JOINTS, cwd=repository, code=1)
    run("review", "--hook", "jobs/pad.slab.yaml", "town.yaml", *JOINTS, cwd=repository, code=1)
    noted = (outside / "noted").read_text(encoding="utf-8").split("\nend\n")
    calls = [call for call in noted if call and "rev-parse --local" not in call]
    assert len(calls) >= 4
    for call in calls:
        command, *environment = call.strip().splitlines()
        for option in (
            "safe.bareRepository=explicit", "protocol.allow=never", "core.fsmonitor=false", "core.hooksPath=/dev/null",
        ):  # fmt: skip
            assert f"-c {option}" in command
        assert {"GIT_NO_LAZY_FETCH=1", "GIT_ALLOW_PROTOCOL=:"} <= set(environment)
        assert not [one for one in environment if one.startswith(("GIT_DIR", "GIT_INDEX", "GIT_WORK", "GIT_OBJECT"))]


def test_no_monitor_hook_filter_or_difference_program_runs(
    repository: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    outside = tmp_path_factory.mktemp("outside")
    program = marked(outside)
    (repository / ".gitattributes").write_text("*.yaml diff=sent filter=sent\n", encoding="utf-8")
    git(repository, "add", ".")
    git(repository, "commit", "-q", "-m", "Attributes")
    (repository / "hooks").mkdir()
    for hook in ("post-index-change", "reference-transaction", "post-checkout"):
        (repository / "hooks" / hook).symlink_to(program)
    for key in (
        "core.fsmonitor", "core.pager", "core.editor", "diff.external", "diff.sent.textconv", "diff.sent.command",
        "filter.sent.smudge", "filter.sent.clean", "filter.sent.process", "core.alternateRefsCommand",
    ):  # fmt: skip
        git(repository, "config", key, program)
    git(repository, "config", "core.hooksPath", str(repository / "hooks"))
    run("review", "jobs/pad.slab.yaml", "--against", "HEAD~1", *JOINTS, cwd=repository, code=1)
    run("review", "--hook", "jobs/pad.slab.yaml", "town.yaml", *JOINTS, cwd=repository, code=1)
    assert not (outside / "ran").exists()


def test_a_bare_repository_stored_as_plain_files_is_not_used(
    repository: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """The files of a bare repository beside the design, as any folder can hold them, with what it tells git to run."""
    outside = tmp_path_factory.mktemp("outside")
    program = marked(outside)
    sent = outside / "sent"
    git(outside, "clone", "-q", "--bare", str(repository), "sent")
    put(sent / "jobs", pad=HALVED)
    git(sent, "config", "remote.origin.promisor", "true")
    git(sent, "config", "extensions.partialClone", "origin")
    git(sent, "config", "core.repositoryFormatVersion", "1")
    git(sent, "config", "remote.origin.uploadpack", program)
    done = run("review", "pad.slab.yaml", "--against", "HEAD", *JOINTS, cwd=sent / "jobs", code=2)
    assert done.stderr.startswith("slabwright: HEAD is neither a file nor a git revision here\n")
    run("review", "pad.slab.yaml", "--against", "1" * 40, *JOINTS, cwd=sent / "jobs", code=2)
    assert not (outside / "ran").exists()


def tree(repository: Path, *entries: tuple[str, str, str]) -> str:
    """A tree with entries of any names, as git itself would not make it; mode, name and object of each."""
    raw = b"".join(f"{mode} {name}\0".encode() + bytes.fromhex(sha) for mode, name, sha in entries)
    (repository / "raw").write_bytes(raw)
    return git(repository, "hash-object", "-t", "tree", "--literally", "-w", "raw").strip()


@pytest.mark.parametrize("named", ["victim.csv", "../victim.csv", "{outside}/victim.csv", "sub/../../victim.csv"])
def test_nothing_is_written_outside_the_folder_of_the_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, named: str
) -> None:
    """A commit with an entry named ``..``, and a design that names its file in every way there is."""
    repository, outside = tmp_path / "repository", tmp_path / "outside"
    for folder in (repository, outside):
        folder.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(outside))
    (outside / "victim.csv").write_text("mine\n", encoding="utf-8")
    git(repository, "init", "-q")
    (repository / "readings").write_text("theirs\n", encoding="utf-8")
    readings = git(repository, "hash-object", "-w", "readings").strip()
    put(repository, pad=f"{SOUND}heights: {{base: '{named.format(outside=outside)}'}}\n")
    design = git(repository, "hash-object", "-w", "pad.slab.yaml").strip()
    above = tree(repository, ("100644", "victim.csv", readings))
    top = tree(repository, ("40000", "..", above), ("100644", "pad.slab.yaml", design), ("40000", "sub", above))
    sha = git(repository, "commit-tree", top, "-m", "Sent").strip()
    put(repository, pad=SOUND)
    run("review", "pad.slab.yaml", "--against", sha, *JOINTS, cwd=repository, code=0)
    assert (outside / "victim.csv").read_text(encoding="utf-8") == "mine\n"
    assert [path.name for path in outside.iterdir()] == ["victim.csv"]


@pytest.mark.parametrize(
    ("named", "also"), [("shots/base.csv", {"shots/base.csv"}), ("shots/../other.csv", set()), ("none.csv", set())]
)
def test_only_the_readings_that_a_design_names_are_taken_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, named: str, also: set[str]
) -> None:
    git(tmp_path, "init", "-q")
    for name in ("base.csv", "other.csv", "shots/base.csv"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("setup,point,backsight,foresight\n", encoding="utf-8")
    put(tmp_path, pad=f"# as in other.csv\n{SOUND}heights: {{base: {named}}}\n")
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-q", "-m", "Bay")
    put(tmp_path, pad=SOUND)
    taken: list[set[str]] = []
    real = reviewing.judge_versions

    def judge_versions(pairs: list[tuple[Path, Path]], *more: Any) -> Any:
        for _, path in pairs:
            taken.append({str(one.relative_to(path.parent)) for one in path.parent.rglob("*") if one.is_file()})
        return real(pairs, *more)

    monkeypatch.setattr(reviewing, "judge_versions", judge_versions)
    run("review", "pad.slab.yaml", "--against", "HEAD", *JOINTS, cwd=tmp_path, code=0)
    assert taken == [{"pad.slab.yaml", *also}]


def test_what_is_no_file_in_the_revision_is_told(repository: Path) -> None:
    (repository / "jobs" / "pad.slab.yaml").unlink()
    (repository / "jobs" / "pad.slab.yaml").symlink_to("../else.yaml")
    git(repository, "add", ".")
    git(repository, "commit", "-q", "-m", "A link")
    (repository / "jobs" / "pad.slab.yaml").unlink()
    put(repository / "jobs", pad=SOUND, big=SOUND + "#" * 8_000_000 + "\n")
    done = run("review", "jobs/pad.slab.yaml", "--against", "HEAD", *JOINTS, cwd=repository, code=0)
    assert "this was no ordinary file in that revision" in done.stderr
    git(repository, "add", ".")
    git(repository, "commit", "-q", "-m", "Too large")
    put(repository / "jobs", big=SOUND)
    done = run("review", "jobs/big.slab.yaml", "--against", "HEAD", *JOINTS, cwd=repository, code=0)
    assert done.stderr.startswith("HEAD:jobs/big.slab.yaml:1:1: this held 8 MB in that revision; at most 8 MB is read")


def test_a_hook_in_a_linked_worktree_compares_with_its_own_branch(repository: Path, tmp_path: Path) -> None:
    """Git tells a hook its folder, index and prefix by variables; ``HEAD`` and paths are those of the worktree."""
    git(repository, "worktree", "add", "-q", "-b", "other", "linked")
    linked = repository / "linked"
    put(linked / "jobs", pad=SOUND)
    hook = repository / ".git" / "hooks" / "pre-commit"
    command = f"'{sys.executable}' -m slabwright review jobs/pad.slab.yaml --against HEAD --json --only joints"
    environment = f"PYTHONPATH='{ENVIRONMENT['PYTHONPATH']}'"
    hook.write_text(f"#!/bin/sh\n{environment} {command} > '{tmp_path}/told.json' || exit 1\n", encoding="utf-8")
    hook.chmod(0o755)
    git(linked, "commit", "-q", "-a", "-m", "Short panels")
    told = json.loads((tmp_path / "told.json").read_text(encoding="utf-8"))
    assert told["no_before"] is None
    assert "panel-spacing" in rules(told, "fixed")


@pytest.mark.parametrize("revision", ["HEAD~9", "nothing", "--output=x", "-h"])
def test_what_is_neither_file_nor_revision_is_told(repository: Path, revision: str) -> None:
    done = run("review", "jobs/pad.slab.yaml", f"--against={revision}", cwd=repository, code=2)
    assert done.stdout == ""
    assert done.stderr.startswith(f"slabwright: {revision} is neither a file nor a git revision here\n")
    assert not (repository / "x").exists()


def test_a_broken_design_now_is_told_and_the_others_compared(repository: Path) -> None:
    put(repository / "jobs", bad=BROKEN, pad=SOUND)
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


@pytest.mark.parametrize(
    ("name", "now", "then"),
    [
        ("trailer_bay", "design: 5 in", "design: 4 in"),
        ("bakery_yard", "slump: 100 mm", "slump: 180 mm"),
        ("garden_patio", "depth: 30 mm", "depth: 10 mm"),
    ],
)
def test_what_two_versions_share_is_worked_once_and_judged_alike(
    tmp_path: Path, name: str, now: str, then: str
) -> None:
    """The earlier version has the report that it has alone, line numbers included."""
    jobs = locate.folder("example_designs") / "jobs"
    text = (jobs / f"{name}.slab.yaml").read_text(encoding="utf-8")
    assert now in text
    for readings in jobs.glob("*.csv"):
        (tmp_path / readings.name).write_bytes(readings.read_bytes())
    put(tmp_path, now=text, then=f"# one line\n# and one more\n{text.replace(now, then)}")
    path, before = tmp_path / "now.slab.yaml", tmp_path / "then.slab.yaml"

    ((judged, was),) = reviewing.judge_versions([(path, before)], reviewing.Settings())

    assert isinstance(judged, reviewing.Judged) and isinstance(was, reviewing.Judged)
    assert judged.report == reviewing.judge(path, reviewing.Settings(), figured=False).report
    assert was.report == reviewing.judge(before, reviewing.Settings(), figured=False).report
    assert was.report.comments
