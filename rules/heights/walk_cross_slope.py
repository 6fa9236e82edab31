"""A walk is nearly level across, square to the way people go on it.

What is compared
    Compares the slope square to each long side of a walk, midway between its sides, with 1 in 48 in the public right of
    way, which is a hold. Elsewhere it compares the slope with 3/8 in/ft, a caution, and with 2.5 %, a note. A side
    counts as long from twice the width of the walk; at a turn both ways count. A drive that crosses a walk in the right
    of way, drawn as a part between two parts of it, is judged as the walk is.
Why it matters
    A slope to the side is felt in every step. A stroller runs off by itself, a chair has to be braked with one arm, and
    in ice everybody ends up in the bed beside. Nobody who draws 4 % down a hill thinks of the 4 % that the same plane
    has across where the walk turns.
When it does not apply
    The slab is not a walk, or an accessible way is claimed: `accessible-route` then judges both slopes along it.
How to put it right
    Turn the fall: along the walk as the ground falls, across it 1.5 %, so that the screed has room. At a turn make a
    square that falls little either way.
Where sources differ
    A guide specification and the access standards say 1 in 48, towns 1/4 in/ft, which is the same. The standards bind
    what the public uses; a private path is laid at 2 to 2.5 % across in Germany, and at up to 3/8 in/ft by many crews
    (common practice). The slope along it is judged by `greatest-fall`.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "A walk nearly level across"
LIMITS = (
    Limit("public_cross_at_most", "1:48", Kind.SLOPE, "hold", Cite("ada-2010", "403.3"), ("1 %", "4 %"),
          "slope across a walk in the right of way"),
    Limit("cross_at_most", "3/8 in/ft", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "6 %"),
          "slope across any other walk"),
    Limit("level_cross_at_most", "2.5 %", Kind.SLOPE, "note", Cite("common-practice"), ("1 %", "6 %"),
          "slope across any other walk that nobody feels"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The stretch that slopes most across."""
    if not plan.areas.used("walk"):
        does_not_apply("the slab is not a walk")
    if plan.design.site.accessible_route:
        does_not_apply("it is judged along the accessible way")
    needs_heights(plan)
    sides = plan.routes.along_sides
    if not sides:
        not_shown("site.accessible_route: the way people take over it, such as [A, B]", place=plan.place("site"))
    public = bool(plan.design.site.right_of_way)
    kept = (limits.public_cross_at_most,) if public else (limits.cross_at_most, limits.level_cross_at_most)
    worst = max(sides, key=lambda one: round(one.cross, 9))
    (start, end), most, run = worst.shape, kept[-1].value.si, length(4 * FOOT)
    yield compare(
        plan.spot("across the walk", "heights.finish", "heights", shape=worst.shape), slope(worst.cross), *kept,
        give=0.0 if public else fall_give(plan, kept[-1].value, run.si),
        says=lambda: words("the walk is steep across from {a} to {b}",
                           a=plan.shape.name_at(start), b=plan.shape.name_at(end)),
        working=lambda: step("fall over the run", "slope x run", words("{s} x {r}", s=slope(worst.cross), r=run),
                             depth(slopes.fall(run.si, worst.cross))),
        remedy=lambda: new_heights(plan, plan.grades.eased(worst, most, across=True)),
        decide=lambda: words("let it fall {fall} over {run} across at most",
                             fall=on_tape(plan, slopes.fall(run.si, most), up=False), run=run),
    )  # fmt: skip
