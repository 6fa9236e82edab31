"""The rule `grade-break`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import plan_of, review_by
from slabs.heights import told_values
from slabwright.plan.plan import Plan
from slabwright.text.words import plain
from slabwright.units.quantity import Amount
from sloped import design

INCH, FEET = 0.0254, 0.3048
RULE = "grade-break"


def drive(
    profile: dict[float, float], street: str = "", garage: str = "", more: str = "", use: str = "driveway"
) -> str:
    """A drive 12 ft wide whose street is at 0 and whose heights (ft) are given at distances (ft) from it."""
    stations = sorted(profile)
    points = {f"L{k}": (0.0, at) for k, at in enumerate(stations)} | {
        f"R{k}": (12.0, at) for k, at in enumerate(stations)
    }
    last = len(stations) - 1
    lines = [f"{{kind: grade break, along: [L{k}, R{k}]}}" for k in range(1, last)]
    heights = ", ".join(f"{side}{k}: {profile[at]}" for side in "LR" for k, at in enumerate(stations))
    return "\n".join(
        [
            "format: 1",
            "job: {name: Test drive}",
            "units: {plan: ft, height: ft}",
            f"use: {use}",
            f"points: {{{', '.join(f'{name}: [{x}, {y}]' for name, (x, y) in points.items())}}}",
            f"outline: [L0, R0, R{last}, L{last}]",
            "edges:",
            f"  - {{run: [L0, R0], beside: street, name: lane{street}}}",
            f"  - {{run: [L{last}, R{last}], beside: building, name: garage{garage}}}",
            f"heights: {{finish: {{{heights}}}{', lines: [' + ', '.join(lines) + ']' if lines else ''}}}",
            "thickness: {design: 6 in}",
            more,
            "",
        ]
    )


def breaks(text: str) -> list[tuple[str, float]]:
    """Sort and change of grade, in %, of every break."""
    plan: Plan = plan_of(text)
    return [(one.kind, round(100 * abs(one.after - one.before), 6)) for one in plan.wheels.grade_breaks]


def way_in(profile: dict[float, float], street: str = "") -> str:
    """A drive 12 ft wide whose street is at 0, its heights (ft) given at distances (ft) from it, folded at each."""
    stations = sorted(profile)
    points = {f"{side}{k}": (x, at) for side, x in (("L", 0.0), ("R", 12.0)) for k, at in enumerate(stations)}
    heights = {name: profile[at] for name, (_, at) in points.items()}
    last = len(stations) - 1
    folds = ", ".join(f"{{kind: grade break, along: [L{k}, R{k}]}}" for k in range(1, last))
    more = f"  lines: [{folds}]" if folds else ""
    edges = f"run: [L0, R0], beside: street, name: lane{street}\nrun: [L{last}, R{last}], beside: building"
    return design(points, heights, edges, f"L0 R0 R{last} L{last}", more, use="driveway")


@pytest.mark.parametrize(
    ("rise", "expected"),
    [
        (0.80, []),  # 0 to 8 %: what can work, TxDOT roadway manual (read)
        (0.85, [("note", "usual_change_at_most")]),
        (1.20, [("note", "usual_change_at_most")]),  # 12 %, common practice
        (1.25, [("caution", "change_at_most")]),
    ],
)
def test_a_sag_of_so_much_in_ten_feet(rise: float, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by(RULE, drive({0: 99.0, 10: 99.0, 20: 99.0 + rise}))) == expected


def test_a_crest_counts_as_much_as_a_sag_and_each_is_told() -> None:
    """0, then 9 % up, then 9 % down: a sag of 9 and a crest of 18."""
    text = drive({0: 99.0, 10: 99.0, 20: 99.9, 30: 99.0})
    assert breaks(text) == [("sag", 9.0), ("crest", 18.0)]
    assert weights(review_by(RULE, text)) == [("caution", "change_at_most"), ("note", "usual_change_at_most")]


def test_a_fold_met_from_both_ends_is_told_once() -> None:
    through = drive({0: 99.0, 10: 100.0, 20: 99.0}, garage=", wheels_cross: true")
    assert len(breaks(through)) == 2
    assert weights(review_by(RULE, through)) == [("caution", "change_at_most")]


@pytest.mark.parametrize(
    ("long", "most"),
    [
        (6.0, 7.0),  # a stretch of 6 ft at half the grade parts 14 % in two of 7: Australian data sheet, 2 m
        (5.9, 14.0),  # shorter: the car is on both grades at once
        (0.9, 14.0),  # under a foot: a lip, and no grade at all
    ],
)
def test_a_stretch_between_takes_half_the_change_when_it_is_long_enough(long: float, most: float) -> None:
    bottom = 99.0 + 0.07 * long
    found = breaks(drive({0: 99.0, 10: 99.0, 10 + long: bottom, 20 + long: bottom + 1.4}))
    assert max(change for _, change in found) == pytest.approx(most)


@pytest.mark.parametrize(
    ("street", "expected"),
    [
        ("", []),  # how the street falls is not said
        (", falls_to_slab: 2 %", []),
        (", falls_to_slab: 3 %", []),  # 3 + 6 = 9 %: highway department index (quoted)
        (", falls_to_slab: 3.6 %", [("caution", "at_edge_at_most")]),
        (", falls_to_slab: 6.7 %", [("caution", "change_at_most")]),
    ],
)
def test_where_a_drive_of_six_percent_meets_a_street(street: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by(RULE, drive({0: 99.0, 20: 100.2}, street=street))) == expected


def test_a_gutter_met_from_both_ends_of_the_drive_is_told_once() -> None:
    """Up 6 % from a gutter that falls 4 % to it, by cars from the street and from the garage alike."""
    text = drive({0: 99.0, 20: 100.2}, ", falls_to_slab: 4 %", ", wheels_cross: true")
    report = review_by(RULE, text)
    assert weights(report) == [("caution", "at_edge_at_most")]
    assert only(report).alike == ()


def test_where_a_drive_meets_the_floor_of_a_garage() -> None:
    """Up 10 %, then a floor that goes on up at 1 %: a crest of 9 %. A level floor makes it 10."""
    ways = {0: 99.0, 20: 101.0}
    assert breaks(drive(ways, garage=", falls_to_slab: 1 %")) == [("edge", 9.0)]
    assert weights(review_by(RULE, drive(ways, garage=", falls_to_slab: 0 %"))) == [("caution", "at_edge_at_most")]


def test_the_height_told_at_a_fold_makes_it_pass() -> None:
    """12 % against 8 over two stretches of 10 ft: 0.04 / (1/10 + 1/10) = 0.2 ft."""
    report = review_by(RULE, drive({0: 99.0, 10: 99.0, 20: 100.2}))
    said = plain(only(report).to_pass, "us", both=False)
    assert said.startswith("raise ")
    assert "to 99.20 ft" in said
    assert review_by(RULE, drive({0: 99.0, 10: 99.2, 20: 100.2})).met


def test_the_height_told_at_a_street_moves_the_end_of_its_stretch() -> None:
    """3 % of street and 9 % of drive make 12; 9 is asked: 3 % less in 10 ft, so 0.3 ft lower at the far end."""
    text = drive({0: 99.0, 10: 99.9, 20: 100.3}, street=", falls_to_slab: 3 %")
    comment = only(review_by(RULE, text))
    assert comment.limit.name == "at_edge_at_most"
    assert "to 99.60 ft" in advice(comment)
    assert review_by(RULE, drive({0: 99.0, 10: 99.6, 20: 100.3}, street=", falls_to_slab: 3 %")).met


def test_with_no_fold_to_move_a_stretch_between_is_told() -> None:
    """Street 6 % down, drive 8 % up, 14 in all: one stretch of 6 ft at 1 %, half of 8 - 6, rises 0.72 in."""
    comment = only(review_by(RULE, drive({0: 99.0, 20: 100.6}, street=", falls_to_slab: 6 %")))
    assert advice(comment) == "put 6'-0\" between the two grades that rise about 3/4 in in all"


def test_what_is_folded_too_close_is_told_as_a_stretch_between() -> None:
    """Level, 5 ft at 10 %, then 20 %: 20 % in all asks two stretches of 6 ft, 12 ft at 10 % on the mean, 14.4 in."""
    comments = review_by(RULE, drive({0: 99.0, 10: 99.0, 15: 99.5, 25: 101.5})).comments
    said = [advice(one) for one in comments]
    assert said == ["put 12'-0\" between the two grades that rise about 14 3/8 in in all"]


def test_only_ways_that_wheels_take_are_judged() -> None:
    steep = {0: 99.0, 10: 99.0, 20: 101.0}
    assert review_by(RULE, drive(steep, use="walk")).does_not_apply
    kept_off = drive(steep, street=", wheels_cross: false").replace("heights:", "  - {rest: wall}\nheights:")
    assert review_by(RULE, kept_off).does_not_apply[0].reason == "no wheels cross an edge"
    (entry,) = review_by(RULE, drive(steep).replace("beside: street", "beside: gravel")).not_shown
    assert entry.add[0].startswith("edges, wheels_cross")
    assert review_by(RULE, drive({0: 99.0, 20: 100.0})).does_not_apply[0].reason == "the ways in are of one grade"


def test_a_corner_without_a_height_is_asked_for() -> None:
    text = drive({0: 99.0, 10: 99.0, 20: 101.0}).replace("L0: 99.0, ", "")
    assert review_by(RULE, text).not_shown[0].add[0].startswith("heights.finish")


def test_a_way_ends_at_an_opening() -> None:
    """A planter across the way 10 ft in: what lies behind it is no part of the way straight in."""
    planter = "openings: [{name: planter, corners: [[0.5, 10], [11.5, 10], [11.5, 13], [0.5, 13]]}]"
    assert breaks(drive({0: 99.0, 20: 99.0, 30: 101.0}, more=planter)) == []


def test_an_arc_is_driven_over_square_to_its_chord() -> None:
    """The street edge bowed out by 1 ft: the fold 10 ft in is still a change of 10 %."""
    text = drive({0: 99.0, 10: 99.0, 20: 100.0})
    bowed = text.replace("outline: [L0, R0,", "outline: [L0, {arc_to: R0, through: [6, -1]},")
    assert [kind for kind, _ in breaks(bowed)] == ["sag"]
    assert breaks(bowed)[0][1] == pytest.approx(10.0, abs=0.01)


def test_the_second_of_two_like_ways_is_not_told_again() -> None:
    plan = plan_of(drive({0: 99.0, 10: 99.0, 20: 100.0}))
    (one,) = plan.wheels.grade_breaks
    assert one.at == pytest.approx((6 * FEET, 10 * FEET))


@pytest.mark.parametrize(
    ("profile", "numbers"),
    [
        ({0: 99, 10: 99, 20: 100}, "up 10 % - up 0 %"),
        ({0: 99, 10: 100, 20: 99.6}, "down 4 % - up 10 %"),
        ({0: 99, 10: 98.1, 20: 98.3}, "up 2 % - down 9 %"),
        ({0: 99, 10: 98.9, 20: 97.8}, "down 11 % - down 1 %"),
    ],
)
def test_grade_break_says_which_way_each_grade_goes(profile: dict[float, float], numbers: str) -> None:
    shown = [
        plain(step.numbers, "us", both=False).replace(" (level)", "")
        for step in only(review_by("grade-break", way_in(profile))).working
    ]
    assert [" ".join(word for word in one.split() if "in/ft" not in word) for one in shown] == [numbers]


def test_grade_break_at_a_fold_between_unlike_stretches() -> None:
    """10 % against 8 over stretches of 10 and 20 ft: 0.02 / (1/10 + 1/20) = 0.1333 ft, written 0.14."""
    values = told_values(only(review_by("grade-break", way_in({0: 99, 10: 99, 30: 101}))))
    assert {values["to1"], values["to2"]} == {"99.14 ft"}
    values = told_values(only(review_by("grade-break", way_in({0: 99, 20: 101, 30: 101}))))
    assert {values["to1"], values["to2"]} == {"100.86 ft"}


@pytest.mark.parametrize(
    ("street", "rise", "expected"),
    [  # 9 % at the edge: one stretch of 6 ft up to 18 %, two up to 27; half the sum of the grades in them
        (8, 10, ("6'-0\"", "rise", "0.72 in")),
        (14, 4, ("6'-0\"", "fall", "3.60 in")),
        (9.1, 9, ("12'-0\"", "fall", "0.07 in")),
        (18, 9, ("12'-0\"", "fall", "6.48 in")),
        (18.1, 9, ("18'-0\"", "fall", "9.83 in")),
    ],
)
def test_grade_break_puts_as_few_stretches_between_as_it_takes(
    street: float, rise: float, expected: tuple[str, str, str]
) -> None:
    text = way_in({0: 99, 20: 99 + 0.2 * rise}, f", falls_to_slab: {street} %")
    values = told_values(only(review_by("grade-break", text)))
    assert (values["run"], values["way"]) == expected[:2]
    fall = only(review_by("grade-break", text)).to_pass.values["fall"]
    assert isinstance(fall, Amount)
    assert fall.si / INCH == pytest.approx(float(expected[2].removesuffix(" in")), abs=0.01)


def test_grade_break_asks_for_a_level_stretch_between_grades_that_are_alike() -> None:
    text = way_in({0: 99, 20: 99 + 0.2 * 9}, ", falls_to_slab: 9 %")
    to_pass = only(review_by("grade-break", text)).to_pass
    assert plain(to_pass, "us", both=False) == "put 6'-0\" between the two grades, level from end to end"


def test_grade_break_told_for_the_narrower_limit() -> None:
    """14 %, over both limits: 8 is what is worked for. 0.06 / (1/10 + 1/10) = 0.3 ft."""
    comment = only(review_by("grade-break", way_in({0: 99, 10: 99, 20: 100.4})))
    assert (comment.limit.name, told_values(comment)["to1"]) == ("change_at_most", "99.30 ft")


def test_a_hump_is_told_with_the_sag_at_each_of_its_feet() -> None:
    """Level, up 10 %, down 10 %, level: a sag as one comes in from either end, and one crest of 20 % between."""
    text = drive({0: 99.0, 10: 99.0, 20: 100.0, 30: 99.0, 40: 99.0}, garage=", wheels_cross: true")
    told = [(one.at.name, round(one.shown.si, 6)) for one in review_by(RULE, text).comments]
    assert sorted(told) == [
        ("crest on the way in over lane", 0.2),
        ("sag on the way in over garage", 0.1),
        ("sag on the way in over lane", 0.1),
    ]


def test_grade_break_puts_a_metric_stretch_between() -> None:
    """Street 6 % down and drive 8 % up: 1.8 m (cement association, rounded) at 1 %, half of 8 - 6, rise 18 mm."""
    text = way_in({0: 99, 6: 99.48}, ", falls_to_slab: 6 %").replace("plan: ft, height: ft", "plan: m, height: m")
    comment = only(review_by("grade-break", text))
    assert advice(comment, "metric") == "put 1.8 m between the two grades that rise 18 mm in all"
