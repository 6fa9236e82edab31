"""A faceted height surface: heights, slopes and profiles anywhere on it."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats, Ints, starts_of_runs
from slabwright.geometry.surface.triangulate import Mesh
from slabwright.geometry.xy import XY

_TOUCH = 1e-6  # a place this near to a facet has its height, m
_FLAT = 1e-12  # a facet with less area has no slope of its own, m2
_SLIVER = 1e-9  # a facet so small carries nothing that those beside it do not, m2
_NEXT = np.array([1, 2, 0])


class Clash(NamedTuple):
    """Two different heights (m) for one place: two crossing lines, or a line and a spot."""

    xy: XY
    heights: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Surface:
    """A mesh with the height of every vertex, ``z`` (n,), m.

    Any height is exact for the faceted surface. ``clashes`` lists places that were given two heights: a spot wins
    over a line, the mean of two lines is taken.
    """

    mesh: Mesh
    z: Floats
    clashes: tuple[Clash, ...] = ()

    def __post_init__(self) -> None:
        if not np.isfinite(self.z).all():
            x, y = self.mesh.xy[int(np.argmin(np.isfinite(self.z)))]
            raise GeometryError(f"no height is known at ({x:.3f}, {y:.3f}) m")

    @cached_property
    def corners(self) -> Floats:
        """Corners of every facet, (m, 3, 2)."""
        return np.asarray(self.mesh.xy[self.mesh.triangles])

    @cached_property
    def areas(self) -> Floats:
        """Plan area of every facet, (m,), m2."""
        a, b = self.corners[:, 1] - self.corners[:, 0], self.corners[:, 2] - self.corners[:, 0]
        return np.asarray((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / 2)

    @cached_property
    def gradients(self) -> Floats:
        """Rise over run of every facet in x and y, (m, 2); water runs the other way."""
        a, b = self.corners[:, 1] - self.corners[:, 0], self.corners[:, 2] - self.corners[:, 0]
        heights = self.z[self.mesh.triangles]
        rise, other = heights[:, 1] - heights[:, 0], heights[:, 2] - heights[:, 0]
        twice = np.where(self.areas > 1e-15, 2 * self.areas, np.inf)
        along_x = (rise * b[:, 1] - other * a[:, 1]) / twice
        along_y = (other * a[:, 0] - rise * b[:, 0]) / twice
        return np.stack([along_x, along_y], axis=1)

    @cached_property
    def slopes(self) -> Floats:
        """Steepest rise over run of every facet, (m,)."""
        return np.asarray(np.hypot(self.gradients[:, 0], self.gradients[:, 1]))

    @cached_property
    def inner_sides(self) -> Ints:
        """Sides between two facets, each once, (e, 2) vertices."""
        facet, side = np.nonzero(self.mesh.neighbors > np.arange(len(self.mesh.triangles))[:, None])
        return np.stack([self.mesh.triangles[facet, side], self.mesh.triangles[facet, (side + 1) % 3]], axis=1)

    @cached_property
    def facets(self) -> NDArray[np.object_]:
        """Every facet as a shapely polygon, (m,)."""
        return np.asarray(shapely.polygons(self.corners), dtype=object)

    @cached_property
    def tree(self) -> shapely.STRtree:
        """Search tree over ``facets``."""
        return shapely.STRtree(self.facets)

    def height(self, xy: Floats) -> Floats:
        """Height at every place (k, 2), (k,); nan where there is no surface."""
        xy = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
        place, facet = self.tree.query(shapely.points(xy), predicate="dwithin", distance=_TOUCH)
        weights, depth = self._weights(xy[place], facet)
        found = np.full(len(xy), np.nan)
        near = (depth >= -_TOUCH) & (self.areas[facet] > _FLAT)
        place, facet, weights, depth = place[near], facet[near], weights[near], depth[near]
        best = np.lexsort((facet, -depth, place))
        chosen = best[starts_of_runs(place[best])]
        place = place[chosen]
        weights = np.clip(weights[chosen], 0, 1)
        weights /= weights.sum(axis=1, keepdims=True)
        heights = self.z[self.mesh.triangles[facet[chosen]]]
        least = heights.min(axis=1)
        found[place] = least + np.sum(weights * (heights - least[:, None]), axis=1)
        return found

    def _weights(self, xy: Floats, facet: Ints) -> tuple[Floats, Floats]:
        """Shares (k, 3) of the facet's corners in each place, and how far inside its nearest side lies, m."""
        corners = self.corners[facet]
        sides = corners[:, _NEXT] - corners
        off = xy[:, None] - corners
        twice = sides[..., 0] * off[..., 1] - sides[..., 1] * off[..., 0]
        depth = (twice / np.maximum(np.hypot(sides[..., 0], sides[..., 1]), 1e-300)).min(axis=1)
        whole = np.maximum(2 * self.areas[facet], 1e-300)
        return twice[:, _NEXT] / whole[:, None], depth

    def nearest_vertex(self, xy: XY, within: float = np.inf) -> int:
        """The vertex nearest to a place, -1 where none lies within so many meters."""
        distance = np.hypot(*(self.mesh.xy - np.asarray(xy)).T)
        nearest = int(np.argmin(distance))
        return nearest if distance[nearest] <= within else -1

    def carriers(self, xy: XY, within: float) -> Iterator[tuple[Ints, Floats]]:
        """The vertices whose heights make the height at a place, and the share of each.

        First one that stands so near (m), then the corners of each facet so near.
        """
        vertex = self.nearest_vertex(xy, within)
        if vertex >= 0:
            yield np.array([vertex]), np.ones(1)
        for facet in self.tree.query(shapely.Point(xy), predicate="dwithin", distance=within).tolist():
            if self.areas[facet] >= _SLIVER:
                corners = self.mesh.triangles[facet]
                matrix = np.vstack([self.mesh.xy[corners].T, np.ones(3)])
                yield corners, np.linalg.solve(matrix, np.array([*xy, 1.0]))

    def profile(self, p: XY, q: XY) -> tuple[Floats, Floats]:
        """Distances from ``p`` and heights, in order, at both ends and at every facet side between ``p`` and ``q``.

        Where the surface stops on the way (an opening, a hollow of the outline) one entry with height nan lies between.
        """
        start, run = np.asarray(p, dtype=np.float64), np.asarray(q, dtype=np.float64) - np.asarray(p)
        length = float(np.hypot(*run))
        if not length > 0:
            raise GeometryError("a profile needs two different places")
        sides = self.mesh.triangles[self.tree.query(shapely.LineString([p, q]))]
        edges = np.sort(np.concatenate([sides[:, :2], sides[:, 1:], sides[:, ::2]]), axis=1)
        a, b = self.mesh.xy[edges[:, 0]], self.mesh.xy[edges[:, 1]]
        left = (run[0] * (a - start)[:, 1] - run[1] * (a - start)[:, 0]) / length
        right = (run[0] * (b - start)[:, 1] - run[1] * (b - start)[:, 0]) / length
        crossing = (np.minimum(left, right) <= _TOUCH) & (np.maximum(left, right) >= -_TOUCH) & (left != right)
        a, b, left, right = a[crossing], b[crossing], left[crossing], right[crossing]
        there = a + np.clip(left / (left - right), 0, 1)[:, None] * (b - a)
        distance = (there - start) @ run / length
        distance = np.concatenate([[0.0, length], distance[(distance > 0) & (distance < length)]])
        distance = np.sort(distance)
        distance = distance[np.concatenate([[True], np.diff(distance) > _TOUCH])]
        distance[-1] = length
        between = (distance[:-1] + distance[1:]) / 2
        every = np.concatenate([distance, between])
        heights = self.height(start + every[:, None] * (run / length))
        gaps = between[np.isnan(heights[len(distance) :])]
        if not len(gaps):
            return distance, heights[: len(distance)]
        distance = np.sort(np.concatenate([distance, gaps]))
        return distance, self.height(start + distance[:, None] * (run / length))
