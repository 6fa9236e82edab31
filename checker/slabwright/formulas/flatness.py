"""How flat floors are made: gaps under a 10 ft straightedge."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from slabwright.formulas import OutOfRangeError
from slabwright.formulas.units import INCH

FloorClass = Literal["conventional", "moderately flat", "flat", "very flat", "super-flat"]


class StraightedgeGaps(NamedTuple):
    """Gaps in m under a 10 ft straightedge that 90 % and all readings keep."""

    ninety_percent: float
    every: float


_GAPS_INCHES: Final = {  # `aci-117-10-recalled`
    "conventional": (0.5, 0.75),
    "moderately flat": (0.375, 0.625),
    "flat": (0.25, 0.375),
}


def straightedge_gaps(floor: FloorClass) -> StraightedgeGaps:
    """Gaps in m under a 10 ft straightedge by class of floor, conventional to flat.

    Source: `aci-117-10-recalled`, Table 4.8.6.1.

    >>> [round(gap / INCH, 3) for gap in straightedge_gaps("conventional")]
    [0.5, 0.75]
    """
    if floor not in _GAPS_INCHES:
        raise OutOfRangeError(f"nothing is tabled for {floor!r}: this holds for {', '.join(_GAPS_INCHES)}")
    ninety, every = _GAPS_INCHES[floor]
    return StraightedgeGaps(ninety * INCH, every * INCH)
