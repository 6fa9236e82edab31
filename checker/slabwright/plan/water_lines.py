"""Lines where a slab brings water together: valleys, walls and curbs that dam it, rims of pools; what drains them."""

import math
from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import shapely

from slabwright.design.model import Design
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import spot_on
from slabwright.geometry.xy import XY, beside_middle, middle_of
from slabwright.plan.channels import Channels
from slabwright.plan.edges import EdgePiece, Edges
from slabwright.plan.finish import Finish, LineRun
from slabwright.plan.shape import ON_EDGE, Shape
from slabwright.plan.view import PlanView
from slabwright.source.place import Place

BESIDE = FOOT  # m: water of a line so near to a drain goes into it (common practice)
FACES, FACE = ("existing slab", "step"), 0.05  # what stands so much higher, m, shows the slab a face
LONG, FALLS_TO = 0.61, 0.005  # m, 2 ft: shorter stretches at a dam are left out; fall towards it that counts
HALF = 0.5  # share of a side that a channel drains, from which it lies dry
ASIDE, FLOWS = 0.3, 0.001  # how far beside a line its sides are read, m; slope from which water flows


class DamLine(NamedTuple):
    """A stretch of an edge that water cannot pass, where the slab falls to it."""

    edge: EdgePiece
    ends: tuple[XY, XY]  # the higher first
    run: float  # m
    slope: float  # along it


class PoolRim(NamedTuple):
    """How a deck meets a pool in it or beside it."""

    pool: str
    place: Place
    ends: tuple[XY, XY]  # of the side to which it falls most
    slope: float  # to the pool there, square to its rim; negative where the deck falls away from it


class ValleyEnd(NamedTuple):
    """The last stretch of a valley before its low end, as a gutter."""

    length: float
    running: float  # slope along it
    sides: tuple[float, float]  # slope down to it from either side


