"""What rows are made from: a plan, the limits in force on it, and the surface that its points carry."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from slabwright.formulas.units import INCH
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.proposals.heights.carried import Carried
from slabwright.proposals.heights.program import Floats, Row, Sort
from slabwright.rulebook.in_force import InForce, Limits
from slabwright.units.quantity import Amount, Kind, show

BEFORE_DOOR = 36 * INCH
SMALL = 0.0929 / 4  # m2: a smaller facet is a fold, not a fall
WAYS = 16  # directions in which a greatest fall is looked at


class Asking:
    """Makes rows for one plan: looks limits up as the job is held to them, and says in terms of points what is asked.

    A height that is not finite, for there is no limit, asks nothing.
    """

    def __init__(self, plan: Plan, limits: Mapping[str, Limits], on: Carried):
        self.plan = plan
        self.on = on
        self._limits = {name: own.held_to(plan.home) for name, own in limits.items()}

    def limit(self, rule: str, name: str) -> InForce | None:
        """A limit by name; None where its rule is not among those that judge."""
        own = self._limits.get(rule)
        return own.get(name) if own is not None else None

    def value(self, rule: str, name: str, otherwise: float) -> float:
        """The value of a limit, SI, where it weighs more than a note."""
        limit = self.limit(rule, name)
        return otherwise if limit is None or limit.weight == "note" else limit.value.si

    def shown(self, si: float, kind: Kind) -> str:
        """An amount as the job shows it."""
        return show(Amount(si, kind), self.plan.system, both=False)

    def facets(self) -> list[int]:
        """The facets that are a fall, and no fold."""
        least = min(SMALL, self.plan.shape.area / 40)
        return [int(facet) for facet in np.nonzero(self.on.surface.areas > least)[0]]

    def place(self, at: XY) -> tuple[Floats, float] | None:
        """The height at a place in terms of the points, and the rest, m."""
        return self.on.place(self.plan.shape.nearest(at))

    def above(
        self, group: str, sort: Sort, at: XY, height: float, shift: float = 0.0, sure: bool = True
    ) -> Iterator[Row]:
        """The slab at a place at ``height`` at least."""
        if math.isfinite(height) and (found := self.place(at)) is not None:
            yield Row(group, sort, found[0], height - found[1], shift, sure)

    def below(
        self, group: str, sort: Sort, at: XY, height: float, shift: float = 0.0, sure: bool = True
    ) -> Iterator[Row]:
        """The slab at a place at ``height`` at most."""
        if math.isfinite(height) and (found := self.place(at)) is not None:
            yield Row(group, sort, -found[0], found[1] - height, -shift, sure)

    def falls(self, group: str, facet: int, way: Floats, slope: float, sure: bool = True) -> Row:
        """A facet that falls at least ``slope`` along a unit vector; below zero it rises no more than that."""
        terms, rest, run = self.on.fall(facet, way)
        return Row(group, "asked", terms, slope * run - rest, sure=sure)

    def no_steeper(self, group: str, facet: int, most: float) -> Iterator[Row]:
        """A facet that falls no more than ``most`` in any direction."""
        for k in range(WAYS):
            way = np.array([math.cos(2 * math.pi * k / WAYS), math.sin(2 * math.pi * k / WAYS)])
            yield self.falls(group, facet, way, -most * math.cos(math.pi / WAYS))

    def drops(self, group: str, upper: int, lower: int, slope: float) -> Row:
        """A fall of ``slope`` from one vertex of the surface to another, the way parts fall now."""
        run = math.dist(self.on.surface.mesh.xy[upper], self.on.surface.mesh.xy[lower])
        terms = self.on.terms[upper] - self.on.terms[lower]
        rest = float(self.on.rest[upper] - self.on.rest[lower])
        return Row(group, "asked", terms, slope * run - rest, sure=False)
