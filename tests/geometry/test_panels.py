"""Panels: known layouts, joint ends, and what must hold for any layout."""

from __future__ import annotations

import math
import time

import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from slabwright.geometry import GeometryError
from slabwright.geometry.joints.measure import smallest_rectangles
from slabwright.geometry.joints.panels import PanelLayout, cut
from slabwright.geometry.shape.outline import build_ring
from specimens import JOINTS, PIT, SLAB, SOUND

PITTED = shapely.Polygon(SLAB, [PIT])
INCH = 0.0254


def lines(*joints):
    return [np.array(joint, dtype=float) for joint in joints]


def polygon(name):
    return build_ring(SOUND[name][0]).polygon


SHAPES = {
    "rectangle": polygon("rectangle"),
    "L": polygon("L"),
    "U": polygon("U"),
    "rounded end": polygon("rounded end"),
    "bite out of a side": polygon("bite out of a side"),
    "disc": polygon("disc of two arcs"),
    "with a pit": PITTED,
}


# --- known layouts ---


def test_a_slab_without_joints_is_one_panel():
    (panel,) = cut(PITTED, []).panels
    assert panel.area == pytest.approx(19.0)  # 6 x 4 less 2 x 2 less the pit
    assert (panel.long_side, panel.short_side, panel.aspect) == pytest.approx((6.0, 4.0, 1.5))
    assert sorted(round(degrees) for _, degrees in panel.corners) == [90] * 5 + [270] * 5
    assert panel.neighbors == panel.joints == ()


def test_four_panels_by_hand():
    # 6 m x 4 m cut at x = 2 and y = 1: 2 x 3 and 4 x 3 above, 2 x 1 and 4 x 1 below.
    layout = cut(SHAPES["rectangle"], lines([(2, 0), (2, 4)], [(0, 1), (6, 1)]))
    assert [panel.area for panel in layout.panels] == pytest.approx([6, 12, 2, 4])
    assert [(panel.long_side, panel.short_side) for panel in layout.panels] == [(3, 2), (4, 3), (2, 1), (4, 1)]
    assert [panel.aspect for panel in layout.panels] == pytest.approx([1.5, 4 / 3, 2, 4])
    # Panels that only touch at a corner are no neighbors.
    assert [panel.neighbors for panel in layout.panels] == [(1, 2), (0, 3), (0, 3), (1, 2)]
    assert [panel.joints for panel in layout.panels] == [(0, 1)] * 4
    assert all([degrees for _, degrees in panel.corners] == pytest.approx([90] * 4) for panel in layout.panels)
    assert [joint.length for joint in layout.joints] == pytest.approx([4, 6])


def test_a_tee_makes_no_corner_in_the_panel_beyond():
    layout = cut(SHAPES["rectangle"], lines([(0, 2), (6, 2)], [(3, 0), (3, 2)]))
    assert [len(panel.corners) for panel in layout.panels] == [4, 4, 4]
    assert layout.panels[0].neighbors == (1, 2)


def test_a_panel_round_a_panel_is_its_neighbor():
    layout = cut(SHAPES["rectangle"], lines([(1, 1), (3, 1), (3, 3), (1, 3), (1, 1)]))
    assert sorted(panel.area for panel in layout.panels) == pytest.approx([4, 20])
    assert [panel.neighbors for panel in layout.panels] == [(1,), (0,)]
    (ring,) = layout.joints
    assert [(end.meets, end.other) for end in ring.ends] == [("joint end", 0)] * 2


def test_a_joint_from_an_edge_to_an_opening_does_not_part_the_slab():
    layout = cut(PITTED, lines([(2, 3), (4, 3)]))
    assert [panel.area for panel in layout.panels] == pytest.approx([19.0])
    assert [end.meets for end in layout.joints[0].ends] == ["edge", "opening"]


def test_corner_angles_of_a_slant():
    # From (0, 0) to (6, 4): atan(4 / 6) = 33.690 degrees, twice, and what is left of a right angle, twice.
    layout = cut(SHAPES["rectangle"], lines([(0, 0), (6, 4)]))
    for panel in layout.panels:
        assert sorted(degrees for _, degrees in panel.corners) == pytest.approx([33.690068, 56.309932, 90.0])


def test_points_of_an_arc_are_no_corners():
    layout = cut(SHAPES["disc"], lines([(2, -3), (2, 3)], [(-1, 0), (5, 0)]))
    assert len(layout.panels) == 4
    for panel in layout.panels:
        # A quarter disc: the right angle at the center, and 90 degrees between a radius and the arc.
        assert len(panel.corners) == 3
        assert [degrees for _, degrees in panel.corners] == pytest.approx([90] * 3, abs=3)
        assert panel.area == pytest.approx(math.pi, rel=2e-3)


