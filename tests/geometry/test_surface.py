"""Heights of faceted surfaces: a plane stays a plane, lines run straight; references: closed forms and scipy."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import ConvexHull
from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.surface import build_surface, scattered

SQUARE = shapely.box(0, 0, 12, 12)
HOLED_L = shapely.Polygon([(0, 0), (7, 0), (7, 12), (3, 12), (3, 6.7), (0, 6.7)], [[(1, 1), (2, 1), (2, 2), (1, 2)]])
DISC = shapely.Point(6, 6).buffer(5, quad_segs=12).difference(shapely.Point(7, 6).buffer(1, quad_segs=6))
NONE = np.empty((0, 3))


def on(xy: Floats, height: object) -> Floats:
    """Places with heights from a function of them."""
    xy = np.asarray(xy, dtype=float)
    return np.column_stack([xy, height(xy)])


def edge(region: shapely.Polygon, height: object) -> Floats:
    return on(np.asarray(region.exterior.coords), height)


def plane(xy: Floats) -> Floats:
    return 30 + 0.013 * xy[:, 0] - 0.02 * xy[:, 1]


@pytest.mark.parametrize("region", [SQUARE, HOLED_L, DISC])
def test_a_plane_stays_a_plane(region: shapely.Polygon) -> None:
    rng = np.random.default_rng(2)
    spots = on(rng.random((40, 2)) * 12, plane)
    line = on([[0.5, 0.5], [6.5, 11]], plane)
    surface = build_surface(region, spots, [edge(region, plane), line])
    assert surface.z == pytest.approx(plane(surface.mesh.xy), abs=1e-12)
    assert surface.gradients == pytest.approx(np.tile([0.013, -0.02], (len(surface.areas), 1)), abs=1e-9)
    assert surface.slopes == pytest.approx(np.hypot(0.013, 0.02), abs=1e-9)
    assert surface.areas.sum() == pytest.approx(region.area, rel=1e-12)
    assert surface.clashes == ()
    anywhere = rng.random((500, 2)) * 12
    inside = shapely.contains_xy(region, anywhere)
    assert surface.height(anywhere[inside]) == pytest.approx(plane(anywhere[inside]), abs=1e-12)
    assert np.isnan(surface.height(anywhere[~inside])).all()


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(0, 12), st.floats(0, 12), st.floats(9, 11)), max_size=15),
    st.lists(st.floats(9, 11), min_size=4, max_size=4),
)
def test_no_height_leaves_the_range_of_what_was_given(spots: list, corners: list) -> None:
    region = SQUARE.difference(shapely.box(5, 5, 7, 8))
    given_spots = np.array(spots, dtype=float).reshape(-1, 3)
    heights = np.array([*corners, corners[0]])
    outline = np.column_stack([np.asarray(SQUARE.exterior.coords), heights])
    surface = build_surface(region, given_spots, [outline])
    every = np.concatenate([given_spots[:, 2], corners])
    assert surface.z.min() >= every.min() - 1e-12
    assert surface.z.max() <= every.max() + 1e-12
    below, above = surface.z[surface.mesh.triangles].min(axis=1), surface.z[surface.mesh.triangles].max(axis=1)
    middle = surface.height(surface.corners.mean(axis=1))
    assert np.all((middle >= below - 1e-12) & (middle <= above + 1e-12))


def test_heights_are_exact_at_spots() -> None:
    rng = np.random.default_rng(3)
    spots = np.column_stack([0.5 + rng.random((200, 2)) * 11, 9 + rng.random(200)])
    surface = build_surface(SQUARE, spots, [edge(SQUARE, plane)])
    assert surface.height(spots[:, :2]) == pytest.approx(spots[:, 2], abs=1e-12)


def test_a_valley_runs_straight_from_end_to_end() -> None:
    level = lambda xy: np.full(len(xy), 10.0)  # noqa: E731
    valley = np.array([[6, 1, 9.9], [6, 11, 9.8]])
    spots = np.array([[5.7, y, 9.99] for y in (2.0, 3.0, 5.0, 8.5)])
    surface = build_surface(SQUARE, spots, [edge(SQUARE, level), valley])
    y = np.linspace(1, 11, 41)
    along = surface.height(np.column_stack([np.full(41, 6.0), y]))
    assert along == pytest.approx(9.9 - 0.1 * (y - 1) / 10, abs=1e-12)


def test_lines_that_disagree_are_reported_where_they_cross() -> None:
    """At (6, 6) the first line stands at 9.9, the second at 9.7; closed form: middles of both."""
    first, second = np.array([[2, 2, 10], [10, 10, 9.8]]), np.array([[2, 10, 9.6], [10, 2, 9.8]])
    surface = build_surface(SQUARE, NONE, [edge(SQUARE, plane), first, second])
    (clash,) = surface.clashes
    assert clash.xy == pytest.approx((6, 6))
    assert sorted(clash.heights) == pytest.approx([9.7, 9.9])
    assert surface.height(np.array([[6.0, 6.0]])) == pytest.approx([9.8])
    agreed = build_surface(SQUARE, NONE, [edge(SQUARE, plane), first, np.array([[2, 10, 9.9], [10, 2, 9.9]])])
    assert agreed.clashes == ()


def test_a_spot_settles_a_crossing_and_a_repeated_spot_that_differs_is_reported() -> None:
    lines = [np.array([[2, 2, 10], [10, 10, 9.8]]), np.array([[2, 10, 9.6], [10, 2, 9.8]])]
    surface = build_surface(SQUARE, np.array([[6, 6, 9.85]]), [edge(SQUARE, plane), *lines])
    assert surface.clashes == ()
    assert surface.height(np.array([[6.0, 6.0], [4.0, 4.0]])) == pytest.approx([9.85, 9.925])
    twice = build_surface(SQUARE, np.array([[6, 6, 9.85], [6, 6, 9.9]]), [edge(SQUARE, plane)])
    (clash,) = twice.clashes
    assert clash.heights == (9.85, 9.9)


def test_a_spot_on_an_edge_bends_the_edge() -> None:
    """A low spot half way along an edge, typed 2 mm off it, belongs to the edge."""
    level = lambda xy: np.full(len(xy), 10.0)  # noqa: E731
    surface = build_surface(SQUARE, np.array([[6, 0.002, 9.9]]), [edge(SQUARE, level)])
    assert surface.height(np.array([[6.0, 0.0], [3.0, 0.0]])) == pytest.approx([9.9, 9.95])
    assert surface.slopes.max() < 0.1
    assert surface.nearest_vertex((6, 0), within=0.01) >= 0
    assert surface.nearest_vertex((3, 3), within=0.01) == -1


def test_an_opening_takes_the_height_of_the_ground_around_it() -> None:
    """Cutting an opening into a roof-shaped slab changes no height outside it."""
    roof = lambda xy: 10 - 0.02 * np.abs(xy[:, 0] - 6)  # noqa: E731
    ridge = np.array([[6, 0, 10], [6, 12, 10]])
    whole = build_surface(SQUARE, NONE, [edge(SQUARE, roof), ridge])
    holed = SQUARE.difference(shapely.box(4, 4, 9, 8))
    surface = build_surface(holed, NONE, [edge(SQUARE, roof), ridge])
    assert surface.z == pytest.approx(roof(surface.mesh.xy), abs=1e-12)
    assert whole.areas.sum() - surface.areas.sum() == pytest.approx(20)
    folded = build_surface(holed, np.array([[6, 2, 10.0], [6, 10, 10.0]]), [edge(SQUARE, roof)])
    unbroken = build_surface(SQUARE, np.array([[6, 2, 10.0], [6, 10, 10.0]]), [edge(SQUARE, roof)])
    rim = np.array([[6, 4], [6, 8], [4, 6], [9, 6.0]])
    assert folded.height(rim) == pytest.approx(unbroken.height(rim), abs=2e-4)


def test_an_opening_with_a_height_of_its_own_keeps_it() -> None:
    holed = SQUARE.difference(shapely.box(4, 4, 8, 8))
    level = lambda xy: np.full(len(xy), 10.0)  # noqa: E731
    collar = np.array([[4, 4, 10.1], [8, 4, 10.1], [8, 8, 10.1], [4, 8, 10.1], [4, 4, 10.1]])
    surface = build_surface(holed, np.array([[6, 6, 5.0]]), [edge(SQUARE, level), collar])
    assert surface.height(np.array([[6.0, 4.0], [6.0, 2.0], [6, 6]])) == pytest.approx(
        [10.1, 10.05, np.nan], nan_ok=True
    )


def test_a_profile_lists_every_facet_side_and_the_gap_of_an_opening() -> None:
    level = lambda xy: np.full(len(xy), 10.0)  # noqa: E731
    surface = build_surface(SQUARE, np.array([[6, 6, 9.9]]), [edge(SQUARE, level)])
    distance, height = surface.profile((0, 6), (12, 6))
    assert distance == pytest.approx([0, 6, 12])
    assert height == pytest.approx([10, 9.9, 10])
    distance, height = surface.profile((3, 0), (3, 12))
    assert distance == pytest.approx([0, 3, 9, 12])
    assert height == pytest.approx([10, 9.95, 9.95, 10])
    holed = build_surface(SQUARE.difference(shapely.box(4, 4, 8, 8)), NONE, [edge(SQUARE, plane)])
    distance, height = holed.profile((0, 6), (12, 6))
    (gap,) = np.nonzero(np.isnan(height))[0]
    assert (distance[gap - 1], distance[gap], distance[gap + 1]) == pytest.approx((4, 6, 8))


def test_a_profile_of_a_large_surface_agrees_with_single_heights() -> None:
    rng = np.random.default_rng(5)
    spots = np.column_stack([0.1 + rng.random((600, 2)) * 11.8, 10 + rng.random(600)])
    surface = build_surface(SQUARE, spots, [edge(SQUARE, plane)])
    distance, height = surface.profile((1, 2), (11, 9))
    assert len(distance) > 30
    t = np.linspace(0, distance[-1], 200)
    places = np.array([1, 2]) + t[:, None] * np.array([10, 7]) / np.hypot(10, 7)
    assert np.interp(t, distance, height) == pytest.approx(surface.height(places), abs=1e-9)


def test_a_corner_without_height_is_refused() -> None:
    outline = edge(SQUARE, plane)
    with pytest.raises(GeometryError, match=r"no height is known for the corner at \(0.000, 0.000\)"):
        build_surface(SQUARE, NONE, [outline[:3]])


def test_one_place_has_no_direction() -> None:
    surface = build_surface(SQUARE, NONE, [edge(SQUARE, plane)])
    with pytest.raises(GeometryError, match="two different places"):
        surface.profile((1, 1), (1, 1))


def shots(count: int, seed: int) -> Floats:
    """Shots over and around the slab, four of them far out, so that the hull plays no part."""
    rng = np.random.default_rng(seed)
    far = np.array([[-20, -20, 10], [32, -20, 10], [32, 32, 10], [-20, 32, 10]])
    return np.concatenate([np.column_stack([rng.random((count, 2)) * 14 - 1, 10 + rng.random(count)]), far])


def check_against_scipy(surface: Surface, points: Floats, region: shapely.Polygon) -> None:
    """Source: scipy's linear interpolation over its own (Qhull) Delaunay triangulation."""
    rng = np.random.default_rng(9)
    where = rng.random((3000, 2)) * 14 - 1
    theirs = LinearNDInterpolator(points[:, :2], points[:, 2])(where)
    theirs[~shapely.contains_xy(region, where)] = np.nan
    assert surface.height(where) == pytest.approx(theirs, abs=1e-9, nan_ok=True)
    hull = shapely.convex_hull(shapely.multipoints(points[:, :2]))
    assert surface.areas.sum() == pytest.approx(shapely.intersection(hull, region).area, rel=1e-9)


