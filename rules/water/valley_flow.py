"""A valley carries the rain that the job is asked to carry, without spreading over the slab.

What is compared
    Takes the water of the hardest rain, `site.rain_in_an_hour`, on all the slab that drains through the low end of each
    valley, and on the roofs whose downspouts do. It compares how wide the water spreads there with 6 ft, and how deep
    it runs with 1 in.
Why it matters
    A valley shortens the dig, and gathers in one line what would leave over a whole side. Flat and wide, it is a stream
    in every storm: it reaches the door, carries mulch on to the walk, and people jump it.
When it does not apply
    No valley is drawn, the file states no rain, or a valley does not fall: that is judged by `valley-fall`.
How to put it right
    Let the valley fall more, or its sides, which makes the same water narrower and deeper. Halve it with a drain
    midway, or send a downspout another way.
Where sources differ
    Runoff is the rational method with 0.95 for concrete and roofs, the upper value of the table. Spread is that of a
    triangular gutter with the roughness of a broomed slab, 0.016. The 6 ft and the inch are common practice, and a town
    with a drainage manual has its own.
"""

from __future__ import annotations

import math

from slabwright.formulas import gutter_flow, slopes
from slabwright.rulebook.kit import *

TITLE = "A valley carries the storm it is meant for"
LIMITS = (
    Limit("spread_at_most", "6 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("1 ft", "30 ft"),
          "width of the water at the low end of a valley"),
    Limit("depth_at_most", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/4 in", "6 in"),
          "depth of the water at the low end of a valley"),
)  # fmt: skip
WORKED = (
    Worked("spread of 0.05 m3/s at 2 % across and 1 % along", length(2.7),
           lambda: gutter_flow.gutter_spread(0.05, 0.020, 0.010, 0.016), 0.05, Cite("hec-22", "example 4-1")),
)  # fmt: skip
RUNOFF = gutter_flow.RUNOFF_COEFFICIENT["concrete"][1]
ROUGHNESS = gutter_flow.manning("broom")
POWER = 5.34  # slope along a gutter goes with the spread to this power, for one flow: `hec-22-quoted`, 2 x 2.67
CLIFF = 0.25  # slope up to which the gutter formula holds
REACH = 0.61  # m, 2 ft: a downspout further from the slab does not land on it
AT, STEEPEST = 0.01, 0.05  # m: the same place; slope: a valley is seldom steeper (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The low end of each valley."""
    if not any(line.kind == "valley" for line in plan.design.heights.lines):
        does_not_apply("no valley is drawn")
    rain = plan.design.site.rain_in_an_hour
    if rain is None:
        does_not_apply("no rain to be carried off is written (site.rain_in_an_hour)")
    needs_heights(plan)
    valleys = list(_valleys(plan))
    if not valleys:
        does_not_apply("no valley falls between two sides")
    for run, end in valleys:
        cross, name = gutter_flow.valley_cross_slope(*end.sides), run.line.name or "valley"
        drained = area(plan.water.gathered(run.low_end) * plan.shape.area + _roofs(plan, run))
        flow = gutter_flow.runoff(RUNOFF, rain.si / 3600, drained.si)
        spread = length(gutter_flow.gutter_spread(flow, cross, end.running, ROUGHNESS))
        deep = depth(gutter_flow.gutter_depth(spread.si, cross))
        working = (
            step("width of the water", "triangular gutter, Manning", words("{a}, {r} in an hour, {x} across, {s} along",
                 a=drained, r=rain, x=slope(cross), s=slope(end.running)), spread),
            step("depth of the water", "width x cross slope", words("{w} x {x}", w=spread, x=slope(cross)), deep),
        )  # fmt: skip
        most = min(limits.spread_at_most.value.si, limits.depth_at_most.value.si / cross)
        for shown, limit in ((spread, limits.spread_at_most), (deep, limits.depth_at_most)):
            yield compare(
                Spot(f"low end of {name}", run.line.place, (run.low_end,)), shown, limit,
                says=lambda: words("the water of a storm is {w} wide and {d} deep in {valley}", w=spread, d=deep,
                                   valley=name),
                working=lambda: working,
                remedy=lambda: lowered(plan, _steeper(plan, run, end, spread.si / most)),
                decide=lambda: words("set a drain midway, or send part of the water another way"),
            )  # fmt: skip


def _valleys(plan: Plan) -> Iterator[tuple[LineRun, ValleyEnd]]:
    """Each valley that flows, and its last stretch."""
    for run in plan.finish.lines:
        end = plan.water_lines.valley_end(run) if run.line.kind == "valley" else None
        if end and meets(max(end.running, *end.sides), CLIFF, "most"):
            yield run, end


def _roofs(plan: Plan, run: LineRun) -> float:
    """The roofs, m2, whose water comes through the low end of a valley."""
    spouts = [
        (one, one.fixture.roof.si)
        for one in plan.fixtures.all
        if one.fixture.roof and one.fixture.at and meets(plan.site.away((one.fixture.at,)), REACH, "most")
    ]
    ways = plan.water.ways_from([one.at for one, _ in spouts])
    return sum(roof for (_, roof), way in zip(spouts, ways, strict=True) if _passes(way, run))


def _passes(way: Trail, run: LineRun) -> bool:
    """Whether water comes through the low end of a valley."""
    return any(math.dist(run.low_end, at) < AT for at in way.xy)


def _steeper(plan: Plan, run: LineRun, end: ValleyEnd, too_wide: float) -> Sequence[NewHeight]:
    """A lower low end, where the water is some times too wide and the valley does not get too steep by it."""
    more = end.running * (too_wide**POWER - 1)
    if not meets(end.running + more, STEEPEST, "most"):
        return ()
    low = min(run.heights[0], run.heights[-1]) - slopes.fall(end.length, more)
    return plan.grades.moved([(run.low_end, low)], up=False)
