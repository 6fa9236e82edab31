"""The key plan of a stake sheet, drawn by the drawing room from the pins and the strings."""

from __future__ import annotations

from slabwright.drawing import content
from slabwright.drawing.svg.key_plan import PARTS, KeyPlan, Mark, key_plan
from slabwright.geometry.xy import XY
from slabwright.sheets.stake.staked import Stakes


def picture(found: Stakes) -> KeyPlan:
    """Every pin by its number, the strings places are measured from, and the corners to square by their names."""
    lines = list(dict.fromkeys(pin.line for pin in found.pins if pin.reached)) or [found.line]
    ends: dict[XY, str] = {}
    for line in lines:
        ends |= {line.start: line.first, line.end: line.second}
    for one in found.rectangles:
        ends |= {at: name for at, name in zip(one.corners, one.names, strict=True) if name in one.marks}
    named = {pin.at: pin.name for pin in found.pins if pin.name and pin.what == "corner"}
    return key_plan(
        content.drawing(found.plan, PARTS),
        [Mark(str(pin.number), pin.at) for pin in found.pins],
        [Mark(name, at, bold=True) for at, name in {**named, **ends}.items()],
        [(line.start, line.end) for line in lines],
        found.plan.system,
    )
