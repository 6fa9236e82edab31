"""Heights from rod readings: height of instrument, and the rod wanted on a planned height."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import not_negative
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
