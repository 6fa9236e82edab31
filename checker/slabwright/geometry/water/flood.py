"""How high water stands on a faceted surface before it finds a way out.

The level of every vertex is the lowest, over all ways to an outlet, of the highest point on the way. On a faceted
surface the best way runs along facet sides from vertex to vertex, so a flood over the vertices is exact. Source of
the method: R. Barnes, C. Lehman, D. Mulla, "Priority-flood", Computers & Geosciences 62 (2014) (recalled, not checked).
"""

import heapq
import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats, Ints
from slabwright.geometry.surface.facets import Surface


class Rim(NamedTuple):
    """What stands beside the edges of a mesh.

    ``edges`` (b, 2): vertices of edges of ``mesh.rim``; ``exit`` (b,): a number for where the water goes that leaves
    there, -1 where none may; ``ground`` (b, 2): height of the ground beside at both vertices (m), running straight
    between, -inf where it is lower than the slab. An edge of the mesh that is not listed lets no water out.
    """

    edges: Ints
    exit: Ints
    ground: Floats


class Flood(NamedTuple):
    """Water level of every vertex (n,), the vertex its water leaves to (-1 at an outlet), and the order of flooding."""

    level: list[float]
    towards: list[int]
    rank: list[int]


def outlets(surface: Surface, rim: Rim, drains: Mapping[int, int]) -> tuple[list[float], list[int]]:
    """Level (n,), m, at which water leaves from every vertex straight out of the slab, and the exit behind it (n,).

    inf and -1 where it cannot. Over an edge with an exit the level is the lowest point of the higher of edge and
    ground, at both its vertices; at a drain (vertex: exit number) its own height.
    """
    checked_rim(surface, rim)
    z: list[float] = surface.z.tolist()
    found = [(math.inf, -1)] * len(z)
    for (a, b), number, ground in zip(rim.edges.tolist(), rim.exit.tolist(), rim.ground.tolist(), strict=True):
        if number >= 0:
            out = _lowest_way_over(z[a], z[b], *ground), number
            found[a], found[b] = min(out, found[a]), min(out, found[b])
    for vertex, number in drains.items():
        found[vertex] = min((z[vertex], number), found[vertex])
    return [level for level, _ in found], [number for _, number in found]


def checked_rim(surface: Surface, rim: Rim) -> None:
    """Raise GeometryError unless the arrays fit each other and every edge is an edge of the mesh's rim."""
    if not (rim.edges.shape == rim.ground.shape == (len(rim.exit), 2)):
        raise GeometryError("a rim needs two vertices, an exit and two ground heights for every edge")
    known = {frozenset(edge) for edge in surface.mesh.rim.tolist()}
    if not all(frozenset(edge) in known for edge in rim.edges.tolist()):
        raise GeometryError("a rim edge is not an edge of the mesh")


def way_over(edge: tuple[float, float], ground: tuple[float, float]) -> tuple[float, float]:
    """Fractions along an edge between which the ground is not above the slab; (1, 0) where it is everywhere.

    ``edge`` and ``ground`` are heights at both ends, straight between.
    """
    if not _known(*ground):
        return 0.0, 1.0
    start, end = ground[0] - edge[0], ground[1] - edge[1]
    first, last = start <= 1e-9, end <= 1e-9
    if first == last:
        return (0.0, 1.0) if first else (1.0, 0.0)
    meet = min(max(start / (start - end), 0.0), 1.0)
    return (0.0, meet) if first else (meet, 1.0)


def _lowest_way_over(a: float, b: float, beside_a: float, beside_b: float) -> float:
    """The lowest point of the higher of an edge and the ground: at an end, or where the two cross."""
    if not _known(beside_a, beside_b):
        return min(a, b)
    ends = min(max(a, beside_a), max(b, beside_b))
    start, end = beside_a - a, beside_b - b
    return min(ends, a + start / (start - end) * (b - a)) if start * end < 0 else ends


def _known(beside_a: float, beside_b: float) -> bool:
    """Whether ground stands beside the whole edge."""
    return math.isfinite(beside_a) and math.isfinite(beside_b)


def flood(surface: Surface, spill: Sequence[float], exits: Sequence[int] | None = None) -> Flood:
    """Flood the surface from its outlets inwards, lowest first; ``spill`` and ``exits`` (n,) as from ``outlets``.

    Of ways out that are equally low the one to the exit with the least number counts, not the one that chance of
    numbering puts first.
    """
    z: list[float] = surface.z.tolist()
    count = len(z)
    beside = _neighboring_vertices(surface, count)
    level = [math.inf] * count
    towards = [-1] * count
    rank = [count] * count
    number = exits or [0] * count
    queue = [(max(out, z[vertex]), number[vertex], vertex, -1) for vertex, out in enumerate(spill) if out < math.inf]
    heapq.heapify(queue)
    done = 0
    while queue:
        height, leads_to, vertex, source = heapq.heappop(queue)
        if rank[vertex] < count:
            continue
        rank[vertex] = done
        level[vertex] = height
        towards[vertex] = source
        done += 1
        for other in beside[vertex]:
            if rank[other] == count:
                heapq.heappush(queue, (max(height, z[other]), leads_to, other, vertex))
    return Flood(level, towards, rank)


def _neighboring_vertices(surface: Surface, count: int) -> list[list[int]]:
    """For every vertex those at the other end of its edges."""
    beside: list[list[int]] = [[] for _ in range(count)]
    for (a, b, c), beyond in zip(surface.mesh.triangles.tolist(), surface.mesh.neighbors.tolist(), strict=True):
        for (start, end), other in zip(((a, b), (b, c), (c, a)), beyond, strict=True):
            beside[start].append(end)
            if other < 0:  # no facet beyond has this side the other way round
                beside[end].append(start)
    return beside
