"""The spot of a line that lies nearest to a place, in plain arithmetic: quick for single places and short lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

XY = tuple[float, float]


def nearest_on(line: Sequence[XY], at: XY) -> tuple[float, int, float]:
    """How far ``at`` is from a line (m), the part of the line nearest to it, and how far along that part, as a share.

    Of parts equally near the first.
    """
    found = math.inf, 0, 0.0
    for part, ((ax, ay), (bx, by)) in enumerate(pairwise(line)):
        run, rise = bx - ax, by - ay
        size = run * run + rise * rise
        share = ((at[0] - ax) * run + (at[1] - ay) * rise) / size if size > 0 else 0.0
        share = min(max(share, 0.0), 1.0)
        away = math.hypot(at[0] - ax - share * run, at[1] - ay - share * rise)
        if away < found[0]:
            found = away, part, share
    return found
