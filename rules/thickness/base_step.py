"""The prepared base has no sudden steps: it goes up and down gradually.

What is compared
    How much the depth of the slab changes between any two base shots at most 2 ft apart, with 1 1/2 in. Where no finish
    is given, the change of the base alone counts.
Why it matters
    A slab wants to slide on its base as it shrinks. Over a step it hangs on like a shoe on a curb, and it is thick on
    one side of the line and thin on the other. The crack follows the step: dig lines of old trenches can be read off
    the top of a drive years later.
When it does not apply
    No two base shots lie within 2 ft of each other. Over a step it takes two shots, one on top and one at the foot.
How to put it right
    Shave the high side back, or fill and tamp the low one, until the change is spread over a few feet.
Where sources differ
    No document gives a number. The 1 1/2 in in 2 ft are common practice, and a caution.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.plan.things import XY, BaseStep, NewHeight
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    base_not_shown,
    does_not_apply,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height

TITLE = "A base without sudden steps"
LIMITS = (
    Limit("change_at_most", "1 1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/2 in", "4 in"),
          "change of depth between two base shots within {2 ft|0.61 m} of each other"),
)  # fmt: skip
WORKED = ()
NEAR = 24 * INCH  # m, `common-practice`


def relevant(plan: Plan) -> Relevance:
    """Two base shots lie near each other."""
    if not plan.design.heights.base:
        return base_not_shown(plan)
    far_apart = "no two base shots lie within {2 ft|0.61 m} of each other"
    return APPLIES if plan.concrete.base_steps(NEAR) else does_not_apply(far_apart)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The greatest change at each shot on the high side of one."""
    limit = limits.change_at_most
    worst: dict[XY, BaseStep] = {}
    for one in plan.concrete.base_steps(NEAR):
        if one.high not in worst or one.change > worst[one.high].change:
            worst[one.high] = one
    for one in sorted(worst.values(), key=lambda one: -one.change):
        high, low = plan.shape.name_at(one.high), plan.shape.name_at(one.low)
        at = Spot(f"the base at {high}", plan.place("heights.base", "heights"), (one.high, one.low))
        shown = depth(one.change)
        if limit.met(shown):
            yield Margin(at, shown, limit)
            continue
        says = words("the base steps up from {low} to {high}, and the slab cracks along it", low=low, high=high)
        off = depth(one.change - limit.value.si)
        working = step("too much", "change of depth - limit", words("{c} - {l}", c=shown, l=limit.value), off)
        to = NewHeight(f"the base at {high}", one.high_base, plan.grades.written(one.high_base - off.si, up=False))
        cut = words("cut the base at {high} down to {to}", high=high, to=height(to.new))
        yield Finding(at, says, shown, limit, (working,), write_heights([to], cut))
