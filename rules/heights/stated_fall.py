"""A fall written on the sketch is the fall that the heights give.

What is compared
    Each fall typed under `heights.falls` with the fall between the finish heights of its two points: they may differ by
    0.2 %, and by 1/4 in over the run. Two falls within 5 % of each other count as the same, as 1 % and 1/8 in/ft do.
Why it matters
    The crew builds one of the two, and nobody can tell which. If the arrow says 2 % and the pins give half of it, the
    pins win, and the patio that was drawn dry is flat.
When it does not apply
    No fall is typed.
How to put it right
    Find out which of the two is meant, and correct the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.design.model import StatedFall
from slabwright.formulas import slopes
from slabwright.plan.plan import Plan
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
    Worked,
    does_not_apply,
    heights_not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height, length, slope

TITLE = "Falls as written on the sketch"
LIMITS = (
    Limit("difference_at_most", "0.2 %", Kind.SLOPE, "hold", Cite("common-practice"), ("0.05 %", "1 %"),
          "difference of the written fall and the fall of the heights"),
    Limit("height_difference_at_most", "1/4 in", Kind.DEPTH, "hold", Cite("common-practice"), ("1/16 in", "1 in"),
          "difference of the two falls over the whole run"),
)  # fmt: skip
SAME = 0.05  # share by which two falls may differ and be one to the trade (common practice)
WORKED = (
    Worked("fall in 10 ft at 1/8 in/ft", depth(1.25 * 0.0254), lambda: slopes.fall(10 * 0.3048, 0.125 / 12), 1e-9,
           Cite("trade-qa-fall"), "wa-fall-10-eighth"),
    Worked("fall in 5 ft at 1/8 in/ft", depth(0.625 * 0.0254), lambda: slopes.fall(5 * 0.3048, 0.125 / 12), 1e-9,
           Cite("trade-qa-fall"), "wa-fall-5-eighth"),
    Worked("fall of a patio 10 ft wide at 1/4 in/ft", depth(2.5 * 0.0254),
           lambda: slopes.fall(10 * 0.3048, 0.25 / 12), 1e-9, Cite("common-practice"), "wa-fall-patio-10"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """A fall is typed, and heights are known."""
    if not plan.design.heights.falls:
        return does_not_apply("no fall is typed")
    return APPLIES if plan.finish.surface else heights_not_shown(plan)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each typed fall against its two heights."""
    for stated in plan.design.heights.falls:
        start, end = ((p.x, p.y) for p in stated.along)
        worked, run = plan.falls.along(start, end), math.dist(start, end)
        if worked is None:
            continue
        at = Spot(f"fall {plan.shape.name_at(start)}-{plan.shape.name_at(end)}", stated.place, (start, end))
        off = abs(stated.fall.si - worked)
        by_slope, by_height = limits.difference_at_most, limits.height_difference_at_most
        if off <= SAME * max(stated.fall.si, worked) or (by_slope.met(off) and by_height.met(off * run)):
            if by_slope.met(off):
                yield Margin(at, slope(off), by_slope)
        elif not by_slope.met(off):
            yield _finding(plan, stated, at, worked, by_slope)
        else:
            yield _finding(plan, stated, at, worked, by_height)


def _finding(plan: Plan, stated: StatedFall, at: Spot, worked: float, limit: InForce) -> Finding:
    start, end = at.shape
    run, upper, lower = math.dist(start, end), plan.finish.at(start) or 0.0, plan.finish.at(end) or 0.0
    drop, off = slopes.fall(run, stated.fall.si), abs(stated.fall.si - worked)
    new = plan.grades.written(upper - drop)
    if abs(new - upper + drop) > run * limit.value.si / 4 and limit.value.kind == Kind.SLOPE:
        new = upper - drop  # a run so short that whole steps of height are too coarse
    first, last = plan.shape.name_at(start), plan.shape.name_at(end)
    return Finding(
        at=at,
        says=words("the heights do not give the fall written from {first} to {last}", first=first, last=last),
        shown=slope(off) if limit.value.kind == Kind.SLOPE else depth(off * run),
        limit=limit,
        working=(
            step("fall written", "slope x run", words("{s} x {r}", s=stated.fall, r=length(run)), depth(drop)),
            step("fall of the heights", "upper - lower", words("{u} - {l}", u=height(upper), l=height(lower)),
                 depth(upper - lower)),
        ),
        to_pass=words(
            "{verb} {point} by {off}, to {to}; or write {worked} from {first} to {last}",
            verb="lower" if new < lower else "raise", point=last, off=depth(abs(new - lower)), to=height(new),
            worked=slope(abs(worked)), first=first if worked >= 0 else last, last=last if worked >= 0 else first,
        ),
    )  # fmt: skip
