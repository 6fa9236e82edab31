"""What keeps a ring from being a simple shape: slips a person makes who types corners.

Coordinates are meters.
"""

import math
from typing import Literal, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.shape.arcs import LARGEST_RADIUS, LEAST_RADIUS, Floats
from slabwright.geometry.shape.outline import SAME_POINT, Ring, sides_of, turns
from slabwright.geometry.xy import XY, as_xy

Ints = NDArray[np.int64]

TOUCH = 1e-6  # m: sides nearer than this touch
SPIKE = 0.05  # degrees: a corner closing more than this doubles back on itself

FaultKind = Literal["repeated point", "crosses itself", "no area", "spike", "not finite", "radius"]


class RingFault(NamedTuple):
    """One thing that keeps a ring from being a simple shape.

    ``corners`` are indices of typed corners: both of a repeated point; the tip of a spike; both ends of an arc;
    for a crossing the ends of the first side, then of the second.
    """

    kind: FaultKind
    corners: tuple[int, ...]
    at: XY | None


def ring_faults(ring: Ring) -> list[RingFault]:
    """Everything that keeps the ring from being a simple polygon; empty when it is one."""
    if _sound(ring):
        return []
    if ring.bad_corners:
        return [RingFault("not finite", (index,), None) for index in ring.bad_corners]
    faults = [
        RingFault("radius", (arc.start, arc.end), as_xy(ring.xy[ring.corner == arc.end][0]))
        for arc in ring.arcs
        if not LEAST_RADIUS <= arc.radius <= LARGEST_RADIUS
    ]
    faults += _repeated(ring)
    # What is left is looked at without the repeated points, so that one slip is not told three times.
    keep = np.hypot(*(ring.xy - np.roll(ring.xy, 1, axis=0)).T) > SAME_POINT if len(ring.xy) else np.empty(0, bool)
    keep |= (ring.corner == 0) if len(ring.xy) else keep
    xy, vertex = ring.xy[keep], np.flatnonzero(keep)
    hull = shapely.convex_hull(shapely.MultiPoint(xy)) if len(xy) else shapely.Polygon()
    if hull.area <= SAME_POINT * max(hull.length, SAME_POINT) / 2:
        return [*faults, RingFault("no area", (), None)]
    before, after = xy - np.roll(xy, 1, axis=0), np.roll(xy, -1, axis=0) - xy
    spikes = np.flatnonzero(np.abs(turns(before, after)) > 180.0 - SPIKE)
    faults += [RingFault("spike", (_corner_near(ring, int(vertex[i])),), as_xy(xy[i])) for i in spikes]
    return faults + _crossings(ring, xy, vertex, spikes)


def _sound(ring: Ring) -> bool:
    """Whether the ring is a simple polygon with nothing near a fault; where not, each fault is looked for by itself."""
    shape = ring.polygon
    if ring.bad_corners or any(not LEAST_RADIUS <= arc.radius <= LARGEST_RADIUS for arc in ring.arcs):
        return False
    if not shape.area > SAME_POINT * ring.length / 2 or not shapely.is_valid(shape):
        return False
    # how far a vertex is at least from another, and from a side that does not start or end there
    if not shapely.minimum_clearance(shape) > SAME_POINT:
        return False
    steps = [(bx - ax, by - ay) for (ax, ay), (bx, by) in sides_of(ring.points)]
    return not any(
        math.hypot(ux, uy) <= SAME_POINT
        or abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) > math.radians(180.0 - SPIKE)
        for (ux, uy), (vx, vy) in zip(steps, (*steps[1:], steps[0]), strict=True)
    )


def _repeated(ring: Ring) -> list[RingFault]:
    corners = np.flatnonzero(ring.corner >= 0)
    points = shapely.points(ring.xy[corners])
    near = shapely.STRtree(points).query(points, predicate="dwithin", distance=SAME_POINT)
    pairs = sorted((int(i), int(j)) for i, j in near.T if i < j)
    return [RingFault("repeated point", pair, as_xy(ring.xy[corners[pair[1]]])) for pair in pairs]


def _crossings(ring: Ring, xy: Floats, vertex: Ints, spikes: Ints) -> list[RingFault]:
    """Sides that cross or touch, each pair of typed sides once."""
    count = len(xy)
    sides = shapely.linestrings(np.stack([xy, np.roll(xy, -1, axis=0)], axis=1))
    first, second = shapely.STRtree(sides).query(sides, predicate="dwithin", distance=TOUCH)
    apart = (second - first) % count
    keep = (first < second) & (apart != 1) & (apart != count - 1)
    # The sides before and after a spike's two touch it where it begins: that is the spike, told already.
    at_spike = {tuple(sorted(((i - 1) % count, (i + 1) % count))) for i in spikes.tolist()}
    at_spike |= {tuple(sorted(((i - 2) % count, i))) for i in spikes.tolist()}
    found: dict[tuple[int, ...], XY] = {}
    for both in sorted(zip(first[keep].tolist(), second[keep].tolist(), strict=True)):
        at = shapely.get_coordinates(shapely.shortest_line(*sides[list(both)]))[0]
        tips = [np.hypot(*(xy[[i, (i + 1) % count]] - at).T).min() for i in both]
        if both in at_spike or max(tips) <= SAME_POINT:  # corner on corner is told as a repeated point
            continue
        ends = tuple(corner for i in both for corner in _side(ring, int(vertex[i])))
        found.setdefault(ends, as_xy(at))
    return [RingFault("crosses itself", ends, at) for ends, at in found.items()]


def _corner_near(ring: Ring, vertex: int) -> int:
    """The typed corner at a vertex, or the one before it on an arc."""
    while ring.corner[vertex] < 0:
        vertex -= 1
    return int(ring.corner[vertex])


def _side(ring: Ring, vertex: int) -> tuple[int, int]:
    """The typed corners of the side that leaves a vertex."""
    start = _corner_near(ring, vertex)
    return start, (start + 1) % (int(ring.corner.max()) + 1)
