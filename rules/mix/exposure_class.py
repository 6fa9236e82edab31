"""A mix that is ordered by an exposure class has the class of its site, and the strength and water that it asks.

What is compared
    Compares strength, and water over cement where the class sets it, with the class written under `mix.exposure`: F0 to
    F3 of the structural code, RF0 to RF3 of the residential one, or those of exposed concrete that carries nothing. F3
    has a row for plain concrete: a slab without bars, since mesh only holds cracks. Metric plans may write whole
    megapascals. Each class has limits of its own, so that amendments can hold a job to one document. The rule also
    compares the number of the class with that of a flat slab in the open that freezes: 3 where deicing salt comes on
    it, else 2. Of the Canadian classes C-2 has its strength, water and air, which C-1 and C-XL are compared with too,
    for they ask no less; where salt comes on a slab that freezes it wants one of these three, and without salt one of
    them, F-1 or F-2.
Why it matters
    The plant batches what the ticket says. Where the class and the numbers disagree, one of the two is a slip, and the
    weaker one is what comes. Two winters later the skin of the slab is gone.
When it does not apply
    No class is written, or those of EN 206, which `frost-class` and `corrosion-class` judge.
How to put it right
    Order the strength and the water of the class, or write the class that is meant. Get the slump by admixture.
Where sources differ
    For deicing salt ACI 332-20 asks 4,500 psi and 0.45 (RF3), ACI 318-14 5,000 psi and 0.40 (F3), of plain concrete
    4,500 and 0.45, the building code 3,500 psi where nothing is carried. ACI 332-20 has a class RF4 for reinforced
    members besides. CSA A23.1 asks 32 MPa, 0.45 and 5 to 8 % of air of pavements, walks and curbs that get salt; with
    stone over 25 mm its air may be less, and is not compared. A flat slab on ground is seldom structural, so no class
    is taken for granted: without one, `freezing-strength` holds the mix to frost and salt. Salt makes class 3 in the
    three American documents. Wet slabs without salt are RF2 in ACI 332-14, and left open in ACI 332-20: a note.
"""

from __future__ import annotations

from slabwright.formulas.mix import FROST_OF_CANADIAN
from slabwright.rulebook.kit import *

