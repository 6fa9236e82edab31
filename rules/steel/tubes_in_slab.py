"""Tubes and conduit in the slab lie deep enough for the saw, and take no more of it than it can spare.

What is compared
    Compares the concrete over heating tubes, conduit and pipes in the slab with the depth of every saw cut and groove
    that passes over them, and 1/2 in; with 1 1/2 in in the weather and 3/4 in indoors; and their outside diameter with
    a third of the thickness.
Why it matters
    The saw does not see the tube. A cut that touches it floods the base, and the loop is lost: nobody digs it out
    again. Tubes float and shift besides while the concrete goes in. Too high, and the line of each tube shows as a
    crack; too thick, and the slab breaks along it as along a joint.
When it does not apply
    Nothing is cast in the slab (`embedded`). Pipes and cables in the ground below are buried lines.
How to put it right
    Tie the tubes lower, on the bottom of the steel or to the insulation, or form those joints: a strip or a tooled
    groove of a known depth. Write on the forms how deep the saw may go. Keep the tubes under pressure while concrete
    is placed and cut, with the gauge in sight.
Where sources differ
    Cover and the third of the thickness stood in the concrete code for conduit and pipes (recalled); those that make
    heating floors ask 3/4 to 2 in over the tubes. The half inch under the blade is common practice: tubes, like bars,
    lie no closer to their place than that.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Tubes in the slab clear of the saw"
LIMITS = (
    Limit("room_under_cut_at_least", "1/2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "2 in"),
          "concrete between the bottom of a cut and the tubes under it"),
    Limit("cover_outdoors_at_least", "1 1/2 in", Kind.DEPTH, "caution", Cite("aci-318-11-recalled", "sec. 6.3.10"),
          ("1/2 in", "4 in"), "concrete over tubes in the weather"),
    Limit("cover_indoors_at_least", "3/4 in", Kind.DEPTH, "caution", Cite("aci-318-11-recalled", "sec. 6.3.10"),
          ("1/4 in", "4 in"), "concrete over tubes indoors"),
    Limit("part_of_thickness_at_most", "1/3", Kind.RATIO, "caution", Cite("aci-318-11-recalled", "sec. 6.3.5"),
          ("1/6", "1/2"), "outside diameter of tubes, as part of the thickness"),
)  # fmt: skip
WORKED = ()
CUT = ("saw cut", "early saw cut", "tooled groove")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Under each cut, then under the top, then across the slab."""
    every = plan.design.embedded
    if not every:
        does_not_apply("nothing is cast in the slab (embedded)")
    if all(one.top_cover is None and one.size is None for one in every):
        not_shown("embedded, top_cover: the concrete over the tubes, such as {2 1/2 in|65 mm}", place=every[0].place)
    for one in every:
        at = Spot(one.name, one.place, tuple((point.x, point.y) for point in one.along or one.corners))
        if one.top_cover:
            yield from _under_cuts(plan, limits, one, one.top_cover, at)
            wet = any(map(plan.rained_on, plan.areas.holding(one)))
            limit = limits.cover_outdoors_at_least if wet else limits.cover_indoors_at_least
            yield compare(
                at, one.top_cover, limit,
                says=lambda: words("too little concrete lies over {name}", name=one.name),
                remedy=lambda: _lower(plan, one, limit.value.si),
                decide=lambda: words("thicken the slab, so that {c} lies over {name}", c=limit.value, name=one.name),
            )  # fmt: skip
        if (size := one.size) is not None:
            t = depth(min(area.thickness.si for area in plan.areas.holding(one)))
            part = ratio(size.si / t.si)
            yield compare(
                at, part, limits.part_of_thickness_at_most,
                says=lambda: words("{t} of concrete has no room to spare for {name} of {size}", name=one.name,
                                   size=size, t=t),
                working=lambda: step("part", "diameter / thickness", words("{s} / {t}", s=size, t=t), part),
                decide=lambda: words("lay {name} in the ground under the slab, or thicken the slab there",
                                     name=one.name),
            )  # fmt: skip


def _under_cuts(plan: Plan, limits: Limits, one: Embedded, cover: Amount, at: Spot) -> Conclusions:
    """The deepest cut over one run of tubes."""
    cuts = [(joint.joint.depth, joint) for joint in plan.joints.over(one) if joint.joint.kind in CUT]
    known = [(deep, joint) for deep, joint in cuts if deep]
    if not known:
        return
    deep, joint = max(known, key=lambda pair: pair[0].si)
    room, limit = depth(cover.si - deep.si), limits.room_under_cut_at_least
    yield compare(
        at, room, limit,
        says=lambda: words("joint {joint} is cut into {name}", joint=joint.name, name=one.name) if room.si <= 0 else
        words("joint {joint} is cut down to {room} over {name}", joint=joint.name, name=one.name, room=room),
        working=lambda: step("room", "cover - cut", words("{c} - {d}", c=cover, d=deep), room),
        remedy=lambda: _lower(plan, one, deep.si + limit.value.si),
        decide=lambda: words("form the joints over {name} with strips, or lay no tubes under them", name=one.name),
    )  # fmt: skip


def _lower(plan: Plan, one: Embedded, cover: float) -> list[Remedy]:
    """Tubes laid lower, under the steel where they would lie in it, if the slab has room for them."""
    finest, held = tape_step(plan, INCH / 4), plan.areas.holding(one)
    low, size = round_up(depth(cover), finest), one.size.si if one.size else INCH
    where = "{low} below the top"
    for laid in plan.steel.mats:  # bars and wires lie in two layers
        top = laid.mat.top_cover
        bottom = top.si + 2 * laid.diameter if top else 0.0
        if top and top.si < low.si + size and low.si < bottom and any(area in held for area in laid.areas):
            low, where = round_up(depth(bottom), finest), "under the steel, {low} below the top"
    if not meets(low.si + size, min(area.thickness.si for area in held), "most"):
        return []
    says = words(f"lay {{name}} {where}", name=one.name, low=low)
    return [write(f"{one.place.path}.top_cover", low, says)]
