"""Panels, the larger parts that some joints leave, and the corners a crack would start from."""

import math
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design, Part
from slabwright.design.outline import Corner
from slabwright.design.uses import Use
from slabwright.geometry.joints.measure import smallest_rectangles
from slabwright.geometry.joints.panels import cut
from slabwright.geometry.shape.outline import inside_corners as corners_of
from slabwright.geometry.shape.outline import sides_at_corners
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Area, Areas
from slabwright.plan.joints import Joints, filled
from slabwright.plan.shape import Shape, corner_name
from slabwright.plan.thickness import Thickness
from slabwright.plan.view import PlanView
from slabwright.source.place import Place
from slabwright.units.quantity import meets

SHORT_SIDE = 0.1524  # m, 6 in: one joint serves both corners of a side so short (common practice)
AT_JOINT = 0.0508  # m, 2 in: a joint this near to where the thickness changes is at it (common practice)


class CornerAngle(NamedTuple):
    """A corner of a panel and the angle inside it, degrees."""

    at: XY
    degrees: float


class Panel(NamedTuple):
    """A piece of slab between joints, edges and openings; sides are those of its smallest rectangle."""

    name: str  # P1, P2, ... in reading order
    polygon: shapely.Polygon
    long_side: float
    short_side: float
    aspect: float
    area: float
    corners: tuple[CornerAngle, ...]
    neighbors: tuple[str, ...]
    place: Place  # the outline, or the first joint that bounds it
    ring: tuple[XY, ...]  # its outer line, first and last point equal
    areas: tuple[Area, ...] = ()  # of which it holds more than a sliver

    @property
    def uses(self) -> frozenset[Use]:
        """The uses of what it holds."""
        return frozenset(area.use for area in self.areas)

    @property
    def thinnest(self) -> Area:
        """The thinnest of what it holds."""
        return min(self.areas, key=lambda area: area.thickness.si)

    @property
    def drawn(self) -> float:
        """The least design thickness of what it holds, m."""
        return self.thinnest.thickness.si


class Stretch(NamedTuple):
    """A part of the slab between expansion joints."""

    polygon: shapely.Polygon
    long_side: float  # of its smallest rectangle, m

    @property
    def run(self) -> float:
        """Its length along its middle, round turns, m: that of the strip with the same area and the same rim."""
        half, area = self.polygon.exterior.length / 2, shapely.Polygon(self.polygon.exterior).area
        return float(half + max(half**2 - 4 * area, 0.0) ** 0.5) / 2


class ThicknessChange(NamedTuple):
    """Where two areas of different thickness meet: the line, and how much of it no joint runs along."""

    thin: Area
    thick: Area
    line: tuple[XY, ...]
    step: float  # m
    taper: float  # m, over which the thin side comes down to the thick one
    away: float  # m of the line that lie away from every joint

    @property
    def part(self) -> Part:
        """The part of the file that ends there, or the one under which a taper is written."""
        parts = [area.part for area in (self.thick, self.thin) if area.part]
        return max(parts, key=lambda part: part.taper.si if part.taper else -1.0)


class InsideCorner(NamedTuple):
    """A corner where the slab turns around something: outline corners over 180 degrees inside, and opening corners."""

    name: str  # "corner E" or "corner 2 of planter"
    at: XY
    degrees: float  # inside the concrete
    joint_distance: float  # of a joint that counts, to it or to a side of some inches there; inf without joints
    place: Place
    ways: tuple[XY, XY]  # into the slab, straight on from either side that meets there and as long (chords of arcs)


