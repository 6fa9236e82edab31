"""Rules about joints at the edges of their numbers: just met and just not, one after another, in both unit systems."""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest
from comments import only, weights
from design_text import pad, plan_of, review_by, rule_named
from judged import ended, findings, in_force, judged, margins
from slabwright.plan.given import DoesNotApply
from slabwright.review.report import Comment
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, System, show

FOOT, INCH = 0.3048, 0.0254


def box(x: float, y: float) -> str:
    return f"[[0, 0], [{x}, 0], [{x}, {y}], [0, {y}]]"


def cut(x: float, top: float = 8, name: str = "", kind: str = "saw cut", more: str = "") -> str:
    """A joint straight up at ``x``, from the bottom to ``top``."""
    named = f"name: {name}, " if name else ""
    return f"{{{named}kind: {kind}, from: [{x}, 0], to: [{x}, {top}]{more}}}"


def joints(*written: str) -> str:
    return f"joints: [{', '.join(written)}]\n"


def slot(said: Finding | Comment, name: str, system: System = "us") -> str:
    """One value of the advice, as it is printed."""
    value = said.to_pass.values[name]
    return show(value, system, both=False) if isinstance(value, Amount) else str(value)


def short(value: object) -> str:
    """A part of a test's name: no whole designs."""
    return value if isinstance(value, str) and "\n" not in value else ""


def falls(name: str, design: str) -> list[str]:
    """Names of what falls short, in order."""
    return [finding.at.name for finding in findings(name, design)]


# one that is met does not hide the next


@pytest.mark.parametrize(
    ("rule", "design", "expected"),
    [
        ("curl", pad(joints(cut(8)), "shop floor", outline=box(28, 8)), ["panel P2"]),  # 8 ft, then 20 ft
        ("walk-joints", pad(joints(cut(4, 4)), "walk", outline=box(14, 4)), ["panel P2"]),
        # the first is wide and close to square, the second long
        ("walk-joints", pad(joints(cut(10)), "walk", outline=box(30, 8)), ["panel P2"]),
        (
            "joints-line-up",
            pad(
                "edges: [{run: [[0, 0], [16, 0]], beside: existing slab, tied: true, "
                "existing_joints: [[4, 0], [9, 0], [13, 0]]}]\n" + joints(cut(4), cut(12)),
                outline=box(16, 8),
            ),
            ["the old joint at (9.00 ft, 0.00 ft)", "the old joint at (13.00 ft, 0.00 ft)"],
        ),
        (
            "joints-line-up",
            pad(
                "edges: [{run: [[0, 0], [16, 0]], beside: existing slab, tied: true, "
                "existing_joints: [[4, 0], [9, 0]]}]",
                outline=box(16, 8),
            ),
            ["the old joint at (4.00 ft, 0.00 ft)", "the old joint at (9.00 ft, 0.00 ft)"],
        ),
        (
            "saw-reach",
            pad(
                "edges: [{run: [[0, 0], [12, 0]], beside: wall}]\n"
                + joints(
                    "{kind: saw cut, from: [0, 4], to: [12, 4]}",
                    cut(4, more=", last_foot: corner saw"),
                    cut(8, name="bare"),
                ),
                outline=box(12, 8),
            ),
            ["joint bare"],
        ),
    ],
    ids=short,
)
def test_each_is_judged(rule: str, design: str, expected: list[str]) -> None:
    assert falls(rule, design) == expected


# inside-corner-joint


@pytest.mark.parametrize(("degrees", "counts"), [(199.5, False), (200.5, True)])
def test_inside_corner_joint_a_bend_of_twenty_degrees_is_a_corner(degrees: float, counts: bool) -> None:
    # 180 and 20 degrees: common practice
    half = math.radians(degrees - 180) / 2
    rise = 10 * math.tan(half)  # the top edge sinks to its middle from both ends
    design = pad("", outline=f"[[0, 0], [20, 0], [20, 10], [10, {10 - rise:.9f}], [0, 10]]")

    assert (ended("inside-corner-joint", design) is None) is counts


