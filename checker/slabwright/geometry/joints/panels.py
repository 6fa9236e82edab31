"""Panels: a slab cut by its joints, the panels measured, and every joint end told by what it meets.

Coordinates and lengths are meters, areas m2, angles degrees.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.joints.crossings import WELD, Floats, node
from slabwright.geometry.joints.ends import bring_ends, moves
from slabwright.geometry.joints.measure import RingOf, corner_angles, reading_order, rings_of, smallest_rectangles
from slabwright.geometry.joints.parts import CutEdge, Cuts, JointShape, joint_parts
from slabwright.geometry.xy import XY

DUST = 1e-12  # m

Pair = tuple[int, int]  # an edge between two nodes


class PanelShape(NamedTuple):
    """A piece of slab between joints, edges and openings.

    ``long_side`` and ``short_side`` are those of its smallest rectangle (of equal ones, the one nearest to a square).
    ``corners`` are those that turn by more than a degree, openings' corners with them; points of arcs are left out.
    ``neighbors`` share a side with it; ``joints`` are the typed joints along its sides.
    """

    polygon: shapely.Polygon
    area: float
    long_side: float
    short_side: float
    aspect: float
    corners: tuple[tuple[XY, float], ...]
    neighbors: tuple[int, ...]
    joints: tuple[int, ...]


class PanelLayout(NamedTuple):
    """The panels in reading order, the joints in typed order.

    ``unused`` are typed joints with no part inside the slab: beside it, or along its edge.
    """

    panels: tuple[PanelShape, ...]
    joints: tuple[JointShape, ...]
    unused: tuple[int, ...]


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
    lines = bring_ends(slab, [line[moves(line)] for line in typed], snap)
    cuts, rim_edges = _noded(slab, lines) if lines else (Cuts((), (), ()), [])
    parts = joint_parts(cuts, typed, snap)
    used = {part.joint for part in parts}
    unused = tuple(index for index in range(len(typed)) if index not in used)
    return PanelLayout(_panels(slab, cuts, rim_edges), parts, unused)


def _clean(xy: Floats) -> Floats:
    """Coordinates without the dust of a turned drawing: numbers so small that their squares are nothing."""
    return np.where(np.abs(xy) < DUST, 0.0, xy)


def _noded(slab: shapely.Polygon, lines: list[Floats]) -> tuple[Cuts, list[Pair]]:
    """Joint edges inside the slab, and the edges of its rings as pairs of nodes."""
    rings = [shapely.get_coordinates(ring) for ring in (slab.exterior, *slab.interiors)]
    rim, straight = _sides(rings), _sides(lines)
    count = len(rim)
    nodes = node([line for line, _ in (*rim, *straight)], count)
    rim_edges = [(start, end) for segment, start, end in nodes.pieces if segment < count]
    ring = [-1] * len(nodes.xy)
    for segment, start, end in reversed(nodes.pieces):  # where an opening touches the outline the outline is named
        if segment < count:
            ring[start] = ring[end] = rim[segment][1]
    laid = {_key(*edge) for edge in rim_edges}
    pieces = [piece for piece in nodes.pieces if piece.segment >= count and _key(piece.start, piece.end) not in laid]
    xy = nodes.xy
    edges = [CutEdge(straight[segment - count][1], segment - count, start, end) for segment, start, end in pieces]
    if edges:
        middles = [((xy[a][0] + xy[b][0]) / 2, (xy[a][1] + xy[b][1]) / 2) for _, _, a, b in edges]
        inside = shapely.contains_xy(slab, np.array(middles)).tolist()
        edges = [edge for edge, within in zip(edges, inside, strict=True) if within]
    return Cuts(xy, ring, edges), rim_edges


def _sides(lines: Sequence[Floats]) -> list[tuple[tuple[XY, XY], int]]:
    """The straight parts of some lines, each with the number of its line."""
    points = [list(map(tuple, line.tolist())) for line in lines]
    return [(side, number) for number, line in enumerate(points) for side in pairwise(line)]


def _key(start: int, end: int) -> Pair:
    """An edge, whichever way it runs."""
    return (start, end) if start < end else (end, start)


def _panels(slab: shapely.Polygon, cuts: Cuts, rim_edges: Sequence[Pair]) -> tuple[PanelShape, ...]:
    shapes = _cut_out(slab, cuts, rim_edges) if cuts.edges else shapely.orient_polygons(np.array([slab]))
    areas = shapely.area(shapes)
    shapes, areas = shapes[areas > WELD**2], areas[areas > WELD**2]
    order = reading_order(shapes)
    shapes, areas = shapes[order], areas[order]
    rings = rings_of(shapes)
    corners = corner_angles(rings, len(shapes))
    neighbors, joints = _shared(rings, len(shapes), cuts)
    rows = zip(shapes, areas.tolist(), smallest_rectangles(shapes), corners, neighbors, joints, strict=True)
    return tuple(
        PanelShape(polygon, area, long, short, long / short, corner, neighbor, joint)
        for polygon, area, (long, short), corner, neighbor, joint in rows
    )


def _cut_out(slab: shapely.Polygon, cuts: Cuts, rim_edges: Sequence[Pair]) -> NDArray[np.object_]:
    """The pieces of the slab between joints, their outlines turning left."""
    edges = {_key(start, end): (start, end) for start, end in reversed(rim_edges)}
    for _, _, start, end in cuts.edges:
        edges.setdefault(_key(start, end), (start, end))
    lines = [(cuts.xy[start], cuts.xy[end]) for _, (start, end) in sorted(edges.items())]
    shapes = shapely.get_parts(shapely.polygonize(shapely.linestrings(lines)))
    inner = shapely.get_coordinates(shapely.point_on_surface(shapes))
    return np.asarray(shapely.orient_polygons(shapes[shapely.contains_xy(slab, inner)]))


def _shared(rings: Sequence[RingOf], count: int, cuts: Cuts) -> tuple[list[tuple[int, ...]], list[tuple[int, ...]]]:
    """Panels that share a side with each panel, and joints along its sides."""
    beside: dict[tuple[XY, XY], list[int]] = {}
    for panel, xy in rings:
        for a, b in pairwise(xy):
            beside.setdefault((a, b) if a < b else (b, a), []).append(panel)
    neighbors: list[set[int]] = [set() for _ in range(count)]
    for panels in beside.values():
        if len(panels) > 1 and panels[0] != panels[1]:
            neighbors[panels[0]].add(panels[1])
            neighbors[panels[1]].add(panels[0])
    joints: list[set[int]] = [set() for _ in range(count)]
    for joint, _, start, end in cuts.edges:
        a, b = cuts.xy[start], cuts.xy[end]
        for panel in beside.get((a, b) if a < b else (b, a), ()):
            joints[panel].add(joint)
    return [tuple(sorted(one)) for one in neighbors], [tuple(sorted(one)) for one in joints]
