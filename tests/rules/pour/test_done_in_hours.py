"""The rule `done-in-hours`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from judged import ended, finding, judged, margin
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain

HOUR = 3600.0


def day(said: str, volume: str = "8 yd3") -> str:
    return pad(f"order: {{volume: {volume}}}\npour: {{{said}}}")


def day_at_rate(said: str, volume: str = "4 yd3") -> str:
    return pad(f"order: {{volume: {volume}}}\npour: {{rate: 4 yd3/h, {said}}}")


def clock(text: str) -> float:
    hours, minutes = text.split(":")
    return int(hours) * 3600 + int(minutes) * 60


def level(base: float) -> str:
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    heights = f"heights: {{finish: {{A: 1, B: 1, C: 1, D: 1}}, base: {{A: {base}, B: {base}, C: {base}, D: {base}}}}}\n"
    return pad(points + heights + 'pour: {start: "07:00", rate: 1 yd3/h}', outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("said", "late"),
    [
        # closed form: start + volume / rate + finishing; 4 h at 70 °F (common practice), half for 20 °F more (ACI 305R)
        ('start: "07:00", rate: 4 yd3/h, until: "13:00"', 0),
        ('start: "07:00", rate: 4 yd3/h, until: "12:30"', 0.5),
        ('start: "07:00", rate: 4 yd3/h, until: "10:00", finishing: 2 h', 1),
        ('start: "07:00", rate: 4 yd3/h, until: "10:00", weather: {air: 90 °F}', 1),  # 2 h of finishing
        ('start: "07:00", rate: 4 yd3/h, until: "16:00", weather: {air: 50 °F}', 1),  # 8 h
    ],
)
def test_done_in_hours_past_the_booked_hour(said: str, late: float) -> None:
    comments = review_by("done-in-hours", day(said)).comments

    assert [(one.weight, one.shown.si / 3600) for one in comments] == (
        [("caution", pytest.approx(late))] if late else []
    )


@pytest.mark.parametrize(
    ("said", "late"),
    [  # 4 h at 70 °F (setting rule) from one o'clock on: five, whatever the rate
        ('start: "13:00", until: "16:00"', 60),
        ('start: "13:00", until: "17:00"', None),
        ('start: "13:00"', None),
        ('start: "22:00", until: "01:00"', 60),  # booked until the next day
    ],
)
def test_a_day_too_short_for_the_finish_alone_needs_no_rate(said: str, late: int | None) -> None:
    report = review_by("done-in-hours", day(said))
    assert [one.shown.si for one in report.comments] == ([] if late is None else [pytest.approx(60 * late)])
    assert bool(report.not_shown) == (late is None)


def test_done_in_hours_books_to_the_quarter_and_starts_before_it() -> None:
    late = only(review_by("done-in-hours", day('start: "07:00", rate: 4 yd3/h, until: "12:30", finishing: 4.1 h')))
    dark = only(review_by("done-in-hours", day('start: "14:10", rate: 4 yd3/h')))

    assert late.to_pass.values["until"] == "13:15"  # 13:06
    assert (dark.weight, dark.limit.name) == ("note", "finished_at_most")
    assert dark.shown.si == pytest.approx((14 + 10 / 60 + 6) * 3600)
    assert dark.to_pass.values["start"] == "14:00"


def test_done_in_hours_past_midnight_and_a_slab_too_large_for_a_day() -> None:
    night = review_by("done-in-hours", day('start: "18:00", rate: 4 yd3/h, until: "20:00", finishing: 8 h'))
    large = review_by("done-in-hours", day('start: "06:00", rate: 4 yd3/h', "100 yd3"))

    # 18:00, two hours of placing and eight of finishing end at 04:00
    assert [plain(one.to_pass, "us") for one in night.comments] == [
        "book the crew until 04:00 the next day",
        "start at 10:00",
    ]
    booked = review_by("done-in-hours", day('start: "18:00", rate: 4 yd3/h, until: "04:00", finishing: 8 h'))
    assert weights(booked) == [("note", "finished_at_most")]
    assert plain(only(large).to_pass, "us") == "bring lights, or pour it in two days"


def test_done_in_hours_takes_the_net_volume_without_an_order_and_asks_once() -> None:
    net = only(review_by("done-in-hours", pad('pour: {start: "19:00", rate: 1 yd3/h}')))
    asked = review_by("done-in-hours", pad("pour: {finish: broom}")).not_shown[0].add
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    over = "heights: {finish: {A: 1, B: 1, C: 1, D: 1}, base: {A: 2, B: 2, C: 2, D: 2}}\n"

    assert net.shown.si / 3600 == pytest.approx(19 + 64 * 4 / 324 + 4)  # ft2 x in / 324
    assert [one.split(":")[0] for one in asked] == ["pour.start", "pour.rate"]
    assert review_by("done-in-hours", pad("")).not_shown[0].add[0].startswith("pour: the hours")
    assert review_by("done-in-hours", pad(points + over + "pour: {crew: 2}", outline="[A, B, C, D]")).does_not_apply


# done-in-hours: 4 yd3 at 4 yd3/h are placed in an hour


@pytest.mark.parametrize(
    ("finishing", "until", "start"),
    [
        ("5.25 h", "13:15", "06:15"),  # 13:15 itself, three quarters late
        ("5.2583 h", "13:30", "06:00"),  # half a minute past
        ("5.24 h", "13:15", "06:15"),
        ("5.99 h", "14:00", "05:30"),
        ("11.5 h", "19:30", "00:00"),
        ("11.75 h", "19:45", None),  # the day before
        ("15.75 h", "23:45", None),
        ("15.76 h", "00:00", None),  # the next day
        ("16 h", "00:00", None),
        ("22.5 h", "06:30", None),
        ("23 h", None, None),  # a day after the start
    ],
)
def test_the_crew_is_booked_to_the_next_quarter_or_starts_before_it(
    finishing: str, until: str | None, start: str | None
) -> None:
    late, _ = judged("done-in-hours", day_at_rate(f'start: "07:00", until: "12:30", finishing: {finishing}'))

    assert isinstance(late, Finding)
    told = {key: value for one in late.remedies for key, value in one.says.values.items()}
    assert (told.get("until"), told.get("start")) == (until, start)
    hours = float(finishing.split()[0])
    assert late.shown.si == pytest.approx((8 + hours) * HOUR - clock("12:30"))


@pytest.mark.parametrize(
    ("begin", "finishing", "earlier"),
    [
        ("16:00", "4 h", "15:00"),  # done at 21:00
        ("16:00", "4.0083 h", "14:45"),  # half a minute later
        ("16:00", "3.99 h", "15:00"),
        ("16:10", "4 h", "15:00"),
        ("14:00", "5.0001 h", "13:45"),  # a third of a second past eight
        ("02:00", "19 h", "00:00"),
        ("01:45", "19.25 h", None),  # a quarter before midnight
        ("01:00", "22 h", None),
    ],
)
def test_the_start_that_ends_in_daylight(begin: str, finishing: str, earlier: str | None) -> None:
    dark = finding("done-in-hours", day_at_rate(f'start: "{begin}", finishing: {finishing}'))

    assert dark.limit.name == "finished_at_most"
    assert dark.to_pass.values.get("start") == earlier
    hours = float(finishing.split()[0])
    assert dark.shown.si == pytest.approx(clock(begin) + (1 + hours) * HOUR)


@pytest.mark.parametrize(
    ("weather", "hours"),
    [
        # 4 h at 70 °F, half for each 20 °F more, from 35 to 100 °F (rule of thumb)
        ("", 4.0),
        ("weather: {wind: 5 mph}", 4.0),
        ("weather: {air: 70 °F}", 4.0),
        ("weather: {air: 90 °F}", 2.0),
        ("weather: {air: 35 °F}", 4 * 2**1.75),
        ("weather: {air: 34.5 °F}", 4 * 2**1.75),
        ("weather: {air: 20 °F}", 4 * 2**1.75),
        ("weather: {air: 35.5 °F}", 4 * 2**1.725),
        ("weather: {air: 100 °F}", 4 / 2**1.5),
        ("weather: {air: 100.5 °F}", 4 / 2**1.5),
        ("weather: {air: 99.5 °F}", 4 / 2**1.475),
    ],
)
def test_finishing_by_the_air(weather: str, hours: float) -> None:
    (found,) = judged("done-in-hours", day_at_rate(f'start: "01:00"{weather and ", " + weather}'))

    assert found.shown.si == pytest.approx((1 + 1 + hours) * HOUR, rel=1e-9)


def test_a_day_that_ends_in_time_is_not_late_at_all() -> None:
    in_time, _ = judged("done-in-hours", day_at_rate('start: "07:00", until: "14:00"'))

    assert in_time.shown.si == 0.0


@pytest.mark.parametrize("order", ["", "order: {method: chute}\n"])
def test_the_concrete_of_the_slab_counts_where_no_volume_is_ordered(order: str) -> None:
    """64 ft2 at 4 in are 64 x 4 / 324 yd3."""
    one = margin("done-in-hours", pad(f'{order}pour: {{start: "07:00", rate: 1 yd3/h}}'))

    assert one.shown.si == pytest.approx((7 + 64 * 4 / 324 + 4) * HOUR)


@pytest.mark.parametrize(("base", "fits"), [(0.9, True), (0.999, True), (1, False), (2, False)])
def test_a_day_is_counted_where_concrete_fits_over_the_base(base: float, fits: bool) -> None:
    assert (ended("done-in-hours", level(base)) is None) is fits
