"""How thick a slab comes out: as metric works print it, and as form boards leave it."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import OutOfRangeError, positive
from slabwright.formulas.units import INCH

PLACING_TOLERANCE: Final = 0.75 * INCH  # m, how far steel in a slab on ground may lie off, `aci-117-slab-steel`

# Dressed depth of form boards in inches; `lumber-sizes`.
BOARD_DEPTH_INCHES: Final[dict[str, float]] = {
    "2x3": 2.5,
    "2x4": 3.5,
    "2x6": 5.5,
    "2x8": 7.25,
    "2x10": 9.25,
    "2x12": 11.25,
}


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
