"""Four heights that do not lie in a plane say how the slab folds between them.

What is compared
    Of every four-corner piece of the finish surface the height where its diagonals cross, folded along the one and
    along the other. They may differ by 1/4 in. The piece that differs most is reported.
Why it matters
    A board laid on four corners that are not in a plane rocks. The drawing does not say which way the crew will fold
    the slab, and the two ways are not alike: one is a ridge that sheds, the other a valley that ends at the wall.
When it does not apply
    It always does, once heights are known. A surface of several hundred shots was measured, not drawn, and is met.
How to put it right
    Give a height in the middle, or draw the fold: a valley, a ridge or a grade break from corner to opposite corner.
Where sources differ
    None is known. 1/4 in is what a screed leaves anyway, by common practice.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Four corners fold one way only"
LIMITS = (
    Limit("difference_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/16 in", "1 in"),
          "difference in the middle between the two ways a four-corner piece can fold"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The piece whose two folds differ most."""
    if plan.finish.surface is None:
        heights_not_shown(plan)
    fold, limit, place = plan.finish.worst_fold, limits.difference_at_most, plan.place("heights.finish")
    if fold is None:
        yield Margin(Spot("the whole slab", place), depth(0), limit)
        return
    a, b, c, d = fold.names
    one, other = height(fold.height), height(fold.other_height)
    high, low = max(one, other, key=lambda each: each.si), min(one, other, key=lambda each: each.si)
    off = depth(high.si - low.si)
    yield compare(
        Spot(f"the part between {a}, {b}, {c}, {d}", place, (*fold.corners, fold.corners[0])), off, limit,
        says=lambda: words("the slab folds two ways between {a}, {b}, {c} and {d}", a=a, b=b, c=c, d=d),
        working=lambda: step("difference in the middle", "higher fold - lower fold", words(
            "{h} - {l}", h=high, l=low), off),
        remedy=lambda: [_drawn(a, c, one), _drawn(b, d, other)],
    )  # fmt: skip


def _drawn(first: str, last: str, middle: Amount) -> Remedy:
    says = words("draw a grade break from {first} to {last} if the middle is meant at {height}",
                 first=first, last=last, height=middle)  # fmt: skip
    return append("heights.lines", {"kind": "grade break", "along": (first, last)}, says)
