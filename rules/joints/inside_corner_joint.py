"""A joint starts at, or runs through, every inside corner of the outline and of its openings.

What is compared
    Compares the distance from each inside corner to the nearest joint that counts with 1 in. A joint that comes to a
    side of 6 in or less, such as the end of a channel drain, serves both corners of it. A bend of the outline under 20
    degrees, or 45 with sides of a foot, is no corner, and a round opening or a smooth arc has none. The rim of a round
    opening of a foot and more is compared with the nearest joint by the same inch, where there are joints.
Why it matters
    An inside corner gathers the pull of both legs into one point. Without a joint there the slab opens from the point,
    mostly on the slant, often before anyone has parked on it: the crack every notch and every box-out in a patio shows.
When it does not apply
    The outline and the openings have no inside corners, and no opening is round. A pad for equipment that lies on a mat
    of bars, with more bars laid across the corner, is left out: its maker or a utility draws it without a joint, and
    the mat holds the crack (common practice).
How to put it right
    Start a joint at the corner, in line with one of its two sides, and carry it to an edge. An opening can also be
    turned so that its corners lie on joints, or made round and set where joints meet.
Where sources differ
    The trade asks a joint from the corner, or a box-out, or a crack inducer 5 ft long; Army mats rely on bars. Bars
    laid across the corner are a typical detail and no requirement: they hold the crack tight and do not prevent it.
    With bars alone the shortfall is a caution, and so it is at a pit up to 3 ft wide that is set in filler, such as a
    sump: it is a box-out, of which the joint leaflet of the ready-mixed trade shows a detail and requires nothing. That
    1 in is near enough is common practice, and so is a joint at a round hole, where the slab is narrowest and opens
    first.
"""

from __future__ import annotations

import math

from slabwright.rulebook.kit import *

