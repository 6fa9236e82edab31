"""The rule `fresh-backfill`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabs.base import HOUSE


def beside(filled: str, more: str = "", pour: str = "2026-06-16") -> str:
    job = f"job: {{name: Test pad{f', pour: {pour}' if pour else ''}}}\n"
    edge = f"edges: [{{run: [A, B], beside: building, name: house{filled}{more}}}, {{rest: lawn}}]"
    return pad(job + HOUSE + edge, outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("day", "found"),
    [
        # two years, 730 days, before the pour on 2026-06-16: common practice
        ("2024-06-16", []),
        ("2024-06-17", [("caution", "age_at_least")]),
        ("2026-06-15", [("caution", "age_at_least")]),
        ("2026-07-01", [("caution", "age_at_least")]),  # it is still to be filled
    ],
)
def test_fresh_backfill_settles_for_two_years(day: str, found: list[tuple[str, str]]) -> None:
    report = review_by("fresh-backfill", beside(f", backfilled: {day}"))
    assert weights(report) == found
    days = {"2024-06-17": 729, "2026-06-15": 1, "2026-07-01": 0}
    assert [one.shown.si for one in report.comments] == [days[day] * 86400.0 for _ in found]


def test_fresh_backfill_that_was_compacted_holds_and_a_day_of_the_pour_is_asked_for() -> None:
    fresh = ", backfilled: 2026-03-02"

    assert review_by("fresh-backfill", beside(fresh, ", backfill_compacted: true")).does_not_apply
    assert review_by("fresh-backfill", beside("")).does_not_apply
    assert review_by("fresh-backfill", beside(fresh, pour="")).not_shown[0].add[0].startswith("job.pour:")
