"""Showing amounts as the trade writes them, in one unit system or both.

The policy, the same for every kind:

- Inches are set with a tape: 4 in, 1 1/4 in and 12'-6 1/2" are printed bare only for numbers that sit on a sixteenth
  within the shared tolerance. Anything else goes to the nearest eighth (sixteenth under an inch) and says so: about
  1 7/8 in. Under a sixty-fourth a tape says nothing, and thin things are told in mil or in decimals.
- Lengths in meters have three decimals, depths whole millimeters (a tenth under 5 mm).
- Heights have the unit of the file: feet two decimals, and three where the height is written so; meters three.
- Weights have three figures, stretches of time hours and minutes.
- Two numbers shown side by side go through :func:`show_pair`, which goes finer until they differ, and no further.
- One system is shown alone, whatever an amount was typed in; both where the system says so
  (:func:`slabwright.units.amount.beside`).
- With a decimal comma (:func:`slabwright.units.amount.with_comma`) a space sets off thousands, as the 22nd General
  Conference on Weights and Measures has it (2003, resolution 10: neither dots nor commas stand between groups).
- What is written into a file goes through :func:`written_out`, which rounds less.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache, partial

from slabwright.named_tuple import NamedTuple
from slabwright.source.clean import LONGEST, clean
from slabwright.units.amount import (
    ABSOLUTE_TOLERANCE,
    Amount,
    Kind,
    QuantityError,
    System,
    has_comma,
    height_unit,
    in_both,
    is_alone,
    same,
)
from slabwright.units.grammar import measured
from slabwright.units.unit_table import find_unit

_INCH, _MIL, _FOOT = 0.0254, 0.0254e-3, 0.3048
_MINUTE, _HOUR, _DAY = 60.0, 3600.0, 86400.0
_MOST_DIGITS = 12
_EVEN_STAYS = 6  # so much finer an even number is still told as it is
_MOST = 1e15  # what no slab reaches, in any SI unit: infinity and other numbers nobody measured
_UPRIGHT = 1e6  # rise over run of what is no slope any more
_OTHER: dict[System, System] = {"us": "metric", "metric": "us"}
_SIXTEENTHS = 16
_FINEST = 64  # parts of an inch
_THIN = 1 / 64  # in, under which no fraction is read
_SHEETING = 1 / 32  # in, under which what is told in mil is sold so
_LEAST_SHEET = 0.0001  # m, the thinnest thing sold in mil
_SMALLEST_WHOLE = 0.005  # m, from which a depth has whole millimeters
_LARGE = 100 * 0.3048**2  # m2, from which an area has whole square feet
_TONNE, _TON = 1000.0, 907.18474  # kg
_MARKED = 10_000  # the least number with its thousands set off
_ABOUT = "about "
_NUMBER = re.compile(r"(?<![\w.,])(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+)(?![.,]?\w)")
_GLUE = "\u00a0"


class _Shown(NamedTuple):
    """A text and the SI number it says."""

    text: str
    si: float


_Draw = Callable[[int], _Shown]  # a number drawn, so much finer than usual


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
_ALIKE_KINDS = {*_ALIKE, Kind.DURATION, Kind.SLOPE}


def show(amount: Amount, system: System, both: bool | None = None, digits: int = 0) -> str:
    """The amount in the trade's writing, always with its unit; with ``both``, the other system in brackets.

    ``both`` is what the system says of itself unless it is given. One system is shown alone: what is typed in it is
    shown as typed, what is typed in the other is told in this one. Where both are shown, a typed amount stands as
    typed, in whichever system that was, and then in the other. ``digits`` steps finer are for the terms of an
    arithmetic that is to come out as printed, see :func:`slabwright.text.working.numbers_text`.

    >>> show(Amount(0.127, Kind.DEPTH), "us"), show(Amount(0.127, Kind.DEPTH), "us", both=True)
    ('5 in', '5 in (127 mm)')
    >>> [show(Amount(0.127, Kind.DEPTH, typed), "metric") for typed in ("", "127.0 mm", "5 in")]
    ['127 mm', '127.0 mm', '127 mm']
    >>> show(Amount(1 / 48, Kind.SLOPE), "us"), show(Amount(1 / 48, Kind.SLOPE), "metric")
    ('2.1 % (1/4 in/ft)', '2.1 % (1:48)')
    >>> show(Amount(0.0488, Kind.DEPTH), "us")
    'about 1 7/8 in'
    """
    return _bracketed([draw(digits) for draw in _parts(amount, system, both)], system)


def numerals(text: str, system: System | None) -> str:
    """Fixed words, or a number set by hand, with the decimal sign of the system; amounts have it from :func:`show`.

    Numbers of chapters and the like, with two points or a letter at them, stay.

    >>> from slabwright.units.amount import with_comma
    >>> numerals("1,250.5 kg, 0.45 and 5.3.2", with_comma("metric")), numerals("1,250.5 kg", "metric")
    ('1\\xa0250,5 kg, 0,45 and 5.3.2', '1,250.5 kg')
    """
    if system is None or not has_comma(system):
        return text
    return _NUMBER.sub(lambda found: found[0].replace(",", _GLUE).replace(".", ","), text)


def pointed(text: str, system: System) -> str:
    """An amount as it is shown, written back with a decimal point where the system has a comma."""
    return re.sub(rf"(?<=\d){_GLUE}(?=\d{{3}}(?!\d))", "", text).replace(",", ".") if has_comma(system) else text


def show_pair(first: Amount, second: Amount, system: System, both: bool | None = None) -> tuple[str, str]:
    """Both amounts, told as much finer as it takes until no two different numbers look alike.

    Amounts that are one within the shared tolerance, or of different kinds, need no telling apart. Inches that no
    tape tells apart are told in words.

    >>> print(*show_pair(Amount(0.1, Kind.DEPTH), Amount(0.1016, Kind.DEPTH), "us"), sep=", ")
    about 3 7/8 in, 4 in
    >>> print(*show_pair(Amount(3.6576, Kind.LENGTH), Amount(3.65762, Kind.LENGTH), "us"), sep=", ")
    12'-0", a hair over 12'-0"
    """
    if first.kind is not second.kind or _one(first.si, second.si, first.kind):
        return show(first, system, both), show(second, system, both)
    rising = first.si < second.si
    told = list(zip(_parts(first, system, both), _parts(second, system, both), strict=False))
    pairs = [_told_apart(one, other, rising) for one, other in told]
    if first.kind is Kind.SLOPE and len(told) > 1 and not _differ(told[1][0](0), told[1][1](0), rising):
        del pairs[1]  # per cent tell them apart, and inches in a foot cannot
    return _bracketed([one for one, _ in pairs], system), _bracketed([other for _, other in pairs], system)


def _bracketed(parts: list[_Shown], system: System) -> str:
    return numerals(" ".join([parts[0].text, *(f"({part.text})" for part in parts[1:])]), system)


def _told_apart(one: _Draw, other: _Draw, rising: bool) -> tuple[_Shown, _Shown]:
    """Two different numbers as coarse as tells them apart; inches closer than that in words."""
    for digits in range(_MOST_DIGITS):
        first, second = one(digits), other(digits)
        if _differ(first, second, rising):
            return first, second
    near, far = first.text.removeprefix(_ABOUT), second.text.removeprefix(_ABOUT)
    if first.text.startswith(_ABOUT):
        return _Shown(f"a hair {'under' if rising else 'over'} {far}", first.si), second
    if second.text.startswith(_ABOUT):
        return first, _Shown(f"a hair {'over' if rising else 'under'} {near}", second.si)
    return first, second


def _one(si: float, other: float, kind: Kind) -> bool:
    """Whether two numbers are one: by the shared tolerance; heights, which have no size, by its absolute part."""
    return abs(si - other) <= ABSOLUTE_TOLERANCE if kind is Kind.HEIGHT else same(si, other)


def _differ(one: _Shown, two: _Shown, rising: bool) -> bool:
    """Whether two texts say two numbers, in the right order."""
    return not math.isclose(one.si, two.si, rel_tol=1e-8, abs_tol=1e-12) and (one.si < two.si) == rising


def _parts(amount: Amount, system: System, both: bool | None) -> list[_Draw]:
    """What is printed: the first text and, where there is one, what stands in brackets behind it."""
    beside = in_both(system) if both is None else both and not is_alone(system)
    typed_in = _typed_system(amount.typed, amount.kind) if amount.typed else None
    own = partial(_drawn, amount.si, amount.kind, system, height_unit(system))
    if amount.typed and _stays(amount, typed_in, system, beside):
        typed = _Shown(clean(amount.typed), amount.si)
        parts: list[_Draw] = [lambda digits: typed]
        if amount.kind is Kind.SLOPE and "%" not in amount.typed:
            return [*parts, own] if both is not False else parts
    else:
        parts, typed_in = [own], None
    if amount.kind is Kind.SLOPE and both is not False and abs(amount.si) < _MOST and _said_by_crews(amount.si, system):
        parts.append(partial(_trade_slope, amount.si, system))
    elif beside and amount.kind not in _ALIKE_KINDS and abs(amount.si) < _MOST:
        other = _OTHER[typed_in or system]
        parts.append(partial(_drawn, amount.si, amount.kind, other, height_unit(other)))
    return parts


def _stays(amount: Amount, typed_in: System | None, system: System, beside: bool) -> bool:
    """Whether a typed amount is shown as it is typed: a stretch of time in parts of an hour is not."""
    if (amount.kind is Kind.DURATION and "." in amount.typed) or (has_comma(system) and "," in amount.typed):
        return False
    return beside or typed_in in (None, system)


def _typed_system(typed: str, kind: Kind) -> System | None:
    """The unit system of typed words (a minus under heights and points is no matter here)."""
    if len(typed) > LONGEST:
        return None
    try:
        return measured(typed.lstrip("-−+ "), kind)[1]
    except QuantityError:
        return None


@lru_cache(maxsize=4096)
def _drawn(si: float, kind: Kind, system: System, height: str, digits: int) -> _Shown:
    """One number in one system, heights in the unit ``height``."""
    if not abs(si) < _MOST:
        return _Shown("not known", si)
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
            finely = height == "ft" and _one(si, round(si / _FOOT, 3) * _FOOT, kind)  # it is written so
            return _HEIGHT[height]._replace(finer=1) if finely else _HEIGHT[height]
        case Kind.AREA if system == "us" and abs(si) >= _LARGE:
            return _WHOLE_FEET
        case Kind.MASS if system == "metric" and abs(si) >= _TONNE:
            return _TONNES
        case Kind.MASS if system == "us" and abs(si) >= _TON:
            return _TONS
        case _:
            return _ALIKE.get(kind) or _FORMS[kind][system]


def _decimal(si: float, form: _Form, kind: Kind, digits: int) -> _Shown:
    """A decimal number and its unit, halves away from zero; an even number drops its zeros unless they are fixed."""
    unit = find_unit(form.unit, kind) if form.unit else None
    factor, zero = (unit.factor, unit.zero) if unit else (1.0, 0.0)
    value = (si - zero) / factor
    size = math.floor(math.log10(abs(value))) if value else 0

    def is_even(places: int) -> bool:
        return _one(si, round(value, places) * factor + zero, kind)

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
    return _Shown(f"{printed} {form.unit}".rstrip(), float(text) * factor + zero)


def _inches(si: float, kind: Kind, digits: int) -> _Shown:
    """Feet and inches for lengths, inches for depths, in the parts that a tape shows."""
    inches = abs(si) / _INCH
    usual = 8 if inches >= 1 or (kind is Kind.LENGTH and inches >= 12) else 16 if inches >= 1 / 4 else 32
    for parts in (_SIXTEENTHS, min(usual << digits, _FINEST)):
        number = Fraction(round(inches * parts), parts)
        if even := _one(abs(si), float(number) * _INCH, kind):
            break
    if not even and inches < _SHEETING and (inches < _THIN or _in_mil(si, kind)):
        return _thin(si, kind, digits)
    sign = "-" if si < 0 and number else ""
    text = _feet_and(number, _mixed) if kind is Kind.LENGTH else f"{_mixed(number)} in"
    return _Shown(f"{'' if even else _ABOUT}{sign}{text}", math.copysign(float(number) * _INCH, si))


def _thin(si: float, kind: Kind, digits: int) -> _Shown:
    """What no tape shows: whole mil, as sheeting is sold, or decimals of an inch."""
    if not digits and _in_mil(si, kind):
        return _decimal(si, _MILS, kind, 0)
    found = _decimal(si, _INCHES, kind, digits)
    return _Shown(found.text.replace(" in", '"'), found.si) if kind is Kind.LENGTH else found


def _in_mil(si: float, kind: Kind) -> bool:
    return abs(si) >= _LEAST_SHEET and _one(si, round(si / _MIL) * _MIL, kind)


def _feet_and(inches: Fraction, written: Callable[[Fraction], str]) -> str:
    """``12'-6 1/2"``, ``1'-0 1/4"``; inches alone under a foot."""
    feet, rest = divmod(inches, 12)
    part = f"0 {written(rest)}" if feet and 0 < rest < 1 and "/" in written(rest) else written(rest)
    return f"{feet}'-{part}\"" if feet else f'{part}"'


