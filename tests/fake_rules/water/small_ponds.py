"""Low spots are shallow: a rule for testing the engine.

What is compared: the depth of each low spot with a depth.
Why it matters: water that stands freezes.
When it does not apply: never.
How to put it right: raise the low spot.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Kind,
    Limit,
    Limits,
    Margin,
    Place,
    Plan,
    Relevance,
    Spot,
    depth,
    not_shown,
    words,
)

TITLE = "no low spot holds more than a film of water"

LIMITS = (Limit("pond_at_most", "1/8 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "1 in"), "depth"),)

WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """Wherever the finish surface is known."""
    return APPLIES if plan.finish.surface else not_shown("finish heights", place=plan.place("heights.finish"))


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each low spot."""
    limit = limits.pond_at_most
    for pond in plan.water.ponds:
        shown, at = depth(pond.depth), Spot(pond.name, Place(plan.design.file), (pond.deepest,))
        if limit.met(shown):
            yield Margin(at, shown, limit)
        else:
            to_pass = words("raise it by {more}", more=depth(shown.si - limit.value.si))
            yield Finding(at, words("{name} is {shown} deep", name=pond.name, shown=shown), shown, limit, (), to_pass)
