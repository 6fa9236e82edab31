"""Kinds of numbers, one SI number each, the constructors rules use, and the one shared tolerance."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
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


def length(m: float) -> Amount:
    """A length on the plan, meters."""
    return Amount(m, Kind.LENGTH)


def depth(m: float) -> Amount:
    """A thickness, cover, cut or offset, meters."""
    return Amount(m, Kind.DEPTH)


def height(m: float) -> Amount:
    """A height above the datum, meters."""
    return Amount(m, Kind.HEIGHT)


def slope(r: float) -> Amount:
    """A slope, rise over run."""
    return Amount(r, Kind.SLOPE)


def angle(deg: float) -> Amount:
    """An angle, degrees."""
    return Amount(deg, Kind.ANGLE)


def area(m2: float) -> Amount:
    """An area, m2."""
    return Amount(m2, Kind.AREA)


def volume(m3: float) -> Amount:
    """A volume of concrete, base or soil, m3."""
    return Amount(m3, Kind.VOLUME)


def small_volume(m3: float) -> Amount:
    """A volume of water and the like, m3."""
    return Amount(m3, Kind.SMALL_VOLUME)


def stress(pa: float) -> Amount:
    """A strength or a stress, Pa."""
    return Amount(pa, Kind.STRESS)


def pressure(pa: float) -> Amount:
    """A pressure, Pa."""
    return Amount(pa, Kind.PRESSURE)


def subgrade(n_per_m3: float) -> Amount:
    """A subgrade support, N/m3."""
    return Amount(n_per_m3, Kind.SUBGRADE)


def force(n: float) -> Amount:
    """A force or a load, N."""
    return Amount(n, Kind.FORCE)


def line_load(n_per_m: float) -> Amount:
    """A load on each meter of a line, N/m."""
    return Amount(n_per_m, Kind.LINE_LOAD)


def mass(kg: float) -> Amount:
    """A mass, kg."""
    return Amount(kg, Kind.MASS)


def unit_weight(kg_per_m3: float) -> Amount:
    """A unit weight or a dose, kg/m3."""
    return Amount(kg_per_m3, Kind.UNIT_WEIGHT)


def temperature(deg_c: float) -> Amount:
    """A temperature, °C."""
    return Amount(deg_c, Kind.TEMPERATURE)


def speed(m_per_s: float) -> Amount:
    """A speed, m/s."""
    return Amount(m_per_s, Kind.SPEED)


def placing_rate(m3_per_s: float) -> Amount:
    """Concrete placed in a stretch of time, m3/s."""
    return Amount(m3_per_s, Kind.PLACING_RATE)


def coverage(m2_per_m3: float) -> Amount:
    """Area that a volume of curing compound covers, m2/m3."""
    return Amount(m2_per_m3, Kind.COVERAGE)


def evaporation(kg_per_m2_s: float) -> Amount:
    """Water lost from an area in a stretch of time, kg/(m2 s)."""
    return Amount(kg_per_m2_s, Kind.EVAPORATION)


def duration(s: float) -> Amount:
    """A stretch of time, seconds."""
    return Amount(s, Kind.DURATION)


def steel_area(m2_per_m: float) -> Amount:
    """An area of steel for each meter of width, m2/m."""
    return Amount(m2_per_m, Kind.STEEL_AREA)


def share(f: float) -> Amount:
    """A share, as a fraction of one."""
    return Amount(f, Kind.SHARE)


def ratio(r: float) -> Amount:
    """A ratio, no unit."""
    return Amount(r, Kind.RATIO)


def count(n: float) -> Amount:
    """How many."""
    return Amount(n, Kind.COUNT)
