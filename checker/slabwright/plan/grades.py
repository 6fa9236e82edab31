"""The heights that would make a part of the finish surface, or the slab at an edge, fall as asked."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.heights import SpotHeight
from slabwright.design.model import Design
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.shape.noding import distinct
from slabwright.geometry.surface import patches
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.patches import gradients_with
from slabwright.geometry.surface.raising import least_raised
from slabwright.geometry.xy import XY, as_xy
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.falls import FallPart, WallFall, connected, part_of
from slabwright.plan.finish import Finish
from slabwright.plan.routes import RouteStretch
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView
from slabwright.plan.water import Pond, Water, crest_over
from slabwright.units import quantity

OFF_LINE = 0.02  # m: a point nearer to an edge stands on it
DRY = 0.002  # share of the slab below which no water is said to leave over an edge
LIP = 0.038  # m, 1 1/2 in: a higher one at a street stops wheels (common practice)
RAISED_AT_MOST = 6  # points raised to make a crest; a longer crest is told in words
_MORE = (1.0, 1.02, 1.05, 1.1, 1.2, 1.35, 1.6, 2.0)  # tried in turn: heights are written in whole steps
SLIVER = 1e-9  # m2: a facet so small carries nothing that those beside it do not
STAYS = 1e-9  # m: a height that is to move by less stays
ONE_WAY = 0.003  # parts whose slopes differ by less lie in one plane, as heights are written
AS_STAKED = 0.0048  # m, 3/16 in: nobody moves a stake up by less
_FOOT = 0.3048


class NewHeight(NamedTuple):
    """A height to write at a point in place of the one there now."""

    name: str
    old: float
    new: float


class Grades(PlanView):
    """New heights for points of the file, as a person would write them.

    Whatever they are asked for, they are empty when heights of points alone cannot do it, and without a surface.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"units", "points", "heights", "fixtures", "channels"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _water: Water

    @cached_property
    def step(self) -> float:
        """The steps in which the file writes heights, m: a hundredth of a foot, an eighth of an inch, a millimeter."""
        return {"ft": 0.01 * _FOOT, "in": _FOOT / 96}.get(self._design.height_unit, 0.001)

    def written(self, height: float, up: bool | None = None) -> float:
        """The next height that can be written, at or above ``height`` (``up``), at or below it, or the nearest; m."""
        steps = height / self.step
        if up is None:
            return round(steps) * self.step
        return (math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6)) * self.step

    def _moved_to(self, heights: Sequence[float], wanted: Sequence[float]) -> list[float]:
        """The wanted heights as a person would write them; one that stays and lies between two steps is left alone."""
        steps = [self.written(new) for new in wanted]
        every = zip(heights, wanted, steps, strict=True)
        return [old if abs(new - old) < STAYS < abs(step - old) else step for old, new, step in every]

    def for_part(self, part: FallPart, slope: float, least: bool, keeps_low: bool = False) -> tuple[NewHeight, ...]:
        """Heights that give a part a fall of at least (or at most) ``slope``, its highest point kept, or its lowest.

        A part that falls already is made steeper or flatter as it lies; a level one is tilted away from the buildings,
        or towards an edge that may take water.
        """
        surface = self._finish.surface
        if surface is None or part.others:
            return ()
        vertices = sorted({vertex for row in surface.mesh.triangles[list(part.facets)].tolist() for vertex in row})
        xy, z = surface.mesh.xy[vertices].tolist(), surface.z[vertices].tolist()
        top = min(z) if keeps_low else max(z)
        for more in _MORE:
            asked = slope * more if least else slope / more
            if least and part.least < slope / 4:
                x, y = self._towards(part)
                along = [px * x + py * y for px, py in xy]
                wanted = [top - asked * (place - min(along)) for place in along]
            else:
                wanted = [top - (top - height) * (asked / (part.least if least else part.most)) for height in z]
            new = self._moved_to(z, wanted)
            slopes = [
                math.hypot(*gradient)
                for gradient in gradients_with(surface, part.facets, zip(vertices, new, strict=True))
            ]
            if (min(slopes) >= slope) if least else (max(slopes) <= slope):
                return self._changes(xy, z, new)
        return ()

    def for_wall(
        self, falls: Sequence[WallFall], slope: float, least: float | None = None, in_plane: bool = False
    ) -> tuple[NewHeight, ...]:
        """Heights that make the facets under ``falls``, all of one wall, fall ``slope`` away; the wall side kept.

        ``least`` is the fall that is enough where heights are written in steps, and ``slope`` without it. What lies in
        one plane with those facets is tipped along with them if it is to stay ``in_plane``; there must be more of it.
        """
        surface = self._finish.surface
        if surface is None or not falls or falls[0].edge.finish is None or _bowed(falls[0].edge):
            return ()
        wall, finish = falls[0].edge.line, falls[0].edge.finish
        out_x, out_y = self._outward(falls[0].edge)
        facets = patches.facets_at(surface, [fall.at for fall in falls])
        plane = surface.gradients[facets].mean(axis=0)
        alike = np.hypot(*(surface.gradients - plane).T) < ONE_WAY
        if in_plane:
            spread = _spread(surface, facets, alike) if alike[facets].all() else facets
            facets = spread if len(spread) > len(facets) else []
        if not facets:
            return ()
        vertices, xy, foot, off = [], [], [], []
        for vertex in sorted({vertex for row in surface.mesh.triangles[facets].tolist() for vertex in row}):
            x, y = surface.mesh.xy[vertex].tolist()
            away, side, share = nearest_on(wall, (x, y))
            if away > OFF_LINE and not (in_plane and self._edges.at_building((x, y))):
                vertices.append(vertex)
                xy.append((x, y))
                off.append((wall[0][0] - x) * out_x + (wall[0][1] - y) * out_y)
                at_wall = float(surface.z[vertex]) + off[-1] * float(plane @ (out_x, out_y))
                foot.append(at_wall if in_plane else finish[side] + share * (finish[side + 1] - finish[side]))
        old = surface.z[vertices].tolist()
        for more in _MORE:
            nearest = None if more == 1.0 else False  # at first as near as can be written, then down
            new = [self.written(low - slope * more * run, nearest) for low, run in zip(foot, off, strict=True)]
            # a point that lies low enough, and hardly lower, stays: nobody moves a stake by a sixteenth
            stays = [z if 0 <= n - z < AS_STAKED else n for z, n in zip(old, new, strict=True)]
            for tried in (stays, new):
                gradients = gradients_with(surface, facets, zip(vertices, tried, strict=True))
                if min(x * out_x + y * out_y for x, y in gradients) >= (slope if least is None else least) - STAYS:
                    return self._changes(xy, old, tried)
        return ()

    def like_the_rest(self, falls: Sequence[WallFall], short: Sequence[WallFall]) -> tuple[NewHeight, ...]:
        """Heights that bring the facets under ``short`` into the plane of the largest under the other ``falls``.

        They are for a height that slipped: the rest of the slab before the wall is kept.
        """
        surface = self._finish.surface
        rest = [fall.at for fall in falls if fall not in short]
        if surface is None or not rest or not short:
            return ()
        facets = patches.facets_at(surface, [fall.at for fall in short])
        sound = set(patches.facets_at(surface, rest)).difference(facets)
        if not facets or not sound:
            return ()
        model = max(sound, key=lambda facet: (round(float(surface.areas[facet]), 6), facet))
        kept = surface.mesh.triangles[model].tolist()
        off = sorted({vertex for row in surface.mesh.triangles[facets].tolist() for vertex in row}.difference(kept))
        xy, old = surface.mesh.xy[off], surface.z[off].tolist()
        plane = surface.z[kept[0]] + (xy - surface.mesh.xy[kept[0]]) @ surface.gradients[model]
        if any(self._edges.at_building((x, y)) for x, y in xy.tolist()):
            return ()
        return self._changes(xy.tolist(), old, self._moved_to(old, plane.tolist()))

    def level_off(self, facets: Sequence[int], slope: float) -> tuple[NewHeight, ...]:
        """Heights that make these facets alone fall at most ``slope``; what lies below them takes up the rest."""
        surface = self._finish.surface
        if surface is None or not facets or surface.slopes[list(facets)].max() <= slope:
            return ()
        return self.for_part(part_of(surface, facets), slope, least=False)

    def flatter(self, facets: Sequence[int], slope: float, keeps_low: bool = False) -> tuple[NewHeight, ...]:
        """Heights that make facets that lie together, and all as steep beside them, fall at most ``slope``."""
        surface = self._finish.surface
        if surface is None or not facets or surface.slopes[list(facets)].max() <= slope:
            return ()
        together = _spread(surface, facets, surface.slopes > slope)
        return self.for_part(part_of(surface, together), slope, least=False, keeps_low=keeps_low)

    def eased(self, stretch: RouteStretch, slope: float, across: bool) -> tuple[NewHeight, ...]:
        """Heights that make the facets under a stretch of a way fall at most ``slope`` along it, or ``across`` it.

        They are turned, with all as steep beside them, about the line of the way, or about its upper end.
        """
        surface = self._finish.surface
        if surface is None:
            return ()
        start, end = np.array(stretch.shape[0]), np.array(stretch.shape[1])
        way = (end - start) / np.hypot(*(end - start))
        if across:
            way = np.array([-way[1], way[0]])
        elif surface.height(np.array([start]))[0] < surface.height(np.array([end]))[0]:
            start = end
        facets = np.array(_spread(surface, stretch.facets, np.abs(surface.gradients @ way) > slope * (1 + 1e-9)))
        vertices = distinct(surface.mesh.triangles[facets])
        xy, z = surface.mesh.xy[vertices], surface.z[vertices]
        gradients = surface.gradients[facets] @ way
        steepest = float(gradients[np.argmax(np.abs(gradients))])
        if abs(steepest) <= slope:
            return ()
        for more in _MORE:
            new = z - steepest * (1 - slope / more / abs(steepest)) * ((xy - start) @ way)
            rounded = self._moved_to(z.tolist(), new.tolist())
            trial = Surface(surface.mesh, _put(surface.z, vertices, rounded))
            if np.abs(trial.gradients[facets] @ way).max() <= slope:
                return self._changes(xy.tolist(), z.tolist(), rounded)
        return ()

    def raised_edge(self, piece: EdgePiece, slope: float) -> tuple[NewHeight, ...]:
        """Heights of points of an edge that make the slab beside it fall ``slope`` away from it.

        Only the points where the fall lacks are raised, when that keeps the water off the edge; else all of them alike.
        """
        surface = self._finish.surface
        if surface is None or _bowed(piece):
            return ()
        inward = -np.array(self._outward(piece))
        xy, triangles, foot = surface.mesh.xy, surface.mesh.triangles, np.array(piece.line[0])
        on_edge = shapely.distance(shapely.LineString(piece.line), shapely.points(xy)) < ON_EDGE
        beside = on_edge[triangles].sum(axis=1) == 2
        if not beside.any():
            return ()
        vertices = np.nonzero(on_edge)[0]
        old, least = surface.z[vertices], least_raised(surface, on_edge, foot, inward, slope)[vertices]
        typed = old.copy()
        for row, spot in enumerate(self._typed(xy[vertices].tolist())):
            if spot is not None and least[row] > old[row] + 1e-9:
                typed[row] = self.written(float(least[row]), up=True)
        if self._keeps_dry(piece, replace(surface, z=_put(surface.z, vertices, typed.tolist()))):
            return self._changes(xy[vertices].tolist(), old.tolist(), typed.tolist())
        inner = triangles[beside][~on_edge[triangles[beside]]]
        away = -(surface.gradients[beside] @ inward)
        more = float(np.max((slope - away) * ((xy[inner] - foot) @ inward)))
        lift = self.written(more, up=True) if more > 0 else 0.0
        new = [self.written(z, up=True) for z in (old + lift).tolist()]
        return self._changes(xy[vertices].tolist(), old.tolist(), new)

    def _keeps_dry(self, piece: EdgePiece, surface: Surface) -> bool:
        """Whether with this surface no water leaves over an edge, and none stands that did not before."""
        after = self._water.over(surface)
        stands = sum(pond.volume for pond in after.ponds) - sum(pond.volume for pond in self._water.ponds)
        return stands < 1e-6 and sum(one.share for one in after.shares if one.to == piece.name) < DRY

    def raised_pond(self, pond: Pond, slope: float) -> tuple[NewHeight, ...]:
        """Heights that lift the points under water to where it spills, and ``slope`` above that on the way there."""
        surface = self._finish.surface
        if surface is None:
            return ()
        shape = shapely.union_all([shapely.Polygon(ring) for ring in pond.outline])
        near = shapely.dwithin(shape, shapely.points(surface.mesh.xy), ON_EDGE)
        under = np.nonzero(near & (surface.z < pond.level - 1e-9))[0]
        spill = surface.mesh.xy[near & (np.abs(surface.z - pond.level) < 1e-6)]
        xy, z = surface.mesh.xy[under], surface.z[under]
        away = np.zeros(len(under))
        if len(spill):
            away = np.hypot(*(xy[:, None] - spill[None]).transpose(2, 0, 1)).min(axis=1)
        new = [self.written(height, up=True) for height in (pond.level + slope * away).tolist()]
        return self._changes(xy.tolist(), z.tolist(), new)

    def raised_crest(
        self, start: Sequence[EdgePiece], end: Sequence[EdgePiece], height: float
    ) -> tuple[NewHeight, ...]:
        """Heights of points that bring the crest of the lowest way between edges up to ``height``, m.

        Where it lies at the ``start``, where a lip would stand, the first drawn line behind it is raised instead.
        """
        surface, wanted = self._finish.surface, self.written(height, up=True)
        raised: list[XY] = []
        if surface is None:
            return ()
        edge = shapely.union_all([shapely.LineString(piece.line) for piece in start])
        first = crest_over(surface, start, end)
        if first is not None and edge.distance(shapely.Point(first.at)) < ON_EDGE and wanted - first.height > LIP:
            return self._raised_line(surface, edge, start, end, height)
        trial = surface
        for _ in range(RAISED_AT_MOST):
            found = crest_over(trial, start, end)
            if found is None or found.height >= height - 1e-9:
                return self.moved([(at, wanted) for at in raised], up=True)
            raised.append(found.at)
            z = trial.z.copy()
            z[trial.nearest_vertex(found.at)] = wanted
            trial = Surface(surface.mesh, z)
        return ()

    def _raised_line(
        self, surface: Surface, edge: shapely.Geometry, start: Sequence[EdgePiece], end: Sequence[EdgePiece], to: float
    ) -> tuple[NewHeight, ...]:
        """The nearest drawn line behind an edge brought up to a height, where it then is the crest of each way."""
        wanted = self.written(to, up=True)
        behind = [(min(edge.distance(shapely.Point(at)) for at in run.xy), run) for run in self._finish.lines]
        for _, run in sorted((one for one in behind if one[0] > ON_EDGE), key=lambda one: one[0]):
            z = surface.z.copy()
            for at in run.xy:
                z[surface.nearest_vertex(at)] = max(wanted, float(z[surface.nearest_vertex(at)]))
            crest = crest_over(Surface(surface.mesh, z), start, end)
            if crest is not None and crest.height >= to - 1e-9:
                return self.moved([(at, wanted) for at in run.xy], up=True)
        return ()

    def all_by(self, off: float) -> tuple[NewHeight, ...]:
        """Every finish height of the file moved by ``off``, m, at least, in whole steps; the falls stay as they are.

        Empty where a drain or channel has a rim of its own, which would have to move with it.
        """
        if any(channel.rim for channel in self._design.channels) or any(
            fixture.kind == "drain" and fixture.rim for fixture in self._design.fixtures
        ):
            return ()
        steps = off / self.step
        whole = (math.ceil(steps - 1e-6) if off > 0 else math.floor(steps + 1e-6)) * self.step
        spots = self._design.heights.finish
        return tuple(NewHeight(spot.at.name, spot.height.si, spot.height.si + whole) for spot in spots if spot.at.name)

    def moved(self, wanted: Sequence[tuple[XY, float]], up: bool) -> tuple[NewHeight, ...]:
        """Heights of points that bring the slab to the ``wanted`` (place, height), or past it: above or below.

        A place between points is moved by moving the points that carry the slab there, all alike. Points that carry
        none of the places stay; a place that no point with a height of its own carries is named by its coordinates.
        """
        surface = self._finish.surface
        if surface is None:
            return ()
        pick = max if up else min
        found: dict[XY, tuple[float, float]] = {}
        for at, target in wanted:
            now = self._finish.at(at)
            if now is None:
                continue
            for (x, y), z in self._carriers(surface, at) or [(at, now)]:
                new = self.written(z + target - now, up)
                found[x, y] = z, pick(new, found[x, y][1]) if (x, y) in found else new
        return self._agreeing([NewHeight(self._shape.name_at(at), old, new) for at, (old, new) in found.items()])

    def _carriers(self, surface: Surface, at: XY) -> list[tuple[XY, float]]:
        """Places and heights of the typed points whose heights make the height at ``at``."""
        near = shapely.get_coordinates(shapely.shortest_line(self._shape.slab, shapely.Point(at)))[0]
        vertex = surface.nearest_vertex(as_xy(near), ON_EDGE)
        (own,) = self._typed(surface.mesh.xy[[vertex]].tolist()) if vertex >= 0 else (None,)
        if own is not None:
            return [((own.at.x, own.at.y), float(surface.z[vertex]))]
        facets = surface.tree.query(shapely.Point(near), predicate="dwithin", distance=ON_EDGE)
        for facet in facets.tolist():
            if surface.areas[facet] < SLIVER:
                continue
            corners = surface.mesh.triangles[facet]
            matrix = np.vstack([surface.mesh.xy[corners].T, np.ones(3)])
            weights = np.linalg.solve(matrix, np.array([*near, 1.0]))
            carrying = corners[weights > 0.001]
            spots = self._typed(surface.mesh.xy[carrying].tolist())
            if None not in spots:
                heights = surface.z[carrying].tolist()
                return [((s.at.x, s.at.y), z) for s, z in zip(spots, heights, strict=True) if s is not None]
        return []

    def _changes(
        self, places: Sequence[Sequence[float]], old: Sequence[float], new: Sequence[float]
    ) -> tuple[NewHeight, ...]:
        """The changed heights of points that have one in the file; a place without a point takes its own from those.

        Empty when the rim of a drain or channel would have to move.
        """
        rims = [
            fixture.at for fixture in self._design.fixtures if fixture.kind == "drain" and fixture.at and fixture.rim
        ]
        rims += [point for channel in self._design.channels if channel.rim for point in channel.along]
        found = []
        for (x, y), spot, before, after in zip(places, self._typed(places), old, new, strict=True):
            if abs(after - before) > 1e-6 and any(math.hypot(rim.x - x, rim.y - y) < ON_EDGE for rim in rims):
                return ()
            if spot is not None and abs(after - before) > self.step / 10:
                found.append(NewHeight(spot.at.name, before, after))
        order = list(self._design.points)
        return self._agreeing(sorted(found, key=lambda one: order.index(one.name)))

    def _agreeing(self, changes: Sequence[NewHeight]) -> tuple[NewHeight, ...]:
        """The changes; empty when height lines would then disagree where they cross, each having half its way."""
        if not changes or not self._finish.lines_cross:
            return tuple(changes)
        new = {one.name: quantity.height(one.new) for one in changes}
        heights = self._design.heights
        finish = tuple(spot._replace(height=new.get(spot.at.name, spot.height)) for spot in heights.finish)
        surface = Finish(self._design._replace(heights=heights._replace(finish=finish)), self._shape).surface
        return () if surface is None or surface.clashes else tuple(changes)

    def _typed(self, places: Iterable[Sequence[float]]) -> list[SpotHeight | None]:
        """For every place the finish height that the file gives there, None where it gives none."""
        cells: dict[tuple[int, int], list[SpotHeight]] = {}
        for spot in self._design.heights.finish:
            cells.setdefault(_cell(spot.at.x, spot.at.y), []).append(spot)
        found: list[SpotHeight | None] = []
        for x, y in places:
            across, up = _cell(x, y)
            near = [
                (math.hypot(spot.at.x - x, spot.at.y - y), spot)
                for column in (across - 1, across, across + 1)
                for row in (up - 1, up, up + 1)
                for spot in cells.get((column, row), ())
            ]
            away, nearest = min(near, key=lambda one: one[0], default=(math.inf, None))
            found.append(nearest if away <= ON_EDGE else None)
        return found

    def _towards(self, part: FallPart) -> XY:
        """Which way a nearly level part should fall, as a unit vector."""
        slope = math.hypot(*part.fall)
        away = [self._outward(piece) for piece in self._edges.buildings]
        taking = [piece for piece in self._edges.pieces if piece.takes_water and not piece.dams]
        if away:
            x, y = -sum(a[0] for a in away), -sum(a[1] for a in away)
            if math.hypot(x, y) > 0.1:
                return x / math.hypot(x, y), y / math.hypot(x, y)
        if slope > 1e-4:
            return part.fall[0] / slope, part.fall[1] / slope
        if taking:
            return self._outward(max(taking, key=lambda piece: piece.length))
        return 1.0, 0.0

    def _outward(self, piece: EdgePiece) -> XY:
        """Unit vector square to the chord of an edge, out of the slab."""
        (ax, ay), (bx, by) = piece.line[0], piece.line[-1]
        size = math.hypot(bx - ax, by - ay) or 1.0
        normal = ((by - ay) / size, (ax - bx) / size)
        if not self._shape.ring.ccw:
            normal = -normal[0], -normal[1]
        return normal


def _spread(surface: Surface, facets: Sequence[int], mask: np.ndarray) -> list[int]:
    """The facets, and all of the mask that hang together with them."""
    chosen = mask.copy()
    chosen[list(facets)] = True
    groups = connected(surface.mesh.neighbors.tolist(), chosen.tolist())
    return sorted(facet for group in groups if set(group) & set(facets) for facet in group)


def _put(z: np.ndarray, vertices: np.ndarray, new: Sequence[float]) -> np.ndarray:
    changed = z.copy()
    changed[vertices] = new
    return changed


def _bowed(piece: EdgePiece) -> bool:
    """Whether an edge is an arc: square to it is another way at every spot."""
    chord = piece.line[0], piece.line[-1]
    return any(nearest_on(chord, at)[0] > OFF_LINE for at in piece.line[1:-1])


def _cell(x: float, y: float) -> tuple[int, int]:
    """The square, ``ON_EDGE`` wide, in which a place lies."""
    return math.floor(x / ON_EDGE), math.floor(y / ON_EDGE)
