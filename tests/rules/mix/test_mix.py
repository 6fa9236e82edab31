"""What the rules on mix have in common."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import asked_at, finding
from slabwright.units.quantity import Amount

POURED = "job: {name: Walk, pour: 2026-10-01}"
FROSTY = "site: {freezing: severe, deicing_salt: true}"


def test_metric_plans_write_the_whole_megapascals_of_a_published_strength() -> None:
    # 31 MPa beside 4,500 psi: PCA EB001 Table 11-3, read
    weak = pad("mix: {exposure: F2, strength: 30 MPa}", unit="m")
    soil = pad("site: {soil: {kind: clay, sulfate: 0.5 %}}\nmix: {strength: 30 MPa}", unit="m")

    for one in (finding("exposure-class", weak), finding("sulfate-in-soil", soil)):
        written = [value.si for value in one.to_pass.values.values() if isinstance(value, Amount)]
        assert 31e6 in written
        assert one.limit.value.si == 31e6
        assert one.working[0].result.si == pytest.approx(1e6)  # a megapascal short
    assert finding("exposure-class", weak, f2_strength_at_least="4500 psi").limit.value.si == pytest.approx(
        31.026e6, rel=1e-4
    )


def test_a_class_with_water_alone_is_judged_by_the_water() -> None:
    assert weights(review_by("exposure-class", pad("mix: {exposure: F3, water_cement: 0.46}"))) == [
        ("caution", "plain_f3_water_at_most")
    ]
    assert weights(review_by("sulfate-in-soil", pad("site: {soil: {sulfate: 0.5 %}}\nmix: {water_cement: 0.46}"))) == [
        ("caution", "s2_water_at_most")
    ]


# what is asked for


@pytest.mark.parametrize(
    ("rule", "text", "keys"),
    [
        ("first-winter", "site: {freezing: severe, deicing_salt: true}\npour: {weather: {first_frost: 2026-11-10}}",
         ["job.pour"]),
        ("first-winter", f"{POURED}\n{FROSTY}",
         ["pour.weather.first_frost"]),
        ("first-winter", "job: {name: Walk, pour: 2026-10-01}\nsite: {freezing: severe, deicing_salt: true}\n"
         "pour: {weather: {air: 50 °F}}", ["pour.weather.first_frost"]),
        ("freezing-air", "site: {freezing: moderate}\nmix: {aggregate: 1 in}", ["mix.air"]),
        ("freezing-air", "mix: {air: 6 %}", ["site.freezing", "mix.aggregate"]),
        ("freezing-strength", "site: {freezing: severe}", ["mix.strength"]),
        ("freezing-strength", "mix: {strength: 4000 psi}", ["site.freezing"]),
        ("stone-through-hose", "order: {method: pump, hose: 3 in}", ["mix.aggregate"]),
        ("stone-through-hose", "order: {method: pump}\nmix: {aggregate: 3/4 in}", ["order.hose"]),
    ],
)  # fmt: skip
def test_only_what_is_missing_is_asked_for(rule: str, text: str, keys: list[str]) -> None:
    assert asked_at(rule, pad(text))[0] == keys


@pytest.mark.parametrize(
    ("rule", "text", "place"),
    [
        ("first-winter", f"{FROSTY}\npour: {{weather: {{air: 50 °F}}}}", "job"),
        ("first-winter", f"{POURED}\n{FROSTY}\npour: {{weather: {{air: 50 °F}}}}", "pour.weather"),
        ("first-winter", f"{POURED}\n{FROSTY}\npour: {{finish: broom}}", "pour"),
        ("first-winter", f"{POURED}\n{FROSTY}", ""),
        ("freezing-air", "site: {deicing_salt: true}\nmix: {aggregate: 1 in}", "site"),
        ("freezing-air", "site: {freezing: severe}\nmix: {aggregate: 1 in}", "mix"),
        ("freezing-air", "mix: {air: 6 %}", ""),
        ("freezing-strength", "site: {deicing_salt: true}\nmix: {air: 6 %}", "site"),
        ("freezing-strength", "site: {freezing: severe}\nmix: {air: 6 %}", "mix"),
        ("freezing-strength", "site: {freezing: severe}", ""),
        ("stone-through-hose", "order: {method: pump}\nmix: {air: 6 %}", "order"),
        ("stone-through-hose", "order: {method: pump, hose: 3 in}\nmix: {air: 6 %}", "mix"),
    ],
)
def test_the_first_thing_missing_is_asked_for_in_its_own_section(rule: str, text: str, place: str) -> None:
    assert asked_at(rule, pad(text))[1] == place
