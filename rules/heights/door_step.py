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

from slabwright.rulebook.kit import *

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


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The highest and the lowest step of each door."""
    doors = [one for one in plan.fixtures.all if one.fixture.kind == "door"]
    if not doors:
        does_not_apply("no door is drawn")
    if not plan.finish.surface:
        heights_not_shown(plan)
    at_slab = [one for one in doors if one.slab is not None]
    if not at_slab:
        does_not_apply("no door stands at the slab")
    if not any(one.fixture.sill for one in at_slab):
        such = "100.00" if plan.design.height_unit in ("ft", "in") else "100.000"
        not_shown(f"fixtures, sill: the height of the sill of {at_slab[0].name}, such as {such}",
                  place=at_slab[0].fixture.place)  # fmt: skip
    for door in doors:
        yield from _judged(plan, door, limits)


def _judged(plan: Plan, door: PlannedFixture, limits: Limits) -> Conclusions:
    sill, up = door.fixture.sill, plan.flights.poured_rise(door.name)
    places = [door.at, *((p.x, p.y) for p in door.fixture.along)]
    tops = [(top + up, at) for at in places if (top := plan.finish.at(at)) is not None]
    if sill is None or not tops:
        return
    exit_door = door.fixture.required_exit and door.fixture.swings_over is not False
    most = limits.exit_step_at_most if exit_door else limits.step_at_most
    rain = (limits.sill_above_at_least, limits.weather_step_at_least)
    for top, kept in ((min(tops)[0], (most,)), (max(tops)[0], rain if plan.outdoors else rain[:1])):
        shown, last = depth(sill.si - top), kept[-1]

        def remedies() -> list[Remedy]:
            target = sill.si - up - last.value.si
            wanted = [(at, target) for one, at in tops if not last.met(sill.si - one)]
            return set_heights(plan.grades.moved(wanted, up=last is most))

        def says() -> Words:
            if last is most:
                return words("the step down from {door} is too high", door=door.name)
            told = "the slab stands above the sill of {door}" if shown.si < 0 else "rain can blow in at {door}"
            return words(told, door=door.name)

        def working() -> tuple[Step, ...]:
            down = step("step", "sill - slab", words("{s} - {t}", s=height(sill.si), t=height(top)), shown)
            if last is not limits.step_at_most:
                return (down,)
            risers = count(math.ceil(shown.si / most.value.si - 1e-6))
            numbers = words("{h} / {most}", h=shown, most=most.value)
            return down, step("risers, if steps are built", "step / most, rounded up", numbers, risers)

        yield compare(
            spot(door), shown, *kept, says=says, working=working, remedy=remedies,
            decide=lambda: words("set the slab nearer to the sill of {door}", door=door.name),
        )  # fmt: skip
