"""Heights that the review passes: what moves and what holds it there, what they take, and the room they leave."""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

import numpy as np

from slabwright.design.model import Design
from slabwright.plan.grades import NewHeight
from slabwright.plan.plan import Plan
from slabwright.plan.water import WaterShare
from slabwright.proposals.heights import program
from slabwright.proposals.heights.earth import Earth, earth_of
from slabwright.proposals.heights.job import HEIGHT_GROUPS, SAME, Job
from slabwright.proposals.heights.rounds import Settled
from slabwright.review.report import Report

AS_DRAWN = "the folds as drawn"
ONE_PLANE = "one straight plane"


class Governed(NamedTuple):
    """A point that moves: its heights, m, and what keeps it from staying."""

    height: NewHeight
    by: str


class Room(NamedTuple):
    """How far a fixed height could be raised or brought down, m, before nothing holds any more (3 m at most)."""

    name: str
    up: float
    down: float


class Found(NamedTuple):
    """Heights that the review passes, on some folds."""

    folds: str  # "the folds as drawn", "one straight plane", "a valley from ... to ..."
    text: str
    plan: Plan
    report: Report
    points: tuple[Governed, ...]
    rooms: tuple[Room, ...]
    least: float  # fall of the flattest part
    most: float
    shares: tuple[WaterShare, ...]
    brings: tuple[str, ...]  # holds and cautions of other rules that come with it
    moved: float  # m, all points together
    cost: float
    earth: Earth
    concrete: float  # m3


def kept_off_street(found: Found) -> bool:
    """Whether wheels come up from the street without a bump that the review notes."""
    return not any(one.limit.name == "street_lip_at_most" for one in found.report.comments)


def found_in(
    before: Report,
    job: Job,
    plan: Plan,
    text: str,
    report: Report,
    folds: str,
    settled: Settled | None = None,
    cost: float = 0.0,
) -> Found:
    """A plan with its review, as a proposal."""
    old = {spot.at.name: spot.height.si for spot in job.plan.design.heights.finish}
    new = {spot.at.name: spot.height.si for spot in plan.design.heights.finish}
    changed = [
        NewHeight(name, z if name in job.added else old[name], z)
        for name, z in new.items()
        if name in job.added or abs(old[name] - z) > SAME
    ]
    governs = _governs(job.plan.design, settled) if settled is not None else {}
    points = tuple(Governed(one, governs.get(one.name, "")) for one in changed)
    surface = plan.finish.surface
    slopes = [0.0] if surface is None else surface.slopes[surface.areas > 0.02].tolist() or [0.0]
    return Found(
        folds=folds,
        text=text,
        plan=plan,
        report=report,
        points=points,
        rooms=rooms_of(settled) if settled is not None else (),
        least=min(slopes),
        most=max(slopes),
        shares=plan.water.shares,
        brings=_brings(before, report),
        moved=sum(abs(one.new - one.old) for one in changed),
        cost=cost,
        earth=earth_of(job, plan),
        concrete=plan.concrete.quantities.net,
    )


def _governs(design: Design, settled: Settled) -> dict[str, str]:
    """For each point what holds it where it is: the row that would cost the most if more were asked."""
    found: dict[str, str] = {}
    pull = np.abs(settled.solution.duals)
    for k, spot in enumerate(design.heights.finish):
        by = [(pull[r] * abs(row.terms[k]), -r) for r, row in enumerate(settled.rows)]
        most, number = max(by, default=(0.0, 0))
        if most > 1e-9:
            found[spot.at.name] = settled.rows[-number].group
    return found


def rooms_of(settled: Settled) -> tuple[Room, ...]:
    """The room left at each fixed height."""
    drawn, rows = settled.z, settled.rows
    names = dict.fromkeys(row.group for row in rows if row.sort == "fixed")
    return tuple(
        Room(name, program.room(rows, drawn, name, raised=True), program.room(rows, drawn, name, raised=False))
        for name in names
    )


def _brings(before: Report, after: Report) -> tuple[str, ...]:
    """Holds and cautions of other groups that there were not before."""
    spare = Counter((one.rule, one.weight) for one in before.comments if one.variance is None)
    found = []
    for one in after.comments:
        if one.variance is None and one.weight != "note" and one.group not in HEIGHT_GROUPS:
            spare[one.rule, one.weight] -= 1
            if spare[one.rule, one.weight] < 0:
                found.append(f"{one.rule} at {one.at.name}")
    return tuple(found)
