"""Weather of the pour: the evaporation rate by two published equations, hot and cold limits, rain."""

from __future__ import annotations

from slabwright.design.pouring import Pour, Weather
from slabwright.formulas import OutOfRangeError, weather
from slabwright.formulas.units import celsius
from slabwright.plan.plan import Plan
from slabwright.rulebook.limits import published_sources
from slabwright.sheets.sheet import Figure, Section
from slabwright.text.words import Step, Words, step, words
from slabwright.units.quantity import Amount, System, evaporation, in_both, meets, show, temperature

HOT_CAUTION = celsius(90)  # deg C, concrete, `common-practice`
HOT_LIMIT = celsius(95)  # deg C, concrete at discharge, `aci-301-hot`
HOT_AIR = celsius(80)  # deg C, `aci-305.1-14`
RAIN_LIKELY = 0.2  # share, `common-practice`

_US = "(Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 10^-6, °F and mph"
_SI = "5 ((Tc + 18)^2.5 - r (Ta + 18)^2.5)(V + 4) 10^-6, °C and km/h"
_MENZEL = (  # the same in psi and miles: 0.315 x 0.2048 x 6.895 and 0.060 x 1.609
    "{0.445 (e0 - r ea)(0.253 + 0.0966 V), psi and mph|0.315 (e0 - r ea)(0.253 + 0.060 V), kPa and km/h}"
)
_STEAM = "{e = 0.0885 exp(17.3 (T - 32) / (395.1 + T))|e = 0.61 exp(17.3 T / (237.3 + T))}"


def over_slab(plan: Plan) -> Weather:
    """The forecast, with what a wind break lets over the slab as its wind."""
    pour = plan.design.pour or Pour()
    return (pour.weather or Weather())._replace(wind=pour.wind)


def rates(plan: Plan, forecast: Weather) -> tuple[float, float] | None:
    """Evaporation by Uno (in the form of the plan's system) and by Menzel, kg/(m2 s); None if not known or in range."""
    said = (forecast.concrete, forecast.air, forecast.humidity, forecast.wind)
    if None in said:
        return None
    four = tuple(one.si for one in said if one is not None)
    uno = weather.evaporation if plan.system == "us" else weather.evaporation_si
    try:
        return uno(*four), weather.evaporation_menzel(*four)
    except OutOfRangeError:
        return None


def section(plan: Plan) -> Section:
    """The weather part of the card."""
    forecast = over_slab(plan)
    figures = [
        Figure(key, label, value)
        for key, label, value in (
            ("air", "air", forecast.air),
            ("concrete", "concrete", forecast.concrete),
            ("low", "lowest after", forecast.low),
        )
        if value is not None
    ]
    found = rates(plan, forecast)
    working: tuple[Step, ...] = ()
    if found is not None:
        uno, menzel = found
        care = _drying(max(uno, menzel), plan.system)
        figures.append(Figure("evaporation", "evaporation, Uno", evaporation(uno), care))
        figures.append(Figure("evaporation_menzel", "evaporation, Menzel", evaporation(menzel)))
        working = _working(plan, forecast, uno, menzel)
    drying = [*_drying_notes(found is not None, plan.system), *_behind(plan)]
    notes = [*drying, *_hot(forecast), *_cold(plan, forecast), *_rain(forecast)]
    return Section("weather", "Weather", tuple(figures), (), working, tuple(notes), _missing(plan, forecast))


def _drying(rate: float, system: System) -> Words:
    act, warn = weather.DRYING[system]
    if not meets(rate, act, "most") or meets(rate, act, "least"):
        return words(
            "at or over {limit}: wind break, shade, fog spray or evaporation retarder from the screed on, or another "
            "hour",
            limit=evaporation(act),
        )
    if not meets(rate, warn, "most"):
        return words("over {limit}: have fog spray or evaporation retarder at hand", limit=evaporation(warn))
    return words("under {limit}: usual care", limit=evaporation(warn))


def _drying_notes(worked: bool, system: System) -> list[Words]:
    act, warn = map(evaporation, weather.DRYING[system])
    limits = words(
        "Act at {act} (ACI 305R), be ready at {warn} (half, for mixes that bleed little).", act=act, warn=warn
    )
    if not worked:
        return [limits]
    return [
        limits,
        words(
            "Good to about 40 % (Hover 2020); wind at {20 in|0.5 m} above the slab. Equations: {uno}; {menzel}.",
            uno=published_sources().cite("uno-1998-recalled" if system == "us" else "uno-1998"),
            menzel=published_sources().cite("menzel-1954"),
        ),
    ]


def _behind(plan: Plan) -> list[Words]:
    behind = plan.design.pour.wind_break if plan.design.pour else None
    if behind is None:
        return []
    return [words("Set up the wind break before the first truck; {wind} is reckoned behind it.", wind=behind)]


