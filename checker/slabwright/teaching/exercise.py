"""Exercises: a sound job with slips drawn into it, the same for the same number every time.

The hundreds of a number are its level. 1: one slip, and the part of the file it is in is named. 2: one slip. 3: two.
4: three. 5: up to three, and nobody says how many.
"""

from __future__ import annotations

import contextlib
import random
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.teaching.slips import Slip, job_text, slips, sound

LEVELS = (1, 2, 3, 4, 5)
_MOST = {1: 1, 2: 1, 3: 2, 4: 3, 5: 3}
_OWNERS = {"buried-lines", "overhead-wires"}  # only who owns a live line settles these: no pencil does
_TRIES = 3  # ways to put slips together that are tried in one job
_COUNT = {1: "one slip is", 2: "two slips are", 3: "three slips are"}
_HEAD = """\
# Exercise {number}, level {level} of 5: {count} in this design{where}.
# All else is sound. Find what is wrong before the truck comes, and put it right in this file. Then:
#   slabwright teach --check {file} --exercise {number}{group}
"""


@dataclass(frozen=True, slots=True)
class Exercise:
    """A design with slips in it as text, the slips, the sound text it was made from, and its review."""

    number: int
    group: str
    job: str
    slips: tuple[Slip, ...]
    text: str
    sound: str
    report: Report

    @property
    def file(self) -> str:
        """The name the design goes by."""
        return file_name(self.number)

    @property
    def command(self) -> str:
        """What makes it again."""
        return f"slabwright teach --exercise {self.number}{_of_group(self.group)}"

    def spoke(self, slip: Slip) -> tuple[str, ...]:
        """The rules that speak because of a slip: those that should, then those that it brings with it."""
        found = {comment.rule for comment in self.report.comments}
        return tuple(rule for rule in dict.fromkeys((*slip.rules, *slip.also)) if rule in found)


def file_name(number: int) -> str:
    """The name of the file of an exercise."""
    return f"exercise-{number}.slab.yaml"


def level_of(number: int) -> int:
    """The level of an exercise, 1 to 5.

    >>> level_of(312)
    3
    """
    return number // 100


def exercise(number: int, group: str, rules: Sequence[Rule], limits: Mapping[str, Limits]) -> Exercise | None:
    """The exercise of a number, of one group of rules if ``group`` names one.

    None when no slip of that group shows under these limits.
    """
    dice = random.Random(f"{group} {number}")
    level = level_of(number)
    by_job = _by_job(group, rules, level)
    jobs = sorted(by_job)
    dice.shuffle(jobs)
    wanted = dice.randint(1, _MOST[level]) if level == 5 else _MOST[level]
    for count in range(wanted, 0, -1):
        for job in jobs:
            choices = list(_choices(by_job[job], count, dice))
            if not choices or not _sound(job, rules, limits):
                continue
            for chosen in choices:
                made = _made(number, group, job, chosen, rules, limits)
                if made is not None:
                    return made
    return None


def class_of(
    students: int, seed: int, level: int | None, group: str, rules: Sequence[Rule], limits: Mapping[str, Limits]
) -> tuple[Exercise, ...] | None:
    """An exercise for each student of a class, no two on the same job; without a level, the levels in turn.

    None where there are not as many jobs.
    """
    asked = LEVELS if level is None else (level,)
    if students > max(len(_by_job(group, rules, one)) for one in asked):
        return None
    dice = random.Random(f"class {group} {seed}")
    left = {one: dice.sample(range(one * 100, one * 100 + 100), 100) for one in LEVELS}
    made: dict[str, Exercise] = {}
    for student in range(students):
        numbers = left[level or LEVELS[student % len(LEVELS)]]
        while numbers and len(made) == student:
            one = exercise(numbers.pop(), group, rules, limits)
            if one is not None:
                made.setdefault(one.job, one)
        if len(made) == student:
            return None
    return tuple(made.values())


@cache
def _alone(job: str) -> bool:
    """Whether a job is one file: an exercise is handed out without the rod readings of another."""
    return ".csv" not in sound()[job].read_text(encoding="utf-8")


def _by_job(group: str, rules: Sequence[Rule], level: int) -> dict[str, list[Slip]]:
    """The slips of a group by job; the lowest levels take those that change one value, where enough do."""
    groups = {rule.name: rule.group for rule in rules}
    of_group = [one for one in slips() if one.weight != "question" and _is_of(one, group, groups)]
    of_group = [one for one in of_group if _alone(one.design)]
    if level <= 2:
        simple = [one for one in of_group if len(one.changes) == 1]
        of_group = simple if len({one.design for one in simple}) > 3 else of_group
    found: dict[str, list[Slip]] = {}
    for one in of_group:
        found.setdefault(one.design, []).append(one)
    return found


def _is_of(slip: Slip, group: str, groups: Mapping[str, str]) -> bool:
    known = [groups[rule] for rule in slip.rules if rule in groups]
    return (
        bool(known)
        and not _OWNERS & {*slip.rules}
        and len(known) == len(slip.rules)
        and all(group in {"", one} for one in known)
    )


def _choices(there: Sequence[Slip], count: int, dice: random.Random) -> Iterator[tuple[Slip, ...]]:
    """Some ways to put so many slips in together: never two that one rule speaks of, nor one behind another."""
    for _ in range(_TRIES):
        chosen: list[Slip] = []
        for slip in dice.sample(there, len(there)):
            spoken_for = {rule for one in chosen for rule in (*one.rules, *one.also)}
            if len(chosen) < count and not spoken_for & {*slip.rules, *slip.also}:
                chosen.append(slip)
        if len(chosen) == count:
            yield tuple(chosen)


def _made(
    number: int, group: str, job: str, chosen: tuple[Slip, ...], rules: Sequence[Rule], limits: Mapping[str, Limits]
) -> Exercise | None:
    """The exercise with these slips; None where they hide each other or do not show."""
    before = job_text(job)
    text: str | None = before
    for slip in chosen:
        text = slip.into(text) if text is not None else None
    if text is None:
        return None
    level = level_of(number)
    part = chosen[0].paths[0].partition(".")[0].partition("[")[0]
    head = _HEAD.format(
        number=number,
        level=level,
        count=_COUNT[len(chosen)] if level < 5 else "one to three slips are",
        where=f", under {part}" if level == 1 else "",
        file=file_name(number),
        group=_of_group(group),
    )
    report = review_text(head + text, file_name(number), {}, rules, limits)
    found = {comment.rule for comment in report.comments}
    allowed = {rule for slip in chosen for rule in (*slip.rules, *slip.also)}
    shown = all(found & set(slip.rules) for slip in chosen)
    if not shown or not found <= allowed or report.questions or report.crashes:
        return None
    return Exercise(number, group, job, chosen, head + text, before, report)


def _of_group(group: str) -> str:
    return f" --group {group}" if group else ""


def _sound(job: str, rules: Sequence[Rule], limits: Mapping[str, Limits]) -> bool:
    """Whether a job draws no comment at all, no note either, and no question."""
    report = review_text(job_text(job), sound()[job].name, {}, rules, limits)
    return not (report.comments or report.questions or report.crashes)


def review_text(
    text: str,
    name: str,
    readings: Mapping[str, str],
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
) -> Report:
    """The review of a design given as text, with the files of rod readings it names.

    It is read from a folder of its own, entered while it is read, so that places name the file alone.
    """
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        for file, content in readings.items():
            Path(file).write_text(content, encoding="utf-8")
        Path(name).write_text(text, encoding="utf-8")
        design, questions = read_design(Path(name))
        plan = Plan(design)
        return run.review(plan, rules, limits, questions)
