"""The rule `exposure-class`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken
from design_text import pad, review_by
from judged import finding
from slabwright.formulas.units import PSI
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain


@pytest.mark.parametrize(
    ("salt", "says"),
    [
        ("true", "F0 is not the class of a flat slab that freezes with salt on it"),
        ("false", "F0 is not the class of a flat slab that freezes wet"),
    ],
)
def test_a_class_that_is_not_that_of_the_site_is_told_why(salt: str, says: str) -> None:
    site = f"site: {{freezing: severe, deicing_salt: {salt}}}"
    comments = review_by("exposure-class", pad(f"{site}\nmix: {{exposure: F0, strength: 5000 psi}}")).comments
    assert plain(comments[0].says, "us") == says


# whole megapascals


@pytest.mark.parametrize(("strength", "short"), [("4000 psi", 500), ("4499 psi", 1)])
def test_a_mix_is_short_by_what_it_lacks_of_its_class(strength: str, short: float) -> None:
    one = finding("exposure-class", pad(f"mix: {{exposure: F2, strength: {strength}}}"))

    assert one.limit.value.si == pytest.approx(4500 * PSI)
    assert one.to_pass.values["m"].si == pytest.approx(short * PSI)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("name", "psi", "water"),
    [
        ("F0", 2500, None),  # ACI 318-19 Table 19.3.2.1, read
        ("F1", 3500, 0.55),  # 3,500: ACI 318-14, quoted; water recalled
        ("F2", 4500, 0.45),  # ACI 318-19, recalled
        ("F3", 4500, 0.45),  # ACI 318-14, plain concrete, quoted
        ("RF0", 2500, None),  # ACI 332-20 Table 5, recalled
        ("RF1", 2500, None),
        ("RF2", 3500, None),
        ("RF3", 4500, 0.45),  # ACI 332-20, via ready-mixed association advisory, quoted
        ("nonstructural F0", 2500, None),  # IBC 2015 sec. 1904.2, recalled
        ("nonstructural F1", 3000, None),
        ("nonstructural F2", 3500, None),
        ("nonstructural F3", 3500, None),
    ],
)
def test_exposure_class_asks_what_its_document_asks(name: str, psi: float, water: float | None) -> None:
    def mix(strength: float, ratio: float) -> list[str]:
        text = f"mix: {{exposure: {name}, strength: {strength:g} psi, water_cement: {ratio}}}"
        return [comment.limit.name.rpartition("_")[0] for comment in review_by("exposure-class", pad(text)).comments]

    low = name.lower().replace(" ", "_").replace("f3", "plain_f3" if name == "F3" else "f3")
    assert mix(psi, water or 0.70) == []
    assert mix(psi - 1, water or 0.70) == [f"{low}_strength_at"]
    if water:
        assert mix(psi, water + 0.001) == [f"{low}_water_at"]


def test_exposure_class_f3_asks_more_where_there_are_bars() -> None:
    """ACI 318-14 Table 19.3.2.1, quoted: 5,000 psi and 0.40, of plain concrete 4,500 and 0.45."""

    def found(steel: str) -> list[str]:
        text = f"mix: {{exposure: F3, strength: 4500 psi, water_cement: 0.45}}\nreinforcement: {{{steel}}}"
        return limits_broken(review_by("exposure-class", pad(text)))

    assert found('bars: {size: "#4", spacing: 18 in}') == ["f3_strength_at_least", "f3_water_at_most"]
    assert found('mesh: {style: "6x6 W2.9"}') == []


def test_exposure_class_recalled_figures_never_hold() -> None:
    def weight(name: str) -> set[str]:
        text = f"mix: {{exposure: {name}, strength: 2000 psi, water_cement: 0.7}}"
        return {comment.weight for comment in review_by("exposure-class", pad(text)).comments}

    assert weight("F2") == weight("F3") == weight("RF2") == weight("nonstructural F2") == {"caution"}
    assert weight("F0") == weight("RF3") == {"hold"}


def test_exposure_class_in_metric_takes_whole_megapascals() -> None:
    # 4,500 psi is printed as 31 MPa (PCA EB001 Table 11-3, read)
    assert not review_by("exposure-class", pad("mix: {exposure: F2, strength: 31 MPa}", unit="m")).comments
    assert review_by("exposure-class", pad("mix: {exposure: F2, strength: 30 MPa}", unit="m")).comments


@pytest.mark.parametrize(
    ("site", "name", "found", "order"),
    [  # ACI 332-20: slabs on soil with frost and deicer are RF3, quoted; ACI 332-14: wet slabs without it RF2, read
        ("freezing: severe, deicing_salt: true", "RF3", [], ""),
        ("freezing: severe, deicing_salt: true", "RF1", ["salted_class_at_least"], "order RF3; order 4500 psi"),
        ("freezing: severe, deicing_salt: true", "F2", ["salted_class_at_least"], "order F3"),
        ("freezing: moderate", "nonstructural F1", ["wet_class_at_least"], "order nonstructural F2"),
        ("freezing: moderate", "F2", [], ""),
        ("freezing: severe, deicing_salt: true, outdoors: false", "F0", [], ""),
        ("freezing: none, deicing_salt: true", "F0", [], ""),
        ("deicing_salt: true", "F0", [], ""),
    ],
)
def test_exposure_class_is_held_against_the_site(site: str, name: str, found: list[str], order: str) -> None:
    psi = 3500 if name.startswith("RF1") else 4500
    text = f"site: {{{site}}}\nmix: {{exposure: {name}, strength: {psi} psi, water_cement: 0.45}}"
    comments = review_by("exposure-class", pad(text)).comments
    assert [comment.limit.name for comment in comments] == found
    assert "".join(advice(comment) for comment in comments) == order


def test_exposure_class_leaves_european_classes_to_another_rule() -> None:
    text = "mix: {exposure: XF4, strength: C30/37, water_cement: 0.45, air: 5 %}"
    assert review_by("exposure-class", pad(text)).does_not_apply
    assert review_by("frost-class", pad("mix: {exposure: F3, strength: 30 MPa}")).does_not_apply


def test_exposure_class_asks_for_the_mix() -> None:
    assert "mix.strength" in review_by("exposure-class", pad("mix: {exposure: F2}")).not_shown[0].add[0]
    assert review_by("exposure-class", pad("mix: {strength: 2000 psi}")).does_not_apply


@pytest.mark.parametrize(
    ("mix", "found"),
    [  # CSA A23.1, quoted: pavement, walks and curbs with deicers 32 MPa, 0.45, 5 to 8 % of air
        ("exposure: C-2, strength: 32 MPa, water_cement: 0.45, air: 5 %", []),
        ("exposure: C-2, strength: 31.9 MPa", ["c2_strength_at_least"]),
        ("exposure: c-2, strength: 32 MPa, water_cement: 0.451", ["c2_water_at_most"]),
        ("exposure: C-2, strength: 32 MPa, air: 4.9 %, aggregate: 20 mm", ["c2_air_at_least"]),
        ("exposure: C-2, strength: 32 MPa, air: 4.9 %, aggregate: 40 mm", []),  # the table asks less of it
        ("exposure: C-1, strength: 30 MPa, water_cement: 0.5, air: 4 %", ["c2_strength", "c2_water", "c2_air"]),
        ("exposure: C-XL, strength: 30 MPa", ["c2_strength"]),
        ("exposure: N, strength: 20 MPa, water_cement: 0.6", []),
    ],
)
def test_canadian_classes_ask_what_their_standard_asks(mix: str, found: list[str]) -> None:
    names = limits_broken(review_by("exposure-class", pad(f"mix: {{{mix}}}", unit="m")))
    assert [name[: len(start)] for name, start in zip(names, found, strict=True)] == found


@pytest.mark.parametrize(
    ("site", "name", "says"),
    [  # deicers want C-2 of flatwork, quoted; that F-1 and F-2 are against frost alone is common practice
        ("freezing: severe, deicing_salt: true", "C-1", []),
        ("freezing: severe, deicing_salt: true", "F-1", ["F-1 is not the class of a flat slab that freezes with salt"]),
        ("freezing: moderate, deicing_salt: true", "N", ["N is not the class of a flat slab that freezes with salt"]),
        ("freezing: severe", "F-2", []),
        ("freezing: severe", "N", ["N is not the class of a flat slab that freezes wet"]),
        ("freezing: severe", "C-4", ["C-4 is not the class of a flat slab that freezes wet"]),
        ("freezing: none, deicing_salt: true", "N", []),
        ("freezing: severe, deicing_salt: true, outdoors: false", "N", []),
    ],
)
def test_canadian_classes_are_held_against_the_site(site: str, name: str, says: list[str]) -> None:
    text = f"site: {{{site}}}\nmix: {{exposure: {name}, strength: 32 MPa, water_cement: 0.45, air: 6 %}}"
    comments = review_by("exposure-class", pad(text, unit="m")).comments
    told = [plain(one.says, "metric") for one in comments]
    assert [one[: len(start)] for one, start in zip(told, says, strict=True)] == says
    weight = "caution" if "salt" in "".join(says) else "note"
    assert {one.weight for one in comments} <= {weight}


def test_canadian_class_of_the_site_is_ordered_with_all_that_it_asks() -> None:
    mix = "exposure: F-2, strength: 25 MPa, water_cement: 0.55, air: 4 %"
    text = pad(f"site: {{freezing: severe, deicing_salt: true}}\nmix: {{{mix}}}", unit="m")
    (one,) = review_by("exposure-class", text).comments
    told = "order C-2; order 32 MPa; order water over cement of 0.45 or less; order 5 % of air"
    assert plain(one.to_pass, "metric") == told
    for rule in ("freezing-strength", "freezing-air"):  # one mix is ordered, and one rule tells it
        assert review_by(rule, text).does_not_apply
    dry = pad(f"site: {{freezing: severe}}\nmix: {{{mix.replace('25', '20')}, aggregate: 20 mm}}", unit="m")
    assert review_by("freezing-strength", dry).comments
    assert review_by("freezing-air", dry).comments
    # with F-1 ordered, strength and air of a slab without salt are those rules'
    wet = pad("site: {freezing: severe}\nmix: {exposure: N, strength: 20 MPa}", unit="m")
    assert plain(review_by("exposure-class", wet).comments[0].to_pass, "metric") == "order F-1"


def test_a_class_of_another_letter_is_no_slip_of_the_pen() -> None:
    def refused(typed: str) -> tuple[str, str]:
        with pytest.raises(UnreadableError) as error:
            review_by("exposure-class", pad(f'mix: {{exposure: "{typed}"}}', unit="m"))
        (problem,) = error.value.problems
        return problem.wrong, problem.write

    some = 'one class such as RF3 or C-2, or those of EN 206 as "XC4, XF1"'
    assert refused("C2") == ('"exposure: C2" is not known here', "C-2")
    assert refused("B2") == ('"exposure: B2" is not known here', some)
    assert refused("C-2, F-1") == ('"C-2, F-1" names several classes, and only those of EN 206 stand together', some)
    assert refused("XC4, F2")[0] == '"XC4, F2" names several classes, and only those of EN 206 stand together'
