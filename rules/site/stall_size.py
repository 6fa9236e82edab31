"""An accessible parking stall and its aisle are wide enough to get a chair out.

What is compared
    Compares the width of each stall under `stalls` with 96 in, or with 132 in where it is for a van, or 96 in with an
    aisle of 96 in; the width of its access aisle with 60 in; the length of the aisle with that of the stall; and how
    far apart the two lie. Width is that of the narrowest strip the shape fits in, so a stall at an angle is measured
    square to its long sides.
Why it matters
    The chair stands beside the open door, and turns there. In an aisle of 4 ft the ramp of a van ends against the next
    car. The lines are paint, but the joints, the flat part and the curb ramp are not, and they follow the lines.
When it does not apply
    No stall is drawn.
How to put it right
    Move the line or the joint, and take the width from a stall beside. Two stalls may share one aisle between them.
Where sources differ
    Widths run to the middle of the lines, and to the end of the paving where there is no line. How many stalls a lot
    wants, and how many for vans, is another count: ask the permit desk.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "An accessible stall with room beside it"
LIMITS = (
    Limit("car_width_at_least", "96 in", Kind.LENGTH, "caution", Cite("ada-2010", "502.2"), ("84 in", "144 in"),
          "width of an accessible stall for a car"),
    Limit("van_width_at_least", "132 in", Kind.LENGTH, "caution", Cite("ada-2010", "502.2"), ("96 in", "168 in"),
          "width of an accessible stall for a van beside an aisle of the usual width"),
    Limit("van_by_wide_aisle_at_least", "96 in", Kind.LENGTH, "caution", Cite("ada-remembered", "502.2"),
          ("84 in", "144 in"), "width of an accessible stall for a van beside an aisle of {96 in|2.4 m}"),
    Limit("aisle_width_at_least", "60 in", Kind.LENGTH, "caution", Cite("ada-2010", "502.3"), ("36 in", "120 in"),
          "width of an access aisle"),
    Limit("part_of_stall_at_least", "1", Kind.RATIO, "caution", Cite("ada-remembered", "502.3.2"), ("1/2", "1"),
          "length of an access aisle, as part of that of its stall"),
    Limit("apart_at_most", "2 in", Kind.DEPTH, "caution", Cite("ada-remembered", "502.3"), ("0 in", "12 in"),
          "how far an access aisle lies from its stall"),
)  # fmt: skip
WORKED = ()
WIDE = 96 * INCH  # m: an aisle beside which a stall for a van may be as narrow as one for a car


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Width of each stall, then width, length and place of its aisle."""
    if not plan.stalls.all:
        does_not_apply("no accessible stall is drawn (stalls)")
    if not any(one.aisle for one in plan.stalls.all):
        not_shown("stalls, aisle: the corners of the access aisle beside the stall, such as [B, E, F, C]",
                  place=plan.stalls.all[0].stall.place)  # fmt: skip
    for one in plan.stalls.all:
        yield _width(one, limits)
        if one.aisle:
            yield from _aisle(one, one.aisle, limits)


def _width(one: PlannedStall, limits: Limits) -> Finding | Margin:
    limit = limits.car_width_at_least
    if one.stall.kind == "van":
        wide = one.aisle is not None and meets(one.aisle.width, WIDE, "least")
        limit = limits.van_by_wide_aisle_at_least if wide else limits.van_width_at_least
    shown = length(one.space.width)
    return compare(
        Spot(one.space.name, one.stall.place, one.space.ring), shown, limit,
        says=lambda: words("{stall} is narrow for a {kind}", stall=one.space.name, kind=one.stall.kind),
        decide=lambda: words("draw {stall} {least} wide: {more} more", stall=one.space.name, least=limit.value,
                             more=length(limit.value.si - shown.si)),
    )  # fmt: skip


def _aisle(one: PlannedStall, aisle: StallPart, limits: Limits) -> Conclusions:
    at, width, least = Spot(aisle.name, one.stall.place, aisle.ring), length(aisle.width), limits.aisle_width_at_least
    yield compare(
        at, width, least,
        says=lambda: words("the {aisle} is narrow for a chair beside an open door", aisle=aisle.name),
        decide=lambda: words("draw the {aisle} {least} wide: {more} more", aisle=aisle.name, least=least.value,
                             more=length(least.value.si - width.si)),
    )  # fmt: skip
    whole, long = length(one.space.length), length(aisle.length)
    yield compare(
        at, ratio(aisle.length / one.space.length), limits.part_of_stall_at_least,
        says=lambda: words("the {aisle} is shorter than its stall", aisle=aisle.name),
        working=lambda: step("part of the stall", "length of the aisle / length of the stall",
                             words("{a} / {s}", a=long, s=whole), ratio(aisle.length / one.space.length)),
        decide=lambda: words("draw the {aisle} {whole} long, as its stall", aisle=aisle.name, whole=whole),
    )  # fmt: skip
    yield compare(
        at, depth(float(aisle.polygon.distance(one.space.polygon))), limits.apart_at_most,
        says=lambda: words("the {aisle} does not lie beside its stall", aisle=aisle.name),
        decide=lambda: words("draw the {aisle} along a long side of {stall}", aisle=aisle.name, stall=one.space.name),
    )  # fmt: skip
