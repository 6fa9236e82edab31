"""Setting out: right angles, diagonals, racked rectangles, and plain areas on the lot."""

from __future__ import annotations

from math import hypot, radians, tan

from slabwright.formulas import not_negative, positive, within


def diagonal(length: float, width: float) -> float:
    """Diagonal of a rectangle, and third side of a right angle, from two sides in one unit.

    Source: `layout-texts`.

    >>> diagonal(15.0, 20.0)
    25.0
    """
    return hypot(positive("length", length, "m along"), positive("width", width, "m along"))


def racked_diagonals(length: float, width: float, shift: float) -> float:
    """How much the diagonals differ, in m, when one side of ``length`` m is shifted along itself by ``shift`` m.

    D = 2 L e/sqrt(L^2 + W^2), for small shifts.

    Source: `geometry`.

    >>> round(racked_diagonals(30 * 12, 20 * 12, 1.0), 2)  # inches
    1.66
    """
    return 2 * length * not_negative("shift", shift, "m") / diagonal(length, width)


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


def offset(length: float, angle: float) -> float:
    """Offset at the end of a line of ``length`` m that is ``angle`` degrees off.

    Source: `geometry`; `layout-guide` prints 2 in for 1 degree in 10 ft.

    >>> round(offset(10 * 12, 1.0), 1)  # inches
    2.1
    """
    return positive("length", length, "m along") * tan(radians(within("angle", angle, 0.0, 45.0, "deg")))


def rectangle_area(length: float, width: float) -> float:
    """Area in m2 of a rectangle with sides in m.

    Source: `geometry`.

    >>> rectangle_area(9.0, 20.0)
    180.0
    """
    return positive("length", length, "m along") * positive("width", width, "m along")


def impervious_share(existing: float, new: float, lot: float) -> float:
    """Impervious share of a lot: existing plus new cover over the lot, all in m2.

    Source: `municipal-impervious`.

    >>> round(impervious_share(2200.0, 600.0, 8000.0), 3)
    0.35
    """
    cover = not_negative("existing cover", existing, "m2") + not_negative("new cover", new, "m2")
    return cover / positive("lot", lot, "m2")
