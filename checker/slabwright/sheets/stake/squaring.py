"""Squaring a slab: its main rectangle, the 3-4-5 triangle that fits, and what a measured diagonal tells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, count
from math import degrees, floor

import numpy as np
import shapely

from slabwright.formulas import layout
from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.sheets.stake.lines import Line, corner_names
from slabwright.sheets.stake.pins import taken
from slabwright.units.quantity import System

TOLERANCE = 0.25 * INCH / (20 * FOOT)  # of a diagonal's length: 1/4 in in 20 ft, `common-practice`
INSIDE, LEG = "the largest inside the outline", "a further leg"
_MOST_SIDES = 14  # distinct places along or off the line that inside rectangles are tried between
_MOST_LEGS = 4
_LEAST_LEG = 0.08  # of the slab: less is taped from the sides that are square already
_TIED = 0.3  # m of a side that a leg shares with what is square already
_MARKS = ("R", "SQ", "XR", "XSQ")  # what corners that are none of the slab are called by, the first that is free

# Steps that the multiple of 3-4-5 is taken in, m: whole feet or half meters, else inches or decimeters.
_STEPS: dict[System, tuple[float, ...]] = {"us": (FOOT, INCH), "metric": (0.5, 0.1, 0.01)}


@dataclass(frozen=True, slots=True)
class Rectangle:
    """The rectangle that strings are set to: corners in order from the line's first corner; sides in m."""

    corners: tuple[XY, XY, XY, XY]
    names: tuple[str, str, str, str]
    marks: tuple[str, ...]  # those of the names that are no corner of the slab
    along: float  # side along the line
    off: float  # side off it
    what: str  # "the slab itself", "the largest inside the outline", "a further leg", "the one round the outline"

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


def rectangles(plan: Plan, line: Line) -> tuple[Rectangle, ...]:
    """The main rectangle, and for a bent slab one for each further leg, tied along a side to those before it.

    Each leg is the rectangle inside the outline that covers most of what is left; of equals, the one that needs the
    fewest corners that are none of the slab.
    """
    main, inside = _rectangles(plan, line)
    found, done = [main], _shape(line, _box(line, main))
    while main.what == INSIDE and len(found) < _MOST_LEGS:
        best: tuple[float, int, Rectangle] | None = None
        for box in inside:
            fresh = _shape(line, box)
            gain = round(float(shapely.difference(fresh, done).area), 6)
            tied = float(shapely.intersection(shapely.boundary(fresh), shapely.buffer(done, ON_EDGE)).length)
            if gain < _LEAST_LEG * plan.shape.ring.polygon.area or tied < _TIED or (best and gain < best[0]):
                continue
            made = _made(plan, line, box, LEG, found)
            new = len(set(made.marks) - {mark for one in found for mark in one.marks})
            if best is None or (gain, -new) > (best[0], -best[1]):
                best = (gain, new, made)
        if best is None:
            break
        found.append(best[2])
        done = done.union(_shape(line, _box(line, best[2])))
    return tuple(found)


_Box = tuple[float, float, float, float]  # along from, off from, along to, off to


def _box(line: Line, rectangle: Rectangle) -> _Box:
    places = line.of(np.array(rectangle.corners))
    return (*places.min(axis=0).tolist(), *places.max(axis=0).tolist())


def _rectangles(plan: Plan, line: Line) -> tuple[Rectangle, list[_Box]]:
    """The main rectangle, and the places of all rectangles between the corners that lie inside, largest first."""
    shape = plan.shape.ring.polygon
    corners = np.array([[c.at.x, c.at.y] for c in plan.design.outline])
    places = line.of(corners)
    box = line.of(np.asarray(shape.exterior.coords)[:, :2])
    (u0, v0), (u1, v1) = box.min(axis=0), box.max(axis=0)
    if shape.area > (u1 - u0) * (v1 - v0) * (1 - 1e-6):
        return _made(plan, line, (u0, v0, u1, v1), "the slab itself"), []
    across, up = (sorted({round(float(x), 4) for x in places[:, k]}) for k in (0, 1))
    inside: list[_Box] = []
    if max(len(across), len(up)) <= _MOST_SIDES:
        roomy = shape.buffer(ON_EDGE)
        tries = sorted(
            (((b - a) * (d - c), (a, c, b, d)) for a, b in combinations(across, 2) for c, d in combinations(up, 2)),
            reverse=True,
        )
        inside = [box for _, box in tries if roomy.contains(_shape(line, box))]
    if inside and (inside[0][2] - inside[0][0]) * (inside[0][3] - inside[0][1]) > 0.25 * shape.area:
        return _made(plan, line, inside[0], INSIDE), inside
    return _made(plan, line, (u0, v0, u1, v1), "the one round the outline"), []


def _shape(line: Line, box: _Box) -> shapely.Polygon:
    u0, v0, u1, v1 = box
    return shapely.Polygon(line.back(np.array([[u0, v0], [u1, v0], [u1, v1], [u0, v1]])))


def _made(plan: Plan, line: Line, box: _Box, what: str, before: Sequence[Rectangle] = ()) -> Rectangle:
    u0, v0, u1, v1 = (float(x) for x in box)
    xy = line.back(np.array([[u0, v0], [u1, v0], [u1, v1], [u0, v1]]))
    named = list(corner_names(plan).items())
    named += [(at, name) for one in before for at, name in zip(one.corners, one.names, strict=True)]
    strange = {name for one in before for name in one.marks}
    used = {*taken(plan), *(name for _, name in named)}
    own = (letter for letter in _MARKS if not any(re.fullmatch(rf"{letter}\d*", name) for name in used - strange))
    letter = next(own, _MARKS[-1])
    fresh = (mark for mark in (f"{letter}{number}" for number in count(1)) if mark not in used)
    corners, names, marks = [], [], []
    for x, y in xy.tolist():
        near = next((name for (a, b), name in named if abs(a - x) + abs(b - y) < 2 * ON_EDGE), "") or next(fresh)
        corners.append((x, y))
        names.append(near)
        if near in strange or near not in used:
            marks.append(near)
    return Rectangle(tuple(corners), tuple(names), tuple(marks), u1 - u0, v1 - v0, what)  # type: ignore[arg-type]


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
