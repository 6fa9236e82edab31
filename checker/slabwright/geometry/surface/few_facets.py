"""The facets of a surface over few points, worked in plain arithmetic.

The same as the noding and the triangulation of :mod:`slabwright.geometry.shape.noding` and
``triangulate`` give, where no segment has to be cut to get into the triangulation; where one
has, there is no answer here. Most slabs have a dozen points with a height, and for those every call into a numerical
library costs more than the sum it does.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.geometry.shape.noding import PARALLEL, SNAP
from slabwright.geometry.surface.triangulate import FAR, Mesh

XY = tuple[float, float]
Side = tuple[int, int]  # two vertices, the smaller first
Triangle = tuple[int, int, int]
Beside = dict[Side, list[tuple[int, int]]]  # side: the triangles at it, each with its corner across

INNER = 1e-6  # diagonals of four points on one circle cross at least this far inside both, as a share of each
FLAT = 1e-3  # a half of four corners smaller than this share of the other is looked at more closely
LOWER = 1e-9  # a diagonal this much lower is lower, m
MOST_ROUNDS = 60


class FewNoded(NamedTuple):
    """Points and segments brought together.

    ``point_vertices`` are the vertices of the given points; ``along[i]`` the vertices on segment i from its start to
    its end; ``pieces`` run between vertices and cross nowhere.
    """

    xy: list[XY]
    point_vertices: list[int]
    along: list[list[int]]
    pieces: set[Side]


def node_few(points: Sequence[XY], segments: Sequence[tuple[XY, XY]]) -> FewNoded:
    """Cut segments at crossings and at points, and join what lies within the snap; the earliest point is kept."""
    ends = [tip for segment in segments for tip in segment]
    boxes = [_box(segment) for segment in segments]
    crossings = []
    for number, one in enumerate(segments):
        left, low, right, high = boxes[number]
        for other in range(number + 1, len(segments)):
            box = boxes[other]
            if box[0] <= right and box[2] >= left and box[1] <= high and box[3] >= low:
                crossings += _crossing(one, segments[other])
    xy, vertices = _joined([*points, *ends, *crossings])
    along = []
    for segment, box in zip(segments, boxes, strict=True):
        (ax, ay), (bx, by) = segment
        dx, dy = bx - ax, by - ay
        square = max(dx * dx + dy * dy, 1e-300)
        on = []
        for vertex, (x, y) in enumerate(xy):
            if box[0] <= x <= box[2] and box[1] <= y <= box[3]:
                share = ((x - ax) * dx + (y - ay) * dy) / square
                held = min(max(share, 0.0), 1.0)
                if math.hypot(ax + held * dx - x, ay + held * dy - y) <= 1.5 * SNAP:
                    on.append((share, vertex))
        along.append([vertex for _, vertex in sorted(on)])
    pieces = {side_of(a, b) for on_it in along for a, b in pairwise(on_it)}
    return FewNoded(xy, vertices[: len(points)], along, pieces)


def side_of(a: int, b: int) -> Side:
    """The side between two vertices."""
    return (a, b) if a < b else (b, a)


def _box(segment: tuple[XY, XY]) -> tuple[float, float, float, float]:
    """Left, low, right and high end, two snaps wider all round."""
    (ax, ay), (bx, by) = segment
    return min(ax, bx) - 2 * SNAP, min(ay, by) - 2 * SNAP, max(ax, bx) + 2 * SNAP, max(ay, by) + 2 * SNAP


def _crossing(one: tuple[XY, XY], other: tuple[XY, XY]) -> list[XY]:
    """Where two segments cross inside both."""
    ((ax, ay), (bx, by)), ((cx, cy), (dx, dy)) = one, other
    rx, ry, sx, sy, gx, gy = bx - ax, by - ay, dx - cx, dy - cy, cx - ax, cy - ay
    turn = rx * sy - ry * sx
    if abs(turn) <= PARALLEL * math.hypot(rx, ry) * math.hypot(sx, sy):
        return []
    t, u = (gx * sy - gy * sx) / turn, (gx * ry - gy * rx) / turn
    return [(ax + t * rx, ay + t * ry)] if 0 < t < 1 and 0 < u < 1 else []


def _joined(points: Sequence[XY]) -> tuple[list[XY], list[int]]:
    """Points with those within the snap made one, and for every given point its number."""
    first: dict[XY, int] = {}
    keep = [first.setdefault(point, number) for number, point in enumerate(points)]
    order = sorted(first.values(), key=points.__getitem__)
    start = 0
    for here, index in enumerate(order):
        x = points[index][0]
        while points[order[start]][0] < x - SNAP:
            start += 1
        for other in order[start:here]:
            if math.dist(points[other], points[index]) <= SNAP and keep[other] != keep[index]:
                low, high = sorted((keep[other], keep[index]))
                keep = [low if one == high else one for one in keep]
    number_of = {index: number for number, index in enumerate(sorted(set(keep)))}
    return [points[index] for index in number_of], [number_of[index] for index in keep]


def triangles_of(region: shapely.Polygon, noded: FewNoded, walls: set[Side]) -> list[Triangle] | None:
    """Triangles over ``region``, counterclockwise, with every piece a side of one; None where a piece would be cut.

    ``walls`` are the pieces of the rings of the region.
    """
    triangles = _with_pieces(noded.xy, _delaunay(noded.xy), noded.pieces)
    have = {side for triangle in triangles for side in _sides(triangle)}
    for a, b in noded.pieces - have:
        if math.dist(noded.xy[a], noded.xy[b]) > 8 * SNAP:
            return None
    return _inside(region, noded.xy, triangles, walls)


def _delaunay(xy: Sequence[XY]) -> list[Triangle]:
    """Delaunay triangles of points, with a far ring of points as in :mod:`slabwright.geometry.surface.triangulate`."""
    return (_two(xy) if len(xy) == 4 else []) or _delaunay_of_many(xy)


def _two(xy: Sequence[XY]) -> list[Triangle]:
    """The two triangles over four points that make a convex quadrilateral; empty when they make none."""
    x, y = sum(at[0] for at in xy) / 4, sum(at[1] for at in xy) / 4
    a, b, c, d = sorted(range(4), key=lambda vertex: math.atan2(xy[vertex][1] - y, xy[vertex][0] - x))
    halves = _twice(xy, a, b, c), _twice(xy, c, d, a), _twice(xy, b, c, d), _twice(xy, d, a, b)
    if min(halves) < FLAT * max(halves):
        return []
    (ax, ay), (bx, by), (cx, cy) = ((xy[vertex][0] - xy[d][0], xy[vertex][1] - xy[d][1]) for vertex in (a, b, c))
    power = (
        (ax * ax + ay * ay) * (bx * cy - by * cx)
        - (bx * bx + by * by) * (ax * cy - ay * cx)
        + (cx * cx + cy * cy) * (ax * by - ay * bx)
    )
    return [(b, c, d), (d, a, b)] if power > 0 else [(a, b, c), (c, d, a)]  # d inside the circle through the others?


def _delaunay_of_many(xy: Sequence[XY]) -> list[Triangle]:
    xs, ys = [x for x, _ in xy], [y for _, y in xy]
    x, y = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    local = [(a - x + 0.0, b - y + 0.0) for a, b in xy]
    reach = FAR * max(1e-3, *(abs(value) for at in local for value in at))
    turns = [k * (math.pi / 4) + 0.1 for k in range(8)]
    far = [(reach * math.cos(turn), reach * math.sin(turn)) for turn in turns]
    number = {at: vertex for vertex, at in enumerate(local)}
    shape = shapely.delaunay_triangles(shapely.multipoints(np.array(local + far)))
    corners = list(map(tuple, shapely.get_coordinates(shape).tolist()))
    found = []
    for first in range(0, len(corners), 4):
        a, b, c = (number.get(at, -1) for at in corners[first : first + 3])
        if a >= 0 and b >= 0 and c >= 0:
            found.append((a, b, c) if _twice(local, a, b, c) > 0 else (a, c, b))
    return found


def _twice(xy: Sequence[XY], a: int, b: int, c: int) -> float:
    """Twice the area of a triangle, positive counterclockwise."""
    (ax, ay), (bx, by), (cx, cy) = xy[a], xy[b], xy[c]
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def _sides(triangle: Triangle) -> tuple[Side, Side, Side]:
    a, b, c = triangle
    return side_of(a, b), side_of(b, c), side_of(c, a)


def beside(triangles: Sequence[Triangle]) -> Beside:
    """The triangles at every side."""
    found: Beside = {}
    for facet, (a, b, c) in enumerate(triangles):
        for one, two, across in ((a, b, c), (b, c, a), (c, a, b)):
            found.setdefault(side_of(one, two), []).append((facet, across))
    return found


def _with_pieces(xy: Sequence[XY], triangles: list[Triangle], pieces: set[Side]) -> list[Triangle]:
    """The triangles, with pieces that are the other diagonal of four points on one circle put in."""
    for _ in range(MOST_ROUNDS):
        at = beside(triangles)
        if pieces <= at.keys():
            break
        for side, both in at.items():
            if len(both) == 2 and side not in pieces:
                (facet, c), (other, d) = both
                if side_of(c, d) in pieces and _on_circle(xy, side, c, d):
                    _flip(xy, triangles, side, (facet, c), (other, d))
                    break
        else:
            break
    return triangles


def _flip(xy: Sequence[XY], triangles: list[Triangle], side: Side, one: tuple[int, int], two: tuple[int, int]) -> None:
    """Put the other diagonal in."""
    a, b = side
    (facet, c), (other, d) = one, two
    if _twice(xy, a, b, c) < 0:
        a, b = b, a
    triangles[facet], triangles[other] = (a, d, c), (d, b, c)


def _on_circle(xy: Sequence[XY], side: Side, c: int, d: int) -> bool:
    """Whether four corners lie on one circle, the diagonals crossing well inside both."""
    along_ab, along_cd = _diagonals(xy, side, c, d)
    if min(along_ab, 1 - along_ab, along_cd, 1 - along_cd) <= INNER:
        return False
    ax, ay = xy[side[0]]
    (bx, by), (cx, cy), (dx, dy) = ((x - ax, y - ay) for x, y in (xy[side[1]], xy[c], xy[d]))
    b2, c2, d2 = bx * bx + by * by, cx * cx + cy * cy, dx * dx + dy * dy
    power = b2 * (cx * dy - cy * dx) - c2 * (bx * dy - by * dx) + d2 * (bx * cy - by * cx)
    return abs(power) <= SNAP * math.sqrt(b2 * c2 * ((cx - bx) ** 2 + (cy - by) ** 2))


def _diagonals(xy: Sequence[XY], side: Side, c: int, d: int) -> tuple[float, float]:
    """Where the diagonals cross, as a share of the way along the side and along c to d; 0 where they do not."""
    a, b = side
    on_a, on_b, left, right = _twice(xy, c, d, a), _twice(xy, c, d, b), _twice(xy, a, b, c), _twice(xy, a, b, d)
    if on_a == on_b or left == right:
        return 0.0, 0.0
    return on_a / (on_a - on_b), left / (left - right)


def _inside(
    region: shapely.Polygon, xy: Sequence[XY], triangles: Sequence[Triangle], walls: set[Side]
) -> list[Triangle]:
    """The triangles in the region: those in one patch between walls stand or fall with its largest triangle."""
    if not triangles:
        return []
    size = [_twice(xy, *triangle) for triangle in triangles]
    linked: list[list[int]] = [[] for _ in triangles]
    for side, both in beside(triangles).items():
        if len(both) == 2 and side not in walls:
            linked[both[0][0]].append(both[1][0])
            linked[both[1][0]].append(both[0][0])
    patch = [-1] * len(triangles)
    for first in sorted(range(len(triangles)), key=lambda facet: -size[facet]):
        if patch[first] < 0:
            patch[first] = first
            queue = [first]
            for facet in queue:  # grows while it is gone through
                for other in linked[facet]:
                    if patch[other] < 0:
                        patch[other] = first
                        queue.append(other)
    largest = sorted(set(patch))
    middles = [[sum(xy[v][k] for v in triangles[facet]) / 3 for k in (0, 1)] for facet in largest]
    in_region = dict(zip(largest, shapely.contains_xy(region, np.array(middles)).tolist(), strict=True))
    return [triangle for triangle, first in zip(triangles, patch, strict=True) if in_region[first]]


def fold_low(xy: Sequence[XY], z: Sequence[float], triangles: list[Triangle], held: set[Side]) -> None:
    """Put the lower diagonal in every four points on one circle, in place; sides that are ``held`` stay.

    See :func:`slabwright.geometry.surface.folds.folded_low`.
    """
    while True:
        most, chosen = LOWER, None
        for side, both in beside(triangles).items():
            if len(both) == 2 and side not in held:
                (_, c), (_, d) = both
                along_ab, along_cd = _diagonals(xy, side, c, d)
                drop = z[side[0]] + along_ab * (z[side[1]] - z[side[0]]) - z[c] - along_cd * (z[d] - z[c])
                if drop > most and _on_circle(xy, side, c, d):
                    most, chosen = drop, (side, *both)
        if chosen is None:
            return
        _flip(xy, triangles, *chosen)


def mesh_of_few(
    xy: Sequence[XY], triangles: Sequence[Triangle], point_vertices: Iterable[int], held: Iterable[Side]
) -> tuple[Mesh, list[int]]:
    """The mesh without the vertices that no triangle uses, and the old numbers of its vertices."""
    used = sorted({vertex for triangle in triangles for vertex in triangle})
    number = {vertex: new for new, vertex in enumerate(used)}
    rows = [(number[a], number[b], number[c]) for a, b, c in triangles]
    beyond = [[-1, -1, -1] for _ in rows]
    for both in beside(rows).values():
        if len(both) == 2:
            for (facet, across), (other, _) in (both, both[::-1]):
                beyond[facet][(rows[facet].index(across) + 1) % 3] = other
    mesh = Mesh(
        xy=np.array([xy[vertex] for vertex in used]).reshape(-1, 2),
        triangles=np.array(rows, dtype=np.int64).reshape(-1, 3),
        neighbours=np.array(beyond, dtype=np.int64).reshape(-1, 3),
        parents=np.full((len(used), 2), -1, dtype=np.int64),
        fractions=np.zeros(len(used)),
        point_vertices=np.array([number.get(vertex, -1) for vertex in point_vertices], dtype=np.int64),
        held=np.array([(number[a], number[b]) for a, b in held if a in number and b in number], dtype=np.int64).reshape(
            -1, 2
        ),
    )
    return mesh, used
