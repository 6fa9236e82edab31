"""Four heights that do not lie in a plane say how the slab folds between them.

What is compared
    For every four-corner piece of the finish surface, compares the height where its diagonals cross when it is folded
    along the one with the height when it is folded along the other. They may differ by 1/4 in. A joint along a diagonal
    is a fold, and a piece whose lowest corner is a drain is screeded to it from all sides. All pieces are told at once;
    those twice as long as they are wide are a note, and so are those between the two forms of a drive or a walk that is
    no wider than 16 ft, and those between old paving and a form, old paving or a drawn line no further off.
Why it matters
    A board laid on four corners that are not in a plane rocks. The drawing does not say which way the crew will fold
    the slab, and the two ways are not alike: one is a ridge that sheds, the other a valley that ends at the wall.
When it does not apply
    It applies wherever heights are known. A surface of several hundred shots was measured, not drawn, and is met.
How to put it right
    Give a height in the middle, or draw the fold: a valley, a ridge or a grade break from corner to opposite corner.
Where sources differ
    None is known. 1/4 in is what a screed leaves anyway, by common practice. A drive or a walk that turns its crossfall
    is struck off across, from form to form, and winds evenly between them: nobody draws a fold there. So does a slab
    that is struck off from old paving, which the board rides on.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Four corners fold one way only"
LIMITS = (
    Limit("difference_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/16 in", "1 in"),
          "difference in the middle between the two ways a four-corner piece can fold"),
    Limit("long_difference_at_most", "1/4 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/16 in", "1 in"),
          "difference in the middle between the two ways a piece that is struck off across can fold"),
)  # fmt: skip
WORKED = ()
LONG = 2.0  # lengths to a width from which a piece is struck off across (common practice)
STRUCK, REACH = ("driveway", "walk"), 16 * FOOT  # struck off across, from form to form, so far (common practice)
NAMED = 3  # pieces; more are counted
AT_DRAIN = 0.01  # m
IN_PLANE = 1e-5  # m; on arcs a plane comes out this true, and which piece is worst hangs on rounding


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The piece whose two folds differ most, and with it all others that differ too much; long ones apart."""
    needs_heights(plan)
    open_folds = [fold for fold in plan.finish.folds if _off(fold) > IN_PLANE and not _jointed(plan, fold)]
    if not open_folds:
        whole = Spot("the whole slab", plan.place("heights.finish"))
        yield Margin(whole, depth(0), limits.difference_at_most)
    for long, limit in ((False, limits.difference_at_most), (True, limits.long_difference_at_most)):
        alike = [fold for fold in open_folds if _struck_across(plan, fold) is long]
        if alike:
            yield _worst(plan, alike, limit)


def _struck_across(plan: Plan, fold: Fold) -> bool:
    """Whether a piece winds evenly under a board: a long one, or one of a drive or a walk between two forms."""
    a, b, c, d = fold.corners
    sides = ((a, b), (c, d)), ((b, c), (d, a))
    one, other = (sum(math.dist(*side) for side in two) / 2 for two in sides)
    if max(one, other) >= LONG * min(one, other):
        return True
    within = [two for two, apart in zip(sides, (other, one), strict=True) if apart <= REACH]
    if plan.areas.at(fold.at).use in STRUCK and any(
        all(plan.edges.at(_middle(*side)) for side in two) for two in within
    ):
        return True
    return any(_ridden_on(plan, *two) for two in within)


def _ridden_on(plan: Plan, first: tuple[XY, XY], last: tuple[XY, XY]) -> bool:
    """Whether a board that strikes a piece off rides on old paving at one of two sides, and has a guide at both."""
    middles = _middle(*first), _middle(*last)
    beside = [{piece.beside for piece in plan.edges.at(middle)} for middle in middles]
    guided = (
        bool(by) or any(nearest_on(run.xy, middle)[0] < AT_DRAIN for run in plan.finish.lines if len(run.xy) > 1)
        for by, middle in zip(beside, middles, strict=True)
    )
    return any("existing slab" in by for by in beside) and all(guided)


