"""New heights of points, as a person would write them: a part of the slab made to fall, or a place to lie, as asked."""

import math
from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np

from slabwright.design.heights import SpotHeight
from slabwright.design.model import Design
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.shape.noding import distinct
from slabwright.geometry.surface import patches
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.patches import gradients_with
from slabwright.geometry.xy import XY
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.falls import FallPart, WallFall, connected, part_of
from slabwright.plan.finish import Finish
from slabwright.plan.routes import RouteStretch
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView
from slabwright.units import quantity

OFF_LINE = 0.02  # m: a point nearer to an edge stands on it
_MORE = (1.0, 1.02, 1.05, 1.1, 1.2, 1.35, 1.6, 2.0)  # tried in turn: heights are written in whole steps
STAYS = 1e-9  # m: a height that is to move by less stays
ONE_WAY = 0.003  # parts whose slopes differ by less lie in one plane, as heights are written
AS_STAKED = 0.0048  # m, 3/16 in: nobody moves a stake up by less


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

    @cached_property
    def step(self) -> float:
        """The steps in which the file writes heights, m: a hundredth of a foot, an eighth of an inch, a millimeter."""
        return {"ft": 0.01 * FOOT, "in": FOOT / 96}.get(self._design.height_unit, 0.001)

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
                return self.changes(xy, z, new)
        return ()

    def for_wall(
        self, falls: Sequence[WallFall], slope: float, least: float | None = None, in_plane: bool = False
    ) -> tuple[NewHeight, ...]:
        """Heights that make the facets under ``falls``, all of one wall, fall ``slope`` away; the wall side kept.

        ``least`` is the fall that is enough where heights are written in steps, and ``slope`` without it. What lies in
        one plane with those facets is tipped along with them if it is to stay ``in_plane``; there must be more of it.
        """
        surface = self._finish.surface
        if surface is None or not falls or falls[0].edge.finish is None or bowed(falls[0].edge):
            return ()
        wall, finish = falls[0].edge.line, falls[0].edge.finish
        out_x, out_y = self.outward(falls[0].edge)
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
                    return self.changes(xy, old, tried)
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
        return self.changes(xy.tolist(), old, self._moved_to(old, plane.tolist()))

    def like_its_walls(self, falls: Sequence[WallFall]) -> tuple[NewHeight, ...]:
        """The height at the corner of two walls brought up to their other ends, which are level with each other.

        It is for a height that slipped: whatever lies before the walls is kept.
        """
        beside: dict[XY, list[float]] = {}
        for piece in self._edges.buildings:
            corners = zip(piece.line, piece.finish or (), strict=False)
            for (at, z), (after, z_after) in pairwise(corners):
                beside.setdefault(at, []).append(z_after)
                beside.setdefault(after, []).append(z)
        for fall in falls:
            for at, z in zip(fall.edge.line, fall.edge.finish or (), strict=False):
                ends = beside.get(at, [])
                if len(ends) == 2 and abs(ends[0] - ends[1]) < AS_STAKED < sum(ends) / 2 - z:
                    return self.changes([at], [z], [self.written(sum(ends) / 2)])
        return ()

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
            trial = Surface(surface.mesh, put(surface.z, vertices, rounded))
            if np.abs(trial.gradients[facets] @ way).max() <= slope:
                return self.changes(xy.tolist(), z.tolist(), rounded)
        return ()

    def all_by(self, off: float) -> tuple[NewHeight, ...]:
        """Every finish height of the file moved by ``off``, m, at least, in whole steps; the falls stay as they are.

        Empty where a drain or channel has a rim of its own, which would have to move with it.
        """
        if any(channel.rim for channel in self._design.channels) or any(
            fixture.kind == "drain" and fixture.rim for fixture in self._design.fixtures
        ):
            return ()
        whole = self.written(off, up=off > 0)
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
        for vertices, shares in surface.carriers(self._shape.nearest(at), ON_EDGE):
            carrying = vertices[shares > 0.001]
            spots = self.typed(surface.mesh.xy[carrying].tolist())
            if None not in spots:
                heights = surface.z[carrying].tolist()
                return [((s.at.x, s.at.y), z) for s, z in zip(spots, heights, strict=True) if s is not None]
        return []

    def changes(
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
        for (x, y), spot, before, after in zip(places, self.typed(places), old, new, strict=True):
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

    def typed(self, places: Iterable[Sequence[float]]) -> list[SpotHeight | None]:
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
        away = [self.outward(piece) for piece in self._edges.buildings]
        taking = [piece for piece in self._edges.pieces if piece.takes_water and not piece.dams]
        if away:
            x, y = -sum(a[0] for a in away), -sum(a[1] for a in away)
            if math.hypot(x, y) > 0.1:
                return x / math.hypot(x, y), y / math.hypot(x, y)
        if slope > 1e-4:
            return part.fall[0] / slope, part.fall[1] / slope
        if taking:
            return self.outward(max(taking, key=lambda piece: piece.length))
        return 1.0, 0.0

    def outward(self, piece: EdgePiece) -> XY:
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


def put(z: np.ndarray, vertices: np.ndarray, new: Sequence[float]) -> np.ndarray:
    """Heights with those of some vertices replaced."""
    changed = z.copy()
    changed[vertices] = new
    return changed


def bowed(piece: EdgePiece) -> bool:
    """Whether an edge is an arc: square to it is another way at every spot."""
    chord = piece.line[0], piece.line[-1]
    return any(nearest_on(chord, at)[0] > OFF_LINE for at in piece.line[1:-1])


def _cell(x: float, y: float) -> tuple[int, int]:
    """The square, ``ON_EDGE`` wide, in which a place lies."""
    return math.floor(x / ON_EDGE), math.floor(y / ON_EDGE)
