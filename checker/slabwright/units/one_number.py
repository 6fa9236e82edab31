"""One number in one unit system as the trade writes it: fractions of a tape, decimals, slopes, hours and minutes."""

import math
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from slabwright.units.amount import ABSOLUTE_TOLERANCE, Kind, System, height_unit, same
from slabwright.units.unit_table import find_unit

_INCH, _MIL, _FOOT = 0.0254, 0.0254e-3, 0.3048
_MINUTE, _HOUR, _DAY = 60.0, 3600.0, 86400.0
_EVEN_STAYS = 6  # so much finer an even number is still told as it is
MOST = 1e15  # what no slab reaches, in any SI unit: infinity and other numbers nobody measured
_UPRIGHT = 1e6  # rise over run of what is no slope any more
_SIXTEENTHS = 16
_FINEST = 64  # parts of an inch
_THIN = 1 / 64  # in, under which no fraction is read
_SHEETING = 1 / 32  # in, under which what is told in mil is sold so
_LEAST_SHEET = 0.0001  # m, the thinnest thing sold in mil
_SMALLEST_WHOLE = 0.005  # m, from which a depth has whole millimeters
_LARGE = 100 * 0.3048**2  # m2, from which an area has whole square feet
_TONNE, _TON = 1000.0, 907.18474  # kg
_MARKED = 10_000  # the least number with its thousands set off
ABOUT = "about "


class Shown(NamedTuple):
    """A text and the SI number it says."""

    text: str
    si: float


Draw = Callable[[int], Shown]  # a number drawn, so much finer than usual


class _Form(NamedTuple):
    """How one unit is printed.

    ``places`` decimals, ``finer`` more where the number is not even at them, and more again until a small number
    keeps ``significant`` digits; ``fixed`` keeps the zeros at the end of an even number. Of ``figures`` no more are
    told, unless the number is even at one more.
    """

    unit: str
    places: int
    significant: int = 2
    finer: int = 0
    fixed: bool = False
    figures: int = 0


_FORMS: dict[Kind, dict[System, _Form]] = {
    Kind.AREA: {"us": _Form("ft2", 1), "metric": _Form("m2", 2)},
    Kind.VOLUME: {"us": _Form("yd3", 2, 1, fixed=True), "metric": _Form("m3", 2, 1, fixed=True)},
    Kind.SMALL_VOLUME: {"us": _Form("gal", 1), "metric": _Form("L", 1)},
    Kind.STRESS: {"us": _Form("psi", 0, 3), "metric": _Form("MPa", 1)},
    Kind.PRESSURE: {"us": _Form("psi", 0, 3), "metric": _Form("kPa", 0, 3)},
    Kind.SUBGRADE: {"us": _Form("pci", 0, 3), "metric": _Form("MN/m3", 1)},
    Kind.FORCE: {"us": _Form("lb", 0, 3, figures=3), "metric": _Form("kN", 1, figures=3)},
    Kind.LINE_LOAD: {"us": _Form("lb/ft", 0, 3, figures=3), "metric": _Form("kN/m", 1, figures=3)},
    Kind.MASS: {"us": _Form("lb", 1, figures=3), "metric": _Form("kg", 1, figures=3)},
    Kind.UNIT_WEIGHT: {"us": _Form("lb/yd3", 1, figures=3), "metric": _Form("kg/m3", 1, figures=3)},
    Kind.TEMPERATURE: {"us": _Form("°F", 1, 1), "metric": _Form("°C", 1, 1)},
    Kind.SPEED: {"us": _Form("mph", 1), "metric": _Form("km/h", 1)},
    Kind.PLACING_RATE: {"us": _Form("yd3/h", 1), "metric": _Form("m3/h", 1)},
    Kind.COVERAGE: {"us": _Form("ft2/gal", 0, 3), "metric": _Form("m2/L", 1)},
    Kind.EVAPORATION: {"us": _Form("lb/ft2/h", 2, 2, finer=1), "metric": _Form("kg/m2/h", 2)},
    Kind.STEEL_AREA: {"us": _Form("in2/ft", 3), "metric": _Form("mm2/m", 0)},
}
_ALIKE: dict[Kind, _Form] = {  # kinds both systems show alike
    Kind.ANGLE: _Form("deg", 1, 1),
    Kind.SHARE: _Form("%", 1, 2),
    Kind.RATIO: _Form("", 2),
    Kind.COUNT: _Form("", 0, finer=1),
}
_METERS = _Form("m", 3, 3)
_MILLIMETERS, _SMALL, _MILLIMETERS_IN_FULL = _Form("mm", 0, 1), _Form("mm", 1), _Form("mm", 0, 2, finer=1)
_HEIGHT: dict[str, _Form] = {
    "ft": _Form("ft", 2, 1, fixed=True),
    "m": _Form("m", 3, 1, fixed=True),
    "mm": _Form("mm", 0, 1),
}
_WHOLE_FEET = _Form("ft2", 0)
_TONNES = _Form("t", 2, figures=3)
_TONS = _Form("ton", 2, figures=3)
_PERCENT = _Form("%", 1, 1)
_INCHES = _Form("in", 2, 1)
_MILS = _Form("mil", 0)
ALIKE_KINDS = {*_ALIKE, Kind.DURATION, Kind.SLOPE}


