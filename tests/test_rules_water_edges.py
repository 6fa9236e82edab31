"""Rules about water, at their edges: just over and just under, walls in one line, and what is said in full."""

from __future__ import annotations

import pytest
from comments import advice, only, told, weights
from design_text import plan_of, review_by, rule_named
from slabwright.review import run
from slabwright.review.report import Comment
from slabwright.rulebook import limits
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, Kind
from sloped import BOW, RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254


def slope_to(x: float, y: float = 0.0) -> dict[str, float]:
    return plane(RECTANGLE, x, y)


# downspout-lands

LOT = "run: [B, C], beside: property line, name: lot line, takes_water: false\nrest: bed"
ROOF = {"A": 99.8, "B": 99.8, "C": 99.8, "D": 99.8, "R1": 100.0, "R2": 100.0}
RIDGE = "  lines: [{name: ridge, kind: ridge, along: [R1, R2]}]"


def gabled(spout: str, more: dict[str, tuple[float, float]], use: str = "patio", site: str = "") -> str:
    """20 by 12 ft with a ridge across its middle: what lands east of it leaves over the lot line, and may not."""
    points = {**RECTANGLE, "R1": (10, 0), "R2": (10, 12), **more}
    text = design(points, ROOF, LOT, more=RIDGE, use=use)
    return f"{text}\nfixtures: [{{kind: downspout, name: roof spout, at: {spout}}}]\n{site}"


def carried_to(text: str) -> str:
    """The point that a downspout is carried on to, and "" where it is led away in a pipe."""
    (comment,) = review_by("downspout-lands", text).comments
    return str(comment.to_pass.values.get("point", ""))


def test_a_downspout_is_carried_to_the_nearest_point_from_which_its_water_may_leave() -> None:
    """W lies beyond the ridge, 4 ft off; E is nearer and no better; N lies off the slab."""
    text = gabled("[12, 6]", {"E": (13, 6), "W": (8, 6), "FAR": (7, 6)})

    assert told(only(review_by("downspout-lands", text))) == (
        "the water of roof spout ends at lot line, which takes none",
        "carry roof spout on to W, 4'-0\" off: from there its water leaves by edge D-A (bed)",
    )


@pytest.mark.parametrize(("off", "unit"), [(0.05, "ft"), (0.5, "ft"), (1.0, "ft"), (0.005, "m"), (0.25, "m")])
def test_downspout_lands_on_no_point_off_the_slab(off: float, unit: str) -> None:
    """North of a ridge at y = 2 water may not leave, south of it may. OFF is nearer than W, and south of the slab."""
    points = {**RECTANGLE, "R1": (0, 2), "R2": (20, 2), "OFF": (10, -off), "W": (6, 1)}
    heights = {"A": 99.8, "B": 99.8, "C": 99.6, "D": 99.6, "R1": 100.0, "R2": 100.0}
    edges = "run: [C, D], beside: property line, takes_water: false\nrest: bed"
    spout = "fixtures: [{kind: downspout, at: [10, 2.5]}]"

    assert carried_to(design(points, heights, edges, more=RIDGE, unit=unit) + f"\n{spout}") == "W"


@pytest.mark.parametrize(("bad", "found"), [(39, "W"), (40, "")])
def test_downspout_lands_on_one_of_forty_points(bad: int, found: str) -> None:
    """So many points east of the ridge are nearer; corners and the ends of the ridge are farther off than W."""
    east = {f"E{k}": (14 + 0.05 * k, 6.0) for k in range(bad)}

    assert carried_to(gabled("[15, 6]", {**east, "W": (9.5, 6)})) == found


def test_the_nearer_of_two_points_is_taken_and_of_two_alike_the_first() -> None:
    """Told apart from three thousandths of a millimeter on, and not by what turning the drawing does to a number."""
    for gap, found in ((3e-6, "NEAR"), (2e-7, "FIRST")):
        points = {"FIRST": (8 - gap / FOOT, 6.0), "NEAR": (8.0, 6.0)}
        assert carried_to(gabled("[12, 6]", points)) == found


