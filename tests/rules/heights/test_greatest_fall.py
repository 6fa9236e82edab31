"""The rule `greatest-fall`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, weights
from design_text import review_by
from slabs.heights import HOUSE, walk_slab
from slabwright.text.words import plain
from sloped import RECTANGLE, all_followed, design, plane


@pytest.mark.parametrize(
    ("use", "limit", "name", "weight"),
    [
        ("patio", 0.025, "comfortable_patio_at_most", "note"),
        ("patio", 0.04, "patio_at_most", "caution"),
        ("walk", 1 / 20, "level_walk_at_most", "note"),  # 2010 ADA 403.3, quoted
        ("walk", 1 / 12, "stepped_walk_at_most", "note"),  # 1991 ADA 4.8.2, read
        ("walk", 0.12, "walk_at_most", "caution"),  # common practice
        ("driveway", 0.12, "easy_driveway_at_most", "note"),
        ("driveway", 0.15, "driveway_at_most", "caution"),
        ("vehicle pad", 0.05, "vehicle_pad_at_most", "caution"),
        ("garage floor", 0.25 / 12, "garage_floor_at_most", "caution"),
        ("shop floor", 0.03, "shop_floor_at_most", "caution"),
        ("barn floor", 0.03, "shop_floor_at_most", "caution"),
        ("equipment pad", 0.25 / 12, "equipment_pad_at_most", "caution"),
        ("pool deck", 0.5 / 12, "pool_deck_at_most", "caution"),  # COMAR 10.17.01.22, read
        ("sport court", 0.025, "comfortable_patio_at_most", "note"),
        ("carport", 0.05, "vehicle_pad_at_most", "caution"),
    ],
)
def test_greatest_fall_by_use(use: str, limit: float, name: str, weight: str) -> None:
    at = review_by("greatest-fall", design(RECTANGLE, plane(RECTANGLE, 0.6 * limit, 0.8 * limit), HOUSE, use=use))
    assert name not in limits_broken(at)
    over = design(RECTANGLE, plane(RECTANGLE, 0.64 * limit, 0.86 * limit), HOUSE, use=use)  # 7 % over: 5 are given
    (comment,) = review_by("greatest-fall", over).comments
    assert (comment.weight, comment.limit.name) == (weight, name)
    assert f" is steep for {'an' if use[0] == 'e' else 'a'} {use}" in plain(comment.says, "us")
    assert all_followed("greatest-fall", over).comments == ()


@pytest.mark.parametrize(
    ("fall", "drain", "found"),
    [
        (0.09, "fixtures: [{kind: drain, at: [10, 1]}]", []),
        (0.11, "fixtures: [{kind: drain, at: [10, 1]}]", ["truck_well_at_most"]),
        (0.09, "channels: [{name: trench, along: [[0, 2], [20, 2]], width: 6 in}]", []),
        (0.09, "fixtures: [{kind: drain, at: [10, 9.9]}]", []),
        (0.09, "fixtures: [{kind: drain, at: [10, 10.1]}]", ["vehicle_pad_at_most"]),  # at the upper end
        (-0.09, "fixtures: [{kind: drain, at: [10, 1]}]", ["vehicle_pad_at_most"]),  # and the dock
        (0.09, "", ["vehicle_pad_at_most"]),
    ],
)
def test_trucks_back_down_to_a_dock(fall: float, drain: str, found: list[str]) -> None:
    """At up to 10 %, where a drain lies within 10 ft of the foot of the dock wall (common practice)."""
    edges = "run: [A, B], beside: building, name: dock\nrest: wall"
    down = {"A": 100.0, "B": 100.0, "C": 100 + 12 * fall, "D": 100 + 12 * fall}
    text = design(RECTANGLE, down, edges, use="vehicle pad", more=drain)
    assert limits_broken(review_by("greatest-fall", text)) == found


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_a_steep_yard_round_a_drain_is_made_flatter_as_it_lies(unit: str) -> None:
    points = {**RECTANGLE, "M": (10, 6)}
    heights = {**dict.fromkeys("ABCD", 100.0), "M": 99.5}
    text = design(points, heights, "rest: curb", more="fixtures: [{kind: drain, at: M}]", unit=unit)
    comment = only(review_by("greatest-fall", text))
    assert comment.shown.si == pytest.approx(0.5 / 6)  # steepest from the long sides
    assert comment.to_pass.values["name1"] == "M" and "name2" not in comment.to_pass.values
    assert all_followed("greatest-fall", text).comments == ()


@pytest.mark.parametrize(
    ("drain", "low", "found"),
    [
        ((5.6, 0.4), 0.05, []),  # 12 % on the two short sides, of which the drain is the end
        ((5.6, 0.4), 0.052, [("caution", "equipment_pad_at_most")]),  # over 2 in deep
        ((5.1, 0.9), 0.03, []),
        ((5.07, 0.93), 0.03, [("caution", "equipment_pad_at_most")]),  # 3.2 %, over 3 ft away
        (None, 0.03, [("caution", "equipment_pad_at_most")]),  # no drain there
    ],
)
def test_the_short_side_of_a_drain_may_be_steep(
    drain: tuple[float, float] | None, low: float, found: list[tuple[str, str]]
) -> None:
    points = {"A": (0, 0), "B": (6, 0), "C": (6, 6), "D": (0, 6), "G": drain or (5.6, 0.4)}
    heights = {**dict.fromkeys("ABCD", 5.0), "G": 5.0 - low}
    at = "fixtures: [{kind: drain, at: G, rim: 4.97}]" if drain else ""
    text = design(points, heights, "rest: wall", more=at, unit="m", use="equipment pad")
    assert weights(review_by("greatest-fall", text))[:1] == found
    beside = text.replace("at: G", "at: [5.3, 0.4]")  # which is on the way to the low spot, and not its end
    assert weights(review_by("greatest-fall", beside))


# greatest-fall: a part of a pad that is only driven over may be written as a drive


@pytest.mark.parametrize(
    ("side", "reach", "ramp"),
    [  # common practice: nobody parks within 20 ft of a door that vehicles go through, and a ramp climbs to it
        (0, 20, True),
        (0, 21, False),
        (20, 20, False),  # the door stands at the foot of the fall
    ],
)
def test_greatest_fall_takes_a_short_pad_up_to_a_vehicle_door_as_a_ramp(side: int, reach: int, ramp: bool) -> None:
    """A pad that falls 8 %, over 5 % for a pad that vehicles stand on."""
    points = {"A": (0, 0), "B": (reach, 0), "C": (reach, 12), "D": (0, 12)}
    door = f"fixtures: [{{kind: door, name: overhead door, along: [[{side}, 0], [{side}, 12]], sill: 100.1}}]"
    text = design(points, {name: 100 - 0.08 * x for name, (x, _) in points.items()}, "rest: gravel", more=door,
                  use="vehicle pad")  # fmt: skip
    told = advice(only(review_by("greatest-fall", text)))
    says = "write use: driveway, where this is the ramp to overhead door and no vehicle stands on it"
    assert (told == says) == ramp


def two_parts(name: str, fall: float = 0.08, line: str = "R, S]") -> str:
    """Two parts of a pad: the one to the door falls 8 %, over 5 % for a pad that vehicles stand on."""
    points = {**RECTANGLE, "P": (6, 0), "Q": (6, 12), "R": (14, 0), "S": (14, 12)}
    heights = {name: 100 - 0.01 * min(x, 14) - fall * max(0, x - 14) for name, (x, _) in points.items()}
    lines = f"  lines: [{{kind: grade break, along: [{line}}}, {{kind: grade break, along: [P, Q]}}]"
    parts = f"\nparts: [{{name: front, corners: [P, R, S, Q]}}, {{name: {name}, corners: [R, B, C, S]}}]"
    return design(points, heights, "rest: bed", "A P R B C S Q D", lines, use="vehicle pad") + parts


def test_greatest_fall_names_the_part_that_is_driven_over() -> None:
    text = two_parts("way in")
    comment = only(review_by("greatest-fall", text))
    assert plain(comment.remedies[0].says, "us") == (
        "write use: driveway for the way in, where vehicles drive over it and none stands"
    )
    assert [(edit.path, edit.value) for edit in comment.remedies[0].edits] == [("parts[1].use", "driveway")]
    patio = review_by("greatest-fall", text.replace("vehicle pad", "patio")).comments
    assert patio and not [
        edit.path for one in patio for remedy in one.remedies for edit in remedy.edits if ".use" in edit.path
    ]


@pytest.mark.parametrize(
    ("name", "fall", "line", "found"),
    [  # nobody parks on a ramp; up to 12 % it suits any car (common practice)
        ("ramp", 0.08, "R, S]", []),
        ("way in", 0.08, "R, S], name: head of the ramp", []),
        ("trampled strip", 0.08, "R, S]", [("caution", "vehicle_pad_at_most")]),
        ("ramp", 0.13, "R, S]", [("caution", "vehicle_pad_at_most")]),
    ],
)
def test_a_ramp_that_is_drawn_in_a_pad_is_driven_over(
    name: str, fall: float, line: str, found: list[tuple[str, str]]
) -> None:
    assert weights(review_by("greatest-fall", two_parts(name, fall, line))) == found


def test_a_truck_well_is_not_told_to_be_a_drive() -> None:
    """Its drain left out, a pad between walls that falls 8 % to the dock is too steep for what stands on it."""
    edges = "run: [D, A], beside: building, name: dock\nrun: [A, B], beside: wall\nrest: street"
    text = design(RECTANGLE, plane(RECTANGLE, 0.08, 0), edges, use="vehicle pad")
    told = only(review_by("greatest-fall", text)).decide
    assert told is not None and "driveway" not in told.template


# public walks


@pytest.mark.parametrize(
    ("use", "site", "expected"),
    [  # 4.5 %: a patio at most 4 %, a walk in the right of way 5 %; a claimed way is judged by its own rule
        ("patio", "accessible_route: [[0, 6], [20, 6]]", [("caution", "patio_at_most")]),
        ("patio", "right_of_way: true", [("caution", "patio_at_most")]),
        ("walk", "right_of_way: true", []),
    ],
)
def test_what_is_asked_of_walks_is_not_asked_of_others(use: str, site: str, expected: list[tuple[str, str]]) -> None:
    text = walk_slab(plane(RECTANGLE, -0.045, 0.0), f"site: {{{site}}}", use=use)
    assert weights(review_by("greatest-fall", text)) == expected


@pytest.mark.parametrize(
    ("along", "beside", "outcome"),
    [  # the street beside climbs 7.5 %, 2 %, or nobody says; 1 in 20 and a twentieth of it are let pass in any case
        (0.07, "curb, ground: [100, 98.5]", "met"),
        (0.07, "curb, ground: [100, 99.6]", "comments"),
        (0.07, "curb", "not_shown"),
        (0.07, "bed", "comments"),
        (0.052, "curb", "met"),
    ],
)
def test_a_public_walk_may_be_as_steep_as_its_street(along: float, beside: str, outcome: str) -> None:
    text = walk_slab(
        plane(RECTANGLE, -along, 0.0),
        "site: {right_of_way: true}",
        edges=f"run: [A, B], beside: {beside}\nrest: bed",
        use="walk",
    )
    report = review_by("greatest-fall", text)
    assert [name for name in ("met", "comments", "not_shown") if getattr(report, name)] == [outcome]


def test_a_yard_before_a_barn_may_be_steeper_than_its_floor() -> None:
    """Aprons that are scraped fall 1/2 to 3/4 in/ft, common practice."""
    for fall, found in ((0.06, []), (0.066, [("caution", "barn_yard_at_most")])):
        text = design(RECTANGLE, plane(RECTANGLE, 0, -fall), HOUSE, use="barn floor", more="site: {outdoors: true}")
        assert weights(review_by("greatest-fall", text)) == found


def test_a_level_part_is_steep_for_nothing() -> None:
    (met,) = review_by("greatest-fall", design(RECTANGLE, plane(RECTANGLE, 0, 0), HOUSE)).met
    assert met.shown is not None and met.shown.si == 0


def test_what_a_part_may_fall_is_told_on_a_tape_and_no_more() -> None:
    """4 % of 10 ft are 4.8 in, and of a slab that falls over 5 ft 2.4 in: the eighths below are 4 3/4 and 2 3/8."""
    short = {**RECTANGLE, "C": (20, 5), "D": (0, 5)}
    for outline, told in ((RECTANGLE, "4 3/4 in over 10'-0\""), (short, "2 3/8 in over 5'-0\"")):
        comment = only(review_by("greatest-fall", design(outline, plane(outline, 0, -0.06), HOUSE)))
        assert comment.decide is not None
        assert plain(comment.decide, "us", both=False) == f"let the whole slab fall {told} at most"


@pytest.mark.parametrize(
    ("fall", "sides", "drain", "found"),
    [
        (0.06, "wall", True, []),  # a truck well, common practice
        (0.12, "wall", True, [("caution", "truck_well_at_most")]),
        (0.06, "lawn", True, [("caution", "vehicle_pad_at_most")]),
        (0.06, "wall", False, [("caution", "vehicle_pad_at_most")]),
    ],
)
def test_a_truck_well_may_be_steeper_than_a_pad_that_vehicles_stand_on(
    fall: float, sides: str, drain: bool, found: list[tuple[str, str]]
) -> None:
    heights = plane(RECTANGLE, 0, fall)
    edges = f"run: [A, B], beside: building\nrun: [C, D], beside: asphalt\nrest: {sides}"
    channel = f"channels: [{{along: [[0, 1], [20, 1]], width: 6 in, rim: {heights['A'] + fall}}}]" if drain else ""
    text = design(RECTANGLE, heights, edges, more=channel, use="vehicle pad")
    assert weights(review_by("greatest-fall", text)) == found


def test_past_a_dish_at_a_drain_all_that_is_steep_is_told() -> None:
    """A pad of 6 m with a drain in one corner, dished, and its far half at 4 %: 1/4 in/ft is what a pad may fall."""
    points = {"A": (0, 0), "B": (6, 0), "C": (6, 6), "D": (0, 6), "G": (5.6, 0.4), "P": (0, 5), "Q": (6, 5)}
    heights = {**dict.fromkeys("ABPQ", 5.0), "C": 5.04, "D": 5.04, "G": 4.95}
    line = "  lines: [{kind: grade break, along: [P, Q]}]\nfixtures: [{kind: drain, at: G, rim: 4.95}]"
    text = design(points, heights, "rest: wall", "A B Q C D P", line, unit="m", use="equipment pad")
    (comment,) = review_by("greatest-fall", text).comments
    assert comment.shown.si == pytest.approx(0.04)


def test_what_a_metric_part_may_fall_is_told_over_three_meters() -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, -0.06), HOUSE, unit="m")
    comment = only(review_by("greatest-fall", text))
    assert comment.decide is not None
    assert plain(comment.decide, "metric", both=False) == "let the whole slab fall 120 mm over 3 m at most"


def test_a_fall_typed_from_a_point_to_the_same_spot_changes_with_no_height() -> None:
    """A slip of the pen; there is no run to write a fall over."""
    points = {**RECTANGLE, "K": RECTANGLE["D"]}
    text = design(points, plane(RECTANGLE, 0, -0.08), "rest: lawn", more="  falls: [{along: [D, K], fall: 2 %}]")
    report = review_by("greatest-fall", text)
    assert report.crashes == ()
    assert advice(only(report)).startswith("raise C by")


@pytest.mark.parametrize(
    ("foot", "raised"),
    [
        ("beside: street, ground: 20.00", False),  # a car would have to climb 5 in
        ("beside: street, ground: 20.00, wheels_cross: false", True),
        ("beside: street, ground: 20.40", True),  # it comes to lie half an inch above the street
        ("beside: existing slab, ground: 20.00, wheels_cross: true", False),
        ("beside: lawn, ground: 20.00, wheels_cross: true", True),  # the lawn can be brought up
        # what stands out of its paving already, and stays, is no matter
        ("beside: lawn\nrun: [C, D], beside: asphalt, ground: 21.20, wheels_cross: true", True),
    ],
)
def test_a_steep_drive_is_not_lifted_off_the_street(foot: str, raised: bool) -> None:
    """1.38 ft in 8 are 17.3 %; with 12 % of 8 ft below the top the foot lies at 20.44."""
    points = {"A": (0, 0), "B": (12, 0), "C": (12, 8), "D": (0, 8)}
    heights = {"A": 20.02, "B": 20.02, "C": 21.40, "D": 21.40}
    text = design(points, heights, f"run: [A, B], {foot}\nrest: lawn", use="driveway")
    comment = only(review_by("greatest-fall", text))
    assert comment.weight == "caution"
    lifted = [one for one in comment.remedies if any(edit.path == "heights.finish.A" for edit in one.edits)]
    assert bool(lifted) is raised
    if raised:
        told = {edit.path: edit.value for edit in lifted[0].edits}
        assert {path: value.si / 0.3048 for path, value in told.items()} == {
            "heights.finish.A": pytest.approx(20.44, abs=0.01), "heights.finish.B": pytest.approx(20.44, abs=0.01),
        }  # fmt: skip


@pytest.mark.parametrize(
    ("fall", "told"),
    [  # over the 20 ft of the slab; 5 % is asked, and a riser of a dwelling is 7 3/4 in at most (IRC R311.7.5.1)
        (0.08, "raise"),  # 3 % of 20 ft is 7.2 in
        (0.0833, "take 8 in of it in steps, so that the rest falls 6 in over 10'-0\" at most"),  # 7.99 in
        (0.20, "take 19 1/4 in of it in steps, so that the rest falls 14 3/8 in over 10'-0\" at most"),  # 8 %: 19.2 in
    ],
)
def test_a_walk_down_a_bank_takes_steps_rather_than_fill(fall: float, told: str) -> None:
    comment = only(review_by("greatest-fall", walk_slab(plane(RECTANGLE, -fall, 0.0))))
    assert plain(comment.to_pass, "us").startswith(told)
    assert bool(comment.remedies) is (told == "raise")