def same_number(si: float, other: float, kind: Kind) -> bool:
    """Whether two numbers are one: by the shared tolerance; heights, which have no size, by its absolute part."""
    return abs(si - other) <= ABSOLUTE_TOLERANCE if kind is Kind.HEIGHT else same(si, other)


@lru_cache(maxsize=4096)
def drawn(si: float, kind: Kind, system: System, height: str, digits: int) -> Shown:
    """One number in one system, heights in the unit ``height``."""
    if not abs(si) < MOST:
        return Shown("not known", si)
    if kind is Kind.DURATION:
        return _time(si, digits)
    if system == "us" and (kind in (Kind.LENGTH, Kind.DEPTH) or (kind is Kind.HEIGHT and height == "in")):
        return _inches(si, kind, digits)
    return _decimal(si, _form(si, kind, system, height), kind, digits)


def _form(si: float, kind: Kind, system: System, height: str) -> _Form:
    """How a number of this size is printed."""
    match kind:
        case Kind.LENGTH:
            return _METERS
        case Kind.DEPTH:
            return _MILLIMETERS if abs(si) >= _SMALLEST_WHOLE else _SMALL
        case Kind.SLOPE:
            return _PERCENT
        case Kind.HEIGHT:
            finely = height == "ft" and same_number(si, round(si / _FOOT, 3) * _FOOT, kind)  # it is written so
            return _HEIGHT[height]._replace(finer=1) if finely else _HEIGHT[height]
        case Kind.AREA if system == "us" and abs(si) >= _LARGE:
            return _WHOLE_FEET
        case Kind.MASS if system == "metric" and abs(si) >= _TONNE:
            return _TONNES
        case Kind.MASS if system == "us" and abs(si) >= _TON:
            return _TONS
        case _:
            return _ALIKE.get(kind) or _FORMS[kind][system]


