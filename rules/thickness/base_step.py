"""The prepared base has no sudden steps and no holes: it goes up and down gradually.

What is compared
    Compares how much the depth of the slab changes between any two base shots at most 2 ft apart with 1 1/2 in. Where
    no finish is given, the change of the base alone counts. It then compares how much deeper the slab comes out at the
    deepest shot than at the next deepest, thickened edges left aside, with 1 1/2 in: that is a lone hole, worth a note.
Why it matters
    A slab wants to slide on its base as it shrinks. Over a step it hangs on like a shoe on a curb, and it is thick on
    one side of the line and thin on the other. The crack follows the step: dig lines of old trenches can be read off
    the top of a drive years later.
When it does not apply
    No two base shots lie within 2 ft of each other, and there are not three with a finish over them. Over a step it
    takes two shots, one on top and one at the foot.
How to put it right
    Shave the high side back, or fill and tamp the low one, until the change is spread over a few feet. Fill a hole with
    base and compact it, rather than with concrete.
Where sources differ
    No document gives a number. The 1 1/2 in in 2 ft are common practice, and a caution.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "A base without sudden steps"
LIMITS = (
    Limit("change_at_most", "1 1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/2 in", "4 in"),
          "change of depth between two base shots within {2 ft|0.6 m} of each other"),
    Limit("hole_at_most", "1 1/2 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/2 in", "12 in"),
          "how much deeper the slab is at one base shot than at all others"),
)  # fmt: skip
WORKED = ()
NEAR = 24 * INCH  # m, `common-practice`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The greatest change at each shot on the high side of one."""
    if not plan.design.heights.base:
        base_not_shown(plan)
    steps, hole = plan.concrete.base_steps(NEAR), plan.concrete.hole
    if not steps and not hole:
        does_not_apply("no two base shots lie within {2 ft|0.6 m} of each other")
    limit = limits.change_at_most
    ordered = sorted(steps, key=lambda one: -one.change)
    worst = {one.high: one for one in reversed(ordered)}
    for one in (one for one in ordered if worst[one.high] is one):
        high, low = plan.shape.name_at(one.high), plan.shape.name_at(one.low)
        change, off = depth(one.change), depth(one.change - limit.value.si)
        yield compare(
            plan.spot(f"the base at {high}", "heights.base", "heights", shape=(one.high, one.low)), change, limit,
            says=lambda: words("the base steps up from {low} to {high}, and the slab cracks along it", low=low,
                               high=high),
            working=lambda: step("too much", "change of depth - limit", words("{c} - {l}", c=change, l=limit.value),
                                 off),
            remedy=lambda: set_heights([NewHeight(
                f"the base at {high}", one.high_base, plan.grades.written(one.high_base - off.si, up=False))]),
        )  # fmt: skip
    if hole:
        spot_there = plan.shape.name_at(hole.at)
        at = plan.spot(f"the base at {spot_there}", "heights.base", "heights", shape=(hole.at,))
        yield compare(
            at, depth(hole.deeper), limits.hole_at_most,
            says=lambda: words("the base has a hole at {place}, and the slab hangs in it", place=spot_there),
            remedy=lambda: set_heights([NewHeight(
                at.name, hole.base, plan.grades.written(hole.base + hole.deeper, up=True))]),
        )  # fmt: skip
