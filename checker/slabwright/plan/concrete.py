"""The concrete between the finish surface and the prepared base: how deep, and how much of it."""

import math
from collections.abc import Sequence
from functools import cached_property
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.heights import SpotHeight
from slabwright.design.joints import Joint
from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.formulas.units import FOOT
from slabwright.geometry.joints.panels import cut
from slabwright.geometry.surface import thickness as thickness_geometry
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.thickness import Between, Thickening
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.areas import Areas
from slabwright.plan.channels import Channels
from slabwright.plan.finish import Finish
from slabwright.plan.flights import Flights
from slabwright.plan.joints import Joints, filled
from slabwright.plan.shape import Shape
from slabwright.plan.shots import ON_LINE, scattered
from slabwright.plan.thickness import Thickness
from slabwright.plan.view import PlanView
from slabwright.units.quantity import height, meets


class BaseStep(NamedTuple):
    """Two base shots near each other: the base is ``high`` at the one, and the slab thinner by ``change`` m there."""

    high: XY
    low: XY
    high_base: float  # height of the base at ``high``, m
    change: float


class BaseHole(NamedTuple):
    """The base shot over which the slab is deepest, thickened edges left aside."""

    at: XY
    base: float  # height of the base there, m
    deeper: float  # than at the next deepest shot, m


class Depths(NamedTuple):
    """Finish minus base, where both are known."""

    least: float
    least_at: XY
    most: float
    most_at: XY
    mean: float
    covered: float  # share of the slab's area that has both surfaces
    shots: int
    mean_drawn: float  # mean thickness drawn there, thickened edges left aside, m


STATIONS = FOOT  # m: how far apart depths along a line are read


class Quantities(NamedTuple):
    """Volumes, m3."""

    net: float
    slab: float  # between the surfaces, or area times design thickness where the base is not shot
    thickened_edges: float
    steps: float
    from_surfaces: bool


class Placement(NamedTuple):
    """A part of the slab between joints at which placing can stop, placed in one go, and the concrete it takes."""

    polygon: shapely.Polygon
    volume: float  # m3, thickened edges included


