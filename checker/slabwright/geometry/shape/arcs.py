"""Circular arcs given by three points, and the chords that stand for them. Meters and radians."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from slabwright.geometry.xy import XY

Floats = NDArray[np.float64]

LEAST_RADIUS = 0.005  # m
LARGEST_RADIUS = 1e5  # m: over 100 m of edge such an arc leaves its chord by half an inch
LARGEST_CHORD_TURN = math.radians(10.0)  # keeps every vertex of an arc flatter than a corner anyone would build
CHORDS_OFF = 0.002  # m: no spot of the chords of :func:`arc_chords` lies farther from the arc


def arc_chords(start: XY, through: XY, end: XY) -> Floats:
    """Chord points (k, 2) of the arc from ``start`` through ``through`` to ``end``, without ``start``.

    The chords enclose the area of the arc itself, lie within ``CHORDS_OFF`` of it and turn less than 10 degrees;
    ``through`` is one of the points. Three points on one line, or two at one place, give ``through`` and ``end`` alone.
    The points between the three lie outside the circle by as much as the chords would else lose: of n chords over
    ``t`` each, at x radii, (n - 2) sin t x^2 + 2 sin t x = n t.

    >>> half = np.vstack([[1.0, 0.0], arc_chords((1, 0), (0, 1), (-1, 0))])
    >>> round(float(np.sum(half[:-1, 0] * half[1:, 1] - half[:-1, 1] * half[1:, 0])) / 2 / math.pi, 9)
    0.5
    """
    points = np.array([start, through, end], dtype=np.float64)
    circle = circle_over(start, through, end)
    if circle is None:
        return points[1:]
    center, radius, turns = circle
    # Points are moved out by up to 4/3 of the sagitta, and chords turn by as much more.
    # sin(step / 4)^2 = sagitta / (2 radius); this form stays exact for flat arcs, where an arc cosine does not.
    sagitta = CHORDS_OFF * 3 / 4
    step = min(LARGEST_CHORD_TURN * 3 / 4, 4 * math.asin(math.sqrt(min(1.0, sagitta / (2 * radius)))))
    pieces = []
    for at, turn, stop in zip(points[:2] - center, turns, points[1:], strict=True):
        count = max(2, math.ceil(abs(turn) / step - 1e-6))  # far from the origin a quarter turn is a hair over one
        angles = turn * np.arange(1, count) / count
        out = _radii_out(count, abs(turn) / count)
        sine, cosine = out * np.sin(angles), out * np.cos(angles)
        pieces.append(center + np.column_stack([at[0] * cosine - at[1] * sine, at[0] * sine + at[1] * cosine]))
        pieces.append(stop[None, :])
    return np.concatenate(pieces)


def _radii_out(count: int, turn: float) -> float:
    """How many radii from the center the points between lie, so that ``count`` chords enclose their sector's area."""
    share = count * (turn / math.sin(turn) if turn > 0 else 1.0)
    return share / (1 + math.sqrt(1 + (count - 2) * share))


def circle_over(start: XY, through: XY, end: XY) -> tuple[Floats, float, tuple[float, float]] | None:
    """Center, radius and the two signed turns (left positive) of an arc; None when it is too flat to be one."""
    points = np.array([start, through, end], dtype=np.float64)
    a, b = points[1] - points[0], points[2] - points[0]
    twice = 2 * float(a[0] * b[1] - a[1] * b[0])
    sides = math.hypot(*a) * math.hypot(*b) * math.dist(through, end)
    if sides == 0 or abs(twice) * LARGEST_RADIUS < sides:
        return None
    square_a, square_b = float(a @ a), float(b @ b)
    offset = np.array([b[1] * square_a - a[1] * square_b, a[0] * square_b - b[0] * square_a]) / twice
    spokes = points - points[0] - offset
    bearings = np.arctan2(spokes[:, 1], spokes[:, 0])
    sign = math.copysign(1.0, twice)
    first, second = (sign * float((sign * turn) % math.tau) for turn in np.diff(bearings))
    return points[0] + offset, float(np.hypot(*offset)), (first, second)
