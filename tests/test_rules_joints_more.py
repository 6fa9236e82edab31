"""Rules about sawing, old joints, walks, patterns, curl, keys and dowels, and about filler: branches and limits."""

from __future__ import annotations

import math

import pytest
from comments import added, advice, only, reason, weights
from design_text import review_by
from slabwright.review.report import Report
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254


def slab(
    joints: str = "",
    more: str = "",
    use: str = "patio",
    size: tuple[float, float] = (16, 8),
    thickness: str = "4 in",
    unit: str = "ft",
) -> str:
    x, y = size
    lines = "joints:\n" + "\n".join(f"  - {{{one}}}" for one in joints.split(" | ")) if joints else ""
    return f"""
format: 1
job: {{name: Test slab}}
units: {{plan: {unit}, height: {unit}}}
use: {use}
points: {{A: [0, 0], B: [{x}, 0], C: [{x}, {y}], D: [0, {y}]}}
outline: [A, B, C, D]
thickness: {{design: {thickness}}}
{lines}
{more}
"""


def cut(wait: str, kind: str = "saw cut", name: str = "J1", at: float = 8) -> str:
    after = f", cut_after: {wait}" if wait else ""
    return f"name: {name}, from: [{at}, 0], to: [{at}, 8], kind: {kind}, depth: 1 in{after}"


# saw-window


@pytest.mark.parametrize(
    ("kind", "air", "wait", "limit"),
    [
        # ACI 302.1R-15, 4 to 12 h; ACI 224.4R-13, 1 h hot to 4 h cold (both quoted by an institute FAQ)
        ("saw cut", "", "4 h", ""),
        ("saw cut", "", "12 h", ""),
        ("saw cut", "", "3.9 h", "saw_at_least"),
        ("saw cut", "", "12.1 h", "saw_at_most"),
        # a straight line between 4 h at 90 °F and 12 h at 50 °F, with two hours of give (estimate)
        ("saw cut", "95 °F", "6 h", ""),
        ("saw cut", "95 °F", "6.1 h", "saw_at_most"),
        ("saw cut", "95 °F", "3 h", ""),
        ("saw cut", "70 °F", "10 h", ""),
        ("saw cut", "70 °F", "10.1 h", "saw_at_most"),
        ("saw cut", "79 °F", "3.9 h", "saw_at_least"),
        ("saw cut", "50 °F", "14 h", ""),
        ("saw cut", "50 °F", "14.1 h", "saw_at_most"),
        ("saw cut", "40 °F", "16.1 h", "saw_at_most"),
        ("saw cut", "39 °F", "24 h", ""),
        ("saw cut", "39 °F", "24.1 h", "cold_at_most"),
        ("early saw cut", "88 °F", "1 h", ""),
        ("early saw cut", "39 °F", "4 h", ""),
        ("early saw cut", "", "4.1 h", "early_saw_at_most"),
        ("early saw cut", "", "0.9 h", "early_saw_at_least"),
    ],
)
def test_the_window_of_each_saw(kind: str, air: str, wait: str, limit: str) -> None:
    weather = f"pour: {{weather: {{air: {air}}}}}" if air else ""

    assert weights(review_by("saw-window", slab(cut(wait, kind), weather))) == ([("caution", limit)] if limit else [])


def test_cuts_that_wait_alike_are_told_together() -> None:
    joints = " | ".join(cut("2 h", name=f"J{n}", at=2 * n) for n in range(1, 7))
    comment = only(review_by("saw-window", slab(joints)))

    assert comment.at.name == "joints J1, J2, J3, J4 and 2 more"
    assert plain(comment.to_pass, "us") == "cut joints J1, J2, J3, J4 and 2 more 4 h after finishing or later"


def test_a_cut_without_an_hour_is_not_shown() -> None:
    assert added(review_by("saw-window", slab(cut("")))) == (
        "joints, cut_after: how long after finishing each is cut, such as 8 h",
    )


@pytest.mark.parametrize("rule", ["saw-window", "saw-booked", "saw-reach"])
@pytest.mark.parametrize("joints", ["", cut("", "tooled groove"), cut("", "pattern")])
def test_without_a_saw_nothing_is_sawn(rule: str, joints: str) -> None:
    assert reason(review_by(rule, slab(joints))) == "no joint is cut with a saw"


