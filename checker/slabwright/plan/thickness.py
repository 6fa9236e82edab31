"""The thickness as it is drawn: that of the design, thickened edges, and steps poured with the slab."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import combinations, pairwise
from typing import ClassVar

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.outline import Ring, distances_along, stretch
from slabwright.geometry.surface.thickness import Thickening, deepest_along, extra_at, thickening
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Area, Areas
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView

ON_IT = 1e-6  # m
_CLEAR = (0.2, 0.5, 0.8)  # shares of a straight part of a line, clear of its ends


class Thickness(PlanView):
    """How thick the slab is drawn, wherever the base lies."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"thickness"})
    _design: Design
    _shape: Shape
    _areas: Areas

    def __post_init__(self) -> None:
        self._drawn: dict[XY, float] = {}  # at places asked for

    @property
    def design(self) -> float:
        """Design thickness of what no part covers, m."""
        return self._design.thickness.design.si

    @cached_property
    def thickened_edges(self) -> tuple[Thickening, ...]:
        """Thickened edges, each with the part of the slab that it thickens, meters."""
        return tuple(run for runs in self._edges for run in runs)

    @property
    def edges_of_areas(self) -> Iterator[tuple[Area, Thickening]]:
        """Thickened edges, each with the area it thickens."""
        for area, runs in zip(self._areas.all, self._edges, strict=True):
            yield from ((area, run) for run in runs)

    @cached_property
    def _edges(self) -> list[list[Thickening]]:
        """Thickened edges of each area: what they add to its own thickness."""
        found: list[list[Thickening]] = [[] for _ in self._areas.all]
        for thick in self._design.thickness.thickened_edges:
            distances = [along for along, _ in distances_along(self._shape.ring, [(p.x, p.y) for p in thick.run])]
            xy = np.vstack([_shorter(self._shape.ring, a, b) for a, b in pairwise(distances)])
            width = thick.width.si if thick.width else 0.0
            whole = thickening(self._shape.slab, xy, thick.depth.si - self.design, width, thick.taper.si)
            for area, runs in zip(self._areas.all, found, strict=True):
                within, extra = area.within(whole.within), thick.depth.si - area.thickness.si
                if area.whole or (within.area > 0 and extra > 0):
                    runs.append(whole._replace(extra=extra, within=within))
        return found

    @cached_property
    def changes(self) -> tuple[tuple[int, int, tuple[tuple[XY, ...], ...], float], ...]:
        """Where the thickness changes: the thinner and the thicker area, by number, the lines between, and the taper.

        The taper is the longer of the two parts', m; it lies in the thinner area.
        """
        found = []
        for (one, a), (two, b) in combinations(enumerate(self._areas.all), 2):
            if abs(a.thickness.si - b.thickness.si) < ON_IT:
                continue
            lines = _between(a.polygon, b.polygon)
            tapers = [area.part.taper.si for area in (a, b) if area.part and area.part.taper]
            thin, thick = (one, two) if a.thickness.si < b.thickness.si else (two, one)
            if lines:
                found.append((thin, thick, lines, max(tapers, default=0.0)))
        return tuple(found)

    @cached_property
    def tapers(self) -> tuple[Thickening, ...]:
        """What tapers add to the thinner of two areas of different thickness, meters."""
        return tuple(run for runs in self._tapers for run in runs)

    @cached_property
    def _tapers(self) -> list[list[Thickening]]:
        areas = self._areas.all
        found: list[list[Thickening]] = [[] for _ in areas]
        for thin, thick, lines, taper in self.changes:
            step = areas[thick].thickness.si - areas[thin].thickness.si
            for line in lines if taper > 0 else ():
                found[thin].append(thickening(areas[thin].polygon, np.array(line), step, 0.0, taper))
        return found

    @cached_property
    def _runs(self) -> list[list[Thickening]]:
        """All that thickens each area."""
        return [[*edges, *tapers] for edges, tapers in zip(self._edges, self._tapers, strict=True)]

    @cached_property
    def body_even(self) -> bool:
        """Whether it is as thick everywhere as the file says under ``thickness.design``, thickened edges left aside."""
        return all(abs(area.thickness.si - self.design) < ON_IT for area in self._areas.all)

    @property
    def even(self) -> bool:
        """Whether it is so with its edges too."""
        return self.body_even and not any(self._edges)

    def _of(self, area: Area) -> tuple[float, list[Thickening]]:
        return area.thickness.si, self._runs[self._number(area)]

    def _number(self, area: Area) -> int:
        return next(number for number, one in enumerate(self._areas.all) if one is area)

    def at(self, at: XY) -> float:
        """Thickness drawn at a point, thickened edges included, m; the greater where it changes."""
        if self.even:
            return self.design
        if at not in self._drawn:  # rules ask for the same places
            own, runs = self._of(self._areas.at(at))
            self._drawn[at] = own + extra_at(at, runs)
        return self._drawn[at]

    def body_at(self, at: XY) -> float:
        """Thickness drawn at a point, thickened edges left aside, m."""
        area = self._areas.at(at)
        return area.thickness.si + extra_at(at, self._tapers[self._number(area)])

    def shot_at(self, at: XY, depth: float | None) -> float:
        """Thickness drawn over a shot of the base, m.

        Where the thickness changes at once, that of the side which is nearer to the ``depth`` found there, if any; at
        a thickened edge the same: the shot was taken on the base beside the trench, or on the bottom of it.
        """
        if depth is None or self.even:
            return self.body_at(at)
        spot = shapely.Point(at)
        near = [area for area in self._areas.all if area.polygon.distance(spot) < ON_EDGE]
        drawn = []
        for area in near or [self._areas.at(at)]:
            own, runs = self._of(area)
            drawn += [own + extra_at(at, self._tapers[self._number(area)]), own + extra_at(at, runs)]
        return min(drawn, key=lambda one: round(abs(one - depth), 6))

    def along(self, line: Sequence[XY]) -> float:
        """Greatest thickness drawn along a line, thickened edges included, m."""
        if len(line) < 2 or self.even:
            return self.at(line[0]) if len(line) and not self.even else self.design
        whole, found = shapely.LineString(line), []
        for area in self._areas.along(line):
            own, runs = self._of(area)
            found += [own + deepest_along(one, runs)[0] for one in _strings(area.within(whole, ON_IT))] or [own]
        return max(found)

    def least_along(self, line: Sequence[XY], areas: Sequence[Area] = ()) -> float:
        """Least thickness drawn along a line, clear of its corners, where another edge may be thick, m.

        Where it runs along some of ``areas``, those alone count.
        """
        if self.even:
            return self.design
        whole, found, reached = shapely.LineString(line), [], self._areas.along(line)
        for area in [one for one in reached if any(one is other for other in areas)] or reached:
            own, runs = self._of(area)
            for part in _strings(area.within(whole, ON_IT)):
                found += [own + extra_at(at, runs) for at in _clear_of([(x, y) for x, y in part.coords])]
        return min(found, default=self.at(line[0]))

    def least_over(self, shape: shapely.Polygon, area: Area | None = None) -> float:
        """Least thickness drawn over a part of the slab, m: at its corners, between them, and in the middle.

        With an area, only where the shape lies in it.
        """
        if self.even:
            return self.design
        cut = (one.within(shape) for one in ([area] if area else self._areas.over(shape)))
        pieces = [part for both in cut for part in shapely.get_parts(both) if part.area > ON_EDGE**2] or [shape]
        found: list[float] = []
        for piece in pieces:
            ring: list[XY] = [(x, y) for x, y in piece.exterior.coords]
            middle = piece.representative_point()
            own, runs = self._of(self._areas.at((middle.x, middle.y)))
            found += [own + extra_at(at, runs) for at in [*_clear_of(ring), (middle.x, middle.y)]]
        return min(found)

    def crossed(self, line: Sequence[XY]) -> tuple[float, float]:
        """What a line crosses of thickened edges: the greatest thickness on it, m, and the share of it that is thick.

        A thickened edge ends square at the ends of its run here; the share is where it is at its full depth.
        """
        if self.even:
            return self.design, 0.0
        string, thick = shapely.LineString(line), 0.0
        thickest = self._areas.thickest(line).thickness.si
        for area, run in self.edges_of_areas:
            edge = shapely.LineString(run.line)
            square = edge.buffer(run.width + run.taper, cap_style="flat", join_style="mitre")
            reached = string.intersection(square.intersection(run.within.buffer(ON_IT)))
            if reached.length > 0:
                thickest = max(thickest, area.thickness.si + deepest_along(reached, (run,))[0])
                full = edge.buffer(run.width, cap_style="flat", join_style="mitre")
                thick += reached.intersection(full).length
        return thickest, min(1.0, thick / string.length) if string.length else 0.0


