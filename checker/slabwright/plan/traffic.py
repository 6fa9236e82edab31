"""What passes over the finish surface: leaves that swing, people at a door, wheelchairs, and wheels over folds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import combinations, pairwise
from typing import ClassVar, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Fixture, Point
from slabwright.geometry.surface.surface import Surface
from slabwright.plan.areas import Areas
from slabwright.plan.edges import Edges
from slabwright.plan.finish import Finish
from slabwright.plan.joints import Joints
from slabwright.plan.panels import Panels
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.thickness import Thickness
from slabwright.plan.things import (
    WALKED,
    XY,
    Area,
    EdgePiece,
    GradeBreak,
    Landing,
    Leaf,
    Panel,
    Ramp,
    RouteStretch,
    WheelSpot,
)

TURN = 90  # degrees that a leaf swings to a side
APART = 5  # degrees between the places where a leaf is tried
ALONG_LEAF = (0.0, 0.25, 0.5, 0.75, 1.0)  # where along a leaf, as shares of its width
STRAIGHT_ON = 0.02  # m: a shorter stretch of a route between two folds is the width of a line
STATIONS = (0.5, 0.25, 0.75)  # where over an edge wheels come in, as shares of its length
NEAR = 6 * 0.3048  # m: a stretch as long as this between two others parts their change of grade in two
LIP = 0.3048  # m: what is shorter than this is a lip and no grade
LEVEL = 1 / 48  # a landing slopes no more than this any way: `ada-2010`, 404.2.4.4
CORNER = math.radians(35)  # a walk that turns by more turns a corner; by less it bends
COMES_ON = 0.9144  # m, 36 in: so near to its ends a way may come on over a corner of the slab
ACROSS_EVERY = 0.1  # m between the places where the width of a way is taken
_SAME = 1e-6  # grades that differ by less are one
_CORNER = math.radians(20)  # a bend that turns less is no corner


class Traffic:
    """The slab as leaves, feet and wheels meet it; nothing is found without a finish surface."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset[str]()

    def __init__(
        self,
        shape: Shape,
        areas: Areas,
        thickness: Thickness,
        finish: Finish,
        edges: Edges,
        joints: Joints,
        panels: Panels,
    ) -> None:
        self._shape = shape
        self._areas = areas
        self._thickness = thickness
        self._finish = finish
        self._edges = edges
        self._joints = joints
        self._panels = panels

    @cached_property
    def driven_panels(self) -> tuple[Panel, ...]:
        """The panels that vehicles drive over, if any do.

        On a walk or a patio those between edges that wheels cross, where the file names such; elsewhere all. Of a slab
        of several uses those with none but walks and patios in them count as such.
        """
        crossed = [shapely.LineString(piece.line) for piece in self._edges.pieces if piece.wheels_cross]
        walked = [panel for panel in self._panels.all if panel.uses <= set(WALKED)]
        mixed = len(walked) < len(self._panels.all)
        if not walked or not (crossed or mixed):
            return self._panels.all
        near = shapely.union_all(crossed).buffer(ON_EDGE)
        return tuple(
            one
            for one in self._panels.all
            if not one.uses <= set(WALKED) or shapely.intersection(near, one.polygon).area > ON_EDGE**2 * 20
        )

    @cached_property
    def wheel_spots(self) -> tuple[WheelSpot, ...]:
        """Where wheels may stand: inside the panels they drive over, at free edges and corners, at construction joints.

        Walls, buildings and steps keep wheels off; a curb and an old slab do unless wheels cross there. On a walk or a
        patio that wheels cross only the edges they cross count.
        """
        driven = self.driven_panels
        thinnest = min(driven, key=lambda panel: self._thickness.least_over(panel.polygon))
        inside = f"inside panel {thinnest.name}"
        least, own = self._thickness.least_over(thinnest.polygon), _written(self._areas.of(thinnest))
        spots = [WheelSpot("interior", inside, least, True, False, False, (), *own)]
        only_crossed = len(driven) < len(self._panels.all)
        wheels = tuple(area for area in self._areas.all if area.use not in WALKED) or self._areas.all
        open_edges = [
            piece
            for piece in self._edges.pieces
            if piece.wheels_cross
            or not (
                piece.fixed_face or piece.wheels_cross is False or (only_crossed and not self._beside(piece, wheels))
            )
        ]
        for piece in open_edges:
            tied = piece.edge is not None and piece.edge.tied
            here = self._areas.all if piece.wheels_cross else wheels
            deep, name = self._thickness.least_along(piece.line, here), f"at the edge along {piece.name}"
            own = _written(_thinnest(self._areas.along(piece.line), here))
            spots.append(WheelSpot("edge", name, deep, bool(piece.wheels_cross), tied, True, (piece,), *own))
        inner = [corner.at for corner in self._panels.inside_corners]
        for one, other in combinations(open_edges, 2):
            for at in {one.line[0], one.line[-1]} & {other.line[0], other.line[-1]}:
                if _turns(one.line, other.line, at) and not any(math.dist(at, corner) < ON_EDGE for corner in inner):
                    crossed = bool(one.wheels_cross or other.wheels_cross)
                    name, deep = f"at corner {self._shape.name_at(at)}", self._thickness.at(at)
                    own = _written(self._areas.at(at))
                    spots.append(WheelSpot("corner", name, deep, crossed, False, True, (one, other), *own))
        for joint in self._joints.all:
            if joint.joint.kind == "construction joint":
                deep, locked = self._thickness.least_along(joint.line, wheels), joint.joint.locked_by is not None
                own = _written(_thinnest(self._areas.along(joint.line), wheels))
                spots.append(WheelSpot("edge", f"at joint {joint.name}", deep, True, locked, False, (), *own))
        return tuple(spots)

    def _beside(self, piece: EdgePiece, areas: Sequence[Area]) -> bool:
        """Whether an edge runs along one of these areas, which are no walks or patios where others are."""
        return any(one is area and one.use not in WALKED for one in self._areas.along(piece.line) for area in areas)

    def leaf(self, fixture: Fixture) -> Leaf | None:
        """The highest spot of the slab under the leaves of a door or gate, all through their swing.

        None where there is no surface, the hinge is not said, or nothing of the swing is over the slab.
        """
        surface = self._finish.surface
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
        at, heights = self._finish.on_slab(np.array(spots))
        if not len(heights):
            return None
        # the first of equals, hinge outwards and closed first, so that the spot named does not hang on rounding
        highest = int(np.argmax(heights > heights.max() - 1e-7))
        return Leaf((float(at[highest, 0]), float(at[highest, 1])), float(heights.max()))

    def landing(self, fixture: Fixture, out: float) -> Landing | None:
        """The slab before a door, as wide as the door and ``out`` m deep: its steepest part, and how far it reaches.

        None where there is no surface, or no slab before the door.
        """
        surface = self._finish.surface
        if surface is None or len(fixture.along) < 2:
            return None
        start, end = (np.array([p.x, p.y]) for p in (fixture.along[0], fixture.along[-1]))
        size = float(np.hypot(*(end - start)))
        if size <= 4 * ON_EDGE:
            return None
        along = (end - start) / size
        square = np.array([-along[1], along[0]])
        if not self._shape.slab.contains(shapely.Point(*((start + end) / 2 + 2 * ON_EDGE * square))):
            square = -square
        inner = (start + along * 2 * ON_EDGE, end - along * 2 * ON_EDGE)  # what only touches the sides is not before it
        before = shapely.Polygon([*inner, inner[1] + square * out, inner[0] + square * out])
        covered = shapely.intersection(self._shape.slab, before)
        if covered.is_empty or covered.distance(shapely.Point(*((start + end) / 2))) > 4 * ON_EDGE:
            return None
        facets = surface.tree.query(before, predicate="intersects")
        parts = shapely.area(shapely.intersection(surface.facets[facets], before))
        facets = facets[parts > ON_EDGE * ON_EDGE]
        if not len(facets):
            return None
        steepest = float(surface.slopes[facets].max())
        reach = min(self._reach(foot, square, 10 * out) for foot in (inner[0], (start + end) / 2, inner[1]))
        corners = tuple((float(x), float(y)) for x, y in shapely.get_coordinates(before))
        return Landing(corners, steepest, reach, tuple(facets.tolist()))

    def _reach(self, foot: np.ndarray, way: np.ndarray, far: float) -> float:
        """How far the slab goes on from a place, m, ``far`` at most."""
        ray = shapely.LineString([foot + way * ON_EDGE, foot + way * far])
        parts = shapely.get_parts(shapely.intersection(self._shape.slab, ray))
        first = [part for part in parts if part.distance(shapely.Point(*foot)) < 2 * ON_EDGE]
        return max((float(part.length) + ON_EDGE for part in first), default=0.0)

    def route(self, points: Sequence[Point]) -> tuple[RouteStretch, ...]:
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
        clear = shapely.difference(slab, shapely.union_all([shapely.Point(at).buffer(size) for at, size in obstacles]))
        low_x, low_y, high_x, high_y = slab.bounds
        far, found = float(np.hypot(high_x - low_x, high_y - low_y)), []
        for p, q in pairwise(points):
            start, run = np.array([p.x, p.y]), np.array([q.x - p.x, q.y - p.y])
            size = float(np.hypot(*run))
            way = run / size
            stations = [float((np.array(at) - start) @ way) for at, _ in obstacles]
            stations += np.arange(ACROSS_EVERY, size, ACROSS_EVERY).tolist()
            for station in (one for one in stations if ACROSS_EVERY / 2 < one < size - ACROSS_EVERY / 2):
                foot, square = start + way * station, np.array([-way[1], way[0]]) * far
                across = shapely.LineString([foot - square, foot + square])
                own = [part for part in _lines(shapely.intersection(slab, across)) if _near(part, foot)]
                at_end = min(station, size - station) < COMES_ON
                if own and not (at_end and own[0].length < COMES_ON):
                    free = _lines(shapely.intersection(clear, own[0]))
                    found.append((max((part.length for part in free), default=0.0), (float(foot[0]), float(foot[1]))))
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
            found.append(Ramp(run, (_level(before), _level(after)), (not before, not after)))
            first = last + 1
        return tuple(found)

    @cached_property
    def along_sides(self) -> tuple[RouteStretch, ...]:
        """The falls along and across walks as people go: midway between their sides, along each long for its width.

        A side that bends is taken stretch by stretch. Empty without a finish surface, and where no side is twice as
        long as the walk is wide.
        """
        rings = [self._shape.ring.polygon]
        if self._areas.several:
            walks = shapely.union_all([area.polygon for area in self._areas.used("walk")])
            rings = [shapely.Polygon(part.exterior) for part in shapely.get_parts(walks)]
        return tuple(stretch for ring in rings for stretch in self._midway(ring))

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

    @cached_property
    def grade_breaks(self) -> tuple[GradeBreak, ...]:
        """The worst crest, sag and break at an edge, of the ways in over each edge that wheels cross."""
        surface = self._finish.surface
        if surface is None:
            return ()
        worst: dict[tuple[object, str, str], GradeBreak] = {}
        for piece, line in self._crossed():
            for way in self._ways(piece, line):
                for one in self._breaks(surface, way):
                    key = (piece.place, piece.name, one.kind)
                    if key not in worst or _change(one) > _change(worst[key]) + _SAME:
                        worst[key] = one
        return tuple(worst.values())

    def ways_out(self, piece: EdgePiece, within: float) -> tuple[tuple[XY, XY], ...]:
        """Straight ways over the slab square to an edge, from it to ``within`` m or to where the slab ends."""
        ways = self._ways(piece, shapely.LineString(piece.line))
        return tuple((_spot(way, 0.0), _spot(way, min(way.length, within))) for way in ways)

    def _crossed(self) -> Iterator[tuple[EdgePiece, shapely.LineString]]:
        """Edges that wheels cross, each with its line; pieces of one edge that hang together are one line."""
        edges: dict[tuple[object, str], list[EdgePiece]] = {}
        for piece in self._edges.pieces:
            if piece.wheels_cross:
                edges.setdefault((piece.place, piece.name), []).append(piece)
        for pieces in edges.values():
            lines = shapely.MultiLineString([piece.line for piece in pieces])
            for line in shapely.get_parts(shapely.line_merge(lines)):
                yield pieces[0], line

    def _ways(self, piece: EdgePiece, line: shapely.LineString) -> Iterator[_Way]:
        """Ways straight in over an edge, square to its chord."""
        ends = shapely.get_coordinates(line)[[0, -1]]
        chord = ends[1] - ends[0]
        if np.hypot(*chord) < LIP:
            return
        square = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
        low_x, low_y, high_x, high_y = self._shape.slab.bounds
        far = float(np.hypot(high_x - low_x, high_y - low_y))
        for share in STATIONS:
            foot = shapely.get_coordinates(line.interpolate(share, normalized=True))[0]
            for inward in (square, -square):
                ray = shapely.LineString([foot + inward * ON_EDGE / 2, foot + inward * far])
                length = _first(shapely.intersection(self._shape.slab, ray), foot)
                clear = _first(shapely.intersection(self._off_the_edges, ray), foot)
                if length - clear > LIP:  # from there on it only runs along an edge
                    length = clear
                if length > LIP:
                    yield _Way(piece, foot, inward, length + ON_EDGE / 2)
                    break

    @cached_property
    def _off_the_edges(self) -> shapely.Geometry:
        """The slab without a hairline along its edges, in which no way runs along one."""
        inner = self._shape.slab.buffer(-ON_EDGE / 4)
        shapely.prepare(inner)
        return inner

    def _breaks(self, surface: Surface, way: _Way) -> Iterator[GradeBreak]:
        """Every two stretches of a way that a car is on at once, and whose grades differ."""
        grades = self._grades(surface, way)
        for first, second in combinations(grades, 2):
            gap = second.low - first.high
            if gap > NEAR - _SAME or abs(second.grade - first.grade) < _SAME:
                continue
            at = way.foot + way.inward * (first.high + second.low) / 2
            kind: Literal["crest", "sag", "edge"] = "crest" if second.grade < first.grade else "sag"
            if first.outside or second.outside:
                kind = "edge"
            on_slab = second if first.outside else first
            inner = on_slab.high if first.outside else on_slab.low
            fold = ON_EDGE < inner < way.length - ON_EDGE
            yield GradeBreak(
                edge=way.edge.name,
                kind=kind,
                at=(float(at[0]), float(at[1])),
                before=first.grade,
                after=second.grade,
                lengths=(first.high - first.low, second.high - second.low),
                gap=max(gap, 0.0) if gap > 2 * ON_EDGE else 0.0,
                inner=_spot(way, inner) if kind == "edge" and fold else None,
            )

    def _grades(self, surface: Surface, way: _Way) -> list[_Grade]:
        """The grades of a way, going in: beyond the edge where the file gives it, over the slab, and beyond its end."""
        first, last = way.foot + way.inward * 1e-6, way.foot + way.inward * (way.length - 1e-6)
        distances, heights = surface.profile((float(first[0]), float(first[1])), (float(last[0]), float(last[1])))
        found: list[_Grade] = []
        for low, high, before, after in zip(distances, distances[1:], heights, heights[1:], strict=False):
            if np.isnan(before) or np.isnan(after) or high - low < ON_EDGE:
                continue
            grade = float((after - before) / (high - low))
            if found and abs(found[-1].grade - grade) < _SAME and low - found[-1].high < 2 * ON_EDGE:
                found[-1] = found[-1]._replace(high=float(high))
            else:
                found.append(_Grade(float(low), float(high), grade))
        found = [one for one in found if one.high - one.low > LIP - _SAME]
        beside = way.edge.edge.falls_to_slab if way.edge.edge else None
        if beside is not None:
            found.insert(0, _Grade(0.0, 0.0, -beside.si, outside=True))
        for piece in self._edges.at(_spot(way, way.length)):
            if piece.edge and piece.edge.falls_to_slab is not None:
                found.append(_Grade(way.length, way.length, piece.edge.falls_to_slab.si, outside=True))
                break
        return found


