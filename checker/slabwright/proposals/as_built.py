"""Whether a slab that is built within its tolerance still drains: many plausible surfaces, each with its puddles.

The design plus the waves that a screed leaves, scaled to the gap under a straightedge; see ``docs/deciding.md``.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.surface.waves import fields, gap_of_waves
from slabwright.geometry.water.grid_flood import levels
from slabwright.plan.plan import Plan

Floats = NDArray[np.float64]

SURFACES: Final = 200
SELDOM: Final = 0.05  # chance of a puddle that is let be
FINEST: Final = 0.1524  # m, 6 in: side of the cells of the grid
MOST_CELLS: Final = 12_000  # a larger slab has larger cells
STEEPEST: Final = 4.0  # times as steep as drawn is the most that is tried
NEAR: Final = 1.524  # m: puddles that near to each other are told as one place
TOLD: Final = 3  # places


class Measures(NamedTuple):
    """What counts, in the round numbers of one system."""

    gap: float  # under a straightedge, usually, m
    deep: float  # m: water deeper than this counts
    puddle: float  # m2: more of it than this is a puddle


MEASURES: Final = {
    # 1/4 in for a flat floor, `aci-117-10-recalled`, Table 4.8.6.1; outdoor walks are asked 1/4 in too
    "us": Measures(INCH / 4, INCH / 8, FOOT**2),
    "metric": Measures(0.006, 0.003, 0.1),
}


class Puddled(NamedTuple):
    """A place where water may stand."""

    at: tuple[float, float]
    chance: float  # that its worst spot is under water
    area: float  # expected, within 5 ft, m2


class AsBuilt(NamedTuple):
    """What many surfaces say of one design."""

    surfaces: int
    measures: Measures
    gap: float  # under a straightedge of 10 ft, kept in nine places of ten, m
    seed: int
    cell: float  # side of the cells, m
    drawn: float  # area under water as drawn, without any wave, m2
    chance: float  # of a puddle, anywhere on the slab
    area: float  # expected, m2
    places: tuple[Puddled, ...]  # the likeliest first
    fall: float | None  # the flattest fall as drawn, None where the slab is level
    steeper: float | None  # times as steep as drawn makes a puddle seldom; None: not even STEEPEST times does
    origin: tuple[float, float]  # the middle of the first cell of the map
    map: Floats  # (rows, columns): chance that a cell is under water, nan beside the slab

    @property
    def error(self) -> float:
        """Standard error of the chance; where none of the surfaces has a puddle, 3 in so many is what it may be."""
        spread = math.sqrt(self.chance * (1 - self.chance) / self.surfaces)
        return max(spread, 3 / self.surfaces if self.chance in (0.0, 1.0) else 0.0)


class _Grid(NamedTuple):
    """The slab in cells: heights (rows, columns), inf beside it, and how far above a cell water leaves from it."""

    origin: tuple[float, float]
    cell: float
    heights: Floats
    lips: Floats  # -inf where water leaves freely, inf where it may not leave


def as_built(plan: Plan, gap: float | None = None, surfaces: int = SURFACES, seed: int = 1) -> AsBuilt | None:
    """The chance and the area of puddles on a design with ``gap`` (m) under a straightedge; None without heights.

    ``surfaces`` plausible surfaces are flooded. The same seed makes the same surfaces.
    """
    grid = _grid(plan)
    if grid is None:
        return None
    measures = MEASURES[plan.system]
    gap = measures.gap if gap is None else gap
    rng = np.random.default_rng(seed)
    waves = fields(grid.heights.shape, grid.cell, surfaces, rng) * (gap / gap_of_waves(rng))
    inside = np.isfinite(grid.heights)
    wet = _wet(grid, waves, 1.0, measures.deep)
    areas = wet.sum(axis=(1, 2)) * grid.cell**2
    chance, shares = float((areas > measures.puddle).mean()), wet.mean(axis=0)
    parts = plan.falls.parts(lambda slope: True)
    return AsBuilt(
        surfaces,
        measures,
        gap,
        seed,
        grid.cell,
        float(_wet(grid, np.zeros((1, *grid.heights.shape)), 1.0, measures.deep).sum() * grid.cell**2),
        chance,
        float(areas.mean()),
        _places(grid, shares),
        min((part.least for part in parts), default=None),
        1.0 if chance <= SELDOM else _steeper(grid, waves, measures),
        grid.origin,
        np.where(inside, shares, np.nan),
    )


def _wet(grid: _Grid, waves: Floats, times: float, deep: float) -> NDArray[np.bool_]:
    """Which cells of each surface stand under more than ``deep``, with the design ``times`` as steep."""
    inside = np.isfinite(grid.heights)
    top = grid.heights[inside].max()
    heights = np.where(inside, top + (grid.heights - top) * times, np.inf) + waves
    exits = np.where(np.isfinite(grid.lips), heights + np.maximum(grid.lips, 0.0), grid.lips)
    found = levels(heights, exits)
    with np.errstate(invalid="ignore"):  # inf - inf beside the slab
        return np.asarray(inside & (found - heights > deep))


def _steeper(grid: _Grid, waves: Floats, measures: Measures) -> float | None:
    """The least number of times as steep that makes a puddle seldom, to a twentieth."""

    def seldom(times: float) -> bool:
        areas = _wet(grid, waves, times, measures.deep).sum(axis=(1, 2)) * grid.cell**2
        return float((areas > measures.puddle).mean()) <= SELDOM

    if not seldom(STEEPEST):
        return None
    low, high = 20, round(STEEPEST * 20)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if seldom(middle / 20) else (middle, high)
    return high / 20


def _grid(plan: Plan) -> _Grid | None:
    surface, rim, slab = plan.finish.surface, plan.water.rim, plan.shape.slab
    if surface is None or rim is None:
        return None
    x0, y0, x1, y1 = slab.bounds
    cell = max(FINEST, math.sqrt((x1 - x0) * (y1 - y0) / MOST_CELLS))
    columns, rows = max(math.ceil((x1 - x0) / cell), 1), max(math.ceil((y1 - y0) / cell), 1)
    first = x0 + cell / 2, y0 + cell / 2
    xs, ys = np.meshgrid(first[0] + cell * np.arange(columns), first[1] + cell * np.arange(rows))
    xy = np.column_stack([xs.ravel(), ys.ravel()])
    shapely.prepare(slab)
    known = np.full(len(xy), np.inf)
    within = shapely.intersects_xy(slab, xy[:, 0], xy[:, 1])
    known[within] = surface.height(xy[within])
    known[np.isnan(known)] = np.inf
    cells = np.flatnonzero(np.isfinite(known))
    if not len(cells):
        return None
    lips = np.full(len(xy), np.inf)
    tree = shapely.STRtree(shapely.points(xy[cells]))
    for row in np.flatnonzero(rim.exit >= 0).tolist():
        ends, ground = surface.mesh.xy[rim.edges[row]], rim.ground[row]
        count = max(2, math.ceil(float(np.hypot(*(ends[1] - ends[0]))) / (cell / 2)))
        share = (np.arange(count) + 0.5)[:, None] / count
        near = cells[tree.nearest(shapely.points(ends[0] * (1 - share) + ends[1] * share))]
        finish = surface.z[rim.edges[row]]
        over = np.where(np.isneginf(ground), -np.inf, ground - finish)
        with np.errstate(invalid="ignore"):
            lip = (
                over[0] * (1 - share[:, 0]) + over[1] * share[:, 0] if np.isfinite(over).all() else np.full(count, 0.0)
            )
        np.minimum.at(lips, near, np.maximum(lip, 0.0))
    for fixture in plan.design.fixtures:
        if fixture.kind == "drain" and fixture.at is not None:
            away = np.hypot(xy[:, 0] - fixture.at.x, xy[:, 1] - fixture.at.y)
            lips[(away < 1.5 * cell) & np.isfinite(known)] = 0.0
    for channel in plan.channels.all:
        near = shapely.dwithin(shapely.LineString(channel.line), shapely.points(xy), 0.75 * cell)
        lips[near & np.isfinite(known)] = 0.0
    shape = rows, columns
    return _Grid(first, cell, known.reshape(shape), lips.reshape(shape))


def _places(grid: _Grid, shares: Floats) -> tuple[Puddled, ...]:
    """The likeliest cells, each with what may stand within 5 ft of it."""
    left = shares.copy()
    ys, xs = np.indices(shares.shape)
    found: list[Puddled] = []
    while len(found) < TOLD and left.max(initial=0.0) > 0.0:
        row, column = np.unravel_index(int(np.argmax(left)), left.shape)
        near = np.hypot(ys - row, xs - column) * grid.cell <= NEAR
        at = grid.origin[0] + float(column) * grid.cell, grid.origin[1] + float(row) * grid.cell
        found.append(Puddled(at, float(shares[row, column]), float(left[near].sum()) * grid.cell**2))
        left[near] = 0.0
    return tuple(found)
