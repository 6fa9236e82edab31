"""Rules about heights at their edges: the worst of several spots, the first of several things, numbers just met."""

from __future__ import annotations

import math
from typing import Any

import pytest
from comments import only, weights
from design_text import review_by
from judged import judged
from slabwright.review.report import Comment
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, show
from sloped import RECTANGLE, all_followed, design, plane

FOOT, INCH = 0.3048, 0.0254
LEVEL = dict.fromkeys(RECTANGLE, 100.0)
HOUSE = "run: [A, B], beside: building, name: house wall\nrest: bed"


def slab(heights: dict[str, float], *sections: str, edges: str = "rest: bed", use: str = "patio") -> str:
    """The rectangle of 20 by 12 ft with these heights, and whole sections of YAML."""
    return "\n".join([design(RECTANGLE, heights, edges, use=use), *sections])


def told(comment: Comment) -> dict[str, Any]:
    """What a comment tells to write, amounts in the unit system they are told in."""
    return {
        slot: show(value, "us", both=False) if isinstance(value, Amount) else value
        for slot, value in comment.to_pass.values.items()
    }


def worked(comment: Comment | Finding) -> list[str]:
    return [plain(step.numbers, "us", both=False) for step in comment.working]


def feet(*heights: float | None) -> list[float | None]:
    """Heights or depths in ft."""
    return [None if one is None else round(one / FOOT, 6) for one in heights]


# accessible-route: steps at its ends, 1/2 in (ABA 303.3)

CROSSING = "site: {accessible_route: [[0, 6], [10, 6], [20, 6]]}"


def stoops(left: str = "", right: str = "", foot: str = "") -> str:
    """A level walk with a way from its left side over the middle to its right side."""
    runs = [
        f"run: [{run}], beside: existing slab, name: {name}, ground: {ground}, planned_step: true"
        for run, name, ground in (("D, A", "left", left), ("B, C", "right", right), ("A, B", "foot", foot))
        if ground
    ]
    return slab(LEVEL, CROSSING, edges="\n".join([*runs, "rest: bed, ground: 99.0"]), use="walk")


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
    assert [comment.at.name for comment in review_by("accessible-route", text).comments] == expected


def test_accessible_route_takes_the_greater_end_of_a_step() -> None:
    """Flush at D, 0.1 ft at A."""
    comment = only(review_by("accessible-route", stoops("[100, 99.9]")))
    assert comment.shown.si == pytest.approx(0.1 * FOOT)
    assert worked(comment) == ["100.00 ft - 99.90 ft"]
    assert [step.result.si for step in comment.working] == pytest.approx([0.1 * FOOT])
    assert told(comment)["beside"] == "99.90 ft"


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
        comment = only(review_by("accessible-route", slab(LEVEL, way, edges=f"{first}\n{second}", use="walk")))
        assert comment.at.name == "stoop"


# door-landing: 36 in out of the door, doors up to 8 ft wide (common practice)

STEEP = plane(RECTANGLE, 0, -0.03)


def doors(*fixtures: str, heights: dict[str, float] | None = None, edges: str = HOUSE) -> str:
    listed = ", ".join(f"{{{one}}}" for one in fixtures)
    return slab(heights or STEEP, f"fixtures: [{listed}]", edges=edges)


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
    assert [comment.at.name for comment in report.comments] == ["landing at back door"]
    asked = review_by("door-landing", doors(gate, "kind: door, name: back door, at: [9, 0]"))
    assert "back door" in asked.not_shown[0].add[0]


def test_door_landing_asks_for_the_width_of_the_door_that_has_none() -> None:
    wide, bare = "kind: door, name: roller door, along: [[0, 0], [9, 0]]", "kind: door, name: back door, at: [12, 0]"
    (asked,) = review_by("door-landing", doors(wide, bare)).not_shown
    assert "back door" in asked.add[0]
    assert asked.place.path == "fixtures[1]"


def test_door_landing_goes_on_after_a_door_elsewhere() -> None:
    far, near = "kind: door, along: [[2, -9], [5, -9]]", "kind: door, name: back door, along: [[8, 0], [11, 0]]"
    report = review_by("door-landing", doors(far, near))
    assert [comment.at.name for comment in report.comments] == ["landing at back door"]


# door-step: 7 3/4 in, 1 1/2 in at the required exit (IRC R311.3, quoted), 1 in for the rain (Beall, p. 285, read)