# saw-booked


def booked(
    until: str, air: str = "66 °F", start: str = "07:00", wait: str = "6 h", finishing: str = "finishing: 4 h"
) -> Report:
    pour = f'{{start: "{start}", until: "{until}", rate: 4 yd3/h, {finishing}, weather: {{air: {air}}}}}'
    return review_by("saw-booked", slab(cut(wait), f"order: {{volume: 4 yd3}}\npour: {pour}"))


@pytest.mark.parametrize(
    ("until", "air", "weight", "hours"),
    [
        ("18:00", "66 °F", "", 0),  # 7 + 4 / 4 + 4 + 6 = 18
        ("17:30", "66 °F", "", 0.5),  # half an hour: no day is reckoned closer
        ("17:29", "66 °F", "caution", 31 / 60),
        ("17:00", "90 °F", "caution", 1),
    ],
)
def test_the_hour_of_the_last_cut(until: str, air: str, weight: str, hours: float) -> None:
    report = booked(until, air)

    assert [comment.weight for comment in report.comments] == ([weight] if weight else [])
    if weight:
        assert only(report).shown.si == pytest.approx(hours * 3600)
        assert plain(only(report).to_pass, "us") == "book somebody for the saw until 18:00"


def test_booked_hours_may_run_past_midnight() -> None:
    # 16 + 1 + 4 + 6 = 27: three in the morning
    assert booked("03:00", start="16:00").comments == ()
    late = only(booked("02:00", start="16:00"))
    assert late.shown.si == pytest.approx(3600)
    assert plain(late.to_pass, "us") == "book somebody for the saw until 03:00"


def test_a_cut_a_day_later_is_booked_for_the_next_day() -> None:
    # 7 + 1 + 4 + 20 = 32: eight in the morning, after the start of the day before
    assert (
        plain(only(booked("17:00", wait="20 h")).to_pass, "us") == "book somebody for the saw until 08:00 the next day"
    )


@pytest.mark.parametrize(("air", "until"), [("70 °F", "18:00"), ("90 °F", "16:00")])
def test_finishing_goes_by_the_temperature_where_it_is_not_given(air: str, until: str) -> None:
    # rule of thumb (ACI 305R-10, 306R-16, quoted): setting halves for 20 °F more; 4 h at 70 °F is common practice
    assert booked(until, air, finishing="crew: 3").comments == ()
    early = f"{int(until[:2]) - 1}:29"
    assert len(booked(early, air, finishing="crew: 3").comments) == 1


def test_hours_that_are_not_planned_are_left_alone() -> None:
    unplanned = "the hours of the pour are not written (pour.start, pour.until)"
    assert reason(review_by("saw-booked", slab(cut("6 h")))) == unplanned
    assert reason(review_by("saw-booked", slab(cut("6 h"), 'pour: {start: "07:00"}'))) == unplanned
    half = review_by("saw-booked", slab(cut(""), 'pour: {start: "07:00", rate: 4 yd3/h}'))
    assert [one.split(":")[0] for one in added(half)] == ["pour.until", "joints, cut_after"]


@pytest.mark.parametrize(
    ("until", "found"),
    [
        ("17:00", []),
        ("16:29", [("note", "late_after_finishing_at_most")]),
        ("12:30", [("note", "late_after_finishing_at_most")]),
        ("12:29", [("caution", "late_at_most")]),  # 7 + 6 = 13 whatever finishing takes
    ],
)
def test_without_rate_and_weather_the_last_cut_is_an_estimate(until: str, found: list[tuple[str, str]]) -> None:
    # 7 + nothing for placing + 4 h of finishing at 70 °F (common practice) + 6 = 17
    assert weights(review_by("saw-booked", slab(cut("6 h"), f'pour: {{start: "07:00", until: "{until}"}}'))) == found


# saw-reach


def walled(beside: str, joints: str) -> str:
    return slab(joints, f"edges: [{{run: [A, B], beside: {beside}, name: that side}}, {{rest: lawn}}]")


@pytest.mark.parametrize("beside", ["building", "wall", "step", "curb"])
def test_the_saw_stops_short_of_what_stands_up(beside: str) -> None:
    comment = only(review_by("saw-reach", walled(beside, cut("6 h"))))

    assert (comment.weight, comment.shown.si) == ("note", 1)
    assert plain(comment.says, "us") == "the saw stops short of that side, and the cracks do not"
    made = cut("6 h") + ", last_foot: corner saw"
    assert review_by("saw-reach", walled(beside, made)).comments == ()


