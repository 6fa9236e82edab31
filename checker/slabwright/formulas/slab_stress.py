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
    """Radius of relative stiffness in metres: l = [E h^3/(12 (1 - nu^2) k)]^0.25.

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
    """Radius in metres that makes up for the thickness near a small load: b.

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


def interior_stress_1926(load: float, radius: float, thickness: float, stiffness_radius: float) -> float:
    """Interior tension in Pa by the older printed form, nu 0.15: 0.316 P/h^2 [4 log(l/b) + 1.069].

    Parameters as in :func:`interior_stress`, with which it agrees within 0.2 %.

    Source: `huang`; `khanna-justo-recalled` gives 19.3 kg/cm2 for 5,100 kg on 18 cm.

    >>> l = stiffness_radius(300000 * 98066.5, 0.18, 6 * 9806650.0)
    >>> round(interior_stress_1926(5100 * 9.80665, 0.15, 0.18, l) / 98066.5, 1)
    19.3
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    return 0.316 * p / h**2 * (4 * log10(ell / equivalent_radius(a, h)) + 1.069)


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


def edge_stress_semicircle(load: float, radius: float, thickness: float, stiffness_radius: float) -> float:
    """Tension in Pa along a free edge, load on a half circle with its flat side on the edge (1948 form, nu 0.15).

    0.803 P/h^2 [4 log(l/a) + 0.282 a/l + 0.650], with a itself; parameters as in :func:`interior_stress`.

    Source: `huang`, ch. 4.

    >>> from slabwright.formulas.units import POUND_FORCE, PSI
    >>> round(edge_stress_semicircle(10000 * POUND_FORCE, 6 * INCH, 10 * INCH, 42.97 * INCH) / PSI, 1)
    330.0
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    return 0.803 * p / h**2 * (4 * log10(ell / a) + 0.282 * a / ell + 0.650)