def test_inside_corner_joint_a_bend_of_just_twenty_degrees_is_none() -> None:
    (corner,) = plan_of(pad("", outline="[[0, 0], [9, 0], [9, 4], [4, 4], [4, 9], [0, 9]]")).panels.inside_corners
    bend = SimpleNamespace(
        panels=SimpleNamespace(inside_corners=(corner._replace(degrees=200.0),)),
        design=SimpleNamespace(openings=()),
        shape=SimpleNamespace(opening_rings=()),
    )

    with pytest.raises(DoesNotApply):
        list(rule_named("inside-corner-joint").judge(bend, in_force("inside-corner-joint")))


@pytest.mark.parametrize(("away", "moved"), [(24, True), (24.1, False)])
def test_inside_corner_joint_a_joint_within_two_feet_of_an_inside_corner_is_moved(away: float, moved: bool) -> None:
    # 2 ft: common practice
    outline = "[[0, 0], [216, 0], [216, 120], [96, 120], [96, 240], [0, 240]]"
    joint = f"{{from: [{96 + away}, 0], to: [{96 + away}, 120], kind: saw cut}}"

    comment = only(review_by("inside-corner-joint", pad(joints(joint), unit="in", outline=outline)))

    told = [plain(remedy.says, "us", both=False) for remedy in comment.remedies]
    assert any(says.startswith("move joint J1 by 24 in, onto ") for says in told) is moved


# joint-depth


@pytest.mark.parametrize(
    ("floor", "asked"),
    [(INCH, 0.025), (0.03, 0.03), (0.0301, 0.03), (0.02999, 0.029)],  # whole millimeters, rounded down
)
def test_joint_depth_a_metric_plan_takes_the_least_depth_in_whole_millimeters(floor: float, asked: float) -> None:
    design = pad(joints(cut(2, 3, more=", depth: 20 mm")), unit="m", thick="80 mm", outline=box(4, 3), use="walk")
    (finding,) = findings("joint-depth", design, depth_in_walk_at_least=floor)

    assert finding.limit.name == "depth_in_walk_at_least"
    assert finding.asked is not None
    assert finding.asked.si == pytest.approx(asked, rel=1e-9)


def test_joint_depth_a_cut_deep_enough_for_the_edge_it_crosses_is_not_too_deep() -> None:
    # 8 3/4 in deep where the joint meets the edge: a quarter is 2 3/16 in, and a saw is set to 2 1/4 in
    strip = "thickness: {design: 4 in, thickened_edges: [{run: [[0, 0], [16, 0]], depth: 8.75 in, taper: 3 ft}]}"
    design = pad(joints(cut(8, more=", depth: 2 1/4 in")), outline=box(16, 8)).replace(
        "thickness: {design: 4 in}", strip
    )

    assert not review_by("joint-depth", design).comments
    assert only(review_by("joint-depth", design.replace("2 1/4 in", "3 in"))).weight == "note"


# joint-ends


def square(*written: str, more: str = "") -> str:
    return pad(more + joints(*written), outline=box(20, 20))


def run(name: str, *points: tuple[float, float]) -> str:
    return f"{{name: {name}, kind: saw cut, along: {[list(point) for point in points]}}}"


@pytest.mark.parametrize(("turn", "said"), [(14.5, []), (15.5, ["joint J1"])])
def test_joint_ends_two_joints_end_to_end_that_turn_by_fifteen_degrees_are_a_corner(
    turn: float, said: list[str]
) -> None:
    # 15 degrees: common practice; the same upright, and with the joints typed the other way
    rise = 10 * math.tan(math.radians(turn))
    flat = run("J1", (0, 5), (10, 5)), run("J2", (10, 5), (20, 5 + rise))
    back = run("J1", (0, 5), (10, 5)), run("J2", (20, 5 + rise), (10, 5))
    upright = run("J1", (5, 0), (5, 10)), run("J2", (5, 10), (5 + rise, 20))

    assert [falls("joint-ends", square(*pair)) for pair in (flat, back, upright)] == [said] * 3


def test_joint_ends_a_corner_is_carried_on_whichever_way_its_joints_are_typed() -> None:
    (there,) = findings("joint-ends", square(run("J1", (0, 8), (12, 8)), run("J2", (12, 8), (12, 20))))
    (back,) = findings("joint-ends", square(run("J1", (12, 8), (0, 8)), run("J2", (12, 20), (12, 8))))

    for said in (there, back):
        slots = [slot(said, name) for name in ("name0", "way0", "name1", "way1")]
        assert slots == ["J1", "8'-0\"", "J2", "8'-0\""]


