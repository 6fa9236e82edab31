"""The rule `fall-from-building`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, places, says, told, value, weights
from design_text import review_by
from judged import judged
from slabs.water import GARDEN, HOUSE, V_LINE, slope_to
from slabwright.text.words import plain
from sloped import BOW, L_SHAPE, RECTANGLE, VALLEY, all_followed, design, plane


def along_wall(turned: bool, middle: float, edges: str = "run: [A, H, B], beside: building, name: barn") -> str:
    """A wall of 20 ft with a point H midway, set back by ``middle`` ft; all falls 1 % away from it."""
    points = {**RECTANGLE, "H": (10, middle)}
    heights = {name: 100 - 0.01 * y for name, (_, y) in points.items()}
    if turned:
        points = {name: (-y, x) for name, (x, y) in points.items()}
    return design(points, heights, f"{edges}\nrest: lawn", "A H B C D")


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
    assert places(report) == ["south"]
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
    ("side", "found"),
    [  # a court of 24 by 20 ft, open along A-B: 0.24 ft in the 12 ft from a wing to V are 2 % (IRC R401.3)
        (99.76, []),
        (99.67, [("hold", "code_away_at_least")]),  # 0.15 ft in 12 ft: 1.25 %
        (99.45, [("hold", "away_at_least")]),
    ],
)
@pytest.mark.parametrize("turned", [False, True])
def test_valleys_out_of_the_corners_of_a_court_part_the_falls_of_its_walls(
    side: float, found: list[tuple[str, str]], turned: bool
) -> None:
    """Beyond its valley the water before a wall is the next wall's: there the slab may fall along the first.

    What is found is found at either wing.
    """
    points = {"A": (0.0, 0.0), "V": (12.0, 0.0), "B": (24.0, 0.0), "C": (24.0, 20.0), "D": (0.0, 20.0)}
    heights = {"A": side, "V": 99.52, "B": side, "C": 100.0, "D": 100.0}
    drawn = {name: (y, x) for name, (x, y) in points.items()} if turned else points
    lines = "  lines: [{kind: valley, along: [D, V]}, {kind: valley, along: [C, V]}]"
    edges = (
        "run: [B, C], beside: building, name: east wing\nrun: [C, D], beside: building, name: house\n"
        "run: [D, A], beside: building, name: west wing\nrest: lawn"
    )
    assert weights(review_by("fall-from-building", design(drawn, heights, edges, "A V B C D", lines))) == found * 2


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
    report = review_by("fall-from-building", text)
    assert set(weights(report)) == found
    ends = [one.at for one in (*report.comments, *report.met) if one.at and one.at.name.startswith("low line")]
    assert [one.name for one in ends] == ["low line before wall A"]  # the same low line lies before wall D


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
        (6, 1.85, 1, ["away_at_least", "code_away_at_least"]),  # what it falls to the wall helps no water past it
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
    assert limits_broken(report) == found


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


def test_a_leg_in_one_plane_with_the_slab_at_the_wall_is_tipped_along_with_it() -> None:
    """A patio of 10 ft and a leg of 4 ft beyond: nobody leaves the leg as it was and folds it along a diagonal."""
    points = {"A": (0, 0), "B": (14, 0), "C": (14, 10), "D": (8, 10), "E": (8, 14), "F": (0, 14)}
    edges = "run: [A, B], beside: building, name: house wall\nrest: lawn"
    text = design(points, plane(points, 0, -0.008), edges, "A B C D E F")
    comment = only(review_by("fall-from-building", text))
    told = {comment.to_pass.values[f"name{n}"]: round(value(comment, f"to{n}") / 0.3048, 4) for n in range(1, 5)}
    assert told == {"C": 99.8, "D": 99.8, "E": 99.72, "F": 99.72}  # 2 % of 10 and of 14 ft
    assert all_followed("fall-from-building", text).comments == ()


@pytest.mark.parametrize(
    ("slipped", "told"),
    [  # 2 % of 12 ft are 0.24 ft; the other three corners are sound, and stay
        ({"D": 99.94}, {"D": 99.76}),
        ({"C": 100.1}, {"C": 99.76}),
        ({"C": 99.9, "D": 99.9}, {"C": 99.76, "D": 99.76}),
        ({"C": 99.77, "D": 99.9}, {"D": 99.77}),  # 1.92 %, and a twentieth is let pass
    ],
)
def test_one_height_that_slipped_is_brought_into_the_plane_of_the_rest(
    slipped: dict[str, float], told: dict[str, float]
) -> None:
    text = design(RECTANGLE, {**slope_to(0, -0.02), **slipped}, HOUSE)
    comment = only(review_by("fall-from-building", text))
    values = comment.to_pass.values
    names = [slot for slot in values if slot.startswith("name")]
    assert {values[one]: round(value(comment, f"to{one[4:]}") / 0.3048, 4) for one in names} == told
    assert all_followed("fall-from-building", text).comments == ()


def test_a_bowed_wall_is_told_the_fall_and_no_heights() -> None:
    edges = "run: [C, D], beside: building, name: bow window\nrest: lawn"
    outline = "A, B, C, {arc_to: D, through: M}"
    comments = review_by("fall-from-building", design(BOW, plane(BOW, 0, 0.01), edges, outline)).comments
    assert comments and all(
        advice(comment).startswith("let the slab fall 2 1/2 in away from bow window") for comment in comments
    )


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize(
    ("middle", "told_of"),
    [  # the two stretches turn by twice this over ten feet: less than a thousandth either way is one wall
        (0.0, 1),
        (0.004, 1),
        (-0.004, 1),
        (0.03, 2),
        (-0.03, 2),
    ],
)
def test_stretches_in_one_line_are_one_wall_whichever_way_it_runs(turned: bool, middle: float, told_of: int) -> None:
    comments = review_by("fall-from-building", along_wall(turned, middle)).comments

    assert [comment.at.name for comment in comments] == ["barn"] * told_of
    assert [comment.limit.name for comment in comments] == ["code_away_at_least"] * told_of


def test_walls_round_a_corner_are_told_one_by_one() -> None:
    """0.8 % away from the one and from the other."""
    edges = "run: [D, A, B], beside: building, name: barn\nrest: lawn"
    comments = review_by("fall-from-building", design(RECTANGLE, slope_to(-0.008, -0.008), edges)).comments

    assert [comment.limit.name for comment in comments] == ["code_away_at_least"] * 2
    assert [comment.shown.si for comment in comments] == pytest.approx([0.008, 0.008])


def test_a_bay_in_a_straight_wall_belongs_to_it() -> None:
    """The wall runs straight to H, and on in a bow whose ends lie in the same line."""
    points = {"A": (0, 0), "H": (10, 0), "M": (15, -1), "B": (20, 0), "C": (20, 12), "D": (0, 12)}
    heights = {name: 100 - 0.01 * y for name, (_, y) in points.items()}
    edges = "run: [A, H, B], beside: building, name: barn\nrest: lawn"
    outline = "A, H, {arc_to: B, through: M}, C, D"
    comment = only(review_by("fall-from-building", design(points, heights, edges, outline)))

    assert (comment.at.name, comment.limit.name) == ("barn", "code_away_at_least")


@pytest.mark.parametrize(
    ("away", "says"),
    [
        (-0.0001, "water runs to barn"),
        (0.0, "the slab does not fall away from barn"),
        (0.0001, "the slab falls too little away from barn"),
    ],
)
def test_no_fall_is_told_apart_from_a_little(away: float, says: str) -> None:
    edges = "run: [A, B], beside: building, name: barn\nrest: lawn"
    comment = only(review_by("fall-from-building", design(RECTANGLE, slope_to(0.02, -away), edges)))

    assert plain(comment.says, "us") == says


@pytest.mark.parametrize(("flat_from", "found"), [(9.5, ["code_away_at_least"]), (10.5, [])])
def test_fall_from_building_ten_feet_out_are_looked_at(flat_from: float, found: list[str]) -> None:
    """IRC R401.3: within 10 ft. 3 % down to a fold, and 1 % beyond it."""
    points = {"A": (0, 0), "B": (10, 0), "F1": (10, flat_from), "C": (10, 16), "D": (0, 16), "F2": (0, flat_from)}
    heights = {name: 100 - 0.03 * min(y, flat_from) - 0.01 * max(y - flat_from, 0) for name, (_, y) in points.items()}
    edges = "run: [A, B], beside: building, name: barn\nrest: lawn"
    line = "  lines: [{kind: grade break, along: [F1, F2]}]"
    report = review_by("fall-from-building", design(points, heights, edges, "A B F1 C D F2", more=line))

    assert limits_broken(report) == found


# fall-from-building: within 36 in of a door 1.5 % is let pass, 60 in where the way in is accessible (recalled)


@pytest.mark.parametrize(
    ("site", "bend", "limits"),
    [  # 1.6 % to the bend, 2.5 % from there on; beyond what lies before a door, and 2 in, the code asks 2 %
        ("", 37.8, []),
        ("", 38.2, ["code_away_at_least"]),
        ("site: {accessible_route: [[10, 0], [10, 12]]}", 61.8, []),
        ("site: {accessible_route: [[10, 0], [10, 12]]}", 62.2, ["code_away_at_least"]),
    ],
)
def test_fall_from_building_before_a_door_less_is_let_pass(site: str, bend: float, limits: list[str]) -> None:
    y = bend / 12
    points = {**RECTANGLE, "P": (0, y), "Q": (20, y)}
    heights = {name: 100 - 0.016 * min(at, y) - 0.025 * max(0.0, at - y) for name, (_, at) in points.items()}
    text = design(
        points, heights, "run: [A, B], beside: building, name: barn\nrest: lawn", "A B Q C D P",
        "  lines: [{kind: grade break, along: [P, Q]}]",
    )  # fmt: skip
    door = "fixtures: [{kind: door, name: door, along: [A, B]}]"
    report = review_by("fall-from-building", f"{text}\n{door}\n{site}")
    assert limits_broken(report) == limits


@pytest.mark.parametrize(
    ("unit", "run", "expected"),
    [  # a valley 6 ft or 2 m before the wall, level along itself: 2 % of its length, told to the half foot or 100 mm
        ("ft", 20.2, "let it fall 4 7/8 in over 20'-0\", or set a drain at its low end"),
        ("ft", 20.6, "let it fall 5 in over 20'-6\", or set a drain at its low end"),
        ("m", 20.04, "let it fall 250 mm over 20 m, or set a drain at its low end"),
        ("m", 20.15, "let it fall 252 mm over 20.1 m, or set a drain at its low end"),
    ],
)
def test_fall_from_building_the_low_line_is_told_over_a_length_people_say(unit: str, run: float, expected: str) -> None:
    y = 6 if unit == "ft" else 2
    points = {"A": (0, 0), "B": (run, 0), "C": (run, 12), "D": (0, 12), "V1": (0, y), "V2": (run, y)}
    heights = {"A": 100.3, "B": 100.3, "C": 100.3, "D": 100.3, "V1": 100.0, "V2": 100.0}
    edges = (
        "run: [A, B], beside: building, name: barn\nrun: [B, V2], beside: wall\nrun: [D, V1], beside: wall\nrest: lawn"
    )
    text = design(points, heights, edges, "A B V2 C D V1", "  lines: [{name: v, kind: valley, along: [V1, V2]}]",
                  unit=unit)  # fmt: skip
    found = [one for one in review_by("fall-from-building", text).comments if one.at.name.startswith("low line")]
    assert [plain(one.says, "us") for one in found] == ["the low line before barn is level along itself"]
    assert [
        plain(one.decide, "us" if unit == "ft" else "metric", both=False) if one.decide else "" for one in found
    ] == [expected]


def test_water_that_runs_aside_to_the_drain_of_a_court_needs_no_fall_off_the_wall_besides() -> None:
    """The garden walls fall 1/2 in from the house out, the slab 2 % to the drain: sound, common practice."""
    points = {"A": (0, 0), "B": (16, 0), "C": (16, 16), "D": (0, 16), "G": (8, 8)}
    heights = {"A": 100.0, "B": 100.0, "C": 99.96, "D": 99.96, "G": 99.8}
    lines = "".join(f"\n    - {{kind: valley, along: [{corner}, G]}}" for corner in "ABCD")
    fixtures = "\nfixtures: [{kind: drain, at: G, rim: 99.8}]"
    edges = "run: [A, B], beside: building, name: house\nrest: wall"
    text = design(points, heights, edges, "A B C D", f"  lines:{lines}{fixtures}")
    assert weights(review_by("fall-from-building", text)) == []


@pytest.mark.parametrize(
    ("landing", "way", "found"),
    [  # a landing is as deep as it is drawn, up to where the way goes down: common practice
        (6.0, 0.05, []),
        (8.0, 0.031, []),
        (8.5, 0.05, ["code_away_at_least"]),
        (6.0, 0.025, ["code_away_at_least"]),
    ],
)
def test_a_landing_reaches_to_where_the_way_goes_down(landing: float, way: float, found: list[str]) -> None:
    points = {**RECTANGLE, "P": (0, landing), "Q": (20, landing)}
    heights = {n: 100 - 0.016 * min(y, landing) - way * max(0.0, y - landing) for n, (_, y) in points.items()}
    text = design(
        points, heights, "run: [A, B], beside: building, name: hall\nrest: lawn", "A B Q C D P",
        "  lines: [{kind: grade break, along: [P, Q]}]",
    )  # fmt: skip
    report = review_by("fall-from-building", f"{text}\nfixtures: [{{kind: door, name: door, along: [A, B]}}]")
    assert [one.limit.name for one in report.comments if one.limit] == found


@pytest.mark.parametrize(
    ("way", "across", "found"),
    [  # between the 2 % before walls and the 1 in 48 of access nothing can be built: ramps and landings are let off to
        # 1.5 % (IBC 1804.4 and IRC R401.3, later editions, recalled)
        ("[[20, 3], [0, 3]]", 0.0151, []),
        ("[[20, 3], [3, 3], [3, 0]]", 0.0151, []),
        ("[[20, 3], [3, 3], [3, 0]]", 0.0139, [("caution", "door_away_at_least")]),
        ("", 0.0151, [("hold", "code_away_at_least")]),
        ("[[20, 0.5], [0, 0.5]]", 0.0151, [("hold", "code_away_at_least")]),  # 1 ft wide, and a terrace beside it
    ],
)
def test_a_ramp_along_a_wall_may_fall_less_away_from_it(way: str, across: float, found: list[tuple[str, str]]) -> None:
    """A landing of 6 ft and a ramp of 14 ft at 1 in 14, both 6 ft wide, with a door onto the landing."""
    points = {"A": (0, 0), "R": (6, 0), "B": (20, 0), "C": (20, 6), "S": (6, 6), "D": (0, 6)}
    heights = {name: 100 - max(0.0, x - 6) / 14 - y * across for name, (x, y) in points.items()}
    edges = "run: [A, R, B], beside: building, name: shop\nrest: lawn"
    text = design(points, heights, edges, "A R B C S D", "  lines: [{kind: grade break, along: [R, S]}]", use="walk")
    door = "fixtures: [{kind: door, name: door, along: [[1.5, 0], [4.5, 0]]}]"
    site = f"site: {{accessible_route: {way}}}" if way else ""
    assert weights(review_by("fall-from-building", f"{text}\n{door}\n{site}")) == found


@pytest.mark.parametrize(
    ("long", "found"),
    [  # 8 ft: landings are poured no longer (common practice); a landing is let off as the ramp is, as above
        (5, []),
        (8, []),
        (12, [("hold", "code_away_at_least")]),
    ],
)
def test_the_landing_at_the_foot_of_a_ramp_along_a_wall_is_let_off_all_over(
    long: int, found: list[tuple[str, str]]
) -> None:
    """A landing 5 ft wide, whose surface folds along its diagonal, and a ramp of 12 ft at 1 in 13 up from it."""
    points = {"A": (0, 0), "R": (12, 0), "B": (12 + long, 0), "C": (12 + long, 5), "S": (12, 5), "D": (0, 5)}
    heights = {name: 100 - min(x, 12) / 13 - y * 0.016 for name, (x, y) in points.items()}
    edges = "run: [A, R, B], beside: building, name: shop\nrest: lawn"
    text = design(points, heights, edges, "A R B C S D", "  lines: [{kind: grade break, along: [R, S]}]", use="walk")
    site = f"site: {{accessible_route: [[{12 + long}, 2.5], [12, 2.5], [0, 2.5]]}}"
    assert weights(review_by("fall-from-building", f"{text}\n{site}")) == found


@pytest.mark.parametrize(
    ("toward", "found"), [(-0.01, []), (0.0, []), (0.0049, []), (0.0051, [("caution", "pad_toward_at_most")])]
)
def test_a_pad_for_equipment_may_be_level_and_hardly_lean_to_the_wall(
    toward: float, found: list[tuple[str, str]]
) -> None:
    """Pads are set level, and half a percent is what a level shows: common practice."""
    text = design(RECTANGLE, slope_to(0, toward), HOUSE, use="equipment pad")
    report = review_by("fall-from-building", text)
    assert weights(report) == found
    assert [one.shown.si for one in (*report.comments, *report.met) if one.shown] == [
        pytest.approx(max(toward, 0), abs=1e-9)
    ]


@pytest.mark.parametrize("north", ["a wall", "c wall"])
def test_a_low_line_between_two_walls_is_told_once_and_lowered_at_its_end(north: str) -> None:
    """20 ft with a bend at 8 ft that falls 1 % all along: 2 % of it are 0.40 ft."""
    points = {**RECTANGLE, "V1": (0, 6), "V2": (8, 6), "V3": (20, 6)}
    heights = {**dict.fromkeys("ABCD", 100.3), "V1": 100.0, "V2": 99.92, "V3": 99.8}
    edges = f"run: [A, B], beside: building, name: b wall\nrun: [C, D], beside: building, name: {north}\n"
    line = "  lines: [{name: v, kind: valley, along: [V1, V2, V3]}]"
    text = design(points, heights, f"{edges}run: [B, V3, C], beside: bed\nrest: wall", "A B V3 C D V1", line)
    comment = only(review_by("fall-from-building", text))
    first = f"low line before {min(north, 'b wall')}"
    assert (comment.at.name, comment.shown.si) == (first, pytest.approx(0.01, rel=0.001))
    assert told(comment) == (f"the {first} hardly falls along itself", "lower V3 by about 2 1/2 in, to 99.59 ft")


def test_two_low_lines_that_end_in_one_place_are_told_by_the_flatter() -> None:
    """Each bends at 10 ft, to E between two walls, and falls 0.75 and 0.8 % in the mean; 2 % is asked (IRC R401.3)."""
    points = {**RECTANGLE, "E": (20, 6), "V1": (0, 4), "V2": (10, 5), "W1": (0, 8), "W2": (10, 7)}
    heights = {**dict.fromkeys("ABCD", 100.3), "E": 99.8, "V1": 99.95, "V2": 99.9, "W1": 99.96, "W2": 99.9}
    edges = "run: [A, B], beside: building, name: south\nrun: [C, D], beside: building, name: north\nrest: lawn"
    lines = "  lines: [{kind: valley, along: [V1, V2, E]}, {kind: valley, along: [W1, W2, E]}]"
    comment = only(review_by("fall-from-building", design(points, heights, edges, "A B E C D W1 V1", lines)))
    assert comment.at.name == "low line before south"


@pytest.mark.parametrize(("deep", "told"), [(38, "lower C"), (42, "let the slab fall")])
def test_no_form_is_moved_by_more_than_two_feet(deep: float, told: str) -> None:
    """3 % to the house turned into 2 % away from it: 1.9 ft over 38 ft, 2.1 ft over 42 ft."""
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (20.0, deep), "D": (0.0, deep)}
    heights = {"A": 100.0, "B": 100.0, "C": 100 + 0.03 * deep, "D": 100 + 0.03 * deep}
    comment = only(
        review_by("fall-from-building", design(points, heights, "run: [A, B], beside: building\nrest: lawn"))
    )
    assert plain(comment.to_pass, "us").startswith(told)


@pytest.mark.parametrize(
    ("width", "before", "found"),
    [
        (2.0, 0.0, []),  # the flight covers all of the level bed before the door; the path falls 3 % to the gate
        (2.0, 0.03, []),  # whatever lies under it
        (1.0, 0.0, ["house"]),  # half of the level bed lies open at its sides
    ],
)
def test_what_a_flight_of_steps_covers_need_not_fall_away(width: float, before: float, found: list[str]) -> None:
    """Rain falls on the treads: three risers of 170 mm up to a threshold 510 mm over the foot, two treads of 300 mm."""
    points = {"A": (0, 0), "B": (2, 0), "T": (2, 6.6), "C": (2, 7.2), "D": (0, 7.2), "S": (0, 6.6)}
    heights = {"A": 99.3, "B": 99.3, "T": 99.498, "C": 99.498 - before, "D": 99.498 - before, "S": 99.498}
    side = (2 - width) / 2
    text = design(points, heights, "run: [C, D], beside: building, name: house\nrest: lawn, takes_water: true",
                  "A B T C D S", unit="m", use="walk", more="fixtures:\n  - {kind: door, name: front door, along: "
                  "[[0.6, 7.2], [1.4, 7.2]], sill: 100.008, swings_over: false}")  # fmt: skip
    steps = (f"{{name: front steps, width: {width} m, tread: 300 mm, riser: 170 mm, count: 3, "
             f"foot: [[{side}, 6.6], [{2 - side}, 6.6]], leads_to: front door}}")  # fmt: skip
    text = text.replace("thickness: {design: 4 in}", f"thickness: {{design: 100 mm, steps: [{steps}]}}")
    assert places(review_by("fall-from-building", text)) == found


@pytest.mark.parametrize(
    ("street", "channel", "found"),
    [  # an apron of 6 ft before a floor that falls out to it at 1.25 %
        (99.88, "", []),
        (100.1, "", ["reaching_share_at_most"]),  # the apron is 6 of 26 ft, 23 %; 1 % is let pass (geometry)
        (100.1, "\nchannels: [{along: [P, Q], width: 6 in, rim: 100}]", []),
    ],
)
def test_an_apron_falls_away_from_the_floor_behind_its_door(street: float, channel: str, found: list[str]) -> None:
    points = {"A": (0, 0), "B": (20, 0), "Q": (20, 6), "C": (20, 26), "D": (0, 26), "P": (0, 6)}
    heights = {"A": street, "B": street, "Q": 100.0, "C": 100.25, "D": 100.25, "P": 100.0}
    edges = "run: [Q, C, D, P], beside: building, name: garage walls\nrest: lawn, takes_water: true"
    more = (
        "  lines: [{kind: grade break, along: [P, Q]}]\n"
        f"parts: [{{name: floor, corners: [P, Q, C, D], use: garage floor}}]{channel}"
    )
    text = design(points, heights, edges, "A B Q C D P", more, use="driveway")
    report = review_by("fall-from-building", text)
    assert limits_broken(report) == found
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(6 / 26)
    (line,) = (one.at for one in judged("fall-from-building", text) if one.at.name == "the door line of the floor")
    assert [y for _, y in line.shape] == pytest.approx([6 * 0.3048] if found else [])


@pytest.mark.parametrize(
    ("deep", "unit", "told_to_fall"),
    [
        # 2 % of 10 ft is 2.4 in, of 6 ft 1.44 in, of 3 ft 0.72 in; 1:80 of 3 m is 37.5 mm, of 1.5 m 18.75 mm
        (14, "ft", "let the slab fall 2 1/2 in away from house wall over 10'-0\""),
        (6, "ft", "let the slab fall 1 1/2 in away from house wall over 6'-0\""),
        (6.6, "ft", "let the slab fall 1 5/8 in away from house wall over 6'-6\""),  # told to the half foot
        (3, "ft", "let the slab fall 3/4 in away from house wall over 3'-0\""),
        (4, "m", "let the slab fall 38 mm away from house wall over 3 m"),
        (1.5, "m", "let the slab fall 19 mm away from house wall over 1.5 m"),
    ],
)
def test_the_fall_from_a_wall_is_told_over_what_the_slab_has(deep: float, unit: str, told_to_fall: str) -> None:
    points = {"A": (0, 0), "B": (20, 0), "C": (20, deep), "D": (0, deep)}
    comment = only(review_by("fall-from-building", design(points, plane(points, 0, 0), HOUSE, unit=unit)))
    assert comment.decide is not None
    assert plain(comment.decide, "us" if unit == "ft" else "metric", both=False) == told_to_fall


@pytest.mark.parametrize(
    ("far", "found"),
    [  # a path of 4 ft before a level shed of 10 ft that stands alone: it falls away, or to the shed
        (99.9, []),
        (100.1, ["water of the slab outdoors comes to the shed base at"]),
    ],
)
def test_a_path_falls_away_from_a_shed_that_no_building_stands_beside(far: float, found: list[str]) -> None:
    points = {"A": (0, 0), "B": (12, 0), "Q": (12, 4), "C": (12, 14), "D": (0, 14), "P": (0, 4)}
    heights = {"A": far, "B": far, "Q": 100.0, "C": 100.0, "D": 100.0, "P": 100.0}
    more = "  lines: [{kind: grade break, along: [P, Q]}]\nparts: [{corners: [A, B, Q, P], use: walk}]"
    edges = "rest: lawn, takes_water: true"
    report = review_by("fall-from-building", design(points, heights, edges, "A B Q C D P", more, use="shed base"))
    assert [plain(one.says, "us").rpartition(" (")[0] for one in report.comments] == found
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(4 / 14)  # geometry: 4 of 14 ft


@pytest.mark.parametrize(("floor", "found"), [("garage floor", []), ("equipment pad", ["pad_toward_at_most"])])
def test_a_floor_under_a_roof_may_lean_to_its_own_walls(floor: str, found: list[str]) -> None:
    # behind an apron that falls out from it, the floor falls 1 % to one of its walls, where a drain may lie
    points = {"A": (0, 0), "B": (20, 0), "Q": (20, 6), "C": (20, 26), "D": (0, 26), "P": (0, 6)}
    heights = {"A": 100.1, "B": 99.9, "Q": 100.0, "C": 100.0, "D": 100.2, "P": 100.2}
    edges = "run: [Q, C], beside: building, name: east wall\nrest: lawn, takes_water: true"
    more = (
        "  lines: [{kind: grade break, along: [P, Q]}]\n"
        f"parts: [{{name: floor, corners: [P, Q, C, D], use: {floor}}}]"
    )
    report = review_by("fall-from-building", design(points, heights, edges, "A B Q C D P", more, use="driveway"))
    assert limits_broken(report) == found


def test_water_that_comes_to_a_floor_is_told_where_most_of_it_comes() -> None:
    """An apron of two triangles, 3 and 6 times 10 ft2, that falls straight to a floor: most comes in at x = 10 ft."""
    points = {"A": (0, 0), "B": (10, 0), "Q": (20, 6), "C": (20, 26), "D": (0, 26), "P": (0, 6)}
    heights = {"A": 100.1, "B": 100.1, "Q": 100.0, "C": 100.25, "D": 100.25, "P": 100.0}
    lines = "  lines: [{kind: grade break, along: [P, Q]}, {kind: grade break, along: [P, B]}]\n"
    floor = "parts: [{name: floor, corners: [P, Q, C, D], use: garage floor}]"
    edges = "run: [Q, C, D, P], beside: building, name: garage walls\nrest: lawn, takes_water: true"
    comment = only(
        review_by("fall-from-building", design(points, heights, edges, "A B Q C D P", lines + floor, use="driveway"))
    )
    assert comment.at.shape[0] == pytest.approx((10 * 0.3048, 6 * 0.3048))


@pytest.mark.parametrize(("along", "found"), [(0.0096, False), (0.0094, True)])
def test_a_court_whose_water_runs_aside_to_its_drain_is_let_a_twentieth_pass(along: float, found: bool) -> None:
    """1 % takes water to a drain (common practice), here along two walls, in one plane up to a foot from its end."""
    points = {"A": (0, 0), "E": (19, 0), "B": (20, 0), "C": (20, 10), "F": (19, 10), "D": (0, 10), "G": (19.5, 5)}
    heights = {name: 100 - along * x for name, (x, _) in points.items()}
    heights |= {"B": heights["E"], "C": heights["E"], "G": heights["E"] - 0.1}
    edges = "".join(f"run: [{a}, {b}], beside: building, name: wall {a}\n" for a, b in ("AE", "BC", "FD", "DA"))
    fold = "  lines: [{kind: grade break, along: [E, F]}]"
    drain = f"\nfixtures: [{{kind: drain, at: G, rim: {heights['G']:.4f}}}]"
    report = review_by(
        "fall-from-building", design(points, heights, f"{edges}rest: wall", "A E B C F D", f"{fold}{drain}")
    )
    told = {(one.at.name, one.limit.name) for one in report.comments if one.at}
    assert (("wall A", "court_to_drain_at_least") in told) is found


@pytest.mark.parametrize(
    ("corner", "told"),
    [
        ({"P": 99.88}, "raise P by about 1 1/2 in, to 100.00 ft"),  # as high as both walls are at their other ends
        ({"P": 99.88, "E": 99.98}, ""),  # these are not level with each other: nobody knows what slipped
    ],
)
def test_a_corner_of_two_walls_that_slipped_is_raised_to_them(corner: dict[str, float], told: str) -> None:
    points = {"A": (0, 0), "B": (24, 0), "C": (24, 10), "P": (10, 10), "E": (10, 22), "F": (0, 22)}
    heights = {"C": 100.0, "E": 100.0, "B": 99.79, "A": 99.79, "F": 99.79, **corner}
    edges = "run: [C, P], beside: building, name: kitchen\nrun: [P, E], beside: building, name: den\nrest: lawn"
    lines = "  lines: [{name: hip, kind: ridge, along: [A, P]}]"
    every = review_by("fall-from-building", design(points, heights, edges, "A B C P E F", lines)).comments

    first = {plain(one.remedies[0].says, "us", both=False) for one in every if one.remedies}
    assert first == {told} if told else all("raise" not in one for one in first)
