"""In front of a door the slab is level enough to stand on, and deep enough to step back.

What is compared
    Takes the steepest part of the slab within 36 in of each door that people use, as wide as the door, or of the treads
    where a flight up to the door stands on most of that, and compares its slope with 2.5 %, or with 3 % at the exit
    that the code requires, and where two walls stand in a corner or face each other over a passage of 20 ft at most. At
    a door on the accessible way it takes the 48 in before the door, 60 in where the door swings out, and compares with
    1 in 48. It also compares how far the slab reaches straight out from the door with the same 36, 48 or 60 in. A strip
    of 6 in between sill and slot drain is left out: one steps over it.
Why it matters
    At a door people stand with their hands full, turn, and step back without looking. On a tilted landing the leaf of
    the door swings uphill, a chair rolls, and in ice the first step out is the fall.
When it does not apply
    No rain falls on the slab, and no door swings out over steps on it; or no door opens on it. Overhead, roller and
    other doors for vehicles have no landing.
How to put it right
    Keep the first 3 ft gentle and take up the fall beyond. Along a house write 2 %: enough for the wall, and level
    enough to stand on. Where steps lead up to a door that swings out, pour a landing up there, or let it swing in.
Where sources differ
    The dwelling code prints 1/4 in 12 and 2 % side by side for the landing, and at least 2 % for paving at a
    foundation: a slab drawn at 2 % to the letter breaks one of them by a hair. So up to 2.5 % nothing is said; 2 % off
    each of two walls, or off one and out along the passage between two, is 2.8 % downhill. The access standards allow
    no more than 1 in 48. Depth is a caution: a walk beyond the edge may carry the landing on. 48 in and 60 in are
    recalled from the access standards.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "A landing at the door"
OUT, PUSHED, PULLED = 36 * INCH, 48 * INCH, 60 * INCH  # how far out a landing reaches: `irc-r311.3`; accessible doors
WRITTEN = 1 / 48  # what is advised: enough for the wall behind, and a landing by any standard
LIMITS = (
    Limit("accessible_slope_at_most", "1:48", Kind.SLOPE, "hold", Cite("ada-2010", "404.2.4.4"), ("1 %", "3 %"),
          "slope of the slab before a door on an accessible way"),
    Limit("exit_slope_at_most", "3 %", Kind.SLOPE, "hold", Cite("irc-r311.3", "R311.3.1"), ("1.5 %", "5 %"),
          "slope of the slab within {36 in|900 mm} of the required exit"),
    Limit("slope_at_most", "2.5 %", Kind.SLOPE, "caution", Cite("irc-r311.3", "R311.3.2"), ("1 %", "5 %"),
          "slope of the slab within {36 in|900 mm} of a door"),
    Limit("corner_slope_at_most", "3 %", Kind.SLOPE, "caution", Cite("common-practice"), ("1 %", "5 %"),
          "slope of the slab within {36 in|900 mm} of a door in a corner or a passage"),
    Limit("depth_at_least", "36 in", Kind.LENGTH, "caution", Cite("irc-r311.3"), ("24 in", "60 in"),
          "how far the slab reaches out from a door"),
    Limit("accessible_depth_at_least", "48 in", Kind.LENGTH, "caution", Cite("ada-remembered", "404.2.4"),
          ("36 in", "60 in"),
          "how far the slab reaches out from a door on an accessible way"),
    Limit("accessible_pull_at_least", "60 in", Kind.LENGTH, "caution", Cite("ada-remembered", "404.2.4"),
          ("48 in", "72 in"),
          "how far it reaches out from one that swings over it"),
)  # fmt: skip
WORKED = (
    Worked("a landing of 36 in at 2 %", depth(0.72 * INCH), lambda: slopes.fall(36 * INCH, 0.02), 1e-9,
           Cite("geometry"), "wa-landing-36"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The slope and the depth of each landing."""
    if not plan.outdoors:
        yield from _indoors(plan, limits)
        return
    if not plan.doors.all:
        does_not_apply("no door is drawn")
    if not plan.doors.for_people:
        does_not_apply("every door is for vehicles")
    needs_heights(plan)
    landings = [(one, plan.doors.landing(one.fixture, _out(plan, one))) for one in plan.doors.for_people]
    if not any(landing for _, landing in landings):
        _end_without_width(plan)
        does_not_apply("no door that people use opens on it")
    for door, landing in landings:
        if landing is not None:
            flight = plan.flights.over(door.name, landing.shape)
            if flight is None:
                yield _slope(plan, door, landing, limits)
            elif flight.steps.tread_slope is not None:
                yield _up_there(plan, door, flight, flight.steps.tread_slope, landing, limits)
            yield _depth(plan, door, landing, limits)


