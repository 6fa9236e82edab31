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
from functools import partial

from slabwright.source.clean import LONGEST, clean
from slabwright.units.amount import (
    Amount,
    Kind,
    QuantityError,
    System,
    has_comma,
    height_unit,
    in_both,
    is_alone,
)
from slabwright.units.grammar import measured
from slabwright.units.one_number import (
    ABOUT,
    ALIKE_KINDS,
    MOST,
    Draw,
    Shown,
    drawn,
    in_full,
    said_by_crews,
    same_number,
    trade_slope,
)

_MOST_DIGITS = 12
_OTHER: dict[System, System] = {"us": "metric", "metric": "us"}
_NUMBER = r"(?<![\w.,])(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+)(?![.,]?\w)"
_GLUE = "\u00a0"


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
    return re.sub(_NUMBER, lambda found: found[0].replace(",", _GLUE).replace(".", ","), text)


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
    if first.kind is not second.kind or same_number(first.si, second.si, first.kind):
        return show(first, system, both), show(second, system, both)
    rising = first.si < second.si
    told = list(zip(_parts(first, system, both), _parts(second, system, both), strict=False))
    pairs = [_told_apart(one, other, rising) for one, other in told]
    if first.kind is Kind.SLOPE and len(told) > 1 and not _differ(told[1][0](0), told[1][1](0), rising):
        del pairs[1]  # per cent tell them apart, and inches in a foot cannot
    return _bracketed([one for one, _ in pairs], system), _bracketed([other for _, other in pairs], system)


def _bracketed(parts: list[Shown], system: System) -> str:
    return numerals(" ".join([parts[0].text, *(f"({part.text})" for part in parts[1:])]), system)


def _told_apart(one: Draw, other: Draw, rising: bool) -> tuple[Shown, Shown]:
    """Two different numbers as coarse as tells them apart; inches closer than that in words."""
    for digits in range(_MOST_DIGITS):
        first, second = one(digits), other(digits)
        if _differ(first, second, rising):
            return first, second
    near, far = first.text.removeprefix(ABOUT), second.text.removeprefix(ABOUT)
    if first.text.startswith(ABOUT):
        return Shown(f"a hair {'under' if rising else 'over'} {far}", first.si), second
    if second.text.startswith(ABOUT):
        return first, Shown(f"a hair {'over' if rising else 'under'} {near}", second.si)
    return first, second


def _differ(one: Shown, two: Shown, rising: bool) -> bool:
    """Whether two texts say two numbers, in the right order."""
    return not math.isclose(one.si, two.si, rel_tol=1e-8, abs_tol=1e-12) and (one.si < two.si) == rising


def _parts(amount: Amount, system: System, both: bool | None) -> list[Draw]:
    """What is printed: the first text and, where there is one, what stands in brackets behind it."""
    beside = in_both(system) if both is None else both and not is_alone(system)
    typed_in = _typed_system(amount.typed, amount.kind) if amount.typed else None
    own = partial(drawn, amount.si, amount.kind, system, height_unit(system))
    if amount.typed and _stays(amount, typed_in, system, beside):
        typed = Shown(clean(amount.typed), amount.si)
        parts: list[Draw] = [lambda digits: typed]
        if amount.kind is Kind.SLOPE and "%" not in amount.typed:
            return [*parts, own] if both is not False else parts
    else:
        parts, typed_in = [own], None
    if amount.kind is Kind.SLOPE and both is not False and abs(amount.si) < MOST and said_by_crews(amount.si, system):
        parts.append(partial(trade_slope, amount.si, system))
    elif beside and amount.kind not in ALIKE_KINDS and abs(amount.si) < MOST:
        other = _OTHER[typed_in or system]
        parts.append(partial(drawn, amount.si, amount.kind, other, height_unit(other)))
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


def written_out(amount: Amount, system: System) -> str:
    """The amount as it is written into a file: read back it is the same number, or one as near as it is worked.

    Not rounded to what a tape shows or a person says: off a sixteenth, inches get decimals.

    >>> written_out(Amount(0.0488, Kind.DEPTH), "us"), written_out(Amount(5400.0, Kind.DURATION), "us")
    ('1.92 in', '1.5 h')
    """
    return in_full(amount.si, amount.kind, system)
