"""A long walk has filler across it every so often, so that it need not push what stands at its ends.

What is compared
    The length of each stretch of a walk between its ends and the joints across it that have filler, with 50 ft.
Why it matters
    On the first hot day a walk of 150 ft grows by half an inch. Grit has filled its joints in winter, so all of it
    goes to the ends: it lifts off the ground somewhere like a tent, or shoves a stoop off its wall.
When it does not apply
    The slab is not a walk.
How to put it right
    Set filler all the way down in some of the joints, at turns, curbs and steps first, and write it as isolation of
    the joint. Filler along the sides does nothing here.
Where sources differ
    A guide specification says 50 ft at most, and at turns, curbs and steps; one city 25 ft. Texts on flatwork want no
    filler inside a slab under 60 ft unless it is poured below 40 °F. 50 ft is taken; a town's own goes into an
    amendment.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from slabwright.formulas.joints import bays
from slabwright.formulas.units import FOOT
from slabwright.plan.plan import Plan
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
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, length

TITLE = "Filler across a long walk"
LIMITS = (
    Limit("stretch_at_most", "50 ft", Kind.LENGTH, "caution", Cite("ufgs-03300n", "par. 3.8.3"), ("10 ft", "120 ft"),
          "length of a walk between its ends and joints with filler"),
)  # fmt: skip
WORKED = tuple(
    Worked(f"120 ft in stretches of {most} ft", count(number), partial(bays, 120 * FOOT, most * FOOT), 0.0,
           Cite(source), check)
    for most, number, source, check in (
        (50, 3, "ufgs-03300n", "is-walk-50"), (25, 5, "memphis-mi-code", "is-walk-25"),
    )
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """The slab is a walk."""
    return APPLIES if plan.design.use == "walk" else does_not_apply("the slab is not a walk")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The long side of each stretch."""
    limit, whole = limits.stretch_at_most, len(plan.panels.stretches) == 1
    for number, stretch in enumerate(plan.panels.stretches, 1):
        name = "the walk" if whole else f"stretch {number} of the walk"
        ring = tuple((float(x), float(y)) for x, y in stretch.polygon.exterior.coords)
        at, side = Spot(name, plan.place("joints", "outline"), ring), length(stretch.long_side)
        if limit.met(side):
            yield Margin(at, side, limit)
            continue
        n = count(bays(side.si, limit.value.si))
        bay = length(side.si / n.si)
        working = step("each stretch", "length / stretches", words("{side} / {n}", side=side, n=n), bay)
        says = words("{walk} has no room to grow in the heat", walk=at.name)
        to_pass = words("set filler all through the joints that part it into {n} stretches of {bay}", n=n, bay=bay)
        yield Finding(at, says, side, limit, (working,), to_pass)
