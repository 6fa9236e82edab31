"""Some facets of a surface: where they lie, their outline, and how they would fall at other heights."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import shapely

from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.triangulate import Mesh
from slabwright.geometry.xy import XY

_ON_SIDE = 1e-9  # m2: a place that spans no more with a side lies on it


def outer_ring(mesh: Mesh, facets: Sequence[int]) -> tuple[XY, ...]:
    """The closed outline of facets that hang together; openings in the patch are left out."""
    rings = _rings(mesh, facets)
    if rings is None:
        shape = shapely.union_all(shapely.polygons(mesh.xy[mesh.triangles[list(facets)]]))
        outer = max(shapely.get_parts(shape), key=lambda piece: float(piece.area)).exterior
        return tuple((float(x), float(y)) for x, y in outer.coords)
    closed = [tuple((x, y) for x, y in mesh.xy[[*ring, ring[0]]].tolist()) for ring in rings]
    return max(closed, key=_area) if len(closed) > 1 else closed[0]


def _rings(mesh: Mesh, facets: Sequence[int]) -> list[list[int]] | None:
    """The vertices of every ring round the patch in order; None where a vertex is passed twice."""
    chosen, own = list(facets), set(facets)
    after: dict[int, int] = {}
    for triangle, beside in zip(mesh.triangles[chosen].tolist(), mesh.neighbors[chosen].tolist(), strict=True):
        for k, other in enumerate(beside):
            if other not in own:
                vertex = triangle[k]
                if vertex in after:
                    return None
                after[vertex] = triangle[k - 2]
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


def facets_at(surface: Surface, places: Sequence[XY]) -> list[int]:
    """The facets in which some places lie, in order; on a side that is both beside it."""
    xy = surface.mesh.xy.tolist()
    left, right = min(x for x, _ in places), max(x for x, _ in places)
    bottom, top = min(y for _, y in places), max(y for _, y in places)
    found = []
    for facet, (a, b, c) in enumerate(surface.mesh.triangles.tolist()):
        (ax, ay), (bx, by), (cx, cy) = xy[a], xy[b], xy[c]
        if max(ax, bx, cx) < left or min(ax, bx, cx) > right or max(ay, by, cy) < bottom or min(ay, by, cy) > top:
            continue
        if any(
            (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= -_ON_SIDE
            and (cx - bx) * (y - by) - (cy - by) * (x - bx) >= -_ON_SIDE
            and (ax - cx) * (y - cy) - (ay - cy) * (x - cx) >= -_ON_SIDE
            for x, y in places
        ):
            found.append(facet)
    return found


def gradients_with(surface: Surface, facets: Iterable[int], new: Iterable[tuple[int, float]]) -> list[XY]:
    """Rise over run in x and y that some facets have when the ``new`` (vertex, height, m) are put in."""
    xy, z, triangles = surface.mesh.xy.tolist(), surface.z.tolist(), surface.mesh.triangles.tolist()
    for vertex, height in new:
        z[vertex] = height
    found = []
    for facet in facets:
        a, b, c = triangles[facet]
        ux, uy, vx, vy = xy[b][0] - xy[a][0], xy[b][1] - xy[a][1], xy[c][0] - xy[a][0], xy[c][1] - xy[a][1]
        rise, other, twice = z[b] - z[a], z[c] - z[a], ux * vy - uy * vx
        flat = twice <= 2e-15
        found.append((0.0, 0.0) if flat else ((rise * vy - other * uy) / twice, (other * ux - rise * vx) / twice))
    return found
