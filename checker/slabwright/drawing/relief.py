"""What is drawn of the finish surface: contours, fall arrows and the depth of standing water."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

from slabwright.geometry.shape.noding import Floats, Ints
from slabwright.geometry.surface.facets import Surface
from slabwright.units.quantity import System

Data = dict[str, Any]

_FT, _IN = 0.3048, 0.0254
INTERVALS: dict[System, tuple[float, ...]] = {
    "us": tuple(feet * _FT for feet in (0.02, 0.05, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0)),
    "metric": (0.005, 0.010, 0.025, 0.050, 0.1, 0.25, 0.5, 1.0),
}
"""Contour intervals that are drawn, m: hundredths of a foot in US units, millimeters in metric."""

DEPTHS: dict[System, tuple[float, ...]] = {
    "us": (0.0, 0.125 * _IN, 0.25 * _IN, 0.5 * _IN, 1.0 * _IN),
    "metric": (0.0, 0.003, 0.006, 0.012, 0.025),
}
"""Where the shades of standing water change, m of depth."""

_MOST_CONTOURS = 12
_ONE_PLANE = 5e-4  # facets whose gradients differ by less fall as one
_MOST_PLANES = 48
_CELLS = 7  # arrows across the long side of a surface with many planes
_LEVEL = 1e-6
_NEAR = 1e-6  # m


def interval(span: float, system: System) -> float:
    """The smallest interval (m) that draws at most twelve contours over a height difference of ``span`` m."""
    return next((step for step in INTERVALS[system] if span / step <= _MOST_CONTOURS), INTERVALS[system][-1])


def contours(surface: Surface, system: System) -> Data:
    """Lines of equal height on whole steps of a fitting interval, strictly between the lowest and highest spot."""
    low, high = float(surface.z.min()), float(surface.z.max())
    step = interval(high - low, system)
    first, last = math.floor(low / step + 1e-6) + 1, math.ceil(high / step - 1e-6) - 1
    found = []
    for number in range(first, last + 1):
        height = number * step
        lines = [_line(part) for part in _crossing(surface, height)]
        found += [{"height_m": height, "line": line} for line in lines]
    return {"interval_m": step, "lines": found}


def _line(line: shapely.Geometry) -> list[list[float]]:
    return [[float(x), float(y)] for x, y in shapely.get_coordinates(line)]


def _crossing(surface: Surface, height: float) -> list[shapely.Geometry]:
    """Where the facets have one height: every facet with corners above and below is crossed once."""
    triangles = surface.mesh.triangles
    above = surface.z[triangles] >= height
    cut = np.nonzero(above.any(axis=1) & ~above.all(axis=1))[0]
    if not len(cut):
        return []
    triangles, above = triangles[cut], above[cut]
    changes = above != np.roll(above, -1, axis=1)  # two of the three sides of each
    row, side = np.nonzero(changes)
    a, b = triangles[row, side], triangles[row, (side + 1) % 3]
    a, b = np.minimum(a, b), np.maximum(a, b)  # the same sum for both facets of a side
    t = (height - surface.z[a]) / (surface.z[b] - surface.z[a])
    points = surface.mesh.xy[a] + t[:, None] * (surface.mesh.xy[b] - surface.mesh.xy[a])
    points[t >= 1] = surface.mesh.xy[b[t >= 1]]  # to the last digit, so that pieces join there
    ends = points.reshape(-1, 2, 2)
    ends = ends[np.hypot(*(ends[:, 1] - ends[:, 0]).T) > _NEAR]
    if not len(ends):
        return []
    turned = (ends[:, 0, 0] > ends[:, 1, 0]) | ((ends[:, 0, 0] == ends[:, 1, 0]) & (ends[:, 0, 1] > ends[:, 1, 1]))
    ends[turned] = ends[turned][:, ::-1]
    ends = np.unique(ends.reshape(-1, 4), axis=0).reshape(-1, 2, 2)  # a ridge at this height is met from both sides
    merged = shapely.line_merge(shapely.multilinestrings(shapely.linestrings(ends)))
    return [part for part in shapely.get_parts(merged) if part.length > _NEAR]


def falls(surface: Surface) -> list[Data]:
    """Where to draw a fall arrow: on every plane of the surface, or on a grid where it has many.

    ``downhill`` is a unit vector, None on level ground; ``reach_m`` is how far from ``at`` the plane reaches.
    """
    plane = _planes(surface)
    count = int(plane.max()) + 1
    if count > _MOST_PLANES:
        return _gridded(surface)
    found = []
    for number in range(count):
        facets = np.nonzero(plane == number)[0]
        shape = shapely.union_all(surface.facets[facets])
        largest = max(shapely.get_parts(shape), key=lambda part: float(part.area))
        circle = shapely.maximum_inscribed_circle(largest, tolerance=max(0.01, math.sqrt(largest.area) / 50))
        (x, y), _ = shapely.get_coordinates(circle)
        gradient = np.average(surface.gradients[facets], axis=0, weights=surface.areas[facets])
        found.append(_fall((float(x), float(y)), gradient, float(circle.length), float(shape.area)))
    return found


def _fall(at: tuple[float, float], gradient: Floats, reach: float, area: float) -> Data:
    slope = float(np.hypot(*gradient))
    downhill = None if slope < _LEVEL else [float(-gradient[0] / slope), float(-gradient[1] / slope)]
    return {"at": [*at], "downhill": downhill, "slope": slope, "reach_m": reach, "area_m2": area}


def _planes(surface: Surface) -> Ints:
    """The plane of every facet, numbered from the largest: facets side by side that fall alike."""
    neighbors, gradients = surface.mesh.neighbors, surface.gradients
    plane = np.full(len(neighbors), -1)
    sizes: list[float] = []
    for seed in np.argsort(-surface.areas, kind="stable").tolist():
        if plane[seed] >= 0:
            continue
        number, queue = len(sizes), [seed]
        plane[seed] = number
        size = 0.0
        while queue:
            facet = queue.pop()
            size += float(surface.areas[facet])
            for other in neighbors[facet].tolist():
                if other >= 0 and plane[other] < 0:
                    off = gradients[other] - gradients[seed]
                    if abs(off[0]) + abs(off[1]) < _ONE_PLANE:
                        plane[other] = number
                        queue.append(other)
        sizes.append(size)
        if len(sizes) > 4 * _MOST_PLANES:
            return np.arange(len(plane))  # too many to tell apart: drawn on a grid
    order = np.argsort(-np.array(sizes), kind="stable")
    rank = np.empty(len(order), dtype=np.int64)
    rank[order] = np.arange(len(order))
    return np.asarray(rank[plane], dtype=np.int64)


def _gridded(surface: Surface) -> list[Data]:
    """One arrow for each square of a grid: the mean fall of the facets whose middle lies in it."""
    middles = surface.corners.mean(axis=1)
    low = surface.mesh.xy.min(axis=0)
    size = float((surface.mesh.xy.max(axis=0) - low).max()) / _CELLS
    cell = np.floor((middles - low) / size).astype(np.int64)
    key = cell[:, 0] * (_CELLS + 1) + cell[:, 1]
    found = []
    for number in np.unique(key).tolist():
        facets = np.nonzero(key == number)[0]
        weights = surface.areas[facets]
        gradient = np.average(surface.gradients[facets], axis=0, weights=weights)
        middle = np.average(middles[facets], axis=0, weights=weights)
        x, y = middles[facets[np.argmin(np.hypot(*(middles[facets] - middle).T))]]
        found.append(_fall((float(x), float(y)), gradient, size / 2, float(weights.sum())))
    return found


def depth_bands(surface: Surface, pond: shapely.Geometry, level: float, depth: float, system: System) -> list[Data]:
    """The pond where it is deeper than each step, shallowest first: ``deeper_m`` and ``rings``."""
    facets = surface.tree.query(pond, predicate="intersects")
    triangles = surface.mesh.triangles[facets].tolist()
    found = []
    for least in DEPTHS[system]:
        if least >= depth:
            break
        parts = [_below(surface, triangle, level - least) for triangle in triangles]
        # On a grid: cut corners that differ in the last digit make the plain union lose whole parts.
        under = shapely.union_all([part for part in parts if part is not None], grid_size=1e-9)
        shape = pond if least == 0 else shapely.intersection(under, pond)
        rings = [
            _line(ring)
            for part in shapely.get_parts(shape)
            if isinstance(part, shapely.Polygon) and part.area > 0
            for ring in (part.exterior, *part.interiors)
        ]
        if rings:
            found.append({"deeper_m": least, "rings": rings})
    return found


def _below(surface: Surface, triangle: Sequence[int], level: float) -> shapely.Geometry | None:
    """The part of one facet under a level; facets side by side are cut at the same place."""
    z = surface.z
    low = [bool(z[vertex] < level) for vertex in triangle]
    ring: list[Floats] = []
    for k, vertex in enumerate(triangle):
        after = (k + 1) % 3
        if low[k]:
            ring.append(surface.mesh.xy[vertex])
        if low[k] != low[after]:
            a, b = sorted((vertex, triangle[after]))
            ring.append(surface.mesh.xy[a] + (level - z[a]) / (z[b] - z[a]) * (surface.mesh.xy[b] - surface.mesh.xy[a]))
    return shapely.Polygon(ring) if len(ring) > 2 else None
