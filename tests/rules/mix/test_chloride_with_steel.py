"""The rule `chloride-with-steel`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("site", "percent", "found"),
    [
        # ACI 318-14 Table 19.3.2.1, quoted: C1 0.30 %, C2 0.15 % of the cement
        ("deicing_salt: false", 0.30, []),
        ("deicing_salt: false", 0.31, [("caution", "with_steel_at_most")]),
        ("deicing_salt: true", 0.15, []),
        ("deicing_salt: true", 0.16, [("caution", "salted_at_most")]),
    ],
)
def test_chloride_with_steel(site: str, percent: float, found: list[tuple[str, str]]) -> None:
    steel = 'reinforcement: {bars: {size: "#4", spacing: 18 in}}\n'
    text = f"site: {{{site}}}\n{steel}mix: {{chloride: {percent} %}}"

    report = review_by("chloride-with-steel", pad(text))
    assert weights(report) == found
    assert ["salt from above" in plain(one.says, "us") for one in report.comments] == ["true" in site] * len(found)
    assert review_by("chloride-with-steel", pad(text.replace(steel, ""))).does_not_apply
    assert review_by("chloride-with-steel", pad(steel)).does_not_apply
    fibers = steel.replace('bars: {size: "#4", spacing: 18 in}', "fiber: {kind: steel, dose: 40 lb/yd3}")
    assert weights(review_by("chloride-with-steel", pad(text.replace(steel, fibers)))) == found


@pytest.mark.parametrize(("joint", "steel"), [("dowels: {diameter: 3/4 in, spacing: 12 in, length: 16 in}", True),
                                              ("locked_by: tie bars", True), ("locked_by: key", False)])  # fmt: skip
def test_steel_across_a_joint_is_steel_in_the_slab(joint: str, steel: bool) -> None:
    stop = f"joints: [{{name: stop, kind: construction joint, from: [4, 0], to: [4, 8], {joint}}}]\n"
    report = review_by("chloride-with-steel", pad(f"site: {{deicing_salt: false}}\n{stop}mix: {{chloride: 0.5 %}}"))

    assert weights(report) == ([("caution", "with_steel_at_most")] if steel else [])
    assert bool(report.does_not_apply) is not steel
