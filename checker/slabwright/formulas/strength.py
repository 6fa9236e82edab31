"""Strength and stiffness of concrete from its specified strength."""

from __future__ import annotations

from math import sqrt

from slabwright.formulas import positive, within
from slabwright.formulas.units import PSI


def _root_psi(strength: float) -> float:
    """Square root of a strength (Pa) as the US rules take it: root of psi, itself in psi; here in Pa."""
    return sqrt(within("specified strength", strength, 1500 * PSI, 12000 * PSI, "Pa") / PSI) * PSI


def rupture_modulus(strength: float) -> float:
    """Modulus of rupture in Pa by the building code: 7.5 sqrt(f'c) in psi, 0.62 sqrt(f'c) in MPa.

    ``strength`` f'c in Pa, 1,500 to 12,000 psi. Used for stress checks.

    Source: `aci-318-05`.

    >>> round(rupture_modulus(4000 * PSI) / PSI)
    474
    """
    return 7.5 * _root_psi(strength)


def elastic_modulus(strength: float) -> float:
    """Modulus of elasticity in Pa of concrete of normal weight: 57,000 sqrt(f'c) in psi, 4,700 sqrt(f'c) in MPa.

    ``strength`` f'c in Pa, 1,500 to 12,000 psi.

    Source: `aci-318-19-recalled`, sec. 19.2.2.1.

    >>> round(elastic_modulus(4000 * PSI) / PSI, -3)
    3605000.0
    """
    return 57000.0 * _root_psi(strength)


def capacity_by_thickness(thickness: float, other: float) -> float:
    """Flexural capacity at thickness ``other`` as a multiple of that at ``thickness`` (m): square of their ratio.

    Source: `trade-article-strength`.

    >>> round(capacity_by_thickness(6 * 0.0254, 5.62 * 0.0254), 2)
    0.88
    """
    return (positive("thickness", other, "m") / positive("thickness", thickness, "m")) ** 2
