"""The ground under the slab before digging, and what lies round the slab, measured on the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import shapely

from slabwright.design.point import Point
from slabwright.geometry.shape.reach import farthest_from
from slabwright.geometry.surface import thickness as thickness_geometry
from slabwright.plan.finish import scattered
from slabwright.plan.things import XY, BaseStep, Ground

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan


def ground(plan: Plan) -> Ground | None:
    """Existing ground less the bottom of the base, or None while either is not known.

    The bottom of the base lies its thickness under the shots on it, or under the slab as drawn.
    """
    existing, base = scattered(plan, plan.design.heights.existing), plan.design.site.base
    if existing is None:
        return None
    top, down = plan.base_surface, base.thickness.si if base and base.thickness else 0.0
    if top is None:
        top, down = plan.surface, down + plan.thickness
    if top is None:
        return None
    bottom = replace(top, z=top.z - down)
    found = thickness_geometry.between(existing, bottom, [panel.polygon for panel in plan.layout.panels])
    if not found.covered_area > 0:
        return None
    fills, cuts = np.maximum(-found.zone_least, 0.0), np.maximum(found.zone_most, 0.0)
    return Ground(
        fill=max(0.0, -found.least),
        fill_at=found.least_at,
        cut=max(0.0, found.most),
        cut_at=found.most_at,
        covered=found.covered_area / plan.area,
        panel_fills=tuple(fills.tolist()),
        panel_cuts=tuple(cuts.tolist()),
    )


def base_steps(plan: Plan, within: float) -> tuple[BaseStep, ...]:
    """Every two base shots at most ``within`` m apart, with the change of depth between them.

    Where the finish is known at both, the slab may follow the base and nothing changes; elsewhere the base alone tells.
    """
    shots = plan.design.heights.base
    if len(shots) < 2:
        return ()
    xy = np.array([(shot.at.x, shot.at.y) for shot in shots])
    base = np.array([shot.height.si for shot in shots])
    finish = plan.surface.height(xy) if plan.surface else np.full(len(xy), np.nan)
    points = shapely.points(xy)
    one, two = shapely.STRtree(points).query(points, predicate="dwithin", distance=within + 1e-9)
    one, two = one[one < two], two[one < two]
    rise = base[one] - base[two]
    slab = finish[one] - finish[two]
    change = rise - np.where(np.isnan(slab), 0.0, slab)  # the slab is thinner at the first where this is above zero
    high, low = np.where(change >= 0, one, two), np.where(change >= 0, two, one)
    run = np.hypot(*(xy[one] - xy[two]).T)
    return tuple(
        BaseStep((float(xy[h, 0]), float(xy[h, 1])), (float(xy[k, 0]), float(xy[k, 1])), float(base[h]), abs(c), r)
        for h, k, c, r in zip(high.tolist(), low.tolist(), change.tolist(), run.tolist(), strict=True)
    )


def _line(points: Sequence[Point]) -> shapely.Geometry:
    """A point, or a line through points."""
    xy = [(point.x, point.y) for point in points]
    return shapely.Point(xy[0]) if len(xy) == 1 else shapely.LineString(xy)


def under(plan: Plan, points: Sequence[Point]) -> float:
    """Length of a line that the slab covers, m."""
    return float(shapely.intersection(_line(points), plan.slab).length)


def along_edge(plan: Plan, points: Sequence[Point], within: float) -> float:
    """Share of a line that runs within ``within`` m of the outline; where it only ends there, that is little."""
    line = _line(points)
    near = plan.ring.polygon.exterior.buffer(within)
    return float(shapely.intersection(line, near).length / line.length) if line.length > 0 else 0.0


def away(plan: Plan, points: Sequence[Point]) -> float:
    """Distance from the slab to a point or a line, m; 0 where they touch."""
    return float(shapely.distance(_line(points), plan.slab))


def over(plan: Plan, points: Sequence[Point]) -> float:
    """How far the slab reaches over a line, on the side where less of it lies, m; 0 where it does not cross it.

    A line that ends under the slab is carried on to its far side.
    """
    from shapely.ops import split

    line = _line(points)
    if not shapely.intersection(line, plan.slab).length > 1e-6:
        return 0.0
    xy, reach = shapely.get_coordinates(line), float(np.hypot(*np.ptp(shapely.get_coordinates(plan.slab), axis=0)))
    for end, before in ((0, 1), (-1, -2)):
        out = xy[end] - xy[before]
        if shapely.intersects_xy(plan.slab, *xy[end]) and np.hypot(*out) > 0:
            xy[end] = xy[end] + out / np.hypot(*out) * 2 * reach
    carried = shapely.LineString(xy)
    beyond = sorted(split(plan.slab, carried).geoms, key=lambda part: -part.area)[1:]
    corners = [shapely.get_coordinates(part) for part in beyond]
    return float(shapely.distance(carried, shapely.points(np.concatenate(corners))).max()) if corners else 0.0


def farthest(plan: Plan, spots: Sequence[Point]) -> tuple[float, XY]:
    """The place of the slab that is farthest from the nearest of ``spots``: distance, m, and where."""
    return farthest_from(plan.slab, [(spot.x, spot.y) for spot in spots])


def apart(path: Sequence[Point], corners: Sequence[Point]) -> float:
    """Distance from a path to a place with corners, m; 0 where the path crosses it."""
    ring = shapely.Polygon([(corner.x, corner.y) for corner in corners])
    return float(shapely.distance(_line(path), ring))


def crosses(plan: Plan, points: Sequence[Point]) -> tuple[str, ...]:
    """Names of the panels that a line runs under."""
    line = _line(points)
    return tuple(
        f"P{number}"
        for number, panel in enumerate(plan.layout.panels, 1)
        if shapely.intersection(line, panel.polygon).length > 1e-6
    )
