"""Low spots are shallow: a rule for testing the engine.

What is compared: the depth of each low spot with a depth.
Why it matters: water that stands freezes.
When it does not apply: never.
How to put it right: raise the low spot.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "no low spot holds more than a film of water"

LIMITS = (Limit("pond_at_most", "1/8 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "1 in"), "depth"),)

WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each low spot."""
    if plan.finish.surface is None:
        not_shown("finish heights", place=plan.place("heights.finish"))
    limit = limits.pond_at_most
    for pond in plan.water.ponds:
        shown = depth(pond.depth)
        yield compare(
            Spot(pond.name, Place(plan.design.file), (pond.deepest,)), shown, limit,
            says=lambda: words("{name} is {shown} deep", name=pond.name, shown=shown),
            decide=lambda: words("raise it by {more}", more=depth(shown.si - limit.value.si)),
        )  # fmt: skip
