"""Heights shot at places, and the surface between them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely

from slabwright.design.heights import SpotHeight
from slabwright.design.point import Point
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.surface import scattered as scattered_surface

ON_LINE = 0.1  # a shot this near the end of a height line was taken there, m


def spots(heights: Sequence[SpotHeight]) -> np.ndarray:
    """Places and heights, (k, 3)."""
    return np.array([[h.at.x, h.at.y, h.height.si] for h in heights]).reshape(-1, 3)


@lru_cache(4)
def scattered(
    slab: shapely.Polygon, heights: tuple[SpotHeight, ...], folds: tuple[tuple[Point, ...], ...] | None = None
) -> Surface | None:
    """A surface between shots (base or existing ground), over the part of the slab inside them.

    With ``folds`` it runs straight along those lines from shot to shot, as a base graded parallel to the slab
    does. Advice moves a height of the finish time and again, and mostly leaves base and ground as they are.
    """
    points = spots(heights)
    if len(points) < 3:
        return None
    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))
    reached = shapely.intersection(hull, slab)
    if reached.area <= 1e-6:
        return None
    return scattered_surface(points, slab, None if folds is None else _shot_lines(folds, points))


def _shot_lines(lines: Sequence[Sequence[Point]], points: np.ndarray) -> np.ndarray:
    """Stretches of lines with a shot at both ends, from shot to shot, (s, 2, 2)."""
    found = []
    for line in lines:
        for ends in pairwise(line):
            near = [np.hypot(points[:, 0] - p.x, points[:, 1] - p.y) for p in ends]
            if all(away.min() < ON_LINE for away in near):
                found.append([points[int(away.argmin()), :2] for away in near])
    return np.array(found).reshape(-1, 2, 2)
