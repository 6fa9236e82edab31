"""Concrete comes no hotter than it can be finished.

What is compared
    The concrete as delivered with 90 °F, and with 95 °F.
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

from collections.abc import Iterator

from slabwright.formulas.units import celsius
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
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, meets

TITLE = "Cool enough to finish"
LIMITS = (
    Limit("concrete_at_most", "95 °F", Kind.TEMPERATURE, "hold", Cite("aci-301-hot"), ("80 °F", "105 °F"),
          "concrete as delivered"),
    Limit("concrete_preferred_at_most", "90 °F", Kind.TEMPERATURE, "caution", Cite("common-practice"),
          ("70 °F", "105 °F"), "concrete as delivered, before finishing becomes a race"),
)  # fmt: skip
WORKED = ()
HOT = celsius(80)  # deg C of air, `aci-305.1-14`


def relevant(plan: Plan) -> Relevance:
    """The concrete's temperature is known."""
    said = plan.design.pour.weather if plan.design.pour else None
    if said is None or (said.concrete is None and (said.air is None or not meets(said.air.si, HOT, "least"))):
        return does_not_apply("no hot weather is written (pour.weather)")
    if said.concrete is None:
        return not_shown("pour.weather.concrete: the concrete as delivered, such as {85 °F|29 °C}", place=said.place)
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The concrete as delivered."""
    said = plan.design.pour.weather if plan.design.pour else None
    if said is None or said.concrete is None:
        return
    cool = limits.concrete_preferred_at_most.value
    says = words("concrete of {c} sets faster than a crew can finish", c=said.concrete)
    to_pass = words("have it delivered at {write} or cooler", write=cool)
    names = ("concrete_at_most", "concrete_preferred_at_most")
    yield compared(limits, names, Spot("the concrete", said.place), said.concrete, says, to_pass)
