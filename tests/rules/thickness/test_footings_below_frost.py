"""The rule `footings-below-frost`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, weights
from design_text import pad, review_by
from judged import finding
from slabwright.text.words import plain


@pytest.mark.parametrize(("footing", "found"), [("42 in", []), ("41 in", [("caution", "below_frost_at_least")])])
def test_footings_go_below_frost(footing: str, found: list[tuple[str, str]]) -> None:
    """IRC R403.1.4.1, recalled: the depth is the building office's."""
    more = f"site: {{frost_depth: 42 in}}\nfixtures: [{{kind: post, at: [4, 4], footing: {footing}}}]"
    assert weights(review_by("footings-below-frost", pad(more))) == found


@pytest.mark.parametrize(("room", "found"), [("", 0), (", enclosed: true", 0), (", enclosed: false", 1)])
def test_frost_goes_in_where_nobody_heats(room: str, found: int) -> None:
    """A post in a garage that is neither heated nor closed in freezes as one outside does (common practice)."""
    more = f"site: {{frost_depth: 42 in{room}}}\nfixtures: [{{kind: column, at: [4, 4], footing: 12 in}}]"
    assert len(review_by("footings-below-frost", pad(more, "garage floor")).comments) == found


def wall(depth: str, ground: str, heights: str = "heights: {finish: {A: 100, B: 100, C: 100, D: 100}}") -> str:
    text = pad(
        f"points: {{A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}}\nsite: {{frost_depth: 42 in}}\n{heights}\n"
        f"edges: [{{run: [A, B, C, D], beside: lawn{ground}}}, {{rest: building}}]",
        outline="[A, B, C, D]",
    )
    deep = f"{{design: 4 in, thickened_edges: [{{run: [A, B, C, D], depth: {depth}, taper: 0 in}}]}}"
    return text.replace("{design: 4 in}", deep)


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
    report = review_by("footings-below-frost", wall(depth, f", ground: {100 - 20 / 12}"))
    assert weights(report) == found
    for comment in report.comments:
        assert advice(comment) == "make that edge 62 in deep"


def test_an_edge_is_dug_to_whole_inches() -> None:
    """20.5 in stand out of the ground, and 42 in are asked below it: 62.5 in by hand."""
    one = finding("footings-below-frost", wall("40 in", f", ground: {100 - 20.5 / 12}"))
    assert advice(one) == "make that edge 63 in deep"


def test_an_edge_is_dug_to_whole_centimeters_on_a_metric_job() -> None:
    """515 mm stand out of the ground, and 1 m is asked below it: 1.515 m."""
    text = wall("1.2 m", ", ground: 99.485").replace("ft, height: ft", "m, height: m").replace("42 in", "1 m")
    one = finding("footings-below-frost", text.replace("4 in", "100 mm").replace("taper: 0 in", "taper: 0 mm"))
    assert advice(one, "metric") == "make that edge 1520 mm deep"


@pytest.mark.parametrize(
    ("ground", "heights"),
    [(", ground: 100.5", "heights: {finish: {A: 100, B: 100, C: 100, D: 100}}"), (", ground: 99", ""), ("", "")],
)
def test_a_frost_wall_that_nothing_shows_of_is_measured_from_its_top(ground: str, heights: str) -> None:
    """42 in are asked, and an inch is let pass: ground above the slab, or whose height nobody knows, adds none."""
    assert weights(review_by("footings-below-frost", wall("41 in", ground, heights))) == []
    one = finding("footings-below-frost", wall("40 in", ground, heights))
    assert advice(one) == "make that edge 42 in deep"


def test_a_town_may_ask_for_more_below_frost() -> None:
    post = pad("site: {frost_depth: 42 in}\nfixtures: [{kind: post, at: [4, 4], footing: 44 in}]")
    asked = [
        plain(finding("footings-below-frost", text, below_frost_at_least="6 in").to_pass, "us", both=False)
        for text in (post, wall("44 in", ""))
    ]
    assert [text.removesuffix(", or have an engineer protect it from frost") for text in asked] == [
        "dig the footing of post down to 48 in",
        "make that edge 48 in deep",
    ]
