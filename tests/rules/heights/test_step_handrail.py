"""The rule `step-handrail`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from design_text import review_by
from slabs.heights import porch


@pytest.mark.parametrize(
    ("flight", "ground", "outcome"),
    [  # IRC 2018 R311.7.8, quoted: four or more
        ("riser: 6 in, count: 2", 101.5, "met"),
        ("riser: 6 in, count: 3, handrail: no", 102.0, "comments"),
        ("riser: 6 in, count: 3, handrail: yes", 102.0, "does_not_apply"),
        ("riser: 6 in, count: 3", 102.0, "not_shown"),
    ],
)
def test_a_handrail_from_four_risers(flight: str, ground: float, outcome: str) -> None:
    report = review_by("step-handrail", porch(f"tread: 12 in, {flight}", ground))
    assert [name for name in ("met", "comments", "does_not_apply", "not_shown") if getattr(report, name)] == [outcome]


def test_the_first_of_two_flights_of_which_nothing_is_said_is_asked_about() -> None:
    text = porch("tread: 12 in, riser: 6 in, count: 3", 102.0)
    start, end = text.index("steps: [") + 8, text.index("]}", text.index("steps: ["))
    other = text[start:end].replace("name: flight", "name: other flight")
    (silent,) = review_by("step-handrail", f"{text[:end]}, {other}{text[end:]}").not_shown
    assert silent.add == ("thickness.steps, handrail: whether a handrail stands beside flight, such as true",)