def test_door_step_asks_for_the_sill_that_is_lacking() -> None:
    gate = "kind: gate, along: [[15, 0], [18, 0]]"
    given, far = "kind: door, name: far door, at: [3, -9], sill: 100.2", "kind: door, name: barn door, at: [9, -9]"
    first, second = "kind: door, name: back door, at: [3, 0]", "kind: door, name: side door, at: [9, 0]"
    (asked,) = review_by("door-step", doors(gate, first, second)).not_shown
    assert "back door" in asked.add[0] and asked.add[0].endswith("such as 100.00")
    assert asked.place.path == "fixtures[1]"
    (asked,) = review_by("door-step", doors(given, second)).not_shown  # the first has one, and stands elsewhere
    assert "side door" in asked.add[0]
    assert asked.place.path == "fixtures[1]"
    (asked,) = review_by("door-step", doors(far, second)).not_shown
    assert "side door" in asked.add[0]
    (elsewhere,) = review_by("door-step", doors(given, far)).does_not_apply
    assert elsewhere.reason == "no door stands at the slab"


def test_door_step_goes_on_after_a_door_without_a_sill() -> None:
    report = review_by(
        "door-step", doors("kind: door, at: [3, 0]", "kind: door, name: high door, at: [9, 0], sill: 101")
    )
    assert [comment.at.name for comment in report.comments] == ["high door"]


def test_door_step_of_a_metric_design_is_asked_for_in_meters() -> None:
    text = "\n".join([design(RECTANGLE, LEVEL, HOUSE, unit="m"), "fixtures: [{kind: door, at: [3, 0]}]"])
    assert review_by("door-step", text).not_shown[0].add[0].endswith("such as 100.000")


@pytest.mark.parametrize(("inches", "risers"), [(15.5, 2), (15.6, 3), (23.25, 3)])
def test_door_step_counts_whole_risers(inches: float, risers: int) -> None:
    """Two risers of 7 3/4 in climb 15.5 in, and not a third."""
    text = doors(f"kind: door, at: [3, 0], sill: {100 + inches / 12:.10f}", heights=LEVEL)
    step, flight = only(review_by("door-step", text)).working
    assert (step.result.si, flight.result.si) == (pytest.approx(inches * INCH), risers)
    climbed = flight.numbers.values["h"]
    assert isinstance(climbed, Amount)
    assert climbed.si == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("sill", "above"), [(100.0, False), (99.99, True)])
def test_door_step_tells_rain_from_a_slab_above_the_sill(sill: float, above: bool) -> None:
    comment = only(review_by("door-step", doors(f"kind: door, at: A, sill: {sill}", heights=LEVEL)))
    assert ("above" in comment.says.template) is above


def test_door_step_moves_only_what_is_too_low() -> None:
    """The door stands from A to B: 9 in over A, where 7 3/4 are asked, and 6 in over B."""
    heights = {"A": 100.0, "B": 100.25, "C": 100.0, "D": 99.75}
    comment = only(review_by("door-step", doors("kind: door, along: [A, B], sill: 100.75", heights=heights)))
    assert plain(comment.to_pass, "us", both=False).startswith("pour steps up to door: 2 risers of 4 1/2 in")
    # 100.75 ft less 7 3/4 in is 100.1042 ft, written 100.11
    assert plain(comment.remedies[1].says, "us", both=False) == "raise A by about 1 3/8 in, to 100.11 ft"


def test_door_step_over_poured_steps_moves_the_slab_by_what_is_left() -> None:
    """A sill 18 in up and one riser of 7 in: 11 in are left, 3 1/4 too many; a rise of 0.2708 ft, written 0.28."""
    steps = "{design: 4 in, steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: 1, leads_to: door}]}"
    text = doors("kind: door, name: door, at: A, sill: 101.5", heights=LEVEL).replace("{design: 4 in}", steps)
    comment = only(review_by("door-step", text))
    assert comment.shown.si == pytest.approx(11 * INCH)
    assert plain(comment.remedies[1].says, "us", both=False).endswith("to 100.28 ft")


# drive-grade-by-garage: 10 % within 20 ft

LONG = {
    "A": (0, 0), "B": (12, 0), "E": (0, 8), "F": (12, 8), "G": (0, 30), "H": (12, 30), "C": (12, 90), "D": (0, 90),
}  # fmt: skip


def drive(near: float, middle: float, far: float) -> str:
    """A drive of 90 ft with folds 8 and 30 ft from the garage; the slope of each of its three parts."""
    first = 100 - 8 * near
    second = first - 22 * middle
    heights = {"A": 100.0, "B": 100.0, "E": first, "F": first, "G": second, "H": second}
    heights |= dict.fromkeys("CD", second - 60 * far)
    more = "  lines: [{kind: grade break, along: [E, F]}, {kind: grade break, along: [G, H]}]"
    return design(LONG, heights, "run: [A, B], beside: building, name: garage\nrest: bed", more=more, use="driveway")


