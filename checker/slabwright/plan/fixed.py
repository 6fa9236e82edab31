"""Fixed heights: where they meet the slab."""

from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, Literal, NamedTuple

import shapely

from slabwright.design.heights import Fixed
from slabwright.design.model import Design
from slabwright.geometry.xy import XY
from slabwright.plan.edges import Edges, is_roofed
from slabwright.plan.finish import REACH, Finish
from slabwright.plan.view import PlanView
from slabwright.units.quantity import meets

# The slab is never above these.
HANGING = ("sill", "siding", "weep screed", "damp course", "vent", "window", "hose bib")


class FixedMatch(NamedTuple):
    """One spot where a fixed height meets the slab: the heights there."""

    fixed: Fixed
    at: XY
    height: float  # of the fixed thing
    slab: float  # finish height of the slab there (nearest point of the slab)

    @property
    def asks(self) -> tuple[tuple[Literal["least", "most"], float, int], ...]:
        """Each distance the file asks for: least or most, m, and 1 where the slab lies below the thing, -1 above."""
        low, high = (self.fixed.slab.low, self.fixed.slab.high) if self.fixed.slab else (None, None)
        found: list[tuple[Literal["least", "most"], float, int]] = []
        if high is not None:
            found.append(("least", -high, 1) if high <= 0 else ("most", high, -1))
        if low is not None:
            found.append(("most", -low, 1) if low <= 0 else ("least", low, -1))
        return tuple(found)

    @property
    def floor(self) -> bool:
        """Whether it is a floor under a roof."""
        return self.fixed.kind == "slab" and is_roofed(self.fixed.name)

    @property
    def kept(self) -> bool:
        """Whether the slab keeps each distance that the file asks for here; true where it asks for none."""
        return all(
            meets(side * (self.height - self.slab), distance, direction) for direction, distance, side in self.asks
        )


class FixedHeights(PlanView):
    """The heights that cannot move, against the slab; what stands further from it than 2 ft asks nothing of it."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"fixed"})
    _design: Design
    _finish: Finish
    _edges: Edges

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
