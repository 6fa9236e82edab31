"""The command line: what each command answers, its exit status, and that nothing ends in a traceback."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from checkout import ROOT
from repositories import ENVIRONMENT, LONG, OBLONG, put_rule
from repositories import SOUND as PAD
from slabwright.cli import commands
from slabwright.cli import main as cli
from slabwright.design.starter.answers import answered
from slabwright.design.starter.written import starter
from slabwright.text.words import written


@pytest.fixture
def pad(tmp_path: Path) -> Path:
    return design(tmp_path, PAD)


def design(folder: Path, text: str, name: str = "pad.slab.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def run(*arguments: str | Path, code: int = 0, **environment: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, with the exit status it must have."""
    env = {**ENVIRONMENT, **environment}
    command = [sys.executable, "-m", "slabwright", *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", env=env, timeout=60, check=False)
    assert "Traceback" not in done.stderr
    assert done.returncode == code, done.stdout + done.stderr
    return done


def main(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str, str]:
    """The command in this process: status, standard output, standard error."""
    try:
        status = cli.main([str(argument) for argument in arguments])
    except SystemExit as stop:
        status = int(stop.code or 0)
    captured = capsys.readouterr()
    return status, captured.out, captured.err


# --- help ---


@pytest.mark.parametrize("command", ["review", "rulebook", "teach", "draw", "order", "begin", "propose", "trust"])
def test_help_has_examples_in_trade_words(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = main(capsys, command, "-h")
    assert status == 0
    assert f"  slabwright {command}" in out
    assert "examples:" in out


def test_help_and_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(capsys, "--version")[1].startswith("slabwright")
    status, out, _ = main(capsys, "-h")
    assert status == 0
    assert all(command in out for command in ("review", "rulebook", "teach", "begin", "propose", "trust"))
    status, out, err = main(capsys)
    assert (status, out) == (2, "")
    assert "commands" in err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["reviw", "x"], 'there is no command "reviw"'),
        (["review"], "FILE"),
        (["review", "x", "--us", "--metric"], "not allowed"),
        (["review", "x", "--width", "20"], "20 is no width for a sheet; write a number from 60"),
        (["review", "x", "--width", "wide"], "wide is no width for a sheet"),
        (["review", "x", "--stric"], "unrecognized"),
    ],
)
def test_a_command_written_wrong_is_told_in_two_lines(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = main(capsys, *arguments)
    assert (status, out) == (2, "")
    assert said in err
    assert err.splitlines()[-1].startswith("  write: slabwright")


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys; from slabwright.cli import main as cli\n"
        "try: cli.main(['review', '-h'])\n"
        "except SystemExit: pass\n"
        "heavy = {'yaml', 'jsonschema', 'shapely', 'numpy', 'pint', 'rich'} & set(sys.modules)\n"
        "print('loaded:', sorted(heavy))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=ENVIRONMENT, check=True)
    assert done.stdout.splitlines()[-1] == "loaded: []"


def test_a_piped_review_loads_no_color_and_no_masked_arrays() -> None:
    job = ROOT / "example_designs" / "jobs" / "trailer_bay.slab.yaml"
    code = (
        f"import sys; from slabwright.cli import main as cli; cli.main(['review', '--brief', {str(job)!r}])\n"
        "print('loaded:', sorted({'rich.console', 'rich.text', 'jinja2', 'numpy.ma'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=ENVIRONMENT, check=True)
    assert done.stdout.splitlines()[-1] == "loaded: []"


# --- review ---


def test_exit_status_says_whether_a_hold_stands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = main(capsys, "review", design(tmp_path, LONG), "--only", "joints")
    assert (status, err) == (1, "")
    assert "settle before concrete is ordered" in out
    status, out, _ = main(capsys, "review", design(tmp_path, PAD), "--only", "joints")
    assert status == 0
    assert "no comments: what the file shows is met" in out


def test_strict_makes_cautions_count(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    oblong = design(tmp_path, OBLONG)
    status, out, _ = main(capsys, "review", oblong, "--only", "joints")
    assert status == 0
    assert "no holds, 1 caution: think twice" in out
    assert main(capsys, "review", oblong, "--only", "joints", "--strict")[0] == 1


def test_json_holds_every_comment_and_the_same_status(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    strips = PAD.replace("[8, 0], C: [8, 8]", "[120, 0], C: [120, 8]")
    cuts = "".join(
        f"  - {{name: J{n}, kind: saw cut, from: [{n * 15}, 0], to: [{n * 15}, 8], depth: 1 in}}\n" for n in range(1, 8)
    )
    path = design(tmp_path, f"{strips}joints:\n{cuts}")
    status, out, _ = main(capsys, "review", path, "--json", "--only", "joints")
    data = json.loads(out)
    (long_panels,) = [one for one in data["comments"] if one["rule"] == "panel-spacing"]
    assert status == 1
    assert [one["thing"] for one in long_panels["others"]] == [f"panel P{n}" for n in range(2, 9)]
    _, sheet, _ = main(capsys, "review", path, "--only", "joints")
    assert "1. Panel P1 is long for its thickness" in sheet  # one fault told once, and the rest of its panels named
    assert "likewise P2, P3, P4, P5, P6, P7 and 1 more" in " ".join(sheet.split())


def test_us_and_metric_choose_the_units_of_the_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, LONG)
    us = main(capsys, "review", path, "--only", "joints", "--us")[1]
    metric = main(capsys, "review", path, "--only", "joints", "--metric")[1]
    assert "30'-0\"" in us and "9.144 m" not in us  # 30 ft is 9.144 m exactly
    assert "9.144 m" in metric and "30'-0\"" not in metric


@pytest.mark.parametrize("width", [60, 80, 120])
def test_width_is_kept(tmp_path: Path, width: int, capsys: pytest.CaptureFixture[str]) -> None:
    out = main(capsys, "review", design(tmp_path, LONG), "--width", str(width))[1]
    assert max(map(len, out.splitlines())) == width


def test_only_one_group_is_judged_and_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, LONG)
    _, out, _ = main(capsys, "review", path, "--only", "mix")
    assert "the rules of group mix" in out
    assert "panel-spacing" not in out
    status, out, err = main(capsys, "review", path, "--only", "joint")
    assert (status, out) == (2, "")
    assert err == "slabwright: there is no group of rules 'joint'\n  write: joints\n"


@pytest.mark.parametrize("command", ["review", "rulebook"])
def test_groups_of_no_like_name_are_listed(command: str, pad: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["review", str(pad), "--only"] if command == "review" else ["rulebook", "--group"]
    assert "one of: water, heights, thickness" in main(capsys, *arguments, "zzz")[2]


# --- files that cannot be read ---


def test_a_missing_file_and_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in (tmp_path / "nothing.slab.yaml", tmp_path):
        status, out, err = main(capsys, "review", path)
        assert (status, out) == (2, "")
        assert err.startswith(f"{path}:1:1: ")
        assert "\n  write: " in err


def test_an_unreadable_file(pad: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pad.chmod(0)
    if os.access(pad, os.R_OK):  # root reads everything; a file of no text is refused all the same
        pad.chmod(0o600)
        pad.write_bytes(b"\x00\x01\x02\xff")
    status, out, err = main(capsys, "review", pad)
    assert (status, out) == (2, "")
    assert err.startswith(f"{pad}:1:1: ")


def test_a_problem_shows_place_line_caret_and_remedy(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, PAD.replace("design: 4 in", "design: 4"))
    status, out, err = main(capsys, "review", path)
    first, line, caret, remedy = err.splitlines()[:4]
    assert (status, out) == (2, "")
    assert first.startswith(f"{path}:7:21: ")
    assert line == "    thickness: {design: 4}"
    assert caret.index("^") == 4 + 20
    assert remedy.startswith("  write: the unit with it, as in 5 in")


def test_the_guide_shows_a_problem_as_it_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    guide = (ROOT / "docs" / "reading-a-review.md").read_text(encoding="utf-8")
    design(tmp_path, PAD.replace("thickness: {design: 4 in}", "thickness:\n  design: 4"))
    monkeypatch.chdir(tmp_path)
    assert main(capsys, "review", "pad.slab.yaml")[2] == guide.split("```text\n", 1)[1].split("```", 1)[0]


def test_all_problems_come_out_together(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, PAD.replace("use: patio", "use: pateo").replace("4 in", "4") + "mixx: {}\n")
    err = main(capsys, "review", path)[2]
    assert [int(found) for found in re.findall(rf"^{re.escape(str(path))}:(\d+):", err, re.MULTILINE)] == [4, 7, 8]


def test_hundreds_of_problems_are_counted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for count, said in ((50, ""), (51, "and 1 more; settle these first\n"), (5000, "and at least 150 more; settle")):
        path = design(tmp_path, PAD + "".join(f"key{n}: 1\n" for n in range(count)))
        err = main(capsys, "review", path)[2]
        assert err.count("write:") == 50
        assert err.splitlines()[-1].startswith(said.strip())


def test_an_outline_that_crosses_itself_is_unreadable(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, PAD.replace("outline: [A, B, C, D]", "outline: [A, C, B, D]"))
    status, out, err = main(capsys, "review", path)
    assert (status, out) == (2, "")
    assert err.startswith(f"{path}:6:")


def test_control_codes_in_a_file_reach_no_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, PAD.replace("Bin store", r'"Bin \e]0;owned\a \u202estore"'))
    _, out, err = main(capsys, "review", path)
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e]", out + err)


# --- amendments and the firm file ---

TOWN = """\
format: 1
layer: town
name: Town of Ferncliff
amendments:
  - rule: panel-aspect
    limit: likely_whole_aspect_at_most
    value: "1.8"
    citation: Ferncliff code, 4-12
"""


def caution_limit() -> str:
    """The limit of panel-aspect that is a caution."""
    from slabwright.rulebook import loading

    rule = next(rule for rule in loading.load_rules() if rule.name == "panel-aspect")
    return next(limit.name for limit in rule.limits if limit.weight == "caution")


@pytest.fixture
def town(tmp_path: Path) -> Path:
    return design(tmp_path, TOWN.replace("likely_whole_aspect_at_most", caution_limit()), "town.yaml")


def test_amendments_from_the_command_line(tmp_path: Path, town: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = design(tmp_path, OBLONG)
    assert "1 caution" in main(capsys, "review", path, "--only", "joints")[1]
    out = main(capsys, "review", path, "--only", "joints", "--amendments", town)[1]
    assert "no comments" in out
    assert "published, then Town of Ferncliff" in out
    assert "LOOSER THAN PUBLISHED" in out


def test_amendments_take_one_file_each_and_leave_the_design(
    tmp_path: Path, town: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = design(tmp_path, OBLONG)
    out = main(capsys, "review", "--amendments", town, path, "--only", "joints")[1]
    assert "published, then Town of Ferncliff" in out

    status, _, err = main(capsys, "review", "--amendments", town, town, path, "--brief")
    assert status == 2 and "this is a file of local amendments, and no design" in err
    assert f"--amendments {town}" in " ".join(err.split()).replace("/ ", "/")
    assert err.count("write:") == 1  # and no key of it is told

    status, _, err = main(capsys, "order", path, town)
    assert status == 2 and "takes one design" in err and "an --amendments of its own" in " ".join(err.split())


def test_a_name_with_spaces_that_nobody_quoted_is_told_as_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    design(tmp_path, OBLONG, "back patio 2.slab.yaml")
    monkeypatch.chdir(tmp_path)
    for command in ("review", "order"):
        status, out, err = main(capsys, command, "back", "patio", "2.slab.yaml", "--metric")
        assert (status, out) == (2, "") and "reads as 3 names" in err
        assert f"write: slabwright {command} 'back patio 2.slab.yaml' --metric" in " ".join(err.split())
    assert main(capsys, "review", "back patio 2.slab.yaml", "--brief")[0] < 2
    assert "reads as" not in main(capsys, "review", *("x" * 200,) * 30)[2]  # a name longer than any


def test_designs_may_stand_on_both_sides_of_an_option(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, two = design(tmp_path, OBLONG), design(tmp_path, PAD, "two.slab.yaml")
    out = main(capsys, "review", one, "--brief", two)[1]
    assert "pad.slab.yaml" in out and "two.slab.yaml" in out
    status, _, err = main(capsys, "review", one, "--brif", two)
    assert status == 2 and "is --brief meant?" in " ".join(err.split())


def test_a_hint_that_is_no_step_says_what_to_write(capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = main(capsys, "teach", "--hint", "panel-aspect")
    assert status == 2 and "write 1, 2 or 3" in err


def test_firm_file_is_found_upward_and_holds(tmp_path: Path, town: Path, capsys: pytest.CaptureFixture[str]) -> None:
    firm_file = tmp_path / ".slabwright.yaml"
    firm_file.write_text(f"amendments: [{town.name}]\n", encoding="utf-8")
    deep = tmp_path / "jobs" / "2026"
    deep.mkdir(parents=True)
    out = main(capsys, "review", design(deep, OBLONG), "--only", "joints")[1]
    assert "published, then Town of Ferncliff" in out
    firm_file.write_text("strict: true\n", encoding="utf-8")
    assert main(capsys, "review", design(deep, OBLONG), "--only", "joints")[0] == 1


def test_nearest_firm_file_wins(tmp_path: Path, town: Path, capsys: pytest.CaptureFixture[str]) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / ".slabwright.yaml").write_text(f"strict: true\namendments: [{town.name}]\n", encoding="utf-8")
    (inner / ".slabwright.yaml").write_text("strict: false\n", encoding="utf-8")
    status, out, _ = main(capsys, "review", design(inner, OBLONG), "--only", "joints")
    assert status == 0
    assert "1 caution" in out
    assert "Ferncliff" not in out


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("amendmets: [town.yaml]", "amendments"),
        ("amendments: [gone.yaml]", "there is no file"),
        ("rules: gone", "there is no folder"),
        ("strict: perhaps", "true or false"),
    ],
)
def test_a_firm_file_that_cannot_be_used_stops_the_review(
    pad: Path, line: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    firm_file = pad.parent / ".slabwright.yaml"
    firm_file.write_text(f"# our settings\n{line}\n", encoding="utf-8")
    status, out, err = main(capsys, "review", pad)
    assert (status, out) == (2, "")
    assert err.startswith(f"{firm_file}:2:")
    assert said in err


@pytest.fixture
def own_rules(tmp_path: Path) -> Path:
    return put_rule(tmp_path / "own")


def test_own_rules_by_option_and_by_firm_file(
    pad: Path, own_rules: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "firm-thickness" not in main(capsys, "review", pad)[1]
    status, out, _ = main(capsys, "review", pad, "--rules", own_rules, "--only", "thickness")
    assert status == 1
    assert "The slab is 4 in" in out
    monkeypatch.setenv("XDG_CONFIG_HOME", str(pad.parent / "config"))
    (pad.parent / ".slabwright.yaml").write_text("rules: own\n", encoding="utf-8")
    assert main(capsys, "trust", pad.parent)[0] == 0
    assert "The slab is 4 in" in main(capsys, "review", pad)[1]
    assert "firm-thickness: Thick enough for the firm (own rule)" in main(capsys, "rulebook", "--rules", own_rules)[1]
    assert "the firm answers for it" in main(capsys, "teach", "firm-thickness", "--rules", own_rules)[1]


def test_a_design_can_name_no_rules(tmp_path: Path, own_rules: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for key in ("rules", "own_rules", "amendments"):
        status, out, err = main(capsys, "review", design(tmp_path, f"{PAD}{key}: own\n"))
        assert (status, out) == (2, "")
        assert ":8:1: " in err


# --- rulebook and teach ---


def test_rulebook_gives_every_rule_with_its_limits(capsys: pytest.CaptureFixture[str]) -> None:
    from slabwright.rulebook import loading

    status, out, _ = main(capsys, "rulebook")
    flat = " ".join(out.split())
    assert status == 0
    for rule in loading.load_rules():
        assert f"{rule.name}: {' '.join(rule.title.split())}" in flat
        for limit in rule.limits:
            assert written(limit.meaning, None) in flat
    assert "JOINTS (" in out
    assert "published; ACI" in flat


def test_rulebook_of_one_group_under_amendments(town: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = main(capsys, "rulebook", "--group", "joints", "--amendments", town)[1]
    flat = " ".join(out.split())
    assert "WATER (" not in out
    assert "Town of Ferncliff (town), in place of 1.5, LOOSER THAN PUBLISHED; Ferncliff code, 4-12" in flat


def test_rulebook_tells_a_changed_weight_and_its_reason(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = TOWN.replace('    value: "1.8"\n', "    weight: note\n    reason: small lots only\n").replace(
        "layer: town", "layer: firm"
    )
    path = design(tmp_path, text.replace("likely_whole_aspect_at_most", caution_limit()), "house.yaml")
    flat = " ".join(main(capsys, "rulebook", "--group", "joints", "--amendments", path)[1].split())
    assert "Town of Ferncliff (firm), in place of a caution, LOOSER THAN PUBLISHED; small lots only" in flat


def test_rulebook_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    data = json.loads(main(capsys, "rulebook", "--group", "joints", "--json")[1])
    spacing = next(rule for rule in data["rules"] if rule["name"] == "panel-spacing")
    aspect = next(rule for rule in data["rules"] if rule["name"] == "panel-aspect")
    assert {rule["group"] for rule in data["rules"]} == {"joints"}
    assert {limit["weight"] for limit in aspect["limits"]} == {"hold", "caution", "note"}
    cap: dict[str, Any] = next(limit for limit in spacing["limits"] if limit["value"]["us"].startswith("15'"))
    assert cap["value"]["si"] == pytest.approx(15 * 0.3048)  # 1 ft = 0.3048 m exactly
    assert cap["value"]["metric"] == "4.572 m"
    assert cap["set_by"] == "published"


def test_teach_gives_the_whole_page_and_an_example_that_falls_short(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = main(capsys, "teach", "panel-aspect")
    assert (status, err) == (0, "")
    for part in (
        "What is compared", "Why it matters", "When it does not apply", "How to put it right", "Where sources differ",
        "Limits", "Numbers worked again", "A design that falls short", "to pass",
    ):  # fmt: skip
        assert part in out
    assert "rule      panel-aspect" in out


def test_an_unknown_rule_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = main(capsys, "teach", "panel-aspekt")
    assert (status, out) == (2, "")
    assert err == "slabwright: there is no rule 'panel-aspekt'\n  write: panel-aspect\n"
    assert "slabwright rulebook lists them all" in main(capsys, "teach", "qqqqqq")[2]


# --- a folder that somebody sent ---


def test_no_module_of_the_working_folder_is_loaded(tmp_path: Path) -> None:
    """``python -m`` puts the working folder before all others."""
    design(tmp_path, PAD)
    for module in ("yaml", "shapely", "slabwright_mark"):
        (tmp_path / f"{module}.py").write_text("print('loaded')\nraise SystemExit(9)\n", encoding="utf-8")
    command = [sys.executable, "-m", "slabwright", "review", "pad.slab.yaml", "--only", "joints"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, env=ENVIRONMENT, check=False)
    assert (done.returncode, "loaded" in done.stdout) == (0, False), done.stdout + done.stderr


# --- begin ---


def test_begin_writes_a_new_file_and_never_over_an_old_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "drive.slab.yaml"
    arguments = ["begin", "--use", "driveway", "--size", "20 ft x 40 ft"]
    status, out, _ = main(capsys, *arguments, "--out", path)
    assert status == 0
    assert out == f"wrote {path}; next: slabwright review {path}\n"
    assert path.read_text(encoding="utf-8") == starter(answered({"use": "driveway", "size": "20 ft x 40 ft"}))
    status, _, err = main(capsys, *arguments, "--out", path)
    assert status == 2
    assert "there is a file of this name already" in err
    status, _, err = main(capsys, *arguments, "--out", tmp_path / "no" / "such" / "folder.yaml")
    assert status == 2
    assert "it cannot be written" in err
    assert main(capsys, *arguments)[1] == path.read_text(encoding="utf-8")


# --- nothing useful typed yet ---


def test_without_a_command_the_next_one_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    status, out, err = main(capsys)
    assert (status, out) == (2, "")
    assert err.splitlines()[1].strip().startswith("slabwright begin ")
    design(tmp_path, LONG, "my pad.slab.yaml")
    assert main(capsys)[2].splitlines()[1].strip().startswith("slabwright review 'my pad.slab.yaml' ")
    assert max(map(len, err.splitlines())) <= 80


@pytest.mark.parametrize(
    ("arguments", "write"),
    [
        (["pad.slab.yaml"], "slabwright review pad.slab.yaml"),
        (["revew"], "slabwright review"),
        (["stake"], "slabwright stake pad.slab.yaml"),
        (["propose", "pad.slab.yaml"], "slabwright propose joints pad.slab.yaml, or propose heights"),
        (["review", "pad.slab.yaml", "--pages"], "slabwright review -h shows how it is written; is --page meant?"),
        (["teach", "fall-margins"], "fall-margin"),
        (["review", "PAD.slab.yaml"], "pad.slab.yaml"),
        (["review", "garage.yaml"], "a design of this folder, such as pad.slab.yaml"),
        (["order", "pad.yaml"], "pad.slab.yaml"),
        (["review", "none/garage.yaml"], "check the name and the folder"),
        (
            ["review", "empty/garage.yaml"],
            "check the name and the folder; slabwright begin writes a design to start from",
        ),
        (["review", "empty"], "a folder of designs, or a design file; slabwright begin writes one"),
    ],
)
def test_a_name_that_is_not_there_gets_the_one_that_is(
    arguments: list[str],
    write: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty").mkdir()
    design(tmp_path, LONG, "pad.slab.yaml")
    status, out, err = main(capsys, *arguments)
    assert (status, out) == (2, "")
    assert " ".join(err.split()).endswith(f"write: {write}")


def test_help_may_be_a_word(capsys: pytest.CaptureFixture[str]) -> None:
    assert "usage: slabwright begin" in main(capsys, "help", "begin")[1]


# --- streams and interruptions ---


@pytest.mark.parametrize("asked", [(), ("--json",)])
@pytest.mark.parametrize("many", [1, 9])  # nine go to other processes
def test_a_reader_that_has_enough_changes_no_status(tmp_path: Path, asked: tuple[str, ...], many: int) -> None:
    """The reader leaves before the first word: holds are 1 all the same, and what is asked for beside is written."""
    for number in range(many):
        design(tmp_path, LONG, f"pad{number}.slab.yaml")
    command = [sys.executable, "-m", "slabwright", "review", str(tmp_path), *asked, "--sheet", str(tmp_path / "s.txt")]
    for stream in ("stdout", "stderr"):
        reading, writing = os.pipe()
        os.close(reading)
        other: dict[str, Any] = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE, stream: writing}
        done = subprocess.run(command, text=True, env=ENVIRONMENT, check=False, **other)
        os.close(writing)
        assert (done.returncode, done.stderr or "") == (1, "")
        assert "SUMMARY" in (tmp_path / "s.txt").read_text(encoding="utf-8")
        (tmp_path / "s.txt").unlink()
    if asked or many > 1:
        return
    design(tmp_path, PAD.replace("design: 4 in", "design: 4"), "broken.slab.yaml")
    reading, writing = os.pipe()
    os.close(reading)
    assert subprocess.run(command, stdout=writing, stderr=writing, env=ENVIRONMENT, check=False).returncode == 2
    os.close(writing)


def test_a_reader_that_has_enough_is_no_fault(pad: Path) -> None:
    for arguments in (["rulebook"], ["review", str(pad), "--json"]):
        command = [sys.executable, "-m", "slabwright", *arguments]
        with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=ENVIRONMENT) as process:
            assert process.stdout is not None
            assert process.stderr is not None
            process.stdout.close()
            assert process.stderr.read() == b""


def test_ctrl_c_stops_without_a_traceback(
    pad: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(commands, "named", lambda _: interrupted)
    status, _, err = main(capsys, "review", pad)
    assert (status, err) == (128 + signal.SIGINT, "\nstopped\n")


@pytest.mark.parametrize(
    "error", [ValueError("x\x1b[31m"), RecursionError(), MemoryError(), OSError(28, "No space left")]
)
def test_a_failure_of_the_program_is_one_line_and_its_own_status(
    pad: Path, error: Exception, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def failing(_: object) -> int:
        raise error

    monkeypatch.setattr(commands, "named", lambda _: failing)
    status, out, err = main(capsys, "review", pad)
    assert (status, out) == (3, "")
    assert err.startswith("slabwright: ")
    assert err.count("\n") == 1
    assert "\x1b" not in err


def test_a_full_disk_is_told(pad: Path) -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        command = [sys.executable, "-m", "slabwright", "review", str(pad)]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, env=ENVIRONMENT, check=False)
    assert done.returncode == 3
    assert done.stderr.lower().startswith("slabwright: could not go on: no space left")
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize(
    ("closed", "path", "expected"), [(">&-", "pad", 0), ("2>&-", "nothing", 2), (">&- 2>&-", "nothing", 2)]
)
def test_closed_streams_change_no_status(pad: Path, closed: str, path: str, expected: int) -> None:
    command = f'"{sys.executable}" -m slabwright review {pad.parent / path}.slab.yaml --only joints {closed}'
    done = subprocess.run(["/bin/sh", "-c", command], capture_output=True, text=True, env=ENVIRONMENT, check=False)
    assert (done.returncode, done.stdout + done.stderr if expected == 0 else "") == (expected, "")


def test_a_stream_that_writes_ascii_only(tmp_path: Path) -> None:
    path = design(tmp_path, PAD.replace("Bin store", "Žižkov ½ store"))
    out = run("review", path, "--only", "joints", PYTHONUTF8="0", PYTHONIOENCODING="ascii").stdout
    assert out.isascii()
    assert r"\u017di\u017ekov 1/2 store" in out
    json_out = run("review", path, "--json", "--only", "joints", PYTHONUTF8="0", PYTHONIOENCODING="ascii").stdout
    assert json.loads(json_out)["job"] == "Žižkov ½ store"


def test_plain_text_in_a_pipe(tmp_path: Path) -> None:
    done = run("review", design(tmp_path, LONG), "--only", "joints", code=1, TERM="xterm-256color")
    assert "\x1b" not in done.stdout
