"""Joints of an old slab that the new one is tied to, or poured against, go on in the new one.

What is compared
    The distance from each joint or crack that comes to an edge, as listed under existing_joints, to the nearest joint
    of the new slab, with 1 in; at edges that are tied, or that have no filler all the way down.
Why it matters
    The old joint opens and closes with every cold night, and pulls at the concrete it is fastened to. Where the new
    slab has no joint of its own, the old one simply goes on into it: a crack that starts at the seam, straight as a
    string at first and then no longer.
When it does not apply
    No existing joints are listed, or filler parts the two slabs wherever they are.
How to put it right
    Lay the new joints on the old ones, or leave the ties out and set filler between the slabs.
Where sources differ
    No document gives a distance. The 1 in is common practice, and a caution.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.design.model import Edge
from slabwright.formulas.isolation import is_full_depth
from slabwright.plan.plan import Plan
from slabwright.plan.things import EdgePiece, filler_depth
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count, depth, meets

TITLE = "New joints in line with old ones"
LIMITS = (
    Limit("offset_at_most", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/4 in", "6 in"),
          "distance from a joint of the old slab to the nearest joint of the new one"),
    Limit("joints_at_least", "1", Kind.COUNT, "caution", Cite("common-practice"), ("0", "1"),
          "joints in a slab that is fastened to one with joints"),
)  # fmt: skip
WORKED = ()
NEAR = 0.6096  # m, 2 ft: a joint this near can be moved over (common practice)


def _fastened(plan: Plan) -> list[Edge]:
    """The edges where the slab hangs on what stands beside it, each once."""
    pieces = [piece for piece in plan.edges.pieces if piece.edge and (piece.edge.tied or not _parted(plan, piece))]
    return list({id(piece.edge): piece.edge for piece in pieces if piece.edge}.values())


def _parted(plan: Plan, piece: EdgePiece) -> bool:
    thickness = plan.thickness.along(piece.line)
    deep = filler_depth(piece.isolation, thickness)
    return deep is None or is_full_depth(deep, thickness)


def relevant(plan: Plan) -> Relevance:
    """The slab hangs on one whose joints are listed."""
    fastened = _fastened(plan)
    if any(edge.existing_joints for edge in fastened):
        return APPLIES
    for edge in fastened:
        if edge.tied and edge.beside == "existing slab":
            where = "edges, existing_joints: where the joints of the old slab come to this edge, such as [[12, 0]]"
            return not_shown(where, place=edge.place)
    return does_not_apply("the slab hangs on none whose joints are listed")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each joint of the old slab."""
    limit = limits.offset_at_most
    for edge in _fastened(plan):
        for point in edge.existing_joints:
            xy = (point.x, point.y)
            place = plan.shape.name_at(xy)
            at = Spot(f"the old joint at {place}", edge.place, (xy,))
            joint, metres = plan.joints.nearest(xy)
            says = words("the old joint at {place} will go on into the new slab", place=place)
            start = words("start a joint at {place}", place=place)
            if math.isinf(metres):
                yield Finding(at, says, count(0), limits.joints_at_least, (), start)
                continue
            away = depth(metres)
            if limit.met(away):
                yield Margin(at, away, limit)
                continue
            off = depth(metres - limit.value.si)
            numbers = words("{away} - {near}", away=away, near=limit.value)
            working = step("too far", "distance to the nearest joint - limit", numbers, off)
            move = "move joint {joint} by {away}, onto the old joint at {place}"
            to_pass = words(move, joint=joint, away=away, place=place) if meets(metres, NEAR, "most") else start
            yield Finding(at, says, away, limit, (working,), to_pass)
