"""The slab before the walls of buildings: how it falls off them, and its low lines."""

import math
from collections.abc import Container, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.model import Design
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.shape.outline import inside_corners
from slabwright.geometry.xy import XY
from slabwright.plan.channels import Channels
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.falls import WallFall, WallFalls, WallLine
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flights import Flights
from slabwright.plan.routes import Routes
from slabwright.plan.shape import ON_EDGE, Shape, line_through
from slabwright.plan.view import PlanView
from slabwright.plan.water import Trail, Water

IN_WALL = FOOT  # m: a door so near to an edge stands in it
AT_WALL = FOOT  # m: a low line nearer to a wall than this runs along it (common practice)
RETURN = 2.4384  # m, 8 ft: sides of bays, chimneys and jogs are no longer (common practice)
TO_CHANNEL = 3.048  # m, 10 ft: water that runs along a wall is in a channel by then (common practice)
OVER = 0.05  # m: a landing may reach so much further than what is asked of it
SLIVER = 0.02  # a smaller part of the slab may shed its water elsewhere
PASSAGE = 2 * TO_CHANNEL  # m, 20 ft: walls that face each other no further apart make a passage (common practice)
FACING = 0.91  # m, 3 ft: a wall in one line with the first, or nearly, does not face it
ACROSS = 0.5  # sine of 30 degrees: walls that turn by more look two ways
LANDING = 2.4384  # m, 8 ft: landings are poured no deeper (common practice)
WAY_DOWN = 0.03  # slope from which it is no landing any more (common practice)
WALKED_AT_MOST = 1 / 20  # slope of a way from which it is a ramp, `ada-2010`
AT_END = 0.61  # m, 2 ft: a low line with no more before its end has no fall of its own


class LowLine(NamedTuple):
    """A low line before a wall, from where it is met down to where its water leaves it."""

    xy: tuple[XY, ...]
    run: float  # m
    top: float  # finish heights at its ends, m
    low: float
    to_drain: bool  # it ends in a drain

    @property
    def slope(self) -> float:
        """How it falls along itself."""
        return (self.top - self.low) / self.run


class BeforeWall(NamedTuple):
    """The slab before one wall: its falls up to the first low line that is drained, and those low lines."""

    edge: EdgePiece
    falls: tuple[WallFall, ...]
    door_falls: tuple[WallFall, ...]  # near a door
    low_lines: tuple[LowLine, ...]


