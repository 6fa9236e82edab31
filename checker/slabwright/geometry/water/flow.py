"""Which way water runs from every facet, over every facet side and from every vertex of a surface.

On a facet it runs straight down. Where two facets drain into the side between them (a valley), or a facet drains
into an edge that lets nothing out, it follows that side to its lower end. From a vertex it takes the steepest way.
From a low vertex whose pond is too shallow to count it goes on the way the pond overflows.
"""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.triangulate import Mesh
from slabwright.geometry.water.flood import Flood, Rim, flood, outlets, way_over
from slabwright.geometry.water.standing import PondShape, ponds

LEVEL = 1e-7
"""A facet or side with less slope is level."""

_ALONG = 1e-9  # sine of the angle under which water runs along a side and not over it

NONE, CROSS, CHANNEL, STILL, EDGE, INTO = range(6)
"""What water does at a side of a facet: not reach it, cross it, follow it, stop (level facet beyond), meet the rim,
run into a line that takes it all along."""

STAY, OUT, FACET, VERTEX = range(4)
"""What happens at a vertex: water stops, leaves the slab, runs down a facet, goes to another vertex."""


class Flow(NamedTuple):
    """Ways of water, for facets (m, 3) or (m,), rim edges (b,) and vertices (n,); lists, gone through one by one.

    - ``down`` (m, 2): unit vector downhill, zero on level facets
    - ``side`` (m, 3): NONE to INTO; ``low`` (m, 3): the lower vertex of the side
    - ``rim_row`` (m, 3): the row of the rim that lies on the side, -1 for none
    - ``rim_edges`` (b, 2), ``exit`` (b,): as in the ``rim``; ``way`` (b, 2): from where to where water may leave there,
      as fractions of its length
    - ``step`` (n,): STAY to VERTEX; ``target`` (n,): the facet, vertex or exit number that goes with it
    - ``standing``: the ponds that count
    - ``pond`` (n,): the pond that covers the vertex, -1 for none; ``facet_pond`` (m,): the same for level facets
    - ``over``: for the low vertex of a pond too shallow to count, the vertices on the way out of it
    """

    surface: Surface
    rim: Rim
    down: list[tuple[float, float]]
    side: list[list[int]]
    low: list[list[int]]
    rim_row: list[list[int]]
    rim_edges: list[list[int]]
    way: list[tuple[float, float]]
    exit: list[int]
    step: list[int]
    target: list[int]
    standing: Sequence[PondShape]
    pond: list[int]
    facet_pond: list[int]
    over: Mapping[int, Sequence[int]]


Links = list[list[int]]


def flow_over(surface: Surface, rim: Rim, drains: Mapping[int, int]) -> Flow:
    """Work out the ways of water.

    ``drains`` are vertices, each with its exit number; a held side between two vertices with one number takes water
    all along, from both sides.
    """
    mesh = surface.mesh
    z: list[float] = surface.z.tolist()
    triangles: Links = mesh.triangles.tolist()
    neighbors: Links = mesh.neighbors.tolist()
    spill, through = outlets(surface, rim, drains)
    flooded = flood(surface, spill, through)
    standing = ponds(surface, flooded.level)
    pond = [-1] * len(z)
    for number, one in enumerate(standing):
        for vertex in one.vertices.tolist():
            pond[vertex] = number
    slopes: list[float] = surface.slopes.tolist()
    level = [slope < LEVEL for slope in slopes]
    down = [
        (0.0, 0.0) if still else (-x / slope, -y / slope)
        for (x, y), slope, still in zip(surface.gradients.tolist(), slopes, level, strict=True)
    ]
    outward, length = _outward(mesh.xy.tolist(), triangles, down)
    side = _sides(neighbors, outward, level)
    _into_lines(side, mesh, drains)
    order = _rising(z, flooded.rank)
    low = [[a if order[a] < order[b] else b for a, b in ((i, j), (j, k), (k, i))] for i, j, k in triangles]
    way = _ways_out(rim, z)
    step, target = _steps(z, triangles, low, outward, length, slopes)
    _let_out(step, target, mesh, _open_vertices(rim, way), drains)
    touches_level = {vertex for facet, still in zip(triangles, level, strict=True) if still for vertex in facet}
    over: dict[int, list[int]] = {}
    for vertex, now in enumerate(step):
        if now == STAY and pond[vertex] < 0 and vertex not in touches_level and flooded.level[vertex] < math.inf:
            step[vertex], target[vertex], over[vertex] = _overflow(vertex, flooded, through, pond)
    facet_pond = [max(pond[v] for v in facet) if still else -1 for facet, still in zip(triangles, level, strict=True)]
    return Flow(
        surface, rim, down, side, low, _rim_rows(rim, triangles, neighbors), rim.edges.tolist(), way, rim.exit.tolist(),
        step, target, standing, pond, facet_pond, over,
    )  # fmt: skip


def _rising(z: Sequence[float], rank: Sequence[int]) -> list[int]:
    """The place of every vertex in order of height, equal ones by how soon the flood reached them."""
    order = [0] * len(z)
    for place, vertex in enumerate(sorted(range(len(z)), key=lambda v: (z[v], rank[v]))):
        order[vertex] = place
    return order


def _rim_rows(rim: Rim, triangles: Links, neighbors: Links) -> Links:
    """The row of the rim that lies on every side (m, 3), -1 for none."""
    rows = {frozenset(edge): row for row, edge in enumerate(rim.edges.tolist())}
    return [
        [rows.get(frozenset((facet[k], facet[k - 2])), -1) if beyond[k] < 0 else -1 for k in range(3)]
        for facet, beyond in zip(triangles, neighbors, strict=True)
    ]


