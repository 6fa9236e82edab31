"""Standing water and the ways water takes, named after what stands at each edge."""

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import ClassVar, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.noding import distinct
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.surface import without
from slabwright.geometry.water.flood import Rim, flood
from slabwright.geometry.water.flow import Flow, flow_over
from slabwright.geometry.water.shares import Key, shares_of
from slabwright.geometry.water.standing import PondShape
from slabwright.geometry.water.trails import follow
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.channels import Channels
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.exits import Exits, Solid
from slabwright.plan.finish import Finish
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView
from slabwright.source.place import Place

TOUCHES = 1e-6  # m: a place so near to a facet lies on it
MEETS = 0.002  # how far from a pond's outline an edge may be and still hold its water, m
LEVEL = 1e-6  # m: heights that differ by less are the same
TRAILS = 24  # ways of water kept for the drawing
AHEAD = 0.03  # m: before the foot of a flight, where its water lands


class Pond(NamedTuple):
    """Standing water."""

    name: str  # "low spot 1"
    level: float
    depth: float
    area: float
    volume: float
    outline: tuple[tuple[XY, ...], ...]  # closed rings
    deepest: XY
    against: tuple[str, ...]  # names of the edge pieces it stands against


class WaterShare(NamedTuple):
    """Part of the slab's area whose water leaves over one edge, into one drain, or stays."""

    to: str  # name of the edge piece, drain, opening or pond; "level surface" where it has no fall
    kind: Literal["edge", "drain", "opening", "pond", "level"]
    beside: str  # for edges
    share: float
    allowed: bool | None  # None: the file does not say
    place: Place
    shape: tuple[XY, ...]


class Trail(NamedTuple):
    """The way water takes from one spot."""

    xy: tuple[XY, ...]
    to: str


class Crest(NamedTuple):
    """The highest point of the lowest way over the slab from some edges to others, and the edge it leads to."""

    at: XY
    height: float
    wall: str


class Outcome(NamedTuple):
    """Where water stands on a surface, and where it leaves."""

    ponds: tuple[Pond, ...]
    shares: tuple[WaterShare, ...]  # add up to 1


