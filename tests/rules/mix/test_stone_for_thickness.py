"""The rule `stone-for-thickness`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad
from judged import ended
from slabs.mix import review


@pytest.mark.parametrize(
    ("stone", "thickness", "found"),
    [
        # a third: ACI 318-19 sec. 26.4.2.1 (quoted); a quarter: specification CP-4.2 (read)
        ("1 in", "4 in", []),
        ("1 1/4 in", "4 in", [("note", "part_preferred_at_most")]),
        ("1 1/2 in", "4 in", [("caution", "part_of_thickness_at_most")]),
        ("1 in", "3 in", [("note", "part_preferred_at_most")]),
        ("1 1/2 in", "6 in", []),
        ("25 mm", "100 mm", []),
    ],
)
def test_stone_for_thickness(stone: str, thickness: str, found: list[tuple[str, str]]) -> None:
    assert weights(review("stone-for-thickness", f"aggregate: {stone}", thickness=thickness)) == found


def test_stone_for_thickness_names_the_next_usual_stone_that_passes_both() -> None:
    assert advice(only(review("stone-for-thickness", "aggregate: 1 1/2 in"))) == "order stone of 1 in or less"
    thin = only(review("stone-for-thickness", "aggregate: 1 in", thickness="2 in"))
    assert advice(thin) == "order stone of 1/2 in or less"
    assert not review("stone-for-thickness", "aggregate: 1/2 in", thickness="2 in").comments


def test_stone_for_thickness_asks_for_the_stone() -> None:
    (entry,) = review("stone-for-thickness", "air: 5 %").not_shown

    assert entry.add == ("mix.aggregate: size of the largest stone, such as 3/4 in",)
    assert entry.place.path == "mix"


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("air-in-troweled-floor", "pour: {finish: trowel}"),
        ("chloride-with-steel", "mix: {strength: 4000 psi}"),
        ("exposure-class", "mix: {exposure: F2}"),
        ("exposure-class", "mix: {exposure: F0, water_cement: 0.70}"),  # F0 asks nothing of the water
        ("first-winter", "pour: {weather: {first_frost: 2026-11-10}}"),
        ("first-winter", "job: {name: Walk, pour: 2026-10-01}"),
        ("first-winter", "job: {name: Walk, pour: 2026-10-01}\npour: {finish: broom}"),
        ("first-winter", "job: {name: Walk, pour: 2026-10-01}\npour: {weather: {air: 50 °F}}"),
        ("freezing-air", "site: {freezing: severe}"),
        ("freezing-air", "mix: {air: 6 %, aggregate: 3/4 in}"),
        ("freezing-air", "site: {freezing: none}\nmix: {air: 6 %, aggregate: 3/4 in}"),
        ("freezing-strength", "site: {freezing: severe}"),
        ("freezing-strength", "mix: {strength: 4000 psi}"),
        ("slump-for-placing", "mix: {air: 6 %}"),
        ("stone-for-thickness", "mix: {air: 6 %}"),
        ("stone-through-hose", "mix: {aggregate: 3/4 in}"),
        ("stone-through-hose", "order: {method: pump}\nmix: {aggregate: 3/4 in}"),
        ("stone-through-hose", "order: {method: pump, hose: 3 in}"),
        ("sulfate-in-soil", "mix: {strength: 4000 psi, water_cement: 0.45}"),
        ("sulfate-in-soil", "site: {soil: {kind: clay}}\nmix: {strength: 4000 psi, water_cement: 0.45}"),
        ("sulfate-in-soil", "site: {soil: {kind: clay, sulfate: 0.5 %}}"),
        ("water-on-site", "mix: {slump: 4 in}"),
        ("water-on-site", "mix: {slump: 4 in}\npour: {finish: broom}"),
        ("water-on-site", "pour: {slump: 5 in}"),
    ],
)
def test_where_something_is_missing_nothing_is_judged(rule: str, text: str) -> None:
    assert ended(rule, pad(text)) is not None
