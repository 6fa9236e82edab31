"""The finish surface of the plan, and what is read off it: lines, fixed heights, falls at walls."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely

from slabwright.design.model import Fixed, HeightLine, Point, SpotHeight
from slabwright.design.point import spot_name
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.shape.noding import SNAP
from slabwright.geometry.shape.outline import at_distance, distance_along, distances_along
from slabwright.geometry.surface.square_falls import square_falls
from slabwright.geometry.surface.surface import Surface, build_surface
from slabwright.geometry.surface.surface import scattered as scattered_surface
from slabwright.plan.edges import ON_EDGE, corner_name, point_name
from slabwright.plan.things import XY, EdgePiece, Facet, FixedMatch, Fold, LineRun, WallFall
from slabwright.source.problem import Problem
from slabwright.units.quantity import height, length, show

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

REACH = 0.61  # 2 ft: a fixed height further from the slab than this does not meet it
LIP = 0.005  # m: what falls away from a wall for less than this is no fall
ON_LINE = 0.1  # a shot this near the end of a height line was taken there, m
MEASURED = 400  # facets: a surface shot more densely is measured, not folded from corners
STRAIGHT = 0.5  # degrees: an outline corner that turns less lies on a straight side


@dataclass(frozen=True, slots=True)
class Finish:
    """The finish surface, or the names of the points that lack a height."""

    surface: Surface | None
    missing: tuple[str, ...]
    along_rim: Callable[[Sequence[XY]], tuple[float, ...] | None]
    line_heights: tuple[tuple[float, ...] | None, ...]


def _spots(heights: Sequence[SpotHeight]) -> np.ndarray:
    return np.array([[h.at.x, h.at.y, h.height.si] for h in heights]).reshape(-1, 3)


class _Rim:
    """Heights along the outline: straight between the spots that lie on it, all the way round."""

    def __init__(self, plan: Plan, spots: np.ndarray) -> None:
        self.ring = plan.ring
        places = [(x, y) for x, y, _ in spots.tolist()]
        found = zip(distances_along(self.ring, places), spots[:, 2].tolist(), strict=True)
        known = sorted((along, z) for (along, off), z in found if off < ON_EDGE)
        self.marks: list[float] = [along for along, _ in known]
        # The last before the first corner and the first after it, so that every distance lies between two.
        self._round: list[tuple[float, float]] = [(along - self.ring.length, z) for along, z in known[-1:]] + known
        self._round += [(along + self.ring.length, z) for along, z in known[:1]]

    def near(self, along: float) -> float:
        """How far along the outline the nearest known height is, m."""
        length = self.ring.length
        return min((min(abs(mark - along), length - abs(mark - along)) for mark in self.marks), default=math.inf)

    def at(self, along: float) -> float:
        """The height at a distance along the outline."""
        after = min(max(bisect_right(self._round, (along, math.inf)), 1), len(self._round) - 1)
        (low, start), (high, end) = self._round[after - 1], self._round[after]
        return start + (end - start) * (along - low) / (high - low) if high > low else end

    def heights(self, points: Sequence[XY]) -> tuple[float, ...]:
        """The heights at points of the outline."""
        return tuple(self.at(along) for along, _ in distances_along(self.ring, points))


def finish(plan: Plan) -> Finish:
    """Build the finish surface when every corner has a height."""
    heights = plan.design.heights
    spots = _spots(heights.finish)
    rim = _Rim(plan, spots)
    missing = _missing_corners(plan, rim)
    line_heights: list[tuple[float, ...] | None] = []
    at_spot = {(round(x, 4), round(y, 4)): z for x, y, z in spots.tolist()}
    for line in heights.lines:
        own: list[float] = []
        for point in line.along:
            z = at_spot.get((round(point.x, 4), round(point.y, 4)))
            if z is None and not missing:
                along, off = distance_along(plan.ring, (point.x, point.y))
                z = rim.at(along) if off < ON_EDGE else None
            if z is None:
                missing.append(f"{point_name(point)} ({line.kind} {line.name})".replace(" )", ")"))
            else:
                own.append(z)
        line_heights.append(tuple(own) if len(own) == len(line.along) else None)

    if missing or not rim.marks:
        return Finish(None, tuple(dict.fromkeys(missing)), lambda xy: None, tuple(line_heights))
    return Finish(_surface(plan, spots, rim, line_heights), (), rim.heights, tuple(line_heights))


def _missing_corners(plan: Plan, rim: _Rim) -> list[str]:
    """Outline corners without a height; one on a straight side between two known heights needs none."""
    outline = plan.design.outline
    places = [(corner.at.x, corner.at.y) for corner in outline]
    missing = []
    for index, (along, _) in enumerate(distances_along(plan.ring, places)):
        if rim.near(along) < ON_EDGE:
            continue
        before, corner, after = outline[index - 1], outline[index], outline[(index + 1) % len(outline)]
        bends = corner.through is not None or after.through is not None
        if len(rim.marks) < 2 or bends or not _straight(before.at, corner.at, after.at):
            missing.append(corner_name(corner))
    return missing


def _straight(a: Point, b: Point, c: Point) -> bool:
    """Whether the way from a over b to c goes straight on."""
    ux, uy, vx, vy = b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y
    return abs(math.degrees(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))) < STRAIGHT


def _surface(plan: Plan, spots: np.ndarray, rim: _Rim, line_heights: Sequence[tuple[float, ...] | None]) -> Surface:
    ring = plan.ring
    vertices = list(zip(ring.along, ring.points, strict=False))
    added = [along for along in rim.marks if _apart(along, ring.along) > ON_EDGE]
    vertices += [(along, at_distance(ring, along)) for along in added]
    around = np.array([(x, y, rim.at(along)) for along, (x, y) in sorted(vertices)])
    chains = [np.vstack([around, around[:1]])]
    for line, heights in zip(plan.design.heights.lines, line_heights, strict=True):
        if heights is not None:
            chains.append(np.array([[p.x, p.y, z] for p, z in zip(line.along, heights, strict=True)]))
    own = spots[shapely.contains_xy(plan.slab, spots[:, 0], spots[:, 1])]
    surface = build_surface(plan.slab, own, chains)
    drains = _drain_spots(plan, surface, own)
    return build_surface(plan.slab, np.vstack([own, drains]), chains) if len(drains) else surface


def _apart(distance: float, marks: Sequence[float]) -> float:
    """How far a distance is from the nearest of some in order."""
    after = bisect_right(marks, distance)
    return min(abs(mark - distance) for mark in marks[max(after - 1, 0) : after + 1])


def _drain_spots(plan: Plan, surface: Surface, own: np.ndarray) -> np.ndarray:
    """Drains as spots of the surface: at their rim height when given, else at the height the surface has there."""
    found = []
    for fixture in plan.design.fixtures:
        if fixture.kind != "drain" or fixture.at is None:
            continue
        at = (fixture.at.x, fixture.at.y)
        if len(own) and np.hypot(own[:, 0] - at[0], own[:, 1] - at[1]).min() < ON_EDGE:
            continue
        spot = shapely.Point(at)
        if plan.slab.distance(spot) < ON_EDGE:  # drains stand at edges too
            near = shapely.get_coordinates(shapely.shortest_line(plan.slab, spot))[0]
            z = fixture.rim.si if fixture.rim else float(surface.height(near.reshape(1, 2))[0])
            found.append([*near, z])
    return np.array(found).reshape(-1, 3)


def scattered(plan: Plan, heights: Sequence[SpotHeight], *, folded: bool = False) -> Surface | None:
    """A surface between shots (base or existing ground), over the part of the slab inside them.

    With ``folded`` it runs straight along the height lines of the finish from shot to shot, as a base graded parallel
    to the slab does.
    """
    points = _spots(heights)
    if len(points) < 3:
        return None
    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))
    reached = shapely.intersection(hull, plan.slab)
    if reached.area <= 1e-6:
        return None
    return scattered_surface(points, plan.slab, _shot_lines(plan, points) if folded else None)


def _shot_lines(plan: Plan, points: np.ndarray) -> np.ndarray:
    """Stretches of the height lines with a shot at both ends, from shot to shot, (s, 2, 2)."""
    found = []
    for line in plan.design.heights.lines:
        for ends in pairwise(line.along):
            near = [np.hypot(points[:, 0] - p.x, points[:, 1] - p.y) for p in ends]
            if all(away.min() < ON_LINE for away in near):
                found.append([points[int(away.argmin()), :2] for away in near])
    return np.array(found).reshape(-1, 2, 2)


def facets(surface: Surface) -> tuple[Facet, ...]:
    """The triangles of a surface with slope and downhill direction."""
    xy, z = [(x, y) for x, y in surface.mesh.xy.tolist()], surface.z.tolist()
    found = []
    for (a, b, c), (x, y), slope, area in zip(
        surface.mesh.triangles.tolist(),
        surface.gradients.tolist(),
        surface.slopes.tolist(),
        surface.areas.tolist(),
        strict=True,
    ):
        down = (-x / slope, -y / slope) if slope > 0 else (0.0, 0.0)
        found.append(Facet((xy[a], xy[b], xy[c]), (z[a], z[b], z[c]), slope, down, area))
    return tuple(found)


def finish_at(plan: Plan, at: XY) -> float | None:
    """Finish height at a point, or at the nearest point of the slab within reach."""
    surface = plan.surface
    if surface is None:
        return None
    spot = shapely.Point(at)
    if plan.slab.distance(spot) > REACH:
        return None
    nearest = shapely.get_coordinates(shapely.shortest_line(plan.slab, spot))[0]
    z = float(surface.height(nearest.reshape(1, 2))[0])
    if np.isnan(z):  # on the rim, a hair outside every facet
        heights = plan.rim_heights([(float(nearest[0]), float(nearest[1]))])
        z = heights[0] if heights else z
    return None if np.isnan(z) else z


def line_runs(plan: Plan) -> tuple[LineRun, ...]:
    """Height lines with their heights."""
    if plan.surface is None:
        return ()
    lines: Sequence[tuple[HeightLine, tuple[float, ...] | None]] = list(
        zip(plan.design.heights.lines, plan.line_heights, strict=True)
    )
    return tuple(LineRun(line, tuple((p.x, p.y) for p in line.along), zs) for line, zs in lines if zs is not None)


def fixed_matches(plan: Plan) -> tuple[FixedMatch, ...]:
    """Fixed heights against the slab, at their own points and wherever the slab folds between them."""
    found: list[FixedMatch] = []
    if plan.surface is None:
        return ()
    for fixed in plan.design.fixed:
        for at, level in _fixed_spots(plan, fixed):
            slab = finish_at(plan, at)
            if slab is not None:
                found.append(FixedMatch(fixed, at, level, slab))
    return tuple(found)


def _fixed_spots(plan: Plan, fixed: Fixed) -> Iterator[tuple[XY, float]]:
    points = [(p.x, p.y) for p in fixed.along]
    levels = [h.si for h in fixed.height]
    if len(levels) == 1:
        levels = levels * len(points)
    if len(points) == 1:
        yield points[0], levels[0]
        return
    pairs = list(zip(points, levels, strict=True))
    for (p, low), (q, high) in pairwise(pairs):
        line = shapely.LineString([p, q])
        stations = [0.0, line.length]
        for piece in plan.edges:
            for vertex in piece.line:
                spot = shapely.Point(vertex)
                if line.distance(spot) <= REACH:
                    stations.append(float(line.project(spot)))
        for station in sorted({round(s, 6) for s in stations}):
            share = min(station / line.length, 1.0) if line.length > 0 else 0.0
            yield (p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share), low + (high - low) * share


def wall_falls(plan: Plan, within: float) -> tuple[WallFall, ...]:
    """Falls along lines square to each building edge, out to ``within`` or to the first low line before that."""
    found: list[WallFall] = []
    for piece in plan.edges:
        if piece.beside == "building":
            for start, end in pairwise(piece.line):
                found.extend(_square_falls(plan, piece, start, end, within))
    return tuple(found)


def _square_falls(plan: Plan, piece: EdgePiece, start: XY, end: XY, within: float) -> Iterator[WallFall]:
    size = math.dist(start, end)
    if plan.surface is None or size < 0.05:
        return
    along = (end[0] - start[0]) / size, (end[1] - start[1]) / size
    square = (-along[1], along[0]) if plan.ring.ccw else (along[1], -along[0])
    stations = [share * size for share in _stations(size)]
    lines = square_falls(plan.surface, start, end, plan.ring.ccw, stations, within)
    for station, stretches in zip(stations, lines, strict=True):
        if not stretches or stretches[-1].far <= 0.02:
            continue
        fallen = 0.0
        for near, far, away in stretches:
            if away <= 0 and fallen > LIP:
                break  # a low line: beyond it the ground may rise again, or fall along the wall
            fallen += far - near if away > 0 else 0.0
            if far - near >= 0.02:
                middle = (near + far) / 2
                x, y = start[0] + along[0] * station, start[1] + along[1] * station
                yield WallFall(piece, (x + square[0] * middle, y + square[1] * middle), away, near)


def _stations(size: float) -> list[float]:
    """Where to look along a wall: just inside both ends and every 2 ft or so between."""
    inner = max(1, min(40, round(size / 0.6)))
    edge = min(0.02 / size, 0.1)
    return sorted({edge, 1 - edge, *((k + 0.5) / inner for k in range(inner))})


def questions(plan: Plan) -> Iterator[Problem]:
    """Spots off the slab, and lines that disagree where they cross."""
    for spot in plan.design.heights.finish:
        away = float(plan.ring.polygon.distance(shapely.Point(spot.at.x, spot.at.y)))
        if away > 0.05:
            yield Problem(
                spot.place,
                f"{point_name(spot.at)} has a finish height but lies {show(length(away), plan.system)} off the slab",
                "move the point onto the slab, or put the height under `fixed` or `ground`",
            )
    surface = plan.surface
    if surface is None:
        return
    place = plan.place("heights.lines", "heights.finish")
    for clash in surface.clashes:
        first, second = (show(height(z), plan.system) for z in clash.heights)
        at = spot_name(*clash.xy, plan.design.plan_unit)
        yield Problem(
            place,
            f"two height lines cross at {at} but say {first} and {second} there",
            "put a point with a height where they cross, in both lines",
        )


def lines_cross(plan: Plan) -> bool:
    """Whether two height lines meet at a place without a height of its own."""
    heights = plan.design.heights
    lines = [shapely.LineString([(point.x, point.y) for point in line.along]) for line in heights.lines]
    if len(lines) < 2:
        return False
    first, second = shapely.STRtree(lines).query(lines, predicate="intersects")
    met = [lines[a].intersection(lines[b]) for a, b in zip(first.tolist(), second.tolist(), strict=True) if a < b]
    given = shapely.MultiPoint([(spot.at.x, spot.at.y) for spot in heights.finish])
    return any(shapely.distance(given, shapely.points(xy)) > SNAP for xy in shapely.get_coordinates(met).tolist())


def worst_fold(plan: Plan, surface: Surface) -> Fold | None:
    """The four-corner piece whose two diagonals differ most at their crossing; None where nothing folds two ways."""
    triangles, neighbours = surface.mesh.triangles.tolist(), surface.mesh.neighbours.tolist()
    if len(triangles) > MEASURED:
        return None
    xy, z = [(x, y) for x, y in surface.mesh.xy.tolist()], surface.z.tolist()
    given = [[(p.x, p.y) for p in line.along] for line in plan.design.heights.lines]
    given += [[xy[a], xy[b]] for a, b in surface.mesh.rim.tolist()]
    worst: tuple[float, tuple[int, int, int, int], XY, float, float] | None = None
    for index, (triangle, beyond) in enumerate(zip(triangles, neighbours, strict=True)):
        for side, other in enumerate(beyond):
            if other <= index:
                continue
            a, b, c = triangle[side], triangle[side - 2], triangle[side - 1]
            d = next(v for v in triangles[other] if v not in (a, b))
            crossing = _crossing(xy[a], xy[b], xy[c], xy[d])
            if crossing is None:
                continue
            t, u = crossing
            one, two = z[a] + (z[b] - z[a]) * t, z[c] + (z[d] - z[c]) * u
            if worst is not None and abs(one - two) <= worst[0] + 1e-9:
                continue
            middle = (xy[a][0] + xy[b][0]) / 2, (xy[a][1] + xy[b][1]) / 2
            if min(nearest_on(line, middle)[0] for line in given) >= ON_EDGE:
                at = xy[a][0] + (xy[b][0] - xy[a][0]) * t, xy[a][1] + (xy[b][1] - xy[a][1]) * t
                worst = abs(one - two), (a, c, b, d), at, one, two
    if worst is None:
        return None
    _, (a, c, b, d), at, one, two = worst
    corners = xy[a], xy[c], xy[b], xy[d]
    first, second, third, fourth = (plan.name_at(corner) for corner in corners)
    return Fold((first, second, third, fourth), corners, at, one, two)


def _crossing(a: XY, b: XY, c: XY, d: XY) -> tuple[float, float] | None:
    """Where a-b and c-d cross, as shares of each; None when the four points make no four-corner piece."""
    along, back, gap = ((q[0] - p[0], q[1] - p[1]) for p, q in ((a, b), (d, c), (a, c)))
    turn = along[0] * back[1] - along[1] * back[0]
    if abs(turn) < 1e-9:
        return None
    t = (gap[0] * back[1] - gap[1] * back[0]) / turn
    u = (along[0] * gap[1] - along[1] * gap[0]) / turn
    return (t, u) if 0.05 < t < 0.95 and 0.05 < u < 0.95 else None
