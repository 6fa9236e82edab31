"""The rule `cold-weather`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import ended, judged, margin
from slabwright.rulebook.conclusion import Margin
from slabwright.text.words import plain


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
        ("curing: {method: wet cover, days: 7 days}", "patio",
         [("caution", "air_at_least")]),  # its water is told with the cover
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


def test_frozen_ground_is_told_whatever_is_known_of_the_air() -> None:
    ground = "site: {base: {frozen: %s}}\npour: {weather: {%s}}"
    (frozen,) = judged("cold-weather", pad(ground % ("true", "concrete: 60 °F")))
    thawed, _ = judged("cold-weather", pad(ground % ("false", "air: 60 °F")))

    assert (frozen.limit.name, thawed.limit.name) == ("frozen_at_most", "frozen_at_most")
    assert isinstance(thawed, Margin) and thawed.shown.si == 0


def test_a_slab_that_freezes_under_water_and_no_cover_is_told_once_what_to_do() -> None:
    text = pad("pour: {curing: {method: wet cover, days: 7 days}, weather: {low: 25 °F, concrete: 60 °F}}")
    (comment,) = review_by("cold-weather", text).comments
    assert plain(comment.to_pass, "us") == (
        "cover it with blankets the same evening, for 3 days; cover it with sheeting in place of water"
    )


def test_a_metric_job_is_told_whole_degrees() -> None:
    """55 °F is 12.8 °C, and nobody orders a fifth of a degree (common practice)."""
    kept = "protection: {method: blankets, days: 3 days}"
    text = pad(f"pour: {{weather: {{air: 4 °C, low: -6 °C, concrete: 10 °C}}, {kept}}}", unit="m", side="3")
    (cold,) = [one for one in review_by("cold-weather", text).comments if one.at.name == "the concrete"]

    assert cold.asked.si == pytest.approx((55 - 32) / 1.8)
    assert plain(cold.to_pass, "metric") == "have it delivered at 13 °C or warmer, and keep it so"
