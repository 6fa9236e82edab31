"""In front of a door the slab is level enough to stand on, and deep enough to step back.

What is compared
    The steepest part of the slab within 36 in of each door that people use, as wide as the door, with 1/4 in/ft; and
    how far the slab reaches straight out from the door, with 36 in.
Why it matters
    At a door people stand with their hands full, turn, and step back without looking. On a tilted landing the leaf of
    the door swings uphill, a chair rolls, and in ice the first step out is the fall.
When it does not apply
    No rain falls on the slab, or no door opens on it. A door over 8 ft wide is for vehicles.
How to put it right
    Keep the first 3 ft gentle and take up the fall beyond. Along a house this leaves one slope: at least 2 %, for the
    wall, and at most 1/4 in/ft, or 2.08 %, for the landing. Write 1/4 in/ft there, and neither rule speaks.
Where sources differ
    The code prints 1/4 in 12 and 2 % side by side for the landing, and at least 2 % for paving at a foundation; to the
    letter both are kept by 2 % alone. Later editions let paving be flatter at doors (recalled). Depth is a caution: a
    walk or an older slab beyond the edge may carry the landing on.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.rulebook.kit import *

TITLE = "A landing at the door"
OUT, VEHICLES = 0.9144, 2.4384  # m: 36 in, `irc-r311.3`; 8 ft, wider doors are for vehicles (common practice)
LIMITS = (
    Limit("slope_at_most", "1/4 in/ft", Kind.SLOPE, "hold", Cite("irc-r311.3"), ("1 %", "5 %"),
          "slope of the slab within {36 in|914 mm} of a door"),
    Limit("depth_at_least", "36 in", Kind.LENGTH, "caution", Cite("irc-r311.3"), ("24 in", "60 in"),
          "how far the slab reaches out from a door"),
)  # fmt: skip
WORKED = (
    Worked("1/4 in in 12 in as a percentage", slope(0.02), lambda: slopes.slope(0.25, 12), 0.001, Cite("irc-r311.3")),
)


def _doors(plan: Plan) -> list[PlannedFixture]:
    doors = [one for one in plan.fixtures.all if one.fixture.kind == "door" and one.fixture.along]
    return [one for one in doors if _width(one) <= VEHICLES]


def _width(door: PlannedFixture) -> float:
    first, last = door.fixture.along[0], door.fixture.along[-1]
    return math.hypot(last.x - first.x, last.y - first.y)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The slope and the depth of each landing."""
    if not plan.outdoors:
        does_not_apply("no rain falls on it")
    doors = [one for one in plan.fixtures.all if one.fixture.kind == "door"]
    if not doors:
        does_not_apply("no door is drawn")
    if not plan.finish.surface:
        heights_not_shown(plan)
    landings = [(one, plan.traffic.landing(one.fixture, OUT)) for one in _doors(plan)]
    if not any(landing for _, landing in landings):
        _none_opens(doors)
    most, least = limits.slope_at_most, limits.depth_at_least
    for door, landing in landings:
        if landing is None:
            continue
        at = Spot(f"landing at {door.name}", door.fixture.place, landing.shape)
        shown, reach = slope(landing.slope), length(landing.depth)
        yield compare(
            at, shown, most,
            says=lambda: words("the landing at {door} is steep to stand on", door=door.name),
            working=lambda: step("fall over the landing", "slope x depth", words("{s} x {d}", s=shown, d=length(OUT)),
                                 depth(slopes.fall(OUT, shown.si))),
            remedy=lambda: set_heights(plan.grades.flatter(landing.facets, most.value.si)),
            decide=lambda: words("let the slab fall {f} in the first {out} at {door}",
                                 f=depth(slopes.fall(OUT, most.value.si)), out=length(OUT), door=door.name),
        )  # fmt: skip
        yield compare(
            at, reach, least,
            says=lambda: words("the slab is shallow before {door}", door=door.name),
            decide=lambda: words("let the slab reach {least} out from {door}: {more} more",
                                 least=least.value, door=door.name, more=length(least.value.si - reach.si)),
        )  # fmt: skip


def _none_opens(doors: Sequence[PlannedFixture]) -> None:
    """End the rule where no door is known to open on the slab."""
    for one in doors:
        if not one.fixture.along:
            such = "[[3, 0], [6, 0]]"
            not_shown(f"fixtures, along: the two ends of the width of {one.name}, such as {such}",
                      place=one.fixture.place)  # fmt: skip
    does_not_apply("no door that people use opens on it")
