"""From where the truck can stand its chute reaches all of the slab.

What is compared
    Takes the distance from the farthest place of the slab to the nearest spot for the back of the truck: more than 14
    ft is a note, more than 18 ft a caution. Half a foot over either is let pass: no driver stops closer than that.
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

import math

from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

TITLE = "The chute reaches all of the slab"
EACH_POUR = True
LIMITS = (
    Limit("reach_at_most", "18 ft", Kind.LENGTH, "caution", Cite("common-practice"), ("8 ft", "30 ft"),
          "distance that any chute reaches"),
    Limit("easy_reach_at_most", "14 ft", Kind.LENGTH, "note", Cite("common-practice"), ("8 ft", "30 ft"),
          "distance that most chutes reach"),
)  # fmt: skip
STOPS_WITHIN = FOOT / 2  # m: no truck stands closer to where it was meant to (common practice)
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The farthest place."""
    order = plan.design.order
    if order is None or order.method is None:
        does_not_apply("how the concrete gets to the slab is not written (order.method)")
    if order.method != "chute":
        does_not_apply(f"it comes by {order.method}")
    spots = plan.given("order.truck_spots")
    distance, place = plan.site.farthest(spots)
    step_of = tape_step(plan, INCH, 0.1)
    far, name = length(round(distance / step_of) * step_of), plan.shape.name_at(place)
    easy = limits.easy_reach_at_most.value
    near = length(math.floor(easy.si / step_of + 1e-6) * step_of)
    reach = limits.reach_at_most.value if distance > limits.reach_at_most.value.si + STOPS_WITHIN else easy
    yield compare(
        plan.spot("the far end", "order.truck_spots", shape=(place,)), far,
        limits.reach_at_most, limits.easy_reach_at_most, give=STOPS_WITHIN,
        says=lambda: words("{name} is {far} from the nearest truck", name=name, far=far),
        working=lambda: step("too far", "distance - reach", words("{d} - {r}", d=far, r=reach),
                             length(far.si - reach.si)),
        decide=lambda: words("give the truck another spot within {easy} of {name}; or order a pump", easy=near,
                             name=name),
    )  # fmt: skip
