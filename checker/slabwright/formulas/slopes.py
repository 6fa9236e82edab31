"""Falls, slopes and what is lost of them: along lines, across panels, over dips and waves."""

from __future__ import annotations

from math import atan, degrees, hypot, pi, radians, tan

from slabwright.formulas import not_negative, positive, within


def slope(rise: float, run: float) -> float:
    """Slope, rise over run, from a rise and a run in metres.

    Source: `geometry`.

    >>> round(slope(0.0762, 0.9144) * 100, 2)  # 3 in in 36 in
    8.33
    """
    return rise / positive("run", run, "m along")


def fall(run: float, slope: float) -> float:
    """Fall in metres over a run in metres at a slope (rise over run).

    Source: `geometry`; `trade-qa-fall` prints 1-1/4 in for 10 ft at 1/8 in/ft.

    >>> round(fall(10 * 0.3048, 0.125 / 12) / 0.0254, 6)
    1.25
    """
    return not_negative("run", run, "m along") * slope


def angle(slope: float) -> float:
    """Angle in degrees of a slope (rise over run).

    Source: `geometry`.

    >>> round(angle(1 / 50), 2)
    1.15
    """
    return degrees(atan(slope))


def slope_of_angle(angle: float) -> float:
    """Slope (rise over run) of an angle in degrees, below 90.

    Source: `geometry`.

    >>> round(slope_of_angle(2.0) * 100, 2)  # 2 degrees is not 2 %
    3.49
    """
    return tan(radians(within("angle", angle, -89.9, 89.9, "deg")))


def combined_slope(along: float, across: float) -> float:
    """Steepest slope of a plane with two slopes at right angles: s = sqrt(sx2 + sy2).

    Source: `trade-qa-combined-slopes`.

    >>> round(combined_slope(0.005, 0.005) * 100, 2)
    0.71
    """
    return hypot(along, across)


def grade_break(before: float, after: float) -> float:
    """Algebraic difference of two slopes along a line, positive at a crest and at a sag alike.

    Source: `geometry`.

    >>> round(grade_break(0.02, -0.10), 4)
    0.12
    """
    return abs(after - before)


def dip_that_ponds(length: float, slope: float) -> float:
    """Gap in metres under a straightedge, at mid-length of a V-shaped dip, above which the dip holds water.

    g = s L/2, for a dip of length L (m) along the fall s of the slab.

    Source: `geometry`.

    >>> round(dip_that_ponds(10 * 0.3048, 0.01) / 0.0254, 3)
    0.6
    """
    return not_negative("slope", slope, "slope") * positive("length", length, "m along") / 2


def slope_of_wave(height: float, wavelength: float) -> float:
    """Steepest slope of a wave in the surface, which the slab's own fall loses there: pi h/L.

    A sine wave of ``height`` h peak to trough and ``wavelength`` L, both in metres.

    Source: `geometry`.

    >>> round(slope_of_wave(0.375 * 0.0254, 10 * 0.3048) * 100, 2)
    0.98
    """
    return pi * not_negative("height", height, "m") / positive("wavelength", wavelength, "m along")


def slope_lost(height_error: float, run: float) -> float:
    """Slope lost when the two ends of a run (m) are off by ``height_error`` (m) between them.

    Source: `geometry`; 3/4 in is the elevation tolerance of `aci-117-90`.

    >>> round(slope_lost(0.75 * 0.0254, 10 * 0.3048) * 100, 3)
    0.625
    """
    return not_negative("height error", height_error, "m") / positive("run", run, "m along")


def mean_dig_one_way(width: float, crossfall: float) -> float:
    """Mean extra dig in metres under a slab that falls one way across its ``width`` (m): s w/2.

    Source: `geometry`.

    >>> round(mean_dig_one_way(12 * 0.3048, 0.02) / 0.0254, 2)
    1.44
    """
    return positive("width", width, "m along") * not_negative("crossfall", crossfall, "slope") / 2


def mean_dig_valley(width: float, crossfall: float) -> float:
    """Mean extra dig in metres under a slab that falls from both sides to a valley at mid-width: s w/4.

    Source: `geometry`.

    >>> round(mean_dig_valley(12 * 0.3048, 0.02) / 0.0254, 2)
    0.72
    """
    return mean_dig_one_way(width, crossfall) / 2


def mean_dig_along(length: float, slope: float) -> float:
    """Mean extra dig in metres for a fall along the ``length`` (m) of a slab on level ground: s L/2.

    Source: `geometry`.

    >>> round(mean_dig_along(40 * 0.3048, 0.01) / 0.0254, 2)
    2.4
    """
    return fall(length, slope) / 2


def valley_outlet(wall_height: float, offset: float, length: float, crossfall: float, valley_slope: float) -> float:
    """Highest the outlet of a valley may stand, in metres, below a wall.

    Height allowed at the wall, less the crossfall over the ``offset`` (m) from wall to valley, less the
    valley's own fall over its ``length`` (m).

    Source: `geometry`.

    >>> round(valley_outlet(-1.5 * 0.0254, 6 * 0.3048, 40 * 0.3048, 0.02, 0.01) / 0.0254, 2)
    -7.74
    """
    return wall_height - fall(offset, crossfall) - fall(length, valley_slope)
