"""A design that heights are searched for, and what its review leaves on heights and water."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np

from slabwright.design.model import Design
from slabwright.design.read import read_text
from slabwright.formulas.units import FOOT, INCH
from slabwright.plan.finish import coarsest
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.concluding import conclude
from slabwright.review.report import Conclusions, Report
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.problem import refuse
from slabwright.units.quantity import Kind, System

MOST_POINTS = 80  # more heights than that are a survey, and no drawing
SAME = 1e-6  # m: heights that differ by less are one
STEPS = {  # m, in which heights are written, coarsest first: 0.01 ft, 1/8 in and finer; 5 mm, 1 mm
    "ft": (0.01 * FOOT, INCH / 8, 0.005 * FOOT, INCH / 16, 0.001 * FOOT),
    "in": (INCH / 8, INCH / 16, 0.001 * FOOT),
    "m": (0.005, 0.001),
    "cm": (0.005, 0.001),
    "mm": (0.005, 0.001),
}
HEIGHT_GROUPS = ("heights", "water")
NOT_OF_HEIGHT = (Kind.LENGTH, Kind.COUNT, Kind.ANGLE)  # what is too short, or too few, no height puts right


class Job(NamedTuple):
    """A design as text and worked, and what it is judged by."""

    path: Path
    text: str
    plan: Plan
    rules: Sequence[Rule]
    limits: Mapping[str, Limits]
    added: tuple[str, ...] = ()  # points that the drawing did not have: moving them costs nothing


def job_of(
    path: Path, text: str, rules: Sequence[Rule], limits: Mapping[str, Limits], system: System | None = None
) -> Job:
    """A design read for a proposal, shown as it says or in ``system``.

    Raises :class:`UnreadableError` when it cannot be read.
    """
    design, _ = read_text(path, text)
    return Job(path, text, Plan(design._replace(system=system or design.system)), rules, limits)


def movable(job: Job) -> None:
    """Raise :class:`UnreadableError` for a design whose heights cannot be moved."""
    plan, names = job.plan, [spot.at.name for spot in job.plan.design.heights.finish]
    if plan.finish.missing:
        wrong = f"no height is given at {', '.join(plan.finish.missing[:8])}, so there is no surface to move"
        refuse(str(job.path), wrong, "heights.finish: a first guess at every corner, such as all at one height")
    if not names or plan.finish.surface is None:
        refuse(str(job.path), "no heights are given", "heights.finish: a first guess at every corner")
    if len(names) > MOST_POINTS or not all(names):
        wrong = f"its finish heights are a survey of {len(names)} shots, not heights of points to be set"
        refuse(str(job.path), wrong, "heights.finish: {A: 99.90, B: 99.90, ...} at the corners and folds")


def step_of(design: Design) -> float:
    """The step in which the heights of a file are written, m: 0.01 ft, 1/8 in, 5 mm or finer."""
    return coarsest(STEPS[design.height_unit], np.array([spot.height.si for spot in design.heights.finish]))


def reviewed(job: Job, plan: Plan) -> Report:
    """The review of a plan by the rules of a job."""
    concluded = Conclusions()
    conclude([(plan, concluded)], job.rules, job.limits)
    return run.report(plan, job.rules, job.limits, concluded, figured=False)


def left(report: Report) -> tuple[int, ...]:
    """Numbers of the holds and cautions on heights and water that heights could put right."""
    return tuple(
        one.number
        for one in report.comments
        if one.group in HEIGHT_GROUPS
        and one.weight != "note"
        and one.variance is None
        and one.shown.kind not in NOT_OF_HEIGHT
    )
