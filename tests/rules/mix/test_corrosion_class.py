"""The rule `corrosion-class`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only
from design_text import pad, review_by
from judged import judged


@pytest.mark.parametrize(
    ("classes", "strength", "water"),
    [  # EN 206-1:2000 Table F.1, read
        ("XC1", 20, 0.65),
        ("XC2", 25, 0.60),
        ("XC3", 30, 0.55),
        ("XC4", 30, 0.50),
        ("XD1", 30, 0.55),
        ("XD2", 30, 0.55),
        ("XD3", 35, 0.45),
        ("XC4, XF1", 30, 0.50),
        ("XC1 + XD3", 35, 0.45),
        ("xc4/xd1/xf2/WF", 30, 0.50),
    ],
)
def test_corrosion_class_asks_what_the_hardest_class_asks(classes: str, strength: float, water: float) -> None:
    def mix(strength: float, water: float) -> list[str]:
        text = f'mix: {{exposure: "{classes}", strength: {strength} MPa, water_cement: {water}}}'
        return limits_broken(review_by("corrosion-class", pad(text, unit="m")))

    assert mix(strength, water) == []
    (weak,) = mix(strength - 0.01, water)
    (wet,) = mix(strength, water + 0.001)
    assert (weak[-18:], wet[-14:]) == ("_strength_at_least", "_water_at_most")
    assert len(mix(12, 0.9)) == 2
    text = pad(f'mix: {{exposure: "{classes}", strength: {strength - 2} MPa}}', unit="m")
    (short,) = review_by("corrosion-class", text).comments[0].working
    assert short.result.si == pytest.approx(2e6)


def test_corrosion_class_is_silent_without_one() -> None:
    for text in ("mix: {exposure: XF3}", "mix: {exposure: F3}", "mix: {strength: C30/37}"):
        assert review_by("corrosion-class", pad(text, unit="m")).does_not_apply
    report = review_by("frost-class", pad("mix: {exposure: XC4, strength: C30/37}", unit="m"))
    assert report.does_not_apply
    told = review_by("frost-class", pad(
        'site: {freezing: severe, deicing_salt: true}\n'
        'mix: {exposure: "XC4, XF1", strength: C30/37, water_cement: 0.45, air: 5 %}', unit="m"))  # fmt: skip
    assert [advice(one, "metric") for one in told.comments] == ["order XF4"]
    (edit,) = told.comments[0].remedies[0].edits
    assert edit.value == "XC4, XF4"  # the class for the steel stays


@pytest.mark.parametrize(("air", "row"), [("", ""), ("air: 3.4 %, ", ""), ("air: 3.5 %, ", "aired_")])
def test_corrosion_class_of_salt_is_softer_on_aired_concrete(air: str, row: str) -> None:
    # DIN 1045-2, quoted: with entrained air, at least 3.5 % on the mean of any stone
    text = f"mix: {{exposure: XD1, {air}strength: C30/37, water_cement: 0.5}}"

    assert [one.limit.name for one in judged("corrosion-class", pad(text, unit="m"))] == [
        f"xd1_{row}strength_at_least", "xd1_water_at_most",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("water", "to_pass"),
    [("", "order C30/37; order water over cement of 0.50 or less"), (", water_cement: 0.5", "order C30/37")],
)
def test_corrosion_class_names_the_water_to_order_where_none_is_written(water: str, to_pass: str) -> None:
    # EN 206-1:2000 Table F.1, read: XC4
    text = pad(f"mix: {{exposure: XC4, strength: C25/30{water}}}", unit="m")
    assert advice(only(review_by("corrosion-class", text)), "metric") == to_pass
