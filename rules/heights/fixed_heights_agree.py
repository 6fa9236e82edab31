"""Heights that cannot move can all be met by one slab.

What is compared
    For every two fixed heights in sight of each other over the slab, before any finish height is chosen: the least fall
    that they force on it with 15 % on a drive and 1 in 12 elsewhere; and the greatest fall that they leave from a
    building to an edge that takes water, or a gutter, with 1 %. Where a height leaves room, the one that helps counts.
Why it matters
    A sill and a town walk do not care for each other. Where they do not agree, no screed finds a way: the crew splits
    the difference on the day, and the water stands at one of them, or the door drags.
When it does not apply
    Fewer than two fixed heights bind the slab in sight of each other.
How to put it right
    Settle it with the owner now: a step or a ramp between the two, a trench drain at the door, a threshold cut down,
    or the old walk taken out with the rest.
Where sources differ
    Towns allow drives from 10 to 25 %, 15 % is general advice. 1 in 12 is the steepest ramp. 1 % is what a guide for
    parking areas asks of any fall; a wall wants 2 % as well, which `fall-from-building` judges when heights are drawn.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.plan.things import FixedPair
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    compared,
    does_not_apply,
    step,
)
from slabwright.text.words import Words, words
from slabwright.units.quantity import Kind, depth, length, round_up, slope

TITLE = "Fixed heights that can all be met"
LIMITS = (
    Limit("drive_at_most", "15 %", Kind.SLOPE, "hold", Cite("drive-general-advice"), ("5 %", "30 %"),
          "fall of a drive that two fixed heights force on it"),
    Limit("slab_at_most", "1:12", Kind.SLOPE, "hold", Cite("ada-1991", "4.8.2"), ("2 %", "20 %"),
          "fall of any other slab that two fixed heights force on it"),
    Limit("room_to_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("pca-parking-guide"), ("0.3 %", "4 %"),
          "fall from a building to where water leaves that two fixed heights leave room for"),
)  # fmt: skip
WORKED = (
    Worked("1 in 12 as a percentage", slope(0.083), lambda: slopes.slope(1, 12), 0.0005, Cite("geometry"),
           "wa-ratio-1-in-12"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """Two fixed heights bind the slab, and each other."""
    if not plan.fixed.pairs:
        return does_not_apply("fewer than two fixed heights bind the slab in sight of each other")
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Every two of them, one way and the other."""
    steepest = "drive_at_most" if plan.design.use == "driveway" else "slab_at_most"
    for pair in plan.fixed.pairs:
        name = steepest if pair.bound == "least" else "room_to_fall_at_least"
        if pair.bound == "most" and not plan.outdoors:
            continue
        at = Spot(f"{pair.upper.name} and {pair.lower.name}", pair.upper.place, pair.at)
        shown, run = slope(slopes.slope(max(pair.fall, 0.0), pair.run)), length(pair.run)
        says = "from {upper} to {lower} the slab cannot be less steep than this"
        if pair.bound == "most":
            says = "between {upper} and {lower} there is no room for a fall"
        sort = "least" if pair.bound == "least" else "greatest"
        numbers = words("{f} / {r}", f=depth(max(pair.fall, 0.0)), r=run)
        yield compared(
            limits,
            (name,),
            at,
            shown,
            words(says, upper=pair.upper.name, lower=pair.lower.name),
            _to_pass(plan, pair, limits[name].value.si),
            (step("slope", f"{sort} fall that both allow / distance", numbers, shown),),
        )


def _to_pass(plan: Plan, pair: FixedPair, limit: float) -> Words:
    """How much lower the one that stands in the way would have to be."""
    wanted = slopes.fall(pair.run, limit)
    off = pair.fall - wanted if pair.bound == "least" else wanted - pair.fall
    write = round_up(depth(off), 0.001 if plan.system == "metric" else INCH / 8)
    if pair.bound == "least":
        return words("bring {name} down by {off}, or take {off} of it in a step", name=pair.upper.name, off=write)
    return words("bring {name} down by {off}, or let the water out before it", name=pair.lower.name, off=write)
