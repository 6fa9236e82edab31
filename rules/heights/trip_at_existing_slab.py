"""The slab meets an existing slab or asphalt without a lip that people trip over.

What is compared
    Compares the heights of the finish and of the existing slab or asphalt along each edge beside such, and beside a
    street where an accessible way comes to it. On an accessible way and in the right of way a difference of 1/4 in is a
    caution and 1/2 in a hold; elsewhere 1/2 in is a caution; where only wheels cross, as through the door of a garage,
    3/4 in is a note and 2 in a caution. Where the file says `planned_step: true` it is a step, and is compared with 7
    3/4 in, or with 2 in where wheels cross it. Above the floor of a garage or a shop, that wheels cross to, a slab in
    the rain may stand 1/4 in at most. A floor whose height stands under `fixed`, and that wheels cross to, is compared
    with 2 in. The height of an old slab may stand under `ground` of its edge or, as a slab that asks nothing, under
    `fixed`.
Why it matters
    A toe clears the ground by about half an inch. A lip of 3/8 in is found by everyone who carries something, and frost
    and settlement make it grow. A snow shovel stops at it.
When it does not apply
    No edge is beside an existing slab or asphalt, and no accessible way comes to a street. Where the file gives one
    height for a run along which the slab passes from under it to over it, the rule asks for the height at each end.
    Where the file states under `fixed` what the old slab asks, and it is not kept, `slab-below-fixed` tells it; where
    the old slab dams the water of one that lies lower, and no public way crosses, `ground-dams-edge` does; a planned
    step with a flight to it is judged by `step-sizes`, and a drop of more than 30 in by `exposed-edge`.
How to put it right
    Shoot the old slab at both ends of the edge and match it there. Where it is broken or crooked, match it at the ends
    and feather within the first few feet. Cut asphalt back straight and patch it to the new edge. Where a difference of
    more than 4 in is meant as a step, say so. A step that is too high wants another riser.
Where sources differ
    1/4 in upright, and 1/2 in with a bevel of 1 in 2, are access standards, and bind where the public goes; they are a
    good limit elsewhere. A state warranty and a cost handbook count 1/4 in at joints as a defect, 1/2 in at expansion
    joints. That a drive ends no higher than the floor it leads to is common practice. The dwelling code asks 7 3/4 in
    of the risers of stairs, so it is a caution for a step.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "No lip at an existing slab"
LIMITS = (
    Limit("lip_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("aba-303.3"), ("1/4 in", "1 in"),
          "difference in height at an existing slab where the public or a wheelchair goes"),
    Limit("upright_lip_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("ada-1991", "4.5.2"), ("1/16 in", "3/4 in"),
          "upright difference in height there"),
    Limit("private_lip_at_most", "1/2 in", Kind.DEPTH, "caution", Cite("aba-303.3"), ("1/4 in", "1 in"),
          "difference in height at any other existing slab"),
    Limit("wheel_lip_at_most", "3/4 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/4 in", "2 in"),
          "difference in height where only wheels cross"),
    Limit("floor_lip_at_most", "2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("3/4 in", "4 in"),
          "difference in height to a floor or a slab that vehicles drive on to"),
    Limit("above_floor_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "1 in"),
          "height of a slab in the rain above a floor under a roof that vehicles drive in to"),
    Limit("step_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-stairs"), ("4 in", "9 in"),
          "planned step at an existing slab"),
)  # fmt: skip
WORKED = ()
GUARDED = {"us": 0.762, "metric": 0.6}  # m, 30 in: so far down it is no lip, and `exposed-edge` judges it
RISER = 4 * INCH  # m, over which a difference may be a step (common practice)
LITTLE = INCH  # m, by which a slab is rather brought to a step that is right (common practice)
COUNTED = 0.01  # a smaller share of the water is the tip of a corner (common practice)
PAVED = ("existing slab", "asphalt")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The greatest difference along each edge."""
    pieces = [piece for piece in plan.edges.pieces if piece.beside in PAVED or _to_street(plan, piece)]
    floors = list(_floors(plan))
    if not pieces and not floors:
        does_not_apply("no edge is beside an existing slab or asphalt")
    needs_heights(plan)
    if pieces and not any(piece.ground for piece in pieces):
        such = such_height(plan, "99.60", "99.850")
        paving = pieces[0].beside.removeprefix("existing ")
        not_shown(f"edges, ground: the height of the {paving} beside {pieces[0].name}, such as {such}",
                  place=pieces[0].place)  # fmt: skip
    pieces = [piece for piece in pieces if not piece.crosses_one_height]
    if not pieces and not floors:
        not_shown("edges, ground: the height of the old slab at each end of the run, such as [99.62, 99.55]",
                  place=plan.place("edges"))  # fmt: skip
    concluded: list[Conclusion] = list(_compared_once(plan, pieces, limits))
    concluded += [_floor(plan, match, limits) for match in floors]
    if not concluded:
        does_not_apply("other rules tell how it meets the existing slab")
    yield from concluded


