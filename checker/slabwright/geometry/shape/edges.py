"""Edges: runs of named things laid along an outline, so that every stretch of it belongs to one of them or to none.

Coordinates and distances are meters; distances run along the ring in typed order from its first corner.
"""

import math
from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np

from slabwright.geometry.shape.arcs import Floats
from slabwright.geometry.shape.outline import HAIR, Ring, distances_along, stretch

ON_RING = 0.01  # m: a point so near to the ring counts as on it
Span = tuple[int, float, float]  # a run, and the distances along the ring from which to which it lies


class Piece(NamedTuple):
    """A stretch of the ring: ``end`` is past the length of the ring where it goes on over the first corner."""

    start: float
    end: float
    xy: Floats  # (k, 2), in typed order of the ring
    run: int | None


class RunFault(NamedTuple):
    """A run that does not lie as typed.

    ``point`` is the index of the point in the run that shows it, ``other`` the run it overlaps (-1: none).
    ``distance`` is how far off the outline the point lies, or how long the overlap is.
    "wrong way round?" is a run that is likelier meant from its end to its start (it is laid all the same), or one whose
    ends lie at one place (it is not laid).
    """

    run: int
    kind: Literal["off the outline", "overlaps", "wrong way round?"]
    point: int
    other: int
    distance: float


class Layout(NamedTuple):
    """Pieces that cover the ring once, in order of their starts; overlaps belong to the run typed first."""

    pieces: tuple[Piece, ...]
    faults: tuple[RunFault, ...]


def lay_runs(ring: Ring, runs: Sequence[Floats]) -> Layout:
    """Lay each run, its two ends (2, 2), along the ring from the first to the second in typed order of the outline.

    Points within a centimeter of the ring count as on it, and as at a corner, or at another run's point, that near.
    A run typed against the order of the outline is accepted where it lies on one straight side.
    """
    if not runs:
        return Layout((Piece(0.0, ring.length, stretch(ring, 0.0, ring.length), None),), ())
    placed = distances_along(ring, [(x, y) for x, y in np.concatenate(runs).tolist()])
    found, off_ring = _drawn_together(ring, [along for along, _ in placed]), [off for _, off in placed]
    faults: list[RunFault] = []
    spans: list[Span] = []
    ends = zip(zip(found[::2], found[1::2], strict=True), zip(off_ring[::2], off_ring[1::2], strict=True), strict=True)
    for index, ((start, end), offsets) in enumerate(ends):
        off = [k for k, away in enumerate(offsets) if not away <= ON_RING]
        if off:
            faults += [RunFault(index, "off the outline", k, -1, offsets[k]) for k in off]
            continue
        span, fault = _span(ring, index, start, end)
        if span is not None:
            spans.append((index, *span))
        if fault is not None:
            faults.append(fault)
    pieces, overlaps = _pieces(ring, spans)
    return Layout(pieces, tuple(sorted(faults + overlaps, key=lambda fault: (fault.run, fault.point, fault.other))))


def _drawn_together(ring: Ring, along: Sequence[float]) -> list[float]:
    """Distances within a centimeter of a typed corner made the corner's; others that near each other made one."""
    corners = [mark for mark, corner in zip(ring.along, ring.corner.tolist(), strict=False) if corner >= 0]
    corners.append(ring.length)
    drawn, loose = list(along), []
    for row, distance in enumerate(along):
        after = min(max(bisect_left(corners, distance), 1), len(corners) - 1)
        near = min(corners[after - 1], corners[after], key=lambda corner: abs(corner - distance))
        if abs(near - distance) > ON_RING:
            loose.append(row)
        elif math.isfinite(distance):
            drawn[row] = near % ring.length
    before = first = -math.inf
    for row in sorted(loose, key=along.__getitem__):
        if along[row] - before > ON_RING:
            first = along[row]
        before = along[row]
        drawn[row] = first
    return drawn


def _span(ring: Ring, index: int, start: float, end: float) -> tuple[tuple[float, float] | None, RunFault | None]:
    """Start and end of a run along the ring, and what is odd about it."""
    if start == end:
        return None, RunFault(index, "wrong way round?", 1, -1, 0.0)
    if not _one_side(ring, start, end, straight=False):
        if _one_side(ring, end, start, straight=True):
            return (end, start), None
        if _one_side(ring, end, start, straight=False):
            return (start, end), RunFault(index, "wrong way round?", 1, -1, (start - end) % ring.length)
    return (start, end), None


def _one_side(ring: Ring, start: float, end: float, *, straight: bool) -> bool:
    """Whether the way on from one distance to another stays on one typed side."""
    reach = _reach(ring, start, end) - HAIR
    return not any(
        HAIR < (mark - start) % ring.length < reach and (straight or corner >= 0)
        for mark, corner in zip(ring.along, ring.corner.tolist(), strict=False)
    )


def _reach(ring: Ring, start: float, end: float) -> float:
    return end - start if end > start else end - start + ring.length


def _pieces(ring: Ring, spans: Sequence[Span]) -> tuple[tuple[Piece, ...], list[RunFault]]:
    """The ring cut at every end of a span, each part given to the first run over it, equal neighbors joined."""
    length = ring.length
    cuts = sorted({0.0, *(distance for _, start, end in spans for distance in (start, end))})
    sizes = [end - start for start, end in pairwise([*cuts, length])]
    owner = [-1] * len(cuts)
    overlaps: dict[tuple[int, int], float] = {}
    for index, start, end in spans:
        reach = _reach(ring, start, end)
        for row, (cut, size) in enumerate(zip(cuts, sizes, strict=True)):
            if (cut + size / 2 - start) % length < reach:
                if owner[row] < 0:
                    owner[row] = index
                else:
                    pair = index, owner[row]
                    overlaps[pair] = overlaps.get(pair, 0.0) + size
    faults = [RunFault(index, "overlaps", 0, other, shared) for (index, other), shared in overlaps.items()]
    parts = [(cuts[row], owner[row]) for row in range(len(cuts)) if owner[row] != owner[row - 1]]
    if not parts:  # one owner all round: from where its run starts
        parts = [(next((start for index, start, _ in spans if index == owner[0]), 0.0), owner[0])]
    ends = [start for start, _ in parts[1:]] + [parts[0][0] + length]
    return tuple(
        Piece(start, end, stretch(ring, start, end), None if run < 0 else run)
        for (start, run), end in zip(parts, ends, strict=True)
    ), faults
