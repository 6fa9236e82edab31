"""``--decimal comma``: the same sheets with the other decimal sign, and what programs read with the old one."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from checkout import ROOT
from slabwright.cli import main as cli
from slabwright.source.locate import folder

JOBS = folder("example_designs") / "jobs"
YARD = ROOT / "tests" / "corpus" / "sound" / "joiners_ramp.slab.yaml"
METRIC, FEET = JOBS / "bakery_yard.slab.yaml", JOBS / "trailer_bay.slab.yaml"
COMMA = ("--decimal", "comma")
# Sources, what is typed at the command line or as the datum, and places that nobody named.
KEPT = re.compile(
    r"\[[^\]]*\]|--bench '[^']*' --backsight [\d.]+|1926\.\d+|[a-z ]+ = \d+\.\d+|\(-?[\d.]+ (ft|m), -?[\d.]+ \1\)"
)


def said(capsys: pytest.CaptureFixture[str], *words: str | Path) -> str:
    """What a command prints, whatever it finds."""
    assert cli.main([*map(str, words)]) in (0, 1)
    return capsys.readouterr().out


def pointed(text: str, comma: bool) -> str:
    """A text without spaces, its numbers with a point and without marks at thousands."""
    sign, instead = (r"(?<=\d),(?=\d)", ".") if comma else (r"(?<=\d),(?=\d{3}(?!\d))", "")
    return "".join(re.sub(sign, instead, text).split())


@pytest.mark.parametrize(
    ("design", "command"),
    [*((YARD, name) for name in ("review", "order", "stake", "card")), (FEET, "review"), (FEET, "order")],
    ids=lambda one: getattr(one, "stem", one),
)
def test_a_sheet_says_the_same_with_the_other_sign(
    design: Path, command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    options = ("--full",) if command == "review" else ()
    points, commas = (said(capsys, command, design, *options, "--width", "400", *more) for more in ((), COMMA))

    assert pointed(commas, comma=True) == pointed(points, comma=False)
    left = KEPT.sub("", " ".join(commas.split()))
    assert re.findall(r"(?<![\w.])\d+\.\d+(?![\w.])", left) == []
    assert re.findall(r"(?<![\w.])\d+,\d+(?![\w.])", left)


def test_a_page_and_a_drawing_follow(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page, plan = tmp_path / "order.html", tmp_path / "plan.svg"
    said(capsys, "order", YARD, "--page", page, *COMMA)
    said(capsys, "draw", YARD, "--out", plan, *COMMA)
    # by hand: 6 m x 8 m x 151 mm, times 1.05, in steps of 0.1 m3
    assert "7,70" in page.read_text(encoding="utf-8") and "118,50" in page.read_text(encoding="utf-8")
    assert ">A 49,980<" in plan.read_text(encoding="utf-8")


def test_feet_inches_and_fractions_stay(capsys: pytest.CaptureFixture[str]) -> None:
    points, commas = (said(capsys, "stake", FEET, "--width", "400", *more) for more in ((), COMMA))
    tapes = re.compile(r"\d+'-\d+(?: \d+/\d+)?\"")
    assert tapes.findall(points) == tapes.findall(commas) != []
    assert "99,90" in commas


@pytest.mark.parametrize("options", [("--csv",), ("--csv", "--no-heading")], ids=len)
def test_csv_has_semicolons(options: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    points, commas = (
        list(csv.reader(io.StringIO(said(capsys, "stake", YARD, *options, *more)), delimiter=delimiter))
        for more, delimiter in (((), ","), (COMMA, ";"))
    )
    assert [[cell.replace(",", ".") for cell in row] for row in commas] == points
    assert any("," in cell for cell in commas[-1])
    ordered = said(capsys, "order", YARD, "--csv", *COMMA)
    assert ";7,7;m3;" in ordered


def test_what_a_program_reads_keeps_the_point(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("review", "order", "stake", "card"):
        assert said(capsys, name, METRIC, "--json") == said(capsys, name, METRIC, "--json", *COMMA)
    for way, option in (("review", "--sarif"), ("draw", "--out")):
        for suffix in (".sarif",) if way == "review" else (".geojson", ".xml"):
            one, other = tmp_path / f"one{suffix}", tmp_path / f"other{suffix}"
            said(capsys, way, METRIC, option, one)
            said(capsys, way, METRIC, option, other, *COMMA)
            made_at = re.compile(r'\b(?:date|time)="[^"]*"')
            assert made_at.sub("", one.read_text("utf-8")) == made_at.sub("", other.read_text("utf-8"))
    for more in ((), COMMA):
        said(capsys, "review", FEET, "--put-right", tmp_path / f"right{len(more)}.slab.yaml", *more)
    assert (tmp_path / "right0.slab.yaml").read_bytes() == (tmp_path / "right2.slab.yaml").read_bytes()


def test_the_table_of_several_designs_has_semicolons(capsys: pytest.CaptureFixture[str]) -> None:
    rows = said(capsys, "review", METRIC, FEET, "--csv", *COMMA).splitlines()
    assert rows[0] == "file;verdict;holds;cautions;notes;not shown"
    assert len(rows) == 3
