"""What frost, deicing salt and sulfate ask of the mix, document by document."""

from __future__ import annotations

from typing import Final, Literal

from slabwright.formulas import OutOfRangeError, within
from slabwright.formulas.mix import MixDemand
from slabwright.formulas.units import INCH, PSI

FrostClass = Literal["F0", "F1", "F2", "F3"]
ResidentialClass = Literal["RF0", "RF1", "RF2", "RF3"]
SulfateClass = Literal["S0", "S1", "S2", "S3"]

# Strength in psi, water over cement. F0 was read, the others quoted; `aci-318-19`, `aci-318-14-f1`.
_STRUCTURAL: Final[dict[str, tuple[float, float | None]]] = {
    "F0": (2500, None),
    "F1": (3500, 0.55),
    "F2": (4500, 0.45),
    "F3": (5000, 0.40),
}
_NONSTRUCTURAL: Final[dict[str, float]] = {"F0": 2500, "F1": 3000, "F2": 3500, "F3": 3500}  # psi, `ibc-1904.2`
# Strength in psi, water over cement; RF3 was quoted, the others recalled; `aci-332-20`, `aci-332-20-recalled`.
_RESIDENTIAL: Final[dict[str, tuple[float, float | None]]] = {
    "RF0": (2500, None),
    "RF1": (2500, None),
    "RF2": (3500, None),
    "RF3": (4500, 0.45),
}
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
# Cement replacements allowed with deicers, shares of all binder; `aci-318-19-recalled` Table 26.4.2.2(b).
REPLACEMENT_CAPS: Final[dict[str, float]] = {
    "fly ash": 0.25,
    "slag": 0.50,
    "silica fume": 0.10,
    "all": 0.50,
    "fly ash with silica fume": 0.35,
}


def structural_demand(frost: FrostClass) -> MixDemand:
    """Strength (Pa) and water over cement of structural concrete by frost class: F0 none to F3 water and deicers.

    Source: `aci-318-19` for F0, Table 19.3.2.1; `aci-318-14-f1` for F1 to F3.

    >>> demand = structural_demand("F2")
    >>> round(demand.strength / PSI), demand.water_cement
    (4500, 0.45)
    """
    return _demand(_STRUCTURAL, frost)


def nonstructural_strength(frost: FrostClass) -> float:
    """Strength in Pa of exposed concrete that carries no structure, by frost class.

    Source: `ibc-1904.2`.

    >>> round(nonstructural_strength("F3") / PSI)
    3500
    """
    if frost not in _NONSTRUCTURAL:
        raise OutOfRangeError(f"nothing is tabled for {frost!r}: this holds for {', '.join(_NONSTRUCTURAL)}")
    return _NONSTRUCTURAL[frost] * PSI


def residential_demand(frost: ResidentialClass) -> MixDemand:
    """Strength (Pa) and water over cement of dwelling concrete: RF2 stays wet, RF3 meets deicers.

    RF0 and RF1 ask for 2,500 to 3,000 psi; the lower is given here.

    Source: `aci-332-20` for RF3; `aci-332-20-recalled` for the rest.

    >>> demand = residential_demand("RF3")
    >>> round(demand.strength / PSI), demand.water_cement
    (4500, 0.45)
    """
    return _demand(_RESIDENTIAL, frost)


def sulfate_demand(sulfate: SulfateClass) -> MixDemand:
    """Strength (Pa) and water over cement by sulfate class of the soil.

    Source: `aci-318-19`, Table 19.3.2.1; `pca-eb001`.

    >>> demand = sulfate_demand("S1")
    >>> round(demand.strength / PSI), demand.water_cement
    (4000, 0.5)
    """
    return _demand(_SULFATE, sulfate)


def slump_tolerance(ordered: float) -> float:
    """How far the slump may be off at the truck, in m, when ``ordered`` (m) as a nominal slump.

    1/2 in up to 2 in, 1 in from 2 to 4 in, 1-1/2 in above; holds up to 9 in.

    Source: `astm-c94`.

    >>> round(slump_tolerance(4 * INCH) / INCH, 3)
    1.0
    """
    inches = within("slump", ordered, 0.0, 9 * INCH, "m") / INCH
    return (0.5 if inches <= 2 * (1 + 1e-9) else 1.0 if inches <= 4 * (1 + 1e-9) else 1.5) * INCH


def _demand(table: dict[str, tuple[float, float | None]], name: str) -> MixDemand:
    if name not in table:
        raise OutOfRangeError(f"nothing is tabled for {name!r}: this holds for {', '.join(table)}")
    psi, water_cement = table[name]
    return MixDemand(psi * PSI, water_cement)
