"""The course: lessons in the order of the job, their pictures, their drills, and every number they state."""

from __future__ import annotations

import math
import re
import shlex
from pathlib import Path
from xml.etree import ElementTree

import pytest
from checkout import ROOT
from example_reviews import IN_FORCE, RULES
from slabwright.cli import main as cli
from slabwright.teaching import course
from slabwright.teaching.exercise import exercise
from slabwright.text.sheet import plain
from slabwright.units import quantity

FOLDER = ROOT / "docs" / "teaching"
LESSONS = sorted(FOLDER.glob("[0-9]*.md"))
NAMED = {rule.name: rule for rule in RULES}
PARTS = (
    "You will be able to", "Danger here", "One job, followed through", "On paper", "Answers", "Look it up", "Drill",
    "Ask yourself", "Two years later", "In one line", "Words",
)  # fmt: skip
EACH = pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def test_safety_comes_first_and_the_rest_in_the_order_of_the_job() -> None:
    assert [path.stem.partition("_")[2] for path in LESSONS] == [
        "safety", "drawing", "site", "water", "drains", "heights", "thickness", "joints", "isolation", "steel", "order",
        "mix", "pour", "curing", "open",
    ]  # fmt: skip
    for path, following in zip(LESSONS, [*LESSONS[1:], LESSONS[0]], strict=True):
        assert f"]({following.name})" in text_of(path), path


@EACH
def test_a_lesson_has_its_parts_in_order_and_three_problems_with_answers(path: Path) -> None:
    heads = [head for head in re.findall(r"^## (.*)$", text_of(path), re.M) if head in PARTS]
    wanted = [part for part in PARTS if part != "Danger here" or path is not LESSONS[0]]  # all of that one is dangers
    assert heads == wanted
    for part in ("On paper", "Answers"):
        body = text_of(path).split(f"## {part}\n")[1].split("\n## ")[0]
        assert re.findall(r"^(\d)\. ", body, re.M) == ["1", "2", "3"]
        assert part == "On paper" or body.count("`") >= 4
    assert len(re.findall(r"\((?:about )?[\d.,]+ (?:mm|m|m2|m3|L|L/m3|kg|MPa|°C|km/h|kg/m2/h)\)", text_of(path))) >= 3


def value_of(text: str) -> float:
    """What a sum comes to: numbers, + - x / ^ ( ), sqrt and pi."""
    assert re.fullmatch(r"(?:[\d.+\-x/^() ]|sqrt|pi)+", text), text
    return float(eval(text.replace("x", "*").replace("^", "**"), {"sqrt": math.sqrt, "pi": math.pi}))


@EACH
def test_every_sum_in_a_lesson_is_right_to_the_last_figure_shown(path: Path) -> None:
    sums = [one for one in re.findall(r"`([^`]*)`", text_of(path)) if "=" in one]
    assert len(sums) >= 4
    for one in sums:
        left, _, right = one.partition(" = ")
        decimals = len(right.partition(".")[2])
        assert abs(value_of(left) - value_of(right)) <= 0.5 * 10**-decimals * 1.02, one


_PAIR = re.compile(
    r"((?:\d+ )?\d+/\d+|[\d.,]+) (in|ft|ft2|yd3|lb|psi|gal|°F|mph|lb/yd3|lb/ft2/h) "
    r"\(([\d.,]+) (mm|m|m2|m3|kg|MPa|L|°C|km/h|kg/m3|kg/m2/h)\)"
)
_TO_METRIC = {
    ("in", "mm"): 25.4, ("ft", "m"): 0.3048, ("ft", "mm"): 304.8, ("ft2", "m2"): 0.09290304, ("yd3", "m3"): 0.764555,
    ("lb", "kg"): 0.45359, ("psi", "MPa"): 0.00689476, ("gal", "L"): 3.78541, ("mph", "km/h"): 1.609344,
    ("lb/yd3", "kg/m3"): 0.593276, ("lb/ft2/h", "kg/m2/h"): 4.88243,
}  # fmt: skip


@EACH
def test_the_metric_number_beside_is_the_same_amount(path: Path) -> None:
    """Factors are exact or of NIST SP 811; a rounded pair may differ by a tenth of the last figures."""
    words = re.sub(r"\d+ ft [\d/ ]+ in \(", "(", text_of(path).replace("\n", " ").replace("`", ""))
    pairs = _PAIR.findall(words)
    assert pairs
    for us, unit, metric, other in pairs:
        first = quantity.read(f"{us.replace(',', '')} in", quantity.Kind.LENGTH).si / 0.0254
        told = float(metric.replace(",", ""))
        if unit == "°F":
            assert abs((first - 32) / 1.8 - told) <= 0.6, (us, metric)
        else:
            worked = first * _TO_METRIC[unit, other]
            assert abs(worked - told) <= max(0.03 * worked, 0 if "." in metric else 0.51), (us, unit, metric, other)


