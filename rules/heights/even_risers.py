"""The risers of a flight are all of one height, the last onto the landing or the sill too.

What is compared
    For each flight, from landing to landing, compares the difference between the highest and the lowest riser, on the
    walking line, with 3/8 in. The step that is left from the last tread onto the door sill or the slab that the flight
    `leads_to` is one of the risers; where it is less than half a riser, the last riser drawn climbs onto it. The bottom
    riser of three or more may differ where the file types each of them (`risers`) and the paving at its foot slopes
    from one side of the flight to the other.
Why it matters
    After two steps the foot no longer looks. The one riser that is 3/4 in higher than the others catches the toe on the
    way up and drops the heel on the way down: it is the commonest fault on steps, and the commonest fall.
When it does not apply
    No flight of two or more risers is drawn.
How to put it right
    Measure from the finished slab to the finished sill, and divide by the number of risers.
Where sources differ
    The US codes allow 3/8 in between any two risers of a flight, and a town prints 3/16 in between neighbors; Germany
    allows 5 mm. In a flight up to a door it is a hold in US designs, in a garden a caution.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import INCH
from slabwright.rulebook.kit import *

TITLE = "Risers all alike"
LIMITS = (
    Limit("door_spread_at_most", "3/8 in", Kind.DEPTH, "hold", Cite("irc-stairs", "R311.7.5.1"), ("1/8 in", "1 in"),
          "difference of the risers in a flight up to a door"),
    Limit("spread_at_most", "3/8 in", Kind.DEPTH, "caution", Cite("irc-stairs", "R311.7.5.1"), ("1/8 in", "1 in"),
          "difference of the risers in any other flight"),
)  # fmt: skip
WORKED = ()
HIGHEST = {"us": 7.75 * INCH, "metric": 0.2}  # m, what `step-sizes` asks of a riser, `irc-stairs` and `din-18065`
LOWEST = 4.5 * INCH  # m: lower ones are made fewer (common practice)
SLOPING = 0.01  # slope of the paving along the foot over which the bottom riser may differ


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The spread of each flight."""
    flights = [(one, part) for one in plan.flights.all for part in _walked(plan, one) if len(part) > 1]
    if not flights:
        does_not_apply("no flight of two or more risers is drawn")
    for flight, risers in flights:
        yield _compared(plan, flight, risers, limits)


def _walked(plan: Plan, flight: Flight) -> tuple[tuple[float, ...], ...]:
    """The risers that have to be alike: of each part between landings, as they climb or, further apart, as typed."""
    typed = flight.steps.each if flight.steps.risers else ()
    if len(typed) == len(flight.risers):
        flight = flight._replace(risers=max(flight.risers, typed, key=_spread))
    first, *others = flight.parts
    if flight.at is None or len(first) < 3 or not flight.steps.risers:
        return flight.parts
    return (first[1:] if _slopes_along_foot(plan, flight, flight.at) else first, *others)


def _spread(risers: tuple[float, ...]) -> float:
    return max(risers) - min(risers)


def _slopes_along_foot(plan: Plan, flight: Flight, at: XY) -> bool:
    """Whether the paving slopes from one side of a flight to the other; of one that is not laid out, at all."""
    if flight.laid is None:
        return not all(meets(plan.finish.facets[one].slope, SLOPING, "most") for one in plan.finish.facets_at(at))
    (left, right), *_ = flight.laid.nosings
    low, high = plan.finish.at(left), plan.finish.at(right)
    if low is None or high is None:
        return False
    return not meets(abs(high - low), SLOPING * math.dist(left, right), "most")


def _compared(plan: Plan, flight: Flight, risers: tuple[float, ...], limits: Limits) -> Finding | Margin:
    limit = limits.door_spread_at_most if flight.door and plan.home == "us" else limits.spread_at_most
    high, low = depth(max(risers)), depth(min(risers))
    spread = depth(high.si - low.si)
    return compare(
        Spot(flight.name, flight.steps.place, (flight.at,) if flight.at else ()), spread, limit,
        give=plan.finish.give,
        says=lambda: words("the risers of {flight} are not alike: {low} to {high}", flight=flight.name, low=low,
                           high=high),
        working=lambda: step("spread", "highest riser - lowest", words("{h} - {l}", h=high, l=low), spread),
        remedy=lambda: _alike(plan, flight),
        decide=lambda: _decided(plan, flight),
    )  # fmt: skip


def _number(plan: Plan, flight: Flight) -> int:
    """How many even risers the rise takes: as many as drawn, unless they come out higher or lower than people step."""
    rise, drawn = sum(flight.risers), len(flight.risers)
    highest = HIGHEST[plan.home]
    fits = meets(rise / drawn, highest, "most") and meets(rise / drawn, LOWEST, "least")
    return drawn if fits else math.ceil(rise / highest - 1e-6)


def _decided(plan: Plan, flight: Flight) -> Words:
    rise, number = sum(flight.risers), _number(plan, flight)
    if number == len(flight.risers):
        return words("make {every} {each}", every=_every(flight), each=depth(rise / number))
    if number == 1:
        return words("make one riser of {rise}", rise=depth(rise))
    return words(
        "divide {rise} into {n} risers of {each}", rise=depth(rise), n=count(number), each=depth(rise / number)
    )


def _alike(plan: Plan, flight: Flight) -> list[Remedy]:
    """One height for all; none where the file types each riser, or another number of them is asked for."""
    if flight.steps.risers or _number(plan, flight) != len(flight.risers):
        return []
    fine = tape_step(plan, INCH / 16, 0.001)
    each = depth(round(sum(flight.risers) / len(flight.risers) / fine) * fine)
    says = words("make {every} {each}, the last onto what they lead to", every=_every(flight), each=each)
    return [write(f"{flight.steps.place.path}.riser", each, says)]


def _every(flight: Flight) -> str:
    number = len(flight.risers)
    return "both risers" if number == 2 else f"all {number} risers"
