"""Rules about water: every branch, every limit, what they say when the plan does not, and what following them does."""

from __future__ import annotations

import math

import pytest
from comments import only, value, weights
from design_text import plan_of, review_by
from slabwright.review.report import Comment
from slabwright.text.words import plain
from sloped import BOW, L_SHAPE, RECTANGLE, VALLEY, all_followed, design, plane

FOOT, INCH = 0.3048, 0.0254
GARDEN = "rest: lawn, ground: 90"
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: lawn, ground: 90"
V_LINE = "  lines: [{name: valley, kind: valley, along: [V1, V2]}]"


def slope_to(x: float, y: float = 0.0) -> dict[str, float]:
    return plane(RECTANGLE, x, y)


def says(comment: Comment) -> str:
    return plain(comment.says, "us", both=False)


RULES = (
    "least-fall",
    "fall-from-building",
    "standing-water",
    "water-ends-where-it-may",
    "valley-fall",
    "ground-dams-edge",
)


@pytest.mark.parametrize("rule", RULES)
def test_corners_without_heights_are_named(rule: str) -> None:
    text = design(VALLEY, {"A": 100, "C": 99.7, "V1": 99.6}, HOUSE, more=V_LINE)
    (silent,) = review_by(rule, text).not_shown
    assert silent.add[0].startswith("heights.finish: the finish height at B, D, V2 (valley valley), such as 99.90")


@pytest.mark.parametrize("rule", ["least-fall", "fall-from-building", "water-ends-where-it-may"])
def test_a_floor_under_a_roof_is_not_asked_to_shed_rain(rule: str) -> None:
    text = design(RECTANGLE, slope_to(0), HOUSE, use="shop floor")
    assert review_by(rule, text).does_not_apply[0].reason == "no rain falls on it"


# least-fall


@pytest.mark.parametrize(
    ("fall", "expected"),
    [  # SDDC-TEA parking tutorial: 0.5 % is the lowest grade of concrete; PCA parking guide: 1 %
        (0.0047, [("hold", "slope_at_least")]),  # a twentieth less is let pass
        (0.0048, [("caution", "usual_slope_at_least")]),
        (0.0094, [("caution", "usual_slope_at_least")]),
        (0.0096, []),
        (0.01, []),
        (0.125 / 12, []),  # 1/8 in/ft
    ],
)
@pytest.mark.parametrize("way", [(0.0, -1.0), (1.0, 0.0), (0.6, -0.8)])
def test_least_fall_keeps_the_published_slopes_whichever_way(
    fall: float, expected: list[tuple[str, str]], way: tuple[float, float]
) -> None:
    report = review_by("least-fall", design(RECTANGLE, slope_to(fall * way[0], fall * way[1]), GARDEN))
    assert weights(report) == expected


def test_half_a_percent_each_way_is_seven_tenths() -> None:
    # trade-magazine Q&A on combined slopes: 0.5 % and 0.5 % give 0.71 %
    comment = only(review_by("least-fall", design(RECTANGLE, slope_to(0.005, 0.005), GARDEN)))
    assert comment.shown.si == pytest.approx(0.0071, abs=0.00005)
    assert comment.weight == "caution"


def test_least_fall_tells_a_connected_part_once_and_names_it() -> None:
    heights = {"A": 100, "B": 100, "V1": 100, "V2": 100, "C": 99.88, "D": 99.88}
    lines = "  lines: [{name: break, kind: grade break, along: [V1, V2]}]"
    comment = only(review_by("least-fall", design(VALLEY, heights, GARDEN, more=lines)))
    assert says(comment) == "water lies on the part between A, B, V1, V2: it hardly falls"
    assert comment.at.shape[0] == comment.at.shape[-1]


