"""Bars end a little short of the edge: near enough to hold it, far enough in not to rust.

What is compared
    How far the bars stop short of the edges with 2 in at least, and with 3 in at most.
Why it matters
    A bar that touches the form is a rust spot on the edge after the first winter, and the rust goes in along it. One
    that ends a foot short leaves a strip all round that has no steel, and edges are where slabs break.
When it does not apply
    There are no bars, or the file does not say where they end.
How to put it right
    Cut them 3 in short of the form at both ends, and lay the first bar of each layer no further from it than that.
Where sources differ
    No standard behind the 2 to 3 in; they are common practice. Army pavements want the first bar within 3 in of a
    joint, or half the spacing.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Bars that end just short of the edge"
LIMITS = (
    Limit("short_at_least", "2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/2 in", "4 in"),
          "distance from the ends of the bars to the edge"),
    Limit("short_at_most", "3 in", Kind.DEPTH, "note", Cite("tm-5-822-5", "par. 13-2"), ("2 in", "24 in"),
          "distance from the ends of the bars to the edge"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Too near, or too far."""
    steel, least, most = plan.design.reinforcement, limits.short_at_least, limits.short_at_most
    if steel is None or steel.bars is None:
        does_not_apply("there are no bars")
    if steel.bars.ends_short is None:
        does_not_apply("the file does not say where the bars end")
    at, shown, path = Spot("the bars", steel.bars.place), steel.bars.ends_short, f"{steel.bars.place.path}.ends_short"
    yield compare(
        at, shown, least,
        says=lambda: words("the bars end so near the edge that they can rust"),
        remedy=lambda: write(path, least.value, words("end the bars {write} short of the edge: {more} more",
                                                      write=least.value, more=depth(least.value.si - shown.si))),
    )  # fmt: skip
    yield compare(
        at, shown, most,
        says=lambda: words("a strip along the edge has no steel"),
        remedy=lambda: write(path, most.value, words("end the bars {write} short of the edge: {less} less",
                                                     write=most.value, less=depth(shown.si - most.value.si))),
    )  # fmt: skip