@pytest.mark.parametrize(
    ("near", "middle", "far"),
    [(0.12, 0.12, 0.05), (0.12, 0.12, 0.02), (-0.12, -0.12, 0.05)],
)
def test_drive_grade_by_garage_takes_the_mean_of_twenty_feet(near: float, middle: float, far: float) -> None:
    """30 ft at 12 %; 8 ft of it followed by 2 % are 6 % in the mean of 20 ft, which is a level bay."""
    comment = only(review_by("drive-grade-by-garage", drive(near, middle, far)))
    assert comment.shown.si == pytest.approx(0.12)
    assert review_by("drive-grade-by-garage", drive(near, near / 6, far)).comments == ()


def test_drive_grade_by_garage_tells_the_steepest_spot_of_each_building() -> None:
    text = drive(0.12, 0.02, 0.05).replace("rest: bed", "run: [C, D], beside: building, name: barn}\n  - {rest: bed")
    found = judged("drive-grade-by-garage", text)
    assert [(one.at.name, round(one.shown.si, 6)) for one in found] == [("garage", 0.06), ("barn", 0.05)]


# exposed-edge: 30 in, 7 3/4 in (recalled), 4 in (common practice)


def test_exposed_edge_asks_at_the_first_soft_edge() -> None:
    edges = "run: [A, B], beside: curb\nrun: [B, C], beside: lawn, name: first\nrun: [C, D], beside: bed, name: second"
    (asked,) = review_by("exposed-edge", slab(LEVEL, edges=edges + "\nrun: [D, A], beside: bed, name: last")).not_shown
    assert "first" in asked.add[0] and asked.add[0].endswith("such as 99.30")
    assert asked.place.path == "edges[1]"
    metric = design(RECTANGLE, LEVEL, edges, unit="m")
    assert review_by("exposed-edge", metric).not_shown[0].add[0].endswith("such as 99.850")


def test_exposed_edge_names_the_first_of_equal_drops() -> None:
    """Both stretches end at C, where the drop is 1 ft: the stretch from B is told."""
    edges = "run: [B, C, D], beside: lawn, name: low side, ground: [99.8, 99.0, 99.4]\nrest: curb"
    (finding,) = judged("exposed-edge", slab(LEVEL, edges=edges))
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
    comments = review_by("exposed-edge", slab(LEVEL, edges=edges, use="driveway")).comments
    assert [one.weight for one in comments] == expected


def test_exposed_edge_takes_the_greatest_drop_wherever_it_is() -> None:
    """High ground at a high corner: 2 in at B, 6 in at C, 5 in at D."""
    heights = {"A": 101.0, "B": 101.0, "C": 100.0, "D": 100.0}
    ground = f"[{101 - 2 / 12}, {100 - 6 / 12}, {100 - 5 / 12}]"
    edges = f"run: [A, B], beside: bed\nrun: [B, C, D], beside: lawn, name: low side, ground: {ground}\nrest: curb"
    comment = only(review_by("exposed-edge", slab(heights, edges=edges)))
    assert (comment.says.values["point"], comment.shown.si) == ("C", pytest.approx(6 * INCH))
    assert told(comment)["up"] == "99.67 ft"  # 4 in under 100 ft is 99.6667


# fixed-heights-agree


def pair(upper: float, lower: float, sill: str = "exactly 0 in below", use: str = "patio") -> str:
    """A sill along A-B, and a walk along C-D, 12 ft apart."""
    fixed = (
        f"fixed: [{{name: sill, kind: sill, along: [A, B], height: {upper}, slab: {sill}}}, "
        f"{{name: walk, kind: slab, along: [C, D], height: {lower}, slab: level}}]"
    )
    edges = "run: [A, B], beside: building\nrun: [C, D], beside: lawn, takes_water: true\nrest: bed"
    return slab(LEVEL, fixed, edges=edges, use=use)


def test_fixed_heights_agree_indoors_too_where_they_force_a_fall() -> None:
    """2 ft in 12 ft is 1 in 6; 1 in 12 is the most. Of room for a fall nothing is said under a roof."""
    assert weights(review_by("fixed-heights-agree", pair(102, 100, use="shop floor"))) == [("caution", "slab_at_most")]
    assert weights(review_by("fixed-heights-agree", pair(100, 102, use="shop floor"))) == [("caution", "slab_at_most")]
    (forced,) = judged("fixed-heights-agree", pair(102, 100))
    assert isinstance(forced, Finding) and forced.limit.name == "slab_at_most"
    assert forced.shown.si == pytest.approx(1 / 6)
    assert worked(forced) == ["24 in / 12'-0\"", "24 in - 12 in"]  # short by 12 in


