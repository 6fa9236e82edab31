"""Designs to start from: what is typed is read as meant, and a review of what is written finds nothing to settle."""

from __future__ import annotations

import json
import math
import os
import pty
import random
import re
import select
import sys
from pathlib import Path
from urllib.request import url2pathname

import pytest
import slabwright
from hypothesis import given
from hypothesis import strategies as st
from slabwright.cli import beginning
from slabwright.cli.main import main
from slabwright.design.model import Design
from slabwright.design.read import read_text
from slabwright.design.starter.answers import answered
from slabwright.design.starter.shape import read_size
from slabwright.design.starter.sketch import grid
from slabwright.design.uses import CALLED
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading
from slabwright.source.problem import Problem, UnreadableError

FOOT = 0.3048  # m, exactly

# A usual size for each use, in feet and in meters.
SIZES = {
    "patio": ("12 ft x 16 ft", "4 m x 5 m"),
    "walk": ("4 ft x 30 ft", "1.2 m x 9 m"),
    "driveway": ("20 ft x 40 ft", "6 m x 12 m"),
    "vehicle pad": ("14 ft x 40 ft", "4.2 m x 12 m"),
    "garage floor": ("24 ft x 24 ft", "7.2 m x 7.2 m"),
    "shop floor": ("40 ft x 60 ft", "12 m x 18 m"),
    "equipment pad": ("10 ft x 10 ft", "3 m x 3 m"),
    "sport court": ("30 ft x 30 ft",),
    "pool deck": ("10 ft x 24 ft",),
    "bin store": ("2 m x 4 m",),
    "carport": ("20 ft x 20 ft",),
    "shed base": ("3 m x 4 m",),
    "barn floor": ("24 ft x 36 ft",),
}
EVERY = [(use, size) for use, sizes in SIZES.items() for size in sizes]
L, U = "20 ft x 12 ft + 8 ft x 10 ft", "8 m x 3 m + 2.5 m x 3 m + 2.2 m x 4 m"
TAPED = "20 ft, 16 ft, 20'-3\", 16'-2\", diagonal 25'-9\""


def typed(use: str, size: str, **options: str) -> str:
    return beginning.design(answered({"use": use, "size": size, **options}))


def read(text: str) -> tuple[Design, tuple[Problem, ...]]:
    return read_text(Path("starter.slab.yaml"), text)


def reviewed(design: Design) -> Report:
    rules = loading.load_rules()
    return run.review(Plan(design), rules, limits.resolve(rules))


def settled(text: str) -> Report:
    """The review of a text that reads without a question; fails where it finds more than a note."""
    design, questions = read(text)
    assert questions == ()
    report = reviewed(design)
    assert [(c.rule, c.weight, c.at.name) for c in report.comments if c.weight != "note"] == []
    assert (report.crashes, report.questions) == ((), ())
    return report


def test_every_use_is_tried() -> None:
    assert tuple(SIZES) == CALLED


@pytest.mark.parametrize(("use", "size"), EVERY)
def test_a_starter_has_nothing_to_settle_and_orders_what_it_needs(use: str, size: str) -> None:
    text = typed(use, size)
    design, _ = read(text)
    wanted = read_size(size)
    assert (design.called, design.system) == (use, wanted.system)
    assert Plan(design).shape.area == pytest.approx(wanted.area)
    assert len(settled(text).met) >= 3
    assert design.order is not None and design.order.volume is not None
    need = Plan(design).concrete.quantities.net * 1.08  # the starter's allowance
    assert need - 1e-9 <= design.order.volume.si <= need + 0.25 * 0.9144**3
    assert max(map(len, text.splitlines()[1:])) <= 120  # the first line is as long as the way to the schema


def test_a_few_of_all_answers_have_nothing_to_settle() -> None:
    """Drawn from all uses, shapes, walls, and answers to the other questions; ten with a fixed seed."""
    rng = random.Random(13)
    for number in range(10):
        use = CALLED[number % len(CALLED)]
        size = rng.choice([*SIZES[use], *((L, U, TAPED) if use != "walk" else ())])
        options = {
            "freezing": rng.choice(["none", "moderate", "severe", "salt"]),
            "steel": rng.choice(["none", "bars", "mesh", "fiber"]),
            "method": rng.choice(["chute", "pump", "buggy", "wheelbarrow"]),
            "wall": rng.choice(["none", *read_size(size).sides]),
        }
        settled(typed(use, size, **options))


