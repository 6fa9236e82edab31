"""Bars and mesh: what each size measures and weighs."""

import re
from math import pi, sqrt
from typing import Final, NamedTuple

from slabwright.formulas import OutOfRangeError, within
from slabwright.formulas.units import INCH, LB_PER_FT, LB_PER_FT2

STEEL_DENSITY: Final = 7850.0  # kg/m3, behind the printed masses of metric bars


class BarSize(NamedTuple):
    """A bar: diameter in m, area in m2 as tabled, mass in kg/m."""

    diameter: float
    area: float
    mass: float


class MeshStyle(NamedTuple):
    """Plain welded wire mesh, the same each way: spacing and wire diameter in m, area in m2/m, mass in kg/m2."""

    spacing: float
    wire_diameter: float
    area: float
    mass: float


class Wires(NamedTuple):
    """The wires of a sheet that run one way: spacing and diameter in m, area in m2/m."""

    spacing: float
    diameter: float
    area: float


class MetricSheet(NamedTuple):
    """A sheet as a country's table has it: wires along and across it, its sides, its mass in kg/m2."""

    main: Wires
    cross: Wires
    sides: tuple[float, ...]  # m, length and width; none where they differ from yard to yard
    mass: float


# Area in in2 and mass in kg/m as printed; `pci-handbook-7` Design Aid 15.4.1 (ASTM A615).
_BARS: Final[dict[int, tuple[float, float]]] = {
    3: (0.11, 0.560),
    4: (0.20, 0.994),
    5: (0.31, 1.552),
    6: (0.44, 2.235),
    7: (0.60, 3.042),
    8: (0.79, 3.973),
}
# Diameter in in, area in in2, weight in lb/ft of bars too thick to go by eighths; `astm-a615-recalled`.
_THICK_BARS: Final[dict[int, tuple[float, float, float]]] = {
    9: (1.128, 1.00, 3.400),
    10: (1.270, 1.27, 4.303),
    11: (1.410, 1.56, 5.313),
}
# Diameter in mm, area in mm2, mass in kg/m; `csa-bars`.
_METRIC_BARS: Final[dict[int, tuple[float, float, float]]] = {
    10: (11.3, 100, 0.785),
    15: (16.0, 200, 1.570),
    20: (19.5, 300, 2.355),
    25: (25.2, 500, 3.925),
}
# Pounds per 100 ft2 of sheet, with its side overhang, by spacing in inches and wire number; `reinforcing-notes-2013`.
_MESH_WEIGHTS: Final[dict[tuple[int, float], float]] = {
    (6, 1.4): 21, (6, 2.0): 29, (6, 2.9): 42, (6, 4.0): 58,
    (4, 1.4): 31, (4, 2.0): 43, (4, 2.9): 62, (4, 4.0): 85,
}  # fmt: skip

