"""Standing water and the ways water leaves, named after what stands at each edge."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

import numpy as np
import shapely

from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.surface.surface import Surface
from slabwright.geometry.water import water as flow
from slabwright.plan.edges import ON_EDGE
from slabwright.plan.things import XY, EdgePiece, Pond, Trail, Water, WaterShare
from slabwright.source.place import Place

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

MEETS = 0.002  # how far from a pond's outline an edge may be and still hold its water, m
TRAILS = 24  # ways of water kept for the drawing


def ways_over(plan: Plan, surface: Surface) -> flow.Flow:
    """The ways of water over a finish surface."""
    return flow.flow_over(surface, rim_of(plan, surface), _drain_vertices(plan, surface))


def water(plan: Plan, ways: flow.Flow) -> Water:
    """Standing water, and shares of the slab by where their water goes."""
    ponds = _ponds(plan, ways)
    return Water(ponds, _shares(plan, flow.shares_of(ways), ponds))


def trails(plan: Plan, ways: flow.Flow) -> tuple[Trail, ...]:
    """A few ways of water, from the middles of the largest facets."""
    ponds = _ponds(plan, ways)
    return tuple(_trail(plan, flow.follow(ways, start), ponds) for start in _starts(ways.surface))


def bare_shares(plan: Plan, water_now: Water, ways: flow.Flow) -> tuple[WaterShare, ...]:
    """Shares as they would be if no ground stood beside the slab: which edges water comes to."""
    surface, rim = ways.surface, ways.rim
    if not (rim.ground > surface.z[rim.edges]).any():
        return water_now.shares
    bare = flow.Rim(rim.edges, rim.exit, np.full_like(rim.ground, -np.inf))
    return water(plan, flow.flow_over(surface, bare, _drain_vertices(plan, surface))).shares


def outlets(plan: Plan) -> tuple[str, ...]:
    """Names of all edges, openings and drains that may take water, those included that the file leaves open."""
    edges = [piece.name for piece in plan.edges if not piece.dams and piece.takes_water is not False]
    openings = [opening.name for opening in plan.design.openings if opening.takes_water]
    drains = [
        one.name
        for one in plan.fixtures
        if one.fixture.kind == "drain" and plan.slab.distance(shapely.Point(one.at)) < ON_EDGE
    ]
    return (*edges, *openings, *drains)


def ways(plan: Plan, over: flow.Flow, starts: Sequence[XY]) -> tuple[Trail, ...]:
    """The ways of water from places on the slab; a place beside it starts at the nearest point of the slab."""
    lines = [shapely.shortest_line(plan.slab, shapely.Point(at)) for at in starts]
    on_slab = [shapely.get_coordinates(line)[0] for line in lines]
    ponds = _ponds(plan, over)
    return tuple(_trail(plan, flow.follow(over, (float(x), float(y))), ponds) for x, y in on_slab)


def gathered(plan: Plan, surface: Surface, at: XY) -> float:
    """Share of the slab's area whose water passes a point of the surface; 0 where no height is known at the point."""
    vertex = surface.nearest_vertex(at, ON_EDGE)
    if vertex < 0:
        return 0.0
    rim = rim_of(plan, surface)
    drains = {**_drain_vertices(plan, surface), vertex: -2}
    return flow.shares_of(flow.flow_over(surface, rim, drains)).get(("exit", -2), 0.0)


def rim_of(plan: Plan, surface: Surface) -> flow.Rim:
    """For each boundary edge of the mesh: the edge piece water leaves over (-1: dam) and the height beside.

    Water that comes to the very corner between two pieces leaves over that with the lesser number: over one that may
    take it rather than one that may not or of which nothing is said, of equals over the first by name. So it does not
    hang on where the outline starts.
    """
    pieces = _by_preference(plan)
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
                    a, b = ends[row].tolist()
                    ground[row] = _height_beside(piece, a), _height_beside(piece, b)
        else:
            for opening, ring in zip(plan.design.openings, plan.opening_rings, strict=True):
                if opening.takes_water and ring.polygon.distance(middles[row]) < ON_EDGE:
                    exits[row] = len(plan.edges) + plan.design.openings.index(opening)
    return flow.Rim(edges, np.array(exits), np.array(ground).reshape(-1, 2))


def _by_preference(plan: Plan) -> list[EdgePiece]:
    """The edge pieces in the order in which water at a corner between two of them prefers to leave."""
    takes = {True: 0, None: 1, False: 2}
    return sorted(plan.edges, key=lambda piece: (takes[piece.takes_water], piece.name, min(piece.line)))


