"""The thickness as it is drawn: that of the design, thickened edges, and steps poured with the slab."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.outline import Ring, distance_along, stretch
from slabwright.geometry.surface.thickness import Thickening, deepest_along, extra_at, thickening
from slabwright.plan.shape import Shape
from slabwright.plan.things import XY

ON_IT = 1e-6  # m
_CLEAR = (0.2, 0.5, 0.8)  # shares of a straight part of a line, clear of its ends


class Thickness:
    """How thick the slab is drawn, wherever the base lies."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"thickness"})

    def __init__(self, design: Design, shape: Shape) -> None:
        self._design = design
        self._shape = shape

    @property
    def design(self) -> float:
        """Design thickness, m."""
        return self._design.thickness.design.si

    @cached_property
    def thickened_edges(self) -> tuple[Thickening, ...]:
        """Thickened edges, each with the part of the slab that it thickens, meters."""
        runs = []
        for thick in self._design.thickness.thickened_edges:
            distances = [distance_along(self._shape.ring, (p.x, p.y))[0] for p in thick.run]
            xy = np.vstack([_shorter(self._shape.ring, a, b) for a, b in pairwise(distances)])
            width = thick.width.si if thick.width else 0.0
            runs.append(thickening(self._shape.slab, xy, thick.depth.si - self.design, width, thick.taper.si))
        return tuple(runs)

    def at(self, at: XY) -> float:
        """Design thickness at a point, thickened edges included, m."""
        return self.design + extra_at(at, self.thickened_edges) if self.thickened_edges else self.design

    def along(self, line: Sequence[XY]) -> float:
        """Greatest design thickness along a line, thickened edges included, m."""
        if not self.thickened_edges or len(line) < 2:
            return self.design
        return self.design + deepest_along(shapely.LineString(line), self.thickened_edges)[0]

    def least_along(self, line: Sequence[XY]) -> float:
        """Least design thickness along a line, clear of its corners, where another edge may be thick, m."""
        spots = (((1 - s) * a + s * c, (1 - s) * b + s * d) for (a, b), (c, d) in pairwise(line) for s in _CLEAR)
        return min(map(self.at, spots)) if self.thickened_edges else self.design

    def least_over(self, area: shapely.Polygon) -> float:
        """Least design thickness over a part of the slab, m: at its corners, between them, and in the middle."""
        if not self.thickened_edges:
            return self.design
        ring: list[XY] = [(x, y) for x, y in area.exterior.coords]
        middle = area.representative_point()
        return min(self.least_along(ring), self.at((middle.x, middle.y)))

    def crossed(self, line: Sequence[XY]) -> tuple[float, float]:
        """What a line crosses of thickened edges: the greatest thickness on it, m, and the share of it that is thick.

        A thickened edge ends square at the ends of its run here; the share is where it is at its full depth.
        """
        string, thickest, thick = shapely.LineString(line), self.design, 0.0
        for run in self.thickened_edges:
            edge = shapely.LineString(run.line)
            square = edge.buffer(run.width + run.taper, cap_style="flat", join_style="mitre")
            reached = string.intersection(square.intersection(run.within.buffer(ON_IT)))
            if reached.length > 0:
                thickest = max(thickest, self.design + deepest_along(reached, (run,))[0])
                full = edge.buffer(run.width, cap_style="flat", join_style="mitre")
                thick += reached.intersection(full).length
        return thickest, min(1.0, thick / string.length) if string.length else 0.0


def _shorter(ring: Ring, start: float, end: float) -> np.ndarray:
    """The stretch from ``start`` to ``end`` in typed order, or the other way round when that is shorter."""
    forward = (end - start) % ring.length
    if forward <= ring.length / 2:
        return stretch(ring, start, end)
    return stretch(ring, end, start)[::-1]
