"""Amounts, arithmetic and places as plain data for JSON: the same in a review and in the sheets of a job."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from slabwright.source.clean import writable
from slabwright.source.place import Place
from slabwright.text.words import Step, plain, written
from slabwright.units.quantity import Amount, Kind, System, is_alone, show

Data = dict[str, Any]

SYSTEMS: tuple[System, ...] = ("us", "metric")

SI_UNITS: Mapping[Kind, str] = {
    Kind.LENGTH: "m",
    Kind.DEPTH: "m",
    Kind.HEIGHT: "m",
    Kind.SLOPE: "rise/run",
    Kind.ANGLE: "deg",
    Kind.AREA: "m2",
    Kind.VOLUME: "m3",
    Kind.SMALL_VOLUME: "m3",
    Kind.STRESS: "Pa",
    Kind.PRESSURE: "Pa",
    Kind.SUBGRADE: "N/m3",
    Kind.FORCE: "N",
    Kind.LINE_LOAD: "N/m",
    Kind.MASS: "kg",
    Kind.UNIT_WEIGHT: "kg/m3",
    Kind.TEMPERATURE: "degC",
    Kind.SPEED: "m/s",
    Kind.PLACING_RATE: "m3/s",
    Kind.COVERAGE: "m2/m3",
    Kind.EVAPORATION: "kg/(m2 s)",
    Kind.DURATION: "s",
    Kind.STEEL_AREA: "m2/m",
    Kind.SHARE: "fraction",
    Kind.RATIO: "1",
    Kind.COUNT: "1",
}


def step_data(step: Step, system: System) -> Data:
    """One line of arithmetic."""
    return {
        "what": step.what,
        "formula": written(step.formula, system),
        "numbers": plain(step.numbers, system),
        "result": amount_data(step.result, system),
    }


def place_data(place: Place) -> Data:
    """A place in a file."""
    return {"file": place.file, "line": place.line, "column": place.column, "path": place.path}


def systems_of(system: System) -> tuple[System, ...]:
    """The systems that amounts are written in: both, or the one that is shown alone."""
    return (system,) if is_alone(system) else SYSTEMS


def amount_data(amount: Amount, system: System = "us") -> Data:
    """An amount: its SI number and unit, and how people of both systems write it, or of the one shown alone."""
    return {
        "si": amount.si,
        "unit": SI_UNITS[amount.kind],
        "kind": amount.kind.value,
        **{one: show(untyped(amount), one, both=False) for one in systems_of(system)},
        "typed": (amount.typed if amount.place or not is_alone(system) else "") or None,
    }


def untyped(amount: Amount) -> Amount:
    """An amount without the words it was typed in."""
    return replace(amount, typed="", place=None)


def clean_data(value: Any) -> Any:
    """Plain data without numbers that JSON has no word for."""
    if isinstance(value, Mapping):
        return {str(key): clean_data(one) for key, one in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [clean_data(one) for one in value]
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else None
    return value


def json_text(data: Data | list[Data]) -> str:
    """One JSON document that UTF-8 can write, the same text for the same data, with a newline at the end."""
    text = json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    return writable(text)
