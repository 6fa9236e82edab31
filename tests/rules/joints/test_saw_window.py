"""The rule `saw-window`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, advice, only, reason, weights
from design_text import pad, review_by
from slabs.joints import box, cut_at, jointed_slab, joints, timed_cut
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (1, "joint J1"),
        (2, "joints J1, J2"),
        (4, "joints J1, J2, J3, J4"),
        (5, "joints J1, J2, J3, J4 and 1 more"),
    ],
)
def test_saw_window_four_cuts_that_wait_alike_are_named(number: int, told: str) -> None:
    written = [cut_at(2 * k, more=", cut_after: 30 h") for k in range(1, number + 1)]
    (comment,) = review_by("saw-window", pad(joints(*written), outline=box(16, 8))).comments

    assert comment.at.name == told
    assert comment.at.place.path == "joints[0]"
    assert comment.says.template.endswith("is cut" if number == 1 else "are cut")


def test_saw_window_cuts_that_wait_alike_are_told_together() -> None:
    first, second = cut_at(2, more=", cut_after: 120 min"), cut_at(4, more=", cut_after: 2 h")
    (comment,) = review_by("saw-window", pad(joints(first, second), outline=box(16, 8))).comments

    assert comment.at.name == "joints J1, J2"
    assert comment.shown.si == 2 * 3600


def test_saw_window_the_first_cut_is_where_its_wait_is_missing() -> None:
    (entry,) = review_by(
        "saw-window", pad(joints(cut_at(2, kind="tooled groove"), cut_at(4), cut_at(6)), outline=box(16, 8))
    ).not_shown

    assert entry.place.path == "joints[1]"


@pytest.mark.parametrize(
    ("kind", "air", "wait", "limit"),
    [
        # ACI 302.1R-15, 4 to 12 h; ACI 224.4R-13, 1 h hot to 4 h cold (both quoted by an institute FAQ)
        ("saw cut", "", "4 h", ""),
        ("saw cut", "", "12 h", ""),
        ("saw cut", "", "3.9 h", "saw_at_least"),
        ("saw cut", "", "12.1 h", "saw_at_most"),
        # a straight line between 4 h at 90 °F and 12 h at 50 °F, with two hours of give (estimate)
        ("saw cut", "95 °F", "6 h", ""),
        ("saw cut", "95 °F", "6.1 h", "saw_at_most"),
        ("saw cut", "95 °F", "3 h", ""),
        ("saw cut", "70 °F", "10 h", ""),
        ("saw cut", "70 °F", "10.1 h", "saw_at_most"),
        ("saw cut", "79 °F", "3.9 h", "saw_at_least"),
        ("saw cut", "80.5 °F", "3.9 h", ""),
        ("saw cut", "50 °F", "14 h", ""),
        ("saw cut", "50 °F", "14.1 h", "saw_at_most"),
        ("saw cut", "40 °F", "16.1 h", "saw_at_most"),
        ("saw cut", "39 °F", "24 h", ""),
        ("saw cut", "39 °F", "24.1 h", "cold_at_most"),
        ("early saw cut", "88 °F", "1 h", ""),
        ("early saw cut", "39 °F", "4 h", ""),
        ("early saw cut", "", "4.1 h", "early_saw_at_most"),
        ("early saw cut", "", "0.9 h", "early_saw_at_least"),
    ],
)
def test_the_window_of_each_saw(kind: str, air: str, wait: str, limit: str) -> None:
    weather = f"pour: {{weather: {{air: {air}}}}}" if air else ""

    assert weights(review_by("saw-window", jointed_slab(timed_cut(wait, kind), weather))) == (
        [("caution", limit)] if limit else []
    )


@pytest.mark.parametrize(
    ("kind", "air", "write"),
    [
        ("saw cut", "", "12 h"),
        ("early saw cut", "", "4 h"),
        ("saw cut", "59 °F", "10 h"),  # 12 h at 50 °F, 12 min less for each °F more, to the quarter below
        ("saw cut", "60 °F", "10 h"),
        ("saw cut", "61 °F", "9 h 45 min"),
    ],
)
def test_the_hours_to_write(kind: str, air: str, write: str) -> None:
    weather = f"pour: {{weather: {{air: {air}}}}}" if air else ""
    told = advice(only(review_by("saw-window", jointed_slab(timed_cut("30 h", kind), weather))))

    assert told == f"cut joint J1 within {write} of finishing"


def test_cuts_that_wait_alike_are_told_together() -> None:
    joints = " | ".join(timed_cut("2 h", name=f"J{n}", at=2 * n) for n in range(1, 7))
    comment = only(review_by("saw-window", jointed_slab(joints)))

    assert comment.at.name == "joints J1, J2, J3, J4 and 2 more"
    assert plain(comment.to_pass, "us") == "cut joints J1, J2, J3, J4 and 2 more 4 h after finishing or later"


def test_a_cut_without_an_hour_is_not_shown() -> None:
    assert added(review_by("saw-window", jointed_slab(timed_cut("")))) == (
        "joints, cut_after: how long after finishing each is cut, such as 8 h",
    )


@pytest.mark.parametrize("rule", ["saw-window", "saw-booked", "saw-reach"])
@pytest.mark.parametrize("joints", ["", timed_cut("", "tooled groove"), timed_cut("", "pattern")])
def test_without_a_saw_nothing_is_sawn(rule: str, joints: str) -> None:
    assert reason(review_by(rule, jointed_slab(joints))) == "no joint is cut with a saw"
