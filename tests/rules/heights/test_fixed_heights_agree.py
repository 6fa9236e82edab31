"""The rule `fixed-heights-agree`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from judged import judged
from slabs.heights import ALL_LEVEL, slab, told_values, worked
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain

RULE = "fixed-heights-agree"
SILL = "{name: sill, kind: sill, along: [A, B], height: 100, slab: at least 1.2 in below}"  # at most 99.90
OLD = "edges: [{{run: [A, B], beside: building, name: house}}, {{run: [D, A], beside: {beside}, ground: [{far}, {near}]{more}}}, {{rest: lawn, takes_water: true}}]"  # noqa: E501


def yard(*fixed: str, use: str = "patio", far: str = "lawn, takes_water: true", more: str = "", deep: int = 10) -> str:
    """Ten feet wide and ten deep, a building at the bottom."""
    points = f"points: {{A: [0, 0], B: [10, 0], C: [10, {deep}], D: [0, {deep}]}}\n"
    edges = f"edges: [{{run: [A, B], beside: building, name: house}}, {{run: [C, D], beside: {far}}}]\n"
    held = f"fixed: [{', '.join(fixed)}]\n" if fixed else ""
    return pad(points + edges + held + more, use, outline="[A, B, C, D]")


def walk(height: float, asks: str = "level") -> str:
    return f"{{name: walk, kind: slab, along: [C, D], height: {height}, slab: {asks}}}"


def beside_old_slab(near: float, far: float, beside: str = "existing slab, name: old terrace", more: str = "") -> str:
    """The yard with an old slab along its left side, at ``near`` by the house and at ``far`` away from it."""
    lines = yard(SILL).splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("edges"))
    lines[at] = OLD.format(near=near, far=far, beside=beside, more=more)
    return "\n".join(lines)


def pair(upper: float, lower: float, sill: str = "exactly 0 in below", use: str = "patio") -> str:
    """A sill along A-B, and a walk along C-D, 12 ft apart."""
    fixed = (
        f"fixed: [{{name: sill, kind: sill, along: [A, B], height: {upper}, slab: {sill}}}, "
        f"{{name: walk, kind: slab, along: [C, D], height: {lower}, slab: level}}]"
    )
    edges = "run: [A, B], beside: building\nrun: [C, D], beside: lawn, takes_water: true\nrest: bed"
    return slab(ALL_LEVEL, fixed, edges=edges, use=use)


@pytest.mark.parametrize(
    ("height", "expected"),
    [
        (99.70, []),  # 0.20 ft in 20: 1 %, PCA guide to parking areas (quoted)
        (99.72, [("caution", "room_to_fall_at_least")]),
        (99.90, [("caution", "room_to_fall_at_least")]),  # level
        (100.5, [("hold", "out_at_least")]),  # back to the house
    ],
)
def test_room_to_fall_from_a_sill_to_a_walk(height: float, expected: list[tuple[str, str]]) -> None:
    report = review_by(RULE, yard(SILL, walk(height), deep=20))
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx((99.90 - height) / 20)


@pytest.mark.parametrize(
    ("height", "expected"),
    [
        (99.70, []),  # 0.20 ft in 10: the 2 % of the US dwelling code (recalled)
        (99.72, [("caution", "away_at_least")]),
        (99.90, [("caution", "away_at_least")]),
        (99.95, [("hold", "out_at_least")]),  # back to the house; told with the 2 %, once
    ],
)
def test_room_to_fall_off_the_wall(height: float, expected: list[tuple[str, str]]) -> None:
    report = review_by(RULE, yard(SILL, walk(height)))
    assert weights(report) == expected
    for comment in report.comments:
        assert comment.shown.si == pytest.approx((99.90 - height) / 10)
    off = [plain(comment.says, "us", both=False) for comment in report.comments]
    short = {99.72: "1/4 in", 99.90: "2 7/16 in", 99.95: "3 in"}  # 0.02 x 10 - (99.90 - height), ft, to 1/16 in up
    assert off == [
        f"sill, walk and 2 % away from house cannot all hold: short by {short[height]}" for _ in report.comments
    ]


def test_no_fall_off_the_wall_is_asked_where_something_may_come_between() -> None:
    """A valley, a drain, an opening that takes water, a height inside, a wall too short, a way of over 10 ft."""
    text = yard(SILL, walk(99.85), deep=9)  # 0.05 ft: 0.56 %, and 1 % is asked to where water leaves
    assert weights(review_by(RULE, text)) == [("caution", "away_at_least")]
    drain = "fixtures: [{kind: drain, at: [5, 5]}]"
    hole = "openings: [{name: grate, corners: [[4, 4], [6, 4], [6, 6], [4, 6]], takes_water: true}]"
    valley = "heights: {lines: [{kind: valley, along: [[0, 5], [10, 5]]}]}"
    inner = "heights: {finish: {A: 99.90, B: 99.90, C: 99.85, D: 99.85, M: 99.7}}"
    with_m = text.replace("D: [0, 9]}", "D: [0, 9], M: [5, 5]}")
    for one in (text + drain, text + hole, text + valley, with_m + inner):
        assert weights(review_by(RULE, one)) == [("caution", "room_to_fall_at_least")]
    short = text.replace("B: [10, 0]", "B: [8, 0]").replace("C: [10, 9]", "C: [8, 9]")
    assert weights(review_by(RULE, short)) == [("caution", "room_to_fall_at_least")]


def test_a_drawn_valley_binds_by_its_fall_too() -> None:
    """Sill 99.90 at most; 2 % over 6 ft to the valley is 99.78, 0.5 % over its 20 ft to the street 99.68."""
    text = """
