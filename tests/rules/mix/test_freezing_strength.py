"""The rule `freezing-strength`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, weights
from design_text import pad, review_by, rule_named
from judged import finding, margin
from slabs.mix import review
from slabwright.formulas import mix
from slabwright.formulas.units import PSI
from slabwright.text.words import plain
from slabwright.units.quantity import read


def test_the_strengths_asked_are_those_of_the_documents() -> None:
    limits = {limit.name: read(limit.value, limit.kind).si for limit in rule_named("freezing-strength").limits}

    assert limits["salted_at_least"] == pytest.approx(4500 * PSI)  # ACI 332-20, class RF3
    assert limits["salted_water_cement_at_most"] == mix.SALTED_WATER_CEMENT == 0.45
    assert limits["severe_at_least"] == pytest.approx(3500 * PSI)  # IRC Table R402.2; IBC 1904.2 for F3
    assert limits["moderate_at_least"] == pytest.approx(3000 * PSI)  # IRC Table R402.2
    assert limits["metric_salted_at_least"] == 30e6  # EN 206-1:2000 Table F.1, XF4: C30/37, read
    assert limits["mild_at_least"] == pytest.approx(2500 * PSI)  # ACI 318-19 Table 19.3.2.1


@pytest.mark.parametrize(
    ("strength", "site", "found"),
    [
        ("3500 psi", "freezing: severe", []),
        ("3499 psi", "freezing: severe", [("hold", "severe_at_least")]),
        ("3500 psi", "freezing: moderate", []),
        ("3000 psi", "freezing: moderate", []),
        ("2999 psi", "freezing: moderate", [("caution", "moderate_at_least")]),
        ("4500 psi", "freezing: severe, deicing_salt: true", []),
        ("4000 psi", "freezing: severe, deicing_salt: true", [("caution", "salted_at_least")]),  # ACI 332-14 had 4,000
        ("3000 psi", "freezing: severe, deicing_salt: true", [("hold", "severe_at_least")]),
        ("4000 psi", "freezing: moderate, deicing_salt: true", [("caution", "salted_at_least")]),
        ("2500 psi", "freezing: none", []),
        ("2500 psi", "freezing: none, deicing_salt: true", []),
        ("2000 psi", "freezing: none", [("caution", "mild_at_least")]),
    ],
)
def test_freezing_strength(strength: str, site: str, found: list[tuple[str, str]]) -> None:
    assert weights(review("freezing-strength", f"strength: {strength}", site)) == found


def test_freezing_strength_orders_what_salt_asks_where_frost_asks_less() -> None:
    comment = only(review("freezing-strength", "strength: 3000 psi", "freezing: severe, deicing_salt: true"))

    assert advice(comment) == "order 4500 psi: 1500 psi more"
    assert plain(comment.says, "us", both=False) == "3000 psi is weak for a slab where it freezes hard"
    salt = only(review("freezing-strength", "strength: 4000 psi", "freezing: severe, deicing_salt: true"))
    assert "with salt on it" in salt.says.template


@pytest.mark.parametrize(
    ("strength", "site", "met"),
    [
        # printed beside 2,500, 3,500 and 4,500 psi: 17, 24 and 31 MPa
        ("24 MPa", "freezing: severe", True), ("23 MPa", "freezing: severe", False),
        ("30 MPa", "freezing: severe, deicing_salt: true", True), ("17 MPa", "freezing: none", True),
        ("C25/30", "freezing: severe, deicing_salt: true", False),
    ],
)  # fmt: skip
def test_freezing_strength_in_metric(strength: str, site: str, met: bool) -> None:
    report = review("freezing-strength", f"strength: {strength}", site, thickness="100 mm", unit="m")

    assert (report.comments == ()) is met


@pytest.mark.parametrize(("ratio", "site", "found"), [
    ("0.45", "freezing: severe, deicing_salt: true", []),
    ("0.46", "freezing: severe, deicing_salt: true", [("caution", "salted_water_cement_at_most")]),
    ("0.55", "freezing: severe", []),
    ("0.60", "freezing: none, deicing_salt: true", []),
])  # fmt: skip
def test_freezing_strength_looks_at_the_water_where_salt_comes(
    ratio: str, site: str, found: list[tuple[str, str]]
) -> None:
    assert weights(review("freezing-strength", f"strength: 5000 psi, water_cement: {ratio}", site)) == found


def test_freezing_strength_asks_less_of_floors_indoors() -> None:
    (entry,) = review("freezing-strength").not_shown
    assert [add.partition(":")[0] for add in entry.add] == ["site.freezing", "mix.strength"]

    for use, strength, found in (
        ("shop floor", 2500, []),
        ("shed base", 2400, ["caution"]),
        ("garage floor", 3500, []),
    ):
        report = review("freezing-strength", f"strength: {strength} psi", "freezing: severe", use=use)
        assert [one.weight for one in report.comments] == found  # IRC Table R402.2, quoted: 2,500 psi indoors
    for finish, found in (("trowel", ["garage_at_least"]), ("broom", [])):  # ACI 332-20, recalled: 4,000 psi
        text = f"use: garage floor\nsite: {{freezing: severe}}\nmix: {{strength: 3900 psi}}\npour: {{finish: {finish}}}"
        comments = review_by("freezing-strength", pad(text).replace("use: patio\n", "")).comments
        assert [one.limit.name for one in comments] == found
    for salt, found in (("true", ["garage_at_least"]), ("false", [])):  # C25/30 of XF1, DIN 1045-2, quoted
        text = (f"site: {{freezing: moderate, deicing_salt: {salt}}}\nmix: {{strength: C25/30}}\n"
                "pour: {finish: trowel}")  # fmt: skip
        report = review_by("freezing-strength", pad(text, use="garage floor", thick="130 mm", unit="m"))
        assert limits_broken(report) == found
    sheltered = review("freezing-strength", "strength: 3000 psi", "freezing: severe, outdoors: false")
    assert [one.rule for one in sheltered.met] == ["freezing-strength"]


def test_frost_and_salt_each_with_its_own_limit() -> None:
    """IRC Table R402.2: 3,500 psi; ACI 332-20: 4,500 psi where salt comes on it as well."""
    both = finding("freezing-strength", pad("site: {freezing: severe, deicing_salt: true}\nmix: {strength: 3000 psi}"))
    salt = finding("freezing-strength", pad("site: {freezing: severe, deicing_salt: true}\nmix: {strength: 4000 psi}"))

    assert both.asked is not None
    assert salt.asked is not None
    assert (both.limit.name, both.asked.si) == ("severe_at_least", pytest.approx(3500 * PSI))
    assert (salt.limit.name, salt.asked.si) == ("salted_at_least", pytest.approx(4500 * PSI))
    assert "salt" not in both.says.template
    assert "salt" in salt.says.template
    assert both.working[0].result.si == pytest.approx(1500 * PSI)  # of the 4,500 to order


@pytest.mark.parametrize(
    ("site", "name"),
    [
        ("freezing: none, deicing_salt: true", "mild_at_least"),
        ("freezing: moderate", "moderate_at_least"),
        ("freezing: severe", "severe_at_least"),
        ("freezing: severe, deicing_salt: true", "salted_at_least"),
    ],
)
def test_what_is_met_is_the_strictest_that_is_asked(site: str, name: str) -> None:
    assert margin("freezing-strength", pad(f"site: {{{site}}}\nmix: {{strength: 4500 psi}}")).limit.name == name


@pytest.mark.parametrize(
    ("strength", "water", "found"),
    [
        (3600, 0.55, [("salted_at_least", "order 4500 psi: 900 psi more; order water over cement of 0.45 or less")]),
        (3600, 0.45, [("salted_at_least", "order 4500 psi: 900 psi more")]),
        (4500, 0.55, [("salted_water_cement_at_most", "order water over cement of 0.45 or less")]),
    ],
)
def test_strength_and_water_of_one_mix_are_one_comment(
    strength: int, water: float, found: list[tuple[str, str]]
) -> None:
    """ACI 332-20, quoted: 4,500 psi and 0.45 where salt comes on it."""
    text = pad(
        f"site: {{freezing: severe, deicing_salt: true}}\nmix: {{strength: {strength} psi, water_cement: {water}}}"
    )
    comments = review_by("freezing-strength", text).comments
    assert [(one.limit.name, plain(one.to_pass, "us")) for one in comments] == found


@pytest.mark.parametrize(
    ("mix", "site", "found"),
    [  # ACI 318-14, class F1: 0.55 beside 3,500 psi, quoted; where salt comes on it 0.45 (ACI 332-20)
        ("water_cement: 0.55", "freezing: severe", []),
        ("water_cement: 0.56", "freezing: severe", [("caution", "severe_water_cement_at_most")]),
        ("water_cement: 0.56, exposure: F1", "freezing: severe", []),  # which exposure-class compares
        ("water_cement: 0.60", "freezing: moderate", []),
        ("water_cement: 0.60", "freezing: none", []),
        ("water_cement: 0.56", "freezing: severe, deicing_salt: true", [("caution", "salted_water_cement_at_most")]),
    ],
)
def test_water_over_cement_where_it_freezes_hard_without_salt(
    mix: str, site: str, found: list[tuple[str, str]]
) -> None:
    report = review("freezing-strength", f"strength: 4500 psi, {mix}", site)
    assert weights(report) == found
    for comment in report.comments:
        most = "0.45" if "salt" in site else "0.55"
        assert advice(comment) == f"order water over cement of {most} or less"


def test_a_weak_wet_mix_in_hard_frost_is_one_order() -> None:
    comment = only(review("freezing-strength", "strength: 2500 psi, water_cement: 0.60", "freezing: severe"))
    assert plain(comment.says, "us", both=False).endswith(", and so much water opens its skin to the frost")
    assert advice(comment) == "order 3500 psi: 1000 psi more; order water over cement of 0.55 or less"


@pytest.mark.parametrize(("site", "judged"), [("freezing: severe", False), ("freezing: none", True)])
def test_a_mix_of_european_classes_gets_its_strength_with_the_frost_class(site: str, judged: bool) -> None:
    """One order: XC4 alone on a slab that freezes lacks XF3, which brings C25/30 (`frost-class`)."""
    text = pad(f"site: {{{site}, outdoors: true}}\nmix: {{strength: C12/15, exposure: XC4}}", unit="m", thick="100 mm")
    assert bool(review_by("freezing-strength", text).comments) is judged
    assert bool(review_by("frost-class", text).comments) is not judged


def test_a_strength_in_megapascals_is_answered_in_them() -> None:
    """A class is ordered only where one is written: C30/37 is no word of a Canadian or an Australian plant."""

    def ordered(strength: str) -> str:
        mix = f"strength: {strength}, water_cement: 0.45"
        return advice(
            only(review("freezing-strength", mix, "freezing: severe, deicing_salt: true", unit="m")), "metric"
        )

    assert ordered("25 MPa") == "order 30 MPa: 5 MPa more"
    assert ordered("N25") == "order 30 MPa: 5 MPa more"
    assert ordered("C25/30") == "order C30/37: 5 MPa more"