class Water(PlanView):
    """Standing water, and where water leaves over edges, into drains and through openings.

    A flight of steps is a solid: no water runs through it. What comes to its treads from above, and what rains on it,
    runs down to its foot. Without a finish surface nothing is known of water, and everything here is empty.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"heights"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _channels: Channels
    _exits: Exits

    @cached_property
    def _flow(self) -> Flow | None:
        return self._flow_over(self._finish.surface) if self._finish.surface else None

    def _flow_over(self, surface: Surface) -> Flow:
        if self._exits.solids:
            treads = [tread.polygon for solid in self._exits.solids for tread in solid.flight.treads]
            surface = without(surface, self._shape.slab, treads)
        return flow_over(surface, self._exits.rim_of(surface), self._exits.drain_vertices(surface))

    @cached_property
    def rim(self) -> Rim | None:
        """What stands beside the edges of the finish surface, and where water may leave over them."""
        return self._flow.rim if self._flow else None

    @cached_property
    def ponds(self) -> tuple[Pond, ...]:
        """Standing water, as numbered on the plan."""
        return self._ponds(self._flow) if self._flow else ()

    @cached_property
    def shares(self) -> tuple[WaterShare, ...]:
        """Parts of the slab's area by where their water goes; they add up to 1."""
        return self._shares(self._shares_over(self._flow), self.ponds) if self._flow else ()

    def over(self, surface: Surface) -> Outcome:
        """Standing water, and shares of the slab, as they would be with another finish surface."""
        return self._outcome(self._flow_over(surface))

    def _outcome(self, over: Flow) -> Outcome:
        ponds = self._ponds(over)
        return Outcome(ponds, self._shares(self._shares_over(over), ponds))

    def _shares_over(self, over: Flow) -> dict[Key, float]:
        """Shares of the slab by where their water goes, that which runs down flights followed from the foot of each."""
        found = shares_of(over)
        if not self._exits.solids:
            return found
        whole = self._shape.slab.area
        first = self._exits.first_flight
        below = {first + k: self._below(over, solid)[0] for k, solid in enumerate(self._exits.solids)}
        covered = [shapely.intersection(solid.body, self._shape.slab).area / whole for solid in self._exits.solids]
        rows = [(key, part * (1 - sum(covered))) for key, part in found.items()]
        rows += [(("exit", first + k), part) for k, part in enumerate(covered) if part > 0]
        total: dict[Key, float] = {}
        for key, part in rows:
            for _ in self._exits.solids:
                key = below.get(key[1], key) if key[0] == "exit" else key
            if key[0] == "exit" and key[1] in below:  # heights that lead from foot to top again say no way
                key = ("level", -1)
            total[key] = total.get(key, 0.0) + part
        return total

    def _below(self, over: Flow, solid: Solid) -> tuple[Key, tuple[XY, ...]]:
        """Where water goes that runs down a flight, and its way from the foot on."""
        (x, y), (bx, by) = solid.flight.laid.way[:2] if solid.flight.laid else ((0.0, 0.0), (1.0, 0.0))
        size = math.dist((x, y), (bx, by))
        before = (x - (bx - x) / size * AHEAD, y - (by - y) / size * AHEAD)
        start = self._onto_open(over.surface, before)
        if math.dist(start, before) < AHEAD:
            way = follow(over, start)
            number = {"exit": way.exit, "pond": way.pond, "level": -1}[way.kind]
            return (way.kind, number), tuple(map(as_xy, way.xy))
        lines = [shapely.LineString(piece.line) for piece in self._exits.pieces]
        nearest = min(range(len(lines)), key=lambda k: float(lines[k].distance(shapely.Point(x, y))))
        return ("exit", nearest), ((x, y),)

    def _onto_open(self, surface: Surface, start: XY) -> XY:
        """The place itself, or the nearest one of the slab where no flight stands."""
        spot = shapely.Point(start)
        facet = surface.facets[int(surface.tree.nearest(spot))]
        if not self._exits.solids or facet.distance(spot) < TOUCHES:
            return start
        return as_xy(shapely.get_coordinates(shapely.shortest_line(facet, spot))[0])

    def comes_to(self, edge: str, share: float) -> bool:
        """Whether more than ``share`` of the water would come to an edge if nothing stood beside the slab."""
        return any(one.kind == "edge" and one.to == edge and one.share > share for one in self.bare_shares)

    @cached_property
    def bare_shares(self) -> tuple[WaterShare, ...]:
        """Shares as they would be if no ground stood beside the slab: which edges water comes to."""
        if self._flow is None:
            return ()
        surface, rim = self._flow.surface, self._flow.rim
        if not (rim.ground > surface.z[rim.edges]).any():
            return self.shares
        bare = Rim(rim.edges, rim.exit, np.full_like(rim.ground, -np.inf))
        return self._outcome(flow_over(surface, bare, self._exits.drain_vertices(surface))).shares

    @cached_property
    def trails(self) -> tuple[Trail, ...]:
        """A few ways of water, from the middles of the largest facets, for the drawing."""
        return tuple(self._trail(self._flow, start) for start in _starts(self._flow.surface)) if self._flow else ()

    def ways_from(self, starts: Sequence[XY]) -> tuple[Trail, ...]:
        """The ways of water from places on the slab; one beside it starts at the nearest point of the slab."""
        if self._flow is None or not len(starts):
            return ()
        return tuple(self._way_from(self._shape.nearest(at), self._flow) for at in starts)

    def _way_from(self, start: XY, over: Flow) -> Trail:
        """The way of water from a place; where a channel lies there it is in it already."""
        spot = shapely.Point(start)
        for one in self._channels.all:
            if shapely.LineString(one.line).distance(spot) < ON_EDGE:
                return Trail((start,), one.name)
        return self._trail(over, start)

    def gathered(self, at: XY) -> float:
        """Share of the slab's area whose water passes a point; 0 where no height is known at the point."""
        surface = self._flow.surface if self._flow else None
        if surface is None:
            return 0.0
        vertex = surface.nearest_vertex(at, ON_EDGE)
        if vertex < 0:
            return 0.0
        rim = self._exits.rim_of(surface)
        drains = {**self._exits.drain_vertices(surface), vertex: -2}
        return shares_of(flow_over(surface, rim, drains)).get(("exit", -2), 0.0)

    def crest(self, start: Sequence[EdgePiece], end: Sequence[EdgePiece]) -> Crest | None:
        """The highest point of the lowest way over the slab from edges to others; None where there is no way."""
        surface = self._finish.surface
        crest = crest_over(surface, start, end) if surface else None
        if surface is None or crest is None:
            return crest
        flat = np.abs(surface.z[surface.mesh.triangles] - crest.height) < LEVEL
        joined = [
            surface.mesh.xy[triangle[level]] for triangle, level in zip(surface.mesh.triangles, flat, strict=True)
        ]
        lines = shapely.union_all([shapely.LineString(ends) for ends in joined if len(ends) > 1])
        runs = [
            run for run in shapely.get_parts(shapely.line_merge(lines)) if run.distance(shapely.Point(crest.at)) < MEETS
        ]
        return crest._replace(at=self._named(crest.at, crest.height, shapely.union_all(runs)))

    def _ponds(self, ways: Flow) -> tuple[Pond, ...]:
        return tuple(self._pond(number, shape) for number, shape in enumerate(ways.standing, start=1))

    def _pond(self, number: int, shape: PondShape) -> Pond:
        rings = tuple(
            tuple(map(as_xy, ring.coords))
            for part in shapely.get_parts(shape.outline)
            for ring in (part.exterior, *part.interiors)
        )
        against = tuple(
            dict.fromkeys(
                p.name
                for p in self._edges.pieces
                if p.dams and shapely.LineString(p.line).distance(shape.outline) < MEETS
            )
        )
        against += tuple(one.flight.name for one in self._exits.solids if one.body.distance(shape.outline) < MEETS)
        deepest = self._named(as_xy(shape.deepest), shape.level - shape.depth, shape.outline)
        return Pond(f"low spot {number}", shape.level, shape.depth, shape.area, shape.volume, rings, deepest, against)

    def _named(self, at: XY, z: float, within: shapely.Geometry) -> XY:
        """The first by name of the points with the finish height ``z`` in a shape; the place itself where none is.

        So the spot that speaks for a level stretch does not hang on where the outline starts.
        """
        level = (one.at for one in self._design.heights.finish if one.at.name and abs(one.height.si - z) < LEVEL)
        inside = [one for one in level if within.distance(shapely.Point(one.x, one.y)) < MEETS]
        first = min(inside, key=lambda one: one.name, default=None)
        return (first.x, first.y) if first else at

    def _shares(self, found: Mapping[Key, float], ponds: tuple[Pond, ...]) -> tuple[WaterShare, ...]:
        rows: dict[tuple[str, str, bool | None], WaterShare] = {}
        heights = self._design.place("heights.finish", "heights")

        def add(row: WaterShare) -> None:
            key = (row.kind, row.to, row.allowed)
            if key in rows:
                row = row._replace(share=rows[key].share + row.share, shape=rows[key].shape)
            rows[key] = row

        for (kind, number), share in found.items():
            if kind == "exit":
                out = self._exits.numbered(number)
                add(WaterShare(out.to, out.kind, out.beside, share, out.allowed, out.place, out.shape))
            elif kind == "pond":
                add(WaterShare(ponds[number].name, "pond", "", share, False, heights, (ponds[number].deepest,)))
            else:
                add(WaterShare("level surface", "level", "", share, False, heights, ()))
        return tuple(sorted(rows.values(), key=lambda row: (-row.share, row.to)))

    def _trail(self, over: Flow, start: XY) -> Trail:
        way = follow(over, self._onto_open(over.surface, start))
        xy = tuple(map(as_xy, way.xy))
        if way.kind != "exit":
            return Trail(xy, self.ponds[way.pond].name if way.kind == "pond" and way.pond >= 0 else "level surface")
        key: Key = ("exit", way.exit)
        for _ in self._exits.solids:
            flight = key[1] - self._exits.first_flight
            if key[0] == "exit" and flight >= 0:
                solid = self._exits.solids[flight]
                key, rest = self._below(over, solid)
                xy += (*(solid.flight.laid.way[::-1] if solid.flight.laid else ()), *rest)
        if key[0] == "exit" and key[1] < self._exits.first_flight:
            return Trail(xy, self._exits.numbered(key[1]).to)
        return Trail(xy, self.ponds[key[1]].name if key[0] == "pond" else "level surface")