format: 1
job: {name: Test yard}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [20, 0], C: [20, 12], D: [0, 12], V: [0, 6], W: [20, 6]}
outline: [A, B, C, D]
edges:
  - {run: [A, B], beside: building, name: house}
  - {run: [B, W], beside: street, name: street}
  - {run: [W, C], beside: street, name: street}
  - {run: [C, D], beside: wall}
  - {run: [D, A], beside: wall}
heights: {lines: [{name: gutter, kind: valley, along: [V, W]}]}
fixed:
  - {name: sill, kind: sill, along: [A, B], height: 100, slab: at least 1.2 in below}
  - {name: curb, kind: gutter, along: [B, W, C], height: HIGH}
thickness: {design: 4 in}
"""
    assert weights(review_by(RULE, text.replace("HIGH", "99.68"))) == []
    comment = only(review_by(RULE, text.replace("HIGH", "99.74")))
    assert (comment.weight, comment.limit.name) == ("caution", "valley_at_least")
    said = plain(comment.says, "us", both=False)  # 99.74 - 99.68 = 0.06 ft, of which a twentieth of each is let pass
    assert said.startswith("sill, curb, 2 % away from house and 0.5 % along gutter cannot all hold: short by 3/4 in")


def test_a_door_the_base_and_the_ground_hold_the_slab_too() -> None:
    """Each asks by itself: a step of 7 3/4 in, 4 in over the base less 3/4 in, the lawn at the only edge open."""
    door = "fixtures: [{kind: door, name: door, along: [[4, 0], [7, 0]], sill: 101}]"
    comment = only(review_by(RULE, yard(SILL, more=door)))  # 99.90 at most: 1.1 ft, 13.2 in
    assert comment.limit.name == "door_step_at_most"
    assert comment.shown.si == pytest.approx(1.1 * 0.3048, rel=1e-3)
    base = "heights: {base: {A: 99.65, B: 99.65, C: 99.4, D: 99.4}}"  # 3 in under 99.90
    comment = only(review_by(RULE, yard(SILL, more=base)))
    assert comment.limit.name == "short_over_base_at_most"
    assert comment.shown.si == pytest.approx((4 - 3) * 0.0254, rel=1e-2)
    assert advice(comment) == "dig the base down by 1 in, so that the whole thickness fits"
    lawn = yard(SILL, far="lawn, takes_water: true, ground: 101").replace("]}]", "]}]") + "\n"
    closed = lawn.replace("edges: [", "edges: [{run: [B, C], beside: wall}, {run: [D, A], beside: wall}, ")
    assert {one.limit.name for one in review_by(RULE, closed).comments} == {"lip_at_least", "out_at_least"}


@pytest.mark.parametrize(
    ("use", "drop", "expected", "short"),
    [  # drive 15 %, general advice; 1 in 12, 1991 ADA 4.8.2 (read). The sill asks 99.90 at least
        ("driveway", 1.50, [], ""),
        ("driveway", 1.60, [("caution", "drive_at_most")], "15 % at most on the driveway: short by 1 1/4 in"),
        ("driveway", 2.60, [("hold", "any_at_most")], "15 % at most on the driveway: short by 13 1/4 in"),
        ("patio", 0.833, [], ""),
        ("patio", 0.89, [("caution", "slab_at_most")], "1:12 at most on the patio: short by 11/16 in"),
    ],
)  # fmt: skip
def test_what_two_heights_force_on_a_slab(use: str, drop: float, expected: list[tuple[str, str]], short: str) -> None:
    """Short by what is over 15 % or a twelfth of 10 ft, to the next sixteenth: 0.1, 1.1 and 0.057 ft."""
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: between 0.6 in and 1.2 in below}"
    report = review_by(RULE, yard(sill, walk(round(99.90 - drop, 4)), use=use))
    assert weights(report) == expected
    for comment in report.comments:
        told = plain(comment.says, "us", both=False).replace(" cannot all hold", "")
        assert told == f"sill, walk and {short}"


def test_a_range_helps_as_far_as_it_goes() -> None:
    """The walk lets the slab stand up to 6 in over it: of 1.3 ft only 0.8 are forced."""
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: exactly 1.2 in below}"
    assert review_by(RULE, yard(sill, walk(98.6, "between 0 in and 6 in above"))).met
    assert review_by(RULE, yard(sill, walk(98.6))).comments


def test_what_to_write_is_told_on_the_safe_side() -> None:
    """0.15 ft of room where 0.2 are asked: 0.6 in, 5/8 as written."""
    said = plain(only(review_by(RULE, yard(SILL, walk(99.75), deep=20))).to_pass, "us", both=False)
    assert said == "bring walk down by 5/8 in, or let the water out before it"
    sill = "{name: sill, kind: sill, along: [A, B], height: 101, slab: level}"
    said = plain(only(review_by(RULE, yard(sill, walk(100)))).to_pass, "us", both=False)
    assert said == "raise walk by 2 in, or take it in a step"  # 12 in over 10 ft; a twelfth is 10


def test_what_to_write_on_a_metric_job_is_told_in_millimeters() -> None:
    """From 99.97 m to 99.803 in 20 m there are 167 mm, and 1 % is 200."""
    text = yard(SILL.replace("1.2 in", "30 mm"), walk(99.803), deep=20).replace("ft, height: ft", "m, height: m")
    comment = only(review_by(RULE, text.replace("4 in", "100 mm")))
    assert advice(comment, "metric") == "bring walk down by 33 mm, or let the water out before it"


@pytest.mark.parametrize(
    "text",
    [
        yard(SILL),
        yard(),
        yard(SILL, "{name: note, kind: other, along: [C, D], height: 99.9}"),  # asks nothing
        yard(SILL, walk(99.9).replace("[C, D]", "[[0, 13], [10, 13]]")),  # three feet from the slab
    ],
)
def test_what_does_not_bind(text: str) -> None:
    assert review_by(RULE, text).does_not_apply


def test_where_no_water_leaves_no_fall_is_asked_for() -> None:
    assert not review_by(RULE, yard(SILL, walk(99.9), far="wall", deep=20)).comments


def test_heights_round_a_corner_bind_each_other_along_the_way_round_it() -> None:
    """An L: from the sill to the walk round the notch at E are 60 ft; 5.5 ft on it are 9.2 %, over 1 in 12."""
    corner = yard(SILL, walk(99.9)).replace(
        "C: [10, 10], D: [0, 10]}", "C: [40, 40], D: [30, 40], E: [10, 30], F: [40, 30]}"
    )
    bent = corner.replace("outline: [A, B, C, D]", "outline: [A, B, E, F, C, D, [0, 40]]")
    bent = bent.replace("along: [C, D]", "along: [F, C]").replace("at least 1.2 in", "exactly 1.2 in")
    assert review_by(RULE, bent).met
    comment = only(review_by(RULE, bent.replace("height: 99.9,", "height: 94.4,")))
    assert (comment.limit.name, comment.shown.si) == ("slab_at_most", pytest.approx(5.5 / 60))


def test_a_gutter_and_siding_bind_by_what_they_are() -> None:
    """The slab is never over the siding nor under the gutter: 99.95 - 99.85 in 20 ft is half a percent."""
    siding = "{name: siding, kind: siding, along: [A, B], height: 99.95}"
    gutter = "{name: gutter, kind: gutter, along: [C, D], height: 99.85}"
    assert weights(review_by(RULE, yard(siding, gutter, far="street", deep=20))) == [
        ("caution", "room_to_fall_at_least")
    ]
    assert review_by(RULE, yard(siding, gutter.replace("99.85", "99.75"), far="street", deep=20)).met


def test_a_floor_needs_no_fall_to_the_walk() -> None:
    assert not review_by(RULE, yard(SILL, walk(99.9), use="shop floor")).comments


def test_two_at_one_spot_that_differ() -> None:
    """A post base that wants the slab 3 in higher than the sill beside it lets it be."""
    base = "{name: post base, kind: other, at: A, height: 100.2, slab: level}"
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: level}"
    assert weights(review_by(RULE, yard(base, sill))) == [("hold", "any_at_most")]


def test_what_meets_at_the_corner_of_a_building_needs_no_fall_there() -> None:
    """A walk along the side, level with the sill at the corner B: the next it can drain to is C, 0.2 ft lower in 10."""
    side = "{name: side walk, kind: slab, along: [B, C], height: [100, 99.80], slab: level}"
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: level}"
    walks = "[C, D], beside: lawn, takes_water: true}, {run: [B, C], beside: existing slab, takes_water: true"
    text = yard(sill, side).replace("[C, D], beside: lawn, takes_water: true", walks)
    assert review_by(RULE, text).met
    low = text.replace("[100, 99.80]", "[100, 99.95]")
    assert weights(review_by(RULE, low)) == [("caution", "away_at_least")]  # half a percent


def test_what_nobody_may_move_is_never_asked_to() -> None:
    """A public walk, a threshold up, siding, a walk at a required exit, the end of an accessible way."""
    plain_walk = yard(SILL, walk(99.85))
    out = "let the water out before {}, by a valley or a drain"

    def told(text: str) -> str:
        return plain(only(review_by(RULE, text)).to_pass, "us", both=False)

    assert told(plain_walk).startswith("bring walk down by 1 13/16 in, or ")  # 0.2 ft less the 0.05 there are
    assert told(plain_walk.replace("name: walk", "name: public walk")) == out.format("public walk")
    way = "site: {accessible_route: [[5, 10], [5, 5], [9, 5]]}"
    assert told(plain_walk + way) == out.format("walk")
    exit_door = "fixtures: [{kind: door, name: exit, required_exit: true, along: [[3, 10], [6, 10]]}]"
    assert told(plain_walk + exit_door) == out.format("walk")
    low = "{name: sill, kind: sill, along: [A, B], height: 101, slab: level}"
    street = "{name: curb, kind: gutter, along: [C, D], height: 99.9, slab: level}"
    assert (
        told(yard(low, street, far="street")) == "bring sill down by 3 1/4 in, or take it in a step"
    )  # 3.2 in, to 1/16 up


@pytest.mark.parametrize(
    ("near", "far", "more", "expected"),
    [
        (99.85, 99.65, "", []),  # 2 % beside it
        # flush within 1/2 in: 99.85 + 0.0417 by the house, 99.80 - 0.0417 at the far end: 0.1333 ft in 10
        (99.85, 99.80, "", [("away_at_least", 0.013333)]),
        (100.20, 99.80, "", [("old_slab_lip_at_most", 0.3 * 0.3048)]),  # the sill holds the slab at 99.90
        (100.20, 99.80, ", wheels_cross: true", [("wheel_lip_at_most", 0.3 * 0.3048)]),
        (100.20, 99.80, ", planned_step: true", []),  # 3 5/8 in are a step
        # wheels take no step of 3 5/8 in, planned or not: 2 in, as up onto a slab (common practice)
        (100.20, 99.80, ", planned_step: true, wheels_cross: true", [("wheel_step_at_most", 0.3 * 0.3048)]),
        (100.60, 99.80, ", planned_step: true", [("old_step_at_most", 0.7 * 0.3048)]),  # 8 3/8 in
    ],
)
def test_a_slab_meets_an_old_one_flush(near: float, far: float, more: str, expected: list[tuple[str, float]]) -> None:
    report = review_by(RULE, beside_old_slab(near, far, more=more))
    assert [(one.limit.name, pytest.approx(one.shown.si, abs=2e-4)) for one in report.comments] == expected


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("", [("old_step_at_most", 1.1742 * 0.3048)]),
        # four risers of 6.3 in stand before the slab and climb onto it: the step is theirs
        ("{name: flight, width: 10 ft, tread: 12 in, riser: 6.3 in, count: 4, foot: [[0, 7], [10, 7]], "
         "climbs_to: [5, 2], foot_height: 97.80}", []),
    ],
)  # fmt: skip
def test_a_flight_that_climbs_onto_the_slab_settles_a_planned_step(
    steps: str, expected: list[tuple[str, float]]
) -> None:
    """The sill lets the slab lie at 100.10 less 7 3/4 in; 4 ft on, 12 % (common practice) bring it to 98.974."""
    far = "existing slab, name: old walk, ground: 97.80, planned_step: true"
    door = "fixtures: [{kind: door, name: door, along: [[3, 0], [6, 0]], sill: 100.10}]\n"
    finish = "heights: {finish: {A: 99.98, B: 99.98, C: 99.90, D: 99.90}}"
    text = yard(use="walk", far=far, more=door + finish, deep=4)
    report = review_by(RULE, text.replace("design: 4 in", f"design: 4 in, steps: [{steps}]"))
    assert [(one.limit.name, pytest.approx(one.shown.si, abs=2e-4)) for one in report.comments] == expected


def test_an_old_slab_is_taken_out_unless_it_is_the_public_s() -> None:
    own = only(review_by(RULE, beside_old_slab(100.20, 99.80)))
    assert own.decide is not None
    assert "cannot all hold: short by 3 1/8 in" in plain(own.says, "us", both=False)
    told = "bring old terrace down by 3 1/8 in, or plan a step at old terrace"
    assert plain(own.decide, "us", both=False) == told
    driven = only(review_by(RULE, beside_old_slab(100.20, 99.80).replace("use: patio", "use: driveway")))
    assert driven.decide is not None  # no car climbs a step
    assert plain(driven.decide, "us", both=False).endswith("or make the way to old terrace longer")
    town = only(review_by(RULE, beside_old_slab(100.20, 99.80, "existing slab, name: town sidewalk")))
    assert town.decide is not None
    assert "bring" not in plain(town.decide, "us", both=False)


def test_fixed_heights_agree_indoors_too_where_they_force_a_fall() -> None:
    """2 ft in 12 ft is 1 in 6; 1 in 12 is the most. Of room for a fall nothing is said under a roof."""
    assert weights(review_by("fixed-heights-agree", pair(102, 100, use="shop floor"))) == [("caution", "slab_at_most")]
    assert weights(review_by("fixed-heights-agree", pair(100, 102, use="shop floor"))) == [("caution", "slab_at_most")]
    (forced,) = judged("fixed-heights-agree", pair(102, 100))
    assert isinstance(forced, Finding) and forced.limit.name == "slab_at_most"
    assert forced.shown.si == pytest.approx(1 / 6)
    assert worked(forced) == ["24 in / 12'-0\"", "24 in - 12 in"]  # short by 12 in


def test_fixed_heights_agree_names_two_of_those_that_stand_at_one_height() -> None:
    post = "{name: post, kind: other, at: [5, 5], height: 100, slab: level}"
    sill = "{name: sill, kind: sill, along: [A, B], height: 100, slab: level}"
    (level,) = judged(RULE, yard(sill, walk(100), post, use="shop floor"))
    assert (level.at.name, level.shown.si) == ("sill and walk", 0)


def test_fixed_heights_agree_tells_one_thing_beside_a_hold_of_the_same_two() -> None:
    """The walk 2 ft over the sill: no fall from the sill; that it is 1 in 6 from the walk is the same quarrel."""
    room = only(review_by("fixed-heights-agree", pair(100, 102)))
    assert (room.at.name, room.limit.name) == ("sill and walk", "out_at_least")
    assert told_values(room) == {"name": "walk", "off": "25 1/2 in"}  # 24 in, and 1 % of 144 in: 25.44 in
    assert worked(room) == ["-24 in / 12'-0\"", "about 1 1/2 in - (-24 in)"]
    forced = only(review_by("fixed-heights-agree", pair(102, 100)))
    assert (forced.at.name, forced.limit.name) == ("sill and walk", "slab_at_most")
    assert told_values(forced) == {"name": "walk", "off": "12 in"}  # 24 in less a twelfth of 144 in
    assert worked(forced) == ["24 in / 12'-0\"", "24 in - 12 in"]
    formulas = [[step.formula for step in one.working] for one in (forced, room)]
    assert formulas == [
        ["least fall that all allow / distance", "fall forced - fall asked"],
        ["greatest fall that all allow / distance", "fall asked - fall there is room for"],
    ]


@pytest.mark.parametrize(
    ("beside", "moved"),
    [("lawn, name: lawn", True), ("street, name: Mill Road", False), ("gravel, name: town lot", False)],
)
def test_nobody_brings_a_street_down_for_a_slab(beside: str, moved: bool) -> None:
    """A foot over the sill lies what is beside the one edge that water may leave over; a street stays as it lies."""
    lawn = yard(SILL, far=f"{beside}, takes_water: true, ground: 101")
    closed = lawn.replace("edges: [", "edges: [{run: [B, C], beside: wall}, {run: [D, A], beside: wall}, ")
    told = [advice(one) for one in review_by(RULE, closed).comments]
    name = beside.partition("name: ")[2]
    assert told
    assert any(one.startswith(f"bring {name} down") for one in told) is moved
