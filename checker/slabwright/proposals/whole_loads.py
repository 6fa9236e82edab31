"""Rows of straight lines across a slab between which each pour but one uses whole truck loads up.

Placing goes from one end of the slab to the other, along each direction of its sides. The volume up to a line comes
from the worked plan of the slab cut into strips, so parts, thickened edges and a base that was shot count as they are.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.design.joints import Joint
from slabwright.design.point import Point
from slabwright.formulas.ordering import loads
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.proposals.layout.asked import Floats
from slabwright.proposals.layout.cuts import Line, Slab

STRIP = 0.3048  # m: so wide are the strips in which the volume is taken
MOST_STRIPS = 240
STEP = {"us": 0.0254, "metric": 0.01}  # m, to which a line is set, so that a pour never takes more than its loads
HAIR = 0.002  # of a pour, kept free for what strips do not see
NARROW = 0.3  # m: nearer to an end, or to each other, no two lines lie
MOST_ROWS = 24  # along one direction


class Row(NamedTuple):
    """Lines one behind the other, clipped to the slab, and how long they are together, m."""

    lines: tuple[Line, ...]
    length: float


def rows(plan: Plan, slab: Slab, directions: list[float], share: float, truck: float, most: int) -> list[Row]:
    """Every row with the fewest pours and the fewest loads, the shortest lines first.

    ``share`` is the allowance, ``truck`` a load, m3; ``most`` the loads of a pour. Empty where one pour takes it all.
    """
    found: dict[tuple[Line, ...], float] = {}
    for angle in directions:
        for way in ((math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))):
            at, placed = _placed(plan, way)
            for stations in _stations(at, placed * (1 + share) * (1 + HAIR), truck, most, STEP[plan.home]):
                lines = [slab.chords((way[0] * c, way[1] * c), (-way[1], way[0])) for c in stations]
                if all(lines):
                    row = tuple(_typed(line) for each in lines for line in each)
                    found[row] = sum(math.dist(a, b) for line in row for a, b in pairwise(line))
    return [Row(row, size) for row, size in sorted(found.items(), key=lambda one: (round(one[1], 4), one[0]))]


def _typed(line: Line) -> Line:
    """A line from left to right, without minus nothing."""
    first, last = sorted((round(x, 9) + 0.0, round(y, 9) + 0.0) for x, y in line)
    return first, last


def _placed(plan: Plan, way: XY) -> tuple[Floats, Floats]:
    """Stations along a direction, m, and the volume of the slab up to each, m3."""
    corners = shapely.get_coordinates(plan.shape.slab) @ np.array(way)
    low, high = float(corners.min()), float(corners.max())
    count = min(MOST_STRIPS, max(2, math.ceil((high - low) / STRIP)))
    inner = np.linspace(low, high, count + 1)[1:-1]
    inner = inner[np.abs(inner[:, None] - corners[None, :]).min(axis=1) > 1e-3]
    reach = float(np.abs(shapely.get_coordinates(plan.shape.slab)).max()) * 2 + 1
    joints = []
    for number, c in enumerate(inner.tolist()):
        ends = [(way[0] * c - way[1] * far, way[1] * c + way[0] * far) for far in (-reach, reach)]
        joints.append(Joint(f"strip {number}", "construction joint", tuple(Point(*end) for end in ends)))
    cut = plan.edited(plan.design._replace(joints=tuple(joints)), {"joints"})
    middles = np.array([panel.polygon.representative_point().coords[0] for panel in cut.joints.layout.panels])
    strip = np.searchsorted(inner, middles @ np.array(way))
    volumes = np.bincount(strip, weights=cut.concrete.panel_volumes, minlength=len(inner) + 1)
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
