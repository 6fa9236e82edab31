"""Where the order rests on shots of the base, there are enough of them.

What is compared
    Takes the area of slab for each shot on the compacted base: more than 100 ft2 is a note, more than 200 ft2 a
    caution. A corner more than 12 ft from every shot is a note: the depth there is carried on from afar.
Why it matters
    Four shots at the corners see a flat base, and the middle may be two inches low: a third of a yard in a small patio.
    The order is then as good as a guess, with less allowance than a guess would get.
When it does not apply
    The base is not written as shot after it was compacted.
How to put it right
    Shoot a grid of ten feet, and the middle and the valley besides. It takes ten minutes.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import YARD3
from slabwright.rulebook.kit import *

TITLE = "Enough shots on the base"
LIMITS = (
    Limit("area_of_a_shot_at_most", "200 ft2", Kind.AREA, "caution", Cite("common-practice"), ("20 ft2", "1000 ft2"),
          "area of slab for each shot on the base"),
    Limit("usual_area_at_most", "100 ft2", Kind.AREA, "note", Cite("common-practice"), ("20 ft2", "500 ft2"),
          "usual area of slab for each shot on the base"),
    Limit("to_a_corner_at_most", "12 ft", Kind.LENGTH, "note", Cite("common-practice"), ("4 ft", "60 ft"),
          "distance from a corner to the nearest shot on the base"),
)  # fmt: skip
WORKED = ()
HARDLY = 0.05  # share by which shots may stand for more (common practice)
SMALL = YARD3  # m3 of concrete: nobody shoots the base of a pad that a barrow or two more would fill


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The area of a shot."""
    base = plan.design.site.base
    if base is None or not base.shot_after_compaction:
        does_not_apply("the base is not written as shot after it was compacted")
    if plan.concrete.quantities.net <= SMALL:
        does_not_apply("the slab takes {1 yd3|0.75 m3} or less")
    if len(plan.design.heights.base) < 3:  # no surface lies through fewer
        base_not_shown(plan)
    shots, slab = len(plan.design.heights.base), area(plan.shape.area)
    by_area = (limits.area_of_a_shot_at_most, limits.usual_area_at_most)
    each, most = area(slab.si / shots), min(by_area, key=lambda limit: limit.value.si)
    more = count(math.ceil(slab.si / most.value.si - 1e-6) - shots)
    one = compare(
        plan.spot("the shots", "heights.base"), each, *by_area, give=HARDLY * most.value.si,
        says=lambda: words("{n} shots stand for {a} of slab", n=count(shots), a=slab),
        working=lambda: step("area of a shot", "slab / shots", words("{a} / {n}", a=slab, n=count(shots)), each),
        decide=lambda: words("shoot {more} more, midway between the others and where water runs", more=more),
    )  # fmt: skip
    yield one
    if isinstance(one, Margin):  # too few are told once
        yield _corner(plan, limits.to_a_corner_at_most)


def _corner(plan: Plan, limit: InForce) -> Conclusion:
    """The corner that lies farthest from every shot."""
    shots = [(one.at.x, one.at.y) for one in plan.design.heights.base]
    corners = [(one.at.x, one.at.y) for one in plan.design.outline]

    def away(corner: XY) -> float:
        return min(math.dist(corner, shot) for shot in shots)

    far = max(corners, key=lambda corner: round(away(corner), 6))
    name = plan.shape.name_at(far)
    return compare(
        plan.spot(f"the base at {name}", "heights.base", shape=(far,)), length(away(far)), limit,
        says=lambda: words("no shot on the base is near {corner}", corner=name),
        decide=lambda: words("shoot the base at {corner} too", corner=name),
    )  # fmt: skip
