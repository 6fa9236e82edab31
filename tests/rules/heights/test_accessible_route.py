"""The rule `accessible-route`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import re

import pytest
from comments import advice, limits_broken, only, places, told, weights
from design_text import plan_of, review_by
from slabs.heights import ALL_LEVEL, profile, ramp, slab, told_values, walk_slab, worked
from slabwright.plan.grades import Grades
from slabwright.review.report import Comment
from slabwright.text.words import plain
from slabwright.units.quantity import show
from sloped import RECTANGLE, design, plane

FOOT, INCH, AT_A, AT_B = 0.3048, 0.0254, "run: [B0, A0], beside: asphalt", "run: [A2, B2], beside: asphalt"
RULE = "accessible-route"
LEVEL, UP = (2.0, 0.02), (5.0, 0.08)
CROSSING = "site: {accessible_route: [[0, 6], [10, 6], [20, 6]]}"


def way(
    runs: list[tuple[float, float]], edges: str = "rest: bed", more: str = "", route: str = "", height: float = 100.0
) -> str:
    """A walk 5 ft wide, of runs of a length (ft) at a slope, the way along its middle; the first point is A0."""
    x, z, points, heights, lines = 0.0, height, {"A0": (0.0, 0.0)}, {"A0": height}, []
    stations = [(x, z)]
    for long, slope in runs:
        x, z = x + long, z - long * slope
        stations.append((x, z))
    for number, (x, z) in enumerate(stations):
        points |= {f"A{number}": (x, 0.0), f"B{number}": (x, 5.0)}
        heights |= {f"A{number}": round(z, 9), f"B{number}": round(z, 9)}
        if 0 < number < len(runs):
            lines.append(f"{{kind: grade break, along: [A{number}, B{number}]}}")
    names = [f"A{n}" for n in range(len(stations))] + [f"B{n}" for n in reversed(range(len(stations)))]
    folds = f"  lines: [{', '.join(lines)}]" if lines else ""
    route = route or f"[[0, 2.5], [{stations[-1][0]}, 2.5]]"
    text = design(points, heights, edges, " ".join(names), more=folds, use="walk")
    return f"{text}\nsite: {{accessible_route: {route}}}\n{more}"


def turned(text: str, across: float) -> str:
    """The same with the side B lower, by a slope across."""
    return re.sub(r"(B\d+): (\d[\d.]*)", lambda one: f"{one[1]}: {float(one[2]) - 5 * across:.4f}", text)


def in_meters(text: str) -> str:
    """The same numbers, in meters."""
    return text.replace("plan: ft, height: ft", "plan: m, height: m").replace("design: 4 in", "design: 100 mm")


def broken(text: str) -> list[str]:
    return limits_broken(review_by(RULE, text))


def arithmetic(comment: Comment) -> list[str]:
    return [f"{plain(one.numbers, 'us', both=False)} = {show(one.result, 'us')}" for one in comment.working]


def stoops(left: str = "", right: str = "", foot: str = "") -> str:
    """A level walk with a way from its left side over the middle to its right side."""
    runs = [
        f"run: [{run}], beside: existing slab, name: {name}, ground: {ground}, planned_step: true"
        for run, name, ground in (("D, A", "left", left), ("B, C", "right", right), ("A, B", "foot", foot))
        if ground
    ]
    return slab(ALL_LEVEL, CROSSING, edges="\n".join([*runs, "rest: bed, ground: 99.0"]), use="walk")


def tilted_way(along: float, across: float, points: str = "[[0, 6], [20, 6]]", edges: str = "rest: bed") -> str:
    return walk_slab(plane(RECTANGLE, along, across), f"site: {{accessible_route: {points}}}", edges=edges)


@pytest.mark.parametrize(
    ("head", "foot", "expected"),
    [  # 60 in, ADA 4.8.4 (recalled), drawn to 2 mm: 59.93 in and more will do
        (4.996, 5.0, []),
        (4.988, 5.0, ["running_at_most"]),
        (5.0, 4.996, []),
        (5.0, 4.988, ["running_at_most"]),
    ],
)
def test_a_landing_is_sixty_inches_long(head: float, foot: float, expected: list[str]) -> None:
    assert broken(way([(head, 0.02), (10, 0.08), (foot, 0.02)])) == expected


@pytest.mark.parametrize(
    ("runs", "edges", "expected"),
    [  # 1.5 m where metric is shown; there the paving that a ramp ends on is its landing too (as the rule says)
        ([(1.5, 0.02), UP, LEVEL], "", []),
        ([(1.49, 0.02), UP, LEVEL], "", ["running_at_most"]),
        ([LEVEL, UP, (1.49, 0.02)], "", ["running_at_most"]),
        ([UP, LEVEL], AT_A, []),
        ([LEVEL, UP], AT_B, []),
        ([UP, LEVEL], "run: [A1, A2], beside: asphalt", ["running_at_most"]),  # not where it ends
        ([UP, LEVEL], AT_B, ["running_at_most"]),  # nor at its other end
        ([LEVEL, UP], AT_A, ["running_at_most"]),
        ([(1.2, 0.02), UP, LEVEL], AT_A, ["running_at_most"]),  # a ramp farther on does not end there
    ],
)
def test_a_metric_landing_may_be_the_paving_beside(
    runs: list[tuple[float, float]], edges: str, expected: list[str]
) -> None:
    assert broken(in_meters(way(runs, f"{edges}\nrest: bed"))) == expected


def test_a_way_of_several_legs_ends_at_its_last_point() -> None:
    text = way([LEVEL, UP], f"{AT_B}\nrest: bed", route="[[0, 2.5], [1, 2.5], [7, 2.5]]")
    assert broken(in_meters(text)) == []


def test_paving_beside_is_no_landing_by_us_rules() -> None:
    assert broken(way([(16, 0.08), (6, 0.02)], f"{AT_A}\nrest: bed")) == ["running_at_most"]


@pytest.mark.parametrize(
    ("begins", "beside", "expected"),
    [
        (-5.0, "existing slab", []),
        (-4.9, "existing slab", ["beyond_at_least"]),  # as a note: nothing shows what lies there
        (0.0, "existing slab", ["beyond_at_least"]),
        (0.0, "existing slab, falls_to_slab: 2.08 %", []),
        (0.0, "existing slab, falls_to_slab: 2.1 %", ["running_at_most"]),  # 1 in 48 is 2.083 %
        (-5.0, "lawn", ["running_at_most"]),
    ],
)
def test_a_way_drawn_on_over_an_existing_walk_has_its_landing_there(
    begins: float, beside: str, expected: list[str]
) -> None:
    at_foot, at_head = (f"{end.replace('asphalt', beside)}\nrest: bed" for end in (AT_A, AT_B))
    there = way([(10, 0.08), (6, 0.02)], at_foot, route=f"[[{begins}, 2.5], [9, 2.5], [16, 2.5]]")
    back = way([(6, 0.02), (10, 0.08)], at_head, route=f"[[0, 2.5], [9, 2.5], [{16 - begins}, 2.5]]")
    assert broken(there) == broken(back) == expected


def test_a_ramp_that_ends_on_an_old_walk_is_held_to_one_in_twelve_for_all_that() -> None:
    text = way([(10, 0.09), (6, 0.02)], f"{AT_A.replace('asphalt', 'existing slab')}\nrest: bed")
    hold, note = review_by(RULE, text).comments
    assert [(one.weight, one.limit.name) for one in (hold, note)] == [
        ("hold", "ramp_at_most"), ("note", "beyond_at_least")]  # fmt: skip
    assert note.shown.si == 0
    assert told(note) == (
        "the ramp ends on edge B0-A0 (existing slab), and nothing shows that this is level there",
        "lay a level on edge B0-A0 (existing slab), and draw the way on over it for 60 in",
    )


@pytest.mark.parametrize(("head", "expected"), [(5.0, []), (4.9, ["running_at_most"])])
def test_a_landing_is_as_long_as_the_slab_is_level_wherever_on_it_the_way_begins(
    head: float, expected: list[str]
) -> None:
    """The way begins at a door in the side of the landing, 2 ft from the ramp, and turns onto it."""
    route = f"[[{head - 2}, 0], [{head - 2}, 2.5], [{head + 15}, 2.5]]"
    assert broken(way([(head, 0.02), (10, 0.08), (5, 0.02)], route=route)) == expected


def test_the_rise_of_a_ramp_is_that_of_all_its_runs() -> None:
    """20 ft at 8 % and 12 ft at 7.9 %: 1.6 + 0.948 = 2.548 ft, 30.576 in; 7.9625 % over 32 ft."""
    comment = only(review_by(RULE, way([(5, 0.01), (20, 0.08), (12, 0.079), (5, 0.01)])))
    assert comment.limit.name == "rise_at_most" and comment.shown.si == pytest.approx(2.548 * FOOT)
    assert comment.at.name == "ramp (5.00 ft, 2.50 ft)-(37.00 ft, 2.50 ft)"
    assert sum(comment.at.shape, ()) == pytest.approx((5 * FOOT, 2.5 * FOOT, 37 * FOOT, 2.5 * FOOT))
    assert told(comment) == (
        "the ramp from (5.00 ft, 2.50 ft) to (37.00 ft, 2.50 ft) rises about 30 5/8 in in one run",
        "put a level landing of 5'-0\" between",
    )
    assert comment.working[0].numbers.values["s"].si == pytest.approx(2.548 / 32)


def test_where_no_height_helps_it_says_how_much_may_fall_and_how_long_it_would_be(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """6.25 % over 15.5 ft, to the fold: 9.3 in at 1 in 20, and an eighth no more, or 19.375 ft; across 1 in."""
    monkeypatch.setattr(Grades, "eased", lambda *_: ())
    along, across = review_by(RULE, turned(way([(31, 0.0625)]), 0.03)).comments
    assert told(along)[1] == (
        "let it fall 9 1/4 in over 15'-6\" along the way at most, or take the height over 19'-6\"; over 1 in 20 "
        "it is a ramp, and wants 5'-0\" that are level at its head and its foot, drawn here or on an old slab that "
        "the way goes on over"
    )
    assert told(across)[1] == "let it fall 1 in over 4'-0\" across the way at most"


@pytest.mark.parametrize(
    ("post", "wide"),
    [  # 5 ft less what stands in the way, the wider side; a post of no size counts as 4 in across
        ("at: [20, 2], size: 8 in", 5 - 2 - 4 / 12),
        ("at: [20, 2]", 5 - 2 - 2 / 12),
        ("at: [20, 3.2]", 3.2 - 2 / 12),
    ],
)
def test_what_a_post_leaves_of_the_way(post: str, wide: float) -> None:
    text = way([(40, 0.02)], more=f"fixtures: [{{kind: post, name: lamp, {post}}}]")
    comments = review_by(RULE, text).comments
    if wide >= 3:
        assert comments == ()
    else:
        assert comments[0].shown.si == pytest.approx(wide * FOOT, abs=1e-6)
        assert f'widen the slab by {round((3 - wide) * 12)}"' in told(comments[0])[1]


def test_a_wall_of_a_door_that_is_in_no_way_is_passed_over() -> None:
    """Two doors: the way leads through the second alone, 0.6 in over it; 0.1 in more than 1/2 in."""
    doors = (
        "fixtures:\n  - {kind: door, name: cellar, along: [[20, 5], [23, 5]], sill: 101}\n"
        "  - {kind: door, name: hall, along: [[0, 1], [0, 4]], sill: 100.05}\n"
        "  - {kind: door, name: side, along: [[40, 1], [40, 4]]}\n"
    )
    edges = "run: [B0, A0], beside: building, name: house\nrest: bed"
    comment = only(review_by(RULE, way([(40, 0.02)], edges, doors)))
    assert comment.at.name == "hall" and comment.shown.si == pytest.approx(0.6 * INCH)
    whole, at_door = comment.remedies
    new = {edit.path.removeprefix("heights.finish."): edit.value.si / FOOT for edit in whole.edits}
    assert new == pytest.approx({"A0": 100.01, "B0": 100.01, "A1": 99.21, "B1": 99.21})
    assert plain(whole.says, "us", both=False) == "set the whole slab about 1/8 in higher"
    assert {edit.path: round(edit.value.si / FOOT, 6) for edit in at_door.edits} == {
        "heights.finish.A0": 100.01,
        "heights.finish.B0": 100.01,
    }


def test_a_planned_step_at_the_end_of_the_way() -> None:
    """The slab ends at 99.20 ft, the yard beside at 99.25 and 99.10: 0.1 ft, 1.2 in."""
    edges = "run: [A1, B1], beside: existing slab, name: yard, ground: [99.25, 99.10], planned_step: true\nrest: bed"
    comment = only(review_by(RULE, way([(40, 0.02)], edges)))
    assert comment.limit.name == "step_at_most" and comment.shown.si == pytest.approx(0.1 * FOOT)
    assert arithmetic(comment)[0].startswith("99.20 ft - 99.10 ft = ")
    assert told(comment)[1] == "match the height of 99.10 ft there, or ramp it at 1 in 12"


# accessible-route: steps at its ends, 1/2 in (ABA 303.3)


@pytest.mark.parametrize(
    ("text", "expected"),
    [  # 0.05 ft is 0.6 in, 0.04 ft is 0.48 in
        (stoops("99.95"), ["left"]),
        (stoops(right="99.95"), ["right"]),
        (stoops("99.95", "99.94"), ["left", "right"]),
        (stoops("99.96", "100.04"), []),
        (stoops("100.05"), ["left"]),
        (stoops(foot="99.95"), []),  # the way does not end there
    ],
)
def test_accessible_route_meets_a_step_at_either_end(text: str, expected: list[str]) -> None:
    assert places(review_by("accessible-route", text)) == expected


def test_accessible_route_takes_the_greater_end_of_a_step() -> None:
    """Flush at D, 0.1 ft at A."""
    comment = only(review_by("accessible-route", stoops("[100, 99.9]")))
    assert comment.shown.si == pytest.approx(0.1 * FOOT)
    assert worked(comment) == ["100.00 ft - 99.90 ft"]
    assert [step.result.si for step in comment.working] == pytest.approx([0.1 * FOOT])
    assert told_values(comment)["beside"] == "99.90 ft"


def test_accessible_route_looks_at_every_edge_at_its_end() -> None:
    """It begins at the corner A: on the one edge nothing is planned, of the next no height is known, none is told."""
    way = "site: {accessible_route: [A, [20, 6]]}"
    step = "beside: existing slab, name: stoop, ground: 99.9, planned_step: true"
    for first, second in (
        (f"run: [A, B], {step}", "run: [D, A], beside: bed, ground: 99"),
        ("run: [A, B], beside: bed, ground: 99", f"run: [D, A], {step}"),
        ("run: [A, B], beside: existing slab, planned_step: true", f"run: [D, A], {step}"),
        ("run: [B, C], beside: bed", f"run: [D, A], {step}"),  # nothing is said of A-B
    ):
        comment = only(review_by("accessible-route", slab(ALL_LEVEL, way, edges=f"{first}\n{second}", use="walk")))
        assert comment.at.name == "stoop"


@pytest.mark.parametrize(
    ("along", "across", "expected"),
    [  # 2010 ADA 403.3: running 1:20, cross 1:48
        (0.05, 1 / 48, []),
        (0.0501, 0.0, [("hold", "running_at_most")]),
        (0.0, 0.0209, [("hold", "cross_at_most")]),
        (-0.06, -0.03, [("hold", "running_at_most"), ("hold", "cross_at_most")]),
    ],
)
def test_an_accessible_way_keeps_the_access_limits(
    along: float, across: float, expected: list[tuple[str, str]]
) -> None:
    assert weights(review_by("accessible-route", tilted_way(along, across))) == expected


def test_slopes_are_those_along_and_across_the_way() -> None:
    """A plane that falls 5 % along x: on a way at 3-4-5 to it 4 % along and 3 % across."""
    report = review_by("accessible-route", tilted_way(0.05, 0.0, points="[[2, 1], [14, 10]]"))
    assert only(report).limit.name == "cross_at_most"
    assert only(report).shown.si == pytest.approx(0.03, abs=1e-7)
    plan = plan_of(tilted_way(0.05, 0.0, points="[[2, 1], [14, 10]]"))
    assert {round(one.running, 6) for one in plan.routes.over(plan.design.site.accessible_route)} == {0.04}


def test_what_it_says_makes_it_pass() -> None:
    comment = only(review_by("accessible-route", tilted_way(0.0, -0.03)))
    # Turned about the way, at y = 6 ft: the edges 6 ft off go from 0.18 ft to at most 0.125 ft over or under 99.82 ft
    told = advice(comment)
    assert told.startswith("lower A by about 3/4 in, to 99.94 ft; lower B by about 3/4 in, to 99.94 ft")


@pytest.mark.parametrize(("beside", "expected"), [(99.96, []), (99.95, [("hold", "step_at_most")])])
def test_a_planned_step_on_the_way(beside: float, expected: list[tuple[str, str]]) -> None:
    """1/2 in is 0.0417 ft (ABA 303.3)."""
    edges = f"run: [D, A], beside: existing slab, name: stoop, ground: {beside}, planned_step: true\nrest: bed"
    report = review_by("accessible-route", tilted_way(0.0, 0.0, edges=edges))
    assert weights(report) == expected


def test_only_a_claimed_way_over_the_slab_is_judged() -> None:
    reason = review_by("accessible-route", walk_slab(plane(RECTANGLE, 0.2, 0.2))).does_not_apply[0].reason
    assert reason == "no accessible way is claimed (site.accessible_route)"
    off = tilted_way(0.2, 0.2, points="[[0, 20], [20, 20]]")
    assert review_by("accessible-route", off).does_not_apply[0].reason == "the accessible way does not cross the slab"


# ramps, clear width and thresholds of an accessible way


@pytest.mark.parametrize(
    ("heights", "expected"),
    [  # 1991 ADA 4.8.2, read: 1 in 12, 30 in a run; 2010 ADA 403.3, quoted: 1 in 20. The 60 in are recalled
        (profile(0.01, 0.05, 0.01), []),
        (profile(0.01, 0.08, 0.01), []),
        (profile(0.01, 0.084, 0.01), ["ramp_at_most", "rise_at_most"]),  # 2.52 ft in 30
        (profile(0.03, 0.08, 0.01), ["running_at_most"]),  # no landing at the head
        (profile(0.01, 0.06, 0.06), ["running_at_most"]),  # nor at the foot
    ],
)
def test_a_ramp_has_landings_at_both_ends(heights: dict[str, float], expected: list[str]) -> None:
    report = review_by("accessible-route", ramp(heights))
    assert limits_broken(report) == expected
    assert {comment.weight for comment in report.comments} <= {"hold"}


@pytest.mark.parametrize(
    ("at", "size", "wide"),
    [  # 5 ft less the post: of its two sides the wider counts; 36 in, 2010 ADA 403.5.1, quoted
        ("[20, 1]", "12 in", 3.5),
        ("[20, 2]", "12 in", 2.5),
    ],
)
def test_a_post_in_the_way_leaves_three_feet(at: str, size: str, wide: float) -> None:
    text = ramp(profile(0.01, 0.04, 0.01), f"fixtures: [{{kind: post, name: lamp, at: {at}, size: {size}}}]")
    report = review_by("accessible-route", text)
    assert limits_broken(report) == ([] if wide > 3 else ["width_at_least"])
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(wide * FOOT, abs=1e-6)


@pytest.mark.parametrize(
    "points", ["", "[4.97, 2.5], ", "[12, 2.5], ", "[20.04, 2.5], ", "[4.97, 2.5], [20.04, 2.5], "]
)
def test_a_point_of_the_way_beside_a_fold_takes_nothing_off_a_landing(points: str) -> None:
    """A ramp of 15 ft at 1 in 14 between two landings of 60 in, the least that is asked."""
    runs = [(5.0, 0.015), (15.0, 1 / 14), (5.0, 0.015)]
    assert broken(way(runs, route=f"[[0, 2.5], {points}[25, 2.5]]")) == []
    assert broken(way([(4.9, 0.015), *runs[1:]])) == ["running_at_most"]


@pytest.mark.parametrize(
    ("unit", "told"),
    [
        ("ft", "let it fall 1 in over 4'-0\" across the way at most"),
        ("m", "let it fall 25 mm over 1.2 m across the way at most"),
    ],
)
def test_what_a_way_may_fall_across_is_told_under_a_level(unit: str, told: str) -> None:
    """1:48 of a level of 4 ft or 1.2 m."""
    text = design(RECTANGLE, plane(RECTANGLE, -0.01, -0.03), "rest: bed", use="walk", unit=unit)
    comments = review_by("accessible-route", f"{text}\nsite: {{accessible_route: [[0, 6], [20, 6]]}}").comments
    (across,) = (one for one in comments if one.limit.name == "cross_at_most")
    assert across.decide is not None
    assert plain(across.decide, "us" if unit == "ft" else "metric", both=False) == told


@pytest.mark.parametrize(("sill", "found"), [(100.02, []), (100.021, [("caution", "metric_threshold_at_most")])])
def test_a_threshold_of_a_metric_plan_may_be_twenty_millimeters(sill: float, found: list[tuple[str, str]]) -> None:
    """What countries that build in metric let it be lies between 13 and 25 mm (common practice)."""
    doors = f"fixtures: [{{kind: door, name: hall, along: [[0, 2], [0, 3]], sill: {sill}}}]\n"
    text = way([(12, 0.02)], "run: [B0, A0], beside: building, name: house\nrest: bed", doors)
    text = text.replace("plan: ft, height: ft", "plan: m, height: m")
    said = [(one.weight, one.limit.name) for one in review_by(RULE, text).comments if one.at.name == "hall"]
    assert said == found
