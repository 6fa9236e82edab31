"""Fixed heights two by two: what they ask of the slab between them, whatever its heights are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import permutations
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely

from slabwright.design.model import Fixed
from slabwright.plan.edges import ON_EDGE
from slabwright.plan.things import XY, FixedPair

if TYPE_CHECKING:
    from slabwright.plan.plan import Plan

REACH = 0.61  # m: what stands further from the slab than 2 ft asks nothing of it
HANGING = ("sill", "siding", "weep screed", "damp course")  # the slab is never above these
SHORT = 0.3048  # m: over less than a foot no fall is asked for
SIDE_BY_SIDE = 0.01  # m: two spots nearer to each other are taken this far apart


class _Spot(NamedTuple):
    """A spot of a fixed height, and between which heights it asks the slab to be, m; inf where it asks nothing."""

    fixed: Fixed
    at: XY
    low: float
    high: float
    wall: bool  # it stands at a building
    drains: bool  # water may leave there


def fixed_pairs(plan: Plan) -> tuple[FixedPair, ...]:
    """For every two fixed heights in sight of each other the least fall from one to the other, and the greatest."""
    spots: dict[int, list[_Spot]] = {}
    for fixed in plan.design.fixed:
        spots[id(fixed)] = list(_spots(plan, fixed))
    if len(spots) < 2:
        return ()
    near = plan.slab.buffer(ON_EDGE)
    shapely.prepare(near)
    found: list[FixedPair] = []
    for first, second in permutations(spots.values(), 2):
        pairs = [(p, q) for p in first for q in second if near.covers(shapely.LineString([p.at, q.at]))]
        steep = [(p, q) for p, q in pairs if math.isfinite(p.low - q.high)]
        if steep:
            p, q = max(steep, key=lambda pair: round((pair[0].low - pair[1].high) / _run(*pair), 9))
            found.append(FixedPair(p.fixed, q.fixed, (p.at, q.at), _run(p, q), p.low - q.high, "least"))
        outlets: dict[int, tuple[_Spot, _Spot]] = {}  # the nearest that water can leave at, for each spot at a wall
        for p, q in pairs:
            if p.wall and q.drains and not q.wall and math.isfinite(p.high - q.low) and _run(p, q) > SHORT:
                outlets[id(p)] = min(outlets.get(id(p), (p, q)), (p, q), key=lambda pair: round(_run(*pair), 6))
        if flat := list(outlets.values()):
            p, q = min(flat, key=lambda pair: round((pair[0].high - pair[1].low) / _run(*pair), 9))
            found.append(FixedPair(p.fixed, q.fixed, (p.at, q.at), _run(p, q), p.high - q.low, "most"))
    return tuple(found)


def _run(p: _Spot, q: _Spot) -> float:
    return max(math.dist(p.at, q.at), SIDE_BY_SIDE)


def _spots(plan: Plan, fixed: Fixed) -> Iterator[_Spot]:
    """The points of a fixed height that lie at the slab, brought to it; none where it asks nothing."""
    low, high = (fixed.slab.low, fixed.slab.high) if fixed.slab else (None, None)
    if fixed.slab is None and fixed.kind in HANGING:
        high = 0.0
    if fixed.slab is None and fixed.kind == "gutter":
        low = 0.0
    if low is None and high is None:
        return
    levels = [one.si for one in fixed.height] * (len(fixed.along) if len(fixed.height) == 1 else 1)
    for point, level in zip(fixed.along, levels, strict=True):
        line = shapely.shortest_line(plan.slab, shapely.Point(point.x, point.y))
        if line.length > REACH:
            continue
        x, y = np.asarray(line.coords)[0].tolist()
        pieces = plan.edges_at((x, y))
        yield _Spot(
            fixed,
            (x, y),
            -math.inf if low is None else level + low,
            math.inf if high is None else level + high,
            any(piece.beside == "building" for piece in pieces),
            fixed.kind == "gutter" or any(piece.takes_water and not piece.dams for piece in pieces),
        )
