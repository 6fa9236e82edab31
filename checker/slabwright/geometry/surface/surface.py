"""A faceted height surface over a region: heights at spots, straight along height lines and edges, flat between."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats, Ints, Noded, node
from slabwright.geometry.surface.facets import Clash, Surface
from slabwright.geometry.surface.folds import folded_low
from slabwright.geometry.surface.triangulate import (
    Mesh,
    checked_region,
    mesh_of,
    neighbors_of,
    ring_segments,
)
from slabwright.geometry.xy import XY

BESIDE = 0.003
"""A spot this near (m) to an edge or a height line is meant to lie on it: points are typed to 0.01 ft."""

_SAME_HEIGHT = 1e-6  # heights closer than this agree, m
_TOUCHES = 0.005  # a solid this near to the rim stands against it, m
_FOLD = 1e-4  # a bend of the ground under an opening's rim smaller than this is left out, m


def build_surface(region: shapely.Polygon, spots: Floats, chains: Sequence[Floats]) -> Surface:
    """The surface over ``region`` through ``spots`` (k, 3) and straight along ``chains``, each (j, 3); all m.

    Every corner of the outline needs a height, from a spot or from a chain; between two of them the edge runs
    straight unless a spot or a chain meets it there. The rim of an opening takes the height that the ground has
    there without the opening, unless a spot or chain on it says otherwise. Four points on one circle that no chain
    joins fold along the lower of their diagonals, however the plan is turned. Raises GeometryError when a corner of the
    outline has no height.
    """
    checked_region(region)
    spots = np.asarray(spots, dtype=np.float64).reshape(-1, 3)
    lines = [np.asarray(chain, dtype=np.float64).reshape(-1, 3) for chain in chains]
    whole = shapely.Polygon(region.exterior)
    spots = _on_lines(spots, np.concatenate([ring_segments(region), *(_pairs(line)[..., :2] for line in lines)]))
    spots = spots[np.asarray(shapely.dwithin(region, shapely.points(spots[:, :2]), 1e-9), dtype=bool)]
    ground = _through(whole, spots, lines, None)
    if not region.interiors:
        return ground
    bends = [_rim_bends(ground, np.asarray(ring.coords)[:, :2]) for ring in region.interiors]
    return _through(region, np.concatenate([spots, *bends]), lines, ground)


def scattered(points: Floats, region: shapely.Polygon, lines: Floats | None = None) -> Surface:
    """The surface through shots (k, 3) over the part of ``region`` inside the hull of the shots; m.

    Facets are those of the Delaunay triangulation of the shots, cut at the region; squares of a grid fold along the
    lower diagonal. Along ``lines`` (s, 2, 2), each from shot to shot, the ground runs straight. Repeated shots count
    once (the first). Raises GeometryError when fewer than three shots, or shots in one line, span no area, or when
    they span nothing of the region.
    """
    points = np.asarray(points, dtype=np.float64).reshape(-1, 3)
    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))
    if not isinstance(hull, shapely.Polygon) or not hull.area > 0:
        raise GeometryError("shots in one line span no surface")
    sides, lines = ring_segments(hull), np.empty((0, 2, 2)) if lines is None else lines
    noded = node(points[:, :2], np.concatenate([sides, lines]))
    mesh, origin = mesh_of(hull, noded, len(sides))
    shot = np.full(len(noded.xy), np.nan)
    shot[noded.point_vertices[::-1]] = points[::-1, 2]
    along = [on.tolist() for on in noded.along[len(sides) :]]
    ends = np.array([[shot[on[0]], shot[on[-1]]] for on in along]).reshape(-1, 2, 1)
    return within(_known(mesh, origin, noded, along, points, np.concatenate([lines, ends], axis=2), None), region)


def _pairs(chain: Floats) -> Floats:
    """Segments of a chain, (j - 1, 2, ...)."""
    return np.stack([chain[:-1], chain[1:]], axis=1)


def _on_lines(spots: Floats, segments: Floats) -> Floats:
    """Spots with those ``BESIDE`` a segment moved onto it."""
    if not len(spots):
        return spots
    lines = shapely.linestrings(segments)
    marks = shapely.points(spots[:, :2])
    (spot, segment), distance = shapely.STRtree(lines).query_nearest(
        marks, max_distance=BESIDE, return_distance=True, all_matches=False
    )
    off = (distance > 1e-9) & (distance < BESIDE)
    spot, segment = spot[off], segment[off]
    start, end = segments[segment, 0], segments[segment, 1]
    run = end - start
    t = np.sum((spots[spot, :2] - start) * run, axis=1) / np.maximum(np.sum(run * run, axis=1), 1e-300)
    moved = spots.copy()
    # at an end it is that end to the last bit, which start + 1 (end - start) need not be
    moved[spot, :2] = np.where((t < 1)[:, None], start + np.clip(t, 0, 1)[:, None] * run, end)
    return moved


def _through(region: shapely.Polygon, spots: Floats, chains: Sequence[Floats], ground: Surface | None) -> Surface:
    """The surface over ``region``; rims of openings with no height of their own take it from ``ground``."""
    sides = ring_segments(region)
    runs = np.concatenate([np.empty((0, 2, 3)), *(_pairs(chain) for chain in chains)])
    noded = node(spots[:, :2], np.concatenate([sides, runs[..., :2]]))
    mesh, origin = mesh_of(region, noded, len(sides))
    along = [on.tolist() for on in noded.along[len(sides) :]]
    return _known(mesh, origin, noded, along, spots, runs, ground)


def _known(
    mesh: Mesh,
    origin: Ints,
    noded: Noded,
    along: Sequence[Sequence[int]],
    spots: Floats,
    runs: Floats,
    ground: Surface | None,
) -> Surface:
    """The surface with the height of every vertex: given, on a line, of the ground, or between the ends of a cut."""
    typed, clashes = _line_heights(noded.xy.tolist(), noded.point_vertices.tolist(), along, spots, runs)
    z = np.where(origin >= 0, np.array(typed)[origin], np.nan)
    if ground is not None:
        bare = np.nonzero((origin >= 0) & np.isnan(z))[0]
        z[bare] = ground.height(mesh.xy[bare])
    _all_known(mesh, np.where(origin >= 0, z, 0.0))
    put_in = np.nonzero(origin < 0)[0]
    ends, t = z[mesh.parents[put_in]], mesh.fractions[put_in]
    z[put_in] = ends[:, 0] + t * (ends[:, 1] - ends[:, 0])
    return Surface(folded_low(mesh, z), z, clashes)


def _all_known(mesh: Mesh, z: Floats) -> None:
    if np.isnan(z).any():
        x, y = mesh.xy[np.nonzero(np.isnan(z))[0][0]]
        raise GeometryError(f"no height is known for the corner at ({x:.3f}, {y:.3f}) m")


def _line_heights(
    xy: Sequence[Sequence[float]],
    point_vertices: Sequence[int],
    along: Sequence[Sequence[int]],
    spots: Floats,
    runs: Floats,
) -> tuple[list[float], tuple[Clash, ...]]:
    """Heights of all noded points (nan where none is given), and where two were given.

    Spots (k, 3) come first, then the ends of the segments ``runs`` (r, 2, 3) of chains, whose vertices are ``along``;
    every chain runs straight between those.
    """
    typed = [math.nan] * len(xy)
    clashes: list[Clash] = []

    def clash(vertex: int, first: float, second: float) -> None:
        found = Clash((xy[vertex][0], xy[vertex][1]), (first, second))
        if abs(first - second) > _SAME_HEIGHT and found not in clashes:
            clashes.append(found)

    def give(vertex: int, height: float) -> None:
        if math.isnan(typed[vertex]):
            typed[vertex] = height
        else:
            clash(vertex, typed[vertex], height)

    for vertex, height in zip(point_vertices, spots[:, 2].tolist(), strict=True):
        give(vertex, height)
    chains = [(on, ends) for on, ends in zip(along, runs[..., 2].tolist(), strict=True) if len(on) > 1]
    for on, ends in chains:
        give(on[0], ends[0])
        give(on[-1], ends[1])
    between: dict[int, float] = {}
    for on, _ in chains:
        known = [vertex for vertex in on if not math.isnan(typed[vertex])]
        if len(known) == len(on):
            continue
        start = xy[on[0]]
        marks, heights = [math.dist(start, xy[vertex]) for vertex in known], [typed[vertex] for vertex in known]
        for vertex in on:
            if math.isnan(typed[vertex]):
                height = float(np.interp(math.dist(start, xy[vertex]), marks, heights))
                if vertex in between:
                    clash(vertex, between[vertex], height)
                    height = (between[vertex] + height) / 2
                between[vertex] = height
    for vertex, height in between.items():
        typed[vertex] = height
    return typed, tuple(clashes)


def _rim_bends(ground: Surface, ring: Floats) -> Floats:
    """Places (b, 3) on an opening's closed ring where the ground folds under it."""
    bends = []
    for p, q in zip(ring[:-1].tolist(), ring[1:].tolist(), strict=True):
        distance, height = ground.profile((p[0], p[1]), (q[0], q[1]))
        length = distance[-1]
        straight = height[0] + (height[-1] - height[0]) * distance / length
        bent = (np.abs(height - straight) > _FOLD) & (distance > 0.01) & (distance < length - 0.01)
        there = np.asarray(p) + (distance[bent] / length)[:, None] * (np.asarray(q) - np.asarray(p))
        bends.append(np.column_stack([there, height[bent]]))
    return np.concatenate(bends)


