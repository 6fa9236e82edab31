"""Bar sizes and wire sheets by their trade names.

Sources: bars #3 to #8 and plain sheets W1.4 to W4.0 as printed in the PCI Design Handbook, 7th ed., Design
Aid 15.4.1, and a reinforcing course's mesh table of 2013 (read); bars #9 to #11 by ASTM A615, 10M to 20M by
CSA G30.18 and sheets SL62 to SL102 by AS/NZS 4671 are recalled, not checked. Metric bars are round bars of
steel at 7,850 kg/m3, the nominal weight of EN 10080.
"""

from __future__ import annotations

import math
import re
from difflib import get_close_matches

from slabwright.place import Place
from slabwright.quantity import QuantityError
from slabwright.reading.design import Bar, Mesh

_INCH = 0.0254
_FOOT = 0.3048
_POUND = 0.45359237
_STEEL = 7850.0  # kg/m3

# name: (diameter in, area in2, weight lb/ft)
_US_BARS = {
    "#3": (0.375, 0.11, 0.376),
    "#4": (0.500, 0.20, 0.668),
    "#5": (0.625, 0.31, 1.043),
    "#6": (0.750, 0.44, 1.502),
    "#7": (0.875, 0.60, 2.044),
    "#8": (1.000, 0.79, 2.670),
    "#9": (1.128, 1.00, 3.400),
    "#10": (1.270, 1.27, 4.303),
    "#11": (1.410, 1.56, 5.313),
}
# name: (diameter mm, area mm2, mass kg/m)
_CANADIAN_BARS = {"10M": (11.3, 100.0, 0.785), "15M": (16.0, 200.0, 1.570), "20M": (19.5, 300.0, 2.355)}
_METRIC_BARS = (8, 10, 12, 16, 20)
# name: (wire diameter mm, area mm2/m), wires 200 mm apart
_METRIC_SHEETS = {"SL62": (5.95, 141), "SL72": (6.75, 179), "SL82": (7.6, 227), "SL92": (8.6, 290), "SL102": (9.5, 354)}
_GAUGES = {"10/10": "W1.4", "8/8": "W2.1", "6/6": "W2.9", "4/4": "W4.0"}

_SHEET = re.compile(
    r"(\d{1,2}) ?x ?(\d{1,2})(?: ?in)?[ -]*(W|D|MW)? ?(\d{1,2}(?:\.\d+)?) ?(?:x ?(?:W|D|MW)? ?(\d{1,2}(?:\.\d+)?))?",
    re.I,
)
_GAUGE = re.compile(r"(\d{1,2}) ?x ?(\d{1,2})[ -]+(\d{1,2}) ?[/x] ?(\d{1,2})", re.I)


def bar(text: str, place: Place | None = None) -> Bar:
    """A bar by its size.

    :raises QuantityError: for a size nobody sells, or that could be two.

    >>> bar("#4").area == 0.20 * 0.0254**2
    True
    >>> bar("12 mm").name
    '12 mm'
    """
    plain = " ".join(text.split())
    size = plain.upper().replace(" ", "").replace("NO.", "#").removesuffix("BAR")
    if size in _US_BARS:
        diameter, area, weight = _US_BARS[size]
        return Bar(size, diameter * _INCH, area * _INCH**2, weight * _POUND / _FOOT)
    if size in _CANADIAN_BARS:
        diameter, area, weight = _CANADIAN_BARS[size]
        return Bar(size, diameter / 1000, area / 1e6, weight)
    metric = re.fullmatch(r"(?:[TNH]|DB)?(\d+)MM", size)
    if metric and int(metric[1]) in _METRIC_BARS:
        diameter = int(metric[1]) / 1000
        area = math.pi * diameter**2 / 4
        return Bar(f"{metric[1]} mm", diameter, area, area * _STEEL)
    raise QuantityError(*_no_such_bar(plain, size), place)


def _no_such_bar(plain: str, size: str) -> tuple[str, str]:
    """What is wrong with a bar size, and the one that may be meant."""
    known = [*_US_BARS, *_CANADIAN_BARS, *(f"{each} mm" for each in _METRIC_BARS)]
    if size.isdigit() and f"#{size}" in _US_BARS:
        return f'"{plain}" does not say which bar is meant', f'"#{size}" if it is eighths of an inch'
    inches = re.fullmatch(r'([1-7])/([248])(?:"|IN)?', size)
    if inches:
        eighths = int(inches[1]) * 8 // int(inches[2])
        if f"#{eighths}" in _US_BARS:
            return f"{plain} is a diameter, and bars go by number", f'"#{eighths}"'
    near = get_close_matches(size, known, 1, 0.6)
    choices = "#3 to #11, 10M, 15M, 20M, or 8, 10, 12, 16 or 20 mm"
    return f'"{plain}" is not a bar size known here', f'"{near[0]}", if that is meant' if near else f"one of {choices}"


def mesh_style(text: str, place: Place) -> Mesh:
    """A sheet of plain welded wire by its style; cover and supports are left out.

    ``6x6 W2.9`` is wires of 0.029 in2 every 6 in, both ways.

    :raises QuantityError: for a style that cannot be read or differs between its two ways.

    >>> round(mesh_style("6x6 W2.9", Place("")).area_per_width / 0.0254**2 * 0.3048, 3)
    0.058
    """
    plain = " ".join(text.replace("×", "x").split())
    metric = _METRIC_SHEETS.get(plain.upper().replace(" ", ""))
    if metric is not None:
        return Mesh(plain.upper().replace(" ", ""), 0.2, metric[0] / 1000, metric[1] / 1e6, place=place)
    gauge = _GAUGE.fullmatch(plain)
    if gauge and f"{gauge[3]}/{gauge[4]}" in _GAUGES:
        wire = _GAUGES[f"{gauge[3]}/{gauge[4]}"]
        raise QuantityError(f'"{plain}" gives the old wire gauge', f"{gauge[1]}x{gauge[2]} {wire}", place)
    found = _SHEET.fullmatch(plain)
    if found is None:
        raise QuantityError(f'"{plain}" is not a sheet style known here', "6x6 W2.9, 4x4 W4.0 or SL72", place)
    across, along, letter, wire, other = found.groups()
    if (letter or "").upper() in ("D", "MW") or letter is None:
        raise QuantityError(f'"{plain}" is not a plain sheet in inches', "the wire as W2.9, as in 6x6 W2.9", place)
    if across != along or (other is not None and float(other) != float(wire)):
        raise QuantityError(f'"{plain}" differs between its two ways', "a sheet that is the same both ways", place)
    spacing, area = int(across) * _INCH, float(wire) / 100 * _INCH**2
    if not (2 <= int(across) <= 18 and 0.5 <= float(wire) <= 31):
        raise QuantityError(
            f'"{plain}" is no sheet that is made', "a spacing of 2 to 18 in and a wire of W0.5 to W31", place
        )
    return Mesh(f"{across}x{along} W{wire}", spacing, math.sqrt(4 * area / math.pi), area / spacing, place=place)
