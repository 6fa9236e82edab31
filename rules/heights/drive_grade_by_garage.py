"""The drive is gentle in the last stretch before the garage.

What is compared
    On a driveway the steepest slope towards or away from each building, within 20 ft of it, with 10 %.
Why it matters
    Before a garage people stop, wait for the door and load the car. On a steep stretch the car rolls, its sill drags
    where the drive meets the level floor, and in ice it comes through the door.
When it does not apply
    The slab is not a driveway, or no building stands at it.
How to put it right
    Take up the height further down the drive. Where the whole drive is steep, a level bay of a car's length in front of
    the door is worth more than an even grade.
Where sources differ
    San Bernardino asks 5 % in these 20 ft, and 8 % where the drive is short; most towns print only one grade for all
    of it, from 10 to 25 %. 10 % is the lowest of those, and meant to be set by the town. The grade of the rest of the
    drive is judged by `greatest-fall`.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.rulebook.kit import *

TITLE = "A gentle drive before the garage"
WITHIN = 6.096  # m, 20 ft: `san-bernardino-15.04.230`
LIMITS = (
    Limit("by_garage_at_most", "10 %", Kind.SLOPE, "caution", Cite("barrington-hills-il"), ("2 %", "20 %"),
          "slope of a drive within {20 ft|6.1 m} of a building"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The steepest spot before each building edge."""
    if plan.design.use != "driveway":
        does_not_apply("the slab is not a driveway")
    if not any(piece.beside == "building" for piece in plan.edges.pieces):
        does_not_apply("no edge is beside a building")
    if not plan.finish.surface:
        heights_not_shown(plan)
    limit, run = limits.by_garage_at_most, length(WITHIN)
    most = limit.value.si
    steepest: dict[str, WallFall] = {}
    for fall in plan.falls.from_walls(WITHIN):
        if abs(fall.away) > abs(steepest.get(fall.edge.name, fall).away) - 1e-9:
            steepest[fall.edge.name] = fall
    for wall, fall in steepest.items():
        shown = slope(abs(fall.away))
        yield compare(
            spot(fall), shown, limit,
            says=lambda: words("the drive is steep before {wall}", wall=wall),
            working=lambda: step("height over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                                 depth(slopes.fall(WITHIN, shown.si))),
            remedy=lambda: set_heights(plan.grades.flatter(plan.finish.facets_at(fall.at), most)),
            decide=lambda: words("let it fall {most} at most in the {run} before {wall}",
                                 most=depth(slopes.fall(WITHIN, most)), run=run, wall=wall),
        )  # fmt: skip
