"""Heights that cannot move, and the falls that are asked, can all be met by one slab.

What is compared
    Takes everything that holds the slab at a height, whatever heights are drawn: fixed heights, sills of doors, rims of
    drains, old slabs and asphalt that it meets, the base where it is shot, the ground at the one edge over which water
    may leave. Between all of these it compares, one after the other, the least fall with which they can be met with
    15 % on a drive, 12 % on a walk, 1 in 12 elsewhere, and 25 % anywhere; the step at a door with 7 3/4 in; how much
    thinner than designed the slab gets over the base with 3/4 in; the lip at an old slab with 1/2 in, where the public
    goes 1/4 in, where only wheels cross 3/4 in, and a planned step there with 7 3/4 in, or with 2 in where wheels cross
    it; the lip over the ground with none. Then it compares the greatest fall that all of them leave:
    from a wall to where water leaves with 1 %, and it must not lead back to the wall; away from a wall, as far as the
    slab reaches within 10 ft, with 2 % (1:80 in metric jobs); along a drawn valley to its open end with 0.5 %. Where a
    height leaves room, the one that helps counts.
Why it matters
    A sill and a town walk do not care for each other. Where they do not agree, no screed finds a way: the crew splits
    the difference on the day, and the water stands at one of them, or the door drags.
When it does not apply
    Fewer than two such heights bind the slab, or nothing is asked between them.
How to put it right
    Settle it with the owner now: a step or a ramp between the two, a valley or a trench drain before the wall, a
    threshold cut down, or the old walk taken out with the rest. The least change of one of them that lets all hold is
    told; never that of a required exit or of an accessible way. Beside a hold nothing lighter is told of the same two,
    but that the ground dams them.
Where sources differ
    Towns allow drives from 10 to 25 %, 15 % is general advice. 1 in 12 is the steepest ramp. Over 25 % the heights
    contradict each other: that is a hold, as is a slab that must fall to the building. The 2 % of the US dwelling code
    are judged as a hold by `fall-from-building` on heights that are drawn; here they are a caution, since a valley
    that nobody has drawn yet may do. 1 % is what a guide for parking areas asks of any fall.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Fixed heights that can all be met"
LIMITS = (
    Limit("any_at_most", "25 %", Kind.SLOPE, "hold", Cite("geometry"), ("15 %", "40 %"),
          "fall that fixed heights force on any slab"),
    Limit("drive_at_most", "15 %", Kind.SLOPE, "caution", Cite("drive-general-advice"), ("5 %", "30 %"),
          "fall of a drive that fixed heights force on it"),
    Limit("walk_at_most", "12 %", Kind.SLOPE, "caution", Cite("common-practice"), ("5 %", "20 %"),
          "fall of a walk that fixed heights force on it"),
    Limit("slab_at_most", "1:12", Kind.SLOPE, "caution", Cite("ada-1991", "4.8.2"), ("2 %", "20 %"),
          "fall of any other slab that fixed heights force on it"),
    Limit("door_step_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-r311.3", "R311.3.2"), ("4 in", "9 in"),
          "step at a door that fixed heights force on it"),
    Limit("short_over_base_at_most", "3/4 in", Kind.DEPTH, "caution", Cite("aci-117-10-quoted", "sec. 4.5.4"),
          ("0 in", "1 1/2 in"), "how much thinner than designed fixed heights force the slab to be over the base"),
    Limit("old_slab_lip_at_most", "1/2 in", Kind.DEPTH, "caution", Cite("aba-303.3"), ("1/4 in", "1 in"),
          "lip at an old slab that fixed heights force on it"),
    Limit("public_lip_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("ada-1991", "4.5.2"), ("1/16 in", "3/4 in"),
          "upright lip that fixed heights force at an old slab where the public or a wheelchair goes"),
    Limit("wheel_lip_at_most", "3/4 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/4 in", "2 in"),
          "lip that fixed heights force at an old slab where only wheels cross"),
    Limit("wheel_step_at_most", "2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("3/4 in", "4 in"),
          "step at an old slab that wheels cross, where one is planned, that fixed heights force on it"),
    Limit("old_step_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-stairs"), ("4 in", "9 in"),
          "step at an old slab, where one is planned, that fixed heights force on it"),
    Limit("lip_at_least", "0 in", Kind.DEPTH, "caution", Cite("geometry"), ("0 in", "2 in"),
          "lip over the ground, at the one edge over which water may leave, that fixed heights leave room for"),
    Limit("away_at_least", "2 %", Kind.SLOPE, "caution", Cite("irc-r401.3-2006", "exception"), ("0.5 %", "6 %"),
          "fall away from a wall within {10 ft|3 m} that fixed heights leave room for, by the US dwelling code"),
    Limit("plain_away_at_least", "1:80", Kind.SLOPE, "caution", Cite("nhbc-2026", "10.2"), ("0.5 %", "6 %"),
          "fall away from a wall within {10 ft|3 m} that fixed heights leave room for, where no code is named"),
    Limit("valley_at_least", "0.5 %", Kind.SLOPE, "caution", Cite("union-county-il", "34-6-5"), ("0.2 %", "3 %"),
          "fall along a drawn valley that fixed heights leave room for"),
    Limit("out_at_least", "0 %", Kind.SLOPE, "hold", Cite("geometry"), ("0 %", "1 %"),
          "fall from a building to where water leaves: not back to the building"),
    Limit("room_to_fall_at_least", "1 %", Kind.SLOPE, "caution", Cite("pca-parking-guide"), ("0.3 %", "4 %"),
          "fall from a building to where water leaves that fixed heights leave room for"),
)  # fmt: skip
Asks = dict[HeightAsked, tuple[InForce, ...]]
NAMED: dict[HeightAsked, str] = {  # each thing asked, as one of what cannot all hold
    "steepest": "{limit} at most on the {label}", "door step": "a step of {limit} at {label}",
    "base": "the thickness over it", "old slab": "a lip of {limit} at {label}",
    "public slab": "a lip of {limit} at {label}", "wheels over": "a lip of {limit} at {label}",
    "wheel step": "a step of {limit} at {label}", "old step": "a step of {limit} at {label}",
    "lip": "water that leaves over {label}", "away": "{limit} away from {label}",
    "low line": "{limit} along {label}", "outlet": "{limit} from the wall to where water leaves",
}  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """One thing asked after the other, each with those before it kept."""
    if len(plan.held.all) < 2:
        does_not_apply("fewer than two fixed heights bind the slab")
    kept: dict[HeightAsked, float] = {}
    asked = heights_asked(plan, limits)
    found: dict[HeightAsked, Finding | Margin] = {}
    for sort in asked:
        outlet = found.get("outlet")
        back = isinstance(outlet, Finding) and outlet.limit is limits.out_at_least
        concluded = _judged(plan, asked, sort, kept, *((limits.out_at_least,) if back else ()))
        if concluded is None:
            continue
        if sort in ("away", "low line") and isinstance(concluded, Finding) and isinstance(outlet, Finding):
            del found["outlet"]  # one fault is told once, by what asks more
        found[sort] = concluded
    if not found:
        does_not_apply("nothing is asked between the heights that are fixed")
    holds = [one for one in found.values() if isinstance(one, Finding) and one.limit.weight == "hold"]
    yield from (one for one in found.values() if not any(_told_by(one, hold) for hold in holds))


def _told_by(one: Finding | Margin, hold: Finding) -> bool:
    """Whether a lighter finding speaks of the very things of which a hold does: settled there, it is another.

    What the ground dams is told beside it, since the ground is what gives way first.
    """
    lighter = isinstance(one, Finding) and one.limit.weight != "hold" and one.limit.name != "lip_at_least"
    return lighter and set(one.at.name.split(" and ")) <= set(hold.at.name.split(" and "))


def _judged(
    plan: Plan, every: Asks, sort: HeightAsked, kept: dict[HeightAsked, float], *heavier: InForce
) -> Finding | Margin | None:
    """What one thing asked comes to with those in ``kept``, to which it is added as far as it can be had."""
    asked = *heavier, *every[sort]
    tight = plan.agreement.tight(sort, kept)
    limit = asked[-1]
    kept[sort] = limit.value.si
    if tight is None:
        return None
    depths = limit.value.kind is Kind.DEPTH
    shown = depth(tight.amount) if depths else slope(tight.amount)
    if not limit.met(shown):
        kept[sort] = tight.amount
    names = " and ".join(one.name for one in tight.held[:2])
    broken = broken_fall(plan, tight.amount, tight.run, *asked) if limit.direction == "least" else limit
    off = depth(abs(limit.value.si - tight.amount) * tight.run)

    return compare(
        Spot(names, tight.held[0].place, tight.at), shown, *asked,
        give=plan.finish.give if depths else fall_give(plan, broken.value, tight.run),
        says=lambda: cannot_all_hold(_things(plan, every, sort, tight), _written(plan, off.si)),
        working=lambda: _working(tight, shown, limit, off),
        decide=lambda: _settled(plan, sort, tight, {**kept, sort: limit.value.si}),
    )  # fmt: skip


def _things(plan: Plan, asked: Asks, sort: HeightAsked, tight: Tight) -> list[Words | str]:
    """What cannot all hold: the held things, then what is asked."""
    found: list[Words | str] = [one.name for one in tight.held]
    for other, label in dict.fromkeys((*tight.others, (sort, tight.label))):
        said = NAMED[other]
        slots: dict[str, Amount | str] = {"limit": asked[other][-1].value, "label": label or plan.areas.uses[0]}
        found.append(words(said, **{slot: value for slot, value in slots.items() if f"{{{slot}}}" in said}))
    return found


def _written(plan: Plan, off: float) -> Amount:
    """To the next sixteenth of an inch or millimeter: what is short is never told shorter."""
    return round_up(depth(off), tape_step(plan, INCH / 16, 0.001))


def _working(tight: Tight, shown: Amount, limit: InForce, off: Amount) -> tuple[Step, ...]:
    if shown.kind is Kind.DEPTH:
        return (step("short", "what is left against what is asked", words("{a}, {b}", a=shown, b=limit.value), off),)
    fall, wanted, run = depth(tight.amount * tight.run), depth(limit.value.si * tight.run), length(tight.run)
    forced = limit.direction == "most"
    more, less = (fall, wanted) if forced else (wanted, fall)
    return (
        step("slope", f"{'least' if forced else 'greatest'} fall that all allow / distance",
             words("{f} / {r}", f=fall, r=run), shown),
        step("short", "fall forced - fall asked" if forced else "fall asked - fall there is room for",
             words("{m} - {l}", m=more, l=less), off),
    )  # fmt: skip


def _settled(plan: Plan, sort: HeightAsked, tight: Tight, kept: dict[HeightAsked, float]) -> Words:
    """The least change of one held thing that lets all hold; a threshold last, and only cut down.

    Over a base that stands too high only the base is asked to give way: it is the one thing not built yet.
    """
    if sort == "base":
        return words("dig the base down by {deep}, so that the whole thickness fits", deep=_written(plan, tight.amount))
    rooms = [one for one in plan.agreement.rooms(kept) if one.held.moves]
    rooms = [one for one in rooms if one.change < 0 or not one.held.hung]
    rooms.sort(key=lambda one: (round(abs(one.change), 6), one.held.hung))
    step_or_run = "make the way between them longer" if plan.carries_vehicles else "take it in a step"
    ramp = "make the way to {label} longer" if plan.carries_vehicles else "plan a step at {label}"
    otherwise = {
        "steepest": step_or_run, "door step": "lay a step before {label}",
        "old slab": ramp, "public slab": "lead the way to {label} up or down on a ramp", "wheels over": ramp,
        "wheel step": "make the way to {label} longer", "old step": "pour another riser at {label}",
    }  # fmt: skip
    water = "let the water out before it" if rooms else "let the water out before {label}, by a valley or a drain"
    other = otherwise.get(sort, water)
    label = tight.label if sort in otherwise else tight.held[-1].name
    slots = {"label": label} if "{label}" in other else {}
    if not rooms:
        return words(other, **slots)
    least = rooms[0]
    told = move_by(least.held.name, _written(plan, abs(least.change)), up=least.change > 0)
    return words(f"{told.template}, or {other}", **told.values, **slots)
