"""A copy of a design with its remedies applied, one after the other, each judged before it stays.

Remarks and the layout of the file are kept. Joint depths, cover, filler, mix and order are put right without asking;
heights, the lines of joints and thickness only where the person asks for them by name. Where remedies leave something
on heights and water, heights proposed for the whole slab take their place if they leave less.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.proposals import height_search
from slabwright.review import remedies, run
from slabwright.review.remedies import Bench, Outcome
from slabwright.review.report import Comment, Report
from slabwright.rulebook.kit import Limits, Rule
from slabwright.rulebook.remedy import Edit, Remedy, Write
from slabwright.text.words import Words, words
from slabwright.units.quantity import System

Named = Literal["heights", "joints", "thickness"]  # only put right where they are asked for by name
NAMED: tuple[Named, ...] = ("heights", "joints", "thickness")
MOST_ROUNDS = 60  # changes in one copy; a design with more wants a new drawing


@dataclass(frozen=True, slots=True)
class Change:
    """One remedy applied: the comment it settles, in the review it came from, and what was done."""

    rule: str
    weight: str
    says: Words
    done: Words
    paths: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PutRight:
    """The text of the copy, what was changed in it, and its review."""

    text: str
    changes: tuple[Change, ...]
    report: Report
    plan: Plan


def kind_of(edit: Edit) -> Named | None:
    """Whether an edit moves heights, draws or moves joints, or changes thickness; None for all else.

    >>> from slabwright.units.quantity import depth
    >>> kind_of(Write("joints[0].depth", depth(0.03))), kind_of(Write("thickness.design", depth(0.15)))
    (None, 'thickness')
    """
    section = edit.path.partition(".")[0].partition("[")[0]
    if section == "joints" and isinstance(edit, Write) and not edit.path.endswith((".from", ".to", ".along")):
        return None
    return next((name for name in NAMED if name == section), None)


def allowed(remedy: Remedy, asked: Collection[str]) -> bool:
    """Whether all edits of a remedy may be made with what was asked for by name."""
    return bool(remedy.edits) and all((kind := kind_of(edit)) is None or kind in asked for edit in remedy.edits)


def put_right(
    path: Path,
    text: str,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    system: System,
    asked: Collection[str] = (),
) -> PutRight:
    """Apply what holds, heaviest comments first, until nothing more does.

    ``asked`` names what may be changed beyond what is always safe: ``heights``, ``joints``, ``thickness``.

    Raises :class:`UnreadableError` when the design cannot be read.
    """
    changes: list[Change] = []
    bench, report = _bench(path, text, rules, limits, system)
    for _ in range(MOST_ROUNDS):
        step = _next(bench, report, asked)
        if step is None:
            break
        text, change = step
        changes.append(change)
        bench, report = _bench(path, text, rules, limits, system)
    if "heights" in asked and (found := height_search.fewer(bench, report)) is not None:
        text, points = found.text, [one.height.name for one in found.points]
        told = report.comments[height_search.left(report)[0] - 1]
        done = words("set the heights proposed at {points}", points=", ".join(points))
        changes.append(
            Change(told.rule, told.weight, told.says, done, tuple(f"heights.finish.{one}" for one in points))
        )
        bench, report = _bench(path, text, rules, limits, system)
    return PutRight(text, tuple(changes), remedies.advised(report, bench), bench.plan)


def _next(bench: Bench, report: Report, asked: Collection[str]) -> tuple[str, Change] | None:
    """The first remedy that holds and may be applied, with the text it gives."""
    for comment in report.comments:
        if comment.variance is not None:
            continue
        for remedy in comment.remedies:
            if not allowed(remedy, asked):
                continue
            trial = remedies.tried(remedy, comment, bench)
            if trial.outcome is Outcome.HOLDS:
                return trial.text, _change(comment, remedy)
    return None


def _change(comment: Comment, remedy: Remedy) -> Change:
    paths = tuple(dict.fromkeys(edit.path for edit in remedy.edits))
    return Change(comment.rule, comment.weight, comment.says, remedy.says, paths)


def _bench(
    path: Path, text: str, rules: Sequence[Rule], limits: Mapping[str, Limits], system: System
) -> tuple[Bench, Report]:
    design, questions = read_text(path, text)
    plan, concluded = Plan(design._replace(system=system)), run.Conclusions()
    run.conclude([(plan, concluded)], rules, limits)
    report = run.report(plan, rules, limits, concluded, questions)
    return Bench(path, text, plan, rules, limits, concluded), report
