"""Heights proposed for a slab: on the folds as drawn, else what clashes there and what other folds would do."""

from __future__ import annotations

from typing import NamedTuple

from slabwright.proposals import program
from slabwright.proposals.height_search import (
    AS_DRAWN,
    Clash,
    Found,
    Job,
    as_drawn,
    bumps,
    clash_of,
    clash_on_any_folds,
    found_in,
    kept_off_street,
    left,
    movable,
    reviewed,
    step_of,
    ways,
)
from slabwright.proposals.other_folds import alternatives
from slabwright.review.report import Report


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
        at_rest = found_in(before, job, job.plan, job.text, before, (), AS_DRAWN, None)
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
