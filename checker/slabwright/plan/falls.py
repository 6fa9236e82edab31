"""How the finish surface falls: away from walls, the parts of it that fall alike, and from place to place."""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Design
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.patches import outer_ring
from slabwright.geometry.surface.square_falls import Stretch, square_falls
from slabwright.geometry.xy import XY
from slabwright.plan.areas import Area, Areas
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.finish import Finish
from slabwright.plan.flights import Flights
from slabwright.plan.joints import Joints
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView

TOLD = 5  # parts told one by one; all smaller ones are told with the last
SMALLEST = 0.0929  # m2, 1 ft2: a smaller part of a slab is a fold, not a fall
LIP = 0.005  # m: what falls away from a wall for less than this is no fall
ONE_PLANE = 1e-7  # rise over run: falls this alike are one, and what falls less is level


class WallFall(NamedTuple):
    """How one facet within reach of a building falls: ``away`` is positive away from the wall."""

    edge: EdgePiece
    at: XY
    away: float  # slope component away from the wall
    distance: float  # of its near end from the wall, m
    far: float = 0.0  # distance of its far end, m
    passes: float = 0.0  # slope along the wall to where its water leaves the building; 0 where it does not

    @property
    def run(self) -> float:
        """How long it is, m."""
        return self.far - self.distance


class WallLine(NamedTuple):
    """A line on the slab square to a building: its falls one after the other, and where it first meets a low line."""

    edge: EdgePiece
    foot: XY  # on the wall
    falls: tuple[WallFall, ...]
    low: XY | None  # where it falls no more, or passes over a valley; None where it falls all the way, or never
    before: int  # how many of its falls lie before that


class FallPart(NamedTuple):
    """A connected part of the finish surface, chosen by its slope."""

    name: str
    area: float
    least: float  # flattest slope in it
    most: float  # steepest slope in it
    fall: XY  # mean fall, pointing downhill
    outline: tuple[XY, ...]  # closed
    facets: tuple[int, ...]  # of the mesh of the finish surface
    others: int = 0  # smaller parts told together with it, their slopes in ``least`` and ``most``

    @property
    def run(self) -> float:
        """How far it reaches along its fall, m; where it is level, the square root of its area."""
        x, y = self.fall
        size = math.hypot(x, y)
        if size < 1e-9:
            return math.sqrt(self.area)
        along = [(px * x + py * y) / size for px, py in self.outline]
        return max(along) - min(along)