def _clear_of(line: Sequence[XY]) -> list[XY]:
    """Places on the straight parts of a line, clear of its corners."""
    return [((1 - s) * a + s * c, (1 - s) * b + s * d) for (a, b), (c, d) in pairwise(line) for s in _CLEAR]


def _strings(lines: shapely.Geometry) -> list[shapely.LineString]:
    """The lines of what two shapes have in common, without stray points."""
    return [part for part in shapely.get_parts(lines) if isinstance(part, shapely.LineString) and part.length > ON_IT]


def _between(one: shapely.Geometry, other: shapely.Geometry) -> tuple[tuple[XY, ...], ...]:
    """The lines along which two areas lie side by side."""
    near = other.buffer(ON_IT)
    found: list[shapely.LineString] = []
    for ring in shapely.get_parts(one.boundary):
        for ends in pairwise(shapely.get_coordinates(ring)):
            found += _strings(shapely.intersection(shapely.LineString(ends), near))
    merged = shapely.line_merge(shapely.MultiLineString([part for part in found if part.length > 4 * ON_EDGE]))
    return tuple(tuple((x, y) for x, y in part.coords) for part in shapely.get_parts(merged))


def _shorter(ring: Ring, start: float, end: float) -> np.ndarray:
    """The stretch from ``start`` to ``end`` in typed order, or the other way round when that is shorter."""
    forward = (end - start) % ring.length
    if forward <= ring.length / 2:
        return stretch(ring, start, end)
    return stretch(ring, end, start)[::-1]
