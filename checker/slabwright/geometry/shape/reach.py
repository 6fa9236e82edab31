"""How far the farthest place of a slab lies from the nearest of some spots."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from slabwright.geometry.xy import XY


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
