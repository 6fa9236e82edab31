"""Falls and slopes: along lines, at breaks and over waves."""

from math import pi

from slabwright.formulas import not_negative, positive


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
