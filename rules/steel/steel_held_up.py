"""Something holds the steel up while the concrete goes over it, often enough that it does not sag between.

What is compared
    Asks whether bars and mesh stand on chairs, concrete blocks or stakes at all: steel that is hooked up by hand stands
    on nothing. Where the file does not say, the rule asks. It then compares the distance between supports with
    4 ft, and under mesh and #3 bars with 3 ft (1 m on metric plans), which is a note.
Why it matters
    Steel lies where it is when the concrete sets. Hooked up through wet concrete it goes down again under the next
    boot. Two years later somebody saws into a crack and finds the mesh in the dirt: it was paid for and holds nothing.
When it does not apply
    There are no bars and no mesh, or fiber alone.
How to put it right
    Set chairs with plates on soft base, or concrete blocks, every 3 ft both ways, and more of them where the crew
    walks. Write what they are as held_by.
Where sources differ
    ACI 302.1R and 301 rule out hooking up; ACI 301 wanted light wire held every 12 in until 2016, and since 2020 sends
    to the contract. A trade magazine gives 2 to 6 ft by the stiffness of the wire, course notes one chair for 25 ft2, a
    building code 3 ft as a supplier repeats it, a maker in New Zealand 1 m whatever the sheet. 3 ft for mesh and 4 ft
    for bars are the middle and common practice; a job under ACI 301-16 writes 12 in as an amendment.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Steel held up while the concrete is placed"
LIMITS = (
    Limit("held_part_at_least", "100 %", Kind.SHARE, "hold", Cite("aci-302.1r-15-quoted", "sec. 5.2.4"),
          ("50 %", "100 %"), "part of the steel that stands on something"),
    Limit("mesh_supports_at_most", "3 ft", Kind.LENGTH, "note", Cite("florida-1909.3-supplier"), ("6 in", "10 ft"),
          "distance between supports of mesh and thin bars"),
    Limit("metric_mesh_supports_at_most", "1 m", Kind.LENGTH, "note", Cite("supplier-practice"), ("0.15 m", "3 m"),
          "distance between supports of mesh and thin bars on metric plans"),
    Limit("bar_supports_at_most", "4 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("6 in", "10 ft"),
          "distance between supports of any steel"),
)  # fmt: skip
WORKED = ()
THIN_BAR = 0.45 * INCH  # m: between #3 and #4
NOT_HELD = {
    "nothing": "nothing holds {mat} up",
    "hooked up by hand": "{mat} hooked up by hand will sink back as soon as somebody steps there",
}


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each mat by itself: whether it stands on something, then how far apart its supports are."""
    if not plan.steel.beds:
        add = "reinforcement: the steel in the slab, such as {mesh: {style: {6x6 W2.9|SL72}, held_by: chairs}}, or none"
        not_shown(add, place=plan.place("reinforcement", "thickness"))
    mats = list({id(laid.mat): laid for laid in reversed(plan.steel.mats)}.values())[::-1]
    if not mats:
        does_not_apply("there are no bars and no mesh")
    if not any(laid.mat.held_by for laid in mats):
        plan.steel.asks_for(mats[0], "held_by")
    thin = limits.metric_mesh_supports_at_most if plan.home == "metric" else limits.mesh_supports_at_most
    for laid in mats:
        mat, at = laid.mat, Spot(laid.name, laid.mat.place)
        stiff = laid.kind == "bars" and not meets(laid.diameter, THIN_BAR, "most")
        apart = limits.bar_supports_at_most if stiff else thin
        if mat.held_by in NOT_HELD or (mat.held_by and not mat.support_spacing):
            stands = share(0 if mat.held_by in NOT_HELD else 1)
            says = NOT_HELD.get(mat.held_by, "")
            yield _judged(plan, at, _covered(plan, mat), mat, stands, (limits.held_part_at_least,), apart, says)
        elif mat.held_by and mat.support_spacing:
            says = "supports so far apart let {mat} sag between them"
            both = (limits.bar_supports_at_most, apart)
            yield _judged(plan, at, _covered(plan, mat), mat, mat.support_spacing, both, apart, says)


def _covered(plan: Plan, mat: Bars | Mesh) -> tuple[float, float]:
    """The area of slab that a mat lies in, m2, and half its rim, m."""
    lies = [area.polygon for laid in plan.steel.mats if laid.mat is mat for area in laid.areas]
    return sum(float(one.area) for one in lies), sum(float(one.length) for one in lies) / 2


def _judged(
    plan: Plan,
    at: Spot,
    covered: tuple[float, float],
    mat: Bars | Mesh,
    shown: Amount,
    kept: Sequence[InForce],
    apart: InForce,
    says: str,
) -> Conclusion:
    """What holds a mat against its limits; to pass, it stands on chairs as far apart as ``apart`` says."""
    path, s = mat.place.path, apart.value
    inside, rim = covered
    n = count(math.ceil(inside / s.si**2 + rim / s.si + 1 - 1e-6))
    chairs = words("set {mat} on chairs every {s} both ways, about {n} of them", mat=at.name, s=s, n=n)
    return compare(
        at, shown, *kept,
        says=lambda: words(says, mat=at.name),
        working=lambda: step("supports, rounded up", "area / (distance x distance) + half rim / distance + 1",
                             words("{a} / ({s} x {s}) + {h} / {s} + 1", a=area(inside), h=length(rim), s=length(s.si)),
                             n),
        remedy=lambda: together(write(f"{path}.held_by", "chairs", chairs), write(f"{path}.support_spacing", s, chairs),
                                says=chairs),
    )  # fmt: skip