class WaterLines(PlanView):
    """Lines that the slab falls to, with how it does, and where a channel or a drain takes their water.

    Without a finish surface nothing falls to anything.
    """

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"openings"})
    _design: Design
    _shape: Shape
    _finish: Finish
    _edges: Edges
    _channels: Channels

    @cached_property
    def at_dams(self) -> tuple[DamLine, ...]:
        """Stretches of garden walls, curbs and taller slabs that the slab falls to, each from its higher end down."""
        found = []
        side = 1.0 if self._shape.ring.ccw else -1.0
        for piece in self._edges.pieces:
            garden = piece.dams and piece.beside in ("wall", "curb")
            if piece.finish is None or not (garden or (piece.beside in FACES and piece.ground)):
                continue
            tall = [garden or g - z > FACE for g, z in zip(piece.ground or piece.finish, piece.finish, strict=True)]
            for k, ((a, b), (za, zb)) in enumerate(zip(pairwise(piece.line), pairwise(piece.finish), strict=True)):
                size = math.dist(a, b)
                if size < LONG or not (tall[k] and tall[k + 1]):
                    continue
                above = self._finish.at(beside_middle(a, b, -side * ASIDE))
                if above is not None and above - (za + zb) / 2 > FALLS_TO * ASIDE:
                    ends = (a, b) if za >= zb else (b, a)
                    found.append(DamLine(piece, ends, size, abs(za - zb) / size))
        return tuple(found)

    @cached_property
    def pool_rims(self) -> tuple[PoolRim, ...]:
        """How the deck falls to each pool in the slab or beside it, but where a channel takes its water before.

        Where a piece of four corners at the rim could fold either way, the way that falls more to the pool.
        """
        found = []
        rims = [
            (opening.name, opening.place, 1.0 if ring.ccw else -1.0, (*ring.points, ring.points[0]))
            for opening, ring in zip(self._design.openings, self._shape.opening_rings, strict=True)
            if opening.holds == "pool" and not opening.takes_water
        ]
        inward = -1.0 if self._shape.ring.ccw else 1.0
        beside = (piece for piece in self._edges.pieces if piece.beside == "pool" and piece.takes_water is False)
        rims += [(piece.name, piece.place, inward, piece.line) for piece in beside]
        for name, place, out, line in rims:
            sides: list[tuple[float, float, tuple[XY, XY]]] = []
            for a, b in self._parted(line):
                size = math.dist(a, b)
                away = out * (b[1] - a[1]) / size, out * (a[0] - b[0]) / size
                middle = middle_of(a, b)
                beside_it = [(middle[0] + away[0] * ASIDE, middle[1] + away[1] * ASIDE)]
                beside_it += [far for fold in self._finish.folds if (far := fold.far_corner(a, b))]
                slopes = [slope for at in beside_it if (slope := self._slope_to((a, b), away, at)) is not None]
                if slopes and self.drained_along((a, b)) < HALF:
                    sides.append((max(slopes), size, (a, b)))
            sides.sort(reverse=True)
            reached = 0.0
            for slope, size, ends in sides:  # the steepest that holds for some length of rim
                reached += size
                if reached >= LONG:
                    found.append(PoolRim(name, place, ends, slope))
                    break
        return tuple(found)

    def _parted(self, line: Sequence[XY]) -> list[tuple[XY, XY]]:
        """The sides of a line, parted where the surface has heights on them."""
        given = self._finish.surface.mesh.xy.tolist() if self._finish.surface else []
        found: list[tuple[XY, XY]] = []
        for a, b in pairwise(line):
            on_it = [(x, y) for x, y in given if spot_on(a, b, (x, y))[1] < ON_EDGE]
            between = [at for at in on_it if min(math.dist(at, a), math.dist(at, b)) > ON_EDGE]
            found += pairwise((a, *sorted(between, key=lambda at: math.dist(a, at)), b))
        return found

    def _slope_to(self, side: tuple[XY, XY], away: XY, at: XY) -> float | None:
        """How the plane of a side and a place falls to the side, square to it; None where heights are not known."""
        (a, b), (za, zb, z) = side, self._finish.all_at([*side, at])
        if za is None or zb is None or z is None:
            return None
        from_a = at[0] - a[0], at[1] - a[1]
        along = (from_a[0] * (b[0] - a[0]) + from_a[1] * (b[1] - a[1])) / math.dist(a, b) ** 2
        return (z - za - along * (zb - za)) / (from_a[0] * away[0] + from_a[1] * away[1])

    def valley_end(self, run: LineRun) -> ValleyEnd | None:
        """The last stretch of a valley as a gutter; None where it or one of its sides hardly falls."""
        xy, heights = (run.xy, run.heights) if run.low_end == run.xy[-1] else (run.xy[::-1], run.heights[::-1])
        before, end = xy[-2:]
        size, level = math.dist(before, end), (heights[-2] + heights[-1]) / 2
        if size == 0.0:  # typed from a point to itself
            return None
        beside = [self._finish.at(beside_middle(before, end, off)) for off in (-ASIDE, ASIDE)]
        sides = [0.0 if z is None else (z - level) / ASIDE for z in beside]
        running = (heights[-2] - heights[-1]) / size
        flows = min(running, *sides) > FLOWS
        return ValleyEnd(size, running, (max(sides), min(sides))) if flows else None

    def drained_along(self, line: Sequence[XY]) -> float:
        """Share of a line that lies at a channel, a trench drain or an opening that takes water."""
        way = shapely.LineString(line)
        return 1.0 - float(shapely.difference(way, self._takers).length / way.length) if way.length else 0.0

    def past_drains(self, line: Sequence[XY]) -> list[tuple[XY, XY]]:
        """The pieces of a straight line that no channel, trench drain or opening takes the water of."""
        pieces = shapely.get_parts(shapely.difference(shapely.LineString(line), self._takers))
        found = ([(float(x), float(y)) for x, y in shapely.get_coordinates(piece)] for piece in pieces)
        return [(piece[0], piece[-1]) for piece in found if len(piece) > 1]

    @cached_property
    def _takers(self) -> shapely.Geometry:
        """What lies near a channel, a trench drain or an opening that takes water."""
        trenches = [shapely.LineString(piece.line) for piece in self._edges.pieces if piece.beside == "trench drain"]
        trenches += [shapely.LineString(one.line) for one in self._channels.all]
        rings = zip(self._design.openings, self._shape.opening_rings, strict=True)
        takers = shapely.union_all([*trenches, *(ring.polygon for opening, ring in rings if opening.takes_water)])
        return takers.buffer(BESIDE)
