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

import math
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
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, meets, stress

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


def relevant(plan: Plan) -> Relevance:
    """Frost can reach the slab, and the strength is given."""
    site, mix = plan.design.site, plan.design.mix
    if not plan.outdoors and plan.design.use != "garage floor":
        return does_not_apply("the slab lies indoors")
    add = []
    if site.freezing is None:
        add.append("site.freezing: how hard the slab freezes when it is wet, such as severe")
    if mix.strength is None:
        add.append("mix.strength: the strength of the mix, such as {4500 psi|32 MPa}")
    return not_shown(*add, place=plan.place(add[0].split(":")[0])) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Strength by frost and by salt, then water over cement where salt comes on it."""
    site, mix = plan.design.site, plan.design.mix
    if mix.strength is None or site.freezing is None:
        return
    at, salted = Spot("the mix", plan.place("mix.strength", "mix")), bool(site.deicing_salt) and site.freezing != "none"
    by_frost = {"none": "mild_at_least", "moderate": "moderate_at_least", "severe": "severe_at_least"}
    names = [by_frost[site.freezing], *(["salted_at_least"] if salted else [])]
    asked = {name: limits[name].value.si for name in names}
    if plan.system == "metric":
        asked = {name: math.floor(si / 1e6 + 1e-6) * 1e6 for name, si in asked.items()}
    broken = [name for name in names if not meets(mix.strength.si, asked[name], "least")]
    write = stress(max(asked.values()))
    if broken:  # frost is named before salt: the heavier first
        limit, least = limits[broken[0]], stress(asked[broken[0]])
        where = {"none": "without frost", "moderate": "where it freezes at times", "severe": "where it freezes hard"}
        says = words("{f} is weak for a slab {where}", f=mix.strength, where=where[site.freezing])
        if broken[0] == "salted_at_least":
            says = words("{f} is weak for a slab that freezes with salt on it", f=mix.strength)
        more = stress(write.si - mix.strength.si)
        working = step("short by", "strength to order - strength", words("{a} - {f}", a=write, f=mix.strength), more)
        to_pass = words("order {write}: {more} more", write=write, more=more)
        yield Finding(at, says, mix.strength, limit, (working,), to_pass, least)
    else:
        tightest = max(names, key=lambda name: asked[name])
        yield Margin(at, mix.strength, limits[tightest], stress(asked[tightest]))
    if salted and mix.water_cement:
        limit = limits.salted_water_cement_at_most
        if limit.met(mix.water_cement):
            yield Margin(at, mix.water_cement, limit)
        else:
            says = words("with so much water the skin of the slab is open to the salt")
            to_pass = words("order water over cement of {write} or less", write=limit.value)
            at = Spot("the mix", plan.place("mix.water_cement", "mix"))
            yield Finding(at, says, mix.water_cement, limit, (), to_pass)