@pytest.mark.parametrize("edges", [GARDEN, HOUSE, "run: [B, C], beside: street\nrest: curb", "rest: curb"])
@pytest.mark.parametrize("slope", [(0.0, 0.0), (0.002, 0.0), (0.003, -0.004), (0.004, 0.007)])
def test_least_fall_followed_is_met(edges: str, slope: tuple[float, float]) -> None:
    report = all_followed("least-fall", design(RECTANGLE, slope_to(*slope), edges))
    assert report.comments == ()


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_least_fall_followed_falls_away_from_the_house(unit: str) -> None:
    text = design(RECTANGLE, slope_to(0.0), HOUSE, unit=unit)
    comment = only(review_by("least-fall", text))
    assert {comment.to_pass.values["name1"], comment.to_pass.values["name2"]} == {"C", "D"}
    # 1 % over 12 ft is 0.12 ft; over 12 m, 0.12 m
    down = 0.12 * (FOOT if unit == "ft" else 1.0)
    assert [value(comment, "off1"), value(comment, "off2")] == pytest.approx([down, down])


def test_least_fall_of_more_than_six_points_tells_the_fall() -> None:
    points = {f"p{k}": (10 * math.cos(k * math.pi / 5), 10 * math.sin(k * math.pi / 5)) for k in range(10)}
    comment = only(review_by("least-fall", design(points, dict.fromkeys(points, 100.0), GARDEN, " ".join(points))))
    assert plain(comment.to_pass, "us", both=False) == "let the whole slab fall 1 1/4 in over 10'-0\" at least"


# fall-from-building


@pytest.mark.parametrize(
    ("away", "expected", "words"),
    [  # IRC R401.3, exception: paving within 10 ft at least 2 % away
        (-0.01, [("hold", "away_at_least")], "water runs to house wall"),
        (0.0, [("hold", "away_at_least")], "the slab does not fall away from house wall"),
        (0.0047, [("hold", "away_at_least")], "the slab falls too little away from house wall"),
        (0.0189, [("hold", "code_away_at_least")], "the slab falls too little away from house wall"),
        (0.0191, [], ""),  # a twentieth is let pass
        (0.02, [], ""),
        (0.25 / 12, [], ""),  # 1/4 in/ft
    ],
)
def test_fall_from_building_keeps_the_code(away: float, expected: list[tuple[str, str]], words: str) -> None:
    report = review_by("fall-from-building", design(RECTANGLE, slope_to(0.03, -away), HOUSE))
    assert weights(report) == expected
    assert [says(comment) for comment in report.comments] == [words] * len(expected)


def test_fall_from_building_looks_at_each_wall() -> None:
    # falls 2 % away from D-E and along E-F
    edges = "run: [D, E], beside: building, name: east\nrun: [E, F], beside: building, name: south\nrest: lawn"
    report = review_by("fall-from-building", design(L_SHAPE, plane(L_SHAPE, -0.02, 0), edges, "A B C D E F"))
    assert [comment.at.name for comment in report.comments] == ["south"]
    assert review_by("fall-from-building", design(RECTANGLE, slope_to(0), GARDEN)).does_not_apply


def test_a_court_that_falls_to_a_drain_in_its_middle_falls_away_from_its_walls() -> None:
    """Beyond each low line the slab lies level along the wall, but for the rounding of its heights."""
    points = {"A": (0, 0), "B": (6, 0), "C": (6, 4), "D": (0, 4), "G": (3, 2)}
    heights = {"A": -0.04, "B": -0.04, "C": -0.04, "D": -0.04, "G": -0.10}
    lines = "".join(f"\n    - {{kind: valley, along: [{corner}, G]}}" for corner in "ABCD")
    edges = "run: [A, B], beside: building, name: wing\nrest: wall"
    fixtures = "\nfixtures: [{kind: drain, name: point drain, at: G, rim: -0.10}]"
    text = design(points, heights, edges, "A B C D", f"  lines:{lines}{fixtures}", unit="m")
    assert weights(review_by("fall-from-building", text)) == []


