"""What a string or a tape cannot go through: buildings and walls beside the slab, and what stands up in an opening."""

from __future__ import annotations

import numpy as np
import shapely

from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan

_DEEP = 0.3  # m of a wall that is taken to stand behind its face, where the plan shows no more of it
_GRAZE = 0.005  # m: a tape along the face of a wall, or round its corner, passes
_OPEN = {"pit", "planter"}  # a tape is pulled over these
_SOLID = ("building", "wall")


def standing(plan: Plan) -> shapely.Geometry:
    """All that stands in the way of a tape, as one shape.

    A run of walls that the slab bends round encloses its building, as far as the plan shows it: the hull of the run,
    off the slab. Behind a straight wall stands at least its thickness.
    """
    outline = plan.shape.ring.polygon
    walls = [shapely.LineString(piece.line) for piece in plan.edges.pieces if piece.beside in _SOLID]
    shapes = [
        ring.polygon
        for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True)
        if opening.holds not in _OPEN and ring.polygon.area > 1.0
    ]
    if walls:
        runs = shapely.get_parts(shapely.line_merge(shapely.union_all(walls)))
        behind = [*shapely.buffer(runs, _DEEP, cap_style="flat", join_style="mitre"), *shapely.convex_hull(runs)]
        shapes.append(shapely.difference(shapely.union_all(behind), outline))
    if not shapes:
        return shapely.Polygon()
    return shapely.buffer(shapely.union_all(shapes), -_GRAZE)


def clear(solid: shapely.Geometry, starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """Which of the straight lines from ``starts`` to ``ends`` (k, 2) do not run into ``solid``."""
    if solid.is_empty:
        return np.ones(len(starts), dtype=bool)
    return np.asarray(~shapely.intersects(shapely.linestrings(np.stack([starts, ends], axis=1)), solid))


def seen(solid: shapely.Geometry, one: XY, other: XY) -> bool:
    """Whether a tape goes straight from one place to another."""
    return bool(clear(solid, np.array([one]), np.array([other]))[0])
