"""A slab held between fixed faces is free of enough of them to move.

What is compared
    Sorts the sides of the slab that have fixed faces by the way the faces look, and leaves out those with a face that
    is tied on purpose. Of two opposite sides at least one must not be tied; of three or four none may be. An addition
    that is tied to an old slab on one side alone counts as free there: the two move as one (common practice). The
    longest face sets the directions; faces under 1 ft in all make no side. Whether the faces that are not tied have
    filler is judged by `isolation-full-depth`.
Why it matters
    Held on one side a slab can still shrink away and swell towards the other. Held between two walls it can do neither:
    it pulls in two across the middle in its first winter, and lifts or pushes a wall in its first hot summer.
When it does not apply
    No two fixed faces stand opposite each other.
How to put it right
    Drop the ties along the side named, and set full-depth filler there.
"""

from __future__ import annotations

import math
from functools import partial

from slabwright.formulas.joints import faces_to_isolate
from slabwright.rulebook.kit import *

TITLE = "Room to move between opposite faces"
LIMITS = (
    Limit("part_isolated_at_least", "1", Kind.RATIO, "hold", Cite("cement-joints-faq"), ("1/2", "1"),
          "sides not tied, as part of one of two opposite sides or all of three or four"),
)  # fmt: skip
WORKED = tuple(
    Worked(f"{sides} sides", count(isolate), partial(faces_to_isolate, sides), 0.0,
           Cite("cement-joints-faq"), "is-confinement")
    for sides, isolate in ((2, 1), (3, 3), (4, 4))
)  # fmt: skip
NO_SIDE = 0.3048  # m, 1 ft: less face than this in all makes no side


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Sides that are not tied against those that must not be; the shorter tied side is named first."""
    every = _sides(plan)
    if not ((every[0] and every[2]) or (every[1] and every[3])):
        if not plan.design.edges:
            beside = "edges: what stands beside each run of the outline, such as {run: [A, B], beside: building}"
            not_shown(beside, place=plan.place("edges", "outline"))
        does_not_apply("no two fixed faces stand opposite each other")
    sides = [side for side in every if side]
    tied = [[piece for piece in side if piece.edge and piece.edge.tied] for side in sides]
    tied = sorted((side for side in tied if side), key=lambda side: sum(piece.length for piece in side))
    if len(tied) == 1 and all(piece.beside == "existing slab" for piece in tied[0]):
        tied = []  # an addition: the old slab goes along, and the other sides are free
    limit = limits.part_isolated_at_least
    asked = count(math.ceil(limit.value.si * faces_to_isolate(len(sides)) - 1e-9))
    free = count(len(sides) - len(tied))
    wanted = [piece for side in tied[: max(0, round(asked.si - free.si))] for piece in side]
    yield compare(
        spot(max(wanted, key=lambda piece: piece.length) if wanted else sides[0][0]), free, limit, asked=asked,
        says=lambda: words("the slab stands between {n} fixed sides and is tied where it must be free to move",
                           n=count(len(sides))),
        working=lambda: step("sides not tied", "fixed sides - tied sides",
                             words("{n} - {m}", n=count(len(sides)), m=count(len(tied))), free),
        decide=lambda: _freed(plan, wanted),
    )  # fmt: skip


def _freed(plan: Plan, pieces: Sequence[EdgePiece]) -> Words:
    """The ties along some faces dropped, and filler there: whoever tied them has to say so."""
    names = ", ".join(dict.fromkeys(piece.name for piece in pieces))
    run = run_told(plan, sum(piece.length for piece in pieces))
    return words("drop the ties at {names} and set full-depth filler there, {run} of it", names=names, run=run)


def _sides(plan: Plan) -> list[list[EdgePiece]]:
    """Fixed faces by the side they look to, round the slab."""
    pieces = [piece for piece in plan.edges.pieces if piece.fixed_face]
    return [[pieces[i] for i in side] for side in facing_sides([piece.line for piece in pieces], NO_SIDE)]