def test_reading_order_keeps_rows_together_through_noise():
    # Three by three, drawn a little out of square; names run like a page: top row first, from the left.
    jitter = np.random.default_rng(7).uniform(-1e-3, 1e-3, size=(4, 2))
    joints = lines(
        [(2, 0), (2, 4)] + jitter[0][:, None] * [[1, 0]],
        [(4, 0), (4, 4)] + jitter[1][:, None] * [[1, 0]],
        [(0, 1.3), (6, 1.3)] + jitter[2][:, None] * [[0, 1]],
        [(0, 2.6), (6, 2.6)] + jitter[3][:, None] * [[0, 1]],
    )
    panels = cut(SHAPES["rectangle"], joints).panels
    places = [panel.polygon.centroid for panel in panels]
    assert [(round(at.x), round(at.y / 1.3 - 0.5)) for at in places] == [(x, y) for y in (2, 1, 0) for x in (1, 3, 5)]


# --- joint ends ---


@pytest.mark.parametrize("name", JOINTS)
def test_ends_of_joints(name):
    joints, expected = JOINTS[name]
    layout = cut(PITTED, lines(*joints))
    found = [
        (part.joint, *((end.meets, end.other, pytest.approx(end.gap, abs=2e-6)) for end in part.ends))
        for part in layout.joints
    ]
    assert expected == found
    assert layout.unused == tuple(index for index in range(len(joints)) if index not in {part[0] for part in expected})
    assert sum(panel.area for panel in layout.panels) == pytest.approx(19.0, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "areas"),
    [  # of 19 m2: by hand
        ("edge to edge", [8, 11]),
        ("an inch short at both ends", [8, 11]),
        ("a micron short", [8, 11]),
        ("a micron short and slanting", [2.5 + 0.5e-6, 16.5 - 0.5e-6]),
        ("a foot short", [19]),
        ("an inch from the inside corner", [7, 12]),
        ("two from the inside corner", [4, 7, 8]),
        ("along an edge, then through", [7, 12]),
        ("tee an inch short", [3, 3, 13]),
        ("tee an inch long", [3, 3, 13]),
        ("four-way of four ends, each an inch short", [3, 3, 5, 8]),
        ("bend of two joints, each an inch short", [3, 16]),
        ("end to end with an inch between", [8, 11]),
        ("typed twice", [8, 11]),
        ("lying on each other", [8, 11]),
        ("along an edge", [19]),
        ("out, in and out again", [3, 16]),
    ],
)
def test_panels_of_joints_drawn_by_hand(name, areas):
    layout = cut(PITTED, lines(*JOINTS[name][0]))
    assert sorted(panel.area for panel in layout.panels) == pytest.approx(areas, rel=1e-9)


def test_three_joints_through_one_point_leave_no_sliver():
    # Turned by odd angles, so that no two of the three crossings come out alike in the last bits.
    for angle in np.linspace(0.1, 3.0, 23):
        spokes = [angle, angle + 1.0, angle + 2.2]
        joints = lines(
            *([(2 - 3 * math.cos(a), -3 * math.sin(a)), (2 + 3 * math.cos(a), 3 * math.sin(a))] for a in spokes)
        )
        layout = cut(SHAPES["disc"], joints)
        assert len(layout.panels) == 6
        assert all(len(panel.neighbors) == 2 for panel in layout.panels)


def test_a_joint_follows_the_joint_it_stops_at():
    # The upright is drawn an inch and a half short and askew of the inside corner, which draws it to itself; the two
    # that stop at it must still do so.
    joints = lines([(2.03, 0), (2.03, 1.98)], [(0, 1), (2.03, 1)], [(6, 1.2), (2.03, 1.2)])
    layout = cut(PITTED, joints)
    assert [part.ends[1].meets for part in layout.joints] == ["edge", "joint side", "joint side"]
    assert len(layout.panels) == 4
    assert layout.joints[0].ends[1].at == (2.0, 2.0)


def test_snap_is_a_limit():
    def ends(gap):
        return [end.meets for end in cut(PITTED, lines([(3, 0), (3, 4 - gap)])).joints[0].ends]

    assert ends(0.0507) == ["edge", "edge"]
    assert ends(0.0509) == ["edge", "nothing"]


def test_misuse_is_refused():
    with pytest.raises(GeometryError, match="valid polygon"):
        cut(shapely.Polygon([(0, 0), (4, 0), (0, 4), (4, 4)]), [])
    with pytest.raises(GeometryError, match="valid polygon"):
        cut(shapely.Polygon(), [])
    for joint in ([(0, 0)], [(0, 0), (math.nan, 1)], [(0, 0, 0), (1, 1, 1)]):
        with pytest.raises(GeometryError, match="two finite points"):
            cut(PITTED, [np.array(joint, dtype=float)])


# --- what holds for any layout ---

