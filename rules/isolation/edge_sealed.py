"""Filler at a pool, and along a building where frost comes, is sealed, so that no water goes down there.

What is compared
    Outdoors, counts the pools whose filler is not sealed at the coping and, where it freezes, the edges at a building
    whose filler is not. There should be none.
Why it matters
    Fiber filler is a sponge on edge. Rain off the wall runs down it to the footing, and in a frost the wet ground there
    lifts the slab by half an inch, right at the door. Years of it wash a hollow under the slab along the house. At a
    pool every splash goes down behind the shell, and the coping heaves or the deck settles to it.
When it does not apply
    The slab lies indoors, or no filler is drawn at a pool, nor at a building where it freezes.
How to put it right
    Hold the filler down by 1/2 in, or take the kind with a cap that pulls off, and lay a sealant in when the slab is
    dry and it is over 50 °F and getting warmer. Write sealed: true.
Where sources differ
    One Army text seals every joint, a profile for light paving calls it not required. At a building and at a coping it
    is common practice, and a note.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Filler sealed along the building and the pool"
LIMITS = (
    Limit("open_edges_at_most", "0", Kind.COUNT, "note", Cite("common-practice"), ("0", "4"),
          "edges at a building, and pools, whose filler is not sealed"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """All of it together; that of which it is not said is taken as open."""
    if not plan.outdoors:
        does_not_apply("the slab lies indoors")
    frozen = plan.design.site.freezing != "none"
    houses, pools = list(_at_buildings(plan)) if frozen else [], list(_at_pools(plan))
    faces = [*houses, *pools]
    if not faces:
        does_not_apply("no filler is drawn at a building" if frozen else "it does not freeze there")
    bare = [one for one in faces if not _sealed(one)]
    first = (bare or faces)[0]
    beside = "the building" if first in houses else "the pool"
    if all(_sealed(one) is None for one in faces):
        key = f"{first.at.place.path.partition('[')[0]}, isolation, sealed"
        not_shown(f"{key}: whether a sealant is laid over the filler at {beside}, such as true", place=first.at.place)
    names = ", ".join(one.at.name for one in bare)
    run = length(sum(one.length for one in bare))
    says = words("seal the filler at {names}: {run} of it", names=names, run=run_told(plan, run.si))
    yield compare(
        first.at._replace(name=beside), count(len(bare)), limits.open_edges_at_most,
        says=lambda: words("water runs down the open filler at {names}", names=names),
        working=lambda: step("sealant", "length of the open edges", words("{n} of them", n=len(bare)), run),
        remedy=lambda: together(
            *(write(f"{path}.isolation.sealed", "true", says)
              for path in dict.fromkeys(one.at.place.path for one in bare)), says=says),
    )  # fmt: skip


def _sealed(face: Face) -> bool | None:
    """Whether filler is sealed; None where the file does not say."""
    return face.filler.sealed if face.filler else None


def _at_buildings(plan: Plan) -> Iterator[Face]:
    """The edges at a building that have filler and lie in the rain."""
    found: dict[tuple[object, str], list[EdgePiece]] = {}
    for piece in plan.edges.pieces:
        wet = any(map(plan.rained_on, plan.areas.along(piece.line)))
        if piece.beside == "building" and wet and _drawn(piece.isolation):
            found.setdefault((piece.place, piece.name), []).append(piece)
    for pieces in found.values():
        yield _face(plan, pieces)


def _at_pools(plan: Plan) -> Iterator[Face]:
    """The copings that have filler, of pools in the slab and beside it."""
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        if opening.holds == "pool" and _drawn(opening.isolation):
            rim = Spot(opening.name, opening.place, (*ring.points, ring.points[0]))
            yield Face(rim, opening.isolation, plan.thickness.along(rim.shape), float(ring.length))
    for piece in plan.edges.pieces:
        if piece.beside == "pool" and _drawn(piece.isolation):
            yield _face(plan, [piece])


def _face(plan: Plan, pieces: Sequence[EdgePiece]) -> Face:
    first = pieces[0]
    at = Spot(first.name, first.place, first.line)
    return Face(at, first.isolation, plan.thickness.along(first.line), sum(piece.length for piece in pieces))


def _drawn(filler: Isolation | None) -> bool:
    return filler is not None and filler.material != "none"