class Panels(PlanView):
    """The slab as joints part it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"outline", "openings"})
    _design: Design
    _shape: Shape
    _areas: Areas
    _thickness: Thickness
    _joints: Joints

    @cached_property
    def all(self) -> tuple[Panel, ...]:
        """The panels, in reading order."""
        found = self._joints.layout.panels
        names = [f"P{number}" for number in range(1, len(found) + 1)]
        cuts = self._joints.cuts
        outline = self._design.place("outline")
        rings = _rings([panel.polygon for panel in found])
        return tuple(
            Panel(
                name=names[i],
                polygon=panel.polygon,
                long_side=panel.long_side,
                short_side=panel.short_side,
                aspect=panel.aspect,
                area=panel.area,
                corners=tuple(CornerAngle((float(x), float(y)), float(a)) for (x, y), a in panel.corners),
                neighbors=tuple(names[n] for n in panel.neighbors),
                place=cuts[panel.joints[0]].place if panel.joints else outline,
                ring=rings[i],
                areas=self._areas.over(panel.polygon),
            )
            for i, panel in enumerate(found)
        )

    def lies_across(self, panel: Panel) -> bool:
        """Whether the long side of a panel is the width of the slab: joints run along more of it than of the short."""
        box = shapely.get_coordinates(panel.polygon.minimum_rotated_rectangle)
        way = max(pairwise(box), key=lambda side: math.dist(*side))
        way = (way[1] - way[0]) / math.dist(*way)
        starts, steps = np.array(panel.ring)[:-1], np.diff(np.array(panel.ring), axis=0)
        within = shapely.distance(self._shape.slab.boundary, shapely.points(starts + steps / 2)) > AT_JOINT
        along, across = np.abs(steps[within] @ way).sum(), np.abs(steps[within] @ (-way[1], way[0])).sum()
        return bool(along * panel.short_side > across * panel.long_side)

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The slab as its joints with filler through the whole slab part it, in reading order."""
        slab = self._shape.slab
        apart = [joint for joint in self._joints.cuts if filled(joint)]
        if not apart:  # the whole slab is one
            ((long, _),) = smallest_rectangles(np.array([slab], dtype=object))
            return (Stretch(slab, long),)
        parts = cut(slab, [self._joints.line_of(joint) for joint in apart]).panels
        return tuple(Stretch(part.polygon, part.long_side) for part in parts)

    @cached_property
    def changes(self) -> tuple[ThicknessChange, ...]:
        """Where the thickness of the slab changes, each straight stretch, and how much of it no joint runs along."""
        joints = [shapely.LineString(joint.line) for joint in self._joints.all if joint.counts]
        near = shapely.union_all([shapely.buffer(line, AT_JOINT, cap_style="flat") for line in joints])
        found = []
        for thin, thick, lines, taper in self._thickness.changes:
            one, other = self._areas.all[thin], self._areas.all[thick]
            step = other.thickness.si - one.thickness.si
            for line in lines:
                for ends in pairwise(line):
                    away = shapely.difference(shapely.LineString(ends), near)
                    found.append(ThicknessChange(one, other, ends, step, taper, float(away.length)))
        return tuple(found)

    @cached_property
    def inside_corners(self) -> tuple[InsideCorner, ...]:
        """Corners of the outline and of openings where the concrete turns through more than a straight line."""
        found: list[InsideCorner] = []
        ring = self._shape.ring
        ways = sides_at_corners(ring)
        for index, at, degrees in corners_of(ring, False):
            corner = self._design.outline[index]
            name = f"inside corner {corner_name(corner)}"
            found.append(self._inside_corner(name, at, degrees, corner, ways[index]))
        for opening, ring in zip(self._design.openings, self._shape.opening_rings, strict=True):
            ways = sides_at_corners(ring)
            for index, at, degrees in corners_of(ring, True):
                corner = opening.corners[index]
                name = f"corner {corner_name(corner)} of {opening.name}"
                found.append(self._inside_corner(name, at, degrees, corner, ways[index]))
        return tuple(found)

    def _inside_corner(
        self, name: str, at: XY, degrees: float, corner: Corner, sides: tuple[XY, XY, XY]
    ) -> InsideCorner:
        _, into, (x, y) = sides
        ways = (into, (-x, -y))
        short = [(at[0] - dx, at[1] - dy) for dx, dy in ways if meets(math.hypot(dx, dy), SHORT_SIDE, "most")]
        served = shapely.MultiLineString([(at, other) for other in short]) if short else shapely.Point(at)
        joint = self._joints.closest(served)
        best = float(shapely.LineString(joint.line).distance(served)) if joint else math.inf
        return InsideCorner(name, at, degrees, best, corner.place, ways)


def _rings(polygons: list[shapely.Polygon]) -> list[tuple[XY, ...]]:
    """The outer line of each polygon, asked of shapely in one go."""
    exteriors = shapely.get_exterior_ring(polygons)
    points = [(x, y) for x, y in shapely.get_coordinates(exteriors).tolist()]
    ends = np.cumsum(shapely.get_num_coordinates(exteriors)).tolist()
    return [tuple(points[start:end]) for start, end in zip([0, *ends], ends, strict=False)]