@pytest.mark.parametrize(
    ("rim", "found"),
    [  # the drain lies 5 ft from two walls and 10 ft from the others; a court that its drain leaves is no court
        (99.89, set()),  # 1.1 % off the far walls
        (99.91, {("caution", "court_to_drain_at_least"), ("caution", "low_line_to_drain_at_least")}),  # 0.9 %
        (None, {("hold", "code_away_at_least"), ("caution", "low_line_at_least")}),
    ],
)
def test_a_court_with_a_drain_off_its_middle_is_asked_what_water_needs_to_get_there(
    rim: float | None, found: set[tuple[str, str]]
) -> None:
    """Drained courts are sound, and 1 % takes water to a drain, common practice."""
    points = {"A": (0, 0), "B": (15, 0), "C": (15, 15), "D": (0, 15), "G": (5, 5)}
    heights = {**dict.fromkeys("ABCD", 100.0), "G": rim or 99.89}
    lines = "".join(f"\n    - {{kind: valley, along: [{corner}, G]}}" for corner in "ABCD")
    fixtures = f"\nfixtures: [{{kind: drain, at: G, rim: {rim}}}]" if rim else ""
    edges = "".join(f"run: [{a}, {b}], beside: building, name: wall {a}\n" for a, b in ("AB", "BC", "CD", "DA"))
    text = design(points, heights, edges.rstrip(), "A B C D", f"  lines:{lines}{fixtures}")
    assert set(weights(review_by("fall-from-building", text))) == found


def test_water_passes_the_slanting_sides_of_a_bay_window() -> None:
    """At 45 degrees 2 % straight out is 1.4 % off the side, and water still runs off at 2 %."""
    points = {"A": (0, 0), "B": (6, 0), "C": (8, 2), "D": (12, 2), "E": (14, 0), "F": (20, 0), "G": (20, 10)}
    points |= {"H": (0, 10)}
    edges = "run: [A, B, C, D, E, F], beside: building\nrest: lawn"
    text = design(points, plane(points, 0, -0.02), edges, " ".join(points))
    assert review_by("fall-from-building", text).comments == ()
    slow = design(points, plane(points, 0, -0.016), edges, " ".join(points))
    assert {one.limit.name for one in review_by("fall-from-building", slow).comments} == {"code_away_at_least"}


@pytest.mark.parametrize(
    ("out", "along", "aside", "found"),
    [  # a bay 10 ft wide, its sides ``out`` ft long; both numbers are percent of fall along the sides, and to one side
        (6, 2, 0, []),
        (8, 2, 0, []),
        (8.5, 2, 0, ["away_at_least", "away_at_least"]),  # a wall of its own
        (6, 0.9, 0, ["away_at_least", "away_at_least", "code_away_at_least"]),  # water is slow to leave
        (6, 2, 1, ["return_away_at_least"]),  # it falls to one side of the bay
    ],
)
def test_water_may_pass_the_sides_of_a_bay(out: float, along: float, aside: float, found: list[str]) -> None:
    points = {"A": (0, 0), "B": (10, 0), "C": (10, out), "D": (20, out), "E": (20, 0), "F": (30, 0), "G": (30, 20)}
    points |= {"H": (0, 20)}
    edges = "run: [B, C], beside: building\nrun: [C, D], beside: building\nrun: [D, E], beside: building\nrest: lawn"
    text = design(points, plane(points, -aside / 100, -along / 100), edges, " ".join(points))
    assert sorted(one.limit.name for one in review_by("fall-from-building", text).comments) == found


@pytest.mark.parametrize(
    ("along", "found"),
    [  # percent of fall past a bay whose sides lie aslant, 3 ft out over 2 ft: along them 2.08 % come to 1.73 %
        (2.08, []),
        (1.2, ["code_away_at_least"] * 3),  # 1.2 % off the front, and past both sides
    ],
)
def test_water_may_pass_the_aslant_sides_of_a_bay(along: float, found: list[str]) -> None:
    points = {"A": (0, 0), "B": (24, 0), "C": (24, 14), "D": (17.5, 14), "E": (15.5, 11), "F": (8.5, 11)}
    points |= {"G": (6.5, 14), "H": (0, 14)}
    edges = "run: [D, E], beside: building\nrun: [E, F], beside: building\nrun: [F, G], beside: building\nrest: lawn"
    text = design(points, plane(points, 0, along / 100), edges, " ".join(points))
    assert sorted(one.limit.name for one in review_by("fall-from-building", text).comments) == found


