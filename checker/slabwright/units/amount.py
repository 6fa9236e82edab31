"""Kinds of numbers, one SI number each, the constructors rules use, and the one shared tolerance."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from functools import partial
from typing import Literal, cast

from slabwright.source.place import Place

System = Literal["us", "metric"]


class _Shown(str):
    """A unit system with more said of how its values are shown; everywhere else it is the system it equals."""

    alone = False  # for readers to whom the other system, and what holds in its country only, says nothing
    both = False  # the other system in brackets beside each value
    comma = False  # the decimal sign is a comma
    heights = ""  # the unit of heights, where it is not the usual one


def _shown(system: System, **said: bool | str) -> System:
    marked = _Shown(system)
    marked.__dict__.update({**getattr(system, "__dict__", {}), **said})
    return cast(System, marked)


def alone(system: System) -> System:
    """The same system for readers who know no other: its values alone, and no words that only the other one knows.

    >>> alone("metric") == "metric", is_alone(alone("metric")), is_alone("metric")
    (True, True, False)
    """
    return _shown(system, alone=True, both=False)


def is_alone(system: System) -> bool:
    """Whether the reader knows this system and no other."""
    return bool(getattr(system, "alone", False))


def beside(system: System) -> System:
    """The same system, with the other one in brackets beside each value; one that is shown alone stays alone.

    >>> in_both(beside("us")), in_both("us"), in_both(beside(alone("metric")))
    (True, False, False)
    """
    return system if is_alone(system) else _shown(system, both=True)


def in_both(system: System) -> bool:
    """Whether the other system stands in brackets beside each value."""
    return bool(getattr(system, "both", False))


def with_comma(system: System, comma: bool = True) -> System:
    """The same system, with numbers written with a decimal comma, or without it.

    >>> with_comma("metric") == "metric", has_comma(with_comma("metric")), has_comma("metric")
    (True, True, False)
    """
    return _shown(system, comma=comma)


def has_comma(system: System) -> bool:
    """Whether numbers are written with a decimal comma."""
    return bool(getattr(system, "comma", False))


def heights_in(system: System, unit: str) -> System:
    """The same system, with heights in the unit that a file writes them in, where that is one of the system.

    >>> height_unit(heights_in("us", "in")), height_unit(heights_in("metric", "ft")), height_unit("metric")
    ('in', 'm', 'm')
    """
    return _shown(system, heights=unit) if unit in _HEIGHTS[system][1:] else system


def height_unit(system: System) -> str:
    """The unit that heights are shown in."""
    return str(getattr(system, "heights", "")) or _HEIGHTS[system][0]


_HEIGHTS: dict[System, tuple[str, ...]] = {"us": ("ft", "in"), "metric": ("m", "mm")}
RELATIVE_TOLERANCE = 1e-6
ABSOLUTE_TOLERANCE = 1e-9


class Kind(StrEnum):
    """What a number measures; decides its SI unit, the units a person may type, and how it is shown."""

    LENGTH = "length"  # plan lengths, m; shown 12'-6 1/2" / 3.823 m
    DEPTH = "depth"  # thickness, cover, offsets, m; shown 5 in / 127 mm
    HEIGHT = "height"  # elevations, m; shown 99.90 ft / 30.450 m
    SLOPE = "slope"  # rise over run, -; shown 2.1 % (1/4 in/ft) / 2.1 % (1:48)
    ANGLE = "angle"  # degrees
    AREA = "area"  # m2; ft2
    VOLUME = "volume"  # m3; yd3
    SMALL_VOLUME = "small volume"  # m3; gallons / liters (curing compound)
    STRESS = "stress"  # Pa; psi / MPa (strength, rupture, slab stress)
    PRESSURE = "pressure"  # Pa; psi / kPa (tires)
    SUBGRADE = "subgrade support"  # N/m3; pci / MN/m3
    FORCE = "force"  # N; lb / kN (axle and wheel loads)
    LINE_LOAD = "line load"  # N/m; lb/ft / kN/m (walls on the slab)
    MASS = "mass"  # kg; lb / kg
    UNIT_WEIGHT = "unit weight"  # kg/m3; lb/yd3 / kg/m3 (soil, doses of fiber, water)
    TEMPERATURE = "temperature"  # deg C; °F / °C
    SPEED = "speed"  # m/s; mph / km/h
    PLACING_RATE = "placing rate"  # m3/s; yd3/h / m3/h
    COVERAGE = "coverage"  # m2 per m3; ft2/gal / m2/L (curing compound)
    EVAPORATION = "evaporation"  # kg/(m2 s); lb/ft2/h / kg/m2/h
    DURATION = "duration"  # s; 1 h 30 min, days
    STEEL_AREA = "steel area"  # m2 per m; in2/ft / mm2/m
    SHARE = "share"  # fraction, -; 62 %
    RATIO = "ratio"  # -; 1.5
    COUNT = "count"  # -; 3


@dataclass(frozen=True, slots=True)
class Amount:
    """A number in the SI unit of its kind, with the words it was typed in, if a person typed it, and where."""

    si: float
    kind: Kind
    typed: str = field(default="", compare=False)
    place: Place | None = field(default=None, compare=False)


class QuantityError(ValueError):
    """A typed quantity could not be read: ``wrong`` says what is wrong, ``write`` what to write instead.

    Both are clauses without a full stop; ``write`` follows the word "write" or a colon after it.
    ``place`` is where the text stands, when the caller said so.
    """

    def __init__(self, wrong: str, write: str, place: Place | None = None) -> None:
        super().__init__(f"{wrong}; write {write}")
        self.wrong = wrong
        self.write = write
        self.place = place


def meets(value: float, limit: float, direction: Literal["least", "most"]) -> bool:
    """Whether ``value`` keeps ``limit`` (both SI), within the one shared tolerance.

    The tolerance is a millionth of the limit plus 1e-9, so that 12 ft against 36 x 4 in is met in
    feet, inches or meters. A value that is not a number keeps no limit.

    >>> meets(12 * 0.3048, 36 * 4 * 0.0254, "most"), meets(3.66, 3.6576, "most")
    (True, False)
    """
    slack = RELATIVE_TOLERANCE * abs(limit) + ABSOLUTE_TOLERANCE
    return value >= limit - slack if direction == "least" else value <= limit + slack


def same(value: float, other: float) -> bool:
    """Whether two SI numbers are one within the shared tolerance."""
    return abs(value - other) <= RELATIVE_TOLERANCE * max(abs(value), abs(other)) + ABSOLUTE_TOLERANCE


# Amounts by their kind, from the SI number that :class:`Kind` names.
length = partial(Amount, kind=Kind.LENGTH)
depth = partial(Amount, kind=Kind.DEPTH)
height = partial(Amount, kind=Kind.HEIGHT)
slope = partial(Amount, kind=Kind.SLOPE)
angle = partial(Amount, kind=Kind.ANGLE)
area = partial(Amount, kind=Kind.AREA)
volume = partial(Amount, kind=Kind.VOLUME)
small_volume = partial(Amount, kind=Kind.SMALL_VOLUME)
stress = partial(Amount, kind=Kind.STRESS)
pressure = partial(Amount, kind=Kind.PRESSURE)
subgrade = partial(Amount, kind=Kind.SUBGRADE)
force = partial(Amount, kind=Kind.FORCE)
line_load = partial(Amount, kind=Kind.LINE_LOAD)
mass = partial(Amount, kind=Kind.MASS)
unit_weight = partial(Amount, kind=Kind.UNIT_WEIGHT)
temperature = partial(Amount, kind=Kind.TEMPERATURE)
speed = partial(Amount, kind=Kind.SPEED)
placing_rate = partial(Amount, kind=Kind.PLACING_RATE)
coverage = partial(Amount, kind=Kind.COVERAGE)
evaporation = partial(Amount, kind=Kind.EVAPORATION)
duration = partial(Amount, kind=Kind.DURATION)
steel_area = partial(Amount, kind=Kind.STEEL_AREA)
share = partial(Amount, kind=Kind.SHARE)
ratio = partial(Amount, kind=Kind.RATIO)
count = partial(Amount, kind=Kind.COUNT)
