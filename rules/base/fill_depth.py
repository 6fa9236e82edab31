"""Fill under the slab is no deeper than it can be trusted to stay, and goes in thin layers.

What is compared
    Compares the deepest fill between the ground as it was and the bottom of the base with 8 in of earth, or 24 in of
    clean sand or gravel. It compares the loose thickness of the layers with 10 in, and of layers of earth with 6 in as
    a note. Fill of no written material counts as earth. Topsoil, and what has roots or rots, is no fill: a caution.
Why it matters
    A plate compactor reaches down half a foot. What lies deeper in one layer stays loose, and settles for years: the
    slab hangs over a hollow until the day a wheel finds it.
When it does not apply
    The ground was not shot before digging, no layers are written, and no fill that rots.
How to put it right
    Bring the slab down, take more of the height in compacted stone, or have an engineer look at the fill. Topsoil and
    roots come out first, whatever the depth.
Where sources differ
    The depths are those of the dwelling code, unless more is approved. Soils reports ask for 6 in layers, a builders'
    magazine for 6 to 10 in; the machine at hand decides, and sand and gravel take the thicker layer.
"""

from __future__ import annotations

from slabwright.formulas.soils import drains, rotting
from slabwright.rulebook.kit import *

TITLE = "Fill that stays where it is"
LIMITS = (
    Limit("earth_at_most", "8 in", Kind.DEPTH, "hold", Cite("irc-r506.2.1-2009"), ("0 in", "60 in"),
          "fill of earth under the base, unless more is approved"),
    Limit("granular_at_most", "24 in", Kind.DEPTH, "hold", Cite("irc-r506.2.1-2009"), ("0 in", "120 in"),
          "fill of clean sand or gravel under the base, unless more is approved"),
    Limit("lift_at_most", "10 in", Kind.DEPTH, "caution", Cite("builders-magazine"), ("2 in", "24 in"),
          "loose thickness of each layer of fill"),
    Limit("earth_lift_at_most", "6 in", Kind.DEPTH, "note", Cite("geotechnical-orono"), ("2 in", "18 in"),
          "loose thickness of each layer of earth"),
    Limit("rotting_at_most", "0", Kind.COUNT, "caution", Cite("irc-r506.2.1-2009"), ("0", "1"),
          "kinds of fill that are topsoil or have roots in them"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The deepest fill, and the layers it is laid in."""
    said, ground = plan.design.site.fill, plan.site.ground
    rots = bool(said and rotting(said.material))
    if ground is None and not (said and (said.lift or rots)):
        if len(plan.design.heights.existing) > 2:
            needs_heights(plan)
        does_not_apply("heights of the ground before digging are not given")
    if said and rots:
        yield _rotting(Spot("the fill", said.place), said.material, limits.rotting_at_most)
    if ground:
        yield _deepest(plan, depth(ground.fill), ground.fill_at, limits)
    if said and said.lift:
        lift = said.lift
        layers = [limits.lift_at_most] if drains(said.material) else [limits.lift_at_most, limits.earth_lift_at_most]
        most = min(layers, key=lambda limit: limit.value.si)
        yield compare(
            Spot("the layers of fill", said.place), lift, *layers,
            says=lambda: words("a layer of {d} is compacted at the top and loose below", d=lift),
            remedy=lambda: write("site.fill.lift", most.value,
                                 words("lay the fill in layers of {write}, each compacted", write=most.value)),
        )  # fmt: skip


def _rotting(at: Spot, material: str, limit: InForce) -> Conclusion:
    """Fill that shrinks away under the slab."""
    dig = words("strip the {what} out, and fill with clean gravel in layers, each compacted", what=material)
    return compare(
        at, count(1), limit,
        says=lambda: words("{what} is no fill: it rots and settles under the slab", what=material),
        remedy=lambda: write(f"{at.place.path}.material", "clean gravel", dig),
    )  # fmt: skip


def _deepest(plan: Plan, fill: Amount, place: XY, limits: Limits) -> Conclusion:
    said, base = plan.design.site.fill, plan.design.site.base
    material = said.material if said else ""
    limit = limits.granular_at_most if material and drains(material) else limits.earth_at_most
    too_deep = depth(fill.si - limit.value.si)

    def says() -> Words:
        at = plan.shape.name_at(place)
        if material:
            return words("{d} of {what} lies under the base at {at}", d=fill, what=material, at=at)
        return words("{d} of fill lies under the base at {at}, and no material is written, so it counts as earth",
                     d=fill, at=at)  # fmt: skip

    def thicker() -> Remedy:
        off = round_up(too_deep, tape_step(plan))
        thick = depth((base.thickness.si if base and base.thickness else 0.0) + off.si)
        return write("site.base.thickness", thick,
                     words("make the base {thick} thick: {off} more, so that stone takes the place of fill; or have "
                           "the fill approved", thick=thick, off=off))  # fmt: skip

    return compare(
        plan.spot("the fill", "site.fill", "heights.existing", "site", shape=(place,)), fill, limit,
        says=says,
        working=lambda: step("too deep", "fill - limit", words("{d} - {a}", d=fill, a=limit.value), too_deep),
        remedy=thicker,
    )  # fmt: skip
