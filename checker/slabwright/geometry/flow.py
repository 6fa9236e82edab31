"""Which way water runs from every facet, over every facet side and from every vertex of a surface.

On a facet it runs straight down. Where two facets drain into the side between them (a valley), or a facet drains
into an edge that lets nothing out, it follows that side to its lower end. From a vertex it takes the steepest way.
From a low vertex whose pond is too shallow to count it goes on the way the pond overflows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from slabwright.geometry.facets import Surface
from slabwright.geometry.flood import Rim, flood, outlets, way_over
from slabwright.geometry.noding import Floats, Ints, among, pair_keys
from slabwright.geometry.standing import PondShape, ponds

LEVEL = 1e-7
"""A facet or side with less slope is level."""

_ALONG = 1e-9  # sine of the angle under which water runs along a side and not over it

NONE, CROSS, CHANNEL, STILL, EDGE = range(5)
"""What water does at a side of a facet: not reach it, cross it, follow it, stop (level facet beyond), meet the rim."""

STAY, OUT, FACET, VERTEX = range(4)
"""What happens at a vertex: water stops, leaves the slab, runs down a facet, goes to another vertex."""


@dataclass(frozen=True, eq=False)
class Flow:
    """Ways of water, for facets (m, 3) or (m,), rim edges (b,) and vertices (n,).

    - ``down`` (m, 2): unit vector downhill, zero on level facets
    - ``side`` (m, 3): NONE to EDGE; ``low`` (m, 3): the lower vertex of the side
    - ``rim_row`` (m, 3): the row of the rim that lies on the side, -1 for none
    - ``rim_edges`` (b, 2), ``exit`` (b,): as in the rim; ``way`` (b, 2): from where to where water may leave over it,
      as fractions of its length
    - ``step`` (n,): STAY to VERTEX; ``target`` (n,): the facet, vertex or exit number that goes with it
    - ``pond`` (n,): the pond that covers the vertex, -1 for none; ``facet_pond`` (m,): the same for level facets
    - ``over``: for the low vertex of a pond too shallow to count, the vertices on the way out of it
    """

    surface: Surface
    down: Floats
    side: Ints
    low: Ints
    rim_row: Ints
    rim_edges: Ints
    way: Floats
    exit: Ints
    step: Ints
    target: Ints
    pond: Ints
    facet_pond: Ints
    over: Mapping[int, Sequence[int]]


def flow_over(surface: Surface, rim: Rim, drains: Mapping[int, int], standing: Sequence[PondShape] | None) -> Flow:
    """Work out the ways of water; ``standing`` are the ponds that count (worked out here when None)."""
    mesh, z = surface.mesh, surface.z
    count = len(z)
    spill, through = outlets(surface, rim, drains)
    flooded = flood(surface, spill)
    if standing is None:
        standing = ponds(surface, flooded.level)
    pond = np.full(count, -1, dtype=np.int64)
    for number, one in enumerate(standing):
        pond[one.vertices] = number
    # order of vertices by height, equal ones by how soon the flood reached them
    order = np.empty(count, dtype=np.int64)
    order[np.lexsort((flooded.rank, z))] = np.arange(count)

    level = surface.slopes < LEVEL
    down = np.where(level[:, None], 0.0, -surface.gradients / np.where(level, 1.0, surface.slopes)[:, None])
    ends = np.stack([mesh.triangles, np.roll(mesh.triangles, -1, axis=1)], axis=2)
    run = mesh.xy[ends[..., 1]] - mesh.xy[ends[..., 0]]
    length = np.hypot(run[..., 0], run[..., 1])
    outward = (down[:, None, 0] * run[..., 1] - down[:, None, 1] * run[..., 0]) / length
    rim_row = _rim_rows(ends, mesh.neighbours, rim, count)
    beyond = mesh.neighbours
    back = np.argmax(mesh.neighbours[beyond] == np.arange(len(beyond))[:, None, None], axis=2)
    inward = -outward[beyond, back]
    side = np.where(inward > _ALONG, CROSS, np.where(level[beyond], STILL, CHANNEL))
    side = np.where(outward > _ALONG, np.where(beyond < 0, EDGE, side), NONE).astype(np.int64)
    low = np.where(order[ends[..., 0]] < order[ends[..., 1]], ends[..., 0], ends[..., 1])

    way = way_over(z[rim.edges], rim.ground)
    way[rim.exit < 0] = (1.0, 0.0)
    step, target = _steps(surface, outward, level, order, length, ends)
    open_at = _open_vertices(rim, way, drains, count)
    inland = np.zeros(count, dtype=bool)
    moving = step == VERTEX
    ways = np.sort(np.stack([np.arange(count), target], axis=1), axis=1)
    on_rim = among(pair_keys(ways, count), pair_keys(np.sort(mesh.rim, axis=1), count))
    inland[(step == FACET) | (moving & ~on_rim)] = True
    leaves = (open_at >= 0) & ~inland
    leaves[np.fromiter(drains, dtype=np.int64, count=len(drains))] = True
    step[leaves], target[leaves] = OUT, open_at[leaves]

    touches_level = np.zeros(count, dtype=bool)
    touches_level[mesh.triangles[level]] = True
    over: dict[int, list[int]] = {}
    for vertex in np.nonzero((step == STAY) & (pond < 0) & ~touches_level)[0].tolist():
        if not np.isfinite(flooded.level[vertex]):
            continue
        path, leaves_by = [vertex], int(through[vertex])
        while (after := int(flooded.towards[path[-1]])) >= 0:
            path.append(after)
            leaves_by = int(through[after])
            if flooded.level[after] < flooded.level[vertex] or pond[after] >= 0:
                step[vertex], target[vertex] = VERTEX, after
                break
        else:
            step[vertex], target[vertex] = OUT, leaves_by
        over[vertex] = path[1:]
    facet_pond = np.where(level, pond[mesh.triangles].max(axis=1), -1)
    return Flow(surface, down, side, low, rim_row, rim.edges, way, rim.exit, step, target, pond, facet_pond, over)


def _rim_rows(ends: Ints, neighbours: Ints, rim: Rim, count: int) -> Ints:
    """The rim edge on every side without a neighbour (m, 3), -1 where none is listed."""
    rows = np.full(neighbours.shape, -1, dtype=np.int64)
    if not len(rim.edges):
        return rows
    keys = pair_keys(np.sort(rim.edges, axis=1), count)
    order = np.argsort(keys)
    facet, side = np.nonzero(neighbours < 0)
    wanted = pair_keys(np.sort(ends[facet, side], axis=1), count)
    found = np.minimum(np.searchsorted(keys[order], wanted), len(order) - 1)
    rows[facet, side] = np.where(keys[order][found] == wanted, order[found], -1)
    return rows


def _open_vertices(rim: Rim, way: Floats, drains: Mapping[int, int], count: int) -> Ints:
    """The exit number by which water leaves right at a vertex (n,), -1 where it cannot."""
    found = np.full(count, -1, dtype=np.int64)
    ways = way[:, 0] <= way[:, 1]
    for end, limit in ((0, 0.0), (1, 1.0)):
        here = ways & (way[:, end] == limit)
        order = np.nonzero(here)[0][np.argsort(-rim.exit[here], kind="stable")]
        vertices = rim.edges[order, end]
        found[vertices] = np.where(found[vertices] < 0, rim.exit[order], np.minimum(rim.exit[order], found[vertices]))
    for vertex, number in drains.items():
        found[vertex] = number
    return found


def _steps(
    surface: Surface,
    outward: Floats,
    level: NDArray[np.bool_],
    order: Ints,
    length: Floats,
    ends: Ints,
) -> tuple[Ints, Ints]:
    """The steepest way down from every vertex: STAY, FACET or VERTEX, and which."""
    z, triangles = surface.z, surface.mesh.triangles
    count = len(z)
    # corner k starts a way down its facet when water runs over neither of the sides that meet there
    falls = (outward <= _ALONG) & (np.roll(outward, 1, axis=1) <= _ALONG) & ~level[:, None]
    facet, corner = np.nonzero(falls)
    a, b = ends.reshape(-1, 2).T
    high = np.where(order[a] < order[b], b, a)
    low = np.where(order[a] < order[b], a, b)
    slope = (z[high] - z[low]) / length.reshape(-1)
    steep = slope >= LEVEL
    high, low, slope = high[steep], low[steep], slope[steep]
    start = np.concatenate([triangles[facet, corner], high])
    kind = np.concatenate([np.full(len(facet), FACET), np.full(len(high), VERTEX)])
    goal = np.concatenate([facet, low])
    slopes = np.concatenate([surface.slopes[facet], slope])
    last_wins = np.lexsort((-goal, kind, slopes))
    step = np.full(count, STAY, dtype=np.int64)
    target = np.full(count, -1, dtype=np.int64)
    step[start[last_wins]] = kind[last_wins]
    target[start[last_wins]] = goal[last_wins]
    return step, target
