"""Panels: a slab cut by its joints, the panels measured, and every joint end told by what it meets.

Coordinates and lengths are metres, areas m2, angles degrees.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.joint_ends import bring_ends, segments
from slabwright.geometry.measure import corner_angles, reading_order, smallest_rectangles
from slabwright.geometry.noding import WELD, Floats, Ints, Nodes, node

XY = tuple[float, float]
Meets = Literal["edge", "opening", "crossing", "joint end", "joint side", "nothing"]

ON_LINE = np.cos(np.radians(15.0))  # a joint goes on straight when it turns less than this


@dataclass(frozen=True, slots=True)
class JointEndShape:
    """Where a joint stops: ``other`` is the index of the typed joint it meets (-1: none).

    ``gap`` is how far this end lies from where it was typed; 0 where a joint is cut in two by an opening.
    """

    at: XY
    meets: Meets
    other: int
    gap: float


@dataclass(frozen=True, slots=True, eq=False)
class JointShape:
    """One unbroken part of a typed joint inside the slab; a joint cut by an opening gives several, in typed order."""

    joint: int  # index of the typed joint
    xy: Floats  # (k, 2), in typed order, bends kept
    length: float
    ends: tuple[JointEndShape, JointEndShape]


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


@dataclass(frozen=True, slots=True, eq=False)
class _Cuts:
    """Joint edges inside the slab, in order along each joint, and the ring each node lies on (-1: none)."""

    xy: Floats
    joint: Ints  # (e,)
    segment: Ints  # (e,) segment of the joint lines
    start: Ints  # (e,)
    end: Ints  # (e,)
    ring: Ints  # (n,) 0 the outline, 1.. openings


def cut(slab: shapely.Polygon, joints: Sequence[Floats], snap: float = 0.0508) -> PanelLayout:
    """Cut a slab by joints (each (k, 2)); ends within ``snap`` of an edge, opening or joint are brought to it.

    Parts of joints outside the slab, in openings or along its edges are dropped.
    """
    if slab.geom_type != "Polygon" or slab.is_empty or not slab.is_valid:
        raise GeometryError("a slab to cut must be one valid polygon")
    typed = [np.asarray(joint, dtype=np.float64) for joint in joints]
    if any(line.ndim != 2 or line.shape[1] != 2 or len(line) < 2 or not np.isfinite(line).all() for line in typed):
        raise GeometryError("a joint needs at least two finite points")
    slab = shapely.force_2d(slab)
    shapely.prepare(slab)
    clean = [line[np.append(True, (np.diff(line, axis=0) != 0).any(axis=1))] for line in typed]
    cuts, rim_edges = _noded(slab, bring_ends(slab, clean, snap))
    panels = _panels(slab, cuts, rim_edges)
    pieces = _pieces(cuts, typed, snap)
    used = {piece.joint for piece in pieces}
    unused = tuple(index for index in range(len(typed)) if index not in used)
    return PanelLayout(panels, pieces, unused, _overlaps(cuts))


def _noded(slab: shapely.Polygon, lines: list[Floats]) -> tuple[_Cuts, Ints]:
    """Joint edges inside the slab, and the edges (r, 2) of its rings."""
    rings = [shapely.get_coordinates(ring) for ring in (slab.exterior, *slab.interiors)]
    rim_start, rim_end, rim_ring = segments([ring[_moves(ring)] for ring in rings])
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
    inside[along] &= ~np.isin(_keys(first, second, nodes)[along], _keys(rim_edges[:, 0], rim_edges[:, 1], nodes))
    segment = nodes.segment[~on_rim][inside] - count
    return _Cuts(nodes.xy, owner[segment], segment, first[inside], second[inside], ring), rim_edges


def _moves(line: Floats) -> NDArray[np.bool_]:
    """Points of a line that differ from the one before."""
    return np.append(True, (np.diff(line, axis=0) != 0).any(axis=1))


def _keys(first: Ints, second: Ints, nodes: Nodes | _Cuts) -> Ints:
    """One number for each undirected edge."""
    return np.asarray(np.minimum(first, second) * len(nodes.xy) + np.maximum(first, second))


def _panels(slab: shapely.Polygon, cuts: _Cuts, rim_edges: Ints) -> tuple[PanelShape, ...]:
    edges = np.concatenate([rim_edges, np.column_stack([cuts.start, cuts.end])])
    edges = edges[np.unique(_keys(edges[:, 0], edges[:, 1], cuts), return_index=True)[1]]
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


def _shared(shapes: NDArray[np.object_], cuts: _Cuts) -> tuple[list[tuple[int, ...]], list[tuple[int, ...]]]:
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
    key = np.minimum(first, second) * size + np.maximum(first, second)
    panel = ring_panel[vertex_ring[:-1][side]]
    order = np.argsort(key, kind="stable")
    twin = np.flatnonzero((key[order][1:] == key[order][:-1]) & (panel[order][1:] != panel[order][:-1]))
    one, two = panel[order[twin]], panel[order[twin + 1]]
    neighbours = _grouped(np.concatenate([one, two]), np.concatenate([two, one]), len(shapes))
    joint_key = joint_nodes.min(axis=0) * size + joint_nodes.max(axis=0)
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
    pairs = np.unique(row * (int(value.max()) + 1) + value)
    row, value = np.divmod(pairs, int(value.max()) + 1)
    values, ends = value.tolist(), np.searchsorted(row, np.arange(count + 1)).tolist()
    return [tuple(values[first:last]) for first, last in zip(ends[:-1], ends[1:], strict=True)]


def _pieces(cuts: _Cuts, typed: list[Floats], snap: float) -> tuple[JointShape, ...]:
    """Unbroken chains of joint edges, with their ends told."""
    if not len(cuts.joint):
        return ()
    breaks = (cuts.joint[1:] != cuts.joint[:-1]) | (cuts.start[1:] != cuts.end[:-1])
    firsts = np.flatnonzero(np.append(True, breaks))
    lasts = np.append(firsts[1:], len(cuts.joint)) - 1
    joint = cuts.joint[firsts]
    opens = np.append(True, joint[1:] != joint[:-1])
    closes = np.append(opens[1:], True)
    tell = _Ends(cuts, firsts, lasts, snap)
    pieces = []
    for row, (first, last) in enumerate(zip(firsts.tolist(), lasts.tolist(), strict=True)):
        bends = cuts.segment[first : last + 1]
        keep = np.append(True, bends[1:] != bends[:-1])
        xy = np.concatenate([cuts.xy[cuts.start[first : last + 1][keep]], cuts.xy[cuts.end[last]][None, :]])
        line = typed[joint[row]]
        gaps = (
            float(np.hypot(*(xy[0] - line[0]))) if opens[row] else 0.0,
            float(np.hypot(*(xy[-1] - line[-1]))) if closes[row] else 0.0,
        )
        begin, finish = (
            JointEndShape((float(at[0]), float(at[1])), *tell(2 * row + side), gap if gap > WELD else 0.0)
            for side, at, gap in ((0, xy[0], gaps[0]), (1, xy[-1], gaps[1]))
        )
        length = float(np.hypot(*np.diff(xy, axis=0).T).sum())
        pieces.append(JointShape(int(joint[row]), xy, length, (begin, finish)))
    return tuple(pieces)


class _Ends:
    """Tells what each end of the pieces meets; end 2 i and 2 i + 1 are the first and last of piece i."""

    def __init__(self, cuts: _Cuts, firsts: Ints, lasts: Ints, snap: float) -> None:
        self.cuts = cuts
        self.edge = np.column_stack([firsts, lasts]).ravel()
        self.node = np.column_stack([cuts.start[firsts], cuts.end[lasts]]).ravel()
        back = np.column_stack([cuts.end[firsts], cuts.start[lasts]]).ravel()
        ahead = cuts.xy[self.node] - cuts.xy[back]
        self.ahead = ahead / np.hypot(*ahead.T)[:, None]
        at, far = np.concatenate([cuts.start, cuts.end]), np.concatenate([cuts.end, cuts.start])
        order = np.argsort(at, kind="stable")
        self.at, self.far = at[order], far[order]
        self.owner, self.half = np.tile(cuts.joint, 2)[order], np.tile(np.arange(len(cuts.joint)), 2)[order]
        points = shapely.points(cuts.xy[self.node])
        one, two = shapely.STRtree(points).query(points, predicate="dwithin", distance=snap)
        opposite = (self.ahead[one] * self.ahead[two]).sum(axis=1) < -ON_LINE
        opposite &= self.node[one] != self.node[two]
        self.facing: dict[int, list[int]] = {}
        for a, b in zip(one[opposite].tolist(), two[opposite].tolist(), strict=True):
            self.facing.setdefault(a, []).append(b)

    def __call__(self, end: int) -> tuple[Meets, int]:
        here = int(self.node[end])
        if self.cuts.ring[here] >= 0:
            return ("edge" if self.cuts.ring[here] == 0 else "opening"), -1
        owners, dirs = self._around(end)
        if not len(owners):
            return "nothing", -1
        ahead = dirs @ self.ahead[end]
        onward = ahead > ON_LINE
        side = np.flatnonzero(np.abs(ahead) <= ON_LINE)
        sides = dirs[side] @ dirs[side].T < -ON_LINE
        through = owners[side[sides.any(axis=1)]]
        if not len(through):
            names, counts = np.unique(owners[side], return_counts=True)
            through = names[counts > 1]
        if not len(through):
            return "joint end", int(owners[onward].min() if onward.any() else owners.min())
        crossed = onward.any() or any(
            self._faces(end, other, set(through.tolist())) for other in self.facing.get(end, ())
        )
        return ("crossing" if crossed else "joint side"), int(through.min())

    def _around(self, end: int) -> tuple[Ints, Floats]:
        """Owners and directions of the joint edges at an end's node, its own edge and any lying on it left out."""
        here = int(self.node[end])
        low, high = np.searchsorted(self.at, [here, here + 1])
        half, far, owners = self.half[low:high], self.far[low:high], self.owner[low:high]
        own_far = far[half == self.edge[end]]
        keep = (half != self.edge[end]) & ~np.isin(far, own_far)
        dirs = self.cuts.xy[far[keep]] - self.cuts.xy[here]
        return owners[keep], dirs / np.hypot(*dirs.T)[:, None]

    def _faces(self, end: int, other: int, through: set[int]) -> bool:
        """Whether another end stops across the same joint, so that the two together cross it."""
        apart = self.cuts.xy[self.node[other]] - self.cuts.xy[self.node[end]]
        owners, _ = self._around(other)
        beyond = abs(float(apart @ self.ahead[end])) <= float(np.hypot(*apart)) * 0.9
        return beyond and bool(through & set(owners.tolist()))


def _overlaps(cuts: _Cuts) -> tuple[tuple[int, int, float], ...]:
    key = _keys(cuts.start, cuts.end, cuts)
    order = np.argsort(key, kind="stable")
    shared: dict[tuple[int, int], float] = {}
    for run in np.split(order, np.flatnonzero(np.diff(key[order])) + 1) if len(key) else ():
        if len(run) < 2:
            continue
        length = float(np.hypot(*(cuts.xy[cuts.end[run[0]]] - cuts.xy[cuts.start[run[0]]])))
        names = np.unique(cuts.joint[run]).tolist()
        for i, one in enumerate(names):
            for two in names[i + 1 :]:
                shared[one, two] = shared.get((one, two), 0.0) + length
    return tuple((one, two, length) for (one, two), length in sorted(shared.items()))
