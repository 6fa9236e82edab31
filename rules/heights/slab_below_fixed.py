"""The slab keeps the height that each fixed thing around it asks for.

What is compared
    Wherever a fixed height meets the slab, compares the height of the slab with what the file says that the fixed thing
    asks (`slab: at least 1 in below`). Where the file says nothing, a slab in the open may not stand over a sill, and
    the rule takes the distance usual for its kind: siding and weep screed lie 2 in above the slab, brick 1 in, a door
    sill 1 in, a damp course 150 mm, and the bottom of a vent, a window or a hose bib 2 in. A floor under a roof lies no
    lower than the slab in the open beside it.
Why it matters
    Siding that stands in splash rots from the bottom, a weep screed that is buried keeps water in the wall, and a
    slab at the sill lets wind push rain under the door. A vent that is buried drinks all water of the slab. None of
    it shows in the first year.
When it does not apply
    No fixed height meets the slab. A sill at a door that is drawn is judged by `door-step`, the sill of an
    accessible door by `accessible-route`. Over a sill under a canopy the slab may not stand, and no more is asked. A
    damp course asks nothing where a channel lies along the wall. At a house one question is asked where the file gives
    no siding, weep screed or damp course; none at a garage.
How to put it right
    Lower the slab along the wall, or move the fixed thing. Two that cannot both be kept are settled with the owner
    now.
Where sources differ
    The code's 2 in below wood siding and below the weep screed of stucco hold for hard surfaces (4 and 6 in are for
    earth), and are a hold in US designs. No code figure is known for other siding, so 2 in is a caution there, and
    1 in below brick, whose weeps must stay open (common practice). The 1 in at a sill is a handbook's least, 2 in
    better; 150 mm is British practice. No figure was found for openings in a wall; 2 in is common practice. Florida
    asks 4 in for termites.
"""

from __future__ import annotations

import re

from slabwright.rulebook.kit import *

