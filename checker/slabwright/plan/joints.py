"""The joints as they lie on the plan, and the slab cut along them."""

import math
from functools import cached_property
from typing import ClassVar, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.design.fixtures import Channel, Embedded, Fixture
from slabwright.design.joints import Joint
from slabwright.design.model import Design
from slabwright.formulas.units import FOOT
from slabwright.geometry.joints.panels import PanelLayout, cut
from slabwright.geometry.joints.parts import JointEndShape, JointShape
from slabwright.geometry.shape.arcs import CHORDS_OFF
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.areas import where_cast
from slabwright.plan.flights import Flights
from slabwright.plan.shape import Shape, line_through
from slabwright.plan.view import PlanView

ON_ARC = CHORDS_OFF + 0.001  # m: an end this near to the chords of an arc may lie on the arc as typed, to 0.001 ft
STANDING = ("post", "column", "drain", "cleanout", "meter", "valve")
AT_MIDDLE = 0.0508  # m, 2 in: a joint that passes this near to the middle of a fixture is meant for it
BY_EDGE = FOOT  # m, 1 ft: a channel no further from an edge runs along it (common practice)
USUAL_BOX = 0.2032  # m, 8 in: from a post to the rim of a box-out of no size (common practice)


class JointEnd(NamedTuple):
    """Where a joint stops."""

    at: XY
    meets: Literal["edge", "opening", "crossing", "joint end", "joint side", "nothing"]
    other: str = ""  # the joint it meets
    gap: float = 0.0  # how far the typed end was moved to meet it, m


class PlannedJoint(NamedTuple):
    """A joint as it lies on the plan: ends brought to what they nearly touch, cut to the slab."""

    joint: Joint
    line: tuple[XY, ...]
    length: float
    ends: tuple[JointEnd, JointEnd]

    @property
    def name(self) -> str:
        """The joint's name in the file."""
        return self.joint.name

    @property
    def counts(self) -> bool:
        """Whether it cracks the slab where drawn: pattern lines do not."""
        return self.joint.kind != "pattern"


