"""Heights proposed for a slab: on the folds as drawn, else what clashes there and what other folds would do."""

from __future__ import annotations

from collections.abc import Collection
from itertools import product
from typing import NamedTuple

import numpy as np

from slabwright.plan.plan import Plan
from slabwright.proposals.heights import program
from slabwright.proposals.heights.clash import Clash, clash_of, clash_on_any_folds
from slabwright.proposals.heights.found import AS_DRAWN, Found, found_in, kept_off_street
from slabwright.proposals.heights.held_rows import STREET_LIP
from slabwright.proposals.heights.job import Job, left, movable, reviewed, step_of
from slabwright.proposals.heights.other_folds import alternatives, in_one_plane
from slabwright.proposals.heights.rounding import rounded
from slabwright.proposals.heights.rounds import MISSED, Settled, settle
from slabwright.proposals.heights.slope_rows import IN_PLANE
from slabwright.review.report import Report
from slabwright.review.trials import Bench
from slabwright.source.problem import UnreadableError

SPAN = 4  # any three points lie in a plane


class Proposal(NamedTuple):
    """What the search came to: ways to set the heights, the best first; else what clashes on the folds as drawn."""

    job: str
    before: Report
    found: tuple[Found, ...]
    clash: Clash | None
    kept: bool  # nothing had to move
    step: float


def propose(job: Job) -> Proposal:
    """The heights that pass with the least movement, or what cannot all hold.

    Raises :class:`UnreadableError` without the solver, and for a design whose heights cannot be moved.
    """
    program.solver()
    movable(job)
    before = reviewed(job, job.plan)
    step = step_of(job.plan.design)
    if not left(before):
        at_rest = found_in(before, job, job.plan, job.text, before, AS_DRAWN)
        return Proposal(before.job, before, (at_rest,), None, True, step)
    hopeless = clash_on_any_folds(before, job.plan)
    found, ended = ([], ways(job)) if hopeless else as_drawn(job, before, step)
    clash = None
    if not found:
        clash = clash_of(min(ended, key=lambda one: one.missed), job, hopeless) if ended else None
        plane = clash is None or not clash.proven
        found = [] if hopeless else alternatives(job, before, step, plane)
    elif bumps(job.plan) and not kept_off_street(found[0]):
        found += [one for one in alternatives(job, before, step) if kept_off_street(one)]
    # by what they take of digging, by the prices of the file if they are there
    found.sort(
        key=lambda one: (
            len(one.brings),
            not kept_off_street(one),
            round(one.earth.weighed, 4),
            round(one.cost, 6),
            one.folds,
        )
    )
    return Proposal(before.job, before, tuple(found), clash, False, step)


def fewer(bench: Bench, report: Report) -> Found | None:
    """Heights on the folds as drawn that leave fewer holds and cautions than a review, and no more holds.

    None where it leaves none on heights and water, where none are found, and without the solver.
    """
    job = Job(bench.path, bench.text, bench.plan, bench.rules, bench.limits)
    if not left(report) or clash_on_any_folds(report, job.plan):
        return None
    try:
        program.solver()
        movable(job)
    except UnreadableError:
        return None
    found, _ = as_drawn(job, report, step_of(job.plan.design))
    heavy = report.holds + report.counted("caution")
    for one in found:
        if one.report.holds <= report.holds and one.report.holds + one.report.counted("caution") < heavy:
            return one
    return None


def as_drawn(job: Job, before: Report, step: float) -> tuple[list[Found], list[Settled]]:
    """The best heights on the folds as drawn, if any, and where each search ended.

    The search starts from the falls as drawn, and from the ways out of the water; of both the one that moves less.
    A slab drawn in one plane stays in one where that can be, and four corners do, so that nothing folds two ways. Where
    nothing holds over the base as it was shot, the base is left out, and has to be prepared again.
    """
    found = in_one_plane(job, before, step) if is_plane(job.plan) else []
    if found:
        return found, []
    ended: list[Settled] = []
    wishes = [(IN_PLANE, STREET_LIP), (STREET_LIP,), ()] if job.plan.finish.folds else [(STREET_LIP,), ()]
    wishes = wishes if bumps(job.plan) else [tuple(one for one in kept if one != STREET_LIP) for kept in wishes[:-1]]
    for on_base, kept in product((True, False) if job.plan.design.heights.base else (True,), wishes):
        for settled in ways(job, on_base, kept):
            if IN_PLANE not in kept:
                ended.append(settled)
            dearer = found and settled.solution.cost > found[0].cost - step
            if settled.missed < MISSED and not dearer:
                found += rounded(job, settled, before, step, AS_DRAWN)
        if found:
            break
    return sorted(found, key=lambda one: (len(one.brings), one.cost))[:1], ended


def ways(job: Job, on_base: bool = True, wishes: Collection[str] = ()) -> list[Settled]:
    """Where the rounds end that start from the falls as drawn, and those that start from the ways out."""
    ended = (settle(job, by_drawn, on_base, wishes=wishes) for by_drawn in (True, False))
    return [one for one in ended if one is not None]


def is_plane(plan: Plan) -> bool:
    """Whether the slab is drawn in one plane, without a fold, to half a step of its heights."""
    spots = plan.design.heights.finish
    if plan.design.heights.lines or len(spots) < SPAN:
        return False
    at = np.array([(spot.at.x, spot.at.y, 1.0) for spot in spots])
    z = np.array([spot.height.si for spot in spots])
    return float(np.abs(at @ np.linalg.lstsq(at, z, rcond=None)[0] - z).max()) <= plan.finish.give


def bumps(plan: Plan) -> bool:
    """Whether wheels come up from a street whose height is known, onto an edge that is no planned step."""
    return any(
        piece.beside == "street" and piece.wheels_cross and piece.ground
        and not (piece.edge and piece.edge.planned_step)
        for piece in plan.edges.pieces
    )  # fmt: skip
