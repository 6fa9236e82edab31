"""What passes over the finish surface: leaves that swing, people at a door, wheelchairs, and wheels over folds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely

from slabwright.design.model import Fixture, Point
from slabwright.geometry.shape.noding import distinct
from slabwright.geometry.surface.surface import Surface
from slabwright.geometry.water.flood import flood
from slabwright.plan import grades
from slabwright.plan.edges import ON_EDGE
from slabwright.plan.things import XY, Crest, EdgePiece, Landing, Leaf, LineRun, NewHeight, RouteStretch, ValleyEnd

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

TURN = 90  # degrees that a leaf swings to a side
APART = 5  # degrees between the places where a leaf is tried
ALONG_LEAF = (0.0, 0.25, 0.5, 0.75, 1.0)  # where along a leaf, as shares of its width
RAISED_AT_MOST = 6  # points raised to make a crest; a longer crest is told in words
ASIDE, FLOWS = 0.3, 0.001  # how far beside a valley its sides are read, m; slope from which water flows
STRAIGHT_ON = 0.02  # m: a shorter stretch of a route between two folds is the width of a line


def crest(plan: Plan, surface: Surface, start: Sequence[EdgePiece], end: Sequence[EdgePiece]) -> Crest | None:
    """The highest point of the lowest way over the slab from edges to other edges; None where there is no way."""
    from_vertices, to_vertices = _along(surface, start), _along(surface, end)
    if not len(from_vertices) or not len(to_vertices):
        return None
    spill = np.full(len(surface.z), np.inf)
    spill[from_vertices] = surface.z[from_vertices]
    flooded = flood(surface, spill.tolist())
    levels = np.array(flooded.level)[to_vertices]
    vertex = int(to_vertices[np.argmax(levels < levels.min() + 1e-9)])
    marks = shapely.Point(surface.mesh.xy[vertex])
    wall = min(end, key=lambda piece: round(float(shapely.LineString(piece.line).distance(marks)), 6)).name
    way = [vertex]
    while flooded.towards[way[-1]] >= 0 and len(way) <= len(surface.z):
        way.append(flooded.towards[way[-1]])
    top = max(way, key=lambda v: float(surface.z[v]))
    at = (float(surface.mesh.xy[top, 0]), float(surface.mesh.xy[top, 1]))
    return Crest(at, float(levels.min()), wall)


def _along(surface: Surface, pieces: Sequence[EdgePiece]) -> np.ndarray:
    """Vertices of the surface on edges."""
    lines = shapely.union_all([shapely.LineString(piece.line) for piece in pieces])
    near = shapely.distance(lines, shapely.points(surface.mesh.xy[surface.mesh.rim])).max(axis=1) < ON_EDGE
    return distinct(surface.mesh.rim[near])


def raised_crest(
    plan: Plan, start: Sequence[EdgePiece], end: Sequence[EdgePiece], height: float
) -> tuple[NewHeight, ...]:
    """Heights of points that bring the crest between edges up to ``height``; empty when heights of points cannot."""
    surface, wanted = plan.surface, grades.written(plan, height, up=True)
    raised: list[XY] = []
    if surface is None:
        return ()
    trial = surface
    for _ in range(RAISED_AT_MOST):
        found = crest(plan, trial, start, end)
        if found is None or found.height >= height - 1e-9:
            return plan.moved([(at, wanted) for at in raised], up=True)
        raised.append(found.at)
        z = trial.z.copy()
        z[trial.nearest_vertex(found.at)] = wanted
        trial = Surface(surface.mesh, z)
    return ()


def valley_end(plan: Plan, run: LineRun) -> ValleyEnd | None:
    """The last stretch of a valley as a gutter; None where it or one of its sides hardly falls."""
    xy, heights = (run.xy, run.heights) if run.low_end == run.xy[-1] else (run.xy[::-1], run.heights[::-1])
    before, end = np.array(xy[-2]), np.array(xy[-1])
    size = float(np.hypot(*(end - before)))
    square = np.array([before[1] - end[1], end[0] - before[0]]) / size * ASIDE
    middle, level = (before + end) / 2, (heights[-2] + heights[-1]) / 2
    sides = []
    for there in (middle + square, middle - square):
        beside = plan.finish_at((float(there[0]), float(there[1])))
        sides.append(0.0 if beside is None else (beside - level) / ASIDE)
    running = (heights[-2] - heights[-1]) / size
    flows = min(running, *sides) > FLOWS
    return ValleyEnd(size, running, (max(sides), min(sides))) if flows else None


def leaf(plan: Plan, fixture: Fixture) -> Leaf | None:
    """The highest spot of the slab under the leaves of a door or gate, all through their swing.

    None where there is no surface, the hinge is not said, or nothing of the swing is over the slab.
    """
    surface = plan.surface
    if surface is None or not fixture.hinge or len(fixture.along) < 2:
        return None
    ends = np.array([(p.x, p.y) for p in (fixture.along[0], fixture.along[-1])])
    hinges = np.array([(p.x, p.y) for p in fixture.hinge])
    middle = ends.mean(axis=0)
    spots: list[np.ndarray] = []
    for hinge in hinges:
        far = middle if len(hinges) > 1 else ends[int(np.argmax(np.hypot(*(ends - hinge).T)))]
        for side in _sides(fixture, hinge, far):
            spots.extend(_sector(hinge, far, side))
    at, heights = _on_slab(plan, surface, np.array(spots))
    if not len(heights):
        return None
    # the first of equals, hinge outwards and closed first, so that the spot named does not hang on rounding
    highest = int(np.argmax(heights > heights.max() - 1e-7))
    return Leaf((float(at[highest, 0]), float(at[highest, 1])), float(heights.max()))


def _sides(fixture: Fixture, hinge: np.ndarray, far: np.ndarray) -> tuple[int, ...]:
    """Which way a leaf turns: 1 to the left of hinge to far end, -1 to the right; both where it is not said."""
    if fixture.opens_to is None:
        return 1, -1
    over = np.array([fixture.opens_to.x, fixture.opens_to.y]) - hinge
    run = far - hinge
    return (1,) if run[0] * over[1] - run[1] * over[0] > 0 else (-1,)


def _sector(hinge: np.ndarray, far: np.ndarray, side: int) -> list[np.ndarray]:
    """Places that a leaf sweeps over, from closed to open."""
    run, found = far - hinge, []
    for degrees in range(0, TURN + 1, APART):
        turn = math.radians(side * degrees)
        c, s = math.cos(turn), math.sin(turn)
        way = np.array([c * run[0] - s * run[1], s * run[0] + c * run[1]])
        found += [hinge + way * share for share in ALONG_LEAF]
    return found


def _on_slab(plan: Plan, surface: Surface, xy: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Those of the places that lie on the slab, its edge counted, and the finish heights there."""
    marks = shapely.points(xy)
    near = shapely.distance(plan.slab, marks) < ON_EDGE
    if not near.any():
        return np.zeros((0, 2)), np.zeros(0)
    ends = shapely.get_coordinates(shapely.shortest_line(plan.slab, marks[near])).reshape(-1, 2, 2)
    foot = ends[:, 0]
    heights = surface.height(foot)
    lost = np.isnan(heights)  # on the rim, a hair outside every facet
    if lost.any():
        heights[lost] = plan.rim_heights([(x, y) for x, y in foot[lost].tolist()]) or np.nan
    known = ~np.isnan(heights)
    return foot[known], heights[known]


