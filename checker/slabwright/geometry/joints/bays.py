"""Straight cuts that part a panel into equal bays. Coordinates are meters."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

XY = tuple[float, float]


def cuts(ring: Sequence[XY], along: int, across: int = 1) -> list[tuple[XY, XY]]:
    """Lines that cut a panel into ``along`` bays of its long side and ``across`` of its short side.

    ``ring`` is the closed outline of the panel. The sides are those of its smallest rectangle; each line ends on the
    outline, and where the panel is bent in on itself only the longest part of a cut is kept.
    """
    panel = shapely.Polygon(ring)
    corners = np.asarray(shapely.oriented_envelope(panel).exterior.coords)[:4]
    first, second = corners[1] - corners[0], corners[3] - corners[0]
    if np.hypot(*first) < np.hypot(*second):
        first, second = second, first
    lines = [(corners[0] + first * k / along, second) for k in range(1, along)]
    lines += [(corners[0] + second * k / across, first) for k in range(1, across)]
    return [clipped for start, way in lines if (clipped := _clipped(panel, start, way)) is not None]


def _clipped(panel: shapely.Polygon, start: np.ndarray, way: np.ndarray) -> tuple[XY, XY] | None:
    """The longest part within the panel of a line from ``start``, drawn out a little beyond both ends."""
    line = shapely.LineString([start - 0.01 * way, start + 1.01 * way])
    parts = [part for part in shapely.get_parts(panel.intersection(line)) if part.length > 0]
    if not parts:
        return None
    (x0, y0), *_, (x1, y1) = max(parts, key=lambda part: part.length).coords
    return (float(x0), float(y0)), (float(x1), float(y1))
