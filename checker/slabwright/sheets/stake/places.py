"""Places and heights with their rod readings, for the stake sheet: pins, channels in the slab, steps poured with it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from slabwright.formulas import layout
from slabwright.plan.shape import point_name
from slabwright.sheets.sheet import Cell, Column, Reading, Section, Table, tabled
from slabwright.sheets.stake.lines import Line
from slabwright.sheets.stake.pins import Pin
from slabwright.sheets.stake.staked import LONGEST_ROD, SCALES, Stakes, level, rod, rod_cell, tape
from slabwright.text.words import Words, words
from slabwright.units.quantity import length

_LAYERS = (("finish", "top"), ("base", "base"), ("subgrade", "sub"))
NO_WAY = "no clear string"


def places(found: Stakes) -> Section:
    """Every pin by its place along and off a string, the tapes that check it, its height and its rod readings."""
    groups: dict[Line, list[Pin]] = {found.line: []}
    for pin in found.pins:
        groups.setdefault(pin.line, []).append(pin)
    tables = [
        _table(found, line, pins, number) for number, (line, pins) in enumerate(groups.items(), 1) if pins
    ]  # fmt: skip
    return Section(
        "places", "Where the pins go", tables=tuple(tables), notes=tuple(_notes(found, groups)), add=_missing(found)
    )


def _table(found: Stakes, line: Line, pins: Sequence[Pin], number: int) -> Table:
    system = found.plan.system
    columns = [
        Column("pin", "pin", right=False),
        Column("what", "what", right=False),
        Column("along", f"along {line.first}-{line.second}"),
        Column("off", "off it"),
        Column("from_first", f"from {line.first}", under="along"),
        Column("from_second", f"from {line.second}", under="off"),
        Column("finish", f"finish {SCALES[system][0]}", under="what" if found.bench else ""),
    ]
    layers = [layer for layer in _LAYERS if layer[0] != "subgrade" or _with_layer(found)] if found.bench else []
    for key, title in layers:
        columns.append(Column(f"{key}_rod_1", f"{title} {SCALES[system][0]}"))
        if system == "us":  # millimeters are read off a rod in meters; feet and inches are not off one in tenths
            columns.append(Column(f"{key}_rod_2", f"{title} {SCALES[system][1]}", under=f"{key}_rod_1"))
    rows = [_row(found, pin, [key for key, _ in layers]) for pin in pins]
    title = "Where the pins go" if number == 1 else f"Measured from {line.first}-{line.second}"
    return Table("pins" if number == 1 else f"pins_{number}", title, tuple(columns), tuple(rows))


def _row(found: Stakes, pin: Pin, layers: Sequence[str]) -> tuple[Cell, ...]:
    system = found.plan.system
    along, off = (tape(pin.along, system), tape(pin.off, system)) if pin.reached else (NO_WAY, "")
    tapes = [("in the way" if one is None else tape(one, system)) if pin.reached else "" for one in pin.tapes]
    row: list[Cell] = [pin.number, pin.label, along, off, *tapes, level(pin.finish, system)]
    for key in layers:
        row += _wanted(found, getattr(pin, key))
    return tuple(row)


def reading(found: Stakes, target: float | None) -> float | None:
    """The reading wanted on a height, m; None without a bench, a height, or a sight from this set-up."""
    if found.bench is None or target is None:
        return None
    wanted = layout.grade_rod(found.bench.instrument, target)
    return wanted if 0 <= wanted <= LONGEST_ROD else None


def _wanted(found: Stakes, target: float | None) -> list[Cell]:
    """The reading wanted on a height, on the scales of the rod."""
    scales = 2 if found.plan.system == "us" else 1
    wanted = reading(found, target)
    if wanted is None:
        told: list[Cell] = ["" if target is None else "no sight", ""]
        return told[:scales]
    texts = [rod(wanted, found.plan.system, scale) for scale in range(scales)]
    return [Reading(text.removesuffix(" ft").removesuffix(" m"), length(wanted)) for text in texts]


def _with_layer(found: Stakes) -> bool:
    return any(pin.subgrade is not None for pin in found.pins)


def _notes(found: Stakes, groups: dict[Line, list[Pin]]) -> list[Words]:
    line = found.line
    notes = [
        words(
            "Measured along a string from {first} to {second}, and square off it to the left (a minus: to the "
            "right). The tapes from {first} and from {second} check it: they are the diagonals.",
            first=line.first,
            second=line.second,
        )
    ]
    if sum(1 for pins in groups.values() if pins) > 1:
        notes.append(
            words("A building stands between {line} and the other pins: each table names the string it is taped from.",
                  line=f"{line.first}-{line.second}")
        )  # fmt: skip
    if any(pin.reached and None in pin.tapes for pin in found.pins):
        notes.append(words("In the way: that tape would go through a building, so string and square alone give it."))
    if lost := [pin for pin in found.pins if not pin.reached]:
        notes.append(
            words("No string reaches {pins} past the building: set out from the pins beside it, by the key plan.",
                  pins=_listed(lost))
        )  # fmt: skip
    notes.append(
        words(
            "For a {screed} screed, pins at most {apart} apart, so that it laps both (common practice).",
            screed=length(found.screed),
            apart=length(found.spacing),
        )
    )
    if found.bench is None:
        return notes
    notes.append(words("Top is the finish, base the underside of the concrete, sub the subgrade under the base layer."))
    hidden = [pin for pin in found.pins if pin.finish is not None and reading(found, pin.finish) is None]
    if hidden:
        notes.append(
            words(
                "Out of sight from here, for the line of sight passes below them or too far above: {pins}. Set up "
                "higher or lower and start again from the bench.",
                pins=_listed(hidden),
            )
        )
    if len(found.plan.areas.thicknesses) > 1:
        notes.append(words("Base and subgrade follow the thickness of each part; where it changes at once, that of the "
                           "thicker side stands."))  # fmt: skip
    elif any(pin.thickness > found.plan.thickness.design * 1.001 for pin in found.pins):
        notes.append(words("Base and subgrade go deeper where the edge is thickened; the readings include it."))
    return notes


def _listed(pins: Sequence[Pin]) -> str:
    named = ", ".join(str(pin.number) for pin in pins[:12])
    return f"{named} and {len(pins) - 12} more" if len(pins) > 12 else named


def _missing(found: Stakes) -> tuple[str, ...]:
    metric = found.plan.system == "metric"
    add = []
    if found.plan.finish.missing:
        names = ", ".join(found.plan.finish.missing[:8])
        add.append(f"heights.finish: the finish height at {names}, such as {'30.000' if metric else '99.90'}")
    if not _with_layer(found):
        add.append(f"site.base.thickness: such as {'100 mm' if metric else '4 in'}, for the subgrade")
    return tuple(add)


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
