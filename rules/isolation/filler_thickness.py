"""Filler outdoors is thick enough to take what the slab grows in summer.

What is compared
    Compares the thickness of the filler at each edge outdoors with 3/8 in and with 1/2 in, or with 10 mm on metric
    plans. Less than 3/8 in is a note where no fixed face stands opposite: the slab grows the other way. In the public
    right of way, between a drive and the walk or curb beside it, it compares it with 3/4 in.
Why it matters
    A slab of 40 ft is about an eighth of an inch longer in August than on the cool day it was poured, and filler only
    gives by half of itself or so. Felt and thin foam are pressed flat in the first summer; then the slab pushes.
When it does not apply
    The slab lies indoors, where felt will do, or no filler is drawn. Felt whose thickness is not written is not asked
    for it.
How to put it right
    Take the thicker strip; it costs cents. Where a town wants 3/4 in everywhere, write it as an amendment.
Where sources differ
    1/2 in is the most printed figure (a guide specification, a ready-mixed profile, a town code); 3/8 in is common in
    places, and passes with a note. In Australia and on the continent of Europe 10 mm is the usual strip. An industry
    page gives 3/4 in next to buildings, which is right as well. One town asks 3/4 in between drive and walk and at the
    curb: a note here, since others do not. Indoors the Army takes 30 lb felt.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Filler with enough to give"
LIMITS = (
    Limit("thin_filler_at_least", "3/8 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1/8 in", "2 in"),
          "least thickness of filler outdoors"),
    Limit("filler_at_least", "1/2 in", Kind.DEPTH, "note", Cite("ufgs-03300n", "par. 3.8.3"), ("1/8 in", "2 in"),
          "thickness of filler outdoors"),
    Limit("metric_filler_at_least", "10 mm", Kind.DEPTH, "caution", Cite("supplier-practice"), ("3 mm", "50 mm"),
          "thickness of filler outdoors, as it is sold in millimeters"),
    Limit("drive_to_walk_at_least", "3/4 in", Kind.DEPTH, "note", Cite("west-dundee-il"), ("1/8 in", "2 in"),
          "thickness of filler between a drive and a walk or curb in the public right of way"),
)  # fmt: skip
WORKED = ()
DRIVES = ("driveway", "vehicle pad")
NO_SIDE = 0.3048  # m, 1 ft: less face than this in all makes no side
PUBLIC = ("existing slab", "curb")  # what a drive meets in the right of way


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The filler at each edge that gives its thickness, each edge told once."""
    if not plan.outdoors:
        does_not_apply("the slab lies indoors, where thin filler will do")
    filled = {
        (piece.place, piece.name): (piece, piece.isolation)
        for piece in plan.edges.pieces if piece.isolation and piece.isolation.material != "none"
        and (piece.isolation.thickness or piece.isolation.material != "felt")
        and any(map(plan.rained_on, plan.areas.along(piece.line)))
    }  # fmt: skip
    if not filled:
        does_not_apply("no filler is drawn at an edge")
    if not any(filler.thickness for _, filler in filled.values()):
        add = "edges, isolation, thickness: how thick the filler is, such as {1/2 in|12 mm}"
        not_shown(add, place=next(iter(filled.values()))[0].place)
    for piece, filler in filled.values():
        drive = any(area.use in DRIVES and plan.in_right_of_way(area) for area in plan.areas.along(piece.line))
        if filler.thickness:
            usual: tuple[InForce, ...] = (limits.thin_filler_at_least, limits.filler_at_least)
            usual = usual if _held(plan, piece) else usual[1:]
            usual = (limits.metric_filler_at_least,) if plan.home == "metric" else usual
            if drive and plan.home == "us" and piece.beside in PUBLIC and usual[-1].met(filler.thickness):
                usual = (limits.drive_to_walk_at_least,)
            yield _judged(spot(piece), filler, filler.thickness, usual)


def _held(plan: Plan, piece: EdgePiece) -> bool:
    """Whether a fixed face stands opposite, so that the slab cannot grow away from this one."""
    faces = [one for one in plan.edges.pieces if one.fixed_face]
    sides = facing_sides([one.line for one in faces], NO_SIDE)
    own = next((k for k, side in enumerate(sides) if any(faces[i] is piece for i in side)), None)
    return own is None or bool(sides[(own + 2) % 4])


def _judged(at: Spot, filler: Isolation, thick: Amount, usual: tuple[InForce, ...]) -> Conclusion:
    whole = usual[-1].value
    more = depth(whole.si - thick.si)
    return compare(
        at, thick, *usual,
        says=lambda: words("the filler at {edge} is thin to give way in summer", edge=at.name),
        working=lambda: step("short by", "asked - thickness of filler", words("{a} - {t}", a=whole, t=thick),
                             more),
        remedy=lambda: write(f"{filler.place.path}.thickness", whole, words(
            "set filler {write} thick at {edge}: {more} more", write=whole, edge=at.name, more=more)),
    )  # fmt: skip
