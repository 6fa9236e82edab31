"""Which way four points on one circle fold, where no line says so.

A rectangle has two diagonals, and both make Delaunay triangles: rounding would choose, and the same slab drawn
turned or mirrored would fold the other way. Here the lower diagonal is taken, so that the choice hangs on the heights
alone. Of more points on one circle the lower envelope is what remains: of all surfaces through them the one that
bends upwards everywhere, which is unique.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from slabwright.geometry.noding import Floats, Ints, among, cross, pair_keys
from slabwright.geometry.triangulate import Mesh, neighbours_of

_ALIKE = 1e-6  # a point this near to the circle through three others lies on it, m
_LOWER = 1e-9  # a diagonal this much lower is lower, m
_INNER = 1e-6  # the diagonals cross at least this far inside both, as a share of each


def folded_low(mesh: Mesh, z: Floats) -> Mesh:
    """The mesh with the lower diagonal in every four points that lie on one circle.

    ``z`` (n,) are the heights of the vertices, m. Sides that a segment holds stay. Every change lowers the surface,
    so the changes come to an end; sides of different triangles are changed together.
    """
    triangles, neighbours = mesh.triangles.copy(), mesh.neighbours
    held = pair_keys(np.sort(mesh.held, axis=1), len(mesh.xy))
    changed = False
    while True:
        facet, side = np.nonzero(neighbours > np.arange(len(triangles))[:, None])
        other = neighbours[facet, side]
        a, b, c = (triangles[facet, (side + k) % 3] for k in range(3))
        d = triangles[other].sum(axis=1) - a - b
        drop = _drop(mesh.xy, z, a, b, c, d)
        drop[among(pair_keys(np.sort(np.stack([a, b], axis=1), axis=1), len(mesh.xy)), held)] = 0
        (lower,) = np.nonzero(drop > _LOWER)
        if not len(lower):
            return replace(mesh, triangles=triangles, neighbours=neighbours) if changed else mesh
        changed = True
        chosen = lower[_apart(drop[lower], facet[lower], other[lower], len(triangles))]
        a, b, c, d = a[chosen], b[chosen], c[chosen], d[chosen]
        triangles[facet[chosen]] = np.stack([a, d, c], axis=1)
        triangles[other[chosen]] = np.stack([d, b, c], axis=1)
        neighbours = neighbours_of(triangles, len(mesh.xy))


def _drop(xy: Floats, z: Floats, a: Ints, b: Ints, c: Ints, d: Ints) -> Floats:
    """How much lower than a-b the diagonal c-d runs where they cross, m; 0 where the four are not on one circle."""
    first, second, third = xy[b] - xy[a], xy[c] - xy[a], xy[d] - xy[a]
    left, right = cross(first, second), cross(first, third)
    on_ab, on_ba = cross(xy[d] - xy[c], xy[a] - xy[c]), cross(xy[d] - xy[c], xy[b] - xy[c])
    with np.errstate(divide="ignore", invalid="ignore"):
        along_cd, along_ab = left / (left - right), on_ab / (on_ab - on_ba)
        inside = (np.minimum(along_ab, 1 - along_ab) > _INNER) & (np.minimum(along_cd, 1 - along_cd) > _INNER)
        fall = z[a] + along_ab * (z[b] - z[a]) - z[c] - along_cd * (z[d] - z[c])
        square = [np.sum(part * part, axis=1) for part in (first, second, third)]
        power = square[0] * cross(second, third) - square[1] * right + square[2] * left
        sides = np.sqrt(square[0] * square[1] * np.sum((xy[c] - xy[b]) ** 2, axis=1))
        off_circle = np.abs(power) / sides  # of the fourth point from the circle through the other three
    return np.where(inside & (off_circle <= _ALIKE), fall, 0.0)


def _apart(drop: Floats, facet: Ints, other: Ints, count: int) -> Ints:
    """Of sides between facets, those with the greatest drop of both facets beside them: no facet is named twice."""
    rank = np.empty(len(drop), dtype=np.int64)
    rank[np.argsort(drop, kind="stable")] = np.arange(len(drop))
    best = np.full(count, -1, dtype=np.int64)
    np.maximum.at(best, facet, rank)
    np.maximum.at(best, other, rank)
    return np.nonzero((best[facet] == rank) & (best[other] == rank))[0]
