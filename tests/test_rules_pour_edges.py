"""Rules about the day of the pour at the edges of their numbers: clocks, weather, metric steps, what is missing."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import asked_at, ended, finding, judged, margin, worked_apart
from slabwright.plan.given import DoesNotApply, NotShown
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain

FOOT, GALLON, MPH = 0.3048, 231 * 0.0254**3, 0.44704
HOUR = 3600.0
EACH = (
    "barrows-keep-up", "cold-weather", "curing", "done-in-hours", "evaporation", "finish-on-slope", "first-use",
    "hot-weather",
)  # fmt: skip


@pytest.mark.parametrize("rule", EACH)
def test_published_numbers_come_out(rule: str) -> None:
    assert worked_apart(rule) == {}


@pytest.mark.parametrize(
    ("rule", "pour"),
    [
        *((rule, "") for rule in EACH),
        *((rule, "finish: broom") for rule in EACH if rule != "finish-on-slope"),
        ("barrows-keep-up", "rate: 4 m3/h"),
        ("barrows-keep-up", "crew: 4"),
        ("cold-weather", "weather: {rain: 10 %}"),
        ("cold-weather", "weather: {concrete: 40 °F}"),
        ("curing", "curing: {method: compound}"),
        ("curing", "curing: {method: compound, days: 3 days}"),
        ("curing", "curing: {method: wet cover, rate: 400 ft2/gal, quantity: 0.1 gal}"),
        ("done-in-hours", 'start: "07:00"'),
        ("done-in-hours", "rate: 4 yd3/h"),
        ("evaporation", "weather: {concrete: 80 °F, humidity: 50 %, wind: 5 mph}"),
        ("evaporation", "weather: {air: 80 °F, concrete: 80 °F, wind: 5 mph}"),
        ("evaporation", "weather: {air: 80 °F, concrete: 80 °F, humidity: 50 %}"),
        ("finish-on-slope", "crew: 3"),
        ("hot-weather", "weather: {air: 95 °F}"),
    ],
)
def test_where_something_is_missing_nothing_is_judged(rule: str, pour: str) -> None:
    assert ended(rule, pad(f"pour: {{{pour}}}" if pour else "")) is not None


# barrows-keep-up

BARROWED = "order: {method: wheelbarrow}\n"


@pytest.mark.parametrize(("rate", "hands"), [("5.9", 6), ("6", 6), ("6.1", 7), ("7", 7)])
def test_a_cubic_meter_an_hour_takes_one_hand(rate: str, hands: int) -> None:
    """20 trips for a cubic meter (contractors' page), and 20 trips in an hour by one hand (common practice)."""
    one = finding("barrows-keep-up", pad(f"{BARROWED}pour: {{rate: {rate} m3/h, crew: 1}}"))

    assert one.to_pass.values["needed"].si == hands  # type: ignore[union-attr]


def test_one_hand_is_one_and_two_are_hands() -> None:
    one, two = (finding("barrows-keep-up", pad(f"{BARROWED}pour: {{rate: 6 m3/h, crew: {crew}}}")) for crew in (1, 2))

    assert plain(one.says, "metric", both=False).startswith("1 hand ")
    assert plain(two.says, "metric", both=False).startswith("2 hands ")


def test_hands_needed_follow_the_trips_that_are_asked() -> None:
    one = finding("barrows-keep-up", pad(f"{BARROWED}pour: {{rate: 6 m3/h, crew: 1}}"), trips_an_hour_at_most="10")

    assert one.to_pass.values["needed"].si == 12  # type: ignore[union-attr]


# cold-weather and hot-weather


@pytest.mark.parametrize(
    ("thick", "name"),
    [
        ("11 1/2 in", "concrete_at_least"), ("12 in", "thick_concrete_at_least"),
        ("12 1/2 in", "thick_concrete_at_least"),
    ],
)  # fmt: skip
def test_a_slab_is_thick_from_a_foot_up(thick: str, name: str) -> None:
    """ACI 306R as in Beall: 55 °F under 12 in, 50 °F from there."""
    cold, concrete = judged("cold-weather", pad("pour: {weather: {low: 30 °F, concrete: 45 °F}}", thick=thick))

    assert (cold.limit.name, concrete.limit.name) == ("air_at_least", name)


def test_the_concrete_is_looked_at_under_forty_degrees_alone() -> None:
    assert len(judged("cold-weather", pad("pour: {weather: {low: 40 °F, concrete: 45 °F}}"))) == 1
    assert len(judged("cold-weather", pad("pour: {weather: {low: 39.9 °F, concrete: 45 °F}}"))) == 2


@pytest.mark.parametrize("said", ["air: 50 °F", "low: 50 °F", "air: 60 °F, low: 50 °F", "air: 50 °F, low: 60 °F"])
def test_the_lower_of_the_temperatures_counts(said: str) -> None:
    assert margin("cold-weather", pad(f"pour: {{weather: {{{said}}}}}")).shown.si == pytest.approx(10.0)
    assert ended("cold-weather", pad(f"pour: {{weather: {{{said}}}}}")) is None


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("air: 79.5 °F", DoesNotApply),
        ("air: 80 °F", NotShown),
        ("air: 80.5 °F", NotShown),
        ("rain: 10 %", DoesNotApply),
        ("concrete: 70 °F", type(None)),
        ("concrete: 70 °F, air: 60 °F", type(None)),
        ("concrete: 95 °F, air: 90 °F", type(None)),
    ],
)
def test_hot_weather_begins_at_eighty_degrees(said: str, kind: type) -> None:
    """ACI 305.1-14, quoted."""
    assert isinstance(ended("hot-weather", pad(f"pour: {{weather: {{{said}}}}}")), kind)


