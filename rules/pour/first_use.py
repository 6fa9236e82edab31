"""Nobody walks, drives or parks on it before it can bear them.

What is compared
    Compares the time from placing to the first feet, cars and heavy vehicles, as written, with 24 hours, 7 days and 28
    days. Cars may come before, where cylinders that lay beside the slab broke at 3,000 psi (`pour.first_use.tested`).
Why it matters
    A slab that carries a car on the third day carries it on half of its strength. The hairline that it leaves is
    found by water, and by frost, every winter after.
When it does not apply
    No first use is written: the usual days hold.
How to put it right
    Barricade it, and paint the date on the barricade. Warm weather or a richer mix may bring the day nearer: break a
    cylinder that lay beside the slab, and see.
Where sources differ
    Most contractors' pages say 24 to 48 hours, a week and four weeks; one supplier opens to cars after 5 and to heavy
    traffic after 7 days, one association lets heavy trucks on after six months. States open roads at 2,600 to 3,500
    psi: 3,000 is their middle. All of the days are common practice, and count days over 50 °F.
"""

from __future__ import annotations

from slabwright.formulas.units import DAY
from slabwright.formulas.weather import CAR_TRAFFIC, HEAVY_TRAFFIC
from slabwright.rulebook.kit import *

TITLE = "Not used too soon"
EACH_POUR = True
LIMITS = (
    Limit("heavy_at_least", "28 days", Kind.DURATION, "caution", Cite("contractor-pages"), ("3 days", "60 days"),
          "time to the first heavy vehicle"),
    Limit("cars_at_least", "7 days", Kind.DURATION, "caution", Cite("contractor-pages"), ("1 days", "28 days"),
          "time to the first car"),
    Limit("tested_at_least", "3000 psi", Kind.STRESS, "caution", Cite("irise-opening"), ("1500 psi", "5000 psi"),
          "strength of cylinders at the first car, before its usual day"),
    Limit("feet_at_least", "24 h", Kind.DURATION, "note", Cite("contractor-pages"), ("4 h", "7 days"),
          "time to the first feet"),
)  # fmt: skip
WORKED = (
    Worked("cars", duration(7 * DAY), lambda: CAR_TRAFFIC, 1e-6, Cite("contractor-pages"), "we-traffic"),
    Worked("heavy vehicles", duration(28 * DAY), lambda: HEAVY_TRAFFIC, 1e-6, Cite("contractor-pages"), "we-traffic"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Heavy vehicles, cars, feet."""
    use = plan.design.pour.first_use if plan.design.pour else None
    if use is None or not (use.feet or use.cars or use.heavy):
        does_not_apply("no first use is written (pour.first_use): the usual days hold")
    if use.heavy:
        yield _first(use.place, "heavy", "heavy vehicles", use.heavy, limits.heavy_at_least)
    if use.cars and use.tested and not limits.cars_at_least.met(use.cars):
        f, asked = use.tested, limits.tested_at_least.value
        yield compare(
            Spot("the first cars", use.place), f, limits.tested_at_least, asked=asked,
            says=lambda: words("cylinders of {f} are too weak for cars", f=f),
            remedy=lambda: write("pour.first_use.cars", limits.cars_at_least.value,
                                 words("keep cars off it for {write}", write=limits.cars_at_least.value)),
        )  # fmt: skip
    elif use.cars:
        yield _first(use.place, "cars", "cars", use.cars, limits.cars_at_least)
    if use.feet:
        yield _first(use.place, "feet", "feet", use.feet, limits.feet_at_least)


def _first(place: Place, key: str, what: str, after: Amount, limit: InForce) -> Finding | Margin:
    later = words("keep {what} off it for {write}", what=what, write=limit.value)
    return compare(
        Spot(f"the first {what}", place), after, limit,
        says=lambda: words("{what} come on it after {d}, before it can bear them", what=what, d=after),
        remedy=lambda: write(f"pour.first_use.{key}", limit.value, later),
    )  # fmt: skip