def test_joint_ends_a_bent_joint_is_carried_on_the_way_its_last_piece_goes() -> None:
    # from (4, 12) three on and four up: (20, 20) is not met; the top is, at 8 up and 6 along, 10 ft on
    bent = run("J1", (0, 4), (0.5, 4), (1, 8), (4, 12))
    first = run("J1", (4, 12), (1, 8), (0.5, 4), (0, 4))

    for one in (bent, first):
        (finding,) = findings("joint-ends", square(one))
        assert finding.shown.si == pytest.approx(10 * FOOT)


def test_joint_ends_that_close_a_ring_are_two() -> None:
    (finding,) = findings("joint-ends", square(run("J1", (2, 2), (6, 2), (6, 6), (2, 6), (2, 2))))

    assert finding.shown.si == 2
    assert [slot(finding, way) for way in ("way0", "way1")] == ["2'-0\""] * 2  # down and to the left


def test_joint_ends_ends_that_reach_something_are_no_distance_away() -> None:
    shown = [margin.shown.si for margin in margins("joint-ends", square(cut(10, 20)))]

    assert shown == [0, 0, 0]  # both ends, then none on a joint


def test_joint_ends_a_joint_that_lies_outside_is_left_alone() -> None:
    assert review_by("joint-ends", square(cut(30, 20))).does_not_apply


# joints-line-up


def old(edge: str, *written: str) -> str:
    return pad(f"edges: [{{run: [[0, 0], [16, 0]], {edge}}}]\n" + joints(*written), outline=box(16, 8))


@pytest.mark.parametrize(("at", "moved"), [(10, True), (10.01, False)])
def test_joints_line_up_a_joint_within_two_feet_of_an_old_one_is_moved(at: float, moved: bool) -> None:
    # 2 ft: common practice
    design = old(f"beside: existing slab, tied: true, existing_joints: [[{at}, 0]]", cut(8))

    assert ("away" in findings("joints-line-up", design)[0].to_pass.values) is moved


def test_joints_line_up_leaves_joints_of_the_old_slab_beyond_the_new_one() -> None:
    """Of an old slab of 30 ft beside a new one of 16 ft the joint at 24 ft is nobody's."""
    beyond = review_by("joints-line-up", old("beside: existing slab, tied: true, existing_joints: [[24, 0]]", cut(8)))
    assert "nowhere" in beyond.does_not_apply[0].reason
    both = old("beside: existing slab, tied: true, existing_joints: [[8, 0], [24, 0]]", cut(8))
    assert review_by("joints-line-up", both).met


@pytest.mark.parametrize("edge", ["beside: existing slab", "beside: building, tied: true"])
def test_joints_line_up_old_joints_are_asked_of_an_old_slab_that_the_new_one_is_tied_to(edge: str) -> None:
    report = review_by("joints-line-up", old(edge, cut(8)))

    assert report.not_shown == ()
    assert len(report.does_not_apply) == 1


def test_joints_line_up_an_edge_of_which_nothing_is_said_holds_nothing() -> None:
    (met,) = margins("joints-line-up", old("beside: existing slab, tied: true, existing_joints: [[8, 0]]", cut(8)))
    assert met.shown.si == 0


# joints-sealed


@pytest.mark.parametrize(
    ("number", "named"), [(7, "J1, J2, J3, J4, J5, J6, J7"), (8, "J1, J2, J3, J4, J5, J6, J7, J8")]
)
def test_joints_sealed_eight_open_joints_are_all_named(number: int, named: str) -> None:
    written = [cut(2 * k, more=", sealed: false") for k in range(1, number + 1)]
    comment = only(review_by("joints-sealed", pad(joints(*written), "driveway", outline=box(20, 8))))

    assert (slot(comment, "names"), slot(comment, "run")) == (named, f"{8 * number}'-0\"")


def test_joints_sealed_under_wheels_grooves_are_sealed_too_and_patterns_never() -> None:
    grooves = joints(cut(4, kind="tooled groove", more=", sealed: false"), cut(8, kind="pattern"))

    assert review_by("joints-sealed", pad(grooves, "driveway", outline=box(12, 8))).comments[0].shown.si == 1
    salted = pad("site: {deicing_salt: true}\n" + grooves, outline=box(12, 8))
    assert review_by("joints-sealed", salted).does_not_apply