def test_fixed_heights_agree_tells_both_that_force_and_that_leave_none() -> None:
    """The walk 2 ft over the sill: no fall from the sill, and 1 in 6 from the walk."""
    room, forced = review_by("fixed-heights-agree", pair(100, 102)).comments
    assert (forced.at.name, forced.limit.name) == ("walk and sill", "slab_at_most")
    assert (room.at.name, room.limit.name) == ("sill and walk", "out_at_least")
    assert told(forced) == {"name": "walk", "off": "12 in"}  # 24 in less a twelfth of 144 in
    assert told(room) == {"name": "walk", "off": "25 1/2 in"}  # 24 in, and 1 % of 144 in: 25.44 in
    assert worked(forced) == ["24 in / 12'-0\"", "24 in - 12 in"]
    assert worked(room) == ["-24 in / 12'-0\"", "about 1 1/2 in - (-24 in)"]


# grade-break


def way_in(profile: dict[float, float], street: str = "") -> str:
    """A drive 12 ft wide whose street is at 0, its heights (ft) given at distances (ft) from it, folded at each."""
    stations = sorted(profile)
    points = {f"{side}{k}": (x, at) for side, x in (("L", 0.0), ("R", 12.0)) for k, at in enumerate(stations)}
    heights = {name: profile[at] for name, (_, at) in points.items()}
    last = len(stations) - 1
    folds = ", ".join(f"{{kind: grade break, along: [L{k}, R{k}]}}" for k in range(1, last))
    more = f"  lines: [{folds}]" if folds else ""
    edges = f"run: [L0, R0], beside: street, name: lane{street}\nrun: [L{last}, R{last}], beside: building"
    return design(points, heights, edges, f"L0 R0 R{last} L{last}", more, use="driveway")


@pytest.mark.parametrize(
    ("profile", "numbers"),
    [
        ({0: 99, 10: 99, 20: 100}, "up 10 % - up 0 %"),
        ({0: 99, 10: 100, 20: 99.6}, "down 4 % - up 10 %"),
        ({0: 99, 10: 98.1, 20: 98.3}, "up 2 % - down 9 %"),
        ({0: 99, 10: 98.9, 20: 97.8}, "down 11 % - down 1 %"),
    ],
)
def test_grade_break_says_which_way_each_grade_goes(profile: dict[float, float], numbers: str) -> None:
    shown = [
        plain(step.numbers, "us", both=False).replace(" (level)", "")
        for step in only(review_by("grade-break", way_in(profile))).working
    ]
    assert [" ".join(word for word in one.split() if "in/ft" not in word) for one in shown] == [numbers]


def test_grade_break_at_a_fold_between_unlike_stretches() -> None:
    """10 % against 8 over stretches of 10 and 20 ft: 0.02 / (1/10 + 1/20) = 0.1333 ft, written 0.14."""
    values = told(only(review_by("grade-break", way_in({0: 99, 10: 99, 30: 101}))))
    assert {values["to1"], values["to2"]} == {"99.14 ft"}
    values = told(only(review_by("grade-break", way_in({0: 99, 20: 101, 30: 101}))))
    assert {values["to1"], values["to2"]} == {"100.86 ft"}


@pytest.mark.parametrize(
    ("street", "rise", "expected"),
    [  # 9 % at the edge: one stretch of 6 ft up to 18 %, two up to 27; half the sum of the grades in them
        (8, 10, ("6'-0\"", "rise", "0.72 in")),
        (14, 4, ("6'-0\"", "fall", "3.60 in")),
        (9.1, 9, ("12'-0\"", "fall", "0.07 in")),
        (18, 9, ("12'-0\"", "fall", "6.48 in")),
        (18.1, 9, ("18'-0\"", "fall", "9.83 in")),
    ],
)
def test_grade_break_puts_as_few_stretches_between_as_it_takes(
    street: float, rise: float, expected: tuple[str, str, str]
) -> None:
    text = way_in({0: 99, 20: 99 + 0.2 * rise}, f", falls_to_slab: {street} %")
    values = told(only(review_by("grade-break", text)))
    assert (values["run"], values["way"]) == expected[:2]
    fall = only(review_by("grade-break", text)).to_pass.values["fall"]
    assert isinstance(fall, Amount)
    assert fall.si / INCH == pytest.approx(float(expected[2].removesuffix(" in")), abs=0.01)


def test_grade_break_asks_for_a_level_stretch_between_grades_that_are_alike() -> None:
    text = way_in({0: 99, 20: 99 + 0.2 * 9}, ", falls_to_slab: 9 %")
    to_pass = only(review_by("grade-break", text)).to_pass
    assert plain(to_pass, "us", both=False) == "put 6'-0\" between the two grades that lie level"