def within(surface: Surface, region: shapely.Polygon) -> Surface:
    """The same facets, only where they lie in ``region``. Raises GeometryError when none do."""
    shapely.prepare(region)
    whole = np.asarray(shapely.contains(region, surface.facets), dtype=bool)
    part = np.nonzero(~whole & np.asarray(shapely.intersects(region, surface.facets), dtype=bool))[0]
    cuts = shapely.intersection(surface.facets[part], region)
    share = np.asarray(shapely.area(cuts)) / np.maximum(surface.areas[part], 1e-300)
    whole[part[share > 1 - 1e-12]] = True
    cut = (share <= 1 - 1e-12) & (share > 1e-12)
    pieces, owner = shapely.get_parts(shapely.constrained_delaunay_triangles(cuts[cut]), return_index=True)
    parent = part[cut][owner]
    flat = np.asarray(shapely.area(pieces)) > 0
    pieces, parent = pieces[flat], parent[flat]
    corners = np.asarray(shapely.get_coordinates(pieces), dtype=np.float64).reshape(-1, 4, 2)[:, :3]
    turning = np.asarray(shapely.is_ccw(shapely.get_exterior_ring(pieces)), dtype=bool)
    corners = np.where(turning[:, None, None], corners, corners[:, ::-1])
    base = surface.z[surface.mesh.triangles[parent, 0]]
    off = corners - surface.corners[parent, 0][:, None]
    heights = base[:, None] + np.sum(off * surface.gradients[parent][:, None], axis=2)
    kept = surface.mesh.triangles[whole]
    every = np.concatenate([surface.mesh.xy[kept].reshape(-1, 2), corners.reshape(-1, 2)])
    if not len(every):
        raise GeometryError("the shots span nothing of the slab")
    order = np.lexsort((every[:, 1], every[:, 0]))
    fresh = np.ones(len(every), dtype=bool)
    fresh[1:] = (every[order[1:]] != every[order[:-1]]).any(axis=1)
    first = order[fresh]
    number = np.empty(len(every), dtype=np.int64)
    number[order] = np.cumsum(fresh) - 1
    xy = every[first]
    z = np.concatenate([surface.z[kept].reshape(-1), heights.reshape(-1)])[first]
    triangles = number.reshape(-1, 3)
    mesh = Mesh(
        xy=xy,
        triangles=triangles,
        neighbors=neighbors_of(triangles, len(xy)),
        parents=np.full((len(xy), 2), -1, dtype=np.int64),
        fractions=np.zeros(len(xy)),
        held=np.empty((0, 2), dtype=np.int64),
    )
    return Surface(mesh, z)


