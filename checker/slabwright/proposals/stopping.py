"""Joints that part the slab, at which placing can stop, and how much is placed by then."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from slabwright.geometry.xy import XY
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.plan import Plan

_IN_LINE = 0.05  # m: joints this near to one line are one
_WHOLE = 0.05  # m: a line that leaves less of itself uncut than this parts the slab


@dataclass(frozen=True, slots=True)
class Stop:
    """A line of joints that parts the slab: how much (m3) lies before it, seen from where placing starts."""

    joints: tuple[str, ...]
    placed: float
    left: float
    line: tuple[XY, XY]
    before: frozenset[str]  # panels placed by then

    def from_other_side(self, panels: Iterable[str]) -> Stop:
        """The same line when placing comes from its other side."""
        return Stop(self.joints, self.left, self.placed, self.line, frozenset(panels) - self.before)


def stops_from(plan: Plan, corner: XY, area: shapely.Polygon | None = None) -> list[Stop]:
    """Every line of joints across the whole slab, or across an area of it between joints, seen from a corner."""
    lines = _lines(plan)
    inner = (area or plan.shape.slab).buffer(-_IN_LINE / 2)  # a line along an edge parts nothing
    spots = [panel.polygon.representative_point() for panel in plan.panels.all] if lines else []
    middles = shapely.get_coordinates(spots)
    own = shapely.contains_xy(area, middles) if area else np.ones(len(middles), dtype=bool)
    found = (_parted(plan, inner, middles, own, joints, np.array(corner)) for joints in lines)
    return [stop for stop in found if stop is not None]


def _lines(plan: Plan) -> list[list[PlannedJoint]]:
    """Straight joints that count, gathered by the line they lie on."""
    groups: list[tuple[np.ndarray, np.ndarray, list[PlannedJoint]]] = []
    for joint in plan.joints.all:
        if not joint.counts:
            continue
        a, b = np.array(joint.line[0]), np.array(joint.line[-1])
        if shapely.LineString(joint.line).length > float(np.hypot(*(b - a))) + _IN_LINE:
            continue  # not straight
        for start, unit, members in groups:
            if all(abs(_cross(unit, end - start)) < _IN_LINE for end in (a, b)):
                members.append(joint)
                break
        else:
            groups.append((a, (b - a) / max(float(np.hypot(*(b - a))), 1e-9), [joint]))
    return [members for _, _, members in groups]


def _cross(one: np.ndarray, other: np.ndarray) -> float:
    return float(one[0] * other[1] - one[1] * other[0])


def _parted(
    plan: Plan,
    inner: shapely.Geometry,
    middles: np.ndarray,
    own: np.ndarray,
    joints: Sequence[PlannedJoint],
    corner: np.ndarray,
) -> Stop | None:
    """The two sides of a line of joints, or None where the line does not part the area of the ``own`` panels whole."""
    a, b = np.array(joints[0].line[0]), np.array(joints[0].line[-1])
    along = (b - a) / float(np.hypot(*(b - a)))
    low_x, low_y, high_x, high_y = plan.shape.slab.bounds
    reach = float(np.hypot(high_x - low_x, high_y - low_y)) * 2
    cut = shapely.LineString([a - along * reach, a + along * reach])
    inside = shapely.intersection(cut, inner)
    if inside.length == 0:
        return None
    there = [(joint, line) for joint in joints if (line := shapely.LineString(joint.line)).intersects(inner)]
    jointed = shapely.union_all([line for _, line in there])
    if shapely.difference(inside, jointed.buffer(_IN_LINE)).length > _WHOLE:
        return None
    side = (middles - a) @ np.array([-along[1], along[0]])
    start = _cross(along, corner - a)
    before = (side * np.sign(start) > 0) & own
    if abs(start) < _IN_LINE or (before == own).all() or not before.any():
        return None
    placed = float(plan.concrete.panel_volumes[before].sum())
    ends = np.asarray(inside.bounds).reshape(2, 2)
    first, last = (float(ends[0, 0]), float(ends[0, 1])), (float(ends[1, 0]), float(ends[1, 1]))
    names = frozenset(panel.name for panel, one in zip(plan.panels.all, before.tolist(), strict=True) if one)
    left = float(plan.concrete.panel_volumes[own].sum()) - placed
    return Stop(tuple(joint.name for joint, _ in there), placed, left, (first, last), names)
