"""Steps have risers and treads that people expect.

What is compared
    For each flight poured with the slab, compares the highest riser with 7 3/4 in, the lowest with 4 in, the tread with
    10 in and the slope of the tread with 1 in 48. For each single step at an edge (`beside: step`, or `planned_step:
    true`) it compares the riser. In the right of way and on accessible ways the limits are 7 in and 11 in; where metric
    is shown they are 200 mm and 230 mm. For each landing within a flight it compares the depth with 36 in, and where
    the public goes with 48 in or the width of the flight, whichever is less. Down to lawn, gravel or open ground a
    single step may be low, and nobody steps into a bed.
Why it matters
    Nobody looks down on steps: the foot knows after one riser what the next will be. A high riser costs the knee, a
    short tread the heel on the way down, and a riser of two fingers is not seen at all until somebody lies there.
When it does not apply
    No steps are drawn. The last step to a door is judged by `door-step`, a single step at an existing slab by
    `trip-at-existing-slab`, and how even the risers are by `even-risers`.
How to put it right
    Divide the height into one riser more. Outdoors 6 in with treads of 14 in walk well.
Where sources differ
    7 3/4 and 10 in are the dwelling code's in the US, a hold in a flight up to a door and good practice in a garden;
    other buildings ask 4 to 7 in and 11 in. Britain allows 220 mm with 220 mm, Germany 200 with 230. No code gives the
    least riser of a dwelling. The depths of landings are remembered from the US codes (R311.7.6 and 1011.6) and were
    not checked, so they stand as common practice. The slope of a tread is the code of other buildings, recalled for
    dwellings.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Steps that people expect"
LIMITS = (
    Limit("door_riser_at_most", "7 3/4 in", Kind.DEPTH, "hold", Cite("irc-stairs", "R311.7.5.1"), ("6 in", "9 in"),
          "riser in a flight up to a door"),
    Limit("riser_at_most", "7 3/4 in", Kind.DEPTH, "caution", Cite("irc-stairs", "R311.7.5.1"), ("6 in", "9 in"),
          "riser of any other step"),
    Limit("public_riser_at_most", "7 in", Kind.DEPTH, "caution", Cite("ibc-stairs", "1011.5.2"), ("6 in", "8 in"),
          "riser where the public goes"),
    Limit("metric_riser_at_most", "200 mm", Kind.DEPTH, "caution", Cite("din-18065"), ("150 mm", "225 mm"),
          "riser where metric is shown"),
    Limit("riser_at_least", "4 in", Kind.DEPTH, "caution", Cite("ibc-stairs", "1011.5.2"), ("2 in", "6 in"),
          "riser that is seen"),
    Limit("door_tread_at_least", "10 in", Kind.DEPTH, "hold", Cite("irc-stairs", "R311.7.5.2"), ("9 in", "14 in"),
          "tread in a flight up to a door"),
    Limit("tread_at_least", "10 in", Kind.DEPTH, "caution", Cite("irc-stairs", "R311.7.5.2"), ("9 in", "14 in"),
          "tread of any other flight"),
    Limit("public_tread_at_least", "11 in", Kind.DEPTH, "caution", Cite("ibc-stairs", "1011.5.2"), ("10 in", "14 in"),
          "tread where the public goes"),
    Limit("metric_tread_at_least", "230 mm", Kind.DEPTH, "caution", Cite("din-18065"), ("220 mm", "350 mm"),
          "tread where metric is shown"),
    Limit("landing_at_least", "36 in", Kind.DEPTH, "caution", Cite("common-practice"), ("30 in", "60 in"),
          "depth of a landing within a flight"),
    Limit("public_landing_at_least", "48 in", Kind.DEPTH, "caution", Cite("common-practice"), ("36 in", "72 in"),
          "depth of a landing where the public goes, or the width of the flight where that is less"),
    Limit("metric_landing_at_least", "900 mm", Kind.DEPTH, "caution", Cite("common-practice"), ("700 mm", "1.5 m"),
          "depth of a landing where metric is shown"),
    Limit("tread_slope_at_most", "1:48", Kind.SLOPE, "caution", Cite("ibc-stairs", "1009.6.1 (2009)"), ("1 %", "4 %"),
          "slope of a tread"),
)  # fmt: skip
WORKED = ()
USUAL_TREAD = {"us": 12 * INCH, "metric": 0.3}  # m
LITTLE = 2 * INCH  # m: a step that is so much too high is put right with the heights of the slab


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each flight, then each single step at an edge."""
    edges = [piece for piece in plan.edges.pieces if _is_step(plan, piece)]
    if not plan.flights.all and not edges:
        does_not_apply("no steps are drawn")
    if edges and not plan.flights.all:
        needs_heights(plan)
    if not plan.flights.all and not any(piece.ground and piece.finish for piece in edges):
        such = such_height(plan, "100.00", "100.000")
        not_shown(f"edges, ground: the height at the step beside {edges[0].name}, such as {such}", place=edges[0].place)
    for flight in plan.flights.all:
        yield from _flight(plan, flight, limits)
    for piece in edges:
        if piece.ground and piece.finish:
            yield from _single(plan, piece, limits)


