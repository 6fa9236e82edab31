"""How thick a slab must come out, how thick its edges are, and what forms and level digs leave of it."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import OutOfRangeError, not_negative, positive
from slabwright.formulas.slopes import fall
from slabwright.formulas.units import FOOT, INCH

AVERAGE_TOLERANCE: Final = 0.375 * INCH  # m, `aci-117-10-quoted` sec. 4.5.4
SINGLE_TOLERANCE: Final = 0.75 * INCH  # m, `aci-117-10-quoted` sec. 4.5.4
PLACING_TOLERANCE: Final = 0.75 * INCH  # m, how far steel in a slab on ground may lie off, `aci-117-slab-steel`

# Dressed depth of form boards in inches; `lumber-sizes`.
BOARD_DEPTH_INCHES: Final[dict[str, float]] = {"2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}

EDGE_TAPER_ROAD: Final = 3 * FOOT  # m, `tm-5-822-5` ch. 15-16
EDGE_TAPER_FLOOR: Final = 5 * FOOT  # m, `tm-5-809-12`


def least_average(thickness: float) -> float:
    """Least average thickness in m of samples of a slab on ground ordered ``thickness`` m thick: t - 3/8 in.

    Source: `aci-117-10-quoted`, sec. 4.5.4.

    >>> round(least_average(4 * INCH) / INCH, 3)
    3.625
    """
    return positive("slab thickness", thickness, "m") - AVERAGE_TOLERANCE


def least_single(thickness: float) -> float:
    """Least thickness in m of any one sample of a slab on ground ordered ``thickness`` m thick: t - 3/4 in.

    There is no upper limit.

    Source: `aci-117-10-quoted`, sec. 4.5.4.

    >>> round(least_single(5 * INCH) / INCH, 3)
    4.25
    """
    return positive("slab thickness", thickness, "m") - SINGLE_TOLERANCE


def thickened_edge(thickness: float) -> float:
    """Depth in m of a thickened edge that vehicles cross: 1.25 t.

    Source: `tm-5-809-12`; `tm-5-822-5`.

    >>> round(thickened_edge(5 * INCH) / INCH, 3)
    6.25
    """
    return 1.25 * positive("slab thickness", thickness, "m")


def as_metric_work_prints(thickness: float) -> float:
    """A thickness of whole inches (in m) as metric works print it, 25 mm an inch; any other thickness is unchanged.

    Source: `ufgs-03300n`, par. 3.8.3, prints 4 in (100 mm) and 6 in (150 mm).

    >>> round(as_metric_work_prints(4 * INCH), 4), round(as_metric_work_prints(3.5 * INCH), 4)
    (0.1, 0.0889)
    """
    inches = positive("slab thickness", thickness, "m") / INCH
    return 0.025 * round(inches) if abs(inches - round(inches)) < 1e-6 else thickness


def least_board(thickness: float) -> str:
    """The shallowest tabled board that is as deep as ``thickness`` (m), or "" when even the deepest is not.

    Source: `lumber-sizes`.

    >>> least_board(4 * INCH), least_board(12 * INCH)
    ('2x6', '')
    """
    enough = positive("slab thickness", thickness, "m") / INCH - 1e-6
    return next((board for board, inches in BOARD_DEPTH_INCHES.items() if inches >= enough), "")


def board_depth(board: str) -> float:
    """Dressed depth in m of a form board by its nominal size.

    Source: `lumber-sizes`.

    >>> round(board_depth("2x4") / INCH, 3)
    3.5
    """
    if board not in BOARD_DEPTH_INCHES:
        raise OutOfRangeError(f"no depth is tabled for a {board} board: this holds for {', '.join(BOARD_DEPTH_INCHES)}")
    return BOARD_DEPTH_INCHES[board] * INCH


def short_of(asked: float, shown: float) -> float:
    """How much a depth ``shown`` falls short of the depth ``asked``, in the same unit; zero when it does not.

    Source: `geometry`.

    >>> short_of(5.0, 3.5)
    1.5
    """
    return max(0.0, asked - shown)


def low_edge_on_level_dig(high_edge: float, width: float, slope: float) -> float:
    """Thickness in m at the low edge of a slab with a sloped top on a level dig: high edge less the fall.

    ``high_edge`` and ``width`` in m, ``slope`` rise over run; the result is below zero where the top meets the dig.

    Source: `geometry`; `beall`, p. 299, describes the case.

    >>> round(low_edge_on_level_dig(5.5 * INCH, 12 * FOOT, 0.01) / INCH, 2)
    4.06
    """
    return positive("thickness at the high edge", high_edge, "m") - fall(width, not_negative("slope", slope, "slope"))


def mean_on_level_dig(high_edge: float, width: float, slope: float) -> float:
    """Mean thickness in m of a slab with a sloped top on a level dig: half of high plus low edge.

    Parameters as in :func:`low_edge_on_level_dig`.

    Source: `geometry`; `beall`, p. 299, describes the case.

    >>> round(mean_on_level_dig(5.5 * INCH, 12 * FOOT, 0.01) / INCH, 2)
    4.78
    """
    return (high_edge + low_edge_on_level_dig(high_edge, width, slope)) / 2