def test_joints_sealed_a_joint_in_two_parts_is_one_joint_and_pointed_at_in_its_first() -> None:
    bed = "openings: [{name: bed, corners: [[5, 3], [7, 3], [7, 5], [5, 5]]}]\n"
    comment = only(
        review_by("joints-sealed", pad(bed + joints(cut(6, more=", sealed: false")), "driveway", outline=box(12, 8)))
    )

    assert comment.shown.si == 1
    assert (slot(comment, "names"), slot(comment, "run")) == ("J1", "6'-0\"")  # 3 ft on either side of the opening
    assert sorted(comment.at.shape) == [pytest.approx((6 * FOOT, 0)), pytest.approx((6 * FOOT, 3 * FOOT))]


# keys-and-dowels


@pytest.mark.parametrize(("inches", "tabled"), [(4.9, False), (5, True), (18, True)])
def test_keys_and_dowels_the_table_of_dowels_holds_from_five_inches(inches: float, tabled: bool) -> None:
    # UFC 3-260-02 Table 12-8 (read)
    dowels = ", locked_by: dowels, dowels: {diameter: 1 in, length: 20 in, spacing: 12 in}"
    design = pad(joints(cut(8, kind="saw cut", more=dowels)), "garage floor", outline=box(16, 8), thick=f"{inches} in")

    assert len(judged("keys-and-dowels", design) if tabled else []) == (4 if tabled else 0)
    assert bool(review_by("keys-and-dowels", design).does_not_apply) != tabled


def test_keys_and_dowels_a_joint_that_nothing_locks_is_left_alone_beside_one_that_is_keyed() -> None:
    design = pad(
        joints(cut(4), cut(8, name="day", kind="construction joint", more=", locked_by: key")), outline=box(16, 8)
    )

    assert [one.at.name for one in judged("keys-and-dowels", design)] == ["joint day"]


# loads-end-at-joint


@pytest.mark.parametrize(
    ("apart", "stop", "shown"),
    [
        ("10 min", "", 0),  # the next truck stands there before the first load is placed
        ("95 min", joints("{kind: construction joint, from: [20, 0], to: [20, 20], depth: 4 in}"), 0),
        ("60 min", "", 1800),  # 6 yd3 at 12 yd3/h: half an hour
    ],
)
def test_loads_end_at_joint_the_time_in_which_nothing_comes(apart: str, stop: str, shown: float) -> None:
    pour = f"pour: {{rate: 12 yd3/h, trucks_apart: {apart}}}\norder: {{volume: 11 yd3, truck: 6 yd3}}\n"
    (margin,) = margins("loads-end-at-joint", pad(stop + pour, outline=box(40, 20)))

    assert margin.shown.si == pytest.approx(shown)


def test_loads_end_at_joint_a_load_of_what_comes_over_and_above_fills_so_much_less() -> None:
    # 8 of 11 + 10 % = 12.1 yd3; 9.877 yd3 of slab x 8 / 12.1 = 6.53 yd3
    pour = "pour: {rate: 16 yd3/h, trucks_apart: 95 min}\norder: {volume: 11 yd3, truck: 8 yd3, allowance: 10 %}\n"
    (finding,) = findings("loads-end-at-joint", pad(pour, outline=box(40, 20)))

    assert slot(finding, "fills") == "6.53 yd3"


# panel-aspect and panel-corners


@pytest.mark.parametrize(
    ("rule", "design", "expected"),
    [
        ("panel-aspect", pad(joints(cut(8)), outline=box(28, 8)), ["panel P2"]),
        # square, then 1 ft wide, then square
        ("panel-corners", pad(joints(cut(8), cut(9)), outline=box(17, 8)), ["panel P2"]),
    ],
    ids=short,
)
def test_each_panel_is_judged(rule: str, design: str, expected: list[str]) -> None:
    assert falls(rule, design) == expected


def test_panel_aspect_where_no_bays_in_one_or_two_or_three_rows_are_square_enough() -> None:
    # 12 by 10 under 1.1: one row 1.2; two of two 1.2; three of four 1.11; four of five, 2.4 ft by 2.5 ft, 1.04
    (finding,) = findings(
        "panel-aspect", pad("", outline=box(12, 10)), aspect_at_most=1.1, preferred_aspect_at_most=1.1
    )

    assert (slot(finding, "n"), slot(finding, "m")) == ("5", "4")


