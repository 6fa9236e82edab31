"""Steel laid out on the plan: bars each way and strips of mesh, clipped to the concrete and cut at joints.

Everything in meters. Bars lie along and across the longest side of the smallest rectangle round the slab. Within each
piece of slab the steel does not cross, they are spread evenly, at most their spacing apart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, ceil, degrees, floor
from typing import Literal, cast

import numpy as np
import shapely
from shapely import affinity

from slabwright.formulas.units import FOOT, INCH
from slabwright.plan.plan import Plan

AtJoints = Literal["stop", "half through", "run through"]

CLEAR_OF_JOINT = {"us": 2 * INCH, "metric": 0.050}  # m: so far from a joint steel stops, `steel-at-joints`
SHORTEST = {"us": FOOT, "metric": 0.300}  # m: shorter pieces of bar are left out, common practice
_HAIR = 1e-6
_RIM = 1e-4  # m that the outermost row of supports is taken inside the rim


@dataclass(frozen=True, slots=True)
class Mat:
    """Runs of bar each way, before laps: length to count."""

    along: Counter[float]
    across: Counter[float]
    pieces: tuple[shapely.Polygon, ...]  # what the steel covers without a break, turned so that bars lie level

    @property
    def runs(self) -> Counter[float]:
        """All runs together."""
        return self.along + self.across


def bar_mat(
    plan: Plan,
    spacing: float,
    ends_short: float,
    at_joints: AtJoints,
    step: float,
    part: shapely.Geometry | None = None,
) -> Mat:
    """The mat of bars of a plan, or of a part of it; lengths are cut down to whole ``step``."""
    pieces = _laid(plan, ends_short, at_joints, part)
    barred = _turned(_clear_of_joints(plan), plan) if at_joints == "half through" else None
    along, across = (_runs(pieces, spacing, way, step, barred, SHORTEST[plan.home]) for way in (False, True))
    return Mat(along, across, pieces)


def _laid(
    plan: Plan, ends_short: float, at_joints: AtJoints, part: shapely.Geometry | None
) -> tuple[shapely.Polygon, ...]:
    """What steel covers without a break, turned: short of the rim of the slab, up to the rim of a part inside it."""
    slab = plan.shape.slab
    steel = shapely.buffer(slab, -ends_short, join_style="mitre") if ends_short > 0 else slab
    if part is not None:
        steel = shapely.intersection(steel, part)
    if at_joints == "stop":
        steel = shapely.difference(steel, _clear_of_joints(plan))
    parts = shapely.get_parts(steel)
    polygons = [one for one in parts if isinstance(one, shapely.Polygon) and one.area > _HAIR]
    return tuple(cast(shapely.Polygon, _turned(one, plan)) for one in polygons)


def _clear_of_joints(plan: Plan) -> shapely.Geometry:
    """The strips along joints that steel which stops at them keeps clear of."""
    return shapely.buffer(plan.joints.lines, CLEAR_OF_JOINT[plan.home], cap_style="flat")


def _turned(shape: shapely.Geometry, plan: Plan) -> shapely.Geometry:
    """A shape turned so that the longest side of the smallest rectangle round the slab lies level."""
    by = -degrees(_bearing(plan.shape.slab))
    return affinity.rotate(shape, by, origin=(0, 0)) if by else shape


def chairs(piece: shapely.Polygon, spacing: float) -> int:
    """Supports under one mat: rows from rim to rim at most ``spacing`` m apart, and along each from end to end alike.

    >>> chairs(shapely.box(0, 0, 12, 10), 4.0)
    16
    """
    low_x, low_y, high_x, high_y = shapely.bounds(piece)
    rows = ceil((high_y - low_y) / spacing - 1e-6) + 1
    lines = [
        [(low_x - 1, y), (high_x + 1, y)] for y in np.linspace(low_y + _RIM, high_y - _RIM, rows)
    ]  # fmt: skip
    runs = shapely.get_parts(shapely.intersection(shapely.linestrings(lines), piece))
    lengths = shapely.length(runs[shapely.get_dimensions(runs) == 1])
    return sum(ceil(length / spacing - 1e-3) + 1 for length in lengths.tolist())


def _bearing(slab: shapely.Polygon) -> float:
    """The direction of the longest side of the smallest rectangle round the slab, radians."""
    ring = shapely.get_coordinates(shapely.minimum_rotated_rectangle(slab))
    sides = np.diff(ring, axis=0)
    longest = sides[int(np.argmax(np.round(np.hypot(sides[:, 0], sides[:, 1]), 6)))]
    return atan2(longest[1], longest[0])


def _runs(
    pieces: Sequence[shapely.Geometry],
    spacing: float,
    across: bool,
    step: float,
    barred: shapely.Geometry | None,
    shortest: float,
) -> Counter[float]:
    """Runs of one way: length to count."""
    lines: list[np.ndarray] = []
    owners: list[int] = []
    for number, piece in enumerate(pieces):
        low_x, low_y, high_x, high_y = shapely.bounds(piece)
        low, high = (low_x, high_x) if across else (low_y, high_y)
        count = ceil((high - low) / spacing - 1e-6) + 1
        places = np.linspace(low + _HAIR, high - _HAIR, count) if count > 1 else np.array([(low + high) / 2])
        for place in places:
            ends = ((place, low_y - 1), (place, high_y + 1)) if across else ((low_x - 1, place), (high_x + 1, place))
            lines.append(np.array(ends))
            owners.append(number)
    if not lines:
        return Counter()
    shapes = np.asarray(pieces, dtype=object)
    shapely.prepare(shapes)
    cut = shapely.intersection(shapely.linestrings(np.array(lines)), shapes[owners])
    if barred is not None:
        cut[1::2] = shapely.difference(cut[1::2], barred)
    found = shapely.get_parts(cut)
    lengths = shapely.length(found[shapely.get_dimensions(found) == 1])
    runs: Counter[float] = Counter()
    for length in lengths[lengths >= shortest - _HAIR]:
        runs[cut_down(float(length), step)] += 1
    return runs


def cut_down(length: float, step: float) -> float:
    """A length cut down to whole steps; what misses one by a hair, or by twice the nudge, counts as whole.

    >>> cut_down(12.0439998, 0.0127)
    12.0396
    """
    return round(floor(length / step + 1e-3) * step, 6)


def mesh_strips(
    plan: Plan,
    width: float,
    lap: float,
    ends_short: float,
    at_joints: AtJoints,
    part: shapely.Geometry | None = None,
) -> tuple[Counter[float], tuple[shapely.Polygon, ...]]:
    """Strips of mesh, ``width`` wide and lapped sideways by ``lap`` (length to count), and the mats they make.

    Each piece of slab is covered by strips along it, as long as it is there; the way that takes fewer meters is kept.
    Sheets that run half through a joint lie whole under it, and every second wire is cut there: :func:`wires_cut`.
    """
    strips: Counter[float] = Counter()
    pieces = _laid(plan, ends_short, at_joints, part)
    for piece in pieces:
        ways = [_strips(piece, width, lap, across) for across in (False, True)]
        strips += min(ways, key=lambda way: sum(length * count for length, count in way.items()))
    return strips, pieces


def wires_cut(plan: Plan, spacing: float) -> int:
    """Wires to cut where sheets run half through the joints: every second one that crosses, ``spacing`` m apart."""
    return sum(ceil(one.length / spacing / 2 - 1e-6) for one in plan.joints.all if one.counts)


def _strips(piece: shapely.Polygon, width: float, lap: float, across: bool) -> Counter[float]:
    low_x, low_y, high_x, high_y = shapely.bounds(piece)
    low, high = (low_x, high_x) if across else (low_y, high_y)
    count = 1 if high - low <= width + 1e-6 else ceil((high - low - lap) / (width - lap) - 1e-6)
    found: Counter[float] = Counter()
    for number in range(count):
        start = low + number * (width - lap)
        band = (start, low_y, start + width, high_y) if across else (low_x, start, high_x, start + width)
        part = shapely.intersection(piece, shapely.box(*band))
        if part.area > _HAIR:
            x0, y0, x1, y1 = shapely.bounds(part)
            found[round(float(y1 - y0 if across else x1 - x0), 4)] += 1
    return found