def test_grade_break_told_for_the_narrower_limit() -> None:
    """14 %, over both limits: 8 is what is worked for. 0.06 / (1/10 + 1/10) = 0.3 ft."""
    comment = only(review_by("grade-break", way_in({0: 99, 10: 99, 20: 100.4})))
    assert (comment.limit.name, told(comment)["to1"]) == ("change_at_most", "99.30 ft")


# leaf-clears-slab: 1 in free, 1 1/2 in where frost lifts (common practice)


def leaves(*more: str, site: str = "", use: str = "patio") -> str:
    """Gates 4 ft wide on a level slab at 100 ft, one after the other along it, with more said of each."""
    listed = [
        f"{{kind: gate, name: gate {k}, along: [[{5 * k}, 6], [{5 * k + 4}, 6]], {one}}}" for k, one in enumerate(more)
    ]
    return slab(LEVEL, f"fixtures: [{', '.join(listed)}]", site, use=use)


HANGS = "hinge: [[0, 6]]"


@pytest.mark.parametrize(
    ("said", "swings"),
    [
        ("", False),
        (HANGS, True),
        ("swings_over: true", True),
        (f"swings_over: false, {HANGS}", False),
        ("swings_over: false", False),
    ],
)
def test_leaf_clears_slab_of_leaves_that_swing_over_it(said: str, swings: bool) -> None:
    report = review_by("leaf-clears-slab", leaves(", ".join(filter(None, [said, "bottom: 99.9"]))))
    assert bool(report.does_not_apply) is not swings
    assert len(report.comments) == (HANGS in said and swings)


def test_leaf_clears_slab_asks_of_the_first_leaf() -> None:
    still, first, second = "swings_over: false", "swings_over: true", "swings_over: true, bottom: 100"
    (asked,) = review_by("leaf-clears-slab", leaves(still, first, second, still)).not_shown
    assert len(asked.add) == 2
    assert all("gate 1" in one for one in asked.add)
    assert asked.place.path == "fixtures[1]"
    assert asked.add[1].endswith("such as 98.00")
    metric = leaves("swings_over: true").replace("plan: ft, height: ft", "plan: m, height: m")
    assert review_by("leaf-clears-slab", metric).not_shown[0].add[1].endswith("such as 98.000")


def test_leaf_clears_slab_goes_on_after_a_leaf_that_cannot_be_judged() -> None:
    low = "hinge: [[10, 6]], bottom: 99.9"
    far = "hinge: [[5, 6]], bottom: 99.9"
    text = leaves(HANGS, far, low).replace("[[5, 6], [9, 6]]", "[[5, 40], [9, 40]]").replace("[[5, 6]]", "[[5, 40]]")
    assert [one.at.name for one in review_by("leaf-clears-slab", text).comments] == ["gate 2"]


@pytest.mark.parametrize(
    ("site", "use", "limit"),
    [
        ("site: {freezing: severe}", "patio", "frost_gap_at_least"),
        ("site: {freezing: moderate}", "patio", "frost_gap_at_least"),
        ("site: {freezing: severe}", "shop floor", "free_gap_at_least"),  # no frost lifts it
        ("", "patio", "free_gap_at_least"),
    ],
)
def test_leaf_clears_slab_asks_more_where_frost_lifts(site: str, use: str, limit: str) -> None:
    text = leaves(f"{HANGS}, bottom: 100.02", site=site, use=use)
    assert weights(review_by("leaf-clears-slab", text)) == [("caution", "free_gap_at_least")]
    over_an_inch = leaves(f"{HANGS}, bottom: 100.09", site=site, use=use)
    expected = [("note", limit)] if limit == "frost_gap_at_least" else []
    assert weights(review_by("leaf-clears-slab", over_an_inch)) == expected


@pytest.mark.parametrize(
    ("bottom", "strikes", "write", "more"),
    [  # an inch over 100 ft is 100.0833 ft, written 100.09
        (99.99, True, "100.09 ft", "about 1 1/4 in"),
        (100.0, False, "100.09 ft", "about 1 1/8 in"),
        (100.01, False, "100.09 ft", "about 15/16 in"),
    ],
)
def test_leaf_clears_slab_strikes_only_from_below(bottom: float, strikes: bool, write: str, more: str) -> None:
    text = leaves(f"{HANGS}, bottom: {bottom}, sill: 110").replace("kind: gate", "kind: door")  # hangs lower than that
    comment = only(review_by("leaf-clears-slab", text))
    assert ("strikes" in comment.says.template) is strikes
    assert (told(comment)["write"], told(comment)["more"]) == (write, more)


# slab-below-fixed


def below(*fixed: str, heights: dict[str, float] | None = None) -> str:
    listed = ", ".join(f"{{{one}}}" for one in fixed)
    return slab(heights or LEVEL, f"fixed: [{listed}]", edges=HOUSE)