@pytest.mark.parametrize("use", ["walk", "shop floor"])
def test_odd_sizes_read_too(use: str) -> None:
    for size in ("3'-7 1/2\" x 33'-5\"", "0.6 m x 60 m", "200 ft x 200 ft", "7.35 m by 4.05 m", "2500 mm x 3000 mm"):
        assert Plan(read(typed(use, size))[0]).shape.area == pytest.approx(read_size(size).area, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "width", "depth", "system"),
    [
        ("20 ft x 40 ft", 20 * FOOT, 40 * FOOT, "us"),
        ("20 x 40 ft", 20 * FOOT, 40 * FOOT, "us"),
        ("12'-6\" x 16'", 12.5 * FOOT, 16 * FOOT, "us"),
        ("20 x 40'", 20 * FOOT, 40 * FOOT, "us"),
        ("6 m x 12 m", 6.0, 12.0, "metric"),
        ("6m×12m", 6.0, 12.0, "metric"),
        ("2500 mm by 3 m", 2.5, 3.0, "metric"),
        ("120 in x 240 in", 10 * FOOT, 20 * FOOT, "us"),
    ],
)
def test_sizes_are_read_as_crews_write_them(text: str, width: float, depth: float, system: str) -> None:
    outline = read_size(text)
    assert outline.corners[2] == pytest.approx((width, depth))
    assert outline.system == system


def test_an_l_and_a_u_by_their_sides() -> None:
    feet = [(round(x / FOOT, 6), round(y / FOOT, 6)) for x, y in read_size("20 x 12 + 8 x 10 ft").corners]
    assert feet == [(0, 0), (20, 0), (20, 12), (8, 12), (8, 22), (0, 22)]
    outline = read_size(U)
    assert outline.area == pytest.approx(8 * 3 + 2.5 * 3 + 2.2 * 4)
    assert [outline.letters[at] for at in outline.inside_corners()] == ["E", "F"]


def test_four_taped_sides_and_a_diagonal_give_the_shape() -> None:
    """Two triangles of 3, 4 and 5, and the same laid over to a rhomb by its diagonals 6 and 8 (Euclid)."""
    for text in ("4 m, 3 m, 4 m, 3 m, diagonal 5 m", "A-C 5 m, B-C 3 m, D-A 3 m, A-B 4 m, C-D 4 m", "4, 3, 4, 3, 5 m"):
        flat = [one for at in read_size(text).corners for one in at]
        assert flat == pytest.approx([0, 0, 4, 0, 4, 3, 0, 3], abs=1e-9)
    rhomb = read_size("5 m, 5 m, 5 m, 5 m, diagonal 8 m")
    assert rhomb.area == pytest.approx(6 * 8 / 2)
    assert math.dist(rhomb.corners[1], rhomb.corners[3]) == pytest.approx(6)
    design, _ = read(typed("patio", TAPED))
    assert [one.length.typed for one in design.measured] == ["20 ft", "16 ft", "20'-3\"", "16'-2\"", "25'-9\""]


@pytest.mark.parametrize(
    "text", ["", "20 ft", "20 x 40", "20 ft x 40 ft x 4 in", "-4 ft x 10 ft", "1 ft x 10 ft", "10 ft x 300 ft", "a x b",
             "nan ft x 4 ft", "1e9 ft x 4 ft", "20 psi x 40 psi", "x", "20 ft x", "20 ft x 12 ft + 20 ft x 10 ft",
             "20 ft x 12 ft + 10 ft x 9 ft + 10 ft x 9 ft", "20 ft x 9 ft + 8 ft", "4 m, 3 m, 4 m, 3 m",
             "4 m, 3 m, 4 m, 3 m, diagonal 7.2 m", "4 m, 3 m, 1 m, 5.887 m, diagonal 5 m",
             "A-B 4 m, 3 m, 4 m, 3 m, B-D 5 m", "4 m, A-B 3 m, 4 m, 3 m, 5 m"],
)  # fmt: skip
def test_sizes_that_make_no_slab_are_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        read_size(text)
    assert all(problem.wrong and problem.write for problem in refused.value.problems)


