"""Rules about leaves, landings, accessible ways and bare edges: branches, limits, and geometry by hand."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import plan_of, review_by
from slabwright.rulebook.remedy import Write
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT, INCH = 0.3048, 0.0254
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: bed"


def slab(heights: dict[str, float], *sections: str, edges: str = "rest: bed", use: str = "walk") -> str:
    return "\n".join([design(RECTANGLE, heights, edges, use=use), *sections])


# leaf-clears-slab: RECTANGLE is 20 x 12 ft; the gate hangs at (8, 6) and is 4 ft wide, along x


def gate(more: str, heights: dict[str, float] | None = None, site: str = "") -> str:
    fixture = f"fixtures: [{{kind: gate, name: gate, along: [[8, 6], [12, 6]], swings_over: true, {more}}}]"
    return slab(heights or plane(RECTANGLE, 0, -0.05), fixture, site)


@pytest.mark.parametrize(
    ("more", "highest"),
    [  # z = 100 - 0.05 y: 99.70 ft under the closed leaf, 0.20 ft more or less 4 ft up or down the slope
        ("hinge: [[8, 6]], opens_to: [10, 12]", 99.70),
        ("hinge: [[8, 6]], opens_to: [10, 0]", 99.90),
        ("hinge: [[8, 6]]", 99.90),
        ("hinge: [[8, 6], [12, 6]], opens_to: [10, 0]", 99.80),  # two leaves, half as long
        ("hinge: [[12, 6]], opens_to: [10, 0]", 99.90),
    ],
)
def test_the_highest_spot_under_a_swing(more: str, highest: float) -> None:
    plan = plan_of(gate(f"{more}, bottom: 100"))
    leaf = plan.doors.leaf(plan.design.fixtures[0])
    assert leaf is not None
    assert leaf.slab == pytest.approx(highest * FOOT, abs=1e-6)


def test_a_ridge_half_way_round_a_swing_is_found() -> None:
    """Level but for a spot 2 ft from the hinge, at 45 degrees: seen neither closed nor open."""
    x, y = 8 + 2 * math.cos(math.pi / 4), 6 + 2 * math.sin(math.pi / 4)
    points = {**RECTANGLE, "S": (round(x, 6), round(y, 6))}
    text = design(points, {**dict.fromkeys(RECTANGLE, 100.0), "S": 100.1}, "rest: bed", use="walk")
    fixture = "fixtures: [{kind: gate, along: [[8, 6], [12, 6]], hinge: [[8, 6]], opens_to: [10, 12], bottom: 100.05}]"
    comment = only(review_by("leaf-clears-slab", "\n".join([text, fixture])))
    assert (comment.weight, comment.shown.si) == ("hold", pytest.approx(-0.05 * FOOT, abs=1e-4))
    assert plain(comment.says, "us", both=False) == "gate strikes the slab at S"


@pytest.mark.parametrize(
    ("bottom", "site", "expected"),
    [  # 1 in = 0.0833 ft; 1 1/2 in = 0.125 ft where frost lifts (common practice). Highest spot: 99.70 ft.
        (99.69, "", [("hold", "gap_at_least")]),
        (99.70, "", [("caution", "free_gap_at_least")]),
        (99.77, "", [("caution", "free_gap_at_least")]),
        (99.784, "", []),
        (99.784, "site: {freezing: none}", []),
        (99.784, "site: {freezing: moderate}", [("note", "frost_gap_at_least")]),
        (99.81, "site: {freezing: severe}", [("note", "frost_gap_at_least")]),
        (99.825, "site: {freezing: severe}", []),
    ],
)
def test_a_gate_clears_the_slab(bottom: float, site: str, expected: list[tuple[str, str]]) -> None:
    text = gate(f"hinge: [[8, 6]], opens_to: [10, 12], bottom: {bottom}", site=site)
    assert weights(review_by("leaf-clears-slab", text)) == expected


def test_a_door_hangs_at_its_sill_and_swings_over_the_slab_alone() -> None:
    door = (
        "fixtures: [{kind: door, name: back door, along: [[8, 0], [11, 0]], sill: 100.05, swings_over: true, "
        "hinge: [[8, 0]]}]"
    )
    comment = only(review_by("leaf-clears-slab", slab(plane(RECTANGLE, 0, -0.02), door, edges=HOUSE, use="patio")))
    assert comment.shown.si == pytest.approx(0.05 * FOOT, abs=1e-6)  # closest at the sill itself
    # an inch over 100.00 ft is 100.0833 ft, written 100.09: 0.04 ft = 0.48 in over the sill
    assert plain(comment.to_pass, "us", both=False) == "hang back door about 1/2 in higher, its underside at 100.09 ft"


def test_what_a_leaf_lacks_is_asked_for() -> None:
    (silent,) = review_by("leaf-clears-slab", gate("size: 4 ft")).not_shown
    assert silent.add == (
        "fixtures, hinge: the end of the width that gate hangs at, such as [[6, 0]]",
        "fixtures, bottom: the height of the underside of gate, such as 98.00",
    )
    spot = "fixtures: [{kind: gate, at: [8, 6], swings_over: true, hinge: [[8, 6]], bottom: 100}]"
    (silent,) = review_by("leaf-clears-slab", slab(plane(RECTANGLE, 0, 0), spot)).not_shown
    assert silent.add == ("fixtures, along: the two ends of the width of gate, such as [[6, 0], [9, 0]]",)
    (silent,) = review_by("leaf-clears-slab", gate("hinge: [[8, 6]], bottom: 100", {"A": 100.0})).not_shown
    assert silent.add[0].startswith("heights.finish")


def test_leaves_that_do_not_swing_over_the_slab() -> None:
    still = slab(plane(RECTANGLE, 0, 0), "fixtures: [{kind: gate, along: [[8, 6], [12, 6]], swings_over: false}]")
    reason = review_by("leaf-clears-slab", still).does_not_apply[0].reason
    assert reason == "no door or gate is said to swing over the slab"
    beside = "fixtures: [{kind: gate, along: [[8, -6], [12, -6]], hinge: [[8, -6]], bottom: 100, opens_to: [8, -20]}]"
    reason = review_by("leaf-clears-slab", slab(plane(RECTANGLE, 0, 0), beside)).does_not_apply[0].reason
    assert reason == "no leaf swings over the slab"


# exposed-edge


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
    text = slab(dict.fromkeys(RECTANGLE, 100.0), edges=f"run: [C, D], beside: {beside}, ground: {ground}\nrest: curb")
    assert weights(review_by("exposed-edge", text)) == expected


@pytest.mark.parametrize(("ground", "expected"), [(99.875, []), (99.874, [("note", "wheel_lip_at_most")])])
def test_wheels_bump_up_over_no_lip(ground: float, expected: list[tuple[str, str]]) -> None:
    """1 1/2 in is 0.125 ft: common practice."""
    edges = f"run: [C, D], beside: gravel, wheels_cross: true, ground: {ground}\nrest: curb"
    report = review_by("exposed-edge", slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges))
    assert weights(report) == expected
    assert not any("build a step" in plain(one.to_pass, "us") for one in report.comments)


def test_the_deepest_point_of_an_edge_is_told_once() -> None:
    edges = "run: [B, C, D], beside: lawn, name: low side, ground: [99.8, 99.0, 99.4]\nrest: curb"
    comment = only(review_by("exposed-edge", slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges)))
    assert plain(comment.says, "us", both=False) == "the slab stands 12 in out of the lawn at C"
    # 4 in below 100.00 ft is 99.6667: written 99.67 ft, 0.67 ft = 8.04 in over 99.00
    told = plain(comment.to_pass, "us", both=False)
    assert told.endswith(": about 8 in higher; or build a step there")
    edits = [(edit.path, edit.value.si / FOOT) for edit in comment.remedies[0].edits]
    assert edits == [("edges[0].ground[1]", pytest.approx(99.67)), ("edges[0].ground[2]", pytest.approx(99.67))]


def test_edges_that_nobody_steps_off() -> None:
    level = dict.fromkeys(RECTANGLE, 100.0)
    reason = review_by("exposed-edge", slab(level, edges="rest: curb")).does_not_apply[0].reason
    assert reason == "no ground lies open beside it"
    for edges in ("rest: street, ground: 95", "rest: existing slab, ground: 95", "rest: property line, ground: 95"):
        assert weights(review_by("exposed-edge", slab(level, edges=edges))) == [("hold", "guard_drop_at_most")]
        assert review_by("exposed-edge", slab(level, edges=f"{edges}, guard: 36 in")).comments == ()
    (silent,) = review_by(
        "exposed-edge", slab(level, edges="run: [A, B], beside: lawn, name: lawn\nrest: curb")
    ).not_shown
    assert silent.add == ("edges, ground: the height beside lawn, such as 99.30",)
    indoors = slab(level, edges="rest: open ground", use="shop floor")
    assert review_by("exposed-edge", indoors).does_not_apply


# door-landing


def door(width: float = 3, heights: dict[str, float] | None = None, use: str = "walk", more: str = "") -> str:
    fixture = f"fixtures: [{{kind: door, name: back door, along: [[4, 0], [{4 + width}, 0]], sill: 100.1{more}}}]"
    return slab(heights or plane(RECTANGLE, 0, -0.02), fixture, edges=HOUSE, use=use)


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
    text = design(points, heights, HOUSE, more=more, use="walk")
    fixture = "fixtures: [{kind: door, along: [[4, 0], [7, 0]]}]"
    assert weights(review_by("door-landing", "\n".join([text, fixture]))) == []
    nearer = text.replace("3.1]", "2.9]")
    assert weights(review_by("door-landing", "\n".join([nearer, fixture]))) == [("caution", "slope_at_most")]


def test_a_landing_that_is_not_deep() -> None:
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 2.5), "D": (0, 2.5)}
    text = "\n".join(
        [
            design(points, plane(points, 0, -0.02), HOUSE),
            "fixtures: [{kind: door, name: door, along: [[4, 0], [7, 0]]}]",
        ]
    )
    comment = only(review_by("door-landing", text))
    assert (comment.weight, comment.limit.name) == ("caution", "depth_at_least")
    assert comment.shown.si == pytest.approx(2.5 * FOOT, abs=1e-6)
    # 36 in less 30 in
    assert plain(comment.to_pass, "us", both=False).endswith('from door: 6" more')


def test_doors_without_a_landing_to_judge() -> None:
    def reason(text: str) -> str:
        return review_by("door-landing", text).does_not_apply[0].reason

    assert reason(door(use="garage floor")) == "no rain falls on it"
    assert reason(slab(plane(RECTANGLE, 0, -0.02), edges=HOUSE)) == "no door is drawn"
    assert reason(door(width=8.1, use="driveway")) == "every door is for vehicles"
    assert reason(door().replace("back door", "overhead door")) == "every door is for vehicles"
    assert reason(door().replace("[4, 0], [7, 0]", "[4, -5], [7, -5]")) == "no door that people use opens on it"
    spot = slab(plane(RECTANGLE, 0, -0.02), "fixtures: [{kind: door, name: back door, at: [4, 0]}]", edges=HOUSE)
    (silent,) = review_by("door-landing", spot).not_shown
    assert silent.add == ("fixtures, along: the two ends of the width of back door, such as [[3, 0], [6, 0]]",)


# accessible-route


def way(along: float, across: float, points: str = "[[0, 6], [20, 6]]", edges: str = "rest: bed") -> str:
    return slab(plane(RECTANGLE, along, across), f"site: {{accessible_route: {points}}}", edges=edges)


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
    assert weights(review_by("accessible-route", way(along, across))) == expected


def test_slopes_are_those_along_and_across_the_way() -> None:
    """A plane that falls 5 % along x: on a way at 3-4-5 to it 4 % along and 3 % across."""
    report = review_by("accessible-route", way(0.05, 0.0, points="[[2, 1], [14, 10]]"))
    assert only(report).limit.name == "cross_at_most"
    assert only(report).shown.si == pytest.approx(0.03, abs=1e-7)
    plan = plan_of(way(0.05, 0.0, points="[[2, 1], [14, 10]]"))
    assert {round(one.running, 6) for one in plan.routes.over(plan.design.site.accessible_route)} == {0.04}


def test_what_it_says_makes_it_pass() -> None:
    comment = only(review_by("accessible-route", way(0.0, -0.03)))
    # Turned about the way, at y = 6 ft: the edges 6 ft off go from 0.18 ft to at most 0.125 ft over or under 99.82 ft
    told = plain(comment.to_pass, "us", both=False)
    assert told.startswith("lower A by about 3/4 in, to 99.94 ft; lower B by about 3/4 in, to 99.94 ft")


@pytest.mark.parametrize(("beside", "expected"), [(99.96, []), (99.95, [("hold", "step_at_most")])])
def test_a_planned_step_on_the_way(beside: float, expected: list[tuple[str, str]]) -> None:
    """1/2 in is 0.0417 ft (ABA 303.3)."""
    edges = f"run: [D, A], beside: existing slab, name: stoop, ground: {beside}, planned_step: true\nrest: bed"
    report = review_by("accessible-route", way(0.0, 0.0, edges=edges))
    assert weights(report) == expected


def test_only_a_claimed_way_over_the_slab_is_judged() -> None:
    reason = review_by("accessible-route", slab(plane(RECTANGLE, 0.2, 0.2))).does_not_apply[0].reason
    assert reason == "no accessible way is claimed (site.accessible_route)"
    off = way(0.2, 0.2, points="[[0, 20], [20, 20]]")
    assert review_by("accessible-route", off).does_not_apply[0].reason == "the accessible way does not cross the slab"


# drive-grade-by-garage

LONG = {"A": (0, 0), "B": (12, 0), "C": (12, 60), "D": (0, 60), "E": (0, 20.1), "F": (12, 20.1)}


def long_drive(by_garage: float, beyond: float, use: str = "driveway", edges: str = HOUSE) -> str:
    """60 ft from the garage to the street, folded 20.1 ft from the garage."""
    fold = 100 - 20.1 * by_garage
    end = fold - 39.9 * beyond
    heights = {"A": 100.0, "B": 100.0, "E": fold, "F": fold, "C": end, "D": end}
    more = "  lines: [{name: fold, kind: grade break, along: [E, F]}]"
    return design(LONG, heights, edges, more=more, use=use)


@pytest.mark.parametrize(
    ("by_garage", "beyond", "expected"),
    [  # 10 %: Barrington Hills IL, the lowest of the municipal grades that were read; 5 % of it is given
        (0.10, 0.14, []),
        (-0.10, 0.14, []),
        (0.106, 0.02, [("caution", "by_garage_at_most")]),
        (-0.106, 0.02, [("caution", "by_garage_at_most")]),  # rising from the door is as steep as falling
    ],
)
def test_a_drive_is_gentle_before_the_garage(by_garage: float, beyond: float, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("drive-grade-by-garage", long_drive(by_garage, beyond))) == expected


def test_the_drive_is_eased_before_the_garage() -> None:
    """10 % of 20.1 ft lies 2.01 ft under 100 ft: the fold is raised to that, and what lies beyond it stays."""
    (remedy,) = only(review_by("drive-grade-by-garage", long_drive(0.12, 0.02))).remedies
    new = {edit.path: edit.value.si / FOOT for edit in remedy.edits if isinstance(edit, Write)}
    assert new.keys() == {"heights.finish.E", "heights.finish.F"}
    assert all(97.99 <= height < 98.01 for height in new.values())


def test_twenty_feet_and_no_further() -> None:
    """2 % over 20.1 ft and 14 % from there on, and the other way round."""
    assert review_by("drive-grade-by-garage", long_drive(0.02, 0.14)).comments == ()
    assert weights(review_by("drive-grade-by-garage", long_drive(0.14, 0.02))) == [("caution", "by_garage_at_most")]


def test_only_drives_at_buildings_have_a_stretch_before_the_garage() -> None:
    (patio,) = review_by("drive-grade-by-garage", long_drive(0.2, 0.2, use="patio")).does_not_apply
    assert patio.reason == "the slab is not a driveway"
    (bare,) = review_by("drive-grade-by-garage", long_drive(0.2, 0.2, edges="rest: bed")).does_not_apply
    assert bare.reason == "no edge is beside a building"


# ramps, clear width and thresholds of an accessible way


def ramp(heights: dict[str, float], more: str = "", edges: str = "rest: bed") -> str:
    """A way of 40 ft by 5: a landing of 5 ft at the head A-D, then a slope to 5 ft before the foot B-C."""
    points = {
        "A": (0, 0),
        "S": (5, 0),
        "U": (35, 0),
        "B": (40, 0),
        "C": (40, 5),
        "T": (35, 5),
        "R": (5, 5),
        "D": (0, 5),
    }
    lines = "  lines: [{kind: grade break, along: [S, R]}, {kind: grade break, along: [U, T]}]"
    site = "site: {accessible_route: [[0, 2.5], [40, 2.5]]}"
    return "\n".join([design(points, heights, edges, "A S U B C T R D", more=lines, use="walk"), site, more])


def profile(head: float, middle: float, foot: float) -> dict[str, float]:
    s = 100 - 5 * head
    u = s - 30 * middle
    b = u - 5 * foot
    return {"A": 100, "D": 100, "S": s, "R": s, "U": u, "T": u, "B": b, "C": b}


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
    assert [comment.limit.name for comment in report.comments] == expected
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
    assert [comment.limit.name for comment in report.comments] == ([] if wide > 3 else ["width_at_least"])
    for comment in report.comments:
        assert comment.shown.si == pytest.approx(wide * FOOT, abs=1e-6)


@pytest.mark.parametrize(("sill", "expected"), [(100.04, []), (100.05, ["step_at_most"])])  # 0.48 and 0.6 in
def test_the_threshold_of_an_accessible_door(sill: float, expected: list[str]) -> None:
    door = f"fixtures: [{{kind: door, name: front door, along: [[0, 1], [0, 4]], sill: {sill}}}]"
    text = ramp(profile(0.01, 0.04, 0.01), door, "run: [D, A], beside: building, name: hall\nrest: bed")
    assert [comment.limit.name for comment in review_by("accessible-route", text).comments] == expected
    assert review_by("door-step", text).comments == ()  # the rain step is not asked there


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
    ],
)
def test_a_guard_over_thirty_inches(edge: str, use: str, expected: list[tuple[str, str]]) -> None:
    text = slab(dict.fromkeys(RECTANGLE, 100.0), edges=f"run: [C, D], beside: {edge}\nrest: curb", use=use)
    assert weights(review_by("exposed-edge", text)) == expected


def test_a_drop_beside_a_door_weighs_more() -> None:
    """9 in down to the lawn: a note, and a caution within 36 in of a door."""
    text = slab(dict.fromkeys(RECTANGLE, 100.0), edges="run: [B, C], beside: lawn, ground: 99.25\nrest: curb")
    assert weights(review_by("exposed-edge", text)) == [("note", "step_drop_at_most")]
    door = "fixtures: [{kind: door, name: back door, along: [[15, 0], [18, 0]]}]"
    assert weights(review_by("exposed-edge", f"{text}\n{door}")) == [("caution", "door_drop_at_most")]


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
    text = slab(plane(RECTANGLE, -0.045, 0.0), f"site: {{{site}}}", use=use)
    assert weights(review_by("greatest-fall", text)) == expected


@pytest.mark.parametrize(
    ("beside", "outcome"),
    [  # 7 % along; the street beside climbs 7.5 %, 2 %, or nobody says
        ("curb, ground: [100, 98.5]", "met"),
        ("curb, ground: [100, 99.6]", "comments"),
        ("curb", "not_shown"),
        ("bed", "comments"),
    ],
)
def test_a_public_walk_may_be_as_steep_as_its_street(beside: str, outcome: str) -> None:
    text = slab(
        plane(RECTANGLE, -0.07, 0.0),
        "site: {right_of_way: true}",
        edges=f"run: [A, B], beside: {beside}\nrest: bed",
        use="walk",
    )
    report = review_by("greatest-fall", text)
    assert [name for name in ("met", "comments", "not_shown") if getattr(report, name)] == [outcome]


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
    text = slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges) + f"\nfixtures: [{{kind: gate, name: side gate, {gate}}}]"
    assert weights(review_by("exposed-edge", text)) == expected


def test_a_drop_that_people_fall_from_is_no_lip() -> None:
    edges = "run: [C, D], beside: existing slab, ground: 97\nrest: lawn"
    text = slab(dict.fromkeys(RECTANGLE, 100.0), edges=edges)
    assert review_by("trip-at-existing-slab", text).does_not_apply
    assert weights(review_by("exposed-edge", text)) == [("hold", "guard_drop_at_most")]
