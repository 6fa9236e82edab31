"""A small picture of a plan in characters: which way the slab falls, or where its joints lie."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan

COLUMNS, ROWS = 56, 16  # at most
TALL = 2.0  # a character is so many times as high as it is wide
ARROWS = {"utf-8": "→↗↑↖←↙↓↘", "ascii": ">/^\\</v\\"}  # by eighths of a turn, from the right
LEVEL = 0.001  # slope: less is level


def falls(plan: Plan, encoding: str) -> list[str]:
    """An arrow downhill in each part of the slab, names of points with a height at their places."""
    surface = plan.finish.surface
    if surface is None:
        return []
    arrows = ARROWS["utf-8" if encoding.lower().replace("_", "-").startswith("utf") else "ascii"]

    def sign(at: XY) -> str:
        facets = plan.finish.facets_at(at)
        x, y = -surface.gradients[facets[0]] if facets else (0.0, 0.0)
        return "." if math.hypot(x, y) < LEVEL else arrows[round(math.atan2(y, x) / (math.pi / 4)) % 8]

    return _picture(plan, sign, [])


def joints(plan: Plan) -> list[str]:
    """Cuts as lines, construction joints as #, the slab as dots."""
    counting = [joint for joint in plan.joints.all if joint.counts]
    lines = [(joint.line, "#" if joint.joint.kind == "construction joint" else "") for joint in counting]
    return _picture(plan, lambda _: ".", lines, names=False)


def _picture(
    plan: Plan, sign: Callable[[XY], str], lines: Sequence[tuple[tuple[XY, ...], str]], names: bool = True
) -> list[str]:
    """A sign in every cell that lies on the slab, ``lines`` over it, each in a sign of its own or as it runs."""
    left, low, right, high = plan.shape.slab.bounds
    wide, deep = right - left, high - low
    cell = max(wide / COLUMNS, deep / (ROWS * TALL))
    columns, rows = max(2, round(wide / cell)), max(2, round(deep / (cell * TALL)))
    x = left + (np.arange(columns) + 0.5) * wide / columns
    y = high - (np.arange(rows) + 0.5) * deep / rows
    inside = shapely.contains_xy(plan.shape.slab, *np.meshgrid(x, y))
    cells = [[sign((float(x[c]), float(y[r]))) if inside[r, c] else " " for c in range(columns)] for r in range(rows)]

    def place(at: XY) -> tuple[int, int]:
        column = min(columns - 1, max(0, int((at[0] - left) / wide * columns)))
        return min(rows - 1, max(0, int((high - at[1]) / deep * rows))), column

    for line, own in lines:
        for r, c, steep in _along(line, place, min(cell, cell * TALL) / 2):
            cells[r][c] = own or ("|" if steep else "-") if cells[r][c] in ".|-" else cells[r][c]
    for spot in plan.design.heights.finish if names else ():
        r, c = place((spot.at.x, spot.at.y))
        start = min(c, columns - len(spot.at.name))
        for number, letter in enumerate(spot.at.name[:4] if start >= 0 else ""):
            cells[r][start + number] = letter if letter.isprintable() else "?"
    return ["".join(row).rstrip() for row in cells]


def _along(
    line: tuple[XY, ...], place: Callable[[XY], tuple[int, int]], step: float
) -> Iterator[tuple[int, int, bool]]:
    """The cells that a line goes through, and whether it is steep there."""
    for (ax, ay), (bx, by) in pairwise(line):
        count = max(1, math.ceil(math.dist((ax, ay), (bx, by)) / step))
        for k in range(count + 1):
            r, c = place((ax + (bx - ax) * k / count, ay + (by - ay) * k / count))
            yield r, c, abs(by - ay) > abs(bx - ax)
