"""The spot of a line nearest to a place, against shapely; and the edge that each side of a mesh lies on, both ways."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from slabwright.geometry.shape.distances import nearest_on


@pytest.mark.parametrize("seed", range(20))
def test_the_nearest_spot_is_shapelys(seed: int) -> None:
    rng = np.random.default_rng(seed)
    xy = rng.uniform(-5, 5, (int(rng.integers(2, 7)), 2))
    line, shape = [(float(x), float(y)) for x, y in xy], shapely.LineString(xy)
    for x, y in rng.uniform(-8, 8, (30, 2)).tolist():
        away, part, share = nearest_on(line, (x, y))
        assert away == pytest.approx(shape.distance(shapely.Point(x, y)))
        there = xy[part] + share * (xy[part + 1] - xy[part])
        expected = shape.interpolate(shape.project(shapely.Point(x, y)))
        assert there == pytest.approx((expected.x, expected.y), abs=1e-9)


def test_of_parts_equally_near_the_first_counts_and_a_repeated_point_does_no_harm() -> None:
    assert nearest_on([(0, 0), (2, 0), (2, 0), (2, 2)], (3, -1)) == (pytest.approx(2**0.5), 0, 1.0)
