"""Heights from rod readings: height of instrument, points, cuts and fills, loops, feet and inches."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor
from typing import Final

from slabwright.formulas import not_negative, positive
from slabwright.formulas.units import FOOT, INCH

BENCHMARK_REREAD: Final = 0.02 * FOOT  # m, `makers-accuracy`


def instrument_height(benchmark: float, backsight: float) -> float:
    """Height of instrument in m: benchmark height plus the rod reading on it.

    Source: `surveying-notes`.

    >>> round(instrument_height(520.50, 4.25), 2)
    524.75
    """
    return benchmark + not_negative("rod reading", backsight, "m along")


def point_height(instrument: float, foresight: float) -> float:
    """Height of a point in m: height of instrument less the rod reading on it; the lower reading is the higher ground.

    Source: `surveying-notes`; `university-levelling`.

    >>> round(point_height(524.75, 6.80), 2)
    517.95
    """
    return instrument - not_negative("rod reading", foresight, "m along")


def height_between(rod: float, other_rod: float) -> float:
    """How much higher the second point stands than the first, in m, from rod readings at one instrument height.

    Source: `army-en0593a`.

    >>> round(height_between(1.540, 1.309), 3)
    0.231
    """
    return not_negative("rod reading", rod, "m along") - not_negative("rod reading", other_rod, "m along")


def grade_rod(instrument: float, planned: float) -> float:
    """Rod reading in m wanted on a planned height: height of instrument less planned height.

    Source: `tr-62`.

    >>> round(grade_rod(111.00, 107.85), 2)
    3.15
    """
    return instrument - planned


def cut(grade_rod: float, rod_on_ground: float) -> float:
    """Cut (+) or fill (-) in m at a stake: grade rod less the rod on the ground.

    Source: `tr-62`.

    >>> round(cut(3.15, 2.40), 2)
    0.75
    """
    return grade_rod - not_negative("rod reading", rod_on_ground, "m along")


def loop_error(backsights: Sequence[float], foresights: Sequence[float], first: float, last: float) -> float:
    """Error of a run of levels in m: backsights less foresights, less the known rise from first to last.

    Zero in a run without slips; in a closed loop ``first`` equals ``last``.

    Source: `geometry`.

    >>> round(loop_error([4.25, 5.10], [6.80, 2.55], 100.0, 100.0), 6)
    0.0
    """
    return sum(backsights) - sum(foresights) - (last - first)


def rounded(length: float, step: float = INCH / 8) -> float:
    """A length in m to the nearest ``step`` (1/8 in): how heights are set out on a tape; halves go up.

    Source: `geometry`.

    >>> round(rounded(0.1 * FOOT) / INCH, 3)
    1.25
    """
    return floor(length / positive("step", step, "m") + 0.5 + 1e-9) * step


def feet_and_rest(length: float) -> tuple[int, float]:
    """Whole feet of a length, and the rest in m: decimal feet are no inches, 8.3 ft is 8 ft 3.6 in.

    Source: `geometry`.

    >>> feet, rest = feet_and_rest(8.3 * FOOT)
    >>> feet, round(rest / INCH, 3)
    (8, 3.6)
    """
    feet = floor(not_negative("length", length, "m along") / FOOT + 1e-9)
    return feet, max(0.0, length - feet * FOOT)
