"""Rules about fresh backfill, old concrete under the slab and wires overhead: every branch and every limit."""

from __future__ import annotations

import pytest
from design_text import pad, review_by, weights
from slabwright.text.words import plain

HOUSE = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"


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
    assert weights(review_by("fresh-backfill", beside(f", backfilled: {day}"))) == found


def test_fresh_backfill_that_was_compacted_holds_and_a_day_of_the_pour_is_asked_for() -> None:
    fresh = ", backfilled: 2026-03-02"

    assert review_by("fresh-backfill", beside(fresh, ", backfill_compacted: true")).does_not_apply
    assert review_by("fresh-backfill", beside("")).does_not_apply
    assert review_by("fresh-backfill", beside(fresh, pour="")).not_shown[0].add[0].startswith("job.pour:")


@pytest.mark.parametrize(
    ("base", "found"),
    [
        ("old_paving: concrete, separated: true", []),
        ("old_paving: concrete, separated: false", [("caution", "stuck_slabs_at_most")]),
    ],
)
def test_over_old_paving_wants_film_between(base: str, found: list[tuple[str, str]]) -> None:
    """Common practice."""
    assert weights(review_by("over-old-paving", pad(f"site: {{base: {{{base}}}}}"))) == found


def test_over_old_paving_asks_what_lies_between_and_takes_asphalt_for_a_base() -> None:
    def ended(base: str) -> str:
        report = review_by("over-old-paving", pad(f"site: {{base: {{{base}}}}}"))
        return "".join((*(one.add[0] for one in report.not_shown), *(one.reason for one in report.does_not_apply)))

    assert ended("old_paving: concrete").startswith("site.base.separated:")
    assert "asphalt" in ended("old_paving: asphalt")
    assert "no old paving" in ended("thickness: 4 in")


def wire(y: float, height: str = "", more: str = "", path: str = "[[4, 60], [4, 12]]") -> str:
    hangs = f", height: {height}" if height else ""
    way = f"truck_path: {path}, " if path else ""
    return pad(f"site: {{{way}wires: [{{name: drop, along: [[-20, {y}], [30, {y}]]{hangs}}}]}}\n{more}")


@pytest.mark.parametrize(("height", "found"), [("14 ft", []), ("13.9 ft", [("caution", "over_truck_at_least")])])
def test_a_wire_over_the_truck(height: str, found: list[tuple[str, str]]) -> None:
    """A mixer stands some 14 ft tall: common practice."""
    assert weights(review_by("overhead-wires", wire(30, height))) == found


@pytest.mark.parametrize(
    ("y", "order", "found"),
    [
        # 20 ft from power lines: 29 CFR 1926.1408, recalled; the slab ends at 8 ft
        (28, "method: pump", []),
        (27.9, "method: pump", [("caution", "boom_clear_at_least")]),
        (4, "method: pump, hose: 4 in", [("caution", "boom_clear_at_least")]),
    ],
)
def test_a_wire_near_a_boom(y: float, order: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("overhead-wires", wire(y, "18 ft", f"order: {{{order}}}", path=""))) == found


def test_wires_that_nothing_comes_near() -> None:
    line_pump = wire(20, "18 ft", "order: {method: pump, hose: 2 1/2 in}", path="")

    assert review_by("overhead-wires", line_pump).does_not_apply  # its hose lies on the ground
    assert review_by("overhead-wires", wire(70, "18 ft")).does_not_apply
    assert review_by("overhead-wires", pad("")).does_not_apply
    assert "drop" in review_by("overhead-wires", wire(30)).not_shown[0].add[0]


def test_nobody_is_told_to_touch_a_wire() -> None:
    for comment in review_by("overhead-wires", wire(20, "12 ft", "order: {method: pump}")).comments:
        assert not comment.remedies
        assert "utility" in plain(comment.to_pass, "us")
