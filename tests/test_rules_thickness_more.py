"""Rules about thick edges, steps in the base, and hard things below: branches, limits, and what leaves them out."""

from __future__ import annotations

import pytest
from comments import added, only, reason
from design_text import plan_of, review_by
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

FOOT, INCH = 0.3048, 0.0254
POUND_PER_FOOT = 0.45359237 * 9.80665 / FOOT  # N/m, NIST SP 811


# thickened-edge-under-wheels


def stand(
    edges: str, axle: str = "6000 lb", thickness: str = "{design: 6 in}", unit: str = "ft", loads: bool = True
) -> str:
    side = "12" if unit == "ft" else "3.6"
    load = f"loads: [{{vehicle: van, axle: {axle}, wheels_per_axle: 2}}]" if loads else ""
    return f"""
format: 1
job: {{name: Test stand}}
units: {{plan: {unit}, height: {unit}}}
use: vehicle pad
points: {{A: [0, 0], B: [{side}, 0], C: [{side}, {side}], D: [0, {side}]}}
outline: [A, B, C, D]
edges: {edges}
thickness: {thickness}
{load}
"""


STREET = "[{run: [A, B], beside: street, name: street end}, {rest: lawn}]"


@pytest.mark.parametrize(("design", "edge"), [("4 in", 5.0), ("5 in", 6.25), ("6 in", 7.5), ("8 in", 10.0)])
def test_a_street_edge_is_a_quarter_thicker(design: str, edge: float) -> None:
    # 1.25 t: TM 5-809-12, TM 5-822-5 ch. 15-16 (read); 5 in gives 6.25 in in the published check th-edge-125
    comment = only(review_by("thickened-edge-under-wheels", stand(STREET, thickness=f"{{design: {design}}}")))

    assert (comment.weight, comment.limit.name) == ("note", "part_of_thickness_at_least")
    assert comment.asked.si == pytest.approx(edge * INCH)
    write = comment.to_pass.values["write"]
    assert isinstance(write, Amount)
    assert write.si == pytest.approx(edge * INCH)  # whole quarter inches all of them
    assert plain(comment.says, "us") == "heavy wheels come on over street end, where the slab is no thicker for it"


def test_a_thick_edge_beside_it_does_not_make_an_edge_thick() -> None:
    thick = "{design: 6 in, thickened_edges: [{run: [B, C], depth: 10 in, taper: 3 ft}]}"

    assert only(review_by("thickened-edge-under-wheels", stand(STREET, thickness=thick))).shown.si == pytest.approx(
        6 * INCH
    )


def test_wheels_cross_where_the_file_says_so_and_nowhere_else() -> None:
    lane = "[{run: [A, B], beside: gravel, name: lane, wheels_cross: true}, {rest: lawn}]"
    kept_off = "[{run: [A, B], beside: street, wheels_cross: false}, {rest: wall}]"

    assert only(review_by("thickened-edge-under-wheels", stand(lane))).at.name == "lane"
    assert reason(review_by("thickened-edge-under-wheels", stand(kept_off))) == "no wheels cross an edge"
    assert added(review_by("thickened-edge-under-wheels", stand("[{rest: lawn}]"))) == (
        "edges, wheels_cross: the edge that vehicles drive on and off over, such as true",
    )


@pytest.mark.parametrize(("axle", "weight"), [("10600 lb", "note"), ("10601 lb", "caution")])
def test_trucks_ask_for_a_thick_edge_with_more_weight(axle: str, weight: str) -> None:
    # specification CP-3.4 (read): light-duty parking ends at 10,600 lb
    assert only(review_by("thickened-edge-under-wheels", stand(STREET, axle))).weight == weight


def test_an_edge_that_is_tied_hands_the_wheels_over() -> None:
    tied = "[{run: [A, B], beside: existing slab, wheels_cross: true, tied: true}, {rest: lawn}]"

    assert not review_by("thickened-edge-under-wheels", stand(tied)).comments


def test_nine_hundred_millimeters_are_three_feet_on_a_metric_plan() -> None:
    thick = "{design: 150 mm, thickened_edges: [{run: [A, B], depth: 200 mm, width: 300 mm, taper: 600 mm}]}"

    assert not review_by("thickened-edge-under-wheels", stand(STREET, "27 kN", thick, "m")).comments


