"""Outlines: typed corners and arcs made into rings, what keeps a ring from being a shape, and distances along it.

Coordinates are meters. A ring keeps the order in which its corners were typed, clockwise or not.
"""

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.arcs import LARGEST_RADIUS, LEAST_RADIUS, Floats, arc_chords, circle_over
from slabwright.geometry.xy import XY, as_xy

Ints = NDArray[np.int64]

LARGEST_COORDINATE = 1e7  # m: beyond it a double no longer holds a tenth of a micron, and no plan is that far away
SAME_POINT = 0.001  # m: corners nearer than this are one corner
STRAIGHT = 1.0  # degrees: a corner turning less than this is no corner
HAIR = 1e-9  # m: distances along a ring that differ by no more are one


class Arc(NamedTuple):
    """One curved side: from typed corner ``start`` to ``end``; ``turn`` is its signed sweep, radians, left positive."""

    start: int
    end: int
    radius: float  # m; inf when the three points lie on one line
    turn: float


@dataclass(frozen=True, eq=False)
class Ring:
    """A closed line in typed order: ``points``, and the same as ``xy`` (n, 2), without the closing point.

    ``corner`` (n,) holds the index of the typed corner at each vertex, -1 at points that only flatten an arc;
    ``along`` (n + 1,) the distance of each vertex from the first corner, ending with the length of the ring. Arcs count
    with their own length, and ``polygon`` has their own area; it is empty when there are fewer than three points or one
    is not finite.
    """

    points: tuple[XY, ...]
    xy: Floats
    corner: Ints
    along: tuple[float, ...]
    arcs: tuple[Arc, ...]
    bad_corners: tuple[int, ...]  # typed corners, or points their arcs go through, that are not finite
    polygon: shapely.Polygon
    length: float
    ccw: bool

    @cached_property
    def marks(self) -> Mapping[XY, float]:
        """The distance along the ring of each of its vertices, the first where two lie at one place."""
        return dict(zip(reversed(self.points), reversed(self.along[:-1]), strict=True))

    def bends_at(self, at: XY) -> bool:
        """Whether the part of the ring nearest to a place is an arc."""
        side = int(self.sides.nearest(shapely.Point(at)))
        return int(self.corner[side]) < 0 or int(self.corner[(side + 1) % len(self.corner)]) < 0

    @cached_property
    def sides(self) -> shapely.STRtree:
        """A search tree over the sides, in order."""
        return shapely.STRtree(shapely.linestrings(np.stack([self.xy, np.roll(self.xy, -1, axis=0)], axis=1)))


def build_ring(corners: Sequence[tuple[XY, XY | None]]) -> Ring:
    """Ring over typed corners; the second of each pair is the point an arc from the corner before goes through.

    The last side runs back to the first corner. Nothing raises on bad numbers:
    :func:`slabwright.geometry.shape.ring_faults.ring_faults` names them.
    """
    bad = tuple(
        i for i, (at, through) in enumerate(corners) if not (_usable(at) and (through is None or _usable(through)))
    )
    points: list[XY] = []
    owners: list[int] = []
    arcs: list[Arc] = []
    curved: list[tuple[int, int, Arc]] = []  # sides from one to before the other, and the arc
    for index, (at, _) in enumerate(corners):
        points.append(as_xy(at))
        owners.append(index)
        after = (index + 1) % len(corners)
        end, through = corners[after]
        if through is None or bad:
            continue
        arc = _arc(at, through, end, index, after)
        arcs.append(arc)
        if LEAST_RADIUS <= arc.radius <= LARGEST_RADIUS:
            chords = arc_chords(at, through, end)[:-1].tolist()
            curved.append((len(points) - 1, len(points) + len(chords), arc))
            points.extend((x, y) for x, y in chords)
            owners.extend([-1] * len(chords))
    polygon = shapely.Polygon(points) if len(points) > 2 and not bad else shapely.Polygon()
    lengths = [math.dist(*side) for side in sides_of(points)]
    for first, last, arc in curved:
        stretched = arc.radius * abs(arc.turn) / sum(lengths[first:last])
        lengths[first:last] = [length * stretched for length in lengths[first:last]]
    along = tuple(accumulate(lengths, initial=0.0))
    return Ring(
        points=tuple(points),
        xy=np.array(points, dtype=np.float64).reshape(-1, 2),
        corner=np.array(owners, dtype=np.int64),
        along=along,
        arcs=tuple(arcs),
        bad_corners=bad,
        polygon=polygon,
        length=along[-1],
        ccw=not polygon.is_empty and bool(shapely.is_ccw(polygon.exterior)),
    )


def sides_of(points: Sequence[XY]) -> Iterator[tuple[XY, XY]]:
    """The sides of a ring, the last back to its first point."""
    return pairwise((*points, *points[:1]))


def _usable(point: XY) -> bool:
    return all(math.isfinite(value) and abs(value) <= LARGEST_COORDINATE for value in point)


def _arc(start: XY, through: XY, end: XY, first: int, last: int) -> Arc:
    circle = circle_over(start, through, end)
    if circle is None:
        return Arc(first, last, math.inf, 0.0)
    return Arc(first, last, circle[1], sum(circle[2]))


def turns(before: Floats, after: Floats) -> Floats:
    """Turn from each direction to the next, degrees, left positive, -180 to 180."""
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.degrees(np.arctan2(cross, (before * after).sum(axis=1))))


