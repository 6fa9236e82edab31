"""Waves that a screed and a float leave: random surfaces with a stated length, scaled to a straightedge.

Heights that lie far apart have nothing to do with each other, near ones much: their covariance falls off as
``exp(-distance / LONG)``, smoothed over ``SMOOTH``, as the float smooths. Of the shapes that were tried this one has
the flatness and the levelness of usual floors; a smoother one of the same length is far too smooth.
"""

from __future__ import annotations

import math
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LONG: Final = 1.524
"""Length over which heights forget each other, m: 5 ft."""

SMOOTH: Final = 0.1524
"""Over which the float smooths, m: 6 in, a standard deviation."""

STRAIGHTEDGE: Final = 3.048
"""Length of the straightedge, m: 10 ft."""

_TRIED_SIDE: Final = 24.0  # m: side of the surfaces that a straightedge is laid on
_TRIED: Final = 12  # such surfaces
_PLACES: Final = 250  # places of the straightedge on each


def fields(shape: tuple[int, int], step: float, count: int, rng: np.random.Generator) -> Floats:
    """``count`` surfaces (count, rows, columns) of standard deviation 1 on a grid of ``step`` m.

    Worked by the spectrum of the covariance on a larger grid that closes on itself, of which the part is cut out.
    Source: spectral method for random fields; the spectrum of an exponential covariance in the plane is
    ``(1 + (k LONG)^2) ** -1.5``.
    """
    rows, columns = (_even(size + math.ceil(4 * LONG / step)) for size in shape)
    ky = 2 * math.pi * np.fft.fftfreq(rows, step)[:, None]
    kx = 2 * math.pi * np.fft.fftfreq(columns, step)[None, :]
    k2 = kx**2 + ky**2
    power = (1 + k2 * LONG**2) ** -1.5 * np.exp(-k2 * SMOOTH**2)
    filter_ = np.sqrt(power / power.mean())
    found = np.empty((count, *shape))
    for start in range(0, count, 2):  # the real and the imaginary part are two surfaces that know nothing of each other
        noise = rng.standard_normal((rows, columns)) + 1j * rng.standard_normal((rows, columns))
        both = np.fft.ifft2(np.fft.fft2(noise) * filter_)[: shape[0], : shape[1]]
        found[start] = both.real
        if start + 1 < count:
            found[start + 1] = both.imag
    return found


def _even(size: int) -> int:
    return size + size % 2


def gaps(profiles: Floats, step: float) -> Floats:
    """The greatest gap under a straightedge on each profile (n, points), which lies on two points of it.

    It is the greatest height of the upper hull above the profile.

    >>> gaps(np.array([[0.0, -1.0, 0.0], [0.0, 1.0, 0.0]]), 1.0).tolist()
    [1.0, 0.0]
    """
    points = profiles.shape[1]
    at = np.arange(points) * step
    hull = profiles.copy()
    for first, last in combinations(range(points), 2):
        if last - first > 1:
            share = (at[first + 1 : last] - at[first]) / (at[last] - at[first])
            line = profiles[:, [first]] * (1 - share) + profiles[:, [last]] * share
            np.maximum(hull[:, first + 1 : last], line, out=hull[:, first + 1 : last])
    return np.asarray((hull - profiles).max(axis=1))


def gap_of_waves(rng: np.random.Generator) -> float:
    """The gap under a straightedge that nine in ten of its places keep, on surfaces of standard deviation 1.

    The straightedge is laid at random places in random directions, wholly on the surface.
    """
    step = STRAIGHTEDGE / 20
    size = round(_TRIED_SIDE / step)
    found = []
    for field in fields((size, size), step, _TRIED, rng):
        turn = rng.uniform(0, math.pi, _PLACES)
        spread = STRAIGHTEDGE / step
        margin = spread + 1
        x0, y0 = rng.uniform(margin, size - margin, (2, _PLACES))
        along = np.linspace(0, spread, 21)
        xs, ys = x0[:, None] + np.cos(turn)[:, None] * along, y0[:, None] + np.sin(turn)[:, None] * along
        found.append(gaps(_between(field, xs, ys), step))
    return float(np.quantile(np.concatenate(found), 0.9))


def _between(field: Floats, xs: Floats, ys: Floats) -> Floats:
    """Heights between the points of a grid, running straight along both its ways."""
    x0, y0 = np.floor(xs).astype(int), np.floor(ys).astype(int)
    u, v = xs - x0, ys - y0
    upper = field[y0, x0] * (1 - u) + field[y0, x0 + 1] * u
    lower = field[y0 + 1, x0] * (1 - u) + field[y0 + 1, x0 + 1] * u
    return np.asarray(upper * (1 - v) + lower * v)
