"""Joint ends that stop just short of what they should meet, or run just past it, brought to it.

Coordinates and distances are meters.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.joints.crossings import LEAST_SQUARE, WELD, Floats, Ints, groups_within
from slabwright.geometry.shape.noding import among, distinct

RAY = 1.5  # an end is carried on along its own joint up to this many times the snap, else it goes to the nearest spot
TOUCH = WELD / 2  # an end nearer than this touches already; well inside the weld, so that cutting sees it so too
PASSES = 5  # joints that lean on moved joints settle a hundredfold with each pass
INSIDE_CORNER = np.radians(12.0)  # more than chords of an arc turn

Bools = NDArray[np.bool_]


class Lines(NamedTuple):
    """Segments, what they belong to, and a search tree over them."""

    start: Floats  # (m, 2)
    end: Floats  # (m, 2)
    owner: Ints  # (m,) index of the line
    tree: shapely.STRtree


class _Ends(NamedTuple):
    """Both ends of every joint that has a length; ends at one spot share a ``group``."""

    at: Floats  # (e, 2) as typed
    joint: Ints  # (e,)
    last: Bools  # (e,) the last point of its joint, else the first
    ahead: Floats  # (e, 2) unit vector out of the joint
    reach: Floats  # (e,) length of the joint's outermost straight part
    group: Ints  # (e,)


def segments(lines: Sequence[Floats]) -> tuple[Floats, Floats, Ints]:
    """Starts, ends and line index of every segment of the lines."""
    if not any(len(line) > 1 for line in lines):
        return np.empty((0, 2)), np.empty((0, 2)), np.empty(0, dtype=np.int64)
    owner = np.repeat(np.arange(len(lines)), [max(len(line) - 1, 0) for line in lines])
    return np.concatenate([line[:-1] for line in lines]), np.concatenate([line[1:] for line in lines]), owner


def moves(line: Floats) -> Bools:
    """Points of a line that lie farther than a micron from the one before; the first always counts."""
    return np.array([True, *(math.dist(*side) > WELD for side in pairwise(line.tolist()))])


def bring_ends(slab: shapely.Polygon, joints: Sequence[Floats], snap: float) -> list[Floats]:
    """The joints with each loose end that is within ``snap`` of an edge, an opening or another joint brought to it.

    An end is carried on (or back) along its own joint where that gets it there, so that straight joints stay straight.
    An inside corner within ``snap`` draws the end to itself. Ends outside the slab, or touching something already,
    stay where they are. Loose ends near each other meet where their joints cross, or halfway.
    """
    lines = [np.array(joint) for joint in joints]
    if not any(len(line) > 1 for line in lines):
        return lines
    at = np.array([tip for line in lines if len(line) > 1 for tip in (line[0], line[-1])])
    rim = _lines([shapely.get_coordinates(ring) for ring in (slab.exterior, *slab.interiors)])
    _, off = rim.tree.query_nearest(shapely.points(at), all_matches=False, return_distance=True)
    if (off <= TOUCH).all():  # as on most plans
        return lines
    ends = _ends(lines, at)
    free = (off > TOUCH) & shapely.contains_xy(slab, at)
    body = _lines(lines)
    leans = _touching(body, ends, free)
    held = among(ends.group, ends.group[~free | (leans >= 0)])
    groups = _by_group(ends, ~held)
    target = ends.at.copy()
    by_rim = [member for member in groups if off[member[0]] <= snap]
    _to_rim(slab, rim, ends, by_rim, target, snap)
    apart = _together(ends, [member for member in groups if off[member[0]] > snap], target, snap)
    _place(lines, ends, target, np.arange(len(target)))
    _onto_sides(lines, ends, leans, apart, target, snap)
    return [line[moves(line)] for line in lines]


def _lines(lines: Sequence[Floats]) -> Lines:
    start, end, owner = segments(lines)
    return Lines(start, end, owner, shapely.STRtree(shapely.linestrings(np.stack([start, end], axis=1))))


def _ends(lines: Sequence[Floats], at: Floats) -> _Ends:
    joints = [j for j, line in enumerate(lines) if len(line) > 1]
    inner = np.array([tip for j in joints for tip in (lines[j][1], lines[j][-2])])
    reach = np.hypot(*(at - inner).T)
    last = np.tile([False, True], len(joints))
    return _Ends(at, np.repeat(joints, 2), last, (at - inner) / reach[:, None], reach, groups_within(at, WELD))


def _by_group(ends: _Ends, which: Bools) -> list[Ints]:
    """Indices of the chosen ends, one array for each spot."""
    rows = np.flatnonzero(which)
    rows = rows[np.argsort(ends.group[rows], kind="stable")]
    return np.split(rows, np.flatnonzero(np.diff(ends.group[rows])) + 1) if len(rows) else []


def _foreign(ends: _Ends, rows: Ints, joint: Ints) -> Bools:
    """Whether each joint has no end at the spot of each end (rows)."""
    size = int(ends.joint.max()) + 1
    return ~among(ends.group[rows] * size + joint, ends.group * size + ends.joint)


def _along(first: Floats, second: Floats) -> Bools:
    """Which directions run along each other, to within half a degree."""
    cross = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    along: Bools = np.abs(cross) <= 0.01 * np.hypot(*first.T) * np.hypot(*second.T)
    return along


def _touching(body: Lines, ends: _Ends, free: Bools) -> Ints:
    """For each free end, the joint whose side it touches already (not its end, nor a joint along it), else -1."""
    which, segment = body.tree.query(shapely.points(ends.at[free]), predicate="dwithin", distance=TOUCH)
    end, joint = np.flatnonzero(free)[which], body.owner[segment]
    touches = _foreign(ends, end, joint) & ~_along(ends.ahead[end], body.end[segment] - body.start[segment])
    leans = np.full(len(ends.at), len(ends.at))
    np.minimum.at(leans, end[touches], joint[touches])
    return np.where(leans == len(ends.at), -1, leans)


def _to_rim(
    slab: shapely.Polygon, rim: Lines, ends: _Ends, groups: Sequence[Ints], target: Floats, snap: float
) -> None:
    """Move ends near an edge or opening to it, to an inside corner first."""
    corners = _inside_corners(slab)
    for member in groups:
        point = ends.at[member[0]]
        away = np.hypot(*(corners - point).T)
        if len(corners) and away.min() <= snap:
            target[member] = corners[int(away.argmin())]
        else:
            near = rim.tree.query(shapely.points(point), predicate="dwithin", distance=RAY * snap)
            target[member] = _landing(rim.start[near], rim.end[near], point, ends, member, snap)


def _inside_corners(slab: shapely.Polygon) -> Floats:
    """Vertices of the slab (k, 2) where it turns round something by more than an arc's chords do."""
    found = []
    oriented = shapely.orient_polygons(slab)
    for ring in (oriented.exterior, *oriented.interiors):
        xy = shapely.get_coordinates(ring)[:-1]
        before, after = xy - np.roll(xy, 1, axis=0), np.roll(xy, -1, axis=0) - xy
        cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
        found.append(xy[np.arctan2(cross, (before * after).sum(axis=1)) < -INSIDE_CORNER])
    return np.concatenate(found)


