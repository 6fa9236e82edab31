"""What each flight of the file climbs: the heights at its foot and at what it leads up to, and so its risers."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.model import Design
from slabwright.design.thickness import Steps
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.xy import XY, as_xy, beside_middle, middle_of
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flight import Flight, ends_of, goings_of, laid_out
from slabwright.plan.shape import Shape
from slabwright.plan.view import PlanView

BESIDE = 0.05  # m: a foot whose middle lies further off stands beside the slab
FLOORS = frozenset({"sill", "slab", "other"})  # fixed heights that people step up to
LAST = 0.5  # a rise that is left and is less than this share of a riser belongs to the riser before it


class _End(NamedTuple):
    """What a flight leads up to: the middle of it, and its height there, m, where it is known."""

    at: XY
    top: float | None
    door: bool
    slab: bool = False  # the slab itself, which the last riser climbs onto


class Climbs(PlanView):
    """Each flight, worked with the heights at both its ends where they are known."""

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

    def widths(self, steps: Steps) -> Iterator[tuple[XY, XY]]:
        """The two ends of each door or straight edge that a flight leads up to."""
        for one in self._fixtures.all if steps.leads_to else ():
            if one.name == steps.leads_to and len(one.fixture.along) == 2:
                yield ends_of(one.fixture.along)
        for piece in self._edges.pieces if steps.leads_to else ():
            if piece.name == steps.leads_to and len(piece.line) == 2:
                yield piece.line[0], piece.line[1]

    def ground_beside(self, at: XY) -> tuple[float, float | None]:
        """How far off the nearest edge with ground beside it lies, and that ground; None where none is known."""
        near = [(nearest_on(piece.line, at), piece.ground) for piece in self._edges.pieces if piece.ground]
        if not near:
            return math.inf, None
        (off, side, share), ground = min(near, key=lambda one: one[0][0])
        return off, ground[side] + share * (ground[side + 1] - ground[side])

    def _flight(self, steps: Steps) -> Flight:
        risers = steps.each
        end = next(self._ends(steps), None)
        middle = middle_of(*ends_of(steps.foot)) if steps.foot else None
        laid_to = _toward(steps, end)
        if end is None:
            foot = self._foot(steps, middle if middle and not self._climbs_onto_slab(middle) else None)
            laid = laid_out(steps, len(risers), laid_to)
            return Flight(steps, risers, risers, middle, False, False, foot, laid)
        foot, top = self._foot(steps, None if end.slab else middle or end.at), end.top
        if middle is not None and self._climbs_onto_slab(middle) and not end.door:
            top = self._finish.at(end.at)
            foot = self._foot_beside(steps, end.at, top)
        elif (up := self._up_to_slab(steps, end)) is not None:
            foot, top = up
        if top is None or foot is None:
            poured = risers[:-1] if end.slab or self._last_onto_end(steps) else risers
            laid = laid_out(steps, len(poured), laid_to)
            return Flight(steps, risers, poured, end.at, end.door, False, foot, laid)
        landed = any(landing.after == len(risers) for landing in steps.landings)
        climbed, poured = _climbed(risers, top - foot, landed)
        if middle is None and steps.foot_height is None:
            out = self._out_at_foot(steps, len(poured), foot)
            from_there = _climbed(risers, top - out, landed)
            if _spread(from_there[0]) < _spread(climbed):
                (climbed, poured), foot = from_there, out
        laid = laid_out(steps, len(poured), laid_to)
        return Flight(steps, climbed, poured, end.at, end.door, True, foot, laid)

    def _last_onto_end(self, steps: Steps) -> bool:
        """Whether a flight with a foot ends a tread short of what it leads up to: its last riser climbs onto that."""
        ends = next(self.widths(steps), None)
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
        ground, whole = self.ground_beside(at)[1], sum(steps.each)
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
        ends = next(self.widths(steps), None)
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
                yield _End(one.at, sill.si if sill else None, one.fixture.kind == "door")
        for piece in self._edges.pieces if steps.leads_to else ():
            if piece.name == steps.leads_to:
                at, ground = _middle(piece)
                if ground is None:
                    ground = self._fixed_at(at, steps.leads_to)
                yield _End(at, ground, False)
        onto = None if steps.leads_to else self._onto_slab(steps)
        if onto is not None:
            yield _End(onto, self._finish.at(onto), False, slab=True)

    def _onto_slab(self, steps: Steps) -> XY | None:
        """Where a flight that names nothing comes up onto the slab from a foot beside it; None for another."""
        if not steps.foot or any(landing.turns for landing in steps.landings):
            return None
        middle, slab = middle_of(*ends_of(steps.foot)), self._shape.slab
        if not self._climbs_onto_slab(middle):
            return None
        laid = laid_out(steps, len(steps.each) - 1, _toward(steps, None) or self._shape.nearest(middle))
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


def _middle(piece: EdgePiece) -> tuple[XY, float | None]:
    """The middle of an edge, on the walking line of a flight up to it, and the height beside it there."""
    sides = [math.dist(a, b) for a, b in pairwise(piece.line)]
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