@pytest.mark.parametrize("region", [SQUARE, HOLED_L, DISC])
def test_scattered_shots_are_joined_as_scipy_joins_them(region: shapely.Polygon) -> None:
    points = shots(120, 7)
    check_against_scipy(scattered(points, region), points, region)


def test_shots_that_do_not_reach_the_edges_cover_their_hull_only() -> None:
    points = np.array([[2, 2, 10], [8, 3, 10.1], [5, 9, 10.2], [5, 9, 99.0]])
    surface = scattered(points, SQUARE)
    assert surface.areas.sum() == pytest.approx(shapely.Polygon(points[:3, :2]).area)
    assert surface.height(np.array([[5.0, 9.0], [11, 11]])) == pytest.approx([10.2, np.nan], nan_ok=True)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([[0, 0, 1], [1, 1, 1], [2, 2, 1]], "in one line"),
        ([[0, 0, 1], [1, 1, 1]], "in one line"),
        ([[50, 50, 1], [60, 50, 1], [50, 60, 1]], "nothing of the slab"),
    ],
)
def test_shots_that_span_nothing_are_refused(points: list, words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        scattered(np.array(points, dtype=float), SQUARE)


def turned_about(xy: Floats, degrees: float, mirror: bool = False) -> Floats:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.column_stack([-xy[:, 0] if mirror else xy[:, 0], xy[:, 1]]) @ np.array([[c, s], [-s, c]])


@pytest.mark.parametrize("mirror", [False, True])
@pytest.mark.parametrize("degrees", [0, 37, 90, 133, 180, 270])
def test_a_warped_rectangle_folds_along_its_lower_diagonal_however_it_is_turned(degrees: float, mirror: bool) -> None:
    """Closed form: the middle stands at the lesser mean of opposite corners, here (10.0 + 9.8) / 2."""
    corners = np.array([[0, 0], [8, 0], [8, 5], [0, 5.0]])
    heights = np.array([10.0, 9.95, 9.8, 9.99])
    there = turned_about(corners, degrees, mirror)
    surface = build_surface(shapely.Polygon(there), np.column_stack([there, heights]), [])
    middle, quarter = turned_about(np.array([[4, 2.5], [2, 2.5]]), degrees, mirror)
    assert surface.height(np.array([middle])) == pytest.approx([9.9])
    assert surface.height(np.array([quarter])) == pytest.approx([(9.9 + (10.0 + 9.99) / 2) / 2])
    assert surface.areas.sum() == pytest.approx(40)


def test_a_line_along_the_higher_diagonal_wins() -> None:
    heights = lambda xy: 10 + 0.002 * xy[:, 0] * xy[:, 1] / 12  # noqa: E731 - opposite corners 10 and 10, 10 and 10.024
    ridge = on(np.array([[0.0, 0.0], [12, 12]]), heights)
    for chains, middle in (([], 10.0), ([ridge], 10.012)):
        surface = build_surface(SQUARE, NONE, [edge(SQUARE, heights), *chains])
        assert surface.height(np.array([[6.0, 6.0]])) == pytest.approx([middle])


@pytest.mark.parametrize("degrees", [0, 37, 90, 201.5])
def test_points_on_one_circle_fold_as_their_lower_envelope(degrees: float) -> None:
    """Source: the lower hull of the points in space, by scipy's Qhull."""
    turn = np.arange(12) * np.pi / 6
    rim = 5 * np.column_stack([np.cos(turn), np.sin(turn)])
    heights = 10 + np.random.default_rng(8).random(12) * 0.2
    hull = ConvexHull(np.column_stack([rim, heights]))
    down = hull.equations[hull.equations[:, 2] < 0]
    inside = np.random.default_rng(9).random((200, 2)) * 6 - 3
    envelope = (-(inside @ down[:, :2].T + down[:, 3]) / down[:, 2]).max(axis=1)
    there = turned_about(rim, degrees)
    surface = build_surface(shapely.Polygon(there), np.column_stack([there, heights]), [])
    assert surface.height(turned_about(inside, degrees)) == pytest.approx(envelope, abs=1e-9)


@pytest.mark.parametrize("degrees", [0, 37])
def test_a_grid_of_shots_folds_along_the_lower_diagonal_of_every_square(degrees: float) -> None:
    """Closed form: in the middle of each square the lesser of the two means of opposite corners."""
    side = 141  # some 20,000 shots
    grid = np.stack(np.meshgrid(np.arange(side), np.arange(side), indexing="ij"), axis=-1).reshape(-1, 2) * 0.3
    z = 10 + np.random.default_rng(4).random((side, side)) * 0.1
    region = shapely.Polygon(turned_about(np.array([[0, 0], [42, 0], [42, 42], [0, 42.0]]), degrees))
    surface = scattered(np.column_stack([turned_about(grid, degrees), z.reshape(-1)]), region)
    middles = turned_about(grid.reshape(side, side, 2)[:-1, :-1].reshape(-1, 2) + 0.15, degrees)
    lesser = np.minimum(z[:-1, :-1] + z[1:, 1:], z[1:, :-1] + z[:-1, 1:]) / 2
    assert surface.height(middles) == pytest.approx(lesser.reshape(-1), abs=1e-9)
    assert len(surface.mesh.triangles) == 2 * (side - 1) ** 2
    assert surface.areas.min() == pytest.approx(0.045, rel=1e-6)


def test_a_side_is_cut_alike_however_the_plan_is_turned() -> None:
    """A point a foot off the middle of a long side: the circle through the three reaches far outside the plan."""
    shape = np.array([[0, 0], [6.1, 0], [6.1, 6.1], [0, 6.1]])
    counts = set()
    for degrees in range(0, 90, 5):
        there = turned_about(np.vstack([shape, [[3.05, 0.3]]]), degrees)
        heights = np.array([10, 9.99, 9.9, 9.95, 9.97])
        surface = build_surface(shapely.Polygon(there[:4]), np.column_stack([there, heights]), [])
        counts.add(len(surface.z))
    assert counts == {5}


@pytest.mark.parametrize("degrees", [0, 37, 90, 133])
def test_a_line_along_a_diagonal_of_four_points_on_one_circle_is_not_cut(degrees: float) -> None:
    """Either diagonal is Delaunay's: the mesh of two triangles holds the line as it is."""
    corners = np.array([[0, 0], [8, 0], [8, 5], [0, 5.0]])
    heights = np.array([10.0, 9.95, 9.8, 9.99])
    for ends in ((0, 2), (1, 3)):
        there = turned_about(corners, degrees)
        spots = np.column_stack([there, heights])
        surface = build_surface(shapely.Polygon(there), spots, [spots[list(ends)]])
        assert len(surface.z) == 4
        assert surface.height(there.mean(axis=0)[None]) == pytest.approx([heights[list(ends)].mean()])
