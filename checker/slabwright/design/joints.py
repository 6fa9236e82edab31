"""Joints of a design: ``joints``."""

from typing import Literal, NamedTuple

from slabwright.design.outline import Isolation
from slabwright.design.point import Point
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount

Lock = Literal["key", "dowels", "tie bars"]
JointKind = Literal["saw cut", "early saw cut", "tooled groove", "formed strip", "construction joint", "pattern"]


class Dowels(NamedTuple):
    """Smooth bars across a joint."""

    diameter: Amount  # depth
    length: Amount  # depth
    spacing: Amount  # depth
    place: Place = NOWHERE


class Joint(NamedTuple):
    """A straight joint or a chain of straight pieces; ``pattern`` lines do not count as joints."""

    name: str
    kind: JointKind
    along: tuple[Point, ...]
    depth: Amount | None = None  # depth
    cut_after: Amount | None = None  # duration
    last_foot: Literal["hand groove", "formed strip", "corner saw"] | None = None  # at a wall, step or curb
    isolation: Isolation | None = None  # filler all through it
    sealed: bool | None = None  # filled with a sealant
    locked_by: Lock | None = None
    dowels: Dowels | None = None
    place: Place = NOWHERE

    @property
    def lock(self) -> Lock | None:
        """What carries loads across it besides the faces: as said, or the dowels that are described."""
        return self.locked_by or ("dowels" if self.dowels else None)
