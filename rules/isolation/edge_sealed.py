"""Where frost comes, the filler along a building is held down and sealed, so that no water goes down the wall.

What is compared
    Outdoors and where it freezes, counts the edges at a building whose filler is not sealed. There should be none.
Why it matters
    Fiber filler is a sponge on edge. Rain off the wall runs down it to the footing, and in a frost the wet ground there
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

from slabwright.rulebook.kit import *

TITLE = "Filler sealed along the building"
LIMITS = (
    Limit("open_edges_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "4"),
          "edges at a building whose filler is not sealed"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """All edges at a building together; one of which it is not said is taken as open."""
    if not plan.outdoors:
        does_not_apply("the slab lies indoors")
    if plan.design.site.freezing == "none":
        does_not_apply("it does not freeze there")
    found: dict[tuple[object, str], list[EdgePiece]] = {}
    for piece in plan.edges.pieces:
        wet = any(map(plan.rained_on, plan.areas.along(piece.line)))
        if piece.beside == "building" and wet and piece.isolation and piece.isolation.material != "none":
            found.setdefault((piece.place, piece.name), []).append(piece)
    edges = list(found.values())
    if not edges:
        does_not_apply("no filler is drawn at a building")
    if all(_sealed(pieces) is None for pieces in edges):
        sealed = "edges, isolation, sealed: whether a sealant is laid over the filler at the building, such as true"
        not_shown(sealed, place=edges[0][0].place)
    bare = [pieces for pieces in edges if not _sealed(pieces)]
    first = (bare or edges)[0][0]
    names = ", ".join(pieces[0].name for pieces in bare)
    run = length(sum(piece.length for pieces in bare for piece in pieces))
    says = words("seal the filler at {names}: {run} of it", names=names, run=run)
    yield compare(
        Spot("the building", first.place, first.line), count(len(bare)), limits.open_edges_at_most,
        says=lambda: words("water runs down the open filler at {names}", names=names),
        working=lambda: step("sealant", "length of the open edges", words("{n} of them", n=len(bare)), run),
        remedy=lambda: together(
            *(write(f"{path}.isolation.sealed", "true", says)
              for path in dict.fromkeys(pieces[0].place.path for pieces in bare)), says=says),
    )  # fmt: skip


def _sealed(pieces: Sequence[EdgePiece]) -> bool | None:
    """Whether the filler at an edge is sealed; None where the file does not say."""
    return pieces[0].isolation.sealed if pieces[0].isolation else None
