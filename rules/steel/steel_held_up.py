"""Something holds the steel up while the concrete goes over it, often enough that it does not sag between.

What is compared
    Whether bars and mesh stand on chairs, concrete blocks or stakes at all. Steel that is hooked up by hand, or of
    which the file says nothing, stands on nothing. Then the distance between supports, with 3 ft for mesh and 4 ft
    for bars.
Why it matters
    Steel lies where it is when the concrete sets. Hooked up through wet concrete it goes down again under the next
    boot. Two years later somebody saws into a crack and finds the mesh in the dirt: it was paid for and holds nothing.
When it does not apply
    There are no bars and no mesh, or fibre alone.
How to put it right
    Chairs with plates on soft base, or concrete blocks, every 3 ft both ways, more of them where the crew walks. Write
    what they are as held_by.
Where sources differ
    ACI 302.1R and 301 rule out hooking up, and want light wire held every 12 in. A trade magazine gives 2 to 6 ft by
    the stiffness of the wire, course notes one chair for 25 ft2, a building code 3 ft as a supplier repeats it. 3 ft
    for mesh and 4 ft for bars are the middle and common practice; a job under ACI 301 writes 12 in as an amendment.
"""

from __future__ import annotations

import math

from slabwright.design.model import Bars, Mesh
from slabwright.rulebook.kit import *

TITLE = "Steel held up while the concrete is placed"
LIMITS = (
    Limit("held_part_at_least", "100 %", Kind.SHARE, "hold", Cite("aci-302.1r-15-quoted", "sec. 5.2.4"),
          ("50 %", "100 %"), "part of the steel that stands on something"),
    Limit("mesh_supports_at_most", "3 ft", Kind.LENGTH, "caution", Cite("florida-1909.3-supplier"), ("6 in", "10 ft"),
          "distance between supports of mesh"),
    Limit("bar_supports_at_most", "4 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("6 in", "10 ft"),
          "distance between supports of bars"),
)  # fmt: skip
WORKED = ()
ON_NOTHING = (None, "nothing", "hooked up by hand")
NOT_HELD = {
    "nothing": "nothing holds {mat} up",
    "hooked up by hand": "{mat} hooked up by hand will sink back as soon as somebody steps there",
}


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each mat by itself: whether it stands on something, then how far apart its supports are."""
    steel, held = plan.design.reinforcement, limits.held_part_at_least
    if steel is None:
        add = "reinforcement: the steel in the slab, such as {mesh: {style: {6x6 W2.9|SL72}, held_by: chairs}}, or none"
        not_shown(add, place=plan.place("reinforcement", "thickness"))
    if not steel.mats:
        does_not_apply("there are no bars and no mesh")
    for name, mat, _ in steel.mats:
        apart = limits.bar_supports_at_most if name == "bars" else limits.mesh_supports_at_most
        at, stands = Spot(f"the {name}", mat.place), mat.held_by not in ON_NOTHING
        n = count(math.ceil(plan.shape.area / apart.value.si**2))
        numbers = words("{a} / ({s} x {s})", a=area(plan.shape.area), s=length(apart.value.si))
        supports = step("supports", "area / (distance x distance)", numbers, n)
        if not stands or mat.support_spacing is None:
            says = NOT_HELD.get(mat.held_by or "", "the file does not say what holds {mat} up")
            yield compare(
                at, share(1 if stands else 0), held,
                says=lambda: words(says, mat=at.name),
                working=lambda: supports,
                remedy=lambda: _on_chairs(mat, at.name, apart.value, n),
            )  # fmt: skip
        else:
            yield compare(
                at, mat.support_spacing, apart,
                says=lambda: words("supports so far apart let {mat} sag between them", mat=at.name),
                working=lambda: supports,
                remedy=lambda: _on_chairs(mat, at.name, apart.value, n),
            )  # fmt: skip


def _on_chairs(mat: Bars | Mesh, name: str, apart: Amount, n: Amount) -> Remedy:
    says = words("set {mat} on chairs every {s} both ways, about {n} of them", mat=name, s=apart, n=n)
    path = mat.place.path
    return together(write(f"{path}.held_by", "chairs", says), write(f"{path}.support_spacing", apart, says), says=says)
