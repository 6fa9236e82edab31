"""Outdoors every part of the slab falls somewhere, steeply enough that water does not lie on it.

What is compared
    Compares the slope straight downhill of every part of the finish surface, across and along put together, with 0.5 %
    and with 1 %. A fall that misses by a twentieth, or by half a step of the heights as typed, is met. Parts that touch
    are told as one. Folds under 1 ft2 are left out.
Why it matters
    Water needs a fall to leave. A screed is good to about 1/4 in, and on a flat slab that is enough to turn the fall
    round: two years later there are rings of dirt where the puddles dry, green patches, and ice every clear morning.
When it does not apply
    The floor lies under a roof. `site.outdoors` says so where the use does not tell.
How to put it right
    Lower the low side, not both. Where the heights around leave no room, fold the slab: a valley halves the way.
    Half a percent across and half along make 0.7 % and not 1 %.
Where sources differ
    An Army parking tutorial gives 0.5 % as the lowest grade of concrete, a guide for parking areas asks 1 %, flatwork
    texts 1/8 in/ft as least and 1/4 in/ft as better. The lowest published value is the hold, the usual one the caution.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "Fall enough everywhere outdoors"
LIMITS = (
    Limit("slope_at_least", "0.5 %", Kind.SLOPE, "hold", Cite("sddc-tea-parking"), ("0.2 %", "3 %"),
          "slope of any part of the slab"),
    Limit("usual_slope_at_least", "1 %", Kind.SLOPE, "caution", Cite("pca-parking-guide"), ("0.3 %", "4 %"),
          "slope of any part of the slab that drains without trouble"),
)  # fmt: skip
WORKED = (
    Worked("fall of 10 ft at 1/8 in in a foot", depth(1.25 * INCH), lambda: slopes.fall(10 * FOOT, 0.125 / 12), 1e-9,
           Cite("trade-qa-fall"), "wa-fall-10-eighth"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each part that is too flat, under the heaviest limit it breaks."""
    must_shed_rain(plan)
    needs_heights(plan)
    run, lightest = (
        length(3.0 if plan.home == "metric" else 10 * FOOT),
        max(limits.values(), key=lambda limit: limit.value.si),
    )
    least = on_tape(plan, slopes.fall(run.si, lightest.value.si), up=True)
    for part in _parts(plan, limits):
        at, shown = Spot(part.name, plan.place("heights.finish"), part.outline), slope(part.least)
        limit = broken_fall(plan, part.least, part.run, limits.slope_at_least, limits.usual_slope_at_least)
        yield compare(
            at, shown, limit, give=fall_give(plan, limit.value, part.run),
            says=lambda: words("water lies on {part}: it hardly falls", part=at.name),
            working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                                 depth(slopes.fall(run.si, part.least))),
            remedy=lambda: lowered(plan, plan.grades.for_part(part, lightest.value.si, least=True)),
            decide=lambda: words("let {part} fall {least} over {run} at least", part=at.name, least=least, run=run),
        )  # fmt: skip


def _parts(plan: Plan, limits: Limits) -> Sequence[FallPart]:
    """Parts of the slab, by the limit that they break."""
    names = ("slope_at_least", "usual_slope_at_least")
    parts: list[FallPart] = []
    for limit in (*map(limits.__getitem__, names), None):
        parts += plan.falls.parts(lambda s: limits.broken(s, *names) is limit, plan.shedding)
    return parts or does_not_apply("each part of it is smaller than {1 ft2|0.1 m2}")
