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


def _shorter(ring: Ring, start: float, end: float) -> np.ndarray:
    """The stretch from ``start`` to ``end`` in typed order, or the other way round when that is shorter."""
    forward = (end - start) % ring.length
    if forward <= ring.length / 2:
        return stretch(ring, start, end)
    return stretch(ring, end, start)[::-1]
