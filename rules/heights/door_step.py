"""The step from each door down to the slab can be walked, and keeps the rain out.

What is compared
    Compares the height of each door's sill above the slab, or above the last tread of steps poured with it that
    `leads_to` the door, with 7 3/4 in; where the door swings out over it, with 1 1/2 in, as a note but at the exit that
    the code requires. As a step against the rain the same height is compared with 1 in, and with 1/4 in at a way in for
    wheelchairs, at a door for vehicles, and where the file asks for a slab 1/2 in under the sill at most. A slab above
    the sill is a hold everywhere.
Why it matters
    A person who steps out backwards with a tray does not look. A riser a little too high is where people fall. A slab
    flush with the sill lets in the first storm that comes from that side.
When it does not apply
    No door is drawn at the slab. The sill of a door that is given among the fixed heights alone is held to the riser,
    where the file has no steps, and by `slab-below-fixed` to the rain. Nothing is asked against rain under a roof, at a
    door with a canopy (`canopy: true`), or where a channel lies along three quarters of the door, or a drain at it. The
    threshold of an accessible door is judged by `accessible-route`, a flight of steps by `step-sizes`.
How to put it right
    Pour a step or two. A slab that is raised to the sill instead brings its water along.
Where sources differ
    7 3/4 in and, at the exit that the code requires, 1 1/2 in under a door that swings out are the dwelling code's, and
    hold in US designs at that exit and where steps are drawn; elsewhere the riser is good practice, and a caution, and
    garden doors open out over a step everywhere, so that is a note. A handbook asks 1 in under a sill, better 2 in.
    Garages are poured with 1/2 to 3/4 in at the door.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "A door step people can walk, above the rain"
LIMITS = (
    Limit("step_at_most", "7 3/4 in", Kind.DEPTH, "hold", Cite("irc-r311.3", "R311.3.2"), ("4 in", "9 in"),
          "last step to a door with steps, or at the required exit"),
    Limit("bare_step_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-r311.3", "R311.3.2"), ("4 in", "9 in"),
          "step at any other door"),
    Limit("exit_step_at_most", "1 1/2 in", Kind.DEPTH, "hold", Cite("irc-r311.3", "R311.3.1"), ("1/4 in", "8 in"),
          "step at the required exit where the door swings over the slab"),
    Limit("swing_step_at_most", "1 1/2 in", Kind.DEPTH, "note", Cite("irc-r311.3", "R311.3.1"), ("1/4 in", "8 in"),
          "step at any other door that swings over the slab"),
    Limit("sill_above_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "2 in"),
          "sill above the slab"),
    Limit("weather_step_at_least", "1 in", Kind.DEPTH, "caution", Cite("beall", "p. 285"), ("0 in", "4 in"),
          "sill above the slab where rain can come"),
    Limit("low_lip_at_least", "1/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "1 in"),
          "sill above the slab at a level way in or a door for vehicles, where rain can come"),
)  # fmt: skip
WORKED = ()
USUAL_TREAD = 12 * INCH
RAISED_AT_MOST = 4 * INCH  # m: by more, a slab is not brought up to a door


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The highest and the lowest step of each door."""
    alone = () if plan.flights.all else plan.doors.sills_alone
    if not plan.doors.all and not alone:
        does_not_apply("no door is drawn")
    needs_heights(plan)
    met = [[one for one in plan.fixed.matches if one.fixed.name == sill.name] for sill in alone]
    at_slab = [one for one in plan.doors.all if one.slab is not None]
    if not at_slab and not any(met):
        does_not_apply("no door stands at the slab")
    known = [one for one in at_slab if one.fixture.sill]
    if not known and not any(met):
        such = such_height(plan, "100.00", "100.000")
        not_shown(f"fixtures, sill: the height of the sill of {at_slab[0].name}, such as {such}",
                  place=at_slab[0].fixture.place)  # fmt: skip
    yield from (_up_to_sill(plan, matches, limits) for matches in met if matches)
    for door in known:
        yield from _up(plan, door, limits)
        yield from _rain(plan, door, limits)


