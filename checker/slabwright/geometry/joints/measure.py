"""Measures of shapes: corner angles, smallest rectangles, and the order in which they are read.

Plain loops: most slabs have few panels of four corners, and there one call into a numerical library costs more than
the whole sum; a floor of thousands still takes a small share of its review.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.joints.crossings import WELD
from slabwright.geometry.xy import XY

Shapes = NDArray[np.object_]
STRAIGHT = 1.0  # degrees: a vertex turning less is no corner
CHORD_TURN = 12.0  # degrees: the most that two chords of one arc turn
CHORD_SAGITTA = 0.004  # m: twice what an arc's chords may leave the arc by
EQUAL = 1e-9  # rectangles whose areas differ by less, as a share, are equally small
ROW = 0.3  # panels whose centers differ in height by less than this share of the usual panel height are one row
SQUARE = 1e-13  # a shape this much off a rectangle, as a share, is one


class RingOf(NamedTuple):
    """A closed ring of points, and the index of the shape it bounds."""

    shape: int
    xy: list[XY]


def rings_of(shapes: Shapes) -> list[RingOf]:
    """The rings of every polygon, outlines and openings, in order."""
    rings, owner = shapely.get_rings(shapes, return_index=True)
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    points = list(map(tuple, xy.tolist()))
    ends = np.searchsorted(ring, np.arange(len(rings) + 1)).tolist()
    return [RingOf(shape, points[a:b]) for shape, (a, b) in zip(owner.tolist(), pairwise(ends), strict=True)]


def corner_angles(rings: Sequence[RingOf], count: int) -> list[tuple[tuple[XY, float], ...]]:
    """Corners of each of ``count`` polygons: place and the angle inside it, degrees; rings must turn left round it.

    Vertices along straight sides are left out, and those between chords of an arc: slight turns beside a side so
    short that an arc over it would leave it by no more than a flattened arc may.
    """
    found: list[list[tuple[XY, float]]] = [[] for _ in range(count)]
    for shape, xy in rings:
        steps = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(xy)]
        before = steps[-1]
        for place, after in zip(xy, steps, strict=False):
            cross = before[0] * after[1] - before[1] * after[0]
            turn = math.degrees(math.atan2(cross, before[0] * after[0] + before[1] * after[1]))
            size = abs(turn)
            if size >= STRAIGHT:
                shorter = min(math.hypot(*before), math.hypot(*after))
                if size >= CHORD_TURN or shorter * math.radians(size) / 8 > CHORD_SAGITTA:
                    found[shape].append((place, 180.0 - turn))
            before = after
    return [tuple(corners) for corners in found]


def smallest_rectangles(shapes: Shapes) -> list[tuple[float, float]]:
    """Long and short side of the smallest rectangle round each shape; of equally small ones, the nearest to a square.

    The smallest rectangle lies along one side of the convex hull (Freeman and Shapira 1975), so each is tried.
    """
    xy, owner = shapely.get_coordinates(shapely.convex_hull(shapes), return_index=True)
    ends = np.searchsorted(owner, np.arange(len(shapes) + 1)).tolist()
    points = xy.tolist()
    return [_smallest(points[first:last]) for first, last in pairwise(ends)]


def _smallest(hull: Sequence[Sequence[float]]) -> tuple[float, float]:
    """The sides of the smallest rectangle round a closed hull."""
    x, y = hull[0]
    points = [(a - x, b - y) for a, b in hull[:-1]]
    if len(points) == 4:
        _, (ax, ay), (bx, by), (cx, cy) = points
        dust = SQUARE * (abs(bx) + abs(by))
        if abs(ax + cx - bx) + abs(ay + cy - by) <= dust and abs(ax * cx + ay * cy) <= dust * dust / SQUARE:
            one, two = math.hypot(ax, ay), math.hypot(cx, cy)  # it is a rectangle itself
            return max(one, two), min(one, two)
    tried = []
    extremes: list[int] = []  # the corners farthest along, back, left and right: they go round the hull with the side
    for (ax, ay), (bx, by) in pairwise(hull):
        size = math.hypot(bx - ax, by - ay)
        dx, dy = (bx - ax) / size, (by - ay) / size
        ways = (dx, dy), (-dx, -dy), (-dy, dx), (dy, -dx)
        extremes = [_farthest(points, way, extremes[k] if extremes else None) for k, way in enumerate(ways)]
        ends = [points[at] for at in extremes]
        along, back, left, right = (ux * x + uy * y for (ux, uy), (x, y) in zip(ways, ends, strict=True))
        wide, deep = along + back, left + right
        tried.append((wide * deep, wide, deep) if wide > deep else (wide * deep, deep, wide))
    most = min(area for area, _, _ in tried) * (1 + EQUAL)
    return min((long, short) for area, long, short in tried if area <= most)


def _farthest(points: Sequence[XY], way: XY, start: int | None) -> int:
    """The corner of a hull farthest that way, going round from ``start``; from nowhere, all are tried."""
    (ux, uy), count = way, len(points)
    if start is None:
        return max(range(count), key=lambda at: ux * points[at][0] + uy * points[at][1])
    best, after = start, (start + 1) % count
    while ux * points[after][0] + uy * points[after][1] > ux * points[best][0] + uy * points[best][1]:
        best, after = after, (after + 1) % count
    return best


def reading_order(shapes: Shapes) -> list[int]:
    """Order of the shapes as a page is read, by centroid: top row first, each row from left to right."""
    if len(shapes) == 1:
        return [0]
    centers = shapely.get_coordinates(shapely.centroid(shapes)).tolist()
    step = ROW * median(high - low for _, low, _, high in shapely.bounds(shapes).tolist())
    depth = [-y for _, y in centers]
    row = [0] * len(centers)
    number, begin = 0, -math.inf
    for index in sorted(range(len(centers)), key=depth.__getitem__):
        if depth[index] > begin + step:
            number, begin = number + 1, depth[index]
        row[index] = number
    across, down = _levels([x for x, _ in centers]), _levels(depth)
    return sorted(range(len(centers)), key=lambda index: (row[index], across[index], down[index]))


def _levels(values: Sequence[float]) -> list[int]:
    """Rank of each value; values that follow within a micron count as equal."""
    rank = [0] * len(values)
    level, before = 0, -math.inf
    for index in sorted(range(len(values)), key=values.__getitem__):
        level += values[index] - before > WELD
        rank[index], before = level, values[index]
    return rank
