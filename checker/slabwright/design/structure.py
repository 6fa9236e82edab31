"""From checked data to the classes of the design: what a section holds is taken from the annotations of its class."""

from __future__ import annotations

import types
import typing
from collections.abc import Callable, Hashable, Mapping
from dataclasses import is_dataclass
from functools import cache
from typing import Any, TypeVar, cast

from slabwright.design.located import Group
from slabwright.design.point import Point, Points
from slabwright.source.place import Place

Made = TypeVar("Made")
Settle = Callable[[Any, Place], Any]
_Take = Callable[["Structure", Any, Place], Any]


class Structure:
    """Makes records of checked data.

    ``settle`` has, by class, what must happen first where keys do not stand one to one for the fields: a function of
    the data and its place, which gives the data with a key for each field, or the record itself.
    """

    def __init__(self, points: Points, settle: Mapping[type, Settle] | None = None) -> None:
        self.points = points
        self.settle = settle or {}

    def made(self, wanted: type[Made], said: Any, place: Place) -> Made:
        """A record of the class ``wanted``: a named tuple or dataclass whose fields are the keys of its section."""
        if isinstance(said, wanted):
            return said
        settle = self.settle.get(wanted)
        if settle is not None:
            said = settle(said, place)
            if isinstance(said, wanted):
                return said
        group: Group = said
        takes, places = _fields(cast(Hashable, wanted)), group.places
        values: dict[str, Any] = {}
        for key, value in group.items():
            take = takes[key]
            values[key] = value if take is None else take(self, value, places.get(key, group.place))
        if "place" in takes:
            values["place"] = group.place
        return wanted(**values)


@cache
def _fields(record: Any) -> dict[str, _Take | None]:
    """How the value of each field is taken from the data; None: as it is.

    The modules of the records keep their annotations as types, not as text.
    """
    return {name: _taken(annotation) for name, annotation in record.__annotations__.items()}


def _taken(annotation: Any) -> _Take | None:
    """How a value with this annotation is taken from the data."""
    origin, parts = typing.get_origin(annotation), typing.get_args(annotation)
    if origin in (types.UnionType, typing.Union):  # what a section leaves out has no key at all
        return next((take for take in map(_taken, parts) if take is not None), None)
    if origin is tuple:
        return _several(_taken(parts[0]))
    if annotation is str:
        return lambda _, said, place: str(said)  # without its place
    if annotation is Point:
        return lambda structure, said, place: structure.points.spot(said)
    if is_dataclass(annotation) or hasattr(annotation, "_fields"):
        return lambda structure, said, place: structure.made(annotation, said, place)
    return None


def _several(take: _Take | None) -> _Take:
    """A list, or the one value that may stand for it."""

    def taken(structure: Structure, said: Any, place: Place) -> tuple[Any, ...]:
        items = said if isinstance(said, list | tuple) else (said,)
        return tuple(items) if take is None else tuple([take(structure, item, place) for item in items])

    return taken
