"""What the crew needs beside the slab: masks at saws."""

from __future__ import annotations

from typing import Final, Literal

from slabwright.formulas import not_negative
from slabwright.formulas.units import HOUR

Saw = Literal["handheld", "walk-behind", "drivable", "stationary"]

HANDHELD_HOURS: Final = 4 * HOUR  # s a shift outdoors without a mask, `osha-1926.1153`


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
