"""Showing amounts as the trade writes them, in one unit system or both.

The policy, the same for every kind:

- A fraction or a plain whole number is exact: 4 in, 1 1/4 in and 12'-6 1/2" are printed only for numbers that
  sit on a sixteenth of an inch within the shared tolerance. Anything else is printed in decimal inches
  (3.97 in, 4.00 in), so that the decimals themselves say "rounded here".
- Metric lengths and depths work alike: 127 mm and 3.82 m are exact to the millimeter, 31.8 mm and 3.658 m rounded.
- Heights in feet have two decimals on a hundredth and three elsewhere; in meters three.
- Two numbers shown side by side go through :func:`show_pair`, which adds digits until they differ.
- Only order sizes (:func:`round_up`) and stake readings (:func:`eighths`, :func:`tenths`) are rounded on purpose.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from slabwright.source.clean import LONGEST, clean
from slabwright.units.amount import ABSOLUTE_TOLERANCE, Amount, Kind, QuantityError, System, is_alone, same
from slabwright.units.grammar import measured
from slabwright.units.unit_table import find_unit

_INCH = 0.0254
_HOUR, _DAY = 3600.0, 86400.0
_MOST_DIGITS = 12
_MOST = 1e15  # what no slab reaches, in any SI unit: infinity and other numbers nobody measured
_UPRIGHT = 1e6  # rise over run of what is no slope any more
_OTHER: dict[System, System] = {"us": "metric", "metric": "us"}


class _Shown(NamedTuple):
    """A text and the SI number it says."""

    text: str
    si: float


@dataclass(frozen=True, slots=True)
class _Form:
    """How one unit is printed.

    ``places`` decimals, ``finer`` more where the number is not even at them, and more again until a small number
    keeps ``significant`` digits; ``fixed`` keeps the zeros at the end of an even number.
    """

    unit: str
    places: int
    significant: int = 2
    finer: int = 0
    fixed: bool = False


_FORMS: dict[Kind, dict[System, _Form]] = {
    Kind.HEIGHT: {"us": _Form("ft", 2, 1, finer=1, fixed=True), "metric": _Form("m", 3, 1, fixed=True)},
    Kind.AREA: {"us": _Form("ft2", 1), "metric": _Form("m2", 2)},
    Kind.VOLUME: {"us": _Form("yd3", 2, 1, fixed=True), "metric": _Form("m3", 2, 1, fixed=True)},
    Kind.SMALL_VOLUME: {"us": _Form("gal", 1), "metric": _Form("L", 1)},
    Kind.STRESS: {"us": _Form("psi", 0, 3), "metric": _Form("MPa", 1)},
    Kind.PRESSURE: {"us": _Form("psi", 0, 3), "metric": _Form("kPa", 0, 3)},
    Kind.SUBGRADE: {"us": _Form("pci", 0, 3), "metric": _Form("MN/m3", 1)},
    Kind.FORCE: {"us": _Form("lb", 0, 3), "metric": _Form("kN", 1)},
    Kind.LINE_LOAD: {"us": _Form("lb/ft", 0, 3), "metric": _Form("kN/m", 1)},
    Kind.MASS: {"us": _Form("lb", 1), "metric": _Form("kg", 1)},
    Kind.UNIT_WEIGHT: {"us": _Form("lb/yd3", 1), "metric": _Form("kg/m3", 0)},
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
_MILLIMETERS = _Form("mm", 0, 2, finer=1)
_PERCENT = _Form("%", 1, 1)
_INCHES = _Form("in", 2, 1)
_INCHES_PER_FOOT = _Form("in/ft", 2, 1)
_ONE_IN = _Form("", 1, 2)


def show(amount: Amount, system: System, both: bool = True, digits: int = 0) -> str:
    """The amount in the trade's writing, always with its unit; with ``both``, the other system in brackets.

    A typed amount is shown as typed, in whichever system that was, and then in the other. A system that is shown alone
    (:func:`slabwright.units.amount.alone`) has no other beside it; what was typed in the other is told in this one.
    ``digits`` more decimals are for the terms of a sum, see :func:`slabwright.text.working.numbers_text`.

    >>> show(Amount(0.127, Kind.DEPTH), "us")
    '5 in (127 mm)'
    >>> show(Amount(0.127, Kind.DEPTH, "127 mm"), "us")
    '127 mm (5 in)'
    >>> show(Amount(1 / 48, Kind.SLOPE), "us"), show(Amount(1 / 48, Kind.SLOPE), "metric")
    ('2.1 % (1/4 in/ft)', '2.1 % (1:48)')
    >>> from slabwright.units.amount import alone
    >>> [show(Amount(0.127, Kind.DEPTH, typed), alone("metric")) for typed in ("", "127 mm", "5 in")]
    ['127 mm', '127 mm', '127 mm']
    """
    return " ".join(part.text for part in _parts(amount, system, both, digits))


def show_pair(first: Amount, second: Amount, system: System, both: bool = True) -> tuple[str, str]:
    """Both amounts, with digits added until no two different numbers look alike.

    Amounts that are one within the shared tolerance, or of different kinds, need no telling apart.

    >>> print(*show_pair(Amount(3.6576, Kind.LENGTH), Amount(3.65762, Kind.LENGTH), "us", both=False))
    12'-0" 12'-0.001"
    """
    apart = first.kind is not second.kind or _one(first.si, second.si, first.kind)
    for digits in range(_MOST_DIGITS):
        one, two = _parts(first, system, both, digits), _parts(second, system, both, digits)
        if apart or all(_differ(a, b, first.si < second.si) for a, b in zip(one, two, strict=False)):
            break
    return " ".join(part.text for part in one), " ".join(part.text for part in two)


def _one(si: float, other: float, kind: Kind) -> bool:
    """Whether two numbers are one: by the shared tolerance; heights, which have no size, by its absolute part."""
    return abs(si - other) <= ABSOLUTE_TOLERANCE if kind is Kind.HEIGHT else same(si, other)


def _differ(one: _Shown, two: _Shown, rising: bool) -> bool:
    """Whether two texts say two numbers, in the right order."""
    return not math.isclose(one.si, two.si, rel_tol=1e-8, abs_tol=1e-12) and (one.si < two.si) == rising


def _parts(amount: Amount, system: System, both: bool, digits: int) -> list[_Shown]:
    """What is printed: the first text and, where there is one, the bracket."""
    if amount.typed and not _from_elsewhere(amount, system):
        first = _Shown(clean(amount.typed), amount.si)
        bracket = _beside_typed(amount, first.text, system, digits) if both else None
    else:
        first = _in_system(amount, system, digits)
        bracket = _beside(amount, system, digits) if both and abs(amount.si) < _MOST else None
    return [first] if bracket is None else [first, _Shown(f"({bracket.text})", bracket.si)]


def _from_elsewhere(amount: Amount, system: System) -> bool:
    """Whether an amount is typed in no file (a published limit), and in another system than the one shown alone."""
    return is_alone(system) and amount.place is None and _typed_system(amount.typed, amount.kind) not in (None, system)


def _beside(amount: Amount, system: System, digits: int) -> _Shown | None:
    """The bracket of an amount shown in ``system``."""
    if amount.kind is Kind.SLOPE:
        return _trade_slope(amount.si, system, digits)
    if amount.kind in _ALIKE or amount.kind is Kind.DURATION or is_alone(system):
        return None
    return _in_system(amount, _OTHER[system], digits)


def _beside_typed(amount: Amount, typed: str, system: System, digits: int) -> _Shown | None:
    """The bracket of an amount shown as typed: the system it was not typed in."""
    if amount.kind is Kind.SLOPE:
        return _beside(amount, system, digits) if "%" in typed else _in_system(amount, system, digits)
    typed_in = _typed_system(typed, amount.kind) or system
    if is_alone(system) and typed_in != system and amount.kind not in _ALIKE and amount.kind is not Kind.DURATION:
        return _in_system(amount, system, digits)
    return _beside(amount, system if typed_in == system else typed_in, digits)


def _typed_system(typed: str, kind: Kind) -> System | None:
    """The unit system of typed words (a minus under heights and points is no matter here)."""
    if len(typed) > LONGEST:
        return None
    try:
        return measured(typed.lstrip("-−+ "), kind)[1]
    except QuantityError:
        return None


def _in_system(amount: Amount, system: System, digits: int) -> _Shown:
    return _drawn(amount.si, amount.kind, system, digits)


@lru_cache(maxsize=4096)
def _drawn(si: float, kind: Kind, system: System, digits: int) -> _Shown:
    """One number in one system."""
    if not abs(si) < _MOST:
        return _Shown("not known", si)
    match kind:
        case Kind.LENGTH | Kind.DEPTH if system == "us":
            return _inches(si, kind, digits)
        case Kind.LENGTH:
            return _decimal(si, _METERS, kind, digits)
        case Kind.DEPTH:
            return _decimal(si, _MILLIMETERS, kind, digits)
        case Kind.SLOPE:
            return _decimal(si, _PERCENT, kind, digits)
        case Kind.DURATION:
            return _time(si, digits)
        case _:
            return _decimal(si, _ALIKE.get(kind) or _FORMS[kind][system], kind, digits)


def _decimal(si: float, form: _Form, kind: Kind, digits: int) -> _Shown:
    """A decimal number and its unit."""
    unit = find_unit(form.unit, kind) if form.unit else None
    factor, zero = (unit.factor, unit.zero) if unit else (1.0, 0.0)
    value = (si - zero) / factor
    even = _one(si, round(value, form.places) * factor + zero, kind)
    text = _digits(value, form, digits, even)
    return _Shown(f"{text} {form.unit}".rstrip(), float(text) * factor + zero)


def _places(value: float, form: _Form, digits: int, even: bool) -> int:
    """How many decimals ``value`` gets."""
    size = math.floor(math.log10(abs(value))) if value else 0
    return max(form.places + (0 if even else form.finer), 0 if even else form.significant - 1 - size) + digits


def _digits(value: float, form: _Form, digits: int, even: bool) -> str:
    """``value`` at the places of ``form``, halves away from zero; an even number drops its zeros unless fixed."""
    text = f"{value * (1 + 1e-12):.{_places(value, form, digits, even)}f}"
    if even and not digits and not form.fixed and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.removeprefix("-") if not float(text) else text


def _inches(si: float, kind: Kind, digits: int) -> _Shown:
    """Feet and inches for lengths, inches for depths: a fraction on a sixteenth, decimals elsewhere."""
    inches = abs(si) / _INCH
    sixteenths = Fraction(round(inches * 16), 16)
    even = _one(abs(si), float(sixteenths) * _INCH, kind)
    places = _places(inches, _INCHES, digits, even)
    number = sixteenths if even else Fraction(f"{inches * (1 + 1e-12):.{places}f}")

    def written(part: Fraction) -> str:
        return _mixed(part) if even else f"{float(part):.{places}f}"

    sign = "-" if si < 0 and number else ""
    text = _feet_and(number, written) if kind is Kind.LENGTH else f"{written(number)} in"
    return _Shown(sign + text, math.copysign(float(number) * _INCH, si))


def _feet_and(inches: Fraction, written: Callable[[Fraction], str]) -> str:
    """``12'-6 1/2"``, ``1'-0 1/4"``; inches alone under a foot."""
    feet, rest = divmod(inches, 12)
    part = f"0 {written(rest)}" if feet and 0 < rest < 1 and "/" in written(rest) else written(rest)
    return f"{feet}'-{part}\"" if feet else f'{part}"'


