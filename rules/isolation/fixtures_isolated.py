"""Posts, columns, drains, cleanouts and boxes inside the concrete stand free of it.

What is compared
    The depth of the filler around each post, column, drain, cleanout, meter and valve box that the concrete surrounds,
    with the thickness of the slab there; and the distance from each post and column to the nearest joint, with 1 ft.
Why it matters
    A post has its own footing and does not move with the slab. Cast in tight, it pins the slab in one spot, and cracks
    run out from it like spokes. A drain or a cleanout is torn off its pipe, or lifts with the frost and cracks the
    slab round it. Even with filler a hole in the middle of a panel is where the panel breaks.
When it does not apply
    No post, column, drain, cleanout or box stands inside the concrete.
How to put it right
    Wrap it to the full depth before the pour, or box it out and fill the box later: round, or square and turned so
    that its corners lie on the joints. Lay a joint through it.
Where sources differ
    Columns and light poles are named in the joint leaflet of the ready-mixed trade, drains, castings and standpipes
    only in trade articles: those are a caution. The foot to a joint is common practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedFixture, filler_depth
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    does_not_apply,
    not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, meets

TITLE = "Posts, columns and drains stand free"
LIMITS = (
    Limit("post_part_at_least", "1", Kind.RATIO, "hold", Cite("nrmca-cip-6"), ("1/2", "1"),
          "depth of the filler round a post or column, as part of the thickness"),
    Limit("casting_part_at_least", "1", Kind.RATIO, "caution", Cite("trade-article-isolation"), ("1/2", "1"),
          "depth of the filler round a drain, cleanout or box, as part of the thickness"),
    Limit("joint_distance_at_most", "1 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("0 in", "6 ft"),
          "distance from a post or column to the nearest joint"),
)  # fmt: skip
WORKED = ()
POSTS, CASTINGS = ("post", "column"), ("drain", "cleanout", "meter", "valve")


def _inside(plan: Plan) -> list[PlannedFixture]:
    return [one for one in plan.fixtures.all if one.inside and one.fixture.kind in (*POSTS, *CASTINGS)]


def relevant(plan: Plan) -> Relevance:
    """Something stands inside the concrete, and it can be told whether filler is round it."""
    inside = _inside(plan)
    if not inside:
        return does_not_apply("no post, column, drain, cleanout or box stands inside the concrete")
    if all(filler_depth(one.fixture.isolation, 1.0) is None for one in inside):
        add = "fixtures, isolation, depth: how deep the filler goes, such as full"
        return not_shown(add, place=inside[0].fixture.place)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The filler round each fixture, and how near a joint each post and column stands."""
    for one in _inside(plan):
        at, thickness, post = spot(one), plan.thickness.at(one.at), one.fixture.kind in POSTS
        limit = limits.post_part_at_least if post else limits.casting_part_at_least
        known, asked = filler_depth(one.fixture.isolation, thickness), depth(limit.value.si * thickness)
        shown = depth(known or 0.0)
        if meets(shown.si, asked.si, "least"):
            yield Margin(at, shown, limit, asked)
        else:
            says = "the slab is cast tight against {thing}"
            if known is None:
                says = "no depth is written for the filler round {thing}"
            elif known:
                says = "the filler round {thing} stops short of the bottom of the slab"
            more = depth(asked.si - shown.si)
            working = step("short by", "thickness - depth of filler", words("{t} - {d}", t=asked, d=shown), more)
            to_pass = words("wrap {thing} {asked} deep, all round", thing=at.name, asked=asked)
            if known:
                to_pass = words("wrap {thing} {asked} deep: {more} more", thing=at.name, asked=asked, more=more)
            yield Finding(at, words(says, thing=at.name), shown, limit, (working,), to_pass, asked)
        away = length(plan.joints.nearest(one.at)[1])
        if not post or math.isinf(away.si):
            continue
        if limits.joint_distance_at_most.met(away):
            yield Margin(at, away, limits.joint_distance_at_most)
        else:
            off = length(away.si - limits.joint_distance_at_most.value.si)
            numbers = words("{away} - {near}", away=away, near=limits.joint_distance_at_most.value)
            yield Finding(
                at=at,
                says=words("{thing} stands in the middle of a panel, with no joint near it", thing=at.name),
                shown=away,
                limit=limits.joint_distance_at_most,
                working=(step("too far", "distance to the nearest joint - limit", numbers, off),),
                to_pass=words("bring a joint {off} nearer to {thing}, best through it", off=off, thing=at.name),
            )