def _ways_out(rim: Rim, z: Sequence[float]) -> list[tuple[float, float]]:
    """From where to where water may leave over every edge of the rim, as fractions; backwards where it may not."""
    each = zip(rim.edges.tolist(), rim.exit.tolist(), rim.ground.tolist(), strict=True)
    return [
        (1.0, 0.0) if number < 0 else way_over((z[a], z[b]), (left, right)) for (a, b), number, (left, right) in each
    ]


def _let_out(
    step: list[int], target: list[int], mesh: Mesh, at_rim: Mapping[int, int], drains: Mapping[int, int]
) -> None:
    """Let water out into drains, and at open vertices of the rim where it does not run on inland, by exit numbers."""
    on_rim = {frozenset(edge) for edge in mesh.rim.tolist()}
    for vertex, number in at_rim.items():
        inland = step[vertex] == FACET or (step[vertex] == VERTEX and frozenset((vertex, target[vertex])) not in on_rim)
        if not inland:
            step[vertex], target[vertex] = OUT, number
    for vertex, number in drains.items():
        step[vertex], target[vertex] = OUT, number


def _outward(
    xy: Sequence[Sequence[float]], triangles: Links, down: Sequence[tuple[float, float]]
) -> tuple[list[list[float]], list[list[float]]]:
    """How straight water runs out over every side (m, 3), as a sine, and the length of the side, m."""
    outward, length = [], []
    for corners, (dx, dy) in zip(triangles, down, strict=True):
        a, b, c = corners
        runs = [(xy[q][0] - xy[p][0], xy[q][1] - xy[p][1]) for p, q in ((a, b), (b, c), (c, a))]
        sizes = [math.hypot(x, y) for x, y in runs]
        outward.append([(dx * y - dy * x) / size for (x, y), size in zip(runs, sizes, strict=True)])
        length.append(sizes)
    return outward, length


def _sides(neighbors: Links, outward: Sequence[Sequence[float]], level: Sequence[bool]) -> Links:
    """What water does at every side (m, 3)."""
    found = []
    for facet, (beyond, out) in enumerate(zip(neighbors, outward, strict=True)):
        kinds = []
        for other, sine in zip(beyond, out, strict=True):
            if sine <= _ALONG:
                kinds.append(NONE)
            elif other < 0:
                kinds.append(EDGE)
            elif -outward[other][neighbors[other].index(facet)] > _ALONG:
                kinds.append(CROSS)
            else:
                kinds.append(STILL if level[other] else CHANNEL)
        found.append(kinds)
    return found


def _into_lines(side: Links, mesh: Mesh, drains: Mapping[int, int]) -> None:
    """Let the water of both facets run into every side of theirs that lies on a line with one exit."""
    if len(set(drains.values())) == len(drains):  # as on most plans
        return
    lines = {frozenset(one) for one in mesh.held.tolist() if drains.get(one[0], -1) == drains.get(one[1], -2)}
    for kinds, facet in zip(side, mesh.triangles.tolist(), strict=True):
        for k, kind in enumerate(kinds):
            if kind in (CROSS, CHANNEL, STILL) and frozenset((facet[k], facet[k - 2])) in lines:
                kinds[k] = INTO


def _open_vertices(rim: Rim, way: Sequence[tuple[float, float]]) -> dict[int, int]:
    """Vertices right at which water may leave, and the exit number (the least) by which it does."""
    found: dict[int, int] = {}
    for (a, b), number, (start, end) in zip(rim.edges.tolist(), rim.exit.tolist(), way, strict=True):
        if start <= end:
            for vertex, is_open in ((a, start == 0.0), (b, end == 1.0)):
                if is_open:
                    found[vertex] = min(number, found.get(vertex, number))
    return found


def _steps(
    z: Sequence[float],
    triangles: Links,
    low: Links,
    outward: Sequence[Sequence[float]],
    length: Sequence[Sequence[float]],
    slopes: Sequence[float],
) -> tuple[list[int], list[int]]:
    """The steepest way down from every vertex: STAY, FACET or VERTEX, and which."""
    best = [(0.0, STAY, 1)] * len(z)  # slope, kind, and the target, negative: of equal ways to the first
    for facet, corners in enumerate(triangles):
        for k, vertex in enumerate(corners):
            # a corner starts a way down its facet when water runs over neither of the sides that meet there
            if slopes[facet] >= LEVEL and outward[facet][k] <= _ALONG and outward[facet][k - 1] <= _ALONG:
                best[vertex] = max(best[vertex], (slopes[facet], FACET, -facet))
            bottom, after = low[facet][k], corners[k - 2]
            top = vertex if bottom == after else after
            slope = (z[top] - z[bottom]) / length[facet][k]
            if slope >= LEVEL:
                best[top] = max(best[top], (slope, VERTEX, -bottom))
    return [kind for _, kind, _ in best], [-goal for _, _, goal in best]


def _overflow(vertex: int, flooded: Flood, through: Sequence[int], pond: Sequence[int]) -> tuple[int, int, list[int]]:
    """Step and target of the low vertex of a pond too shallow to count, and the vertices on the way out of it."""
    path = [vertex]
    while (after := flooded.towards[path[-1]]) >= 0:
        path.append(after)
        if flooded.level[after] < flooded.level[vertex] or pond[after] >= 0:
            return VERTEX, after, path[1:]
    return OUT, through[path[-1]], path[1:]
