"""Where one faceted surface lies more than some depth above another: volume and plan area."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import as_xy

_FLAT = 1e-10  # pieces smaller than this count for nothing, m2


@dataclass(frozen=True)
class Above:
    """What lies above: volume (m3), plan area (m2), and the plan area that both surfaces cover."""

    volume: float
    area: float
    covered: float


def above(top: Surface, bottom: Surface, level: float) -> Above:
    """The part of ``top`` minus ``bottom`` beyond ``level`` (m), exact: over every piece that is flat in both.

    ``level`` may be below zero: ``above(ground, finish, -0.2)`` is the ground down to 0.2 m under the finish.
    """
    upper, lower = _polygons(top), _polygons(bottom)
    first, second = shapely.STRtree(lower).query(upper, predicate="intersects")
    pieces = shapely.intersection(upper[first], lower[second])
    kept = shapely.area(pieces) > _FLAT
    pieces, first, second = pieces[kept], first[kept], second[kept]
    covered = float(shapely.area(pieces).sum())
    slope = top.gradients[first] - bottom.gradients[second]
    start = _at_origin(top, first) - _at_origin(bottom, second) - level
    corners, owner = shapely.get_coordinates(pieces, return_index=True)
    over = start[owner] + (corners * slope[owner]).sum(axis=1)
    least = np.full(len(pieces), np.inf)
    most = np.full(len(pieces), -np.inf)
    np.minimum.at(least, owner, over)
    np.maximum.at(most, owner, over)
    shapes = [*pieces[least >= 0]]
    starts, slopes = [*start[least >= 0]], [*slope[least >= 0]]
    for number in np.nonzero((least < 0) & (most > 0))[0]:
        part = _half(shapely.get_coordinates(pieces[number]), start[number], slope[number])
        if len(part) > 2:
            shapes.append(shapely.Polygon(part))
            starts.append(start[number])
            slopes.append(slope[number])
    if not shapes:
        return Above(0.0, 0.0, covered)
    every = np.asarray(shapes, dtype=object)
    sizes = shapely.area(every)
    centers = shapely.get_coordinates(shapely.centroid(every))
    depth = np.asarray(starts) + (centers * np.asarray(slopes)).sum(axis=1)
    return Above(float((sizes * depth).sum()), float(sizes.sum()), covered)


def _polygons(surface: Surface) -> np.ndarray:
    corners = surface.corners
    return np.asarray(shapely.polygons(np.concatenate([corners, corners[:, :1]], axis=1)), dtype=object)


def _at_origin(surface: Surface, facet: np.ndarray) -> Floats:
    """Height of the plane of each facet over the origin of the plan."""
    at = surface.corners[facet, 0]
    return np.asarray(surface.z[surface.mesh.triangles[facet, 0]] - (at * surface.gradients[facet]).sum(axis=1))


def _half(ring: Floats, start: float, slope: Floats) -> Sequence[tuple[float, float]]:
    """The part of a closed convex ring (n, 2) where ``start + slope . xy`` is not below zero."""
    out: list[tuple[float, float]] = []
    over = start + ring @ slope
    for at in range(len(ring) - 1):
        if over[at] >= 0:
            out.append((float(ring[at, 0]), float(ring[at, 1])))
        if (over[at] >= 0) != (over[at + 1] >= 0):
            place = ring[at] + (ring[at + 1] - ring[at]) * (over[at] / (over[at] - over[at + 1]))
            out.append(as_xy(place))
    return out
