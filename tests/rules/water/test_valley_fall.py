"""The rule `valley-fall`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, says, told, value, weights
from design_text import review_by
from judged import margins
from slabs.water import GARDEN, V_LINE
from slabwright.text.words import plain
from sloped import RECTANGLE, VALLEY, all_followed, design

FOOT = 0.3048


def gully(xs: list[float], heights: list[float], unit: str = "ft") -> str:
    """A valley along the middle of 20 by 12 ft, through a point at each of ``xs``."""
    points = {**RECTANGLE, **{f"V{k}": (x, 6.0) for k, x in enumerate(xs, 1)}}
    finish = {**dict.fromkeys("ABCD", 100.5), **{f"V{k}": height for k, height in enumerate(heights, 1)}}
    line = f"  lines: [{{name: gully, kind: valley, along: [{', '.join(list(points)[4:])}]}}]"
    return design(points, finish, "rest: lawn", more=line, unit=unit)


@pytest.mark.parametrize(
    ("drop", "expected"),
    [  # over 20 ft; Union County IL 34-6-5: 0.5 %; common practice by hand: 1 %
        (0.0, [("hold", "slope_at_least")]),
        (0.094, [("hold", "slope_at_least")]),  # a twentieth less is let pass
        (0.096, [("caution", "hand_formed_slope_at_least")]),
        (0.2, []),
        (-0.2, []),  # it falls the other way
    ],
)
def test_valley_fall(drop: float, expected: list[tuple[str, str]]) -> None:
    heights = {**dict.fromkeys("ABCD", 100.5), "V1": 100.0, "V2": 100.0 - drop}
    text = design(VALLEY, heights, GARDEN, more=V_LINE)
    assert weights(review_by("valley-fall", text)) == expected
    assert all_followed("valley-fall", text).comments == ()


@pytest.mark.parametrize(
    ("beside", "told"), [("building", "turn it round, 2 3/8 in down from V1 to V2"), ("lawn", "lower V1")]
)
def test_a_valley_is_not_told_to_fall_deeper_to_a_wall(beside: str, told: str) -> None:
    heights = {**dict.fromkeys("ABCD", 100.5), "V1": 100.0, "V2": 100.05}
    edges = f"run: [D, V1, A], beside: {beside}, name: west side\nrest: lawn"
    comment = only(review_by("valley-fall", design(VALLEY, heights, edges, "A B C D V1", more=V_LINE)))
    assert advice(comment).replace("about ", "").startswith(told)


APRON = {"A": (0, 0), "B": (6.4, 0), "C": (6.4, 1.5), "E": (6.4, 8.5), "G": (0, 8.5), "D": (0, 1.5)}
BACK = {"A": 99.93, "B": 99.93, "C": 99.90, "D": 99.90, "E": 99.97, "G": 99.97}  # both parts fall to the line D-C


@pytest.mark.parametrize(
    ("heights", "lines", "sides", "expected"),
    [
        ({}, "[]", "rest: gravel", [("caution", "undrawn_slope_at_least")]),  # level: nobody needs to draw it
        ({}, "[{kind: grade break, along: [D, C]}]", "rest: gravel", [("caution", "undrawn_slope_at_least")]),
        ({}, "[{kind: valley, along: [D, C]}]", "rest: gravel", [("hold", "slope_at_least")]),  # told once
        ({}, "[]", "run: [A, B], beside: building\nrest: gravel", []),  # there `fall-from-building` judges it
        ({"C": 99.86}, "[]", "rest: gravel", []),  # 0.6 %: a shallow fold, not struck off as a valley
        ({"C": 99.86}, "[{kind: valley, along: [D, C]}]", "rest: gravel", [("caution", "hand_formed_slope_at_least")]),
        ({"A": 99.87, "B": 99.87}, "[]", "rest: gravel", []),  # a grade break that falls on
        ({"A": 99.904, "B": 99.904}, "[]", "rest: gravel", []),  # 0.3 %: no side falls to it
        ({"C": 99.83, "B": 99.86, "E": 99.90}, "[{kind: grade break, along: [D, C]}]", "rest: gravel", []),  # 1.1 %
    ],
)
def test_a_low_line_is_a_valley_drawn_as_one_or_not(
    heights: dict[str, float], lines: str, sides: str, expected: list[tuple[str, str]]
) -> None:
    text = design(APRON, BACK | heights, sides, "A B C E G D", more=f"  lines: {lines}", unit="m")
    assert weights(review_by("valley-fall", text)) == expected
    assert all_followed("valley-fall", text).comments == ()


@pytest.mark.parametrize(
    ("gullies", "found"),
    [("GH", []), ("G", [("caution", "undrawn_slope_at_least")]), ("H", [("caution", "undrawn_slope_at_least")])],
)
def test_a_level_line_from_drain_to_drain_is_no_valley_until_it_is_drawn(
    gullies: str, found: list[tuple[str, str]]
) -> None:
    points = {"A": (0, 0), "B": (12, 0), "C": (12, 6), "D": (0, 6), "G": (3, 3), "H": (9, 3)}
    heights = {**dict.fromkeys("ABCD", 4.06), "G": 4.0, "H": 4.0}
    drains = ", ".join(f"{{kind: drain, at: {at}, rim: 4.0}}" for at in gullies)
    text = design(points, heights, "rest: curb", more=f"fixtures: [{drains}]", unit="m")
    assert weights(review_by("valley-fall", text)) == found


def test_each_stretch_of_a_valley_is_judged_and_what_lies_below_it_goes_down_too() -> None:
    points = {**RECTANGLE, "V1": (0, 6), "V2": (10, 6), "V3": (20, 6)}
    heights = {**dict.fromkeys("ABCD", 100.5), "V1": 100.0, "V2": 99.98, "V3": 99.83}  # 0.2 %, then 1.5 %
    text = design(points, heights, GARDEN, more="  lines: [{name: gully, kind: valley, along: [V1, V2, V3]}]")
    comment = only(review_by("valley-fall", text))
    assert comment.at.name == "gully V1-V2"
    assert says(comment) == "gully hardly falls from V1 to V2"
    # 1 % of 10 ft is 0.10: V2 to 99.90, and V3 with it
    assert (value(comment, "to1") / FOOT, value(comment, "to2") / FOOT) == pytest.approx((99.90, 99.75))
    assert all_followed("valley-fall", text).comments == ()


def test_a_ridge_is_no_valley() -> None:
    heights = {**dict.fromkeys("ABCD", 100.0), "V1": 100.5, "V2": 100.5}
    text = design(VALLEY, heights, GARDEN, more=V_LINE.replace("kind: valley", "kind: ridge"))
    assert (
        review_by("valley-fall", text).does_not_apply[0].reason
        == "no valley is drawn, and no line lies lower than both its sides"
    )


# valley-fall: a drain within 0.6 m takes the water of the end (common practice)


@pytest.mark.parametrize(("off", "building"), [(3.0, False), (3.1, True)])
def test_a_low_line_that_nobody_drew_counts_from_ten_feet_off_a_building(off: float, building: bool) -> None:
    """3.048 m: nearer to it `fall-from-building` judges the line."""
    y = 1.5 + off
    points = {**APRON, "E": (6.4, y), "G": (0, y)}
    heights = {**BACK, "E": 99.90 + 0.01 * off, "G": 99.90 + 0.01 * off}
    text = design(points, heights, "run: [E, G], beside: building\nrest: gravel", "A B C E G D", unit="m")
    assert bool(review_by("valley-fall", text).comments) is building


@pytest.mark.parametrize(
    ("off", "end", "told"),
    [
        (0.59, 29.99, "let it fall"),
        (0.61, 29.99, "turn it round"),
        (0.61, 30.0, "turn it round"),  # level, it is read from its first point to its last
    ],
)
def test_valley_fall_a_drain_near_the_end_takes_its_water(off: float, end: float, told: str) -> None:
    points = {**RECTANGLE, "V1": (0, 6), "VM": (10, 6), "V2": (20, 6)}
    heights = {**dict.fromkeys("ABCD", 30.5), "V1": 30.2, "VM": 30.0, "V2": end}
    edges = "run: [B, V2], beside: wall, name: back wall\nrun: [V2, C], beside: wall, name: other wall\nrest: lawn"
    text = design(points, heights, edges, "A B V2 C D", "  lines: [{kind: valley, along: [V1, VM, V2]}]", unit="m")
    comment = only(review_by("valley-fall", f"{text}\nfixtures: [{{kind: drain, at: [{20 - off}, 6]}}]"))
    assert comment.decide is not None
    assert plain(comment.decide, "metric").startswith(told)
    assert plain(comment.decide, "metric").endswith("there" if off < 0.6 else "back wall takes no water")


@pytest.mark.parametrize(
    ("xs", "heights", "says", "to_pass"),
    [
        # 7.5 ft at 1 % are 0.075 ft: 99.825 and down to the next hundredth, and what lies below it as much
        ([0, 5, 12.5, 20], [100.0, 99.9, 99.88, 99.7], "gully hardly falls from V2 to V3",
         "lower V3 by about 3/4 in, to 99.82 ft; lower V4 by about 3/4 in, to 99.64 ft"),
        ([0, 7.5, 15, 20], [99.7, 99.88, 99.9, 100.0], "gully hardly falls from V3 to V2",
         "lower V2 by about 3/4 in, to 99.82 ft; lower V1 by about 3/4 in, to 99.64 ft"),
        # past the low point it rises, and what lies beyond that stays
        ([0, 5, 10, 15, 20], [100.0, 99.98, 99.8, 100.1, 99.7], "gully hardly falls from V1 to V2",
         "lower V2 by about 3/8 in, to 99.95 ft; lower V3 by about 3/8 in, to 99.77 ft"),
        ([0, 5, 10, 15, 20], [99.7, 100.1, 99.8, 99.98, 100.0], "gully hardly falls from V5 to V4",
         "lower V4 by about 3/8 in, to 99.95 ft; lower V3 by about 3/8 in, to 99.77 ft"),
        # a level stretch is brought down at its far end
        ([0, 10, 20], [100.0, 100.0, 99.8], "gully hardly falls from V1 to V2",
         "lower V2 by about 1 1/4 in, to 99.90 ft; lower V3 by about 1 1/4 in, to 99.70 ft"),
        ([0, 10, 20], [100.2, 100.0, 100.0], "gully hardly falls from V2 to V3",
         "lower V3 by about 1 1/4 in, to 99.90 ft"),
        # down to its first point, and from the second to its last, which is another way
        ([0, 10, 20], [99.9, 99.95, 99.7], "gully hardly falls from V2 to V1", "lower V1 by about 5/8 in, to 99.85 ft"),
        # three feet are a stretch
        ([0, 3, 20], [100.0, 99.99, 99.5], "gully hardly falls from V1 to V2",
         "lower V2 by about 1/4 in, to 99.97 ft; lower V3 by about 1/4 in, to 99.48 ft"),
    ],
)  # fmt: skip
def test_a_flat_stretch_of_a_valley_is_told_with_all_that_lies_below_it(
    xs: list[float], heights: list[float], says: str, to_pass: str
) -> None:
    comment = only(review_by("valley-fall", gully(xs, heights)))

    assert told(comment) == (says, to_pass)
    ends = sorted(says.split()[-3::2])
    assert comment.at.name == f"gully {'-'.join(ends)}"
    assert [x / FOOT for x, _ in comment.at.shape] == pytest.approx([xs[int(name[1:]) - 1] for name in ends])


def test_level_points_below_a_flat_stretch_go_down_with_it() -> None:
    first, second = sorted(
        review_by("valley-fall", gully([0, 5, 10, 15], [100.0, 99.98, 99.9, 99.9])).comments,
        key=lambda one: one.at.name,
    )

    # 1 % of 5 ft: V2 to 99.95, V3 and V4, level with it, as much lower
    assert advice(first) == "; ".join(
        f"lower V{k} by about 3/8 in, to {to} ft" for k, to in ((2, "99.95"), (3, "99.87"), (4, "99.87"))
    )
    assert told(second) == ("gully hardly falls from V3 to V4", "lower V4 by about 5/8 in, to 99.85 ft")


def test_two_points_in_one_spot_are_no_stretch_of_a_valley() -> None:
    """V2 and V3 lie 4 mm apart and level; what comes after them is judged, and called after the first of the two."""
    comment = only(review_by("valley-fall", gully([0, 2, 2.004, 6], [30.0, 29.9, 29.9, 29.89], unit="m")))

    assert comment.at.name == "gully V2-V4"
    assert comment.at.shape == ((2.004, 6.0), (6.0, 6.0))


def test_a_valley_without_a_name_is_called_so() -> None:
    text = gully([0, 20], [100.0, 99.95]).replace("name: gully, ", "")

    assert plain(only(review_by("valley-fall", text)).says, "us") == "valley hardly falls from V1 to V2"


def test_a_level_low_line_across_a_walk_is_a_caution() -> None:
    """A run of a ramp comes down on a landing that rises beyond: its water finds the edge, common practice."""
    points = {"A": (0, 0), "U": (0, 5), "V": (5, 5), "B": (5, 0), "C": (5, 15), "D": (0, 15)}
    heights = {"A": 100.07, "B": 100.07, "U": 100.0, "V": 100.0, "C": 100.8, "D": 100.8}
    text = design(points, heights, "rest: lawn", "A B V C D U", use="walk")
    assert weights(review_by("valley-fall", text)) == [("caution", "undrawn_slope_at_least")]


@pytest.mark.parametrize(("long", "counts"), [(0.90, False), (0.93, True)])
def test_a_low_line_that_nobody_drew_counts_from_three_feet_on(long: float, counts: bool) -> None:
    points = {name: (min(x, long), y) for name, (x, y) in APRON.items()}
    text = design(points, BACK, "rest: gravel", "A B C E G D", unit="m")
    assert bool(review_by("valley-fall", text).comments) is counts


def test_heights_are_asked_for_where_a_valley_is_drawn() -> None:
    (silent,) = review_by("valley-fall", design(VALLEY, {"A": 100.0}, GARDEN, more=V_LINE)).not_shown
    assert silent.add[0].startswith("heights.finish")


@pytest.mark.parametrize(
    ("reach", "drop", "expected"),
    [  # 12 ft between the ends; a drain takes the water a foot past its end (common practice), and 20 cm are let pass
        (12.0, 0.0, []),
        (10.5, 0.0, []),
        (9.9, 0.0, [("caution", "past_drain_slope_at_least")]),
        (9.9, 0.061, []),  # half a percent, Union County IL 34-6-5
        (6.0, 0.0, [("caution", "past_drain_slope_at_least")]),
        (4.0, 0.0, [("hold", "slope_at_least")]),  # no drain of this valley any more
    ],
)
def test_a_drain_that_stops_short_of_the_end_of_its_valley(
    reach: float, drop: float, expected: list[tuple[str, str]]
) -> None:
    points = {"A": (0.0, 0.0), "B": (12.0, 0.0), "C": (12.0, 20.0), "D": (0.0, 20.0), "V1": (0.0, 10.0)}
    points["V2"] = (12.0, 10.0)
    heights = {**dict.fromkeys("ABCD", 100.5), "V1": 100.0, "V2": 100.0 - drop}
    line = "  lines: [{name: low line, kind: valley, along: [V1, V2]}]\n"
    drain = f"channels: [{{along: [V1, [{reach}, 10]], width: 6 in, rim: 100.0, invert: 99.6, outlet: 99.5}}]"
    report = review_by("valley-fall", design(points, heights, "rest: lawn", "A B V2 C D V1", more=line + drain))
    assert weights(report) == expected
    if reach == 9.9 and expected:
        assert says(only(report)) == "the drain along low line stops short of V2, and what is left of it hardly falls"
        assert advice(only(report)).startswith("carry the drain on to V2")


def test_what_a_drain_leaves_of_a_stretch_falls_as_that_stretch_does() -> None:
    """1 % down to V2 and 1 % up again: each stretch falls enough, though V1 and V3 are level."""
    points = {"A": (0, 0), "B": (24, 0), "C": (24, 20), "D": (0, 20), "V1": (0, 10), "V2": (12, 10), "V3": (24, 10)}
    heights = {**dict.fromkeys("ABCD", 100.5), "V1": 100.0, "V2": 99.88, "V3": 100.0}
    line = "  lines: [{name: low line, kind: valley, along: [V1, V2, V3]}]\n"
    drain = "channels: [{along: [V1, [9.9, 10]], width: 6 in, rim: 100.0, invert: 99.6, outlet: 99.5}]"
    text = design(points, heights, "rest: lawn", "A B V3 C D V1", more=line + drain)
    assert review_by("valley-fall", text).comments == ()
    (left,) = (one for one in margins("valley-fall", text) if one.limit.name == "past_drain_slope_at_least")
    assert (left.at.name, left.shown.si) == ("low line at V2", pytest.approx(0.01))
