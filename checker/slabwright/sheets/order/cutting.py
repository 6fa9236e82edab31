"""Cutting bars and strips from stock lengths with little waste; all lengths in meters.

Lengths count in tenths of a millimeter, so that both inches and millimeters are whole numbers. A stock bar is filled
from its longest piece down to the best sum that the rest of the pieces can make (the minimum bin slack rule of
J. N. D. Gupta and J. C. Ho, 1999; recalled); first fit and best fit, longest first, are tried beside it and the fewest
bars win.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, gcd

import numpy as np

_TENTHS = 10_000  # to the meter
_TRIED = 120  # different lengths looked at for one bar; more are thinned out evenly
_VALUED = 60  # different lengths at most for filling by value
_STEPS = 6000  # parts of a bar at most for filling by value
_TURNS = 25  # fillings by value that are tried where the bound is not reached


@dataclass(frozen=True, slots=True)
class Pattern:
    """``bars`` stock bars that are all cut alike: (length, count) of each piece, longest first, and what is left."""

    bars: int
    pieces: tuple[tuple[float, int], ...]
    left: float


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """How pieces come out of one stock length."""

    stock: float
    patterns: tuple[Pattern, ...]
    bars: int
    used: float  # m, all pieces together

    @property
    def bought(self) -> float:
        """Length of all stock bars, m."""
        return self.bars * self.stock

    @property
    def waste(self) -> float:
        """Part of what is bought that no piece is cut from."""
        return 1 - self.used / self.bought if self.bars else 0.0


def spliced(run: float, stock: float, lap: float) -> tuple[float, ...]:
    """The pieces of a run of bar: whole stock bars and one rest, each lapped ``lap`` onto the next.

    >>> spliced(12.0, 6.0, 0.5)
    (6.0, 6.0, 1.0)
    """
    if run <= stock + 0.5 / _TENTHS:
        return (run,)
    if lap >= stock:
        raise ValueError(f"a lap of {lap} m does not fit on stock bars of {stock} m")
    pieces = ceil((run - lap) / (stock - lap) - 1e-9)
    return (*(stock,) * (pieces - 1), run + (pieces - 1) * lap - (pieces - 1) * stock)


def best_plan(runs: Mapping[float, int], stocks: Iterable[float], lap: float) -> CuttingPlan:
    """The plan for ``runs`` (length to count) that buys the least steel from one of the ``stocks``; laps included."""
    plans = [cutting_plan(pieces_of(runs, stock, lap), stock) for stock in stocks if stock > lap]
    if not plans:
        raise ValueError("no stock length is longer than the lap")
    return min(plans, key=lambda plan: (round(plan.bought, 6), plan.bars))


def pieces_of(runs: Mapping[float, int], stock: float, lap: float) -> Counter[float]:
    """Pieces (length to count) to cut for runs (length to count)."""
    pieces: Counter[float] = Counter()
    for run, count in runs.items():
        for piece in spliced(run, stock, lap):
            pieces[piece] += count
    return pieces


def cutting_plan(pieces: Mapping[float, int], stock: float) -> CuttingPlan:
    """A plan for pieces (length to count) no longer than ``stock``.

    >>> plan = cutting_plan({3.5: 2, 2.5: 2}, 6.0)
    >>> plan.bars, plan.patterns[0].pieces
    (2, ((3.5, 1), (2.5, 1)))
    """
    room = _whole(stock)
    wanted: Counter[int] = Counter()
    for length, count in pieces.items():
        if count > 0:
            wanted[min(_whole(length), room) if length <= stock + 0.5 / _TENTHS else _whole(length)] += count
    if any(size > room or size <= 0 for size in wanted):
        raise ValueError("every piece must be longer than nothing and no longer than the stock bar")
    bound = _at_least(wanted, room)
    best: list[Counter[int]] | None = None
    for filled in _ways(wanted, room):
        if best is None or len(filled) < len(best):
            best = filled
        if len(best) <= bound:
            break
    return _told(best or [], room)


def _whole(length: float) -> int:
    return round(length * _TENTHS)


def _at_least(wanted: Mapping[int, int], room: int) -> int:
    """A number of bars no plan can go below.

    The greater of all lengths over the stock length and the bound L2 of S. Martello and P. Toth, 1990 (recalled): of
    pieces over half a bar no two share one, and what is left beside them holds only so much.
    """
    bound = -(-sum(size * count for size, count in wanted.items()) // room)
    for small in (0, *(size for size in wanted if 2 * size <= room)):
        alone = sum(count for size, count in wanted.items() if size > room - small)
        halves = {size: count for size, count in wanted.items() if 2 * size > room and size <= room - small}
        rest = sum(size * count for size, count in wanted.items() if small <= size and 2 * size <= room)
        beside = sum((room - size) * count for size, count in halves.items())
        bound = max(bound, alone + sum(halves.values()) + max(0, -(-(rest - beside) // room)))
    return bound


def _ways(wanted: Counter[int], room: int) -> Iterable[list[Counter[int]]]:
    """Fillings by several rules, the usual best first."""
    falling = sorted(wanted.elements(), reverse=True)
    yield _least_slack(wanted, room)
    yield _fitted(falling, room)
    yield _fitted(falling, room, best=True)
    yield _fitted(list(wanted.elements()), room)
    if len(wanted) <= _VALUED:
        yield from _by_value(wanted, room)


def _fitted(sizes: Sequence[int], room: int, best: bool = False) -> list[Counter[int]]:
    """Each piece into the first bar it fits, or into the fullest one it fits."""
    bars: list[Counter[int]] = []
    left: list[int] = []
    for size in sizes:
        fits = (at for at, free in enumerate(left) if free >= size)
        at = min(fits, key=lambda at: left[at], default=None) if best else next(fits, None)
        if at is None:
            bars.append(Counter())
            left.append(room)
            at = len(bars) - 1
        bars[at][size] += 1
        left[at] -= size
    return bars


def _least_slack(wanted: Counter[int], room: int) -> list[Counter[int]]:
    """Bars filled one after the other as full as can be, each from its longest piece on."""
    rest = Counter(wanted)
    bars: list[Counter[int]] = []
    while rest:
        _take(rest, _fullest(rest, max(rest), room), bars)
    return bars


def _take(rest: Counter[int], filled: Counter[int], bars: list[Counter[int]]) -> None:
    """Cut as many bars alike as the rest has pieces for."""
    times = min(rest[size] // count for size, count in filled.items())
    for size, count in filled.items():
        rest[size] -= count * times
        if rest[size] <= 0:
            del rest[size]
    bars += [filled] * times


def _by_value(wanted: Counter[int], room: int) -> Iterable[list[Counter[int]]]:
    """Fillings in which pieces that left waste behind before are worth more, and so are cut earlier.

    Sequential value correction (E. A. Mukhacheva, V. M. Kartak and others, 2000; recalled).
    """
    shared = max(gcd(room, *wanted), -(-room // _STEPS))  # sizes count rounded up to it: a bar is never overdrawn
    value = {size: float(size) for size in wanted}
    for turn in range(_TURNS):
        rest = Counter(wanted)
        bars: list[Counter[int]] = []
        while rest:
            filled = _most_value(rest, room, shared, value)
            waste = room - sum(size * count for size, count in filled.items())
            share = 1.0 + 0.1 * (turn % 5)
            for size, count in filled.items():
                weight = 2.0 * (rest[size] + wanted[size]) / count
                worth = size**share / room ** (share - 1) * room / (room - waste)
                value[size] = (weight * value[size] + worth) / (weight + 1)
            _take(rest, filled, bars)
        yield bars


def _most_value(rest: Counter[int], room: int, shared: int, value: Mapping[int, float]) -> Counter[int]:
    """The pieces worth most together that one bar holds: dynamic programming over the room used."""
    free = room // shared
    best = np.zeros(free + 1)
    taken: list[tuple[int, int, np.ndarray]] = []
    for size in sorted(rest, reverse=True):
        count, part = min(rest[size], free // -(-size // shared)), 1
        while count > 0:  # 1, 2, 4 ... pieces at a time reach every number of them
            use = min(part, count)
            step = use * -(-size // shared)
            better = np.zeros(free + 1, dtype=bool)
            with_it = best[: free + 1 - step] + use * value[size]
            better[step:] = with_it > best[step:] + 1e-9
            best[step:] = np.where(better[step:], with_it, best[step:])
            taken.append((size, use, better))
            count -= use
            part *= 2
    filled: Counter[int] = Counter()
    for size, use, better in reversed(taken):
        if better[free]:
            filled[size] += use
            free -= use * -(-size // shared)
    return filled or Counter({max(rest): 1})  # a piece as long as the bar may not fit when rounded up


def _fullest(rest: Counter[int], longest: int, room: int) -> Counter[int]:
    """The longest piece and those others that fill the bar best: sums as bits of one number."""
    free = room - longest
    sizes = sorted((size for size in rest if size <= free), reverse=True)
    if len(sizes) > _TRIED:
        step = len(sizes) / _TRIED
        sizes = [sizes[int(at * step)] for at in range(_TRIED)]
    reached = [1]
    taken: list[tuple[int, int]] = []
    mask = (1 << (free + 1)) - 1
    for size in sizes:
        count = min(rest[size] - (size == longest), free // size)
        part = 1
        while count > 0:  # 1, 2, 4 ... pieces at a time reach every number of them
            use = min(part, count)
            reached.append((reached[-1] | reached[-1] << (use * size)) & mask)
            taken.append((size, use))
            count -= use
            part *= 2
    total = reached[-1].bit_length() - 1
    filled = Counter({longest: 1})
    for at in range(len(taken) - 1, -1, -1):
        if reached[at] >> total & 1:
            continue
        size, use = taken[at]
        filled[size] += use
        total -= use * size
    return filled


def _told(bars: Sequence[Counter[int]], room: int) -> CuttingPlan:
    alike: Counter[tuple[tuple[int, int], ...]] = Counter(tuple(sorted(bar.items(), reverse=True)) for bar in bars)
    patterns = tuple(
        Pattern(
            count,
            tuple((size / _TENTHS, number) for size, number in pieces),
            (room - sum(size * number for size, number in pieces)) / _TENTHS,
        )
        for pieces, count in sorted(alike.items(), key=lambda one: (-one[0][0][0], -one[1], one[0]))
    )
    used = sum(size * number for bar in bars for size, number in bar.items()) / _TENTHS
    return CuttingPlan(room / _TENTHS, patterns, len(bars), used)