def landing(plan: Plan, fixture: Fixture, out: float) -> Landing | None:
    """The slab in front of a door, as wide as the door and ``out`` m deep: its steepest part, and how far it reaches.

    None where there is no surface, or no slab before the door.
    """
    surface = plan.surface
    if surface is None or len(fixture.along) < 2:
        return None
    start, end = (np.array([p.x, p.y]) for p in (fixture.along[0], fixture.along[-1]))
    size = float(np.hypot(*(end - start)))
    if size <= 4 * ON_EDGE:
        return None
    along = (end - start) / size
    square = np.array([-along[1], along[0]])
    if not plan.slab.contains(shapely.Point(*((start + end) / 2 + 2 * ON_EDGE * square))):
        square = -square
    inner = (start + along * 2 * ON_EDGE, end - along * 2 * ON_EDGE)  # what only touches the sides is not before it
    before = shapely.Polygon([*inner, inner[1] + square * out, inner[0] + square * out])
    covered = shapely.intersection(plan.slab, before)
    if covered.is_empty or covered.distance(shapely.Point(*((start + end) / 2))) > 4 * ON_EDGE:
        return None
    facets = surface.tree.query(before, predicate="intersects")
    parts = shapely.area(shapely.intersection(surface.facets[facets], before))
    facets = facets[parts > ON_EDGE * ON_EDGE]
    if not len(facets):
        return None
    steepest = float(surface.slopes[facets].max())
    reach = min(_reach(plan, foot, square, 10 * out) for foot in (inner[0], (start + end) / 2, inner[1]))
    corners = tuple((float(x), float(y)) for x, y in shapely.get_coordinates(before))
    return Landing(corners, steepest, reach, tuple(facets.tolist()))


