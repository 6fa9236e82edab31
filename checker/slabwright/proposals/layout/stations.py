"""Whole lines across a slab, square to each other, chosen on each axis by dynamic programming.

Bays along x are held within [D / 1.5, B] and along y within [B / 1.5, D] for some pairs of B and D, which uncouples
the axes: every full panel then keeps its aspect. On one axis the state is the last line, and each step to the next is
judged on every strip of the slab between neighboring corners of the other axis. A place that a joint must come to
wants a line on one axis or the other.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import islice, pairwise, product

import numpy as np
import shapely
from numpy.typing import NDArray

from slabwright.geometry.xy import XY
from slabwright.named_tuple import NamedTuple
from slabwright.proposals.layout.asked import Asked
from slabwright.proposals.layout.cuts import Line, Slab

Floats = NDArray[np.float64]

SHARES = (1.0, 0.85, 0.7, 0.55, 0.42)  # of the longest side, for B and D
MOST_CHOICES = 64  # of an axis for each of the places joints must come to
LOOKED_AT = 4096
MOST_STATIONS = 220  # on an axis; the grid is made coarser for larger slabs
TOLERANCE = 0.05  # m: how finely the slab is seen when strips are taken
LEVELS = (0.03, 0.5, 0.97)  # of the height of a strip: where its ends are taken on slanted and curved edges
SKIPPED = 1e3  # price of a line that has to be there, and is not
LONG, SHORT, SLIVER = 40.0, 25.0, 60.0  # prices in m of cutting
UNEQUAL = 0.6  # price in m of a bay one and a half times as wide as the others, for each m of its length


class Grid(NamedTuple):
    """Lines on both axes; ``pinned`` are openings of which each corner gets a cut of its own that starts there."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    pinned: tuple[int, ...] = ()


class _Choice(NamedTuple):
    x: frozenset[float]
    y: frozenset[float]
    pinned: tuple[int, ...] = ()


class _Strip(NamedTuple):
    """An interval of slab along an axis, as wide as ``height`` across it."""

    start: float
    end: float
    height: float


