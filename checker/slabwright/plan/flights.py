"""Flights of steps poured with the slab: their risers, the last one counted, and the treads that are poured."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.model import Design, Steps
from slabwright.design.point import Point
from slabwright.geometry.xy import XY
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.shape import Shape
from slabwright.source.place import Place

BESIDE = 0.05  # m: a foot whose middle lies further off stands beside the slab
LAST = 0.5  # a rise that is left and is less than this share of a riser belongs to the riser before it


class LaidFlight(NamedTuple):
    """Where a flight lies on the plan."""

    nosings: tuple[tuple[XY, XY], ...]  # of every riser that is poured, from the foot up
    treads: tuple[tuple[XY, ...], ...]  # and the tread or landing behind each, as a ring of four corners
    way: tuple[XY, ...]  # the walking line, from the middle of the foot up to the back of the last tread
    top: tuple[XY, XY]  # the back of the last tread: the line of the next riser, where one is left


class Flight(NamedTuple):
    """A flight of steps poured with the slab."""

    steps: Steps
    risers: tuple[float, ...]  # all that are climbed, from the foot up, the one onto what stands there counted, m
    poured: tuple[float, ...]  # those with a tread behind them that is poured, m
    at: XY | None  # the middle of what it leads up to
    door: bool  # it leads up to a door
    to: Place  # of what it leads up to, else its own
    ends: bool  # whether the heights at both its ends are known
    foot: float | None = None  # height at its foot, m
    laid: LaidFlight | None = None  # None where the file does not say where it lies

    @property
    def name(self) -> str:
        """Its name in the file."""
        return self.steps.name

    @property
    def goings(self) -> tuple[float, ...]:
        """How deep the tread or landing behind each poured riser is, m."""
        deep = {landing.after: landing.depth.si for landing in self.steps.landings}
        return tuple(deep.get(number, self.steps.tread.si) for number in range(1, len(self.poured) + 1))

    @property
    def parts(self) -> tuple[tuple[float, ...], ...]:
        """Its risers from landing to landing: each a flight of its own to those who walk it."""
        ends = sorted({landing.after for landing in self.steps.landings if landing.after < len(self.risers)})
        return tuple(self.risers[a:b] for a, b in pairwise((0, *ends, len(self.risers))))

    @property
    def volume(self) -> float:
        """Concrete of the flight, solid below each tread, m3; 0 where it is not of this pour."""
        if not self.steps.same_pour:
            return 0.0
        if not self.steps.landings:
            under = sum(sum(self.poured[: k + 1]) for k in range(len(self.poured)))
            return self.steps.width.si * self.steps.tread.si * under
        return self.steps.width.si * sum(going * sum(self.poured[: k + 1]) for k, going in enumerate(self.goings))


class Flights:
    """Each flight of the file, worked with the heights at its foot and at what it leads up to where they are known."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"thickness"})

    def __init__(self, design: Design, shape: Shape, finish: Finish, edges: Edges, fixtures: Fixtures) -> None:
        self._design = design
        self._shape = shape
        self._finish = finish
        self._edges = edges
        self._fixtures = fixtures

    @cached_property
    def all(self) -> tuple[Flight, ...]:
        """Every flight, in file order."""
        return tuple(self._flight(steps) for steps in self._design.thickness.steps)

    def up_to(self, name: str) -> tuple[Flight, ...]:
        """The flights that lead up to a door or an edge."""
        return tuple(one for one in self.all if one.steps.leads_to == name != "")

    def poured_rise(self, name: str) -> float:
        """How high poured steps bring one up to a door or an edge before its own last step, m; 0 without any."""
        return max((sum(one.poured) for one in self.up_to(name)), default=0.0)

    def _flight(self, steps: Steps) -> Flight:
        risers = steps.each
        end = next(self._ends(steps), None)
        middle = _between(*_pairs(steps.foot)) if steps.foot else None
        laid_to = _toward(steps, end)
        if end is None:
            foot = self._foot(steps, middle)
            laid = laid_out(steps, len(risers), laid_to)
            return Flight(steps, risers, risers, middle, False, steps.place, False, foot, laid)
        foot, top = self._foot(steps, middle or end.at), end.top
        if middle is not None and self._climbs_onto_slab(middle) and not end.door:
            top = self._finish.at(end.at)
        if top is None or foot is None:
            laid = laid_out(steps, len(risers), laid_to)
            return Flight(steps, risers, risers, end.at, end.door, end.place, False, foot, laid)
        left = top - foot - sum(risers)
        if left < LAST * risers[-1]:  # the last one drawn climbs onto what stands there
            climbed, poured = (*risers[:-1], risers[-1] + left), risers[:-1]
        else:
            climbed, poured = (*risers, left), risers
        laid = laid_out(steps, len(poured), laid_to)
        return Flight(steps, climbed, poured, end.at, end.door, end.place, True, foot, laid)

    def _foot(self, steps: Steps, at: XY | None) -> float | None:
        """The height at the foot of a flight: as typed, else of the slab at a place."""
        if steps.foot_height is not None:
            return steps.foot_height.si
        return None if at is None else self._finish.at(at)

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
                yield _End(at, ground, False, piece.place)