def _tops(plan: Plan, door: PlannedFixture) -> list[tuple[float, XY]]:
    """The heights that people stand on before a door: of the slab there, or of steps poured on it.

    The top tread of a flight with a foot stands as high over the foot as its risers, whatever the slab does under it.
    """
    places = [door.at, *((p.x, p.y) for p in door.fixture.along)]
    if (tread := _tread(plan, door)) is not None:
        return [(tread, at) for at in places]
    up = plan.flights.poured_rise(door.name)
    return [(top + up, at) for at in places if (top := plan.finish.at(at)) is not None]


def _tread(plan: Plan, door: PlannedFixture) -> float | None:
    """The height of the top tread of a flight that is drawn up to a door, m; None where none is."""
    return plan.flights.tread_at(door.at) if plan.flights.up_to(door.name) else None


def _step_limits(plan: Plan, door: PlannedFixture, limits: Limits) -> tuple[InForce, ...]:
    """What the step at a door is held against; the code of dwellings holds in US designs."""
    by_code, swings = plan.home == "us", door.fixture.swings_over is True
    if swings and door.fixture.required_exit and by_code:
        return (limits.exit_step_at_most,)
    steps = bool(plan.flights.up_to(door.name)) or door.fixture.required_exit
    usual = limits.step_at_most if steps and by_code else limits.bare_step_at_most
    return (usual, limits.swing_step_at_most) if swings else (usual,)


def _up(plan: Plan, door: PlannedFixture, limits: Limits) -> Conclusions:
    if plan.doors.for_vehicles(door) or plan.doors.accessible(door) or door.fixture.sill is None:
        return
    kept = _step_limits(plan, door, limits)
    top, sill = min(_tops(plan, door))[0], door.fixture.sill.si
    shown, least = depth(sill - top), min(kept, key=lambda limit: limit.value.si)

    def working() -> tuple[Step, ...]:
        down = step("step", "sill - slab", words("{s} - {t}", s=height(sill), t=height(top)), shown)
        if least.name in ("exit_step_at_most", "swing_step_at_most"):
            return (down,)
        numbers = words("{h} / {most}", h=shown, most=least.value)
        risers = count(_risers(shown.si, least.value.si))
        return down, step("risers, if steps are built", "step / most, rounded up", numbers, risers)

    def decide() -> Words:
        if least.name in ("exit_step_at_most", "swing_step_at_most"):
            return words("pour a landing as wide as {door}, {most} under its sill, with steps down from it; or let the "
                         "door swing in", door=door.name, most=least.value)  # fmt: skip
        if flights := plan.flights.up_to(door.name):
            whole = shown.si + plan.flights.poured_rise(door.name)
            risers = _risers(whole, least.value.si)
            return words("make {flight} {n} risers of {each}, the last onto the sill", flight=flights[0].name,
                         n=count(risers), each=even_riser(plan, whole, risers))  # fmt: skip
        return words("pour steps up to {door}", door=door.name)

    yield compare(
        spot(door), shown, *kept, give=plan.finish.give,
        says=lambda: words("the step down from {door} is too high", door=door.name),
        working=working,
        remedy=lambda: _brought_up(plan, door, shown.si, least),
        decide=decide,
    )  # fmt: skip


def _risers(rise: float, most: float) -> int:
    """The fewest risers that take a rise, none of them over the most, m."""
    return math.ceil(rise / most - 1e-6)


def _up_to_sill(plan: Plan, matches: Sequence[FixedMatch], limits: Limits) -> Finding | Margin:
    """The step to a sill whose door is not drawn."""
    match = min(matches, key=lambda one: one.slab)
    numbers, shown = words("{s} - {t}", s=height(match.height), t=height(match.slab)), depth(match.height - match.slab)
    return compare(
        spot(match), shown, limits.bare_step_at_most, give=plan.finish.give,
        says=lambda: words("the step down from {sill} is too high", sill=match.fixed.name),
        working=lambda: step("step", "sill - slab", numbers, shown),
        decide=lambda: words("pour steps up to {sill}", sill=match.fixed.name),
    )  # fmt: skip


