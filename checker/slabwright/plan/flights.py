"""Flights of steps poured with the slab: their risers, the last one counted, and the treads that are poured."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cached_property
from typing import ClassVar, NamedTuple

from slabwright.design.model import Design, Steps
from slabwright.plan.edges import Edges
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.things import XY, EdgePiece, Flight
from slabwright.source.place import Place

LAST = 0.5  # a rise that is left and is less than this share of a riser belongs to the riser before it


class Flights:
    """Each flight of the file, worked with the heights at its foot and at what it leads up to where they are known."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"thickness"})

    def __init__(self, design: Design, finish: Finish, edges: Edges, fixtures: Fixtures) -> None:
        self._design = design
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
        if end is None:
            return Flight(steps, risers, risers, None, False, steps.place, False)
        foot = self._finish.at(end.at)
        if end.top is None or foot is None:
            return Flight(steps, risers, risers, end.at, end.door, end.place, False)
        left = end.top - foot - sum(risers)
        if left < LAST * risers[-1]:  # the last one drawn climbs onto what stands there
            return Flight(steps, (*risers[:-1], risers[-1] + left), risers[:-1], end.at, end.door, end.place, True)
        return Flight(steps, (*risers, left), risers, end.at, end.door, end.place, True)

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
