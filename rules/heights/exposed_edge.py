"""Where the ground lies well below the edge of the slab, the drop is backfilled, stepped or guarded.

What is compared
    Takes the finish height along each edge, less the height beside it. Beside lawn, bed, gravel or open ground a drop
    of more than 4 in is a note: the face shows and soil has to come. The slab of a machine or a shed is set out of the
    water, and shows more. Where wheels cross, onto a street too, more than 1 1/2 in is a note, and onto a street more
    than 6 in is a caution: that is a curb, and no car climbs it. A drop of more than 7 3/4 in is more than a step: it
    is a caution within 36 in of a door or gate, unless a flight stands there that people take, and a note elsewhere.
    Beside anything that is walked along, a wall, a drain or a lot line too, more than 30 in down to the lowest ground
    within 36 in (`ground_beyond`) is a hold: people fall. So it is at the open sides of a flight of steps and of its
    landings; one without a `foot` that leads to an edge or door as wide as itself is taken to stand square before it.
Why it matters
    A slab that stands out of the ground has nothing against its side: rain digs the base from under the edge, and
    it breaks off under the first wheel, at once where wheels bump up over it. Nobody ordered the soil either, and
    by dusk someone steps into the air.
When it does not apply
    No ground lies open beside it. Where the edge is deep enough to reach 2 in into the ground, its face may show, and
    within 72 in of steps that lead up there it may stand out as a stoop does, up to the 30 in. A guard of 36 in that
    the file states (`guard: 36 in`) settles a drop, and so does one of 34 in above the nosings at the side of a flight.
    Steps that lead there settle it for their width, and a wall closes their side. Steps at existing slabs are judged by
    other rules.
How to put it right
    Bring the ground up and tamp it, an inch under the edge where water leaves; or pour a riser. Beside steps that lead
    up there leave the ground as it is, and make them wider. Over 30 in set a guard.
Where sources differ
    30 in, taken anywhere within 36 in of the edge, is the dwelling code of the US, and its 34 in above the nosings are
    recalled; beside a pad for equipment it is a caution. Britain and Canada ask a guard from 600 mm, Germany and
    Australia from 1 m: where metric is shown alone, 600 mm is a caution. The code asks 7 3/4 in of stairs, not of
    edges. The 4 in and the 1 1/2 in are common practice, and so are the 6 in of a curb: a low curb that cars do climb
    may lie between the drive and the gutter.
"""

from __future__ import annotations

