"""The rule `floor-falls-to-door`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import math

import pytest
from comments import advice, limits_broken, only, told, weights
from design_text import pad, review_by
from judged import findings
from slabs.water import slope_to
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048
BACK = {"C": (20, 12), "D": (0, 12)}
DOOR = "run: [C, D], beside: open ground, name: door, takes_water: true\nrest: building"


def floor(use: str, fall: float, more: str = "", edges: str = "rest: building", **heights: float) -> str:
    text = design(RECTANGLE, {**slope_to(0, -fall), **heights}, edges, use=use)
    return f"{text}\n{more}"


@pytest.mark.parametrize(
    "more",
    [
        "fixtures: [{kind: drain, at: D}]",
        "openings: [{name: trench, corners: [[2, 10], [18, 10], [18, 11], [2, 11]], takes_water: true}]",
    ],
)
@pytest.mark.parametrize("use", ["garage floor", "shop floor"])
def test_a_drain_or_an_opening_is_enough_for_a_floor_to_be_judged(more: str, use: str) -> None:
    report = review_by("floor-falls-to-door", floor(use, 0.005, more))

    assert ("caution", "usual_fall_at_least") in weights(report)


def test_a_floor_that_rain_falls_on_is_no_floor_under_a_roof() -> None:
    edges = "run: [C, D], beside: open ground, takes_water: true\nrest: building"

    assert review_by(
        "floor-falls-to-door", floor("garage floor", 0.005, "site: {outdoors: true}", edges)
    ).does_not_apply
    assert review_by("floor-falls-to-door", floor("garage floor", 0.005, "", edges)).comments


def test_water_that_stays_on_a_shop_floor_is_worked_by_its_area() -> None:
    """2 % down to the back wall: all 240 ft2 stay, deepest at A and B, 2 % of 12 ft lower than the door."""
    edges = "run: [C, D], beside: open ground, name: door, takes_water: true\nrest: building"
    comment = only(review_by("floor-falls-to-door", floor("shop floor", -0.02, "", edges, A=99.99)))

    assert comment.limit.name == "kept_share_at_most"
    fall = "let the floor fall to door, or to a drain set in the middle of it"  # not in the corner of two walls
    assert told(comment)[0] == "water of the floor runs to A and stays"
    assert plain(comment.decide, "us") == fall
    assert comment.working[0].result.si == pytest.approx(240 * FOOT**2)


@pytest.mark.parametrize(
    ("low", "drain", "to_pass"),
    [  # nobody sets a drain in the corner of two walls, or against one (common practice)
        ("A: 99.90", "", "let the floor fall to door, or to a drain set in the middle of it"),
        ("A: 99.90", "fixtures: [{name: gully, kind: drain, at: M}]", "let the floor fall to door"),
        ("M: 99.90", "", "let the floor fall to door, or set a drain at M, its rim at 99.90 ft"),
    ],
)
def test_a_drain_is_set_where_one_can_stand(low: str, drain: str, to_pass: str) -> None:
    points = "points: {A: [0, 0], B: [20, 0], C: [20, 12], D: [0, 12], M: [10, 6]}"
    edges = "edges:\n  - {run: [C, D], beside: open ground, name: door, takes_water: true}\n  - {rest: building}"
    finish = {"A": 100, "B": 100, "C": 100, "D": 100, "M": 100.05 if low.startswith("A") else 100}
    name, _, lower = low.partition(": ")
    written = ", ".join(f"{point}: {lower if point == name else at}" for point, at in finish.items())
    text = pad(f"{points}\n{edges}\nheights: {{finish: {{{written}}}}}\n{drain}", "shop floor", outline="[A, B, C, D]")
    comment = next(one for one in review_by("floor-falls-to-door", text).comments if one.weight == "hold")
    assert advice(comment) == to_pass


@pytest.mark.parametrize(("fall", "says"), [(0.0, "the whole slab is level"), (0.0001, "the whole slab hardly falls")])
def test_a_level_floor_is_told_apart_from_a_hair_of_fall(fall: float, says: str) -> None:
    edges = "run: [C, D], beside: open ground, takes_water: true\nrest: building"
    comment = only(review_by("floor-falls-to-door", floor("garage floor", fall, "", edges)))

    assert plain(comment.says, "us").startswith(says)


@pytest.mark.parametrize(
    ("fall", "expected"),
    [  # 1/8 in/ft usual, 1 % least; 0.2 % level to a screed (common practice). IRC R309.1 prints no number.
        (0.0, [("hold", "fall_at_least")]),
        (0.0018, [("hold", "fall_at_least")]),
        (0.0019, [("caution", "usual_fall_at_least")]),  # a twentieth is let pass
        (0.0094, [("caution", "usual_fall_at_least")]),
        (0.0095, []),
        (0.01, []),
        (0.125 / 12, []),
    ],
)
def test_a_floor_falls_to_its_door(fall: float, expected: list[tuple[str, str]]) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, -fall), DOOR, use="garage floor")
    assert weights(review_by("floor-falls-to-door", text)) == expected


@pytest.mark.parametrize(("use", "unit"), [("shop floor", "ft"), ("garage floor", "m")])
def test_where_the_us_code_does_not_ask_a_level_floor_is_a_caution(use: str, unit: str) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0), DOOR, use=use, unit=unit)
    assert weights(review_by("floor-falls-to-door", text)) == [("caution", "usual_fall_at_least")]


@pytest.mark.parametrize(("fall", "found"), [(0, []), (-0.005, [("caution", "usual_fall_at_least")])])
def test_open_ground_all_round_a_level_shop_floor_takes_the_rain_outside(
    fall: float, found: list[tuple[str, str]]
) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, fall), "rest: open ground, takes_water: true", use="shop floor")
    assert weights(review_by("floor-falls-to-door", text)) == found


def test_a_shop_floor_whose_edges_only_could_take_water_is_level_on_purpose() -> None:
    level = design(RECTANGLE, plane(RECTANGLE, 0, 0), "rest: lawn", use="shop floor")
    (closed,) = review_by("floor-falls-to-door", level).does_not_apply
    assert closed.reason == "nothing is drawn that takes water off this floor"


def test_a_level_floor_is_told_to_fall_to_the_door() -> None:
    comment = only(
        review_by("floor-falls-to-door", design(RECTANGLE, plane(RECTANGLE, 0, 0), DOOR, use="garage floor"))
    )
    # 1 % of 12 ft: 0.12 ft = 1.44 in
    told = advice(comment)
    assert told == "lower C by about 1 1/2 in, to 99.88 ft; lower D by about 1 1/2 in, to 99.88 ft"
    assert plain(comment.says, "us", both=False) == "the whole slab is level"


def test_a_shop_floor_that_falls_to_its_back_wall_keeps_its_water() -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0.02), DOOR, use="shop floor")
    comment = only(review_by("floor-falls-to-door", text))
    assert (comment.weight, comment.limit.name) == ("hold", "kept_share_at_most")
    assert comment.shown.si == pytest.approx(1.0)  # all of one plane runs to the wall


def test_a_garage_floor_that_falls_to_its_back_wall_is_told_once() -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0.02), DOOR, use="garage floor")
    assert weights(review_by("floor-falls-to-door", text)) == [("hold", "kept_share_at_most")]
    assert review_by("standing-water", text).does_not_apply


@pytest.mark.parametrize(
    ("fall", "told"),
    [  # 2 % of 12 ft is 0.24 ft, and twice that turns the floor round about its door
        ((0, 0.02), "raise A by about 5 3/4 in, to 100.48 ft; raise B by about 5 3/4 in, to 100.48 ft"),
        ((0.02 * math.tan(math.radians(29.5)), 0.02), "raise A by about 5 3/4 in, to 100.48 ft"),
        ((0.02 * math.tan(math.radians(30.5)), 0.02), "let the floor fall to door"),
        ((0.02, 0.02), "let the floor fall to door"),  # 45 degrees off square to the door: which way is meant?
    ],
)
def test_a_floor_that_falls_away_from_its_door_is_turned_round(fall: tuple[float, float], told: str) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, *fall), DOOR, use="shop floor")
    assert plain(only(review_by("floor-falls-to-door", text)).to_pass, "us", both=False).startswith(told)


def test_a_floor_that_is_turned_round_passes() -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0.02), DOOR, use="shop floor")
    assert review_by("floor-falls-to-door", text.replace("A: 100.0", "A: 100.48").replace("B: 100.0", "B: 100.48")).met


def test_a_floor_whose_water_nothing_takes() -> None:
    level = plane(RECTANGLE, 0, 0)
    (closed,) = review_by(
        "floor-falls-to-door", design(RECTANGLE, level, "rest: building", use="shop floor")
    ).does_not_apply
    assert closed.reason == "nothing is drawn that takes water off this floor"
    (silent,) = review_by(
        "floor-falls-to-door", design(RECTANGLE, level, "rest: building", use="garage floor")
    ).not_shown
    assert silent.add == ("edges, takes_water: true for the edge under the vehicle door, or a drain under fixtures",)


@pytest.mark.parametrize(
    ("holds", "fall", "asked"),
    [  # common practice: a sump takes the water under a basement floor, which is level for the rooms to come
        ("pit", 0, False),
        ("pit", 0.004, True),
        ("other", 0, True),
    ],
)
def test_a_level_basement_floor_with_a_sump_is_level_on_purpose(holds: str, fall: float, asked: bool) -> None:
    sump = (
        f"openings: [{{name: sump, holds: {holds}, corners: [[9, 9], [11, 9], [11, 11], [9, 11]], takes_water: true}}]"
    )
    text = design(RECTANGLE, plane(RECTANGLE, 0, fall), "rest: wall", more=sump, use="shop floor")
    report = review_by("floor-falls-to-door", text)

    assert bool(report.comments) == asked


@pytest.mark.parametrize("use", ["patio", "driveway", "equipment pad"])
def test_other_slabs_are_no_floors(use: str) -> None:
    report = review_by("floor-falls-to-door", design(RECTANGLE, plane(RECTANGLE, 0, 0), DOOR, use=use))
    assert report.does_not_apply[0].reason == "the slab is not a floor under a roof"


def test_what_a_floor_has_to_fall_is_told_on_a_tape_and_no_less() -> None:
    """1 % of 10 ft is 1.2 in: the next eighth is 1 1/4 in."""
    (one,) = findings("floor-falls-to-door", floor("garage floor", 0.005, edges=DOOR))

    assert one.decide is not None
    assert "fall 1 1/4 in over 10'-0\" to the door" in plain(one.decide, "us", both=False)


@pytest.mark.parametrize(
    ("use", "edges", "deep", "found"),
    [  # 1/8 in dries without harm, and a floor that falls 1/2 in to one spot was meant to drain there
        ("garage floor", DOOR, 0.0100, []),
        ("garage floor", DOOR, 0.0108, ["kept_share_at_most"]),
        ("shop floor", "rest: lawn", 0.0410, []),
        ("shop floor", "rest: lawn", 0.0422, ["dish_share_at_most"]),
    ],
)
def test_water_that_a_floor_keeps_is_told_from_a_depth_that_matters(
    use: str, edges: str, deep: float, found: list[str]
) -> None:
    """Common practice both."""
    points = {**RECTANGLE, "M": (10, 6)}
    heights = {**dict.fromkeys("ABCD", 100.0), "M": 100 - deep}
    report = review_by("floor-falls-to-door", design(points, heights, edges, use=use))
    assert [name for one in report.comments if "share" in (name := one.limit.name)] == found


@pytest.mark.parametrize(
    ("walls", "fall", "told"),
    [
        ("beside: lawn, takes_water: false", -0.02, True),
        ("beside: lawn", -0.02, True),  # the walls of a garage stand there
        ("beside: lawn", 0.02, False),
        ("beside: lawn, takes_water: true", -0.02, False),
    ],
)
def test_a_garage_floor_that_falls_to_its_back_wall_over_lower_ground(walls: str, fall: float, told: bool) -> None:
    """No pond: it stands higher than the lawn all round, and C-D is the door."""
    edges = f"run: [C, D], beside: asphalt, name: door, takes_water: true, ground: 99\nrest: {walls[8:]}"
    if "takes_water" in walls:
        edges = edges.replace(f"rest: {walls[8:]}", f"run: [A, B], {walls}, ground: 99\nrest: lawn")
    names = [
        one.limit.name for one in review_by("floor-falls-to-door", floor("garage floor", fall, "", edges)).comments
    ]
    assert names == (["walls_share_at_most"] if told else [])


@pytest.mark.parametrize(("fall", "told"), [(0.01, False), (-0.01, True)])
def test_the_wall_beside_a_garage_door_is_no_wall_that_the_floor_falls_to(fall: float, told: bool) -> None:
    """A door of 8 ft in a front of 20 ft: 60 % of the floor falls to the front beside it, as every such floor does."""
    points = {**RECTANGLE, "P": (6, 0), "Q": (14, 0)}
    heights = {name: 100 + fall * y for name, (_, y) in points.items()}
    edges = "run: [P, Q], beside: asphalt, name: door, takes_water: true\nrest: lawn"
    report = review_by("floor-falls-to-door", design(points, heights, edges, "A P Q B C D", use="garage floor"))
    assert ("walls_share_at_most" in limits_broken(report)) is told


@pytest.mark.parametrize("turn", [0, 37, 90])
@pytest.mark.parametrize("behind", [11, 13])
def test_a_wall_a_foot_behind_a_garage_door_is_in_line_with_it(behind: float, turn: float) -> None:
    """A foot is common practice, on a drawing that lies any way; the floor falls to its front, 60 % beside the door."""
    jog, across, up = behind / 12, math.cos(math.radians(turn)), math.sin(math.radians(turn))
    drawn = {"A": (0, jog), "P": (6, jog), "Q": (6, 0), "R": (14, 0), "S": (14, jog), "B": (20, jog), **BACK}
    points = {name: (30 + x * across - y * up, 50 + x * up + y * across) for name, (x, y) in drawn.items()}
    heights = {name: 100 + 0.02 * y for name, (_, y) in drawn.items()}
    edges = "run: [Q, R], beside: asphalt, name: door, takes_water: true, ground: 99\nrest: lawn"
    text = design(points, heights, edges, " ".join(points), use="garage floor")
    names = limits_broken(review_by("floor-falls-to-door", text))
    assert names == (["walls_share_at_most"] if behind > 12 else [])


@pytest.mark.parametrize("door", ["beside: asphalt, wheels_cross: true", "beside: trench drain"])
def test_what_wheels_cross_or_a_trench_drain_lies_along_is_a_door(door: str) -> None:
    for fall, astray in ((-0.02, True), (0.02, False)):
        edges = f"run: [C, D], {door}, name: door, ground: 99\nrest: lawn"
        names = [
            one.limit.name for one in review_by("floor-falls-to-door", floor("garage floor", fall, "", edges)).comments
        ]
        assert names == (["walls_share_at_most"] if astray else [])


def test_of_two_doors_the_first_is_told_to_fall_to() -> None:
    points = {**RECTANGLE, "P": (10, 12)}
    doors = "run: [C, P], beside: asphalt, name: left, takes_water: true\nrun: [P, D], beside: asphalt, name: right, "
    edges = f"run: [A, B], beside: building\n{doors}takes_water: true\nrest: building"
    text = design(points, plane(points, 0, 0.02), edges, "A B C P D",
                  use="shop floor")  # fmt: skip
    comment = only(review_by("floor-falls-to-door", text))
    assert plain(comment.decide, "us").startswith("let the floor fall to left, or")


@pytest.mark.parametrize(("takes", "asked"), [("B, C", False), ("A, P", True)])
def test_the_water_that_an_apron_sheds_asks_no_fall_of_the_level_floor_behind_it(takes: str, asked: bool) -> None:
    """A level shop floor, 14 ft of 20, behind an apron that falls to the yard: `takes_water` stands at either."""
    points = {**RECTANGLE, "P": (14, 0), "Q": (14, 12)}
    heights = {name: 100.0 if x < 15 else 99.7 for name, (x, _) in points.items()}
    part = "parts: [{name: apron, corners: [P, B, C, Q], use: driveway, thickness: 6 in}]"
    edges = f"run: [{takes}], beside: gravel, takes_water: true, ground: 99\nrest: lawn"
    text = design(points, heights, edges, "A P B C Q D", more=part, use="shop floor")
    report = review_by("floor-falls-to-door", text)
    assert ("usual_fall_at_least" in limits_broken(report)) is asked


@pytest.mark.parametrize(("deep", "found"), [(0.0, []), (0.04, []), (0.043, [("caution", "dish_share_at_most")])])
def test_a_shed_base_is_level_on_purpose_and_no_dish(deep: float, found: list[tuple[str, str]]) -> None:
    """Half an inch, 0.0417 ft, below all edges: as of a shop floor."""
    points = {**RECTANGLE, "X": (10, 6)}
    heights = {**dict.fromkeys("ABCD", 100.0), "X": 100.0 - deep}
    report = review_by("floor-falls-to-door", design(points, heights, "rest: wall", use="shed base"))
    assert weights(report) == found
    assert [one.reason for one in report.does_not_apply] == ([] if found else ["a shed base is level on purpose"])


@pytest.mark.parametrize(
    ("wide", "judged"),
    [(6.1, True), (5.9, False)],  # no door for vehicles is narrower than 6 ft (common practice)
)
def test_a_floor_behind_an_apron_has_its_door_where_they_meet(wide: float, judged: bool) -> None:
    """A level floor of 12 by 20 ft, walled but where an apron outdoors meets it."""
    points: dict[str, tuple[float, float]] = {"A": (0, 0), "B": (wide, 0), "Q": (wide, 6), "P": (0, 6)}
    points |= {"R": (12, 6), "C": (12, 26), "D": (0, 26)}
    heights = {**dict.fromkeys(points, 100.0), "A": 99.88, "B": 99.88}
    edges = "run: [Q, R, C, D, P], beside: building\nrun: [A, B], beside: asphalt\nrest: lawn"
    more = (
        "  lines: [{kind: grade break, along: [P, Q]}]\n"
        "parts: [{name: floor, corners: [P, Q, R, C, D], use: garage floor}]"
    )
    report = review_by("floor-falls-to-door", design(points, heights, edges, "A B Q R C D P", more, use="driveway"))
    assert weights(report) == [("hold", "fall_at_least")] * judged
    assert bool(report.not_shown) is not judged
