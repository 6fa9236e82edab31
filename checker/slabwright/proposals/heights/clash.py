"""What cannot all hold: by the rule on fixed heights, and by the rows of the last round."""

from __future__ import annotations

from itertools import product
from typing import NamedTuple

import numpy as np

from slabwright.geometry.surface.diagonals import on_circle, quads
from slabwright.plan.fixed import HANGING
from slabwright.plan.plan import Plan
from slabwright.proposals.heights import asked, program
from slabwright.proposals.heights.asking import Asking
from slabwright.proposals.heights.carried import carried, with_heights
from slabwright.proposals.heights.job import Job
from slabwright.proposals.heights.rounds import Settled
from slabwright.proposals.heights.ways_out import ways_out
from slabwright.review.report import Comment, Report

FREE_FOLDS = 3  # of four points each, up to which every way to fold is judged
AGREE = "fixed-heights-agree"  # the rule that tells what clashes on any surface, and its limits that are aside
BY_VALLEY = ("away_at_least", "plain_away_at_least", "valley_at_least")
ON_BASE = (
    "door_step_at_most", "short_over_base_at_most", "old_slab_lip_at_most", "public_lip_at_most", "wheel_lip_at_most",
    "old_step_at_most", "lip_at_least", "out_at_least", "room_to_fall_at_least",
)  # fmt: skip


class Change(NamedTuple):
    """The cheapest single change of a fixed height that would let all rows hold: above zero raised, m."""

    name: str
    by: float


class Clash(NamedTuple):
    """What cannot all hold: the groups, how much is short, m, and whether that is proven."""

    groups: tuple[str, ...]
    short: float
    proven: bool
    change: Change | None
    on_any_folds: bool  # no heights do it on other folds either


def clash_of(settled: Settled, job: Job, on_any_folds: bool = False) -> Clash | None:
    """What cannot all hold in the last round, how much is short, and the cheapest fixed height to change."""
    rows, drawn = settled.rows, settled.z
    # what clashes whichever way parts are let fall is told first
    certain = [row for row in rows if row.sure]
    sure = program.smallest_clash(certain, drawn)
    groups = sure or program.smallest_clash(rows, drawn)
    if not groups:
        return None
    clashing = program.of_groups(certain if sure else rows, groups)
    shifts = {
        name: by
        for name in dict.fromkeys(row.group for row in rows if row.sort == "fixed")
        if name not in _kept_by_law(job.plan) and (by := program.least_shift(rows, drawn, name)) is not None
    }
    hung = {fixed.name for fixed in job.plan.design.fixed if fixed.kind in HANGING}
    shifts = {name: by for name, by in shifts.items() if by < 0 or name not in hung}  # a threshold is only cut down
    name = min(shifts, key=lambda one: (round(abs(shifts[one]), 6), one in hung), default=None)
    change = Change(name, shifts[name]) if name is not None else None
    alone = [
        by
        for one in groups
        if any(row.sort == "fixed" for row in clashing if row.group == one)
        and (by := program.least_shift(clashing, drawn, one)) is not None
    ]
    short = min(map(abs, alone), default=program.least_miss(clashing, drawn))
    return Clash(groups, short, bool(sure) and _proven(job, settled), change, on_any_folds)


def _proven(job: Job, settled: Settled) -> bool:
    """Whether what no surface could do without clashes on every way in which the drawn points can fold.

    Four points on one circle fold either way, by their heights. Each such choice is judged; more than three are not.
    """
    mesh = settled.on.surface.mesh
    held = {tuple(sorted(side)) for side in mesh.held.tolist()}
    _, _, corners = quads(mesh.triangles, mesh.neighbors)
    free = [
        quad
        for quad, round_ in zip(np.stack(corners, axis=1).tolist(), on_circle(mesh.xy, corners).tolist(), strict=True)
        if round_ and tuple(sorted(quad[:2])) not in held
    ]
    if len(free) > FREE_FOLDS:
        return False
    seen = set()
    for choice in product((0, 1), repeat=len(free)):
        z = settled.z.copy()
        for quad, other in zip(free, choice, strict=True):
            low = quad[2:] if other else quad[:2]
            z[np.abs(settled.on.terms[low]).argmax(axis=1)] -= 1.0
        plan = job.plan.edited(with_heights(job.plan.design, z.tolist()), {"heights"})
        on = carried(plan)
        if on is None:
            return False
        seen.add(on.surface.mesh.triangles.tobytes())
        asking = Asking(plan, job.limits, on)
        rows = [row for row in asked.rows(asking, ways_out(asking, as_drawn=True)) if row.sure]
        if program.feasible(rows, settled.z):
            return False
    return bool(len(seen) == 2 ** len(free))


def _kept_by_law(plan: Plan) -> set[str]:
    """Fixed heights that no proposal touches: of a required exit, an accessible way, a street, what hangs on a wall."""
    route = plan.design.site.accessible_route
    kept = {one.name for one in plan.fixtures.all if one.fixture.required_exit}
    kept |= {one.name for one in plan.held.all if not one.moves}
    ends = [(end.x, end.y) for end in (route[:1] + route[-1:])]
    pieces = [piece for at in ends for piece in plan.edges.at(at)]
    kept |= {piece.edge.name for piece in pieces if piece.edge and piece.edge.name}
    return kept


def clash_on_any_folds(report: Report, plan: Plan) -> bool:
    """Whether fixed heights clash on every surface, by the rule that decides it: no heights pass, on no folds.

    What it asks before walls and along valleys is left aside, which a valley may settle; so is the base as it was
    shot, and what is asked on top of it: it can be prepared again.
    """
    aside = BY_VALLEY if not plan.design.heights.base else (*BY_VALLEY, *ON_BASE)
    return any(one.limit.name not in aside for one in _agreements(report))


def off_walls_clash(report: Report) -> bool:
    """Whether fixed heights leave no room for the fall away from a wall that no low line is drawn before."""
    return any(one.limit.name in BY_VALLEY for one in _agreements(report))


def _agreements(report: Report) -> list[Comment]:
    """What the rule on fixed heights says, but for notes and variances."""
    return [one for one in report.comments if one.rule == AGREE and one.weight != "note" and one.variance is None]