def _middle(a: XY, b: XY) -> XY:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _worst(plan: Plan, open_folds: Sequence[Fold], limit: InForce) -> Conclusion:
    place = plan.place("heights.finish")
    folds = sorted(open_folds, key=lambda fold: (-round(_off(fold), 6), sorted(fold.names)))
    wrong = [fold for fold in folds if not limit.met(_off(fold))]
    arcs = any(corner.through for corner in plan.design.outline)
    known = [fold for fold in wrong if not arcs or _known(plan, fold)]  # points along an arc have no names
    curved = bool(wrong) and not known
    worst, wrong = (known or folds)[0], known or wrong
    high, low = max(worst.height, worst.other_height), min(worst.height, worst.other_height)
    places = "; ".join(f"{a}, {b}, {c} and {d}" for a, b, c, d in (fold.names for fold in wrong[:NAMED]))
    more = f" and in {len(wrong) - NAMED} more places" if len(wrong) > NAMED else ""
    near = _nearest_known(plan, worst)
    where = f"the curve near {near}" if curved else f"the part between {', '.join(worst.names)}"
    return compare(
        Spot(where, place, (*worst.corners, worst.corners[0])),
        depth(_off(worst)), limit,
        says=lambda: words("the slab is twisted along its curve, most near {near}", near=near) if curved else
                     words("the slab folds two ways between {places}", places=places + more),
        working=lambda: step("difference in the middle", "higher fold - lower fold", words(
            "{h} - {l}", h=height(high), l=height(low)), depth(high - low)),
        remedy=lambda: [] if curved else _ways(plan, wrong),
        decide=lambda: words("give more heights along both sides of the curve" if curved else
                             "give a height in the middle of each"),
    )  # fmt: skip


def _known(plan: Plan, fold: Fold) -> bool:
    """Whether every corner is a point whose height the file gives."""
    return {spot.at.name for spot in plan.design.heights.finish}.issuperset(fold.names)


def _nearest_known(plan: Plan, fold: Fold) -> str:
    x, y = fold.at
    return min(plan.design.heights.finish, key=lambda spot: math.hypot(spot.at.x - x, spot.at.y - y)).at.name


def _off(fold: Fold) -> float:
    return abs(fold.height - fold.other_height)


def _jointed(plan: Plan, fold: Fold) -> bool:
    """Whether a joint runs along a diagonal, or the lowest corner is a drain: the slab is screeded to it."""
    a, b, c, d = fold.corners
    drains = [one.at for one in plan.fixtures.all if one.fixture.kind == "drain"]
    drained = [at for at in fold.corners if any(math.dist(at, drain) < AT_DRAIN for drain in drains)]
    if drained:
        heights = {at: plan.finish.at(at) or 0.0 for at in fold.corners}
        if min(heights[at] for at in drained) < min(heights.values()) + IN_PLANE:
            return True
    return plan.joints.run_along(a, c) or plan.joints.run_along(b, d)


def _ways(plan: Plan, folds: Sequence[Fold]) -> list[Remedy]:
    """A grade break along one diagonal of each piece: the lower of all of them, or the other of a single one.

    A line can only be drawn between points that have heights.
    """
    given = {spot.at.name for spot in plan.design.heights.finish}

    def drawn(first: str, last: str, middle: float) -> list[Remedy]:
        told = "draw a grade break from {first} to {last} if the middle is meant at {height}"
        says = words(told, first=first, last=last, height=height(middle))
        line = append("heights.lines", {"kind": "grade break", "along": (first, last)}, says)
        return [line] if given.issuperset((first, last)) else []

    along = [drawn(fold.names[0], fold.names[2], fold.height) for fold in folds]
    across = [drawn(fold.names[1], fold.names[3], fold.other_height) for fold in folds]
    if len(folds) == 1:
        (one,), (other,) = along, across
        return [*one, *other]
    return [together(*(one for (one,) in along))] if all(along) else []
