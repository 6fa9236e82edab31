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
from collections.abc import Iterator

from slabwright.design.model import Bars, Mesh
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, count, length, share

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


def relevant(plan: Plan) -> Relevance:
    """There are bars or mesh."""
    steel = plan.design.reinforcement
    if steel is None:
        add = "reinforcement: the steel in the slab, such as {mesh: {style: {6x6 W2.9|SL72}, held_by: chairs}}, or none"
        return not_shown(add, place=plan.place("reinforcement", "thickness"))
    return APPLIES if steel.mats else does_not_apply("there are no bars and no mesh")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each mat by itself."""
    steel = plan.design.reinforcement
    for name, mat, _ in steel.mats if steel else ():
        apart = limits.bar_supports_at_most if name == "bars" else limits.mesh_supports_at_most
        yield _judged(plan, limits, f"the {name}", mat, apart)


def _judged(plan: Plan, limits: Limits, name: str, mat: Bars | Mesh, apart: InForce) -> Finding | Margin:
    at, held = Spot(name, mat.place), share(0 if mat.held_by in ON_NOTHING else 1)
    n = count(math.ceil(plan.shape.area / apart.value.si**2))
    numbers = words("{a} / ({s} x {s})", a=area(plan.shape.area), s=length(apart.value.si))
    working = (step("supports", "area / (distance x distance)", numbers, n),)
    to_pass = words("set {mat} on chairs every {s} both ways, about {n} of them", mat=name, s=apart.value, n=n)
    if not limits.held_part_at_least.met(held):
        says = "the file does not say what holds {mat} up"
        if mat.held_by == "nothing":
            says = "nothing holds {mat} up"
        elif mat.held_by:
            says = "{mat} hooked up by hand will sink back as soon as somebody steps there"
        return Finding(at, words(says, mat=name), held, limits.held_part_at_least, working, to_pass)
    if mat.support_spacing is None:
        return Margin(at, held, limits.held_part_at_least)
    if apart.met(mat.support_spacing):
        return Margin(at, mat.support_spacing, apart)
    says = "supports so far apart let {mat} sag between them"
    return Finding(at, words(says, mat=name), mat.support_spacing, apart, working, to_pass)
