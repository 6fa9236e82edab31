"""Straight cuts that part a panel into equal bays; a panel that bends, such as a walk in a curve, along its middle.

Coordinates are meters.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely

from slabwright.geometry.xy import XY

CORNER = 35.0  # degrees: a ring that turns more at one point has a corner there
BENDS = 1.0005  # a side this much longer than straight from end to end bends


@lru_cache(256)  # of several long panels each is asked for the cuts of all
def cuts(ring: tuple[XY, ...], along: int, across: int = 1) -> tuple[tuple[XY, XY], ...]:
    """Lines that cut a panel into ``along`` bays of its long side and ``across`` of its short side.

    ``ring`` is the closed outline of the panel. The sides are those of its smallest rectangle; each line ends on the
    outline, and where the panel is bent in on itself only the longest part of a cut is kept. A panel that bends is
    cut from side to side, at equal parts of both.
    """
    bent = _bent_sides(ring) if across == 1 else None
    if bent:
        return tuple((_part_way(bent[0], k / along), _part_way(bent[1], k / along)) for k in range(1, along))
    panel = shapely.Polygon(ring)
    corners = np.asarray(shapely.oriented_envelope(panel).exterior.coords)[:4]
    first, second = corners[1] - corners[0], corners[3] - corners[0]
    if np.hypot(*first) < np.hypot(*second):
        first, second = second, first
    lines = [(corners[0] + first * k / along, second) for k in range(1, along)]
    lines += [(corners[0] + second * k / across, first) for k in range(1, across)]
    return tuple(clipped for start, way in lines if (clipped := _clipped(panel, start, way)) is not None)


def _clipped(panel: shapely.Polygon, start: np.ndarray, way: np.ndarray) -> tuple[XY, XY] | None:
    """The longest part within the panel of a line from ``start``, drawn out a little beyond both ends."""
    line = shapely.LineString([start - 0.01 * way, start + 1.01 * way])
    parts = [part for part in shapely.get_parts(panel.intersection(line)) if part.length > 0]
    if not parts:
        return None
    (x0, y0), *_, (x1, y1) = max(parts, key=lambda part: part.length).coords
    return (float(x0), float(y0)), (float(x1), float(y1))


@lru_cache(256)  # asked once for each rule on panels
def along_middle(ring: tuple[XY, ...]) -> tuple[float, float] | None:
    """How long along its middle, and how wide, a panel is that bends; None for all others."""
    bent = _bent_sides(ring)
    if bent is None:
        return None
    run = (bent[0].length + bent[1].length) / 2
    return run, shapely.Polygon(ring).area / run


def _bent_sides(ring: Sequence[XY]) -> tuple[shapely.LineString, shapely.LineString] | None:
    """The two long sides of a panel with four corners, run the same way, where they bend."""
    points = np.asarray(ring)[:-1]
    before, after = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turns = np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))
    corners = np.flatnonzero(np.abs(turns) > CORNER)
    if len(corners) != 4 or len(points) < 5:
        return None
    points = np.roll(points, -corners[0], axis=0)
    ends = [*(corners - corners[0]).tolist(), len(points)]
    closed = np.vstack([points, points[:1]])
    sides = [shapely.LineString(closed[start : end + 1]) for start, end in pairwise(ends)]
    one, other = max((sides[0], sides[2]), (sides[1], sides[3]), key=lambda pair: pair[0].length + pair[1].length)
    straight = shapely.Point(one.coords[0]).distance(shapely.Point(one.coords[-1]))
    back = shapely.Point(other.coords[0]).distance(shapely.Point(other.coords[-1]))
    if one.length < BENDS * straight and other.length < BENDS * back:
        return None
    return one, other.reverse()


def _part_way(side: shapely.LineString, part: float) -> XY:
    at = side.interpolate(part, normalized=True)
    return float(at.x), float(at.y)