TITLE = "A joint at every inside corner"
LIMITS = (
    Limit("distance_at_most", "1 in", Kind.DEPTH, "hold", Cite("trade-articles-layout"), ("1/4 in", "6 in"),
          "distance from an inside corner to the nearest joint"),
    Limit("distance_with_bars_at_most", "1 in", Kind.DEPTH, "caution", Cite("aci-360r-corner"), ("1/4 in", "6 in"),
          "distance from an inside corner with corner bars to the nearest joint"),
    Limit("pit_distance_at_most", "1 in", Kind.DEPTH, "caution", Cite("nrmca-cip-6"), ("1/4 in", "6 in"),
          "distance from a corner of a small pit, set in filler like a box-out, to the nearest joint"),
    Limit("joints_at_least", "1", Kind.COUNT, "hold", Cite("trade-articles-layout"), ("0", "1"),
          "joints in a slab that has inside corners"),
    Limit("joints_with_bars_at_least", "1", Kind.COUNT, "caution", Cite("aci-360r-corner"), ("0", "1"),
          "joints in a slab whose inside corners have corner bars"),
    Limit("round_distance_at_most", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/4 in", "12 in"),
          "distance from the rim of a round opening to the nearest joint"),
)  # fmt: skip
WORKED = ()
BEND = 200.0  # degrees inside the concrete: the edge bends, but nothing gathers there (common practice)
ROUNDED = 226.0  # degrees: an edge rounded by short sides turns no more at each of them (common practice)
ON_RIM = 0.01  # m
CHORD = 0.3048  # m, 1 ft: such a side (common practice)
BOXED = 0.9144  # m, 3 ft: a pit no wider is boxed out as a column is (common practice)
NEAR = 0.6096  # m, 2 ft: a joint this near was meant for the corner, and is moved to it


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The distance from each inside corner to the nearest joint; the count of joints where there is none."""
    every = [corner for corner in plan.panels.inside_corners if _gathers(corner)]
    corners = [corner for corner in every if not _in_a_mat(plan, corner)]
    rounds = list(_rounds(plan, every))
    if not corners and not rounds:
        does_not_apply("a mat and bars across them hold the inside corners of the pad" if every else
                       "the outline and the openings have no inside corners")  # fmt: skip
    for corner in corners:
        at, away = spot(corner), depth(corner.joint_distance)
        bars = "_with_bars" if plan.steel.crosses(corner.at) else ""
        tells = "; its bars do not prevent one" if bars else ""
        if math.isinf(away.si):
            yield compare(
                at, count(0), limits[f"joints{bars}_at_least"],
                says=lambda: words("a crack will start at {corner}: no joint is drawn" + tells, corner=at.name),
                remedy=lambda: joint_at(plan, corner.at, corner.ways, at.name, NEAR),
            )  # fmt: skip
            continue
        pit = _small_pit(plan, corner)
        limit = limits.pit_distance_at_most if pit and not bars else limits[f"distance{bars}_at_most"]
        yield compare(
            at, away, limit,
            says=lambda: words("a crack will start at {corner}: no joint starts there" + tells, corner=at.name),
            working=lambda: step(
                "too far", "distance to the nearest joint - limit",
                words("{away} - {near}", away=away, near=limit.value), depth(away.si - limit.value.si)),
            remedy=lambda: [] if pit else joint_at(plan, corner.at, corner.ways, at.name, NEAR),
            decide=(lambda: words("make the hole for {pit} round, or set it where joints come to its corners", pit=pit))
            if pit else None,
        )  # fmt: skip

    for at, middle, radius in rounds:
        away, near = depth(max(0.0, plan.joints.nearest(middle)[1] - radius)), limits.round_distance_at_most
        if math.isfinite(away.si):
            yield compare(
                at, away, near,
                says=lambda: words("a crack will start at {rim}: no joint comes to it", rim=at.name),
                working=lambda: step("too far", "distance to the nearest joint - limit",
                                     words("{away} - {near}", away=away, near=near.value),
                                     depth(away.si - near.value.si)),
                decide=lambda: words("lay out the joints so that one on each side comes to {rim}", rim=at.name),
            )  # fmt: skip


def _rounds(plan: Plan, corners: Sequence[InsideCorner]) -> Iterator[tuple[Spot, XY, float]]:
    """The rims of openings without corners, a foot across and more: with the middle, and half the width, m."""
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        xy = tuple((float(x), float(y)) for x, y in ring.xy)
        middle = sum(x for x, _ in xy) / len(xy), sum(y for _, y in xy) / len(xy)
        radius = max(math.dist(middle, at) for at in xy)
        cornered = any(math.dist(at, corner.at) < ON_RIM for at in xy for corner in corners)
        if not cornered and meets(2 * radius, CHORD, "least") and plan.joints.counting:
            yield Spot(f"the rim of {opening.name}", opening.place, xy), middle, radius


def _in_a_mat(plan: Plan, corner: InsideCorner) -> bool:
    """Whether a corner of a pad for equipment has bars laid across it beside those of the mat."""
    if not plan.steel.crosses(corner.at):
        return False
    pad = plan.areas.at(corner.at)
    return pad.use == "equipment pad" and any(one.kind == "bars" and pad in one.areas for one in plan.steel.mats)


def _gathers(corner: InsideCorner) -> bool:
    """Whether a corner gathers the pull of both sides, and is no bend or part of a rounded line."""
    rounded = min(math.hypot(*way) for way in corner.ways) <= CHORD
    return corner.degrees > (ROUNDED if rounded else BEND)


def _small_pit(plan: Plan, corner: InsideCorner) -> str:
    """Name of the pit whose corner it is, no wider than a box-out and parted from the slab, such as a sump."""
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        xy = [(float(x), float(y)) for x, y in ring.xy]
        small = meets(max(math.dist(a, b) for a in xy for b in xy), BOXED * math.sqrt(2), "most")
        filled = opening.isolation is not None and opening.isolation.material != "none"
        if opening.holds == "pit" and small and filled and nearest_on(xy, corner.at)[0] < ON_RIM:
            return opening.name
    return ""
