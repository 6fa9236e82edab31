"""Setting out: right angles, diagonals, racked rectangles, rod readings, and the cover of the lot."""

from __future__ import annotations

from math import hypot
from typing import Final

from slabwright.formulas import not_negative, positive
from slabwright.formulas.units import FOOT

BENCHMARK_REREAD: Final = 0.02 * FOOT  # m, `makers-accuracy`


def instrument_height(benchmark: float, backsight: float) -> float:
    """Height of instrument in m: benchmark height plus the rod reading on it.

    Source: `surveying-notes`.

    >>> round(instrument_height(520.50, 4.25), 2)
    524.75
    """
    return benchmark + not_negative("rod reading", backsight, "m along")


def grade_rod(instrument: float, planned: float) -> float:
    """Rod reading in m wanted on a planned height: height of instrument less planned height.

    Source: `tr-62`.

    >>> round(grade_rod(111.00, 107.85), 2)
    3.15
    """
    return instrument - planned


def diagonal(length: float, width: float) -> float:
    """Diagonal of a rectangle, and third side of a right angle, from two sides in one unit.

    Source: `layout-texts`.

    >>> diagonal(15.0, 20.0)
    25.0
    """
    return hypot(positive("length", length, "m along"), positive("width", width, "m along"))


def racked_shift(length: float, width: float, difference: float) -> float:
    """Shift in m of a side of ``length`` m along itself that squares a rectangle whose diagonals differ.

    e = D sqrt(L^2 + W^2)/(2 L), for small ``difference`` D in m.

    Source: `geometry`.

    >>> round(racked_shift(30 * 12, 20 * 12, 1.664), 2)  # inches
    1.0
    """
    return not_negative("difference", difference, "m") * diagonal(length, width) / (2 * length)


def out_of_square(length: float, width: float, excess: float) -> float:
    """Angle in radians that a corner is out of square when one diagonal is ``excess`` m long: e sqrt(L2 + W2)/(L W).

    Source: `geometry`.

    >>> round(out_of_square(4.0, 3.0, 0.012), 4)
    0.005
    """
    return not_negative("excess", excess, "m") * diagonal(length, width) / (length * width)


def impervious_share(existing: float, new: float, lot: float) -> float:
    """Impervious share of a lot: existing plus new cover over the lot, all in m2.

    Source: `municipal-impervious`.

    >>> round(impervious_share(2200.0, 600.0, 8000.0), 3)
    0.35
    """
    cover = not_negative("existing cover", existing, "m2") + not_negative("new cover", new, "m2")
    return cover / positive("lot", lot, "m2")
