"""Where the ground lies well below the edge of the slab, the drop is backfilled, stepped or guarded.

What is compared
    The finish height along each edge beside lawn, bed, gravel or open ground, less the height beside it. Over 4 in is
    a note: the face shows and soil has to come. Over 7 3/4 in is a caution: more than a step. Over 30 in is a hold:
    people fall.
Why it matters
    A slab that stands out of the ground has nothing against its side: rain digs the base from under the edge, and it
    breaks off under the first wheel. Nobody ordered the soil either, and by dusk someone steps into the air.
When it does not apply
    No edge is beside lawn, bed, gravel or open ground. Steps at doors and at existing slabs are judged by other rules.
How to put it right
    Bring the ground up and tamp it, an inch under the edge where water leaves. Else lower that side of the slab, build
    a step, or set a guard.
Where sources differ
    The step of 7 3/4 in and the guard over 30 in are recalled from the residential code. The 4 in are common practice:
    about the depth of the slab itself.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "No bare drop at the edge"
LIMITS = (
    Limit("guard_drop_at_most", "30 in", Kind.DEPTH, "hold", Cite("irc-guard"), ("12 in", "48 in"),
          "drop at an edge without a guard"),
    Limit("step_drop_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-guard"), ("4 in", "18 in"),
          "drop at an edge that people step off"),
    Limit("bare_face_at_most", "4 in", Kind.DEPTH, "note", Cite("common-practice"), ("1 in", "12 in"),
          "height of slab that shows above the ground"),
)  # fmt: skip
WORKED = ()
SOFT = ("lawn", "bed", "gravel", "open ground")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The greatest drop along each edge of the file, all its stretches taken together."""
    pieces = [piece for piece in plan.edges.pieces if piece.beside in SOFT]
    if not pieces:
        does_not_apply("no edge is beside lawn, bed, gravel or open ground")
    if not plan.finish.surface:
        heights_not_shown(plan)
    if not any(piece.ground for piece in pieces):
        if not plan.outdoors:
            does_not_apply("it lies under a roof, and no ground beside it is given")
        such = "99.30" if plan.design.height_unit in ("ft", "in") else "99.850"
        not_shown(f"edges, ground: the height beside {pieces[0].name}, such as {such}", place=pieces[0].place)
    least = min(limit.value.si for limit in limits.values())
    worst: dict[int, tuple[float, int, EdgePiece]] = {}
    for piece in pieces:
        for k, (own, other) in enumerate(zip(piece.finish or (), piece.ground or (), strict=False)):
            if id(piece.edge) not in worst or own - other > worst[id(piece.edge)][0] + 1e-6:
                worst[id(piece.edge)] = (own - other, k, piece)
    for drop, k, piece in worst.values():
        finish, beside = piece.finish or (), piece.ground or ()
        top, ground, point = height(finish[k]), height(beside[k]), plan.shape.name_at(piece.line[k])
        up = height(plan.grades.written(top.si - least, up=True))
        yield compare(
            spot(piece), depth(drop), *limits.values(),
            says=lambda: words("the slab stands {drop} out of the {beside} at {point}",
                               drop=depth(drop), beside=piece.beside, point=point),
            working=lambda: step("drop", "finish height - height beside", words("{t} - {g}", t=top, g=ground),
                                 depth(drop)),
            remedy=lambda: write(
                f"{piece.place.path}.ground", up,
                words("bring the {beside} up to {up} at {point}: {more} higher; or build a step there",
                      beside=piece.beside, up=up, more=depth(up.si - ground.si), point=point)),
        )  # fmt: skip
