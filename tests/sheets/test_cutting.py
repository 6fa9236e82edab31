"""Cutting plans against a linear program, first fit and closed forms; laps and runs of bars against hand counts."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Mapping

import numpy as np
import pytest
from design_text import plan_of
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from slabwright.sheets.order.bars_and_mesh import all_steel
from slabwright.sheets.order.cutting import (
    CuttingPlan,
    best_plan,
    cutting_plan,
    pieces_of,
    spliced,
)
from slabwright.sheets.order.mats import bar_mat, mesh_strips

FOOT, INCH = 0.3048, 0.0254  # m, exact (NIST SP 811)


def fewest(pieces: Mapping[float, int], stock: float) -> int:
    """Bars no plan goes below: the linear relaxation of Gilmore and Gomory, columns made as they are wanted.

    P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, 1961; solved by scipy.
    """
    sizes, need = [round(one * 10_000) for one in pieces], list(pieces.values())
    room = round(stock * 10_000)
    patterns = [[room // size if at == own else 0 for at in range(len(sizes))] for own, size in enumerate(sizes)]
    while True:
        solved = linprog(np.ones(len(patterns)), A_ub=-np.array(patterns).T, b_ub=-np.array(need), method="highs")
        value, pattern = _dearest(sizes, -solved.ineqlin.marginals, room)
        if value <= 1 + 1e-7:
            return math.ceil(solved.fun - 1e-6)
        patterns.append(pattern)


def _dearest(sizes: list[int], worth: np.ndarray, room: int) -> tuple[float, list[int]]:
    """The pattern worth most, by branch and bound."""
    order = sorted(range(len(sizes)), key=lambda at: -worth[at] / sizes[at])
    best: tuple[float, list[int]] = (0.0, [0] * len(sizes))

    def look(step: int, free: int, value: float, taken: list[int]) -> None:
        nonlocal best
        if value > best[0] + 1e-12:
            best = (value, list(taken))
        if step == len(order) or value + free * worth[order[step]] / sizes[order[step]] <= best[0] + 1e-12:
            return
        own = order[step]
        for count in range(free // sizes[own], -1, -1):
            taken[own] = count
            look(step + 1, free - count * sizes[own], value + count * worth[own], taken)
        taken[own] = 0

    look(0, room, 0.0, [0] * len(sizes))
    return best


def first_fit(pieces: Mapping[float, int], stock: float) -> int:
    """Bars that plain first fit takes, pieces as they come: each goes in the first bar it fits."""
    left: list[int] = []
    for length, count in pieces.items():
        size = round(length * 10_000)
        for _ in range(count):
            at = next((at for at, room in enumerate(left) if room >= size), len(left))
            left[at:] = left[at:] or [round(stock * 10_000)]
            left[at] -= size
    return len(left)


def made_up(number: int) -> tuple[dict[float, int], float]:
    """A made-up job: pieces and stock length, in half inches or centimeters; every fifth with lapped runs."""
    rng = random.Random(number)
    us = number % 2 == 0
    stock, unit = (rng.choice((20, 40, 60)) * FOOT, INCH / 2) if us else (rng.choice((6.0, 12.0)), 0.01)
    pieces: Counter[float] = Counter()
    for _ in range(rng.randint(1, 12)):
        length = min(stock, max(0.3, math.floor(rng.uniform(0.05, 1.0) * stock / unit) * unit))
        pieces[length] += rng.randint(1, 40)
    if number % 5 == 0:
        runs = {length * rng.uniform(0.5, 4.0): count for length, count in pieces.items()}
        pieces = pieces_of(runs, stock, 0.6)
    return dict(pieces), stock


def cut(plan: CuttingPlan) -> Counter[int]:
    """Pieces that come out of a plan, in tenths of a millimeter."""
    out: Counter[int] = Counter()
    for pattern in plan.patterns:
        for length, count in pattern.pieces:
            out[round(length * 10_000)] += count * pattern.bars
    return out


@pytest.mark.long
@pytest.mark.parametrize("block", range(4))
def test_two_hundred_jobs_take_no_more_than_first_fit_and_one_bar_over_the_bound(block: int) -> None:
    for number in range(block * 50, block * 50 + 50):
        pieces, stock = made_up(number)
        plan = cutting_plan(pieces, stock)
        bound = fewest(pieces, stock)
        assert bound <= plan.bars <= bound + 1, (number, bound, plan.bars)
        assert plan.bars <= first_fit(pieces, stock), number


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(st.integers(3, 60), st.integers(1, 25), min_size=1, max_size=9))
def test_what_is_cut_is_what_is_wanted_and_no_bar_is_overdrawn(job: dict[int, int]) -> None:
    pieces = {length / 10: count for length, count in job.items()}
    plan = cutting_plan(pieces, 6.0)
    assert cut(plan) == Counter({length * 1000: count for length, count in job.items()})
    assert plan.bars == sum(pattern.bars for pattern in plan.patterns)
    for pattern in plan.patterns:
        used = sum(length * count for length, count in pattern.pieces)
        assert pattern.left == pytest.approx(6.0 - used, abs=1e-9) and pattern.left >= 0
    assert plan.used == pytest.approx(sum(length * count for length, count in pieces.items()))
    assert plan.waste == pytest.approx(1 - plan.used / (plan.bars * 6.0))


@pytest.mark.parametrize(
    ("pieces", "stock", "bars"),  # worked by hand
    [
        ({6.0: 7}, 6.0, 7),
        ({3.0: 7}, 6.0, 4),
        ({3.01: 6}, 6.0, 6),  # over half a bar: no two share one
        ({4.0: 3, 2.0: 3}, 6.0, 3),
        ({3.5: 2, 2.5: 2}, 6.0, 2),
        ({2.2: 3, 1.9: 6}, 6.0, 3),
        ({}, 6.0, 0),
    ],
)
def test_small_jobs_by_hand(pieces: dict[float, int], stock: float, bars: int) -> None:
    assert cutting_plan(pieces, stock).bars == bars


def test_first_fit_can_be_beaten() -> None:
    pieces = {2.0: 6, 3.0: 6, 4.0: 6}  # 54 m; as they come, 2 + 2 + 2 spoils what 4 m pieces need
    assert first_fit(pieces, 6.0) == 11
    assert cutting_plan(pieces, 6.0).bars == 9


@pytest.mark.parametrize(
    ("run", "stock", "lap", "pieces"),  # (L - lap)/(stock - lap) bars, rounded up, and the rest
    [
        (39.5, 20.0, 2.5, (20.0, 20.0, 4.5)),
        (20.0, 20.0, 2.5, (20.0,)),
        (37.5, 20.0, 2.5, (20.0, 20.0)),  # exactly two bars
        (37.6, 20.0, 2.5, (20.0, 20.0, 2.6)),
    ],
)
def test_runs_longer_than_a_bar_are_lapped(run: float, stock: float, lap: float, pieces: tuple[float, ...]) -> None:
    found = spliced(run, stock, lap)
    assert found == pytest.approx(pieces)
    assert sum(found) == pytest.approx(run + (len(found) - 1) * lap)


def test_no_plan_for_what_cannot_be_cut() -> None:
    with pytest.raises(ValueError, match="no longer than the stock bar"):
        cutting_plan({7.0: 1}, 6.0)
    with pytest.raises(ValueError, match="does not fit"):
        spliced(10.0, 1.0, 1.5)
    with pytest.raises(ValueError, match="longer than the lap"):
        best_plan({10.0: 1}, [1.0], 1.5)


def test_the_stock_that_buys_least_steel_is_taken() -> None:
    assert best_plan({9.9: 10}, [6.0, 10.0, 12.0], 0.5).stock == 10.0  # 100 m, against 120 m of either other


def test_a_job_of_a_thousand_lengths_is_cut_within_seconds() -> None:
    rng = random.Random(5)
    pieces = Counter(round(rng.uniform(0.4, 12.0), 2) for _ in range(4000))
    plan = cutting_plan(pieces, 12.0)
    assert plan.bars <= first_fit(pieces, 12.0)
    assert plan.bars <= sum(length * count for length, count in pieces.items()) / 12.0 * 1.02


PAD = """
format: 1
job: {name: Pad}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [40, 0], C: [40, 20], D: [0, 20]}
outline: [A, B, C, D]
thickness: {design: 4 in}
"""
JOINTED = (
    PAD
    + "joints:\n  - {from: [10, 0], to: [10, 20], kind: saw cut}\n  - {from: [25, 0], to: [25, 20], kind: saw cut}\n"
)
TURNED = PAD.replace(
    "{A: [0, 0], B: [40, 0], C: [40, 20], D: [0, 20]}", "{A: [0, 0], B: [32, 24], C: [20, 40], D: [-12, 16]}"
)


def in_feet(runs: Counter[float]) -> dict[float, int]:
    return {round(length / FOOT, 3): count for length, count in sorted(runs.items())}


@pytest.mark.parametrize("text", [PAD, TURNED])
def test_a_mat_that_runs_through(text: str) -> None:
    # 19'-6" and 39'-6" between end bars, at 18 in: 13 and 26 1/3 spaces, so 14 and 28 bars (by hand)
    mat = bar_mat(plan_of(text), 18 * INCH, 3 * INCH, "run through", INCH / 2)
    assert (in_feet(mat.along), in_feet(mat.across)) == ({39.5: 14}, {19.5: 28})
    assert sum(piece.area for piece in mat.pieces) == pytest.approx(39.5 * 19.5 * FOOT**2)


def test_a_mat_that_stops_at_joints_stops_two_inches_clear() -> None:
    # panels of 10, 15 and 15 ft: 10' - 3" - 2", 15' - 2" - 2", 15' - 2" - 3"; ACI 350R-89 stops 2 in clear (quoted)
    mat = bar_mat(plan_of(JOINTED), 18 * INCH, 3 * INCH, "stop", INCH / 2)
    assert in_feet(mat.along) == {9.583: 14, 14.583: 14, 14.667: 14}
    assert in_feet(mat.across) == {19.5: 8 + 11 + 11}  # 9'-7": 6.4 spaces; 14'-8" and 14'-7": 9.8 and 9.7


def test_half_the_bars_run_through_a_joint() -> None:
    mat = bar_mat(plan_of(JOINTED), 18 * INCH, 3 * INCH, "half through", INCH / 2)
    assert in_feet(mat.along) == {9.583: 7, 14.583: 7, 14.667: 7, 39.5: 7}


def test_an_opening_cuts_the_bars_it_lies_under() -> None:
    text = PAD + "openings: [{corners: [[18, 8], [22, 8], [22, 12], [18, 12]]}]\n"
    mat = bar_mat(plan_of(text), 18 * INCH, 3 * INCH, "run through", INCH / 2)
    # bars stand at 3 in + n x 18 in: from 7.75 to 12.25 ft those at 7.75, 9.25, 10.75 and 12.25; the ends of the
    # opening less 3 in lie at 17.75 and 22.25 ft: 17'-6" long each
    assert in_feet(mat.along) == {17.5: 8, 39.5: 10}


def test_mesh_strips_by_hand() -> None:
    # 5 ft sheets lapped 8 in cover 4'-4" each after the first: 20 ft takes 1 + 15/4.33 = 5 strips of 40 ft
    strips, mats = mesh_strips(plan_of(PAD), 5 * FOOT, 8 * INCH, 0.0, "run through")
    assert in_feet(strips) == {40.0: 5}
    assert sum(mat.area for mat in mats) == pytest.approx(800 * FOOT**2)


SHEETS = """format: 1
job: {name: Deck}
units: {plan: m, height: m}
use: driveway
outline: [[0, 0], [9.1, 0], [9.1, 4.55], [0, 4.55]]
thickness: {design: 150 mm}
joints: [{name: J1, kind: saw cut, from: [4.55, 0], to: [4.55, 4.55], depth: 40 mm}]
reinforcement: {mesh: {style: A193, lap: 250 mm, at_joints: JOINTS}}
"""


def test_a_deck_of_british_sheets_by_hand() -> None:
    """Sheets of 4.8 by 2.4 m, 50 mm off the edges, lapped 250 mm; by hand.

    Run through: 9.0 by 4.45 m. Along: (4.45 - 0.25) / 2.15 = 1.95, so 2 strips of 9.0 m. Each is a sheet and 4.45 m of
    another, lapped: 4 sheets of 3.02 kg/m2 and 11.52 m2, 139.2 kg. Half through is the same deck, and of the wires
    200 mm apart that cross 4.55 m of joint, 22.75, every second one is cut: 12. Stopped, two fields of 4.45 by 4.45 m
    (4.55 less 50 at the edge and 50 at the joint): 2 strips of 4.45 m each, 4 sheets.
    """
    for joints, cut in (("run through", 0), ("half through", 12), ("stop", 0)):
        found = all_steel(plan_of(SHEETS.replace("JOINTS", joints)))
        assert found is not None
        (mesh,) = found.meshes
        assert (mesh.length, mesh.width, mesh.lap, mesh.wires_cut) == (4.8, 2.4, 0.25, cut), joints
        assert (mesh.plan.bars, round(mesh.mass, 1)) == (4, 139.2), joints
