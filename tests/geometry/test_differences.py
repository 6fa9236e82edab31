"""Systems of differences, against scipy's linear programs, brute force, and cases worked by hand."""

from __future__ import annotations

import math
import random
from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import linprog
from slabwright.geometry.differences import Arc, forced, greatest, smallest_clash

CASES = 1000


def drawn(rng: random.Random) -> tuple[int, list[Arc]]:
    """Two to seven heights and up to three arcs for each, in hundredths of a meter; about half of them clash."""
    count = rng.randint(2, 7)
    arcs = []
    for _ in range(rng.randint(count, 3 * count)):
        upper, lower = rng.sample(range(count), 2)
        arcs.append(Arc(upper, lower, rng.randint(-30, 12) / 100))
    return count, arcs


def rows(count: int, arcs: list[Arc]) -> tuple[np.ndarray, np.ndarray]:
    """The same as ``matrix @ z <= most``."""
    matrix = np.zeros((len(arcs), count))
    for k, arc in enumerate(arcs):
        matrix[k, arc.upper] -= 1.0
        matrix[k, arc.lower] += 1.0
    return matrix, np.array([-arc.least for arc in arcs])


def kept_by_scipy(count: int, arcs: list[Arc]) -> bool:
    matrix, most = rows(count, arcs)
    return bool(linprog(np.zeros(count), matrix, most, bounds=(None, None)).status == 0)


def test_a_thousand_systems_are_decided_as_linear_programming_decides_them() -> None:
    """Whether all arcs can be kept, and the least by which one height then lies above another (scipy, HiGHS)."""
    rng, kept, clashes = random.Random(20), 0, 0
    for _ in range(CASES):
        count, arcs = drawn(rng)
        upper, lower = rng.sample(range(count), 2)
        price = np.zeros(count)
        price[upper], price[lower] = 1.0, -1.0
        matrix, most = rows(count, arcs)
        program = linprog(price, matrix, most, bounds=(None, None))
        found = forced(count, arcs)
        chain = smallest_clash(count, arcs)
        assert (found is None) is bool(chain)
        if chain:
            clashes += 1
            assert not kept_by_scipy(count, arcs)
            continue
        kept += 1
        assert found is not None
        if program.status == 0:
            assert found[upper, lower] == pytest.approx(program.fun, abs=1e-8)
        else:  # HiGHS: 2 infeasible, 3 unbounded, 4 either of them
            assert program.status in (3, 4) and found[upper, lower] == -math.inf
    assert min(kept, clashes) > 300


def test_a_clash_is_a_chain_that_climbs_and_no_smaller_set_clashes() -> None:
    """Every set of fewer arcs is tried, and of as many the chain that climbs most is told."""
    rng, clashes = random.Random(7), 0
    while clashes < 60:
        count, arcs = drawn(rng)
        chain = smallest_clash(count, arcs) if len(arcs) <= 9 else ()
        if not chain:
            continue
        clashes += 1
        told = [arcs[k] for k in chain]
        assert all(a.lower == b.upper for a, b in zip(told, [*told[1:], told[0]], strict=True))
        short = sum(arc.least for arc in told)
        assert short > 0
        for size in range(1, len(chain)):
            assert all(forced(count, list(some)) is not None for some in combinations(arcs, size))
        same = [some for some in combinations(arcs, len(chain)) if forced(count, list(some)) is None]
        assert short == pytest.approx(max(sum(arc.least for arc in some) for some in same))


def test_the_greatest_amount_is_that_of_a_linear_program() -> None:
    """One more unknown, the amount, as large as may be (scipy, HiGHS); runs of one sign."""
    rng, told = random.Random(3), 0
    for _ in range(200):
        count, arcs = drawn(rng)
        sign = rng.choice((1, -1))
        arcs = [arc._replace(run=sign * rng.choice((0, 0, 1, 4))) for arc in arcs]
        matrix, most = rows(count, arcs)
        with_amount = np.hstack([matrix, np.array([[arc.run] for arc in arcs])])
        price = np.append(np.zeros(count), -1.0)
        program = linprog(price, with_amount, most, bounds=[(None, None)] * count + [(None, 5.0)])
        if sign < 0:  # more of it lets more pass: nothing is greatest
            program = linprog(-price, with_amount, most, bounds=[(None, None)] * count + [(-5.0, None)])
        start = 5.0 if sign > 0 else -5.0
        found = greatest(count, arcs, start)
        if program.status != 0:
            assert found is not None and found.amount == -math.inf
        elif found is None:
            assert program.x[-1] == pytest.approx(start)
        else:
            told += 1
            assert found.amount == pytest.approx(program.x[-1], abs=1e-7)
    assert told > 60


def test_the_walk_and_the_sill_by_hand() -> None:
    """docs/deciding.md: slab at most 99.917 ft at the wall, 100.05 at the walk, 12 ft of 2 %: 0.373 ft short."""
    datum, wall, walk = 0, 1, 2
    arcs = [
        Arc(datum, wall, -(100 - 1 / 12)),
        Arc(walk, datum, 100.05),
        Arc(datum, walk, -100.05),
        Arc(wall, walk, 0.02 * 12),
    ]
    chain = smallest_clash(3, arcs)
    assert set(chain) == {0, 1, 3}
    assert sum(arcs[k].least for k in chain) == pytest.approx(0.373, abs=5e-4)
    found = greatest(3, [*arcs[:3], Arc(wall, walk, 0.0, 12.0)], 1.0)
    assert found is not None and found.amount == pytest.approx(-(100.05 - 100 + 1 / 12) / 12)
    lower = [Arc(datum, wall, -99.9), Arc(walk, datum, 99.0), Arc(datum, walk, -99.0), Arc(wall, walk, 0.24)]
    lies = forced(3, lower)
    assert lies is not None
    assert (lies[wall, datum], -lies[datum, wall]) == pytest.approx((99.24, 99.9))  # between these it may lie


def test_a_chain_round_three_heights_by_hand() -> None:
    """Sill 100, gutter 99.5 over a way of 20 and 30 ft at 1 % and a crest 0.1 ft over it: 0.1 ft short of 0.5."""
    sill, low, gutter = 0, 1, 2
    arcs = [Arc(sill, low, 0.2), Arc(low, gutter, 0.4), Arc(gutter, sill, -0.5)]
    assert smallest_clash(3, arcs) == (0, 1, 2)
    assert smallest_clash(3, [*arcs[:2], Arc(gutter, sill, -0.6)]) == ()
    assert smallest_clash(0, []) == () and smallest_clash(1, [Arc(0, 0, 0.1)]) == (0,)
