"""Bars across an inside corner are long enough, and two of them.

What is compared
    Compares the number of bars at each corner with two, and their length with 4 ft (1.2 m).
Why it matters
    A crack from a corner runs straight out between the two sides. A bar across it has to reach a foot or two to each
    side before it holds anything: a 2 ft stub comes out like a nail, and one bar leaves the crack wide at the top.
When it does not apply
    No corner bars are drawn.
How to put it right
    Lay two #5 bars 4 ft long square across the crack, as high as the cover allows, and tie them to chairs. They go in
    as well as the joint and not in place of it.
Where sources differ
    The bars are a typical detail, shown in ACI 360R and asked by nobody; Army mats rely on them. Number, length and
    size are common practice, so all of it is a note. #4 is used as well and is left alone.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Corner bars that reach"
LIMITS = (
    Limit("bars_at_least", "2", Kind.COUNT, "note", Cite("common-practice"), ("1", "4"), "bars at an inside corner"),
    Limit("length_at_least", "4 ft", Kind.LENGTH, "note", Cite("common-practice"), ("2 ft", "8 ft"),
          "length of a bar at an inside corner"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Number, then length, of each set of bars."""
    loose = [one for bed in plan.steel.beds for one in bed.steel.corner_bars]
    if not loose:
        does_not_apply("no corner bars are drawn")
    number, long = limits.bars_at_least, limits.length_at_least
    for one in loose:
        corners = " and ".join(plan.shape.name_at((point.x, point.y)) for point in one.at)
        at = Spot(f"the bars at {corners}", one.place, tuple((point.x, point.y) for point in one.at))
        yield compare(
            at, count(one.count), number,
            says=lambda: words("a single bar leaves the crack at {corners} open at the top", corners=corners),
            remedy=lambda: write(f"{one.place.path}.count", number.value, words(
                "lay {write} bars at {corners}", write=number.value, corners=corners)),
        )  # fmt: skip
        yield compare(
            at, one.length, long,
            says=lambda: words("{bars} reach no more than {half} past the crack to either side", bars=at.name,
                               half=length(one.length.si / 2)),
            remedy=lambda: write(f"{one.place.path}.length", long.value, words(
                "make {bars} {write} long", bars=at.name, write=long.value)),
        )  # fmt: skip
