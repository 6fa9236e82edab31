"""Joints that wheels roll over, or that salt water runs into, are filled with a sealant.

What is compared
    Counts the joints that are not said to be sealed: all of them where vehicles drive, and sawn and construction joints
    where deicing salt comes. There should be none. A joint with filler all through it counts as sealed if its top is.
Why it matters
    A joint is a gutter that goes down. Salt water stands in it and scales both lips; grit rolls in and, when the slab
    grows in the heat, breaks them off. Below, the base washes away under the edge where the wheel comes down.
When it does not apply
    No such joint is drawn, or nobody drives or salts there.
How to put it right
    When the slab is dry, over 50 °F and getting warmer, blow the cuts out and fill them to 1/8 or 1/4 in under the top,
    so that no tire pulls it out. Look at it once a year. Write sealed: true where that is meant.
Where sources differ
    An Army text on floors has all joints sealed, a profile for light paving of a state association calls it not
    required: water then goes through, and a base that drains carries it off. So it is a note.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Joints sealed where wheels or salt come"
LIMITS = (
    Limit("open_joints_at_most", "0", Kind.COUNT, "note", Cite("tm-5-809-12"), ("0", "50"),
          "joints under wheels or salt that are not sealed"),
)  # fmt: skip
WORKED = ()
NARROW = ("saw cut", "early saw cut", "construction joint")  # with lips as sharp as the saw or the bulkhead left them
NAMED = 8  # more are counted


def _joints(plan: Plan) -> dict[str, list[PlannedJoint]]:
    """Joints that wheels or salt water come onto, each with all of its parts."""
    found: dict[str, list[PlannedJoint]] = {}
    for joint in plan.joints.all:
        salted = bool(plan.design.site.deicing_salt) and joint.joint.kind in NARROW
        if joint.counts and (salted or _under_wheels(plan, joint)):
            found.setdefault(joint.name, []).append(joint)
    return found


def _under_wheels(plan: Plan, joint: PlannedJoint) -> bool:
    return plan.carries_vehicles and any(map(plan.driven_on, plan.areas.along(joint.line)))


def _sealed(joint: PlannedJoint) -> bool | None:
    said = joint.joint.isolation.sealed if joint.joint.isolation else None
    return said if joint.joint.sealed is None else joint.joint.sealed


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """All joints together; one of which it is not said is taken as open."""
    if not plan.carries_vehicles and not plan.design.site.deicing_salt:
        does_not_apply("no vehicles are meant for it, and no deicing salt is expected")
    if not (joints := _joints(plan)):
        does_not_apply("no joint is drawn that wheels or salt water come onto")
    if all(_sealed(parts[0]) is None for parts in joints.values()):
        not_shown("joints, sealed: whether a sealant is laid in each joint, such as true", place=plan.place("joints"))
    bare = {name: parts for name, parts in joints.items() if not _sealed(parts[0])}
    shown, first = count(len(bare)), next(iter((bare or joints).values()))[0]
    names = ", ".join(list(bare)[:NAMED]) + (f" and {len(bare) - NAMED} more" if len(bare) > NAMED else "")
    run = length(sum(joint.length for parts in bare.values() for joint in parts))
    driven = any(_under_wheels(plan, joint) for parts in bare.values() for joint in parts)
    what = "wheels break" if driven else "salt water eats"
    says = words("seal joints {names}: {run} of it", names=names, run=run)
    yield compare(
        spot(first)._replace(name="the joints"), shown, limits.open_joints_at_most,
        says=lambda: words(f"{what} the edges of joints left open: {{names}}", names=names),
        working=lambda: step("sealant", "length of the open joints", words("{n} of them", n=shown), run),
        remedy=lambda: together(
            *(write(f"{parts[0].joint.place.path}.sealed", "true", says) for parts in bare.values()), says=says),
    )  # fmt: skip
