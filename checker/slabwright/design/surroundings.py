"""What lies round and under the slab, and what a permit counter asks: parts of ``site``, and ``permit``."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any, Literal, NamedTuple

from slabwright.design.located import Group, Named
from slabwright.design.point import NOWHERE, Point
from slabwright.source.place import Place
from slabwright.units.quantity import Amount

LotLineKind = Literal["side", "rear", "street side", "front"]
Spot = Callable[[Any], Point]


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
    lines: tuple[LotLine, ...] = ()
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


_RUNS = ("along", "corners")
_SECTIONS: dict[str, type] = {"fill": Fill, "locate": Locate}
_LISTS: dict[str, type] = {"trenches": Trench, "buried": BuriedLine, "trees": Tree, "keep_off": KeepOff}


def said(group: Group, spot: Spot) -> dict[str, Any]:
    """The parts of ``site`` that this module holds, by key, as far as the file has them."""
    found: dict[str, Any] = {}
    for key, made in _SECTIONS.items():
        if key in group:
            found[key] = _made(made, group[key], spot)
    for key, made in _LISTS.items():
        if key in group:
            found[key] = tuple(_made(made, item, spot) for item in group[key])
    if "truck_path" in group:
        found["truck_path"] = tuple(spot(item) for item in group["truck_path"])
    if "lot" in group:
        lot = group["lot"]
        lines = tuple(_made(LotLine, item, spot) for item in lot.get("lines", ()))
        found["lot"] = Lot(lot.get("area"), lot.get("covered"), lines, lot.place)
    return found


def permit(group: Group | None) -> Permit | None:
    """``permit``."""
    return None if group is None else Permit(**{key: str(text) for key, text in group.items()}, place=group.place)


def _made(made: Any, group: Group, spot: Spot) -> Any:
    """A dataclass whose fields are the keys of its section, runs of points and single points resolved."""
    values: dict[str, Any] = {}
    for key, value in group.items():
        if key in _RUNS:
            values[key] = tuple(spot(item) for item in value)
        elif key == "at":
            values[key] = spot(value)
        else:
            values[key] = str(value) if isinstance(value, Named) else value
    return made(**values, place=group.place)
