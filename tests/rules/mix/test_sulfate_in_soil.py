"""The rule `sulfate-in-soil`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken
from design_text import pad, review_by
from judged import findings


@pytest.mark.parametrize(
    ("percent", "psi", "water"),
    [
        # ACI 318-19 Tables 19.3.1.1 (0.20 % is S2) and 19.3.2.1; PCA EB001; read
        (0.10, 4000, 0.50),
        (0.19, 4000, 0.50),
        (0.20, 4500, 0.45),
        (0.21, 4500, 0.45),
        (2.0, 4500, 0.45),
        (2.1, 5000, 0.40),
    ],
)
def test_sulfate_in_soil_asks_by_class(percent: float, psi: float, water: float) -> None:
    def mix(strength: float, ratio: float) -> list[str]:
        soil = f"site: {{soil: {{kind: clay, sulfate: {percent} %}}}}\n"
        text = soil + f"mix: {{strength: {strength:g} psi, water_cement: {ratio}, cement_type: V}}"
        return [comment.weight for comment in review_by("sulfate-in-soil", pad(text)).comments]

    assert mix(psi, water) == []
    assert mix(psi - 1, water) == ["caution"]
    assert mix(psi, water + 0.001) == ["caution"]


@pytest.mark.parametrize(
    ("percent", "cement", "found"),
    [
        # ACI 318-19 (read in an association's form): S2 V or HS; S1 II or MS and S3's two ways recalled
        (0.15, "I", ["s1_cement_at_least"]),
        (0.15, "II", []),
        (0.15, "IL (MS)", []),
        (0.5, "II", ["s2_cement_at_least"]),
        (0.5, "IL (HS)", []),
        (0.5, "CEM I-SR", []),
        (2.5, "V", ["s3_strength_at_least"]),  # and the water with it: one mix is ordered
        (2.5, "V with pozzolan", []),
    ],
)
def test_sulfate_in_soil_wants_a_cement(percent: float, cement: str, found: list[str]) -> None:
    soil = f"site: {{soil: {{sulfate: {percent} %}}}}\n"
    text = soil + f"mix: {{strength: 4500 psi, water_cement: 0.45, cement_type: {cement}}}"
    assert limits_broken(review_by("sulfate-in-soil", pad(text))) == found


@pytest.mark.parametrize(("psi", "asked"), [(4500, True), (5000, True), (4000, False)])
def test_sulfate_in_soil_asks_for_the_cement_of_a_mix_that_may_do(psi: float, asked: bool) -> None:
    text = f"site: {{soil: {{sulfate: 2.5 %}}}}\nmix: {{strength: {psi} psi, water_cement: 0.45}}"
    report = review_by("sulfate-in-soil", pad(text))
    assert [entry.add[0].partition(":")[0] for entry in report.not_shown] == (["mix.cement_type"] if asked else [])
    assert bool(report.comments) is not asked


def test_sulfate_in_soil_that_does_not_matter_or_is_not_known() -> None:
    soil = "site: {soil: {kind: clay, sulfate: 0.05 %}}"
    asked = review_by("sulfate-in-soil", pad(soil.replace("0.05", "0.15"))).not_shown[0].add

    assert (
        review_by("sulfate-in-soil", pad(soil)).does_not_apply[0].reason
        == "the soil holds too little sulfate to matter"
    )
    assert review_by("sulfate-in-soil", pad("")).does_not_apply
    assert [one.split(":")[0] for one in asked] == ["mix.strength", "mix.water_cement"]


@pytest.mark.parametrize(
    ("percent", "write"), [(0.15, "order cement II"), (0.5, "order cement V"), (2.5, "order cement V")]
)
def test_sulfate_in_soil_of_a_plain_cement_is_told_what_to_order(percent: float, write: str) -> None:
    mix = "mix: {strength: 5000 psi, water_cement: 0.40, cement_type: I}"
    (one,) = findings("sulfate-in-soil", pad(f"site: {{soil: {{sulfate: {percent} %}}}}\n{mix}"))

    assert one.shown.si == 0  # it resists nothing
    assert advice(one) == write
