"""The joints as they lie on the plan, and the slab cut along them."""

from __future__ import annotations

import math
from functools import cached_property
from typing import ClassVar

import numpy as np
import shapely

from slabwright.design.model import Design, Joint
from slabwright.geometry.joints.panels import JointShape, PanelLayout, cut
from slabwright.plan.shape import Shape
from slabwright.plan.things import XY, JointEnd, PlannedJoint


class Joints:
    """Every joint of the file on the plan. A joint counts when it cracks the slab where drawn: pattern lines do not."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"joints"})

    def __init__(self, design: Design, shape: Shape) -> None:
        self._design = design
        self._shape = shape

    @cached_property
    def counting(self) -> tuple[Joint, ...]:
        """The joints of the file that count, in file order."""
        return tuple(joint for joint in self._design.joints if joint.kind != "pattern")

    @cached_property
    def layout(self) -> PanelLayout:
        """Panels and joints as plain geometry: the slab cut along every joint that counts."""
        return cut(self._shape.slab, [typed_line(joint) for joint in self.counting])

    @cached_property
    def all(self) -> tuple[PlannedJoint, ...]:
        """Every joint and pattern line of the file as it lies on the plan, in file order; pattern lines lie as typed.

        A joint that an opening cuts in two comes twice under its name; one with no part inside the slab is left out.
        """
        parts: dict[int, list[JointShape]] = {}
        for shape in self.layout.joints:
            parts.setdefault(shape.joint, []).append(shape)
        found: list[PlannedJoint] = []
        counted = 0
        for joint in self._design.joints:
            if joint.kind == "pattern":
                found.append(_as_typed(joint))
            else:
                found += [self._planned(joint, shape) for shape in parts.get(counted, ())]
                counted += 1
        return tuple(found)

    def _planned(self, joint: Joint, shape: JointShape) -> PlannedJoint:
        first, last = (
            JointEnd(_pair(e.at), e.meets, self.counting[e.other].name if e.other >= 0 else "", e.gap)
            for e in shape.ends
        )
        return PlannedJoint(joint, tuple(_pair(p) for p in shape.xy), shape.length, (first, last))

    @cached_property
    def lines(self) -> shapely.Geometry:
        """All joints that count, as one geometry (empty without joints)."""
        return shapely.union_all([shapely.LineString(j.line) for j in self.all if j.counts and len(j.line) > 1])

    def closest(self, at: XY) -> PlannedJoint | None:
        """The joint that counts nearest to a point, or the part of it there; None without joints."""
        spot = shapely.Point(at)
        joints = [joint for joint in self.all if joint.counts and len(joint.line) > 1]
        return min(joints, key=lambda joint: shapely.LineString(joint.line).distance(spot), default=None)

    def nearest(self, at: XY) -> tuple[str, float]:
        """Name of the joint that counts nearest to a point, and how far it is, m; "" and inf without joints."""
        joint = self.closest(at)
        return (joint.name, math.hypot(*way_onto(joint, at))) if joint else ("", math.inf)

    def arms(self, at: XY, within: float) -> int:
        """How many ways joints that come within ``within`` m of a place go out from it.

        One that goes on counts two, one that ends there counts one.
        """
        spot, arms = shapely.Point(at), 0
        for joint in self.all:
            if joint.counts and len(joint.line) > 1 and float(shapely.LineString(joint.line).distance(spot)) <= within:
                arms += 1 if min(math.dist(at, end.at) for end in joint.ends) <= within else 2
        return arms


def way_onto(joint: PlannedJoint, at: XY) -> XY:
    """How far, in x and y, a joint is moved over to come onto a point, m."""
    (x0, y0), (x1, y1) = shapely.shortest_line(shapely.LineString(joint.line), shapely.Point(at)).coords
    return x1 - x0, y1 - y0


def typed_line(joint: Joint) -> np.ndarray:
    """The line of a joint as typed, (n, 2)."""
    return np.array([[p.x, p.y] for p in joint.along])


def _as_typed(joint: Joint) -> PlannedJoint:
    xy = typed_line(joint)
    ends = (JointEnd(_pair(xy[0]), "nothing"), JointEnd(_pair(xy[-1]), "nothing"))
    return PlannedJoint(joint, tuple(_pair(p) for p in xy), float(shapely.LineString(xy).length), ends)


def _pair(xy: np.ndarray | XY) -> XY:
    return float(xy[0]), float(xy[1])