def _brought_up(plan: Plan, door: PlannedFixture, drop: float, most: InForce) -> list[Remedy]:
    """Steps poured up to the door, or a slab raised by a little."""
    found: list[Remedy] = []
    if most.name in ("step_at_most", "bare_step_at_most"):
        found += _steps(plan, door, drop, most.value.si)
    if meets(drop - most.value.si, RAISED_AT_MOST, "most") and door.fixture.sill and _tread(plan, door) is None:
        target = door.fixture.sill.si - plan.flights.poured_rise(door.name) - most.value.si
        wanted = [(at, target) for one, at in _tops(plan, door) if not most.met(door.fixture.sill.si - one)]
        found += new_heights(plan, plan.grades.moved(wanted, up=True))
    return found


def _steps(plan: Plan, door: PlannedFixture, drop: float, most: float) -> list[Remedy]:
    """A flight of even risers; of one that is drawn, as many more as are needed."""
    whole = drop + plan.flights.poured_rise(door.name)
    risers = _risers(whole, most)
    each = even_riser(plan, whole, risers)
    for steps in (one.steps for one in plan.flights.up_to(door.name)):
        if steps.risers:
            return []
        says = words("make it {n} risers of {each}: pour {poured} of them, the last is the step to the sill",
                     n=count(risers), each=each, poured=count(risers - 1))  # fmt: skip
        return [together(write(f"{steps.place.path}.riser", each, says),
                         write(f"{steps.place.path}.count", count(risers - 1), says), says=says)]  # fmt: skip
    wide = length(max(plan.doors.line(door).length, 3 * 12 * INCH))
    entry: dict[str, Amount | str] = {
        "name": f"{door.name} steps", "width": wide, "tread": depth(0.3 if plan.home == "metric" else USUAL_TREAD),
        "riser": each, "count": count(risers - 1), "leads_to": door.name,
    }  # fmt: skip
    says = words("pour steps up to {door}: {n} risers of {each}, the last onto the sill",
                 door=door.name, n=count(risers), each=each)  # fmt: skip
    return [append("thickness.steps", entry, says)]


def _rain(plan: Plan, door: PlannedFixture, limits: Limits) -> Conclusions:
    if door.fixture.sill is None:
        return
    kept, sill = [limits.sill_above_at_least], door.fixture.sill.si
    level = plan.doors.for_vehicles(door) or plan.doors.low_threshold(door)
    if plan.rained_on(plan.areas.at(door.at)) and not plan.doors.dry(door):
        kept.append(limits.low_lip_at_least if level else limits.weather_step_at_least)
    tops = _tops(plan, door)
    top, most = max(tops)[0], max(kept, key=lambda limit: limit.value.si)
    shown = depth(sill - top)

    channel = plan.doors.channel_short(door) if shown.si >= 0 else ""

    def remedies() -> list[Remedy]:
        if channel:
            return []
        target = sill - plan.flights.poured_rise(door.name) - most.value.si
        wanted = [(at, target) for one, at in tops if not most.met(sill - one)]
        alone = new_heights(plan, plan.grades.moved(wanted, up=False)) if _tread(plan, door) is None else []
        return [*alone, *whole_slab_moved(plan, sill - most.value.si - top)]

    def told() -> Words:
        if shown.si < 0:
            return words("the slab stands above the sill of {door}", door=door.name)
        if channel:
            return words("rain can blow in at {door}, past the end of {channel}", door=door.name, channel=channel)
        return words("rain can blow in at {door}", door=door.name)

    def decide() -> Words:
        if channel:
            return words("carry {channel} on along the whole width of {door}", door=door.name, channel=channel)
        return words("lower the slab before {door}, lay a channel along it, or build a canopy over it", door=door.name)

    yield compare(
        spot(door), shown, *kept, give=plan.finish.give,
        says=told,
        working=lambda: step("step", "sill - slab", words("{s} - {t}", s=height(sill), t=height(top)), shown),
        remedy=remedies,
        decide=decide,
    )  # fmt: skip
