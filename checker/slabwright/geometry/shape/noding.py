"""Points and segments brought together, so that segments meet only at points."""

from typing import NamedTuple, TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_AFTER = np.array([1, 2, 0])
Number = TypeVar("Number", NDArray[np.float64], NDArray[np.int64])

SNAP = 1e-6
"""Points this near to each other (m) are one point; a point this near to a segment lies on it."""

PARALLEL = 1e-9
"""Sine of the angle under which two segments run along each other: over 1,000 m they part by a snap."""


class Noded(NamedTuple):
    """Points and segments brought together: ``pieces`` (q, 2) run between points and cross nowhere.

    ``along[i]`` lists the points on segment i from its start to its end.
    """

    xy: Floats
    point_vertices: Ints
    pieces: Ints
    along: tuple[Ints, ...]


def node(points: Floats, segments: Floats) -> Noded:
    """Cut segments (s, 2, 2) at crossings and at points, and join what lies within ``SNAP``.

    Where points join, the earliest keeps its coordinates: first the given points, then segment ends.
    """
    lines = shapely.linestrings(segments) if len(segments) else np.empty(0, dtype=object)
    tree = shapely.STRtree(lines)
    everything = np.concatenate([points, segments.reshape(-1, 2), _crossings(segments, lines, tree)])
    if not np.all(np.isfinite(everything)):
        raise GeometryError("coordinates must be finite")
    xy, vertices = _joined(everything)
    which, segment = _points_on_lines(xy, lines, tree)
    start = segments[segment, 0]
    run = segments[segment, 1] - start
    length2 = np.maximum(np.sum(run * run, axis=1), 1e-300)
    order = np.lexsort((np.sum((xy[which] - start) * run, axis=1) / length2, segment))
    which, segment = which[order], segment[order]
    bounds = np.searchsorted(segment, np.arange(len(segments) + 1))
    along = tuple(which[bounds[i] : bounds[i + 1]] for i in range(len(segments)))
    linked = (segment[1:] == segment[:-1]) & (which[1:] != which[:-1])
    pieces = np.sort(np.stack([which[:-1][linked], which[1:][linked]], axis=1), axis=1)
    keys = distinct(pair_keys(pieces, len(xy)))
    return Noded(xy, vertices[: len(points)], np.stack([keys // len(xy), keys % len(xy)], axis=1), along)


def _crossings(segments: Floats, lines: NDArray[np.object_], tree: shapely.STRtree) -> Floats:
    """Where two segments cross inside both, (c, 2)."""
    if len(segments) < 2:
        return np.empty((0, 2))
    first, second = tree.query(lines)
    once = first < second
    first, second = first[once], second[once]
    start, run = segments[first, 0], segments[first, 1] - segments[first, 0]
    other, across = segments[second, 0], segments[second, 1] - segments[second, 0]
    turn = cross(run, across)
    gap = other - start
    with np.errstate(divide="ignore", invalid="ignore"):
        t = cross(gap, across) / turn
        u = cross(gap, run) / turn
    # Segments along each other meet at their ends: where rounding lets them cross hangs on how the plan is turned.
    bend = np.abs(turn) > PARALLEL * np.hypot(run[:, 0], run[:, 1]) * np.hypot(across[:, 0], across[:, 1])
    inside = bend & (t > 0) & (t < 1) & (u > 0) & (u < 1)
    return np.asarray(start[inside] + t[inside, None] * run[inside])


def _joined(xy: Floats) -> tuple[Floats, Ints]:
    """Points with those within ``SNAP`` made one, and for every given point its number."""
    keep = np.arange(len(xy))
    if len(xy) > 1:
        spots = shapely.points(xy)
        a, b = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=SNAP)
        pairs = a > b
        a, b = a[pairs], b[pairs]
        while len(a):
            before = keep.copy()
            np.minimum.at(keep, a, keep[b])
            np.minimum.at(keep, b, keep[a])
            if np.array_equal(before, keep):
                break
    kept = keep == np.arange(len(xy))
    return xy[kept], np.asarray((np.cumsum(kept) - 1)[keep], dtype=np.int64)


def _points_on_lines(xy: Floats, lines: NDArray[np.object_], tree: shapely.STRtree) -> tuple[Ints, Ints]:
    """Pairs (point, line) that touch within ``SNAP`` and a little."""
    if not len(lines):
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    which, line = tree.query(shapely.points(xy), predicate="dwithin", distance=1.5 * SNAP)
    return np.asarray(which, dtype=np.int64), np.asarray(line, dtype=np.int64)


def cross(a: Floats, b: Floats) -> Floats:
    """Cross product of plane vectors (..., 2)."""
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def pair_keys(pairs: Ints, count: int) -> Ints:
    """One number for every sorted pair (..., 2) of the vertices 0 to ``count`` - 1."""
    return np.asarray(pairs[..., 0] * count + pairs[..., 1], dtype=np.int64)


def side_keys(triangles: Ints, count: int) -> Ints:
    """One number for every side of triangles (m, 3), the same from both beside it."""
    after = triangles[:, _AFTER]
    return np.asarray(np.minimum(triangles, after) * count + np.maximum(triangles, after), dtype=np.int64)


# numpy's own unique and isin load its masked arrays on first use, which costs a short review a tenth of its time


def distinct(numbers: Number) -> Number:
    """Every number once, in order."""
    numbers = np.sort(numbers, axis=None)
    return numbers[starts_of_runs(numbers)]


def starts_of_runs(numbers: Ints | Floats) -> NDArray[np.bool_]:
    """Whether each of some numbers in order differs from the one before, (k,)."""
    first = np.ones(len(numbers), dtype=bool)
    first[1:] = numbers[1:] != numbers[:-1]
    return first


def among(numbers: Ints, known: Ints) -> NDArray[np.bool_]:
    """Whether each number is one of the known ones; the shape of ``numbers``."""
    if not len(known):
        return np.zeros(numbers.shape, dtype=bool)
    known = np.sort(known, axis=None)
    found = np.minimum(np.searchsorted(known, numbers), len(known) - 1)
    return np.asarray(known[found] == numbers)
