"""Where frost comes, the filler along a building is held down and sealed, so that no water goes down the wall.

What is compared
    The edges at a building, outdoors and where it freezes, whose filler is not sealed, with none.
Why it matters
    Fibre filler is a sponge on edge. Rain off the wall runs down it to the footing, and in a frost the wet ground there
    lifts the slab by half an inch, right at the door. Years of it wash a hollow under the slab along the house.
When it does not apply
    The slab lies indoors, no building stands beside it, or it does not freeze there.
How to put it right
    Hold the filler down by 1/2 in, or take the kind with a cap that pulls off, and lay a sealant in when the slab is
    dry and it is over 50 °F and getting warmer. Write sealed: true.
Where sources differ
    One Army text seals every joint, a profile for light paving calls it not required. At a building it is common
    practice, and a note.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import EdgePiece
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
from slabwright.units.quantity import Kind, count, length

TITLE = "Filler sealed along the building"
LIMITS = (
    Limit("open_edges_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "4"),
          "edges at a building whose filler is not sealed"),
)  # fmt: skip
WORKED = ()


def _edges(plan: Plan) -> dict[tuple[object, str], list[EdgePiece]]:
    """The edges at a building that have filler, in pieces."""
    found: dict[tuple[object, str], list[EdgePiece]] = {}
    for piece in plan.edges.pieces:
        if piece.beside == "building" and piece.isolation and piece.isolation.material != "none":
            found.setdefault((piece.place, piece.name), []).append(piece)
    return found


def relevant(plan: Plan) -> Relevance:
    """Filler stands at a building in the frost, and the file says whether it is sealed."""
    if not plan.outdoors:
        return does_not_apply("the slab lies indoors")
    if plan.design.site.freezing == "none":
        return does_not_apply("it does not freeze there")
    if not (edges := _edges(plan)):
        return does_not_apply("no filler is drawn at a building")
    if any(piece.isolation and piece.isolation.sealed is not None for pieces in edges.values() for piece in pieces):
        return APPLIES
    sealed = "edges, isolation, sealed: whether a sealant is laid over the filler at the building, such as true"
    return not_shown(sealed, place=next(iter(edges.values()))[0].place)


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """All edges at a building together; one of which it is not said is taken as open."""
    limit, edges = limits.open_edges_at_most, list(_edges(plan).values())
    bare = [pieces for pieces in edges if not (pieces[0].isolation and pieces[0].isolation.sealed)]
    shown = count(len(bare))
    at = Spot("the building", (bare or edges)[0][0].place, (bare or edges)[0][0].line)
    if limit.met(shown):
        yield Margin(at, shown, limit)
        return
    names = ", ".join(pieces[0].name for pieces in bare)
    run = length(sum(piece.length for pieces in bare for piece in pieces))
    working = step("sealant", "length of the open edges", words("{n} of them", n=len(bare)), run)
    says = words("water runs down the open filler at {names}", names=names)
    to_pass = words("seal the filler at {names}: {run} of it", names=names, run=run)
    yield Finding(at, says, shown, limit, (working,), to_pass)
