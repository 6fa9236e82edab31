"""What is too large to be worked is refused with the reason; a point far outside the job is asked about."""

from __future__ import annotations

import math
import time
from pathlib import Path

import pytest
from design_text import pad
from slabwright.design.read import read_text
from slabwright.plan import questions
from slabwright.plan.plan import Plan
from slabwright.source.problem import UnreadableError

SQUARE = "[[0, 0], [40, 0], [40, 60], [0, 60]]"
CUT = "  - {{kind: saw cut, from: [{:.4f}, {:.4f}], to: [{:.4f}, {:.4f}], depth: 1 in}}\n"


def plan(rest: str = "", outline: str = SQUARE) -> Plan:
    return Plan(read_text(Path("pad.slab.yaml"), pad(rest, outline=outline))[0])


def joints(lines: list[tuple[float, float, float, float]]) -> str:
    return "joints:\n" + "".join(CUT.format(*line) for line in lines)


def ring(corners: int) -> str:
    turns = [2 * math.pi * number / corners for number in range(corners)]
    return "[" + ", ".join(f"[{50 * math.cos(turn):.4f}, {50 * math.sin(turn):.4f}]" for turn in turns) + "]"


def fan(number: int) -> tuple[float, float, float, float]:
    turn = math.pi * number / 500
    return (20 - 19 * math.cos(turn), 30 - 19 * math.sin(turn), 20 + 19 * math.cos(turn), 30 + 19 * math.sin(turn))


# 4,950 pairs of 100 lines 1.8 degrees apart; 47 to 53 steps are square to some 6 degrees, and 1 to 3 in line.
FANNED = f"joints meet each other {4950 - sum(100 - n for n in (*range(47, 54), 1, 2, 3, 97, 98, 99)):,} times aslant"
HEIGHTS = "heights:\n  finish: {" + ", ".join(f"P{n}: 99.5" for n in range(5000)) + "}\n"
POINTS = "points: {" + ", ".join(f"P{n}: [{n % 70 / 2 + 1}, {n // 70 / 2 + 1}]" for n in range(5000)) + "}\n"


@pytest.mark.parametrize(
    ("rest", "outline", "told"),
    [
        ("", "[[0, 0], [24, 0], [3000000, 40], [0, 40]]", "the slab would be 3,000,000 ft long out to (3000000 ft"),
        ("", "[[0, 0], [20, 0], [20, 12], {arc_to: [0, 12], through: [10, 9000]}]", "slab would be 9,000 ft long"),
        (joints([(0, 30, 40, 30)] * 3000), SQUARE, "3,000 joints lie on one line; J2 lies on J1"),
        (joints([(0, 30, 40, 30)] * 300), SQUARE, "300 joints lie on one line; J2 lies on J1"),
        (joints([(0, n / 100, 40, n / 100) for n in range(1, 3000)]), SQUARE, "there are 2,999 joints"),
        ("", ring(1500), "the outline and the openings have 1,500 corners"),
        (POINTS + HEIGHTS, SQUARE, "the finish has 5,000 heights"),
        (joints([fan(n) for n in range(500)]), SQUARE, "there are 500 joints, and at most 400 are worked"),
        (joints([fan(n * 5) for n in range(100)]), SQUARE, FANNED),
        (
            joints([(0, n, 40, n) for n in range(1, 60)] + [(n / 2, 0, n / 2, 60) for n in range(1, 80)]), SQUARE,
            "138 joints that meet 4,661 times would cut panels of less than 10 ft2",
        ),
    ],
    ids=["long", "arc", "coincident", "fewer coincident", "many", "corners", "heights", "500 through a point",
         "100 through a point", "small panels"],
)  # fmt: skip
def test_what_cannot_be_worked_is_refused_with_the_reason(rest: str, outline: str, told: str) -> None:
    began = time.process_time()

    with pytest.raises(UnreadableError) as caught:
        plan(rest, outline)

    assert told in caught.value.problems[0].wrong
    assert caught.value.problems[0].write
    assert time.process_time() - began < 10


def test_a_floor_of_ordinary_panels_is_worked() -> None:
    """600 by 600 ft in panels of 15 ft: 1,521 places where joints meet."""
    lines = [(0, 15 * n, 600, 15 * n) for n in range(1, 40)] + [(15 * n, 0, 15 * n, 600) for n in range(1, 40)]

    assert len(plan(joints(lines), "[[0, 0], [600, 0], [600, 600], [0, 600]]").panels.all) == 1600


@pytest.mark.parametrize(
    ("rest", "name"),
    [
        ("points: {Z: [3000000, 40]}\n", "Z"),
        (joints([(0, 30, 3000000, 30)]), "(3000000.0000 ft, 30.0000 ft)"),
        ("fixtures:\n  - {kind: drain, at: [20, -3000]}\n", "(20 ft, -3000 ft)"),
        ("site: {accessible_route: [[3000000, 30], [20, 30]]}\n", "(3000000 ft, 30 ft)"),
    ],
)
def test_a_point_far_outside_the_job_is_asked_about(rest: str, name: str) -> None:
    asked = [one.wrong for one in questions.ask(plan(rest))]

    assert any(one.startswith(f"{name} lies ") and one.endswith("off the slab") for one in asked), asked
    assert not any("off the slab" in one.wrong for one in questions.ask(plan("points: {Z: [300, 40]}\n")))
