"""Wheels and tyres, and what they press on."""

from __future__ import annotations

from math import pi, sqrt

from slabwright.formulas import positive, within


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
