"""Cut and fill at the pins, for the stake sheet."""

from __future__ import annotations

from slabwright.sheets.sheet import Column, Reading, Section, tabled
from slabwright.sheets.stake.staked import SCALES, Stakes, level, rod
from slabwright.text.words import words
from slabwright.units.quantity import length


def ground(found: Stakes) -> Section | None:
    """Cut and fill at the pins whose existing ground is known."""
    known = [pin for pin in found.pins if pin.cut is not None and pin.existing is not None]
    if not known:
        return None
    system = found.plan.system
    to = "subgrade" if any(pin.subgrade is not None for pin in known) else "slab underside"
    columns = (
        Column("pin", "pin", right=False),
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
                level(pin.existing, system),
                level(target, system),
                "on grade" if small else "CUT" if cut > 0 else "FILL",
                Reading(rod(abs(cut), system, 0).rpartition(" ")[0], size),
                Reading(rod(abs(cut), system, 1).removesuffix(" mm"), size),
            )
        )
    note = words(
        "C on a stake means cut, F fill; measured from the ground now to the {to}. {count} of {all} pins have ground "
        "shots around them.",
        to=to,
        count=len(known),
        all=len(found.pins),
    )
    return tabled("ground", "Cut and fill", columns, rows, [note], "Cut and fill")
