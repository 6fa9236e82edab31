"""Lines under the slab lie clear of it, can be pulled out again, and are dug to by hand.

What is compared
    The room between the bottom of the base and the top of each line under the slab with nothing, and with the 18 in
    within which machines may not dig; and whether the line runs in a sleeve.
Why it matters
    A line in the base is cut by a stake or crushed by the roller, and nobody hears of it until the slab is down. One
    without a sleeve is mended by breaking the slab.
When it does not apply
    No line under the slab is written.
How to put it right
    Lower it, or lead it round. Pull it into a sleeve that ends outside the slab, and lay two spare ones while all is
    open. Expose it by hand before a machine digs.
Where sources differ
    The laws on calling say 18 to 24 in either side of the marks, dug by hand. The sleeve is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

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
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, depth

TITLE = "Buried lines clear of the slab"
LIMITS = (
    Limit("clear_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "12 in"),
          "room between the bottom of the base and a line"),
    Limit("machine_clear_at_least", "18 in", Kind.DEPTH, "note", Cite("one-call-laws"), ("0 in", "36 in"),
          "room under the dig, below which machines may not dig near a line"),
    Limit("bare_lines_at_most", "0", Kind.COUNT, "caution", Cite("common-practice"), ("0", "10"),
          "lines under the slab without a sleeve"),
)  # fmt: skip
WORKED = ()


def _under(plan: Plan) -> dict[str, int]:
    """Names of the lines under the slab, and which of the file each is."""
    every = enumerate(plan.design.site.buried)
    return {line.name or f"buried line {n + 1}": n for n, line in every if plan.site.under(line.along) > 0}


def relevant(plan: Plan) -> Relevance:
    """A line runs under the slab, and something of it is known."""
    under = [plan.design.site.buried[n] for n in _under(plan).values()]
    if not under:
        return does_not_apply("no line under the slab is written (site.buried)")
    if all(line.depth is None and line.sleeve is None for line in under):
        add = "site.buried, depth and sleeve: how deep it lies, such as {24 in|600 mm}, and whether in a sleeve"
        return not_shown(add, place=under[0].place)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Depth, then sleeves."""
    base = plan.design.site.base
    dug = depth(plan.thickness.design + (base.thickness.si if base and base.thickness else 0.0))
    under = {name: plan.design.site.buried[n] for name, n in _under(plan).items()}
    for name, line in under.items():
        if line.depth is None:
            continue
        at = Spot(name, line.place, tuple((point.x, point.y) for point in line.along))
        room = depth(line.depth.si - dug.si)
        says = words("{name} lies {room} under the dig", name=name, room=room)
        to_pass = words("lower {name} to {write} under the finish; or expose it and dig there by hand", name=name,
                        write=depth(dug.si + limits.machine_clear_at_least.value.si))  # fmt: skip
        if room.si < 0:
            says = words("{name} lies in the slab or its base", name=name)
        working = step("room", "depth - thickness and base", words("{d} - {t}", d=line.depth, t=dug), room)
        yield compared(limits, ("clear_at_least", "machine_clear_at_least"), at, room, says, to_pass, (working,))
    if known := {name: line for name, line in under.items() if line.sleeve is not None}:
        bare = [name for name, line in known.items() if not line.sleeve]
        says = words("{names} can never be pulled out from under the slab", names=", ".join(bare) or "no line")
        to_pass = words("run {names} in a sleeve, and write sleeve: true", names=", ".join(bare) or "it")
        at = Spot("the sleeves", next(iter(known.values())).place)
        yield compared(limits, ("bare_lines_at_most",), at, count(len(bare)), says, to_pass)
