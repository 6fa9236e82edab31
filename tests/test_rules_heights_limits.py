"""Rules about heights just under and just over what they let pass, in feet and in meters."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import review_by
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254
LEVEL = dict.fromkeys(RECTANGLE, 100.0)
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: bed"


def slab(heights: dict[str, float], *more: str, edges: str = "rest: bed", use: str = "patio", unit: str = "ft") -> str:
    """The rectangle of 20 by 12, in ``unit``, with these heights, and whole sections of YAML."""
    return "\n".join([design(RECTANGLE, heights, edges, use=use, unit=unit), *more])


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


def test_exposed_edge_soft_ground_in_meters_is_told_in_whole_centimeters() -> None:
    """4 in are 101.6 mm: a person says 100 mm, and no more than that. With ground beyond, nobody fills it up."""
    edges = "run: [C, D], beside: lawn, name: low side, ground: 99.85, ground_beyond: 99.8\nrest: curb"
    comment = only(review_by("exposed-edge", slab(LEVEL, edges=edges, unit="m")))
    told = plain(comment.to_pass, "metric", both=False)
    assert told.startswith("grade the lawn up to within 100 mm of the top of the slab along low side")


# even-risers: the bottom riser may differ where the paving at its foot slopes more than 1 %


@pytest.mark.parametrize(("fall", "told"), [(0.009, True), (0.011, False)])
def test_even_risers_the_bottom_one_differs_only_on_paving_that_slopes(fall: float, told: bool) -> None:
    """Three risers of 5, 6 1/2 and 6 1/2 in up to a porch of 18 in; 3/8 in are let pass (IRC R311.7.5.1, quoted)."""
    heights = plane(RECTANGLE, 0, -fall)
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, risers: [5 in, 6 1/2 in, 6 1/2 in], "
    text = slab(heights, edges="run: [A, B], beside: step, name: porch, ground: 101.5\nrest: bed")
    text = text.replace("{design: 4 in}", steps + "leads_to: porch}]}")
    assert bool(review_by("even-risers", text).comments) is told


@pytest.mark.parametrize(("porch", "told"), [(101.535, False), (101.5375, True)])
def test_even_risers_half_a_step_of_the_heights_is_let_pass(porch: float, told: bool) -> None:
    """Two risers of 6 in and what is left: 3/8 in (IRC R311.7.5.1, quoted) and 0.06 in more; 0.42 and 0.45 in."""
    text = slab(LEVEL, edges=f"run: [A, B], beside: step, name: porch, ground: {porch}\nrest: bed")
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 6 in, count: 2, leads_to: porch}]}"
    assert bool(review_by("even-risers", text.replace("{design: 4 in}", steps)).comments) is told


# step-sizes: as many risers as it takes, and one more from a hair over that


@pytest.mark.parametrize(("inches", "risers"), [(15.5, 2), (15.6, 3)])
@pytest.mark.parametrize("drawn", [False, True])
def test_step_sizes_divides_a_rise_into_whole_risers(inches: float, risers: int, drawn: bool) -> None:
    """Two risers of 7 3/4 in (IRC R311.7.5.1, quoted) climb 15 1/2 in, and not a tenth more."""
    text = slab(LEVEL, edges=f"run: [A, B], beside: step, name: porch, ground: {100 + inches / 12:.7f}\nrest: bed")
    if drawn:
        steps = "steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 8 in, count: 1, leads_to: porch}]"
        text = text.replace("{design: 4 in}", "{design: 4 in, " + steps + "}")
    (comment, *_) = review_by("step-sizes", text).comments
    each = {2: "7 3/4 in", 3: "5 1/4 in"}[risers]
    assert f"{risers} risers of {each}" in plain(comment.to_pass, "us", both=False)


def test_step_sizes_single_steps_need_the_finish_and_flights_do_not() -> None:
    """A step at an edge is judged by heights; a flight that is drawn has its risers typed."""
    step = "run: [A, B], beside: step, name: porch, ground: 101\nrest: bed"
    bare = slab({"A": 100.0}, edges=step)
    (asked,) = review_by("step-sizes", bare).not_shown
    assert asked.add[0].startswith("heights.finish")
    flight = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 9 in, count: 2}]}"
    assert weights(review_by("step-sizes", bare.replace("{design: 4 in}", flight))) == [("caution", "riser_at_most")]


# greatest-fall: a part of a pad that is only driven over may be written as a drive


def test_greatest_fall_names_the_part_that_is_driven_over() -> None:
    """Two parts of a pad: the ramp to the door falls 8 %, over 5 % for a pad that vehicles stand on."""
    points = {**RECTANGLE, "P": (6, 0), "Q": (6, 12), "R": (14, 0), "S": (14, 12)}
    heights = {name: 100 - 0.01 * min(x, 14) - 0.08 * max(0, x - 14) for name, (x, _) in points.items()}
    line = "  lines: [{kind: grade break, along: [R, S]}, {kind: grade break, along: [P, Q]}]"
    text = design(points, heights, "rest: bed", "A P R B C S Q D", line, use="vehicle pad") + (
        "\nparts: [{name: front, corners: [P, R, S, Q]}, {name: ramp, corners: [R, B, C, S]}]"
    )
    comment = only(review_by("greatest-fall", text))
    assert plain(comment.remedies[0].says, "us") == (
        "write use: driveway for the ramp, where vehicles drive over it and none stands"
    )
    assert [(edit.path, edit.value) for edit in comment.remedies[0].edits] == [("parts[1].use", "driveway")]


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


# trip-at-existing-slab


FLOOR = "fixed: [{name: bay floor, kind: slab, along: [A, B], height: HEIGHT}"


def bay(floor: str, more: str = "", edge: str = "beside: trench drain, wheels_cross: true") -> str:
    """A pad at 100 whose wheels cross to a floor of a typed height along A-B."""
    fixed = FLOOR.replace("HEIGHT", floor) + f"{more}]"
    return slab(LEVEL, fixed, edges=f"run: [A, B], {edge}, name: bay\nrest: bed", use="vehicle pad")


@pytest.mark.parametrize(
    ("floor", "found", "to"),
    [  # 2 in up or down, and 3/4 in are left: common practice. 0.175 ft is 2.1 in; 100.1125 up, 99.8875 down
        ("100.165", 0, ""),
        ("100.175", 1, "raise A by about 1 1/2 in, to 100.12 ft; raise B by about 1 1/2 in, to 100.12 ft"),
        ("99.835", 0, ""),
        ("99.825", 1, "lower A by about 1 1/2 in, to 99.88 ft; lower B by about 1 1/2 in, to 99.88 ft"),
    ],
)
def test_trip_at_existing_slab_a_floor_that_vehicles_drive_in_to(floor: str, found: int, to: str) -> None:
    comments = review_by("trip-at-existing-slab", bay(floor)).comments
    assert [plain(one.to_pass, "us", both=False) for one in comments] == [to] * found


def test_trip_at_existing_slab_tells_the_worst_spot_of_each_floor_that_asks_nothing() -> None:
    """The floor lies 0.2 ft over B and 0.3 over A; a sill, and a slab that says what it asks, are of other rules."""
    heights = {**LEVEL, "B": 100.1}
    fixed = (
        "fixed: [{name: bay floor, kind: slab, along: [A, B], height: 100.3}, "
        "{name: bay sill, kind: sill, along: [A, B], height: 101}, "
        "{name: old floor, kind: slab, along: [A, B], height: 102, slab: level}]"
    )
    edges = "run: [A, B], beside: trench drain, wheels_cross: true\nrest: bed"
    comment = only(review_by("trip-at-existing-slab", slab(heights, fixed, edges=edges, use="vehicle pad")))
    assert (comment.at.name, comment.says.values["point"]) == ("bay floor", "A")
    assert comment.shown.si == pytest.approx(0.3 * FOOT)


@pytest.mark.parametrize(
    ("named", "up", "steps"),
    [  # a rise of 7 3/4 in is a step; an inch more is rather poured as two (common practice)
        ("name: terrace, ", 8.7, ""),
        ("name: terrace, ", 8.8, "pour steps up to terrace on the slab: 2 risers of 4 3/8 in, the last onto it"),
        ("name: terrace, ", 15.5, "pour steps up to terrace on the slab: 2 risers of 7 3/4 in, the last onto it"),
        ("name: terrace, ", 15.6, "pour steps up to terrace on the slab: 3 risers of 5 1/4 in, the last onto it"),
        ("", 15.5, ""),
        ("name: terrace, ", -15.5, ""),
    ],
)
def test_trip_at_existing_slab_steps_are_poured_up_to_a_named_slab(named: str, up: float, steps: str) -> None:
    edges = f"run: [A, B], beside: existing slab, {named}ground: {100 + up / 12:.7f}, planned_step: true\nrest: bed"
    comment = only(review_by("trip-at-existing-slab", slab(LEVEL, edges=edges)))
    told = [plain(one.says, "us", both=False) for one in comment.remedies]
    assert [one for one in told if one.startswith("pour")] == ([steps] if steps else [])
    way = "higher" if up > 0 else "lower"
    assert any(one.startswith("set the whole slab ") and one.endswith(way) for one in told)


@pytest.mark.parametrize(
    ("ground", "told"),
    [  # an old slab that stands higher, where the water comes, is a dam; half a step of the heights tells it apart
        ("[100.06, 99.95]", []),
        ("[100.06, 99.945]", []),
        ("[100.06, 99.93]", ["private_lip_at_most"]),
        ("[100.06, 100]", []),
    ],
)
def test_trip_at_existing_slab_leaves_a_dam_to_the_rule_about_dams(ground: str, told: list[str]) -> None:
    """The slab falls 1 % to the old one along C-D."""
    heights = {"A": 100.12, "B": 100.12, "C": 100.0, "D": 100.0}
    edges = f"run: [C, D], beside: existing slab, takes_water: true, ground: {ground}\nrest: bed, ground: 99.9"
    report = review_by("trip-at-existing-slab", slab(heights, edges=edges))
    assert [one.limit.name for one in report.comments] == told


# stated things at a fixed height


@pytest.mark.parametrize(("sill", "limit"), [(99.996, "sill_at_least"), (99.994, "flush_sill_at_least")])
def test_slab_below_fixed_rain_runs_in_over_a_sill_by_half_a_step(sill: float, limit: str) -> None:
    """Heights typed to 0.01 ft are known to 0.005 ft: a slab higher than that over the sill lets the rain in."""
    fixed = f"fixed: [{{name: back door, kind: sill, along: [A, B], height: {sill}}}]"
    comment = only(review_by("slab-below-fixed", slab(LEVEL, fixed, edges=HOUSE)))
    assert comment.limit.name == limit


@pytest.mark.parametrize(("asks", "way"), [("at least 3 in below", "lower"), ("at least 3 in above", "higher")])
def test_slab_below_fixed_the_whole_slab_moves_the_way_that_is_asked(asks: str, way: str) -> None:
    """100 beside a thing at 100: it misses all of the 3 in, 0.25 ft."""
    fixed = f"fixed: [{{name: curb, kind: slab, along: [A, B], height: 100.0, slab: {asks}}}]"
    comment = only(review_by("slab-below-fixed", slab(LEVEL, fixed, edges=HOUSE)))
    assert f"set the whole slab 3 in {way}" in [plain(one.says, "us", both=False) for one in comment.remedies]


# walk-cross-slope and what is strict


@pytest.mark.parametrize(
    ("site", "across", "told"),
    [  # 2.5 and 3.125 % let pass a twentieth and half a step over 4 ft; in the right of way 1:48 is strict (ADA 403.3)
        ("", 0.0262, []), ("", 0.0263, ["level_cross_at_most"]),
        ("", 0.0324, ["level_cross_at_most"]), ("", 0.0326, ["cross_at_most"]),
        ("site: {right_of_way: true}", 0.0208, []), ("site: {right_of_way: true}", 0.0209, ["public_cross_at_most"]),
    ],
)  # fmt: skip
def test_walk_cross_slope_gives_a_twentieth_in_private(site: str, across: float, told: list[str]) -> None:
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 4), "D": (0, 4)}
    text = design(points, plane(points, 0, -across), "rest: bed", use="walk")
    assert [one.limit.name for one in review_by("walk-cross-slope", f"{text}\n{site}").comments] == told
