"""Lines that the places of pins are taped from: between two named corners, clear of buildings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np
import shapely

from slabwright.geometry.xy import XY, middle_of
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.sheets.stake.sight import clear, seen, standing

_SHORT_BASE = 0.3  # of the longest chord: a base line shorter than this swings far pins about


@dataclass(frozen=True, slots=True)
class Line:
    """The line places are measured from: two named corners, and which way is off it."""

    first: str
    second: str
    start: XY
    end: XY

    @property
    def length(self) -> float:
        """Its length, m."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def middle(self) -> XY:
        """The place half way along."""
        return middle_of(self.start, self.end)

    def of(self, xy: np.ndarray) -> np.ndarray:
        """Places (k, 2) as distance along the line and off it, to the left positive; m."""
        along = (np.asarray(self.end) - self.start) / self.length
        from_start = np.asarray(xy, dtype=float).reshape(-1, 2) - self.start
        return np.column_stack([from_start @ along, from_start @ np.array([-along[1], along[0]])])

    def back(self, places: np.ndarray) -> np.ndarray:
        """Plan coordinates (k, 2) of places given along and off."""
        along = (np.asarray(self.end) - self.start) / self.length
        off = np.array([-along[1], along[0]])
        return np.asarray(np.asarray(self.start) + places[:, :1] * along + places[:, 1:] * off)


def corner_names(plan: Plan) -> dict[XY, str]:
    """The name of every outline corner by its place; corners typed as pairs are counted from the first.

    Where a point of the file is called so already, they are counted as corners of the outline.
    """
    numbered = "corner {}"
    if any(numbered.format(number) in plan.design.points for number in range(1, len(plan.design.outline) + 1)):
        numbered = "outline corner {}"
    return {
        (c.at.x, c.at.y): c.at.name or numbered.format(number) for number, c in enumerate(plan.design.outline, 1)
    }  # fmt: skip


def usual_line(plan: Plan) -> Line:
    """The longest straight side between two corners, of the sides along a building if there are any.

    Where all sides are short against the slab, as those across a curved walk, the longest chord between two corners.
    """
    names = corner_names(plan)
    walls = [shapely.LineString(piece.line) for piece in plan.edges.buildings]
    sides = []
    for a, b in _straight_sides(plan):
        middle = shapely.Point(middle_of(a, b))
        at_wall = any(wall.distance(middle) < ON_EDGE for wall in walls)
        sides.append((at_wall, round(hypot(b[0] - a[0], b[1] - a[1]), 6), a, b))
    chord, a, b = _longest_chord(plan, list(names))
    fair = [side for side in sides if side[1] > _SHORT_BASE * chord]
    if fair:
        longest = max(side[:2] for side in fair)
        _, _, a, b = next(side for side in fair if side[:2] == longest)
    return _slab_on_the_left(plan, Line(names[a], names[b], a, b))


def _longest_chord(plan: Plan, corners: Sequence[XY]) -> tuple[float, XY, XY]:
    """The longest way between two corners that no building stands in, m; of all corners where every one is barred."""
    solid = standing(plan)
    pairs = [(one, other) for at, one in enumerate(corners) for other in corners[at + 1 :]][:2000]
    free = [pair for pair in pairs if seen(solid, *pair)] or pairs
    return max((hypot(b[0] - a[0], b[1] - a[1]), a, b) for a, b in free)


def named_line(plan: Plan, first: str, second: str) -> Line | None:
    """The line between two outline corners by their names; None when there are none of these names."""
    places = {name: at for at, name in corner_names(plan).items()}
    if first not in places or second not in places or places[first] == places[second]:
        return None
    return Line(first, second, places[first], places[second])


def _slab_on_the_left(plan: Plan, line: Line) -> Line:
    """The line, or the line walked the other way when most of the slab lies to its right."""
    middle = plan.shape.slab.centroid
    if line.of(np.array([[middle.x, middle.y]]))[0, 1] >= 0:
        return line
    return Line(line.second, line.first, line.end, line.start)


def sides(plan: Plan) -> list[Line]:
    """The straight sides of the outline, each walked with the slab on its left."""
    names = corner_names(plan)
    ends = _straight_sides(plan) if plan.shape.ring.ccw else ((b, a) for a, b in _straight_sides(plan))
    return [Line(names[a], names[b], a, b) for a, b in ends]


def _straight_sides(plan: Plan) -> Iterator[tuple[XY, XY]]:
    """Both ends of every straight side of the outline, as typed."""
    corners = plan.design.outline
    for before, corner in zip((corners[-1], *corners[:-1]), corners, strict=True):
        a, b = (before.at.x, before.at.y), (corner.at.x, corner.at.y)
        if corner.through is None and a != b:
            yield a, b


def lines_for(plan: Plan, main: Line, xy: np.ndarray, solid: shapely.Geometry) -> list[Line | None]:
    """For every place (k, 2) the line it is measured from: ``main``, unless ``solid`` is between; None without any.

    A place goes to the first line from which the string, the way square off it and the tapes from both its corners
    are clear; where none has both tapes clear, to one whose string and way off it are. Of the sides of the outline
    the one that helps most places is taken first.
    """
    if solid.is_empty:
        return [main] * len(xy)
    others = [line for line in sides(plan) if {line.first, line.second} != {main.first, main.second}]
    faces = shapely.buffer(solid, 0.05)  # a string along a wall first, then the longest
    others.sort(key=lambda line: (not faces.contains(shapely.Point(line.middle)), -line.length))
    reached = {line: _reached(line, solid, xy) for line in (main, *others)}
    chosen: list[Line | None] = [None] * len(xy)
    for which in (1, 0):  # both tapes and the string, then the string alone
        left = np.array([one is None for one in chosen])
        tried = [main, *others]
        while left.any() and tried:
            used = [line for line in tried if line in chosen or line is main]
            best = max(tried, key=lambda line: (line in used, int((reached[line][which] & left).sum())))
            tried.remove(best)
            for at in np.flatnonzero(reached[best][which] & left):
                chosen[at] = best
            left = np.array([one is None for one in chosen])
    return chosen


def _reached(line: Line, solid: shapely.Geometry, xy: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Places whose string and way off it are clear, and those whose tapes are clear besides."""
    feet = line.back(line.of(xy) * [1.0, 0.0])
    start, end = np.broadcast_to(line.start, xy.shape), np.broadcast_to(line.end, xy.shape)
    by_string = clear(solid, start, feet) & clear(solid, feet, xy)
    return by_string, by_string & clear(solid, start, xy) & clear(solid, end, xy)
