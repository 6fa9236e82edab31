"""Rules about base and fill at their edges: numbers just met, the first of several things, several panels at once."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from judged import finding, judged, margin
from slabwright.rulebook.conclusion import Finding
from slabwright.units.quantity import Amount

INCH, FOOT = 0.0254, 0.3048
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
