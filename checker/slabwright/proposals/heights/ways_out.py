"""The way that the water of each vertex takes out of the slab, over the surface that is looked at."""

from __future__ import annotations

import heapq
import math
from collections import Counter
from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.shape.distances import height_on
from slabwright.geometry.xy import as_xy
from slabwright.plan.shape import ON_EDGE
from slabwright.proposals.heights.asking import Asking
from slabwright.proposals.heights.held_rows import lip
from slabwright.proposals.heights.program import Floats

WAY_OUT = 0.002  # fall along the way out of the water, so that no low spot is left
CLIMB = 50.0  # a meter climbed on the way out weighs as much as so many along it


class WaysOut(NamedTuple):
    """For each vertex (v) the next on its way out, how far out it is, and the edges that water comes to."""

    onward: dict[int, int]
    far: Floats  # (v,); without end where no way leads out
    wet: frozenset[str]
    as_drawn: bool  # facets keep the direction in which they fall; else that of the way out


def ways_out(asking: Asking, as_drawn: bool) -> WaysOut:
    """Short ways first, climbing dear; no way leads through a vertex at a building."""
    surface = asking.on.surface
    outlets = _outlets(asking)
    z, xy = surface.z, surface.mesh.xy
    beside: dict[int, list[int]] = {}
    for a, b in surface.mesh.edges.tolist():
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    walls = [shapely.LineString(piece.line) for piece in asking.plan.edges.pieces if piece.beside == "building"]
    at_wall: NDArray[np.bool_] = np.zeros(len(z), dtype=bool)
    if walls:
        at_wall = shapely.distance(shapely.union_all(walls), shapely.points(xy)) < ON_EDGE
    far = np.full(len(z), np.inf)
    onward: dict[int, int] = {}
    queue: list[tuple[float, int, int]] = [(CLIMB * lift, vertex, -1) for vertex, lift in sorted(outlets.items())]
    heapq.heapify(queue)
    roots = set()
    while queue:
        cost, vertex, to = heapq.heappop(queue)
        if math.isfinite(far[vertex]):
            continue
        far[vertex] = cost
        if to >= 0:
            onward[vertex] = to
        else:
            roots.add(vertex)
        if at_wall[vertex] and vertex not in outlets:
            continue
        for other in beside[vertex]:
            if not math.isfinite(far[other]):
                run = float(np.hypot(*(xy[other] - xy[vertex])))
                climb = max(0.0, float(z[vertex] - z[other]) + WAY_OUT * run)
                heapq.heappush(queue, (cost + run + CLIMB * climb, other, vertex))
    wet = _wet_edges(asking, roots, onward)
    if as_drawn:
        wet |= {one.to for one in asking.plan.water.bare_shares if one.kind == "edge" and one.share > 0.01}
    return WaysOut(onward, far, frozenset(wet), as_drawn)


def _outlets(asking: Asking) -> dict[int, float]:
    """Vertices where water may leave, each with how far it would have to be raised for that, m."""
    surface, plan = asking.on.surface, asking.plan
    found: dict[int, float] = {}
    rim = np.unique(surface.mesh.rim)
    marks = shapely.points(surface.mesh.xy[rim])
    takers = [piece for piece in plan.edges.pieces if piece.takes_water and not piece.dams]
    takers = takers or [piece for piece in plan.edges.pieces if piece.takes_water is None and not piece.dams]
    for piece in takers:
        near = shapely.distance(shapely.LineString(piece.line), marks) < ON_EDGE
        for vertex in rim[near].tolist():
            lift = 0.0
            if piece.ground is not None and not piece.ground_follows:
                beside = height_on(piece.line, piece.ground, as_xy(surface.mesh.xy[vertex]))
                lift = max(0.0, beside + lip(asking, piece) - float(surface.z[vertex]))
            found[vertex] = min(found.get(vertex, math.inf), lift)
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        if opening.takes_water:
            for vertex in rim[shapely.distance(ring.polygon, marks) < ON_EDGE].tolist():
                found[vertex] = 0.0
    for fixture in plan.design.fixtures:
        if fixture.kind == "drain" and fixture.at is not None:
            vertex = surface.nearest_vertex((fixture.at.x, fixture.at.y), 2 * ON_EDGE)
            if vertex >= 0:
                found[vertex] = 0.0
    for channel in plan.channels.all:
        on = shapely.dwithin(shapely.LineString(channel.line), shapely.points(surface.mesh.xy), ON_EDGE)
        found.update(dict.fromkeys(np.flatnonzero(on).tolist(), 0.0))
    return found


def _wet_edges(asking: Asking, roots: set[int], onward: Mapping[int, int]) -> set[str]:
    """Edges all along which ways out end.

    A corner where two edges meet lets water out over one of them, so it takes two ends to make an edge wet.
    """
    names: Counter[str] = Counter()
    for vertex in set(onward.values()) & roots:
        x, y = asking.on.surface.mesh.xy[vertex].tolist()
        names.update({piece.name for piece in asking.plan.edges.at((x, y)) if piece.takes_water and not piece.dams})
    return {name for name, ends in names.items() if ends > 1}
