"""The rule `base-depth`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, told, weights
from design_text import pad, review_by
from judged import judged
from slabs.thickness import CORNERS, SQUARE, design, dug
from slabwright.formulas.units import INCH
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

MORE = {"E": (5, 0), "F": (10, 5), "G": (5, 10)}


def heights(base: str, finish: str = "A: 100, B: 100, C: 100, D: 100") -> str:
    return f"heights: {{finish: {{{finish}}}, base: {{{base}}}}}"


def level(feet: float, corner: float | None = None) -> str:
    return ", ".join([*(f"{p}: {feet:.9f}" for p in "ABC"), f"D: {corner or feet:.9f}"])


def lowered(one: Finding) -> dict[str, float]:
    """Points named in the advice, and the heights to write there, m."""
    told = one.to_pass.values
    names = {key.removeprefix("name"): str(value) for key, value in told.items() if key.startswith("name")}
    heights = {number: told[f"to{number}"] for number in names}
    return {names[number]: value.si for number, value in heights.items() if isinstance(value, Amount)}


def shot(shorts: dict[str, float], t: str = "100 mm", more: str = "") -> str:
    """A slab of 100 mm, finished at 1.000 m, that is so many mm short over each base shot."""
    points = SQUARE % "".join(f", {name}: [{x}, {y}]" for name, (x, y) in MORE.items())
    base = ", ".join(f"{name}: {0.9 + short / 1000:.4f}" for name, short in shorts.items())
    finish = "{A: 1.000, B: 1.000, C: 1.000, D: 1.000}"
    return pad(f"{points}heights: {{finish: {finish}, base: {{{base}}}}}{more}", unit="m", outline=CORNERS, thick=t)


@pytest.mark.parametrize(
    ("thickness", "mean", "found"),
    [
        # ACI 117-10 sec. 4.5.4: mean at least t - 3/8 in; 3.625, 4.625, 5.625 in printed for 4, 5, 6 in
        ("4 in", 3.625, []),
        ("4 in", 3.61, ["mean_short_at_most"]),
        ("5 in", 4.625, []),
        ("6 in", 5.61, ["mean_short_at_most"]),
        ("4 in", 9.0, []),  # there is no upper limit
    ],
)
def test_base_depth_mean(thickness: str, mean: float, found: list[str]) -> None:
    report = review_by("base-depth", design(thickness, heights(level(100 - mean / 12))))

    assert [c.limit.name for c in report.comments if c.limit.name == "mean_short_at_most"] == found


@pytest.mark.parametrize(
    ("depth", "found"),
    [
        # sec. 4.5.4: no sample under t - 3/4 in, 3.25 in of 4; before 2006 t - 1/4 in (ACI 117-90)
        (3.75, []),
        (3.74, [("caution", "spot_short_preferred_at_most")]),
        (3.26, [("caution", "spot_short_preferred_at_most")]),
        (3.24, [("hold", "spot_short_at_most")]),
        (2.75, [("hold", "spot_short_at_most")]),  # reported: a 4 in floor found 2-3/4 to 5 in
    ],
)
def test_base_depth_at_one_corner(depth: float, found: list[tuple[str, str]]) -> None:
    report = review_by("base-depth", design("4 in", heights(level(100 - 5 / 12, 100 - depth / 12))))

    assert weights(report) == found
    if found:
        assert only(report).at.name == "the base at D"
        assert only(report).shown.si == pytest.approx((4 - depth) * INCH, abs=1e-5)
        assert only(report).at.shape == ((0, pytest.approx(10 * 12 * INCH)),)


def test_base_depth_names_the_base_heights_that_leave_the_whole_thickness() -> None:
    comment = only(review_by("base-depth", design("4 in", heights(level(99.5, 99.75)))))

    # 100.00 - 4 in is 99.667 ft; written in hundredths, on the deep side
    assert advice(comment) == "lower the base at D by about 1 1/8 in, to 99.66 ft"
    assert not review_by("base-depth", design("4 in", heights(level(99.5, 99.66)))).comments


def test_base_depth_finds_the_thin_spot_over_a_valley_between_level_shots() -> None:
    finish = "A: 100, B: 100, C: 100, D: 100, M: 99.9"
    report = review_by("base-depth", design("4 in", heights(level(99.6667), finish)))
    comment = only(report)

    # each shot has its 4 in (by hand); that the base runs level between them is not shown, so that it is no hold
    assert weights(report) == [("caution", "spot_short_preferred_at_most")]
    assert comment.at.name == "the base at M"
    assert comment.shown.si == pytest.approx(0.1 * 12 * INCH, abs=1e-4)
    assert advice(comment) == "shoot the base at M too: it may stand no higher than 99.56 ft"


def test_base_depth_names_a_point_once_though_it_was_shot_twice() -> None:
    # the stake at M was shot again 3 mm beside it, and stands a hundredth higher there
    text = design("4 in", heights(level(99.5) + ", M: 99.75, M2: 99.76"))
    text = text.replace("M: [5, 5]", "M: [5, 5], M2: [5.01, 5]")
    comment = only(review_by("base-depth", text))

    assert advice(comment) == "lower the base at M by about 1 1/4 in, to 99.66 ft"


def test_base_depth_says_what_to_do_where_too_many_spots_are_high() -> None:
    shots = ", ".join(f"P{n}: 99.8" for n in range(7)) + ", M: 99.8"
    points = ", ".join(f"P{n}: [{1 + n}, {1 + n * n / 6:.3f}]" for n in range(7))
    text = design("4 in", f"heights: {{finish: {{A: 100, B: 100, C: 100, D: 100}}, base: {{{shots}}}}}")
    comment = review_by("base-depth", text.replace("M: [5, 5]", f"M: [5, 5], {points}")).comments[0]

    assert advice(comment) == "take about 1 5/8 in off the base wherever it stands high"


@pytest.mark.parametrize(
    ("more", "keys"),
    [
        ("", ["heights.finish", "heights.base"]),
        ("heights: {finish: {A: 1, B: 1, C: 1, D: 1}}", ["heights.base"]),
        ("heights: {finish: {A: 1, B: 1, C: 1}, base: {A: 0.6, B: 0.6, C: 0.6}}", ["heights.finish"]),
    ],
)
def test_base_depth_names_what_is_not_shown(more: str, keys: list[str]) -> None:
    (entry,) = review_by("base-depth", design(more=more)).not_shown

    assert [add.partition(":")[0] for add in entry.add] == keys


def test_nobody_shaves_less_than_a_quarter_inch_off_a_base() -> None:
    """ACI 117-90: 1/4 in (6.35 mm) is left alone at a spot, and then the mean falls no more short than that."""
    mean, spot = judged("base-depth", shot({"A": 30, "B": 20, "C": 20, "D": 5}))

    assert isinstance(mean, Finding)
    assert isinstance(spot, Finding)
    assert (mean.limit.name, spot.limit.name) == ("mean_short_at_most", "spot_short_at_most")
    assert set(lowered(mean)) == set(lowered(spot)) == {f"the base at {name}" for name in "ABC"}
    assert list(lowered(mean).values()) == [pytest.approx(0.9)] * 3


def test_a_spot_with_the_whole_depth_is_left_as_it_is() -> None:
    mean, _ = judged("base-depth", shot({"A": 30, "B": 20, "C": 20, "D": 0}))

    assert isinstance(mean, Finding)
    assert set(lowered(mean)) == {f"the base at {name}" for name in "ABC"}


@pytest.mark.parametrize(("shots", "told"), [("ABCDEF", 6), ("ABCDEFG", 0)])
def test_six_heights_are_told_and_no_more(shots: str, told: int) -> None:
    mean, _ = judged("base-depth", shot(dict.fromkeys(shots, 15.0)))

    assert isinstance(mean, Finding)
    assert len(lowered(mean)) == told


def test_base_depth_under_a_thickened_edge_is_told_as_on_the_flat() -> None:
    """2.76 in of 4 along A-B, whose edge goes 4 in deeper: an inch and a quarter lower, to the hundredth of a foot."""
    text = dug("A: 99.77, B: 99.77, C: 99.66, D: 99.66", "finish: {A: 100, B: 100, C: 100, D: 100}, ")
    edge = "{design: 4 in, thickened_edges: [{run: [A, B], depth: 8 in, taper: 1 ft}]}"
    comments = review_by("base-depth", text.replace("{design: 4 in}", edge)).comments
    assert {advice(one) for one in comments} == {
        "lower the base at A by about 1 3/8 in, to 99.66 ft; lower the base at B by about 1 3/8 in, to 99.66 ft"
    }


def test_the_base_is_folded_under_a_channel_as_the_slab_is() -> None:
    """24 ft by 14 ft, 5 in, down to a channel 4 ft off the low end: every shot stands 5 in under the finish."""
    text = pad(
        "points: {A: [0, 0], B: [24, 0], E: [24, 4], C: [24, 14], D: [0, 14], F: [0, 4], X: [12, 9]}\n"
        "channels: [{along: [F, E], width: 6 in, rim: 99.48}]\n"
        + heights(
            "A: 99.154, B: 99.154, E: 99.064, F: 99.064, C: 99.284, D: 99.284, X: 99.174",
            "A: 99.57, B: 99.57, E: 99.48, F: 99.48, C: 99.70, D: 99.70",
        ),
        outline="[A, B, E, C, D, F]",
        thick="5 in",
    )
    assert weights(review_by("base-depth", text)) == []


@pytest.mark.parametrize(
    ("base", "says", "to_do"),
    [  # half of it is drawn 6 in, 99.50 under 100.00, and half 4 in, 99.67
        (
            "A: 99.5, B: 99.5, C: 99.6667, D: 99.75",
            "only 3 in of concrete fits over the base at D, where 4 in is drawn",
            "lower the base at D by about 1 1/8 in, to 99.66 ft",
        ),
        (
            "A: 99.6, B: 99.5, C: 99.66, D: 99.66",
            "only about 4 3/4 in of concrete fits over the base at A, where 6 in is drawn",
            "lower the base at A by about 1 1/4 in, to 99.50 ft",
        ),
    ],
)
def test_the_thinnest_spot_is_told_with_what_is_drawn_there(base: str, says: str, to_do: str) -> None:
    text = pad(
        "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], P: [0, 5], Q: [10, 5]}\n"
        "parts: [{name: apron, corners: [A, B, Q, P], thickness: 6 in}]\n" + heights(base),
        outline="[A, B, Q, C, D, P]",
    )

    assert told(only(review_by("base-depth", text))) == (says, to_do)


def trench(a: float, b: float, corner: float = 10.0) -> str:
    """A slab of 6 in, 10 in along A-B; inches of depth over the shots at A and B, and 6 in at C and D."""
    finish = "A: 100, B: 100, C: 100, D: 100"
    base = f"A: {100 - a / 12:.9f}, B: {100 - b / 12:.9f}, C: 99.5, D: 99.5"
    edge = f"{{run: [A, B], depth: {corner} in, width: 12 in, taper: 2 ft}}"
    return design(f"{{design: 6 in, thickened_edges: [{edge}]}}", heights(base, finish))


@pytest.mark.parametrize(
    ("a", "b", "shown"),
    [  # a shot may be taken on the base beside the trench, or on the bottom of it; in by how much it is short of either
        (6.0, 6.0, None),
        (10.0, 10.0, None),
        (10.0, 6.0, None),
        (9.0, 10.0, 1.0),
        (5.0, 10.0, 1.0),
        (7.9, 10.0, None),  # nearer to the base beside it, and low
        (8.1, 10.0, 1.9),
    ],
)
def test_a_shot_on_the_bottom_of_a_thickened_edge_counts_as_that(a: float, b: float, shown: float | None) -> None:
    found = [c for c in review_by("base-depth", trench(a, b)).comments if c.limit.name == "spot_short_at_most"]
    assert [c.shown.si / INCH for c in found] == ([] if shown is None else [pytest.approx(shown, abs=1e-4)])


def test_what_is_short_in_the_trench_is_told_of_the_whole_edge() -> None:
    comment = only(review_by("base-depth", trench(9.0, 10.0)))
    assert told(comment)[0] == "only 9 in of concrete fits over the base at A, where 10 in is drawn"
    assert lowered(comment) == {"the base at A": pytest.approx(99.16 * 12 * INCH)}  # 99.1667, down


@pytest.mark.parametrize("typed", ["4 1/2 in", "4.5 in"])
def test_what_is_drawn_is_told_as_it_is_typed(typed: str) -> None:
    """An inch and a half short all over."""
    for comment in review_by("base-depth", design(typed, heights(level(99.75)))).comments:
        assert plain(comment.says, "us", both=False).endswith(f"where {typed} is drawn")
    assert len(review_by("base-depth", design(typed, heights(level(99.75)))).comments) == 2


def test_base_heights_of_three_corners_are_told_and_no_others() -> None:
    """Where the base is not known nothing is told to be dug: the shots cover half of the slab, two inches short."""
    comment = review_by("base-depth", design("4 in", heights("A: 99.8333, B: 99.8333, C: 99.8333"))).comments[0]
    assert set(comment.to_pass.values) >= {"name1", "name2", "name3"}
    assert "name4" not in comment.to_pass.values


# between the shots


def channel(middle: str = "", base: str = "A: 99.667, B: 99.667, C: 99.667, D: 99.667") -> str:
    """A slab of 10 ft by 10, 4 in thick, that falls 0.1 ft from two sides to a channel in the middle."""
    return design(
        "4 in",
        f"heights: {{finish: {{A: 100, B: 100, C: 100, D: 100, K: 99.9, L: 99.9}}, base: {{{base}{middle}}}}}\n"
        "channels: [{along: [K, L], width: 6 in, rim: 99.9, invert: [99.3, 99.2], outlet_at: L, outlet: 99}]",
    ).replace("M: [5, 5]", "K: [0, 5], L: [10, 5], M: [5, 5]")


def test_under_a_channel_nobody_shoots_the_base_of_the_slab() -> None:
    assert not review_by("base-depth", channel()).comments  # the trench goes down to 99.3 - by hand, 7.2 in


def test_a_grate_that_stands_proud_lifts_no_base() -> None:
    assert not review_by("base-depth", channel().replace("rim: 99.9,", "rim: 99.98,")).comments


def test_a_base_that_was_shot_under_a_channel_counts_as_shot() -> None:
    # 99.9 - 99.667 ft is 2.8 in (by hand): 1.2 in short of 4 in, at two shots
    report = review_by("base-depth", channel(", K: 99.667, L: 99.667"))

    assert ("hold", "spot_short_at_most") in weights(report)
    assert advice(report.comments[-1]).startswith("lower the base at K by about 1 1/4 in")


def test_between_the_shots_it_asks_for_one_more() -> None:
    """A valley 2.4 in deep, shot beside its ends and half way up its sides, each shot 4 in under the finish by hand.

    Straight from side to side the base lies at 99.587 ft under the middle, which is 2.6 in below 99.80 ft.
    """
    finish = "A: 100, B: 100, C: 100, D: 100, K: 99.8, L: 99.8"
    base = "A: 99.6667, B: 99.6667, C: 99.6667, D: 99.6667, E: 99.4867, F: 99.4867, G: 99.5867, H: 99.5867"
    valley = "lines: [{kind: valley, along: [K, L]}]"
    text = design("4 in", f"heights: {{finish: {{{finish}}}, {valley}, base: {{{base}}}}}").replace(
        "M: [5, 5]", "K: [0, 5], L: [10, 5], E: [0, 4.5], F: [10, 4.5], G: [5, 2], H: [5, 8]"
    )
    report = review_by("base-depth", text)

    assert weights(report) == [("caution", "spot_short_preferred_at_most")]
    assert only(report).at.name == "the base at (5.00 ft, 5.00 ft)"
    assert advice(only(report)) == "shoot the base at (5.00 ft, 5.00 ft) too: it may stand no higher than 99.46 ft"
