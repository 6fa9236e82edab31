"""Working days against numpy's business days, and the holidays of a year against the published list."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from slabwright.formulas.working_days import after, between, federal_holidays

# Federal holidays of 2026 as the Office of Personnel Management lists them; July 4 is a Saturday, kept on Friday
# (recalled, not checked).
KEPT_2026 = (
    "2026-01-01", "2026-01-19", "2026-02-16", "2026-05-25", "2026-06-19", "2026-07-03", "2026-09-07", "2026-10-12",
    "2026-11-11", "2026-11-26", "2026-12-25",
)  # fmt: skip


def test_the_holidays_of_a_year() -> None:
    weekdays = {day.isoformat() for day in federal_holidays(2026) if day.weekday() < 5}
    assert weekdays == set(KEPT_2026)


@pytest.mark.parametrize("holidays", [True, False])
def test_working_days_agree_with_numpy(holidays: bool) -> None:
    """numpy.busday_count, from the day after the call to the day of digging."""
    kept = list(KEPT_2026) if holidays else []
    for n in range(0, 300, 7):
        called = date(2026, 1, 2) + timedelta(days=n % 60)
        digging = called + timedelta(days=n)
        expected = int(
            np.busday_count(called + timedelta(days=1), max(digging, called + timedelta(days=1)), holidays=kept)
        )
        assert between(called, digging, holidays=holidays) == expected


def test_new_year_on_a_saturday_is_kept_the_year_before() -> None:
    """January 1, 2028, is a Saturday."""
    assert between(date(2027, 12, 30), date(2028, 1, 3), holidays=True) == 0
    assert between(date(2027, 12, 30), date(2028, 1, 3), holidays=False) == 1


def test_the_first_day_to_dig_has_the_days_before_it() -> None:
    for n in range(40):
        called = date(2026, 6, 20) + timedelta(days=n)
        first = after(called, 3, holidays=True)
        assert between(called, first, holidays=True) == 3
        assert first.isoformat() not in KEPT_2026 and first.weekday() < 5


def test_days_at_the_end_of_the_calendar_end_too() -> None:
    assert after(date(9999, 12, 31), 3, holidays=True) == date(9999, 12, 31)
    assert between(date(1, 1, 1), date(9999, 12, 31), holidays=False) == np.busday_count("0001-01-02", "9999-12-31")
