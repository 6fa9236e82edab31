"""How much steel and where: subgrade drag, laps and cover."""

from __future__ import annotations

from math import sqrt
from typing import Final, Literal

from slabwright.formulas import positive, within
from slabwright.formulas.units import GRAVITY, INCH, LB_PER_FT2, PSI

DRAG_STRESS_SHARE: Final = 2 / 3  # of the yield strength, `crsi-slab-example`
USUAL_FRICTION: Final = 1.5  # `crsi-slab-example`
CONCRETE_UNIT_WEIGHT: Final = 12.5 * LB_PER_FT2 / INCH  # kg/m3: 12.5 lb/ft2 per inch, `crsi-slab-example`


# Cover in inches, structural concrete, as good practice in slabs on ground; `aci-318-19` Table 20.5.1.3.1.
Exposure = Literal["cast on ground", "weather or ground", "interior slab"]


def steel_area(bar_area: float, spacing: float) -> float:
    """Steel area in m2 per meter of width: one bar of ``bar_area`` m2 each ``spacing`` m.

    Source: `geometry`; `crsi-slab-example` prints 0.046 in2/ft for #3 at 29 in.

    >>> from slabwright.formulas.units import IN2_PER_FT
    >>> round(steel_area(0.11 * INCH**2, 29 * INCH) / IN2_PER_FT, 3)
    0.046
    """
    return positive("bar area", bar_area, "m2") / positive("bar spacing", spacing, "m")


def drag_steel(length: float, slab_weight: float, stress: float, friction: float = USUAL_FRICTION) -> float:
    """Steel in m2 per meter of width that holds a slab together while the ground drags on it: F L w/(2 fs).

    ``length`` L in m between free joints, ``slab_weight`` w in kg per m2, working ``stress`` fs in Pa,
    ``friction`` F from 0.5 to 3.

    Source: `crsi-slab-example`.

    >>> from slabwright.formulas.units import IN2_PER_FT
    >>> round(drag_steel(24 * 12 * INCH, 100 * LB_PER_FT2, 40000 * PSI) / IN2_PER_FT, 3)
    0.045
    """
    pull = positive("slab weight", slab_weight) * GRAVITY * positive("length between free joints", length, "m along")
    return within("friction", friction, 0.5, 3.0) * pull / (2 * positive("steel stress", stress, "Pa"))


def slab_weight(thickness: float) -> float:
    """Mass in kg per m2 of a slab ``thickness`` m thick: 12.5 lb/ft2 per inch.

    Source: `crsi-slab-example`.

    >>> round(slab_weight(8 * INCH) / LB_PER_FT2, 3)
    100.0
    """
    return positive("slab thickness", thickness, "m") * CONCRETE_UNIT_WEIGHT


def drag_stress(yield_strength: float) -> float:
    """Working stress in Pa of steel against drag: two thirds of its yield strength (Pa).

    Source: `crsi-slab-example`; `aashto-1993-quoted` takes 0.75 for highways.

    >>> round(drag_stress(60000 * PSI) / PSI)
    40000
    """
    return positive("yield strength", yield_strength, "Pa") * DRAG_STRESS_SHARE


def development_length(diameter: float, yield_strength: float, strength: float) -> float:
    """Length in m that develops a bar of ``diameter`` m: fy db/(25 sqrt(f'c)) in psi and in, at least 12 in.

    For bars up to #6 with favorable spacing and cover and other factors 1; ``yield_strength`` fy and concrete
    ``strength`` f'c in Pa.

    Source: `aci-318-14-laps`.

    >>> round(development_length(0.5 * INCH, 60000 * PSI, 4000 * PSI) / INCH, 2)
    18.97
    """
    db = within("bar diameter", diameter, 0.2 * INCH, 0.795 * INCH, "m")
    fy = within("yield strength", yield_strength, 40000 * PSI, 80000 * PSI, "Pa") / PSI
    fc = within("specified strength", strength, 2500 * PSI, 10000 * PSI, "Pa") / PSI
    return max(fy * db / (25 * sqrt(fc)), 12 * INCH)


def usual_yield(size: str) -> float:
    """Yield strength in Pa of a bar by its size, where nobody names its grade: 500 MPa where it goes by its mm.

    Bars by eighths of an inch are Grade 60, Canadian sizes such as 10M have 400 MPa.

    Source: `common-practice`.

    >>> [round(usual_yield(size) / 1e6) for size in ("#4", "10M", "12 mm")]
    [414, 400, 500]
    """
    if size.startswith("#"):
        return 60000 * PSI
    return 400e6 if size.endswith("M") else 500e6


def class_b_lap(diameter: float, yield_strength: float, strength: float) -> float:
    """Class B lap in m: 1.3 times the development length, with the parameters of :func:`development_length`.

    Source: `aci-318-14-laps`.

    >>> round(class_b_lap(0.5 * INCH, 60000 * PSI, 4000 * PSI) / INCH, 2)
    24.67
    """
    return max(1.3 * development_length(diameter, yield_strength, strength), 12 * INCH)


def dwelling_lap(diameter: float, yield_strength: float) -> float:
    """Lap in m of bars in dwellings: 40 diameters at Grade 40, 60 at Grade 60. Printed to whole inches.

    ``diameter`` in m, ``yield_strength`` in Pa, 33,000 to 61,000 psi (420 MPa); above 40,000 psi the longer lap.

    Source: `irc-r608.5.4`.

    >>> round(dwelling_lap(0.5 * INCH, 60000 * PSI) / INCH, 3)
    30.0
    """
    fy = within("yield strength", yield_strength, 33000 * PSI, 61000 * PSI, "Pa")
    return (40 if fy <= 40000 * PSI * (1 + 1e-9) else 60) * positive("bar diameter", diameter, "m")


def mesh_lap(spacing: float) -> float:
    """Lap in m of plain mesh: one wire space plus 2 in, at least 6 in.

    ``spacing`` of the wires in m, 2 to 12 in.

    Source: `aci-318-mesh-lap`.

    >>> round(mesh_lap(6 * INCH) / INCH, 3)
    8.0
    """
    return max(within("wire spacing", spacing, 2 * INCH, 12 * INCH, "m") + 2 * INCH, 6 * INCH)


def least_cover(exposure: Exposure, diameter: float) -> float:
    """Least cover in m of bars of ``diameter`` m: 3 in cast on ground, 2 or 1-1/2 in in weather, 3/4 in inside.

    In weather or ground contact #6 and larger take 2 in, #5 and smaller 1-1/2 in. A rule of structural concrete,
    good practice only in slabs on ground.

    Source: `aci-318-19`, Table 20.5.1.3.1.

    >>> round(least_cover("weather or ground", 0.5 * INCH) / INCH, 3)
    1.5
    """
    db = within("bar diameter", diameter, 0.05 * INCH, 1.42 * INCH, "m")
    if exposure == "cast on ground":
        return 3 * INCH
    if exposure == "interior slab":
        return 0.75 * INCH
    return 2 * INCH if db > 0.626 * INCH else 1.5 * INCH
