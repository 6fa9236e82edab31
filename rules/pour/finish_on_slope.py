"""The finish gives hold where rain falls, the more so where the slab falls.

What is compared
    In the open no part of the slab may be troweled smooth, and under a roof no barn floor. The rule compares the slope
    of what is broomed in the open with 6 %, and with 8.4 % where the strokes are said to run across the fall, unless
    the broom is coarse or the surface grooved; and the slope of what is broomed along the fall with 4 %. The flares of
    an approach, triangles along a curb or a street, are left out: nobody walks or brakes there.
Why it matters
    A troweled slab in the rain is a skating rink, and so is a barn floor that is hosed down, for shoes and hooves; it
    closes over air and water besides. Strokes across the fall brake a shoe and a tire; strokes along it are rails, and
    gutters for dirt.
When it does not apply
    The slab lies indoors and is no barn floor, or nothing is said of the day of the pour.
How to put it right
    Broom it, across the fall; take the coarse broom or a groover on what is steep. A float is enough on a flat patio.
Where sources differ
    No standard has these numbers: a finish guide and common practice. Ramps of 1 in 12 are broomed across every day.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "A finish that gives hold"
EACH_POUR = True
LIMITS = (
    Limit("smooth_at_most", "0 ft2", Kind.AREA, "caution", Cite("finish-guide"), ("0 ft2", "1000 ft2"),
          "area in the open that is troweled smooth"),
    Limit("smooth_barn_at_most", "0 ft2", Kind.AREA, "caution", Cite("common-practice"), ("0 ft2", "1000 ft2"),
          "area of a barn floor that is troweled smooth"),
    Limit("plain_broom_at_most", "6 %", Kind.SLOPE, "caution", Cite("finish-guide"), ("2 %", "12 %"),
          "slope with a finish that is neither coarse nor grooved"),
    Limit("broom_across_at_most", "8.4 %", Kind.SLOPE, "caution", Cite("common-practice"), ("2 %", "15 %"),
          "slope with a plain broom drawn across the fall"),
    Limit("along_at_most", "4 %", Kind.SLOPE, "note", Cite("finish-guide"), ("1 %", "12 %"),
          "slope with strokes along the fall"),
)  # fmt: skip
WORKED = ()
ROUGH = ("coarse broom", "grooved")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Smooth or not, then texture and direction against the slope."""
    barn = sum(one.polygon.area for one in plan.areas.all if one.called == "barn floor")
    if not plan.outdoors and not barn:
        does_not_apply("no rain falls on it")
    if (pour := plan.design.pour) is None:
        does_not_apply("nothing is said of the day of the pour (pour)")
    finish = plan.given("pour.finish")
    if finish != "trowel" and plan.outdoors:
        needs_heights(plan)
    open_air = sum(one.polygon.area for one in plan.areas.all if plan.rained_on(one))
    smooth, limit, where = open_air, limits.smooth_at_most, "slab in the open"
    if not plan.outdoors:
        smooth, limit, where = barn, limits.smooth_barn_at_most, "barn floor"
    yield compare(
        plan.spot("the finish", "pour.finish"), area(smooth if finish == "trowel" else 0.0), limit,
        says=lambda: words("a troweled {where} is slick when it is wet", where=where),
        remedy=lambda: write("pour.finish", "broom", words("finish it with a broom")),
    )  # fmt: skip
    if finish == "trowel" or not plan.outdoors:
        return
    if finish not in ROUGH:
        says = words("a {f} finish gives little hold on this slope", f=finish)
        coarse = write("pour.finish", "coarse broom", words("finish it with a coarse broom, or groove it"))
        across = pour.broom_direction == "across" and finish == "broom"
        limit = limits.broom_across_at_most if across else limits.plain_broom_at_most
        yield _steepest(plan, limit, says, coarse)
    if pour.broom_direction == "along":
        across = write("pour.broom_direction", "across", words("draw the broom across the fall"))
        says = words("strokes along the fall are rails for a tire")
        yield _steepest(plan, limits.along_at_most, says, across)


def _steepest(plan: Plan, limit: InForce, says: Words, remedy: Remedy) -> Finding | Margin:
    """The largest part over the limit, or the steepest there is."""
    over, within = plan.falls.parts(lambda s: not limit.met(s)), plan.falls.parts(limit.met)
    parts = [part for part in over if not plan.edges.flares(part.outline)] or within or over
    part = max(parts, key=lambda one: one.most)
    at = plan.spot(part.name, "pour.finish", shape=part.outline)
    return compare(at, slope(part.most), limit, says=lambda: says, remedy=lambda: remedy)
