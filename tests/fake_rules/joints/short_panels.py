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

from slabwright.rulebook.kit import *

TITLE = "no panel is longer than two men can strike off"

LIMITS = (
    Limit("side_at_most", "15 ft", Kind.LENGTH, "hold", Cite("common-practice"), ("6 ft", "30 ft"), "long side"),
    Limit("wanted_side_at_most", "12 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("6 ft", "30 ft"), "side"),
)

WORKED = (Worked("5 paces of 3 ft", length(4.572), lambda: 5 * 3 * 0.3048, 1e-9, Cite("geometry")),)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each panel's long side."""
    if not plan.panels.all:
        does_not_apply("there are no panels")
    for panel in plan.panels.all:
        shown = length(panel.long_side)
        limit = limits.broken(shown, "side_at_most", "wanted_side_at_most") or limits.wanted_side_at_most
        over = length(shown.si - limit.value.si)
        yield compare(
            spot(panel), shown, limit,
            says=lambda: words("{panel} is {shown} long", panel=panel.name, shown=shown),
            working=lambda: step("too long by", "side - limit", words("{a} - {b}", a=shown, b=limit.value), over),
            decide=lambda: words("a joint across it: {over} less", over=over),
        )  # fmt: skip
