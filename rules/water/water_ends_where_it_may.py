"""The water of the slab leaves where it may: not over an edge that takes none, and somewhere at all.

What is compared
    The number of edges, drains and openings that may take water, with 1; and the part of the slab whose water leaves
    over each edge that may take none, with 1 %.
Why it matters
    Water sent over the lot line comes back as a letter, and one ditch across the neighbour's bed is enough for it.
    Water sent to a side that cannot take it digs the ground from under the edge, and the edge breaks off.
When it does not apply
    No rain falls on the slab. Water that stands is judged by `standing-water`, a level part by `least-fall`.
How to put it right
    Raise the edge until the slab falls away from it, stand a curb along it, or catch the water in a drain. Where the
    neighbour and the town allow it, write `takes_water: true`.
Where sources differ
    One municipal code says that drives may not drain onto other lots; elsewhere a thin sheet is let pass. An edge that
    the file itself bars, and a valley that ends at the lot line, are a hold; a silent property line is a caution.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import EdgePiece, WaterShare
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    does_not_apply,
    heights_not_shown,
    not_shown,
    spot,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, area, count, share

TITLE = "Water leaves only where it may"
LIMITS = (
    Limit("ways_out_at_least", "1", Kind.COUNT, "hold", Cite("common-practice"), ("0", "4"),
          "edges, drains and openings that may take water"),
    Limit("barred_share_at_most", "1 %", Kind.SHARE, "hold", Cite("common-practice"), ("0 %", "25 %"),
          "part of the slab that drains over an edge that takes no water"),
    Limit("lot_line_share_at_most", "1 %", Kind.SHARE, "caution", Cite("waverly-oh"), ("0 %", "100 %"),
          "part of the slab that drains over a property line of which the file says no more"),
)  # fmt: skip
WORKED = ()
COUNTED, FALL = 0.01, 0.01  # least share that counts; fall away from an edge that is raised (both common practice)
ON_EDGE = 0.005  # m: what lies nearer to an edge stands on it


def relevant(plan: Plan) -> Relevance:
    """Rain falls on it, heights are known, and it is said of each edge that water comes to whether it may."""
    if not plan.outdoors:
        return does_not_apply("no rain falls on it")
    if plan.finish.surface is None:
        return heights_not_shown(plan)
    open_edges = [one for one in plan.water.shares if one.allowed is None and one.share > COUNTED]
    if not open_edges or any(one.kind == "edge" and one.allowed is False for one in plan.water.shares):
        return APPLIES
    add = [
        f"edges, takes_water: whether water may leave over {one.to}, true or false"
        if one.beside
        else f"edges: what stands beside {one.to.removeprefix('edge ')}, such as lawn"
        for one in open_edges[:6]
    ]
    return not_shown(*add, place=open_edges[0].place)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The ways out, then each edge that takes no water and gets some."""
    ways, least = count(len(plan.water.outlets)), limits.ways_out_at_least
    at = Spot("the whole slab", plan.place("edges", "outline"), tuple(plan.shape.slab.exterior.coords))
    if not least.met(ways):
        to_pass = words("write takes_water: true for the edge it may leave over, or set a drain")
        yield Finding(at, words("nothing at the slab takes its water"), ways, least, (), to_pass)
        return
    yield Margin(at, ways, least)
    for one in (one for one in plan.water.shares if one.kind == "edge" and one.allowed is False):
        pieces = [piece for piece in plan.edges.pieces if piece.name == one.to]
        ends = any(_ends_at(plan, piece) for piece in pieces)
        barred = ends or any(piece.edge and piece.edge.takes_water is False for piece in pieces)
        limit = limits.barred_share_at_most if barred else limits.lot_line_share_at_most
        if limit.met(one.share):
            yield Margin(spot(one), share(one.share), limit)
        else:
            yield _finding(plan, one, pieces, limit, ends)


def _ends_at(plan: Plan, piece: EdgePiece) -> bool:
    """Whether the lower end of a valley lies on an edge."""
    low_ends = [run.low_end for run in plan.finish.lines if run.line.kind == "valley"]
    return any(math.dist(end, vertex) < ON_EDGE for end in low_ends for vertex in piece.line)


def _finding(plan: Plan, one: WaterShare, pieces: list[EdgePiece], limit: InForce, ends: bool) -> Finding:
    leaves = area(one.share * plan.shape.area)
    numbers = words("{s} x {a}", s=share(one.share), a=area(plan.shape.area))
    says = "a valley ends at {edge}, which takes no water" if ends else "water leaves over {edge}, which takes none"
    heights = [] if ends else [new for piece in pieces for new in plan.grades.raised_edge(piece, FALL)]
    return Finding(
        at=spot(one),
        says=words(says, edge=one.to),
        shown=share(one.share),
        limit=limit,
        working=(step("area that drains there", "share x area of the slab", numbers, leaves),),
        to_pass=write_heights(
            heights,
            words("stand a curb along {edge}, or catch the water of {leaves} in a drain", edge=one.to, leaves=leaves),
        ),
    )
