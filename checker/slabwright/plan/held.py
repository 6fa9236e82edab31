"""Everything that cannot move and binds the heights of the slab, and between which heights it holds the slab."""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.design.heights import Fixed
from slabwright.design.model import Design
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.xy import XY
from slabwright.plan.doors import Doors
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.exits import Exits
from slabwright.plan.finish import REACH
from slabwright.plan.fixed import HANGING
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flights import Flights
from slabwright.plan.shape import ON_EDGE, Shape, line_through
from slabwright.plan.thickness import Thickness
from slabwright.plan.view import PlanView
from slabwright.source.place import Place

MOVED = ("slab", "other", "sill")  # an old slab is taken out, a threshold cut; a street and a wall stay
PUBLIC = re.compile(r"public|town|city|county|municipal|state|highway|sidewalk", re.IGNORECASE)  # nobody's to move
IN_WALL = 0.3  # m: a door so near to the slab stands at it
MOST_SHOTS = 8  # of the base: the highest, which ask the most
MOST_GROUND = 6  # places of a stretch of ground
MOST_HELD = 40  # things: a slab with more of them is looked at by its first
FLUSH = ("old slab", "public slab", "wheels over", "wheel step", "old step")  # held from both sides, within a lip
PAVED = ("existing slab", "asphalt")
ROADS = ("street", "curb")  # which stay as they lie
FALLS = {"us": 0.762, "metric": 0.6}  # m, 30 in: so far down it is no lip, and people fall
BASE = "the base as shot"
Bound = tuple[int, float, float]  # which held thing, and between which heights it holds the slab, m


HeightAsked = Literal[
    "steepest", "door step", "base", "old slab", "public slab", "wheels over", "wheel step", "old step", "lip", "away",
    "low line", "outlet",
]  # fmt: skip


class Held(NamedTuple):
    """Something that cannot move and binds the heights of the slab."""

    name: str
    place: Place
    moves: bool  # whether it may be asked to: what serves a required exit or an accessible way is not
    hung: bool  # it belongs to a building


class Chain(NamedTuple):
    """Where a held thing holds the slab: its spots in order, and the lowest and the highest slab at each, m."""

    held: int
    spots: tuple[tuple[XY, float, float], ...]
    asked: HeightAsked | None = None  # asked by a limit, and only on top of the heights: the lowest, or both if flush

    def at(self, at: XY) -> Bound | None:
        """What the thing asks at a place on it, straight between its spots; None where it is not there."""
        for spot, low, high in self.spots:
            if math.dist(spot, at) < ON_EDGE:
                return self.held, low, high
        if self.asked == "base":
            return None
        for (start, low, high), (end, last_low, last_high) in pairwise(self.spots):
            size = math.dist(start, end)
            away, _, share = nearest_on((start, end), at) if size > ON_EDGE else (math.inf, 0, 0.0)
            if away < ON_EDGE:
                between = np.array([low, high]) * (1 - share) + np.array([last_low, last_high]) * share
                return self.held, float(between[0]), float(between[1])
        return None