# Eighths of a foot and odd fractions alike; joints may lie anywhere in and around the shapes.
coordinate = st.one_of(st.integers(-8, 80).map(lambda n: n / 8), st.floats(-1, 10))
joint = st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=3).map(
    lambda points: np.array(points, dtype=float)
)
layouts = st.lists(joint, max_size=7)
shapes = st.sampled_from(sorted(SHAPES)).map(SHAPES.__getitem__)


@settings(max_examples=100, deadline=None)
@given(slab=shapes, joints=layouts)
def test_panels_tile_the_slab(slab, joints):
    layout = cut(slab, joints)
    panels = [panel.polygon for panel in layout.panels]
    assert sum(panel.area for panel in layout.panels) == pytest.approx(slab.area, rel=1e-9)
    assert shapely.union_all(panels).area == pytest.approx(slab.area, rel=1e-6)
    assert all(shapely.is_valid(panels))


@settings(max_examples=100, deadline=None)
@given(slab=shapes, joints=layouts)
def test_joints_stay_inside_and_part_panels(slab, joints):
    layout = cut(slab, joints)
    room = slab.buffer(1e-5)
    for part in layout.joints:
        line = shapely.LineString(part.xy)
        assert room.covers(line)
        assert part.length == pytest.approx(line.length)
        assert part.ends[0].at == tuple(part.xy[0])
        assert part.ends[1].at == tuple(part.xy[-1])
        for end in part.ends:
            away = slab.boundary.distance(shapely.Point(end.at))
            assert away <= 1e-6 if end.meets in ("edge", "opening") else away >= 0.4e-6
    for index, panel in enumerate(layout.panels):
        assert all(index in layout.panels[other].neighbors for other in panel.neighbors)


@settings(max_examples=100, deadline=None)
@given(slab=shapes, joints=st.lists(joint, max_size=5))
def test_panels_agree_with_another_way_of_cutting(slab, joints):
    # Reference: shapely's own overlay noding of the joints as they came out, each carried a hair past its ends.
    layout = cut(slab, joints)
    drawn = [slab.boundary]
    for part in layout.joints:
        xy = part.xy.copy()
        for end, inner in ((0, 1), (-1, -2)):
            step = xy[end] - xy[inner]
            xy[end] += step / np.hypot(*step) * 1e-5
        drawn.append(shapely.LineString(xy))
    pieces = shapely.get_parts(shapely.polygonize([shapely.union_all(drawn, grid_size=1e-6)]))
    pieces = [piece.area for piece in pieces if slab.contains(piece.point_on_surface()) and piece.area > 1e-3]
    areas = [panel.area for panel in layout.panels if panel.area > 1e-3]
    assume(len(pieces) < 2 or min(pieces) > 2e-3)
    assert sorted(areas) == pytest.approx(sorted(pieces), abs=1e-3)


@settings(max_examples=100, deadline=None)
@given(slab=shapes, joints=layouts)
def test_neighbors_share_a_side(slab, joints):
    layout = cut(slab, joints)
    panels = layout.panels
    for one in range(len(panels)):
        for two in range(one + 1, len(panels)):
            shared = panels[one].polygon.boundary.intersection(panels[two].polygon.boundary).length
            if shared > 1e-5:
                assert two in panels[one].neighbors
            elif panels[one].polygon.distance(panels[two].polygon) > 1e-5:
                assert two not in panels[one].neighbors


def caliper(xy):
    """Area of the smallest rectangle by turning each side of scipy's hull flat (independent of the program)."""
    hull = xy[ConvexHull(xy).vertices]
    best = math.inf
    for step in np.roll(hull, -1, axis=0) - hull:
        turn = math.atan2(step[1], step[0])
        flat = hull @ np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        best = min(best, float(np.prod(np.ptp(flat, axis=0))))
    return best


@settings(max_examples=100, deadline=None)
@given(slab=shapes, joints=layouts)
def test_smallest_rectangles_agree_with_rotating_calipers(slab, joints):
    for panel in cut(slab, joints).panels:
        if panel.area < 1e-3:
            continue
        assert panel.long_side >= panel.short_side > 0
        assert panel.aspect == pytest.approx(panel.long_side / panel.short_side)
        xy = shapely.get_coordinates(panel.polygon.exterior)[:-1]
        assert panel.long_side * panel.short_side == pytest.approx(caliper(xy), rel=1e-6)
        longest = shapely.minimum_bounding_radius(panel.polygon) * 2
        assert panel.long_side <= longest * (1 + 1e-9)


def test_of_equally_small_rectangles_the_squarest_is_taken():
    # Every side of a triangle carries a rectangle of twice its area; a 3-4-5 one is called 3 by 4 all the same.
    for turn in np.linspace(0, 3, 17):
        across = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
        (panel,) = cut(shapely.Polygon(np.array([(0, 0), (4, 0), (0, 3)]) @ across), []).panels
        assert (panel.long_side, panel.short_side) == pytest.approx((4, 3))


