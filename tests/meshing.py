"""A region cut into triangles at once, as a surface does it step by step."""

from __future__ import annotations

import numpy as np
import shapely
from slabwright.geometry.shape.noding import Floats, node
from slabwright.geometry.surface.triangulate import Mesh, checked_region, mesh_of, ring_segments


def triangulate(region: shapely.Polygon, points: Floats, segments: Floats) -> Mesh:
    """Triangles over exactly ``region`` (m), with every point in it as a vertex and every segment as edges.

    ``points`` (p, 2) and ``segments`` (s, 2, 2) may repeat, touch, cross, overlap and leave the region; what lies
    outside is dropped. Raises GeometryError for a region that is not a valid polygon.
    """
    points = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    segments = np.asarray(segments, dtype=np.float64).reshape(-1, 2, 2)
    sides = ring_segments(checked_region(region))
    noded = node(points, np.concatenate([sides, segments]))
    return mesh_of(region, noded, len(sides))[0]
