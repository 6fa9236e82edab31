"""Concrete goes in warm enough for the cold, and stays so until it can bear frost.

What is compared
    Compares the lowest air while the concrete is young with 40 °F, unless what covers it is written
    (`pour.protection`): then it compares the days it is covered with 3, or with 2 indoors. Where the air is lower, it
    compares the concrete as delivered with 55 °F, or with 50 °F where the slab is a foot thick and more; and, where it
    is cured with water, the air with 32 °F, unless blankets lie as long over a wet cover. Ground that is frozen falls
    short.
Why it matters
    Concrete that freezes before it has 500 psi loses up to half its strength for good: the water in it grows to ice and
    lifts it apart. By spring the top sweeps off with a broom.
When it does not apply
    No temperature of the air is written, and the ground is not said to be frozen (site.base.frozen).
How to put it right
    Lay blankets close on the concrete the same evening, for three days, and order hot water from the plant. Put
    sheeting under the blankets in place of wet burlap. Nothing goes on frozen ground, ever: thaw it, clear the ice, and
    lay blankets on the base the night before. Or wait for the weather.
Where sources differ
    The newer ACI guide takes cold as any time under 40 °F; that of 1988 took three days with a mean under 40 °F. The
    newer, simpler one is used. Both temperatures of the concrete are as a textbook prints them from ACI 306R, the days
    as a laboratory's slides do: 2 for what is never exposed, 3 for what is, 6 where it is loaded early. 500 psi stands
    one frost, and only where no water comes to it from outside: salt and thaw want 3,500.
"""

from __future__ import annotations

from slabwright.formulas.units import DAY, INCH, celsius
from slabwright.formulas.weather import COLD_BELOW, cold_weather
from slabwright.rulebook.kit import *

