"""Named points and typed pairs, resolved to one :class:`Point` each."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Any

from slabwright.design.located import Group
from slabwright.design.model import Corner, Point
from slabwright.source.problem import Problems

STRAIGHT = 0.001  # an arc that rises less than this share of its chord is a straight line


class Points:
    """The points of a file by name."""

    def __init__(self, group: Group | None, problems: Problems) -> None:
        self.problems = problems
        self.named: dict[str, Point] = {}
        for name, pair in (group or {}).items():
            x, y = pair
            self.named[name] = Point(x.si, y.si, name, pair.place)

    def spot(self, said: Any) -> Point:
        """The point that a name or a pair stands for; names were looked up before."""
        if isinstance(said, str):
            return self.named[said]
        x, y = said
        return Point(x.si, y.si, "", said.place, f"({x.typed}, {y.typed})" if x.typed and y.typed else "")

    def check_arcs(self, corners: Sequence[Corner]) -> None:
        """Note arcs whose middle point lies on the straight line between their ends, or that end where they begin."""
        for before, corner in zip([corners[-1], *corners[:-1]], corners, strict=True):
            through = corner.through
            if through is None:
                continue
            start, end = before.at, corner.at
            chord = hypot(end.x - start.x, end.y - start.y)
            if chord == 0.0:
                self.problems.add(corner.place, "this arc ends where it begins", "make two arcs of it")
                continue
            across = (end.x - start.x) * (through.y - start.y) - (end.y - start.y) * (through.x - start.x)
            if abs(across) / chord**2 < STRAIGHT:
                self.problems.add(
                    corner.place,
                    "the point this arc passes through lies on the straight line between its ends",
                    "move that point out to the curve, or name the corner alone for a straight run",
                )
