"""Where wheels stand on the slab, and the grades they drive over on the ways in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import combinations
from typing import ClassVar, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.formulas.units import FOOT
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.areas import WALKED, Area, Areas
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.finish import Finish
from slabwright.plan.joints import Joints
from slabwright.plan.panels import Panel, Panels
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.thickness import Thickness
from slabwright.plan.view import PlanView

STATIONS = (0.5, 0.25, 0.75)  # where over an edge wheels come in, as shares of its length
NEAR = 6 * FOOT  # m: a stretch as long as this between two others parts their change of grade in two
LIP = FOOT  # m: what is shorter than this is a lip and no grade
_SAME = 1e-6  # grades that differ by less are one
_ROADS = ("street", "asphalt")  # where cars come from
_CORNER = math.radians(20)  # a bend that turns less is no corner


class WheelSpot(NamedTuple):
    """A place of the slab that wheels may stand on, where it is the thinnest of its kind."""

    kind: Literal["interior", "edge", "corner"]
    name: str  # "inside panel P2", "at the edge along the street"
    thickness: float  # drawn there, m
    crossed: bool  # wheels are known to drive there, and not only to stray
    locked: bool  # something hands part of the load over to the concrete beside it
    free: bool  # it lies at the outline, and the file may say that wheels keep away from there
    pieces: tuple[EdgePiece, ...]  # the edge, or the two edges of a corner
    area: str  # the name of the area it lies in
    thickness_path: str  # the key under which the thickness of that area is written


class GradeBreak(NamedTuple):
    """Where the grade of a way in changes: between two stretches that a car is on at once.

    Grades are rise over run going in; beyond the slab a stretch has no length.
    """

    edge: str  # the edge that wheels come in over
    kind: Literal["crest", "sag", "edge"]  # edge: one of the two stretches lies beyond the slab
    at: XY
    before: float
    after: float
    lengths: tuple[float, float]  # of the two stretches on the slab, m
    gap: float  # between the two stretches, m; 0 where they meet
    inner: XY | None  # at an edge: where its stretch on the slab ends at a fold; None where that is an edge too


class Wheels(PlanView):
    """The slab as vehicles meet it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset[str]()
    _shape: Shape
    _areas: Areas
    _thickness: Thickness
    _finish: Finish
    _edges: Edges
    _joints: Joints
    _panels: Panels

    @cached_property
    def driven_panels(self) -> tuple[Panel, ...]:
        """The panels that vehicles drive over, if any do.

        On a walk or a patio those between edges that wheels cross, where the file names such; elsewhere all. Of a slab
        of several uses those with none but walks and patios in them count as such.
        """
        crossed = [shapely.LineString(piece.line) for piece in self._edges.pieces if piece.wheels_cross]
        walked = [panel for panel in self._panels.all if panel.uses <= set(WALKED)]
        mixed = len(walked) < len(self._panels.all)
        if not walked or not (crossed or mixed):
            return self._panels.all
        beside = self._at(crossed)
        return tuple(one for one in self._panels.all if one in beside or not one.uses <= set(WALKED))

    @cached_property
    def crossed_panels(self) -> tuple[Panel, ...]:
        """The panels at edges of which the file itself says that wheels cross them, whatever the slab is for."""
        said = [piece for piece in self._edges.pieces if piece.edge is not None and piece.edge.wheels_cross]
        return self._at([shapely.LineString(piece.line) for piece in said])

    def _at(self, lines: Sequence[shapely.LineString]) -> tuple[Panel, ...]:
        """The panels that lie along some edges, and not with a corner alone."""
        if not lines:
            return ()
        near = shapely.union_all(lines).buffer(ON_EDGE)
        along = ((one, shapely.intersection(near, one.polygon).area) for one in self._panels.all)
        return tuple(one for one, shared in along if shared > ON_EDGE**2 * 20)

    @cached_property
    def spots(self) -> tuple[WheelSpot, ...]:
        """Where wheels may stand: inside the panels they drive over, at free edges and corners, at construction joints.

        Walls, buildings and steps keep wheels off; a curb and an old slab do unless wheels cross there. On a walk or a
        patio that wheels cross only the edges they cross count.
        """
        driven = self.driven_panels
        panel = min(driven, key=lambda panel: self._thickness.least_over(panel.polygon))
        inside = f"inside panel {panel.name}"
        least, own = self._thickness.least_over(panel.polygon), _written(panel.thinnest)
        spots = [WheelSpot("interior", inside, least, True, False, False, (), *own)]
        only_crossed = len(driven) < len(self._panels.all)
        wheels = tuple(area for area in self._areas.all if area.use not in WALKED) or self._areas.all
        open_edges = [
            piece
            for piece in self._edges.pieces
            if piece.wheels_cross
            or not (
                piece.fixed_face or piece.wheels_cross is False or (only_crossed and not self._beside(piece, wheels))
            )
        ]
        for piece in open_edges:
            tied = piece.edge is not None and piece.edge.tied
            here = self._areas.all if piece.wheels_cross else wheels
            deep, name = self._thickness.least_along(piece.line, here), f"at the edge along {piece.name}"
            own = _written(_thinnest(self._areas.along(piece.line), here))
            spots.append(WheelSpot("edge", name, deep, bool(piece.wheels_cross), tied, True, (piece,), *own))
        inner = [corner.at for corner in self._panels.inside_corners]
        for one, other in combinations(open_edges, 2):
            for at in {one.line[0], one.line[-1]} & {other.line[0], other.line[-1]}:
                if _turns(one.line, other.line, at) and not any(math.dist(at, corner) < ON_EDGE for corner in inner):
                    crossed = bool(one.wheels_cross or other.wheels_cross)
                    name, deep = f"at corner {self._shape.name_at(at)}", self._thickness.at(at)
                    own = _written(self._areas.at(at))
                    spots.append(WheelSpot("corner", name, deep, crossed, False, True, (one, other), *own))
        for joint in self._joints.all:
            if joint.joint.kind == "construction joint":
                deep, locked = self._thickness.least_along(joint.line, wheels), joint.joint.lock is not None
                own = _written(_thinnest(self._areas.along(joint.line), wheels))
                spots.append(WheelSpot("edge", f"at joint {joint.name}", deep, True, locked, False, (), *own))
        return tuple(spots)

    def _beside(self, piece: EdgePiece, areas: Sequence[Area]) -> bool:
        """Whether an edge runs along one of these areas, which are no walks or patios where others are."""
        return any(one is area and one.use not in WALKED for one in self._areas.along(piece.line) for area in areas)

    @cached_property
    def grade_breaks(self) -> tuple[GradeBreak, ...]:
        """The worst crest, sag and break at an edge, of the ways in over each edge that wheels cross.

        Ways in from a street come first, then those over other edges by their names, wherever the outline starts.
        """
        surface = self._finish.surface
        if surface is None:
            return ()
        worst: dict[tuple[object, str, str], GradeBreak] = {}
        for piece, line in sorted(self._crossed(), key=lambda one: (one[0].beside not in _ROADS, one[0].name)):
            for way in self._ways(piece, line):
                for one in self._breaks(surface, way):
                    key = (piece.place, piece.name, one.kind)
                    if key not in worst or _change(one) > _change(worst[key]) + _SAME:
                        worst[key] = one
        return tuple(worst.values())

    def ways_out(self, piece: EdgePiece, within: float) -> tuple[tuple[XY, XY], ...]:
        """Straight ways over the slab square to an edge, from it to ``within`` m or to where the slab ends."""
        ways = self._ways(piece, shapely.LineString(piece.line))
        return tuple((_spot(way, 0.0), _spot(way, min(way.length, within))) for way in ways)

    def _crossed(self) -> Iterator[tuple[EdgePiece, shapely.LineString]]:
        """Edges that wheels cross, each with its line; pieces of one edge that hang together are one line."""
        edges: dict[tuple[object, str], list[EdgePiece]] = {}
        for piece in self._edges.pieces:
            if piece.wheels_cross:
                edges.setdefault((piece.place, piece.name), []).append(piece)
        for pieces in edges.values():
            lines = shapely.MultiLineString([piece.line for piece in pieces])
            for line in shapely.get_parts(shapely.line_merge(lines)):
                yield pieces[0], line

    def _ways(self, piece: EdgePiece, line: shapely.LineString) -> Iterator[_Way]:
        """Ways straight in over an edge, square to its chord."""
        ends = shapely.get_coordinates(line)[[0, -1]]
        chord = ends[1] - ends[0]
        if np.hypot(*chord) < LIP:
            return
        square = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
        low_x, low_y, high_x, high_y = self._shape.slab.bounds
        far = float(np.hypot(high_x - low_x, high_y - low_y))
        for share in STATIONS:
            foot = shapely.get_coordinates(line.interpolate(share, normalized=True))[0]
            for inward in (square, -square):
                ray = shapely.LineString([foot + inward * ON_EDGE / 2, foot + inward * far])
                length = _first(shapely.intersection(self._shape.slab, ray), foot)
                clear = _first(shapely.intersection(self._off_the_edges, ray), foot)
                if length - clear > LIP:  # from there on it only runs along an edge
                    length = clear
                if length > LIP:
                    yield _Way(piece, foot, inward, length + ON_EDGE / 2)
                    break

    @cached_property
    def _off_the_edges(self) -> shapely.Geometry:
        """The slab without a hairline along its edges, in which no way runs along one."""
        inner = self._shape.slab.buffer(-ON_EDGE / 4)
        shapely.prepare(inner)
        return inner

    def _breaks(self, surface: Surface, way: _Way) -> Iterator[GradeBreak]:
        """Every two stretches of a way that a car is on at once, and whose grades differ."""
        grades = self._grades(surface, way)
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
                at=as_xy(at),
                before=first.grade,
                after=second.grade,
                lengths=(first.high - first.low, second.high - second.low),
                gap=max(gap, 0.0) if gap > 2 * ON_EDGE else 0.0,
                inner=_spot(way, inner) if kind == "edge" and fold else None,
            )

    def _grades(self, surface: Surface, way: _Way) -> list[_Grade]:
        """The grades of a way, going in: beyond the edge where the file gives it, over the slab, and beyond its end."""
        first, last = way.foot + way.inward * 1e-6, way.foot + way.inward * (way.length - 1e-6)
        distances, heights = surface.profile(as_xy(first), as_xy(last))
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
        for piece in self._edges.at(_spot(way, way.length)):
            if piece.edge and piece.edge.falls_to_slab is not None:
                found.append(_Grade(way.length, way.length, piece.edge.falls_to_slab.si, outside=True))
                break
        return found


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


