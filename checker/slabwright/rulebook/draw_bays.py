"""Remedies that cut panels into equal bays: each by itself, or all cuts of a file moved, with the fewest more."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise, product
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
import shapely

from slabwright.formulas.joints import NEAR_SQUARE, bays
from slabwright.geometry.joints.bays import along_middle, cuts
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.joints import PlannedJoint, way_onto
from slabwright.plan.panels import Panel
from slabwright.plan.plan import Plan
from slabwright.rulebook.draw_joints import (
    AT_CORNER,
    CUT_KINDS,
    JUST_BEYOND,
    ON_LINE,
    greatest_aspect,
    is_laid_to,
    like_those_there,
    new_joints,
    redraw,
)
from slabwright.rulebook.remedy import Remedy, together, together_told
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, count, length, meets

Bays = tuple[int, int]
MOST_AT_ONCE = 100  # panels cut by one remedy; a floor with more wants a new layout
MOST_BAYS = 400  # a panel typed a hundred times too long wants no drawing of its cuts
TOLD = 3  # joints told by name
SQUARE = 0.01  # the sine of half a degree: two cuts no further from parallel run the same way
BAYS_TRIED = 3  # numbers of bays each way that are tried, from the fewest
Chord = tuple[XY, XY]


def as_laid(panel: Panel) -> tuple[float, float]:
    """How long and how wide a panel is as joints are laid out, m: of one that bends, along its middle."""
    return along_middle(panel.ring) or (panel.long_side, panel.short_side)


def cut_panel(plan: Plan, panel: Panel, bays: Bays, every: Mapping[str, Bays] = MappingProxyType({})) -> Remedy:
    """Cut a panel into equal bays, so many along its long side and so many along its short side.

    Where a cut would end on another joint all panels are cut of which ``every`` tells the bays by name, and of one
    panel alone the cuts are carried on to the rim of the slab. Cuts of more than :data:`MOST_AT_ONCE` panels, or
    into more than :data:`MOST_BAYS` bays, are told, not drawn.
    """
    (along, across), few = bays, len(every) <= MOST_AT_ONCE
    cutting = max(along * across, sum(n * m for n, m in every.values()) if few else 0)
    others = [one for one in plan.panels.all if one.name in every] if few else []
    run, wide = as_laid(panel)
    bay, width = length(run / along), length(wide / across)
    told: str = "cut it across its long side into {n} bays of {bay}"
    values: dict[str, Value] = {"n": count(along), "bay": bay}
    if along_middle(panel.ring):
        told = "cut it square to its bend into {n} bays of {bay} along its middle"
    if across > 1:
        told = "cut it into {n} by {m} bays of {bay} by {width}"
        values |= {"m": count(across), "width": width}
    if not few:
        return Remedy(words(f"{told}, and the other long panels likewise", **values), ())
    if cutting > MOST_BAYS:
        return Remedy(words(told, **values), ())
    within = cuts(panel.ring, along, across)
    through = tuple((_rim_from(plan, end, start), _rim_from(plan, start, end)) for start, end in within)
    if through != within and len(others) > 1:
        told, within = (
            f"{told}, and the other long panels likewise",
            tuple(line for one in others for line in cuts(one.ring, *every[one.name])),
        )
    elif through != within:
        told, within = f"{told}, and carry the cuts on to the edge", through
    return new_joints(plan, within, words(told, **values))


def _rim_from(plan: Plan, start: XY, end: XY) -> XY:
    """Where a cut ends that goes on from ``end`` to the rim, unless a joint goes on from there already."""
    way = end[0] - start[0], end[1] - start[1]
    if plan.shape.slab.boundary.distance(shapely.Point(end)) <= AT_CORNER:
        return end
    on = JUST_BEYOND / math.hypot(*way)
    joint = plan.joints.closest((end[0] + way[0] * on, end[1] + way[1] * on))
    if joint and math.hypot(*way_onto(joint, (end[0] + way[0] * on, end[1] + way[1] * on))) <= AT_CORNER:
        return end
    return plan.shape.ahead(end, way) or end


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
