"""Remedies that draw joints: new ones, and joints of the file that are moved or carried on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial
from itertools import count as count_up

import shapely

from slabwright.geometry.joints.bays import cuts
from slabwright.geometry.shape.ahead import distance_ahead
from slabwright.plan.joints import way_onto
from slabwright.plan.plan import Plan
from slabwright.plan.things import XY, Panel, PlannedJoint
from slabwright.rulebook.remedy import Remedy, Write, append, place_of, together
from slabwright.text.words import Words, words
from slabwright.units.quantity import count, depth, length, round_up

CUT_KINDS = ("saw cut", "early saw cut", "tooled groove")
AT_CORNER = 0.002  # m: a joint this near comes to a corner
EIGHTH = {"us": 0.0254 / 8, "metric": 0.005}  # m, how finely a cut is set


def new_joints(plan: Plan, lines: Sequence[tuple[XY, XY]], says: Words, filler: str = "") -> Remedy:
    """Draw joints along lines of the plan (ends in m): of the kind and depth that the first joint of the file has.

    With ``filler``, as the file writes isolation, it stands in them. Without a joint to follow they are saw cuts, a
    quarter of the thickness deep.
    """
    drawn = plan.design.joints
    like = next((one for one in drawn if one.kind in CUT_KINDS), None)
    deep = like.depth if like and like.depth else round_up(depth(plan.thickness.design / 4), EIGHTH[plan.system])
    names = (f"J{number}" for number in count_up(len(drawn) + 1) if f"J{number}" not in {one.name for one in drawn})
    return together(
        *(
            append(
                "joints",
                {
                    "name": next(names), "from": place_of(start), "to": place_of(end),
                    "kind": like.kind if like else "saw cut", "depth": deep,
                    **({"isolation": filler} if filler else {}),
                },
                says,
            )
            for start, end in lines
        ),
        says=says,
    )  # fmt: skip


def cut_panel(plan: Plan, panel: Panel, along: int, across: int = 1) -> Remedy:
    """Cut a panel into equal bays: ``along`` of its long side and ``across`` of its short side."""
    bay, width = length(panel.long_side / along), length(panel.short_side / across)
    says = words("cut it across its long side into {n} bays of {bay}", n=count(along), bay=bay)
    if across > 1:
        says = words(
            "cut it into {n} by {m} bays of {bay} by {width}", n=count(along), m=count(across), bay=bay, width=width
        )
    return new_joints(plan, cuts(panel.ring, along, across), says)


def redraw(plan: Plan, joint: PlannedJoint, points: Sequence[XY], says: Words) -> Remedy:
    """Draw a joint of the file along other points (m), as many as it has; those that stay are not written."""
    own = joint.joint.place.path
    ends = (f"{own}.from", f"{own}.to")
    paths = ends if ends[0] in plan.design.places else [f"{own}.along[{number}]" for number in range(len(points))]
    rows = zip(paths, joint.joint.along, points, strict=True)
    moved = [(path, at) for path, was, at in rows if math.dist((was.x, was.y), at) > 0]
    return Remedy(says, tuple(Write(path, place_of(at)) for path, at in moved))


def shifted(plan: Plan, joint: PlannedJoint, by: XY, says: Words) -> Remedy:
    """Move a joint of the file over by ``by`` (m); ends that met the rim of the slab run on to it again."""
    points = [(point.x + by[0], point.y + by[1]) for point in joint.joint.along]
    ends = [(points[0], points[1]), (points[-1], points[-2])]
    for side, (end, inner) in enumerate(ends):
        short = joint.ends[side].meets in ("edge", "opening") and plan.shape.slab.contains(shapely.Point(end))
        if short and (rim := plan.shape.ahead(end, (end[0] - inner[0], end[1] - inner[1]))):
            points[-side] = rim
    return redraw(plan, joint, points, says)


def turned(plan: Plan, panel: Panel, corner: XY, by: float, says: Words) -> list[Remedy]:
    """Turn the straight joint that makes a corner of a panel by ``by`` degrees, so that the corner opens.

    It turns about the corner and runs to the rim of the slab. No remedy where no straight joint comes there.
    """
    joint = plan.joints.closest(corner)
    if joint is None or len(joint.joint.along) > 2 or math.hypot(*way_onto(joint, corner)) > AT_CORNER:
        return []
    first, last = joint.line[0], joint.line[-1]
    far = max(first, last, key=partial(math.dist, corner))
    x, y = far[0] - corner[0], far[1] - corner[1]
    inside = _middle_of(panel, corner)
    left = x * (inside[1] - corner[1]) - y * (inside[0] - corner[0]) > 0
    turn = math.radians(-by if left else by)
    way = (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn))
    end = plan.shape.ahead(corner, way)
    start = corner if joint.ends[0].at == corner or joint.ends[1].at == corner else None
    start = start or plan.shape.ahead(corner, (-way[0], -way[1]))
    return [redraw(plan, joint, [start, end] if far == last else [end, start], says)] if start and end else []


def _middle_of(panel: Panel, corner: XY) -> XY:
    """A point within a panel near one of its corners."""
    near = panel.polygon.intersection(shapely.Point(corner).buffer(AT_CORNER))
    return near.centroid.x, near.centroid.y


def widened(plan: Plan, panel: Panel, by: float, says: Words) -> list[Remedy]:
    """Move the longest joint beside a panel over by ``by`` m, away from it."""
    joint = longest_beside(plan, panel)
    if joint is None:
        return []
    middle = panel.polygon.centroid
    x, y = (-part for part in way_onto(joint, (middle.x, middle.y)))
    part = by / math.hypot(x, y)
    return [shifted(plan, joint, (x * part, y * part), says)]


def longest_beside(plan: Plan, panel: Panel) -> PlannedJoint | None:
    """The joint that lies along most of the rim of a panel."""
    rim = panel.polygon.boundary.buffer(AT_CORNER)
    shared = [
        (rim.intersection(shapely.LineString(joint.line)).length, number)
        for number, joint in enumerate(plan.joints.all)
        if joint.counts and len(joint.line) > 1
    ]
    return plan.joints.all[max(shared)[1]] if shared else None


def moved_onto(plan: Plan, joint: PlannedJoint, at: XY, says: Words) -> Remedy:
    """Move a joint of the file over onto a point."""
    return shifted(plan, joint, way_onto(joint, at), says)


def started_at(plan: Plan, at: XY, ways: Sequence[XY], name: str) -> list[Remedy]:
    """A joint from a point of the rim to the other side of the slab, in some directions, the shortest first."""
    ends = [end for way in ways if (end := plan.shape.ahead(at, way))]
    return [
        new_joints(plan, [(at, end)], words("start a joint at {place}, and run it to {end}", place=name,
                                            end=plan.shape.name_at(end)))
        for end in sorted(ends, key=partial(math.dist, at))
    ]  # fmt: skip


def way_of(joint: PlannedJoint, side: int) -> XY:
    """The direction a joint has at its first (0) or last (1) end, out of the joint; of any length."""
    (x0, y0), (x1, y1) = joint.line[-2:] if side else joint.line[1::-1]
    return x1 - x0, y1 - y0


def ahead_of(plan: Plan, joint: PlannedJoint, side: int) -> float:
    """How far it is straight on from an end of a joint to the rim of the slab, m; 0 where no rim lies ahead."""
    ahead = distance_ahead(plan.shape.slab, joint.ends[side].at, way_of(joint, side))
    return ahead if math.isfinite(ahead) else 0.0


def carried_on(plan: Plan, ends: Sequence[tuple[PlannedJoint, int]], says: Words) -> Remedy:
    """Carry ends of joints, each a joint and its first (0) or last (1) end, straight on to the rim of the slab."""
    return together(*(_carried_on(plan, joint, side, says) for joint, side in ends), says=says)


def _carried_on(plan: Plan, joint: PlannedJoint, side: int, says: Words) -> Remedy:
    (x, y), (dx, dy) = joint.ends[side].at, way_of(joint, side)
    part = ahead_of(plan, joint, side) / math.hypot(dx, dy)
    points = [(point.x, point.y) for point in joint.joint.along]
    points[-side] = (x + dx * part, y + dy * part)
    return redraw(plan, joint, points, says)
