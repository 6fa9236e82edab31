"""Where a sawn joint runs up against a wall, a step or a curb, the last foot is cut some other way.

What is compared
    The ends of each sawn joint at a building, wall, step or curb of which the file does not say how the last foot is
    made, with none.
Why it matters
    The blade sits in the middle of the saw, and the guard hits the wall about a foot before it. The crack comes down
    the cut, finds no cut for the last foot, and goes to the wall by its own way, or round the corner of the step.
When it does not apply
    No joint is sawn, or none of them ends at something the saw cannot pass.
How to put it right
    Tool the last foot with a hand groover while the concrete is green, set a strip there before the pour, or finish it
    with a corner saw. Write which as last_foot.
Where sources differ
    No document asks it; it is common practice, and a note.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Cuts ended by hand where the saw cannot go"
LIMITS = (
    Limit("ends_left_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "2"),
          "ends of a sawn joint at a wall, step or curb, with no word of how the end is made"),
)  # fmt: skip
WORKED = ()
SAWN = ("saw cut", "early saw cut")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each joint that ends at one or two such faces."""
    sawn = [joint for joint in plan.joints.all if joint.joint.kind in SAWN]
    if not sawn:
        does_not_apply("no joint is cut with a saw")
    if not any(_faces(plan, joint) for joint in sawn):
        does_not_apply("no sawn joint ends at a wall, step or curb")
    for joint in sawn:
        if faces := _faces(plan, joint):
            names = " and ".join(dict.fromkeys(faces))
            yield compare(
                at := spot(joint), count(0 if joint.joint.last_foot else len(faces)), limits.ends_left_at_most,
                says=lambda: words("the saw stops short of {faces}, and the crack of {joint} does not",
                                   faces=names, joint=at.name),
                remedy=lambda: write(f"{joint.joint.place.path}.last_foot", "hand groove", words(
                    "tool the end of {joint} with a groover, or set a strip there, and write last_foot: {how}",
                    joint=at.name, how="hand groove")),
            )  # fmt: skip


def _faces(plan: Plan, joint: PlannedJoint) -> list[str]:
    """Names of what a joint runs up against, one for each end."""
    ends = [end.at for end in joint.ends if end.meets == "edge"]
    beside = [[piece.name for piece in plan.edges.at(end) if piece.dams] for end in ends]
    return [names[0] for names in beside if names]
