"""The way of a drop of water over a surface, to an exit, a drain, a pond or a level facet."""

from typing import Literal, NamedTuple

import numpy as np
import shapely

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.water.flow import CHANNEL, CROSS, FACET, INTO, NONE, OUT, STAY, STILL, Flow
from slabwright.geometry.xy import XY

_AT = 1e-9  # a place this near to a vertex is the vertex, m
_AFTER = np.array([1, 2, 0])
_NEAR = 1e-6  # a way may start so far off the surface, m


class TrailShape(NamedTuple):
    """A way of water ``xy`` (k, 2) and how it ends.

    ``kind`` "exit": over an edge or into a drain with number ``exit``; "pond": at the lowest place of standing
    water, ``pond`` its number; "level": where the surface has no fall. ``exit`` and ``pond`` are -1 else.
    """

    xy: Floats
    kind: Literal["exit", "pond", "level"]
    exit: int = -1
    pond: int = -1


def follow(flow: Flow, start: XY) -> TrailShape:
    """The way of water from ``start``; raises GeometryError when the surface is not there.

    Height never rises along it, except where it leaves standing water too shallow to count by its overflow.
    """
    mesh = flow.surface.mesh
    place = np.asarray(start, dtype=np.float64)
    vertex = flow.surface.nearest_vertex(start, _AT)
    facet = -1
    if vertex < 0:
        facet = _facet_at(flow, place)
    way = [place]
    for _ in range(8 * (len(mesh.triangles) + len(mesh.xy)) + 64):
        if vertex >= 0:
            place = mesh.xy[vertex]
            way.append(place)
            step, target = flow.step[vertex], flow.target[vertex]
            way += [mesh.xy[v] for v in flow.over.get(vertex, ())]
            if step == OUT:
                return TrailShape(_without_repeats(way), "exit", exit=target)
            if step == STAY:
                return _stop(flow, way, vertex, flow.pond[vertex])
            if step == FACET:
                vertex, facet = -1, target
            else:
                vertex = target
                continue
        if flow.down[facet] == (0.0, 0.0):
            corners = mesh.triangles[facet]
            lowest = int(corners[np.argmin(flow.surface.z[corners])])
            return _stop(flow, way, lowest, flow.facet_pond[facet])
        place, side, vertex = _down_facet(flow, facet, place)
        if vertex >= 0:
            continue
        way.append(place)
        kind = flow.side[facet][side]
        if kind in (CROSS, STILL):
            facet = int(mesh.neighbors[facet, side])
        elif kind == CHANNEL:
            vertex = flow.low[facet][side]
        elif kind == INTO:
            return TrailShape(_without_repeats(way), "exit", exit=flow.target[flow.low[facet][side]])
        else:
            place, vertex, leaves = _at_rim(flow, facet, side, place)
            if leaves >= 0:
                return TrailShape(_without_repeats([*way, place]), "exit", exit=leaves)
    return TrailShape(_without_repeats(way), "level")


def _stop(flow: Flow, way: list[Floats], vertex: int, pond: int) -> TrailShape:
    """The end of a way in standing water or on level ground."""
    if pond < 0:
        return TrailShape(_without_repeats(way), "level")
    return TrailShape(_without_repeats([*way, flow.surface.mesh.xy[vertex]]), "pond", pond=pond)


def _facet_at(flow: Flow, place: Floats) -> int:
    """The facet in which water starts; on a side the one it runs into."""
    surface = flow.surface
    facets = np.asarray(surface.tree.query(shapely.Point(place), predicate="dwithin", distance=_NEAR), dtype=np.int64)
    if not len(facets):
        raise GeometryError("a way of water has to start on the surface")
    for facet in np.sort(facets).tolist():
        corners = surface.corners[facet]
        run = corners[_AFTER] - corners
        off = place - corners
        depth = (run[:, 0] * off[:, 1] - run[:, 1] * off[:, 0]) / np.hypot(run[:, 0], run[:, 1])
        if np.all((depth > 1e-9) | (np.array(flow.side[facet]) == NONE)):
            return int(facet)
    return int(facets.min())


def _down_facet(flow: Flow, facet: int, place: Floats) -> tuple[Floats, int, int]:
    """Where straight down from ``place`` the facet ends: place, side, and the vertex when it is one (else -1)."""
    corners = flow.surface.corners[facet]
    dx, dy = flow.down[facet]
    across = (dx * (corners[:, 1] - place[1]) - dy * (corners[:, 0] - place[0])).tolist()
    # across grows from the first to the second corner of every side that water runs over
    sides = [k for k in range(3) if flow.side[facet][k] != NONE]
    side = sides[0]
    for k in sides[1:]:
        shared = k if (k + 2) % 3 in sides else (k + 1) % 3
        onto_later = across[shared] <= 0
        side = shared if onto_later else (shared + 2) % 3
    a, b = across[side], across[(side + 1) % 3]
    t = min(max(-a / (b - a), 0.0), 1.0)
    first, second = corners[side], corners[(side + 1) % 3]
    there = first + t * (second - first)
    for k, corner in ((side, first), ((side + 1) % 3, second)):
        if np.hypot(*(there - corner)) <= _AT:
            return corner, side, int(flow.surface.mesh.triangles[facet, k])
    return there, side, -1


def _at_rim(flow: Flow, facet: int, side: int, place: Floats) -> tuple[Floats, int, int]:
    """Water that meets an edge: where it leaves and by which exit, or the vertex it follows the edge to."""
    row = flow.rim_row[facet][side]
    low = flow.low[facet][side]
    if row >= 0 and flow.way[row][0] <= flow.way[row][1]:
        xy = flow.surface.mesh.xy
        first, second = flow.rim_edges[row]
        run = xy[second] - xy[first]
        t = float((place - xy[first]) @ run / (run @ run))
        start, end = flow.way[row]
        slack = 1e-9
        if start - slack <= t <= end + slack:
            return place, -1, flow.exit[row]
        nearer = start if t < start else end
        if (low == second) == (t < start):
            return xy[first] + nearer * run, -1, flow.exit[row]
    return place, low, -1


def _without_repeats(way: list[Floats]) -> Floats:
    """The places of a way, each once in a row."""
    xy = np.array(way)
    keep = np.concatenate([[True], np.hypot(*np.diff(xy, axis=0).T) > _AT]) if len(xy) > 1 else np.ones(1, dtype=bool)
    return np.asarray(xy[keep])
