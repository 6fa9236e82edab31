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

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

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


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Middle and cover of each mat that has a cover."""
    steel = plan.design.reinforcement
    if steel is None or not steel.mats:
        does_not_apply("there are no bars and no mesh")
    if not any(mat.top_cover for _, mat, _ in steel.mats):
        plan.given(f"reinforcement.{steel.mats[0][0]}.top_cover")
    for name, mat, diameter in steel.mats:
        if mat.top_cover:
            yield from _judged(plan, limits, Spot(f"the {name}", mat.place), mat.top_cover, diameter)


def _judged(plan: Plan, limits: Limits, at: Spot, cover: Amount, bar: float) -> Conclusions:
    t, half, over = depth(plan.thickness.design), limits.middle_at_most, limits.cover_indoors_at_least
    if plan.outdoors:
        over = limits.cover_thick_bars_at_least if bar > THICK_BAR else limits.cover_outdoors_at_least
    least = depth(math.floor(over.value.si * 1000 + 1e-6) / 1000 if plan.system == "metric" else over.value.si)
    shown, deepest = depth(middle(cover.si, bar)), depth(half.value.si * t.si)

    def remedy() -> Remedy:
        thick = (least.si + bar) / half.value.si
        return _set(plan, at, least.si, deepest.si - bar, thick, cover.si < least.si)

    yield compare(
        at, shown, half, asked=deepest,
        says=lambda: words("the middle of {mat} lies in the lower half of the slab, where steel does nothing",
                           mat=at.name),
        working=lambda: (
            step("middle below the top", "cover + one bar", words("{c} + {d}", c=cover, d=depth(bar)), shown),
            step("part of the thickness", "middle / thickness", words("{m} / {t}", m=shown, t=t),
                 ratio(shown.si / t.si)),
        ),
        remedy=remedy,
    )  # fmt: skip
    yield compare(
        at, cover, over, asked=least,
        says=lambda: words("too little concrete lies over {mat}", mat=at.name),
        working=lambda: step("short by", "cover asked - cover", words("{a} - {c}", a=least, c=cover),
                             depth(least.si - cover.si)),
        remedy=remedy,
    )  # fmt: skip


def _set(plan: Plan, at: Spot, least: float, most: float, thick: float, up: bool) -> Remedy:
    """The cover to write, between ``least`` and ``most`` (m), or the thickness (m) that makes room for it."""
    fine, coarse = (0.005, 0.005) if plan.system == "metric" else (INCH / 8, INCH / 4)
    path, set_it = f"{at.place.path}.top_cover", "set {mat} {write} below the top"
    if not meets(least, most, "most"):
        slab, over = round_up(depth(thick), coarse), depth(least)
        says = words("make the slab {t} thick and " + set_it, t=slab, mat=at.name, write=over)
        return together(write("thickness.design", slab, says), write(path, over, says), says=says)
    over = round_up(depth(least), fine) if up else depth(math.floor(most / fine + 1e-6) * fine)
    over = over if meets(over.si, most, "most") and meets(over.si, least, "least") else depth(least)
    return write(path, over, words(set_it, mat=at.name, write=over))