@pytest.mark.parametrize(("feet", "lands"), [(1.99, True), (2.01, False)])
def test_downspout_lands_within_two_feet_of_the_slab(feet: float, lands: bool) -> None:
    report = review_by("downspout-lands", gabled(f"[5, {12 + feet}]", {}))

    assert bool(report.met) is lands
    assert [one.reason for one in report.does_not_apply] == (
        [] if lands else ["no downspout or sump outlet lands on it"]
    )


@pytest.mark.parametrize(
    ("use", "freezing", "expected"),
    [
        ("walk", "severe", [("caution", "way_over_walk_at_most")]),
        ("walk", "moderate", [("caution", "way_over_walk_at_most")]),
        ("walk", "none", []),
        ("patio", "severe", []),
    ],
)
def test_the_way_of_roof_water_counts_over_walks_that_freeze(
    use: str, freezing: str, expected: list[tuple[str, str]]
) -> None:
    """From (5, 6) down to the bed at x = 0: 5 ft, over 2 ft (common practice)."""
    report = review_by("downspout-lands", gabled("[5, 6]", {}, use, f"site: {{freezing: {freezing}}}"))

    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(5 * FOOT)
        assert told(comment) == (
            "the water of roof spout freezes across the walk",
            "lead the water of roof spout under the slab in a pipe: 5'-0\" of it",
        )


@pytest.mark.parametrize(
    ("roof", "expected"),
    [
        ("", [("note", "way_over_patio_at_most")]),
        (", roof: 1000 ft2", [("note", "way_over_patio_at_most")]),
        (", roof: 1600 ft2", [("caution", "way_of_large_roof_at_most")]),
    ],
)
def test_the_water_of_a_large_roof_over_a_patio_is_a_caution(roof: str, expected: list[tuple[str, str]]) -> None:
    """From (9.5, 6) down to the bed at x = 0: 9.5 ft, over 8 ft (common practice)."""
    text = gabled("[9.5, 6]", {}).replace("name: roof spout", f"name: roof spout{roof}")
    assert weights(review_by("downspout-lands", text)) == expected


@pytest.mark.parametrize(("meters", "lands"), [("0.61", True), ("0.62", False)])
def test_downspout_lands_within_two_feet_in_metric_too(meters: str, lands: bool) -> None:
    text = design(RECTANGLE, slope_to(0, -0.02), "rest: bed", unit="m")
    report = review_by("downspout-lands", f"{text}\nfixtures: [{{kind: downspout, at: [-{meters}, 11]}}]")

    assert bool(report.met) is lands


# fall-from-building


def along_wall(turned: bool, middle: float, edges: str = "run: [A, H, B], beside: building, name: barn") -> str:
    """A wall of 20 ft with a point H midway, set back by ``middle`` ft; all falls 1 % away from it."""
    points = {**RECTANGLE, "H": (10, middle)}
    heights = {name: 100 - 0.01 * y for name, (_, y) in points.items()}
    if turned:
        points = {name: (-y, x) for name, (x, y) in points.items()}
    return design(points, heights, f"{edges}\nrest: lawn", "A H B C D")


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


@pytest.mark.parametrize(("flat_from", "found"), [(9.0, ["code_away_at_least"]), (11.0, [])])
def test_fall_from_building_ten_feet_out_are_looked_at(flat_from: float, found: list[str]) -> None:
    """IRC R401.3: within 10 ft. 3 % down to a fold, and 1 % beyond it."""
    points = {"A": (0, 0), "B": (10, 0), "F1": (10, flat_from), "C": (10, 16), "D": (0, 16), "F2": (0, flat_from)}
    heights = {name: 100 - 0.03 * min(y, flat_from) - 0.01 * max(y - flat_from, 0) for name, (_, y) in points.items()}
    edges = "run: [A, B], beside: building, name: barn\nrest: lawn"
    line = "  lines: [{kind: grade break, along: [F1, F2]}]"
    report = review_by("fall-from-building", design(points, heights, edges, "A B F1 C D F2", more=line))

    assert [comment.limit.name for comment in report.comments] == found


