"""Every joint runs on until it meets an edge or goes straight through another joint.

What is compared
    Compares how far each end of each joint stops short of the edge ahead with 2 in: an end drawn nearer is taken to
    reach the edge, and one at the face of a post, a drain or a box-out is taken to end there. The rule then counts the
    ends that stop on the side of another joint with no filler through it, or turn a corner into one. There should be
    none. A joint that bends round into itself ends nowhere, nor does one that runs into another's side at a slant of
    less than 15 degrees.
Why it matters
    A crack does not stop where the saw stopped. From a loose end it runs on by itself to the nearest edge. From a
    joint that ends on the side of another it jumps across and goes on in the next panel: two years later every T has
    a tail.
When it does not apply
    No joint is drawn, or none but pattern lines.
How to put it right
    Carry the joint on to an edge, an opening or an isolated face, or line two joints up so that they cross.
Where sources differ
    Texts on layout let joints end at an edge or an isolation joint and nowhere else. Crews end them on construction
    joints as well, and a crack can go on there too: a T is a caution, a loose end a hold. The 2 in are common practice.
"""

from __future__ import annotations

import math

from slabwright.rulebook.kit import *

TITLE = "Joints that run through"
LIMITS = (
    Limit("short_of_edge_at_most", "2 in", Kind.DEPTH, "hold", Cite("trade-articles-layout"), ("0 in", "12 in"),
          "distance from the loose end of a joint to the edge ahead"),
    Limit("ends_on_joints_at_most", "0", Kind.COUNT, "caution", Cite("trade-articles-layout"), ("0", "2"),
          "ends of a joint that stop on the side of another, or turn a corner into one"),
)  # fmt: skip
WORKED = ()
# Where a joint goes on in another, or in itself, and turns less than this, none ends (common practice).
STRAIGHT = math.cos(math.radians(35))
HARDLY = 0.005  # m: an end that lies so near to the edge ahead is at it


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Loose ends, then ends that stop on other joints; two joints that meet at a corner are told of once."""
    joints = [joint for joint in plan.joints.all if joint.counts]
    if not joints:
        does_not_apply("no joints are drawn")
    by_name: dict[str, list[PlannedJoint]] = {}
    for joint in joints:
        by_name.setdefault(joint.name, []).append(joint)
    short, stops = limits.short_of_edge_at_most, limits.ends_on_joints_at_most
    for joint in joints:
        at, onward = spot(joint), list[tuple[PlannedJoint, int]]()
        for side, end in enumerate(() if _ring(joint) else joint.ends):
            loose = end.meets == "nothing" and not plan.joints.ends_at_fixture(end.at)
            ahead = length(ahead_of(plan, joint, side) if loose else 0.0)
            yield compare(
                at, ahead, short,
                says=lambda: words("{joint} stops in the middle of a panel", joint=at.name),
                remedy=lambda: carried_on(plan, [(joint, side)], words(
                    "carry {joint} on for {ahead}, to the edge", joint=at.name, ahead=ahead)),
            )  # fmt: skip
            if end.meets == "joint side" and not _filled(by_name[end.other][0]):
                onward.append((joint, side))
            elif end.meets == "joint end":
                onward += _corner(joint, side, by_name[end.other])
        others = " and ".join(dict.fromkeys(end.other for end in joint.ends if end.meets.startswith("joint")))
        yield compare(
            at, count(len(onward)), stops,
            says=lambda: words("{joint} stops at joint {others}, and its crack will not", joint=at.name, others=others),
            remedy=lambda: [carried_on(plan, onward, _carry(plan, onward)), *_filler(onward, by_name)],
            decide=lambda: words("line {joint} up with a joint beyond, or set filler through joint {others}",
                                 joint=at.name, others=others),
        )  # fmt: skip


def _ring(joint: PlannedJoint) -> bool:
    """Whether a joint goes round something and on in itself, as a cut round a bed, without a corner there."""
    first, last = joint.ends
    return math.dist(first.at, last.at) < HARDLY and _goes_on(joint, 0, joint, 1)


def _goes_on(joint: PlannedJoint, side: int, other: PlannedJoint, there: int) -> bool:
    """Whether a joint goes on at an end in another one's end there, and hardly turns."""
    (x0, y0), (x1, y1) = way_of(joint, side), way_of(other, there)
    return -(x0 * x1 + y0 * y1) > STRAIGHT * math.hypot(x0, y0) * math.hypot(x1, y1)


def _filled(joint: PlannedJoint) -> bool:
    return joint.joint.isolation is not None and joint.joint.isolation.material != "none"


def _carry(plan: Plan, ends: Sequence[tuple[PlannedJoint, int]]) -> Words:
    ways = {f"way{n}": length(ahead_of(plan, joint, side)) for n, (joint, side) in enumerate(ends)}
    names = {f"name{n}": joint.name for n, (joint, _) in enumerate(ends)}
    carry = ", ".join(f"joint {{name{n}}} on for {{way{n}}}" for n in range(len(ends)))
    return words(f"carry {carry}, to the edge", **ways, **names)


def _filler(ends: Sequence[tuple[PlannedJoint, int]], by_name: dict[str, list[PlannedJoint]]) -> list[Remedy]:
    """Filler through the one construction joint that joints end on, where nothing is to hold its faces together."""
    name, *more = {joint.ends[side].other for joint, side in ends}
    joint = by_name[name][0].joint
    if more or joint.kind != "construction joint" or joint.lock:
        return []
    return [fill(joint.place.path, joint.isolation, words("set filler through joint {name}, full depth", name=name))]


def _corner(joint: PlannedJoint, side: int, others: Sequence[PlannedJoint]) -> list[tuple[PlannedJoint, int]]:
    """Both ends of a corner that two joints make here; nothing where one goes on in the other, or along its side."""
    return [
        end for other in others for there in (0, 1) for end in ((joint, side), (other, there))
        if other.ends[there].at == joint.ends[side].at
        and (joint.name, side) < (other.name, there)
        and not _goes_on(joint, side, other, there)
    ]  # fmt: skip