def _decimal(si: float, form: _Form, kind: Kind, digits: int) -> Shown:
    """A decimal number and its unit, halves away from zero; an even number drops its zeros unless they are fixed."""
    unit = find_unit(form.unit, kind) if form.unit else None
    factor, zero = (unit.factor, unit.zero) if unit else (1.0, 0.0)
    value = (si - zero) / factor
    size = math.floor(math.log10(abs(value))) if value else 0

    def is_even(places: int) -> bool:
        return same_number(si, round(value, places) * factor + zero, kind)

    places = min(form.places, form.figures - size) if form.figures else form.places
    even = is_even(places)
    if not even:
        places = min(places, form.figures - 1 - size) if form.figures else places + form.finer
        places = max(places, form.significant - 1 - size)
    if not even or digits > _EVEN_STAYS:
        places += digits
    step = 10.0**-places
    rounded = value * (1 + 1e-12) if places >= 0 else math.copysign(math.floor(abs(value) / step + 0.5) * step, value)
    text = f"{rounded:.{max(places, 0)}f}"
    if even and digits <= _EVEN_STAYS and not form.fixed and "." in text:
        text = text.rstrip("0").rstrip(".")
    text = text.removeprefix("-") if not float(text) else text
    printed = f"{float(text):,.{max(places, 0)}f}" if form.figures and abs(float(text)) >= _MARKED else text
    return Shown(f"{printed} {form.unit}".rstrip(), float(text) * factor + zero)


def _inches(si: float, kind: Kind, digits: int) -> Shown:
    """Feet and inches for lengths, inches for depths, in the parts that a tape shows."""
    inches = abs(si) / _INCH
    usual = 8 if inches >= 1 or (kind is Kind.LENGTH and inches >= 12) else 16 if inches >= 1 / 4 else 32
    for parts in (_SIXTEENTHS, min(usual << digits, _FINEST)):
        number = Fraction(round(inches * parts), parts)
        if even := same_number(abs(si), float(number) * _INCH, kind):
            break
    if not even and inches < _SHEETING and (inches < _THIN or _in_mil(si, kind)):
        return _thin(si, kind, digits)
    return Shown(f"{'' if even else ABOUT}{_signed(si, number, kind)}", math.copysign(float(number) * _INCH, si))


def _thin(si: float, kind: Kind, digits: int) -> Shown:
    """What no tape shows: whole mil, as sheeting is sold, or decimals of an inch."""
    if not digits and _in_mil(si, kind):
        return _decimal(si, _MILS, kind, 0)
    found = _decimal(si, _INCHES, kind, digits)
    return Shown(found.text.replace(" in", '"'), found.si) if kind is Kind.LENGTH else found


def _in_mil(si: float, kind: Kind) -> bool:
    return abs(si) >= _LEAST_SHEET and same_number(si, round(si / _MIL) * _MIL, kind)


def _signed(si: float, inches: Fraction, kind: Kind) -> str:
    """Inches with the sign of ``si``: a length in feet and inches."""
    return ("-" if si < 0 and inches else "") + (_feet_and(inches) if kind is Kind.LENGTH else f"{_mixed(inches)} in")


def _feet_and(inches: Fraction) -> str:
    """``12'-6 1/2"``, ``1'-0 1/4"``; inches alone under a foot."""
    feet, rest = divmod(inches, 12)
    part = f"0 {_mixed(rest)}" if feet and 0 < rest < 1 else _mixed(rest)
    return f"{feet}'-{part}\"" if feet else f'{part}"'


def _mixed(number: Fraction) -> str:
    """``6 1/2``."""
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else str(part or whole)


def said_by_crews(si: float, system: System) -> bool:
    """Whether a slope is said in inches in a foot or as one in so many; hardly any is not, in inches in a foot."""
    return system == "metric" or same_number(si, 0.0, Kind.SLOPE) or abs(si) * 12 >= _THIN or not abs(si) < _UPRIGHT


def trade_slope(si: float, system: System, digits: int) -> Shown:
    """The slope as crews of ``system`` say it: inches in a foot, or one in so many."""
    if not abs(si) < _UPRIGHT:
        return Shown("upright", si)
    if same_number(si, 0.0, Kind.SLOPE):
        return Shown("level", 0.0)
    sign = "-" if si < 0 else ""
    if system == "us":
        rise, parts = abs(si) * 12, _SIXTEENTHS if abs(si) * 12 >= 1 / 8 else 32
        number = Fraction(round(rise * parts), parts)
        about = "" if same_number(rise, float(number), Kind.SLOPE) else ABOUT
        return Shown(f"{about}{sign}{_mixed(number)} in/ft", math.copysign(float(number) / 12, si))
    run, places = 1 / abs(si), 0 if abs(si) < 0.1 else 1
    about = "" if same_number(run, round(run, places), Kind.SLOPE) else ABOUT
    return Shown(f"{about}{sign}1:{round(run, places):g}", math.copysign(1 / max(round(run, places), 1e-9), si))


