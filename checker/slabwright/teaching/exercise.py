"""Exercises: a sound job with one to three faults put in, the same for the same number every time."""

from __future__ import annotations

import contextlib
import random
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook.kit import Limits, Rule
from slabwright.source import edit
from slabwright.source.files import read_text
from slabwright.teaching.faults import OWN, SOUND, Fault, faults, path_of, seed

MOST = 3
FEW = 3  # rules of a group with faults in whole jobs; below that, small examples are taken as well
_HEAD = """\
# Exercise {number}: {count} in this design. Find {them} before the truck does.
# All else is sound. The answer: slabwright teach --exercise{group} --seed {number} --answer
"""


@dataclass(frozen=True, slots=True)
class Exercise:
    """A faulty design as text, with the faults in it, the sound text it was made from, and its review."""

    number: int
    group: str
    job: str
    faults: tuple[Fault, ...]
    text: str
    sound: str
    readings: Mapping[str, str]  # files of rod readings that the design names
    report: Report

    @property
    def file(self) -> str:
        """The name the design goes by."""
        return f"exercise-{self.number}.slab.yaml"


def exercise(number: int, group: str, rules: Sequence[Rule], limits: Mapping[str, Limits]) -> Exercise | None:
    """The exercise of a number, of one group of rules if ``group`` names one.

    None when no fault of that group shows under these limits.
    """
    dice = random.Random(f"{group} {number}")
    groups = {rule.name: rule.group for rule in rules}
    usable = [fault for fault in faults() if fault.rule in groups and group in {"", groups[fault.rule]}]
    places = [(job, fault) for fault in usable for job in fault.changes if job != OWN]
    if len({fault.rule for _, fault in places}) < FEW:
        places += [(OWN, fault) for fault in usable if OWN in fault.changes]
    jobs = sorted({job for job, _ in places}, key=(*SOUND, OWN).index)
    dice.shuffle(jobs)
    for job in jobs:
        there = [fault for name, fault in places if name == job]
        dice.shuffle(there)
        wanted = dice.randint(1, MOST) if job != OWN else 1
        for chosen in _choices(there, wanted):
            made = _made(number, group, job, chosen, rules, limits)
            if made is not None:
                return made
    return None


def _choices(there: Sequence[Fault], wanted: int) -> Iterator[tuple[Fault, ...]]:
    """Faults to put in together, as many as wanted first, then fewer; never two of one rule, nor one behind another."""
    chosen: list[Fault] = []
    for fault in there:
        spoken_for = {rule for one in chosen for rule in (one.rule, *one.also)}
        if len(chosen) < wanted and not spoken_for & {fault.rule, *fault.also}:
            chosen.append(fault)
    for count in range(len(chosen), 1, -1):
        yield tuple(chosen[:count])
    yield from ((fault,) for fault in there)


def _made(
    number: int, group: str, job: str, chosen: tuple[Fault, ...], rules: Sequence[Rule], limits: Mapping[str, Limits]
) -> Exercise | None:
    """The exercise with these faults; None when they get in each other's way, or do not show."""
    path = path_of(job, chosen[0].rule)
    sound = without_first_remark(read_text(path), job)
    text = sound
    for fault in chosen:
        seeded = seed(fault, job, text)
        if seeded is None:
            return None
        text = seeded.text
    count = "one fault is" if len(chosen) == 1 else f"{('two', 'three')[len(chosen) - 2]} faults are"
    them, of_group = "it" if len(chosen) == 1 else "them", f" --group {group}" if group else ""
    head = _HEAD.format(number=number, count=count, them=them, group=of_group)
    readings = readings_beside(text, path.parent)
    if readings:
        head += f"# It reads {', '.join(readings)}; --out FILE writes that beside it.\n"
    report = review_text(head + text, f"exercise-{number}.slab.yaml", readings, rules, limits)
    found = {comment.rule for comment in report.comments if comment.variance is None}
    asked = {fault.rule for fault in chosen}
    allowed = asked | {rule for fault in chosen for rule in fault.also}
    if not asked <= found or not found <= allowed | _noted(sound, readings, rules, limits):
        return None
    return Exercise(number, group, job, chosen, head + text, sound, readings, report)


def _noted(
    sound: str, readings: Mapping[str, str], rules: Sequence[Rule], limits: Mapping[str, Limits]
) -> frozenset[str]:
    """The rules of which a sound job draws a note: worth knowing, and nothing to put right."""
    report = review_text(sound, "sound.slab.yaml", readings, rules, limits)
    return frozenset(comment.rule for comment in report.comments if comment.weight == "note")


def without_first_remark(text: str, job: str) -> str:
    """A design without the line for editors that names a folder; an example of a rule also without its first remark."""
    lines = text.splitlines(keepends=True)
    kept = [line for line in lines if not line.startswith("# yaml-language-server")]
    if job == OWN and kept and kept[0].startswith("#"):  # it says that all is well
        del kept[0]
    return "".join(kept)


def readings_beside(text: str, folder: Path) -> dict[str, str]:
    """The files of rod readings a design names, and their text."""
    named = (edit.value_at(text, f"heights.{key}") for key in ("finish", "base", "existing"))
    return {name: read_text(folder / name) for name in named if name and (folder / name).is_file()}


def review_text(
    text: str,
    name: str,
    readings: Mapping[str, str],
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
) -> Report:
    """The review of a design given as text.

    It is read from a folder of its own, entered while it is read, so that places name the file alone.
    """
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        for file, content in readings.items():
            Path(file).write_text(content, encoding="utf-8")
        Path(name).write_text(text, encoding="utf-8")
        design, questions = read_design(Path(name))
        plan = Plan(design)
        return run.review(plan, rules, limits, (*questions, *plan.questions))
