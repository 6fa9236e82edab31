"""Small phrases of the design file: what a fixed height asks of the slab, form boards, dates."""

from __future__ import annotations

import re
from datetime import date

from slabwright.design.model import Asked
from slabwright.source.place import Place
from slabwright.units import quantity
from slabwright.units.amount import Amount, Kind, QuantityError

_LEAST_MOST = re.compile(r"(?:at )?(least|most) (.+?) (below|above)")
_BETWEEN = re.compile(r"(?:between )?(.+?) (?:to|and) (.+?) (below|above)")
_EXACT = re.compile(r"exactly (.+?) (below|above)")
_HELP = "at least 1 in below, at most 2 in below, 1 in to 3 in below, level, or at least 2 in above"
_DATE = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")


def asked(text: str, place: Place) -> Asked:
    """What a fixed height asks: slab minus fixed height between two bounds, up positive, metres.

    :raises QuantityError: when it is not one of the known phrases.

    >>> asked("at least 1 in below", Place("")).high == -0.0254
    True
    >>> found = asked("at most 2 in below", Place(""))
    >>> (found.low, found.high) == (-0.0508, 0.0)
    True
    """
    typed = " ".join(text.split())
    plain = typed.lower()
    if plain in ("level", "flush", "same height"):
        return Asked(typed, 0.0, 0.0, place)
    if plain == "not above":
        return Asked(typed, None, 0.0, place)
    if plain == "not below":
        return Asked(typed, 0.0, None, place)
    exact = _EXACT.fullmatch(plain)
    if exact:
        gap = _gap(exact[1], place)
        return Asked(typed, *((gap, gap) if exact[2] == "above" else (-gap, -gap)), place)
    one = _LEAST_MOST.fullmatch(plain)
    if one:
        gap, above = _gap(one[2], place), one[3] == "above"
        if one[1] == "least":
            return Asked(typed, gap, None, place) if above else Asked(typed, None, -gap, place)
        return Asked(typed, 0.0, gap, place) if above else Asked(typed, -gap, 0.0, place)
    two = _BETWEEN.fullmatch(plain)
    if two:
        unit = re.sub(r"^[\d\s./]+", "", two[2])
        first = two[1] if re.search(r"[a-z'\"]", two[1]) else f"{two[1]} {unit}"
        small, large = sorted((_gap(first, place), _gap(two[2], place)))
        return Asked(typed, small, large, place) if two[3] == "above" else Asked(typed, -large, -small, place)
    wrong = f'"{typed}" does not say what is asked of the slab'
    if re.fullmatch(r".+ (?:below|above)", plain) and not plain.startswith("at "):
        wrong = f'"{typed}" does not say at least, at most or exactly'
    raise QuantityError(wrong, _HELP, place)


def _gap(text: str, place: Place) -> float:
    """A difference in height, metres."""
    return quantity.read(text, Kind.DEPTH, place).si


def board(text: str, place: Place) -> tuple[Amount, str]:
    """Real depth and trade name of a form board; the name is empty when a depth is typed.

    :raises QuantityError: for a board nobody sells.

    >>> board("2x6", Place(""))[1]
    '2x6'
    """
    name, depth = quantity.board_depth(text, place)
    return Amount(depth, Kind.DEPTH, " ".join(text.split()), place), name


def day(text: str, place: Place) -> date:
    """A date, year first.

    :raises QuantityError: for anything else.

    >>> day("2026-04-14", Place(""))
    datetime.date(2026, 4, 14)
    """
    found = _DATE.fullmatch(text.strip())
    if found is None:
        raise QuantityError(f'"{text}" is not a date', "the year first, as in 2026-04-14", place)
    try:
        return date(int(found[1]), int(found[2]), int(found[3]))
    except ValueError:
        raise QuantityError(
            f'"{text}" is not a day of the calendar', "year-month-day, as in 2026-04-14", place
        ) from None
