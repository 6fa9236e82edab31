"""Where the order rests on shots of the base, there are enough of them.

What is compared
    The area of slab for each shot on the compacted base, with 100 ft2.
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
from collections.abc import Iterator

from slabwright.plan.plan import Plan
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
    compared,
    does_not_apply,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, count

TITLE = "Enough shots on the base"
LIMITS = (
    Limit("area_of_a_shot_at_most", "100 ft2", Kind.AREA, "caution", Cite("common-practice"), ("20 ft2", "500 ft2"),
          "area of slab for each shot on the base"),
)  # fmt: skip
WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """The base was shot after it was compacted, and the shots are there."""
    base = plan.design.site.base
    if base is None or not base.shot_after_compaction:
        return does_not_apply("the base is not written as shot after it was compacted")
    if not plan.design.heights.base:
        return base_not_shown(plan)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The area of a shot."""
    shots = len(plan.design.heights.base)
    each, most = area(plan.shape.area / shots), limits.area_of_a_shot_at_most.value
    more = math.ceil(plan.shape.area / most.si - 1e-6) - shots
    says = words("{n} shots stand for {a} of slab", n=count(shots), a=area(plan.shape.area))
    if shots == 1:
        says = words("one shot stands for {a} of slab", a=area(plan.shape.area))
    to_pass = words("shoot {more} more, in the middle and where water runs", more=count(more))
    working = step("area of a shot", "slab / shots", words("{a} / {n}", a=area(plan.shape.area), n=count(shots)), each)
    at = Spot("the shots", plan.place("heights.base"))
    yield compared(limits, ("area_of_a_shot_at_most",), at, each, says, to_pass, (working,))
