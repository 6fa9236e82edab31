"""Raising the points of an edge so that the surface beside it falls away from it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from slabwright.geometry.surface.facets import Surface

ROUNDS = 20  # facets side by side share a point, so what each lacks is made up in turn


def least_raised(
    surface: Surface, on_edge: NDArray[np.bool_], foot: NDArray[np.float64], inward: NDArray[np.float64], slope: float
) -> NDArray[np.float64]:
    """Heights of all vertices, (n,), m, with only those raised that carry a facet falling too little.

    ``on_edge`` (n,) marks the vertices of a straight edge, ``foot`` is a point of it and ``inward`` the unit vector
    square to it into the slab. Each facet with two vertices on the edge is made to fall at least ``slope`` away from
    it, each of the two raised by its part. Facets that touch the edge in one vertex are not looked at.
    """
    xy, triangles, z = surface.mesh.xy, surface.mesh.triangles, surface.z.copy()
    beside = triangles[on_edge[triangles].sum(axis=1) == 2]
    if not len(beside):
        return z
    ends, inner = beside[on_edge[beside]].reshape(-1, 2), beside[~on_edge[beside]]
    along = (xy - foot) @ np.array([-inward[1], inward[0]])
    part = (along[inner] - along[ends[:, 0]]) / (along[ends[:, 1]] - along[ends[:, 0]])
    weights = np.column_stack([1 - part, part])  # of the two ends, square across from the inner vertex
    wanted = surface.z[inner] + slope * ((xy[inner] - foot) @ inward)
    first = np.argsort(-weights.max(axis=1), kind="stable")  # what one point alone must do, before what two share
    ends, weights, wanted = ends[first], weights[first], wanted[first]
    for _ in range(ROUNDS):
        for pair, weight, least in zip(ends.tolist(), weights, wanted.tolist(), strict=True):
            lack = least - float(weight @ z[pair])
            if lack > 0:
                carrying = np.maximum(weight, 0.0)
                z[pair] += lack * carrying / float(weight @ carrying)
    return z
