"""A plan small enough for a terminal: outline, joints, low spots, and a number at each place a comment speaks of.

In Braille signs where the stream can write them, each four dots high and two wide; else one letter for each place:
``#`` edge, ``:`` joint, ``~`` standing water.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from slabwright.text.letters import spell, visible, wrap

COLUMNS, ROWS = 60, 16
LEGEND = 3  # rows under the plan
EDGE, JOINT, WATER = "#", ":", "~"
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))  # of a Braille sign, by row and column
_BLANK = 0x2800

XY = Sequence[float]
Mark = tuple[str, Sequence[XY]]  # what the comment speaks of, and its shape on the plan, m


def small_drawing(drawing: Mapping[str, Any], marks: Sequence[Mark] = (), encoding: str = "utf-8") -> list[str]:
    """The plan in at most 16 rows of 60 columns; empty when there is no outline.

    ``drawing`` is the drawing data of a report; ``marks`` are numbered from 1 in their order.
    """
    outline = drawing.get("outline") or []
    if len(outline) < 4:
        return []
    fine = _writes_braille(encoding)
    paper = _paper(outline, fine)
    for pond in drawing.get("ponds", ()):
        paper.fill(pond["rings"])
    for joint in drawing.get("joints", ()):
        paper.line(joint["line"], JOINT, 3 if fine else 1)
    for ring in (outline, *(opening["ring"] for opening in drawing.get("openings", ()))):
        paper.line(ring, EDGE, 1)
    rows = paper.rows(marks)
    key = "dotted: joints" if fine else f"{EDGE} edge  {JOINT} joint"
    if drawing.get("ponds"):
        key += "; speckled: water stands" if fine else f"  {WATER} water stands"
    return [*rows, *_legend(marks, key, encoding)][:ROWS]


def _writes_braille(encoding: str) -> bool:
    try:
        chr(_BLANK + 0xFF).encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _paper(outline: Sequence[XY], fine: bool) -> _Paper:
    """Paper on which the outline fits, as large as it can be."""
    left, right = min(x for x, _ in outline), max(x for x, _ in outline)
    low, high = min(y for _, y in outline), max(y for _, y in outline)
    across, up = (2, 4) if fine else (1, 1)
    tall = 1.0 if fine else 2.0  # a letter is twice as high as wide; a dot is square
    width, height = max(right - left, 1e-6), max(high - low, 1e-6)
    scale = min((COLUMNS * across - 1) / width, ((ROWS - LEGEND) * up - 1) * tall / height)
    size = math.floor(width * scale) // across + 1, math.floor(height * scale / tall) // up + 1
    return _Paper(fine, left, high, scale, tall, size)


@dataclass(slots=True)
class _Paper:
    """Dots by column and row, and where they lie on the plan."""

    fine: bool
    left: float
    top: float
    scale: float  # dots per meter across
    tall: float  # how many times as high as wide the room for a dot is
    size: tuple[int, int]  # letters across and down
    dots: dict[tuple[int, int], str] = field(default_factory=dict)

    def at(self, xy: XY) -> tuple[int, int]:
        """The dot at a place of the plan."""
        return math.floor((xy[0] - self.left) * self.scale + 1e-6), math.floor(
            (self.top - xy[1]) * self.scale / self.tall + 1e-6
        )

    def line(self, xy: Sequence[XY], sign: str, every: int) -> None:
        """A line; of its dots one in ``every``."""
        for start, end in pairwise(xy):
            for number, dot in enumerate(_between(self.at(start), self.at(end))):
                if number % every == 0:
                    self.dots[dot] = sign

    def fill(self, rings: Sequence[Sequence[XY]]) -> None:
        """Speckle what lies inside an odd number of rings."""
        corners = [self.at(xy) for ring in rings for xy in ring]
        for column in range(min(x for x, _ in corners), max(x for x, _ in corners) + 1):
            for row in range(min(y for _, y in corners), max(y for _, y in corners) + 1):
                place = self.left + (column + 0.5) / self.scale, self.top - (row + 0.5) * self.tall / self.scale
                if (not self.fine or (column + row) % 2 == 0) and sum(_inside(place, ring) for ring in rings) % 2:
                    self.dots[column, row] = WATER

    def rows(self, marks: Sequence[Mark]) -> list[str]:
        """The paper as text, the number of each mark at the middle of its shape."""
        columns, rows = self.size
        page = [[self._letter(column, row) for column in range(columns)] for row in range(rows)]
        taken: set[tuple[int, int]] = set()
        for number, (_, shape) in enumerate(marks, 1):
            if not shape:
                continue
            x, y = self.at(_middle(shape))
            spot = (x // 2, y // 4) if self.fine else (x, y)
            for column, row in _around(min(max(spot[0], 0), columns - 1), min(max(spot[1], 0), rows - 1), self.size):
                places = [(column + k, row) for k in range(len(str(number)))]
                if not taken.intersection(places) and places[-1][0] < columns:
                    taken.update((column + k, row) for k in range(-1, len(places) + 1))  # and a gap on either side
                    for (place, _), digit in zip(places, str(number), strict=True):
                        page[row][place] = digit
                    break
        blank = chr(_BLANK) if self.fine else " "
        return ["".join(line).rstrip(blank) for line in page]

    def _letter(self, column: int, row: int) -> str:
        if not self.fine:
            return self.dots.get((column, row), " ")
        code = 0
        for down, pair in enumerate(_DOTS):
            for across, bit in enumerate(pair):
                code += bit * ((2 * column + across, 4 * row + down) in self.dots)
        return chr(_BLANK + code)


def _around(column: int, row: int, size: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """A place, then those beside it in its row, nearest first, then those of the rows above and below."""
    columns, rows = size
    for down in sorted(range(rows), key=lambda other: abs(other - row)):
        for across in sorted(range(columns), key=lambda other: (abs(other - column), other < column)):
            yield across, down


def _between(start: tuple[int, int], end: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """The dots of a straight line, both ends included."""
    steps = max(abs(end[0] - start[0]), abs(end[1] - start[1]), 1)
    for k in range(steps + 1):
        yield round(start[0] + (end[0] - start[0]) * k / steps), round(start[1] + (end[1] - start[1]) * k / steps)


def _inside(place: tuple[float, float], ring: Sequence[XY]) -> bool:
    """Whether a place lies inside a closed ring (even-odd)."""
    x, y = place
    return bool(
        sum(
            1
            for (x1, y1), (x2, y2) in pairwise(ring)
            if (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)
        )
        % 2
    )


def _middle(shape: Sequence[XY]) -> XY:
    """A point itself, the middle of a line by its length, the mean of the corners of a closed ring."""
    if len(shape) == 1:
        return shape[0]
    if len(shape) > 3 and tuple(shape[0]) == tuple(shape[-1]):
        return sum(x for x, *_ in shape[1:]) / (len(shape) - 1), sum(y for _, y, *_ in shape[1:]) / (len(shape) - 1)
    lengths = [math.dist(a, b) for a, b in pairwise(shape)]
    half = sum(lengths) / 2
    for (a, b), length in zip(pairwise(shape), lengths, strict=True):
        if half <= length:
            part = half / length if length else 0.0
            return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part
        half -= length
    return shape[-1]


def _legend(marks: Sequence[Mark], key: str, encoding: str) -> list[str]:
    """What the numbers stand for and how lines are drawn, in at most three rows."""
    named = ", ".join(f"{number} {name}" for number, (name, shape) in enumerate(marks, 1) if shape)
    rows = [*(wrap(spell(visible(named), encoding), COLUMNS)[: LEGEND - 1] if named else ()), key]
    return [row[:COLUMNS] for row in rows]
