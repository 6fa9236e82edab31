"""Joints cut wherever they meet each other or the rim, so that panels can be put together from the pieces.

Points within a micron are one point. A point on the slab's rim stays on the rim to the last bit that a double holds,
so the panels of a slab add up to the slab.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.shape.distances import spot_on
from slabwright.geometry.xy import XY

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Line = tuple[XY, XY]

WELD = 1e-6  # m
LEAST_SQUARE = 1e-300  # m2: stands in for the square of a length that is nothing


class Piece(NamedTuple):
    """A piece of a segment between two nodes."""

    segment: int
    start: int
    end: int


class Nodes(NamedTuple):
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


def node(lines: Sequence[Line], rim: int) -> Nodes:
    """Cut lines where they meet; the first ``rim`` of them do not cross each other.

    Where points are welded, a corner of the rim is kept before a point along it, and that before points of joints.
    """
    # Points by rank (a corner of the rim, a point along it, a joint's own end, a crossing), each with its line.
    ranks: tuple[list[tuple[int, XY]], ...] = ([], [], [], [])
    for number, line in enumerate(lines):
        ranks[0 if number < rim else 2].extend((number, tip) for tip in line)
    shapes = shapely.linestrings(lines)
    first, second = shapely.STRtree(shapes).query(shapes[rim:], predicate="dwithin", distance=2 * WELD)
    first = first + rim
    once = second < first
    first, second = first[once], second[once]
    order = np.lexsort((second, first))
    for one, two in zip(first[order].tolist(), second[order].tolist(), strict=True):
        for rank, at in _meeting(lines[one], lines[two], two < rim):
            ranks[rank].extend(((one, at), (two, at)))
    found = [contact for rank in ranks for contact in rank]
    xy = list(dict.fromkeys(at for _, at in found))
    # A little more than the reach of a contact, so that a tip and the spot it touches always become one.
    number_of = dict(zip(xy, groups_within(np.array(xy), 1.5 * WELD).tolist(), strict=True))
    on: list[dict[int, float]] = [{} for _ in lines]
    for line_number, at in found:
        place = number_of[at]
        if place not in on[line_number]:
            (ax, ay), (bx, by) = lines[line_number]
            x, y = xy[place]
            on[line_number][place] = (x - ax) * (bx - ax) + (y - ay) * (by - ay)
    pieces = []
    for line_number, places in enumerate(on):
        along = sorted(places, key=places.__getitem__)
        pieces += [Piece(line_number, a, b) for a, b in pairwise(along)]
    return Nodes(xy, pieces)


def _meeting(one: Line, two: Line, on_rim: bool) -> Iterator[tuple[int, XY]]:
    """Where two lines meet, with the rank of the point; ``on_rim`` when the second is the rim."""
    ((ax, ay), (bx, by)), ((cx, cy), (dx, dy)) = one, two
    ox, oy, tx, ty = bx - ax, by - ay, dx - cx, dy - cy
    # Twice the areas of the triangles that one line makes with the ends of the other: a tip lies as far off as the
    # area is large.
    from_a, from_b = tx * (ay - cy) - ty * (ax - cx), tx * (by - cy) - ty * (bx - cx)
    from_c, from_d = ox * (cy - ay) - oy * (cx - ax), ox * (dy - ay) - oy * (dx - ax)
    touch = WELD * 1.01 * (abs(ox) + abs(oy) + abs(tx) + abs(ty))
    touched = False
    if min(abs(from_a), abs(from_b), abs(from_c), abs(from_d)) <= touch:
        for tip in one:
            spot, away, _ = spot_on(*two, tip)
            if away <= WELD:
                touched = True
                yield (1, spot) if on_rim else (2, tip)
        for tip in two:
            if spot_on(*one, tip)[1] <= WELD:
                touched = True
                yield 0 if on_rim else 2, tip
    cross = tx * oy - ty * ox
    if not touched and cross:
        share, other = ((ax - cx) * oy - (ay - cy) * ox) / cross, ((ax - cx) * ty - (ay - cy) * tx) / cross
        if 0 <= share <= 1 and 0 <= other <= 1:
            yield 1 if on_rim else 3, (cx + share * tx, cy + share * ty)