@pytest.mark.parametrize("beside", ["lawn", "existing slab", "street", "trench drain"])
def test_the_saw_runs_over_what_lies_flush(beside: str) -> None:
    assert reason(review_by("saw-reach", walled(beside, cut("6 h")))) == "no sawn joint ends at a wall, step or curb"


def test_a_joint_between_two_walls_has_two_ends_left() -> None:
    both = slab(cut("6 h", "early saw cut"), "edges: [{rest: wall}]")

    assert only(review_by("saw-reach", both)).shown.si == 2


# joints-line-up


def beside_old(edge: str, joints: str = cut("6 h")) -> str:
    run = f"{{run: [A, B], beside: existing slab, name: old slab, {edge}}}"
    return slab(joints, f"edges: [{run}, {{rest: lawn}}]")


@pytest.mark.parametrize(
    ("feet", "off"),
    [("8", None), ("8.08", None), ("8.0834", 1.0008), ("6.5", 18)],  # 1 in: common practice
)
def test_an_old_joint_goes_on_in_the_new_slab(feet: str, off: float | None) -> None:
    report = review_by("joints-line-up", beside_old(f"tied: true, existing_joints: [[{feet}, 0]]"))

    if off is None:
        assert report.comments == ()
    else:
        assert (only(report).weight, only(report).limit.name) == ("caution", "offset_at_most")
        assert only(report).shown.si == pytest.approx(off * INCH, abs=1e-5)
        assert plain(only(report).to_pass, "us").startswith("move joint J1 by ")


def test_an_old_joint_far_from_any_wants_one_of_its_own() -> None:
    far = only(review_by("joints-line-up", beside_old("tied: true, existing_joints: [[2, 0]]")))
    bare = only(review_by("joints-line-up", beside_old("tied: true, existing_joints: [[2, 0]]", "")))

    assert plain(far.to_pass, "us").startswith("start a joint at ")
    assert (bare.weight, bare.limit.name, bare.shown.si) == ("caution", "joints_at_least", 0)


def test_filler_all_the_way_down_parts_the_slabs() -> None:
    filled = "existing_joints: [[2, 0]], isolation: {material: foam, depth: DEEP}"
    apart = "no old slab whose joints are listed is tied to it or touches it"

    assert reason(review_by("joints-line-up", beside_old(filled.replace("DEEP", "full")))) == apart
    assert len(review_by("joints-line-up", beside_old(filled.replace("DEEP", "2 in"))).comments) == 1
    assert len(review_by("joints-line-up", beside_old("existing_joints: [[2, 0]]")).comments) == 1


def test_a_tied_slab_should_list_the_old_joints() -> None:
    assert added(review_by("joints-line-up", beside_old("tied: true"))) == (
        "edges, existing_joints: where the joints of the old slab come to this edge, such as [[12, 0]]",
    )
    assert (
        reason(review_by("joints-line-up", slab())) == "no old slab whose joints are listed is tied to it or touches it"
    )


# walk-joints


@pytest.mark.parametrize(
    ("size", "found"),
    [
        ((5, 5), []),  # 5 ft: UFGS 03300N par. 3.8.3 (read)
        ((5.01, 4), [("note", "side_at_most")]),
        ((8, 8), []),  # a wide walk by its width: some cities
        ((10, 8), []),  # 1.25, still about square
        ((10.1, 8), [("note", "side_at_most")]),
    ],
)
def test_walks_in_squares_of_five_feet_or_of_their_width(
    size: tuple[float, float], found: list[tuple[str, str]]
) -> None:
    assert weights(review_by("walk-joints", slab(use="walk", size=size))) == found


