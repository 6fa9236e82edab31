"""The rule `full-box`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places
from design_text import pad, review_by
from judged import asked_at, finding, judged
from slabs.dig import POUND, TON, YARD3, amount
from slabwright.rulebook.conclusion import Finding


def hauled(soil: str, dig: str, unit: str = "ft") -> str:
    return pad(f"site: {{soil: {{{soil}}}}}\ndig: {{{dig}}}", unit=unit, side="8" if unit == "ft" else "3")


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
    assert advice(comment) == "load 4.25 yd3 at a time, and count trips by weight"
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

    assert places(report) == ["a box of soil", "a box of broken concrete"]
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


@pytest.mark.parametrize(
    ("soil", "pounds"),
    [
        ("kind: clay, swell: 40 %", 3000 / 1.4),  # Nunnally, Table 2-5, recalled: clay 3,000 lb/yd3 in the bank
        ("kind: clay, bank_weight: 3200 lb/yd3", 3200 / 1.3),  # and a swell of 30 %
        ("kind: clay, bank_weight: 3200 lb/yd3, swell: 40 %", 3200 / 1.4),
        ("kind: peat, bank_weight: 1500 lb/yd3, swell: 20 %", 1500 / 1.2),
        ("bank_weight: 2800 lb/yd3, swell: 25 %", 2800 / 1.25),
    ],
)
def test_full_box_weighs_what_is_written_before_what_is_tabled(soil: str, pounds: float) -> None:
    one = finding("full-box", hauled(soil, "box: 10 yd3, payload: 5 ton"))
    assert one.shown.si == pytest.approx(pounds * 10 / 10_000)


@pytest.mark.parametrize(
    ("soil", "asked"),
    [
        ("kind: peat", ["site.soil.bank_weight", "site.soil.swell"]),
        ("kind: peat, bank_weight: 1500 lb/yd3", ["site.soil.swell"]),  # in no table: both are wanted
        ("kind: peat, swell: 20 %", ["site.soil.bank_weight"]),
        (
            "kind: solid rock",
            ["site.soil.bank_weight", "site.soil.swell"],
        ),  # blasted: not in the table
    ],
)
def test_full_box_asks_for_both_numbers_of_a_soil_in_no_table(soil: str, asked: list[str]) -> None:
    assert asked_at("full-box", hauled(soil, "box: 10 yd3, payload: 5 ton")) == (asked, "site.soil")


@pytest.mark.parametrize(
    ("dig", "asked"),
    [
        ("payload: 5 ton", ["dig.box"]),
        ("box: 10 yd3", ["dig.payload"]),
        ("tip: {load_at_most: 6 ton}", ["dig.box", "dig.payload"]),
        ("box: 10 yd3, tip: {load_at_most: 6 ton}", ["dig.payload"]),
    ],
)
def test_full_box_asks_for_what_is_not_said_of_hauling(dig: str, asked: list[str]) -> None:
    assert asked_at("full-box", hauled("kind: clay", dig)) == (asked, "dig")


@pytest.mark.parametrize(
    ("dig", "carries"),
    [
        ("payload: 5 ton", 5),
        ("payload: 5 ton, tip: {load_at_most: 4 ton}", 4),
        ("payload: 5 ton, tip: {load_at_most: 6 ton}", 5),
        ("payload: 5 ton, tip: {name: quarry}", 5),
    ],
)
def test_full_box_carries_the_lesser_of_truck_and_tip(dig: str, carries: float) -> None:
    one = finding("full-box", hauled("kind: clay", f"box: 10 yd3, {dig}"))
    assert amount(one.says.values["p"]) == pytest.approx(carries * TON)


def test_full_box_of_broken_concrete_counts_no_trips_of_soil() -> None:
    dig = "depth: 6 in, box: 10 yd3, payload: 5 ton, broken_concrete: {area: 300 ft2, thickness: 4 in}"
    soil, broken = judged("full-box", hauled("kind: clay", dig))
    assert isinstance(soil, Finding) and isinstance(broken, Finding)
    assert (len(soil.working), len(broken.working)) == (4, 2)
    weight = [step.result.si for step in broken.working]
    assert weight == pytest.approx([10 * 2500 * POUND, 2.5])  # 2,500 lb/yd3: estimating practice
    assert len(judged("full-box", hauled("kind: clay", "box: 10 yd3, payload: 5 ton"))) == 1


@pytest.mark.parametrize(
    ("dig", "load"),
    [  # clay is 3,000 / 1.3 = 2,307.7 lb/yd3 loose, 1369.1 kg/m3: down to a quarter of a yard
        ("box: 10 yd3, payload: 5 ton", 4.25),  # 4.333
        ("box: 10 yd3, payload: 5.1 ton", 4.25),  # 4.42
        ("box: 10 yd3, payload: 5.2 ton", 4.5),  # 4.507
        ("box: 10 yd3, payload: 5.8 ton", 5.0),  # 5.027
    ],
)
def test_full_box_is_loaded_in_quarters_of_a_yard(dig: str, load: float) -> None:
    told = finding("full-box", hauled("kind: clay", dig)).to_pass.values["load"]
    assert amount(told) == pytest.approx(load * YARD3)


@pytest.mark.parametrize(("payload", "load"), [(5.0, 3.6), (5.2, 3.7), (5.6, 4.0)])  # 3.652, 3.798, 4.090 m3
def test_full_box_is_loaded_in_tenths_of_a_cubic_meter(payload: float, load: float) -> None:
    told = finding("full-box", hauled("kind: clay", f"box: 8 m3, payload: {payload} t", "m")).to_pass.values["load"]
    assert amount(told) == pytest.approx(load)


def test_full_box_load_keeps_a_limit_of_the_firm() -> None:
    """Nine tenths of 5 ton: 9,000 lb of 2,307.7 lb/yd3 are 3.9 yd3."""
    one = finding("full-box", hauled("kind: clay", "box: 10 yd3, payload: 5 ton"), full_box_at_most="0.9")
    assert amount(one.to_pass.values["load"]) == pytest.approx(3.75 * YARD3)


def test_full_box_heaps_up_what_is_dug() -> None:
    """64 ft2 and 27 in are 5 1/3 yd3 in the bank; at 40 % 7.467 loose: one box, but two loads of 5 ton."""
    dig = "depth: 27 in, box: 10 yd3, payload: 5 ton"
    steps = finding("full-box", hauled("kind: clay, swell: 40 %", dig)).working
    assert [step.result.si for step in steps[2:]] == [1, 2]
    assert amount(steps[2].numbers.values["v"]) == pytest.approx(16 / 3 * 1.4 * YARD3)
    assert amount(steps[3].numbers.values["w"]) == pytest.approx(16 / 3 * 3000 * POUND)
