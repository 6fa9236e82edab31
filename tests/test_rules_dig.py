"""Rules about digging and hauling: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import pytest
from comments import only, weights
from design_text import pad, review_by
from slabwright.text.words import plain

POUND, YARD3 = 0.45359237, 0.9144**3

# full-box


def test_full_box_counts_the_published_trips() -> None:
    """480 ft2, 10 in of clay: 14.8 yd3 bank, 19.3 loose, 22 tons; 10 yd3 box, 5 tons: 2 trips by volume, 5 by weight.

    Closed form (arithmetic on 30 % swell and 3,000 lb/yd3); tests/data/checks.yaml, ex-trips.
    """
    soil = "site: {soil: {kind: clay, swell: 30 %, bank_weight: 3000 lb/yd3}}\n"
    pit = pad(soil + "dig: {depth: 10 in, box: 10 yd3, payload: 5 ton}", outline="[[0, 0], [40, 0], [40, 12], [0, 12]]")
    comment = only(review_by("full-box", pit))
    steps = {step.what: step.result.si for step in comment.working}

    assert (comment.weight, comment.at.name) == ("caution", "a box of soil")
    assert steps["trips by volume"] == 2
    assert steps["trips by weight"] == 5
    assert steps["a full box"] == pytest.approx(10 * 3000 / 1.3 * POUND)
    assert comment.shown.si == pytest.approx(10 * 3000 / 1.3 / 10000)
    load = comment.to_pass.values["load"]
    assert plain(comment.to_pass, "us", both=False) == "load 4.25 yd3 at a time, and count trips by weight"
    assert load.si * 3000 / 1.3 * POUND / YARD3 <= 5 * 2000 * POUND  # type: ignore[union-attr]
    assert not review_by("full-box", pit.replace("5 ton", "12 ton")).comments


@pytest.mark.parametrize(
    ("kind", "pounds"),
    [
        # Nunnally, Table 2-5, recalled: loose weights; swell 30, 25 and 12 % from the bank weights
        ("clay", 3000 / 1.30),
        ("loam", 3100 / 1.25),
        ("clean gravel", 3200 / 1.12),
    ],
)
def test_full_box_takes_tabled_weights_where_none_are_written(kind: str, pounds: float) -> None:
    report = review_by("full-box", pad(f"site: {{soil: {{kind: {kind}}}}}\ndig: {{box: 10 yd3, payload: 20 ton}}"))

    assert report.met[0].shown is not None
    assert report.met[0].shown.si == pytest.approx(pounds * 10 / 40000, rel=1e-6)


def test_full_box_heeds_the_tip_and_weighs_broken_concrete_for_itself() -> None:
    dig = "dig: {box: 10 yd3, payload: 14 ton, tip: {load_at_most: 6 ton}, "
    broken = "broken_concrete: {area: 300 ft2, thickness: 4 in}}"
    report = review_by("full-box", pad("site: {soil: {kind: clay}}\n" + dig + broken))

    assert [comment.at.name for comment in report.comments] == ["a box of soil", "a box of broken concrete"]
    # broken concrete loose, at most 2,500 lb/yd3: estimating practice
    assert report.comments[1].shown.si == pytest.approx(10 * 2500 / 12000)


def test_full_box_asks_for_what_it_lacks() -> None:
    bare = review_by("full-box", pad("dig: {box: 10 yd3}"))
    peat = review_by("full-box", pad("site: {soil: {kind: peat}}\ndig: {box: 10 yd3, payload: 5 ton}"))
    weighed = pad("site: {soil: {bank_weight: 1500 lb/yd3, swell: 20 %}}\ndig: {box: 10 yd3, payload: 9 ton}")

    assert [one.split(":")[0] for one in bare.not_shown[0].add] == [
        "dig.payload",
        "site.soil.bank_weight",
        "site.soil.swell",
    ]
    assert [one.split(":")[0] for one in peat.not_shown[0].add] == ["site.soil.bank_weight", "site.soil.swell"]
    assert review_by("full-box", weighed).met
    assert review_by("full-box", pad("dig: {depth: 8 in}")).does_not_apply
    assert review_by("full-box", pad("")).does_not_apply


# soil-weights


@pytest.mark.parametrize(
    ("soil", "found"),
    [
        # Nunnally, Table 2-5, recalled: clay 2,310 loose, 3,000 bank, 3,750 compacted
        ("kind: clay, bank_weight: 3000 lb/yd3", []),
        ("kind: clay, bank_weight: 2310 lb/yd3", [("caution", "part_of_tabled_at_least")]),
        ("kind: clay, bank_weight: 3750 lb/yd3", [("caution", "part_of_tabled_at_most")]),
        ("kind: clay, bank_weight: 2400 lb/yd3", []),  # 0.8, common practice
        ("kind: clay, bank_weight: 3600 lb/yd3", []),  # 1.2
        ("kind: clay, bank_weight: 2390 lb/yd3", [("caution", "part_of_tabled_at_least")]),
        ("kind: clean gravel, bank_weight: 2700 lb/yd3", []),  # 100 lb/ft3 again, 0.84
        ("kind: sandy loam, bank_weight: 2700 lb/yd3", []),  # 100 lb/ft3, undisturbed soil: estimating text, read
        # Peurifoy, Table 4-1, quoted: clay 30 to 60 %, clean sand or gravel 5 to 15, loam 10 to 35, rock 50 to 80;
        # a quarter to either side (common practice)
        ("kind: clay, swell: 30 %", []),
        ("kind: clay, swell: 25 %", []),
        ("kind: clay, swell: 23 %", [("note", "part_of_least_swell_at_least")]),
        ("kind: gravel, swell: 19 %", [("note", "part_of_most_swell_at_most")]),
        ("kind: silty sand, swell: 20 %", []),
        ("kind: clay, swell: 76 %", [("note", "part_of_most_swell_at_most")]),
    ],
)
def test_soil_weights_against_the_tables(soil: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("soil-weights", pad(f"site: {{soil: {{{soil}}}}}"))) == found


@pytest.mark.parametrize(
    "soil", ["", "kind: clay", "kind: peat, swell: 20 %", "kind: solid rock, bank_weight: 4000 lb/yd3"]
)
def test_soil_weights_need_a_number_and_a_tabled_kind(soil: str) -> None:
    assert review_by("soil-weights", pad(f"site: {{soil: {{{soil}}}}}" if soil else "")).does_not_apply


# base-ordered


def test_base_ordered_against_the_published_weight() -> None:
    """400 ft2, 4 in at 140 lb/ft3: 9.33 tons (estimating practice; tests/data/checks.yaml, ba-tons)."""
    yard = "site: {base: {thickness: 4 in}}\norder: {base: WEIGHT}"

    def ordered(weight: str) -> list[tuple[str, str]]:
        return weights(review_by("base-ordered", pad(yard.replace("WEIGHT", weight), side="20")))

    assert ordered("9.34 ton") == []
    assert ordered("9.33 ton") == [("caution", "part_of_need_at_least")]
    comment = only(review_by("base-ordered", pad(yard.replace("WEIGHT", "5 ton"), side="20")))
    assert comment.to_pass.values["write"].si == pytest.approx(9.5 * 2000 * POUND)  # type: ignore[union-attr]
    assert comment.working[0].result.si == pytest.approx(400 / 3 * 140 * POUND)


def test_base_ordered_answers_in_tons() -> None:
    """20 by 20 ft, 4 in, 140 lb/ft3: 18,667 lb, 9.33 ton, so 9 1/2 ton by the half ton."""
    text = pad("order: {base: 5 ton}\nsite: {base: {material: crushed stone, thickness: 4 in}}", side="20")
    comment = only(review_by("base-ordered", text))
    assert plain(comment.says, "us", both=False) == "5 ton of stone is ordered, and the base takes 9.33 ton"
    assert plain(comment.to_pass, "us", both=False) == "order 9.5 ton"


def test_base_ordered_asks_for_the_base() -> None:
    assert "site.base.thickness" in review_by("base-ordered", pad("order: {base: 5 ton}")).not_shown[0].add[0]
    assert review_by("base-ordered", pad("")).does_not_apply
