"""The rule `bar-spacing`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, slot_shown, weights
from design_text import pad, review_by
from judged import findings
from slabs.steel import bars, bars_key, mesh, review, slab


@pytest.mark.parametrize(
    ("steel", "thickness", "found"),
    [
        # ACI 318-02 sec. 7.12 (quoted): the smaller of 5 t and 18 in
        (bars(spacing="15 in"), "3 in", []),
        (bars(spacing="15 1/4 in"), "3 in", [("note", "thicknesses_apart_at_most")]),
        (bars(spacing="18 in"), "4 in", []),
        (bars(spacing="18 1/4 in"), "4 in", [("note", "apart_at_most")]),
        (bars("#3", "24 in"), "4 in", [("note", "apart_at_most")]),  # trade article: usual in light slabs
        (bars("#3", "24 1/4 in"), "4 in", [("caution", "light_slab_apart_at_most")]),
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


@pytest.mark.parametrize(
    ("size", "thick", "thin"),
    [
        ("#5", "149 mm", True),
        ("#5", "151 mm", False),
        ("#6", "151 mm", True),
        ("#6", "199 mm", True),
        ("#6", "201 mm", False),
    ],
)
def test_bar_spacing_how_thick_a_slab_is_for_its_bars(size: str, thick: str, thin: bool) -> None:
    # #4 under 6 in, #5 under 8 in, sold as 150 and 200 mm: common practice
    found = [one.limit.name for one in findings("bar-spacing", slab(bars_key(size), thick))]

    assert bool(found) is thin


@pytest.mark.parametrize(
    ("steel", "thick", "unit", "write"),
    [
        # 20M has 300 mm2 and 10M 100, 25M 500 and 15M 200 (CSA bars): as much steel
        (bars_key("20M", "450 mm"), "125 mm", "m", "150 mm"),
        (bars_key("25M", "400 mm"), "160 mm", "m", "160 mm"),
        (bars_key("20 mm", "400 mm"), "125 mm", "m", "140 mm"),  # 400 x 144 / 400
        (bars_key("12 mm", "500 mm"), "75 mm", "m", "370 mm"),  # 5 x 75 mm is 375 mm
        (bars_key("#7", "18 in"), "6 in", "ft", "9 in"),  # 18 x 0.31 / 0.60 is 9.3 in
    ],
)
def test_bar_spacing_as_much_steel_in_thinner_bars(steel: str, thick: str, unit: str, write: str) -> None:
    (finding,) = findings("bar-spacing", slab(steel, thick, unit=unit, size=(4, 3)))

    assert slot_shown(finding, "write", "metric" if unit == "m" else "us") == write


@pytest.mark.parametrize(
    ("size", "unit", "areas"),
    [
        # ASTM A615 as the PCI handbook prints it, CSA bars; a bar named by its diameter has the area of the circle
        ("#6", "ft", ("0.20 in2", "0.44 in2")),
        ("#6", "m", ("129.03 mm2", "283.87 mm2")),
        ("20M", "m", ("100 mm2", "300 mm2")),
        ("20 mm", "m", ("113.1 mm2", "314.16 mm2")),
    ],
)
def test_bar_spacing_areas_of_bars_come_to_the_spacing_that_is_printed(
    size: str, unit: str, areas: tuple[str, str]
) -> None:
    (finding,) = findings("bar-spacing", slab(bars_key(size, "400 mm"), "125 mm", unit=unit, size=(4, 3)))
    step, (thinner, area) = finding.working[0], (float(one.split()[0]) for one in areas)

    assert (step.numbers.values["a"], step.numbers.values["b"]) == areas
    assert step.result.si == pytest.approx(0.4 * thinner / area, rel=5e-5)


@pytest.mark.parametrize(
    ("unit", "thick", "size", "written"),
    [  # names of sizes begin with a sign that YAML reads as a remark, and stand in quotes; metric ones do not
        ("ft", "5 in", "'#5'", "'#4'"),
        ("m", "125 mm", "15M", "10M"),
        ("m", "125 mm", "16 mm", "12 mm"),
    ],
)
def test_bar_spacing_writes_the_thinner_bar_as_the_file_takes_it(
    unit: str, thick: str, size: str, written: str
) -> None:
    apart = "12 in" if unit == "ft" else "300 mm"
    text = pad(f"reinforcement: {{bars: {{size: {size}, spacing: {apart}}}}}", unit=unit, thick=thick)
    (comment,) = (one for one in review_by("bar-spacing", text).comments if one.limit.name.startswith("bar_in"))
    edits = {edit.path: edit.value for edit in comment.remedies[0].edits}
    assert edits["reinforcement.bars.size"] == written
    assert review_by("bar-spacing", text.replace(f"size: {size}", f"size: {written}")).crashes == ()
