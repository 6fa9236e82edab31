"""The slab meets an existing slab without a lip that people trip over.

What is compared
    The difference in height between the finish and the existing slab along each edge beside one: 1/4 in is a caution,
    1/2 in a hold. Where the file says `planned_step: true` it is a step: the difference, less that of steps poured with
    the slab that `leads_to` the edge, is compared with 7 3/4 in.
Why it matters
    A toe clears the ground by about half an inch. A lip of 3/8 in is found by everyone who carries something, and frost
    and settlement make it grow. A snow shovel stops at it.
When it does not apply
    No edge is beside an existing slab.
How to put it right
    Shoot the old slab at both ends of the edge and match it there. Where it is broken or crooked, match it at the ends
    and feather within the first few feet.
Where sources differ
    1/4 in upright, and 1/2 in with a bevel of 1 in 2, are access standards, taken here as a good limit anywhere. A
    state warranty and a cost handbook count 1/4 in at joints as a defect, 1/2 in at expansion joints. The 7 3/4 in of a
    step is recalled from the residential code, so it is a caution.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas import local_limits
from slabwright.plan.plan import Plan
from slabwright.plan.things import EdgePiece
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    InForce,
    Limit,
    Limits,
    Margin,
    Relevance,
    Worked,
    does_not_apply,
    heights_not_shown,
    not_shown,
    spot,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, height

TITLE = "No lip at an existing slab"
LIMITS = (
    Limit("lip_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("aba-303.3"), ("1/4 in", "1 in"),
          "difference in height at an existing slab"),
    Limit("upright_lip_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("ada-1991", "4.5.2"), ("1/16 in", "3/4 in"),
          "upright difference in height at an existing slab"),
    Limit("step_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-guard"), ("4 in", "9 in"),
          "planned step at an existing slab"),
)  # fmt: skip
WORKED = (
    Worked("lip that passes upright", depth(0.25 * 0.0254), lambda: local_limits.UPRIGHT_LIP, 1e-9,
           Cite("ada-1991", "4.5.2"), "wa-trip-lip"),
)  # fmt: skip


def _pieces(plan: Plan) -> list[EdgePiece]:
    return [piece for piece in plan.edges.pieces if piece.beside == "existing slab"]


def relevant(plan: Plan) -> Relevance:
    """An existing slab is beside, and both heights are known."""
    if not (pieces := _pieces(plan)):
        return does_not_apply("no edge is beside an existing slab")
    if not plan.finish.surface:
        return heights_not_shown(plan)
    if any(piece.ground for piece in pieces):
        return APPLIES
    such = "99.60" if plan.design.height_unit in ("ft", "in") else "99.850"
    return not_shown(f"edges, ground: the height of the slab beside {pieces[0].name}, such as {such}",
                     place=pieces[0].place)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The greatest difference along each edge."""
    told: set[tuple[str, tuple[float, float]]] = set()
    for piece in _pieces(plan):
        if piece.ground is None or piece.finish is None:
            continue
        names, ground = ["lip_at_most", "upright_lip_at_most"], piece.ground
        if piece.edge and piece.edge.planned_step:
            names, up = ["step_at_most"], plan.thickness.stepped_up(piece.name)
            ground = tuple(beside - up for beside in ground)  # what is left to climb
            piece = piece._replace(ground=ground)
        lips = [abs(top - beside) for top, beside in zip(piece.finish or (), ground, strict=True)]
        worst = max(range(len(lips)), key=lips.__getitem__)
        limit = limits.broken(lips[worst], *names)
        if limit is None:
            yield Margin(spot(piece), depth(lips[worst]), limits[names[-1]])
        elif (piece.name, piece.line[worst]) not in told:  # two stretches of one edge meet there
            told.add((piece.name, piece.line[worst]))
            yield _finding(plan, piece, worst, limit, limits[names[-1]])


def _finding(plan: Plan, piece: EdgePiece, worst: int, limit: InForce, lightest: InForce) -> Finding:
    assert piece.ground is not None and piece.finish is not None
    top, beside = piece.finish[worst], piece.ground[worst]
    wanted = []
    for at, own, other in zip(piece.line, piece.finish, piece.ground, strict=True):
        if not lightest.met(abs(own - other)):
            room = lightest.value.si if limit.name == "step_at_most" else 0.0
            wanted.append((at, other + room if own > other else other - room))
    numbers = words("{high} - {low}", high=height(max(top, beside)), low=height(min(top, beside)))
    says = "the slab stands {way} the existing slab at {point}"
    return Finding(
        at=spot(piece),
        says=words(says, way="above" if top > beside else "below", point=plan.shape.name_at(piece.line[worst])),
        shown=depth(abs(top - beside)),
        limit=limit,
        working=(step("lip", "higher - lower", numbers, depth(abs(top - beside))),),
        to_pass=write_heights(
            plan.grades.moved(wanted, up=top < beside), words("match the existing slab along {edge}", edge=piece.name)
        ),
    )
