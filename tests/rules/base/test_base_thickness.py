"""The rule `base-thickness`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("use", "site", "found"),
    [
        # common practice: 4 in, at least 3 in over clay, silt and loam, and where it freezes; 2 in elsewhere
        ("patio", "soil: {kind: clay}, base: {thickness: 2.9 in}", [("caution", "on_poor_ground_at_least")]),
        ("patio", "soil: {kind: silt}, base: {thickness: 2.9 in}", [("caution", "on_poor_ground_at_least")]),
        # silty sand and sandy loam drain fairly: group I of the code's soils, recalled, not checked
        ("patio", "soil: {kind: silty sand}, base: {thickness: 2 in}", []),
        ("patio", "soil: {kind: sandy loam}, base: {thickness: 1.9 in}", [("note", "thickness_at_least")]),
        ("patio", "soil: {kind: sandy clay}, base: {thickness: 2.9 in}", [("caution", "on_poor_ground_at_least")]),
        (
            "patio",
            "freezing: severe, soil: {kind: sandy loam}, base: {thickness: 2.9 in}",
            [("caution", "on_poor_ground_at_least")],
        ),
        ("patio", "freezing: severe, base: {thickness: 1 in, old_paving: concrete, separated: true}", []),
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


@pytest.mark.parametrize(
    ("material", "found"),
    [
        # the dwelling code wants clean sand, gravel or crushed stone (quoted); soil that holds water is common practice
        ("topsoil", True),
        ("the old dirt", True),
        ("sod", True),
        ("clay loam", True),
        ("clay and stone", False),
        ("silty sand", False),
        ("sandy loam", False),
        ("cement-treated soil and clay", False),
        ("road base", False),
        ("decomposed granite", False),
    ],
)
def test_a_base_of_soil_is_none(material: str, found: bool) -> None:
    report = review_by(
        "base-thickness", pad(f"site: {{freezing: none, base: {{material: {material}, thickness: 6 in}}}}")
    )

    assert weights(report) == [("caution", "of_soil_at_most")] * found


@pytest.mark.parametrize(("thick", "laid"), [("1 in", "2 in"), ("5 in", "5 in")])  # common practice: 2 in at least
def test_a_base_of_soil_is_dug_out_and_stone_laid(thick: str, laid: str) -> None:
    site = f"site: {{freezing: none, soil: {{kind: sand}}, base: {{material: topsoil, thickness: {thick}}}}}"
    comment = only(review_by("base-thickness", pad(site)))

    assert plain(comment.says, "us") == "topsoil is no base: it settles, and holds water under the slab"
    told = f"dig the topsoil out, and lay {laid} of crushed stone in its place"
    assert advice(comment) == told
    paths = ["site.base.material", "site.base.thickness"]
    assert [one.path for one in comment.remedies[0].edits] == (paths if thick != laid else paths[:1])