def distances_along(ring: Ring, points: Sequence[XY]) -> list[tuple[float, float]]:
    """Distance along the ring from its first corner, in typed order, of the spot nearest to each point, and its offset.

    Both in m, and nan for points that are not finite.
    """
    marks = ring.marks
    found = [(marks.get(point, math.nan), 0.0) for point in points]  # most points are corners
    loose = [row for row, (along, _) in enumerate(found) if math.isnan(along)]
    if loose:
        nearest = _nearest(ring, np.array([points[row] for row in loose], dtype=np.float64))
        for row, along, off in zip(loose, *nearest, strict=True):
            found[row] = along, off
    return found


def _nearest(ring: Ring, points: Floats) -> tuple[list[float], list[float]]:
    """The same for points that are no corners, by the side nearest to each."""
    along, offset = np.full(len(points), np.nan), np.full(len(points), np.nan)
    finite = np.flatnonzero(np.isfinite(points).all(axis=1))
    points = points[finite]
    spots = shapely.points(points)
    (_, _), nearest = ring.sides.query_nearest(spots, all_matches=False, return_distance=True)
    which, side = ring.sides.query(spots, predicate="dwithin", distance=nearest + HAIR)
    # The first side within a hair of the nearest, so that a corner always gives the same distance.
    order = np.lexsort([side, which])
    side = side[order[np.flatnonzero(np.diff(which[order], prepend=-1))]]
    marks, start = np.array(ring.along), ring.xy[side]
    step = ring.xy[(side + 1) % len(ring.xy)] - start
    share = np.clip(((points - start) * step).sum(axis=1) / np.maximum((step**2).sum(axis=1), 1e-300), 0.0, 1.0)
    offset[finite] = np.hypot(*(start + share[:, None] * step - points).T)
    along[finite] = marks[side] + share * (marks[side + 1] - marks[side])
    return np.where(ring.length - along <= HAIR, 0.0, along).tolist(), offset.tolist()


def stretch(ring: Ring, start: float, end: float) -> Floats:
    """Points (k, 2) of the ring from one distance along it to another, in typed order.

    An ``end`` at or before ``start`` lies past the first corner, so equal distances give the whole ring.
    """
    length = ring.length
    if not length > 0 or not math.isfinite(length):
        raise GeometryError("a stretch needs a ring with a length")
    reach = end - start
    if reach <= 0:
        reach += length * (1 + math.floor(-reach / length))
    start %= length
    low, high, turn = start + HAIR, start + reach - HAIR, ring.along[:-1]
    corners = [at for at, mark in zip(ring.points, turn, strict=True) if low < mark < high]
    corners += [at for at, mark in zip(ring.points, turn, strict=True) if low < mark + length < high]
    corners += [ring.points[0]] if low < 2 * length < high else []
    return np.array([at_distance(ring, start), *corners, at_distance(ring, start + reach)])


def at_distance(ring: Ring, distance: float) -> XY:
    """The point at a distance along the ring from its first corner, in typed order."""
    distance %= ring.length
    side = min(bisect_right(ring.along, distance) - 1, len(ring.points) - 1)
    start, end = ring.along[side], ring.along[side + 1]
    (ax, ay), (bx, by) = ring.points[side], ring.points[(side + 1) % len(ring.points)]
    if abs(distance - start) <= HAIR:
        return ax, ay
    if abs(end - distance) <= HAIR:
        return bx, by
    share = (distance - start) / (end - start)
    return ax + share * (bx - ax), ay + share * (by - ay)


def inside_corners(ring: Ring, is_hole: bool) -> list[tuple[int, XY, float]]:
    """Typed corners where the concrete turns round something: index, place and degrees inside the concrete (over 181).

    The concrete lies inside an outline and outside an opening. Arcs count with their tangents, so an arc that runs
    smoothly out of a straight side makes no corner.
    """
    sign = (1 if ring.ccw else -1) * (-1 if is_hole else 1)
    found = []
    for corner, (at, (ux, uy), (vx, vy)) in enumerate(sides_at_corners(ring)):
        turn = sign * math.degrees(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))
        if turn < -STRAIGHT:
            found.append((corner, at, 180.0 - turn))
    return found


def sides_at_corners(ring: Ring) -> list[tuple[XY, XY, XY]]:
    """Each typed corner of a ring: its place, and the directions of the side that comes to it and of the one that goes.

    Directions are of any length; those of arcs are tangents.
    """
    at = [vertex for vertex, corner in enumerate(ring.corner.tolist()) if corner >= 0]
    points = (*ring.points, *ring.points[:1])
    before = [_step(points[vertex - 1 if vertex else -2], points[vertex]) for vertex in at]
    after = [_step(points[vertex], points[vertex + 1]) for vertex in at]
    for arc in ring.arcs:
        if LEAST_RADIUS <= arc.radius <= LARGEST_RADIUS:
            chord = _step(points[at[arc.start]], points[at[arc.end]])
            after[arc.start], before[arc.end] = _rotated(chord, -arc.turn / 2), _rotated(chord, arc.turn / 2)
    return [(points[vertex], into, out) for vertex, into, out in zip(at, before, after, strict=True)]


def _step(start: XY, end: XY) -> XY:
    return end[0] - start[0], end[1] - start[1]


def _rotated(vector: XY, angle: float) -> XY:
    sine, cosine = math.sin(angle), math.cos(angle)
    return vector[0] * cosine - vector[1] * sine, vector[0] * sine + vector[1] * cosine
