"""Rules about base and fill: every branch, every limit at and beside it, and what they say when the plan does not."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from judged import finding, judged, margin
from slabwright.rulebook.conclusion import Finding
from slabwright.units.quantity import Amount

INCH = 0.0254


# base-thickness


@pytest.mark.parametrize(
    ("use", "site", "found"),
    [
        # common practice: 4 in, at least 3 in over clay, silt and loam, and where it freezes; 2 in elsewhere
        ("patio", "soil: {kind: clay}, base: {thickness: 2.9 in}", [("caution", "on_poor_ground_at_least")]),
        ("patio", "soil: {kind: silty sand}, base: {thickness: 2.9 in}", [("caution", "on_poor_ground_at_least")]),
        ("patio", "freezing: severe, base: {thickness: 2.9 in}", [("caution", "on_poor_ground_at_least")]),
        ("patio", "soil: {kind: clay}, base: {thickness: 3 in}", [("note", "usual_on_poor_ground_at_least")]),
        ("patio", "freezing: severe, base: {thickness: 3 in}", [("note", "usual_on_poor_ground_at_least")]),
        ("patio", "freezing: none, base: {thickness: 2 in}", []),
        ("patio", "freezing: none, base: {thickness: 1.9 in}", [("note", "thickness_at_least")]),
        ("patio", "soil: {kind: peat}, base: {thickness: 1.9 in}", [("note", "thickness_at_least")]),
        # geotechnical report, Everett WA: at least 4 in of gravel under interior slabs, read
        ("shop floor", "soil: {kind: sand}, base: {thickness: 3 in}", [("caution", "under_floor_at_least")]),
        ("patio", "soil: {kind: clay}, base: {thickness: 4 in}", []),
        ("shop floor", "base: {thickness: 4 in}", []),
    ],
)
def test_base_thickness_by_soil_frost_and_use(use: str, site: str, found: list[tuple[str, str]]) -> None:
    report = review_by("base-thickness", pad(f"site: {{{site}}}", use=use))

    assert weights(report) == found


def test_base_thickness_of_metric_plans_may_be_100_mm() -> None:
    design = pad("site: {soil: {kind: clay}, base: {thickness: 100 mm}}", unit="m", side="3")

    assert not review_by("base-thickness", design).comments
    short = only(review_by("base-thickness", design.replace("100 mm", "95 mm")))
    assert short.asked.si == pytest.approx(0.100)  # metric specifications print 100 mm for 4 in


def test_base_thickness_asks_once_for_all_that_is_missing_and_leaves_sand_alone() -> None:
    bare = review_by("base-thickness", pad(""))
    known = review_by("base-thickness", pad("site: {soil: {kind: clay}, base: {material: gravel}}"))

    assert [one.split(":")[0] for one in bare.not_shown[0].add] == ["site.base.thickness", "site.soil.kind"]
    assert known.not_shown[0].add == ("site.base.thickness: thickness of the base after it is compacted, such as 4 in",)
    assert review_by("base-thickness", pad("site: {soil: {kind: clean gravel}}")).does_not_apply


# fill-depth and even-ground

HILL = """
site: {{base: {{material: crushed stone, thickness: 4 in}}{more}}}
points: {{A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}}
heights:
  finish: {{A: 100, B: 100, C: 100, D: 100}}
  existing: {{A: {high}, B: {high}, C: {low}, D: {low}}}
