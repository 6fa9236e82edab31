"""A height that lies far off all others is asked about by name, once; anything that is built like that is not."""

from __future__ import annotations

from pathlib import Path

import pytest
from design_text import pad
from slabwright.design.read import read_text

POINTS = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20], M: [10, 10], N: [10, 0]}\n"
PLANE = {"A": 100.0, "B": 100.0, "C": 99.6, "D": 99.6, "M": 99.8, "N": 100.0}  # 2 % from A-B to C-D


def asked(**surfaces: dict[str, float]) -> list[str]:
    """What is asked about a slab of 20 by 20 ft with these heights."""
    heights = ", ".join(
        f"{name}: {{{', '.join(f'{point}: {value}' for point, value in spots.items())}}}"
        for name, spots in surfaces.items()
    )
    text = pad(f"{POINTS}heights: {{{heights}}}", outline="[A, B, C, D]")
    return [one.wrong for one in read_text(Path("pad.slab.yaml"), text)[1]]


@pytest.mark.parametrize("surface", ["finish", "base", "existing"])
@pytest.mark.parametrize("name", ["A", "C", "M"])
@pytest.mark.parametrize("off", [1.0, -1.0, 0.5])
def test_one_height_a_foot_off_is_asked_about_by_name(surface: str, name: str, off: float) -> None:
    (wrong,) = asked(**{surface: PLANE | {name: PLANE[name] + off}})

    assert f" at {name} lies {abs(off):g} ft {'above' if off > 0 else 'below'} where the others put it" in wrong


def test_a_shot_on_the_base_is_held_against_the_finish() -> None:
    """Four shots are enough where the finish is known: three lie 0.35 ft under it, and one 1.35 ft."""
    finish = {name: PLANE[name] for name in "ABCD"}
    base = {name: round(height - 0.35, 2) for name, height in finish.items()}

    assert asked(finish=finish, base=base) == []
    assert asked(finish=finish, base=base | {"B": 98.65}) == [
        "the base at B lies 1 ft below where the other shots put it: is it misread?"
    ]


@pytest.mark.parametrize(
    "finish",
    [
        PLANE,
        PLANE | {"M": 99.4},  # a low of 5 in round a drain
        PLANE | {"A": 100.0, "B": 99.0, "C": 98.0, "D": 99.0, "M": 99.0, "N": 99.5},  # steep, and even
        {"A": 100.0, "B": 100.0, "C": 101.0, "D": 100.0},  # of four, any may be the one
        {"A": 100.0, "N": 100.0, "B": 101.0},
    ],
)
def test_what_is_built_so_is_not_asked_about(finish: dict[str, float]) -> None:
    assert not any("misread" in wrong for wrong in asked(finish=finish))