def _working(plan: Plan, forecast: Weather, uno: float, menzel: float) -> tuple[Step, ...]:
    named = {"tc": forecast.concrete, "ta": forecast.air, "r": forecast.humidity, "v": forecast.wind}
    numbers = words(
        "Tc {tc}, Ta {ta}, r {r}, V {v}",
        **{
            key: show(Amount(one.si, one.kind), plan.system, both=False)
            for key, one in named.items()
            if one is not None
        },
    )
    form = _US if plan.system == "us" else _SI
    return (
        step("Uno 1998", form, numbers, evaporation(uno)),
        step("Menzel 1954", _MENZEL, words(_STEAM), evaporation(menzel)),
    )


def _hot(forecast: Weather) -> list[Words]:
    notes = []
    hot = forecast.concrete
    if hot is not None and not meets(hot.si, HOT_LIMIT, "most"):
        notes.append(
            words("Concrete over {most} is refused at discharge (ACI 301, quoted).", most=temperature(HOT_LIMIT))
        )
    elif hot is not None and meets(hot.si, HOT_CAUTION, "least"):
        notes.append(
            words(
                "Concrete at {near} and over sets fast: less than 90 min from batching, more hands, shade. {most} at "
                "discharge is the limit (ACI 301, quoted).",
                near=temperature(HOT_CAUTION),
                most=temperature(HOT_LIMIT),
            )
        )
    else:
        notes.append(words("Concrete at discharge: {most} at most (ACI 301, quoted).", most=temperature(HOT_LIMIT)))
    if forecast.air is not None and meets(forecast.air.si, HOT_AIR, "least"):
        notes.append(
            words(
                "Air of {air} and over: with fast drying, hot-weather rules apply (ACI 305.1).",
                air=temperature(HOT_AIR),
            )
        )
    return notes


def _cold(plan: Plan, forecast: Weather) -> list[Words]:
    asked = weather.cold_weather(plan.areas.thicknesses[0])
    coldest = [one.si for one in (forecast.air, forecast.low) if one is not None]
    limit = temperature(weather.COLD_CARD[plan.system])
    if not coldest or meets(min(coldest), limit.si, "least"):
        return [
            words(
                "Cold weather starts where the air falls below {limit} while it is protected (ACI 306R).", limit=limit
            )
        ]
    air = min(coldest)
    below = asked.mixed_freezing if meets(air, celsius(0), "least") else asked.mixed_bitter
    mixed = below if meets(air, celsius(30), "most") else asked.mixed_mild
    notes = [
        words(
            "COLD: below {limit}. Mixed at {mixed} or more, placed and kept at {kept}, then cooled by no more than "
            "{drop} in a day; blankets until it has {500 psi|3.5 MPa}, usually a day and never on frozen "
            "ground (ACI 306R).",
            limit=limit,
            mixed=temperature(mixed),
            kept=temperature(asked.placed_and_kept),
            drop=_difference(asked.drop, plan),
        )
    ]
    concrete = forecast.concrete
    if concrete is not None and not meets(concrete.si, asked.placed_and_kept, "least"):
        notes.append(words("The concrete at {is_at} is too cold to place: ask for warm water.", is_at=_plain(concrete)))
    return notes


def _difference(kelvin: float, plan: Plan) -> str:
    us, metric = f"{kelvin * 9 / 5:.0f} °F", f"{kelvin:.0f} °C"
    if not in_both(plan.system):
        return us if plan.system == "us" else metric
    return f"{us} ({metric})" if plan.system == "us" else f"{metric} ({us})"


def _plain(amount: Amount) -> Amount:
    return temperature(amount.si)


def _rain(forecast: Weather) -> list[Words]:
    if forecast.rain is not None and meets(forecast.rain.si, RAIN_LIKELY, "least"):
        return [
            words(
                "Rain {chance}: sheeting for the whole slab before the first truck; spray compound again "
                "if it rains within 3 h of spraying.",
                chance=show(forecast.rain, "us", both=False),
            )
        ]
    return [words("Sheeting at hand; spray curing compound again if it rains within 3 h of spraying (UFGS 03311).")]


def _missing(plan: Plan, forecast: Weather) -> tuple[str, ...]:
    us = plan.system == "us"
    such = {
        "concrete": "78 °F" if us else "26 °C",
        "air": "75 °F" if us else "24 °C",
        "humidity": "45 %",
        "wind": "10 mph" if us else "15 km/h",
        "low": "52 °F" if us else "11 °C",
        "rain": "30 %",
    }
    lacking = [f"{key} {example}" for key, example in such.items() if getattr(forecast, key) is None]
    return (f"pour.weather: {', '.join(lacking)}",) if lacking else ()
