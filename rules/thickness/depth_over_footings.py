"""Over footings, old piers and pipes that stand up from below there is still the thickness of the slab.

What is compared
    Compares the concrete left over each hard thing under the slab with the thickness drawn there. It may be 3/4 in
    short of it, as at any other spot; more than 1/4 in is worth a second look.
Why it matters
    A hard thing does not settle with the base round it. The slab comes to ride on it like a plank on a stone, at the
    very spot where it is thinnest. A pier chipped off an inch too high shows as a star of cracks, pier by pier.
When it does not apply
    Nothing hard is named below the slab (`thickness.over`).
How to put it right
    Chip it down before the base is laid, put a few inches of base or a sheet of foam over it, and write what is left
    over it as depth.
Where sources differ
    ACI 117 asked 1/4 in under at most until 2006, and asks 3/4 in at any sample since; the later one holds, the older
    one is the caution. Neither speaks of what lies below: that a hard spot counts like a sample is common practice.
"""

from __future__ import annotations

from slabwright.formulas.thickness import short_of
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Full depth over footings and piers"
LIMITS = (
    Limit("short_at_most", "3/4 in", Kind.DEPTH, "hold", Cite("aci-117-10-quoted", "sec. 4.5.4"), ("0 in", "1 1/2 in"),
          "how far the concrete over a hard thing may fall short of the thickness"),
    Limit("short_preferred_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("aci-117-90"), ("0 in", "1 in"),
          "how far it may fall short before it is worth a look"),
)  # fmt: skip
WORKED = (
    Worked("5 in slab with 3 1/2 in left", depth(1.5 * INCH), lambda: short_of(5 * INCH, 3.5 * INCH), 1e-9,
           Cite("trade-qa-drive-thickness")),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The concrete over each thing."""
    if not plan.design.thickness.over:
        does_not_apply("nothing hard is named below the slab (thickness.over)")
    for one in plan.design.thickness.over:
        xy = (one.at.x, one.at.y)
        at, t = Spot(f"the {one.name}", one.place, (xy,)), depth(plan.thickness.at(xy))
        short = depth(short_of(t.si, one.depth.si))
        yield compare(
            at, short, limits.short_at_most, limits.short_preferred_at_most,
            says=lambda: words("{d} of concrete is left over {thing}, where {t} is drawn", d=one.depth, thing=at.name,
                               t=t),
            working=lambda: step("short by", "thickness - concrete over it", words("{t} - {d}", t=t, d=one.depth),
                                 short),
            remedy=lambda: write(
                f"{one.place.path}.depth", t,
                words("take {off} off {thing}, so that {write} fits over it", off=short, thing=at.name, write=t)),
        )  # fmt: skip