# curing


def compound(quantity: str, finish: str = "float", unit: str = "ft", more: str = "") -> str:
    """800 ft2, or 80 m2."""
    sides = "[[0, 0], [40, 0], [40, 20], [0, 20]]" if unit == "ft" else "[[0, 0], [10, 0], [10, 8], [0, 8]]"
    said = f"method: compound, quantity: {quantity}{more}"
    return pad(f"pour: {{finish: {finish}, curing: {{{said}}}}}", outline=sides, unit=unit)


@pytest.mark.parametrize(
    ("finish", "need", "buy"),
    [
        ("float", 4.0, 4), ("trowel", 4.0, 4), ("broom", 4.6, 5), ("coarse broom", 4.6, 5), ("grooved", 4.6, 5),
    ],
)  # fmt: skip
def test_compound_by_the_finish(finish: str, need: float, buy: int) -> None:
    """UFGS 03311: 200 ft2 a gallon; 1.15 on a broomed surface, common practice."""
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


# done-in-hours: 4 yd3 at 4 yd3/h are placed in an hour


def day(said: str, volume: str = "4 yd3") -> str:
    return pad(f"order: {{volume: {volume}}}\npour: {{rate: 4 yd3/h, {said}}}")


def clock(text: str) -> float:
    hours, minutes = text.split(":")
    return int(hours) * 3600 + int(minutes) * 60


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
    late, _ = judged("done-in-hours", day(f'start: "07:00", until: "12:30", finishing: {finishing}'))

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
    dark = finding("done-in-hours", day(f'start: "{begin}", finishing: {finishing}'))

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
    (found,) = judged("done-in-hours", day(f'start: "01:00"{weather and ", " + weather}'))

    assert found.shown.si == pytest.approx((1 + 1 + hours) * HOUR, rel=1e-9)


def test_a_day_that_ends_in_time_is_not_late_at_all() -> None:
    in_time, _ = judged("done-in-hours", day('start: "07:00", until: "14:00"'))

    assert in_time.shown.si == 0.0


@pytest.mark.parametrize("order", ["", "order: {method: chute}\n"])
def test_the_concrete_of_the_slab_counts_where_no_volume_is_ordered(order: str) -> None:
    """64 ft2 at 4 in are 64 x 4 / 324 yd3."""
    one = margin("done-in-hours", pad(f'{order}pour: {{start: "07:00", rate: 1 yd3/h}}'))

    assert one.shown.si == pytest.approx((7 + 64 * 4 / 324 + 4) * HOUR)


def level(base: float) -> str:
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    heights = f"heights: {{finish: {{A: 1, B: 1, C: 1, D: 1}}, base: {{A: {base}, B: {base}, C: {base}, D: {base}}}}}\n"
    return pad(points + heights + 'pour: {start: "07:00", rate: 1 yd3/h}', outline="[A, B, C, D]")


@pytest.mark.parametrize(("base", "fits"), [(0.9, True), (0.999, True), (1, False), (2, False)])
def test_a_day_is_counted_where_concrete_fits_over_the_base(base: float, fits: bool) -> None:
    assert (ended("done-in-hours", level(base)) is None) is fits


# evaporation


def forecast(air: str, concrete: str, humidity: str, wind: str, unit: str = "ft") -> str:
    said = f"air: {air}, concrete: {concrete}, humidity: {humidity}, wind: {wind}"
    return pad(f"pour: {{weather: {{{said}}}}}", unit=unit)


def uno(tc: float, ta: float, r: float, v: float) -> float:
    """Uno 1998 (recalled), lb/ft2/h from °F, a share and mph."""
    return (tc**2.5 - r * ta**2.5) * (1 + 0.4 * v) * 1e-6


