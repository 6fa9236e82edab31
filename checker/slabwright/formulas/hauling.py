"""Soil and rubble in the bank, loose and compacted; what it weighs, and the trips to haul it."""

from math import ceil
from typing import Final, NamedTuple

from slabwright.formulas import OutOfRangeError, not_negative, positive, within
from slabwright.formulas.units import LB_PER_YD3


class UnitWeights(NamedTuple):
    """Unit weights of a soil in kg/m3: loose, in the bank, compacted."""

    loose: float
    bank: float
    compacted: float


# Unit weights in lb/yd3: loose, bank, compacted; `nunnally` Table 2-5.
_UNIT_WEIGHTS: Final[dict[str, tuple[float, float, float]]] = {
    "clay": (2310, 3000, 3750),
    "common earth": (2480, 3100, 3450),
    "sand and gravel": (2860, 3200, 3650),
    "blasted rock": (3060, 4600, 3550),
}
# Swell as a share, least and most; `peurifoy` Table 4-1.
SWELL_RANGE: Final[dict[str, tuple[float, float]]] = {
    "clean sand or gravel": (0.05, 0.15),
    "topsoil": (0.10, 0.25),
    "loamy soil": (0.10, 0.35),
    "common earth": (0.20, 0.45),
    "clay": (0.30, 0.60),
    "solid rock": (0.50, 0.80),
}
# Swell as a share where the job gives none: low or middle of the ranges, and the usual table.
USUAL_SWELL: Final[dict[str, float]] = {"sand and gravel": 0.12, "common earth": 0.25, "clay": 0.30}


def unit_weights(soil: str) -> UnitWeights:
    """Unit weights in kg/m3 of a soil: "clay", "common earth", "sand and gravel", "blasted rock".

    Source: `nunnally`, Table 2-5.

    >>> round(unit_weights("clay").bank / LB_PER_YD3)
    3000
    """
    if soil not in _UNIT_WEIGHTS:
        raise OutOfRangeError(f"nothing is tabled for {soil!r}: this holds for {', '.join(_UNIT_WEIGHTS)}")
    return UnitWeights(*(weight * LB_PER_YD3 for weight in _UNIT_WEIGHTS[soil]))


def shrinkage(bank: float, compacted: float) -> float:
    """Shrinkage as a share, from unit weights in the bank and compacted (kg/m3): 1 less bank over compacted.

    Below zero where the fill takes more room than the bank, as with rock.

    Source: `construction-notes`; `nunnally`, example 2-2, prints 20 %.

    >>> round(shrinkage(2800.0, 3500.0), 3)
    0.2
    """
    return 1 - positive("bank weight", bank, "kg/m3") / positive("compacted weight", compacted, "kg/m3")


def loose_volume(bank_volume: float, swell: float) -> float:
    """Loose volume in m3 of a bank volume (m3) with a swell (share): what is hauled.

    Source: `navedtra-14080`, p. 4-5.

    >>> round(loose_volume(100.0, 3400 / 2700 - 1))
    126
    """
    return not_negative("bank volume", bank_volume, "m3") * (1 + within("swell", swell, 0.0, 1.0, "share"))


def volume_of(mass: float, unit_weight: float) -> float:
    """Volume in m3 of a mass in kg at a unit weight in kg/m3.

    Source: `geometry`.

    >>> round(volume_of(2000.0, 3400.0), 2)
    0.59
    """
    return not_negative("mass", mass, "kg") / positive("unit weight", unit_weight, "kg/m3")


def mass_of(volume: float, unit_weight: float) -> float:
    """Mass in kg of a volume in m3 at a unit weight in kg/m3 of the same state: bank with bank, loose with loose.

    Source: `geometry`.

    >>> mass_of(10.0, 2480.0)
    24800.0
    """
    return not_negative("volume", volume, "m3") * positive("unit weight", unit_weight, "kg/m3")


def trips_by_volume(loose_volume: float, box: float) -> int:
    """Trips to haul a loose volume (m3) in a box (m3); a hair over a full box asks for no other trip.

    Source: `geometry`.

    >>> trips_by_volume(19.3, 10.0)
    2
    """
    return ceil(not_negative("loose volume", loose_volume, "m3") / positive("box", box, "m3") - 1e-6)


def trips_by_mass(mass: float, payload: float) -> int:
    """Trips to haul a mass (kg) with a payload (kg).

    Source: `geometry`.

    >>> trips_by_mass(22.2, 5.0)
    5
    """
    return ceil(not_negative("mass", mass, "kg") / positive("payload", payload, "kg") - 1e-6)


def trips(bank_volume: float, swell: float, bank_weight: float, box: float, payload: float) -> int:
    """Trips to haul a bank volume: the more of those by volume and those by weight.

    ``bank_volume`` and ``box`` in m3, ``bank_weight`` in kg/m3, ``payload`` in kg, ``swell`` as a share.

    Source: `geometry`.

    >>> trips(11.3, 0.30, 1780.0, 7.6, 4536.0)
    5
    """
    by_volume = trips_by_volume(loose_volume(bank_volume, swell), box)
    return max(by_volume, trips_by_mass(mass_of(bank_volume, bank_weight), payload))
