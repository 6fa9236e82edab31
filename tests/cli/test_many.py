"""Many designs in one run: order, exit status, summary, workers that end, JSON, and a sheet to keep."""

from __future__ import annotations

import gc
import io
import json
import os
import pty
import re
import signal
import subprocess
import sys
import time
import weakref
from collections.abc import Iterator, Sequence
from contextlib import chdir
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from referencing import Registry, Resource
from repositories import (
    BROKEN,
    ENVIRONMENT,
    LONG,
    OBLONG,
    SOUND,
    members,
    nobody_special,
    put,
    put_rule,
    run,
    run_apart,
)
from slabwright.cli import many_files, workers
from slabwright.design.model import Design
from slabwright.plan.plan import Plan
from slabwright.review import reviewing
from slabwright.review.report import Report
from slabwright.review.reviewing import house_of
from slabwright.source import locate
from slabwright.source.problem import UnreadableError
from slabwright.writers import as_json

# Only the joints are judged where a test counts comments, so that rules on other matters change nothing here.
JOINTS = ("--only", "joints")


def names(text: str) -> list[str]:
    return re.findall(r"^File +(\S+)$", text, re.MULTILINE)


def test_a_folder_is_walked_in_order_of_paths(tmp_path: Path) -> None:
    put(tmp_path / "b", two=LONG)
    put(tmp_path / "a", three=LONG, one=LONG)
    put(tmp_path / ".trash", old=LONG)
    (tmp_path / "a" / "prices.yaml").write_text("currency: EUR\n", encoding="utf-8")
    assert [str(path.relative_to(tmp_path)) for path in many_files.designs([str(tmp_path)])] == [
        "a/one.slab.yaml",
        "a/three.slab.yaml",
        "b/two.slab.yaml",
    ]


def test_files_stay_in_the_order_named_and_come_once(tmp_path: Path) -> None:
    one, two = put(tmp_path, one=SOUND, two=SOUND)
    assert many_files.designs([str(two), str(tmp_path), str(two)]) == [two, one]


def test_a_link_to_a_folder_is_not_followed(tmp_path: Path) -> None:
    put(tmp_path / "jobs", one=SOUND)
    (tmp_path / "jobs" / "again").symlink_to(tmp_path / "jobs", target_is_directory=True)
    assert len(many_files.designs([str(tmp_path)])) == 1


def test_a_folder_without_a_design_is_told(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match="no design"):
        many_files.designs([str(tmp_path)])
    assert "there is no design (.slab.yaml) in this folder" in run("review", tmp_path, cwd=tmp_path, code=2).stderr


@pytest.mark.parametrize("way", [(), ("--json",), ("--against", "then.txt")])
def test_a_folder_that_may_not_be_entered_is_told_and_counts_as_unreadable(
    tmp_path: Path, way: tuple[str, ...]
) -> None:
    put(tmp_path / "jobs", open=SOUND)
    put(tmp_path / "jobs" / "shut", hidden=LONG)
    (tmp_path / "then.txt").write_text(SOUND, encoding="utf-8")
    (tmp_path / "jobs" / "shut").chmod(0)
    alone = ("jobs/open.slab.yaml", "jobs/shut/x.slab.yaml")
    with nobody_special():
        for named in (("jobs",), ("jobs/shut", "jobs/open.slab.yaml"), alone):
            done = run("review", *named, *way, *JOINTS, cwd=tmp_path, code=2)
            entered = "this file may not be opened" if named is alone else "this folder may not be entered"
            assert done.stderr.startswith("jobs/shut")
            assert entered in done.stderr
            assert "open.slab.yaml" in done.stdout  # the others are judged
            if not way:
                assert "1 not readable, 1 without a comment" in done.stdout
        told = run("review", "jobs/shut/x.slab.yaml", cwd=tmp_path, code=2).stderr
        assert told.startswith("jobs/shut/x.slab.yaml:1:1: this file may not be opened")


@pytest.mark.parametrize("shut", ["own", "own/thickness", "own/sources.yaml", "own/thickness/firm_thickness.py"])
def test_rules_that_may_not_be_read_are_no_missing_ones(tmp_path: Path, shut: str) -> None:
    put(tmp_path, pad=SOUND)
    put_rule(tmp_path / "own")
    (tmp_path / "own" / "sources.yaml").write_text("", encoding="utf-8")
    (tmp_path / shut).chmod(0)
    with nobody_special():
        done = run("review", "pad.slab.yaml", "--rules", "own", *JOINTS, cwd=tmp_path, code=2)
    assert f"{shut}:1:1: this f" in done.stderr


