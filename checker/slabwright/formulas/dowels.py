"""Dowels across joints: the airfield table, and design by bearing, bending and shear of a group."""

from __future__ import annotations

from math import sqrt
from typing import Final, NamedTuple

from slabwright.formulas import positive, within
from slabwright.formulas.units import INCH


class DowelRow(NamedTuple):
    """One row of a dowel table, meters."""

    least_diameter: float
    most_diameter: float
    length: float
    most_spacing: float


class DowelStrength(NamedTuple):
    """What one dowel transfers, newtons."""

    shear: float
    bending: float
    bearing: float


# Upper thickness, diameters from and to, length, spacing, all in inches; `ufc-3-260-02` Table 12-8.
# The first three rows end just under the next: 8, 12 and 16 in.
_AIRFIELD: Final = (
    (8.0, 0.75, 0.75, 16.0, 12.0),
    (12.0, 1.0, 1.0, 16.0, 12.0),
    (16.0, 1.0, 1.25, 20.0, 15.0),
    (21.0, 1.0, 1.5, 20.0, 18.0),
)
# Upper thickness, diameter, length, length at contraction joints, spacing, all in inches; `building-dowel-guides`.
_FLOORS: Final = (
    (7.0, 0.75, 10.0, 13.0, 12.0),
    (9.0, 1.0, 13.0, 16.0, 12.0),
    (12.0, 1.25, 15.0, 18.0, 12.0),
)
_SHARE_CARRIED = 0.4  # of the wheel load, by the dowel group
_REACH = 1.8  # radii of relative stiffness to the last dowel that helps


def dowel_row(thickness: float) -> DowelRow:
    """Bar, least length and most spacing in m of dowels in pavement ``thickness`` m thick, 5 to 20.5 in.

    Source: `ufc-3-260-02`, Table 12-8.

    >>> [round(value / INCH, 2) for value in dowel_row(6 * INCH)]
    [0.75, 0.75, 16.0, 12.0]
    """
    inches = within("pavement thickness", thickness, 5 * INCH, 20.5 * INCH, "m") / INCH
    row = next(row for row in _AIRFIELD if inches < row[0] * (1 - 1e-9))
    return DowelRow(*(value * INCH for value in row[1:]))


def floor_dowel_row(thickness: float, contraction: bool) -> DowelRow:
    """Bar, length and spacing in m of dowels in a floor ``thickness`` m thick, 5 to 11.5 in.

    ``contraction`` joints take the longer bars.

    Source: `building-dowel-guides`.

    >>> [round(value / INCH, 2) for value in floor_dowel_row(6 * INCH, contraction=True)]
    [0.75, 0.75, 13.0, 12.0]
    """
    inches = within("floor thickness", thickness, 5 * INCH, 11.5 * INCH, "m") / INCH
    _, diameter, short, long, spacing = next(row for row in _FLOORS if inches < row[0] * (1 - 1e-9))
    return DowelRow(diameter * INCH, diameter * INCH, (long if contraction else short) * INCH, spacing * INCH)


def embedded_length(diameter: float, joint: float, bending_stress: float, bearing_stress: float) -> float:
    """Length in m of a dowel in concrete that makes bending and bearing equally strong.

    Ld = 5 d sqrt[(Ff/Fb) (Ld + 1.5 j)/(Ld + 8.8 j)], solved for Ld; ``diameter`` d and ``joint`` width j in m,
    allowable ``bending_stress`` Ff of the steel and ``bearing_stress`` Fb of the concrete in Pa.

    Source: `dowel-lecture-notes`.

    >>> round(embedded_length(0.025, 0.02, 1400e5, 100e5), 3)
    0.405
    """
    d, j = positive("dowel diameter", diameter, "m"), within("joint width", joint, 0.0, 0.05, "m")
    ratio = positive("bending stress", bending_stress, "Pa") / positive("bearing stress", bearing_stress, "Pa")
    length = 5 * d * sqrt(ratio)
    for _ in range(60):  # each round brings it several times nearer
        length = 5 * d * sqrt(ratio * (length + 1.5 * j) / (length + 8.8 * j))
    return length


def dowel_strength(
    diameter: float, length: float, joint: float, shear_stress: float, bending_stress: float, bearing_stress: float
) -> DowelStrength:
    """Load in N that one dowel transfers by shear, by bending and by bearing; the least governs.

    Shear 0.785 d^2 Fs, bending 2 d^3 Ff/(Ld + 8.8 j), bearing Fb Ld^2 d/(12.5 (Ld + 1.5 j)), with Ld the
    whole ``length`` less the ``joint`` j; ``diameter`` d, all in m, allowable stresses in Pa.

    Source: `dowel-lecture-notes`.

    >>> [round(load / 9.80665) for load in dowel_strength(0.025, 0.45, 0.02, 98.0665e6, 137.2931e6, 9.80665e6)]
    [4906, 722, 804]
    """
    d, j = positive("dowel diameter", diameter, "m"), within("joint width", joint, 0.0, 0.05, "m")
    ld = positive("length of the dowel in concrete", length - j, "m")
    return DowelStrength(
        shear=0.785 * d**2 * shear_stress,
        bending=2 * d**3 * bending_stress / (ld + 8.8 * j),
        bearing=bearing_stress * ld**2 * d / (12.5 * (ld + 1.5 * j)),
    )


def dowels_needed(wheel_load: float, strength: DowelStrength) -> float:
    """How many fully loaded dowels a wheel asks for: 40 % of the load (N) over the weakest way of one dowel.

    Source: `dowel-lecture-notes`.

    >>> round(dowels_needed(5000.0, DowelStrength(4906, 721.9, 803.9)), 2)
    2.77
    """
    return _SHARE_CARRIED * positive("wheel load", wheel_load, "N") / min(strength)


def group_capacity(spacing: float, stiffness_radius: float) -> float:
    """Fully loaded dowels that a group at ``spacing`` m equals, the wheel standing over the first.

    Each dowel at distance x carries 1 - x/(1.8 l) of the first; ``stiffness_radius`` l in m.

    Source: `dowel-lecture-notes`.

    >>> round(group_capacity(0.35, 0.80), 2)
    2.57
    """
    reach = _REACH * positive("radius of relative stiffness", stiffness_radius, "m")
    count = int(reach / positive("dowel spacing", spacing, "m") + 1e-9)
    return sum(1 - n * spacing / reach for n in range(count + 1))
