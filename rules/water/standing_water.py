"""No low spot holds water: the surface has no basin without a drain.

What is compared
    For every closed low spot of the finish surface the depth of the water that stays in it after rain, and its area.
    Walls, curbs and ground above the slab dam water; an edge that lets it out, or a drain at the lowest point, empties
    the spot. Over 1/8 in deep is a caution; over 1/4 in, or over 10 ft2 as well, a hold.
Why it matters
    A dip in the drawing is built every time. The puddle leaves a ring, then moss, then ice, and in salt and frost its
    surface scales off first. Against a wall it is a leak.
When it does not apply
    Level floors under a roof, where no water comes. A garage floor is judged: cars bring rain and snow in.
How to put it right
    Raise the low point to where the water spills and a little more, or put a drain at the lowest point.
Where sources differ
    No concrete tolerance limits shallow puddles; an Australian data sheet accepts 10 mm for 15 minutes, court builders
    1/16 in after an hour. Those speak of the slab as built. In a drawing there is no reason for a basin, and the
    figures here are common practice.
"""

from __future__ import annotations

from slabwright.plan.things import Pond
from slabwright.rulebook.kit import *

TITLE = "No low spot holds water"
LIMITS = (
    Limit("depth_at_most", "1/4 in", Kind.DEPTH, "hold", Cite("common-practice"), ("1/16 in", "1 in"),
          "depth of water standing after rain"),
    Limit("area_at_most", "10 ft2", Kind.AREA, "hold", Cite("common-practice"), ("1 ft2", "200 ft2"),
          "area of standing water deeper than the least that counts"),
    Limit("shallow_depth_at_most", "1/8 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/32 in", "1/2 in"),
          "depth of water standing after rain that dries without harm"),
)  # fmt: skip
WORKED = ()
TOLD = 8  # low spots told one by one, the largest first; all smaller ones are told together
FALL = 0.01  # that a raised low point gets towards where the water spills (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each low spot by its depth, or by its area where that is the heavier."""
    if not plan.outdoors and plan.design.use != "garage floor":
        does_not_apply("no rain falls on it")
    if not plan.finish.surface:
        heights_not_shown(plan)
    if not plan.water.outlets:
        does_not_apply("no edge, drain or opening takes water at all")
    deep, wide, shallow = limits.depth_at_most, limits.area_at_most, limits.shallow_depth_at_most
    ponds = plan.water.ponds
    if not ponds:
        yield Margin(plan.spot("the whole slab", "heights.finish"), depth(0), shallow)
    short = [pond for pond in ponds if not (deep.met(pond.depth) and shallow.met(pond.depth))]
    for pond in ponds:
        if pond not in short:
            yield Margin(_spot(plan, pond, 0), depth(pond.depth), shallow)
    told = [(pond, 0) for pond in short[:TOLD]]
    if short[TOLD:]:
        told.append((max(short[TOLD:], key=lambda pond: pond.depth), len(short) - TOLD - 1))
    for pond, more in told:
        by_area = deep.met(pond.depth) and not wide.met(pond.area)
        shown, judged = (area(pond.area), [wide]) if by_area else (depth(pond.depth), [deep, shallow])
        lowest, level, place = height(pond.level - pond.depth), height(pond.level), plan.shape.name_at(pond.deepest)
        yield compare(
            _spot(plan, pond, more), shown, *judged,
            says=lambda: _told(pond, place, more),
            working=lambda: step("depth of water", "height where it spills - lowest point",
                                 words("{level} - {lowest}", level=level, lowest=lowest), depth(pond.depth)),
            remedy=lambda: [] if more else set_heights(plan.grades.raised_pond(pond, FALL)),
            decide=lambda: words("put a drain at {place}, its rim at {lowest}", place=place, lowest=lowest),
        )  # fmt: skip


def _spot(plan: Plan, pond: Pond, more: int) -> Spot:
    name = f"low spot at {plan.shape.name_at(pond.deepest)}" + (f" and {more} more" if more else "")
    return Spot(name, plan.place("heights.finish"), pond.outline[0])


def _told(pond: Pond, place: str, more: int) -> Words:
    against = f", against {', '.join(dict.fromkeys(pond.against[:3]))}" if pond.against else ""
    says = "water stands at {place}{against}" + (f", and in {more} more place{'s' * (more > 1)}" if more else "")
    return words(says, place=place, against=against)
