"""The sample amendments: two invented towns, what each changes, and what that does to the whole jobs."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from comments import advice
from design_text import plan_of
from example_reviews import FOLDER, RULES, TODAY
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Comment, Report
from slabwright.rulebook import limits
from slabwright.rulebook.in_force import InForce
from slabwright.teaching.faults import path_of
from slabwright.units import quantity
from slabwright.units.quantity import Kind

TOWNS = sorted((FOLDER / "amendments").glob("*_town.yaml"))
HOT, FROST = (FOLDER / "amendments" / f"{name}_country_town.yaml" for name in ("hot", "frost"))


ANNEXES = ("en_206", "en_206_germany", "en_206_britain")


@cache
def laid(town: Path) -> dict[tuple[str, str], InForce]:
    in_force = limits.resolve(RULES, [limits.read_amendments(town, RULES)])
    return {(rule, name): limit for rule, by_name in in_force.items() for name, limit in by_name.items()}


@cache
def review(job: str, town: Path) -> Report:
    design, questions = read_design(path_of(job))
    in_force = limits.resolve(RULES, [limits.read_amendments(town, RULES)])
    return run.review(Plan(design), RULES, in_force, questions, TODAY)


def comments(job: str, town: Path, rule: str) -> list[Comment]:
    return [comment for comment in review(job, town).comments if comment.rule == rule]


def test_these_are_the_samples() -> None:
    assert [path.name for path in TOWNS] == ["frost_country_town.yaml", "hot_country_town.yaml"]
    # the metric layer is no town, and has its own tests
    assert {path.name for path in (FOLDER / "amendments").iterdir()} - {path.name for path in TOWNS} == {
        "metric_practice.yaml", "australia.yaml", *(f"{name}.yaml" for name in ANNEXES)
    }  # fmt: skip


@pytest.mark.parametrize("town", TOWNS, ids=lambda path: path.stem)
def test_a_town_changes_at_least_eight_limits_each_with_its_citation(town: Path) -> None:
    changed = [limit for limit in laid(town).values() if limit.layer == "town"]
    assert len(changed) >= 8
    for limit in changed:
        assert limit.value.si != (limit.published or limit.value).si or limit.weight != limit.published_weight, (
            limit.name
        )
        assert f"{limit.set_by.removeprefix('Town of ')} " in limit.citation
        assert limit.place is not None
        assert Path(limit.place.file) == town


def test_a_town_in_hot_country_asks_shorter_panels() -> None:
    # 24 thicknesses of 5 in are 120 in: 10 ft; the bay is cut at 12 ft
    found = comments("trailer_bay_corrected", HOT, "panel-spacing")
    assert found
    assert all(comment.asked.si == pytest.approx(24 * 5 * 0.0254) for comment in found)
    assert {comment.limit.set_by for comment in found} == {"Town of Saltbush Wells"}
    # squares of 5 ft in 4 in of walk are 15 thicknesses
    assert comments("school_walk", HOT, "panel-spacing") == []


def test_a_town_in_hot_country_takes_no_shallow_puddle() -> None:
    limit = laid(HOT)["standing-water", "shallow_depth_at_most"]
    assert (limit.value.typed, limit.weight, limit.published_weight) == ("1/16 in", "hold", "caution")


def test_a_town_in_hot_country_says_where_it_asks_less() -> None:
    loose = {(rule, limit.name) for rule, limit in review("garage_floor", HOT).looser}
    assert loose == {("ordered-volume", "with_spare_at_least")}
    assert review("garage_floor", FROST).looser == ()


def test_a_town_in_frost_country_asks_stronger_concrete_with_less_water() -> None:
    # both salted jobs are ordered at 4,500 psi and 0.45, as published
    for job in ("trailer_bay_corrected", "school_walk"):
        found = comments(job, FROST, "freezing-strength")
        assert [(comment.limit.name, comment.weight) for comment in found] == [("salted_at_least", "hold")]
        assert found[0].asked.si == pytest.approx(5000 * 6894.757, rel=1e-6)
        assert advice(found[0]) == "order 5000 psi: 500 psi more; order water over cement of 0.42 or less"


def test_a_town_in_frost_country_asks_more_fall_and_thicker_walks() -> None:
    (wall,) = comments("trailer_bay_corrected", FROST, "fall-from-building")
    assert (wall.shown.si, wall.asked.si) == (pytest.approx(0.02), 0.025)
    (walk,) = comments("school_walk", FROST, "least-thickness")
    # 4 in is drawn, 5 in is asked
    assert (walk.shown.si, walk.asked.si) == (pytest.approx(4 * 0.0254), pytest.approx(5 * 0.0254))
    # of a metric plan too, of which 75 mm are asked where no town says more; what a town writes is held as written
    (patio,) = comments("garden_patio", FROST, "least-thickness")
    assert (patio.shown.si, patio.asked.si) == (pytest.approx(0.1), pytest.approx(5 * 0.0254))


def test_a_weight_may_change_and_the_value_stay() -> None:
    limit = laid(FROST)["fixtures-isolated", "casting_part_at_least"]
    assert (limit.value.si, limit.weight, limit.published_weight) == (1, "hold", "caution")


def test_a_town_looser_than_nobody_meant_is_refused() -> None:
    """Every value lies within the sane range of its limit, and both ends would be taken."""
    declared = {(rule.name, limit.name): limit for rule in RULES for limit in rule.limits}
    for town in TOWNS:
        for key, limit in laid(town).items():
            if limit.layer == "town":
                low, high = (quantity.read(end, Kind(limit.value.kind)).si for end in declared[key].sane)
                assert low <= limit.value.si <= high, key


# EN 206 with the values of a country


# MPa on cylinders and ratio of each class, then air in % by the stone in mm.
# EN 206-1:2000 Table F.1: read. DIN 1045-2:2008: quoted by ready-mix lists and producers; what XF2 has in Germany is
# what EN 206 recommends. BS 8500-1: XF1, XF3, XF4 recalled, not checked, air quoted by a concrete institute.
TABLES = {
    "en_206": (
        {"XF1": (30, 0.55), "XF2": (25, 0.55), "XF3": (30, 0.50), "XF4": (30, 0.45), "XC1": (20, 0.65),
         "XC2": (25, 0.60), "XC3": (30, 0.55), "XC4": (30, 0.50), "XD1": (30, 0.55), "XD2": (30, 0.55),
         "XD3": (35, 0.45)},
        {},
    ),
    "en_206_germany": (
        {"XF1": (25, 0.60), "XF2": (25, 0.55), "XF3": (25, 0.55), "XF4": (30, 0.50), "XC1": (16, 0.75),
         "XC2": (16, 0.75), "XC3": (20, 0.65), "XC4": (25, 0.60), "XD1": (30, 0.55), "XD2": (35, 0.50),
         "XD3": (35, 0.45)},
        {8: 5.5, 16: 4.5, 32: 4.0},
    ),
    "en_206_britain": (
        {"XF1": (28, 0.60), "XF3": (25, 0.60), "XF4": (28, 0.55)},
        {10: 6.5, 14: 5.5, 20: 4.5, 40: 4.0},
    ),
}  # fmt: skip
PAD = """format: 1
job: {{name: Pad}}
units: {{plan: m, height: m}}
use: vehicle pad
outline: [[0, 0], [2, 0], [2, 2], [0, 2]]
thickness: {{design: 150 mm}}
mix: {{{mix}}}
"""


@pytest.mark.parametrize("annex", ANNEXES)
def test_an_annex_asks_what_its_table_asks(annex: str, tmp_path: Path) -> None:
    file = FOLDER / "amendments" / f"{annex}.yaml"
    in_force = limits.resolve(RULES, [limits.read_amendments(file, RULES)])
    judged = [rule for rule in RULES if rule.name in ("frost-class", "corrosion-class")]

    def short(mix: str) -> list[str]:
        path = tmp_path / "pad.slab.yaml"
        path.write_text(PAD.format(mix=mix), encoding="utf-8")
        plan = Plan(read_design(path)[0])
        comments = run.review(plan, judged, in_force, (), TODAY).comments
        assert all(comment.weight == "caution" for comment in comments)
        return sorted(comment.limit.name.partition("_")[2] for comment in comments)

    classes, airs = TABLES[annex]
    for name, (strength, water) in classes.items():
        air = ", air: 9 %" if name.startswith("XF") else ""
        assert short(f"exposure: {name}, strength: {strength} MPa, water_cement: {water}{air}") == [], name
        lower = f"exposure: {name}, strength: {strength - 0.1} MPa, water_cement: {water + 0.01:g}{air}"
        assert short(lower) == ["strength_at_least", "water_at_most"], name
    for stone, least in airs.items():
        enough = f"exposure: XF4, strength: C50/60, water_cement: 0.40, aggregate: {stone} mm"
        assert short(f"{enough}, air: {least} %") == [], stone
        assert len(short(f"{enough}, air: {least - 0.1:g} %")) == 1, stone
    for limit in (one for by_name in in_force.values() for one in by_name.values() if one.layer == "region"):
        assert limit.citation.endswith(("(read)", "(recalled, not checked)")) or "(quoted by " in limit.citation
        if limit.value.kind is Kind.STRESS:
            assert quantity.cube_strength(limit.value)  # a class, with both its numbers


@pytest.mark.parametrize(
    ("annex", "strength", "water"), [("en_206", 30, 0.45), ("en_206_germany", 30, 0.50), ("en_206_britain", 28, 0.55)]
)
def test_a_salted_slab_without_a_class_is_held_to_what_the_annex_asks_of_xf4(
    annex: str, strength: float, water: float
) -> None:
    """The values of ``TABLES``, each known as it says there."""
    in_force = limits.resolve(RULES, [limits.read_amendments(FOLDER / "amendments" / f"{annex}.yaml", RULES)])
    judged = [rule for rule in RULES if rule.name == "freezing-strength"]
    site = "site: {freezing: moderate, deicing_salt: true}\n"

    def short(f: float, w: float) -> list[str]:
        plan = plan_of(PAD.format(mix=f"strength: {f} MPa, water_cement: {w:g}") + site)
        return sorted(comment.limit.name for comment in run.review(plan, judged, in_force, (), TODAY).comments)

    assert short(strength, water) == []
    assert short(strength - 0.1, water) == ["metric_salted_at_least"]
    assert short(strength, water + 0.01) == ["salted_water_cement_at_most"]
    assert short(strength - 0.1, water + 0.01) == ["metric_salted_at_least"]  # one mix is ordered, with one comment


def test_salt_in_germany_takes_one_class_lower_with_air(tmp_path: Path) -> None:
    """DIN 1045-2, quoted by three producers: the ticket C25/30 LP, XC4, XD1, XF3 is usual."""
    path = tmp_path / "pad.slab.yaml"
    for air, found in (("5.5 %", []), ("2 %", ["xd1_strength_at_least"])):
        text = PAD.format(mix=f'strength: C25/30, water_cement: 0.50, air: {air}, exposure: "XC4, XD1"')
        path.write_text(text, encoding="utf-8")
        annex = limits.read_amendments(FOLDER / "amendments" / "en_206_germany.yaml", RULES)
        judged = [rule for rule in RULES if rule.name == "corrosion-class"]
        report = run.review(Plan(read_design(path)[0]), judged, limits.resolve(RULES, [annex]), (), TODAY)
        assert [comment.limit.name for comment in report.comments] == found
