"""Ways over the slab as people walk or wheel them: how they fall along and across, how wide and how steep."""

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.areas import Areas
from slabwright.plan.finish import Finish
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView

STRAIGHT_ON = 0.02  # m: a shorter stretch of a route between two folds is the width of a line
LEVEL = 1 / 48  # a landing slopes no more than this any way: `ada-2010`, 404.2.4.4
REST = 3.0  # m: the level before and after a ramp is looked for no farther off than this, well over any landing
CORNER = math.radians(35)  # a walk that turns by more turns a corner; by less it bends
COMES_ON = 0.9144  # m, 36 in: so near to its ends a way may come on over a corner of the slab
ACROSS_EVERY = 0.1  # m between the places where the width of a way is taken


class RouteStretch(NamedTuple):
    """A stretch of a way over the slab between two folds."""

    shape: tuple[XY, XY]
    running: float  # slope along the way
    cross: float  # slope square to it
    facets: tuple[int, ...]  # of the mesh of the finish surface


class Ramp(NamedTuple):
    """Stretches of a way, one after the other, that are steeper than a walk may be."""

    stretches: tuple[RouteStretch, ...]
    level: tuple[float, float]  # how far the slab is level before it and after it, along the way or straight on, m
    at_end: tuple[bool, bool]  # whether it begins where the way begins, and ends where that ends


