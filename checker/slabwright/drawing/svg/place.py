"""Finding room for labels: boxes that are taken, lines better kept clear of, and the first free place of many."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

XY = tuple[float, float]

_CELL = 8.0  # mm


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper: its middle, its size, and how far it is turned clockwise on paper (degrees)."""

    x: float
    y: float
    width: float
    height: float
    angle: float = 0.0

    def corners(self) -> tuple[XY, XY, XY, XY]:
        """The four corners, in order."""
        turn = math.radians(self.angle)
        c, s = math.cos(turn), math.sin(turn)
        w, h = self.width / 2, self.height / 2
        (ax, ay), (bx, by) = (w * c - h * -s, w * s - h * c), (w * c + h * -s, w * s + h * c)
        return (
            (self.x + ax, self.y + ay),
            (self.x + bx, self.y + by),
            (self.x - ax, self.y - ay),
            (self.x - bx, self.y - by),
        )


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share more than a touch (by separating axes).

    >>> overlap(Box(0, 0, 4, 2), Box(3, 0, 4, 2)), overlap(Box(0, 0, 4, 2), Box(5, 0, 4, 2))
    (True, False)
    """
    if one.angle == 0 == other.angle:
        apart_x, apart_y = abs(one.x - other.x), abs(one.y - other.y)
        return apart_x < (one.width + other.width) / 2 - 1e-6 and apart_y < (one.height + other.height) / 2 - 1e-6
    reach = (math.hypot(one.width, one.height) + math.hypot(other.width, other.height)) / 2
    if math.hypot(one.x - other.x, one.y - other.y) > reach:  # their circles are apart, as those of most boxes are
        return False
    first, second = one.corners(), other.corners()
    for angle in {one.angle, one.angle + 90, other.angle, other.angle + 90}:
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        a = [x * c + y * s for x, y in first]
        b = [x * c + y * s for x, y in second]
        if max(a) <= min(b) + 1e-6 or max(b) <= min(a) + 1e-6:
            return False
    return True


@dataclass
class Room:
    """The sheet while labels are placed: only this collects state, one drawing long."""

    low: XY
    high: XY
    gap: float = 0.35
    _boxes: dict[tuple[int, int], list[Box]] = field(default_factory=dict)
    _lines: dict[tuple[int, int], list[tuple[XY, XY, float]]] = field(default_factory=dict)

    def inside(self, box: Box) -> bool:
        """Whether a box lies within the drawing's part of the sheet."""
        return all(self.low[0] <= x <= self.high[0] and self.low[1] <= y <= self.high[1] for x, y in box.corners())

    def free(self, box: Box) -> bool:
        """Whether nothing taken lies within ``gap`` of the box, on the sheet."""
        wide = Box(box.x, box.y, box.width + 2 * self.gap, box.height + 2 * self.gap, box.angle)
        if not self.inside(box):
            return False
        return not any(overlap(wide, taken) for cell in _cells(wide) for taken in self._boxes.get(cell, ()))

    def first(self, boxes: Iterable[Box]) -> Box | None:
        """The first free box of some, which is taken."""
        box = next(filter(self.free, boxes), None)
        if box:
            self.take(box)
        return box

    def take(self, box: Box) -> None:
        """Keep everything later off this box."""
        for cell in _cells(box):
            self._boxes.setdefault(cell, []).append(box)

    def take_line(self, start: XY, end: XY, width: float = 0.3) -> None:
        """Keep everything later off a line."""
        turn = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
        self.take(Box((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, math.dist(start, end), width, turn))

    def runs_free(self, start: XY, end: XY) -> bool:
        """Whether a line runs through no word; a box round its start is what it points at."""
        size = math.dist(start, end)
        if size < 1e-9:
            return True
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        line = Box(*middle, size, 0.2, math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])))
        point = Box(*start, 0.1, 0.1)
        near = {box for cell in _cells(line) for box in self._boxes.get(cell, ())}
        return not any(overlap(line, box) for box in near if not overlap(point, box))

    def taken(self) -> tuple[XY, XY]:
        """The upper left and lower right corner of what is taken; the middle of the sheet when nothing is."""
        corners = [corner for boxes in self._boxes.values() for box in boxes for corner in box.corners()]
        corners = corners or [((self.low[0] + self.high[0]) / 2, (self.low[1] + self.high[1]) / 2)]
        xs, ys = zip(*corners, strict=True)
        return (min(xs), min(ys)), (max(xs), max(ys))

    def keep_clear(self, line: Sequence[XY], weight: float = 1.0) -> None:
        """Let labels rather not lie on a line; the heavier, the rather."""
        for start, end in pairwise(line):
            pieces = max(1, math.ceil(math.dist(start, end) / _CELL))
            cells: set[tuple[int, int]] = set()
            for k in range(pieces + 1):
                t = k / pieces
                x, y = start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])
                cells |= {(int(x // _CELL), int(y // _CELL))}
            for cell in cells:
                self._lines.setdefault(cell, []).append((start, end, weight))

    def crossed(self, box: Box) -> float:
        """Weight of the lines that run through a box."""
        seen: set[tuple[XY, XY, float]] = set()
        for cell in _cells(Box(box.x, box.y, box.width + 4, box.height + 4, box.angle)):
            seen.update(self._lines.get(cell, ()))
        wide = Box(box.x, box.y, box.width + 0.6, box.height + 0.6, box.angle)  # a line has a width too
        c, s = math.cos(math.radians(box.angle)), math.sin(math.radians(box.angle))
        return sum(weight for start, end, weight in seen if _through(start, end, wide, c, s))

    def best(self, boxes: Iterable[Box], enough: float = 0.0, most: float = math.inf) -> Box | None:
        """The free box that lies on the least; the first on no more than ``enough`` is taken at once.

        None where all lie on more than ``most``.
        """
        chosen, least = None, math.inf
        for box in boxes:
            if self.free(box):
                weight = self.crossed(box)
                if weight < least:
                    chosen, least = box, weight
                    if weight <= enough:
                        break
        return chosen if least <= most else None


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    xs, ys = zip(*box.corners(), strict=True)
    for i in range(int(min(xs) // _CELL), int(max(xs) // _CELL) + 1):
        for j in range(int(min(ys) // _CELL), int(max(ys) // _CELL) + 1):
            yield i, j


def _through(start: XY, end: XY, box: Box, c: float, s: float) -> bool:
    """Whether a straight piece meets a box: clipped in the box's own axes, which turn by cosine ``c``, sine ``s``."""
    x, y = start[0] - box.x, start[1] - box.y
    dx, dy = end[0] - start[0], end[1] - start[1]
    first, last = 0.0, 1.0
    for begin, run, half in (
        (x * c + y * s, dx * c + dy * s, box.width / 2),
        (y * c - x * s, dy * c - dx * s, box.height / 2),
    ):
        if abs(run) < 1e-12:
            if abs(begin) >= half:
                return False
            continue
        near, far = (-half - begin) / run, (half - begin) / run
        first, last = max(first, min(near, far)), min(last, max(near, far))
    return first < last


def around(at: XY, width: float, height: float, reach: float = 1.2) -> Iterator[Box]:
    """Boxes beside a point, right and above first."""
    w, h = width / 2 + reach, height / 2 + reach
    near = 0.6 * reach
    for dx, dy in ((w, -h + near), (-w, -h + near), (w, h - near), (-w, h - near), (0, -h), (0, h), (w, 0), (-w, 0)):
        yield Box(at[0] + dx, at[1] + dy, width, height)


def rings(at: XY, width: float, height: float, distances: Sequence[float], turns: int = 12) -> Iterator[Box]:
    """Boxes on wider and wider circles around a point."""
    for distance in distances:
        for k in range(turns):
            turn = 2 * math.pi * (k + 0.5) / turns
            x = at[0] + (distance + width / 2) * math.cos(turn)
            y = at[1] - (distance + height / 2) * math.sin(turn)
            yield Box(x, y, width, height)
