"""Drying, cold, heat and curing: evaporation from fresh concrete, setting, cold-weather temperatures."""

from math import exp, inf
from typing import Final, NamedTuple

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import DAY, FOOT2, GALLON, HOUR, INCH, LB_PER_FT2, MPH, celsius, fahrenheit

ACT_AT: Final = 0.2 * LB_PER_FT2 / HOUR  # kg/m2/s, `aci-305r-evaporation`
WARN_AT: Final = 0.1 * LB_PER_FT2 / HOUR  # kg/m2/s, `silica-fume-slide`: about half for low-bleed mixes
COMPOUND_RATE: Final = 200 * FOOT2 / GALLON  # m2/m3, `ufgs-03311`
DRYING: Final = {"us": (ACT_AT, WARN_AT), "metric": (1.0 / HOUR, 0.5 / HOUR)}  # kg/m2/s; metric cards have them round
COMPOUND: Final = {"us": COMPOUND_RATE, "metric": 5000.0}  # m2/m3; metric drums are printed in whole m2/L
BROOM_FACTORS: Final = (1.15, 1.30)  # more compound on a broomed surface, `common-practice`
FOOT_TRAFFIC: Final = (1 * DAY, 2 * DAY)  # s after placing, `contractor-pages`
CAR_TRAFFIC: Final = 7 * DAY  # s after placing, `contractor-pages`
HEAVY_TRAFFIC: Final = 28 * DAY  # s after placing, `contractor-pages`
COLD_BELOW: Final = celsius(40)  # deg C, `aci-306r-10`
COLD_CARD: Final = {"us": COLD_BELOW, "metric": 5.0}  # deg C, on cards


class ColdWeather(NamedTuple):
    """Concrete temperatures in cold weather, deg C."""

    placed_and_kept: float
    mixed_mild: float  # air above 30 deg F
    mixed_freezing: float  # air from 0 to 30 deg F
    mixed_bitter: float  # air under 0 deg F
    drop: float  # most fall in 24 h, a difference in K


# Deg F: placed and kept; mixed for air over 30, 0 to 30, under 0; most drop in 24 h; `aci-306r-beall`.
_COLD_THIN = (55.0, 60.0, 65.0, 70.0, 50.0)  # under 12 in
_COLD_THICK = (50.0, 55.0, 60.0, 65.0, 40.0)  # 12 to 36 in


def evaporation(concrete: float, air: float, humidity: float, wind: float) -> float:
    """Evaporation in kg/m2/s from fresh concrete, US form: (Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 10^-6 lb/ft2/h.

    ``concrete`` Tc and ``air`` Ta temperature in deg C (-15 to 50), relative ``humidity`` r as a share, ``wind`` V in
    m/s at 20 in above the slab (0 to 20); the equation takes deg F and mph. Good to about 40 %, a guide to risk.
    Zero where the air would give water to the concrete.

    Source: `uno-1998-recalled`; `lerch-1957` tables 0.062 lb/ft2/h for 70 deg F, 70 %, 10 mph.

    >>> round(evaporation(celsius(70), celsius(70), 0.70, 10 * MPH) * HOUR / LB_PER_FT2, 4)
    0.0615
    """
    tc, ta, r, v = _air(concrete, air, humidity, wind)
    hot, cold = fahrenheit(tc), fahrenheit(ta)
    rate = (hot**2.5 - r * cold**2.5) * (1 + 0.4 * v / MPH) * 1e-6 * LB_PER_FT2
    return max(0.0, float(rate)) / HOUR


def wind_for(concrete: float, air: float, humidity: float, rate: float) -> float:
    """Wind in m/s at which concrete loses ``rate`` kg/m2/s by the US form; below zero where still air dries it faster.

    Parameters as in :func:`evaporation`; without end where the air gives water to the concrete.

    Source: `uno-1998-recalled`, solved for the wind.

    >>> rate = evaporation(celsius(80), celsius(75), 0.40, 12 * MPH)
    >>> round(wind_for(celsius(80), celsius(75), 0.40, rate) / MPH, 6)
    12.0
    """
    still = evaporation(concrete, air, humidity, 0.0)
    return (rate / still - 1) / 0.4 * MPH if still > 0 else inf


def concrete_for(air: float, humidity: float, wind: float, rate: float) -> float:
    """Temperature of the concrete in deg C at which it loses ``rate`` kg/m2/s by the US form.

    Parameters as in :func:`evaporation`.

    Source: `uno-1998-recalled`, solved for the concrete.

    >>> rate = evaporation(celsius(80), celsius(75), 0.40, 12 * MPH)
    >>> round(fahrenheit(concrete_for(celsius(75), 0.40, 12 * MPH, rate)), 6)
    80.0
    """
    _, ta, r, v = _air(air, air, humidity, wind)
    dry = rate * HOUR / LB_PER_FT2 / (1e-6 * (1 + 0.4 * v / MPH))
    return celsius(float((dry + r * fahrenheit(ta) ** 2.5) ** 0.4))


