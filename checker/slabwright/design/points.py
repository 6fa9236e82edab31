"""Named points and typed pairs, resolved to one :class:`Point` each."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Any

from slabwright.design.located import Group
from slabwright.design.model import Corner, Point
from slabwright.source.problem import Problems

SAME_POINT = 0.001  # m: corners nearer than this are one corner
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
            others = [one.at for one in corners if one.at not in (start, end)]
            if any(hypot(at.x - through.x, at.y - through.y) <= SAME_POINT for at in others):
                self.problems.add(
                    corner.place,
                    "the point this arc passes through is a corner already",
                    "let the arc pass through a point of its own, or make it two arcs that meet at that corner",
                )
                continue
            across = (end.x - start.x) * (through.y - start.y) - (end.y - start.y) * (through.x - start.x)
            if abs(across) / chord**2 < STRAIGHT:
                self.problems.add(
                    corner.place,
                    "the point this arc passes through lies on the straight line between its ends",
                    "move that point out to the curve, or name the corner alone for a straight run",
                )


def opened(corners: Sequence[Corner]) -> list[Corner]:
    """The corners without the first typed again at the end; an arc typed there is the side that closes the shape."""
    first, last = corners[0], corners[-1]
    again = len(corners) > 1 and hypot(last.at.x - first.at.x, last.at.y - first.at.y) <= SAME_POINT
    if not again or (last.through and first.through):
        return list(corners)
    return [first if last.through is None else last._replace(at=first.at), *corners[1:-1]]
