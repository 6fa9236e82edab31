"""The rule `hands-for-area`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("pour", "needed"),
    [
        # 20 x 30 ft are 600 ft2; 100 ft2 in an hour by each hand, common practice
        ("crew: 2, finishing: 3 h", None),
        ("crew: 1, finishing: 3 h", 2),
        ("crew: 2, finishing: 2.86 h", None),  # 104.9 ft2: a twentieth more is met, nobody counts closer
        ("crew: 2, finishing: 2.85 h", 3),  # 105.3 ft2
        # 4 h at 70 °F, 2 h at 90 °F: rule of thumb
        ("crew: 1, weather: {concrete: 70 °F, air: 90 °F}", 2),
        ("crew: 2, weather: {concrete: 90 °F}", 3),
        ("crew: 2, weather: {air: 90 °F}", 3),
        ("crew: 3, weather: {air: 90 °F}", None),
        # of a day that nobody knows a mild one is taken, 4 h: 400 ft2 for each hand
        ("crew: 1", 2),
        ("crew: 2", None),
    ],
)
def test_hands_for_area(pour: str, needed: int | None) -> None:
    slab = pad(f"pour: {{{pour}}}", outline="[[0, 0], [30, 0], [30, 20], [0, 20]]")
    report = review_by("hands-for-area", slab)

    assert weights(report) == ([("caution", "in_an_hour_at_most")] if needed else [])
    if needed:
        assert plain(only(report).to_pass, "us") == f"have {needed} hands"


def test_hands_for_area_is_silent_where_nobody_counts_hands() -> None:
    for pour in ("", "pour: {finishing: 4 h}"):
        assert review_by("hands-for-area", pad(pour)).does_not_apply
