"""Patches of a mesh, against shapely: outlines, the facets at places; and falls at other heights, against surfaces."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from meshing import triangulate
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.patches import facets_at, gradients_with, outer_ring
from slabwright.geometry.surface.triangulate import Mesh


def mesh_over(seed: int) -> Mesh:
    rng = np.random.default_rng(seed)
    region = shapely.box(0, 0, 8, 6) - shapely.box(3, 2, 4.5, 3.5)
    return triangulate(region, rng.uniform(0, 8, (30, 2)), np.empty((0, 2, 2)))


def patch(mesh: Mesh, rng: np.random.Generator, size: int) -> list[int]:
    """Facets that hang together, grown at random."""
    found = [int(rng.integers(len(mesh.triangles)))]
    while len(found) < size:
        beside = [k for f in found for k in mesh.neighbors[f].tolist() if k >= 0 and k not in found]
        if not beside:
            break
        found.append(beside[int(rng.integers(len(beside)))])
    return found


@pytest.mark.parametrize("seed", range(8))
def test_outlines_are_those_of_the_union(seed: int) -> None:
    mesh, rng = mesh_over(seed), np.random.default_rng(seed)
    holed = 0
    for _ in range(60):
        facets = patch(mesh, rng, int(rng.integers(1, len(mesh.triangles) + 1)))
        union = shapely.union_all(shapely.polygons(mesh.xy[mesh.triangles[facets]]))
        assert isinstance(union, shapely.Polygon)
        ring = outer_ring(mesh, facets)
        assert ring[0] == ring[-1]
        assert set(ring) == {(x, y) for x, y in union.exterior.coords}
        assert shapely.Polygon(ring).area == pytest.approx(shapely.Polygon(union.exterior).area)
        holed += len(union.interiors) > 0
    assert holed


def test_facets_that_close_round_a_gap_at_one_vertex_have_their_outer_outline() -> None:
    square = shapely.box(0, 0, 4, 4)
    mesh = triangulate(
        square, np.array([[2.0, 2.0], [2.0, 0.0], [4.0, 2.0], [2.0, 4.0], [0.0, 2.0]]), np.empty((0, 2, 2))
    )
    middle = mesh.xy[mesh.triangles].mean(axis=1)
    # all but one of the facets at the middle: the outline comes to the middle and goes back
    gap = next(f for f in range(len(middle)) if (mesh.xy[mesh.triangles[f]] == 2.0).all(axis=1).any())
    facets = [f for f in range(len(middle)) if f != gap]
    union = shapely.union_all(shapely.polygons(mesh.xy[mesh.triangles[facets]]))
    assert set(outer_ring(mesh, facets)) == {(x, y) for x, y in union.exterior.coords}


def test_facets_at_places_and_their_falls_at_other_heights() -> None:
    mesh = mesh_over(3)
    rng = np.random.default_rng(3)
    surface = Surface(mesh, rng.uniform(10, 10.2, len(mesh.xy)))
    for _ in range(20):
        places = [(float(x), float(y)) for x, y in rng.uniform(-1, 9, (int(rng.integers(1, 6)), 2))]
        at = shapely.multipoints(places)
        assert facets_at(surface, places) == np.nonzero(shapely.intersects(surface.facets, at))[0].tolist()
        raised = rng.choice(len(mesh.xy), 5, replace=False)
        z = surface.z.copy()
        z[raised] += rng.uniform(0, 0.1, 5)
        facets = rng.choice(len(mesh.triangles), 7).tolist()
        found = gradients_with(surface, facets, zip(raised.tolist(), z[raised].tolist(), strict=True))
        assert np.array(found) == pytest.approx(Surface(mesh, z).gradients[facets], abs=1e-12)


def test_a_place_on_a_side_lies_in_both_facets() -> None:
    mesh = triangulate(shapely.box(0, 0, 3, 2), np.empty((0, 2)), np.empty((0, 2, 2)))
    surface = Surface(mesh, np.zeros(4))
    (inner,) = surface.inner_sides.tolist()
    ends = mesh.xy[inner]
    x, y = (ends[0] + 0.3 * (ends[1] - ends[0])).tolist()
    assert facets_at(surface, [(x, y)]) == [0, 1]
