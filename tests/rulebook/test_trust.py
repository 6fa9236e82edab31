"""A firm's own rules are programs: none runs that nobody asked for, and none is left out without a word."""

from __future__ import annotations

import json
import os
import py_compile
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from repositories import OBLONG, SOUND, Done, git, put, put_rule, run

THICKNESS = ("--only", "thickness")


@pytest.fixture(autouse=True)
def configuration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A configuration folder of the test's own."""
    folder = tmp_path / "config"
    monkeypatch.setenv("XDG_CONFIG_HOME", str(folder))
    return folder


@pytest.fixture
def mark(tmp_path: Path) -> Path:
    """The file that is there once a rule of the firm was run."""
    return tmp_path / "ran"


@pytest.fixture
def jobs(tmp_path: Path, mark: Path) -> Path:
    """A folder with a design, a firm file and the rule it names, as somebody may have sent it."""
    folder = tmp_path / "jobs"
    put(folder, pad=SOUND)
    put_rule(folder / "own", mark)
    (folder / ".slabwright.yaml").write_text("# ours\nrules: own\n", encoding="utf-8")
    return folder


def refused(jobs: Path, *arguments: str | Path, wrong: str) -> Done:
    done = run(*arguments, cwd=jobs, code=2)
    assert done.stdout == ""
    assert wrong in " ".join(done.stderr.split())
    return done


UNSAID = "nobody has said on this computer that these may run"
CHANGED = "the firm file or its rules have changed"
OTHERS = "this belongs to another user"

COMMANDS = [
    ("review", "pad.slab.yaml"),
    ("draw", "pad.slab.yaml"),
    ("order", "pad.slab.yaml"),
    ("card", "pad.slab.yaml"),
    ("stake", "pad.slab.yaml"),
]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_rules_that_a_firm_file_names_are_refused_until_trusted(
    jobs: Path, mark: Path, command: tuple[str, ...]
) -> None:
    done = refused(jobs, *command, wrong=UNSAID)
    assert done.stderr.startswith(f"{jobs / '.slabwright.yaml'}:2:1: ")
    told = " ".join(done.stderr.split()).replace("/ ", "/")  # a long path goes on in the next line
    assert f"write: slabwright trust {jobs}, once" in told
    assert f"--rules {jobs / 'own'}" in told
    assert not mark.exists()
    run("trust", ".", cwd=jobs, code=0)
    assert not mark.exists()  # saying so runs nothing
    run(*command, cwd=jobs, code=1 if command[0] == "review" else 0)


def test_trusted_rules_judge(jobs: Path, mark: Path) -> None:
    out = run("trust", jobs / "own" / "thickness", cwd=jobs, code=0).stdout  # any folder below will do
    assert all(part in " ".join(out.split()) for part in (".slabwright.yaml", "firm_thickness.py", "asks again"))
    assert "The slab is 4 in" in run("review", ".", *THICKNESS, cwd=jobs, code=1).stdout
    assert mark.exists()


def test_many_designs_are_each_refused_and_it_is_told_once(jobs: Path, mark: Path, tmp_path: Path) -> None:
    put(jobs, a=SOUND, b=OBLONG)
    put(tmp_path / "elsewhere", c=SOUND)
    done = run("review", jobs, "elsewhere", "--json", cwd=tmp_path, code=2)
    assert [one["verdict"] == "not judged" for one in json.loads(done.stdout)] == [True, True, True, False]
    assert done.stderr.count("nobody has said") == 1
    assert not mark.exists()


def test_rules_named_by_the_command_run_without_it(jobs: Path, mark: Path) -> None:
    """As in a hook or a fresh clone: the firm file's own folder may be named too."""
    assert "The slab is 4 in" in run("review", ".", "--rules", "own", *THICKNESS, cwd=jobs, code=1).stdout
    assert mark.exists()
    refused(jobs, "review", "pad.slab.yaml", wrong=UNSAID)  # it holds for that command only


