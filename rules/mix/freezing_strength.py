"""The concrete is strong and dense enough for the frost and the salt it will see.

What is compared
    Compares the strength of the mix with 3,500 psi where a slab in the open freezes hard, with 3,000 psi where it
    freezes at times, and with 2,500 psi where it does not freeze. Where salt comes on it as well, it compares the
    strength with 4,500 psi and water over cement with 0.45; where it freezes hard without salt and no class is written,
    water over cement with 0.55. Metric plans may write 24, 20 and 17 MPa, and with salt C30/37. Floors indoors are
    compared with 2,500 psi in any weather, a garage floor also with 4,000 psi where it freezes and is troweled, since
    it has less air, or where cars bring the salt in; on metric plans only there.
Why it matters
    Wet concrete that freezes is pushed apart from inside. Salt keeps it wet and freezes it more often. A weak, watery
    skin comes off in flakes: two years later the stone shows wherever the car dripped.
When it does not apply
    An XF class is written, which `frost-class` judges; or other European classes are where a slab in the open freezes,
    for which that rule asks the class of the site with its strength. C-2, C-1 or C-XL of the Canadian standard is
    written, or another of it where salt comes on the slab, which `exposure-class` judges.
How to put it right
    Order the strength, and ask for the slump by admixture, not by water: a gallon to the yard costs some 200 psi.
Where sources differ
    The dwelling table asks 3,500 psi in severe weather and 3,000 in moderate of porches, carports and garage floors,
    and 2,500 of floors inside; it does not name drives, walks or patios; the building code asks 3,500 of exposed
    concrete that carries nothing. In severe weather that is the hold of a plan in feet; a metric plan is under other
    codes, and cautioned. With deicing salt ACI 332 asks 4,500 psi (4,000 in its 2014 edition) and 0.45, ACI 318 5,000
    psi and 0.40, of plain concrete 4,500 and 0.45, CSA 32 MPa and 0.45, EN 206-1 C30/37 and 0.45. Without salt the
    dwelling table names no water, and ACI 318 0.55 beside its 3,500 psi. The 4,000 psi of garages are recalled.
    Amendments may set the document that governs.
"""

from __future__ import annotations

from slabwright.formulas.mix import by_canadian_class
from slabwright.rulebook.kit import *

