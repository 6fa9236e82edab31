"""No panel runs out into a point or a sliver.

What is compared
    The angle of every corner of every panel, with 60 and 45 degrees, and the short side of its smallest rectangle, with
    2 ft.
Why it matters
    A pointed corner has too little concrete behind it: it curls up as it dries, and the first wheel takes it off. A
    panel under 2 ft breaks across, because it is thin next to its own joints. The pieces rock, and the joint beside
    them opens.
When it does not apply
    It always does: a slab without joints is one panel.
How to put it right
    Let joints meet edges square, and keep them straight for the last 1 1/2 ft. At a curved edge aim them at the centre
    of the curve. Leave out a joint that makes a strip, or move it.
Where sources differ
    60 degrees, with 45 as the end of it, is the practice of the paving associations as recalled; no text read here
    prints it. Texts on layout print square corners at edges and 2 ft as the least width.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from slabwright.formulas.units import INCH
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import APPLIES, Cite, Finding, Limit, Limits, Margin, Relevance, Spot, spot, step
from slabwright.text.words import words
from slabwright.units.quantity import Kind, angle, depth, length, round_up

TITLE = "Panels without points and slivers"
LIMITS = (
    Limit("angle_at_least", "45 deg", Kind.ANGLE, "hold", Cite("common-practice"), ("20 deg", "80 deg"),
          "angle of a corner of a panel"),
    Limit("preferred_angle_at_least", "60 deg", Kind.ANGLE, "caution", Cite("paving-association-angle"),
          ("30 deg", "90 deg"), "angle of a corner of a panel that keeps its point"),
    Limit("width_at_least", "2 ft", Kind.LENGTH, "caution", Cite("trade-articles-layout"), ("6 in", "6 ft"),
          "short side of a panel"),
)  # fmt: skip
WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """Every slab has at least one panel."""
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The corners of each panel, and its width."""
    preferred, width = limits.preferred_angle_at_least, limits.width_at_least
    of_slab: set[tuple[float, float]] | None = None  # found when a corner is too sharp
    for panel in plan.panels.all:
        at = spot(panel)
        sharpest = angle(min((corner.degrees for corner in panel.corners), default=180.0))
        square = limits.broken(sharpest, "angle_at_least", "preferred_angle_at_least") is None
        if square:
            yield Margin(at, sharpest, preferred)
        for corner in () if square else panel.corners:
            inside = angle(corner.degrees)
            limit = limits.broken(inside, "angle_at_least", "preferred_angle_at_least")
            if limit is None:
                yield Margin(at, inside, preferred)
                continue
            more = angle(max(preferred.value.si, limit.value.si) - corner.degrees)
            numbers = words("{asked} - {inside}", asked=angle(corner.degrees + more.si), inside=inside)
            way = "turn the joint there by {more}, towards square"
            if of_slab is None:
                of_slab = _of_slab(plan)
            if _spot(corner.at) in of_slab:
                way = "open that corner of the slab by {more}, or cut its tip off square"
            yield Finding(
                at=Spot(at.name, panel.place, (corner.at,)),
                says=words("{panel} runs out into a point", panel=at.name),
                shown=inside,
                limit=limit,
                working=(step("to open", "angle to have - angle drawn", numbers, more),),
                to_pass=words(way, more=round_up(more, 1.0)),
            )
        short = length(panel.short_side)
        if width.met(short):
            yield Margin(at, short, width)
            continue
        more = depth(width.value.si - short.si)
        numbers = words("{least} - {short}", least=width.value, short=short)
        yield Finding(
            at=at,
            says=words("{panel} is a sliver", panel=at.name),
            shown=short,
            limit=width,
            working=(step("too narrow", "least width - short side", numbers, more),),
            to_pass=words("make {panel} {more} wider, or leave out the joint that cuts it off", panel=at.name,
                          more=round_up(more, 0.005 if plan.system == "metric" else INCH / 8)),
        )  # fmt: skip


def _of_slab(plan: Plan) -> set[tuple[float, float]]:
    """Corners of the slab and of its openings that no joint runs to."""
    on_joints = {_spot(xy) for joint in plan.joints.all if joint.counts for xy in joint.line}
    return {_spot(xy) for ring in (plan.shape.ring, *plan.shape.opening_rings) for xy in ring.xy} - on_joints


def _spot(xy: Sequence[float]) -> tuple[float, float]:
    return round(float(xy[0]), 3), round(float(xy[1]), 3)
