"""Joint ends that stop just short of what they should meet, or run just past it, brought to it.

Coordinates and distances are metres.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.noding import WELD, Floats, Ints, groups_within

RAY = 1.5  # an end is carried on along its own joint up to this many times the snap, else it goes to the nearest spot
PASSES = 5  # joints that lean on moved joints settle a hundredfold with each pass


class _Lines:
    """Segments with what they belong to, and a search tree over them."""

    def __init__(self, start: Floats, end: Floats, owner: Ints) -> None:
        self.start, self.end, self.owner = start, end, owner
        self.tree = shapely.STRtree(shapely.linestrings(np.stack([start, end], axis=1)))

    def near(self, point: Floats, reach: float) -> Ints:
        """Indices of segments within ``reach`` of a point."""
        found: Ints = self.tree.query(shapely.points(point), predicate="dwithin", distance=reach)
        return found


def segments(lines: Sequence[Floats]) -> tuple[Floats, Floats, Ints]:
    """Starts, ends and line index of every segment of the lines."""
    if not any(len(line) > 1 for line in lines):
        return np.empty((0, 2)), np.empty((0, 2)), np.empty(0, dtype=np.int64)
    owner = np.repeat(np.arange(len(lines)), [max(len(line) - 1, 0) for line in lines])
    return np.concatenate([line[:-1] for line in lines]), np.concatenate([line[1:] for line in lines]), owner


def bring_ends(slab: shapely.Polygon, joints: Sequence[Floats], snap: float) -> list[Floats]:
    """The joints with each loose end that is within ``snap`` of an edge, an opening or another joint brought to it.

    An end is carried on (or back) along its own joint where that gets it there, so that straight joints stay straight.
    An inside corner within ``snap`` draws the end to itself. Ends outside the slab, or touching something already,
    stay where they are. Ends near each other meet where their joints cross, or halfway.
    """
    lines = [np.array(joint) for joint in joints]
    index = np.array([j for j, line in enumerate(lines) if len(line) > 1 for _ in (0, 1)], dtype=np.int64)
    if not len(index):
        return lines
    side = np.tile([0, 1], len(index) // 2)
    ends = np.array([lines[j][-s] for j, s in zip(index, side, strict=True)])
    rim = _Lines(*segments([shapely.get_coordinates(ring) for ring in (slab.exterior, *slab.interiors)]))
    _, off = rim.tree.query_nearest(shapely.points(ends), all_matches=False, return_distance=True)
    free = (off > WELD) & shapely.contains_xy(slab, ends)
    group = groups_within(ends, WELD)
    if not free.any():
        return lines
    inner = np.array([lines[j][-2 if s else 1] for j, s in zip(index, side, strict=True)])
    leans = _touching(lines, ends, inner, index, group, free)
    free &= leans < 0
    members = {int(g): np.flatnonzero(group == g) for g in np.unique(group[free])}
    target = ends.copy()
    loose: list[int] = []
    corners = _inside_corners(slab)
    for g, member in members.items():
        point = ends[member[0]]
        if off[member[0]] > snap:
            loose.append(g)
            continue
        away = np.hypot(*(corners - point).T) if len(corners) else np.array([np.inf])
        if away.min() <= snap:
            target[member] = corners[int(away.argmin())]
        else:
            ray = _ray(lines, index, side, member)
            target[member] = _landing(rim, rim.near(point, RAY * snap), point, ray, snap)
        free[member] = False
    _meet(ends, target, lines, index, side, members, loose, free, snap)
    _place(lines, target, index, side)
    _lean(lines, ends, target, index, side, leans, members, free, snap)
    return [line[np.append(True, (np.diff(line, axis=0) != 0).any(axis=1))] for line in lines]


def _touching(
    lines: list[Floats], ends: Floats, inner: Floats, index: Ints, group: Ints, free: NDArray[np.bool_]
) -> Ints:
    """For each free end, the joint whose side it touches already (not its end, nor a joint along it), else -1."""
    body = _Lines(*segments(lines))
    which, segment = body.tree.query(shapely.points(ends[free]), predicate="dwithin", distance=WELD)
    end = np.flatnonzero(free)[which]
    across = ~_along(ends[end] - inner[end], body.end[segment] - body.start[segment])
    end, owner = end[across], body.owner[segment[across]]
    here = set(zip(group.tolist(), index.tolist(), strict=True))
    leans = np.full(len(ends), -1)
    for e, j in zip(end.tolist(), owner.tolist(), strict=True):
        if (int(group[e]), j) not in here and (leans[e] < 0 or j < leans[e]):
            leans[e] = j
    return leans


def _along(first: Floats, second: Floats) -> NDArray[np.bool_]:
    """Which directions run along each other, to within half a degree."""
    cross = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    along: NDArray[np.bool_] = np.abs(cross) <= 0.01 * np.hypot(*first.T) * np.hypot(*second.T)
    return along


def _inside_corners(slab: shapely.Polygon) -> Floats:
    """Vertices of the slab (k, 2) where it turns round something by more than an arc's chords do."""
    found = []
    oriented = shapely.orient_polygons(slab)
    for ring in (oriented.exterior, *oriented.interiors):
        xy = shapely.get_coordinates(ring)[:-1]
        before, after = xy - np.roll(xy, 1, axis=0), np.roll(xy, -1, axis=0) - xy
        cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
        found.append(xy[np.arctan2(cross, (before * after).sum(axis=1)) < -np.radians(12.0)])
    return np.concatenate(found)