class HeldHeights(PlanView):
    """Fixed heights, doors, drains, ground beside the slab, and the base as it is."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"fixed", "heights", "loads", "site", "units"})
    _design: Design
    _shape: Shape
    _edges: Edges
    _fixtures: Fixtures
    _doors: Doors
    _flights: Flights
    _exits: Exits
    _thickness: Thickness

    @property
    def all(self) -> tuple[Held, ...]:
        """Every one of them."""
        return self._gathered[0]

    @property
    def chains(self) -> tuple[Chain, ...]:
        """Where they hold the slab; one thing may hold it in several stretches."""
        return self._gathered[1]

    @cached_property
    def _gathered(self) -> tuple[tuple[Held, ...], tuple[Chain, ...]]:
        held: list[Held] = []
        chains: list[Chain] = []

        def add(one: Held, spots: Sequence[tuple[XY, float, float]], asked: HeightAsked | None = None) -> None:
            if spots and (one in held or len(held) < MOST_HELD):
                held.extend(() if one in held else (one,))
                chains.append(Chain(held.index(one), tuple(spots), asked))

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
                at = self._shape.nearest(one.at)
                stepped = not (self._doors.for_vehicles(one) or self._doors.accessible(one))
                low = top if stepped and self._edges.at_building(at) else -math.inf
                add(Held(one.name, fixture.place, False, True), [(at, low, top)], "door step")
            elif fixture.kind == "drain" and fixture.rim is not None and off < ON_EDGE:
                add(Held(f"the rim of {one.name}", fixture.place, True, False), [(one.at, fixture.rim.si, math.inf)])
        self._ground(add)
        self._old_slabs(add)
        inside = [spot for spot in design.heights.base if self._shape.slab.covers(shapely.Point(spot.at.x, spot.at.y))]
        inside = sorted(inside, key=lambda spot: -spot.height.si)[:MOST_SHOTS]
        places = [((spot.at.x, spot.at.y), spot.height.si) for spot in inside]
        for_base = [(at, low + self._thickness.body_at(at), math.inf) for at, low in places]
        add(Held(BASE, design.place("heights.base"), True, False), for_base, "base")
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
                    self._shape.nearest((point.x, point.y)),
                    -math.inf if low is None else level + low,
                    math.inf if high is None else level + high,
                )

    def _ground(self, add: Callable[..., None]) -> None:
        """The ground beside the one edge over which water may leave; of more than one any may be the way."""
        takers = [piece for piece in self._edges.pieces if piece.lets_water_out]
        if len(self._exits.outlets) != 1 or not takers:
            return
        for piece in takers:
            if piece.ground is not None and not piece.ground_follows and not self._is_fixed(piece):
                spots = [(at, low, math.inf) for at, low in _stations(piece)]
                public = piece.beside in ROADS or PUBLIC.search(piece.name)
                add(self._beside(piece, not public and not (piece.edge and piece.edge.guard)), spots, "lip")

    def _old_slabs(self, add: Callable[..., None]) -> None:
        """Old slabs and asphalt that the slab meets flush, or in a step that is planned; a flight settles its own."""
        for piece in self._edges.pieces:
            drops = [top - low for top, low in zip(piece.finish or (), piece.ground or (), strict=False)]
            if piece.beside not in PAVED or piece.ground is None or self._is_fixed(piece):
                continue
            stepped = bool(piece.edge and piece.edge.planned_step)
            by_flight = stepped and (self._flights.up_to(piece.name) or self._flights.at_edge(piece.line))
            if max(drops, default=0.0) > FALLS[self._design.home] or by_flight:
                continue
            spots = [(at, level, level) for at, level in _stations(piece)]
            add(self._beside(piece, self._old_moves(piece)), spots, self._met(piece, stepped))

    def _met(self, piece: EdgePiece, stepped: bool) -> HeightAsked:
        """How a slab meets an old one, as `trip-at-existing-slab` tells them apart."""
        said = bool(piece.edge and piece.edge.wheels_cross)
        wheels = said or (piece.wheels_cross and bool(self._design.loads))
        if stepped:
            return "wheel step" if wheels else "old step"
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
        line = line_through(fixed.along)
        way = self._design.site.accessible_route
        doors = [one for one in self._doors.all if one.fixture.required_exit or self._doors.accessible(one)]
        at_door = any(self._doors.line(one).distance(line) <= IN_WALL for one in doors)
        return not at_door and all(line.distance(shapely.Point(end.x, end.y)) > REACH for end in (*way[:1], *way[-1:]))


def _stations(piece: EdgePiece) -> list[tuple[XY, float]]:
    """Places along an edge with the height beside it, m; of a long chain some of them."""
    every = max(1, (len(piece.line) - 1) // (MOST_GROUND - 1))
    line = list(zip(piece.line, piece.ground or (), strict=True))
    return list(dict.fromkeys((*line[:-1:every], line[-1])))
