"""The steps poured with the slab, for the stake sheet: how high the front of each tread stands, and its rod reading."""

from __future__ import annotations

from itertools import accumulate

from slabwright.sheets.sheet import Cell, Column, Section, tabled
from slabwright.sheets.stake.places import reading
from slabwright.sheets.stake.staked import SCALES, Stakes, level, rod_cell, tape
from slabwright.text.words import words


def steps(found: Stakes) -> Section | None:
    """Each tread by its rise over the slab at the foot; its height and its reading where that is known."""
    plan, system = found.plan, found.plan.system
    rows: list[tuple[Cell, ...]] = []
    for flight in plan.flights.all:
        foot, landings = flight.foot, {landing.after for landing in flight.steps.landings}
        for number, (riser, up) in enumerate(zip(flight.poured, accumulate(flight.poured), strict=True), 1):
            top = None if foot is None else foot + up
            wanted = reading(found, top)
            rods: list[Cell] = [rod_cell(wanted, system)]
            name = f"{flight.name} {number}" + (", landing" if number in landings else "")
            rows.append((name, tape(riser, system), tape(up, system), level(top, system), *rods))
    if not rows:
        return None
    columns = [
        Column("tread", "tread", right=False),
        Column("riser", "riser"),
        Column("up", "over the foot"),
        Column("height", f"front {SCALES[system][0]}"),
        Column("rod", f"rod {SCALES[system][0]}"),
    ]
    if found.bench is None:
        columns, rows = columns[:-1], [row[:-1] for row in rows]
    note = words("From the foot up, each tread at its front edge; a tread that drains falls towards it.")
    return tabled("steps", "Steps", columns, rows, [note])
