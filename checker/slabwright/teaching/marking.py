"""Marking: what became of the slips of an exercise in a corrected file, told without giving the answer away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import yaml

from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Comment, Report
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.files import read_text
from slabwright.teaching.exercise import Exercise
from slabwright.teaching.slips import Slip

Fate = Literal["found", "missed", "taken out"]

_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
_FACTS = ("format", "use", "site", "points", "outline", "openings", "fixed", "loads", "measured")
_OF_EDGES = ("run", "rest", "beside", "name", "ground", "takes_water")


@dataclass(frozen=True, slots=True)
class Marked:
    """The fate of each slip, in their order; comments that were not there before; facts that were changed."""

    fates: tuple[Fate, ...]
    broken: tuple[Comment, ...]
    facts: tuple[str, ...]
    report: Report

    @property
    def right(self) -> bool:
        """Whether every slip is found and nothing else is wrong."""
        return set(self.fates) == {"found"} and not self.broken and not self.facts


def marked(made: Exercise, path: Path, rules: Sequence[Rule], limits: Mapping[str, Limits]) -> Marked:
    """A corrected file held against its exercise.

    :raises UnreadableError: where it cannot be read as a design.
    """
    text = read_text(path)
    design, questions = read_design(path)
    report = run.review(Plan(design), rules, limits, questions)
    of_slips = {rule for slip in made.slips for rule in made.spoke(slip)}
    broken = tuple(comment for comment in report.comments if comment.rule not in of_slips)
    return Marked(tuple(_fate(made, slip, report) for slip in made.slips), broken, tuple(_facts(made, text)), report)


def _fate(made: Exercise, slip: Slip, report: Report) -> Fate:
    spoke = made.spoke(slip)
    if any(comment.rule in spoke and comment.variance is None for comment in report.comments):
        return "missed"
    judged = {met.rule for met in report.met}
    if any(comment.rule in spoke for comment in report.comments):
        return "taken out"  # a variance accepts it
    asked = [rule for rule in spoke if rule in slip.rules]
    return "found" if any(rule in judged for rule in asked) else "taken out"


def _facts(made: Exercise, text: str) -> Iterator[str]:
    """Where a fact of the site or of the job was changed or left out that no slip had touched; adding is allowed."""
    before, now = (yaml.load(one, _LOADER) for one in (made.text, text))
    touched = {path.replace("[", ".").partition(".")[0] for slip in made.slips for path in slip.paths}
    for key in _FACTS:
        if key not in touched and _lost(before.get(key), now.get(key)):
            yield key
    old, new = before.get("edges", []), now.get("edges", [])
    if "edges" not in touched and isinstance(old, list) and isinstance(new, list):
        kept = [{key: edge[key] for key in _OF_EDGES if key in edge} for edge in old if isinstance(edge, dict)]
        if any(not any(not _lost(edge, other) for other in new) for edge in kept):
            yield "edges"


def _lost(before: object, now: object) -> bool:
    """Whether something written before is not written now."""
    if isinstance(before, dict):
        return not isinstance(now, dict) or any(_lost(one, now.get(key)) for key, one in before.items())
    return before is not None and before != now
