"""The rule `first-winter`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from comments import weights
from design_text import pad, review_by
from judged import finding
from slabwright.text.words import plain

WINTER = """
job: {{name: Test walk, pour: {poured}}}
site: {{freezing: {freezing}, deicing_salt: true}}
pour: {{{curing}weather: {{first_frost: 2026-11-10}}}}
"""


def winter(day: str, site: str = "freezing: severe, deicing_salt: true", curing: str = "") -> str:
    poured = f"job: {{name: Walk, pour: {day}}}\npour: {{{curing}weather: {{first_frost: 2026-11-10}}}}"
    return pad(f"site: {{{site}}}\n{poured}")


def walk(poured: str, curing: str = "", freezing: str = "severe") -> str:
    return pad(WINTER.format(poured=poured, curing=curing, freezing=freezing))


@pytest.mark.parametrize(("limit", "by"), [(3999, date(2026, 11, 10) - timedelta(days=3999)), (4000, None)])
def test_no_day_is_named_that_lies_many_years_back(limit: int, by: date | None) -> None:
    one = finding("first-winter", winter("2026-10-01"), dry_at_least=f"{limit} days")

    assert one.to_pass.values.get("by") == (by.isoformat() if by else None)
    assert bool(one.remedies) is bool(by)


def test_frost_on_the_day_of_the_pour_comes_too_soon_as_well() -> None:
    same, next_day = (finding("first-winter", winter(day)) for day in ("2026-11-10", "2026-11-09"))

    assert (same.shown.si, next_day.shown.si) == (0.0, 86400.0)
    assert same.says.template != next_day.says.template
    assert same.says == finding("first-winter", winter("2026-11-20")).says


def test_a_part_of_a_day_counts_as_a_whole_one() -> None:
    """28 dry days after 3 1/2 wet ones: 32 days before November 10 is October 9."""
    one = finding("first-winter", winter("2026-10-19", curing="curing: {method: wet cover, days: 3.5 days}, "))

    assert one.to_pass.values["by"] == "2026-10-09"
    assert one.shown.si == pytest.approx((22 - 3.5) * 86400)


@pytest.mark.parametrize(
    ("site", "use"),
    [
        ("deicing_salt: true", "walk"),
        ("freezing: none, deicing_salt: true", "walk"),
        ("freezing: severe, deicing_salt: true", "garage floor"),
    ],
)
def test_frost_and_the_open_make_a_first_winter_together(site: str, use: str) -> None:
    text = winter("2026-11-01", site).replace("use: patio", f"use: {use}")

    assert review_by("first-winter", text).does_not_apply


@pytest.mark.parametrize(("day", "short"), [("2026-11-03", False), ("2026-11-04", True), ("2026-11-11", True)])
def test_without_salt_a_week_before_the_first_frost_is_enough(day: str, short: bool) -> None:
    """A week is common practice; the frost comes on November 10."""
    report = review_by("first-winter", winter(day, "freezing: severe"))

    assert weights(report) == ([("caution", "young_at_least")] if short else [])
    if short:
        assert report.comments[0].to_pass.values["by"] == "2026-11-03"
        says = "the first frost comes before the pour" if day > "2026-11-10" else "frost finds it 6 days old"
        assert plain(report.comments[0].says, "us", both=False) == says


@pytest.mark.parametrize(
    ("poured", "curing", "days"),
    [
        # trade-magazine Q&A, read: about 28 dry days; November 10 less 28 days is October 13
        ("2026-10-13", "", None),
        ("2026-10-14", "", 27),
        ("2026-10-13", "curing: {method: compound}, ", None),  # nothing keeps it wet
        ("2026-10-06", "curing: {method: wet cover, days: 7 days}, ", None),
        ("2026-10-07", "curing: {method: wet cover}, ", 27),  # a week where it is not said: UFGS 03311, read
        ("2026-10-10", "curing: {method: sheeting, days: 4 days}, ", 27),
        ("2026-11-20", "", 0),
    ],
)
def test_first_winter_counts_dry_days(poured: str, curing: str, days: int | None) -> None:
    report = review_by("first-winter", walk(poured, curing))

    assert [comment.shown.si / 86400 for comment in report.comments] == ([] if days is None else [days])
    if days:
        says = plain(report.comments[0].says, "us", both=False)
        assert says == f"it has {days} days to dry before salt and frost find it"
    if days is not None:
        assert review_by("first-winter", walk(str(report.comments[0].to_pass.values["by"]), curing)).met


def test_first_winter_asks_for_both_days_and_spares_the_rest() -> None:
    site = "site: {freezing: severe, deicing_salt: true}"

    assert [one.split(":")[0] for one in review_by("first-winter", pad(site)).not_shown[0].add] == [
        "job.pour", "pour.weather.first_frost",
    ]  # fmt: skip
    assert review_by("first-winter", walk("2026-11-01", freezing="none")).does_not_apply
    assert review_by("first-winter", pad(site, use="garage floor")).does_not_apply
    assert review_by("first-winter", pad("")).does_not_apply


def test_a_class_that_is_not_that_of_the_site_is_told_though_a_number_lacks() -> None:
    """XF1 on a flat slab that freezes wet, ordered by classes alone, as a ticket reads: C25/30 XC4 XF1."""
    site = 'site: {freezing: severe}\nmix: {strength: C25/30, exposure: "XC4, XF1"}'
    (frost,) = review_by("frost-class", pad(site, unit="m")).comments
    assert frost.limit.name == "wet_class_at_least"
    (steel,) = review_by("corrosion-class", pad(site, unit="m")).comments
    assert (steel.limit.name, steel.weight) == ("xc4_strength_at_least", "note")
    (lacking,) = review_by("corrosion-class", pad(site.replace("C25/30", "C30/37"), unit="m")).not_shown
    assert lacking.add[0].startswith("mix.water_cement")
