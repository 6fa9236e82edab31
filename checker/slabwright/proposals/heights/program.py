"""Linear programs over the heights of points: rows with the name of what asks for them, solved by HiGHS.

Every row is in meters: ``terms @ z >= least``. HiGHS comes with ``pip install 'slabwright[propose]'`` and is loaded
here alone, when the first program is solved.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from functools import cache
from itertools import combinations
from typing import Any, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from slabwright.source.problem import refuse

Floats = NDArray[np.float64]
Sort = Literal["fixed", "asked"]  # what a fixed height asks, or a limit

SMALLEST = 1e-9  # coefficients under this are left out: HiGHS refuses them
PRICE = 1000.0  # of a meter missed, against a meter that a point moves
CHOICES = 400  # sets of one size that are tried for a clash
MISSED = 2e-6  # m: what a row misses by less is rounding of the solver


class Row(NamedTuple):
    """One thing asked of the heights: ``terms @ z >= least``, m.

    ``group`` names who asks; ``shift`` is how much ``least`` grows for each meter that a fixed thing is raised. It is
    ``sure`` where no surface on these folds could do without it, whichever way its parts fall.
    """

    group: str
    sort: Sort
    terms: Floats  # (n,)
    least: float
    shift: float = 0.0
    sure: bool = True


class Costs(NamedTuple):
    """What a meter up and a meter down costs at each point, (n,)."""

    up: Floats
    down: Floats


class Solution(NamedTuple):
    """Heights (n,), what each row misses (r,), m, and what a meter more asked of each row would cost (r,)."""

    z: Floats
    misses: Floats
    duals: Floats
    cost: float


@cache
def solver() -> Any:
    """The package highspy; raises :class:`UnreadableError` with what to install where it is not there."""
    try:
        import highspy  # installed where it is wanted
    except ImportError:
        wrong = "propose heights needs the solver highspy, which is not installed here"
        refuse("", wrong, "pip install 'slabwright[propose]'")
    return highspy


@cache
def _quiet() -> Any:
    """The solver without its callbacks, which would print who made it on standard output."""

    class Quiet(solver().Highs):  # type: ignore[misc]
        def enableCallbacks(self) -> None:  # noqa: N802
            """None are wanted."""

    return Quiet


def least_moved(
    rows: Sequence[Row], drawn: Floats, costs: Costs, elastic: bool = True, least_more: Floats | None = None
) -> Solution | None:
    """The heights that keep the rows and move the least, by cost; ``elastic`` lets rows be missed at a high price.

    ``least_more`` (r,) is asked on top of every row, m. None where rows that may not be missed cannot all be kept.
    """
    matrix, least = _stacked(rows, len(drawn))
    least = least - matrix @ drawn + (0.0 if least_more is None else least_more)
    blocks, price = [matrix, -matrix], [costs.up, costs.down]
    if elastic:
        blocks.append(np.eye(len(rows)))
        price.append(np.full(len(rows), PRICE))
    found = _solved(np.concatenate(price), np.hstack(blocks), least)
    if found is None:
        return None
    values, duals, cost = found
    n = len(drawn)
    misses = values[2 * n :] if elastic else np.zeros(len(rows))
    return Solution(drawn + values[:n] - values[n : 2 * n], misses, duals, cost)


def on_steps(
    rows: Sequence[Row],
    drawn: Floats,
    costs: Costs,
    near: Floats,
    step: float,
    free: NDArray[np.bool_],
    seconds: float,
) -> Floats | None:
    """The same with every height that is ``free`` to move on a whole step; None where none are found.

    Looked for within four steps of the heights ``near`` (n,).
    """
    n, reach = len(drawn), 4
    matrix, least = _stacked(rows, n)
    base = np.where(free, np.round(near / step), 0.0)
    start = np.where(free, base * step, drawn)
    # columns: whole steps off the start, then how far up and down that is from what is drawn
    kept = np.diag(np.where(free, step, 0.0))
    balance = np.hstack([kept, -np.eye(n), np.eye(n)])
    block = np.vstack([np.hstack([matrix * step * free, np.zeros((len(rows), 2 * n))]), balance, -balance])
    asked = np.concatenate([least - matrix @ start, drawn - start, start - drawn])
    lower = np.concatenate([np.where(free, -float(reach), 0.0), np.zeros(2 * n)])
    upper = np.concatenate([np.where(free, float(reach), 0.0), np.full(2 * n, np.inf)])
    price = np.concatenate([np.zeros(n), costs.up, costs.down])
    found = _solved(price, block, asked - 1e-7, lower, upper, whole=n, seconds=seconds)
    return None if found is None else start + np.round(found[0][:n]) * step * free


def feasible(rows: Sequence[Row], drawn: Floats) -> bool:
    """Whether any heights at all keep the rows."""
    zero = np.zeros(len(drawn))
    return least_moved(rows, drawn, Costs(zero, zero), elastic=False) is not None


def smallest_clash(rows: Sequence[Row], drawn: Floats) -> tuple[str, ...]:
    """The fewest groups of rows that cannot all be kept; empty without a clash.

    One group after the other is left out, and stays out where the rest clashes without it. What remains clashes, and
    any of it left out lets the others be. Fewer groups that clash by themselves are then looked for, as far as there
    are no more than some hundreds of choices.
    """
    if feasible(rows, drawn):
        return ()
    names = list(dict.fromkeys(row.group for row in rows))
    kept = list(names)
    fixed = {row.group for row in rows if row.sort == "fixed"}
    for name in sorted(names, key=lambda one: one in fixed):  # what stays names fixed heights where it can
        trial = [one for one in kept if one != name]
        if not feasible(of_groups(rows, trial), drawn):
            kept = trial
    for size in range(1, len(kept)):
        if math.comb(len(names), size) > CHOICES:
            break
        fewer = (one for one in combinations(names, size) if not feasible(of_groups(rows, one), drawn))
        if (found := next(fewer, None)) is not None:
            return found
    return tuple(one for one in names if one in kept)


def of_groups(rows: Iterable[Row], groups: Collection[str]) -> list[Row]:
    """The rows of some groups."""
    return [row for row in rows if row.group in groups]


def least_miss(rows: Sequence[Row], drawn: Floats) -> float:
    """The least that can be let off every row alike, m, so that all are kept."""
    matrix, least = _stacked(rows, len(drawn))
    block = np.hstack([matrix, np.ones((len(rows), 1))])
    lower = np.append(np.full(len(drawn), -np.inf), 0.0)
    found = _solved(np.append(np.zeros(len(drawn)), 1.0), block, least - matrix @ drawn, lower)
    return float("inf") if found is None else found[2]


def least_shift(rows: Sequence[Row], drawn: Floats, group: str) -> float | None:
    """How far the fixed thing of a group has to be raised (below zero: brought down) so that all rows are kept, m."""
    matrix, least = _stacked(rows, len(drawn))
    shift = np.array([row.shift if row.group == group else 0.0 for row in rows])
    if not shift.any():
        return None
    block = np.hstack([matrix, -shift[:, None], shift[:, None]])
    lower = np.append(np.full(len(drawn), -np.inf), [0.0, 0.0])
    price = np.append(np.zeros(len(drawn)), [1.0, 1.0])
    found = _solved(price, block, least - matrix @ drawn, lower)
    return None if found is None else float(found[0][-2] - found[0][-1])


def room(rows: Sequence[Row], drawn: Floats, group: str, raised: bool) -> float:
    """How far the fixed thing of a group could be raised, or brought down, while all rows can still be kept, m."""
    matrix, least = _stacked(rows, len(drawn))
    way = 1.0 if raised else -1.0
    shift = np.array([way * row.shift if row.group == group else 0.0 for row in rows])
    block = np.hstack([matrix, -shift[:, None]])
    lower, upper = np.append(np.full(len(drawn), -np.inf), 0.0), np.append(np.full(len(drawn), np.inf), FAR)
    found = _solved(np.append(np.zeros(len(drawn)), -1.0), block, least - matrix @ drawn, lower, upper)
    return 0.0 if found is None else float(found[0][-1])


FAR = 3.0  # m: room beyond this is no limit to anything


def _stacked(rows: Sequence[Row], n: int) -> tuple[Floats, Floats]:
    matrix = np.array([row.terms for row in rows]).reshape(len(rows), n)
    return matrix, np.array([row.least for row in rows], dtype=np.float64)


def _solved(
    price: Floats,
    matrix: Floats,
    least: Floats,
    lower: Floats | None = None,
    upper: Floats | None = None,
    whole: int = 0,
    seconds: float = 10.0,
) -> tuple[Floats, Floats, float] | None:
    """The cheapest columns with ``matrix @ columns >= least``: their values, the price of each row, and the cost.

    Columns are at least zero where ``lower`` does not say otherwise; the first ``whole`` of them are whole numbers.
    None where there are none.
    """
    highspy = solver()
    rows, columns = matrix.shape
    used = np.abs(matrix) > SMALLEST
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = columns, rows
    program.col_cost_ = price
    program.col_lower_ = np.zeros(columns) if lower is None else lower
    program.col_upper_ = np.full(columns, np.inf) if upper is None else upper
    program.row_lower_, program.row_upper_ = least, np.full(rows, np.inf)
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = np.concatenate([[0], np.cumsum(used.sum(axis=1))]).astype(np.int32)
    program.a_matrix_.index_ = np.nonzero(used)[1].astype(np.int32)
    program.a_matrix_.value_ = matrix[used]
    if whole:
        sorts = highspy.HighsVarType
        program.integrality_ = [sorts.kInteger] * whole + [sorts.kContinuous] * (columns - whole)
    highs = _quiet()()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("time_limit", seconds)
    highs.passModel(program)
    highs.run()
    status = highs.getModelStatus()
    solution = highs.getSolution()
    stopped = status == highspy.HighsModelStatus.kTimeLimit and whole and solution.value_valid
    if status != highspy.HighsModelStatus.kOptimal and not stopped:
        return None
    values = np.array(solution.col_value, dtype=np.float64)
    duals = np.zeros(rows) if whole else np.array(solution.row_dual, dtype=np.float64)
    return values, duals, float(highs.getInfo().objective_function_value)
