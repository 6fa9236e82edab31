"""The rule `room-before-truck`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import pad, review_by, told_by
from judged import judged
from slabs.order import INCH, square, yard
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("order", "says", "to_pass"),
    [
        # closed form: full trucks - stays behind - 8.395 yd3, times 324 / 680
        ("volume: 8.9 yd3, truck: 9 yd3, allowance: 8 %, allowance_inside: true",
         "about 5/16 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/4 in low; or keep truck 2 on call"),
        ("volume: 5 yd3, truck: 1 yd3, allowance: 5 %, allowance_inside: true",
         "5 trucks of 1 yd3 do not hold what the slab takes",
         "have truck 6 come, with at least the plant's least load"),
        # 10 % on top of 8 yd3 come in one truck; the allowance is for the same half inch, so it does not count
        ("volume: 8 yd3, truck: 9 yd3, allowance: 10 %", "about 5/16 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/4 in low; or keep truck 2 on call"),
        # and a quarter yard in the hopper (practice): 9 - 8.645 yd3
        ("volume: 8 yd3, truck: 9 yd3, allowance: 10 %, method: pump",
         "about 5/32 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/8 in low; or keep truck 2 on call"),
        # 100 ft of 4 in line hold 0.323 yd3: 8.731 + 0.573 are asked
        ("volume: 8 yd3, truck: 9 yd3, allowance: 10 %, method: pump, hose: 4 in, hose_length: 100 ft",
         "one truck of 9 yd3 does not hold what the slab takes",
         "have truck 2 come, with at least the plant's least load"),
        # a hose without its length holds nothing that is known
        ("volume: 8.9 yd3, truck: 9 yd3, hose: 4 in", "about 5/16 in deeper than drawn, and truck 2 is needed",
         "shoot the base, and let its average lie no more than 1/4 in low; or keep truck 2 on call"),
    ],
)  # fmt: skip
def test_room_before_truck_a_full_truck_is_told_what_to_plan_for(order: str, says: str, to_pass: str) -> None:
    assert told_by("room-before-truck", yard(f"order: {{{order}}}")) == (says, to_pass)


@pytest.mark.parametrize(
    ("order", "ordered"), [
        ("truck: 1 yd3, allowance: 5 %, allowance_inside: true", 9.25), ("truck: 9 yd3, allowance: 10 %", 8.5)
    ],
)  # fmt: skip
def test_the_trucks_that_are_planned_for_have_the_room(order: str, ordered: float) -> None:
    assert review_by("room-before-truck", yard(f"order: {{volume: {ordered} yd3, {order}}}")).met


def test_room_before_truck_that_is_just_filled_has_nothing_to_spare_in_metric() -> None:
    """100 m2 at 100 mm are 10 m3, all that a truck of 10 m3 holds."""
    order = "order: {volume: 10 m3, truck: 10 m3, allowance: 0 %}"

    assert told_by("room-before-truck", square(order, "10", "m", "100 mm"), "metric") == (
        "one truck of 10 m3 does not hold what the slab takes",
        "have truck 2 come, with at least the plant's least load",
    )


@pytest.mark.parametrize(("inches", "found"), [(0.499, [("note", "room_at_least")]), (0.501, [])])
def test_room_before_truck_half_an_inch_is_asked(inches: float, found: list[tuple[str, str]]) -> None:
    """Common practice. A truck that holds 680 ft2 of 4 in and so much more."""
    truck = 680 * (4 + inches) / 324
    order = f"order: {{volume: 9.25 yd3, truck: {truck:.6f} yd3, allowance: 8 %, allowance_inside: true}}"

    assert weights(review_by("room-before-truck", yard(order))) == found


def test_room_before_truck_of_the_trade_example() -> None:
    """680 ft2 of 4 in are 8.40 yd3; a truck of 9 yd3 leaves 0.29 in (arithmetic, 324 x (9 - 8.395)/680)."""
    order = "order: {volume: 8.75 yd3, truck: 9 yd3, allowance: 5 %, allowance_inside: true}"
    comment = only(review_by("room-before-truck", yard(order)))

    assert (comment.weight, comment.limit.name) == ("note", "room_at_least")
    assert comment.shown.si / INCH == pytest.approx(324 * (9 - 680 * 4 / 324) / 680, rel=1e-9)
    assert comment.shown.si / INCH == pytest.approx(0.29, abs=0.005)


@pytest.mark.parametrize(
    ("order", "holds"),
    [
        # closed form: full trucks - stays behind - net, over the area
        ("volume: 9.25 yd3, truck: 11 yd3, allowance: 8 %, allowance_inside: true", 11),
        ("volume: 9.25 yd3, truck: 10 yd3", 10),
        ("volume: 9.25 yd3, truck: 10 yd3, allowance: 9 %", 20),  # 9 % on top come to 10.08: two trucks
        # a quarter yard in the hopper (pump trade text, practice); 100 ft of 4 in line hold 0.323 yd3
        ("volume: 9.25 yd3, truck: 10 yd3, allowance: 8 %, allowance_inside: true, method: pump", 9.75),
        (
            "volume: 9.5 yd3, truck: 10 yd3, allowance: 5 %, allowance_inside: true, method: pump, hose: 4 in, "
            "hose_length: 100 ft, left_in_hopper: 0.1 yd3",
            9.9 - math.pi / 4 * (4 / 36) ** 2 * 100 / 3,
        ),
    ],
)
def test_room_before_truck_by_what_stays_behind(order: str, holds: float) -> None:
    hold, room = judged("room-before-truck", yard(f"order: {{{order}}}"))

    assert (hold.limit.name, room.limit.name) == ("trucks_hold_at_least", "room_at_least")
    assert room.shown.si / INCH == pytest.approx(324 * (holds - 680 * 4 / 324) / 680, rel=1e-6)


def test_room_before_truck_says_when_the_trucks_are_too_few() -> None:
    order = "order: {volume: 5 yd3, truck: 5 yd3, allowance: 5 %, allowance_inside: true}"
    comment = only(review_by("room-before-truck", yard(order)))

    assert plain(comment.says, "us", both=False) == "one truck of 5 yd3 does not hold what the slab takes"


def test_room_before_truck_needs_volume_truck_and_a_slab() -> None:
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    over = "heights: {finish: {A: 1, B: 1, C: 1, D: 1}, base: {A: 2, B: 2, C: 2, D: 2}}\n"
    upside_down = pad(points + over + "order: {volume: 1 yd3, truck: 5 yd3}", outline="[A, B, C, D]")

    assert review_by("room-before-truck", yard("order: {volume: 9 yd3}")).does_not_apply
    assert review_by("room-before-truck", yard("")).does_not_apply
    assert review_by("room-before-truck", upside_down).does_not_apply