@pytest.mark.parametrize(("axle", "heavy"), [("4000 lb", False), ("4001 lb", True), ("17.7 kN", False)])
def test_an_axle_is_heavy_over_four_thousand_pounds(axle: str, heavy: bool) -> None:
    # common practice; 4,000 lb are 17.79 kN (NIST SP 811)
    report = review_by("thickened-edge-under-wheels", stand(STREET, axle))

    assert bool(report.comments) is heavy
    if not heavy:
        assert reason(report) == "no heavy axle is written (loads)"


def test_a_metric_edge_is_written_to_five_millimeters() -> None:
    comment = only(
        review_by("thickened-edge-under-wheels", stand(STREET, "27 kN", "{design: 125 mm}", "m"))
    )  # 1.25 x 125 = 156.25 mm

    assert plain(comment.to_pass, "metric", both=False).startswith(
        "make this slab 160 mm deep along street end, brought back to 125 mm over 0.9 m"
    )


@pytest.mark.parametrize(
    ("width", "taper", "met"), [("0 ft", "3 ft", True), ("1 ft", "2 ft", True), ("6 in", "2 ft", False)]
)
def test_extra_depth_ends_three_feet_in(width: str, taper: str, met: bool) -> None:
    # 3 ft: TM 5-822-5 ch. 15-16, roads (read)
    thick = f"{{design: 6 in, thickened_edges: [{{run: [A, B], depth: 8 in, width: {width}, taper: {taper}}}]}}"
    report = review_by("thickened-edge-under-wheels", stand(STREET, thickness=thick))

    assert (report.comments == ()) is met
    if not met:
        assert (only(report).weight, only(report).limit.name) == ("note", "brought_back_over_at_least")
        assert plain(only(report).to_pass, "us", both=False) == 'bring thickened edge 1 back over 2\'-6": 6" more'


@pytest.mark.parametrize("deep", ["6 in", "4 in"])
def test_an_edge_no_deeper_than_the_slab_has_nothing_to_bring_back(deep: str) -> None:
    # 7.5 in asked where wheels cross (1.25 x 6 in), which the edge is not; its short taper is no matter
    thick = f"{{design: 6 in, thickened_edges: [{{run: [A, B], depth: {deep}, taper: 1 ft}}]}}"

    comment = only(review_by("thickened-edge-under-wheels", stand(STREET, thickness=thick)))

    assert comment.limit.name == "part_of_thickness_at_least"


# base-step


def dug(base: str, finish: str = "", more: str = "E: [5, 5], F: [5, 6.5]") -> str:
    return f"""
format: 1
job: {{name: Test apron}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], {more}}}
outline: [A, B, C, D]
heights: {{{finish}base: {{{base}}}}}
thickness: {{design: 4 in}}
"""


def test_a_base_that_follows_the_slab_has_no_step() -> None:
    # the finish falls 2 in in 2 ft, 1 in 12, and the base with it
    finish = "finish: {A: 101, B: 101, C: 100.1667, D: 100.1667}, "
    follows = dug("A: 100.6667, B: 100.6667, E: 100.25, F: 100.0833", finish, "E: [5, 5], F: [5, 7]")

    report = review_by("base-step", follows)

    assert report.comments == ()
    assert only(review_by("base-step", dug("E: 100.25, F: 100.0833", "", "E: [5, 5], F: [5, 7]"))).shown.si == (
        pytest.approx(0.1667 * FOOT, abs=1e-6)
    )  # without a finish the base alone counts


def test_the_step_is_cut_down_to_what_is_allowed() -> None:
    comment = only(review_by("base-step", dug("A: 99.60, B: 99.60, E: 99.60, F: 99.40")))

    # 0.20 ft = 2.4 in; 1 1/2 in of it may stay, 0.9 in goes: 0.075 ft under 99.60 is 99.525, written 99.52
    assert comment.shown.si == pytest.approx(2.4 * INCH)
    assert plain(comment.to_pass, "us", both=False) == "lower the base at E by about 15/16 in, to 99.52 ft"