TITLE = "Fixed heights are kept"
LIMITS = (
    Limit("stated_room_at_least", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "1 in"),
          "distance that the file asks for at least, with the room set on top"),
    Limit("stated_excess_at_most", "0 in", Kind.DEPTH, "hold", Cite("common-practice"), ("0 in", "1 in"),
          "distance that the file asks for at most, with the excess let pass"),
    Limit("siding_at_least", "2 in", Kind.DEPTH, "hold", Cite("irc-r317.1"), ("1 in", "8 in"),
          "siding of wood above the slab"),
    Limit("other_siding_at_least", "2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("1 in", "8 in"),
          "siding that is not of wood, or not said, above the slab"),
    Limit("brick_at_least", "1 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "8 in"),
          "foot and weeps of brick above the slab"),
    Limit("weep_screed_at_least", "2 in", Kind.DEPTH, "hold", Cite("irc-r703.7.2.1"), ("1 in", "8 in"),
          "weep screed or foot of stucco above the slab"),
    Limit("sill_at_least", "1 in", Kind.DEPTH, "caution", Cite("beall", "p. 285"), ("0 in", "8 in"),
          "door sill above the slab"),
    Limit("flush_sill_at_least", "0 in", Kind.DEPTH, "hold", Cite("geometry"), ("0 in", "1 in"),
          "door sill above the slab, so that rain does not run in"),
    Limit("drive_sill_at_least", "1/4 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "2 in"),
          "floor of a garage above the drive"),
    Limit("floor_at_least", "0 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "2 in"),
          "floor under a roof above the slab beside it"),
    Limit("wall_opening_at_least", "2 in", Kind.DEPTH, "caution", Cite("common-practice"), ("0 in", "18 in"),
          "bottom of a vent, a window or a hose bib above the slab"),
    Limit("damp_course_at_least", "150 mm", Kind.DEPTH, "caution", Cite("paving-guidance-uk"), ("50 mm", "300 mm"),
          "damp course above the slab"),
)  # fmt: skip
WORKED = ()
RUNS_IN = ("flush_sill_at_least", "floor_at_least")  # limits below which rain runs into a room
CLADDING = ("siding", "weep screed", "damp course")
OPENINGS = ("vent", "window", "hose bib")
KINDS = (*CLADDING, *OPENINGS, "sill")  # each with a limit of its own
STAYS = ("existing slab", "asphalt", "street", "curb")  # what a slab meets as it lies
NAMED = (  # what siding is made of, by what people call it
    ("wood", r"(?i)wood|cedar|clapboard|timber|board and batten|shingle|plywood"),
    ("stucco", r"(?i)stucco|plaster|render"),
    ("brick", r"(?i)brick|weep"),
)
BY_MATERIAL = {"wood": "siding_at_least", "stucco": "weep_screed_at_least", "brick": "brick_at_least"}
NO_HOUSE = r"(?i)garage|carport|barn|shop|shed|store"
AT_DOOR = 0.3  # m: a sill this near to a door that is drawn is the sill of that door
Asked = tuple[InForce, float, int]  # the limit, the distance asked, and 1 where the slab lies below, -1 above


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The worst spot of each fixed thing, for each distance it asks for."""
    if not plan.design.fixed:
        _ask_for_cladding(plan)
        does_not_apply("no fixed heights are given")
    needs_heights(plan)
    if not plan.fixed.matches:
        does_not_apply("no fixed height lies at the slab")
    found: dict[tuple[int, str, int], list[tuple[FixedMatch, Asked]]] = {}
    for match in plan.fixed.matches:
        for limit, asked, side in _asked(plan, match, limits):
            found.setdefault((id(match.fixed), limit.name, side), []).append((match, (limit, asked, side)))
    if not found:
        _end_without_asked(plan)
    for spots in found.values():
        yield _compared(plan, spots)


def _ask_for_cladding(plan: Plan) -> None:
    """One question a job: how low the wall of a house comes down."""
    walls = [piece for piece in plan.edges.buildings if not re.search(NO_HOUSE, piece.name)]
    if plan.outdoors and plan.areas.used("patio", "walk") and walls:
        such = such_height(plan, "{name: siding, kind: siding, along: [A, B], height: 100.20}",
                           "{name: damp course, kind: damp course, along: [A, B], height: 100.200}")  # fmt: skip
        not_shown(f"fixed: the height of the siding, weep screed or damp course along {walls[0].name}, such as {such}",
                  place=plan.place("fixed"))  # fmt: skip


def _end_without_asked(plan: Plan) -> None:
    for match in plan.fixed.matches:
        if match.fixed.slab is None and match.fixed.kind not in KINDS:
            such = "at least {1 in|25 mm} below"
            not_shown(f"fixed, slab: what {match.fixed.name} asks of the slab, such as {such}", place=match.fixed.place)
    does_not_apply("other rules judge the doors and walls that are given")


def _asked(plan: Plan, match: FixedMatch, limits: Limits) -> Iterator[Asked]:
    """What a fixed thing asks for, by the file or by its kind."""
    if match.fixed.slab is None and (match.fixed.kind in KINDS or match.floor):
        limit = _usual(plan, match, limits)
        if limit is not None:
            flush = limits.flush_sill_at_least
            yield flush if _over_sill(plan, match, flush) else limit, limit.value.si, 1
    for direction, distance, side in match.asks:
        limit = limits.stated_room_at_least if direction == "least" else limits.stated_excess_at_most
        yield limit, distance + limit.value.si, side


def _usual(plan: Plan, match: FixedMatch, limits: Limits) -> InForce | None:
    """The distance usual for its kind; None where another rule judges it, or a channel takes the water."""
    channel = plan.channels.near(match.at)
    doors = [door for door in plan.doors.all if plan.doors.reaches(door, match.at, AT_DOOR)]
    if match.fixed.kind == "sill":
        if channel or any(door.fixture.sill or plan.doors.accessible(door) for door in doors):
            return None
        if any(door.fixture.canopy for door in doors):
            return limits.flush_sill_at_least
        return limits.drive_sill_at_least if plan.areas.at(match.at).use == "driveway" else limits.sill_at_least
    if match.floor:
        sills = (door.fixture.sill.si for door in plan.doors.all if door.fixture.sill)
        drawn = any(meets(abs(sill - match.height), plan.finish.give, "most") for sill in sills)
        return None if channel or drawn or not plan.outdoors else limits.floor_at_least
    if match.fixed.kind == "damp course":
        return None if channel or any(map(plan.doors.accessible, doors)) else limits.damp_course_at_least
    if match.fixed.kind in OPENINGS:
        return limits.wall_opening_at_least
    name = "weep_screed_at_least" if match.fixed.kind == "weep screed" else BY_MATERIAL.get(_material(match), "")
    if not name or (limits[name].weight == "hold" and plan.home == "metric"):
        return limits.other_siding_at_least
    return limits[name]


def _over_sill(plan: Plan, match: FixedMatch, flush: InForce) -> bool:
    """Whether the slab in the open stands over the sill anywhere, by more than half a step of the heights as typed."""
    gaps = [one.height - one.slab for one in plan.fixed.matches if one.fixed is match.fixed]
    low = flush.value.si - plan.finish.give
    return match.fixed.kind == "sill" and plan.outdoors and not meets(min(gaps), low, "least")


def _material(match: FixedMatch) -> str:
    named = next((material for material, called in NAMED if re.search(called, match.fixed.name)), "")
    return match.fixed.material or named


def _off(match: FixedMatch, asked: Asked) -> float:
    """How far the slab misses what is asked, m."""
    limit, distance, side = asked
    gap = side * (match.height - match.slab)
    return distance - gap if limit.direction == "least" else gap - distance


def _compared(plan: Plan, spots: Sequence[tuple[FixedMatch, Asked]]) -> Finding | Margin:
    match, asked = max(spots, key=lambda one: _off(*one))
    limit, distance, side = asked
    gap, low = depth(side * (match.height - match.slab)), (limit.direction == "most") == (side == 1)
    thing, slab = height(match.height), height(match.slab)

    def remedies() -> list[Remedy]:
        wanted = [
            (one.at, one.height - side * distance) for one, _ in spots if not meets(_off(one, asked), 0.0, "most")
        ]
        off = _off(match, asked)
        heights = plan.grades.moved(wanted, up=low)
        moved = new_heights(plan, heights)
        if match.fixed.kind == "slab":
            moved = met_along(plan, match.fixed.name, [at for at, _ in wanted], heights)
        return [*moved, *whole_slab_moved(plan, off if low else -off)]

    return compare(
        spot(match), gap, limit, asked=depth(distance), give=plan.finish.give,
        says=lambda: words(
            "the slab stands over {fixed} at {point}, and rain runs in" if limit.name in RUNS_IN else
            f"the slab is too {'low' if low else 'high'} for {{fixed}} at {{point}}",
            fixed=match.fixed.name, point=plan.shape.name_at(match.at)),
        working=lambda: step(
            "distance", "fixed height - slab" if side == 1 else "slab - fixed height",
            words("{a} - {b}", a=thing if side == 1 else slab, b=slab if side == 1 else thing), gap),
        remedy=remedies,
        decide=lambda: _settled(plan, match.fixed.name,
                                round_up(depth(abs(distance - gap.si)), plan.finish.typed_step), low),
    )  # fmt: skip


def _settled(plan: Plan, fixed: str, off: Amount, low: bool) -> Words:
    """How the slab is set there: ground goes along, and what is paved stays as it lies."""
    stays = list(dict.fromkeys(piece.name for piece in plan.edges.pieces if piece.beside in STAYS))
    soft = any(piece.beside in SOFT_GROUND for piece in plan.edges.pieces)
    keep = ", and let it meet {stays} as now" if stays else " and keep its fall"
    slots = {"stays": " and ".join(stays) if len(stays) < 3 else "the paving beside it"} if stays else {}
    along = ": the ground beside it goes along" if soft and not stays else ""
    return words(f"set the slab {{off}} {{way}} there{keep}{along}; or settle with the owner what else keeps "
                 "{fixed} dry", off=off, way="higher" if low else "lower", fixed=fixed, **slots)  # fmt: skip
