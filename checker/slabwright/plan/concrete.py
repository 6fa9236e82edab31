"""The concrete between the finish surface and the prepared base: how deep, and how much of it."""

from __future__ import annotations

from functools import cached_property
from typing import ClassVar

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.surface import thickness as thickness_geometry
from slabwright.geometry.surface.surface import Surface
from slabwright.geometry.surface.thickness import Between
from slabwright.plan.channels import Channels
from slabwright.plan.finish import Finish
from slabwright.plan.flights import Flights
from slabwright.plan.joints import Joints
from slabwright.plan.shape import Shape
from slabwright.plan.shots import scattered
from slabwright.plan.thickness import Thickness
from slabwright.plan.things import BaseHole, BaseStep, Depths, Quantities


class Concrete:
    """Depths and volumes: by the heights where finish and base are both known, else by the design thickness."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"heights"})

    def __init__(
        self, design: Design, shape: Shape, thickness: Thickness, joints: Joints, finish: Finish, flights: Flights,
        channels: Channels,
    ) -> None:  # fmt: skip
        self._design = design
        self._shape = shape
        self._thickness = thickness
        self._joints = joints
        self._finish = finish
        self._flights = flights
        self._channels = channels

    @cached_property
    def base_surface(self) -> Surface | None:
        """The prepared base between its shots, or None without shots."""
        heights = self._design.heights
        return scattered(self._shape.slab, heights.base, heights.lines)

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
        surface = self._finish.surface
        finish = surface.height(xy) if surface else np.full(len(xy), np.nan)
        points = shapely.points(xy)
        one, two = shapely.STRtree(points).query(points, predicate="dwithin", distance=within + 1e-9)
        one, two = one[one < two], two[one < two]
        rise = base[one] - base[two]
        slab = finish[one] - finish[two]
        change = rise - np.where(np.isnan(slab), 0.0, slab)  # the slab is thinner at the first where this is above zero
        high, low = np.where(change >= 0, one, two), np.where(change >= 0, two, one)
        run = np.hypot(*(xy[one] - xy[two]).T)
        return tuple(
            BaseStep((float(xy[h, 0]), float(xy[h, 1])), (float(xy[k, 0]), float(xy[k, 1])), float(base[h]), abs(c), r)
            for h, k, c, r in zip(high.tolist(), low.tolist(), change.tolist(), run.tolist(), strict=True)
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
        return Depths(
            found.least,
            found.least_at,
            found.most,
            found.most_at,
            found.mean,
            found.covered_area / self._shape.area,
            len(self._design.heights.base),
        )

    @cached_property
    def _edge_extra(self) -> tuple[float, np.ndarray]:
        runs = self._thickness.thickened_edges
        if not runs:
            return 0.0, np.zeros(len(self._zones))
        total, by_zone = thickness_geometry.edge_extra(self._shape.slab, runs, self._zones)
        return float(total), np.asarray(by_zone)

    @property
    def panel_edge_volumes(self) -> np.ndarray:
        """Volume that thickened edges add in each panel, m3."""
        return self._edge_extra[1]

    @cached_property
    def panel_volumes(self) -> np.ndarray:
        """Volume of each panel, m3, thickened edges included; where the base is not shot, at the design thickness."""
        areas = np.array([p.area for p in self._joints.layout.panels])
        volumes = areas * self._thickness.design
        if self._between is not None:
            covered = np.asarray(self._between.zone_areas)
            volumes = np.asarray(self._between.zone_volumes) + (areas - covered) * self._thickness.design
        return np.asarray(volumes + self._edge_extra[1])

    @cached_property
    def panel_thicknesses(self) -> np.ndarray:
        """Thickness of each panel, m: the mean of finish minus base where shot, else the design thickness."""
        thicknesses = np.full(len(self._joints.layout.panels), self._thickness.design)
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
        steps = sum(flight.volume for flight in self._flights.all)
        channels = sum(one.volume(self._thickness.design) for one in self._channels.all)
        return Quantities(slab + edges + steps + channels, slab, edges, steps, self._between is not None, channels)
