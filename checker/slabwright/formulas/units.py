"""US units in SI, exact by definition, for equations and tables that are printed in US units."""

from __future__ import annotations

from typing import Final

INCH: Final = 0.0254  # m
FOOT: Final = 0.3048  # m
YARD3: Final = 0.9144**3  # m3
FOOT3: Final = 0.3048**3  # m3
FOOT2: Final = 0.3048**2  # m2
GALLON: Final = 231 * INCH**3  # m3, US liquid
POUND: Final = 0.45359237  # kg
TON: Final = 2000 * POUND  # kg, 2,000 lb
POUND_FORCE: Final = POUND * 9.80665  # N
GRAVITY: Final = 9.80665  # m/s2, standard
PSI: Final = POUND_FORCE / INCH**2  # Pa
PCI: Final = PSI / INCH  # N/m3
LB_PER_YD3: Final = POUND / YARD3  # kg/m3
LB_PER_FT3: Final = POUND / FOOT3  # kg/m3
LB_PER_FT: Final = POUND / FOOT  # kg/m
LBF_PER_FT: Final = POUND_FORCE / FOOT  # N/m
IN2_PER_FT: Final = INCH**2 / FOOT  # m2/m
LB_PER_FT2: Final = POUND / FOOT2  # kg/m2
MPH: Final = 0.44704  # m/s
HOUR: Final = 3600.0  # s
DAY: Final = 86400.0  # s


def celsius(fahrenheit: float) -> float:
    """A temperature in degrees Celsius, from one in degrees Fahrenheit.

    >>> celsius(50.0)
    10.0
    """
    return (fahrenheit - 32) * 5 / 9


def fahrenheit(celsius: float) -> float:
    """A temperature in degrees Fahrenheit, from one in degrees Celsius.

    >>> fahrenheit(35.0)
    95.0
    """
    return celsius * 9 / 5 + 32
