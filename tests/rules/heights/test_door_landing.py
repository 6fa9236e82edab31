"""The rule `door-landing`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, places, weights
from design_text import review_by
from slabs.heights import HOUSE, HOUSE_BY_BED, doors, slab, walk_slab
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254


def door(width: float = 3, heights: dict[str, float] | None = None, use: str = "walk", more: str = "") -> str:
    fixture = f"fixtures: [{{kind: door, name: back door, along: [[4, 0], [{4 + width}, 0]], sill: 100.1{more}}}]"
    return walk_slab(heights or plane(RECTANGLE, 0, -0.02), fixture, edges=HOUSE_BY_BED, use=use)


# door-landing: 36 in out of the door, doors up to 8 ft wide (common practice)


@pytest.mark.parametrize(
    ("along", "people"),
    [
        ("[[0, 0], [7.9, 0]]", True),
        ("[[0, 0], [8, 0]]", False),  # the door of one car, common practice
        ("[[0, 0], [4, 0], [9, 0]]", False),  # two leaves, 9 ft in all
        ("[[0, 0], [4, 0], [7, 0]]", True),
        ("[D, [0, 9]]", True),  # 3 ft of the side, far from the origin
    ],
)
def test_door_landing_of_doors_under_eight_feet(along: str, people: bool) -> None:
    report = review_by("door-landing", doors(f"kind: door, along: {along}").replace("use: patio", "use: driveway"))
    assert weights(report) == ([("caution", "slope_at_most")] if people else [])
    assert bool(report.does_not_apply) is not people


def test_door_landing_is_asked_of_doors_alone() -> None:
    gate = "kind: gate, along: [[2, 0], [5, 0]]"
    assert [one.reason for one in review_by("door-landing", doors(gate)).does_not_apply] == ["no door is drawn"]
    report = review_by("door-landing", doors(gate, "kind: door, name: back door, along: [[8, 0], [11, 0]]"))
    assert places(report) == ["landing at back door"]
    asked = review_by("door-landing", doors(gate, "kind: door, name: back door, at: [9, 0]"))
    assert "back door" in asked.not_shown[0].add[0]


def test_door_landing_asks_for_the_width_of_the_door_that_has_none() -> None:
    wide, bare = "kind: door, name: roller door, along: [[0, 0], [9, 0]]", "kind: door, name: back door, at: [12, 0]"
    (asked,) = review_by("door-landing", doors(wide, bare)).not_shown
    assert "back door" in asked.add[0]
    assert asked.place.path == "fixtures[1]"


@pytest.mark.parametrize("name", ["Rolltor", "Garagentor Nord", "Sektionaltor", "porte de garage", "roll-up door"])
def test_a_door_that_is_called_one_for_vehicles_has_no_landing(name: str) -> None:
    """What they are called in the trade, in three languages (common practice)."""
    assert review_by("door-landing", doors(f"kind: door, name: {name}, at: [9, 0]")).not_shown == ()


def test_door_landing_goes_on_after_a_door_elsewhere() -> None:
    far, near = "kind: door, along: [[2, -9], [5, -9]]", "kind: door, name: back door, along: [[8, 0], [11, 0]]"
    report = review_by("door-landing", doors(far, near))
    assert places(report) == ["landing at back door"]


# door-landing: a door that swings out over its steps stands on the uppermost tread


@pytest.mark.parametrize(
    ("swings", "steps", "shown"),
    [  # the upper tread is deep, the first is not; in without a landing; the slab itself is 12 ft deep
        (True, "riser: 6 in, count: 2, landings: [{after: 2, depth: 40 in}]", 40 * INCH),
        (True, "riser: 6 in, count: 2, landings: [{after: 1, depth: 40 in}]", 12 * INCH),
        (True, "riser: 6 in, count: 2", 12 * INCH),
    ],
)
def test_door_landing_is_the_tread_under_a_door_that_swings_over_steps(swings: bool, steps: str, shown: float) -> None:
    flight = f"steps: [{{name: stoop, width: 4 ft, tread: 12 in, {steps}, leads_to: back door}}]"
    door = f"kind: door, name: back door, along: [[2, 0], [5, 0]], sill: 101.5, swings_over: {str(swings).lower()}"
    text = slab(plane(RECTANGLE, 0, -0.02), f"fixtures: [{{{door}}}]", edges=HOUSE)
    report = review_by("door-landing", text.replace("{design: 4 in}", "{design: 4 in, " + flight + "}"))
    (found,) = (
        one.shown for one in (*report.comments, *report.met) if one.limit and one.limit.name == "depth_at_least"
    )
    assert found is not None and found.si == pytest.approx(shown)
    for comment in (one for one in report.comments if one.limit.name == "depth_at_least"):
        assert plain(comment.says, "us") == "back door swings out over its steps, with no landing up there"


@pytest.mark.parametrize(
    ("fall", "expected"),
    [  # 1/4 in 12 = 1/48 = 2.0833 % (IRC R311.3, which also prints 2 %)
        (0.02, []),
        (1 / 48, []),
        (0.025, []),  # up to there nothing is said
        (0.027, [("caution", "slope_at_most")]),
        (0.0, []),
    ],
)
def test_a_landing_is_level_enough_to_stand_on(fall: float, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("door-landing", door(heights=plane(RECTANGLE, 0, -fall)))) == expected


@pytest.mark.parametrize(
    ("fall", "required", "accessible", "expected"),
    [  # half of 1 mm over 36 in is 0.05 %; a twentieth of 2.5 % is 0.125 %, and 1:48 has no give
        (0.0262, False, False, []),
        (0.0263, False, False, [("caution", "slope_at_most")]),
        (0.0262, True, False, []),
        (0.0264, True, False, [("caution", "slope_at_most")]),  # the give is that of the nearest limit, not of 3 %
        (1 / 48, False, True, []),
        (0.0209, False, True, [("hold", "accessible_slope_at_most")]),
    ],
)
def test_what_a_landing_is_given(
    fall: float, required: bool, accessible: bool, expected: list[tuple[str, str]]
) -> None:
    text = door(heights=plane(RECTANGLE, 0, -fall), more=", required_exit: true" if required else "")
    text += "\nsite: {accessible_route: [[5.5, 6], [5.5, 0]]}" if accessible else ""
    assert weights(review_by("door-landing", text)) == expected


@pytest.mark.parametrize(
    ("unit", "found", "told"),
    [
        ("ft", ("hold", "exit_slope_at_most"), "let the slab fall 3/4 in in the first 3'-0\" at back door"),
        ("m", ("caution", "slope_at_most"), "let the slab fall 19 mm in the first 0.9 m at back door"),
    ],
)
def test_the_us_code_holds_the_landing_of_a_required_exit(unit: str, found: tuple[str, str], told: str) -> None:
    """One in 48 of a landing is what is told."""
    text = door(heights=plane(RECTANGLE, 0, -0.05), more=", required_exit: true")
    comment = only(review_by("door-landing", text.replace("plan: ft, height: ft", f"plan: {unit}, height: {unit}")))
    assert (comment.weight, comment.limit.name) == found
    assert comment.decide is not None
    assert plain(comment.decide, "us" if unit == "ft" else "metric", both=False) == told


@pytest.mark.parametrize(("swings", "found"), [("true", ["accessible_pull_at_least"]), ("false", [])])
def test_a_door_that_is_pulled_on_an_accessible_way_asks_for_a_deeper_landing(swings: str, found: list[str]) -> None:
    """54 in before it: 48 where it is pushed, 60 where it is pulled (2010 ADA 404.2.4, recalled)."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 4.5), "D": (0, 4.5)}
    text = design(points, plane(points, 0, -0.02), HOUSE_BY_BED, use="walk") + (
        f"\nfixtures: [{{kind: door, along: [[4, 0], [7, 0]], sill: 100, swings_over: {swings}}}]"
        "\nsite: {accessible_route: [[5.5, 4.5], [5.5, 0]]}"
    )
    assert limits_broken(review_by("door-landing", text)) == found