def grids(slab: Slab, openings: Sequence[tuple[float, float, float, float]], most: int) -> list[Grid]:
    """The ``most`` cheapest grids of lines, then some with the least that strips find wrong with them.

    ``openings`` are bounds of those with corners.
    """
    asked = slab.asked
    choices = _choices(asked, openings)
    along = [_Axis(asked, axis, choices) for axis in (0, 1)]
    ratio = min(asked.aspect, 2.0)
    found: dict[Grid, float] = {}
    for wide, deep in product(SHARES, SHARES):
        if wide > deep * ratio or deep > wide * ratio:
            continue
        widest = wide * asked.longest, deep * asked.longest
        priced = [along[axis].best(widest[1 - axis] / ratio, widest[axis]) for axis in (0, 1)]
        for choice, (x, y) in zip(choices, zip(*priced, strict=True), strict=True):
            grid = Grid(x[1], y[1], choice.pinned)
            found[grid] = min(found.get(grid, math.inf), x[0] + y[0])
    cheapest = sorted(found, key=lambda grid: (found[grid], grid))
    wrong = {grid: found[grid] - along[0].cutting(grid.x) - along[1].cutting(grid.y) for grid in cheapest[most:]}
    soundest = sorted((grid for grid in wrong if not grid.pinned), key=lambda grid: (wrong[grid], grid))
    return [*cheapest[:most], *soundest[: most // 3]]


def _choices(asked: Asked, openings: Sequence[tuple[float, float, float, float]]) -> list[_Choice]:
    """For every place a joint must come to: a line on the one axis or on the other."""
    at_opening = {must.at: number for must in asked.musts for number, box in enumerate(openings) if _on(must.at, box)}
    options: list[list[_Choice]] = []
    for must in asked.musts:
        if must.at not in at_opening:
            x, y = (round(value, 4) for value in must.at)
            options.append([_Choice(frozenset({x}), frozenset()), _Choice(frozenset(), frozenset({y}))])
    for number, (left, low, right, high) in enumerate(openings):
        middle = round((left + right) / 2, 4), round((low + high) / 2, 4)
        sides = frozenset({round(left, 4), round(right, 4)}), frozenset({round(low, 4), round(high, 4)})
        pinned = [
            _Choice(frozenset({x}), frozenset({y}), (number,))
            for x in (middle[0], *sorted(sides[0])) for y in (middle[1], *sorted(sides[1]))
        ]  # fmt: skip
        options.append([_Choice(sides[0], frozenset()), _Choice(frozenset(), sides[1]), *pinned])
    found: dict[_Choice, None] = {}
    for combined in islice(product(*options), LOOKED_AT):
        pinned_all = tuple(number for one in combined for number in one.pinned)
        choice = _Choice(frozenset().union(*(one.x for one in combined)),
                         frozenset().union(*(one.y for one in combined)), pinned_all)  # fmt: skip
        found[choice] = None
    return sorted(found, key=lambda one: _crowded(one, asked.narrowest))[:MOST_CHOICES]


def _crowded(choice: _Choice, narrowest: float) -> float:
    """How many lines a choice asks, those too near to each other counted more."""
    price = 0.0
    for stations in (sorted(choice.x), sorted(choice.y)):
        price += len(stations) + 3 * sum(b - a < narrowest for a, b in pairwise(stations))
    return price


def _on(at: XY, box: tuple[float, float, float, float]) -> bool:
    left, low, right, high = box
    return left - 0.01 <= at[0] <= right + 0.01 and low - 0.01 <= at[1] <= high + 0.01


class _Axis:
    """Lines across one axis of a slab: where they may lie, and what each step from one to the next costs."""

    def __init__(self, asked: Asked, axis: int, choices: Sequence[_Choice]) -> None:
        bounds = asked.slab.bounds
        self.low, self.high = bounds[axis], bounds[axis + 2]
        self.narrowest, self.grid = asked.narrowest, asked.grid
        self.strips = _strips(asked, axis)
        self.wanted = [sorted(choice.x if axis == 0 else choice.y) for choice in choices]
        self.kept = [value for value, _, _ in _kept_across(asked, axis)]
        self.known: dict[tuple[float, float], list[tuple[float, tuple[float, ...]]]] = {}

    def best(self, least: float, most: float) -> list[tuple[float, tuple[float, ...]]]:
        """For every choice the cheapest lines with bays within two widths, and their price in m of cutting."""
        key = round(least, 6), round(most, 6)
        if key not in self.known:
            self.known[key] = list(self._worked(least, most))
        return self.known[key]

    def cutting(self, lines: Sequence[float]) -> float:
        """Length of some lines across this axis, m."""
        return sum(height for v in lines for start, end, height in self.strips if start + 1e-3 < v < end - 1e-3)

    def _worked(self, least: float, most: float) -> Iterator[tuple[float, tuple[float, ...]]]:
        at = self._places(most)
        cost = self._steps(at, least, most)
        inner = at[1:-1]
        musts = sorted({value for wanted in self.wanted for value in wanted} | set(self.kept))
        row = [int(np.argmin(np.abs(at - value))) for value in musts]
        over = {
            value: (np.arange(len(at))[:, None] < spot) & (np.arange(len(at))[None, :] > spot)
            for value, spot in zip(musts, row, strict=True)
        }
        none = np.zeros((len(at), len(at)))
        skipped = np.stack([none + sum((over[v] for v in {*w, *self.kept}), start=none) for w in self.wanted]) * SKIPPED
        best = np.full((len(self.wanted), len(at)), np.inf)
        best[:, 0] = 0.0
        before = np.zeros((len(self.wanted), len(at)), dtype=np.int64)
        for j in range(1, len(at)):
            total = best[:, :j] + cost[:j, j] + skipped[:, :j, j]
            before[:, j] = np.argmin(total, axis=1)
            best[:, j] = np.take_along_axis(total, before[:, j : j + 1], axis=1)[:, 0]
        for number in range(len(self.wanted)):
            stations: list[float] = []
            j = int(before[number, -1])
            while j > 0:
                stations.append(float(inner[j - 1]))
                j = int(before[number, j])
            lines = tuple(v for v in reversed(stations) if not any(abs(v - k) < TOLERANCE for k in self.kept))
            yield float(best[number, -1]), lines

    def _places(self, most: float) -> Floats:
        """Both ends of the axis, and between them a grid, equal parts of every strip, and all lines that are wanted."""
        size = self.high - self.low
        grid = self.grid * max(1, math.ceil(size / self.grid / MOST_STATIONS))
        at = [self.low + grid * k for k in range(1, int(size / grid) + 1)]
        for strip in {(strip.start, strip.end) for strip in self.strips}:
            wide = strip[1] - strip[0]
            n = max(1, math.ceil(wide / most - 1e-6))
            at += [strip[0] + wide * k / parts for parts in (n, n + 1) for k in range(1, parts)]
        wanted = sorted({value for one in self.wanted for value in one} | set(self.kept))
        inner = [v for v in at if self.low + 0.1 < v < self.high - 0.1 and all(abs(v - w) > 0.02 for w in wanted)]
        inner += [v for v in wanted if self.low + 0.02 < v < self.high - 0.02]
        return np.array([self.low, *sorted({round(v, 4) for v in inner}), self.high])

    def _steps(self, at: Floats, least: float, most: float) -> Floats:
        """Price of going from each place to each later one, with the line cut at the later."""
        cost = np.zeros((len(at), len(at)))
        length = np.zeros(len(at))
        for start, end, height in self.strips:
            a, b = np.maximum(at[:, None], start), np.minimum(at[None, :], end)
            wide = b - a
            there = wide > TOLERANCE / 2
            whole = (at[:, None] <= start + 1e-3) & (at[None, :] >= end - 1e-3)
            heavy = min(height, most) / most
            price = np.where(wide > most * (1 + 1e-9), LONG * heavy * (0.3 + wide / most - 1), 0.0)
            under = (wide < least * (1 - 1e-9)) & ~whole
            price += np.where(under, SHORT * heavy * (0.3 + 1 - wide / least), 0.0)
            price += np.where((wide < self.narrowest * (1 - 1e-9)) & ~whole, SLIVER * (0.3 + heavy), 0.0)
            equal = (end - start) / max(1, math.ceil((end - start) / most - 1e-6))
            price += UNEQUAL * height * np.minimum((wide / equal - 1) ** 2 * 4, 2.0) * (~whole)
            cost += np.where(there, price, 0.0)
            length += np.where((at > start + 1e-3) & (at < end - 1e-3), height, 0.0)
        length[-1] = 0.0
        return np.asarray(cost + length[None, :])


def _strips(asked: Asked, axis: int) -> list[_Strip]:
    """Intervals of slab along an axis between neighboring corners of the other, at three heights of each strip.

    A joint that stays parts the intervals that it crosses.
    """
    shape = asked.slab.simplify(TOLERANCE)
    kept = _kept_across(asked, axis)
    other = 1 - axis
    marks = sorted({round(float(v), 3) for v in shapely.get_coordinates(shape)[:, other]})
    low, high = shape.bounds[axis] - 1, shape.bounds[axis + 2] + 1
    found: list[_Strip] = []
    for a, b in pairwise(marks):
        if b - a < TOLERANCE:
            continue
        for level in LEVELS:
            across = a + level * (b - a)
            ends = [(low, across), (high, across)] if axis == 0 else [(across, low), (across, high)]
            for part in shapely.get_parts(shapely.intersection(shape, shapely.LineString(ends))):
                run = shapely.get_coordinates(part)[:, axis]
                cuts = [v for v, first, last in kept if first < across < last and run.min() < v < run.max()]
                for start, end in pairwise(sorted({float(run.min()), *cuts, float(run.max())})):
                    if end - start > TOLERANCE:
                        found.append(_Strip(start, end, (b - a) / len(LEVELS)))
    merged: dict[tuple[float, float], float] = {}
    for start, end, height in found:
        key = round(start, 6), round(end, 6)
        merged[key] = merged.get(key, 0.0) + height
    return [_Strip(start, end, height) for (start, end), height in merged.items()]


def _kept_across(asked: Asked, axis: int) -> list[tuple[float, float, float]]:
    """Where joints that stay lie across this axis, and from where to where along the other, m."""
    found = []
    for line in asked.kept:
        (low, first), (high, last) = np.min(line, axis=0)[[axis, 1 - axis]], np.max(line, axis=0)[[axis, 1 - axis]]
        if high - low < TOLERANCE:
            found.append((round(float(line[0][axis]), 4), float(first), float(last)))
    return found


def lines_of(slab: Slab, grid: Grid, openings: Sequence[tuple[float, float, float, float]]) -> list[list[Line]]:
    """The cuts of a grid, each part of a line on its own; twice where an opening may be passed either way round."""
    lines = [line for x in grid.x for line in slab.chords((x, slab.shape.bounds[1]), (0.0, 1.0))]
    lines += [line for y in grid.y for line in slab.chords((slab.shape.bounds[0], y), (1.0, 0.0))]
    ways = [lines]
    for number in grid.pinned:
        left, low, right, high = box = openings[number]
        turned = []
        for one in ways:
            rest = [line for line in one if not any(_on(end, box) for end in (line[0], line[-1]))]
            for corners in (
                (((left, high), (0, 1)), ((right, high), (1, 0)), ((right, low), (0, -1)), ((left, low), (-1, 0))),
                (((right, high), (0, 1)), ((right, low), (1, 0)), ((left, low), (0, -1)), ((left, high), (-1, 0))),
            ):
                turned.append([*rest, *(line for at, way in corners for line in _from(slab, at, way))])
        ways = turned
    return ways


def _from(slab: Slab, at: XY, way: tuple[int, int]) -> list[Line]:
    """The cut that starts at a corner and runs one way."""
    middle = [
        line for line in slab.chords(at, way)
        if (line[0][0] + line[1][0] - 2 * at[0]) * way[0] + (line[0][1] + line[1][1] - 2 * at[1]) * way[1] > 0
    ]  # fmt: skip
    return sorted(middle, key=lambda line: min(math.dist(at, line[0]), math.dist(at, line[1])))[:1]
