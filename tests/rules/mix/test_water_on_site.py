"""The rule `water-on-site`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabwright.text.words import plain

PSI = 6894.757293168361


def test_water_on_site_costs_what_the_trade_magazine_says() -> None:
    """1 gal/yd3: slump + 1 in, -200 psi in both of its answers (200 to 400, 150 to 200); 1 gal = 8.33 lb."""

    def wetter(inches: float) -> tuple[list[tuple[str, str]], float, float]:
        report = review_by("water-on-site", pad(f"mix: {{slump: 4 in}}\npour: {{slump: {4 + inches} in}}"))
        working = report.comments[0].working if report.comments else ()
        water, lost = (step.result.si for step in working) if working else (0.0, 0.0)
        return weights(report), water, lost

    assert wetter(0) == ([], 0.0, 0.0)
    assert wetter(1) == (
        [("note", "lost_preferred_at_most")],
        pytest.approx(8.33 * 0.45359237 / 0.9144**3),
        pytest.approx(200 * PSI),
    )
    found, water, lost = wetter(3)
    assert found == [("caution", "lost_at_most")]
    assert lost == pytest.approx(600 * PSI)
    assert water == pytest.approx(3 * 8.33 * 0.45359237 / 0.9144**3)


def test_water_on_site_asks_for_the_ordered_slump() -> None:
    assert "mix.slump" in review_by("water-on-site", pad("pour: {slump: 5 in}")).not_shown[0].add[0]
    assert review_by("water-on-site", pad("mix: {slump: 5 in}")).does_not_apply
    assert not review_by(
        "water-on-site", pad("mix: {slump: 5 in}\npour: {slump: 4 in}")
    ).comments  # stiffer costs nothing


@pytest.mark.parametrize(
    ("mix", "placed", "ordered"),
    [  # what a reducer gives: ACI 301, recalled
        ("", "6 in", "order a slump of 6 in, by a mid-range water reducer"),
        ("", "6 1/4 in", "order a slump of 6 1/4 in, by a high-range water reducer"),
        ("", "8 in", "order a slump of 8 in, by a high-range water reducer"),
        ("", "8 1/4 in", "order a slump of 8 1/4 in, by admixture"),
        (", water_reducer: none", "6 in", "order a slump of 6 in, by a mid-range water reducer"),
        (", water_reducer: mid-range", "6 in", "order a slump of 6 in, by admixture"),
    ],
)
def test_the_slump_that_is_wanted_is_ordered_with_what_gives_it(mix: str, placed: str, ordered: str) -> None:
    (comment,) = review_by("water-on-site", pad(f"mix: {{slump: 4 in{mix}}}\npour: {{slump: {placed}}}")).comments
    assert [plain(remedy.says, "us", both=False) for remedy in comment.remedies] == [
        ordered,
        "place it at 4 in, as it is ordered",
    ]


@pytest.mark.parametrize(("drop", "ways"), [(0.4, 2), (1.0, 1)])
def test_wetter_concrete_is_not_ordered_for_a_ramp(drop: float, ways: int) -> None:
    """4 % and 10 % over 10 ft: on the steeper it walks downhill (common practice)."""
    text = pad(
        "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]}\n"
        f"heights: {{finish: {{A: 100, B: 100, C: {100 - drop}, D: {100 - drop}}}}}\n"
        "mix: {slump: 4 in}\npour: {slump: 6 in}",
        outline="[A, B, C, D]",
    )
    (comment,) = review_by("water-on-site", text).comments
    assert len(comment.remedies) == ways
    assert plain(comment.remedies[-1].says, "us", both=False) == "place it at 4 in, as it is ordered"
