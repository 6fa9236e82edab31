"""Where a sawn joint runs up against a wall, a step or a curb, the last foot is cut some other way.

What is compared
    Counts the ends of each sawn joint at a building, wall, step or curb of which the file does not say how the last
    foot is made, where it says so of others. There should be none. Where it says so of none, it is asked.
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
    Limit("ends_left_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "50"),
          "ends of sawn joints at a wall, step or curb, with no word of how the end is made"),
)  # fmt: skip
WORKED = ()
FACES_TOLD = 3
SAWN = ("saw cut", "early saw cut")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """All joints that end at such faces."""
    sawn = [joint for joint in plan.joints.all if joint.joint.kind in SAWN]
    if not sawn:
        does_not_apply("no joint is cut with a saw")
    if not any(_faces(plan, joint) for joint in sawn):
        does_not_apply("no sawn joint ends at a wall, step or curb")
    ended = [joint for joint in sawn if _faces(plan, joint)]
    bare = [joint for joint in ended if not joint.joint.last_foot]
    if len(bare) == len(ended):
        asked = "joints, last_foot: how the saw's last foot at a wall, step or curb is made, such as hand groove"
        not_shown(asked, place=ended[0].joint.place)
    left = sum(len(_faces(plan, joint)) for joint in bare)
    faces = list(dict.fromkeys(face for joint in bare or ended for face in _faces(plan, joint)))
    if len(faces) > FACES_TOLD:
        faces[FACES_TOLD - 1 :] = [f"{len(faces) - FACES_TOLD + 1} more"]
    walls = " and ".join(filter(None, (", ".join(faces[:-1]), faces[-1])))
    names = list(dict.fromkeys(joint.name for joint in bare or ended))
    told = ("joint " if len(names) == 1 else "joints ") + ", ".join(names[:4])
    at = spot((bare or ended)[0], told + (f" and {len(names) - 4} more" if len(names) > 4 else ""))
    paths = dict.fromkeys(f"{joint.joint.place.path}.last_foot" for joint in bare)
    tool = "tool the ends of {joints} there with a groover, or set strips, and write last_foot: {how}"
    says = words(tool, joints=at.name, how="hand groove")
    yield compare(
        at, count(left), limits.ends_left_at_most,
        says=lambda: words("the saw stops short of {faces}, and the cracks do not", faces=walls),
        remedy=lambda: together(*(write(path, "hand groove", says) for path in paths), says=says),
    )  # fmt: skip


def _faces(plan: Plan, joint: PlannedJoint) -> list[str]:
    """Names of what a joint runs up against, one for each end."""
    ends = [end.at for end in joint.ends if end.meets == "edge"]
    beside = [[piece.name for piece in plan.edges.at(end) if piece.dams] for end in ends]
    return [names[0] for names in beside if names]
