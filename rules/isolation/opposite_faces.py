"""A slab held between fixed faces is free of enough of them to move.

What is compared
    The sides of the slab that have fixed faces, by the way the faces look: with two opposite sides at least one is
    isolated, with three or four all of them are. A side counts as isolated when the filler on all its faces goes
    through the slab. A face tied on purpose holds, and so counts as a side that is not isolated. The longest face
    sets the directions; faces under 1 ft in all make no side.
Why it matters
    Held on one side a slab can still shrink away and swell towards the other. Held between two walls it can do neither:
    it pulls in two across the middle in its first winter, and lifts or pushes a wall in its first hot summer.
When it does not apply
    No two fixed faces stand opposite each other.
How to put it right
    Set full-depth filler along the side named, or drop the ties there. `isolation-full-depth` asks it of every fixed
    face; this rule says which faces leave no way out.
"""

from __future__ import annotations

import math
from functools import partial

from slabwright.formulas.isolation import faces_to_isolate, is_full_depth
from slabwright.geometry.shape.sides import facing_sides
from slabwright.plan.things import filler_depth
from slabwright.rulebook.kit import *

TITLE = "Room to move between opposite faces"
LIMITS = (
    Limit("part_isolated_at_least", "1", Kind.RATIO, "hold", Cite("cement-joints-faq"), ("1/2", "1"),
          "isolated sides, as part of one of two opposite sides or all of three or four"),
)  # fmt: skip
WORKED = tuple(
    Worked(f"{sides} sides", count(isolate), partial(faces_to_isolate, sides), 0.0,
           Cite("cement-joints-faq"), "is-confinement")
    for sides, isolate in ((2, 1), (3, 3), (4, 4))
)  # fmt: skip
NO_SIDE = 0.3048  # m, 1 ft: less face than this in all makes no side


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Isolated sides against those that must be; the shorter bare side is named first."""
    every = _sides(plan)
    if not ((every[0] and every[2]) or (every[1] and every[3])):
        if not plan.design.edges:
            beside = "edges: what stands beside each run of the outline, such as {run: [A, B], beside: building}"
            not_shown(beside, place=plan.place("edges", "outline"))
        does_not_apply("no two fixed faces stand opposite each other")
    sides = [side for side in every if side]
    bare = [[piece for piece in side if not _free(plan, piece)] for side in sides]
    bare = sorted((side for side in bare if side), key=lambda side: sum(piece.length for piece in side))
    limit = limits.part_isolated_at_least
    asked = count(math.ceil(limit.value.si * faces_to_isolate(len(sides)) - 1e-9))
    isolated = count(len(sides) - len(bare))
    wanted = [piece for side in bare[: max(0, round(asked.si - isolated.si))] for piece in side]
    yield compare(
        spot(max(wanted, key=lambda piece: piece.length) if wanted else sides[0][0]), isolated, limit, asked=asked,
        says=lambda: words("the slab is held on {n} sides and has no way to move between them", n=count(len(sides))),
        working=lambda: step("isolated sides", "fixed sides - bare sides",
                             words("{n} - {m}", n=count(len(sides)), m=count(len(bare))), isolated),
        remedy=lambda: _freed(wanted),
    )  # fmt: skip


def _freed(pieces: Sequence[EdgePiece]) -> Remedy:
    """Filler along some faces, and the ties there dropped."""
    names = ", ".join(dict.fromkeys(piece.name for piece in pieces))
    run = length(sum(piece.length for piece in pieces))
    says = words("set full-depth filler at {names}: {run} of it", names=names, run=run)
    edges = {piece.place.path: piece for piece in pieces}
    return together(
        *(fill(path, piece.isolation, says) for path, piece in edges.items()),
        *(drop(f"{path}.tied", says) for path, piece in edges.items() if piece.edge and piece.edge.tied), says=says,
    )  # fmt: skip


def _sides(plan: Plan) -> list[list[EdgePiece]]:
    """Fixed faces by the side they look to, round the slab."""
    pieces = [piece for piece in plan.edges.pieces if piece.fixed_face]
    return [[pieces[i] for i in side] for side in facing_sides([piece.line for piece in pieces], NO_SIDE)]


def _free(plan: Plan, piece: EdgePiece) -> bool:
    """Whether filler goes through the slab all along a face; where its depth is not written it is taken to."""
    thickness = plan.thickness.along(piece.line)
    deep = filler_depth(piece.isolation, thickness)
    tied = piece.edge is not None and piece.edge.tied
    return not tied and (deep is None or is_full_depth(deep, thickness))
