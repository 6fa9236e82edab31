"""The drive is gentle in the last stretch before the garage.

What is compared
    On a driveway, compares the mean slope towards or away from each building with 10 %, over the 20 ft before the
    building or as far as the drive goes.
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
    of it, from 10 to 25 %. 10 % is the lowest of those, and meant to be set by the town. It is taken as the mean, so
    that a level bay and an easing before the door count. The rest of the drive is judged by `greatest-fall`.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "A gentle drive before the garage"
WITHIN = {"us": 20 * FOOT, "metric": 6.0}  # m: `san-bernardino-15.04.230`
LIMITS = (
    Limit("by_garage_at_most", "10 %", Kind.SLOPE, "caution", Cite("barrington-hills-il"), ("2 %", "20 %"),
          "slope of a drive within {20 ft|6 m} of a building"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The steepest spot before each building edge."""
    if not plan.areas.used("driveway"):
        does_not_apply("the slab is not a driveway")
    if not _walls(plan):
        does_not_apply("no edge of it is beside a building" if plan.areas.several else "no edge is beside a building")
    needs_heights(plan)
    limit = limits.by_garage_at_most
    for steepest, wall, way in _steepest(plan):
        shown, run = slope(steepest), length(math.dist(*way))
        yield compare(
            plan.spot(wall.name, wall.place.path, shape=way), shown, limit,
            give=fall_give(plan, limit.value, run.si),
            says=lambda: words("the drive is steep before {wall}", wall=wall.name),
            working=lambda: step("height over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                                 depth(slopes.fall(run.si, shown.si))),
            remedy=lambda: new_heights(plan, plan.grades.flatter(plan.finish.facets_at(_between(way)), limit.value.si)),
            decide=lambda: words("let it fall {most} at most in the {run} before {wall}",
                                 most=depth(slopes.fall(run.si, limit.value.si)), run=run, wall=wall.name),
        )  # fmt: skip


def _walls(plan: Plan) -> list[EdgePiece]:
    """The edges of the drive beside a building."""
    return [wall for wall in plan.edges.buildings if any(one.use == "driveway" for one in plan.areas.along(wall.line))]


def _steepest(plan: Plan) -> list[tuple[float, EdgePiece, tuple[XY, XY]]]:
    """For each building edge the steepest way straight out from it, and how steep that is."""
    found: dict[str, tuple[float, EdgePiece, tuple[XY, XY]]] = {}
    for piece in _walls(plan):
        for way in plan.wheels.ways_out(piece, WITHIN[plan.home]):
            fall = abs(plan.falls.along(*way) or 0.0)
            if piece.name not in found or fall > found[piece.name][0] + 1e-9:
                found[piece.name] = fall, piece, way
    return list(found.values())


def _between(way: tuple[XY, XY]) -> XY:
    (ax, ay), (bx, by) = way
    return (ax + bx) / 2, (ay + by) / 2
