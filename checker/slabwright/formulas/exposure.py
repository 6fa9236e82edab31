"""What sulfate in the soil asks of the mix and of its cement."""

from __future__ import annotations

from typing import Final, Literal

from slabwright.formulas import OutOfRangeError
from slabwright.formulas.mix import MixDemand
from slabwright.formulas.units import PSI

SulfateClass = Literal["S0", "S1", "S2", "S3"]

# Strength in psi, water over cement; `aci-318-19` Table 19.3.2.1.
_SULFATE: Final[dict[str, tuple[float, float | None]]] = {
    "S0": (2500, None),
    "S1": (4000, 0.50),
    "S2": (4500, 0.45),
    "S3": (5000, 0.40),
}
# Types of cement that keep some sulfate out (1), much (2), or the most, with pozzolan or slag (3); any other type 0.
# Types for S2 were read, `aci-318-19` as a national ready-mixed association prints it; those for S1 and S3 are
# recalled, `aci-318-19-recalled`.
CEMENT_RESISTANCE: Final[dict[str, int]] = {
    **dict.fromkeys(("I/II", "II", "IL (MS)", "IP (MS)", "IS (MS)", "IT (MS)", "MS"), 1),
    **dict.fromkeys(("II/V", "V", "IL (HS)", "IP (HS)", "IS (HS)", "IT (HS)", "HS"), 2),
    **dict.fromkeys(("CEM I-SR", "CEM III-SR", "CEM IV-SR"), 2),
    "V with pozzolan": 3,
}


def sulfate_demand(sulfate: SulfateClass) -> MixDemand:
    """Strength (Pa) and water over cement by sulfate class of the soil.

    Source: `aci-318-19`, Table 19.3.2.1; `pca-eb001`.

    >>> demand = sulfate_demand("S1")
    >>> round(demand.strength / PSI), demand.water_cement
    (4000, 0.5)
    """
    return _demand(_SULFATE, sulfate)


def _demand(table: dict[str, tuple[float, float | None]], name: str) -> MixDemand:
    if name not in table:
        raise OutOfRangeError(f"nothing is tabled for {name!r}: this holds for {', '.join(table)}")
    psi, water_cement = table[name]
    return MixDemand(psi * PSI, water_cement)