def _mixed(number: Fraction) -> str:
    """``6 1/2``."""
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else str(part or whole)


def _said_by_crews(si: float, system: System) -> bool:
    """Whether a slope is said in inches in a foot or as one in so many; hardly any is not, in inches in a foot."""
    return system == "metric" or _one(si, 0.0, Kind.SLOPE) or abs(si) * 12 >= _THIN or not abs(si) < _UPRIGHT


def _trade_slope(si: float, system: System, digits: int) -> _Shown:
    """The slope as crews of ``system`` say it: inches in a foot, or one in so many."""
    if not abs(si) < _UPRIGHT:
        return _Shown("upright", si)
    if _one(si, 0.0, Kind.SLOPE):
        return _Shown("level", 0.0)
    sign = "-" if si < 0 else ""
    if system == "us":
        rise, parts = abs(si) * 12, _SIXTEENTHS if abs(si) * 12 >= 1 / 8 else 32
        number = Fraction(round(rise * parts), parts)
        about = "" if _one(rise, float(number), Kind.SLOPE) else _ABOUT
        return _Shown(f"{about}{sign}{_mixed(number)} in/ft", math.copysign(float(number) / 12, si))
    run, places = 1 / abs(si), 0 if abs(si) < 0.1 else 1
    about = "" if _one(run, round(run, places), Kind.SLOPE) else _ABOUT
    return _Shown(f"{about}{sign}1:{round(run, places):g}", math.copysign(1 / max(round(run, places), 1e-9), si))


