"""Bars across an inside corner are long enough, and two of them.

What is compared
    The number of bars at each corner with two, and their length with 4 ft.
Why it matters
    A crack from a corner runs straight out between the two sides. A bar across it has to reach a foot or two to each
    side before it holds anything: a 2 ft stub comes out like a nail, and one bar leaves the crack wide at the top.
When it does not apply
    No corner bars are drawn.
How to put it right
    Two #5 bars 4 ft long, square across the crack, as high as the cover allows, tied to chairs. They go in as well as
    the joint and not in place of it.
Where sources differ
    The bars are a typical detail, shown in ACI 360R and asked by nobody; Army mats rely on them. Number, length and
    size are common practice, so all of it is a note. #4 is used as well and is left alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import APPLIES, Cite, Finding, Limit, Limits, Margin, Relevance, Spot, does_not_apply
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count

TITLE = "Corner bars that reach"
LIMITS = (
    Limit("bars_at_least", "2", Kind.COUNT, "note", Cite("common-practice"), ("1", "4"), "bars at an inside corner"),
    Limit("length_at_least", "4 ft", Kind.LENGTH, "note", Cite("common-practice"), ("2 ft", "8 ft"),
          "length of a bar at an inside corner"),
)  # fmt: skip
WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """Corner bars are drawn."""
    steel = plan.design.reinforcement
    return APPLIES if steel and steel.corner_bars else does_not_apply("no corner bars are drawn")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Number, then length, of each set of bars."""
    steel = plan.design.reinforcement
    for one in steel.corner_bars if steel else ():
        corners = " and ".join(plan.shape.name_at((point.x, point.y)) for point in one.at)
        at = Spot(f"the bars at {corners}", one.place, tuple((point.x, point.y) for point in one.at))
        if limits.bars_at_least.met(float(one.count)):
            yield Margin(at, count(one.count), limits.bars_at_least)
        else:
            says = words("a single bar leaves the crack at {corners} open at the top", corners=corners)
            to_pass = words("lay {write} bars at {corners}", write=limits.bars_at_least.value, corners=corners)
            yield Finding(at, says, count(one.count), limits.bars_at_least, (), to_pass)
        if limits.length_at_least.met(one.length):
            yield Margin(at, one.length, limits.length_at_least)
        else:
            says = words("{bars} are too short to hold anything", bars=at.name)
            to_pass = words("make {bars} {write} long", bars=at.name, write=limits.length_at_least.value)
            yield Finding(at, says, one.length, limits.length_at_least, (), to_pass)
