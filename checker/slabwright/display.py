"""Showing amounts as the trade writes them, in one unit system or both.

The policy, the same for every kind:

- A fraction or a plain whole number is exact: 4 in, 1 1/4 in and 12'-6 1/2" are printed only for numbers that
  sit on a sixteenth of an inch within the shared tolerance. Anything else is printed in decimal inches
  (3.97 in, 4.00 in), so that the decimals themselves say "rounded here".
- Metric lengths and depths work alike: 127 mm and 3.82 m are exact to the millimetre, 31.8 mm and 3.658 m rounded.
- Heights in feet have two decimals on a hundredth and three elsewhere; in metres three.
- Two numbers shown side by side go through :func:`show_pair`, which adds digits until they differ.
- Only order sizes (:func:`round_up`) and stake readings (:func:`eighths`, :func:`tenths`) are rounded on purpose.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from slabwright.amount import Amount, Kind, QuantityError, System, same
from slabwright.clean import LONGEST, clean
from slabwright.grammar import measured
from slabwright.units import find_unit

_INCH = 0.0254
_MOST_DIGITS = 12
_OTHER: dict[System, System] = {"us": "metric", "metric": "us"}


@dataclass(frozen=True, slots=True)
class _Shown:
    """A text and the SI number it says."""

    text: str
    si: float


@dataclass(frozen=True, slots=True)
class _Form:
    """How one unit is printed: decimals, whether all of them always, and the digits a small number keeps."""

    unit: str
    places: int
    fixed: bool = False
    significant: int = 2


_FORMS: dict[Kind, dict[System, _Form]] = {
    Kind.HEIGHT: {"us": _Form("ft", 2, True), "metric": _Form("m", 3, True)},
    Kind.AREA: {"us": _Form("ft2", 1), "metric": _Form("m2", 2)},
    Kind.VOLUME: {"us": _Form("yd3", 2, True), "metric": _Form("m3", 2, True)},
    Kind.SMALL_VOLUME: {"us": _Form("ft3", 2), "metric": _Form("L", 1)},
    Kind.STRESS: {"us": _Form("psi", 0, significant=3), "metric": _Form("MPa", 1)},
    Kind.PRESSURE: {"us": _Form("psi", 0, significant=3), "metric": _Form("kPa", 0, significant=3)},
    Kind.SUBGRADE: {"us": _Form("pci", 0, significant=3), "metric": _Form("MN/m3", 1)},
    Kind.FORCE: {"us": _Form("lb", 0, significant=3), "metric": _Form("kN", 1)},
    Kind.MASS: {"us": _Form("lb", 1), "metric": _Form("kg", 1)},
    Kind.UNIT_WEIGHT: {"us": _Form("lb/yd3", 1), "metric": _Form("kg/m3", 0)},
    Kind.TEMPERATURE: {"us": _Form("°F", 1, significant=1), "metric": _Form("°C", 1, significant=1)},
    Kind.SPEED: {"us": _Form("mph", 1), "metric": _Form("km/h", 1)},
    Kind.STEEL_AREA: {"us": _Form("in2/ft", 3), "metric": _Form("mm2/m", 0)},
}
_ALIKE: dict[Kind, _Form] = {  # kinds both systems show alike
    Kind.ANGLE: _Form("deg", 1, significant=1),
    Kind.SHARE: _Form("%", 1, significant=1),
    Kind.RATIO: _Form("", 2),
    Kind.COUNT: _Form("", 0, significant=1),
}
_PERCENT = _Form("%", 1, significant=1)


def show(amount: Amount, system: System, both: bool = True) -> str:
    """The amount in the trade's writing, always with its unit; with ``both``, the other system in brackets.

    A typed amount is shown as typed, in whichever system that was, and then in the other.

    >>> show(Amount(0.127, Kind.DEPTH), "us")
    '5 in (127 mm)'
    >>> show(Amount(0.127, Kind.DEPTH, "127 mm"), "us")
    '127 mm (5 in)'
    >>> show(Amount(1 / 48, Kind.SLOPE), "us"), show(Amount(1 / 48, Kind.SLOPE), "metric")
    ('2.1 % (1/4 in/ft)', '2.1 % (1:48)')
    """
    return " ".join(part.text for part in _parts(amount, system, both, 0))


def show_pair(first: Amount, second: Amount, system: System, both: bool = True) -> tuple[str, str]:
    """Both amounts, with digits added until no two different numbers look alike.

    Amounts that are one within the shared tolerance, or of different kinds, need no telling apart.

    >>> show_pair(Amount(3.6576, Kind.LENGTH), Amount(3.65762, Kind.LENGTH), "us", both=False)
    ('12\\'-0"', '12\\'-0.001"')
    """
    told_apart = first.kind is not second.kind or same(first.si, second.si)
    for digits in range(_MOST_DIGITS):
        one, two = _parts(first, system, both, digits), _parts(second, system, both, digits)
        if told_apart or all(_differ(a, b, first.si < second.si) for a, b in zip(one, two, strict=False)):
            break
    return " ".join(part.text for part in one), " ".join(part.text for part in two)


def _differ(one: _Shown, two: _Shown, rising: bool) -> bool:
    """Whether two texts say two numbers, in the right order (a bracket may be in another unit than its partner)."""
    return one.text != two.text and (one.si < two.si) == rising and one.si != two.si


def _parts(amount: Amount, system: System, both: bool, digits: int) -> list[_Shown]:
    """What is printed: the first text and, where there is one, the bracket."""
    if amount.typed:
        first = _Shown(clean(amount.typed), amount.si)
        bracket = _beside_typed(amount, first.text, system, digits) if both else None
    else:
        first = _in_system(amount, system, digits)
        bracket = _beside(amount, system, digits) if both else None
    return [first] if bracket is None else [first, _Shown(f"({bracket.text})", bracket.si)]


def _beside(amount: Amount, system: System, digits: int) -> _Shown | None:
    """The bracket of an amount shown in ``system``."""
    if amount.kind is Kind.SLOPE:
        return _trade_slope(amount.si, system, digits)
    if amount.kind in _ALIKE or amount.kind is Kind.DURATION:
        return None
    return _in_system(amount, _OTHER[system], digits)


def _beside_typed(amount: Amount, typed: str, system: System, digits: int) -> _Shown | None:
    """The bracket of an amount shown as typed: the system it was not typed in."""
    if amount.kind is Kind.SLOPE:
        return _beside(amount, system, digits) if "%" in typed else _in_system(amount, system, digits)
    return _beside(amount, _typed_system(typed, amount.kind) or system, digits)


def _typed_system(typed: str, kind: Kind) -> System | None:
    """The unit system of typed words (a minus under heights and points is no matter here)."""
    if len(typed) > LONGEST:
        return None
    try:
        return measured(typed.lstrip("-−+ "), kind)[1]
    except QuantityError:
        return None


@lru_cache(maxsize=4096)
def _drawn(si: float, kind: Kind, system: System, digits: int) -> _Shown:
    """One number in one system."""
    match kind:
        case Kind.LENGTH | Kind.DEPTH if system == "us":
            return _inches(si, digits, with_feet=kind is Kind.LENGTH)
        case Kind.LENGTH:
            return _decimal(si, _Form("m", 3), kind, digits)
        case Kind.DEPTH:
            return _millimetres(si, digits)
        case Kind.SLOPE:
            return _decimal(si, _PERCENT, kind, digits)
        case Kind.DURATION:
            return _time(si, digits)
        case _:
            form = _ALIKE.get(kind) or _FORMS[kind][system]
            return _decimal(si, form, kind, digits)


def _in_system(amount: Amount, system: System, digits: int) -> _Shown:
    return _drawn(amount.si, amount.kind, system, digits)


def _decimal(si: float, form: _Form, kind: Kind, digits: int) -> _Shown:
    """A decimal number and its unit; without trailing zeros where it is exact at the form's places."""
    unit = find_unit(form.unit, kind) if form.unit else None
    factor, zero = (unit.factor, unit.zero) if unit else (1.0, 0.0)
    value = (si - zero) / factor
    text = _digits(value, form, digits)
    return _Shown(f"{text} {form.unit}".strip(), float(text) * factor + zero)


def _digits(value: float, form: _Form, digits: int) -> str:
    """``value`` at the places of ``form``: more where a small number needs them, fewer where it needs none."""
    exact = same(value, round(value, form.places))
    if exact and digits == 0:
        text = f"{value:.{form.places}f}"
        if not form.fixed and "." in text:
            text = text.rstrip("0").rstrip(".")
    else:
        size = math.floor(math.log10(abs(value))) if value else 0
        places = max(form.places, form.significant - 1 - size) if not form.fixed else form.places + (not exact)
        if (
            form is _FORMS[Kind.HEIGHT]["metric"]
            or form is _FORMS[Kind.VOLUME]["us"]
            or form is _FORMS[Kind.VOLUME]["metric"]
        ):
            places = form.places
        text = f"{value:.{places + digits}f}"
    return text[1:] if text.startswith("-") and not float(text) else text


def _inches(si: float, digits: int, with_feet: bool) -> _Shown:
    """Feet and inches, or inches: a fraction on a sixteenth, decimals elsewhere."""
    inches = abs(si) / _INCH
    sixteenths = round(inches * 16)
    exact = same(inches * _INCH, sixteenths / 16 * _INCH)
    part = Fraction(sixteenths, 16) if exact else Fraction(f"{inches:.{2 + digits}f}")

    def written(number: Fraction) -> str:
        return _mixed(number) if exact else f"{float(number):.{2 + digits}f}"

    sign = "-" if si < 0 and part else ""
    said = float(part) * _INCH * (-1 if sign else 1)
    if not with_feet:
        return _Shown(f"{sign}{written(part)} in", said)
    return _Shown(sign + _feet_and(part, written), said)


def _feet_and(inches: Fraction, written: Callable[[Fraction], str]) -> str:
    """``12'-6 1/2"``; inches alone under a foot."""
    feet, rest = divmod(inches, 12)
    return f"{feet}'-{written(rest)}\"" if feet else f'{written(rest)}"'


def _mixed(number: Fraction) -> str:
    """``6 1/2``."""
    whole, part = divmod(number, 1)
    return f"{whole} {part}" if whole and part else str(part or whole)


def _millimetres(si: float, digits: int) -> _Shown:
    """Whole millimetres where exact, one decimal elsewhere."""
    return _decimal(si, _Form("mm", 0 if same(si, round(si * 1000) / 1000) else 1), Kind.DEPTH, digits)


def _trade_slope(si: float, system: System, digits: int) -> _Shown:
    """The slope as crews of ``system`` say it: a rise in inches for a foot, or one in so many."""
    if abs(si) < 1e-9:
        return _Shown("level", si)
    sign = "-" if si < 0 else ""
    if system == "us":
        rise = abs(si) * 12
        sixteenths = round(rise * 16)
        if sixteenths and same(rise, sixteenths / 16):
            return _Shown(f"{sign}{_mixed(Fraction(sixteenths, 16))} in/ft", si)
        text = _digits(rise, _Form("in/ft", 2, significant=1), digits)
        return _Shown(f"{sign}{text} in/ft", float(sign + text) / 12)
    text = _digits(1 / abs(si), _Form("", 1), digits)
    return _Shown(f"{sign}1:{text}", 1 / float(sign + text))


def _time(si: float, digits: int) -> _Shown:
    """Days from two whole ones up, hours, or minutes under an hour."""
    if si >= 2 * 86400 and same(si, round(si / 86400) * 86400):
        return _decimal(si, _Form("days", 0), Kind.DURATION, digits)
    return _decimal(si, _Form("h" if si >= 3600 else "min", 1, significant=1), Kind.DURATION, digits)


def feet_inches(m: float, denominator: int = 8) -> str:
    """``m`` metres to the nearest 1/``denominator`` in, as feet, inches and a fraction: for rods and tapes.

    >>> feet_inches(8.3 * 0.3048), feet_inches(0.05, 16)
    ('8\\'-3 5/8"', '1 15/16"')
    """
    parts = round(abs(m) / _INCH * denominator)
    return ("-" if m < 0 and parts else "") + _feet_and(Fraction(parts, denominator), _mixed)


def eighths(m: float) -> str:
    """``m`` metres in feet, inches and eighths, to the nearest: 8.3 ft is 8'-3 5/8"."""
    return feet_inches(m, 8)


def tenths(m: float) -> str:
    """``m`` metres in feet, tenths and hundredths, to the nearest: what a surveyor's rod reads.

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