def test_slab_below_fixed_asks_of_the_first_that_says_nothing() -> None:
    first, second = "name: gutter, kind: gutter, at: A, height: 100", "name: plaque, kind: other, at: B, height: 101"
    (asked,) = review_by("slab-below-fixed", below(first, second)).not_shown
    assert "gutter" in asked.add[0]
    assert asked.place.path == "fixed[0]"


@pytest.mark.parametrize(("off", "judged"), [(0.9, False), (1.1, True)])
def test_a_sill_within_a_foot_of_a_drawn_door_is_the_sill_of_that_door(off: float, judged: bool) -> None:
    """0.3 m is 0.984 ft; the door has a sill of its own, which other rules judge."""
    fixed = f"name: sill, kind: sill, at: [{7 + off}, 0], height: 100.05"
    text = below(fixed) + "\nfixtures: [{kind: door, along: [[4, 0], [7, 0]], sill: 100.5}]"
    assert bool(review_by("slab-below-fixed", text).comments) is judged


def test_slab_below_fixed_heeds_the_file_before_what_is_usual() -> None:
    """A sill asks 1 in by its kind; here the file asks half an inch."""
    sill = "name: sill, kind: sill, at: A, height: 100.05"  # 0.6 in
    assert review_by("slab-below-fixed", below(f"{sill}, slab: at least 0.5 in below")).comments == ()
    assert weights(review_by("slab-below-fixed", below(sill))) == [("caution", "sill_at_least")]
    told_and_silent = below(f"{sill}, slab: at least 0.5 in below", "name: plaque, kind: other, at: B, height: 101")
    assert review_by("slab-below-fixed", told_and_silent).met


@pytest.mark.parametrize(
    ("asks", "above", "room", "excess", "met"),
    [  # with half an inch to spare asked for on top of an inch, and half an inch too much allowed
        ("at least 1 in below", 1.5, 0.5, 0, True),
        ("at least 1 in below", 1.4, 0.5, 0, False),
        ("at most 2 in below", 2.5, 0, 0.5, True),
        ("at most 2 in below", 2.6, 0, 0.5, False),
        ("at least 1 in above", -1.5, 0.5, 0, True),
        ("at least 1 in above", -1.4, 0.5, 0, False),
    ],
)
def test_slab_below_fixed_with_room_on_top(asks: str, above: float, room: float, excess: float, met: bool) -> None:
    text = below(f"name: walk, kind: slab, at: A, height: {100 + above / 12:.10f}, slab: {asks}")
    values = {"stated_room_at_least": f"{room} in", "stated_excess_at_most": f"{excess} in"}
    assert all(isinstance(one, Margin) for one in judged("slab-below-fixed", text, **values)) is met


@pytest.mark.parametrize(
    ("heights", "worst", "expected"),
    [  # siding asks 2 in, 0.1667 ft: 100.1 less that is 99.9333, written 99.93
        ({**LEVEL, "A": 100.05}, "A", {"A": "99.93 ft", "B": "99.93 ft"}),
        ({**LEVEL, "B": 100.05}, "B", {"A": "99.93 ft", "B": "99.93 ft"}),
        ({**LEVEL, "A": 99.93}, "B", {"B": "99.93 ft"}),
        ({**LEVEL, "B": 99.90}, "A", {"A": "99.93 ft"}),
    ],
)
def test_slab_below_fixed_moves_what_is_short_and_tells_the_worst(
    heights: dict[str, float], worst: str, expected: dict[str, str]
) -> None:
    comment = only(
        review_by(
            "slab-below-fixed", below("name: siding, kind: siding, along: [A, B], height: 100.1", heights=heights)
        )
    )
    assert comment.says.values["point"] == worst
    values = told(comment)
    assert {values[f"name{k}"]: values[f"to{k}"] for k in (1, 2) if f"name{k}" in values} == expected


@pytest.mark.parametrize(
    ("height", "asks", "worst", "expected"),
    [  # at most 2 in, 0.1667 ft, below: 100.3 less that is 100.1333, written 100.14
        ("[100.1, 100.3]", "at most 2 in below", "B", {"B": "100.14 ft"}),
        ("[100.3, 100.1]", "at most 2 in below", "A", {"A": "100.14 ft"}),
        ("[99.9, 99.7]", "at most 2 in above", "B", {"B": "99.86 ft"}),
        ("[99.9, 99.7]", "at least 2 in above", "A", {"A": "100.07 ft"}),
    ],
)
def test_slab_below_fixed_moves_what_is_too_far_off(
    height: str, asks: str, worst: str, expected: dict[str, str]
) -> None:
    text = below(f"name: walk, kind: slab, along: [A, B], height: {height}, slab: {asks}")
    comment = only(review_by("slab-below-fixed", text))
    assert comment.says.values["point"] == worst
    values = told(comment)
    assert {values[f"name{k}"]: values[f"to{k}"] for k in (1, 2) if f"name{k}" in values} == expected
    assert all_followed("slab-below-fixed", text).comments == ()


