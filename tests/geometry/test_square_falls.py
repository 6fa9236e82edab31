"""Falls square to an edge: closed forms, and profiles along single lines."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.square_falls import Stretch, square_falls
from slabwright.geometry.surface.surface import build_surface

XY = tuple[float, float]


def chain(corners: list[XY], seed: int) -> np.ndarray:
    z = np.random.default_rng(seed).uniform(10, 10.3, len(corners))
    closed = np.column_stack([np.array(corners), z])
    return np.vstack([closed, closed[:1]])


def test_a_plane_falls_alike_on_every_line_and_ends_where_asked() -> None:
    corners = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)]
    rim = np.array([[x, y, 10 - 0.02 * y + 0.01 * x] for x, y in [*corners, corners[0]]])
    surface = build_surface(shapely.Polygon(corners), np.empty((0, 3)), [rim])
    for stretches in square_falls(surface, (0, 0), (6, 0), True, [0.5, 2.0, 3.0, 5.9], 3.0):
        assert [part.fall for part in stretches] == pytest.approx([0.02] * len(stretches))
        assert (stretches[0].near, stretches[-1].far) == (0.0, 3.0)
        assert [part.far for part in stretches[:-1]] == [part.near for part in stretches[1:]]
    (away,) = square_falls(surface, (6, 0), (0, 0), False, [1.0], 9.0)
    assert away[-1].far == pytest.approx(4.0) and away[0].fall == pytest.approx(0.02)


def test_an_opening_stops_a_line() -> None:
    slab = shapely.box(0, 0, 6, 4) - shapely.box(2, 1, 4, 2)
    rim = np.array([[0, 0, 10], [6, 0, 10], [6, 4, 9.96], [0, 4, 9.96], [0, 0, 10]])
    surface = build_surface(slab, np.empty((0, 3)), [rim])
    before, beside = square_falls(surface, (0, 0), (6, 0), True, [3.0, 5.0], 3.0)
    assert (before[-1].far, beside[-1].far) == pytest.approx((1.0, 3.0))
    # a line that runs into the corner of the opening and past it
    assert square_falls(surface, (0, 0), (6, 0), True, [4.0 + 1e-9], 3.0)[0][-1].far == pytest.approx(3.0)


def by_profile(surface: Surface, region: shapely.Polygon, foot: XY, square: XY, within: float) -> list[Stretch]:
    """One line at a time, with the part of it in the slab found by shapely."""
    start = (foot[0] + square[0] * 1e-6, foot[1] + square[1] * 1e-6)
    ray = shapely.LineString([start, (foot[0] + square[0] * within, foot[1] + square[1] * within)])
    parts = [p for p in shapely.get_parts(shapely.intersection(ray, region)) if p.length > 1e-3]
    first = next((p for p in parts if p.distance(shapely.Point(start)) < 1e-3), None)
    if first is None:
        return []
    reach = first.length - 1e-6
    there = (start[0] + square[0] * reach, start[1] + square[1] * reach)
    distance, height = surface.profile(start, there)
    falls = -np.diff(height) / np.diff(distance)
    return [Stretch(*part) for part in zip(distance[:-1], distance[1:], falls, strict=True)]


@pytest.mark.parametrize("seed", range(12))
def test_lines_square_to_walls_are_profiles(seed: int) -> None:
    rng = np.random.default_rng(seed)
    turn = rng.uniform(0, 2 * math.pi)
    shape = np.array([(0, 0), (7, 0), (7, 5), (4.5, 5), (4.1, 2.2), (2.3, 5), (0, 4.6)]) + rng.uniform(
        -0.2, 0.2, (7, 2)
    )
    shape = shape @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    corners = [(float(x), float(y)) for x, y in shape]
    hole = shapely.Point(shape[[0, 1, 4]].mean(axis=0)).buffer(rng.uniform(0.1, 0.5), quad_segs=2)
    region = shapely.Polygon(corners) - hole
    spots = np.column_stack([rng.uniform(-7, 7, (60, 2)), rng.uniform(10, 10.3, 60)])
    surface = build_surface(region, spots, [chain(corners, seed)])
    compared = 0
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        size = math.hypot(bx - ax, by - ay)
        along = (bx - ax) / size, (by - ay) / size
        square = -along[1], along[0]
        stations = sorted(rng.uniform(0.02, size - 0.02, 8).tolist())
        for left, (start, end) in ((True, ((ax, ay), (bx, by))), (False, ((bx, by), (ax, ay)))):
            own = stations if left else [size - station for station in stations]
            for station, found in zip(stations, square_falls(surface, start, end, left, own, 3.0), strict=True):
                foot = ax + along[0] * station, ay + along[1] * station
                expected = [
                    part for part in by_profile(surface, region, foot, square, 3.0) if part.far - part.near > 1e-4
                ]
                found = [part for part in found if part.far - part.near > 1e-4]
                assert [part.near for part in found] == pytest.approx([part.near for part in expected], abs=1e-5)
                assert [part.fall for part in found] == pytest.approx([part.fall for part in expected], abs=1e-6)
                compared += len(found)
    assert compared > 100
