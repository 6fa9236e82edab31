"""What rules ask of heights: how closely falls compare, what is missing, and new heights to write."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NoReturn

from slabwright.design.outline import SOFT_GROUND
from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.xy import XY
from slabwright.plan.agreement import HeldRoom
from slabwright.plan.given import does_not_apply, not_shown
from slabwright.plan.grades import NewHeight
from slabwright.plan.held import HeightAsked
from slabwright.plan.plan import Plan
from slabwright.rulebook.in_force import WEIGHTS, InForce, Limits
from slabwright.rulebook.remedy import Remedy, set_along, set_heights, together, write
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, depth, height, length, slope

FALL_GIVE = 0.05  # part of a limit on a fall by which it may be missed: common practice


def new_heights(plan: Plan, heights: Sequence[NewHeight], says: Words | None = None) -> list[Remedy]:
    """Write new heights at points, as :func:`set_heights`, and with them the typed falls that they change.

    A typed fall that would have to be turned round is left as it is.
    """
    found = set_heights(heights, says)
    if not found:
        return []
    new = {one.name: one.new for one in heights}
    falls = []
    for stated in plan.design.heights.falls:
        levels = [new.get(point.name, plan.finish.at((point.x, point.y))) for point in stated.along]
        if not any(point.name in new for point in stated.along) or levels[0] is None or levels[1] is None:
            continue
        run = math.dist(*((point.x, point.y) for point in stated.along))
        if run == 0.0:  # from a point to itself
            continue
        fall = slope((levels[0] - levels[1]) / run)
        if fall.si >= 0 and abs(fall.si - stated.fall.si) > FALL_GIVE * stated.fall.si:
            names = [plan.shape.name_at((point.x, point.y)) for point in stated.along]
            told = words("write the fall from {first} to {last} as {fall}", first=names[0], last=names[1], fall=fall)
            falls.append(write(f"{stated.place.path}.fall", fall, told))
    return [together(*found, *falls)] if falls else found


def met_along(plan: Plan, edge: str, line: Sequence[XY], heights: Sequence[NewHeight]) -> list[Remedy]:
    """New heights along an old slab, told as one edge that meets it and not corner by corner."""
    on_line = {plan.shape.name_at(at) for at in line}
    told = set_along(edge, heights) if all(one.name in on_line for one in heights) else None
    return new_heights(plan, heights, told)


def lowered(plan: Plan, heights: Sequence[NewHeight]) -> list[Remedy]:
    """New heights as alternatives: alone, and with the soft ground beside lowered points cut down to keep its lip."""
    alone = set_heights(heights)
    new = {one.name: one for one in heights if one.new < one.old}
    cuts: list[Remedy] = []
    for edge in plan.design.edges if alone else ():
        path, one_for_all = f"{edge.place.path}.ground", len(edge.ground) == 1
        names = [plan.shape.name_at((point.x, point.y)) for point in edge.run]
        down = {k: new[name].old - new[name].new for k, name in enumerate(names or new) if name in new}
        if not down or not edge.ground or edge.beside not in SOFT_GROUND:
            continue
        for k, less in {0: max(down.values())}.items() if one_for_all else down.items():
            low = height(plan.grades.written(edge.ground[k].si - less, up=False))
            where = "beside them" if one_for_all else f"at {names[k]}"
            says = words("cut the {soft} {where} down to {low}", soft=edge.beside, where=where, low=low)
            cuts.append(write(path if one_for_all else f"{path}[{k}]", low, says))
    return [*alone, *([together(alone[0], *cuts)] if cuts else [])]


def whole_slab_moved(plan: Plan, off: float) -> list[Remedy]:
    """Every finish height moved by ``off`` m at least; none where a drain or channel would have to move along."""
    new = plan.grades.all_by(off)
    if not new:
        return []
    moved = new[0].new - new[0].old
    way = "higher" if moved > 0 else "lower"
    return set_heights(new, words("set the whole slab {off} {way}", off=depth(abs(moved)), way=way))


def fall_give(plan: Plan, limit: Amount, run: float) -> float:
    """How far beyond a ``limit`` a fall over ``run`` m still counts as met, for ``compare(..., give=...)``.

    A fall is short only where it misses by more than a twentieth of the limit, and by more than half a step of the
    heights as typed makes over the run: no form is set closer. Accessibility limits are strict and take no give.
    """
    return max(FALL_GIVE * abs(limit.si), plan.finish.give / run if run > 0 else 0.0)


def tape_step(plan: Plan, us: float = INCH / 8, metric: float = 0.005) -> float:
    """The step that a size is set to, m: an eighth of an inch or 5 mm, or what is usual for a size of its kind."""
    return metric if plan.home == "metric" else us


def on_tape(plan: Plan, meters: float, up: bool) -> Amount:
    """A fall to set with a tape, in its next eighth (under an inch sixteenth) or millimeter: no less, or no more."""
    step = tape_step(plan, INCH / 8 if meters >= INCH else INCH / 16, 0.001)
    steps = meters / step
    return depth(step * (math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6)))


def run_told(plan: Plan, meters: float) -> Amount:
    """A run as a foreman tells it, to the half foot or the decimeter; no run is told as nothing."""
    fine = tape_step(plan, FOOT / 2, 0.1)
    return length(max(fine, round(meters / fine) * fine))


def even_riser(plan: Plan, rise: float, risers: int) -> Amount:
    """One of so many even risers that climb ``rise`` m, in the eighth or the 5 mm that forms are set to."""
    step = tape_step(plan)
    return depth(round(rise / risers / step) * step)


def broken_fall(plan: Plan, fall: float, run: float, *limits: InForce) -> InForce:
    """The heaviest limit that a ``fall`` over ``run`` m misses by more than the give; the last where it keeps all."""
    broken = [limit for limit in limits if not limit.met(fall + fall_give(plan, limit.value, run))]
    return min(broken, key=lambda limit: WEIGHTS.index(limit.weight), default=limits[-1])


def heights_asked(plan: Plan, limits: Limits) -> dict[HeightAsked, tuple[InForce, ...]]:
    """The limits of ``fixed-heights-agree`` on each thing asked between heights that cannot move, in order."""
    by_use = {"driveway": "drive_at_most", "walk": "walk_at_most"}
    steepest = max((limits[by_use.get(use, "slab_at_most")] for use in plan.areas.uses), key=lambda one: one.value.si)
    asked: dict[HeightAsked, tuple[InForce, ...]] = {
        "steepest": (limits["any_at_most"], steepest),
        "door step": (limits["door_step_at_most"],),
        "base": (limits["short_over_base_at_most"],),
        "old slab": (limits["old_slab_lip_at_most"],),
        "public slab": (limits["public_lip_at_most"],),
        "wheels over": (limits["wheel_lip_at_most"],),
        "wheel step": (limits["wheel_step_at_most"],),
        "old step": (limits["old_step_at_most"],),
    }
    if plan.shedding:
        us = plan.home == "us" or limits["away_at_least"].amended
        asked["lip"] = (limits["lip_at_least"],)
        asked["outlet"] = (limits["out_at_least"], limits["room_to_fall_at_least"])
        asked["away"] = (limits["away_at_least" if us else "plain_away_at_least"],)
        asked["low line"] = (limits["valley_at_least"],)
    return asked


def heights_room(plan: Plan, limits: Limits) -> tuple[HeldRoom, ...]:
    """How far each height that cannot move could go, alone, with all else that is asked kept as far as can be."""
    kept: dict[HeightAsked, float] = {}
    for sort, own in heights_asked(plan, limits).items():
        tight, limit = plan.agreement.tight(sort, kept), own[-1]
        kept[sort] = limit.value.si if tight is None or limit.met(tight.amount) else tight.amount
    return plan.agreement.rooms(kept) if len(plan.held.all) > 1 else ()


def must_shed_rain(plan: Plan) -> None:
    """End the rule where the slab need not fall: no rain reaches it, or equipment is set on it level."""
    if not plan.outdoors:
        does_not_apply("no rain falls on it")
    if not plan.shedding:
        does_not_apply("equipment is set on it level")


def needs_heights(plan: Plan) -> None:
    """End the rule as not shown where a corner has no height: it needs the finish surface."""
    if plan.finish.surface is None:
        heights_not_shown(plan)


def such_height(plan: Plan, feet: str, meters: str) -> str:
    """An example of a height, as the design writes its heights."""
    return feet if plan.design.height_unit in ("ft", "in") else meters


def heights_not_shown(plan: Plan) -> NoReturn:
    """End the rule, and ask for the corners that have no height."""
    not_shown(finish_asked(plan), place=plan.place("heights.finish", "heights"))


def finish_asked(plan: Plan) -> str:
    """What to add where corners have no finish height."""
    names = plan.finish.missing
    listed = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    such = such_height(plan, "99.90", "100.000")
    return f"heights.finish: the finish height at {listed}, such as {such}"


def base_not_shown(plan: Plan, *more: str) -> NoReturn:
    """End the rule: it needs shots on the prepared base; ``more`` names what else it needs."""
    such = such_height(plan, "99.50", "99.850")
    base = f"heights.base: three or more heights of the prepared base on the slab, such as A: {such}"
    not_shown(*more, base, place=plan.place("heights.base", "heights", "thickness"))
