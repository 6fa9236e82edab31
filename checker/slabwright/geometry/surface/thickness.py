"""Depth between two faceted surfaces, and the concrete that thickened edges add."""

from collections.abc import Sequence
from itertools import pairwise
from math import sqrt
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.shape.noding import Floats, Ints
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY, as_xy


class Thickening(NamedTuple):
    """Line (j, 2), extra depth at the edge, width over which it is full, and width over which it tapers out; m.

    ``within`` is the part of the slab that it thickens: what lies near enough, and is not across open air.
    """

    line: Floats
    extra: float
    width: float
    taper: float
    within: shapely.Geometry


def thickening(slab: shapely.Polygon, line: Floats, extra: float, width: float, taper: float) -> Thickening:
    """A thickened edge of a slab.

    It reaches square out from every straight part of its line, and round the ends of each, as far as concrete goes on
    from there: another leg of the slab beyond a gap is not reached.
    """
    reach = width + taper
    if not reach > 0:
        return Thickening(line, extra, width, taper, shapely.Polygon())
    parts = shapely.linestrings(np.stack([line[:-1], line[1:]], axis=1))
    from_parts = shapely.buffer(parts, reach, cap_style="flat")
    from_points = shapely.buffer(shapely.points(line), reach, quad_segs=_ARC)
    starts = np.concatenate([parts, shapely.points(line)])
    near, owner = shapely.get_parts(
        shapely.intersection(np.concatenate([from_parts, from_points]), slab), return_index=True
    )
    joined = shapely.dwithin(near, starts[owner], _JOINS)
    return Thickening(line, extra, width, taper, shapely.union_all(near[joined]))


_CHUNK = 20_000  # pairs of triangles cut at one time, for the sake of memory
_FLAT = 1e-12  # pieces smaller than this take no part in least and most, m2
_JOINS = 1e-6  # m: concrete this near to an edge goes on from it
_ARC = 64  # chords per quarter circle round the ends of a run
_GAUSS_PARTS = 3
_GAUSS = tuple(  # places on (-1, 1) and weights of the rule with four places, in closed form
    (sign * sqrt(3 / 7 + inner * 2 / 7 * sqrt(6 / 5)), (18 - inner * sqrt(30)) / 36)
    for sign in (-1, 1)
    for inner in (1, -1)
)


class Between(NamedTuple):
    """Top minus bottom where both are: least and most (m) and where, mean (m), volume (m3), plan area (m2).

    Volume and mean count nothing where the bottom lies above the top: there is no less than no concrete.

    ``zone_volumes`` and ``zone_areas`` (zones,) are the parts in every zone, ``zone_least`` and ``zone_most`` the
    depths there. Nan where the two share no area.
    """

    least: float
    least_at: XY
    most: float
    most_at: XY
    mean: float
    volume: float
    covered_area: float
    zone_volumes: Floats
    zone_areas: Floats
    zone_least: Floats
    zone_most: Floats


def between(top: Surface, bottom: Surface, zones: Sequence[shapely.Polygon]) -> Between:
    """Depth from ``top`` down to ``bottom``, exact: over every piece that is flat in both surfaces and in one zone."""
    volume = area = 0.0
    least, most = np.inf, -np.inf
    least_at = most_at = (float("nan"), float("nan"))
    zone_volumes, zone_areas = np.zeros(len(zones)), np.zeros(len(zones))
    zone_least, zone_most = np.full(len(zones), np.inf), np.full(len(zones), -np.inf)
    zone_corners, zone_of = _triangles_of(zones)
    zone_tree = shapely.STRtree(_boxes(zone_corners))
    upper, lower = shapely.STRtree(_boxes(bottom.corners)).query(_boxes(top.corners))
    for start in range(0, len(upper), _CHUNK):
        a, b = upper[start : start + _CHUNK], lower[start : start + _CHUNK]
        piece, count, rows = _clipped(top.corners[a], np.full(len(a), 3), bottom.corners[b])
        a, b = a[rows], b[rows]
        depth = _height_on(top, a, piece) - _height_on(bottom, b, piece)
        part, size = _integrals(piece, count, depth)
        volume, area = volume + float(part.sum()), area + float(size.sum())
        there = (np.arange(piece.shape[1]) < count[:, None]) & (size > _FLAT)[:, None]
        if there.any():
            row, corner = np.unravel_index(np.argmin(np.where(there, depth, np.inf)), depth.shape)
            if depth[row, corner] < least:
                least, least_at = float(depth[row, corner]), as_xy(piece[row, corner])
            row, corner = np.unravel_index(np.argmax(np.where(there, depth, -np.inf)), depth.shape)
            if depth[row, corner] > most:
                most, most_at = float(depth[row, corner]), as_xy(piece[row, corner])
        if len(zones):
            own = np.nonzero(size > 0)[0]
            first, second = zone_tree.query(_boxes(piece[own], count[own]))
            for at in range(0, len(first), _CHUNK):
                rows, triangle = own[first[at : at + _CHUNK]], second[at : at + _CHUNK]
                cut, corners, left = _clipped(piece[rows], count[rows], zone_corners[triangle])
                rows, triangle = rows[left], triangle[left]
                below = _height_on(top, a[rows], cut) - _height_on(bottom, b[rows], cut)
                part, size_in = _integrals(cut, corners, below)
                zone_volumes += np.bincount(zone_of[triangle], part, len(zones))
                zone_areas += np.bincount(zone_of[triangle], size_in, len(zones))
                there = (np.arange(cut.shape[1]) < corners[:, None]) & (size_in > _FLAT)[:, None]
                np.minimum.at(zone_least, zone_of[triangle], np.where(there, below, np.inf).min(axis=1))
                np.maximum.at(zone_most, zone_of[triangle], np.where(there, below, -np.inf).max(axis=1))
    if not area > 0:
        least = most = float("nan")
    mean = volume / area if area > 0 else float("nan")
    zone_least[np.isinf(zone_least)], zone_most[np.isinf(zone_most)] = np.nan, np.nan
    return Between(least, least_at, most, most_at, mean, volume, area, zone_volumes, zone_areas, zone_least, zone_most)