class _End(NamedTuple):
    """What a flight leads up to: the middle of it, and its height there, m, where it is known."""

    at: XY
    top: float | None
    door: bool
    place: Place


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


def laid_out(steps: Steps, poured: int, toward: XY | None) -> LaidFlight | None:
    """The nosings and treads of a flight from its foot up; None where it has no foot, or nothing says which way.

    ``poured`` is how many treads it has, ``toward`` a place on the side that it climbs to. At a landing that turns the
    next riser stands at the side of the landing, in the middle of its depth.
    """
    if not steps.foot or toward is None or poured < 1:
        return None
    (ax, ay), (bx, by) = _pairs(steps.foot)
    size, half = math.dist((ax, ay), (bx, by)), steps.width.si / 2
    x, y = _between((ax, ay), (bx, by))
    across = (toward[0] - x) * (by - ay) - (toward[1] - y) * (bx - ax)  # above 0 to the right of the foot line
    side = 1.0 if across > 0 else -1.0
    ux, uy = side * (by - ay) / size, -side * (bx - ax) / size
    landings = {landing.after: landing for landing in steps.landings}
    nosings, treads, way = [], [], [(x, y)]
    for number in range(1, poured + 1):
        landing = landings.get(number)
        going = landing.depth.si if landing else steps.tread.si
        left, right = (x - uy * half, y + ux * half), (x + uy * half, y - ux * half)
        back = (x + ux * going, y + uy * going)
        ends = (back[0] - uy * half, back[1] + ux * half), (back[0] + uy * half, back[1] - ux * half)
        nosings.append((left, right))
        treads.append((left, right, ends[1], ends[0]))
        if landing and landing.turns and number < poured:
            turn = 1.0 if landing.turns == "left" else -1.0
            middle = (x + ux * going / 2, y + uy * going / 2)
            ux, uy = -turn * uy, turn * ux
            x, y = middle[0] + ux * half, middle[1] + uy * half
            way += [middle, (x, y)]
        else:
            x, y = back
            way.append(back)
    top = (x - uy * half, y + ux * half), (x + uy * half, y - ux * half)
    return LaidFlight(tuple(nosings), tuple(treads), tuple(way), top)


def _toward(steps: Steps, end: _End | None) -> XY | None:
    """A place on the side that a flight climbs to, where the file says it."""
    if steps.climbs_to is not None:
        return steps.climbs_to.x, steps.climbs_to.y
    return end.at if end else None


def _pairs(line: tuple[Point, ...]) -> tuple[XY, XY]:
    return (line[0].x, line[0].y), (line[1].x, line[1].y)


def _between(a: XY, b: XY) -> XY:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
