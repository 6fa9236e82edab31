"""A valley falls along its own length, not only towards it.

What is compared
    Compares the fall of each straight stretch of each valley line with 0.5 %, and where rain falls on it also with 1 %.
    A straight line that the slab falls to from both sides and that nobody drew as a valley is compared with the 0.5 %
    alone, as a caution; so is what is left of a valley where a drain lies along most of it and stops short of its end.
    A fall that misses by a twentieth, or by half a step of the heights as typed, is met.
Why it matters
    All the water of both sides runs in the valley. A level gutter on a house stays full; so does a level valley. Then
    silt settles in it, the surface stays wet, and the strip that gets most of the water is the first to scale.
When it does not apply
    There is no valley, or a channel, slot or trench drain lies along it and takes its water all the way, or to a foot
    and a half of its ends. A low line that nobody drew is left to `fall-from-building` near a building, and is no
    valley under 3 ft of length or from one drain to the next.
How to put it right
    Lower the outlet end, and with it every point further down. A long valley can be split with a drain midway: each
    half then needs half the drop.
Where sources differ
    Machine-formed gutters go down to 0.3 % (a Texas manual) or 0.4 % (Eugene); a county asks 0.5 %. A valley struck off
    by hand is coarser than any of them: 1 % is wanted by common practice, and the 0.5 % is the hold. The fold between
    two floor planes of 1 % falls 0.7 % by geometry, so under a roof only the 0.5 % count.
"""

from __future__ import annotations

import math
from itertools import pairwise

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "A valley falls along its length"
LIMITS = (
    Limit("slope_at_least", "0.5 %", Kind.SLOPE, "hold", Cite("union-county-il", "34-6-5"), ("0.2 %", "3 %"),
          "fall along a valley"),
    Limit("hand_formed_slope_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.3 %", "4 %"),
          "fall along a valley struck off by hand"),
    Limit("undrawn_slope_at_least", "0.5 %", Kind.SLOPE, "caution", Cite("union-county-il", "34-6-5"), ("0.2 %", "3 %"),
          "fall along a low line that nobody drew as a valley"),
    Limit("past_drain_slope_at_least", "0.5 %", Kind.SLOPE, "caution", Cite("union-county-il", "34-6-5"),
          ("0.2 %", "3 %"), "fall along what is left of a valley past the end of a drain"),
)  # fmt: skip
WORKED = (
    Worked("drop of a valley 40 ft long at 1 %", depth(4.8 * 0.0254), lambda: slopes.fall(40 * 0.3048, 0.01),
           0.05 * 0.0254, Cite("geometry"), "wa-valley-cost"),
)  # fmt: skip
AT_DRAIN = 0.6  # m: a drain so near takes the water of the end (common practice)
SHORT = 0.005  # m: points nearer to each other are one
SHORTEST = 3 * FOOT  # m, from which a low line that nobody drew counts (common practice)
NEAR_BUILDING = 10 * FOOT  # m, within which `fall-from-building` judges low lines
MOST = 0.5  # share of a valley from which on a drain along it takes its water (common practice)
PAST = 0.2  # m of a valley that a drain may leave beyond the foot that it reaches past its end (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each straight stretch of each valley."""
    drawn = any(line.kind == "valley" for line in plan.design.heights.lines)
    if drawn:
        needs_heights(plan)
    drawn_valleys = [run for run in plan.finish.lines if run.line.kind == "valley"]
    valleys = drawn_valleys + [run for run in plan.finish.low_lines if _counts(plan, run)]
    if not valleys:
        does_not_apply("no valley is drawn, and no line lies lower than both its sides")
    limited = (limits.slope_at_least, *((limits.hand_formed_slope_at_least,) if plan.outdoors else ()))
    stretches = [
        (run, k)
        for run in valleys
        for k in range(len(run.xy) - 1)
        if math.dist(run.xy[k], run.xy[k + 1]) > SHORT and plan.water_lines.drained_along(run.xy[k : k + 2]) < MOST
    ]
    left = list(_left(plan, valleys))
    if not stretches and not left:
        does_not_apply("a drain lies all along each valley")
    yield from (_past_drain(plan, limits, *one) for one in left)
    for run, k in stretches:
        size, drop = math.dist(run.xy[k], run.xy[k + 1]), run.heights[k] - run.heights[k + 1]
        shown = slope(slopes.slope(abs(drop), size))
        kept = limited if run in drawn_valleys else (limits.undrawn_slope_at_least,)
        limit, asked = broken_fall(plan, shown.si, size, *kept), max(one.value.si for one in kept)
        name, need = run.line.name or "valley", depth(slopes.fall(size, asked))
        first, last = plan.shape.name_at(run.xy[k]), plan.shape.name_at(run.xy[k + 1])
        upper, lower = (first, last) if drop >= 0 else (last, first)
        shut = _shut(plan, run.xy[k + 1] if drop >= 0 else run.xy[k])
        yield compare(
            Spot(f"{name} {first}-{last}", run.line.place, run.xy[k : k + 2]), shown, limit,
            give=fall_give(plan, limit.value, size),
            says=lambda: words("{valley} hardly falls from {upper} to {lower}", valley=name, upper=upper, lower=lower),
            working=lambda: step("fall between its ends", "slope x length",
                                 words("{s} x {l}", s=slope(asked), l=length(size)), need),
            remedy=lambda: [] if shut else lowered(plan, _lowered(plan, run, k, need.si)),
            decide=lambda: words("turn it round, {need} down from {lower} to {upper}: {shut} takes no water", need=need,
                                 lower=lower, upper=upper, shut=shut) if shut else
                           words("let it fall {need} there", need=need),
        )  # fmt: skip


