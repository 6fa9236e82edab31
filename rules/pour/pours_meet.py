"""Where one day's pour ends, a construction joint is drawn.

What is compared
    Looks along the sides where the areas of two pours meet inside the slab, and compares the length that no joint lies
    on, and the length that lies on a joint at which placing cannot stop, with nothing. Construction joints, strips
    formed through the whole depth, and joints filled through the whole depth are ends of a pour.
Why it matters
    Concrete of the second day does not grow into that of the first. Where nobody set a bulkhead, the first day ends in
    a ragged slope, and a crack follows it in and out between the panels. A saw does not cut a joint that is there
    already: along a bulkhead there is one, straight down, with nothing to carry a wheel over it.
When it does not apply
    One pour places the whole slab.
How to put it right
    Draw a construction joint where the day ends, or end it at one that is drawn. It wants dowels or a key where loads
    cross (`keys-and-dowels`), and no saw cut beside it.
Where sources differ
    Sources agree on the joint. That a planned saw cut becomes the bulkhead line when a day ends early is common
    practice; drawn so from the start it is a slip of the drawing, and a caution.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "A construction joint where a pour ends"
LIMITS = (
    Limit("without_joint_at_most", "0 ft", Kind.LENGTH, "hold", Cite("geometry"), ("0 ft", "100 ft"),
          "length along which a pour ends where no joint is drawn"),
    Limit("on_other_joint_at_most", "0 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 ft", "100 ft"),
          "length along which a pour ends on a joint that is no construction joint"),
)  # fmt: skip
WORKED = ()
MEANT = 0.4572  # m, 18 in: a pour that ends this near to a construction joint was meant to end on it (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each joint and each panel in which a pour ends."""
    if not plan.design.pours:
        does_not_apply("one pour places the whole slab")
    found = meetings(plan)
    if not found:
        does_not_apply("no two pours meet inside the slab")
    for one in found:
        between = {"first": one.first.name, "second": one.second.name}
        if one.joint is None and not one.holds:
            yield _without(plan, one, limits.without_joint_at_most, between)
        elif one.joint is not None:
            yield _on(one, one.joint, limits.on_other_joint_at_most, between)


def _without(plan: Plan, one: Meeting, limit: InForce, between: dict[str, str]) -> Finding | Margin:
    at = Spot(f"end of {one.first.name} in {_panels(one)}", one.first.pour.place, one.line)
    points = tuple(place_of(spot) for spot in one.line)
    entry: dict[str, Value | tuple[Value, ...]] = {"kind": "construction joint"}
    entry |= {"from": points[0], "to": points[1]} if len(points) == 2 else {}
    draw = words(
        "draw a construction joint where {first} ends, {run} long", first=one.first.name, run=length(one.length)
    )
    beside = _bulkhead(plan, one)
    return compare(
        at, length(one.length), limit,
        says=lambda: words("{first} ends inside {panel}, where {second} goes on, and no joint is drawn there",
                           panel=_panels(one), **between),
        remedy=lambda: [append("joints", entry, draw)] if len(points) == 2 and not beside else [],
        decide=lambda: words("set the corners of {first} and {second} onto {joint}", joint=f"joint {beside.name}",
                             **between) if beside else draw,
    )  # fmt: skip


def _bulkhead(plan: Plan, one: Meeting) -> PlannedJoint | None:
    """The construction joint beside which a pour ends: its corners were meant to lie on it."""
    ends = [joint for joint in plan.joints.all if plan.concrete.ends_placing(joint.joint)]
    return next((joint for joint in ends if all(nearest_on(joint.line, at)[0] < MEANT for at in one.line)), None)


def _on(one: Meeting, joint: PlannedJoint, limit: InForce, between: dict[str, str]) -> Finding | Margin:
    return compare(
        spot(joint), length(0.0 if one.holds else one.length), limit,
        says=lambda: words("{first} ends at {joint}, which is drawn as a {kind}: it is the bulkhead of that day",
                           first=one.first.name, joint=f"joint {joint.name}", kind=joint.joint.kind),
        remedy=lambda: _made(joint),
    )  # fmt: skip


def _panels(one: Meeting) -> str:
    return f"panel{'s' if ' and ' in one.panel else ''} {one.panel}"


def _made(joint: PlannedJoint) -> Remedy:
    """A joint made a construction joint, with no depth and no hour of a cut."""
    own, says = joint.joint.place.path, words("make {joint} a construction joint", joint=f"joint {joint.name}")
    edits = [write(f"{own}.kind", "construction joint", says)]
    edits += [drop(f"{own}.depth", says)] if joint.joint.depth else []
    edits += [drop(f"{own}.cut_after", says)] if joint.joint.cut_after else []
    return together(*edits, says=says)
