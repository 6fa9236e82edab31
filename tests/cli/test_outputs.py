"""What may be written, and over what: no output eats a design, follows a link, or is left half written."""

from __future__ import annotations

import errno
import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest
from repositories import ENVIRONMENT, LONG, SOUND, put, put_rule, run
from slabwright.source.problem import UnreadableError
from slabwright.text import outputs

TOWN = "format: 1\nlayer: town\nname: Ferncliff\namendments: []\n"
PAGES = {"--page": ".html", "--out": ".svg"}


def unchanged(folder: Path) -> dict[str, bytes]:
    """Every file below a folder and what is in it, hidden ones too."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def refused(folder: Path, *arguments: str | Path, wrong: str) -> None:
    """A command that is refused with these words, names the file, and changes nothing."""
    before = unchanged(folder)
    done = run(*arguments, cwd=folder, code=2)
    assert done.stdout == ""
    assert wrong in " ".join(done.stderr.split())
    assert "write: " in done.stderr
    assert unchanged(folder) == before


@pytest.mark.parametrize("option", ["--sarif", "--sheet"])
def test_a_star_does_not_eat_a_design(tmp_path: Path, option: str) -> None:
    """``--sarif *.slab.yaml``: the shell hands the first design to the option."""
    put(tmp_path, a=LONG, b=SOUND)
    refused(tmp_path, "review", option, "a.slab.yaml", "b.slab.yaml", wrong="none is written over")
    refused(tmp_path, "review", option, "new.slab.yaml", "b.slab.yaml", wrong="none is written over")


@pytest.mark.parametrize("option", ["--sarif", "--sheet"])
@pytest.mark.parametrize("name", ["A.SLAB.YAML", "town.yml", ".slabwright.yaml", ".SLABWRIGHT.yaml", "s.csv", "r.py"])
def test_no_output_has_the_name_of_what_is_read(tmp_path: Path, option: str, name: str) -> None:
    put(tmp_path, pad=SOUND)
    wrong = "this is the name of a firm file" if "wright" in name.lower() else "none is written over"
    refused(tmp_path, "review", "pad.slab.yaml", option, name, wrong=wrong)


@pytest.mark.parametrize("option", ["--sarif", "--sheet"])
def test_a_design_of_another_name_is_known_by_what_it_says(tmp_path: Path, option: str) -> None:
    put(tmp_path, pad=SOUND)
    for name, text in (
        ("drive.txt", SOUND),
        ("remarked", f"# our drive\n\n{SOUND}"),
        ("mark.txt", "\ufeff" + SOUND),
        ("json", '{\n  "format": 1, "use": "patio"}'),
        ("town", TOWN),
    ):
        (tmp_path / name).write_text(text, encoding="utf-8")
        refused(tmp_path, "review", "pad.slab.yaml", option, name, wrong="a design, or local amendments, stand in")


def test_what_was_written_before_is_written_over(tmp_path: Path) -> None:
    put(tmp_path, pad=SOUND.replace("format: 1", "format: 2"))  # its sheet quotes that line
    ways = ("--sheet", "kept.txt", "--sarif", "kept.sarif")
    for _ in range(2):
        run("review", "pad.slab.yaml", *ways, cwd=tmp_path, code=2)
    put(tmp_path, pad=SOUND)
    for _ in range(2):
        run("review", "pad.slab.yaml", *ways, "--page", "p.html", "--only", "joints", cwd=tmp_path, code=0)
        run("draw", "pad.slab.yaml", "--out", "p.svg", cwd=tmp_path, code=0)
        for command in ("order", "stake", "card"):
            run(command, "pad.slab.yaml", "--page", f"{command}.html", cwd=tmp_path, code=0)


def another_way(text: str) -> str:
    """The same text to YAML, in which no line says ``format: 1``."""
    return text.replace("format: 1\n", "? format\n: 1\n")


@pytest.mark.parametrize("name", ["pad", "hard", "town", "house"])
@pytest.mark.parametrize("option", ["--sheet", "--sarif"])
def test_no_output_is_an_input(tmp_path: Path, name: str, option: str) -> None:
    (tmp_path / "pad").write_text(another_way(SOUND), encoding="utf-8")
    os.link(tmp_path / "pad", tmp_path / "hard")
    for other in ("town", "house"):
        (tmp_path / other).write_text(another_way(TOWN), encoding="utf-8")
    (tmp_path / ".slabwright.yaml").write_text("amendments: [house]\n", encoding="utf-8")
    refused(tmp_path, "review", "pad", "--amendments", "town", option, name, wrong="this command reads this file")


def test_no_sheet_is_a_file_of_readings(tmp_path: Path) -> None:
    (tmp_path / "shots.txt").write_text("point,backsight,foresight\n", encoding="utf-8")
    put(tmp_path, pad=f"{SOUND}heights: {{base: shots.txt}}\n", other=SOUND)
    refused(tmp_path, "review", ".", "--sheet", "shots.txt", wrong="this command reads this file")
    assert run("review", "other.slab.yaml", "--sheet", "shots.txt", "--only", "joints", cwd=tmp_path, code=0).stdout


@pytest.mark.parametrize(
    "command",
    [
        ("review", "p.html", "--page", "p.html"),
        ("order", "p.html", "--page", "p.html"),
        ("stake", "p.html", "--page", "p.html"),
        ("card", "p.html", "--page", "p.html"),
        ("draw", "p.svg", "--out", "p.svg"),
        ("order", "pad", "--prices", "p.html", "--page", "p.html"),
        ("stake", "pad", "--as-shot", "p.html", "--page", "p.html"),
    ],
)
def test_no_page_or_drawing_is_an_input(tmp_path: Path, command: tuple[str, ...]) -> None:
    texts = {"p.html": SOUND, "p.svg": SOUND, "pad": SOUND}
    if "--prices" in command:
        texts["p.html"] = "currency: EUR\n"
    if "--as-shot" in command:
        texts["p.html"] = "point,backsight,foresight\n"
    for name, text in texts.items():
        (tmp_path / name).write_text(another_way(text), encoding="utf-8")
    refused(tmp_path, *command, wrong="this command reads this file")


@pytest.mark.parametrize(
    "command",
    [
        ("begin", "--use", "patio", "--size", "8 ft x 8 ft", "--out"),
    ],
)
def test_a_new_design_is_no_firm_file_and_goes_through_no_link(tmp_path: Path, command: tuple[str, ...]) -> None:
    refused(tmp_path, *command, ".slabwright.yaml", wrong="this is the name of a firm file")
    (tmp_path / "link.slab.yaml").symlink_to(tmp_path / "elsewhere.slab.yaml")
    refused(tmp_path, *command, "link.slab.yaml", wrong="this is a link")
    assert not (tmp_path / "elsewhere.slab.yaml").exists()


def test_two_outputs_have_two_names(tmp_path: Path) -> None:
    put(tmp_path, pad=SOUND)
    refused(tmp_path, "review", "pad.slab.yaml", "--sheet", "x", "--sarif", "./x", wrong="two outputs have this name")


def test_what_is_printed_goes_into_no_input(tmp_path: Path) -> None:
    put(tmp_path, a=SOUND, b=SOUND)
    before = unchanged(tmp_path)
    with (tmp_path / "a.slab.yaml").open("a", encoding="utf-8") as stream:
        command = [sys.executable, "-m", "slabwright", "review", ".", "--json"]
        done = subprocess.run(command, cwd=tmp_path, env=ENVIRONMENT, stdout=stream, stderr=subprocess.PIPE, text=True)
    assert done.returncode == 2
    assert "this command reads a.slab.yaml, and would print into it" in " ".join(done.stderr.split())
    assert unchanged(tmp_path) == before


# --- links ---


@pytest.mark.parametrize(
    "command",
    [
        ("review", "pad.slab.yaml", "--sheet", "out.txt"),
        ("review", "pad.slab.yaml", "--sarif", "out.txt"),
        ("review", "pad.slab.yaml", "--page", "out.html"),
        ("draw", "pad.slab.yaml", "--out", "out.svg"),
        ("order", "pad.slab.yaml", "--page", "out.html"),
        ("stake", "pad.slab.yaml", "--page", "out.html"),
        ("card", "pad.slab.yaml", "--page", "out.html"),
    ],
)
@pytest.mark.parametrize("leads_to", ["kept", "nothing", "device"])
def test_nothing_is_written_through_a_link(tmp_path: Path, command: tuple[str, ...], leads_to: str) -> None:
    jobs, elsewhere = tmp_path / "jobs", tmp_path / "elsewhere"
    put(jobs, pad=SOUND)
    elsewhere.mkdir()
    (elsewhere / "kept").write_text("kept\n", encoding="utf-8")
    target = Path("/dev/null") if leads_to == "device" else elsewhere / leads_to
    (jobs / command[-1]).symlink_to(target)
    refused(jobs, *command, wrong="this is a link, and nothing is written through one")
    assert unchanged(elsewhere) == {"kept": b"kept\n"}
    (jobs / command[-1]).unlink()
    (jobs / "out").symlink_to(elsewhere, target_is_directory=True)
    refused(jobs, *command[:-1], f"out/{command[-1]}", wrong="out is a link, and nothing is written through one")
    refused(jobs, *command[:-1], jobs / "out" / command[-1], wrong="is a link, and nothing is written through one")
    assert unchanged(elsewhere) == {"kept": b"kept\n"}


def test_a_link_put_there_while_the_review_runs_is_replaced_and_not_followed(tmp_path: Path) -> None:
    """``rename`` (POSIX) replaces the link itself."""
    (tmp_path / "kept").write_text("kept\n", encoding="utf-8")
    scratch = outputs._scratch(tmp_path / "out", "new\n")
    (tmp_path / "out").symlink_to("kept")
    scratch.replace(tmp_path / "out")
    assert (tmp_path / "kept").read_text(encoding="utf-8") == "kept\n"
    assert not (tmp_path / "out").is_symlink()


# --- a full disk ---


@pytest.mark.parametrize(
    "command",
    [
        ("review", "pad.slab.yaml", "--sheet", "out.txt"),
        ("order", "pad.slab.yaml", "--page", "out.html"),
        ("begin", "--use", "patio", "--size", "8 ft x 8 ft", "--out", "out.slab.yaml"),
    ],
)
def test_a_full_disk_leaves_nothing_half_and_nothing_hidden(tmp_path: Path, command: tuple[str, ...]) -> None:
    """No file may grow past 200 bytes (setrlimit, POSIX): writing stops in the middle, as on a full disk."""
    put(tmp_path, pad=SOUND)
    if command[0] != "begin":
        (tmp_path / command[-1]).write_text("kept\n", encoding="utf-8")
    before = unchanged(tmp_path)
    done = subprocess.run(
        [sys.executable, "-B", "-m", "slabwright", *command], cwd=tmp_path, env=ENVIRONMENT, capture_output=True,
        text=True, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200)),
    )  # fmt: skip
    assert done.returncode == 2, done.stdout + done.stderr
    assert "it cannot be written: File too large" in " ".join(done.stderr.split())
    assert unchanged(tmp_path) == before


@pytest.mark.parametrize("in_the_way", ["a", "b", "no space"])
def test_new_files_come_all_or_none(tmp_path: Path, in_the_way: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """As an exercise and its readings do."""
    wrong = "there is a file of this name already"
    if in_the_way == "no space":
        real, wrong = outputs._scratch, "it cannot be written: No space left"

        def full(path: Path, text: str) -> Path:
            if path.name == "b":
                raise OSError(errno.ENOSPC, "No space left")
            return real(path, text)

        monkeypatch.setattr(outputs, "_scratch", full)
    else:
        (tmp_path / in_the_way).write_text("kept\n", encoding="utf-8")
    before = unchanged(tmp_path)
    with pytest.raises(UnreadableError, match=wrong):
        outputs.keep_new({tmp_path / "a": "a\n", tmp_path / "b": "b\n"}, "--out")
    assert unchanged(tmp_path) == before


def test_a_rules_folder_is_not_written_into(tmp_path: Path) -> None:
    put(tmp_path, pad=SOUND)
    put_rule(tmp_path / "own")
    rule = "own/thickness/firm_thickness.py"
    refused(tmp_path, "review", "pad.slab.yaml", "--rules", "own", "--sheet", rule, wrong="none is written over")