def without(surface: Surface, region: shapely.Polygon, solids: Sequence[shapely.Polygon]) -> Surface:
    """The same facets, cut along the sides of ``solids`` and without what lies in them; ``surface`` covers ``region``.

    Where a solid only touches the rim the surface has vertices at its corners there.
    """
    sides = np.concatenate([surface.mesh.rim, surface.inner_sides])
    chains = list(np.concatenate([surface.mesh.xy[sides], surface.z[sides][..., None]], axis=2))
    touched: list[Floats] = []
    for solid in solids:
        bodies = [part for part in shapely.get_parts(shapely.intersection(solid, region)) if part.area > _TOUCHES**2]
        for body in bodies:
            corners = [(float(x), float(y)) for x, y in body.exterior.coords]
            chains += [_laid_on(surface, p, q) for p, q in pairwise(corners)]
        if not bodies:  # it stands beside the region
            ends = shapely.points(shapely.get_coordinates(solid.exterior)[:-1])
            near = ends[shapely.dwithin(region.boundary, ends, _TOUCHES)]
            touched.append(shapely.get_coordinates(shapely.shortest_line(region.boundary, near))[::2])
    spots = np.concatenate([np.empty((0, 2)), *touched])
    heights = surface.height(spots)
    known = ~np.isnan(heights)
    whole = _through(region, np.column_stack([spots, heights])[known], chains, None)
    middles = whole.corners.mean(axis=1)
    kept = whole.mesh.triangles[~shapely.contains_xy(shapely.union_all(solids), middles)]
    if not len(kept):
        return surface
    used = np.zeros(len(whole.z), dtype=bool)
    used[kept] = True
    number = np.where(used, np.cumsum(used) - 1, -1)
    triangles, held = number[kept], number[whole.mesh.held]
    mesh = Mesh(
        xy=whole.mesh.xy[used],
        triangles=triangles,
        neighbors=neighbors_of(triangles, int(used.sum())),
        parents=np.full((int(used.sum()), 2), -1, dtype=np.int64),
        fractions=np.zeros(int(used.sum())),
        held=held[(held >= 0).all(axis=1)],
    )
    return Surface(mesh, whole.z[used], surface.clashes)


def _laid_on(surface: Surface, p: XY, q: XY) -> Floats:
    """A line on a surface, (k, 3), bent where the surface under it folds."""
    along, heights = surface.profile(p, q)
    known = ~np.isnan(heights)
    ends = np.array([p, q])
    xy = ends[0] + along[:, None] / along[-1] * (ends[1] - ends[0])
    return np.column_stack([xy, np.interp(along, along[known], heights[known])])
