"""The finish surface of the plan: where it is known, its facets and folds, and the height at any place."""

import math
from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise
from typing import ClassVar, NamedTuple

import numpy as np
import shapely

from slabwright.design.heights import HeightLine
from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.shape.noding import SNAP
from slabwright.geometry.shape.outline import at_distance, distances_along
from slabwright.geometry.shape.rim_heights import RimHeights, apart
from slabwright.geometry.surface import patches
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.round_arcs import round_arcs, round_known
from slabwright.geometry.surface.surface import build_surface
from slabwright.geometry.xy import XY, as_xy, middle_of
from slabwright.plan.folds import Fold, folds_of, low_lines
from slabwright.plan.shape import ON_EDGE, Shape, corner_name, line_through, point_name
from slabwright.plan.shots import spots as spots_of
from slabwright.plan.view import PlanView

REACH = 0.61  # 2 ft: the slab is asked for its height no further from it than this, m
PROUD = 0.006  # m, 1/4 in: a rim this far over the slab round it is no height of the slab (common practice)
STAYS = 1e-6  # m: heights that differ by less are the same
STRAIGHT = 0.5  # degrees: an outline corner that turns less lies on a straight side
STEPS = {  # m, in which heights are typed, coarsest first: 1/8 in, 0.01 ft, 0.005 ft, 1/16 in, 0.001 ft; 5 mm, 1 mm
    "us": (0.003175, 0.003048, 0.0015875, 0.001524, 0.0003048),
    "metric": (0.005, 0.001),
}


def coarsest(steps: Sequence[float], lengths: np.ndarray) -> float:
    """The first of the steps that goes into all lengths; the last where none does, all in m."""
    whole = (step for step in steps if np.abs(lengths - np.round(lengths / step) * step).max(initial=0.0) < STAYS)
    return next(whole, steps[-1])


class Facet(NamedTuple):
    """One triangle of the finish surface."""

    corners: tuple[XY, XY, XY]
    heights: tuple[float, float, float]
    slope: float
    area: float

    @property
    def middle(self) -> XY:
        """Where its three medians meet."""
        (ax, ay), (bx, by), (cx, cy) = self.corners
        return (ax + bx + cx) / 3, (ay + by + cy) / 3


class LineRun(NamedTuple):
    """A height line on the plan with the finish height at each of its points."""

    line: HeightLine
    xy: tuple[XY, ...]
    heights: tuple[float, ...]

    @property
    def low_end(self) -> XY:
        """The lower of its two ends."""
        return self.xy[0] if self.heights[0] < self.heights[-1] else self.xy[-1]