class Routes(PlanView):
    """The slab as people cross it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"site"})
    _design: Design
    _shape: Shape
    _areas: Areas
    _finish: Finish

    def over(self, points: Sequence[Point]) -> tuple[RouteStretch, ...]:
        """The falls along and across a way over the slab, fold to fold; empty without a finish surface."""
        surface, found = self._finish.surface, []
        if surface is None:
            return ()
        for p, q in pairwise(points):
            line = shapely.intersection(self._shape.slab, shapely.LineString([(p.x, p.y), (q.x, q.y)]))
            for part in shapely.get_parts(line):
                if part.length > STRAIGHT_ON:
                    found += _stretches(surface, part)
        return tuple(found)

    def clear_width(self, points: Sequence[Point], obstacles: Sequence[tuple[XY, float]]) -> tuple[float, XY] | None:
        """The narrowest the slab is across a way, m, and where; of both sides of an obstacle the wider counts.

        ``obstacles`` are round: the middle and the radius of each, m. None where the way does not cross the slab.
        """
        slab = self._shape.slab
        standing = [shapely.Point(at).buffer(size) for at, size in obstacles]
        clear = shapely.difference(slab, shapely.union_all(standing)) if standing else slab
        middles = [at for at, _ in obstacles]
        legs = [((p.x, p.y), (q.x, q.y)) for p, q in pairwise(points) if (p.x, p.y) != (q.x, q.y)]
        found = [one for p, q in legs for one in _widths(slab, clear, p, q, middles)]
        return min(found, key=lambda one: round(one[0], 6)) if found else None

    def ramps(self, stretches: Sequence[RouteStretch], steepest: float) -> tuple[Ramp, ...]:
        """The runs of a way that are steeper than ``steepest``, each with how far it is level before and after."""
        found, first = [], 0
        while first < len(stretches):
            if stretches[first].running <= steepest * (1 + 1e-9):
                first += 1
                continue
            last = first
            while last + 1 < len(stretches) and stretches[last + 1].running > steepest * (1 + 1e-9):
                last += 1
            run = tuple(stretches[first : last + 1])
            before, after = stretches[:first][::-1], stretches[last + 1 :]
            foot, head = run[0].shape, run[-1].shape[::-1]
            level = (
                max(_level(foot[0], before), self._straight_on(foot)),
                max(_level(head[0], after), self._straight_on(head)),
            )
            found.append(Ramp(run, level, (not before, not after)))
            first = last + 1
        return tuple(found)

    def _straight_on(self, end: tuple[XY, XY]) -> float:
        """How far the slab is level straight on from the first of two places, coming from the other, m.

        A way may begin or turn on a landing, at a door in its side; the landing is as long as it is for all that.
        """
        surface, (start, behind) = self._finish.surface, np.array(end)
        if surface is None:
            return 0.0
        way = (start - behind) / np.hypot(*(start - behind))
        ray = shapely.LineString([start + way * STRAIGHT_ON / 2, start + way * REST])
        near = shapely.get_parts(shapely.intersection(self._shape.slab, ray))
        parts = [
            part for part in near if part.length > STRAIGHT_ON and part.distance(shapely.Point(*start)) < STRAIGHT_ON
        ]
        return _level(as_xy(start), _stretches(surface, parts[0])) if parts else 0.0

    @cached_property
    def along_sides(self) -> tuple[RouteStretch, ...]:
        """The falls along and across walks as people go: midway between their sides, along each long for its width.

        A side that bends is taken stretch by stretch. A drive that crosses a walk in the right of way belongs to it.
        Empty without a finish surface, and where no side is twice as long as the walk is wide.
        """
        rings = [self._shape.ring.polygon]
        if self._areas.several:
            walks = shapely.union_all([area.polygon for area in self._areas.used("walk")])
            walks = shapely.union_all([walks, *self._crossings(walks)])
            rings = [shapely.Polygon(part.exterior) for part in shapely.get_parts(walks)]
        return tuple(stretch for ring in rings for stretch in self._midway(ring))

    def _crossings(self, walks: shapely.Geometry) -> list[shapely.Geometry]:
        """Drives in the way of a public walk, which goes on as it is across them: they lie between two parts of it."""
        if not self._design.site.right_of_way:
            return []
        pieces, found = shapely.get_parts(walks), []
        for area in self._areas.all:
            beside = [one for one in pieces if area.carries_vehicles and one.distance(area.polygon) < ON_EDGE]
            between = shapely.convex_hull(shapely.union_all(beside)).buffer(ON_EDGE)
            if len(beside) > 1 and between.contains(area.polygon):
                found.append(area.polygon)
        return found

    def _midway(self, walk: shapely.Polygon) -> Iterator[RouteStretch]:
        surface = self._finish.surface
        if surface is None:
            return
        quarter, area = float(walk.exterior.length) / 4, float(walk.area)
        width = quarter - math.sqrt(max(quarter * quarter - area, 0.0))  # of a strip of this area and this way round
        ring = self._shape.ring.xy if not self._areas.several else shapely.get_coordinates(walk.exterior)[:-1]
        first = int(np.argmax(np.hypot(*(ring - ring.mean(axis=0)).T)))  # the farthest out is a corner for sure
        closed = np.vstack([ring[first:], ring[: first + 1]])
        for side in _sides_of(shapely.get_coordinates(shapely.LineString(closed).simplify(ON_EDGE))):
            if np.hypot(*np.diff(side, axis=0).T).sum() < 2 * width * (1 - 1e-6):
                continue
            for start, end in pairwise(side):
                run = end - start
                square = np.array([-run[1], run[0]]) / np.hypot(*run) * width / 2
                if not walk.contains(shapely.Point(*((start + end) / 2 + square))):
                    square = -square
                line = shapely.intersection(self._shape.slab, shapely.LineString([start + square, end + square]))
                for part in shapely.get_parts(line):
                    if part.length > STRAIGHT_ON:
                        yield from _stretches(surface, part)


def _stretches(surface: Surface, part: shapely.LineString) -> list[RouteStretch]:
    ends = shapely.get_coordinates(part)
    way = (ends[-1] - ends[0]) / part.length
    first, last = ends[0] + way * 1e-6, ends[-1] - way * 1e-6
    distances, heights = surface.profile(as_xy(first), as_xy(last))
    found = []
    for low, high, upper, lower in zip(distances, distances[1:], heights, heights[1:], strict=False):
        if high - low < STRAIGHT_ON:
            continue
        start, end = first + way * low, first + way * high
        facets = surface.tree.query(shapely.Point(*((start + end) / 2)), predicate="dwithin", distance=1e-6)
        across = float(np.abs(surface.gradients[facets] @ np.array([-way[1], way[0]])).max())
        shape = (as_xy(start), as_xy(end))
        running = abs(float((upper - lower) / (high - low)))
        found.append(RouteStretch(shape, running, across, tuple(facets.tolist())))
    return found


def _sides_of(ring: np.ndarray) -> list[np.ndarray]:
    """A closed line parted where it turns a corner; a bow stays one side."""
    runs = np.diff(ring, axis=0)
    ways = np.arctan2(runs[:, 1], runs[:, 0])
    turns = np.abs((np.diff(ways) + math.pi) % (2 * math.pi) - math.pi)
    cuts = [0, *(int(at) + 1 for at in np.nonzero(turns > CORNER)[0]), len(runs)]
    return [ring[low : high + 1] for low, high in pairwise(cuts)]


def _level(start: XY, stretches: Sequence[RouteStretch]) -> float:
    """How far a way is level enough to rest on from its start, m; what is left out between stretches is the way too."""
    far, at = 0.0, start
    for one in stretches:
        if max(one.running, one.cross) > LEVEL * (1 + 1e-9):
            break
        near, end = sorted(one.shape, key=lambda spot: math.dist(spot, at))
        gap = math.dist(at, near)
        far += math.dist(near, end) + (gap if gap < STRAIGHT_ON else 0.0)
        at = end
    return far


def _widths(
    slab: shapely.Geometry, clear: shapely.Geometry, start: XY, end: XY, middles: Sequence[XY]
) -> Iterator[tuple[float, XY]]:
    """How wide what is ``clear`` of a slab is across a straight way, m, and where; at its ``middles`` too."""
    run = np.array(end) - start
    size = float(np.hypot(*run))
    way = run / size
    low_x, low_y, high_x, high_y = slab.bounds
    far = math.hypot(high_x - low_x, high_y - low_y)
    over = ([(low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)] - np.array(start)) @ way
    # The way may be drawn from far off the slab.
    first, last = max(1, int(over.min() // ACROSS_EVERY)), min(size, float(over.max())) / ACROSS_EVERY + 1
    on_way = np.array(
        [*(float((np.array(at) - start) @ way) for at in middles), *np.arange(first, last) * ACROSS_EVERY]
    )
    on_way = on_way[(on_way > ACROSS_EVERY / 2) & (on_way < size - ACROSS_EVERY / 2)]
    feet, square = start + on_way[:, None] * way, np.array([-way[1], way[0]]) * far
    lines = shapely.linestrings(np.stack([feet - square, feet + square], axis=1))
    parts, owner = shapely.get_parts(shapely.intersection(slab, lines), return_index=True)
    here = shapely.distance(parts, shapely.points(feet)[owner]) < ON_EDGE
    here &= shapely.get_type_id(parts) == shapely.GeometryType.LINESTRING
    owner, one = np.unique(owner[here], return_index=True)
    across, at_end = parts[here][one], np.minimum(on_way, size - on_way)[owner] < COMES_ON
    counts = ~(at_end & (shapely.length(across) < COMES_ON))
    across, feet = across[counts], feet[owner[counts]]
    free, owner = shapely.get_parts(across if clear is slab else shapely.intersection(clear, across), return_index=True)
    widest = np.zeros(len(across))
    np.maximum.at(widest, owner, shapely.length(free))
    yield from zip(widest.tolist(), map(as_xy, feet), strict=True)
