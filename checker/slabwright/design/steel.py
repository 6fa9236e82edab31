"""Bar sizes and wire sheets by their trade names; what each measures is tabled in ``slabwright.formulas.bars``."""

import math
import re
from typing import NamedTuple

from slabwright.formulas import OutOfRangeError, bars
from slabwright.formulas.units import INCH
from slabwright.source.alike import most_like
from slabwright.source.place import Place
from slabwright.units.quantity import QuantityError

# Diameters that are sold, mm: `metric-bars`; 18, 22, 24, 30 and 36 in some countries only.
_DIAMETERS = (6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 25, 28, 30, 32, 36, 40)
_METRIC_BARS = tuple(f"{each} mm" for each in _DIAMETERS)
_GAUGES = {"10/10": "W1.4", "8/8": "W2.1", "6/6": "W2.9", "4/4": "W4.0"}

# A diameter in mm: 12 mm, Ø12, and the letters of steel grades before it: T, H, HA, HD, B, Y, N, R and D, d.
_DIAMETER = r"(?i)(Ø|HA|T|HD|H|B|Y|N|R|DIA\.?|DB|D)? ?(\d{1,2}) ?(MM)?(?: ?(?:/|@|-) ?(\d{2,3}) ?(?:MM)?)?"
_SHEET = (
    r"(?i)(\d{1,3}) ?x ?(\d{1,3})(?: ?in)?[ -]*(W|D|MW|MD)? ?(\d{1,3}(?:\.\d+)?)"
    r" ?(?:[x/] ?(?:W|D|MW|MD)? ?(\d{1,3}(?:\.\d+)?))?"
)
_GAUGE = r"(?i)(\d{1,2}) ?x ?(\d{1,2})[ -]+(?:#|no\.? ?)?(\d{1,2})(?: ?[/x] ?#?(\d{1,2})| ?(?:ga|gauge)\.?)?"
_MADE_OF = (
    r"(?i)^(?:WWF|WWR|WWM|welded wire(?: fabric| mesh| reinforcement)?|wire mesh)[ -]+|[ -]+(?:mesh|fabric|sheets?)$"
)
_WIRE = r"(\d{1,2}(?:\.\d+)?) ?(?:mm)?"
_SPACES_FIRST = rf"(?i)(\d{{2,3}}) ?x ?(\d{{2,3}}) ?(?:mm)? ?x ?Ø? ?{_WIRE}(?: ?x ?Ø? ?{_WIRE})?"
_WIRE_FIRST = rf"(?i)(?:Ø ?{_WIRE} ?(?:/|@|-|at) ?(\d{{2,3}})|{_WIRE} ?(?:/|@|-|at) ?(\d{{3}})) ?(?:mm)?"
_BY_DIAMETER = {"11.3": "10M", "19.5": "20M", "25.2": "25M"}  # mm: Canadian bars, `csa-bars`; 15M is 16 mm
_NOT_TABLED = r"(?i)(PAF|CQS|AQS|SE\d|\d{3}E).*"  # sheets of France, Austria and New Zealand
_SAME_BOTH_WAYS = r"Q\d{3}"  # the number is its steel, in the older table and in today's
_OLD_GERMAN = r"(?i)([QR]\d{3})(?:A)?"
_SIGNS = str.maketrans(dict.fromkeys("øϕφΦ⌀∅", "Ø") | {"×": "x", ",": "."})
SHEETS_KNOWN = "its wires, as Ø6/150, 150x150x6 or 6x6 W2.9, or one of A142, B283, Q188A, SL72, 665, ST25C, K189, AQ60"


class Bar(NamedTuple):
    """A reinforcing bar size."""

    name: str  # "#4", "10M", "12 mm"
    diameter: float  # m
    area: float  # m2
    mass: float  # kg/m


class WireSheet(NamedTuple):
    """A sheet of welded wire."""

    style: str  # "6x6 W2.9", "A142", "Ø6/150"
    wire_spacing: float  # m; of the closer wires
    wire_diameter: float  # m; of the thicker wires
    area_per_width: float  # m2/m, the way that has less
    cross_spacing: float  # m; of the wires that lie farther apart
    mass_per_area: float | None = None  # kg/m2, where a table or the wires say it
    sides: tuple[float, ...] = ()  # m, length and width as it is sold