def _to_street(plan: Plan, piece: EdgePiece) -> bool:
    """Whether an accessible way comes to a street there."""
    return piece.beside == "street" and _on_way(plan, piece)


def _on_way(plan: Plan, piece: EdgePiece) -> bool:
    return any(piece in plan.edges.at((point.x, point.y)) for point in plan.design.site.accessible_route)


def _compared_once(plan: Plan, pieces: Sequence[EdgePiece], limits: Limits) -> Conclusions:
    """Each edge once, with all of its stretches that are held to the same."""
    alike: dict[tuple[str, object, tuple[InForce, ...]], EdgePiece] = {}
    for piece in pieces:
        if piece.ground is None or piece.finish is None:
            continue
        kept = _limits(plan, piece, limits)
        if _told_elsewhere(plan, piece) or (kept[0].name != "lip_at_most" and _dammed(plan, piece)):
            continue
        key = piece.name, piece.place, kept
        alike[key] = _joined(alike[key], piece) if key in alike else piece
    for (_, _, kept), piece in alike.items():
        yield _compared(plan, piece, kept)


def _joined(one: EdgePiece, other: EdgePiece) -> EdgePiece:
    """Two stretches of an edge as one."""
    return one._replace(
        line=one.line + other.line,
        finish=(one.finish or ()) + (other.finish or ()),
        ground=(one.ground or ()) + (other.ground or ()),
        length=one.length + other.length,
    )


def _floors(plan: Plan) -> Iterator[FixedMatch]:
    """The worst spot of each floor that wheels cross to, its height under `fixed` and nothing asked of the slab."""
    found: dict[str, list[FixedMatch]] = {}
    for match in plan.fixed.matches:
        asks = match.fixed.kind == "slab" and match.fixed.slab is None
        if asks and any(piece.wheels_cross and piece.ground is None for piece in plan.edges.at(match.at)):
            found.setdefault(match.fixed.name, []).append(match)
    for spots in found.values():
        yield max(spots, key=lambda one: abs(one.height - one.slab))


def _floor(plan: Plan, match: FixedMatch, limits: Limits) -> Conclusion:
    """How the slab meets a floor that vehicles drive in to."""
    lip, up = depth(abs(match.height - match.slab)), match.slab < match.height
    easy = match.height - math.copysign(limits.wheel_lip_at_most.value.si, match.height - match.slab)
    ends = [one.at for one in plan.fixed.matches if one.fixed is match.fixed]
    return compare(
        Spot(match.fixed.name, match.fixed.place, (match.at,)), lip, limits.floor_lip_at_most,
        says=lambda: words("the slab stands so far {way} {floor} at {point} that no car drives over it",
                           floor=match.fixed.name, way="below" if up else "above", point=plan.shape.name_at(match.at)),
        working=lambda: step("lip", "higher - lower", words(
            "{high} - {low}", high=height(max(match.height, match.slab)), low=height(min(match.height, match.slab))),
            lip),
        remedy=lambda: met_along(plan, match.fixed.name, ends, plan.grades.moved([(at, easy) for at in ends], up=up)),
        decide=lambda: words("bring the slab to {floor}, {lip} {way}, and take it up further out",
                             floor=match.fixed.name, lip=lip, way="higher" if up else "lower"),
    )  # fmt: skip


def _told_elsewhere(plan: Plan, piece: EdgePiece) -> bool:
    """Whether steps lead up there, it drops so far that people fall, or the slab does not keep what the file asks."""
    drops = (top - beside for top, beside in zip(piece.finish or (), piece.ground or (), strict=True))
    if not meets(max(drops), GUARDED[plan.home], "most"):
        return True
    flights = plan.flights.up_to(piece.name) or plan.flights.at_edge(piece.line)
    if piece.edge and piece.edge.planned_step and flights:
        return True
    return any(piece in plan.edges.at(match.at) and not match.kept for match in plan.fixed.matches)


def _dammed(plan: Plan, piece: EdgePiece) -> bool:
    """Whether the slab lies lower where it differs most, and its water comes there."""
    over = [top - beside for top, beside in zip(piece.finish or (), piece.ground or (), strict=True)]
    low, high = min(over), max(over)
    lower = not meets(low, -max(high, plan.finish.give), "least")
    return lower and plan.outdoors and piece.takes_water is not False and plan.water.comes_to(piece.name, COUNTED)


