"""Ponds: where the water level stands above a faceted surface, with exact areas and volumes."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.shape.noding import Floats, Ints, starts_of_runs
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY

_COUNTS = 0.0005  # a pond no deeper is left out, m
_WET = 1e-9  # a vertex deeper than this is under water, m


class PondShape(NamedTuple):
    """Standing water: level, greatest depth (m), area (m2), volume (m3), outline, deepest place, vertices under water.

    Where water has no way out at any level, ``level`` is the highest point of the slab.
    """

    level: float
    depth: float
    area: float
    volume: float
    outline: shapely.MultiPolygon
    deepest: XY
    vertices: Ints


def ponds(surface: Surface, level: Floats | Sequence[float]) -> tuple[PondShape, ...]:
    """Ponds for the water level of every vertex (n,), as from ``fill``; the largest volume first.

    Those not deeper than half a millimeter are left out.
    """
    level = np.where(np.isinf(level), surface.z.max(), level)
    wet = level - surface.z > _WET
    if not wet.any():
        return ()
    pond = _connected(surface.mesh.edges, wet)
    triangles = surface.mesh.triangles
    facet_pond = pond[triangles].max(axis=1)
    found = []
    order = np.argsort(pond, kind="stable")
    order = order[np.searchsorted(pond[order], 0) :]
    facets = np.argsort(facet_pond, kind="stable")
    facets = facets[np.searchsorted(facet_pond[facets], 0) :]
    starts = np.nonzero(starts_of_runs(pond[order]))[0]
    number = pond[order[starts]]
    vertex_groups = np.split(order, starts[1:])
    facet_starts = np.searchsorted(facet_pond[facets], number)
    facet_groups = np.split(facets, facet_starts[1:])
    for vertices, own in zip(vertex_groups, facet_groups, strict=True):
        height = float(level[vertices[0]])
        lowest = int(vertices[np.argmin(surface.z[vertices])])
        depth = height - float(surface.z[lowest])
        if not depth > _COUNTS:
            continue
        depths = height - surface.z[triangles[own]]
        area, volume = _under_water(depths, surface.areas[own])
        x, y = surface.mesh.xy[lowest]
        found.append(
            PondShape(
                level=height,
                depth=depth,
                area=float(area.sum()),
                volume=float(volume.sum()),
                outline=_outline(surface, own, height),
                deepest=(float(x), float(y)),
                vertices=np.sort(vertices),
            )
        )
    return tuple(sorted(found, key=lambda one: (-one.volume, one.deepest)))


def _connected(edges: Ints, wet: NDArray[np.bool_]) -> Ints:
    """For every vertex the first vertex of its patch of wet vertices, -1 for dry ones."""
    root = np.where(wet, np.arange(len(wet)), -1)
    a, b = edges[wet[edges].all(axis=1)].T
    while len(a):
        low = np.minimum(root[a], root[b])
        high = np.maximum(root[a], root[b])
        apart = low < high
        if not apart.any():
            break
        np.minimum.at(root, high[apart], low[apart])
        root = np.where(wet, root[root], -1)
        while not np.array_equal(root, np.where(wet, root[root], -1)):
            root = np.where(wet, root[root], -1)
    return root


def _under_water(depths: Floats, areas: Floats) -> tuple[Floats, Floats]:
    """Plan area and volume (m,) of water on facets with so much depth at their corners (m, 3), negative where dry."""
    deep = -np.sort(-depths, axis=1)
    first, second, third = deep.T
    whole = areas * deep.mean(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        wet_corner = areas * (first / (first - second)) * (first / (first - third))
        dry_corner = areas * (third / (third - first)) * (third / (third - second))
    area = np.where(third >= 0, areas, np.where(second > 0, areas - dry_corner, wet_corner))
    volume = np.where(third >= 0, whole, np.where(second > 0, whole - dry_corner * third / 3, wet_corner * first / 3))
    dry = first <= 0
    return np.where(dry, 0.0, area), np.where(dry, 0.0, volume)


def _outline(surface: Surface, facets: Ints, height: float) -> shapely.MultiPolygon:
    """The shore of the water standing at ``height`` on these facets."""
    triangles = surface.mesh.triangles[facets]
    under = surface.z[triangles] < height
    full = under.all(axis=1)
    parts = list(surface.facets[facets[full]])
    for triangle, low in zip(triangles[~full].tolist(), under[~full].tolist(), strict=True):
        ring: list[Floats] = []
        for k in range(3):
            a, b = triangle[k], triangle[(k + 1) % 3]
            if low[k]:
                ring.append(surface.mesh.xy[a])
            if low[k] != low[(k + 1) % 3]:
                ring.append(_shore_point(surface, min(a, b), max(a, b), height))
        if len(ring) > 2:
            parts.append(shapely.Polygon(ring))
    merged = shapely.union_all([part for part in parts if part.area > 0])
    pieces = [piece for piece in shapely.get_parts(merged) if isinstance(piece, shapely.Polygon)]
    return shapely.MultiPolygon(pieces)


def _shore_point(surface: Surface, a: int, b: int, height: float) -> Floats:
    """Where the side between two vertices has this height; the same for all facets that share it or its ends."""
    first, second = surface.mesh.xy[a], surface.mesh.xy[b]
    t = (height - surface.z[a]) / (surface.z[b] - surface.z[a])
    # An end is that vertex to the last bit: water spills at a vertex, and first + 1 (second - first) is not second.
    return np.asarray(first if t <= 0 else second if t >= 1 else first + t * (second - first))
