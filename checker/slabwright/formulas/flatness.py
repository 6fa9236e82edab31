"""How flat and level floors are made: floor numbers, and gaps under a 10 ft straightedge."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from slabwright.formulas import OutOfRangeError
from slabwright.formulas.units import INCH

FloorClass = Literal["conventional", "moderately flat", "flat", "very flat", "super-flat"]


class FloorNumbers(NamedTuple):
    """Overall flatness FF and levelness FL of a floor."""

    flatness: float
    levelness: float


class StraightedgeGaps(NamedTuple):
    """Gaps in m under a 10 ft straightedge that 90 % and all readings keep."""

    ninety_percent: float
    every: float


_NUMBERS: Final[dict[str, FloorNumbers]] = {  # `aci-117-10` Table 4.8.5.1
    "conventional": FloorNumbers(20, 15),
    "moderately flat": FloorNumbers(25, 20),
    "flat": FloorNumbers(35, 25),
    "very flat": FloorNumbers(45, 35),
    "super-flat": FloorNumbers(60, 40),
}
_GAPS_INCHES: Final = {  # `aci-117-10-recalled`
    "conventional": (0.5, 0.75),
    "moderately flat": (0.375, 0.625),
    "flat": (0.25, 0.375),
}


def floor_numbers(floor: FloorClass) -> FloorNumbers:
    """Overall floor numbers of a class of floor. FL says nothing of a sloped slab.

    Source: `aci-117-10`, Table 4.8.5.1.

    >>> floor_numbers("flat").levelness
    25
    """
    if floor not in _NUMBERS:
        raise OutOfRangeError(f"nothing is tabled for {floor!r}: this holds for {', '.join(_NUMBERS)}")
    return _NUMBERS[floor]


def least_local(overall: FloorNumbers) -> FloorNumbers:
    """Least local floor numbers: three fifths of the overall ones.

    Source: `aci-117-10`, sec. 4.8.5.3.

    >>> [round(number, 3) for number in least_local(floor_numbers("flat"))]
    [21.0, 15.0]
    """
    return FloorNumbers(overall.flatness * 0.6, overall.levelness * 0.6)


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
