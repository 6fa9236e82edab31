"""Edges: runs of named things laid along an outline, so that every stretch of it belongs to one of them or to none.

Coordinates and distances are metres; distances run along the ring in typed order from its first corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from slabwright.geometry import GeometryError
from slabwright.geometry.arcs import Floats
from slabwright.geometry.noding import distinct
from slabwright.geometry.outline import Ring, locate, stretch


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A stretch of the ring: ``end`` is past the length of the ring where it goes on over the first corner."""

    start: float
    end: float
    xy: Floats  # (k, 2), in typed order of the ring
    run: int | None


@dataclass(frozen=True, slots=True)
class RunFault:
    """A run that does not lie as typed.

    ``point`` is the index of the point in the run that shows it, ``other`` the run it overlaps (-1: none).
    ``distance`` is how far off the outline the point lies, or how long the overlap is.
    "wrong way round?" is a run whose points come in the opposite order to the outline (it is laid all the same),
    in no order at all, or all at one place (these are not laid).
    """

    run: int
    kind: Literal["off the outline", "overlaps", "wrong way round?"]
    point: int
    other: int
    distance: float


@dataclass(frozen=True, slots=True)
class Layout:
    """Pieces that cover the ring once, in order of their starts; overlaps belong to the run typed first."""

    pieces: tuple[Piece, ...]
    faults: tuple[RunFault, ...]


def lay_runs(ring: Ring, runs: Sequence[Floats], tolerance: float = 0.01) -> Layout:
    """Lay each run (k, 2) along the ring, from its first to its last point in typed order of the outline.

    Points within ``tolerance`` of the ring count as on it, and as at a corner, or at another run's point, that near.
    Two points typed against the order of the outline are accepted where they lie on one straight side.
    """
    if any(np.ndim(run) != 2 or len(run) < 2 for run in runs):
        raise GeometryError("a run needs at least two points")
    if not runs:
        return Layout((Piece(0.0, ring.length, stretch(ring, 0.0, ring.length), None),), ())
    along, offset = locate(ring, np.concatenate(runs))
    along = _drawn_together(ring, along, tolerance)
    faults: list[RunFault] = []
    spans: list[tuple[int, float, float]] = []
    parts = np.cumsum([len(run) for run in runs])[:-1]
    for index, (distances, offsets) in enumerate(zip(np.split(along, parts), np.split(offset, parts), strict=True)):
        off = np.flatnonzero(~(offsets <= tolerance))
        if len(off):
            faults += [RunFault(index, "off the outline", int(k), -1, float(offsets[k])) for k in off]
            continue
        span, fault = _span(ring, index, distances)
        if span is not None:
            spans.append((index, *span))
        if fault is not None:
            faults.append(fault)
    pieces, overlaps = _pieces(ring, spans)
    return Layout(pieces, tuple(sorted(faults + overlaps, key=lambda fault: (fault.run, fault.point, fault.other))))


def _drawn_together(ring: Ring, along: Floats, tolerance: float) -> Floats:
    """Distances within the tolerance of a typed corner made the corner's; others that near each other made one."""
    corners = np.append(ring.along[:-1][ring.corner >= 0], ring.length)
    after = np.clip(np.searchsorted(corners, along), 1, len(corners) - 1)
    near = np.where(along - corners[after - 1] < corners[after] - along, after - 1, after)
    at_corner = ~(np.abs(corners[near] - along) > tolerance)
    drawn = np.where(at_corner, corners[near] % ring.length, along)
    loose = np.flatnonzero(~at_corner)
    order = loose[np.argsort(along[loose], kind="stable")]
    group = np.cumsum(np.diff(along[order], prepend=-np.inf) > tolerance) - 1
    first = np.flatnonzero(np.diff(group, prepend=-1))
    drawn[order] = along[order][first][group]
    return drawn


def _span(ring: Ring, index: int, along: Floats) -> tuple[tuple[float, float] | None, RunFault | None]:
    """Start and end of a run along the ring, and what is odd about it."""
    length = ring.length
    ahead = (along - along[0]) % length
    back = (along[0] - along) % length
    if len(along) > 2 and along[-1] == along[0]:
        ahead[-1] = back[-1] = length
    forward, backward = (float(along[0]), float(along[-1])), (float(along[-1]), float(along[0]))
    if (np.diff(ahead) > 0).all():
        if len(along) == 2 and not _one_side(ring, *forward, straight=False):
            if _one_side(ring, *backward, straight=True):
                return backward, None
            if _one_side(ring, *backward, straight=False):
                return forward, RunFault(index, "wrong way round?", 1, -1, float(back[-1]))
        return forward, None
    point = int(np.argmax(np.diff(ahead) <= 0)) + 1
    if (np.diff(back) > 0).all():
        return backward, RunFault(index, "wrong way round?", point, -1, float(back[-1]))
    return None, RunFault(index, "wrong way round?", point, -1, 0.0)


def _one_side(ring: Ring, start: float, end: float, *, straight: bool) -> bool:
    """Whether the way on from one distance to another stays on one typed side."""
    way = (ring.along[:-1] - start) % ring.length
    inside = (way > 1e-9) & (way < _reach(ring, start, end) - 1e-9)
    return not (inside if straight else inside & (ring.corner >= 0)).any()


def _reach(ring: Ring, start: float, end: float) -> float:
    return end - start if end > start else end - start + ring.length


def _pieces(ring: Ring, spans: list[tuple[int, float, float]]) -> tuple[tuple[Piece, ...], list[RunFault]]:
    """The ring cut at every end of a span, each part given to the first run over it, equal neighbours joined."""
    length = ring.length
    cuts = distinct(np.array([0.0, *(distance for _, *span in spans for distance in span)]))
    sizes = np.diff(cuts, append=length)
    middles = cuts + sizes / 2
    owner = np.full(len(cuts), -1)
    overlaps: dict[tuple[int, int], float] = {}
    for index, start, end in spans:
        covered = (middles - start) % length < _reach(ring, start, end)
        for other in distinct(owner[covered & (owner >= 0)]).tolist():
            overlaps[index, other] = float(sizes[covered & (owner == other)].sum())
        owner[covered & (owner < 0)] = index
    faults = [RunFault(index, "overlaps", 0, other, shared) for (index, other), shared in overlaps.items()]
    first = np.flatnonzero(owner != np.roll(owner, 1))
    if len(first):
        starts, runs = cuts[first], owner[first]
    else:  # one owner all round: from where its run starts
        runs = owner[:1]
        starts = np.array([next((start for index, start, _ in spans if index == runs[0]), 0.0)])
    ends = np.append(starts[1:], starts[0] + length)
    return tuple(
        Piece(start, end, stretch(ring, start, end), None if run < 0 else run)
        for start, end, run in zip(starts.tolist(), ends.tolist(), runs.tolist(), strict=True)
    ), faults