def _ray(ends: _Ends, member: Ints) -> Floats | None:
    """Outward direction of an end that stands alone (or with ends of joints along it), else None."""
    ahead = ends.ahead[member]
    return np.asarray(ahead[0]) if np.allclose(ahead, ahead[0], rtol=0, atol=1e-9) else None


def _landing(start: Floats, end: Floats, point: Floats, ends: _Ends, member: Ints, snap: float) -> Floats:
    """Where an end comes to lie on the segments near it: along its own joint, else at the nearest spot."""
    step = end - start
    ray = _ray(ends, member)
    if ray is not None:
        cross = ray[0] * step[:, 1] - ray[1] * step[:, 0]
        across = ~_along(step, ray)
        to, over, cross = start[across] - point, step[across], cross[across]
        on = (to[:, 0] * over[:, 1] - to[:, 1] * over[:, 0]) / cross
        share = (to[:, 0] * ray[1] - to[:, 1] * ray[0]) / cross
        slack = WELD / np.hypot(*over.T)
        back = min(RAY * snap, float(ends.reach[member].min()) / 2)
        hit = (on <= RAY * snap) & (on >= -back) & (share >= -slack) & (share <= 1 + slack)
        if hit.any():
            best = int(np.argmin(np.where(hit, np.abs(on), np.inf)))
            return np.asarray(start[across][best] + np.clip(share[best], 0, 1) * over[best])
    share = np.clip(((point - start) * step).sum(axis=1) / np.maximum((step**2).sum(axis=1), LEAST_SQUARE), 0, 1)
    spots = start + share[:, None] * step
    return np.asarray(spots[int(np.argmin(np.hypot(*(spots - point).T)))])


