"""Sides and diagonals taped on site are those of the plan.

What is compared
    Compares each length under `measured` with the distance of its two points on the plan. Up to 20 ft they may differ
    by 1/4 in, and a difference of 1/2 in is a hold. Over a longer length both grow with the length.
Why it matters
    Four sides do not hold a rectangle: it leans over like an empty crate. The diagonals hold it. Out of square by an
    inch, the joints miss the posts, the last row of pavers is cut to wedges, and the volume ordered is of another slab.
When it does not apply
    No length is given under `measured`.
How to put it right
    Tape it again, level and tight. For a right angle measure 3, 4 and 5, or 15, 20 and 25 ft: the longer the better.
    Then move the string, or the point on the plan.
Where sources differ
    Layout guides ask 1/8 to 1/4 in in 20 to 30 ft; the wider one is the caution here. The hold is twice as much, where
    a crew would tape all of it again. Both are common practice.
"""

from __future__ import annotations

import math

from slabwright.formulas import layout
from slabwright.rulebook.kit import *

TITLE = "Taped lengths agree with the plan"
LIMITS = (
    Limit("difference_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("common-practice"), ("1/8 in", "6 in"),
          "difference of a taped length and the plan, up to {20 ft|6 m}, where it is taped again"),
    Limit("fine_difference_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("layout-guide"), ("1/16 in", "2 in"),
          "difference of a taped length and the plan, up to {20 ft|6 m}"),
)  # fmt: skip
WORKED = (
    Worked("diagonal of 15 ft by 20 ft", length(25 * 0.3048), lambda: layout.diagonal(15 * 0.3048, 20 * 0.3048),
           1e-9, Cite("layout-texts")),
)  # fmt: skip
UP_TO = 20 * 0.3048  # m, to which the limits are meant: common practice


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each taped length; the limits of 20 ft are those of a drawn length over that, scaled."""
    if not plan.design.measured:
        does_not_apply("no taped lengths are written (measured)")
    for one in plan.design.measured:
        start, end = ((p.x, p.y) for p in one.along)
        first, last = plan.shape.name_at(start), plan.shape.name_at(end)
        drawn = math.dist(start, end)
        off = depth(abs(one.length.si - drawn))
        scale = max(1.0, drawn / UP_TO)
        broken = [limit for limit in limits.values() if not meets(off.si, limit.value.si * scale, "most")]
        tightest = min(limits.values(), key=lambda limit: limit.value.si)
        limit = min(broken, key=lambda each: WEIGHTS.index(each.weight), default=tightest)
        way = "longer" if one.length.si > drawn else "shorter"
        yield compare(
            Spot(f"{first}-{last}", one.place, (start, end)), off, limit, asked=depth(limit.value.si * scale),
            says=lambda: words("the tape from {first} to {last} reads {off} {way} than the plan",
                               first=first, last=last, off=off, way=way),
            working=lambda: step("difference", "taped - drawn", words(
                "{t} - {d}", t=one.length, d=length(drawn)), off),
            decide=lambda: words(
                "tape it again; if {write} is right, write that, else move {last} by {off} on the plan",
                write=length(drawn), last=last, off=off),
        )  # fmt: skip
