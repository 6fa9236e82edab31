"""The rule `loads-end-at-joint`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, slot_shown, weights
from design_text import pad, review_by
from judged import findings, margins
from slabs.joints import BULKHEAD, LONG, box, joints, terrace
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("apart", "expected"),
    [
        ("60 min", []),  # 30 min of nothing: more of a stop makes a construction joint, Beall p. 31 (read)
        ("61 min", [("note", "usual_gap_at_most")]),
        ("90 min", [("note", "usual_gap_at_most")]),  # over 60 min a cold joint: common practice
        ("91 min", [("caution", "gap_at_most")]),
        ("10 min", []),
    ],
)
def test_the_gap_between_two_loads(apart: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("loads-end-at-joint", terrace(apart))) == expected


def test_an_interval_that_joins_the_loads_is_told() -> None:
    said = plain(only(review_by("loads-end-at-joint", terrace("95 min"))).to_pass, "us", both=False)
    # 6 of 11 yd3 are a part of 9.877 yd3 of slab: 5.387 yd3
    assert said == "have trucks come 1 h apart; or plan construction joints with 5.39 yd3 of slab between them"


@pytest.mark.parametrize(
    ("joints", "met"),
    [
        (BULKHEAD, True),  # two halves of 4.94 yd3, each within a load
        (BULKHEAD.replace("construction joint", "formed strip"), True),
        (BULKHEAD.replace("construction joint", "formed strip").replace("depth: 4 in", "depth: 1 in"), False),
        (BULKHEAD.replace("construction joint", "saw cut").replace("depth: 4 in", "depth: 1 in"), False),
        (
            BULKHEAD.replace("construction joint, ", "saw cut, isolation: {material: foam, depth: full}, "),
            True,
        ),
        (BULKHEAD.replace("20, 0", "10, 0").replace("20, 20", "10, 20"), False),  # three quarters are over a load
        (BULKHEAD.replace("to: [20, 20]", "to: [20, 10]"), False),  # parts nothing
    ],
)
def test_a_joint_at_which_a_load_can_end_takes_the_gap_away(joints: str, met: bool) -> None:
    assert bool(review_by("loads-end-at-joint", terrace("95 min", joints)).met) is met


def test_loads_that_nobody_spaces_are_not_judged() -> None:
    assert review_by("loads-end-at-joint", terrace("")).does_not_apply
    assert review_by("loads-end-at-joint", pad("")).does_not_apply
    one = review_by("loads-end-at-joint", terrace("95 min", volume="5 yd3"))
    assert one.does_not_apply[0].reason == "it comes in one load"
    (entry,) = review_by("loads-end-at-joint", pad("pour: {trucks_apart: 40 min}")).not_shown
    assert [add.split(":")[0] for add in entry.add] == ["pour.rate", "order.truck", "order.volume"]
    half = pad("pour: {trucks_apart: 40 min}\norder: {volume: 11 yd3, truck: 6 yd3}", outline=LONG)
    assert [add.split(":")[0] for add in review_by("loads-end-at-joint", half).not_shown[0].add] == ["pour.rate"]


@pytest.mark.parametrize(
    ("apart", "stop", "shown"),
    [
        ("10 min", "", 0),  # the next truck stands there before the first load is placed
        ("95 min", joints("{kind: construction joint, from: [20, 0], to: [20, 20], depth: 4 in}"), 0),
        ("60 min", "", 1800),  # 6 yd3 at 12 yd3/h: half an hour
    ],
)
def test_loads_end_at_joint_the_time_in_which_nothing_comes(apart: str, stop: str, shown: float) -> None:
    pour = f"pour: {{rate: 12 yd3/h, trucks_apart: {apart}}}\norder: {{volume: 11 yd3, truck: 6 yd3}}\n"
    (margin,) = margins("loads-end-at-joint", pad(stop + pour, outline=box(40, 20)))

    assert margin.shown.si == pytest.approx(shown)


def test_loads_end_at_joint_a_load_of_what_comes_over_and_above_fills_so_much_less() -> None:
    # 8 of 11 + 10 % = 12.1 yd3; 9.877 yd3 of slab x 8 / 12.1 = 6.53 yd3
    pour = "pour: {rate: 16 yd3/h, trucks_apart: 95 min}\norder: {volume: 11 yd3, truck: 8 yd3, allowance: 10 %}\n"
    (finding,) = findings("loads-end-at-joint", pad(pour, outline=box(40, 20)))

    assert slot_shown(finding, "fills") == "6.53 yd3"
