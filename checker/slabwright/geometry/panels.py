"""Panels: a slab cut by its joints, the panels measured, and every joint end told by what it meets.

Coordinates and lengths are metres, areas m2, angles degrees.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.crossings import WELD, Floats, Ints, node
from slabwright.geometry.joint_ends import bring_ends, moves, segments
from slabwright.geometry.joint_parts import (
    XY,
    Cuts,
    JointEndShape,
    JointShape,
    Meets,
    edge_keys,
    joint_parts,
    overlaps,
)
from slabwright.geometry.measure import corner_angles, reading_order, smallest_rectangles
from slabwright.geometry.noding import among, distinct

__all__ = ["JointEndShape", "JointShape", "Meets", "PanelLayout", "PanelShape", "cut"]


DUST = 1e-12  # m


@dataclass(frozen=True, slots=True, eq=False)
class PanelShape:
    """A piece of slab between joints, edges and openings.

    ``long_side`` and ``short_side`` are those of its smallest rectangle (of equal ones, the one nearest to a square).
    ``corners`` are those that turn by more than a degree, openings' corners with them; points of arcs are left out.
    ``neighbours`` share a side with it; ``joints`` are the typed joints along its sides.
    """

    polygon: shapely.Polygon
    area: float
    long_side: float
    short_side: float
    aspect: float
    corners: tuple[tuple[XY, float], ...]
    neighbours: tuple[int, ...]
    joints: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PanelLayout:
    """The panels in reading order, the joints in typed order.

    ``unused`` are typed joints with no part inside the slab: beside it, or along its edge. ``overlaps`` are pairs of
    typed joints that lie on each other, with the length they share.
    """

    panels: tuple[PanelShape, ...]
    joints: tuple[JointShape, ...]
    unused: tuple[int, ...]
    overlaps: tuple[tuple[int, int, float], ...]


def cut(slab: shapely.Polygon, joints: Sequence[Floats], snap: float = 0.0508) -> PanelLayout:
    """Cut a slab by joints (each (k, 2)); ends within ``snap`` of an edge, opening or joint are brought to it.

    Parts of joints outside the slab, in openings or along its edges are dropped.
    """
    if slab.geom_type != "Polygon" or slab.is_empty or not slab.is_valid:
        raise GeometryError("a slab to cut must be one valid polygon")
    typed = [_clean(np.asarray(joint, dtype=np.float64)) for joint in joints]
    if any(line.ndim != 2 or line.shape[1] != 2 or len(line) < 2 or not np.isfinite(line).all() for line in typed):
        raise GeometryError("a joint needs at least two finite points")
    slab = shapely.transform(slab, _clean)
    shapely.prepare(slab)
    cuts, rim_edges = _noded(slab, bring_ends(slab, [line[moves(line)] for line in typed], snap))
    parts = joint_parts(cuts, typed, snap)
    used = {part.joint for part in parts}
    unused = tuple(index for index in range(len(typed)) if index not in used)
    return PanelLayout(_panels(slab, cuts, rim_edges), parts, unused, overlaps(cuts))


def _clean(xy: Floats) -> Floats:
    """Coordinates without the dust of a turned drawing: numbers so small that their squares are nothing."""
    return np.where(np.abs(xy) < DUST, 0.0, xy)


def _noded(slab: shapely.Polygon, lines: list[Floats]) -> tuple[Cuts, Ints]:
    """Joint edges inside the slab, and the edges (r, 2) of its rings."""
    rings = [shapely.get_coordinates(ring) for ring in (slab.exterior, *slab.interiors)]
    rim_start, rim_end, rim_ring = segments(rings)
    start, end, owner = segments(lines)
    count = len(rim_start)
    nodes = node(
        np.concatenate([rim_start, start]), np.concatenate([rim_end, end]), np.arange(count + len(start)) < count
    )
    on_rim = nodes.segment < count
    rim_edges = np.column_stack([nodes.start, nodes.end])[on_rim]
    ring = np.full(len(nodes.xy), -1)
    for column in (0, 1):  # where an opening touches the outline the outline is named
        ring[rim_edges[::-1, column]] = rim_ring[nodes.segment[on_rim]][::-1]
    first, second = nodes.start[~on_rim], nodes.end[~on_rim]
    middles = (nodes.xy[first] + nodes.xy[second]) / 2
    inside = shapely.contains_xy(slab, middles)
    along = (ring[first] >= 0) & (ring[second] >= 0)
    inside[along] &= ~among(
        edge_keys(first[along], second[along], len(ring)), edge_keys(rim_edges[:, 0], rim_edges[:, 1], len(ring))
    )
    segment = nodes.segment[~on_rim][inside] - count
    return Cuts(nodes.xy, ring, owner[segment], segment, first[inside], second[inside]), rim_edges


def _panels(slab: shapely.Polygon, cuts: Cuts, rim_edges: Ints) -> tuple[PanelShape, ...]:
    edges = np.concatenate([rim_edges, np.column_stack([cuts.start, cuts.end])])
    edges = edges[np.unique(edge_keys(edges[:, 0], edges[:, 1], len(cuts.xy)), return_index=True)[1]]
    shapes = shapely.get_parts(shapely.polygonize(shapely.linestrings(cuts.xy[edges])))
    inner = shapely.get_coordinates(shapely.point_on_surface(shapes))
    shapes = shapely.orient_polygons(shapes[shapely.contains_xy(slab, inner)])
    areas = shapely.area(shapes)
    shapes, areas = shapes[areas > WELD**2], areas[areas > WELD**2]
    order = reading_order(shapes)
    shapes, areas = shapes[order], areas[order]
    long, short = smallest_rectangles(shapes)
    corners = corner_angles(shapes)
    neighbours, joints = _shared(shapes, cuts)
    rows = zip(shapes, areas.tolist(), long.tolist(), short.tolist(), corners, neighbours, joints, strict=True)
    return tuple(
        PanelShape(polygon, area, long, short, long / short, corner, neighbour, joint)
        for polygon, area, long, short, corner, neighbour, joint in rows
    )


def _shared(shapes: NDArray[np.object_], cuts: Cuts) -> tuple[list[tuple[int, ...]], list[tuple[int, ...]]]:
    """Panels that share a side with each panel, and joints along its sides."""
    rings, ring_panel = shapely.get_rings(shapes, return_index=True)
    xy, vertex_ring = shapely.get_coordinates(rings, return_index=True)
    joint_xy = np.concatenate([cuts.xy[cuts.start], cuts.xy[cuts.end]])
    code = np.concatenate([xy, joint_xy]) @ np.array([1, 1j])
    names = np.unique(code, return_inverse=True)[1]
    vertex, joint_nodes = names[: len(xy)], names[len(xy) :].reshape(2, -1)
    side = vertex_ring[1:] == vertex_ring[:-1]
    size = len(code)
    first, second = vertex[:-1][side], vertex[1:][side]
    key = edge_keys(first, second, size)
    panel = ring_panel[vertex_ring[:-1][side]]
    order = np.argsort(key, kind="stable")
    twin = np.flatnonzero((key[order][1:] == key[order][:-1]) & (panel[order][1:] != panel[order][:-1]))
    one, two = panel[order[twin]], panel[order[twin + 1]]
    neighbours = _grouped(np.concatenate([one, two]), np.concatenate([two, one]), len(shapes))
    joint_key = edge_keys(joint_nodes[0], joint_nodes[1], size)
    by_key = np.argsort(joint_key, kind="stable")
    low = np.searchsorted(joint_key[by_key], key, side="left")
    count = np.searchsorted(joint_key[by_key], key, side="right") - low
    rows = np.repeat(panel, count)
    offset = np.arange(len(rows)) - np.repeat(np.cumsum(count) - count, count)
    joint = cuts.joint[by_key[np.repeat(low, count) + offset]]
    return neighbours, _grouped(rows, joint, len(shapes))


def _grouped(row: Ints, value: Ints, count: int) -> list[tuple[int, ...]]:
    """Distinct values of each row, ascending."""
    if not len(row):
        return [()] * count
    pairs = distinct(row * (int(value.max()) + 1) + value)
    row, value = np.divmod(pairs, int(value.max()) + 1)
    values, ends = value.tolist(), np.searchsorted(row, np.arange(count + 1)).tolist()
    return [tuple(values[first:last]) for first, last in pairwise(ends)]
