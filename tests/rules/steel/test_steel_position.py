"""The rule `steel-position`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, slot_shown, weights
from design_text import pad, review_by, rule_named
from judged import asked_at, findings, margins
from slabs.steel import bars, bars_key, beam, mesh, review, slab
from slabwright.formulas.steel import least_cover
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, System, depth, read

INCH = 0.0254


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

    told = {advice(one) for one in review("steel-position", steel, "6 in", more, "patio").comments}
    assert told == {f"set the bars {cover} below the top"}


@pytest.mark.parametrize(
    ("cut", "at_joints", "kind", "short"),
    [  # cover of 1 1/2 in, give or take an eighth: the saw goes into what lies higher (geometry)
        ("1 5/8 in", "run through", "saw cut", None),
        ("1 3/4 in", "run through", "saw cut", 0.25),
        ("2 in", "", "saw cut", 0.5),
        ("2 in", "half through", "saw cut", None),
        ("2 in", "stop", "saw cut", None),
        ("2 in", "run through", "tooled groove", None),
    ],
)
def test_no_saw_goes_into_the_steel(cut: str, at_joints: str, kind: str, short: float | None) -> None:
    joint = f"joints: [{{from: [6, 0], to: [6, 9], kind: {kind}, depth: {cut}}}]"
    steel = bars(top_cover="1 1/2 in", **({"at_joints": at_joints} if at_joints else {}))
    said = review("steel-position", steel, "6 in", joint, "patio").comments

    assert [one.limit.name for one in said] == ([] if short is None else ["cut_under_cover_at_most"])
    for one in said:
        assert one.shown.si == pytest.approx(short * INCH)
        assert [plain(way.says, "us") for way in one.remedies] == [
            f"set the bars {cut} below the top", "stop the bars at the joints and write at_joints: stop",
        ]  # fmt: skip


def test_steel_position_in_metric_takes_38_mm_for_an_inch_and_a_half() -> None:
    assert not review(
        "steel-position", bars("12 mm", "300 mm", top_cover="38 mm"), "125 mm", use="patio", unit="m"
    ).comments
    thin = review("steel-position", bars("12 mm", "300 mm", top_cover="30 mm"), "125 mm", use="patio", unit="m")
    assert plain(only(thin).to_pass, "metric", both=False) == "set the bars 40 mm below the top"


@pytest.mark.parametrize(("cover", "short"), [("35 mm", False), ("34.9 mm", True)])
def test_a_metric_cover_written_to_the_half_centimeter_is_met(cover: str, short: bool) -> None:
    """1 1/2 in are 38 mm, and the next cover that is sold below it is 35 mm (common practice)."""
    steel = bars("12 mm", "300 mm", top_cover=cover)
    assert bool(review("steel-position", steel, "125 mm", use="patio", unit="m").comments) is short


def test_steel_position_asks_for_the_cover() -> None:
    (entry,) = review("steel-position", mesh(held_by="chairs")).not_shown

    assert entry.add == (
        "reinforcement.mesh.top_cover: concrete between the steel and the top of the slab, such as 2 in",
    )
    assert entry.place.path == "reinforcement.mesh"


def test_steel_position_a_metric_plan_takes_the_cover_in_whole_millimeters() -> None:
    design = slab(bars_key("12 mm", "300 mm", top_cover="20 mm"), "150 mm", unit="m", size=(4, 3))
    (finding,) = findings("steel-position", design)

    assert finding.limit.value.si == pytest.approx(0.038, rel=1e-9)


@pytest.mark.parametrize(
    ("steel", "thick", "unit", "slots"),
    [
        # in the weather 1 1/2 in over #5: ACI 318-19 Table 20.5.1.3.1 (read); the middle at half the thickness
        (bars_key("#5", top_cover="1 3/8 in"), "4 in", "ft", {"write": "1 1/2 in"}),
        (bars_key("#6", top_cover="1 3/4 in"), "5 in", "ft", {"write": "2 in"}),
        # no room: the thickness at which the middle lies at half of it and the tolerance, 2 (1 1/2 + 1/2 - 3/4)
        (bars_key("#4", top_cover="1 3/8 in"), "2 in", "ft", {"t": "2 1/2 in", "write": "1 1/2 in"}),
        (bars_key("16 mm", "300 mm", top_cover="30 mm"), "60 mm", "m", {"t": "70 mm", "write": "38 mm"}),
        # deeper than the middle: as deep as there is room, to the eighth of an inch or the 5 mm
        (bars_key("#3", top_cover="3 in"), "4 1/4 in", "ft", {"write": "1 3/4 in"}),  # 2 1/8 - 3/8
        (bars_key("#4", top_cover="3 in"), "4 3/4 in", "ft", {"write": "1 7/8 in"}),  # 2 3/8 - 1/2
        (bars_key("#4", top_cover="3 in"), "4 1/2 in", "ft", {"write": "1 3/4 in"}),
        (bars_key("#5", top_cover="3 in"), "5 in", "ft", {"write": "1 7/8 in"}),  # 2 1/2 - 5/8
        (bars_key("10 mm", "300 mm", top_cover="75 mm"), "120 mm", "m", {"write": "50 mm"}),  # 60 - 10
        (bars_key("12 mm", "300 mm", top_cover="70 mm"), "120 mm", "m", {"write": "45 mm"}),  # 60 - 12
        # too little over it: as much as is asked
        (bars_key("#4", top_cover="1 in"), "6 in", "ft", {"write": "1 1/2 in"}),
        (bars_key("12 mm", "300 mm", top_cover="30 mm"), "150 mm", "m", {"write": "40 mm"}),
        # 5 mm steps miss what there is room for: 38 to 39 mm
        (bars_key("12 mm", "300 mm", top_cover="30 mm"), "62 mm", "m", {"write": "38 mm"}),
        # never less than the weather asks
        (bars_key("12 mm", "300 mm", top_cover="60 mm"), "102 mm", "m", {"write": "40 mm"}),
    ],
)  # fmt: skip
def test_steel_position_the_cover_that_has_room(steel: str, thick: str, unit: str, slots: dict[str, str]) -> None:
    design = slab(steel, thick, unit=unit, size=(4, 3))
    system: System = "metric" if unit == "m" else "us"

    for finding in findings("steel-position", design):
        assert {
            name: slot_shown(finding, name, system) for name in ("t", "write") if name in finding.to_pass.values
        } == slots


@pytest.mark.parametrize(("cover", "short"), [("1 in", 0.5), ("1 3/8 in", 0.125)])
def test_steel_position_how_much_cover_is_short(cover: str, short: float) -> None:
    # 1 1/2 in in the weather: ACI 318-19 Table 20.5.1.3.1 (read)
    (finding,) = findings("steel-position", slab(bars_key(top_cover=cover), "6 in"))

    assert finding.working[0].result.si == pytest.approx(short * INCH)


def test_steel_position_a_cover_of_just_what_is_asked_is_not_raised() -> None:
    assert len(margins("steel-position", slab(bars_key(top_cover="1 1/2 in"), "6 in"))) == 2


# edge beams


@pytest.mark.parametrize(
    ("layer", "expected"),
    [
        ("at: bottom, cover: 3 in", []),
        ("cover: 2 in", [("caution", "cover_on_ground_at_least")]),  # at the bottom where nothing is said
        ("at: top, cover: 1 1/2 in", []),
        ("at: top, cover: 1 in", [("caution", "cover_outdoors_at_least")]),
    ],
)
def test_cover_of_an_edge_beam_by_where_it_lies(layer: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("steel-position", beam(f'{{count: 2, size: "#4", {layer}}}'))) == expected


@pytest.mark.parametrize(
    ("cover", "base", "asked", "written"),
    [  # on a base that was made for it 40 mm, over insulation as indoors (common practice of metric plans)
        ("40 mm", "crushed stone", None, None),
        ("35 mm", "crushed stone", 0.040, 0.040),
        ("30 mm", "200 mm of EPS on crushed stone", None, None),
        ("19 mm", "insulation, extruded", None, None),  # 3/4 in
        ("15 mm", "insulation, extruded", 0.019, 0.020),
    ],
)
def test_cover_under_an_edge_beam_by_what_it_is_cast_on(
    cover: str, base: str, asked: float | None, written: float | None
) -> None:
    layer = f"{{count: 2, size: 12 mm, at: bottom, cover: {cover}}}"
    comments = review_by("steel-position", _metric_beam(layer, base)).comments
    assert [(one.weight, one.limit.value.si) for one in comments] == ([("caution", asked)] if asked else [])
    assert [one.to_pass.values["written"] for one in comments] == ([depth(written)] if written else [])


def test_cover_over_the_top_bars_of_an_edge_is_that_over_a_mat() -> None:
    """1 1/2 in are 38 mm, and bars are laid to the half centimeter."""
    met, short = (review_by("steel-position", _metric_beam(f"{{count: 2, size: 12 mm, at: top, cover: {cover}}}"))
                  for cover in ("38 mm", "37 mm"))  # fmt: skip
    assert not met.comments
    assert only(short).limit.value.si == pytest.approx(0.038)
    assert plain(only(short).to_pass, "metric") == "lay the top bars of the edge with 40 mm of cover"


def _metric_beam(layer: str, base: str = "crushed stone") -> str:
    edge = f"{{run: [[0, 0], [4, 0]], depth: 250 mm, taper: 0.2 m, bars: [{layer}]}}"
    text = pad(f'site: {{base: {{material: "{base}", thickness: 300 mm}}}}', unit="m", side="4", thick="100 mm")
    return text.replace("100 mm}", f"100 mm, thickened_edges: [{edge}]}}")


def test_the_first_of_two_layers_of_an_edge_is_asked_for_its_cover() -> None:
    layers = '{count: 2, size: "#5"}, {count: 2, size: "#4", at: top}'
    assert asked_at("steel-position", beam(layers)) == (
        ["thickness.thickened_edges, bars, cover"],
        "thickness.thickened_edges[0].bars[0]",
    )