@pytest.mark.parametrize(("degrees", "found"), [(18, []), (30, [("note", "side_at_most")])])
def test_a_walk_in_a_curve_is_measured_along_its_middle(degrees: float, found: list[tuple[str, str]]) -> None:
    """A ring of 12 and 16 ft: 18 degrees are 5.03 ft outside and 4.40 ft in the middle, 30 degrees 8.38 and 7.33 ft."""

    def at(radius: float, part: float) -> str:
        angle = math.radians(degrees * part)
        return f"[{radius * math.cos(angle):.6f}, {radius * math.sin(angle):.6f}]"

    outline = (
        f"outline: [{at(12, 0)}, {at(16, 0)}, {{arc_to: {at(16, 1)}, through: {at(16, 0.5)}}}, {at(12, 1)}, "
        f"{{arc_to: {at(12, 0)}, through: {at(12, 0.5)}}}]"
    )
    head = "format: 1\njob: {name: Bend}\nunits: {plan: ft, height: ft}\nuse: walk"
    text = f"{head}\n{outline}\nthickness: {{design: 4 in}}"
    assert weights(review_by("walk-joints", text)) == found


def test_a_public_walk_weighs_more_and_other_slabs_nothing() -> None:
    public = review_by("walk-joints", slab(more="site: {right_of_way: true}", use="walk", size=(20, 4)))

    assert weights(public) == [("caution", "public_side_at_most")]
    assert plain(only(public).to_pass, "us", both=False) == "cut it across its long side into 4 bays of 5'-0\""
    assert reason(review_by("walk-joints", slab())) == "the slab is not a walk"


def test_a_long_panel_of_a_wide_walk_is_cut_to_its_width() -> None:
    comment = only(review_by("walk-joints", slab(use="walk", size=(24, 8))))

    assert plain(comment.to_pass, "us", both=False) == "cut it across its long side into 3 bays of 8'-0\""


# pattern-lines


def line(depth: str, at: float = 4) -> str:
    return f"name: P{at:g}, from: [{at}, 0], to: [{at}, 8], kind: pattern" + (f", depth: {depth}" if depth else "")


def test_pattern_lines_alone_are_no_joints() -> None:
    comment = only(review_by("pattern-lines", slab(line("3/8 in"))))

    assert (comment.weight, comment.limit.name, comment.shown.si) == ("caution", "joints_at_least", 0)
    assert plain(comment.to_pass, "us", both=False) == "make P4 a saw cut 1 in deep"
    assert review_by("pattern-lines", slab(line("3/8 in") + " | " + cut("6 h"))).comments == ()


def test_a_small_slab_may_have_pattern_lines_alone() -> None:
    # 24 x 4 in = 8 ft: lower end of ACI 302.1R-96, quoted
    assert review_by("pattern-lines", slab(line("3/8 in"), size=(8, 8))).comments == ()
    assert len(review_by("pattern-lines", slab(line("3/8 in"), size=(8.01, 8))).comments) == 1


@pytest.mark.parametrize(
    ("depth", "found"), [("1 in", []), ("1 1/8 in", [("note", "part_of_thickness_at_most")]), ("", [])]
)
def test_a_pattern_line_a_quarter_deep_is_a_joint(depth: str, found: list[tuple[str, str]]) -> None:
    # t/4: ACI 330R first editions (read)
    assert weights(review_by("pattern-lines", slab(line(depth) + " | " + cut("6 h")))) == found


def test_a_plain_slab_has_no_pattern() -> None:
    assert reason(review_by("pattern-lines", slab(cut("6 h")))) == "there are no pattern lines"


# curl


@pytest.mark.parametrize(
    ("side", "thickness", "index"),
    [(8, "4 in", 1.0), (15, "4 in", 3.515625), (15, "6 in", 2.34375), (20, "10 in", 2.5)],
)
def test_curl_grows_with_the_square_of_the_side(side: float, thickness: str, index: float) -> None:
    # L^2 / t over 8 ft x 8 ft / 4 in, by hand; 2.5: common practice; checks jt-curl-8ft-4in, -15ft-4in, -15ft-6in
    report = review_by("curl", slab(use="shop floor", size=(side, side), thickness=thickness))

    if index > 2.5:
        assert only(report).shown.si == pytest.approx(index)
        assert only(report).weight == "caution"
    else:
        assert report.comments == ()
        assert report.met[0].slack == pytest.approx(1 - index / 2.5, abs=1e-6)


@pytest.mark.parametrize("use", ["garage floor", "patio", "vehicle pad"])
def test_only_shop_floors_are_asked_to_lie_flat(use: str) -> None:
    assert reason(review_by("curl", slab(use=use, size=(20, 20)))) == "the slab is not a shop floor"


