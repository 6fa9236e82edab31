"""Small phrases of the design file, each a value: what a fixed height asks, form boards, dates, times, prices."""

import re
from collections.abc import Callable
from datetime import date, time
from functools import partial
from typing import NamedTuple

from slabwright.formulas.mix import FROST_OF_CANADIAN
from slabwright.source.alike import most_like
from slabwright.source.clean import plain_characters
from slabwright.source.place import NOWHERE, Place
from slabwright.units import quantity
from slabwright.units.amount import Amount, Kind, QuantityError
from slabwright.units.mistyped import with_points
from slabwright.units.unit_table import any_unit, find_unit

_LEAST_MOST = r"(?:at )?(least|most) (.+?) (below|above)"
_BETWEEN = r"(?:between )?(.+?) (?:to|and) (.+?) (below|above)"
_EXACT = r"exactly (.+?) (below|above)"
_MOST_AS_SAID = r"^(?:(?:not|no) more than|up to|max(?:imum)?\.?(?: of)?) "
_LEAST_AS_SAID = r"^(?:(?:not|no) less than|min(?:imum)?\.?(?: of)?) "
_HELP = "at least 1 in below, at most 2 in below, 1 in to 3 in below, level, or at least 2 in above"
_DATE = r"(\d{4})-(\d{1,2})-(\d{1,2})"
_CLOCK = r"(?i)(\d{1,2})(?:[:.](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?"
_TIMES = '"07:00", or "3:30 pm"'
_COIN = r"(?:[$€£]|eur|gbp|usd|aud|nzd|cad|chf|euro|euros)"
_PRICE = (
    rf"{_COIN}?\s*(\d{{1,3}}(?:,\d{{3}})+|\d+)?(\.\d+)?\s*{_COIN}?\s*(?:(?:per|/|a|an|for)\s*(?:1 |one )?(.+?)|each)?"
)
_PRICES = {
    Kind.VOLUME: "165 per yd3, or 210 per m3",
    Kind.MASS: "1.10 per lb, or 38 per ton",
    Kind.LENGTH: "2.50 per ft",
    Kind.AREA: "0.30 per ft2",
    Kind.COUNT: "450 each",
}


class Asked(NamedTuple):
    """What a fixed height asks of the slab: slab minus fixed height between ``low`` and ``high`` (m, up positive)."""

    typed: str
    low: float | None = None
    high: float | None = None
    place: Place = NOWHERE


class Price(NamedTuple):
    """A price as typed: ``value`` for one unit, which measures ``size`` in SI (1 for things that are counted)."""

    value: float
    size: float
    typed: str
    place: Place = NOWHERE

    def of(self, si: float) -> float:
        """What ``si`` (m3, kg, m, m2 or a count) costs."""
        return self.value * si / self.size


def asked(text: str, place: Place) -> Asked:
    """What a fixed height asks: slab minus fixed height between two bounds, up positive, meters.

    :raises QuantityError: when it is not one of the known phrases.

    >>> asked("at least 1 in below", Place("")).high == -0.0254
    True
    >>> found = asked("not more than 2 in below", Place(""))
    >>> (found.low, found.high) == (-0.0508, 0.0)
    True
    """
    typed = " ".join(text.split())
    plain = re.sub(_LEAST_AS_SAID, "at least ", re.sub(_MOST_AS_SAID, "at most ", typed.lower()))
    if plain in ("level", "flush", "same height"):
        return Asked(typed, 0.0, 0.0, place)
    if plain == "not above":
        return Asked(typed, None, 0.0, place)
    if plain == "not below":
        return Asked(typed, 0.0, None, place)
    exact = re.fullmatch(_EXACT, plain)
    if exact:
        gap = _gap(exact[1], place)
        return Asked(typed, *((gap, gap) if exact[2] == "above" else (-gap, -gap)), place)
    one = re.fullmatch(_LEAST_MOST, plain)
    if one:
        gap, above = _gap(one[2], place), one[3] == "above"
        if one[1] == "least":
            return Asked(typed, gap, None, place) if above else Asked(typed, None, -gap, place)
        return Asked(typed, 0.0, gap, place) if above else Asked(typed, -gap, 0.0, place)
    two = re.fullmatch(_BETWEEN, plain)
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
    """A difference in height, meters."""
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
    found = re.fullmatch(_DATE, text.strip())
    if found is None:
        raise QuantityError(f'"{text}" is not a date', "the year first, as in 2026-04-14", place)
    try:
        return date(int(found[1]), int(found[2]), int(found[3]))
    except ValueError:
        raise QuantityError(
            f'"{text}" is not a day of the calendar', "year-month-day, as in 2026-04-14", place
        ) from None


