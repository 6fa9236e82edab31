"""Edges: runs laid along an outline."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from slabwright.geometry.shape.edges import lay_runs
from slabwright.geometry.shape.outline import build_ring, stretch
from specimens import SOUND

# An L: A (0, 0), B (6, 0), C (6, 4), D (2, 4), E (2, 2), F (0, 2); A at 0, B 6, C 10, D 14, E 16, F 18, round 20.
L = build_ring(SOUND["L"][0])
A, B, C, D, E, F = (0, 0), (6, 0), (6, 4), (2, 4), (2, 2), (0, 2)


def lay(*runs, ring=L, **keywords):
    return lay_runs(ring, [np.array(run, dtype=float) for run in runs], **keywords)


def spans(layout):
    return [(piece.run, pytest.approx(piece.start), pytest.approx(piece.end)) for piece in layout.pieces]


def faults(layout):
    return [(f.run, f.kind, f.point, f.other, pytest.approx(f.distance)) for f in layout.faults]


CASES = {
    "no run": ([], [(None, 0, 20)]),
    "one side": ([[A, B]], [(0, 0, 6), (None, 6, 20)]),
    "one side, typed backwards": ([[B, A]], [(0, 0, 6), (None, 6, 20)]),
    "the last side": ([[F, A]], [(None, 0, 18), (0, 18, 20)]),
    "the last side, typed backwards": ([[A, F]], [(None, 0, 18), (0, 18, 20)]),
    "part of a side": ([[(1, 0), (4, 0)]], [(0, 1, 4), (None, 4, 21)]),
    "part of a side, typed backwards": ([[(4, 0), (1, 0)]], [(0, 1, 4), (None, 4, 21)]),
    "part of a side up to a corner": ([[(4, 0), B]], [(0, 4, 6), (None, 6, 24)]),
    "two points over a corner": ([[A, C]], [(0, 0, 10), (None, 10, 20)]),
    "over two corners": ([[B, E]], [(0, 6, 16), (None, 16, 26)]),
    "from before the first corner": ([[F, B]], [(None, 6, 18), (0, 18, 26)]),
    "two points over the first corner": ([[(0, 1), (1, 0)]], [(None, 1, 19), (0, 19, 21)]),
    "all of it in two": ([[A, C], [C, A]], [(0, 0, 10), (1, 10, 20)]),
    "the other way round in file order": ([[C, D], [A, B]], [(1, 0, 6), (None, 6, 10), (0, 10, 14), (None, 14, 20)]),
    "a hair off the corner": ([[(0.008, 0), (5.995, -0.005)]], [(0, 0, 6), (None, 6, 20)]),
    "neighbors a hair apart": ([[A, (3, 0)], [(3.006, 0), B]], [(0, 0, 3), (1, 3, 6), (None, 6, 20)]),
}


@pytest.mark.parametrize("name", CASES)
def test_runs_lie_where_they_were_drawn(name):
    runs, expected = CASES[name]
    layout = lay(*runs)
    assert expected == spans(layout)
    assert layout.faults == ()
    for piece in layout.pieces:
        assert piece.xy.tolist() == stretch(L, piece.start, piece.end).tolist()


FAULTS = {
    "off the outline": (
        [[A, (6, -0.5)]], [(0, "off the outline", 1, -1, 0.5)], [(None, 0, 20)],
    ),
    "off the outline at both ends": (
        [[(3, 1), (7, 4)]],
        [(0, "off the outline", 0, -1, 1.0), (0, "off the outline", 1, -1, 1.0)],
        [(None, 0, 20)],
    ),
    "on each other": (
        [[A, C], [B, D]], [(1, "overlaps", 0, 0, 4.0)], [(0, 0, 10), (1, 10, 14), (None, 14, 20)],
    ),
    "the same twice": (
        [[A, B], [B, A]], [(1, "overlaps", 0, 0, 6.0)], [(0, 0, 6), (None, 6, 20)],
    ),
    "within another": (
        [[(1, 0), (2, 0)], [A, B]],
        [(1, "overlaps", 0, 0, 1.0)],
        [(1, 0, 1), (0, 1, 2), (1, 2, 6), (None, 6, 20)],
    ),
    "over two others": (
        [[A, B], [C, D], [(5, 0), (4, 4)]],
        [(2, "overlaps", 0, 0, 1.0), (2, "overlaps", 0, 1, 2.0)],
        [(0, 0, 6), (2, 6, 10), (1, 10, 14), (None, 14, 20)],
    ),
    "both ends at one place": (
        [[B, B]], [(0, "wrong way round?", 1, -1, 0.0)], [(None, 0, 20)],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_runs_that_do_not_lie_as_typed(name):
    runs, told, expected = FAULTS[name]
    layout = lay(*runs)
    assert told == faults(layout)
    assert expected == spans(layout)


def test_not_a_number_is_off_the_outline():
    layout = lay([A, (math.nan, 0)])
    assert [(fault.kind, fault.point) for fault in layout.faults] == [("off the outline", 1)]


def test_runs_along_arcs():
    ring = build_ring(SOUND["rounded end"][0])  # (0, 0), (6, 0), round to (6, 4), (0, 4)
    layout = lay([(6, 0), (6, 4)], ring=ring)
    assert [piece.run for piece in layout.pieces] == [0, None]
    assert layout.pieces[0].end - layout.pieces[0].start == pytest.approx(2 * math.pi, rel=1e-3)
    assert layout.faults == ()
    # The top of the arc lies 2 m beyond the straight part: a run may start there, and go on to the next corner.
    layout = lay([(8, 2), (6, 4)], ring=ring)
    assert [piece.run for piece in layout.pieces] == [0, None]
    assert layout.pieces[0].end - layout.pieces[0].start == pytest.approx(math.pi, rel=1e-3)
    # A point between two chords, on the true arc, is within the tolerance.
    spot = (6 + 2 * math.cos(0.1234), 2 + 2 * math.sin(0.1234))
    assert lay([(6, 0), spot], ring=ring).faults == ()


def test_an_arc_typed_backwards_is_asked_about():
    # From the end of the arc to its start the outline goes round the rest; one curved side back is likelier meant.
    ring = build_ring(SOUND["rounded end"][0])
    layout = lay([(6, 4), (6, 0)], ring=ring)
    assert [(fault.kind, fault.point) for fault in layout.faults] == [("wrong way round?", 1)]
    assert layout.faults[0].distance == pytest.approx(2 * math.pi, rel=1e-3)


def test_half_a_disc_has_an_arc_and_a_straight_side_between_the_same_corners():
    ring = build_ring(SOUND["half disc"][0])  # an arc to (4, 0), straight back to (0, 0)
    for run in ([(0, 0), (4, 0)], [(4, 0), (0, 0)]):
        (piece,) = [piece for piece in lay(run, ring=ring).pieces if piece.run == 0]
        assert tuple(piece.xy[0]) == run[0]
        assert tuple(piece.xy[-1]) == run[1]


# --- what holds for any layout ---

rings = st.sampled_from(sorted(SOUND))
runs = st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), max_size=6)


def on_ring(ring, shares):
    return np.array([stretch(ring, share * ring.length, share * ring.length + 1e-3)[0] for share in shares])


@settings(max_examples=200, deadline=None)
@given(name=rings, shares=runs)
def test_pieces_cover_the_ring_once_in_order(name, shares):
    ring = build_ring(SOUND[name][0])
    layout = lay_runs(ring, [on_ring(ring, run) for run in shares])
    pieces = layout.pieces
    assert 0 <= pieces[0].start < ring.length
    assert pieces[-1].end == pytest.approx(pieces[0].start + ring.length)
    for one, two in zip(pieces, (*pieces[1:], pieces[0]), strict=True):
        assert one.end > one.start
        assert one.end % ring.length == pytest.approx(two.start % ring.length)
        assert one.xy[-1] == pytest.approx(two.xy[0])
        near = 2e-3 if ring.arcs else 1e-9  # the chords of an arc are not quite as long as the arc
        assert np.hypot(*np.diff(one.xy, axis=0).T).sum() == pytest.approx(one.end - one.start, abs=1e-6, rel=near)
        assert len(pieces) == 1 or one.run != two.run
    whole = np.vstack([piece.xy[:-1] for piece in pieces])
    assert shapely.Polygon(whole).area == pytest.approx(ring.polygon.area, rel=1e-9)
    laid = {piece.run for piece in pieces} - {None}
    hidden = {fault.run for fault in layout.faults}
    assert laid | hidden == set(range(len(shares)))


@settings(max_examples=150, deadline=None)
@given(
    shares=st.lists(st.tuples(st.integers(0, 39), st.integers(0, 39)), max_size=5),
    turn=st.floats(0, 6.3),
    shift=st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    mirror=st.booleans(),
    first=st.integers(0, 5),
)
def test_layouts_move_with_the_outline_and_do_not_mind_its_first_corner(shares, turn, shift, mirror, first):
    across = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    if mirror:
        across = np.diag([1.0, -1.0]) @ across
    drawn = [on_ring(L, [share / 40 for share in run]) for run in shares]
    corners = (np.roll(L.xy, -first, axis=0) @ across + shift).tolist()
    twin = build_ring([((x, y), None) for x, y in corners])
    one = lay_runs(L, drawn)
    two = lay_runs(twin, [run @ across + shift for run in drawn])

    def told(layout, back):
        pieces = [
            (-1 if piece.run is None else piece.run, *np.round(back(piece.xy)[[0, -1]].ravel(), 4).tolist())
            for piece in layout.pieces
            if len(layout.pieces) > 1
        ]
        return sorted(pieces), [(fault.run, fault.kind, fault.point, fault.other) for fault in layout.faults]

    plain, turned = told(one, lambda xy: xy), told(two, lambda xy: (xy - shift) @ across.T)
    assert plain[1] == turned[1]
    assert len(plain[0]) == len(turned[0])
    for a, b in zip(plain[0], turned[0], strict=True):
        assert a == pytest.approx(b, abs=2e-4)