"""


def hill(high: float, low: float, more: str = "") -> str:
    """A level slab of 4 in on 4 in, its underside at 99 1/3 ft, on ground that falls from ``high`` to ``low``."""
    return pad(HILL.format(high=high, low=low, more=more), outline="[A, B, C, D]")


@pytest.mark.parametrize(
    ("inches", "material", "held"),
    [
        # IRC R506.2.1 (2009): 8 in of earth, 24 in of clean sand or gravel unless more is approved, quoted
        (8, "earth", False),
        (9, "earth", True),
        (9, "", True),
        (20, "clean gravel", False),
        (24, "clean gravel", False),
        (25, "clean gravel", True),
        (9, "clayey gravel", True),  # fines keep it from draining
    ],
)
def test_fill_depth_by_material(inches: float, material: str, held: bool) -> None:
    more = f", fill: {{material: {material}}}" if material else ""
    report = review_by("fill-depth", hill(100, 100 - (8 + inches) / 12, more))

    assert [comment.weight for comment in report.comments] == (["hold"] if held else [])
    if held:
        assert report.comments[0].shown.si == pytest.approx(inches * INCH)


def test_fill_depth_follows_shots_on_the_base_where_there_are_any() -> None:
    shot = hill(100, 98.5).replace("  existing", "  base: {A: 99.0, B: 99.0, C: 99.0, D: 99.0}\n  existing")
    fill = review_by("fill-depth", shot).met[0].shown  # stone down to 98.67 ft, ground at 98.50: 2 in

    assert fill is not None
    assert fill.si == pytest.approx(2 * INCH)


def test_fill_depth_takes_thin_layers_and_does_not_guess_the_ground() -> None:
    thick = only(review_by("fill-depth", pad("site: {fill: {lift: 11 in}}")))
    earth = only(review_by("fill-depth", pad("site: {fill: {lift: 10 in}}")))
    existing = "heights: {finish: {A: 100}, existing: {A: 99, B: 99, C: 99}}"
    ground = pad(f"points: {{A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}}\n{existing}", outline="[A, B, C, D]")

    assert (thick.weight, thick.limit.name) == ("caution", "lift_at_most")
    assert (earth.weight, earth.limit.name) == ("note", "earth_lift_at_most")
    assert review_by("fill-depth", pad("site: {fill: {material: clean sand, lift: 10 in}}")).met
    assert review_by("fill-depth", pad("")).does_not_apply
    assert "heights.finish" in review_by("fill-depth", ground).not_shown[0].add[0]
    assert "heights.finish" in review_by("even-ground", ground).not_shown[0].add[0]


@pytest.mark.parametrize(
    ("high", "fill", "found"),
    [
        (100, 3, []),  # 3 in of fill beside a cut: common practice
        (100, 4, [("caution", "fill_beside_cut_at_most")]),
        (99.3, 6, []),  # filled all over: no cut beside it
    ],
)
def test_even_ground_minds_fill_only_beside_a_cut(high: float, fill: float, found: list[tuple[str, str]]) -> None:
    report = review_by("even-ground", hill(high, 100 - (8 + fill) / 12))

    assert weights(report) == found


def test_even_ground_counts_panels_apart() -> None:
    joints = "joints: [{from: [0, 4], to: [8, 4], kind: saw cut, depth: 1 in}]"
    report = review_by("even-ground", hill(100, 98.67) + joints)  # the upper half is dug, the lower half filled

    assert not report.comments  # ground crosses the underside at the joint: 8 in up and 8 in down


def test_even_ground_names_the_panels_over_a_loose_trench() -> None:
    trench = "site: {trenches: [{along: [[4, -4], [4, 12]], depth: 3 ft}]}"
    loose = only(review_by("even-ground", pad(trench)))

    assert loose.at.name == "trench 1"
    assert loose.says.values["panels"] == "panel P1"
    assert loose.shown.si == pytest.approx(3 * 0.3048)
    assert not review_by("even-ground", pad(trench.replace("3 ft", "3 ft, compacted: true"))).comments
    assert review_by("even-ground", pad(trench.replace("[4, -4], [4, 12]", "[9, -4], [9, 12]"))).does_not_apply


# vapor-retarder


def sheet(inside: str, enclosed: str = "enclosed: true", use: str = "patio", unit: str = "ft") -> str:
    rolls = "roll_length: 100 ft, roll_width: 12 ft"
    order = f"order: {{retarder: {{{rolls}, {inside}}}}}" if inside else ""
    return pad(f"site: {{{enclosed}}}\n{order}", use=use, unit=unit)


@pytest.mark.parametrize(
    ("inside", "found"),
    [
        ("thickness: 10 mil, lap: 6 in", []),
        ("thickness: 8 mil, lap: 6 in", [("note", "newer_sheet_at_least")]),  # IRC R506.2.3 (2021), recalled: 10 mil
        ("thickness: 8 mil, lap: 6 in, tested_class: A", []),  # and ASTM E1745, class A
        ("thickness: 15 mil, lap: 6 in, tested_class: B", [("note", "other_class_at_most")]),
        ("thickness: 5 mil, lap: 6 in, tested_class: A", [("hold", "sheet_at_least")]),
        ("thickness: 6 mil, lap: 6 in", [("note", "newer_sheet_at_least")]),
        ("thickness: 5 mil, lap: 6 in", [("hold", "sheet_at_least")]),  # IBC 1910.1: 6 mil, read
        ("thickness: 10 mil, lap: 5 in", [("hold", "lap_at_least")]),  # IBC 1910.1: laps of 6 in, read
        ("lap: 6 in", []),
        ("", [("hold", "sheet_at_least")]),
    ],
)
def test_vapor_retarder_under_a_closed_room(inside: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("vapor-retarder", sheet(inside))) == found


def test_vapor_retarder_of_metric_plans() -> None:
    assert not review_by("vapor-retarder", sheet("thickness: 0.25 mm, lap: 150 mm", unit="m")).comments
    assert weights(review_by("vapor-retarder", sheet("thickness: 0.14 mm, lap: 150 mm", unit="m"))) == [
        ("hold", "sheet_at_least")
    ]


def test_vapor_retarder_is_not_wanted_in_the_open() -> None:
    lies = only(review_by("vapor-retarder", sheet("thickness: 6 mil", "enclosed: false")))

    assert (lies.weight, lies.limit.name) == ("note", "open_at_most")
    assert review_by("vapor-retarder", sheet("", "enclosed: false")).does_not_apply
    assert review_by("vapor-retarder", sheet("thickness: 6 mil", "enclosed: false", "shop floor")).does_not_apply
    assert review_by("vapor-retarder", sheet("", "freezing: none")).does_not_apply  # nobody says it may be closed in


def test_vapor_retarder_asks_what_it_cannot_know() -> None:
    floor = review_by("vapor-retarder", sheet("", "freezing: none", "garage floor"))
    patio = review_by("vapor-retarder", sheet("lap: 6 in", "freezing: none"))
    rolled = review_by("vapor-retarder", sheet("lap: 6 in", "freezing: none", "garage floor"))
    unsaid = review_by("vapor-retarder", sheet("lap: 6 in").replace(", lap: 6 in", ""))

    assert floor.not_shown[0].add[0].startswith("site.enclosed")
    assert patio.not_shown[0].add[0].startswith("site.enclosed")
    assert rolled.met  # a sheet under a garage floor says enough
    assert unsaid.not_shown[0].add[0].startswith("order.retarder.thickness")


FOOT = 0.3048
UNDERSIDE = 100 - 8 / 12  # ft, of a base of 4 in under a slab of 4 in at 100 ft


def ground(existing: str, more: str = "", finish: str = "A: 100, B: 100, C: 100, D: 100", base: str = "4 in") -> str:
    """A level slab of 8 by 8 ft and 4 in on a base, over ground with these heights."""
    site = f"site: {{base: {{material: crushed stone, thickness: {base}}}}}\n" if base else ""
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    heights = f"heights: {{finish: {{{finish}}}, existing: {{{existing}}}}}\n"
    return pad(site + points + heights + more, outline="[A, B, C, D]")


def sloping(cut: float, fill: float, **more: str) -> str:
    """Ground that is dug by ``cut`` along A-B and filled by ``fill`` along C-D, in."""
    high, low = round(UNDERSIDE + cut / 12, 8), round(UNDERSIDE - fill / 12, 8)
    return ground(f"A: {high}, B: {high}, C: {low}, D: {low}", **more)


# even-ground


@pytest.mark.parametrize(
    ("cut", "found"),
    [
        (0.9, []),  # under an inch of cut a panel lies on fill, if on little at that end: the rule's own
        (1.1, [("caution", "fill_beside_cut_at_most")]),
    ],
)
def test_even_ground_counts_a_panel_as_dug_from_an_inch(cut: float, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("even-ground", sloping(cut, 4))) == found


CUTS = "joints: [{from: [2, 0], to: [2, 8], kind: saw cut}, {from: [5, 0], to: [5, 8], kind: saw cut}]"


@pytest.mark.parametrize(
    ("left", "right", "joints", "panel", "more"),
    [
        # fill along the low side, in inches, from D to C; the joints run downhill, 2 and 5 ft from D
        (4, 4, "", "P1", ""),
        (8, 4, CUTS, "P1", "do 2 more"),  # 8 to 7, to 5.5, to 4
        (8, 2, CUTS, "P1", "do 2 more"),  # 8 to 6.5, to 4.25, to 2
        (7, 0.2, CUTS, "P1", "does one more"),  # 7 to 5.3, to 2.75, to 0.2
        (1, 8, CUTS, "P3", "does one more"),  # 1 to 2.75, to 5.4, to 8
        (1, 4, CUTS, "P3", ""),  # 1 to 1.75, to 2.9, to 4
    ],
)
def test_even_ground_tells_the_worst_panel_and_counts_the_others(
    left: float, right: float, joints: str, panel: str, more: str
) -> None:
    high = round(UNDERSIDE + 0.5, 8)
    low = [round(UNDERSIDE - deep / 12, 8) for deep in (right, left)]
    text = ground(f"A: {high}, B: {high}, C: {low[0]}, D: {low[1]}", joints)
    comment = only(review_by("even-ground", text))
    assert comment.at.name == f"panel {panel}"
    assert comment.shown.si == pytest.approx(max(left, right) * INCH)
    assert [words in comment.says.template for words in ("one more", "2 more")] == [
        words in more for words in ("one more", "2 more")
    ]
    assert ("more" in comment.says.template) is bool(more)


@pytest.mark.parametrize(
    ("base", "fill", "thick"),
    [
        ("4 in", 3.95, 5.0),  # 0.95 in more, in whole eighths 1 in
        ("4 in", 3.85, 4.875),
        ("4 in", 3.3, 4.375),
        ("", 7.9, 5.0),  # none is written: the fill begins under the slab
    ],
)
def test_even_ground_asks_for_so_much_more_base(base: str, fill: float, thick: float) -> None:
    below = fill - (0 if base else 4)
    text = sloping(8, below, base=base)
    comment = only(review_by("even-ground", text))
    values = [comment.to_pass.values[slot] for slot in ("thick", "off")]
    was = 4.0 if base else 0.0
    assert [one.si / INCH for one in values if isinstance(one, Amount)] == pytest.approx([thick, thick - was])
    deeper = sloping(8, below, base=f"{thick} in")
    assert not review_by("even-ground", deeper).comments


def test_even_ground_needs_three_heights_of_the_ground() -> None:
    two = ground("A: 99, B: 99", finish="A: 100")
    assert review_by("even-ground", two).does_not_apply
    assert review_by("fill-depth", two).does_not_apply
    three = ground("A: 99, B: 99, C: 99", finish="A: 100")
    assert review_by("even-ground", three).not_shown
    assert review_by("fill-depth", three).not_shown


def test_even_ground_numbers_trenches_as_they_are_listed() -> None:
    beside, under = "{along: [[20, 0], [20, 8]], depth: 3 ft}", "{along: [[4, 0], [4, 8]], depth: 30 in}"
    compacted = under.replace("in}", "in, compacted: true}")
    text = pad(f"site: {{trenches: [{beside}, {under}, {compacted}]}}")
    loose, filled = judged("even-ground", text)
    assert (loose.at.name, filled.at.name) == ("trench 2", "trench 3")
    assert (loose.shown.si, filled.shown.si) == (pytest.approx(30 * INCH), 0.0)
    assert isinstance(loose, Finding)
    lift = loose.to_pass.values["lift"]
    assert isinstance(lift, Amount)
    assert lift.si == pytest.approx(6 * INCH, rel=0.02)  # layers of 6 in, as the soils report asks


# fill-depth


@pytest.mark.parametrize(
    ("base", "fill", "thick"),
    [("4 in", 8.95, 5.0), ("4 in", 8.2, 4.25), ("4 in", 12.3, 8.375), ("", 8.9, 1.0)],
)
def test_fill_depth_asks_for_so_much_more_base(base: str, fill: float, thick: float) -> None:
    """8 in of earth may lie there; the rest is stone, in whole eighths of an inch."""
    down = 4 if base else 0  # in of base
    low = round(100 - (4 + down + fill) / 12, 8)
    text = ground(f"A: {low}, B: {low}, C: {low}, D: {low}", base=base)
    values = [finding("fill-depth", text).to_pass.values[slot] for slot in ("thick", "off")]
    assert [one.si / INCH for one in values if isinstance(one, Amount)] == pytest.approx([thick, thick - down])
    deeper = ground(f"A: {low}, B: {low}, C: {low}, D: {low}", base=f"{thick} in")
    assert not review_by("fill-depth", deeper).comments


# vapor-retarder


def closed(thickness: str, lap: str, unit: str = "m") -> str:
    sheet = f"roll_length: 30 m, roll_width: 4 m, thickness: {thickness}, lap: {lap}"
    return pad(f"site: {{enclosed: true}}\norder: {{retarder: {{{sheet}}}}}", unit=unit, side="4")


@pytest.mark.parametrize(
    ("sheet_limit", "lap_limit", "sheet", "lap"),
    [  # on metric plans hundredths of a millimeter of sheet, and 5 mm of lap, never more than the limit itself
        ("10 mil", "6 in", 0.25, 150),
        ("0.25 mm", "155 mm", 0.25, 155),
        ("0.3 mm", "159.7 mm", 0.30, 155),
        ("0.409 mm", "300 mm", 0.40, 300),
        ("0.249998 mm", "155.002 mm", 0.24, 155),
    ],
)
def test_vapor_retarder_limits_of_metric_plans(sheet_limit: str, lap_limit: str, sheet: float, lap: float) -> None:
    limits = {"newer_sheet_at_least": sheet_limit, "lap_at_least": lap_limit}
    thick, laps = judged("vapor-retarder", closed("1 mm", "1 m"), **limits)
    assert [one.asked.si for one in (thick, laps) if one.asked] == pytest.approx([sheet / 1000, lap / 1000], rel=1e-9)


def test_vapor_retarder_limits_of_other_plans_stay_as_they_are() -> None:
    thick, laps = judged("vapor-retarder", closed("10 mil", "6 in", "ft"))
    assert [one.asked.si for one in (thick, laps) if one.asked] == pytest.approx([10e-3 * INCH, 6 * INCH], rel=1e-9)


def test_vapor_retarder_tells_laps_that_pass() -> None:
    """Where a town asks laps of 12 in, the sheet to lay has laps of 12 in."""
    told = judged("vapor-retarder", closed("5 mil", "4 in", "ft"), lap_at_least="12 in")
    laps = [one.to_pass.values.get("lap") or one.to_pass.values["asked"] for one in told if isinstance(one, Finding)]
    assert [one.si for one in laps if isinstance(one, Amount)] == pytest.approx([12 * INCH] * 2)


def test_vapor_retarder_that_is_not_drawn_is_told_from_one_that_is_thin() -> None:
    none, thin = pad("site: {enclosed: true}"), closed("4 mil", "6 in", "ft")
    drawn = [finding("vapor-retarder", none), judged("vapor-retarder", thin)[0]]
    assert [one.shown.si for one in drawn] == pytest.approx([0.0, 4e-3 * INCH])
    assert ["d" in one.says.values for one in drawn if isinstance(one, Finding)] == [False, True]


@pytest.mark.parametrize(
    ("use", "outdoors", "asked"),
    [
        ("garage floor", "", True),
        ("garage floor", "outdoors: true", False),  # a floor without walls
        ("shop floor", "outdoors: false", True),
        ("patio", "outdoors: false", False),  # under a roof, and no room
        ("equipment pad", "", False),
    ],
)
def test_vapor_retarder_is_asked_about_under_floors_of_rooms(use: str, outdoors: str, asked: bool) -> None:
    report = review_by("vapor-retarder", pad(f"site: {{{outdoors}}}" if outdoors else "", use=use))
    assert bool(report.not_shown) is asked
    assert bool(report.does_not_apply) is not asked


def test_vapor_retarder_under_a_slab_in_the_open_is_told_as_thick_as_it_is() -> None:
    text = closed("0.2 mm", "100 mm").replace("enclosed: true", "enclosed: false")
    one = finding("vapor-retarder", text)
    assert (one.limit.name, one.shown.si) == ("open_at_most", pytest.approx(0.0002))
    assert margin("vapor-retarder", text, open_at_most="0.2 mm").shown.si == pytest.approx(0.0002)
