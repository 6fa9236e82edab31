"""Stress from a temperature difference between the top and the bottom of a slab."""

from __future__ import annotations

from math import cos, cosh, sin, sinh, sqrt, tan, tanh

from slabwright.formulas import positive, within


def curl_coefficient(length: float, stiffness_radius: float) -> float:
    """How much of full restraint a side of a panel reaches: 0 for short sides, about 1 beyond 8 radii.

    C = 1 - 2 cos b cosh b (tan b + tanh b)/(sin 2b + sinh 2b), b = L/(l sqrt 8); ``length`` L and
    ``stiffness_radius`` l in m, L up to 20 l.

    Source: `bradbury-1938`; `highway-curling-guide` reads 0.68 off a chart at 4.8 and 0.45 at 4.1.

    >>> round(curl_coefficient(4.8, 1.0), 2)
    0.66
    """
    ratio = positive("panel side", length, "m along") / positive("radius of relative stiffness", stiffness_radius, "m")
    b = within("panel side over radius of relative stiffness", ratio, 0.0, 20.0) / sqrt(8)
    return 1 - 2 * cos(b) * cosh(b) * (tan(b) + tanh(b)) / (sin(2 * b) + sinh(2 * b))


def curl_stress_at_edge(elastic_modulus: float, expansion: float, difference: float, coefficient: float) -> float:
    """Curling stress in Pa at the middle of an edge: C E a dT/2.

    ``elastic_modulus`` E in Pa, ``expansion`` a per K, ``difference`` dT in K between top and bottom (up to 50),
    ``coefficient`` C of the edge's length (0 to 1.1).

    Source: `highway-curling-guide`.

    >>> from slabwright.formulas.units import PSI
    >>> round(curl_stress_at_edge(5e6 * PSI, 5e-6 * 1.8, 27 / 1.8, 0.68) / PSI, 1)
    229.5
    """
    return _coefficient(coefficient) * _full(elastic_modulus, expansion, difference)


def curl_stress_inside(
    elastic_modulus: float, expansion: float, difference: float, along: float, across: float, poisson: float = 0.15
) -> float:
    """Curling stress in Pa inside a slab, along the side of coefficient ``along``: E a dT/2 (C1 + nu C2)/(1 - nu^2).

    Parameters as in :func:`curl_stress_at_edge`; ``across`` is the coefficient of the other side, ``poisson`` nu.

    Source: `highway-curling-guide`.

    >>> from slabwright.formulas.units import PSI
    >>> round(curl_stress_inside(5e6 * PSI, 5e-6 * 1.8, 27 / 1.8, 0.68, 0.45) / PSI, 1)
    258.1
    """
    nu = within("Poisson's ratio", poisson, 0.0, 0.5)
    share = (_coefficient(along) + nu * _coefficient(across)) / (1 - nu**2)
    return share * _full(elastic_modulus, expansion, difference)


def _coefficient(value: float) -> float:
    return within("curling coefficient", value, 0.0, 1.1)


def _full(elastic_modulus: float, expansion: float, difference: float) -> float:
    """Stress of a slab held flat."""
    strain = within("expansion per K", expansion, 1e-6, 2e-5) * within("temperature difference", difference, 0.0, 50.0)
    return positive("elastic modulus", elastic_modulus, "Pa") * strain / 2
