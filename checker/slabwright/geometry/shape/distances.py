"""How far it is: to the spot of a line nearest to a place, to the rim straight ahead, to the farthest place of a slab.

Coordinates and lengths are meters. What is asked of single places and short lines is quick plain arithmetic.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from slabwright.geometry.xy import XY

TOUCH = 0.001  # a rim this near the start is where the start lies, not what is ahead of it, m


def spot_on(start: XY, end: XY, at: XY) -> tuple[XY, float, float]:
    """The spot between two points nearest to a place, how far the place is from it (m), and the share of the way there.

    At either end it is that point to the last bit.
    """
    (ax, ay), (bx, by), (x, y) = start, end, at
    run, rise = bx - ax, by - ay
    size = run * run + rise * rise
    share = ((x - ax) * run + (y - ay) * rise) / size if size > 0 else 0.0
    if share <= 0.0:
        return start, math.hypot(x - ax, y - ay), 0.0
    if share >= 1.0:
        return end, math.hypot(x - bx, y - by), 1.0
    spot = ax + share * run, ay + share * rise
    return spot, math.hypot(x - spot[0], y - spot[1]), share


def nearest_on(line: Sequence[XY], at: XY) -> tuple[float, int, float]:
    """How far ``at`` is from a line (m), the part of the line nearest to it, and how far along that part, as a share.

    Of parts equally near the first.
    """
    found = math.inf, 0, 0.0
    for part, (start, end) in enumerate(pairwise(line)):
        _, away, share = spot_on(start, end, at)
        if away < found[0]:
            found = away, part, share
    return found


def height_on(line: Sequence[XY], heights: Sequence[float], at: XY) -> float:
    """The height of a line at its spot nearest to a place, from those at its points, m."""
    _, part, share = nearest_on(line, at)
    return heights[part] + share * (heights[part + 1] - heights[part])


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


def farthest_from(region: shapely.Polygon, spots: Sequence[XY]) -> tuple[float, XY]:
    """Distance and place: the farthest corner of the part of ``region`` that is nearest to each spot.

    Exact: in the part nearest to one spot the distance to it grows outwards, so it is greatest at a corner.

    >>> farthest_from(shapely.box(0, 0, 4, 3), [(0.0, 0.0)])
    (5.0, (4.0, 3.0))
    """
    different = list(dict.fromkeys(spots))
    found = (-1.0, different[0])
    for spot, part in zip(different, _parts(region, different), strict=True):
        corners = shapely.get_coordinates(part)
        if len(corners):
            off = np.hypot(corners[:, 0] - spot[0], corners[:, 1] - spot[1])
            at = int(np.argmax(off))
            found = max(found, (float(off[at]), (float(corners[at, 0]), float(corners[at, 1]))))
    return found


def _parts(region: shapely.Polygon, spots: Sequence[XY]) -> list[shapely.Geometry]:
    """The part of the region that is nearer to each spot than to any other."""
    reach = shapely.buffer(shapely.box(*shapely.total_bounds([region, shapely.MultiPoint(spots)])), 1.0)
    size = 2 * float(np.hypot(*(np.array(reach.bounds[2:]) - reach.bounds[:2])))
    parts: list[shapely.Geometry] = []
    for spot in spots:
        part: shapely.Geometry = region
        for other in spots:
            if other != spot:
                part = shapely.intersection(part, _nearer(np.array(spot), np.array(other), size))
        parts.append(part)
    return parts


def _nearer(spot: np.ndarray, other: np.ndarray, size: float) -> shapely.Polygon:
    """A square of the half plane that is nearer to ``spot`` than to ``other``."""
    along = (other - spot) / np.hypot(*(other - spot))
    across = np.array([-along[1], along[0]])
    middle = (spot + other) / 2
    corners = [middle + size * across, middle - size * across]
    return shapely.Polygon([*corners, corners[1] - 2 * size * along, corners[0] - 2 * size * along])
