"""What the rules on isolation have in common."""

from __future__ import annotations

import math

import pytest
import shapely
from design_text import review_by, rule_named
from judged import findings
from slabs.isolation import bare, filled, slab
from slabwright.geometry.shape.distances import distance_ahead
from slabwright.geometry.shape.sides import facing_sides
from slabwright.rulebook.conclusion import Finding


def turned(line: list[tuple[float, float]], degrees: float, mirrored: bool = False) -> list[tuple[float, float]]:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    points = [(c * x - s * y, s * x + c * y) for x, y in line]
    return [(-x, y) for x, y in points] if mirrored else points


def short(value: object) -> str:
    """A part of a test's name: no whole designs."""
    return value if isinstance(value, str) and "\n" not in value else ""


def names(said: list[Finding]) -> list[str]:
    return [one.at.name for one in said]


# directions


@pytest.mark.parametrize("degrees", [0, 17, 45, 90, 133.7, 180, 301])
@pytest.mark.parametrize("mirrored", [False, True])
def test_facing_sides_whatever_way_the_slab_is_turned(degrees: float, mirrored: bool) -> None:
    house = [(0.0, 0.0), (6.0, 0.0)]
    garage = [(6.0, 0.0), (6.0, 4.0)]
    stub = [(6.0, 4.0), (5.8, 4.0)]
    slanting = [(5.0, 4.0), (1.0, 3.0)]
    lines = [turned(line, degrees, mirrored) for line in (house, garage, stub, slanting)]

    first, second, third, fourth = facing_sides(lines, least=0.3)

    assert (first, third) == ((0,), (2, 3))
    assert {second, fourth} == {(1,), ()}


@pytest.mark.parametrize("degrees", [0, 17, 45, 90, 133.7])
def test_facing_sides_at_45_degrees_belongs_to_the_side_opposite(degrees: float) -> None:
    lines = [turned([(0, 0), (6, 0)], degrees), turned([(6, 0), (4, 2)], degrees)]  # turns back by 135 degrees

    assert facing_sides(lines, least=0.3) == ((0,), (), (1,), ())


@pytest.mark.parametrize("degrees", range(0, 360, 13))
def test_facing_sides_of_a_round_wall(degrees: int) -> None:
    half = turned([(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 181, 5)], degrees)
    quarter = turned([(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 91, 5)], degrees)

    assert sum(1 for found in facing_sides([half], least=0.3) if found) == 3
    assert sum(1 for found in facing_sides([quarter], least=0.3) if found) == 2


def test_facing_sides_of_nothing() -> None:
    assert facing_sides([], least=0.3) == ((), (), (), ())


def test_distance_ahead_passes_what_it_starts_on_and_stops_at_openings() -> None:
    slab = shapely.box(0, 0, 10, 4).difference(shapely.box(6, 1, 8, 3))

    assert distance_ahead(slab, (0.0, 2.0), (3.0, 0.0)) == pytest.approx(6)
    assert distance_ahead(slab, (0.0, 0.5), (3.0, 0.0)) == pytest.approx(10)
    assert distance_ahead(slab, (1.0, 1.0), (3.0, -4.0)) == pytest.approx(1.25)  # 3-4-5
    assert distance_ahead(slab, (12.0, 2.0), (1.0, 0.0)) == math.inf
    assert distance_ahead(slab, (1.0, 2.0), (0.0, 0.0)) == math.inf


@pytest.mark.parametrize("name", ["isolation-full-depth", "opposite-faces"])
def test_published_numbers_of_the_rules_come_out_again(name: str) -> None:
    worked = rule_named(name).worked

    assert worked
    for one in worked:
        assert one.ours() == pytest.approx(one.printed.si, abs=max(one.within, 1e-12)), one.what


# one that is met does not hide the next


@pytest.mark.parametrize(
    ("rule", "design", "expected"),
    [
        (
            "column-box-out",
            slab(
                more="fixtures: [{kind: column, name: east, at: [9, 5], box_out: round}, "
                "{kind: column, name: west, at: [3, 5], box_out: square}]"
            ),
            ["west"],
        ),
        (
            "filler-thickness",
            slab(
                ", ".join(
                    [filled("AB"), filled("BC", "thickness: 1/2 in"), filled("CD", "thickness: 1/4 in", name="shed")]
                )
            ),
            ["shed"],
        ),
        (
            "fixtures-isolated",
            slab(
                more="fixtures: [{kind: drain, at: [3, 3], isolation: {material: foam, depth: full}}, "
                "{kind: cleanout, name: bare pipe, at: [9, 3]}]"
            ),
            ["bare pipe"],
        ),
        ("isolation-full-depth", slab(f"{filled('AB')}, {bare('CD', name='shed')}"), ["shed"]),
    ],
    ids=short,
)
def test_each_is_judged(rule: str, design: str, expected: list[str]) -> None:
    assert names(findings(rule, design)) == expected


# what is missing is asked where it is first missing


@pytest.mark.parametrize(
    ("rule", "design", "path"),
    [
        ("edge-sealed", slab(", ".join([bare("AB", "wall"), filled("BC"), filled("DA")])), "edges[1]"),
        ("filler-thickness", slab(", ".join([bare("AB"), filled("BC"), filled("DA")])), "edges[1]"),
        (
            "isolation-full-depth",
            slab(f"{filled('AB', 'thickness: 1/2 in')}, {filled('CD', 'thickness: 1 in')}"),
            "edges[0]",
        ),
        (
            "fixtures-isolated",
            slab(
                more="fixtures: [{kind: post, at: [3, 3], isolation: {material: foam}}, "
                "{kind: post, at: [9, 3], isolation: {material: foam}}]"
            ),
            "fixtures[0]",
        ),
    ],
    ids=short,
)
def test_the_first_place_is_named(rule: str, design: str, path: str) -> None:
    (entry,) = review_by(rule, design).not_shown

    assert entry.place.path == path