import math
from itertools import pairwise

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "No bare drop at the edge"
LIMITS = (
    Limit("guard_drop_at_most", "30 in", Kind.DEPTH, "hold", Cite("irc-guard"), ("12 in", "48 in"),
          "drop at an edge without a guard"),
    Limit("pad_drop_at_most", "30 in", Kind.DEPTH, "caution", Cite("irc-guard"), ("12 in", "48 in"),
          "drop at the edge of a pad for equipment without a guard"),
    Limit("metric_drop_at_most", "600 mm", Kind.DEPTH, "caution", Cite("document-k"), ("300 mm", "1200 mm"),
          "drop at an edge without a guard, where metric is shown"),
    Limit("door_drop_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-stairs"), ("4 in", "18 in"),
          "drop within {36 in|900 mm} of a door or gate"),
    Limit("step_drop_at_most", "7 3/4 in", Kind.DEPTH, "note", Cite("irc-stairs"), ("4 in", "18 in"),
          "drop at any other edge"),
    Limit("bare_face_at_most", "4 in", Kind.DEPTH, "note", Cite("common-practice"), ("1 in", "12 in"),
          "height of slab that shows above the ground"),
    Limit("wheel_lip_at_most", "1 1/2 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/4 in", "4 in"),
          "height of slab that shows above the ground where wheels cross"),
    Limit("street_lip_at_most", "1 1/2 in", Kind.DEPTH, "note", Cite("common-practice"), ("1/4 in", "4 in"),
          "height of the slab above the street where wheels cross"),
    Limit("street_step_at_most", "6 in", Kind.DEPTH, "caution", Cite("common-practice"), ("2 in", "12 in"),
          "height of the slab above the street that a car still climbs"),
)  # fmt: skip
WORKED = ()
STANDS_OUT = ("equipment pad", "shed base")  # set above the ground, to keep out of its water (common practice)
ROADS = ("street",)  # wheels come up from there
CLOSED = ("building", "trench drain", "pool")  # nothing lies open there
WITHIN = 36 * INCH  # from a door or gate
RISER = 12 * INCH  # a tread no further below the edge is the next step down
BANKED = 12 * INCH  # m: ground that would have to come up by more is a bank, and wants a wall (common practice)
INTO = 2 * INCH  # m of concrete below the ground: rain digs nothing out there (common practice)
LANDING = 72 * INCH  # people at a door take a flight that is no further off (common practice)
GUARD = {"us": 36 * INCH, "metric": 0.9}  # m: a guard this high settles a drop, `irc-guard`, `document-k`
RAIL = {"us": 34 * INCH, "metric": 0.9}  # m: above the nosings of a flight: 34 in recalled, not checked; `document-k`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The worst drop along each edge of the file, all its stretches taken together."""
    pieces = [piece for piece in plan.edges.pieces if _lies_open(piece)]
    soft = [piece for piece in pieces if piece.beside in SOFT_GROUND]
    known = [piece for piece in pieces if piece.ground or _falls_away(plan, piece, limits)]
    sides = plan.flights.open_sides
    if not soft and not known and not sides:
        does_not_apply("no ground lies open beside it")
    needs_heights(plan)
    if not known and not sides:
        if not plan.outdoors:
            does_not_apply("it lies under a roof, and no ground beside it is given")
        such = such_height(plan, "99.30", "99.850")
        not_shown(f"edges, ground: the height beside {soft[0].name}, such as {such}", place=soft[0].place)
    edges: dict[int, list[EdgePiece]] = {}
    for piece in known:
        edges.setdefault(id(piece.edge), []).append(piece)
    yield from (_compared(plan, stretches, limits) for stretches in edges.values())
    for flight in dict.fromkeys(side.flight for side in sides):
        yield _beside_flight(plan, [side for side in sides if side.flight == flight], limits)


def _lies_open(piece: EdgePiece) -> bool:
    """Whether people can step off there: beyond a drain only where the file says that the ground falls away."""
    edge = piece.edge
    falls_away = edge is not None and piece.beside == "trench drain" and edge.ground_beyond is not None
    return edge is not None and (falls_away or piece.beside not in CLOSED)


def _guarded(plan: Plan, piece: EdgePiece, limits: Limits) -> InForce:
    """The drop from which a guard is wanted."""
    if plan.home != "us":
        return limits.metric_drop_at_most
    pad = all(area.use == "equipment pad" for area in plan.areas.along(piece.line))
    return limits.pad_drop_at_most if pad else limits.guard_drop_at_most


def _limits(plan: Plan, piece: EdgePiece, near: bool, limits: Limits) -> tuple[InForce, ...]:
    """What a drop is held against, the heaviest first."""
    guard = _guarded(plan, piece, limits)
    if _driven_up(piece):
        return guard, limits.street_step_at_most, limits.street_lip_at_most
    if piece.beside not in SOFT_GROUND or plan.flights.up_to(piece.name):
        return (guard,)
    step = limits.door_drop_at_most if near else limits.step_drop_at_most
    if piece.wheels_cross:
        return guard, step, limits.wheel_lip_at_most
    areas = plan.areas.along(piece.line)
    stands_out = all(area.called in STANDS_OUT or not plan.rained_on(area) for area in areas)  # walls stand on it
    return (guard, step) if stands_out else (guard, step, limits.bare_face_at_most)


def _down_to_ground(plan: Plan, at: XY, kept: tuple[InForce, ...], limits: Limits) -> tuple[InForce, ...]:
    """What is left of it where the edge reaches down into the ground: no base shows, and a stoop has sides."""
    moot = [limits.bare_face_at_most]
    if plan.flights.by(at, LANDING):
        moot.append(limits.step_drop_at_most)
    return tuple(one for one in kept if one not in moot)


def _falls_away(plan: Plan, piece: EdgePiece, limits: Limits) -> bool:
    """Whether the ground within a step of the edge lies so low that people would fall, whatever it is at the edge."""
    beyond = piece.edge.ground_beyond if piece.edge else None
    if beyond is None or piece.finish is None:
        return False
    return not _guarded(plan, piece, limits).met(max(piece.finish) - beyond.si)


