"""Flights of steps poured with the slab: where they stand, what they cover, and their open sides."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import ClassVar, Literal

import shapely
import shapely.ops

from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.geometry.xy import XY, beside_middle, middle_of
from slabwright.plan.climbs import BESIDE, LAST, Climbs
from slabwright.plan.edges import Edges
from slabwright.plan.finish import Finish
from slabwright.plan.flight import Flight, OpenSide, Tread, goings_of, laid_out
from slabwright.plan.shape import Shape
from slabwright.plan.view import PlanView

OUTWARD = (0.05, 0.3, 0.6, 0.9144)  # m: where the ground beside a flight is read, to 36 in from it (`irc-guard`)
STANDS_AT = 0.15  # m: a wall so near to the side of a flight closes it
CLOSES = frozenset({"building", "wall", "pool", "trench drain"})
WIDER = 0.31  # m, 1 ft: what a flight leads up to may be wider, or narrower, and it still stands before it
UNDER = 0.75  # share of a panel under steps from which on it is their bed, and no panel of paving
MOST = 0.5  # share of an edge, or of the width of a flight, from which on the flight stands along it


class Flights(PlanView):
    """The flights of the file as they stand on the plan and beside it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset[str]()
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _climbs: Climbs

    @staticmethod
    def unasked(design: Design) -> frozenset[str]:
        """Without steps, all that says where they stand and what lies beside them."""
        return frozenset() if design.thickness.steps else frozenset({"finish", "edges"})

    @cached_property
    def all(self) -> tuple[Flight, ...]:
        """Every flight, in file order."""
        return self._climbs.all

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
        for ends in self._climbs.widths(flight.steps):
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
        steps, ends = flight.steps, next(self._climbs.widths(flight.steps), None)
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
                    yield OpenSide(flight, side, tread, number, line, ground)

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
        off, beside = self._climbs.ground_beside(at)
        if beside is None or off <= OUTWARD[-1]:
            return beside
        if flight.steps.foot_height is None or flight.laid is None:
            return None
        to_foot = math.dist(at, flight.laid.way[0])
        return beside + off / (off + to_foot) * (flight.steps.foot_height.si - beside)

    def poured_rise(self, name: str) -> float:
        """How high poured steps bring one up to a door or an edge before its own last step, m; 0 without any."""
        return max((sum(one.poured) for one in self.up_to(name)), default=0.0)
