"""Stress and deflection of a plain slab under one wheel: Westergaard's three places and their revisions.

A slab of ``thickness`` h, elastic modulus E and Poisson's ratio nu on springs of ``support`` k carries a
load P spread over a circle of ``radius`` a. Interior and 1926 edge stress use the equivalent radius b;
the 1948 edge forms use a itself. The two are never mixed: for the classic inputs they differ by 27 %.
"""

from __future__ import annotations

from math import log, log10, pi, sqrt

from slabwright.formulas import positive, within
from slabwright.formulas.units import INCH, PCI

POISSON = 0.15
_EULER = 0.5772


def stiffness_radius(elastic_modulus: float, thickness: float, support: float, poisson: float = POISSON) -> float:
    """Radius of relative stiffness in meters: l = [E h^3/(12 (1 - nu^2) k)]^0.25.

    ``elastic_modulus`` E in Pa, ``thickness`` h in m (2 to 24 in), ``support`` k in N/m3 (10 to 1,000 pci),
    ``poisson`` nu from 0 to 0.5.

    Source: `westergaard-notes`; `huang` prints 42.97 in for the classic inputs.

    >>> from slabwright.formulas.units import PSI
    >>> round(stiffness_radius(4e6 * PSI, 10 * INCH, 100 * PCI) / INCH, 2)
    42.97
    """
    h = _thickness(thickness)
    k = within("subgrade support", support, 10 * PCI, 1000 * PCI, "N/m3")
    nu = within("Poisson's ratio", poisson, 0.0, 0.5)
    return float((positive("elastic modulus", elastic_modulus, "Pa") * h**3 / (12 * (1 - nu**2) * k)) ** 0.25)


def equivalent_radius(radius: float, thickness: float) -> float:
    """Radius in meters that makes up for the thickness near a small load: b.

    b = sqrt(1.6 a^2 + h^2) - 0.675 h for a under 1.724 h, else a; ``radius`` a and ``thickness`` h in m.

    Source: `westergaard-notes`; `huang` prints 5.804 in for the classic inputs.

    >>> round(equivalent_radius(6 * INCH, 10 * INCH) / INCH, 3)
    5.804
    """
    a, h = positive("contact radius", radius, "m"), _thickness(thickness)
    return sqrt(1.6 * a**2 + h**2) - 0.675 * h if a < 1.724 * h else a


def interior_stress(
    load: float, radius: float, thickness: float, stiffness_radius: float, poisson: float = POISSON
) -> float:
    """Tension in Pa at the bottom of the slab under a load far from every edge.

    3 (1 + nu) P/(2 pi h^2) [ln(2 l/b) + 0.5 - 0.5772]; ``load`` P in N, ``radius`` a, ``thickness`` h and
    ``stiffness_radius`` l in m. Holds for a below l.

    Source: `ioannides-1985`; `khanna-justo-recalled` gives 19.3 kg/cm2 for 5,100 kg on 18 cm.

    >>> l = stiffness_radius(300000 * 98066.5, 0.18, 6 * 9806650.0)
    >>> round(interior_stress(5100 * 9.80665, 0.15, 0.18, l) / 98066.5, 1)
    19.3
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    b = equivalent_radius(a, h)
    return 3 * (1 + poisson) * p / (2 * pi * h**2) * (log(2 * ell / b) + 0.5 - _EULER)


def edge_stress(load: float, radius: float, thickness: float, stiffness_radius: float) -> float:
    """Tension in Pa along a free edge, load on a circle that touches the edge (1948 form, nu 0.15).

    0.803 P/h^2 [4 log(l/a) + 0.666 a/l - 0.034], with a itself; parameters as in :func:`interior_stress`.

    Source: `huang`, ch. 4.

    >>> from slabwright.formulas.units import POUND_FORCE, PSI
    >>> round(edge_stress(10000 * POUND_FORCE, 6 * INCH, 10 * INCH, 42.97 * INCH) / PSI, 1)
    279.4
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    return 0.803 * p / h**2 * (4 * log10(ell / a) + 0.666 * a / ell - 0.034)


def corner_stress(load: float, radius: float, thickness: float, stiffness_radius: float) -> float:
    """Tension in Pa at the top of a free corner, revised form: 3 P/h^2 [1 - (1.772 a/l)^0.72].

    Parameters as in :func:`interior_stress`.

    Source: `ioannides-1985-recalled`; `huang` prints 190.3 psi for the classic inputs.

    >>> from slabwright.formulas.units import POUND_FORCE, PSI
    >>> l = stiffness_radius(4e6 * PSI, 10 * INCH, 100 * PCI)
    >>> round(corner_stress(10000 * POUND_FORCE, 6 * INCH, 10 * INCH, l) / PSI, 1)
    190.3
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    return float(3 * p / h**2 * (1 - (1.772 * a / ell) ** 0.72))


def _thickness(thickness: float) -> float:
    return within("slab thickness", thickness, 2 * INCH, 24 * INCH, "m")


def _ratio(radius: float, stiffness_radius: float) -> float:
    """a/l; the corner forms reach zero stress at a = 0.56 l, and no printed case goes beyond half."""
    ell = positive("radius of relative stiffness", stiffness_radius, "m")
    return within("contact radius over radius of relative stiffness", radius / ell, 1e-6, 0.5)


def _case(load: float, radius: float, thickness: float, stiffness_radius: float) -> tuple[float, float, float, float]:
    """The four inputs as P, a, h, l, each in its range."""
    _ratio(radius, stiffness_radius)
    return positive("load", load, "N"), radius, _thickness(thickness), stiffness_radius