@pytest.mark.parametrize(
    ("unit", "size", "at", "write"),
    [
        ("ft", 20, 18.45, "5 1/2 in"),  # 24 - 18.6 in is 5.4 in
        ("ft", 20, 18.6, "7 1/4 in"),  # 24 - 16.8 in is 7.2 in
        ("m", 6, 5.45, "60 mm"),  # 609.6 - 550 mm is 59.6 mm
    ],
)
def test_panel_corners_how_much_wider_a_sliver_must_be(unit: str, size: float, at: float, write: str) -> None:
    # 2 ft: trade articles on layout
    (finding,) = findings("panel-corners", pad(joints(cut(at, size)), unit=unit, outline=box(size, size)))

    assert slot(finding, "more", "metric" if unit == "m" else "us") == write


LEAN = 20 / math.sqrt(2)  # ft, of a side of 20 ft that leans by 45 degrees


@pytest.mark.parametrize(
    ("outline", "joint"),
    [
        (f"[[0, 0], [20, 0], [{20 + LEAN}, {LEAN}], [{LEAN}, {LEAN}]]", cut(17, LEAN)),
        (
            f"[[0, 0], [{LEAN}, {LEAN}], [{LEAN}, {20 + LEAN}], [0, 20]]",
            f"{{kind: saw cut, from: [0, 17], to: [{LEAN}, 17]}}",
        ),
    ],
)
def test_panel_corners_a_point_of_the_slab_is_no_fault_of_a_joint_that_ends_on_the_same_side(
    outline: str, joint: str
) -> None:
    found = findings("panel-corners", pad(joints(joint), outline=outline))

    assert found
    assert all(one.to_pass.template.startswith("open ") for one in found)


def test_panel_corners_a_point_that_a_joint_makes_is_the_joint_s() -> None:
    slanting = "{kind: saw cut, from: [0, 0], to: [20, 8]}"  # from corner to corner
    found = findings("panel-corners", pad(joints(slanting), outline=box(20, 8)))

    assert len(found) == 2
    assert all("joint {joint}" in one.to_pass.template for one in found)


# pattern-lines


@pytest.mark.parametrize(
    ("thick", "unit", "side", "write"),
    [
        ("5 in", "ft", 12, "1 1/4 in"),  # a quarter: ACI 330R first editions (read)
        ("5 1/4 in", "ft", 12, "1 3/8 in"),
        ("2 1/2 in", "ft", 12, "5/8 in"),
        ("110 mm", "m", 4, "30 mm"),
        ("75 mm", "m", 4, "20 mm"),
    ],
)
def test_pattern_lines_a_pattern_line_is_made_a_joint_that_is_deep_enough(
    thick: str, unit: str, side: float, write: str
) -> None:
    line = "{name: P, kind: pattern, from: [1, 0], to: [1, %s]%s}"
    drawn = pad(joints(line % (side, "")), unit=unit, thick=thick, outline=box(side, side))
    (finding,) = findings("pattern-lines", drawn)

    assert (slot(finding, "names"), slot(finding, "write", "metric" if unit == "m" else "us")) == ("P", write)
    done = drawn.replace("pattern", "saw cut").replace(f"{side}]}}]\n", f"{side}], depth: {write}}}]\n")
    assert weights(review_by("joint-depth", done)) == []


# saw-booked


def booked(pour: str, wait: str = "6 h") -> str:
    """A cut in a slab of 4 yd3, placed in an hour."""
    return pad(
        joints(cut(8, more=f", cut_after: {wait}")) + f"order: {{volume: 4 yd3}}\npour: {{rate: 4 yd3/h, {pour}}}\n",
        outline=box(16, 8),
    )


DAY = 'start: "07:00", until: "17:00"'


@pytest.mark.parametrize(
    ("weather", "hours"),
    [
        # rule of thumb (ACI 305R-10, 306R-16, quoted): half for 20 °F more; 4 h at 70 °F is common practice
        ("air: 70 °F", 4),
        ("air: 50 °F", 8),
        ("air: 90 °F, concrete: 70 °F", 4),  # by the concrete where both are known
        ("air: 35 °F", 4 * 2**1.75),
        ("air: 100 °F", 4 * 2**-1.5),
    ],
)
def test_saw_booked_finishing_by_the_warmth(weather: str, hours: float) -> None:
    (said,) = judged("saw-booked", booked(f'start: "07:00", until: "07:00", weather: {{{weather}}}'))

    assert said.shown.si == pytest.approx((1 + hours + 6) * 3600, abs=1e-6)


