"""No panel runs out into a point or a sliver.

What is compared
    Compares the angle of the sharpest corner of every panel with 45 degrees and, for a note, with 60 degrees. One
    degree less is let pass: nobody lays a joint out closer, and a curve is reckoned in short straight pieces. Compares
    the short side of its smallest rectangle with 2 ft. The flare of an approach, a triangle along a curb or a street,
    has points by its shape, and no angle is asked of it.
Why it matters
    A pointed corner has too little concrete behind it: it curls up as it dries, and the first wheel takes it off. A
    panel under 2 ft breaks across, because it is thin next to its own joints. The pieces rock, and the joint beside
    them opens.
When it does not apply
    It applies to every slab: one without joints is one panel.
How to put it right
    Let joints meet edges square, and keep them straight for the last 1 1/2 ft. At a curved edge aim them at the center
    of the curve. Leave out a joint that makes a strip, or move it.
Where sources differ
    A paving association avoids angles under 60 degrees and finds 90 best. Joints along a hip or a miter leave 45, which
    flatwork lives with: common practice. Texts on layout print square corners at edges and 2 ft as the least width.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Panels without points and slivers"
LIMITS = (
    Limit("angle_at_least", "45 deg", Kind.ANGLE, "caution", Cite("common-practice"), ("20 deg", "80 deg"),
          "angle of a corner of a panel"),
    Limit("preferred_angle_at_least", "60 deg", Kind.ANGLE, "note", Cite("paving-association-angle"),
          ("30 deg", "90 deg"), "angle of a corner of a panel that keeps its point"),
    Limit("width_at_least", "2 ft", Kind.LENGTH, "caution", Cite("trade-articles-layout"), ("6 in", "6 ft"),
          "short side of a panel"),
)  # fmt: skip
WORKED = ()
LAID_OUT = 1.0  # degrees: as near as a joint is set out, and a curve is drawn in chords (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The corners of each panel, and its width."""
    angles, width = (limits.angle_at_least, limits.preferred_angle_at_least), limits.width_at_least
    for panel in plan.panels.all:
        at = spot(panel)
        if panel.corners and not plan.edges.flares([corner.at for corner in panel.corners]):  # a round slab has none
            yield _sharpest(plan, panel, angles)
        short = length(panel.short_side)
        more = round_up(depth(width.value.si - short.si), tape_step(plan))
        yield compare(
            at, short, width,
            says=lambda: words("{panel} is a sliver", panel=at.name),
            working=lambda: step("too narrow", "least width - short side", words(
                "{least} - {short}", least=width.value, short=short), depth(width.value.si - short.si)),
            remedy=lambda: _wider(plan, panel, more),
            decide=lambda: words("make {panel} {more} wider, or leave out the joint that cuts it off",
                                 panel=at.name, more=more),
        )  # fmt: skip


def _sharpest(plan: Plan, panel: Panel, angles: Sequence[InForce]) -> Conclusion:
    corner = min(panel.corners, key=lambda one: round(one.degrees, 6))  # the first of equals, wherever the slab lies
    preferred = max(limit.value.si for limit in angles)
    inside, more = angle(corner.degrees), angle(preferred - corner.degrees)
    return compare(
        at := spot(panel)._replace(shape=(corner.at,)), inside, *angles, give=LAID_OUT,
        says=lambda: words("{panel} runs out into a point", panel=at.name),
        working=lambda: step("to open", "angle to have - angle drawn", words(
            "{asked} - {inside}", asked=angle(preferred), inside=inside), more),
        remedy=lambda: opened(plan, panel, corner.at, round_up(more, 1.0)),
        decide=lambda: _by_hand(beside_corner(plan, panel, corner.at), round_up(more, 1.0)),
    )  # fmt: skip


def _by_hand(joint: PlannedJoint | None, more: Amount) -> Words:
    """What to do with a corner that no joint drawn anew opens without harm elsewhere."""
    if joint is None:
        return words("open that corner of the slab by {more}, or cut its tip off square", more=more)
    return words("turn joint {joint} there by {more}, towards square, and set its neighbors to suit",
                 joint=joint.name, more=more)  # fmt: skip


def _wider(plan: Plan, panel: Panel, more: Amount) -> list[Remedy]:
    """The joint that cuts a sliver off moved away from it, or left out."""
    joint = longest_beside(plan, panel)
    if joint is None:
        return []
    move = words(
        "make panel {panel} {more} wider: move joint {joint} over", panel=panel.name, more=more, joint=joint.name
    )
    leave = words("leave out joint {joint}, which cuts it off", joint=joint.name)
    return [*widened(plan, panel, more.si, move), *left_out(plan, joint, leave)]
