"""Remedies applied to the text of a design one after the other, each judged before it stays."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path

from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.review import run, trials
from slabwright.review.concluding import conclude
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Conclusions, Report
from slabwright.review.trials import Bench, Outcome
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
    start, steps = bench, list[tuple[Remedy, Change]]()
    written: set[str] = set()  # each value is written once: two remedies against each other would go to and fro
    for _ in range(MOST_ROUNDS):
        step = _next(bench, report, allowed, written)
        if step is None:
            break
        text, remedy, change = step
        steps.append((remedy, change))
        written.update(change.paths)
        bench, report = bench_of(bench.path, text, bench.rules, bench.limits, bench.plan.system)
    for idle in _overtaken(steps):  # a slab that was raised later may ask nothing of the ground beside it
        others = [step for step in steps if step[1].paths != idle]
        bare = _with(start, [remedy for remedy, _ in others])
        if bare is not None:
            without = bench_of(start.path, bare, start.rules, start.limits, start.plan.system)
            if _standing(without[1]) <= _standing(report):
                (bench, report), there = without, _notes(without[1])
                steps = [(remedy, _still_bringing(one, there)) for remedy, one in others]
    return [change for _, change in steps], bench, report


def _overtaken(steps: Sequence[tuple[Remedy, Change]]) -> list[tuple[str, ...]]:
    """What steps write that move nothing but ground beside the slab, with one after them that moves the slab."""
    last = max((k for k, (_, one) in enumerate(steps) if any(map(_of_finish, one.paths))), default=0)
    return [change.paths for _, change in steps[:last] if all(map(_of_ground, change.paths))]


def _still_bringing(change: Change, notes: Collection[tuple[str, str]]) -> Change:
    """A change with those of its notes that are still there."""
    brings = tuple(one for one in change.brings if (one.values["rule"], one.values["place"]) in notes)
    return replace(change, brings=brings)


def _notes(report: Report) -> set[tuple[str, str]]:
    return {(one.rule, one.at.name) for one in report.comments if one.weight == "note"}


def _of_finish(path: str) -> bool:
    return path.startswith("heights.finish.")


def _of_ground(path: str) -> bool:
    return path.startswith("edges[") and ".ground" in path


def _with(bench: Bench, each: Sequence[Remedy]) -> str | None:
    """The text with some remedies applied; None where one finds nothing to change."""
    text: str | None = bench.text
    for remedy in each:
        text = trials.edited(text, remedy.edits, bench.plan.design) if text is not None else None
    return text


def _standing(report: Report) -> tuple[int, int, int]:
    return report.holds, report.counted("caution"), report.counted("note")


def _next(
    bench: Bench, report: Report, allowed: Callable[[Remedy], bool], written: Collection[str]
) -> tuple[str, Remedy, Change] | None:
    """The first remedy that holds and may be applied, after the text it gives; none writes a value twice.

    None is applied that brings a hold or a caution of a rule that had none; of a comment's remedies one that brings
    nothing goes before one that brings a note, and one that settles all its places before those of each.
    """
    stood = {one.rule for one in report.comments if one.weight != "note"}
    for comment in chain.from_iterable((one, *one.alike) for one in as_one(report, bench.plan.design).comments):
        if comment.variance is not None:
            continue
        held: list[tuple[str, Remedy, Change]] = []
        for remedy in comment.remedies:
            again = any(isinstance(edit, Write) and edit.path in written for edit in remedy.edits)
            if again or not allowed(remedy):
                continue
            trial = trials.tried(remedy, comment, bench)
            heavy = {rule for rule, finding in trial.brings if finding.limit.weight != "note"}
            if trial.outcome is not Outcome.HOLDS or heavy - stood:
                continue
            notes = tuple(
                words("{rule} at {place}", rule=rule, place=finding.at.name)
                for rule, finding in trial.brings
                if finding.limit.weight == "note"
            )
            if not notes:
                return trial.text, remedy, _change(comment, remedy)
            held.append((trial.text, remedy, replace(_change(comment, remedy), brings=notes)))
        if held:
            return held[0]
    return None


def _change(comment: Comment, remedy: Remedy) -> Change:
    paths = tuple(dict.fromkeys(edit.path for edit in remedy.edits))
    return Change(comment.rule, comment.weight, comment.told, remedy.says, paths)