def _limits(plan: Plan, piece: EdgePiece, limits: Limits) -> tuple[InForce, ...]:
    site = plan.design.site
    said = bool(piece.edge and piece.edge.wheels_cross)
    driven = any(plan.doors.for_vehicles(door) and piece in plan.edges.at(door.at) for door in plan.doors.all)
    wheels = said or driven or (piece.wheels_cross and plan.carries_vehicles)
    if wheels and _above_floor(plan, piece):
        return (limits.above_floor_at_most,)
    if piece.edge and piece.edge.planned_step:
        return (limits.floor_lip_at_most,) if wheels else (limits.step_at_most,)
    if _on_way(plan, piece) or (site.right_of_way and not wheels):
        return limits.lip_at_most, limits.upright_lip_at_most
    return (limits.floor_lip_at_most, limits.wheel_lip_at_most) if wheels else (limits.private_lip_at_most,)


def _above_floor(plan: Plan, piece: EdgePiece) -> bool:
    """Whether the slab lies in the rain and stands above a floor under a roof, where it differs most."""
    over = [top - beside for top, beside in zip(piece.finish or (), piece.ground or (), strict=True)]
    return plan.outdoors and piece.floor and max(over, key=abs) > 0


def _compared(plan: Plan, piece: EdgePiece, kept: tuple[InForce, ...]) -> Finding | Margin:
    finish, ground = piece.finish or (), piece.ground or ()
    lips = [abs(top - beside) for top, beside in zip(finish, ground, strict=True)]
    worst = max(range(len(lips)), key=lips.__getitem__)
    top, beside, lip, lightest = finish[worst], ground[worst], depth(lips[worst]), kept[-1]
    up = beside > top
    step_high = lightest.name == "private_lip_at_most" and not meets(lip.si, RISER, "most")

    def remedies() -> list[Remedy]:
        if step_high:  # whoever drew it knows whether it is a step
            return []
        room = lightest.value.si if lightest.name == "step_at_most" else 0.0
        wanted = [
            (at, other + math.copysign(room, own - other))
            for at, own, other in zip(piece.line, finish, ground, strict=True)
            if not lightest.met(abs(own - other))
        ]
        whole = whole_slab_moved(plan, math.copysign(lip.si - room, beside - top))
        moved = [*met_along(plan, piece.name, piece.line, plan.grades.moved(wanted, up=up)), *whole]
        if room and not meets(lip.si - room, LITTLE, "most"):  # nobody raises a slab so far for a step
            return [*_steps_up(piece, beside - top, room), *moved]
        return moved

    def decide() -> Words:
        if lightest.name == "step_at_most":
            return words("pour steps between the slab and {edge}, none over {most}", edge=piece.name,
                         most=lightest.value)  # fmt: skip
        way = "higher" if up else "lower"
        if step_high:
            return words("write planned_step: true at {edge} if a step of {lip} is meant; else bring the slab to the "
                         "{beside}, {lip} {way}", edge=piece.name, lip=lip, beside=piece.beside, way=way)  # fmt: skip
        return words("match the {beside} along {edge}, {lip} {way}, and take it up in the slab behind",
                     beside=piece.beside, edge=piece.name, lip=lip, way=way)  # fmt: skip

    return compare(
        spot(piece), lip, *kept, give=0.0 if kept[0].name == "lip_at_most" else plan.finish.give,
        says=lambda: words("the slab stands above {floor} at {point}, and the rain on its end runs in",
                           floor=piece.name, point=plan.shape.name_at(piece.line[worst]))
        if lightest.name == "above_floor_at_most" else
        words("the slab stands {way} the {beside} at {point}", beside=piece.beside, way="below" if up else "above",
              point=plan.shape.name_at(piece.line[worst])),
        working=lambda: step("lip", "higher - lower",
                             words("{high} - {low}", high=height(max(top, beside)), low=height(min(top, beside))), lip),
        remedy=remedies,
        decide=decide,
    )  # fmt: skip


def _steps_up(piece: EdgePiece, rise: float, most: float) -> list[Remedy]:
    """Steps of even risers up to a higher slab with a name, poured on this one; the last riser is onto it."""
    if piece.edge is None or not piece.edge.name or not meets(rise, most, "least"):
        return []
    risers = math.ceil(rise / most - 1e-6)
    each = depth(round(rise / risers / (INCH / 8)) * INCH / 8)
    entry: dict[str, Amount | str] = {
        "name": f"steps to {piece.name}", "width": length(piece.length), "tread": depth(12 * INCH), "riser": each,
        "count": count(risers - 1), "leads_to": piece.name, "same_pour": "false",
    }  # fmt: skip
    says = words("pour steps up to {edge} on the slab: {n} risers of {each}, the last onto it", edge=piece.name,
                 n=count(risers), each=each)  # fmt: skip
    return [append("thickness.steps", entry, says)]