# keys-and-dowels


def locked(
    by: str, thickness: str, dowels: str = "", use: str = "patio", kind: str = "construction joint", axle: str = ""
) -> Report:
    joint = f"name: day, from: [8, 0], to: [8, 8], kind: {kind}" + (f", locked_by: {by}" if by else "")
    joint += f", dowels: {{{dowels}}}" if dowels else ""
    load = f"loads: [{{vehicle: truck, axle: {axle}, wheels_per_axle: 2}}]" if axle else ""
    return review_by("keys-and-dowels", slab(joint, load, use=use, thickness=thickness))


@pytest.mark.parametrize(
    ("by", "thickness", "use", "found"),
    [
        ("key", "6 in", "patio", []),  # TI 809-02 ch. 5 (read)
        ("key", "5 3/4 in", "patio", [("caution", "keyed_at_least")]),
        ("key", "5 3/4 in", "garage floor", [("caution", "keyed_at_least")]),
        ("dowels", "4 in", "patio", []),  # a small addition kept flush
    ],
)
def test_keys_and_dowels_by_thickness(by: str, thickness: str, use: str, found: list[tuple[str, str]]) -> None:
    assert weights(locked(by, thickness, use=use)) == found


@pytest.mark.parametrize(
    ("thickness", "use", "found"),
    [
        ("8 in", "patio", []),  # TM 5-809-12 par. 5 (read)
        ("7 in", "patio", [("caution", "doweled_at_least")]),  # ACI PRC-330-21 (quoted): none wanted
        ("7 in", "garage floor", []),  # building guides, recalled, dowel floors from 5 in on
    ],
)
def test_dowels_in_a_joint_that_is_cut(thickness: str, use: str, found: list[tuple[str, str]]) -> None:
    assert weights(locked("dowels", thickness, use=use, kind="saw cut")) == found


@pytest.mark.parametrize(
    ("by", "thickness", "axle", "found"),
    [
        # a paving association and TM 5-809-12 par. 5 dowel construction joints (read); the gray band is a note
        ("", "8 in", "", [("caution", "locked_at_least")]),
        ("dowels", "8 in", "", []),
        ("tie bars", "8 in", "", []),
        ("", "7 7/8 in", "", []),
        ("", "7 7/8 in", "4001 lb", [("note", "locked_in_thinner_at_least")]),
        ("", "7 7/8 in", "4000 lb", []),
        ("", "5 in", "9000 lb", [("note", "locked_in_thinner_at_least")]),
        ("", "4 in", "9000 lb", []),
    ],
)
def test_construction_joints_under_wheels(by: str, thickness: str, axle: str, found: list[tuple[str, str]]) -> None:
    assert weights(locked(by, thickness, use="driveway", axle=axle)) == found


@pytest.mark.parametrize(
    ("thickness", "diameter", "length", "spacing"),
    [("6 in", "3/4 in", "16 in", "12 in"), ("14 in", "1 in", "20 in", "15 in"), ("18 in", "1 in", "20 in", "18 in")],
)
def test_dowels_of_the_published_table(thickness: str, diameter: str, length: str, spacing: str) -> None:
    # UFC 3-260-02 Table 12-8 (read); checks jt-dowel-table-6in, -14in, -18in
    good = f"diameter: {diameter}, length: {length}, spacing: {spacing}"

    assert locked("dowels", thickness, good, "garage floor").comments == ()
    for worse, limit in (
        (good.replace(f"diameter: {diameter}", "diameter: 5/8 in"), "diameter_at_least"),
        (good.replace(f"diameter: {diameter}", "diameter: 2 1/2 in"), "diameter_at_most"),
        (good.replace(f"length: {length}", "length: 13 in"), "length_at_least"),
        (good.replace(f"spacing: {spacing}", "spacing: 19 in"), "spacing_at_most"),
    ):
        assert weights(locked("dowels", thickness, worse, "garage floor")) == [("note", limit)]


def test_ties_and_plain_joints_are_left_alone() -> None:
    assert [reason(locked("tie bars", "4 in")), reason(review_by("keys-and-dowels", slab(cut("6 h"))))] == [
        "no joint has a key, or dowels that wheels need"
    ] * 2


# filler-thickness


