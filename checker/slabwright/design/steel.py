"""Bar sizes and wire sheets by their trade names; what each measures is tabled in ``slabwright.formulas.bars``."""

from __future__ import annotations

import re
from difflib import get_close_matches
from typing import NamedTuple

from slabwright.formulas import OutOfRangeError, bars
from slabwright.formulas.units import INCH
from slabwright.source.place import Place
from slabwright.units.quantity import QuantityError

_METRIC_BARS = tuple(f"{each} mm" for each in (8, 10, 12, 16, 20))  # diameters that are sold
_GAUGES = {"10/10": "W1.4", "8/8": "W2.1", "6/6": "W2.9", "4/4": "W4.0"}

_SHEET = re.compile(
    r"(\d{1,2}) ?x ?(\d{1,2})(?: ?in)?[ -]*(W|D|MW)? ?(\d{1,2}(?:\.\d+)?) ?(?:x ?(?:W|D|MW)? ?(\d{1,2}(?:\.\d+)?))?",
    re.I,
)
_GAUGE = re.compile(r"(\d{1,2}) ?x ?(\d{1,2})[ -]+(\d{1,2}) ?[/x] ?(\d{1,2})", re.I)


class Bar(NamedTuple):
    """A reinforcing bar size."""

    name: str  # "#4", "10M", "12 mm"
    diameter: float  # m
    area: float  # m2
    mass: float  # kg/m


class WireSheet(NamedTuple):
    """A sheet of plain welded wire, the same both ways."""

    style: str  # "6x6 W2.9"
    wire_spacing: float  # m
    wire_diameter: float  # m
    area_per_width: float  # m2/m each way


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
    metric = re.fullmatch(r"(?:[TNH]|DB)?(\d+)MM", size)
    name = f"{int(metric[1])} mm" if metric else size
    if name not in (*bars.BAR_NAMES, *_METRIC_BARS):
        raise QuantityError(*_no_such_bar(plain, size), place)
    return Bar(name, *bars.bar(name))


def _no_such_bar(plain: str, size: str) -> tuple[str, str]:
    """What is wrong with a bar size, and the one that may be meant."""
    if size.isdigit() and f"#{size}" in bars.BAR_NAMES:
        return f'"{plain}" does not say which bar is meant', f'"#{size}" if it is eighths of an inch'
    inches = re.fullmatch(r'([1-7])/([248])(?:"|IN)?', size)
    if inches:
        eighths = int(inches[1]) * 8 // int(inches[2])
        if f"#{eighths}" in bars.BAR_NAMES:
            return f"{plain} is a diameter, and bars go by number", f'"#{eighths}"'
    near = get_close_matches(size, (*bars.BAR_NAMES, *_METRIC_BARS), 1, 0.6)
    choices = "#3 to #11, 10M, 15M, 20M, 25M, or 8, 10, 12, 16 or 20 mm"
    return f'"{plain}" is not a bar size known here', f'"{near[0]}", if that is meant' if near else f"one of {choices}"


def mesh_style(text: str, place: Place) -> WireSheet:
    """A sheet of plain welded wire by its style.

    ``6x6 W2.9`` is wires of 0.029 in2 every 6 in, both ways.

    :raises QuantityError: for a style that cannot be read or differs between its two ways.

    >>> round(mesh_style("6x6 W2.9", Place("")).area_per_width / 0.0254**2 * 0.3048, 3)
    0.058
    """
    plain = " ".join(text.replace("×", "x").split())
    if (name := plain.upper().replace(" ", "")) in bars.METRIC_SHEET_NAMES:
        spacing, wire_diameter, area, _ = bars.metric_sheet(name)
        return WireSheet(name, spacing, wire_diameter, area)
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
    spacing = int(across) * INCH
    try:
        area, wire_diameter = bars.mesh_area(f"W{wire}", spacing), bars.wire_diameter(f"W{wire}")
    except OutOfRangeError:
        write = "a spacing of 2 to 18 in and a wire of W0.5 to W31"
        raise QuantityError(f'"{plain}" is no sheet that is made', write, place) from None
    return WireSheet(f"{across}x{along} W{wire}", spacing, wire_diameter, area)