def edge_stress_1926(load: float, radius: float, thickness: float, stiffness_radius: float) -> float:
    """Tension in Pa along a free edge by the form of 1926, nu 0.15: 0.572 P/h^2 [4 log(l/b) + 0.359], with b.

    Parameters as in :func:`interior_stress`. Kept to check older worked problems; it lies well below 1948.

    Source: `garber-hoel`; `khanna-justo-recalled` gives 28.54 kg/cm2 for 5,100 kg on 18 cm.

    >>> l = stiffness_radius(300000 * 98066.5, 0.18, 6 * 9806650.0)
    >>> round(edge_stress_1926(5100 * 9.80665, 0.15, 0.18, l) / 98066.5, 2)
    28.54
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    return 0.572 * p / h**2 * (4 * log10(ell / equivalent_radius(a, h)) + 0.359)


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


def corner_stress_1926(load: float, radius: float, thickness: float, stiffness_radius: float) -> float:
    """Tension in Pa at the top of a free corner, form of 1926: 3 P/h^2 [1 - (a sqrt(2)/l)^0.6].

    Parameters as in :func:`interior_stress`.

    Source: `westergaard-1926`; `huang` prints 186.6 psi for the classic inputs.

    >>> from slabwright.formulas.units import POUND_FORCE, PSI
    >>> round(corner_stress_1926(10000 * POUND_FORCE, 6 * INCH, 10 * INCH, 42.97 * INCH) / PSI, 1)
    186.6
    """
    p, a, h, ell = _case(load, radius, thickness, stiffness_radius)
    return float(3 * p / h**2 * (1 - (sqrt(2) * a / ell) ** 0.6))


def corner_crack_distance(radius: float, stiffness_radius: float) -> float:
    """Distance in metres from a free corner, along the bisector, to where the top cracks: 2.58 sqrt(a l).

    ``radius`` a and ``stiffness_radius`` l in m.

    Source: `khanna-justo`.

    >>> round(corner_crack_distance(0.15, 0.706), 2)
    0.84
    """
    a, ell = positive("contact radius", radius, "m"), positive("radius of relative stiffness", stiffness_radius, "m")
    return 2.58 * sqrt(a * ell)


def interior_deflection(load: float, radius: float, support: float, stiffness_radius: float) -> float:
    """Deflection in metres under an interior load: P/(8 k l^2) {1 + (1/2 pi) [ln(a/2l) - 0.673] (a/l)^2}.

    ``load`` P in N, ``radius`` a and ``stiffness_radius`` l in m, ``support`` k in N/m3.

    Source: `huang`, ch. 4.

    >>> from slabwright.formulas.units import POUND_FORCE
    >>> round(interior_deflection(10000 * POUND_FORCE, 6 * INCH, 100 * PCI, 42.97 * INCH) / INCH, 4)
    0.0067
    """
    ratio = _ratio(radius, stiffness_radius)
    bracket = 1 + (log(ratio / 2) - 0.673) * ratio**2 / (2 * pi)
    return _spread(load, support, stiffness_radius) / 8 * bracket


def edge_deflection(load: float, radius: float, support: float, stiffness_radius: float) -> float:
    """Deflection in metres at a free edge, circular load: 0.431 P/(k l^2) [1 - 0.82 a/l].

    Parameters as in :func:`interior_deflection`.

    Source: `huang`, ch. 4.

    >>> from slabwright.formulas.units import POUND_FORCE
    >>> round(edge_deflection(10000 * POUND_FORCE, 6 * INCH, 100 * PCI, 42.97 * INCH) / INCH, 4)
    0.0207
    """
    return 0.431 * _spread(load, support, stiffness_radius) * (1 - 0.82 * _ratio(radius, stiffness_radius))


def edge_deflection_semicircle(load: float, radius: float, support: float, stiffness_radius: float) -> float:
    """Deflection in metres at a free edge, half-circle load: 0.431 P/(k l^2) [1 - 0.349 a/l].

    Parameters as in :func:`interior_deflection`.

    Source: `huang`, ch. 4.

    >>> from slabwright.formulas.units import POUND_FORCE
    >>> round(edge_deflection_semicircle(10000 * POUND_FORCE, 6 * INCH, 100 * PCI, 42.97 * INCH) / INCH, 4)
    0.0222
    """
    return 0.431 * _spread(load, support, stiffness_radius) * (1 - 0.349 * _ratio(radius, stiffness_radius))


def corner_deflection(load: float, radius: float, support: float, stiffness_radius: float) -> float:
    """Deflection in metres at a free corner, revised form: P/(k l^2) [1.205 - 0.69 (1.772 a)/l].

    Parameters as in :func:`interior_deflection`.

    Source: `ioannides-1985-recalled`.

    >>> from slabwright.formulas.units import POUND_FORCE
    >>> round(corner_deflection(10000 * POUND_FORCE, 6 * INCH, 100 * PCI, 42.97 * INCH) / INCH, 4)
    0.056
    """
    spread = _spread(load, support, stiffness_radius)
    return spread * (1.205 - 0.69 * 1.772 * _ratio(radius, stiffness_radius))


def corner_deflection_1926(load: float, radius: float, support: float, stiffness_radius: float) -> float:
    """Deflection in metres at a free corner, form of 1926: P/(k l^2) [1.1 - 0.88 a sqrt(2)/l].

    Parameters as in :func:`interior_deflection`.

    Source: `westergaard-1926`; `huang` prints 0.0502 in for the classic inputs.

    >>> from slabwright.formulas.units import POUND_FORCE
    >>> round(corner_deflection_1926(10000 * POUND_FORCE, 6 * INCH, 100 * PCI, 42.97 * INCH) / INCH, 4)
    0.0502
    """
    spread = _spread(load, support, stiffness_radius)
    return spread * (1.1 - 0.88 * sqrt(2) * _ratio(radius, stiffness_radius))


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


def _spread(load: float, support: float, stiffness_radius: float) -> float:
    """P/(k l^2), in metres."""
    k = within("subgrade support", support, 10 * PCI, 1000 * PCI, "N/m3")
    return positive("load", load, "N") / (k * stiffness_radius**2)