def _reach(plan: Plan, foot: np.ndarray, way: np.ndarray, far: float) -> float:
    """How far the slab goes on from a place, m, ``far`` at most."""
    ray = shapely.LineString([foot + way * ON_EDGE, foot + way * far])
    parts = shapely.get_parts(shapely.intersection(plan.slab, ray))
    first = [part for part in parts if part.distance(shapely.Point(*foot)) < 2 * ON_EDGE]
    return max((float(part.length) + ON_EDGE for part in first), default=0.0)


def route(plan: Plan, points: Sequence[Point]) -> tuple[RouteStretch, ...]:
    """The falls along and across a way over the slab, fold to fold; empty without a finish surface."""
    surface, found = plan.surface, []
    if surface is None:
        return ()
    for p, q in pairwise(points):
        line = shapely.intersection(plan.slab, shapely.LineString([(p.x, p.y), (q.x, q.y)]))
        for part in shapely.get_parts(line):
            if part.length > STRAIGHT_ON:
                found += _stretches(surface, part)
    return tuple(found)


def _stretches(surface: Surface, part: shapely.LineString) -> list[RouteStretch]:
    ends = shapely.get_coordinates(part)
    way = (ends[-1] - ends[0]) / part.length
    first, last = ends[0] + way * 1e-6, ends[-1] - way * 1e-6
    distances, heights = surface.profile((float(first[0]), float(first[1])), (float(last[0]), float(last[1])))
    found = []
    for low, high, upper, lower in zip(distances, distances[1:], heights, heights[1:], strict=False):
        if high - low < STRAIGHT_ON:
            continue
        start, end = first + way * low, first + way * high
        facets = surface.tree.query(shapely.Point(*((start + end) / 2)), predicate="dwithin", distance=1e-6)
        across = float(np.abs(surface.gradients[facets] @ np.array([-way[1], way[0]])).max())
        shape = ((float(start[0]), float(start[1])), (float(end[0]), float(end[1])))
        running = abs(float((upper - lower) / (high - low)))
        found.append(RouteStretch(shape, running, across, tuple(facets.tolist())))
    return found


def along_sides(plan: Plan) -> tuple[RouteStretch, ...]:
    """The falls along and across a walk, as people go: midway between its sides, along each that is long for its width.

    Empty without a finish surface, and where no side is twice as long as the walk is wide.
    """
    surface, found = plan.surface, []
    if surface is None:
        return ()
    quarter, area = plan.ring.length / 4, plan.ring.polygon.area
    width = quarter - math.sqrt(max(quarter * quarter - area, 0.0))  # of a strip of this area and this way round
    ring = plan.ring.xy
    first = int(np.argmax(np.hypot(*(ring - ring.mean(axis=0)).T)))  # the farthest out is a corner for sure
    closed = np.vstack([ring[first:], ring[: first + 1]])
    for start, end in pairwise(shapely.get_coordinates(shapely.LineString(closed).simplify(ON_EDGE))):
        run = end - start
        if np.hypot(*run) < 2 * width:
            continue
        square = np.array([-run[1], run[0]]) / np.hypot(*run) * width / 2
        if not plan.ring.polygon.contains(shapely.Point(*((start + end) / 2 + square))):
            square = -square
        line = shapely.intersection(plan.slab, shapely.LineString([start + square, end + square]))
        for part in shapely.get_parts(line):
            if part.length > STRAIGHT_ON:
                found += _stretches(surface, part)
    return tuple(found)
