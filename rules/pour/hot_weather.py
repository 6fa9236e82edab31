"""Concrete comes no hotter than it can be finished.

What is compared
    Compares the temperature of the concrete as delivered with 90 °F, and with 95 °F.
Why it matters
    Hot concrete sets in the chute. Water goes in to keep it moving, the finishers chase it, and the joints come too
    late. It is never as strong as the same mix on a cool day, and it is cracked by evening.
When it does not apply
    The temperature of the concrete is not written, and the air is under 80 °F.
How to put it right
    Order for dawn, ask the plant for chilled water or ice, keep trucks from waiting in the sun, and damp the base.
Where sources differ
    95 °F is the most of the specifications; trouble begins at about 90 °F by common practice.
"""

from __future__ import annotations

from slabwright.formulas.units import celsius
from slabwright.rulebook.kit import *

TITLE = "Cool enough to finish"
EACH_POUR = True
LIMITS = (
    Limit("concrete_at_most", "95 °F", Kind.TEMPERATURE, "hold", Cite("aci-301-hot"), ("80 °F", "105 °F"),
          "concrete as delivered"),
    Limit("concrete_preferred_at_most", "90 °F", Kind.TEMPERATURE, "caution", Cite("common-practice"),
          ("70 °F", "105 °F"), "concrete as delivered, before finishing becomes a race"),
)  # fmt: skip
WORKED = ()
HOT = celsius(80)  # deg C of air, `aci-305.1-14`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The concrete as delivered."""
    said = plan.design.pour.weather if plan.design.pour else None
    if said is None or (said.concrete is None and (said.air is None or not meets(said.air.si, HOT, "least"))):
        does_not_apply("no hot weather is written (pour.weather)")
    concrete, cool = plan.given("pour.weather.concrete"), limits.concrete_preferred_at_most
    cooler = words("have it delivered at {write} or cooler", write=cool.value)
    yield compare(
        Spot("the concrete", said.place), concrete, limits.concrete_at_most, cool,
        says=lambda: words("concrete of {c} sets faster than a crew can finish", c=concrete),
        remedy=lambda: write("pour.weather.concrete", cool.value, cooler),
    )  # fmt: skip
