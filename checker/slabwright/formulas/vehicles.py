"""Wheels and tires, and what they press on."""

from __future__ import annotations

from math import pi, sqrt

from slabwright.formulas import positive, within


def wheel_load(axle: float, tires: int) -> float:
    """Load of one tire in N: the axle load (N) over the tires on the axle (2, or 4 when dual).

    Source: `geometry`.

    >>> wheel_load(13000.0, 4)
    3250.0
    """
    return positive("axle load", axle, "N") / within("tires on the axle", tires, 1, 16)


def contact_area(load: float, tire_pressure: float) -> float:
    """Area in m2 that a tire presses on: load (N) over tire pressure (Pa).

    Source: `geometry`; `physics-textbook` prints 142.13 cm2 for a quarter of 1,400 kg at 35 psi.

    >>> round(contact_area(1400 * 9.8 / 4, 241325.0) * 1e4, 2)
    142.13
    """
    return positive("load", load, "N") / positive("tire pressure", tire_pressure, "Pa")


def contact_radius(load: float, tire_pressure: float) -> float:
    """Radius in m of the circle that a tire presses on: a = sqrt(P/(pi p)).

    Source: `geometry`.

    >>> from slabwright.formulas.units import INCH, POUND_FORCE, PSI
    >>> round(contact_radius(10000 * POUND_FORCE, 110 * PSI) / INCH, 2)
    5.38
    """
    return sqrt(contact_area(load, tire_pressure) / pi)
