"""What the rules on pour have in common."""

from __future__ import annotations

import pytest
from design_text import pad, review_by
from judged import ended

EACH = (
    "barrows-keep-up", "cold-weather", "curing", "done-in-hours", "evaporation", "finish-on-slope", "first-use",
    "hot-weather",
)  # fmt: skip


def test_weather_rules_ask_only_where_it_matters() -> None:
    # hot weather starts at 80 °F of air: ACI 305.1-14, quoted
    assert "concrete" in review_by("hot-weather", pad("pour: {weather: {air: 80 °F}}")).not_shown[0].add[0]
    assert review_by("hot-weather", pad("pour: {weather: {air: 79 °F}}")).does_not_apply
    for rule in ("hot-weather", "cold-weather"):
        assert review_by(rule, pad("")).does_not_apply
        assert review_by(rule, pad("pour: {weather: {rain: 20 %}}")).does_not_apply


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
