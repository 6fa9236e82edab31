"""What Windows does otherwise, as far as it can be tried elsewhere: processes started anew, names, consoles, line ends.

Nothing here ran on Windows; docs/systems.md says so.
"""

from __future__ import annotations

import errno
import json
import multiprocessing
import os
import signal
import sys
from pathlib import Path
from typing import Any

import pytest
from repositories import BROKEN, LONG, SOUND, put, run
from slabwright.cli import many_files, workers
from slabwright.review import reviewing, trust
from slabwright.source import locate
from slabwright.text import outputs

JOINTS = ("--only", "joints")
POLISH = "p\u0142yta \u2192"  # letters that cp1252 lacks


def test_processes_start_anew_where_there_is_no_fork_no_signal_mask_and_no_affinity(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paths = put(tmp_path, a=LONG, b=BROKEN, c=SOUND)
    asked = many_files.Asked(reviewing.Settings(only="joints"), sheet=True, data=True)
    here = list(many_files.outcomes(paths, asked))
    monkeypatch.delattr(signal, "pthread_sigmask")
    monkeypatch.delattr(os, "sched_getaffinity")
    monkeypatch.setattr(multiprocessing, "get_all_start_methods", lambda: ["spawn"])
    assert workers.cores() >= 1
    assert list(many_files.judged(paths, asked, jobs=2)) == here


# What Windows lacks is taken away once the standard library is loaded, which has halves of its own for it.
WITHOUT = """\
import multiprocessing.popen_spawn_posix, multiprocessing.resource_tracker, os, runpy, signal, subprocess, sys, tempfile
for name in ("fcntl", "pwd", "grp", "resource", "termios", "tty"):
    sys.modules[name] = None
for module, names in (
    (os, "fork geteuid getuid mkfifo sched_getaffinity setsid killpg chown fchmod O_NOFOLLOW O_DIRECTORY O_NONBLOCK"),
    (signal, "setitimer alarm SIGALRM SIGHUP SIGUSR1 SIGPIPE pause"),
):
    for name in names.split():
        delattr(module, name)
multiprocessing.get_all_start_methods = lambda: ["spawn"]
if __name__ == "__main__":
    from slabwright.cli.main import main
    sys.exit(main(sys.argv[1:]))
"""


def test_a_folder_is_reviewed_without_what_posix_alone_has(tmp_path: Path) -> None:
    """Read, worked on two processes, drawn and written, and the firm file looked at for its owner."""
    import subprocess

    from repositories import ENVIRONMENT

    (tmp_path / "without.py").write_text(WITHOUT, encoding="utf-8")
    put(tmp_path, a=LONG, b=BROKEN, c=SOUND)
    (tmp_path / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    command = ("review", ".", "--jobs", "2", "--page", "pages", "--sarif", "all.sarif")
    done, usual = (
        subprocess.run([sys.executable, *way, *command], cwd=tmp_path, capture_output=True, timeout=120,
                       env=dict(ENVIRONMENT), check=False)
        for way in (("without.py",), ("-m", "slabwright"))
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (2, usual.stdout, usual.stderr)
    assert (tmp_path / "pages" / "index.html").is_file() and (tmp_path / "all.sarif").is_file()


def test_no_more_processes_than_windows_waits_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    counts: list[int] = []

    def noted(work: Any, chunks: Any, extra: Any, count: int) -> Any:
        counts.append(count)
        return iter(())

    monkeypatch.setattr(workers, "_chunks_in_order", noted)
    for platform in ("win32", "linux"):
        monkeypatch.setattr(sys, "platform", platform)
        list(workers.in_order(iter, list(range(200)), (), 200, lambda: None, lambda one: one))  # type: ignore[arg-type]
    assert counts == [60, 200]


@pytest.mark.parametrize(
    "name", ["NUL", "con.txt", "Aux.sarif", "lpt1.log", "shots.csv ", "pad.slab.yaml::$DATA", "x."]
)
def test_names_that_windows_takes_otherwise_are_refused_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    put(tmp_path, pad=SOUND)
    monkeypatch.setattr(outputs, "WINDOWS", True)
    done = run("review", "pad.slab.yaml", "--sheet", name, cwd=tmp_path, code=2)
    assert "Windows" in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["pad.slab.yaml"]


def test_a_file_that_another_program_has_open_is_told_and_nothing_hidden_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(tmp_path, pad=LONG)
    (tmp_path / "kept.txt").write_text("as it was\n", encoding="utf-8")

    def locked(self: Path, target: Path) -> Path:
        raise PermissionError(
            errno.EACCES, "The process cannot access the file because it is being used by another process"
        )

    monkeypatch.setattr(Path, "replace", locked)
    done = run("review", "pad.slab.yaml", "--sheet", "kept.txt", *JOINTS, cwd=tmp_path, code=2)
    assert "kept.txt:1:1: it cannot be written: The process cannot access" in " ".join(done.stderr.split())
    run("review", "pad.slab.yaml", "--put-right", "new.slab.yaml", *JOINTS, cwd=tmp_path, code=2)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["kept.txt", "pad.slab.yaml"]
    assert (tmp_path / "kept.txt").read_text(encoding="utf-8") == "as it was\n"


def test_a_reader_that_left_is_known_by_what_windows_says(monkeypatch: pytest.MonkeyPatch) -> None:
    read, write = os.pipe()
    os.close(read)
    monkeypatch.setattr(outputs, "WINDOWS", True)
    with outputs.Pipe(write, "wb") as pipe:
        monkeypatch.setattr(outputs, "_nobody_reads", lambda error: outputs.WINDOWS)
        assert pipe.write(b"some") == 4 and pipe.gone
    monkeypatch.undo()
    gone = OSError(errno.EINVAL, "Invalid argument")
    assert not outputs._nobody_reads(gone) and outputs._nobody_reads(BrokenPipeError())
    monkeypatch.setattr(outputs, "WINDOWS", True)
    assert outputs._nobody_reads(gone) and not outputs._nobody_reads(OSError(errno.ENOSPC, "full"))


def test_a_console_of_few_letters_ends_nothing(tmp_path: Path) -> None:
    """cp1252, strict, as Windows writes into a pipe; files and data stay UTF-8."""
    put(tmp_path, **{POLISH: LONG.replace("Bin store", POLISH)})
    console = {"PYTHONUTF8": "0", "PYTHONIOENCODING": "cp1252:strict", "LC_ALL": "C.UTF-8"}
    file = f"{POLISH}.slab.yaml"
    for command, code in (
        (("review", file, "--full"), 1), (("review", ".", "--page", f"pages {POLISH}"), 1),
        (("draw", file, "--out", f"{POLISH}.svg"), 0), (("review", f"no {file}"), 2),
    ):  # fmt: skip
        child = run_apart_bytes(*command, cwd=tmp_path, code=code, **console)
        child.decode("cp1252")
    data = json.loads(run_apart_bytes("review", file, "--json", cwd=tmp_path, code=1, **console).decode("utf-8"))
    assert (data["file"], data["job"]) == (file, POLISH)
    assert (tmp_path / f"pages {POLISH}" / f"{POLISH}.html").is_file()


def run_apart_bytes(*arguments: str, cwd: Path, code: int, **environment: str) -> bytes:
    import subprocess

    from repositories import ENVIRONMENT

    done = subprocess.run([sys.executable, "-m", "slabwright", *arguments], capture_output=True, cwd=cwd, timeout=120,
                          env={**ENVIRONMENT, **environment}, check=False)  # fmt: skip
    assert done.returncode == code, done.stdout + done.stderr
    assert b"Traceback" not in done.stderr and b"program itself" not in done.stderr
    return done.stdout


def test_files_with_the_line_ends_of_windows_read_the_same(tmp_path: Path) -> None:
    jobs = locate.folder("example_designs") / "jobs"
    texts = {name: (jobs / name).read_text(encoding="utf-8")
             for name in ("garden_patio.slab.yaml", "garden_patio_base.csv")}  # fmt: skip
    texts["town.yaml"] = (jobs.parent / "amendments" / "frost_country_town.yaml").read_text(encoding="utf-8")
    texts[".slabwright.yaml"] = "amendments: [town.yaml]\nstrict: true\n"
    reports = []
    for name, end in (("unix", "\n"), ("windows", "\r\n")):
        (tmp_path / name).mkdir()
        for file, text in texts.items():
            (tmp_path / name / file).write_bytes(text.replace("\n", end).encode("utf-8"))
        sarif = run("review", "garden_patio.slab.yaml", "--sarif", "-", cwd=tmp_path / name, code=1).stdout
        put_right = run("review", "garden_patio.slab.yaml", "--put-right", "-", cwd=tmp_path / name, code=1).stdout
        reports.append((sarif, put_right.replace(end, "\n")))
    assert reports[0] == reports[1]


def test_what_to_write_is_quoted_as_the_shell_there_reads_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trust, "WINDOWS", True)
    assert trust.quoted(r"C:\jobs") == r"C:\jobs"
    assert trust.quoted(r"C:\boat bay & co") == r'"C:\boat bay & co"'
