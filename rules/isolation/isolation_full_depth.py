"""Every face that cannot move has filler against it, as deep as the slab is there.

What is compared
    Compares the depth of the filler with the thickness of the slab, along every building, wall, curb, step and existing
    slab that stands against it, around stair wells and pits, around pools and rings whose rim is written `none`, and
    wherever filler is drawn. A slab that is written as cast tight against a trench drain is noted. Along a thickened
    edge the thickness of the slab is asked, and filler that is less deep than the whole edge is a note. A saw cut
    beside a wall is no filler; a sealed joint at the rim of an opening is enough. A run that is tied on purpose is left
    out, and so are a slab or a step that lies wholly below this one and a flight that is placed with it. Where the file
    says nothing of any filler the rule asks, round a pool alone too; where it draws some, a face without a word has
    none.
Why it matters
    The slab shrinks, swells and settles, and the wall does not. Where the two touch over half an inch of depth they
    hang together: the slab cracks a foot or two out, along the wall, or the wall takes the push of a hot August.
When it does not apply
    Nothing rigid stands beside the slab, or all of it is tied. Asphalt gives way and needs no filler; it is
    cut straight and the joint is sealed (common practice).
How to put it right
    Set the filler on the base, its top at the finish or held down for a sealant, and fasten it to the face. Over a
    thickened edge it goes down with the concrete. Half-inch filler is the usual one.
Where sources differ
    Sources agree on the depth. Makers of channels ask for filler beside their concrete, and many are cast in tight. A
    cut 2 in deep in a 5 in slab was asked about in print and refused. On thickness, most
    say 1/2 in, some towns and pavement texts 3/4 in; inside, felt will do.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Filler as deep as the slab at every fixed face"
LIMITS = (
    Limit("part_of_thickness_at_least", "1", Kind.RATIO, "hold", Cite("trade-qa-isolation"), ("1/2", "1"),
          "depth of the filler, as part of the thickness of the slab"),
    Limit("part_of_edge_at_least", "1", Kind.RATIO, "note", Cite("common-practice"), ("1/2", "1"),
          "depth of the filler, as part of the depth of a thickened edge"),
    Limit("part_at_trench_at_least", "1", Kind.RATIO, "note", Cite("common-practice"), ("0", "1"),
          "depth of the filler at a trench drain that the file writes without any, as part of the thickness"),
)  # fmt: skip
RINGS = ("other", "pool")  # asked where the file speaks of filler at the rim
RIGID = ("pit", "stair")  # a planter bed or a tree leaves the rim free to move


def short_by(part: float, thickness: float, filler: float) -> float:
    """How much deeper filler must go, m, to reach ``part`` of a thickness (m); below 0 where it does."""
    return part * thickness - filler


WORKED = (
    Worked("3 1/2 in filler beside 4 in", depth(0.0127), lambda: short_by(1.0, 0.1016, 0.0889), 1e-9,
           Cite("common-practice"), "is-filler-short"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The depth of filler at each face; filler without a depth is shown as none while other faces have one."""
    faces, trenches = list(_faces(plan)), [one.name for one in plan.edges.pieces if one.beside == "trench drain"]
    if not faces:
        pools = [one for one in plan.design.openings if one.holds == "pool" and not one.takes_water]
        if pools:
            add = "openings, isolation: the filler between the deck and the pool, such as {material: foam}, or none"
            not_shown(add, place=pools[0].place)
        if not plan.design.edges:
            beside = "edges: what stands beside each run of the outline, such as {run: [A, B], beside: building}"
            not_shown(beside, place=plan.place("edges", "outline"))
        tied = any(piece.fixed_face for piece in plan.edges.pieces)
        does_not_apply("every fixed face is tied on purpose" if tied else "nothing rigid stands beside the slab")
    if all(one.filler is None for one in faces):
        add = (
            "edges, isolation: the filler between the slab and what stands beside it, such as {material: foam}, or none"
        )
        not_shown(add, place=faces[0].at.place)
    if all(filler_depth(one.filler, one.thickness) is None for one in faces):
        not_shown("edges, isolation, depth: how deep the filler goes, such as full", place=faces[0].at.place)
    for face in faces:
        slab = plan.areas.thickest(face.at.shape).thickness.si
        deep = filler_depth(face.filler, slab) or 0.0
        thick_edge = meets(deep, limits.part_of_thickness_at_least.value.si * slab, "least") and face.thickness > slab
        limit = limits.part_of_edge_at_least if thick_edge else limits.part_of_thickness_at_least
        if face.at.name in trenches and not _drawn(face.filler):
            limit = limits.part_at_trench_at_least
        yield _judged(plan, face, limit, face.thickness if thick_edge else slab)


