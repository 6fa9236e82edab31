"""What a line of arithmetic comes to as it is printed, so that a reader who works it again finds the same."""

import math
import re
from collections.abc import Mapping
from typing import NamedTuple

from slabwright.units.quantity import Kind, QuantityError, read

_TOKEN = re.compile(r"\s*(?:\{(\w+)\}|(\d+(?:\.\d+)?)|(pi)\b|(square root of|[-+x/()]))")
_NUMBER = re.compile(r"(\d+)(?:\.(\d+))?")
_TAPE = re.compile(r"(?:/(\d+))?(?: in|\")$")
_INCH = 0.0254
_TOLD_EXACT = 16  # parts of an inch that a fraction is told for exact in
_WEIGHTS = (Kind.MASS, Kind.FORCE, Kind.LINE_LOAD, Kind.UNIT_WEIGHT)
_FIGURES = 3


class Printed(NamedTuple):
    """The SI number that a printed amount says, and the size of its last digit."""

    si: float
    last: float


def worth(template: str, values: Mapping[str, float]) -> float | None:
    """What a line of slots, numbers and signs comes to; None where it is no plain arithmetic.

    >>> worth("{a} x (1 + {s}) / 2", {"a": 3.0, "s": 0.5}), worth("{a}, at most {b}", {"a": 1.0, "b": 2.0})
    (2.25, None)
    """
    tokens: list[str | float] = []
    at = 0
    while at < len(template):
        found = _TOKEN.match(template, at)
        if found is None or (found[1] and found[1] not in values):
            return None
        at = found.end()
        number = values[found[1]] if found[1] else float(found[2]) if found[2] else math.pi if found[3] else None
        tokens.append(found[4] if number is None else number)
    try:
        result = _sum(tokens)
    except (ValueError, IndexError, ZeroDivisionError):
        return None
    return None if tokens else result


def _sum(tokens: list[str | float]) -> float:
    result = _product(tokens)
    while tokens and tokens[0] in ("+", "-"):
        sign = tokens.pop(0)
        result += _product(tokens) * (1 if sign == "+" else -1)
    return result


def _product(tokens: list[str | float]) -> float:
    result = _factor(tokens)
    while tokens and tokens[0] in ("x", "/"):
        sign, other = tokens.pop(0), _factor(tokens)
        result = result * other if sign == "x" else result / other
    return result


def _factor(tokens: list[str | float]) -> float:
    token = tokens.pop(0)
    if token == "square root of":
        return math.sqrt(_factor(tokens))
    if token == "(":
        result = _sum(tokens)
        if tokens.pop(0) != ")":
            raise ValueError
        return result
    if isinstance(token, str):
        raise ValueError
    return token


def printed(text: str, kind: Kind) -> Printed | None:
    r"""What an amount says as it is printed; None where it is told in words.

    >>> printed("about\u00a01 7/8 in", Kind.DEPTH), printed("a hair over 4 in", Kind.DEPTH)
    (Printed(si=0.047625, last=0.003175), None)
    """
    plain = text.replace("\u00a0", " ").replace(",", "")
    about, plain = plain.startswith("about "), plain.removeprefix("about ")
    sign, bare = (-1, plain[1:]) if plain.startswith("-") else (1, plain)
    if kind is Kind.TEMPERATURE:
        return None  # their differences are no temperatures
    number = _NUMBER.search(bare)
    try:
        si = read(bare, kind).si
        if kind is Kind.DURATION and number is not None and number[2] is None:
            return Printed(sign * si, 1.0 if bare.endswith(" s") else 60.0)
        tape = _TAPE.search(bare)
        if tape:
            parts = 100 if "." in bare else int(tape[1] or 8) if about else max(_TOLD_EXACT, int(tape[1] or 1))
            return Printed(sign * si, _INCH / parts)
        if number is None or bare.count("/") > bare.partition(" ")[2].count("/"):
            return Printed(sign * si, 0.0)  # a fraction is exact
        last = 10.0 ** -len(number[2] or "")
        if kind in _WEIGHTS and not number[2]:
            last = 10.0 ** max(0, len(number[1]) - _FIGURES)
        one = read(f"{last:.{len(number[2] or '')}f}{bare[number.end() :]}", kind).si
    except QuantityError:
        return None
    return Printed(sign * si, one)
