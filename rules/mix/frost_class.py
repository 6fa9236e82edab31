"""A mix that is ordered by a frost class of the European standard is what the class asks.

What is compared
    With XF1 to XF4 under mix.exposure: strength, water over cement, air for all but XF1, and cement where the file
    gives it (mix.cement). XF1 is wet now and then, XF2 with deicing salt; XF3 stays wet, XF4 with salt. C30/37 is
    30 MPa on cylinders, 37 MPa on cubes; the first number is the one compared.
Why it matters
    The plant batches what the ticket says. Where the class and the numbers disagree, one of the two is a slip, and the
    weaker one is what comes. Two winters later the skin of the slab is gone.
When it does not apply
    No XF class is written.
How to put it right
    Order the numbers of the class, or write the class that is meant. Get the slump by admixture.
Where sources differ
    All figures are recalled, not checked, from an annex that only recommends: each country that uses the standard sets
    its own, and some ask no air of XF3. So none of them is a hold here; amendments make them what your country has.
    American classes are judged by `exposure-class`, frost and salt by `freezing-strength` and `freezing-air`.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "A mix as its frost class asks"
TABLE = Cite("en-206-recalled", "Table F.1")
MPAS, RATIOS, AIRS, DOSES = ("10 MPa", "60 MPa"), ("0.35", "0.7"), ("2 %", "8 %"), ("200 kg/m3", "500 kg/m3")
LIMITS = (
    Limit("xf1_strength_at_least", "C30/37", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XF1"),
    Limit("xf1_water_at_most", "0.55", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XF1"),
    Limit("xf1_cement_at_least", "300 kg/m3", Kind.UNIT_WEIGHT, "caution", TABLE, DOSES, "cement in class XF1"),
    Limit("xf2_strength_at_least", "C25/30", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XF2"),
    Limit("xf2_water_at_most", "0.55", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XF2"),
    Limit("xf2_cement_at_least", "300 kg/m3", Kind.UNIT_WEIGHT, "caution", TABLE, DOSES, "cement in class XF2"),
    Limit("xf2_air_at_least", "4 %", Kind.SHARE, "caution", TABLE, AIRS, "air in class XF2"),
    Limit("xf3_strength_at_least", "C30/37", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XF3"),
    Limit("xf3_water_at_most", "0.50", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XF3"),
    Limit("xf3_cement_at_least", "320 kg/m3", Kind.UNIT_WEIGHT, "caution", TABLE, DOSES, "cement in class XF3"),
    Limit("xf3_air_at_least", "4 %", Kind.SHARE, "caution", TABLE, AIRS, "air in class XF3"),
    Limit("xf4_strength_at_least", "C30/37", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XF4"),
    Limit("xf4_water_at_most", "0.45", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XF4"),
    Limit("xf4_cement_at_least", "340 kg/m3", Kind.UNIT_WEIGHT, "caution", TABLE, DOSES, "cement in class XF4"),
    Limit("xf4_air_at_least", "4 %", Kind.SHARE, "caution", TABLE, AIRS, "air in class XF4"),
)
WORKED = ()
MORE = {"strength": stress, "air": share, "cement": unit_weight}  # what can fall short, and its kind


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each number that the class asks and the file gives."""
    mix = plan.design.mix
    if mix.exposure is None or not mix.exposure.startswith("XF"):
        does_not_apply("no frost class from XF1 to XF4 is written (mix.exposure)")
    plan.all_given("mix.strength", "mix.water_cement", *([] if mix.exposure == "XF1" else ["mix.air"]))
    given = {"strength": mix.strength, "water": mix.water_cement, "cement": mix.cement, "air": mix.air}
    for limit in limits.values():
        frost, what, *_ = limit.name.split("_")
        shown = given[what]
        if frost.upper() != mix.exposure or shown is None:
            continue
        yield _water(plan, shown, limit) if what == "water" else _short(plan, shown, limit, what)


def _water(plan: Plan, shown: Amount, limit: InForce) -> Finding | Margin:
    less = words("order water over cement of {write} or less", write=limit.value)
    return compare(
        plan.spot("the mix", "mix.exposure"), shown, limit,
        says=lambda: words("the mix has more water than class {name} takes", name=str(plan.design.mix.exposure)),
        remedy=lambda: write("mix.water_cement", limit.value, less),
    )  # fmt: skip


def _short(plan: Plan, shown: Amount, limit: InForce, what: str) -> Finding | Margin:
    """Strength, air or cement."""
    more = MORE[what](limit.value.si - shown.si)
    said, of = ("is weak for", "") if what == "strength" else (f"of {what} is little for", f" of {what}")
    return compare(
        plan.spot("the mix", "mix.exposure"), shown, limit,
        says=lambda: words(f"{{shown}} {said} class {{name}}", shown=shown, name=str(plan.design.mix.exposure)),
        working=lambda: step(
            "short by", f"{what} asked - {what}", words("{a} - {b}", a=limit.value, b=shown), more),
        remedy=lambda: write(
            f"mix.{what}", limit.value, words(f"order {{write}}{of}: {{more}} more", write=limit.value, more=more)),
    )  # fmt: skip
