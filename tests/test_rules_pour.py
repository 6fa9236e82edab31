"""Rules about the day of the pour, hands and rain: every branch, every limit, and what they say of what is missing."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from slabwright.text.words import plain

POUND, FOOT, GALLON = 0.45359237, 0.3048, 231 * 0.0254**3
HOURLY = POUND / FOOT**2 / 3600  # kg/m2/s of 1 lb/ft2/h

# evaporation


def forecast(air: float, concrete: float, humidity: float, wind: float) -> str:
    said = f"air: {air:g} °F, concrete: {concrete:g} °F, humidity: {humidity:g} %, wind: {wind:g} mph"
    return pad(f"pour: {{weather: {{{said}}}}}")


@pytest.mark.parametrize(
    ("air", "concrete", "humidity", "wind", "rate"),
    [
        # Lerch 1957, recalled: 70 °F on 70 °F, 70 % at 0, 5, 10, 15, 20 mph: 0.015, 0.038, 0.062, 0.085, 0.110
        (70, 70, 70, 10, 0.062),
        (70, 70, 70, 15, 0.085),
        (70, 70, 70, 20, 0.110),
        (70, 70, 30, 10, 0.135),
        (70, 70, 10, 10, 0.175),
    ],
)
def test_evaporation_near_the_published_table(
    air: float, concrete: float, humidity: float, wind: float, rate: float
) -> None:
    report = review_by("evaporation", forecast(air, concrete, humidity, wind))
    shown = report.comments[0].shown if report.comments else report.met[0].shown

    assert shown is not None
    assert shown.si / HOURLY == pytest.approx(rate, rel=0.2)  # the equation is good to some 40 % (Hover 2020)
    assert [comment.weight for comment in report.comments] == (["note"] if shown.si / HOURLY > 0.1 else [])


def test_evaporation_shows_both_equations_and_gives_way_to_either_limit() -> None:
    comment = only(review_by("evaporation", forecast(80, 87, 50, 12)))

    assert (comment.weight, comment.limit.name) == ("caution", "act_at_most")
    # Uno 1998 in US units at these inputs 0.2435 lb/ft2/h: tests/data/checks.yaml, we-uno-units
    assert comment.shown.si / HOURLY == pytest.approx(0.2435, abs=0.00005)
    assert [step.what for step in comment.working] == ["Uno", "Menzel"]
    # Menzel at 30.556 and 26.667 °C, 19.312 km/h: 1.173 kg/m2/h (note to we-menzel)
    assert comment.working[1].result.si * 3600 == pytest.approx(1.173, abs=0.0005)
    # (87^2.5 - 80^2.5 / 2)(1 + 0.4 V) 10^-6 is 0.193 at 9 mph and 0.210 at 10; 0.2 is what is asked
    assert plain(comment.to_pass, "us", both=False) == "break the wind over the slab down to 9 mph"
    assert weights(review_by("evaporation", forecast(80, 87, 50, 9))) == [("note", "watch_at_most")]


@pytest.mark.parametrize(
    ("weather", "says"),
    [
        # half of 80^2.5 and 10^5/2.2 are 28,622 and 45,455: their sum is 88.7^2.5
        ((80, 95, 50, 3), "order concrete of 88 °F"),
        # a tenth of 95^2.5 and 2 x 10^5/5.8, for 12 mph, are 8,797 and 34,483: their sum is 71.5^2.5, 28 degrees cooler
        ((95, 100, 10, 30), "pour it on a cooler day or before dawn"),
    ],
)
def test_evaporation_says_what_still_helps(weather: tuple[float, float, float, float], says: str) -> None:
    comment = only(review_by("evaporation", forecast(*weather)))

    assert plain(comment.to_pass, "us").startswith(says)


def test_evaporation_asks_for_a_whole_forecast() -> None:
    asked = review_by("evaporation", pad("pour: {weather: {air: 70 °F}}")).not_shown[0].add

    assert [one.split(":")[0] for one in asked] == ["pour.weather.humidity", "pour.weather.wind"]
    for bare in ("", "pour: {start: '07:00'}", "pour: {weather: {rain: 10 %}}", "pour: {weather: {air: -15 °F}}"):
        assert review_by("evaporation", pad(bare)).does_not_apply


# cold-weather and hot-weather


@pytest.mark.parametrize(
    ("weather", "thick", "found"),
    [
        # ACI 306R-10, quoted: cold is under 40 °F; ACI 306R as in Beall, read: 55 °F under 12 in, 50 °F from there
        ("low: 40 °F, concrete: 50 °F", "4 in", []),
        ("low: 39 °F, concrete: 55 °F", "4 in", [("caution", "air_at_least")]),
        ("low: 39 °F, concrete: 54 °F", "4 in", [("hold", "concrete_at_least"), ("caution", "air_at_least")]),
        ("low: 39 °F, concrete: 50 °F", "12 in", [("caution", "air_at_least")]),
        ("low: 39 °F, concrete: 49 °F", "12 in", [("hold", "thick_concrete_at_least"), ("caution", "air_at_least")]),
        ("air: 35 °F, low: 45 °F", "4 in", [("caution", "air_at_least")]),  # the lower of the two
        ("air: 60 °F", "4 in", []),
    ],
)
def test_cold_weather(weather: str, thick: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("cold-weather", pad(f"pour: {{weather: {{{weather}}}}}", thick=thick))) == found


@pytest.mark.parametrize(
    ("weather", "found"),
    [
        # ACI 301, ASTM C94, quoted: 95 °F; trouble near 90 °F: common practice
        ("concrete: 90 °F", []),
        ("concrete: 91 °F", [("caution", "concrete_preferred_at_most")]),
        ("concrete: 95 °F", [("caution", "concrete_preferred_at_most")]),
        ("concrete: 96 °F", [("hold", "concrete_at_most")]),
    ],
)
def test_hot_weather(weather: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("hot-weather", pad(f"pour: {{weather: {{{weather}}}}}"))) == found


def test_weather_rules_ask_only_where_it_matters() -> None:
    # hot weather starts at 80 °F of air: ACI 305.1-14, quoted
    assert "concrete" in review_by("hot-weather", pad("pour: {weather: {air: 80 °F}}")).not_shown[0].add[0]
    assert review_by("hot-weather", pad("pour: {weather: {air: 79 °F}}")).does_not_apply
    for rule in ("hot-weather", "cold-weather"):
        assert review_by(rule, pad("")).does_not_apply
        assert review_by(rule, pad("pour: {weather: {rain: 20 %}}")).does_not_apply


@pytest.mark.parametrize(
    ("pour", "use", "found"),
    [
        # ACI 306R-10, a laboratory's slides, quoted: 3 days in the open, 2 indoors
        ("protection: {method: blankets, days: 3 days}", "patio", []),
        ("protection: {method: blankets, days: 2 days}", "patio", [("caution", "covered_at_least")]),
        ("protection: {method: heated tent, days: 2 days}", "shop floor", []),
        ("protection: {method: blankets, days: 1 days}", "shop floor", [("caution", "covered_indoors_at_least")]),
        # trade-magazine article, read: no water curing where it freezes
        ("protection: {method: blankets, days: 3 days}, curing: {method: wet cover, days: 7 days}", "patio",
         [("caution", "wet_air_at_least")]),
        ("protection: {method: blankets, days: 7 days}, curing: {method: wet cover, days: 7 days}", "patio", []),
        ("protection: {method: blankets, days: 3 days}, curing: {method: sheeting, days: 7 days}", "patio", []),
    ],
)  # fmt: skip
def test_cold_weather_knows_what_covers_the_slab(pour: str, use: str, found: list[tuple[str, str]]) -> None:
    text = pad(f"pour: {{{pour}, weather: {{low: 25 °F, concrete: 60 °F}}}}", use=use)
    assert weights(review_by("cold-weather", text)) == found


def test_cold_weather_asks_how_long_it_is_covered_and_lets_nothing_on_frozen_ground() -> None:
    cover = pad("pour: {protection: {method: blankets}, weather: {low: 25 °F}}")
    assert review_by("cold-weather", cover).not_shown[0].add[0].startswith("pour.protection.days")
    frozen = pad("site: {base: {frozen: true}}")  # Beall p. 77, read: never on frozen ground
    assert weights(review_by("cold-weather", frozen)) == [("caution", "frozen_at_most")]
    assert not review_by("cold-weather", frozen).comments[0].remedies


# done-in-hours


def day(said: str, volume: str = "8 yd3") -> str:
    return pad(f"order: {{volume: {volume}}}\npour: {{{said}}}")


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


# curing


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


# finish-on-slope


def sloped(fall: float, pour: str, use: str = "driveway") -> str:
    heights = f"heights: {{finish: {{A: 100, B: 100, C: {100 - 8 * fall}, D: {100 - 8 * fall}}}}}\n"
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    return pad(points + heights + f"pour: {{{pour}}}", use=use, outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("fall", "pour", "found"),
    [
        # finish guide; common practice
        (0.06, "finish: broom", []),
        (0.07, "finish: broom", [("caution", "plain_broom_at_most")]),
        (0.07, "finish: float", [("caution", "plain_broom_at_most")]),
        (0.07, "finish: coarse broom", []),
        (0.07, "finish: grooved", []),
        (0.04, "finish: broom, broom_direction: along", []),
        (0.05, "finish: broom, broom_direction: along", [("note", "along_at_most")]),
        (0.05, "finish: broom, broom_direction: across", []),
        (0.07, "finish: coarse broom, broom_direction: along", [("note", "along_at_most")]),
        (0.02, "finish: trowel", [("caution", "smooth_at_most")]),
    ],
)
def test_finish_on_slope(fall: float, pour: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("finish-on-slope", sloped(fall, pour))) == found


def test_finish_on_slope_needs_heights_only_where_slope_matters() -> None:
    smooth = only(review_by("finish-on-slope", pad("pour: {finish: trowel}")))

    assert smooth.shown.si == pytest.approx(64 * FOOT**2)
    assert "heights.finish" in review_by("finish-on-slope", pad("pour: {finish: broom}")).not_shown[0].add[0]
    assert "pour.finish" in review_by("finish-on-slope", pad("pour: {crew: 3}")).not_shown[0].add[0]
    assert review_by("finish-on-slope", pad("pour: {finish: trowel}", use="shop floor")).does_not_apply
    assert review_by("finish-on-slope", pad("")).does_not_apply


# first-use


@pytest.mark.parametrize(
    ("use", "found"),
    [
        # contractor pages, practice: feet 24 to 48 h, cars 7 days, heavy 28 days
        ("feet: 24 h, cars: 7 days, heavy: 28 days", []),
        ("feet: 23 h", [("note", "feet_at_least")]),
        ("cars: 6 days", [("caution", "cars_at_least")]),
        ("heavy: 27 days", [("caution", "heavy_at_least")]),
        # 3,000 psi is in the middle of what states open roads at, quoted
        ("cars: 3 days, tested: 3000 psi", []),
        ("cars: 3 days, tested: 2999 psi", [("caution", "tested_at_least")]),
        ("cars: 7 days, tested: 2000 psi", []),
    ],
)
def test_first_use(use: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("first-use", pad(f"pour: {{first_use: {{{use}}}}}"))) == found
    assert review_by("first-use", pad("pour: {crew: 3}")).does_not_apply
    assert review_by("first-use", pad("")).does_not_apply


@pytest.mark.parametrize(
    ("pour", "needed"),
    [
        # 20 x 30 ft are 600 ft2; 100 ft2 in an hour by each hand, common practice
        ("crew: 2, finishing: 3 h", None),
        ("crew: 1, finishing: 3 h", 2),
        ("crew: 2, finishing: 2.9 h", 3),
        # 4 h at 70 °F, 2 h at 90 °F: rule of thumb
        ("crew: 1, weather: {concrete: 70 °F, air: 90 °F}", 2),
        ("crew: 2, weather: {concrete: 90 °F}", 3),
        ("crew: 2, weather: {air: 90 °F}", 3),
        ("crew: 3, weather: {air: 90 °F}", None),
    ],
)
def test_hands_for_area(pour: str, needed: int | None) -> None:
    slab = pad(f"pour: {{{pour}}}", outline="[[0, 0], [30, 0], [30, 20], [0, 20]]")
    report = review_by("hands-for-area", slab)

    assert weights(report) == ([("caution", "in_an_hour_at_most")] if needed else [])
    if needed:
        assert plain(only(report).to_pass, "us") == f"have {needed} hands"


def test_hands_for_area_is_silent_where_the_day_is_not_known() -> None:
    for pour in ("", "pour: {finishing: 4 h}", "pour: {crew: 1}"):
        assert review_by("hands-for-area", pad(pour)).does_not_apply


@pytest.mark.parametrize(("chance", "found"), [("50 %", []), ("51 %", [("caution", "chance_at_most")])])
def test_rain_before_set(chance: str, found: list[tuple[str, str]]) -> None:
    report = review_by("rain-before-set", pad(f"pour: {{weather: {{rain: {chance}}}}}"))

    assert weights(report) == found
    assert not any(comment.remedies for comment in report.comments)  # the weather is what it is


def test_rain_before_set_is_silent_under_a_roof_and_without_a_forecast() -> None:
    wet = "pour: {weather: {rain: 90 %}}"
    assert review_by("rain-before-set", pad(wet, use="shop floor")).does_not_apply
    assert review_by("rain-before-set", pad("pour: {weather: {air: 70 °F}}")).does_not_apply