# floor-falls-to-door


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
    assert told(comment) == ("water of the floor runs to A and stays", "set a drain at A, its rim at 99.99 ft")
    assert comment.working[0].result.si == pytest.approx(240 * FOOT**2)


@pytest.mark.parametrize(("fall", "says"), [(0.0, "the whole slab is level"), (0.0001, "the whole slab hardly falls")])
def test_a_level_floor_is_told_apart_from_a_hair_of_fall(fall: float, says: str) -> None:
    edges = "run: [C, D], beside: open ground, takes_water: true\nrest: building"
    comment = only(review_by("floor-falls-to-door", floor("garage floor", fall, "", edges)))

    assert plain(comment.says, "us").startswith(says)


# ground-dams-edge


def sides(fall: tuple[float, float], edges: str, unit: str = "ft") -> str:
    return design(RECTANGLE, slope_to(*fall), edges, unit=unit)


@pytest.mark.parametrize(("part", "judged"), [(0.0099, False), (0.0101, True)])
def test_ground_dams_edge_a_hundredth_of_the_water_makes_an_edge_count(part: float, judged: bool) -> None:
    """It falls k across for 1 along: in the mean half of 12 k ft of 20 leave over B-C, by a bank."""
    k = part * 2 * 20 / 12
    edges = "run: [B, C], beside: bed, name: bank, ground: 101\nrest: lawn, ground: 90"
    report = review_by("ground-dams-edge", sides((-0.02 * k, -0.02), edges))

    assert [comment.at.name for comment in report.comments] == (["bank"] if judged else [])


def test_edges_without_a_height_beside_are_named_up_to_four() -> None:
    points = {
        f"p{k}": (x, y) for k, (x, y) in enumerate([(0, 0), (20, 0), (20, 2), (20, 4), (20, 6), (20, 8), (20, 10)])
    }
    heights = {name: 100 - 0.02 * x for name, (x, _) in points.items()}
    edges = "\n".join(f"run: [p{k}, p{k + 1}], beside: lawn, name: side {k}" for k in range(1, 6)) + "\nrest: wall"
    (silent,) = review_by("ground-dams-edge", design(points, heights, edges, " ".join(points))).not_shown

    assert silent.add == ("edges, ground: the height beside side 1, side 2, side 3, side 4, such as 99.30",)
    assert silent.place.path == "edges[0]"


def test_a_height_beside_is_asked_in_meters_where_heights_are() -> None:
    (silent,) = review_by(
        "ground-dams-edge", sides((0, -0.02), "run: [C, D], beside: lawn, name: low\nrest: bed", "m")
    ).not_shown

    assert silent.add == ("edges, ground: the height beside low, such as 99.850",)


def test_an_edge_without_a_height_beside_hides_none_behind_it() -> None:
    """Down to the corner C: water leaves over B-C, of which nothing is known, and over C-D."""
    edges = "run: [B, C], beside: lawn, name: first\nrun: [C, D], beside: lawn, name: second, ground: 101\nrest: wall"

    assert only(review_by("ground-dams-edge", sides((-0.02, -0.02), edges))).at.name == "second"


@pytest.mark.parametrize(
    ("below", "says"),
    [  # C and D lie at 99.76 ft
        (-0.0001, "the lawn stands above the slab at C and dams the water"),
        (0.0, "the lawn is level with the slab at C"),
        (0.0001, "the lawn lies too little below the slab at C"),
    ],
)
def test_level_ground_is_told_apart_from_a_hair_of_a_lip(below: float, says: str) -> None:
    comment = only(
        review_by(
            "ground-dams-edge", sides((0, -0.02), f"run: [C, D], beside: lawn, ground: {99.76 - below}\nrest: wall")
        )
    )

    assert plain(comment.says, "us") == says


