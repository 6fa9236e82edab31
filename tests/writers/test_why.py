"""Where the number of a comment comes from: what is told is what the plan holds, and each comment has a page of it."""

from __future__ import annotations

import pytest
from checkout import ROOT
from slabwright.cli.main import main
from slabwright.review import reviewing
from slabwright.text.sheet import plain
from slabwright.writers import why_sheet

TERRACE = ROOT / "example_designs" / "rules" / "fixed-heights-agree"
BAY = ROOT / "example_designs" / "jobs" / "trailer_bay.slab.yaml"


def why(number: int, capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["review", str(BAY), "--why", str(number)]) == 1  # the bay has holds
    return capsys.readouterr().out


def test_a_pond_is_told_from_its_points_to_its_spill(capsys: pytest.CaptureFixture[str]) -> None:
    """The low spot at V2, by hand: 99.14 ft is typed, water spills at D, 99.25 ft: 0.11 ft are 1.32 in."""
    said = " ".join(why(3, capsys).split())
    for fact in (
        "V2: finish 99.14 ft, typed in line 65; base 98.72 ft; so about 5 in between",
        "low spot 1: deepest at V2, about 1 3/8 in; it spills at 99.25 ft",
        "between N 99.37 ft, V2 99.14 ft, D 99.25 ft: it falls 2.4 %",
        "P1: 12'-0\" by 9'-0\", 108 ft2",
        "boat lane: gravel, at 99.30 ft",
    ):
        assert fact in said


def test_every_comment_has_its_page_in_80_columns() -> None:
    judged = reviewing.judge(BAY, reviewing.Settings(), advise=True)
    for comment in judged.report.comments:
        said = plain(why_sheet.sheet(judged.plan, judged.report, comment, 80, "utf-8"))
        assert max(map(len, said.splitlines())) <= 80
        assert comment.rule in said
        assert bool(comment.at.shape) != ("It has no place on the plan" in " ".join(said.split()))


def test_a_number_that_no_comment_has_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(BAY), "--why", "99"]) == 2
    assert "a number from 1 to 12" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--why", "3", "--json"], "--why and --json do not go together"),
        (["--as-built", "--sarif", "x"], "--as-built and --sarif do not go together"),
        (["--gap", "1/4 in"], "--gap belongs to --as-built"),
        (["--seed", "3"], "--seed belongs to --as-built"),
    ],
)
def test_no_option_is_passed_over_in_silence(options: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(BAY), *options]) == 2
    assert told in capsys.readouterr().err


def test_a_clash_of_fixed_heights_tells_the_room_at_each(capsys: pytest.CaptureFixture[str]) -> None:
    """Sill 100 less an inch, walk 99.90, ten feet of 2 %: the sill cannot come down, nor the walk go up."""
    assert main(["review", str(TERRACE / "falls_short.slab.yaml"), "--why", "1"]) == 0
    said = capsys.readouterr().out
    assert "ROOM LEFT" in said
    assert "weighing house sill: down no further" in said and "town walk: up no further" in said


def test_the_room_at_fixed_heights_is_in_the_figures() -> None:
    """100 less an inch at the sill, 99.70 at the walk, 0.2 ft between: 0.0167 ft are left, to the one and the other."""
    worked = reviewing.judge(TERRACE / "meets.slab.yaml", reviewing.Settings()).report.worked
    left = pytest.approx((100 - 1 / 12 - 99.70 - 0.2) * 0.3048)
    assert worked["height_room"] == [
        {"name": "weighing house sill", "up_m": None, "down_m": left},
        {"name": "town walk", "up_m": left, "down_m": None},
    ]
    assert reviewing.judge(BAY, reviewing.Settings(), figured=False).report.worked == {}
