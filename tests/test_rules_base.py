"""Rules about base and fill: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by

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