@pytest.mark.parametrize(
    ("tc", "wind", "still"),
    [(80, 6, None), (85, 12, 10), (90, 12, 7), (95, 12, 5), (98, 12, 5), (100, 12, None), (90, 17, 7), (90, 20, None)],
)
def test_the_wind_is_broken_down_to_four_tenths_and_no_less(tc: float, wind: float, still: int | None) -> None:
    """On 80 °F of air and 50 %: 0.2 lb/ft2/h at 10.7, 7.9, 5.9 and 4.5 mph for 85, 90, 95 and 100 °F."""
    found = judged("evaporation", forecast("80 °F", f"{tc} °F", "50 %", f"{wind} mph"))[0]
    told = found.remedies[0].edits if isinstance(found, Finding) and found.limit.name == "act_at_most" else ()

    assert ([one.path for one in told] == ["pour.weather.wind"]) is (still is not None)
    if still is not None:
        assert told[0].value.si == pytest.approx(still * MPH)  # type: ignore[union-attr]
        assert uno(tc, 80, 0.5, still) <= 0.2 < uno(tc, 80, 0.5, still + 1)


def test_the_wind_of_metric_plans_is_in_whole_kilometers() -> None:
    """0.2 lb/ft2/h at 9.4 mph on 87 °F over 80 °F, 50 %: 15.2 km/h."""
    one = finding("evaporation", forecast("80 °F", "87 °F", "50 %", "12 mph", "m"))

    assert one.to_pass.values["wind"].si == pytest.approx(15 / 3.6)  # type: ignore[union-attr]


def test_less_wind_and_cooler_concrete_help_together() -> None:
    one = finding("evaporation", forecast("90 °F", "92 °F", "20 %", "20 mph"))
    (both,) = one.remedies
    wind, concrete = both.edits

    # a fifth of 90^2.5 and 2 x 10^5/4.2, for 8 mph, are 15,369 and 47,619: their sum is 83.1^2.5
    assert wind.value.si == pytest.approx(8 * MPH)  # type: ignore[union-attr]
    assert concrete.value.si == pytest.approx((83 - 32) * 5 / 9)  # type: ignore[union-attr]
    assert uno(83, 90, 0.2, 8) <= 0.2 < uno(84, 90, 0.2, 8)


def test_concrete_is_taken_as_warm_as_the_air() -> None:
    said = pad("pour: {weather: {air: 80 °F, humidity: 50 %, wind: 12 mph}}")

    assert (
        finding("evaporation", said).shown == finding("evaporation", forecast("80 °F", "80 °F", "50 %", "12 mph")).shown
    )


@pytest.mark.parametrize(("air", "told"), [("-14.5 °C", True), ("-15 °C", True), ("-15.5 °C", False)])
def test_the_equations_end_at_fifteen_degrees_of_frost(air: str, told: bool) -> None:
    text = forecast(air, "15 °C", "50 %", "5 mph")

    assert (ended("evaporation", text) is None) is told
    if told:
        assert len(judged("evaporation", text)) == 1


@pytest.mark.parametrize(
    ("said", "keys"),
    [
        ("air: 70 °F", ["humidity", "wind"]),
        ("humidity: 50 %", ["air", "wind"]),
        ("wind: 5 mph", ["air", "humidity"]),
        ("wind: 5 mph, humidity: 50 %", ["air"]),
    ],
)
def test_any_part_of_a_forecast_asks_for_the_rest(said: str, keys: list[str]) -> None:
    assert asked_at("evaporation", pad(f"pour: {{weather: {{{said}}}}}"))[0] == [f"pour.weather.{key}" for key in keys]


# finish-on-slope


def test_a_troweled_slab_is_not_judged_by_its_slope() -> None:
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    heights = "heights: {finish: {A: 100, B: 100, C: 99, D: 99}}\n"
    steep = pad(points + heights + "pour: {finish: %s}", outline="[A, B, C, D]")

    assert [one.limit.name for one in judged("finish-on-slope", steep % "trowel")] == ["smooth_at_most"]
    smooth, slope = judged("finish-on-slope", steep % "broom")
    assert (smooth.shown.si, slope.shown.si) == (0.0, pytest.approx(1 / 8))


# first-use


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("feet: 24 h", ["feet_at_least"]),
        ("cars: 7 days", ["cars_at_least"]),
        ("heavy: 28 days", ["heavy_at_least"]),
        ("feet: 24 h, heavy: 28 days", ["heavy_at_least", "feet_at_least"]),
    ],
)
def test_each_first_use_is_judged_by_itself(said: str, names: list[str]) -> None:
    text = pad(f"pour: {{first_use: {{{said}}}}}")

    assert [one.limit.name for one in judged("first-use", text)] == names
    assert weights(review_by("first-use", text)) == []
    assert ended("first-use", text) is None
