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

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import Pond
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    does_not_apply,
    heights_not_shown,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, depth, height

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


def relevant(plan: Plan) -> Relevance:
    """Water comes to it, can leave somewhere, and every corner has a height."""
    if not plan.outdoors and plan.design.use != "garage floor":
        return does_not_apply("no rain falls on it")
    if not plan.finish.surface:
        return heights_not_shown(plan)
    return APPLIES if plan.water.outlets else does_not_apply("no edge, drain or opening takes water at all")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each low spot by its depth, or by its area where that is the heavier."""
    deep, wide, shallow = limits.depth_at_most, limits.area_at_most, limits.shallow_depth_at_most
    ponds = plan.water.ponds
    if not ponds:
        yield Margin(Spot("the whole slab", plan.place("heights.finish")), depth(0), shallow)
    short: list[tuple[Pond, InForce]] = []
    for pond in ponds:
        if deep.met(pond.depth) and shallow.met(pond.depth):
            yield Margin(_spot(plan, pond, 0), depth(pond.depth), shallow)
        else:
            broken = deep if not deep.met(pond.depth) else shallow if wide.met(pond.area) else wide
            short.append((pond, broken))
    for pond, limit in short[:TOLD]:
        yield _finding(plan, pond, limit, 0)
    if short[TOLD:]:
        pond, limit = max(short[TOLD:], key=lambda one: one[0].depth)
        yield _finding(plan, pond, limit, len(short) - TOLD - 1)


def _spot(plan: Plan, pond: Pond, more: int) -> Spot:
    name = f"low spot at {plan.shape.name_at(pond.deepest)}" + (f" and {more} more" if more else "")
    return Spot(name, plan.place("heights.finish"), pond.outline[0])


def _finding(plan: Plan, pond: Pond, limit: InForce, more: int) -> Finding:
    lowest, level, place = height(pond.level - pond.depth), height(pond.level), plan.shape.name_at(pond.deepest)
    against = f", against {', '.join(dict.fromkeys(pond.against[:3]))}" if pond.against else ""
    numbers = words("{level} - {lowest}", level=level, lowest=lowest)
    says = "water stands at {place}{against}" + (f", and in {more} more place{'s' * (more > 1)}" if more else "")
    return Finding(
        at=_spot(plan, pond, more),
        says=words(says, place=place, against=against),
        shown=area(pond.area) if limit.value.kind == Kind.AREA else depth(pond.depth),
        limit=limit,
        working=(step("depth of water", "height where it spills - lowest point", numbers, depth(pond.depth)),),
        to_pass=write_heights(
            () if more else plan.grades.raised_pond(pond, FALL),
            words("put a drain at {place}, its rim at {lowest}", place=place, lowest=lowest),
        ),
    )
