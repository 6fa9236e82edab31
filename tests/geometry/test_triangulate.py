"""The triangulation covers its region exactly and holds every segment; references: closed forms and scipy."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from meshing import triangulate
from scipy.spatial import Delaunay
from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats, among, distinct, pair_keys
from slabwright.geometry.surface.triangulate import Mesh

SQUARE = shapely.box(0, 0, 12, 12)
HOLED_L = shapely.Polygon([(0, 0), (7, 0), (7, 12), (3, 12), (3, 6.7), (0, 6.7)], [[(1, 1), (2, 1), (2, 2), (1, 2)]])
NONE = np.empty((0, 2, 2))


def signed_areas(mesh: Mesh) -> Floats:
    a, b, c = (mesh.xy[mesh.triangles[:, k]] for k in range(3))
    return ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2


def check_cover(mesh: Mesh, region: shapely.Polygon) -> None:
    areas = signed_areas(mesh)
    assert areas.min() > 0
    assert areas.sum() == pytest.approx(region.area, rel=1e-9)
    rim = mesh.xy[mesh.rim]
    assert np.hypot(*(rim[:, 1] - rim[:, 0]).T).sum() == pytest.approx(region.length, rel=1e-9)
    assert len(mesh.triangles) == shapely.STRtree(shapely.polygons(mesh.xy[mesh.triangles])).geometries.size
    middles = shapely.points(mesh.xy[mesh.triangles].mean(axis=1))
    assert shapely.covers(region, middles).all()


def check_holds(mesh: Mesh, segment: Floats, region: shapely.Polygon) -> None:
    """The part of a segment inside the region is covered by edges of the mesh."""
    ends = mesh.xy[mesh.edges]
    run = segment[1] - segment[0]
    off = np.abs(np.cross(np.c_[ends - segment[0], np.zeros((*ends.shape[:2], 1))], [*run, 0])[..., 2])
    along = (ends - segment[0]) @ run / (run @ run)
    on = (off / np.hypot(*run) < 1e-5).all(axis=1) & (along > -1e-6).all(axis=1) & (along < 1 + 1e-6).all(axis=1)
    length = np.hypot(*(ends[on, 1] - ends[on, 0]).T).sum()
    inside = shapely.intersection(shapely.LineString(segment), region.buffer(1e-7))
    assert length == pytest.approx(inside.length, abs=1e-4)


def check_neighbors(mesh: Mesh) -> None:
    for facet, row in enumerate(mesh.neighbors.tolist()):
        for side, other in enumerate(row):
            ends = {int(mesh.triangles[facet, side]), int(mesh.triangles[facet, (side + 1) % 3])}
            if other >= 0:
                assert facet in mesh.neighbors[other]
                assert ends < set(mesh.triangles[other].tolist())
            else:
                assert ends in [set(edge) for edge in mesh.rim.tolist()]


def test_a_square_with_its_center_has_four_facets() -> None:
    mesh = triangulate(SQUARE, np.array([[6.0, 6.0]]), NONE)
    assert (len(mesh.xy), len(mesh.triangles)) == (5, 4)
    assert signed_areas(mesh) == pytest.approx([36] * 4)
    assert [6, 6] in mesh.xy.tolist()
    assert len(mesh.edges) == 8
    check_neighbors(mesh)


def test_concave_outline_and_opening_are_left_out() -> None:
    rng = np.random.default_rng(1)
    points = rng.random((60, 2)) * 12
    segments = np.array([[[0, 0], [7, 12]], [[7, 0], [0, 6.7]], [[3, 6.7], [7, 6.7]]], dtype=float)
    mesh = triangulate(HOLED_L, points, segments)
    check_cover(mesh, HOLED_L)
    check_neighbors(mesh)
    for segment in segments:
        check_holds(mesh, segment, HOLED_L)
    inside = shapely.contains_xy(HOLED_L, points)
    assert {tuple(xy) for xy in points[inside]} == {tuple(xy) for xy in points} & {tuple(xy) for xy in mesh.xy}


def test_a_vertex_put_in_lies_between_its_parents() -> None:
    near = np.array([[x, 6 + y] for x in np.linspace(0.5, 11.5, 23) for y in (-0.02, 0.02)])
    mesh = triangulate(SQUARE, near, np.array([[[0.3, 6.0], [11.7, 6.0]]]))
    put_in = np.nonzero(mesh.parents[:, 0] >= 0)[0]
    assert len(put_in) > 5
    ends = mesh.xy[mesh.parents[put_in]]
    between = ends[:, 0] + mesh.fractions[put_in, None] * (ends[:, 1] - ends[:, 0])
    assert mesh.xy[put_in] == pytest.approx(between, abs=1e-12)
    check_cover(mesh, SQUARE)


def test_repeated_points_on_segments_and_in_line() -> None:
    points = np.array([[3, 3], [3, 3], [3 + 1e-8, 3], [0, 5], [6, 6], [9, 9], [1 / 3, 1 / 3], [12, 12], [4, 0]])
    segments = np.array([[[0, 0], [12, 12]], [[12, 12], [0, 0]], [[0, 0], [12, 0]], [[2, 2], [5, 5]], [[6, 6], [6, 6]]])
    mesh = triangulate(SQUARE, points, segments.astype(float))
    check_cover(mesh, SQUARE)
    assert (np.hypot(*(mesh.xy - [3, 3]).T) < 1e-6).sum() == 1
    check_holds(mesh, segments[0].astype(float), SQUARE)
    assert len(mesh.xy) == len(distinct(np.round(mesh.xy @ [1e6, 1e13]).astype(np.int64)))


def test_segments_that_cross_meet_in_a_vertex() -> None:
    segments = np.array([[[0, 4], [12, 4]], [[5, 0], [5, 12]]], dtype=float)
    mesh = triangulate(SQUARE, np.empty((0, 2)), segments)
    assert np.hypot(*(mesh.xy - [5, 4]).T).min() == pytest.approx(0, abs=1e-12)
    for segment in segments:
        check_holds(mesh, segment, SQUARE)
    check_cover(mesh, SQUARE)


def test_segments_at_a_small_angle_end() -> None:
    segments = np.array([[[0, 0], [12, 0.05]], [[0, 0], [12, 0.1]], [[0, 0], [12, 0.3]]])
    mesh = triangulate(SQUARE, np.array([[6, 0.01], [3, 0.04], [0.5, 0.01]]), segments)
    check_cover(mesh, SQUARE)
    assert len(mesh.xy) < 1000
    for segment in segments:
        check_holds(mesh, segment, SQUARE)


def test_a_turned_grid_far_from_the_origin() -> None:
    turn = np.array([[np.cos(0.3), -np.sin(0.3)], [np.sin(0.3), np.cos(0.3)]])
    grid = np.stack(np.meshgrid(np.linspace(0, 12, 21), np.linspace(0, 12, 21)), -1).reshape(-1, 2)
    corners = np.asarray(SQUARE.exterior.coords)[:-1]
    region = shapely.Polygon(corners @ turn.T + [6e5, 4e6])
    segment = np.array([[0, 0], [12, 12]]) @ turn.T + [6e5, 4e6]
    mesh = triangulate(region, grid @ turn.T + [6e5, 4e6], segment[None])
    assert signed_areas(mesh).min() > 0
    assert signed_areas(mesh).sum() == pytest.approx(144, rel=1e-9)


def test_inside_points_are_triangulated_as_scipy_does() -> None:
    """Source: Delaunay triangulation by scipy (Qhull), where no segment disturbs it."""
    rng = np.random.default_rng(4)
    points = 2 + rng.random((200, 2)) * 8
    mesh = triangulate(shapely.box(-50, -50, 62, 62), points, NONE)
    corners = np.array([[-50, -50], [62, -50], [62, 62], [-50, 62]])
    theirs = Delaunay(np.concatenate([points, corners])).simplices
    inner = theirs[(theirs < 200).all(axis=1)]
    number = np.full(len(mesh.xy), -1)
    number[[mesh.xy.tolist().index(point) for point in points.tolist()]] = np.arange(200)
    ours = number[mesh.triangles]
    ours = ours[(ours >= 0).all(axis=1)]
    assert {frozenset(row) for row in ours.tolist()} == {frozenset(row) for row in inner.tolist()}


coordinate = st.integers(0, 24).map(lambda n: n / 2)
place = st.tuples(coordinate, coordinate)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(place, max_size=25),
    st.lists(st.tuples(place, place), max_size=8),
    st.floats(0, 6.28),
)
def test_any_points_and_segments_are_covered(points: list, segments: list, angle: float) -> None:
    """Areas add up and every segment is held, whatever repeats, touches, overlaps or crosses."""
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    region = shapely.Polygon(
        np.asarray(HOLED_L.exterior.coords) @ turn.T, [np.asarray(HOLED_L.interiors[0].coords) @ turn.T]
    )
    lines = np.array(segments, dtype=float).reshape(-1, 2, 2) @ turn.T
    mesh = triangulate(region, np.array(points, dtype=float).reshape(-1, 2) @ turn.T, lines)
    assert signed_areas(mesh).min() > 0
    assert signed_areas(mesh).sum() == pytest.approx(region.area, rel=1e-6)
    for line in lines[np.hypot(*(lines[:, 1] - lines[:, 0]).T) > 0]:
        check_holds(mesh, line, region)


@pytest.mark.parametrize(
    "region", [shapely.Polygon(), shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), shapely.Point(0, 0)]
)
def test_a_region_without_area_is_refused(region: shapely.Geometry) -> None:
    with pytest.raises(GeometryError, match="valid polygon"):
        triangulate(region, np.empty((0, 2)), NONE)


def test_coordinates_that_are_not_numbers_are_refused() -> None:
    with pytest.raises(GeometryError, match="finite"):
        triangulate(SQUARE, np.array([[1.0, np.nan]]), NONE)


def test_cutting_segments_adds_few_vertices() -> None:
    """Cutting segments adds few vertices; a plane graph has under two triangles per vertex. Source: Euler's formula."""
    rng = np.random.default_rng(0)
    for count in (500, 2000):
        mesh = triangulate(SQUARE, rng.random((count, 2)) * 12, rng.random((5, 2, 2)) * 12)
        assert count <= len(mesh.xy) < 2 * count
        assert len(mesh.triangles) < 2 * len(mesh.xy)


def test_number_helpers_agree_with_numpy() -> None:
    """Source: numpy.unique and numpy.isin."""
    numbers = np.array([5, 1, 5, 3, 1, 9])
    assert distinct(numbers).tolist() == np.unique(numbers).tolist()
    assert among(numbers, np.array([9, 5])).tolist() == np.isin(numbers, [9, 5]).tolist()
    assert not among(numbers, np.array([], dtype=np.int64)).any()
    assert pair_keys(np.array([[1, 2], [0, 3]]), 10).tolist() == [12, 3]