class Concrete(PlanView):
    """Depths and volumes: by the heights where finish and base are both known, else by the design thickness."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"heights", "channels"})
    _design: Design
    _shape: Shape
    _areas: Areas
    _thickness: Thickness
    _joints: Joints
    _finish: Finish
    _flights: Flights
    _channels: Channels

    @cached_property
    def base_surface(self) -> Surface | None:
        """The prepared base between its shots, or None without shots.

        Where parts have a thickness of their own it is the base under a slab of the design thickness: each shot is
        brought to it by what the part is thicker there, and :meth:`below` says how far the real base lies under it.
        So the base steps where the slab does, and not somewhere between two shots. A shot on the bottom of a thickened
        edge is brought up by what the edge is deeper. Under a channel it lies as deep as the slab is drawn where nobody
        shot it: the channel stands in a trench there.
        """
        trenches = self._under_channels
        if self._thickness.even and not trenches:
            return self.shot_surface
        heights = self._design.heights
        shots = (
            shot._replace(height=height(shot.height.si + deeper))
            for shot, deeper in zip(heights.base, self._deeper_at_shots, strict=True)
        )
        return scattered(self._shape.slab, (*shots, *trenches), self._folds)

    @cached_property
    def _under_channels(self) -> tuple[SpotHeight, ...]:
        """The points of channels at which the base was not shot, with the base that the slab would have there."""
        shots = [(shot.at.x, shot.at.y) for shot in self._design.heights.base]
        return tuple(
            SpotHeight(point, height(min(rim, self._finish.at(at) or rim) - self._thickness.design))
            for one in self._channels.all
            if shots
            for point, at, rim in zip(one.channel.along, one.line, one.rims, strict=True)
            if rim is not None and all(math.dist(at, shot) >= ON_LINE for shot in shots)
        )

    @cached_property
    def shot_surface(self) -> Surface | None:
        """The prepared base straight between its shots as they are typed."""
        return scattered(self._shape.slab, self._design.heights.base, self._folds)

    @cached_property
    def _folds(self) -> tuple[tuple[Point, ...], ...]:
        """The lines along which the slab is folded, and the base under it: height lines and channels."""
        lines, channels = self._design.heights.lines, self._design.channels
        return (*(one.along for one in lines), *(one.along for one in channels))

    @cached_property
    def _deeper_at_shots(self) -> list[float]:
        """How much thicker than the design thickness the slab is drawn at each shot of the base, m."""
        shots = self._design.heights.base
        if self._thickness.even:
            return [0.0] * len(shots)
        places = [(shot.at.x, shot.at.y) for shot in shots]
        depths = (
            None if top is None else top - shot.height.si
            for shot, top in zip(shots, self._finish.all_at(places), strict=True)
        )
        return [
            self._thickness.shot_at(at, depth) - self._thickness.design
            for at, depth in zip(places, depths, strict=True)
        ]

    def below(self, at: XY) -> float:
        """How far the base lies under :attr:`base_surface` at a place, thickened edges left aside, m."""
        return self._thickness.body_at(at) - self._thickness.design

    def below_shot(self, at: XY) -> float:
        """The same where the base may be shot, m: on the bottom of a thickened edge all that the edge is deeper."""
        return self._deeper_by_shot[at] if at in self._deeper_by_shot else self.below(at)

    @cached_property
    def _deeper_by_shot(self) -> dict[XY, float]:
        places = [(shot.at.x, shot.at.y) for shot in self._design.heights.base]
        return dict(zip(places, self._deeper_at_shots, strict=True))

    def deepest_along(self, line: Sequence[XY]) -> float:
        """The greatest depth over the base along a line, m, read every foot; 0 where base or finish is not known."""
        top, base, string = self._finish.surface, self.base_surface, shapely.LineString(line)
        if top is None or base is None or not string.length:
            return 0.0
        stations = np.linspace(0.0, 1.0, math.ceil(string.length / STATIONS) + 1)
        spots = shapely.get_coordinates(shapely.line_interpolate_point(string, stations, normalized=True))
        deep = top.height(spots) - base.height(spots) + [self.below(as_xy(spot)) for spot in spots]
        return float(np.nanmax(np.append(deep, 0.0)))

    @cached_property
    def hole(self) -> BaseHole | None:
        """The base shot over which the slab is deepest; None unless three have a finish over them."""
        shots = [((shot.at.x, shot.at.y), shot.height.si) for shot in self._design.heights.base]
        tops = self._finish.all_at([at for at, _ in shots])
        deep = [
            (top - base - self._thickness.at(at), at, base)
            for (at, base), top in zip(shots, tops, strict=True)
            if top is not None
        ]
        if len(deep) < 3:
            return None
        *_, (next_deepest, _, _), (deepest, at, base) = sorted(deep)
        return BaseHole(at, base, deepest - next_deepest)

    def base_steps(self, within: float) -> tuple[BaseStep, ...]:
        """Every two base shots at most ``within`` m apart, and how much the depth of the slab changes between them.

        Where the finish is known at both, the slab may follow the base and nothing changes; elsewhere the base alone
        tells.
        """
        shots = self._design.heights.base
        if len(shots) < 2:
            return ()
        xy = np.array([(shot.at.x, shot.at.y) for shot in shots])
        base = np.array([shot.height.si for shot in shots])
        base += self._deeper_at_shots  # what the slab is meant to be thicker is no step
        surface = self._finish.surface
        finish = surface.height(xy) if surface else np.full(len(xy), np.nan)
        points = shapely.points(xy)
        one, two = shapely.STRtree(points).query(points, predicate="dwithin", distance=within + 1e-9)
        one, two = one[one < two], two[one < two]
        rise = base[one] - base[two]
        slab = finish[one] - finish[two]
        change = rise - np.where(np.isnan(slab), 0.0, slab)  # the slab is thinner at the first where this is above zero
        high, low = np.where(change >= 0, one, two), np.where(change >= 0, two, one)
        return tuple(
            BaseStep((float(xy[h, 0]), float(xy[h, 1])), (float(xy[k, 0]), float(xy[k, 1])), float(base[h]), abs(c))
            for h, k, c in zip(high.tolist(), low.tolist(), change.tolist(), strict=True)
        )

    @cached_property
    def _zones(self) -> list[shapely.Polygon]:
        return [panel.polygon for panel in self._joints.layout.panels]

    @cached_property
    def _between(self) -> Between | None:
        if self._finish.surface is None or self.base_surface is None:
            return None
        return thickness_geometry.between(self._finish.surface, self.base_surface, self._zones)

    @cached_property
    def depths(self) -> Depths | None:
        """Finish minus base, or None while either surface is not known."""
        found = self._between
        if found is None or found.covered_area == 0:
            return None
        drawn = float((np.asarray(found.zone_areas) * self._deeper_by_zone).sum()) / found.covered_area
        return Depths(
            found.least + self.below(found.least_at),
            found.least_at,
            found.most + self.below(found.most_at),
            found.most_at,
            found.mean + drawn,
            found.covered_area / self._shape.area,
            len(self._design.heights.base),
            self._thickness.design + drawn,
        )

    def _extra(self, runs: Sequence[Thickening], zones: Sequence[shapely.Geometry]) -> tuple[float, np.ndarray]:
        """Volume that thickened edges or tapers add, whole and in each zone, m3."""
        if not runs:
            return 0.0, np.zeros(len(zones))
        total, by_zone = thickness_geometry.edge_extra(self._shape.slab, runs, zones)
        return float(total), np.asarray(by_zone)

    @cached_property
    def _edge_extra(self) -> tuple[float, np.ndarray]:
        edges, tapers = self._thickness.thickened_edges, self._thickness.tapers
        if not tapers:
            return self._extra(edges, self._zones)
        both, alone = self._extra((*edges, *tapers), self._zones), self._extra(tapers, self._zones)
        return both[0] - alone[0], both[1] - alone[1]

    @cached_property
    def _deeper_by_zone(self) -> np.ndarray:
        """How much thicker than the design thickness each panel is drawn on the mean, thickened edges left aside, m."""
        return self._deeper_in(self._zones)

    @property
    def deeper(self) -> float:
        """What parts take more than a slab of the design thickness would, m3; below zero where they take less."""
        areas = np.array([panel.area for panel in self._joints.layout.panels])
        return float((areas * self._deeper_by_zone).sum())

    def _deeper_in(self, zones: Sequence[shapely.Geometry]) -> np.ndarray:
        shapes = np.asarray(zones, dtype=object)
        volumes = self._extra(self._thickness.tapers, zones)[1]
        for area in self._areas.all:
            more = area.thickness.si - self._thickness.design
            if more:
                volumes = volumes + more * shapely.area(shapely.intersection(shapes, area.polygon))
        return np.asarray(volumes / shapely.area(shapes))

    @property
    def panel_edge_volumes(self) -> np.ndarray:
        """Volume that thickened edges add in each panel, m3."""
        return self._edge_extra[1]

    @cached_property
    def panel_volumes(self) -> np.ndarray:
        """Volume of each panel, m3, thickened edges included; where the base is not shot, at the design thickness."""
        return np.asarray(self._body_volumes + self._edge_extra[1])

    @property
    def of_panels(self) -> tuple[list[float], list[float]]:
        """Thickness, m, and volume, m3, of every panel."""
        return self.panel_thicknesses.tolist(), self.panel_volumes.tolist()

    @cached_property
    def sections(self) -> tuple[Placement, ...]:
        """The slab as the joints part it at which placing can stop, in reading order.

        Those are construction joints, and joints formed or filled through the whole depth.
        """
        slab, volumes_of_panels = self._shape.slab, self.panel_volumes
        ends = [joint for joint in self._joints.cuts if self.ends_placing(joint)]
        whole = float(volumes_of_panels.sum())
        if not ends:
            return (Placement(slab, whole),)
        parts = cut(slab, [self._joints.line_of(joint) for joint in ends]).panels
        panels = np.array([panel.polygon for panel in self._joints.layout.panels], dtype=object)
        inner = shapely.point_on_surface(panels)
        panel, part = shapely.STRtree([one.polygon for one in parts]).query(inner, predicate="within")
        volumes = np.zeros(len(parts))
        np.add.at(volumes, part, volumes_of_panels[panel])
        return tuple(Placement(one.polygon, volume) for one, volume in zip(parts, volumes.tolist(), strict=True))

    def ends_placing(self, joint: Joint) -> bool:
        """Whether placing can stop at a joint: at a construction joint, or one formed or filled through the slab."""
        depth = joint.depth.si if joint.kind == "formed strip" and joint.depth is not None else None
        t = self._areas.thickest([(point.x, point.y) for point in joint.along]).thickness.si
        through = depth is not None and meets(depth, t, "least")
        return joint.kind == "construction joint" or through or filled(joint)

    @cached_property
    def _body_volumes(self) -> np.ndarray:
        areas = np.array([p.area for p in self._joints.layout.panels])
        volumes = areas * self._thickness.design
        if self._between is not None:
            covered = np.asarray(self._between.zone_areas)
            volumes = np.asarray(self._between.zone_volumes) + (areas - covered) * self._thickness.design
        return np.asarray(volumes + areas * self._deeper_by_zone)

    @cached_property
    def area_volumes(self) -> tuple[float, ...]:
        """Volume of each area of the plan, m3, thickened edges and tapers included, steps not."""
        if self._areas.all[0].whole:
            return (float(self.panel_volumes.sum()),)
        zones = [area.polygon for area in self._areas.all]
        pieces = [(number, piece) for number, zone in enumerate(zones) for piece in shapely.get_parts(zone)]
        shapes = [piece for _, piece in pieces]
        sizes = shapely.area(shapes)
        runs = (*self._thickness.thickened_edges, *self._thickness.tapers)
        edges = self._extra(runs, shapes)[1] - self._extra(self._thickness.tapers, shapes)[1]
        volumes = sizes * (self._thickness.design + self._deeper_in(shapes)) + edges
        if self._finish.surface is not None and self.base_surface is not None:
            found = thickness_geometry.between(self._finish.surface, self.base_surface, shapes)
            volumes += np.asarray(found.zone_volumes) - np.asarray(found.zone_areas) * self._thickness.design
        return tuple(
            sum(float(volumes[k]) for k, (owner, _) in enumerate(pieces) if owner == number)
            for number in range(len(zones))
        )

    @cached_property
    def panel_thicknesses(self) -> np.ndarray:
        """Thickness of each panel, m: the mean of finish minus base where shot, else the design thickness."""
        thicknesses = np.full(len(self._joints.layout.panels), self._thickness.design)
        if self._between is not None:
            covered = np.asarray(self._between.zone_areas)
            shot = covered > 0
            thicknesses[shot] = np.asarray(self._between.zone_volumes)[shot] / covered[shot]
        return np.asarray(thicknesses + self._deeper_by_zone)

    @cached_property
    def quantities(self) -> Quantities:
        """Net volumes."""
        edges = self._edge_extra[0]
        slab = float(self.panel_volumes.sum()) - edges
        steps = sum(flight.volume for flight in self._flights.all)
        channels = sum(one.volume(self._thickness.at(one.middle)) for one in self._channels.all)
        return Quantities(slab + edges + steps + channels, slab, edges, steps, self._between is not None)