def _time(si: float, digits: int) -> _Shown:
    """Whole days from two up, else hours and minutes; seconds only where they are told apart or minutes are few."""
    if abs(si) >= 2 * _DAY and same(si, round(si / _DAY) * _DAY):
        return _Shown(f"{round(si / _DAY)} days", round(si / _DAY) * _DAY)
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
    return _Shown(("-" if si < 0 and parts else "") + (" ".join(parts) or "0 min"), math.copysign(whole, si))


def written_out(amount: Amount, system: System) -> str:
    """The amount as it is written into a file: read back it is the same number, or one as near as it is worked.

    Not rounded to what a tape shows or a person says: off a sixteenth, inches get decimals.

    >>> written_out(Amount(0.0488, Kind.DEPTH), "us"), written_out(Amount(5400.0, Kind.DURATION), "us")
    ('1.92 in', '1.5 h')
    """
    si, kind = amount.si, amount.kind
    if kind is Kind.DURATION:
        days = si >= 2 * _DAY and same(si, round(si / _DAY) * _DAY)
        hours = si >= 3 * _HOUR or (si >= _HOUR and same(si, round(si / _HOUR, 1) * _HOUR))
        return _decimal(si, _Form("days" if days else "h" if hours else "min", 1, 1), kind, 0).text
    if kind in (Kind.LENGTH, Kind.DEPTH) and system == "us":
        return _inches_in_full(si, kind)
    form = _form(si, kind, system, height_unit(system))
    whole_tons = form is _TONS and _one(si, round(si / _TON, form.places) * _TON, kind)
    by_weight = form is _TONNES or (form is _TONS and not whole_tons)
    form = _MILLIMETERS_IN_FULL if kind is Kind.DEPTH else _FORMS[kind][system] if by_weight else form
    return _decimal(si, form._replace(figures=0), kind, 0).text


