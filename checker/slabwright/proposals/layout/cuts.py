"""Straight cuts from rim to rim, and the panels they leave, judged.

A cut is clipped to the slab, each connected part on its own: both ends lie on an edge or an opening, so none of them
ends on the side of another. Coordinates and lengths are meters, angles degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.formulas.joints import NEAR_SQUARE
from slabwright.geometry.joints.measure import corner_angles, rings_of, smallest_rectangles
from slabwright.geometry.xy import XY
from slabwright.named_tuple import NamedTuple
from slabwright.proposals.layout.asked import NARROW, RIBBON, USUAL_BAY, Asked, Must
from slabwright.units.quantity import meets

Line = tuple[XY, ...]
Floats = NDArray[np.float64]

HAIR = 1e-6  # m
ALONG = 0.02  # m: a cut whose middle lies this near to the rim runs along it
BEYOND = 1e-4  # m: ends are carried on so far when panels are cut out, so that they meet the rim
GRAIN = 1e-8  # m: how finely places are seen when panels are cut out
SHORTEST = 0.15  # m: a shorter cut parts nothing off
AT_VERTEX = 0.01  # m
UNEVEN = 0.15  # of a foot of cutting for each foot: how dear it is that panels differ
DUST = 1e-5  # m2: smaller pieces are none
MISSED, TOO_LONG, TOO_SHARP, TOO_NARROW = 3.0, 2.0, 2.0, 2.0  # the least price of each fault, beside the others
WISHED = 0.3  # of a wish that is not kept


class Fault(NamedTuple):
    """What a layout does not keep: of which rule, how badly (0 is just kept), and where."""

    rule: str
    price: float
    at: XY
    ring: tuple[XY, ...] = ()
    must: Must | None = None


class Judged(NamedTuple):
    """A layout judged on its true panels: what it breaks, feet of cutting, and how far its panels are from equal."""

    lines: tuple[Line, ...]
    faults: tuple[Fault, ...]
    length: float  # m
    uneven: float  # m: sum of what the square roots of the areas of panels differ from their mean

    @property
    def cost(self) -> tuple[float, float]:
        """What layouts are ordered by: faults first, then cutting and evenness."""
        return sum(fault.price for fault in self.faults), self.length + UNEVEN * self.uneven


class Slab:
    """A slab to cut, with what is worked out of it once."""

    def __init__(self, asked: Asked) -> None:
        self.asked = asked
        self.shape = asked.slab
        shapely.prepare(self.shape)
        rings = [shapely.get_coordinates(ring) for ring in (self.shape.exterior, *self.shape.interiors)]
        self.sides: Floats = np.concatenate([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])
        self.judged = 0  # layouts so far
        self._kept = [shapely.LineString(line) for line in asked.kept]
        self._known: dict[tuple[float, ...], tuple[Fault, ...]] = {}

    @cached_property
    def rim(self) -> shapely.Geometry:
        """Outline and openings with the joints that stay, as lines."""
        kept = [shapely.LineString(_longer([(float(x), float(y)) for x, y in line])) for line in self.asked.kept]
        return shapely.union_all([self.shape.boundary, *kept])

    def chords(self, at: XY, way: XY) -> list[Line]:
        """The parts of a line through a point that lie in the slab, in order; those along the rim are left out."""
        size = math.hypot(*way)
        if size < HAIR:
            return []
        ux, uy = way[0] / size, way[1] / size
        start, end = self.sides[:, 0] - at, self.sides[:, 1] - at
        off0, off1 = start[:, 1] * ux - start[:, 0] * uy, end[:, 1] * ux - end[:, 0] * uy
        on0, on1 = start @ (ux, uy), end @ (ux, uy)
        met = (np.minimum(off0, off1) <= HAIR) & (np.maximum(off0, off1) >= -HAIR)
        run = off1 - off0
        along = met & (np.abs(run) <= 2 * HAIR)
        across = met & ~along
        share = np.clip(-off0[across] / run[across], 0, 1)
        marks = np.concatenate([on0[along], on1[along], on0[across] + share * (on1[across] - on0[across])])
        marks = np.sort(marks)
        if len(marks) < 2:
            return []
        marks = marks[np.concatenate([[True], np.diff(marks) > 10 * HAIR])]
        middles = (marks[:-1] + marks[1:]) / 2
        xy = np.stack([at[0] + middles * ux, at[1] + middles * uy], axis=1)
        inside = shapely.contains_xy(self.shape, xy)
        found: list[Line] = []
        for (a, b), (x, y), within in zip(pairwise(marks.tolist()), xy.tolist(), inside.tolist(), strict=True):
            if within and b - a >= SHORTEST and self.shape.boundary.distance(shapely.Point(x, y)) > ALONG:
                found.append(((at[0] + a * ux, at[1] + a * uy), (at[0] + b * ux, at[1] + b * uy)))
        return found

    def chord_between(self, a: XY, b: XY) -> Line | None:
        """The part of the line through two points that holds the middle between them; None where that is outside."""
        middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        way = b[0] - a[0], b[1] - a[1]
        for one in self.chords(middle, way):
            (x0, y0), (x1, y1) = one
            if (x0 - middle[0]) * (x1 - middle[0]) + (y0 - middle[1]) * (y1 - middle[1]) <= 0:
                return one
        return None

    def judge(self, lines: Sequence[Line]) -> Judged:
        """The panels that some cuts leave, and what they break."""
        self.judged += 1
        drawn = [shapely.LineString(_longer(line)) for line in lines]
        edges = shapely.union_all([self.rim, *drawn], grid_size=GRAIN)
        shapes = shapely.get_parts(shapely.polygonize([edges]))
        shapes = shapes[shapely.contains(self.shape, shapely.point_on_surface(shapes))]
        areas = shapely.area(shapes)
        shapes, areas = shapes[areas > DUST], areas[areas > DUST]
        faults = [fault for found in self._measured(shapes, areas) for fault in found]
        faults += self._missed([*drawn, *self._kept])
        sizes = np.sqrt(areas)
        length = sum(math.dist(a, b) for line in lines for a, b in pairwise(line))
        return Judged(tuple(lines), tuple(faults), length, float(np.abs(sizes - sizes.mean()).sum()))

    def _measured(self, shapes: NDArray[np.object_], areas: Floats) -> list[tuple[Fault, ...]]:
        """What each panel breaks; one that an earlier layout left as well is known by its area and its middle."""
        middles = shapely.get_coordinates(shapely.centroid(shapes))
        keys = [tuple(key) for key in np.round(np.column_stack([areas, middles]), 6).tolist()]
        new = [row for row, key in enumerate(keys) if key not in self._known]
        if new:
            fresh = shapely.orient_polygons(shapes[new])
            corners = corner_angles(rings_of(fresh), len(fresh))
            rows = zip(new, fresh, smallest_rectangles(fresh), corners, strict=True)
            for row, shape, (long, short), angles in rows:
                self._known[keys[row]] = tuple(self._of_panel(shape, long, short, angles))
        return [self._known[key] for key in keys]

    def _missed(self, drawn: Sequence[shapely.LineString]) -> Iterator[Fault]:
        """Places that no cut comes to."""
        if not self.asked.musts:
            return
        spots = shapely.points([must.at for must in self.asked.musts])
        lines = np.array(drawn, dtype=object)
        apart = shapely.distance(spots[:, None], lines[None, :]).min(axis=1, initial=math.inf).tolist()
        for must, away in zip(self.asked.musts, apart, strict=True):
            if away > max(must.within - BEYOND, 0.0) + HAIR:
                yield Fault("", WISHED if must.wish else MISSED + min(away, 3.0) / 3, must.at, must=must)

    def _of_panel(
        self, shape: shapely.Polygon, long: float, short: float, angles: Sequence[tuple[XY, float]]
    ) -> Iterator[Fault]:
        asked, at = self.asked, (float(shape.centroid.x), float(shape.centroid.y))
        for corner, angle in angles:
            if not meets(angle, asked.sharpest, "least") and not _near_any(corner, asked.own_corners, AT_VERTEX):
                yield Fault("panel-corners", TOO_SHARP + (asked.sharpest - angle) / 10, corner, _ring(shape))
        if not meets(long, asked.longest, "most"):
            yield Fault("panel-spacing", TOO_LONG + 4 * (long / asked.longest - 1), at, _ring(shape))
        most = self._aspect(long, short)
        if not meets(long / short, most, "most"):
            yield Fault("panel-aspect", TOO_LONG + 2 * (long / short / most - 1), at, _ring(shape))
        if not meets(short, asked.narrowest, "least"):
            yield Fault("panel-corners", TOO_NARROW + 3 * (1 - short / asked.narrowest), at, _ring(shape))

    def _aspect(self, long: float, short: float) -> float:
        """The most long side over short side of a panel; ribbons may be longer, and narrow panels of a walk."""
        asked = self.asked
        if not asked.walk and short <= RIBBON:
            return asked.ribbon_aspect
        if asked.walk and short <= NARROW and long <= USUAL_BAY:
            return min(asked.aspect, NEAR_SQUARE)
        return asked.aspect


def _longer(line: Sequence[XY]) -> list[XY]:
    """A line carried on a little at both ends."""
    points = list(line)
    for end, inner in ((0, 1), (-1, -2)):
        (x, y), (x0, y0) = points[end], points[inner]
        part = BEYOND / max(math.dist(points[end], points[inner]), HAIR)
        points[end] = x + (x - x0) * part, y + (y - y0) * part
    return points


def _ring(shape: shapely.Polygon) -> tuple[XY, ...]:
    return tuple((float(x), float(y)) for x, y in shape.exterior.coords)


def _near_any(at: XY, others: Sequence[XY], within: float) -> bool:
    return any(math.dist(at, other) <= within for other in others)