def bar(text: str, place: Place | None = None) -> Bar:
    """A bar by its size: ``#4``, ``10M``, or a diameter in mm as ``12 mm``, ``Ø12``, ``T12``, ``H12``, ``d12``.

    :raises QuantityError: for a size nobody sells, or that could be two.

    >>> bar("#4").area == 0.20 * 0.0254**2
    True
    >>> bar("12 mm").name, bar("Ø12").name, bar("10M").name, bar("11.3 mm").name
    ('12 mm', '12 mm', '10M', '10M')
    """
    plain = _plain(text)
    size = plain.upper().replace(" ", "").replace("NO.", "#").removesuffix("BAR")
    canadian = re.fullmatch(r"(?i)Ø? ?(\d\d\.\d) ?(?:MM)?", plain)
    if canadian and canadian[1] in _BY_DIAMETER:
        size = _BY_DIAMETER[canadian[1]]
    measured = re.fullmatch(_DIAMETER, plain)
    if measured and (measured[1] or measured[3]):
        if measured[4]:
            wrong, write = f'"{plain}" is a size and a spacing', f"size: Ø{measured[2]} and spacing: {measured[4]} mm"
            raise QuantityError(wrong, write, place)
        size = f"{int(measured[2])} mm"
        if size not in _METRIC_BARS:
            raise QuantityError(f'"{plain}" is no diameter that bars are sold in', _sold(int(measured[2])), place)
    if size not in (*bars.BAR_NAMES, *_METRIC_BARS):
        raise QuantityError(*_no_such_bar(plain, size), place)
    return Bar(size, *bars.bar(size))


def _plain(text: str) -> str:
    """A size with one blank between its words, one sign for a diameter, and a point for a decimal comma."""
    return " ".join(text.translate(_SIGNS).split())


def _sold(diameter: int) -> str:
    """The diameters next to one that is not sold."""
    near = sorted(sorted(_DIAMETERS, key=lambda one: abs(one - diameter))[:2])
    return f"{near[0]} mm or {near[1]} mm"


def _no_such_bar(plain: str, size: str) -> tuple[str, str]:
    """What is wrong with a bar size, and the one that may be meant; no diameter in mm is taken for a number."""
    if size.isdigit():
        millimeters = f'"{size} mm" if it is a diameter' if f"{size} mm" in _METRIC_BARS else ""
        number = f'"#{size}" if it is eighths of an inch' if f"#{size}" in bars.BAR_NAMES else ""
        if millimeters or number:
            both = ", or ".join(one for one in (number, millimeters) if one)
            return f'"{plain}" does not say which bar is meant', both
    inches = re.fullmatch(r'([1-7])/([248])(?:"|IN)?', size)
    if inches:
        eighths = int(inches[1]) * 8 // int(inches[2])
        if f"#{eighths}" in bars.BAR_NAMES:
            return f"{plain} is a diameter, and bars go by number", f'"#{eighths}"'
    near = most_like(size, bars.BAR_NAMES) if size.startswith("#") or size.endswith("M") else ""
    choices = "#3 to #11, 10M, 15M, 20M, 25M, or a diameter of 6 to 40 mm such as Ø12 or 12 mm"
    return f'"{plain}" is not a bar size known here', f'"{near}", if that is meant' if near else f"one of {choices}"


def mesh_style(text: str, place: Place) -> WireSheet:
    """A sheet of welded wire by its style.

    ``6x6 W2.9`` is wires of 0.029 in2 every 6 in, both ways, and so is ``6x6-W2.9/W2.9``; ``152x152 MW18.7`` is wires
    of 18.7 mm2 every 152 mm; ``A142``, ``Q188A``, ``SL72``, ``665``, ``ST25C``, ``K189``, ``AQ60`` and their like are
    those of the British, German, Australian, New Zealand, French, Norwegian and Austrian tables, and ``Q188`` is
    ``Q188A``; ``Ø6/150`` and ``150x150x6`` are wires of 6 mm every 150 mm.

    :raises QuantityError: for a style that cannot be read, or one in inches that differs between its two ways.

    >>> round(mesh_style("6x6 W2.9", Place("")).area_per_width / 0.0254**2 * 0.3048, 3)
    0.058
    >>> [round(mesh_style(style, Place("")).area_per_width * 1e6) for style in ("A193", "Q257A", "SL82", "Ø6/150")]
    [192, 257, 227, 188]
    >>> [round(mesh_style(style, Place("")).area_per_width * 1e6) for style in ("6x6-W2.9/W2.9", "152x152 MW18.7")]
    [123, 123]
    """
    plain = re.sub(_MADE_OF, "", _plain(text))
    name = plain.upper().replace(" ", "")
    if re.fullmatch(_SAME_BOTH_WAYS, name) and f"{name}A" in bars.METRIC_SHEET_NAMES:
        name += "A"
    if name in bars.METRIC_SHEET_NAMES:
        main, cross, sides, mass = bars.metric_sheet(name)
        return _sheet(name, main, cross, mass, sides)
    by_millimeters = _in_millimeters(plain, place)
    if by_millimeters:
        return by_millimeters
    gauge = re.fullmatch(_GAUGE, plain)
    if gauge and f"{gauge[3]}/{gauge[4] or gauge[3]}" in _GAUGES:
        wire = _GAUGES[f"{gauge[3]}/{gauge[4] or gauge[3]}"]
        raise QuantityError(f'"{plain}" gives the old wire gauge', f"{gauge[1]}x{gauge[2]} {wire}", place)
    found = re.fullmatch(_SHEET, plain)
    if found is None:
        raise QuantityError(*_no_such_sheet(plain, name), place)
    across, along, letter, wire, other = found.groups()
    if (letter or "").upper() in ("D", "MD") or letter is None:
        raise QuantityError(f'"{plain}" is not a plain sheet in inches', "the wire as W2.9, as in 6x6 W2.9", place)
    if across != along or (other is not None and float(other) != float(wire)):
        raise QuantityError(f'"{plain}" differs between its two ways', "a sheet that is the same both ways", place)
    if letter.upper() == "MW":
        return _in_square_millimeters(f"{across}x{along} MW{wire}", int(across), float(wire), place)
    spacing = int(across) * INCH
    try:
        area, wire_diameter = bars.mesh_area(f"W{wire}", spacing), bars.wire_diameter(f"W{wire}")
    except OutOfRangeError:
        write = "a spacing of 2 to 18 in and a wire of W0.5 to W31"
        raise QuantityError(f'"{plain}" is no sheet that is made', write, place) from None
    style = f"{across}x{along} W{wire}"
    weight = bars.mesh(style).mass if style in bars.MESH_NAMES else None
    return WireSheet(style, spacing, wire_diameter, area, spacing, weight)


