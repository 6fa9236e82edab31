"""Every face that cannot move has filler against it, as deep as the slab is there.

What is compared
    The depth of the filler with the thickness of the slab, along every building, wall, curb, step and existing slab,
    around stair wells and pits, and wherever filler is drawn. Where none is drawn, none is shown. A saw cut beside
    a wall is no filler. A run that is tied on purpose is left out.
Why it matters
    The slab shrinks, swells and settles, and the wall does not. Where the two touch over half an inch of depth they
    hang together: the slab cracks a foot or two out, along the wall, or the wall takes the push of a hot August.
When it does not apply
    Nothing rigid stands beside the slab, or all of it is tied.
How to put it right
    Set the filler on the base, its top at the finish or held down for a sealant, and fasten it to the face. Over a
    thickened edge it goes down with the concrete. Half-inch filler is the usual one.
Where sources differ
    None on the depth. A cut 2 in deep in a 5 in slab was asked about in print and refused. On thickness, most say
    1/2 in, some towns and pavement texts 3/4 in; inside, felt will do.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.design.model import Isolation
from slabwright.plan.plan import Plan
from slabwright.plan.things import EdgePiece, filler_depth
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    does_not_apply,
    not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, meets

TITLE = "Filler as deep as the slab at every fixed face"
LIMITS = (
    Limit("part_of_thickness_at_least", "1", Kind.RATIO, "hold", Cite("trade-qa-isolation"), ("1/2", "1"),
          "depth of the filler, as part of the thickness of the slab there"),
)  # fmt: skip
RIGID = ("pit", "stair")  # a planter bed or a tree leaves the rim free to move


def short_by(part: float, thickness: float, filler: float) -> float:
    """How much deeper filler must go, m, to reach ``part`` of a thickness (m); below 0 where it does."""
    return part * thickness - filler


WORKED = (
    Worked("3 1/2 in filler beside 4 in", depth(0.0127), lambda: short_by(1.0, 0.1016, 0.0889), 1e-9,
           Cite("common-practice"), "is-filler-short"),
)  # fmt: skip


def _drawn(filler: Isolation | None) -> bool:
    return filler is not None and filler.material != "none"


def _faces(plan: Plan) -> Iterator[tuple[Spot, Isolation | None, float, float]]:
    """Spot, filler, greatest thickness (m) and length (m) of each face that wants filler or has it drawn."""
    runs: dict[tuple[object, str], list[EdgePiece]] = {}
    for piece in plan.edges.pieces:
        if (piece.fixed_face or _drawn(piece.isolation)) and not (piece.edge and piece.edge.tied):
            runs.setdefault((piece.place, piece.name), []).append(piece)
    for pieces in runs.values():
        most = max(pieces, key=lambda piece: plan.thickness.along(piece.line))
        yield spot(most), most.isolation, plan.thickness.along(most.line), sum(piece.length for piece in pieces)
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        if opening.holds in RIGID or _drawn(opening.isolation):
            xy = tuple((float(x), float(y)) for x, y in (*ring.xy, ring.xy[0]))
            at = Spot(f"the rim of {opening.name}", opening.place, xy)
            yield at, opening.isolation, max(plan.thickness.at(point) for point in xy), float(ring.length)


def relevant(plan: Plan) -> Relevance:
    """A fixed face is there, and it can be told whether filler is."""
    faces = list(_faces(plan))
    if any(filler_depth(filler, thickness) is not None for _, filler, thickness, _ in faces):
        return APPLIES
    if faces:
        return not_shown("edges, isolation, depth: how deep the filler goes, such as full", place=faces[0][0].place)
    if not plan.design.edges:
        beside = "edges: what stands beside each run of the outline, such as {run: [A, B], beside: building}"
        return not_shown(beside, place=plan.place("edges", "outline"))
    tied = any(piece.fixed_face for piece in plan.edges.pieces)
    return does_not_apply("every fixed face is tied on purpose" if tied else "nothing rigid stands beside the slab")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The depth of filler at each face; filler without a depth is shown as none while other faces have one."""
    limit = limits.part_of_thickness_at_least
    for at, filler, thickness, run in _faces(plan):
        known, asked = filler_depth(filler, thickness), depth(limit.value.si * thickness)
        shown = depth(known or 0.0)
        if meets(shown.si, asked.si, "least"):
            yield Margin(at, shown, limit, asked)
            continue
        says = "no filler stands between the slab and {face}"
        if known is None:
            says = "no depth is written for the filler at {face}"
        elif known:
            says = "the filler at {face} stops short of the bottom of the slab"
        elif _drawn(filler):
            says = "a cut is drawn at {face} in place of filler"
        more = depth(short_by(limit.value.si, thickness, shown.si))
        numbers = words("{asked} - {shown}", asked=asked, shown=shown)
        write, given = "set filler {asked} deep at {face}, over {run}", {"asked": asked, "run": length(run)}
        write, given = (write + ": {more} more", {**given, "more": more}) if known else (write, given)
        to_pass = words(write, face=at.name, **given)
        working = step("short by", "thickness - depth of filler", numbers, more)
        yield Finding(at, words(says, face=at.name), shown, limit, (working,), to_pass, asked)
