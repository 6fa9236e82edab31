"""Where the soil holds sulfate, the mix is dense and strong enough to keep it out.

What is compared
    Strength and water over cement with the class of the soil: S1 from 0.10 % of sulfate that water dissolves, S2 over
    0.20 %, S3 over 2 %.
Why it matters
    Sulfate goes into wet concrete from below and grows there. The slab swells, cracks like a map, and turns to grit
    from the underside up; it looks sound until a heel goes through.
When it does not apply
    No sulfate is written, or less than 0.10 %.
How to put it right
    Order the strength and water of the class, and the cement it asks: the plant knows which it has. A sheet and a
    gravel base help to keep the slab dry.
"""

from __future__ import annotations

import math

from slabwright.formulas.exposure import sulfate_demand
from slabwright.formulas.mix import sulfate_class, whole_megapascals
from slabwright.formulas.units import PSI
from slabwright.rulebook.kit import *

TITLE = "A mix that keeps sulfate out"
PSIS, RATIOS, TABLE = ("2500 psi", "8000 psi"), ("0.35", "0.6"), Cite("aci-318-19", "Table 19.3.2.1")
LIMITS = (
    Limit("s1_strength_at_least", "4000 psi", Kind.STRESS, "hold", TABLE, PSIS, "strength in class S1"),
    Limit("s2_strength_at_least", "4500 psi", Kind.STRESS, "hold", TABLE, PSIS, "strength in class S2"),
    Limit("s3_strength_at_least", "5000 psi", Kind.STRESS, "hold", TABLE, PSIS, "strength in class S3"),
    Limit("s1_water_at_most", "0.50", Kind.RATIO, "hold", TABLE, RATIOS, "water over cement in class S1"),
    Limit("s2_water_at_most", "0.45", Kind.RATIO, "hold", TABLE, RATIOS, "water over cement in class S2"),
    Limit("s3_water_at_most", "0.40", Kind.RATIO, "hold", TABLE, RATIOS, "water over cement in class S3"),
)  # fmt: skip
WORKED = (
    Worked("class of 0.15 %, water over cement", ratio(0.50),
           lambda: (sulfate_demand("S1").water_cement or math.nan) if sulfate_class(0.0015) == "S1" else math.nan, 1e-9,
           Cite("pca-eb001"), "mx-sulfate"),
    Worked("class of 1.0 %, strength", stress(4500 * PSI),
           lambda: sulfate_demand("S2").strength if sulfate_class(0.010) == "S2" else math.nan, 1.0,
           Cite("pca-eb001"), "mx-sulfate"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Strength, then water over cement."""
    soil, mix = plan.design.site.soil, plan.design.mix
    if soil is None or soil.sulfate is None:
        does_not_apply("no sulfate in the soil is written (site.soil.sulfate)")
    sulfate, name = soil.sulfate, sulfate_class(soil.sulfate.si)
    if name == "S0":
        does_not_apply("the soil holds too little sulfate to matter")
    if mix.strength is None and mix.water_cement is None:
        plan.all_given("mix.strength", "mix.water_cement")
    if f := mix.strength:
        limit = limits[f"{name.lower()}_strength_at_least"]
        asked = stress(whole_megapascals(limit.value.si)) if plan.system == "metric" else limit.value
        more = stress(asked.si - f.si)
        yield compare(
            plan.spot("the mix", "mix.strength"), f, limit, asked=asked,
            says=lambda: words("{f} is weak for soil with {s} of sulfate, class {name}", f=f, s=sulfate, name=name),
            working=lambda: step("short by", "strength asked - strength", words("{a} - {f}", a=asked, f=f), more),
            remedy=lambda: write("mix.strength", asked, words("order {write}: {m} more", write=asked, m=more)),
        )  # fmt: skip
    if mix.water_cement:
        most = limits[f"{name.lower()}_water_at_most"]
        less = words("order water over cement of {write} or less", write=most.value)
        yield compare(
            plan.spot("the mix", "mix.water_cement"), mix.water_cement, most,
            says=lambda: words("with so much water the mix lets sulfate in, class {name}", name=name),
            remedy=lambda: write("mix.water_cement", most.value, less),
        )  # fmt: skip