def test_ground_with_a_height_at_each_point_is_brought_down_at_the_worst() -> None:
    """C and D at 99.76 ft have their inch at 99.6767: 99.67 to the hundredth."""
    edges = "run: [C, D], beside: lawn, name: low side, ground: [99.80, 99.70]\nrest: wall"
    comment = only(review_by("ground-dams-edge", sides((0, -0.02), edges)))

    assert told(comment) == (
        "the lawn stands above the slab at C and dams the water",
        "bring the lawn down to 99.67 ft at C; bring the lawn down to 99.67 ft at D",
    )
    assert comment.working[0].result.si == pytest.approx(-0.04 * FOOT)
    assert comment.shown.si == pytest.approx(-0.04 * FOOT)


def test_one_height_for_an_edge_is_low_enough_for_its_lower_end() -> None:
    """C lies at 99.66 ft and D at 99.76: an inch below C is 99.5767."""
    edges = "run: [C, D], beside: lawn, name: low side, ground: 99.80\nrest: wall"
    comment = only(review_by("ground-dams-edge", sides((-0.005, -0.02), edges)))

    assert advice(comment) == "bring the lawn down to 99.57 ft: about 2 3/4 in lower"


def test_ground_with_a_height_at_each_point_is_low_enough_where_it_is_worst() -> None:
    """C lies at 99.66 ft, D at 99.76 and under its lawn: an inch below D is 99.6767."""
    edges = "run: [C, D], beside: lawn, name: low side, ground: [99.50, 99.90]\nrest: wall"
    comment = only(review_by("ground-dams-edge", sides((-0.005, -0.02), edges)))

    assert advice(comment) == "bring the lawn down to 99.67 ft at D"


def test_one_height_for_an_edge_is_low_enough_for_that_edge_alone() -> None:
    """West of the ridge A lies at 99.76 ft and D at 99.80; east of it B-C lies at 99.60."""
    points = {**RECTANGLE, "R1": (10, 0), "R2": (10, 12)}
    heights = {"A": 99.76, "B": 99.6, "C": 99.6, "D": 99.8, "R1": 100.0, "R2": 100.0}
    edges = "run: [D, A], beside: lawn, ground: 99.80\nrun: [B, C], beside: lawn, ground: 90\nrest: wall"
    comment = only(review_by("ground-dams-edge", design(points, heights, edges, more=RIDGE)))

    assert advice(comment) == "bring the lawn down to 99.67 ft: about 1 1/2 in lower"


def dammed(text: str, asked: float) -> Comment:
    """The first comment where edges have to lie ``asked`` m above what stands beside them."""
    rule = rule_named("ground-dams-edge")
    amended = Amendment(rule.name, "lip_at_least", "a test", Amount(asked, Kind.DEPTH, f"{asked} m"))
    in_force = limits.resolve((rule,), [Amendments("test.yaml", "town", "a test", (amended,))])
    return run.review(plan_of(text), (rule,), in_force).comments[0]


@pytest.mark.parametrize("beside", ["existing slab, takes_water: true", "street"])
@pytest.mark.parametrize(
    ("asked", "to_pass"),
    [  # C and D lie at 99.76 ft; what stands at C at 99.80, at D at 99.70 stays
        (0.0, "raise C by about 1/2 in, to 99.80 ft"),
        (INCH, "raise C by about 1 1/2 in, to 99.89 ft; raise D by about 3/8 in, to 99.79 ft"),
        (0.06 * FOOT, "raise C by about 1 1/4 in, to 99.86 ft"),  # D has its 0.06 ft
    ],
)
def test_beside_what_stays_the_slab_is_raised(beside: str, asked: float, to_pass: str) -> None:
    edges = f"run: [C, D], beside: {beside}, name: low side, ground: [99.80, 99.70]\nrest: wall"

    assert advice(dammed(sides((0, -0.02), edges), asked)) == to_pass