def _together(ends: _Ends, groups: Sequence[Ints], target: Floats, snap: float) -> list[Ints]:
    """Bring loose ends near each other to one spot; returns those that have none near."""
    spots = np.array([ends.at[member[0]] for member in groups]).reshape(-1, 2)
    cluster = groups_within(spots, snap)
    alone = np.bincount(cluster, minlength=1)[cluster] == 1
    for c in distinct(cluster[~alone]):
        near = [groups[row] for row in np.flatnonzero(cluster == c).tolist()]
        sizes = [len(member) for member in near]
        most = near[sizes.index(max(sizes))]
        target[np.concatenate(near)] = _between(ends, near, snap) if sizes.count(len(most)) > 1 else ends.at[most[0]]
    return [member for member, single in zip(groups, alone, strict=True) if single]


def _between(ends: _Ends, near: Sequence[Ints], snap: float) -> Floats:
    """Where ends meet: two at the crossing of their joints if that is near both, else all halfway."""
    spots = np.array([ends.at[member[0]] for member in near])
    halfway = np.asarray(spots.mean(axis=0))
    first, second = (_ray(ends, member) for member in near[:2])
    if len(near) > 2 or first is None or second is None or bool(_along(first, second)):
        return halfway
    cross = float(first[0] * second[1] - first[1] * second[0])
    to = spots[1] - spots[0]
    at = np.asarray(spots[0] + first * (to[0] * second[1] - to[1] * second[0]) / cross)
    return at if np.hypot(*(spots - at).T).max() <= snap else halfway


def _place(lines: list[Floats], ends: _Ends, target: Floats, rows: Ints) -> None:
    for row in rows:
        lines[ends.joint[row]][-1 if ends.last[row] else 0] = target[row]


def _onto_sides(
    lines: list[Floats], ends: _Ends, leans: Ints, apart: Sequence[Ints], target: Floats, snap: float
) -> None:
    """Bring ends still loose to the side of a joint near them, and let ends follow a joint they touch when it moves."""
    onto = [(np.array([row]), int(leans[row])) for row in np.flatnonzero(leans >= 0)]
    due = list(_nearest_sides(_lines(lines), ends, apart, snap))
    onto += due
    moved = set(ends.joint[(target != ends.at).any(axis=1)].tolist())
    due += [pair for pair in onto if pair[1] in moved]
    for _ in range(PASSES):
        moved = set()
        for member, on in due:
            line = lines[on]
            at = _landing(line[:-1], line[1:], target[member[0]], ends, member, snap) if moves(line)[1:].all() else None
            if at is not None and np.hypot(*(at - target[member[0]])) > WELD / 100:
                target[member] = at
                _place(lines, ends, target, member)
                moved |= set(ends.joint[member].tolist())
        due = [pair for pair in onto if pair[1] in moved]
        if not due:
            break


def _nearest_sides(body: Lines, ends: _Ends, apart: Sequence[Ints], snap: float) -> list[tuple[Ints, int]]:
    """Loose ends with the joint nearest to each; a joint along the end is the last choice."""
    rows = np.array([member[0] for member in apart], dtype=np.int64)
    points = shapely.points(ends.at[rows])
    which, segment = body.tree.query(points, predicate="dwithin", distance=snap)
    other = _foreign(ends, rows[which], body.owner[segment])
    which, segment = which[other], segment[other]
    far = shapely.distance(points[which], body.tree.geometries[segment])
    far += np.where(_along(ends.ahead[rows[which]], body.end[segment] - body.start[segment]), snap, 0.0)
    order = np.lexsort([body.owner[segment], far, which])
    first = order[np.flatnonzero(np.diff(which[order], prepend=-1))]
    return [(apart[which[row]], int(body.owner[segment[row]])) for row in first]
