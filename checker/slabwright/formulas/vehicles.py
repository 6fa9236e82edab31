"""Wheels, tyres, axles and the weights of vehicles."""

from __future__ import annotations

from math import inf, pi, sqrt
from typing import Final

from slabwright.formulas import positive, within
from slabwright.formulas.units import FOOT, POUND

# Vehicle classes 1 to 8 by gross weight rating, pounds; `truck-classes`.
CLASS_BOUNDS_LB: Final = (6000.0, 10000.0, 14000.0, 16000.0, 19500.0, 26000.0, 33000.0, inf)

# Interstate limits, `cfr-23-658.17`: bounds for what may arrive by road.
LEGAL_SINGLE_AXLE: Final = 20000 * POUND  # kg
LEGAL_TANDEM_AXLE: Final = 34000 * POUND  # kg
LEGAL_GROSS: Final = 80000 * POUND  # kg


def wheel_load(axle: float, tyres: int) -> float:
    """Load of one tyre in N: the axle load (N) over the tyres on the axle (2, or 4 when dual).

    Source: `geometry`.

    >>> wheel_load(13000.0, 4)
    3250.0
    """
    return positive("axle load", axle, "N") / within("tyres on the axle", tyres, 1, 16)


def contact_area(load: float, tyre_pressure: float) -> float:
    """Area in m2 that a tyre presses on: load (N) over tyre pressure (Pa).

    Source: `geometry`; `physics-textbook` prints 142.13 cm2 for a quarter of 1,400 kg at 35 psi.

    >>> round(contact_area(1400 * 9.8 / 4, 241325.0) * 1e4, 2)
    142.13
    """
    return positive("load", load, "N") / positive("tyre pressure", tyre_pressure, "Pa")


def contact_radius(load: float, tyre_pressure: float) -> float:
    """Radius in m of the circle that a tyre presses on: a = sqrt(P/(pi p)).

    Source: `geometry`.

    >>> from slabwright.formulas.units import INCH, POUND_FORCE, PSI
    >>> round(contact_radius(10000 * POUND_FORCE, 110 * PSI) / INCH, 2)
    5.38
    """
    return sqrt(contact_area(load, tyre_pressure) / pi)


def bridge_formula(axles: int, length: float) -> float:
    """Most mass in kg on a group of axles: W = 500 [L N/(N - 1) + 12 N + 36] in lb, with L in ft.

    ``axles`` N from 2 to 9, ``length`` L in m between the outer axles, 4 to 60 ft; before rounding to 500 lb.

    Source: `usc-23-127`.

    >>> round(bridge_formula(3, 20 * FOOT) / POUND)
    51000
    """
    n = within("axles", axles, 2, 9)
    feet = within("distance between outer axles", length, 4 * FOOT, 60 * FOOT, "m along") / FOOT
    return 500 * (feet * n / (n - 1) + 12 * n + 36) * POUND


def vehicle_class(gross_rating: float) -> int:
    """Class 1 to 8 of a vehicle by its gross weight rating in kg.

    Source: `truck-classes`.

    >>> vehicle_class(9500 * POUND)
    2
    """
    pounds = positive("gross weight rating", gross_rating, "kg") / POUND
    return next(n for n, bound in enumerate(CLASS_BOUNDS_LB, start=1) if pounds <= bound * (1 + 1e-9))