def test_across_the_door_counts_as_well() -> None:
    comment = only(review_by("door-landing", door(heights=plane(RECTANGLE, 0.03, -0.04))))
    assert comment.shown.si == pytest.approx(0.05)  # sqrt(3^2 + 4^2)


def test_one_slope_serves_wall_and_landing() -> None:
    """2 % away from the wall is asked, 2.5 % is the most before a door: both are met between."""
    for fall, rules in ((0.02, set()), (0.024, set()), (0.028, {"door-landing"})):
        text = door(heights=plane(RECTANGLE, 0, -fall))
        short = {name for name in ("fall-from-building", "door-landing") if review_by(name, text).comments}
        assert short == rules, fall


def test_beyond_three_feet_it_may_be_steeper() -> None:
    points = {**RECTANGLE, "E": (0.0, 3.1), "F": (20.0, 3.1)}
    heights = {"A": 100, "B": 100, "E": 99.95, "F": 99.95, "C": 99.0, "D": 99.0}
    more = "  lines: [{name: end of landing, kind: grade break, along: [E, F]}]"
    text = design(points, heights, HOUSE_BY_BED, more=more, use="walk")
    fixture = "fixtures: [{kind: door, along: [[4, 0], [7, 0]]}]"
    assert weights(review_by("door-landing", "\n".join([text, fixture]))) == []
    nearer = text.replace("3.1]", "2.9]")
    assert weights(review_by("door-landing", "\n".join([nearer, fixture]))) == [("caution", "slope_at_most")]


