"""Where heavy wheels drive over an edge of the slab, the edge is thickened.

What is compared
    The depth at each edge that wheels cross with 1 1/4 times the thickness of the slab, once an axle weighs over
    4,000 lb; and how far in from the edge the extra depth ends with 3 ft. Wheels cross an edge at a street, unless the
    file says no, and wherever it says wheels_cross: true.
Why it matters
    Inside the slab a wheel leans on concrete all round. At an edge it leans on half of that, at a corner on a quarter,
    and it comes down with a bump. Two years later the corner of the drive lies in the gutter, in one piece.
When it does not apply
    No heavy axle is given, or the file says of every edge that no wheels cross it.
How to put it right
    Dig the edge deeper and bring it back to the thickness gradually: a sudden step is a notch. A joint planned across
    the corner, legs 2 ft long, or bars in it, save the look and not the strength; they want a variance.
Where sources differ
    None on the quarter more. Army roads bring it back over 3 ft, Army floors and airfields over 5 ft; an article on
    light parking goes from 4 in to 6 in over 3 ft, half as much again. The 4,000 lb are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas.thickness import thickened_edge
from slabwright.formulas.units import INCH, POUND_FORCE
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
    Worked,
    does_not_apply,
    not_shown,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, meets, ratio, round_up

TITLE = "A thick edge where heavy wheels cross"
LIMITS = (
    Limit("part_of_thickness_at_least", "1.25", Kind.RATIO, "caution", Cite("tm-5-822-5", "ch. 15-16"), ("1", "2"),
          "depth of an edge that wheels cross, as part of the thickness"),
    Limit("brought_back_over_at_least", "3 ft", Kind.LENGTH, "note", Cite("tm-5-822-5", "ch. 15-16"), ("1 ft", "10 ft"),
          "distance from the edge to where the extra depth ends"),
)  # fmt: skip
HEAVY = 4000 * POUND_FORCE  # N, `common-practice`
WORKED = (
    Worked("an edge of 5 in", depth(6.25 * INCH), lambda: thickened_edge(5 * INCH), 1e-9, Cite("tm-5-809-12"),
           "th-edge-125"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """A heavy axle is given, and an edge that it crosses."""
    if all(meets(load.axle.si, HEAVY, "most") for load in plan.design.loads):
        return does_not_apply("no heavy axle is written (loads)")
    if any(piece.wheels_cross for piece in plan.edges.pieces):
        return APPLIES
    if all(piece.wheels_cross is False or piece.dams for piece in plan.edges.pieces):
        return does_not_apply("no wheels cross an edge")
    where = "edges, wheels_cross: the edge that vehicles drive on and off over, such as true"
    return not_shown(where, place=plan.place("edges", "loads"))


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The shallowest depth along each edge that is crossed, then how each thickened edge is brought back."""
    part, back, t = limits.part_of_thickness_at_least, limits.brought_back_over_at_least, depth(plan.thickness.design)
    asked = depth(part.value.si * t.si)
    runs: dict[tuple[object, str], list[tuple[float, EdgePiece]]] = {}
    for piece in plan.edges.pieces:
        if piece.wheels_cross:
            runs.setdefault((piece.place, piece.name), []).append((_depth(plan, piece), piece))
    for pieces in runs.values():
        deep, piece = min(pieces, key=lambda pair: pair[0])
        at, shown = spot(piece), depth(deep)
        if meets(deep, asked.si, "least"):
            yield Margin(at, shown, part, asked)
            continue
        says = words("heavy wheels come down on {edge}, where the slab is no thicker for it", edge=at.name)
        working = step("depth at the edge", "part x thickness", words("{p} x {t}", p=ratio(part.value.si), t=t), asked)
        write = round_up(asked, 0.005 if plan.system == "metric" else INCH / 4)
        make = "make {edge} {write} deep, brought back to {t} over {taper}"
        to_pass = words(make, edge=at.name, write=write, t=t, taper=back.value)
        yield Finding(at, says, shown, part, (working,), to_pass, asked)
    for number, edge in enumerate(plan.design.thickness.thickened_edges, 1):
        at, flat = Spot(f"thickened edge {number}", edge.place), edge.width.si if edge.width else 0.0
        over, more = length(flat + edge.taper.si), length(back.value.si - flat - edge.taper.si)
        if edge.depth.si <= t.si:
            continue  # no thicker than the slab: nothing to bring back
        if back.met(over):
            yield Margin(at, over, back)
            continue
        says = words("{edge} comes back to the slab so soon that it is a step", edge=at.name)
        taper = length(edge.taper.si + more.si)
        to_pass = words("bring {edge} back over {taper}: {more} more", edge=at.name, taper=taper, more=more)
        yield Finding(at, says, over, back, (), to_pass)


def _depth(plan: Plan, piece: EdgePiece) -> float:
    """Least depth along an edge, m, clear of its two ends, where another edge may be thick."""
    ends = zip(piece.line, piece.line[1:], strict=False)
    spots = [((1 - s) * a + s * c, (1 - s) * b + s * d) for (a, b), (c, d) in ends for s in (0.2, 0.5, 0.8)]
    return min(plan.thickness.at(one) for one in spots)
