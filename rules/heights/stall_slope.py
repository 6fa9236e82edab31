"""An accessible parking stall and its aisle are level enough, whichever way one goes on them.

What is compared
    Compares the slope straight downhill of the steepest part of the finish within each stall under `stalls`, and
    within its access aisle, with 1 in 48. A fall along and one across are put together: 1.5 % each way make 2.12 %.
    There is no give.
Why it matters
    A chair is lifted out of the car, opened, and stands unbraked while its owner slides over. On a slope it rolls off,
    sideways as well as along. The inspector lays a level on the stall in every direction, and many are torn out for
    a fall that nobody saw.
When it does not apply
    No stall is drawn.
How to put it right
    Draw one plane over stall and aisle, 1.5 % at most straight downhill; the screed takes the rest. Let the fold run
    round them, and take up the fall beyond.
Where sources differ
    The standards allow no change of level but this slope, 2.083 %, which the trade also writes as 1/4 in/ft. A lot
    drains at 1 %, so there is room between the two.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "An accessible stall is level every way"
LIMITS = (
    Limit("slope_at_most", "1:48", Kind.SLOPE, "hold", Cite("ada-2010", "502.4"), ("1 %", "4 %"),
          "slope straight downhill of any part of an accessible stall or its aisle"),
)  # fmt: skip
WORKED = (
    Worked("1 in 48 as a percentage", slope(0.02083), lambda: slopes.slope(1, 48), 0.00001, Cite("ada-2010", "502.4")),
)
DRAWN = 0.015  # what is advised: the screed keeps within 1:48 then (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The steepest place of each stall and of each aisle; an aisle between two stalls is told once."""
    if not plan.stalls.all:
        does_not_apply("no accessible stall is drawn (stalls)")
    needs_heights(plan)
    told: set[tuple[XY, ...]] = set()
    for stall in plan.stalls.all:
        for part in stall.parts:
            if part.ring not in told and part.name in plan.stalls.steepest:
                told.add(part.ring)
                yield _compared(plan, stall, part, limits.slope_at_most)


def _where(plan: Plan, at: XY | None) -> str:
    return f": it falls most at {plan.shape.name_at(at)}" if at else ""


def _compared(plan: Plan, stall: PlannedStall, part: StallPart, limit: InForce) -> Finding | Margin:
    steepest = plan.stalls.steepest[part.name]
    shown, run = slope(steepest.slope), length(3.0 if plan.home == "metric" else 10 * FOOT)
    aim = min(DRAWN, limit.value.si)
    return compare(
        Spot(part.name, stall.stall.place, part.ring), shown, limit,
        says=lambda: words("{part} is steep for a wheelchair{place}", part=part.name, place=_where(plan, steepest.at)),
        working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                             depth(slopes.fall(run.si, shown.si))),
        remedy=lambda: _flatter(plan, steepest, (aim, limit.value.si)),
        decide=lambda: words("let {part} fall {most} over {run} at most, along and across put together",
                             part=part.name, run=run, most=on_tape(plan, slopes.fall(run.si, aim), up=False)),
    )  # fmt: skip


def _flatter(plan: Plan, steepest: Steepest, aims: Sequence[float]) -> list[Remedy]:
    """All that lies as steep made flatter together, about its highest point or its lowest; or the part alone."""
    facets, grades = steepest.facets, plan.grades
    ways = [grades.flatter(facets, most, low) for low in (False, True) for most in aims]
    ways += [grades.level_off(facets, most) for most in aims]
    return [one for heights in dict.fromkeys(ways) for one in new_heights(plan, heights)]
