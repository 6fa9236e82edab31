"""Rules about digging and hauling at their edges: soils of no table, boxes of broken concrete, steps to load in."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import added, ended, finding, judged, margin
from slabwright.formulas.hauling import unit_weights
from slabwright.plan.given import DoesNotApply
from slabwright.rulebook.conclusion import Finding
from slabwright.units.quantity import Amount

POUND, YARD3, TON = 0.45359237, 0.9144**3, 2000 * 0.45359237

# full-box


def hauled(soil: str, dig: str, unit: str = "ft") -> str:
    return pad(f"site: {{soil: {{{soil}}}}}\ndig: {{{dig}}}", unit=unit, side="8" if unit == "ft" else "3")


def amount(value: object) -> float:
    assert isinstance(value, Amount)
    return value.si


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
    assert added("full-box", hauled(soil, "box: 10 yd3, payload: 5 ton")) == (asked, "site.soil")


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
    assert added("full-box", hauled("kind: clay", dig)) == (asked, "dig")


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


# soil-weights


@pytest.mark.parametrize(("part", "limit"), [(0.999, "least"), (1.0, "most"), (1.001, "most")])
def test_soil_weights_on_either_side_of_the_table(part: float, limit: str) -> None:
    weight = f"{unit_weights('clay').bank * part!r} kg/m3"
    one = margin("soil-weights", pad(f"site: {{soil: {{kind: clay, bank_weight: {weight}}}}}"))
    assert one.limit.name == f"part_of_tabled_at_{limit}"
    assert one.shown.si == pytest.approx(part, rel=1e-9)


@pytest.mark.parametrize(
    ("soil", "found"),
    [
        ("kind: peat, bank_weight: 900 lb/yd3", None),
        ("bank_weight: 900 lb/yd3, swell: 3 %", None),
        ("kind: solid rock, bank_weight: 900 lb/yd3", None),  # no weight is tabled, and no swell is written
        ("kind: solid rock, bank_weight: 900 lb/yd3, swell: 30 %", ["part_of_least_swell_at_least"]),
        ("kind: clay, bank_weight: 900 lb/yd3, swell: 30 %", ["part_of_tabled_at_least"]),
        ("kind: clay, bank_weight: 900 lb/yd3, swell: 80 %", ["part_of_tabled_at_least", "part_of_most_swell_at_most"]),
    ],
)
def test_soil_weights_compare_what_is_tabled(soil: str, found: list[str] | None) -> None:
    report = review_by("soil-weights", pad(f"site: {{soil: {{{soil}}}}}"))
    assert bool(report.does_not_apply) is (found is None)
    assert [limit for _, limit in weights(report)] == (found or [])


def test_soil_weights_tell_the_range_of_the_swell() -> None:
    """Peurifoy, Table 4-1, quoted: clay 30 to 60 %."""
    little, much = judged(
        "soil-weights", pad("site: {soil: {kind: clay, swell: 15 %}}"), part_of_most_swell_at_most="0.2"
    )
    assert isinstance(little, Finding) and isinstance(much, Finding)
    assert (little.shown.si, much.shown.si) == (pytest.approx(0.5), pytest.approx(0.25))
    for one in (little, much):
        assert [amount(one.to_pass.values[slot]) for slot in ("low", "high")] == pytest.approx([0.3, 0.6])


# base-ordered


@pytest.mark.parametrize(
    ("part", "write"),
    [  # 64 ft2, 4 in, at 140 lb/ft3: 2,986.7 lb, 1.493 tons; written in half tons
        ("1", 1.5),
        ("0.9", 1.5),
        ("1.1", 2.0),  # 1.643
        ("0.6", 1.0),  # 0.896
    ],
)
def test_base_ordered_is_written_in_half_tons(part: str, write: float) -> None:
    text = pad("site: {base: {thickness: 4 in}}\norder: {base: 0.1 ton}")
    one = finding("base-ordered", text, part_of_need_at_least=part)
    assert amount(one.to_pass.values["write"]) == pytest.approx(write * TON)
    assert one.shown.si == pytest.approx(0.1 / (64 / 3 * 140 / 2000))


def test_base_ordered_of_a_metric_plan_is_written_in_half_tonnes() -> None:
    """9 m2, 100 mm, at 140 lb/ft3 or 2,242.6 kg/m3: 2,018 kg."""
    text = pad("site: {base: {thickness: 100 mm}}\norder: {base: 1 t}", unit="m", side="3")
    assert amount(finding("base-ordered", text).to_pass.values["write"]) == pytest.approx(2500)


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("order: {base: 5 ton}", ""),
        ("order: {base: 5 ton}\nsite: {base: {material: gravel}}", "site.base"),
    ],
)
def test_base_ordered_asks_where_the_base_is_written(text: str, asked: str) -> None:
    assert added("base-ordered", pad(text)) == (["site.base.thickness"], asked)


def test_base_ordered_says_nothing_where_none_is_ordered() -> None:
    for order in ("", "\norder: {volume: 3 yd3}"):
        assert isinstance(ended("base-ordered", pad(f"site: {{base: {{thickness: 4 in}}}}{order}")), DoesNotApply)
