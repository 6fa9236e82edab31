"""What people mistype, and the sentences that say what is wrong and what to write instead.

Every function returns ``(wrong, write)``, two clauses without a full stop; the second follows the word "write".
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from fractions import Fraction

from slabwright.source.alike import most_like
from slabwright.source.clean import LONGEST
from slabwright.units.amount import Kind, QuantityError
from slabwright.units.unit_table import find_unit, kind_measured, kinds_of_unit, unit_names

Trap = tuple[str, str]

_WRITTEN: dict[Kind, tuple[str, tuple[str, ...]]] = {  # as in these, with its usual units
    Kind.LENGTH: ("12'-6 1/2\" or 3.82 m", ("ft", "in", "m", "mm")),
    Kind.DEPTH: ("5 in or 127 mm", ("in", "mm")),
    Kind.HEIGHT: ("99.90 ft or 30.450 m", ("ft", "in", "m", "mm")),
    Kind.SLOPE: ("1/4 in/ft, 2 % or 1:48", ("%", "in/ft", "mm/m")),
    Kind.ANGLE: ("45 deg", ("deg",)),
    Kind.AREA: ("480 ft2 or 45 m2", ("ft2", "m2")),
    Kind.VOLUME: ("12 yd3 or 9 m3", ("yd3", "ft3", "m3")),
    Kind.SMALL_VOLUME: ("5 gal, 0.2 ft3 or 40 L", ("ft3", "gal", "L")),
    Kind.STRESS: ("4000 psi or 25 MPa", ("psi", "MPa")),
    Kind.PRESSURE: ("65 psi or 450 kPa", ("psi", "kPa", "bar")),
    Kind.SUBGRADE: ("150 pci or 40 MN/m3", ("pci", "MN/m3", "kPa/mm")),
    Kind.FORCE: ("7000 lb or 30 kN", ("lb", "kip", "kN", "kg")),
    Kind.LINE_LOAD: ("400 lb/ft or 6 kN/m", ("lb/ft", "kN/m")),
    Kind.MASS: ("50 lb or 25 kg", ("lb", "kg")),
    Kind.UNIT_WEIGHT: ("1.5 lb/yd3 or 0.9 kg/m3", ("lb/yd3", "lb/ft3", "kg/m3")),
    Kind.TEMPERATURE: ("55 °F or 13 °C", ("°F", "°C")),
    Kind.SPEED: ("10 mph or 15 km/h", ("mph", "km/h")),
    Kind.PLACING_RATE: ("20 yd3/h or 15 m3/h", ("yd3/h", "m3/h")),
    Kind.COVERAGE: ("200 ft2/gal or 5 m2/L", ("ft2/gal", "m2/L")),
    Kind.EVAPORATION: ("0.2 lb/ft2/h or 1 kg/m2/h", ("lb/ft2/h", "kg/m2/h")),
    Kind.DURATION: ("8 h, 90 min or 7 days", ("min", "h", "days")),
    Kind.STEEL_AREA: ("0.12 in2/ft or 250 mm2/m", ("in2/ft", "mm2/m")),
    Kind.SHARE: ("5 %", ("%",)),
    Kind.RATIO: ("0.45", ()),
    Kind.COUNT: ("3", ()),
}
_NOT_A_NUMBER = re.compile(r"[-+]?\.?(?:nan|inf|infinity)\b", re.ASCII | re.IGNORECASE)
_POWER_OF_TEN = re.compile(r"[\d.] ?e ?[-+]?\d", re.ASCII | re.IGNORECASE)
_COMMA_NUMBER = re.compile(r"\d[\d.,]*,\d+(?:\.\d+)?", re.ASCII)
_THOUSANDS = r"(?a)\d{1,3}(?:,\d{3})+(?:\.\d+)?"
_DECIMAL_COMMA = r"(?a)(?<![\d.,])(\d{1,3}(?:\.\d{3})+|\d+),(\d+)(?![\d.,])"
_CONSISTENCE = r"(?ai)S[1-5]|F[1-6]"
_FEET_DASH_INCHES = r"(?a)(\d+)-(\d+(?: \d+/\d+)?)"
_SIXTEENTHS = r"(?a)(\d+)'?-(\d+)-(\d+)"
_SECOND_NUMBER = r"(?a)[-+]? ?\.?\d"
_STARTS_A_UNIT = r"(?a)[^\W_]|[°%'\"]"
_THREE_DIGITS = r"(?a)\d{3}\b"


def check(text: str, kind: Kind) -> None:
    """Refuse (``QuantityError``) a text that holds no number a person can measure, or a comma in one."""
    if not text:
        raise QuantityError("nothing is written here", such_as(kind))
    if _NOT_A_NUMBER.match(text):
        raise QuantityError(*not_a_number(text, kind))
    if _POWER_OF_TEN.search(text):
        raise QuantityError(f"{quoted(text)} is written with a power of ten", f"the number in full, {such_as(kind)}")
    comma = _COMMA_NUMBER.search(text)
    if comma:
        raise QuantityError(*comma_in(text, comma[0]))


def with_points(text: str, most: float = math.inf) -> str:
    """``text`` with a decimal point for each decimal comma that can be nothing else.

    ``1,250`` may be thousands, and stays, unless they would come to ``most`` or more.

    >>> with_points("7,5 m3"), with_points("0,125 m"), with_points("1.250,5 kg"), with_points("1,250 m")
    ('7.5 m3', '0.125 m', '1250.5 kg', '1,250 m')
    """

    def pointed(found: re.Match[str]) -> str:
        whole, part = found[1], found[2]
        thousands = len(part) == 3 and len(whole) <= 3 and not whole.startswith("0")
        if thousands and int(whole + part) < most:
            return found[0]
        return f"{whole.replace('.', '')}.{part}"

    return re.sub(_DECIMAL_COMMA, pointed, text) if "," in text else text


def such_as(kind: Kind) -> str:
    """``"a depth such as 5 in or 127 mm"``."""
    return f"{named(kind)} such as {_WRITTEN[kind][0]}"


def named(kind: Kind) -> str:
    """The kind with its article."""
    if kind is Kind.SUBGRADE:
        return str(kind)
    return f"{'an' if kind[0] in 'aeio' else 'a'} {kind}"


def quoted(text: str) -> str:
    """``text`` in quotation marks; one that holds an inch mark stays without."""
    return text if '"' in text else f'"{text}"'


def typed_number(number: Fraction) -> str:
    """A number as a crew writes it: 3 1/2, 42.35."""
    whole, part = divmod(number, 1)
    if part and part.denominator in (2, 4, 8, 16, 32):
        return f"{whole or ''} {part}".strip()
    return f"{float(number):.10g}"


def too_long(characters: int, kind: Kind) -> Trap:
    """Over 80 characters."""
    return f"this is {characters} characters long, and a quantity has at most {LONGEST}", such_as(kind)


def not_a_number(text: str, kind: Kind) -> Trap:
    """NaN and infinity."""
    return f"{quoted(text)} is not a number that can be measured", such_as(kind)


def too_large(text: str, kind: Kind) -> Trap:
    """A thousand million and more."""
    return f"{quoted(text)} is too large for any slab", such_as(kind)


def below_zero(text: str, rest: str, kind: Kind) -> Trap:
    """A minus where none can be."""
    meant = ", measured downhill" if kind is Kind.SLOPE else ", if the minus is a slip"
    return f"{quoted(text)} is below zero, and {named(kind)} cannot be", f"{rest}{meant}" if rest else such_as(kind)


def comma_in(text: str, number: str) -> Trap:
    """A comma in a number: a decimal comma, a thousands comma, or no telling."""
    joined = text.replace(number, number.replace(",", ""))
    pointed = text.replace(number, number.replace(".", "").replace(",", "."))
    if number.count(",") > 1 or (re.fullmatch(_THOUSANDS, number) and "." in number):
        return f"{quoted(text)} has commas in the number", joined
    if re.fullmatch(_THOUSANDS, number):
        wrong = f"{quoted(text)} has a comma in the number"
        return wrong, f"{joined}, or {pointed} if the comma is a decimal point"
    return f"{quoted(text)} has a decimal comma", pointed


def zero_below(text: str, kind: Kind) -> Trap:
    """A fraction or a ratio over zero."""
    return f"{quoted(text)} divides by zero", such_as(kind)


def heavy_fraction(text: str, part: str, number: Fraction) -> Trap:
    """``6 5/4``: a fraction of one or more after a whole number."""
    right = text.replace(part.strip(), typed_number(number), 1)
    return f"{quoted(text)} has a fraction of one or more after a whole number", f"{right} if that is meant"


_SHORT = {"yards?|yds": "yd", "feet|foot": "ft", "met(er|re)s?": "m"}  # what people write out for a power of it


def no_number(text: str, kind: Kind) -> Trap:
    """No number where one must stand."""
    if kind is Kind.DEPTH and re.fullmatch(_CONSISTENCE, text):
        return f"{quoted(text)} is a class of consistence, not {named(kind)}", f"consistence: {text.upper()}"
    return f"{quoted(text)} cannot be read as {named(kind)}", such_as(kind)


def unit_refused(text: str, number: Fraction, unit: str, kind: Kind) -> Trap:
    """No unit, a unit of another kind, or one nobody knows."""
    typed = typed_number(number)
    if not unit:
        sign = "-" if kind is Kind.HEIGHT and text.startswith(("-", "−")) else ""
        return f"{quoted(text)} has no unit", _with_each_unit(number, kind, sign)
    if re.match(_SECOND_NUMBER, unit):
        return _second_number(text, unit, kind)
    if not re.match(_STARTS_A_UNIT, unit):
        return no_number(text, kind)
    if unit == "M" and find_unit("m", kind):
        return f"{quoted(text)} may be a bar size, since meters are a small m", f"{typed} m or {typed} mm"
    if unit == "T" and find_unit("t", kind):
        return f"{quoted(text)} may be tons of 2000 lb or tonnes of 1000 kg", f"{typed} ton or {typed} tonne"
    others = kinds_of_unit(unit)
    if others:
        short = next((short for word, short in _SHORT.items() if re.fullmatch(word, unit)), unit)
        raised = next((f"{short}{power}" for power in "23" if find_unit(f"{short}{power}", kind)), "")
        wrong = f"{quoted(unit)} is a unit of {others[0]}, not of {kind}"
        return wrong, f"{typed} {raised}" if raised else such_as(kind)
    measured = kind_measured(unit)
    if measured:
        return f"{quoted(unit)} is a unit of {measured}, not of {kind}", such_as(kind)
    near = nearest_unit(unit, kind)
    return f"{quoted(unit)} is not a unit known here", f"{typed} {near} if that is meant" if near else such_as(kind)


def may_be_a_unit(text: str) -> bool:
    """Whether a text may name a unit outside the tables: it begins like one, and is none of a known other meaning."""
    kelvin = text == "K"  # in its other meaning a kip
    return bool(re.match(_STARTS_A_UNIT, text)) and text not in ("M", "T") and (kelvin or not kinds_of_unit(text))


def _with_each_unit(number: Fraction, kind: Kind, sign: str) -> str:
    """``5 in or 5 mm``; a share of one may be meant where a percentage is asked."""
    usual = _WRITTEN[kind][1]
    choices = [f"{sign}{typed_number(number)} {unit}" for unit in usual]
    if usual[0] == "%" and number < 1:
        choices.insert(0, f"{typed_number(100 * number)} %")
    return " or ".join(", ".join(part) for part in (choices[:-1], choices[-1:]) if part)


def _second_number(text: str, rest: str, kind: Kind) -> Trap:
    """Two numbers in a row, or joined by a dash, with no mark between."""
    inches = sixteenths_in(text)
    dashed = re.fullmatch(_FEET_DASH_INCHES, text)
    if kind in (Kind.LENGTH, Kind.DEPTH, Kind.HEIGHT):
        if inches:
            return f"{quoted(text)} may be feet, inches and sixteenths", f"{inches} if that is meant"
        if dashed:
            feet_and_inches = f"{dashed[1]}'-{dashed[2]}\""
            return f"{quoted(text)} does not say which number is feet", f"{feet_and_inches} if it is feet and inches"
    if re.match(_THREE_DIGITS, rest) and " " + rest in text:
        return f"{quoted(text)} has a space in the number", text.replace(" " + rest, rest)
    return f"{quoted(text)} has two numbers", such_as(kind)


def sixteenths_in(text: str) -> str:
    """``12'-6 1/2"`` for ``12-6-8`` or ``12'-6-8``, as steel is measured; nothing for any other text."""
    found = re.fullmatch(_SIXTEENTHS, text)
    if found is None or int(found[3]) >= 16 or int(found[2]) >= 12:
        return ""
    return f"{found[1]}'-{typed_number(int(found[2]) + Fraction(int(found[3]), 16))}\""


def nearest_unit(unit: str, kind: Kind) -> str:
    """The known unit of ``kind`` spelled most like ``unit``, or nothing."""
    near = most_like(unit.lower().replace(" ", ""), unit_names(kind))
    found = find_unit(near, kind) if near else None
    return found.name if found else ""


def not_inches(text: str, feet: Fraction, inches: Fraction, unit: str) -> Trap:
    """Something other than inches after the feet."""
    steel = sixteenths_in(text)
    if steel:
        return f"{quoted(text)} may be feet, inches and sixteenths", f"{steel} if that is meant"
    wrong = f"{quoted(text)} has {quoted(unit)} after the feet, where inches belong"
    return wrong, f"{_feet_and_inches(12 * feet + inches)} if inches are meant"


def _feet_and_inches(inches: Fraction) -> str:
    """``4'-2"``."""
    return f"{inches // 12}'-{typed_number(inches % 12)}\""


