"""A fall written on the sketch is the fall that the heights give.

What is compared
    Compares each fall typed under `heights.falls` with the fall between the finish heights of its two points: they may
    differ by 0.2 %, and by 1/4 in over the run, and by half a step of the heights as typed more. Two falls within 5 %
    of each other count as the same, as 1 % and 1/8 in/ft do.
Why it matters
    The crew builds one of the two, and nobody can tell which. If the arrow says 2 % and the pins give half of it, the
    pins win, and the patio that was drawn dry is flat.
When it does not apply
    No fall is typed.
How to put it right
    Find out which of the two is meant, and correct the other. A far edge that is drawn level is moved as a whole.
"""

from __future__ import annotations

import math

from slabwright.formulas import slopes
from slabwright.rulebook.kit import *

TITLE = "Falls as written on the sketch"
LIMITS = (
    Limit("difference_at_most", "0.2 %", Kind.SLOPE, "hold", Cite("common-practice"), ("0.05 %", "1 %"),
          "difference of the written fall and the fall of the heights"),
    Limit("height_difference_at_most", "1/4 in", Kind.DEPTH, "hold", Cite("common-practice"), ("1/16 in", "1 in"),
          "difference of the two falls over the whole run"),
)  # fmt: skip
LEVEL, SQUARE = 0.001, 0.01  # m: points no higher, and no further along the fall, stand in one level edge
AT_ONCE = 4  # points of such an edge that a sentence names
SAME = 0.05  # share by which two falls may differ and be one to the trade (common practice)
WORKED = (
    Worked("fall in 10 ft at 1/8 in/ft", depth(1.25 * 0.0254), lambda: slopes.fall(10 * 0.3048, 0.125 / 12), 1e-9,
           Cite("trade-qa-fall"), "wa-fall-10-eighth"),
    Worked("fall in 5 ft at 1/8 in/ft", depth(0.625 * 0.0254), lambda: slopes.fall(5 * 0.3048, 0.125 / 12), 1e-9,
           Cite("trade-qa-fall"), "wa-fall-5-eighth"),
    Worked("fall of a patio 10 ft wide at 1/4 in/ft", depth(2.5 * 0.0254),
           lambda: slopes.fall(10 * 0.3048, 0.25 / 12), 1e-9, Cite("common-practice"), "wa-fall-patio-10"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each typed fall against its two heights."""
    if not plan.design.heights.falls:
        does_not_apply("no fall is typed")
    needs_heights(plan)
    compared = [one for stated in plan.design.heights.falls for one in _compared(plan, stated, limits)]
    if not compared:
        does_not_apply("no typed fall lies on the slab")
    yield from compared


def _compared(plan: Plan, stated: StatedFall, limits: Limits) -> Conclusions:
    start, end = ((p.x, p.y) for p in stated.along)
    upper, lower, run = plan.finish.at(start), plan.finish.at(end), math.dist(start, end)
    if upper is None or lower is None or run == 0:
        return
    worked = slopes.slope(upper - lower, run)
    first, last = plan.shape.name_at(start), plan.shape.name_at(end)
    by_slope, by_height = limits.difference_at_most, limits.height_difference_at_most
    off = abs(stated.fall.si - worked)
    give = plan.finish.give / run
    if meets(off, SAME * max(stated.fall.si, worked), "most"):  # the two are one to the trade
        give = max(give, off)
    judged_by = by_height if by_slope.met(off) and not by_height.met(off * run) else by_slope

    def working() -> tuple[Step, ...]:
        written = words("{s} x {r}", s=stated.fall, r=length(run))
        given = words("{u} - {l}", u=height(upper), l=height(lower))
        return (
            step("fall written", "slope x run", written, depth(slopes.fall(run, stated.fall.si))),
            step("fall of the heights", "upper - lower", given, depth(upper - lower)),
        )

    yield compare(
        Spot(f"fall {first}-{last}", stated.place, (start, end)),
        slope(off) if judged_by is by_slope else depth(off * run), judged_by,
        give=give if judged_by is by_slope else give * run,
        says=lambda: words("the heights do not give the fall written from {first} to {last}", first=first, last=last),
        working=working,
        remedy=lambda: _either(plan, stated, (upper, lower, run), judged_by),
    )  # fmt: skip


def _either(plan: Plan, stated: StatedFall, found: tuple[float, float, float], limit: InForce) -> list[Remedy]:
    """Build the fall that is written, or write the one of the heights, ``found`` with the run between them, m."""
    start, end = ((p.x, p.y) for p in stated.along)
    upper, lower, run = found
    worked = slopes.slope(upper - lower, run)
    drop = slopes.fall(run, stated.fall.si)
    new = plan.grades.written(upper - drop)
    if not meets(abs(new - upper + drop), run * limit.value.si / 4, "most") and limit.value.kind == Kind.SLOPE:
        new = upper - drop  # a run so short that whole steps of height are too coarse
    first, last = plan.shape.name_at(start), plan.shape.name_at(end)
    downhill = (first, last) if worked >= 0 else (last, first)
    level = _level_with(plan, start, end, lower)
    own = any(math.dist((one.at.x, one.at.y), end) < LEVEL for one in plan.design.heights.finish)
    edge = [last, *(one for one in level if one != last)] if own else level
    build = []
    for points in (edge, edge[:1]) if own and edge[1:] else filter(None, (edge,)):  # the level edge, else its point
        named = {f"point{number or ''}": name for number, name in enumerate(points)}
        listed = " and ".join(f"{{{slot}}}" for slot in named)
        says = words(
            f"{{verb}} {listed} by {{off}}, to {{to}}; or write {{worked}} from {{first}} to {{last}}",
            verb="lower" if new < lower else "raise", off=depth(abs(new - lower)), to=height(new),
            worked=slope(abs(worked)), first=downhill[0], last=downhill[1], **named,
        )  # fmt: skip
        build.append(together(*(write(f"heights.finish.{one}", height(new), says) for one in points), says=says))
    told = words(
        "write {worked} from {first} to {last}", worked=slope(abs(worked)), first=downhill[0], last=downhill[1]
    )
    retype = write(f"{stated.place.path}.fall", slope(abs(worked)), told)
    if worked < 0:
        retype = together(retype, write(f"{stated.place.path}.along", downhill, told), says=told)
    return [*build, retype]


def _level_with(plan: Plan, start: XY, end: XY, low: float) -> list[str]:
    """Named points that stand level with the lower end of a fall, square to it: a far edge that slipped as a whole."""
    (x, y), along_x, along_y = end, end[0] - start[0], end[1] - start[1]
    near = SQUARE * math.dist(start, end)
    found = [
        own.at.name
        for own in plan.design.heights.finish
        if abs(own.height.si - low) < LEVEL and abs((own.at.x - x) * along_x + (own.at.y - y) * along_y) < near
    ]
    return found if all(found) and len(found) <= AT_ONCE else []
