"""Other folds, where those drawn make it impossible: one plane, or one new fold between two places on the edge.

The fold is a valley, the ridge of a crown, or the break at which a warp to an old slab ends. Each is searched among
places on the edge, coarsely first, then by the foot from the best.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate, combinations, pairwise, product
from typing import NamedTuple

from slabwright.design.heights import LineKind
from slabwright.design.read import read_text
from slabwright.formulas.units import FOOT
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.xy import XY
from slabwright.plan.edges import EdgePiece
from slabwright.plan.plan import Plan
from slabwright.plan.shape import ON_EDGE
from slabwright.proposals.heights.clash import off_walls_clash
from slabwright.proposals.heights.found import ONE_PLANE, Found
from slabwright.proposals.heights.held_rows import PAVED
from slabwright.proposals.heights.job import Job
from slabwright.proposals.heights.rounding import rounded
from slabwright.proposals.heights.rounds import MISSED, ROUNDS, Settled, clashes, settle
from slabwright.review import trials
from slabwright.review.report import Report
from slabwright.rulebook.remedy import Append, Drop, Edit, Write, place_of
from slabwright.source.problem import UnreadableError
from slabwright.units.quantity import height, length, show

SECONDS = {"valley": 1.2, "ridge": 0.6, "grade break": 0.6}  # of one processor, for the search of each fold
SCREENED, WALKED = 2, 6  # rounds for a place that is only looked at; steps of a foot that are tried from the best
GRID = {"ft": FOOT, "in": FOOT, "m": 0.25, "cm": 0.25, "mm": 0.25}  # m
SHARES = (0.5, 0.25, 0.75)  # of an edge, where ends of a valley are tried first
SHORT = 1.2  # m: a shorter fold is a dip
FIRST_GUESS: dict[LineKind, float] = {"valley": -0.005, "ridge": 0.005, "grade break": 0.0}  # m, off the slab as drawn
MOST_WARPS = 6  # distances from an old slab at which a warp may end


class _Place(NamedTuple):
    """A place on the outline: a piece of it and the distance along it, m."""

    piece: EdgePiece
    along: float

    @property
    def at(self) -> XY:
        """The place on the plan."""
        left = self.along
        for (ax, ay), (bx, by) in pairwise(self.piece.line):
            size = math.dist((ax, ay), (bx, by))
            if left <= size + 1e-9 and size > 0:
                return ax + (bx - ax) * left / size, ay + (by - ay) * left / size
            left -= size
        return self.piece.line[-1]


class _Tried(NamedTuple):
    """A fold tried: its two ends, the design with it, and where the rounds ended."""

    kind: LineKind
    ends: tuple[_Place, _Place]
    job: Job
    settled: Settled


def alternatives(job: Job, before: Report, step: float, plane: bool = True) -> list[Found]:
    """Heights on other folds that the review passes: one plane, the best valley, crown and warp, where there are such.

    A ``plane`` lies on any folds: where a clash is proven on those drawn it need not be tried.
    """
    found = in_one_plane(job, before, step) if plane else []
    drawn = any(line.kind == "valley" for line in job.plan.design.heights.lines)
    only_valley = off_walls_clash(before) and not drawn  # whatever slopes from wall to rim cannot do it
    for kind, told in NAMES.items():
        best = _searched(job, kind) if kind == "valley" or not only_valley else None
        if best is not None:
            one, other = (best.ends[k].at for k in (0, 1))
            folds = f"{told} from {_told(job, one)} to {_told(job, other)}"
            found += rounded(best.job, best.settled, before, step, folds)
    return found


def in_one_plane(job: Job, before: Report, step: float) -> list[Found]:
    """Heights in one straight plane that the review passes, if there are any; folds that are drawn go."""
    bare = _edited(job, [Drop("heights.lines")] if job.plan.design.heights.lines else [], ())
    if bare is None:
        return []
    for by_drawn in (True, False):
        settled = settle(bare, by_drawn, flat=True)
        if settled is not None and settled.missed < MISSED:
            found = list(rounded(bare, settled, before, step, ONE_PLANE))
            if found:
                return found
    return []


def _told(job: Job, at: XY) -> str:
    """A place as a name, or as plan numbers with their unit."""
    name = job.plan.shape.name_at(at)
    return name if name in job.plan.design.points else " / ".join(
        show(length(number), job.plan.system, both=False) for number in at
    )  # fmt: skip


def _edited(job: Job, edits: Sequence[Edit], added: tuple[str, ...]) -> Job | None:
    """The job with edits made in its design; None where they do not fit."""
    text = trials.edited(job.text, edits, job.plan.design) if edits else job.text
    if text is None:
        return None
    try:
        design, _ = read_text(job.path, text)
        return job._replace(text=text, plan=Plan(design._replace(system=job.plan.system)), added=added)
    except UnreadableError:
        return None


def _searched(job: Job, kind: LineKind) -> _Tried | None:
    """The fold that misses nothing and moves the least: tried coarsely all round, then by the foot from the best."""
    until = time.process_time() + SECONDS[kind]
    tried: list[_Tried] = []
    for ends in _PAIRS[kind](job.plan):
        if time.process_time() > until:
            break
        one = _tried(job, kind, ends, SCREENED)
        tried += [one] if one is not None else []
    if not tried:
        return None
    best = min(tried, key=_badness)
    grid = GRID[job.plan.design.plan_unit]
    for _ in range(WALKED):
        better = best
        for ends in _beside(best.ends, grid):
            one = _tried(job, kind, ends, SCREENED) if time.process_time() < until else None
            better = min(better, one, key=_badness) if one is not None else better
        if better is best:
            break
        best = better
    ended = _tried(job, kind, best.ends, ROUNDS) if not clashes(best.settled) else None
    return ended if ended is not None and ended.settled.missed < MISSED else None


def _badness(one: _Tried) -> tuple[float, float]:
    return max(round(one.settled.missed, 5) - MISSED, 0.0), round(one.settled.solution.cost, 6)


def _for_valley(plan: Plan) -> Iterator[tuple[_Place, _Place]]:
    """A high end on any side, and a low end on one that takes water."""
    grid = GRID[plan.design.plan_unit]
    pieces = [piece for piece in plan.edges.pieces if piece.length > SHORT]
    for share in SHARES:
        for low in (piece for piece in pieces if piece.takes_water and not piece.dams):
            for high in (piece for piece in pieces if piece is not low):
                for other in SHARES:
                    ends = _on(high, other * high.length, grid), _on(low, share * low.length, grid)
                    if other == share and math.dist(ends[0].at, ends[1].at) > SHORT:
                        yield ends


def _for_ridge(plan: Plan) -> Iterator[tuple[_Place, _Place]]:
    """From equal parts of each side square across to a side that lies there, else to like parts of any other."""
    grid = GRID[plan.design.plan_unit]
    pieces = [piece for piece in plan.edges.pieces if piece.length > SHORT]
    for share, (one, other) in product(SHARES, combinations(pieces, 2)):
        first = _on(one, share * one.length, grid)
        _, side, part = nearest_on(other.line, first.at)
        marks = [0.0, *accumulate(math.dist(a, b) for a, b in pairwise(other.line))]
        across = marks[side] + part * (marks[side + 1] - marks[side])
        opposite = grid / 2 < across < other.length - grid / 2
        second = _Place(other, across) if opposite else _on(other, (1 - share) * other.length, grid)
        if math.dist(first.at, second.at) > SHORT:
            yield first, second


def _for_warp(plan: Plan) -> Iterator[tuple[_Place, _Place]]:
    """Along an old slab, so far from it on the sides that meet it: the slab warps between."""
    grid = GRID[plan.design.plan_unit]
    for old in (piece for piece in plan.edges.pieces if piece.beside in PAVED and piece.length > SHORT):
        sides = [
            (piece, at_end)
            for corner in (old.line[0], old.line[-1])
            for piece in plan.edges.pieces
            if piece is not old
            for at_end in (False, True)
            if math.dist(piece.line[-1 if at_end else 0], corner) < ON_EDGE
        ]
        if len(sides) != 2:
            continue
        for off in (number * 2 * grid for number in range(1, MOST_WARPS + 1)):
            if all(off < piece.length - grid for piece, _ in sides):
                first, second = (_on(piece, piece.length - off if at_end else off, grid) for piece, at_end in sides)
                yield first, second


NAMES: dict[LineKind, str] = {"valley": "a valley", "ridge": "a crown", "grade break": "a warp that ends"}
_PAIRS: dict[LineKind, Callable[[Plan], Iterator[tuple[_Place, _Place]]]] = {
    "valley": _for_valley, "ridge": _for_ridge, "grade break": _for_warp,
}  # fmt: skip


def _on(piece: EdgePiece, along: float, grid: float) -> _Place:
    """The place of a grid nearest to a distance along an edge; a point with a height that is nearly as near instead."""
    marks = list(accumulate(math.dist(a, b) for a, b in pairwise(piece.line)))[:-1]
    near = min(marks, key=lambda mark: abs(mark - along), default=math.inf)
    if abs(near - along) <= grid:
        return _Place(piece, near)
    whole = round(along / grid) * grid
    return _Place(piece, along if not grid / 2 < whole < piece.length - grid / 2 else whole)


def _beside(ends: tuple[_Place, _Place], grid: float) -> Iterator[tuple[_Place, _Place]]:
    """Both ends moved by a step along their edges, one at a time and together."""
    high, low = ends
    for first, second in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1)):
        one, other = high.along + first * grid, low.along + second * grid
        if grid / 2 < one < high.piece.length - grid / 2 and grid / 2 < other < low.piece.length - grid / 2:
            yield high._replace(along=one), low._replace(along=other)


def _tried(job: Job, kind: LineKind, ends: tuple[_Place, _Place], rounds: int) -> _Tried | None:
    """The design with a fold drawn between two places of its outline, and heights for it."""
    names, edits = _named(job.plan, ends), [Drop("heights.lines")] if job.plan.design.heights.lines else []
    drawn: list[Edit] = [*edits]
    for name, place in zip(names, ends, strict=True):
        now = job.plan.finish.at(place.at)
        if now is None:
            return None
        if name not in job.plan.design.points:
            drawn.append(Write(f"points.{name}", place_of(place.at)))
        if not any(spot.at.name == name for spot in job.plan.design.heights.finish):
            drawn.append(Write(f"heights.finish.{name}", height(now + FIRST_GUESS[kind])))
    entry = (("name", f"new {kind}"), ("kind", kind), ("along", names))
    there = {spot.at.name for spot in job.plan.design.heights.finish}
    new = _edited(job, [*drawn, Append("heights.lines", entry)], tuple(name for name in names if name not in there))
    settled = settle(new, False, rounds=rounds, give_up=True) if new is not None else None
    return _Tried(kind, ends, new, settled) if new is not None and settled is not None else None


def _named(plan: Plan, ends: tuple[_Place, _Place]) -> tuple[str, str]:
    """Names for the ends of a valley: those of points that are there, else new ones."""
    free = (f"V{number}" for number in range(1, 200) if f"V{number}" not in plan.design.points)
    first, second = (
        name if (name := plan.shape.name_at(place.at)) in plan.design.points else next(free) for place in ends
    )
    return first, second
