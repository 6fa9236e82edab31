"""Remedies that draw joints: new ones, and joints of the file that are moved or carried on."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import partial
from itertools import chain, combinations
from itertools import count as count_up

import numpy as np
import shapely

from slabwright.design.fixtures import Fixture
from slabwright.design.joints import Joint
from slabwright.formulas.joints import NEAR_SQUARE
from slabwright.formulas.units import INCH
from slabwright.geometry.joints.panels import cut
from slabwright.geometry.shape.distances import distance_ahead
from slabwright.geometry.xy import XY
from slabwright.plan.joints import PlannedJoint, way_onto
from slabwright.plan.panels import Panel
from slabwright.plan.plan import Plan
from slabwright.rulebook.remedy import Remedy, Write, append, drop, place_of, together
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, depth, length, meets, round_up

CUT_KINDS = ("saw cut", "early saw cut", "tooled groove")
ON_LINE = 0.05  # m: a joint no farther off a line than this lies on it
AT_CORNER = 0.002  # m: a joint this near comes to a corner
COMES_TO = 0.05  # m: one this near was meant to
MOST_LINES = 7  # of which every choice is tried
MOST_CORNERS = 60  # of an outline on which joints are tried one way and another
ON_POST = 0.15  # m: a joint that comes so near to the middle of a post is laid to it (common practice)
JUST_BEYOND = 0.05  # m
EIGHTH = {"us": INCH / 8, "metric": 0.005}  # m, how finely a cut is set


def new_joints(plan: Plan, lines: Sequence[tuple[XY, XY]], says: Words) -> Remedy:
    """Draw joints along lines of the plan (ends in m), as :func:`like_those_there` makes them.

    A joint of the file that ends on one of the lines is carried on along it, and none is drawn over it.
    """
    there = [(joint, points, line) for line in lines for joint, points in _ending_on(plan, line)[:1]]
    if not there:
        return like_those_there(plan, lines, says)
    lines = [line for line in lines if all(line != carried for _, _, carried in there)]
    told = words(says.template + ", with {carried} carried on", **says.values,
                 carried=" and ".join(dict.fromkeys(f"joint {joint.name}" for joint, _, _ in there)))  # fmt: skip
    longer = [redraw(plan, joint, points, told) for joint, points, _ in there]
    return together(*longer, *([like_those_there(plan, lines, told)] if lines else []), says=told)


def like_those_there(plan: Plan, lines: Sequence[tuple[XY, XY]], says: Words) -> Remedy:
    """Append a joint along each line of the plan (ends in m), made as the first joint of the file that is cut.

    Where its depth is under a quarter of the thickness, or there is none to follow, they are cut that deep.
    """
    drawn = plan.design.joints
    like = next((one for one in drawn if one.kind in CUT_KINDS), None)
    beside = [plan.areas.thickest(line) for line in lines] or plan.areas.all
    thickest = max(area.thickness.si for area in beside)
    quarter = round_up(depth(thickest / 4), EIGHTH[plan.home])
    deep = quarter if like is None or (like.kind != "early saw cut" and like.depth) else like.depth
    if like and like.depth and meets(like.depth.si, thickest / 4, "least"):
        deep = like.depth
    made = {
        "kind": like.kind if like else "saw cut",
        "depth": deep,
        "cut_after": like.cut_after if like else None,
        "sealed": "true" if like and like.sealed else None,
    }
    names = (f"J{number}" for number in count_up(len(drawn) + 1) if f"J{number}" not in {one.name for one in drawn})
    return together(
        *(
            append("joints", _entry({"name": next(names), "from": place_of(start), "to": place_of(end), **made}), says)
            for start, end in lines
        ),
        says=says,
    )


def _ending_on(plan: Plan, line: tuple[XY, XY]) -> list[tuple[PlannedJoint, list[XY]]]:
    """Straight joints of the file along a line that stop on it, the longest first, each with its ends if it went on."""
    (ax, ay), (bx, by) = line
    size = math.dist(*line)
    x, y = (bx - ax) / size, (by - ay) / size
    found = []
    for joint in plan.joints.all:
        if not joint.counts or len(joint.line) != 2:
            continue
        marks = [(px - ax) * x + (py - ay) * y for px, py in joint.line]
        off = max(abs((py - ay) * x - (px - ax) * y) for px, py in joint.line)
        shared = min(size, max(marks)) - max(0.0, min(marks))
        stops = any(ON_LINE < mark < size - ON_LINE for mark in marks)
        if off < ON_LINE and stops and shared > ON_LINE:
            ends = min(0.0, *marks), max(size, *marks)
            points = [(ax + x * mark, ay + y * mark) for mark in (ends if marks[0] < marks[1] else ends[::-1])]
            found.append((joint, points))
    return sorted(found, key=lambda one: -math.dist(*one[0].line))


def _entry(keys: Mapping[str, Value | tuple[Value, ...] | None]) -> dict[str, Value | tuple[Value, ...]]:
    return {key: value for key, value in keys.items() if value is not None}


def cut_at_corners(plan: Plan, panel: Panel) -> list[Remedy]:
    """A cut across a panel from one inside corner of the slab on its rim to another, the shortest first."""
    rim = panel.polygon.boundary
    corners = [one.at for one in plan.panels.inside_corners if rim.distance(shapely.Point(one.at)) <= AT_CORNER]
    across = [pair for pair in combinations(corners, 2) if panel.polygon.contains(shapely.LineString(pair))]
    return [
        new_joints(plan, [(one, other)], words(
            "cut it across from {one} to {other}", one=plan.shape.name_at(one), other=plan.shape.name_at(other)))
        for one, other in sorted(across, key=lambda pair: math.dist(*pair))
    ]  # fmt: skip


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
    return redraw(plan, joint, _over(plan, joint, by), says)


def _over(plan: Plan, joint: PlannedJoint, by: XY) -> list[XY]:
    points = [(point.x + by[0], point.y + by[1]) for point in joint.joint.along]
    ends = [(points[0], points[1]), (points[-1], points[-2])]
    for side, (end, inner) in enumerate(ends):
        short = joint.ends[side].meets in ("edge", "opening") and plan.shape.slab.contains(shapely.Point(end))
        if short and (rim := plan.shape.ahead(end, (end[0] - inner[0], end[1] - inner[1]))):
            points[-side] = rim
    return points


def joint_at(plan: Plan, at: XY, ways: Sequence[XY], name: str, near: float) -> list[Remedy]:
    """A joint that comes to a point of the rim: the nearest moved over, or new ones in some directions.

    Only a joint within ``near`` m is moved; a new one may run across to an inside corner that has none either. Those
    that leave the panels nearest to square come first.
    """
    drawn = {id(joint): plan.joints.line_of(joint) for joint in plan.joints.counting}
    found: list[tuple[float, Remedy]] = []
    joint = plan.joints.closest(at)
    if joint and meets(math.hypot(*way_onto(joint, at)), near, "most") and not is_laid_to(plan, joint):
        by = way_onto(joint, at)
        told = "move joint {joint} by {away}, onto {place}"
        says = words(told, joint=joint.name, away=depth(math.hypot(*by)), place=name)
        points = _over(plan, joint, by)
        others = [line for key, line in drawn.items() if key != id(joint.joint)]
        found.append((greatest_aspect(plan, [*others, np.array(points)]), redraw(plan, joint, points, says)))
    ends = [end for way in ways if (end := plan.shape.ahead(at, way))]
    bare = [
        one.at for one in plan.panels.inside_corners if one.at != at and not meets(one.joint_distance, near, "most")
    ]
    across = [one for one in bare if plan.shape.slab.covers(shapely.LineString([at, one]))]
    for end in sorted([*ends, *across], key=partial(math.dist, at)):
        says = words("start a joint at {place}, and run it to {end}", place=name, end=plan.shape.name_at(end))
        aspect = greatest_aspect(plan, [*drawn.values(), np.array([at, end])])
        found.append((aspect, new_joints(plan, [(at, end)], says)))
    if len(ends) > 1:
        told = "start two joints at {place}, and run one to {end} and one to {other}"
        says = words(told, place=name, end=plan.shape.name_at(ends[0]), other=plan.shape.name_at(ends[1]))
        aspect = greatest_aspect(plan, [*drawn.values(), *(np.array([at, end]) for end in ends)])
        found.append((aspect, new_joints(plan, [(at, end) for end in ends], says)))
    return [remedy for _, remedy in sorted(found, key=lambda pair: max(pair[0], NEAR_SQUARE))]


def squarest_of(plan: Plan, lines: Sequence[Joint], also: Sequence[Joint] = ()) -> list[Joint]:
    """The fewest of some lines that leave panels near square where they are cut together with others; else all."""
    drawn = [plan.joints.line_of(joint) for joint in (*plan.joints.counting, *also)]
    if len(lines) <= MOST_LINES:
        for some in chain.from_iterable(
            combinations(lines, number) for number in range(0 if drawn else 1, len(lines) + 1)
        ):
            if meets(greatest_aspect(plan, [*drawn, *map(plan.joints.line_of, some)]), NEAR_SQUARE, "most"):
                return list(some)
    return list(lines)


def greatest_aspect(plan: Plan, lines: Sequence[np.ndarray]) -> float:
    """How far from square the worst panel would be; without end, not tried, where the outline has very many corners."""
    if len(plan.shape.corners) > MOST_CORNERS:
        return math.inf
    return max(panel.aspect for panel in cut(plan.shape.slab, [*lines, *plan.joints.channel_lines]).panels)


def opened(plan: Plan, panel: Panel, corner: XY, by: Amount) -> list[Remedy]:
    """A straight joint that makes a sharp corner of a panel drawn so that the corner opens by an angle.

    It is set square to the other side there, about its own middle, or turned about the corner; what leaves the panels
    nearest to square comes first, and leaving it out last. No remedy where no straight joint comes there.
    """
    joint = beside_corner(plan, panel, corner)
    if joint is None or len(joint.joint.along) > 2 or math.hypot(*way_onto(joint, corner)) > AT_CORNER:
        return []
    first, last = joint.line[0], joint.line[-1]
    others = [plan.joints.line_of(one) for one in plan.joints.counting if one is not joint.joint]
    found: list[tuple[float, Remedy]] = []

    def draw(through: XY, way: XY, start: XY | None, says: Words) -> None:
        end, start = plan.shape.ahead(through, way), start or plan.shape.ahead(through, (-way[0], -way[1]))
        if start and end:
            points = [start, end] if math.dist(end, last) <= math.dist(end, first) else [end, start]
            found.append((greatest_aspect(plan, [*others, np.array(points)]), redraw(plan, joint, points, says)))

    side = _other_side(panel, corner, joint)
    middle = (first[0] + last[0]) / 2, (first[1] + last[1]) / 2
    draw(middle, (-side[1], side[0]), None, words("set joint {joint} square to the edge there", joint=joint.name))
    far = max(first, last, key=partial(math.dist, corner))
    x, y = far[0] - corner[0], far[1] - corner[1]
    inside = _middle_of(panel, corner)
    left = x * (inside[1] - corner[1]) - y * (inside[0] - corner[0]) > 0
    turn = math.radians(-by.si if left else by.si)
    way = (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn))
    says = words("turn joint {joint} there by {more}, towards square", joint=joint.name, more=by)
    draw(corner, way, corner if corner in (joint.ends[0].at, joint.ends[1].at) else None, says)
    found.sort(key=lambda pair: max(pair[0], NEAR_SQUARE))
    return [*(one for _, one in found), *left_out(plan, joint, words("leave out joint {joint}", joint=joint.name))]


def left_out(plan: Plan, joint: PlannedJoint, says: Words) -> list[Remedy]:
    """A joint of the file left out, unless it is laid to something that would crack the slab without it."""
    return [] if is_laid_to(plan, joint) else [drop(joint.joint.place.path, says)]


def beside_corner(plan: Plan, panel: Panel, corner: XY) -> PlannedJoint | None:
    """The joint that makes a corner of a panel: it comes there and goes on along the rim; None where none comes."""
    joints = [joint for joint in plan.joints.all if joint.counts and math.hypot(*way_onto(joint, corner)) <= COMES_TO]
    rim = panel.polygon.boundary.intersection(shapely.Point(corner).buffer(2 * COMES_TO)).buffer(AT_CORNER)
    return max(joints, key=lambda one: round(rim.intersection(shapely.LineString(one.line)).length, 6), default=None)


def _other_side(panel: Panel, corner: XY, joint: PlannedJoint) -> XY:
    """The direction, of any length, of that side of a panel at a corner that lies not along a joint."""
    ring = panel.ring[:-1]
    at = min(range(len(ring)), key=lambda k: math.dist(ring[k], corner))
    sides = [(x - ring[at][0], y - ring[at][1]) for x, y in (ring[at - 1], ring[(at + 1) % len(ring)])]
    x, y = joint.line[-1][0] - joint.line[0][0], joint.line[-1][1] - joint.line[0][1]
    return max(sides, key=lambda side: abs(side[0] * y - side[1] * x) / math.hypot(*side))


def _middle_of(panel: Panel, corner: XY) -> XY:
    """A point within a panel near one of its corners."""
    near = panel.polygon.intersection(shapely.Point(corner).buffer(AT_CORNER))
    return near.centroid.x, near.centroid.y


def widened(plan: Plan, panel: Panel, by: float, says: Words) -> list[Remedy]:
    """Move the longest joint beside a panel over by ``by`` m, away from it."""
    joint = longest_beside(plan, panel)
    if joint is None or is_laid_to(plan, joint):
        return []
    middle = panel.polygon.centroid
    x, y = (-part for part in way_onto(joint, (middle.x, middle.y)))
    part = by / math.hypot(x, y)
    return [shifted(plan, joint, (x * part, y * part), says)]


def evened(plan: Plan, panel: Panel) -> list[Remedy]:
    """Move a joint beside a panel over to the middle between it and the panel beyond; the most uneven first."""
    found: list[tuple[float, Remedy]] = []
    for joint in _beside(plan, panel):
        middle = panel.polygon.centroid
        x, y = (-part for part in way_onto(joint, (middle.x, middle.y)))
        half = math.hypot(x, y)
        x, y = x / half, y / half
        foot = shapely.Point(middle.x + x * (half + JUST_BEYOND), middle.y + y * (half + JUST_BEYOND))
        beyond = next((one for one in plan.panels.all if one.polygon.contains(foot)), None)
        over = (_across(beyond, x, y) - _across(panel, x, y)) / 2 if beyond else 0.0
        if abs(over) > AT_CORNER and not is_laid_to(plan, joint):
            says = words("move joint {joint} over by {off}, to the middle", joint=joint.name, off=length(abs(over)))
            found.append((abs(over), shifted(plan, joint, (x * over, y * over), says)))
    return [remedy for _, remedy in sorted(found, key=lambda pair: -pair[0])]


def is_laid_to(plan: Plan, joint: PlannedJoint) -> bool:
    """Whether a joint is laid to something: a post, a column or a box-out, or the line where the thickness changes."""
    line = shapely.LineString(joint.line)
    for _, _, lines, _ in plan.thickness.changes:
        if any(line.intersection(shapely.LineString(one).buffer(AT_CORNER)).length > line.length / 2 for one in lines):
            return True
    return any(
        line.distance(shapely.Point(one.at)) < _reach(one.fixture)
        for one in plan.fixtures.all
        if one.inside and (one.fixture.box_out or one.fixture.kind in ("post", "column"))
    )


def _reach(fixture: Fixture) -> float:
    """How far from the middle of a post a joint lies that is laid to it, or to a corner of its box-out, m."""
    box = fixture.box_out_size.si * math.sqrt(0.5) + AT_CORNER if fixture.box_out_size else 0.0
    return max(ON_POST, box)


def _across(panel: Panel, x: float, y: float) -> float:
    """How wide a panel is in a direction (a unit vector), m."""
    along = [x * at[0] + y * at[1] for at in panel.ring]
    return max(along) - min(along)


def longest_beside(plan: Plan, panel: Panel) -> PlannedJoint | None:
    """The joint that lies along most of the rim of a panel."""
    return next(iter(_beside(plan, panel)), None)


def _beside(plan: Plan, panel: Panel) -> list[PlannedJoint]:
    """The joints along the rim of a panel, for at least half of its short side; the longest along it first."""
    rim = panel.polygon.boundary.buffer(AT_CORNER)
    joints = [joint for joint in plan.joints.all if joint.counts]
    shared = {id(joint): rim.intersection(shapely.LineString(joint.line)).length for joint in joints}
    beside = [joint for joint in joints if shared[id(joint)] > panel.short_side / 2]
    return sorted(beside, key=lambda joint: -shared[id(joint)])


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