class Walls(PlanView):
    """What the slab does before buildings; without a finish surface nothing is known of it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"openings", "site", "fixtures", "units"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _fixtures: Fixtures
    _flights: Flights
    _channels: Channels
    _wall_falls: WallFalls
    _routes: Routes
    _water: Water

    def two_ways(self, at: XY) -> bool:
        """Whether the slab at a place falls off one wall and along it too, at a usual slope each.

        So it does where walls in two directions stand within 10 ft, and in a passage: there the water of two walls that
        face each other runs out between them.
        """
        near = [piece.line for piece in self._edges.buildings if nearest_on(piece.line, at)[0] < PASSAGE]
        close = [_way(line) for line in near if nearest_on(line, at)[0] < TO_CHANNEL]
        facing = (
            abs(math.sin(_way(line) - one)) < ACROSS and _beside(line, at) > FACING for line in near for one in close
        )
        return any(facing) or any(abs(math.sin(one - other)) > ACROSS for one in close for other in close)

    def before(self, within: float, door: float, accessible_door: float) -> tuple[BeforeWall, ...]:
        """The slab before each wall, ``within`` m of it; stretches of one edge in one line are one wall.

        Falls no further than ``door`` m from a door, or ``accessible_door`` m where the accessible way leads to it, are
        told apart, and those on a ramp of that way: across it the code lets less fall than before a wall. What a flight
        of steps covers is left out: rain falls on its treads.
        """
        lines = self._wall_falls.lines(within)
        starts = [line.low for line in lines if line.low]
        ways = dict(zip(starts, self._water.ways_from(starts), strict=True))
        zones = self._doors(door, accessible_door)
        return tuple(self._before(own, ways, zones, within) for own in _by_wall(lines))

    def _before(
        self,
        lines: Sequence[WallLine],
        ways: dict[XY, Trail],
        zones: Sequence[tuple[shapely.LineString, float]],
        within: float,
    ) -> BeforeWall:
        open_falls: list[WallFall] = []
        door_falls: list[WallFall] = []
        low_lines: list[LowLine] = []
        for line in lines:
            way, passes = ways[line.low] if line.low else None, self._passes(line)
            channel = self._to_channel(line)
            if channel is not None and (line.low is None or channel <= math.dist(line.foot, line.low) + ON_EDGE):
                reach = _door_reach(line, zones, bool(self._ramps))
                for fall in self._bare(line.falls) if channel > AT_WALL else ():
                    if fall.distance < channel - ON_EDGE:
                        own = door_falls if fall.far <= reach else open_falls
                        own.append(fall._replace(far=min(fall.far, channel), passes=passes))
                continue
            drained = way is not None and self._drained(line, way)
            reach = max(_door_reach(line, zones, bool(self._ramps)), self._ramp_reach(line))
            for fall in self._bare(line.falls[: line.before] if drained else line.falls):
                (door_falls if fall.far <= reach else open_falls).append(fall._replace(passes=passes))
            if way and drained:
                low_lines += self._low_line(line, way, within)
        return BeforeWall(lines[0].edge, tuple(open_falls), tuple(door_falls), tuple(low_lines))

    def _bare(self, falls: Sequence[WallFall]) -> Sequence[WallFall]:
        """The stretches that no flight of steps covers."""
        steps = self._flights.footprint
        return falls if steps is None else [one for one in falls if not steps.contains(shapely.Point(one.at))]

    def _to_channel(self, line: WallLine) -> float | None:
        """How far out along a line square to a wall the first channel lies, m; None where none does."""
        if not line.falls or not self._channels.all:
            return None
        out = line.falls[-1]
        (x, y), (to_x, to_y), reach = line.foot, out.at, out.far / math.dist(line.foot, out.at)
        way = shapely.LineString([(x, y), (x + (to_x - x) * reach, y + (to_y - y) * reach)])
        met = [way.intersection(shapely.LineString(one.line)) for one in self._channels.all]
        foot = shapely.Point(line.foot)
        return min((float(foot.distance(one)) for one in met if not one.is_empty), default=None)

    def _passes(self, line: WallLine) -> float:
        """How steeply the slab falls along a wall, from a line square to it to where its water leaves the building.

        That is the corner at the end of a short return, or a channel that ends at the wall.
        """
        wall, short = line.edge.line, line.edge.length <= RETURN + ON_EDGE
        ends = [
            at for at in (wall[0], wall[-1]) if short and any(math.dist(at, turn) < ON_EDGE for turn in self._turns)
        ]
        ends += [at for at in self._channel_ends if shapely.LineString(wall).distance(shapely.Point(at)) <= AT_WALL]
        ends = [at for at in ends if ON_EDGE < math.dist(line.foot, at) <= TO_CHANNEL]
        top = self._finish.at(line.foot) if ends else None
        if top is None:
            return 0.0
        lows = [(end, self._finish.at(end)) for end in ends]
        return max([0.0, *((top - low) / math.dist(line.foot, end) for end, low in lows if low is not None)])

    @cached_property
    def _channel_ends(self) -> tuple[XY, ...]:
        return tuple(at for one in self._channels.all for at in (one.line[0], one.line[-1]))

    @cached_property
    def _turns(self) -> tuple[XY, ...]:
        """Outside corners of buildings, where the slab goes round them."""
        ends = [at for piece in self._edges.buildings for at in (piece.line[0], piece.line[-1])]
        corners = [at for _, at, _ in inside_corners(self._shape.ring, False)]
        return tuple(at for at in corners if sum(math.dist(at, end) < ON_EDGE for end in ends) > 1)

    def _ramp_reach(self, line: WallLine) -> float:
        """How far out a ramp of the accessible way lies along a line square to a wall; below 0 where none does.

        The way is drawn down the middle of the ramp, so that the ramp reaches as far again.
        """
        if not self._ramps or not line.falls:
            return -1.0
        out = line.falls[-1]
        share = out.far / math.dist(line.foot, out.at)
        end = tuple(a + (b - a) * share for a, b in zip(line.foot, out.at, strict=True))
        square = shapely.LineString([line.foot, end])
        met = [shapely.shortest_line(square, ramp) for ramp in self._ramps if square.distance(ramp) < ON_EDGE]
        far = [math.dist(line.foot, one.coords[0]) for one in met]
        return 2 * min(far) + OVER if far else -1.0

    @cached_property
    def _ramps(self) -> list[shapely.LineString]:
        """The stretches of the accessible way that are ramps, with landings as long as they are poured at their ends.

        Of jobs under the US code, which knows them.
        """
        if self._design.home != "us" or len(self._design.site.accessible_route) < 2:
            return []
        stretches = self._routes.over(self._design.site.accessible_route)
        ramps = self._routes.ramps(stretches, WALKED_AT_MOST)
        lines = {one.shape: shapely.LineString(one.shape) for one in stretches}
        steep = {one.shape for ramp in ramps for one in ramp.stretches}
        flat = {one for way in (list(lines), list(lines)[::-1]) for one in _landings(way, lines, steep)}
        return [line for one, line in lines.items() if one in steep | flat]

    def _doors(self, door: float, accessible_door: float) -> list[tuple[shapely.LineString, float]]:
        """Each door, and how far before it less fall is let pass, m."""
        openings = [
            line_through(one.along) for one in self._design.fixtures if one.kind == "door" and len(one.along) > 1
        ]
        points = self._design.site.accessible_route
        if len(points) < 2:
            return [(opening, door) for opening in openings]
        route = line_through(points)
        return [(one, accessible_door if one.distance(route) < IN_WALL else door) for one in openings]

    def _drained(self, line: WallLine, way: Trail) -> bool:
        """Whether water of a low line keeps off the walls; only one that ends in a drain may lie at a wall.

        Where it stands instead is a low spot, and told as one.
        """
        at_wall = line.low is not None and math.dist(line.foot, line.low) < AT_WALL
        at_wall = at_wall and not self._out_of_corner(line)
        taken = way.to in self._takers or way.to in {pond.name for pond in self._water.ponds}
        return not self._touches(way) and (taken or not at_wall)

    def _out_of_corner(self, line: WallLine) -> bool:
        """Whether a low line is a valley that leads out of a corner in which two walls meet: away from both."""
        return line.low is not None and any(nearest_on(xy, line.low)[0] < ON_EDGE for xy in self._from_corners)

    @cached_property
    def _from_corners(self) -> list[tuple[XY, ...]]:
        ends = [(at, _way(piece.line)) for piece in self._edges.buildings for at in (piece.line[0], piece.line[-1])]

        def in_corner(at: XY) -> bool:
            met = [way for end, way in ends if math.dist(end, at) < ON_EDGE]
            return any(abs(math.sin(way - met[0])) > ACROSS for way in met[1:])

        return [xy for xy in self._wall_falls.valleys if in_corner(xy[0]) or in_corner(xy[-1])]

    def _low_line(self, line: WallLine, way: Trail, within: float) -> list[LowLine]:
        """A low line from where it is met down to where it leaves, or comes ``within`` m of the wall no more."""
        wall = shapely.LineString(line.edge.line)
        far = shapely.distance(wall, shapely.points(way.xy)).tolist()
        near = [at for at, off in zip(way.xy, far, strict=True) if off <= within]
        run = sum(math.dist(start, end) for start, end in pairwise(near))
        ends = [self._finish.at(at) for at in (near[0], near[-1])] if near else [None]
        if run < AT_END or None in ends:
            return []
        top, low = (z for z in ends if z is not None)
        return [LowLine(tuple(near), run, top, low, way.to in self._takers)]

    @cached_property
    def court(self) -> bool:
        """Whether the slab before the walls is a drained court: all its water but a sliver goes to single drains."""
        return sum(one.share for one in self._water.shares if one.to in self._drains) > 1 - SLIVER

    @cached_property
    def _drains(self) -> frozenset[str]:
        return frozenset(one.name for one in self._fixtures.all if one.fixture.kind == "drain")

    @cached_property
    def _takers(self) -> frozenset[str]:
        """Names of drains, channels, trench drains and openings that take water."""
        trenches = [piece.name for piece in self._edges.pieces if piece.beside == "trench drain"]
        openings = [opening.name for opening in self._design.openings if opening.takes_water]
        return frozenset((*trenches, *openings, *self._drains, *(one.name for one in self._channels.all)))

    @cached_property
    def _lines(self) -> tuple[shapely.LineString, ...]:
        return tuple(shapely.LineString(piece.line) for piece in self._edges.buildings)

    def _touches(self, way: Trail) -> bool:
        """Whether water touches a wall on its way, and no drain takes it there.

        The strip between a wall and a channel along it is left aside: it is no wider than the set of a threshold.
        """
        spots = shapely.points(way.xy[1:]) if self._lines and len(way.xy) > 1 else []
        near = [shapely.distance(line, spots) < ON_EDGE for line in self._lines]
        for number, at in enumerate(way.xy[1:]):
            taken = at == way.xy[-1] and way.to in self._takers
            for line, touches in zip(self._lines, near, strict=True) if not taken else ():
                if touches[number]:
                    return not (line.distance(shapely.Point(way.xy[0])) <= AT_WALL and self._channel_by(at))
        return False

    def _channel_by(self, at: XY) -> bool:
        """Whether a channel in the slab runs along a wall at a place."""
        spot = shapely.Point(at)
        return any(shapely.LineString(one.line).distance(spot) <= AT_WALL for one in self._channels.all)


def _by_wall(lines: Sequence[WallLine]) -> Sequence[list[WallLine]]:
    by_wall: dict[tuple[str, float, float], list[WallLine]] = {}
    for line in lines:
        (ax, ay), (bx, by) = line.edge.line[0], line.edge.line[-1]
        size = math.dist((ax, ay), (bx, by)) or 1.0
        key = line.edge.name, round((bx - ax) / size, 3), round((by - ay) / size, 3)
        by_wall.setdefault(key, []).append(line)
    return list(by_wall.values())


def _landings(
    way: Sequence[tuple[XY, XY]], lines: Mapping[tuple[XY, XY], shapely.LineString], steep: Container[tuple[XY, XY]]
) -> Iterator[tuple[XY, XY]]:
    """The stretches of a way behind its ramps, as far as a landing is poured: folds of the surface may part one."""
    left = 0.0
    for one in way:
        left = LANDING + OVER if one in steep else left - lines[one].length
        if one not in steep and left >= 0:
            yield one


def _door_reach(line: WallLine, zones: Sequence[tuple[shapely.LineString, float]], accessible: bool) -> float:
    """How far out the zone of a door of the same wall reaches along a line square to it; below 0 beside all zones.

    A landing that an ``accessible`` way comes up to by a ramp is as deep as it is drawn.
    """
    if not zones:
        return -1.0
    wall, foot = shapely.LineString(line.edge.line), shapely.Point(line.foot)
    reached = (
        zone + OVER for door, zone in zones if door.distance(foot) <= zone + OVER and door.distance(wall) < IN_WALL
    )
    reach = max(reached, default=-1.0)
    if reach > 0 and accessible and len(line.falls) == 1 and line.falls[0].far <= LANDING + OVER:
        reach = max(reach, line.falls[0].far)  # the slab ends with the landing
    if reach > 0 and len(line.falls) > 1:  # a landing is as deep as it is drawn: up to where the way down begins
        landing, way = line.falls[:2]
        if landing.distance < ON_EDGE and landing.far <= LANDING + OVER and way.away >= WAY_DOWN:
            reach = max(reach, landing.far)
    return reach


def _way(line: Sequence[XY]) -> float:
    """The direction of a wall, from end to end, radians."""
    return math.atan2(line[-1][1] - line[0][1], line[-1][0] - line[0][0])


def _beside(line: Sequence[XY], at: XY) -> float:
    """How far a place lies from the straight line through the ends of a wall, m."""
    way, (x, y) = _way(line), line[0]
    return abs(math.cos(way) * (at[1] - y) - math.sin(way) * (at[0] - x))