def filled(thickness: str, beside: str = "building", use: str = "driveway", site: str = "", unit: str = "ft") -> Report:
    filler = (
        f"{{material: foam, depth: full, thickness: {thickness}}}" if thickness else "{material: foam, depth: full}"
    )
    edges = f"edges: [{{run: [A, B], beside: {beside}, name: face, isolation: {filler}}}, {{rest: lawn}}]"
    return review_by("filler-thickness", slab(more=f"{edges}\n{site}", use=use, unit=unit))


@pytest.mark.parametrize(
    ("thickness", "unit", "found"),
    [
        ("1/2 in", "ft", []),  # UFGS 03300N, a state profile and a town code (read): 1/2 in
        ("3/8 in", "ft", [("note", "filler_at_least")]),  # sold and set all over: common practice
        ("1/4 in", "ft", [("note", "filler_at_least")]),  # the other side is free: the slab grows that way
        ("12 mm", "m", []),
        ("10 mm", "m", []),  # as it is sold in millimeters
        ("8 mm", "m", [("caution", "metric_filler_at_least")]),
    ],
)
def test_filler_of_half_an_inch(thickness: str, unit: str, found: list[tuple[str, str]]) -> None:
    assert weights(filled(thickness, unit=unit)) == found


@pytest.mark.parametrize(
    ("thickness", "beside", "site", "found"),
    [
        # West Dundee IL (read): 3/4 in between drive and walk, and approach and curb
        ("1/2 in", "existing slab", "site: {right_of_way: true}", [("note", "drive_to_walk_at_least")]),
        ("1/2 in", "curb", "site: {right_of_way: true}", [("note", "drive_to_walk_at_least")]),
        ("3/4 in", "existing slab", "site: {right_of_way: true}", []),
        ("1/2 in", "existing slab", "", []),
        ("1/2 in", "building", "site: {right_of_way: true}", []),
        ("1/4 in", "curb", "site: {right_of_way: true}", [("note", "filler_at_least")]),
    ],
)
def test_filler_in_the_right_of_way(thickness: str, beside: str, site: str, found: list[tuple[str, str]]) -> None:
    assert weights(filled(thickness, beside, site=site)) == found


def test_filler_that_is_not_asked_to_be_thick() -> None:
    assert reason(filled("1/4 in", use="garage floor")) == "the slab lies indoors, where thin filler will do"
    assert reason(review_by("filler-thickness", slab())) == "no filler is drawn at an edge"
    assert added(filled("")) == ("edges, isolation, thickness: how thick the filler is, such as 1/2 in",)


# walk-expansion


def walk(feet: int, filled_at: tuple[int, ...] = (), depth: str = "full") -> Report:
    filler = f"isolation: {{material: foam, depth: {depth}}}"
    joints = [f"from: [{at}, 0], to: [{at}, 5], kind: formed strip, {filler}" for at in filled_at]
    return review_by("walk-expansion", slab(" | ".join(joints), use="walk", size=(feet, 5)))


@pytest.mark.parametrize(
    ("feet", "filled_at", "met"),
    [(50, (), True), (51, (), False), (120, (40, 80), True), (120, (60,), False), (120, (50, 100), True)],
)
def test_a_walk_grows_fifty_feet_at_a_time(feet: int, filled_at: tuple[int, ...], met: bool) -> None:
    # UFGS 03300N par. 3.8.3 (read): at most 50 ft
    assert (walk(feet, filled_at).comments == ()) is met


def test_a_long_walk_is_told_its_bays() -> None:
    # 120 ft by 50 ft: 3 bays of 40 ft, published check is-walk-50
    comment = only(walk(120))

    assert comment.weight == "caution"
    assert plain(comment.to_pass, "us", both=False) == (
        "set filler all through the joints that part it into 3 stretches of 40'-0\""
    )
    assert [one.at.name for one in walk(130, (60,)).comments] == [
        "stretch 1 of the walk", "stretch 2 of the walk",
    ]  # fmt: skip


def test_other_slabs_are_no_walks() -> None:
    assert reason(review_by("walk-expansion", slab(size=(200, 8)))) == "the slab is not a walk"


# edge-sealed


