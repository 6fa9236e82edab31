"""Questions that only the worked plan can ask: read as typed, but two things in the file do not go together."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely

from slabwright.design.point import spot_name
from slabwright.design.questions import OR_MISTYPED, STEP_OR_SLIP
from slabwright.formulas.ordering import loads, with_allowance
from slabwright.formulas.units import INCH
from slabwright.geometry.xy import beside_middle, middle_of
from slabwright.plan import pours
from slabwright.plan.bounds import far_off
from slabwright.plan.flight import Flight
from slabwright.plan.plan import Plan
from slabwright.plan.shape import corner_name, point_name
from slabwright.source.problem import Problem
from slabwright.units.quantity import Amount, depth, height, length, meets, show, slope, volume

FOOT_OFF, TOP_OFF = INCH, 0.31  # m: a foot may be off its width, and a top off what it leads to, by so much
GUARDED = 0.762  # m, 30 in: a drop of no more is open to walk beside, `irc-guard`
STEEP = 0.25  # steepest that a slab on ground is likely to be meant
DISAGREE = 1 / 96  # 1/8 in/ft: least difference of two falls that is asked about
BANK = 0.1  # m, 4 in: ground that stands so much higher is a bank, or its height is no height (common practice)
BESIDE = 0.05  # m beside a height line, where the slab is held against it
FOLDS = {"valley": 1, "ridge": -1}
FOLDED = 0.005  # falls of both sides of a line together, from which it is surely a fold
STEPPED = 0.12  # slope of a walk that is a flight of steps drawn as a slope, rather than a ramp (common practice)
MOST_OF_FLIGHT = 0.5  # part of the rise of a flight that such a slope takes up
PLANE = 3  # heights from which on whoever typed them means a surface
SOME = 7  # names told in full, of more the first ones
ROUNDED_UP = 0.5 * 0.9144**3  # m3, 1/2 yd3: what plants round an order up to, unless the file says


def ask(plan: Plan) -> Iterator[Problem]:
    """Every question, in the order of the sections it is about."""
    yield from far_off(plan.design)
    yield from _bare_edges(plan)
    yield from _banks(plan)
    yield from _joint_ends(plan)
    yield from _flights(plan)
    yield from _heights(plan)
    yield from _folds(plan)
    yield from _steep(plan)
    yield from _stated_falls(plan)
    for one in (plan, *(day.plan for day in pours.days(plan))):
        yield from _allowance(one)
    yield from _pours(plan)


def _bare_edges(plan: Plan) -> Iterator[Problem]:
    """Stretches of the outline about which nothing is said, while other edges are described."""
    bare = [p for p in plan.edges.pieces if p.edge is None]
    if bare and plan.design.edges:
        names = ", ".join(p.name.removeprefix("edge ") for p in bare[:4])
        yield Problem(
            plan.place("edges", "outline"),
            f"nothing is said about what stands beside {names}" + (" and more" if len(bare) > 4 else ""),
            "add a run for it, or one line `- {rest: open ground}`",
        )


def _banks(plan: Plan) -> Iterator[Problem]:
    """Edges that are said to take water, and beside which the ground stands high where no water comes to."""
    asked = set()
    for piece in plan.edges.pieces:
        if not piece.edge or not piece.edge.takes_water or not piece.ground or not piece.finish:
            continue
        over, at = max((g - z, xy) for g, z, xy in zip(piece.ground, piece.finish, piece.line, strict=True))
        if over > BANK and piece.place not in asked and not plan.water.comes_to(piece.name, 0.0):
            asked.add(piece.place)
            stands = f"stands {show(depth(over), plan.system)} above the slab at {plan.shape.name_at(at)}"
            yield Problem(
                piece.place,
                f"{piece.name} is said to take water, and the ground there {stands}",
                "is ground a height from the same zero as the finish? A bank takes no water: takes_water: false",
            )


def _joint_ends(plan: Plan) -> Iterator[Problem]:
    """Joint ends that were moved to what they nearly touch, and joints that lie beside the slab."""
    for joint in plan.joints.all:
        typed = joint.joint.along
        for end, point in zip(joint.ends, (typed[0], typed[-1]), strict=True):
            if end.gap > 0.001 and plan.shape.slab.covers(shapely.Point(point.x, point.y)):
                what = {"edge": "the edge", "opening": "the opening"}.get(end.meets, f"joint {end.other}")
                yield Problem(
                    joint.joint.place,
                    f"joint {joint.name} stops {show(depth(end.gap), plan.system)} from {what}: taken as meeting it",
                    "draw it to the edge, or stop it well clear if it is meant to stop",
                )
    for channel in plan.channels.all:
        if channel.length < 0.05:
            yield Problem(
                channel.channel.place,
                f"{channel.name} lies beside the slab: it takes none of its water",
                "correct its points; one along an edge stands under `edges` as a `trench drain`",
            )
    for index in plan.joints.layout.unused:
        if index >= len(plan.joints.counting):
            continue
        yield Problem(
            plan.joints.counting[index].place,
            f"joint {plan.joints.counting[index].name} lies beside the slab or along its edge: it cuts nothing",
            "correct its points, or take it out",
        )


def _flights(plan: Plan) -> Iterator[Problem]:
    """Flights that lie nowhere, are not as wide as typed, or end apart from what they lead to."""
    high = [one for one in plan.flights.unplaced if not one.steps.foot and not one.steps.guard and _deep(one)]
    if high:
        names = " and ".join(one.name for one in high)
        yield Problem(
            high[0].steps.place,
            f"nothing says where the foot of {names} lies, and an open side would be high enough to fall off",
            "foot: the line of the lowest nosing, such as [S, T]",
        )
    for flight in plan.flights.all:
        steps = flight.steps
        if not steps.foot:
            continue
        start, end = steps.foot
        typed = math.dist((start.x, start.y), (end.x, end.y))
        if flight.laid is None and flight.poured:
            yield Problem(steps.place, f"nothing says which way {flight.name} climbs from its foot",
                          "climbs_to: a spot on that side, or leads_to: the name of a door or an edge")  # fmt: skip
        if abs(typed - steps.width.si) > FOOT_OFF:
            wide, foot = show(steps.width, plan.system), show(length(typed), plan.system)
            yield Problem(steps.place, f"{flight.name} is {wide} wide, and its foot {foot}", "which is right?")
        if flight.laid and steps.leads_to and flight.at:
            off = _apart(plan, flight, steps.leads_to)
            if off is not None and off > TOP_OFF:
                away = show(length(off), plan.system)
                yield Problem(steps.place, f"{flight.name} ends {away} from {steps.leads_to}",
                              "move its foot, or make it longer or shorter")  # fmt: skip


def _deep(flight: Flight) -> bool:
    """Whether its highest tread stands so far over its foot that an open side wants a guard."""
    return not meets(sum(flight.poured), GUARDED, "most")


def _apart(plan: Plan, flight: Flight, name: str) -> float | None:
    """How far the top of a flight lies from the door or the edge that it leads to, m."""
    top = shapely.LineString(flight.laid.top) if flight.laid else None
    things = [plan.doors.line(one) for one in plan.fixtures.all if one.name == name]
    things += [shapely.LineString(piece.line) for piece in plan.edges.pieces if piece.name == name]
    return min((float(top.distance(thing)) for thing in things), default=None) if top else None


def _heights(plan: Plan) -> Iterator[Problem]:
    """Spots off the slab, and lines that disagree where they cross."""
    for spot in plan.design.heights.finish:
        away = float(plan.shape.ring.polygon.distance(shapely.Point(spot.at.x, spot.at.y)))
        if away > 0.05:
            yield Problem(
                spot.place,
                f"{point_name(spot.at)} has a finish height but lies {show(length(away), plan.system)} off the slab",
                "move the point onto the slab, or put the height under `fixed` or `ground`",
            )
    surface = plan.finish.surface
    if surface is None:
        yield from _bare_corners(plan)
        return
    place = plan.place("heights.lines", "heights.finish")
    for clash in surface.clashes:
        first, second = (show(height(z), plan.system) for z in clash.heights)
        at = spot_name(*clash.xy, plan.design.plan_unit)
        yield Problem(
            place,
            f"two height lines cross at {at} but say {first} and {second} there",
            "put a point with a height where they cross, in both lines",
        )


def _bare_corners(plan: Plan) -> Iterator[Problem]:
    """Corners without a height where other spots have one: no rule judges falls or water then."""
    spots = plan.design.heights.finish
    bare = [(corner_name(one), one.at) for one in plan.shape.corners if corner_name(one) in plan.finish.missing]
    if len(spots) < PLANE or not bare:
        return
    places, heights = np.array([(spot.at.x, spot.at.y, 1.0) for spot in spots]), [spot.height.si for spot in spots]
    plane, _, rank, _ = np.linalg.lstsq(places, np.array(heights), rcond=None)
    even = rank == 3 and np.abs(places @ plane - heights).max() <= plan.finish.give
    levels = [Amount(float(np.dot(plane, (at.x, at.y, 1.0))), spots[0].height.kind) for _, at in bare]
    fits = ", ".join(f"{name} {show(z, plan.system, both=False)}" for (name, _), z in zip(bare, levels, strict=True))
    names = _listed([name for name, _ in bare])
    yield Problem(
        plan.place("heights.finish", "heights"),
        f"no finish height is written at {names}, so that neither water nor falls are judged",
        f"in one plane with the others: {fits}" if even and len(bare) <= SOME else "write what is meant",
    )


def _listed(names: list[str]) -> str:
    """Some names, the first few of many."""
    some = names[: SOME - 1] if len(names) > SOME else names
    return ", ".join(some) + (f" and {len(names) - len(some)} more" if len(names) > len(some) else "")


def _folds(plan: Plan) -> Iterator[Problem]:
    """Valleys that are high all along, and ridges that are low."""
    surface = plan.finish.surface
    if surface is None:
        return
    for run in plan.finish.lines:
        if run.line.kind not in FOLDS:
            continue
        middles, beside = [], []
        for a, b in pairwise(run.xy):
            if math.dist(a, b) > BESIDE:
                middles.append(middle_of(a, b))
                beside += [beside_middle(a, b, BESIDE), beside_middle(a, b, -BESIDE)]
        if not middles:
            continue
        on, sides = surface.height(np.array(middles)), surface.height(np.array(beside)).reshape(-1, 2)
        rise = (sides.sum(axis=1) - 2 * on) / BESIDE * FOLDS[run.line.kind]
        if np.isfinite(rise).all() and (rise < -FOLDED).all():  # nan beside: the line lies on the edge of the slab
            other = "ridge" if run.line.kind == "valley" else "valley"
            lies = "high" if run.line.kind == "valley" else "low"
            yield Problem(
                run.line.place,
                f"{run.line.name or 'this line'} is written as a {run.line.kind}, and by the heights it lies {lies}",
                f"is it a {other}, {OR_MISTYPED}",
            )


def _steep(plan: Plan) -> Iterator[Problem]:
    """One question about the steepest part of the finish surface, or about the flight that is drawn as a slope."""
    if not plan.finish.facets:
        return
    steepest = max(plan.finish.facets, key=lambda facet: facet.slope)
    drop = max(steepest.heights) - min(steepest.heights)
    corners = [_spot(plan, x, y) for x, y in steepest.corners]
    for flight in plan.flights.unplaced:
        alone = not (flight.steps.foot or flight.steps.leads_to)
        if alone and steepest.slope > STEPPED and drop > MOST_OF_FLIGHT * sum(flight.risers):
            yield Problem(
                flight.steps.place,
                f"the finish slopes {show(depth(drop), plan.system)} between {', '.join(corners)}, and nothing says "
                f"where the {len(flight.risers)} risers of {flight.name} stand",
                "foot: the line of the lowest nosing, such as [S, T]; draw the slab on one of the two levels, and what "
                "lies on the other in a file of its own",
            )
            return
    if steepest.slope > STEEP:
        yield Problem(
            plan.place("heights.finish", "heights"),
            f"the finish falls {show(slope(steepest.slope), plan.system)} between {', '.join(corners)}",
            STEP_OR_SLIP,
        )


def _spot(plan: Plan, x: float, y: float) -> str:
    """The name of the point at a spot, or the spot in the unit of the plan."""
    name = next((p.name for p in plan.design.points.values() if abs(p.x - x) < 0.001 and abs(p.y - y) < 0.001), "")
    return name or spot_name(x, y, plan.design.plan_unit)


def _stated_falls(plan: Plan) -> Iterator[Problem]:
    """Falls typed on the sketch that the heights do not give."""
    for stated in plan.design.heights.falls:
        first, last = stated.along
        worked = plan.falls.along((first.x, first.y), (last.x, last.y))
        if worked is None or abs(worked - stated.fall.si) < DISAGREE:
            continue
        way = f"from {point_name(first)} to {point_name(last)}"
        by_heights = f"{'falls' if worked >= 0 else 'rises'} {show(slope(abs(worked)), plan.system)}"
        yield Problem(
            stated.place,
            f"a fall of {show(stated.fall, plan.system)} is typed {way}, but by the heights it {by_heights}",
            "which is right?",
        )


def _allowance(plan: Plan) -> Iterator[Problem]:
    """An order that is the net volume with the allowance on top, rounded up, while the file keeps the two apart.

    It is asked only where another truck would come for the allowance on top of it: else both answers order the same.
    """
    order = plan.design.order
    if order is None or order.volume is None or order.truck is None or not order.allowance or order.allowance_inside:
        return
    if loads(order.volume.si, order.truck.si) == loads(with_allowance(order.volume.si, order.on_top), order.truck.si):
        return
    net, typed = plan.concrete.quantities.net, order.volume
    at_least = with_allowance(net, order.allowance.si)
    most = at_least + (order.step.si if order.step else ROUNDED_UP)
    if order.allowance.si > 0 and meets(typed.si, at_least, "least") and typed.si < most:
        yield Problem(
            typed.place or order.place,
            f"{show(typed, plan.system)} is the net volume of {show(volume(net), plan.system)} and "
            f"{show(order.allowance, plan.system)} on top: the allowance seems to be in it",
            "if it is, add allowance_inside: yes, so that it is not added twice",
        )


def _pours(plan: Plan) -> Iterator[Problem]:
    """Panels of no pour or of two, and a pour that covers nothing or parts that lie apart."""
    claims: dict[tuple[str, ...], list[str]] = {}
    for panel, names in pours.claimed(plan):
        claims.setdefault(names, []).append(panel.name)
    for names, panels in claims.items():
        told = ", ".join(panels[:6]) + (f" and {len(panels) - 6} more" if len(panels) > 6 else "")
        what = f"panel{'s' if len(panels) > 1 else ''} {told} {'lie' if len(panels) > 1 else 'lies'}"
        if names:
            yield Problem(
                plan.place("pour"),
                f"{what} in {' and '.join(names)} at once",
                "which day? let their corners not overlap",
            )
        else:
            yield Problem(plan.place("pour"), f"{what} in no pour", "which day? take it into the corners of a pour")
    for one in pours.planned(plan):
        if not one.panels:
            wrong = f"{one.name} covers no panel of the slab"
            yield Problem(one.pour.place, wrong, "correct its corners, or take the pour out")
        elif pours.lies_apart(one):
            wrong = f"{one.name} covers parts of the slab that do not touch; hours and order are those of the largest"
            yield Problem(one.pour.place, wrong, "write a pour for each part; they may have the same day")
