"""What is asked of the heights of the slab between places of it: falls off walls, along valleys and to outlets."""

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.model import Design
from slabwright.formulas.units import FOOT
from slabwright.geometry.differences import Arc
from slabwright.geometry.shape.outline import inside_corners
from slabwright.geometry.xy import XY
from slabwright.plan.doors import Doors
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.falls import WallFalls
from slabwright.plan.finish import Finish
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.held import BASE, FLUSH, HeightAsked, HeldHeights
from slabwright.plan.shape import ON_EDGE, Shape, line_through
from slabwright.plan.view import PlanView
from slabwright.plan.walls import RETURN

SHORT = FOOT  # m: over less than a foot no fall is asked for
SIDE_BY_SIDE = 0.001  # m: two spots nearer to each other are taken this far apart
WITHIN = 3.048  # m, 10 ft: so near to a building the slab falls away from it (the US dwelling code, recalled)
AT_DOOR = 0.9144  # m, 36 in: so near to a door less fall is let pass
MOST_CORNERS = 12  # inside corners that ways lead round


class HeldSpot(NamedTuple):
    """A place of the slab, and what holds it there."""

    at: XY
    held: int  # -1: nothing does
    low: float
    high: float
    asked: HeightAsked | None = None


class Asks(NamedTuple):
    """One thing asked of two heights: an arc whose ``run`` is that of the amount asked, and what is named with it."""

    sort: HeightAsked | None  # None: what is fixed
    arc: Arc
    label: str = ""