def _inches_in_full(si: float, kind: Kind) -> str:
    """A fraction on a sixteenth, decimals elsewhere."""
    number = Fraction(round(abs(si) / _INCH * _SIXTEENTHS), _SIXTEENTHS)
    if not _one(abs(si), float(number) * _INCH, kind):
        return _decimal(si, _INCHES, kind, 0).text
    return ("-" if si < 0 and number else "") + (
        _feet_and(number, _mixed) if kind is Kind.LENGTH else f"{_mixed(number)} in"
    )


def feet_inches(m: float, denominator: int = 8) -> str:
    """``m`` meters to the nearest 1/``denominator`` in, as feet, inches and a fraction: for rods and tapes.

    >>> feet_inches(8.3 * 0.3048), feet_inches(0.05, 16)
    ('8\\'-3 5/8"', '1 15/16"')
    """
    parts = round(abs(m) / _INCH * denominator)
    return ("-" if m < 0 and parts else "") + _feet_and(Fraction(parts, denominator), _mixed)


def eighths(m: float) -> str:
    """``m`` meters in feet, inches and eighths, to the nearest: 8.3 ft is 8'-3 5/8"."""
    return feet_inches(m, 8)


def tenths(m: float) -> str:
    """``m`` meters in feet, tenths and hundredths, to the nearest: what a surveyor's rod reads.

    >>> tenths(8.3 * 0.3048)
    '8.30 ft'
    """
    return f"{round(m / 0.3048, 2) + 0.0:.2f} ft"


