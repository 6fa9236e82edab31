"""Where heavy wheels drive over an edge of the slab, the edge is thickened.

What is compared
    Compares the depth at each edge that wheels cross with 1 1/4 times the thickness of the slab: it is a note once an
    axle weighs over 4,000 lb, a caution over 10,600 lb unless the edge is as deep as the 6 in that such an axle wants
    and a quarter more. It also compares how far in from the edge the extra depth ends with 3 ft (0.9 m). Wheels cross
    an edge at a street, unless the file says no, and wherever it says `wheels_cross: true`. Only the slab that is drawn
    is spoken of, never what stands beside it.
Why it matters
    Inside the slab a wheel leans on concrete all round. At an edge it leans on half of that, at a corner on a quarter,
    and it comes down with a bump. Two years later the corner of the drive lies in the gutter, in one piece.
When it does not apply
    No axle heavier than a car's is given, or the file says of every edge that no wheels cross it. Edges that are tied
    hand the load over and are left out.
How to put it right
    Dig the edge deeper and bring it back to the thickness gradually: a sudden step is a notch. A joint planned across
    the corner, legs 2 ft long, or bars in it, save the look and not the strength; they want a variance.
Where sources differ
    Sources agree on the quarter more. Army roads bring it back over 3 ft, Army floors and airfields over 5 ft; an
    article on light parking goes from 4 in to 6 in over 3 ft, half as much again. The 4,000 lb are common practice;
    10,600 lb is where a specification for light-duty parking ends. The quarter is on the thickness that the traffic
    wants: a slab poured thicker than that all over has it already, so more is a note.
"""

from __future__ import annotations

from slabwright.formulas.loads import CAR_AXLE
from slabwright.formulas.units import INCH, POUND_FORCE
from slabwright.rulebook.kit import *

TITLE = "A thick edge where heavy wheels cross"
LIMITS = (
    Limit("part_of_thickness_at_least", "1.25", Kind.RATIO, "note", Cite("tm-5-822-5", "ch. 15-16"), ("1", "2"),
          "depth of an edge that an axle over {4,000 lb|18 kN} crosses, as part of the thickness"),
    Limit("part_under_trucks_at_least", "1.25", Kind.RATIO, "caution", Cite("tm-5-822-5", "ch. 15-16"), ("1", "2"),
          "depth of an edge that an axle over {10,600 lb|47.2 kN} crosses, as part of the thickness"),
    Limit("brought_back_over_at_least", "3 ft", Kind.LENGTH, "note", Cite("tm-5-822-5", "ch. 15-16"), ("1 ft", "10 ft"),
          "distance from the edge to where the extra depth ends"),
)  # fmt: skip
TRUCK = 10600 * POUND_FORCE  # N, `ready-mixed-cp-3.4`
# m, 6 in as metric work prints it: what `least-thickness` asks under them; the rest tells `wheel-load`
FOR_TRUCKS = 0.15
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The shallowest depth along each edge that is crossed, then how each thickened edge is brought back."""
    heaviest = max((load.axle.si for load in plan.design.loads), default=0.0)
    if meets(heaviest, CAR_AXLE[plan.home], "most"):
        does_not_apply("no axle heavier than a car's is written (loads)")
    pieces = [piece for piece in plan.edges.pieces if not (piece.edge and piece.edge.tied)]
    crossed = [piece for piece in pieces if piece.wheels_cross]
    if not crossed:
        if all(piece.wheels_cross is False or piece.dams for piece in pieces):
            does_not_apply("no wheels cross an edge")
        where = "edges, wheels_cross: true for the edge that vehicles drive on and off over"
        not_shown(where, place=plan.place("edges", "loads"))
    t = depth(plan.thinnest_driven)
    light = meets(heaviest, TRUCK, "most")
    runs: dict[tuple[str, object], list[EdgePiece]] = {}
    for piece in crossed:
        runs.setdefault((piece.name, piece.place), []).append(piece)
    for (name, _), run in runs.items():
        shown, piece = min(((plan.thickness.least_along(one.line), one) for one in run), key=lambda pair: pair[0])
        at, trucks = spot(piece), limits.part_under_trucks_at_least
        plenty = light or meets(shown, trucks.value.si * FOR_TRUCKS, "least")
        part = limits.part_of_thickness_at_least if plenty else trucks
        asked = depth(part.value.si * t.si)
        yield compare(
            at, depth(shown), part, asked=asked, give=0.0 if plan.home == "us" else tape_step(plan),
            says=lambda: _told(at.name, meets(shown, t.si, "most"), force(heaviest) if light else None),
            working=lambda: step("depth at the edge", "part x thickness",
                                 words("{p} x {t}", p=ratio(part.value.si), t=t), asked),
            remedy=lambda: _thicker(plan, name, run, asked, limits.brought_back_over_at_least.value),
        )  # fmt: skip
    for number, edge in enumerate(plan.design.thickness.thickened_edges, 1):
        if edge.depth.si > t.si:  # else there is nothing to bring back
            yield _brought_back(plan, number, edge, limits.brought_back_over_at_least)


def _told(edge: str, level: bool, axle: Amount | None) -> Words:
    where = f"over {{edge}}, where the slab is {'no' if level else 'little'} thicker for it"
    if axle is None:
        return words(f"heavy wheels come on {where}", edge=edge)
    return words(f"an axle of {{axle}} comes on {where}", edge=edge, axle=axle)


def _thicker(plan: Plan, name: str, pieces: Sequence[EdgePiece], asked: Amount, taper: Amount) -> Remedy:
    deep, there = round_up(asked, tape_step(plan, INCH / 4)), [a for one in pieces for a in plan.areas.along(one.line)]
    says = words("make this slab {write} deep along {edge}, brought back to {t} over {taper}", edge=name,
                 write=deep, t=depth(min(area.thickness.si for area in there)), taper=taper)  # fmt: skip
    return thicken_edge(plan, pieces, deep, taper, says)


def _brought_back(plan: Plan, number: int, edge: ThickenedEdge, back: InForce) -> Conclusion:
    """How far from the edge its extra depth ends."""
    at, flat = Spot(f"thickened edge {number}", edge.place), edge.width.si if edge.width else 0.0
    taper = length(back.value.si - flat)
    return compare(
        at, length(flat + edge.taper.si), back,
        says=lambda: words("{edge} comes back to the slab so soon that it is a step", edge=at.name),
        remedy=lambda: write(f"{edge.place.path}.taper", taper, words(
            "bring {edge} back over {taper}: {more} more", edge=at.name, taper=taper,
            more=length(taper.si - edge.taper.si))),
    )  # fmt: skip
