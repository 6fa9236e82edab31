"""Rain on a slab, and how wide it spreads along an edge, a gutter or a valley."""

from __future__ import annotations

from typing import Final

from slabwright.formulas import OutOfRangeError, not_negative, positive, within

# Runoff coefficients, least and most; `asce-runoff-table`.
RUNOFF_COEFFICIENT: Final[dict[str, tuple[float, float]]] = {
    "concrete": (0.80, 0.95),
    "drives and walks": (0.75, 0.85),
    "asphalt": (0.70, 0.95),
    "roof": (0.75, 0.95),
    "lawn, heavy soil, under 2 %": (0.13, 0.17),
    "lawn, heavy soil, 2 to 7 %": (0.18, 0.22),
    "lawn, sandy soil": (0.05, 0.10),
}
# Manning roughness by finish; `hec-22` Table 4-3.
MANNING: Final[dict[str, float]] = {"trowel": 0.012, "float": 0.014, "broom": 0.016}

_K = 0.376  # SI; 0.56 in feet and seconds
_CROSS, _ALONG, _SPREAD = 1.67, 0.5, 2.67


def runoff(coefficient: float, intensity: float, area: float) -> float:
    """Runoff in m3/s of a small area: C i A.

    ``coefficient`` C from 0 to 1, ``intensity`` i of the rain in m/s, ``area`` A in m2.

    Source: `rational-method`.

    >>> from slabwright.formulas.units import FOOT2, FOOT3, HOUR, INCH
    >>> round(runoff(0.9, 6 * INCH / HOUR, 600 * FOOT2) / FOOT3, 3)
    0.075
    """
    c = within("runoff coefficient", coefficient, 0.0, 1.0)
    return c * not_negative("rain intensity", intensity) * not_negative("area", area, "m2")


def manning(finish: str) -> float:
    """Manning roughness of concrete by finish: trowel 0.012, float 0.014, broom 0.016.

    Source: `hec-22`, Table 4-3; `winchester-in` prints 0.013 and 0.015 for trowel and broom.

    >>> manning("broom")
    0.016
    """
    if finish not in MANNING:
        raise OutOfRangeError(f"no roughness is tabled for {finish!r}: this holds for {', '.join(MANNING)}")
    return MANNING[finish]


def gutter_spread(flow: float, cross_slope: float, slope: float, manning_n: float) -> float:
    """Spread in m of a flow (m3/s) in a triangular gutter; the equation of :func:`gutter_flow`, solved for T.

    Source: `hec-22-quoted`, eq. 4-2; `hec-22` prints 2.7 m in its example 4-1.

    >>> round(gutter_spread(0.05, 0.020, 0.010, 0.016), 1)
    2.7
    """
    q = not_negative("flow", flow)
    return float((q / _conveyance(cross_slope, slope, manning_n)) ** (1 / _SPREAD))


def valley_cross_slope(one_side: float, other_side: float) -> float:
    """Cross slope of the triangular gutter that carries what a V-section carries: Sx1 Sx2/(Sx1 + Sx2).

    Source: `geometry`; `hec-22`, example 4-3, prints 0.0345 for 0.25 and 0.04.

    >>> round(valley_cross_slope(0.25, 0.04), 4)
    0.0345
    """
    a, b = (within("cross slope", s, 0.001, 1.0, "slope") for s in (one_side, other_side))
    return a * b / (a + b)


def gutter_depth(spread: float, cross_slope: float) -> float:
    """Depth in m of water at the low side of a triangular gutter: T Sx.

    Source: `hec-22-quoted`.

    >>> round(gutter_depth(2.5, 0.02), 3)
    0.05
    """
    return not_negative("spread", spread, "m along") * positive("cross slope", cross_slope, "slope")


def _conveyance(cross_slope: float, slope: float, manning_n: float) -> float:
    """Flow at a spread of 1 m."""
    sx = within("cross slope", cross_slope, 0.001, 1.0, "slope")
    sl = within("slope along the gutter", slope, 0.0001, 0.25, "slope")
    n = within("Manning roughness", manning_n, 0.008, 0.05)
    return float(_K / n * sx**_CROSS * sl**_ALONG)
