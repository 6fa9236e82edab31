"""The rule `exposed-edge`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import review_by
from judged import judged
from slabs.heights import ALL_LEVEL, LEVEL, feet, slab, told_values, walk_slab
from slabwright.text.words import plain
from sloped import RECTANGLE, design

FOOT, INCH = 0.3048, 0.0254


# exposed-edge: 30 in, 7 3/4 in (recalled), 4 in (common practice)


def test_exposed_edge_asks_at_the_first_soft_edge() -> None:
    edges = "run: [A, B], beside: curb\nrun: [B, C], beside: lawn, name: first\nrun: [C, D], beside: bed, name: second"
    (asked,) = review_by(
        "exposed-edge", slab(ALL_LEVEL, edges=edges + "\nrun: [D, A], beside: bed, name: last")
    ).not_shown
    assert "first" in asked.add[0] and asked.add[0].endswith("such as 99.30")
    assert asked.place.path == "edges[1]"
    metric = design(RECTANGLE, ALL_LEVEL, edges, unit="m")
    assert review_by("exposed-edge", metric).not_shown[0].add[0].endswith("such as 99.850")


def test_exposed_edge_names_the_first_of_equal_drops() -> None:
    """Both stretches end at C, where the drop is 1 ft: the stretch from B is told."""
    edges = "run: [B, C, D], beside: lawn, name: low side, ground: [99.8, 99.0, 99.4]\nrest: curb"
    (finding,) = judged("exposed-edge", slab(ALL_LEVEL, edges=edges))
    assert [feet(*at) for at in finding.at.shape] == [[20, 0], [20, 12]]


@pytest.mark.parametrize(
    ("inches", "more", "expected"),
    [  # 1 1/2 in and the 6 in of a curb: common practice
        (1.4, "", []), (1.6, "", ["note"]), (5.9, "", ["note"]), (6.1, "", ["caution"]),
        (6.1, ", wheels_cross: false", []), (6.1, ", planned_step: true", []),
    ],
)  # fmt: skip
def test_exposed_edge_lets_a_car_climb_from_the_street(inches: float, more: str, expected: list[str]) -> None:
    edges = f"run: [A, B], beside: street, ground: {100 - inches / 12:.5f}{more}"
    comments = review_by("exposed-edge", slab(ALL_LEVEL, edges=edges, use="driveway")).comments
    assert [one.weight for one in comments] == expected
    if inches == 1.6:  # the street lies at 99.8667 ft
        assert advice(comments[0]).startswith("lower A by about 1 5/8 in, to 99.86 ft")


@pytest.mark.parametrize(
    ("use", "inches", "expected"),
    [("patio", 4.1, 1), ("equipment pad", 7, 0), ("equipment pad", 8, 1), ("shed base", 7, 0), ("shop floor", 7, 0)],
)
def test_the_slab_of_a_machine_or_a_shed_stands_out_of_the_ground(use: str, inches: float, expected: int) -> None:
    """To keep out of its water, by up to a step (common practice)."""
    edges = f"run: [A, B], beside: gravel, ground: {100 - inches / 12:.5f}"
    assert len(review_by("exposed-edge", slab(ALL_LEVEL, edges=edges, use=use)).comments) == expected


def test_exposed_edge_takes_the_greatest_drop_wherever_it_is() -> None:
    """High ground at a high corner: 2 in at B, 6 in at C, 5 in at D."""
    heights = {"A": 101.0, "B": 101.0, "C": 100.0, "D": 100.0}
    ground = f"[{101 - 2 / 12}, {100 - 6 / 12}, {100 - 5 / 12}]"
    edges = f"run: [A, B], beside: bed\nrun: [B, C, D], beside: lawn, name: low side, ground: {ground}\nrest: curb"
    comment = only(review_by("exposed-edge", slab(heights, edges=edges)))
    assert (comment.says.values["point"], comment.shown.si) == ("C", pytest.approx(6 * INCH))
    assert told_values(comment)["up"] == "99.67 ft"  # 4 in under 100 ft is 99.6667


# exposed-edge: a guard is 36 in or 0.9 m high, a door makes a drop weigh more within 36 in of it (common practice)


@pytest.mark.parametrize(
    ("unit", "guard", "settled"),
    [("ft", "35 in", False), ("ft", "36 in", True), ("m", "0.89 m", False), ("m", "0.90 m", True)],
)
def test_exposed_edge_a_guard_settles_a_drop_from_its_full_height(unit: str, guard: str, settled: bool) -> None:
    low = 97.0 if unit == "ft" else 99.0
    text = slab(LEVEL, edges=f"run: [C, D], beside: wall, ground: {low}, guard: {guard}\nrest: curb", unit=unit)
    assert (review_by("exposed-edge", text).comments == ()) is settled


@pytest.mark.parametrize(("inches", "limit"), [(35.5, "door_drop_at_most"), (36.5, "step_drop_at_most")])
def test_exposed_edge_a_door_is_near_within_three_feet(inches: float, limit: str) -> None:
    """The lawn begins beside the door, and lies 9 in down all along."""
    near = inches / 12
    text = slab(
        LEVEL,
        f"fixtures: [{{kind: door, name: back door, along: [[{17 - near}, 0], [{20 - near}, 0]]}}]",
        edges="run: [B, C], beside: lawn, ground: 99.25\nrest: curb",
    )
    assert only(review_by("exposed-edge", text)).limit.name == limit


def test_exposed_edge_of_soft_ground_dressed_too_low_is_told_how_far_below_it_may_lie() -> None:
    edges = "run: [C, D], beside: lawn, name: low side, ground_below: %s\nrest: curb"
    comment = only(review_by("exposed-edge", slab(LEVEL, edges=edges % "4 1/4 in")))
    assert advice(comment).startswith("bring the lawn up to 4 in below the slab")
    assert review_by("exposed-edge", slab(LEVEL, edges=edges % "4 in")).comments == ()


def test_exposed_edge_soft_ground_in_meters_is_told_in_whole_centimeters() -> None:
    """4 in are 101.6 mm: a person says 100 mm; 1 1/2 in are 38 mm. With ground beyond, nobody fills it up."""
    for wheels, unit, within in (("", "m", "100 mm"), (", wheels_cross: true", "m", "38 mm"), ("", "ft", "4 in")):
        ground = 99.75 if unit == "m" else 99.6
        edges = f"run: [C, D], beside: lawn, ground: {ground}, ground_beyond: {ground}{wheels}\nrest: curb"
        comment = only(review_by("exposed-edge", slab(LEVEL, edges=edges, unit=unit)))
        told = plain(comment.to_pass, "metric" if unit == "m" else "us", both=False)
        assert told.startswith(f"grade the lawn up to within {within} of the top of the slab along edge C-D (lawn)")


@pytest.mark.parametrize(
    ("ground", "expected"),
    [  # finish 100.00 ft. 4 in = 0.3333 ft (common practice); 7 3/4 in = 0.6458, 30 in = 2.5 ft (IRC 2018, read)
        (99.667, []),
        (99.666, [("note", "bare_face_at_most")]),
        (99.355, [("note", "bare_face_at_most")]),
        (99.354, [("note", "step_drop_at_most")]),
        (97.5, [("note", "step_drop_at_most")]),
        (97.499, [("hold", "guard_drop_at_most")]),
        (100.2, []),
    ],
)
@pytest.mark.parametrize("beside", ["lawn", "bed", "gravel", "open ground"])
def test_a_drop_is_backfilled_stepped_or_guarded(beside: str, ground: float, expected: list[tuple[str, str]]) -> None:
    text = walk_slab(
        dict.fromkeys(RECTANGLE, 100.0), edges=f"run: [C, D], beside: {beside}, ground: {ground}\nrest: curb"
    )
    assert weights(review_by("exposed-edge", text)) == expected


@pytest.mark.parametrize(
    ("deep", "drop", "flight", "expected"),
    [  # common practice: an edge that reaches 2 in into the ground shows no base, and a stoop has sides
        (10, 7.75, False, None),
        (9.7, 7.75, False, "bare_face_at_most"),
        (30, 20, False, "step_drop_at_most"),
        (30, 20, True, None),
        (21.9, 20, True, "step_drop_at_most"),
        (40, 30.1, True, "guard_drop_at_most"),
    ],
)
def test_an_edge_that_reaches_into_the_ground_may_show(
    deep: float, drop: float, flight: bool, expected: str | None
) -> None:
    edges = f"run: [D, A], beside: bed, ground: {100 - drop / 12:.5f}\nrest: curb"
    steps = ", steps: [{name: steps, width: 4 ft, tread: 12 in, riser: 7 in, count: 3}]" if flight else ""
    edge = f"thickened_edges: [{{run: [D, A], depth: {deep} in, width: 8 in, taper: 0 ft}}]"
    text = slab(ALL_LEVEL, edges=edges).replace("{design: 4 in}", f"{{design: 4 in, {edge}{steps}}}")
    found = [one.limit.name for one in review_by("exposed-edge", text).comments if "D-A" in one.at.name]
    assert found == ([expected] if expected else [])


@pytest.mark.parametrize(("ground", "expected"), [(99.875, []), (99.874, [("note", "wheel_lip_at_most")])])
def test_wheels_bump_up_over_no_lip(ground: float, expected: list[tuple[str, str]]) -> None:
    """1 1/2 in is 0.125 ft: common practice."""
    edges = f"run: [C, D], beside: gravel, wheels_cross: true, ground: {ground}\nrest: curb"
    report = review_by("exposed-edge", walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges))
    assert weights(report) == expected
    assert not any("build a step" in plain(one.to_pass, "us") for one in report.comments)


def test_the_deepest_point_of_an_edge_is_told_once() -> None:
    edges = "run: [B, C, D], beside: lawn, name: low side, ground: [99.8, 99.0, 99.4]\nrest: curb"
    comment = only(review_by("exposed-edge", walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges)))
    assert plain(comment.says, "us", both=False) == "the slab stands 12 in out of the lawn at C"
    # 4 in below 100.00 ft is 99.6667: written 99.67 ft, 0.67 ft = 8.04 in over 99.00
    told = advice(comment)
    assert told.endswith(": about 8 in higher; or build a step there")
    edits = [(edit.path, edit.value.si / FOOT) for edit in comment.remedies[0].edits]
    assert edits == [("edges[0].ground[1]", pytest.approx(99.67)), ("edges[0].ground[2]", pytest.approx(99.67))]


def test_edges_that_nobody_steps_off() -> None:
    level = dict.fromkeys(RECTANGLE, 100.0)
    reason = review_by("exposed-edge", walk_slab(level, edges="rest: curb")).does_not_apply[0].reason
    assert reason == "no ground lies open beside it"
    for edges in ("rest: street, ground: 95", "rest: existing slab, ground: 95", "rest: property line, ground: 95"):
        assert weights(review_by("exposed-edge", walk_slab(level, edges=edges))) == [("hold", "guard_drop_at_most")]
        assert review_by("exposed-edge", walk_slab(level, edges=f"{edges}, guard: 36 in")).comments == ()
    (silent,) = review_by(
        "exposed-edge", walk_slab(level, edges="run: [A, B], beside: lawn, name: lawn\nrest: curb")
    ).not_shown
    assert silent.add == ("edges, ground: the height beside lawn, such as 99.30",)
    indoors = walk_slab(level, edges="rest: open ground", use="shop floor")
    assert review_by("exposed-edge", indoors).does_not_apply


# guards


@pytest.mark.parametrize(
    ("edge", "use", "expected"),
    [  # IRC 2018 R312.1.1, read: over 30 in, to the lowest ground within 36 in
        ("lawn, ground: 99.7, ground_beyond: 97.4", "patio", [("hold", "guard_drop_at_most")]),
        ("lawn, ground: 99.7, ground_beyond: 97.6", "patio", []),
        ("wall, ground: 97.4", "patio", [("hold", "guard_drop_at_most")]),
        ("wall, ground: 97.4, guard: 36 in", "patio", []),
        ("wall, ground: 97.4, guard: 30 in", "patio", [("hold", "guard_drop_at_most")]),
        ("wall, ground: 97.4", "equipment pad", [("caution", "pad_drop_at_most")]),
        ("trench drain, ground_beyond: 97.4", "patio", [("hold", "guard_drop_at_most")]),
        ("trench drain, ground_beyond: 97.4, guard: 36 in", "patio", []),
        ("trench drain, ground: 97.4", "patio", []),  # of its bottom, and not of what lies beyond
    ],
)
def test_a_guard_over_thirty_inches(edge: str, use: str, expected: list[tuple[str, str]]) -> None:
    text = walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges=f"run: [C, D], beside: {edge}\nrest: curb", use=use)
    comments = review_by("exposed-edge", text).comments
    assert [(one.weight, one.limit.name) for one in comments] == expected
    assert [one.shown.si for one in comments] == pytest.approx([(100 - 97.4) * FOOT] * len(expected))
    assert not any(one.remedies for one in comments)  # nobody raises what a wall holds, or soil that falls away


def test_a_drop_beside_a_door_weighs_more() -> None:
    """9 in down to the lawn: a note, and a caution within 36 in of a door."""
    text = walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges="run: [B, C], beside: lawn, ground: 99.25\nrest: curb")
    assert weights(review_by("exposed-edge", text)) == [("note", "step_drop_at_most")]
    door = "fixtures: [{kind: door, name: back door, along: [[15, 0], [18, 0]]}]"
    assert weights(review_by("exposed-edge", f"{text}\n{door}")) == [("caution", "door_drop_at_most")]


def test_a_drop_that_wants_a_guard_weighs_more_than_one_beside_a_door() -> None:
    """9 in down to the lawn by the door at B, and 31 in at C: 30 in (IRC 2018 R312.1.1, read)."""
    edges = f"run: [B, C], beside: lawn, ground: [99.25, {100 - 31 / 12}]\nrest: curb"
    door = "fixtures: [{kind: door, name: back door, along: [[15, 0], [18, 0]]}]"
    text = walk_slab(dict.fromkeys(RECTANGLE, 100.0), door, edges=edges)
    assert weights(review_by("exposed-edge", text)) == [("hold", "guard_drop_at_most")]


# public walks


@pytest.mark.parametrize(
    ("gate", "expected"),
    [
        ("along: [[8, 12], [11, 12]], at: [9, 12]", [("caution", "door_drop_at_most")]),
        ("along: [[8, 40], [11, 40]], at: [9, 40]", [("note", "step_drop_at_most")]),
    ],
)
def test_a_drop_before_a_gate_in_the_middle_of_an_edge_counts(gate: str, expected: list[tuple[str, str]]) -> None:
    """9.6 in from end to end, over 7 3/4 in: a caution where people step off, though no corner is near (practice)."""
    edges = "run: [C, D], beside: lawn, ground: 99.2\nrest: lawn"
    text = (
        walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges)
        + f"\nfixtures: [{{kind: gate, name: side gate, {gate}}}]"
    )
    assert weights(review_by("exposed-edge", text)) == expected


def test_a_drop_before_a_gate_is_that_of_the_ground_there() -> None:
    """The lawn falls from 99.4 ft at C to 99.0 at D: half a foot past the middle it lies 0.81 ft down."""
    edges = "run: [C, D], beside: lawn, ground: [99.4, 99.0]\nrest: curb"
    gate = "fixtures: [{kind: gate, name: side gate, along: [[8, 12], [11, 12]]}]"
    comment = only(review_by("exposed-edge", walk_slab(dict.fromkeys(RECTANGLE, 100.0), gate, edges=edges)))
    assert (comment.limit.name, comment.shown.si) == ("door_drop_at_most", pytest.approx(0.81 * FOOT))


@pytest.mark.parametrize("beside", ["building", "trench drain", "pool"])
def test_nothing_lies_open_at_what_stands_or_lies_closed(beside: str) -> None:
    """The ground by a house wall lies 3 ft down; nobody falls there."""
    text = slab(ALL_LEVEL, edges=f"run: [A, B], beside: {beside}, ground: 97\nrest: curb")
    assert review_by("exposed-edge", text).does_not_apply[0].reason == "no ground lies open beside it"


@pytest.mark.parametrize(
    ("steps", "weight"),
    [
        ("", "caution"),
        ("foot: [[-3, 2], [-3, 6]], climbs_to: [0, 4], foot_height: 98.2", "note"),
        ("foot: [[-2, 5.95], [-2, 9.95]], climbs_to: [0, 7.95], foot_height: 98.2", "note"),  # 71 1/2 in from A
        ("foot: [[-2, 6.04], [-2, 10.04]], climbs_to: [0, 8.04], foot_height: 98.2", "caution"),  # 72 1/2 in
        ("foot: [[23, 2], [23, 6]], climbs_to: [20, 4], foot_height: 98.2", "caution"),  # far from the door
    ],
)
def test_exposed_edge_lets_people_at_a_door_take_the_flight_there(steps: str, weight: str) -> None:
    """A stoop 21 in high has open sides under the 30 in of a guard, common practice."""
    flight = f", steps: [{{name: stoop steps, width: 4 ft, tread: 12 in, riser: 7 in, count: 3, {steps}}}]"
    edges = "run: [A, B], beside: building\nrest: lawn, ground: 98.25"
    door = "fixtures: [{kind: door, name: back door, along: [[1, 0], [4, 0]], sill: 100.1}]"
    text = slab(ALL_LEVEL, door, edges=edges)
    if steps:
        text = text.replace("{design: 4 in}", "{design: 4 in" + flight + "}")
    found = [one for one in review_by("exposed-edge", text).comments if one.limit.name.endswith("_drop_at_most")]
    assert {one.weight for one in found} == {weight}


@pytest.mark.parametrize(("below", "found"), [(11.9, []), (12.1, [("note", "step_drop_at_most")])])
def test_a_tread_is_the_next_step_down_from_an_edge_within_a_foot(below: float, found: list[tuple[str, str]]) -> None:
    """Common practice; the upper of two treads stands so many inches below the slab, and a foot above the lawn."""
    points, foot = {**RECTANGLE, "P": (7, 0), "Q": (11, 0)}, 100 - (below + 12) / 12
    flight = "{name: flight, width: 4 ft, tread: 12 in, riser: 6 in, count: 2, foot: [[7, -2], [11, -2]], "
    steps = f"steps: [{flight}climbs_to: [9, 0], foot_height: {foot:.4f}}}]"
    edges = f"run: [P, Q], beside: lawn, ground: {foot:.4f}\nrest: curb"
    text = design(points, dict.fromkeys(points, 100.0), edges, "A P Q B C D")
    text = text.replace("{design: 4 in}", f"{{design: 4 in, {steps}}}")
    assert weights(review_by("exposed-edge", text)) == found
    (edge,) = (one for one in judged("exposed-edge", text) if one.at.name.startswith("edge P-Q"))
    assert edge.shown.si == pytest.approx((100 - round(foot, 4)) * FOOT if found else 0.0)


@pytest.mark.parametrize(
    ("steps", "told"),
    [
        (
            ", steps: [{name: garden steps, width: 4 ft, tread: 12 in, riser: 6 in, count: 2, "
            "foot: [[7, -1], [11, -1]], climbs_to: [9, 4], foot_height: 99}]",
            "make the steps wider along lawn, or keep people off it there with a rail or a hedge",
        ),
        ("", "bring the lawn up to 99.67 ft at A: about 8 in higher; or build a step there"),
    ],
)
def test_ground_at_the_foot_of_steps_is_left_as_it_is(steps: str, told: str) -> None:
    """The lawn lies 12 in down, two risers of 6 in; filled up to 4 in below the slab it would bury them."""
    text = slab(ALL_LEVEL, edges="run: [A, B], beside: lawn, name: lawn, ground: 99\nrest: curb")
    comment = only(review_by("exposed-edge", text.replace("{design: 4 in}", f"{{design: 4 in{steps}}}")))
    assert advice(comment) == told


def test_ground_a_little_low_beside_steps_comes_up() -> None:
    """5 in down, and the foot of the steps lies apart: an inch of soil buries no step."""
    steps = (
        ", steps: [{name: garden steps, width: 4 ft, tread: 12 in, riser: 5 in, count: 1, "
        "foot: [[7, 0], [11, 0]], climbs_to: [9, 4], foot_height: 99.583}]"
    )
    text = slab(ALL_LEVEL, edges="run: [A, B], beside: lawn, name: lawn, ground: 99.583\nrest: curb")
    comment = only(review_by("exposed-edge", text.replace("{design: 4 in}", f"{{design: 4 in{steps}}}")))
    assert advice(comment).startswith("bring the lawn up to 99.67 ft")


def test_a_drop_beside_a_door_is_told_before_a_greater_one_that_weighs_less() -> None:
    """9 in down at B, beside the door, and 14 in from C on."""
    door = "fixtures: [{kind: door, name: back door, along: [[15, 0], [18, 0]]}]"
    edges = "run: [B, C, D], beside: lawn, ground: [99.25, 98.8, 98.8]\nrest: curb"
    comment = only(review_by("exposed-edge", slab(ALL_LEVEL, door, edges=edges)))
    assert (comment.limit.name, comment.shown.si) == ("door_drop_at_most", pytest.approx(9 * INCH))


@pytest.mark.parametrize(
    ("landings", "part", "guard"),
    [(", landings: [{after: 5, depth: 40 in}]", "landing", "36 in"), ("", "tread", "34 in")],
)
def test_the_open_side_of_a_landing_is_told_from_that_of_a_tread(landings: str, part: str, guard: str) -> None:
    """40 in up; a guard of a landing is 36 in high, a rail over nosings 34 in."""
    flight = "{name: flight, width: 4 ft, tread: 12 in, riser: 8 in, count: 5, foot: [[-8, 4], [-8, 8]], "
    flight += f"climbs_to: [0, 6], foot_height: 96{landings}}}"
    text = slab(ALL_LEVEL, edges="run: [D, A], beside: lawn, ground: 96\nrest: curb")
    comments = review_by(
        "exposed-edge", text.replace("{design: 4 in}", f"{{design: 4 in, steps: [{flight}]}}")
    ).comments
    (found,) = (one for one in comments if "side of flight" in one.at.name)
    assert (
        plain(found.says, "us", both=False) == f"it drops 40 in at the left side of the {part} behind riser 5 of flight"
    )
    assert advice(found).startswith(f"set a guard {guard} high at the left side of flight")


def test_the_open_side_of_a_metric_flight_is_guarded_from_600_mm_on() -> None:
    """Document K: 900 mm over the nosings."""
    flight = "{name: flight, width: 1.2 m, tread: 300 mm, riser: 160 mm, count: 4, foot: [[-3, 4], [-3, 8]], "
    text = slab(ALL_LEVEL, edges="run: [D, A], beside: lawn, ground: 99.2, guard: 0.9 m\nrest: curb", unit="m")
    steps = f"{{design: 4 in, steps: [{flight}climbs_to: [0, 6], foot_height: 99.2}}]}}"
    comment = only(review_by("exposed-edge", text.replace("{design: 4 in}", steps)))
    assert comment.limit.name == "metric_drop_at_most"
    assert advice(comment, "metric").startswith("set a guard 900 mm high at the left side of flight")
    guarded = steps.replace("name: flight", "name: flight, guard: 0.89 m")
    assert review_by("exposed-edge", text.replace("{design: 4 in}", guarded)).comments
    guarded = guarded.replace("0.89", "0.90")
    assert not review_by("exposed-edge", text.replace("{design: 4 in}", guarded)).comments


@pytest.mark.parametrize(
    ("use", "beyond", "found"),
    [
        ("patio", 97.0, [("hold", "guard_drop_at_most")]),  # 3 ft down beside the wall that holds the slab up
        ("equipment pad", 97.0, [("caution", "pad_drop_at_most")]),
        ("patio", 98.0, None),  # 2 ft: what lies at the edge itself is asked
    ],
)
def test_a_drop_just_beyond_a_wall_counts_though_nothing_is_said_of_its_top(
    use: str, beyond: float, found: list[tuple[str, str]] | None
) -> None:
    edges = f"run: [A, B], beside: wall, ground_beyond: {beyond}\nrest: bed"
    report = review_by("exposed-edge", slab(ALL_LEVEL, edges=edges, use=use))
    assert weights(report) == (found or [])
    assert bool(report.not_shown) is (found is None)


@pytest.mark.parametrize(("ground", "bank"), [(98.67, True), (98.66, False)])
def test_ground_that_would_be_a_bank_is_not_brought_up_unasked(ground: float, bank: bool) -> None:
    """4 in below 100.00 ft is 99.67 ft as written: 12 in over 98.67 ft; more wants a wall (common practice)."""
    edges = f"run: [C, D], beside: lawn, name: low side, ground: {ground}\nrest: curb"
    comment = only(review_by("exposed-edge", walk_slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges)))

    assert bool(comment.remedies) is bank
    if not bank:
        told = "build a step along low side, or keep people off it there with a rail or a hedge"
        assert advice(comment) == told
