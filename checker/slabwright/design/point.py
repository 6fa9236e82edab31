"""A place on the plan, as sections of a design hold it."""

from __future__ import annotations

from dataclasses import dataclass, field

from slabwright.source.place import Place

NOWHERE = Place("")


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the plan, in metres; a pair of numbers has no ``name``, and keeps them as ``typed``."""

    x: float
    y: float
    name: str = ""
    place: Place = NOWHERE
    typed: str = field(default="", compare=False)  # "(12 ft, 8 ft)"


_METRES = {"ft": 0.3048, "in": 0.0254, "m": 1.0, "mm": 0.001}


def spot_name(x: float, y: float, unit: str) -> str:
    """A spot in metres that nobody named, in the unit of its plan.

    >>> spot_name(3.6576, 0.0, "ft"), spot_name(1.5, 2.0, "m"), spot_name(1.5, 2.0, "mm")
    ('(12.00 ft, 0.00 ft)', '(1.50 m, 2.00 m)', '(1500 mm, 2000 mm)')
    """
    places = 0 if unit == "mm" else 2
    return f"({x / _METRES[unit]:.{places}f} {unit}, {y / _METRES[unit]:.{places}f} {unit})"
