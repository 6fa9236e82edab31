"""Falls and slopes: along lines, at breaks, over waves, and gaps under a straightedge."""

from math import pi
from typing import Final, Literal, NamedTuple

from slabwright.formulas import OutOfRangeError, not_negative, positive
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


def slope(rise: float, run: float) -> float:
    """Slope, rise over run, from a rise and a run in meters.

    Source: `geometry`.

    >>> round(slope(0.0762, 0.9144) * 100, 2)  # 3 in in 36 in
    8.33
    """
    return rise / positive("run", run, "m along")


def fall(run: float, slope: float) -> float:
    """Fall in meters over a run in meters at a slope (rise over run).

    Source: `geometry`; `trade-qa-fall` prints 1-1/4 in for 10 ft at 1/8 in/ft.

    >>> round(fall(10 * 0.3048, 0.125 / 12) / 0.0254, 6)
    1.25
    """
    return not_negative("run", run, "m along") * slope


def grade_break(before: float, after: float) -> float:
    """Algebraic difference of two slopes along a line, positive at a crest and at a sag alike.

    Source: `geometry`.

    >>> round(grade_break(0.02, -0.10), 4)
    0.12
    """
    return abs(after - before)


def slope_of_wave(height: float, wavelength: float) -> float:
    """Steepest slope of a wave in the surface, which the slab's own fall loses there: pi h/L.

    A sine wave of ``height`` h peak to trough and ``wavelength`` L, both in meters.

    Source: `geometry`.

    >>> round(slope_of_wave(0.375 * 0.0254, 10 * 0.3048) * 100, 2)
    0.98
    """
    return pi * not_negative("height", height, "m") / positive("wavelength", wavelength, "m along")
