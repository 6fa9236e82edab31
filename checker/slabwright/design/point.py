"""A place on the plan, as sections of a design hold it, and the points of a file by name."""

from dataclasses import dataclass, field
from typing import Any

from slabwright.design.located import Group
from slabwright.formulas.units import FOOT, INCH
from slabwright.source.place import NOWHERE, Place


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the plan, in meters; a pair of numbers has no ``name``, and keeps them as ``typed``."""

    x: float
    y: float
    name: str = ""
    place: Place = NOWHERE
    typed: str = field(default="", compare=False)  # "(12 ft, 8 ft)"


_METERS = {"ft": FOOT, "in": INCH, "m": 1.0, "cm": 0.01, "mm": 0.001}


def spot_name(x: float, y: float, unit: str) -> str:
    """A spot in meters that nobody named, in the unit of its plan.

    >>> spot_name(3.6576, 0.0, "ft"), spot_name(1.5, 2.0, "m"), spot_name(1.5, 2.0, "mm")
    ('(12.00 ft, 0.00 ft)', '(1.50 m, 2.00 m)', '(1500 mm, 2000 mm)')
    """
    places = 0 if unit == "mm" else 2
    return f"({x / _METERS[unit]:.{places}f} {unit}, {y / _METERS[unit]:.{places}f} {unit})"


class Points:
    """The points of a file by name."""

    def __init__(self, group: Group | None) -> None:
        self.named: dict[str, Point] = {}
        for name, pair in (group or {}).items():
            x, y = pair
            self.named[name] = Point(x.si, y.si, name, pair.place)

    def spot(self, said: Any) -> Point:
        """The point that a name or a pair stands for; names were looked up before."""
        if isinstance(said, Point):
            return said
        if isinstance(said, str):
            return self.named[said]
        x, y = said
        return Point(x.si, y.si, "", said.place, f"({x.typed}, {y.typed})" if x.typed and y.typed else "")
