"""Where the soil holds sulfate, the mix is dense and strong enough to keep it out, and so is its cement.

What is compared
    Compares strength, water over cement and the type of the cement with the class of the soil: S1 from 0.10 % of
    sulfate that water dissolves, S2 from 0.20 %, S3 over 2 %. The cement of S1 resists sulfate (II or MS), that of S2
    and S3 resists it more (V or HS). With pozzolan or slag besides, S3 takes the strength and water of S2.
Why it matters
    Sulfate goes into wet concrete from below and grows there. The slab swells, cracks like a map, and turns to grit
    from the underside up; it looks sound until a heel goes through.
When it does not apply
    No sulfate is written, or less than 0.10 %.
How to put it right
    Order the strength and water of the class, and the cement it asks: the plant knows which it has. A sheet and a
    gravel base help to keep the slab dry.
Where sources differ
    The table is for structural concrete, which a slab on ground seldom is, so it cautions here. ACI 201.2R asks 0.40 in
    S3, older building codes 0.45. That a soil of just 0.20 % is S2 was read, that S1 wants type II and what S3's two
    ways are is recalled. The class hangs on how the soil was tested: ask where it lies near a bound.
"""

from __future__ import annotations

from slabwright.formulas.mix import CEMENT_RESISTANCE, sulfate_class
from slabwright.rulebook.kit import *

TITLE = "A mix that keeps sulfate out"
PSIS, RATIOS, TABLE = ("2500 psi", "8000 psi"), ("0.35", "0.6"), Cite("aci-318-19", "Table 19.3.2.1")
BY_MEMORY = Cite("aci-318-19-recalled", "Table 19.3.2.1")
LIMITS = (
    Limit("s1_strength_at_least", "4000 psi", Kind.STRESS, "caution", TABLE, PSIS, "strength in class S1"),
    Limit("s2_strength_at_least", "4500 psi", Kind.STRESS, "caution", TABLE, PSIS, "strength in class S2"),
    Limit("s3_strength_at_least", "5000 psi", Kind.STRESS, "caution", TABLE, PSIS, "strength in class S3"),
    Limit("s3_pozzolan_strength_at_least", "4500 psi", Kind.STRESS, "caution", BY_MEMORY, PSIS,
          "strength in class S3 with pozzolan or slag"),
    Limit("s1_water_at_most", "0.50", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class S1"),
    Limit("s2_water_at_most", "0.45", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class S2"),
    Limit("s3_water_at_most", "0.40", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class S3"),
    Limit("s3_pozzolan_water_at_most", "0.45", Kind.RATIO, "caution", BY_MEMORY, RATIOS,
          "water over cement in class S3 with pozzolan or slag"),
    Limit("s1_cement_at_least", "1", Kind.COUNT, "caution", BY_MEMORY, ("0", "3"),
          "resistance of the cement in class S1: 0 none, 1 some (II, MS), 2 much (V, HS)"),
    Limit("s2_cement_at_least", "2", Kind.COUNT, "caution", Cite("aci-318-19", "cement of class S2"), ("0", "3"),
          "resistance of the cement in class S2: 0 none, 1 some (II, MS), 2 much (V, HS)"),
    Limit("s3_cement_at_least", "2", Kind.COUNT, "caution", BY_MEMORY, ("0", "3"),
          "resistance of the cement in class S3: 0 none, 1 some (II, MS), 2 much (V, HS)"),
)  # fmt: skip
USUAL = {"us": ("II", "V", "V with pozzolan"), "metric": ("CEM I-SR",)}  # cements to order
WORKED = (
    Worked("class S of 0.15 %", count(1), lambda: float(sulfate_class(0.0015)[1:]), 0.0, Cite("pca-eb001"),
           "mx-sulfate"),
    Worked("class S of 1.0 %", count(2), lambda: float(sulfate_class(0.010)[1:]), 0.0, Cite("pca-eb001"), "mx-sulfate"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Strength, water over cement, and the cement; without the type of the cement the first two, where they fail."""
    soil, mix = plan.design.site.soil, plan.design.mix
    if soil is None or soil.sulfate is None:
        does_not_apply("no sulfate in the soil is written (site.soil.sulfate)")
    name = sulfate_class(soil.sulfate.si).lower()
    if name == "s0":
        does_not_apply("the soil holds too little sulfate to matter")
    if mix.strength is None and mix.water_cement is None:
        plan.all_given("mix.strength", "mix.water_cement")
    resists = CEMENT_RESISTANCE.get(mix.cement_type, 0) if mix.cement_type else None
    either = name == "s3" and resists in (None, 3)  # the way of pozzolan may be meant, or is
    found = list(_mix(plan, limits, soil.sulfate, "s3_pozzolan" if either else name))
    full = list(_mix(plan, limits, soil.sulfate, name))
    short = any(isinstance(one, Finding) for one in found)
    if resists is None and not short:
        plan.given("mix.cement_type")
    yield from full if resists is None else found
    if resists is not None:
        least = limits[f"{name}_cement_at_least"]
        other = _usual(plan, least)
        yield compare(
            plan.spot("the cement", "mix.cement_type"), count(resists), least,
            says=lambda: words("cement {type} does not stand soil of class {name}", type=str(mix.cement_type),
                               name=name.upper()),
            remedy=lambda: write("mix.cement_type", other, words("order cement {write}", write=other)),
        )  # fmt: skip


def _usual(plan: Plan, least: InForce) -> str:
    """The cement whose resistance is nearest to what is asked."""
    return min(USUAL[plan.home], key=lambda one: abs(CEMENT_RESISTANCE[one] - least.value.si))


def _with_cement(plan: Plan, limits: Limits, row: str, remedy: Remedy) -> Remedy:
    """A remedy of the mix with a cement of the class, where none is written."""
    if plan.design.mix.cement_type:
        return remedy
    cement = _usual(plan, limits[f"{row[:2]}_cement_at_least"])
    return together(remedy, write("mix.cement_type", cement, words("order cement {cement}", cement=cement)))


def _mix(plan: Plan, limits: Limits, sulfate: Amount, row: str) -> Conclusions:
    """Strength, then water over cement, by a row of the table."""
    mix, name, most = plan.design.mix, row[:2].upper(), limits[f"{row}_water_at_most"]
    drier = write("mix.water_cement", most.value, words("order water over cement of {write} or less", write=most.value))
    wet = mix.water_cement is not None and not most.met(mix.water_cement)
    weak = False
    if f := mix.strength:
        limit = limits[f"{row}_strength_at_least"]
        order = strength_class(limit.value.si) if f.typed.startswith("C") else limit.value
        more = stress(order.si - f.si)
        weak = not limit.met(f)
        yield compare(
            plan.spot("the mix", "mix.strength"), f, limit,
            says=lambda: words("{f} is weak for soil with {s} of sulfate, class {name}" +
                               (", and so much water lets it in" if wet else ""), f=f, s=sulfate, name=name),
            working=lambda: step("short by", "strength to order - strength", words("{a} - {f}", a=order, f=f), more),
            remedy=lambda: _with_cement(plan, limits, row, together(
                write("mix.strength", order, words("order {write}: {m} more", write=order, m=more)), *[drier] * wet)),
        )  # fmt: skip
    if mix.water_cement and not (weak and wet):  # one mix is ordered
        yield compare(
            plan.spot("the mix", "mix.water_cement"), mix.water_cement, most,
            says=lambda: words("with so much water the mix lets sulfate in, class {name}", name=name),
            remedy=lambda: _with_cement(plan, limits, row, drier),
        )  # fmt: skip
