"""Patches of a mesh: facets that hang together by their sides."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import shapely

from slabwright.geometry.triangulate import Mesh

XY = tuple[float, float]


def outer_ring(mesh: Mesh, facets: Sequence[int]) -> tuple[XY, ...]:
    """The closed outline of facets that hang together; openings in the patch are left out."""
    xy = [(x, y) for x, y in mesh.xy.tolist()]
    rings = _rings(mesh, facets)
    if rings is None:
        shape = shapely.union_all(shapely.polygons(mesh.xy[mesh.triangles[list(facets)]]))
        outer = max(shapely.get_parts(shape), key=lambda piece: float(piece.area)).exterior
        return tuple((float(x), float(y)) for x, y in outer.coords)
    closed = [tuple(xy[vertex] for vertex in (*ring, ring[0])) for ring in rings]
    return max(closed, key=_area) if len(closed) > 1 else closed[0]


def _rings(mesh: Mesh, facets: Sequence[int]) -> list[list[int]] | None:
    """The vertices of every ring round the patch in order; None where a vertex is passed twice."""
    triangles, neighbours, own = mesh.triangles.tolist(), mesh.neighbours.tolist(), set(facets)
    after: dict[int, int] = {}
    for facet in facets:
        for k, other in enumerate(neighbours[facet]):
            if other not in own:
                vertex = triangles[facet][k]
                if vertex in after:
                    return None
                after[vertex] = triangles[facet][k - 2]
    rings = []
    while after:
        ring = [next(iter(after))]
        while (vertex := after.pop(ring[-1])) != ring[0]:
            ring.append(vertex)
        rings.append(ring)
    return rings


def _area(ring: Sequence[XY]) -> float:
    """Twice the area that a closed ring goes round, positive when it turns left."""
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise(ring))
