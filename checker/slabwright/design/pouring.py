"""The day of the pour: the section ``pour`` of a design, with curing, weather and first use."""

import datetime
from typing import Literal, NamedTuple

from slabwright.design.point import Point
from slabwright.source.place import NOWHERE, Place
from slabwright.units.amount import Amount

Finish = Literal["broom", "coarse broom", "float", "trowel", "exposed aggregate", "grooved"]
CuringMethod = Literal["compound", "wet cover", "sheeting", "sprinkling"]


class Curing(NamedTuple):
    """``pour.curing``."""

    method: CuringMethod
    rate: Amount | None = None  # coverage
    days: Amount | None = None  # duration
    quantity: Amount | None = None  # small volume: compound bought
    place: Place = NOWHERE


class Weather(NamedTuple):
    """``pour.weather``: the forecast for the hours of placing, the night after, and the first frost of the season."""

    air: Amount | None = None  # temperature
    concrete: Amount | None = None  # temperature
    humidity: Amount | None = None  # share
    wind: Amount | None = None  # speed
    low: Amount | None = None  # temperature
    rain: Amount | None = None  # share: the chance of it
    first_frost: datetime.date | None = None
    place: Place = NOWHERE


class FirstUse(NamedTuple):
    """``pour.first_use``: how long after placing the slab is opened."""

    feet: Amount | None = None  # duration
    cars: Amount | None = None  # duration
    heavy: Amount | None = None  # duration
    tested: Amount | None = None  # stress
    place: Place = NOWHERE


class Protection(NamedTuple):
    """``pour.protection``: what keeps the young slab warm."""

    method: Literal["blankets", "straw under sheeting", "heated tent"]
    days: Amount | None = None  # duration
    place: Place = NOWHERE


class Pour(NamedTuple):
    """``pour``, or an entry of it; ``name``, ``day``, ``corners`` and ``volume`` belong to one of several."""

    name: str = ""
    day: datetime.date | None = None
    corners: tuple[Point, ...] = ()  # of what it covers
    volume: Amount | None = None  # ordered for it
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
    wind_break: Amount | None = None  # speed of the wind that it lets over the slab
    haul: Amount | None = None  # duration: plant to site
    trucks_apart: Amount | None = None  # duration
    first_use: FirstUse | None = None
    protection: Protection | None = None
    place: Place = NOWHERE

    @property
    def wind(self) -> Amount | None:
        """The wind over the slab: that of the forecast, or what a wind break lets through of it."""
        said = self.weather.wind if self.weather else None
        behind = self.wind_break
        return behind if said and behind and behind.si < said.si else said
