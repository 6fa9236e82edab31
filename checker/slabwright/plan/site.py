"""The ground under the slab before digging, and what lies round the slab, measured on the plan."""

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from typing import ClassVar, NamedTuple

import numpy as np
import shapely
from shapely.ops import split

from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.design.site import BuriedLine
from slabwright.geometry.shape.distances import farthest_from
from slabwright.geometry.surface import thickness as thickness_geometry
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Areas
from slabwright.plan.concrete import Concrete
from slabwright.plan.finish import Finish
from slabwright.plan.joints import Joints
from slabwright.plan.shape import Shape, line_through
from slabwright.plan.shots import scattered
from slabwright.plan.thickness import Thickness
from slabwright.plan.view import PlanView

_LOOPS = r"(?i)radiant|underfloor|floor heat|\b(tub(e|es|ing)|loops?)\b"


class Ground(NamedTuple):
    """Existing ground less the bottom of the base, where both are known: where it is raised and where it is dug."""

    fill: float  # greatest depth of fill, m
    fill_at: XY
    panel_fills: tuple[float, ...]  # greatest in each panel, m; nan where nothing is known
    panel_cuts: tuple[float, ...]


class Site(PlanView):
    """What the slab is set into."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"heights", "site"})
    _design: Design
    _shape: Shape
    _areas: Areas
    _thickness: Thickness
    _joints: Joints
    _finish: Finish
    _concrete: Concrete

    @cached_property
    def loops(self) -> tuple[BuriedLine, ...]:
        """Heating loops and other tubes in the concrete that are written as buried lines."""
        return tuple(line for line in self._design.site.buried if re.search(_LOOPS, line.name) and self._cast_in(line))

    @cached_property
    def buried(self) -> tuple[tuple[str, BuriedLine], ...]:
        """The lines in the ground with their names; loops in the concrete are none."""
        named = [(line.name or f"buried line {n}", line) for n, line in enumerate(self._design.site.buried, 1)]
        return tuple((name, line) for name, line in named if line not in self.loops)

    def _cast_in(self, line: BuriedLine) -> bool:
        """Whether a line lies within the depth of the concrete."""
        over = self._areas.thickest([(point.x, point.y) for point in line.along])
        return line.depth is not None and line.depth.si < over.thickness.si

    @cached_property
    def existing_surface(self) -> Surface | None:
        """The ground before digging between its shots, or None without shots."""
        return scattered(self._shape.slab, self._design.heights.existing)

    @cached_property
    def ground(self) -> Ground | None:
        """Existing ground less the bottom of the base, or None while either is not known.

        The bottom of the base lies its thickness under the shots on it, or under the slab as drawn.
        """
        existing, base = self.existing_surface, self._design.site.base
        if existing is None:
            return None
        top, down = self._concrete.base_surface, base.thickness.si if base and base.thickness else 0.0
        if top is None:
            top, down = self._finish.surface, down + self._thickness.design
        if top is None:
            return None
        bottom = replace(top, z=top.z - down)
        if self._areas.several:
            return self._ground_of_areas(existing, bottom)
        found = thickness_geometry.between(existing, bottom, [panel.polygon for panel in self._joints.layout.panels])
        if not found.covered_area > 0:
            return None
        fills, cuts = np.maximum(-found.zone_least, 0.0), np.maximum(found.zone_most, 0.0)
        return Ground(
            fill=max(0.0, -found.least),
            fill_at=found.least_at,
            panel_fills=tuple(fills.tolist()),
            panel_cuts=tuple(cuts.tolist()),
        )

    def _ground_of_areas(self, existing: Surface, bottom: Surface) -> Ground | None:
        """The same for a slab whose parts differ in thickness: each area lies as much lower as it is thicker."""
        panels = [panel.polygon for panel in self._joints.layout.panels]
        fills, cuts, covered = np.full(len(panels), np.nan), np.full(len(panels), np.nan), 0.0
        fill_at = (float("nan"), float("nan"))
        for area in self._areas.all:
            lower = replace(bottom, z=bottom.z - (area.thickness.si - self._thickness.design))
            pieces = [
                (number, piece)
                for number, panel in enumerate(panels)
                for piece in shapely.get_parts(shapely.intersection(panel, area.polygon))
                if isinstance(piece, shapely.Polygon) and piece.area > 1e-6
            ]
            if not pieces:
                continue
            found = thickness_geometry.between(existing, lower, [piece for _, piece in pieces])
            covered += float(np.asarray(found.zone_areas).sum())
            for (number, piece), least, most in zip(pieces, found.zone_least, found.zone_most, strict=True):
                if not math.isfinite(least):
                    continue
                middle = piece.representative_point()
                if max(0.0, -least) > np.nanmax([*fills, -1.0]):
                    fill_at = (middle.x, middle.y)
                fills[number] = np.nanmax([fills[number], 0.0, -least])
                cuts[number] = np.nanmax([cuts[number], 0.0, most])
        if not covered > 0:
            return None
        return Ground(
            fill=float(np.nanmax(fills)),
            fill_at=fill_at,
            panel_fills=tuple(fills.tolist()),
            panel_cuts=tuple(cuts.tolist()),
        )

    def under(self, points: Sequence[Point]) -> float:
        """Length of a line that the slab covers, m."""
        return float(shapely.intersection(line_through(points), self._shape.slab).length)

    def panels_over(self, points: Sequence[Point]) -> tuple[str, ...]:
        """Names of the panels that a line runs under."""
        line = line_through(points)
        return tuple(
            f"P{number}"
            for number, panel in enumerate(self._joints.layout.panels, 1)
            if shapely.intersection(line, panel.polygon).length > 1e-6
        )

    def along_edge(self, points: Sequence[Point], within: float) -> float:
        """Share of a line that runs within ``within`` m of the outline; where it only ends there, that is little."""
        line = line_through(points)
        near = self._shape.ring.polygon.exterior.buffer(within)
        return float(shapely.intersection(line, near).length / line.length) if line.length > 0 else 0.0

    def away(self, points: Sequence[Point]) -> float:
        """Distance from the slab to a point or a line, m; 0 where they touch."""
        return float(shapely.distance(line_through(points), self._shape.slab))

    def in_opening(self, at: Point) -> bool:
        """Whether a place lies in an opening of the slab."""
        spot = shapely.Point(at.x, at.y)
        return any(ring.polygon.covers(spot) for ring in self._shape.opening_rings)

    def over(self, points: Sequence[Point]) -> float:
        """How far the slab reaches over a line, on the side where less of it lies, m; 0 where it does not cross it.

        A line that ends under the slab is carried on to its far side.
        """
        line = line_through(points)
        if not shapely.intersection(line, self._shape.slab).length > 1e-6:
            return 0.0
        xy, reach = (
            shapely.get_coordinates(line),
            float(np.hypot(*np.ptp(shapely.get_coordinates(self._shape.slab), axis=0))),
        )
        for end, before in ((0, 1), (-1, -2)):
            out = xy[end] - xy[before]
            if shapely.intersects_xy(self._shape.slab, *xy[end]) and np.hypot(*out) > 0:
                xy[end] = xy[end] + out / np.hypot(*out) * 2 * reach
        carried = shapely.LineString(xy)
        beyond = sorted(split(self._shape.slab, carried).geoms, key=lambda part: -part.area)[1:]
        corners = [shapely.get_coordinates(part) for part in beyond]
        return float(shapely.distance(carried, shapely.points(np.concatenate(corners))).max()) if corners else 0.0

    def farthest(self, spots: Sequence[Point]) -> tuple[float, XY]:
        """The place of the slab that is farthest from the nearest of ``spots``: distance, m, and where."""
        return farthest_from(self._shape.slab, [(spot.x, spot.y) for spot in spots])

    @staticmethod
    def crosses(path: Sequence[Point], line: Sequence[Point], half: float) -> bool:
        """Whether a line passes over a path that reaches ``half`` m to either side."""
        return bool(shapely.distance(line_through(path), line_through(line)) <= half)

    @staticmethod
    def apart(path: Sequence[Point], corners: Sequence[Point]) -> float:
        """Distance from a path to a place with corners, m; 0 where the path crosses it."""
        ring = shapely.Polygon([(corner.x, corner.y) for corner in corners])
        return float(shapely.distance(line_through(path), ring))
