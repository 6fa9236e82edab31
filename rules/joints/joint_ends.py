"""Every joint runs on until it meets an edge or goes straight through another joint.

What is compared
    How far each end of each joint stops short of the edge ahead, with 2 in: an end drawn nearer is taken to reach it.
    Then the number of ends that stop on the side of another joint, or turn a corner into one, with none.
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
from collections.abc import Iterator, Sequence

from slabwright.geometry.shape.ahead import distance_ahead
from slabwright.plan.plan import XY, Plan, PlannedJoint
from slabwright.rulebook.kit import APPLIES, Cite, Finding, Limit, Limits, Margin, Relevance, does_not_apply, spot
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, length

TITLE = "Joints that run through"
LIMITS = (
    Limit("short_of_edge_at_most", "2 in", Kind.DEPTH, "hold", Cite("trade-articles-layout"), ("0 in", "12 in"),
          "distance from the loose end of a joint to the edge ahead"),
    Limit("ends_on_joints_at_most", "0", Kind.COUNT, "caution", Cite("trade-articles-layout"), ("0", "2"),
          "ends of a joint that stop on the side of another, or turn a corner into one"),
)  # fmt: skip
WORKED = ()
STRAIGHT = math.cos(math.radians(15))  # two joints end to end count as one when they turn less than this


def relevant(plan: Plan) -> Relevance:
    """There is a joint that counts."""
    return APPLIES if any(joint.counts for joint in plan.joints) else does_not_apply("no joints are drawn")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Loose ends, then ends that stop on other joints; two joints that meet at a corner are told of once."""
    joints = [joint for joint in plan.joints if joint.counts and len(joint.line) > 1]
    by_name: dict[str, list[PlannedJoint]] = {}
    for joint in joints:
        by_name.setdefault(joint.name, []).append(joint)
    short, stops = limits.short_of_edge_at_most, limits.ends_on_joints_at_most
    for joint in joints:
        at, onward = spot(joint), []
        for side, end in enumerate(joint.ends):
            ahead = length(_ahead(plan, joint, side) if end.meets == "nothing" else 0.0)
            if short.met(ahead):
                yield Margin(at, ahead, short)
            else:
                says = words("{joint} stops in the middle of a panel", joint=at.name)
                to_pass = words("carry {joint} on for {ahead}, to the edge", joint=at.name, ahead=ahead)
                yield Finding(at, says, ahead, short, (), to_pass)
            if end.meets == "joint side":
                onward.append((joint, side))
            elif end.meets == "joint end":
                onward += _corner(joint, side, by_name[end.other])
        if stops.met(float(len(onward))):
            yield Margin(at, count(len(onward)), stops)
            continue
        others = " and ".join(dict.fromkeys(end.other for end in joint.ends if end.meets.startswith("joint")))
        says = words("{joint} stops at joint {others}, and its crack will not", joint=at.name, others=others)
        ways = {f"way{n}": length(_ahead(plan, other, side)) for n, (other, side) in enumerate(onward)}
        names = {f"name{n}": other.name for n, (other, _) in enumerate(onward)}
        carry = ", ".join(f"joint {{name{n}}} on for {{way{n}}}" for n in range(len(onward)))
        yield Finding(at, says, count(len(onward)), stops, (), words(f"carry {carry}, to the edge", **ways, **names))


def _way(joint: PlannedJoint, side: int) -> XY:
    """The direction a joint has at its first (0) or last (1) end, out of the joint."""
    (x0, y0), (x1, y1) = joint.line[-2:] if side else joint.line[1::-1]
    return x1 - x0, y1 - y0


def _ahead(plan: Plan, joint: PlannedJoint, side: int) -> float:
    ahead = distance_ahead(plan.slab, joint.ends[side].at, _way(joint, side))
    return ahead if math.isfinite(ahead) else 0.0  # no edge lies ahead: it stops at one


def _corner(joint: PlannedJoint, side: int, others: Sequence[PlannedJoint]) -> list[tuple[PlannedJoint, int]]:
    """Both ends of a corner that two joints make here; nothing where one goes on straight in the other."""
    here = joint.ends[side].at
    ends = [(other, s) for other in others for s in (0, 1) if (other, s) != (joint, side)]
    other, there = min(ends, key=lambda pair: math.dist(pair[0].ends[pair[1]].at, here))
    (x0, y0), (x1, y1) = _way(joint, side), _way(other, there)
    straight = -(x0 * x1 + y0 * y1) > STRAIGHT * math.hypot(x0, y0) * math.hypot(x1, y1)
    told_there = (other.name, there) < (joint.name, side)
    return [] if straight or told_there else [(joint, side), (other, there)]