def test_slab_below_fixed_moves_a_long_side_as_one() -> None:
    """Eight points along the siding, all 1 in too high: more than are named one by one."""
    points = {**RECTANGLE, **{f"S{k}": (2.5 * k, 0.0) for k in range(1, 8)}}
    side = " ".join(f"S{k}" for k in range(1, 8))
    more = "fixed: [{name: siding, kind: siding, along: [A, B], height: 100.0833333333}]"
    text = design(points, dict.fromkeys(points, 100.0), "rest: bed", f"A {side} B C D", more=more)
    assert told(only(review_by("slab-below-fixed", text))) == {"off": "about 1 1/8 in", "way": "lower"}


# stated-fall: 0.2 %, or 1/4 in over the run; within 5 % of each other they are one (common practice)


def arrows(*falls: str, heights: dict[str, float] | None = None, depth_ft: float = 12.0, unit: str = "ft") -> str:
    points = {"A": (0.0, 0.0), "B": (20.0, 0.0), "C": (20.0, depth_ft), "D": (0.0, depth_ft)}
    listed = ", ".join(f"{{{one}}}" for one in falls)
    return design(points, heights or LEVEL, "rest: lawn", more=f"  falls: [{listed}]", unit=unit)


def test_stated_fall_goes_on_after_a_fall_off_the_slab() -> None:
    text = arrows("along: [[0, 40], [9, 40]], fall: 2 %", "along: [A, D], fall: 2 %")
    assert [one.at.name for one in review_by("stated-fall", text).comments] == ["fall A-D"]


@pytest.mark.parametrize(
    ("run", "fall", "to"),
    [  # a hundredth of a foot is too coarse where half of it is over a quarter of 0.2 % of the run
        (10.0, "2.044 %", 99.80),  # 0.0044 ft off, and 0.005 ft are a quarter of 0.2 % of 10 ft
        (8.0, "2.055 %", 99.8356),  # 0.0044 ft off, and 0.004 ft
        (1.3, "2 %", 99.974),
    ],
)
def test_stated_fall_writes_hundredths_where_the_run_is_long_enough(run: float, fall: str, to: float) -> None:
    comment = only(review_by("stated-fall", arrows(f"along: [A, D], fall: {fall}", depth_ft=run)))
    height = comment.to_pass.values["to"]
    assert isinstance(height, Amount)
    assert height.si / FOOT == pytest.approx(to, abs=1e-6)


def test_stated_fall_over_a_height_difference_is_written_in_hundredths() -> None:
    """1.19 % where 1 % is written: within 0.2 %, and 0.19 % of 12.37 ft is 0.28 in."""
    heights = {"A": 100.0, "B": 100.0, "C": 100 - 0.0119 * 12.37, "D": 100 - 0.0119 * 12.37}
    comment = only(review_by("stated-fall", arrows("along: [A, D], fall: 1 %", heights=heights, depth_ft=12.37)))
    assert comment.limit.name == "height_difference_at_most"
    assert comment.shown.si == pytest.approx(0.0019 * 12.37 * FOOT)
    assert told(comment)["to"] == "99.88 ft"  # 99.8763


@pytest.mark.parametrize(
    ("heights", "first", "last", "worked_fall", "to"),
    [
        (dict.fromkeys("ABCD", 0.0), "A", "D", 0.0, -0.24),  # a job whose own datum is nought
        ({"A": 0.0, "B": 0.0, "C": 0.5, "D": 0.5}, "D", "A", 0.5 / 12, -0.24),
        ({"A": 0.5, "B": 0.5, "C": 0.0, "D": 0.0}, "A", "D", 0.5 / 12, 0.26),
        ({"A": 0.0, "B": 0.0, "C": -0.5, "D": -0.5}, "A", "D", 0.5 / 12, -0.24),
    ],
)
def test_stated_fall_about_a_datum_of_nought(
    heights: dict[str, float], first: str, last: str, worked_fall: float, to: float
) -> None:
    comment = only(review_by("stated-fall", arrows("along: [A, D], fall: 2 %", heights=heights)))
    values = comment.to_pass.values
    assert (values["first"], values["last"]) == (first, last)
    assert [one.si for one in (values["worked"], values["to"]) if isinstance(one, Amount)] == pytest.approx(
        [worked_fall, to * FOOT]
    )
    assert [step.result.si for step in comment.working] == pytest.approx(
        [0.24 * FOOT, (heights["A"] - heights["D"]) * FOOT]
    )
    assert values["verb"] == ("lower" if to < heights["D"] else "raise")


