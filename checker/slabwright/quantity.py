"""Quantities as the trade writes them: kinds, one SI number each, reading and showing, and the one shared tolerance."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from slabwright.place import Place

System = Literal["us", "metric"]


class Kind(StrEnum):
    """What a number measures; decides its SI unit, the units a person may type, and how it is shown."""

    LENGTH = "length"  # plan lengths, m; shown 12'-6 1/2" / 3.823 m
    DEPTH = "depth"  # thickness, cover, offsets, m; shown 5 in / 127 mm
    HEIGHT = "height"  # elevations, m; shown 99.90 ft / 30.450 m
    SLOPE = "slope"  # rise over run, -; shown 2.1 % (1/4 in/ft) / 2.1 % (1:48)
    ANGLE = "angle"  # degrees
    AREA = "area"  # m2; ft2
    VOLUME = "volume"  # m3; yd3
    SMALL_VOLUME = "small volume"  # m3; ft3 / litres (water in a pond)
    STRESS = "stress"  # Pa; psi / MPa (strength, rupture, slab stress)
    PRESSURE = "pressure"  # Pa; psi / kPa (tyres)
    SUBGRADE = "subgrade support"  # N/m3; pci / MN/m3
    FORCE = "force"  # N; lb / kN (axle and wheel loads)
    MASS = "mass"  # kg; lb / kg
    UNIT_WEIGHT = "unit weight"  # kg/m3; lb/yd3 / kg/m3 (soil, doses of fibre, water)
    TEMPERATURE = "temperature"  # deg C; °F / °C
    SPEED = "speed"  # m/s; mph / km/h
    DURATION = "duration"  # s; h, days
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
