"""Joints of an old slab that the new one is tied to, or poured against, go on in the new one.

What is compared
    Takes each joint or crack that comes to an edge, as listed under `existing_joints`, and compares its distance to the
    nearest joint of the new slab with 1 in. It looks at edges that are tied, or that have no filler all the way down.
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

import itertools
import math

from slabwright.formulas.joints import is_full_depth
from slabwright.rulebook.kit import *

TITLE = "New joints in line with old ones"
LIMITS = (
    Limit("offset_at_most", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/4 in", "6 in"),
          "distance from a joint of the old slab to the nearest joint of the new one"),
    Limit("joints_at_least", "1", Kind.COUNT, "caution", Cite("common-practice"), ("0", "1"),
          "joints in a slab that is fastened to one with joints"),
)  # fmt: skip
BESIDE = 0.61  # m, 2 ft: what comes to the old edge further off does not meet the new slab
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


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each joint of the old slab."""
    fastened = _fastened(plan)
    if not any(edge.existing_joints for edge in fastened):
        for edge in fastened:
            if edge.tied and edge.beside == "existing slab":
                where = "edges, existing_joints: where the joints of the old slab come to this edge, such as [[12, 0]]"
                not_shown(where, place=edge.place)
        does_not_apply("no old slab whose joints are listed is tied to it or touches it")
    comes = [(edge, point) for edge in fastened for point in edge.existing_joints if plan.site.away((point,)) < BESIDE]
    if not comes:
        does_not_apply("the joints of the old slab that are listed come to the slab nowhere")
    limit = limits.offset_at_most
    for edge, point in comes:
        xy = (point.x, point.y)
        place, away = plan.shape.name_at(xy), depth(plan.joints.nearest(xy)[1])
        at = Spot(f"the old joint at {place}", edge.place, (xy,))
        goes_on = words("the old joint at {place} will go on into the new slab", place=place)
        if math.isinf(away.si):
            yield compare(
                at, count(0), limits.joints_at_least,
                says=lambda: goes_on,
                remedy=lambda: _to_pass(plan, edge, xy),
                decide=lambda: _by_hand(place),
            )  # fmt: skip
            continue
        yield compare(
            at, away, limit,
            says=lambda: goes_on,
            working=lambda: step(
                "too far", "distance to the nearest joint - limit",
                words("{away} - {near}", away=away, near=limit.value), depth(away.si - limit.value.si)),
            remedy=lambda: _to_pass(plan, edge, xy),
            decide=lambda: _by_hand(place),
        )  # fmt: skip


def _by_hand(place: str) -> Words:
    return words(
        "lay out the joints anew so that one goes on from the old joint at {place}, or part the two slabs with filler",
        place=place,
    )


def _to_pass(plan: Plan, edge: Edge, xy: XY) -> list[Remedy]:
    """A joint there, square to the edge where it is a new one."""
    sides = [side for piece in plan.edges.pieces if piece.edge is edge for side in itertools.pairwise(piece.line)]
    (x0, y0), (x1, y1) = min(sides, key=lambda side: math.dist(side[0], xy) + math.dist(xy, side[1]) - math.dist(*side))
    square = ((y0 - y1, x1 - x0), (y1 - y0, x0 - x1))
    return joint_at(plan, xy, square, f"the old joint at {plan.shape.name_at(xy)}", NEAR)
