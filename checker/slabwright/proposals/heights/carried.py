"""The finish surface as the points of the file carry it: every height on it is a weighted sum of theirs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from slabwright.design.model import Design
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY
from slabwright.plan.finish import Finish
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.units import quantity

Floats = NDArray[np.float64]

NUDGE = 1e-4  # m: by which a point is moved to see what moves along with it
FINEST = 1e-7  # shares under this are rounding


class Carried(NamedTuple):
    """A finish surface: its vertices (v) stand at ``terms @ z + rest``, z (n,) the heights of the file's points, m."""

    surface: Surface
    terms: Floats  # (v, n)
    rest: Floats  # (v,)

    def place(self, at: XY) -> tuple[Floats, float] | None:
        """The height at a place of the slab: terms (n,) and rest, m."""
        for vertices, shares in self.surface.carriers(at, ON_EDGE):
            return shares @ self.terms[vertices], float(shares @ self.rest[vertices])
        return None

    def fall(self, facet: int, way: Floats) -> tuple[Floats, float, float]:
        """How far a facet falls along a unit vector from one side to the other: terms, rest and that run, m."""
        corners = self.surface.mesh.triangles[facet]
        xy = self.surface.mesh.xy[corners]
        (ux, uy), (vx, vy) = xy[1] - xy[0], xy[2] - xy[0]
        twice = ux * vy - uy * vx
        # gradient along the way, as shares of the three heights
        first = (way[0] * vy - way[1] * vx) / twice
        second = (way[1] * ux - way[0] * uy) / twice
        reach = xy @ way
        run = float(reach.max() - reach.min())
        shares = -run * np.array([-first - second, first, second])
        return shares @ self.terms[corners], float(shares @ self.rest[corners]), run


def with_heights(design: Design, z: Sequence[float]) -> Design:
    """The design with other finish heights, m, in the order of its points with one."""
    heights = design.heights
    finish = tuple(
        spot._replace(height=quantity.height(float(new))) for spot, new in zip(heights.finish, z, strict=True)
    )
    return design._replace(heights=heights._replace(finish=finish))


def carried(plan: Plan, before: Carried | None = None) -> Carried | None:
    """How the points carry the surface of a plan; None without one.

    A vertex at a point has its height. What the others have is found by moving each point a hair; taken over from
    the surface ``before`` where its facets are the same.
    """
    surface = plan.finish.surface
    if surface is None:
        return None
    if before is not None and _alike(before.surface, surface):
        return Carried(surface, before.terms, before.rest)
    spots = plan.design.heights.finish
    z = np.array([spot.height.si for spot in spots])
    xy = np.array([(spot.at.x, spot.at.y) for spot in spots])
    terms = np.zeros((len(surface.z), len(z)))
    away = np.hypot(*(surface.mesh.xy[:, None] - xy[None]).transpose(2, 0, 1))
    own, nearest = away.min(axis=1) < ON_EDGE, away.argmin(axis=1)
    terms[np.nonzero(own)[0], nearest[own]] = 1.0
    if not own.all():
        for k in range(len(z)):
            nudged = z.copy()
            nudged[k] += NUDGE
            moved = Finish(with_heights(plan.design, nudged.tolist()), plan.shape).surface
            if moved is None:
                continue
            if moved.mesh.xy.shape == surface.mesh.xy.shape:
                other = moved.z
            else:
                other = np.array([moved.z[moved.nearest_vertex((x, y))] for x, y in surface.mesh.xy.tolist()])
            column = (other - surface.z) / NUDGE
            terms[~own, k] = np.where(np.abs(column) > FINEST, column, 0.0)[~own]
    return Carried(surface, terms, np.asarray(surface.z - terms @ z))


def _alike(one: Surface, other: Surface) -> bool:
    return one.mesh.xy.shape == other.mesh.xy.shape and np.array_equal(one.mesh.triangles, other.mesh.triangles)
