"""Where to stop when concrete runs short: every joint that parts the slab, and how much is placed by then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from slabwright.plan.plan import Plan
from slabwright.plan.things import XY, PlannedJoint
from slabwright.sheets.stake.pins import corner_names

_IN_LINE = 0.05  # m: joints this near to one line are one
_WHOLE = 0.05  # m: a line that leaves less of itself uncut than this parts the slab


@dataclass(frozen=True, slots=True)
class Stop:
    """A line of joints that parts the slab: how much (m3) lies before it, seen from where placing starts."""

    joints: tuple[str, ...]
    placed: float
    left: float
    line: tuple[XY, XY]


@dataclass(frozen=True, slots=True)
class Stops:
    """All stops, by the volume placed; ``start`` names the corner that placing is taken to start at, and why."""

    start: str
    reason: str
    stops: tuple[Stop, ...]

    def last_before(self, volume: float) -> Stop | None:
        """The furthest line of joints that ``volume`` m3 reaches."""
        reached = [stop for stop in self.stops if stop.placed <= volume * (1 + 1e-9)]
        return reached[-1] if reached else None


def stops(plan: Plan) -> Stops:
    """Joint lines across the whole slab in one direction: the one with most of them, else the one that parts best."""
    corner, name, reason = _start(plan)
    found: dict[float, list[Stop]] = {}
    lines = _lines(plan)
    inner = plan.shape.slab.buffer(-_IN_LINE / 2)  # a line along an edge parts nothing
    spots = [panel.polygon.representative_point() for panel in plan.panels.all] if lines else []
    middles = shapely.get_coordinates(spots)
    for direction, joints in lines:
        stop = _parted(plan, inner, middles, joints, corner)
        if stop is not None:
            found.setdefault(direction, []).append(stop)
    if not found:
        return Stops(name, reason, ())
    best = max(found.values(), key=lambda group: (len(group), -min(abs(s.placed - s.left) for s in group)))
    return Stops(name, reason, tuple(sorted(best, key=lambda stop: stop.placed)))


def _start(plan: Plan) -> tuple[np.ndarray, str, str]:
    """The corner furthest from the street, where the truck stands; without a street, the first corner."""
    names = corner_names(plan)
    corners = np.array(list(names))
    streets = [shapely.LineString(piece.line) for piece in plan.edges.pieces if piece.beside == "street"]
    if not streets:
        return corners[0], next(iter(names.values())), "no edge is a street, so this is the first corner of the outline"
    away = shapely.distance(shapely.union_all(streets), shapely.points(corners))
    furthest = int(np.argmax(np.round(away, 3)))
    return corners[furthest], list(names.values())[furthest], "furthest from the street"


def _lines(plan: Plan) -> list[tuple[float, list[PlannedJoint]]]:
    """Straight joints that count, gathered by the line they lie on, each with its direction in degrees."""
    groups: list[tuple[float, np.ndarray, np.ndarray, list[PlannedJoint]]] = []
    for joint in plan.joints.all:
        if not joint.counts or len(joint.line) < 2:
            continue
        a, b = np.array(joint.line[0]), np.array(joint.line[-1])
        along = (b - a) / max(float(np.hypot(*(b - a))), 1e-9)
        if shapely.LineString(joint.line).length > float(np.hypot(*(b - a))) + _IN_LINE:
            continue  # not straight
        for _, start, unit, members in groups:
            if all(abs(_cross(unit, end - start)) < _IN_LINE for end in (a, b)):
                members.append(joint)
                break
        else:
            direction = round(float(np.degrees(np.arctan2(along[1], along[0]))) % 180, 0) % 180
            groups.append((direction, a, along, [joint]))
    return [(direction, members) for direction, _, _, members in groups]


def _cross(one: np.ndarray, other: np.ndarray) -> float:
    return float(one[0] * other[1] - one[1] * other[0])


def _parted(
    plan: Plan, inner: shapely.Geometry, middles: np.ndarray, joints: Sequence[PlannedJoint], corner: np.ndarray
) -> Stop | None:
    """The two sides of a line of joints, or None where the line does not part the slab whole."""
    a, b = np.array(joints[0].line[0]), np.array(joints[0].line[-1])
    along = (b - a) / float(np.hypot(*(b - a)))
    low_x, low_y, high_x, high_y = plan.shape.slab.bounds
    reach = float(np.hypot(high_x - low_x, high_y - low_y)) * 2
    cut = shapely.LineString([a - along * reach, a + along * reach])
    inside = shapely.intersection(cut, inner)
    if inside.length == 0:
        return None
    jointed = shapely.union_all([shapely.LineString(joint.line) for joint in joints])
    if shapely.difference(inside, jointed.buffer(_IN_LINE)).length > _WHOLE:
        return None
    side = (middles - a) @ np.array([-along[1], along[0]])
    start = _cross(along, corner - a)
    before = side * np.sign(start) > 0
    if abs(start) < _IN_LINE or before.all() or not before.any():
        return None
    placed = float(plan.concrete.panel_volumes[before].sum())
    ends = np.asarray(inside.bounds).reshape(2, 2)
    first, last = (float(ends[0, 0]), float(ends[0, 1])), (float(ends[1, 0]), float(ends[1, 1]))
    return Stop(tuple(j.name for j in joints), placed, float(plan.concrete.panel_volumes.sum()) - placed, (first, last))
