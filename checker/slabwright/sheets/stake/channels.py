"""The channels in the slab, for the stake sheet: rim and bottom at each point of their line, and the readings there."""

from __future__ import annotations

from slabwright.plan.shape import point_name
from slabwright.sheets.sheet import Cell, Column, Section, tabled
from slabwright.sheets.stake.places import reading
from slabwright.sheets.stake.staked import SCALES, Stakes, level, rod_cell
from slabwright.text.words import words


def channels(found: Stakes) -> Section | None:
    """Rim and bottom of each channel, from end to end."""
    system = found.plan.system
    rows: list[tuple[Cell, ...]] = []
    for channel in found.plan.channels.all:
        for number, point in enumerate(channel.channel.along):
            name = f"{channel.name} {point_name(point)}" + (", outlet" if number in channel.outlets else "")
            heights = channel.rims[number], channel.inverts[number] if channel.inverts else None
            rods = [rod_cell(reading(found, one), system) for one in heights]
            rows.append((name, level(heights[0], system), rods[0], level(heights[1], system), rods[1]))
    if not rows:
        return None
    columns = [
        Column("point", "point", right=False),
        Column("rim", f"rim {SCALES[system][0]}"),
        Column("rim_rod", f"rod {SCALES[system][0]}"),
        Column("bottom", f"bottom {SCALES[system][0]}"),
        Column("bottom_rod", f"rod {SCALES[system][0]}"),
    ]
    if found.bench is None:
        keep = (0, 1, 3)
        columns, rows = [columns[k] for k in keep], [tuple(row[k] for k in keep) for row in rows]
    note = words("Set the bottom first, falling to the outlet; the rim flush with the finish or a hair below.")
    return tabled("channels", "Channels", columns, rows, [note])