def _first(parts: shapely.Geometry, foot: np.ndarray) -> float:
    """The length of the part that begins at a place, m."""
    near = [part for part in shapely.get_parts(parts) if part.distance(shapely.Point(*foot)) < ON_EDGE]
    return max((float(part.length) for part in near), default=0.0)


def _thinnest(areas: Sequence[Area], counting: Sequence[Area]) -> Area:
    """The thinnest of some areas, of those that count where some do."""
    return min(
        [area for area in areas if any(area is one for one in counting)] or areas, key=lambda area: area.thickness.si
    )


def _written(area: Area) -> tuple[str, str]:
    return area.name, area.thickness_path


def _change(one: GradeBreak) -> float:
    return abs(one.after - one.before)


def _spot(way: _Way, distance: float) -> XY:
    at = way.foot + way.inward * distance
    return as_xy(at)


def _turns(one: Sequence[XY], other: Sequence[XY], at: XY) -> bool:
    """Whether two stretches of the outline that meet at a point make a corner there."""
    (ax, ay), (bx, by) = (line[1] if line[0] == at else line[-2] for line in (one, other))
    first, second = math.atan2(ay - at[1], ax - at[0]), math.atan2(by - at[1], bx - at[0])
    return abs(math.remainder(first - second, 2 * math.pi)) < math.pi - _CORNER
