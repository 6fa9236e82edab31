"""What a slab carries: walls that stand on it, wheels and tires."""

from __future__ import annotations

from math import pi, sqrt

from slabwright.formulas import positive, within
from slabwright.formulas.units import INCH, LBF_PER_FT, PCI, POUND_FORCE, PSI

CAR_AXLE = {"us": 4000 * POUND_FORCE, "metric": 18_000.0}
"""N, what few cars have more than on one axle, by where a slab is drawn. Source: `common-practice`."""
_INTERIOR, _EDGE = 12.8, 9.9256  # of a line load under a wall away from edges, and at one


def wall_line_load(thickness: float, rupture_modulus: float, support: float) -> float:
    """Line load in N/m that a plain slab carries under a wall away from edges.

    P = 12.8 r t^2 [k/(19,000 r t^3)]^0.25 lb/ft, with r = rupture modulus/9 in psi, t in in, k in pci.
    ``thickness`` 3 to 10 in, ``rupture_modulus`` 400 to 700 psi, ``support`` 25 to 300 pci. The table begins at 4 in
    and 550 psi, and is met within 5 lb/ft; below that it is carried on by the same beam on an elastic ground.

    Source: `beam-on-ground`; the values of `tm-5-809-12`, Table 3-2, were read.

    >>> round(wall_line_load(4 * INCH, 550 * PSI, 100 * PCI) / LBF_PER_FT / 5) * 5
    425
    """
    return _line_load(_INTERIOR, thickness, rupture_modulus, support)


def wall_line_load_at_edge(thickness: float, rupture_modulus: float, support: float) -> float:
    """Line load in N/m that a plain slab carries under a wall at a free edge: 9.9256 in place of 12.8.

    Parameters as in :func:`wall_line_load`.

    Source: `beam-on-ground`.

    >>> round(wall_line_load_at_edge(4 * INCH, 550 * PSI, 100 * PCI) / LBF_PER_FT)
    331
    """
    return _line_load(_EDGE, thickness, rupture_modulus, support)


def _line_load(coefficient: float, thickness: float, rupture_modulus: float, support: float) -> float:
    t = within("slab thickness", thickness, 3 * INCH, 10 * INCH, "m") / INCH
    r = within("modulus of rupture", rupture_modulus, 400 * PSI, 700 * PSI, "Pa") / PSI / 9
    k = within("subgrade support", support, 25 * PCI, 300 * PCI, "N/m3") / PCI
    return float(coefficient * r * t**2 * (k / (19000 * r * t**3)) ** 0.25 * LBF_PER_FT)


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