@pytest.mark.parametrize(("air", "end"), [("34.5 °F", "35 °F"), ("100.5 °F", "100 °F")])
def test_saw_booked_outside_the_rule_of_thumb_finishing_is_that_of_its_end(air: str, end: str) -> None:
    """Nobody has times for it: it is an estimate, and says at which end the finish is taken."""
    (said,) = judged("saw-booked", booked(f'start: "07:00", until: "14:30", weather: {{air: {air}}}'))

    assert said.limit.name == "late_after_finishing_at_most"
    assert "the finish is taken as at" in plain(said.says, "us", both=False)


@pytest.mark.parametrize(
    ("start", "wait", "write"),
    [
        ("07:00", "6 h", "18:00"),
        ("07:10", "6 h", "18:15"),
        ("16:00", "6 h", "03:00"),  # before the hour of the start: it can only be the next
        ("07:00", "19 h", "07:00 the next day"),  # the hour of the start itself
        ("07:05", "19 h", "07:15 the next day"),
        ("07:10", "19 h", "07:15 the next day"),
        ("07:20", "18 h", "06:30"),
        ("07:05", "1130 min", "07:00"),
        ("07:00", "20 h", "08:00 the next day"),
        ("07:00", "43 h", "07:00 2 days later"),
        ("07:00", "40 h", "04:00 2 days later"),
        ("07:00", "68 h", "08:00 3 days later"),
    ],
)
def test_saw_booked_the_hour_to_book_until(start: str, wait: str, write: str) -> None:
    # start + 1 h of placing + 4 h of finishing + wait, to the next quarter of an hour
    (finding,) = findings("saw-booked", booked(f'start: "{start}", until: "{start}", finishing: 4 h', wait))

    assert slot(finding, "until") == write


@pytest.mark.parametrize(
    ("until", "late"), [("18:00", 0), ("19:00", 0), ("17:30", 1800), ("17:29", 1860), ("07:00", 39600)]
)
def test_saw_booked_how_late_the_last_cut_comes(until: str, late: float) -> None:
    (said,) = judged("saw-booked", booked(f'start: "07:00", until: "{until}", finishing: 4 h'))

    assert isinstance(said, Finding if late > 1800 else Margin)
    assert said.shown.si == pytest.approx(late, abs=1e-6)


# saw-reach


def test_saw_reach_a_cut_into_a_corner_is_stopped_by_what_comes_first() -> None:
    edges = "edges: [{run: [A, B], beside: wall, name: garden wall}, {run: [B, C], beside: step, name: step}]\n"
    diagonal = "{kind: saw cut, from: A, to: C}, {kind: saw cut, from: D, to: B}"
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    said = findings("saw-reach", pad(points + edges + f"joints: [{diagonal}]", outline="[A, B, C, D]"))

    assert [one.says.values["faces"] for one in said] == ["garden wall and step"]
    assert [one.shown.si for one in said] == [3]


# saw-window


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (1, "joint J1"),
        (2, "joints J1, J2"),
        (4, "joints J1, J2, J3, J4"),
        (5, "joints J1, J2, J3, J4 and 1 more"),
    ],
)
def test_saw_window_four_cuts_that_wait_alike_are_named(number: int, told: str) -> None:
    written = [cut(2 * k, more=", cut_after: 30 h") for k in range(1, number + 1)]
    (comment,) = review_by("saw-window", pad(joints(*written), outline=box(16, 8))).comments

    assert comment.at.name == told
    assert comment.at.place.path == "joints[0]"
    assert comment.says.template.endswith("is cut" if number == 1 else "are cut")


def test_saw_window_cuts_that_wait_alike_are_told_together() -> None:
    first, second = cut(2, more=", cut_after: 120 min"), cut(4, more=", cut_after: 2 h")
    (comment,) = review_by("saw-window", pad(joints(first, second), outline=box(16, 8))).comments

    assert comment.at.name == "joints J1, J2"
    assert comment.shown.si == 2 * 3600


