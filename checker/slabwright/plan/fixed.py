"""Fixed heights: where they meet the slab, and what every two of them ask of it, whatever its heights are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise, permutations
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design, Fixed
from slabwright.plan.edges import Edges
from slabwright.plan.finish import REACH, Finish
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.things import XY, FixedMatch, FixedPair

# The slab is never above these.
HANGING = ("sill", "siding", "weep screed", "damp course", "vent", "window", "hose bib")
SHORT = 0.3048  # m: over less than a foot no fall is asked for
SIDE_BY_SIDE = 0.01  # m: two spots nearer to each other are taken this far apart


class FixedHeights:
    """The heights that cannot move, against the slab; what stands further from it than 2 ft asks nothing of it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"fixed"})

    def __init__(self, design: Design, shape: Shape, finish: Finish, edges: Edges) -> None:
        self._design = design
        self._shape = shape
        self._finish = finish
        self._edges = edges

    @cached_property
    def matches(self) -> tuple[FixedMatch, ...]:
        """Where fixed heights meet the slab: at their own points, and wherever it folds between them."""
        found: list[FixedMatch] = []
        if self._finish.surface is None:
            return ()
        for fixed in self._design.fixed:
            for at, level in self._met(fixed):
                slab = self._finish.at(at)
                if slab is not None:
                    found.append(FixedMatch(fixed, at, level, slab))
        return tuple(found)

    def _met(self, fixed: Fixed) -> Iterator[tuple[XY, float]]:
        points = [(p.x, p.y) for p in fixed.along]
        levels = [h.si for h in fixed.height]
        if len(levels) == 1:
            levels = levels * len(points)
        if len(points) == 1:
            yield points[0], levels[0]
            return
        pairs = list(zip(points, levels, strict=True))
        for (p, low), (q, high) in pairwise(pairs):
            line = shapely.LineString([p, q])
            stations = [0.0, line.length]
            for piece in self._edges.pieces:
                for vertex in piece.line:
                    spot = shapely.Point(vertex)
                    if line.distance(spot) <= REACH:
                        stations.append(float(line.project(spot)))
            for station in sorted({round(s, 6) for s in stations}):
                share = min(station / line.length, 1.0) if line.length > 0 else 0.0
                yield (p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share), low + (high - low) * share

    @cached_property
    def pairs(self) -> tuple[FixedPair, ...]:
        """For every two fixed heights in sight of each other the least fall from one to the other, and the greatest."""
        spots: dict[int, list[_Spot]] = {}
        for fixed in self._design.fixed:
            spots[id(fixed)] = list(self._spots(fixed))
        if len(spots) < 2:
            return ()
        near = self._shape.slab.buffer(ON_EDGE)
        shapely.prepare(near)
        found: list[FixedPair] = []
        for first, second in permutations(spots.values(), 2):
            pairs = [(p, q) for p in first for q in second if near.covers(shapely.LineString([p.at, q.at]))]
            steep = [(p, q) for p, q in pairs if math.isfinite(p.low - q.high)]
            if steep:
                p, q = max(steep, key=lambda pair: round((pair[0].low - pair[1].high) / _run(*pair), 9))
                found.append(FixedPair(p.fixed, q.fixed, (p.at, q.at), _run(p, q), p.low - q.high, "least"))
            outlets: dict[int, tuple[_Spot, _Spot]] = {}  # the nearest that water can leave at, for each spot at a wall
            for p, q in pairs:
                if p.wall and q.drains and not q.wall and math.isfinite(p.high - q.low) and _run(p, q) > SHORT:
                    outlets[id(p)] = min(outlets.get(id(p), (p, q)), (p, q), key=lambda pair: round(_run(*pair), 6))
            outlets = {key: pair for key, pair in outlets.items() if not self._drains_nearer(*pair)}
            if flat := list(outlets.values()):
                p, q = min(flat, key=lambda pair: round((pair[0].high - pair[1].low) / _run(*pair), 9))
                found.append(FixedPair(p.fixed, q.fixed, (p.at, q.at), _run(p, q), p.high - q.low, "most"))
        return tuple(found)

    def _drains_nearer(self, wall: _Spot, outlet: _Spot) -> bool:
        """Whether an edge that takes water, and that the outlet is no part of, is nearer to a spot at a wall."""
        spot, run = shapely.Point(wall.at), _run(wall, outlet)
        at_outlet = self._edges.at(outlet.at)
        return any(
            piece.takes_water and not piece.dams and shapely.LineString(piece.line).distance(spot) < run - ON_EDGE
            for piece in self._edges.pieces
            if piece not in at_outlet and piece not in self._edges.at(wall.at)
        )

    def _spots(self, fixed: Fixed) -> Iterator[_Spot]:
        """The points of a fixed height that lie at the slab, brought to it; none where it asks nothing."""
        low, high = (fixed.slab.low, fixed.slab.high) if fixed.slab else (None, None)
        if fixed.slab is None and fixed.kind in HANGING:
            high = 0.0
        if fixed.slab is None and fixed.kind == "gutter":
            low = 0.0
        if low is None and high is None:
            return
        levels = [one.si for one in fixed.height] * (len(fixed.along) if len(fixed.height) == 1 else 1)
        for point, level in zip(fixed.along, levels, strict=True):
            line = shapely.shortest_line(self._shape.slab, shapely.Point(point.x, point.y))
            if line.length > REACH:
                continue
            x, y = np.asarray(line.coords)[0].tolist()
            pieces = self._edges.at((x, y))
            yield _Spot(
                fixed,
                (x, y),
                -math.inf if low is None else level + low,
                math.inf if high is None else level + high,
                any(piece.beside == "building" for piece in pieces),
                fixed.kind == "gutter" or any(piece.takes_water and not piece.dams for piece in pieces),
            )


class _Spot(NamedTuple):
    """A spot of a fixed height, and between which heights it asks the slab to be, m; inf where it asks nothing."""

    fixed: Fixed
    at: XY
    low: float
    high: float
    wall: bool  # it stands at a building
    drains: bool  # water may leave there


def _run(p: _Spot, q: _Spot) -> float:
    return max(math.dist(p.at, q.at), SIDE_BY_SIDE)
