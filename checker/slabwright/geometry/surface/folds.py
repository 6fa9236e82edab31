"""Which way four points on one circle fold, where no line says so.

A rectangle has two diagonals, and both make Delaunay triangles: rounding would choose, and the same slab drawn
turned or mirrored would fold the other way. Here the lower diagonal is taken, so that the choice hangs on the heights
alone. Of more points on one circle the lower envelope is what remains: of all surfaces through them the one that
bends upwards everywhere, which is unique.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from slabwright.geometry.shape.noding import Floats, Ints, among, pair_keys
from slabwright.geometry.surface.diagonals import Quads, apart, crossing, flipped, on_circle, quads
from slabwright.geometry.surface.triangulate import Mesh, neighbors_of

_LOWER = 1e-9  # a diagonal this much lower is lower, m


def folded_low(mesh: Mesh, z: Floats) -> Mesh:
    """The mesh with the lower diagonal in every four points that lie on one circle.

    ``z`` (n,) are the heights of the vertices, m. Sides that a segment holds stay. Every change lowers the surface,
    so the changes come to an end; sides of different triangles are changed together. Where both diagonals are of one
    height the one at the first of the four vertices is taken, so that the choice never hangs on rounding, and
    triangles are put in the order of their vertices.
    """
    triangles, neighbors = mesh.triangles, mesh.neighbors
    held = pair_keys(np.sort(mesh.held, axis=1), len(mesh.xy))
    level = False
    while True:
        facet, other, quad = quads(triangles, neighbors)
        a, b, c, d = quad
        along_ab, along_cd = crossing(mesh.xy, quad)
        worth = drop = z[a] + along_ab * (z[b] - z[a]) - z[c] - along_cd * (z[d] - z[c])
        better = _free(mesh, quad, (drop > _LOWER) & (not level), held)
        if not len(better):
            level = True
            worth = np.minimum(a, b) - np.minimum(c, d)
            better = _free(mesh, quad, (np.abs(drop) <= _LOWER) & (worth > 0), held)
        if not len(better):
            break
        change = better[apart(worth[better], facet[better], other[better], len(triangles))]
        triangles = flipped(triangles, facet[change], other[change], tuple(part[change] for part in quad))
        neighbors = neighbors_of(triangles, len(mesh.xy))
    return _in_order(replace(mesh, triangles=triangles, neighbors=neighbors))


def _free(mesh: Mesh, quad: Quads, wanted: NDArray[np.bool_], held: Ints) -> Ints:
    """Of the wanted sides those that no segment holds, and whose four corners lie on one circle."""
    (rows,) = np.nonzero(wanted)
    if not len(rows):
        return rows
    a, b, c, d = (part[rows] for part in quad)
    may = ~among(np.minimum(a, b) * len(mesh.xy) + np.maximum(a, b), held) & on_circle(mesh.xy, (a, b, c, d))
    return np.asarray(rows[may])


def _in_order(mesh: Mesh) -> Mesh:
    """The mesh with the first vertex of every triangle first, and the triangles in the order of their vertices."""
    turn = (np.argmin(mesh.triangles, axis=1)[:, None] + np.arange(3)) % 3
    triangles = np.take_along_axis(mesh.triangles, turn, axis=1)
    order = np.lexsort(triangles.T[::-1])
    place = np.empty(len(order) + 1, dtype=np.int64)
    place[order], place[-1] = np.arange(len(order)), -1
    neighbors = place[np.take_along_axis(mesh.neighbors, turn, axis=1)]
    return replace(mesh, triangles=triangles[order], neighbors=neighbors[order])
