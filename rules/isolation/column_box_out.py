"""The box-out round a column or post has its corners on joints, or has no corners, and a joint comes to it.

What is compared
    Counts the corners of each box-out that no joint comes to: one is a note, three are a caution. A round box-out has
    no corners; a square one turned by 45 degrees has four, and a joint that crosses it takes two of them; a square one
    that is not turned has four that no joint through the column can reach. The rule then compares how far the nearest
    joint passes by the middle of the box-out with 1 ft; one that stands so near two edges, in a corner of the slab,
    needs none. Where both are written, it compares the size of the box-out with that of what stands in it and the
    filler on both sides.
Why it matters
    Every corner of a hole is an inside corner. Cracks start at those that have no joint, and run off on the slant into
    good panels: four columns, sixteen cracks. A hole in the middle of a panel, round or not, is where the panel breaks.
    In a hole that is no wider than the post nothing fits between the two, and the slab hangs on the post after all.
When it does not apply
    No box-out is drawn.
How to put it right
    Set a tube form round the column. Or turn the square so that its corners lie on the joints, and let two joints
    cross there. Fill it when the slab has done most of its shrinking.
Where sources differ
    Sources agree: the joint leaflet of the ready-mixed trade shows the square turned, or a round one. It shows a detail
    and requires nothing, so it is a caution; near an edge one joint through a turned square is what there is room for,
    so two corners left are a note. The foot to a joint is common practice.
"""

from __future__ import annotations

import math

from slabwright.rulebook.kit import *

TITLE = "Box-outs with corners on the joints"
LIMITS = (
    Limit("many_free_corners_at_most", "2", Kind.COUNT, "caution", Cite("nrmca-cip-6"), ("0", "4"),
          "corners of a box-out that no joint comes to, where it is not turned onto a joint"),
    Limit("free_corners_at_most", "0", Kind.COUNT, "note", Cite("nrmca-cip-6"), ("0", "4"),
          "corners of a box-out that no joint comes to"),
    Limit("joint_distance_at_most", "1 ft", Kind.LENGTH, "note", Cite("common-practice"), ("0 in", "6 ft"),
          "distance from the middle of a box-out to the nearest joint"),
    Limit("room_at_least", "0 in", Kind.DEPTH, "caution", Cite("geometry"), ("0 in", "12 in"),
          "room on either side of what stands in a box-out and its filler"),
)  # fmt: skip
WORKED = ()
CORNERS = {"round": 0, "square": 4, "turned square": 4}
AT_IT = 0.0508  # m, 2 in: a joint this near the middle goes through it (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The corners of each box-out."""
    boxed = [one for one in plan.fixtures.all if one.fixture.box_out and one.inside]
    if not boxed:
        does_not_apply("no box-out is drawn")
    for one in boxed:
        at, shape = spot(one), one.fixture.box_out or "round"
        corners = count(CORNERS[shape])
        taken = count(min(4, plan.joints.arms(one.at, AT_IT)) if shape == "turned square" else 0)
        free = count(corners.si - taken.si)
        away, near = length(plan.joints.nearest(one.at)[1]), limits.joint_distance_at_most
        settled = not math.isfinite(away.si) or _in_a_corner(plan, one.at, near)
        far = not settled and not near.met(away.si)
        yield compare(
            at, free, limits.many_free_corners_at_most, limits.free_corners_at_most,
            says=lambda: words("no joint comes to the box-out round {thing}, and cracks start at its corners" if far
                               else "cracks will start at the corners of the box-out round {thing}", thing=at.name),
            working=lambda: step("corners left", "corners - those on joints", words("{c} - {t}", c=corners, t=taken),
                                 free),
            remedy=lambda: () if far else write(f"{at.place.path}.box_out", "round", words(
                "box {thing} out round, with a tube form", thing=at.name)),
            decide=lambda: words("lay out the joints so that one goes through {thing}", thing=at.name),
        )  # fmt: skip
        if not settled and not (far and free.si):
            yield compare(
                at, away, near,
                says=lambda: words("no joint comes to the box-out round {thing}", thing=at.name),
                working=lambda: step("too far", "distance to the nearest joint - limit",
                                     words("{away} - {near}", away=away, near=near.value),
                                     length(away.si - near.value.si)),
                decide=lambda: words("lay out the joints so that one goes through {thing}", thing=at.name),
            )  # fmt: skip
        if one.fixture.box_out_size and one.fixture.size:
            yield _room(at, one.fixture, limits.room_at_least)


def _in_a_corner(plan: Plan, at: XY, near: InForce) -> bool:
    """Whether it stands so near a corner of the slab that no joint has room beside it."""
    return near.met(min(math.dist(at, (x, y)) for x, y in plan.shape.ring.xy) / math.sqrt(2))


def _room(at: Spot, fixture: Fixture, limit: InForce) -> Finding | Margin:
    """Whether a post or column, with its filler, goes into its box-out."""
    size, box, filler = fixture.size, fixture.box_out_size, fixture.isolation
    assert size and box
    thick = depth(filler.thickness.si if filler and filler.thickness else 0.0)
    room, least = depth((box.si - size.si) / 2 - thick.si), depth(size.si + 2 * thick.si + 2 * limit.value.si)
    return compare(
        at, room, limit,
        says=lambda: words("{thing} and its filler do not go into a box-out of {box}" if thick.si else
                           "{thing} does not go into a box-out of {box}", thing=at.name, box=box),
        working=lambda: step("room", "(box-out - size) / 2 - filler",
                             words("({b} - {s}) / 2 - {f}", b=box, s=size, f=thick), room),
        decide=lambda: words("make the box-out round {thing} {least} wide or more", thing=at.name, least=least),
    )  # fmt: skip