def _time(si: float, digits: int) -> Shown:
    """Whole days from two up, else hours and minutes; seconds only where they are told apart or minutes are few."""
    if abs(si) >= 2 * _DAY and same(si, round(si / _DAY) * _DAY):
        return Shown(f"{round(si / _DAY)} days", round(si / _DAY) * _DAY)
    even = same(si, round(si / _MINUTE) * _MINUTE)
    step = _MINUTE if not digits and (even or abs(si) >= 10 * _MINUTE) else 10.0 ** min(0, 1 - digits)
    if not digits and not even and abs(si) >= 2 * _DAY:
        step = _HOUR
    whole = math.floor(abs(si) / step + 0.5 + 1e-9) * step
    hours, rest = divmod(whole, _HOUR)
    minutes, seconds = divmod(rest, _MINUTE)
    seconds = round(seconds, max(0, digits - 1))
    parts = [f"{count:.{places}f} {unit}" for count, unit, places in (
        (hours, "h", 0), (minutes, "min", 0), (seconds, "s", max(0, digits - 1))) if count]  # fmt: skip
    return Shown(("-" if si < 0 and parts else "") + (" ".join(parts) or "0 min"), math.copysign(whole, si))


def in_full(si: float, kind: Kind, system: System) -> str:
    """A number as it is written into a file: not rounded to what a tape shows or a person says."""
    if kind is Kind.DURATION:
        days = si >= 2 * _DAY and same(si, round(si / _DAY) * _DAY)
        hours = si >= 3 * _HOUR or (si >= _HOUR and same(si, round(si / _HOUR, 1) * _HOUR))
        return _decimal(si, _Form("days" if days else "h" if hours else "min", 1, 1), kind, 0).text
    if kind in (Kind.LENGTH, Kind.DEPTH) and system == "us":
        return _inches_in_full(si, kind)
    form = _form(si, kind, system, height_unit(system))
    whole_tons = form is _TONS and same_number(si, round(si / _TON, form.places) * _TON, kind)
    by_weight = form is _TONNES or (form is _TONS and not whole_tons)
    form = _MILLIMETERS_IN_FULL if kind is Kind.DEPTH else _FORMS[kind][system] if by_weight else form
    return _decimal(si, form._replace(figures=0), kind, 0).text


def _inches_in_full(si: float, kind: Kind) -> str:
    """A fraction on a sixteenth, decimals elsewhere."""
    number = Fraction(round(abs(si) / _INCH * _SIXTEENTHS), _SIXTEENTHS)
    if not same_number(abs(si), float(number) * _INCH, kind):
        return _decimal(si, _INCHES, kind, 0).text
    return _signed(si, number, kind)


def eighths(m: float) -> str:
    """``m`` meters in feet, inches and eighths, to the nearest: for rods and tapes.

    >>> eighths(8.3 * 0.3048), eighths(0.05)
    ('8\\'-3 5/8"', '2"')
    """
    parts = round(abs(m) / _INCH * 8)
    return ("-" if m < 0 and parts else "") + _feet_and(Fraction(parts, 8))


def tenths(m: float) -> str:
    """``m`` meters in feet, tenths and hundredths, to the nearest: what a surveyor's rod reads.

    >>> tenths(8.3 * 0.3048)
    '8.30 ft'
    """
    return f"{round(m / 0.3048, 2) + 0.0:.2f} ft"