def _judged(plan: Plan, face: Face, limit: InForce, thickness: float) -> Conclusion:
    """The filler at one face, where the slab or its thickened edge is ``thickness`` m deep."""
    at, known = face.at, filler_depth(face.filler, thickness)
    asked, shown = depth(limit.value.si * thickness), depth(known or 0.0)
    more = depth(short_by(limit.value.si, thickness, shown.si))
    told = f"no filler {'is drawn' if face.filler is None else 'stands'} between the slab and {{face}}"
    if known is None:
        told = "no depth is written for the filler at {face}"
    elif known:
        told = "the filler at {face} stops short of the bottom of the slab"
    elif _drawn(face.filler):
        told = "a cut is drawn at {face} in place of filler"
    deep = words(
        "set filler {asked} deep at {face}, over {run}", asked=asked, face=at.name, run=run_told(plan, face.length)
    )
    if known:
        deep = words(deep.template + ": {more} more", **deep.values, more=more)
    return compare(
        at, shown, limit, asked=asked,
        says=lambda: words(told, face=at.name),
        working=lambda: step("short by", "thickness - depth of filler",
                             words("{asked} - {shown}", asked=asked, shown=shown), more),
        remedy=lambda: fill(at.place.path, face.filler, deep),
    )  # fmt: skip


def _drawn(filler: Isolation | None) -> bool:
    return filler is not None and filler.material != "none"


def _faces(plan: Plan) -> Iterator[Face]:
    """Each face that wants filler or has it drawn."""
    runs: dict[tuple[object, str], list[EdgePiece]] = {}
    for piece in plan.edges.pieces:
        tight = piece.beside == "trench drain" and piece.isolation is not None
        wants = tight or (piece.fixed_face and not _below(plan, piece) and not _one_with_flight(plan, piece))
        if (wants or _drawn(piece.isolation)) and not (piece.edge and piece.edge.tied):
            runs.setdefault((piece.place, piece.name), []).append(piece)
    for pieces in runs.values():
        thickest = max(pieces, key=lambda piece: plan.thickness.along(piece.line))
        thickness = plan.thickness.along(thickest.line)
        yield Face(spot(thickest), thickest.isolation, thickness, sum(piece.length for piece in pieces))
    for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True):
        filler = opening.isolation
        ring_or_pool = opening.holds in RINGS and not opening.takes_water and filler is not None
        rigid = opening.holds in RIGID or ring_or_pool
        if not (rigid or _drawn(filler)):
            continue
        xy = tuple((float(x), float(y)) for x, y in (*ring.xy, ring.xy[0]))
        thickness = max(plan.thickness.at(point) for point in xy)
        if filler and filler.sealed and (filler_depth(filler, thickness) or 0.0) < thickness:
            continue  # a sealed joint at a rim is enough
        yield Face(Spot(f"the rim of {opening.name}", opening.place, xy), filler, thickness, float(ring.length))


def _one_with_flight(plan: Plan, piece: EdgePiece) -> bool:
    """Whether what stands beside an edge is a flight that is placed with this slab, and hangs together with it."""
    flights = plan.flights.up_to(piece.name) if piece.beside == "step" else ()
    return any(flight.steps.same_pour and flight.laid for flight in flights)


def _below(plan: Plan, piece: EdgePiece) -> bool:
    """Whether what stands beside an edge, a step or an old slab, lies wholly below this slab."""
    if piece.beside not in ("step", "existing slab") or not piece.finish:
        return False
    slab = plan.areas.thickest(piece.line).thickness.si
    flights = plan.flights.up_to(piece.name) if piece.beside == "step" else ()
    if any(one.foot is not None and meets(min(piece.finish) - one.foot, slab, "least") for one in flights):
        return True  # a flight that climbs onto the slab
    if not piece.ground:
        return False
    drops = (finish - ground for finish, ground in zip(piece.finish, piece.ground, strict=True))
    return all(meets(drop, slab, "least") for drop in drops)
