"""Heights of the pins, the rod readings wanted on them, and cut and fill, for the stake sheet."""

from __future__ import annotations

from slabwright.formulas import leveling
from slabwright.sheets.sheet import Cell, Column, Reading, Section, Table
from slabwright.sheets.stake.staked import LONGEST_ROD, SCALES, Stakes, level, rod
from slabwright.text.words import words
from slabwright.units.quantity import System, length


def rods(found: Stakes) -> list[Section]:
    """Finish height of every pin and, with a bench, the readings wanted on finish, base and subgrade."""
    plan, system = found.plan, found.plan.system
    with_layer = any(pin.subgrade is not None for pin in found.pins)
    columns = [Column("pin", "pin", right=False), Column("finish", f"finish {SCALES[system][0]}")]
    instrument = found.bench.instrument if found.bench is not None else None
    layers = (("finish", "top"), ("base", "base"), *((("subgrade", "sub"),) if with_layer else ()))
    if instrument is not None:
        columns += [
            Column(f"{key}_rod_{scale + 1}", f"{title} {SCALES[system][scale]}")
            for key, title in layers
            for scale in (0, 1)
        ]
    rows: list[tuple[Cell, ...]] = []
    out_of_sight: list[str] = []
    for pin in found.pins:
        row: list[Cell] = [pin.number, level(pin.finish, system)]
        if instrument is not None:
            for key, _ in layers:
                row += _wanted(getattr(pin, key), instrument, system)
            if pin.finish is not None and not 0 <= leveling.grade_rod(instrument, pin.finish) <= LONGEST_ROD:
                out_of_sight.append(str(pin.number))
        rows.append(tuple(row))
    notes = []
    if instrument is not None:
        notes.append(
            words("Top is the finish, base the underside of the concrete, sub the subgrade under the base layer.")
        )
    if out_of_sight:
        notes.append(
            words(
                "Out of sight from here, for the line of sight passes below them or too far above: {pins}. Set up "
                "higher or lower and start again from the bench.",
                pins=", ".join(out_of_sight[:12]) + (" and more" if len(out_of_sight) > 12 else ""),
            )
        )
    if instrument is not None and any(pin.thickness > plan.thickness.design * 1.001 for pin in found.pins):
        notes.append(words("Base and subgrade go deeper where the edge is thickened; the readings include it."))
    return [
        Section(
            "rods",
            "Heights and rod readings" if instrument is not None else "Heights",
            tables=(Table("rods", "", tuple(columns), tuple(rows)),),
            notes=tuple(notes),
            add=_missing(found, with_layer),
        )
    ]


def _missing(found: Stakes, with_layer: bool) -> tuple[str, ...]:
    metric = found.plan.system == "metric"
    add = []
    if found.plan.finish.missing:
        names = ", ".join(found.plan.finish.missing[:8])
        add.append(f"heights.finish: the finish height at {names}, such as {'30.000' if metric else '99.90'}")
    if not with_layer:
        add.append(f"site.base.thickness: such as {'100 mm' if metric else '4 in'}, for the subgrade")
    return tuple(add)


def _wanted(target: float | None, instrument: float, system: System) -> tuple[Cell, Cell]:
    """The reading wanted on a height, on both scales."""
    if target is None:
        return "", ""
    reading = leveling.grade_rod(instrument, target)
    if not 0 <= reading <= LONGEST_ROD:
        return "no sight", ""
    amount = length(reading)
    first, second = (rod(reading, system, scale) for scale in (0, 1))
    return Reading(first.rpartition(" ")[0], amount), Reading(second.removesuffix(" mm"), amount)


def ground(found: Stakes) -> list[Section]:
    """Cut and fill at the pins whose existing ground is known."""
    known = [pin for pin in found.pins if pin.cut is not None and pin.existing is not None]
    if not known:
        return []
    system = found.plan.system
    to = "subgrade" if any(pin.subgrade is not None for pin in known) else "slab underside"
    columns = (
        Column("pin", "pin", right=False),
        Column("what", "what", right=False),
        Column("existing", f"ground {SCALES[system][0]}"),
        Column("target", f"{to} {SCALES[system][0]}"),
        Column("do", "cut or fill", right=False),
        Column("by", SCALES[system][0]),
        Column("by_inches", "ft-in" if system == "us" else "mm"),
    )
    rows = []
    for pin in known:
        cut = pin.cut or 0.0
        target = pin.subgrade if pin.subgrade is not None else pin.base
        size = length(abs(cut))
        small = abs(cut) < 0.0015
        rows.append(
            (
                pin.number,
                pin.label,
                level(pin.existing, system),
                level(target, system),
                "on grade" if small else "CUT" if cut > 0 else "FILL",
                Reading(rod(abs(cut), system, 0).rpartition(" ")[0], size),
                Reading(rod(abs(cut), system, 1).removesuffix(" mm"), size),
            )
        )
    return [
        Section(
            "ground",
            "Cut and fill",
            tables=(Table("ground", "Cut and fill", columns, tuple(rows)),),
            notes=(
                words(
                    "C on a stake means cut, F fill; measured from the ground now to the {to}. {count} of {all} pins "
                    "have ground shots around them.",
                    to=to,
                    count=len(known),
                    all=len(found.pins),
                ),
            ),
        )
    ]