def test_shots_over_two_feet_apart_tell_of_no_step() -> None:
    far = dug("E: 99.60, F: 99.20", more="E: [5, 5], F: [5, 7.01]")
    near = dug("E: 99.60, F: 99.20", more="E: [5, 5], F: [5, 7]")

    assert reason(review_by("base-step", far)) == "no two base shots lie within 2 ft of each other"
    assert len(review_by("base-step", near).comments) == 1


def test_a_base_that_is_not_shot_is_not_shown() -> None:
    bare = dug("E: 99").replace("heights: {base: {E: 99}}\n", "")

    asked = "heights.base: three or more heights of the prepared base on the slab, such as A: 99.50"
    assert added(review_by("base-step", bare)) == (asked,)


def test_each_high_shot_is_told_once_with_its_worst_neighbor() -> None:
    three = dug("E: 99.60, F: 99.40, G: 99.30", more="E: [5, 5], F: [5, 6], G: [5, 4]")

    comment = only(review_by("base-step", three))

    assert comment.at.shape[0] == pytest.approx((5 * FOOT, 5 * FOOT))
    assert comment.shown.si == pytest.approx(0.30 * FOOT)


@pytest.mark.parametrize(("deep", "met"), [("99.48", True), ("99.47", False)])
def test_a_lone_hole_is_told(deep: str, met: bool) -> None:
    # 1 1/2 in: common practice; the others lie at 99.60, 1 1/2 in is 0.125 ft
    level = "A: 99.60, B: 99.60, C: 99.60, D: 99.60"
    hole = dug(f"{level}, E: {deep}", "finish: {A: 100, B: 100, C: 100, D: 100}, ")
    report = review_by("base-step", hole)

    assert (report.comments == ()) is met
    if not met:
        assert (only(report).weight, only(report).limit.name) == ("note", "hole_at_most")
        assert plain(only(report).to_pass, "us", both=False) == "raise the base at E by about 1 1/2 in, to 99.60 ft"
    two = hole.replace("F: [5, 6.5]", "F: [2, 2]").replace(f"E: {deep}", f"E: {deep}, F: {deep}")
    assert not review_by("base-step", two).comments  # dug on purpose, as for pads


# depth-over-footings


def over(depth: str, thickness: str = "4 in", more: str = "") -> str:
    return f"""
format: 1
job: {{name: Test porch}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [10, 0], C: [10, 8], D: [0, 8]}}
outline: [A, B, C, D]
thickness:
  design: {thickness}
  over: [{{name: old pier, at: [5, 0], depth: {depth}}}]
{more}
"""


@pytest.mark.parametrize(
    ("depth", "thickness", "weight"),
    [
        (
            "3 1/4 in",
            "4 in",
            "caution",
        ),  # ACI 117-10 sec. 4.5.4: any sample at least t - 3/4 in (quoted): th-tolerance-4in
        ("3.24 in", "4 in", "hold"),
        ("4 1/4 in", "5 in", "caution"),
        ("3 1/2 in", "5 in", "hold"),  # trade-magazine Q&A: 5 in cored at 3 1/2 in is refused
        ("3 3/4 in", "4 in", ""),  # ACI 117-90: -1/4 in (read)
        ("6 in", "4 in", ""),  # no limit on too much
    ],
)
def test_concrete_over_a_pier_counts_like_a_sample(depth: str, thickness: str, weight: str) -> None:
    assert [one.weight for one in review_by("depth-over-footings", over(depth, thickness)).comments] == [weight][
        : len(weight)
    ]


def test_over_a_thick_edge_the_whole_depth_is_asked() -> None:
    thick = over("4 in", more="  thickened_edges: [{run: [A, B], depth: 8 in, taper: 3 ft}]")

    comment = only(review_by("depth-over-footings", thick))

    assert comment.shown.si == pytest.approx(4 * INCH)
    assert plain(comment.to_pass, "us", both=False) == "take 4 in off the old pier, so that 8 in fits over it"


def test_nothing_below_is_nothing_to_judge() -> None:
    bare = over("4 in").replace("  over: [{name: old pier, at: [5, 0], depth: 4 in}]\n", "")

    assert plan_of(bare).design.thickness.over == ()
    assert reason(review_by("depth-over-footings", bare)) == "nothing hard is named below the slab (thickness.over)"