@pytest.mark.parametrize(
    ("channel", "deep", "found"),
    [  # a court between two wings, level across, that falls to a channel from wing to wing
        (0.13, 6.0, []),  # 2.2 % over 6 ft
        (0.03, 6.0, ["away_at_least", "away_at_least"]),  # 0.5 %: water stands along the wings
        (0.26, 12.0, ["away_at_least", "away_at_least"]),  # it runs along a wall for 12 ft
    ],
)
def test_water_may_run_along_a_wall_to_a_channel_near_by(channel: float, deep: float, found: list[str]) -> None:
    points = {"A": (0, 0), "B": (18, 0), "Q": (18, deep), "C": (18, 2 * deep), "D": (0, 2 * deep), "P": (0, deep)}
    heights = {at: 100 - channel * (at in "PQ") for at in points}
    edges = "run: [B, Q, C], beside: building, name: east\nrun: [D, P, A], beside: building, name: west\nrest: wall"
    slot = f"channels: [{{along: [P, Q], width: 5 in, rim: {100 - channel}, invert: [99.4, 99.2], outlet: 98}}]"
    report = review_by("fall-from-building", design(points, heights, edges, " ".join(points), slot))
    assert [one.limit.name for one in report.comments] == found


@pytest.mark.parametrize("slope", [(0.0, 0.0), (0.004, 0.01), (0.03, -0.015), (-0.02, 0.02)])
@pytest.mark.parametrize("unit", ["ft", "m"])
def test_fall_from_building_followed_is_met(slope: tuple[float, float], unit: str) -> None:
    report = all_followed("fall-from-building", design(RECTANGLE, slope_to(*slope), HOUSE, unit=unit))
    assert report.comments == ()


def test_fall_from_building_followed_reaches_past_a_valley_that_lies_too_high() -> None:
    heights = {"A": 100.2, "B": 99.8, "C": 99.8, "D": 100.2, "V1": 100.15, "V2": 99.75}
    edges = "run: [A, B], beside: building, name: house wall\nrest: lawn"
    text = design(VALLEY, heights, edges, more=V_LINE)
    comment = only(review_by("fall-from-building", text))
    assert (comment.to_pass.values["name1"], comment.to_pass.values["name2"]) == ("V1", "V2")
    assert all_followed("fall-from-building", text).comments == ()


def test_stretches_of_one_straight_wall_are_told_once_and_put_right_together() -> None:
    points = {**RECTANGLE, "H": (12, 0)}
    edges = "run: [A, H, B], beside: building, name: house wall\nrest: lawn"
    text = design(points, {**slope_to(0.01, 0.005), "H": 100.12}, edges)
    comment = only(review_by("fall-from-building", text))
    assert (comment.to_pass.values["name1"], comment.to_pass.values["name2"]) == ("C", "D")
    assert all_followed("fall-from-building", text).comments == ()


def test_a_bowed_wall_is_told_the_fall_and_no_heights() -> None:
    edges = "run: [C, D], beside: building, name: bow window\nrest: lawn"
    outline = "A, B, C, {arc_to: D, through: M}"
    comments = review_by("fall-from-building", design(BOW, plane(BOW, 0, 0.01), edges, outline)).comments
    assert comments and all(
        plain(comment.to_pass, "us", both=False).startswith("let the slab fall 2 1/2 in away from bow window")
        for comment in comments
    )


# standing-water


