"""A layout of joints for a slab: grids first, then fans, then small moves of the best of both."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from slabwright.formulas.joints import bays
from slabwright.geometry.xy import XY
from slabwright.proposals.layout.asked import Asked
from slabwright.proposals.layout.cuts import Judged, Line, Slab
from slabwright.proposals.layout.repair import mended, pruned
from slabwright.proposals.layout.stations import grids, lines_of

REVIEWED = 30  # grids judged on true panels, the cheapest first
PRUNED = 4  # of those without fault
DEAR = 1.4  # times the cutting of a plain grid: a layout that takes more is not the end of the search
MENDED = 10  # starts that are mended
MOVES = 350  # layouts judged in mending each of them
FEW = 25  # panels of the longest side: with more, fewer layouts are judged, for each takes longer
DIRECTIONS = 3  # of the slab's sides, along which grids are laid
ALIKE = 2.0  # degrees: directions that differ by less are one
CORNER = 20.0  # degrees: the outline of a four-sided slab turns by more at its corners, and by less between them
IN_LINE = 1e-4  # m


def layout(asked: Asked, mend: bool = True) -> Judged:
    """The best layout found: without fault and with the least cutting, or else with the lightest faults.

    Without ``mend`` grids and fans are looked at alone, which is quick. It is no proof that no other exists.
    """
    best: Judged | None = None
    plain = plain_grid(asked)
    for angle in directions(asked.slab):
        frame = _turned(asked, -angle)
        found = _in_frame(Slab(frame), plain, mend)
        turned = found._replace(
            lines=tuple(tuple(_rotated(p, angle) for p in line) for line in found.lines),
            faults=tuple(
                fault._replace(at=_rotated(fault.at, angle), ring=tuple(_rotated(p, angle) for p in fault.ring))
                for fault in found.faults
            ),
        )
        if best is None or turned.cost < best.cost:
            best = turned
        if not best.faults:
            break
    assert best is not None
    return best._replace(lines=joined(best.lines))


def _in_frame(slab: Slab, plain: float, mend: bool) -> Judged:
    """The best layout with grids along the axes."""
    boxes = _openings(slab.shape)
    starts = [slab.judge(())]
    for grid in grids(slab, boxes, REVIEWED):
        starts += [slab.judge(lines) for lines in lines_of(slab, grid, boxes)]
    if all(one.faults for one in starts):
        starts += [slab.judge(lines) for lines in _fans(slab)]
    starts.sort(key=lambda one: one.cost)
    sound = [pruned(slab, one) for one in [one for one in starts if not one.faults][:PRUNED]]
    if not mend:
        return min(sound or starts, key=lambda one: one.cost)
    shortest = min((one.length for one in sound), default=math.inf)
    if shortest > DEAR * plain:
        faulty = [one for one in starts if one.faults and one.length < shortest]
        starts_mended = MENDED if not sound else 1 if shortest <= 2 * plain else MENDED // 2
        panels = slab.shape.area / slab.asked.longest**2
        moves = int(MOVES * min(1.0, FEW / panels))
        tried = [mended(slab, one, moves) for one in faulty[:starts_mended]]
        sound += [pruned(slab, one) for one in tried if not one.faults]
        sound = sound or [pruned(slab, min(tried, key=lambda one: one.cost))]
    return min(sound, key=lambda one: one.cost)


def _openings(shape: shapely.Polygon) -> list[tuple[float, float, float, float]]:
    """Bounds of the openings that have corners."""
    boxes = []
    for ring in shape.interiors:
        if len(shapely.get_coordinates(shapely.LinearRing(ring.coords).simplify(0.01))) <= 6:
            left, low, right, high = ring.bounds
            boxes.append((float(left), float(low), float(right), float(high)))
    return boxes


def _fans(slab: Slab) -> Iterator[list[Line]]:
    """Cuts from equal parts of one side to equal parts of the side across from it, of a slab with four sides."""
    sides = _four_sides(slab.shape)
    if sides is None:
        return
    longest = slab.asked.longest
    lengths = [float(side.length) for side in sides]
    least = [max(1, math.ceil(max(lengths[k], lengths[k + 2]) / longest - 1e-6)) for k in (0, 1)]
    for n in range(least[0], least[0] + 3):
        for m in range(least[1], least[1] + 3):
            lines = []
            for parts, (one, two) in ((n, (sides[0], sides[2])), (m, (sides[1], sides[3]))):
                for k in range(1, parts):
                    start = one.interpolate(k / parts, normalized=True)
                    end = two.interpolate(1 - k / parts, normalized=True)
                    chord = slab.chord_between((start.x, start.y), (end.x, end.y))
                    lines += [chord] if chord is not None else []
            yield lines


def _four_sides(shape: shapely.Polygon) -> list[shapely.LineString] | None:
    """The sides of a slab with four corners, in order round it."""
    xy = shapely.get_coordinates(shapely.orient_polygons(shape).exterior)[:-1]
    before, after = xy - np.roll(xy, 1, axis=0), np.roll(xy, -1, axis=0) - xy
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turns = np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))
    corners = np.flatnonzero(np.abs(turns) > CORNER).tolist()
    if len(corners) != 4 or (turns[corners] < 0).any():
        return None
    twice = np.concatenate([xy, xy])
    spans = pairwise([*corners, corners[0] + len(xy)])
    return [shapely.LineString(twice[a : b + 1]) for a, b in spans]


def directions(shape: shapely.Polygon) -> list[float]:
    """Directions of the sides, radians in a quarter turn, those with the most length of side first."""
    xy = shapely.get_coordinates(shape.exterior.simplify(0.05))
    step = np.diff(xy, axis=0)
    angles = np.degrees(np.arctan2(step[:, 1], step[:, 0])) % 90.0
    angles = np.where(angles > 90.0 - 1e-7, 0.0, angles)
    found: list[tuple[float, float]] = []  # direction, length
    for angle, size in sorted(zip(angles.tolist(), np.hypot(*step.T).tolist(), strict=True), key=lambda one: -one[1]):
        near = [k for k, (known, _) in enumerate(found) if min(abs(known - angle), 90 - abs(known - angle)) < ALIKE]
        if near:
            known, so_far = found[near[0]]
            found[near[0]] = known, so_far + size
        else:
            found.append((angle, size))
    found.sort(key=lambda one: -round(one[1], 6))
    return [math.radians(angle) for angle, _ in found[:DIRECTIONS]]


def _turned(asked: Asked, angle: float) -> Asked:
    """The same asked of the slab turned about the origin."""
    if angle == 0.0:
        return asked
    c, s = math.cos(angle), math.sin(angle)
    turn = np.array([[c, -s], [s, c]])
    return asked._replace(
        slab=shapely.transform(asked.slab, lambda xy: xy @ turn.T),
        musts=tuple(
            must._replace(at=_rotated(must.at, angle), ways=tuple(_rotated(way, angle) for way in must.ways))
            for must in asked.musts
        ),
        kept=tuple(np.asarray(line) @ turn.T for line in asked.kept),
        own_corners=tuple(_rotated(at, angle) for at in asked.own_corners),
    )


def _rotated(at: XY, angle: float) -> XY:
    if angle == 0.0:
        return at
    c, s = math.cos(angle), math.sin(angle)
    return at[0] * c - at[1] * s, at[0] * s + at[1] * c


def joined(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Cuts that go on straight in each other made one, those along y before those along x, each from left to right."""
    left = [_forward(line) for line in lines]
    done: list[Line] = []
    while left:
        line = left.pop()
        other = next((one for one in left if _goes_on(line, one)), None)
        if other is None:
            done.append(line)
        else:
            left.remove(other)
            first, second = (line, other) if math.dist(line[-1], other[0]) < IN_LINE else (other, line)
            left.append((*first[:-1], *second[1:]))
    return tuple(sorted(done, key=_place))