def evaporation_si(concrete: float, air: float, humidity: float, wind: float) -> float:
    """Evaporation in kg/m2/s, SI form as printed: 5 ([Tc + 18]^2.5 - r [Ta + 18]^2.5)(V + 4) 10^-6 kg/m2/h.

    Parameters as in :func:`evaporation`; V in km/h inside. Its rounded constants put it about 4 % below the US form.

    Source: `uno-1998`.

    >>> round(evaporation_si(30.556, 26.667, 0.50, 12 * MPH) * HOUR, 3)
    1.138
    """
    tc, ta, r, v = _air(concrete, air, humidity, wind)
    drive = (tc + 18) ** 2.5 - r * (ta + 18) ** 2.5
    return max(0.0, float(5 * drive * (v * 3.6 + 4) * 1e-6)) / HOUR


def vapor_pressure(temperature: float) -> float:
    """Saturation vapor pressure of water in Pa at deg C: 0.61 exp[17.3 T/(237.3 + T)] kPa.

    Holds from -15 to 60 deg C.

    Source: `uno-1998-recalled`.

    >>> round(vapor_pressure(20.0) / 1000, 2)  # steam tables print 2.34 kPa
    2.34
    """
    t = within("temperature", temperature, -15.0, 60.0, "C")
    return 610.0 * exp(17.3 * t / (237.3 + t))


def evaporation_menzel(concrete: float, air: float, humidity: float, wind: float) -> float:
    """Evaporation in kg/m2/s by vapor pressures: 0.315 (e0 - ea)(0.253 + 0.060 V) kg/m2/h, kPa and km/h.

    Parameters as in :func:`evaporation`; e0 at the concrete's temperature, ea the humidity's share of that of the air.

    Source: `menzel-1954`.

    >>> round(evaporation_menzel(31.0, 27.0, 0.50, 19 / 3.6) * HOUR, 3)
    1.192
    """
    tc, ta, r, v = _air(concrete, air, humidity, wind)
    deficit = (vapor_pressure(tc) - r * vapor_pressure(ta)) / 1000
    return max(0.0, 0.315 * deficit * (0.253 + 0.060 * v * 3.6)) / HOUR


def cold_weather(thickness: float) -> ColdWeather:
    """Concrete temperatures (deg C) in cold weather for a section ``thickness`` m thick, up to 36 in.

    Source: `aci-306r-beall`.

    >>> [round(fahrenheit(t)) for t in cold_weather(4 * INCH)[:4]]
    [55, 60, 65, 70]
    """
    t = within("section thickness", thickness, 2 * INCH, 36 * INCH, "m")
    kept, mild, freezing, bitter, drop = _COLD_THIN if t < 12 * INCH * (1 - 1e-9) else _COLD_THICK
    return ColdWeather(celsius(kept), celsius(mild), celsius(freezing), celsius(bitter), drop * 5 / 9)


def setting_time(usual: float, usual_temperature: float, temperature: float) -> float:
    """Setting time in s at a temperature, from that at a usual one (both deg C): half for each 20 deg F (11 K) more.

    A rule of thumb, for 35 to 100 deg F.

    Source: `setting-rule`.

    >>> round(setting_time(4 * HOUR, celsius(70), celsius(90)) / HOUR, 3)
    2.0
    """
    for t in (usual_temperature, temperature):
        within("temperature", t, celsius(35), celsius(100), "C")
    return float(positive("setting time", usual, "s") * 2 ** ((usual_temperature - temperature) / (20 * 5 / 9)))


def finishing_time(temperature: float) -> float:
    """Time in s from placing to the last pass of the finish, at a temperature in deg C: 4 h at 70 deg F.

    Under 35 and over 100 deg F it is that of the end.

    Source: `common-practice` for the 4 h; `setting-rule`.

    >>> round(finishing_time(celsius(90)) / HOUR, 3)
    2.0
    """
    return setting_time(4 * HOUR, celsius(70), min(max(temperature, celsius(35)), celsius(100)))


def curing_compound(area: float, rate: float = COMPOUND_RATE, factor: float = 1.0) -> float:
    """Curing compound in m3 for an ``area`` m2 at a ``rate`` of m2 per m3 (200 ft2 a gallon), times a ``factor``.

    The factor is 1.15 to 1.3 on a broomed surface, by common practice.

    Source: `ufgs-03311`; `common-practice` for the factor.

    >>> round(curing_compound(800 * FOOT2) / GALLON, 3)
    4.0
    """
    surface = within("factor", factor, 1.0, 2.0)
    return not_negative("area", area, "m2") / positive("rate", rate) * surface


def _air(concrete: float, air: float, humidity: float, wind: float) -> tuple[float, float, float, float]:
    return (
        within("concrete temperature", concrete, -15.0, 50.0, "C"),
        within("air temperature", air, -15.0, 50.0, "C"),
        within("relative humidity", humidity, 0.0, 1.0, "share"),
        within("wind speed", wind, 0.0, 20.0, "m/s"),
    )
