"""Rows of where water goes: off the buildings, down low lines, off edges that take none, and to a way out."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.xy import XY
from slabwright.plan.falls import WallFall
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.plan.walls import BeforeWall
from slabwright.proposals.heights.asking import BEFORE_DOOR, Asking
from slabwright.proposals.heights.program import Floats, Row
from slabwright.proposals.heights.ways_out import WAY_OUT, WaysOut
from slabwright.units.quantity import Kind

WITHIN = 10 * FOOT  # of a building, `fall-from-building`
BEFORE_ACCESSIBLE_DOOR = 60 * INCH
AT_WALL = 1e-6  # m: a fall that begins so near to a wall begins at it; at a corner the next facet is an inch away
KEPT_OFF = 0.0  # fall away from an edge that takes no water: it may run along it


class Way(NamedTuple):
    """A facet, and a unit vector off a building over it."""

    facet: int
    x: float
    y: float


def rows(asking: Asking, ways: WaysOut, crests: Sequence[XY]) -> Iterator[Row]:
    """Falls off the buildings and everywhere else, along low lines, off edges that take no water, and to a way out.

    ``crests`` are the places that keep the water of a street from the building.
    """
    walls = asking.plan.walls.before(WITHIN, BEFORE_DOOR, BEFORE_ACCESSIBLE_DOOR)
    away = _wall_facets(asking, walls)
    yield from _away(asking, away)
    yield from _least(asking, ways, {way.facet for way in away})
    yield from _valleys(asking, ways)
    yield from _low_lines(asking, walls)
    yield from _kept_off(asking)
    for vertex, to in ways.onward.items():
        yield asking.drops("a way out for the water", vertex, to, WAY_OUT)
    yield from _crest(asking, crests)


def _wall_facets(asking: Asking, walls: Sequence[BeforeWall]) -> dict[Way, tuple[str, float, bool]]:
    """For each facet that has to fall away from a building, and each way off it: the wall and how much it asks.

    With it, whether it lies at the wall; further out a low line could come before it.
    """
    plan, limit = asking.plan, asking.limit("fall-from-building", "code_away_at_least")
    asked: dict[Way, tuple[str, float, bool]] = {}
    if limit is None:
        return asked
    door = asking.value("fall-from-building", "door_away_at_least", 0.0)
    us = plan.home == "us" or limit.layer != "published"
    open_fall = limit.value.si if us else asking.value("fall-from-building", "plain_away_at_least", 0.0)
    feet = {fall.at: line.foot for line in plan.wall_falls.lines(WITHIN) for fall in line.falls}
    low_lines = _drawn_low_lines(asking)
    for wall in walls:
        for falls, slope in ((wall.falls, open_fall), (wall.door_falls, door)):
            for fall in falls:
                foot = feet.get(fall.at)
                if foot is None or _beyond(foot, fall, low_lines):
                    continue
                size = math.dist(foot, fall.at)
                x, y = (fall.at[0] - foot[0]) / size, (fall.at[1] - foot[1]) / size
                for facet in plan.finish.facets_at(fall.at):
                    key = Way(facet, round(x, 6), round(y, 6))
                    before = asked.get(key, ("", -1.0, False))
                    at_wall = before[2] or fall.distance < AT_WALL
                    if asking.on.surface.areas[facet] > 1e-4:
                        asked[key] = wall.edge.name, max(slope, before[1]), at_wall
    return asked


def _drawn_low_lines(asking: Asking) -> list[shapely.Geometry]:
    valleys = [shapely.LineString([(p.x, p.y) for p in line.along]) for line in asking.plan.design.heights.lines
               if line.kind == "valley"]  # fmt: skip
    valleys += [shapely.LineString(one.line) for one in asking.plan.channels.all]
    return [*valleys, *(shapely.Point(one.at).buffer(0.3) for one in asking.plan.fixtures.all
                        if one.fixture.kind == "drain")]  # fmt: skip


def _beyond(foot: XY, fall: WallFall, low_lines: Sequence[shapely.Geometry]) -> bool:
    """Whether a low line that is drawn lies between the wall and a fall."""
    way = shapely.LineString([foot, fall.at])
    return any(way.intersects(line) and line.distance(shapely.Point(foot)) > FOOT for line in low_lines)


def _away(asking: Asking, away: Mapping[Way, tuple[str, float, bool]]) -> Iterator[Row]:
    for way, (name, slope, at_wall) in away.items():
        group = f"{asking.shown(slope, Kind.SLOPE)} away from {name}"
        yield asking.falls(group, way.facet, np.array([way.x, way.y]), slope, at_wall)


def _least(asking: Asking, ways: WaysOut, before_walls: Collection[int]) -> Iterator[Row]:
    least = asking.value("least-fall", "usual_slope_at_least", asking.value("least-fall", "slope_at_least", 0.0))
    group = f"a fall of {asking.shown(least, Kind.SLOPE)} everywhere"
    for facet in asking.facets():
        if facet not in before_walls:
            yield asking.falls(group, facet, _way(asking, ways, facet), least, sure=False)


def _way(asking: Asking, ways: WaysOut, facet: int) -> Floats:
    """The direction in which a facet is to fall: as it does, or as the way out leads."""
    gradient = asking.on.surface.gradients[facet]
    size = float(np.hypot(*gradient))
    if ways.as_drawn and size > 0.002:
        return np.asarray(-gradient / size)
    corners = asking.on.surface.mesh.triangles[facet]
    xy, far = asking.on.surface.mesh.xy[corners], ways.far[corners]
    if np.isfinite(far).all():
        sides = np.stack([xy[1] - xy[0], xy[2] - xy[0]])
        uphill = np.linalg.solve(sides, far[1:] - far[0])
        if np.hypot(*uphill) > 1e-3:
            return np.asarray(-uphill / np.hypot(*uphill))
    if size > 1e-6:
        return np.asarray(-gradient / size)
    return _off_wall(asking, xy.mean(axis=0))


def _off_wall(asking: Asking, at: Floats) -> Floats:
    """Away from the nearest building, or from the middle of the slab."""
    walls = [shapely.LineString(piece.line) for piece in asking.plan.edges.pieces if piece.beside == "building"]
    start = shapely.shortest_line(shapely.union_all(walls), shapely.Point(at)) if walls else None
    off = at - np.array(start.coords[0] if start is not None else asking.plan.shape.slab.centroid.coords[0])
    size = float(np.hypot(*off))
    return off / size if size > 1e-6 else np.array([1.0, 0.0])


def _valleys(asking: Asking, ways: WaysOut) -> Iterator[Row]:
    hold = asking.value("valley-fall", "slope_at_least", 0.0)
    least = max(hold, asking.value("valley-fall", "hand_formed_slope_at_least", hold))
    for line in asking.plan.design.heights.lines:
        if line.kind != "valley":
            continue
        group = f"{asking.shown(least, Kind.SLOPE)} along {line.name or 'the valley'}"
        vertices = [asking.on.surface.nearest_vertex((p.x, p.y)) for p in line.along]
        for (p, a), (q, b) in pairwise(zip(line.along, vertices, strict=True)):
            stretch = [(p.x, p.y), (q.x, q.y)]
            if math.dist(*stretch) < ON_EDGE or asking.plan.water_lines.drained_along(stretch) > 0.9:  # as in a trench
                continue
            upper, lower = (a, b) if ways.far[a] >= ways.far[b] else (b, a)
            yield asking.drops(group, upper, lower, least)


def _low_lines(asking: Asking, walls: Sequence[BeforeWall]) -> Iterator[Row]:
    us = asking.plan.home == "us"
    plain = asking.value("fall-from-building", "low_line_at_least" if us else "plain_away_at_least", 0.0)
    drain = asking.value("fall-from-building", "low_line_to_drain_at_least", 0.0)
    for wall in walls:
        for line in wall.low_lines:
            slope = drain if line.to_drain else plain
            first, last = asking.place(line.xy[0]), asking.place(line.xy[-1])
            if first is not None and last is not None:
                group = f"{asking.shown(slope, Kind.SLOPE)} along the low line before {wall.edge.name}"
                yield Row(group, "asked", first[0] - last[0], slope * line.run - (first[1] - last[1]), sure=False)


def _kept_off(asking: Asking) -> Iterator[Row]:
    """Facets at an edge that takes no water fall away from it."""
    mesh = asking.on.surface.mesh
    for piece in asking.plan.edges.pieces:
        if piece.dams or piece.takes_water is not False:
            continue
        line = shapely.LineString(piece.line)
        on_edge = shapely.distance(line, shapely.points(mesh.xy)) < ON_EDGE
        for facet in np.nonzero(on_edge[mesh.triangles].sum(axis=1) == 2)[0].tolist():
            corners = mesh.triangles[facet]
            (a, b), (c,) = mesh.xy[corners[on_edge[corners]]], mesh.xy[corners[~on_edge[corners]]]
            square = np.array([a[1] - b[1], b[0] - a[0]]) / np.hypot(*(b - a))
            square = square if (c - a) @ square > 0 else -square
            yield asking.falls(f"water kept off {piece.name}", facet, square, KEPT_OFF)


def crest_of(asking: Asking) -> XY | None:
    """Where the lowest way between a street and a building has its crest; None without both."""
    plan = asking.plan
    streets = [piece for piece in plan.edges.pieces if piece.beside == "street"]
    walls = [piece for piece in plan.edges.pieces if piece.beside == "building"]
    crest = plan.water.crest(streets, walls) if _gutters(plan) and streets and walls else None
    return crest.at if crest is not None else None


def _gutters(plan: Plan) -> list[float]:
    """Heights of the gutters before the slab, m, or of the edge of a street."""
    gutters = [one.si for fixed in plan.design.fixed if fixed.kind == "gutter" for one in fixed.height]
    return gutters or [low for piece in plan.edges.pieces if piece.beside == "street" for low in piece.ground or ()]


def _crest(asking: Asking, crests: Sequence[XY]) -> Iterator[Row]:
    """The crests that keep the water of a street from the building."""
    limits = ("crest_at_least", "lip_high_crest_at_least", "curb_high_crest_at_least")
    least = max(asking.value("street-water-kept-out", name, 0.0) for name in limits)
    group = f"a crest {asking.shown(least, Kind.DEPTH)} above the street"
    for at in crests:
        yield from asking.above(group, "asked", at, min(_gutters(asking.plan)) + least, sure=False)
