"""The concrete is strong and dense enough for the frost and the salt it will see.

What is compared
    The strength of the mix with 3,500 psi where a slab in the open freezes hard and 3,500 psi where it freezes at
    times; with 4,500 psi, and water over cement with 0.45, where salt comes on it as well; and with 2,500 psi where
    it does not freeze. Metric plans may write 24, 31 and 17 MPa. Of floors indoors, only a garage floor counts.
Why it matters
    Wet concrete that freezes is pushed apart from inside. Salt keeps it wet and freezes it more often. A weak, watery
    skin comes off in flakes: two years later the stone shows wherever the car dripped.
When it does not apply
    The slab lies indoors and no car brings the winter in.
How to put it right
    Order the strength, and ask for the slump by admixture, not by water: a gallon to the yard costs some 200 psi.
Where sources differ
    The dwelling table asks 3,500 psi in severe weather of porches, carports and garage floors, and does not name
    drives, walks or patios; the building code asks the same of exposed concrete that carries nothing. That is the
    hold. With deicing salt ACI 332 asks 4,500 psi (4,000 in its 2014 edition) and 0.45, ACI 318 5,000 psi and 0.40, or
    4,500 and 0.45 in older ones, CSA 32 MPa and 0.45. Amendments may set the document that governs.
"""

from __future__ import annotations

from slabwright.formulas.mix import whole_megapascals
from slabwright.rulebook.kit import *

TITLE = "Strong enough for frost and salt"
LIMITS = (
    Limit("severe_at_least", "3500 psi", Kind.STRESS, "hold", Cite("irc-r402.2"), ("2500 psi", "6000 psi"),
          "strength where it freezes hard"),
    Limit("salted_at_least", "4500 psi", Kind.STRESS, "caution", Cite("aci-332-20"), ("2500 psi", "6000 psi"),
          "strength where it freezes and salt comes on it"),
    Limit("salted_water_cement_at_most", "0.45", Kind.RATIO, "caution", Cite("aci-332-20"), ("0.35", "0.6"),
          "water over cement where it freezes and salt comes on it"),
    Limit("moderate_at_least", "3500 psi", Kind.STRESS, "caution", Cite("aci-332-20-recalled"),
          ("2500 psi", "6000 psi"), "strength where it freezes at times"),
    Limit("mild_at_least", "2500 psi", Kind.STRESS, "caution", Cite("aci-318-19", "Table 19.3.2.1"),
          ("1500 psi", "6000 psi"), "strength where it does not freeze"),
)  # fmt: skip
WORKED = ()
BY_FROST = {"none": "mild_at_least", "moderate": "moderate_at_least", "severe": "severe_at_least"}
TOLD = {
    "mild_at_least": "{f} is weak for a slab without frost",
    "moderate_at_least": "{f} is weak for a slab where it freezes at times",
    "severe_at_least": "{f} is weak for a slab where it freezes hard",
    "salted_at_least": "{f} is weak for a slab that freezes with salt on it",
}


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Strength by frost and by salt, then water over cement where salt comes on it."""
    if not plan.outdoors and plan.design.use != "garage floor":
        does_not_apply("the slab lies indoors")
    freezing, strength = plan.all_given("site.freezing", "mix.strength")
    water, salted = plan.design.mix.water_cement, bool(plan.design.site.deicing_salt) and freezing != "none"
    yield _strength(plan, limits, strength, [BY_FROST[freezing], *(["salted_at_least"] if salted else [])])
    if salted and water:
        most = limits.salted_water_cement_at_most
        less = words("order water over cement of {write} or less", write=most.value)
        yield compare(
            plan.spot("the mix", "mix.water_cement"), water, most,
            says=lambda: words("with so much water the skin of the slab is open to the salt"),
            remedy=lambda: write("mix.water_cement", most.value, less),
        )  # fmt: skip


def _strength(plan: Plan, limits: Limits, f: Amount, names: list[str]) -> Finding | Margin:
    """The heaviest limit that is broken, frost before salt; what is told to order keeps them all."""
    asked = {name: limits[name].value.si for name in names}
    if plan.system == "metric":
        asked = {name: whole_megapascals(si) for name, si in asked.items()}
    broken = [name for name in names if not meets(f.si, asked[name], "least")]
    name = broken[0] if broken else max(names, key=lambda one: asked[one])
    order = stress(max(asked.values()))
    more = stress(order.si - f.si)
    return compare(
        plan.spot("the mix", "mix.strength"), f, limits[name], asked=stress(asked[name]),
        says=lambda: words(TOLD[name], f=f),
        working=lambda: step("short by", "strength to order - strength", words("{a} - {f}", a=order, f=f), more),
        remedy=lambda: write("mix.strength", order, words("order {write}: {more} more", write=order, more=more)),
    )  # fmt: skip
