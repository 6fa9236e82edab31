"""Rows of the greatest falls, and of four corners that are to lie in a plane."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import nearest_on
from slabwright.plan.areas import Area
from slabwright.plan.routes import RouteStretch
from slabwright.plan.shape import ON_EDGE
from slabwright.proposals.heights.asking import Asking
from slabwright.proposals.heights.program import Row
from slabwright.units.quantity import Kind

BY_GARAGE = 20 * FOOT
STEEPEST = {
    "patio": "patio_at_most", "walk": "walk_at_most", "driveway": "driveway_at_most",
    "vehicle pad": "vehicle_pad_at_most", "garage floor": "garage_floor_at_most", "shop floor": "shop_floor_at_most",
    "equipment pad": "equipment_pad_at_most", "pool deck": "pool_deck_at_most",
}  # fmt: skip
IN_PLANE = "four corners in a plane"


def rows(asking: Asking) -> Iterator[Row]:
    """The greatest fall of each area, by a garage and along ways for people; then folds that lie in a plane."""
    for area in asking.plan.areas.all:
        yield from _steepest_in(asking, area)
    if asking.plan.areas.used("driveway"):
        yield from _by_garage(asking)
    yield from _route(asking)
    yield from _in_plane(asking)


def _steepest_in(asking: Asking, area: Area) -> Iterator[Row]:
    plan, use = asking.plan, area.use
    if use == "walk" and plan.design.site.accessible_route:
        return
    name = STEEPEST.get(area.called, STEEPEST[use])
    if use == "walk" and plan.design.site.right_of_way:
        name = "public_walk_at_most"
    most = asking.value("greatest-fall", name, math.inf)
    if math.isfinite(most):
        group = f"{asking.shown(most, Kind.SLOPE)} at most on the {area.called}"
        for facet in asking.facets():
            x, y = asking.on.surface.corners[facet].mean(axis=0).tolist()
            if not plan.areas.several or plan.areas.at((x, y)) is area:
                yield from asking.no_steeper(group, facet, most)


def _by_garage(asking: Asking) -> Iterator[Row]:
    most = asking.value("drive-grade-by-garage", "by_garage_at_most", math.inf)
    walls = [piece.line for piece in asking.plan.edges.pieces if piece.beside == "building"]
    if not math.isfinite(most) or not walls:
        return
    group = f"{asking.shown(most, Kind.SLOPE)} at most before the building"
    for facet in asking.facets():
        x, y = asking.on.surface.corners[facet].mean(axis=0).tolist()
        if min(nearest_on(line, (x, y))[0] for line in walls) < BY_GARAGE:
            yield from asking.no_steeper(group, facet, most)


def _route(asking: Asking) -> Iterator[Row]:
    plan, site = asking.plan, asking.plan.design.site
    if site.accessible_route:
        across = asking.value("accessible-route", "cross_at_most", math.inf)
        running = asking.value("accessible-route", "running_at_most", math.inf)
        for stretch in plan.routes.over(site.accessible_route):
            yield from _along(asking, stretch, "across the accessible way", across, True)
            yield from _along(asking, stretch, "along the accessible way", running, False)
    elif plan.areas.used("walk"):
        name = "public_cross_at_most" if site.right_of_way else "cross_at_most"
        across = asking.value("walk-cross-slope", name, math.inf)
        for stretch in plan.routes.along_sides:
            yield from _along(asking, stretch, "across the walk", across, True)


def _along(asking: Asking, stretch: RouteStretch, what: str, most: float, across: bool) -> Iterator[Row]:
    (ax, ay), (bx, by) = stretch.shape
    size = math.dist((ax, ay), (bx, by))
    if not math.isfinite(most) or size < ON_EDGE:
        return
    way = np.array([bx - ax, by - ay]) / size
    if across:
        way = np.array([-way[1], way[0]])
    for facet in stretch.facets:
        for sign in (1.0, -1.0):
            yield asking.falls(f"{asking.shown(most, Kind.SLOPE)} at most {what}", facet, sign * way, -most)


def _in_plane(asking: Asking) -> Iterator[Row]:
    """Both ways to fold a four-corner piece alike where its diagonals cross."""
    most = asking.value("four-corner-warp", "difference_at_most", math.inf)
    for fold in asking.plan.finish.folds if math.isfinite(most) else ():
        a, b, c, d = fold.corners
        found = [asking.place(corner) for corner in fold.corners]
        if asking.plan.joints.run_along(a, c) or asking.plan.joints.run_along(b, d) or None in found:
            continue
        shares = np.zeros(4)
        for first, last in ((0, 2), (1, 3)):
            size = math.dist(fold.corners[first], fold.corners[last])
            along = math.dist(fold.corners[first], fold.at) / size
            sign = 1.0 if first == 0 else -1.0
            shares[[first, last]] = sign * (1 - along), sign * along
        known = [one for one in found if one is not None]
        terms = np.sum([share * own for share, (own, _) in zip(shares, known, strict=True)], axis=0)
        rest = float(sum(share * own for share, (_, own) in zip(shares, known, strict=True)))
        yield Row(IN_PLANE, "asked", terms, -most - rest, sure=False)
        yield Row(IN_PLANE, "asked", -terms, -most + rest, sure=False)
