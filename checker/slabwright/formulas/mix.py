"""The mix: air, water, stone sizes, strength asked by exposure, and what water added on site does."""

from math import floor
from typing import Final, Literal

from slabwright.formulas import not_negative, positive, within
from slabwright.formulas.units import INCH, LB_PER_YD3, POUND, PSI, YARD3

Freezing = Literal["severe", "moderate"]

# Total air in percent, severe and moderate, by nominal stone size in inches; `aci-211.1`.
_AIR: Final[dict[float, tuple[float, float]]] = {
    0.375: (7.5, 6.0),
    0.5: (7.0, 5.5),
    0.75: (6.0, 5.0),
    1.0: (6.0, 4.5),
    1.5: (5.5, 4.5),
    2.0: (5.0, 4.0),
    3.0: (4.5, 3.5),
}
# Total air in percent by the largest stone in mm; `din-1045-2`.
_AIR_METRIC: Final = {8: 5.5, 16: 4.5, 32: 4.0, 63: 3.5}
# Mixing water in lb/yd3, air-entrained, 3 to 4 in slump, by nominal stone size in inches; `aci-211.1`.
_WATER: Final[dict[float, float]] = {0.375: 340, 0.5: 325, 0.75: 305, 1.0: 295}
# Soil sulfate as a share, upper bounds of the classes; `aci-318-19` Table 19.3.1.1. The first two are not reached.
_SULFATE: Final = ((0.0010, "S0"), (0.0020, "S1"), (0.0200, "S2"))
# Usual sizes of stone in inches; `aci-304.2r` names them against pump lines.
_STONE_SIZES: Final = (0.375, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0)

WATER_PER_GALLON: Final = 8.33 * POUND  # kg in a US gallon, as the trade counts it
AIR_TOLERANCE: Final = 0.015  # share, `astm-c94`
SALTED_WATER_CEMENT: Final = 0.45  # at most, where it freezes and salt comes on it; `aci-332-20`, class RF3
GALLON_STRENGTH_LOSS: Final = (150 * PSI, 400 * PSI)  # Pa for one gallon per yard, `trade-qa-water`


# Types of cement that keep some sulfate out (1), much (2), or the most, with pozzolan or slag (3); any other type 0.
# Types for S2 were read, `aci-318-19` as a national ready-mixed association prints it; those for S1 and S3 are
# recalled, `aci-318-19-recalled`.
CEMENT_RESISTANCE: Final[dict[str, int]] = {
    **dict.fromkeys(("I/II", "II", "IL (MS)", "IP (MS)", "IS (MS)", "IT (MS)", "MS"), 1),
    **dict.fromkeys(("II/V", "V", "IL (HS)", "IP (HS)", "IS (HS)", "IT (HS)", "HS"), 2),
    **dict.fromkeys(("CEM I-SR", "CEM III-SR", "CEM IV-SR"), 2),
    "V with pozzolan": 3,
}


# What a class of the Canadian standard is against: 2 frost and salt, 1 frost, 0 no frost (common practice).
FROST_OF_CANADIAN: Final[dict[str, int]] = {
    **dict.fromkeys(("C-XL", "C-1", "C-2"), 2),
    **dict.fromkeys(("F-1", "F-2"), 1),
    **dict.fromkeys(("C-3", "C-4", "N"), 0),
}


def by_canadian_class(exposure: str | None, freezing: str | None, salted: bool | None) -> bool:
    """Whether a mix is held to the numbers of a Canadian class: one against salt is written, or wanted.

    Source: `csa-a23.1`, class C-2 of pavement, walks and curbs with deicers

    >>> by_canadian_class("C-2", None, None), by_canadian_class("N", "severe", True), by_canadian_class("N", None, None)
    (True, True, False)
    """
    if exposure not in FROST_OF_CANADIAN:
        return False
    return FROST_OF_CANADIAN[exposure] == 2 or (bool(salted) and freezing in ("moderate", "severe"))


# Least and most in m; None where a class has no end there. `en-206-consistence`.
SLUMP_CLASSES: Final[dict[str, tuple[float, float | None]]] = {
    "S1": (0.010, 0.040),
    "S2": (0.050, 0.090),
    "S3": (0.100, 0.150),
    "S4": (0.160, 0.210),
    "S5": (0.220, None),
}
FLOW_CLASSES: Final[dict[str, tuple[float | None, float | None]]] = {
    "F1": (None, 0.340),
    "F2": (0.350, 0.410),
    "F3": (0.420, 0.480),
    "F4": (0.490, 0.550),
    "F5": (0.560, 0.620),
    "F6": (0.630, None),
}


def nominal_stone(stone: float) -> float:
    """The nominal size in m of stone sold by a metric sieve: 9.5, 12.5, 19, 25, 37.5 mm are 3/8 to 1-1/2 in.

    ``stone`` in m; a size within 2 % under one of the tables is that one, and what the tables end before is their
    first or last size (3/8 in, 3 in).

    Source: `common-practice`.

    >>> round(nominal_stone(0.019) / INCH, 3), round(nominal_stone(0.016) / INCH, 3)
    (0.75, 0.63)
    """
    inches = min(max(positive("stone size", stone, "m") / INCH, min(_AIR)), max(_AIR))
    return next((size for size in _AIR if size * 0.98 <= inches <= size), inches) * INCH


