"""Where pins stand: at every corner, height line and low point, along the edges, and on a grid for the screed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

import numpy as np
import shapely

from slabwright.design.point import Point
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.outline import distances_along, stretch
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.sheets.stake.lines import Line, corner_names
from slabwright.units.quantity import System

LAP: dict[System, float] = {"us": 2 * FOOT, "metric": 0.6}  # m the screed reaches past a pin, `common-practice`
NEAR = 0.3  # m: a pin that only fills up is left out this near to another
ARC_PARTS = 4  # an arc gets at least this many stretches, so that a form can follow it


@dataclass(frozen=True, slots=True)
class Mark:
    """A place for a pin: what stands there, and whether a pin must, or only fills up."""

    what: str
    name: str
    at: XY
    must: bool = True


def marks_of(plan: Plan, line: Line, spacing: float) -> list[Mark]:
    """Every mark, none further than ``spacing`` m from the next along an edge, a height line or a row of the grid."""
    needed = list(_needed(plan))
    spots = shapely.points([mark.at for mark in needed])
    marks = _thinned([*needed, *_along_edges(plan, spacing, spots), *_along_lines(plan, spacing, spots)], NEAR)
    near = min(LAP[plan.system], spacing / 4)  # what is left out is within the lap of the screed
    return _thinned([*(replace(mark, must=True) for mark in marks), *_grid(plan, line, spacing, near)], near)


def _needed(plan: Plan) -> Iterator[Mark]:
    """Corners, points of lines, drains, feet and tops of flights, and other points with a finish height."""
    design = plan.design
    for place, name in corner_names(plan).items():
        yield Mark("corner", name, place) if name in design.points else Mark("", name, place)
    rings = [(one.name, one.corners) for one in design.openings] + [(one.name, one.corners) for one in design.parts]
    for ring, corners in rings:
        for number, corner in enumerate(corners, 1):
            yield Mark(f"{ring} corner", corner.at.name or str(number), (corner.at.x, corner.at.y))
    for line in design.heights.lines:
        title = f"{line.kind} {line.name}" if line.name and line.name != line.kind else line.kind
        yield from _on_line(title, line.along)
    for fixture in design.fixtures:
        if fixture.kind == "drain" and fixture.at is not None:
            yield Mark("drain", fixture.name, (fixture.at.x, fixture.at.y))
    for flight in plan.flights.all:
        if flight.laid:
            yield from (Mark(f"foot of {flight.name}", "", end) for end in flight.laid.nosings[0])
            yield from (Mark(f"top of {flight.name}", "", end) for end in flight.laid.top)
    for channel in design.channels:
        yield from _on_line(channel.name, channel.along)
    for spot in design.heights.finish:
        if plan.shape.slab.distance(shapely.Point(spot.at.x, spot.at.y)) < ON_EDGE:
            yield Mark("height", spot.at.name, (spot.at.x, spot.at.y))


def _on_line(title: str, along: Sequence[Point]) -> Iterator[Mark]:
    """Marks at the points of a line, its ends called so."""
    for number, point in enumerate(along):
        what = f"{title} end" if number in (0, len(along) - 1) else title
        yield Mark(what, point.name, (point.x, point.y))


def _along_edges(plan: Plan, spacing: float, spots: np.ndarray) -> Iterator[Mark]:
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


def _along_lines(plan: Plan, spacing: float, spots: np.ndarray) -> Iterator[Mark]:
    for line in plan.design.heights.lines:
        run = [(p.x, p.y) for p in line.along]
        for a, b in pairwise(run):
            yield from _divided(shapely.LineString([a, b]), spacing, line.kind, spots)


def _divided(piece: shapely.Geometry, spacing: float, what: str, spots: np.ndarray, least: int = 1) -> Iterator[Mark]:
    """Marks that divide a line into stretches of at most ``spacing``, equal between the ``spots`` that lie on it."""
    on = spots[shapely.dwithin(piece, spots, ON_EDGE)]
    stations = np.unique(np.round([0.0, piece.length, *shapely.line_locate_point(piece, on).tolist()], 4))
    for low, high in pairwise(stations.tolist()):
        parts = max(ceil(least / (len(stations) - 1)), ceil((high - low) / spacing - 1e-6))
        for number in range(1, parts):
            spot = piece.interpolate(low + (high - low) * number / parts)
            yield Mark(what, "", (float(spot.x), float(spot.y)))


def _grid(plan: Plan, line: Line, spacing: float, near: float) -> Iterator[Mark]:
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
            yield Mark("grid", "", as_xy(at), must=False)


def _thinned(marks: Sequence[Mark], within: float) -> list[Mark]:
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
