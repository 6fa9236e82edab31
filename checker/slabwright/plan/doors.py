"""Doors: which people use and which are for vehicles, which lie on an accessible way, and which are drained."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cached_property
from typing import ClassVar

import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.plan.areas import Areas
from slabwright.plan.channels import BESIDE, Channels
from slabwright.plan.edges import Edges
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.things import XY, PlannedFixture

VEHICLES = 2.4384  # m, 8 ft: a wider door of a drive or a garage is for vehicles (common practice)
NAMED = re.compile(r"overhead|roll(er|-?up)|sectional|shutter|up-and-over|garage door", re.IGNORECASE)
DRIVEN = ("driveway", "vehicle pad", "garage floor", "shop floor")
ON_WAY = 0.61  # m, 2 ft: an accessible way that ends this near to a door leads through it


class Doors:
    """The doors of the file, as people and vehicles use them."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"site"})

    def __init__(self, design: Design, areas: Areas, edges: Edges, fixtures: Fixtures, channels: Channels) -> None:
        self._design = design
        self._areas = areas
        self._edges = edges
        self._fixtures = fixtures
        self._channels = channels

    @cached_property
    def all(self) -> tuple[PlannedFixture, ...]:
        """Every door, in file order."""
        return tuple(one for one in self._fixtures.all if one.fixture.kind == "door")

    @cached_property
    def for_people(self) -> tuple[PlannedFixture, ...]:
        """Doors that are not overhead, roller or other doors for vehicles."""
        return tuple(one for one in self.all if not self.for_vehicles(one))

    def for_vehicles(self, door: PlannedFixture) -> bool:
        """Whether vehicles go through a door: by its name, by what crosses its edge, or by its width on a drive."""
        if NAMED.search(door.name):
            return True
        if door.fixture.swings_over or door.fixture.hinge:
            return False
        if any(piece.edge and piece.edge.wheels_cross for piece in self._edges.at(door.at)):
            return True
        return self._areas.at(door.at).use in DRIVEN and self.line(door).length > VEHICLES

    def accessible(self, door: PlannedFixture) -> bool:
        """Whether the accessible way of the file leads through a door."""
        way = [(point.x, point.y) for point in self._design.site.accessible_route]
        if not way or self.for_vehicles(door):
            return False
        return bool(min(shapely.distance(self.line(door), shapely.points([way[0], way[-1]]))) <= ON_WAY)

    def drained(self, door: PlannedFixture) -> bool:
        """Whether a channel, or a drain, takes the rain before a door."""
        if self._channels.near(door.at, self.line(door)):
            return True
        drains = [one.at for one in self._fixtures.all if one.fixture.kind == "drain"]
        return any(self.line(door).distance(shapely.Point(at)) <= BESIDE for at in drains)

    def reaches(self, door: PlannedFixture, at: XY, within: float) -> bool:
        """Whether a door is within a distance of a place."""
        return bool(self.line(door).distance(shapely.Point(at)) <= within + 1e-9)

    def near(self, at: XY, within: float) -> bool:
        """Whether a door that people use, or a gate, is so near to a place that they step off there."""
        return any(self.reaches(one, at, within) for one in self._passages())

    def steps_off(self, start: XY, end: XY, within: float) -> Iterator[XY]:
        """Places between the ends of a straight run that lie nearest to a door that people use, or to a gate."""
        for one in self._passages():
            share = nearest_on((start, end), one.at)[2]
            at = tuple((1 - share) * a + share * b for a, b in zip(start, end, strict=True))
            if 0 < share < 1 and self.reaches(one, (at[0], at[1]), within):
                yield at[0], at[1]

    def _passages(self) -> Iterator[PlannedFixture]:
        yield from self.for_people
        yield from (one for one in self._fixtures.all if one.fixture.kind == "gate")

    def line(self, door: PlannedFixture) -> shapely.Geometry:
        """The width of a door or gate on the plan; a point where the file gives no more."""
        along = [(point.x, point.y) for point in door.fixture.along]
        return shapely.LineString(along) if len(along) > 1 else shapely.Point(door.at)
