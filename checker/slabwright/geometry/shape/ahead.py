"""What lies straight ahead of a point inside the slab. Coordinates and lengths are meters."""

from __future__ import annotations

import math

import numpy as np
import shapely

from slabwright.geometry.xy import XY

TOUCH = 0.001  # a rim this near the start is where the start lies, not what is ahead of it, m


def distance_ahead(slab: shapely.Polygon, start: XY, towards: XY) -> float:
    """Distance in m from ``start``, in the direction ``towards`` (of any length), to the rim of the slab.

    The rim is the outline and every opening; ``inf`` where the line meets neither.

    >>> distance_ahead(shapely.box(0, 0, 4, 3), (1.0, 1.0), (2.0, 0.0))
    3.0
    """
    left, bottom, right, top = slab.bounds
    size = math.hypot(*towards)
    if size == 0.0:
        return math.inf
    reach = math.hypot(right - left, top - bottom) + math.hypot(start[0] - left, start[1] - bottom)
    far = (start[0] + towards[0] / size * reach, start[1] + towards[1] / size * reach)
    met = shapely.get_coordinates(shapely.intersection(shapely.LineString([start, far]), slab.boundary))
    away = np.hypot(met[:, 0] - start[0], met[:, 1] - start[1])
    return float(away[away > TOUCH].min(initial=math.inf))