def _is_step(plan: Plan, piece: EdgePiece) -> bool:
    """Whether an edge is a step of its own: one that no flight leads up to or stands at, nor old paving, nor a bed."""
    planned = bool(piece.edge and piece.edge.planned_step)
    step_there = piece.beside == "step" or (planned and piece.beside not in ("existing slab", "asphalt", "bed"))
    return step_there and not plan.flights.up_to(piece.name) and not plan.flights.at_edge(piece.line)


def _most(plan: Plan, door: bool, limits: Limits) -> tuple[InForce, InForce]:
    """What the risers and the treads are held against."""
    site = plan.design.site
    if plan.home == "metric":
        return limits.metric_riser_at_most, limits.metric_tread_at_least
    if site.right_of_way or site.accessible_route:
        return limits.public_riser_at_most, limits.public_tread_at_least
    if door:
        return limits.door_riser_at_most, limits.door_tread_at_least
    return limits.riser_at_most, limits.tread_at_least


def _least_landing(plan: Plan, limits: Limits) -> InForce:
    """What the depth of a landing is held against."""
    site = plan.design.site
    if plan.home == "metric":
        return limits.metric_landing_at_least
    public = site.right_of_way or site.accessible_route
    return limits.public_landing_at_least if public else limits.landing_at_least


def _flight(plan: Plan, flight: Flight, limits: Limits) -> Conclusions:
    steps, at = flight.steps, Spot(flight.name, flight.steps.place, (flight.at,) if flight.at else ())
    most, least_tread = _most(plan, flight.door, limits)
    risers = flight.poured if flight.door and flight.poured else flight.risers
    high, low = depth(max(risers)), depth(min(risers))
    yield compare(
        at, high, most, give=plan.finish.give,
        says=lambda: words("a riser of {high} in {flight} is too high", high=high, flight=flight.name),
        remedy=lambda: _divided(plan, flight, most.value.si),
        decide=lambda: words("divide {rise} into risers of {most} at most", rise=depth(sum(flight.risers)),
                             most=most.value),
    )  # fmt: skip
    yield compare(
        at, low, limits.riser_at_least, give=plan.finish.give,
        says=lambda: words("a riser of {low} in {flight} is not seen", low=low, flight=flight.name),
        decide=lambda: words("divide {rise} into fewer risers, of {least} at least", rise=depth(sum(flight.risers)),
                             least=limits.riser_at_least.value),
    )  # fmt: skip
    usual = depth(max(USUAL_TREAD[plan.home], least_tread.value.si))
    behind = {landing.after for landing in steps.landings}
    if any(number not in behind for number in range(1, len(flight.poured) + 1)):
        yield compare(
            at, steps.tread, least_tread,
            says=lambda: words("the treads of {flight} are short", flight=flight.name),
            remedy=lambda: write(f"{steps.place.path}.tread", usual,
                                 words("make the treads {usual} deep", usual=usual)),
        )  # fmt: skip
    least = _least_landing(plan, limits)
    for number, landing in enumerate(steps.landings):
        path, asked = f"{steps.place.path}.landings[{number}].depth", least.value
        if least is limits.public_landing_at_least:
            asked = depth(min(asked.si, steps.width.si))
        yield compare(
            at, landing.depth, least, asked=asked,
            says=lambda: words("the landing behind riser {n} of {flight} is short", n=count(landing.after),
                               flight=flight.name),
            working=lambda: step("short by", "least depth - depth", words("{l} - {d}", l=asked, d=landing.depth),
                                 depth(asked.si - landing.depth.si)),
            remedy=lambda: write(path, asked, words("make the landing {asked} deep", asked=asked)),
        )  # fmt: skip
    if steps.tread_slope is not None:
        shed = slope(0.01)
        yield compare(
            at, steps.tread_slope, limits.tread_slope_at_most,
            says=lambda: words("the treads of {flight} are steep", flight=flight.name),
            remedy=lambda: write(f"{steps.place.path}.tread_slope", shed,
                                 words("let the treads shed {shed} to the front", shed=shed)),
        )  # fmt: skip


