"""The slab seen from above: its outline, its openings, and what the places on it are called."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from typing import ClassVar

import shapely

from slabwright.design.model import Design
from slabwright.design.outline import Corner
from slabwright.design.point import Point, spot_name
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import distance_ahead
from slabwright.geometry.shape.outline import Ring, build_ring
from slabwright.geometry.shape.ring_faults import ring_faults
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.view import PlanView
from slabwright.source.place import Place
from slabwright.source.problem import Problems

ON_EDGE = 0.005  # a point this near the outline lies on it, m

_FAULTS = {
    "repeated point": ("{a} and {b} are at the same spot", "leave one of them out, or correct its numbers"),
    "crosses itself": (
        "the side from {a} to {b} crosses the side from {c} to {d}",
        "list the corners in the order you would walk around the slab",
    ),
    "no area": ("the corners lie on one line and enclose nothing", "give at least three corners that are not in line"),
    "spike": ("the outline runs out to {a} and straight back", "take {a} out, or correct its numbers"),
    "not finite": ("{a} is too far away to be a corner of a slab", "write its distances in feet or meters"),
    "radius": ("the arc to {a} does not bend", "move the through point off the straight line, or write a plain corner"),
}


class Shape(PlanView):
    """The outline and the openings as closed lines, and the concrete between them.

    Making one raises :class:`UnreadableError` when the outline or an opening does not close to a simple shape.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"units", "points", "outline", "openings"})
    _design: Design

    def __post_init__(self) -> None:
        problems = Problems()
        self.ring: Ring = _outline_ring(self._design, problems)
        self.opening_rings: tuple[Ring, ...] = _opening_rings(self._design, self.ring, problems)
        problems.raise_if_any()

    @property
    def corners(self) -> tuple[Corner, ...]:
        """The corners of the outline as typed, in order."""
        return self._design.outline

    @cached_property
    def slab(self) -> shapely.Polygon:
        """The concrete seen from above, openings cut out."""
        shape = self.ring.polygon
        holes = [ring.polygon for ring in self.opening_rings]
        return shapely.difference(shape, shapely.union_all(holes)) if holes else shape

    @property
    def area(self) -> float:
        """Area of concrete, m2."""
        return float(self.slab.area)

    @property
    def perimeter(self) -> float:
        """Length of the outline, openings not counted, m."""
        return float(self.ring.length)

    @cached_property
    def _points_by_cell(self) -> dict[tuple[int, int], list[tuple[int, Point]]]:
        """Points of the file, with their place in it, by the small square they lie in."""
        found: dict[tuple[int, int], list[tuple[int, Point]]] = {}
        for number, point in enumerate(self._design.points.values()):
            cell = math.floor(point.x / ON_EDGE), math.floor(point.y / ON_EDGE)
            found.setdefault(cell, []).append((number, point))
        return found

    def bends_at(self, at: XY) -> bool:
        """Whether the edge of the outline or of an opening nearest to a place is an arc."""
        spot = shapely.Point(at)
        return min(
            (self.ring, *self.opening_rings), key=lambda ring: float(ring.polygon.boundary.distance(spot))
        ).bends_at(at)

    def ahead(self, start: XY, towards: XY) -> XY | None:
        """Where a line from ``start`` over the slab in the direction ``towards`` (of any length) next meets the rim.

        None where it does not run over the slab.
        """
        away, size = distance_ahead(self.slab, start, towards), math.hypot(*towards)
        if not math.isfinite(away):
            return None
        x, y = (way / size * away for way in towards)
        middle = shapely.Point(start[0] + x / 2, start[1] + y / 2)
        return (start[0] + x, start[1] + y) if self.slab.covers(middle) else None

    def nearest(self, at: XY) -> XY:
        """The place of the slab nearest to a place."""
        return as_xy(shapely.get_coordinates(shapely.shortest_line(self.slab, shapely.Point(at)))[0])

    def name_at(self, at: XY) -> str:
        """The name of the point at a place, or its coordinates in the unit of the plan."""
        column, row = math.floor(at[0] / ON_EDGE), math.floor(at[1] / ON_EDGE)
        cells = [(column + x, row + y) for x in (-1, 0, 1) for y in (-1, 0, 1)]
        beside = [one for cell in cells if cell in self._points_by_cell for one in self._points_by_cell[cell]]
        near = [one for one in beside if math.dist(at, (one[1].x, one[1].y)) < ON_EDGE]
        if near:
            return min(near)[1].name
        unit, size = ("ft", FOOT) if self._design.system == "us" else ("m", 1.0)
        return f"({at[0] / size + 0.0:.2f} {unit}, {at[1] / size + 0.0:.2f} {unit})"


def corner_name(corner: Corner) -> str:
    """The name of a corner, or its place on the plan when it was typed as a pair of numbers."""
    return point_name(corner.at)


def point_name(point: Point) -> str:
    """The name of a point, or its numbers as typed when it has none (in meters where nobody typed them)."""
    return point.name or point.typed or spot_name(point.x, point.y, "m")


def closed(corners: Sequence[Corner]) -> Ring:
    """The line through typed corners, closed."""
    return build_ring([((c.at.x, c.at.y), (c.through.x, c.through.y) if c.through else None) for c in corners])


def line_through(points: Sequence[Point]) -> shapely.Geometry:
    """A line through points of the file; of one alone, the point."""
    xy = [(point.x, point.y) for point in points]
    return shapely.Point(xy[0]) if len(xy) == 1 else shapely.LineString(xy)


def tell_faults(ring: Ring, corners: Sequence[Corner], what: str, place: Place, problems: Problems) -> None:
    """Add everything to ``problems`` that keeps a ring from being a simple shape."""
    for fault in ring_faults(ring):
        wrong, write = _FAULTS[fault.kind]
        names = [corner_name(corners[i]) for i in fault.corners]
        slots = dict(zip("abcd", [*names, *["?"] * (4 - len(names))], strict=True))
        at = corners[fault.corners[0]].place if fault.corners else place
        problems.add(at, f"{what}: {wrong.format(**slots)}", write.format(**slots))


def _outline_ring(design: Design, problems: Problems) -> Ring:
    """The outline as a ring; faults go to ``problems``."""
    place = design.places.get("outline", Place(design.file))
    ring = closed(design.outline)
    tell_faults(ring, design.outline, "outline", place, problems)
    return ring


def _opening_rings(design: Design, outline: Ring, problems: Problems) -> tuple[Ring, ...]:
    """One ring for each opening; faults, and openings that leave the slab or overlap, go to ``problems``."""
    rings: list[Ring] = []
    before = len(problems)
    for opening in design.openings:
        ring = closed(opening.corners)
        tell_faults(ring, opening.corners, f"opening {opening.name}", opening.place, problems)
        rings.append(ring)
    if len(problems) > before or not outline.polygon.is_valid:
        return tuple(rings)
    for number, (opening, ring) in enumerate(zip(design.openings, rings, strict=True)):
        if not outline.polygon.contains_properly(ring.polygon):
            problems.add(
                opening.place,
                f"opening {opening.name} reaches over the edge of the slab",
                "keep it inside the outline, or draw the notch with outline corners",
            )
        for other, earlier in zip(design.openings[:number], rings[:number], strict=True):
            if not ring.polygon.disjoint(earlier.polygon):
                problems.add(
                    opening.place,
                    f"openings {other.name} and {opening.name} overlap",
                    "draw them as one opening, or move one of them",
                )
    return tuple(rings)
