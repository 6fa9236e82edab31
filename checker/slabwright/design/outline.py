"""What a slab looks like from above, and what stands beside it: ``outline``, ``openings``, ``edges``, ``measured``."""

import datetime
from collections.abc import Sequence
from math import hypot, inf
from typing import Literal, NamedTuple

from slabwright.design.point import Point
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount

Beside = Literal[
    "building", "wall", "curb", "step", "existing slab", "asphalt", "street", "lawn", "bed", "gravel", "open ground",
    "property line", "trench drain", "pool",
]  # fmt: skip

SOFT_GROUND: tuple[Beside, ...] = ("lawn", "bed", "gravel", "open ground")
"""What is dressed to the slab with a shovel; all else that stands beside one stays where it is."""


class Corner(NamedTuple):
    """One entry of an outline: a straight run to ``at``, or an arc to ``at`` through ``through``."""

    at: Point
    through: Point | None = None
    place: Place = NOWHERE


def side_at(corners: Sequence[Corner], at: Point) -> tuple[float, float, float]:
    """How far ``at`` is from the nearest side of a shape (m), and the way that side runs, of length 1.

    An arc counts as its chord.
    """
    found = inf, 0.0, 0.0
    for before, corner in zip((corners[-1], *corners[:-1]), corners, strict=True):
        start, end = before.at, corner.at
        size = hypot(end.x - start.x, end.y - start.y)
        if size == 0.0:
            continue
        ux, uy = (end.x - start.x) / size, (end.y - start.y) / size
        along = min(max((at.x - start.x) * ux + (at.y - start.y) * uy, 0.0), size)
        away = hypot(start.x + along * ux - at.x, start.y + along * uy - at.y)
        found = min(found, (away, ux, uy))
    return found


class Isolation(NamedTuple):
    """Filler between the slab and something else. ``depth`` None with ``full_depth`` True means ``depth: full``."""

    material: str
    thickness: Amount | None = None  # depth
    depth: Amount | None = None  # depth
    full_depth: bool = False
    sealed: bool | None = None  # held down and sealed at the top
    place: Place = NOWHERE


class Opening(NamedTuple):
    """A hole in the slab; its rim dams water unless ``takes_water``, or it holds a pool."""

    name: str
    corners: tuple[Corner, ...]
    holds: Literal["planter", "tree", "pit", "stair", "pool", "other"] = "other"
    takes_water: bool = False
    isolation: Isolation | None = None
    place: Place = NOWHERE


class Edge(NamedTuple):
    """What stands beside a run of the outline. ``run`` empty: every part of the outline no other edge names."""

    beside: Beside
    run: tuple[Point, ...] = ()
    name: str = ""
    takes_water: bool | None = None  # may water be sent there; None: by kind
    ground: tuple[Amount, ...] = ()  # heights beside the slab: one, or one for each point of the run
    ground_below: Amount | None = None  # depth: soft ground is dressed so far below the slab all along, in its place
    tied: bool = False  # doweled or tied on purpose, so no isolation is wanted
    ground_beyond: Amount | None = None  # height: the lowest within 36 in of the edge
    guard: Amount | None = None  # depth: how high a guard stands along it
    backfilled: datetime.date | None = None  # the day the ground against a wall was filled back
    backfill_compacted: bool | None = None  # in thin layers
    planned_step: bool = False  # the difference in height to what stands beside is meant
    wheels_cross: bool | None = None  # vehicles drive on and off over it; None: over asphalt and streets they do
    falls_to_slab: Amount | None = None  # slope: of what stands beside, down to the slab
    uphill: Amount | None = None  # length of the ground beyond that sheds its rain to the slab
    eave: Amount | None = None  # length of the roof slope over a wall that drips without a gutter
    swale: bool = False  # a swale or drain beyond the edge leads that water past the slab
    existing_joints: tuple[Point, ...] = ()  # joints and cracks of what stands beside
    isolation: Isolation | None = None
    place: Place = NOWHERE


class Measured(NamedTuple):
    """One entry of ``measured``: a side or a diagonal as taped on site."""

    along: tuple[Point, Point]
    length: Amount  # length
    place: Place = NOWHERE