def _left(plan: Plan, valleys: Sequence[LineRun]) -> Iterator[tuple[LineRun, int, tuple[XY, XY]]]:
    """What a drain that lies along most of a stretch leaves of it."""
    for run in valleys:
        for k, ends in enumerate(pairwise(run.xy)):
            if plan.water_lines.drained_along(ends) >= MOST:
                yield from ((run, k, piece) for piece in plan.water_lines.past_drains(ends) if math.dist(*piece) > PAST)


def _past_drain(plan: Plan, limits: Limits, run: LineRun, k: int, piece: tuple[XY, XY]) -> Finding | Margin:
    whole, limit = math.dist(run.xy[k], run.xy[k + 1]), limits.past_drain_slope_at_least
    shown, need = slope(abs(run.heights[k] - run.heights[k + 1]) / whole), slopes.fall(whole, limit.value.si)
    name = run.line.name or "valley"
    end = plan.shape.name_at(min(piece, key=lambda at: min(math.dist(at, run.xy[k]), math.dist(at, run.xy[k + 1]))))
    return compare(
        Spot(f"{name} at {end}", run.line.place, piece), shown, limit,
        give=fall_give(plan, limit.value, whole),
        says=lambda: words("the drain along {valley} stops short of {end}, and what is left of it hardly falls",
                           valley=name, end=end),
        decide=lambda: words("carry the drain on to {end}, or let {valley} fall {need} in all",
                             end=end, valley=name, need=depth(need)),
    )  # fmt: skip


def _counts(plan: Plan, run: LineRun) -> bool:
    """Whether a low line that nobody drew is long enough for a valley, not from drain to drain, away from buildings."""
    first, *_, last = run.xy
    if not meets(math.dist(first, last), SHORTEST, "least") or (_by_drain(plan, first) and _by_drain(plan, last)):
        return False
    walls = [piece.line for piece in plan.edges.buildings]
    return not any(meets(nearest_on(wall, at)[0], NEAR_BUILDING, "most") for wall in walls for at in run.xy)


def _by_drain(plan: Plan, at: XY) -> bool:
    """Whether a drain is so near to a point that it takes the water there."""
    drains = [one.at for one in plan.fixtures.all if one.fixture.kind == "drain"]
    return any(meets(math.dist(drain, at), AT_DRAIN, "most") for drain in drains)


def _shut(plan: Plan, at: XY) -> str:
    """What stands beside the slab at a point where no water may leave; nothing where some may, or a drain is near."""
    pieces = plan.edges.at(at)
    closed = not _by_drain(plan, at) and all(piece.takes_water is False for piece in pieces)
    return next((piece.name for piece in pieces if closed), "")


def _lowered(plan: Plan, run: LineRun, k: int, need: float) -> list[NewHeight]:
    """The lower end of a stretch and all points further down, each lowered alike."""
    down = run.heights[k] >= run.heights[k + 1]
    on = range(k + 1, len(run.xy)) if down else range(k, -1, -1)
    upper, found, before = run.heights[k] if down else run.heights[k + 1], [], math.inf
    lowered = run.heights[on[0]] - plan.grades.written(upper - need, up=False)
    for i in on:
        if run.heights[i] > before:
            break
        before = run.heights[i]
        found.append(NewHeight(plan.shape.name_at(run.xy[i]), before, before - lowered))
    return found
