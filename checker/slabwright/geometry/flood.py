"""How high water stands on a faceted surface before it finds a way out.

The level of every vertex is the lowest, over all ways to an outlet, of the highest point on the way. On a faceted
surface the best way runs along facet sides from vertex to vertex, so a flood over the vertices is exact. Source of
the method: R. Barnes, C. Lehman, D. Mulla, "Priority-flood", Computers & Geosciences 62 (2014) (recalled, not checked).
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.facets import Surface
from slabwright.geometry.noding import Floats, Ints, among, pair_keys


@dataclass(frozen=True, eq=False)
class Rim:
    """What stands beside the edges of a mesh.

    ``edges`` (b, 2): vertices of edges of ``mesh.rim``; ``exit`` (b,): a number for where the water goes that leaves
    there, -1 where none may; ``ground`` (b, 2): height of the ground beside at both vertices (m), running straight
    between, -inf where it is lower than the slab. An edge of the mesh that is not listed lets no water out.
    """

    edges: Ints
    exit: Ints
    ground: Floats


@dataclass(frozen=True, eq=False)
class Flood:
    """Water level of every vertex (n,), the vertex its water leaves to (-1 at an outlet), and the order of flooding."""

    level: Floats
    towards: Ints
    rank: Ints


def spill_levels(surface: Surface, rim: Rim, drains: Mapping[int, int]) -> Floats:
    """Level (n,), m, at which water leaves from every vertex straight out of the slab; inf where it cannot.

    Over an edge with an exit this is the lowest point of the higher of edge and ground, at both its vertices; at a
    drain (vertex: exit number) its own height.
    """
    return outlets(surface, rim, drains)[0]


def outlets(surface: Surface, rim: Rim, drains: Mapping[int, int]) -> tuple[Floats, Ints]:
    """Spill level of every vertex (n,), and the exit number behind it, -1 where there is none (n,)."""
    checked_rim(surface, rim)
    ways = rim.exit >= 0
    edges = rim.edges[ways]
    level = _lowest_way_over(surface.z[edges], rim.ground[ways])
    vertices = np.concatenate([edges.reshape(-1), np.fromiter(drains, dtype=np.int64, count=len(drains))])
    exits = np.concatenate(
        [
            np.repeat(rim.exit[ways], 2),
            np.fromiter(drains.values(), dtype=np.int64, count=len(drains)),
        ]
    ).astype(np.int64)
    levels = np.concatenate([np.repeat(level, 2), surface.z[vertices[2 * len(edges) :]]])
    spill = np.full(len(surface.z), np.inf)
    through = np.full(len(surface.z), -1, dtype=np.int64)
    highest_first = np.lexsort((-exits, -levels))
    spill[vertices[highest_first]] = levels[highest_first]
    through[vertices[highest_first]] = exits[highest_first]
    return spill, through


def checked_rim(surface: Surface, rim: Rim) -> None:
    """Raise GeometryError unless the arrays fit each other and every edge is an edge of the mesh's rim."""
    if not (rim.edges.shape == rim.ground.shape == (len(rim.exit), 2)):
        raise GeometryError("a rim needs two vertices, an exit and two ground heights for every edge")
    count = len(surface.z)
    known = pair_keys(np.sort(surface.mesh.rim, axis=1), count)
    if not among(pair_keys(np.sort(rim.edges, axis=1), count), known).all():
        raise GeometryError("a rim edge is not an edge of the mesh")


def way_over(edge: Floats, ground: Floats) -> Floats:
    """Fractions (b, 2) along edges between which the ground is not above the slab; (1, 0) where it is everywhere.

    ``edge`` and ``ground`` (b, 2) are heights at both ends, straight between.
    """
    over = np.where(_known(ground), ground - edge, -np.inf)
    with np.errstate(divide="ignore", invalid="ignore"):
        meet = np.clip(over[:, 0] / (over[:, 0] - over[:, 1]), 0, 1)
    first, last = over[:, 0] <= 1e-9, over[:, 1] <= 1e-9
    start = np.where(first, 0.0, np.where(last, meet, 1.0))
    end = np.where(last, 1.0, np.where(first, meet, 0.0))
    return np.stack([start, end], axis=1)


def _lowest_way_over(edge: Floats, ground: Floats) -> Floats:
    """The lowest point of the higher of edge and ground, (b,): at an end, or where the two cross."""
    ground = np.where(_known(ground), ground, -np.inf)
    ends = np.maximum(edge, ground).min(axis=1)
    over = ground - edge
    with np.errstate(divide="ignore", invalid="ignore"):
        meet = edge[:, 0] + over[:, 0] / (over[:, 0] - over[:, 1]) * (edge[:, 1] - edge[:, 0])
    with np.errstate(invalid="ignore"):
        crosses = np.isfinite(over[:, 0]) & np.isfinite(over[:, 1]) & (over[:, 0] * over[:, 1] < 0)
    return np.asarray(np.where(crosses, np.minimum(ends, np.where(crosses, meet, np.inf)), ends))


def _known(ground: Floats) -> NDArray[np.bool_]:
    """Whether ground stands beside the whole edge, (b, 1)."""
    return np.isfinite(ground[:, :1]) & np.isfinite(ground[:, 1:])


def fill(surface: Surface, spill: Floats) -> Floats:
    """Water level of every vertex (n,), m: its own height where it stays dry, inf where no way leads out."""
    return flood(surface, spill).level


def flood(surface: Surface, spill: Floats) -> Flood:
    """Flood the surface from its outlets inwards, lowest first; ``spill`` (n,) as from ``spill_levels``."""
    count = len(surface.z)
    z = surface.z.tolist()
    beside = _neighbouring_vertices(surface.mesh.edges, count)
    level = [np.inf] * count
    towards = [-1] * count
    rank = [count] * count
    queue: list[tuple[float, int, int]] = []
    for vertex in np.nonzero(np.isfinite(spill))[0].tolist():
        heapq.heappush(queue, (max(float(spill[vertex]), z[vertex]), vertex, -1))
    done = 0
    while queue:
        height, vertex, source = heapq.heappop(queue)
        if rank[vertex] < count:
            continue
        rank[vertex] = done
        level[vertex] = height
        towards[vertex] = source
        done += 1
        for other in beside[vertex]:
            if rank[other] == count:
                heapq.heappush(queue, (max(height, z[other]), other, vertex))
    return Flood(np.array(level), np.array(towards, dtype=np.int64), np.array(rank, dtype=np.int64))


def _neighbouring_vertices(edges: Ints, count: int) -> list[list[int]]:
    """For every vertex those at the other end of its edges."""
    both = np.concatenate([edges, edges[:, ::-1]])
    both = both[np.lexsort((both[:, 1], both[:, 0]))]
    starts = np.searchsorted(both[:, 0], np.arange(count + 1)).tolist()
    others = both[:, 1].tolist()
    return [others[starts[i] : starts[i + 1]] for i in range(count)]