class WallFalls(PlanView):
    """How the finish surface falls square to buildings."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset[str]()
    _shape: Shape
    _finish: Finish
    _edges: Edges

    def lines(self, within: float) -> tuple[WallLine, ...]:
        """Lines square to each building edge, out to ``within``; along an arc square to the arc."""
        return tuple(
            line
            for piece in self._edges.buildings
            for start, end in pairwise(piece.line)
            for line in self._square_to(piece, start, end, within)
        )

    def _square_to(self, piece: EdgePiece, start: XY, end: XY, within: float) -> Iterator[WallLine]:
        size = math.dist(start, end)
        if self._finish.surface is None or size < 0.05:
            return
        along = (end[0] - start[0]) / size, (end[1] - start[1]) / size
        square = (-along[1], along[0]) if self._shape.ring.ccw else (along[1], -along[0])
        stations = [share * size for share in _stations(size)]
        lines = square_falls(self._finish.surface, start, end, self._shape.ring.ccw, stations, within)
        for station, stretches in zip(stations, lines, strict=True):
            if not stretches or stretches[-1].far <= 0.02:
                continue
            foot = start[0] + along[0] * station, start[1] + along[1] * station
            falls: list[WallFall] = []
            low, before, fallen = None, 0, 0.0
            planes = _by_plane(stretches)
            for number, (near, far, away) in enumerate(planes):
                first = low is None and fallen > LIP
                if first and (away <= ONE_PLANE or self._over_valley(foot, square, planes[number - 1 : number + 1])):
                    low = foot[0] + square[0] * near, foot[1] + square[1] * near
                    before = len(falls)
                fallen += far - near if away > ONE_PLANE else 0.0
                if far - near >= 0.02:
                    middle = (near + far) / 2
                    at = foot[0] + square[0] * middle, foot[1] + square[1] * middle
                    falls.append(WallFall(piece, at, away, near, far))
            yield WallLine(piece, foot, tuple(falls), low, len(falls) if low is None else before)

    def _over_valley(self, foot: XY, square: XY, stretches: Sequence[Stretch]) -> bool:
        """Whether a line square to a wall passes from one stretch to the next over a valley, as out of a corner.

        There the water of both sides stays, also where the far side falls away from the wall too, only less.
        """
        upper, lower = stretches
        if lower.fall > upper.fall - ONE_PLANE:
            return False
        met = foot[0] + square[0] * lower.near, foot[1] + square[1] * lower.near
        return any(nearest_on(xy, met)[0] < ON_EDGE for xy in self.valleys)

    @cached_property
    def valleys(self) -> tuple[tuple[XY, ...], ...]:
        """Valleys, drawn or not, to which both sides fall."""
        drawn = [run.xy for run in self._finish.lines if run.line.kind == "valley" and len(run.xy) > 1]
        return (*drawn, *(run.xy for run in self._finish.low_lines))


class Falls(PlanView):
    """The falls of the finish surface; there are none without one."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"points"})
    _design: Design
    _shape: Shape
    _areas: Areas
    _joints: Joints
    _finish: Finish
    _flights: Flights

    def along(self, start: XY, end: XY) -> float | None:
        """Mean fall from ``start`` down to ``end`` by the finish heights; None if not known."""
        first, last = self._finish.all_at([start, end])
        run = math.dist(start, end)
        return None if first is None or last is None or run == 0 else (first - last) / run

    def _within(self, areas: Sequence[Area] | None) -> list[bool]:
        """Which facets of the finish surface lie in some of these areas by more than a sliver; None: all do.

        None of those that a flight of steps covers: people walk on its treads.
        """
        surface = self._finish.surface
        if surface is None:
            return []
        parts = []
        if self._flights.body is not None:
            parts.append(shapely.difference(surface.facets, self._flights.body))
        if areas is not None and self._areas.several:
            parts.append(shapely.intersection(surface.facets, shapely.union_all([area.polygon for area in areas])))
        if not parts:
            return [True] * len(surface.areas)
        inside: list[bool] = (shapely.area(parts) > np.minimum(SMALLEST, surface.areas / 2)).all(axis=0).tolist()
        return inside

    def parts(self, chosen: Callable[[float], bool], areas: Sequence[Area] | None = None) -> tuple[FallPart, ...]:
        """Connected parts of the finish surface whose slope is ``chosen``, the largest first; folds left out.

        With ``areas``, of what lies in them.
        """
        surface = self._finish.surface
        if surface is None:
            return ()
        slopes: list[float] = surface.slopes.tolist()
        mask = [inside and chosen(slope) for slope, inside in zip(slopes, self._within(areas), strict=True)]
        if not any(mask):
            return ()
        sizes: list[float] = surface.areas.tolist()
        sized = [(sum(sizes[f] for f in group), group) for group in connected(surface.mesh.neighbors.tolist(), mask)]
        smallest = min(SMALLEST, self._shape.area / 10)
        sized = sorted(((area, group) for area, group in sized if area > smallest), key=lambda one: -round(one[0], 6))
        parts = [part_of(surface, group) for _, group in sized[:TOLD]]
        parts = [part._replace(name=self._part_name(part.outline, part.area)) for part in parts]
        rest = [slopes[facet] for _, group in sized[TOLD:] for facet in group]
        if rest:
            others = len(sized) - TOLD
            parts[-1] = parts[-1]._replace(
                name=f"{parts[-1].name} and {others} smaller part{'s' if others > 1 else ''}",
                least=min(parts[-1].least, *rest),
                most=max(parts[-1].most, *rest),
                others=others,
            )
        return tuple(parts)

    def _part_name(self, outline: tuple[XY, ...], area: float) -> str:
        """The whole slab, the part between up to six points, or the part in a panel."""
        if area > 0.99 * self._shape.area:
            return "the whole slab"
        ring = _without_straight(_from_sharpest(outline))
        order = list(self._design.points)
        names = {self._shape.name_at(at) for at in ring}
        if len(names) <= 6 and names <= set(order):
            return "the part between " + ", ".join(sorted(names, key=order.index))
        panels = self._joints.layout.panels
        inner = shapely.Polygon(ring).representative_point()
        panel = next((f"P{number}" for number, p in enumerate(panels, 1) if p.polygon.distance(inner) < ON_EDGE), "")
        if panel and len(panels) > 1:
            return f"a part of panel {panel}"
        return f"the part round {self._shape.name_at((float(inner.x), float(inner.y)))}"


