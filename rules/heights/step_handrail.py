"""A flight of four or more risers has a handrail.

What is compared
    Counts the risers of each flight poured with the slab, with the one onto what it leads to, and compares their number
    with three. A flight with a handrail (`handrail: true`) is settled. Of a flight with landings it counts those from
    landing to landing.
Why it matters
    On three steps one catches oneself. On five in the rain with a bag in each arm one does not, and whoever needs the
    rail most is the one who does not come a second time.
When it does not apply
    No flight is drawn, or every one of four or more risers has a handrail.
How to put it right
    Set a handrail, and the sleeves for its posts before the pour: a rail that is bolted on later cracks the nosing.
Where sources differ
    The dwelling code asks one at four or more risers, a city says more than three: the same thing. Other buildings ask
    one on both sides.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "A handrail at four risers"
LIMITS = (
    Limit("risers_at_most", "3", Kind.COUNT, "caution", Cite("irc-stairs", "R311.7.8"), ("1", "6"),
          "risers of a flight without a handrail"),
)  # fmt: skip
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each flight without a handrail."""
    if not plan.flights.all:
        does_not_apply("no steps are drawn")
    limit = limits.risers_at_most
    bare = [one for one in plan.flights.all if not one.steps.handrail]
    if not bare:
        does_not_apply("every flight has a handrail")
    for one in bare:
        if one.steps.handrail is None and not limit.met(_longest(one)):
            not_shown(f"thickness.steps, handrail: whether a handrail stands beside {one.name}, such as true",
                      place=one.steps.place)  # fmt: skip
    for flight in bare:
        risers = count(_longest(flight))
        yield compare(
            Spot(flight.name, flight.steps.place, (flight.at,) if flight.at else ()), risers, limit,
            says=lambda: words("{flight} has {n} risers and no handrail", flight=flight.name, n=risers),
            decide=lambda: words("set a handrail beside {flight}", flight=flight.name),
        )  # fmt: skip


def _longest(flight: Flight) -> int:
    """The most risers that are climbed at a stretch."""
    return max(map(len, flight.parts))