@pytest.mark.parametrize(("asked", "high"), [(0.0, "99.90 ft"), (INCH, "99.99 ft")])
def test_a_bow_that_lies_too_low_is_told_how_high_it_has_to_be(asked: float, high: str) -> None:
    """No named point stands where the ground is worst: on the bow, at its lowest."""
    edges = "run: [C, D], beside: street, ground: 99.90\nrest: wall"
    outline = "A, B, C, {arc_to: D, through: M}"
    to_pass = advice(dammed(design(BOW, plane(BOW, 0, -0.02), edges, outline), asked))

    assert to_pass.startswith("raise the slab at ")
    assert f" to {high} and what lies behind it with it" in to_pass


def test_the_margin_is_that_of_the_last_limit_asked() -> None:
    """Lawn is asked an inch, a street nothing."""
    for beside, limit in (("lawn", "lip_above_ground_at_least"), ("street", "lip_at_least")):
        edges = f"run: [C, D], beside: {beside}, ground: 99.60\nrest: wall"
        (met,) = review_by("ground-dams-edge", sides((0, -0.02), edges)).met
        assert met.limit is not None
        assert met.shown is not None
        assert (met.limit.name, met.shown.si) == (limit, pytest.approx(0.16 * FOOT))


# outlet-below


def drains(*each: str, unit: str = "ft", heights: dict[str, float] | None = None) -> str:
    text = design(RECTANGLE, heights or dict.fromkeys(RECTANGLE, 100.0), "rest: curb", unit=unit)
    return "\n".join([text, "fixtures:", *(f"  - {{kind: drain, {one}}}" for one in each)])


def test_of_several_drains_the_first_is_asked_about() -> None:
    (silent,) = review_by("outlet-below", drains("name: one, at: [6, 6]", "name: two, at: [9, 6]")).not_shown

    assert silent.add == ("fixtures, outlet: the height where the pipe of one lets out, such as 98.60",)
    assert silent.place.path == "fixtures[0]"


def test_rim_and_outlet_are_asked_for_in_meters_where_heights_are() -> None:
    (silent,) = review_by("outlet-below", drains("name: one, at: [6, 6]", unit="m", heights={"A": 100.0})).not_shown

    assert silent.add == (
        "fixtures, outlet: the height where the pipe of one lets out, such as 98.600",
        "fixtures, rim: the height of the rim of one, such as 99.200",
    )


def test_a_drain_of_which_less_is_known_hides_none_behind_it() -> None:
    report = review_by("outlet-below", drains("name: one, at: [6, 6]", "name: two, at: [9, 6], outlet: 99.95"))

    assert only(report).at.name == "two"
    assert told(only(report)) == (
        "two lets out hardly lower than its rim", "let two out about 1/2 in lower, at 99.91 ft"
    )  # fmt: skip


@pytest.mark.parametrize(
    ("outlet", "says"),
    [
        (99.91, "yard lets out above its own rim"),
        (99.90, "yard lets out level with its rim"),
        (99.89, "yard lets out hardly lower than its rim"),
    ],
)
def test_an_outlet_at_the_rim_is_told_apart_from_one_above_it(outlet: float, says: str) -> None:
    comment = only(review_by("outlet-below", drains(f"name: yard, at: [6, 6], rim: 99.90, outlet: {outlet}")))

    assert plain(comment.says, "us") == says


def test_a_short_pipe_is_asked_the_inch_and_a_long_one_its_fall() -> None:
    """1 % of 5 ft is less than an inch, of 20 ft 0.20 ft: common practice."""
    for pipe, low in (("5 ft", "99.81 ft"), ("20 ft", "99.70 ft")):
        comment = only(
            review_by("outlet-below", drains(f"name: yard, at: [6, 6], rim: 99.90, outlet: 99.90, pipe: {pipe}"))
        )
        assert advice(comment).endswith(f"lower, at {low}")


def test_a_pipe_that_hardly_falls_is_worked_from_its_drop() -> None:
    comment = only(review_by("outlet-below", drains("name: yard, at: [6, 6], rim: 99.90, outlet: 99.70, pipe: 40 ft")))

    assert told(comment) == ("the pipe of yard hardly falls", "let yard out about 2 3/8 in lower, at 99.50 ft")
    assert [step.result.si for step in comment.working] == pytest.approx([0.20 * FOOT, 0.005])
