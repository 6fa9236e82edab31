"""Steel stops, or goes only in part, through the joints that are meant to crack.

What is compared
    Compares the part of the steel that goes through saw cuts, grooves and strips with half. All of it goes through when
    it runs on, half when every other bar or wire is cut, and none when it stops. Construction joints are not counted.
Why it matters
    A cut is drawn so that the crack comes there. With every bar through it the cut is no weaker than the slab beside
    it. It stays shut, and the crack comes where nobody asked for it.
When it does not apply
    There are no bars and no mesh, or no joints that are meant to crack.
How to put it right
    Stop the mat 2 in short of the joint on both sides, or cut every other wire across it before the concrete comes.
Where sources differ
    Stop all of it at the joint, say the cement association and the older ACI 301 (of mesh). Stop it, or let up to
    half through a partial joint, says ACI 350 for water structures. Many crews run all of it through on purpose, to
    keep cracked joints tight, and saw deeper. So it is a note here, at the widest published share.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Steel that lets joints open"
LIMITS = (
    Limit("part_through_at_most", "50 %", Kind.SHARE, "note", Cite("steel-at-joints"), ("0 %", "100 %"),
          "part of the steel that goes through a joint meant to crack"),
)  # fmt: skip
WORKED = ()
CRACKED = ("saw cut", "early saw cut", "tooled groove", "formed strip")
THROUGH = {"stop": 0.0, "half through": 0.5, "run through": 1.0}


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each mat of which it is said what it does at joints."""
    limit = limits.part_through_at_most
    mats = list({id(one.mat): one for one in reversed(plan.steel.mats)}.values())[::-1]
    if not mats:
        does_not_apply("there are no bars and no mesh")
    joints = [joint for joint in plan.joints.all if joint.joint.kind in CRACKED]
    if not joints:
        does_not_apply("no joints are drawn that are meant to crack")
    if not any(laid.mat.at_joints for laid in mats):
        plan.steel.asks_for(mats[0], "at_joints")
    run = length(sum(joint.length for joint in joints))
    bonded = any(bed.steel.bonded for bed in plan.steel.beds)
    for laid in mats:
        mat = laid.mat
        if mat.at_joints:
            at = Spot(laid.name, mat.place)
            yield compare(
                at, share(THROUGH[mat.at_joints]), limit,
                says=lambda: words("with {mat} through them the joints are as strong as the slab beside them",
                                   mat=at.name),
                working=lambda: step("joints it goes through", "length of all joints meant to crack",
                                     words("{n} of them", n=len(joints)), run),
                remedy=lambda: write(f"{mat.place.path}.at_joints", "stop", words(
                    "stop {mat} at the joints, {run} in all, and write at_joints: stop"
                    + ("; the electrician bonds it across them" if bonded else ""), mat=at.name, run=run)),
            )  # fmt: skip
