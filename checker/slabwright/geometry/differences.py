"""Systems of differences: heights of which one is asked to lie above another by some least amount, decided exactly.

An arc from height ``a`` down to height ``b`` asks that ``a`` lies at least ``least`` above ``b``; below zero ``a`` may
lie as much under it. Arcs can all be kept when no way round climbs: when no closed chain of them adds up to more than
nothing. So shortest paths decide, by additions alone, and a chain that climbs is the proof of a clash and names who is
in it. (Bellman 1958, Floyd 1962, as textbooks on algorithms have them; recalled, not checked.)
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

KEPT = 1e-9  # m: a chain that climbs less is rounding
ROUNDS = 200  # of :func:`greatest`; each cuts off a chain for good, and a dozen is many


class Arc(NamedTuple):
    """Height ``upper`` lies at least ``least`` + ``run`` times the asked amount above height ``lower``, m."""

    upper: int
    lower: int
    least: float
    run: float = 0.0


class Greatest(NamedTuple):
    """The greatest amount with which all arcs can be kept, and the chain of arcs (their numbers) that allows no more.

    ``amount`` is minus infinity where they cannot be kept with any.
    """

    amount: float
    chain: tuple[int, ...]


def forced(count: int, arcs: Sequence[Arc]) -> Floats | None:
    """By how much all arcs together force each of ``count`` heights above each other one, (count, count), m.

    Minus infinity where they force nothing; None where they cannot all be kept. ``run`` is left aside.

    >>> forced(3, [Arc(0, 1, 2.0), Arc(1, 2, 0.5)])[0, 2]
    np.float64(2.5)
    """
    return _closed(_matrix(count, arcs, 0.0)[0])


def smallest_clash(count: int, arcs: Sequence[Arc], amount: float = 0.0) -> tuple[int, ...]:
    """The numbers of the fewest arcs that cannot all be kept, in order round their chain; empty where all can be.

    ``amount`` is what is asked of their runs. Of as few the chain that climbs most. Chains of one arc, two, three and
    so on are added up from every height to every other one, always the one that climbs most, until one comes back to
    where it began higher than that.

    >>> smallest_clash(3, [Arc(0, 1, 2.0), Arc(1, 2, 0.5), Arc(2, 0, -2.4), Arc(1, 0, -3.0)])
    (0, 1, 2)
    """
    step, number = _matrix(count, arcs, amount)
    if _closed(step) is not None:
        return ()
    most, before = step.copy(), [np.full((count, count), -1)]
    for _ in range(count):
        start = int(np.argmax(most.diagonal()))
        if most[start, start] > KEPT:
            return _chain(start, before, number)
        longer, via = most.copy(), np.full((count, count), -1)
        for through in range(count):
            trial = most[:, through, None] + step[None, through]
            better = trial > longer + KEPT / 10
            longer[better], via[better] = trial[better], through
        if not (via >= 0).any():
            return ()
        most = longer
        before.append(via)
    return ()


def greatest(count: int, arcs: Sequence[Arc], start: float) -> Greatest | None:
    """The greatest amount up to ``start`` with which all arcs can be kept; None where ``start`` itself does.

    From a chain that climbs with one amount follows the amount at which it no longer does; the next chain is looked
    for with that. The runs of all arcs have one sign.

    >>> greatest(2, [Arc(0, 1, 0.0, 12.0), Arc(1, 0, -0.24)], 1.0)
    Greatest(amount=0.02, chain=(0, 1))
    """
    amount, chain = start, tuple[int, ...]()
    for _ in range(ROUNDS):
        clash = smallest_clash(count, arcs, amount)
        if not clash:
            return Greatest(amount, chain) if chain else None
        chain = clash
        run = sum(arcs[number].run for number in chain)
        if abs(run) < KEPT:
            return Greatest(-math.inf, chain)
        amount = -sum(arcs[number].least for number in chain) / run
    return Greatest(amount, chain)


def _matrix(count: int, arcs: Sequence[Arc], amount: float) -> tuple[Floats, NDArray[np.int64]]:
    """The strictest arc from each height to each other one, with an amount asked, and its number; (count, count)."""
    most, number = np.full((count, count), -np.inf), np.full((count, count), -1)
    columns = np.array(arcs, dtype=np.float64).reshape(-1, 4)
    upper, lower = columns[:, 0].astype(np.int64), columns[:, 1].astype(np.int64)
    least = columns[:, 2] + columns[:, 3] * amount
    order = len(least) - 1 - np.argsort(least[::-1], kind="stable")  # the strictest last, and of equals the first
    most[upper[order], lower[order]] = least[order]
    number[upper[order], lower[order]] = order
    return most, number


def _closed(step: Floats) -> Floats | None:
    """The chain that climbs most from each height to each other one; None where one comes back higher than it began."""
    most = step.copy()
    np.fill_diagonal(most, np.maximum(most.diagonal(), 0.0))
    for through in range(len(most)):
        np.maximum(most, most[:, through, None] + most[None, through], out=most)
        if most[through, through] > KEPT:
            return None
    return None if most.diagonal().max(initial=0.0) > KEPT else most


def _chain(start: int, before: Sequence[NDArray[np.int64]], number: NDArray[np.int64]) -> tuple[int, ...]:
    """The arcs of the chain that comes back to ``start``, in order."""
    found, end = list[int](), start
    for via in reversed(before[1:]):
        through = int(via[start, end])
        if through >= 0:
            found.append(int(number[through, end]))
            end = through
    return (int(number[start, end]), *reversed(found))
