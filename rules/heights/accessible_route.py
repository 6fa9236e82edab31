"""A way that is claimed for wheelchairs keeps the access limits: along it, across it, and where it meets other slabs.

What is compared
    On each stretch of `site.accessible_route` between two folds the slope along the way with 1 in 20 and the slope
    across it with 1 in 48; and where the way begins or ends on an edge with a planned step, that step with 1/2 in.
    Other lips at existing slabs are judged by `trip-at-existing-slab`, which asks what the access standards ask.
Why it matters
    Across the way is what tires: a chair on a side slope turns downhill by itself, and one arm brakes all the way. The
    inspector lays a level on it, and few allow anything on top of the limit: a walk at 2.3 % is torn out.
When it does not apply
    The file claims no accessible way. Across any other walk the slope is judged by `walk-cross-slope`.
How to put it right
    Draw less than the limit, 1.5 % across and 4.5 % along: the screed takes the rest. A steeper way is a ramp, with
    landings and handrails, and belongs with somebody who designs them.
Where sources differ
    1 in 48 is 2.083 %, which the trade also writes as 1/4 in/ft. Away from a house that is about the least fall for
    rain, here it is the most allowed across: an accessible slab along a wall can hardly be drawn at any other.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.rulebook.kit import *

TITLE = "An accessible way keeps the access limits"
LIMITS = (
    Limit("running_at_most", "1:20", Kind.SLOPE, "hold", Cite("ada-2010", "403.3"), ("2 %", "12 %"),
          "slope along an accessible way"),
    Limit("cross_at_most", "1:48", Kind.SLOPE, "hold", Cite("ada-2010", "403.3"), ("1 %", "4 %"),
          "slope across an accessible way"),
    Limit("step_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("aba-303.3"), ("1/4 in", "1 in"),
          "planned step on an accessible way"),
)  # fmt: skip
WORKED = (
    Worked("1 in 48 as a percentage", slope(0.02083), lambda: slopes.slope(1, 48), 0.00001, Cite("ada-2010", "403.3")),
)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The steepest stretch along and the steepest across, then both ends."""
    way = plan.design.site.accessible_route
    if not way:
        does_not_apply("no accessible way is claimed (site.accessible_route)")
    if not plan.finish.surface:
        heights_not_shown(plan)
    if not plan.traffic.route(way):
        does_not_apply("the accessible way does not cross the slab")
    yield from _slopes(plan, limits)
    yield from _steps(plan, limits)


def _slopes(plan: Plan, limits: Limits) -> Conclusions:
    stretches = plan.traffic.route(plan.design.site.accessible_route)
    for limit, what in ((limits.running_at_most, "along"), (limits.cross_at_most, "across")):
        across = what == "across"
        shown = [one.cross if across else one.running for one in stretches]
        worst = max(range(len(shown)), key=lambda k: round(shown[k], 9))
        start, end = stretches[worst].shape
        a, b = plan.shape.name_at(start), plan.shape.name_at(end)
        most, run = limit.value.si, length(1.2192 if across else math.dist(start, end))
        yield compare(
            plan.spot(f"accessible way {a}-{b}, {what}", "site.accessible_route", "site", shape=(start, end)),
            slope(shown[worst]), limit,
            says=lambda: words("the accessible way is steep {what} from {a} to {b}", what=what, a=a, b=b),
            working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=slope(shown[worst]), r=run),
                                 depth(slopes.fall(run.si, shown[worst]))),
            remedy=lambda: set_heights(plan.grades.eased(stretches[worst], most, across)),
            decide=lambda: words("let it fall {fall} in {run} {what} the way at most",
                                 fall=depth(slopes.fall(run.si, most)), run=run, what=what),
        )  # fmt: skip


def _steps(plan: Plan, limits: Limits) -> Conclusions:
    """The step at each end of the way that lies on an edge where the file plans one."""
    way = plan.design.site.accessible_route
    for end in (way[0], way[-1]):
        for piece in plan.edges.at((end.x, end.y)):
            if piece.finish is None or piece.ground is None or not (piece.edge and piece.edge.planned_step):
                continue
            pairs = zip(piece.finish, piece.ground, strict=True)
            top, beside = max(pairs, key=lambda pair: abs(pair[0] - pair[1]))
            high, low = height(max(top, beside)), height(min(top, beside))
            yield compare(
                spot(piece), depth(high.si - low.si), limits.step_at_most,
                says=lambda: words("the accessible way meets a step at {edge}", edge=piece.name),
                working=lambda: step("step", "higher - lower", words("{a} - {b}", a=high, b=low),
                                     depth(high.si - low.si)),
                decide=lambda: words("match the height of {beside} there, or ramp it at 1 in 12",
                                     beside=height(beside)),
            )  # fmt: skip