def _height_beside(piece: EdgePiece, at: Sequence[float]) -> float:
    """Height of what stands beside an edge at a place on it, straight between its points; needs ``piece.ground``."""
    ground = piece.ground or ()
    _, side, share = nearest_on(piece.line, (at[0], at[1]))
    return ground[side] + share * (ground[side + 1] - ground[side])


def _drain_vertices(plan: Plan, surface: Surface) -> dict[int, int]:
    """Mesh vertex of each drain, with its exit number (after edges and openings)."""
    first = len(plan.edges) + len(plan.design.openings)
    found: dict[int, int] = {}
    for number, fixture in enumerate(plan.design.fixtures):
        if fixture.kind == "drain" and fixture.at is not None:
            away = np.hypot(surface.mesh.xy[:, 0] - fixture.at.x, surface.mesh.xy[:, 1] - fixture.at.y)
            vertex = int(np.argmin(away))
            if away[vertex] < 2 * ON_EDGE:
                found[vertex] = first + number
    return found


def _ponds(plan: Plan, ways: flow.Flow) -> tuple[Pond, ...]:
    return tuple(_pond(plan, number, shape) for number, shape in enumerate(ways.standing, start=1))


def _pond(plan: Plan, number: int, shape: flow.PondShape) -> Pond:
    rings = tuple(
        tuple((float(x), float(y)) for x, y in ring.coords)
        for part in shapely.get_parts(shape.outline)
        for ring in (part.exterior, *part.interiors)
    )
    against = tuple(
        dict.fromkeys(
            p.name for p in plan.edges if p.dams and shapely.LineString(p.line).distance(shape.outline) < MEETS
        )
    )
    deepest = (float(shape.deepest[0]), float(shape.deepest[1]))
    return Pond(f"low spot {number}", shape.level, shape.depth, shape.area, shape.volume, rings, deepest, against)


Exit = tuple[str, Literal["edge", "drain", "opening"], str, bool | None, Place, tuple[XY, ...]]


def _name(plan: Plan, exit_id: int) -> Exit:
    """(to, kind, beside, allowed, place, shape) of an exit."""
    edges, openings = len(plan.edges), len(plan.design.openings)
    if exit_id < edges:
        piece = _by_preference(plan)[exit_id]
        return piece.name, "edge", piece.beside, piece.takes_water, piece.place, piece.line
    if exit_id < edges + openings:
        opening = plan.design.openings[exit_id - edges]
        ring = tuple((c.at.x, c.at.y) for c in opening.corners)
        return opening.name, "opening", "", True, opening.place, (*ring, ring[0])
    fixture = plan.fixtures[exit_id - edges - openings]
    return fixture.name, "drain", "", True, fixture.fixture.place, (fixture.at,)


def _shares(plan: Plan, found: Mapping[flow.Key, float], ponds: tuple[Pond, ...]) -> tuple[WaterShare, ...]:
    rows: dict[tuple[str, str, bool | None], WaterShare] = {}
    heights = plan.place("heights.finish", "heights")

    def add(row: WaterShare) -> None:
        key = (row.kind, row.to, row.allowed)
        if key in rows:
            row = WaterShare(
                row.to, row.kind, row.beside, rows[key].share + row.share, row.allowed, row.place, rows[key].shape
            )
        rows[key] = row

    for (kind, number), share in found.items():
        if kind == "exit":
            to, out, beside, allowed, place, shape = _name(plan, number)
            add(WaterShare(to, out, beside, share, allowed, place, shape))
        elif kind == "pond":
            add(WaterShare(ponds[number].name, "pond", "", share, False, heights, (ponds[number].deepest,)))
        else:
            add(WaterShare("level surface", "level", "", share, False, heights, ()))
    return tuple(sorted(rows.values(), key=lambda row: (-row.share, row.to)))


def _starts(surface: Surface) -> list[XY]:
    middles = surface.mesh.xy[surface.mesh.triangles].mean(axis=1)
    order = np.argsort(-surface.areas, kind="stable")[:TRAILS]
    return [(float(middles[i, 0]), float(middles[i, 1])) for i in order]


def _trail(plan: Plan, way: flow.TrailShape, ponds: tuple[Pond, ...]) -> Trail:
    xy = tuple((float(x), float(y)) for x, y in way.xy)
    if way.kind == "exit":
        return Trail(xy, _name(plan, way.exit)[0])
    return Trail(xy, ponds[way.pond].name if way.kind == "pond" and way.pond >= 0 else "level surface")
