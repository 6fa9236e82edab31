"""Every load is out of its truck before it is too old.

What is compared
    Works out the age of the oldest load when its truck is empty, from haul, waiting and placing rate, and compares it
    with 90 minutes, on metric plans with two hours; five minutes more are let pass, for nobody foretells haul and rate
    nearer than that. It compares the time between two trucks with an hour, or with the time that the crew takes to
    place a load where that is longer. What lies where a load ends is judged by `loads-end-at-joint`.
Why it matters
    Old concrete stiffens in the drum and gets water, and then it scales. What does not get water is dragged off the
    chute in lumps, and no float closes it.
When it does not apply
    Nothing is said of the trucks on the day of the pour, and the crew places a load within the time.
How to put it right
    Have trucks come as fast as the crew places, not faster and not much slower; take smaller loads where the haul is
    long; have setting retarded and the time waived in writing where nothing else helps.
Where sources differ
    ASTM C94 asked discharge within 90 minutes or 300 turns, which the purchaser may waive; since 2021 purchaser or
    producer sets the time. In heat it is shorter. Two hours are those of British and Canadian standards for truck
    mixers (recalled); Germany and Australia ask 90 minutes, and their amendments say so.
"""

from __future__ import annotations

import math

from slabwright.formulas.ordering import last_load, loads, longest_wait, with_allowance
from slabwright.formulas.units import YARD3
from slabwright.rulebook.kit import *

TITLE = "Fresh to the last barrow"
EACH_POUR = True
LIMITS = (
    Limit("age_at_most", "90 min", Kind.DURATION, "caution", Cite("astm-c94-discharge"), ("30 min", "4 h"),
          "age of a load when its truck is empty"),
    Limit("metric_age_at_most", "2 h", Kind.DURATION, "caution", Cite("common-practice"), ("30 min", "4 h"),
          "age of a load when its truck is empty, of a metric plan"),
    Limit("apart_at_most", "60 min", Kind.DURATION, "caution", Cite("common-practice"), ("15 min", "3 h"),
          "time between two loads that are placed against each other"),
)  # fmt: skip
WORKED = (
    Worked("a truck of 10 yd3 at 20 yd3/h, 25 min from the plant", duration(55 * 60.0),
           lambda: 25 * 60.0 + sum(longest_wait(1800.0, 1800.0, 1, None)), 1e-6, Cite("geometry")),
)  # fmt: skip

