"""Geometry where a length, an angle or a difference comes to nothing: worked exactly, or said in words; no crash.

Expected values are plane geometry, worked beside each check.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from slabwright.geometry.surface.surface import build_surface
from slabwright.geometry.water.water import Rim, fill, ponds, spill_levels

FOOT = 0.3048


@pytest.mark.parametrize("seed", [673, 1834, 2833])
def test_a_pond_that_spills_over_a_height_point_inside_has_a_shore(seed: int) -> None:
    """Walls all round and one drain: water spills at points of the surface, where the shore is that very point."""
    chance = np.random.default_rng(seed)
    wide, deep = chance.uniform(3, 20, 2)
    angle = chance.uniform(0, 6.28)
    turned = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    corners = np.array([(0, 0), (wide, 0), (wide, deep), (0, deep)]) @ turned.T + chance.uniform(-30, 30, 2)
    rim = np.column_stack([corners, chance.uniform(0, 0.2, 4) + 30])
    count = int(chance.integers(6, 14))
    inner = chance.uniform(0.1, 0.9, (count, 2)) * [wide, deep] @ turned.T + corners[0]
    spots = np.column_stack([inner, 30 + np.round(chance.uniform(-0.1, 0.15, count), 3)])
    surface = build_surface(shapely.Polygon(corners), spots, [np.vstack([rim, rim[:1]])])
    edges = surface.mesh.rim
    walls = Rim(edges, np.full(len(edges), -1), np.full((len(edges), 2), -np.inf))
    drain = {int(surface.mesh.point_vertices[0]): 7}
    found = ponds(surface, fill(surface, spill_levels(surface, walls, drain)))
    assert found
    for pond in found:
        assert pond.outline.is_valid
        assert pond.outline.area == pytest.approx(pond.area, rel=1e-9, abs=1e-9)