def _divided(plan: Plan, flight: Flight, most: float) -> list[Remedy]:
    """The whole rise in as many even risers as it takes; none where the file types each riser."""
    steps, whole = flight.steps, sum(flight.risers)
    if steps.risers:
        return []
    risers = math.ceil(whole / most - 1e-6)
    each = even_riser(plan, whole, risers)
    poured = risers - 1 if flight.ends else risers
    says = words("make {rise} in {n} risers of {each}, and pour {poured} of them", rise=depth(whole), n=count(risers),
                 each=each, poured=count(poured))  # fmt: skip
    path = steps.place.path
    return [together(write(f"{path}.riser", each, says), write(f"{path}.count", count(poured), says), says=says)]


def _single(plan: Plan, piece: EdgePiece, limits: Limits) -> Conclusions:
    most, _ = _most(plan, False, limits)
    finish, ground = piece.finish or (), piece.ground or ()
    rises = [abs(top - beside) for top, beside in zip(finish, ground, strict=True)]
    k, low = max(range(len(rises)), key=rises.__getitem__), depth(min(rises))
    above = ground[k] > finish[k]
    high, up, down = depth(rises[k]), height(max(finish[k], ground[k])), height(min(finish[k], ground[k]))
    yield compare(
        spot(piece), high, most, give=plan.finish.give,
        says=lambda: words("the step at {edge} is {high} high", edge=piece.name, high=high),
        working=lambda: step("riser", "higher - lower", words("{u} - {d}", u=up, d=down), high),
        remedy=lambda: [*_nearer(plan, piece, high.si, most.value.si, above),
                        *(_poured(plan, piece, high.si, most.value.si) if above else ())],
        decide=lambda: words("pour a riser between, or bring the two levels nearer: {n} risers of {each}",
                             n=count(math.ceil(high.si / most.value.si - 1e-6)),
                             each=depth(high.si / math.ceil(high.si / most.value.si - 1e-6))),
    )  # fmt: skip
    if piece.beside in SOFT_GROUND:
        return  # soil lies an inch under a slab everywhere
    yield compare(
        spot(piece), low, limits.riser_at_least, give=plan.finish.give,
        says=lambda: words("the step at {edge} is {low} high, and nobody sees it", edge=piece.name, low=low),
        decide=lambda: words("make it {least} or more, or bring the two levels together", least=
                             limits.riser_at_least.value),
    )  # fmt: skip


def _nearer(plan: Plan, piece: EdgePiece, rise: float, most: float, up: bool) -> list[Remedy]:
    """The slab brought nearer to what it steps to, where the highest step misses by little."""
    if not meets(rise - most, LITTLE, "most"):
        return []
    every = zip(piece.line, piece.finish or (), piece.ground or (), strict=True)
    wanted = [
        (at, beside - most if up else beside + most)
        for at, top, beside in every
        if not meets(abs(beside - top), most, "most")
    ]
    return set_heights(plan.grades.moved(wanted, up=up))


def _poured(plan: Plan, piece: EdgePiece, rise: float, most: float) -> list[Remedy]:
    """A flight up to the step, where the edge has a name that it can lead to."""
    if not (piece.edge and piece.edge.name):
        return []
    risers = math.ceil(rise / most - 1e-6)
    each = even_riser(plan, rise, risers)
    entry: dict[str, Amount | str] = {
        "name": f"steps to {piece.name}", "width": length(min(piece.length, 48 * INCH)),
        "tread": depth(USUAL_TREAD[plan.home]), "riser": each, "count": count(risers - 1), "leads_to": piece.name,
    }  # fmt: skip
    says = words("pour steps up to {edge}: {n} risers of {each}, the last onto it",
                 edge=piece.name, n=count(risers), each=each)  # fmt: skip
    return [append("thickness.steps", entry, says)]
