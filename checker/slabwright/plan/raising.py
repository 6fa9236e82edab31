"""New heights of points that raise a part of the slab: an edge, to turn its water round, a low spot, a crest."""

from collections.abc import Sequence
from dataclasses import replace
from typing import ClassVar

import numpy as np
import shapely

from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.raising import least_raised
from slabwright.geometry.xy import XY
from slabwright.plan.edges import EdgePiece
from slabwright.plan.finish import Finish
from slabwright.plan.grades import Grades, NewHeight, bowed, put
from slabwright.plan.shape import ON_EDGE
from slabwright.plan.view import PlanView
from slabwright.plan.water import Pond, Water, crest_over

DRY = 0.002  # share of the slab below which no water is said to leave over an edge
LIP = 0.038  # m, 1 1/2 in: a higher one at a street stops wheels (common practice)
RAISED_AT_MOST = 6  # points raised to make a crest; a longer crest is told in words


class Raising(PlanView):
    """New heights, empty when heights of points alone cannot do what is asked, and without a surface."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset[str]()
    _finish: Finish
    _water: Water
    _grades: Grades

    def edge(self, piece: EdgePiece, slope: float) -> tuple[NewHeight, ...]:
        """Heights of points of an edge that make the slab beside it fall ``slope`` away from it.

        Only the points where the fall lacks are raised, when that keeps the water off the edge; else all of them alike,
        as are those of an edge that is level.
        """
        surface = self._finish.surface
        if surface is None or bowed(piece):
            return ()
        inward = -np.array(self._grades.outward(piece))
        xy, triangles, foot = surface.mesh.xy, surface.mesh.triangles, np.array(piece.line[0])
        on_edge = shapely.distance(shapely.LineString(piece.line), shapely.points(xy)) < ON_EDGE
        beside = on_edge[triangles].sum(axis=1) == 2
        if not beside.any():
            return ()
        vertices = np.nonzero(on_edge)[0]
        old, least = surface.z[vertices], least_raised(surface, on_edge, foot, inward, slope)[vertices]
        typed = old.copy()
        for row, spot in enumerate(self._grades.typed(xy[vertices].tolist())):
            if spot is not None and least[row] > old[row] + 1e-9:
                typed[row] = self._grades.written(float(least[row]), up=True)
        if np.ptp(old) < self._grades.step:
            typed[:] = typed.max()
        if self._keeps_dry(piece, replace(surface, z=put(surface.z, vertices, typed.tolist()))):
            return self._grades.changes(xy[vertices].tolist(), old.tolist(), typed.tolist())
        inner = triangles[beside][~on_edge[triangles[beside]]]
        away = -(surface.gradients[beside] @ inward)
        more = float(np.max((slope - away) * ((xy[inner] - foot) @ inward)))
        lift = self._grades.written(more, up=True) if more > 0 else 0.0
        new = [self._grades.written(z, up=True) for z in (old + lift).tolist()]
        return self._grades.changes(xy[vertices].tolist(), old.tolist(), new)

    def _keeps_dry(self, piece: EdgePiece, surface: Surface) -> bool:
        """Whether with this surface no water leaves over an edge, and none stands that did not before."""
        after = self._water.over(surface)
        stands = sum(pond.volume for pond in after.ponds) - sum(pond.volume for pond in self._water.ponds)
        return stands < 1e-6 and sum(one.share for one in after.shares if one.to == piece.name) < DRY

    def pond(self, pond: Pond, slope: float) -> tuple[NewHeight, ...]:
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
        new = [self._grades.written(height, up=True) for height in (pond.level + slope * away).tolist()]
        return self._grades.changes(xy.tolist(), z.tolist(), new)

    def crest(self, start: Sequence[EdgePiece], end: Sequence[EdgePiece], height: float) -> tuple[NewHeight, ...]:
        """Heights of points that bring the crest of the lowest way between edges up to ``height``, m.

        Where it lies at the ``start``, where a lip would stand, the first drawn line behind it is raised instead.
        """
        surface, wanted = self._finish.surface, self._grades.written(height, up=True)
        raised: list[XY] = []
        if surface is None:
            return ()
        edge = shapely.union_all([shapely.LineString(piece.line) for piece in start])
        first = crest_over(surface, start, end)
        if first is not None and edge.distance(shapely.Point(first.at)) < ON_EDGE and wanted - first.height > LIP:
            return self._line(surface, edge, start, end, height)
        trial = surface
        for _ in range(RAISED_AT_MOST):
            found = crest_over(trial, start, end)
            if found is None or found.height >= height - 1e-9:
                return self._grades.moved([(at, wanted) for at in raised], up=True)
            raised.append(found.at)
            z = trial.z.copy()
            z[trial.nearest_vertex(found.at)] = wanted
            trial = Surface(surface.mesh, z)
        return ()

    def _line(
        self, surface: Surface, edge: shapely.Geometry, start: Sequence[EdgePiece], end: Sequence[EdgePiece], to: float
    ) -> tuple[NewHeight, ...]:
        """The nearest drawn line behind an edge brought up to a height, where it then is the crest of each way."""
        wanted = self._grades.written(to, up=True)
        behind = [(min(edge.distance(shapely.Point(at)) for at in run.xy), run) for run in self._finish.lines]
        for _, run in sorted((one for one in behind if one[0] > ON_EDGE), key=lambda one: one[0]):
            z = surface.z.copy()
            for at in run.xy:
                z[surface.nearest_vertex(at)] = max(wanted, float(z[surface.nearest_vertex(at)]))
            crest = crest_over(Surface(surface.mesh, z), start, end)
            if crest is not None and crest.height >= to - 1e-9:
                return self._grades.moved([(at, wanted) for at in run.xy], up=True)
        return ()
