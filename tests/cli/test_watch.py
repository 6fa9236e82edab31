"""Reviewing again at every save, with the real watcher, and a clean end."""

from __future__ import annotations

import os
import queue
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from repositories import BROKEN, ENVIRONMENT, LONG, SOUND, put, put_rule, run, run_apart
from slabwright.cli import watching
from slabwright.review.reviewing import Settings

READY = "watching for the next save; Ctrl-C ends it"


class Watched:
    """A review that watches, and the lines it writes on both streams, in order."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        command = [sys.executable, "-u", "-m", "slabwright", "review", *arguments, "--watch", "--only", "joints"]
        self.process = subprocess.Popen(
            command, cwd=folder, env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        )
        self.lines: queue.Queue[str] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.lines.put(line)

    def review(self) -> str:
        """All that comes up to the next pause."""
        found: list[str] = []
        while not found or READY not in found[-1]:
            found.append(self.lines.get(timeout=60))
        time.sleep(1.0)  # until the watcher has its eye on the folder again
        return "".join(found)


@pytest.fixture
def watched(tmp_path: Path) -> Iterator[Watched]:
    put(tmp_path, pad=SOUND)
    one = Watched(tmp_path, "pad.slab.yaml")
    yield one
    one.process.kill()
    one.process.communicate()


def test_a_save_is_reviewed_and_ctrl_c_ends_it_cleanly(watched: Watched, tmp_path: Path) -> None:
    assert "no comments" in watched.review()
    put(tmp_path, pad=LONG)
    assert "settle before concrete is ordered" in watched.review()
    put(tmp_path, pad=BROKEN)
    assert "pad.slab.yaml:7:21: " in watched.review()
    scratch = tmp_path / "pad.slab.yaml~"
    scratch.write_text(SOUND, encoding="utf-8")
    scratch.replace(tmp_path / "pad.slab.yaml")  # as editors save
    assert "no comments" in watched.review()
    watched.process.send_signal(signal.SIGINT)
    assert watched.process.wait(timeout=30) == 0
    rest = "".join(watched.lines.get(timeout=5) for _ in range(2))
    assert rest.strip() == "no longer watching"


def test_a_firm_file_that_is_saved_counts_at_once(watched: Watched, tmp_path: Path) -> None:
    watched.review()
    (tmp_path / "notes.txt").write_text("not of this\n", encoding="utf-8")
    (tmp_path / ".slabwright.yaml").write_text("strickt: true\n", encoding="utf-8")
    assert '"strickt" is not a key known here' in watched.review()
    assert watched.lines.empty()


def test_the_folders_looked_at_are_those_the_review_rests_on(tmp_path: Path) -> None:
    put(tmp_path / "jobs", pad=SOUND)
    (path,) = put(tmp_path / "jobs", shot=f"{SOUND}heights: {{base: shots/base.csv}}\n")
    for name in ("jobs/shots", "rules", "town"):
        (tmp_path / name).mkdir()
    (tmp_path / "town" / "town.yaml").write_text("", encoding="utf-8")
    (tmp_path / ".slabwright.yaml").write_text("amendments: [town/town.yaml]\n", encoding="utf-8")
    flat, deep = watching.folders([str(path)], Settings(rules=tmp_path / "rules"))
    assert {str(one.relative_to(tmp_path)) for one in flat} == {"jobs", "jobs/shots", ".", "town"}
    assert {str(one.relative_to(tmp_path)) for one in deep} == {"rules"}
    assert watching.folders([str(tmp_path / "jobs")], Settings())[1] == {tmp_path / "jobs"}


def test_only_folders_of_the_design_are_looked_at_for_its_readings(tmp_path: Path) -> None:
    for name in ("jobs/shots", "private"):
        (tmp_path / name).mkdir(parents=True)
    named = "\n".join(f"# {one}" for one in ("shots/a.csv", "../private/b.csv", "/c.csv", f"{tmp_path}/private/d.csv"))
    (path,) = put(tmp_path / "jobs", pad=f"{SOUND}{named}\n")
    flat, _ = watching.folders([str(path)], Settings())
    assert flat == {tmp_path / "jobs", tmp_path / "jobs" / "shots"}


def test_a_pipe_is_not_opened_to_look_for_readings(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.slab.yaml")
    found: list[set[Path]] = []
    looking = threading.Thread(
        target=lambda: found.append(watching.folders([str(tmp_path / "pipe.slab.yaml")], Settings())[0]), daemon=True
    )
    looking.start()
    looking.join(5)
    assert found == [{tmp_path}]


def test_every_review_keeps_the_guards(watched: Watched, tmp_path: Path) -> None:
    """A firm file that names rules, saved while it is watched, runs nothing that nobody asked for."""
    watched.review()
    put_rule(tmp_path / "own", tmp_path / "ran")
    (tmp_path / ".slabwright.yaml").write_text("rules: own\n", encoding="utf-8")
    told = watched.review()
    while "nobody has said" not in told:  # the rule may have been noticed first
        told = watched.review()
    assert not (tmp_path / "ran").exists()


def test_an_output_that_became_a_link_is_not_written_through(tmp_path: Path) -> None:
    put(tmp_path, pad=SOUND)
    (tmp_path / "kept").write_text("kept\n", encoding="utf-8")
    one = Watched(tmp_path, "pad.slab.yaml", "--sheet", "out.txt")
    try:
        one.review()
        (tmp_path / "out.txt").unlink()
        (tmp_path / "out.txt").symlink_to("kept")
        put(tmp_path, pad=LONG)
        assert "this is a link, and nothing is written through one" in one.review()
    finally:
        one.process.kill()
        one.process.communicate()
    assert (tmp_path / "kept").read_text(encoding="utf-8") == "kept\n"


def test_it_ends_when_its_reader_has_left(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "slabwright", "review", "pad.slab.yaml", "--watch", "--only", "joints"]
    done = subprocess.run(command, cwd=tmp_path, env=ENVIRONMENT, stdout=writing, stderr=subprocess.DEVNULL, timeout=60)
    os.close(writing)
    assert done.returncode == 1


def test_it_ends_at_the_save_after_its_reader_has_left(tmp_path: Path) -> None:
    put(tmp_path, pad=SOUND)
    command = [sys.executable, "-u", "-m", "slabwright", "review", "pad.slab.yaml", "--watch", "--only", "joints"]
    with subprocess.Popen(
        command, cwd=tmp_path, env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None and process.stderr is not None
        assert READY in process.stderr.readline()
        process.stdout.close()
        time.sleep(1.0)
        put(tmp_path, pad=LONG)
        try:
            assert process.wait(timeout=60) == 1
        finally:
            process.kill()


def test_a_trusted_rule_that_is_saved_asks_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(ENVIRONMENT, "XDG_CONFIG_HOME", str(tmp_path / "config"))
    put(tmp_path / "jobs", pad=SOUND)
    put_rule(tmp_path / "jobs" / "own")
    (tmp_path / "jobs" / ".slabwright.yaml").write_text("rules: own\n", encoding="utf-8")
    run_apart("trust", "jobs", cwd=tmp_path, code=0)
    one = Watched(tmp_path, "jobs")
    try:
        assert "nobody has said" not in one.review()
        put_rule(tmp_path / "jobs" / "own", tmp_path / "ran")
        assert "have changed since somebody said that they may run" in one.review()
    finally:
        one.process.kill()
        one.process.communicate()
    assert not (tmp_path / "ran").exists()


def test_without_the_package_it_is_told_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    put(tmp_path, pad=SOUND)
    monkeypatch.setitem(sys.modules, "watchfiles", None)
    done = run("review", "pad.slab.yaml", "--watch", cwd=tmp_path, code=2)
    assert "pip install 'slabwright[watch]'" in done.stderr


def test_a_review_that_does_not_watch_does_not_load_the_watcher(tmp_path: Path) -> None:
    put(tmp_path, pad=SOUND)
    code = (
        "import sys; from slabwright.cli import main as cli; cli.main(['review', 'pad.slab.yaml'])\n"
        "print('watchfiles' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=ENVIRONMENT, capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "False"