def told(layout: PanelLayout, back=None):
    """What a layout says, free of place and order: turned back to where it was drawn."""
    put = back or (lambda xy: xy)
    panels = sorted(
        (
            tuple(np.round(put(shapely.get_coordinates(panel.polygon.centroid))[0], 6) + 0.0),
            round(panel.area, 6),
            round(panel.long_side, 6),
            round(panel.short_side, 6),
            tuple(sorted(round(degrees, 4) for _, degrees in panel.corners)),
            len(panel.neighbors),
            len(panel.joints),
        )
        for panel in layout.panels
    )
    ends = sorted(
        (*(np.round(put(np.array([end.at]))[0], 6) + 0.0), end.meets, round(end.gap, 6))
        for part in layout.joints
        for end in part.ends
    )
    return panels, ends


def close(one, two):
    return len(one) == len(two) and all(
        close(a, b)
        if isinstance(a, tuple | list)
        else a == b
        if isinstance(a, str)
        else a == pytest.approx(b, abs=3e-5)
        for a, b in zip(one, two, strict=True)
    )


grid = st.integers(-1, 19).map(lambda n: n / 2)
tidy_joint = st.tuples(grid, grid, grid, grid).map(lambda q: np.array([q[:2], q[2:]], dtype=float))


@settings(max_examples=100, deadline=None)
@given(
    slab=shapes,
    joints=st.lists(tidy_joint, max_size=6),
    turn=st.floats(0, 6.3),
    shift=st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    mirror=st.booleans(),
    order=st.randoms(use_true_random=False),
)
def test_turned_mirrored_shifted_and_renumbered_slabs_give_the_same(slab, joints, turn, shift, mirror, order):
    across = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    if mirror:
        across = np.diag([1.0, -1.0]) @ across

    def move(xy):
        return xy @ across + shift

    def back(xy):
        return (xy - shift) @ across.T

    shuffled = [joint[::-1] if order.random() < 0.5 else joint for joint in joints]
    order.shuffle(shuffled)
    plain = told(cut(slab, joints))
    moved = told(cut(shapely.transform(slab, move), [move(joint) for joint in shuffled]), back)
    assert close(sorted(p[1:] for p in plain[0]), sorted(p[1:] for p in moved[0]))
    assert sorted(e[2] for e in plain[1]) == sorted(e[2] for e in moved[1])


# --- speed ---


def grid_of(count):
    side = float(count)
    ticks = np.arange(1.0, count)
    joints = [np.array([(x, 0.0), (x, side)]) for x in ticks] + [np.array([(0.0, y), (side, y)]) for y in ticks]
    return shapely.box(0, 0, side, side), joints


def seconds(count):
    slab, joints = grid_of(count)
    start = time.process_time()
    layout = cut(slab, joints)
    spent = time.process_time() - start
    assert len(layout.panels) == count**2
    assert sum(panel.area for panel in layout.panels) == pytest.approx(count**2, rel=1e-9)
    assert layout.panels[count + 1].neighbors == (1, count, count + 2, 2 * count + 1)
    return spent


def test_five_thousand_panels_are_quick_and_more_grow_in_step():
    small = seconds(71)
    assert small < 1.5
    assert seconds(142) < max(small, 0.1) * 4 * 2.5


def test_the_smallest_rectangle_of_a_box_is_the_box():
    turns = np.radians(np.arange(0, 90, 7.0))
    boxes = [shapely.affinity.rotate(shapely.box(0, 0, 3, 2), angle, use_radians=True) for angle in turns]
    assert np.allclose(smallest_rectangles(np.array(boxes)), (3.0, 2.0), atol=1e-12)


@pytest.mark.parametrize("count", [3, 4, 5, 12, 60, 400])
def test_the_smallest_rectangle_is_that_shapely_finds(count):
    # shapely.minimum_rotated_rectangle, and for points on a circle of radius 5 m the circle's own square
    chance = np.random.default_rng(count)
    shapes = [shapely.convex_hull(shapely.MultiPoint(chance.normal(0, 3, (count, 2)))) for _ in range(20)]
    shapes += [shapely.affinity.rotate(shapes[0], angle) for angle in (17.0, 90.0, 211.0)]
    if count > 12:
        turns = np.sort(chance.uniform(0, 2 * np.pi, count))
        shapes.append(shapely.Polygon(5 * np.column_stack([np.cos(turns), np.sin(turns)])))
    found = smallest_rectangles(np.array(shapes))
    assert [long * short for long, short in found] == pytest.approx(
        [shapely.minimum_rotated_rectangle(shape).area for shape in shapes], rel=1e-9
    )