def _mixed(number: Fraction) -> str:
    """``6 1/2``."""
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else str(part or whole)


def _trade_slope(si: float, system: System, digits: int) -> _Shown:
    """The slope as crews of ``system`` say it: inches in a foot, or one in so many."""
    if not abs(si) < _UPRIGHT:
        return _Shown("upright", si)
    if _one(si, 0.0, Kind.SLOPE):
        return _Shown("level", 0.0)
    sign = "-" if si < 0 else ""
    if system == "us":
        rise = abs(si) * 12
        sixteenths = Fraction(round(rise * 16), 16)
        if _one(rise, float(sixteenths), Kind.SLOPE):
            return _Shown(f"{sign}{_mixed(sixteenths)} in/ft", math.copysign(float(sixteenths) / 12, si))
        text = _digits(rise, _INCHES_PER_FOOT, digits, _one(rise, round(rise, 2), Kind.SLOPE))
        return _Shown(f"{sign}{text} in/ft", math.copysign(float(text) / 12, si))
    run = 1 / abs(si)
    text = _digits(run, _ONE_IN, digits, _one(run, round(run, 1), Kind.SLOPE))
    return _Shown(f"{sign}1:{text}", math.copysign(1 / float(text), si))


def _time(si: float, digits: int) -> _Shown:
    """Days from two whole ones up, hours where they are even in tenths or many, else minutes."""
    if si >= 2 * _DAY and same(si, round(si / _DAY) * _DAY):
        return _decimal(si, _Form("days", 0), Kind.DURATION, digits)
    hours = si >= 3 * _HOUR or (si >= _HOUR and same(si, round(si / _HOUR, 1) * _HOUR))
    return _decimal(si, _Form("h" if hours else "min", 1, 1), Kind.DURATION, digits)


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
