"""From where the truck can stand its chute reaches all of the slab.

What is compared
    The distance from the farthest place of the slab to the nearest spot for the back of the truck, with 14 ft and
    18 ft.
Why it matters
    What the chute does not reach is raked there, and raking sorts the stone from the mortar: the far corner is all
    paste and scales first. Or six people run with barrows while the truck's time is counted.
When it does not apply
    It comes by pump, buggy or wheelbarrow.
How to put it right
    Find a second spot on ground that carries 35 tons, or order a pump. Stakes in the ground show where the wheels go.
Where sources differ
    Chutes are 10 to 14 ft long, and reach some 18 ft from the bumper; both are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, length

TITLE = "The chute reaches all of the slab"
LIMITS = (
    Limit("reach_at_most", "18 ft", Kind.LENGTH, "hold", Cite("common-practice"), ("8 ft", "30 ft"),
          "distance that any chute reaches"),
    Limit("easy_reach_at_most", "14 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("8 ft", "30 ft"),
          "distance that most chutes reach"),
)  # fmt: skip
WORKED = ()


def relevant(plan: Plan) -> Relevance:
    """It comes by chute, and the spots for the truck are known."""
    order = plan.design.order
    if order is None or order.method is None:
        return does_not_apply("how the concrete gets to the slab is not written (order.method)")
    if order.method != "chute":
        return does_not_apply(f"it comes by {order.method}")
    if not order.truck_spots:
        add = "order.truck_spots: where the back of the truck can stand, such as [[12, 44]]"
        return not_shown(add, place=plan.place("order.truck_spots", "order.method"))
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The farthest place."""
    order = plan.design.order
    if order is None or not order.truck_spots:
        return
    distance, place = plan.site.farthest(order.truck_spots)
    far, name, easy = length(distance), plan.shape.name_at(place), limits.easy_reach_at_most.value
    at = Spot("the far end", plan.place("order.truck_spots"), (place,))
    off = length(distance - easy.si)
    says = words("{name} is {far} from the nearest truck", name=name, far=far)
    to_pass = words("give the truck another spot within {easy} of {name}; or order a pump", easy=easy, name=name)
    working = step("too far", "distance - reach", words("{d} - {r}", d=far, r=easy), off)
    yield compared(limits, ("reach_at_most", "easy_reach_at_most"), at, far, says, to_pass, (working,))