def _first(parts: shapely.Geometry, foot: np.ndarray) -> float:
    """The length of the part that begins at a place, m."""
    near = [part for part in shapely.get_parts(parts) if part.distance(shapely.Point(*foot)) < ON_EDGE]
    return max((float(part.length) for part in near), default=0.0)


def _thinnest(areas: Sequence[Area], counting: Sequence[Area]) -> Area:
    """The thinnest of some areas, of those that count where some do."""
    return min(
        [area for area in areas if any(area is one for one in counting)] or areas, key=lambda area: area.thickness.si
    )


def _written(area: Area) -> tuple[str, str]:
    return area.name, area.thickness_path


def _sides_of(ring: np.ndarray) -> list[np.ndarray]:
    """A closed line parted where it turns a corner; a bow stays one side."""
    runs = np.diff(ring, axis=0)
    ways = np.arctan2(runs[:, 1], runs[:, 0])
    turns = np.abs((np.diff(ways) + math.pi) % (2 * math.pi) - math.pi)
    cuts = [0, *(int(at) + 1 for at in np.nonzero(turns > CORNER)[0]), len(runs)]
    return [ring[low : high + 1] for low, high in pairwise(cuts)]


def _level(stretches: Sequence[RouteStretch]) -> float:
    """How far a way is level enough to rest on from its start, m."""
    far = 0.0
    for one in stretches:
        if max(one.running, one.cross) > LEVEL * (1 + 1e-9):
            break
        far += math.dist(*one.shape)
    return far


