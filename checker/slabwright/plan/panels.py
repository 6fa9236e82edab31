"""Panels, joints, inside corners and fixtures on the plan."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
import shapely

from slabwright.design.model import Fixture, Joint
from slabwright.geometry.joints.measure import smallest_rectangles
from slabwright.geometry.joints.panels import JointShape, PanelLayout, cut
from slabwright.geometry.shape.outline import inside_corners as corners_of
from slabwright.geometry.surface.thickness import deepest_along
from slabwright.plan.edges import corner_name
from slabwright.plan.things import (
    XY,
    CornerAngle,
    InsideCorner,
    JointEnd,
    Panel,
    PlannedFixture,
    PlannedJoint,
    Section,
    Stretch,
)
from slabwright.source.place import Place
from slabwright.source.problem import Problem
from slabwright.units.quantity import depth, meets, show

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan


def _counting(plan: Plan) -> list[Joint]:
    return [joint for joint in plan.design.joints if joint.kind != "pattern"]


def _along(joint: Joint) -> np.ndarray:
    return np.array([[p.x, p.y] for p in joint.along])


def layout(plan: Plan) -> PanelLayout:
    """The slab cut along every joint that counts."""
    return cut(plan.slab, [_along(joint) for joint in _counting(plan)])


def panels(plan: Plan) -> tuple[Panel, ...]:
    """The panels in reading order, with names."""
    found = plan.layout.panels
    names = [f"P{number}" for number in range(1, len(found) + 1)]
    counting = _counting(plan)
    outline = plan.place("outline")
    volumes = plan.panel_volumes
    thicknesses = plan.panel_thicknesses
    rings = _rings([panel.polygon for panel in found])
    return tuple(
        Panel(
            name=names[i],
            polygon=panel.polygon,
            long_side=panel.long_side,
            short_side=panel.short_side,
            aspect=panel.aspect,
            area=panel.area,
            thickness=float(thicknesses[i]),
            volume=float(volumes[i]),
            corners=tuple(CornerAngle((float(x), float(y)), float(a)) for (x, y), a in panel.corners),
            neighbours=tuple(names[n] for n in panel.neighbours),
            place=counting[panel.joints[0]].place if panel.joints else outline,
            ring=rings[i],
        )
        for i, panel in enumerate(found)
    )


def _rings(polygons: list[shapely.Polygon]) -> list[tuple[XY, ...]]:
    """The outer line of each polygon, asked of shapely in one go."""
    exteriors = shapely.get_exterior_ring(polygons)
    points = [(x, y) for x, y in shapely.get_coordinates(exteriors).tolist()]
    ends = np.cumsum(shapely.get_num_coordinates(exteriors)).tolist()
    return [tuple(points[start:end]) for start, end in zip([0, *ends], ends, strict=False)]


def joints(plan: Plan) -> tuple[PlannedJoint, ...]:
    """Every joint and pattern line, in file order; pattern lines lie as typed.

    A joint that an opening cuts in two comes twice under its name; one with no part inside the slab is left out.
    """
    names = [joint.name for joint in _counting(plan)]
    parts: dict[int, list[JointShape]] = {}
    for shape in plan.layout.joints:
        parts.setdefault(shape.joint, []).append(shape)
    found: list[PlannedJoint] = []
    counted = 0
    for joint in plan.design.joints:
        if joint.kind == "pattern":
            found.append(_planned(plan, joint, None, names))
        else:
            found += [_planned(plan, joint, shape, names) for shape in parts.get(counted, ())]
            counted += 1
    return tuple(found)


def _planned(plan: Plan, joint: Joint, shape: JointShape | None, names: list[str]) -> PlannedJoint:
    if shape is None:
        xy = _along(joint)
        ends = (JointEnd(_pair(xy[0]), "nothing"), JointEnd(_pair(xy[-1]), "nothing"))
        length = float(shapely.LineString(xy).length)
    else:
        xy, length = shape.xy, shape.length
        first, last = (
            JointEnd(_pair(e.at), e.meets, names[e.other] if e.other >= 0 else "", e.gap) for e in shape.ends
        )
        ends = (first, last)
    line = tuple(_pair(p) for p in xy)
    thickest, thickest_at = _thickest(plan, line)
    return PlannedJoint(joint, line, length, ends, thickest, thickest_at)


def _pair(xy: np.ndarray | XY) -> XY:
    return float(xy[0]), float(xy[1])


def _thickest(plan: Plan, line: tuple[XY, ...]) -> tuple[float, XY]:
    """Greatest design thickness along a line: a thickened edge adds most where the line comes nearest to it."""
    best, at = 0.0, None
    if len(line) > 1 and plan.edge_runs:
        best, at = deepest_along(shapely.LineString(line), plan.edge_runs)
    return plan.thickness + best, at or line[0]


def inside_corners(plan: Plan) -> tuple[InsideCorner, ...]:
    """Corners of the outline and of openings where the concrete turns through more than a straight line."""
    found: list[InsideCorner] = []
    for index, at, degrees in corners_of(plan.ring, False):
        corner = plan.design.outline[index]
        found.append(_inside_corner(plan, f"inside corner {corner_name(corner)}", _pair(at), degrees, corner.place))
    for opening, ring in zip(plan.design.openings, plan.opening_rings, strict=True):
        for index, at, degrees in corners_of(ring, True):
            corner = opening.corners[index]
            name = f"corner {corner_name(corner)} of {opening.name}"
            found.append(_inside_corner(plan, name, _pair(at), degrees, corner.place))
    return tuple(found)


def nearest_joint(plan: Plan, at: XY) -> tuple[str, float]:
    """Name of the joint that counts nearest to a point, and how far it is, m; "" and inf without joints."""
    spot, best, nearest = shapely.Point(at), math.inf, ""
    for joint in plan.joints:
        if joint.counts and len(joint.line) > 1:
            away = float(shapely.LineString(joint.line).distance(spot))
            if away < best:
                best, nearest = away, joint.name
    return nearest, best


def joint_arms(plan: Plan, at: XY, within: float) -> int:
    """How many ways joints that come within ``within`` m of a place go out from it: two, or one where a joint ends."""
    spot, arms = shapely.Point(at), 0
    for joint in plan.joints:
        if joint.counts and len(joint.line) > 1 and float(shapely.LineString(joint.line).distance(spot)) <= within:
            arms += 1 if min(math.dist(at, end.at) for end in joint.ends) <= within else 2
    return arms


def stretches(plan: Plan) -> tuple[Stretch, ...]:
    """The slab as its joints with filler through the whole slab part it."""
    filled = [joint for joint in _counting(plan) if joint.isolation and joint.isolation.material != "none"]
    if not filled:  # the whole slab is one
        ((long, short),) = smallest_rectangles(np.array([plan.slab], dtype=object))
        return (Stretch(plan.slab, long, short),)
    parts = cut(plan.slab, [_along(joint) for joint in filled]).panels
    return tuple(Stretch(part.polygon, part.long_side, part.short_side) for part in parts)


def sections(plan: Plan) -> tuple[Section, ...]:
    """The slab between construction joints, and joints formed or filled through its whole depth."""
    ends = [joint for joint in _counting(plan) if _ends_placing(plan, joint)]
    whole = float(plan.panel_volumes.sum())
    if not ends:
        return (Section(plan.slab, whole),)
    parts = cut(plan.slab, [_along(joint) for joint in ends]).panels
    inner = shapely.point_on_surface(np.array([panel.polygon for panel in plan.layout.panels], dtype=object))
    panel, part = shapely.STRtree([one.polygon for one in parts]).query(inner, predicate="within")
    volumes = np.zeros(len(parts))
    np.add.at(volumes, part, plan.panel_volumes[panel])
    return tuple(Section(one.polygon, volume) for one, volume in zip(parts, volumes.tolist(), strict=True))


def _ends_placing(plan: Plan, joint: Joint) -> bool:
    through = (
        joint.kind == "formed strip" and joint.depth is not None and meets(joint.depth.si, plan.thickness, "least")
    )
    filled = joint.isolation is not None and joint.isolation.material != "none"
    return joint.kind == "construction joint" or through or filled


def _inside_corner(plan: Plan, name: str, at: XY, degrees: float, place: Place) -> InsideCorner:
    nearest, best = nearest_joint(plan, at)
    steel = plan.design.reinforcement
    barred = steel is not None and any(
        math.hypot(p.x - at[0], p.y - at[1]) < 0.3 for bars in steel.corner_bars for p in bars.at
    )
    return InsideCorner(name, at, float(degrees), best, nearest, barred, place)


def fixtures(plan: Plan) -> tuple[PlannedFixture, ...]:
    """Every fixture with a name of its own; doors and gates stand at the middle of their width."""
    totals = Counter(f.kind for f in plan.design.fixtures)
    seen: Counter[str] = Counter()
    found = []
    for fixture in plan.design.fixtures:
        seen[fixture.kind] += 1
        number = f" {seen[fixture.kind]}" if totals[fixture.kind] > 1 else ""
        at = _fixture_at(fixture)
        spot = shapely.Point(at)
        reach = fixture.size.si / 2 if fixture.size else 0.0
        inside = bool(plan.slab.contains(spot)) and float(plan.slab.boundary.distance(spot)) > reach
        lines = plan.joint_lines
        distance = math.inf if lines.is_empty else float(lines.distance(spot))
        name = fixture.name or f"{fixture.kind}{number}"
        found.append(PlannedFixture(fixture, name, at, inside, distance, plan.finish_at(at)))
    return tuple(found)


def _fixture_at(fixture: Fixture) -> XY:
    if fixture.at is not None:
        return fixture.at.x, fixture.at.y
    xs, ys = [p.x for p in fixture.along], [p.y for p in fixture.along]
    return sum(xs) / len(xs), sum(ys) / len(ys)


def questions(plan: Plan) -> Iterator[Problem]:
    """Joint ends that were moved to what they nearly touch, and joints that lie beside the slab."""
    for joint in plan.joints:
        typed = joint.joint.along
        for end, point in zip(joint.ends, (typed[0], typed[-1]), strict=True):
            if end.gap > 0.001 and plan.slab.covers(shapely.Point(point.x, point.y)):
                what = {"edge": "the edge", "opening": "the opening"}.get(end.meets, f"joint {end.other}")
                yield Problem(
                    joint.joint.place,
                    f"joint {joint.name} stops {show(depth(end.gap), plan.system)} from {what}: taken as meeting it",
                    "draw it to the edge, or stop it well clear if it is meant to stop",
                )
    counting = _counting(plan)
    for index in plan.layout.unused:
        yield Problem(
            counting[index].place,
            f"joint {counting[index].name} lies beside the slab or along its edge: it cuts nothing",
            "correct its points, or take it out",
        )
