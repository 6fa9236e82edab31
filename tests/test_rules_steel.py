"""Rules about steel: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import review_by, rule_named
from slabwright.formulas.steel import least_cover
from slabwright.formulas.units import FOOT, INCH
from slabwright.review.report import Report
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, read

RULES = ("steel-held-up", "steel-position", "bar-spacing", "stone-between-bars", "steel-at-joints")


def review(
    rule: str, steel: str, thickness: str = "5 in", more: str = "", use: str = "shop floor", unit: str = "ft"
) -> Report:
    """The review of a slab 12 by 9 with ``steel`` under reinforcement."""
    size = "[[0, 0], [12, 0], [12, 9], [0, 9]]" if unit == "ft" else "[[0, 0], [4, 0], [4, 3], [0, 3]]"
    return review_by(rule, "\n".join([
        "format: 1",
        "job: {name: Test slab}",
        f"units: {{plan: {unit}, height: {unit}}}",
        f"use: {use}",
        f"outline: {size}",
        f"thickness: {{design: {thickness}}}",
        f"reinforcement: {steel}" if steel else "",
        more,
    ]))  # fmt: skip


def bars(size: str = "#4", spacing: str = "18 in", **more: str) -> str:
    return f'{{bars: {{size: "{size}", spacing: {spacing}' + "".join(f", {k}: {v}" for k, v in more.items()) + "}}"


def mesh(style: str = "6x6 W2.9", **more: str) -> str:
    return f"{{mesh: {{style: {style}" + "".join(f", {key}: {value}" for key, value in more.items()) + "}}"


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("steel", ["none", "{fiber: {kind: micro synthetic, dose: 1.5 lb/yd3}}"])
def test_rules_on_steel_do_not_apply_without_bars_and_mesh(rule: str, steel: str) -> None:
    assert review(rule, steel).does_not_apply


def test_one_rule_asks_for_the_steel_of_a_plan_that_says_nothing() -> None:
    asking = [rule for rule in RULES if review(rule, "").not_shown]

    assert asking == ["steel-held-up"]
    assert review("steel-held-up", "").not_shown[0].add[0].startswith("reinforcement: ")


# steel-held-up


@pytest.mark.parametrize(
    ("steel", "found"),
    [
        # ACI 302.1R-15 sec. 5.2.4 (quoted): no hooking up, no walking in
        (bars(held_by="nothing"), [("hold", "held_part_at_least")]),
        (mesh(held_by="hooked up by hand"), [("hold", "held_part_at_least")]),
        (bars(held_by="chairs"), []),
        (bars(held_by="stakes", support_spacing="4 ft"), []),  # 4 ft for #4 bars, common practice
        (bars(held_by="chairs", support_spacing="4 ft 1 in"), [("caution", "bar_supports_at_most")]),
        (mesh(held_by="concrete blocks", support_spacing="3 ft"), []),  # 3 ft, Florida code by a supplier (practice)
        (mesh(held_by="concrete blocks", support_spacing="3 ft 1 in"), [("note", "mesh_supports_at_most")]),
    ],
)
def test_steel_held_up(steel: str, found: list[tuple[str, str]]) -> None:
    assert weights(review("steel-held-up", steel)) == found


@pytest.mark.parametrize(
    ("held_by", "says"),
    [
        ("nothing", "nothing holds the bars up"),
        ("hooked up by hand", "the bars hooked up by hand will sink back as soon as somebody steps there"),
    ],
)
def test_steel_held_up_says_which(held_by: str, says: str) -> None:
    assert plain(only(review("steel-held-up", bars(held_by=held_by))).says, "us") == says


def test_steel_held_up_asks_what_holds_it() -> None:
    (entry,) = review("steel-held-up", bars()).not_shown

    assert entry.add[0].startswith("reinforcement.bars.held_by: what holds the steel")


@pytest.mark.parametrize(
    ("steel", "system", "met"),
    [  # 3 ft for mesh and #3, 4 ft from #4 up, 1 m on metric plans: common practice
        (bars("#3", held_by="chairs", support_spacing="3 ft"), "ft", True),
        (bars("#3", held_by="chairs", support_spacing="4 ft"), "ft", False),
        (bars("10 mm", held_by="chairs", support_spacing="1 m"), "m", True),
        (bars("10 mm", held_by="chairs", support_spacing="1.05 m"), "m", False),
        (bars("12 mm", held_by="chairs", support_spacing="1.2 m"), "m", True),
    ],
)
def test_thin_steel_wants_its_supports_closer(steel: str, system: str, met: bool) -> None:
    assert bool(review("steel-held-up", steel, unit=system).comments) is not met


def test_steel_held_up_counts_the_chairs() -> None:
    comment = only(review("steel-held-up", mesh(held_by="nothing")))

    # 108 ft2 over 3 ft by 3 ft
    assert advice(comment) == "set the mesh on chairs every 3 ft both ways, about 12 of them"
    assert not review("steel-held-up", mesh(held_by="chairs", support_spacing="3 ft")).comments


def test_bars_and_mesh_are_judged_each_by_itself() -> None:
    both = bars(held_by="chairs")[:-1] + ", " + mesh(held_by="nothing")[1:]

    assert [comment.at.name for comment in review("steel-held-up", both).comments] == ["the mesh"]


# steel-position


def test_the_cover_asked_is_that_of_the_table() -> None:
    # ACI 318-19 Table 20.5.1.3.1 (read): weather #6 and larger 2 in, #5 and smaller 1-1/2 in; interior slab 3/4 in
    limits = {limit.name: read(limit.value, limit.kind).si for limit in rule_named("steel-position").limits}

    assert limits["cover_outdoors_at_least"] == pytest.approx(least_cover("weather or ground", 0.625 * INCH))
    assert limits["cover_thick_bars_at_least"] == pytest.approx(least_cover("weather or ground", 0.750 * INCH))
    assert limits["cover_indoors_at_least"] == pytest.approx(least_cover("interior slab", 0.5 * INCH))


@pytest.mark.parametrize(
    ("steel", "thickness", "use", "found"),
    [
        # dwelling code (quoted): between mid-depth and the upper third; cover as in the table above
        (bars(top_cover="2 in"), "5 in", "patio", []),  # 2 in and a 1/2 in bar: the middle
        (bars(top_cover="2 3/4 in"), "5 in", "patio", []),  # and 3/4 in lower: placing tolerance, ACI 117 (quoted)
        (bars(top_cover="2 7/8 in"), "5 in", "patio", [("hold", "under_middle_at_most")]),
        (bars(top_cover="1 3/8 in"), "5 in", "patio", [("caution", "cover_outdoors_at_least")]),
        (bars(top_cover="3/4 in"), "5 in", "shop floor", []),
        (bars(top_cover="5/8 in"), "5 in", "shop floor", [("caution", "cover_indoors_at_least")]),
        (bars("#6", top_cover="1 7/8 in"), "8 in", "patio", [("caution", "cover_thick_bars_at_least")]),
        (bars("#6", top_cover="2 in"), "8 in", "patio", []),
        (bars("#5", top_cover="1 1/2 in"), "8 in", "patio", []),
        (mesh(top_cover="1 3/4 in"), "4 in", "patio", []),
        (mesh(top_cover="2 1/2 in"), "4 in", "patio", []),
        (mesh(top_cover="2 5/8 in"), "4 in", "patio", [("hold", "under_middle_at_most")]),
        (bars("#5", top_cover="1 3/8 in"), "2 1/2 in", "patio", [("caution", "cover_outdoors_at_least")]),
        (bars("#6", top_cover="1 3/8 in"), "2 1/2 in", "patio",
         [("hold", "under_middle_at_most"), ("caution", "cover_thick_bars_at_least")]),
    ],
)  # fmt: skip
def test_steel_position(steel: str, thickness: str, use: str, found: list[tuple[str, str]]) -> None:
    assert weights(review("steel-position", steel, thickness, use=use)) == found


@pytest.mark.parametrize(
    ("cover", "thickness", "use", "to_pass"),
    [
        ("3 in", "5 in", "patio", "set the bars 2 in below the top"),
        ("1 in", "6 in", "patio", "set the bars 1 1/2 in below the top"),
        ("1 in", "4 in", "patio", "set the bars 1 1/2 in below the top"),  # the only place there is
        ("1/2 in", "5 in", "shop floor", "set the bars 3/4 in below the top"),
        ("1 1/4 in", "2 in", "patio", "make the slab 2 1/2 in thick and set the bars 1 1/2 in below the top"),
    ],
)
def test_steel_position_finds_the_cover_that_passes(cover: str, thickness: str, use: str, to_pass: str) -> None:
    comment = only(review("steel-position", bars(top_cover=cover), thickness, use=use))
    assert advice(comment) == to_pass

    write, thick = comment.to_pass.values["write"], comment.to_pass.values.get("t")
    assert isinstance(write, Amount)
    deep = f"{thick.si / INCH} in" if isinstance(thick, Amount) else thickness
    after = review("steel-position", bars(top_cover=f"{write.si / INCH} in"), deep, use=use)
    assert not after.comments


def test_steel_position_is_a_caution_where_another_code_governs() -> None:
    low = review("steel-position", bars("12 mm", "300 mm", top_cover="72 mm"), "125 mm", use="patio", unit="m")

    # 72 + 12 against 125 / 2 + 20
    assert weights(low) == [("caution", "metric_under_middle_at_most")]
    assert not review(
        "steel-position", bars("12 mm", "300 mm", top_cover="70 mm"), "125 mm", use="patio", unit="m"
    ).comments


@pytest.mark.parametrize(
    ("more", "at_joints", "cover"),
    [  # stone of 1 1/2 in wants 2 in over the steel; a cut 1 3/4 in deep is cleared where the steel runs through it
        ("", "run through", "1 1/2 in"),
        ("mix: {aggregate: 1 1/2 in}", "run through", "2 in"),
        ("joints: [{from: [6, 0], to: [6, 9], kind: saw cut, depth: 1 3/4 in}]", "run through", "1 3/4 in"),
        ("joints: [{from: [6, 0], to: [6, 9], kind: saw cut, depth: 1 3/4 in}]", "stop", "1 1/2 in"),
    ],
)
def test_the_cover_told_clears_the_cuts_and_lets_the_stone_pass(more: str, at_joints: str, cover: str) -> None:
    steel = bars(top_cover="1 in", at_joints=at_joints)

    assert advice(only(review("steel-position", steel, "6 in", more, "patio"))) == f"set the bars {cover} below the top"


def test_steel_position_in_metric_takes_38_mm_for_an_inch_and_a_half() -> None:
    assert not review(
        "steel-position", bars("12 mm", "300 mm", top_cover="38 mm"), "125 mm", use="patio", unit="m"
    ).comments
    thin = review("steel-position", bars("12 mm", "300 mm", top_cover="30 mm"), "125 mm", use="patio", unit="m")
    assert plain(only(thin).to_pass, "metric", both=False) == "set the bars 40 mm below the top"


def test_steel_position_asks_for_the_cover() -> None:
    (entry,) = review("steel-position", mesh(held_by="chairs")).not_shown

    assert entry.add == (
        "reinforcement.mesh.top_cover: concrete between the steel and the top of the slab, such as 2 in",
    )
    assert entry.place.path == "reinforcement.mesh"


# bar-spacing


@pytest.mark.parametrize(
    ("steel", "thickness", "found"),
    [
        # ACI 318-02 sec. 7.12 (quoted): the smaller of 5 t and 18 in
        (bars(spacing="15 in"), "3 in", []),
        (bars(spacing="15 1/4 in"), "3 in", [("caution", "thicknesses_apart_at_most")]),
        (bars(spacing="18 in"), "4 in", []),
        (bars(spacing="18 1/4 in"), "4 in", [("caution", "apart_at_most")]),
        (bars("#3", "24 in"), "4 in", [("caution", "apart_at_most")]),  # trade article: usual in light slabs
        # #4 in slabs of 4 to 5 in, #5 in 6 in (common practice)
        (bars("#5"), "5 in", [("note", "bar_in_thin_slab_at_most")]),
        (bars("#5"), "6 in", []),
        (bars("#6"), "6 in", [("note", "bar_in_thick_slab_at_most")]),
        (bars("#6"), "8 in", []),
        (bars("15M"), "150 mm", []),
        (bars("15M"), "125 mm", [("note", "bar_in_thin_slab_at_most")]),
        (bars("16 mm"), "6 in", []),
        (bars("20 mm"), "6 in", [("note", "bar_in_thick_slab_at_most")]),
    ],
)
def test_bar_spacing(steel: str, thickness: str, found: list[tuple[str, str]]) -> None:
    assert weights(review("bar-spacing", steel, thickness)) == found


@pytest.mark.parametrize(
    ("steel", "thickness", "to_pass"),
    [
        (bars(spacing="3 ft"), "3 1/4 in", "lay the bars 16 in apart"),  # 5 t is 16 1/4 in
        (bars("#6", "18 in"), "5 in", "lay #4 bars 8 in apart"),  # 18 x 0.20 / 0.44 is 8.18 in
        (bars("#8", "12 in"), "6 in", "lay #5 bars 4 1/2 in apart"),  # 12 x 0.31 / 0.79 is 4.71 in
        (bars("20M", "18 in"), "5 in", "lay 10M bars 6 in apart"),  # a third of the area
        (bars("20 mm", "18 in"), "5 in", "lay 12 mm bars 6 in apart"),  # 9/25 of the area: 6.48 in
    ],
)
def test_bar_spacing_keeps_as_much_steel(steel: str, thickness: str, to_pass: str) -> None:
    assert advice(only(review("bar-spacing", steel, thickness))) == to_pass


def test_bar_spacing_leaves_mesh_alone() -> None:
    assert review("bar-spacing", mesh()).does_not_apply[0].reason == "there are no bars"


# stone-between-bars


@pytest.mark.parametrize(
    ("steel", "stone", "thickness", "found"),
    [
        # ACI 318-19 sec. 26.4.2.1 (quoted): three quarters of the clear space; over the steel alike (practice)
        (bars(spacing="2 1/2 in"), "1 1/2 in", "6 in", []),  # 2 in clear between #4
        (bars(spacing="2 1/4 in"), "1 1/2 in", "6 in", [("hold", "part_between_at_most")]),
        (bars(top_cover="1 in"), "3/4 in", "6 in", []),
        (bars(top_cover="1 in"), "1 in", "6 in", [("caution", "part_of_cover_at_most")]),
        (bars(top_cover="4 in"), "1 in", "6 in", [("caution", "part_of_cover_at_most")]),  # 1 in below
        (bars(top_cover="4 1/2 in"), "3/4 in", "6 in", []),  # 1/2 in below: that is steel-position's
        (bars(top_cover="1/2 in"), "1 in", "6 in", []),  # too little cover in any case
        (mesh(), "1 in", "6 in", []),
        (mesh("2x2 W1.4"), "1 1/2 in", "6 in", [("hold", "part_between_at_most")]),
    ],
)
def test_stone_between_bars(steel: str, stone: str, thickness: str, found: list[tuple[str, str]]) -> None:
    report = review("stone-between-bars", steel, thickness, f"mix: {{aggregate: {stone}}}")

    assert weights(report) == found


def test_stone_between_bars_names_a_usual_stone_or_the_room_it_needs() -> None:
    stone = "mix: {aggregate: 1 1/2 in}"
    tight = only(review("stone-between-bars", bars(spacing="2 1/4 in"), "6 in", stone))
    assert advice(tight) == "order stone of 1 1/4 in or less"  # 3/4 of 1 3/4 in is 1 5/16 in

    cover = only(review("stone-between-bars", bars(top_cover="3/4 in"), "6 in", "mix: {aggregate: 3/4 in}"))
    assert advice(cover) == "order stone of 1/2 in or less"  # 3/4 of 3/4 in is 9/16 in


def test_stone_between_bars_asks_for_the_stone() -> None:
    (entry,) = review("stone-between-bars", mesh()).not_shown

    assert entry.add[0].startswith("mix.aggregate: ")


# steel-at-joints

CUT = "joints: [{name: J1, from: [6, 0], to: [6, 9], kind: saw cut, depth: 1 1/4 in}]"


@pytest.mark.parametrize(
    ("at_joints", "found"),
    [
        # texts differ (quoted): stop it (PCA, ACI 301-99), up to 50 % through (ACI 350R-89)
        ("stop", []), ("half through", []), ("run through", [("note", "part_through_at_most")]),
    ],
)  # fmt: skip
def test_steel_at_joints(at_joints: str, found: list[tuple[str, str]]) -> None:
    report = review("steel-at-joints", mesh(at_joints=at_joints), more=CUT)

    assert weights(report) == found
    if found:
        assert advice(only(report)) == "stop the mesh at the joints, 9'-0\" in all, and write at_joints: stop"
        assert only(report).working[0].result.si == pytest.approx(9 * FOOT)


def test_steel_at_joints_asks_what_the_steel_does_and_leaves_other_joints_alone() -> None:
    (entry,) = review("steel-at-joints", bars(), more=CUT).not_shown
    assert entry.add == ("reinforcement.bars.at_joints: what the steel does at joints, such as stop",)

    for more in ("", CUT.replace("saw cut, depth: 1 1/4 in", "construction joint")):
        report = review("steel-at-joints", mesh(at_joints="run through"), more=more)
        assert report.does_not_apply[0].reason == "no joints are drawn that are meant to crack"


def test_steel_at_joints_judges_the_mat_that_says_and_passes_over_the_one_that_does_not() -> None:
    both = bars()[:-1] + ", " + mesh(at_joints="run through")[1:]

    assert [comment.at.name for comment in review("steel-at-joints", both, more=CUT).comments] == ["the mesh"]