def _sheet(style: str, main: bars.Wires, cross: bars.Wires, mass: float, sides: tuple[float, ...] = ()) -> WireSheet:
    """A sheet whose two ways may differ: held to the thicker wires, and to the way with less steel."""
    closer, farther = sorted((main.spacing, cross.spacing))
    thicker = max(main.diameter, cross.diameter)
    return WireSheet(style, closer, thicker, min(main.area, cross.area), farther, mass, sides)


def _in_millimeters(plain: str, place: Place) -> WireSheet | None:
    """``Ø6/150``, or ``150x150x6`` with another wire across after it; None for anything else."""
    wire_first, spaces_first = re.fullmatch(_WIRE_FIRST, plain), re.fullmatch(_SPACES_FIRST, plain)
    if wire_first:
        wire, apart = filter(None, wire_first.groups())
        ways = [(apart, wire), (apart, wire)]
    elif spaces_first:
        apart, cross_apart, wire, cross_wire = spaces_first.groups()
        ways = [(apart, wire), (cross_apart, cross_wire or wire)]
    else:
        return None
    try:
        main, cross = (bars.wires(float(apart) / 1000, float(wire) / 1000) for apart, wire in ways)
    except OutOfRangeError:
        write = "wires of 3 to 16 mm, 50 to 400 mm apart, as in Ø6/150"
        raise QuantityError(f'"{plain}" is no sheet that is made', write, place) from None
    (apart, wire), (cross_apart, cross_wire) = ways
    alike = ways[0] == ways[1]
    style = f"Ø{wire}/{apart}" if alike else f"{apart}x{cross_apart}x{wire}x{cross_wire}"
    return _sheet(style, main, cross, (main.area + cross.area) * bars.STEEL_DENSITY)


def _in_square_millimeters(style: str, spacing: int, area: float, place: Place) -> WireSheet:
    """``152x152 MW18.7``: the soft metric name of a sheet in inches, by mm between wires and mm2 of each."""
    try:
        way = bars.wires(spacing / 1000, math.sqrt(4 * area / math.pi) / 1000)
    except OutOfRangeError:
        write = "a spacing of 50 to 400 mm and a wire of MW8 to MW200"
        raise QuantityError(f'"{style}" is no sheet that is made', write, place) from None
    return _sheet(style, way, way, 2 * way.area * bars.STEEL_DENSITY)


def _no_such_sheet(plain: str, name: str) -> tuple[str, str]:
    """What is wrong with the name of a sheet, and the one that may be meant."""
    wrong = f'"{plain}" is not a sheet style known here'
    german = re.fullmatch(_OLD_GERMAN, name)
    if german and f"{german[1]}A" in bars.METRIC_SHEET_NAMES:
        return (
            f'"{plain}" may be a sheet of today or an older one',
            f"{german[1]}A for today's, or the wires, as Ø6/150",
        )
    if re.fullmatch(_NOT_TABLED, name):
        return f'the wires of "{plain}" are in no table here', "them as its tag has them, as Ø6/150 or 150x150x6"
    if name == "A98":
        return wrong, "the wires, Ø5/200: the British table dropped it in 2005"
    letters = re.split(r"\d", name)[0]
    family = [one for one in bars.METRIC_SHEET_NAMES if re.split(r"\d", one)[0] == letters]
    near = most_like(name, family, 0.5) if letters else ""
    return wrong, f"{near} if that is meant, or the wires, as Ø6/150" if near else SHEETS_KNOWN
