"""Rounds of linear programs: heights that keep all that is asked of the surface of the round before.

Each round looks at the surface of the last one: which way its parts fall, which way water leaves, which falls lie
before a wall. It asks all of that of the heights at once, moves them the least, and looks again.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

import numpy as np

from slabwright.design.model import Design
from slabwright.geometry import GeometryError
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.xy import XY
from slabwright.plan.plan import Plan
from slabwright.proposals.heights import asked, program, water_rows
from slabwright.proposals.heights.asking import Asking
from slabwright.proposals.heights.carried import Carried, carried, with_heights
from slabwright.proposals.heights.earth import dig_over_fill
from slabwright.proposals.heights.held_rows import BASE, STREET_LIP
from slabwright.proposals.heights.job import SAME, Job
from slabwright.proposals.heights.program import Costs, Floats, Row, Solution
from slabwright.proposals.heights.slope_rows import IN_PLANE
from slabwright.proposals.heights.ways_out import ways_out

ROUNDS = 8
MISSED = 5e-4  # m: what all rows together miss by less is rounding
FIRM = ("building", "existing slab", "asphalt", "street")
HELD = 3.0  # a form in the lawn is moved sooner than a height at a door
FREE = 0.001  # what moving a point costs that the drawing did not have
WISHES = (IN_PLANE, STREET_LIP)


class Settled(NamedTuple):
    """Where the rounds ended: the heights, what was asked in the last round, and what of it they miss, m."""

    z: Floats
    rows: tuple[Row, ...]
    solution: Solution
    on: Carried
    missed: float


def settle(
    job: Job,
    by_drawn: bool,
    on_base: bool = True,
    flat: bool = False,
    rounds: int = ROUNDS,
    wishes: Collection[str] = (STREET_LIP,),
    give_up: bool = False,
) -> Settled | None:
    """Rounds of elastic programs from the heights as drawn, until a round changes nothing; the best round of all.

    The first round lets parts fall as drawn (``by_drawn``), or as the way out leads; ``flat`` asks for one plane,
    ``wishes`` are groups of rows that are asked though the rules only note them. ``give_up`` ends them at a round in
    which no surface on these folds could do it.
    """
    free = {*(() if on_base else (BASE,)), *(one for one in WISHES if one not in wishes)}
    drawn = np.array([spot.height.si for spot in job.plan.design.heights.finish])
    plan, on, best = job.plan, carried(job.plan), None
    widened: frozenset[str] = frozenset()
    crests: list[XY] = []
    for number in range(rounds):
        if on is None:
            break
        try:
            asking = Asking(plan, job.limits, on)
            ways = ways_out(asking, by_drawn or number > 0)
            crest = water_rows.crest_of(asking)
            over = crests if crest is None or crest in crests else [*crests, crest]
            rows = tuple(row for row in asked.rows(asking, ways, widened, over) if row.group not in free)
            rows = (*rows, *_in_one_plane(job.plan.design)) if flat else rows
            crests = over if number else []  # the crest as drawn says nothing of where it will be
            solution = program.least_moved(rows, drawn, costs_of(plan, on, job.added))
            if solution is None:
                break
            if number > 2:
                widened |= ways.wet
            missed = float(np.maximum(solution.misses - program.MISSED, 0.0).sum())
            settled = Settled(solution.z, rows, solution, on, missed)
            if give_up and clashes(settled):
                return settled if best is None else best
            design = with_heights(job.plan.design, solution.z.tolist())
            now = job.plan.edited(design, {"heights"})
            then, on = on, carried(now, on)
        except GeometryError:
            break
        stays = on is not None and _alike(then.surface, on.surface)
        if best is None or missed <= best.missed + SAME:
            best = settled
        plan = now
        if stays:
            break
    return best


def _alike(one: Surface, other: Surface) -> bool:
    """Whether two surfaces have the same facets at the same heights."""
    same = np.array_equal(one.mesh.triangles, other.mesh.triangles)
    return same and float(np.abs(one.z - other.z).max()) < 1e-5


def clashes(settled: Settled) -> bool:
    """Whether no surface on the folds of a round could do it, whichever way its parts fall."""
    if settled.missed < MISSED:
        return False
    return not program.feasible([row for row in settled.rows if row.sure], settled.z)


def _in_one_plane(design: Design) -> Iterator[Row]:
    """Every point in the plane through three of them that lie far apart."""
    xy = np.array([(spot.at.x, spot.at.y) for spot in design.heights.finish])
    first = int(np.argmin(xy @ np.array([1.0, 1.0])))
    second = int(np.argmax(np.hypot(*(xy - xy[first]).T)))
    way = xy[second] - xy[first]
    third = int(np.argmax(np.abs((xy - xy[first]) @ np.array([-way[1], way[0]]))))
    corners = [first, second, third]
    matrix = np.vstack([xy[corners].T, np.ones(3)])
    if abs(np.linalg.det(matrix)) < SAME:
        return
    for k, at in enumerate(xy):
        if k not in corners:
            terms = np.zeros(len(xy))
            terms[corners] = np.linalg.solve(matrix, np.array([*at, 1.0]))
            terms[k] = -1.0
            yield Row("one plane", "asked", terms, 0.0)
            yield Row("one plane", "asked", -terms, 0.0)


def costs_of(plan: Plan, on: Carried, added: Sequence[str] = ()) -> Costs:
    """What moving each point costs: thrice at a building, street or old slab, for which the heights there were set.

    With the ground before digging known, a point weighs as the slab round it, and digging more than filling.
    """
    firm = [piece for piece in plan.edges.pieces if piece.beside in FIRM]
    spots = plan.design.heights.finish
    at_firm = np.array([any(piece in firm for piece in plan.edges.at((s.at.x, s.at.y))) for s in spots])
    held = np.where(at_firm, HELD, 1.0) * np.array([FREE if s.at.name in added else 1.0 for s in spots])
    if not plan.design.heights.existing:
        return Costs(held, held)
    surface = on.surface
    round_vertex = np.zeros(len(surface.z))
    for corner in range(3):
        np.add.at(round_vertex, surface.mesh.triangles[:, corner], surface.areas / 3)
    weight = np.abs(on.terms).T @ round_vertex
    weight = held * np.maximum(weight / max(float(weight.mean()), 1e-9), 0.05)
    return Costs(weight, weight * dig_over_fill(plan))
