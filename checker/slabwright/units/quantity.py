"""Quantities as the trade writes them: the one door to kinds, reading, showing, units and the shared tolerance."""

from __future__ import annotations

from slabwright.units.amount import (
    Amount,
    Kind,
    QuantityError,
    System,
    alone,
    angle,
    area,
    beside,
    count,
    coverage,
    depth,
    duration,
    evaporation,
    force,
    has_comma,
    height,
    heights_in,
    in_both,
    is_alone,
    length,
    line_load,
    mass,
    meets,
    placing_rate,
    pressure,
    ratio,
    same,
    share,
    slope,
    small_volume,
    speed,
    steel_area,
    stress,
    subgrade,
    temperature,
    unit_weight,
    volume,
    with_comma,
)
from slabwright.units.grammar import bare, board_depth, cube_strength, read, strength_class
from slabwright.units.one_number import eighths, tenths
from slabwright.units.rounding import round_up, roundest
from slabwright.units.shown import numerals, pointed, show, show_pair, written_out
from slabwright.units.unit_table import to_unit

__all__ = [
    "Amount", "Kind", "QuantityError", "System", "alone", "angle", "area", "bare", "beside", "board_depth", "count",
    "coverage", "cube_strength", "depth", "duration", "eighths", "evaporation", "force", "has_comma",
    "height", "heights_in", "in_both", "is_alone", "length", "line_load", "mass", "meets", "numerals",
    "placing_rate", "pointed", "pressure", "ratio", "read", "round_up", "roundest", "same", "share", "show",
    "show_pair", "slope", "small_volume", "speed", "steel_area", "strength_class", "stress", "subgrade", "temperature",
    "tenths", "to_unit", "unit_weight", "volume", "with_comma", "written_out",
]  # fmt: skip