def housed(sealed: str, site: str = "site: {freezing: severe}", use: str = "patio", beside: str = "building") -> Report:
    filler = f"{{material: foam, depth: full{f', sealed: {sealed}' if sealed else ''}}}"
    edges = f"edges: [{{run: [A, B], beside: {beside}, name: house, isolation: {filler}}}, {{rest: lawn}}]"
    return review_by("edge-sealed", slab(more=f"{site}\n{edges}", use=use))


def test_filler_at_a_house_in_the_frost_is_sealed() -> None:
    assert housed("true").comments == ()
    comment = only(housed("false"))
    assert (comment.weight, comment.shown.si) == ("note", 1)
    assert plain(comment.to_pass, "us", both=False) == "seal the filler at house: 16'-0\" of it"


def test_two_sides_of_a_house_are_sealed_alike() -> None:
    one, two = (f"isolation: {{material: foam, depth: full, sealed: {said}}}" for said in ("true", "false"))
    edges = f"edges: [{{run: [A, B], beside: building, {one}}}, {{run: [B, C], beside: building, name: wing, {two}}}]"

    assert (
        plain(only(review_by("edge-sealed", slab(more=edges))).says, "us") == "water runs down the open filler at wing"
    )


def test_where_nothing_needs_sealing() -> None:
    assert reason(housed("", "site: {freezing: none}")) == "it does not freeze there"
    assert reason(housed("", use="garage floor")) == "the slab lies indoors"
    assert reason(housed("", beside="wall")) == "no filler is drawn at a building"
    assert added(housed("")) == (
        "edges, isolation, sealed: whether a sealant is laid over the filler at the building, such as true",
    )


# column-box-out


def boxed(shape: str, joints: str, at: str = "[8, 4]") -> Report:
    box = f", box_out: {shape}" if shape else ""
    column = f"fixtures: [{{kind: column, name: column, at: {at}, size: 6 in{box}}}]"
    return review_by("column-box-out", slab(joints, column))


ACROSS = "from: [0, 4], to: [16, 4], kind: tooled groove, depth: 1 in"
HALF = "from: [0, 4], to: [8, 4], kind: tooled groove, depth: 1 in"
DOWN = "from: [8, 0], to: [8, 8], kind: tooled groove, depth: 1 in"
ASIDE = "from: [8.5, 0], to: [8.5, 8], kind: tooled groove, depth: 1 in"


@pytest.mark.parametrize(
    ("shape", "joints", "free"),
    [
        ("round", "", 0),
        ("square", f"{ACROSS} | {DOWN}", 4),
        ("turned square", f"{ACROSS} | {DOWN}", 0),
        ("turned square", f"{HALF} | {DOWN}", 1),
        ("turned square", DOWN, 2),
        ("turned square", f"{ACROSS} | {ASIDE}", 2),
        ("turned square", "", 4),
    ],
)
def test_corners_of_a_box_that_no_joint_comes_to(shape: str, joints: str, free: int) -> None:
    # NRMCA CIP 6 (read in a copy): square turned 45 degrees with corners on the joints, or round
    report = boxed(shape, joints)

    assert [comment.shown.si for comment in report.comments] == ([free] if free else [])
    assert all(comment.weight == ("caution" if free > 2 else "note") for comment in report.comments)


def test_a_column_without_a_box_or_on_the_edge_is_left_alone() -> None:
    assert reason(boxed("", DOWN)) == "no box-out is drawn"
    assert reason(boxed("square", DOWN, "[8, 0]")) == "no box-out is drawn"


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ("from: [10, 0], to: [10, 6]", "cut it across its long side into 2 bays of 10'-0\", with joint J1 carried on"),
        ("from: [12, 0], to: [12, 6]", "cut it across its long side into 2 bays of 10'-0\""),  # on another line
    ],
)
def test_a_joint_that_stops_on_the_line_of_a_cut_is_carried_on_and_not_drawn_over(ends: str, told: str) -> None:
    text = f"""format: 1
job: {{name: Pad}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [20, 0], C: [20, 10], D: [0, 10]}}
outline: [A, B, C, D]
thickness: {{design: 4 in}}
joints: [{{name: J1, kind: saw cut, {ends}, depth: 1 in}}]
"""
    (comment,) = review_by("panel-spacing", text).comments
    assert advice(comment) == told
    edits = comment.remedies[0].edits
    assert [edit.path for edit in edits] == (["joints[0].to"] if "carried" in told else ["joints"])