TITLE = "Warm until it can bear frost"
EACH_POUR = True
LIMITS = (
    Limit("concrete_at_least", "55 °F", Kind.TEMPERATURE, "hold", Cite("aci-306r-beall"), ("40 °F", "80 °F"),
          "concrete as delivered in cold weather, slabs under {12 in|300 mm}"),
    Limit("thick_concrete_at_least", "50 °F", Kind.TEMPERATURE, "hold", Cite("aci-306r-beall"), ("40 °F", "80 °F"),
          "concrete as delivered in cold weather, slabs of {12 in|300 mm} and more"),
    Limit("air_at_least", "40 °F", Kind.TEMPERATURE, "caution", Cite("aci-306r-10"), ("25 °F", "55 °F"),
          "lowest air while the slab is young and uncovered"),
    Limit("covered_at_least", "3 days", Kind.DURATION, "caution", Cite("aci-306r-10", "service categories"),
          ("1 days", "28 days"), "time that a slab in the open is covered in the cold"),
    Limit("covered_indoors_at_least", "2 days", Kind.DURATION, "caution", Cite("aci-306r-10", "service categories"),
          ("1 days", "28 days"), "time that a slab indoors is covered in the cold"),
    Limit("wet_air_at_least", "32 °F", Kind.TEMPERATURE, "caution", Cite("trade-article-cold-curing"),
          ("25 °F", "45 °F"), "lowest air where the slab is cured with water"),
    Limit("frozen_at_most", "0 ft2", Kind.AREA, "caution", Cite("beall", "p. 77"), ("0 ft2", "1000 ft2"),
          "area on frozen ground"),
)  # fmt: skip
WORKED = (
    Worked("under 12 in, placed and kept", temperature(celsius(55)),
           lambda: cold_weather(4 * INCH).placed_and_kept, 1e-9, Cite("aci-306r-beall"), "we-cold-under-12in"),
    Worked("12 to 36 in, placed and kept", temperature(celsius(50)),
           lambda: cold_weather(12 * INCH).placed_and_kept, 1e-9, Cite("aci-306r-beall"), "we-cold-12-36in"),
)  # fmt: skip
THICK = 12 * INCH  # m, `aci-306r-beall`


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Frozen ground, then the lowest air, and where it is cold the concrete and the curing."""
    pour, base = plan.design.pour, plan.design.site.base
    said = pour.weather if pour else None
    known = [one for one in (said.low, said.air) if one] if said else []
    if not known and not (base and base.frozen):
        does_not_apply("no temperature of the air is written (pour.weather)")
    if base and base.frozen is not None:
        yield compare(
            plan.spot("the base", "site.base.frozen"), area(plan.shape.area if base.frozen else 0.0),
            limits.frozen_at_most,
            says=lambda: words("concrete on frozen ground settles when it thaws"),
            decide=lambda: words("thaw it and keep it thawed with blankets, or wait; nothing goes on frozen ground"),
        )  # fmt: skip
    if said is None or not known:
        return
    lowest = min(known, key=lambda one: one.si)
    wet = pour is not None and pour.curing is not None and pour.curing.method in ("wet cover", "sprinkling")
    wet = wet and not _kept_warm(plan) and not meets(lowest.si, COLD_BELOW, "least")
    dry = write("pour.curing.method", "sheeting", words("cover it with sheeting in place of water"))
    of_cover = _covered(plan, limits, lowest, [dry] * (wet and not limits.wet_air_at_least.met(lowest)))
    yield of_cover
    if meets(lowest.si, COLD_BELOW, "least"):
        return
    if concrete := said.concrete:
        thick = meets(plan.areas.thicknesses[0], THICK, "least")
        warm = limits.thick_concrete_at_least if thick else limits.concrete_at_least
        asked = round_up(warm.value, 1.0) if plan.home == "metric" else warm.value
        warmer = words("have it delivered at {write} or warmer, and keep it so", write=asked)
        yield compare(
            Spot("the concrete", said.place), concrete, warm,
            says=lambda: words("concrete of {c} is too cold to set where it gets down to {t}", c=concrete, t=lowest),
            remedy=lambda: write("pour.weather.concrete", asked, warmer),
        )  # fmt: skip
    if wet and not isinstance(of_cover, Finding):  # else that is told with the cover
        yield compare(
            plan.spot("the curing", "pour.curing.method"), lowest, limits.wet_air_at_least,
            says=lambda: words("water that cures it freezes at {t}", t=lowest),
            remedy=lambda: dry,
        )  # fmt: skip


def _kept_warm(plan: Plan) -> bool:
    """Whether what keeps the slab warm lies over a wet cover as long as that lies."""
    pour = plan.design.pour
    wet, over = (pour.curing, pour.protection) if pour else (None, None)
    if wet is None or over is None or wet.method != "wet cover":
        return False
    return wet.days is not None and over.days is not None and meets(over.days.si, wet.days.si, "least")


def _covered(plan: Plan, limits: Limits, lowest: Amount, besides: Sequence[Remedy]) -> Finding | Margin:
    """The days that it is covered, or the lowest air where nothing covers it; ``besides`` is to be done at once."""
    freezes = ", and the water that cures it freezes" if besides else ""
    cover = plan.design.pour.protection if plan.design.pour else None
    least = limits.covered_at_least if plan.outdoors else limits.covered_indoors_at_least
    cold = not limits.air_at_least.met(lowest)
    if cover and (kept := cover.days) and cold:
        longer = words("keep it covered for {write}", write=least.value)
        return compare(
            plan.spot("the cover", "pour.protection.days"), kept, least,
            says=lambda: words("after {d} under cover it is too young for {t}" + freezes, d=kept, t=lowest),
            remedy=lambda: together(write("pour.protection.days", least.value, longer), *besides),
        )  # fmt: skip
    if cover and cold:
        plan.given("pour.protection.days")
    days = words("cover it with blankets the same evening, for {write}", write=least.value)
    blankets = f"{{method: blankets, days: {least.value.si / DAY:g} days}}"
    return compare(
        plan.spot("the cold", "pour.weather"), lowest, limits.air_at_least,
        says=lambda: words("it gets down to {t} while the slab is young, and nothing covers it" + freezes, t=lowest),
        remedy=lambda: together(write("pour.protection", blankets, days), *besides),
    )  # fmt: skip
