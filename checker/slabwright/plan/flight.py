"""A flight of steps by itself: its risers, the last one counted, and its treads and landings as they lie."""

from __future__ import annotations

import math
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

import shapely

from slabwright.design.point import Point
from slabwright.design.thickness import Steps
from slabwright.geometry.xy import XY, middle_of


class LaidFlight(NamedTuple):
    """Where a flight lies on the plan."""

    nosings: tuple[tuple[XY, XY], ...]  # of every riser that is poured, from the foot up
    treads: tuple[tuple[XY, ...], ...]  # and the tread or landing behind each, as a ring of four corners
    way: tuple[XY, ...]  # the walking line, from the middle of the foot up to the back of the last tread
    top: tuple[XY, XY]  # the back of the last tread: the line of the next riser, where one is left

    @property
    def body(self) -> shapely.Geometry:
        """What it covers of the plan."""
        return shapely.union_all([shapely.Polygon(ring) for ring in self.treads])


class Tread(NamedTuple):
    """A tread or landing of a flight as it stands on the plan."""

    ring: tuple[XY, ...]
    top: float  # height of its nosing, m
    landing: bool

    @property
    def polygon(self) -> shapely.Polygon:
        """What it covers."""
        return shapely.Polygon(self.ring)


class Flight(NamedTuple):
    """A flight of steps poured with the slab."""

    steps: Steps
    risers: tuple[float, ...]  # all that are climbed, from the foot up, the one onto what stands there counted, m
    poured: tuple[float, ...]  # those with a tread behind them that is poured, m
    at: XY | None  # the middle of what it leads up to
    door: bool  # it leads up to a door
    ends: bool  # whether the heights at both its ends are known
    foot: float | None = None  # height at its foot, m
    laid: LaidFlight | None = None  # None where the file does not say where it lies

    @property
    def name(self) -> str:
        """Its name in the file."""
        return self.steps.name

    @property
    def treads(self) -> tuple[Tread, ...]:
        """Its treads and landings from the foot up; empty where it is not known where, or how high, they stand."""
        if self.laid is None or self.foot is None:
            return ()
        tops = accumulate(self.poured, initial=self.foot)
        landings = {landing.after for landing in self.steps.landings}
        return tuple(
            Tread(ring, top, number in landings)
            for number, (ring, top) in enumerate(zip(self.laid.treads, list(tops)[1:], strict=True), start=1)
        )

    @property
    def goings(self) -> tuple[float, ...]:
        """How deep the tread or landing behind each poured riser is, m."""
        return goings_of(self.steps, len(self.poured))

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


class OpenSide(NamedTuple):
    """The open side of a tread or landing, where the ground beside it lies deepest below it."""

    flight: Flight
    side: Literal["left", "right", "far"]  # seen on the way up
    tread: Tread
    after: int  # the riser that the tread lies behind, counted from the foot
    line: tuple[XY, XY]
    ground: float  # the lowest within 36 in of it, m

    @property
    def drop(self) -> float:
        """How deep one falls there, m."""
        return self.tread.top - self.ground


def laid_out(steps: Steps, poured: int, toward: XY | None) -> LaidFlight | None:
    """The nosings and treads of a flight from its foot up; None where it has no foot, or nothing says which way.

    ``poured`` is how many treads it has, ``toward`` a place on the side that it climbs to. At a landing that turns the
    next riser stands at the side of the landing, in the middle of its depth.
    """
    if not steps.foot or toward is None or poured < 1:
        return None
    (ax, ay), (bx, by) = ends_of(steps.foot)
    size, half = math.dist((ax, ay), (bx, by)), steps.width.si / 2
    x, y = middle_of((ax, ay), (bx, by))
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


def goings_of(steps: Steps, count: int) -> tuple[float, ...]:
    """How deep the tread or landing behind each of the first ``count`` risers is, m."""
    deep = {landing.after: landing.depth.si for landing in steps.landings}
    return tuple(deep.get(number, steps.tread.si) for number in range(1, count + 1))


def ends_of(line: tuple[Point, ...]) -> tuple[XY, XY]:
    """The two ends of a straight line."""
    return (line[0].x, line[0].y), (line[1].x, line[1].y)
