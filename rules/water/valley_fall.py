"""A valley falls along its own length, not only towards it.

What is compared
    The fall of each straight stretch of each valley line with 0.5 % and with 1 %.
Why it matters
    All the water of both sides runs in the valley. A level gutter on a house stays full; so does a level valley. Then
    silt settles in it, the surface stays wet, and the strip that gets most of the water is the first to scale.
When it does not apply
    No valley is drawn.
How to put it right
    Lower the outlet end, and with it every point further down. A long valley can be split with a drain midway: each
    half then needs half the drop.
Where sources differ
    Machine-formed gutters go down to 0.3 % (a Texas manual) or 0.4 % (Eugene); a county asks 0.5 %. A valley struck off
    by hand is coarser than any of them: 1 % is wanted by common practice, and the 0.5 % is the hold.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.plan.plan import Plan
from slabwright.plan.things import LineRun, NewHeight
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    does_not_apply,
    heights_not_shown,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, slope

TITLE = "A valley falls along its length"
LIMITS = (
    Limit("slope_at_least", "0.5 %", Kind.SLOPE, "hold", Cite("union-county-il", "34-6-5"), ("0.2 %", "3 %"),
          "fall along a valley"),
    Limit("hand_formed_slope_at_least", "1 %", Kind.SLOPE, "caution", Cite("common-practice"), ("0.3 %", "4 %"),
          "fall along a valley struck off by hand"),
)  # fmt: skip
WORKED = (
    Worked("drop of a valley 40 ft long at 1 %", depth(4.8 * 0.0254), lambda: slopes.fall(40 * 0.3048, 0.01),
           0.05 * 0.0254, Cite("geometry"), "wa-valley-cost"),
)  # fmt: skip


def _valleys(plan: Plan) -> list[LineRun]:
    return [run for run in plan.finish.lines if run.line.kind == "valley"]


def relevant(plan: Plan) -> Relevance:
    """A valley is drawn, and heights are known."""
    if not any(line.kind == "valley" for line in plan.design.heights.lines):
        return does_not_apply("no valley is drawn")
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each straight stretch of each valley."""
    lightest = max(limits.values(), key=lambda limit: limit.value.si)
    for run in _valleys(plan):
        for k in range(len(run.xy) - 1):
            size, drop = math.dist(run.xy[k], run.xy[k + 1]), run.heights[k] - run.heights[k + 1]
            if size < 0.005:
                continue
            shown, name = slope(slopes.slope(abs(drop), size)), run.line.name or "valley"
            first, last = plan.shape.name_at(run.xy[k]), plan.shape.name_at(run.xy[k + 1])
            at = Spot(f"{name} {first}-{last}", run.line.place, run.xy[k : k + 2])
            limit = limits.broken(shown, "slope_at_least", "hand_formed_slope_at_least")
            if limit is None:
                yield Margin(at, shown, lightest)
                continue
            need = depth(slopes.fall(size, lightest.value.si))
            yield Finding(
                at=at,
                says=words("{valley} hardly falls from {upper} to {lower}", valley=name,
                           upper=first if drop >= 0 else last, lower=last if drop >= 0 else first),
                shown=shown,
                limit=limit,
                working=(
                    step("fall between its ends", "slope x length",
                         words("{s} x {l}", s=lightest.value, l=length(size)), need),
                ),
                to_pass=write_heights(_lowered(plan, run, k, drop, need.si),
                                      words("let it fall {need} there", need=need)),
            )  # fmt: skip


def _lowered(plan: Plan, run: LineRun, k: int, drop: float, need: float) -> list[NewHeight]:
    """The lower end of a stretch and all points further down, each lowered alike."""
    on = range(k + 1, len(run.xy)) if drop >= 0 else range(k, -1, -1)
    upper, found, before = run.heights[k] if drop >= 0 else run.heights[k + 1], [], math.inf
    lowered = run.heights[on[0]] - plan.grades.written(upper - need, up=False)
    for i in on:
        if run.heights[i] > before:
            break
        before = run.heights[i]
        found.append(NewHeight(plan.shape.name_at(run.xy[i]), before, before - lowered))
    return found
