"""Fill under the slab is no deeper than it can be trusted to stay, and goes in thin layers.

What is compared
    The deepest fill between the ground as it was and the bottom of the base, with 8 in of earth or 24 in of clean sand
    or gravel; and the loose thickness of its layers with 6 in. Fill of no written material counts as earth.
Why it matters
    A plate compactor reaches down half a foot. What lies deeper in one layer stays loose, and settles for years: the
    slab hangs over a hollow until the day a wheel finds it.
When it does not apply
    The ground was not shot before digging, and no layers are written.
How to put it right
    Bring the slab down, take more of the height in compacted stone, or have an engineer look at the fill. Topsoil and
    roots come out first, whatever the depth.
Where sources differ
    The depths are those of the dwelling code, unless more is approved. Soils reports ask for 6 in layers, a builders'
    magazine for 6 to 10 in; the machine at hand decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.base import most_fill
from slabwright.formulas.soils import drains
from slabwright.formulas.units import INCH
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
    compared,
    does_not_apply,
    heights_not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, round_up

TITLE = "Fill that stays where it is"
LIMITS = (
    Limit("earth_at_most", "8 in", Kind.DEPTH, "hold", Cite("irc-r506.2.1-2009"), ("0 in", "60 in"),
          "fill of earth under the base, unless more is approved"),
    Limit("granular_at_most", "24 in", Kind.DEPTH, "hold", Cite("irc-r506.2.1-2009"), ("0 in", "120 in"),
          "fill of clean sand or gravel under the base, unless more is approved"),
    Limit("lift_at_most", "6 in", Kind.DEPTH, "caution", Cite("geotechnical-orono"), ("2 in", "18 in"),
          "loose thickness of each layer of fill"),
)  # fmt: skip
WORKED = (
    Worked("earth fill, most", depth(8 * INCH), lambda: most_fill("earth"), 1e-9, Cite("irc-r506.2.1-2009"),
           "ba-fill-limits"),
    Worked("gravel fill, most", depth(24 * INCH), lambda: most_fill("granular"), 1e-9, Cite("irc-r506.2.1-2009"),
           "ba-fill-limits"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """The ground before digging is known, or how the fill is laid."""
    fill = plan.design.site.fill
    if plan.site.ground or (fill and fill.lift):
        return APPLIES
    if len(plan.design.heights.existing) > 2 and plan.finish.surface is None:
        return heights_not_shown(plan)
    return does_not_apply("heights of the ground before digging are not given")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The deepest fill, and the layers it is laid in."""
    said, ground = plan.design.site.fill, plan.site.ground
    place = plan.place("site.fill", "heights.existing", "site")
    if ground:
        material = said.material if said else ""
        clean = bool(material) and drains(material)
        limit = limits.granular_at_most if clean else limits.earth_at_most
        shown, at = depth(ground.fill), Spot("the fill", place, (ground.fill_at,))
        step_up = 0.005 if plan.system == "metric" else INCH / 8
        off = round_up(depth(ground.fill - limit.value.si), step_up)
        says = words("{d} of fill lies under the base at {at}, and no material is written, so it counts as earth",
                     d=shown, at=plan.shape.name_at(ground.fill_at))  # fmt: skip
        if material:
            says = words("{d} of {what} lies under the base at {at}", d=shown, what=material,
                         at=plan.shape.name_at(ground.fill_at))  # fmt: skip
        base = plan.design.site.base
        thick = depth((base.thickness.si if base and base.thickness else 0.0) + off.si)
        working = step("too deep", "fill - limit", words("{d} - {a}", d=shown, a=limit.value),
                       depth(ground.fill - limit.value.si))  # fmt: skip
        to_pass = words("make the base {thick} thick: {off} more, so that stone takes the place of fill; or have the "
                        "fill approved", thick=thick, off=off)  # fmt: skip
        yield compared(limits, (limit.name,), at, shown, says, to_pass, (working,))
    if said and said.lift:
        most = limits.lift_at_most
        says = words("a layer of {d} is compacted at the top and loose below", d=said.lift)
        to_pass = words("lay the fill in layers of {a}, each compacted", a=most.value)
        yield compared(limits, ("lift_at_most",), Spot("the layers of fill", said.place), said.lift, says, to_pass)
