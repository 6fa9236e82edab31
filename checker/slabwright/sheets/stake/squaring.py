"""Squaring a slab: its main rectangle, the 3-4-5 triangle that fits, and what a measured diagonal tells."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import degrees, floor

import numpy as np
import shapely

from slabwright.formulas import layout
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.plan.things import XY
from slabwright.sheets.stake.pins import Line, corner_names
from slabwright.units.quantity import System

INCH, FOOT = 0.0254, 0.3048
TOLERANCE = 0.25 * INCH / (20 * FOOT)  # of a diagonal's length: 1/4 in in 20 ft, `common-practice`
_MOST_SIDES = 14  # distinct places along or off the line that inside rectangles are tried between

# Steps that the multiple of 3-4-5 is taken in, m: whole feet or half meters, else inches or decimeters.
_STEPS: dict[System, tuple[float, ...]] = {"us": (FOOT, INCH), "metric": (0.5, 0.1, 0.01)}


@dataclass(frozen=True, slots=True)
class Rectangle:
    """The rectangle that strings are set to: corners in order from the line's first corner; sides in m."""

    corners: tuple[XY, XY, XY, XY]
    names: tuple[str, str, str, str]
    along: float  # side along the line
    off: float  # side off it
    what: str  # "the slab itself", "the largest inside the outline", "the one round the outline"

    @property
    def diagonal(self) -> float:
        """Each diagonal, m."""
        return layout.diagonal(self.along, self.off)


@dataclass(frozen=True, slots=True)
class Skew:
    """What one measured diagonal says: how much too long (or short, below zero) and what would put it right."""

    excess: float  # m
    shift: float  # m that the far side must move along itself
    angle: float  # degrees out of square
    allowed: float  # m of excess that passes
    fine: bool


def main_rectangle(plan: Plan, line: Line) -> Rectangle:
    """The rectangle in the direction of ``line``: the slab, else the largest inside it, else the one round it."""
    shape = plan.shape.ring.polygon
    corners = np.array([[c.at.x, c.at.y] for c in plan.design.outline])
    places = line.of(corners)
    box = line.of(np.asarray(shape.exterior.coords)[:, :2])
    (u0, v0), (u1, v1) = box.min(axis=0), box.max(axis=0)
    if shape.area > (u1 - u0) * (v1 - v0) * (1 - 1e-6):
        return _made(plan, line, (u0, v0, u1, v1), "the slab itself")
    across, up = (sorted({round(float(x), 4) for x in places[:, k]}) for k in (0, 1))
    best: tuple[float, tuple[float, float, float, float]] | None = None
    if max(len(across), len(up)) <= _MOST_SIDES:
        roomy = shape.buffer(ON_EDGE)
        tries = sorted(
            (((b - a) * (d - c), (a, c, b, d)) for a, b in combinations(across, 2) for c, d in combinations(up, 2)),
            reverse=True,
        )
        best = next((one for one in tries if roomy.contains(_shape(line, one[1]))), None)
    if best is not None and best[0] > 0.25 * shape.area:
        return _made(plan, line, best[1], "the largest inside the outline")
    return _made(plan, line, (u0, v0, u1, v1), "the one round the outline")


def _shape(line: Line, box: tuple[float, float, float, float]) -> shapely.Polygon:
    u0, v0, u1, v1 = box
    return shapely.Polygon(line.back(np.array([[u0, v0], [u1, v0], [u1, v1], [u0, v1]])))


def _made(plan: Plan, line: Line, box: tuple[float, float, float, float], what: str) -> Rectangle:
    u0, v0, u1, v1 = (float(x) for x in box)
    xy = line.back(np.array([[u0, v0], [u1, v0], [u1, v1], [u0, v1]]))
    named = corner_names(plan)
    corners, names = [], []
    for count, (x, y) in enumerate(xy.tolist()):
        near = next((name for (a, b), name in named.items() if abs(a - x) + abs(b - y) < 2 * ON_EDGE), "")
        corners.append((x, y))
        names.append(near or f"R{count + 1}")
    return Rectangle(tuple(corners), tuple(names), u1 - u0, v1 - v0, what)  # type: ignore[arg-type]


def three_four_five(one: float, other: float, system: System) -> tuple[float, float, float]:
    """The largest 3-4-5 triangle, m, in whole steps of its unit, whose legs fit sides ``one`` and ``other`` m.

    The first number is the leg along ``one``. Source: `layout-texts`.

    >>> [round(side / 0.3048) for side in three_four_five(24 * 0.3048, 22 * 0.3048, "us")]
    [24, 18, 30]
    """
    for step in _STEPS[system]:
        wide = floor(min(one / (4 * step), other / (3 * step)) + 1e-6)
        tall = floor(min(one / (3 * step), other / (4 * step)) + 1e-6)
        if max(wide, tall) >= 1:
            size = max(wide, tall) * step
            legs = (4 * size, 3 * size) if wide >= tall else (3 * size, 4 * size)
            return *legs, 5 * size
    return 0.75 * other, other, 1.25 * other  # under 4 cm: no slab


def skew(rectangle: Rectangle, measured: float) -> Skew:
    """What a diagonal measured at ``measured`` m says about a rectangle whose sides are right."""
    excess = measured - rectangle.diagonal
    shift = layout.racked_shift(rectangle.along, rectangle.off, 2 * abs(excess))
    angle = degrees(layout.out_of_square(rectangle.along, rectangle.off, abs(excess)))
    allowed = TOLERANCE * rectangle.diagonal
    return Skew(excess, shift, angle, allowed, abs(excess) <= allowed * (1 + 1e-6))
