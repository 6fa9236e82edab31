"""Every load is out of its truck before it is too old.

What is compared
    The age of the oldest load when its truck is empty, by haul, waiting and placing rate, with 90 minutes. The gap
    between two trucks is judged by `loads-end-at-joint`.
Why it matters
    Old concrete stiffens in the drum and gets water, and then it scales. What does not get water is dragged off the
    chute in lumps, and no float closes it.
When it does not apply
    Nothing is said of the day of the pour.
How to put it right
    Have trucks come as fast as the crew places, not faster and not much slower; take smaller loads where the haul is
    long; have setting retarded and the time waived in writing where nothing else helps.
Where sources differ
    ASTM C94 asked discharge within 90 minutes or 300 turns, which the purchaser may waive; since 2021 purchaser or
    producer sets the time. In heat it is shorter.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from slabwright.formulas.ordering import last_load, loads, longest_wait, with_allowance
from slabwright.formulas.units import YARD3
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Amount,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import Words, words
from slabwright.units.quantity import Kind, count, duration, meets, volume

TITLE = "Fresh to the last barrow"
LIMITS = (
    Limit("age_at_most", "90 min", Kind.DURATION, "hold", Cite("astm-c94-discharge"), ("30 min", "4 h"),
          "age of a load when its truck is empty"),
)  # fmt: skip
WORKED = (
    Worked("a truck of 10 yd3 at 20 yd3/h, 25 min from the plant", duration(55 * 60.0),
           lambda: 25 * 60.0 + sum(longest_wait(1800.0, 1800.0, 1, None)), 1e-6, Cite("geometry")),
)  # fmt: skip

STEP = {"us": YARD3, "metric": 1.0}  # m3 that loads are told in twentieths of


def relevant(plan: Plan) -> Relevance:
    """Haul, placing rate and truck are known."""
    pour, order = plan.design.pour, plan.design.order
    if pour is None or (pour.haul is None and pour.trucks_apart is None):
        return does_not_apply("nothing is said of the trucks on the day (pour.haul, pour.trucks_apart)")
    add = [] if pour.haul else ["pour.haul: time from the plant, such as 25 min"]
    add += [] if pour.rate else ["pour.rate: how fast the crew places, such as {20 yd3/h|15 m3/h}"]
    if order is None or order.volume is None or order.truck is None:
        add.append("order: volume and truck, such as {volume: {12 yd3|9 m3}, truck: {10 yd3|8 m3}}")
    return not_shown(*add, place=pour.place) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The oldest load."""
    pour, order = plan.design.pour, plan.design.order
    if not (pour and order and pour.haul and pour.rate and order.volume and order.truck):
        return
    on_top = order.allowance.si if order.allowance and not order.allowance_inside else 0.0
    comes = with_allowance(order.volume.si, on_top)
    trucks, load = loads(comes, order.truck.si), volume(min(order.truck.si, comes))
    empties, apart = duration(load.si / pour.rate.si), pour.trucks_apart
    last = last_load(comes, order.truck.si) / pour.rate.si
    waits, out = (duration(s) for s in longest_wait(empties.si, last, trucks, apart.si if apart else None))
    age, at = duration(pour.haul.si + waits.si + out.si), Spot("the loads", pour.place)
    working = (
        step("discharge", "load / rate", words("{v} / {r}", v=load, r=pour.rate), empties),
        step("age", "haul + wait + discharge", words("{h} + {w} + {d}", h=pour.haul, w=waits, d=out), age),
    )
    says = words("the oldest of {n} loads is {age} old when it is out", n=count(trucks), age=age)
    says = says if trucks > 1 else words("the load is {age} old when it is out", age=age)
    left = limits.age_at_most.value.si - pour.haul.si
    to_pass = _fresher(left, empties.si, pour.rate.si, apart.si if apart else None, 0.05 * STEP[plan.system])
    yield compared(limits, ("age_at_most",), at, age, says, to_pass, working)


def _fresher(left: float, empties: float, rate: float, apart: float | None, step: float) -> Words:
    """What empties a load in the time ``left`` after the haul: trucks farther apart, smaller loads, a nearer plant."""
    if meets(empties, left, "most"):
        return words("have trucks come {apart} apart", apart=_minutes(empties))
    load = math.floor(left * rate / step + 1e-6) * step
    if load < 0.5 * YARD3:
        return words("find a plant that is nearer, or have setting retarded and the time waived")
    if apart is not None and not meets(apart, load / rate, "least"):
        return words("bring {load} at a time, {apart} apart, or place faster", load=volume(load),
                     apart=_minutes(load / rate))  # fmt: skip
    return words("bring {load} at a time, or place faster", load=volume(load))


def _minutes(seconds: float) -> Amount:
    """Whole minutes that are not less."""
    return duration(math.ceil(seconds / 60 - 1e-6) * 60)