def total_air(stone: float, freezing: Freezing) -> float:
    """Total air as a share for a nominal stone size in m (3/8, 1/2, 3/4, 1, 1-1/2, 2 or 3 in).

    A size between two of the table takes the smaller size, which asks for more air.

    Source: `aci-211.1`, air table.

    >>> total_air(0.75 * INCH, "severe"), total_air(1.0 * INCH, "moderate")
    (0.06, 0.045)
    """
    percent = _AIR[_size_at_or_under(stone, tuple(_AIR))][0 if freezing == "severe" else 1]
    return percent / 100


def total_air_metric(stone: float) -> float:
    """Total air as a share, at least, for stone of a size in m that is exposed to frost wet, by the German annex.

    8 mm 5.5 %, 16 mm 4.5 %, 32 mm 4.0 %, 63 mm 3.5 %; a size between two takes the smaller, which asks for more air.

    Source: `din-1045-2`.

    >>> [total_air_metric(size / 1000) for size in (8, 16, 20, 32)]
    [0.055, 0.045, 0.045, 0.04]
    """
    millimeters = positive("stone size", stone, "m") * 1000
    return _AIR_METRIC[max((size for size in _AIR_METRIC if size <= millimeters * 1.001), default=8)] / 100


def mixing_water(stone: float) -> float:
    """Mixing water in kg/m3 of air-entrained concrete at 3 to 4 in slump, by nominal stone size in m (3/8 to 1 in).

    A size between two of the table takes the smaller size, which asks for more water.

    Source: `aci-211.1`.

    >>> round(mixing_water(0.75 * INCH) / LB_PER_YD3)
    305
    """
    within("stone size", stone, 0.375 * INCH, 1.0 * INCH, "m")
    return _WATER[_size_at_or_under(stone, tuple(_WATER))] * LB_PER_YD3


def usual_stone(most: float) -> float:
    """Largest usual stone size in m that is not over ``most`` m: 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2 or 2 in.

    Source: `aci-304.2r`.

    >>> round(usual_stone(4 * INCH / 3) / INCH, 3)
    1.25
    """
    return _size_at_or_under(min(most, _STONE_SIZES[-1] * INCH), _STONE_SIZES) * INCH


def usual_stone_metric(most: float) -> float:
    """Largest usual stone size in m that is not over ``most`` m: 8, 10, 16, 20, 25, 32 or 40 mm.

    Source: `common-practice`.

    >>> usual_stone_metric(0.033)
    0.032
    """
    sizes = (8, 10, 16, 20, 25, 32, 40)
    within("stone size", most, sizes[0] / 1000, 1.0, "m")
    return max(size for size in sizes if size <= most * 1000 * (1 + 1e-9)) / 1000


def sulfate_class(soil_share: float) -> str:
    """Sulfate class S0 to S3 by water-soluble sulfate in the soil, as a share of its mass.

    S0 below 0.10 %, S1 below 0.20 %, S2 to 2.0 %, S3 above.

    Source: `aci-318-19`, Table 19.3.1.1; `pca-eb001`.

    >>> [sulfate_class(share) for share in (0.0005, 0.0015, 0.0020, 0.0200, 0.025)]
    ['S0', 'S1', 'S2', 'S2', 'S3']
    """
    share = within("soil sulfate", soil_share, 0.0, 1.0, "share")
    if share > _SULFATE[2][0] * (1 + 1e-9):
        return "S3"
    return next((name for bound, name in _SULFATE[:2] if share < bound * (1 - 1e-9)), "S2")


def whole_megapascals(strength: float) -> float:
    """Strength in Pa as metric documents print it: the whole megapascals that are in it.

    Source: `pca-eb001`, Table 11-3, where 31 MPa stands beside 4,500 psi.

    >>> whole_megapascals(4500 * PSI) / 1e6
    31.0
    """
    return floor(positive("strength", strength, "Pa") / 1e6 + 1e-6) * 1e6


def gallons_per_yard(water: float) -> float:
    """US gallons in each cubic yard, from kg of water in each m3; a gallon counts 8.33 lb.

    Source: `geometry`.

    >>> round(gallons_per_yard(305 * LB_PER_YD3), 1)
    36.6
    """
    return not_negative("water", water, "kg/m3") * YARD3 / WATER_PER_GALLON


def strength_loss(water: float) -> tuple[float, float]:
    """Least and most strength in Pa lost to ``water`` kg/m3 added on site: 150 to 400 psi a gallon per yard.

    Holds for up to 3 gallons per yard (15 kg/m3).

    Source: `trade-qa-water`.

    >>> [round(loss / PSI) for loss in strength_loss(8.33 * POUND / YARD3)]
    [150, 400]
    """
    gallons = gallons_per_yard(within("water added", water, 0.0, 3 * WATER_PER_GALLON / YARD3, "kg/m3"))
    return GALLON_STRENGTH_LOSS[0] * gallons, GALLON_STRENGTH_LOSS[1] * gallons


def _size_at_or_under(stone: float, sizes: tuple[float, ...]) -> float:
    """The largest of ``sizes`` (inches) not over ``stone`` (m)."""
    inches = within("stone size", stone, sizes[0] * INCH, sizes[-1] * INCH, "m") / INCH
    return max(size for size in sizes if size <= inches * (1 + 1e-9))