# wall-line-load


def walled(
    load: str,
    thickness: str = "6 in",
    strength: str = "4000 psi",
    support: str = "100 pci",
    along: str = "[[10, 5], [10, 15]]",
) -> str:
    mix = f"mix: {{strength: {strength}}}" if strength else ""
    soil = f"site: {{soil: {{support: {support}}}}}" if support else ""
    return f"""
format: 1
job: {{name: Test floor}}
units: {{plan: ft, height: ft}}
use: shop floor
outline: [[0, 0], [20, 0], [20, 20], [0, 20]]
thickness: {{design: {thickness}}}
{mix}
{soil}
line_loads: [{{name: partition, along: {along}, load: {load}}}]
"""


@pytest.mark.parametrize(
    ("thickness", "rupture", "pounds"),
    [
        # TM 5-809-12 Table 3-2 (read), k 100 pci; the formula behind it meets the table within 5 lb/ft
        ("4 in", 550, 425),
        ("5 in", 600, 600),
        ("6 in", 650, 805),
        ("7 in", 700, 1030),
        ("8 in", 600, 1080),
        ("10 in", 550, 1340),
    ],
)
def test_walls_of_the_army_table(thickness: str, rupture: int, pounds: int) -> None:
    strength = f"{(rupture / 9) ** 2:.4f} psi"  # the table is built on 9 root f'c, its own note

    light = review_by("wall-line-load", walled(f"{pounds - 6} lb/ft", thickness, strength))
    heavy = review_by("wall-line-load", walled(f"{pounds + 6} lb/ft", thickness, strength))

    assert light.comments == ()
    assert (only(heavy).weight, only(heavy).limit.name) == ("caution", "part_of_table_at_most")
    assert only(heavy).asked.si == pytest.approx(pounds * POUND_PER_FOOT, abs=5 * POUND_PER_FOOT)


@pytest.mark.parametrize(
    ("along", "pounds"), [("[[1, 3], [1, 17]]", 331), ("[[3, 3], [3, 17]]", 425), ("[[0, 9], [9, 9]]", 425)]
)
def test_a_wall_along_an_edge_has_less_under_it(along: str, pounds: int) -> None:
    # 9.9256 in place of 12.8 at a free edge (TM 5-809-12 app. B, recalled): check th-wall-edge-4in-550
    strength = f"{(550 / 9) ** 2:.4f} psi"
    comment = only(review_by("wall-line-load", walled("2000 lb/ft", "4 in", strength, along=along)))

    assert comment.asked.si == pytest.approx(pounds * POUND_PER_FOOT, abs=5 * POUND_PER_FOOT)


@pytest.mark.parametrize(
    ("thickness", "strength", "support"),
    [("2 3/4 in", "4000 psi", "100 pci"), ("6 in", "1900 psi", "100 pci"), ("6 in", "4000 psi", "20 pci")],
)
def test_where_the_form_does_not_hold_nothing_is_claimed(thickness: str, strength: str, support: str) -> None:
    outside = "the slab, the concrete or the ground is weaker than the form for walls holds for"
    assert reason(review_by("wall-line-load", walled("500 lb/ft", thickness, strength, support))) == outside


def test_past_the_table_its_last_value_is_taken() -> None:
    # 700 psi, 10 in, 300 pci are the ends: stronger, thicker and stiffer count as that
    ends = only(review_by("wall-line-load", walled("9000 lb/ft", "10 in", "6049.4 psi", "300 pci")))
    past = only(review_by("wall-line-load", walled("9000 lb/ft", "12 in", "8000 psi", "500 pci")))

    assert past.asked.si == pytest.approx(ends.asked.si, rel=1e-4)
    assert plain(past.to_pass, "us", both=False) == "give the partition a footing of its own"


def test_a_wall_needs_the_mix() -> None:
    assert added(review_by("wall-line-load", walled("400 lb/ft", strength="", support=""))) == (
        "mix.strength: compressive strength at 28 days, on cylinders, such as 4000 psi",
    )
    assert reason(review_by("wall-line-load", dug("E: 99"))) == "no wall is written (line_loads)"
