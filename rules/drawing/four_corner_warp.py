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
    compared,
    heights_not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height

TITLE = "Four corners fold one way only"
LIMITS = (
    Limit("difference_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/16 in", "1 in"),
          "difference in the middle between the two ways a four-corner piece can fold"),
)  # fmt: skip
WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """Every corner has a height."""
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The piece whose two folds differ most."""
    fold = plan.finish.worst_fold
    if fold is None:
        whole = Spot("the whole slab", plan.place("heights.finish"))
        yield Margin(whole, depth(0), limits.difference_at_most)
        return
    one, other, (a, b, c, d) = height(fold.height), height(fold.other_height), fold.names
    off = depth(abs(fold.height - fold.other_height))
    high, low = (height(pick(fold.height, fold.other_height)) for pick in (max, min))
    yield compared(
        limits,
        ("difference_at_most",),
        Spot(f"the part between {a}, {b}, {c}, {d}", plan.place("heights.finish"), (*fold.corners, fold.corners[0])),
        off,
        words("the slab folds two ways between {a}, {b}, {c} and {d}", a=a, b=b, c=c, d=d),
        words("draw a grade break from {a} to {c} if the middle is meant at {one}, or from {b} to {d} if at {other}",
              a=a, b=b, c=c, d=d, one=one, other=other),
        (step("difference in the middle", "higher fold - lower fold", words("{h} - {l}", h=high, l=low), off),),
    )  # fmt: skip
