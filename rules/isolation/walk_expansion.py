"""A long walk has filler across it every so often, so that it need not push what stands at its ends.

What is compared
    Compares the length of each stretch of a walk, between its ends and the joints across it that have filler, with 50
    ft. It is a caution where the stretch reaches further than that straight across, and a note where only its length
    round turns does.
Why it matters
    On the first hot day a walk of 150 ft grows by half an inch. Grit has filled its joints in winter, so all of it
    goes to the ends: it lifts off the ground somewhere like a tent, or shoves a stoop off its wall.
When it does not apply
    The slab is not a walk.
How to put it right
    Set filler all the way down in some of the joints, at turns, curbs and steps first, and write it as isolation of
    the joint. Filler along the sides does nothing here.
Where sources differ
    A guide specification says of walks 50 ft at most, and filler at turns, curbs and steps; one city 25 ft. Texts on
    flatwork of every kind want none inside a slab under 60 ft unless it is poured below 40 °F; a walk is long and thin
    and has its guide, so 50 ft is taken. A town's own goes into an amendment.
"""

from __future__ import annotations

import math
from functools import partial

from slabwright.formulas.joints import bays
from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Filler across a long walk"
LIMITS = (
    Limit("stretch_at_most", "50 ft", Kind.LENGTH, "caution", Cite("ufgs-03300n", "par. 3.8.3"), ("10 ft", "120 ft"),
          "length of a walk, straight across, between its ends and joints with filler"),
    Limit("round_turns_at_most", "50 ft", Kind.LENGTH, "note", Cite("ufgs-03300n", "par. 3.8.3"), ("10 ft", "120 ft"),
          "length of a walk, round its turns, between its ends and joints with filler"),
)  # fmt: skip
WORKED = tuple(
    Worked(f"120 ft in stretches of {most} ft", count(number), partial(bays, 120 * FOOT, most * FOOT), 0.0,
           Cite(source), check)
    for most, number, source, check in (
        (50, 3, "ufgs-03300n", "is-walk-50"), (25, 5, "memphis-mi-code", "is-walk-25"),
    )
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The long side of each stretch."""
    if plan.areas.uses != ("walk",):
        does_not_apply("the slab is not a walk")
    limit, turns = limits.stretch_at_most, limits.round_turns_at_most
    whole = len(plan.panels.stretches) == 1
    for number, stretch in enumerate(plan.panels.stretches, 1):
        name = "the walk" if whole else f"stretch {number} of the walk"
        ring = tuple((float(x), float(y)) for x, y in stretch.polygon.exterior.coords)
        straight = not limit.met(stretch.long_side)
        side = length(stretch.long_side if straight else stretch.run)
        n = bays(side.si, limit.value.si)
        yield compare(
            plan.spot(name, "joints", "outline", shape=ring), side, limit if straight else turns,
            says=lambda: words("{walk} has no room to grow in the heat", walk=name),
            working=lambda: step("each stretch", "length / stretches", words("{side} / {n}", side=side, n=count(n)),
                                 length(side.si / n)),
            remedy=lambda: [_parted(plan, ring, parts, side.si) for parts in (n, n + 1)],
        )  # fmt: skip


def _parted(plan: Plan, ring: tuple[XY, ...], n: int, side: float) -> Remedy:
    """Filler through the joints that part a stretch into ``n`` most evenly, or new ones where none is near.

    ``ring`` is the outline of the stretch and ``side`` its length, m.
    """
    says = words("set filler all through the joints that part it into {n} stretches of {bay}", n=count(n),
                 bay=length(side / n))  # fmt: skip
    across = [joint for joint in plan.joints.all if joint.counts and all(end.meets == "edge" for end in joint.ends)]
    fills: list[Remedy] = []
    new: list[tuple[XY, XY]] = []
    for line in cuts(ring, n):
        near = [joint for joint in across if math.dist(_middle(joint.line), _middle(line)) <= side / n / 4]
        if near:
            joint = min(near, key=lambda one: math.dist(_middle(one.line), _middle(line))).joint
            fills.append(fill(joint.place.path, joint.isolation, says))
        else:
            new.append(line)
    return together(*fills, through(new_joints(plan, new, says)), says=says)


def _middle(line: Sequence[XY]) -> XY:
    (x0, y0), (x1, y1) = line[0], line[-1]
    return (x0 + x1) / 2, (y0 + y1) / 2
