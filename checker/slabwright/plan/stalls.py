"""Accessible parking stalls and the access aisles beside them, as they lie on the slab."""

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design, Stall
from slabwright.design.point import Point
from slabwright.geometry.xy import XY
from slabwright.plan.finish import Finish
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView
from slabwright.source.problem import Problems

ALL_OF_IT = 0.99  # share of a part that is as good as the whole
ALIKE = 1e-7  # rise over run: slopes that differ by less are one


class StallPart(NamedTuple):
    """A stall or an aisle: ``width`` of the narrowest strip it fits in, square to it a mean ``length``; both m."""

    name: str  # "stall 1" or "aisle of stall 1"
    polygon: shapely.Polygon
    width: float
    length: float

    @property
    def ring(self) -> tuple[XY, ...]:
        """Its corners, closed."""
        return tuple((x, y) for x, y, *_ in self.polygon.exterior.coords)


class PlannedStall(NamedTuple):
    """A stall, and its aisle where one is drawn."""

    stall: Stall
    space: StallPart
    aisle: StallPart | None

    @property
    def parts(self) -> tuple[StallPart, ...]:
        """The stall, then its aisle."""
        return (self.space, self.aisle) if self.aisle else (self.space,)


class Steepest(NamedTuple):
    """Where the finish falls most within a part, straight downhill."""

    slope: float
    at: XY | None  # None: all of it falls alike
    facets: tuple[int, ...]  # all that the part lies on


class Stalls(PlanView):
    """The accessible stalls of the file.

    Making one raises :class:`UnreadableError` where a stall or an aisle is no shape, or lies off the slab.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"stalls"})
    _design: Design
    _shape: Shape
    _finish: Finish

    @staticmethod
    def unasked(design: Design) -> frozenset[str]:
        """Without stalls, how they fall."""
        return frozenset() if design.stalls else frozenset({"finish"})

    def __post_init__(self) -> None:
        problems = Problems()
        self.all: tuple[PlannedStall, ...] = tuple(self._planned(self._design.stalls, problems))
        problems.raise_if_any()

    def _planned(self, stalls: Sequence[Stall], problems: Problems) -> Iterator[PlannedStall]:
        for stall in stalls:
            name = stall.name if "stall" in stall.name.lower() else f"stall {stall.name}"
            space = self._part(stall, name, stall.corners, problems)
            aisle = self._part(stall, f"aisle of {name}", stall.aisle, problems) if stall.aisle else None
            if space is not None:
                yield PlannedStall(stall, space, aisle)

    def _part(self, stall: Stall, name: str, corners: Sequence[Point], problems: Problems) -> StallPart | None:
        ring = [(corner.x, corner.y) for corner in corners]
        polygon = shapely.Polygon(ring) if len(ring) > 2 else shapely.Polygon()
        if not polygon.is_valid or polygon.area < ON_EDGE:
            problems.add(stall.place, f"the corners of {name} enclose no area", "its corners in the order of a walk")
            return None
        if shapely.intersection(polygon, self._shape.slab).area < polygon.area / 2:
            problems.add(
                stall.place, f"{name} does not lie on the slab", "corners on the slab, in the unit of the plan"
            )
            return None
        width = _width(polygon)
        return StallPart(name, polygon, width, polygon.area / width)

    @cached_property
    def steepest(self) -> dict[str, Steepest]:
        """By the name of each part, where the finish falls most within it; empty without a finish surface."""
        return {part.name: found for one in self.all for part in one.parts if (found := self._steepest(part))}

    def _steepest(self, part: StallPart) -> Steepest | None:
        surface = self._finish.surface
        if surface is None:
            return None
        facets = surface.tree.query(part.polygon, predicate="intersects")
        pieces = shapely.intersection(surface.facets[facets], part.polygon)
        on = np.asarray(shapely.area(pieces)) > ON_EDGE**2
        facets, pieces = facets[on], pieces[on]
        if not len(facets):
            return None
        slopes = surface.slopes[facets]
        steep = shapely.union_all(pieces[slopes > slopes.max() - ALIKE])
        every = tuple(sorted(facets.tolist()))
        if steep.area > part.polygon.area * ALL_OF_IT:
            return Steepest(float(slopes.max()), None, every)
        middle = max(shapely.get_parts(steep), key=lambda one: float(one.area)).representative_point()
        return Steepest(float(slopes.max()), (float(middle.x), float(middle.y)), every)


def _width(polygon: shapely.Polygon) -> float:
    """Width of the narrowest strip that a shape fits in, which runs along a side of its hull.

    >>> _width(shapely.Polygon([(0, 0), (3, 0), (3, 4), (0, 4)]))
    3.0
    """
    corners = np.asarray(shapely.convex_hull(polygon).exterior.coords)[:, :2]
    sides = (end - start for start, end in pairwise(corners))
    return min(float(np.ptp(corners @ np.array([-y, x]))) / math.hypot(x, y) for x, y in sides if x or y)
