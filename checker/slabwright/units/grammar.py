"""Reading quantities as crews type them: feet, inches and fractions, slopes, and one number with one unit.

The text is brought to plain characters first (primes, fraction signs, thin spaces), then matched
from the left with patterns that cannot backtrack far; a text over 80 characters is refused unread.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from slabwright.formulas import thickness
from slabwright.source.clean import LONGEST, clean, plain_characters
from slabwright.source.place import Place
from slabwright.units import mistyped
from slabwright.units.amount import Amount, Kind, QuantityError, System
from slabwright.units.unit_table import Unit, any_unit, find_unit

LENGTHS = (Kind.LENGTH, Kind.DEPTH, Kind.HEIGHT)
SIGNED = (Kind.HEIGHT, Kind.TEMPERATURE)  # below the datum, below freezing
LARGEST = 1_000_000_000

_FRACTION = re.compile(r"(?:(\d+)[ -])? ?(\d+) ?/ ?(\d+)(?![\d.])", re.ASCII)
_DECIMAL = re.compile(r"\d+(?:\.\d*)?|\.\d+", re.ASCII)
_FEET = re.compile(r" ?(?:'|ft\.?|feet|foot) ?-? ?(?=[\d.])", re.ASCII | re.IGNORECASE)
_BETWEEN = re.compile(r" ?/ ?| (?:per|in|over|to)(?: |$)", re.ASCII | re.IGNORECASE)
_IN_NUMBER = re.compile(r"in ?(?=[\d.])", re.ASCII | re.IGNORECASE)
_DEGREES = re.compile(r"deg|degrees?|°", re.ASCII | re.IGNORECASE)
_PERCENT = re.compile(r"%|percent|pct|per cent", re.ASCII | re.IGNORECASE)
_PER_MILLE = re.compile(r"‰|per ?mille?|promille", re.IGNORECASE)
_ONE_OVER = re.compile(r"1 ?/ ?(\d{1,4})", re.ASCII)
_RULED = (2, 4, 8, 16, 32, 64)  # parts of an inch on a rule
_BOARD = re.compile(r"(\d) ?\"? ?(?:x|×|by) ?(\d{1,2}) ?\"?", re.ASCII | re.IGNORECASE)

_HOURS = re.compile(r"(\d+) ?(?:h|hrs?|hours?) ?(\d+) ?(?:min|minutes?)", re.ASCII | re.IGNORECASE)
# RC28/35 is a designated concrete of BS 8500, of the class C28/35 (recalled, not checked).
# LP behind a class is the German word for air that is entrained; how much stands under air.
_CLASS = re.compile(r"R?C ?(\d{1,3}) ?/ ?(\d{1,3})(?: ?LP| ?\(LP\))?", re.ASCII | re.IGNORECASE)
# Australian grades, AS 1379, and Spanish ones, HM plain and HA with bars, MPa on cylinders (recalled, not checked).
_GRADE = re.compile(r"N ?(20|25|32|40|50)|H[AM] ?-? ?(20|25|30|35|40|45|50)", re.ASCII | re.IGNORECASE)
_HALF_A_CLASS = re.compile(r"[BC] ?(\d{1,3})", re.ASCII | re.IGNORECASE)
# Designated concretes of BS 8500 whose class differs by edition (recalled, not checked).
_DESIGNATED = re.compile(r"(?:GEN|RC|FND|PAV|ST) ?\d{1,2}[A-Z]?", re.ASCII | re.IGNORECASE)
# Strength classes of `en-206-1`, MPa on cylinders and on cubes; 28/35 and 32/40 are common in Britain besides.
CLASSES = {8: 10, 12: 15, 16: 20, 20: 25, 25: 30, 28: 35, 30: 37, 32: 40, 35: 45, 40: 50, 45: 55, 50: 60, 55: 67,
            60: 75, 70: 85, 80: 95, 90: 105, 100: 115}  # fmt: skip
_BOARD_FACES = (1, 2)  # boards 1 and 2 in thick are dressed to one depth


def strength_class(least: float) -> Amount:
    """The lowest strength class of at least ``least`` Pa on cylinders, written as a class.

    >>> strength_class(29e6).typed
    'C30/37'

    Raises ValueError over the highest class.
    """
    cylinder = min(one for one in CLASSES if one * 1e6 >= least - 1)
    return Amount(cylinder * 1e6, Kind.STRESS, f"C{cylinder}/{CLASSES[cylinder]}")


def cube_strength(strength: Amount) -> float | None:
    """The strength on cubes, Pa, of a strength typed as a class such as ``C30/37``; None of any other.

    >>> cube_strength(Amount(30e6, Kind.STRESS, "C30/37"))
    37000000.0
    """
    named = _CLASS.fullmatch(plain_characters(strength.typed))
    return int(named[2]) * 1e6 if named else None


def read(text: str, kind: Kind, place: Place | None = None) -> Amount:
    """One typed quantity with its unit, as an amount in the SI unit of ``kind`` that keeps what was typed.

    A decimal comma is read where it can be nothing else, and kept as a point.

    Raises :class:`QuantityError` with what is wrong and what to write instead, and nothing else.

    >>> read("12'-6 1/2\\"", Kind.LENGTH).si == 150.5 * 0.0254
    True
    >>> read("1/4 in/ft", Kind.SLOPE)
    Amount(si=0.020833333333333332, kind=<Kind.SLOPE: 'slope'>, typed='1/4 in/ft', place=None)
    >>> read("C30/37", Kind.STRESS).si  # on cylinders; 37 MPa on cubes
    30000000.0
    >>> read("7,5 m3", Kind.VOLUME).typed
    '7.5 m3'
    """
    if len(text) > LONGEST:
        raise QuantityError(*mistyped.too_long(len(text), kind), place)
    text = mistyped.with_points(text)
    try:
        si, _ = measured(text, kind)
    except QuantityError as refused:
        raise QuantityError(refused.wrong, refused.write, place) from None
    return Amount(si, kind, clean(text), place)


def bare(
    value: float, unit: Literal["ft", "in", "m", "cm", "mm"], kind: Kind, typed: str = "", place: Place | None = None
) -> Amount:
    """A number typed without its unit under points or heights, where the file names the unit once.

    Coordinates and heights may lie below zero. The kept words get the unit added, so that they can be shown alone.

    >>> bare(99.9, "ft", Kind.HEIGHT, "99.90").typed
    '99.90 ft'
    """
    words = clean(typed) or f"{value:g}"
    if not math.isfinite(value):
        raise QuantityError(*mistyped.not_a_number(words, kind), place)
    if abs(value) >= LARGEST:
        raise QuantityError(*mistyped.too_large(words, kind), place)
    found = find_unit(unit, kind)
    if found is None:
        raise ValueError(f"a {kind} has no unit {unit!r}")
    return Amount(value * found.factor, kind, f"{words} {unit}" if typed else "", place)


@lru_cache(maxsize=4096)
def measured(text: str, kind: Kind) -> tuple[float, System | None]:
    """The SI number that ``text`` says for ``kind``, and the unit system it is typed in (None: both use it)."""
    plain = plain_characters(text)
    mistyped.check(plain, kind)
    sign = -1 if plain.startswith("-") else 1
    rest = plain[1:].lstrip() if plain[:1] in ("-", "+") else plain
    if sign < 0 and kind not in SIGNED:
        raise QuantityError(*mistyped.below_zero(plain, rest, kind))
    if kind in LENGTHS:
        si, system = _length(plain, rest, kind)
    elif kind is Kind.SLOPE:
        si, system = _slope(plain, rest)
    elif kind in (Kind.RATIO, Kind.COUNT):
        si, system = _number_alone(plain, rest, kind), None
    elif kind is Kind.STRESS and (named := _CLASS.fullmatch(plain)):
        return _of_class(plain, int(named[1]), int(named[2])), "metric"
    elif kind is Kind.STRESS and (grade := _GRADE.fullmatch(plain)):
        return int(grade[1] or grade[2]) * 1e6, "metric"
    elif kind is Kind.STRESS and (half := _HALF_A_CLASS.fullmatch(plain)):
        raise QuantityError(*mistyped.half_a_class(plain, int(half[1]), CLASSES))
    elif kind is Kind.STRESS and _DESIGNATED.fullmatch(plain):
        raise QuantityError(*mistyped.designated(plain))
    elif kind is Kind.DURATION and (named := _HOURS.fullmatch(plain)) and int(named[2]) < 60:
        return 3600.0 * int(named[1]) + 60.0 * int(named[2]), None
    else:
        return _with_unit(plain, rest, kind, sign)
    return sign * si, system


def board_depth(text: str, place: Place | None = None) -> tuple[str, float]:
    """A form board: its nominal size and real depth on edge, in meters; ``("", depth)`` when a depth is typed.

    Sizes are those of dressed boards, common practice.

    >>> board_depth("2 x 4") == ("2x4", 3.5 * 0.0254)
    True
    """
    plain = plain_characters(text[: LONGEST + 1])
    board = _BOARD.fullmatch(plain)
    if board is None:
        return "", read(text, Kind.DEPTH, place).si
    face, nominal = int(board[1]), int(board[2])
    if face not in _BOARD_FACES or f"2x{nominal}" not in thickness.BOARD_DEPTH_INCHES:
        raise QuantityError(*mistyped.no_such_board(plain), place)
    return f"{face}x{nominal}", thickness.board_depth(f"2x{nominal}")


def _value(whole: str, rest: str, kind: Kind) -> tuple[Fraction, str]:
    """The number at the start of ``rest`` and what follows it."""
    fraction = _FRACTION.match(rest)
    if fraction:
        ones, top, bottom = int(fraction[1] or 0), int(fraction[2]), int(fraction[3])
        if bottom == 0:
            raise QuantityError(*mistyped.zero_below(whole, kind))
        if fraction[1] and top >= bottom:
            raise QuantityError(*mistyped.heavy_fraction(whole, fraction[0], ones + Fraction(top, bottom)))
        number, end = ones + Fraction(top, bottom), fraction.end()
    else:
        decimal = _DECIMAL.match(rest)
        if decimal is None:
            raise QuantityError(*mistyped.no_number(whole, kind))
        whole_part, _, decimals = decimal[0].partition(".")
        number, end = Fraction(int(whole_part + decimals), 10 ** len(decimals)), decimal.end()
    if number >= LARGEST:
        raise QuantityError(*mistyped.too_large(whole, kind))
    return number, rest[end:].lstrip()


def _with_unit(whole: str, rest: str, kind: Kind, sign: int = 1) -> tuple[float, System | None]:
    """One number and one unit."""
    number, unit = _value(whole, rest, kind)
    found = _unit(unit, kind)
    if found is None:
        raise QuantityError(*mistyped.unit_refused(whole, number, unit, kind))
    return found.zero + sign * found.factor * float(number), found.system


def _unit(text: str, kind: Kind) -> Unit | None:
    """The unit a text names for ``kind``; one outside the trade's own only when the text is no known slip."""
    found = find_unit(text, kind) if text else None
    return any_unit(text, kind) if found is None and mistyped.may_be_a_unit(text) else found


def _length(whole: str, rest: str, kind: Kind) -> tuple[float, System | None]:
    """Feet and inches together, or one number with one unit."""
    feet, after = _value(whole, rest, kind)
    mark = _FEET.match(after)
    if mark is None:
        return _with_unit(whole, rest, kind)
    inches, unit = _value(whole, after[mark.end() :], kind)
    inch = find_unit("in", kind)
    if inch is None or (unit and find_unit(unit, kind) != inch):
        raise QuantityError(*mistyped.not_inches(whole, feet, inches, unit))
    if feet.denominator != 1:
        raise QuantityError(*mistyped.part_feet(whole, feet, inches))
    if inches >= 12:
        raise QuantityError(*mistyped.inches_past_a_foot(whole, feet, inches))
    return float(12 * feet + inches) * inch.factor, inch.system


def _slope(whole: str, rest: str) -> tuple[float, System | None]:
    """A fall as a percentage, a ratio, a rise for a run, or an angle."""
    first, after = _value(whole, rest, Kind.SLOPE)
    if _PERCENT.fullmatch(after):
        return float(first / 100), None
    if _PER_MILLE.fullmatch(after):
        return float(first / 1000), None
    if not after and one_in(whole):
        return float(first), None
    if _DEGREES.fullmatch(after):
        if first >= 90:
            raise QuantityError(*mistyped.upright(whole))
        return math.tan(math.radians(float(first))), None
    if after.startswith(":"):
        return _ratio(whole, first, after[1:].lstrip()), None
    if _IN_NUMBER.match(after):
        return _ratio(whole, first, after[2:].lstrip()), None
    return _rise_and_run(whole, first, after)


def one_in(text: str) -> int:
    """The run of ``1/50``, a slope written as a fraction of no inch that is ruled; 0 for any other text.

    >>> one_in("1/50"), one_in("1/4")
    (50, 0)
    """
    found = _ONE_OVER.fullmatch(text.strip())
    return int(found[1]) if found and int(found[1]) not in _RULED and int(found[1]) > 1 else 0


def _ratio(whole: str, rise: Fraction, rest: str) -> float:
    """``1:48`` and ``1 in 48``, after the sign between."""
    run, left = _value(whole, rest, Kind.SLOPE)
    if left:
        raise QuantityError(*mistyped.run_with_unit(whole, rise, run, left))
    if run == 0:
        raise QuantityError(*mistyped.zero_below(whole, Kind.SLOPE))
    return float(rise / run)


def _rise_and_run(whole: str, rise: Fraction, after: str) -> tuple[float, System | None]:
    """``1/4 in/ft``, ``1/4" per ft``, ``10 mm/m``, ``2 in in 10 ft``."""
    between = next((found for found in _BETWEEN.finditer(after) if _unit(after[: found.start()], Kind.LENGTH)), None)
    up = _unit(after[: between.start()], Kind.LENGTH) if between else None
    if between is None or up is None:
        raise QuantityError(*mistyped.unit_refused(whole, rise, after, Kind.SLOPE))
    run_text = after[between.end() :].strip()
    run, unit = _value(whole, run_text, Kind.SLOPE) if run_text[:1].isdigit() else (Fraction(1), run_text)
    along = _unit(unit, Kind.LENGTH)
    if along is None:
        raise QuantityError(*mistyped.run_without_unit(whole, unit))
    if run == 0:
        raise QuantityError(*mistyped.zero_below(whole, Kind.SLOPE))
    system = up.system if up.system == along.system else None
    return float(rise) * up.factor / (float(run) * along.factor), system


def _of_class(whole: str, cylinder: int, cube: int) -> float:
    """The strength in Pa of ``C30/37``: the first number, which is that on cylinders."""
    if CLASSES.get(cylinder) != cube:
        near = cylinder if cylinder in CLASSES else next((one for one, of in CLASSES.items() if of == cube), None)
        near = cube if CLASSES.get(cube) == cylinder else near  # the wrong way round
        raise QuantityError(*mistyped.no_such_class(whole, f"C{near}/{CLASSES[near]}" if near else None))
    return cylinder * 1e6


def _number_alone(whole: str, rest: str, kind: Kind) -> float:
    """A ratio or a count: a number and nothing after it."""
    number, left = _value(whole, rest, kind)
    if left or (kind is Kind.COUNT and number.denominator != 1):
        raise QuantityError(*mistyped.not_alone(whole, number, left, kind))
    return float(number)
