"""The rule `curing`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import limits_broken, only, weights
from design_text import pad, review_by
from judged import asked_at, ended, finding, judged
from slabs.pour import GALLON
from slabwright.rulebook.conclusion import Finding


def compound(quantity: str, finish: str = "float", unit: str = "ft", more: str = "") -> str:
    """800 ft2, or 80 m2."""
    sides = "[[0, 0], [40, 0], [40, 20], [0, 20]]" if unit == "ft" else "[[0, 0], [10, 0], [10, 8], [0, 8]]"
    said = f"method: compound, quantity: {quantity}{more}"
    return pad(f"pour: {{finish: {finish}, curing: {{{said}}}}}", outline=sides, unit=unit)


@pytest.mark.parametrize(
    ("curing", "finish", "found"),
    [
        # UFGS 03311, read: moist cure 7 days; compound at most 200 ft2/gal
        ("method: wet cover, days: 7 days", "broom", []),
        ("method: wet cover, days: 6 days", "broom", [("note", "usual_wet_at_least")]),
        ("method: sheeting, days: 3 days", "broom", [("note", "usual_wet_at_least")]),
        ("method: sheeting, days: 2 days", "broom", [("caution", "wet_at_least")]),
        ("method: compound, rate: 200 ft2/gal", "broom", []),
        ("method: compound, rate: 201 ft2/gal", "broom", [("caution", "coverage_at_most")]),
        # makers print 200 to 300 ft2/gal for a troweled floor (common practice)
        ("method: compound, rate: 300 ft2/gal", "trowel", []),
        ("method: compound, rate: 301 ft2/gal", "trowel", [("caution", "troweled_coverage_at_most")]),
        # 800 ft2: 4 gal, 4.6 where it is broomed (common practice: 1.15), give or take a twentieth
        ("method: compound, quantity: 4 gal", "float", []),
        ("method: compound, quantity: 3.7 gal", "float", [("caution", "bought_at_least")]),
        ("method: compound, quantity: 4.6 gal", "broom", []),
        ("method: compound, quantity: 4.3 gal", "broom", [("caution", "bought_at_least")]),
        ("method: compound, rate: 100 ft2/gal, quantity: 8 gal", "float", []),
        ("method: compound, rate: 100 ft2/gal, quantity: 7.5 gal", "float", [("caution", "bought_at_least")]),
    ],
)
def test_curing(curing: str, finish: str, found: list[tuple[str, str]]) -> None:
    text = f"pour: {{finish: {finish}, curing: {{{curing}}}}}"

    assert weights(review_by("curing", pad(text, outline="[[0, 0], [40, 0], [40, 20], [0, 20]]"))) == found


@pytest.mark.parametrize(("side", "quantity", "found"), [("30", "5 gal", []), ("33", "5 gal", ["bought_at_least"])])
def test_curing_is_bought_in_whole_pails(side: str, quantity: str, found: list[str]) -> None:
    """900 ft2 broomed take 5.2 gal, and a pail holds 5; 1089 ft2 take 6.3 (common practice)."""
    text = pad(f"pour: {{finish: broom, curing: {{method: compound, quantity: {quantity}}}}}", side=side)
    assert limits_broken(review_by("curing", text)) == found


def test_curing_buys_whole_gallons() -> None:
    text = pad("pour: {finish: broom, curing: {method: compound, quantity: 1 gal}}", side="20")
    comment = only(review_by("curing", text))

    assert comment.working[0].result.si == pytest.approx(2 * 1.15 * GALLON)
    assert comment.to_pass.values["write"].si == pytest.approx(3 * GALLON)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("pour", "asked"),
    [
        ("finish: broom", "pour.curing"),
        ("curing: {method: compound}", "pour.curing.rate"),
        ("curing: {method: wet cover}", "pour.curing.days"),
    ],
)
def test_curing_asks_for_what_it_lacks(pour: str, asked: str) -> None:
    assert review_by("curing", pad(f"pour: {{{pour}}}")).not_shown[0].add[0].split(":")[0] == asked
    assert review_by("curing", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("finish", "need", "buy"),
    [
        ("float", 4.0, 4), ("trowel", 800 / 300, 3), ("broom", 4.6, 5), ("coarse broom", 4.6, 5), ("grooved", 4.6, 5),
    ],
)  # fmt: skip
def test_compound_by_the_finish(finish: str, need: float, buy: int) -> None:
    """UFGS 03311: 200 ft2 a gallon; 1.15 on a broomed surface, 300 ft2 on a troweled one, common practice."""
    one = finding("curing", compound("1 gal", finish))

    assert one.working[0].result.si == pytest.approx(need * GALLON)
    assert one.shown.si == pytest.approx(1 / need)
    assert one.to_pass.values["write"].si == pytest.approx(buy * GALLON)  # type: ignore[union-attr]


@pytest.mark.parametrize(("rate", "liters"), [("5 m2/L", 16), ("6 m2/L", 14), ("8 m2/L", 10)])
def test_compound_is_bought_in_whole_liters(rate: str, liters: int) -> None:
    """80 m2 at 6 m2/L take 13.3 L."""
    one = judged("curing", compound("1 L", unit="m", more=f", rate: {rate}"))[-1]

    assert isinstance(one, Finding)
    assert one.to_pass.values["write"].si == pytest.approx(liters / 1000)  # type: ignore[union-attr]


@pytest.mark.parametrize(("asked", "gallons"), [("1.5", 6), ("1", 4), ("0.5", 2)])
def test_a_part_more_is_bought_where_that_is_asked(asked: str, gallons: int) -> None:
    one = finding("curing", compound("1 gal"), bought_at_least=asked)

    assert one.to_pass.values["write"].si == pytest.approx(gallons * GALLON)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("method: compound, days: 3 days, rate: 200 ft2/gal", ["coverage_at_most"]),
        ("method: wet cover, days: 7 days, rate: 400 ft2/gal, quantity: 1 gal", ["usual_wet_at_least"]),
        ("method: compound, rate: 200 ft2/gal, quantity: 9 gal", ["coverage_at_most", "bought_at_least"]),
    ],
)
def test_each_way_of_curing_by_its_own_numbers(said: str, names: list[str]) -> None:
    text = pad(f"pour: {{curing: {{{said}}}}}")

    assert [one.limit.name for one in judged("curing", text)] == names
    assert review_by("curing", text).comments == ()


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("method: compound, rate: 200 ft2/gal", ""),
        ("method: compound, quantity: 9 gal", ""),
        ("method: compound, days: 7 days", "pour.curing.rate"),
        ("method: wet cover, days: 7 days", ""),
        ("method: wet cover, rate: 200 ft2/gal", "pour.curing.days"),
    ],
)
def test_each_way_of_curing_asks_for_its_own_numbers(said: str, asked: str) -> None:
    text = pad(f"pour: {{curing: {{{said}}}}}")

    assert (asked_at("curing", text)[0] == [asked]) if asked else (ended("curing", text) is None)


@pytest.mark.parametrize(("rate", "found"), [("7.5 m2/L", []), ("8 m2/L", ["troweled_coverage_at_most"])])
def test_compound_goes_further_on_a_troweled_metric_floor(rate: str, found: list[str]) -> None:
    """300 ft2/gal is 7.36 m2/L."""
    text = pad(f"pour: {{finish: trowel, curing: {{method: compound, rate: {rate}}}}}", unit="m", side="3")

    assert [one.limit.name for one in review_by("curing", text).comments] == found


@pytest.mark.parametrize(("most", "write"), [(5000.0, 5.0), (4907.0, 5.0), (5001.0, 5.5)])
def test_a_metric_rate_is_told_in_half_square_meters(most: float, write: float) -> None:
    text = pad("pour: {curing: {method: compound, rate: 9 m2/L}}", unit="m", side="3")

    assert finding("curing", text, coverage_at_most=most).asked.si == pytest.approx(write * 1000)  # type: ignore[union-attr]


@pytest.mark.parametrize(("liters", "enough"), [(17.5, True), (17.4, False)])
def test_a_metric_job_may_buy_its_compound_in_drums(liters: float, enough: bool) -> None:
    """80 m2 at 5 m2/L and 15 % more where it is broomed: 18.4 L, of which a twentieth is let go (common practice)."""
    (said,) = judged("curing", compound(f"{liters} L", "broom", "m", ", rate: 5 m2/L")[:])[1:]

    assert isinstance(said, Finding) is not enough
