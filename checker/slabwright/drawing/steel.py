"""The reinforcement of a drawing, as laid, in meters."""

from __future__ import annotations

import math
from typing import Any

import shapely

from slabwright.plan.plan import Plan
from slabwright.units.quantity import Amount

Data = dict[str, Any]


def _si(amount: Amount | None) -> float | None:
    return None if amount is None else amount.si


def steel(plan: Plan) -> Data | None:
    """Reinforcement as laid; None where the file says nothing about it."""
    given = plan.design.reinforcement
    if given is None:
        return None
    found: Data = {"none": given.none, "bars": None, "mesh": None, "fiber": None, "corner_bars": []}
    if given.bars:
        found["bars"] = {
            "size": given.bars.size.name,
            "diameter_m": given.bars.size.diameter,
            "spacing_m": given.bars.spacing.si,
            "top_cover_m": _si(given.bars.top_cover),
            "held_by": given.bars.held_by,
            "at_joints": given.bars.at_joints,
        }
    if given.mesh:
        found["mesh"] = {
            "size": given.mesh.style,
            "diameter_m": given.mesh.wire_diameter,
            "spacing_m": given.mesh.wire_spacing,
            "top_cover_m": _si(given.mesh.top_cover),
            "held_by": given.mesh.held_by,
            "at_joints": given.mesh.at_joints,
        }
    if given.fiber:
        found["fiber"] = {"kind": given.fiber.kind, "dose_kg_m3": given.fiber.dose.si}
    for bars in given.corner_bars:
        for point in bars.at:
            one = {"at": [point.x, point.y], "size": bars.size.name, "length_m": bars.length.si, "count": bars.count}
            found["corner_bars"].append({**one, "across_deg": _across(plan, (point.x, point.y))})
    return found


def _across(plan: Plan, at: tuple[float, float]) -> float:
    """The direction of a bar that crosses the crack running in from a corner, degrees from x."""
    spot = shapely.Point(at)
    around = shapely.intersection(spot.buffer(0.15), plan.shape.slab)
    middle = around.centroid
    into = math.atan2(middle.y - at[1], middle.x - at[0])
    return (math.degrees(into) + 90) % 180