def part_feet(text: str, feet: Fraction, inches: Fraction) -> Trap:
    """``12.5' 6"``: a part of a foot and inches as well."""
    wrong = f"{quoted(text)} has a part of a foot and inches as well"
    return wrong, f"{_feet_and_inches(12 * feet + inches)} if that is the sum"


def inches_past_a_foot(text: str, feet: Fraction, inches: Fraction) -> Trap:
    """12 in and more after the feet."""
    wrong = f"{quoted(text)} has {typed_number(inches)} in after the feet, a foot or more"
    return wrong, f"{_feet_and_inches(12 * feet + inches)} if that is the sum"


def upright(text: str) -> Trap:
    """90 degrees and more."""
    return f"{quoted(text)} is a wall, not a slope", such_as(Kind.SLOPE)


def run_with_unit(text: str, rise: Fraction, run: Fraction, unit: str) -> Trap:
    """``1 in 10 ft``: a ratio or an inch, no telling."""
    if not find_unit(unit, Kind.LENGTH):
        return no_number(text, Kind.SLOPE)
    ratio = f"{typed_number(rise)} in {typed_number(run)}"
    inches = f"{typed_number(rise)} in in {typed_number(run)} {unit}"
    return f"{quoted(text)} may be a ratio or inches", f"{inches} for inches, or {ratio} for a ratio"


