"""The step from each door down to the slab can be walked, and keeps the rain out.

What is compared
    The height of each door's sill above the slab, or above steps poured with it that `leads_to` the door. No step is
    over 7 3/4 in; at the exit that the code requires, where the door swings out over the slab, none over 1 1/2 in.
    Under 1 in is a caution for wind-blown rain, and a slab above the sill a hold.
Why it matters
    A person who steps out backwards with a tray does not look. A riser a little too high is where people fall. A slab
    flush with the sill lets in the first storm that comes from that side.
When it does not apply
    No door is drawn at the slab.
How to put it right
    Set the slab to the height given, or pour a step or a landing as wide as the door.
Where sources differ
    7 3/4 in and 1 1/2 in are the code's. A handbook asks 1 in under a sill, better 2 in. A level way in has neither.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import NewHeight, PlannedFixture
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    does_not_apply,
    heights_not_shown,
    not_shown,
    spot,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, depth, height

TITLE = "A door step people can walk, above the rain"
LIMITS = (
    Limit("step_at_most", "7 3/4 in", Kind.DEPTH, "hold", Cite("irc-r311.3", "R311.3.2"), ("4 in", "9 in"),
          "step at any door"),
    Limit("exit_step_at_most", "1 1/2 in", Kind.DEPTH, "hold", Cite("irc-r311.3", "R311.3.1"), ("1/4 in", "8 in"),
          "step at the required exit where the door swings over the slab"),
    Limit("sill_above_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "2 in"),
          "sill above the slab"),
    Limit("weather_step_at_least", "1 in", Kind.DEPTH, "caution", Cite("beall", "p. 285"), ("0 in", "4 in"),
          "sill above the slab where rain can come"),
)  # fmt: skip
WORKED = ()


def _doors(plan: Plan) -> list[PlannedFixture]:
    return [one for one in plan.fixtures.all if one.fixture.kind == "door"]


def relevant(plan: Plan) -> Relevance:
    """A door is drawn, with its sill, at a slab whose heights are known."""
    doors = _doors(plan)
    if not doors:
        return does_not_apply("no door is drawn")
    if not plan.finish.surface:
        return heights_not_shown(plan)
    if any(one.fixture.sill and one.slab is not None for one in doors):
        return APPLIES
    if not (bare := [one for one in doors if one.slab is not None and not one.fixture.sill]):
        return does_not_apply("no door stands at the slab")
    such = "100.00" if plan.design.height_unit in ("ft", "in") else "100.000"
    return not_shown(f"fixtures, sill: the height of the sill of {bare[0].name}, such as {such}",
                     place=bare[0].fixture.place)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The highest and the lowest step of each door."""
    for door in _doors(plan):
        sill, up = door.fixture.sill, plan.thickness.stepped_up(door.name)
        places = [door.at, *((p.x, p.y) for p in door.fixture.along)]
        tops = [(top + up, at) for at in places if (top := plan.finish.at(at)) is not None]
        if sill is None or not tops:
            continue
        exit_door = door.fixture.required_exit and door.fixture.swings_over is not False
        most = limits.exit_step_at_most if exit_door else limits.step_at_most
        for top, names in ((min(tops)[0], (most.name,)), (max(tops)[0], _rain(plan))):
            limit, target = limits.broken(sill.si - top, *names), sill.si - up - limits[names[-1]].value.si
            if limit is None:
                yield Margin(spot(door), depth(sill.si - top), limits[names[-1]])
            else:
                wanted = [(at, target) for one, at in tops if not limits[names[-1]].met(sill.si - one)]
                yield _finding(door, limit, (sill.si, top), plan.grades.moved(wanted, up=limit is most))


def _rain(plan: Plan) -> tuple[str, ...]:
    return ("sill_above_at_least", "weather_step_at_least") if plan.outdoors else ("sill_above_at_least",)


def _finding(
    door: PlannedFixture, limit: InForce, levels: tuple[float, float], changes: tuple[NewHeight, ...]
) -> Finding:
    sill, top = levels
    says = "the step down from {door} is too high"
    if limit.direction == "least":
        says = "the slab stands above the sill of {door}" if sill < top else "rain can blow in at {door}"
    working = [step("step", "sill - slab", words("{s} - {t}", s=height(sill), t=height(top)), depth(sill - top))]
    if limit.name == "step_at_most":
        risers = count(math.ceil((sill - top) / limit.value.si - 1e-6))
        numbers = words("{h} / {most}", h=depth(sill - top), most=limit.value)
        working.append(step("risers, if steps are built", "step / most, rounded up", numbers, risers))
    return Finding(
        at=spot(door),
        says=words(says, door=door.name),
        shown=depth(sill - top),
        limit=limit,
        working=tuple(working),
        to_pass=write_heights(changes, words("set the slab nearer to the sill of {door}", door=door.name)),
    )
