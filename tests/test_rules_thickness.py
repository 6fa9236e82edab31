"""Rules about thickness: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import math

import pytest
from comments import advice, only, value, weights
from design_text import plan_of, review_by
from slabwright.formulas import wheel_thickness
from slabwright.formulas.units import INCH, PCI, POUND_FORCE, PSI
from slabwright.review.report import Report
from slabwright.text.words import plain


def design(thickness: str = "4 in", more: str = "", use: str = "patio", unit: str = "ft") -> str:
    """A slab 10 by 10 with the corners A to D; ``more`` has whole sections."""
    return "\n".join([
        "format: 1",
        "job: {name: Test slab}",
        f"units: {{plan: {unit}, height: {unit}}}",
        f"use: {use}",
        "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], M: [5, 5]}",
        "outline: [A, B, C, D]",
        f"thickness: {thickness if ':' in thickness else f'{{design: {thickness}}}'}",
        more,
    ])  # fmt: skip


# least-thickness


def loaded(pounds: int) -> str:
    return f"loads: [{{vehicle: van, axle: {pounds} lb, wheels_per_axle: 2}}]"


@pytest.mark.parametrize(
    ("use", "thickness", "more", "found"),
    [
        ("driveway", "4 in", "", []),  # trade article on parking: 4 in as practical least
        ("driveway", "3 7/8 in", "", [("hold", "cars_at_least")]),
        ("garage floor", "3 1/2 in", "", [("hold", "cars_at_least")]),
        ("shop floor", "3 1/2 in", "", []),  # IBC 1910.1: 3-1/2 in
        ("shop floor", "3 3/8 in", "", [("hold", "floor_at_least")]),
        ("patio", "4 in", "", []),  # UFGS 03300N par. 3.8.3: 4 in
        ("walk", "3 1/2 in", "", [("caution", "walked_at_least")]),
        ("equipment pad", "3 1/2 in", "", [("caution", "walked_at_least")]),
        ("patio", "4 in", loaded(4000), []),
        ("patio", "4 in", loaded(4001), [("caution", "loaded_at_least")]),  # builders' magazine: 5 to 6 in
        ("driveway", "5 in", loaded(10600), []),  # specification CP-3.4: light up to 10,600 lb
        ("driveway", "5 in", loaded(10601), [("caution", "trucks_at_least")]),
        ("driveway", "6 in", loaded(18000), []),
        (
            "driveway",
            "5 in",
            "site: {right_of_way: true}",
            [("caution", "right_of_way_at_least")],
        ),  # Richardson TX: 6 in
        ("driveway", "6 in", "site: {right_of_way: true}", []),
        ("walk", "4 in", "site: {right_of_way: true}", []),  # a public walk without vehicles
        ("walk", "4 in", "site: {right_of_way: true}\n" + loaded(3000), [("caution", "right_of_way_at_least")]),
    ],
)
def test_least_thickness(use: str, thickness: str, more: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("least-thickness", design(thickness, more, use))) == found


def test_least_thickness_writes_what_passes_every_limit_at_once() -> None:
    comment = only(review_by("least-thickness", design("3 in", loaded(12000), "driveway")))

    assert comment.limit.name == "cars_at_least"  # the hold
    assert advice(comment) == "make the slab 6 in thick: 3 in more"
    assert comment.working[0].result.si == pytest.approx((3 / 4) ** 2)
    assert not review_by("least-thickness", design("6 in", loaded(12000), "driveway")).comments


@pytest.mark.parametrize(
    ("use", "thickness", "met"),
    [("patio", "100 mm", True), ("patio", "99 mm", False), ("driveway", "100 mm", True), ("shop floor", "85 mm", False),
     ("shop floor", "89 mm", True)],
)  # fmt: skip
def test_least_thickness_lets_metric_plans_write_100_mm(use: str, thickness: str, met: bool) -> None:
    # UFGS 03300N par. 3.8.3 prints 4 in (100 mm); IBC 1910.1 prints 3-1/2 in (89 mm)
    assert (review_by("least-thickness", design(thickness, use=use, unit="m")).comments == ()) is met


# base-depth


def heights(base: str, finish: str = "A: 100, B: 100, C: 100, D: 100") -> str:
    return f"heights: {{finish: {{{finish}}}, base: {{{base}}}}}"


def level(feet: float, corner: float | None = None) -> str:
    return ", ".join([*(f"{p}: {feet:.9f}" for p in "ABC"), f"D: {corner or feet:.9f}"])


@pytest.mark.parametrize(
    ("thickness", "mean", "found"),
    [
        # ACI 117-10 sec. 4.5.4: mean at least t - 3/8 in; 3.625, 4.625, 5.625 in printed for 4, 5, 6 in
        ("4 in", 3.625, []),
        ("4 in", 3.61, ["mean_short_at_most"]),
        ("5 in", 4.625, []),
        ("6 in", 5.61, ["mean_short_at_most"]),
        ("4 in", 9.0, []),  # there is no upper limit
    ],
)
def test_base_depth_mean(thickness: str, mean: float, found: list[str]) -> None:
    report = review_by("base-depth", design(thickness, heights(level(100 - mean / 12))))

    assert [c.limit.name for c in report.comments if c.limit.name == "mean_short_at_most"] == found


@pytest.mark.parametrize(
    ("depth", "found"),
    [
        # sec. 4.5.4: no sample under t - 3/4 in, 3.25 in of 4; before 2006 t - 1/4 in (ACI 117-90)
        (3.75, []),
        (3.74, [("caution", "spot_short_preferred_at_most")]),
        (3.26, [("caution", "spot_short_preferred_at_most")]),
        (3.24, [("hold", "spot_short_at_most")]),
        (2.75, [("hold", "spot_short_at_most")]),  # reported: a 4 in floor found 2-3/4 to 5 in
    ],
)
def test_base_depth_at_one_corner(depth: float, found: list[tuple[str, str]]) -> None:
    report = review_by("base-depth", design("4 in", heights(level(100 - 5 / 12, 100 - depth / 12))))

    assert weights(report) == found
    if found:
        assert only(report).at.name == "the base at D"
        assert only(report).shown.si == pytest.approx((4 - depth) * INCH, abs=1e-5)
        assert only(report).at.shape == ((0, pytest.approx(10 * 12 * INCH)),)


def test_base_depth_names_the_base_heights_that_leave_the_whole_thickness() -> None:
    comment = only(review_by("base-depth", design("4 in", heights(level(99.5, 99.75)))))

    # 100.00 - 4 in is 99.667 ft; written in hundredths, on the deep side
    assert advice(comment) == "lower the base at D by about 1 1/8 in, to 99.66 ft"
    assert not review_by("base-depth", design("4 in", heights(level(99.5, 99.66)))).comments


def test_base_depth_finds_the_thin_spot_over_a_valley_between_level_shots() -> None:
    finish = "A: 100, B: 100, C: 100, D: 100, M: 99.9"
    report = review_by("base-depth", design("4 in", heights(level(99.6667), finish)))
    comment = next(c for c in report.comments if c.limit.name == "spot_short_at_most")

    assert comment.at.name == "the base at M"
    assert comment.shown.si == pytest.approx(0.1 * 12 * INCH, abs=1e-4)
    assert advice(comment) == "lower the base at M by about 1 1/4 in, to 99.56 ft"


def test_base_depth_names_a_point_once_though_it_was_shot_twice() -> None:
    # the stake at M was shot again 3 mm beside it, and stands a hundredth higher there
    text = design("4 in", heights(level(99.5) + ", M: 99.75, M2: 99.76"))
    text = text.replace("M: [5, 5]", "M: [5, 5], M2: [5.01, 5]")
    comment = only(review_by("base-depth", text))

    assert advice(comment) == "lower the base at M by about 1 1/4 in, to 99.66 ft"


def test_base_depth_says_what_to_do_where_too_many_spots_are_high() -> None:
    shots = ", ".join(f"P{n}: 99.8" for n in range(7)) + ", M: 99.8"
    points = ", ".join(f"P{n}: [{1 + n}, {1 + n * n / 6:.3f}]" for n in range(7))
    text = design("4 in", f"heights: {{finish: {{A: 100, B: 100, C: 100, D: 100}}, base: {{{shots}}}}}")
    comment = review_by("base-depth", text.replace("M: [5, 5]", f"M: [5, 5], {points}")).comments[0]

    assert advice(comment) == "take about 1 5/8 in off the base wherever it stands high"


@pytest.mark.parametrize(
    ("more", "keys"),
    [
        ("", ["heights.finish", "heights.base"]),
        ("heights: {finish: {A: 1, B: 1, C: 1, D: 1}}", ["heights.base"]),
        ("heights: {finish: {A: 1, B: 1, C: 1}, base: {A: 0.6, B: 0.6, C: 0.6}}", ["heights.finish"]),
    ],
)
def test_base_depth_names_what_is_not_shown(more: str, keys: list[str]) -> None:
    (entry,) = review_by("base-depth", design(more=more)).not_shown

    assert [add.partition(":")[0] for add in entry.add] == keys


# form-board


def form(thickness: str, board: str, dug: bool = False, more: str = "") -> Report:
    written = f"{{design: {thickness}, form_board: {board}, dug_below_form: {str(dug).lower()}}}"
    return review_by("form-board", design(written, more))


@pytest.mark.parametrize(
    ("thickness", "board", "found"),
    [
        # dressed sizes: 2x4 is 3-1/2 in, 2x6 5-1/2 in, 2x8 7-1/4 in (lumber sizes, common practice)
        ("3 1/2 in", "2x4", []),
        ("4 in", "2x4", [("note", "short_preferred_at_most")]),
        ("4 1/4 in", "2x4", [("note", "short_preferred_at_most")]),  # t - 3/4 in
        ("4 3/8 in", "2x4", [("hold", "short_at_most")]),
        ("5 in", "2x6", []),
        ("6 in", "2x6", [("note", "short_preferred_at_most")]),
        ("8 in", "2x8", [("note", "short_preferred_at_most")]),
        ("4 in", "4 in", []),
    ],
)
def test_form_board(thickness: str, board: str, found: list[tuple[str, str]]) -> None:
    assert weights(form(thickness, board)) == found


def test_form_board_tells_the_concrete_lost_and_the_next_board() -> None:
    comment = only(form("4 in", "2x4"))

    assert comment.shown.si == pytest.approx(0.5 * INCH)
    assert comment.working[1].result.si == pytest.approx(0.125)  # an eighth
    assert advice(comment) == "form with 2x6 or deeper"
    assert plain(comment.remedies[1].says, "us", both=False) == (
        "dig the base 1/2 in below the board and write dug_below_form: true"
    )
    assert advice(only(form("12 in", "2x12"))).startswith("dig the base 3/4 in below")
    assert (
        plain(only(form("4 in", "3 in")).says, "us", both=False)
        == "the form board is 3 in deep, and the slab is drawn 4 in"
    )


def test_form_board_is_met_where_the_base_is_dug_below_it() -> None:
    report = form("4 in", "2x4", dug=True)

    assert not report.comments
    assert [entry.rule for entry in report.met] == ["form-board"]


def test_form_board_asks_for_the_board_and_does_not_apply_between_walls() -> None:
    silent = review_by("form-board", design())
    assert silent.not_shown[0].add == (
        "thickness.form_board: the board the form is made of, by its trade size or its real depth, such as 2x6",
    )

    walls = form("4 in", "2x4", more="edges: [{rest: wall}]")
    assert walls.does_not_apply[0].reason == "walls or old slabs stand all round, so nothing is formed"


# wheel-load

GROUND = "site: {soil: {support: 100 pci}}\nmix: {strength: 4000 psi}\n"


def wheels(
    thickness: str = "6 in",
    near: str = "true",
    axle: str = "9000 lb",
    more: str = GROUND,
    tires: int = 2,
    psi: int = 80,
) -> Report:
    edge = f", near_edge: {near}" if near else ""
    load = (
        f"loads: [{{vehicle: truck, axle: {axle}, wheels_per_axle: {tires}, tire_pressure: {psi} psi, "
        f"passes: 40000{edge}}}]"
    )
    return review_by("wheel-load", design(thickness, more + load))


def spare(report: Report) -> float:
    shown = report.comments[0].shown if report.comments else report.met[0].shown
    assert shown is not None
    return shown.si


def by_hand(place: str, h: float, pounds: float, psi: float, k: float = 100, fc: float = 4000) -> float:
    """Strength over stress in inches and pounds, from the printed forms (Huang, ch. 4; ACI 318)."""
    a, e = math.sqrt(pounds / math.pi / psi), 57000 * math.sqrt(fc)
    ell = (e * h**3 / (12 * (1 - 0.15**2) * k)) ** 0.25
    b = math.sqrt(1.6 * a * a + h * h) - 0.675 * h if a < 1.724 * h else a
    stress = {
        "interior": 0.316 * pounds / h**2 * (4 * math.log10(ell / b) + 1.069),
        "edge": 0.803 * pounds / h**2 * (4 * math.log10(ell / a) + 0.666 * a / ell - 0.034),
        "corner": 3 * pounds / h**2 * (1 - (1.772 * a / ell) ** 0.72),
    }
    return 7.5 * math.sqrt(fc) / stress[place]


def test_wheel_load_takes_the_worst_place_and_the_inside_alone_where_wheels_keep_away() -> None:
    assert spare(wheels(near="true")) == pytest.approx(by_hand("edge", 6, 4500, 80), rel=1e-3)
    stray = wheels(near="")  # no wheels are said to run there: the first pass over the edge decides
    assert stray.met[0].limit is not None and stray.met[0].limit.name == "breaking_at_least"
    assert spare(wheels(near="false")) == pytest.approx(by_hand("interior", 6, 4500, 80), rel=5e-3)


def test_wheel_load_takes_the_two_tires_of_a_pair_as_one() -> None:
    assert spare(wheels(tires=4)) == pytest.approx(by_hand("edge", 6, 4500, 80), rel=1e-3)
    assert spare(wheels(tires=3)) == pytest.approx(by_hand("edge", 6, 3000, 80), rel=1e-3)


@pytest.mark.parametrize(
    ("base", "k"),
    [  # PCA and ACI 360R (recalled): 100 pci becomes 130 on 4 in and 140 on 6 in of untreated base, 190 on 12 in
        ("{material: crushed stone, thickness: 4 in}", 130), ("{material: pit gravel, thickness: 6 in}", 140),
        ("{material: crushed stone, thickness: 20 in}", 190), ("{material: crushed stone, thickness: 3 in}", 100),
        ("{material: sand, thickness: 6 in}", 100), ("{thickness: 6 in}", 100), ("{material: crushed stone}", 100),
    ],
)  # fmt: skip
def test_wheel_load_counts_a_granular_base_where_the_table_does(base: str, k: float) -> None:
    ground = f"site: {{soil: {{support: 100 pci}}, base: {base}}}\nmix: {{strength: 4000 psi}}\n"

    assert spare(wheels(more=ground)) == pytest.approx(by_hand("edge", 6, 4500, 80, k), rel=1e-3)


@pytest.mark.parametrize(
    ("thickness", "near", "weight"),
    [("4 in", "true", "breaking"), ("6 in", "true", "more"), ("8 in", "true", ""), ("6 in", "false", "")],
)
def test_wheel_load_weighs_what_is_spare(thickness: str, near: str, weight: str) -> None:
    report = wheels(thickness, near)

    assert [comment.limit.name.partition("_")[0] for comment in report.comments] == ([weight] if weight else [])
    for comment in report.comments:
        assert comment.weight == "caution"
        assert (comment.shown.si < 1) == (weight == "breaking")
        assert ("may crack" in comment.says.template) == (weight == "breaking")


@pytest.mark.parametrize(
    ("use", "passes", "limit"),
    [  # 1.6 to 10,000 passes, 1.7 to 40,000, 2.0 beyond: the fatigue curve of 1984 (recalled)
        ("vehicle pad", "", "some_passes_at_least"), ("equipment pad", "", "lasting_at_least"),
        # cars and pickups come and go at a shop as at a house (common practice)
        ("shop floor", "", "some_passes_at_least"), ("barn floor", "", "some_passes_at_least"),
        ("vehicle pad", ", passes: 10000", "some_passes_at_least"),
        ("vehicle pad", ", passes: 10001", "more_passes_at_least"),
        ("shop floor", ", passes: 40000", "more_passes_at_least"), ("patio", ", passes: 40001", "lasting_at_least"),
    ],
)  # fmt: skip
def test_wheel_load_asks_by_the_passes(use: str, passes: str, limit: str) -> None:
    load = f"{{vehicle: van, axle: 1000 lb, wheels_per_axle: 2, tire_pressure: 40 psi, near_edge: true{passes}}}"
    (met,) = review_by("wheel-load", design("6 in", f"{GROUND}loads: [{load}]", use)).met

    assert met.limit is not None and met.limit.name == limit


@pytest.mark.parametrize(
    ("use", "axle", "limit"),
    [("shop floor", 6000, "some"), ("shop floor", 6001, "lasting"), ("barn floor", 6001, "some")],
)
def test_wheel_load_takes_a_shop_that_trucks_come_into_as_busy(use: str, axle: int, limit: str) -> None:
    load = f"{{vehicle: truck, axle: {axle} lb, wheels_per_axle: 4, tire_pressure: 80 psi, near_edge: true}}"
    report = review_by("wheel-load", design("12 in", f"{GROUND}loads: [{load}]", use))
    assert [one.limit.name for one in report.met if one.limit] == [f"{limit}{'_passes' * (limit == 'some')}_at_least"]


@pytest.mark.parametrize(("passes", "found"), [(1000, []), (1500, ["some_passes_at_least"])])
def test_wheel_load_is_met_by_a_slab_that_bears_the_few_passes_written(passes: int, found: list[str]) -> None:
    """4,500 lb at an edge of 6 in: strength over stress 1.40, which bears 1,250 passes by the curve of 1984."""
    load = f"axle: 9000 lb, wheels_per_axle: 2, tire_pressure: 80 psi, near_edge: true, passes: {passes}"
    report = review_by("wheel-load", design("6 in", f"{GROUND}loads: [{{vehicle: van, {load}}}]", "vehicle pad"))

    assert pytest.approx(10 ** ((0.9719 - 1 / by_hand("edge", 6, 4500, 80)) / 0.0828), rel=0.01) == 1250
    assert [one.limit.name for one in report.comments] == found


@pytest.mark.parametrize(
    ("locked", "part"), [("", 1.0), (", locked_by: key", 0.75), (", locked_by: dowels", 0.75)]
)  # a quarter off at joints that hand load over: Army floor method (quoted)
def test_wheel_load_takes_a_construction_joint_for_an_edge(locked: str, part: float) -> None:
    joint = f"joints: [{{name: J, kind: construction joint, from: [6, 0], to: [6, 10], depth: 6 in{locked}}}]\n"
    (comment,) = wheels(near="false", axle="14000 lb", more=joint + GROUND).comments

    assert comment.shown.si == pytest.approx(by_hand("edge", 6, 7000, 80) / part, rel=1e-3)
    assert comment.says.values == {"vehicle": "the truck", "spot": "at joint J"}
    assert "at joint J" in plain(comment.says, "us")


@pytest.mark.parametrize(("soil", "k"), [("", 100), ("kind: sandy clay", 100), ("kind: soft wet clay", 50)])
def test_wheel_load_takes_the_ground_where_nobody_tested(soil: str, k: float) -> None:
    """100 pci: TM 5-809-12 Table 3-2 is built on it (read); 50 pci wet clay (recalled)."""
    ground = f"mix: {{strength: 4000 psi}}\nsite: {{soil: {{{soil}}}}}\n" if soil else "mix: {strength: 4000 psi}\n"

    assert spare(wheels(more=ground)) == pytest.approx(by_hand("edge", 6, 4500, 80, k), rel=1e-3)


def test_wheel_load_solves_for_the_thickness_that_passes() -> None:
    comment = only(wheels("6 in"))
    write = value(comment, "write")

    assert write / (INCH / 4) == pytest.approx(round(write / (INCH / 4)))
    assert by_hand("edge", write / INCH, 4500, 80) >= 1.7
    assert by_hand("edge", write / INCH - 0.25, 4500, 80) < 1.7
    assert not wheels(f"{write / INCH} in").comments
    assert [plain(one.says, "us", both=False).split(" deep ")[0] for one in comment.remedies] == [
        "make the slab 7 in", "make the slab 7 in thick",
    ]  # fmt: skip


def test_wheel_load_takes_each_edge_at_its_own_depth() -> None:
    thick = "{{design: 6 in, thickened_edges: [{{run: [A, B], depth: {d}, taper: 3 ft}}]}}"
    crossed = "edges: [{run: [A, B], beside: gravel, name: lane, wheels_cross: true}, {rest: lawn}]\n" + GROUND

    # wheels run along all of them: one thick edge does not hide the thin ones
    assert spare(wheels(thick.format(d="12 in"))) == pytest.approx(by_hand("edge", 6, 4500, 80), rel=1e-3)
    # they cross one
    assert spare(wheels(thick.format(d="7 in"), "", more=crossed)) == pytest.approx(
        by_hand("edge", 7, 4500, 80), rel=1e-3
    )
    comment = only(wheels(thick.format(d="6 1/2 in"), "", more=crossed))
    assert advice(comment) == "make the slab 7 in deep at lane, brought back over 3'-0\""
    assert not wheels(thick.format(d="7 in"), "", more=crossed).comments


def test_wheel_load_says_how_to_get_away_from_an_edge_that_was_not_spoken_of() -> None:
    _, away, _ = only(wheels("4 3/4 in", near="")).remedies
    assert plain(away.says, "us") == "write near_edge: false, if wheels keep 2 ft off the edges"


def test_wheel_load_inside_asks_for_a_thicker_slab_only() -> None:
    comment = only(wheels("4 in", near="false", axle="16000 lb"))

    lasts, once = value(comment, "write") / INCH, value(comment, "once") / INCH
    assert advice(comment) == "make the slab 6 1/4 in thick; 4 1/2 in all over is the least that bears a single pass"
    assert by_hand("interior", once, 8000, 80) >= 1.0 > by_hand("interior", once - 0.25, 8000, 80)
    assert by_hand("interior", lasts, 8000, 80) >= 1.7 > by_hand("interior", lasts - 0.25, 8000, 80)
    assert not wheels(f"{value(comment, 'write') / INCH} in", near="false", axle="16000 lb").comments


def test_wheel_load_gives_up_where_no_plain_slab_will_do() -> None:
    comment = only(wheels("6 in", axle="200000 lb", psi=120))

    assert advice(comment).startswith("no plain slab up to 18 in carries it")


def test_wheel_load_takes_a_hard_tire_where_only_one_pressure_is_written() -> None:
    loads = (
        "loads: [{vehicle: van, axle: 2000 lb, wheels_per_axle: 2, tire_pressure: 40 psi, near_edge: true}, "
        "{vehicle: truck, axle: 9000 lb, wheels_per_axle: 2, near_edge: true}]"
    )
    comment = only(review_by("wheel-load", design("6 in", GROUND + loads)))

    assert comment.at.name == "the truck"
    assert comment.shown.si == pytest.approx(by_hand("edge", 6, 4500, 110), rel=1e-3)  # tire tables (recalled): 110 psi


def test_wheel_load_takes_braces_in_a_name_for_what_they_are() -> None:
    truck = "loads: [{vehicle: 'truck {x}', axle: 30000 lb, wheels_per_axle: 2, tire_pressure: 100 psi}]"
    edges = "edges: [{run: [A, B], beside: lawn, name: 'side {y}', wheels_cross: true}, {rest: lawn}]\n"
    bulkhead = "joints: [{kind: construction joint, from: [5, 0], to: [5, 10]}]\n"
    comment = only(review_by("wheel-load", design("4 in", GROUND + edges + bulkhead + truck, "vehicle pad")))
    assert "truck {x}" in plain(comment.says, "us") and "truck {x}" in plain(comment.to_pass, "us")


def test_wheel_load_asks_for_what_it_needs() -> None:
    load = "loads: [{vehicle: van, axle: 2000 lb, wheels_per_axle: 2}]"
    (entry,) = review_by("wheel-load", design(more=load)).not_shown

    assert [add.partition(":")[0] for add in entry.add] == ["mix.strength"]
    assert review_by("wheel-load", design()).does_not_apply[0].reason == "no vehicle is written (loads)"


def test_a_wide_soft_tire_on_a_stiff_ground_is_taken_at_half_the_stiffness_radius() -> None:
    wide = wheel_thickness.Wheel(20000 * POUND_FORCE, 1.0, 4e6 * PSI, 900 * PCI)
    ell = (4e6 * 4**3 / (12 * (1 - 0.15**2) * 900)) ** 0.25 * INCH
    half = wide._replace(radius=ell / 2)

    for place in wheel_thickness.EQUATIONS:
        stress = wheel_thickness.wheel_stress(place, wide, 4 * INCH)
        assert stress == pytest.approx(wheel_thickness.wheel_stress(place, half, 4 * INCH))
    assert wheel_thickness.least_thickness((), wide, 1.0) == 2 * INCH
    assert wheel_thickness.least_thickness(("edge",), wide, 1.0) == math.inf


def test_a_whole_plan_with_soft_ground_and_wide_tires_is_judged_without_an_error() -> None:
    ground = "site: {soil: {support: 1400 pci}}\nmix: {strength: 2500 psi}\n"

    assert wheels("2 in", axle="40000 lb", more=ground, psi=10).comments
    assert plan_of(design()).carries_vehicles is False
