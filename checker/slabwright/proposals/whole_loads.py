"""Rows of straight lines across an area of a slab between which each pour but one uses whole truck loads up.

The area is the slab, or what lies between its construction joints. Placing goes from one end of it to the other, along
each direction of the slab's sides. The volume up to a line comes from the worked plan of the slab cut into strips, so
parts, thickened edges and a base that was shot count as they are.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.design.joints import Joint
from slabwright.design.point import Point
from slabwright.formulas.ordering import loads
from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.proposals.layout.asked import Floats
from slabwright.proposals.layout.cuts import Line, Slab
from slabwright.proposals.pours import Load, ends_of, within

STRIP = FOOT  # m: so wide are the strips in which the volume is taken
MOST_STRIPS = 240
STEP = {"us": INCH, "metric": 0.01}  # m, to which a line is set, so that a pour never takes more than its loads
HAIR = 0.002  # of a pour, kept free for what strips do not see
NARROW = 0.3  # m: nearer to an end, or to each other, no two lines lie
MOST_ROWS = 24  # along one direction


class Row(NamedTuple):
    """Lines one behind the other, clipped to the area that they part, and cuts that go on in them in areas beside it.

    A line that stopped at a construction joint would end on its side.
    """

    lines: tuple[Line, ...] = ()
    on: tuple[Line, ...] = ()

    @property
    def length(self) -> float:
        """How long all of them are together, m."""
        return sum(math.dist(a, b) for line in (*self.lines, *self.on) for a, b in pairwise(line))

    @property
    def worth(self) -> tuple[float, tuple[Line, ...]]:
        """What rows are ordered by: the shortest first."""
        return round(self.length, 4), self.lines

    def beside(self, other: Row) -> Row:
        """This row and one of another area; where one goes on in a line of the other, no cut is laid."""
        lines = (*self.lines, *other.lines)
        on = dict.fromkeys((*self.on, *other.on))
        return Row(lines, tuple(one for one in on if not any(_alike(one, line) for line in lines)))


def rows(
    plan: Plan, areas: Sequence[Slab], parted: int, directions: Sequence[float], load: Load, most: int
) -> list[Row]:
    """Rows across one of the areas with the fewest pours and the fewest loads, so many of the shortest.

    ``parted`` is its number. Empty where one pour takes it all.
    """
    found: set[Row] = set()
    for angle in directions:
        for way in ((math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))):
            at, placed = _placed(plan, way, areas[parted].shape)
            needed = placed * (1 + load.share) * (1 + HAIR)
            for stations in _stations(at, needed, load.truck, load.most, STEP[plan.home]):
                each = [[area.chords((way[0] * c, way[1] * c), (-way[1], way[0])) for area in areas] for c in stations]
                if all(chords[parted] for chords in each):
                    lines = [_typed(line) for chords in each for line in chords[parted]]
                    on = [
                        _typed(line) for chords in each for n, part in enumerate(chords) if n != parted for line in part
                    ]
                    found.add(Row(tuple(lines), tuple(on)))
    return sorted(found, key=lambda row: row.worth)[:most]


def together(each: Sequence[Sequence[Row]], most: int) -> list[Row]:
    """One row of each area, so many of the shortest together."""
    found = [Row()]
    for of_area in each:
        found = sorted((one.beside(row) for one in found for row in of_area), key=lambda row: row.worth)[:most]
    return found


def _alike(one: Line, other: Line) -> bool:
    return all(math.dist(a, b) < STEP["us"] / 2 for a, b in zip(one, other, strict=True))


def _typed(line: Line) -> Line:
    """A line from left to right, without minus nothing."""
    first, last = sorted((round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in line)
    return first, last


def _placed(plan: Plan, way: XY, area: shapely.Polygon) -> tuple[Floats, Floats]:
    """Stations along a direction, m, and the volume of an area up to each, m3."""
    corners = shapely.get_coordinates(area) @ np.array(way)
    low, high = float(corners.min()), float(corners.max())
    count = min(MOST_STRIPS, max(2, math.ceil((high - low) / STRIP)))
    inner = np.linspace(low, high, count + 1)[1:-1]
    inner = inner[np.abs(inner[:, None] - corners[None, :]).min(axis=1) > 1e-3]
    reach = float(np.abs(shapely.get_coordinates(plan.shape.slab)).max()) * 2 + 1
    joints = [joint for joint in plan.design.joints if joint.name in ends_of(plan)]
    for number, c in enumerate(inner.tolist()):
        ends = [(way[0] * c - way[1] * far, way[1] * c + way[0] * far) for far in (-reach, reach)]
        joints.append(Joint(f"strip {number}", "construction joint", tuple(Point(*end) for end in ends)))
    cut = plan.edited(plan.design._replace(joints=tuple(joints)), {"joints"})
    inside = within(cut, area)
    middles = np.array([panel.polygon.representative_point().coords[0] for panel in cut.joints.layout.panels])
    strip = np.searchsorted(inner, middles[inside] @ np.array(way))
    volumes = np.bincount(strip, weights=cut.concrete.panel_volumes[inside], minlength=len(inner) + 1)
    return np.array([low, *inner, high]), np.concatenate([[0.0], np.cumsum(volumes)])


def _stations(at: Floats, needed: Floats, truck: float, most: int, step: float) -> Iterator[tuple[float, ...]]:
    """Where the lines of a row lie; ``needed`` is what is needed up to each of ``at``, m3."""
    trucks = loads(float(needed[-1]), truck)
    pours = math.ceil(trucks / most)
    seen = 0
    for each in _parts(trucks, pours, most) if pours > 1 else ():
        for odd in range(pours):
            row = _row(at, needed, truck, each, odd, step)
            if row is not None:
                yield row
                seen += 1
            if seen == MOST_ROWS:
                return


def _parts(trucks: int, pours: int, most: int) -> Iterator[tuple[int, ...]]:
    """Every way to share loads out among pours, the fullest first."""
    if pours == 1:
        if 0 < trucks <= most:
            yield (trucks,)
        return
    for first in range(min(most, trucks - pours + 1), 0, -1):
        for rest in _parts(trucks - first, pours - 1, most):
            yield (first, *rest)


def _row(
    at: Floats, needed: Floats, truck: float, each: tuple[int, ...], odd: int, step: float
) -> tuple[float, ...] | None:
    """Lines from both ends up to the pour that takes the rest, each set back to a whole step of its own end."""
    low, high = float(at[0]), float(at[-1])
    forward, back = [low], [high]
    for trucks in each[:odd]:
        full = float(np.interp(forward[-1], at, needed)) + trucks * truck
        forward.append(low + math.floor((float(np.interp(full, needed, at)) - low) / step) * step)
    for trucks in reversed(each[odd + 1 :]):
        full = float(np.interp(back[-1], at, needed)) - trucks * truck
        back.append(high - math.floor((high - float(np.interp(full, needed, at))) / step) * step)
    row = [*forward, *reversed(back)]
    apart = all(b - a > NARROW for a, b in pairwise(row))
    return tuple(row[1:-1]) if apart else None
