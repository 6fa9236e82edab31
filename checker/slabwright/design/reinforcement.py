"""The steel and fiber of a design: ``reinforcement``."""

from typing import Literal, NamedTuple

from slabwright.design.point import Point
from slabwright.design.steel import Bar
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount


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
    """``reinforcement.mesh``: welded wire sheets; where the two ways differ, see :class:`steel.WireSheet`."""

    style: str  # "6x6 W2.9", "A142", "Ø6/150"
    wire_spacing: float  # m, of the closer wires
    wire_diameter: float  # m, of the thicker wires
    area_per_width: float  # m2/m, the way that has less
    cross_spacing: float  # m, of the wires farther apart
    mass_per_area: float | None = None  # kg/m2, where a table or the wires say it
    sides: tuple[float, ...] = ()  # m, length and width as its table has it
    top_cover: Amount | None = None  # depth
    held_by: Literal["chairs", "concrete blocks", "stakes", "hooked up by hand", "nothing"] | None = None
    support_spacing: Amount | None = None  # length
    at_joints: Literal["stop", "half through", "run through"] | None = None
    lap: Amount | None = None  # depth
    place: Place = NOWHERE


class Fiber(NamedTuple):
    """``reinforcement.fiber``."""

    kind: Literal["micro synthetic", "macro synthetic", "steel"]
    dose: Amount  # unit weight
    in_place_of: Literal["joints", "steel", "thickness"] | None = None  # what it is meant to save
    place: Place = NOWHERE


class CornerBars(NamedTuple):
    """``reinforcement.corner_bars``: loose bars laid across inside corners."""

    at: tuple[Point, ...]
    size: Bar
    length: Amount  # length
    count: int = 2  # type: ignore[assignment]  # it hides the method of tuples
    place: Place = NOWHERE


class Reinforcement(NamedTuple):
    """``reinforcement``."""

    bars: Bars | None = None
    mesh: Mesh | None = None
    fiber: Fiber | None = None
    corner_bars: tuple[CornerBars, ...] = ()
    bonded: bool | None = None  # by the electrician, to the metal of a pool; None: not said
    none: bool = False  # "reinforcement: none"
    place: Place = NOWHERE

    @property
    def mats(self) -> tuple[tuple[Literal["bars", "mesh"], Bars | Mesh, float], ...]:
        """Bars and mesh, those there are: the name of the key, the mat, and the diameter of its bars or wires, m."""
        found: list[tuple[Literal["bars", "mesh"], Bars | Mesh, float]] = []
        if self.bars:
            found.append(("bars", self.bars, self.bars.size.diameter))
        if self.mesh:
            found.append(("mesh", self.mesh, self.mesh.wire_diameter))
        return tuple(found)