class AskedFalls(PlanView):
    """Between which places of the slab a fall is asked."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"fixed", "heights", "openings"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _fixtures: Fixtures
    _doors: Doors
    _wall_falls: WallFalls
    _held: HeldHeights

    def between(self, bound: Sequence[XY]) -> Iterator[tuple[HeightAsked, str, XY, XY, float]]:
        """The lines along which a fall is asked: what for, off what, from where, to where, and its run in m.

        ``bound`` are the places at which something holds the slab.
        """
        yield from self._off_walls(bound)
        yield from self._along_valleys(bound)

    def no_steeper(self, spots: Sequence[HeldSpot], first: int) -> Iterator[Asks]:
        """Every two places in sight of each other, either way."""
        pairs = [(p, q) for p in range(len(spots)) for q in range(p)]
        lines = shapely.linestrings([[spots[p].at, spots[q].at] for p, q in pairs]) if pairs else []
        near = self._shape.slab.buffer(ON_EDGE)
        shapely.prepare(near)
        seen = shapely.covers(near, lines) if pairs else []
        for (p, q), sight in zip(pairs, seen, strict=True):
            if sight:
                run = max(math.dist(spots[p].at, spots[q].at), SIDE_BY_SIDE)
                yield Asks("steepest", Arc(first + p, first + q, 0.0, run))
                yield Asks("steepest", Arc(first + q, first + p, 0.0, run))

    def turns(self) -> list[XY]:
        """Corners of the slab and its openings that ways lead round."""
        rings = ((self._shape.ring, False), *((ring, True) for ring in self._shape.opening_rings))
        return [at for ring, hole in rings for _, at, _ in inside_corners(ring, hole)][:MOST_CORNERS]

    def _off_walls(self, bound: Sequence[XY]) -> Iterator[tuple[HeightAsked, str, XY, XY, float]]:
        """Lines square to a building out to where the slab ends, or meets a drawn valley, within 10 ft.

        None before a wall where something else may come between: a drain, an opening that takes water, heights drawn
        inside the slab, or a low line of the surface as drawn.
        """
        valleys = [line for line, _ in self._valleys]
        doors = [self._doors.line(one) for one in self._doors.all]
        side = 1.0 if self._shape.ring.ccw else -1.0
        for piece in self._edges.buildings:
            if piece.length <= RETURN + ON_EDGE or not self._open_before(piece):
                continue
            for start, end in pairwise(piece.line):
                size = math.dist(start, end)
                if size < ON_EDGE:
                    continue
                x, y = (end[0] - start[0]) / size, (end[1] - start[1]) / size
                square = -y * side, x * side
                feet = {round((at[0] - start[0]) * x + (at[1] - start[1]) * y, 4) for at in bound}
                for along in sorted(foot for foot in feet if -ON_EDGE <= foot <= size + ON_EDGE):
                    foot = start[0] + x * along, start[1] + y * along
                    far = self._far(foot, square, valleys)
                    run = math.dist(foot, far) if far is not None else 0.0
                    if far is None or not SHORT < run <= WITHIN + ON_EDGE or self._edges.at_building(far):
                        continue
                    at_door = any(door.distance(shapely.Point(foot)) <= AT_DOOR for door in doors)
                    run -= AT_DOOR if at_door else 0.0
                    if run > SHORT:
                        yield "away", piece.name, foot, far, run

    def _far(self, foot: XY, square: XY, valleys: Sequence[shapely.LineString]) -> XY | None:
        """Where a line square to a wall meets a drawn valley, or the rim."""
        rim = self._shape.ahead(foot, square)
        if rim is None:
            return None
        way = shapely.LineString([foot, rim])
        met = [at for line in valleys for at in shapely.get_coordinates(shapely.intersection(way, line)).tolist()]
        met = [at for at in met if math.dist(at, foot) > SHORT]
        x, y = min(met, key=lambda at: math.dist(at, foot), default=rim)
        return x, y

    def _open_before(self, wall: EdgePiece) -> bool:
        """Whether the slab before a wall can only fall away from it in one go, or to a drawn valley."""
        line = shapely.LineString(wall.line)
        takers = [shapely.Point(one.at) for one in self._fixtures.all if one.fixture.kind == "drain"]
        takers += [
            ring.polygon
            for opening, ring in zip(self._design.openings, self._shape.opening_rings, strict=True)
            if opening.takes_water
        ]
        drawn = [valley for valley, _ in self._valleys]
        inner = [shapely.Point(spot.at.x, spot.at.y) for spot in self._design.heights.finish]
        inner = [
            at for at in inner
            if self._shape.slab.boundary.distance(at) > ON_EDGE and all(one.distance(at) > ON_EDGE for one in drawn)
        ]  # fmt: skip
        if any(line.distance(one) < WITHIN for one in (*takers, *inner)):
            return False
        lines = self._wall_falls.lines(WITHIN) if self._finish.surface is not None and not drawn else ()
        return all(one.low is None for one in lines if one.edge.name == wall.name)

    @cached_property
    def _valleys(self) -> tuple[tuple[shapely.LineString, str], ...]:
        lines = [line for line in self._design.heights.lines if line.kind == "valley" and len(line.along) > 1]
        return tuple((line_through(one.along), one.name or "the valley") for one in lines)

    def _along_valleys(self, bound: Sequence[XY]) -> Iterator[tuple[HeightAsked, str, XY, XY, float]]:
        """Stretches of a drawn valley down to its one end at which water may leave."""
        valleys = [line for line, _ in self._valleys]
        met = [far for _, _, _, far, _ in self._off_walls(bound)]
        for line, name in self._valleys:
            ends = list(line.coords)
            open_ends = [end for end in (ends[0], ends[-1]) if self._edges.let_water_out(end) or self._drain_at(end)]
            if len(open_ends) != 1 or any(one is not line and one.intersects(line) for one in valleys):
                continue
            on_it = {round(float(line.project(shapely.Point(at))), 4) for at in ends}
            on_it |= {
                round(float(line.project(shapely.Point(at))), 4)
                for at in (*met, *bound)
                if line.distance(shapely.Point(at)) < ON_EDGE
            }
            stations = sorted(on_it, reverse=open_ends[0] == ends[0])
            places = [line.interpolate(station) for station in stations]
            if any(self._drain_at((at.x, at.y)) for at in places[:-1]):
                continue
            for (a, one), (b, other) in pairwise(zip(stations, places, strict=True)):
                yield "low line", name, (one.x, one.y), (other.x, other.y), abs(b - a)

    def _drain_at(self, at: XY) -> bool:
        return any(one.fixture.kind == "drain" and math.dist(one.at, at) < SHORT for one in self._fixtures.all)

    def to_outlets(self, spots: Sequence[HeldSpot], first: int) -> Iterator[Asks]:
        """From each spot held at a wall to the nearest held one at which water may leave.

        None where an edge that takes water, and that this outlet is no part of, is nearer to the wall.
        """
        near = self._shape.slab.buffer(ON_EDGE)
        gutters = {k for k, one in enumerate(self._held.all) if any(f.name == one.name and f.kind == "gutter"
                                                               for f in self._design.fixed)}  # fmt: skip
        walls = [
            k for k, one in enumerate(spots)
            if math.isfinite(one.high) and one.asked not in FLUSH and self._edges.at_building(one.at)
        ]  # fmt: skip
        outlets = [
            k for k, one in enumerate(spots)
            if math.isfinite(one.low) and one.asked not in FLUSH and not self._edges.at_building(one.at)
            and (one.held in gutters or self._edges.let_water_out(one.at))
            and self._held.all[one.held].name != BASE
        ]  # fmt: skip
        for p in walls:
            runs = [
                (round(math.dist(spots[p].at, spots[q].at), 6), q) for q in outlets if spots[q].held != spots[p].held
            ]
            runs = [
                (run, q) for run, q in runs
                if run > SHORT and near.covers(shapely.LineString([spots[p].at, spots[q].at]))
            ]  # fmt: skip
            if runs and not self._drains_nearer(spots[p].at, spots[min(runs)[1]].at):
                run, q = min(runs)
                yield Asks("outlet", Arc(first + p, first + q, 0.0, run))

    def _drains_nearer(self, wall: XY, outlet: XY) -> bool:
        """Whether an edge that takes water, and that the outlet is no part of, is nearer to a spot at a wall."""
        spot, run = shapely.Point(wall), math.dist(wall, outlet)
        at_outlet, at_wall = self._edges.at(outlet), self._edges.at(wall)
        return any(
            piece.lets_water_out and shapely.LineString(piece.line).distance(spot) < run - ON_EDGE
            for piece in self._edges.pieces
            if piece not in at_outlet and piece not in at_wall
        )
