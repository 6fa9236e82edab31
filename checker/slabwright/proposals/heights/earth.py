"""What new heights take of digging and filling, by the prices of the file if they are there."""

from __future__ import annotations

from typing import NamedTuple

from slabwright.formulas import hauling
from slabwright.geometry.surface.cut_fill import above
from slabwright.plan.plan import Plan
from slabwright.proposals.heights.job import Job

DIG_DEARER = 1.5  # a cubic meter dug and hauled against one of base brought and rolled (common practice)


class Earth(NamedTuple):
    """What heights take of digging and filling, m3 in the bank: under the ground as it lies, or against those drawn."""

    from_ground: bool
    dug: float
    filled: float
    trips: int | None  # with the truck of the file; None while it, or the soil, is not known
    own_fall: float  # what the fall along a new valley takes by itself, on level ground: half its drop all over
    weighed: float  # digging dearer than filling


def earth_of(job: Job, plan: Plan) -> Earth:
    """Digging and filling for the heights of a plan."""
    new, existing, drawn = plan.finish.surface, plan.site.existing_surface, job.plan.finish.surface
    dug = filled = 0.0
    base = plan.design.site.base
    below = plan.thickness.design + (base.thickness.si if base and base.thickness else 0.0)
    if new is not None and existing is not None:
        dug, filled = above(existing, new, -below).volume, above(new, existing, below).volume
    elif new is not None and drawn is not None:
        dug, filled = above(drawn, new, 0.0).volume, above(new, drawn, 0.0).volume
    soil, dig = plan.design.site.soil, plan.design.dig
    trips = None
    if soil and soil.swell and soil.bank_weight and dig and dig.box and dig.payload:
        trips = hauling.trips(dug, soil.swell.si, soil.bank_weight.si, dig.box.si, dig.payload.si)
    own = 0.0
    for line in plan.design.heights.lines:
        ends = [plan.finish.at((point.x, point.y)) for point in (line.along[0], line.along[-1])]
        if job.added and line.kind == "valley" and ends[0] is not None and ends[1] is not None:
            own = abs(ends[0] - ends[1]) / 2 * plan.shape.area
    return Earth(existing is not None, dug, filled, trips, own, dug * dig_over_fill(plan) + filled)


def dig_over_fill(plan: Plan) -> float:
    """What a cubic meter dug costs against one filled; by the prices of the file where both are there."""
    prices, site = plan.design.prices, plan.design.site
    tip = prices.tip if prices else None
    placing = prices.base_placing if prices else None
    weight = site.soil.bank_weight if site.soil else None
    if tip is None or placing is None or weight is None:
        return DIG_DEARER
    dug, filled = tip.value / tip.size * weight.si, placing.value / placing.size
    return min(max(dug / filled, 0.2), 5.0) if filled > 0 else DIG_DEARER
