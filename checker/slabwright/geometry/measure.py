"""Measures of many shapes at once: corner angles, smallest rectangles, and the order in which they are read."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.crossings import WELD, Floats, Ints
from slabwright.geometry.noding import distinct

Shapes = NDArray[np.object_]

STRAIGHT = 1.0  # degrees: a vertex turning less is no corner
CHORD_TURN = 12.0  # degrees: the most that two chords of one arc turn
CHORD_SAGITTA = 0.004  # m: twice what an arc's chords may leave the arc by
EQUAL = 1e-9  # rectangles whose areas differ by less, as a share, are equally small
ROW = 0.3  # panels whose centres differ in height by less than this share of the usual panel height are one row


def corner_angles(shapes: Shapes) -> list[tuple[tuple[tuple[float, float], float], ...]]:
    """Corners of each polygon: place and the angle inside it, degrees; rings must turn left round the polygon.

    Vertices along straight sides are left out, and those between chords of an arc: slight turns beside a side so
    short that an arc over it would leave it by no more than a flattened arc may.
    """
    rings, ring_shape = shapely.get_rings(shapes, return_index=True)
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    count = np.bincount(ring)
    closing = np.cumsum(count) - 1
    steps = np.delete(np.diff(xy, axis=0), closing[:-1], axis=0)  # without the steps from ring to ring
    after, ring = steps, np.delete(ring, closing)
    first = np.cumsum(count - 1) - (count - 1)
    before = np.roll(steps, 1, axis=0)
    before[first] = steps[first + count - 2]
    turn = np.degrees(np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(axis=1)))
    shorter = np.minimum(np.hypot(*before.T), np.hypot(*after.T))
    chord = (np.abs(turn) < CHORD_TURN) & (shorter * np.radians(np.abs(turn)) / 8 <= CHORD_SAGITTA)
    corner = (np.abs(turn) >= STRAIGHT) & ~chord
    places = np.delete(xy, closing, axis=0)[corner].tolist()
    angles = (180.0 - turn[corner]).tolist()
    found: list[list[tuple[tuple[float, float], float]]] = [[] for _ in shapes]
    for owner, (x, y), angle in zip(ring_shape[ring[corner]].tolist(), places, angles, strict=True):
        found[owner].append(((x, y), angle))
    return [tuple(corners) for corners in found]


def smallest_rectangles(shapes: Shapes) -> tuple[Floats, Floats]:
    """Long and short side of the smallest rectangle round each shape; of equally small ones, the nearest to a square.

    The smallest rectangle lies along one side of the convex hull (Freeman and Shapira 1975), so each is tried.
    """
    hulls = shapely.convex_hull(shapes)
    xy, owner = shapely.get_coordinates(hulls, return_index=True)
    sizes = np.bincount(owner) - 1
    starts = np.cumsum(sizes + 1) - (sizes + 1)
    long, short = np.empty(len(shapes)), np.empty(len(shapes))
    for size in distinct(sizes).tolist():
        rows = np.flatnonzero(sizes == size)
        for part in np.array_split(rows, max(1, len(rows) * size * size // 2_000_000)):
            points = xy[starts[part][:, None] + np.arange(size + 1)]
            side = np.diff(points, axis=1)
            side = side / np.hypot(side[..., 0], side[..., 1])[..., None]
            points = points[:, :-1] - points[:, :1]
            wide = np.ptp(np.einsum("psk,pvk->psv", side, points), axis=2)
            across = np.stack([-side[..., 1], side[..., 0]], axis=-1)
            deep = np.ptp(np.einsum("psk,pvk->psv", across, points), axis=2)
            area, longer = wide * deep, np.maximum(wide, deep)
            equal = area <= area.min(axis=1, keepdims=True) * (1 + EQUAL)
            best = np.argmin(np.where(equal, longer, np.inf), axis=1)[:, None]
            long[part] = np.take_along_axis(longer, best, axis=1)[:, 0]
            short[part] = np.take_along_axis(np.minimum(wide, deep), best, axis=1)[:, 0]
    return long, short


def reading_order(shapes: Shapes) -> Ints:
    """Order of the shapes as a page is read, by centroid: top row first, each row from left to right."""
    centres = shapely.get_coordinates(shapely.centroid(shapes))
    bounds = shapely.bounds(shapes)
    step = ROW * float(np.median(bounds[:, 3] - bounds[:, 1]))
    down = np.argsort(-centres[:, 1], kind="stable")
    depth = -centres[down, 1]
    row = np.empty(len(shapes), dtype=np.int64)
    begin, number = 0, 0
    while begin < len(down):
        end = int(np.searchsorted(depth, depth[begin] + step, side="right"))
        row[down[begin:end]] = number
        begin, number = end, number + 1
    return np.lexsort([_level(-centres[:, 1]), _level(centres[:, 0]), row])


def _level(values: Floats) -> Ints:
    """Rank of each value; values that follow within a micron count as equal."""
    order = np.argsort(values, kind="stable")
    rank = np.empty(len(values), dtype=np.int64)
    rank[order] = np.cumsum(np.diff(values[order], prepend=values[order[:1]]) > WELD)
    return rank