def test_a_landing_that_is_not_deep() -> None:
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 2.5), "D": (0, 2.5)}
    text = "\n".join(
        [
            design(points, plane(points, 0, -0.02), HOUSE_BY_BED),
            "fixtures: [{kind: door, name: door, along: [[4, 0], [7, 0]]}]",
        ]
    )
    comment = only(review_by("door-landing", text))
    assert (comment.weight, comment.limit.name) == ("caution", "depth_at_least")
    assert comment.shown.si == pytest.approx(2.5 * FOOT, abs=1e-6)
    # 36 in less 30 in
    assert advice(comment).endswith('from door: 6" more')


def test_doors_without_a_landing_to_judge() -> None:
    def reason(text: str) -> str:
        return review_by("door-landing", text).does_not_apply[0].reason

    assert reason(door(use="garage floor")) == "no rain falls on it, and no door swings out over steps"
    assert reason(walk_slab(plane(RECTANGLE, 0, -0.02), edges=HOUSE_BY_BED)) == "no door is drawn"
    assert reason(door(width=8.1, use="driveway")) == "every door is for vehicles"
    assert reason(door().replace("back door", "overhead door")) == "every door is for vehicles"
    assert reason(door().replace("[4, 0], [7, 0]", "[4, -5], [7, -5]")) == "no door that people use opens on it"
    spot = walk_slab(
        plane(RECTANGLE, 0, -0.02), "fixtures: [{kind: door, name: back door, at: [4, 0]}]", edges=HOUSE_BY_BED
    )
    (silent,) = review_by("door-landing", spot).not_shown
    assert silent.add == (
        "fixtures, along: the two ends of the width of back door, such as [[3, 0], [6, 0]]; "
        "or its width, such as 3 ft, and its middle (at)",
    )


@pytest.mark.parametrize(
    ("edges", "fall", "found"),
    [  # 2 % off each of two walls is 2.83 % downhill
        ("run: [A, B], beside: building\nrun: [D, A], beside: building\nrest: lawn", 0.02, []),
        ("run: [A, B], beside: building\nrun: [D, A], beside: building\nrest: lawn", 0.0225, ["corner_slope_at_most"]),
        ("run: [A, B], beside: building\nrest: lawn", 0.02, ["slope_at_most"]),
    ],
)
def test_door_landing_in_the_corner_of_two_walls(edges: str, fall: float, found: list[str]) -> None:
    fixture = "fixtures: [{kind: door, name: back door, along: [[4, 0], [7, 0]], sill: 100.1}]"
    text = walk_slab(plane(RECTANGLE, -fall, -fall), fixture, edges=edges, use="patio")
    assert [one.limit.name for one in review_by("door-landing", text).comments if one.limit] == found


@pytest.mark.parametrize("treads", [("12 in", "14 in"), ("14 in", "12 in")])
def test_of_two_flights_under_a_leaf_the_one_with_less_to_stand_on_counts(treads: tuple[str, str]) -> None:
    flights = ", ".join(
        f"{{name: to {tread}, width: 4 ft, tread: {tread}, riser: 6 in, count: 2, leads_to: back door}}"
        for tread in treads
    )
    fixture = "{kind: door, name: back door, along: [[2, 0], [5, 0]], sill: 101.5, swings_over: true}"
    text = slab(plane(RECTANGLE, 0, -0.02), f"fixtures: [{fixture}]", edges=HOUSE)
    report = review_by("door-landing", text.replace("{design: 4 in}", f"{{design: 4 in, steps: [{flights}]}}"))
    (found,) = (one for one in report.comments if one.limit.name == "depth_at_least")
    assert found.shown.si == pytest.approx(12 * INCH)


@pytest.mark.parametrize(
    ("swings", "level", "found"),
    [  # out from the door: 48 in where it is pushed open, 60 in where it is pulled (2010 ADA 404.2.4, recalled)
        ("false", 48.5, []),
        ("false", 47.5, [("hold", "accessible_slope_at_most")]),
        ("true", 60.5, []),
        ("true", 59.5, [("hold", "accessible_slope_at_most")]),
    ],
)
def test_a_landing_on_an_accessible_way_is_level_as_far_as_a_wheelchair_needs(
    swings: str, level: float, found: list[tuple[str, str]]
) -> None:
    y = level / 12
    points = {**RECTANGLE, "E": (0.0, y), "F": (20.0, y)}
    heights = {name: 100 - 0.02 * min(at, y) - 0.05 * max(0.0, at - y) for name, (_, at) in points.items()}
    line = "  lines: [{kind: grade break, along: [E, F]}]"
    text = design(points, heights, HOUSE_BY_BED, "A B F C D E", line, use="walk") + (
        f"\nfixtures: [{{kind: door, along: [[4, 0], [7, 0]], sill: 100, swings_over: {swings}}}]"
        "\nsite: {accessible_route: [[5.5, 12], [5.5, 0]]}"
    )
    assert weights(review_by("door-landing", text)) == found


