"""The finish gives hold where rain falls, the more so where the slab falls.

What is compared
    The area in the open that is trowelled smooth with nothing; the slope of what is broomed with 6 %, unless coarse or
    grooved; and the slope of what is broomed along the fall with 4 %.
Why it matters
    A trowelled slab in the rain is a skating rink, and it closes over air and water besides. Strokes across the fall
    brake a shoe and a tyre; strokes along it are rails, and gutters for dirt.
When it does not apply
    The slab lies indoors, or nothing is said of the day of the pour.
How to put it right
    Broom it, across the fall; take the coarse broom or a groover on what is steep. A float is enough on a flat patio.
Where sources differ
    No standard has these numbers: a finish guide and common practice. That a smooth slab in the open is a hold rests on
    common practice too, since the fall is plain.
"""

from __future__ import annotations

from collections.abc import Iterator

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
    compared,
    does_not_apply,
    heights_not_shown,
    not_shown,
)
from slabwright.text.words import Words, words
from slabwright.units.quantity import Kind, area, slope

TITLE = "A finish that gives hold"
LIMITS = (
    Limit("smooth_at_most", "0 ft2", Kind.AREA, "hold", Cite("finish-guide"), ("0 ft2", "1000 ft2"),
          "area in the open that is trowelled smooth"),
    Limit("plain_broom_at_most", "6 %", Kind.SLOPE, "caution", Cite("finish-guide"), ("2 %", "12 %"),
          "slope with a finish that is neither coarse nor grooved"),
    Limit("along_at_most", "4 %", Kind.SLOPE, "note", Cite("finish-guide"), ("1 %", "12 %"),
          "slope with strokes along the fall"),
)  # fmt: skip
WORKED = ()
ROUGH = ("coarse broom", "grooved")


def relevant(plan: Plan) -> Relevance:
    """Rain falls on it, the finish is written, and the slope is known where it matters."""
    if not plan.outdoors:
        return does_not_apply("no rain falls on it")
    if (pour := plan.design.pour) is None:
        return does_not_apply("nothing is said of the day of the pour (pour)")
    if pour.finish is None:
        return not_shown("pour.finish: the texture of the surface, such as broom", place=pour.place)
    if plan.surface is None and pour.finish != "trowel":
        return heights_not_shown(plan)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Smooth or not, then texture and direction against the slope."""
    pour = plan.design.pour
    if pour is None or pour.finish is None:
        return
    smooth, place = area(plan.area if pour.finish == "trowel" else 0.0), plan.place("pour.finish", "pour")
    says = words("a trowelled slab in the open is slick when it is wet")
    yield compared(
        limits, ("smooth_at_most",), Spot("the finish", place), smooth, says, words("finish it with a broom")
    )
    if pour.finish == "trowel" or plan.surface is None:
        return
    if pour.finish not in ROUGH:
        says = words("a {f} finish gives little hold on this slope", f=pour.finish)
        to_pass = words("finish it with a coarse broom, or groove it")
        yield _steepest(plan, limits.plain_broom_at_most, says, to_pass)
    if pour.broom_direction == "along":
        says, to_pass = words("strokes along the fall are rails for a tyre"), words("draw the broom across the fall")
        yield _steepest(plan, limits.along_at_most, says, to_pass)


def _steepest(plan: Plan, limit: InForce, says: Words, to_pass: Words) -> Finding | Margin:
    """The largest part over the limit, or the steepest there is."""
    over = plan.fall_parts(lambda s: not limit.met(s))
    parts = over or plan.fall_parts(limit.met) or plan.fall_parts(lambda _: True)
    part = max(parts, key=lambda one: one.most)
    at = Spot(part.name, plan.place("pour.finish", "pour"), part.outline)
    shown = slope(part.most)
    return Margin(at, shown, limit) if limit.met(shown) else Finding(at, says, shown, limit, (), to_pass)
