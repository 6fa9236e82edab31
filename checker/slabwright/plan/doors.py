"""Doors and gates: who uses them, which no rain comes to, the landing before them, and what their leaves swing over."""

import math
import re
from collections.abc import Iterator
from functools import cached_property
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.fixtures import Fixture
from slabwright.design.heights import Fixed
from slabwright.design.model import Design
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Areas
from slabwright.plan.channels import BESIDE, Channels
from slabwright.plan.edges import Edges
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures, PlannedFixture
from slabwright.plan.shape import ON_EDGE, Shape, line_through
from slabwright.plan.view import PlanView
from slabwright.units.quantity import meets

VEHICLES = 2.413  # m, 7 ft 11 in: the door of one car is 8 ft wide, and a wider one is for vehicles (common practice)
NAMED = re.compile(
    r"overhead|roll(er|-?up|tor)|sectional|sektionaltor|shutter|up-and-over|garage door|garagentor|porte de garage",
    re.IGNORECASE,
)
WALKED = re.compile(r"\bdoor\b|\bslider\b|\bthreshold\b|tür|\bdeur\b|\bporte\b|\bdør\b", re.IGNORECASE)
GARAGE = re.compile(r"garage|shop|shed|barn", re.IGNORECASE)
DRIVEN = ("driveway", "vehicle pad", "garage floor", "shop floor")
ON_WAY = 0.61  # m, 2 ft: an accessible way that ends this near to a door leads through it
LOW = 0.0127  # m, 1/2 in: what access standards let a threshold be
IN_WALL = FOOT  # m: a sill so near to a door is that of the door
TURN = 90  # degrees that a leaf swings to a side
APART = 5  # degrees between the places where a leaf is tried
SILL = 0.1524  # m, 6 in: a strip between the sill and a slot is trodden over, and has no fall that a level can read
ALONG_LEAF = (0.0, 0.25, 0.5, 0.75, 1.0)  # where along a leaf, as shares of its width


class Leaf(NamedTuple):
    """The highest spot of the slab that the leaves of a door or gate swing over."""

    at: XY
    slab: float  # finish height there


class Landing(NamedTuple):
    """The slab before a door, as wide as the door."""

    shape: tuple[XY, ...]  # closed
    slope: float  # of its steepest part
    depth: float  # how far the slab reaches straight out from the door, m
    facets: tuple[int, ...]  # of the mesh of the finish surface


