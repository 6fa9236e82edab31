"""Depths between surfaces and thickened edges; references: closed forms and fine grids."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.surface import build_surface, scattered
from slabwright.geometry.surface.thickness import between, deepest_along, edge_extra, extra_at, thickening

SLAB = shapely.box(0, 0, 4, 10)
HOLED = SLAB.difference(shapely.box(1, 4, 2, 6))
WIDE = np.array([[-1, -1], [6, -1], [6, 12], [-1, 12]], dtype=float)


def built(region: shapely.Polygon, height: object, spots: Floats | None = None) -> Surface:
    outline = np.asarray(region.exterior.coords)
    inside = np.empty((0, 3)) if spots is None else np.column_stack([spots, height(spots)])
    return build_surface(region, inside, [np.column_stack([outline, height(outline)])])


def falling(xy: Floats) -> Floats:
    return 10 + 0.02 * xy[:, 1]


def test_a_wedge() -> None:
    """Top falls 2 %, bottom level 0.2 under its low end: 0.2 to 0.4 over 4 x 10, 12 m3, halves 5 and 7. Closed form."""
    top = built(SLAB, falling, np.array([[1, 2], [3, 7.0]]))
    bottom = scattered(np.column_stack([WIDE, np.full(4, 9.8)]), shapely.box(-9, -9, 20, 20))
    found = between(top, bottom, [shapely.box(0, 0, 4, 5), shapely.box(0, 5, 4, 10)])
    assert (found.least, found.most, found.mean) == pytest.approx((0.2, 0.4, 0.3))
    assert (found.least_at[1], found.most_at[1]) == pytest.approx((0, 10))
    assert (found.volume, found.covered_area) == pytest.approx((12, 40))
    assert found.zone_volumes == pytest.approx([5, 7])
    assert found.zone_areas == pytest.approx([20, 20])


def test_a_base_shot_that_stands_proud_is_where_the_slab_is_least() -> None:
    """A pyramid 0.05 high on a base of 10 x 10 takes 100 * 0.05 / 3 from 100 * 0.1. Closed form."""
    square = shapely.box(0, 0, 10, 10)
    top = built(square, lambda xy: np.full(len(xy), 10.0), np.array([[2, 3], [7, 8.0]]))
    base = np.array([[0, 0, 9.9], [10, 0, 9.9], [10, 10, 9.9], [0, 10, 9.9], [5, 5, 9.95]])
    found = between(top, scattered(base, square), [])
    assert found.least == pytest.approx(0.05)
    assert found.least_at == pytest.approx((5, 5))
    assert found.most == pytest.approx(0.1)
    assert found.volume == pytest.approx(10 - 5 / 3)
    assert len(found.zone_volumes) == 0


def test_a_partly_shot_base_covers_its_hull() -> None:
    top = built(SLAB, falling)
    base = scattered(np.array([[0, 0, 9.8], [4, 0, 9.8], [0, 5, 9.8]]), SLAB)
    found = between(top, base, [HOLED])
    assert found.covered_area == pytest.approx(10)
    assert found.zone_areas[0] == pytest.approx(shapely.Polygon([(0, 0), (4, 0), (0, 5)]).intersection(HOLED).area)


def test_nothing_shared_is_not_a_number() -> None:
    far = scattered(np.array([[50, 0, 1], [60, 0, 1], [50, 9, 1]]), shapely.box(40, 0, 70, 10))
    found = between(built(SLAB, falling), far, [SLAB])
    assert np.isnan([found.least, found.most, found.mean, *found.least_at]).all()
    assert (found.volume, found.covered_area, found.zone_volumes[0]) == (0, 0, 0)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_rough_surfaces_against_a_fine_grid(seed: int) -> None:
    """Source: the difference of heights at 200,000 places of a regular grid."""
    rng = np.random.default_rng(seed)
    spots = rng.random((30, 2)) * [3.8, 9.8] + 0.1
    top = built(HOLED, lambda xy: falling(xy) + 0.03 * np.sin(3 * xy[:, 0]) * np.cos(2 * xy[:, 1]), spots)
    shots = np.concatenate([WIDE, rng.random((40, 2)) * [4, 10]])
    bottom = scattered(np.column_stack([shots, 9.85 + rng.random(44) * 0.03]), SLAB)
    zones = [
        shapely.box(0, 0, 4, 3),
        shapely.Polygon([(0, 3), (4, 3), (4, 10), (3, 10), (3, 5), (0, 5)]),
        shapely.box(0, 5, 3, 10),
    ]
    found = between(top, bottom, zones)
    x, y = np.meshgrid((np.arange(280) + 0.5) / 70, (np.arange(700) + 0.5) / 70)
    places = np.column_stack([x.ravel(), y.ravel()])
    depth = top.height(places) - bottom.height(places)
    cell = 1 / 70**2
    assert found.volume == pytest.approx(np.nansum(depth) * cell, rel=2e-3)
    assert found.covered_area == pytest.approx(HOLED.area, rel=1e-9)
    assert found.least == pytest.approx(np.nanmin(depth), abs=3e-3)
    assert found.most == pytest.approx(np.nanmax(depth), abs=3e-3)
    assert found.least <= np.nanmin(depth)
    assert found.most >= np.nanmax(depth)
    assert found.zone_volumes.sum() == pytest.approx(found.volume, rel=1e-9)
    for zone, volume in zip(zones, found.zone_volumes, strict=True):
        inside = shapely.contains_xy(zone, places)
        assert volume == pytest.approx(np.nansum(depth[inside]) * cell, rel=5e-3)
    at = np.array([found.least_at, found.most_at])
    assert top.height(at) - bottom.height(at) == pytest.approx([found.least, found.most], abs=1e-9)


def test_many_pieces_are_worked_in_parts() -> None:
    """More pairs of facets than are cut at one time; a plane over a parallel plane, 0.15 apart. Closed form."""
    rng = np.random.default_rng(1)
    region = shapely.box(0, 0, 60, 60)
    places = rng.random((6000, 2)) * 60
    top = scattered(np.column_stack([places, falling(places)]), region)
    others = rng.random((6000, 2)) * 60
    bottom = scattered(np.column_stack([others, falling(others) - 0.15]), region)
    found = between(top, bottom, [shapely.box(i, 0, i + 1, 60) for i in range(60)])
    assert (found.least, found.most) == pytest.approx((0.15, 0.15), abs=1e-9)
    assert found.volume == pytest.approx(0.15 * found.covered_area)
    assert found.zone_areas.sum() == pytest.approx(found.covered_area)
    assert found.zone_areas[30] == pytest.approx(60, rel=0.01)


# --- thickened edges ---------------------------------------------------------------------------------------------

SOUTH = thickening(SLAB, np.array([[0, 0], [4, 0.0]]), 0.08, 0.3, 0.9)
WEST = thickening(SLAB, np.array([[0, 0], [0, 10.0]]), 0.05, 0.3, 0.9)


def test_a_straight_edge() -> None:
    """Length times extra times (width plus half the taper): 4 * 0.08 * (0.3 + 0.45) = 0.24. Closed form."""
    halves = [shapely.box(0, 0, 2, 10), shapely.box(2, 0, 4, 10), shapely.box(0, 5, 4, 10)]
    volume, parts = edge_extra(SLAB, [SOUTH], halves)
    assert volume == pytest.approx(0.24, rel=1e-9)
    assert parts == pytest.approx([0.12, 0.12, 0])


@pytest.mark.parametrize(("width", "taper"), [(0.5, 0.0), (0.0, 0.5)])
def test_a_square_and_a_pointed_section(width: float, taper: float) -> None:
    run = thickening(SLAB, SOUTH.line, 0.1, width, taper)
    assert edge_extra(SLAB, [run], [])[0] == pytest.approx(4 * 0.1 * (width + taper / 2))
    assert extra_at((2, 0.49), [run]) == pytest.approx(0.1 if width else 0.002)
    assert extra_at((2, 0.51), [run]) == 0


def test_runs_that_overlap_count_once_at_the_greater_depth() -> None:
    """Source: extra depth summed over a grid of 5 mm."""
    volume, _ = edge_extra(SLAB, [SOUTH, WEST], [])
    x, y = np.meshgrid((np.arange(800) + 0.5) / 200, (np.arange(2000) + 0.5) / 200)
    marks = shapely.points(x.ravel(), y.ravel())
    deepest = np.zeros(x.size)
    for line, extra, width, taper, _ in (SOUTH, WEST):
        off = shapely.distance(marks, shapely.LineString(line))
        deepest = np.maximum(deepest, extra * np.clip((width + taper - off) / taper, 0, 1))
    assert volume == pytest.approx(deepest.sum() / 200**2, rel=1e-4)
    twice, _ = edge_extra(SLAB, [SOUTH, SOUTH], [])
    assert twice == pytest.approx(0.24)


def test_a_run_that_ends_within_an_edge_is_rounded() -> None:
    """1 m of full section and two quarter circles of radius 0.5: 0.1 * (1 * 0.5 + pi * 0.25 / 2). Closed form."""
    run = thickening(SLAB, np.array([[1, 0], [2, 0.0]]), 0.1, 0.5, 0.0)
    assert edge_extra(SLAB, [run], [])[0] == pytest.approx(0.1 * (0.5 + np.pi * 0.125), rel=1e-3)


def test_edges_that_add_nothing() -> None:
    assert edge_extra(SLAB, [], [SLAB]) == (0, pytest.approx([0]))
    nothing = [thickening(SLAB, SOUTH.line, 0.0, 0.3, 0.9), thickening(SLAB, SOUTH.line, 0.1, 0.0, 0.0)]
    assert edge_extra(SLAB, nothing, [])[0] == 0
    assert extra_at((1, 1), []) == 0


def test_depth_at_a_place() -> None:
    """Half way down the taper of 0.9 beyond the width of 0.3: half of 0.08. Closed form."""
    assert extra_at((2, 0.75), [SOUTH, WEST]) == pytest.approx(0.04)
    assert extra_at((0.1, 0.75), [SOUTH, WEST]) == pytest.approx(0.05)


def test_a_thickened_edge_does_not_reach_across_open_air() -> None:
    """A U of two legs with 0.3 m of air between them, thickened along 3 m of the inner side of the left one.

    Length times extra times (width plus half the taper), and two quarters of a frustum round the ends of the run, all
    of it in the left leg. Closed form.
    """
    legs = shapely.Polygon([(0, 0), (4.3, 0), (4.3, 7), (2.3, 7), (2.3, 1), (2, 1), (2, 7), (0, 7)])
    left, right = shapely.box(0, 0, 2, 7), shapely.box(2.3, 0, 4.3, 7)
    run = thickening(legs, np.array([[2.0, 5.5], [2.0, 2.5]]), 0.1, 0.3, 0.9)
    volume, parts = edge_extra(legs, [run], [left, right])
    straight = 3 * 0.1 * (0.3 + 0.45)
    rounds = 2 * 0.1 * np.pi / 4 * (1.2**2 + 1.2 * 0.3 + 0.3**2) / 3
    assert parts == pytest.approx([straight + rounds, 0], rel=1e-3)
    assert volume == pytest.approx(parts[0])
    assert extra_at((1.9, 4.0), [run]) == pytest.approx(0.1)
    assert extra_at((2.4, 4.0), [run]) == 0
    assert deepest_along(shapely.LineString([(2.3, 4), (4.3, 4)]), [run]) == (0.0, None)