def test_against_and_watch_keep_the_guard(jobs: Path, mark: Path, tmp_path: Path) -> None:
    (then,) = put(tmp_path / "then", pad=SOUND)
    refused(jobs, "review", "pad.slab.yaml", "--against", then, wrong=UNSAID)
    assert not mark.exists()


def rule_of(jobs: Path) -> Path:
    return jobs / "own" / "thickness" / "firm_thickness.py"


def append(path: Path, text: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


CHANGES: dict[str, tuple[Callable[[Path], object], int]] = {  # and the status once that is trusted too
    "firm file": (lambda jobs: append(jobs / ".slabwright.yaml", "strict: true\n"), 1),
    "rule": (lambda jobs: append(rule_of(jobs), "# one more\n"), 1),
    "another rule": (lambda jobs: shutil.copy(rule_of(jobs), rule_of(jobs).with_name("firm_again.py")), 1),
    "another name": (lambda jobs: rule_of(jobs).rename(rule_of(jobs).with_name("firm_again.py")), 1),
    "sources": (lambda jobs: (jobs / "own" / "sources.yaml").write_text("a: [\n", encoding="utf-8"), 2),
    "group": (lambda jobs: (jobs / "own" / "thickness").rename(jobs / "own" / "base"), 1),
    "stray file": (lambda jobs: shutil.copy(rule_of(jobs), jobs / "own"), 2),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_asks_again(jobs: Path, mark: Path, change: str) -> None:
    make, then = CHANGES[change]
    run("trust", jobs, cwd=jobs, code=0)
    run("review", "pad.slab.yaml", cwd=jobs, code=1)  # what was found then is not remembered
    mark.unlink()
    make(jobs)
    refused(jobs, "review", "pad.slab.yaml", wrong=CHANGED)
    assert not mark.exists()
    run("trust", jobs, cwd=jobs, code=0)
    assert CHANGED not in run("review", "pad.slab.yaml", cwd=jobs, code=then).stderr


def test_trust_is_of_a_path(jobs: Path, mark: Path, tmp_path: Path) -> None:
    run("trust", jobs, cwd=jobs, code=0)
    shutil.copytree(jobs, tmp_path / "copy")
    refused(tmp_path / "copy", "review", "pad.slab.yaml", wrong=UNSAID)
    (tmp_path / "link").symlink_to(jobs, target_is_directory=True)
    run("review", "link/pad.slab.yaml", cwd=tmp_path, code=1)  # the same folder by another name


def test_trust_is_withdrawn(jobs: Path) -> None:
    run("trust", jobs, cwd=jobs, code=0)
    assert "no longer trusted" in run("trust", jobs, "--withdraw", cwd=jobs, code=0).stdout
    refused(jobs, "review", "pad.slab.yaml", wrong=UNSAID)
    refused(jobs, "trust", jobs, "--withdraw", wrong="these rules are not trusted here")


def test_where_it_is_kept(jobs: Path, configuration: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from slabwright.review import trust

    run("trust", jobs, cwd=jobs, code=0)
    kept = json.loads((configuration / "slabwright" / "trusted.json").read_text(encoding="utf-8"))
    assert list(kept["trusted"]) == [str(jobs / ".slabwright.yaml")]
    assert (configuration / "slabwright").stat().st_mode & 0o077 == 0
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for unfit in ("", "config"):  # the XDG Base Directory Specification: a relative path is invalid and ignored
        monkeypatch.setenv("XDG_CONFIG_HOME", unfit)
        refused(jobs, "review", "pad.slab.yaml", wrong=UNSAID)
        run("trust", jobs, cwd=jobs, code=0)
        assert (tmp_path / "home" / ".config" / "slabwright" / "trusted.json").exists()
        shutil.rmtree(tmp_path / "home")
    monkeypatch.setattr(trust, "WINDOWS", True)
    monkeypatch.setenv("APPDATA", str(tmp_path / "roaming"))
    run("trust", jobs, cwd=jobs, code=0)
    assert (tmp_path / "roaming" / "slabwright" / "trusted.json").exists()


@pytest.mark.parametrize("text", ["", "{", "[]", '{"trusted": 3}', "{}"])
def test_a_kept_file_that_is_spoilt_is_told(jobs: Path, configuration: Path, mark: Path, text: str) -> None:
    (configuration / "slabwright").mkdir(parents=True)
    (configuration / "slabwright" / "trusted.json").write_text(text, encoding="utf-8")
    refused(jobs, "review", "pad.slab.yaml", wrong="this is not what slabwright keeps there")
    assert not mark.exists()


def given_away(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a file belong to another user: really, where the test may do that, else by being another user."""
    if os.geteuid() == 0:
        os.chown(path, 65534, 65534, follow_symlinks=False)
    else:
        owner = os.geteuid()
        monkeypatch.setattr(os, "geteuid", lambda: owner + 1)


@pytest.mark.parametrize("part", [".slabwright.yaml", "own", "own/thickness", "own/thickness/firm_thickness.py"])
def test_what_belongs_to_another_user_is_not_trusted(
    jobs: Path, mark: Path, part: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    run("trust", jobs, cwd=jobs, code=0)
    given_away(jobs / part, monkeypatch)
    refused(jobs, "trust", jobs, wrong=OTHERS)
    refused(jobs, "review", "pad.slab.yaml", wrong=OTHERS)  # though its text is as it was
    assert not mark.exists()
    run("review", "pad.slab.yaml", "--rules", "own", cwd=jobs, code=1)


def test_a_firm_file_that_another_user_put_above_is_not_trusted(
    jobs: Path, mark: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(tmp_path / "jobs" / "mine", pad=SOUND)
    given_away(jobs / ".slabwright.yaml", monkeypatch)
    refused(jobs / "mine", "review", "pad.slab.yaml", wrong="may run")
    assert not mark.exists()


def test_a_link_to_rules_of_another_user_is_not_trusted(
    jobs: Path, mark: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rule = jobs / "own" / "thickness" / "firm_thickness.py"
    rule.rename(tmp_path / "theirs.py")
    given_away(tmp_path / "theirs.py", monkeypatch)
    rule.symlink_to(tmp_path / "theirs.py")
    refused(jobs, "trust", jobs, wrong=OTHERS)


def test_a_link_of_another_user_is_not_trusted(jobs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rule = jobs / "own" / "thickness" / "firm_thickness.py"
    rule.rename(tmp_path / "mine.py")
    rule.symlink_to(tmp_path / "mine.py")
    run("trust", jobs, cwd=jobs, code=0)
    given_away(rule, monkeypatch)
    refused(jobs, "review", "pad.slab.yaml", wrong=OTHERS)


def test_where_the_system_tells_no_owner_the_digest_still_holds(
    jobs: Path, mark: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delattr(os, "geteuid")
    refused(jobs, "review", "pad.slab.yaml", wrong=UNSAID)
    run("trust", jobs, cwd=jobs, code=0)
    run("review", "pad.slab.yaml", cwd=jobs, code=1)
    put_rule(jobs / "own")
    refused(jobs, "review", "pad.slab.yaml", wrong=CHANGED)


def test_there_must_be_something_to_trust(jobs: Path, tmp_path: Path) -> None:
    put(tmp_path / "bare", pad=SOUND)
    refused(jobs, "trust", tmp_path / "bare", wrong="no firm file (.slabwright.yaml) holds here")
    refused(jobs, "trust", tmp_path / "nowhere", wrong="there is no such folder")
    (jobs / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    refused(jobs, "trust", jobs, wrong="this firm file names no rules")


# --- how a trusted rule is loaded ---


def test_bytecode_beside_a_rule_is_never_run(jobs: Path, mark: Path, tmp_path: Path) -> None:
    """An unchecked ``.pyc`` (PEP 552) is taken by Python's own loader whatever stands in the source."""
    rule = jobs / "own" / "thickness" / "firm_thickness.py"
    innocent = rule.read_text(encoding="utf-8").partition("RAN =")[0]
    py_compile.compile(str(rule), invalidation_mode=py_compile.PycInvalidationMode.UNCHECKED_HASH)
    rule.write_text(innocent, encoding="utf-8")
    assert list((rule.parent / "__pycache__").glob("*.pyc"))
    for asked in ((), ("--rules", "own")):
        run("trust", jobs, cwd=jobs, code=0)
        assert "The slab is 4 in" in run("review", "pad.slab.yaml", *asked, *THICKNESS, cwd=jobs, code=1).stdout
        assert not mark.exists()
    shutil.rmtree(rule.parent / "__pycache__")
    run("review", "pad.slab.yaml", cwd=jobs, code=1)
    assert not (rule.parent / "__pycache__").exists()  # and none is left there


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("open({mark!r}, 'w').close()\n", "the file does something while it is loaded"),
        ("for _ in (1,): open({mark!r}, 'w').close()\n", "a rule file holds only imports, names and functions"),
        ("class Mark:\n    made = open({mark!r}, 'w').close()\n", "the class Mark"),
        ("RAN = open({mark!r}, 'w').close()\nfrom slabwright.cli.main import main\n", "a rule may not import"),
    ],
)
def test_a_rule_is_examined_before_it_runs(jobs: Path, mark: Path, text: str, wrong: str) -> None:
    put_rule(jobs / "own")
    rule = jobs / "own" / "thickness" / "firm_thickness.py"
    rule.write_text(rule.read_text(encoding="utf-8") + text.format(mark=str(mark)), encoding="utf-8")
    refused(jobs, "review", "pad.slab.yaml", "--rules", "own", wrong=wrong)
    assert not mark.exists()


def test_a_rule_that_is_no_ordinary_file_is_refused(jobs: Path) -> None:
    os.mkfifo(jobs / "own" / "thickness" / "pipe.py")
    refused(jobs, "review", "pad.slab.yaml", "--rules", "own", wrong="this is not an ordinary file")
    refused(jobs, "trust", jobs, wrong="this is not an ordinary file")


# --- a firm file that cannot be read ---


@pytest.mark.parametrize(
    ("make", "wrong"),
    [
        (lambda path: path.symlink_to("nowhere.yaml"), "this link leads to no file"),
        (os.mkfifo, "this is not an ordinary file"),
        (lambda path: path.mkdir(), "this is a folder"),
        (lambda path: path.symlink_to(path.name), "this file could not be opened"),
    ],
    ids=["dangling link", "fifo", "folder", "link to itself"],
)
@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_a_firm_file_that_cannot_be_read_is_no_missing_one(
    tmp_path: Path, make: object, wrong: str, command: tuple[str, ...]
) -> None:
    put(tmp_path / "jobs" / "bay", pad=SOUND)
    (tmp_path / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")  # the next above does not hold
    assert callable(make)
    make(tmp_path / "jobs" / ".slabwright.yaml")
    done = refused(tmp_path / "jobs" / "bay", *command, wrong=wrong)
    assert done.stderr.startswith(str(tmp_path / "jobs" / ".slabwright.yaml"))


def test_a_hook_may_name_the_rules_of_the_repository(jobs: Path, tmp_path: Path) -> None:
    """A fresh clone, and a hook that says ``--rules own``: they run, and nothing was said before."""
    git(jobs, "init", "-q")
    git(jobs, "add", ".")
    git(jobs, "commit", "-q", "-m", "Jobs")
    git(tmp_path, "clone", "-q", "jobs", "clone")
    refused(tmp_path / "clone", "review", "pad.slab.yaml", wrong=UNSAID)
    run("review", "pad.slab.yaml", "--rules", "own", cwd=tmp_path / "clone", code=1)
