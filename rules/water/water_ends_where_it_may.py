"""The water of the slab leaves where it may: not over an edge that takes none, and somewhere at all.

What is compared
    Counts the edges, drains and openings that may take water: there must be at least one. Compares the part of the slab
    whose water leaves over each edge that may take none, or comes to an old floor under a roof or to an old slab that
    falls this way, with 1 %. Around a pool it compares the fall of the deck to the water with 0 %, unless a channel
    lies along the rim; a piece of four corners at the rim may fall to the pool in neither way it can fold.
Why it matters
    Water sent over the lot line comes back as a letter, and one ditch across the neighbor's bed is enough for it.
    Water sent to a side that cannot take it digs the ground from under the edge, and the edge breaks off.
When it does not apply
    No rain falls on the slab. Water that stands is judged by `standing-water`, a level part by `least-fall`.
How to put it right
    Raise the edge until the slab falls away from it, stand a curb along it, or catch the water in a drain. Where the
    neighbor and the town allow it, write `takes_water: true`.
Where sources differ
    One municipal code says that drives may not drain onto other lots; elsewhere a thin sheet is let pass. An edge that
    the file itself bars, and a valley that ends at the lot line, are a hold; a silent property line is a caution. A
    state asks that decks of public pools fall away from the water; at any other pool it is good practice.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import FOOT
from slabwright.rulebook.kit import *

TITLE = "Water leaves only where it may"
LIMITS = (
    Limit("ways_out_at_least", "1", Kind.COUNT, "hold", Cite("common-practice"), ("0", "4"),
          "edges, drains and openings that may take water"),
    Limit("barred_share_at_most", "1 %", Kind.SHARE, "hold", Cite("common-practice"), ("0 %", "25 %"),
          "part of the slab that drains over an edge that takes no water"),
    Limit("lot_line_share_at_most", "1 %", Kind.SHARE, "caution", Cite("waverly-oh"), ("0 %", "100 %"),
          "part of the slab that drains over a property line of which the file says no more"),
    Limit("fall_to_pool_at_most", "0 %", Kind.SLOPE, "caution", Cite("comar-pool-decks"), ("0 %", "2 %"),
          "fall of a deck to the pool in it"),
)  # fmt: skip
WORKED = ()
RAISED = FOOT  # m: by more, nobody lifts a slab to keep water off an edge (common practice)
COUNTED, FALL = 0.01, 0.01  # least share that counts; fall away from an edge that is raised (both common practice)
LEVEL = 0.005  # a deck that falls less to its pool is level there (common practice)
ON_EDGE = 0.005  # m: what lies nearer to an edge stands on it


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The ways out, then each edge that takes no water and gets some."""
    must_shed_rain(plan)
    needs_heights(plan)
    barred = [one for one in plan.water.shares if one.kind == "edge" and one.allowed is False and one.beside != "pool"]
    floors = {piece.name for piece in plan.edges.pieces if _is_floor(piece)}
    barred += [one for one in plan.water.bare_shares
               if one.to in floors and one.to not in {other.to for other in barred}]  # fmt: skip
    unsaid = [one for one in plan.water.shares if one.allowed is None and not meets(one.share, COUNTED, "most")]
    if unsaid and not barred:
        not_shown(*map(_question, unsaid[:6]), place=unsaid[0].place)
    ways, ring = count(len(plan.exits.outlets)), plan.shape.slab.exterior.coords
    yield compare(
        Spot("the whole slab", plan.place("edges", "outline"), tuple((x, y) for x, y in ring)),
        ways, limits.ways_out_at_least,
        says=lambda: words("nothing at the slab takes its water"),
        decide=lambda: words("write takes_water: true for the edge it may leave over, or set a drain"),
    )  # fmt: skip
    for one in barred if limits.ways_out_at_least.met(ways) else ():
        pieces = [piece for piece in plan.edges.pieces if piece.name == one.to]
        ends = any(_ends_at(plan, piece) for piece in pieces)
        floor = one.to in floors
        said = ends or floor or any(piece.edge and piece.edge.takes_water is False for piece in pieces)
        leaves = area(one.share * plan.shape.area)
        yield compare(
            spot(one), share(one.share), limits.barred_share_at_most if said else limits.lot_line_share_at_most,
            says=lambda: words("a valley ends at {edge}, which takes no water" if ends else
                               "water runs to {edge}, which takes none" if floor else
                               "water leaves over {edge}, which takes none", edge=one.to),
            working=lambda: step("area that drains there", "share x area of the slab",
                                 words("{s} x {a}", s=share(one.share), a=area(plan.shape.area)), leaves),
            remedy=lambda: [] if ends or floor else set_heights(_raised(plan, pieces)),
            decide=lambda: _decided(one, leaves),
        )  # fmt: skip
    run = length(FOOT if plan.home == "us" else 0.3)
    for rim in plan.water_lines.pool_rims:
        yield compare(
            Spot(rim.pool, rim.place, rim.ends), slope(rim.slope), limits.fall_to_pool_at_most, give=LEVEL,
            says=lambda: words("the deck falls to the {pool}, and all that lies on it is washed in", pool=rim.pool),
            working=lambda: step("fall before the rim", "slope x run",
                                 words("{s} x {r}", s=slope(rim.slope), r=run), depth(rim.slope * run.si)),
            decide=lambda: words("let the deck fall away from the {pool} on all sides, or lay a channel along its rim",
                                 pool=rim.pool),
        )  # fmt: skip


def _raised(plan: Plan, pieces: Sequence[EdgePiece]) -> list[NewHeight]:
    """The stretches of an edge raised so that no water leaves over them; none where that lifts it over an old slab."""
    found: dict[str, NewHeight] = {}
    for new in (one for piece in pieces for one in plan.raising.edge(piece, FALL)):
        found[new.name] = max(new, found.get(new.name, new), key=lambda one: one.new)
    for piece in plan.edges.pieces:
        beside = piece.ground if piece.beside == "existing slab" else None
        for at, ground in zip(piece.line, beside, strict=True) if beside else ():
            new_there = found.get(plan.shape.name_at(at))
            if new_there and new_there.new > ground >= new_there.old:
                return []
    near = all(meets(one.new - one.old, RAISED, "most") for one in found.values())
    return list(found.values()) if near else []


def _decided(to: WaterShare, leaves: Amount) -> Words:
    if to.beside == "existing slab":  # people walk over it, and no curb stands there
        return words("let the slab fall away from {edge}, or lay a trench drain along it", edge=to.to)
    if to.beside == "trench drain":
        return words("lead {edge} to an outlet and write takes_water: true, or catch the water of {leaves} in a drain",
                     edge=to.to, leaves=leaves)  # fmt: skip
    return words("stand a curb along {edge}, or catch the water of {leaves} in a drain", edge=to.to, leaves=leaves)


def _is_floor(piece: EdgePiece) -> bool:
    """Whether an old floor under a roof, or an old slab that falls this way, lies there, and the file says no more."""
    silent = piece.edge is not None and piece.edge.takes_water is None
    return piece.beside == "existing slab" and silent and piece.takes_water is False


def _question(one: WaterShare) -> str:
    if one.beside:
        return f"edges, takes_water: whether water may leave over {one.to}, true or false"
    return f"edges: what stands beside {one.to.removeprefix('edge ')}, such as lawn"


def _ends_at(plan: Plan, piece: EdgePiece) -> bool:
    """Whether the lower end of a valley lies on an edge."""
    low_ends = [run.low_end for run in plan.finish.lines if run.line.kind == "valley"]
    return any(math.dist(end, vertex) < ON_EDGE for end in low_ends for vertex in piece.line)
