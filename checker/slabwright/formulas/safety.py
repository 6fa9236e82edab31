"""What the crew needs beside the slab: masks at saws, protection in cuts, help with bags."""

from __future__ import annotations

from typing import Final, Literal

from slabwright.formulas import not_negative
from slabwright.formulas.units import FOOT, HOUR, POUND

Saw = Literal["handheld", "walk-behind", "drivable", "stationary"]

HANDHELD_HOURS: Final = 4 * HOUR  # s a shift outdoors without a mask, `osha-1926.1153`
LADDER_FROM: Final = 4 * FOOT  # m deep, `osha-1926.651`
PROTECTION_FROM: Final = 5 * FOOT  # m deep, `osha-1926.651`
ENGINEERED_FROM: Final = 20 * FOOT  # m deep, `osha-1926.651`
SPOIL_BACK: Final = 2 * FOOT  # m from the cut, `osha-1926.651`
LADDER_WITHIN: Final = 25 * FOOT  # m of travel, `osha-1926.651`
IDEAL_LIFT: Final = 51 * POUND  # kg, `niosh-lifting`


def saw_mask(saw: Saw, outdoors: bool, duration: float) -> int:
    """Protection factor of the mask with a water-fed saw run for ``duration`` s a shift; 0 where none is asked.

    Handheld: none outdoors up to 4 h, else 10. Walk-behind: none outdoors, 10 inside. Drivable and stationary: none.

    Source: `osha-1926.1153`, Table 1 (i), (ii), (iv), (v).

    >>> saw_mask("handheld", outdoors=True, duration=3 * HOUR), saw_mask("handheld", outdoors=False, duration=HOUR)
    (0, 10)
    """
    hours = not_negative("time at the saw", duration, "s")
    if saw in ("drivable", "stationary") or (saw == "walk-behind" and outdoors):
        return 0
    return 0 if saw == "handheld" and outdoors and hours <= HANDHELD_HOURS * (1 + 1e-9) else 10


def ladder_needed(depth: float) -> bool:
    """Whether a cut ``depth`` m deep needs a ladder within 25 ft: from 4 ft.

    Source: `osha-1926.651`.

    >>> ladder_needed(4 * FOOT)
    True
    """
    return not_negative("depth", depth, "m") >= LADDER_FROM * (1 - 1e-9)


def protection_needed(depth: float) -> bool:
    """Whether a cut ``depth`` m deep needs sloped or supported sides by its depth alone: from 5 ft.

    Source: `osha-1926.651`.

    >>> protection_needed(4 * FOOT)
    False
    """
    return not_negative("depth", depth, "m") >= PROTECTION_FROM * (1 - 1e-9)


def two_person_lift(mass: float) -> bool:
    """Whether a bag of ``mass`` kg exceeds the ideal lift of 51 lb.

    Source: `niosh-lifting`.

    >>> two_person_lift(80 * POUND)
    True
    """
    return not_negative("mass", mass, "kg") > IDEAL_LIFT * (1 + 1e-9)
