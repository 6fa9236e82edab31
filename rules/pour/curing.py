"""The slab is kept wet long enough, or sealed with enough compound.

What is compared
    Compares the days it is kept wet with 3, and with the usual 7, which is a note; the area that a gallon of compound
    covers with 200 ft2, on a troweled surface with 300; and the compound bought with what the slab takes at that rate,
    and 15 % more on a broomed surface, give or take a twentieth, since it is sold in whole pails. A metric plan may
    write 5 m2/L, and 7.5 m2/L on a troweled surface.
Why it matters
    Concrete hardens by drinking, not by drying. A top that dried on the first day is weak for good: it dusts, and
    scales in the second winter, over concrete that is sound.
When it does not apply
    Nothing is said of the day of the pour.
How to put it right
    Spray in two coats, the second across the first, as soon as the sheen is gone. Wet burlap stays wet, day and night.
    Sheeting lies tight, or it leaves spots.
Where sources differ
    Three days are the least that any text has for warm weather; houses are often cured so long, and the code of Europe
    goes by how fast the concrete hardens (recalled). The rate and the week are a guide specification's, which also
    takes 400 ft2 a gallon in each of two coats. One state lets compound lose less water than the standard does. What a
    broomed surface drinks, and that compounds go further on one closed by the trowel, is common practice.
"""

from __future__ import annotations

import math

from slabwright.formulas.units import FOOT2, GALLON
from slabwright.formulas.weather import BROOM_FACTORS, COMPOUND_RATE, curing_compound
from slabwright.rulebook.kit import *

TITLE = "Cured long enough, or sealed"
EACH_POUR = True
LIMITS = (
    Limit("wet_at_least", "3 days", Kind.DURATION, "caution", Cite("common-practice"), ("1 days", "28 days"),
          "time the slab is kept wet"),
    Limit("usual_wet_at_least", "7 days", Kind.DURATION, "note", Cite("ufgs-03311"), ("1 days", "28 days"),
          "time the slab is kept wet, as specifications write it"),
    Limit("coverage_at_most", "200 ft2/gal", Kind.COVERAGE, "caution", Cite("ufgs-03311"),
          ("80 ft2/gal", "400 ft2/gal"), "area that a {gallon|liter} of compound covers, both coats together"),
    Limit("troweled_coverage_at_most", "300 ft2/gal", Kind.COVERAGE, "caution", Cite("common-practice"),
          ("80 ft2/gal", "600 ft2/gal"), "area that a {gallon|liter} of compound covers on a troweled surface"),
    Limit("bought_at_least", "1", Kind.RATIO, "caution", Cite("geometry"), ("0.8", "1.5"),
          "compound bought, over what the slab takes"),
)  # fmt: skip
WORKED = (
    Worked("800 ft2 at 200 ft2/gal", small_volume(4 * GALLON), lambda: curing_compound(800 * FOOT2, COMPOUND_RATE),
           0.05 * GALLON, Cite("ufgs-03311"), "we-cure-gallons"),
    Worked("the same, broomed", small_volume(4.6 * GALLON),
           lambda: curing_compound(800 * FOOT2, COMPOUND_RATE, BROOM_FACTORS[0]), 0.05 * GALLON,
           Cite("common-practice"), "we-cure-gallons"),
)  # fmt: skip
DRUM = 0.05  # as a share: so much less than what a broom asks is whole pails or drums, by common practice
ROUGH = ("broom", "coarse broom", "grooved")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Days, or rate and quantity."""
    if (pour := plan.design.pour) is None:
        does_not_apply("nothing is said of the day of the pour (pour)")
    if (cure := pour.curing) is None:
        add = "pour.curing: how it is kept from drying, such as {method: compound, rate: {200 ft2/gal|5 m2/L}}"
        not_shown(add, place=pour.place)
    at = Spot("the curing", cure.place)
    if cure.method != "compound":
        days, week = plan.given("pour.curing.days"), limits.usual_wet_at_least
        yield compare(
            at, days, limits.wet_at_least, week,
            says=lambda: words("after {d} it dries, and stops getting harder", d=days),
            remedy=lambda: write(
                "pour.curing.days", week.value, words("keep it wet for {write}", write=week.value)),
        )  # fmt: skip
        return
    if cure.rate is None and cure.quantity is None:
        plan.given("pour.curing.rate")
    most = limits.troweled_coverage_at_most if pour.finish == "trowel" else limits.coverage_at_most
    asked = coverage(math.ceil(most.value.si / 500 - 1e-6) * 500) if plan.home == "metric" else most.value
    if rate := cure.rate:
        yield compare(
            at, rate, most, asked=asked,
            says=lambda: words("compound spread over {r} does not close", r=rate),
            remedy=lambda: write("pour.curing.rate", asked, words("spray it at {write}", write=asked)),
        )  # fmt: skip
    if bought := cure.quantity:
        factor = BROOM_FACTORS[0] if pour.finish in ROUGH else 1.0
        at_rate = rate or asked
        need = small_volume(curing_compound(plan.shape.area, at_rate.si, factor))
        least = small_volume(need.si * max(limits.bought_at_least.value.si, 0.1))
        enough = round_up(least, 0.001 if plan.home == "metric" else GALLON)
        numbers = words("{a} / {r} x {f}", a=area(plan.shape.area), r=at_rate, f=ratio(factor))
        yield compare(
            Spot("the compound", cure.place), ratio(bought.si / need.si), limits.bought_at_least,
            give=DRUM,
            says=lambda: words("{q} of compound is bought, and the slab takes {n}", q=bought, n=need),
            working=lambda: step("need", "area / coverage x roughness", numbers, need),
            remedy=lambda: write("pour.curing.quantity", enough, words("buy {write}", write=enough)),
        )  # fmt: skip
