"""A place on the plan, as every room passes it on."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

XY = tuple[float, float]  # meters


def as_xy(of: np.ndarray | Sequence[float]) -> XY:
    """The plain numbers of a place that numpy or shapely tells."""
    return float(of[0]), float(of[1])


def middle_of(a: XY, b: XY) -> XY:
    """The place halfway between two."""
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def beside_middle(a: XY, b: XY, off: float) -> XY:
    """The place ``off`` m to the right of the middle of the way from ``a`` to ``b``; to its left below zero."""
    (x, y), size = middle_of(a, b), math.dist(a, b)
    return x + (b[1] - a[1]) / size * off, y - (b[0] - a[0]) / size * off