def _forward(line: Line) -> Line:
    return line if line[0] <= line[-1] else line[::-1]


def _goes_on(one: Line, two: Line) -> bool:
    for first, second in ((one, two), (two, one)):
        if math.dist(first[-1], second[0]) < IN_LINE:
            (ax, ay), (bx, by) = first[-2:]
            (cx, cy), (dx, dy) = second[:2]
            cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
            along = (bx - ax) * (dx - cx) + (by - ay) * (dy - cy)
            return along > 0 and abs(cross) < 1e-6 * along
    return False


def _place(line: Line) -> tuple[bool, float, float]:
    (x0, y0), (x1, y1) = line[0], line[-1]
    across = abs(x1 - x0) > abs(y1 - y0)
    return (across, round((y0 + y1) / 2 if across else (x0 + x1) / 2, 4), round(x0 if across else y0, 4))


def plain_grid(asked: Asked) -> float:
    """Cutting of a plain grid, m: equal bays of at most the longest side along both axes, whatever is in the way."""
    slab = Slab(_turned(asked, -directions(asked.slab)[0]))
    left, low, right, high = slab.shape.bounds
    total = 0.0
    for start, end, way in ((left, right, (0.0, 1.0)), (low, high, (1.0, 0.0))):
        n = bays(end - start, asked.longest)
        for k in range(1, n):
            at = start + (end - start) * k / n
            for line in slab.chords((at, low) if way[1] else (left, at), way):
                total += math.dist(line[0], line[-1])
    return total
