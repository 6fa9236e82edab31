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
from slabwright.rulebook.remedy import Remedy, together, together_told
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, count, length, meets

TOLD = 3  # joints told by name
SQUARE = 0.01  # the sine of half a degree: two cuts no further from parallel run the same way
BAYS_TRIED = 3  # numbers of bays each way that are tried, from the fewest
Chord = tuple[XY, XY]


class _Row(NamedTuple):
    """The cuts that run one way across a slab."""

    joints: tuple[PlannedJoint, ...]
    way: XY
    marks: tuple[float, ...]  # where they lie square to that way, between the first and the last of the slab, m


class EvenBays(NamedTuple):
    """Cuts spaced anew: the remedy, and into how many bays it cuts a run, m."""

    remedy: Remedy
    bays: int
    run: float


class _Anew(NamedTuple):
    """The cuts that run one way in so many bays, as they would lie: those moved and those besides."""

    bays: int
    moves: tuple[tuple[PlannedJoint, Chord], ...]
    new: tuple[Chord, ...]
    lines: tuple[Chord, ...]
    told: Words | None  # none: left as they are
    runs_through: bool  # each from rim to rim


def spaced_evenly(plan: Plan, longest: float, every: Mapping[str, Bays]) -> EvenBays | None:
    """The cuts of the file spaced anew, no bay over ``longest`` m, where less is cut so than in ``every`` long panel.

    These are told by name, with the bays that they are else cut into.

    None where the cuts do not all run from rim to rim along two ways square to each other, or one is laid to something;
    nor where inside corners say where cuts go.
    """
    joints = [one for one in plan.joints.all if one.counts]
    if not joints or len(joints) > MOST_AT_ONCE or plan.joints.channel_lines or plan.panels.inside_corners:
        return None
    if not all(_may_move(plan, one) for one in joints):
        return None
    (x0, y0), (x1, y1) = joints[0].line
    way = (x1 - x0) / joints[0].length, (y1 - y0) / joints[0].length
    rows = [_row(plan, joints, one) for one in (way, (-way[1], way[0]))]
    if sum(len(row.joints) for row in rows) < len(joints):
        return None
    least = [max(len(row.joints) + 1, bays(row.marks[-1] - row.marks[0], longest)) for row in rows]
    each_way = [
        [_in_bays(plan, row, n, longest) for n in range(fewest, fewest + BAYS_TRIED)]
        for row, fewest in zip(rows, least, strict=True)
    ]
    sides = {one.name: as_laid(one) for one in plan.panels.all if one.name in every}
    most = sum((n - 1) * sides[name][1] + (m - 1) * sides[name][0] for name, (n, m) in every.items()) - ON_LINE
    for layout in sorted(product(*each_way), key=_cut):
        if not (_cut(layout) < most and all(one.runs_through for one in layout) and any(one.told for one in layout)):
            continue
        lines = [np.array(line) for one in layout for line in one.lines]
        if meets(greatest_aspect(plan, lines), NEAR_SQUARE, "most"):
            row, first = next(pair for pair in zip(rows, layout, strict=True) if pair[1].told)
            return EvenBays(_remedy(plan, layout), first.bays, row.marks[-1] - row.marks[0])
    return None


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


def _in_bays(plan: Plan, row: _Row, n: int, longest: float) -> _Anew:
    """The cuts that run one way in ``n`` bays, left where they are if these are short enough."""
    if n == len(row.joints) + 1 and max(b - a for a, b in pairwise(row.marks)) < longest + ON_LINE:
        return _Anew(n, (), (), tuple((one.line[0], one.line[1]) for one in row.joints), None, True)
    bay = (row.marks[-1] - row.marks[0]) / n
    free = {row.marks[0] + bay * k: _chord(plan, row, row.marks[0] + bay * k) for k in range(1, n)}
    lines = tuple(chord for chord in free.values() if chord)
    moves: list[tuple[PlannedJoint, Chord]] = []
    for joint, mark in zip(row.joints, row.marks[1:-1], strict=True):
        if chord := free.pop(min(free, key=lambda spot: abs(spot - mark))):
            moves.append((joint, chord))
    new = tuple(chord for chord in free.values() if chord)
    return _Anew(n, tuple(moves), new, lines, _told(row.joints, n, length(bay)), len(lines) == n - 1)


def _cut(layout: Sequence[_Anew]) -> float:
    """How much it cuts that was not drawn, m."""
    return sum(math.dist(*chord) for one in layout for chord in one.new)


def _remedy(plan: Plan, layout: Sequence[_Anew]) -> Remedy:
    says = together_told([one.told for one in layout if one.told])
    moved = [redraw(plan, joint, chord, says) for one in layout for joint, chord in one.moves]
    new = [chord for one in layout for chord in one.new]
    return together(*moved, *([like_those_there(plan, new, says)] if new else []), says=says)


def _told(joints: Sequence[PlannedJoint], n: int, bay: Amount) -> Words:
    if not joints:
        return words("cut the slab across them into {n} bays of {bay}", n=count(n), bay=bay)
    names, more = [one.joint.name for one in sorted(joints, key=lambda one: one.joint.place)], n - 1 - len(joints)
    like = [f"{len(names) - TOLD} like them"] if len(names) > TOLD else []
    *first, last = [*names[:TOLD], *like, *([f"{more} more"] if more else [])]
    told = f"space joint{'s' if len(names) > 1 else ''} {{joints}} evenly, in {{n}} bays of {{bay}}"
    return words(told, joints=f"{', '.join(first)} and {last}" if first else last, n=count(n), bay=bay)


def _chord(plan: Plan, row: _Row, mark: float) -> Chord | None:
    """The cut that runs one way across the slab; None where it would fall into several."""
    (x, y), (left, low, right, high) = row.way, plan.shape.slab.bounds
    far = math.hypot(right - left, high - low)
    middle = x * (left + right) / 2 + y * (low + high) / 2
    ends = [(x * at - y * mark, y * at + x * mark) for at in (middle - far, middle + far)]
    cut = shapely.intersection(plan.shape.slab, shapely.LineString(ends))
    if not isinstance(cut, shapely.LineString) or cut.is_empty:
        return None
    return as_xy(cut.coords[0]), as_xy(cut.coords[-1])
