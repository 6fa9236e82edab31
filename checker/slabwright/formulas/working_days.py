"""Working days between two days: no Saturdays, Sundays or, where asked, federal holidays of the United States."""

from __future__ import annotations

from datetime import MAXYEAR, date, timedelta

DAY = timedelta(days=1)
SATURDAY, SUNDAY = 5, 6


def federal_holidays(year: int) -> frozenset[date]:
    """The federal holidays of a year, and the Friday or Monday on which one that falls on a weekend is kept.

    Source: `federal-holidays`.

    >>> date(2027, 5, 31) in federal_holidays(2027), date(2027, 7, 5) in federal_holidays(2027)  # July 4 is a Sunday
    (True, True)
    """
    fixed = [date(year, 1, 1), date(year, 6, 19), date(year, 7, 4), date(year, 11, 11), date(year, 12, 25)]
    mondays = [_monday(year, month, number) for month, number in ((1, 3), (2, 3), (5, -1), (9, 1), (10, 2))]
    thanksgiving = _monday(year, 11, 1) + 3 * DAY
    while thanksgiving.day < 22:
        thanksgiving += 7 * DAY
    days = {*fixed, *mondays, thanksgiving}
    days |= {day - DAY for day in fixed if day.weekday() == SATURDAY}
    return frozenset(days | {day + DAY for day in fixed if day.weekday() == SUNDAY})


def _monday(year: int, month: int, number: int) -> date:
    """The first, second ... Monday of a month; the last for -1."""
    first = date(year, month, 1)
    mondays = [first + n * DAY for n in range(31) if (first + n * DAY).month == month]
    return [day for day in mondays if day.weekday() == 0][number - 1 if number > 0 else number]


def is_working(day: date, *, holidays: bool) -> bool:
    """Whether a day is a working day.

    Source: `one-call-laws`.

    >>> is_working(date(2026, 4, 10), holidays=True), is_working(date(2026, 4, 11), holidays=True)
    (True, False)
    """
    return day.weekday() < SATURDAY and not (holidays and day in _kept(day.year, day.year))


def _kept(first: int, last: int) -> frozenset[date]:
    """Holidays kept in a span of years; the one on January 1 may be kept in the year before."""
    return frozenset().union(*(federal_holidays(year) for year in range(first, min(last + 1, MAXYEAR) + 1)))


def between(called: date, digging: date, *, holidays: bool) -> int:
    """Working days after the day of a call and before the day of digging; neither counts.

    Source: `one-call-laws`: a call on Monday counts from Tuesday, and three days later it is dug on Friday.

    >>> between(date(2026, 4, 6), date(2026, 4, 10), holidays=True)
    3
    """
    days = max((digging - called).days - 1, 0)
    first = called.weekday() + 1
    weekdays = days // 7 * 5 + sum((first + n) % 7 < SATURDAY for n in range(days % 7))
    kept = _kept(called.year, digging.year) if holidays and days else frozenset()
    return weekdays - sum(called < day < digging and day.weekday() < SATURDAY for day in kept)


def after(called: date, days: int, *, holidays: bool) -> date:
    """The first working day before which so many full working days lie, or the last day there is.

    Source: `one-call-laws`.

    >>> after(date(2026, 4, 6), 3, holidays=True).isoformat()
    '2026-04-10'
    """
    day = called
    while day < date.max and not (
        between(called, day, holidays=holidays) >= days and is_working(day, holidays=holidays)
    ):
        day += DAY
    return day
