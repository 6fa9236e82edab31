"""The rule `ground-dams-edge`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, places, says, told, value, weights
from design_text import plan_of, review_by, rule_named
from slabs.water import RIDGE, slope_to
from slabwright.review import run
from slabwright.review.report import Comment
from slabwright.rulebook import limits
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, Kind
from sloped import BOW, RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254


def sides(fall: tuple[float, float], edges: str, unit: str = "ft") -> str:
    return design(RECTANGLE, slope_to(*fall), edges, unit=unit)


def dammed(text: str, asked: float) -> Comment:
    """The first comment where edges have to lie ``asked`` m above what stands beside them."""
    rule = rule_named("ground-dams-edge")
    amended = Amendment(rule.name, "lip_at_least", "a test", Amount(asked, Kind.DEPTH, f"{asked} m"))
    in_force = limits.resolve((rule,), [Amendments("town", "a test", (amended,))])
    return run.review(plan_of(text), (rule,), in_force).comments[0]


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
        ("street", -0.01, []),  # 1/8 in: no closer is concrete struck to it
        ("street", -0.011, [("hold", "lip_at_least")]),
        ("existing slab, takes_water: true", -0.01, []),
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


@pytest.mark.parametrize(("fall", "rest"), [((0.0, -0.02), "curb"), ((-0.01, -0.02), "lawn")])
def test_ground_dressed_to_the_slab_lies_as_far_below_it_wherever_it_falls(
    fall: tuple[float, float], rest: str
) -> None:
    edges = f"run: [B, C, D], beside: lawn, name: low side, ground_below: %s\nrest: {rest}"
    text = design(RECTANGLE, slope_to(*fall), edges)
    plan = plan_of(text % "1 1/4 in")
    followed = [piece for piece in plan.edges.pieces if piece.name == "low side"]
    assert len(followed) == 2
    for piece in followed:
        assert piece.ground == pytest.approx([top - 1.25 * INCH for top in piece.finish or ()], abs=1e-9)
    assert review_by("ground-dams-edge", text % "1 1/4 in").comments == ()
    comment = review_by("ground-dams-edge", text % "1/4 in").comments[0]
    assert comment.limit.name == "lip_above_ground_at_least"
    assert comment.shown.si == pytest.approx(INCH / 4, abs=1e-9)
    assert advice(comment) == "bring the lawn down to 1 in below the slab"
    assert review_by("ground-dams-edge", text % "1 in").comments == ()


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
    points = {**RECTANGLE, "H": (18, 12)}
    edges = "run: [C, H, D], beside: lawn, name: low side, ground: [99.5, 99.9, 99.5]\nrest: lawn"
    comment = only(review_by("ground-dams-edge", design(points, slope_to(0, -0.02), edges)))
    assert told(comment) == (
        "the lawn stands above the slab at H and dams the water",
        "bring the lawn down to 99.67 ft at H",
    )


def test_high_ground_where_no_water_would_go_is_no_dam() -> None:
    # the bank behind the high side and the beds along both sides stand above the slab
    edges = "run: [C, D], beside: lawn, name: low side, ground: 99.5\nrest: bed, ground: 100.8"
    assert review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), edges)).comments == ()


def test_ground_that_is_not_shown_is_asked_for() -> None:
    report = review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), "rest: lawn"))
    assert report.not_shown[0].add == ("edges, ground: the height beside edge C-D (lawn), such as 99.30",)
    report = review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), "rest: wall"))
    assert report.does_not_apply[0].reason == "water comes to no edge that takes it"


@pytest.mark.parametrize(("below", "found"), [(0.010, []), (0.009, ["metric_lip_above_ground_at_least"])])
def test_a_metric_plan_keeps_the_lawn_ten_millimeters_down(below: float, found: list[str]) -> None:
    """Common practice: 10 mm where plans in feet have 1/2 in; typed so finely that nothing is let pass."""
    edges = f"run: [C, D], beside: lawn, name: low side, ground: {99.75988 - below:.5f}\nrest: lawn"
    report = review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02001), edges, unit="m"))
    assert limits_broken(report) == found


def test_what_is_said_of_water_holds_for_plans_in_meters_too() -> None:
    edges = "run: [C, D], beside: lawn, name: low side, ground: 99.755\nrest: lawn"
    comment = only(review_by("ground-dams-edge", design(RECTANGLE, slope_to(0, -0.02), edges, unit="m")))
    assert plan_of(design(RECTANGLE, slope_to(0, -0.02), edges, unit="m")).system == "metric"
    assert says(comment) == "the lawn lies too little below the slab at C"
    assert value(comment, "low") == pytest.approx(99.734)  # 99.76 less 25.4 mm, to the millimeter below


@pytest.mark.parametrize(("part", "judged"), [(0.0099, False), (0.0101, True)])
def test_ground_dams_edge_a_hundredth_of_the_water_makes_an_edge_count(part: float, judged: bool) -> None:
    """It falls k across for 1 along: in the mean half of 12 k ft of 20 leave over B-C, by a bank."""
    k = part * 2 * 20 / 12
    edges = "run: [B, C], beside: bed, name: bank, ground: 101\nrest: lawn, ground: 90"
    report = review_by("ground-dams-edge", sides((-0.02 * k, -0.02), edges))

    assert places(report) == (["bank"] if judged else [])


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


def test_ground_that_dams_the_middle_of_a_bow_is_cut_down_at_both_its_ends() -> None:
    """Its middle lies at 99.84 ft, C and D at 99.90: an inch below it is 99.757."""
    edges = "run: [C, D], beside: lawn, ground: [99.82, 99.82]\nrest: wall"
    outline = "A, B, C, {arc_to: D, through: M}"
    text = design(BOW, plane(BOW, 0, -0.01), edges, outline)
    assert advice(only(review_by("ground-dams-edge", text))) == (
        "bring the lawn down to 99.75 ft at C; bring the lawn down to 99.75 ft at D"
    )


def test_the_margin_is_that_of_the_last_limit_asked() -> None:
    """Lawn is asked an inch, a street nothing."""
    for beside, limit in (("lawn", "lip_above_ground_at_least"), ("street", "lip_at_least")):
        edges = f"run: [C, D], beside: {beside}, ground: 99.60\nrest: wall"
        (met,) = review_by("ground-dams-edge", sides((0, -0.02), edges)).met
        assert met.limit is not None
        assert met.shown is not None
        assert (met.limit.name, met.shown.si) == (limit, pytest.approx(0.16 * FOOT))


# ground-dams-edge: half an inch of lip; wheels and accessible ways may leave flush (common practice)


@pytest.mark.parametrize(
    ("beside", "use", "more", "flush"),
    [
        ("gravel", "driveway", "", True),
        ("gravel", "driveway", ", wheels_cross: false", False),
        ("gravel", "driveway", ", wheels_cross: true", True),
        ("gravel", "patio", "", False),
        ("lawn", "driveway", "", False),
        ("lawn", "driveway", ", wheels_cross: true", True),
    ],
)
def test_ground_dams_edge_gravel_that_vehicles_drive_over_may_be_flush(
    beside: str, use: str, more: str, flush: bool
) -> None:
    edges = f"run: [C, D], beside: {beside}, ground: 99.76{more}\nrest: wall"
    report = review_by("ground-dams-edge", design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges, use=use))
    assert limits_broken(report) == ([] if flush else ["lip_above_ground_at_least"])


@pytest.mark.parametrize(
    ("way", "flush"),
    [
        ("[[10, 0], [10, 6], [10, 12]]", True),
        ("[[10, 12], [10, 6], [10, 0]]", True),
        ("[[0, 6], [10, 12], [20, 6]]", False),  # it passes there, and does not leave
        ("[[10, 0], [10, 11.1]]", True),  # within a foot of the edge it leaves over it
        ("[[10, 0], [10, 10.9]]", False),
    ],
)
def test_ground_dams_edge_an_accessible_way_leaves_flush_at_either_end(way: str, flush: bool) -> None:
    edges = "run: [C, D], beside: lawn, ground: 99.76\nrest: wall"
    text = design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges, use="walk") + f"\nsite: {{accessible_route: {way}}}"
    assert bool(review_by("ground-dams-edge", text).comments) is not flush


@pytest.mark.parametrize(("ground", "told"), [(99.7225, False), (99.7245, True)])
def test_ground_dams_edge_half_a_step_of_the_heights_is_let_pass(ground: float, told: bool) -> None:
    """1/2 in is 0.0417 ft under 99.76: 99.7183, and 0.005 ft more."""
    edges = f"run: [C, D], beside: lawn, ground: {ground}\nrest: wall"
    assert bool(review_by("ground-dams-edge", design(RECTANGLE, plane(RECTANGLE, 0, -0.02), edges)).comments) is told


# metric floors and pads


def test_ground_above_a_floor_under_a_roof_is_told() -> None:
    """Its water runs in, by gravity; level ground is let pass."""
    for ground, found in ((100.2, ["pad_above_ground_at_least"]), (100.0, []), (99.5, [])):
        text = design(RECTANGLE, plane(RECTANGLE, 0, 0), f"rest: lawn, ground: {ground}", use="shed base")
        assert list({one.limit.name for one in review_by("ground-dams-edge", text).comments}) == found


@pytest.mark.parametrize(
    ("use", "ground", "says"),
    [
        ("shed base", 100.2, "the lawn stands above the floor at A, and its water runs in"),
        ("equipment pad", 100.2, "the lawn stands above the slab at A and dams the water"),
    ],
)
def test_ground_round_a_pad_and_round_a_floor_is_told_apart(use: str, ground: float, says: str) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0), f"rest: lawn, ground: {ground}", use=use)
    told = {plain(one.says, "us") for one in review_by("ground-dams-edge", text).comments}
    assert says in told


@pytest.mark.parametrize(("long", "flush"), [(5.9, True), (6.1, False)])
def test_a_walk_ends_over_an_edge_of_less_than_one_and_a_half_times_its_width(long: float, flush: bool) -> None:
    """4 ft wide: common practice."""
    points = {"A": (0, 0), "B": (long, 0), "C": (long, 4), "D": (0, 4)}
    edges = "run: [C, D], beside: gravel, ground: 99.92\nrest: wall"
    report = review_by("ground-dams-edge", design(points, plane(points, 0, -0.02), edges, use="walk"))
    assert (report.comments == ()) is flush


@pytest.mark.parametrize(("run", "flush"), [("[B, C]", True), ("[A, B]", False), ("[C, D]", False)])
def test_a_walk_may_end_flush_in_gravel_and_not_lie_so_all_along(run: str, flush: bool) -> None:
    """A walk 4 ft wide and 10 ft long, its end askew: under one and a half times the width it ends there (practice)."""
    points = {"A": (0, 0), "B": (10, 0), "C": (12, 4), "D": (0, 4)}
    heights = plane(points, -0.02, 0.02 if run == "[A, B]" else -0.02 if run == "[C, D]" else 0)
    low = min(heights[run[1]], heights[run[4]])
    edges = f"run: {run}, beside: gravel, ground: {low}\nrest: wall"
    report = review_by("ground-dams-edge", design(points, heights, edges, use="walk"))
    assert (report.comments == ()) is flush


@pytest.mark.parametrize(
    ("door", "apron", "found"),
    [
        ("overhead door", 0.0, []),
        ("overhead door", 0.1, [("caution", "pad_above_ground_at_least")]),
        ("office door", 0.1, []),  # a step between two rooms
    ],
)
def test_no_floor_lies_below_the_paving_before_its_big_doors(
    door: str, apron: float, found: list[tuple[str, str]]
) -> None:
    beside = f"name: yard, takes_water: false, planned_step: true, ground: {100 + apron}"
    edges = f"run: [A, B], beside: existing slab, {beside}\nrest: building"
    fixture = f"fixtures: [{{kind: door, name: {door}, along: [[4, 0], [7, 0]], sill: 100, swings_over: true}}]"
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0.01), edges, use="shop floor", more=fixture)
    assert weights(review_by("ground-dams-edge", text)) == found


def test_an_edge_beyond_a_shared_end_that_was_told_is_looked_at_too() -> None:
    points = {**RECTANGLE, "H": (18, 12)}
    edges = "run: [C, H, D], beside: lawn, name: low side, ground: [99.2, 99.9, 99.2]\n"
    edges += "run: [B, C], beside: lawn, name: end, ground: 101\nrest: lawn"
    report = review_by("ground-dams-edge", design(points, slope_to(-0.02, -0.02), edges, "A B C H D"))
    assert sorted(one.at.name for one in report.comments) == ["end", "low side"]


@pytest.mark.parametrize(("ground", "told"), [(", ground: 100.2", True), ("", False)])
def test_under_a_roof_ground_that_is_drawn_is_judged(ground: str, told: bool) -> None:
    text = design(RECTANGLE, plane(RECTANGLE, 0, 0), f"rest: lawn{ground}", more="site: {outdoors: false}")
    report = review_by("ground-dams-edge", text)
    assert bool(report.comments) is told
    assert [one.reason for one in report.does_not_apply] == ([] if told else ["no rain falls on it"])


def test_a_walk_as_compact_as_a_landing_has_a_width_too() -> None:
    """An octagon holds more than a square of its girth: 4 ft 4 in wide, and a side of 2 ft ends it."""
    corners = [(1, 0), (3, 0), (4, 1), (4, 3), (3, 4), (1, 4), (0, 3), (0, 1)]
    points = dict(zip("ABCDEFGH", corners, strict=True))
    edges = "run: [E, F], beside: gravel, ground: 99.92\nrest: wall"
    text = design(points, plane(points, 0, -0.02), edges, "A B C D E F G H", use="walk")
    assert review_by("ground-dams-edge", text).comments == ()


@pytest.mark.parametrize(
    ("above", "said", "found"),
    [  # 4 in are 0.3333 ft: an old slab that stands higher all along is a wall to the water (common practice)
        (0.34, "", []),
        (0.32, "", ["lip_at_least"]),
        (0.34, ", takes_water: true", ["lip_at_least"]),
    ],
)
def test_the_face_of_a_terrace_is_no_edge_that_water_leaves_over(above: float, said: str, found: list[str]) -> None:
    """A patio that falls 2 % to a terrace above it, and along that out to a lawn."""
    heights = plane(RECTANGLE, -0.01, -0.02)
    beside = [round(heights[name] + above, 4) for name in "CD"]
    edges = (
        f"run: [C, D], beside: existing slab, name: terrace, ground: {beside}{said}\n"
        "run: [B, C], beside: lawn, takes_water: true, ground_below: 1 in\nrest: bed"
    )
    report = review_by("ground-dams-edge", design(RECTANGLE, heights, edges))
    assert limits_broken(report) == found
