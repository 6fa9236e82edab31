"""Joint spacing, joint depth, dowels, isolation, curl and the shape of panels."""

from itertools import count
from math import ceil
from typing import Final, NamedTuple

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import FOOT, INCH

LEAST_MULTIPLE: Final = 24.0  # of the thickness, `aci-302.1r-96`
PARKING_MULTIPLE: Final = 30.0  # of the thickness, `aci-330r-first` sec. 2.7
PARKING_CAP: Final = 15 * FOOT  # m, `aci-330r-first` sec. 2.7

NEAR_SQUARE: Final = 1.5  # long side over short side, `aci-360r-06`


def faces_to_isolate(faces: int) -> int:
    """Least number of confining faces to isolate: one of two on opposite sides, all of three or four.

    ``faces`` counts the sides of the slab that something fixed stands against, 0 to 4. A single face confines nothing.

    Source: `cement-joints-faq`.

    >>> [faces_to_isolate(n) for n in (2, 3, 4)]
    [1, 3, 4]
    """
    n = int(within("confining faces", faces, 0, 4))
    return n if n > 2 else max(0, n - 1)


def is_full_depth(filler: float, thickness: float) -> bool:
    """Whether a filler ``filler`` m deep parts the whole ``thickness`` (m) of the slab; a shallower cut does not.

    Source: `trade-qa-isolation`.

    >>> is_full_depth(2.0, 5.0)
    False
    """
    return not_negative("filler depth", filler, "m") >= positive("slab thickness", thickness, "m") * (1 - 1e-6)


class DowelRow(NamedTuple):
    """One row of a dowel table, meters."""

    least_diameter: float
    most_diameter: float
    length: float
    most_spacing: float


# Upper thickness, diameters from and to, length, spacing, all in inches; `ufc-3-260-02` Table 12-8.
# The first three rows end just under the next: 8, 12 and 16 in.
_AIRFIELD: Final = (
    (8.0, 0.75, 0.75, 16.0, 12.0),
    (12.0, 1.0, 1.0, 16.0, 12.0),
    (16.0, 1.0, 1.25, 20.0, 15.0),
    (21.0, 1.0, 1.5, 20.0, 18.0),
)


def dowel_row(thickness: float) -> DowelRow:
    """Bar, least length and most spacing in m of dowels in pavement ``thickness`` m thick, 5 to 20.5 in.

    Source: `ufc-3-260-02`, Table 12-8.

    >>> [round(value / INCH, 2) for value in dowel_row(6 * INCH)]
    [0.75, 0.75, 16.0, 12.0]
    """
    inches = within("pavement thickness", thickness, 5 * INCH, 20.5 * INCH, "m") / INCH
    row = next(row for row in _AIRFIELD if inches < row[0] * (1 - 1e-9))
    return DowelRow(*(value * INCH for value in row[1:]))


def parking_spacing(thickness: float) -> float:
    """Most distance between joints in m of plain parking by rule: 30 t, at most 15 ft.

    Source: `aci-330r-first`, sec. 2.7.

    >>> round(parking_spacing(5 * INCH) / FOOT, 3)
    12.5
    """
    return min(PARKING_MULTIPLE * _thickness(thickness), PARKING_CAP)


def saw_depth(thickness: float) -> float:
    """Least depth in m of a sawn or tooled joint: t/4.

    Source: `aci-330r-first`.

    >>> round(saw_depth(6 * INCH) / INCH, 3)
    1.5
    """
    return _thickness(thickness) / 4


def curl_index(spacing: float, thickness: float) -> float:
    """Curl to expect, as a multiple of that of 8 ft panels 4 in thick: spacing squared over thickness.

    ``spacing`` and ``thickness`` in m.

    Source: `trade-articles-shrinkage`, which say that curl grows with spacing squared and falls with thickness.

    >>> round(curl_index(15 * FOOT, 6 * INCH), 2)
    2.34
    """
    reference = (8 * FOOT) ** 2 / (4 * INCH)
    return positive("joint spacing", spacing, "m along") ** 2 / _thickness(thickness) / reference


def panel_ratio(length: float, width: float) -> float:
    """Long side over short side of a panel, from its two sides in m.

    Source: `geometry`.

    >>> panel_ratio(4.0, 25.0)
    6.25
    """
    sides = positive("panel side", length, "m along"), positive("panel side", width, "m along")
    return max(sides) / min(sides)


def bays(length: float, most: float) -> int:
    """Fewest equal bays that divide a ``length`` m with none over ``most`` m; a hair over does not ask for one more.

    Source: `geometry`.

    >>> bays(120 * FOOT, 50 * FOOT)
    3
    """
    return max(1, ceil(positive("length", length, "m along") / positive("bay", most, "m along") - 1e-6))


def square_bays(long: float, short: float, most: float, ratio: float = NEAR_SQUARE) -> tuple[int, int]:
    """Fewest equal bays that divide a panel, along its long side and along its short side, both sides in m.

    No side of a bay is over ``most`` m, nor over ``ratio`` (above 1) times the other.

    Source: `geometry`.

    >>> square_bays(24 * FOOT, 24 * FOOT, 10 * FOOT), square_bays(30 * FOOT, 12 * FOOT, 10 * FOOT)
    ((3, 3), (4, 2))
    """
    shape = panel_ratio(long, short)
    ways = ((max(bays(long, most), ceil(shape * m / ratio - 1e-6)), m) for m in count(bays(short, most)))
    return next((n, m) for n, m in ways if n <= shape * m * ratio + 1e-6)


def _thickness(thickness: float) -> float:
    return within("slab thickness", thickness, 2 * INCH, 24 * INCH, "m")