def _ray(lines: list[Floats], index: Ints, side: Ints, member: Ints) -> Floats | None:
    """Outward direction of an end that stands alone (also of ends of equal joints), else None."""
    found = []
    for e in member:
        line = lines[index[e]] if side[e] else lines[index[e]][::-1]
        step = line[-1] - line[-2]
        found.append(step / np.hypot(*step))
    return found[0] if np.allclose(found, found[0], atol=1e-9) else None


def _landing(lines: _Lines, near: Ints, point: Floats, ray: Floats | None, snap: float) -> Floats:
    """Where an end comes to lie on the segments near it: along its own joint, else at the nearest spot."""
    start, step = lines.start[near], lines.end[near] - lines.start[near]
    if ray is not None:
        cross = ray[0] * step[:, 1] - ray[1] * step[:, 0]
        across = np.abs(cross) > 1e-9 * np.hypot(*step.T)
        to, step_across, cross = start[across] - point, step[across], cross[across]
        on = (to[:, 0] * step_across[:, 1] - to[:, 1] * step_across[:, 0]) / cross
        share = (to[:, 0] * ray[1] - to[:, 1] * ray[0]) / cross
        slack = WELD / np.hypot(*step_across.T)
        hit = (np.abs(on) <= RAY * snap) & (share >= -slack) & (share <= 1 + slack)
        if hit.any():
            best = int(np.argmin(np.where(hit, np.abs(on), np.inf)))
            return np.asarray(start[across][best] + np.clip(share[best], 0, 1) * step_across[best])
    share = np.clip(((point - start) * step).sum(axis=1) / (step**2).sum(axis=1), 0, 1)
    spots = start + share[:, None] * step
    return np.asarray(spots[int(np.argmin(np.hypot(*(spots - point).T)))])


def _meet(
    ends: Floats,
    target: Floats,
    lines: list[Floats],
    index: Ints,
    side: Ints,
    members: dict[int, Ints],
    loose: list[int],
    free: NDArray[np.bool_],
    snap: float,
) -> None:
    """Bring loose ends near each other to one spot, and take them off ``free``."""
    if len(loose) < 2:
        return
    spots = np.array([ends[members[g][0]] for g in loose])
    cluster = groups_within(spots, snap)
    for c in np.flatnonzero(np.bincount(cluster) > 1):
        rows = np.flatnonzero(cluster == c)
        sizes = np.array([len(members[loose[r]]) for r in rows])
        at = spots[rows].mean(axis=0)
        if (sizes == sizes.max()).sum() == 1:
            at = spots[rows[int(sizes.argmax())]]
        elif len(rows) == 2:
            rays = [_ray(lines, index, side, members[loose[r]]) for r in rows]
            if rays[0] is not None and rays[1] is not None:
                at = _crossing(spots[rows], rays[0], rays[1], snap, at)
        for r in rows:
            target[members[loose[r]]] = at
            free[members[loose[r]]] = False


def _crossing(spots: Floats, first: Floats, second: Floats, snap: float, otherwise: Floats) -> Floats:
    cross = float(first[0] * second[1] - first[1] * second[0])
    if abs(cross) < 0.1:
        return otherwise
    to = spots[1] - spots[0]
    at = spots[0] + first * (to[0] * second[1] - to[1] * second[0]) / cross
    return np.asarray(at) if np.hypot(*(spots - at).T).max() <= snap else otherwise


def _place(lines: list[Floats], target: Floats, index: Ints, side: Ints) -> None:
    for at, j, s in zip(target, index, side, strict=True):
        lines[j][-s] = at


def _lean(
    lines: list[Floats],
    ends: Floats,
    target: Floats,
    index: Ints,
    side: Ints,
    leans: Ints,
    members: dict[int, Ints],
    free: NDArray[np.bool_],
    snap: float,
) -> None:
    """Bring ends still loose to the side of a joint near them, and let ends follow a joint they touch when it moves."""
    body = _Lines(*segments(lines))
    onto: dict[int, tuple[Ints, int]] = {int(e): (np.array([e]), int(leans[e])) for e in np.flatnonzero(leans >= 0)}
    for member in members.values():
        if not free[member[0]]:
            continue
        near = body.near(ends[member[0]], snap)
        near = near[~np.isin(body.owner[near], index[member])]
        if len(near):
            apart = shapely.distance(body.tree.geometries[near], shapely.points(ends[member[0]]))
            ray = _ray(lines, index, side, member)
            if ray is not None:  # a joint along it is the last choice
                apart += np.where(_along(ray, body.end[near] - body.start[near]), snap, 0.0)
            onto[int(member[0])] = (member, int(body.owner[near[int(np.argmin(apart))]]))
    moved = set(index[(target != ends).any(axis=1)].tolist())
    waiting = {e for e in onto if free[e]}
    for _ in range(PASSES):
        due = [e for e, (_, on) in onto.items() if e in waiting or on in moved]
        waiting, moved_now = set(), set[int]()
        for e in due:
            member, on = onto[e]
            line = lines[on]
            if len(line) < 2 or (line[0] == line[-1]).all():
                continue
            only = _Lines(line[:-1], line[1:], np.zeros(len(line) - 1, dtype=np.int64))
            ray = _ray(lines, index, side, member)
            at = _landing(only, np.arange(len(line) - 1), target[e], ray, snap)
            if np.hypot(*(at - target[e])) > WELD / 100:
                target[member] = at
                _place(lines, target[member], index[member], side[member])
                moved_now |= set(index[member].tolist())
        moved = moved_now
        if not moved:
            break
