"""Joints as they lie in the slab: unbroken parts, and what each end of a part meets.

Coordinates and lengths are meters.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np

from slabwright.geometry.joints.crossings import WELD, Floats
from slabwright.geometry.xy import XY

Meets = Literal["edge", "opening", "crossing", "joint end", "joint side", "nothing"]

STRAIGHT_ON = math.cos(math.radians(15.0))  # a joint goes straight on when it turns less than this


class JointEndShape(NamedTuple):
    """Where a joint stops: ``other`` is the index of the typed joint it meets (-1: none).

    "joint side": it stops at the side of a joint that goes on both ways. "crossing": the same, with a joint going
    straight on across it. "joint end": only ends meet, straight on or at a bend. ``gap`` is how far this end lies
    from where it was typed; 0 where a joint is cut in two by an opening.
    """

    at: XY
    meets: Meets
    other: int
    gap: float


class JointShape(NamedTuple):
    """One unbroken part of a typed joint inside the slab; a joint cut by an opening gives several, in typed order."""

    joint: int  # index of the typed joint
    xy: Floats  # (k, 2), in typed order, bends kept
    length: float
    ends: tuple[JointEndShape, JointEndShape]


class CutEdge(NamedTuple):
    """A piece of a joint between two nodes: the typed joint, its straight part, and the nodes."""

    joint: int
    segment: int
    start: int
    end: int


class Cuts(NamedTuple):
    """Joint edges inside the slab, in order along each joint, and the ring each node lies on (-1: none)."""

    xy: Sequence[XY]
    ring: Sequence[int]  # 0 the outline, 1.. openings
    edges: Sequence[CutEdge]


class _End(NamedTuple):
    """An end of a part: its own edge, the node there, the node before it, and the unit vector out of the joint."""

    edge: int
    node: int
    back: int
    ahead: XY


class _Way(NamedTuple):
    """An edge as seen from one of its nodes: where it leads, and the unit vector there."""

    joint: int
    to: int
    ahead: XY


@dataclass(frozen=True, eq=False)
class _Ends:
    """All ends of parts (2 i the first, 2 i + 1 the last of part i), and the edges at their nodes."""

    cuts: Cuts
    all: Sequence[_End]
    at: Mapping[int, Sequence[tuple[int, int]]]  # node: edges there, each with the node at its other end
    snap: float

    def around(self, end: int) -> list[_Way]:
        """The edges at an end, its own edge and those lying on it left out."""
        own = self.all[end]
        xy = self.cuts.xy
        return [
            _Way(self.cuts.edges[edge].joint, to, _unit(xy[own.node], xy[to]))
            for edge, to in self.at[own.node]
            if to != own.back
        ]

    def facing(self, end: int) -> Iterator[int]:
        """Ends within the snap of this one, at another node, that point the opposite way."""
        own = self.all[end]
        x, y = self.cuts.xy[own.node]
        column, row = math.floor(x / self.snap), math.floor(y / self.snap)
        for cell in ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1)):
            for other in self._cells.get(cell, ()):
                one = self.all[other]
                near = one.node != own.node and math.dist(self.cuts.xy[one.node], (x, y)) <= self.snap
                if near and _dot(own.ahead, one.ahead) < -STRAIGHT_ON:
                    yield other

    @cached_property
    def _cells(self) -> Mapping[tuple[int, int], Sequence[int]]:
        """Ends by the square of the snap's size they lie in."""
        cells: dict[tuple[int, int], list[int]] = {}
        for number, end in enumerate(self.all):
            x, y = self.cuts.xy[end.node]
            cells.setdefault((math.floor(x / self.snap), math.floor(y / self.snap)), []).append(number)
        return cells


