"""Pins to set out a slab by: at every corner, height line and low point, along the edges, and on a grid for the screed.

Places and heights are in meters. A pin's place is given from a line between two named corners: how far along it, how
far off it, and the tapes from both corners.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, hypot

import numpy as np
import shapely

from slabwright.design.heights import SpotHeight
from slabwright.design.point import Point
from slabwright.geometry.shape.outline import distances_along, stretch
from slabwright.geometry.xy import XY, as_xy, middle_of
from slabwright.plan.flights import BESIDE
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.sheets.stake.sight import clear, seen, standing
from slabwright.units.quantity import System

SCREED: dict[System, float] = {"us": 10 * 0.3048, "metric": 3.0}  # m, `common-practice`
LAP: dict[System, float] = {"us": 2 * 0.3048, "metric": 0.6}  # m the screed reaches past a pin, `common-practice`
NEAR = 0.3  # m: a pin that only fills up is left out this near to another
_SHORT_BASE = 0.3  # of the longest chord: a base line shorter than this swings far pins about
ARC_PARTS = 4  # an arc gets at least this many stretches, so that a form can follow it


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


@dataclass(frozen=True, slots=True)
class Pin:
    """One pin; heights are None where the design does not give them."""

    number: int
    name: str  # of the point it stands at, empty for a pin that only fills up
    what: str
    at: XY
    line: Line  # that its place is given from
    reached: bool  # whether string and way off it are clear of every building
    along: float
    off: float
    tapes: tuple[float | None, float | None]  # from the two corners of the line; None where a building is in the way
    thickness: float
    finish: float | None
    base: float | None  # underside of the concrete
    subgrade: float | None  # underside of the base layer
    existing: float | None

    @property
    def label(self) -> str:
        """``corner A``, ``grid``."""
        return f"{self.what} {self.name}".strip()

    @property
    def cut(self) -> float | None:
        """Cut down to the subgrade (or to the underside of the slab without a base layer); fill below zero."""
        down_to = self.subgrade if self.subgrade is not None else self.base
        return None if down_to is None or self.existing is None else self.existing - down_to


@dataclass(frozen=True, slots=True)
class _Mark:
    what: str
    name: str
    at: XY
    must: bool = True


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


def set_out(plan: Plan, line: Line, spacing: float) -> tuple[Pin, ...]:
    """All pins, none further than ``spacing`` m from the next along an edge, a height line or a row of the grid."""
    needed = list(_needed(plan))
    spots = shapely.points([mark.at for mark in needed])
    marks = _thinned([*needed, *_along_edges(plan, spacing, spots), *_along_lines(plan, spacing, spots)], NEAR)
    near = min(LAP[plan.system], spacing / 4)  # what is left out is within the lap of the screed
    marks = _thinned([*(replace(mark, must=True) for mark in marks), *_grid(plan, line, spacing, near)], near)
    xy = np.array([mark.at for mark in marks])
    solid = standing(plan)
    lines = lines_for(plan, line, xy, solid)
    finish = heights_at(plan, xy)
    existing = existing_at(plan, xy)
    thickness = (
        [plan.thickness.design] * len(marks) if plan.thickness.even else [plan.thickness.at(mark.at) for mark in marks]
    )
    layer = plan.design.site.base.thickness if plan.design.site.base else None
    first, feet, pins = first_number(taken(plan)), _feet_off_slab(plan), []
    for index, mark in enumerate(marks):
        own = lines[index] or line
        along, off = (float(x) for x in own.of(xy[index])[0])
        top = finish[index]
        base = None if top is None else top - thickness[index]
        if mark.at in feet:
            top, base = feet[mark.at], None
        pins.append(
            Pin(
                number=first + index,
                name=mark.name,
                what=mark.what,
                at=mark.at,
                line=own,
                reached=lines[index] is not None,
                along=along,
                off=off,
                tapes=(
                    hypot(along, off) if seen(solid, own.start, mark.at) else None,
                    hypot(along - own.length, off) if seen(solid, own.end, mark.at) else None,
                ),
                thickness=thickness[index],
                finish=top,
                base=base,
                subgrade=None if base is None or layer is None else base - layer.si,
                existing=existing[index],
            )
        )
    return tuple(pins)


def _feet_off_slab(plan: Plan) -> dict[XY, float | None]:
    """The height at both ends of the foot of each flight that stands beside the slab, m; None where it is not known."""
    ends = ((end, one.foot) for one in plan.flights.all if one.laid for end in one.laid.nosings[0])
    return {end: foot for end, foot in ends if plan.shape.slab.distance(shapely.Point(end)) > BESIDE}


def taken(plan: Plan) -> Iterator[str]:
    """Every name that a reading may be taken on beside the pins: points, benches, fixed things."""
    yield from plan.design.points
    yield from plan.design.heights.benches
    yield from (thing.name for thing in plan.design.fixed)


def first_number(points: Iterable[str]) -> int:
    """The number of the first pin: 1, or past what the plan itself calls by numbers."""
    taken = [int(name) for name in points if name.isdecimal() and len(name) < 9]
    return 1 if not taken else (max(taken) // 100 + 1) * 100 + 1


def as_points(pins: Sequence[Pin]) -> dict[str, Point]:
    """The pins as points by their number."""
    return {str(pin.number): Point(*pin.at, str(pin.number)) for pin in pins}


def heights_at(plan: Plan, xy: np.ndarray) -> list[float | None]:
    """Finish heights at places (k, 2); without a finish surface only where one is typed."""
    if plan.finish.surface is None:
        return _typed(plan.design.heights.finish, xy)
    return plan.finish.all_at([as_xy(at) for at in xy])


def existing_at(plan: Plan, xy: np.ndarray) -> list[float | None]:
    """Heights of the ground before digging, at places (k, 2): between its shots, or at one."""
    shots = plan.design.heights.existing
    surface = plan.site.existing_surface
    found = surface.height(xy) if surface is not None else np.full(len(xy), np.nan)
    at_shots = _typed(shots, xy)  # on the rim of the shots, a hair outside every facet
    return [at if np.isnan(z) else float(z) for at, z in zip(at_shots, found, strict=True)]


def _typed(spots: Sequence[SpotHeight], xy: np.ndarray) -> list[float | None]:
    """For every place (k, 2) the height typed there, None where there is none."""
    found: list[float | None] = [None] * len(xy)
    tree = shapely.STRtree(shapely.points([[one.at.x, one.at.y] for one in spots]) if spots else [])
    near = tree.query_nearest(shapely.points(xy), max_distance=ON_EDGE, all_matches=False)
    for place, spot in zip(*near.tolist(), strict=True):
        found[place] = spots[spot].height.si
    return found


def _needed(plan: Plan) -> Iterator[_Mark]:
    """Corners, points of height lines, drains, and other points with a finish height of their own."""
    design = plan.design
    for place, name in corner_names(plan).items():
        yield _Mark("corner", name, place) if name in design.points else _Mark("", name, place)
    for opening in design.openings:
        for number, corner in enumerate(opening.corners, 1):
            name = corner.at.name or str(number)
            yield _Mark(f"{opening.name} corner", name, (corner.at.x, corner.at.y))
    for part in design.parts:
        for number, corner in enumerate(part.corners, 1):
            yield _Mark(f"{part.name} corner", corner.at.name or str(number), (corner.at.x, corner.at.y))
    for line in design.heights.lines:
        title = f"{line.kind} {line.name}" if line.name and line.name != line.kind else line.kind
        for number, point in enumerate(line.along):
            what = f"{title} end" if number in (0, len(line.along) - 1) else title
            yield _Mark(what, point.name, (point.x, point.y))
    for fixture in design.fixtures:
        if fixture.kind == "drain" and fixture.at is not None:
            yield _Mark("drain", fixture.name, (fixture.at.x, fixture.at.y))
    for flight in plan.flights.all:
        if flight.laid:
            for end in flight.laid.nosings[0]:
                yield _Mark(f"foot of {flight.name}", "", end)
            for end in flight.laid.top:
                yield _Mark(f"top of {flight.name}", "", end)
    for channel in design.channels:
        for number, point in enumerate(channel.along):
            what = f"{channel.name} end" if number in (0, len(channel.along) - 1) else channel.name
            yield _Mark(what, point.name, (point.x, point.y))
    for spot in design.heights.finish:
        if plan.shape.slab.distance(shapely.Point(spot.at.x, spot.at.y)) < ON_EDGE:
            yield _Mark("height", spot.at.name, (spot.at.x, spot.at.y))


def _along_edges(plan: Plan, spacing: float, spots: np.ndarray) -> Iterator[_Mark]:
    """Marks that divide every edge and rim between the pins that stand on it anyway."""
    corners = plan.design.outline
    names = list(corner_names(plan).values())
    along = [distance for distance, _ in distances_along(plan.shape.ring, [(c.at.x, c.at.y) for c in corners])]
    for index in (*range(1, len(corners)), 0):
        corner = corners[index]
        start, end = along[index - 1], along[index]
        piece = shapely.LineString(stretch(plan.shape.ring, start, end))
        what = f"edge {names[index - 1]}-{names[index]}"
        yield from _divided(piece, spacing, what, spots, ARC_PARTS if corner.through is not None else 1)
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        yield from _divided(ring.polygon.exterior, spacing, f"rim of {opening.name}", spots)


def _along_lines(plan: Plan, spacing: float, spots: np.ndarray) -> Iterator[_Mark]:
    for line in plan.design.heights.lines:
        run = [(p.x, p.y) for p in line.along]
        for a, b in pairwise(run):
            yield from _divided(shapely.LineString([a, b]), spacing, line.kind, spots)


def _divided(piece: shapely.Geometry, spacing: float, what: str, spots: np.ndarray, least: int = 1) -> Iterator[_Mark]:
    """Marks that divide a line into stretches of at most ``spacing``, equal between the ``spots`` that lie on it."""
    on = spots[shapely.dwithin(piece, spots, ON_EDGE)]
    stations = np.unique(np.round([0.0, piece.length, *shapely.line_locate_point(piece, on).tolist()], 4))
    for low, high in pairwise(stations.tolist()):
        parts = max(ceil(least / (len(stations) - 1)), ceil((high - low) / spacing - 1e-6))
        for number in range(1, parts):
            spot = piece.interpolate(low + (high - low) * number / parts)
            yield _Mark(what, "", (float(spot.x), float(spot.y)))


def _grid(plan: Plan, line: Line, spacing: float, near: float) -> Iterator[_Mark]:
    """Rows of a grid square to the line, every second one walked back, inside the slab by ``near`` m."""
    corners = line.of(np.asarray(plan.shape.ring.polygon.exterior.coords)[:, :2])
    (low_u, low_v), (high_u, high_v) = corners.min(axis=0), corners.max(axis=0)
    columns = np.linspace(low_u, high_u, max(1, ceil((high_u - low_u) / spacing - 1e-6)) + 1)
    rows = np.linspace(low_v, high_v, max(1, ceil((high_v - low_v) / spacing - 1e-6)) + 1)
    for number, row in enumerate(rows):
        walk = columns if number % 2 == 0 else columns[::-1]
        xy = line.back(np.column_stack([walk, np.full(len(walk), row)]))
        on = shapely.contains_xy(plan.shape.slab, xy[:, 0], xy[:, 1])
        on &= ~shapely.dwithin(plan.shape.slab.boundary, shapely.points(xy), near)
        for at in xy[on]:
            yield _Mark("grid", "", as_xy(at), must=False)


def _thinned(marks: Sequence[_Mark], within: float) -> list[_Mark]:
    """The marks without a second one at the same spot, and without those that only fill up ``within`` m of another."""
    if not marks:
        return []
    spots = shapely.points([mark.at for mark in marks])
    tree = shapely.STRtree(spots)
    pairs = tree.query(spots, predicate="dwithin", distance=within)
    near: dict[int, list[int]] = {}
    for one, other in pairs.T.tolist():
        if other < one:
            near.setdefault(one, []).append(other)
    kept: list[bool] = []
    for index, mark in enumerate(marks):
        others = [k for k in near.get(index, ()) if kept[k]]
        close = [k for k in others if mark.at == marks[k].at or spots[index].distance(spots[k]) < ON_EDGE]
        kept.append(not (close if mark.must else others))
    return [mark for mark, keep in zip(marks, kept, strict=True) if keep]
