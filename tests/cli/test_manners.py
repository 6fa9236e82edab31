"""Manners of the command line: - in and out, color, completion, brief data, a folder of pages, being ended."""

from __future__ import annotations

import csv
import html
import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from referencing import Registry, Resource
from repositories import BROKEN, ENVIRONMENT, LONG, OBLONG, SOUND, members, put, run
from slabwright.source import locate

JOINTS = ("--only", "joints")


@pytest.fixture
def piped(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Pipe a text into the next commands."""

    def pipe(text: str) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8"))

    return pipe


def test_a_design_is_read_from_standard_input_by_every_command(tmp_path: Path, piped: Any) -> None:
    put(tmp_path, pad=LONG)
    named = run("review", "pad.slab.yaml", *JOINTS, "--json", cwd=tmp_path, code=1).stdout
    piped(LONG)
    assert run("review", "-", *JOINTS, "--json", cwd=tmp_path, code=1).stdout == named.replace("pad.slab.yaml", "-")
    for command in ("order", "stake", "card", "draw"):
        piped(LONG)
        out = run(command, "-", *(() if command == "draw" else ("--json",)), cwd=tmp_path, code=0).stdout
        assert out.startswith(("{", "<svg", "<?xml"))
    piped(BROKEN)
    told = run("review", "-", cwd=tmp_path, code=2).stderr
    assert told.startswith('-:7:21: "design: 4" has no unit\n    thickness: {design: 4}\n')
    (tmp_path / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    piped(OBLONG)
    run("review", "-", *JOINTS, cwd=tmp_path, code=1)  # the firm file of the working folder holds


def test_every_output_goes_to_standard_output_alone(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    for options, file in (
        (("review", "pad.slab.yaml", "--sheet"), "kept.txt"),
        (("review", "pad.slab.yaml", "--page"), "kept.html"),
        (("review", "pad.slab.yaml", "--sarif"), "kept.sarif"),
        (("review", "pad.slab.yaml", "--put-right"), "kept.slab.yaml"),
        (("draw", "pad.slab.yaml", "--out"), "kept.svg"),
        (("order", "pad.slab.yaml", "--page"), "kept_order.html"),
        (("begin", "--use", "patio", "--size", "12 ft x 16 ft", "--out"), "begun.slab.yaml"),
    ):
        code = 1 if options[0] == "review" else 0
        run(*options, file, cwd=tmp_path, code=code)
        kept = (tmp_path / file).read_text(encoding="utf-8")
        assert run(*options, "-", cwd=tmp_path, code=code).stdout == kept
    assert not (tmp_path / "-").exists()


def test_standard_input_and_output_are_for_one_thing(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    for options in (("-", "-"), ("-", "pad.slab.yaml"), ("-", "--amendments", "-"), ("-", "--watch")):
        assert "standard input" in run("review", *options, cwd=tmp_path, code=2).stderr
    for options in (("--sheet", "-", "--sarif", "-"), ("--json", "--page", "-")):
        assert "standard output" in run("review", "pad.slab.yaml", *options, cwd=tmp_path, code=2).stderr


@pytest.mark.parametrize(
    ("option", "variables", "colored"),
    [
        ("always", {}, True), ("always", {"NO_COLOR": "1"}, True), ("never", {"FORCE_COLOR": "1"}, False),
        ("auto", {}, False), ("auto", {"FORCE_COLOR": "1"}, True), ("auto", {"FORCE_COLOR": "0"}, False),
        ("auto", {"FORCE_COLOR": "1", "NO_COLOR": "1"}, False), ("auto", {"FORCE_COLOR": "1", "TERM": "dumb"}, True),
    ],
)  # fmt: skip
def test_color_is_as_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, option: str, variables: dict[str, str], colored: bool
) -> None:
    put(tmp_path, pad=LONG)
    for name in ("NO_COLOR", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    out = run("review", "pad.slab.yaml", "--brief", *JOINTS, "--color", option, cwd=tmp_path, code=1).stdout
    assert ("\x1b[" in out) == colored
    assert re.sub(r"\x1b\[[0-9;]*m", "", out).startswith("pad.slab.yaml: ")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_script_of_a_shell_is_printed_and_read_by_it(tmp_path: Path, shell: str) -> None:
    script = run("completion", shell, cwd=tmp_path, code=0).stdout
    assert "slabwright" in script and str(Path(sys.prefix)) not in script and "register-python" not in script
    if found := shutil.which(shell):
        assert subprocess.run([found, "-n", "/dev/stdin"], input=script, text=True, check=False).returncode == 0


def test_only_says_that_numbers_are_those_of_the_whole_review(tmp_path: Path) -> None:
    put(tmp_path, pad=LONG)
    whole = json.loads(run("review", "pad.slab.yaml", "--json", cwd=tmp_path, code=1).stdout)["comments"]
    part = json.loads(run("review", "pad.slab.yaml", "--json", *JOINTS, cwd=tmp_path, code=1).stdout)["comments"]
    number = {one["rule"]: one["number"] for one in whole}
    assert part and all(one["number"] == number[one["rule"]] for one in part)
    sheet = run("review", "pad.slab.yaml", *JOINTS, cwd=tmp_path, code=1).stdout
    assert "numbers are those of the whole review" in " ".join(sheet.split())


def test_brief_data_keep_to_their_schema(tmp_path: Path) -> None:
    put(tmp_path, a=LONG, b=BROKEN, c=SOUND)
    whole = run("review", ".", "--json", cwd=tmp_path, code=2).stdout
    brief = run("review", ".", "--json", "--brief", cwd=tmp_path, code=2).stdout
    assert len(brief) < len(whole) / 5
    schemas = [json.loads(path.read_text(encoding="utf-8")) for path in locate.folder("schemas").glob("*.json")]
    registry = Registry().with_resources((one["$id"], Resource.from_contents(one)) for one in schemas if "$id" in one)
    schema = next(one for one in schemas if one["$id"] == "urn:slabwright:brief:1")
    jsonschema.Draft202012Validator(schema, registry=registry).validate(json.loads(brief))
    first, same = json.loads(brief)[0], json.loads(whole)[0]
    assert [(one["number"], one["says"]) for one in first["comments"]] == [
        (one["number"], one["says"]) for one in same["comments"]
    ]
    assert (
        json.loads(run("review", "a.slab.yaml", "--json", "--brief", cwd=tmp_path, code=1).stdout)["job"] == "Bin store"
    )


def test_the_table_is_given_as_csv(tmp_path: Path) -> None:
    put(tmp_path, **{"=b": LONG, "a, with comma": BROKEN, "c": SOUND})
    rows = list(csv.DictReader(io.StringIO(run("review", ".", *JOINTS, "--csv", cwd=tmp_path, code=2).stdout)))
    assert [(row["file"], row["verdict"], row["holds"]) for row in rows] == [
        ("'=b.slab.yaml", "hold", "2"), ("a, with comma.slab.yaml", "unreadable", ""), ("c.slab.yaml", "met", "0"),
    ]  # fmt: skip


def test_a_folder_gets_a_page_for_each_job_and_an_index_worst_first(tmp_path: Path) -> None:
    put(tmp_path / "jobs" / "b #2", index=SOUND, long=LONG.replace("Bin", "<b>Bin"))
    put(tmp_path / "jobs", odd=OBLONG, bad=BROKEN)
    run("review", "jobs", *JOINTS, "--page", "pages", cwd=tmp_path, code=2)
    text = (tmp_path / "pages" / "index.html").read_text(encoding="utf-8")
    assert re.findall(r'<tr class="(\w+)">', text) == ["unjudged", "hold", "caution", "met"]
    links = [html.unescape(link) for link in re.findall(r'href="([^"]+)"', text)]
    assert links == ["jobs/b%20%232/long.html", "jobs/odd.html", "jobs/b%20%232/index.html"]
    for name in ("jobs/b #2/long.html", "jobs/odd.html", "jobs/b #2/index.html"):
        assert (tmp_path / "pages" / name).read_text(encoding="utf-8").startswith("<!doctype html>")
    assert "<b>" not in text and "&lt;b&gt;Bin" in text
    assert not re.search(r"(?:src|href)=.https?:", text)
    (tmp_path / "elsewhere").mkdir()
    shutil.rmtree(tmp_path / "pages" / "jobs")
    (tmp_path / "pages" / "jobs").symlink_to(tmp_path / "elsewhere")
    for folder in ("pages", str(tmp_path / "pages")):
        done = run("review", "jobs", *JOINTS, "--page", folder, cwd=tmp_path, code=2)
        assert "is a link" in done.stderr and "nothing is written through one" in " ".join(done.stderr.split())
    assert list((tmp_path / "elsewhere").iterdir()) == []


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_review_that_is_ended_writes_nothing_half(tmp_path: Path, number: signal.Signals) -> None:
    put(tmp_path, **{f"job{at:03}": LONG for at in range(150)})
    options = ("--json", "--sheet", "kept.txt", "--sarif", "kept.sarif", "--jobs", "2")
    with (tmp_path / "out.json").open("w") as out:
        command = subprocess.Popen(
            [sys.executable, "-m", "slabwright", "review", ".", *options], cwd=tmp_path, env=ENVIRONMENT, stdout=out,
            stderr=subprocess.PIPE, text=True, start_new_session=True,
        )  # fmt: skip
        while len(members(command.pid)) < 3:  # the review and its two workers
            assert command.poll() is None, "the review was over before it could be ended"
            time.sleep(0.05)
        os.kill(command.pid, number)
        _, told = command.communicate(timeout=60)
    assert (command.returncode, told.strip()) == (130, "stopped")
    assert (tmp_path / "out.json").read_text(encoding="utf-8") == ""
    assert not [path.name for path in tmp_path.iterdir() if path.name.startswith(("kept", ".slab"))]
    with pytest.raises(ProcessLookupError):
        os.killpg(command.pid, 0)  # no worker is left
