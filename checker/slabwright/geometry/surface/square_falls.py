"""How a faceted surface falls along lines that start square to one straight edge."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from slabwright.geometry.shape.noding import Ints
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY

_TOUCH = 1e-6  # facet sides met this near to each other are met at once, m


class Stretch(NamedTuple):
    """A part of a line on one facet: distance from the edge at both ends, m, and its fall, positive away from it."""

    near: float
    far: float
    fall: float


def square_falls(
    surface: Surface, start: XY, end: XY, left: bool, stations: Sequence[float], within: float
) -> list[list[Stretch]]:
    """For each station (m from ``start``) the stretches of the line there, square to the edge and onto the surface.

    The surface lies to the ``left`` of the way from ``start`` to ``end`` along the edge, or to its right. A line stops
    where the surface does, at an opening too, or ``within`` m from the edge; where no surface lies it has no stretches.
    """
    size = math.dist(start, end)
    along = np.array([(end[0] - start[0]) / size, (end[1] - start[1]) / size])
    square = np.array([-along[1], along[0]]) if left else np.array([along[1], -along[0]])
    off = surface.mesh.xy - np.array(start)
    across, out = off @ along, off @ square
    inner, rim = (_near(sides, across, out, size) for sides in (surface.inner_sides, surface.mesh.rim))
    met: list[list[tuple[float, float, int]]] = [[] for _ in stations]
    u, v, z = across.tolist(), out.tolist(), surface.z.tolist()
    for sides, stops in ((inner.tolist(), 0), (rim.tolist(), 1 if left else -1)):
        for a, b in sides:
            first, last = u[a], u[b]
            if first == last:
                continue
            turn = stops if first < last else -stops
            low, high = (first, last) if first < last else (last, first)
            for station, found in zip(stations, met, strict=True):
                if low - _TOUCH <= station <= high + _TOUCH:
                    t = min(max((station - first) / (last - first), 0.0), 1.0)
                    place = v[a] + t * (v[b] - v[a])
                    if place >= -2 * _TOUCH:
                        # of two sides that meet on the line one counts, so that it neither stops nor starts twice
                        found.append((place, z[a] + t * (z[b] - z[a]), turn if low <= station < high else 0))
    return [_stretches(found, within) for found in met]


def _near(sides: Ints, across: np.ndarray, out: np.ndarray, size: float) -> Ints:
    """The sides that may be met."""
    u, v = across[sides], out[sides]
    there = (u.max(axis=1) >= -_TOUCH) & (u.min(axis=1) <= size + _TOUCH) & (v.max(axis=1) >= -2 * _TOUCH)
    return np.asarray(sides[there])


def _stretches(met: list[tuple[float, float, int]], within: float) -> list[Stretch]:
    """The stretches between sides met: (distance, height, 1 where the surface starts, -1 where it stops, else 0)."""
    places: list[tuple[float, float, int]] = []
    last = -math.inf
    for place, z, turn in sorted(met):
        if place - last > _TOUCH:
            places.append((place, z, turn))
        else:
            places[-1] = (*places[-1][:2], places[-1][2] + turn)
        last = place
    found: list[Stretch] = []
    on_surface = 0
    for (near, upper, turn), (far, lower, _) in pairwise(places):
        on_surface += turn
        if on_surface <= 0 or near >= within:
            break
        found.append(Stretch(max(near, 0.0), min(far, within), (upper - lower) / (far - near)))
    return found
