"""No part of the slab is steeper than its use can bear.

What is compared
    The slope straight downhill of each part of the finish surface with what suits the use: a patio, a walk, a driveway,
    a pad for vehicles or equipment, a garage or shop floor. Every use has limits of its own, so that a town can set it.
Why it matters
    On a steep patio tables rock and chairs walk. A trailer does not stand level, a car scrapes, and with ice on it the
    slab is a slide. Fresh concrete creeps downhill too, and the low end ends up thick.
When it does not apply
    It always does, once heights are known.
How to put it right
    Spread the fall: raise the low side, or lower the high one. Where the ground itself is steep, take the drop in a
    step or a wall, not in the slab.
Where sources differ
    Towns allow driveways from 10 % to 25 %, and less next to the garage; 15 % is general advice and the default, 12 %
    the caution. For walks the access standards ask 1 in 20 along, and 1 in 12 at most as a ramp. Patio, pads and floors
    are common practice: the trade takes 2 % and 1/4 in/ft as the same, so patio and floors are written in the latter.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.plan.things import FallPart
from slabwright.rulebook.kit import *

TITLE = "Not steeper than the use can bear"
LIMITS = (
    Limit("patio_at_most", "4 %", Kind.SLOPE, "hold", Cite("common-practice"), ("1 %", "10 %"), "slope of a patio"),
    Limit("comfortable_patio_at_most", "1/4 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "6 %"),
          "slope of a patio that chairs and tables stand on"),
    Limit("walk_at_most", "1:12", Kind.SLOPE, "hold", Cite("ada-1991", "4.8.2"), ("4 %", "20 %"),
          "slope of a walk, as a ramp"),
    Limit("level_walk_at_most", "1:20", Kind.SLOPE, "caution", Cite("ada-2010", "403.3"), ("2 %", "12 %"),
          "slope of a walk that is no ramp"),
    Limit("driveway_at_most", "15 %", Kind.SLOPE, "hold", Cite("drive-general-advice"), ("5 %", "30 %"),
          "slope of a driveway"),
    Limit("easy_driveway_at_most", "12 %", Kind.SLOPE, "caution", Cite("common-practice"), ("5 %", "25 %"),
          "slope of a driveway that suits any car in any weather"),
    Limit("vehicle_pad_at_most", "5 %", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "10 %"),
          "slope of a pad that vehicles stand on"),
    Limit("garage_floor_at_most", "1/4 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "5 %"),
          "slope of a garage floor"),
    Limit("shop_floor_at_most", "1/4 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("0.5 %", "5 %"),
          "slope of a shop floor"),
    Limit("equipment_pad_at_most", "1/4 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("0.5 %", "5 %"),
          "slope of a pad for equipment"),
)  # fmt: skip
WORKED = (
    Worked("1 in 12 as a percentage", slope(0.083), lambda: slopes.slope(1, 12), 0.0005, Cite("geometry"),
           "wa-ratio-1-in-12"),
)  # fmt: skip
BY_USE = {
    "patio": ("patio_at_most", "comfortable_patio_at_most"), "walk": ("walk_at_most", "level_walk_at_most"),
    "driveway": ("driveway_at_most", "easy_driveway_at_most"), "vehicle pad": ("vehicle_pad_at_most",),
    "garage floor": ("garage_floor_at_most",), "shop floor": ("shop_floor_at_most",),
    "equipment pad": ("equipment_pad_at_most",),
}  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each part that is too steep, under the heaviest limit it breaks."""
    if not plan.finish.surface:
        heights_not_shown(plan)
    names = BY_USE[plan.design.use]
    kept = tuple(limits[name] for name in names)
    lightest = min(kept, key=lambda limit: limit.value.si)
    for limit in kept:
        for part in plan.falls.parts(lambda s: limits.broken(s, *names) is limit):
            yield _compared(plan, part, kept, lightest)
    for part in plan.falls.parts(lambda s: limits.broken(s, *names) is None):
        yield _compared(plan, part, kept, lightest)


def _compared(plan: Plan, part: FallPart, kept: Sequence[InForce], lightest: InForce) -> Finding | Margin:
    at = plan.spot(part.name, "heights.finish", shape=part.outline)
    shown, run, asked = slope(part.most), length(10 * 0.3048), lightest.value.si
    return compare(
        at, shown, *(one for one in kept if one is not lightest), lightest,
        says=lambda: words("{part} is steep for a {use}", part=at.name, use=plan.design.use),
        working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=shown, r=run),
                             depth(slopes.fall(run.si, part.most))),
        remedy=lambda: set_heights(plan.grades.for_part(part, asked, least=False)),
        decide=lambda: words("let {part} fall {most} in {run} at most", part=at.name,
                             most=depth(slopes.fall(run.si, asked)), run=run),
    )  # fmt: skip
