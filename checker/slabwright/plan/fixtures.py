"""Drains, posts, columns, doors and the rest, as they stand on the plan."""

from collections import Counter
from functools import cached_property
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.fixtures import Fixture
from slabwright.design.model import Design
from slabwright.geometry.xy import XY
from slabwright.plan.finish import Finish
from slabwright.plan.shape import Shape
from slabwright.plan.view import PlanView


class PlannedFixture(NamedTuple):
    """A fixture on the plan; ``inside`` when concrete surrounds it."""

    fixture: Fixture
    name: str  # "post 1" when the file gives none
    at: XY
    inside: bool
    slab: float | None  # finish height there


class Fixtures(PlanView):
    """The fixtures of the file on the plan."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"fixtures"})
    _design: Design
    _shape: Shape
    _finish: Finish

    @staticmethod
    def unasked(design: Design) -> frozenset[str]:
        """Without fixtures, how high they stand."""
        return frozenset() if design.fixtures else frozenset({"finish"})

    @cached_property
    def all(self) -> tuple[PlannedFixture, ...]:
        """Every fixture with a name of its own, in file order; doors and gates stand at the middle of their width."""
        totals = Counter(f.kind for f in self._design.fixtures)
        seen: Counter[str] = Counter()
        slab = self._shape.slab
        found = []
        for fixture in self._design.fixtures:
            seen[fixture.kind] += 1
            number = f" {seen[fixture.kind]}" if totals[fixture.kind] > 1 else ""
            at = _fixture_at(fixture)
            spot = shapely.Point(at)
            reach = fixture.size.si / 2 if fixture.size else 0.0
            inside = bool(slab.contains(spot)) and float(slab.boundary.distance(spot)) > reach
            name = fixture.name or f"{fixture.kind}{number}"
            found.append(PlannedFixture(fixture, name, at, inside, self._finish.at(at)))
        return tuple(found)

    def from_edge(self, at: XY) -> float:
        """Distance from a place, such as the middle of a fixture, to the nearest edge or opening of the slab, m."""
        return float(self._shape.slab.boundary.distance(shapely.Point(at)))

    def legs(self, one: PlannedFixture) -> tuple[XY, ...]:
        """Where an anchor goes into the concrete: its legs or bolts one by one, else its middle."""
        return tuple((point.x, point.y) for point in one.fixture.along) or (one.at,)


def _fixture_at(fixture: Fixture) -> XY:
    if fixture.at is not None:
        return fixture.at.x, fixture.at.y
    xs, ys = [p.x for p in fixture.along], [p.y for p in fixture.along]
    return sum(xs) / len(xs), sum(ys) / len(ys)
