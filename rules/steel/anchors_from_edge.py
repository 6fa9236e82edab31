"""Anchors sit far enough from edges and joints that the concrete round them does not split.

What is compared
    Compares the distance from each anchor to the nearest edge or opening, and to the nearest joint, with 6 times its
    diameter. Of a hoop it takes the leg that is nearest (`along`); of a base plate the bolts, which stand half the side
    of the plate nearer than its middle (`plate`). It compares the depth of each anchor in the concrete (`embedment`)
    with two thirds of the thickness there, a note, and what is left below it with 1 in.
Why it matters
    A bolt near an edge breaks a half cone out of it when it is tightened or pulled: the post of a carport, the
    hoop, the lift comes loose with a plate of concrete. In a joint it holds on one side only.
When it does not apply
    No anchor is drawn, or none has a size.
How to put it right
    Move the anchor, or move the joint. What carries people, vehicles or a roof is designed by an engineer.
Where sources differ
    The code asks 6 diameters of bolts that are cast in and tightened, and 6 to 10 of those that are set later, as
    their maker says; 6 is the least of them, and was recalled, not read. The two thirds are those of anchors that are
    drilled in and spread, recalled; a bolt that is cast in goes deeper, and only has to stay off the base.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Anchors keep from edges"
LIMITS = (
    Limit("edge_in_diameters_at_least", "6", Kind.RATIO, "caution", Cite("aci-318-19-recalled", "sec. 17.9.2"),
          ("1", "20"), "distance of an anchor to an edge or joint over its diameter"),
    Limit("depth_part_at_most", "2/3", Kind.RATIO, "note", Cite("aci-318-19-recalled", "sec. 17.9.4"),
          ("1/2", "1"), "depth of an anchor that is drilled in, as part of the thickness"),
    Limit("below_at_least", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "4 in"),
          "concrete below an anchor"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each anchor by its distance to edges and joints."""
    anchors = [one for one in plan.fixtures.all if one.fixture.kind == "anchor" and one.inside]
    if not anchors:
        does_not_apply("no anchor is drawn in the slab (fixtures, kind: anchor)")
    sized: list[tuple[PlannedFixture, Amount]] = []
    for one in anchors:
        if one.fixture.size is None:
            not_shown("fixtures, size: the diameter of the anchor, such as {1/2 in|12 mm}", place=one.fixture.place)
        sized.append((one, one.fixture.size))
    limit = limits.edge_in_diameters_at_least
    for one, size in sized:
        at = spot(one)
        half = one.fixture.plate.si / 2 if one.fixture.plate else 0.0
        legs = plan.fixtures.legs(one)
        away, to = min((min(map(plan.fixtures.from_edge, legs)), "the edge"),
                       (min(plan.joints.nearest(leg)[1] for leg in legs), "a joint"))  # fmt: skip
        off = depth(max(0.0, away - half))
        asked = depth(limit.value.si * size.si)
        many = ratio(off.si / size.si)
        yield compare(
            at, many, limit,
            says=lambda: words(f"{{anchor}} is set {{off}} from {to}", anchor=at.name, off=off),
            working=lambda: step("distance in diameters", "distance / diameter", words("{o} / {s}", o=off, s=size),
                                 many),
            decide=lambda: words(f"set {{anchor}} {{asked}} or more from {to}, as its maker or an engineer says",
                                 anchor=at.name, asked=asked),
        )  # fmt: skip
        if one.fixture.embedment:
            thick, deep = depth(plan.thickness.at(one.at)), one.fixture.embedment
            part, left = ratio(deep.si / thick.si), depth(thick.si - deep.si)
            if not limits.below_at_least.met(left):
                yield compare(
                    at, left, limits.below_at_least,
                    says=lambda: words("{anchor} goes {deep} into {thick} of concrete, through to the base or nearly",
                                       anchor=at.name, deep=deep, thick=thick),
                    working=lambda: step("left below", "thickness - depth", words("{t} - {d}", t=thick, d=deep), left),
                    decide=lambda: words("use a shorter anchor, as its maker says, or thicken the slab under {anchor} "
                                         "to {more} or more", anchor=at.name,
                                         more=depth(deep.si + limits.below_at_least.value.si)),
                )  # fmt: skip
                continue
            yield compare(
                at, part, limits.depth_part_at_most,
                says=lambda: words("{anchor} goes {deep} into {thick} of concrete", anchor=at.name, deep=deep,
                                   thick=thick),
                working=lambda: step("part of the thickness", "depth / thickness",
                                     words("{d} / {t}", d=deep, t=thick), part),
                decide=lambda: words("cast {anchor} in; or thicken the slab there to {more} or more, or use a shorter "
                                     "anchor, as its maker says", anchor=at.name,
                                     more=depth(deep.si / limits.depth_part_at_most.value.si)),
            )  # fmt: skip
