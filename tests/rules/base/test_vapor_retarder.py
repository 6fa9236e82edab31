"""The rule `vapor-retarder`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from judged import finding, judged, margin
from slabwright.rulebook.conclusion import Finding
from slabwright.units.quantity import Amount

INCH = 0.0254


def sheet(inside: str, enclosed: str = "enclosed: true", use: str = "patio", unit: str = "ft") -> str:
    rolls = "roll_length: 100 ft, roll_width: 12 ft"
    order = f"order: {{retarder: {{{rolls}, {inside}}}}}" if inside else ""
    return pad(f"site: {{{enclosed}}}\n{order}", use=use, unit=unit)


def closed(thickness: str, lap: str, unit: str = "m") -> str:
    sheet = f"roll_length: 30 m, roll_width: 4 m, thickness: {thickness}, lap: {lap}"
    return pad(f"site: {{enclosed: true}}\norder: {{retarder: {{{sheet}}}}}", unit=unit, side="4")


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


def test_metric_plans_lay_sheets_of_a_quarter_millimeter_with_laps_of_150() -> None:
    metric = judged("vapor-retarder", closed("1 mm", "1 m"))
    assert [one.limit.value.si for one in metric] == pytest.approx([0.25e-3, 0.15], rel=1e-9)
    other = judged("vapor-retarder", closed("10 mil", "6 in", "ft"))
    assert [one.limit.value.si for one in other] == pytest.approx([10e-3 * INCH, 6 * INCH], rel=1e-9)


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
