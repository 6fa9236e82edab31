"""Heights that cannot move can all be met by one slab.

What is compared
    For every two fixed heights in sight of each other over the slab, before any finish height is chosen: the least fall
    that they force on it with 15 % on a drive, 12 % on a walk, 1 in 12 elsewhere, and 25 % anywhere; and the greatest
    fall that they leave from a building to an edge that takes water, or a gutter, with 1 %, unless another edge that
    takes water is nearer to that wall. Where a height leaves room, the one that helps counts.
Why it matters
    A sill and a town walk do not care for each other. Where they do not agree, no screed finds a way: the crew splits
    the difference on the day, and the water stands at one of them, or the door drags.
When it does not apply
    Fewer than two fixed heights bind the slab in sight of each other.
How to put it right
    Settle it with the owner now: a step or a ramp between the two, a trench drain at the door, a threshold cut down,
    or the old walk taken out with the rest.
Where sources differ
    Towns allow drives from 10 to 25 %, 15 % is general advice. 1 in 12 is the steepest ramp. Over 25 % the two heights
    contradict each other: that is a hold. 1 % is what a guide for parking areas asks of any fall; a wall wants 2 % as
    well, which `fall-from-building` judges when heights are drawn.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Fixed heights that can all be met"
LIMITS = (
    Limit("any_at_most", "25 %", Kind.SLOPE, "hold", Cite("geometry"), ("15 %", "40 %"),
          "fall that two fixed heights force on any slab"),
    Limit("drive_at_most", "15 %", Kind.SLOPE, "caution", Cite("drive-general-advice"), ("5 %", "30 %"),
          "fall of a drive that two fixed heights force on it"),
    Limit("walk_at_most", "12 %", Kind.SLOPE, "caution", Cite("common-practice"), ("5 %", "20 %"),
          "fall of a walk that two fixed heights force on it"),
    Limit("slab_at_most", "1:12", Kind.SLOPE, "caution", Cite("ada-1991", "4.8.2"), ("2 %", "20 %"),
          "fall of any other slab that two fixed heights force on it"),
    Limit("room_to_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("pca-parking-guide"), ("0.3 %", "4 %"),
          "fall from a building to where water leaves that two fixed heights leave room for"),
)  # fmt: skip
STEEPEST = {"driveway": "drive_at_most", "walk": "walk_at_most"}  # of other uses slab_at_most
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Every two of them, one way and the other."""
    if not plan.fixed.pairs:
        does_not_apply("fewer than two fixed heights bind the slab in sight of each other")
    for pair in plan.fixed.pairs:
        if pair.bound == "least":
            kept: tuple[InForce, ...] = (limits.any_at_most, limits[STEEPEST.get(plan.design.use, "slab_at_most")])
            says, sort = "from {upper} to {lower} the slab cannot be less steep than this", "least"
        elif plan.outdoors:
            kept = (limits.room_to_fall_at_least,)
            says, sort = "between {upper} and {lower} there is no room for a fall", "greatest"
        else:
            continue
        fall, run, limit = depth(max(pair.fall, 0.0)), length(pair.run), kept[-1]
        shown = slope(slopes.slope(fall.si, run.si))
        yield compare(
            Spot(f"{pair.upper.name} and {pair.lower.name}", pair.upper.place, pair.at), shown, *kept,
            give=fall_give(plan, limit.value, run.si),
            says=lambda: words(says, upper=pair.upper.name, lower=pair.lower.name),
            working=lambda: step("slope", f"{sort} fall that both allow / distance",
                                 words("{f} / {r}", f=fall, r=run), shown),
            decide=lambda: _settled(plan, pair, limit.value.si),
        )  # fmt: skip


def _settled(plan: Plan, pair: FixedPair, limit: float) -> Words:
    """How much lower the one that stands in the way would have to be."""
    wanted = slopes.fall(pair.run, limit)
    off = pair.fall - wanted if pair.bound == "least" else wanted - pair.fall
    write = round_up(depth(off), 0.001 if plan.system == "metric" else INCH / 8)
    if pair.bound == "least":
        return words("bring {name} down by {off}, or take {off} of it in a step", name=pair.upper.name, off=write)
    return words("bring {name} down by {off}, or let the water out before it", name=pair.lower.name, off=write)