def roundest(value: float, near: float) -> float:
    """The roundest number that is off by no more than the share ``near``.

    >>> [roundest(feet * 0.3048, 0.02) for feet in (0.25, 0.5, 2, 4, 14, 18, 50)]
    [0.075, 0.15, 0.6, 1.2, 4.3, 5.5, 15.0]
    """
    power = math.floor(math.log10(abs(value))) + 1
    while True:
        for step in (1, 2):  # whole tens, then halves of them
            parts = round(value * step / 10.0**power) / step
            if abs(parts * 10.0**power - value) <= near * abs(value):
                return float(f"{parts}e{power}")
        power -= 1


def round_up(amount: Amount, step: Amount | float) -> Amount:
    """The least whole number of steps (an amount of the same kind, or SI) that is not below ``amount``: for orders.

    A hair over a step that is only floating point does not call another one. ``ValueError`` for a step
    of another kind, or not above zero.

    >>> round_up(Amount(9.07, Kind.VOLUME), 0.25).si
    9.25
    """
    size = step.si if isinstance(step, Amount) else step
    if not size > 0 or (isinstance(step, Amount) and step.kind is not amount.kind):
        raise ValueError(f"cannot round {amount.kind} up to steps of {step}")
    steps = amount.si / size
    return Amount(math.ceil(steps - 1e-9 * max(1.0, abs(steps))) * size, amount.kind)
