"""The rule `last-load`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by, told_by
from slabs.order import square, yard
from slabwright.text.words import plain


def slab_of(net: int, more: str) -> str:
    """So many cubic yards at 4 in: 81 ft2 each."""
    return pad(more, outline=f"[[0, 0], [27, 0], [27, {3 * net}], [0, {3 * net}]]")


@pytest.mark.parametrize(
    ("net", "order", "says", "to_pass"),
    [
        # 12 yd3 in tens: 2 left, 3 asked; two loads of 6 cost no more concrete
        (12, "volume: 12 yd3, truck: 10 yd3", "truck 2 comes for 2.00 yd3",
         "have 2 loads alike brought, about 6.00 yd3 each"),
        (10, "volume: 12 yd3, truck: 10 yd3", "truck 2 comes for 2.00 yd3",
         "bring the need down by 2.00 yd3, to 1 full truck"),
        # 11 yd3 and 10 % on top come as 12.1
        (12, "volume: 11 yd3, truck: 10 yd3, allowance: 10 %", "truck 2 comes for 2.10 yd3",
         "have 2 loads alike brought, about 6.05 yd3 each"),
        (10, "volume: 11 yd3, truck: 10 yd3, allowance: 10 %", "truck 2 comes for 2.10 yd3",
         "bring the need down by 2.10 yd3, to 1 full truck"),
        (12, "volume: 12 yd3, truck: 10 yd3, step: 0.1 yd3, short_load: 2.75 yd3", "truck 2 comes for 2.00 yd3",
         "have 2 loads alike brought, about 6.00 yd3 each"),
        # a truck of 2 yd3 can bring no 3: it is asked to come full
        (7, "volume: 7 yd3, truck: 2 yd3", "truck 4 comes for 1.00 yd3",
         "have 4 loads alike brought, about 1.75 yd3 each"),
        (6, "volume: 4 yd3, truck: 3.1 yd3", "truck 2 comes for 0.90 yd3",
         "have 2 loads alike brought, about 2.00 yd3 each"),
        # 10 % on top: 3.7 yd3 come as 4.07
        (6, "volume: 3.7 yd3, truck: 3.1 yd3, allowance: 10 %", "truck 2 comes for 0.97 yd3",
         "have 2 loads alike brought, about 2.04 yd3 each"),
    ],
)  # fmt: skip
def test_a_last_load_is_told_what_to_order(net: int, order: str, says: str, to_pass: str) -> None:
    assert told_by("last-load", slab_of(net, f"order: {{{order}}}")) == (says, to_pass)


def test_a_last_load_in_metric() -> None:
    """8.13 m3 in sixes: 2.13 left, 2.29 (3 yd3) asked; half of it is 4.07."""
    text = square("order: {volume: 8.13 m3, truck: 6 m3}", "9", "m", "100 mm")

    assert told_by("last-load", text, "metric") == (
        "truck 2 comes for 2.13 m3", "have 2 loads alike brought, about 4.07 m3 each"
    )  # fmt: skip


def test_a_last_load_is_worked_from_the_full_trucks_before_it() -> None:
    (work,) = only(review_by("last-load", slab_of(24, "order: {volume: 22 yd3, truck: 10 yd3}"))).working
    assert plain(work.numbers, "us", both=False) == "22.00 yd3 - 2 x 10 yd3"


def test_two_trucks_are_judged_and_one_is_not() -> None:
    assert review_by("last-load", yard("order: {volume: 10 yd3, truck: 5 yd3}")).met
    assert review_by("last-load", yard("order: {volume: 5 yd3, truck: 5 yd3}")).does_not_apply


@pytest.mark.parametrize(
    ("order", "found"),
    [
        # suppliers charge more below 3 to 10 yd3: practice
        ("volume: 13 yd3, truck: 10 yd3", []),
        ("volume: 12.9 yd3, truck: 10 yd3", [("note", "last_load_at_least")]),
        ("volume: 12.9 yd3, truck: 10 yd3, short_load: 2 yd3", []),
        ("volume: 13 yd3, truck: 10 yd3, short_load: 4 yd3", [("note", "last_load_at_least")]),
        ("volume: 20 yd3, truck: 10 yd3", []),  # both are full
        # 10 % on top of 11.8 yd3 comes to 12.98
        ("volume: 11.8 yd3, truck: 10 yd3, allowance: 10 %", [("note", "last_load_at_least")]),
        ("volume: 11.9 yd3, truck: 10 yd3, allowance: 10 %", []),
        ("volume: 12.9 yd3, truck: 10 yd3, allowance: 10 %, allowance_inside: true", [("note", "last_load_at_least")]),
    ],
)
def test_last_load(order: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("last-load", yard(f"order: {{{order}}}"))) == found


@pytest.mark.parametrize("order", ["volume: 9 yd3, truck: 10 yd3", "volume: 9 yd3", "truck: 10 yd3"])
def test_last_load_of_one_truck_or_of_none(order: str) -> None:
    assert review_by("last-load", yard(f"order: {{{order}}}")).does_not_apply
    assert review_by("last-load", yard("")).does_not_apply
