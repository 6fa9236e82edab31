"""The day of the pour: the section ``pour`` of a design, with curing, weather and first use."""

from __future__ import annotations

import datetime
import re
from typing import Literal, NamedTuple

from slabwright.design.located import Group
from slabwright.source.place import Place
from slabwright.units.amount import Amount, QuantityError

_NOWHERE = Place("")
_CLOCK = re.compile(r"(\d{1,2})(?::(\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?", re.IGNORECASE)
_SUCH = '"07:00", or "3:30 pm"'

Finish = Literal["broom", "coarse broom", "float", "trowel", "exposed aggregate", "grooved"]
CuringMethod = Literal["compound", "wet cover", "sheeting", "sprinkling"]


class Curing(NamedTuple):
    """``pour.curing``."""

    method: CuringMethod
    rate: Amount | None = None  # coverage
    days: Amount | None = None  # duration
    quantity: Amount | None = None  # small volume: compound bought
    place: Place = _NOWHERE


class Weather(NamedTuple):
    """``pour.weather``: the forecast for the hours of placing, the night after, and the first frost of the season."""

    air: Amount | None = None  # temperature
    concrete: Amount | None = None  # temperature
    humidity: Amount | None = None  # share
    wind: Amount | None = None  # speed
    low: Amount | None = None  # temperature
    rain: Amount | None = None  # share: the chance of it
    first_frost: datetime.date | None = None
    place: Place = _NOWHERE


class FirstUse(NamedTuple):
    """``pour.first_use``: how long after placing the slab is opened."""

    feet: Amount | None = None  # duration
    cars: Amount | None = None  # duration
    heavy: Amount | None = None  # duration
    place: Place = _NOWHERE


class Pour(NamedTuple):
    """``pour``."""

    start: datetime.time | None = None
    until: datetime.time | None = None  # crew, pump and plant are booked until then
    crew: int | None = None
    rate: Amount | None = None  # placing rate
    finish: Finish | None = None
    broom_direction: Literal["across", "along"] | None = None  # of the fall
    slump: Amount | None = None  # depth, as placed
    finishing: Amount | None = None  # duration, from placing to the last pass
    curing: Curing | None = None
    weather: Weather | None = None
    haul: Amount | None = None  # duration: plant to site
    trucks_apart: Amount | None = None  # duration
    first_use: FirstUse | None = None
    place: Place = _NOWHERE


def clock(text: str, place: Place) -> datetime.time:
    """A time of day, by 24 hours or with am or pm.

    :raises QuantityError: when it is none.

    >>> clock("07:00", Place("")), clock("3:30 pm", Place(""))
    (datetime.time(7, 0), datetime.time(15, 30))
    """
    typed = " ".join(text.split())
    found = _CLOCK.fullmatch(typed)
    if found is None or (found[2] is None and found[3] is None):
        raise QuantityError(f'"{typed}" is not a time of day', _SUCH, place)
    hour, minute = int(found[1]), int(found[2] or 0)
    half = (found[3] or "").lower()[:1]
    if half and not 1 <= hour <= 12:
        raise QuantityError(f'"{typed}" is not on the clock', _SUCH, place)
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59:
        raise QuantityError(f'"{typed}" is not on the clock', _SUCH, place)
    return datetime.time(hour, minute)


def pour(group: Group | None) -> Pour | None:
    """``pour``."""
    if group is None:
        return None
    curing, weather, use = (group.get(key) for key in ("curing", "weather", "first_use"))
    plain = group.without({"curing", "weather", "first_use"})
    return Pour(
        **plain,
        curing=None if curing is None else Curing(**curing, place=curing.place),
        weather=None if weather is None else Weather(**weather, place=weather.place),
        first_use=None if use is None else FirstUse(**use, place=use.place),
        place=group.place,
    )
