"""Folds of the finish surface: four-corner pieces that can fold along either diagonal, and lines both sides fall to."""

import math
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.geometry.shape.distances import spot_on
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.triangulate import Mesh
from slabwright.geometry.xy import XY
from slabwright.plan.shape import ON_EDGE

TOWARD = 0.005  # fall to a line from both sides that makes it a low line (common practice)
STRAIGHT_ON = 1e-3  # sides of facets that turn less, and fall alike within this, are one line
LEVEL = 1e-6  # m: heights that differ by less are the same
MEASURED = 400  # facets: a surface shot more densely is measured, not folded from corners


Spot3 = tuple[float, float, float]  # x, y and height, m


class Fold(NamedTuple):
    """A four-corner piece of the finish surface that can fold along either diagonal."""

    names: tuple[str, str, str, str]  # corners in order round it; the surface folds from the first to the third
    corners: tuple[XY, XY, XY, XY]
    at: XY  # where the diagonals cross
    height: float  # there, folded as the surface is
    other_height: float  # there, folded the other way

    def far_corner(self, a: XY, b: XY) -> XY | None:
        """The third corner of the facet on a side along a-b, folded the other way; None where no side lies there."""
        on_it = [spot_on(a, b, corner)[1] < ON_EDGE for corner in self.corners]
        for k in range(4):
            if on_it[k] and on_it[k - 3]:
                return self.corners[k - 1 if k % 2 == 0 else k - 2]
        return None


def folds_of(surface: Surface, lines: Sequence[Sequence[XY]], name_at: Callable[[XY], str]) -> Iterator[Fold]:
    """The pieces of a surface that could fold either way, away from its rim and from ``lines`` that fold it.

    A fold between planes with more corners is meant: only by chance of where a plane is parted does it look like the
    middle of a four-corner piece. None where the surface has so many facets that it is measured. ``name_at`` names a
    corner.
    """
    mesh, z = surface.mesh, surface.z.tolist()
    triangles, neighbors = mesh.triangles.tolist(), mesh.neighbors.tolist()
    if len(triangles) > MEASURED:
        return
    xy = [(x, y) for x, y in mesh.xy.tolist()]
    meant = _sides_along(mesh, [*lines, *([xy[a], xy[b]] for a, b in mesh.rim.tolist())])

    def folded_on_purpose(a: int, b: int) -> bool:
        return (min(a, b), max(a, b)) in meant

    def beyond_plane(facet: int, a: int, b: int, c: int) -> Iterator[int]:
        """Corners that stand as well as ``c`` for a side a-b, as the facet is half of a plane with four corners."""
        for other in neighbors[facet]:
            e = next((v for v in triangles[other] if v not in (a, b, c)), -1) if other >= 0 else -1
            if e < 0 or {a, b} <= set(triangles[other]):
                continue
            first, last = (a, b) if b in triangles[other] else (b, a)  # the plane parts at last-c, or at first-e
            crossing = _crossing(xy[last], xy[c], xy[first], xy[e])
            if crossing is None or folded_on_purpose(last, c):
                continue
            t, u = crossing
            if abs(z[last] + (z[c] - z[last]) * t - z[first] - (z[e] - z[first]) * u) < LEVEL:
                yield e

    def folded(a: int, b: int, c: int, d: int) -> Fold | None:
        crossing = _crossing(xy[a], xy[b], xy[c], xy[d])
        if crossing is None:
            return None
        t, u = crossing
        at = xy[a][0] + (xy[b][0] - xy[a][0]) * t, xy[a][1] + (xy[b][1] - xy[a][1]) * t
        one, two = z[a] + (z[b] - z[a]) * t, z[c] + (z[d] - z[c]) * u
        named = {vertex: name_at(xy[vertex]) for vertex in (a, b, c, d)}
        rounds = (a, c, b, d), (a, d, b, c), (b, c, a, d), (b, d, a, c)
        first = min(rounds, key=lambda way: [named[vertex] for vertex in way])
        names, corners = (tuple(of[vertex] for vertex in first) for of in (named, xy))
        return Fold(names, corners, at, one, two)  # type: ignore[arg-type]

    for index, (triangle, beyond) in enumerate(zip(triangles, neighbors, strict=True)):
        for side, other in enumerate(beyond):
            if other <= index:
                continue
            a, b, c = triangle[side], triangle[side - 2], triangle[side - 1]
            d = next(v for v in triangles[other] if v not in (a, b))
            if _crossing(xy[a], xy[b], xy[c], xy[d]) is None or folded_on_purpose(a, b):
                continue
            here, there = (c, *beyond_plane(index, a, b, c)), (d, *beyond_plane(other, a, b, d))
            pieces = [folded(a, b, left, right) for left in here for right in there]
            every = [one for one in pieces if one is not None]
            if len(every) == len(pieces):
                yield min(every, key=lambda one: (round(abs(one.height - one.other_height), 6), sorted(one.names)))