def crest_over(surface: Surface, start: Sequence[EdgePiece], end: Sequence[EdgePiece]) -> Crest | None:
    """The highest point of the lowest way over a surface from edges to other edges; None where there is no way."""
    from_vertices, to_vertices = _along(surface, start), _along(surface, end)
    if not len(from_vertices) or not len(to_vertices):
        return None
    spill = np.full(len(surface.z), np.inf)
    spill[from_vertices] = surface.z[from_vertices]
    flooded = flood(surface, spill.tolist())
    levels = np.array(flooded.level)[to_vertices]
    vertex = int(to_vertices[np.argmax(levels < levels.min() + 1e-9)])
    marks = shapely.Point(surface.mesh.xy[vertex])
    wall = min(end, key=lambda piece: round(float(shapely.LineString(piece.line).distance(marks)), 6)).name
    way = [vertex]
    while flooded.towards[way[-1]] >= 0 and len(way) <= len(surface.z):
        way.append(flooded.towards[way[-1]])
    top = max(way, key=lambda v: float(surface.z[v]))
    return Crest(as_xy(surface.mesh.xy[top]), float(levels.min()), wall)


def _along(surface: Surface, pieces: Sequence[EdgePiece]) -> np.ndarray:
    """Vertices of the surface on edges."""
    lines = shapely.union_all([shapely.LineString(piece.line) for piece in pieces])
    near = shapely.distance(lines, shapely.points(surface.mesh.xy[surface.mesh.rim])).max(axis=1) < ON_EDGE
    return distinct(surface.mesh.rim[near])


def _starts(surface: Surface) -> list[XY]:
    middles = surface.mesh.xy[surface.mesh.triangles].mean(axis=1)
    order = np.argsort(-surface.areas, kind="stable")[:TRAILS]
    return [as_xy(middles[i]) for i in order]