def test_saw_window_the_first_cut_is_where_its_wait_is_missing() -> None:
    (entry,) = review_by(
        "saw-window", pad(joints(cut(2, kind="tooled groove"), cut(4), cut(6)), outline=box(16, 8))
    ).not_shown

    assert entry.place.path == "joints[1]"


def test_panel_corners_of_a_round_slab_are_none() -> None:
    circle = "[{arc_to: [8, 4], through: [4, 8]}, {arc_to: [0, 4], through: [4, 0]}]"
    (width,) = judged("panel-corners", pad("", outline=circle))

    assert isinstance(width, Margin)
    assert width.limit.name == "width_at_least"


# joints that end at what stands in the slab


def posted(fixture: str, end: float) -> str:
    """A 16 ft slab with a fixture in the middle, and a joint from one edge that stops ``end`` ft before it."""
    return pad(f"fixtures: [{{{fixture}, at: [8, 8]}}]\n" + joints(cut(8, 8 - end)), side="16")


@pytest.mark.parametrize(
    ("fixture", "end", "loose"),
    [
        ("kind: post, size: 6 in", 0.25, False),  # at the face of a post 6 in wide
        ("kind: post, size: 6 in", 1.0, True),  # a foot short of it
        ("kind: post, size: 6 in, box_out: round, box_out_size: 14 in", 7 / 12, False),
        ("kind: post, size: 6 in, box_out: round, box_out_size: 14 in", 11 / 12, True),
        ("kind: post, size: 6 in, box_out: turned square, box_out_size: 14 in", 9.9 / 12, False),  # at its corner
        ("kind: column, size: 8 in, box_out: round", 1.0, False),  # a box-out of no size
        ("kind: drain, size: 12 in", 0.5, False),
        ("kind: downspout", 0.0, True),
    ],
)
def test_joint_ends_at_the_face_of_what_stands_in_the_slab(fixture: str, end: float, loose: bool) -> None:
    assert bool(review_by("joint-ends", posted(fixture, end)).comments) == loose


def test_joints_that_end_at_both_faces_of_a_post_part_the_slab() -> None:
    ends = "{kind: saw cut, from: [8, 0], to: [8, 7.75]}", "{kind: saw cut, from: [8, 8.25], to: [8, 16]}"
    plan = plan_of(pad("fixtures: [{kind: post, size: 6 in, at: [8, 8]}]\n" + joints(*ends), side="16"))

    assert [round(panel.short_side / FOOT, 6) for panel in plan.panels.all] == [8, 8]


def test_joint_ends_on_a_joint_with_filler_is_an_edge() -> None:
    filled = "{kind: formed strip, from: [0, 8], to: [16, 8], isolation: {material: foam, thickness: 1/2 in}}"
    plain = filled.replace(", isolation: {material: foam, thickness: 1/2 in}", "")

    assert not review_by("joint-ends", pad(joints(filled, cut(8, 8)), side="16")).comments
    assert weights(review_by("joint-ends", pad(joints(plain, cut(8, 8)), side="16"))) == [
        ("caution", "ends_on_joints_at_most")
    ]


# inside-corner-joint


@pytest.mark.parametrize(("wide", "served"), [(0.4, True), (0.5, True), (0.6, False)])
def test_a_joint_at_the_end_of_a_channel_serves_both_its_corners(wide: float, served: bool) -> None:
    half = wide / 2
    channel = f"[[0.5, {8 - half}], [15.5, {8 - half}], [15.5, {8 + half}], [0.5, {8 + half}]]"
    ends = "{kind: saw cut, from: [0, 8], to: [0.5, 8]}", "{kind: saw cut, from: [15.5, 8], to: [16, 8]}"
    slab = pad(f"openings: [{{name: channel, corners: {channel}}}]\n" + joints(*ends), side="16")

    assert bool(review_by("inside-corner-joint", slab).comments) != served


def test_a_rounded_opening_has_no_corners() -> None:
    ring = [[8 + 1.2 * math.cos(k * math.pi / 4), 8 + 1.2 * math.sin(k * math.pi / 4)] for k in range(8)]
    slab = pad(f"openings: [{{name: tree, corners: {ring}}}]", side="16")

    assert review_by("inside-corner-joint", slab).does_not_apply