def _sides_along(mesh: Mesh, lines: Sequence[Sequence[XY]]) -> frozenset[tuple[int, int]]:
    """Sides of facets, as vertices in rising order, whose middles lie on one of the lines."""
    sides = np.sort(mesh.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2), axis=1)
    middles = shapely.points(mesh.xy[sides].mean(axis=1))
    along = shapely.multilinestrings([shapely.linestrings(line) for line in lines if len(line) > 1])
    shapely.prepare(along)
    return frozenset((a, b) for a, b in sides[shapely.dwithin(along, middles, ON_EDGE)].tolist())


def _crossing(a: XY, b: XY, c: XY, d: XY) -> tuple[float, float] | None:
    """Where a-b and c-d cross, as shares of each; None when the four points make no four-corner piece."""
    along, back, gap = ((q[0] - p[0], q[1] - p[1]) for p, q in ((a, b), (d, c), (a, c)))
    turn = along[0] * back[1] - along[1] * back[0]
    if abs(turn) < 1e-9:
        return None
    t = (gap[0] * back[1] - gap[1] * back[0]) / turn
    u = (along[0] * gap[1] - along[1] * gap[0]) / turn
    return (t, u) if 0.05 < t < 0.95 and 0.05 < u < 0.95 else None


def low_lines(surface: Surface) -> list[tuple[XY, XY, float, float]]:
    """The straight lines that the facets of both sides fall to: their ends in plan, and the heights there, m.

    None where the surface has so many facets that it is measured.
    """
    if len(surface.mesh.triangles) > MEASURED:
        return []
    sides = surface.inner_sides
    ends, z = surface.mesh.xy[sides], surface.z[sides]
    along = ends[:, 1] - ends[:, 0]
    size = np.hypot(*along.T)
    facet, side = np.nonzero(surface.mesh.neighbors > np.arange(len(surface.mesh.triangles))[:, None])
    beyond = surface.mesh.neighbors[facet, side]
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / size[:, None]  # facets run counterclockwise
    down = -np.sum(surface.gradients[facet] * outward, axis=1)
    up = np.sum(surface.gradients[beyond] * outward, axis=1)
    low = np.nonzero(np.minimum(down, up) >= TOWARD)[0]
    found = [((*ends[k, 0].tolist(), float(z[k, 0])), (*ends[k, 1].tolist(), float(z[k, 1]))) for k in low.tolist()]
    joined: list[tuple[Spot3, Spot3]] = []
    while found:
        line = found.pop()
        while (other := next((one for one in found if _joined(line, one)), None)) is not None:
            found.remove(other)
            line = _joined(line, other) or line
        joined.append(line)
    return [((a[0], a[1]), (b[0], b[1]), a[2], b[2]) for a, b in joined]


def _joined(one: tuple[Spot3, Spot3], other: tuple[Spot3, Spot3]) -> tuple[Spot3, Spot3] | None:
    """Two lines as one where they share an end, go straight on and fall alike."""
    for a, b in (one, one[::-1]):
        for c, d in (other, other[::-1]):
            if math.dist(b, c) > ON_EDGE:
                continue
            first, second = (math.dist(p[:2], q[:2]) for p, q in ((a, b), (c, d)))
            way, on = ([(q[i] - p[i]) / n for i in range(3)] for p, q, n in ((a, b, first), (c, d, second)))
            if math.dist(way, on) < STRAIGHT_ON:
                return a, d
    return None
