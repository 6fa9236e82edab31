"""Bars end a little short of the edge: near enough to hold it, far enough in not to rust.

What is compared
    Compares how far the bars stop short of the edges with 2 in at least and 3 in at most; metric plans write 50 and 75
    mm.
Why it matters
    A bar that touches the form is a rust spot on the edge after the first winter, and the rust goes in along it. One
    that ends a foot short leaves a strip all round that has no steel, and edges are where slabs break.
When it does not apply
    There are no bars, or the file does not say where they end.
How to put it right
    Cut them 3 in short of the form at both ends, and lay the first bar of each layer no further from it than that.
Where sources differ
    No standard stands behind the 2 to 3 in; they are common practice. Army pavements want the first bar within 3 in of
    a joint, or half the spacing.
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
    beds = [bed for bed in plan.steel.beds if bed.steel.bars]
    if not beds:
        does_not_apply("there are no bars")
    ends = [(bed.steel.bars, bed.steel.bars.ends_short) for bed in beds if bed.steel.bars and bed.steel.bars.ends_short]
    if not ends:
        does_not_apply("the file does not say where the bars end")
    for bars, short in ends:
        yield from _judged(limits, Spot("the bars", bars.place), short)


def _judged(limits: Limits, at: Spot, shown: Amount) -> Conclusions:
    least, most, path = limits.short_at_least, limits.short_at_most, f"{at.place.path}.ends_short"
    yield compare(
        at, shown, least,
        says=lambda: words("the bars end so near the edge that they can rust"),
        remedy=lambda: _end(path, least.value, shown, "more"),
    )  # fmt: skip
    yield compare(
        at, shown, most,
        says=lambda: words("a strip along the edge has no steel"),
        remedy=lambda: _end(path, most.value, shown, "less"),
    )  # fmt: skip


def _end(path: str, end: Amount, shown: Amount, how: str) -> Remedy:
    off = depth(abs(end.si - shown.si))
    return write(path, end, words(f"end the bars {{write}} short of the edge: {{off}} {how}", write=end, off=off))
