"""Which way four points on one circle fold, where no line says so.

A rectangle has two diagonals, and both make Delaunay triangles: rounding would choose, and the same slab drawn
turned or mirrored would fold the other way. Here the lower diagonal is taken, so that the choice hangs on the heights
alone. Of more points on one circle the lower envelope is what remains: of all surfaces through them the one that
bends upwards everywhere, which is unique.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from slabwright.geometry.shape.noding import Floats, among, pair_keys
from slabwright.geometry.surface.diagonals import apart, crossing, flipped, on_circle, quads
from slabwright.geometry.surface.triangulate import Mesh, neighbours_of

_LOWER = 1e-9  # a diagonal this much lower is lower, m


def folded_low(mesh: Mesh, z: Floats) -> Mesh:
    """The mesh with the lower diagonal in every four points that lie on one circle.

    ``z`` (n,) are the heights of the vertices, m. Sides that a segment holds stay. Every change lowers the surface,
    so the changes come to an end; sides of different triangles are changed together.
    """
    triangles, neighbours = mesh.triangles, mesh.neighbours
    held = pair_keys(np.sort(mesh.held, axis=1), len(mesh.xy))
    while True:
        facet, other, quad = quads(triangles, neighbours)
        a, b, c, d = quad
        along_ab, along_cd = crossing(mesh.xy, quad)
        drop = z[a] + along_ab * (z[b] - z[a]) - z[c] - along_cd * (z[d] - z[c])
        free = ~among(pair_keys(np.sort(np.stack([a, b], axis=1), axis=1), len(mesh.xy)), held)
        (lower,) = np.nonzero((drop > _LOWER) & free & on_circle(mesh.xy, quad))
        if not len(lower):
            break
        change = lower[apart(drop[lower], facet[lower], other[lower], len(triangles))]
        triangles = flipped(triangles, facet[change], other[change], tuple(part[change] for part in quad))
        neighbours = neighbours_of(triangles, len(mesh.xy))
    return replace(mesh, triangles=triangles, neighbours=neighbours)