class Doors(PlanView):
    """The doors of the file, as people and vehicles use them."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"site", "fixed"})
    _design: Design
    _shape: Shape
    _areas: Areas
    _finish: Finish
    _edges: Edges
    _fixtures: Fixtures
    _channels: Channels

    @staticmethod
    def unasked(design: Design) -> frozenset[str]:
        """Without a door or another fixture, all but the fixtures; a fixed sill asks in which area it lies."""
        none = frozenset({"finish", "edges", "channels"})
        return frozenset() if design.fixtures else none if design.fixed else none | {"areas"}

    @cached_property
    def all(self) -> tuple[PlannedFixture, ...]:
        """Every door, in file order."""
        return tuple(one for one in self._fixtures.all if one.fixture.kind == "door")

    @cached_property
    def for_people(self) -> tuple[PlannedFixture, ...]:
        """Doors that are not overhead, roller or other doors for vehicles."""
        return tuple(one for one in self.all if not self.for_vehicles(one))

    @cached_property
    def sills_alone(self) -> tuple[Fixed, ...]:
        """Sills of doors for people that the file gives as fixed heights with no door drawn.

        A sill is that of a door by its name, or where it is no wider than one; on a drive it may be a garage's.
        """
        alone = []
        for one in self._design.fixed:
            line, name, middle = line_through(one.along), one.name, one.along[len(one.along) // 2]
            drawn = any(self.line(door).distance(line) <= IN_WALL for door in self.all)
            driven = self._areas.at((middle.x, middle.y)).use in DRIVEN or NAMED.search(name) or GARAGE.search(name)
            door = WALKED.search(name) or 0 < line.length <= VEHICLES
            if one.kind == "sill" and door and not (driven or drawn):
                alone.append(one)
        return tuple(alone)

    def for_vehicles(self, door: PlannedFixture) -> bool:
        """Whether vehicles go through a door: by its name, by what crosses its edge, or by its width on a drive."""
        if NAMED.search(door.name):
            return True
        swings = door.fixture.swings_over or door.fixture.hinge
        if not swings and any(piece.edge and piece.edge.wheels_cross for piece in self._edges.at(door.at)):
            return True
        return self._areas.at(door.at).use in DRIVEN and self.line(door).length > VEHICLES

    def accessible(self, door: PlannedFixture) -> bool:
        """Whether the accessible way of the file leads through a door."""
        way = [(point.x, point.y) for point in self._design.site.accessible_route]
        if not way or self.for_vehicles(door):
            return False
        return bool(min(shapely.distance(self.line(door), shapely.points([way[0], way[-1]]))) <= ON_WAY)

    def low_threshold(self, door: PlannedFixture) -> bool:
        """Whether a threshold is low on purpose: on the accessible way, or with a slab that may lie no lower by far."""
        return self.accessible(door) or any(
            one.kind == "sill"
            and one.slab is not None
            and one.slab.low is not None
            and meets(-one.slab.low, LOW, "most")
            and line_through(one.along).distance(shapely.Point(door.at)) <= IN_WALL
            for one in self._design.fixed
        )

    def dry(self, door: PlannedFixture) -> bool:
        """Whether a canopy keeps the rain off a door, or a channel or a drain takes it before the door."""
        if door.fixture.canopy or self._channels.near(door.at, self.line(door)):
            return True
        drains = [one.at for one in self._fixtures.all if one.fixture.kind == "drain"]
        return any(self.line(door).distance(shapely.Point(at)) <= BESIDE for at in drains)

    def channel_short(self, door: PlannedFixture) -> str:
        """Name of a channel that takes the rain before some of a door, and ends before the whole of it."""
        return "" if self.dry(door) else self._channels.short_of(self.line(door))

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
        return line_through(door.fixture.along) if len(door.fixture.along) > 1 else shapely.Point(door.at)

    def leaf(self, fixture: Fixture) -> Leaf | None:
        """The highest spot of the slab under the leaves of a door or gate, all through their swing.

        None where there is no surface, the hinge is not said, or nothing of the swing is over the slab.
        """
        surface = self._finish.surface
        if surface is None or not fixture.hinge or len(fixture.along) < 2:
            return None
        ends = np.array([(p.x, p.y) for p in (fixture.along[0], fixture.along[-1])])
        hinges = np.array([(p.x, p.y) for p in fixture.hinge])
        middle = ends.mean(axis=0)
        spots: list[np.ndarray] = []
        for hinge in hinges:
            far = middle if len(hinges) > 1 else ends[int(np.argmax(np.hypot(*(ends - hinge).T)))]
            for side in _sides(fixture, hinge, far):
                spots.extend(_sector(hinge, far, side))
        at, heights = self._finish.on_slab(np.array(spots))
        if not len(heights):
            return None
        # the first of equals, hinge outwards and closed first, so that the spot named does not hang on rounding
        highest = int(np.argmax(heights > heights.max() - 1e-7))
        return Leaf((float(at[highest, 0]), float(at[highest, 1])), float(heights.max()))

    def landing(self, fixture: Fixture, out: float) -> Landing | None:
        """The slab before a door, as wide as the door and ``out`` m deep: its steepest part, and how far it reaches.

        None where there is no surface, or no slab before the door.
        """
        surface = self._finish.surface
        if surface is None or len(fixture.along) < 2:
            return None
        start, end = (np.array([p.x, p.y]) for p in (fixture.along[0], fixture.along[-1]))
        size = float(np.hypot(*(end - start)))
        if size <= 4 * ON_EDGE:
            return None
        along = (end - start) / size
        square = np.array([-along[1], along[0]])
        if not self._shape.slab.contains(shapely.Point(*((start + end) / 2 + 2 * ON_EDGE * square))):
            square = -square
        inner = (start + along * 2 * ON_EDGE, end - along * 2 * ON_EDGE)  # what only touches the sides is not before it
        before = shapely.Polygon([*inner, inner[1] + square * out, inner[0] + square * out])
        covered = shapely.intersection(self._shape.slab, before)
        if covered.is_empty or covered.distance(shapely.Point(*((start + end) / 2))) > 4 * ON_EDGE:
            return None
        facets = surface.tree.query(before, predicate="intersects")
        parts = shapely.intersection(surface.facets[facets], before)
        facets, parts = (every[shapely.area(parts) > ON_EDGE * ON_EDGE] for every in (facets, parts))
        if not len(facets):
            return None
        ends_out = np.array([((shapely.get_coordinates(part) - start) @ square).max() for part in parts])
        facets = facets[ends_out > min(SILL, ends_out.max() - ON_EDGE)]
        steepest = float(surface.slopes[facets].max())
        reach = min(self._reach(foot, square, 10 * out) for foot in (inner[0], (start + end) / 2, inner[1]))
        corners = tuple((float(x), float(y)) for x, y in shapely.get_coordinates(before))
        return Landing(corners, steepest, reach, tuple(facets.tolist()))

    def _reach(self, foot: np.ndarray, way: np.ndarray, far: float) -> float:
        """How far the slab goes on from a place, m, ``far`` at most."""
        ray = shapely.LineString([foot + way * ON_EDGE, foot + way * far])
        parts = shapely.get_parts(shapely.intersection(self._shape.slab, ray))
        first = [part for part in parts if part.distance(shapely.Point(*foot)) < 2 * ON_EDGE]
        return max((float(part.length) + ON_EDGE for part in first), default=0.0)


def _sides(fixture: Fixture, hinge: np.ndarray, far: np.ndarray) -> tuple[int, ...]:
    """Which way a leaf turns: 1 to the left of hinge to far end, -1 to the right; both where it is not said."""
    if fixture.opens_to is None:
        return 1, -1
    over = np.array([fixture.opens_to.x, fixture.opens_to.y]) - hinge
    run = far - hinge
    return (1,) if run[0] * over[1] - run[1] * over[0] > 0 else (-1,)


def _sector(hinge: np.ndarray, far: np.ndarray, side: int) -> list[np.ndarray]:
    """Places that a leaf sweeps over, from closed to open."""
    run, found = far - hinge, []
    for degrees in range(0, TURN + 1, APART):
        turn = math.radians(side * degrees)
        c, s = math.cos(turn), math.sin(turn)
        way = np.array([c * run[0] - s * run[1], s * run[0] + c * run[1]])
        found += [hinge + way * share for share in ALONG_LEAF]
    return found
