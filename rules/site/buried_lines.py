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

from slabwright.rulebook.kit import *

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


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Depth, then sleeves."""
    every = [(line.name or f"buried line {n}", line) for n, line in enumerate(plan.design.site.buried, 1)]
    under = [(name, line) for name, line in every if plan.site.under(line.along) > 0]
    if not under:
        does_not_apply("no line under the slab is written (site.buried)")
    if all(line.depth is None and line.sleeve is None for _, line in under):
        not_shown("site.buried, depth and sleeve: how deep it lies, such as {24 in|600 mm}, and whether in a sleeve",
                  place=under[0][1].place)  # fmt: skip
    base = plan.design.site.base
    dug = depth(plan.thickness.design + (base.thickness.si if base and base.thickness else 0.0))
    for name, line in under:
        if (lies := line.depth) is None:
            continue
        room = depth(lies.si - dug.si)
        yield compare(
            Spot(name, line.place, tuple((point.x, point.y) for point in line.along)), room,
            limits.clear_at_least, limits.machine_clear_at_least,
            says=lambda: words("{name} lies in the slab or its base", name=name) if room.si < 0 else
            words("{name} lies {room} under the dig", name=name, room=room),
            working=lambda: step("room", "depth - thickness and base", words("{d} - {t}", d=lies, t=dug), room),
            decide=lambda: words("lower {name} to {write} under the finish; or expose it and dig there by hand",
                                 name=name, write=depth(dug.si + limits.machine_clear_at_least.value.si)),
        )  # fmt: skip
    if known := [(name, line) for name, line in under if line.sleeve is not None]:
        bare = [(name, line) for name, line in known if not line.sleeve]
        names = ", ".join(name for name, _ in bare)
        yield compare(
            Spot("the sleeves", known[0][1].place), count(len(bare)), limits.bare_lines_at_most,
            says=lambda: words("{names} can never be pulled out from under the slab", names=names),
            remedy=lambda: together(
                *(write(f"{line.place.path}.sleeve", "true", words("run it in a sleeve")) for _, line in bare),
                says=words("run {names} in a sleeve, and write sleeve: true", names=names)),
        )  # fmt: skip
