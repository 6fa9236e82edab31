"""Posts, columns, drains, cleanouts and boxes inside the concrete stand free of it.

What is compared
    Compares the depth of the filler around each post, column, drain, cleanout, meter and valve box that the concrete
    surrounds with the thickness of the slab there, and the distance from each post and column to the nearest joint with
    1 ft; one that stands so near an edge needs none, and of one within 2 ft of an edge it is a note. What stands in a
    box-out is free of the concrete, unless its isolation is written `none`, and `column-box-out` speaks of it. Where
    the file writes no filler at all, it asks for that of drains, channels, cleanouts and boxes. The depth of the filler
    along both sides of each channel is compared with the thickness too.
Why it matters
    A post has its own footing and does not move with the slab. Cast in tight, it pins the slab in one spot, and cracks
    run out from it like spokes. A drain or a cleanout is torn off its pipe, or lifts with the frost and cracks the
    slab round it. Even with filler a hole in the middle of a panel is where the panel breaks.
When it does not apply
    No post, column, drain, channel, cleanout or box stands inside the concrete, or all of them stand in box-outs.
How to put it right
    Wrap it to the full depth before the pour, or box it out and fill the box later: round, or square and turned so
    that its corners lie on the joints. Lay a joint through it.
Where sources differ
    Columns and light poles are named in the joint leaflet of the ready-mixed trade, drains, castings and standpipes
    only in trade articles: those are a caution. Channel makers ask for filler at both sides of the encasement, and many
    are cast in tight: that is a note. The foot to a joint is common practice, and so is that a post near an edge, such
    as a bollard or the post of a carport, is mostly left without one: the crack that it may start is short.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Posts, columns and drains stand free"
LIMITS = (
    Limit("post_part_at_least", "1", Kind.RATIO, "hold", Cite("nrmca-cip-6"), ("1/2", "1"),
          "depth of the filler round a post or column, as part of the thickness"),
    Limit("casting_part_at_least", "1", Kind.RATIO, "caution", Cite("trade-article-isolation"), ("1/2", "1"),
          "depth of the filler round a drain, cleanout or box, as part of the thickness"),
    Limit("channel_part_at_least", "1", Kind.RATIO, "note", Cite("common-practice"), ("1/2", "1"),
          "depth of the filler along both sides of a channel, as part of the thickness"),
    Limit("joint_distance_at_most", "1 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 in", "6 ft"),
          "distance from a post or column to the nearest joint"),
    Limit("joint_distance_by_an_edge_at_most", "1 ft", Kind.LENGTH, "note", Cite("common-practice"), ("0 in", "6 ft"),
          "distance from a post or column within {2 ft|0.6 m} of an edge to the nearest joint"),
)  # fmt: skip
WORKED = ()
BY_AN_EDGE = {"us": 24 * INCH, "metric": 0.6}
POSTS, CASTINGS = ("post", "column"), ("drain", "cleanout", "meter", "valve")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The filler round each fixture and along each channel, and how near a joint each post and column stands."""
    channels = [one for one in plan.channels.all if one.inside]
    every = [one for one in plan.fixtures.all if one.inside and one.fixture.kind in (*POSTS, *CASTINGS)]
    inside = [one for one in every if not (one.fixture.box_out and _parted(one.fixture.isolation))]
    if not inside and not channels:
        boxed = "every post and column inside the concrete stands in a box-out"
        does_not_apply(boxed if every else "no post, column, drain, cleanout or box stands inside the concrete")
    said = any(one.fixture.isolation for one in every) or any(one.channel.isolation for one in channels)
    section, place = ("fixtures", inside[0].fixture.place) if inside else ("channels", channels[0].channel.place)
    if not said and all(one.fixture.kind in CASTINGS for one in inside):
        around = "the filler round what stands in the concrete, such as {material: foam}, or none"
        not_shown(f"{section}, isolation: {around}", place=place)
    fillers = [*(one.fixture.isolation for one in inside), *(one.channel.isolation for one in channels)]
    if all(filler_depth(filler, 1.0) is None for filler in fillers):
        not_shown(f"{section}, isolation, depth: how deep the filler goes, such as full", place=place)
    for channel in channels if said else ():
        yield _filled(plan, spot(channel), channel.middle, channel.channel.isolation,
                      channel.channel.place.path, limits.channel_part_at_least)  # fmt: skip
    for one in inside:
        post = one.fixture.kind in POSTS
        limit = limits.post_part_at_least if post else limits.casting_part_at_least
        if post or said:
            yield _filled(plan, spot(one), one.at, one.fixture.isolation, one.fixture.place.path, limit)
        away, edge = length(plan.joints.nearest(one.at)[1]), length(plan.fixtures.from_edge(one.at))
        by_edge = meets(edge.si, BY_AN_EDGE[plan.home], "most")
        near = limits.joint_distance_by_an_edge_at_most if by_edge else limits.joint_distance_at_most
        if post and math.isfinite(away.si) and not near.met(edge.si):
            at = spot(one)
            yield compare(
                at, away, near,
                says=lambda: words("{thing} stands {edge} in from the edge, with no joint near it" if by_edge else
                                   "{thing} stands in the middle of a panel, with no joint near it",
                                   thing=at.name, **({"edge": edge} if by_edge else {})),
                working=lambda: step("too far", "distance to the nearest joint - limit",
                                     words("{away} - {near}", away=away, near=near.value),
                                     length(away.si - near.value.si)),
                decide=lambda: words("lay out the joints so that one goes through {thing}", thing=at.name),
            )  # fmt: skip


def _parted(filler: Isolation | None) -> bool:
    """Whether a box-out is filled so that it does not bond; it is, unless the file says none."""
    return filler is None or filler.material != "none"


def _filled(plan: Plan, at: Spot, on: XY, filler: Isolation | None, path: str, limit: InForce) -> Conclusion:
    thickness = plan.thickness.at(on)
    known, asked = filler_depth(filler, thickness), depth(limit.value.si * thickness)
    shown = depth(known or 0.0)
    more = depth(asked.si - shown.si)
    silent = filler is None
    told = "no filler is drawn round {thing}" if silent else "the slab is cast tight against {thing}"
    if known is None:
        told = "no depth is written for the filler round {thing}"
    elif known:
        told = "the filler round {thing} stops short of the bottom of the slab"
    wrap = words("wrap {thing} {asked} deep, all round", thing=at.name, asked=asked)
    if known:
        wrap = words("wrap {thing} {asked} deep: {more} more", thing=at.name, asked=asked, more=more)
    return compare(
        at, shown, limit, asked=asked,
        says=lambda: words(told, thing=at.name),
        working=lambda: step("short by", "thickness - depth of filler", words("{t} - {d}", t=asked, d=shown), more),
        remedy=lambda: fill(path, filler, wrap),
    )  # fmt: skip
