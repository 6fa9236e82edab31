"""Outdoors every part of the slab falls somewhere, steeply enough that water does not lie on it.

What is compared
    The slope straight downhill of every part of the finish surface, across and along put together, with 0.5 % and
    with 1 %. Parts that touch are told as one. Folds under 1 ft2 are left out.
Why it matters
    Water needs a fall to leave. A screed is good to about 1/4 in, and on a flat slab that is enough to turn the fall
    round: two years later there are rings of dirt where the puddles dry, green patches, and ice every clear morning.
When it does not apply
    Floors under a roof. `site.outdoors` says so where the use does not tell.
How to put it right
    Lower the low side, not both. Where the heights around leave no room, fold the slab: a valley halves the way.
    Half a percent across and half along make 0.7 % and not 1 %.
Where sources differ
    An Army parking tutorial gives 0.5 % as the lowest grade of concrete, a guide for parking areas asks 1 %, flatwork
    texts 1/8 in/ft as least and 1/4 in/ft as better. The lowest published value is the hold, the usual one the caution.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.plan.plan import Plan
from slabwright.plan.things import FallPart
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    does_not_apply,
    heights_not_shown,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, slope

TITLE = "Fall enough everywhere outdoors"
LIMITS = (
    Limit("slope_at_least", "0.5 %", Kind.SLOPE, "hold", Cite("sddc-tea-parking"), ("0.2 %", "3 %"),
          "slope of any part of the slab"),
    Limit("usual_slope_at_least", "1 %", Kind.SLOPE, "caution", Cite("pca-parking-guide"), ("0.3 %", "4 %"),
          "slope of any part of the slab that drains without trouble"),
)  # fmt: skip
WORKED = (
    Worked("0.5 % and 0.5 % at right angles", slope(0.0071), lambda: slopes.combined_slope(0.005, 0.005), 0.00005,
           Cite("trade-qa-combined-slopes"), "wa-vector-half-half"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """Rain falls on it, and every corner has a height."""
    if not plan.outdoors:
        return does_not_apply("no rain falls on it")
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each part that is too flat, under the heaviest limit it breaks."""
    hold, usual = limits.slope_at_least, limits.usual_slope_at_least
    names, lightest = ("slope_at_least", "usual_slope_at_least"), max(hold, usual, key=lambda limit: limit.value.si)
    for limit in (hold, usual):
        for part in plan.falls.parts(lambda s: limits.broken(s, *names) is limit):
            yield _finding(plan, part, limit, lightest.value.si)
    for part in plan.falls.parts(lambda s: limits.broken(s, *names) is None):
        yield Margin(Spot(part.name, plan.place("heights.finish"), part.outline), slope(part.least), lightest)


def _finding(plan: Plan, part: FallPart, limit: InForce, asked: float) -> Finding:
    at, shown, run = Spot(part.name, plan.place("heights.finish"), part.outline), slope(part.least), length(10 * 0.3048)
    drop, least = depth(slopes.fall(run.si, part.least)), depth(slopes.fall(run.si, asked))
    return Finding(
        at=at,
        says=words("water lies on {part}: it hardly falls", part=at.name),
        shown=shown,
        limit=limit,
        working=(step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run), drop),),
        to_pass=write_heights(
            plan.grades.for_part(part, asked, least=True),
            words("let {part} fall {least} in {run} at least", part=at.name, least=least, run=run),
        ),
    )
