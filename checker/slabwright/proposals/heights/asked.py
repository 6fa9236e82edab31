"""What the rules in force on heights and water ask of the heights of a slab, as rows of a linear program.

The directions in which parts fall, and the ways water takes, are those of the surface that is looked at; the search
looks again at the surface that it finds. What the rows leave out the review finds, which judges every proposal.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from slabwright.geometry.xy import XY
from slabwright.proposals.heights import held_rows, slope_rows, water_rows
from slabwright.proposals.heights.asking import Asking
from slabwright.proposals.heights.program import Row
from slabwright.proposals.heights.ways_out import WaysOut


def rows(asking: Asking, ways: WaysOut, crossed: Collection[str] = (), crests: Sequence[XY] = ()) -> list[Row]:
    """All of them; a row without any point that could move is left out.

    ``crossed`` are edges that water came to in an earlier round, ``crests`` places where the crest before a street was
    lowest then.
    """
    found = [*held_rows.rows(asking, {*ways.wet, *crossed}), *slope_rows.rows(asking)]
    if asking.plan.outdoors:
        found += water_rows.rows(asking, ways, crests)
    return [row for row in found if np.abs(row.terms).max(initial=0.0) > 1e-9]
