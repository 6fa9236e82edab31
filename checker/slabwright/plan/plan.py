"""The worked plan: design and geometry put together once, lazily and frozen; rules only read it.

All numbers are SI (metres, m2, m3; heights in metres, larger is higher; slopes as rise over run).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property

import numpy as np
import shapely

from slabwright.design.model import Design, Edge, Fixture, Point, StatedFall
from slabwright.geometry.joints.panels import PanelLayout
from slabwright.geometry.shape.outline import Ring
from slabwright.geometry.surface import thickness as thickness_geometry
from slabwright.geometry.surface.surface import Surface
from slabwright.geometry.surface.thickness import Between, Thickening
from slabwright.geometry.water.flow import Flow
from slabwright.plan import edges, finish, fixed, grades, panels, parts, profiles, site, water, ways
from slabwright.plan.edges import Laid
from slabwright.plan.things import (
    XY,
    BaseStep,
    CornerAngle,
    Crest,
    Depths,
    EdgePiece,
    Facet,
    FallPart,
    FixedMatch,
    FixedPair,
    Fold,
    GradeBreak,
    Ground,
    InsideCorner,
    JointEnd,
    Landing,
    Leaf,
    LineRun,
    NewHeight,
    Panel,
    PlannedFixture,
    PlannedJoint,
    Pond,
    Quantities,
    RouteStretch,
    Section,
    Stretch,
    Trail,
    ValleyEnd,
    WallFall,
    Water,
    WaterShare,
)
from slabwright.source.place import Place
from slabwright.source.problem import Problem, Problems
from slabwright.units.quantity import System

__all__ = [
    "XY", "BaseStep", "CornerAngle", "Crest", "Depths", "Edge", "EdgePiece", "Facet", "FallPart", "FixedMatch",
    "FixedPair", "Fold", "GradeBreak", "Ground", "InsideCorner", "JointEnd", "Landing", "Leaf", "LineRun", "NewHeight",
    "Panel", "Plan", "PlannedFixture", "PlannedJoint", "Pond", "Quantities", "RouteStretch", "Section", "StatedFall",
    "Stretch", "Trail", "ValleyEnd", "WallFall", "Water", "WaterShare",
]  # fmt: skip

_INDOORS = ("garage floor", "shop floor", "equipment pad")
_VEHICLES = ("driveway", "vehicle pad", "garage floor")


class Plan:
    """The worked plan of one design. Every property is worked out on first use and kept.

    Making one raises :class:`UnreadableError` when the outline or an opening
    does not close to a simple shape, or an edge run does not lie on the outline.
    """

    def __init__(self, design: Design) -> None:
        self.design = design
        problems = Problems()
        self.ring: Ring = edges.outline_ring(design, problems)
        self.opening_rings: tuple[Ring, ...] = edges.opening_rings(design, self.ring, problems)
        problems.raise_if_any()
        self.laid: Laid = edges.lay_edges(design, self.ring, problems)
        problems.raise_if_any()

    # what the design says, directly

    @property
    def system(self) -> System:
        """Unit system the report shows first."""
        return self.design.system

    @property
    def thickness(self) -> float:
        """Design thickness, m."""
        return self.design.thickness.design.si

    @property
    def outdoors(self) -> bool:
        """Whether rain falls on it: as the file says, otherwise by use (floors and equipment pads are indoors)."""
        said = self.design.site.outdoors
        return self.design.use not in _INDOORS if said is None else said

    @property
    def carries_vehicles(self) -> bool:
        """Whether vehicles are meant to stand on it, by use or because a load is given."""
        return self.design.use in _VEHICLES or bool(self.design.loads)

    def place(self, *paths: str) -> Place:
        """The place of the first key path that is in the file, else of its nearest section, else the file itself."""
        places = self.design.places
        for path in paths:
            if path in places:
                return places[path]
        for path in paths:
            section = path
            while "." in section:
                section = section.rpartition(".")[0]
                if section in places:
                    return places[section]
        return Place(self.design.file)

    # shape

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
    def edges(self) -> tuple[EdgePiece, ...]:
        """The whole outline in order, in stretches with one thing beside each."""
        return edges.edge_pieces(self)

    def edges_at(self, at: XY) -> tuple[EdgePiece, ...]:
        """The stretches of the outline that a point lies on, to half a centimetre: two at a corner, none inside."""
        return edges.edges_at(self, at)

    @cached_property
    def edge_runs(self) -> tuple[Thickening, ...]:
        """Thickened edges, each with the part of the slab that it thickens, metres."""
        return edges.thickened_runs(self)

    @cached_property
    def layout(self) -> PanelLayout:
        """Panels and joints as plain geometry; pattern lines left out."""
        return panels.layout(self)

    @cached_property
    def panels(self) -> tuple[Panel, ...]:
        """The panels, in reading order."""
        return panels.panels(self)

    @cached_property
    def joints(self) -> tuple[PlannedJoint, ...]:
        """Every joint and pattern line of the file as it lies on the plan, in file order."""
        return panels.joints(self)

    @cached_property
    def joint_lines(self) -> shapely.Geometry:
        """All joints that count, as one geometry (empty without joints)."""
        return shapely.union_all([shapely.LineString(j.line) for j in self.joints if j.counts and len(j.line) > 1])

    def nearest_joint(self, at: XY) -> tuple[str, float]:
        """Name of the joint that counts nearest to a point, and how far it is, m; "" and inf without joints."""
        return panels.nearest_joint(self, at)

    def joint_arms(self, at: XY, within: float) -> int:
        """How many ways joints that count go out from a place: two for one that goes on, one where it ends."""
        return panels.joint_arms(self, at, within)

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The slab as its expansion joints part it, in reading order."""
        return panels.stretches(self)

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        """The slab as the joints part it at which placing can stop, in reading order."""
        return panels.sections(self)

    @cached_property
    def inside_corners(self) -> tuple[InsideCorner, ...]:
        """Corners a crack would start from."""
        return panels.inside_corners(self)

    @cached_property
    def fixtures(self) -> tuple[PlannedFixture, ...]:
        """Drains, posts, columns, doors and the rest, on the plan."""
        return panels.fixtures(self)

    # surface and water

    @cached_property
    def _heights(self) -> finish.Finish:
        return finish.finish(self)

    @property
    def missing_finish(self) -> tuple[str, ...]:
        """Corners and line points without a finish height; while there are any there is no surface."""
        return self._heights.missing

    @property
    def line_heights(self) -> tuple[tuple[float, ...] | None, ...]:
        """Heights of each height line of the file, point by point; None for a line that lacks one."""
        return self._heights.line_heights

    @property
    def surface(self) -> Surface | None:
        """The finish surface, or None while a corner has no height: it is never guessed."""
        return self._heights.surface

    @cached_property
    def base_surface(self) -> Surface | None:
        """The prepared base between its shots, or None without shots."""
        return finish.scattered(self, self.design.heights.base, folded=True)

    def base_steps(self, within: float) -> tuple[BaseStep, ...]:
        """Every two base shots at most ``within`` m apart, and how much the depth of the slab changes between them."""
        return site.base_steps(self, within)

    @cached_property
    def worst_fold(self) -> Fold | None:
        """The four-corner piece whose two folds differ most; None where nothing folds two ways, or all is shot."""
        return finish.worst_fold(self, self.surface) if self.surface else None

    @cached_property
    def facets(self) -> tuple[Facet, ...]:
        """The triangles of the finish surface; empty without one."""
        return finish.facets(self.surface) if self.surface else ()

    @cached_property
    def water(self) -> Water | None:
        """Standing water and where water leaves, or None without a finish surface."""
        return water.water(self, self._ways_over) if self._ways_over else None

    @cached_property
    def _ways_over(self) -> Flow | None:
        return water.ways_over(self, self.surface) if self.surface else None

    @cached_property
    def trails(self) -> tuple[Trail, ...]:
        """A few ways of water, for the drawing; empty without a finish surface."""
        return water.trails(self, self._ways_over) if self._ways_over else ()

    @cached_property
    def bare_shares(self) -> tuple[WaterShare, ...]:
        """Shares as they would be if no ground stood beside the slab; empty without a finish surface."""
        if self._ways_over is None or self.water is None:
            return ()
        return water.bare_shares(self, self.water, self._ways_over)

    def ways_of_water(self, starts: Sequence[XY]) -> tuple[Trail, ...]:
        """The ways of water from places on the slab or beside it; empty without a finish surface."""
        return water.ways(self, self._ways_over, starts) if self._ways_over and len(starts) else ()

    def gathered(self, at: XY) -> float:
        """Share of the slab's area whose water passes a point that has a height; 0 without a finish surface."""
        return water.gathered(self, self.surface, at) if self.surface else 0.0

    @property
    def outlets(self) -> tuple[str, ...]:
        """Names of all edges, drains and openings that may take water, those included that the file leaves open."""
        return water.outlets(self)

    @cached_property
    def lines(self) -> tuple[LineRun, ...]:
        """Valleys, ridges and grade breaks with their heights; empty without a finish surface."""
        return finish.line_runs(self)

    @cached_property
    def lines_cross(self) -> bool:
        """Whether height lines cross where no point has a height, so that each of them says its own there."""
        return finish.lines_cross(self)

    @property
    def falls(self) -> tuple[StatedFall, ...]:
        """Falls as typed on the sketch."""
        return self.design.heights.falls

    @cached_property
    def fixed_matches(self) -> tuple[FixedMatch, ...]:
        """Where fixed heights meet the slab; empty without a finish surface."""
        return finish.fixed_matches(self)

    @cached_property
    def fixed_pairs(self) -> tuple[FixedPair, ...]:
        """What every two fixed heights in sight of each other ask of the fall between them, whatever the finish is."""
        return fixed.fixed_pairs(self)

    def stepped_up(self, name: str) -> float:
        """How high the steps poured with the slab rise that lead up to a door or an edge, m; 0 without any."""
        flights = [one for one in self.design.thickness.steps if one.leads_to == name != ""]
        return max((one.count * one.riser.si for one in flights), default=0.0)

    def finish_at(self, at: XY) -> float | None:
        """Finish height at a point of the slab (or the nearest point of it within 2 ft), m; None if not known."""
        return finish.finish_at(self, at)

    def rim_heights(self, points: Sequence[XY]) -> tuple[float, ...] | None:
        """Finish heights at points of the outline, straight between those given; None while a corner has none."""
        return self._heights.along_rim(points)

    def fall_along(self, start: XY, end: XY) -> float | None:
        """Mean fall from ``start`` down to ``end`` by the finish heights; None if not known."""
        first, last = self.finish_at(start), self.finish_at(end)
        run = float(np.hypot(end[0] - start[0], end[1] - start[1]))
        return None if first is None or last is None or run == 0 else (first - last) / run

    def wall_falls(self, within: float) -> tuple[WallFall, ...]:
        """The fall away from every building edge, out to ``within`` m or the first low line before that."""
        return finish.wall_falls(self, within) if self.surface else ()

    # what passes over it

    def crest(self, start: Sequence[EdgePiece], end: Sequence[EdgePiece]) -> Crest | None:
        """The highest point of the lowest way over the slab from edges to others; None without a finish surface."""
        return ways.crest(self, self.surface, start, end) if self.surface else None

    def raised_crest(
        self, start: Sequence[EdgePiece], end: Sequence[EdgePiece], height: float
    ) -> tuple[NewHeight, ...]:
        """Heights that bring the crest between edges up to ``height``, m; empty when heights of points cannot."""
        return ways.raised_crest(self, start, end, height)

    def valley_end(self, run: LineRun) -> ValleyEnd | None:
        """The last stretch of a valley as a gutter; None where it or one of its sides hardly falls."""
        return ways.valley_end(self, run)

    def leaf(self, fixture: Fixture) -> Leaf | None:
        """The highest spot of the slab under the swing of a door or gate; None where the file does not say enough."""
        return ways.leaf(self, fixture)

    def landing(self, fixture: Fixture, out: float) -> Landing | None:
        """The slab before a door, ``out`` m deep; None without a finish surface, or where no slab lies there."""
        return ways.landing(self, fixture, out)

    def route(self, points: Sequence[Point]) -> tuple[RouteStretch, ...]:
        """The falls along and across a way over the slab; empty without a finish surface."""
        return ways.route(self, points)

    @cached_property
    def along_sides(self) -> tuple[RouteStretch, ...]:
        """The falls along and across a walk, along each side that is long for its width; empty where none is."""
        return ways.along_sides(self)

    @cached_property
    def grade_breaks(self) -> tuple[GradeBreak, ...]:
        """The worst crest, sag and meeting with what stands beside, on the ways in over each edge that wheels cross."""
        return profiles.grade_breaks(self, self.surface) if self.surface else ()

    # parts of the surface, and heights that would make them fall as asked

    def name_at(self, at: XY) -> str:
        """The name of the point at a place, or its coordinates."""
        return parts.name_at(self, at)

    def written(self, height: float, up: bool | None = None) -> float:
        """The height a person would write for ``height``, m: not below it (``up``), not above, or the nearest."""
        return grades.written(self, height, up)

    def fall_parts(self, chosen: Callable[[float], bool]) -> tuple[FallPart, ...]:
        """Connected parts of the finish surface whose slope is ``chosen``, the largest first; folds left out."""
        return parts.fall_parts(self, chosen)

    def graded(self, part: FallPart, slope: float, least: bool) -> tuple[NewHeight, ...]:
        """Heights that make a part fall at least (or at most) ``slope``; empty when heights of points cannot do it."""
        return grades.graded(self, part, slope, least)

    def graded_from_wall(self, falls: Sequence[WallFall], slope: float) -> tuple[NewHeight, ...]:
        """Heights that make the slab under ``falls``, all of one wall, fall ``slope`` away; empty when none can."""
        return grades.graded_from_wall(self, falls, slope)

    def facets_at(self, at: XY) -> tuple[int, ...]:
        """The facets of the finish surface that a place lies on."""
        return grades.facets_at(self, at)

    def flatter(self, facets: Sequence[int], slope: float) -> tuple[NewHeight, ...]:
        """Heights that make facets that lie together fall at most ``slope``; empty when heights of points cannot."""
        return grades.flatter(self, facets, slope)

    def eased(self, stretch: RouteStretch, slope: float, across: bool) -> tuple[NewHeight, ...]:
        """Heights that make a stretch of a way fall ``slope`` at most, along it or across; empty when none can."""
        return grades.eased(self, stretch, slope, across)

    def moved(self, wanted: Sequence[tuple[XY, float]], up: bool) -> tuple[NewHeight, ...]:
        """Heights of points that bring the slab to the ``wanted`` (place, height), or past it: above or below."""
        return grades.moved(self, wanted, up)

    def raised_edge(self, piece: EdgePiece, slope: float) -> tuple[NewHeight, ...]:
        """Heights of the points of an edge that make the slab fall ``slope`` away from it."""
        return grades.raised_edge(self, piece, slope)

    def raised_pond(self, pond: Pond, slope: float) -> tuple[NewHeight, ...]:
        """Heights that lift the points under water to where it spills, and ``slope`` above that on the way there."""
        return grades.raised_pond(self, pond, slope)

    # ground and surroundings

    @cached_property
    def ground(self) -> Ground | None:
        """Existing ground against the bottom of the base, or None while either is not known."""
        return site.ground(self)

    def under(self, points: Sequence[Point]) -> float:
        """Length of a line that the slab covers, m."""
        return site.under(self, points)

    def panels_over(self, points: Sequence[Point]) -> tuple[str, ...]:
        """Names of the panels that a line runs under."""
        return site.crosses(self, points)

    def along_edge(self, points: Sequence[Point], within: float) -> float:
        """Share of a line that runs within ``within`` m of the outline."""
        return site.along_edge(self, points, within)

    def away(self, points: Sequence[Point]) -> float:
        """Distance from the slab to a point or a line, m; 0 where they touch."""
        return site.away(self, points)

    def apart(self, path: Sequence[Point], corners: Sequence[Point]) -> float:
        """Distance from a path to a place with corners, m; 0 where the path crosses it."""
        return site.apart(path, corners)

    def over(self, points: Sequence[Point]) -> float:
        """How far the slab reaches over a line, m; 0 where it does not cross it."""
        return site.over(self, points)

    def farthest(self, spots: Sequence[Point]) -> tuple[float, XY]:
        """The place of the slab farthest from the nearest of ``spots``: distance, m, and where."""
        return site.farthest(self, spots)

    # thickness and volume

    @cached_property
    def _between(self) -> Between | None:
        if self.surface is None or self.base_surface is None:
            return None
        return thickness_geometry.between(self.surface, self.base_surface, [p.polygon for p in self.layout.panels])

    @cached_property
    def depths(self) -> Depths | None:
        """Finish minus base, or None while either surface is not known."""
        found = self._between
        if found is None or found.covered_area == 0:
            return None
        return Depths(
            found.least,
            found.least_at,
            found.most,
            found.most_at,
            found.mean,
            found.covered_area / self.area,
            len(self.design.heights.base),
        )

    def thickness_at(self, at: XY) -> float:
        """Design thickness at a point, thickened edges included, m."""
        return self.thickness + thickness_geometry.extra_at(at, self.edge_runs)

    @cached_property
    def _edge_extra(self) -> tuple[float, np.ndarray]:
        zones = [p.polygon for p in self.layout.panels]
        if not self.edge_runs:
            return 0.0, np.zeros(len(zones))
        total, by_zone = thickness_geometry.edge_extra(self.slab, self.edge_runs, zones)
        return float(total), np.asarray(by_zone)

    @property
    def panel_edge_volumes(self) -> np.ndarray:
        """Volume that thickened edges add in each panel, m3."""
        return self._edge_extra[1]

    @cached_property
    def panel_volumes(self) -> np.ndarray:
        """Volume of each panel, m3, thickened edges included; where the base is not shot, at the design thickness."""
        areas = np.array([p.area for p in self.layout.panels])
        volumes = areas * self.thickness
        if self._between is not None:
            covered = np.asarray(self._between.zone_areas)
            volumes = np.asarray(self._between.zone_volumes) + (areas - covered) * self.thickness
        return np.asarray(volumes + self._edge_extra[1])

    @cached_property
    def panel_thicknesses(self) -> np.ndarray:
        """Thickness of each panel, m: the mean of finish minus base where shot, else the design thickness."""
        thicknesses = np.full(len(self.layout.panels), self.thickness)
        if self._between is not None:
            covered = np.asarray(self._between.zone_areas)
            shot = covered > 0
            thicknesses[shot] = np.asarray(self._between.zone_volumes)[shot] / covered[shot]
        return thicknesses

    @cached_property
    def quantities(self) -> Quantities:
        """Net volumes."""
        edges = self._edge_extra[0]
        slab = float(self.panel_volumes.sum()) - edges
        steps = sum(
            s.width.si * s.tread.si * s.riser.si * s.count * (s.count + 1) / 2 for s in self.design.thickness.steps
        )
        return Quantities(slab + edges + steps, slab, edges, steps, self._between is not None)

    @cached_property
    def questions(self) -> tuple[Problem, ...]:
        """Things the drawing leaves open or that look like slips: read as typed, but to be confirmed."""
        return (*edges.questions(self), *panels.questions(self), *finish.questions(self))
