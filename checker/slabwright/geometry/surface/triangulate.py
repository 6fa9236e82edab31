"""A conforming Delaunay triangulation: every given segment ends up as a chain of triangle edges.

Segments are first cut where they cross and where points lie on them, then cut further until the Delaunay
triangulation of all points holds every piece. Cutting at lengths of powers of two from a shared end
(concentric shells) makes that end even between segments that meet at a small angle. Source of the method:
J. Ruppert, "A Delaunay refinement algorithm for quality 2-dimensional mesh generation", Journal of
Algorithms 18 (1995), section on small angles (recalled, not checked).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import (
    SNAP,
    Floats,
    Ints,
    Noded,
    among,
    cross,
    distinct,
    pair_keys,
    side_keys,
)
from slabwright.geometry.surface.diagonals import apart, flipped, on_circle, quads

_MOST_ROUNDS = 60
_SLIVER = 1e-9  # m: a triangle less wide has no width
_AFTER = np.array([1, 2, 0])
FAR = 5000  # radius of the ring round all points, in half sizes of the plan


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles that cover a region exactly.

    ``xy`` (n, 2); ``triangles`` (m, 3), counterclockwise; ``neighbors`` (m, 3): the triangle across the side from
    corner k to corner k + 1, -1 at the rim; ``parents`` (n, 2): for a vertex put in to cut a segment, the two
    vertices between which it was put, else -1; ``fractions`` (n,): how far it lies from the first to the second;
    ``held`` (h, 2): the vertices of edges that a segment runs along.
    """

    xy: Floats
    triangles: Ints
    neighbors: Ints
    parents: Ints
    fractions: Floats
    held: Ints

    @cached_property
    def rim(self) -> Ints:
        """Edges with nothing beyond, (b, 2) vertices; the region lies on the left of every one."""
        facet, side = np.nonzero(self.neighbors < 0)
        return np.stack([self.triangles[facet, side], self.triangles[facet, (side + 1) % 3]], axis=1)

    @cached_property
    def edges(self) -> Ints:
        """Every edge once, (e, 2), the smaller vertex first."""
        keys = distinct(side_keys(self.triangles, len(self.xy)))
        return np.stack([keys // len(self.xy), keys % len(self.xy)], axis=1)


def ring_segments(polygon: shapely.Polygon) -> Floats:
    """Sides of the outline and of all openings, (s, 2, 2)."""
    xy, ring = shapely.get_coordinates(shapely.get_rings(polygon), return_index=True)
    onward = ring[1:] == ring[:-1]
    return np.asarray(np.stack([xy[:-1][onward], xy[1:][onward]], axis=1), dtype=np.float64)


def checked_region(region: shapely.Polygon) -> shapely.Polygon:
    """The region, when it is a valid polygon with an area; raises GeometryError else."""
    if not isinstance(region, shapely.Polygon) or region.is_empty or not region.is_valid or not region.area > 0:
        raise GeometryError("a surface needs a valid polygon with an area")
    return region


def mesh_of(region: shapely.Polygon, noded: Noded, sides: int) -> tuple[Mesh, Ints]:
    """The mesh over ``region`` of points and segments brought together; its outline is the first ``sides`` segments.

    With it, for every vertex, its number in ``noded.xy`` (n,), -1 for those put in to cut segments.
    """
    xy, pieces = noded.xy, noded.pieces
    count = len(xy)
    on_rim = [np.sort(np.stack([a[:-1], a[1:]], axis=1), axis=1) for a in noded.along[:sides] if len(a) > 1]
    wall = among(pair_keys(pieces, count), pair_keys(np.concatenate(on_rim), count))
    span = np.stack([np.zeros(len(pieces)), np.ones(len(pieces))], axis=1)
    parent = pieces
    new_parents: list[Ints] = []
    new_fractions: list[Floats] = []
    for _ in range(_MOST_ROUNDS):
        triangles = _with_diagonals(xy, _without_slivers(xy, _delaunay(xy)), pieces)
        have = side_keys(triangles, len(xy))
        long_enough = np.sum((xy[pieces[:, 0]] - xy[pieces[:, 1]]) ** 2, axis=1) > (8 * SNAP) ** 2
        missing = ~among(pair_keys(pieces, len(xy)), have) & long_enough
        if not missing.any():
            break
        cut = _cut_at(xy, pieces[missing], count)
        fresh = len(xy) + np.arange(int(missing.sum()))
        ends = xy[pieces[missing]]
        xy = np.concatenate([xy, ends[:, 0] + cut[:, None] * (ends[:, 1] - ends[:, 0])])
        here = span[missing, 0] + cut * (span[missing, 1] - span[missing, 0])
        new_parents.append(parent[missing])
        new_fractions.append(here)
        stay = ~missing
        pieces = np.concatenate(
            [
                pieces[stay],
                np.stack([pieces[missing, 0], fresh], axis=1),
                np.stack([pieces[missing, 1], fresh], axis=1),
            ]
        )
        span = np.concatenate(
            [
                span[stay],
                np.stack([span[missing, 0], here], axis=1),
                np.stack([span[missing, 1], here], axis=1),
            ]
        )
        parent = np.concatenate([parent[stay], parent[missing], parent[missing]])
        wall = np.concatenate([wall[stay], wall[missing], wall[missing]])
    parents = np.concatenate([np.full((count, 2), -1), *new_parents]).astype(np.int64)
    fractions = np.concatenate([np.zeros(count), *new_fractions])
    beyond = neighbors_of(triangles, len(xy))
    inside = _inside(region, xy, triangles, beyond, pieces[wall])
    kept = np.where(inside, np.cumsum(inside) - 1, -1)
    beyond = np.where(beyond >= 0, kept[beyond], -1)[inside]
    return _compacted(xy, triangles[inside], beyond, parents, fractions, pieces, count)


def _cut_at(xy: Floats, pieces: Ints, given: int) -> Floats:
    """Where to cut every piece, as a fraction from its first vertex: the middle, or a power of two from a given end."""
    length = np.sqrt(np.sum((xy[pieces[:, 0]] - xy[pieces[:, 1]]) ** 2, axis=1))
    shell = np.exp2(np.round(np.log2(length / 2))) / length
    first, second = pieces[:, 0] < given, pieces[:, 1] < given
    return np.where(first == second, 0.5, np.where(first, shell, 1 - shell))


def _delaunay(xy: Floats) -> Ints:
    """Delaunay triangles of points, (m, 3) counterclockwise; the first rows of vertices are the points.

    A far ring of points keeps the outline off the hull, where rounding could leave slivers out. It is so far that
    the circle through a side and a point beside it reaches it only where that point as good as lies on the side:
    nearer, it would hang on how the plan is turned whether the side is cut.
    """
    middle = (xy.min(axis=0) + xy.max(axis=0)) / 2
    local = xy - middle
    reach = FAR * max(float(np.abs(local).max()), 1e-3)
    turn = np.arange(8) * (np.pi / 4) + 0.1
    every = np.concatenate([local, reach * np.stack([np.cos(turn), np.sin(turn)], axis=1)]) + 0.0
    corners = np.asarray(
        shapely.get_coordinates(shapely.delaunay_triangles(shapely.multipoints(every))), dtype=np.float64
    ).reshape(-1, 4, 2)[:, :3]
    keys = every[:, 0] + 1j * every[:, 1]
    order = np.argsort(keys, kind="stable")
    found = np.searchsorted(keys[order], corners[..., 0] + 1j * corners[..., 1])
    triangles = order[np.minimum(found, len(order) - 1)].astype(np.int64)
    turning = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    if float(turning.sum()) < 0:
        triangles = triangles[:, [0, 2, 1]]
    return np.asarray(triangles[(triangles < len(xy)).all(axis=1)])


def _without_slivers(xy: Floats, triangles: Ints) -> Ints:
    """The triangles, with the long side taken out of each that has no width: its tip as good as lies on that side.

    Points typed along one straight side come to lie a bit beside it by rounding when the plan is turned; left so, the
    height of the tip would carry nothing, and the slope of the sliver would be any number.
    """
    for _ in range(_MOST_ROUNDS):
        corners = xy[triangles]
        sides = corners[:, _AFTER] - corners
        lengths = np.hypot(sides[..., 0], sides[..., 1])
        wide = np.abs(cross(sides[:, 0], sides[:, 1])) > _SLIVER * lengths.max(axis=1)
        if wide.all():
            break
        facet, other, quad = quads(triangles, neighbors_of(triangles, len(xy)))
        a, b, c, d = quad
        across = np.hypot(*(xy[b] - xy[a]).T)
        tips = np.zeros(len(facet), dtype=bool)
        for one, tip in ((facet, c), (other, d)):
            reach = np.sum((xy[tip] - xy[a]) * (xy[b] - xy[a]), axis=1) / across
            tips |= ~wide[one] & (reach > SNAP) & (reach < across - SNAP) & (wide[facet] | wide[other])
        (rows,) = np.nonzero(tips)
        change = rows[apart(across[rows], facet[rows], other[rows], len(triangles))]
        if not len(change):
            break
        triangles = flipped(triangles, facet[change], other[change], tuple(part[change] for part in quad))
    return triangles


def _with_diagonals(xy: Floats, triangles: Ints, pieces: Ints) -> Ints:
    """The triangles, with pieces that are the other diagonal of four points on one circle put in.

    Both diagonals are Delaunay's, so nothing needs to be cut; which one rounding chose hangs on how the plan is turned.
    """
    keys = pair_keys(np.sort(pieces, axis=1), len(xy))
    for _ in range(_MOST_ROUNDS):
        if among(keys, side_keys(triangles, len(xy))).all():
            break
        facet, other, quad = quads(triangles, neighbors_of(triangles, len(xy)))
        a, b, c, d = quad
        across = among(pair_keys(np.sort(np.stack([c, d], axis=1), axis=1), len(xy)), keys)
        across &= ~among(pair_keys(np.sort(np.stack([a, b], axis=1), axis=1), len(xy)), keys)
        (wanted,) = np.nonzero(across)
        wanted = wanted[on_circle(xy, tuple(part[wanted] for part in quad))]
        if not len(wanted):
            break
        change = wanted[apart(np.zeros(len(wanted)), facet[wanted], other[wanted], len(triangles))]
        triangles = flipped(triangles, facet[change], other[change], tuple(part[change] for part in quad))
    return triangles


def _inside(region: shapely.Polygon, xy: Floats, triangles: Ints, beyond: Ints, walls: Ints) -> NDArray[np.bool_]:
    """Which triangles lie in the region: those in one patch between walls stand or fall with its largest triangle."""
    at_wall = among(side_keys(triangles, len(xy)), pair_keys(np.sort(walls, axis=1), len(xy)))
    beyond = np.where(at_wall, -1, beyond)
    corners = xy[triangles]
    middle = corners.mean(axis=1)
    size = np.abs(cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]))
    in_region = np.asarray(shapely.contains_xy(region, middle), dtype=bool) & (size > _SLIVER * SNAP)
    patch = np.full(len(triangles), -1, dtype=np.int64)
    links = beyond.tolist()
    seen = [False] * len(triangles)
    for first in np.argsort(-size, kind="stable").tolist():
        if seen[first]:
            continue
        seen[first] = True
        queue = [first]
        for facet in queue:
            for other in links[facet]:
                if other >= 0 and not seen[other]:
                    seen[other] = True
                    queue.append(other)
        patch[queue] = first
    return np.asarray(in_region[patch], dtype=bool)


