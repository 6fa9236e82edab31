"""How stiffly the ground holds a slab up: what is taken without a test, and what a granular base adds."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Sequence
from typing import Final

from slabwright.formulas import within
from slabwright.formulas.units import INCH, PCI

# Support in pci on top of 4, 6, 9 and 12 in of untreated granular base, by that of the soil; `pca-aci-360r-k`.
_BASE_INCHES = (4.0, 6.0, 9.0, 12.0)
_ON_BASE_PCI: Final[dict[float, tuple[float, ...]]] = {
    50: (65, 75, 85, 110),
    100: (130, 140, 160, 190),
    200: (220, 230, 270, 320),
    300: (320, 330, 370, 430),
}

_WET: Final = ("wet", "soft", "organic", "peat", "muck", "swampy")
_GRANULAR: Final = ("stone", "gravel", "rock", "aggregate")


def assumed_support(soil: str) -> float:
    """Support in N/m3 that is taken where nobody tested the ground: 100 pci, and 50 pci for wet clay and worse.

    ``soil`` in plain words, or "".

    Source: `tm-5-809-12`, Table 3-2, is built on 100 pci; `pca-floor-method` for wet ground.

    >>> round(assumed_support("silty sand") / PCI), round(assumed_support("soft wet clay") / PCI)
    (100, 50)
    """
    words = soil.casefold().split()
    return (50 if any(word in words for word in _WET) else 100) * PCI


def support_on_base(support: float, base: float) -> float:
    """Support in N/m3 on top of an untreated granular base, between the lines of the table.

    ``support`` of the soil in N/m3, 50 to 300 pci; ``base`` thickness in m, 0 or 4 to 12 in.

    Source: `pca-aci-360r-k`.

    >>> round(support_on_base(100 * PCI, 6 * INCH) / PCI)
    140
    """
    k = within("subgrade support", support, 50 * PCI, 300 * PCI, "N/m3") / PCI
    if base == 0:
        return support
    inches = within("granular base", base, 4 * INCH, 12 * INCH, "m") / INCH
    columns = [_between(inches, _BASE_INCHES, row) for row in _ON_BASE_PCI.values()]
    return _between(k, tuple(_ON_BASE_PCI), columns) * PCI


def support_with_base(support: float, base: float, material: str) -> float:
    """Support in N/m3 on top of a base where the table tells it, else that of the soil alone.

    ``support`` of the soil in N/m3, ``base`` thickness in m, ``material`` in words. Nothing is added where the words
    name no stone or gravel, below 4 in of base, and over soil under 50 or over 300 pci; a base over 12 in counts as
    12 in.

    Source: `pca-aci-360r-k`.

    >>> [round(support_with_base(k * PCI, 6 * INCH, "crushed stone") / PCI) for k in (200, 400)]
    [230, 400]
    """
    granular = any(word in material.casefold() for word in _GRANULAR)
    if (
        not granular
        or base < _BASE_INCHES[0] * INCH * (1 - 1e-9)
        or not 50 * PCI * (1 - 1e-9) <= support <= 300 * PCI * (1 + 1e-9)
    ):
        return support
    return support_on_base(support, min(base, _BASE_INCHES[-1] * INCH))


def _between(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    """``y`` at ``x`` on straight lines between tabled points."""
    after = min(max(bisect(xs, x), 1), len(xs) - 1)
    share = (x - xs[after - 1]) / (xs[after] - xs[after - 1])
    return ys[after - 1] + share * (ys[after] - ys[after - 1])
