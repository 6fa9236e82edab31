"""Water that stands on many surfaces at once, on a grid: quick where exact ponds of one surface are not wanted."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

MOST_ROUNDS = 200  # of four sweeps; water that winds longer than that through a slab is not met


def levels(heights: Floats, exits: Floats) -> Floats:
    """The level of water (n, rows, columns) over ``heights`` of that shape, m, after rain for as long as it takes.

    ``exits`` (rows, columns) or (n, rows, columns): the height at which water leaves from a cell, inf where it may not;
    cells with a height of inf lie beside the slab. Water goes from a cell to the eight around it. The level is the
    least that no cell can lower: found in sweeps over rows and columns, which carry it on until nothing changes.
    Source: the definition of filling depressions, the lowest way out over the highest point of each way.

    >>> bowl = np.array([[[3.0, 3.0, 3.0], [3.0, 1.0, 2.0], [3.0, 3.0, 3.0]]])
    >>> out = np.full((3, 3), np.inf)
    >>> out[1, 2] = 2.0
    >>> levels(bowl, out)[0, 1].tolist()
    [3.0, 2.0, 2.0]
    """
    outside = np.isinf(heights)
    found = np.where(outside, np.inf, np.maximum(heights, exits))
    for _ in range(MOST_ROUNDS):
        before = found.copy()
        for turned, ground in (
            (found, heights),
            (found[:, ::-1], heights[:, ::-1]),
            (found.transpose(0, 2, 1), heights.transpose(0, 2, 1)),
            (found.transpose(0, 2, 1)[:, ::-1], heights.transpose(0, 2, 1)[:, ::-1]),
        ):
            _sweep(turned, ground)
        if np.array_equal(before, found):
            break
    return found


def _sweep(found: Floats, ground: Floats) -> None:
    """Carry the level on from each row to the next, straight and aslant."""
    for row in range(1, found.shape[1]):
        last = found[:, row - 1]
        near = last.copy()
        np.minimum(near[:, 1:], last[:, :-1], out=near[:, 1:])
        np.minimum(near[:, :-1], last[:, 1:], out=near[:, :-1])
        here = found[:, row]
        np.minimum(here, np.maximum(near, ground[:, row]), out=here)