def test_a_firm_file_of_which_nobody_may_know_is_no_missing_one(tmp_path: Path) -> None:
    (path,) = put(tmp_path / "shut" / "jobs", pad=SOUND)
    wrong = r"shut/.*/?\.slabwright\.yaml:1:1: this file may not be opened"
    with chdir(path.parent), nobody_special():
        (tmp_path / "shut").chmod(0)
        try:
            with pytest.raises(UnreadableError, match=wrong):
                house_of(Path("pad.slab.yaml"))
        finally:
            (tmp_path / "shut").chmod(0o700)


@pytest.mark.parametrize(
    ("texts", "code"),
    [
        ({"one": SOUND, "two": SOUND}, 0),
        ({"one": SOUND, "two": OBLONG}, 0),
        ({"one": SOUND, "two": LONG}, 1),
        ({"one": LONG, "two": BROKEN, "three": SOUND}, 2),
    ],
)
def test_exit_status_is_that_of_the_worst(tmp_path: Path, texts: dict[str, str], code: int) -> None:
    put(tmp_path, **texts)
    run("review", ".", *JOINTS, cwd=tmp_path, code=code)


def test_strict_counts_cautions_of_any_design(tmp_path: Path) -> None:
    put(tmp_path, one=SOUND, two=OBLONG)
    run("review", ".", *JOINTS, "--strict", cwd=tmp_path, code=1)


def test_one_broken_file_hides_no_other(tmp_path: Path) -> None:
    put(tmp_path, a=LONG, b=BROKEN, c=LONG, d=SOUND)
    done = run("review", ".", *JOINTS, cwd=tmp_path, code=2)
    assert names(done.stdout) == ["a.slab.yaml", "c.slab.yaml"]
    assert done.stderr.startswith('b.slab.yaml:7:21: "design: 4" has no unit\n')
    summary = done.stdout[done.stdout.index("SUMMARY (4 designs)") :]
    rows = [line.split() for line in summary.splitlines()[3:7]]
    assert [row[0] for row in rows] == ["hold", "unreadable", "hold", "met"]
    assert rows[1] == ["unreadable", "-", "-", "-", "-", "b.slab.yaml"]
    assert summary.splitlines()[-1] == "1 not readable, 2 with a hold, 1 without a comment"


def test_output_is_the_same_with_any_number_of_jobs(tmp_path: Path) -> None:
    texts = [LONG, SOUND, BROKEN, OBLONG]
    put(tmp_path, **{f"job{number:02d}": texts[number % 4] for number in range(40)})
    one, two, five = (
        run_apart("review", ".", *JOINTS, "--jobs", jobs, cwd=tmp_path, code=2) for jobs in ("1", "2", "5")
    )
    assert one.stdout == two.stdout == five.stdout
    assert one.stderr == two.stderr == five.stderr
    assert names(one.stdout) == [f"job{number:02d}.slab.yaml" for number in range(40) if number % 4 in (0, 3)]


@pytest.mark.parametrize("jobs", ["0", "-1", "two", "1.5"])
def test_jobs_that_are_no_number(tmp_path: Path, jobs: str) -> None:
    put(tmp_path, a=SOUND)
    assert "is no number of jobs" in run("review", ".", f"--jobs={jobs}", cwd=tmp_path, code=2).stderr


def test_a_firm_file_that_cannot_be_read_is_told_once(tmp_path: Path) -> None:
    put(tmp_path, a=SOUND, b=SOUND, c=SOUND)
    (tmp_path / ".slabwright.yaml").write_text("strickt: true\n", encoding="utf-8")
    done = run("review", ".", cwd=tmp_path, code=2)
    assert done.stderr.count('"strickt" is not a key known here') == 1
    assert "3 not judged" in done.stdout


