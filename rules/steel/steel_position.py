"""The steel lies in the upper half of the slab, with enough concrete over it.

What is compared
    The depth of the middle of the mat below the top, that is the cover and one bar, with half the thickness. Then the
    cover with 3/4 in indoors, and in the weather with 1 1/2 in, or 2 in over #6 and thicker bars.
Why it matters
    A slab cracks from the top as it dries, and steel holds shut what it lies across. Below the middle it lies where the
    slab is pressed together and does nothing. Too high, and the line of every bar shows as a crack and a rust stain.
When it does not apply
    There are no bars and no mesh.
How to put it right
    Write the cover the chairs really give: thickness less chair, less both layers of bars. Chairs are sold by the
    quarter inch. Where cover and middle cannot both be had, thinner bars or a thicker slab are the way.
Where sources differ
    The dwelling code wants steel between the middle and the upper third while concrete is placed; a trade magazine at
    or above the middle; Army ribbed mats a quarter of the thickness below the top. The cover is that of structural
    concrete, good practice only in a slab on ground. In slabs up to 5 in many lay it right at the middle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

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
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import Words, words
from slabwright.units.quantity import Amount, Kind, depth, meets, ratio, round_up

TITLE = "Steel in the upper half, with cover"
LIMITS = (
    Limit("middle_at_most", "1/2", Kind.RATIO, "hold", Cite("irc-r506-2009"), ("1/4", "3/4"),
          "depth of the middle of the mat below the top, as part of the thickness"),
    Limit("cover_outdoors_at_least", "1 1/2 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1/2 in", "3 in"), "cover over bars to {#5|16 mm} and over mesh in the weather"),
    Limit("cover_thick_bars_at_least", "2 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1/2 in", "3 in"), "cover over {#6|19 mm} and thicker bars in the weather"),
    Limit("cover_indoors_at_least", "3/4 in", Kind.DEPTH, "caution", Cite("aci-318-19", "Table 20.5.1.3.1"),
          ("1/4 in", "3 in"), "cover indoors"),
)  # fmt: skip
WORKED = ()
THICK_BAR = 0.70 * INCH  # m: between #5 and #6


def middle(cover: float, diameter: float) -> float:
    """Depth in m below the top of the middle of a mat whose two layers cross: the cover and one bar, both in m."""
    return cover + diameter


def relevant(plan: Plan) -> Relevance:
    """There are bars or mesh with a cover."""
    steel = plan.design.reinforcement
    if steel is None or not steel.mats:
        return does_not_apply("there are no bars and no mesh")
    if any(mat.top_cover for _, mat, _ in steel.mats):
        return APPLIES
    path = f"reinforcement.{steel.mats[0][0]}"
    such = "{1 1/2 in|40 mm}"
    return not_shown(f"{path}.top_cover: the concrete over the steel, such as {such}", place=plan.place(path))


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Middle and cover of each mat that has a cover."""
    steel = plan.design.reinforcement
    for name, mat, diameter in steel.mats if steel else ():
        if mat.top_cover:
            yield from _judged(plan, limits, Spot(f"the {name}", mat.place), mat.top_cover, diameter)


def _judged(plan: Plan, limits: Limits, at: Spot, cover: Amount, bar: float) -> Iterator[Finding | Margin]:
    t, half, over = depth(plan.thickness.design), limits.middle_at_most, limits.cover_indoors_at_least
    if plan.outdoors:
        over = limits.cover_thick_bars_at_least if bar > THICK_BAR else limits.cover_outdoors_at_least
    least = math.floor(over.value.si * 1000 + 1e-6) / 1000 if plan.system == "metric" else over.value.si
    shown, deepest = depth(middle(cover.si, bar)), depth(half.value.si * t.si)
    to_pass = _to_pass(plan, at.name, least, deepest.si - bar, (least + bar) / half.value.si, cover.si < least)
    if meets(shown.si, deepest.si, "most"):
        yield Margin(at, shown, half, deepest)
    else:
        says = words("the middle of {mat} lies in the lower half of the slab, where steel does nothing", mat=at.name)
        numbers = words("{c} + {d}", c=cover, d=depth(bar))
        working = (step("middle below the top", "cover + one bar", numbers, shown),
                   step("part of the thickness", "middle / thickness", words("{m} / {t}", m=shown, t=t),
                        ratio(shown.si / t.si)))  # fmt: skip
        yield Finding(at, says, shown, half, working, to_pass, deepest)
    if meets(cover.si, least, "least"):
        yield Margin(at, cover, over, depth(least))
    else:
        says = words("too little concrete lies over {mat}", mat=at.name)
        short = step("short by", "cover asked - cover", words("{a} - {c}", a=depth(least), c=cover),
                     depth(least - cover.si))  # fmt: skip
        yield Finding(at, says, cover, over, (short,), to_pass, depth(least))


def _to_pass(plan: Plan, mat: str, least: float, most: float, thick: float, up: bool) -> Words:
    """The cover to write, between ``least`` and ``most`` (m), or the thickness (m) that makes room for it."""
    fine, coarse = (0.005, 0.005) if plan.system == "metric" else (INCH / 8, INCH / 4)
    if not meets(least, most, "most"):
        write = round_up(depth(thick), coarse)
        return words(
            "make the slab {t} thick and set {mat} {write} below the top", t=write, mat=mat, write=depth(least)
        )
    write = round_up(depth(least), fine) if up else depth(math.floor(most / fine + 1e-6) * fine)
    write = write if meets(write.si, most, "most") and meets(write.si, least, "least") else depth(least)
    return words("set {mat} {write} below the top", mat=mat, write=write)