def _without_straight(ring: Sequence[XY]) -> list[XY]:
    """The corners of a ring alone: simplified, which keeps one of several places in a row that lie equally far out."""
    simple = shapely.LinearRing(ring).simplify(ON_EDGE)  # which keeps the place it starts at
    places = [(float(x), float(y)) for x, y in simple.coords[:-1]]
    corners = [
        at
        for number, at in enumerate(places)
        if nearest_on((places[number - 1], places[(number + 1) % len(places)]), at)[0] > ON_EDGE
    ]
    return corners if len(corners) > 2 else places


def part_of(surface: Surface, facets: Sequence[int]) -> FallPart:
    """Facets of a surface that hang together, as a part that has no name yet."""
    group = list(facets)
    areas, steep = surface.areas[group].tolist(), surface.slopes[group].tolist()
    gradients = surface.gradients[group].tolist()
    area = sum(areas)
    return FallPart(
        name="",
        area=area,
        least=min(steep),
        most=max(steep),
        fall=(
            -sum(x * own for (x, _), own in zip(gradients, areas, strict=True)) / area,
            -sum(y * own for (_, y), own in zip(gradients, areas, strict=True)) / area,
        ),
        outline=outer_ring(surface.mesh, group),
        facets=tuple(group),
    )


def _by_plane(stretches: Sequence[Stretch]) -> list[Stretch]:
    """Stretches that fall alike as one: a plane may be cut into facets this way or that."""
    found: list[Stretch] = []
    for one in stretches:
        if found and abs(found[-1].fall - one.fall) < ONE_PLANE:
            found[-1] = found[-1]._replace(far=one.far)
        else:
            found.append(one)
    return found


def connected(neighbors: list[list[int]], mask: list[bool]) -> list[list[int]]:
    """Facets of the mask in groups that share sides."""
    left, groups = list(mask), []
    for first in range(len(left)):
        if not left[first]:
            continue
        group, left[first] = [first], False
        for facet in group:  # grows while it is gone through
            for other in neighbors[facet]:
                if other >= 0 and left[other]:
                    left[other] = False
                    group.append(other)
        groups.append(group)
    return groups


def _from_sharpest(ring: Sequence[XY]) -> list[XY]:
    """A closed ring that starts at its sharpest corner."""
    places = list(ring[:-1])

    def turn(at: int) -> float:
        (ax, ay), (x, y), (bx, by) = places[at - 1], places[at], places[(at + 1) % len(places)]
        into, out = (x - ax, y - ay), (bx - x, by - y)
        return abs(math.atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1]))

    first = max(range(len(places)), key=lambda at: round(turn(at), 6))
    return [*places[first:], *places[: first + 1]]


def _stations(size: float) -> list[float]:
    """Where to look along a wall: just inside both ends and every 2 ft or so between."""
    inner = max(1, min(40, round(size / 0.6)))
    edge = min(0.02 / size, 0.1)
    return sorted({edge, 1 - edge, *((k + 0.5) / inner for k in range(inner))})