def _triangles_of(zones: Sequence[shapely.Polygon]) -> tuple[Floats, Ints]:
    """Triangles (t, 3, 2), counterclockwise, that make up the zones, and the zone of each."""
    if not len(zones):
        return np.empty((0, 3, 2)), np.empty(0, dtype=np.int64)
    cut = shapely.constrained_delaunay_triangles(np.asarray(zones, dtype=object))
    triangles, owner = shapely.get_parts(cut, return_index=True)
    corners = np.asarray(shapely.get_coordinates(triangles), dtype=np.float64).reshape(-1, 4, 2)[:, :3]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    turning = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    corners = np.where((turning < 0)[:, None, None], corners[:, ::-1], corners)
    return corners, np.asarray(owner, dtype=np.int64)


def _boxes(pieces: Floats, count: Ints | None = None) -> NDArray[np.object_]:
    """Bounding boxes of pieces (p, c, 2), of which the first ``count`` corners count."""
    if count is None:
        low, high = pieces.min(axis=1), pieces.max(axis=1)
    else:
        there = (np.arange(pieces.shape[1]) < count[:, None])[..., None]
        low = np.where(there, pieces, np.inf).min(axis=1)
        high = np.where(there, pieces, -np.inf).max(axis=1)
    return np.asarray(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]), dtype=object)


def _clipped(pieces: Floats, count: Ints, by: Floats) -> tuple[Floats, Ints, Ints]:
    """Convex pieces (p, c, 2) with ``count`` corners, cut to triangles ``by`` (p, 3, 2).

    What is left: pieces (q, d, 2), their counts, and which of those given each was (q,).
    """
    rows = np.arange(len(pieces))
    for k in range(3):
        start, run = by[rows, k], by[rows, (k + 1) % 3] - by[rows, k]
        off = pieces - start[:, None]
        left = run[:, None, 0] * off[..., 1] - run[:, None, 1] * off[..., 0]
        there = np.arange(pieces.shape[1]) < count[:, None]
        some = ((left > 0) & there).any(axis=1)
        mixed = some & ((left < 0) & there).any(axis=1)
        if mixed.any():
            cut, corners = _half(pieces[mixed], count[mixed], left[mixed])
            wider = max(pieces.shape[1], cut.shape[1])
            pieces = np.pad(pieces, ((0, 0), (0, wider - pieces.shape[1]), (0, 0)))
            pieces[mixed, : cut.shape[1]] = cut
            count = count.copy()
            count[mixed] = corners
        pieces, count, rows = pieces[some], count[some], rows[some]
    return pieces, count, rows


def _half(pieces: Floats, count: Ints, left: Floats) -> tuple[Floats, Ints]:
    """The part of every convex piece where ``left`` (p, c), which changes evenly, is not below zero.

    All pieces at once, each by the method of Sutherland and Hodgman.
    """
    place = np.arange(pieces.shape[1])
    there = place < count[:, None]
    following = np.where(place + 1 < count[:, None], place + 1, 0)
    next_left = np.take_along_axis(left, following, axis=1)
    kept = there & (left >= 0)
    crossing = there & ((left >= 0) != (next_left >= 0))
    # every corner kept, and after it the place where the side that follows crosses, in the order of the piece
    slots = np.cumsum(kept.astype(np.int64) + crossing, axis=1)
    result = np.zeros((len(pieces), int(slots[:, -1].max()), pieces.shape[2]))
    row, corner = np.nonzero(kept)
    result[row, (slots - crossing)[row, corner] - 1] = pieces[row, corner]
    row, corner = np.nonzero(crossing)
    here, there_left = left[row, corner], next_left[row, corner]
    first, second = pieces[row, corner], pieces[row, following[row, corner]]
    result[row, slots[row, corner] - 1] = first + (here / (here - there_left))[:, None] * (second - first)
    return result, slots[:, -1]


