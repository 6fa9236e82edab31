"""What everything that cannot move, and the falls that are asked, leave of the heights of the slab: clash or room.

Heights of the slab at places along its edges and its drawn valleys are differences of one another and of the datum:
a fixed thing holds the slab there between two heights, a fall asked holds one place so much above another. What lies
between the places is left open, so a clash found here is one on any surface; a low line that nobody drew, between a
wall and where the slab falls to, is not counted on.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, Literal

import numpy as np
import shapely

from slabwright.design.model import Design, Fixed
from slabwright.geometry.differences import Arc, forced, greatest
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.shape.outline import inside_corners
from slabwright.geometry.xy import XY
from slabwright.named_tuple import NamedTuple
from slabwright.plan.doors import Doors
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.falls import Falls
from slabwright.plan.finish import REACH, Finish
from slabwright.plan.fixed import HANGING
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flights import Flights
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.thickness import Thickness
from slabwright.plan.walls import RETURN
from slabwright.plan.water import Water
from slabwright.source.place import Place

MOVED = ("slab", "other", "sill")  # an old slab is taken out, a threshold cut; a street and a wall stay
PUBLIC = re.compile(r"public|town|city|county|municipal|state|highway|sidewalk", re.IGNORECASE)  # nobody's to move
SHORT = 0.3048  # m: over less than a foot no fall is asked for
SIDE_BY_SIDE = 0.001  # m: two spots nearer to each other are taken this far apart
WITHIN = 3.048  # m, 10 ft: so near to a building the slab falls away from it (the US dwelling code, recalled)
AT_DOOR = 0.9144  # m, 36 in: so near to a door less fall is let pass
IN_WALL = 0.3  # m: a door so near to the slab stands at it
MOST_SHOTS = 8  # of the base: the highest, which ask the most
MOST_GROUND = 6  # places of a stretch of ground
MOST_HELD = 40  # things: a slab with more of them is looked at by its first
MOST_CORNERS = 12  # inside corners that ways lead round
MOST_SPOTS = 50
ANY = 1e3  # a fall, or a depth in m, beyond every one that is asked
FLUSH = ("old slab", "public slab", "wheels over", "old step")  # held from both sides, within a lip
AT_MOST = frozenset({"steepest", "door step", "base", *FLUSH})  # the amounts asked of these are greatest ones
PAVED = ("existing slab", "asphalt")
FALLS = {"us": 0.762, "metric": 0.6}  # m, 30 in: so far down it is no lip, and people fall
Bound = tuple[int, float, float]  # which held thing, and between which heights it holds the slab, m


HeightAsked = Literal[
    "steepest", "door step", "base", "old slab", "public slab", "wheels over", "old step", "lip", "away", "low line",
    "outlet",
]  # fmt: skip


class Held(NamedTuple):
    """Something that cannot move and binds the heights of the slab."""

    name: str
    place: Place
    moves: bool  # whether it may be asked to: what serves a required exit or an accessible way is not
    hung: bool  # it belongs to a building


class Tight(NamedTuple):
    """How much of one thing can be asked of the heights, and what allows no more; no less, of what is asked at most."""

    amount: float  # a slope, or a depth in m; below zero where it cannot but be the other way round
    run: float  # over which it is asked, m; 1 for each place where it is a depth
    held: tuple[Held, ...]
    label: str  # of what is asked: the wall, the valley, the door
    others: tuple[tuple[HeightAsked, str], ...]  # what else is asked that allows no more
    at: tuple[XY, ...]  # between these places, from the one that lies higher by it


class HeldRoom(NamedTuple):
    """How far a held thing, alone, could be raised and brought down, m; inf where nothing ends it."""

    held: Held
    up: float
    down: float

    @property
    def change(self) -> float:
        """How far it has to move so that all can hold, m: above zero raised; 0 where it may stay."""
        return self.up if self.up < 0 else -self.down if self.down < 0 else 0.0


class _Chain(NamedTuple):
    """Where a held thing holds the slab: its spots in order, and the lowest and the highest slab at each, m."""

    held: int
    spots: tuple[tuple[XY, float, float], ...]
    asked: HeightAsked | None = None  # asked by a limit, and only on top of the heights: the lowest, or both if flush


class _Spot(NamedTuple):
    """A place of the slab, and what holds it there."""

    at: XY
    held: int  # -1: nothing does
    low: float
    high: float
    asked: HeightAsked | None = None


class _Asks(NamedTuple):
    """One thing asked of two heights: an arc whose ``run`` is that of the amount asked, and what is named with it."""

    sort: HeightAsked | None  # None: what is fixed
    arc: Arc
    label: str = ""


class Agreement:
    """The heights that cannot move and the falls that are asked, as one system of differences."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"fixed", "heights", "loads", "openings", "site", "units"})

    def __init__(
        self,
        design: Design,
        shape: Shape,
        finish: Finish,
        edges: Edges,
        fixtures: Fixtures,
        doors: Doors,
        flights: Flights,
        falls: Falls,
        water: Water,
        thickness: Thickness,
    ) -> None:
        self._design = design
        self._shape = shape
        self._finish = finish
        self._edges = edges
        self._fixtures = fixtures
        self._doors = doors
        self._flights = flights
        self._falls = falls
        self._water = water
        self._thickness = thickness

    # what holds the slab -------------------------------------------------------------------------------------------

    @cached_property
    def held(self) -> tuple[Held, ...]:
        """Everything that cannot move and binds the slab: fixed heights, doors, drains, ground, the base as it is."""
        return self._gathered[0]

    @cached_property
    def _gathered(self) -> tuple[tuple[Held, ...], tuple[_Chain, ...]]:
        held: list[Held] = []
        chains: list[_Chain] = []

        def add(one: Held, spots: Sequence[tuple[XY, float, float]], asked: HeightAsked | None = None) -> None:
            if spots and (one in held or len(held) < MOST_HELD):
                held.extend(() if one in held else (one,))
                chains.append(_Chain(held.index(one), tuple(spots), asked))

        design = self._design
        for fixed in design.fixed:
            hung = fixed.kind in HANGING
            moves = self._moves(fixed) and fixed.kind in MOVED and not PUBLIC.search(fixed.name)
            add(Held(fixed.name, fixed.place, moves, hung), list(self._asked_by(fixed)))
        for one in self._fixtures.all:
            fixture, sill = one.fixture, one.fixture.sill
            off = self._shape.slab.distance(shapely.Point(one.at))
            if fixture.kind == "door" and sill is not None and off < IN_WALL:
                top = sill.si - self._flights.poured_rise(one.name)
                at = self._on_slab(one.at)
                stepped = not (self._doors.for_vehicles(one) or self._doors.accessible(one))
                low = top if stepped and self._at_wall(at) else -math.inf
                add(Held(one.name, fixture.place, False, True), [(at, low, top)], "door step")
            elif fixture.kind == "drain" and fixture.rim is not None and off < ON_EDGE:
                add(Held(f"the rim of {one.name}", fixture.place, True, False), [(one.at, fixture.rim.si, math.inf)])
        self._ground(add)
        self._old_slabs(add)
        inside = [spot for spot in design.heights.base if self._shape.slab.covers(shapely.Point(spot.at.x, spot.at.y))]
        inside = sorted(inside, key=lambda spot: -spot.height.si)[:MOST_SHOTS]
        places = [((spot.at.x, spot.at.y), spot.height.si) for spot in inside]
        for_base = [(at, low + self._thickness.body_at(at), math.inf) for at, low in places]
        add(Held("the base as shot", design.place("heights.base"), True, False), for_base, "base")
        return tuple(held), tuple(chains)

    def _asked_by(self, fixed: Fixed) -> Iterator[tuple[XY, float, float]]:
        """The points of a fixed height that lie at the slab, brought to it; none where it asks nothing."""
        low, high = (fixed.slab.low, fixed.slab.high) if fixed.slab else (None, None)
        if fixed.slab is None and fixed.kind in HANGING:
            high = 0.0
        if fixed.slab is None and fixed.kind == "gutter":
            low = 0.0
        if low is None and high is None:
            return
        levels = [one.si for one in fixed.height] * (len(fixed.along) if len(fixed.height) == 1 else 1)
        for point, level in zip(fixed.along, levels, strict=True):
            if self._shape.slab.distance(shapely.Point(point.x, point.y)) <= REACH:
                yield (
                    self._on_slab((point.x, point.y)),
                    -math.inf if low is None else level + low,
                    math.inf if high is None else level + high,
                )

    def _ground(self, add: Callable[..., None]) -> None:
        """The ground beside the one edge over which water may leave; of more than one any may be the way."""
        takers = [piece for piece in self._edges.pieces if piece.takes_water and not piece.dams]
        if len(self._water.outlets) != 1 or not takers:
            return
        for piece in takers:
            if piece.ground is not None and not self._is_fixed(piece):
                spots = [(at, low, math.inf) for at, low in _stations(piece)]
                add(self._beside(piece, not piece.edge or not piece.edge.guard), spots, "lip")

    def _old_slabs(self, add: Callable[..., None]) -> None:
        """Old slabs and asphalt that the slab meets flush, or in a step that is planned; a flight settles its own."""
        for piece in self._edges.pieces:
            drops = [top - low for top, low in zip(piece.finish or (), piece.ground or (), strict=False)]
            if piece.beside not in PAVED or piece.ground is None or self._is_fixed(piece):
                continue
            stepped = bool(piece.edge and piece.edge.planned_step)
            if max(drops, default=0.0) > FALLS[self._design.system] or (stepped and self._flights.up_to(piece.name)):
                continue
            spots = [(at, level, level) for at, level in _stations(piece)]
            add(self._beside(piece, self._old_moves(piece)), spots, self._met(piece, stepped))

    def _met(self, piece: EdgePiece, stepped: bool) -> HeightAsked:
        """How a slab meets an old one, as `trip-at-existing-slab` tells them apart."""
        said = bool(piece.edge and piece.edge.wheels_cross)
        wheels = said or (piece.wheels_cross and bool(self._design.loads))
        if stepped:
            return "old step"
        if self._on_way(piece) or (self._design.site.right_of_way and not wheels):
            return "public slab"
        return "wheels over" if wheels else "old slab"

    def _on_way(self, piece: EdgePiece) -> bool:
        way = self._design.site.accessible_route
        return any(nearest_on(piece.line, (point.x, point.y))[0] < ON_EDGE for point in way)

    def _old_moves(self, piece: EdgePiece) -> bool:
        """Whether an old slab may be taken out: not nobody's, nor one on an accessible way."""
        public = bool(piece.edge and PUBLIC.search(piece.edge.name)) or bool(self._design.site.right_of_way)
        return not public and not self._on_way(piece)

    def _is_fixed(self, piece: EdgePiece) -> bool:
        """Whether what stands beside an edge is one of the fixed heights too."""
        fixed = [one for one in self._design.fixed if list(self._asked_by(one))]
        return any(all(nearest_on(piece.line, (p.x, p.y))[0] < REACH for p in one.along) for one in fixed)

    @staticmethod
    def _beside(piece: EdgePiece, moves: bool) -> Held:
        name = piece.edge.name if piece.edge and piece.edge.name else f"the {piece.beside}"
        return Held(name, piece.place, moves, False)

    def _moves(self, fixed: Fixed) -> bool:
        """Whether a fixed height may be asked to move: not at a required exit, nor on an accessible way."""
        points = [(p.x, p.y) for p in fixed.along]
        line = shapely.LineString(points) if len(points) > 1 else shapely.Point(points[0])
        way = self._design.site.accessible_route
        doors = [one for one in self._doors.all if one.fixture.required_exit or self._doors.accessible(one)]
        at_door = any(self._doors.line(one).distance(line) <= IN_WALL for one in doors)
        return not at_door and all(line.distance(shapely.Point(end.x, end.y)) > REACH for end in (*way[:1], *way[-1:]))

    def _on_slab(self, at: XY) -> XY:
        x, y = shapely.get_coordinates(shapely.shortest_line(self._shape.slab, shapely.Point(at)))[0].tolist()
        return x, y

    def _at_wall(self, at: XY) -> bool:
        return any(piece.beside == "building" for piece in self._edges.at(at))

    def _drains(self, at: XY) -> bool:
        return any(piece.takes_water and not piece.dams for piece in self._edges.at(at))

    # the system ----------------------------------------------------------------------------------------------------

    @cached_property
    def _system(self) -> tuple[tuple[_Spot, ...], tuple[_Asks, ...]]:
        """Every place, and everything asked; heights are numbered: the datum, the held things, the places."""
        held, chains = self._gathered
        if len(held) < 2:
            return (), ()
        spots: list[_Spot] = []
        numbers: dict[tuple[int, HeightAsked | None, int, int], int] = {}
        asks: list[_Asks] = []
        for thing in range(1, len(held) + 1):
            asks += [_Asks(None, Arc(thing, 0, 0.0)), _Asks(None, Arc(0, thing, 0.0))]

        def put(at: XY, bounds: Sequence[tuple[_Chain | None, Bound]]) -> list[int]:
            found = []
            for chain, (thing, low, high) in bounds:
                sort = chain.asked if chain else None
                key = thing, sort, round(at[0] * 1000), round(at[1] * 1000)
                if key not in numbers and len(spots) >= MOST_SPOTS:
                    continue
                if key not in numbers:
                    number = numbers[key] = len(held) + 1 + len(spots)
                    spots.append(_Spot(at, thing, low, high, sort))
                    if math.isfinite(low):
                        arc = Arc(number, thing + 1, low, 0.0 if sort is None else 1.0)
                        asks.append(_Asks(sort, arc, held[thing].name))
                    if math.isfinite(high):
                        flush = sort if sort in FLUSH else None
                        arc = Arc(thing + 1, number, -high, 0.0 if flush is None else 1.0)
                        asks.append(_Asks(flush, arc, held[thing].name))
                found.append(numbers[key])
            return found

        def at_place(at: XY) -> list[int]:
            """The numbers of a place: one for each thing that holds the slab there."""
            bounds = [(chain, bound) for chain in chains if (bound := _between(chain, at)) is not None]
            return put(at, bounds or [(None, (-1, -math.inf, math.inf))])

        for at in (at for chain in chains for at, _, _ in chain.spots):
            if len(spots) < MOST_SPOTS:
                at_place(at)
        bound = [spot.at for spot in spots]
        for sort, label, start, end, run in (*self._off_walls(bound), *self._along_valleys(bound)):
            for upper in at_place(start):
                asks += [_Asks(sort, Arc(upper, lower, 0.0, run), label) for lower in at_place(end)]
        asks += self._to_outlets(spots, len(held) + 1)
        for at in self._turns():
            put(at, [(None, (-1, -math.inf, math.inf))])
        asks += self._no_steeper(spots, len(held) + 1)
        return tuple(spots), tuple(asks)

    def _no_steeper(self, spots: Sequence[_Spot], first: int) -> Iterator[_Asks]:
        """Every two places in sight of each other, either way."""
        pairs = [(p, q) for p in range(len(spots)) for q in range(p)]
        lines = shapely.linestrings([[spots[p].at, spots[q].at] for p, q in pairs]) if pairs else []
        near = self._shape.slab.buffer(ON_EDGE)
        shapely.prepare(near)
        seen = shapely.covers(near, lines) if pairs else []
        for (p, q), sight in zip(pairs, seen, strict=True):
            if sight:
                run = max(math.dist(spots[p].at, spots[q].at), SIDE_BY_SIDE)
                yield _Asks("steepest", Arc(first + p, first + q, 0.0, run))
                yield _Asks("steepest", Arc(first + q, first + p, 0.0, run))

    def _turns(self) -> list[XY]:
        """Corners of the slab and its openings that ways lead round."""
        rings = ((self._shape.ring, False), *((ring, True) for ring in self._shape.opening_rings))
        return [at for ring, hole in rings for _, at, _ in inside_corners(ring, hole)][:MOST_CORNERS]

    def _off_walls(self, bound: Sequence[XY]) -> Iterator[tuple[HeightAsked, str, XY, XY, float]]:
        """Lines square to a building out to where the slab ends, or meets a drawn valley, within 10 ft.

        None before a wall where something else may come between: a drain, an opening that takes water, heights drawn
        inside the slab, or a low line of the surface as drawn.
        """
        valleys = [line for line, _ in self._valleys]
        doors = [self._doors.line(one) for one in self._doors.all]
        side = 1.0 if self._shape.ring.ccw else -1.0
        for piece in self._edges.pieces:
            if piece.beside != "building" or piece.length <= RETURN + ON_EDGE or not self._open_before(piece):
                continue
            for start, end in pairwise(piece.line):
                size = math.dist(start, end)
                if size < ON_EDGE:
                    continue
                x, y = (end[0] - start[0]) / size, (end[1] - start[1]) / size
                square = -y * side, x * side
                feet = {round((at[0] - start[0]) * x + (at[1] - start[1]) * y, 4) for at in bound}
                for along in sorted(foot for foot in feet if -ON_EDGE <= foot <= size + ON_EDGE):
                    foot = start[0] + x * along, start[1] + y * along
                    far = self._far(foot, square, valleys)
                    run = math.dist(foot, far) if far is not None else 0.0
                    if far is None or not SHORT < run <= WITHIN + ON_EDGE or self._at_wall(far):
                        continue
                    at_door = any(door.distance(shapely.Point(foot)) <= AT_DOOR for door in doors)
                    run -= AT_DOOR if at_door else 0.0
                    if run > SHORT:
                        yield "away", piece.name, foot, far, run

    def _far(self, foot: XY, square: XY, valleys: Sequence[shapely.LineString]) -> XY | None:
        """Where a line square to a wall meets a drawn valley, or the rim."""
        rim = self._shape.ahead(foot, square)
        if rim is None:
            return None
        way = shapely.LineString([foot, rim])
        met = [at for line in valleys for at in shapely.get_coordinates(shapely.intersection(way, line)).tolist()]
        met = [at for at in met if math.dist(at, foot) > SHORT]
        x, y = min(met, key=lambda at: math.dist(at, foot), default=rim)
        return x, y

    def _open_before(self, wall: EdgePiece) -> bool:
        """Whether the slab before a wall can only fall away from it in one go, or to a drawn valley."""
        line = shapely.LineString(wall.line)
        takers = [shapely.Point(one.at) for one in self._fixtures.all if one.fixture.kind == "drain"]
        takers += [
            ring.polygon
            for opening, ring in zip(self._design.openings, self._shape.opening_rings, strict=True)
            if opening.takes_water
        ]
        drawn = [valley for valley, _ in self._valleys]
        inner = [shapely.Point(spot.at.x, spot.at.y) for spot in self._design.heights.finish]
        inner = [
            at for at in inner
            if self._shape.slab.boundary.distance(at) > ON_EDGE and all(one.distance(at) > ON_EDGE for one in drawn)
        ]  # fmt: skip
        if any(line.distance(one) < WITHIN for one in (*takers, *inner)):
            return False
        lines = self._falls.square_to_walls(WITHIN) if self._finish.surface is not None and not drawn else ()
        return all(one.low is None for one in lines if one.edge.name == wall.name)

    @cached_property
    def _valleys(self) -> tuple[tuple[shapely.LineString, str], ...]:
        lines = [line for line in self._design.heights.lines if line.kind == "valley" and len(line.along) > 1]
        return tuple((shapely.LineString([(p.x, p.y) for p in one.along]), one.name or "the valley") for one in lines)

    def _along_valleys(self, bound: Sequence[XY]) -> Iterator[tuple[HeightAsked, str, XY, XY, float]]:
        """Stretches of a drawn valley down to its one end at which water may leave."""
        valleys = [line for line, _ in self._valleys]
        met = [far for _, _, _, far, _ in self._off_walls(bound)]
        for line, name in self._valleys:
            ends = list(line.coords)
            open_ends = [end for end in (ends[0], ends[-1]) if self._drains(end) or self._drain_at(end)]
            if len(open_ends) != 1 or any(one is not line and one.intersects(line) for one in valleys):
                continue
            on_it = {round(float(line.project(shapely.Point(at))), 4) for at in ends}
            on_it |= {
                round(float(line.project(shapely.Point(at))), 4)
                for at in (*met, *bound)
                if line.distance(shapely.Point(at)) < ON_EDGE
            }
            stations = sorted(on_it, reverse=open_ends[0] == ends[0])
            places = [line.interpolate(station) for station in stations]
            if any(self._drain_at((at.x, at.y)) for at in places[:-1]):
                continue
            for (a, one), (b, other) in pairwise(zip(stations, places, strict=True)):
                yield "low line", name, (one.x, one.y), (other.x, other.y), abs(b - a)

    def _drain_at(self, at: XY) -> bool:
        return any(one.fixture.kind == "drain" and math.dist(one.at, at) < SHORT for one in self._fixtures.all)

    def _to_outlets(self, spots: Sequence[_Spot], first: int) -> Iterator[_Asks]:
        """From each spot held at a wall to the nearest held one at which water may leave.

        None where an edge that takes water, and that this outlet is no part of, is nearer to the wall.
        """
        near = self._shape.slab.buffer(ON_EDGE)
        gutters = {k for k, one in enumerate(self.held) if any(f.name == one.name and f.kind == "gutter"
                                                               for f in self._design.fixed)}  # fmt: skip
        walls = [
            k for k, one in enumerate(spots)
            if math.isfinite(one.high) and one.asked not in FLUSH and self._at_wall(one.at)
        ]  # fmt: skip
        outlets = [
            k for k, one in enumerate(spots)
            if math.isfinite(one.low) and one.asked not in FLUSH and not self._at_wall(one.at)
            and (one.held in gutters or self._drains(one.at))
            and self.held[one.held].name != "the base as shot"
        ]  # fmt: skip
        for p in walls:
            runs = [
                (round(math.dist(spots[p].at, spots[q].at), 6), q) for q in outlets if spots[q].held != spots[p].held
            ]
            runs = [
                (run, q) for run, q in runs
                if run > SHORT and near.covers(shapely.LineString([spots[p].at, spots[q].at]))
            ]  # fmt: skip
            if runs and not self._drains_nearer(spots[p].at, spots[min(runs)[1]].at):
                run, q = min(runs)
                yield _Asks("outlet", Arc(first + p, first + q, 0.0, run))

    def _drains_nearer(self, wall: XY, outlet: XY) -> bool:
        """Whether an edge that takes water, and that the outlet is no part of, is nearer to a spot at a wall."""
        spot, run = shapely.Point(wall), math.dist(wall, outlet)
        at_outlet, at_wall = self._edges.at(outlet), self._edges.at(wall)
        return any(
            piece.takes_water and not piece.dams and shapely.LineString(piece.line).distance(spot) < run - ON_EDGE
            for piece in self._edges.pieces
            if piece not in at_outlet and piece not in at_wall
        )

    # answers -------------------------------------------------------------------------------------------------------

    @property
    def _count(self) -> int:
        return 1 + len(self.held) + len(self._system[0])

    def tight(self, sort: HeightAsked, kept: Mapping[HeightAsked, float]) -> Tight | None:
        """The most of one thing that can be asked (of what is asked at most, the least), and what allows no more.

        ``kept`` are the amounts of other things that are kept as well. None where nothing is asked, or nothing
        binds it; the least greatest fall is then level.
        """
        asks = [one for one in self._system[1] if one.sort in (None, sort) or one.sort in kept]
        sign = -1.0 if sort in AT_MOST else 1.0
        if not any(one.sort == sort for one in asks):
            return None
        arcs = [one.arc if one.sort == sort else self._with(one, kept) for one in asks]
        found = greatest(self._count, arcs, 0.0 if sort in AT_MOST else ANY)
        if found is None and sort == "steepest":
            level = {spot.held: spot.at for spot in reversed(self._system[0]) if spot.held >= 0}
            return Tight(0.0, 0.0, tuple(self.held[k] for k in sorted(level)), "", (), tuple(level.values()))
        if found is None or not math.isfinite(found.amount):
            return None
        chain = [asks[number] for number in found.chain]
        own = [one for one in chain if one.sort == sort]
        first = chain.index(own[0])
        round_ = (*chain[first:], *chain[:first])
        order = [one.arc.upper - 1 for one in round_ if 0 < one.arc.upper <= len(self.held)]
        if not order:
            return None
        order = order if sort in AT_MOST else order[::-1]
        at = [self._at(number) for one in own for number in (one.arc.upper, one.arc.lower)]
        if sort in AT_MOST:
            at = at[::-1]
        return Tight(
            amount=sign * found.amount,
            run=sum(one.arc.run for one in own),
            held=tuple(self.held[number] for number in dict.fromkeys(order)),
            label=own[0].label,
            others=tuple(
                dict.fromkeys(
                    (one.sort, one.label)
                    for one in chain
                    if one.sort not in (None, sort) and one.arc.run > SIDE_BY_SIDE
                )
            ),
            at=tuple(dict.fromkeys(spot for spot in at if spot is not None)),
        )

    def _at(self, number: int) -> XY | None:
        spots = self._system[0]
        place = number - len(self.held) - 1
        return spots[place].at if place >= 0 else None

    def _with(self, one: _Asks, kept: Mapping[HeightAsked, float]) -> Arc:
        """An arc with the amount that is kept of it."""
        arc = one.arc
        if one.sort is None:
            return arc
        amount = kept[one.sort] * (-1.0 if one.sort in AT_MOST else 1.0)
        return Arc(arc.upper, arc.lower, arc.least + arc.run * amount)

    def rooms(self, kept: Mapping[HeightAsked, float]) -> tuple[HeldRoom, ...]:
        """How far each held thing, alone, could be raised or brought down so that all that is kept can hold.

        Where the one is below zero it has to go the other way: so much, at least. Things with which nothing can hold,
        however they move, are left out.
        """
        asks = [one for one in self._system[1] if one.sort is None or one.sort in kept]
        found = []
        for thing, one in enumerate(self.held, 1):
            arcs = [self._with(ask, kept) for ask in asks if not _anchors(ask, thing)]
            lies = forced(self._count, arcs)
            if lies is not None:
                found.append(HeldRoom(one, float(-lies[0, thing]), float(-lies[thing, 0])))
        return tuple(found)


def _stations(piece: EdgePiece) -> list[tuple[XY, float]]:
    """Places along an edge with the height beside it, m; of a long chain some of them."""
    every = max(1, (len(piece.line) - 1) // (MOST_GROUND - 1))
    line = list(zip(piece.line, piece.ground or (), strict=True))
    return list(dict.fromkeys((*line[:-1:every], line[-1])))


def _anchors(ask: _Asks, thing: int) -> bool:
    """Whether an arc ties a held thing to the datum."""
    return {ask.arc.upper, ask.arc.lower} == {0, thing}


def _between(chain: _Chain, at: XY) -> Bound | None:
    """What a held thing asks at a place on it, straight between its spots; None where it is not there."""
    for spot, low, high in chain.spots:
        if math.dist(spot, at) < ON_EDGE:
            return chain.held, low, high
    if chain.asked == "base":
        return None
    for (start, low, high), (end, last_low, last_high) in pairwise(chain.spots):
        size = math.dist(start, end)
        away, _, share = nearest_on((start, end), at) if size > ON_EDGE else (math.inf, 0, 0.0)
        if away < ON_EDGE:
            between = np.array([low, high]) * (1 - share) + np.array([last_low, last_high]) * share
            return chain.held, float(between[0]), float(between[1])
    return None