def neighbors_of(triangles: Ints, count: int) -> Ints:
    """The triangle across every side (m, 3), -1 where there is none; ``count`` is the number of vertices."""
    keys = side_keys(triangles, count).reshape(-1)
    order = np.argsort(keys, kind="stable")
    pair = np.nonzero(keys[order][1:] == keys[order][:-1])[0]
    across = np.full(keys.shape, -1, dtype=np.int64)
    across[order[pair]] = order[pair + 1] // 3
    across[order[pair + 1]] = order[pair] // 3
    return across.reshape(-1, 3)


def _compacted(
    xy: Floats,
    triangles: Ints,
    neighbors: Ints,
    parents: Ints,
    fractions: Floats,
    pieces: Ints,
    given: int,
) -> tuple[Mesh, Ints]:
    """The mesh without the vertices that no triangle uses, and the old numbers of its vertices."""
    used = np.zeros(len(xy), dtype=bool)
    used[triangles] = True
    number = np.where(used, np.cumsum(used) - 1, -1)
    parents = np.where(parents[used] >= 0, number[parents[used]], -1)
    triangles, held = number[triangles], number[pieces]
    origin = np.nonzero(used)[0]
    mesh = Mesh(
        xy=xy[used],
        triangles=triangles,
        neighbors=neighbors,
        parents=parents,
        fractions=fractions[used],
        held=held[(held >= 0).all(axis=1)],
    )
    return mesh, np.where(origin < given, origin, -1)