def _height_on(surface: Surface, facet: Ints, places: Floats) -> Floats:
    """Height of the plane of every facet (p,) at its own places (p, c, 2), (p, c)."""
    off = places - surface.corners[facet, 0][:, None]
    gradient = surface.gradients[facet]
    base = surface.z[surface.mesh.triangles[facet, 0]]
    return np.asarray(base[:, None] + off[..., 0] * gradient[:, None, 0] + off[..., 1] * gradient[:, None, 1])


def _integrals(pieces: Floats, count: Ints, depth: Floats) -> tuple[Floats, Floats]:
    """Volume and area (p,) of convex pieces (p, c, 2) on which the depth (p, c) changes evenly; none below nothing."""
    volume, area = np.zeros(len(pieces)), np.zeros(len(pieces))
    there = np.arange(pieces.shape[1]) < count[:, None]
    (under,) = np.nonzero(((depth < 0) & there).any(axis=1))
    if len(under):
        # depth as a third coordinate, so that the cut carries it along
        solid = np.concatenate([pieces, depth[..., None]], axis=2)[under]
        part, corners = _half(solid, count[under], depth[under])
        volume, area = _integrals(pieces, count, np.maximum(depth, 0.0))
        volume[under] = _integrals(part[..., :2], corners, np.maximum(part[..., 2], 0.0))[0]
        return volume, area
    for k in range(1, pieces.shape[1] - 1):
        a, b = pieces[:, k] - pieces[:, 0], pieces[:, k + 1] - pieces[:, 0]
        size = np.where(k + 1 < count, (a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / 2, 0.0)
        area += size
        volume += size * (depth[:, 0] + depth[:, k] + depth[:, k + 1]) / 3
    return volume, area


def edge_extra(
    slab: shapely.Polygon, runs: Sequence[Thickening], zones: Sequence[shapely.Polygon]
) -> tuple[float, Floats]:
    """Concrete (m3) that thickened edges add below the slab's own thickness, whole and per zone (zones,).

    The extra depth is full up to the width from the run and tapers evenly to nothing. Where runs overlap, the greater
    depth counts, once. Distance is measured round the ends of a run too. The volume is the integral over depth of
    the area that is at least so deep, by Gauss quadrature: exact for straight runs along straight sides, within
    about 0.1 % where areas of several runs meet or pass corners.
    """
    live = [run for run in runs if run.extra > 0 and run.width + run.taper > 0]
    zone_volumes = np.zeros(len(zones))
    whole = 0.0
    shapes = np.asarray(zones, dtype=object)
    steps = sorted({0.0, *(run.extra for run in live)})
    for low, high in pairwise(steps):
        for part in range(_GAUSS_PARTS):
            for place, weight in _GAUSS:
                depth = low + (high - low) * (part + (place + 1) / 2) / _GAUSS_PARTS
                share = (high - low) * weight / (2 * _GAUSS_PARTS)
                deep = shapely.intersection(_at_least(live, depth), slab)
                whole += share * float(deep.area)
                if len(zones):
                    shapely.prepare(deep)
                    touched = np.nonzero(shapely.intersects(deep, shapes))[0]
                    zone_volumes[touched] += share * shapely.area(shapely.intersection(shapes[touched], deep))
    return whole, zone_volumes


def _at_least(runs: Sequence[Thickening], depth: float) -> shapely.Geometry:
    """Where the extra depth of any run is at least so much."""
    live = [run for run in runs if run.extra >= depth]
    near = [
        shapely.buffer(shapely.LineString(run.line), run.width + run.taper * (1 - depth / run.extra), quad_segs=_ARC)
        for run in live
    ]
    return shapely.union_all(shapely.intersection(near, [run.within for run in live]))


def extra_at(xy: XY, runs: Sequence[Thickening]) -> float:
    """Extra depth (m) of thickened edges at a place, the greatest of all runs.

    >>> import numpy as np
    >>> edge = thickening(shapely.box(0, 0, 10, 4), np.array([[0.0, 0.0], [10.0, 0.0]]), 0.08, 0.30, 0.90)
    >>> extra_at((5.0, 0.2), [edge]), round(extra_at((5.0, 0.75), [edge]), 6), extra_at((5.0, 1.3), [edge])
    (0.08, 0.04, 0.0)
    """
    return deepest_along(shapely.Point(xy), runs)[0] if runs else 0.0


def deepest_along(thing: shapely.Point | shapely.LineString, runs: Sequence[Thickening]) -> tuple[float, XY | None]:
    """The greatest extra depth (m) that thickened edges have at a point or along a line, and where; 0 and None else."""
    deepest, at = 0.0, None
    for run in runs:
        own = thing if shapely.dwithin(run.within, thing, _JOINS) else None
        if own is not None and isinstance(thing, shapely.LineString):
            own = shapely.intersection(thing, shapely.buffer(run.within, _JOINS))
        if own is None or own.is_empty:
            continue
        edge = shapely.LineString(run.line)
        beyond = float(shapely.distance(own, edge)) - run.width
        extra = run.extra * (1.0 if beyond <= 0 else max(0.0, 1 - beyond / run.taper) if run.taper > 0 else 0.0)
        if extra > deepest:
            deepest, at = extra, as_xy(shapely.get_coordinates(shapely.shortest_line(own, edge))[0])
    return deepest, at