# Metric sheets: main wires (mm apart, mm thick), cross wires (the same), sheet (m long, m wide), and kg/m2 where the
# maker's list has thinner wires at the edges than plain arithmetic knows; 0 where it is the arithmetic. Sides are 0
# where they differ from yard to yard.
_Sheet = tuple[float, float, float, float, float, float, float]
_BRITISH: Final[dict[str, _Sheet]] = {  # `bs-4483`, wires `sheet-tables-recalled`
    "A142": (200, 6, 200, 6, 4.8, 2.4, 0),
    "A193": (200, 7, 200, 7, 4.8, 2.4, 0),
    "A252": (200, 8, 200, 8, 4.8, 2.4, 0),
    "A393": (200, 10, 200, 10, 4.8, 2.4, 0),
    "B196": (100, 5, 200, 7, 4.8, 2.4, 0),
    "B283": (100, 6, 200, 7, 4.8, 2.4, 0),
    "B385": (100, 7, 200, 7, 4.8, 2.4, 0),
    "B503": (100, 8, 200, 8, 4.8, 2.4, 0),
    "B785": (100, 10, 200, 8, 4.8, 2.4, 0),
    "B1131": (100, 12, 200, 8, 4.8, 2.4, 0),
    "C283": (100, 6, 400, 5, 4.8, 2.4, 0),
    "C385": (100, 7, 400, 5, 4.8, 2.4, 0),
    "C503": (100, 8, 400, 5, 4.8, 2.4, 0),
}
_GERMAN: Final[dict[str, _Sheet]] = {  # sheets and kg/m2 `din-488-4`; cross wires of R types `sheet-tables-recalled`
    "Q188A": (150, 6, 150, 6, 6.0, 2.30, 3.02),
    "Q257A": (150, 7, 150, 7, 6.0, 2.30, 4.12),
    "Q335A": (150, 8, 150, 8, 6.0, 2.30, 5.38),
    "Q424A": (150, 9, 150, 9, 6.0, 2.30, 6.12),
    "Q524A": (150, 10, 150, 10, 6.0, 2.30, 7.31),
    "Q636A": (100, 9, 125, 10, 6.0, 2.35, 9.36),
    "R188A": (150, 6, 250, 6, 6.0, 2.30, 2.43),
    "R257A": (150, 7, 250, 6, 6.0, 2.30, 2.99),
    "R335A": (150, 8, 250, 6, 6.0, 2.30, 3.64),
    "R424A": (150, 9, 250, 8, 6.0, 2.30, 4.87),
    "R524A": (150, 10, 250, 8, 6.0, 2.30, 5.49),
}
_AUSTRALIAN: Final[dict[str, _Sheet]] = {  # `as-nzs-4671-recalled`
    "SL52": (200, 4.75, 200, 4.75, 6.0, 2.4, 0),
    "SL62": (200, 6.0, 200, 6.0, 6.0, 2.4, 0),
    "SL72": (200, 6.75, 200, 6.75, 6.0, 2.4, 0),
    "SL82": (200, 7.6, 200, 7.6, 6.0, 2.4, 0),
    "SL92": (200, 8.6, 200, 8.6, 6.0, 2.4, 0),
    "SL102": (200, 9.5, 200, 9.5, 6.0, 2.4, 0),
    "RL718": (100, 6.75, 200, 7.6, 6.0, 2.4, 0),
    "RL818": (100, 7.6, 200, 7.6, 6.0, 2.4, 0),
    "RL918": (100, 8.6, 200, 7.6, 6.0, 2.4, 0),
    "RL1018": (100, 9.5, 200, 7.6, 6.0, 2.4, 0),
    "RL1118": (100, 10.65, 200, 7.6, 6.0, 2.4, 0),
    "RL1218": (100, 11.9, 200, 7.6, 6.0, 2.4, 0),
}
_NEW_ZEALAND: Final[dict[str, _Sheet]] = {  # `as-nzs-4671-recalled`
    "663": (150, 6.3, 150, 6.3, 0, 0, 0),
    "665": (150, 5.3, 150, 5.3, 0, 0, 0),
    "668": (150, 4.0, 150, 4.0, 0, 0, 0),
}
_FRENCH: Final[dict[str, _Sheet]] = {  # `sheet-tables-recalled`
    "ST10": (200, 5.5, 200, 5.5, 4.8, 2.4, 0),
    "ST15C": (200, 6, 200, 6, 4.0, 2.4, 0),
    "ST20": (150, 6, 300, 7, 6.0, 2.4, 0),
    "ST25": (150, 7, 300, 7, 6.0, 2.4, 0),
    "ST25C": (150, 7, 150, 7, 6.0, 2.4, 0),
    "ST30": (100, 6, 300, 7, 6.0, 2.4, 0),
    "ST35": (100, 7, 300, 7, 6.0, 2.4, 0),
    "ST40C": (100, 7, 100, 7, 6.0, 2.4, 0),
    "ST50": (100, 8, 300, 8, 6.0, 2.4, 0),
    "ST50C": (100, 8, 100, 8, 6.0, 2.4, 0),
}
_NORWEGIAN: Final[dict[str, _Sheet]] = {  # `sheet-tables-recalled`
    "K131": (150, 5, 150, 5, 5.0, 2.0, 0),
    "K189": (150, 6, 150, 6, 5.0, 2.0, 0),
    "K257": (150, 7, 150, 7, 5.0, 2.0, 0),
    "K335": (150, 8, 150, 8, 5.0, 2.0, 0),
    "K402": (125, 8, 125, 8, 5.0, 2.0, 0),
}
_AUSTRIAN: Final[dict[str, _Sheet]] = {  # `sheet-tables-recalled`
    "AQ50": (100, 5, 100, 5, 0, 0, 0),
    "AQ55": (100, 5.5, 100, 5.5, 0, 0, 0),
    "AQ60": (100, 6, 100, 6, 0, 0, 0),
    "AQ65": (100, 6.5, 100, 6.5, 0, 0, 0),
    "AQ70": (100, 7, 100, 7, 0, 0, 0),
    "AQ76": (100, 7.6, 100, 7.6, 0, 0, 0),
    "AQ82": (100, 8.2, 100, 8.2, 0, 0, 0),
    "AQ90": (100, 9, 100, 9, 0, 0, 0),
    "AQ100": (100, 10, 100, 10, 0, 0, 0),
}
_METRIC_SHEETS: Final = {
    **_BRITISH, **_GERMAN, **_AUSTRALIAN, **_NEW_ZEALAND, **_FRENCH, **_NORWEGIAN, **_AUSTRIAN,
}  # fmt: skip

