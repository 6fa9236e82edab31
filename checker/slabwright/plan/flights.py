"""Flights of steps poured with the slab: what they lead up to, where they stand, and their open sides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import ClassVar, Literal, NamedTuple

import shapely
import shapely.ops

from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.design.thickness import Steps
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.xy import XY, as_xy, beside_middle, middle_of
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flight import Flight, OpenSide, Tread, ends_of, goings_of, laid_out
from slabwright.plan.shape import Shape
from slabwright.plan.view import PlanView
from slabwright.source.place import Place

BESIDE = 0.05  # m: a foot whose middle lies further off stands beside the slab
OUTWARD = (0.05, 0.3, 0.6, 0.9144)  # m: where the ground beside a flight is read, to 36 in from it (`irc-guard`)
STANDS_AT = 0.15  # m: a wall so near to the side of a flight closes it
CLOSES = frozenset({"building", "wall", "pool", "trench drain"})
WIDER = 0.31  # m, 1 ft: what a flight leads up to may be wider, or narrower, and it still stands before it
FLOORS = frozenset({"sill", "slab", "other"})  # fixed heights that people step up to
UNDER = 0.75  # share of a panel under steps from which on it is their bed, and no panel of paving
MOST = 0.5  # share of an edge, or of the width of a flight, from which on the flight stands along it
LAST = 0.5  # a rise that is left and is less than this share of a riser belongs to the riser before it


class Flights(PlanView):
    """Each flight of the file, worked with the heights at its foot and at what it leads up to where they are known."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"thickness", "fixed"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _fixtures: Fixtures

    @staticmethod
    def unasked(design: Design) -> frozenset[str]:
        """Without steps, all that says how high they lead and where they stand."""
        return frozenset() if design.thickness.steps else frozenset({"finish", "edges", "fixtures"})

    @cached_property
    def all(self) -> tuple[Flight, ...]:
        """Every flight, in file order."""
        return tuple(self._flight(steps) for steps in self._design.thickness.steps)

    @cached_property
    def body(self) -> shapely.Geometry | None:
        """What all flights cover of the plan; None where nothing says where one lies."""
        rings = [tread.polygon for one in self.all for tread in one.treads]
        return shapely.union_all(rings) if rings else None

    @cached_property
    def footprint(self) -> shapely.Geometry | None:
        """What all flights cover of the plan, whatever the heights; None without any that stands anywhere.

        One that the file does not lay is taken to stand square before the door or edge that it leads up to.
        """
        found = [body for one in self.standing for body in self._bodies(one)]
        return shapely.union_all(found) if found else None

    def _bodies(self, flight: Flight) -> list[shapely.Geometry]:
        """What a flight covers of the plan, whatever the heights; nothing where it stands nowhere."""
        if flight.laid is not None:
            return [shapely.Polygon(ring) for ring in flight.laid.treads]
        found = []
        for ends in self._widths(flight.steps):
            way, half = shapely.LineString(ends), flight.steps.width.si / 2
            middle, wide = way.length / 2, min(half, way.length / 2)
            before = shapely.ops.substring(way, middle - wide, middle + wide)
            found.append(before.buffer(sum(flight.goings), cap_style="flat"))
        return found

    def covers(self, panel: shapely.Polygon) -> bool:
        """Whether nearly all of a panel lies under flights: one that the file does not lay starts from its edge."""
        bodies = [self.body] if self.body is not None else []
        for one in self.all:
            if one.laid is None and one.steps.leads_to:
                ways = [shapely.LineString(p.line) for p in self._edges.pieces if p.name == one.steps.leads_to]
                bodies += [way.buffer(sum(one.goings), cap_style="flat") for way in ways]
        covered = shapely.intersection(panel, shapely.union_all(bodies)).area if bodies else 0.0
        return bool(covered > (UNDER - 1e-6) * panel.area)

    def up_to(self, name: str) -> tuple[Flight, ...]:
        """The flights that lead up to a door or an edge."""
        return tuple(one for one in self.all if one.steps.leads_to == name != "")

    def over(self, name: str, ring: Sequence[XY]) -> Flight | None:
        """The flight up to a door or an edge that covers most of a place before it; None where the slab lies open."""
        place = shapely.Polygon(ring)
        for one in self.standing:
            if one.steps.leads_to == name != "":
                body = shapely.union_all(self._bodies(one))
                if shapely.intersection(body, place).area > MOST * place.area:
                    return one
        return None

    def at_edge(self, line: Sequence[XY]) -> tuple[Flight, ...]:
        """The flights that the file lays along an edge, end or side to it, for most of it or of their width.

        One that comes up there counts, short as its treads may be drawn.
        """
        edge, found = shapely.LineString(line), []
        for one in self.all:
            shared = float(edge.intersection(one.laid.body.buffer(BESIDE)).length) if one.laid else 0.0
            comes_up = one.laid and one.at and not one.door and edge.distance(shapely.Point(one.at)) < BESIDE
            if shared > MOST * min(edge.length, one.steps.width.si) or (comes_up and one.ends):
                found.append(one)
        return tuple(found)

    def comes_up_at(self, at: XY, most: float) -> bool:
        """Whether a flight comes up to a place, within its width, onto the slab or what stands at its edge.

        Its last riser may be ``most`` m high.
        """
        onto = (one for one in self.all if one.laid and one.ends and not one.door and one.risers[-1] < most)
        return any(math.dist(one.at or at, at) <= one.steps.width.si / 2 + BESIDE for one in onto)

    def tread_at(self, at: XY) -> float | None:
        """The height of the highest tread that a place lies on or at the side of, m; None where no flight stands."""
        spot = shapely.Point(at)
        near = (t.top for one in self.all for t in one.treads if shapely.Polygon(t.ring).distance(spot) < BESIDE)
        return max(near, default=None)

    def by(self, at: XY, within: float) -> bool:
        """Whether a flight stands so near to a place that people take it; so may one that nothing places."""
        spot = shapely.Point(at)
        near = (tread.polygon.distance(spot) <= within for one in self.standing for tread in one.treads)
        return bool(self.unplaced) or any(near)

    @cached_property
    def open_sides(self) -> tuple[OpenSide, ...]:
        """The sides of treads and landings where one can step off, and the height of the ground beside is known."""
        return tuple(side for one in self.standing for side in self._open_sides(one))

    @cached_property
    def standing(self) -> tuple[Flight, ...]:
        """Every flight where it stands; one without a foot square before what it leads to, if that is as wide."""
        return tuple(self._squarely(one) for one in self.all)

    @property
    def unplaced(self) -> tuple[Flight, ...]:
        """The flights that nothing says where they stand."""
        return tuple(one for one in self.standing if one.laid is None)

    def _squarely(self, flight: Flight) -> Flight:
        """A flight that says no foot, laid out from its run and the edge or door that it leads up to, where it can."""
        steps, ends = flight.steps, next(self._widths(flight.steps), None)
        if flight.laid or flight.foot is None or ends is None or any(one.turns for one in steps.landings):
            return flight
        (ax, ay), (bx, by) = ends
        size, middle = math.dist(*ends), middle_of(*ends)
        level = self._finish.at(middle)
        if level is None or abs(size - steps.width.si) > WIDER:
            return flight
        rises = level - flight.foot > LAST * steps.each[0]
        own = steps.name == steps.leads_to
        if own and not rises and any(p.beside == "step" and p.name == steps.name for p in self._edges.pieces):
            return flight  # it stands beyond that edge, and climbs away from it
        onto = 1.0 if self._shape.slab.intersects(shapely.Point(beside_middle(*ends, BESIDE))) else -1.0
        risers, poured = flight.risers, flight.poured
        left = level - flight.foot - sum(steps.each)
        if rises:  # its foot lies below the slab, and it climbs onto that
            onto = -onto
            last = left < LAST * steps.each[-1]
            risers = (*steps.each[:-1], steps.each[-1] + left) if last else (*steps.each, left)
            poured = risers[:-1]
        x, y = beside_middle(*ends, onto * sum(goings_of(steps, len(poured))))
        half = steps.width.si / 2 / size
        foot = tuple(Point(x + side * half * (bx - ax), y + side * half * (by - ay)) for side in (-1, 1))
        laid = laid_out(steps._replace(foot=foot), len(poured), middle)
        return flight._replace(risers=risers, poured=poured, laid=laid)

    def _widths(self, steps: Steps) -> Iterator[tuple[XY, XY]]:
        """The two ends of the door or straight edge that a flight leads up to."""
        for one in self._fixtures.all if steps.leads_to else ():
            if one.name == steps.leads_to and len(one.fixture.along) == 2:
                yield ends_of(one.fixture.along)
        for piece in self._edges.pieces if steps.leads_to else ():
            if piece.name == steps.leads_to and len(piece.line) == 2:
                yield piece.line[0], piece.line[1]

    def _open_sides(self, flight: Flight) -> Iterator[OpenSide]:
        last = len(flight.treads)
        for number, tread in enumerate(flight.treads, start=1):
            left, right, back_right, back_left = tread.ring
            sides: list[tuple[Literal["left", "right", "far"], tuple[XY, XY]]]
            sides = [("left", (left, back_left)), ("right", (right, back_right))]
            goes_on = number < last or len(flight.risers) > last or flight.steps.leads_to
            turns = any(landing.after == number and landing.turns for landing in flight.steps.landings)
            if turns or not goes_on:
                sides.append(("far", (back_left, back_right)))
            for side, line in sides:
                ground = self._beside(flight, tread, line)
                if ground is not None:
                    yield OpenSide(flight, side, tread, number, line, middle_of(*line), ground)

    def _beside(self, flight: Flight, tread: Tread, line: tuple[XY, XY]) -> float | None:
        """The lowest ground within 36 in of the middle of a side, m; None where closed or not known."""
        (ax, ay), (bx, by) = line
        inner = tread.polygon.centroid
        away = -1.0 if (inner.x - ax) * (by - ay) > (inner.y - ay) * (bx - ax) else 1.0
        found: list[float] = []
        for out in OUTWARD:
            at = beside_middle(*line, away * out)
            on_slab = bool(self._shape.slab.intersects(shapely.Point(at)))
            level = self._tread_over(at)
            if level is None:
                level = self._finish.at(at) if on_slab else self._ground_off_slab(flight, at)
            crossing = shapely.LineString([middle_of(*line), at])
            walls = (piece for piece in self._edges.pieces if piece.beside in CLOSES)
            reach = STANDS_AT if out == OUTWARD[0] else BESIDE
            if any(shapely.LineString(piece.line).distance(crossing) < reach for piece in walls):
                return None if out == OUTWARD[0] else min(found, default=None)
            if level is None:
                return min(found, default=None)
            found.append(level)
        return min(found)

    def _tread_over(self, at: XY) -> float | None:
        spot = shapely.Point(at)
        over = (t.top for one in self.standing for t in one.treads if shapely.Polygon(t.ring).intersects(spot))
        return max(over, default=None)

    def _ground_off_slab(self, flight: Flight, at: XY) -> float | None:
        """The ground beside the slab: of the edge within 36 in, else between the foot and the edge climbed to."""
        off, beside = self._ground_beside(at)
        if beside is None or off <= OUTWARD[-1]:
            return beside
        if flight.steps.foot_height is None or flight.laid is None:
            return None
        to_foot = math.dist(at, flight.laid.way[0])
        return beside + off / (off + to_foot) * (flight.steps.foot_height.si - beside)

    def _ground_beside(self, at: XY) -> tuple[float, float | None]:
        """How far off the nearest edge with ground beside it lies, and that ground; None where none is known."""
        near = [(nearest_on(piece.line, at), piece.ground) for piece in self._edges.pieces if piece.ground]
        if not near:
            return math.inf, None
        (off, side, share), ground = min(near, key=lambda one: one[0][0])
        return off, ground[side] + share * (ground[side + 1] - ground[side])

    def poured_rise(self, name: str) -> float:
        """How high poured steps bring one up to a door or an edge before its own last step, m; 0 without any."""
        return max((sum(one.poured) for one in self.up_to(name)), default=0.0)

    def _flight(self, steps: Steps) -> Flight:
        risers = steps.each
        end = next(self._ends(steps), None)
        middle = middle_of(*ends_of(steps.foot)) if steps.foot else None
        laid_to = _toward(steps, end)
        if end is None:
            foot = self._foot(steps, middle if middle and not self._climbs_onto_slab(middle) else None)
            laid = laid_out(steps, len(risers), laid_to)
            return Flight(steps, risers, risers, middle, False, steps.place, False, foot, laid)
        foot, top = self._foot(steps, None if end.slab else middle or end.at), end.top
        if middle is not None and self._climbs_onto_slab(middle) and not end.door:
            top = self._finish.at(end.at)
            foot = self._foot_beside(steps, end.at, top)
        elif (up := self._up_to_slab(steps, end)) is not None:
            foot, top = up
        if top is None or foot is None:
            poured = risers[:-1] if end.slab or self._last_onto_end(steps) else risers
            laid = laid_out(steps, len(poured), laid_to)
            return Flight(steps, risers, poured, end.at, end.door, end.place, False, foot, laid)
        landed = any(landing.after == len(risers) for landing in steps.landings)
        climbed, poured = _climbed(risers, top - foot, landed)
        if middle is None and steps.foot_height is None:
            out = self._out_at_foot(steps, len(poured), foot)
            from_there = _climbed(risers, top - out, landed)
            if _spread(from_there[0]) < _spread(climbed):
                (climbed, poured), foot = from_there, out
        laid = laid_out(steps, len(poured), laid_to)
        return Flight(steps, climbed, poured, end.at, end.door, end.place, True, foot, laid)

    def _last_onto_end(self, steps: Steps) -> bool:
        """Whether a flight with a foot ends a tread short of what it leads up to: its last riser climbs onto that."""
        ends = next(self._widths(steps), None)
        if not steps.foot or ends is None or any(one.turns for one in steps.landings):
            return False
        *before, last = goings_of(steps, len(steps.each))
        away = shapely.LineString(ends).distance(shapely.Point(middle_of(*ends_of(steps.foot))))
        return len(steps.each) > 1 and abs(away - sum(before)) < abs(away - sum(before) - last)

    def _up_to_slab(self, steps: Steps, end: _End) -> tuple[float | None, float] | None:
        """Foot and top of a flight that leads from lower ground up to an edge of the slab itself; None for another."""
        level = None if end.door else self._finish.at(end.at)
        if level is None:
            return None
        foot, low = steps.foot_height.si if steps.foot_height else end.top, level - LAST * steps.each[0]
        if foot is None or foot >= low or (end.top is not None and end.top >= low):
            return None
        known = steps.foot_height is not None or abs(level - foot - sum(steps.each)) < LAST * steps.each[0]
        return (foot if known else None), level

    def _foot(self, steps: Steps, at: XY | None) -> float | None:
        """The height at the foot of a flight: as typed, else of the slab at a place."""
        if steps.foot_height is not None:
            return steps.foot_height.si
        return None if at is None else self._finish.at(at)

    def _foot_beside(self, steps: Steps, at: XY, top: float | None) -> float | None:
        """The height at a foot beside the slab: as typed, else where the risers of a flight up to ``at`` come down to.

        None where the ground there is not known, or lies half a riser off.
        """
        ground, whole = self._ground_beside(at)[1], sum(steps.each)
        if steps.foot_height is not None:
            return steps.foot_height.si
        if top is None or ground is None:
            return None
        feet = top - whole, top - whole - steps.each[-1]  # the riser onto the slab counted, or not
        off, foot = min((abs(foot - ground), foot) for foot in feet)
        return foot if off < LAST * steps.each[0] else None

    def _out_at_foot(self, steps: Steps, treads: int, at_top: float) -> float:
        """The height of the slab out where a flight that says no foot begins, square before what it leads up to.

        ``at_top`` where that is not on the slab. Some reckon a flight from here and some from the wall: of the two the
        one that makes its risers alike is meant.
        """
        ends = next(self._widths(steps), None)
        if ends is None or any(one.turns for one in steps.landings):
            return at_top
        run = sum(goings_of(steps, treads))
        for at in (beside_middle(*ends, out) for out in (run, -run)):
            if self._shape.slab.intersects(shapely.Point(at)):
                level = self._finish.at(at)
                return at_top if level is None else level
        return at_top

    def _climbs_onto_slab(self, middle: XY) -> bool:
        """Whether a flight whose foot has its middle here begins beside the slab."""
        return float(self._shape.slab.distance(shapely.Point(middle))) > BESIDE

    def _ends(self, steps: Steps) -> Iterator[_End]:
        """What a flight leads up to."""
        for one in self._fixtures.all if steps.leads_to else ():
            if one.name == steps.leads_to:
                sill = one.fixture.sill
                yield _End(one.at, sill.si if sill else None, one.fixture.kind == "door", one.fixture.place)
        for piece in self._edges.pieces if steps.leads_to else ():
            if piece.name == steps.leads_to:
                at, ground = _middle(piece)
                if ground is None:
                    ground = self._fixed_at(at, steps.leads_to)
                yield _End(at, ground, False, piece.place)
        onto = None if steps.leads_to else self._onto_slab(steps)
        if onto is not None:
            yield _End(onto, self._finish.at(onto), False, steps.place, slab=True)

    def _onto_slab(self, steps: Steps) -> XY | None:
        """Where a flight that names nothing comes up onto the slab from a foot beside it; None for another."""
        if not steps.foot or any(landing.turns for landing in steps.landings):
            return None
        middle, slab = middle_of(*ends_of(steps.foot)), self._shape.slab
        if not self._climbs_onto_slab(middle):
            return None
        nearest = as_xy(shapely.get_coordinates(shapely.shortest_line(shapely.Point(middle), slab))[-1])
        laid = laid_out(steps, len(steps.each) - 1, _toward(steps, None) or nearest)
        last = shapely.shortest_line(shapely.Point(laid.way[-1] if laid else middle), slab)
        return as_xy(shapely.get_coordinates(last)[-1]) if last.length <= steps.tread.si + BESIDE else None

    def _fixed_at(self, at: XY, name: str) -> float | None:
        """The height of what a flight leads up to, as the file fixes it: by its name, or at the middle of the edge."""
        spot = shapely.Point(at)
        for one in self._design.fixed:
            points, levels = [(p.x, p.y) for p in one.along], [h.si for h in one.height]
            if len(points) == 1:
                near = math.dist(points[0], at) < BESIDE
                share = 0.0
            else:
                line = shapely.LineString(points)
                near, share = line.distance(spot) < BESIDE, float(line.project(spot, normalized=True))
            if one.kind in FLOORS and (near or one.name == name):
                return levels[0] + share * (levels[-1] - levels[0]) if len(levels) <= 2 else None
        return None


