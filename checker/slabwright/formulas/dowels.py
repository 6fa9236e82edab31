"""Dowels across joints: the airfield table."""

from __future__ import annotations

from typing import Final, NamedTuple

from slabwright.formulas import within
from slabwright.formulas.units import INCH


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
