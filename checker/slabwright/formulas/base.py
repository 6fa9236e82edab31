"""Base and fill under a slab: how deep, how heavy, how much to order."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import LB_PER_FT3

USUAL_DENSITY: Final = 140 * LB_PER_FT3  # kg/m3 of compacted stone, `estimating-practice`: 135 to 145 lb/ft3
LOOSE_FACTORS: Final = (1.15, 1.30)  # loose over compacted stone, `estimating-practice`


def base_mass(area: float, thickness: float, density: float = USUAL_DENSITY) -> float:
    """Mass in kg of a base: ``area`` m2, compacted ``thickness`` m, ``density`` kg/m3 (100 to 160 lb/ft3).

    Source: `estimating-practice`.

    >>> from slabwright.formulas.units import FOOT2, INCH, TON
    >>> round(base_mass(400 * FOOT2, 4 * INCH) / TON, 2)
    9.33
    """
    rho = within("density", density, 100 * LB_PER_FT3, 160 * LB_PER_FT3, "kg/m3")
    return not_negative("area", area, "m2") * positive("base thickness", thickness, "m") * rho


def loose_base(compacted: float, factor: float) -> float:
    """Loose volume in m3 to order for a ``compacted`` volume (m3) of base: ``factor`` 1.15 to 1.30.

    Source: `estimating-practice`.

    >>> round(loose_base(4.94, 1.2), 2)
    5.93
    """
    return not_negative("volume", compacted, "m3") * within("loose factor", factor, *LOOSE_FACTORS)