def test_each_design_has_its_own_firm_file(tmp_path: Path) -> None:
    put(tmp_path / "strict", a=OBLONG)
    put(tmp_path / "easy", a=OBLONG)
    (tmp_path / "strict" / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    run("review", "easy", *JOINTS, cwd=tmp_path, code=0)
    run("review", "easy", "strict", *JOINTS, cwd=tmp_path, code=1)


def test_designs_judged_at_once_come_out_as_each_alone(tmp_path: Path) -> None:
    """Three firms in turn, a file that cannot be read among theirs: each design under its own limits."""
    amended = (
        "format: 1\nlayer: firm\nname: Short panels\namendments:\n"
        "  - {rule: panel-spacing, limit: thicknesses_at_most, value: 18, citation: our own, reason: short panels}\n"
    )
    for firm in ("wide", "short", "strict"):
        put(tmp_path / firm, a=OBLONG, b=BROKEN, c=LONG, d=SOUND)
    (tmp_path / "short" / "short.yaml").write_text(amended, encoding="utf-8")
    (tmp_path / "short" / ".slabwright.yaml").write_text("amendments: [short.yaml]\n", encoding="utf-8")
    (tmp_path / "strict" / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    paths = many_files.designs([str(tmp_path / firm) for firm in ("wide", "short", "strict")])
    asked = many_files.Asked(reviewing.Settings(only="joints"), sheet=True, data=True, sarif=True)
    at_once = list(many_files.outcomes(paths, asked))
    assert at_once == [next(many_files.outcomes([path], asked)) for path in paths]
    assert [one.status for one in at_once] == [0, 2, 1, 0, 1, 2, 1, 1, 1, 2, 1, 0]


def test_designs_judged_are_freed_without_a_look_for_cycles(tmp_path: Path) -> None:
    """Memory of a run over many stays that of the few judged at once, also beside a file that cannot be read."""
    paths = put(tmp_path, sound=LONG, broken=BROKEN)
    judged = reviewing.judge_each(paths, reviewing.Settings(), advise=True)  # what is loaded once stays
    gc.collect()
    gc.disable()
    try:
        judged = reviewing.judge_each(paths, reviewing.Settings(), advise=True)
        assert isinstance(judged[0], reviewing.Judged) and isinstance(judged[1], UnreadableError)
        plan = weakref.ref(judged[0].plan)
        del judged
        assert plan() is None
        assert gc.collect() == 0
    finally:
        gc.enable()


def test_designs_judged_at_once_are_few_and_small(tmp_path: Path) -> None:
    paths = put(tmp_path, **{f"job{number:02d}": SOUND for number in range(2 * many_files.AT_ONCE + 1)})
    big = SOUND + "# a long remark\n" * (many_files.BYTES_AT_ONCE // 16)
    paths[3:3] = put(tmp_path, big=big)
    sizes = [len(some) for some in many_files.at_once(paths)]
    assert sizes == [3, 1, many_files.AT_ONCE, many_files.AT_ONCE - 2]
    gone = tmp_path / "gone.slab.yaml"
    assert list(many_files.at_once([gone])) == [[gone]]


# --- JSON ---


def registry() -> Registry[object]:
    schemas = [
        json.loads((locate.folder("schemas") / f"{name}.schema.json").read_text(encoding="utf-8"))
        for name in ("report", "reviews")
    ]
    return Registry().with_resources([(schema["$id"], Resource.from_contents(schema)) for schema in schemas])


def test_json_of_several_files_is_one_list_by_its_schema(tmp_path: Path) -> None:
    put(tmp_path, a=LONG, b=BROKEN, c=SOUND)
    done = run("review", ".", "--json", *JOINTS, cwd=tmp_path, code=2)
    data = json.loads(done.stdout)
    assert [(one["file"], one["verdict"]) for one in data] == [
        ("a.slab.yaml", "hold"),
        ("b.slab.yaml", "unreadable"),
        ("c.slab.yaml", "met"),
    ]
    assert [one["report"] for one in data] == [1, 1, 1]
    place = data[1]["problems"][0]["place"]
    assert (place["file"], place["line"], place["column"]) == ("b.slab.yaml", 7, 21)
    schema = json.loads((locate.folder("schemas") / "reviews.schema.json").read_text(encoding="utf-8"))
    validator = jsonschema.Draft202012Validator(schema, registry=registry())
    assert [error.message for error in validator.iter_errors(data)] == []
    data[1]["verdict"] = "hold"
    assert list(validator.iter_errors(data))


def test_a_folder_of_one_file_is_a_list_too_and_a_file_alone_is_not(tmp_path: Path) -> None:
    put(tmp_path, a=SOUND)
    listed = json.loads(run("review", ".", "--json", *JOINTS, cwd=tmp_path, code=0).stdout)
    alone = json.loads(run("review", "a.slab.yaml", "--json", *JOINTS, cwd=tmp_path, code=0).stdout)
    assert listed == [alone]


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_advice_is_tried_in_a_folder_as_it_is_for_a_file_alone(tmp_path: Path, form: tuple[str, ...]) -> None:
    """A slab too long for one panel: what holds is told, and what another remedy settles, wherever it is asked."""
    put(tmp_path, a=LONG, b=LONG)
    listed = run("review", ".", *form, *JOINTS, cwd=tmp_path, code=1).stdout
    alone = [run("review", f"{name}.slab.yaml", *form, *JOINTS, cwd=tmp_path, code=1).stdout for name in "ab"]
    if form:
        assert json.loads(listed) == [json.loads(one) for one in alone]
        assert all(one["tried"] for report in json.loads(listed) for one in report["comments"])
    else:
        assert all(one in listed for one in alone)


# --- the sheet to keep ---


def test_the_kept_sheet_is_the_same_everywhere(tmp_path: Path) -> None:
    jobs = tmp_path / "jobs"
    put(jobs, a=LONG, b=BROKEN, c=SOUND)
    run("review", "jobs", "--sheet", "one.txt", *JOINTS, cwd=tmp_path, code=2)
    wide = ("--sheet", tmp_path / "two.txt", "--width", "120")
    run_apart("review", jobs, *wide, *JOINTS, cwd=tmp_path, code=2, TZ="Asia/Tokyo")
    ascii_only = {"PYTHONIOENCODING": "ascii", "LC_ALL": "C"}
    run_apart("review", "./jobs", "--sheet", "three.txt", *JOINTS, cwd=tmp_path, code=2, **ascii_only)
    one, two, three = ((tmp_path / f"{name}.txt").read_bytes() for name in ("one", "two", "three"))
    assert one == two == three
    text = one.decode("utf-8")
    assert str(tmp_path) not in text
    assert names(text) == ["jobs/a.slab.yaml", "jobs/c.slab.yaml"]
    assert "jobs/b.slab.yaml:7:21: " in text
    assert "\x1b" not in text and "\r" not in text
    assert not re.search(r"\d\d:\d\d:\d\d|20(?!26-05-04)\d\d-\d\d-\d\d", text)  # no time, no day but that of the pour
    assert max(len(line) for line in text.splitlines() if "b.slab.yaml" not in line) == 80


def test_a_change_of_the_design_is_a_small_change_of_the_kept_sheet(tmp_path: Path) -> None:
    put(tmp_path, a=LONG)
    run("review", "a.slab.yaml", "--sheet", "before.txt", *JOINTS, cwd=tmp_path, code=1)
    put(tmp_path, a=LONG.replace("4 in", "5 in"))
    run("review", "a.slab.yaml", "--sheet", "after.txt", *JOINTS, cwd=tmp_path, code=1)
    before, after = ((tmp_path / f"{name}.txt").read_text("utf-8").splitlines() for name in ("before", "after"))
    changed = [line for line in after if line not in before]
    assert changed
    assert len(changed) < len(after) / 4


def test_a_sheet_that_cannot_be_written_is_told_and_nothing_is_left(tmp_path: Path) -> None:
    put(tmp_path, a=SOUND)
    done = run("review", "a.slab.yaml", "--sheet", "no/folder.txt", cwd=tmp_path, code=2)
    assert "no/folder.txt:1:1: it cannot be written" in done.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.slab.yaml"]


# --- progress ---


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_goes_to_a_terminal_only_and_leaves_nothing() -> None:
    screen, pipe = Terminal(), io.StringIO()
    assert list(workers.told(iter("abc"), 3, screen)) == ["a", "b", "c"]
    assert "reviewed 2 of 3" in screen.getvalue()
    assert screen.getvalue().endswith("\r\x1b[K")
    list(workers.told(iter("abc"), 3, pipe))
    assert pipe.getvalue() == ""


def test_progress_on_a_real_terminal(tmp_path: Path) -> None:
    put(tmp_path, **{f"job{number}": SOUND for number in range(12)})
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "slabwright", "review", ".", "--jobs", "2"]
    with subprocess.Popen(command, cwd=tmp_path, env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=theirs) as process:
        os.close(theirs)
        assert process.stdout is not None
        out = process.stdout.read()
    assert b"reviewed" in os.read(ours, 100_000)
    os.close(ours)
    assert b"reviewed" not in out


# --- workers ---


def double(paths: Sequence[Path], extra: str) -> Iterator[str]:
    """Stands in for reviews; files of some names end the worker."""
    for path in paths:
        if path.name.startswith("ends"):
            os.kill(os.getpid(), signal.SIGKILL)
        yield f"{path.name}{extra}"


def ready(extra: str) -> None:
    assert extra == "!"


def gone(path: Path, extra: str) -> str:
    return f"lost {path.name}{extra}"


def done_by(paths: list[str], jobs: int) -> list[str]:
    return list(workers.in_order(double, [Path(path) for path in paths], ("!",), jobs, ready, gone))


def test_a_worker_ended_from_outside_loses_its_own_file_only() -> None:
    paths = [f"file{number}" for number in range(30)]
    wanted = [f"{path}!" for path in paths]
    assert done_by(paths, 2) == wanted
    paths[7] = "ends7"
    wanted[7] = "lost ends7!"
    assert done_by(paths, 2) == wanted


def test_workers_need_not_be_forked(tmp_path: Path) -> None:
    put(tmp_path, **{f"job{number}": LONG if number % 2 else BROKEN for number in range(6)})
    code = (
        "import multiprocessing, sys\n"
        "multiprocessing.get_all_start_methods = lambda: ['spawn']\n"
        "from slabwright.cli import main as cli\n"
        "if __name__ == '__main__': sys.exit(cli.main(['review', '.', '--only', 'joints', '--jobs', '2']))\n"
    )
    (tmp_path / "start.py").write_text(code, encoding="utf-8")
    spawned = subprocess.run(
        [sys.executable, "start.py"], cwd=tmp_path, env=ENVIRONMENT, capture_output=True, text=True, check=False
    )
    forked = run_apart("review", ".", *JOINTS, "--jobs", "2", cwd=tmp_path, code=2)
    assert (spawned.returncode, spawned.stdout, spawned.stderr) == (2, forked.stdout, forked.stderr)


@pytest.mark.parametrize("when", ["laid out", "reported", "written"])
def test_a_failure_of_the_program_on_one_file_is_told_and_the_others_stand(
    when: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    module, name = {
        "laid out": (reviewing, "Plan"), "reported": (reviewing.run, "report"), "written": (as_json, "as_json")
    }[when]  # fmt: skip
    real = getattr(module, name)

    def failing(first: Design | Plan | Report, *more: Any, **named: Any) -> Any:
        file = first.design.file if isinstance(first, Plan) else first.file
        if Path(file).name.startswith("bad"):
            raise ZeroDivisionError("division by zero")
        return real(first, *more, **named)

    monkeypatch.setattr(module, name, failing)
    paths = put(tmp_path, bad=SOUND, good=SOUND)
    asked = many_files.Asked(reviewing.Settings(only="joints"), data=True)
    bad, good = many_files.judged(paths, asked, 1)
    assert (bad.status, bad.verdict, good.status) == (3, "failed", 0)
    assert "the program itself failed" in bad.problems[0].wrong
    assert json.loads(bad.data)["verdict"] == "failed"


@pytest.fixture
def started(tmp_path: Path) -> Iterator[subprocess.Popen[str]]:
    """A long review under way with two workers."""
    put(tmp_path, **{f"job{number:04d}": LONG for number in range(3000)})
    command = [sys.executable, "-m", "slabwright", "review", ".", "--jobs", "2", "--sheet", "kept.txt"]
    with subprocess.Popen(
        command, cwd=tmp_path, env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8",
        errors="replace",  # after a first line the rest may begin inside a letter
        start_new_session=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        process.stdout.readline()
        yield process
        process.kill()


def wait_for_none(group: int) -> None:
    for _ in range(100):
        if not members(group):
            return
        time.sleep(0.1)
    raise AssertionError(f"still at work: {members(group)}")


@pytest.mark.parametrize("to_all", [True, False])
def test_ctrl_c_stops_cleanly(started: subprocess.Popen[str], tmp_path: Path, to_all: bool) -> None:
    (os.killpg if to_all else os.kill)(started.pid, signal.SIGINT)
    _, err = started.communicate(timeout=30)
    assert started.returncode == 130
    assert err.strip() == "stopped"
    wait_for_none(started.pid)
    assert not (tmp_path / "kept.txt").exists()


def test_being_told_to_end_ends_the_workers_too(started: subprocess.Popen[str]) -> None:
    os.kill(started.pid, signal.SIGTERM)
    started.communicate(timeout=30)
    wait_for_none(started.pid)


def test_workers_do_not_outlive_a_killed_review(started: subprocess.Popen[str]) -> None:
    os.kill(started.pid, signal.SIGKILL)
    wait_for_none(started.pid)


def test_a_reader_that_has_enough_ends_it_quietly(tmp_path: Path) -> None:
    put(tmp_path, **{f"job{number:03d}": LONG for number in range(200)})
    command = f"{sys.executable} -m slabwright review . --jobs 2 | head -3"
    done = subprocess.run(
        ["bash", "-c", command], cwd=tmp_path, env=ENVIRONMENT, capture_output=True, text=True, check=False
    )
    assert len(done.stdout.splitlines()) == 3
    assert done.stderr == ""