def _indoors(plan: Plan, limits: Limits) -> Conclusions:
    """Under a roof, as in a garage: the depth of the landing where a door swings out over its steps."""
    over = [one for one in plan.doors.for_people if one.fixture.swings_over is True and plan.flights.up_to(one.name)]
    if not over:
        does_not_apply("no rain falls on it, and no door swings out over steps")
    needs_heights(plan)
    landings = [(one, plan.doors.landing(one.fixture, _out(plan, one))) for one in over]
    if not any(landing for _, landing in landings):
        does_not_apply("no rain falls on it")
    yield from (_depth(plan, door, landing, limits) for door, landing in landings if landing is not None)


def _out(plan: Plan, door: PlannedFixture) -> float:
    if plan.doors.accessible(door):
        return PULLED if door.fixture.swings_over else PUSHED
    return OUT


def _end_without_width(plan: Plan) -> None:
    for one in plan.doors.for_people:
        if not one.fixture.along:
            such = "[[3, 0], [6, 0]]"
            not_shown(f"fixtures, along: the two ends of the width of {one.name}, such as {such}; or "
                      "its width, such as {3 ft|0.9 m}, and its middle (at)",
                      place=one.fixture.place)  # fmt: skip


def _kept(plan: Plan, door: PlannedFixture, limits: Limits) -> tuple[InForce, ...]:
    """What the slope before a door is held against, the heaviest first."""
    usual = limits.corner_slope_at_most if plan.walls.two_ways(door.at) else limits.slope_at_most
    if plan.doors.accessible(door):
        return (limits.accessible_slope_at_most,)
    if door.fixture.required_exit and plan.home == "us":
        return limits.exit_slope_at_most, usual
    return (usual,)


def _up_there(
    plan: Plan, door: PlannedFixture, flight: Flight, shown: Amount, landing: Landing, limits: Limits
) -> Finding | Margin:
    """The slope of the treads, and of the landing in place of one, that stand before a door."""
    kept = _kept(plan, door, limits)
    most = slope(min(WRITTEN, *(limit.value.si for limit in kept)))
    return compare(
        Spot(f"landing at {door.name}", flight.steps.place, landing.shape), shown, *kept,
        says=lambda: words("the treads before {door} are steep to stand on", door=door.name),
        remedy=lambda: [write(f"{flight.steps.place.path}.tread_slope", most,
                              words("let the treads of {flight} fall {most}", flight=flight.name, most=most))],
    )  # fmt: skip


def _slope(plan: Plan, door: PlannedFixture, landing: Landing, limits: Limits) -> Finding | Margin:
    kept = _kept(plan, door, limits)
    shown, out = slope(landing.slope), _out(plan, door)
    most = min(WRITTEN, *(limit.value.si for limit in kept))
    first = length(round(out, 1) if plan.home == "metric" else out)  # a tape has no 914 mm
    return compare(
        Spot(f"landing at {door.name}", door.fixture.place, landing.shape), shown, *kept,
        give=0.0 if plan.doors.accessible(door) else fall_give(plan, kept[-1].value, out),
        says=lambda: words("the landing at {door} is steep to stand on", door=door.name),
        working=lambda: step("fall over the landing", "slope x depth", words("{s} x {d}", s=shown, d=first),
                             depth(slopes.fall(first.si, shown.si))),
        remedy=lambda: [*new_heights(plan, plan.grades.level_off(landing.facets, most)),
                        *new_heights(plan, plan.grades.flatter(landing.facets, most))],
        decide=lambda: words("let the slab fall {f} in the first {out} at {door}",
                             f=depth(slopes.fall(first.si, most)), out=first, door=door.name),
    )  # fmt: skip


def _depth(plan: Plan, door: PlannedFixture, landing: Landing, limits: Limits) -> Finding | Margin:
    swings, flights, least = door.fixture.swings_over is True, plan.flights.up_to(door.name), limits.depth_at_least
    if plan.doors.accessible(door):
        least = limits.accessible_pull_at_least if swings else limits.accessible_depth_at_least
    over_steps = swings and bool(flights)
    treads = [one.goings[-1] if one.goings else one.steps.tread.si for one in flights]
    reach = length(min(treads) if over_steps else landing.depth)
    more = length(least.value.si - reach.si)

    def says() -> Words:
        if over_steps:
            return words("{door} swings out over its steps, with no landing up there", door=door.name)
        return words("the slab is shallow before {door}", door=door.name)

    def decide() -> Words:
        if over_steps:
            return words("pour a landing {least} deep up at {door}, {more} deeper than the tread there, or let the "
                         "door swing in", least=least.value, door=door.name, more=more)  # fmt: skip
        return words("let the slab reach {least} out from {door}: {more} more",
                     least=least.value, door=door.name, more=more)  # fmt: skip

    at = Spot(f"landing at {door.name}", door.fixture.place, landing.shape)
    return compare(at, reach, least, says=says, decide=decide)
