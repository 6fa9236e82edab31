"""The verdict on water hangs neither on how a plan is turned nor on where its outline starts."""

from __future__ import annotations

import math

import numpy as np
import pytest
from design_text import plan_of
from sloped import design, plane

OPEN_AND_BARRED = (
    "run: [A, B], beside: property line, name: fence line\nrun: [B, C], beside: lawn, name: lawn\nrest: curb"
)


@pytest.mark.parametrize("outline", ["A B C D", "B C D A", "C D A B", "D A B C", "D C B A", "B A D C", "A D C B"])
def test_water_at_a_corner_leaves_over_the_edge_that_may_take_it(outline: str) -> None:
    # curbs along C-D and D-A bring their water, of a plane that falls straight to B, to no corner but B; the water of
    # the rest runs out square to the fall, over either edge: by symmetry of the square half over each
    square = {"A": (0, 0), "B": (12, 0), "C": (12, 12), "D": (0, 12)}
    text = design(square, plane(square, -0.02, 0.02), OPEN_AND_BARRED, outline=outline)
    water = plan_of(text).water
    assert water is not None
    shares = {one.to: one.share for one in water.shares}
    assert shares == pytest.approx({"fence line": 0.5, "lawn": 0.5})


@pytest.mark.parametrize("outline", ["A B C D", "B C D A", "C D A B", "D A B C", "D C B A"])
def test_a_valley_into_a_corner_leaves_over_the_edge_that_may_take_it(outline: str) -> None:
    # heights fold along A-C, a valley: all water runs to it and down to C, the corner of the two edges
    square = {"A": (0, 0), "B": (12, 0), "C": (12, 12), "D": (0, 12)}
    edges = "run: [B, C], beside: property line, name: fence line\nrun: [C, D], beside: lawn, name: lawn\nrest: curb"
    text = design(square, {"A": 99.9, "B": 100.0, "C": 99.6, "D": 100.0}, edges, outline=outline)
    water = plan_of(text).water
    assert water is not None
    assert {one.to: one.share for one in water.shares} == pytest.approx({"lawn": 1})


@pytest.mark.parametrize("heights", [11, 14, 20, 35])
def test_a_grid_of_heights_folds_alike_however_it_is_turned(heights: int) -> None:
    """Squares whose diagonals are of one height fold the same way at every turn; these did not."""
    chance = np.random.default_rng(heights)
    wide, deep = int(chance.integers(2, 4)), int(chance.integers(2, 4))
    places = {f"G{i}_{j}": (i * 8.0, j * 8.0) for i in range(wide + 1) for j in range(deep + 1)}
    typed = {
        name: 100 + round(-0.01 * x + (0.02 * y if heights % 2 else 0) + round(float(chance.uniform(-0.1, 0.1)), 2), 2)
        for name, (x, y) in places.items()
    }
    ring = [f"G{i}_0" for i in range(wide)] + [f"G{wide}_{j}" for j in range(deep)]
    ring += [f"G{i}_{deep}" for i in range(wide, 0, -1)] + [f"G0_{j}" for j in range(deep, 0, -1)]
    found = []
    for turn, start in ((0, 0), (0, 3), (37, 0), (90, 0), (180, 0)):
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        turned = {name: (round(c * x - s * y, 9), round(s * x + c * y, 9)) for name, (x, y) in places.items()}
        folds = plan_of(design(turned, typed, "rest: lawn", outline=" ".join(ring[start:] + ring[:start]))).finish.folds
        found.append(sorted(abs(fold.height - fold.other_height) for fold in folds))
    assert found[0]
    assert all(one == pytest.approx(found[0], abs=1e-6) for one in found)
