"""Sides between two triangles, and the other diagonal of the four corners around each."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from slabwright.geometry.shape.noding import SNAP, Floats, Ints, cross

_INNER = 1e-6  # the diagonals of four points on one circle cross at least this far inside both, as a share of each

Quads = tuple[Ints, ...]  # a, b, c, d: a side a-b, and the corners c and d of the triangles left and right of it


def quads(triangles: Ints, neighbors: Ints) -> tuple[Ints, Ints, Quads]:
    """Every side between two triangles once: the triangles, and the four corners."""
    facet, side = np.nonzero(neighbors > np.arange(len(triangles))[:, None])
    other = neighbors[facet, side]
    a, b, c = (triangles[facet, (side + k) % 3] for k in range(3))
    return facet, other, (a, b, c, triangles[other].sum(axis=1) - a - b)


def on_circle(xy: Floats, quad: Quads) -> NDArray[np.bool_]:
    """Whether four corners lie on one circle, the diagonals crossing well inside both."""
    a, b, c, d = quad
    first, second, third = xy[b] - xy[a], xy[c] - xy[a], xy[d] - xy[a]
    along_ab, along_cd = crossing(xy, quad)
    with np.errstate(divide="ignore", invalid="ignore"):
        inside = (np.minimum(along_ab, 1 - along_ab) > _INNER) & (np.minimum(along_cd, 1 - along_cd) > _INNER)
        square = [np.sum(part * part, axis=1) for part in (first, second, third)]
        power = square[0] * cross(second, third) - square[1] * cross(first, third) + square[2] * cross(first, second)
        sides = np.sqrt(square[0] * square[1] * np.sum((xy[c] - xy[b]) ** 2, axis=1))
        off = np.abs(power) / sides  # of the fourth point from the circle through the other three
    return np.asarray(inside & (off <= SNAP))


def crossing(xy: Floats, quad: Quads) -> tuple[Floats, Floats]:
    """Where the diagonals cross, as a share of the way from a to b and of that from c to d; nan where they do not."""
    a, b, c, d = quad
    left, right = cross(xy[b] - xy[a], xy[c] - xy[a]), cross(xy[b] - xy[a], xy[d] - xy[a])
    on_a, on_b = cross(xy[d] - xy[c], xy[a] - xy[c]), cross(xy[d] - xy[c], xy[b] - xy[c])
    with np.errstate(divide="ignore", invalid="ignore"):
        return on_a / (on_a - on_b), left / (left - right)


def apart(worth: Floats, facet: Ints, other: Ints, count: int) -> Ints:
    """Of sides between facets, those worth most to both facets beside them: no facet is named twice."""
    rank = np.empty(len(worth), dtype=np.int64)
    rank[np.argsort(worth, kind="stable")] = np.arange(len(worth))
    best = np.full(count, -1, dtype=np.int64)
    np.maximum.at(best, facet, rank)
    np.maximum.at(best, other, rank)
    return np.nonzero((best[facet] == rank) & (best[other] == rank))[0]


def flipped(triangles: Ints, facet: Ints, other: Ints, quad: Quads) -> Ints:
    """The triangles with the other diagonal in some quads, none of which share a triangle."""
    a, b, c, d = quad
    changed = triangles.copy()
    changed[facet] = np.stack([a, d, c], axis=1)
    changed[other] = np.stack([d, b, c], axis=1)
    return changed