def _lines(shape: shapely.Geometry) -> list[shapely.LineString]:
    return [part for part in shapely.get_parts(shape).tolist() if part.geom_type == "LineString"]


def _near(part: shapely.LineString, foot: np.ndarray) -> bool:
    return bool(part.distance(shapely.Point(*foot)) < ON_EDGE)


class _Way(NamedTuple):
    """A straight way in over an edge."""

    edge: EdgePiece
    foot: np.ndarray
    inward: np.ndarray  # unit vector
    length: float  # to where the slab ends, m


class _Grade(NamedTuple):
    """A stretch of one grade; beyond the slab it has no length."""

    low: float
    high: float
    grade: float
    outside: bool = False


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


def _change(one: GradeBreak) -> float:
    return abs(one.after - one.before)


def _spot(way: _Way, distance: float) -> XY:
    at = way.foot + way.inward * distance
    return float(at[0]), float(at[1])


def _turns(one: Sequence[XY], other: Sequence[XY], at: XY) -> bool:
    """Whether two stretches of the outline that meet at a point make a corner there."""
    (ax, ay), (bx, by) = (line[1] if line[0] == at else line[-2] for line in (one, other))
    first, second = math.atan2(ay - at[1], ax - at[0]), math.atan2(by - at[1], bx - at[0])
    return abs(math.remainder(first - second, 2 * math.pi)) < math.pi - _CORNER
