"""Where water may leave the slab, and what stops it: edges, openings, drains, channels, and flights of steps.

Exits are numbered: stretches of the outline, then openings, fixtures and channels in file order, then flights.
"""

import math
from functools import cached_property
from typing import ClassVar, Literal, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.distances import height_on
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.water.flood import Rim
from slabwright.geometry.xy import XY
from slabwright.plan.channels import Channels
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.fixtures import Fixtures
from slabwright.plan.flight import Flight
from slabwright.plan.flights import Flights
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView
from slabwright.source.place import Place

LIP = 0.002  # m: a tread so little higher is no dam


class Exit(NamedTuple):
    """Something that water leaves the slab over, into or through."""

    to: str  # name of the edge piece, drain, channel or opening
    kind: Literal["edge", "drain", "opening"]
    beside: str  # for edges
    allowed: bool | None  # None: the file does not say
    place: Place
    shape: tuple[XY, ...]


class Solid(NamedTuple):
    """A flight on the slab or against its edge, and its outline on the plan."""

    flight: Flight
    body: shapely.Geometry

    def top_at(self, at: shapely.Point) -> float:
        """How high the treads at a place on its outline stand, m."""
        near = (tread.top for tread in self.flight.treads if tread.polygon.distance(at) < ON_EDGE)
        return max(near, default=math.inf)


