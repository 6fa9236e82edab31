"""The spot of a line that lies nearest to a place, in plain arithmetic: quick for single places and short lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from slabwright.geometry.xy import XY


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