def run_without_unit(text: str, unit: str) -> Trap:
    """A rise with its unit, and a run with none."""
    if unit:
        return f"{quoted(unit)} is not a unit of length", such_as(Kind.SLOPE)
    return f"{quoted(text)} does not say the unit of the run", such_as(Kind.SLOPE)


def not_alone(text: str, number: Fraction, left: str, kind: Kind) -> Trap:
    """Something after a number that has no unit, or a part where only whole ones count."""
    if not left:
        return f"{quoted(text)} is not a whole number", such_as(kind)
    if left == "%" and kind is Kind.RATIO:
        return f"{quoted(text)} is a share, and a ratio has no unit", f"{float(number / 100):g}"
    wrong = f"{quoted(text)} has {quoted(left)} after the number, and {named(kind)} has no unit"
    return wrong, typed_number(number)


def no_such_class(text: str, near: str | None) -> Trap:
    """``C30/35``: no strength class has this pair of numbers."""
    return f"{quoted(text)} is no strength class", near or "a class such as C25/30 or C30/37, or the strength in MPa"


def half_a_class(text: str, strength: int, classes: Mapping[int, int]) -> Trap:
    """``C25``: a strength, and no word whether on cylinders or on cubes."""
    cubes = next((cylinder for cylinder, cube in classes.items() if cube == strength), None)
    meant = [f"C{strength}/{classes[strength]} if {strength} MPa is on cylinders"] if strength in classes else []
    meant += [f"C{cubes}/{strength} if it is on cubes"] if cubes else []
    wrong = f"{quoted(text)} does not say whether it is tested on cylinders or on cubes"
    return wrong, ", or ".join(meant) or "the class with both numbers, as C25/30"


def designated(text: str) -> Trap:
    """``PAV1``: a concrete by its use, of one class or another."""
    return f"{quoted(text)} names a concrete and not its strength", "the class on its ticket, such as C25/30 or C28/35"


def no_such_board(text: str) -> Trap:
    """A lumber size nobody sells."""
    boards = "2x3, 2x4, 2x6, 2x8, 2x10 or 2x12, or the real depth of the board such as 5 1/2 in"
    return f"{quoted(text)} is not a board size known here", boards
