"""Heights round the arcs of an outline, off the surface that lies beside the chord of each. Meters."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

import numpy as np
import shapely

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.shape.outline import Ring, at_distance, stretch
from slabwright.geometry.shape.rim_heights import apart
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.patches import facets_at
from slabwright.geometry.surface.surface import build_surface
from slabwright.geometry.xy import XY, as_xy

_AT_END = 0.005  # what lies so near along the ring is one spot of it, m
_APART = 0.3  # three spots of an arc nearer together tell rounding and no plane, m
_OFF_SLAB = 0.003  # a chord may leave the slab by this much: rounding, and chords that stand for the arc, m


def round_arcs(
    ring: Ring, bare: Sequence[int], known: Sequence[tuple[float, float]], spots: Floats, lines: Sequence[Floats]
) -> list[tuple[float, float]] | None:
    """Distance along the ring and height of its vertices ``bare``, which lie on arcs and have no height of their own.

    ``known`` are distances along the ring and heights, in order, ``spots`` (k, 3) all known heights, ``lines`` the
    height lines with a height at every point. Each arc is left out first: the slab runs straight from one known height
    to the next, and a plane there goes on to the arc. None where that is no slab: where a chord leaves the slab, the
    concrete goes round with the arc.
    """
    marks = [along for along, _ in known]
    if len(marks) < 2:
        return None
    gaps: dict[int, list[int]] = {}
    for row in bare:
        gaps.setdefault(bisect_right(marks, ring.along[row]) % len(marks), []).append(row)
    places, heights = [at_distance(ring, along) for along in marks], [z for _, z in known]
    chords = {gap: (places[gap - 1], places[gap]) for gap in gaps}
    within = [shapely.Polygon()]
    for gap, (start, end) in chords.items():
        segment = shapely.Polygon(stretch(ring, marks[gap - 1], marks[gap]))
        inside = spots[shapely.contains_xy(segment, spots[:, 0], spots[:, 1]), :2].tolist()
        within.append(shapely.convex_hull(shapely.MultiPoint([start, end, *inside])))
    left = set(bare)
    corners = [
        (along, at)
        for row, (along, at) in enumerate(zip(ring.along, ring.points, strict=False))
        if row not in left and apart(along, marks) > _AT_END
    ]
    rim = [at for _, at in sorted({**dict(zip(marks, places, strict=True)), **dict(corners)}.items())]
    straight = shapely.Polygon(rim) if len(rim) > 2 else shapely.Polygon()
    if not straight.is_valid:
        return None
    region = shapely.union_all([straight, *within])
    around = shapely.buffer(ring.polygon, _OFF_SLAB)
    outside = [
        shapely.LineString(chord)
        for gap, chord in chords.items()
        if not shapely.contains_xy(straight, *ring.points[gaps[gap][len(gaps[gap]) // 2]])
    ]
    if not isinstance(region, shapely.Polygon) or not all(around.covers(chord) for chord in outside):
        return None
    given = np.array([[x, y, z] for (x, y), z in zip(places, heights, strict=True)])
    try:
        surface = build_surface(shapely.Polygon(region.exterior), np.concatenate([given, spots]), lines)
    except GeometryError:
        return None
    found = []
    for row in bare:
        at = ring.points[row]
        inside = float(surface.height(np.array([at]))[0])
        found.append((ring.along[row], inside if math.isfinite(inside) else _beyond(surface, region, at)))
    return found


def round_known(
    ring: Ring, known: Sequence[tuple[float, float]], folds: Sequence[float] = ()
) -> list[tuple[float, float]]:
    """Distance along the ring and height of the vertices of arcs on which three heights or more are known.

    Between two of them the arc lies in the plane through these and the nearest one that lies apart from both: level
    where the three are level, and a plane is reproduced. ``known`` are distances along the ring and heights, in order;
    ``folds`` distances at which a height line meets the ring: an arc that has one inside it is left out.
    """
    first = {corner: row for row, corner in enumerate(ring.corner.tolist()) if corner >= 0}
    found: list[tuple[float, float]] = []
    for arc in ring.arcs:
        row = first[arc.start]
        rows = range(row + 1, first[arc.end] if first[arc.end] > row else len(ring.points))
        start, end = ring.along[row], ring.along[rows.stop]
        round_it = [*known, *((along + ring.length, z) for along, z in known[:1])]
        on = [(along, z) for along, z in round_it if start - _AT_END <= along <= end + _AT_END]
        if len(on) < 3 or any(start + _AT_END < along < end - _AT_END for along in folds):
            continue
        marks = [along for along, _ in on]
        for vertex in rows:
            at = bisect_right(marks, ring.along[vertex])
            if 0 < at < len(on) and min(ring.along[vertex] - marks[at - 1], marks[at] - ring.along[vertex]) > _AT_END:
                ends = on[at - 1], on[at]
                others = [one for one in on if min(abs(one[0] - end) for end, _ in ends) > _APART]
                if others:
                    third = min(others, key=lambda one: abs(one[0] - ring.along[vertex]))
                    found.append((ring.along[vertex], _in_plane(ring, [*ends, third], ring.points[vertex])))
    return found


def _in_plane(ring: Ring, three: Sequence[tuple[float, float]], at: XY) -> float:
    """The height at a place in the plane through three spots of an arc."""
    off = np.array([at_distance(ring, along) for along, _ in three]) - np.asarray(at)
    return float(np.linalg.solve(np.column_stack([np.ones(3), off]), [z for _, z in three])[0])


def _beyond(surface: Surface, region: shapely.Polygon, at: XY) -> float:
    """The height at a place outside a surface, by the facets at the spot of its rim that is nearest."""
    foot = shapely.get_coordinates(shapely.shortest_line(region, shapely.Point(at)))[0]
    facets = facets_at(surface, [as_xy(foot)])
    facets = facets or [int(surface.tree.nearest(shapely.Point(foot)))]  # the foot lies a hair off every facet
    off = np.asarray(at) - surface.corners[facets, 0]
    heights = surface.z[surface.mesh.triangles[facets, 0]] + np.sum(off * surface.gradients[facets], axis=1)
    return float(heights.mean())
