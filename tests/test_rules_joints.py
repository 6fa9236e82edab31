"""Rules about joints: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import math

import pytest
from changed import changed as replace
from comments import only, value, weights
from design_text import plan_of, review_by, rule_named
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook import limits
from slabwright.rulebook.in_force import Limits
from slabwright.text.words import plain
from slabwright.units.quantity import ratio

FOOT, INCH = 0.3048, 0.0254


def design(
    outline: str, thickness: str = "4 in", joints: str = "", more: str = "", use: str = "patio", unit: str = "ft"
) -> str:
    """A slab of ``outline`` in YAML; ``joints`` has one ``{...}`` a line, ``more`` whole sections."""
    lines = [
        "format: 1",
        "job: {name: Test slab}",
        f"units: {{plan: {unit}, height: {unit}}}",
        f"use: {use}",
        f"outline: {outline}",
        f"thickness: {thickness if ':' in thickness else f'{{design: {thickness}}}'}",
    ]
    if joints:
        lines += ["joints:", *(f"  - {one.strip()}" for one in joints.strip().splitlines())]
    return "\n".join([*lines, more])


def rectangle(length: str, width: str) -> str:
    return f"[[0, 0], ['{length}', 0], ['{length}', '{width}'], [0, '{width}']]"


# panel-spacing


@pytest.mark.parametrize(
    ("thickness", "stone", "feet"),
    [
        ("4 in", "1/2 in", 8),
        ("4 in", "3/4 in", 10),
        ("6 in", "1/2 in", 12),
        ("6 in", "3/4 in", 15),
        ("5 in", "3/8 in", 10),
    ],
)
def test_panel_spacing_keeps_the_published_table(thickness: str, stone: str, feet: int) -> None:
    # Beall, Masonry and Concrete, Fig. 2-15: spacing by thickness and stone, read
    mix = f"mix: {{aggregate: {stone}}}"
    side = f"{feet} ft"
    longer = f"{feet} ft 1 in"

    met = review_by("panel-spacing", design(rectangle(side, side), thickness, more=mix, use="shop floor"))
    short = review_by("panel-spacing", design(rectangle(longer, side), thickness, more=mix, use="shop floor"))

    assert not met.comments
    assert met.met[0].slack == pytest.approx(0, abs=1e-9)
    assert only(short).weight == "note"
    assert only(short).asked.si == pytest.approx(feet * FOOT)


@pytest.mark.parametrize(
    ("thickness", "side", "use", "limit"),
    [
        ("4 in", "30 ft", "patio", "thicknesses_at_most"),  # ACI 302.1R-96: 12 ft at most; the floor cracked
        ("4 in", "15 ft", "shop floor", "thicknesses_at_most"),  # the same
        ("4 in", "12 ft 1 in", "patio", "thicknesses_at_most"),
        ("8 in", "15 ft 1 in", "patio", "side_outdoors_at_most"),  # ACI 330R sec. 2.7: 15 ft
        ("8 in", "18 ft 1 in", "shop floor", "side_indoors_at_most"),  # ACI 302.1R-96: 18 ft
        ("3 in", "12 ft", "driveway", "thicknesses_at_most"),  # regional guide: a lengthwise joint is needed
        ("6 in", "16 ft", "driveway", "side_outdoors_at_most"),  # the same
    ],
)
def test_panel_spacing_holds(thickness: str, side: str, use: str, limit: str) -> None:
    report = review_by("panel-spacing", design(rectangle(side, side), thickness, use=use))

    assert weights(report) == [("hold", limit)]


@pytest.mark.parametrize(("side", "use"), [("15 ft", "patio"), ("18 ft", "shop floor")])
def test_panel_spacing_is_met_at_the_cap(side: str, use: str) -> None:
    assert not review_by("panel-spacing", design(rectangle(side, side), "8 in", use=use)).comments


def test_panel_spacing_between_the_multiples_is_a_note_and_names_its_arithmetic() -> None:
    comment = only(review_by("panel-spacing", design(rectangle("12 ft", "9 ft"), "4 in")))

    assert (comment.weight, comment.limit.name) == ("note", "preferred_thicknesses_at_most")
    assert comment.shown.si == pytest.approx(12 * FOOT)
    assert plain(comment.says, "us") == "panel P1 is long for its thickness"
    assert [plain(step.numbers, "us", both=False) for step in comment.working] == ["30 x 4 in", "12'-0\" / 2"]
    assert plain(comment.to_pass, "us", both=False) == "cut it across its long side into 2 bays of 6'-0\""


def test_panel_spacing_cuts_a_large_panel_both_ways_into_bays_that_pass() -> None:
    comment = only(review_by("panel-spacing", design(rectangle("32 ft", "24 ft"), "4 in")))

    assert plain(comment.to_pass, "us", both=False) == "cut it into 4 by 3 bays of 8'-0\" by 8'-0\""


def test_panel_spacing_takes_19_mm_stone_for_three_quarters() -> None:
    metric = design("[[0, 0], [3, 0], [3, 3], [0, 3]]", "100 mm", more="mix: {aggregate: 19 mm}", unit="m")

    assert not review_by("panel-spacing", metric).comments
    assert review_by("panel-spacing", metric.replace("19 mm", "16 mm")).comments[0].weight == "note"


def test_panel_spacing_goes_by_the_thickness_drawn_where_shots_show_less() -> None:
    corners = "A: [0, 0], B: [9, 0], C: [9, 9], D: [0, 9]"
    heights = "heights: {finish: {A: 1, B: 1, C: 1, D: 1}, base: {A: 0.75, B: 0.75, C: 0.75, D: 0.75}}"
    report = review_by("panel-spacing", design("[A, B, C, D]", "4 in", more=f"points: {{{corners}}}\n{heights}"))

    assert report.met[0].asked.si == pytest.approx(30 * 4 * INCH)  # 3 in are told as too thin, and once is enough


@pytest.mark.parametrize("steel", ["", "bars: {size: '#3', spacing: 18 in}"])
def test_panel_spacing_steel_makes_it_no_longer(steel: str) -> None:
    more = f"reinforcement: {{{steel}}}" if steel else ""

    assert only(review_by("panel-spacing", design(rectangle("12 ft", "9 ft"), "4 in", more=more))).weight == "note"
    assert only(review_by("panel-spacing", design(rectangle("13 ft", "9 ft"), "4 in", more=more))).weight == "hold"


def test_panel_spacing_proposes_nine_bays_of_eight_feet() -> None:
    comment = only(review_by("panel-spacing", design(rectangle("24 ft", "24 ft"), "4 in")))

    assert plain(comment.to_pass, "us", both=False) == "cut it into 3 by 3 bays of 8'-0\" by 8'-0\""


# panel-aspect


@pytest.mark.parametrize(
    ("length", "width", "found"),
    [
        ("6 ft", "4 ft", []),  # 1.5 (ACI 302.1R-80, 360R-06)
        ("6 ft 1 in", "4 ft", [("note", "short_preferred_aspect_at_most")]),
        ("8 ft", "4 ft", [("note", "short_preferred_aspect_at_most")]),  # 2 (Highway Engineering Handbook)
        ("12 ft", "7 ft", [("caution", "preferred_aspect_at_most")]),  # over 24 thicknesses long
        ("8 ft 1 in", "4 ft", [("hold", "aspect_at_most")]),
        ("25 ft", "4 ft", [("hold", "aspect_at_most")]),  # reported porch, 6.25: cracked at the center
    ],
)
def test_panel_aspect(length: str, width: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(length, width)))) == found


@pytest.mark.parametrize(("long", "found"), [("6 ft", []), ("6 ft 1 in", [("caution", "narrow_aspect_at_most")])])
def test_the_small_pad_of_a_machine_is_poured_whole(long: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(long, "2 ft"), use="equipment pad"))) == found


def test_panel_aspect_works_bays_near_square() -> None:
    comment = only(review_by("panel-aspect", design(rectangle("25 ft", "4 ft"))))

    assert comment.shown.si == pytest.approx(6.25)
    assert value(comment, "n") == 5  # the fewest that are not over one and a half to one
    assert value(comment, "bay") == pytest.approx(5 * FOOT)
    assert len(comment.remedies[0].edits) == 4


def test_panel_aspect_cuts_both_ways_when_no_single_count_of_bays_is_square_enough() -> None:
    rule = rule_named("panel-aspect")
    published = limits.resolve((rule,))["panel-aspect"]
    tight = Limits({name: replace(limit, value=ratio(1.1)) for name, limit in published.items()})
    report = run.review(plan_of(design(rectangle("14 ft", "10 ft"))), (rule,), {"panel-aspect": tight})

    n, m, bay, width = (value(only(report), slot) for slot in ("n", "m", "bay", "width"))
    assert [n * bay, m * width] == pytest.approx([14 * FOOT, 10 * FOOT])
    assert max(bay, width) / min(bay, width) <= 1.1
    assert m > 1


@pytest.mark.parametrize(
    ("long", "wide", "found"),
    [
        ("4 ft 6 in", "3 ft", []),  # 1.5
        ("5 ft", "3 ft", [("note", "narrow_preferred_aspect_at_most")]),
        ("5 ft", "2 ft 6 in", [("note", "narrow_preferred_aspect_at_most")]),  # 2
        ("6 ft", "4 ft", []),
        ("8 ft", "4 ft", [("caution", "preferred_aspect_at_most")]),  # 2, and over 5 ft long
        ("6 ft 1 in", "3 ft", [("caution", "narrow_aspect_at_most")]),
        ("12 ft", "5 ft", [("hold", "aspect_at_most")]),
    ],
)
def test_panel_aspect_of_a_narrow_walk(long: str, wide: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(long, wide), use="walk"))) == found


@pytest.mark.parametrize(("long", "found"), [("4 ft", []), ("6 ft", [("caution", "narrow_aspect_at_most")])])
def test_panel_aspect_leaves_ribbons_of_two_feet(long: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("panel-aspect", design(rectangle(long, "2 ft"), use="driveway"))) == found


def test_a_narrow_walk_is_told_the_same_bays_by_its_aspect_and_by_its_joints() -> None:
    walk = design(rectangle("9 ft", "3 ft"), use="walk")
    aspect, joints = (only(review_by(rule, walk)) for rule in ("panel-aspect", "walk-joints"))

    assert plain(aspect.to_pass, "us") == plain(joints.to_pass, "us")


# joint-depth


def joint_depth(kind: str, depth: str, thickness: str = "6 in", outline: str = rectangle("20 ft", "10 ft")) -> Report:
    written = f", depth: {depth}" if depth else ""
    return review_by(
        "joint-depth", design(outline, thickness, f"{{name: J1, from: [10, 0], to: [10, 10], kind: {kind}{written}}}")
    )


@pytest.mark.parametrize(
    ("kind", "depth", "thickness", "asked_inches", "found"),
    [
        # a quarter, at least 1 in; early entry 1 in up to 9 in, a fifth above (early-entry paper; UFGS 03300N)
        ("saw cut", "1 1/2 in", "6 in", 1.5, []),
        ("saw cut", "1 3/8 in", "6 in", 1.5, [("hold", "part_of_thickness_at_least")]),
        ("tooled groove", "3/4 in", "5 in", 1.25, [("hold", "part_of_thickness_at_least")]),
        ("tooled groove", "3/4 in", "3 in", 0.75, []),  # the inch is printed for walks of 4 in alone
        ("early saw cut", "1 in", "6 in", 1.0, []),
        ("early saw cut", "1 in", "9 in", 1.0, []),
        ("early saw cut", "7/8 in", "6 in", 1.0, [("hold", "early_depth_at_least")]),
        ("early saw cut", "1 in", "10 in", 2.0, [("hold", "early_part_at_least")]),
        ("early saw cut", "2 in", "10 in", 2.0, []),
        ("construction joint", "", "6 in", 6.0, []),
        ("formed strip", "", "6 in", 6.0, []),
        ("formed strip", "3 1/2 in", "6 in", 6.0, [("caution", "formed_part_at_least")]),
        ("construction joint", "6 in", "6 in", 6.0, []),
        # over a third (Navy training text): leaves little to lock
        ("saw cut", "2 in", "6 in", 1.5, []),
        ("saw cut", "2 1/8 in", "6 in", 2.0, [("note", "part_of_thickness_at_most")]),
    ],
)
def test_joint_depth(kind: str, depth: str, thickness: str, asked_inches: float, found: list[tuple[str, str]]) -> None:
    report = joint_depth(kind, depth, thickness)

    assert weights(report) == found
    asked = report.comments[0].asked if found else report.met[0].asked
    assert asked is not None
    assert asked.si == pytest.approx(asked_inches * INCH)


def test_joint_depth_says_how_much_more() -> None:
    comment = only(joint_depth("saw cut", "3/4 in", "5 in"))

    assert plain(comment.to_pass, "us", both=False) == "make joint J1 1 1/4 in deep: 1/2 in more"
    assert comment.working[0].result.si == pytest.approx(0.15)  # 15 % of the thickness


def test_joint_depth_rounds_the_cut_up_to_what_a_saw_is_set_to() -> None:
    assert value(only(joint_depth("saw cut", "1 in", "5 1/4 in")), "write") == pytest.approx(1.375 * INCH)
    outline = "[[0, 0], [6, 0], [6, 3], [0, 3]]"
    joint = "{name: J1, from: [3, 0], to: [3, 3], kind: saw cut, depth: 30 mm}"
    metric = review_by("joint-depth", design(outline, "125 mm", joint, unit="m"))
    assert value(only(metric), "write") == pytest.approx(0.035)


def test_joint_depth_tells_how_much_less_where_a_cut_is_too_deep() -> None:
    comment = only(joint_depth("saw cut", "3 in", "6 in"))

    assert plain(comment.to_pass, "us", both=False) == "make joint J1 1 1/2 in deep: 1 1/2 in less"


@pytest.mark.parametrize(
    ("width", "found"),
    [
        ("1 ft", [("note", "part_of_crossed_edge_at_least")]),
        ("2 ft 6 in", [("note", "part_of_crossed_edge_at_least")]),  # a quarter of the 10 ft
        ("2 ft 7 in", [("caution", "part_of_thick_edge_at_least")]),
    ],
)
def test_joint_depth_in_a_thickened_edge_weighs_by_how_much_of_the_joint_lies_in_it(
    width: str, found: list[tuple[str, str]]
) -> None:
    thick = f"{{design: 4 in, thickened_edges: [{{run: [[0, 0], [10, 0]], depth: 8 in, width: {width}, taper: 1 ft}}]}}"
    joints = """
        {name: J1, from: [5, 0], to: [5, 10], kind: saw cut, depth: 1 in}
        {name: J2, from: [10.5, 0], to: [10.5, 10], kind: saw cut, depth: 1 in}
    """
    report = review_by("joint-depth", design(rectangle("20 ft", "10 ft"), thick, joints))

    assert weights(report) == found  # the edge ends square: J2 does not cross it
    assert only(report).asked.si == pytest.approx(2 * INCH)


def test_joint_depth_follows_a_thickened_edge_only_where_the_joint_meets_it() -> None:
    thick = "{design: 4 in, thickened_edges: [{run: [[0, 0], [20, 0]], depth: 8 in, taper: 3 ft}]}"
    joints = """
        {name: J1, from: [10, 0], to: [10, 10], kind: saw cut, depth: 1 in}
        {name: J2, from: [0, 5], to: [20, 5], kind: saw cut, depth: 1 in}
    """
    comment = only(review_by("joint-depth", design(rectangle("20 ft", "10 ft"), thick, joints)))

    assert comment.at.name == "joint J1"
    assert comment.asked.si == pytest.approx(2 * INCH)  # a quarter of the 8 in strip

    followed = design(rectangle("20 ft", "10 ft"), thick, joints.replace("depth: 1 in", "depth: 2 in", 1))
    assert not review_by("joint-depth", followed).comments  # over a third of 4 in, but the strip asks for it


def test_joint_depth_in_metric_takes_25_mm_for_the_inch() -> None:
    outline = "[[0, 0], [6, 0], [6, 3], [0, 3]]"
    joint = "{name: J1, from: [3, 0], to: [3, 3], kind: saw cut, depth: 25 mm}"

    assert not review_by("joint-depth", design(outline, "100 mm", joint, unit="m")).comments
    shallower = design(outline, "100 mm", joint.replace("25", "24"), unit="m")
    assert weights(review_by("joint-depth", shallower)) == [("hold", "part_of_thickness_at_least")]
    thin = design(outline, "75 mm", joint.replace("25", "24"), unit="m", use="walk")
    assert weights(review_by("joint-depth", thin)) == [("note", "depth_in_walk_at_least")]


def test_joint_depth_asks_for_depths_and_leaves_a_missing_one_among_others() -> None:
    joints = """
        {name: J1, from: [10, 0], to: [10, 10], kind: saw cut}
        {name: J2, from: [0, 5], to: [20, 5], kind: saw cut}
    """
    silent = review_by("joint-depth", design(rectangle("20 ft", "10 ft"), joints=joints))
    assert silent.not_shown[0].add == ("joints, depth: how deep each is cut, such as 1 1/4 in",)
    assert silent.not_shown[0].place.path == "joints[0]"

    half = design(rectangle("20 ft", "10 ft"), joints=joints.replace("cut}", "cut, depth: 1 in}", 1))
    assert not review_by("joint-depth", half).comments


@pytest.mark.parametrize("rule", ["joint-depth", "joint-ends"])
@pytest.mark.parametrize("joints", ["", "{name: P, from: [10, 0], to: [10, 4], kind: pattern, depth: 1/4 in}"])
def test_rules_on_joints_do_not_apply_without_joints_or_with_pattern_lines_alone(rule: str, joints: str) -> None:
    report = review_by(rule, design(rectangle("20 ft", "10 ft"), joints=joints))

    assert report.does_not_apply[0].reason == "no joints are drawn"


# inside-corner-joint

L_SHAPE = "[[0, 0], [216, 0], [216, 120], [96, 120], [96, 240], [0, 240]]"  # inches; inside corner at 96, 120
BARS = 'reinforcement: {corner_bars: [{at: [[96, 120]], size: "#5", length: 4 ft}]}'


@pytest.mark.parametrize(
    ("x", "more", "found"),
    [
        (96, "", []),
        (97, "", []),  # within an inch
        (97.1, "", [("hold", "distance_at_most")]),
        (97.1, BARS, [("caution", "distance_with_bars_at_most")]),
        (97, BARS, []),
    ],
)
def test_inside_corner_joint_within_an_inch(x: float, more: str, found: list[tuple[str, str]]) -> None:
    joint = f"{{name: J1, from: [{x}, 120], to: [{x}, 0], kind: saw cut, depth: 1 in}}"

    assert weights(review_by("inside-corner-joint", design(L_SHAPE, joints=joint, more=more, unit="in"))) == found


def test_inside_corner_joint_is_met_by_a_joint_that_runs_past_the_corner() -> None:
    joint = "{name: J1, from: [0, 120], to: [96, 120], kind: saw cut, depth: 1 in}"

    assert not review_by("inside-corner-joint", design(L_SHAPE, joints=joint, unit="in")).comments


@pytest.mark.parametrize(
    ("more", "found"), [("", ("hold", "joints_at_least")), (BARS, ("caution", "joints_with_bars_at_least"))]
)
def test_inside_corner_joint_where_no_joint_is_drawn(more: str, found: tuple[str, str]) -> None:
    report = review_by("inside-corner-joint", design(L_SHAPE, more=more, unit="in"))

    assert weights(report) == [found]
    assert "no joint is drawn" in plain(report.comments[0].says, "us")
    assert plain(report.comments[0].to_pass, "us").startswith(
        f"start two joints at {report.comments[0].at.name}, and run"
    )


def test_inside_corner_joint_moves_a_near_joint_and_starts_a_new_one_where_all_are_far() -> None:
    near = "{name: J1, from: [106, 120], to: [106, 0], kind: saw cut, depth: 1 in}"
    far = near.replace("106", "160")

    moved = only(review_by("inside-corner-joint", design(L_SHAPE, joints=near, unit="in")))
    started = only(review_by("inside-corner-joint", design(L_SHAPE, joints=far, unit="in")))

    told = [plain(remedy.says, "us", both=False) for remedy in moved.remedies]
    assert any(says.startswith("move joint J1 by 10 in, onto ") for says in told)
    assert plain(started.to_pass, "us").startswith("start a joint at ")


def test_inside_corner_joint_asks_it_of_every_corner_of_an_opening() -> None:
    bed = "openings: [{name: bed, corners: [[9, 4], [11, 4], [11, 6], [9, 6]]}]"
    joints = """
        {name: J1, from: [9, 0], to: [9, 10], kind: saw cut, depth: 1 in}
        {name: J2, from: [11, 0], to: [11, 10], kind: saw cut, depth: 1 in}
    """
    bare = review_by("inside-corner-joint", design(rectangle("20 ft", "10 ft"), more=bed))
    jointed = review_by("inside-corner-joint", design(rectangle("20 ft", "10 ft"), joints=joints, more=bed))

    assert [comment.weight for comment in bare.comments] == ["hold"] * 4
    assert not jointed.comments


@pytest.mark.parametrize(
    ("outline", "more"),
    [
        (rectangle("20 ft", "10 ft"), ""),
        (
            rectangle("20 ft", "10 ft"),
            "openings: [{corners: [{arc_to: [11, 5], through: [10, 6]}, {arc_to: [9, 5], through: [10, 4]}]}]",
        ),
        ("[[0, 0], [20, 0], [20, 10], [10, 8.5], [0, 10]]", ""),  # a bend of 17 degrees
    ],
)
def test_inside_corner_joint_does_not_apply_to_round_openings_and_mild_bends(outline: str, more: str) -> None:
    report = review_by("inside-corner-joint", design(outline, more=more))

    assert report.does_not_apply[0].reason == "the outline and the openings have no inside corners"


# joint-ends


def joint_ends(joints: str, more: str = "") -> Report:
    return review_by("joint-ends", design(rectangle("20 ft", "20 ft"), joints=joints, more=more))


def cut(name: str, start: tuple[float, float], end: tuple[float, float], kind: str = "saw cut") -> str:
    return f"{{name: {name}, from: {list(start)}, to: {list(end)}, kind: {kind}, depth: 1 in}}"


def test_joint_ends_holds_a_loose_end_and_carries_it_to_the_edge() -> None:
    comment = only(joint_ends(cut("J1", (0, 8), (15, 8))))

    assert (comment.weight, comment.limit.name) == ("hold", "short_of_edge_at_most")
    assert comment.shown.si == pytest.approx(5 * FOOT)
    assert value(comment, "ahead") == pytest.approx(5 * FOOT)


def test_joint_ends_measures_a_loose_end_along_the_joint_and_up_to_an_opening() -> None:
    slanting = only(joint_ends(cut("J1", (0, 0), (12, 16))))
    assert slanting.shown.si == pytest.approx(5 * FOOT)  # 3 ft on and 4 ft up

    bed = "openings: [{name: bed, corners: [[8, 8], [12, 8], [12, 12], [8, 12]]}]"
    before_bed = only(joint_ends(cut("J1", (0, 10), (5, 10)), bed))
    assert before_bed.shown.si == pytest.approx(3 * FOOT)


def test_joint_ends_finds_both_loose_ends() -> None:
    assert [round(c.shown.si / FOOT, 6) for c in joint_ends(cut("J1", (3, 10), (15, 10))).comments] == [3, 5]


@pytest.mark.parametrize(
    "joints",
    [
        [cut("J1", (0, 10), (20, 10)), cut("J2", (10, 0), (10, 20))],  # crossing
        [
            cut("J1", (0, 10), (20, 10)),
            cut("J2", (10, 0), (10, 10)),
            cut("J3", (10, 10), (10, 20)),
        ],  # ends opposite
        [cut("J1", (0, 10), (9, 10)), cut("J2", (9, 10), (20, 10))],  # end to end, straight on
        [cut("J1", (0, 10), (19.9, 10))],  # 1 1/4 in short of the edge
        [cut("J1", (0, 10), (25, 10))],  # drawn past the edge
        [cut("J1", (0, 10), (20, 10)), cut("P", (5, 5), (15, 5), "pattern")],  # a pattern line may stop anywhere
    ],
)
def test_joint_ends_is_met(joints: list[str]) -> None:
    report = joint_ends("\n".join(joints))

    assert not report.comments
    assert report.met[0].limit is not None


def test_joint_ends_cautions_a_t_and_carries_it_across() -> None:
    comment = only(joint_ends("\n".join([cut("J1", (12, 0), (12, 20)), cut("J2", (0, 10), (12, 10))])))

    assert (comment.weight, comment.limit.name, comment.at.name) == ("caution", "ends_on_joints_at_most", "joint J2")
    assert comment.shown.si == 1
    assert plain(comment.to_pass, "us", both=False) == "carry joint J2 on for 8'-0\", to the edge"


def test_joint_ends_counts_both_ends_of_a_joint_between_two_others() -> None:
    joints = [cut("J1", (5, 0), (5, 20)), cut("J2", (12, 0), (12, 20)), cut("J3", (5, 10), (12, 10))]
    comment = only(joint_ends("\n".join(joints)))

    assert (comment.at.name, comment.shown.si) == ("joint J3", 2)
    assert plain(comment.says, "us") == "joint J3 stops at joint J1 and J2, and its crack will not"
    assert plain(comment.to_pass, "us", both=False) == (
        "carry joint J3 on for 5'-0\", joint J3 on for 8'-0\", to the edge"
    )


def test_joint_ends_tells_of_a_corner_once_and_carries_both_joints_on() -> None:
    comment = only(joint_ends("\n".join([cut("J1", (0, 8), (12, 8)), cut("J2", (12, 8), (12, 20))])))

    assert (comment.weight, comment.at.name) == ("caution", "joint J1")
    assert plain(comment.to_pass, "us", both=False) == (
        "carry joint J1 on for 8'-0\", joint J2 on for 8'-0\", to the edge"
    )


# panel-corners


def triangle(degrees: float) -> str:
    """A triangle 40 ft along the bottom with this angle at its left corner, the other two wide enough."""
    x, y = 20 * math.cos(math.radians(degrees)), 20 * math.sin(math.radians(degrees))
    return f"[[0, 0], [20, 0], [{20 + x:.9f}, {y:.9f}], [{x:.9f}, {y:.9f}]]"


@pytest.mark.parametrize(
    ("degrees", "found"),
    [
        (60, []),
        (59.9, [("note", "preferred_angle_at_least")]),
        (45, [("note", "preferred_angle_at_least")]),
        (44.9, [("caution", "angle_at_least")]),
    ],
)
def test_panel_corners_by_angle(degrees: float, found: list[tuple[str, str]]) -> None:
    report = review_by("panel-corners", design(triangle(degrees)))  # a rhombus: two sharp corners, told once

    assert weights(report) == found
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(degrees, abs=1e-5)
        assert plain(comment.to_pass, "us").startswith("open that corner of the slab by ")
        assert degrees + value(comment, "more") >= 60


def test_panel_corners_turns_a_joint_that_meets_the_edge_at_a_slant() -> None:
    report = review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=cut("J1", (5, 0), (15, 10))))

    assert weights(report) == [("note", "preferred_angle_at_least")] * 2  # 45 degrees at either end
    ends = sorted(comment.at.shape[0] for comment in report.comments)
    assert ends == [pytest.approx((5 * FOOT, 0)), pytest.approx((15 * FOOT, 10 * FOOT))]
    assert [plain(remedy.says, "us") for remedy in report.comments[0].remedies] == [
        "set joint J1 square to the edge there",
        "turn joint J1 there by 15 deg, towards square",
        "leave out joint J1",
    ]


@pytest.mark.parametrize(("x", "found"), [(18, []), (18.05, [("caution", "width_at_least")])])
def test_panel_corners_by_width(x: float, found: list[tuple[str, str]]) -> None:
    joint = cut("J1", (x, 0), (x, 10))

    assert weights(review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=joint))) == found


def test_panel_corners_says_how_much_wider() -> None:
    comment = only(
        review_by("panel-corners", design(rectangle("20 ft", "10 ft"), joints=cut("J1", (18.5, 0), (18.5, 10))))
    )

    assert comment.shown.si == pytest.approx(1.5 * FOOT)
    assert 1.5 * FOOT + value(comment, "more") >= 2 * FOOT - 1e-9
    assert value(comment, "more") == pytest.approx(6 * INCH, abs=0.001)


@pytest.mark.parametrize("name", ["joint-depth", "panel-aspect", "panel-spacing"])
def test_published_numbers_of_the_rules_come_out_again(name: str) -> None:
    worked = rule_named(name).worked

    assert worked
    for one in worked:
        assert one.ours() == pytest.approx(one.printed.si, abs=max(one.within, 1e-12)), one.what