class Finish(PlanView):
    """The finish heights and the surface through them. It is never guessed: a corner without a height leaves none."""

    SECTIONS: ClassVar[frozenset[str]] = frozenset({"heights", "fixtures", "channels", "units"})
    _design: Design
    _shape: Shape

    @cached_property
    def _typed(self) -> np.ndarray:
        return spots_of(self._design.heights.finish)

    @cached_property
    def _spots(self) -> np.ndarray:
        """The finish heights of the file, and the rims of channels where the finish has no height of its own."""
        rims = [
            (point.x, point.y, rim.si)
            for channel in self._design.channels
            for number, point in enumerate(channel.along)
            if (rim := channel.height_at(channel.rim, number)) is not None
            and not (np.hypot(self._typed[:, 0] - point.x, self._typed[:, 1] - point.y) < ON_EDGE).any()
        ]
        return np.vstack([self._typed, rims]) if rims else self._typed

    @cached_property
    def typed_step(self) -> float:
        """The coarsest step in which all finish heights are typed, m: 1/8 in, 0.01 ft, 5 mm or finer."""
        steps = STEPS["us" if self._design.height_unit in ("ft", "in") else "metric"]
        return coarsest(steps, self._typed[:, 2] - self._typed[:1, 2])

    @property
    def give(self) -> float:
        """Half a step of the heights as typed, m: they are known no better."""
        return self.typed_step / 2

    @cached_property
    def _at_spot(self) -> dict[XY, float]:
        return {(round(x, 4), round(y, 4)): z for x, y, z in self._spots.tolist()}

    def _spot_at(self, point: Point) -> float:
        """The height given at a point, m; nan where there is none."""
        return self._at_spot.get((round(point.x, 4), round(point.y, 4)), math.nan)

    @cached_property
    def _rim(self) -> RimHeights:
        found = distances_along(self._shape.ring, [(x, y) for x, y, _ in self._spots.tolist()])
        heights = zip(found, self._spots[:, 2].tolist(), strict=True)
        return RimHeights(self._shape.ring, [(along, z) for (along, off), z in heights if off < ON_EDGE])

    @cached_property
    def _edge(self) -> RimHeights:
        """The rim with a height for every point of its arcs, off the surface beside each chord between known heights.

        Where no surface lies there (a walk bends round a pond, and the chord leaves it) they run evenly along the arc.
        An arc with a third known height lies in the plane through the three, unless a height line meets it.
        """
        rim = self._rim
        bare = [
            row
            for row, corner in enumerate(self._shape.ring.corner.tolist())
            if corner < 0 and apart(self._shape.ring.along[row], rim.marks) > ON_EDGE
        ]
        if not bare:
            return rim
        lines = [np.array([[p.x, p.y, self._spot_at(p)] for p in line.along]) for line in self._design.heights.lines]
        whole = [line for line in lines if np.isfinite(line).all()]
        heights = round_arcs(self._shape.ring, bare, rim.known, self._spots, whole)
        if heights is None:
            return rim
        on_arcs = round_known(self._shape.ring, rim.known, self._folds)
        return RimHeights(self._shape.ring, [*rim.known, *{**dict(heights), **dict(on_arcs)}.items()])

    @cached_property
    def _folds(self) -> list[float]:
        """Where height lines meet the outline, as distances along it."""
        ends = [(point.x, point.y) for line in self._design.heights.lines for point in line.along]
        return [along for along, off in distances_along(self._shape.ring, ends) if off < ON_EDGE]

    @cached_property
    def _rims(self) -> tuple[RimHeights, ...]:
        """The rims of openings with the heights known on them, those round their arcs with them."""
        slab, spots = self._shape.slab, self._spots.tolist()
        found = []
        for ring in self._shape.opening_rings:
            places = zip(distances_along(ring, [(x, y) for x, y, _ in spots]), spots, strict=True)
            near = [(along, spot) for (along, off), spot in places if off < ON_EDGE]
            known = sorted((along, z) for along, (x, y, z) in near if slab.distance(shapely.Point(x, y)) < ON_EDGE)
            found.append(RimHeights(ring, [*known, *round_known(ring, known)]))
        return tuple(found)

    @cached_property
    def _own_spots(self) -> np.ndarray:
        """The heights inside the slab and on the rims of openings; one a hair inside the outline is one of the rim."""
        own = self._spots[shapely.contains_xy(self._shape.slab, self._spots[:, 0], self._spots[:, 1])]
        off = [off for _, off in distances_along(self._shape.ring, [(x, y) for x, y, _ in own.tolist()])]
        own = own[np.array(off, dtype=float) >= ON_EDGE]
        rims = [(*at_distance(rim.ring, along), z) for rim in self._rims for along, z in rim.known]
        return np.vstack([own, np.array(rims).reshape(-1, 3)])

    @cached_property
    def _bare_corners(self) -> tuple[str, ...]:
        """Outline corners without a height; one on a straight side between two known heights needs none."""
        outline, rim = self._shape.corners, self._rim
        places = [(corner.at.x, corner.at.y) for corner in outline]
        missing = []
        for index, (along, _) in enumerate(distances_along(self._shape.ring, places)):
            if rim.near(along) < ON_EDGE:
                continue
            before, corner, after = outline[index - 1], outline[index], outline[(index + 1) % len(outline)]
            bends = corner.through is not None or after.through is not None
            if len(rim.marks) < 2 or bends or not _straight(before.at, corner.at, after.at):
                missing.append(corner_name(corner))
        return tuple(missing)

    @cached_property
    def _on_lines(self) -> tuple[tuple[tuple[float, ...] | None, ...], tuple[str, ...]]:
        """Heights of each height line, point by point (None where one lacks), and the points that lack one."""
        found: list[tuple[float, ...] | None] = []
        missing = list(self._bare_corners)
        for line in self._design.heights.lines:
            own: list[float] = []
            for point in line.along:
                z = self._spot_at(point)
                if math.isnan(z) and not missing:
                    ((along, off),) = distances_along(self._shape.ring, [(point.x, point.y)])
                    z = self._edge.at(along) if off < ON_EDGE else z
                if math.isnan(z):
                    missing.append(f"{point_name(point)} ({line.kind} {line.name})".replace(" )", ")"))
                else:
                    own.append(z)
            found.append(tuple(own) if len(own) == len(line.along) else None)
        return tuple(found), tuple(dict.fromkeys(missing))

    @property
    def missing(self) -> tuple[str, ...]:
        """Corners and line points without a finish height; while there are any there is no surface."""
        return self._on_lines[1]

    @property
    def line_heights(self) -> tuple[tuple[float, ...] | None, ...]:
        """Heights of each height line of the file, point by point; None for a line that lacks one."""
        return self._on_lines[0]

    def along_rim(self, points: Sequence[XY]) -> tuple[float, ...] | None:
        """Finish heights at points of the outline; None while a corner has none.

        They run straight between those given, and round an arc as the surface beside its chord does.
        """
        return self._edge.heights(points) if self._known else None

    @property
    def _known(self) -> bool:
        return not self.missing and bool(self._rim.marks)

    @cached_property
    def surface(self) -> Surface | None:
        """The finish surface, or None while a corner has no height."""
        if not self._known:
            return None
        ring, rim, slab, own = self._shape.ring, self._edge, self._shape.slab, self._own_spots
        vertices = list(zip(ring.along, ring.points, strict=False))
        added = [along for along in self._rim.marks if apart(along, ring.along) > ON_EDGE]
        vertices += [(along, at_distance(ring, along)) for along in added]
        around = np.array([(x, y, rim.at(along)) for along, (x, y) in sorted(vertices)])
        chains = [np.vstack([around, around[:1]])]
        for line, heights in zip(self._design.heights.lines, self.line_heights, strict=True):
            if heights is not None:
                chains.append(np.array([[p.x, p.y, z] for p, z in zip(line.along, heights, strict=True)]))
        chains += [np.array(side) for rim in self._rims for side in rim.straight_sides(ON_EDGE)]
        surface = build_surface(slab, own, chains)
        drains = self._drain_spots(surface, own)
        channels = self._channel_lines(surface)
        if not len(drains) and not channels:
            return surface
        return build_surface(slab, np.vstack([own, drains]), [*chains, *channels])

    def _channel_lines(self, surface: Surface) -> list[np.ndarray]:
        """Channels as lines of the surface, (k, 3): straight between rims, and as the slab lies where none is given."""
        found = []
        for channel in self._design.channels:
            for start, end in pairwise(channel.along):
                known = [self._spot_at(start), self._spot_at(end)]
                if np.isfinite(known).all():
                    found.append(np.array([[start.x, start.y, known[0]], [end.x, end.y, known[1]]]))
                else:
                    found += self._laid_on(surface, line_through([start, end]))
        return found

    def _laid_on(self, surface: Surface, line: shapely.LineString) -> list[np.ndarray]:
        """The parts of a line that lie on the slab, bent where the surface under them folds."""
        found = []
        for part in shapely.get_parts(shapely.intersection(line, self._shape.slab)):
            if not isinstance(part, shapely.LineString) or part.length < ON_EDGE:
                continue
            (ax, ay), *_, (bx, by) = part.coords
            along, heights = surface.profile((ax, ay), (bx, by))
            xy = np.array([ax, ay]) + along[:, None] / part.length * np.array([bx - ax, by - ay])
            for end in (0, -1):  # on the rim, a hair outside every facet
                if np.isnan(heights[end]):
                    heights[end] = (self.along_rim([as_xy(xy[end])]) or (math.nan,))[0]
            known = ~np.isnan(heights)
            found.append(np.column_stack([xy, heights])[known])
        return [part for part in found if len(part) > 1]

    def _drain_spots(self, surface: Surface, own: np.ndarray) -> np.ndarray:
        """Drains as spots of the surface: at their rim height when given, else at the height the surface has there.

        A rim that stands up over the surface through all other heights does not lift the concrete round it.
        """
        slab = self._shape.slab
        found = []
        for fixture in self._design.fixtures:
            if fixture.kind != "drain" or fixture.at is None:
                continue
            at = (fixture.at.x, fixture.at.y)
            if len(own) and np.hypot(own[:, 0] - at[0], own[:, 1] - at[1]).min() < ON_EDGE:
                continue
            spot = shapely.Point(at)
            if slab.distance(spot) < ON_EDGE:  # drains stand at edges too
                near = self._shape.nearest(at)
                z = float(surface.height(np.array(near))[0])
                if fixture.rim and not fixture.rim.si > z + PROUD:
                    z = fixture.rim.si
                found.append([*near, z])
        return np.array(found).reshape(-1, 3)

    @cached_property
    def facets(self) -> tuple[Facet, ...]:
        """The triangles of the finish surface with their slopes; empty without one."""
        surface = self.surface
        if surface is None:
            return ()
        xy, z = [(x, y) for x, y in surface.mesh.xy.tolist()], surface.z.tolist()
        each = (surface.mesh.triangles.tolist(), surface.slopes.tolist(), surface.areas.tolist())
        return tuple(
            Facet((xy[a], xy[b], xy[c]), (z[a], z[b], z[c]), slope, area)
            for (a, b, c), slope, area in zip(*each, strict=True)
        )

    def facets_at(self, at: XY) -> tuple[int, ...]:
        """The facets of the finish surface that a place lies on: one, or those that meet there."""
        return () if self.surface is None else tuple(patches.facets_at(self.surface, [at]))

    def at(self, at: XY) -> float | None:
        """Finish height at a point of the slab (or the nearest point of it within 2 ft), m; None if not known."""
        surface = self.surface
        if surface is None or self._shape.slab.distance(shapely.Point(at)) > REACH:
            return None
        nearest = self._shape.nearest(at)
        z = float(surface.height(np.array(nearest))[0])
        if np.isnan(z):  # on the rim, a hair outside every facet
            heights = self.along_rim([nearest])
            z = heights[0] if heights else z
        return None if np.isnan(z) else z

    def all_at(self, spots: Sequence[XY]) -> list[float | None]:
        """The same for many places at once."""
        if self.surface is None or not spots:
            return [None] * len(spots)
        heights: list[float] = self.surface.height(np.array(spots)).tolist()
        return [self.at(at) if np.isnan(z) else z for at, z in zip(spots, heights, strict=True)]

    def on_slab(self, xy: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Those of the places (k, 2) that lie on the slab, its edge counted, and the finish heights there."""
        marks = shapely.points(xy)
        near = shapely.distance(self._shape.slab, marks) < ON_EDGE
        if self.surface is None or not near.any():
            return np.zeros((0, 2)), np.zeros(0)
        ends = shapely.get_coordinates(shapely.shortest_line(self._shape.slab, marks[near])).reshape(-1, 2, 2)
        foot = ends[:, 0]
        heights = self.surface.height(foot)
        lost = np.isnan(heights)  # on the rim, a hair outside every facet
        if lost.any():
            heights[lost] = self.along_rim([(x, y) for x, y in foot[lost].tolist()]) or np.nan
        known = ~np.isnan(heights)
        return foot[known], heights[known]

    @cached_property
    def lines(self) -> tuple[LineRun, ...]:
        """Valleys, ridges and grade breaks with their heights; empty without a finish surface."""
        if self.surface is None:
            return ()
        lines = zip(self._design.heights.lines, self.line_heights, strict=True)
        return tuple(LineRun(line, tuple((p.x, p.y) for p in line.along), zs) for line, zs in lines if zs is not None)

    @cached_property
    def low_lines(self) -> tuple[LineRun, ...]:
        """Straight lines that both sides fall to and nobody drew as a valley, with the heights at their ends.

        None where the surface could fold along another diagonal as well.
        """
        if self.surface is None:
            return ()
        drawn = [run for run in self.lines if len(run.xy) > 1]
        open_folds = [(fold.corners[0], fold.corners[2]) for fold in self.folds]
        found = []
        for a, b, za, zb in low_lines(self.surface):
            middle = middle_of(a, b)
            along = [run.line for run in drawn if nearest_on(run.xy, middle)[0] < ON_EDGE]
            if any(nearest_on(fold, middle)[0] < ON_EDGE for fold in open_folds):
                continue
            if not any(line.kind == "valley" for line in along):
                place = along[0].place if along else self._design.heights.place
                name = (along[0].name if along else "") or "low line"
                found.append(LineRun(HeightLine(name, "valley", (), place), (a, b), (za, zb)))
        return tuple(sorted(found, key=lambda run: run.xy))

    @cached_property
    def lines_cross(self) -> bool:
        """Whether height lines cross where no point has a height, so that each of them says its own there."""
        heights = self._design.heights
        lines = [line_through(line.along) for line in heights.lines]
        if len(lines) < 2:
            return False
        first, second = shapely.STRtree(lines).query(lines, predicate="intersects")
        met = [lines[a].intersection(lines[b]) for a, b in zip(first.tolist(), second.tolist(), strict=True) if a < b]
        given = shapely.MultiPoint([(spot.at.x, spot.at.y) for spot in heights.finish])
        return any(shapely.distance(given, shapely.points(xy)) > SNAP for xy in shapely.get_coordinates(met).tolist())

    @cached_property
    def folds(self) -> tuple[Fold, ...]:
        """The four-corner pieces that could fold along either diagonal, by height lines; none where all is shot."""
        if self.surface is None:
            return ()
        given = [[(p.x, p.y) for p in line.along] for line in self._design.heights.lines]
        given += [[(p.x, p.y) for p in channel.along] for channel in self._design.channels]
        return tuple(folds_of(self.surface, given, self._shape.name_at))


def _straight(a: Point, b: Point, c: Point) -> bool:
    """Whether the way from a over b to c goes straight on."""
    ux, uy, vx, vy = b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y
    return abs(math.degrees(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))) < STRAIGHT