def _driven_up(piece: EdgePiece) -> bool:
    return piece.beside in ROADS and bool(piece.wheels_cross) and not (piece.edge and piece.edge.planned_step)


_Drop = tuple[int, float, tuple[XY, float], EdgePiece, tuple[InForce, ...]]


def _drops(plan: Plan, piece: EdgePiece, limits: Limits) -> list[_Drop]:
    """At each point of a stretch: how heavy (0 a hold), less the drop, place and height, and what it is held against.

    The points are those of the file, and those that people step off at before a door or a gate.
    """
    found = []
    beyond = piece.edge.ground_beyond if piece.edge else None
    known = list(zip(piece.line, piece.finish or (), piece.ground or piece.finish or (), strict=True))
    for before, after in list(pairwise(known)):
        for at in plan.doors.steps_off(before[0], after[0], WITHIN):
            part = math.dist(before[0], at) / math.dist(before[0], after[0])
            top, ground = ((1 - part) * one + part * other for one, other in zip(before[1:], after[1:], strict=True))
            known.append((at, top, ground))
    for at, top, ground in known:
        stepped = plan.flights.comes_up_at(at, RISER)
        kept = _limits(plan, piece, plan.doors.near(at, WITHIN) and not plan.flights.by(at, LANDING), limits)
        drop = 0.0 if stepped else top - ground
        if meets(plan.thickness.least_along(piece.line) - drop, INTO, "least"):
            kept = _down_to_ground(plan, at, kept, limits)
        if beyond is not None and not stepped and not kept[0].met(top - beyond.si):
            drop = max(drop, top - beyond.si)
        weight = min((WEIGHTS.index(one.weight) for one in kept if not one.met(drop)), default=len(WEIGHTS))
        found.append((weight, -drop, (at, top), piece, kept))
    return found


def _compared(plan: Plan, stretches: Sequence[EdgePiece], limits: Limits) -> Finding | Margin:
    drops = [one for piece in stretches for one in _drops(plan, piece, limits)]
    _, less, (at, own), piece, kept = min(drops, key=lambda one: (one[0], round(one[1], 6), _names(plan, one)))
    drop, top, point = depth(-less), height(own), plan.shape.name_at(at)
    ground = height(top.si - drop.si)
    guard = piece.edge.guard if piece.edge else None
    if guard is not None and meets(guard.si, GUARD[plan.home], "least"):
        drop = depth(min(drop.si, min(limit.value.si for limit in kept)))  # it is settled
    return compare(
        spot(piece), drop, *kept,
        says=lambda: words("wheels bump up {drop} from the {beside} at {point}" if _driven_up(piece) else
                           "the slab stands {drop} out of the {beside} at {point}" if piece.beside in SOFT_GROUND else
                           "it drops {drop} at {point}, beside the {beside}",
                           drop=drop, beside=piece.beside, point=point),
        working=lambda: step("drop", "finish height - height beside", words("{t} - {g}", t=top, g=ground), drop),
        remedy=lambda: _matched(plan, stretches) if _driven_up(piece) else (
            _filled(plan, piece, point, top, ground, kept, limits)),
        decide=lambda: _decide(plan, piece, drop, kept, limits),
    )  # fmt: skip


def _names(plan: Plan, drop: _Drop) -> tuple[str, list[str]]:
    """By which the first of equal drops is told, wherever the outline starts."""
    _, _, (at, _), piece, _ = drop
    return plan.shape.name_at(at), sorted(map(plan.shape.name_at, piece.line))


def _beside_flight(plan: Plan, sides: Sequence[OpenSide], limits: Limits) -> Finding | Margin:
    """The side of a flight that stands highest above the ground beside it."""
    limit = limits.guard_drop_at_most if plan.home == "us" else limits.metric_drop_at_most
    worst = max(sides, key=lambda side: (round(side.drop, 6), side.after))
    flight, drop = worst.flight, depth(worst.drop)
    top, ground, guard = height(worst.tread.top), height(worst.ground), flight.steps.guard
    enough = GUARD[plan.home] if worst.tread.landing else RAIL[plan.home]
    if guard is not None and meets(guard.si, enough, "least"):
        drop = depth(min(drop.si, limit.value.si))  # it is settled
    part = "landing" if worst.tread.landing else "tread"
    return compare(
        Spot(f"the {worst.side} side of {flight.name}", flight.steps.place, worst.line), drop, limit,
        says=lambda: words("it drops {drop} at the {side} side of the {part} behind riser {n} of {flight}",
                           drop=drop, side=worst.side, part=part, n=count(worst.after), flight=flight.name),
        working=lambda: step("drop", f"top of the {part} - height beside", words("{t} - {g}", t=top, g=ground), drop),
        decide=lambda: words("set a guard {guard} high at the {side} side of {flight}, or bring up the ground there",
                             guard=depth(enough), side=worst.side, flight=flight.name),
    )  # fmt: skip