class Exits(PlanView):
    """Where water may leave, by number, and what dams it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"openings", "fixtures"})
    _design: Design
    _shape: Shape
    _edges: Edges
    _fixtures: Fixtures
    _channels: Channels
    _flights: Flights

    @cached_property
    def outlets(self) -> tuple[str, ...]:
        """Names of all edges, openings and drains that may take water, those included that the file leaves open."""
        edges = [piece.name for piece in self._edges.pieces if not piece.dams and piece.takes_water is not False]
        openings = [opening.name for opening in self._design.openings if opening.takes_water]
        drains = [
            one.name
            for one in self._fixtures.all
            if one.fixture.kind == "drain" and self._shape.slab.distance(shapely.Point(one.at)) < ON_EDGE
        ]
        channels = [one.name for one in self._channels.all if one.length > ON_EDGE]
        return (*edges, *openings, *drains, *channels)

    @cached_property
    def solids(self) -> tuple[Solid, ...]:
        """The flights that stand on the slab or against its edge."""
        poured = ((one, [tread.polygon for tread in one.treads]) for one in self._flights.all)
        made = (Solid(flight, shapely.union_all(treads)) for flight, treads in poured if treads)
        return tuple(one for one in made if one.body.distance(self._shape.slab) < ON_EDGE)

    @cached_property
    def pieces(self) -> tuple[EdgePiece, ...]:
        """The stretches of the outline as exits: where two meet at a corner, water leaves over the first of them."""
        open_first = {True: 0, None: 1, False: 2}

        def order(piece: EdgePiece) -> tuple[int, str, list[str]]:
            name = piece.edge.name if piece.edge else ""
            ends = sorted(self._shape.name_at(end) for end in (piece.line[0], piece.line[-1]))
            return open_first[piece.takes_water], name, ends

        return tuple(sorted(self._edges.pieces, key=order))

    @property
    def first_flight(self) -> int:
        """The exit number of the first flight of those on the slab, after edges, openings, fixtures and channels."""
        design = self._design
        return sum(map(len, (self._edges.pieces, design.openings, design.fixtures, self._channels.all)))

    def rim_of(self, surface: Surface) -> Rim:
        """For each boundary edge of the mesh: the edge piece water leaves over (-1: dam) and the height beside.

        A channel along an edge takes what would run over it. Water that comes to the very corner between two pieces
        leaves over that with the lesser number: over one that may take it rather than one that may not or of which
        nothing is said, of equals over the first by name. So it does not hang on where the outline starts.
        """
        pieces = self.pieces
        edges = surface.mesh.rim
        ends = surface.mesh.xy[edges]
        exits = [-1] * len(edges)
        ground = [(-math.inf, -math.inf)] * len(edges)
        counts = [len(piece.line) for piece in pieces]
        corners = np.array([at for piece in pieces for at in piece.line])
        lines = shapely.linestrings(corners, indices=np.repeat(np.arange(len(counts)), counts))
        middles = shapely.points(ends.mean(axis=1))
        nearest = shapely.STRtree(lines).nearest(middles)
        away = shapely.distance(lines[nearest], middles)
        for row, (number, off) in enumerate(zip(nearest.tolist(), away.tolist(), strict=True)):
            if off < ON_EDGE:
                piece = pieces[number]
                if not piece.dams:
                    exits[row] = number
                    if piece.ground is not None:
                        a, b = (height_on(piece.line, piece.ground, (x, y)) for x, y in ends[row].tolist())
                        ground[row] = a, b
            else:
                for k, (opening, ring) in enumerate(zip(self._design.openings, self._shape.opening_rings, strict=True)):
                    open_rim = opening.takes_water or opening.holds == "pool"
                    if open_rim and ring.polygon.distance(middles[row]) < ON_EDGE:
                        exits[row] = len(self._edges.pieces) + k
        for k, channel in enumerate(self._channels.all, self.first_flight - len(self._channels.all)):
            on = shapely.dwithin(shapely.LineString(channel.line), shapely.points(ends), ON_EDGE).all(axis=1)
            for row in np.flatnonzero(on).tolist():
                if exits[row] >= 0:
                    exits[row], ground[row] = k, (-math.inf, -math.inf)
        for k, solid in enumerate(self.solids):
            for row in np.flatnonzero(shapely.dwithin(solid.body, middles, ON_EDGE)).tolist():
                descends = solid.top_at(middles[row]) <= float(surface.z[edges[row]].mean()) + LIP
                if not descends:
                    exits[row] = -1
                elif away[row] >= ON_EDGE:
                    exits[row] = self.first_flight + k
        return Rim(edges, np.array(exits), np.array(ground).reshape(-1, 2))

    def drain_vertices(self, surface: Surface) -> dict[int, int]:
        """Mesh vertices of each drain and channel, with its exit number (after edges and openings)."""
        first = len(self._edges.pieces) + len(self._design.openings)
        found: dict[int, int] = {}
        for number, fixture in enumerate(self._design.fixtures):
            if fixture.kind == "drain" and fixture.at is not None:
                away = np.hypot(surface.mesh.xy[:, 0] - fixture.at.x, surface.mesh.xy[:, 1] - fixture.at.y)
                vertex = int(np.argmin(away))
                if away[vertex] < 2 * ON_EDGE:
                    found[vertex] = first + number
        first += len(self._design.fixtures)
        for number, channel in enumerate(self._channels.all):
            on = shapely.dwithin(shapely.LineString(channel.line), shapely.points(surface.mesh.xy), ON_EDGE)
            found.update(dict.fromkeys(np.flatnonzero(on).tolist(), first + number))
        return found

    def numbered(self, number: int) -> Exit:
        """The exit of a number; not of a flight, from whose foot the water runs on."""
        edges, openings = len(self._edges.pieces), len(self._design.openings)
        if number < edges:
            piece = self.pieces[number]
            return Exit(piece.name, "edge", piece.beside, piece.takes_water, piece.place, piece.line)
        if number < edges + openings:
            opening = self._design.openings[number - edges]
            ring = tuple((c.at.x, c.at.y) for c in opening.corners)
            return Exit(opening.name, "opening", "", opening.takes_water, opening.place, (*ring, ring[0]))
        channel = number - edges - openings - len(self._fixtures.all)
        if channel >= 0:
            one = self._channels.all[channel]
            return Exit(one.name, "drain", "", True, one.channel.place, one.line)
        fixture = self._fixtures.all[number - edges - openings]
        return Exit(fixture.name, "drain", "", True, fixture.fixture.place, (fixture.at,))
