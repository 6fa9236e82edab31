"""Panels are short: a rule for testing the engine.

What is compared
    The long side of each panel with a length.

Why it matters
    A long panel cracks between its joints.

When it does not apply
    A slab without panels.

How to put it right
    Another joint across the long side.
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
    Plan,
    Relevance,
    Worked,
    does_not_apply,
    length,
    spot,
    step,
    words,
)

TITLE = "no panel is longer than two men can strike off"

LIMITS = (
    Limit("side_at_most", "15 ft", Kind.LENGTH, "hold", Cite("common-practice"), ("6 ft", "30 ft"), "long side"),
    Limit("wanted_side_at_most", "12 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("6 ft", "30 ft"), "side"),
)

WORKED = (Worked("5 paces of 3 ft", length(4.572), lambda: 5 * 3 * 0.3048, 1e-9, Cite("geometry")),)


def relevant(plan: Plan) -> Relevance:
    """Wherever there is a panel."""
    return APPLIES if plan.panels.all else does_not_apply("there are no panels")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each panel's long side."""
    for panel in plan.panels.all:
        shown = length(panel.long_side)
        limit = limits.broken(shown, "side_at_most", "wanted_side_at_most")
        if limit is None:
            yield Margin(spot(panel), shown, limits.wanted_side_at_most)
            continue
        over = length(shown.si - limit.value.si)
        yield Finding(
            at=spot(panel),
            says=words("{panel} is {shown} long", panel=panel.name, shown=shown),
            shown=shown,
            limit=limit,
            working=(step("too long by", "side - limit", words("{a} - {b}", a=shown, b=limit.value), over),),
            to_pass=words("a joint across it: {over} less", over=over),
        )