TITLE = "Strong enough for frost and salt"
EACH_POUR = True
LIMITS = (
    Limit("severe_at_least", "3500 psi", Kind.STRESS, "hold", Cite("irc-r402.2"), ("2500 psi", "6000 psi"),
          "strength where it freezes hard"),
    Limit("metric_severe_at_least", "24 MPa", Kind.STRESS, "caution", Cite("irc-r402.2"), ("15 MPa", "45 MPa"),
          "strength where it freezes hard, of a metric plan"),
    Limit("salted_at_least", "4500 psi", Kind.STRESS, "caution", Cite("aci-332-20"), ("2500 psi", "6000 psi"),
          "strength where it freezes and salt comes on it"),
    Limit("metric_salted_at_least", "C30/37", Kind.STRESS, "caution", Cite("en-206-1", "class XF4"),
          ("15 MPa", "45 MPa"), "strength where it freezes and salt comes on it, of a metric plan"),
    Limit("garage_at_least", "4000 psi", Kind.STRESS, "caution", Cite("aci-332-20-recalled"), ("2500 psi", "6000 psi"),
          "strength of a garage floor that freezes and is troweled, or that salt is carried onto"),
    Limit("salted_water_cement_at_most", "0.45", Kind.RATIO, "caution", Cite("aci-332-20"), ("0.35", "0.6"),
          "water over cement where it freezes and salt comes on it"),
    Limit("severe_water_cement_at_most", "0.55", Kind.RATIO, "caution", Cite("aci-318-14-f1"), ("0.4", "0.7"),
          "water over cement where it freezes hard, without salt or a class"),
    Limit("moderate_at_least", "3000 psi", Kind.STRESS, "caution", Cite("irc-r402.2"), ("2500 psi", "6000 psi"),
          "strength where it freezes at times"),
    Limit("indoors_at_least", "2500 psi", Kind.STRESS, "caution", Cite("irc-r402.2"), ("1500 psi", "6000 psi"),
          "strength of a floor indoors"),
    Limit("mild_at_least", "2500 psi", Kind.STRESS, "caution", Cite("aci-318-19", "Table 19.3.2.1"),
          ("1500 psi", "6000 psi"), "strength where it does not freeze"),
)  # fmt: skip
WORKED = ()
BY_FROST = {"none": "mild_at_least", "moderate": "moderate_at_least", "severe": "severe_at_least"}
TOLD = {
    "indoors_at_least": "{f} is weak for any floor",
    "mild_at_least": "{f} is weak for a slab without frost",
    "moderate_at_least": "{f} is weak for a slab where it freezes at times",
    "severe_at_least": "{f} is weak for a slab where it freezes hard",
    "metric_severe_at_least": "{f} is weak for a slab where it freezes hard",
    "garage_at_least": "{f} is weak for a garage floor where it freezes",
    "salted_at_least": "{f} is weak for a slab that freezes with salt on it",
    "metric_salted_at_least": "{f} is weak for a slab that freezes with salt on it",
}


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Strength by frost and by salt, then water over cement where salt comes on it or it freezes hard."""
    if (plan.design.mix.exposure or "").startswith("XF"):
        does_not_apply("the mix is ordered by a frost class, and judged by that")
    if plan.outdoors and plan.design.mix.classes and plan.design.site.freezing in ("moderate", "severe"):
        does_not_apply("the mix is ordered by classes, and the frost class of the site brings its strength")
    site = plan.design.site
    if by_canadian_class(plan.design.mix.exposure, site.freezing, plan.outdoors and site.deicing_salt):
        does_not_apply("the mix is ordered by a Canadian class, and judged by that")
    if not plan.outdoors and not plan.areas.used("garage floor"):
        yield _strength(plan, limits, plan.given("mix.strength"), ["indoors_at_least"])
        return
    freezing, strength = plan.all_given("site.freezing", "mix.strength")
    water, salted = plan.design.mix.water_cement, bool(plan.design.site.deicing_salt) and freezing != "none"
    most = limits.salted_water_cement_at_most if salted else limits.severe_water_cement_at_most
    asked = plan.outdoors and (salted or (freezing == "severe" and plan.design.mix.exposure is None))
    drier = write("mix.water_cement", most.value, words("order water over cement of {write} or less", write=most.value))
    wet, to = asked and water is not None and not most.met(water), "salt" if salted else "frost"
    of_strength = _strength(plan, limits, strength, list(_asked(plan, limits, freezing, salted)), [drier] * wet, to)
    yield of_strength
    if asked and water and not (wet and isinstance(of_strength, Finding)):  # one mix is ordered
        yield compare(
            plan.spot("the mix", "mix.water_cement"), water, most,
            says=lambda: words(f"with so much water the skin of the slab is open to the {to}"),
            remedy=lambda: drier,
        )  # fmt: skip


def _asked(plan: Plan, limits: Limits, freezing: str, salted: bool) -> Iterator[str]:
    """The limits that hold here, frost before salt."""
    name = BY_FROST[freezing]
    yield "metric_severe_at_least" if name == "severe_at_least" and _metric(plan, limits[name]) else name
    troweled = plan.design.pour is not None and plan.design.pour.finish == "trowel"
    dry = plan.home == "metric" and plan.design.site.deicing_salt is False
    if freezing != "none" and (troweled or salted) and not plan.outdoors and not dry:
        yield "garage_at_least"
    if salted and plan.outdoors:
        yield "metric_salted_at_least" if _metric(plan, limits.salted_at_least) else "salted_at_least"


def _metric(plan: Plan, limit: InForce) -> bool:
    """Whether a metric number stands in for a limit: not where amendments have set it."""
    return plan.home == "metric" and limit.layer == "published"


def _strength(
    plan: Plan, limits: Limits, f: Amount, names: list[str], besides: Sequence[Remedy] = (), to: str = ""
) -> Finding | Margin:
    """The heaviest limit that is broken, the first of equals; what is told to order keeps them all, and ``besides``."""
    asked = {name: limits[name].value for name in names}
    broken = sorted(
        (name for name in names if not meets(f.si, asked[name].si, "least")),
        key=lambda name: WEIGHTS.index(limits[name].weight),
    )
    name = broken[0] if broken else max(names, key=lambda one: asked[one].si)
    order = max(asked.values(), key=lambda one: one.si)
    if f.typed.startswith("C"):
        order = strength_class(order.si)
    elif order.typed.startswith("C"):  # no class is written, and none is made up: the plant may not know it
        order = stress(order.si)
    more = stress(order.si - f.si)
    return compare(
        plan.spot("the mix", "mix.strength"), f, limits[name], asked=asked[name],
        says=lambda: words(TOLD[name] + (f", and so much water opens its skin to the {to}" if besides else ""), f=f),
        working=lambda: step("short by", "strength to order - strength", words("{a} - {f}", a=order, f=f), more),
        remedy=lambda: together(
            write("mix.strength", order, words("order {write}: {more} more", write=order, more=more)), *besides),
    )  # fmt: skip