def clock(text: str, place: Place) -> time:
    """A time of day, by 24 hours or with am or pm; a point may stand for the colon.

    :raises QuantityError: when it is none.

    >>> clock("07:00", Place("")), clock("3:30 pm", Place("")), clock("07.00", Place(""))
    (datetime.time(7, 0), datetime.time(15, 30), datetime.time(7, 0))
    """
    typed = " ".join(text.split())
    found = re.fullmatch(_CLOCK, typed)
    if found is None or (found[2] is None and found[3] is None):
        raise QuantityError(f'"{typed}" is not a time of day', _TIMES, place)
    hour, minute = int(found[1]), int(found[2] or 0)
    half = (found[3] or "").lower()[:1]
    if half and not 1 <= hour <= 12:
        raise QuantityError(f'"{typed}" is not on the clock', _TIMES, place)
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59:
        raise QuantityError(f'"{typed}" is not on the clock', _TIMES, place)
    return time(hour, minute)


def price(text: str, place: Place, kind: Kind) -> Price:
    """A price by volume, mass, length or area, or (``Kind.COUNT``) each; a bare number is a price each.

    A sign or code of a currency may stand before the number or after it.

    :raises QuantityError: when it is no price, or is by another kind of unit.

    >>> found = price("165 per yd3", Place(""), Kind.VOLUME)
    >>> round(found.of(10 * 0.9144**3), 2)
    1650.0
    >>> price("95,50 €/m3", Place(""), Kind.VOLUME).of(8)
    764.0
    """
    typed = " ".join(with_points(plain_characters(text)).split())
    found = re.fullmatch(_PRICE, typed.lower())
    if not found or not (found[1] or found[2]):
        raise QuantityError(f'"{typed}" is not a price', _PRICES[kind], place)
    value = float((found[1] or "0").replace(",", "") + (found[2] or ""))
    if not value < 1e9:
        raise QuantityError(f'"{typed}" is more than anything here costs', _PRICES[kind], place)
    unit = (found[3] or "").strip()
    if kind is Kind.COUNT:
        if any(find_unit(unit, measured) for measured in _PRICES if unit and measured is not Kind.COUNT):
            raise QuantityError(f'"{typed}" is a price by {unit}, and this is counted', _PRICES[kind], place)
        return Price(value, 1.0, typed, place)
    known = any_unit(unit, kind) if unit else None
    if known is None:
        wrong = f'"{typed}" is not a price by {kind}' if unit else f'"{typed}" does not say what it is for'
        raise QuantityError(wrong, _PRICES[kind], place)
    return Price(value, known.factor, typed, place)


# Classes of American codes, of the Canadian standard, and of EN 206 with the moisture classes of German tickets.
AMERICAN = (*(f"{code}{number}" for code in ("F", "RF", "nonstructural F") for number in range(4)),)
CANADIAN = tuple(FROST_OF_CANADIAN)
EUROPEAN = ("X0", "XC1", "XC2", "XC3", "XC4", "XD1", "XD2", "XD3", "XS1", "XS2", "XS3", "XF1", "XF2", "XF3", "XF4",
            "XA1", "XA2", "XA3", "XM1", "XM2", "XM3", "W0", "WF", "WA", "WS")  # fmt: skip


_TOGETHER = r"(?i)\b(X[A-Z])(\d) ?[/-] ?(\d)\b"


def exposure(text: str, place: Place) -> tuple[str, ...]:
    """The exposure classes a mix is ordered by: one of an American code or the Canadian one, or some of EN 206.

    :raises QuantityError: for a class nobody knows, or classes of one code and another together.

    Two of a kind may be written together, as on British tickets: XC3/4 is XC3 and XC4.

    >>> exposure("RF3", Place("")), exposure("XC4, XF1", Place("")), exposure("XC3/4 XF1", Place(""))
    (('RF3',), ('XC4', 'XF1'), ('XC3', 'XC4', 'XF1'))
    >>> exposure("c-2", Place(""))
    ('C-2',)
    """
    typed = " ".join(text.split())
    alone = next((one for one in (*AMERICAN, *CANADIAN) if one.lower() == typed.lower()), None)
    if alone:
        return (alone,)
    apart = re.sub(_TOGETHER, r"\1\2 \1\3", typed)
    classes = tuple(dict.fromkeys(one.upper() for one in re.split(r"[\s,;/+&]+|\band\b", apart) if one))
    strange = [one for one in classes if one not in EUROPEAN]
    if strange or not classes:
        both = any(one in (*AMERICAN, *CANADIAN) for one in strange) and len(classes) > 1
        wrong = (
            f'"{typed}" names several classes, and only those of EN 206 stand together'
            if both
            else f'"exposure: {typed}" is not known here'
        )
        # what begins with another letter is against another danger: XC2 is no slip of the pen for C2
        known = [one for one in (*AMERICAN, *CANADIAN, *EUROPEAN) if strange and one[0] == strange[0][0]]
        near = most_like(strange[0], known) if known and not both else ""
        raise QuantityError(wrong, near or 'one class such as RF3 or C-2, or those of EN 206 as "XC4, XF1"', place)
    return classes


PRICE_GRAMMARS: dict[str, Callable[[str, Place], Price]] = {
    f"price {'each' if kind is Kind.COUNT else f'per {kind.value}'}": partial(price, kind=kind) for kind in _PRICES
}
