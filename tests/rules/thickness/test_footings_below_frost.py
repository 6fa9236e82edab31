"""The rule `footings-below-frost`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabwright.text.words import plain


@pytest.mark.parametrize(("footing", "found"), [("42 in", []), ("41 in", [("caution", "below_frost_at_least")])])
def test_footings_go_below_frost(footing: str, found: list[tuple[str, str]]) -> None:
    """IRC R403.1.4.1, recalled: the depth is the building office's."""
    more = f"site: {{frost_depth: 42 in}}\nfixtures: [{{kind: post, at: [4, 4], footing: {footing}}}]"
    assert weights(review_by("footings-below-frost", pad(more))) == found


@pytest.mark.parametrize(
    ("depth", "found"),
    [  # 20 in stand out of the ground, and 42 in are asked below it; an edge under 2 ft floats
        ("62 in", []),
        ("61 in", []),  # an inch is how closely a trench is dug
        ("60 in", [("caution", "below_frost_at_least")]),
        ("24 in", [("caution", "below_frost_at_least")]),
        ("23 in", []),
    ],
)
def test_a_frost_wall_is_measured_from_the_ground_beside_it(depth: str, found: list[tuple[str, str]]) -> None:
    text = pad(
        "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
        "site: {frost_depth: 42 in}\nheights: {finish: {A: 100, B: 100, C: 100, D: 100}}\n"
        f"edges: [{{run: [A, B, C, D], beside: lawn, ground: {100 - 20 / 12}}}, {{rest: building}}]",
        outline="[A, B, C, D]",
    )
    deep = f"{{design: 4 in, thickened_edges: [{{run: [A, B, C, D], depth: {depth}, taper: 0 in}}]}}"
    report = review_by("footings-below-frost", text.replace("{design: 4 in}", deep))
    assert weights(report) == found
    for comment in report.comments:
        assert plain(comment.to_pass, "us", both=False) == "make that edge 62 in deep"
