"""How far the volume may be off, and the chance of running short: from shots of the base, or published scatter.

With shots the volume is a sum, area for each shot times its depth. Every shot is off by chance, all alike and each on
its own; by how much is read from the shots themselves, as the depth at each lies off the plane through the depths at
its neighbors, so that wide shots on rough ground say more and close shots on smooth ground say less. Volumes are then
drawn with those errors (JCGM 101:2008, recalled), with a fixed seed; for independent errors their spread is that of the
law of propagation (JCGM 100:2008, sec. 5.1.2, recalled): sigma times the root of the sum of the squared areas.

Without shots, cores of real slabs are all there is: their thickness scattered with a standard deviation of 0.47 to
0.90 in (Gustaferro 1989). Each patch of 10 ft by 10 ft is taken to be off as one, by common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np

from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.surface.shot_areas import scatter, shot_areas
from slabwright.geometry.xy import as_xy
from slabwright.plan.plan import Plan

SEED = 20_260
DRAWS, LEAST_DRAWS = 20_000, 2_000
LEAST_SHOTS = 5  # fewer say nothing about scatter
READING = 0.01 * FOOT / sqrt(12)  # m: a rod read to the nearest 0.01 ft is off by that, evenly spread
PUBLISHED = (0.47 * INCH, 0.90 * INCH)  # standard deviation of thickness, m, `gustaferro-1989`
PATCH = (10 * FOOT) ** 2  # m2 that is off as one, `common-practice`
LIKELY = 0.90  # the likely range holds so much of the draws
_AT_ONCE = 2_000_000  # errors drawn at one time, for the sake of memory
_ALTOGETHER = 40_000_000  # errors drawn in all


@dataclass(frozen=True, slots=True)
class Spread:
    """One way of looking at the volume: its likely range, m3, and the chances."""

    name: str
    scatter: float  # standard deviation of depth that it stands on, m
    low: float
    high: float
    short: float  # chance that the ordered volume does not do
    one_more: float  # chance that the trucks it comes in do not hold what is needed


@dataclass(frozen=True, slots=True)
class Risk:
    """Spreads of the net volume; one from shots, or two from published scatter."""

    from_shots: bool
    spreads: tuple[Spread, ...]
    shots: int = 0
    tried: int = 0  # shots compared with their neighbors
    spacing: float = 0.0  # m: side of the square that each shot stands for
    floored: bool = False  # the shots agree better than a rod can be read
    covered: float = 1.0  # share of the slab the shots cover
    draws: int = DRAWS


def drawn(areas: Floats, deviation: float, draws: int | None = None, seed: int = SEED) -> Floats:
    """Errors of the volume (draws,), m3, each drawn with independent normal errors of all shots.

    20,000 draws, or fewer (2,000 at least) with very many shots, whose sum needs fewer to show its spread.
    """
    draws = draws or int(min(DRAWS, max(LEAST_DRAWS, _ALTOGETHER // max(1, len(areas)))))
    rng = np.random.default_rng(seed)
    step = max(1, _AT_ONCE // max(1, len(areas)))
    return np.concatenate(
        [rng.normal(0.0, deviation, (min(step, draws - at), len(areas))) @ areas for at in range(0, draws, step)]
    )


def risk(plan: Plan, losses: float, ordered: float, brought: float) -> Risk:
    """The risk of an order: ``losses`` of the pump, the volume ``ordered`` and what its trucks can bring, all m3."""
    points = np.array([[one.at.x, one.at.y, one.height.si] for one in plan.design.heights.base]).reshape(-1, 3)
    net = plan.concrete.quantities.net
    if plan.concrete.depths is not None and len(points) >= LEAST_SHOTS:
        found, tried = scatter(_depths(plan))
        areas = shot_areas(points, plan.shape.slab)
        deviation = max(found, READING) if tried else READING
        errors = drawn(areas, deviation)
        bare = max(0.0, plan.shape.area - float(areas.sum()))
        errors = errors + _bare_errors(bare, len(errors))
        return Risk(
            True,
            (_spread("shots", deviation, net, errors, losses, ordered, brought),),
            shots=len(points),
            tried=tried,
            spacing=sqrt(float(areas.sum()) / len(points)),
            floored=not tried or found < READING,
            covered=float(areas.sum()) / plan.shape.area,
            draws=len(errors),
        )
    spreads = []
    for name, deviation in zip(("least", "most"), PUBLISHED, strict=True):
        errors = drawn(patches(plan.shape.area), deviation)
        spreads.append(_spread(name, deviation, net, errors, losses, ordered, brought))
    return Risk(False, tuple(spreads))


def _depths(plan: Plan) -> Floats:
    """Shots with the depth of concrete over each in place of its height: a base that follows the finish is smooth."""
    shots = np.array([(one.at.x, one.at.y, one.height.si) for one in plan.design.heights.base]).reshape(-1, 3)
    over = np.array(plan.finish.all_at([as_xy(shot) for shot in shots]), dtype=np.float64)
    depths = np.column_stack([shots[:, :2], over - shots[:, 2]])
    return np.asarray(depths[~np.isnan(depths[:, 2])])


def patches(area: float) -> Floats:
    """The areas, m2, that are off as one: alike, each about 10 ft by 10 ft."""
    count = max(1, round(area / PATCH))
    return np.full(count, area / count)


def _bare_errors(area: float, draws: int) -> Floats:
    """Errors of the part the shots do not cover, by the greater published scatter."""
    if area < 0.01:
        return np.zeros(draws)
    return drawn(patches(area), PUBLISHED[1], draws, SEED + 1)


def _spread(
    name: str, scatter: float, net: float, errors: Floats, losses: float, ordered: float, brought: float
) -> Spread:
    tail = (1 - LIKELY) / 2
    low, high = np.quantile(errors, (tail, 1 - tail))
    needed = net + losses + errors
    return Spread(
        name,
        scatter,
        max(0.0, net + float(low)),
        net + float(high),
        float((needed > ordered).mean()),
        float((needed > brought).mean()),
    )