def commands(path: Path) -> list[list[str]]:
    """The slabwright commands of a lesson, split as a shell does."""
    return [shlex.split(line)[1:] for line in re.findall(r"^ +(slabwright .*)$", text_of(path), re.M)]


def test_the_commands_of_lessons_run_one_after_the_other_in_one_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    for path in [*LESSONS[:3], FOLDER / "teacher.md"]:
        for one in commands(path):
            status = cli.main(one)
            captured = capsys.readouterr()
            assert status == (1 if "--check" in one else 0), (path.name, one, captured.err)
            assert captured.out


@EACH
def test_a_lesson_sets_a_drill_has_it_checked_and_answered(path: Path) -> None:
    explained, written, check, answered = commands(path)[-4:]
    assert explained[0] == "teach" and explained[1] in NAMED
    assert written[:2] == answered[:2] == ["teach", "--exercise"]
    assert written[-2:] == ["--out", f"lesson_{LESSONS.index(path)}"]
    assert check == ["teach", "--check", f"{written[-1]}/exercise-{written[2]}.slab.yaml", *written[1:-2]]
    assert answered == [*written[:-2], "--answer"]


@EACH
def test_a_drill_is_of_the_subject_of_its_lesson(path: Path) -> None:
    named = set(re.findall(r"\(\.\./rulebook\.md#([\w-]+)\)", text_of(path)))
    assert named and named <= set(NAMED)
    (number, group) = re.findall(r"--exercise (\d+) --group (\w+) --answer", text_of(path))[0]
    one = exercise(int(number), group, RULES, IN_FORCE)
    assert one is not None
    of_slips = {rule for slip in one.slips for rule in slip.rules}
    assert of_slips <= named, "run: python -m slabwright.teaching.course docs/"


@EACH
def test_every_page_and_picture_that_a_lesson_names_is_there(path: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)", text_of(path))
    assert any(link.startswith("pictures/") for link in links)
    for link in links:
        assert (path.parent / link).is_file(), link


def test_a_lesson_reads_on_a_terminal_and_prints_as_a_page_that_stands_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(len(LESSONS)):
        lines = plain(course.lesson_page(number, False, 80, "utf-8")).splitlines()
        answers = plain(course.lesson_page(number, True, 80, "utf-8"))
        assert re.findall(r"^(\d)\. ", answers.partition("Answers")[2], re.M) == ["1", "2", "3"]
        assert f"--lesson {number} --answer" in "\n".join(lines) and answers.split("3. ")[1] not in "\n".join(lines)
        assert max(map(len, lines)) <= 80 or any("slabwright" in line for line in lines if len(line) > 80)
        assert not any(sign in line for line in lines for sign in ("**", "`", "](", "##"))
    assert cli.main(["teach", "--lesson", "7", "--out", str(tmp_path / "evening")]) == 0
    text = (tmp_path / "evening" / "lesson-7.html").read_text(encoding="utf-8")
    assert "<svg" in text and "<code>5 / 4 = 1.25</code>" in text and 'class="answers"' in text
    assert not re.search(r"(?:src|href)=|`|\*\*|\]\(", text.replace('href="#', ""))
    ElementTree.fromstring(text.partition("<body>")[2].partition("</body>")[0].strip())
    capsys.readouterr()
    assert cli.main(["teach", "--lesson", "7", "--hint"]) == 2
    assert "goes with --answer or --out alone" in capsys.readouterr().err


def test_the_pictures_are_drawn_from_their_jobs() -> None:
    for name, text in course.pictures():
        kept = (FOLDER.parent / course.FOLDER / name).read_text(encoding="utf-8")
        assert kept == text, "run: python -m slabwright.teaching.course docs/"


def test_nobody_is_told_to_move_a_live_line() -> None:
    """Only its owner does: "its operator decides" is the one advice (the state one-call laws, quoted)."""
    root = FOLDER.parents[1]
    shown = [*FOLDER.glob("*.md"), *(root / "rules").glob("*/*.py"), *(root / "tests" / "corpus" / "faults").glob("*")]
    advice = re.compile(
        r"\b(?:move|lower|raise|lift|bend|reroute|lead round|shift|support)\b (?:the |a |that |this |its )?"
        r"(?:gas|electric|power|live|buried|water)?[- ]?(?:line|main|cable|wire)s?\b", re.I,
    )  # fmt: skip
    for path in (one for one in shown if one.is_file()):
        for found in advice.finditer(" ".join(text_of(path).split())):
            before = " ".join(text_of(path).split())[max(0, found.start() - 60) : found.start()]
            assert re.search(r"nobody|not|never|else", before), (path.name, found[0], before)