BAR_NAMES: Final = (*(f"#{n}" for n in (*_BARS, *_THICK_BARS)), *(f"{n}M" for n in _METRIC_BARS))
METRIC_SHEET_NAMES: Final = tuple(_METRIC_SHEETS)
MESH_NAMES: Final = tuple(f"{s}x{s} W{w}" for s, w in _MESH_WEIGHTS)


def bar(name: str) -> BarSize:
    """The bar called ``name``: "#3" to "#11", "10M" to "25M", or a diameter such as "12 mm" (6 to 40 mm).

    A bar named by its diameter in mm has the area of the circle.

    Source: `pci-handbook-7`, Design Aid 15.4.1, for #3 to #8; `astm-a615-recalled` for #9 to #11; `csa-bars` for M
    sizes; `geometry` for mm.

    >>> round(bar("#4").diameter / INCH, 3), round(bar("#4").area / INCH**2, 2), round(bar("#4").mass, 3)
    (0.5, 0.2, 0.994)
    """
    if (numbered := re.fullmatch(r"#\s*(\d+)", name)) and int(numbered[1]) in _BARS:
        area, mass = _BARS[int(numbered[1])]
        return BarSize(int(numbered[1]) / 8 * INCH, area * INCH**2, mass)
    if numbered and int(numbered[1]) in _THICK_BARS:
        across, area, weight = _THICK_BARS[int(numbered[1])]
        return BarSize(across * INCH, area * INCH**2, weight * LB_PER_FT)
    if (sized := re.fullmatch(r"(\d+)\s*M", name)) and int(sized[1]) in _METRIC_BARS:
        diameter, area, mass = _METRIC_BARS[int(sized[1])]
        return BarSize(diameter / 1000, area / 1e6, mass)
    if (measured := re.fullmatch(r"(\d+(?:\.\d+)?)\s*mm", name)) and 6 <= float(measured[1]) <= 40:
        diameter = float(measured[1]) / 1000
        area = pi * diameter**2 / 4
        return BarSize(diameter, area, area * STEEL_DENSITY)
    raise OutOfRangeError(f"no bar is called {name!r}: this holds for {', '.join(BAR_NAMES)}, and 6 mm to 40 mm")


