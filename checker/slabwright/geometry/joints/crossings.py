"""Joints cut wherever they meet each other or the rim, so that panels can be put together from the pieces.

Points within a micron are one point. A point on the slab's rim stays on the rim to the last bit that a double holds,
so the panels of a slab add up to the slab.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
XY = tuple[float, float]

WELD = 1e-6  # m
LEAST_SQUARE = 1e-300  # m2: stands in for the square of a length that is nothing


class Piece(NamedTuple):
    """A piece of a segment between two nodes."""

    segment: int
    start: int
    end: int


@dataclass(frozen=True, slots=True, eq=False)
class Nodes:
    """Segments cut at their nodes: the pieces of each in order along it, segment by segment."""

    xy: list[XY]
    pieces: list[Piece]


def groups_within(points: Floats, distance: float) -> Ints:
    """Group number (n,) of each point: points nearer than ``distance``, or linked by such, share the least index."""
    label = np.arange(len(points))
    if len(points) < 2:
        return label
    shapes = shapely.points(points)
    first, second = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=distance)
    apart = first != second
    first, second = first[apart], second[apart]
    while True:
        least = label.copy()
        np.minimum.at(least, first, label[second])
        least = least[least]
        if (least == label).all():
            return label
        label = least


def node(start: Floats, end: Floats, rim: NDArray[np.bool_]) -> Nodes:
    """Cut segments (m, 2)-(m, 2) where they meet; those with ``rim`` (m,) set do not cross each other.

    Where points are welded, a corner of the rim is kept before a point along it, and that before points of joints.
    """
    lines = shapely.linestrings(np.stack([start, end], axis=1))
    inner = np.flatnonzero(~rim)
    first, second = shapely.STRtree(lines).query(lines[inner], predicate="dwithin", distance=WELD)
    first = inner[first]
    keep = rim[second] | (first < second)
    first, second = first[keep], second[keep]
    # Contacts: (segment, point); every segment first meets its own two ends.
    every = np.arange(len(start))
    segment, points, rank = [every, every], [start, end], [np.where(rim, 0, 2)] * 2
    touched = np.zeros(len(first), dtype=np.bool_)
    for one, two in ((first, second), (second, first)):
        for tip in (start, end):
            spot, apart = _nearest(tip[one], start[two], end[two])
            near = apart <= WELD
            touched |= near
            on_rim = near & rim[two] & ~rim[one]
            # The joint's end where it touches the rim is the rim's own point; elsewhere the touching end itself.
            at = np.where(on_rim[:, None], spot, tip[one])
            level = np.where(on_rim, 1, np.where(rim[one], 0, 2))
            for owner in (one, two):
                segment.append(owner[near])
                points.append(at[near])
                rank.append(level[near])
    cross, crossing = _crossings(start, end, first[~touched], second[~touched], rim)
    for owner in (first, second):
        segment.append(owner[~touched][cross])
        points.append(crossing)
        rank.append(np.where(rim[second[~touched][cross]], 1, 3))
    all_points, all_segments, level = np.concatenate(points), np.concatenate(segment), np.concatenate(rank)
    order = np.argsort(level, kind="stable")
    all_points, all_segments = all_points[order], all_segments[order]
    unique, inverse = _unique(all_points)
    # A little more than the reach of a contact, so that a tip and the spot it touches always become one.
    label = groups_within(unique, 1.5 * WELD)
    return _edges(start, end, unique, label[inverse], all_segments)


def _unique(points: Floats) -> tuple[Floats, Ints]:
    """Distinct points in order of first appearance, and the index of each point among them."""
    code = points[:, 0] + 1j * points[:, 1]
    _, first, inverse = np.unique(code, return_index=True, return_inverse=True)
    order = np.argsort(first)
    rank = np.empty(len(order), dtype=np.int64)
    rank[order] = np.arange(len(order))
    return points[first[order]], rank[inverse]


def _nearest(point: Floats, start: Floats, end: Floats) -> tuple[Floats, Floats]:
    """The spot on each segment nearest to each point, and how far it is."""
    step = end - start
    share = np.clip(((point - start) * step).sum(axis=1) / np.maximum((step**2).sum(axis=1), LEAST_SQUARE), 0, 1)
    spot = start + share[:, None] * step
    spot = np.where(share[:, None] == 1, end, spot)
    return spot, np.hypot(*(spot - point).T)


def _crossings(
    start: Floats, end: Floats, first: Ints, second: Ints, rim: NDArray[np.bool_]
) -> tuple[NDArray[np.bool_], Floats]:
    """Which pairs of segments cross, and where, reckoned along the second: the rim where one of the two is rim."""
    one, two = end[first] - start[first], end[second] - start[second]
    to = start[first] - start[second]
    cross = two[:, 0] * one[:, 1] - two[:, 1] * one[:, 0]
    safe = np.where(cross == 0, 1.0, cross)
    share = (to[:, 0] * one[:, 1] - to[:, 1] * one[:, 0]) / safe
    other = (to[:, 0] * two[:, 1] - to[:, 1] * two[:, 0]) / safe
    hit = (cross != 0) & (share >= 0) & (share <= 1) & (other >= 0) & (other <= 1)
    return hit, start[second[hit]] + share[hit, None] * two[hit]


def _edges(start: Floats, end: Floats, xy: Floats, label: Ints, segment: Ints) -> Nodes:
    """Consecutive nodes along each segment."""
    step = (end - start)[segment]
    along = ((xy[label] - start[segment]) * step).sum(axis=1)
    order = np.lexsort([along, segment])
    segment, label = segment[order], label[order]
    joined = (segment[1:] == segment[:-1]) & (label[1:] != label[:-1])
    rows = zip(segment[:-1][joined].tolist(), label[:-1][joined].tolist(), label[1:][joined].tolist(), strict=True)
    return Nodes(list(map(tuple, xy.tolist())), [Piece(*row) for row in rows])