@pytest.mark.parametrize(
    ("steps", "expected"),
    [  # the slab falls 4 %; nobody stands on it where the treads lie over it
        ("", [("caution", "slope_at_most")]),
        ("count: 1", [("caution", "slope_at_most")]),  # one tread leaves most of the 36 in open
        ("count: 3", []),
        ("width: 5 ft, count: 3", []),  # steps are often wider than their door
        ("count: 2, landings: [{after: 2, depth: 40 in}], tread_slope: 2 %", []),
        ("count: 2, landings: [{after: 2, depth: 40 in}], tread_slope: 4 %", [("caution", "slope_at_most")]),
    ],
)
def test_before_a_door_up_steps_the_treads_are_what_one_stands_on(steps: str, expected: list[tuple[str, str]]) -> None:
    wide = "" if "width" in steps else "width: 3 ft, "
    flight = f"steps: [{{name: stoop, {wide}tread: 12 in, riser: 6 in, {steps}, leads_to: back door}}]"
    door = "kind: door, name: back door, along: [[2, 0], [5, 0]], sill: 101.5, swings_over: false"
    thick = f"thickness: {{design: 4 in, {flight}}}" if steps else ""
    text = slab(plane(RECTANGLE, 0, -0.04), f"fixtures: [{{{door}}}]", edges=HOUSE)
    text = text.replace("thickness: {design: 4 in}", thick) if thick else text
    report = review_by("door-landing", text)
    assert weights(report) == expected


@pytest.mark.parametrize(
    ("strip", "found"),
    [
        (0.25, []),  # 3 in between the sill and a slot drain: a hundredth of a foot over it says nothing of a slope
        (1.0, [("hold", "accessible_slope_at_most")]),
    ],
)
def test_a_strip_between_sill_and_slot_drain_is_no_landing(strip: float, found: list[tuple[str, str]]) -> None:
    slot = f"channels: [{{along: [[0, {strip}], [20, {strip}]], width: 2 in, rim: {100 - 0.04 * strip}}}]\n"
    text = walk_slab(
        {name: 100 - 0.04 * strip - 0.02 * (y - strip) if y else 100.0 for name, (_, y) in RECTANGLE.items()},
        slot + "fixtures: [{kind: door, name: shop door, along: [[4, 0], [8, 0]], sill: 100.02}]\n"
        "site: {accessible_route: [[6, 0], [6, 10]]}",
        edges=HOUSE_BY_BED,
        use="patio",
    )
    assert weights(review_by("door-landing", text)) == found


@pytest.mark.parametrize(
    ("beside", "found"),
    [
        ("building", []),  # a passage: 2 % off each wall, and 2 % out between them
        ("lawn", [("caution", "slope_at_most")]),
    ],
)
def test_a_door_in_a_passage_between_two_walls_may_have_two_falls(beside: str, found: list[tuple[str, str]]) -> None:
    edges = f"run: [A, B], beside: building, name: house\nrun: [C, D], beside: {beside}, name: garage\nrest: lawn"
    text = walk_slab(
        plane(RECTANGLE, -0.02, -0.02),
        "fixtures: [{kind: door, name: back door, along: [[4, 0], [7, 0]], sill: 100.5}]",
        edges=edges,
        use="patio",
    )
    assert weights(review_by("door-landing", text)) == found


@pytest.mark.parametrize(
    ("swings", "landing", "found"),
    [
        ("true", "", [("caution", "depth_at_least")]),  # as at a garage: IRC R311.7.6, recalled
        ("true", ", landings: [{after: 4, depth: 3 ft}]", []),  # level with the sill
        ("true", ", landings: [{after: 4, depth: 30 in}]", [("caution", "depth_at_least")]),
        ("false", "", []),
    ],
)
def test_a_door_over_steps_in_a_garage_swings_in_or_has_a_landing(
    swings: str, landing: str, found: list[tuple[str, str]]
) -> None:
    floor = plane(RECTANGLE, 0, -0.01)
    text = walk_slab(
        floor,
        f"fixtures: [{{kind: door, name: hall door, along: [[4, 0], [7, 0]], sill: {floor['A'] + 2.25}, "
        f"swings_over: {swings}}}]",
        edges=HOUSE_BY_BED,
        use="garage floor",
    ).replace(
        "thickness: {design: 4 in}",
        "thickness: {design: 4 in, steps: [{name: hall steps, width: 4 ft, tread: 11 in, riser: 6 3/4 in, count: 4, "
        f"leads_to: hall door{landing}}}]}}",
    )
    report = review_by("door-landing", text)
    assert weights(report) == found
    assert bool(report.does_not_apply) is (swings == "false")
