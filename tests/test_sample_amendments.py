"""The sample amendments: two invented towns, what each changes, and what that does to the whole jobs."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from example_reviews import FOLDER, RULES, TODAY
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Comment, Report
from slabwright.rulebook import limits
from slabwright.rulebook.kit import InForce
from slabwright.teaching.faults import path_of
from slabwright.units import quantity
from slabwright.units.quantity import Kind

TOWNS = sorted((FOLDER / "amendments").glob("*_town.yaml"))
HOT, FROST = (FOLDER / "amendments" / f"{name}_country_town.yaml" for name in ("hot", "frost"))


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
        "metric_practice.yaml"
    }


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
        assert [(comment.limit.name, comment.weight) for comment in found] == [
            ("salted_at_least", "hold"), ("salted_water_cement_at_most", "hold"),
        ]  # fmt: skip
        assert found[0].asked.si == pytest.approx(5000 * 6894.757, rel=1e-6)
        assert found[1].asked.si == 0.42


def test_a_town_in_frost_country_asks_more_fall_and_thicker_walks() -> None:
    (wall,) = comments("trailer_bay_corrected", FROST, "fall-from-building")
    assert (wall.shown.si, wall.asked.si) == (pytest.approx(0.02), 0.025)
    (walk,) = comments("school_walk", FROST, "least-thickness")
    # 4 in is drawn, 5 in is asked
    assert (walk.shown.si, walk.asked.si) == (pytest.approx(4 * 0.0254), pytest.approx(5 * 0.0254))


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
