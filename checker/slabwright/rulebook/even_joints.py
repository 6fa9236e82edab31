"""A remedy that spaces the cuts of a file anew: all of them moved to equal bays, with the fewest more."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise, product
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.formulas.joints import NEAR_SQUARE, bays
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.plan import Plan
from slabwright.rulebook.draw_joints import (
    CUT_KINDS,
    MOST_AT_ONCE,
    ON_LINE,
    Bays,
    as_laid,
    greatest_aspect,
    is_laid_to,
    like_those_there,
    redraw,
)
from slabwright.rulebook.remedy import Append, Remedy, together, together_told
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, count, length, meets

TOLD = 3  # joints told by name
SQUARE = 0.01  # the sine of half a degree: two cuts no further from parallel run the same way
BAYS_TRIED = 3  # numbers of bays each way that are tried, from the fewest


class _Row(NamedTuple):
    """The cuts that run one way across a slab."""

    joints: tuple[PlannedJoint, ...]
    way: XY
    marks: tuple[float, ...]  # where they lie square to that way, between the first and the last of the slab, m


def spaced_evenly(plan: Plan, longest: float, every: Mapping[str, Bays]) -> list[Remedy]:
    """The cuts of the file spaced anew, no bay over ``longest`` m, where less is cut so than in ``every`` long panel.

    These are told by name, with the bays that they are else cut into.

    None where the cuts do not all run from rim to rim along two ways square to each other, or one is laid to something.
    """
    joints = [one for one in plan.joints.all if one.counts]
    if not joints or len(joints) > MOST_AT_ONCE or plan.joints.channel_lines:
        return []
    if not all(_may_move(plan, one) for one in joints):
        return []
    (x0, y0), (x1, y1) = joints[0].line
    way = (x1 - x0) / joints[0].length, (y1 - y0) / joints[0].length
    rows = [_row(plan, joints, one) for one in (way, (-way[1], way[0]))]
    if sum(len(row.joints) for row in rows) < len(joints):
        return []
    least = [max(len(row.joints) + 1, bays(row.marks[-1] - row.marks[0], longest)) for row in rows]
    ways = (_in_bays(plan, rows, every, longest) for every in product(*(range(n, n + BAYS_TRIED) for n in least)))
    best = min(filter(None, ways), key=_cut, default=None)
    sides = {one.name: as_laid(one) for one in plan.panels.all if one.name in every}
    each = sum((n - 1) * sides[name][1] + (m - 1) * sides[name][0] for name, (n, m) in every.items())
    return [best] if best and _cut(best) < each - ON_LINE else []


def _may_move(plan: Plan, joint: PlannedJoint) -> bool:
    from_rim_to_rim = len(joint.line) == 2 and all(end.meets == "edge" for end in joint.ends)
    return from_rim_to_rim and joint.joint.kind in CUT_KINDS and not is_laid_to(plan, joint)


def _row(plan: Plan, joints: Sequence[PlannedJoint], way: XY) -> _Row:
    def across(at: XY) -> float:
        return way[0] * at[1] - way[1] * at[0]

    along = [one for one in joints if abs(across(one.line[1]) - across(one.line[0])) < SQUARE * one.length]
    along.sort(key=lambda one: across(one.line[0]))
    rim = [across(as_xy(at)) for at in plan.shape.slab.exterior.coords]
    return _Row(tuple(along), way, (min(rim), *(across(one.line[0]) for one in along), max(rim)))


def _in_bays(plan: Plan, rows: Sequence[_Row], every: Sequence[int], longest: float) -> Remedy | None:
    """The cuts in so many bays each way; None where one would not run from rim to rim, or bays would be long strips."""
    told: list[Words] = []
    moves: list[tuple[PlannedJoint, tuple[XY, XY]]] = []
    new: list[tuple[XY, XY]] = []
    lines: list[np.ndarray] = []
    for row, n in zip(rows, every, strict=True):
        if n == len(row.joints) + 1 and max(b - a for a, b in pairwise(row.marks)) < longest + ON_LINE:
            lines += [np.array(one.line) for one in row.joints]
            continue
        bay = (row.marks[-1] - row.marks[0]) / n
        free = {row.marks[0] + bay * k: _chord(plan, row, row.marks[0] + bay * k) for k in range(1, n)}
        for joint, mark in zip(row.joints, row.marks[1:-1], strict=True):
            near = min(free, key=lambda spot: abs(spot - mark))
            if chord := free.pop(near):
                moves.append((joint, chord))
                lines.append(np.array(chord))
        new += filter(None, free.values())
        lines += [np.array(chord) for chord in free.values() if chord]
        told.append(_told(row.joints, n, length(bay)))
    if len(lines) < sum(every) - len(every) or not told:
        return None
    if not meets(greatest_aspect(plan, lines), NEAR_SQUARE, "most"):
        return None
    says = together_told(told)
    moved = [redraw(plan, joint, chord, says) for joint, chord in moves]
    return together(*moved, *([like_those_there(plan, new, says)] if new else []), says=says)


def _told(joints: Sequence[PlannedJoint], n: int, bay: Amount) -> Words:
    if not joints:
        return words("cut the slab across them into {n} bays of {bay}", n=count(n), bay=bay)
    names, more = [one.joint.name for one in sorted(joints, key=lambda one: one.joint.place)], n - 1 - len(joints)
    like = [f"{len(names) - TOLD} like them"] if len(names) > TOLD else []
    *first, last = [*names[:TOLD], *like, *([f"{more} more"] if more else [])]
    told = f"space joint{'s' if len(names) > 1 else ''} {{joints}} evenly, in {{n}} bays of {{bay}}"
    return words(told, joints=f"{', '.join(first)} and {last}" if first else last, n=count(n), bay=bay)


def _chord(plan: Plan, row: _Row, mark: float) -> tuple[XY, XY] | None:
    """The cut that runs one way across the slab; None where it would fall into several."""
    (x, y), (left, low, right, high) = row.way, plan.shape.slab.bounds
    far = math.hypot(right - left, high - low)
    middle = x * (left + right) / 2 + y * (low + high) / 2
    ends = [(x * at - y * mark, y * at + x * mark) for at in (middle - far, middle + far)]
    cut = shapely.intersection(plan.shape.slab, shapely.LineString(ends))
    if not isinstance(cut, shapely.LineString) or cut.is_empty:
        return None
    return as_xy(cut.coords[0]), as_xy(cut.coords[-1])


def _cut(remedy: Remedy) -> float:
    """How much a remedy cuts that was not drawn, m."""
    ends = [dict(edit.entry) for edit in remedy.edits if isinstance(edit, Append)]
    return sum(_between(one["from"], one["to"]) for one in ends)


def _between(start: object, end: object) -> float:
    assert isinstance(start, tuple) and isinstance(end, tuple)  # as `place_of` makes them
    return math.dist([one.si for one in start], [one.si for one in end])
