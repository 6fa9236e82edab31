"""Small moves of cuts that mend what a layout still breaks, and cuts left out that nothing asks for."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from slabwright.geometry.xy import XY
from slabwright.proposals.layout.cuts import AT_VERTEX, Fault, Judged, Line, Slab

SHIFTS = (0.1524, 0.3048, 0.6096, 1.2192)  # m, 6 in to 4 ft
TURNS = (5.0, 10.0, 15.0)  # degrees
LAST = (
    0.9144  # m, 3 ft: of a cut that turns to meet an edge square; by more than the greatest turn a panel gets a notch
)
BESIDE = 0.02  # m: a cut this near to a panel bounds it
FAULTS_TRIED = 4
BETTER = 1e-6

Lines = tuple[Line, ...]


def mended(slab: Slab, start: Judged, most: int) -> Judged:
    """The layout after the best small moves, one after the other, until none helps or ``most`` layouts were judged."""
    best, end = start, slab.judged + most
    while best.faults and slab.judged < end:
        better = _better(slab, best, end)
        if better is None:
            break
        best = better
    return best


def pruned(slab: Slab, start: Judged) -> Judged:
    """The layout without the cuts that nothing asks for, the longest of them left out first."""
    best = start
    for line in sorted(start.lines, key=_length, reverse=True):
        without = slab.judge([one for one in best.lines if one is not line])
        if without.cost[0] <= best.cost[0] + BETTER and without.length < best.length:
            best = without
    return best


def _better(slab: Slab, now: Judged, end: int) -> Judged | None:
    for fault in sorted(now.faults, key=lambda one: -one.price)[:FAULTS_TRIED]:
        tried: dict[Lines, Judged] = {}
        for lines in _moves(slab, now.lines, fault):
            if lines not in tried:
                tried[lines] = slab.judge(lines)
                if tried[lines].cost[0] <= now.cost[0] - fault.price + BETTER:
                    return tried[lines]  # it mends this one, and breaks nothing else
            if slab.judged >= end:
                break
        best = min(tried.values(), key=lambda one: one.cost, default=now)
        if best.cost[0] < now.cost[0] - BETTER:
            return best
    return None


def _moves(slab: Slab, lines: Lines, fault: Fault) -> Iterator[Lines]:
    if fault.must is not None:
        yield from _onto(slab, lines, fault)
        return
    panel = shapely.Polygon(fault.ring)
    beside = [line for line in lines if _runs_beside(line, panel)]
    if fault.rule == "panel-corners" and math.dist(fault.at, (panel.centroid.x, panel.centroid.y)) > BESIDE:
        near = [line for line in lines if shapely.LineString(line).distance(shapely.Point(fault.at)) < BESIDE]
        for line in near:
            rest = _without(lines, line)
            for other in (*_bent(slab, line, fault.at), *_skewed(slab, line), *_turned(slab, line)):
                yield (*rest, other)
    else:
        for part in _splits(slab, panel):
            yield (*lines, *part)
            for line in beside:
                yield (*_without(lines, line), *part)
    for line in beside:
        rest = _without(lines, line)
        yield rest
        for moved in (*_shifted(slab, line), *_skewed(slab, line)):
            yield (*rest, moved)


def _without(lines: Lines, line: Line) -> Lines:
    return tuple(one for one in lines if one is not line)


def _onto(slab: Slab, lines: Lines, fault: Fault) -> Iterator[Lines]:
    """A cut through a place that none comes to: a new one, or the nearest moved or turned."""
    at, must = fault.at, fault.must
    ways = {(1.0, 0.0), (0.0, 1.0), *_square_to(slab, at)}
    if must is not None:
        ways |= {(x / math.hypot(x, y), y / math.hypot(x, y)) for x, y in must.ways if math.hypot(x, y) > 0}
        if len(must.ways) == 2:
            units = [np.array(way) / math.hypot(*way) for way in must.ways if math.hypot(*way) > 0]
            both = sum(units, start=np.zeros(2))
            ways.add((float(both[0]), float(both[1])))
    spot = shapely.Point(at)
    near = sorted(lines, key=lambda line: shapely.LineString(line).distance(spot))[:3]
    for way in sorted(ways):
        through = [line for line in slab.chords(at, way) if shapely.LineString(line).distance(spot) < AT_VERTEX]
        for new in [[one] for one in through] + ([through] if len(through) > 1 else []):
            yield (*lines, *new)
            for line in near:
                yield (*_without(lines, line), *new)
    for line in near:
        rest = _without(lines, line)
        (x0, y0), (x1, y1) = line[0], line[-1]
        for other in slab.chords(at, (x1 - x0, y1 - y0)):
            if shapely.LineString(other).distance(spot) < AT_VERTEX:
                yield (*rest, other)
        for end in (line[0], line[-1]):
            if (turned := slab.chord_between(at, end)) is not None:
                yield (*rest, turned)


def _square_to(slab: Slab, at: XY) -> Iterator[XY]:
    """Directions square to the sides of the slab nearest to a place."""
    start, step = slab.sides[:, 0], slab.sides[:, 1] - slab.sides[:, 0]
    long = np.hypot(*step.T)
    share = np.clip(((np.array(at) - start) * step).sum(axis=1) / np.maximum(long, 1e-12) ** 2, 0, 1)
    away = np.hypot(*(start + share[:, None] * step - at).T)
    for index in np.argsort(away, kind="stable")[:2].tolist():
        if long[index] > AT_VERTEX:
            yield float(-step[index, 1] / long[index]), float(step[index, 0] / long[index])


def _splits(slab: Slab, panel: shapely.Polygon) -> Iterator[list[Line]]:
    """Cuts that halve a panel across its long side, carried on to the rim on both sides."""
    box = shapely.get_coordinates(shapely.oriented_envelope(panel))[:4]
    first, second = box[1] - box[0], box[3] - box[0]
    long, short = (first, second) if np.hypot(*first) >= np.hypot(*second) else (second, first)
    center = box.mean(axis=0)
    for part in (0.0, -1 / 6, 1 / 6):
        at = center + part * long
        for way in (short, np.array([0.0, 1.0]), np.array([1.0, 0.0])):
            yield [
                line for line in slab.chords((float(at[0]), float(at[1])), (float(way[0]), float(way[1])))
                if shapely.LineString(line).intersection(panel).length > BESIDE
            ]  # fmt: skip


def _shifted(slab: Slab, line: Line) -> Iterator[Line]:
    (x0, y0), (x1, y1) = line[0], line[-1]
    for dx, dy in _sideways(line):
        moved = slab.chord_between((x0 + dx, y0 + dy), (x1 + dx, y1 + dy))
        if moved is not None:
            yield moved


def _sideways(line: Line) -> Iterator[XY]:
    """Steps square to the way from end to end of a line, to the left and to the right of it in turn."""
    (x0, y0), (x1, y1) = line[0], line[-1]
    size = math.dist(line[0], line[-1])
    nx, ny = -(y1 - y0) / size, (x1 - x0) / size
    for shift in SHIFTS:
        yield from ((nx * by, ny * by) for by in (shift, -shift))


def _skewed(slab: Slab, line: Line) -> Iterator[Line]:
    """One end moved sideways, the other kept."""
    (x0, y0), (x1, y1) = line[0], line[-1]
    for dx, dy in _sideways(line):
        for ends in (((x0 + dx, y0 + dy), (x1, y1)), ((x0, y0), (x1 + dx, y1 + dy))):
            if (moved := slab.chord_between(*ends)) is not None:
                yield moved


def _turned(slab: Slab, line: Line) -> Iterator[Line]:
    """The whole cut turned about its middle."""
    (x0, y0), (x1, y1) = line[0], line[-1]
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    for turn in TURNS:
        for by in (turn, -turn):
            way = _rotated((x1 - x0, y1 - y0), by)
            ends = (middle[0] - way[0] / 2, middle[1] - way[1] / 2), (middle[0] + way[0] / 2, middle[1] + way[1] / 2)
            if (moved := slab.chord_between(*ends)) is not None:
                yield moved


def _bent(slab: Slab, line: Line, at: XY) -> Iterator[Line]:
    """The last 3 ft of a cut turned at the end that lies at a place."""
    back = math.dist(line[0], at) < math.dist(line[-1], at)
    points = line[::-1] if back else line
    if math.dist(points[-1], at) > BESIDE or math.dist(points[-2], points[-1]) < 2 * LAST:
        return
    (x0, y0), (x1, y1) = points[-2:]
    size = math.dist(points[-2], points[-1])
    way = (x1 - x0) / size, (y1 - y0) / size
    pivot = x1 - way[0] * LAST, y1 - way[1] * LAST
    for turn in TURNS:
        for by in (turn, -turn):
            ahead = _rotated(way, by)
            ends = [end for start, end in slab.chords(pivot, ahead) if _between(start, pivot, end)]
            if ends:
                bent = (*points[:-1], pivot, ends[0])
                yield bent[::-1] if back else bent


def _rotated(way: XY, degrees: float) -> XY:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return way[0] * c - way[1] * s, way[0] * s + way[1] * c


def _between(a: XY, at: XY, b: XY) -> bool:
    return (a[0] - at[0]) * (b[0] - at[0]) + (a[1] - at[1]) * (b[1] - at[1]) < 0


def _runs_beside(line: Line, panel: shapely.Polygon) -> bool:
    drawn = shapely.LineString(line)
    return bool(
        panel.distance(drawn) < BESIDE and drawn.intersection(panel.boundary.buffer(BESIDE)).length > 10 * BESIDE
    )


def _length(line: Sequence[XY]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(line))
