"""The weather does not dry the slab faster than it bleeds.

What is compared
    Works out the evaporation from the fresh concrete from the concrete's own warmth, the air, its humidity and the wind
    half a meter over the slab, or what a wind break (`pour.wind_break`) lets through of it. Compares it with
    0.2 lb/ft2/h, and with half of that where mixes bleed little. Concrete whose warmth is not written is taken to be as
    warm as the air. The working shows a second equation beside it.
Why it matters
    When the top dries before it sets, it shrinks while all below is soft, and tears: short cracks side by side, a foot
    or two long, in the first hour. They do not go away.
When it does not apply
    No forecast is written.
How to put it right
    Set up a wind break, order cooler concrete, start at dawn. Fog the air over the slab and not the slab, spray an
    evaporation retarder, or cover each strip as it is struck off, and have the curing at hand.
Where sources differ
    The limit is ACI's, half of it a trade association's for silica fume mixes. Uno's equation is used, Menzel's shown;
    they differ by a few percent, and both forecast to some 40 %. It is a guide to risk and nothing more.
"""

from __future__ import annotations

import math

from slabwright.formulas import weather
from slabwright.formulas.units import HOUR, LB_PER_FT2, MPH, celsius, fahrenheit
from slabwright.rulebook.kit import *

TITLE = "Not dried before it sets"
EACH_POUR = True
UNO = (  # the metric form has the constants that give what the other gives
    "{(Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 10^-6, °F and mph|"
    "5.275 ((Tc + 17.78)^2.5 - r (Ta + 17.78)^2.5)(V + 4.02) 10^-6, °C and km/h}"
)
MENZEL = "{0.445 (e0 - ea)(0.253 + 0.0966 V), psi and mph|0.315 (e0 - ea)(0.253 + 0.060 V), kPa and km/h}"
LIMITS = (
    Limit("act_at_most", "0.2 lb/ft2/h", Kind.EVAPORATION, "caution", Cite("aci-305r-evaporation"),
          ("0.05 lb/ft2/h", "0.5 lb/ft2/h"), "evaporation from which precautions are taken"),
    Limit("watch_at_most", "0.1 lb/ft2/h", Kind.EVAPORATION, "note", Cite("silica-fume-slide"),
          ("0.02 lb/ft2/h", "0.5 lb/ft2/h"), "evaporation that a mix with little bleed water bears"),
)  # fmt: skip
WORKED = (
    Worked("87 °F on 80 °F, 50 %, 12 mph", evaporation(0.2435 * LB_PER_FT2 / HOUR),
           lambda: weather.evaporation(celsius(87), celsius(80), 0.50, 12 * MPH), 0.00005 * LB_PER_FT2 / HOUR,
           Cite("uno-1998-recalled"), "we-uno-units"),
    Worked("31 °C on 27 °C, 50 %, 19 km/h, Menzel", evaporation(1.192 / HOUR),
           lambda: weather.evaporation_menzel(31.0, 27.0, 0.50, 19 / 3.6), 0.0005 / HOUR, Cite("menzel-1954"),
           "we-menzel"),
)  # fmt: skip
HARDLY = 0.05  # share of a limit that nobody foretells the weather nearer than (common practice)
CALM, HALVED = 2 * MPH, 0.4  # m/s, and share of the wind, that a wind break still lets over, `common-practice`
COOLEST, COOLED = celsius(60), 20 * 5 / 9  # deg C, and degrees, to which a plant cools its concrete, `common-practice`
COLDEST = -15.0  # deg C, where the equations end


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Evaporation, and what would bring it down."""
    pour, said = plan.design.pour, plan.design.pour.weather if plan.design.pour else None
    if pour is None or said is None or not (said.air or said.humidity or said.wind):
        does_not_apply("no forecast is written (pour.weather)")
    if said.air and not meets(said.air.si, COLDEST, "least"):
        does_not_apply("the air is colder than the equations go")
    air, humidity, forecast = plan.all_given("pour.weather.air", "pour.weather.humidity", "pour.weather.wind")
    wind = pour.wind or forecast  # behind a wind break
    concrete = said.concrete or air
    given = words("Tc {c}, Ta {a}, r {h}, V {w}", c=concrete, a=air, h=humidity, w=wind)
    rate, other = (
        evaporation(equation(concrete.si, air.si, humidity.si, wind.si))
        for equation in (weather.evaporation, weather.evaporation_menzel)
    )

    def remedies() -> list[Remedy]:
        """What brings it down to the limit that is broken: less wind, cooler concrete, or both."""
        target = max((limits.broken(rate, *limits) or limits.watch_at_most).value.si, 0.0)
        per = 3.6 if plan.home == "metric" else 1 / MPH  # wind in whole km/h or mph, down
        calmest = max(CALM, HALVED * forecast.si)
        still = speed(math.floor(weather.wind_for(concrete.si, air.si, humidity.si, target) * per) / per)
        broken = write("pour.wind_break", still, words("break the wind over the slab down to {wind}", wind=still))
        if meets(still.si, calmest, "least"):
            return [broken]
        low = speed(math.ceil(calmest * per - 1e-9) / per)
        cooler, both = (
            _degree(plan, weather.concrete_for(air.si, humidity.si, one, target)) for one in (wind.si, low.si)
        )
        coolest = max(COOLEST, concrete.si - COOLED)
        order = "order concrete of {concrete} or cooler"
        found = []
        if meets(cooler.si, coolest, "least"):
            found.append(write("pour.weather.concrete", cooler, words(order, concrete=cooler)))
        if meets(both.si, coolest, "least") and low.si < wind.si:
            break_it = write("pour.wind_break", low, words("break the wind over the slab down to {wind}", wind=low))
            found.append(together(break_it, write("pour.weather.concrete", both, words(order, concrete=both))))
        return found

    yield compare(
        Spot("the forecast", said.place), rate, limits.act_at_most, limits.watch_at_most,
        give=HARDLY * (limits.broken(rate, *limits) or limits.watch_at_most).value.si,
        says=lambda: words("the top may dry before it sets"),
        working=lambda: (
            step("Uno", UNO, given, rate),
            step("Menzel", MENZEL, given, other),
        ),
        remedy=remedies,
        decide=lambda: words("pour it on a cooler day or before dawn, and cover each strip as it is struck off"),
    )  # fmt: skip


def _degree(plan: Plan, celsius_: float) -> Amount:
    """A temperature in whole degrees of the plan, down."""
    return temperature(math.floor(celsius_) if plan.home == "metric" else celsius(math.floor(fahrenheit(celsius_))))
