"""The outline of a slab from its sides, as they are said at a fence: a rectangle, an L, a U, or four taped sides.

``20 ft x 40 ft`` is along the building and away from it. ``20 ft x 12 ft + 8 ft x 10 ft`` has a second rectangle
beyond the first, at its left end, and a third stands at its right end. ``20 ft, 12 ft, 20'-1", 12 ft, diagonal
23'-4"`` are the sides in order and the distance from the first corner to the third.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from slabwright.source.problem import refuse
from slabwright.units.quantity import Kind, QuantityError, System, read

LEAST_SIDE, MOST_SIDE = 0.6, 61.0  # m
SQUARE = 0.02  # m: a measured side that a plan may miss

XY = tuple[float, float]

_TIMES = re.compile(r"\s*[x×X*]\s*|\s+by\s+")
_BARE = re.compile(r"[\d.]+(?:\s+\d+/\d+)?")
_UNIT = re.compile(r"[a-zA-Z]+\.?$|['\"′″]$")
_LABEL = re.compile(r"^(?:(?P<diagonal>diagonal|diag\.?)|(?P<name>[A-Da-d]\s?-?\s?[A-Da-d]))\s*[:=]?\s+")
_METRIC = re.compile(r"\d\s*(m|mm|cm)\b", re.IGNORECASE)

AS_IN = '"20 ft x 40 ft", or an L as in "20 ft x 12 ft + 8 ft x 10 ft"'
AS_TAPED = """"20 ft, 12 ft, 20'-1", 12 ft, diagonal 23'-4"", in order from A"""


_FOUR_CORNERS = "  D ---- C\n  |      |\n  A ---- B"
_PICTURES = {
    "rectangle": _FOUR_CORNERS,
    "measured": _FOUR_CORNERS,
    "L": "  F -- E\n  |    |\n  |    D ---- C\n  |           |\n  A --------- B",
    "U": "  H -- G        D -- C\n  |    |        |    |\n  |    F ------ E    |\n"
    "  |                  |\n  A ---------------- B",
}


@dataclass(frozen=True, slots=True)
class Outline:
    """Corners in order (m, counterclockwise), the first at zero and the second along x; ``measured`` as taped."""

    kind: Literal["rectangle", "L", "U", "measured"]
    corners: tuple[XY, ...]
    system: System
    measured: tuple[tuple[str, str, str], ...] = ()  # from, to, length as typed

    @property
    def letters(self) -> str:
        """Names of the corners."""
        return "ABCDEFGH"[: len(self.corners)]

    @property
    def sides(self) -> tuple[str, ...]:
        """Names of the sides, such as ``A-B``."""
        return tuple(f"{a}-{b}" for a, b in pairwise(self.letters + self.letters[0]))

    @property
    def picture(self) -> str:
        """Which corner is which, not to scale."""
        return _PICTURES[self.kind]

    @property
    def area(self) -> float:
        """Area in m2."""
        return sum(a[0] * b[1] - b[0] * a[1] for a, b in self.lines) / 2

    @property
    def lines(self) -> tuple[tuple[XY, XY], ...]:
        """Both ends of each side."""
        return tuple(pairwise((*self.corners, self.corners[0])))

    def run(self, side: int) -> float:
        """Length of a side (m)."""
        return math.dist(*self.lines[side])

    def outward(self, side: int) -> XY:
        """The direction square to a side, off the slab, of length one."""
        (ax, ay), (bx, by) = self.lines[side]
        return (by - ay) / self.run(side), (ax - bx) / self.run(side)

    def inside_corners(self) -> tuple[int, ...]:
        """Corners where the slab fills more than half a turn."""
        outward = [self.outward(side) for side in range(len(self.corners))]
        turns = (
            (at, before[0] * after[1] - before[1] * after[0])
            for at, (before, after) in enumerate(zip([outward[-1], *outward], outward, strict=False))
        )
        return tuple(at for at, turn in turns if turn < 0)


