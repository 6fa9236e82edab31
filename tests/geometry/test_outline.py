"""Outlines: arcs, rings, what keeps a ring from being a shape, distances, inside corners."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from slabwright.geometry import GeometryError
from slabwright.geometry.shape.arcs import CHORDS_OFF, arc_chords
from slabwright.geometry.shape.outline import build_ring, distances_along, inside_corners, stretch
from slabwright.geometry.shape.ring_faults import ring_faults
from specimens import FAULTY, SOUND


def moved(corners, turn=0.0, shift=(0.0, 0.0), mirror=False):
    sine, cosine = math.sin(turn), math.cos(turn)

    def put(point):
        if point is None:
            return None
        x, y = point[0], -point[1] if mirror else point[1]
        return (x * cosine - y * sine + shift[0], x * sine + y * cosine + shift[1])

    return [(put(at), put(through)) for at, through in corners]


# --- arcs ---


@settings(max_examples=300, deadline=None)
@given(
    center=st.tuples(st.floats(-100, 100), st.floats(-100, 100)),
    radius=st.floats(0.05, 200),
    start=st.floats(-3.2, 3.2),
    turn=st.one_of(st.floats(0.05, 6.2), st.floats(-6.2, -0.05)),
    share=st.floats(0.05, 0.95),
)
def test_chords_lie_near_the_arc_and_turn_with_it(center, radius, start, turn, share):
    def at(angle):
        return (center[0] + radius * math.cos(angle), center[1] + radius * math.sin(angle))

    through, end = at(start + share * turn), at(start + turn)
    points = arc_chords(at(start), through, end)
    assert tuple(points[-1]) == end
    assert (points == through).all(axis=1).sum() == 1
    whole = np.vstack([at(start), points])
    middles = (whole[1:] + whole[:-1]) / 2
    for spots in (whole, middles):
        assert np.abs(radius - np.hypot(*(spots - center).T)).max() <= CHORDS_OFF + 1e-6 * radius
    bearings = np.arctan2(*(whole - center).T[::-1])
    steps = np.remainder(np.diff(bearings) * np.sign(turn) + 1e-9, 2 * math.pi)
    assert steps.max() <= math.radians(10) + 1e-6
    # The chords turn the whole way round, and no farther.
    assert steps.sum() == pytest.approx(abs(turn), rel=1e-5)


def test_points_on_one_line_make_no_arc():
    assert arc_chords((0, 0), (1, 0), (3, 0)).tolist() == [[1, 0], [3, 0]]
    assert arc_chords((0, 0), (0, 0), (3, 0)).tolist() == [[0, 0], [3, 0]]


# --- rings ---


@pytest.mark.parametrize("name", SOUND)
def test_sound_outlines(name):
    corners, area, length, inside = SOUND[name]
    ring = build_ring(corners)
    assert ring_faults(ring) == []
    assert ring.polygon.is_valid
    assert ring.polygon.area == pytest.approx(area, rel=1e-9)
    assert ring.length == pytest.approx(length, rel=1e-9)
    assert ring.length == pytest.approx(ring.polygon.exterior.length, rel=1e-9 if not ring.arcs else 1e-3)
    assert ring.ccw == ring.polygon.exterior.is_ccw
    assert {index: degrees for index, _, degrees in inside_corners(ring, False)} == pytest.approx(inside)


@pytest.mark.parametrize("name", SOUND)
def test_rings_keep_the_typed_corners_in_order(name):
    corners = SOUND[name][0]
    ring = build_ring(corners)
    typed = [at for at, _ in corners]
    if len(typed) > 1 and typed[-1] == typed[0]:
        typed.pop()
    assert ring.xy[ring.corner >= 0].tolist() == [list(at) for at in typed]
    assert ring.corner[ring.corner >= 0].tolist() == list(range(len(typed)))
    assert ring.corner[0] == 0
    assert len(ring.along) == len(ring.xy) + 1
    for _, through in corners:
        assert through is None or (ring.xy == through).all(axis=1).any()


@pytest.mark.parametrize("name", FAULTY)
def test_faulty_outlines(name):
    corners, expected = FAULTY[name]
    found = [(fault.kind, fault.corners, fault.at) for fault in ring_faults(build_ring(corners))]
    assert len(found) == len(expected)
    for (kind, indices, at), (found_kind, found_indices, found_at) in zip(expected, found, strict=True):
        assert (found_kind, found_indices) == (kind, indices)
        # Arcs cross where their chords do: within the sagitta, times the slant of the crossing.
        assert found_at == (at if at is None else pytest.approx(at, abs=0.005))


def test_rings_of_nonsense_can_still_be_asked():
    assert inside_corners(build_ring(FAULTY["arc through its own chord"][0]), False) == []
    ring = build_ring(FAULTY["endless and huge"][0])
    assert ring.polygon.is_empty
    assert not ring.ccw
    assert not math.isfinite(ring.length)


corner_lists = st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=8, unique=True)


@settings(max_examples=400, deadline=None)
@given(points=corner_lists)
def test_a_ring_has_faults_exactly_when_the_library_finds_it_invalid(points):
    faults = ring_faults(build_ring([((float(x), float(y)), None) for x, y in points]))
    reference = shapely.Polygon(points)  # GEOS decides: simple, with an area
    assert (faults == []) == (reference.is_valid and reference.area > 0)


@settings(max_examples=200, deadline=None)
@given(
    points=corner_lists,
    turn=st.floats(0, 6.3),
    shift=st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    mirror=st.booleans(),
    first=st.integers(0, 7),
    backwards=st.booleans(),
)
def test_faults_and_inside_corners_move_with_the_outline(points, turn, shift, mirror, first, backwards):
    typed = [((float(x), float(y)), None) for x, y in points]
    other = typed[first % len(typed) :] + typed[: first % len(typed)]
    if backwards:
        other.reverse()
    place = {at: index for index, (at, _) in enumerate(typed)}
    renamed = [place[at] for at, _ in other]
    ring, twin = build_ring(typed), build_ring(moved(other, turn, shift, mirror))

    def named(faults, names):
        return sorted((fault.kind, tuple(sorted(names[index] for index in fault.corners))) for fault in faults)

    straight = list(range(len(typed)))
    assert named(ring_faults(ring), straight) == named(ring_faults(twin), renamed)
    if not ring_faults(ring):
        assert ring.polygon.area == pytest.approx(twin.polygon.area)
        for hole in (False, True):
            one = {index: degrees for index, _, degrees in inside_corners(ring, hole)}
            two = {renamed[index]: degrees for index, _, degrees in inside_corners(twin, hole)}
            assert one == pytest.approx(two)


@settings(max_examples=200, deadline=None)
@given(points=corner_lists)
def test_angles_of_a_ring_add_up(points):
    # The angles inside a simple polygon of n corners add up to (n - 2) x 180 degrees (Euclid, Elements I.32, porism).
    ring = build_ring([((float(x), float(y)), None) for x, y in points])
    assume(not ring_faults(ring))
    bent_in = {index: degrees for index, _, degrees in inside_corners(ring, False)}
    bent_out = {index: 360 - degrees for index, _, degrees in inside_corners(ring, True)}
    straight = len(points) - len(bent_in) - len(bent_out)
    assert not bent_in.keys() & bent_out.keys()
    total = sum(bent_in.values()) + sum(bent_out.values()) + 180 * straight
    assert total == pytest.approx((len(points) - 2) * 180)


def test_every_corner_of_a_square_opening_is_an_inside_corner():
    for corners in (SOUND["rectangle"][0], SOUND["clockwise rectangle"][0]):
        found = inside_corners(build_ring(corners), True)
        assert [(index, degrees) for index, _, degrees in found] == [(i, pytest.approx(270)) for i in range(4)]
        assert [at for _, at, _ in found] == [at for at, _ in corners]


def test_a_round_opening_has_no_inside_corners():
    assert inside_corners(build_ring(SOUND["disc of two arcs"][0]), True) == []


# --- along the ring ---


def test_distances_along_a_rectangle():
    ring = build_ring(SOUND["rectangle"][0])  # 6 by 4 from (0, 0), to the right first
    assert distances_along(ring, [(2, 0)])[0] == pytest.approx((2, 0))
    assert distances_along(ring, [(6, 4)])[0] == pytest.approx((10, 0))
    assert distances_along(ring, [(0, 1)])[0] == pytest.approx((19, 0))
    assert distances_along(ring, [(0, 0)])[0] == (0.0, 0.0)
    assert distances_along(ring, [(-3, -4)])[0] == pytest.approx((0, 5))
    assert distances_along(ring, [(3, 0.5)])[0] == pytest.approx((3, 0.5))
    clockwise = build_ring(SOUND["clockwise rectangle"][0])  # from (0, 4), to the right first
    assert distances_along(clockwise, [(6, 1)])[0] == pytest.approx((9, 0))


def test_stretches_of_a_rectangle():
    ring = build_ring(SOUND["rectangle"][0])
    assert stretch(ring, 1, 3).tolist() == [[1, 0], [3, 0]]
    assert stretch(ring, 5, 11).tolist() == [[5, 0], [6, 0], [6, 4], [5, 4]]
    assert stretch(ring, 19, 2).tolist() == [[0, 1], [0, 0], [2, 0]]
    assert stretch(ring, 19, 22).tolist() == [[0, 1], [0, 0], [2, 0]]
    assert stretch(ring, 6, 10).tolist() == [[6, 0], [6, 4]]
    assert stretch(ring, 0, 20).tolist() == [[0, 0], [6, 0], [6, 4], [0, 4], [0, 0]]
    assert stretch(ring, 7, 7).tolist() == [[6, 1], [6, 4], [0, 4], [0, 0], [6, 0], [6, 1]]


def test_a_stretch_of_no_ring_is_misuse():
    with pytest.raises(GeometryError, match="length"):
        stretch(build_ring([]), 0, 1)


@settings(max_examples=200, deadline=None)
@given(name=st.sampled_from(sorted(SOUND)), start=st.floats(0, 1), share=st.floats(0.01, 1))
def test_a_stretch_is_as_long_as_said_and_lies_on_the_ring(name, start, share):
    ring = build_ring(SOUND[name][0])
    start, reach = start * ring.length, share * ring.length
    xy = stretch(ring, start, start + reach)
    near = 2e-3 if ring.arcs else 1e-9  # the chords of an arc are not quite as long as the arc
    assert np.hypot(*np.diff(xy, axis=0).T).sum() == pytest.approx(reach, abs=1e-6, rel=near)
    assert np.hypot(*np.diff(xy, axis=0).T).min() > 0
    line = shapely.LinearRing(ring.xy)
    for point in xy:
        assert line.distance(shapely.Point(point)) == pytest.approx(0, abs=1e-9)
    # The library reckons the same distance to its first point.
    along = line.project(shapely.Point(xy[0]))
    off = min(abs(along - start % ring.length), ring.length - abs(along - start % ring.length))
    assert off < (near * ring.length if ring.arcs else 1e-6)
    assert distances_along(ring, [tuple(xy[0])])[0][1] == pytest.approx(0, abs=1e-9)


def test_places_along_a_ring_are_those_shapely_finds():
    chance = np.random.default_rng(5)
    corners = [(0.0, 0.0), (8.0, 0.0), (8.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0)]
    ring = build_ring([(corner, None) for corner in corners])
    points = np.concatenate([chance.uniform(-2, 10, (300, 2)), np.array(corners), [[np.nan, 1.0]]])
    along, offset = np.array(distances_along(ring, [(x, y) for x, y in points.tolist()])).T
    line = shapely.LineString([*corners, corners[0]])
    assert np.allclose(offset[:-1], shapely.distance(shapely.points(points[:-1]), line), atol=1e-12)
    on_ring = shapely.line_interpolate_point(line, along[:-1])
    assert np.allclose(shapely.distance(on_ring, shapely.points(points[:-1])), offset[:-1], atol=1e-9)
    assert np.isnan(along[-1]) and np.isnan(offset[-1])
    assert along[300:306].tolist() == [0.0, 8.0, 11.0, 16.0, 19.0, 22.0]


def test_a_ring_without_fault_is_a_simple_polygon_to_shapely_and_one_with_a_fault_is_none_or_next_to_none():
    chance = np.random.default_rng(3)
    rings = []
    for number in range(300):  # sound ones, and such as touch, cross, double back or fold onto themselves
        count = int(chance.integers(3, 9))
        corners = chance.integers(0, 5, (count, 2)) if number % 2 else chance.uniform(0, 5, (count, 2))
        rings.append(build_ring([((float(x), float(y)), None) for x, y in corners]))
    sound = [not ring_faults(ring) for ring in rings]
    assert 50 < sum(sound) < 250
    for ring, without in zip(rings, sound, strict=True):
        shape = ring.polygon
        if without:
            assert shape.is_valid and shape.area > 0 and shape.minimum_clearance > 1e-6
        else:
            near = shape.is_valid and shape.minimum_clearance > 0.001 and len(set(ring.points)) == len(ring.points)
            assert not near or any(fault.kind == "spike" for fault in ring_faults(ring))
