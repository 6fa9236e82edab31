"""The profile of a way in: grades of the finish surface as wheels meet them, and where they change."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.geometry.surface.surface import Surface
from slabwright.plan.edges import ON_EDGE
from slabwright.plan.things import XY, EdgePiece, GradeBreak

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

STATIONS = (0.5, 0.25, 0.75)  # where over an edge wheels come in, as shares of its length
NEAR = 6 * 0.3048  # m: a stretch as long as this between two others parts their change of grade in two
LIP = 0.3048  # m: what is shorter than this is a lip and no grade
_SAME = 1e-6  # grades that differ by less are one


class _Way(NamedTuple):
    """A straight way in over an edge."""

    edge: EdgePiece
    foot: np.ndarray
    inward: np.ndarray  # unit vector
    length: float  # to where the slab ends, m


class _Grade(NamedTuple):
    """A stretch of one grade; beyond the slab it has no length."""

    low: float
    high: float
    grade: float
    outside: bool = False


def grade_breaks(plan: Plan, surface: Surface) -> tuple[GradeBreak, ...]:
    """The worst crest, sag and break at an edge, of the ways in over each edge that wheels cross."""
    worst: dict[tuple[object, str, str], GradeBreak] = {}
    for piece, line in _crossed(plan):
        for way in _ways(plan, piece, line):
            for one in _breaks(plan, surface, way):
                key = (piece.place, piece.name, one.kind)
                if key not in worst or _change(one) > _change(worst[key]) + _SAME:
                    worst[key] = one
    return tuple(worst.values())


def _change(one: GradeBreak) -> float:
    return abs(one.after - one.before)


def _crossed(plan: Plan) -> Iterator[tuple[EdgePiece, shapely.LineString]]:
    """Edges that wheels cross, each with its line; pieces of one edge that hang together are one line."""
    edges: dict[tuple[object, str], list[EdgePiece]] = {}
    for piece in plan.edges:
        if piece.wheels_cross:
            edges.setdefault((piece.place, piece.name), []).append(piece)
    for pieces in edges.values():
        lines = shapely.MultiLineString([piece.line for piece in pieces])
        for line in shapely.get_parts(shapely.line_merge(lines)):
            yield pieces[0], line


def _ways(plan: Plan, piece: EdgePiece, line: shapely.LineString) -> Iterator[_Way]:
    """Ways straight in over an edge, square to its chord."""
    ends = shapely.get_coordinates(line)[[0, -1]]
    chord = ends[1] - ends[0]
    if np.hypot(*chord) < LIP:
        return
    square = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
    low_x, low_y, high_x, high_y = plan.slab.bounds
    far = float(np.hypot(high_x - low_x, high_y - low_y))
    for share in STATIONS:
        foot = shapely.get_coordinates(line.interpolate(share, normalized=True))[0]
        for inward in (square, -square):
            ray = shapely.LineString([foot + inward * ON_EDGE / 2, foot + inward * far])
            parts = shapely.get_parts(shapely.intersection(plan.slab, ray))
            first = [part for part in parts if part.distance(shapely.Point(*foot)) < ON_EDGE]
            length = max((float(part.length) for part in first), default=0.0)
            if length > LIP:
                yield _Way(piece, foot, inward, length + ON_EDGE / 2)
                break


def _breaks(plan: Plan, surface: Surface, way: _Way) -> Iterator[GradeBreak]:
    """Every two stretches of a way that a car is on at once, and whose grades differ."""
    grades = _grades(plan, surface, way)
    for first, second in combinations(grades, 2):
        gap = second.low - first.high
        if gap > NEAR - _SAME or abs(second.grade - first.grade) < _SAME:
            continue
        at = way.foot + way.inward * (first.high + second.low) / 2
        kind: Literal["crest", "sag", "edge"] = "crest" if second.grade < first.grade else "sag"
        if first.outside or second.outside:
            kind = "edge"
        on_slab = second if first.outside else first
        inner = on_slab.high if first.outside else on_slab.low
        fold = ON_EDGE < inner < way.length - ON_EDGE
        yield GradeBreak(
            edge=way.edge.name,
            kind=kind,
            at=(float(at[0]), float(at[1])),
            before=first.grade,
            after=second.grade,
            lengths=(first.high - first.low, second.high - second.low),
            gap=max(gap, 0.0) if gap > 2 * ON_EDGE else 0.0,
            inner=_spot(way, inner) if kind == "edge" and fold else None,
        )


def _spot(way: _Way, distance: float) -> XY:
    at = way.foot + way.inward * distance
    return float(at[0]), float(at[1])


def _grades(plan: Plan, surface: Surface, way: _Way) -> list[_Grade]:
    """The grades of a way, going in: beyond the edge where the file gives it, over the slab, and beyond its end."""
    first, last = way.foot + way.inward * 1e-6, way.foot + way.inward * (way.length - 1e-6)
    distances, heights = surface.profile((float(first[0]), float(first[1])), (float(last[0]), float(last[1])))
    found: list[_Grade] = []
    for low, high, before, after in zip(distances, distances[1:], heights, heights[1:], strict=False):
        if np.isnan(before) or np.isnan(after) or high - low < ON_EDGE:
            continue
        grade = float((after - before) / (high - low))
        if found and abs(found[-1].grade - grade) < _SAME and low - found[-1].high < 2 * ON_EDGE:
            found[-1] = found[-1]._replace(high=float(high))
        else:
            found.append(_Grade(float(low), float(high), grade))
    found = [one for one in found if one.high - one.low > LIP - _SAME]
    beside = way.edge.edge.falls_to_slab if way.edge.edge else None
    if beside is not None:
        found.insert(0, _Grade(0.0, 0.0, -beside.si, outside=True))
    for piece in plan.edges_at(_spot(way, way.length)):
        if piece.edge and piece.edge.falls_to_slab is not None:
            found.append(_Grade(way.length, way.length, piece.edge.falls_to_slab.si, outside=True))
            break
    return found
