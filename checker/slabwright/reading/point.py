"""A place on the plan, as sections of a design hold it."""

from __future__ import annotations

from dataclasses import dataclass

from slabwright.place import Place

NOWHERE = Place("")


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the plan, in metres; ``name`` is empty when it was typed as a pair of numbers."""

    x: float
    y: float
    name: str = ""
    place: Place = NOWHERE