def read_size(text: str) -> Outline:
    """The outline that is meant by ``text``; a unit that stands once, at the end, counts for all.

    Raises :class:`UnreadableError` for what cannot be read or is no slab.

    >>> read_size("20 ft x 12 ft + 8 x 10 ft").sides
    ('A-B', 'B-C', 'C-D', 'D-E', 'E-F', 'F-A')
    """
    if "," in text or ";" in text:
        return _measured(text)
    blocks = [[part for part in _TIMES.split(block.strip()) if part] for block in text.split("+")]
    if not 1 <= len(blocks) <= 3 or any(len(block) != 2 for block in blocks):
        refuse("", f'"{text}" is not two sides, or two or three times two', AS_IN)
    typed = _with_units([part for block in blocks for part in block])
    sides = [_side(part) for part in typed]
    system: System = "metric" if _METRIC.search(typed[1]) else "us"
    pairs = list(zip(sides[::2], sides[1::2], strict=True))
    width, depth = pairs[0]
    if len(pairs) == 1:
        return Outline("rectangle", ((0, 0), (width, 0), (width, depth), (0, depth)), system)
    wide, deep = pairs[1]
    if len(pairs) == 2:
        if math.isclose(wide, width):
            refuse(
                "",
                "both parts are equally wide, which is a rectangle",
                f'"{typed[0]} x the sum of {typed[1]} and {typed[3]}"',
            )
        return Outline(
            "L", ((0, 0), (width, 0), (width, depth), (wide, depth), (wide, depth + deep), (0, depth + deep)), system
        )
    right, far = pairs[2]
    if wide + right > width - LEAST_SIDE:
        wrong = f"the legs, {typed[2]} and {typed[4]} wide, leave no room between them in {typed[0]}"
        refuse("", wrong, 'the wide part first, then its two legs: "20 ft x 8 ft + 6 ft x 10 ft + 6 ft x 10 ft"')
    corners = (
        (0.0, 0.0), (width, 0.0), (width, depth + far), (width - right, depth + far), (width - right, depth),
        (wide, depth), (wide, depth + deep), (0.0, depth + deep),
    )  # fmt: skip
    return Outline("U", corners, system)


def _measured(text: str) -> Outline:
    """Four corners from four sides and a diagonal, as triangles A-B-C and A-C-D."""
    parts = [part.strip() for part in re.split(r"[,;]", text) if part.strip()]
    names = ["A-B", "B-C", "C-D", "D-A", "A-C"]
    if len(parts) != len(names):
        refuse("", f'"{text}" is not four sides and a diagonal', AS_TAPED)
    found: dict[str, str] = {}
    for part, usual in zip(parts, names, strict=True):
        label = _LABEL.match(part)
        name = usual
        if label and label["diagonal"]:
            name = "A-C"
        elif label:
            ends = [letter for letter in label["name"].upper() if letter.isalpha()]
            name = next((one for one in names if set(ends) == {one[0], one[2]}), "")
            if not name:
                refuse("", f"{'-'.join(ends)} is no side, and the diagonal is A-C", AS_TAPED)
        if name in found:
            refuse("", f"{name} is given twice", AS_TAPED)
        found[name] = part[label.end() :] if label else part
    typed = dict(zip(names, _with_units([found[name] for name in names]), strict=True))
    long = {name: _side(value) for name, value in typed.items()}
    for one, two in (("A-B", "B-C"), ("C-D", "D-A")):
        least, most = abs(long[one] - long[two]), long[one] + long[two]
        if not least + SQUARE < long["A-C"] < most - SQUARE:
            wrong = f"{one} {typed[one]}, {two} {typed[two]} and the diagonal {typed['A-C']} close no triangle"
            refuse("", wrong, "the five lengths as taped anew; the diagonal runs from A to C")
    a, b = (0.0, 0.0), (long["A-B"], 0.0)
    c = _third(a, b, long["A-C"], long["B-C"])
    d = _third(a, c, long["D-A"], long["C-D"])
    outline = Outline(
        "measured",
        (a, b, c, d),
        "metric" if _METRIC.search(typed["A-B"]) else "us",
        tuple((name[0], name[2], typed[name]) for name in names),
    )
    if outline.inside_corners():
        refuse(
            "",
            "these lengths make a corner that points into the slab",
            "the five lengths as taped anew, in order from A",
        )
    return outline


def _third(a: XY, b: XY, from_a: float, from_b: float) -> XY:
    """The corner left of the line a-b at two distances, by the law of cosines."""
    base = math.dist(a, b)
    along = (from_a**2 - from_b**2 + base**2) / (2 * base)
    off = math.sqrt(from_a**2 - along**2)
    ux, uy = (b[0] - a[0]) / base, (b[1] - a[1]) / base
    return a[0] + along * ux - off * uy, a[1] + along * uy + off * ux


def _with_units(parts: list[str]) -> list[str]:
    """Bare numbers get the unit that the last one has."""
    unit = _UNIT.search(parts[-1])
    if unit is None:
        return parts
    joint = " " if unit[0][0].isalpha() else ""
    return [f"{part}{joint}{unit[0]}" if _BARE.fullmatch(part.strip()) else part for part in parts]


def _side(text: str) -> float:
    try:
        side = read(text, Kind.LENGTH).si
    except QuantityError as error:
        refuse("", error.wrong, error.write or AS_IN)
    if not LEAST_SIDE <= side <= MOST_SIDE:
        outside = f"a side of {text} is outside 2 ft to 200 ft (0.6 m to 61 m)"
        refuse("", outside, "a slab that is poured in one piece")
    return side
