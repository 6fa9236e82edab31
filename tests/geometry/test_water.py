"""Standing water and ways of water; references: closed forms, a flooded grid, drops that know only heights."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Mapping
from itertools import pairwise
from time import perf_counter

import numpy as np
import pytest
import shapely
from changed import changed as replace
from slabwright.geometry import GeometryError
from slabwright.geometry.shape.noding import Floats
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.surface import build_surface
from slabwright.geometry.surface.triangulate import neighbors_of
from slabwright.geometry.water.flood import Rim, flood, outlets
from slabwright.geometry.water.flow import CROSS, flow_over
from slabwright.geometry.water.shares import Key, shares_of
from slabwright.geometry.water.standing import PondShape, ponds
from slabwright.geometry.water.trails import TrailShape, follow
from slabwright.geometry.xy import XY

FT = 0.3048
NONE = np.empty((0, 3))
DAM = -1
SOUTH, EAST, NORTH, WEST = range(4)
Height = Callable[[float, float], float]


def slab(width: float, depth: float, height: Height, *lines: list, spots: list = ()) -> Surface:
    """A rectangle from (0, 0); heights of edges, lines and spots all from ``height``."""
    region = shapely.box(0, 0, width, depth)
    chains = [np.array([[x, y, height(x, y)] for x, y in line]) for line in [region.exterior.coords, *lines]]
    return build_surface(region, np.array([[x, y, height(x, y)] for x, y in spots]).reshape(-1, 3), chains)


def side_of(surface: Surface, x: float, y: float) -> int:
    """Which side of a rectangle an edge middle lies on, 4 inside (an opening)."""
    width, depth = surface.mesh.xy.max(axis=0)
    for side, off in enumerate((y, width - x, depth - y, x)):
        if abs(off) < 1e-9:
            return side
    return 4


def rim_of(surface: Surface, exits: Mapping[int, int], ground: Mapping[int, Height] | None = None) -> Rim:
    """Rim of a rectangle: exit number by side, ground height by side; all else is a dam with nothing beside."""
    edges = surface.mesh.rim
    sides = [side_of(surface, x, y) for x, y in surface.mesh.xy[edges].mean(axis=1)]
    beside = np.full(edges.shape, -np.inf)
    for row, side in enumerate(sides):
        if side in (ground or {}):
            beside[row] = [ground[side](*surface.mesh.xy[vertex]) for vertex in edges[row]]
    return Rim(edges, np.array([exits.get(side, DAM) for side in sides]), beside)


def standing(surface: Surface, rim: Rim, drains: Mapping[int, int] | None = None) -> tuple[PondShape, ...]:
    return ponds(surface, np.array(flood(surface, outlets(surface, rim, drains or {})[0]).level))


def shares(surface: Surface, rim: Rim, drains: Mapping[int, int]) -> dict[Key, float]:
    return shares_of(flow_over(surface, rim, drains))


def trail(surface: Surface, rim: Rim, drains: Mapping[int, int], start: XY) -> TrailShape:
    return follow(flow_over(surface, rim, drains), start)


ALL_OPEN = {SOUTH: 0, EAST: 1, NORTH: 2, WEST: 3}


# --- ponds: closed forms -----------------------------------------------------------------------------------------


def test_a_dish_holds_a_pyramid_of_water() -> None:
    """40 x 40 ft with the center 0.10 ft low holds 40 * 40 * 0.10 / 3 = 53.33 ft3. Source: closed form (pyramid)."""
    dish = slab(
        40 * FT, 40 * FT, lambda x, y: 10 - 0.1 * FT * ((x, y) == (20 * FT, 20 * FT)), spots=[(20 * FT, 20 * FT)]
    )
    (pond,) = standing(dish, rim_of(dish, ALL_OPEN))
    assert pond.volume / FT**3 == pytest.approx(160 / 3, rel=1e-9)
    assert pond.area / FT**2 == pytest.approx(1600)
    assert pond.depth / FT == pytest.approx(0.1)
    assert pond.level == pytest.approx(10)
    assert pond.deepest == pytest.approx((20 * FT, 20 * FT))
    assert pond.outline.area == pytest.approx(pond.area)
    assert shares(dish, rim_of(dish, ALL_OPEN), {}) == {("pond", 0): pytest.approx(1)}


def test_a_drain_at_the_lowest_point_leaves_nothing() -> None:
    dish = slab(12, 12, lambda x, y: 10 - 0.03 * ((x, y) == (6, 6)), spots=[(6, 6)])
    drain = {dish.nearest_vertex((6, 6)): 8}
    rim = rim_of(dish, {})
    assert standing(dish, rim, drain) == ()
    assert shares(dish, rim, drain) == {("exit", 8): pytest.approx(1)}
    way = trail(dish, rim, drain, (2, 3))
    assert (way.kind, way.exit) == ("exit", 8)
    assert way.xy[-1] == pytest.approx([6, 6])


def against_wall() -> Surface:
    return slab(20 * FT, 30 * FT, lambda x, y: 10 + 0.3 * FT * y / (30 * FT))


def test_a_slab_tilted_toward_a_wall_holds_a_wedge_of_water() -> None:
    """20 x 30 ft falling 0.30 ft toward a wall, walls on three sides: 20 * 30 * 0.30 / 2 ft3. Closed form (wedge)."""
    surface = against_wall()
    (pond,) = standing(surface, rim_of(surface, {NORTH: 0}))
    assert pond.volume / FT**3 == pytest.approx(90, rel=1e-9)
    assert pond.depth / FT == pytest.approx(0.3)


def test_one_low_corner_that_drains_empties_it() -> None:
    surface = against_wall()
    rim = rim_of(surface, {})
    corner = {surface.nearest_vertex((0, 0)): 5}
    assert standing(surface, rim, corner) == ()
    assert shares(surface, rim, corner) == {("exit", 5): pytest.approx(1)}
    # a side that lets water out shares its low corner with the wall: the corner lets water out
    beside = rim_of(surface, {WEST: 3})
    assert standing(surface, beside) == ()
    assert shares(surface, beside, {}) == {("exit", 3): pytest.approx(1)}


def test_with_no_way_out_the_pond_is_closed_and_stands_to_the_highest_point() -> None:
    surface = against_wall()
    rim = rim_of(surface, {})
    assert np.isinf(np.array(flood(surface, outlets(surface, rim, {})[0]).level)).all()
    (pond,) = standing(surface, rim)
    assert pond.level == pytest.approx(10 + 0.3 * FT)
    assert shares(surface, rim, {}) == {("pond", 0): pytest.approx(1)}


def two_hollows(saddle: float) -> Surface:
    height = lambda x, y: float(np.interp(x, [0, 3, 6, 9, 12], [10, 9.9, saddle, 9.94, 10]))  # noqa: E731
    lines = [[(x, 0), (x, 2)] for x in (3, 6, 9)]
    return slab(12, 2, height, *lines, spots=[(x, y) for x in (3, 6, 9) for y in (0, 2)])


def test_two_hollows_merge_over_a_saddle() -> None:
    """Prisms 2 m wide. Filled to 10 by dams along the sides: area of the profile under 10 times 2. Closed form."""
    surface = two_hollows(9.96)
    (pond,) = standing(surface, rim_of(surface, {WEST: 3, EAST: 1}))
    profile = np.trapezoid(10 - np.array([10, 9.9, 9.96, 9.94, 10]), [0, 3, 6, 9, 12])
    assert pond.volume == pytest.approx(2 * profile)
    assert pond.depth == pytest.approx(0.1)
    assert pond.deepest[0] == pytest.approx(3)
    # a saddle as high as the ends keeps them apart
    apart = standing(two_hollows(10.0), rim_of(two_hollows(10.0), {WEST: 3, EAST: 1}))
    assert [pond.volume for pond in apart] == pytest.approx([2 * 0.5 * 6 * 0.1, 2 * 0.5 * 6 * 0.06])
    assert sum(len(pond.outline.geoms) for pond in apart) == 2


def test_a_drain_in_one_of_two_hollows_leaves_the_other_up_to_the_saddle() -> None:
    """The right hollow fills to the saddle, 0.02 deep: half of 0.02 times (3 + 1) m times 2 m. Closed form."""
    surface = two_hollows(9.96)
    drains = {surface.nearest_vertex((3, y)): 7 for y in (0, 2)}
    rim = rim_of(surface, {})
    found = standing(surface, rim, drains)
    (pond,) = found
    assert pond.level == pytest.approx(9.96)
    assert pond.volume == pytest.approx(0.5 * 0.02 * (3 + 1) * 2)
    assert shares(surface, rim, drains) == {("exit", 7): pytest.approx(0.5), ("pond", 0): pytest.approx(0.5)}


def test_a_hollow_within_a_hollow_is_one_pond() -> None:
    nested = lambda x, y: float(np.interp(max(abs(x - 6), abs(y - 6)), [0, 1, 2, 6], [9.8, 9.97, 9.95, 10]))  # noqa: E731
    rings = [[(6 - r, 6 - r), (6 + r, 6 - r), (6 + r, 6 + r), (6 - r, 6 + r), (6 - r, 6 - r)] for r in (1, 2)]
    surface = slab(12, 12, nested, *rings, spots=[(6, 6)])
    (pond,) = standing(surface, rim_of(surface, ALL_OPEN))
    # depth of water over rings of half width r, straight between; a ring is 8 r long: Simpson's rule is exact
    rings_of = [(0, 0.2), (1, 0.03), (2, 0.05), (6, 0.0)]
    volume = 0.0
    for (r, d), (s, e) in pairwise(rings_of):
        volume += (s - r) / 6 * 8 * (r * d + 4 * (r + s) / 2 * (d + e) / 2 + s * e)
    assert pond.volume == pytest.approx(volume)
    assert pond.depth == pytest.approx(0.2)


def test_a_level_slab_holds_no_pond_and_has_no_fall() -> None:
    surface = slab(6, 4, lambda x, y: 10.0, spots=[(2, 2)])
    for exits in (ALL_OPEN, {}):
        rim = rim_of(surface, exits)
        assert standing(surface, rim) == ()
        assert shares(surface, rim, {}) == {("level", -1): pytest.approx(1)}
        assert trail(surface, rim, {}, (1, 1)).kind == "level"


# --- edges with ground beside ------------------------------------------------------------------------------------


def test_a_higher_lawn_dams_an_edge() -> None:
    """A plane falling 0.1 m in 10 m to an edge with a lawn 0.04 m above it: a wedge 4 m long. Closed form."""
    surface = slab(3, 10, lambda x, y: 10 + 0.01 * y)
    rim = rim_of(surface, ALL_OPEN | {EAST: DAM, WEST: DAM}, {SOUTH: lambda x, y: 10.04})
    (pond,) = standing(surface, rim)
    assert pond.level == pytest.approx(10.04)
    assert pond.volume == pytest.approx(3 * 4 * 0.04 / 2)
    assert min(outlets(surface, rim, {})[0]) == pytest.approx(10.04)
    lower = rim_of(surface, ALL_OPEN | {EAST: DAM, WEST: DAM}, {SOUTH: lambda x, y: 9.9})
    assert standing(surface, lower) == ()


def cross_fall(x: float, y: float) -> float:
    return 10 + 0.01 * x + 0.02 * y


def test_a_pond_overflows_where_ground_and_slab_cross() -> None:
    """Along the low edge the slab rises 10.00 to 10.08, the lawn falls 10.06 to 9.98: they cross at 10.03 (x = 3)."""
    surface = slab(8, 8, cross_fall)
    rim = rim_of(surface, {SOUTH: 0}, {SOUTH: lambda x, y: 10.06 - 0.01 * x})
    (pond,) = standing(surface, rim)
    assert pond.level == pytest.approx(10.03)
    # the corner of a tilted plane under 10.03: a tetrahedron with legs 3 m and 1.5 m and 0.03 m deep
    assert pond.volume == pytest.approx(3 * 1.5 / 2 * 0.03 / 3)
    found = shares(surface, rim, {})
    # downhill runs (-1, -2): the edge east of x = 3 takes what lies east of the line from (3, 0) to (7, 8), 24 of 64
    assert found[("exit", 0)] == pytest.approx(24 / 64)
    assert sum(found.values()) == pytest.approx(1)
    ends = [trail(surface, rim, {}, start) for start in ((7, 1), (1, 1), (7.2, 7.9))]
    assert [(end.kind, end.exit, end.pond) for end in ends] == [("exit", 0, -1), ("pond", -1, 0), ("exit", 0, -1)]
    assert ends[1].xy[-1] == pytest.approx([0, 0])
    assert ends[1].xy[-1].tolist() == [0, 0]


def test_water_slides_along_a_lawn_to_where_it_may_leave() -> None:
    """Slab and lawn as before, mirrored so that the slab falls toward the low end of the lawn: no pond, all leaves."""
    surface = slab(8, 8, lambda x, y: cross_fall(8 - x, y))
    rim = rim_of(surface, {SOUTH: 0}, {SOUTH: lambda x, y: 10.06 - 0.01 * x})
    assert standing(surface, rim) == ()
    assert shares(surface, rim, {}) == {("exit", 0): pytest.approx(1)}
    high = rim_of(surface, {SOUTH: 0}, {SOUTH: lambda x, y: 10.02 + 0.01 * x})
    (pond,) = standing(surface, high)
    assert pond.level == pytest.approx(10.05)


def test_the_middle_of_an_edge_may_be_the_way_out() -> None:
    """A trail that follows the edge down leaves where the ground drops under the slab, before the corner."""
    surface = slab(8, 8, lambda x, y: cross_fall(8 - x, y))
    rim = rim_of(surface, {SOUTH: 0}, {SOUTH: lambda x, y: 10.20 - 0.03 * x})
    # slab 10.08 - 0.01 x meets ground 10.20 - 0.03 x at x = 6; closed form
    way = trail(surface, rim, {}, (0.5, 0.5))
    assert way.xy[-1] == pytest.approx([6, 0])
    assert (way.kind, way.exit) == ("exit", 0)


# --- shares: closed forms ----------------------------------------------------------------------------------------


def test_shares_of_a_plane() -> None:
    """Fall (-0.01, -0.02) on 4 x 10: the west edge takes what lies above y = 2 x: 24 of 40. Closed form."""
    spots = [(1.1, 2.3), (3.2, 6.1), (2.7, 8.4), (0.4, 5.5)]
    for some in ([], spots):
        surface = slab(4, 10, lambda x, y: 0.01 * x + 0.02 * y, spots=some)
        found = shares(surface, rim_of(surface, ALL_OPEN), {})
        assert found == {("exit", SOUTH): pytest.approx(0.4), ("exit", WEST): pytest.approx(0.6)}


def test_shares_of_a_valley_leave_at_its_low_end() -> None:
    surface = slab(4, 10, lambda x, y: 0.02 * abs(x - 2) + 0.01 * y, [(2, 0), (2, 10)])
    rim = rim_of(surface, ALL_OPEN)
    assert shares(surface, rim, {}) == {("exit", SOUTH): pytest.approx(1)}
    way = trail(surface, rim, {}, (1, 9))
    # down (0.02, -0.01) on the west side to the valley line, then along it
    assert way.xy == pytest.approx(np.array([[1, 9], [2, 8.5], [2, 0]]))
    assert (way.kind, way.exit) == ("exit", SOUTH)


def test_shares_of_a_crown_go_to_both_sides() -> None:
    surface = slab(4, 10, lambda x, y: -0.02 * abs(x - 1), [(1, 0), (1, 10)])
    found = shares(surface, rim_of(surface, ALL_OPEN), {})
    assert found == {("exit", EAST): pytest.approx(0.75), ("exit", WEST): pytest.approx(0.25)}


def test_a_level_landing_is_a_share_of_its_own() -> None:
    """A landing of 3 m in a run of 10: what runs onto it stops, what lies below leaves. Closed form."""
    height = lambda x, y: float(np.interp(y, [0, 3, 6, 10], [10, 10.06, 10.06, 10.1]))  # noqa: E731
    surface = slab(4, 10, height, [(0, 3), (4, 3)], [(0, 6), (4, 6)], spots=[(x, y) for x in (0, 4) for y in (3, 6)])
    found = shares(surface, rim_of(surface, {SOUTH: 0}), {})
    assert found == {("exit", 0): pytest.approx(0.3), ("level", -1): pytest.approx(0.7)}


def test_a_low_spot_too_shallow_to_count_lets_water_on() -> None:
    """A hollow of 0.3 mm under a fall of 1 %: everything still reaches the edge."""
    height = lambda x, y: 10 + 0.01 * y - 0.0203 * ((x, y) == (2, 4))  # noqa: E731
    surface = slab(4, 10, height, spots=[(2, 4), (1, 2), (3, 2), (2, 2), (0.5, 3), (3.5, 3)])
    rim = rim_of(surface, {SOUTH: 0})
    level = np.array(flood(surface, outlets(surface, rim, {})[0]).level)
    assert 0 < (level - surface.z).max() < 0.0005
    assert ponds(surface, level) == ()
    assert shares(surface, rim, {}) == {("exit", 0): pytest.approx(1)}
    assert trail(surface, rim, {}, (2, 5)).kind == "exit"


def test_facets_that_feed_each_other_in_a_ring_are_still_shared_out() -> None:
    """Facets twisted like an iris round an opening with six exits: a sixth of the water each. Source: symmetry."""
    turn = np.arange(6) * np.pi / 3
    outer = 4 * np.column_stack([np.cos(turn), np.sin(turn)])
    inner = 2.4 * np.column_stack([np.cos(turn - 0.5), np.sin(turn - 0.5)])
    triangles = np.array(
        [[i, (i + 1) % 6, 6 + i] for i in range(6)] + [[(i + 1) % 6, 6 + (i + 1) % 6, 6 + i] for i in range(6)]
    )
    blank = slab(1, 1, lambda x, y: 0.0).mesh
    xy = np.concatenate([outer, inner])
    mesh = replace(blank, xy=xy, triangles=triangles, neighbors=neighbors_of(triangles, 12))
    surface = Surface(mesh, np.array([1.0] * 6 + [0.5] * 6))
    assert (surface.areas > 0).all()
    edges = mesh.rim
    inside = (edges >= 6).all(axis=1)
    # exit 10 + i lets water out between inner corners i and i + 1; the outer edges are dams
    first = np.where((edges.min(axis=1) == 6) & (edges.max(axis=1) == 11), 5, edges.min(axis=1) - 6)
    rim = Rim(edges, np.where(inside, 10 + first, DAM), np.full(edges.shape, -np.inf))
    crossed = np.array(flow_over(surface, rim, {}).side) == CROSS
    onward = [set(mesh.neighbors[facet][crossed[facet]].tolist()) for facet in range(12)]
    reached = set(onward[0])
    for _ in range(12):
        reached |= {after for facet in reached for after in onward[facet]}
    assert 0 in reached, "the facets do not feed each other in a ring"
    found = shares(surface, rim, {})
    assert found == {("exit", 10 + i): pytest.approx(1 / 6, abs=1e-3) for i in range(6)}
    assert sum(found.values()) == pytest.approx(1)


# --- trails ------------------------------------------------------------------------------------------------------


def test_trails_through_vertices_and_along_sides_end() -> None:
    grid = [(x, y) for x in range(1, 8) for y in range(1, 8)]
    surface = slab(8, 8, lambda x, y: 10 + 0.01 * y, spots=grid)
    rim = rim_of(surface, {SOUTH: 0})
    starts = [(x / 2, y / 2) for x in range(17) for y in range(17)]
    for start in starts:
        way = trail(surface, rim, {}, start)
        assert (way.kind, way.exit) == ("exit", 0)
        assert way.xy[0] == pytest.approx(start)
        assert way.xy[-1] == pytest.approx([start[0], 0], abs=1e-7)
        assert (np.diff(surface.height(way.xy)) <= 1e-9).all()


def test_a_trail_follows_a_dammed_edge() -> None:
    surface = slab(4, 10, lambda x, y: 10 + 0.01 * x + 0.01 * y)
    rim = rim_of(surface, {SOUTH: 0})
    way = trail(surface, rim, {}, (1, 9))
    assert way.xy[[0, -1]] == pytest.approx(np.array([[1, 9], [0, 0]]))
    assert np.hypot(*(way.xy - [0, 8]).T).min() == pytest.approx(0, abs=1e-9)
    assert (way.xy[way.xy[:, 1] < 7.99, 0] == 0).all()
    assert (way.kind, way.exit) == ("exit", 0)


def test_a_trail_starts_on_the_surface() -> None:
    surface = slab(4, 4, lambda x, y: 10 + 0.01 * y)
    with pytest.raises(GeometryError, match="start on the surface"):
        trail(surface, rim_of(surface, ALL_OPEN), {}, (5, 5))


def test_a_rim_that_does_not_belong_is_refused() -> None:
    surface = slab(4, 4, lambda x, y: 10 + 0.01 * y)
    with pytest.raises(GeometryError, match="not an edge of the mesh"):
        outlets(surface, Rim(np.array([[0, 0]]), np.array([1]), np.zeros((1, 2))), {})
    with pytest.raises(GeometryError, match="two ground heights"):
        outlets(surface, Rim(surface.mesh.rim, np.array([1]), np.zeros((1, 2))), {})
    nothing = Rim(np.empty((0, 2), dtype=np.int64), np.empty(0, dtype=np.int64), np.empty((0, 2)))
    (pond,) = standing(surface, nothing)
    assert pond.level == pytest.approx(10.04)  # no way out: up to the highest point


# --- independent references --------------------------------------------------------------------------------------


def rough(seed: int, count: int, size: float = 8.0, amount: float = 0.05) -> Surface:
    rng = np.random.default_rng(seed)
    places = 0.3 + rng.random((count, 2)) * (size - 0.6)
    heights = 10 + 0.01 * places[:, 1] + rng.random(count) * amount
    region = shapely.box(0, 0, size, size)
    if seed % 2:
        region = region.difference(shapely.box(3, 3, 4.5, 5))
    outline = np.array([[x, y, 10.02 + 0.01 * y + 0.002 * (size - x)] for x, y in region.exterior.coords])
    return build_surface(region, np.column_stack([places, heights]), [outline])


def grid_fill(height: Floats, outlets: Floats) -> Floats:
    """Priority flood of grid cells with eight neighbors; ``outlets`` is inf where water cannot leave."""
    level = np.full(height.shape, np.inf)
    queue = [(max(height[i], outlets[i]), i) for i in zip(*np.nonzero(np.isfinite(outlets)), strict=True)]
    heapq.heapify(queue)
    done = np.isnan(height)
    while queue:
        here, (i, j) = heapq.heappop(queue)
        if done[i, j]:
            continue
        done[i, j], level[i, j] = True, here
        for a in range(max(i - 1, 0), min(i + 2, len(height))):
            for b in range(max(j - 1, 0), min(j + 2, height.shape[1])):
                if not done[a, b]:
                    heapq.heappush(queue, (max(here, height[a, b]), (a, b)))
    return level


@pytest.mark.long
@pytest.mark.parametrize("seed", range(6))
def test_pond_volumes_agree_with_a_filled_grid(seed: int) -> None:
    """Source: a plain priority flood over a grid of 25 mm, independent of the facets."""
    surface = rough(seed, 25)
    rim = rim_of(surface, {SOUTH: 0} if seed < 3 else ALL_OPEN)
    found = standing(surface, rim)
    cells, step = 320, 8 / 320
    center = (np.arange(cells) + 0.5) * step
    x, y = np.meshgrid(center, center, indexing="ij")
    height = surface.height(np.column_stack([x.ravel(), y.ravel()])).reshape(cells, cells)
    outlets = np.full((cells, cells), np.inf)
    edge = lambda xy: surface.height(xy)  # noqa: E731
    outlets[:, 0] = edge(np.column_stack([center, np.zeros(cells)]))
    if seed >= 3:
        outlets[:, -1] = edge(np.column_stack([center, np.full(cells, 8.0)]))
        outlets[0, 1:-1] = edge(np.column_stack([np.zeros(cells), center]))[1:-1]
        outlets[-1, 1:-1] = edge(np.column_stack([np.full(cells, 8.0), center]))[1:-1]
    depth = grid_fill(height, outlets) - height
    volume = np.nansum(depth) * step**2
    assert len(found) > 0
    # cells miss the crest of a ridge by up to half their width, so they hold a little less or more: with seed 1 by
    # 5.2 % of the volume, and by 2.6 and 1.3 % with cells half and a quarter as wide
    assert sum(pond.volume for pond in found) == pytest.approx(volume, rel=0.055, abs=2e-4)
    assert max(pond.depth for pond in found) == pytest.approx(np.nanmax(depth), abs=1e-3)
    for pond in found:
        assert pond.outline.is_valid
        assert pond.outline.area == pytest.approx(pond.area, rel=1e-6)


def lowest_around(surface: Surface, places: Floats, step: float, directions: int) -> tuple[Floats, Floats]:
    """The lowest of so many places around each place, one step away, and its height."""
    turn = np.arange(directions) * 2 * np.pi / directions
    ring = places[:, None] + step * np.column_stack([np.cos(turn), np.sin(turn)])
    heights = surface.height(ring.reshape(-1, 2)).reshape(-1, directions)
    best = np.nanargmin(heights, axis=1)
    rows = np.arange(len(places))
    return ring[rows, best], heights[rows, best]


def drops(surface: Surface, places: Floats, step: float) -> Floats:
    """Where drops end that take short steps to the lowest place around: at rest, or at the south or east edge."""
    places = places.copy()
    moving = np.arange(len(places))
    for _ in range(3000):
        here = surface.height(places[moving])
        there, height = lowest_around(surface, places[moving], step, 24)
        stuck = height >= here - 1e-12
        if stuck.any():  # few directions miss the line of a narrow valley
            there[stuck], height[stuck] = lowest_around(surface, places[moving[stuck]], step, 1440)
        lower = height < here - 1e-12
        places[moving[lower]] = there[lower]
        moving = moving[lower]
        moving = moving[(places[moving, 0] < 8 - step) & (places[moving, 1] > step)]
        if not len(moving):
            return places
    raise AssertionError("a drop did not come to rest")


@pytest.mark.long
@pytest.mark.parametrize("seed", [0, 4, 10])
def test_shares_agree_with_drops_that_take_short_steps(seed: int) -> None:
    """Source: drops that know the height function alone, 20 mm at a time; no facets, no network of ways."""
    surface = rough(seed, 14, amount=0.12)
    rim = rim_of(surface, {SOUTH: 0, EAST: 1})
    found = standing(surface, rim)
    ours = shares(surface, rim, {})
    side = (np.arange(12) + 0.5) * 8 / 12
    starts = np.array([(x, y) for x in side for y in side])
    count: dict[tuple[str, int], int] = {}
    for x, y in drops(surface, starts, 0.02):
        lowest = surface.nearest_vertex((x, y))
        pond = [i for i, one in enumerate(found) if lowest in one.vertices]
        key = ("exit", 0) if y < 0.021 else ("exit", 1) if x > 7.979 else ("pond", pond[0])
        count[key] = count.get(key, 0) + 1
    assert len(ours) > 2
    for key in ours.keys() | count.keys():
        assert ours.get(key, 0) == pytest.approx(count.get(key, 0) / 12**2, abs=0.05)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(8))
def test_shares_agree_with_following_many_drops(seed: int) -> None:
    """Exact bands against trails from a fine grid of places."""
    surface = rough(seed, 30, amount=[0.0, 0.02, 0.1, 0.4][seed % 4])
    rim = rim_of(surface, {SOUTH: 0, EAST: 1} if seed % 3 else {NORTH: 2, WEST: 3})
    drains = {surface.nearest_vertex((5, 6)): 9} if seed % 2 else {}
    ours = shares(surface, rim, drains)
    side = (np.arange(40) + 0.5) * 8 / 40
    starts = [(x, y) for x in side for y in side if not np.isnan(surface.height(np.array([[x, y]]))[0])]
    count: dict[tuple[str, int], int] = {}
    for way in (trail(surface, rim, drains, start) for start in starts):
        assert (np.diff(surface.height(way.xy)) < 0.0006).all()
        key = (way.kind, way.exit if way.kind == "exit" else way.pond)
        count[key] = count.get(key, 0) + 1
    assert sum(ours.values()) == pytest.approx(1)
    for key in ours.keys() | count.keys():
        assert ours.get(key, 0) == pytest.approx(count.get(key, 0) / len(starts), abs=0.02)


def test_turning_and_shifting_a_slab_changes_no_share() -> None:
    surface = rough(4, 30, amount=0.1)
    rim = rim_of(surface, {SOUTH: 0, EAST: 1})
    found = standing(surface, rim)
    turn = np.array([[np.cos(2.1), -np.sin(2.1)], [np.sin(2.1), np.cos(2.1)]])
    moved = replace(surface.mesh, xy=surface.mesh.xy @ turn.T + [300, -40])
    again = Surface(moved, surface.z + 250)
    theirs = standing(again, rim)
    assert [pond.volume for pond in theirs] == pytest.approx([pond.volume for pond in found], rel=1e-6)
    before, after = shares(surface, rim, {}), shares(again, rim, {})
    assert after == {key: pytest.approx(share, abs=1e-6) for key, share in before.items()}


def test_a_large_surface_is_worked_in_seconds() -> None:
    """Near-linear growth: a flood and shares that grew with the square would take minutes here."""
    surface = rough(6, 8000, size=60.0)
    rim = rim_of(surface, ALL_OPEN)
    start = perf_counter()
    assert sum(shares(surface, rim, {}).values()) == pytest.approx(1)
    assert perf_counter() - start < 20
