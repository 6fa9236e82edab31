"""What each shot of a surface stands for: its weight in the volume under it, and how far it lies off its neighbors."""

from __future__ import annotations

import numpy as np
import shapely

from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.surface.surface import scattered

_FEWEST = 4  # shots round a shot that a plane is laid through: one more than it needs


def shot_areas(points: Floats, region: shapely.Polygon) -> Floats:
    """Area (k,), m2, that each shot (k, 3) stands for over ``region``: what the volume gains per meter of its height.

    The integral over the region of the hat function of each shot on the Delaunay triangles that
    :func:`scattered` uses; they add up to the area covered. A shot repeated at one spot
    has no area.
    """
    points = np.asarray(points, dtype=np.float64).reshape(-1, 3)
    whole = scattered(points, shapely.convex_hull(shapely.multipoints(points[:, :2])))
    corners = whole.corners
    triangles = shapely.polygons(np.concatenate([corners, corners[:, :1]], axis=1))
    shapely.prepare(region)
    pieces = np.where(
        shapely.contains_properly(region, triangles), triangles, shapely.intersection(triangles, region)
    )  # fmt: skip
    sizes = shapely.area(pieces)
    there = sizes > 1e-12
    centers = shapely.get_coordinates(shapely.centroid(pieces[there]))
    weights = _within(corners[there], centers) * sizes[there, None]
    by_vertex = np.bincount(whole.mesh.triangles[there].ravel(), weights.ravel(), len(whole.mesh.xy)).astype(np.float64)
    return np.asarray(_to_shots(points, whole.mesh.xy, by_vertex))


def _within(corners: Floats, centers: Floats) -> Floats:
    """Shares (t, 3) of the corners of triangles (t, 3, 2) at places (t, 2)."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    whole = _cross(b - a, c - a)
    second, third = _cross(centers - a, c - a) / whole, _cross(b - a, centers - a) / whole
    return np.stack([1 - second - third, second, third], axis=1)


def _cross(u: Floats, v: Floats) -> Floats:
    return np.asarray(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0])


def _to_shots(points: Floats, vertices: Floats, values: Floats) -> Floats:
    """Values of vertices brought to the first shot at each."""
    first: dict[tuple[float, float], int] = {}
    for number, (x, y) in enumerate(points[:, :2].tolist()):
        first.setdefault((round(x, 6), round(y, 6)), number)
    out = np.zeros(len(points))
    for (x, y), value in zip(vertices.tolist(), values.tolist(), strict=True):
        shot = first.get((round(x, 6), round(y, 6)))
        if shot is not None:
            out[shot] += value
    return out


def scatter(points: Floats) -> tuple[float, int]:
    """How far shots (k, 3) lie off the plane through their neighbors: standard deviation, m, and how many were tried.

    Each shot with four or more Delaunay neighbors is compared with the least-squares plane through them. The plane's
    own uncertainty is taken out (1 + the sum of the squares of its weights), so that independent errors of one standard
    deviation on a plane give that deviation back. (nan, 0) when no shot has enough neighbors.
    """
    points = np.asarray(points, dtype=np.float64).reshape(-1, 3)
    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))
    whole = scattered(points, hull)
    near: dict[int, set[int]] = {}
    for a, b, c in whole.mesh.triangles.tolist():
        for one, two in ((a, b), (b, c), (c, a)):
            near.setdefault(one, set()).add(two)
            near.setdefault(two, set()).add(one)
    squares: list[float] = []
    xy, z = whole.mesh.xy, whole.z
    for vertex, around in near.items():
        if len(around) < _FEWEST:
            continue
        others = sorted(around)
        design = np.column_stack([np.ones(len(others)), xy[others] - xy[vertex]])
        weights, _, rank, _ = np.linalg.lstsq(design.T, np.array([1.0, 0.0, 0.0]), rcond=None)
        if rank < 3:
            continue
        off = z[vertex] - weights @ z[others]
        squares.append(float(off**2 / (1 + weights @ weights)))
    return (float(np.sqrt(np.mean(squares))), len(squares)) if squares else (float("nan"), 0)
