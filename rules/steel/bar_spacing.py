"""Bars lie close enough together to hold every crack, and are no thicker than the slab has room for.

What is compared
    Compares the spacing of the bars with five times the thickness and with 18 in, which is worth a note, and with
    24 in, which is a caution. It then compares the size of the bars with #4 in slabs under 6 in, and with #5 in slabs
    under 8 in. Mesh is always close enough.
Why it matters
    A bar holds a crack shut for about a foot to each side. Between bars 3 ft apart the crack opens as if there were
    none. Thick bars in a thin slab take the room the concrete needs, and a crack follows each of them.
When it does not apply
    No bars are given, or only bars across corners.
How to put it right
    Lay more and thinner bars: #4 every 12 in is nearly as much steel as #5 every 18 in, and holds better.
Where sources differ
    The smaller of 5 t and 18 in is the structural code's, which leaves slabs on ground alone; Army pavements want
    12 in. Light residential slabs often have bars 24 in apart, #3 so about a tenth of a percent, which keeps cracks a
    little tighter and no more; that is common practice, and so are the bar sizes. None of it is a hold.
"""

from __future__ import annotations

import math

from slabwright.formulas.bars import bar
from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Bars close enough, and thin enough"
LIMITS = (
    Limit("thicknesses_apart_at_most", "5", Kind.RATIO, "note", Cite("aci-318-02"), ("2", "10"),
          "spacing of bars, in thicknesses"),
    Limit("apart_at_most", "18 in", Kind.DEPTH, "note", Cite("aci-318-02"), ("6 in", "48 in"),
          "spacing of bars, however thick the slab"),
    Limit("light_slab_apart_at_most", "24 in", Kind.DEPTH, "caution", Cite("common-practice"), ("6 in", "48 in"),
          "spacing of bars in light slabs, which the structural code leaves alone"),
    Limit("bar_in_thin_slab_at_most", "1/2 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/4 in", "1 in"),
          "thickness of bars in a slab under {6 in|150 mm}: {#4|10M}, 12 mm"),
    Limit("bar_in_thick_slab_at_most", "0.63 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/4 in", "1 1/2 in"),
          "thickness of bars in a slab of {6 in to 8 in|150 to 200 mm}: {#5|15M}, 16 mm"),
)  # fmt: skip
THIN, THICK = 0.150, 0.200  # m: slabs under 6 in take #4, under 8 in #5
THINNER = {True: ("#4", "10M", "12 mm"), False: ("#5", "15M", "16 mm")}  # by whether the slab is thin


def most_apart(thicknesses: float, thickness: float, cap: float) -> float:
    """Most spacing in m: so many ``thicknesses`` of a slab ``thickness`` m thick, at most ``cap`` m."""
    return min(thicknesses * thickness, cap)


WORKED = (
    Worked("3 in slab", depth(15 * INCH), lambda: most_apart(5, 3 * INCH, 18 * INCH), 1e-9,
           Cite("aci-318-02"), "re-spacing-cap-3in"),
    Worked("4 in slab", depth(18 * INCH), lambda: most_apart(5, 4 * INCH, 18 * INCH), 1e-9,
           Cite("aci-318-02"), "re-spacing-cap-4in"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Spacing, then size."""
    mats = [laid for laid in plan.steel.mats if laid.kind == "bars"]
    if not mats:
        does_not_apply("there are no bars")
    for laid in mats:
        if isinstance(laid.mat, Bars):
            yield from _judged(plan, limits, laid.name, laid.mat, laid.thickness)


def _judged(plan: Plan, limits: Limits, mat: str, bars: Bars, t: float) -> Conclusions:
    by_slab, cap = limits.thicknesses_apart_at_most, limits.apart_at_most
    at, path = Spot(mat, bars.place), bars.place.path
    asked = depth(most_apart(by_slab.value.si, t, cap.value.si))
    closer = _laid_out(plan, asked.si)
    usual, loose = cap if meets(cap.value.si, asked.si, "most") else by_slab, limits.light_slab_apart_at_most
    far = not loose.met(bars.spacing)
    yield compare(
        at, bars.spacing, loose if far else usual, asked=loose.value if far else asked,
        says=lambda: words("cracks open up between bars so far apart"),
        working=lambda: step("most apart", "so many thicknesses, capped",
                             words("{n} x {t}, at most {cap}", n=by_slab.value, t=depth(t), cap=cap.value), asked),
        remedy=lambda: write(f"{path}.spacing", closer, words("lay the bars {write} apart", write=closer)),
    )  # fmt: skip
    if meets(t, THICK, "least"):
        return
    thin = not meets(t, THIN, "least")
    limit, size = limits.bar_in_thin_slab_at_most if thin else limits.bar_in_thick_slab_at_most, bars.size
    name = next(one for one in THINNER[thin] if one[-1] == size.name[-1] or one[0] == size.name[0] == "#")
    same = depth(bars.spacing.si * bar(name).area / size.area)
    apart = _laid_out(plan, min(same.si, asked.si))
    says = words("lay {name} bars {write} apart", name=name, write=apart)
    yield compare(
        at, depth(size.diameter), limit,
        says=lambda: words("{name} bars are thick for a slab of {t}", name=size.name, t=depth(t)),
        working=lambda: step(
            "spacing for as much steel", "spacing x area of the thinner bar / area",
            words("{s} x {a} / {b}", s=bars.spacing, a=_area(plan, name, bar(name).area),
                  b=_area(plan, size.name, size.area)), same),
        remedy=lambda: together(write(f"{path}.size", name if name[-1].isalpha() else f"'{name}'", says),
                                write(f"{path}.spacing", apart, says), says=says),
    )  # fmt: skip


def _laid_out(plan: Plan, meters: float) -> Amount:
    """A spacing, rounded down to what bars are laid out by."""
    fine = tape_step(plan, INCH / 2, 0.01)
    return depth(math.floor(meters / fine + 1e-6) * fine)


def _area(plan: Plan, name: str, area: float) -> str:
    """The area of a bar (m2) as tables print it."""
    return f"{area * 1e6:.5g} mm2" if plan.system == "metric" or name[0] != "#" else f"{area / INCH**2:.2f} in2"
