"""The ``reinforcement`` section of a design: mats of bars or mesh, fibre, and bars across inside corners."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from slabwright.design.point import NOWHERE, Point
from slabwright.source.place import Place
from slabwright.units.quantity import Amount


class Bar(NamedTuple):
    """A reinforcing bar size."""

    name: str  # "#4", "10M", "12 mm"
    diameter: float  # m
    area: float  # m2
    mass: float  # kg/m


class Bars(NamedTuple):
    """``reinforcement.bars``: one mat, the same each way."""

    size: Bar
    spacing: Amount  # depth
    top_cover: Amount | None = None  # depth
    held_by: Literal["chairs", "concrete blocks", "stakes", "hooked up by hand", "nothing"] | None = None
    support_spacing: Amount | None = None  # length
    ends_short: Amount | None = None  # depth
    at_joints: Literal["stop", "half through", "run through"] | None = None
    yield_strength: Amount | None = None  # stress
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class Mesh(NamedTuple):
    """``reinforcement.mesh``: plain welded wire sheets."""

    style: str  # "6x6 W2.9"
    wire_spacing: float  # m
    wire_diameter: float  # m
    area_per_width: float  # m2/m each way
    top_cover: Amount | None = None  # depth
    held_by: Literal["chairs", "concrete blocks", "stakes", "hooked up by hand", "nothing"] | None = None
    support_spacing: Amount | None = None  # length
    at_joints: Literal["stop", "half through", "run through"] | None = None
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class Fibre(NamedTuple):
    """``reinforcement.fibre``."""

    kind: Literal["micro synthetic", "macro synthetic", "steel"]
    dose: Amount  # unit weight
    in_place_of: Literal["joints", "steel", "thickness"] | None = None  # what it is meant to save
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class CornerBars:
    """``reinforcement.corner_bars``: loose bars laid across inside corners."""

    at: tuple[Point, ...]
    size: Bar
    length: Amount  # length
    count: int = 2
    place: Place = NOWHERE


class Reinforcement(NamedTuple):
    """``reinforcement``."""

    bars: Bars | None = None
    mesh: Mesh | None = None
    fibre: Fibre | None = None
    corner_bars: tuple[CornerBars, ...] = ()
    none: bool = False  # "reinforcement: none"
    place: Place = NOWHERE

    @property
    def mats(self) -> tuple[tuple[str, Bars | Mesh, float], ...]:
        """Bars and mesh, those there are: the name of the key, the mat, and the diameter of its bars or wires, m."""
        bars = [("bars", self.bars, self.bars.size.diameter)] if self.bars else []
        mesh = [("mesh", self.mesh, self.mesh.wire_diameter)] if self.mesh else []
        return (*bars, *mesh)
