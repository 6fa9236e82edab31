"""The rule `heaving-soil`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by


@pytest.mark.parametrize(
    ("soil", "base", "use", "freezing", "found"),
    [
        # 2 ft of granular soil over soil that swells: a soils report, read; 1 ft over frost heave: common practice
        ("kind: expansive clay", "4 in", "garage floor", "none", [("caution", "over_swelling_at_least")]),
        ("kind: expansive clay", "4 in", "driveway", "none", [("note", "outdoors_over_swelling_at_least")]),
        ("kind: expansive clay, replaced: 20 in", "4 in", "garage floor", "none", []),
        (
            "kind: expansive clay, replaced: 19 in",
            "4 in",
            "garage floor",
            "none",
            [("caution", "over_swelling_at_least")],
        ),
        ("kind: highly reactive clay", "4 in", "shop floor", "none", [("caution", "over_swelling_at_least")]),
        ("kind: frost-susceptible silt", "6 in", "driveway", "severe", [("caution", "over_frost_heave_at_least")]),
        ("kind: frost-susceptible silt", "12 in", "driveway", "severe", []),
    ],
)
def test_heaving_soil_wants_ground_that_keeps_still(
    soil: str, base: str, use: str, freezing: str, found: list[tuple[str, str]]
) -> None:
    site = f"site: {{freezing: {freezing}, soil: {{{soil}}}, base: {{material: crushed stone, thickness: {base}}}}}"
    assert weights(review_by("heaving-soil", pad(site, use=use))) == found


@pytest.mark.parametrize(
    "soil",
    [
        "non-expansive clay",
        "low-swelling clay",
        "slightly reactive clay",
        "silty sand",
        "frost-susceptible silt",
    ],
)
def test_heaving_soil_leaves_quiet_soil_and_ground_that_does_not_freeze(soil: str) -> None:
    site = f"site: {{freezing: none, soil: {{kind: {soil}}}}}"
    assert review_by("heaving-soil", pad(site)).does_not_apply


def test_heaving_soil_leaves_what_a_report_settles() -> None:
    assert review_by("heaving-soil", pad("site: {soil: {kind: expansive clay, report: true}}")).does_not_apply
