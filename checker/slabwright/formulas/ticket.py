"""The truck's ticket: slump as measured against slump as ordered, water that may be added, time to discharge, saws."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import HOUR, INCH

DISCHARGE_WITHIN: Final = 1.5 * HOUR  # s from batching, or 300 revolutions, `astm-c94-discharge`
SLUMP_PER_GALLON: Final = 1 * INCH  # m for a gallon in each yard, `trade-qa-water`
SAW_WINDOW: Final = (4 * HOUR, 12 * HOUR)  # s after finishing, conventional saw, `aci-saw-window`
EARLY_SAW_WINDOW: Final = (1 * HOUR, 6 * HOUR)  # s, 1 h hot to 4 h cold and 2 to 6 h, `aci-saw-window`


def slump_tolerance(slump: float) -> float:
    """How far, in m, a slump ordered as a nominal value (m) may be off: 1/2 in to 2 in, 1 in to 4 in, 1-1/2 in above.

    Source: `astm-c94`, sec. 7.

    >>> [round(slump_tolerance(s * INCH) / INCH, 2) for s in (2, 4, 5)]
    [0.5, 1.0, 1.5]
    """
    ordered = within("slump", slump, 0.0, 12 * INCH, "m")
    if ordered <= 2 * INCH * (1 + 1e-9):
        return 0.5 * INCH
    return 1.0 * INCH if ordered <= 4 * INCH * (1 + 1e-9) else 1.5 * INCH


def water_room(water: float, ordered: float, limit: float) -> float:
    """Water in kg/m3 that takes a mix from its ratio of water to cement up to a limit; zero when it is there already.

    ``water`` is the mixing water in kg/m3 that the ``ordered`` ratio was made with, so that the cement is water over
    ratio; the room is cement times the difference of the two ratios.

    Source: `geometry`; 0.0148 a gallon at 564 lb of cement in a yard.

    >>> from slabwright.formulas.mix import WATER_PER_GALLON
    >>> from slabwright.formulas.units import POUND, YARD3
    >>> cement = 564 * POUND / YARD3
    >>> round(water_room(0.45 * cement, 0.45, 0.4648) * YARD3 / WATER_PER_GALLON, 2)
    1.0
    """
    cement = not_negative("mixing water", water, "kg/m3") / positive("water over cement", ordered)
    return max(0.0, cement * (positive("limit of water over cement", limit) - ordered))
