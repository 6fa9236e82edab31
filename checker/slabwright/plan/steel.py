"""The steel of each part of the slab: bars and mesh as they lie in it."""

import math
from functools import cached_property
from typing import ClassVar, Literal, NamedTuple, NoReturn

from slabwright.design.model import Design
from slabwright.design.reinforcement import Bars, Mesh, Reinforcement
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Area, Areas
from slabwright.plan.given import NotShown, asked_for
from slabwright.plan.view import PlanView

AT_CORNER = 0.3  # m: bars this near to an inside corner are bars across it


class Bed(NamedTuple):
    """One reinforcement of the file and the areas it lies in."""

    steel: Reinforcement
    areas: tuple[Area, ...]


class Laid(NamedTuple):
    """One mat, bars or mesh, in the areas of one thickness that it lies in."""

    kind: Literal["bars", "mesh"]
    name: str  # "the bars", "the mesh of the apron"
    mat: Bars | Mesh
    diameter: float  # of its bars or wires, m
    thickness: float  # design thickness of the slab there, m
    areas: tuple[Area, ...]

    @property
    def thickness_path(self) -> str:
        """The key under which that thickness is written."""
        return self.areas[0].thickness_path


class Steel(PlanView):
    """The reinforcement of the file, by the areas it lies in."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"parts", "reinforcement"})
    _design: Design
    _areas: Areas

    def of(self, area: Area) -> Reinforcement | None:
        """The steel of an area: its own where the part says so, else that of the file."""
        own = area.part.reinforcement if area.part else None
        return self._design.reinforcement if own is None else own

    def crosses(self, corner: XY) -> bool:
        """Whether corner bars lie across an inside corner."""
        every = (self._design.reinforcement, *(part.reinforcement for part in self._design.parts))
        bars = (one for steel in every if steel for one in steel.corner_bars)
        return any(math.dist((at.x, at.y), corner) < AT_CORNER for one in bars for at in one.at)

    @cached_property
    def beds(self) -> tuple[Bed, ...]:
        """The reinforcement of each part of the slab; areas that share one are together. None where nothing is said."""
        found: dict[int, Bed] = {}
        for area in self._areas.all:
            steel = self.of(area)
            if steel is not None:
                before = found.get(id(steel), Bed(steel, ()))
                found[id(steel)] = Bed(steel, (*before.areas, area))
        return tuple(found.values())

    @cached_property
    def mats(self) -> tuple[Laid, ...]:
        """Bars and mesh as they lie in the slab, each apart for areas of different thickness."""
        found: list[Laid] = []
        for steel, areas in self.beds:
            for kind, mat, diameter in steel.mats:
                for t in dict.fromkeys(area.thickness.si for area in areas):
                    alike = tuple(area for area in areas if area.thickness.si == t)
                    everywhere = len(alike) == len(self._areas.all)
                    name = f"the {kind}" if everywhere else f"the {kind} of {alike[0].name}"
                    found.append(Laid(kind, name, mat, diameter, t, alike))
        return tuple(found)

    def asks_for(self, laid: Laid, key: str) -> NoReturn:
        """End the rule with what it asks of a mat that does not say it."""
        raise NotShown((asked_for(f"reinforcement.{laid.kind}.{key}"),), self._design.place(laid.mat.place.path))