def yard(depth: float, half: float = 2.0, more: str = "") -> str:
    """A yard 20 ft square with a pyramid ``depth`` ft deep and 2 ``half`` ft wide in its middle, all else at 1 %."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 20), "D": (0, 20), "M": (10, 10)}
    points |= {f"Q{k}": (10 + half * x, 10 + half * y) for k, (x, y) in enumerate([(-1, -1), (1, -1), (1, 1), (-1, 1)])}
    heights = {**dict.fromkeys("ABCD", 99.9), **dict.fromkeys(("Q0", "Q1", "Q2", "Q3"), 100.0), "M": 100.0 - depth}
    line = "  lines: [{name: rim, kind: ridge, along: [Q0, Q1, Q2, Q3, Q0]}]\n"
    return design(points, heights, GARDEN, more=line + more)


@pytest.mark.parametrize(
    ("depth", "half", "expected"),
    [  # common practice: over 1/8 in a caution; over 1/4 in, or 10 ft2 as well, a hold
        (0.125 / 12, 3.0, []),
        (0.126 / 12, 1.5, [("caution", "shallow_depth_at_most")]),
        (0.126 / 12, 1.6, [("hold", "area_at_most")]),  # 3.2 ft square is 10.24 ft2
        (0.250 / 12, 1.5, [("caution", "shallow_depth_at_most")]),
        (0.251 / 12, 1.0, [("hold", "depth_at_most")]),
    ],
)
def test_standing_water_by_depth_and_area(depth: float, half: float, expected: list[tuple[str, str]]) -> None:
    report = review_by("standing-water", yard(depth, half))
    assert weights(report) == expected
    shown = [comment.shown.si for comment in report.comments]
    if expected and expected[0][1] == "area_at_most":
        assert shown == pytest.approx([(2 * half * FOOT) ** 2])
    else:
        assert shown == pytest.approx([depth * FOOT] * len(expected))


def test_a_drain_at_the_lowest_point_empties_it() -> None:
    assert weights(review_by("standing-water", yard(0.1))) == [("hold", "depth_at_most")]
    assert review_by("standing-water", yard(0.1, more="fixtures: [{kind: drain, at: M}]")).comments == ()


def test_standing_water_names_the_wall_it_stands_against() -> None:
    edges = (
        "run: [C, D], beside: building, name: barn\nrun: [B, C], beside: wall\nrun: [D, A], beside: wall\nrest: lawn"
    )
    comment = only(review_by("standing-water", design(RECTANGLE, slope_to(0, -0.01), edges)))
    assert says(comment).startswith("water stands at ") and "against edge B-C (wall), barn" in says(comment)
    assert comment.shown.si == pytest.approx(0.12 * FOOT)  # 1 % over 12 ft


@pytest.mark.parametrize("depth", [0.02, 0.1, 0.3])
def test_standing_water_followed_is_met_and_falls(depth: float) -> None:
    report = all_followed("standing-water", yard(depth))
    assert report.comments == ()


def test_many_low_spots_are_told_in_nine() -> None:
    # a waffle: 11 of the inner points of a grid stand an inch or so low, each deeper than the one before
    points = {"A": (0, 0), "B": (26, 0), "C": (26, 4), "D": (0, 4)} | {f"M{k}": (2 * k + 3, 2) for k in range(11)}
    points |= {f"R{k}{side}": (2 * k + 2, y) for k in range(12) for side, y in (("s", 0), ("n", 4))}
    heights = {**dict.fromkeys(points, 100.0), **{f"M{k}": 99.9 - 0.01 * k for k in range(11)}}
    lines = "  lines:\n" + "\n".join(f"    - {{name: r{k}, kind: ridge, along: [R{k}s, R{k}n]}}" for k in range(12))
    report = review_by("standing-water", design(points, heights, GARDEN, more=lines))
    assert len(report.comments) == 9
    last = next(one for one in report.comments if "more" in one.at.name)
    assert last.at.name == "low spot at M2 and 2 more"  # the 8 largest are M10 to M3, of the rest M2 is the deepest
    assert says(last) == "water stands at M2, and in 2 more places"
    assert plain(last.to_pass, "us", both=False) == "put a drain at M2, its rim at 99.88 ft"


def test_where_no_water_can_leave_how_high_it_stands_is_not_judged() -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), "rest: wall")
    assert review_by("standing-water", text).does_not_apply[0].reason == "no edge, drain or opening takes water at all"


def test_under_a_roof_only_the_rims_of_drains_are_judged() -> None:
    garage = yard(0.1).replace("use: patio", "use: garage floor")
    assert review_by("standing-water", garage).does_not_apply
    drain = "\nfixtures: [{kind: drain, name: floor drain, at: M, rim: 99.94}]"
    assert weights(review_by("standing-water", garage + drain)) == [("hold", "rim_above_at_most")]


@pytest.mark.parametrize(
    ("rim", "at", "expected"),
    [  # the finish lies at 99.90 ft in the middle; common practice: flush to 1/4 in low, over 1/2 in low wants a dish
        (99.90, "M", []),
        (99.91, "M", [("hold", "rim_above_at_most")]),
        (99.88, "M", []),
        (99.85, "M", [("caution", "rim_below_at_most")]),
        (100.01, "Q0", [("caution", "idle_rim_above_at_most")]),  # no water comes to the ridge
    ],
)
def test_the_rim_of_a_drain_lies_flush_or_a_little_low(rim: float, at: str, expected: list[tuple[str, str]]) -> None:
    fixtures = "fixtures: [{kind: drain, at: M}]" if at != "M" else "fixtures: []"
    more = fixtures[:-1] + (", " if at != "M" else "") + f"{{kind: drain, name: tried, at: {at}, rim: {rim}}}]"
    report = review_by("standing-water", yard(0.1, more=more))
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(abs(rim - (99.90 if at == "M" else 100.0)) * FOOT)


def test_a_rim_is_set_flush() -> None:
    fixture = "fixtures: [{kind: drain, name: yard drain, at: M, rim: 99.95}]"
    comment = only(review_by("standing-water", yard(0.1, more=fixture)))
    assert plain(comment.to_pass, "us", both=False) == "set the rim of yard drain flush, at 99.90 ft"
    ((edit,),) = [remedy.edits for remedy in comment.remedies]
    assert edit.path == "fixtures[0].rim"


def test_near_a_building_an_eighth_of_an_inch_is_too_much() -> None:
    heights = {**dict.fromkeys("ABCD", 100.0), "V1": 100.0, "V2": 100.0, "M": 99.985}
    lines = "  lines: [{name: dip, kind: valley, along: [V1, M, V2]}]"
    points = {**VALLEY, "M": (10, 6)}
    edges = "run: [A, B], beside: building, name: house\nrest: lawn"
    comments = review_by("standing-water", design(points, heights, edges, more=lines)).comments
    assert [(one.weight, one.limit.name) for one in comments] == [("hold", "depth_by_building_at_most")]
    garden = design(points, heights, "rest: lawn", more=lines)
    assert [one.limit.name for one in review_by("standing-water", garden).comments] == ["area_at_most"]


@pytest.mark.parametrize(("along", "expected"), [(0.0, 1), (0.0046, 1), (0.0049, 0), (0.005, 0)])
def test_water_that_comes_to_a_curb_runs_along_it(along: float, expected: int) -> None:
    """SDDC-TEA parking tutorial: 0.5 % is the lowest grade of concrete; a twentieth less is let pass."""
    edges = "run: [C, D], beside: curb, name: kerb\nrest: lawn"
    comments = review_by("standing-water", design(RECTANGLE, slope_to(-along, -0.02), edges)).comments
    told = [one for one in comments if one.limit.name == "along_dam_at_least"]
    assert len(told) == expected
    for comment in told:
        assert comment.shown.si == pytest.approx(along, abs=1e-9)


# water-ends-where-it-may


@pytest.mark.parametrize(
    ("edge", "expected"),
    [
        ("beside: property line", [("caution", "lot_line_share_at_most")]),
        ("beside: property line, takes_water: false", [("hold", "barred_share_at_most")]),
        ("beside: property line, takes_water: true", []),
        ("beside: lawn, takes_water: false", [("hold", "barred_share_at_most")]),
        ("beside: lawn", []),
        ("beside: street", []),
    ],
)
def test_water_over_an_edge_by_what_is_said_of_it(edge: str, expected: list[tuple[str, str]]) -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), f"run: [C, D], {edge}, name: far side\nrest: lawn")
    report = review_by("water-ends-where-it-may", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(1.0)
        assert comment.working[0].result.si == pytest.approx(240 * FOOT**2)


@pytest.mark.parametrize(
    ("name", "fall", "found"), [("garage floor", 0.02, 1), ("garage floor", -0.02, 0), ("garage apron", 0.02, 0)]
)
def test_water_may_not_run_to_an_old_floor_under_a_roof(name: str, fall: float, found: int) -> None:
    """Its lip of half an inch turns no water away: it runs along the door, and the wind drives it in."""
    edges = f"run: [A, B], beside: existing slab, name: {name}, planned_step: true, ground: 100.04\nrest: lawn"
    comments = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(0.0, fall), edges)).comments
    assert [one.weight for one in comments] == ["hold"] * found
    for one in comments:
        assert says(one) == "water runs to garage floor, which takes none"
        assert plain(one.to_pass, "us").startswith("let the slab fall away from garage floor")


def test_a_valley_that_ends_at_a_silent_property_line_is_a_hold() -> None:
    heights = {"A": 100.2, "B": 100.0, "C": 100.0, "D": 100.2, "V1": 100.08, "V2": 99.88}
    edges = "run: [B, C], beside: property line, name: lot line\nrest: lawn"
    comment = only(review_by("water-ends-where-it-may", design(VALLEY, heights, edges, more=V_LINE)))
    assert (comment.weight, comment.limit.name) == ("hold", "barred_share_at_most")
    assert says(comment) == "a valley ends at lot line, which takes no water"
    assert "drain" in plain(comment.to_pass, "us")


def test_a_hair_over_one_percent_falls_short_and_the_tip_of_a_corner_does_not() -> None:
    # falls k across for 1 along: over 12 ft the water of a strip 12 k ft wide, in the mean half of it, leaves sideways
    edges = "run: [B, C], beside: property line, takes_water: false\nrest: lawn"
    for part, expected in ((0.0099, []), (0.0101, [("hold", "barred_share_at_most")])):
        k = part * 2 * 20 / 12
        report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(-0.02 * k, -0.02), edges))
        assert weights(report) == expected


def test_a_slab_with_no_way_out_is_told_so_once() -> None:
    edges = "run: [C, D], beside: property line\nrest: wall"
    comment = only(review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(0, -0.02), edges)))
    assert (comment.weight, comment.limit.name, comment.shown.si) == ("hold", "ways_out_at_least", 0)
    assert says(comment) == "nothing at the slab takes its water"


def test_an_edge_of_which_nothing_is_said_is_asked_about() -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), "run: [C, D], beside: existing slab, name: old walk\nrest: lawn")
    (silent,) = review_by("water-ends-where-it-may", text).not_shown
    assert silent.add == ("edges, takes_water: whether water may leave over old walk, true or false",)
    text = design(RECTANGLE, slope_to(0, -0.02), "run: [A, B], beside: lawn")
    (silent,) = review_by("water-ends-where-it-may", text).not_shown
    assert silent.add == ("edges: what stands beside C-D, such as lawn",)


@pytest.mark.parametrize("slope", [(-0.01, -0.02), (0.0, -0.03), (0.0, 0.0)])
def test_raised_as_told_the_edge_sheds_nothing(slope: tuple[float, float]) -> None:
    edges = "run: [C, D], beside: property line, takes_water: false, name: lot line\nrest: lawn"
    text = design(RECTANGLE, slope_to(*slope), edges)
    assert all_followed("water-ends-where-it-may", text).comments == ()


# valley-fall


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
    assert plain(comment.to_pass, "us", both=False).replace("about ", "").startswith(told)


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
    assert review_by("valley-fall", text).does_not_apply[0].reason == "no valley is drawn"


# ground-dams-edge


@pytest.mark.parametrize(
    ("beside", "below", "expected"),
    [  # common practice: 1/2 in above lawn; flush is all a street asks
        ("lawn", -0.01, [("hold", "lip_at_least")]),
        ("lawn", 0.0, [("caution", "lip_above_ground_at_least")]),
        ("lawn", 0.43 / 12, [("caution", "lip_above_ground_at_least")]),
        ("lawn", 0.5 / 12, []),
        ("gravel", 0.4 / 12, [("caution", "lip_above_ground_at_least")]),
        ("gravel, wheels_cross: true", 0.0, []),
        ("gravel, wheels_cross: true", -0.01, [("hold", "lip_at_least")]),
        ("property line, takes_water: true", 0.4 / 12, [("caution", "lip_above_ground_at_least")]),
        ("street", 0.0, []),
        ("street", -0.01, [("hold", "lip_at_least")]),
        ("existing slab, takes_water: true", 0.0, []),
        ("trench drain", 0.5 / 12, []),
    ],
)
def test_what_each_thing_beside_an_edge_is_asked(beside: str, below: float, expected: list[tuple[str, str]]) -> None:
    low = 100 - 0.02 * 12
    edges = f"run: [C, D], beside: {beside}, name: low side, ground: {low - below:.10f}\nrest: lawn"
    report = review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), edges))
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(below * FOOT, abs=1e-6)
        if beside == "street":  # nobody digs a street down: the edge comes up to it, to the hundredth above
            assert low - below - 1e-6 <= value(comment, "to1") / FOOT < low - below + 0.01
            assert says(comment).startswith("the street stands above the slab at ")
        else:  # an inch below the slab, or level with it where wheels cross, to the hundredth below
            cut = 0 if "wheels" in beside else 1 / 12
            assert low - cut - 0.01 < value(comment, "low") / FOOT <= low - cut + 1e-6


def test_ground_is_told_the_height_that_is_low_enough_and_it_is() -> None:
    edges = "run: [C, D], beside: lawn, name: low side, ground: %s\nrest: lawn"
    text = design(RECTANGLE, slope_to(-0.005, -0.02), edges % "99.90")
    comment = only(review_by("ground-dams-edge", text))
    low = f"{value(comment, 'low') / FOOT:.2f}"
    assert review_by("ground-dams-edge", design(RECTANGLE, slope_to(-0.005, -0.02), edges % low)).comments == ()


def test_one_height_typed_for_a_whole_edge_is_brought_low_enough_for_its_lowest_point() -> None:
    points = {**RECTANGLE, "H": (12, 12)}
    edges = "run: [C, H, D], beside: lawn, name: low side, ground: %s\nrest: lawn"
    text = design(points, slope_to(-0.005, -0.02), edges % "99.90")
    comments = review_by("ground-dams-edge", text).comments
    low = {round(value(comment, "low") / FOOT, 6) for comment in comments}
    assert low == {99.57}  # C at 99.66, less an inch
    assert review_by("ground-dams-edge", design(points, slope_to(-0.005, -0.02), edges % "99.57")).comments == ()


def test_ground_over_the_shared_end_of_two_stretches_is_told_once() -> None:
    points = {**RECTANGLE, "H": (12, 12)}
    edges = "run: [C, H, D], beside: lawn, name: low side, ground: [99.5, 99.9, 99.5]\nrest: lawn"
    comment = only(review_by("ground-dams-edge", design(points, slope_to(0, -0.02), edges)))
    assert says(comment) == "the lawn stands above the slab at H and dams the water"


def test_high_ground_where_no_water_would_go_is_no_dam() -> None:
    # the bank behind the high side and the beds along both sides stand above the slab
    edges = "run: [C, D], beside: lawn, name: low side, ground: 99.5\nrest: bed, ground: 100.8"
    assert review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), edges)).comments == ()


def test_ground_that_is_not_shown_is_asked_for() -> None:
    report = review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), "rest: lawn"))
    assert report.not_shown[0].add == ("edges, ground: the height beside edge C-D (lawn), such as 99.30",)
    report = review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), "rest: wall"))
    assert report.does_not_apply[0].reason == "water comes to no edge that takes it"


def test_what_is_said_of_water_holds_for_plans_in_meters_too() -> None:
    edges = "run: [C, D], beside: lawn, name: low side, ground: 99.75\nrest: lawn"
    comment = only(review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), edges, unit="m")))
    assert plan_of(design(RECTANGLE, slope_to(0, -0.02), edges, unit="m")).system == "metric"
    assert says(comment) == "the lawn lies too little below the slab at C"
    assert value(comment, "low") == pytest.approx(99.734)  # 99.76 less 25.4 mm, to the millimeter below
