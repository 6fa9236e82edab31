"""A place on the plan, as every room passes it on."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

XY = tuple[float, float]  # meters


def as_xy(of: np.ndarray | Sequence[float]) -> XY:
    """The plain numbers of a place that numpy or shapely tells."""
    return float(of[0]), float(of[1])