@pytest.mark.parametrize(
    ("options", "wrong", "write"),
    [
        ({"use": "drivway"}, 'there is no use "drivway"', "driveway"),
        ({"use": "qqq"}, 'there is no use "qqq"', "equipment pad"),
        ({"wall": "E-F"}, '"E-F" names no side', "A-B, B-C, C-D, D-A, or none"),
        ({"wall": "A-B, C-D"}, "one plane cannot fall away from A-B and C-D at once", "two that meet at a corner"),
        ({"water": "A-B"}, "A-B is a wall", "B-C, C-D, D-A"),
        ({"wall": "B-A", "size": L, "water": "none"}, "stays on the slab", "C-D"),
        ({"thickness": "5"}, '"5" has no unit', "5 in"),
        ({"thickness": "3 in"}, "3 in is too thin for a patio", "4 in or more"),
        ({"thickness": "3 ft"}, "3 ft is thicker than one board forms", "4 in"),
        ({"freezing": "hardly"}, '"hardly" is not known here', "severe"),
        ({"method": "crane"}, '"crane" is not known here', "chute"),
    ],
)
def test_answers_that_cannot_be_read_say_what_to_write(options: dict[str, str], wrong: str, write: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        answered({"use": "patio", "size": "12 ft x 16 ft", **options})
    (problem,) = refused.value.problems
    assert wrong in problem.wrong
    assert write in problem.write


@given(width=st.floats(0.6, 60), depth=st.floats(0.6, 60), longest=st.floats(1.8, 4.5))
def test_grid_keeps_panels_short_and_near_square(width: float, depth: float, longest: float) -> None:
    across, along = grid(width, depth, longest)
    sides = sorted((width / across, depth / along))
    assert sides[1] <= longest * (1 + 1e-6)
    assert sides[1] / sides[0] <= 1.25 * (1 + 1e-6)


@pytest.mark.parametrize(
    ("width", "depth", "longest", "expected"), [(6, 12, 3, (2, 4)), (1.2, 9, 2.4, (1, 6)), (2, 2, 3, (1, 1))]
)
def test_grid_by_hand(width: float, depth: float, longest: float, expected: tuple[int, int]) -> None:
    # 9 m in bays of at most 1.25 x 1.2 m = 1.5 m: six
    assert grid(width, depth, longest) == expected


def test_the_first_line_leads_an_editor_to_the_schema_on_this_computer() -> None:
    """As the YAML language server reads it: a comment whose ``$schema=`` runs to the next blank, here a file URI."""
    first = typed("patio", "12 ft x 16 ft").splitlines()[0]
    found = re.fullmatch(r"#\s+yaml-language-server\s*:\s*\$schema=(file://(\S+))", first)
    assert found is not None
    schema = json.loads(Path(url2pathname(found[2])).read_text(encoding="utf-8"))
    assert schema["$id"] == "urn:slabwright:design:1"


# --- on a terminal ---


def talk(folder: Path, answers: list[bytes], *options: str) -> tuple[int, str]:
    """Run ``begin`` on a terminal of its own and answer each question; the status and what stood on the screen."""
    child, screen = pty.fork()
    if child == 0:
        os.chdir(folder)
        env = {**os.environ, "PYTHONPATH": str(Path(slabwright.__file__).parents[1]), "TERM": "dumb"}
        os.execve(sys.executable, [sys.executable, "-P", "-m", "slabwright", "begin", *options], env)
    shown, left = b"", list(answers)
    last, waits = b"", 0
    while waits < 20:
        if not select.select([screen], [], [], 3)[0]:
            waits += 1
            if last in (b"\x03", b"\x04"):  # such a key is lost where it is pressed while the terminal is being set up
                os.write(screen, last)
            continue
        try:
            more = os.read(screen, 4096)
        except OSError:  # the other side is closed
            break
        if not more:
            break
        shown += more
        if left and shown.endswith(b"] "):
            last = left.pop(0)
            os.write(screen, last)
    os.close(screen)  # whoever still waits for an answer gets none
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return status, shown.decode()


def test_eight_questions_write_a_file_that_reviews_without_hold(tmp_path: Path) -> None:
    answers = [
        b"sidewalks\n",
        b"walk\n",
        b"4 ft x 30 ft\n",
        b"A-D\n",
        b"\n",
        b"4\n",
        b"4 in\n",
        b"moderate\n",
        b"\n",
        b"\n",
    ]
    status, shown = talk(tmp_path, answers)
    assert status == 0
    assert "8 of 8" in shown and "9 of" not in shown
    assert "write: 4 in or 4 mm" in shown.replace("\r", "")
    assert "next: slabwright review walk.slab.yaml" in shown
    text = (tmp_path / "walk.slab.yaml").read_text(encoding="utf-8")
    assert text == typed("walk", "4 ft x 30 ft", wall="D-A", thickness="4 in", freezing="moderate")
    settled(text)


@pytest.mark.parametrize("end", [b"\x03", b"\x04"], ids=["Ctrl-C", "end of input"])
def test_who_stops_leaves_no_file(end: bytes, tmp_path: Path) -> None:
    status, shown = talk(tmp_path, [b"12 ft x 16 ft\n", b"\n", end], "--use", "patio")
    assert status == 130
    assert "1 of 7" in shown and "stopped" in shown
    assert list(tmp_path.iterdir()) == []


def test_nobody_is_asked_without_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["begin", "--use", "patio"]) == 2
    assert "--size is not given, and nobody can be asked here" in capsys.readouterr().err
