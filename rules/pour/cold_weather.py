"""Concrete goes in warm enough for the cold, and stays so until it can bear frost.

What is compared
    The lowest air while it is protected with 40 °F; and, where it is lower, the concrete as delivered with 55 °F, or
    50 °F where the slab is a foot thick and more.
Why it matters
    Concrete that freezes before it has 500 psi loses up to half its strength for good: the water in it grows to ice and
    lifts it apart. By spring the top sweeps off with a broom.
When it does not apply
    No temperature of the air is written.
How to put it right
    Blankets the same evening, for a day at least and longer in a hard frost; hot water at the plant. Nothing goes on
    frozen ground, ever: lay the blankets on the base the night before. Or wait for the weather.
Where sources differ
    The newer ACI guide takes cold as any time under 40 °F; that of 1988 took three days with a mean under 40 °F. The
    newer, simpler one is used. Both temperatures of the concrete are as a textbook prints them from ACI 306R.
"""

from __future__ import annotations

from slabwright.formulas.units import INCH, celsius
from slabwright.formulas.weather import COLD_BELOW, cold_weather
from slabwright.rulebook.kit import *

TITLE = "Warm until it can bear frost"
LIMITS = (
    Limit("concrete_at_least", "55 °F", Kind.TEMPERATURE, "hold", Cite("aci-306r-beall"), ("40 °F", "80 °F"),
          "concrete as delivered in cold weather, slabs under {12 in|305 mm}"),
    Limit("thick_concrete_at_least", "50 °F", Kind.TEMPERATURE, "hold", Cite("aci-306r-beall"), ("40 °F", "80 °F"),
          "concrete as delivered in cold weather, slabs of {12 in|305 mm} and more"),
    Limit("air_at_least", "40 °F", Kind.TEMPERATURE, "caution", Cite("aci-306r-10"), ("25 °F", "55 °F"),
          "lowest air while the slab is protected"),
)  # fmt: skip
WORKED = (
    Worked("under 12 in, placed and kept", temperature(celsius(55)),
           lambda: cold_weather(4 * INCH).placed_and_kept, 1e-9, Cite("aci-306r-beall"), "we-cold-under-12in"),
    Worked("12 to 36 in, placed and kept", temperature(celsius(50)),
           lambda: cold_weather(12 * INCH).placed_and_kept, 1e-9, Cite("aci-306r-beall"), "we-cold-12-36in"),
)  # fmt: skip
THICK = 12 * INCH  # m, `aci-306r-beall`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The lowest air, then the concrete where it is cold."""
    said = plan.design.pour.weather if plan.design.pour else None
    known = [one for one in (said.low, said.air) if one] if said else []
    if said is None or not known:
        does_not_apply("no temperature of the air is written (pour.weather)")
    lowest, least = min(known, key=lambda one: one.si), limits.air_at_least
    wait = words(
        "cover it with blankets until it has {500 psi|3.5 MPa}; or wait until no hour is under {write}",
        write=least.value,
    )
    yield compare(
        Spot("the cold", said.place), lowest, least,
        says=lambda: words("it gets down to {t} while the slab is young", t=lowest),
        remedy=lambda: write("pour.weather.low", least.value, wait),
    )  # fmt: skip
    if concrete := said.concrete if not meets(lowest.si, COLD_BELOW, "least") else None:
        thick = meets(plan.thickness.design, THICK, "least")
        warm = limits.thick_concrete_at_least if thick else limits.concrete_at_least
        warmer = words("have it delivered at {write} or warmer, and keep it so", write=warm.value)
        yield compare(
            Spot("the concrete", said.place), concrete, warm,
            says=lambda: words("concrete of {c} has no warmth to set with in {t}", c=concrete, t=lowest),
            remedy=lambda: write("pour.weather.concrete", warm.value, warmer),
        )  # fmt: skip
