"""Where the slab lies: the section ``site`` of a design with soil, base and surroundings, and ``permit``."""

import datetime
from typing import Literal, NamedTuple

from slabwright.design.point import Point
from slabwright.source.place import NOWHERE, Place
from slabwright.units.quantity import Amount

Freezing = Literal["none", "moderate", "severe"]
LotLineKind = Literal["side", "rear", "street side", "front"]


class Soil(NamedTuple):
    """``site.soil``."""

    kind: str = ""
    support: Amount | None = None  # subgrade support, N/m3
    swell: Amount | None = None  # share
    bank_weight: Amount | None = None  # unit weight, kg/m3
    sulfate: Amount | None = None  # share of its weight
    replaced: Amount | None = None  # depth under the base: what moves was taken out, and soil that does not put in
    report: bool = False  # slab and ground are made as a soils report or an engineer says
    place: Place = NOWHERE


class Base(NamedTuple):
    """``site.base``."""

    material: str = ""
    thickness: Amount | None = None  # depth
    shot_after_compaction: bool = False
    frozen: bool | None = None  # when concrete comes; None: not said
    old_paving: Literal["concrete", "asphalt"] | None = None  # stays under the slab
    separated: bool | None = None  # film or sand lies over it
    place: Place = NOWHERE


class Fill(NamedTuple):
    """``site.fill``: what the ground is raised with."""

    material: str = ""
    lift: Amount | None = None  # depth, loose
    place: Place = NOWHERE


class Trench(NamedTuple):
    """``site.trenches``: a filled trench."""

    along: tuple[Point, ...]
    depth: Amount  # depth, from the ground
    name: str = ""
    compacted: bool = False
    place: Place = NOWHERE


class BuriedLine(NamedTuple):
    """``site.buried``: a pipe or cable that stays in the ground; ``depth`` from the finish to its top."""

    along: tuple[Point, ...]
    name: str = ""
    depth: Amount | None = None  # depth
    size: Amount | None = None  # depth: outside diameter
    sleeve: bool | None = None
    place: Place = NOWHERE


class Locate(NamedTuple):
    """``site.locate``: the call that has buried lines marked."""

    ticket: str = ""
    called: datetime.date | None = None
    digging: datetime.date | None = None
    place: Place = NOWHERE


class Tree(NamedTuple):
    """``site.trees``."""

    at: Point
    height: Amount  # length
    name: str = ""
    place: Place = NOWHERE


class Wire(NamedTuple):
    """``site.wires``: a wire overhead."""

    along: tuple[Point, ...]
    name: str = ""
    height: Amount | None = None  # length, above the ground
    place: Place = NOWHERE


class KeepOff(NamedTuple):
    """``site.keep_off``: a place a loaded truck may not drive over."""

    name: str
    corners: tuple[Point, ...]
    place: Place = NOWHERE


class LotLine(NamedTuple):
    """``site.lot.lines``."""

    kind: LotLineKind
    along: tuple[Point, ...]
    name: str = ""
    place: Place = NOWHERE


class Lot(NamedTuple):
    """``site.lot``; ``covered`` is what roofs and paving cover without this slab."""

    area: Amount | None = None  # area
    covered: Amount | None = None  # area
    cover_at_most: Amount | None = None  # share that the town allows
    lines: tuple[LotLine, ...] = ()
    place: Place = NOWHERE


class Site(NamedTuple):
    """``site``."""

    freezing: Freezing | None = None
    deicing_salt: bool | None = None
    outdoors: bool | None = None  # None: by use (garage and shop floors are indoors)
    frost_depth: Amount | None = None  # depth to which the ground freezes
    right_of_way: bool = False
    enclosed: bool | None = None  # the room over it is, or may be, heated or closed in
    rain_in_an_hour: Amount | None = None  # depth
    accessible_route: tuple[Point, ...] = ()  # the way a wheelchair takes, where access limits are claimed
    soil: Soil | None = None
    base: Base | None = None
    fill: Fill | None = None
    trenches: tuple[Trench, ...] = ()
    buried: tuple[BuriedLine, ...] = ()
    locate: Locate | None = None
    trees: tuple[Tree, ...] = ()
    truck_path: tuple[Point, ...] = ()
    keep_off: tuple[KeepOff, ...] = ()
    wires: tuple[Wire, ...] = ()
    lot: Lot | None = None
    place: Place = NOWHERE


class Permit(NamedTuple):
    """``permit``: what stands on the sheet for the counter."""

    address: str = ""
    owner: str = ""
    parcel: str = ""
    north: str = ""
    scale: str = ""
    streets: str = ""
    easements: str = ""
    flood_plain: str = ""
    septic_and_well: str = ""
    erosion_control: str = ""
    place: Place = NOWHERE
