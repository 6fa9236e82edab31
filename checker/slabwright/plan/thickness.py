"""The thickness as it is drawn: that of the design, thickened edges, and steps poured with the slab."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cached_property
from typing import ClassVar

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.outline import Ring, distance_along, stretch
from slabwright.geometry.surface.thickness import Thickening, deepest_along, extra_at, thickening
from slabwright.plan.shape import Shape
from slabwright.plan.things import XY

ON_IT = 1e-6  # m


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
            xy = np.vstack([_shorter(self._shape.ring, a, b) for a, b in itertools.pairwise(distances)])
            width = thick.width.si if thick.width else 0.0
            runs.append(thickening(self._shape.slab, xy, thick.depth.si - self.design, width, thick.taper.si))
        return tuple(runs)

    def at(self, at: XY) -> float:
        """Design thickness at a point, thickened edges included, m."""
        return self.design + extra_at(at, self.thickened_edges)

    def along(self, line: Sequence[XY]) -> float:
        """Greatest design thickness along a line, thickened edges included, m."""
        if not self.thickened_edges or len(line) < 2:
            return self.design
        return self.design + deepest_along(shapely.LineString(line), self.thickened_edges)[0]

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
