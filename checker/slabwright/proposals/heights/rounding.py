"""Heights on whole steps of the file, judged by the review of the design with them in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from slabwright.design.read import read_text
from slabwright.formulas.units import FOOT, INCH
from slabwright.plan.grades import NewHeight
from slabwright.plan.plan import Plan
from slabwright.proposals.heights import program
from slabwright.proposals.heights.found import Found, found_in
from slabwright.proposals.heights.job import HEIGHT_GROUPS, SAME, Job, left, reviewed
from slabwright.proposals.heights.program import Costs, Floats
from slabwright.proposals.heights.rounds import Settled, costs_of
from slabwright.proposals.heights.slope_rows import IN_PLANE
from slabwright.review import trials
from slabwright.review.report import Report
from slabwright.rulebook.heights import new_heights
from slabwright.source.problem import UnreadableError
from slabwright.text.words import words

FINER = {"ft": (0.005 * FOOT, 0.001 * FOOT), "in": (INCH / 16,), "m": (0.001,), "cm": (0.001,), "mm": (0.001,)}
TRIALS = 6  # ways of rounding that are judged
SECONDS = 1.0  # for the search on whole steps
WARP = "four-corner-warp"  # the rule that tells where a slab folds two ways


def rounded(job: Job, settled: Settled, before: Report, step: float, folds: str) -> Iterator[Found]:
    """The heights on whole steps that the review passes: the first of several ways of rounding that does.

    Where four corners are to lie in a plane, the first on a step that keeps them there, if one does.
    """
    in_plane, second = any(row.group == IN_PLANE for row in settled.rows), None
    design = job.plan.design
    drawn = np.array([spot.height.si for spot in design.heights.finish])
    costs = costs_of(job.plan, settled.on, job.added)
    tried: set[tuple[float, ...]] = set()
    for one in (step, *(finer for finer in FINER[design.height_unit] if finer < step - SAME)):
        for z in _on_steps(settled, drawn, costs, one):
            key = tuple(np.round(z, 7).tolist())
            if key in tried:
                continue
            tried.add(key)
            if len(tried) > TRIALS:
                break
            heights = tuple(
                NewHeight(spot.at.name, float(old), float(new))
                for spot, old, new in zip(design.heights.finish, drawn, z, strict=True)
                if abs(new - old) > SAME
            )
            found = _judged(job, heights, before, folds, settled, float(_cost(z - drawn, costs)))
            if found is not None and not (in_plane and any(one.rule == WARP for one in found.report.comments)):
                yield found
                return
            second = second or found
        if second is not None or len(tried) > TRIALS:
            break
    if second is not None:
        yield second


def _on_steps(settled: Settled, drawn: Floats, costs: Costs, step: float) -> Iterator[Floats]:
    """Heights on whole steps: as the program gives them, asked half a step more, and searched for on the steps."""
    rows = settled.rows
    yield _to_steps(settled.z, drawn, step)
    more = np.array([np.abs(row.terms).sum() * step / 2 if row.sort != "fixed" else 0.0 for row in rows])
    for part in (0.5, 1.0):
        solution = program.least_moved(rows, drawn, costs, elastic=False, least_more=part * more)
        if solution is not None:
            yield _to_steps(solution.z, drawn, step)
    free = np.array([any(abs(row.terms[k]) > SAME for row in rows) for k in range(len(drawn))])
    found = program.on_steps(rows, drawn, costs, settled.z, step, free, SECONDS)
    if found is not None:
        yield found


def _to_steps(z: Floats, drawn: Floats, step: float) -> Floats:
    """The nearest whole steps; a height that stays is left as it is typed."""
    return np.where(np.abs(z - drawn) < SAME, drawn, np.round(z / step) * step)


def _cost(moved: Floats, costs: Costs) -> float:
    return float(np.maximum(moved, 0) @ costs.up + np.maximum(-moved, 0) @ costs.down)


def _judged(
    job: Job, heights: Sequence[NewHeight], before: Report, folds: str, settled: Settled, cost: float
) -> Found | None:
    """The design with new heights in it, if the review of it leaves nothing on heights and water."""
    told = new_heights(job.plan, heights, words("set the heights proposed"))
    edits = told[0].edits if told else ()
    text = trials.edited(job.text, edits, job.plan.design) if edits else None
    if text is None:
        return None
    try:
        design, _ = read_text(job.path, text)
        plan = Plan(design._replace(system=job.plan.system))
    except UnreadableError:
        return None
    own = [rule for rule in job.rules if rule.group in HEIGHT_GROUPS]  # these first: most trials end here
    if left(reviewed(job._replace(rules=own), plan)):
        return None
    report = reviewed(job, plan)
    if left(report) or len(report.crashes) > len(before.crashes):
        return None
    return found_in(before, job, plan, text, report, folds, settled, cost)