def _steps_down(plan: Plan, piece: EdgePiece, drop: float, limits: Limits) -> bool:
    """Whether steps lead down there over a drop that is more than a step: the ground at their foot is left as it is."""
    return not limits.step_drop_at_most.met(drop) and bool(plan.flights.at_edge(piece.line))


def _decide(plan: Plan, piece: EdgePiece, drop: Amount, kept: Sequence[InForce], limits: Limits) -> Words:
    if not kept[0].met(drop):
        return words("set a guard {guard} high along {edge}, or pour steps down from it",
                     guard=depth(GUARD[plan.home]), edge=piece.name)  # fmt: skip
    if _driven_up(piece):
        return words("let the slab come down to the {beside} along {edge}", beside=piece.beside, edge=piece.name)
    if _steps_down(plan, piece, drop.si, limits):
        return words("make the steps wider along {edge}, or keep people off it there with a rail or a hedge",
                     edge=piece.name)  # fmt: skip
    if not piece.wheels_cross and not meets(drop.si - kept[-1].value.si, BANKED, "most"):
        return words("build a step along {edge}, or keep people off it there with a rail or a hedge", edge=piece.name)
    return words("grade the {beside} up to within {least} of the top of the slab along {edge}, or pour a riser there",
                 beside=piece.beside, least=kept[-1].value, edge=piece.name)  # fmt: skip


def _matched(plan: Plan, stretches: Sequence[EdgePiece]) -> list[Remedy]:
    """The slab brought down to the street along an edge."""
    meeting = [pair for piece in stretches if piece.ground for pair in zip(piece.line, piece.ground, strict=True)]
    return lowered(plan, plan.grades.moved(meeting, up=False))


def _filled(
    plan: Plan, piece: EdgePiece, point: str, top: Amount, ground: Amount, kept: Sequence[InForce], limits: Limits
) -> list[Remedy]:
    """Soft ground brought up to the slab: one height, or that of each point of the run that is too low.

    None where it would have to come up so far that it is a bank, which a person has to want, or would bury the steps
    that lead up there.
    """
    edge, least = piece.edge, min(limit.value.si for limit in kept)
    if edge is None or piece.beside not in SOFT_GROUND or edge.ground_beyond is not None:
        return []
    if _steps_down(plan, piece, top.si - ground.si, limits):
        return []
    up = height(plan.grades.written(top.si - least, up=True))
    if not meets(up.si - ground.si, BANKED, "most"):
        return []
    instead, values = "" if piece.wheels_cross else "; or build a step there", dict[str, Value]()
    if not kept[0].met(top.si - ground.si):
        instead = "; or set a guard {guard} high along {edge}"
        values = {"guard": depth(GUARD[plan.home]), "edge": piece.name}
    path = f"{piece.place.path}.ground"
    if piece.ground_follows:
        below = words(f"bring the {{beside}} up to {{below}} below the slab{instead}", beside=piece.beside,
                      below=depth(least), **values)  # fmt: skip
        return [write(f"{path}_below", depth(least), below)]
    says = words(f"bring the {{beside}} up to {{up}} at {{point}}: {{more}} higher{instead}",
                 beside=piece.beside, up=up, more=depth(up.si - ground.si), point=point, **values)  # fmt: skip
    if len(edge.ground) == 1:
        return [write(path, up, says)]
    raised = []
    for number, (at, now) in enumerate(zip(edge.run, edge.ground, strict=True)):
        own = plan.finish.at((at.x, at.y))
        if own is not None and not meets(own - now.si, least, "most"):
            new = height(plan.grades.written(own - least, up=True))
            raised.append(write(f"{path}[{number}]", new, says))
    return [together(*raised, says=says)] if raised else []