def joint_parts(cuts: Cuts, typed: Sequence[Floats], snap: float) -> tuple[JointShape, ...]:
    """Unbroken chains of joint edges, with what their ends meet."""
    chains = _chains(cuts.edges)
    ends = _ends(cuts, chains, snap)
    parts = []
    for row, (first, last) in enumerate(chains):
        edges = cuts.edges[first : last + 1]
        bends = [edge.start for before, edge in pairwise(edges) if edge.segment != before.segment]
        xy = [cuts.xy[node] for node in (edges[0].start, *bends, edges[-1].end)]
        joint = edges[0].joint
        opens = row == 0 or cuts.edges[first - 1].joint != joint
        closes = row == len(chains) - 1 or cuts.edges[last + 1].joint != joint
        begin = _end(cuts, ends, 2 * row, typed[joint][0] if opens else None)
        finish = _end(cuts, ends, 2 * row + 1, typed[joint][-1] if closes else None)
        length = sum(math.dist(a, b) for a, b in pairwise(xy))
        parts.append(JointShape(joint, np.array(xy), length, (begin, finish)))
    return tuple(parts)


def _chains(edges: Sequence[CutEdge]) -> list[tuple[int, int]]:
    """First and last edge of every unbroken part."""
    if not edges:
        return []
    firsts = [0]
    firsts += [i for i in range(1, len(edges)) if edges[i][0] != edges[i - 1][0] or edges[i][2] != edges[i - 1][3]]
    return [(a, b - 1) for a, b in pairwise([*firsts, len(edges)])]


def _ends(cuts: Cuts, chains: Sequence[tuple[int, int]], snap: float) -> _Ends:
    every = []
    for first, last in chains:
        for edge, node, back in ((first, *cuts.edges[first][2:]), (last, *cuts.edges[last][:1:-1])):
            every.append(_End(edge, node, back, _unit(cuts.xy[back], cuts.xy[node])))
    at: dict[int, list[tuple[int, int]]] = {end.node: [] for end in every}
    for number, (_, _, start, end) in enumerate(cuts.edges):
        if start in at:
            at[start].append((number, end))
        if end in at:
            at[end].append((number, start))
    return _Ends(cuts, every, at, snap)


def _unit(start: XY, end: XY) -> XY:
    size = math.dist(start, end)
    return (end[0] - start[0]) / size, (end[1] - start[1]) / size


def _dot(one: XY, two: XY) -> float:
    return one[0] * two[0] + one[1] * two[1]


def _end(cuts: Cuts, ends: _Ends, end: int, typed: Floats | None) -> JointEndShape:
    at = cuts.xy[ends.all[end].node]
    gap = 0.0 if typed is None else math.dist(at, typed)
    return JointEndShape(at, *_meets(cuts, ends, end), gap if gap > 2 * WELD else 0.0)


def _meets(cuts: Cuts, ends: _Ends, end: int) -> tuple[Meets, int]:
    own = ends.all[end]
    ring = cuts.ring[own.node]
    if ring >= 0:
        return ("edge" if ring == 0 else "opening"), -1
    ways = ends.around(end)
    if not ways:
        return "nothing", -1
    onward = [way.joint for way in ways if _dot(way.ahead, own.ahead) > STRAIGHT_ON]
    aside = [way for way in ways if abs(_dot(way.ahead, own.ahead)) <= STRAIGHT_ON]
    through = {one.joint for one in aside if any(_dot(one.ahead, two.ahead) < -STRAIGHT_ON for two in aside)}
    if not through:  # a joint that bends here goes on both ways too
        through = {joint for joint, count in Counter(way.joint for way in aside).items() if count > 1}
    if not through:
        return "joint end", min(onward or [way.joint for way in ways])
    crossed = onward or any(_across(cuts, ends, end, other, through) for other in ends.facing(end))
    return ("crossing" if crossed else "joint side"), min(through)


def _across(cuts: Cuts, ends: _Ends, end: int, other: int, through: set[int]) -> bool:
    """Whether an end that points the opposite way stops at the same joint, beside this end rather than before it."""
    own, here, there = ends.all[end], cuts.xy[ends.all[end].node], cuts.xy[ends.all[other].node]
    beside = abs(_dot((there[0] - here[0], there[1] - here[1]), own.ahead)) <= STRAIGHT_ON * math.dist(here, there)
    return beside and any(way.joint in through for way in ends.around(other))