def _climbed(risers: tuple[float, ...], rise: float, landed: bool) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """All risers that are climbed up a rise, m, and those with a tread, or a landing at the top, that is poured."""
    left = rise - sum(risers)
    if left >= LAST * risers[-1]:
        return (*risers, left), risers
    if landed:  # the last one drawn climbs onto the landing behind it, level with what stands there
        return risers, risers
    return (*risers[:-1], risers[-1] + left), risers[:-1]  # it climbs onto what stands there itself


def _spread(risers: tuple[float, ...]) -> float:
    return max(risers) - min(risers)


class _End(NamedTuple):
    """What a flight leads up to: the middle of it, and its height there, m, where it is known."""

    at: XY
    top: float | None
    door: bool
    place: Place
    slab: bool = False  # the slab itself, which the last riser climbs onto


def _middle(piece: EdgePiece) -> tuple[XY, float | None]:
    """The middle of an edge, on the walking line of a flight up to it, and the height beside it there."""
    sides = [math.dist(a, b) for a, b in zip(piece.line, piece.line[1:], strict=False)]
    along, half = 0.0, sum(sides) / 2
    for k, side in enumerate(sides):
        if along + side >= half:
            share = (half - along) / side if side else 0.0
            (ax, ay), (bx, by) = piece.line[k], piece.line[k + 1]
            ground = piece.ground
            level = None if ground is None else ground[k] + share * (ground[k + 1] - ground[k])
            return (ax + share * (bx - ax), ay + share * (by - ay)), level
        along += side
    return piece.line[0], piece.ground[0] if piece.ground else None


def _toward(steps: Steps, end: _End | None) -> XY | None:
    """A place on the side that a flight climbs to, where the file says it."""
    if steps.climbs_to is not None:
        return steps.climbs_to.x, steps.climbs_to.y
    return end.at if end else None