HARDLY = 5 * 60.0  # s that a load may be older by what haul and rate are told (common practice)
NEARER = "find a plant that is nearer, or have setting retarded and the time waived"
STEP = {"us": YARD3, "metric": 1.0}  # m3 that loads are told in twentieths of


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The oldest load, and the time between loads."""
    pour = plan.design.pour
    most = limits.age_at_most
    if plan.home == "metric" and most.layer == "published":
        most = limits.metric_age_at_most
    slow = _slow(plan, most) if pour and pour.haul is None else None
    if pour is None or (pour.haul is None and pour.trucks_apart is None and slow is None):
        does_not_apply("nothing is said of the trucks on the day (pour.haul, pour.trucks_apart)")
    haul, apart, comes = pour.haul, pour.trucks_apart, _comes(plan)
    in_one = comes is not None and loads(*comes) == 1
    if haul is None:
        if slow is not None:
            yield slow
        if apart is not None:
            yield _apart(plan, limits, apart, min(comes) / pour.rate.si if comes and pour.rate else 0.0)
        return
    if pour.rate is None and not most.met(duration(haul.si - HARDLY)):  # too old before it is placed
        yield compare(
            plan.spot("the loads", "pour.haul"), haul, most, give=HARDLY,
            says=lambda: words("a load is {age} old when it comes", age=haul),
            decide=lambda: words(NEARER),
        )  # fmt: skip
        return
    if pour.rate is None and apart is not None and not in_one:  # as long, however fast it is placed
        yield _apart(plan, limits, apart)
        return
    rate, ordered, truck = plan.all_given("pour.rate", "order.volume", "order.truck")
    on_site = with_allowance(ordered.si, plan.given("order").on_top)
    trucks, load = loads(on_site, truck.si), volume(min(truck.si, on_site))
    empties = duration(load.si / rate.si)
    last = last_load(on_site, truck.si) / rate.si
    waits, out = (duration(s) for s in longest_wait(empties.si, last, trucks, apart.si if apart else None))
    age = duration(haul.si + waits.si + out.si)
    yield compare(
        plan.spot("the loads", "pour"), age, most, give=HARDLY,
        says=lambda: words("the oldest of {n} loads is {age} old when it is out", n=count(trucks), age=age)
        if trucks > 1 else words("the load is {age} old when it is out", age=age),
        working=lambda: (
            step("discharge", "load / rate", words("{v} / {r}", v=load, r=rate), empties),
            step("age", "haul + wait + discharge", words("{h} + {w} + {d}", h=haul, w=waits, d=out), age),
        ),
        remedy=lambda: _fresher(most.value.si - haul.si, empties.si, rate.si, apart, 0.05 * STEP[plan.home]),
        decide=lambda: words(NEARER),
    )  # fmt: skip
    if apart is not None and trucks > 1:
        yield _apart(plan, limits, apart, empties.si)


def _comes(plan: Plan) -> tuple[float, float] | None:
    """What comes in all, and what a truck brings, m3, where both are written."""
    order = plan.design.order
    if order is None or order.volume is None or order.truck is None:
        return None
    return with_allowance(order.volume.si, order.on_top), order.truck.si


def _slow(plan: Plan, most: InForce) -> Finding | None:
    """A load that is too old when it is out though the plant stood next door: the crew places it too slowly."""
    rate, comes = plan.design.pour and plan.design.pour.rate, _comes(plan)
    if rate is None or comes is None:
        return None
    load = volume(min(comes))
    out = duration(load.si / rate.si)
    found = compare(
        plan.spot("the loads", "pour.rate"), out, most, give=HARDLY,
        says=lambda: words("a load takes {out} to place, and the haul comes on top", out=out),
        working=lambda: step("discharge", "load / rate", words("{v} / {r}", v=load, r=rate), out),
        remedy=lambda: _fresher(most.value.si, out.si, rate.si, None, 0.05 * STEP[plan.home]),
    )  # fmt: skip
    return found if isinstance(found, Finding) else None


def _apart(plan: Plan, limits: Limits, apart: Amount, placing: float = 0.0) -> Conclusion:
    """The time between two loads, in which the edge of the first stays fresh; it is fresh while that is placed."""
    most = limits.apart_at_most
    asked = max(most.value, _minutes(placing), key=lambda one: one.si)
    give = 0.0 if asked is most.value else HARDLY
    return compare(
        plan.spot("the loads", "pour.trucks_apart"), apart, most, asked=asked, give=give,
        says=lambda: words("trucks {apart} apart let the edge set before the next load meets it", apart=apart),
        remedy=lambda: write("pour.trucks_apart", asked,
                             words("have trucks come {most} apart or less", most=asked)),
    )  # fmt: skip


def _fresher(left: float, empties: float, rate: float, apart: Amount | None, step: float) -> list[Remedy]:
    """What empties a load in the time ``left`` after the haul: trucks farther apart, or smaller loads."""
    if empties <= left:
        wider = _minutes(empties)
        return [write("pour.trucks_apart", wider, words("have trucks come {apart} apart", apart=wider))]
    load = volume(math.floor(left * rate / step + 1e-6) * step)
    if load.si < 0.5 * YARD3:
        return []
    smaller = write("order.truck", load, words("bring {load} at a time, or place faster", load=load))
    if apart is None or apart.si >= load.si / rate:
        return [smaller]
    wider = _minutes(load.si / rate)
    both = words("bring {load} at a time, {apart} apart, or place faster", load=load, apart=wider)
    return [together(smaller, write("pour.trucks_apart", wider, both), says=both)]


def _minutes(seconds: float) -> Amount:
    """Whole minutes that are not less."""
    return duration(math.ceil(seconds / 60 - 1e-6) * 60)
