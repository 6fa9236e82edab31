"""The rule `soil-weights`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from judged import judged, margin
from slabs.dig import amount
from slabwright.formulas.hauling import unit_weights
from slabwright.rulebook.conclusion import Finding


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