# trip-at-existing-slab: 1/2 in beveled, 1/4 in upright; 7 3/4 in as a step (recalled)


def old_slabs(*edges: str, heights: dict[str, float] | None = None, more: str = "") -> str:
    runs = [f"run: {one.replace(';', ', beside: existing slab, name:')}" for one in edges]
    return slab(heights or LEVEL, more, edges="\n".join([*runs, "rest: bed"]))


def test_trip_at_existing_slab_asks_at_the_first_of_them() -> None:
    edges = ("[A, B]; first", "[B, C]; second", "[C, D]; third")
    text = old_slabs(*edges).replace("edges:\n", "edges:\n  - {run: [D, A], beside: curb}\n")
    (asked,) = review_by("trip-at-existing-slab", text).not_shown
    assert "first" in asked.add[0] and asked.add[0].endswith("such as 99.60")
    assert asked.place.path == "edges[1]"
    metric = text.replace("plan: ft, height: ft", "plan: m, height: m")
    assert review_by("trip-at-existing-slab", metric).not_shown[0].add[0].endswith("such as 99.850")


def test_trip_at_existing_slab_goes_on_after_one_of_unknown_height() -> None:
    report = review_by("trip-at-existing-slab", old_slabs("[A, B]; first", "[B, C]; second, ground: 99.9"))
    assert [one.at.name for one in report.comments] == ["second"]


@pytest.mark.parametrize(
    ("ground", "verb", "to"),
    [  # 7 3/4 in is 0.6458 ft: a slab at 100 ft beside one 0.7 ft lower may stand 0.6458 ft over it
        (99.3, "lower", "99.94 ft"),
        (100.7, "raise", "100.06 ft"),
    ],
)
def test_trip_at_existing_slab_leaves_the_step_that_people_can_take(ground: float, verb: str, to: str) -> None:
    text = old_slabs(f"[A, B]; stoop, ground: {ground}, planned_step: true")
    comment = only(review_by("trip-at-existing-slab", text))
    values = told(comment)
    assert {(values[f"name{k}"], values[f"to{k}"]) for k in (1, 2)} == {("A", to), ("B", to)}
    assert comment.to_pass.template.startswith(verb)


@pytest.mark.parametrize(
    ("ground", "moved"),
    [  # 0.02 ft is 0.24 in, which passes; 0.05 ft is 0.6 in
        ("[99.95, 99.98]", {"A": "99.95 ft"}),
        ("[99.98, 99.95]", {"B": "99.95 ft"}),
        ("[99.94, 99.95]", {"A": "99.94 ft", "B": "99.95 ft"}),
    ],
)
def test_trip_at_existing_slab_moves_what_trips(ground: str, moved: dict[str, str]) -> None:
    values = told(only(review_by("trip-at-existing-slab", old_slabs(f"[A, B]; walk, ground: {ground}"))))
    assert {values[f"name{k}"]: values[f"to{k}"] for k in (1, 2) if f"name{k}" in values} == moved


def test_steps_poured_up_to_an_old_terrace_are_judged_as_steps() -> None:
    """An old terrace 18 in up, one riser of 7 in to it: 11 in are left, which a step of 7 3/4 in does not take."""
    steps = "steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: COUNT, leads_to: terrace}]"
    text = old_slabs("[A, B]; terrace, ground: 101.5, planned_step: true").replace(
        "design: 4 in", f"design: 4 in, {steps}"
    )
    assert review_by("trip-at-existing-slab", text.replace("COUNT", "1")).does_not_apply
    comment = only(review_by("step-sizes", text.replace("COUNT", "1")))
    assert (comment.limit.name, feet(comment.shown.si)) == ("riser_at_most", feet(11 * INCH))
    assert review_by("step-sizes", text.replace("COUNT", "2")).comments == ()


# walk-cross-slope


def test_walk_cross_slope_tells_the_steepest_stretch() -> None:
    """A walk of 20 by 5 ft whose low side dips at its far corner: 1 % across, and 0.25 ft in 5 there."""
    points = {"A": (0, 0), "B": (20, 0), "C": (20, 5), "D": (0, 5), "E": (10, 0), "F": (10, 5)}
    heights = {"A": 100, "E": 100, "B": 100, "D": 99.95, "F": 99.95, "C": 99.75}
    more = "  lines: [{kind: grade break, along: [E, F]}]"
    comment = only(review_by("walk-cross-slope", design(points, heights, "rest: bed", more=more, use="walk")))
    assert comment.shown.si == pytest.approx(0.05)
    assert min(x for x, _ in comment.at.shape) > 9 * FOOT
    assert math.isclose(comment.working[0].result.si, 0.05 * 4 * FOOT)