class Joints(PlanView):
    """Every joint of the file on the plan. A joint counts when it cracks the slab where drawn: pattern lines do not."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"joints", "fixtures", "channels"})
    _design: Design
    _shape: Shape
    _flights: Flights

    @cached_property
    def counting(self) -> tuple[Joint, ...]:
        """The joints of the file that count, in file order."""
        return tuple(joint for joint in self._design.joints if joint.kind != "pattern")

    @cached_property
    def cuts(self) -> tuple[Joint, ...]:
        """The joints that count, and after them the channels, whose bodies part the slab as joints do.

        Placing may end at one with filler along both sides. One that runs along an edge parts nothing: what lies
        between is no panel.
        """
        apart = (one for one in self._design.channels if not self._by_edge(one))
        return (
            *self.counting,
            *(Joint(one.name, "construction joint" if one.isolation and one.isolation.material != "none" else
                    "formed strip", one.along, isolation=one.isolation, place=one.place)
              for one in apart),
        )  # fmt: skip

    def _by_edge(self, channel: Channel) -> bool:
        """Whether a channel runs along an edge for half its length."""
        way = line_through(channel.along)
        return bool(shapely.intersection(way, self._shape.slab.boundary.buffer(BY_EDGE)).length >= way.length / 2)

    @property
    def channel_lines(self) -> tuple[np.ndarray, ...]:
        """The lines of the channels that part the slab, each (n, 2)."""
        return tuple(self.line_of(one) for one in self.cuts[len(self.counting) :])

    @cached_property
    def layout(self) -> PanelLayout:
        """Panels and joints as plain geometry: the slab cut along everything that parts it."""
        return cut(self._shape.slab, [self.line_of(joint) for joint in self.cuts])

    def line_of(self, joint: Joint) -> np.ndarray:
        """The line of a joint, (n, 2): as typed, but each end that stops at the face of something carried on.

        At a fixture it goes on to the middle, and at a flight of steps to its other side: no saw goes there, and none
        is wanted, for the crack ends at the mass of the flight or runs under it.
        """
        line = np.array([[p.x, p.y] for p in joint.along])
        for end, inner in ((0, 1), (-1, -2)):
            (x, y), long = line[end] - line[inner], math.dist(line[end], line[inner])
            for (at_x, at_y), face in self._standing:
                ahead, beside = at_x - line[end][0], at_y - line[end][1]
                on, off = ahead * x + beside * y, abs(ahead * y - beside * x)
                if 0 < on <= face * long and off <= AT_MIDDLE * long:
                    line[end] = at_x, at_y
            for channel in self._design.channels:
                if long and joint.place != channel.place:  # a channel that parts the slab is a joint too
                    line[end] = _carried(line[end], (x / long, y / long), channel)
            if long and self._steps is not None:
                line[end] = self._under_steps(as_xy(line[end]), (x / long, y / long))
        return line

    @cached_property
    def _steps(self) -> shapely.Geometry | None:
        """What flights of steps cover of the slab, with a hair around it; None without any that stands anywhere."""
        covered = self._flights.footprint
        return None if covered is None else covered.buffer(AT_MIDDLE / 2)

    def _under_steps(self, end: XY, ahead: XY) -> XY:
        """An end of a joint that stops at a flight, carried on to its far side, or to an edge hardly further."""
        far, spot = self._shape.ring.length, shapely.Point(end)
        way = shapely.LineString([end, (end[0] + far * ahead[0], end[1] + far * ahead[1])])
        over = shapely.intersection(way, self._shape.slab)
        on_slab, under = (
            next((part for part in shapely.get_parts(one) if part.distance(spot) <= AT_MIDDLE), None)
            for one in (over, shapely.intersection(over, self._steps))
        )
        if on_slab is None or under is None or under.length <= AT_MIDDLE:
            return end
        return as_xy((on_slab if on_slab.length <= under.length + BY_EDGE else under).coords[-1])

    @cached_property
    def _standing(self) -> tuple[tuple[XY, float], ...]:
        """Fixtures in the slab at which a joint may end: where each stands, and how far from there its face may be."""
        standing = [one for one in self._design.fixtures if one.kind in STANDING]
        found = [((one.at.x, one.at.y), _face(one)) for one in standing if one.at]
        return tuple((at, face) for at, face in found if self._shape.slab.contains(shapely.Point(at)))

    def ends_at_fixture(self, at: XY) -> bool:
        """Whether a fixture or channel that joints may end at stands at a place."""
        here = shapely.Point(at)
        in_channel = (
            line_through(one.along).distance(here) <= AT_MIDDLE + one.width.si / 2 for one in self._design.channels
        )
        return any(math.dist(spot, at) <= AT_MIDDLE for spot, _ in self._standing) or any(in_channel)

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
        first, last = map(self._end, shape.ends)
        return PlannedJoint(joint, tuple(as_xy(p) for p in shape.xy), shape.length, (first, last))

    def _end(self, end: JointEndShape) -> JointEnd:
        """An end of a joint; at a channel that parts the slab it is at an edge of the concrete."""
        if end.other < len(self.counting):
            other = self.counting[end.other].name if end.other >= 0 else ""
            return JointEnd(as_xy(end.at), end.meets, other, self._gap(end))
        return JointEnd(as_xy(end.at), "edge", self.cuts[end.other].name)

    def _gap(self, end: JointEndShape) -> float:
        """How far an end lies from where it was typed, m: 0 at an arc when it may have been typed on the arc itself."""
        at_arc = end.meets in ("edge", "opening") and 0 < end.gap <= ON_ARC and self._shape.bends_at(as_xy(end.at))
        return 0.0 if at_arc else end.gap

    @cached_property
    def lines(self) -> shapely.Geometry:
        """All joints that count, as one geometry (empty without joints)."""
        return shapely.union_all([shapely.LineString(j.line) for j in self.all if j.counts and len(j.line) > 1])

    def closest(self, at: XY | shapely.Geometry) -> PlannedJoint | None:
        """The joint that counts nearest to a point or a line, of equals the first in the file; None without joints."""
        spot = at if isinstance(at, shapely.Geometry) else shapely.Point(at)
        joints = [joint for joint in self.all if joint.counts]
        return min(joints, key=lambda joint: round(shapely.LineString(joint.line).distance(spot), 6), default=None)

    def nearest(self, at: XY) -> tuple[str, float]:
        """Name of the joint that counts nearest to a point, and how far it is, m; "" and inf without joints."""
        joint = self.closest(at)
        return (joint.name, math.hypot(*way_onto(joint, at))) if joint else ("", math.inf)

    def over(self, tubes: Embedded) -> tuple[PlannedJoint, ...]:
        """The joints that count and pass over tubes in the slab: all of them, unless those have a line or corners."""
        joints = tuple(joint for joint in self.all if joint.counts)
        where = where_cast(tubes)
        return tuple(joint for joint in joints if where is None or shapely.LineString(joint.line).intersects(where))

    def run_along(self, start: XY, end: XY) -> bool:
        """Whether joints lie all along a straight line."""
        return bool(self._on_lines.covers(shapely.LineString([start, end])))

    @cached_property
    def _on_lines(self) -> shapely.Geometry:
        """What lies on the joints that count; made once, for a curved slab asks of every fold of its facets."""
        beside = self.lines.buffer(AT_MIDDLE)
        shapely.prepare(beside)
        return beside

    def arms(self, at: XY, within: float) -> int:
        """How many ways joints that come within ``within`` m of a place go out from it.

        One that goes on counts two, one that ends there counts one.
        """
        spot, arms = shapely.Point(at), 0
        for joint in self.all:
            if joint.counts and float(shapely.LineString(joint.line).distance(spot)) <= within:
                arms += 1 if min(math.dist(at, end.at) for end in joint.ends) <= within else 2
        return arms


def way_onto(joint: PlannedJoint, at: XY) -> XY:
    """How far, in x and y, a joint is moved over to come onto a point, m."""
    (x0, y0), (x1, y1) = shapely.shortest_line(shapely.LineString(joint.line), shapely.Point(at)).coords
    return x1 - x0, y1 - y0


def _carried(end: np.ndarray, ahead: XY, channel: Channel) -> XY:
    """An end of a joint; one that stops at the face of a channel is carried on to its middle line."""
    filler = channel.isolation.thickness.si if channel.isolation and channel.isolation.thickness else 0.0
    bed = channel.bed.si if channel.bed else 0.0
    reach, (x, y) = channel.width.si / 2 + bed + filler + AT_MIDDLE, as_xy(end)
    met = shapely.LineString([(x, y), (x + ahead[0] * reach, y + ahead[1] * reach)]).intersection(
        line_through(channel.along)
    )
    return (met.x, met.y) if isinstance(met, shapely.Point) else (x, y)


def _face(fixture: Fixture) -> float:
    """How far from the middle of a fixture a joint may stop that ends at its face, or at that of its box-out, m."""
    half = fixture.size.si / 2 if fixture.size else AT_MIDDLE
    filler = fixture.isolation.thickness.si if fixture.isolation and fixture.isolation.thickness else 0.0
    if fixture.box_out_size:
        half = fixture.box_out_size.si / 2 * (1.0 if fixture.box_out == "round" else math.sqrt(2))
    elif fixture.box_out:
        half += USUAL_BOX
    return half + filler + AT_MIDDLE


def _as_typed(joint: Joint) -> PlannedJoint:
    xy = np.array([[p.x, p.y] for p in joint.along])
    ends = (JointEnd(as_xy(xy[0]), "nothing"), JointEnd(as_xy(xy[-1]), "nothing"))
    return PlannedJoint(joint, tuple(as_xy(p) for p in xy), float(shapely.LineString(xy).length), ends)


def filled(joint: Joint) -> bool:
    """Whether filler stands in it through the whole slab."""
    return joint.isolation is not None and joint.isolation.material != "none"
