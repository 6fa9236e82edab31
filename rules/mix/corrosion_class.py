"""A mix that is ordered by European classes for its steel, XC and XD, is what each of them asks.

What is compared
    Compares strength as a class, and water over cement, with every class from XC1 to XC4 and from XD1 to XD3 under
    `mix.exposure`. Where several stand there together, as XC4 and XF1 do on the ticket of a plain drive, the mix must
    keep them all. C30/37 is 30 MPa on cylinders, 37 MPa on cubes; the first number is the one compared.
Why it matters
    Air turns the skin of concrete sour, and salt goes deeper still; where either comes to the steel it rusts, swells
    and lifts the cover off. Strength and water over cement are what keeps it slow. The plant batches what the ticket
    says: where class and numbers disagree, the weaker one comes.
When it does not apply
    No class XC or XD is written. A slab without steel needs neither.
How to put it right
    Order the strength and the water of the hardest class written.
Where sources differ
    EN 206-1 recommends C30/37 and 0.50 for XC4, the German annex C25/30 and 0.60; each country sets its own, and
    amendments make the limits what your country has. So what EN 206-1 recommends for air alone is a note until they do.
    With entrained air Germany takes one class lower for XD; EN 206-1 does not, so both are the same until an amendment
    parts them, and with air it is a note. None is a hold here. Frost is judged by `frost-class`.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "A mix as its classes for the steel ask"
TABLE, MPAS, RATIOS = Cite("en-206-1"), ("10 MPa", "60 MPa"), ("0.35", "0.8")
LIMITS = (
    Limit("xc1_strength_at_least", "C20/25", Kind.STRESS, "note", TABLE, MPAS, "strength on cylinders in class XC1"),
    Limit("xc1_water_at_most", "0.65", Kind.RATIO, "note", TABLE, RATIOS, "water over cement in class XC1"),
    Limit("xc2_strength_at_least", "C25/30", Kind.STRESS, "note", TABLE, MPAS, "strength on cylinders in class XC2"),
    Limit("xc2_water_at_most", "0.60", Kind.RATIO, "note", TABLE, RATIOS, "water over cement in class XC2"),
    Limit("xc3_strength_at_least", "C30/37", Kind.STRESS, "note", TABLE, MPAS, "strength on cylinders in class XC3"),
    Limit("xc3_water_at_most", "0.55", Kind.RATIO, "note", TABLE, RATIOS, "water over cement in class XC3"),
    Limit("xc4_strength_at_least", "C30/37", Kind.STRESS, "note", TABLE, MPAS, "strength on cylinders in class XC4"),
    Limit("xc4_water_at_most", "0.50", Kind.RATIO, "note", TABLE, RATIOS, "water over cement in class XC4"),
    Limit("xd1_strength_at_least", "C30/37", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XD1"),
    Limit("xd1_water_at_most", "0.55", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XD1"),
    Limit("xd2_strength_at_least", "C30/37", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XD2"),
    Limit("xd2_water_at_most", "0.55", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XD2"),
    Limit("xd3_strength_at_least", "C35/45", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XD3"),
    Limit("xd3_water_at_most", "0.45", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XD3"),
    Limit("xd1_aired_strength_at_least", "C30/37", Kind.STRESS, "note", TABLE, MPAS, "the same with entrained air"),
    Limit("xd2_aired_strength_at_least", "C30/37", Kind.STRESS, "note", TABLE, MPAS, "the same with entrained air"),
    Limit("xd3_aired_strength_at_least", "C35/45", Kind.STRESS, "note", TABLE, MPAS, "the same with entrained air"),
)  # fmt: skip
AIRED = 0.035  # share, the least mean air of any stone, `din-1045-2`
WORKED = ()


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Of the classes that are written the hardest; a number that lacks is asked for where the other does not fail."""
    written = [one for one in plan.design.mix.classes if f"{one.lower()}_strength_at_least" in limits]
    if not written:
        does_not_apply("no class XC1 to XC4 or XD1 to XD3 is written (mix.exposure)")
    found = list(_found(plan, limits, written))
    if not any(isinstance(one, Finding) for one in found):
        plan.all_given("mix.strength", "mix.water_cement")
    yield from found


def _found(plan: Plan, limits: Limits, written: Sequence[str]) -> Conclusions:
    """Strength, then water over cement; of classes that ask alike, the first one speaks."""
    mix = plan.design.mix
    driest = min((limits[f"{one.lower()}_water_at_most"] for one in written), key=lambda one: one.value.si)
    dry = write("mix.water_cement", driest.value,
                words("order water over cement of {water} or less", water=driest.value))  # fmt: skip
    if strength := mix.strength:
        aired = mix.air is not None and meets(mix.air.si, AIRED, "least")
        strongest = max((_strength(limits, one.lower(), aired) for one in written), key=lambda one: one.value.si)
        less = stress(strongest.value.si - strength.si)
        yield compare(
            plan.spot("the mix", "mix.strength"), strength, strongest,
            says=lambda: words("{f} is weak for class {name}", f=strength, name=_class(strongest)),
            working=lambda: step("short by", "strength asked - strength",
                                 words("{a} - {b}", a=strongest.value, b=strength), less),
            remedy=lambda: together(
                write("mix.strength", strongest.value, words("order {write}", write=strongest.value)),
                *([] if mix.water_cement else [dry])),
        )  # fmt: skip
    if water := mix.water_cement:
        yield compare(
            plan.spot("the mix", "mix.water_cement"), water, driest,
            says=lambda: words("water over cement of {w} is more than class {name} takes",
                               w=water, name=_class(driest)),
            working=lambda: step("over by", "water - most", words("{b} - {a}", a=driest.value, b=water),
                                 ratio(water.si - driest.value.si)),
            remedy=lambda: dry,
        )  # fmt: skip


def _strength(limits: Limits, name: str, aired: bool) -> InForce:
    """The strength a class asks; of the classes of salt that for entrained air, where it is in the mix."""
    usual = limits[f"{name}_strength_at_least"]
    return limits.get(f"{name}_aired_strength_at_least", usual) if aired else usual


def _class(limit: InForce) -> str:
    """The class a limit belongs to: ``XC4``."""
    return limit.name[:3].upper()