def wire_area(wire: str) -> float:
    """Area in m2 of a plain wire by its W number, hundredths of a square inch.

    Source: `reinforcing-notes-2013`.

    >>> round(wire_area("W2.9") / INCH**2, 4)
    0.029
    """
    found = re.fullmatch(r"W\s*(\d+(?:\.\d+)?)", wire)
    if not found:
        raise OutOfRangeError(f"{wire!r} is no plain wire: this holds for W and a number, such as W2.9")
    return within("wire number", float(found[1]), 0.5, 31.0) / 100 * INCH**2


def wire_diameter(wire: str) -> float:
    """Diameter in m of a plain wire by its W number: that of a circle of its area.

    Source: `reinforcing-notes-2013`.

    >>> round(wire_diameter("W2.9") / INCH, 3)
    0.192
    """
    return sqrt(4 * wire_area(wire) / pi)


def mesh_area(wire: str, spacing: float) -> float:
    """Steel area in m2 per meter of width of plain mesh: one wire each ``spacing`` m.

    Source: `reinforcing-notes-2013`, mesh table.

    >>> from slabwright.formulas.units import IN2_PER_FT
    >>> round(mesh_area("W2.9", 6 * INCH) / IN2_PER_FT, 3)
    0.058
    """
    return wire_area(wire) / within("wire spacing", spacing, 2 * INCH, 18 * INCH, "m")


def mesh(style: str) -> MeshStyle:
    """The mesh called ``style``, such as "6x6 W2.9": W1.4, W2.0, W2.9 or W4.0 at 4 or 6 in.

    Source: `reinforcing-notes-2013`, mesh table.

    >>> from slabwright.formulas.units import IN2_PER_FT
    >>> round(mesh("6x6 W2.9").area / IN2_PER_FT, 3), round(mesh("6x6 W2.9").mass * 100 / LB_PER_FT2)
    (0.058, 42)
    """
    found = re.fullmatch(r"(\d+)\s*x\s*\1\s+W\s*(\d+(?:\.\d+)?)", style)
    weight = _MESH_WEIGHTS.get((int(found[1]), float(found[2]))) if found else None
    if not found or weight is None:
        raise OutOfRangeError(f"no mesh is called {style!r}: this holds for {', '.join(MESH_NAMES)}")
    spacing, wire = int(found[1]) * INCH, f"W{found[2]}"
    return MeshStyle(spacing, wire_diameter(wire), mesh_area(wire, spacing), weight / 100 * LB_PER_FT2)


def metric_sheet(name: str) -> MetricSheet:
    """The sheet called ``name`` by a country's table, such as "A142", "Q188A", "R257A", "SL82", "665", "ST25C", "K189".

    Source: `bs-4483`, `din-488-4`, `as-nzs-4671-recalled`, `sheet-tables-recalled`.

    >>> sheet = metric_sheet("A193")
    >>> round(sheet.main.area * 1e6), round(sheet.mass, 2), sheet.sides
    (192, 3.02, (4.8, 2.4))
    """
    if name not in _METRIC_SHEETS:
        raise OutOfRangeError(f"no sheet is called {name!r}: this holds for {', '.join(METRIC_SHEET_NAMES)}")
    apart, thick, cross_apart, cross_thick, long, wide, listed = _METRIC_SHEETS[name]
    main, cross = wires(apart / 1000, thick / 1000), wires(cross_apart / 1000, cross_thick / 1000)
    sides = (long, wide) if long else ()
    return MetricSheet(main, cross, sides, listed or (main.area + cross.area) * STEEL_DENSITY)


def wires(spacing: float, diameter: float) -> Wires:
    """Round wires of ``diameter`` m, ``spacing`` m apart.

    Source: `geometry`.

    >>> round(wires(0.150, 0.006).area * 1e6)
    188
    """
    within("wire diameter", diameter, 0.003, 0.016, "m")
    return Wires(spacing, diameter, pi * diameter**2 / 4 / within("wire spacing", spacing, 0.050, 0.400, "m"))
