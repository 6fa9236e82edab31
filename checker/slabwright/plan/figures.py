"""The worked plan's own figures as plain data, in SI units, ready for JSON and for sheets of quantities.

Every key ends in its unit (``_m``, ``_m2``, ``_m3``); slopes, shares and ratios have none. What the file does not
give is None, with the reason under ``not_worked``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from slabwright.plan.agreement import HeldRoom
from slabwright.plan.concrete import Depths
from slabwright.plan.finish import Facet
from slabwright.plan.panels import Panel
from slabwright.plan.plan import Plan
from slabwright.plan.water import Pond, WaterShare

Data = dict[str, Any]

LEVEL = 1e-9  # slope under which a facet counts as level


def worked(plan: Plan, room: Callable[[], Sequence[HeldRoom]] = tuple) -> Data:
    """All figures of the worked plan; a figure whose working fails is None, and the rest stand.

    ``room`` works out what is left at the heights that cannot move, by the limits in force.
    """
    figures: Data = {}
    not_worked: dict[str, str] = {}
    every: dict[str, Callable[[Plan], Any]] = {**_FIGURES, "height_room": lambda _: _rooms(room())}
    for name, work in every.items():
        try:
            figures[name] = work(plan)
        except Exception as error:
            figures[name], not_worked[name] = None, f"working it out failed: {type(error).__name__}: {error}"
        else:
            if figures[name] is None:
                not_worked[name] = _why_not(plan)
    return {**figures, "not_worked": not_worked}


def _why_not(plan: Plan) -> str:
    if plan.finish.missing:
        first, rest = plan.finish.missing[:8], len(plan.finish.missing) - 8
        return f"no finish height at {', '.join(first)}" + (f" and {rest} more" if rest > 0 else "")
    if plan.finish.surface is None:
        return "there is no finish surface"
    return "no base shots lie under the finish surface" if plan.design.heights.base else "the base is not shot"


def _panel(panel: Panel, thickness: float, volume: float) -> Data:
    return {
        "name": panel.name,
        "long_side_m": panel.long_side,
        "short_side_m": panel.short_side,
        "aspect": panel.aspect,
        "area_m2": panel.area,
        "thickness_m": thickness,
        "volume_m3": volume,
    }


def _fall(facets: Sequence[Facet]) -> Data | None:
    """The least and the greatest slope of the finish surface, and the middle of the facet that has it."""
    if not facets:
        return None
    least = min(facets, key=lambda facet: facet.slope)
    greatest = max(facets, key=lambda facet: facet.slope)
    return {
        "least": least.slope,
        "least_at_m": _middle(least),
        "greatest": greatest.slope,
        "greatest_at_m": _middle(greatest),
        "level_area_m2": sum(facet.area for facet in facets if facet.slope <= LEVEL),
    }


def _middle(facet: Facet) -> list[float]:
    return [sum(corner[axis] for corner in facet.corners) / 3 for axis in (0, 1)]


def _ponds(ponds: Sequence[Pond]) -> list[Data]:
    return [
        {
            "name": pond.name,
            "level_m": pond.level,
            "depth_m": pond.depth,
            "area_m2": pond.area,
            "volume_m3": pond.volume,
            "deepest_m": list(pond.deepest),
            "against": list(pond.against),
        }
        for pond in ponds
    ]


def _shares(shares: Sequence[WaterShare]) -> list[Data]:
    return [
        {"to": one.to, "kind": one.kind, "beside": one.beside, "share": one.share, "allowed": one.allowed}
        for one in shares
    ]


def _rooms(rooms: Sequence[HeldRoom]) -> list[Data]:
    """None where nothing ends it; below zero where it has to go the other way."""
    return [
        {"name": one.held.name, **{key: by if math.isfinite(by) else None for key, by in ways}}
        for one in rooms
        for ways in ((("up_m", one.up), ("down_m", one.down)),)
    ]


def _thickness(depths: Depths | None) -> Data | None:
    return (
        None
        if depths is None
        else {
            "least_m": depths.least,
            "least_at_m": list(depths.least_at),
            "mean_m": depths.mean,
            "most_m": depths.most,
            "most_at_m": list(depths.most_at),
            "covered": depths.covered,
            "shots": depths.shots,
        }
    )


_FIGURES: Mapping[str, Callable[[Plan], Any]] = {
    "area_m2": lambda plan: plan.shape.area,
    "perimeter_m": lambda plan: plan.shape.perimeter,
    "design_thickness_m": lambda plan: plan.thickness.design,
    "net_volume_m3": lambda plan: plan.concrete.quantities.net,
    "slab_volume_m3": lambda plan: plan.concrete.quantities.slab,
    "thickened_edges_volume_m3": lambda plan: plan.concrete.quantities.thickened_edges,
    "steps_volume_m3": lambda plan: plan.concrete.quantities.steps,
    "volume_from_heights": lambda plan: plan.concrete.quantities.from_surfaces,
    "panels": lambda plan: [_panel(*one) for one in zip(plan.panels.all, *plan.concrete.of_panels, strict=True)],
    "fall": lambda plan: _fall(plan.finish.facets),
    "ponds": lambda plan: _ponds(plan.water.ponds) if plan.finish.surface else None,
    "water_shares": lambda plan: _shares(plan.water.shares) if plan.finish.surface else None,
    "thickness": lambda plan: _thickness(plan.concrete.depths),
}
