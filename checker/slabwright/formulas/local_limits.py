"""Limits on heights, setbacks and grades that one published text or one town sets, as tables."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import not_negative, positive
from slabwright.formulas.units import FOOT, INCH

UPRIGHT_LIP: Final = 0.25 * INCH  # m, `ada-1991`
BEVELLED_LIP: Final = 0.5 * INCH  # m, `ada-1991`
ACCESS_CROSS_SLOPE: Final = 1 / 48  # `ada-2010`
DRAIN_SLOPE: Final = 0.25 / 12  # `aci-302.1r-04`: the same number as the access limit
LANDING_SLOPE: Final = 0.02  # `irc-r311.3`

SIDE_SETBACK: Final = 5 * FOOT  # m, `rosemount-mn`
STREET_SIDE_SETBACK: Final = 15 * FOOT  # m, `rosemount-mn`

_NEAR_GARAGE = 20 * FOOT  # m, `san-bernardino-15.04.230`
_SHORT_DRIVE = 30 * FOOT  # m, `san-bernardino-15.04.230`


def lip_allowed(height: float, bevelled: bool) -> bool:
    """Whether a change in level of ``height`` m passes on an accessible route: 1/4 in upright, 1/2 in bevelled 1:2.

    Source: `ada-1991`, 4.5.2; `aba-303.3`.

    >>> lip_allowed(0.375 * INCH, bevelled=False), lip_allowed(0.375 * INCH, bevelled=True)
    (False, True)
    """
    return not_negative("lip", height, "m") <= (BEVELLED_LIP if bevelled else UPRIGHT_LIP) * (1 + 1e-6)


def patio_setback(street_side: bool) -> float:
    """Least distance in m from a patio to the lot line in one city: 5 ft at side and rear, 15 ft at a street side.

    Source: `rosemount-mn`.

    >>> round(patio_setback(street_side=True) / FOOT, 3)
    15.0
    """
    return STREET_SIDE_SETBACK if street_side else SIDE_SETBACK


def drive_grade(length: float, from_garage: float) -> float:
    """Most grade of a drive ``length`` m long at ``from_garage`` m from the garage, in one city.

    20 %; within 20 ft of the garage 5 %, or 8 % where the drive is 30 ft or less.

    Source: `san-bernardino-15.04.230`.

    >>> drive_grade(35 * FOOT, 10 * FOOT), drive_grade(25 * FOOT, 10 * FOOT), drive_grade(35 * FOOT, 30 * FOOT)
    (0.05, 0.08, 0.2)
    """
    short = positive("length of the drive", length, "m along") <= _SHORT_DRIVE * (1 + 1e-9)
    if not_negative("distance from the garage", from_garage, "m along") > _NEAR_GARAGE * (1 + 1e-9):
        return 0.20
    return 0.08 if short else 0.05
