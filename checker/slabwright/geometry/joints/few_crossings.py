"""Joints cut wherever they meet, for a plan of few lines: every pair is looked at, in plain arithmetic.

The same as :func:`slabwright.geometry.joints.crossings.node`, which searches by a tree and is quicker from forty
lines on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from slabwright.geometry.joints.crossings import WELD, XY, Nodes, Piece
from slabwright.geometry.shape.nearest import spot_on

Line = tuple[XY, XY]


def node_few(lines: Sequence[Line], rim: int) -> Nodes:
    """Cut lines where they meet; the first ``rim`` of them do not cross each other."""
    # Points by rank (a corner of the rim, a point along it, a joint's own end, a crossing), each with its line.
    ranks: tuple[list[tuple[int, XY]], ...] = ([], [], [], [])
    for number, line in enumerate(lines):
        ranks[0 if number < rim else 2].extend((number, tip) for tip in line)
    boxes = [_box(line) for line in lines]
    for one in range(rim, len(lines)):
        left, low, right, high = boxes[one]
        for two in range(one):
            box = boxes[two]
            if box[0] <= right and box[2] >= left and box[1] <= high and box[3] >= low:
                for rank, at in _meeting(lines[one], lines[two], two < rim):
                    ranks[rank].extend(((one, at), (two, at)))
    found = [contact for rank in ranks for contact in rank]
    xy, number_of = _welded([at for _, at in found])
    on: list[dict[int, float]] = [{} for _ in lines]
    for line_number, at in found:
        place = number_of[at]
        if place not in on[line_number]:
            (ax, ay), (bx, by) = lines[line_number]
            x, y = xy[place]
            on[line_number][place] = (x - ax) * (bx - ax) + (y - ay) * (by - ay)
    pieces = []
    for line_number, places in enumerate(on):
        order = sorted(places, key=places.__getitem__)
        pieces += [Piece(line_number, a, b) for a, b in pairwise(order)]
    return Nodes(xy, pieces)


def _box(line: Line) -> tuple[float, float, float, float]:
    """Left, low, right and high end of a line, half the weld wider all round."""
    (ax, ay), (bx, by) = line
    return min(ax, bx) - WELD / 2, min(ay, by) - WELD / 2, max(ax, bx) + WELD / 2, max(ay, by) + WELD / 2


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


def _welded(points: Sequence[XY]) -> tuple[list[XY], dict[XY, int]]:
    """Distinct points, and the number that each goes by: the first of those nearer than a little over the weld."""
    xy = list(dict.fromkeys(points))
    number = list(range(len(xy)))
    order = sorted(number, key=xy.__getitem__)
    reach, start = 1.5 * WELD, 0
    for here, index in enumerate(order):
        while xy[order[start]][0] < xy[index][0] - reach:
            start += 1
        for other in order[start:here]:
            if math.dist(xy[other], xy[index]) <= reach and number[other] != number[index]:
                low, high = sorted((number[other], number[index]))
                number = [low if one == high else one for one in number]
    return xy, {point: number[index] for index, point in enumerate(xy)}
