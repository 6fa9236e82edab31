"""Joints as they lie in the slab: unbroken parts, and what each end of a part meets.

Coordinates and lengths are metres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from slabwright.geometry.crossings import WELD, Floats, Ints
from slabwright.geometry.noding import among, distinct

XY = tuple[float, float]
Meets = Literal["edge", "opening", "crossing", "joint end", "joint side", "nothing"]

STRAIGHT_ON = np.cos(np.radians(15.0))  # a joint goes straight on when it turns less than this


@dataclass(frozen=True, slots=True)
class JointEndShape:
    """Where a joint stops: ``other`` is the index of the typed joint it meets (-1: none).

    "joint side": it stops at the side of a joint that goes on both ways. "crossing": the same, with a joint going
    straight on across it. "joint end": only ends meet, straight on or at a bend. ``gap`` is how far this end lies
    from where it was typed; 0 where a joint is cut in two by an opening.
    """

    at: XY
    meets: Meets
    other: int
    gap: float


@dataclass(frozen=True, slots=True, eq=False)
class JointShape:
    """One unbroken part of a typed joint inside the slab; a joint cut by an opening gives several, in typed order."""

    joint: int  # index of the typed joint
    xy: Floats  # (k, 2), in typed order, bends kept
    length: float
    ends: tuple[JointEndShape, JointEndShape]


@dataclass(frozen=True, slots=True, eq=False)
class Cuts:
    """Joint edges inside the slab, in order along each joint, and the ring each node lies on (-1: none)."""

    xy: Floats  # (n, 2)
    ring: Ints  # (n,) 0 the outline, 1.. openings
    joint: Ints  # (e,) typed joint
    segment: Ints  # (e,) straight part of the joints
    start: Ints  # (e,) node
    end: Ints  # (e,) node


@dataclass(frozen=True, slots=True, eq=False)
class _Ends:
    """Ends of the parts (2 i the first, 2 i + 1 the last of part i), and every edge as seen from either node."""

    edge: Ints  # (p,) the edge that ends here
    node: Ints  # (p,)
    ahead: Floats  # (p, 2) unit vector out of the joint
    facing: dict[int, list[int]]  # ends within the snap that point the opposite way
    from_node: Ints  # (2 e,) ascending
    to_node: Ints
    half_edge: Ints
    half_joint: Ints


def edge_keys(first: Ints, second: Ints, count: int) -> Ints:
    """One number for each edge between two of ``count`` nodes, whichever way it runs."""
    return np.asarray(np.minimum(first, second) * count + np.maximum(first, second))


def joint_parts(cuts: Cuts, typed: Sequence[Floats], snap: float) -> tuple[JointShape, ...]:
    """Unbroken chains of joint edges, with what their ends meet."""
    if not len(cuts.joint):
        return ()
    breaks = (cuts.joint[1:] != cuts.joint[:-1]) | (cuts.start[1:] != cuts.end[:-1])
    firsts = np.flatnonzero(np.append(True, breaks))
    lasts = np.append(firsts[1:], len(cuts.joint)) - 1
    joints = cuts.joint[firsts].tolist()
    ends = _ends(cuts, firsts, lasts, snap)
    parts = []
    for row, (first, last) in enumerate(zip(firsts.tolist(), lasts.tolist(), strict=True)):
        segment = cuts.segment[first : last + 1]
        bend = np.append(True, segment[1:] != segment[:-1])
        xy = np.concatenate([cuts.xy[cuts.start[first : last + 1][bend]], cuts.xy[cuts.end[last]][None, :]])
        line = typed[joints[row]]
        opens = row == 0 or joints[row - 1] != joints[row]
        closes = row == len(joints) - 1 or joints[row + 1] != joints[row]
        begin = _end(cuts, ends, 2 * row, line[0] if opens else None)
        finish = _end(cuts, ends, 2 * row + 1, line[-1] if closes else None)
        length = float(np.hypot(*np.diff(xy, axis=0).T).sum())
        parts.append(JointShape(joints[row], xy, length, (begin, finish)))
    return tuple(parts)


def _ends(cuts: Cuts, firsts: Ints, lasts: Ints, snap: float) -> _Ends:
    node = np.column_stack([cuts.start[firsts], cuts.end[lasts]]).ravel()
    back = np.column_stack([cuts.end[firsts], cuts.start[lasts]]).ravel()
    ahead = _unit(cuts.xy[node] - cuts.xy[back])
    points = shapely.points(cuts.xy[node])
    one, two = shapely.STRtree(points).query(points, predicate="dwithin", distance=snap)
    opposite = ((ahead[one] * ahead[two]).sum(axis=1) < -STRAIGHT_ON) & (node[one] != node[two])
    facing: dict[int, list[int]] = {}
    for a, b in zip(one[opposite].tolist(), two[opposite].tolist(), strict=True):
        facing.setdefault(a, []).append(b)
    from_node = np.concatenate([cuts.start, cuts.end])
    order = np.argsort(from_node, kind="stable")
    return _Ends(
        edge=np.column_stack([firsts, lasts]).ravel(),
        node=node,
        ahead=ahead,
        facing=facing,
        from_node=from_node[order],
        to_node=np.concatenate([cuts.end, cuts.start])[order],
        half_edge=np.tile(np.arange(len(cuts.joint)), 2)[order],
        half_joint=np.tile(cuts.joint, 2)[order],
    )


def _unit(vectors: Floats) -> Floats:
    return np.asarray(vectors / np.hypot(vectors[:, 0], vectors[:, 1])[:, None])


def _end(cuts: Cuts, ends: _Ends, end: int, typed: Floats | None) -> JointEndShape:
    at = cuts.xy[ends.node[end]]
    gap = 0.0 if typed is None else float(np.hypot(*(at - typed)))
    return JointEndShape((float(at[0]), float(at[1])), *_meets(cuts, ends, end), gap if gap > 2 * WELD else 0.0)


def _meets(cuts: Cuts, ends: _Ends, end: int) -> tuple[Meets, int]:
    ring = cuts.ring[ends.node[end]]
    if ring >= 0:
        return ("edge" if ring == 0 else "opening"), -1
    joints, ways = _around(cuts, ends, end)
    if not len(joints):
        return "nothing", -1
    ahead = ways @ ends.ahead[end]
    onward = ahead > STRAIGHT_ON
    aside = np.abs(ahead) <= STRAIGHT_ON
    straight = (ways[aside] @ ways[aside].T < -STRAIGHT_ON).any(axis=1)
    through = joints[aside][straight]
    if not len(through):  # a joint that bends here goes on both ways too
        names, counts = np.unique(joints[aside], return_counts=True)
        through = names[counts > 1]
    if not len(through):
        return "joint end", int((joints[onward] if onward.any() else joints).min())
    crossed = onward.any() or any(_across(cuts, ends, end, other, through) for other in ends.facing.get(end, ()))
    return ("crossing" if crossed else "joint side"), int(through.min())


def _around(cuts: Cuts, ends: _Ends, end: int) -> tuple[Ints, Floats]:
    """Joints and directions of the edges at an end, its own edge and those lying on it left out."""
    here = int(ends.node[end])
    low, high = np.searchsorted(ends.from_node, [here, here + 1])
    edge, to = ends.half_edge[low:high], ends.to_node[low:high]
    other = ~among(to, to[edge == ends.edge[end]])
    return ends.half_joint[low:high][other], _unit(cuts.xy[to[other]] - cuts.xy[here])


def _across(cuts: Cuts, ends: _Ends, end: int, other: int, through: Ints) -> bool:
    """Whether an end that points the opposite way stops at the same joint, beside this end rather than before it."""
    apart = cuts.xy[ends.node[other]] - cuts.xy[ends.node[end]]
    beside = abs(float(apart @ ends.ahead[end])) <= STRAIGHT_ON * float(np.hypot(*apart))
    return beside and bool(among(through, _around(cuts, ends, other)[0]).any())


def overlaps(cuts: Cuts) -> tuple[tuple[int, int, float], ...]:
    """Pairs of typed joints that lie on each other, with the length they share."""
    key = edge_keys(cuts.start, cuts.end, len(cuts.xy))
    order = np.argsort(key, kind="stable")
    same = np.flatnonzero(np.diff(key[order]) == 0)
    shared: dict[tuple[int, int], float] = {}
    for run in np.split(same, np.flatnonzero(np.diff(same) > 1) + 1) if len(same) else ():
        edges = order[run[0] : run[-1] + 2]
        length = float(np.hypot(*(cuts.xy[cuts.end[edges[0]]] - cuts.xy[cuts.start[edges[0]]])))
        names = distinct(cuts.joint[edges]).tolist()
        for i, one in enumerate(names):
            for two in names[i + 1 :]:
                shared[one, two] = shared.get((one, two), 0.0) + length
    return tuple((one, two, length) for (one, two), length in sorted(shared.items()))
