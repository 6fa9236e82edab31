"""Joint spacing, joint depth, shrinkage and the shape of panels."""

from __future__ import annotations

from itertools import count
from math import ceil
from typing import Final, NamedTuple

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import FOOT, FOOT2, INCH

LEAST_MULTIPLE: Final = 24.0  # of the thickness, `aci-302.1r-96`
MOST_MULTIPLE: Final = 36.0  # of the thickness, `aci-302.1r-96`
PARKING_MULTIPLE: Final = 30.0  # of the thickness, `aci-330r-first` sec. 2.7
FLOOR_CAP: Final = 18 * FOOT  # m, `aci-302.1r-96`
PARKING_CAP: Final = 15 * FOOT  # m, `aci-330r-first` sec. 2.7
CANADA_CAP: Final = 5.0  # m, `csa-a23.1-94`
ARMY_PANEL_AREA: Final = 600 * FOOT2  # m2, `tm-5-809-12` par. 5

NEAR_SQUARE: Final = 1.5  # long side over short side, `aci-360r-06`
SMALL_STONE: Final = 0.75 * INCH  # m: below this the closer spacing holds
LOW_SLUMP: Final = 4 * INCH  # m: below this the wider spacing holds

# Most spacing in feet by least thickness in inches; a thickness between takes the row below it.
_PARKING_TABLE: Final = ((4.0, 10.0), (5.0, 12.5), (6.0, 15.0))  # `aci-330r-01`
_PAVING_PROFILE: Final = ((4.0, 10.0), (5.0, 12.0), (6.0, 15.0))  # `ready-mixed-paving-profile`
_FLATWORK_GUIDE: Final = ((3.0, 8.0), (4.0, 10.0), (5.0, 12.0))  # `ready-mixed-regional-guide`


class Spacing(NamedTuple):
    """Least and most distance between joints, metres."""

    least: float
    most: float


def spacing_range(thickness: float, cap: float = FLOOR_CAP) -> Spacing:
    """Distance between joints in m of a plain slab ``thickness`` m thick: 24 t to 36 t, at most ``cap`` m.

    The cap is 18 ft for floors; :data:`CANADA_CAP` is 5 m. Holds for 2 to 24 in.

    Source: `aci-302.1r-96`; `csa-a23.1-94` for its cap.

    >>> [round(s / FOOT, 3) for s in spacing_range(4 * INCH)]
    [8.0, 12.0]
    """
    t = _thickness(thickness)
    return Spacing(min(LEAST_MULTIPLE * t, cap), min(MOST_MULTIPLE * t, cap))


def spacing_multiple(stone: float, slump: float) -> float:
    """Most distance between joints as a multiple of the thickness, by stone size and slump, both in m.

    36 for a slump under 4 in; else 24 for stone under 3/4 in and 30 for larger.

    Source: `beall`, Fig. 2-15; `pca-floors-1983`.

    >>> spacing_multiple(0.5 * INCH, 5 * INCH), spacing_multiple(0.75 * INCH, 5 * INCH)
    (24.0, 30.0)
    """
    if not_negative("slump", slump, "m") < LOW_SLUMP * (1 - 1e-9):
        return MOST_MULTIPLE
    small = positive("stone size", stone, "m") < SMALL_STONE * (1 - 1e-9)
    return LEAST_MULTIPLE if small else PARKING_MULTIPLE


def spacing_by_mix(thickness: float, stone: float, slump: float) -> float:
    """Most distance between joints in m by stone size and slump, before any cap; all three in m.

    The published table prints it to whole feet.

    Source: `beall`, Fig. 2-15, for 4 to 6 in; `pca-floors-1983` for 7 to 10 in.

    >>> round(spacing_by_mix(4 * INCH, 0.75 * INCH, 5 * INCH) / FOOT, 3)
    10.0
    """
    t = within("slab thickness", thickness, 4 * INCH, 10 * INCH, "m")
    return spacing_multiple(stone, slump) * t


def parking_spacing(thickness: float) -> float:
    """Most distance between joints in m of plain parking by rule: 30 t, at most 15 ft.

    Source: `aci-330r-first`, sec. 2.7.

    >>> round(parking_spacing(5 * INCH) / FOOT, 3)
    12.5
    """
    return min(PARKING_MULTIPLE * _thickness(thickness), PARKING_CAP)


def parking_table_spacing(thickness: float) -> float:
    """Most distance between joints in m of plain parking by table: 10, 12.5, 15 ft at 4, 5, 6 in and over.

    Half sizes take the row below them.

    Source: `aci-330r-01`.

    >>> round(parking_table_spacing(5.5 * INCH) / FOOT, 3)
    12.5
    """
    return _tabled(_PARKING_TABLE, thickness)


def paving_profile_spacing(thickness: float) -> float:
    """Most distance between joints in m of light paving: 10, 12, 15 ft at 4, 5, 6 in and over.

    Source: `ready-mixed-paving-profile`.

    >>> round(paving_profile_spacing(5 * INCH) / FOOT, 3)
    12.0
    """
    return _tabled(_PAVING_PROFILE, thickness)


def flatwork_spacing(thickness: float) -> float:
    """Most distance between joints in m of residential flatwork: 8, 10, 12 ft at 3, 4, 5 in and over.

    Source: `ready-mixed-regional-guide`.

    >>> round(flatwork_spacing(3 * INCH) / FOOT, 3)
    8.0
    """
    return _tabled(_FLATWORK_GUIDE, thickness)


def saw_depth(thickness: float) -> float:
    """Least depth in m of a sawn or tooled joint: t/4.

    Source: `aci-330r-first`.

    >>> round(saw_depth(6 * INCH) / INCH, 3)
    1.5
    """
    return _thickness(thickness) / 4


def deep_saw_depth(thickness: float) -> float:
    """Upper end of the usual joint depth in m: t/3.

    Source: `navy-training`.

    >>> round(deep_saw_depth(6 * INCH) / INCH, 3)
    2.0
    """
    return _thickness(thickness) / 3


def early_entry_depth(thickness: float) -> float:
    """Depth in m of an early-entry cut: 1 in, for slabs up to 9 in.

    Source: `early-entry-paper`.

    >>> round(early_entry_depth(6 * INCH) / INCH, 3)
    1.0
    """
    within("slab thickness", thickness, 2 * INCH, 9 * INCH, "m")
    return INCH


def shrinkage_strain(shortening: float, length: float) -> float:
    """Shrinkage as a strain, from the shortening of a length, both in m.

    Source: `trade-article-cracking`.

    >>> round(shrinkage_strain(0.75 * INCH, 100 * FOOT), 6)
    0.000625
    """
    return not_negative("shortening", shortening, "m") / positive("length", length, "m along")


def shortening(length: float, strain: float = 0.000625) -> float:
    """Shortening in m of a slab of ``length`` m free to shrink; 3/4 in in 100 ft unless the strain is known.

    Source: `trade-article-cracking`.

    >>> round(shortening(24 * FOOT) / INCH, 2)
    0.18
    """
    return positive("length", length, "m along") * within("shrinkage strain", strain, 0.0, 0.002)


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


def _tabled(table: tuple[tuple[float, float], ...], thickness: float) -> float:
    inches = within("slab thickness", thickness, table[0][0] * INCH, 12 * INCH, "m") / INCH
    return max(feet for least, feet in table if inches >= least * (1 - 1e-9)) * FOOT
