"""Heights round the arcs of a rim: by three known on an arc, else off the surface beside its chord. Meters."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

import numpy as np
import shapely

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.shape.outline import Ring, at_distance, stretch
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.patches import facets_at
from slabwright.geometry.surface.surface import build_surface
from slabwright.geometry.xy import XY, as_xy

_OFF_SLAB = 0.003  # a chord may leave the slab by this much: rounding, and chords that stand for the arc, m
_AT = 0.002  # distances along a ring that differ by less are one place, m
_THIRD = 0.25  # a third height nearer to a stretch than this part of its length does not say how the arc runs there


def arcs_of_three(
    ring: Ring, known: Sequence[tuple[float, float]], breaks: Sequence[float]
) -> list[tuple[float, float]]:
    """Distance along the ring and height of vertices of arcs, where three known heights say how the arc runs.

    ``known`` are distances along the ring and heights, in order; ``breaks`` are distances where the surface may fold,
    and no three heights are taken from both sides of one. The heights follow the plane through the three, so that an
    arc on a plane keeps to it, and one at a level, such as the coping of a round pool, is level all along.
    """
    at = [row for row, corner in enumerate(ring.corner.tolist()) if corner >= 0]
    found = []
    for arc in ring.arcs:
        first, last = at[arc.start], at[arc.end]
        start, end = ring.along[first], ring.along[last] if last > first else ring.length
        laps = [(along + lap, z) for along, z in known for lap in (0.0, ring.length)]
        on = sorted((along, z) for along, z in laps if start - _AT < along < end + _AT)
        for row in range(first + 1, last if last > first else len(ring.points)):
            after = bisect_right(on, (ring.along[row], math.inf))
            if not 0 < after < len(on) or min(ring.along[row] - on[after - 1][0], on[after][0] - ring.along[row]) < _AT:
                continue
            (low, _), (high, _) = gap = on[after - 1 : after + 1]
            reach = [(one, max(low - one[0], one[0] - high)) for one in (*on[: after - 1], *on[after + 1 :])]
            thirds = [
                (far, one)
                for one, far in reach
                if far >= _THIRD * (high - low)
                and not any(min(one[0], low) + _AT < mark < max(one[0], high) - _AT for mark in breaks)
            ]
            if thirds:
                found.append((ring.along[row], _on_plane(ring, [*gap, min(thirds)[1]], ring.points[row])))
    return found


def _on_plane(ring: Ring, three: Sequence[tuple[float, float]], at: XY) -> float:
    """The height at a place of the plane through three places of a ring."""
    (ox, oy), *places = (at_distance(ring, along) for along, _ in three)
    sides = np.array([[x - ox, y - oy] for x, y in places])
    rise = np.array([z - three[0][1] for _, z in three[1:]])
    return float(three[0][1] + np.linalg.solve(sides, rise) @ np.array([at[0] - ox, at[1] - oy]))


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
        (along, at) for row, (along, at) in enumerate(zip(ring.along, ring.points, strict=False)) if row not in left
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


def _beyond(surface: Surface, region: shapely.Polygon, at: XY) -> float:
    """The height at a place outside a surface, by the facets at the spot of its rim that is nearest."""
    foot = shapely.get_coordinates(shapely.shortest_line(region, shapely.Point(at)))[0]
    facets = facets_at(surface, [as_xy(foot)])
    facets = facets or [int(surface.tree.nearest(shapely.Point(foot)))]  # the foot lies a hair off every facet
    off = np.asarray(at) - surface.corners[facets, 0]
    heights = surface.z[surface.mesh.triangles[facets, 0]] + np.sum(off * surface.gradients[facets], axis=1)
    return float(heights.mean())