TITLE = "The exposure class of the site, and a mix as it asks"
PSIS, RATIOS = ("1500 psi", "8000 psi"), ("0.35", "0.7")
LIMITS = (
    Limit("salted_class_at_least", "3", Kind.COUNT, "caution", Cite("aci-332-20"), ("1", "3"),
          "number of the class of a flat slab that freezes with salt on it"),
    Limit("wet_class_at_least", "2", Kind.COUNT, "note", Cite("aci-332-14"), ("1", "3"),
          "number of the class of a flat slab that freezes"),
    Limit("f0_strength_at_least", "2500 psi", Kind.STRESS, "hold", Cite("aci-318-19", "Table 19.3.2.1"), PSIS,
          "strength in class F0"),
    Limit("f1_strength_at_least", "3500 psi", Kind.STRESS, "hold", Cite("aci-318-14-f1"), PSIS,
          "strength in class F1"),
    Limit("f2_strength_at_least", "4500 psi", Kind.STRESS, "caution", Cite("aci-318-14-f1"), PSIS,
          "strength in class F2"),
    Limit("f3_strength_at_least", "5000 psi", Kind.STRESS, "caution", Cite("aci-318-14-f1"), PSIS,
          "strength in class F3"),
    Limit("plain_f3_strength_at_least", "4500 psi", Kind.STRESS, "caution", Cite("aci-318-14-f1"), PSIS,
          "strength of plain concrete in class F3"),
    Limit("rf0_strength_at_least", "2500 psi", Kind.STRESS, "caution", Cite("aci-332-20-recalled"), PSIS,
          "strength in class RF0"),
    Limit("rf1_strength_at_least", "2500 psi", Kind.STRESS, "caution", Cite("aci-332-20-recalled"), PSIS,
          "strength in class RF1"),
    Limit("rf2_strength_at_least", "3500 psi", Kind.STRESS, "caution", Cite("aci-332-20-recalled"), PSIS,
          "strength in class RF2"),
    Limit("rf3_strength_at_least", "4500 psi", Kind.STRESS, "hold", Cite("aci-332-20"), PSIS,
          "strength in class RF3"),
    Limit("nonstructural_f0_strength_at_least", "2500 psi", Kind.STRESS, "caution", Cite("ibc-1904.2"), PSIS,
          "strength in class F0 of concrete that carries nothing"),
    Limit("nonstructural_f1_strength_at_least", "3000 psi", Kind.STRESS, "caution", Cite("ibc-1904.2"), PSIS,
          "strength in class F1 of concrete that carries nothing"),
    Limit("nonstructural_f2_strength_at_least", "3500 psi", Kind.STRESS, "caution", Cite("ibc-1904.2"), PSIS,
          "strength in class F2 of concrete that carries nothing"),
    Limit("nonstructural_f3_strength_at_least", "3500 psi", Kind.STRESS, "caution", Cite("ibc-1904.2"), PSIS,
          "strength in class F3 of concrete that carries nothing"),
    Limit("f1_water_at_most", "0.55", Kind.RATIO, "caution", Cite("aci-318-14-f1"), RATIOS,
          "water over cement in class F1"),
    Limit("f2_water_at_most", "0.45", Kind.RATIO, "caution", Cite("aci-318-14-f1"), RATIOS,
          "water over cement in class F2"),
    Limit("f3_water_at_most", "0.40", Kind.RATIO, "caution", Cite("aci-318-14-f1"), RATIOS,
          "water over cement in class F3"),
    Limit("plain_f3_water_at_most", "0.45", Kind.RATIO, "caution", Cite("aci-318-14-f1"), RATIOS,
          "water over cement of plain concrete in class F3"),
    Limit("rf3_water_at_most", "0.45", Kind.RATIO, "hold", Cite("aci-332-20"), RATIOS,
          "water over cement in class RF3"),
    Limit("canadian_salted_at_least", "2", Kind.COUNT, "caution", Cite("csa-a23.1"), ("0", "2"),
          "what a Canadian class of a flat slab that freezes with salt on it is against: 2 frost and salt, 1 frost"),
    Limit("canadian_wet_at_least", "1", Kind.COUNT, "note", Cite("common-practice"), ("0", "2"),
          "what a Canadian class of a flat slab that freezes is against: 2 frost and salt, 1 frost"),
    Limit("c2_strength_at_least", "32 MPa", Kind.STRESS, "caution", Cite("csa-a23.1"), ("20 MPa", "50 MPa"),
          "strength in the Canadian classes C-2, C-1 and C-XL"),
    Limit("c2_water_at_most", "0.45", Kind.RATIO, "caution", Cite("csa-a23.1"), RATIOS,
          "water over cement in the Canadian classes C-2, C-1 and C-XL"),
    Limit("c2_air_at_least", "5 %", Kind.SHARE, "caution", Cite("csa-a23.1"), ("3 %", "8 %"),
          "air in the Canadian classes C-2, C-1 and C-XL, with stone up to 25 mm"),
)  # fmt: skip
WORKED = ()
SMALL_STONE = 0.025  # m, up to which the air of the Canadian class is told (common practice)


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The class against the site, then strength, water over cement, and air where the class names it."""
    mix = plan.design.mix
    if mix.exposure is None:
        does_not_apply("no exposure class is written (mix.exposure)")
    if mix.classes:
        does_not_apply("the class is one of the European standard")
    at, name = plan.spot("the mix", "mix.exposure"), _row(plan, mix.exposure)
    least, water = limits.get(f"{name}_strength_at_least"), limits.get(f"{name}_water_at_most")
    if least and mix.strength is None and (mix.water_cement is None or water is None):
        plan.given("mix.strength")
    against = _of_site(plan, limits, mix.exposure)
    if against:
        yield against
    elif least is None:  # `freezing-strength` and `freezing-air` hold its mix to the site
        does_not_apply("the class asks nothing here that is known")
    if mix.strength and least:
        yield _strength(plan, at, mix.strength, least)
    if mix.water_cement and water:
        yield compare(
            at, mix.water_cement, water,
            says=lambda: words("the mix has more water than class {name} takes", name=str(mix.exposure)),
            remedy=lambda: _drier(water),
        )  # fmt: skip
    air = limits.get(f"{name}_air_at_least")
    if mix.air and air and _of_small_stone(plan):
        little = words("{air} of air is little for class {name}", air=mix.air, name=mix.exposure)
        yield compare(at, mix.air, air, says=lambda: little, remedy=lambda: _airier(air))


def _of_site(plan: Plan, limits: Limits, name: str) -> Finding | Margin | None:
    """The class against that of a flat slab in the open that freezes."""
    site = plan.design.site
    if not plan.outdoors or site.freezing not in ("moderate", "severe"):
        return None
    where = "that freezes with salt on it" if site.deicing_salt else "that freezes wet"
    if name in FROST_OF_CANADIAN:
        shown, other = FROST_OF_CANADIAN[name], "C-2" if site.deicing_salt else "F-1"
        of_site = limits.canadian_salted_at_least if site.deicing_salt else limits.canadian_wet_at_least
    else:
        of_site = limits.salted_class_at_least if site.deicing_salt else limits.wet_class_at_least
        shown, other = int(name[-1]), f"{name[:-1]}{round(of_site.value.si)}"
    return compare(
        plan.spot("the exposure class", "mix.exposure"), count(shown), of_site,
        says=lambda: words(f"{name} is not the class of a flat slab {where}"),
        remedy=lambda: _ordered(plan, limits, other),
    )  # fmt: skip


def _row(plan: Plan, name: str) -> str:
    """The row of limits of a class: F3 has one of its own for plain concrete, and harder Canadian ones that of C-2."""
    if FROST_OF_CANADIAN.get(name) == 2:
        return "c2"
    barred = any(bed.steel.bars for bed in plan.steel.beds)
    return "plain_f3" if name == "F3" and not barred else name.lower().replace(" ", "_")


def _ordered(plan: Plan, limits: Limits, name: str) -> Remedy:
    """Another class, with what it asks and the mix lacks."""
    mix, row = plan.design.mix, _row(plan, name)
    remedies = [write("mix.exposure", name, words(f"order {name}"))]
    asked, water = limits.get(f"{row}_strength_at_least"), limits.get(f"{row}_water_at_most")
    if asked and mix.strength and not asked.met(mix.strength):
        order = strength_class(asked.value.si) if mix.strength.typed.startswith("C") else asked.value
        remedies.append(write("mix.strength", order, words("order {write}", write=order)))
    if water and mix.water_cement and not water.met(mix.water_cement):
        remedies.append(_drier(water))
    air = limits.get(f"{row}_air_at_least")
    if air and mix.air and _of_small_stone(plan) and not air.met(mix.air):
        remedies.append(_airier(air))
    return together(*remedies)


def _drier(limit: InForce) -> Remedy:
    return write("mix.water_cement", limit.value,
                 words("order water over cement of {write} or less", write=limit.value))  # fmt: skip


def _airier(limit: InForce) -> Remedy:
    return write("mix.air", limit.value, words("order {write} of air", write=limit.value))


def _of_small_stone(plan: Plan) -> bool:
    """Whether the air of the Canadian class is that of the stone."""
    stone = plan.design.mix.aggregate
    return stone is None or meets(stone.si, SMALL_STONE, "most")


def _strength(plan: Plan, at: Spot, f: Amount, limit: InForce) -> Finding | Margin:
    asked = limit.value
    order = strength_class(asked.si) if f.typed.startswith("C") else asked
    more = stress(order.si - f.si)
    return compare(
        at, f, limit,
        says=lambda: words("{f} is weak for class {name}", f=f, name=str(plan.design.mix.exposure)),
        working=lambda: step("short by", "strength asked - strength", words("{a} - {f}", a=order, f=f), more),
        remedy=lambda: write("mix.strength", order, words("order {write}: {m} more", write=order, m=more)),
    )  # fmt: skip
