"""Remedies applied to the text of a design one after the other, each judged before it stays."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path

from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.review import remedies, run
from slabwright.review.concluding import conclude
from slabwright.review.likewise import as_one
from slabwright.review.remedies import Bench, Outcome
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.remedy import Remedy, Write
from slabwright.rulebook.rule import Rule
from slabwright.text.words import Words, words
from slabwright.units.quantity import System

MOST_ROUNDS = 60  # changes in one copy; a design with more wants a new drawing


@dataclass(frozen=True, slots=True)
class Change:
    """One remedy applied: the comment it settles, in the review it came from, and what was done."""

    rule: str
    weight: str
    says: Words
    done: Words
    paths: tuple[str, ...]
    brings: tuple[Words, ...] = ()  # notes that come with it


def bench_of(
    path: Path, text: str, rules: Sequence[Rule], limits: Mapping[str, Limits], system: System
) -> tuple[Bench, Report]:
    """A design read from its text and judged, shown in a system.

    Raises :class:`UnreadableError` when it cannot be read.
    """
    design, questions = read_text(path, text)
    plan, concluded = Plan(design._replace(system=system)), Conclusions()
    conclude([(plan, concluded)], rules, limits)
    report = run.report(plan, rules, limits, concluded, questions)
    return Bench(path, text, plan, rules, limits, concluded), report


def applied(bench: Bench, report: Report, allowed: Callable[[Remedy], bool]) -> tuple[list[Change], Bench, Report]:
    """Apply the remedies that hold and are allowed, heaviest comments first, until nothing more does."""
    changes: list[Change] = []
    written: set[str] = set()  # each value is written once: two remedies against each other would go to and fro
    for _ in range(MOST_ROUNDS):
        step = _next(bench, report, allowed, written)
        if step is None:
            break
        text, change = step
        changes.append(change)
        written.update(change.paths)
        bench, report = bench_of(bench.path, text, bench.rules, bench.limits, bench.plan.system)
    return changes, bench, report


def _next(
    bench: Bench, report: Report, allowed: Callable[[Remedy], bool], written: Collection[str]
) -> tuple[str, Change] | None:
    """The first remedy that holds and may be applied, with the text it gives; none writes a value twice.

    None is applied that brings a hold or a caution of a rule that had none; of a comment's remedies one that brings
    nothing goes before one that brings a note, and one that settles all its places before those of each.
    """
    stood = {one.rule for one in report.comments if one.weight != "note"}
    for comment in chain.from_iterable((one, *one.alike) for one in as_one(report, bench.plan.design).comments):
        if comment.variance is not None:
            continue
        held: list[tuple[str, Change]] = []
        for remedy in comment.remedies:
            again = any(isinstance(edit, Write) and edit.path in written for edit in remedy.edits)
            if again or not allowed(remedy):
                continue
            trial = remedies.tried(remedy, comment, bench)
            heavy = {rule for rule, finding in trial.brings if finding.limit.weight != "note"}
            if trial.outcome is not Outcome.HOLDS or heavy - stood:
                continue
            notes = tuple(
                words("{rule} at {place}", rule=rule, place=finding.at.name)
                for rule, finding in trial.brings
                if finding.limit.weight == "note"
            )
            if not notes:
                return trial.text, _change(comment, remedy)
            held.append((trial.text, replace(_change(comment, remedy), brings=notes)))
        if held:
            return held[0]
    return None


def _change(comment: Comment, remedy: Remedy) -> Change:
    paths = tuple(dict.fromkeys(edit.path for edit in remedy.edits))
    return Change(comment.rule, comment.weight, comment.told, remedy.says, paths)
